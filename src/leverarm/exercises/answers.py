"""Reading a typed number: its value, its unit, the sign it states in words, and what was understood.

Nothing is guessed.  A single comma before three digits that has two sensible
readings gives both, and whoever asks shows them.

>>> got = read_number("−82.7 KG", "weight", "kg")
>>> got.values, got.shown
((-82.7,), '−82.7 kg')
>>> read_number("80 kg lost", "weight", "kg").values
(-80.0,)
>>> [f"{v:g}" for v in read_number("1,234 kg", "weight", "kg").values]
['1234', '1.234']
"""

import re
from dataclasses import dataclass

from leverarm import quantities
from leverarm.exercises.grammar import Unreadable
from leverarm.numerals import number_readings, plain, split_unit
from leverarm.quantities import KINDS, G, Refusal, kind_named, show_number, to_unit, unit_named

MOST_TYPED = 120
# Sizes that make sense for an answer, in the base unit; outside, a reading of a comma is dropped.
SENSIBLE = {
    "weight": (0.2, 60_000),
    "length": (0.002, 60),
    "pressure": (0.5, 5_000),
    "share": (0.05, 10_000),
    "number": (0.01, 100),
    "moment": (0.2, 100_000),
    "angle": (0.01, 90),
    "area": (1e-4, 5),
    "force": (1, 600_000),
}
_LOSS = re.compile(
    r"\b(less|loss|lost|loses?|losing|lighter|down|off|decrease[sd]?|fewer|behind|minus)\b"
)
_GAIN = re.compile(r"\b(more|gain(?:s|ed)?|heavier|up|increase[sd]?|added|ahead|plus)\b")
_FILLER = re.compile(
    r"\b(about|approximately|approx|roughly|around|circa|ca|is|equals?|by|of|the|it|on|at|axle|"
    r"front|rear|reading|total|machine|answer|farther|further)\b\.?|[~≈()]"
)
_POWER = re.compile(r"\s*[*x]\s*10\s*\^\s*\(?\s*([+-]?\d{1,2})\s*\)?", re.I)
_FEET = re.compile(r"[+-]?\d+\s*(?:'|ft\.?|feet|foot)[ ,-]*\d", re.I)


@dataclass(frozen=True)
class Reading:
    """A typed number as read.

    values      its possible values in the base unit, the likelier first; two where a comma leaves it open
    numbers     the same in the unit it was read in
    unit        that unit; told  whether it was typed, or taken from the question
    kind        the kind of quantity the unit measures: a force may stand for a weight
    digits      significant digits typed
    signed      "loss" or "gain" where words said so, else ""
    """

    values: tuple
    numbers: tuple
    unit: str
    told: bool
    kind: str
    digits: int
    signed: str

    @property
    def shown(self):
        """What was understood, to show beside what was typed."""
        return " or ".join(_shown(number, self.unit) for number in self.numbers)


def _shown(number, unit):
    """A number with its unit, every digit that was typed and no more."""
    if number and not 1e-9 <= abs(number) < 1e12:
        return f"{number:.4g} {unit_shown(unit)}".strip()
    places = next((n for n in range(9) if abs(number - round(number, n)) <= 1e-9 * abs(number)), 9)
    return f"{show_number(number, places)} {unit_shown(unit)}".strip()


def unit_shown(unit):
    """A unit as printed: cm2 is cm²."""
    return unit.replace("2", "²")


def read_number(typed, kind, unit, by_words=True):
    """A typed answer to a question that asks for a kind of quantity in a unit.  Raises Unreadable.

    by_words    whether "lost" or "behind" state a sign; where the question says which way, they do not
    """
    if len(typed) > MOST_TYPED:
        raise Unreadable(
            f"That is {len(typed)} characters long; up to {MOST_TYPED} are read. Type the number and its unit."
        )
    text, signed = _signed(_tidied(typed))
    signed = signed if by_words else ""
    numbers, rest = _numbers(text, kind)
    if not numbers:
        raise Unreadable(
            f"{clipped(typed)} is no number that can be read. Type a number and its unit, such as {_example(kind)}."
        )
    named, measured, factor = _unit(rest, kind, unit)
    numbers = tuple(-abs(n) if signed == "loss" else n for n in numbers)
    if len(numbers) > 1:
        numbers = tuple(n for n in numbers if _sensible(n * factor, kind)) or numbers[:1]
    return Reading(
        tuple(n * factor for n in numbers),
        numbers,
        named,
        bool(rest),
        measured,
        _digits(text),
        signed,
    )


