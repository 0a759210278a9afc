"""One number to commit to before it is shown: a prediction in the middle of a lesson."""

from html import escape

from leverarm.numerals import plain
from leverarm.panels.base import Panel, button, html, row, set_if_changed
from leverarm.panels.controls import text_box
from leverarm.panels.gate import with_unit
from leverarm.quantities import KINDS, read, show


class Ask(Panel):
    """A question, a box, and what statics gives once a number was committed.

    prediction  the committed number in the base unit, or None
    """

    def __init__(self, question, answer, kind):
        self._question, self._answer, self._kind, self.prediction = question, answer, kind, None
        super().__init__()

    def build(self):
        self.box = text_box("Your prediction", placeholder=f"such as {KINDS[self._kind].example}")
        self.commit_button = button(
            "Commit my prediction", lambda: self.attempt(self.commit), primary=True
        )
        self.said = html("", "lv-say")
        return [
            html(f"<p>{escape(self._question)}</p>"),
            row(self.box, self.commit_button),
            self.said,
        ]

    def commit(self, told=None):
        """Commit the number in the box, or the one told: commit("0.9 m").  Raises Refusal."""
        text = plain(str(self.box.value if told is None else told))
        self.prediction = read(
            with_unit(text, self._kind, self.system), self._kind, "your prediction"
        )
        self.box.disabled = self.commit_button.disabled = True
        self.draw()

    def draw(self):
        if self.prediction is not None:
            set_if_changed(
                self.said,
                f"You predicted {show(self.prediction, self._kind, self.system)}. "
                f"Statics gives <b>{show(self._answer, self._kind, self.system)}</b>. "
                "Where does the difference come from? Say it before you read on.",
            )


def ask(question, answer, kind="weight"):
    """Keep a number back until a prediction stands: ask("Front change, with its sign", 190.0)."""
    return Ask(question, answer, kind)
