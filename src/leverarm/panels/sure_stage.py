"""How sure a weighing is, in a notebook: said first, then weighed again, then narrowed."""

from typing import Any

from leverarm.axles import predict
from leverarm.machine import Attachment, Tractor, demo_loader, demo_tractor
from leverarm.panels.on_stage import started
from leverarm.panels.said_first import SaidFirst
from leverarm.quantities import Refusal, from_unit, read
from leverarm.stage.case import EXPLAINED, WEIGHED
from leverarm.stage.recording import Draw, Input
from leverarm.stage.sure import SureGuess, SureWeighed
from leverarm.stage.sure_case import DAYS, LEAST_DAYS, SureCase
from leverarm.weighing.demo import FORKS, READING_ERROR_KG


class SureStage(SaidFirst):
    """A piece weighed day after day: how far off its weight is, said first.

    days        how many weigh days were seen
    """

    asked = ("off",)

    def __init__(
        self,
        tractor: Tractor | None = None,
        piece: Attachment | None = None,
        u_reading: str | float = READING_ERROR_KG,
        lesson: str = "",
    ) -> None:
        plain, on = demo_tractor(), predict(demo_tractor(), demo_loader()[0])
        self._tractor = tractor or Tractor(plain.name, plain.wheelbase_m, on.front_kg, on.rear_kg)
        self._piece, self._days, self._seed = piece or FORKS, 0.0, 1
        self._u = read(u_reading, "weight", "what a reading is off by", 0, 500)
        super().__init__(lesson)

    @property
    def case(self) -> SureCase:
        """What is weighed, and the days drawn."""
        return SureCase(
            self._tractor,
            self._piece,
            self._u,
            seed=self._seed,
            system=self.system,
            sheets=self.sheets,
        )

    @property
    def days(self) -> int:
        """How many weigh days were seen."""
        return int(self._days)

    def guess(self) -> tuple[Draw, tuple[Input, ...]]:
        return SureGuess(self.case), self.case.guess_inputs

    def weighed(self) -> tuple[Draw, tuple[Input, ...]]:
        return SureWeighed(self.case), self.case.inputs

    def act(self) -> tuple[Draw, tuple[Input, ...], dict[str, Any]]:
        draw, inputs, more = super().act()
        # The reader weighs; nothing plays by itself.
        more.pop("plays", None)
        return draw, started(inputs, {"days": self._days} if self.locked else {}), more

    def limits(self, _name: str) -> tuple[float, float]:
        case = self.case
        return 0.0, from_unit(case.said.high, "weight", case.units.weight)

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
        self._days = min(float(self.days + days), float(DAYS))
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
        self._days, self._seed = 0.0, self._seed + 1
        super().again()

    def _fetch(self) -> None:
        super()._fetch()
        if self.locked:
            # Days are drawn again in a moment; who has read why finds them there.
            self._part = EXPLAINED if self.seen else 0.0
            self._days = float(LEAST_DAYS) if self.seen else 0.0
            self.redraw()


def sure_stage(
    tractor: Tractor | None = None,
    piece: Attachment | None = None,
    u_reading: str | float = READING_ERROR_KG,
    *,
    lesson: str = "",
) -> SureStage:
    """A piece weighed day after day, by readings that are typically off by ``u_reading``.

    tractor     what the scales carry before it goes on;  lesson  its number, to keep what is said
    In code: panel.lock_in(off="3 lb"), panel.weigh(10), panel.show_band(), panel.explain("…").
    """
    return SureStage(tractor, piece, u_reading, lesson)
