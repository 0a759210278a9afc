"""Predict before reveal: readings stay hidden until a prediction for every scale is locked in.

A gate passes through three states: ``open`` (setting up and predicting), ``locked``
(the numbers are frozen, the readings still hidden), ``revealed`` (prediction beside
reading; say what you saw, then read why).  Every click has a code twin.

Those who predict before they see learn more from a demonstration (Crouch, Fagen, Callan and
Mazur 2004).

Gate        the box itself;  Gated  a panel with a gate;  ask  one number to predict
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape
from typing import TypeAlias

import ipywidgets as w

from leverarm.data import Entry, toml_file
from leverarm.numerals import plain, split_unit
from leverarm.panels.base import Panel, button, html, row, set_if_changed, show_if
from leverarm.panels.controls import choice, text_box
from leverarm.quantities import KINDS, Refusal, read, show, unit_of

_SIGNS = {"up": 1, "down": -1, "stays": 0}
_WORDS = {1: "up", -1: "down", 0: "stays the same"}
_LOCK_IN = "Lock in my prediction"


@dataclass(frozen=True)
class GateQuestion:
    """What is to be predicted: a key, its words, the kind of quantity."""

    key: str
    label: str
    kind: str = "weight"


Asked: TypeAlias = tuple[GateQuestion, ...]


def read_predictions(words: Entry, name: str, keys: Sequence[str]) -> tuple[Asked, str]:
    """The questions that a panel asks before it shows its readings, and why they come out so.

    keys    the numbers the panel asks for: each must be there, once, and no other
    """
    entry, found = words.part(name), dict[str, GateQuestion]()
    for one in entry.rows("question"):
        key = one.one_of("name", keys)
        if key in found:
            raise one.refusal("name", key, "each question once", "take one of them out")
        found[key] = GateQuestion(key, one.text("label"), one.one_of("kind", KINDS, "weight"))
        one.done()
    for key in keys:
        if key not in found:
            raise entry.refusal("question", f"no question {key}", "every question once", "add it")
    why = entry.text("why")
    entry.done()
    return tuple(found.values()), why


def asked_first(name: str, *keys: str) -> tuple[Asked, str]:
    """(questions, why) of a panel, from ``data/predictions.toml``.

    >>> asked_first("slope_across", "tilt")[0]
    (GateQuestion(key='tilt', label='Tilt at the tipping line', kind='angle'),)
    """
    return read_predictions(toml_file("predictions"), name, keys)


def predicted(question: GateQuestion, direction: str | None, amount: str, system: str) -> float:
    """A signed prediction in the base unit, from a direction and an amount as typed.

    >>> predicted(GateQuestion("rear", "Rear scale"), "down", "80 kg", "kg")
    -80.0
    """
    if direction not in _SIGNS:
        raise Refusal(
            question.label, direction or "no direction", "up, down or stays", "choose one"
        )
    sign, text = _SIGNS[direction], plain(amount)
    if not sign and not text:
        return 0.0
    number = read(with_unit(text, question.kind, system), question.kind, question.label, 0)
    if bool(number) != bool(sign):
        raise Refusal(
            question.label,
            f"{direction} by {text}",
            "up or down by more than zero, or stays by zero",
            "make the two agree",
        )
    return sign * number


def with_unit(text: str, kind: str, system: str) -> str:
    """A bare number as typed is meant in the unit shown.

    >>> [with_unit(text, "weight", "lb") for text in ("80", "80.", "80 kg")]
    ['80 lb', '80. lb', '80 kg']
    """
    number, unit = split_unit(text)
    return f"{text} {unit_of(kind, system)}" if number and not unit else text


def split_prediction(text: object) -> tuple[str, str]:
    """A prediction given in code, "up 190 kg" or "-80 kg", as direction and amount.

    >>> split_prediction("up 190 kg"), split_prediction("−80 kg"), split_prediction("stays")
    (('up', '190 kg'), ('down', '80 kg'), ('stays', ''))
    """
    whole = plain(str(text))
    first, _, rest = whole.partition(" ")
    if first.lower() in _SIGNS:
        return first.lower(), rest
    return ("down", whole[1:]) if whole.startswith("-") else ("up", whole.lstrip("+"))


class Gate:
    """The box that hides readings until a prediction is locked in.

    questions   what must be predicted, all of it
    on_change   called with no argument when the state changed
    why         text shown after the reader has written what they saw
    system      a call that gives the unit system shown
    extra       further buttons for the same row
    """

    def __init__(
        self,
        questions: Sequence[GateQuestion],
        *,
        on_change: Callable[[], object],
        why: str,
        system: Callable[[], str],
        extra: Sequence[w.Widget] = (),
    ) -> None:
        self.questions, self.on_change, self.why, self.system = questions, on_change, why, system
        self.state = "open"
        self.predictions: dict[str, float] = {}
        self.directions = {q.key: choice(f"{q.label}:", list(_SIGNS), None) for q in questions}
        self.amounts = {
            q.key: text_box(
                f"{q.label}, by how much?", placeholder=f"such as {KINDS[q.kind].example}"
            )
            for q in questions
        }
        self._inputs = [w.VBox([self.directions[q.key], self.amounts[q.key]]) for q in questions]
        self.error, self.prediction_line = html("", "lv-error"), html("", "lv-say")
        self.lock_button = button(_LOCK_IN, self.lock_in, primary=True)
        self.reveal_button = button("Show the readings", self.reveal, primary=True)
        self.again_button = button("New prediction", self.again)
        self.buttons = [self.lock_button, self.reveal_button, self.again_button]
        self.seen = w.Textarea(
            description="What did you see?",
            placeholder="Write one sentence before you read why.",
            style={"description_width": "initial"},
        )
        self.explain_button = button("Show why", self.explain)
        self.explained = html("")
        self._after = w.VBox([self.seen, self.explain_button, self.explained])
        buttons = row(*self.buttons, *extra)
        self.widget = w.VBox(
            [*self._inputs, self.error, buttons, self.prediction_line, self._after]
        )
        self._refresh()

    def lock_in(self, **predictions: str) -> None:
        """Lock in what is in the boxes or given: lock_in(front="up 190 kg", rear="stays")."""
        try:
            for key, text in predictions.items():
                self._fill(key, text)
            self.predictions = {
                q.key: predicted(
                    q, self.directions[q.key].value, self.amounts[q.key].value, self.system()
                )
                for q in self.questions
            }
        except Refusal as refusal:
            set_if_changed(self.error, escape(str(refusal)))
            if predictions:
                raise
            return
        set_if_changed(self.error, "")
        self._go("locked")

    def _fill(self, key: str, text: str) -> None:
        if key not in self.directions:
            raise Refusal("prediction", key, " or ".join(self.directions), "use one of these names")
        self.directions[key].value, self.amounts[key].value = split_prediction(text)

    def reveal(self) -> None:
        """Show the readings; only after a prediction was locked in."""
        if self.state == "open":
            raise Refusal(
                "reveal", "no prediction", "a prediction for every scale", "lock one in first"
            )
        self._go("revealed")

    def again(self) -> None:
        """Hide the readings again and make a new prediction."""
        self.predictions = {}
        for key in self.directions:
            self.directions[key].value, self.amounts[key].value = None, ""
        self.seen.value = ""
        self._go("open")

    def explain(self) -> None:
        """Show why; the reader's own sentence comes first."""
        written = self.seen.value.strip()
        first = "First write one sentence about what you saw."
        set_if_changed(self.explained, self.why if written else first)

    @property
    def hidden(self) -> bool:
        """True while readings are hidden."""
        return self.state != "revealed"

    @property
    def sentence(self) -> str:
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

    def _go(self, state: str) -> None:
        self.state = state
        self._refresh()
        self.on_change()

    def _refresh(self) -> None:
        """Show what belongs to the state."""
        for part in (*self.directions.values(), *self.amounts.values()):
            part.disabled = self.state != "open"
        shown = {
            "open": [self.lock_button],
            "locked": [self.reveal_button, self.again_button],
            "revealed": [self.again_button],
        }[self.state]
        for part in self.buttons:
            show_if(part in shown, part)
        show_if(self.state == "open", *self._inputs)
        show_if(self.state == "revealed" and self.why, self._after)
        set_if_changed(self.explained, "")
        self.refresh_words()

    def refresh_words(self) -> None:
        """Say the prediction in the unit system shown."""
        line = "" if self.state == "open" else f"You predicted: {escape(self.sentence)}."
        set_if_changed(self.prediction_line, line)


