"""Numbers that know what they depend on: the law of propagation of uncertainty.

A :class:`Measured` is a value and, for each :class:`~leverarm.uncertainty.sources.Source`
of error, a slope: how much the value moves per unit of that error.  Arithmetic
carries the slopes along by the rules of differentiation, so a formula of
:mod:`leverarm.statics` run on Measured numbers gives its own sensitivities, exact
to first order, and what two inputs share stays shared.

>>> from leverarm.uncertainty.sources import Source
>>> zero = Source("zero of the scale", 2.0)
>>> before, after = Measured(600, {zero: 1}), Measured(790, {zero: 1})
>>> (after - before).u, (after + before).u
(0.0, 4.0)
"""

import math
from collections import defaultdict
from dataclasses import dataclass, replace

from leverarm.uncertainty.chances import coverage_factor
from leverarm.uncertainty.sources import Source


@dataclass(frozen=True)
class Part:
    """One line of an uncertainty budget: the source, its slope, what it contributes, its share in percent of u squared."""

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

    def __init__(self, value, slopes=()):
        self.value, self.slopes = float(value), dict(slopes)

    @property
    def u(self):
        """Combined standard uncertainty.  Equation u^2 = sum (slope u_i)^2; GUM 5.1.2."""
        return math.sqrt(
            math.fsum((slope * source.u) ** 2 for source, slope in self.slopes.items())
        )

    @property
    def dof(self):
        """Effective degrees of freedom, not truncated.

        Equation    nu = u^4 / sum (u_i^4/nu_i), Welch and Satterthwaite
        Source      GUM G.4.1; sources that share one estimated scatter are taken together
        """
        pools = defaultdict(float)
        for source, slope in self.slopes.items():
            if math.isfinite(source.dof):
                pools[source.pool or source, source.dof] += (slope * source.u) ** 2
        below = math.fsum(square**2 / dof for (_, dof), square in pools.items())
        return self.u**4 / below if below else math.inf

    def k(self, coverage=0.95):
        """Coverage factor of this number: Student's t for its degrees of freedom."""
        return coverage_factor(coverage, self.dof)

    def expanded(self, coverage=0.95):
        """Expanded uncertainty U = k u: the +/- to print, with its coverage said beside it."""
        return self.k(coverage) * self.u

    def interval(self, coverage=0.95):
        """(low, high) that should hold the truth in the share ``coverage`` of cases."""
        U = self.expanded(coverage)
        return self.value - U, self.value + U

    def budget(self):
        """Parts, the largest first: where the uncertainty comes from."""
        square = self.u**2
        parts = [
            Part(
                source,
                slope,
                abs(slope) * source.u,
                100 * (slope * source.u) ** 2 / square if square else 0.0,
            )
            for source, slope in self.slopes.items()
        ]
        return tuple(sorted(parts, key=lambda part: -part.contribution))

    def covariance(self, other):
        """What two numbers share, through their common sources.  Equation sum slope slope' u^2; GUM 5.2, F.1.2.3."""
        return math.fsum(
            slope * other.slopes.get(source, 0.0) * source.u**2
            for source, slope in self.slopes.items()
        )

    def correlation(self, other):
        """Correlation coefficient of two numbers, -1 to 1; 0 where either is exact."""
        both = self.u * other.u
        return self.covariance(other) / both if both else 0.0

    def changed(self, **changes):
        """The same number with its sources changed: changed(tape=lambda s: {"u": s.u/2}), by cause."""
        return Measured(
            self.value,
            {
                replace(s, **changes[s.cause](s)) if s.cause in changes else s: slope
                for s, slope in self.slopes.items()
            },
        )

    def __add__(self, other):
        return combine(self.value + value_of(other), (1, self), (1, other))

    def __sub__(self, other):
        return combine(self.value - value_of(other), (1, self), (-1, other))

    def __rsub__(self, other):
        return combine(value_of(other) - self.value, (-1, self))

    def __mul__(self, other):
        return combine(self.value * value_of(other), (value_of(other), self), (self.value, other))

    def __truediv__(self, other):
        ratio = self.value / value_of(other)
        return combine(ratio, (1 / value_of(other), self), (-ratio / value_of(other), other))

    def __rtruediv__(self, other):
        ratio = value_of(other) / self.value
        return combine(ratio, (-ratio / self.value, self))

    def __pow__(self, exponent):
        return combine(self.value**exponent, (exponent * self.value ** (exponent - 1), self))

    __radd__, __rmul__ = __add__, __mul__

    def __neg__(self):
        return combine(-self.value, (-1, self))

    def __float__(self):
        return self.value

    def __repr__(self):
        return f"Measured({self.value:.6g}, u={self.u:.3g})"


def value_of(number):
    """The plain value of a Measured or an exact number."""
    return number.value if isinstance(number, Measured) else number


def combine(value, *terms):
    """A result with known slopes on its inputs: the law of propagation, written once.

    value   the result, worked out from the inputs' values
    terms   pairs (slope, input); an exact number as input adds nothing
    Equation    slope on a source = sum over inputs (slope on the input)(its slope on the source)
    Source      GUM 5.1.2 and 5.2.2; inputs that share sources are correlated

    >>> length = combine(3.0, (2.0, Measured(1.0, {Source("ruler", 0.1): 1.0})), (1.0, 1.0))
    >>> length.u
    0.2
    """
    slopes = defaultdict(float)
    for outer, number in terms:
        if isinstance(number, Measured):
            for source, slope in number.slopes.items():
                slopes[source] += outer * slope
    return Measured(value, slopes)


def told(value, u, name="told", **about):
    """A number with one source of error of its own: told(1.65, 0.003, "wheelbase", cause="tape").

    >>> told(1.65, 0.003).u
    0.003
    """
    return Measured(value, {Source(name, u, **about): 1.0})


def correlated(values, us, r, names=None):
    """Inputs whose correlation coefficients were told, as Measured numbers that share hidden sources.

    values, us  estimates and standard uncertainties; r  their correlation matrix, rows of numbers
    Equation    r = C C^T with C lower triangular (Cholesky); input i = value + u_i sum C_ij e_j
    Source      GUM 5.2.2; H.2 is a published case
    Errors      ValueError where r is no correlation matrix

    >>> x, y = correlated([1.0, 2.0], [0.1, 0.2], [[1, -0.5], [-0.5, 1]])
    >>> round(x.correlation(y), 12), round((x + y).u, 4)
    (-0.5, 0.1732)
    """
    names = names or [f"input {i + 1}" for i in range(len(values))]
    hidden = [Source(f"{name}, its own", 1.0) for name in names]
    return tuple(
        Measured(value, {hidden[j]: u * c for j, c in enumerate(row) if c})
        for value, u, row in zip(values, us, _cholesky(r), strict=True)
    )


def _cholesky(r):
    """Lower triangular C with C C^T = r."""
    rows = []
    for i, line in enumerate(r):
        row = []
        for j in range(i):
            row.append(
                (line[j] - math.fsum(a * b for a, b in zip(row, rows[j][:j]))) / (rows[j][j] or 1.0)
            )
        left = line[i] - math.fsum(c * c for c in row)
        if left < -1e-9 or abs(line[i] - 1) > 1e-9:
            raise ValueError(
                "r: not a correlation matrix; give ones on the diagonal and coefficients that can all hold at once"
            )
        rows.append([*row, math.sqrt(max(left, 0.0))])
    return rows
