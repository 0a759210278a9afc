"""Reading and printing quantities: kg, m, kPa for the yard scale, lb, in, psi beside them.

A quantity is given as a bare number (SI) or as text with a unit.  Inside the
package it is a plain float in the base unit of its kind; the unit stands in the
name (``weight_kg``, ``wheelbase_m``, ``pressure_kpa``).  What cannot be read is
refused here, in one sentence, before anything else sees it.

>>> read("243 lb", "weight", "bucket weight")
110.22294591
>>> show(110.22294591, "weight", "lb")
'243 lb'
"""

import math
import re
from numbers import Number

from leverarm.numerals import MOST_TEXT, Numeric, number_readings, plain, split_unit

# Callers find everything about a quantity here, its unit included.
from leverarm.units import (
    KG_PER_LB,
    KINDS,
    KPA_PER_PSI,
    M_PER_IN,
    SYSTEMS,
    G,
    Sourced,
    choose_system,
    degrees_of_slope,
    from_unit,
    kind_of_unit,
    system_shown,
    to_unit,
    unit_named,
    unit_of,
    unit_words,
)

__all__ = [
    "KG_PER_LB",
    "KINDS",
    "KPA_PER_PSI",
    "M_PER_IN",
    "SYSTEMS",
    "AsTyped",
    "G",
    "Refusal",
    "Sourced",
    "degrees_of_slope",
    "from_unit",
    "kind_of_unit",
    "known_system",
    "read",
    "read_as_typed",
    "set_fields",
    "show",
    "show_in",
    "show_number",
    "system_shown",
    "to_unit",
    "unit_named",
    "unit_of",
    "unit_words",
]


class Refusal(ValueError):
    """One clear sentence about a value that cannot be used: field, given, allowed, what to do."""

    def __init__(self, field: str, given: object, allowed: str, do: str) -> None:
        self.field, self.given, self.allowed, self.do = field, _clip(given), allowed, do
        super().__init__(f"{field}: {self.given} was given; {allowed} is allowed; {do}.")

    def __reduce__(self) -> tuple[type, tuple[object, ...]]:
        return type(self), (self.field, self.given, self.allowed, self.do)


_MOST_SHOWN = 60


def _clip(given: object) -> str:
    """What was given, on one line and short enough to show anywhere."""
    most = _MOST_SHOWN
    text = " ".join(given[: 10 * most].split()) if isinstance(given, str) else _spoken(given)
    text = "".join(c if c.isprintable() else "?" for c in text[: most + 1]) or "nothing"
    return text if len(text) <= most else text[: most - 3] + "..."


def _spoken(given: object) -> str:
    """A value that is no text, in words: a number as its digits, anything else by its type."""
    if given is None:
        return "nothing"
    try:
        return (
            str(given) if isinstance(given, Number) else f"a value of type {type(given).__name__}"
        )
    except Exception:  # a stranger's type may raise anything
        return f"a value of type {type(given).__name__}"


def read(
    value: object,
    kind: str,
    field: str,
    low: float = -math.inf,
    high: float = math.inf,
    *,
    open_low: bool = False,
    do: str = "check the number and its unit",
) -> float:
    """A given quantity as a float in the base unit of its kind.

    value   number in the base unit, or text with a unit
    kind    a name in KINDS
    field   what to call it in a refusal
    low, high   smallest and largest value accepted; open_low leaves ``low`` itself out
    do      what to tell someone whose value lies outside

    Where a comma has two readings, grouped thousands are taken if they lie in
    the range, else the decimal comma.  A length may be feet and inches, an angle
    the percent of a slope.  Raises Refusal.

    >>> read("1,234 lb", "weight", "rear reading", 0) == 1234 * KG_PER_LB
    True
    >>> read("1,650 m", "length", "wheelbase", 0.5, 5)
    1.65
    >>> read("2 kg", "length", "overhang")
    Traceback (most recent call last):
      ...
    leverarm.quantities.Refusal: overhang: 2 kg was given; a length such as 1.65 m or 65 in is \
allowed; "kg" is a unit of weight, so give a length.
    """
    candidates = (
        _told(value, kind, field) if isinstance(value, str) else [_number(value, kind, field)]
    )
    for number in candidates:
        if low <= number <= high and not (open_low and number == low):
            return number
    raise Refusal(field, value, _range_words(kind, low, high, open_low, value), do)


MOST_DECIMALS = 4


