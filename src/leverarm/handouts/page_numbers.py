"""The numbers of the page to hand over, in digits that work out as printed.

Someone with a pencil must get every printed result from the printed numbers beside it.  So the
readings are rounded first, all else is worked from the rounded readings, and they get another
digit where the results would not be those of the weighing.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_EVEN, Decimal

# Front change from which a page prints whole pounds or kilograms, and tenths.
WHOLE_FROM, TENTHS_FROM = 30, 3
MORE_DIGITS = 4
FACTOR_PLACES = 2
# A number this near to halfway between two headline numbers may be printed as either.
NEARLY_HALF = Decimal("0.51")

OnOff = tuple[Decimal, Decimal]


@dataclass(frozen=True)
class PageNumbers:
    """Printed numbers in one unit of weight and one of length; None where not known.

    front, rear, total  (on, off) readings
    came_off    front reading on minus off; rear_gain is off minus on; both are exact
    weight      came_off minus rear_gain, exact, so that weight plus rear_gain is came_off
    factor      one plus overhang over wheelbase, to its own digits; weight times factor rounds
                to came_off as a headline prints it
    places      digits after the point of a headline number: headline(came_off) and so on
    """

    front: OnOff
    rear: OnOff | None
    came_off: Decimal
    weight: Decimal | None
    factor: Decimal | None
    overhang: Decimal | None
    wheelbase: Decimal
    places: int

    @property
    def rear_gain(self) -> Decimal | None:
        """What the rear axle gains as the piece comes off, negative where it loses."""
        return None if self.weight is None else self.came_off - self.weight

    @property
    def total(self) -> OnOff | None:
        """Both axles together, on and off."""
        if self.rear is None:
            return None
        return self.front[0] + self.rear[0], self.front[1] + self.rear[1]

    @property
    def shares(self) -> tuple[tuple[Decimal, Decimal], tuple[Decimal, Decimal]] | None:
        """Whole percent (front, rear) with the piece on and with it off; each pair gives 100."""
        if self.rear is None or self.total is None:
            return None
        on, off = (
            round_decimal(100 * front / total, 0) for front, total in zip(self.front, self.total)
        )
        return (on, 100 - on), (off, 100 - off)

    def headline(self, number: Decimal) -> str:
        """A weight as a sentence says it."""
        return spoken(round_decimal(number, self.places))

    @property
    def times(self) -> str:
        """The factor as the first line says it: two digits, three where two say nothing."""
        assert self.factor is not None
        short = round_decimal(self.factor, 1)
        return spoken(short if abs(short - 1) >= Decimal("0.2") else round_decimal(self.factor, 2))


def page_numbers(
    front: tuple[float, float],
    rear: tuple[float, float] | None,
    weight: float | None,
    wheelbase: float,
    length_places: int = 1,
) -> PageNumbers:
    """PageNumbers of readings (on, off), all in the units that are printed.

    weight          of the piece where the rear was not read and the weight is known; with the
                    rear read it follows from the readings
    wheelbase       front axle to rear axle
    length_places   digits after the point with which lengths begin: 1 for in, 2 for m

    >>> found = page_numbers((1920, 1502), (1310, 1482), None, 65.0)
    >>> [str(one) for one in (found.came_off, found.weight, found.factor, found.overhang)]
    ['418', '246', '1.70', '45.4']
    """
    came_off = _decimal(front[0]) - _decimal(front[1])
    least = 0 if came_off >= WHOLE_FROM else 1 if came_off >= TENTHS_FROM else 2
    base = round_decimal(_decimal(wheelbase), length_places)
    for places, more in itertools.product(range(least, least + MORE_DIGITS), range(MORE_DIGITS)):
        given = front, rear, weight
        if found := _with_digits(*given, base, places, places + more, length_places):
            return found
    raise AssertionError(f"no digits found for {front}, {rear}, {weight}, {wheelbase}")


def _with_digits(
    front: tuple[float, float],
    rear: tuple[float, float] | None,
    weight: float | None,
    base: Decimal,
    places: int,
    fine: int,
    length_places: int,
) -> PageNumbers | None:
    """The numbers with readings to ``fine`` digits; None where a line would not work out."""
    fronts, true_front = _pair(front, fine)
    came_off = fronts[0] - fronts[1]
    if not _agree(came_off, true_front, places):
        return None
    if rear is not None:
        rears, true_change = _pair(rear, fine)
        gone, true_weight = came_off + rears[0] - rears[1], true_front + true_change
    elif weight is not None:
        rears, true_weight = None, _decimal(weight)
        gone = round_decimal(true_weight, fine)
    else:
        return PageNumbers(fronts, None, came_off, None, None, None, base, places)
    true_gain = true_front - true_weight
    if not _agree(gone, true_weight, places) or not _agree(came_off - gone, true_gain, places):
        return None
    result = round_decimal(came_off, places)
    worked = _factor(result, gone, true_front / true_weight, base, length_places)
    return worked and PageNumbers(fronts, rears, came_off, gone, *worked, base, places)


def _pair(readings: tuple[float, float], fine: int) -> tuple[OnOff, Decimal]:
    """Readings on and off to so many digits, and the true on minus off."""
    on, off = map(_decimal, readings)
    return (round_decimal(on, fine), round_decimal(off, fine)), on - off


def _factor(
    result: Decimal, weight: Decimal, true_factor: Decimal, base: Decimal, length_places: int
) -> tuple[Decimal, Decimal] | None:
    """(factor, overhang) in the fewest digits with which both lines work out; None if none do."""
    if weight <= 0:
        return None
    ahead = (true_factor - 1) * base
    for places in range(FACTOR_PLACES, FACTOR_PLACES + MORE_DIGITS):
        for more in range(MORE_DIGITS):
            overhang = round_decimal(ahead, length_places + more)
            factor = round_decimal(1 + overhang / base, places)
            product = (weight * factor).quantize(result, ROUND_HALF_EVEN)
            if product == result and _agree(factor, true_factor, FACTOR_PLACES):
                return factor, overhang
    return None


def _agree(printed: Decimal, true: Decimal, places: int) -> bool:
    """True where the printed number, cut to its headline, is the true one rounded."""
    return abs(round_decimal(printed, places) - true) <= NEARLY_HALF.scaleb(-places)


def round_decimal(number: Decimal, places: int) -> Decimal:
    """A number with this many digits after the point; a half goes to the even digit."""
    return number.quantize(Decimal(1).scaleb(-places), ROUND_HALF_EVEN)


def rounded_up(number: float, places: int) -> Decimal:
    """A plus or minus, rounded up and never to nothing.

    >>> str(rounded_up(3.3, 0)), str(rounded_up(8.5, 0)), str(rounded_up(0.017, 2))
    ('4', '9', '0.02')
    """
    unit = Decimal(1).scaleb(-places)
    return max(_decimal(number).quantize(unit, ROUND_CEILING), unit)


def spoken(number: Decimal, sign: bool = False) -> str:
    """A number as it is printed: thousands apart by a comma, a true minus.

    >>> spoken(Decimal("1920")), spoken(Decimal("-418"), sign=True), spoken(Decimal("0.0"), True)
    ('1,920', '−418', '0.0')
    """
    text = f"{abs(number):,f}"
    mark = "−" if number < 0 else "+" if sign and number > 0 else ""
    return mark + text


def _decimal(number: float) -> Decimal:
    """A float without the dust of a change of units."""
    return Decimal(repr(round(float(number), 9)))
