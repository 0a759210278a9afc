"""Is this machine ready?  The two cells of the start page."""

import os
import sys
import tempfile
from html import escape
from importlib.metadata import PackageNotFoundError, version

from leverarm import statics
from leverarm.machine import demo_loader, demo_tractor
from leverarm.panels.base import IN_BROWSER, Panel, html, set_if_changed
from leverarm.panels.controls import Number
from leverarm.quantities import show

NEEDED = (
    ("ipywidgets", "sympy", "numpy", "matplotlib")
    if IN_BROWSER
    else ("jupyterlab", "ipywidgets", "sympy", "numpy", "matplotlib")
)


def ready():
    """One line for each thing a lesson needs: ready, or what is missing and what to do."""
    lines = [_python(), *(_package(name) for name in NEEDED), _folder()]
    shown = html("<ul>" + "".join(f"<li>{line}</li>" for line in lines) + "</ul>")
    shown.add_class("lv-panel")
    return shown


def _line(good, name, words):
    """One finding, the word before the detail."""
    return f"<b>{'ready' if good else 'not ready'}</b>: {escape(name)} {escape(words)}"


def _python():
    return _line(sys.version_info >= (3, 11), "Python", sys.version.split()[0])


def _package(name):
    try:
        return _line(True, name, version(name))
    except PackageNotFoundError:
        if name in ("numpy", "matplotlib"):
            return _line(
                True, name, "is not here and not needed: graphs are drawn without it, or say so"
            )
        return _line(False, name, "is missing. Close this page and start again as the README says")


def _folder():
    """Can an answer file be kept beside the notebooks?"""
    if IN_BROWSER:
        return _line(
            True,
            "this browser",
            "holds your answers while the page is open. Save a copy before you close it",
        )
    try:
        with tempfile.TemporaryFile(dir=os.curdir):
            return _line(True, "this folder", "takes files, so answers can be kept")
    except OSError:
        return _line(
            False, "this folder", "is read-only. Copy the whole workbook to a folder of your own"
        )


class FirstSlider(Panel):
    """One box, one slider, one sentence that must follow them."""

    def build(self):
        self._frame, self._bucket = demo_loader()
        self.numbers = {
            "weight": Number(
                "Bucket weight", "weight", self._bucket.weight_kg, 10, 400, on_change=self.redraw
            )
        }
        self.said = html("", "lv-say")
        return [self.numbers["weight"].widget, self.said]

    def draw(self):
        weight = self.numbers["weight"].value
        gain = statics.front_gain(weight, self._bucket.ahead_m, demo_tractor().wheelbase_m)
        set_if_changed(
            self.said,
            f"A bucket of {show(weight, 'weight', self.system)} on the demo tractor adds "
            f"<b>{show(gain, 'weight', self.system)}</b> to the front axle.",
        )


def first_slider():
    """The smallest panel there is: move it, and the sentence must change."""
    return FirstSlider()
