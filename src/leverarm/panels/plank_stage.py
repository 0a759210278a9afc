"""The plank in a notebook: two easy places, then the jug past the pipe, each said first.

The readings of the reader's own plank are typed into boxes; until then an invented one is shown,
and said to be invented.
"""

from collections.abc import Mapping
from typing import Any

import ipywidgets as w

from leverarm.panels.base import Panel, button, grid, html, set_if_changed
from leverarm.panels.controls import text_box
from leverarm.panels.gate import with_unit
from leverarm.panels.lesson_work import as_sentence, keep_work, kept_work
from leverarm.panels.on_stage import OnStage, started
from leverarm.quantities import Refusal, from_unit, read, to_unit
from leverarm.stage.case import EXPLAINED, FREE, WEIGHED, WEIGHING
from leverarm.stage.plank import EASY, EasyPlaces, PlankGuess, PlankWeighed
from leverarm.stage.plank_case import SIDES, PlankCase, known_name, said_name
from leverarm.stage.recording import Draw, Input

# The acts in order; a place that is asked about comes before it is read.
ACTS = ("above", "halfway", "easy", "past", "weighed")
HALFWAY = 2.0  # the part of the easy act that shows its second place
BOXES = {
    "span": ("Pipe to pipe", "length"),
    "left": ("Left scale, bare plank", "weight"),
    "right": ("Right scale, bare plank", "weight"),
    "jug": ("Jug, weighed by itself", "weight"),
}


class PlankStage(OnStage):
    """The plank, act after act.

    at          the act that is on, one of ACTS
    said        what was said, in kg, by its input: "left_said", "above_right_said"
    seen        the reader's own sentence
    """

    def __init__(self, lesson: str = "") -> None:
        self.at, self.said, self.seen = ACTS[0], dict[str, float](), ""
        self._part, self._lesson = 0.0, lesson
        self._readings: dict[str, str] = {}
        super().__init__()
        if lesson:
            self.attempt(self._fetch)

    @property
    def case(self) -> PlankCase:
        """The plank shown: the reader's own readings, or the invented one."""
        told: dict[str, Any] = dict(self._readings)
        return PlankCase(**told, system=self.system, sheets=self.sheets)

    def act(self) -> tuple[Draw, tuple[Input, ...], dict[str, Any]]:
        case, unit = self.case, self.case.units.weight
        said = {name: to_unit(kg, "weight", unit) for name, kg in self.said.items()}
        if self.at in (*EASY, "past"):
            guess = PlankGuess(case, self.at)
            return guess, started(guess.inputs, said), {}
        if self.at == "easy":
            easy = EasyPlaces(case)
            plays = {} if self._part else {"plays": WEIGHING}
            return easy, started(easy.inputs, {**said, "part": self._part}), plays
        weighed = PlankWeighed(case)
        return weighed, started(weighed.inputs, {**said, "part": self._part}), {}

    @property
    def explained(self) -> bool:
        return self.at == "weighed" and self._part >= EXPLAINED

    def moved(self) -> None:
        self._part = self.state.get("part", 0.0)

    def did(self, what: str, written: Mapping[str, str]) -> None:
        if what == "locked":
            self._take_said(self.at)
            self._go(ACTS[ACTS.index(self.at) + 1])
        elif what == "easy_read":
            self._go("past")
        elif what == "again":
            self.again()
        elif what == "explained":
            self.seen = as_sentence(written.get("seen"))
            self._keep()

    def _take_said(self, place: str) -> None:
        if not all(self.state.get(known_name(place, side)) for side in SIDES):
            raise Refusal("prediction", "one change", "a change for both scales", "say both first")
        unit = self.case.units.weight
        for side in SIDES:
            name = said_name(place, side)
            self.said[name] = from_unit(self.state[name], "weight", unit)

    def _go(self, act: str) -> None:
        self.at, self._part = act, 0.0
        self.redraw()
        self._keep()

    def again(self) -> None:
        """Ask about the jug past the pipe again."""
        for side in SIDES:
            self.said.pop(said_name("past", side), None)
        self.seen = ""
        self._go("past")

    def use_readings(self, readings: Mapping[str, str]) -> None:
        """Show another plank: span, left, right and jug, with their units.  Raises Refusal."""
        before, self._readings = self._readings, dict(readings)
        try:
            _ = self.case
        except Refusal:
            self._readings = before
            raise
        self.said, self.seen = {}, ""
        self._go(ACTS[0])

    def lock_in(self, left: str, right: str) -> None:
        """Say what both scales will do at the place that is asked about; from code."""
        case = self.case
        if self.at not in (*EASY, "past"):
            raise Refusal("prediction", left, "a place that is asked about", "go on first")
        for side, text in zip(SIDES, (left, right), strict=True):
            name = said_name(self.at, side)
            (told,) = (one for one in PlankGuess(case, self.at).inputs if one.name == name)
            value = to_unit(
                read(text, "weight", "change", -1000, 1000), "weight", case.units.weight
            )
            self.state[name] = min(max(value, told.low), told.high)
            self.state[known_name(self.at, side)] = 1.0
        self.did("locked", {})

    def explain(self, sentence: str) -> None:
        """Show why, after a sentence about what was seen; from code."""
        if self.at != "weighed" or not sentence.strip():
            raise Refusal("show why", sentence, "a sentence after the lock", "write one")
        self.seen = sentence
        self._go_to(EXPLAINED)

    def free(self) -> None:
        """Let the jug be moved; from code."""
        if self.at != "weighed":
            raise Refusal("move it", "no prediction", "a prediction for both scales", "lock in")
        self._go_to(FREE)

    def go_on(self) -> None:
        """Show what comes next where nothing is asked; from code."""
        if self.at == "weighed" and self._part < WEIGHED:
            self._go_to(WEIGHED)
        elif self.at == "easy" and self._part < HALFWAY:
            self._go_to(HALFWAY)
        elif self.at == "easy":
            self._go("past")
        else:
            raise Refusal("go on", "a question", "a prediction for both scales", "lock in first")

    def _fetch(self) -> None:
        """Go on where the reader was."""
        work = kept_work(self._lesson)
        readings = work.get("plank")
        if isinstance(readings, dict) and set(readings) == set(BOXES):
            self._readings = {name: str(text)[:40] for name, text in readings.items()}
        said = work.get("said")
        known = said if isinstance(said, dict) else {}
        self.said = {
            str(name): float(kg) for name, kg in known.items() if isinstance(kg, (int, float))
        }
        at = work.get("at")
        if at in ACTS and all(
            said_name(place, side) in self.said for place in _before(at) for side in SIDES
        ):
            self.at, self.seen = str(at), as_sentence(work.get("seen"))
            self._part = EXPLAINED if self.seen and self.at == "weighed" else 0.0
        self.redraw()

    def _keep(self) -> None:
        if self._lesson:
            work = {"at": self.at, "said": self.said, "seen": self.seen}
            keep_work(self._lesson, {**work, "plank": self._readings or None})


