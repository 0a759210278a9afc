"""A spoken claim as a number, with the rounding that speech has.

"Twice", "about 150 lb", "30 %", "a third" are read; nothing typed is ever run.
"""

import re
from dataclasses import dataclass
from functools import partial

from leverarm.numerals import number_readings, plain
from leverarm.quantities import KINDS, Refusal, show_number, unit_named
from leverarm.uncertainty import Measured, from_half_width, plus_minus, rounded

_FACTORS = {
    "once": 1.0,
    "twice": 2.0,
    "double": 2.0,
    "doubles": 2.0,
    "doubled": 2.0,
    "thrice": 3.0,
    "triple": 3.0,
    "triples": 3.0,
    "tripled": 3.0,
}
_NUMBERS = {
    "one": 1.0,
    "a": 1.0,
    "an": 1.0,
    "two": 2.0,
    "three": 3.0,
    "four": 4.0,
    "five": 5.0,
    "ten": 10.0,
}
_PARTS = {
    "half": 2,
    "halves": 2,
    "third": 3,
    "thirds": 3,
    "quarter": 4,
    "quarters": 4,
    "fifth": 5,
    "fifths": 5,
    "tenth": 10,
    "tenths": 10,
}
_TIMES = {"x", "*", "times", "fold"}
MOST_TEXT = 200
# A spoken number is taken as rounded in its last place that is not zero, but never by more than
# this part of itself.
COARSEST = 0.1


@dataclass(frozen=True)
class Claim:
    """What was said, as a number.

    kind    "weight" (kg), "factor" (times its weight), "percent" (of something)
    value   Measured: the number, with its rounding as a limit of error
    text    as it was typed
    """

    kind: str
    value: Measured
    text: str


def read_claim(text: str, rounding: float | None = None) -> Claim:
    """A Claim from what was said.

    rounding    half-width of what the number may have been rounded by, in its own unit

    >>> said = ("twice its weight", "about 150 lb", "30 percent", "a third", "1.7 times")
    >>> [read_claim(text).kind for text in said]
    ['factor', 'weight', 'percent', 'percent', 'factor']
    >>> f"{read_claim('two thirds').value.value:.1f}"
    '66.7'
    """
    words = plain(str(text)[:MOST_TEXT]).lower()
    kind, number, half, scale = _read_digits(words) or _read_words(words) or _refuse(text)
    half = half if rounding is None else float(rounding)
    source = from_half_width("rounding of the claim", half * scale)
    return Claim(kind, Measured(number * scale, {source: 1.0}), str(text))


def _refuse(text):
    raise Refusal(
        "claim",
        str(text),
        "a weight, a factor, a percentage or a fraction",
        "say it like 'twice its weight', '150 lb', '30 %' or 'a third'",
    )


def _read_digits(words):
    """A claim with digits in it: the number, and by its unit what kind of claim it is."""
    found = re.search(r"\d[\d.,/]*", words)
    if not found:
        return None
    typed = found.group().rstrip(".,/")
    after = words[found.start() + len(typed) :].split()
    readings = number_readings(typed)
    if not readings or readings[0] <= 0:
        return None
    return _by_unit(readings[0], _rounding(typed, readings[0]), after)


def _by_unit(number, half, after):
    unit = after[0].rstrip(".,;") if after else ""
    if unit in _TIMES:
        return "factor", number, half, 1.0
    if unit_named(unit, "share") == "%" or after[:2] == ["per", "cent"]:
        return "percent", number, half, 1.0
    weight = unit and unit_named(unit, "weight")
    if weight:
        return "weight", number, half, KINDS["weight"].units[weight]
    return ("percent", number, half, 100.0) if number < 1 and unit in ("", "of") else None


def _read_words(words):
    """A claim in words alone: a factor, or a fraction."""
    tokens = re.findall(r"[a-z]+", words)
    factor = next((_FACTORS[t] for t in tokens if t in _FACTORS), None)
    if factor is not None:
        return "factor", factor, factor * COARSEST, 1.0
    for before, token in zip(["", *tokens], tokens):
        count = _NUMBERS.get(before, 1.0)
        if token in _PARTS:
            return "percent", count / _PARTS[token], count / _PARTS[token] * COARSEST, 100.0
        if token == "times" and before in _NUMBERS:
            return "factor", count, count * COARSEST, 1.0
    return None


def _rounding(typed, number):
    """Half of the last place that is not zero, at most a tenth of the number: 150 -> 5, 34 -> 0.5,
    2 -> 0.2.

    People count in fives too, so a number that ends in five is taken as one of those: 25 -> 2.5.
    """
    if "/" in typed:
        return number * COARSEST
    whole, _, part = (
        typed.replace(",", ".").rpartition(".")
        if re.search(r"[.,]\d{1,2}$", typed)
        else (typed, "", "")
    )
    digits = re.sub(r"\D", "", whole)
    place = 10.0 ** -len(part) if part else 10.0 ** (len(digits) - len(digits.rstrip("0")))
    if not part and len(digits) > 1 and digits.endswith("5"):
        place = 5.0
    return min(place / 2, number * COARSEST)


def fitting(one: Measured, other: Measured) -> bool | None:
    """True where two numbers agree within the expanded uncertainty of their difference; None where
    that is unknown.
    """
    difference = one - other
    U = difference.expanded()
    return abs(difference.value) <= U if U == U else None


brief = partial(plus_minus, brief=True)


def percent_text(number: Measured) -> str:
    """A percentage with its +/-, where known."""
    return f"{number_text(number)} %"


def number_text(number: Measured) -> str:
    """A bare number with its +/-, where known."""
    U = number.expanded()
    return "{} ± {}".format(*rounded(number.value, U)) if U == U else show_number(number.value, 1)
