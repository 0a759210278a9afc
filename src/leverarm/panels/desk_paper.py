"""Answers on paper, typed in by code at the instructor's desk."""

from html import escape

import ipywidgets as w

from leverarm.marking.assignment import Assignment
from leverarm.marking.codes import read_code, shown_code
from leverarm.panels.base import Panel, button, grid, html, row, set_if_changed
from leverarm.panels.controls import dropdown, offer, text_box
from leverarm.panels.desk_marks import ClassFolder
from leverarm.quantities import Refusal, how_many
from leverarm.tables import visible


class PaperPanel(Panel):
    """A box for each problem of an assignment; what is kept lies in keep_to_yourself.

    boxes   the boxes for the answers, in the order of the paper
    """

    def __init__(self, owner: ClassFolder) -> None:
        self.owner = owner
        self.boxes: list[w.Text] = []
        self._for: Assignment | None = None
        self._looked = ""  # the code whose kept answers stand in the boxes
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.name = dropdown("Assignment", [])
        self.name.observe(lambda _: self.attempt(self.draw), "value")
        self.code = text_box("Code on the paper", placeholder="such as K7MP-TDC")
        self.place = grid()
        self.keep_button = button("Keep this paper", lambda: self.attempt(self.keep), primary=True)
        self.look_button = button("Show what is kept", lambda: self.attempt(self.look))
        self.said = html("", "lv-say")
        buttons = row(self.keep_button, self.look_button)
        return [row(self.name, self.code), self.place, buttons, self.said]

    def _assignment(self) -> Assignment:
        if self._for is None:
            raise Refusal("assignment", None, "one that was handed out", "write one first")
        return self._for

    def keep(self) -> None:
        """Keep what stands in the boxes under the code, then empty them for the next paper."""
        sheet = self.owner.desk.paper_list(self._assignment())
        code = self.code.value
        # An empty box takes an answer back only where that answer could be seen.
        seen = code == self._looked
        boxes = enumerate(self.boxes, 1)
        sheet.enter(code, {at: box.value for at, box in boxes if seen or box.value.strip()})
        count = how_many(len(sheet.typed(code)), "answer")
        unread = sheet.not_read(self.owner.desk.class_key, code)
        for box in (self.code, *self.boxes):
            box.value = ""
        self._looked = ""
        mend = "".join(
            f"<p>No. {at}, “{escape(visible(text, 60))}”, cannot be read and is no answer. "
            "If you can tell what it says, type it again.</p>"
            for at, text in unread.items()
        )
        name = shown_code(read_code(code))
        set_if_changed(
            self.said, f"<p>{count} of {name} kept. Now the next paper, or mark.</p>{mend}"
        )

    def look(self) -> None:
        """Show what is kept under the code, to be mended."""
        kept = self.owner.desk.paper_list(self._assignment()).typed(self.code.value)
        for at, box in enumerate(self.boxes, 1):
            box.value = kept.get(at, "")
        self._looked = self.code.value
        set_if_changed(self.said, f"<p>{how_many(len(kept), 'answer')} of this code so far.</p>")

    def draw(self) -> None:
        offer(self.name, self.owner.assignments())
        found = self.owner.desk.assignment(self.name.value) if self.name.value else None
        if found != self._for:
            self._for = found
            items = found.items if found else ()
            self.boxes = [
                text_box(f"{at} {item.in_bank.title}") for at, item in enumerate(items, 1)
            ]
            self.place.children = self.boxes
        self.keep_button.disabled = self.look_button.disabled = found is None
