"""Monte Carlo: draw every error from its distribution and run the formula on the draws.

It needs no straight line, so it shows where the first-order law stops being good.
numpy draws a hundred thousand at once; without numpy the standard library draws
fewer, one by one.  Source: JCGM 101:2008, propagation of distributions.
"""

import math
import random
from dataclasses import dataclass

from leverarm.quantities import Refusal
from leverarm.uncertainty.measured import Measured
from leverarm.uncertainty.sources import DIVISORS

MOST_DRAWS = 2_000_000


@dataclass(frozen=True)
class Draws:
    """What came out, sorted, smallest first."""

    values: tuple

    @property
    def mean(self):
        """Average of the draws; a few far-out ones pull it where the formula divides by nearly nothing."""
        return math.fsum(self.values) / len(self.values)

    @property
    def median(self):
        """Half the draws lie below it."""
        return self.quantile(0.5)

    @property
    def u(self):
        """Standard deviation of the draws: their standard uncertainty."""
        middle = self.mean
        return math.sqrt(math.fsum((v - middle) ** 2 for v in self.values) / (len(self.values) - 1))

    def quantile(self, p):
        """The draw below which the share p of them lies."""
        return self.values[min(int(p * len(self.values)), len(self.values) - 1)]

    def interval(self, coverage=0.95):
        """(low, high) with equal tails outside.  Source: JCGM 101, 7.7."""
        return self.quantile((1 - coverage) / 2), self.quantile((1 + coverage) / 2)


def simulate(formula, *inputs, draws=100_000, seed=0):
    """The formula's result, drawn: a Draws.

    formula     plain arithmetic, as for :func:`~leverarm.uncertainty.derived.propagate`
    inputs      Measured or exact numbers; a source they share is drawn once for all
    A source with few degrees of freedom is drawn as Student's t (JCGM 101, 6.4.9).

    >>> from leverarm import statics
    >>> from leverarm.uncertainty.measured import told
    >>> many = simulate(statics.hung_weight, told(190, 2), told(-80, 2), draws=20_000)
    >>> abs(many.u - 8**0.5) < 0.1
    True
    """
    if not 2 <= draws <= MOST_DRAWS:
        raise Refusal("draws", draws, f"from 2 to {MOST_DRAWS}", "ask for fewer or more draws")
    numpy = _numpy()
    values = (
        _at_once(numpy, formula, inputs, draws, seed)
        if numpy
        else _one_by_one(formula, inputs, draws, seed)
    )
    return Draws(tuple(sorted(values)))


def _numpy():
    """numpy, or None where there is none."""
    try:
        import numpy
    except ImportError:
        return None
    return numpy


def _at_once(numpy, formula, inputs, draws, seed):
    """All draws as arrays."""
    rng = numpy.random.default_rng(seed)
    uniform = lambda: rng.uniform(-1.0, 1.0, draws)
    scales = {}

    def widen(source):
        key = source.pool or source
        if key not in scales:
            scales[key] = numpy.sqrt(source.dof / rng.chisquare(source.dof, draws))
        return scales[key]

    result = formula(*_drawn(inputs, uniform, lambda: rng.standard_normal(draws), widen))
    return numpy.broadcast_to(numpy.asarray(result, float), draws).tolist()


def _one_by_one(formula, inputs, draws, seed):
    """The same with the standard library."""
    rng = random.Random(seed)
    uniform = lambda: rng.uniform(-1.0, 1.0)
    for _ in range(draws):
        scales = {}

        def widen(source):
            key = source.pool or source
            if key not in scales:
                scales[key] = (source.dof / 2 / rng.gammavariate(source.dof / 2, 1.0)) ** 0.5
            return scales[key]

        yield formula(*_drawn(inputs, uniform, lambda: rng.gauss(0.0, 1.0), widen))


def _drawn(inputs, uniform, normal, widen):
    """The inputs with every source's error drawn once."""
    errors = {}
    for number in inputs:
        for source in getattr(number, "slopes", ()):
            if source not in errors:
                errors[source] = source.u * _unit_error(source, uniform, normal, widen)
    return [
        number.value + sum(slope * errors[source] for source, slope in number.slopes.items())
        if isinstance(number, Measured)
        else number
        for number in inputs
    ]


def _unit_error(source, uniform, normal, widen):
    """One error of unit standard uncertainty, in the source's shape."""
    if source.shape == "rectangular":
        return DIVISORS["rectangular"] * uniform()
    if source.shape == "triangular":
        return DIVISORS["triangular"] * (uniform() + uniform()) / 2
    return normal() * widen(source) if math.isfinite(source.dof) else normal()
