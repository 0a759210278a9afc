"""Readings as people take them: an axle or its two wheels, with the very digits that were typed.

A text that could be two numbers is refused with the reason; nothing is misread.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from numbers import Real

from leverarm.machine import MOST_NAME, MOST_WEIGHT_KG
from leverarm.numerals import number_readings, plain, split_unit
from leverarm.quantities import Refusal, from_unit, read, unit_named
from leverarm.weighing.facts import one_line, whole_number
from leverarm.weighing.scales import LEAST_READING_KG, Wheels

BARE_NAMES = ("bare", "all off", "none", "")

MOST_NOTE = 300

MOST_REPEAT = 999

SIDES = ("left", "right")

_BETWEEN = re.compile(r"[/+]|, | and ", re.IGNORECASE)

# A wheel of a machine that is weighed carries more than this.
LEAST_WHEEL_KG = 2.0


@dataclass(frozen=True)
class AxleReading:
    """What the scales showed under one axle: its total, or its two wheels.

    total, left, right      numbers in ``unit``, with the digits that were typed
    """

    total: float | None = None
    left: float | None = None
    right: float | None = None
    unit: str = "kg"

    @property
    def wheels(self) -> bool:
        """True where the two wheels were read one by one."""
        return self.total is None

    @property
    def shown(self) -> float:
        """The axle's reading in its unit: what was shown, or left and right together."""
        return self.total if self.total is not None else (self.left or 0.0) + (self.right or 0.0)

    @property
    def kg(self) -> float:
        """The axle's reading in kg."""
        return from_unit(self.shown, "weight", self.unit)

    @property
    def given(self) -> float | Wheels:
        """As the fit takes it, in kg: a number, or Wheels."""
        if self.total is not None:
            return self.kg
        return Wheels(*(from_unit(one or 0.0, "weight", self.unit) for one in self.sides))

    @property
    def sides(self) -> tuple[float | None, float | None]:
        """(left, right) as typed."""
        return self.left, self.right

    def __str__(self) -> str:
        if self.total is not None:
            return f"{grouped(self.total)} {self.unit}"
        return f"{grouped(self.left or 0.0)} + {grouped(self.right or 0.0)} {self.unit}"


def digits(number: float) -> str:
    """A number with every digit it was typed with, and no more: 1019, 602.5."""
    return repr(float(number)).removesuffix(".0")


def grouped(number: float) -> str:
    """The same with a comma between thousands, as people read it: 1,019, 602.5."""
    return f"{float(number):,}".removesuffix(".0")


def axle_reading(
    text: str | float | Sequence[str | float],
    unit: str = "kg",
    axle: str = "front",
    step_kg: float | None = None,
) -> AxleReading | None:
    """An AxleReading from one box as people fill it; None for an empty box.

    text    "829", "829 kg", "1,234"; or left and right wheel: "432/428", "432 + 428", or a pair
    unit    of a number that names none; a unit that is named must be this one
    step_kg step of the scales: a decimal that the scales cannot show is asked about

    A slash parts two wheels and never divides.  Raises Refusal, so that nothing is misread.

    >>> str(axle_reading("432/428")), str(axle_reading("1,234 lb", "lb"))
    ('432 + 428 kg', '1,234 lb')
    """
    if isinstance(text, (list, tuple)):
        sides = [
            axle_reading(one, unit, f"{axle} {side}", step_kg) for one, side in zip(text, SIDES)
        ]
        return wheel_readings(sides[0], sides[1], axle)
    if isinstance(text, Real) and not isinstance(text, bool):
        return _in_range(float(text), unit, f"{axle} reading")
    if not isinstance(text, str):
        raise Refusal(
            f"{axle} reading",
            "a calculated value",
            "what the scale showed",
            "keep predictions out, and type the reading",
        )
    return _typed(" ".join(plain(text).split()), unit, axle, step_kg)


def _typed(text: str, unit: str, axle: str, step_kg: float | None) -> AxleReading | None:
    """An AxleReading from typed text: one number, or the two of its wheels."""
    if not text:
        return None
    parts = [part.strip() for part in _BETWEEN.split(text)]
    if len(parts) == 1:
        return _one_reading(text, unit, axle, step_kg)
    if len(parts) > 2 or not all(parts):
        raise Refusal(
            f"{axle} reading",
            text,
            "one number for the axle, or two for its left and right wheel",
            "type left + right",
        )
    left, right = (
        _one_reading(part, unit, f"{axle} {side}", step_kg) for part, side in zip(parts, SIDES)
    )
    return wheel_readings(left, right, axle)


def wheel_readings(
    left: AxleReading | None, right: AxleReading | None, axle: str = "front"
) -> AxleReading | None:
    """One AxleReading from the readings of its two wheels; None where both boxes are empty."""
    if left is None and right is None:
        return None
    if left is None or right is None:
        side = "right" if right is None else "left"
        raise Refusal(
            f"{axle} {side} wheel",
            "nothing",
            "both wheels of an axle, or the axle as a whole",
            f"read the {side} wheel too",
        )
    made = AxleReading(None, left.shown, right.shown, left.unit)
    if from_unit(min(left.shown, right.shown), "weight", left.unit) < LEAST_WHEEL_KG:
        raise Refusal(
            f"{axle} reading",
            str(made),
            f"wheels that carry {digits(LEAST_WHEEL_KG)} kg or more each",
            "type left + right as the scales showed them, or the axle as one number",
        )
    return made


