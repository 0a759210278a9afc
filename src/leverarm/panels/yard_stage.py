"""Weigh day from above in a notebook: weight and overhang said from eight readings, then told."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from leverarm.machine import demo_loader, demo_tractor
from leverarm.panels.said_first import SaidFirst
from leverarm.quantities import Refusal, from_unit
from leverarm.stage.yard import ANSWERS, YardGuess, YardWeighed
from leverarm.stage.yard_case import YardCase


class YardStage(SaidFirst):
    """A piece was hung on, and a pad under each wheel was read without and with it.

    said        what was said: "weight" in kg, "overhang" in m
    """

    acts = YardGuess, YardWeighed
    asked = ANSWERS
    kinds: Mapping[str, str] = MappingProxyType({"overhang": "length"})

    def __init__(self, case: YardCase | None = None, lesson: str = "") -> None:
        _, bucket = demo_loader()
        self._given = case or YardCase(
            demo_tractor().wheelbase_m, other=bucket.name, other_ahead=bucket.ahead_m
        )
        super().__init__(lesson)

    @property
    def case(self) -> YardCase:
        """The readings shown."""
        return replace(self._given, system=self.system, sheets=self.sheets)

    def limits(self, name: str) -> tuple[float, float]:
        (one,) = (one for one in self.case.said if one.name == f"{name}_said")
        low, high = (from_unit(end, *self._unit(name)) for end in (one.low, one.high))
        return low, high

    def _not_all_said(self, given: str) -> Refusal:
        return Refusal("answer", given, "a weight and an overhang", "say both first")


def yard_stage(case: YardCase | None = None, *, lesson: str = "") -> YardStage:
    """A weigh day from above: eight readings, and what they say of the piece that was hung on.

    case        other readings than the invented ones
    lesson      its number, where what is said shall be kept beside the notebook
    In code: panel.lock_in(weight="300 lb", overhang="50 in"), panel.explain("…"), panel.free(),
    panel.said.
    """
    return YardStage(case, lesson)
