"""The plus or minus of a number whose readings are not typed yet."""

import math
from functools import cache

from leverarm.numerals import Numeric
from leverarm.stage.recorder import most, root, where
from leverarm.uncertainty import Measured, from_half_width
from leverarm.uncertainty.distributions import blurred_factor, coverage_factor
from leverarm.uncertainty.measured import DOMINANT

COVERAGE = 0.95
# Largest ratio of the rest to the half-width at which one rectangle still sets the factor.
_FAR = math.sqrt((1 / DOMINANT - 1) / 3)
_TERMS = 52
_RECTANGULAR = from_half_width("", 1.0).shape


@cache
def _chebyshev() -> tuple[float, ...]:
    """The factor of a rectangle blurred by the rest, as a series in the ratio of both."""
    angles = [math.pi * (n + 0.5) / _TERMS for n in range(_TERMS)]
    values = [blurred_factor(COVERAGE, 1.0, _FAR * (math.cos(a) + 1) / 2) for a in angles]
    return tuple(
        (1 if k == 0 else 2)
        / _TERMS
        * math.fsum(y * math.cos(k * a) for y, a in zip(values, angles, strict=True))
        for k in range(_TERMS)
    )


def blurred(ratio: Numeric) -> Numeric:
    """:func:`.blurred_factor` for a half-width of one, by Clenshaw's sum of its series.

    Valid       ratio from 0 to the largest at which the rectangle still sets the factor
    Limits      within 1e-6 of the function it stands for

    >>> abs(blurred(0.5) - blurred_factor(0.95, 1.0, 0.5)) < 1e-6
    True
    """
    x = 2 * ratio / _FAR - 1
    first: Numeric = 0.0
    second: Numeric = 0.0
    terms = _chebyshev()
    for term in reversed(terms[1:]):
        first, second = 2 * x * first - second + term, first
    return x * first - second + terms[0]


def expanded(number: Measured) -> Numeric:
    """The ± of a Measured, as :meth:`.Measured.expanded`, where it may still be typed.

    Valid       all its sources known from before: infinite degrees of freedom

    >>> from leverarm.uncertainty import uncertain
    >>> abs(expanded(uncertain(1.0, 2.0)) - uncertain(1.0, 2.0).expanded()) < 1e-9
    True
    """
    square: Numeric = 0.0
    widest: Numeric = 0.0
    for source, slope in number.slopes.items():
        part = (slope * source.u) ** 2
        square = square + part
        if source.shape == _RECTANGULAR:
            widest = most(widest, part)

    def by_rectangle() -> Numeric:
        half = root(3 * widest)
        return blurred(root(most(square - widest, 0.0)) / half) * half

    usual = coverage_factor(COVERAGE, math.inf) * root(square)
    return where(widest <= DOMINANT * square, lambda: usual, by_rectangle)
