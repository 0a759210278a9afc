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
from typing import Any, Protocol, runtime_checkable
from zlib import crc32

import ipywidgets as w

from leverarm.panels.base import Panel, html, set_if_changed, show_if
from leverarm.panels.lesson_work import as_sentence
from leverarm.quantities import Refusal
from leverarm.stage.case import EXPLAINED, FREE, SECONDS, SHEETS
from leverarm.stage.controls import entry
from leverarm.stage.recording import Draw, Input, as_json, recorded
from leverarm.stage.sheet import PROJECTOR, Paper

SHUT = "This opens when you have read why in the picture above."
SHUT_UNTIL_DONE = "This opens when you have done the one above."
MOST_TOLD = 20_000


def _message(text: str) -> dict[str, Any] | None:
    """What the page sent, where it is a table; None where it is anything else."""
    try:
        message = json.loads(text) if len(text) <= MOST_TOLD else None
    except ValueError:
        message = None
    return message if isinstance(message, dict) else None


def told_by_page(text: str, inputs: tuple[Input, ...]) -> tuple[dict[str, float], dict[str, Any]]:
    """What the page said: the state within its ranges, and the rest.

    Raises Refusal for what no page of ours sends.
    """

    def refused(allowed: str) -> Refusal:
        return Refusal("message from the picture", text[:60], allowed, "run the cell again")

    message = _message(text)
    state = message.get("state") if message else None
    if message is None or not isinstance(state, dict):
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


class Explains(Panel):
    """A panel below which others wait until the reader has been told why there."""

    _lesson = ""

    def __init__(self) -> None:
        self._waiting: list[Callable[[], object]] = []
        super().__init__()

    @property
    def explained(self) -> bool:
        """Whether the reader has been told why; what stands below opens then."""
        raise NotImplementedError

    @property
    def lesson(self) -> str:
        """The lesson whose work is kept, "02"; "" where nothing is."""
        return self._lesson

    def when_explained(self, call: Callable[[], object]) -> None:
        """Call once the reader has been told why: at once where that is so already."""
        if self.explained:
            call()
        else:
            self._waiting.append(call)

    def open_what_waits(self) -> None:
        """Open what waited for the reader to be told why, once that is so."""
        if self.explained:
            waiting, self._waiting = self._waiting, []
            for call in waiting:
                call()


class OnStage(Explains):
    """A panel that is a picture of the stage.

    A panel of your own tells ``act()``: the drawing and the inputs of the act that is on.  It
    hears of every move in ``moved()``, of what was typed in ``wrote()`` and of every button in
    ``did()``.

    state       the values of the picture, in the unit shown
    inside      True puts the picture into the panel's own widget, where another panel holds it
    """

    inside = False
    # Where a class is led through the picture, its parts play as they do at the page's own buttons.
    led = False
    # The part of the act that is on.
    _part = 0.0

    def build(self) -> list[w.Widget]:
        self.state: dict[str, float] = {}
        self._inputs: tuple[Input, ...] = ()
        self._shown_html, self._news, self._displayed = "", 0, False
        self._act = 0
        self.told, self.news = w.Text(), html()
        self.told.add_class(f"st-told-{self.key}")
        self.told.add_class("st-channel")
        self.told.observe(self._heard, "value")
        show_if(False, self.told, self.news)
        self.picture = html()
        return [self.picture, self.told, self.news] if self.inside else [self.told, self.news]

    @property
    def sheets(self) -> tuple[Paper, ...]:
        """The sizes of paper the picture is drawn on."""
        return (PROJECTOR,) if self.large else SHEETS

    def act(self) -> tuple[Draw, tuple[Input, ...], dict[str, Any]]:
        """The drawing, its inputs, and more for the page (plays: what moves by itself)."""
        raise NotImplementedError

    def moved(self) -> None:
        """The reader moved something: ``state`` is new."""

    def wrote(self, written: Mapping[str, Any]) -> None:
        """The reader typed something: what stands in the boxes, by name."""

    def did(self, what: str, written: Mapping[str, str]) -> None:
        """The reader pressed a button, with the sentences in the boxes."""

    def draw(self) -> None:
        """Show the act that is on, from its start."""
        draw, inputs, more = self.act()
        self._inputs = inputs
        self.state = {one.name: float(one.start) for one in inputs}
        data = {**recorded(draw, inputs), "alone": entry("tractor").text("alone"), **more}
        # What the page sends back tells which act it is of.
        data["act"] = self._act = crc32(as_json(data).encode())
        # The same text stands there for a page that runs no script.
        markup = data["markup"].replace("st@", self.key)
        self._shown_html = (
            f'<div class="st-here" data-key="{self.key}" data-stage="{escape(as_json(data))}">'
            f"{markup}</div>"
        )
        if self.inside:
            set_if_changed(self.picture, self._shown_html)
        elif self._displayed:
            from IPython.display import HTML, update_display

            update_display(HTML(self._shown_html), display_id=self.key)
        self.open_what_waits()

    def _ipython_display_(self) -> None:
        from IPython.display import HTML, display

        if not self.inside:
            self._displayed = True
            display(HTML(self._shown_html), display_id=self.key)
        display(self.widget)

    def _heard(self, change: Mapping[str, Any]) -> None:
        if change["new"]:
            self.attempt(lambda: self._take(change["new"]))

    def _take(self, text: str) -> None:
        if (_message(text) or {}).get("act", self._act) != self._act:
            return  # sent before the page had the act that is on: a second press, a late move
        state, rest = told_by_page(text, self._inputs)
        written = rest.get("written")
        if isinstance(written, dict):
            self.wrote(written)
        self.state = state
        self.moved()
        self.open_what_waits()
        what = rest.get("did")
        if isinstance(what, str):
            self.did(what, written if isinstance(written, dict) else {})

    def move(self, **state: float) -> None:
        """Move the picture from code, in the unit shown."""
        self.state |= state
        self.moved()
        self.open_what_waits()
        self.tell_page(self.state)

    def lead(self) -> w.Widget:
        """The picture inside the panel's own widget, for a panel that leads a class through it."""
        self.inside = self.led = True
        self.widget.children = (self.picture, *self.widget.children)
        self.redraw()
        return self.widget

    def glide(self, **state: float) -> None:
        """Move the picture as a button of the page does, in time: glide(part=2)."""
        self.state |= state
        self.moved()
        self.open_what_waits()
        self.tell_page(state, SECONDS)

    def tell_page(self, state: Mapping[str, float], seconds: float = 0.0, **texts: str) -> None:
        """Tell the picture in the page of new values and of words for its places data-told.

        seconds     how long the values take to get there
        """
        self._news += 1
        told, words = escape(json.dumps(dict(state))), escape(json.dumps(texts))
        set_if_changed(
            self.news,
            f'<span class="st-news" data-key="{self.key}" data-news="{self._news}" '
            f'data-state="{told}" data-texts="{words}" data-seconds="{seconds:g}"></span>',
        )

    def _go_to(self, part: float) -> None:
        """Show a part of the act that is on: in a class's page, or in the picture drawn next."""
        self._part = part
        if self.led:
            self.glide(part=part)
        else:
            self.redraw()


