"""The printed numbers of a result, in digits that work out as printed.

The rules of :mod:`leverarm.handouts.page_numbers`, on numbers that may still be typed: readings
are rounded first, all else is worked from the rounded readings, and a line gets another digit
where it would not round to its own result.  A number is kept as a whole number of its last place.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from leverarm.handouts.page_numbers import (
    FACTOR_PLACES,
    MORE_DIGITS,
    NEARLY_HALF,
    TENTHS_FROM,
    WHOLE_FROM,
)
from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.recorder import first_so, floor, most, nearest, where

_DUST = 1e9


@dataclass(frozen=True)
class PrintedNumber:
    """A number as it is printed.

    value   as printed, a float;  places  digits after the point: a number to choose by
    few, many   how many digits there may be
    """

    value: Numeric
    places: Numeric
    few: int
    many: int

    def text(self, sign: bool = False) -> str:
        """Its digits."""
        return _by_places(
            self.places,
            range(self.few, self.many + 1),
            lambda places: show_number(self.value, places, sign=sign),
        )

    @property
    def size(self) -> PrintedNumber:
        """Without its sign."""
        return PrintedNumber(abs(self.value), self.places, self.few, self.many)


@dataclass(frozen=True)
class ResultDigits:
    """The printed numbers of a result, in the unit shown.

    rows        {(row, axle): reading}
    came_off, rear_gain, weight     what came off the front, went onto the rear, off the machine
    headline    came_off as a sentence says it
    factor, overhang, wheelbase
    """

    rows: dict[tuple[str, str], PrintedNumber]
    came_off: PrintedNumber
    headline: PrintedNumber
    rear_gain: PrintedNumber
    weight: PrintedNumber
    factor: PrintedNumber
    overhang: PrintedNumber
    wheelbase: PrintedNumber
    places: Numeric

    @property
    def times(self) -> str:
        """The factor as a sentence says it: two digits, three where two say nothing."""
        short = self.factor_to(1)
        near = abs(nearest(short * 10) - 10) < 2
        return where(near, lambda: show_number(self.factor_to(2), 2), lambda: show_number(short, 1))

    def factor_to(self, places: int) -> Numeric:
        """The printed factor in fewer digits; a half goes to the even one, as in decimals."""
        most_places = FACTOR_PLACES + MORE_DIGITS - 1
        whole = nearest(self.factor.value * 10.0**most_places)
        return nearest(whole / 10.0 ** (most_places - places)) / 10.0**places


def clean(value: Numeric) -> Numeric:
    """Without the dust of a change of units."""
    return nearest(value * _DUST) / _DUST


def up_to(value: Numeric, places: Numeric) -> str:
    """A ± rounded up, never to nothing: 3.3 is 4.

    >>> up_to(3.3, 0), up_to(0.017, 2), up_to(0.0, 0)
    ('4', '0.02', '1')
    """

    def one(digits: int) -> str:
        scale = 10.0**digits
        return show_number(most(-floor(-value * scale), 1.0) / scale, digits)

    return _by_places(places, range(3), one)


def _by_places(places: Numeric, choices: Sequence[int], text: Callable[[int], str]) -> str:
    """The text of the places that are so."""
    *first, last = choices
    return first_so([(places <= one, text(one)) for one in first], text(last))


def _near(printed: Numeric, true: Numeric) -> Numeric:
    """1 where a number cut to its headline is the true one rounded, both in headline units."""
    return abs(nearest(printed) - true) <= float(NEARLY_HALF)


def result_digits(
    rows: dict[tuple[str, str], Numeric],
    weight: Numeric,
    rear_known: Numeric,
    wheelbase: Numeric,
    length_places: int,
) -> ResultDigits:
    """The ResultDigits of loads, weight and wheelbase in the unit shown.

    weight      of the piece, weighed or told;  rear_known  1 where the rear was read
    """
    rows = {key: clean(load) for key, load in rows.items()}
    came = rows["on", "front"] - rows["off", "front"]
    true_weight = where(
        rear_known,
        lambda: came + rows["on", "rear"] - rows["off", "rear"],
        lambda: clean(weight),
    )
    places, scale = first_so(
        [(came >= WHOLE_FROM, (0.0, 1.0)), (came >= TENTHS_FROM, (1.0, 10.0))], (2.0, 100.0)
    )
    off, gone, ten, more = _fine(rows, (came, true_weight, rear_known), scale)
    fine, fine_places = scale * ten, places + more
    result = nearest(off / ten)

    def shown(whole: Numeric) -> PrintedNumber:
        return PrintedNumber(whole / fine, fine_places, 0, 2 + MORE_DIGITS - 1)

    base = nearest(clean(wheelbase) * 10**length_places) / 10**length_places
    factor, overhang = _factor(result, gone / ten, came / true_weight, base, length_places)
    return ResultDigits(
        {key: shown(nearest(load * fine)) for key, load in rows.items()},
        shown(off),
        PrintedNumber(result / scale, places, 0, 2),
        shown(off - gone),
        shown(gone),
        factor,
        overhang,
        PrintedNumber(base, float(length_places), length_places, length_places),
        places,
    )


def _fine(
    rows: dict[tuple[str, str], Numeric],
    true: tuple[Numeric, Numeric, Numeric],
    scale: Numeric,
) -> tuple[Numeric, Numeric, Numeric, Numeric]:
    """(came off, weight, ten to the power of more, more): the fewest more digits that agree."""
    came, weight, rear_known = true
    tried = []
    for more in range(MORE_DIGITS):
        ten = 10.0**more
        off, gone = _readings(rows, weight, rear_known, scale * ten)
        agree = (
            _near(off / ten, came * scale)
            * _near(gone / ten, weight * scale)
            * _near((off - gone) / ten, (came - weight) * scale)
        )
        tried.append((agree, (off, gone, ten, float(more))))
    return first_so(tried, tried[-1][1])


def _readings(
    rows: dict[tuple[str, str], Numeric], true_weight: Numeric, rear_known: Numeric, fine: Numeric
) -> tuple[Numeric, Numeric]:
    """(came off, weight) from readings rounded to whole units of 1/fine."""
    at = {key: nearest(load * fine) for key, load in rows.items()}
    off = at["on", "front"] - at["off", "front"]
    gone = where(
        rear_known,
        lambda: off + at["on", "rear"] - at["off", "rear"],
        lambda: nearest(true_weight * fine),
    )
    return off, gone


def _factor(
    result: Numeric, weight: Numeric, true: Numeric, base: Numeric, length_places: int
) -> tuple[PrintedNumber, PrintedNumber]:
    """(factor, overhang) in the fewest digits with which both lines work out."""
    tried = []
    for places in range(FACTOR_PLACES, FACTOR_PLACES + MORE_DIGITS):
        for more in range(MORE_DIGITS):
            ten, length = 10.0**places, 10.0 ** (length_places + more)
            overhang = nearest((true - 1) * base * length) / length
            factor = nearest((1 + overhang / base) * ten)
            agree = (abs(nearest(weight * factor / ten) - result) < 0.5) * _near(
                factor / 10.0 ** (places - FACTOR_PLACES), true * 10.0**FACTOR_PLACES
            )
            found = factor / ten, float(places), overhang, float(length_places + more)
            tried.append((agree, found))
    factor, places_of, overhang, length_of = first_so(tried, tried[-1][1])
    more = MORE_DIGITS - 1
    return (
        PrintedNumber(factor, places_of, FACTOR_PLACES, FACTOR_PLACES + more),
        PrintedNumber(overhang, length_of, length_places, length_places + more),
    )
