"""Numbers that know what they depend on: the law of propagation of uncertainty.

A :class:`Source` is one cause of error: how large it is, and how well that is known.
Two numbers that share a Source are correlated through it: one pair of scales is one
zero and one gain, met again in every reading.

A :class:`Measured` is a value and, for each Source, a slope: how much the value moves
per unit of that error.  Arithmetic carries the slopes along by the rules of
differentiation, so a formula of :mod:`leverarm.statics` run on Measured numbers gives
its own sensitivities, exact to first order, and what two inputs share stays shared.

>>> zero = Source("zero of the scale", 2.0)
>>> before, after = Measured(600, {zero: 1}), Measured(790, {zero: 1})
>>> (after - before).u, (after + before).u
(0.0, 4.0)
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from leverarm.numerals import Numeric
from leverarm.quantities import KINDS, Refusal, show_number, to_unit, unit_of
from leverarm.uncertainty.distributions import blurred_factor, coverage_factor

# How each shape's half-width becomes a standard uncertainty (GUM 4.3.7 and 4.3.9).
DIVISORS = {"rectangular": math.sqrt(3), "triangular": math.sqrt(6)}
# From this share of a variance on, a single rectangle shows in the tails of the sum.
DOMINANT = 0.2


@dataclass(frozen=True, eq=False)
class Source:
    """One independent cause of error.

    name    what to call it in a budget
    u       standard uncertainty, in the unit of what it disturbs
    dof     degrees of freedom behind u; infinite where u is known
    cause   the group an improvement acts on: scatter, graduation, zero, gain, tape, tilt, stated
    shape   how errors are spread: normal, rectangular or triangular
    pool    sources whose u come from one and the same estimate share this mark
    count   how many readings the mean it belongs to holds
    """

    name: str
    u: float
    dof: float = math.inf
    cause: str = "stated"
    shape: str = "normal"
    pool: object = None
    count: int = 1


def from_half_width(
    name: str, half_width: float, *, cause: str = "stated", shape: str = "rectangular"
) -> Source:
    """A stated limit of error: +/- half_width, all values in it alike (or a triangle).

    Equation    u = half_width/sqrt(3), or /sqrt(6) for a triangle
    Source      GUM 4.3.7, 4.3.9

    >>> round(from_half_width("scale", 3.0).u, 3)
    1.732
    """
    return Source(name, half_width / DIVISORS[shape], cause=cause, shape=shape)


def from_graduation(name: str, step: float) -> Source:
    """A display that moves in steps: the truth lies within half a step.

    Equation    u = d/sqrt(12)
    Source      GUM F.2.2.1

    >>> round(from_graduation("display", 1.0).u, 4)
    0.2887
    """
    return from_half_width(name, step / 2, cause="graduation")


def from_expanded(name: str, expanded: float, k: float = 2.0) -> Source:
    """A certificate's +/- U with its coverage factor k: u = U/k.  Source: GUM 4.3.3.

    >>> from_expanded("certificate", 0.5).u
    0.25
    """
    return Source(name, expanded / k)


def scatter(*groups: Sequence[float]) -> tuple[float, int]:
    """Standard deviation of one reading, pooled over groups of repeats, and its degrees of freedom.

    Equation    s^2 = sum (x - mean of its group)^2 / nu, nu = sum (n - 1)
    groups      sequences of repeats of one thing each; a group of one adds nothing
    Source      GUM 4.2.2 and 4.2.4 (pooled)
    Errors      Refusal where nothing was repeated

    >>> s, nu = scatter([600, 602, 601], [790, 791])
    >>> round(s, 3), nu
    (0.913, 3)
    """
    nu = sum(len(group) - 1 for group in groups)
    if nu < 1:
        raise Refusal(
            "repeats",
            "no reading twice",
            "two or more readings of the same thing",
            "weigh it again",
        )
    squares = 0.0
    for group in groups:
        middle = mean(group)
        squares += math.fsum((x - middle) ** 2 for x in group)
    return math.sqrt(squares / nu), nu


def mean(values: Sequence[float]) -> float:
    """Arithmetic mean, summed without loss."""
    return math.fsum(values) / len(values)


def from_repeats(name: str, values: Sequence[float]) -> Source:
    """Repeats of one reading: u is the standard deviation of their mean.

    Equation    u = s/sqrt(n), dof = n - 1
    Source      GUM 4.2.3
    The scatter already holds the rounding of the display; add none.

    >>> source = from_repeats("front", [600, 602, 601, 603, 599])
    >>> round(source.u, 3), source.dof
    (0.707, 4)
    """
    s, nu = scatter(values)
    return Source(name, s / math.sqrt(len(values)), nu, cause="scatter", count=len(values))


@dataclass(frozen=True)
class BudgetLine:
    """One line of an uncertainty budget.

    source, slope   a cause of error, and the change of the value per unit of it
    contribution    abs(slope) times the source's u
    percent         its share of u squared
    """

    source: Source
    slope: float
    contribution: float
    percent: float


class Measured:
    """A value with its sources of error.  Behaves as a number in + - * / and **.

    value   the estimate
    slopes  {Source: change of the value per unit of that error}
    """

    __slots__ = ("slopes", "value")
    __array_ufunc__ = None  # numpy scalars leave the arithmetic to us

    def __init__(self, value: float, slopes: Mapping[Source, float] | None = None) -> None:
        # A quantity recorded for the page stays one.
        self.value = value if hasattr(value, "as_words") else float(value)
        self.slopes = dict(slopes or {})

    @property
    def u(self) -> float:
        """Combined standard uncertainty.  Equation u^2 = sum (slope u_i)^2; GUM 5.1.2."""
        return math.sqrt(
            math.fsum((slope * source.u) ** 2 for source, slope in self.slopes.items())
        )

    @property
    def dof(self) -> float:
        """Effective degrees of freedom, not truncated.

        Equation    nu = u^4 / sum (u_i^4/nu_i), Welch and Satterthwaite
        Source      GUM G.4.1; sources that share one estimated scatter are taken together
        """
        pools: dict[tuple[object, float], float] = defaultdict(float)
        for source, slope in self.slopes.items():
            if math.isfinite(source.dof):
                pools[source.pool or source, source.dof] += (slope * source.u) ** 2
        below = math.fsum(square**2 / dof for (_, dof), square in pools.items())
        return self.u**4 / below if below else math.inf

    def k(self, coverage: float = 0.95) -> float:
        """Coverage factor of this number: Student's t for its degrees of freedom.

        Where one stated limit makes up most of u, errors never pass it, and t would claim too much:
        then the factor of a rectangle blurred by the rest (:func:`.blurred_factor`).
        """
        widest, square = 0.0, self.u**2
        for source, slope in self.slopes.items():
            if source.shape == "rectangular":
                widest = max(widest, (slope * source.u) ** 2)
        if widest < DOMINANT * square or not square:
            return coverage_factor(coverage, self.dof)
        rest = math.sqrt(max(0.0, square - widest))
        # The rectangle is known; what few readings leave unsure is the rest alone.
        dof = self.dof * (rest**2 / square) ** 2 if rest else math.inf
        t_over_z = coverage_factor(coverage, max(1.0, dof)) / coverage_factor(coverage, math.inf)
        half = math.sqrt(3 * widest)
        return blurred_factor(coverage, half, rest * t_over_z) * half / self.u

    def expanded(self, coverage: float = 0.95) -> float:
        """Expanded uncertainty U = k u: the +/- to print, with its coverage said beside it."""
        return self.k(coverage) * self.u

    def interval(self, coverage: float = 0.95) -> tuple[float, float]:
        """(low, high) that should hold the true value in the share ``coverage`` of cases."""
        U = self.expanded(coverage)
        return self.value - U, self.value + U

    def budget(self) -> tuple[BudgetLine, ...]:
        """Where the uncertainty comes from, the largest contribution first."""
        square = self.u**2
        parts = [
            BudgetLine(
                source,
                slope,
                abs(slope) * source.u,
                100 * (slope * source.u) ** 2 / square if square else 0.0,
            )
            for source, slope in self.slopes.items()
        ]
        return tuple(sorted(parts, key=lambda part: -part.contribution))

    def covariance(self, other: Measured) -> float:
        """What two numbers share, through their common sources.

        Equation    cov = sum slope slope' u^2
        Source      GUM 5.2, F.1.2.3
        """
        return math.fsum(
            slope * other.slopes.get(source, 0.0) * source.u**2
            for source, slope in self.slopes.items()
        )

    def correlation(self, other: Measured) -> float:
        """Correlation coefficient of two numbers, -1 to 1; 0 where either is exact."""
        both = self.u * other.u
        return self.covariance(other) / both if both else 0.0

    def changed(self, **changes: Callable[[Source], dict[str, Any]]) -> Measured:
        """The same number with some sources changed: changed(tape=lambda s: {"u": s.u / 2})."""
        return Measured(
            self.value,
            {
                replace(s, **changes[s.cause](s)) if s.cause in changes else s: slope
                for s, slope in self.slopes.items()
            },
        )

    def __add__(self, other: Numeric) -> Measured:
        return combine(self.value + value_of(other), (1, self), (1, other))

    def __sub__(self, other: Numeric) -> Measured:
        return combine(self.value - value_of(other), (1, self), (-1, other))

    def __rsub__(self, other: Numeric) -> Measured:
        return combine(value_of(other) - self.value, (-1, self))

    def __mul__(self, other: Numeric) -> Measured:
        return combine(self.value * value_of(other), (value_of(other), self), (self.value, other))

    def __truediv__(self, other: Numeric) -> Measured:
        ratio = self.value / value_of(other)
        return combine(ratio, (1 / value_of(other), self), (-ratio / value_of(other), other))

    def __rtruediv__(self, other: Numeric) -> Measured:
        ratio = value_of(other) / self.value
        return combine(ratio, (-ratio / self.value, self))

    def __pow__(self, exponent: float) -> Measured:
        return combine(self.value**exponent, (exponent * self.value ** (exponent - 1), self))

    __radd__, __rmul__ = __add__, __mul__

    def __neg__(self) -> Measured:
        return combine(-self.value, (-1, self))

    def __abs__(self) -> Measured:
        return self if self.value >= 0 else -self

    def __float__(self) -> float:
        return self.value

    def __repr__(self) -> str:
        return f"Measured({self.value:.6g}, u={self.u:.3g})"


def value_of(number: Numeric) -> Numeric:
    """The plain value of a Measured or an exact number."""
    return number.value if isinstance(number, Measured) else number


def combine(value: float, *terms: tuple[float, Numeric]) -> Measured:
    """A result with known slopes on its inputs: the law of propagation, written once.

    value   the result, worked out from the inputs' values
    terms   pairs (slope, input); an exact number as input adds nothing
    Equation    slope on a source = sum over inputs (slope on the input)(its slope on the source)
    Source      GUM 5.1.2 and 5.2.2; inputs that share sources are correlated

    >>> length = combine(3.0, (2.0, Measured(1.0, {Source("ruler", 0.1): 1.0})), (1.0, 1.0))
    >>> length.u
    0.2
    """
    slopes: dict[Source, float] = defaultdict(float)
    for outer, number in terms:
        if isinstance(number, Measured):
            for source, slope in number.slopes.items():
                slopes[source] += outer * slope
    return Measured(value, slopes)


def uncertain(value: float, u: float, name: str = "stated value", **about: Any) -> Measured:
    """A number with one source of error of its own: uncertain(1.65, 0.003, cause="tape").

    >>> uncertain(1.65, 0.003).u
    0.003
    """
    return Measured(value, {Source(name, u, **about): 1.0})


def correlated(
    values: Sequence[float], us: Sequence[float], r: Sequence[Sequence[float]]
) -> tuple[Measured, ...]:
    """Inputs with known correlation coefficients, as Measured numbers that share hidden sources.

    values, us  estimates and standard uncertainties; r  their correlation matrix, rows of numbers
    Equation    r = C C^T with C lower triangular (Cholesky); input i = value + u_i sum C_ij e_j
    Source      GUM 5.2.2; H.2 is a published case
    Errors      ValueError where r is no correlation matrix

    >>> x, y = correlated([1.0, 2.0], [0.1, 0.2], [[1, -0.5], [-0.5, 1]])
    >>> round(x.correlation(y), 12), round((x + y).u, 4)
    (-0.5, 0.1732)
    """
    hidden = [Source(f"input {i + 1}, its own", 1.0) for i in range(len(values))]
    return tuple(
        Measured(value, {hidden[j]: u * c for j, c in enumerate(row) if c})
        for value, u, row in zip(values, us, _cholesky(r), strict=True)
    )


def _cholesky(r: Sequence[Sequence[float]]) -> list[list[float]]:
    """Lower triangular C with C C^T = r."""
    rows: list[list[float]] = []
    for i, line in enumerate(r):
        row: list[float] = []
        for j in range(i):
            row.append(
                (line[j] - math.fsum(a * b for a, b in zip(row, rows[j][:j]))) / (rows[j][j] or 1.0)
            )
        left = line[i] - math.fsum(c * c for c in row)
        if left < -1e-9 or abs(line[i] - 1) > 1e-9:
            raise ValueError(
                "r: not a correlation matrix; give ones on the diagonal "
                "and coefficients that can all hold at once"
            )
        rows.append([*row, math.sqrt(max(left, 0.0))])
    return rows


def places_for(U: float) -> int:
    """Decimal places at which U keeps two figures.  Source: GUM 7.2.6.

    >>> places_for(4.21), places_for(0.0312), places_for(153.0)
    (1, 3, 0)
    """
    return max(0, 1 - math.floor(math.log10(abs(U)))) if U and math.isfinite(U) else 2


def rounded(value: float, U: float) -> tuple[str, str]:
    """Value and U as text, rounded at the same place.

    >>> rounded(110.2, 4.21), rounded(1.2044, 0.0312)
    (('110.2', '4.2'), ('1.204', '0.031'))
    """
    places = places_for(U)
    return show_number(value, places), show_number(U, places)


def plus_minus(
    number: Measured, kind: str, system: str | None = None, *, brief: bool = False
) -> str:
    """A Measured as text with its expanded uncertainty and what that means.

    kind, system    as for :func:`leverarm.quantities.show`
    brief           True leaves out coverage and k, for a sentence that says them once

    >>> plus_minus(uncertain(110.2, 2.1), "weight", "kg")
    '110.2 ± 4.1 kg (95 %, k = 1.96)'
    """
    unit = unit_of(kind, system)
    value, U = (to_unit(x, kind, unit) for x in (number.value, number.expanded()))
    if math.isnan(U):
        return f"{show_number(value, KINDS[kind].decimals[unit])} {unit} (± not known)"
    middle, half = rounded(value, U)
    return f"{middle} ± {half} {unit}" + ("" if brief else f" (95 %, k = {number.k():.2f})")
