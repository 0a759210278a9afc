"""Weigh day from above in a notebook: weight and overhang said from eight readings, then told."""

from collections.abc import Mapping
from typing import Any

from leverarm.machine import demo_loader, demo_tractor
from leverarm.panels.lesson_work import as_sentence, keep_work, kept_work
from leverarm.panels.on_stage import OnStage, started
from leverarm.quantities import Refusal, from_unit, read, to_unit
from leverarm.stage.case import EXPLAINED, FREE, WEIGHED, WEIGHING
from leverarm.stage.recording import Draw, Input
from leverarm.stage.yard import ANSWERS, YardGuess, YardWeighed
from leverarm.stage.yard_case import YardCase

KINDS = {"weight": "weight", "overhang": "length"}


class YardStage(OnStage):
    """A piece was hung on, and four pads were read without and with it.

    locked      whether both answers are locked in
    said        what was said: "weight" in kg, "overhang" in m
    seen        the reader's own sentence
    """

    def __init__(self, case: YardCase | None = None, lesson: str = "") -> None:
        self._given, self._lesson = case, lesson
        self.locked, self.said, self.seen, self._part = False, dict[str, float](), "", 0.0
        super().__init__()
        if lesson:
            self.attempt(self._fetch)

    @property
    def case(self) -> YardCase:
        """The readings shown: those that were given, or the invented ones."""
        shown: dict[str, Any] = {"system": self.system, "sheets": self.sheets}
        one = self._given
        if one is not None:
            return YardCase(
                one.wheelbase, one.wheels, one.piece, one.other, one.other_ahead, one.track, **shown
            )
        _, bucket = demo_loader()
        wheelbase = demo_tractor().wheelbase_m
        return YardCase(wheelbase, other=bucket.name, other_ahead=bucket.ahead_m, **shown)

    def _units(self) -> dict[str, str]:
        units = self.case.units
        return {"weight": units.weight, "overhang": units.length}

    def act(self) -> tuple[Draw, tuple[Input, ...], dict[str, Any]]:
        case = self.case
        if not self.locked:
            guess = YardGuess(case)
            return guess, guess.inputs, {}
        units, weighed = self._units(), YardWeighed(case)
        said = {
            f"{name}_said": to_unit(self.said[name], KINDS[name], units[name]) for name in ANSWERS
        }
        plays = {} if self._part else {"plays": WEIGHING}
        return weighed, started(weighed.inputs, {**said, "part": self._part}), plays

    @property
    def explained(self) -> bool:
        return self._part >= EXPLAINED

    def moved(self) -> None:
        self._part = self.state.get("part", 0.0)

    def did(self, what: str, written: Mapping[str, str]) -> None:
        if what == "locked":
            if not all(self.state[f"{name}_known"] for name in ANSWERS):
                raise Refusal("answer", "one of two", "a weight and an overhang", "say both first")
            units = self._units()
            self._lock(
                {
                    name: from_unit(self.state[f"{name}_said"], KINDS[name], units[name])
                    for name in ANSWERS
                }
            )
            self._keep()
        elif what == "again":
            self.again()
        elif what == "explained":
            self.seen = as_sentence(written.get("seen"))
            self._keep()

    def _lock(self, said: dict[str, float]) -> None:
        self.said, self.locked, self._part = said, True, 0.0
        self.redraw()

    def lock_in(self, weight: str, overhang: str) -> None:
        """Lock in both answers from code: lock_in(weight="300 lb", overhang="50 in")."""
        units, told = self._units(), {"weight": weight, "overhang": overhang}
        said = {}
        for name, one in zip(ANSWERS, self.case.said, strict=True):
            low, high = (from_unit(end, KINDS[name], units[name]) for end in (one.low, one.high))
            said[name] = read(told[name], KINDS[name], name, low, high)
        self._lock(said)
        self._keep()

    def explain(self, sentence: str) -> None:
        """Show why, after a sentence about what was seen; from code."""
        if not self.locked or not sentence.strip():
            raise Refusal(
                "show why", sentence or "nothing", "a sentence after the lock", "write it"
            )
        self.seen, self._part = sentence, FREE
        self.redraw()

    def again(self) -> None:
        """Start over with a new answer."""
        self.locked, self.said, self.seen, self._part = False, {}, "", 0.0
        self.redraw()
        self._keep()

    def _fetch(self) -> None:
        """Go on where the reader was."""
        work = kept_work(self._lesson)
        kept = {name: work.get(f"{name}_said") for name in ANSWERS}
        said = {name: float(one) for name, one in kept.items() if isinstance(one, (int, float))}
        if len(said) < len(ANSWERS):
            return
        self.seen = as_sentence(work.get("seen"))
        self._lock(said)
        self._part = EXPLAINED if self.seen else WEIGHED
        self.redraw()

    def _keep(self) -> None:
        """Keep what was locked in and written."""
        if self._lesson:
            said = {f"{name}_said": self.said.get(name) for name in ANSWERS}
            keep_work(self._lesson, {**said, "seen": self.seen})


def yard_stage(case: YardCase | None = None, *, lesson: str = "") -> YardStage:
    """A weigh day from above: eight readings, and what they say of the piece that was hung on.

    lesson      its number, where what is said shall be kept beside the notebook
    In code: panel.lock_in(weight="300 lb", overhang="50 in"), panel.explain("…"), panel.said.
    """
    return YardStage(case, lesson)
