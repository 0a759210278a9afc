"""The two acts of a picture as drawing functions: one that asks, and one that answers.

Each draws a case and knows what moves in it.  The second is made only once everything asked is
said, so that nothing of the first can hold what answers it.
"""

from collections.abc import Mapping
from typing import Generic, TypeVar

from leverarm.numerals import Numeric
from leverarm.stage.case import SaidCase
from leverarm.stage.recording import Drawing, Input

CaseT = TypeVar("CaseT", bound=SaidCase)


class FirstAct(Generic[CaseT]):
    """The act that asks."""

    def __init__(self, case: CaseT) -> None:
        self.case = case

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves."""
        return self.case.guess_inputs

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        """The drawing at these values."""
        raise NotImplementedError


class SecondAct(FirstAct[CaseT]):
    """The act that answers."""

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves."""
        return self.case.inputs
