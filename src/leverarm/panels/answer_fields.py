"""Where an answer is given: a line of text, a choice, or a free body put together from lists.

Each field has ``.widget``, ``.text`` (what goes to the check), ``.tell(text)``, ``.lock(on)`` and
``.on_enter(call)``.  Nothing needs the mouse.
"""

import ipywidgets as w

from leverarm.panels.base import html, row
from leverarm.panels.controls import choice, dropdown


def field_for(problem):
    """The field that fits a problem."""
    style = getattr(problem, "style", "number")
    return {"choice": ChoiceField, "body": BodyField}.get(style, TextField)(problem)


class TextField:
    """A number with its unit, or a formula."""

    def __init__(self, problem):
        # Sent whole when it is left (page.py leaves it at Enter): letter by letter, the check could overtake the last ones.
        self.box = w.Text(continuous_update=False, style={"description_width": "initial"})
        self.box.add_class("lv-ask")
        self.widget = self.box
        self.ask(problem)

    def ask(self, problem):
        """Ask for the answer to this problem, in the box that is already on the page."""
        self.box.description = "Your answer" + (f", in {problem.unit}" if problem.unit else "")
        self.box.value = ""
        self.lock(False)

    @property
    def text(self):
        return self.box.value

    def tell(self, text):
        self.box.value = str(text)

    def lock(self, on):
        self.box.disabled = on

    def on_enter(self, call):
        """Call when Enter is pressed in the box."""
        self.box.on_msg(lambda _, content, __: call() if content.get("event") == "submit" else None)


class ChoiceField:
    """One of the options, by its letter."""

    def __init__(self, problem):
        self.radio = choice(
            "Your answer", [(f"{letter}: {text}", letter) for letter, text in problem.options], None
        )
        self.radio.add_class("lv-stack")
        self.widget = self.radio

    @property
    def text(self):
        return self.radio.value or ""

    def tell(self, text):
        self.radio.value = text

    def lock(self, on):
        self.radio.disabled = on

    def on_enter(self, call):
        """A choice is checked by its button only."""


_NOT_DRAWN = "not drawn"


class BodyField:
    """A free body from lists: the body, each arrow's way and place, the pivot, the arms."""

    def __init__(self, problem):
        parts = dict(problem.options)
        self.body = dropdown("Cut free", ["", *parts["bodies"]])
        self.pivot = dropdown("Pivot", ["", *parts["pivots"]])
        self.rows = {letter: self._row(letter, parts) for letter, _ in parts["forces"]}
        lines = [
            w.VBox([html(f"<b>{letter}</b>: {words}"), row(*self.rows[letter])])
            for letter, words in parts["forces"]
        ]
        for line in lines:
            line.add_class("lv-force")
        self.lengths = html(
            "Lengths to write arms with: "
            + ", ".join(parts["lengths"])
            + ". Such as S/2, or L + a."
        )
        self.widget = w.VBox([self.body, *lines, self.pivot, self.lengths])

    @staticmethod
    def _row(letter, parts):
        arm = w.Text(
            description=f"Arm of {letter}",
            continuous_update=False,
            style={"description_width": "initial"},
        )
        arm.add_class("lv-ask")
        return (
            dropdown(f"{letter} points", [_NOT_DRAWN, *parts["ways"]]),
            dropdown(f"{letter} acts at", ["", *parts["places"]]),
            arm,
        )

    @property
    def text(self):
        lines = [f"body: {self.body.value}"]
        for letter, (way, place, _) in self.rows.items():
            if way.value != _NOT_DRAWN:
                lines.append(f"{letter} {way.value} at {place.value}")
        lines.append(f"pivot: {self.pivot.value}")
        lines += [
            f"arm {letter}: {arm.value.strip()}"
            for letter, (_, _, arm) in self.rows.items()
            if arm.value.strip()
        ]
        return "\n".join(lines)

    def tell(self, text):
        """Take an answer as written: the lines that ``text`` gives."""
        for line in text.splitlines():
            self._tell_line(line.strip())

    def _tell_line(self, line):
        name, _, value = (part.strip() for part in line.partition(":"))
        if name in ("body", "pivot"):
            getattr(self, name).value = value
        elif name.startswith("arm "):
            self.rows[name.removeprefix("arm ")][2].value = value
        elif line:
            letter, way, _, place = line.split(" ", 3)
            self.rows[letter][0].value, self.rows[letter][1].value = way, place

    def lock(self, on):
        for part in (
            self.body,
            self.pivot,
            *(part for parts in self.rows.values() for part in parts),
        ):
            part.disabled = on

    def on_enter(self, call):
        """A free body is checked by its button only."""
