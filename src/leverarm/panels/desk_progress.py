"""Progress of one code over the weeks, for the instructor alone."""

from html import escape

import ipywidgets as w

from leverarm.marking.codes import read_code, shown_code
from leverarm.panels.base import Panel, button, html, html_table, row, set_if_changed
from leverarm.panels.controls import text_box
from leverarm.panels.desk_marks import ClassFolder
from leverarm.quantities import Refusal


class ProgressPanel(Panel):
    """What a code got right, assignment after assignment; keep it off the projector."""

    def __init__(self, owner: ClassFolder) -> None:
        self.owner = owner
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.code = text_box("Code", placeholder="such as K7MP-TDC")
        self.show_button = button("Show this code", lambda: self.attempt(self.look))
        self.clear_button = button("Clear", lambda: self.attempt(self.clear))
        self.shown = html()
        return [row(self.code, self.show_button, self.clear_button), self.shown]

    def look(self) -> None:
        """Show the weeks of the code in the box."""
        desk, code = self.owner.desk, read_code(self.code.value)
        if code not in desk.codes:
            raise Refusal("code", shown_code(code), "a code of this class", "look at your list")
        rows = [
            (escape(name), day, *map(str, _counts(standing)))
            for name, day, standing in desk.progress.of(code)
        ]
        head = ("assignment", "handed out", "right at first", "right later", "not yet", "no answer")
        set_if_changed(
            self.shown,
            html_table(head, rows, f"Code {shown_code(code)}")
            if rows
            else "<p>Nothing was marked yet.</p>",
        )

    def clear(self) -> None:
        """Take it off the page."""
        self.code.value = ""
        set_if_changed(self.shown, "")

    def draw(self) -> None:
        pass


def _counts(standing: str) -> tuple[int, ...]:
    """Right at first, right later, not yet, no answer."""
    return tuple(standing.count(mark) for mark in "210-")