def clipped(typed, most=24):
    """What was typed, short, on one line, fit to show."""
    word = (
        "".join(c if c.isprintable() else "?" for c in " ".join(typed[:200].split())[: most + 1])
        or "Nothing"
    )
    return word if len(word) <= most else word[:most] + "..."


def _example(kind):
    return KINDS[kind].example.split(" or ")[0]


def _tidied(typed):
    """Typed text on one line, look-alikes made plain; only what stands after an equals sign; no ± part."""
    text = plain(typed).replace("**", "^").rstrip(".;!, ")
    text = text.rsplit("=", 1)[-1]
    return re.split(r"±|\+/-|\+-", text)[0].strip() or text


def _signed(text):
    """The text without words of direction and filler, and the direction the words state."""
    low = text.lower()
    if not any(c.isalpha() or c in "~≈()" for c in low):
        return text, ""
    loss, gain = bool(_LOSS.search(low)), bool(_GAIN.search(low))
    bare = (
        _FILLER.sub(" ", _GAIN.sub(" ", _LOSS.sub(" ", low)))
        if loss or gain
        else _FILLER.sub(" ", text)
    )
    return " ".join(bare.split()), "" if loss == gain else "loss" if loss else "gain"


def _numbers(text, kind):
    """The possible numbers at the head of a text, and what stands behind them."""
    if kind == "length" and _FEET.match(text):
        try:
            return (to_unit(quantities.read(text, "length", "answer"), "length", "in"),), "in"
        except Refusal:
            return (), ""
    ten = _POWER.search(text)
    if ten:
        return tuple(n * 10.0 ** int(ten[1]) for n in number_readings(text[: ten.start()])), text[
            ten.end() :
        ].strip()
    number, rest = split_unit(text)
    return number_readings(number), rest


def _unit(rest, kind, asked):
    """The unit typed, the kind it measures, and what turns its numbers into the base unit of the question."""
    if not rest or (
        kind == "number" and rest.strip(" *.").lower() in ("x", "w", "times", "fold", "times w")
    ):
        return asked, kind, KINDS[kind].units[asked]
    own = unit_named(rest, kind)
    if own is not None:
        return own, kind, KINDS[kind].units[own]
    other = kind_named(rest)
    if {kind, other} == {"weight", "force"}:
        force = unit_named(rest, other)
        return force, other, KINDS[other].units[force] * (1 / G if kind == "weight" else G)
    if {kind, other} == {"share", "number"} or (kind, other) == ("number", "share"):
        return "%", "share", 0.01
    if other is None:
        raise Unreadable(
            f"{clipped(rest)} is no unit that can be read here. Type a number and its unit, such as {_example(kind)}."
        )
    a = "an" if kind[0] in "aeiou" else "a"
    raise Unreadable(
        f"{unit_named(rest, other)} measures {other}; this question asks for {a} {kind}"
        + (f", in {asked}." if asked else ", without a unit.")
    )


def _sensible(value, kind):
    """Whether a size makes sense for the kind of quantity."""
    low, high = SENSIBLE.get(kind, (0, float("inf")))
    return low <= abs(value) <= high


def _digits(text):
    """Significant digits typed."""
    mantissa = re.split("[eE]", split_unit(text)[0])[0]
    return len(re.sub(r"[^0-9]", "", mantissa).lstrip("0")) or 1


def in_unit(base, kind, unit, figures=4):
    """A base value with four significant digits in a unit, as a reply shows it.

    >>> in_unit(190.0, "weight", "kg"), in_unit(-1.23456, "length", "m")
    ('190.0 kg', '−1.235 m')
    """
    return f"{figured(to_unit(base, kind, unit), figures)} {unit_shown(unit)}".strip()


def figured(number, figures=4):
    """A number with so many significant digits, and a true minus."""
    if not number:
        return "0"
    size = (
        len(str(int(abs(float(f"{number:.{figures}g}")))))
        if abs(number) >= 1
        else -_leading_zeros(number)
    )
    return show_number(number, max(0, figures - size))


def short(number, figures=5):
    """A number on the way through a working: five significant digits, no zeros behind them.

    >>> short(8.05), short(-110.2229), short(0.0123456)
    ('8.05', '−110.22', '0.012346')
    """
    text = figured(number, figures)
    return text.rstrip("0").rstrip(".") if "." in text else text


def _leading_zeros(number):
    """Zeros after the point, before the first digit that counts."""
    return int(-1 - _exponent(number))


def _exponent(number):
    return int(f"{abs(number):e}".split("e")[1])
