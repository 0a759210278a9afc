"""The picture of a machine in every set-up it can mow in, and a set-up chosen in it."""

from collections.abc import Mapping
from dataclasses import replace

from leverarm.decision import Case, Setup, demo_case
from leverarm.panels.lesson_work import keep_work, kept_work
from leverarm.panels.said_first import SaidFirst
from leverarm.quantities import Refusal
from leverarm.stage.recording import Draw, Input
from leverarm.stage.setups import SetupsGuess, SetupsWeighed
from leverarm.stage.setups_case import SetupsCase


class SetupsStage(SaidFirst):
    """The ballast comes off too: say the front's change, lock it in, see every set-up, choose.

    chosen      the key of the set-up chosen, such as "loader_off"; nothing before that
    """

    acts = SetupsGuess, SetupsWeighed
    asked = ("front",)

    def __init__(self, case: Case | None = None, lesson: str = "") -> None:
        self._machine, self.chosen = case or demo_case(), ""
        _ = SetupsCase(self._machine).ballast  # refuses a machine without any
        super().__init__(lesson)

    @property
    def case(self) -> SetupsCase:
        """The machine in its set-ups; refused where it has no ballast."""
        return SetupsCase(self._machine, self.system, self.sheets)

    @property
    def most_kg(self) -> float:
        hung = self._machine.ballast
        return 3 * hung.weight.value if hung else 0.0

    def weighed(self) -> tuple[Draw, tuple[Input, ...]]:
        draw, told = super().weighed()
        keys = [one.key for one in self.case.setups]
        start = keys.index(self.chosen) + 1 if self.chosen in keys else 0
        inputs = (replace(one, start=start) if one.name == "chosen" else one for one in told)
        return draw, tuple(inputs)

    @property
    def setups(self) -> tuple[Setup, ...]:
        """Every set-up with its loads; refused until the change is locked in."""
        if not self.locked:
            raise Refusal("set-ups", "no prediction", "a prediction for the front scale", "lock in")
        return self.case.setups

    def did(self, what: str, written: Mapping[str, str]) -> None:
        if what == "chosen":
            keys = [one.key for one in self.case.setups]
            at = round(self.state["chosen"])
            self.chosen = keys[at - 1] if at else ""
            self._keep()
        else:
            super().did(what, written)

    def choose(self, key: str) -> None:
        """Choose a set-up from code: choose("loader_off")."""
        keys = [one.key for one in self.setups]
        if key not in keys:
            raise Refusal("set-up", key, " or ".join(keys), "choose one of these")
        self.chosen = key
        if self._displayed:
            self.move(chosen=keys.index(key) + 1)
        else:
            self.redraw()
        self._keep()

    def again(self) -> None:
        self.chosen = ""
        super().again()

    def _fetch(self) -> None:
        chosen = kept_work(self._lesson).get("chosen")
        self.chosen = chosen if isinstance(chosen, str) else ""
        super()._fetch()

    def _keep(self) -> None:
        super()._keep()
        if self._lesson:
            keep_work(self._lesson, {"chosen": self.chosen})


def setups_stage(case: Case | None = None, *, lesson: str = "") -> SetupsStage:
    """The picture of a machine in its set-ups; what answers comes after the lock.

    case        the machine, with ballast; the invented one, unless told
    lesson      its number, where what is said shall be kept beside the notebook
    In code: panel.lock_in(front="+280 lb"), panel.explain("…"), panel.free(),
    panel.choose("bucket_off"), panel.setups, panel.chosen.
    """
    return SetupsStage(case, lesson)