class TwoActs(OnStage):
    """A picture of two acts: something is locked in, then what answers it is shown and explained.

    locked      whether everything asked is locked in
    seen        the reader's own sentence
    """

    locked, seen = False, ""

    @property
    def explained(self) -> bool:
        return self._part >= EXPLAINED

    def explain(self, sentence: str) -> None:
        """Show why, after a sentence about what was seen; from code."""
        if not self.locked or not sentence.strip():
            raise Refusal(
                "show why", sentence or "nothing", "a sentence after the lock", "write it"
            )
        self.seen = sentence
        self._go_to(EXPLAINED)

    def free(self) -> None:
        """Let the picture be moved; from code."""
        if not self.locked:
            raise Refusal("move it", "no prediction", "a prediction first", "lock in")
        self._go_to(FREE)

    def did(self, what: str, written: Mapping[str, str]) -> None:
        """What was pressed once the answer is shown: again from the start, or explained."""
        if what == "again":
            self.again()
        elif what == "explained":
            self.seen = as_sentence(written.get("seen"))
            self._keep()

    def again(self) -> None:
        """Start over with a new prediction."""
        raise NotImplementedError

    def _keep(self) -> None:
        """Keep what was locked in and written."""
        raise NotImplementedError


@runtime_checkable
class KeepsWork(Protocol):
    """A panel that keeps what a reader does in it with a lesson's work."""

    def keep_in(self, lesson: str) -> None:
        """Keep it from now on; what was kept before is back."""


class Shut(Explains):
    """A panel that is made and shown only once the reader has been told why.

    panel   it, or None while it is shut
    """

    def __init__(self, stage: Explains, make: Callable[..., Panel], *given: Any) -> None:
        self.panel: Panel | None = None
        self._lesson = stage.lesson
        # What waits for another that opens has no picture to read.
        self._says = SHUT_UNTIL_DONE if isinstance(stage, Shut) else SHUT
        super().__init__()
        stage.when_explained(lambda: self.attempt(lambda: self._open(stage, make, given)))

    @property
    def explained(self) -> bool:
        """Whether it is open, and what has to be done in it is done."""
        return self.panel is not None and getattr(self.panel, "explained", True)

    def build(self) -> list[w.Widget]:
        self.note, self.place = html(f"<p>{self._says}</p>", "lv-shut"), w.VBox()
        return [self.note, self.place]

    def draw(self) -> None:
        show_if(self.panel is None, self.note)

    def _open(self, stage: Explains, make: Callable[..., Panel], given: tuple[Any, ...]) -> None:
        self.panel = make(*given)
        if isinstance(self.panel, KeepsWork) and stage.lesson:
            self.panel.keep_in(stage.lesson)
        self.place.children = (self.panel.widget,)
        if isinstance(self.panel, Explains):
            self.panel.when_explained(self.open_what_waits)
        else:
            self.open_what_waits()
        self.draw()


def after_why(stage: Explains, make: Callable[..., Panel], *given: Any) -> Shut:
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
