"""The stage in a notebook: a picture that moves in the page, and Python that hears of it.

The picture is ordinary output, so it shows and moves in a reopened notebook too.  A hidden line
of text beside it carries what the reader does to Python, and a hidden piece of the page carries
what code does to the picture.  What answers is sent only once a prediction is locked in.
"""

import json
import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from html import escape
from typing import Any

import ipywidgets as w

from leverarm.axles import AxleLoads, predict
from leverarm.machine import Attachment, Tractor, demo_ballast, demo_loader, demo_tractor
from leverarm.panels.base import Panel, html, set_if_changed, show_if
from leverarm.panels.lesson_work import as_sentence, keep_work, kept_work
from leverarm.quantities import Refusal, from_unit, read, to_unit
from leverarm.stage.case import (
    AXLES,
    EXPLAINED,
    FREE,
    SHEETS,
    WEIGHED,
    WEIGHING,
    HungCase,
    ahead_of_front,
)
from leverarm.stage.controls import entry
from leverarm.stage.recording import Draw, Input, as_json, recorded
from leverarm.stage.sheet import PROJECTOR, Paper
from leverarm.stage.tractor import Guess, Weighed

SHUT = "This opens when you have read why in the picture above."
MOST_TOLD = 20_000


def told_by_page(text: str, inputs: tuple[Input, ...]) -> tuple[dict[str, float], dict[str, Any]]:
    """What the page said: the state within its ranges, and the rest.

    Raises Refusal for what no page of ours sends.
    """

    def refused(allowed: str) -> Refusal:
        return Refusal("message from the picture", text[:60], allowed, "run the cell again")

    try:
        message = json.loads(text) if len(text) <= MOST_TOLD else None
    except ValueError:
        message = None
    state = message.get("state") if isinstance(message, dict) else None
    if not isinstance(message, dict) or not isinstance(state, dict):
        raise refused("a state")
    found = {}
    for one in inputs:
        value = state.get(one.name)
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise refused(f"a number for {one.name}")
        if not (math.isfinite(value) and one.low <= value <= one.high):
            raise refused(f"{one.name} from {one.low:g} to {one.high:g}")
        found[one.name] = float(value)
    return found, {name: value for name, value in message.items() if name != "state"}


class OnStage(Panel):
    """A panel that is a picture of the stage.

    A panel of your own tells ``act()``: the drawing and the inputs of the act that is on.  It
    hears of every move in ``moved()`` and of every button in ``did()``.

    state       the values of the picture, in the unit shown
    """

    def build(self) -> list[w.Widget]:
        self.state: dict[str, float] = {}
        self._inputs: tuple[Input, ...] = ()
        self._shown_html, self._news, self._displayed = "", 0, False
        self._waiting: list[Callable[[], object]] = []
        self.told, self.news = w.Text(), html()
        self.told.add_class(f"st-told-{self.key}")
        self.told.add_class("st-channel")
        self.told.observe(self._heard, "value")
        show_if(False, self.told, self.news)
        return [self.told, self.news]

    @property
    def sheets(self) -> tuple[Paper, ...]:
        """The sizes of paper the picture is drawn on."""
        return (PROJECTOR,) if self.large else SHEETS

    @property
    def explained(self) -> bool:
        """Whether the reader has been told why; what stands below opens then."""
        raise NotImplementedError

    def when_explained(self, call: Callable[[], object]) -> None:
        """Call once the reader has been told why: at once where that is so already."""
        if self.explained:
            call()
        else:
            self._waiting.append(call)

    def _open_what_waits(self) -> None:
        """Open what waited for the reader to be told why, once that is so."""
        if self.explained:
            waiting, self._waiting = self._waiting, []
            for call in waiting:
                call()

    def act(self) -> tuple[Draw, tuple[Input, ...], dict[str, Any]]:
        """The drawing, its inputs, and more for the page (plays: what moves by itself)."""
        raise NotImplementedError

    def moved(self) -> None:
        """The reader moved something: ``state`` is new."""

    def did(self, what: str, written: Mapping[str, str]) -> None:
        """The reader pressed a button, with the sentences in the boxes."""

    def draw(self) -> None:
        """Show the act that is on, from its start."""
        draw, inputs, more = self.act()
        self._inputs = inputs
        self.state = {one.name: float(one.start) for one in inputs}
        data = {**recorded(draw, inputs), "alone": entry("tractor").text("alone"), **more}
        # The same text stands there for a page that runs no script.
        markup = data["markup"].replace("st@", self.key)
        self._shown_html = (
            f'<div class="st-here" data-key="{self.key}" data-stage="{escape(as_json(data))}">'
            f"{markup}</div>"
        )
        if self._displayed:
            from IPython.display import HTML, update_display

            update_display(HTML(self._shown_html), display_id=self.key)
        self._open_what_waits()

    def _ipython_display_(self) -> None:
        from IPython.display import HTML, display

        self._displayed = True
        display(HTML(self._shown_html), display_id=self.key)
        display(self.widget)

    def _heard(self, change: Mapping[str, Any]) -> None:
        if change["new"]:
            self.attempt(lambda: self._take(change["new"]))

    def _take(self, text: str) -> None:
        state, rest = told_by_page(text, self._inputs)
        self.state = state
        self.moved()
        self._open_what_waits()
        what = rest.get("did")
        if isinstance(what, str):
            written = rest.get("written")
            self.did(what, written if isinstance(written, dict) else {})

    def move(self, **state: float) -> None:
        """Move the picture from code, in the unit shown."""
        self.state |= state
        self.moved()
        self._open_what_waits()
        self._news += 1
        told = escape(json.dumps(self.state))
        set_if_changed(
            self.news,
            f'<span class="st-news" data-key="{self.key}" data-news="{self._news}" '
            f'data-state="{told}"></span>',
        )


