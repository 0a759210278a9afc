"""What follows from what: each result of the lessons with the one function that computes it.

A rule names a result, the function of the package it comes from, the letters
that go in, and the principle behind it.  A problem asks for one result and gives
some letters; the way from these to that is found by following the rules back.
"""

from dataclasses import dataclass, field

PRINCIPLES = {
    "forces": "ΣF = 0",
    "front": "ΣM = 0 about the front",
    "rear": "ΣM = 0 about the rear",
    "left": "ΣM = 0 about the left scale",
    "right": "ΣM = 0 about the right scale",
    "tires": "ΣM = 0 about the tire line",
    "definition": "definition",
    "units": "units",
}


@dataclass(frozen=True)
class Rule:
    """A result of a lesson.

    name, shown, words   how rules, print and sentences call it
    kind        the kind of quantity it is
    function    the formula of the package that computes it, or a definition below
    args        the letters and results it needs
    principle   a key of PRINCIPLES; why  the reason in a sentence
    balance     for a lever: (pivot, weight, arm), so that the worked solution can start at the moment equation
    unit        the unit to ask for, where it is not the usual one of the system: {"lb": "ft"}
    raw         the function takes and gives the numbers as they stand, whatever their unit: it turns units
    """

    name: str
    shown: str
    words: str
    kind: str
    function: object
    args: tuple
    principle: str
    why: str
    balance: tuple = ()
    unit: dict = field(default_factory=dict, hash=False)
    raw: bool = False


def printed_as(say):
    """A definition that is no plain arithmetic, with the way it is printed from its arguments."""

    def mark(function):
        function.say = say
        return function

    return mark


def table(*rows):
    """Rules by name from rows of (name, shown, words, kind, function, "letters", principle, why, {more})."""
    rules = (
        Rule(*row[:5], tuple(row[5].split()), *row[6:8], **(row[8] if len(row) > 8 else {}))
        for row in rows
    )
    return {rule.name: rule for rule in rules}


def together(*parts):
    """Weights, readings or changes added up."""
    return sum(parts)


def difference(after, before):
    """After minus before."""
    return after - before


def half(whole):
    """One of two equal parts."""
    return whole / 2


def per(part, whole):
    """A part for each unit of a whole: a plain ratio."""
    return part / whole


def times(count, part):
    """So many times a part."""
    return count * part


def quadrature(*parts):
    """Independent uncertainties together: the root of the sum of squares.  Source: GUM 5.1.2."""
    return sum(part**2 for part in parts) ** 0.5