class Gated(Panel):
    """A Panel with a gate: its ``questions``, and the ``why`` shown at the end (asked_first).

    gate        the prediction gate, or None where it is not wanted
    """

    questions: tuple[GateQuestion, ...] = ()
    why = ""

    def __init__(self, *, gated: bool = True) -> None:
        self._gated = gated
        self.gate: Gate | None = None
        self._frozen: dict[str, float] | None = None
        self._bet_on = ""
        super().__init__()

    def moved_to(self, name: str) -> bool:
        """Whether another machine and day is shown than before; bets on that one are taken back."""
        bet_on, self._bet_on = self._bet_on, name
        if bet_on in ("", name):
            return False
        if self.gate and self.gate.state != "open":
            self.gate.again()
            words = f"The prediction was for {bet_on}. Predict anew for {name}."
            set_if_changed(self.gate.error, escape(words))
        return True

    def gate_parts(self) -> list[w.Widget]:
        """The gate's widgets, for ``build``."""
        if not self._gated:
            return []
        self.back_button = button("Back to the numbers I predicted", self.restore)
        self.gate = Gate(
            self.questions,
            why=self.why,
            on_change=self._gate_moved,
            system=lambda: self.system,
            extra=[self.back_button],
        )
        return [self.gate.widget]

    def _gate_moved(self) -> None:
        """Locking in freezes the numbers; the reveal frees them."""
        locked = bool(self.gate and self.gate.state == "locked")
        if locked:
            self._frozen = self.values
        for number in self.numbers.values():
            number.lock(locked)
        self.redraw()

    def restore(self) -> None:
        """Back to the numbers the prediction was made for."""
        if self._frozen:
            self.set(**self._frozen)

    @property
    def hidden(self) -> bool:
        """True while a prediction is awaited."""
        return bool(self.gate and self.gate.hidden)

    @property
    def predictions(self) -> dict[str, float]:
        """What was predicted for the numbers now shown; empty where they have moved on."""
        return self.gate.predictions if self.gate and self.values == self._frozen else {}

    def follow_shared(self) -> None:
        if self.gate:
            self.gate.refresh_words()
        super().follow_shared()

    def redraw(self, *_: object) -> None:
        super().redraw()
        if self.gate:
            moved = self.gate.state == "revealed" and self.values != self._frozen
            show_if(moved, self.back_button)