class TractorStage(OnStage):
    """A piece goes on a tractor: say both changes, lock them in, see the scales, move it.

    locked      whether both changes are locked in
    said        the changes said, in kg: "front" and "rear"
    seen        the reader's own sentence
    result      AxleLoads of what is shown;  bare  of the tractor without the piece
    held        what hangs on the tractor already, and is part of its readings without the piece
    """

    def __init__(
        self,
        tractor: Tractor | None = None,
        piece: Attachment | None = None,
        lesson: str = "",
        held: tuple[Attachment, ...] = (),
    ) -> None:
        self._tractor, self._piece = tractor or demo_tractor(), piece or demo_loader()[1]
        self._held = held
        self.locked, self.said, self.seen = False, dict[str, float](), ""
        self._part, self._lesson = 0.0, lesson
        super().__init__()
        if lesson:
            self.attempt(self._fetch)

    def _fetch(self) -> None:
        """Go on where the reader was: what was locked in and written is kept in a file."""
        work = kept_work(self._lesson)
        said = {axle: work.get(f"{axle}_said_kg") for axle in AXLES}
        known = {axle: kg for axle, kg in said.items() if isinstance(kg, (int, float))}
        if len(known) < len(AXLES):
            return
        self.seen = as_sentence(work.get("seen"))
        self._lock({axle: float(kg) for axle, kg in known.items()})
        self._part = EXPLAINED if self.seen else WEIGHED
        self.redraw()

    def _keep(self) -> None:
        """Keep what was locked in and written."""
        if self._lesson:
            said = {f"{axle}_said_kg": self.said.get(axle) for axle in AXLES}
            keep_work(self._lesson, {**said, "seen": self.seen})

    @property
    def case(self) -> HungCase:
        """The tractor and the piece that the picture starts with."""
        return HungCase(self._tractor, self._piece, self.system, self.sheets, self._held)

    def act(self) -> tuple[Draw, tuple[Input, ...], dict[str, Any]]:
        case = self.case
        if not self.locked:
            return Guess(case), case.guess_inputs, {}
        unit = case.units.weight
        said = {f"{axle}_said": to_unit(self.said[axle], "weight", unit) for axle in AXLES}
        start = {**said, "part": self._part}
        plays = {} if self._part else {"plays": WEIGHING}
        return Weighed(case), started(case.inputs, start), plays

    @property
    def explained(self) -> bool:
        return self._part >= EXPLAINED

    def moved(self) -> None:
        self._part = self.state.get("part", 0.0)

    def did(self, what: str, written: Mapping[str, str]) -> None:
        if what == "locked":
            if not all(self.state[f"{axle}_known"] for axle in AXLES):
                raise Refusal(
                    "prediction", "one change", "a change for both scales", "say both first"
                )
            unit = self.case.units.weight
            said = {axle: from_unit(self.state[f"{axle}_said"], "weight", unit) for axle in AXLES}
            self._lock(said)
            self._keep()
        elif what == "again":
            self.again()
        elif what == "explained":
            self.seen = as_sentence(written.get("seen"))
            self._keep()

    def _lock(self, said: dict[str, float]) -> None:
        self.said, self.locked, self._part = said, True, 0.0
        self.redraw()

    def lock_in(self, **said: str) -> None:
        """Lock in both changes from code: lock_in(front="+448 lb", rear="-188 lb")."""
        missing = [axle for axle in AXLES if axle not in said]
        if missing or len(said) != len(AXLES):
            raise Refusal("prediction", ", ".join(said), "front and rear", "say both changes")
        most = 3 * self._piece.weight_kg
        self._lock(
            {axle: read(said[axle], "weight", f"{axle} change", -most, most) for axle in AXLES}
        )

    def explain(self, sentence: str) -> None:
        """Show why, after a sentence about what was seen; from code."""
        if not self.locked or not sentence.strip():
            raise Refusal(
                "show why", sentence or "nothing", "a sentence after the lock", "write it"
            )
        self.seen = sentence
        self._go_to(EXPLAINED)

    def free(self) -> None:
        """Let the piece be moved; from code."""
        if not self.locked:
            raise Refusal("move it", "no prediction", "a prediction for both scales", "lock in")
        self._go_to(FREE)

    def _go_to(self, part: float) -> None:
        """Show a part of the second act: in the page, or in the picture that will be shown."""
        self._part = part
        if self._displayed:
            self.move(part=part)
        else:
            self.redraw()

    def again(self) -> None:
        """Start over with a new prediction."""
        self.locked, self.said, self.seen, self._part = False, {}, "", 0.0
        self.redraw()
        self._keep()

    @property
    def tractor(self) -> Tractor:
        """The tractor shown, with what hangs on it already."""
        length = self.case.units.length
        if not self.locked:
            before = predict(self._tractor, *self._held)
            known = self._tractor
            return Tractor(known.name, known.wheelbase_m, before.front_kg, before.rear_kg)
        unit = self.case.units.weight
        front, rear = (from_unit(self.state[axle], "weight", unit) for axle in AXLES)
        wheelbase = from_unit(self.state["wheelbase"], "length", length)
        return Tractor(self._tractor.name, wheelbase, front, rear)

    @property
    def piece(self) -> Attachment | None:
        """The piece shown; None while it weighs nothing."""
        if not self.locked:
            return self._piece
        units = self.case.units
        weight = from_unit(self.state["weight"], "weight", units.weight)
        past = ahead_of_front(self.state, self.case.behind)
        ahead = from_unit(past, "length", units.length)
        return Attachment(self._piece.name, weight, ahead) if weight else None

    @property
    def bare(self) -> AxleLoads:
        """What the scales read without the piece."""
        return predict(self.tractor)

    @property
    def result(self) -> AxleLoads:
        """What the scales read with it; refused until the prediction is locked in."""
        if not self.locked:
            raise Refusal("result", "no prediction", "a prediction for both scales", "lock in")
        return predict(self.tractor, *(one for one in (self.piece,) if one))


