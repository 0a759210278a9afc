"""How sure a weighing is, in a notebook: said first, then weighed again, then narrowed."""

from dataclasses import replace
from typing import Any

from leverarm.panels.on_stage import started
from leverarm.panels.said_first import SaidFirst
from leverarm.quantities import Refusal, from_unit
from leverarm.stage.case import EXPLAINED, WEIGHED
from leverarm.stage.recording import Draw, Input
from leverarm.stage.sure import SureGuess, SureWeighed
from leverarm.stage.sure_case import DAYS, LEAST_DAYS, SureCase, crew_forks


class SureStage(SaidFirst):
    """A piece weighed day after day: how far off its weight is, said first.

    days        how many weigh days were seen
    """

    acts = SureGuess, SureWeighed
    asked = ("off",)

    def __init__(self, case: SureCase | None = None, lesson: str = "") -> None:
        self._case, self._days = case or crew_forks(), 0.0
        super().__init__(lesson)

    @property
    def case(self) -> SureCase:
        """What is weighed, and the days drawn."""
        return replace(self._case, system=self.system, sheets=self.sheets)

    @property
    def days(self) -> int:
        """How many weigh days were seen."""
        return int(self._days)

    def act(self) -> tuple[Draw, tuple[Input, ...], dict[str, Any]]:
        draw, inputs, more = super().act()
        # The reader weighs; nothing plays by itself.
        more.pop("plays", None)
        return draw, started(inputs, {"days": self._days} if self.locked else {}), more

    def limits(self, _name: str) -> tuple[float, float]:
        case = self.case
        return 0.0, from_unit(case.said[0].high, "weight", case.units.weight)

    def _not_all_said(self, given: str) -> Refusal:
        return Refusal("prediction", given, "how far off the weight is", "say it first")

    def _name(self, asked: str) -> str:
        return "how far off the weight is"

    def moved(self) -> None:
        super().moved()
        self._days = self.state.get("days", 0.0)

    def weigh(self, days: int = 1) -> None:
        """Weigh so many days more, from code."""
        if not self.locked:
            raise Refusal("weigh again", "no prediction", "a prediction", "lock in first")
        weighed = min(float(self.days + days), float(DAYS))
        if self.led:
            self.glide(days=weighed)
        else:
            self._days = weighed
            self.redraw()

    def show_band(self) -> None:
        """Show the band, once enough days were weighed; from code."""
        if self.days < LEAST_DAYS:
            raise Refusal("band", f"{self.days} days", f"{LEAST_DAYS} days or more", "weigh more")
        self._go_to(WEIGHED)

    def explain(self, sentence: str) -> None:
        if self._part < WEIGHED:
            raise Refusal("show why", "no band", "a sentence after the band", "show the band")
        super().explain(sentence)

    def again(self) -> None:
        """Start over with a new prediction, and with other days."""
        self._days, self._case = 0.0, replace(self._case, seed=self._case.seed + 1)
        super().again()

    def _fetch(self) -> None:
        super()._fetch()
        if self.locked:
            # Days are drawn again in a moment; who has read why finds them there.
            self._part = EXPLAINED if self.seen else 0.0
            self._days = float(LEAST_DAYS) if self.seen else 0.0
            self.redraw()


def sure_stage(case: SureCase | None = None, *, lesson: str = "") -> SureStage:
    """A piece weighed day after day, by readings that are typically off by something.

    case        what is weighed, a stage.sure_case.SureCase; None is the crew's pallet forks
    lesson      its number, where what is said shall be kept beside the notebook
    In code: panel.lock_in(off="3 lb"), panel.weigh(10), panel.show_band(), panel.explain("…").
    """
    return SureStage(case, lesson)