class AsTyped(float):
    """A quantity in its base unit that remembers how it was typed: 63 in stays 63 in.

    text        as typed, with its unit
    unit        the unit it was typed in
    finest      the smallest part of that unit that was typed: 1, 0.1, 1/8

    >>> AsTyped(1.6002, "63 in", "length").text, AsTyped(1.6002, "63 in", "length") * 2
    ('63 in', 3.2004)
    """

    text: str
    kind: str
    unit: str
    finest: float

    def __new__(cls, value: float, text: str, kind: str) -> "AsTyped":
        self = super().__new__(cls, value)
        base = KINDS[kind].base
        self.text, self.kind = (f"{text} {base}".strip() if text[-1:].isdigit() else text), kind
        self.unit = unit_named(split_unit(text)[1], kind) or base
        if kind in LENGTHS and _feet_and_inches(text):
            self.unit = "in"
        self.finest = _finest(text, to_unit(value, kind, self.unit))
        return self

    def __reduce__(self) -> tuple[type, tuple[float, str, str]]:
        return type(self), (float(self), self.text, self.kind)

    def decimals(self, unit: str) -> int:
        """How many decimals of another unit say as much as what was typed."""
        if unit == self.unit:
            written = len(f"{to_unit(self, self.kind, unit):.10g}".partition(".")[2])
            return min(max(written, round(-math.log10(self.finest))), MOST_DECIMALS)
        part = to_unit(self.finest, self.kind, unit) * KINDS[self.kind].units[self.unit]
        return max(0, math.ceil(-math.log10(2 * part)))


def _finest(text: str, number: float) -> float:
    """The smallest part of a unit that a typed number tells: 1/8 of 64 5/8, 0.1 of 12,5."""
    if over := re.search(r"/ ?([0-9]{1,4})", text):
        return 1 / max(int(over[1]), 1)
    part = re.search(r"[.,]([0-9]{1,10})[^0-9]*$", plain(text))
    grouped = part and "," in part[0] and number % 1 == 0
    return 10.0 ** -len(part[1]) if part and not grouped else 1.0


def read_as_typed(
    value: object, kind: str, field: str, low: float = -math.inf, high: float = math.inf
) -> float:
    """The same as :func:`read`; a text, and what was read from one, stays as it was typed."""
    if isinstance(value, AsTyped) and value.kind == kind:
        read(float(value), kind, field, low, high)
        return value
    number = read(value, kind, field, low, high)
    return AsTyped(number, plain(value), kind) if isinstance(value, str) else number


def _told(text: str, kind: str, field: str) -> list[float]:
    """Every value in the base unit that a text can mean, or a Refusal."""
    if kind in LENGTHS and (whole := _feet_and_inches(text)):
        return whole
    number, unit = split_unit(text)
    readings = number_readings(number)
    if not readings:
        raise Refusal(field, text, _such_as(kind), "type only a number and its unit")
    if kind == "angle" and unit_named(unit, "share"):
        return [degrees_of_slope(reading) for reading in readings]
    factor = KINDS[kind].units[_unit_or_refusal(unit, kind, field, text)]
    return [reading * factor for reading in readings]


def _number(value: Numeric, kind: str, field: str) -> float:
    """A value that is no text as a finite float, or a Refusal; True and False are no quantities."""
    if type(value) is float and math.isfinite(value):  # most are: the short way
        return value
    number = math.nan
    try:
        unfit = type(value).__name__.startswith(("bool", "complex")) or not hasattr(
            value, "__float__"
        )
        number = number if unfit else float(value)
    except OverflowError:
        number = math.inf
    except Exception:  # a stranger's type may raise anything
        unfit = True
    if not math.isfinite(number):
        raise Refusal(
            field,
            value,
            _such_as(kind),
            "give a number or text with a unit" if unfit else "give a finite number",
        )
    return number


LENGTHS = ("length", "distance")
_FEET = re.compile(r"([+-]?) ?([0-9]{1,4}) ?(?:'|ft\.?|feet|foot)[ ,-]*([0-9].*)", re.IGNORECASE)


def _feet_and_inches(text: str) -> list[float]:
    """A text such as 5' 6 1/2" in meters, in a list; empty where it is no such text."""
    found = _FEET.fullmatch(plain(text)) if len(text) <= MOST_TEXT else None
    if not found:
        return []
    sign, feet, rest = found.groups()
    number, unit = split_unit(rest)
    return [
        float(sign + "1") * (12 * int(feet) + inches) * M_PER_IN
        for inches in number_readings(number)
        if inches < 12 and unit_named(unit or "in", "length") == "in"
    ]


