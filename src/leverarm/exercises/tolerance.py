"""How near is right: from what is asked, from the digits of the data, from the way it is worked.

    usual           half a percent: a result rounded to three digits lies within it
    an uncertainty  two digits, as the lesson teaches; rounded up is right too (GUM 7.2.6)
    a mean          a tenth of the scale's step: repeated readings tell more than one of them
    a small difference of large numbers
                    as far as four digits on the way can move it, up to two percent

What is more or less than usual is said in the question.

>>> two_figures(3.6, 3.5512), two_figures(3.5, 3.5512), two_figures(3.4, 3.5512)
(True, False, False)
>>> two_figures(1.1, 1.02), two_figures(1.0, 1.02), two_figures(1.05, 1.02)
(True, True, False)
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from leverarm.exercises.expressions.tree import (
    Call,
    Letter,
    Named,
    Neg,
    Num,
    Power,
    Prod,
    Sum,
    Tree,
    children,
    compiled,
)
from leverarm.exercises.method import Method

USUAL = 0.005  # of the right answer
WIDEST = 0.02  # listed mistakes keep three percent away
DIGITS_ON_THE_WAY = 4
_DUST = 1e-9

SAID = {
    "usual": "Three digits are enough.",
    "uncertainty": "Two digits are enough.",
    "mean": "Give one decimal more than the scale shows.",
    "difference": (
        "It is a small difference of large numbers: keep five digits on the way. "
        "Three in the answer are enough."
    ),
}


@dataclass(frozen=True)
class Tolerance:
    """How near is right for one problem.

    sort        a key of SAID
    room        how far off a number may be, in the unit that the right answer is computed in
    """

    sort: str
    room: float

    @property
    def said(self) -> str:
        """The sentence of the question."""
        return SAID[self.sort]

    def accepts(self, number: float, right: float) -> bool:
        """Whether a number is right; for two figures both must stand in the unit it was typed in.

        >>> Tolerance("uncertainty", 0.018).accepts(3.6, 3.5512)
        True
        """
        near = abs(number - right) <= self.room * (1 + _DUST)
        return near or (self.sort == "uncertainty" and two_figures(number, right))


def two_figures(number: float, right: float) -> bool:
    """Whether a number is the right one rounded to two figures, to the nearest or up."""
    if not right or not number:
        return False
    step = 10.0 ** (math.floor(math.log10(abs(right)) + _DUST) - 1)
    rounded = abs(number / step - round(number / step)) < 1e-6
    off = (number - right) * math.copysign(1, right)
    return rounded and -step / 2 * (1 + _DUST) <= off < step * (1 - 1e-6)


def tolerance_for(
    method: Method, values: Mapping[str, float], right: float, step: float, told: float | None
) -> Tolerance:
    """The Tolerance of a problem.

    values, right   the given numbers and the answer, as they are computed with
    step            what one step of the scale is worth in these
    told            the usual share that an instructor sets, where it is not half a percent
    """
    usual = (told or USUAL) * abs(right)
    figures = method.rule.figures
    if figures == "mean":
        return Tolerance("mean", step / 10)
    if figures == "uncertainty":
        return Tolerance("uncertainty", usual)
    moved = min(rounding_on_the_way(method.tree, values), WIDEST * abs(right))
    if moved > USUAL * abs(right):
        return Tolerance("difference", max(usual, moved))
    return Tolerance("usual", usual)


def rounding_on_the_way(tree: Tree, values: Mapping[str, float]) -> float:
    """How far a result moves at most where each part is written down with DIGITS_ON_THE_WAY.

    A part's half unit of the last digit goes through sums as it is and through products as a
    share of them: the usual limits of rounding, each taken the same way.

    >>> from leverarm.exercises.expressions.tree import Letter
    >>> lead = (Letter("x") / Letter("y") - 1) * 100
    >>> round(rounding_on_the_way(lead, {"x": 2.06, "y": 2.0}), 3)
    0.051
    """
    return _moved(tree, values, DIGITS_ON_THE_WAY, written=False)[1]


def _moved(
    tree: Tree, at: Mapping[str, float], digits: int, written: bool = True
) -> tuple[float, float]:
    """(value, how far it moves); written: whether its digits are cut where it is written down."""
    if isinstance(tree, (Num, Letter)):
        return compiled(tree)(at), 0.0
    if isinstance(tree, (Named, Neg)):
        value, moved = _moved(tree.of, at, digits, written)
        return (-value if isinstance(tree, Neg) else value), moved
    parts = [_moved(part, at, digits) for part in children(tree)]
    value = compiled(tree)(at)
    moved = _through(tree, value, parts)
    if written and value:
        moved += 0.5 * 10.0 ** (math.floor(math.log10(abs(value))) - digits + 1)
    return value, moved


def _through(tree: Tree, value: float, parts: list[tuple[float, float]]) -> float:
    """How far a node moves where each of its parts moves so far."""
    if isinstance(tree, Sum):
        return sum(moved for _, moved in parts)
    if isinstance(tree, Prod):
        return sum(abs(value * moved / part) for part, moved in parts if part)
    if isinstance(tree, Power):
        ((base, moved),) = parts
        return abs(value * float(tree.exponent) * moved / base) if base else 0.0
    assert isinstance(tree, Call)
    total = 0.0
    for place, (part, moved) in enumerate(parts):
        if moved:
            args = [one for one, _ in parts]
            args[place] = part + moved
            total += abs(tree.function(*args) - value)
    return total
