"""How a typed answer is read: a box to try it in, before a try is at stake."""

from collections.abc import Callable
from html import escape

import ipywidgets as w

from leverarm import exercises
from leverarm.panels.base import Panel, button, html, row, set_if_changed
from leverarm.panels.controls import dropdown, text_box

# What a question may ask for: the exercise whose reading is shown, and what to try.
ASKED = {
    "a weight": (
        "front_gain",
        ("190", "190 kg", "419 lb", "12,5 kg", "1,234 kg", "3/4 t", "plenty"),
    ),
    "a length": ("overhang_for_factor", ("65 in", "5 ft 5 in", "1.65 m", "1,65 m", "165 cm", "65")),
    "a formula": ("formula_front_gain", ("W*(1 + a/L)", "W(1+a/L)", "2W", "W + W·a/L", "W plus a")),
}


class HowRead(Panel):
    """A box that tells how an answer is read, and nothing about whether it is right.

    asked   what the question asks for;  box  the answer;  examples  buttons that type one
    """

    def build(self) -> list[w.Widget]:
        self.asked = dropdown("Asked for", list(ASKED), on_change=self._offer)
        self.box = text_box("Type an answer", on_change=self.redraw)
        self.told, self.examples = html("", "lv-say"), row()
        self._offer(self.asked.value)
        return [row(self.asked, self.box), self.examples, self.told]

    def _offer(self, asked: str) -> None:
        """What to try, and an empty box."""
        self.examples.children = [button(each, self._typing(each)) for each in ASKED[asked][1]]
        self.box.value = ""

    def _typing(self, text: str) -> Callable[[], None]:
        def typed() -> None:
            self.box.value = text

        return typed

    def read(self, text: str) -> str:
        """What is said of an answer: read("12,5 kg")."""
        self.box.value = text
        return self.told.value

    def draw(self) -> None:
        typed = self.box.value
        problem = exercises.make(ASKED[self.asked.value][0], 1, self.system)
        found = exercises.check(problem, typed, sympy=False)
        words = (
            f"<b>{escape(typed)}</b> is read as <b>{escape(found.reading)}</b>."
            if found.counts
            else f"{escape(found.message)} In homework this uses no try."
        )
        set_if_changed(self.told, f"<p>{words}</p>" if typed else "")


def how_read() -> HowRead:
    """A box to try how an answer is read.  In code: .read("12,5 kg")."""
    return HowRead()