def _one_reading(text: str, unit: str, axle: str, step_kg: float | None) -> AxleReading:
    """A single number of a box, with the digits that were typed."""
    what = f"{axle} reading"
    number, named = split_unit(text)
    found = number_readings(number) if "/" not in number else ()
    if not found:
        raise Refusal(what, text, f"a number of {unit}", "type what the scale showed")
    if named and unit_named(named, "weight") != unit:
        raise Refusal(
            what, text, f"a reading in {unit}", f"type it in {unit}, or choose the other unit"
        )
    value = found[0]
    made = _in_range(value, unit, what)
    _refuse_two_meanings(text, number, value, unit, what, step_kg)
    return made


def _in_range(value: float, unit: str, what: str) -> AxleReading:
    """An axle's reading that a machine can have."""
    read(f"{digits(value)} {unit}", "weight", what, LEAST_READING_KG, MOST_WEIGHT_KG)
    return AxleReading(value, unit=unit)


def _refuse_two_meanings(
    text: str, number: str, value: float, unit: str, what: str, step_kg: float | None
) -> None:
    """1.019 may be a thousand and nineteen: refused where the scales cannot show it."""
    if not re.fullmatch(r"[+-]?[0-9]{1,3}\.[0-9]{3}", number):
        return
    step = step_kg or 0.0
    if step and abs(math.remainder(from_unit(value, "weight", unit), step)) < 1e-6:
        return
    thousands = number.replace(".", ",")
    raise Refusal(
        what,
        text,
        f"{digits(value)} {unit} or {thousands} {unit}, and this could be either",
        f"type {number.replace('.', '')} or {value:.1f}",
    )


@dataclass(frozen=True)
class Weighing:
    """One row: one set-up weighed once.  Made by :func:`weighing`, which checks it.

    setup       the pieces that hung on, () for bare
    repeat      1, 2, 3 ... for the same set-up weighed again
    """

    setup: tuple[str, ...]
    front: AxleReading | None
    rear: AxleReading | None
    repeat: int = 1
    note: str = ""

    @property
    def setup_name(self) -> str:
        """The set-up in words."""
        return " + ".join(self.setup) or "bare"

    @property
    def key(self) -> tuple[frozenset[str], int]:
        """What makes two rows the same weighing, so that the later one corrects the earlier."""
        return frozenset(piece.casefold() for piece in self.setup), self.repeat

    @property
    def unit(self) -> str:
        """The unit of its readings."""
        return (self.front or self.rear or AxleReading()).unit


def weighing(
    setup: str | Sequence[str],
    front: str | float | Sequence[str | float] | AxleReading | None = None,
    rear: str | float | Sequence[str | float] | AxleReading | None = None,
    unit: str = "kg",
    repeat: int | str = 1,
    note: str = "",
    step_kg: float | None = None,
) -> Weighing:
    """A checked Weighing; front or rear may be left out, not both.

    >>> weighing("loader frame + bucket", "1019", "350/350").rear.kg
    700.0
    """
    known = scale_unit(unit)
    hung = pieces(setup) if isinstance(setup, str) else tuple(setup)
    if len({piece.casefold() for piece in hung}) != len(hung) or "+" in "".join(hung):
        raise Refusal("set-up", " + ".join(hung), "each piece once", "name the pieces apart")
    shown = {
        axle: given
        if given is None or isinstance(given, AxleReading)
        else axle_reading(given, known, axle, step_kg)
        for axle, given in (("front", front), ("rear", rear))
    }
    if not any(shown.values()):
        raise Refusal(
            "readings", "nothing", "a front reading, a rear reading or both", "read a scale first"
        )
    return Weighing(
        tuple(one_line(piece, "piece", MOST_NAME, 1) for piece in hung),
        shown["front"],
        shown["rear"],
        whole_number(repeat, "repeat", MOST_REPEAT),
        one_line(note, "note", MOST_NOTE),
    )


def scale_unit(unit: str) -> str:
    """The unit that scales show, by its name.

    >>> scale_unit("lbs")
    'lb'
    """
    known = unit_named(str(unit), "weight") if str(unit).strip() else None
    if known is None:
        raise Refusal("unit", str(unit), "kg, lb or t", "name the unit the scale shows")
    return known


def pieces(setup: str) -> tuple[str, ...]:
    """The pieces that a set-up names, in order.

    >>> pieces("loader frame + bucket"), pieces("bare")
    (('loader frame', 'bucket'), ())
    """
    if setup.strip().casefold() in BARE_NAMES:
        return ()
    return tuple(" ".join(part.split()) for part in setup.split("+") if part.strip())