def _unit_or_refusal(unit: str, kind: str, field: str, value: str) -> str:
    """The unit's name; the base unit where none is given."""
    named = unit_named(unit, kind) if unit else KINDS[kind].base
    if named is not None:
        return named
    other = kind_of_unit(unit)
    do = (
        f'"{unit_named(unit, other)}" is a unit of {other}, so give {_a(kind)}'
        if other
        else f"use {unit_words(kind)}"
    )
    raise Refusal(field, value, _such_as(kind), do)


def _a(kind: str) -> str:
    """The kind with its article: a weight, an angle."""
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"


def _inward(end: float, up: bool) -> float:
    """An end of a range as people say it, never outside the range."""
    if not math.isfinite(end):
        return end
    grain = 1.0 if abs(end) >= 1000 else 0.01
    return (math.ceil(end / grain - 1e-9) if up else math.floor(end / grain + 1e-9)) * grain


_POUNDS_AND_INCHES = frozenset(SYSTEMS["lb"].values()) - frozenset(SYSTEMS["kg"].values()) | {"ft"}


def _such_as(kind: str) -> str:
    return f"{_a(kind)} such as {KINDS[kind].example}"


def _range_words(kind: str, low: float, high: float, open_low: bool, value: object) -> str:
    """The accepted range as words, in pounds or inches where the value was typed in those."""
    unit = (unit_named(split_unit(value)[1], kind) if isinstance(value, str) else "") or ""
    if unit in _POUNDS_AND_INCHES:
        unit = unit_of(kind, "lb")
        low, high = (
            _inward(to_unit(end, kind, unit), up) for end, up in ((low, True), (high, False))
        )
    else:
        unit = KINDS[kind].base
    least, most = (
        f"{show_number(x, 0) if x % 1 == 0 else f'{x:g}'} {unit}".rstrip()
        if math.isfinite(x)
        else ""
        for x in (low, high)
    )
    words = _a(kind)
    if least:
        words += f" {'above' if open_low else 'from'} {least}"
    if most and least:
        return f"{words} {'and up to' if open_low else 'to'} {most}"
    return f"{words} up to {most}" if most else words


def show_in(system: str) -> None:
    """Show everything in this unit system from now on, "lb" or "kg", where no other is named.

    What is computed stays as it is: bare numbers in code are kg, m and kPa in either.
    """
    choose_system(known_system(system))


def known_system(system: str | None) -> str:
    """A unit system by its name, the one chosen where none is named; or a Refusal."""
    if system is None:
        return system_shown()
    if system not in SYSTEMS:
        raise Refusal("unit system", system, " or ".join(SYSTEMS), "name one of them")
    return system


def show(
    value: float,
    kind: str,
    system: str | None = None,
    *,
    decimals: int | None = None,
    sign: bool = False,
) -> str:
    """A base value as text in the unit of a system, the one chosen where none is named; with a
    true minus sign.  What remembers how it was typed is shown with as many digits as were typed.

    >>> show(1.651, "length"), show(-82.7, "weight", "kg", sign=True), show(80, "weight", sign=True)
    ('65 in', '−82.7 kg', '+176 lb')
    """
    unit = unit_of(kind, system)
    typed = isinstance(value, AsTyped)
    usual = value.decimals(unit) if isinstance(value, AsTyped) else KINDS[kind].decimals[unit]
    places = usual if decimals is None else decimals
    number = show_number(to_unit(value, kind, unit), places, sign=sign)
    if unit == "in" and decimals is None and not typed:
        number = number.removesuffix(".0")  # 65 in, as a tape is read
    return f"{number} {unit.replace('2', '²')}".strip()


def show_number(number: float, decimals: int = 1, *, sign: bool = False) -> str:
    """A bare number as text: true minus, no sign on zero, a comma between thousands.

    >>> show_number(-0.04), show_number(12345.6, 0), show_number(80, 0, sign=True)
    ('0.0', '12,346', '+80')
    """
    # A quantity recorded for the page leaves a token; the page prints it by these rules.
    if hasattr(number, "as_words"):
        return str(number.as_words(decimals, sign))
    text = f"{number:{'+' if sign else ''},.{decimals}f}"
    if not text.strip("+-0.,"):
        text = text.lstrip("+-")
    return text.replace("-", "−")


def how_many(number: int, one: str, more: str = "") -> str:
    """A count with its word.

    >>> how_many(1, "try", "tries"), how_many(2, "try", "tries"), how_many(0, "file")
    ('1 try', '2 tries', '0 files')
    """
    return f"{number} {one if number == 1 else more or one + 's'}"


def set_fields(frozen: object, **values: object) -> None:
    """Set the fields of a frozen object, once, in the ``__init__`` that reads what was given."""
    for name, value in values.items():
        object.__setattr__(frozen, name, value)
