"""What a problem tells, as its drawing needs it: a label and a size for every letter."""

from collections.abc import Mapping
from dataclasses import dataclass

from leverarm.exercises.formulas import FormulaKind
from leverarm.exercises.free_body import FreeBodyKind
from leverarm.exercises.letters import things
from leverarm.exercises.method import quantity
from leverarm.exercises.numbers import NumberKind
from leverarm.exercises.problem import Problem
from leverarm.exercises.rules import RULES
from leverarm.exercises.typeset import plain_letters

# Sizes where a problem gives none; the picture is then not to scale, and says so.
USUAL = {
    "L": 1.65,
    "a": 1.1,
    "a1": 1.2,
    "a2": 0.55,
    "a3": 0.3,
    "i": 0.7,
    "b": 0.9,
    "bm": 1.0,
    "w": 0.7,
    "x0": 0.8,
    "h": 0.75,
    "d": 0.8,
    "S": 2.2,
    "t": 1.2,
    "O": 3.0,
    "p": 0.6,
    "r": 2.0,
    "c_r": 2.9,
    "d3": 0.4,
    "se": 0.4,
}
# A reading that is drawn as another is: both stand on the same scale.
_DRAWN_AS = {"F1_empty": "F1", "R1_empty": "R1"}
# A free body's letters, where a number has another name.
_IN_BODIES = {"x": "x0"}


@dataclass(frozen=True)
class Told:
    """The givens of a problem.

    labels      name -> letter and number as they stand in the statement: "W 275 lb"
    sizes       name -> number in the base unit; none in a problem of letters
    words       every given in words
    piece       what hangs on the loader, as the statement calls it; "" where it is not named
    asked, kind     the rule that is asked and its kind of quantity; "" for a free body
    """

    labels: Mapping[str, str]
    sizes: Mapping[str, float]
    words: str
    asked: str = ""
    kind: str = ""
    piece: str = ""

    def has(self, letters: str) -> bool:
        """Whether one of these is given."""
        return any(name in self.labels for name in letters.split())

    def label(self, name: str) -> str:
        """A given letter with its number, or ""."""
        return self.labels.get(name, "")

    def size(self, name: str) -> float:
        """How large it is drawn, in the base unit."""
        return self.sizes.get(name, USUAL.get(name, USUAL.get(name.split("_")[0], 1.0)))

    def described(self, picture: str, drawn: str) -> str:
        """The words for a reader who cannot see it.

        picture     what it is;  drawn  letters whose lengths are drawn
        """
        scale = all(name in self.sizes for name in drawn.split() if name in self.labels)
        known = any(name in self.sizes for name in drawn.split())
        return f"{picture} {self.words}" + ("" if scale and known else " Not to scale.")


def _piece(statement: str) -> str:
    """The piece that a statement tells of.

    >>> _piece("A pallet fork of 200 kg hangs ahead."), _piece("A weight W hangs ahead.")
    ('pallet fork', '')
    """
    return next((one for one in things() if one in statement), "")


def told_by(problem: Problem) -> Told | None:
    """What a problem tells; None for a question with options."""
    kind = problem.source
    if isinstance(kind, FreeBodyKind):
        return _of_body(kind, _piece(problem.statement))
    if not isinstance(kind, (NumberKind, FormulaKind)):
        return None
    names = kind.given if isinstance(kind, NumberKind) else kind.allowed
    rule, labels, sizes, words = RULES[kind.asked], {}, {}, []
    for name, (shown, told) in zip(names, problem.given.items(), strict=True):
        letter, value = plain_letters(shown), ""
        if isinstance(kind, NumberKind):
            value = told
            size = kind.method.letters[name].base(problem.drawn.shown[name], problem.system)
            sizes[_DRAWN_AS.get(name, name)] = size
        drawn = _DRAWN_AS.get(name, name)
        labels[drawn] = f"{letter} {value}".strip()
        words.append(f"{letter}: {quantity(name).words}, {value}.".replace(", .", "."))
    if isinstance(kind, FormulaKind):
        for name in kind.at[:1]:
            labels[name] = quantity(name).shown
    return Told(labels, sizes, " ".join(words), kind.asked, rule.kind, _piece(problem.statement))


def _of_body(kind: FreeBodyKind, piece: str) -> Told:
    """The letters of a free body; what is not known is not drawn."""
    letters = [force.letter for force in kind.forces if not force.inside]
    known = [one for one in letters if one not in kind.unknowns] + list(kind.letters)
    labels = {_IN_BODIES.get(one, one): plain_letters(one) for one in known}
    return Told(labels, {}, f"Letters: {', '.join(labels.values())}.", piece=piece)
