"""A tractor on a grade in a notebook: said first, then seen, then moved."""

from collections.abc import Mapping
from types import MappingProxyType

from leverarm.machine import Tractor
from leverarm.panels.said_first import SaidOfLoader
from leverarm.quantities import Refusal
from leverarm.stability import Loader
from leverarm.stage.case import AXLES
from leverarm.stage.slopes import BRAKES, SlopesGuess, SlopesWeighed
from leverarm.stage.slopes_case import OnGrade, SlopeCase

DEMO_LOAD = "450 lb"


class SlopesStage(SaidOfLoader):
    """The ground turns, nose down: what each scale does, and what the rear brakes need.

    result      OnGrade as shown: readings, pull along the grade, frictions needed
    """

    acts = SlopesGuess, SlopesWeighed
    asked = (*AXLES, "brakes")
    ways: Mapping[str, Mapping[str, float]] = MappingProxyType({"brakes": BRAKES})

    @property
    def case(self) -> SlopeCase:
        """The tractor, the loader and the load that the picture starts with."""
        return SlopeCase(self._tractor, self._loader, self._load_kg, self.system, self.sheets)

    @property
    def most_kg(self) -> float:
        return 0.5 * self._tractor.total_kg

    def _not_all_said(self, given: str) -> Refusal:
        return Refusal("prediction", given, "both changes and the brakes", "say all three first")

    @property
    def result(self) -> OnGrade:
        """The tractor as shown; refused until the prediction is locked in."""
        if not self.locked:
            raise Refusal("result", "no prediction", "all three answers", "lock them in")
        return SlopesWeighed(self.case).on_grade(self.state)


def slopes_stage(
    tractor: Tractor | None = None,
    loader: Loader | None = None,
    load: str | float = DEMO_LOAD,
    *,
    lesson: str = "",
) -> SlopesStage:
    """A tractor on a grade, held by its brakes; what answers comes after the lock.  On paper only.

    load        what is in the bucket
    lesson      a name, where what is said shall be kept beside the notebook
    In code: panel.lock_in(front="+300 lb", rear="-400 lb", brakes="more"), panel.explain("…"),
    panel.free(), panel.move(grade=10, load=0), panel.result, panel.said.
    """
    return SlopesStage(tractor, loader, load, lesson)
