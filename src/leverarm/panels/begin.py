"""The set-up cell at the top of every notebook: ``begin()``."""

import ipywidgets as w

from leverarm.panels.base import html, row, shared
from leverarm.panels.controls import choice
from leverarm.panels.page import page_html


class Begin:
    """The line at the top: is Python alive, which units, how large the type."""

    def __init__(self):
        self.answers = 0
        self.alive = html("", "lv-alive")
        self.beat = w.Button(description="ask", tooltip="")
        self.beat.add_class("lv-beat")
        self.beat.on_click(self.answer)
        self.units = choice(
            "Units",
            [("kilograms, meters", "kg"), ("pounds, inches", "lb")],
            shared.system,
            on_change=lambda system: shared.set(system=system),
        )
        self.large = w.Checkbox(
            value=shared.large, description="Large type (projector)", indent=False
        )
        self.large.observe(lambda change: self.enlarge(change["new"]), "value")
        self.widget = w.VBox([self.alive, self.beat, row(self.units, self.large)])
        for name in ("lv-panel", "lv-begin"):
            self.widget.add_class(name)
        self.enlarge(shared.large)
        self.answer()

    def enlarge(self, large):
        """Large type for panels and text, or the usual size again."""
        shared.set(large=large)
        (self.widget.add_class if large else self.widget.remove_class)("lv-large")

    def answer(self, *_):
        """Tell the page that Python is here."""
        self.answers += 1
        self.alive.value = f'<span data-answer="{self.answers}">Python is running.</span>'


def begin(*, system=None, large=None):
    """Make the page ready: names for every control, keys that stay in them, a line that says Python is alive.

    system  "kg" or "lb" for all panels of this notebook; large  True for a projector.
    Nothing is loaded from anywhere.
    """
    from IPython.display import HTML, display

    shared.set(system=system, large=large)
    display(HTML(page_html()))
    top = Begin()
    display(top.widget)
    return None
