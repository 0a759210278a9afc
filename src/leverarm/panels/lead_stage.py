"""Front drive in a notebook: the way of the lead and what a turn does, said first, then seen."""

from collections.abc import Mapping
from types import MappingProxyType

from leverarm.driveline import Drive, demo_drive
from leverarm.panels.said_first import SaidFirst
from leverarm.quantities import Refusal
from leverarm.stage.lead import WAYS, LeadGuess, LeadSeen
from leverarm.stage.lead_case import LeadCase, OneTurn


class LeadStage(SaidFirst):
    """A loader goes on a tractor with its front drive in, and the tractor turns.

    result      OneTurn of the rear tire as shown: tracks, leads, what the turn leaves short
    """

    acts = LeadGuess, LeadSeen
    asked = ("lead", "turn")
    ways: Mapping[str, Mapping[str, float]] = MappingProxyType(WAYS)

    def __init__(self, drive: Drive | None = None, lesson: str = "") -> None:
        self._drive = drive or demo_drive()
        super().__init__(lesson)

    @property
    def case(self) -> LeadCase:
        """The drive and the tight turn that the picture starts with."""
        return LeadCase(self._drive, system=self.system, sheets=self.sheets)

    def _not_all_said(self, given: str) -> Refusal:
        return Refusal("prediction", given, "lead and turn", "say both first")

    @property
    def result(self) -> OneTurn:
        """One turn of the rear tire as shown; refused until the prediction is locked in."""
        if not self.locked:
            raise Refusal("result", "no prediction", "both answers", "lock them in")
        return self.case.of(self.state)


def lead_stage(drive: Drive | None = None, *, lesson: str = "") -> LeadStage:
    """The front drive with the loader off and on, and in a turn; what answers comes after the lock.

    lesson      its number, where what is said shall be kept beside the notebook
    In code: panel.lock_in(lead="down", turn="dragged"), panel.explain("…"), panel.free(),
    panel.move(radius=21.5), panel.result, panel.said.
    """
    return LeadStage(drive, lesson)