def _before(act: object) -> tuple[str, ...]:
    """The places that must have been said before an act."""
    places = (*EASY, "past")
    return tuple(place for place in places if ACTS.index(place) < ACTS.index(str(act)))


class PlankReadings(Panel):
    """Boxes for the reader's own plank; what is typed goes to the picture.

    stage       the PlankStage that shows it
    """

    def __init__(self, stage: PlankStage) -> None:
        self._stage = stage
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.boxes = {name: text_box(label) for name, (label, _) in BOXES.items()}
        self.use_button = button("Use my plank", lambda: self.attempt(self.use), primary=True)
        self.note = html("", "lv-say")
        return [grid(*self.boxes.values()), self.use_button, self.note]

    def draw(self) -> None:
        case = self._stage.case
        units = case.units
        shown = {
            "span": units.show_length(case.length(case.span_m)),
            "left": units.show_weight(case.weight(case.left_kg)),
            "right": units.show_weight(case.weight(case.right_kg)),
            "jug": units.show_weight(case.weight(case.jug_kg)),
        }
        for name, box in self.boxes.items():
            box.placeholder = f"example: {shown[name]}"

    def use(self, **readings: str) -> None:
        """Show the plank in the boxes, or the one given: use(span="48 in", left="19 lb", …)."""
        for name, text in readings.items():
            self.boxes[name].value = text
        typed = {name: box.value.strip() for name, box in self.boxes.items()}
        empty = [BOXES[name][0] for name, text in typed.items() if not text]
        if empty:
            raise Refusal(empty[0], "nothing", "a reading in every box", "fill all four boxes")
        told = {name: with_unit(text, BOXES[name][1], self.system) for name, text in typed.items()}
        self._stage.use_readings(told)
        set_if_changed(self.note, "The picture below shows your plank now.")


def plank_stage(*, lesson: str = "") -> PlankStage:
    """The plank on two scales, each place said before it is read.

    In code: panel.lock_in(left="+24 lb", right="0 lb"), panel.go_on(), panel.explain("…"),
    panel.free(), panel.said.
    """
    return PlankStage(lesson)


def own_plank(stage: PlankStage) -> PlankReadings:
    """Boxes for the reader's own plank, shown by the stage: .use(span=, left=, right=, jug=)."""
    return PlankReadings(stage)
