"""What two rounds of a test tell: the gain of a class with its ±, and each question's figures.

Letters, the same throughout: n students, k questions, x a student's right answers out of k;
pre and post the percent right before and after; p the share of right answers to a question.
Every figure is a number of the standard library's arithmetic, or None where there is none.

The ± of a gain speaks of students like these.  Somebody who asks only about these very students on
these very questions has less to allow for, so it is never too narrow for that.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import correlation, fmean, pvariance

from leverarm.uncertainty.distributions import coverage_factor, f_sf

COVERAGE = 0.95
FULL = 100.0


def normalized_gain(pre: float, post: float) -> float:
    """The share of what could still be gained that was gained.

    Equation    g = (post - pre)/(100 - pre)
    pre, post   mean percent right of the class before and after, the same students
    Sign        negative where the class lost
    Valid       for a class, not for one student; pre < 100, and well below it
    Errors      ZeroDivisionError where pre is 100: nothing was left to gain
    Source      Hake (1998), American Journal of Physics 66, 64-74

    >>> normalized_gain(40, 70)
    0.5
    """
    return (post - pre) / (FULL - pre)


@dataclass(frozen=True)
class Gain:
    """The normalized gain of a class and the interval that holds it 95 times in 100.

    pairs       students with both rounds
    pre, post   their mean percent right
    gain        the normalized gain; low, high  the ends of its interval, None where it has none
    """

    pairs: int
    pre: float
    post: float
    gain: float | None
    low: float | None = None
    high: float | None = None

    @property
    def plus_minus(self) -> float | None:
        """The ± to state beside the gain: half the interval."""
        return None if self.low is None or self.high is None else (self.high - self.low) / 2


def class_gain(pairs: Sequence[tuple[float, float]]) -> Gain:
    """The Gain of a class from each student's percent before and after.

    Equation    every g with |mean(d) - g mean(r)| <= t sqrt(var(d - g r)/n), where d is a student's
                after minus before and r is 100 minus before; t is Student's with n - 1
    Valid       students answer for themselves; from 2 pairs.  The interval is not symmetric near
                full marks.  There is none where the room left to gain, mean(r), is not clear of
                zero, nor where all gained the same share of it.  On simulated classes of 5 to
                300 students it held the true gain 92.8 to 97.8 times in 100
                (tests/bench/bench_concept_check.py)
    Errors      ValueError where there is no pair
    Source      Fieller (1954), Journal of the Royal Statistical Society B 16, 175-185: the ratio of
                two means that move together

    >>> found = class_gain([(25, 50), (50, 75), (50, 50), (25, 75)])
    >>> round(found.gain, 3), round(found.low, 2), round(found.high, 2)
    (0.4, -0.16, 0.78)
    """
    if not pairs:
        raise ValueError("a gain needs at least one pair")
    n = len(pairs)
    d = [post - pre for pre, post in pairs]
    r = [FULL - pre for pre, _ in pairs]
    mean_d, mean_r = fmean(d), fmean(r)
    pre, post = FULL - mean_r, FULL - mean_r + mean_d
    if mean_r <= 0:
        return Gain(n, pre, post, None)
    gain = normalized_gain(pre, post)
    if n < 2:
        return Gain(n, pre, post, gain)
    c = coverage_factor(COVERAGE, n - 1) ** 2 / n
    ends = _quadratic(
        mean_r**2 - c * _covariance(r, r),
        mean_d * mean_r - c * _covariance(d, r),
        mean_d**2 - c * _covariance(d, d),
    )
    return Gain(n, pre, post, gain, *(ends or (None, None)))


def _covariance(one: Sequence[float], other: Sequence[float]) -> float:
    """Covariance of a sample, divided by n - 1."""
    mean_one, mean_other = fmean(one), fmean(other)
    return sum((a - mean_one) * (b - mean_other) for a, b in zip(one, other)) / (len(one) - 1)


def _quadratic(a: float, b: float, c: float) -> tuple[float, float] | None:
    """Where a g^2 - 2 b g + c is at most zero: (low, high), or None where that has no two ends."""
    inside = b * b - a * c
    # Rounding leaves a trace where all students gained alike, and that tells no ±.
    if a <= 0 or inside <= 1e-12 * b * b:
        return None
    half = math.sqrt(inside)
    return (b - half) / a, (b + half) / a


# Questions ---------------------------------------------------------------------------------


def facility(right: Sequence[bool]) -> float:
    """The share of students who answered a question right.

    Equation    p = right/n
    Valid       from one student; a blank counts as not right
    Source      common practice in test analysis

    >>> facility([True, True, False, False])
    0.5
    """
    return fmean(right)


def share_interval(right: int, n: int) -> tuple[float, float]:
    """The interval of a share: what the share in a great many such students may be.

    Equation    every q with |p - q| <= z sqrt(q(1 - q)/n)
    Valid       any n from 1 up, also where none or all are right
    Source      Wilson (1927), Journal of the American Statistical Association 22, 209-212

    >>> tuple(round(end, 3) for end in share_interval(15, 20))
    (0.531, 0.888)
    """
    z = coverage_factor(COVERAGE, math.inf)
    p, w = right / n, z * z / n
    middle, half = p + w / 2, z * math.sqrt(p * (1 - p) / n + w / (4 * n))
    return (middle - half) / (1 + w), (middle + half) / (1 + w)


def discrimination(right: Sequence[bool], rest: Sequence[float]) -> float | None:
    """How far those who have a question right do better in the others, -1 to 1.

    Equation    the correlation of 0 or 1 with the rest score x - (0 or 1)
    right       who had this question right;  rest  each student's right answers to the others
    Sign        negative where the weaker half has it right more often: look for a second answer
    Valid       None where everybody or nobody had it right, or all others are alike; it takes 100
                to 200 students before one question can be judged by it
    Source      the corrected item-total correlation, common practice in test analysis

    >>> round(discrimination([True, True, False, False], [9, 7, 4, 6]), 2)
    0.83
    """
    if len(set(right)) < 2 or len(set(rest)) < 2:
        return None
    return correlation([float(one) for one in right], list(map(float, rest)))


def kr20(sheets: Sequence[Sequence[bool]]) -> float | None:
    """How far the questions agree on who did well: reliability by Kuder and Richardson.

    Equation    KR-20 = k/(k - 1) (1 - sum p(1 - p)/var(x)), var(x) divided by n
    sheets      a row a student, True where right
    Sign        at most 1; below zero where questions pull against each other
    Valid       questions right or wrong, all students answered the same ones, k and n from 2 up;
                None where all scores are alike
    Source      Kuder and Richardson (1937), Psychometrika 2, 151-160

    >>> round(kr20([(1, 1, 1), (1, 1, 0), (1, 0, 0), (0, 0, 0)]), 2)
    0.75
    """
    k = len(sheets[0]) if sheets else 0
    if k < 2 or len(sheets) < 2:
        return None
    spread = pvariance([float(sum(row)) for row in sheets])
    if not spread:
        return None
    shares = [fmean(column) for column in zip(*sheets)]
    return k / (k - 1) * (1 - sum(p * (1 - p) for p in shares) / spread)


def kr20_interval(value: float, n: int, k: int) -> tuple[float, float] | None:
    """The interval of KR-20, 95 times in 100.

    Equation    1 - (1 - KR-20) F(upper), 1 - (1 - KR-20) F(lower), F of n - 1 and (n - 1)(k - 1)
    Valid       students drawn at random, n and k from 2 up; None for fewer
    Source      Feldt (1965), Psychometrika 30, 357-370

    >>> tuple(round(end, 2) for end in kr20_interval(0.70, 50, 12))
    (0.56, 0.81)
    """
    if n < 2 or k < 2:
        return None
    tail, nu = (1 - COVERAGE) / 2, (n - 1, (n - 1) * (k - 1))
    low, high = f_quantile(1 - tail, *nu), f_quantile(tail, *nu)
    return 1 - (1 - value) * low, 1 - (1 - value) * high


def f_quantile(probability: float, nu1: float, nu2: float) -> float:
    """The F that is not exceeded with this probability, by halving.

    Equation    1 - f_sf(F, nu1, nu2) = probability

    >>> round(f_quantile(0.95, 2, 5), 2)
    5.79
    """
    low, high = 0.0, 1.0
    while f_sf(high, nu1, nu2) > 1 - probability:
        high *= 2
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if f_sf(middle, nu1, nu2) > 1 - probability else (low, middle)
    return high