class Shut(Panel):
    """A panel that is made and shown only once the reader has been told why.

    panel   it, or None while it is shut
    """

    def __init__(self, stage: OnStage, make: Callable[..., Panel], *given: Any) -> None:
        self.panel: Panel | None = None
        super().__init__()
        stage.when_explained(lambda: self.attempt(lambda: self._open(make, given)))

    def build(self) -> list[w.Widget]:
        self.note, self.place = html(f"<p>{SHUT}</p>", "lv-shut"), w.VBox()
        return [self.note, self.place]

    def draw(self) -> None:
        show_if(self.panel is None, self.note)

    def _open(self, make: Callable[..., Panel], given: tuple[Any, ...]) -> None:
        self.panel = make(*given)
        self.place.children = (self.panel.widget,)
        self.draw()


def after_why(stage: OnStage, make: Callable[..., Panel], *given: Any) -> Shut:
    """A panel below a picture, shut until the reader has been told why there.

    after_why(stage, panels.exercise, "front_gain"); .panel is it, once it is open.
    """
    return Shut(stage, make, *given)


def started(inputs: tuple[Input, ...], start: Mapping[str, float]) -> tuple[Input, ...]:
    """The inputs with other starts, kept within their ranges."""
    return tuple(
        replace(one, start=min(max(start.get(one.name, one.start), one.low), one.high))
        for one in inputs
    )


def tractor_stage(
    tractor: Tractor | None = None, piece: Attachment | None = None, *, lesson: str = ""
) -> TractorStage:
    """The picture of a piece that goes on a tractor; what answers comes after the lock.

    lesson      its number, where what is said shall be kept beside the notebook
    In code: panel.lock_in(front="+448 lb", rear="-188 lb"), panel.explain("…"), panel.free(),
    panel.result, panel.said.
    """
    return TractorStage(tractor, piece, lesson)


def ballast_stage(
    tractor: Tractor | None = None,
    ballast: Attachment | None = None,
    *,
    held: tuple[Attachment, ...] | None = None,
    lesson: str = "",
) -> TractorStage:
    """The picture of ballast that goes on behind; used as tractor_stage.

    held        what hangs on the tractor already; its loader, unless told
    """
    hung = demo_loader() if held is None else held
    return TractorStage(tractor, ballast or demo_ballast(), lesson, hung)
