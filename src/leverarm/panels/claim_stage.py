"""A claim held against the scales, in a notebook: sorted with a reason, then the band beside it."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from leverarm.panels.lesson_work import as_sentence, keep_work, kept_work
from leverarm.panels.on_stage import TwoActs, started
from leverarm.quantities import Refusal
from leverarm.stage.backed import BackedGuess, BackedWeighed
from leverarm.stage.backed_case import PILES, BackedCase, crew_bucket
from leverarm.stage.case import EXPLAINED, WEIGHED, WEIGHING
from leverarm.stage.recording import Draw, Input


class ClaimStage(TwoActs):
    """A claim about a piece: a pile and a reason first, then claim, reading and band on one axis.

    locked      whether it was sorted;  pile  "backed", "contradicted", "incomplete" or "beyond"
    reason      the reader's own;  seen  what the reader saw
    """

    def __init__(self, case: BackedCase | None = None, lesson: str = "") -> None:
        self._case, self._lesson = case or crew_bucket(), lesson
        self.locked, self.pile, self.reason, self.seen, self._part = False, "", "", "", 0.0
        super().__init__()
        if lesson:
            self.attempt(self._fetch)

    @property
    def case(self) -> BackedCase:
        """The readings and the claim."""
        return replace(self._case, system=self.system, sheets=self.sheets)

    def act(self) -> tuple[Draw, tuple[Input, ...], dict[str, Any]]:
        case = self.case
        if not self.locked:
            return BackedGuess(case), case.guess_inputs, {}
        start = {"pile": PILES.index(self.pile) + 1.0, "part": self._part}
        plays = {} if self._part else {"plays": WEIGHING}
        return BackedWeighed(case), started(case.inputs, start), plays

    def moved(self) -> None:
        if self.locked:
            self._part = self.state.get("part", 0.0)

    def did(self, what: str, written: Mapping[str, str]) -> None:
        if what == "locked":
            pile = round(self.state.get("pile", 0.0))
            self.lock_in(PILES[pile - 1] if pile else "", as_sentence(written.get("reason")))
            self._keep()
        else:
            super().did(what, written)

    def lock_in(self, pile: str, reason: str) -> None:
        """Sort the claim: lock_in("contradicted", "Its number lies outside.")."""
        if pile not in PILES or not reason.strip():
            raise Refusal(
                "prediction",
                f"{pile or 'no pile'}, {reason.strip() or 'no reason'}",
                f"one of {', '.join(PILES)}, and a reason",
                "choose a pile and say why",
            )
        self.pile, self.reason, self.locked, self._part = pile, reason.strip(), True, 0.0
        self.redraw()

    def again(self) -> None:
        """Start over with a new prediction."""
        self.locked, self.pile, self.reason, self.seen, self._part = False, "", "", "", 0.0
        self.redraw()
        self._keep()

    def _fetch(self) -> None:
        """Go on where the reader was."""
        work = kept_work(self._lesson)
        pile, reason = work.get("pile"), as_sentence(work.get("reason"))
        if pile not in PILES or not reason:
            return
        self.lock_in(str(pile), reason)
        self.seen = as_sentence(work.get("seen"))
        self._part = EXPLAINED if self.seen else WEIGHED
        self.redraw()

    def _keep(self) -> None:
        if self._lesson:
            work = {"pile": self.pile or None, "reason": self.reason, "seen": self.seen}
            keep_work(self._lesson, work)


def claim_stage(case: BackedCase | None = None, *, lesson: str = "") -> ClaimStage:
    """A claim that taking a piece off takes so many times its weight off the front axle.

    case        readings and claim, a stage.backed_case.BackedCase; None is the crew's bucket
    lesson      its number, where what is said shall be kept beside the notebook
    In code: panel.lock_in("contradicted", "…"), panel.explain("…"), panel.pile, panel.reason.
    """
    return ClaimStage(case, lesson)
