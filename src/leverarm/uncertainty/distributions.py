"""Student's t, chi-squared and F on the standard library: what a few repeats tell.

Letters: nu degrees of freedom (any number from 1 up, also infinity), p a probability.
"""

import math
from collections.abc import Iterable, Iterator
from functools import lru_cache
from statistics import NormalDist

_TINY = 1e-300
# From here on Student's t and the normal distribution differ by less than 3e-7, and sums of
# logarithms lose digits.
_AS_GOOD_AS_NORMAL = 1e7
_NORMAL = NormalDist()


def incomplete_beta(a: float, b: float, x: float) -> float:
    """Regularized incomplete beta function I_x(a, b), by its continued fraction.

    Valid       a, b > 0 and 0 <= x <= 1; relative error about 1e-13
    Source      Abramowitz & Stegun, 26.5.8

    >>> round(incomplete_beta(2, 3, 0.5), 12)
    0.6875
    """
    if not 0 < x < 1:
        return float(x >= 1)
    # The fraction converges fast on the near side of the mean; the far side is its complement.
    if x > (a + 1) / (a + b + 2):
        return 1 - incomplete_beta(b, a, 1 - x)
    front = math.exp(
        math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log1p(-x)
    )
    return front / a / _fraction(_beta_terms(a, b, x))


def _beta_terms(a: float, b: float, x: float) -> Iterator[float]:
    """The partial numerators of the fraction 1 + d1/(1 + d2/(1 + ...))."""
    for m in range(1000):
        if m:
            yield m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        yield -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))


def _fraction(terms: Iterable[float]) -> float:
    """1 + d1/(1 + d2/(1 + ...)), from the front, until another term changes nothing."""
    value = upper = 1.0
    lower = 0.0
    for d in terms:
        lower = 1 / ((1 + d * lower) or _TINY)
        upper = (1 + d / upper) or _TINY
        value *= upper * lower
        if abs(upper * lower - 1) < 1e-15:
            break
    return value


def t_cdf(t: float, nu: float) -> float:
    """Probability that Student's t with nu degrees of freedom is below t.

    >>> round(t_cdf(1.0, 1), 12)
    0.75
    """
    if nu > _AS_GOOD_AS_NORMAL:
        return _NORMAL.cdf(t)
    tail = incomplete_beta(nu / 2, 0.5, nu / (nu + t * t)) / 2
    return tail if t < 0 else 1 - tail


@lru_cache(maxsize=4096)
def coverage_factor(coverage: float, nu: float) -> float:
    """k such that a band of +/- k standard uncertainties holds the share ``coverage``.

    Equation    t_cdf(k, nu) = (1 + coverage)/2
    nu          effective degrees of freedom, not truncated; infinity gives the normal k
    Source      GUM (JCGM 100:2008) G.3 and table G.2

    >>> round(coverage_factor(0.95, 5), 2), round(coverage_factor(0.95, math.inf), 3)
    (2.57, 1.96)
    """
    if math.isnan(nu):
        return math.nan
    target = (1 + coverage) / 2
    k = _NORMAL.inv_cdf(target)
    if nu > _AS_GOOD_AS_NORMAL:
        return k
    # Right of zero the curve bends down, so Newton's steps from the normal k only rise to the root.
    for _ in range(100):
        step = (target - t_cdf(k, nu)) / _t_density(k, nu)
        k += step
        if abs(step) < 1e-12 * k:
            break
    return k


def blurred_factor(coverage: float, half_width: float, sigma: float) -> float:
    """Half the interval that holds this share of a rectangle plus a normal error, in half-widths.

    Equation    P(|X| < x) = s/a [G((x + a)/s) - G((x - a)/s)] - 1, G(z) = z Phi(z) + phi(z)
    half_width  a, of the rectangle;  sigma  s, of the normal error
    Limits      the coverage itself for s = 0 (0.95 a); 1.96 s/a where s is much larger than a
    Source      convolution of both densities; JCGM 101:2008 treats such sums by simulation

    >>> round(blurred_factor(0.95, 1.0, 0.0), 3), round(blurred_factor(0.95, 1.0, 10.0), 1)
    (0.95, 19.6)
    """
    if not sigma:
        return coverage
    low, high = 0.0, 1 + 6 * sigma / half_width
    for _ in range(60):
        middle = (low + high) / 2
        if _within(middle * half_width, half_width, sigma) < coverage:
            low = middle
        else:
            high = middle
    return high


def _within(x: float, a: float, s: float) -> float:
    """P(|X| < x) of a rectangle of half-width a plus a normal error s."""

    def G(z: float) -> float:  # the integral of the normal distribution function
        phi = math.exp(-z * z / 2) / math.sqrt(2 * math.pi)
        return z * (1 + math.erf(z / math.sqrt(2))) / 2 + phi

    upper = s / (2 * a) * (G((x + a) / s) - G((x - a) / s))
    return 2 * upper - 1


def _t_density(t: float, nu: float) -> float:
    """Probability density of Student's t."""
    log = math.lgamma((nu + 1) / 2) - math.lgamma(nu / 2) - (nu + 1) / 2 * math.log1p(t * t / nu)
    return math.exp(log) / math.sqrt(nu * math.pi)


def chi_squared_sf(x: float, nu: int) -> float:
    """Probability that chi-squared with nu (a whole number) degrees of freedom exceeds x.

    Equation    Q(a + 1) = Q(a) + h^a e^-h / Gamma(a + 1), with h = x/2 and a = nu/2
    Source      Abramowitz & Stegun, 26.4.4 to 26.4.8

    >>> round(chi_squared_sf(3.841, 1), 3), round(chi_squared_sf(9.488, 4), 3)
    (0.05, 0.05)
    """
    if x <= 0:
        return 1.0
    h, a = x / 2, 0.5 if nu % 2 else 1.0
    total = math.erfc(math.sqrt(h)) if nu % 2 else math.exp(-h)
    while a < nu / 2:
        total += math.exp(a * math.log(h) - h - math.lgamma(a + 1))
        a += 1
    return min(total, 1.0)


def f_sf(f: float, nu1: float, nu2: float) -> float:
    """Probability that F with nu1 and nu2 degrees of freedom exceeds f.

    >>> round(f_sf(5.786, 2, 5), 3)
    0.05
    """
    return incomplete_beta(nu2 / 2, nu1 / 2, nu2 / (nu2 + nu1 * f)) if f > 0 else 1.0
