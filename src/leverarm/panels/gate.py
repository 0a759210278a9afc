"""Predict before reveal: the readings stay back until a number and a direction for every scale are committed.

Three states, in this order: ``open`` (setting up and predicting), ``committed``
(the case is frozen, the readings still back), ``revealed`` (prediction beside the
reading; say what you saw, then read why).  Every click has a code twin.
"""

from dataclasses import dataclass
from html import escape

import ipywidgets as w

from leverarm.numerals import plain
from leverarm.panels.base import button, html, row, set_if_changed
from leverarm.panels.controls import choice, text_box
from leverarm.quantities import KINDS, Refusal, read, show, unit_of

_SIGNS = {"up": 1, "down": -1, "stays": 0}
_WORDS = {1: "up", -1: "down", 0: "stays the same"}


@dataclass(frozen=True)
class Question:
    """What is to be predicted: a key, its words, the kind of quantity."""

    key: str
    label: str
    kind: str = "weight"


def predicted(question, direction, amount, system="kg"):
    """A signed prediction in the base unit, from a direction and an amount as typed.

    >>> predicted(Question("rear", "Rear scale"), "down", "80 kg")
    -80.0
    """
    if direction not in _SIGNS:
        raise Refusal(
            question.label, direction or "no direction", "up, down or stays", "choose one"
        )
    sign, text = _SIGNS[direction], plain(amount or "")
    if not sign and not text:
        return 0.0
    number = read(with_unit(text, question.kind, system), question.kind, question.label, 0)
    if bool(number) != bool(sign):
        raise Refusal(
            question.label,
            f"{direction} by {text}",
            "up or down by more than nothing, or stays by nothing",
            "make the two agree",
        )
    return sign * number


def with_unit(text, kind, system):
    """A bare number as typed is meant in the unit shown."""
    return f"{text} {unit_of(kind, system)}" if text[-1:].isdigit() else text


def split_told(text):
    """A prediction told in code, "up 190 kg" or "-80 kg", as direction and amount.

    >>> split_told("up 190 kg"), split_told("−80 kg"), split_told("stays")
    (('up', '190 kg'), ('down', '80 kg'), ('stays', ''))
    """
    first, _, rest = plain(str(text)).partition(" ")
    if first.lower() in _SIGNS:
        return first.lower(), rest
    return (
        ("down", plain(str(text))[1:])
        if first.startswith("-")
        else ("up", plain(str(text)).lstrip("+"))
    )


class Gate:
    """The box that keeps readings back until a prediction stands.

    questions   what must be predicted, all of it
    on_change   called with no argument when the state changed
    why         text shown after the reader has said what they saw
    system      a call that gives the unit system shown
    extra       further buttons for the same row
    """

    def __init__(self, questions, *, on_change=None, why="", system=lambda: "kg", extra=()):
        self.questions, self.on_change, self.why, self.system = (
            questions,
            on_change or (lambda: None),
            why,
            system,
        )
        self.state, self.predictions = "open", {}
        self.directions = {q.key: choice(f"{q.label}:", list(_SIGNS), None) for q in questions}
        self.amounts = {
            q.key: text_box(
                f"{q.label}, by how much?", placeholder=f"such as {KINDS[q.kind].example}"
            )
            for q in questions
        }
        self.error, self.told = html("", "lv-error"), html("", "lv-say")
        self._buttons()
        self.seen = w.Textarea(
            description="What did you see?",
            placeholder="One sentence, before you read why.",
            style={"description_width": "initial"},
        )
        self.explained = html("")
        self._after = w.VBox([self.seen, self.explain_button, self.explained])
        self.widget = w.VBox(
            [*self._asked(), self.error, row(*self.buttons, *extra), self.told, self._after]
        )
        self._refresh()

    def _asked(self):
        self._inputs = [
            w.VBox([self.directions[q.key], self.amounts[q.key]]) for q in self.questions
        ]
        return self._inputs

    def _buttons(self):
        self.commit_button = button("Commit my prediction", self.commit, primary=True)
        self.reveal_button = button("Show the readings", self.reveal, primary=True)
        self.again_button = button("New prediction", self.again)
        self.buttons = [self.commit_button, self.reveal_button, self.again_button]
        self.explain_button = button("Show why", self.explain)

    def commit(self, **told):
        """Commit what stands in the boxes, or what is told: commit(front="up 190 kg", rear="down 80 kg")."""
        try:
            for key, text in told.items():
                self._tell(key, text)
            self.predictions = {
                q.key: predicted(
                    q, self.directions[q.key].value, self.amounts[q.key].value, self.system()
                )
                for q in self.questions
            }
        except Refusal as refusal:
            set_if_changed(self.error, escape(str(refusal)))
            if told:
                raise
            return
        set_if_changed(self.error, "")
        self._go("committed")

    def _tell(self, key, text):
        if key not in self.directions:
            raise Refusal("prediction", key, " or ".join(self.directions), "use one of these names")
        self.directions[key].value, self.amounts[key].value = split_told(text)

    def reveal(self):
        """Show the readings; only after a commitment."""
        if self.state == "open":
            raise Refusal(
                "reveal",
                "no prediction",
                "a committed prediction for every scale",
                "commit one first",
            )
        self._go("revealed")

    def again(self):
        """Keep the readings back and predict anew."""
        self.predictions = {}
        for key in self.directions:
            self.directions[key].value, self.amounts[key].value = None, ""
        self.seen.value = ""
        self._go("open")

    def explain(self):
        """Show why; the reader's own sentence comes first."""
        if not self.seen.value.strip():
            set_if_changed(self.explained, "First write one sentence about what you saw.")
        else:
            set_if_changed(self.explained, self.why)

    @property
    def hidden(self):
        """True while readings are kept back."""
        return self.state != "revealed"

    @property
    def sentence(self):
        """The prediction in words, in the unit system shown."""
        parts = []
        for q in self.questions:
            value = self.predictions[q.key]
            sign = (value > 0) - (value < 0)
            parts.append(
                f"{q.label.lower()} {_WORDS[sign]}"
                + (f" {show(abs(value), q.kind, self.system())}" if sign else "")
            )
        return "; ".join(parts)

    def _go(self, state):
        self.state = state
        self._refresh()
        self.on_change()

    def _refresh(self):
        """Show what belongs to the state."""
        for part in (*self.directions.values(), *self.amounts.values()):
            part.disabled = self.state != "open"
        shown = {
            "open": [self.commit_button],
            "committed": [self.reveal_button, self.again_button],
            "revealed": [self.again_button],
        }[self.state]
        for part in self.buttons:
            part.layout.display = "" if part in shown else "none"
        for part in self._inputs:
            part.layout.display = "" if self.state == "open" else "none"
        self._after.layout.display = "" if self.state == "revealed" and self.why else "none"
        set_if_changed(self.explained, "")
        self.refresh_words()

    def refresh_words(self):
        """Say the prediction in the unit system shown."""
        set_if_changed(
            self.told, "" if self.state == "open" else f"You predicted: {escape(self.sentence)}."
        )
