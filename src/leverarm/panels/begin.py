"""How a notebook starts: the set-up cell ``begin()``, and the start page's check of this computer.

ready()         is this computer ready;  first_slider()  the smallest panel there is
"""

import os
import sys
import tempfile
from html import escape
from importlib.metadata import PackageNotFoundError, version

import ipywidgets as w

from leverarm.panels.base import IN_BROWSER, Panel, html, row, set_if_changed, shared
from leverarm.panels.controls import Number
from leverarm.panels.page import style_and_script
from leverarm.panels.unit_choice import UnitChoice
from leverarm.quantities import show

NEEDED = (
    ("ipywidgets", "sympy", "numpy", "matplotlib")
    if IN_BROWSER
    else ("jupyterlab", "ipywidgets", "sympy", "numpy", "matplotlib")
)


class Begin:
    """The line at the top: is Python running, which units, how large the type."""

    def __init__(self, system: str | None = None) -> None:
        self.answers = 0
        self.alive = html("", "lv-alive")
        self.beat = w.Button(description="ask", tooltip="")
        self.beat.add_class("lv-beat")
        self.beat.on_click(self.answer)
        self.unit_choice = UnitChoice(system)
        self.large = w.Checkbox(
            value=shared.large, description="Large type (projector)", indent=False
        )
        self.large.observe(lambda change: self.enlarge(change["new"]), "value")
        self.widget = w.VBox([self.alive, self.beat, row(self.unit_choice.widget, self.large)])
        for name in ("lv-panel", "lv-begin"):
            self.widget.add_class(name)
        self.enlarge(shared.large)
        self.answer()

    def enlarge(self, large: bool) -> None:
        """Large type for panels and text, or the usual size again."""
        shared.set(large=large)
        (self.widget.add_class if large else self.widget.remove_class)("lv-large")

    def answer(self, *_: object) -> None:
        """Tell the page that Python is running."""
        self.answers += 1
        self.alive.value = f'<span data-answer="{self.answers}">Python is running.</span>'


def begin(*, system: str | None = None, large: bool | None = None) -> None:
    """Make the page ready: names and keys for every control, a line that says Python is running.

    system  "lb" or "kg" for this notebook, whatever was chosen and is remembered in its folder
    large   True for a projector
    Nothing is loaded from anywhere.
    """
    from IPython.display import HTML, display

    shared.set(large=large)
    display(HTML(style_and_script()))
    display(Begin(system).widget)


def ready() -> w.HTML:
    """One line for each thing a lesson needs: ready, or what is missing and what to do."""
    lines = [_python(), *(_package(name) for name in NEEDED), _folder()]
    shown = html("<ul>" + "".join(f"<li>{line}</li>" for line in lines) + "</ul>")
    shown.add_class("lv-panel")
    return shown


def _line(good: bool, name: str, words: str) -> str:
    return f"<b>{'ready' if good else 'not ready'}</b>: {escape(name)} {escape(words)}"


def _python() -> str:
    return _line(sys.version_info >= (3, 11), "Python", sys.version.split()[0])


def _package(name: str) -> str:
    try:
        return _line(True, name, version(name))
    except PackageNotFoundError:
        if name in ("numpy", "matplotlib"):
            words = "is not here and not needed: graphs are drawn without it, or say so"
            return _line(True, name, words)
        return _line(False, name, "is missing. Close this page and start again as the README says")


def _folder() -> str:
    """Whether an answer file can be kept beside the notebooks."""
    if IN_BROWSER:
        words = "holds your answers while the page is open. Save a copy before you close it"
        return _line(True, "this browser", words)
    try:
        with tempfile.TemporaryFile(dir=os.curdir):
            return _line(True, "this folder", "takes files, so answers can be kept")
    except OSError:
        words = "is read-only. Copy the whole workbook to a folder of your own"
        return _line(False, "this folder", words)


# How wide the invented tractor is, for the shed door.
TRACTOR_WIDE_M = 1.4


class FirstSlider(Panel):
    """One box, one slider, one sentence that must follow them: it opens a shed door."""

    def build(self) -> list[w.Widget]:
        door = Number("Shed door", "length", 0.5, 0, 2.5, on_change=self.redraw)
        self.numbers = {"door": door}
        self.sentence = html("", "lv-say")
        return [door.widget, self.sentence]

    def draw(self) -> None:
        door = self.values["door"]
        fits = "fits through" if door >= TRACTOR_WIDE_M else "does not fit through yet"
        set_if_changed(
            self.sentence,
            f"The shed door is open <b>{show(door, 'length', self.system)}</b>. "
            f"The tractor {fits}.",
        )


def first_slider() -> FirstSlider:
    """The smallest panel there is: move it, and the sentence must change."""
    return FirstSlider()
