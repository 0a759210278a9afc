"""How far a typed number speaks for each wrong turn, for a slip of the pen, or for nothing known.

Each wrong turn has a prior, and a number typed with so many digits has a likelihood under each:
most students round right, a few cut off, some round on the way.  Against them stand slips of the
pen (a wrong digit, two digits swapped, an input mis-keyed, a step cut short), numbers close to the
right one, and the background of any number at all.  A cause is claimed only where at most
two wrong turns hold half of everything; a guess would teach the wrong thing.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

ROUNDED, CUT, ON_THE_WAY, ROOM = 0.80, 0.05, 0.15, 0.003
# How much speaks for a number out of the blue; more where so few digits fit many wrong turns.
BACKGROUND, BACKGROUND_OF_FEW_DIGITS, OUTSIDE = 1.1, 2.0, 0.3
DIGITS_OF_SURETY = 4
CLOSE, NEAR = 0.15, 0.03
WRONG_DIGIT, SWAPPED, MIS_KEYED, CUT_SHORT = 0.10, 0.06, 0.15, 0.06
HALF, SECOND = 0.5, 0.12
FINEST = 1e-7


@dataclass(frozen=True)
class Typed:
    """A typed number in the unit asked.

    half        half a unit of its last digit, or of the last one asked for where it has fewer
    coarse      the same of its last digit that is sure
    digits      so many digits are sure
    """

    number: float
    half: float
    coarse: float
    digits: int
    signless: bool = False

    def like(self, right: float) -> float:
        """The number, with the sign of the right one where the sign says nothing."""
        return math.copysign(self.number, right) if self.signless else self.number

    def fits(self, value: float) -> bool:
        """Whether this is a value as far as its digits go."""
        return abs(self.like(value) - value) <= self.coarse * (1 + 1e-9)

    def near(self, values: Sequence[float]) -> list[int]:
        """Which workings give this number any likelihood at all, by their places."""
        number, size = self.number, abs(self.number)
        # No less than the reach of likelihood, which grows with the value.
        reach = max(2 * self.coarse, 1.01 * ROOM * size) * (1 + 1e-9)
        if self.signless:
            return [at for at, value in enumerate(values) if -reach <= abs(value) - size <= reach]
        return [at for at, value in enumerate(values) if -reach <= value - number <= reach]

    def likelihood(self, value: float) -> float:
        """How likely this number is, for each unit of it, where a working gives this value."""
        number = self.number
        if self.signless:
            number, value = abs(number), abs(value)
        off = abs(number - value)
        found = _as_rounded(off, max(self.half, FINEST * abs(value)))
        if self.coarse > self.half:
            found = (found + _as_rounded(off, self.coarse)) / 2
        room = ROOM * abs(value)
        if off <= room:
            found += ON_THE_WAY / (2 * room) if room else 0.0
        return found


def _as_rounded(off: float, half: float) -> float:
    """How likely a number so far off is where it was rounded or cut to this half of a unit."""
    if off <= half * (1 + 1e-9):
        return ROUNDED / (2 * half)
    return CUT / (2 * half) if off <= 2 * half else 0.0


def typed_number(
    number: float, digits: int, signless: bool = False, end_zeros: int = 0, asked: int = 3
) -> Typed:
    """A number that was typed with so many significant digits.

    Whoever types fewer digits than asked left zeros out, or rounded more than asked.

    end_zeros   so many of them are zeros that may only hold a place
    asked       so many digits the question asks for

    >>> typed_number(1380, 4, end_zeros=1).digits, typed_number(100, 3, end_zeros=2).digits
    (3, 3)
    >>> typed_number(2, 1).half, typed_number(2, 1).coarse
    (0.005, 0.5)
    """
    size = math.floor(math.log10(abs(number))) if number else 0
    sure = min(digits, max(asked, digits - end_zeros))
    half, coarse = (0.5 * 10.0 ** (size + 1 - count) for count in (max(digits, asked), sure))
    return Typed(number, half, coarse, sure, signless)


def background(typed: Typed, right: float) -> float:
    """How likely a number out of the blue, or one close to the right one, is this one."""
    size, goal = abs(typed.number), abs(right)
    if not size:
        return 0.0
    sure = typed.digits >= DIGITS_OF_SURETY
    found = (BACKGROUND if sure else BACKGROUND_OF_FEW_DIGITS) / (size * math.log(100))
    if not goal / 10 <= size <= 10 * goal:
        found *= OUTSIDE
    if goal and abs(typed.number - right) <= NEAR * goal:
        found += CLOSE / (2 * NEAR * goal)
    return found


def pen_slips(
    typed: Typed,
    right: float,
    keyed: Sequence[float],
    steps: Sequence[float],
) -> float:
    """How likely a slip of the pen on the way to the right number gives this one.

    keyed   the right answer with each given number mis-keyed
    steps   the right answer with each step cut to two digits
    """
    digits = digits_of(right, typed.digits)
    one_off, swapped = written_wrong(digits)
    found = _shared(typed, one_off, WRONG_DIGIT) + _shared(typed, swapped, SWAPPED)
    return found + _shared(typed, keyed, MIS_KEYED) + _shared(typed, steps, CUT_SHORT)


def mis_keyed(
    shown: Mapping[str, float], answer: Callable[[Mapping[str, float]], float]
) -> list[float]:
    """The answer with each given number in turn written down wrong."""
    keyed = []
    for name, number in shown.items():
        for row in written_wrong(digits_of(number, 6)):
            keyed += [answer({**shown, name: other}) for other in row]
    return keyed


def _shared(typed: Typed, values: Sequence[float], part: float) -> float:
    """The likelihood under several values that share a part alike."""
    if not values:
        return 0.0
    return part / len(values) * sum([typed.likelihood(values[at]) for at in typed.near(values)])


def digits_of(number: float, digits: int) -> tuple[str, float]:
    """The significant digits of a number without end zeros, and what the last one counts."""
    if not number or number != number:
        return "", 1.0
    mantissa, _, exponent = f"{number:.{digits - 1}e}".partition("e")
    whole = mantissa.replace(".", "")
    sign = -1.0 if whole.startswith("-") else 1.0
    whole = whole.lstrip("-")
    short = whole.rstrip("0") or "0"
    return short, sign * 10.0 ** (int(exponent) - len(short) + 1)


def written_wrong(number: tuple[str, float]) -> tuple[list[float], list[float]]:
    """A number with one digit wrong, and with two digits swapped that stand side by side."""
    digits, unit = number
    one_off = [
        int(digits[:at] + other + digits[at + 1 :]) * unit
        for at in range(len(digits))
        for other in "0123456789"
        if other != digits[at]
    ]
    swapped = [
        int(digits[:at] + digits[at + 1] + digits[at] + digits[at + 2 :]) * unit
        for at in range(len(digits) - 1)
        if digits[at] != digits[at + 1]
    ]
    return one_off, swapped


def claimed(weights: Sequence[float], against: float) -> tuple[int, ...]:
    """Which one or two hold half of everything; none where none do.

    weights     prior times likelihood of each wrong turn
    against     the same of all that is no wrong turn

    >>> claimed([0.1, 3.0, 0.2], 1.0), claimed([1.0, 1.0], 0.5), claimed([1.0, 1.0], 9.0)
    ((1,), (0, 1), ())
    """
    order = sorted((at for at, weight in enumerate(weights) if weight), key=lambda at: -weights[at])
    whole = sum(weights) + against
    first = order[:2]
    if not first or sum(weights[at] for at in first) < HALF * whole:
        return ()
    return tuple(at for at in first if weights[at] >= SECOND * weights[first[0]])
