"""Monte Carlo: draw every error from its distribution and run the formula on the draws.

It needs no straight line, so it shows where the first-order law stops being good.
numpy draws a hundred thousand at once; without numpy the standard library draws
fewer, one by one.  Source: JCGM 101:2008, propagation of distributions.
"""

import math
import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

from leverarm.numerals import Numeric
from leverarm.quantities import Refusal
from leverarm.uncertainty.measured import DIVISORS, Measured, Source

MOST_DRAWS = 2_000_000

Draw: TypeAlias = Callable[[], Numeric]


@dataclass(frozen=True)
class Draws:
    """What came out, sorted, smallest first."""

    values: tuple[float, ...]

    @property
    def mean(self) -> float:
        """Average of the draws; a few extreme ones move it where a formula divides by nearly 0."""
        return math.fsum(self.values) / len(self.values)

    @property
    def median(self) -> float:
        """Half the draws lie below it."""
        return self.quantile(0.5)

    @property
    def u(self) -> float:
        """Standard deviation of the draws: their standard uncertainty."""
        middle = self.mean
        return math.sqrt(math.fsum((v - middle) ** 2 for v in self.values) / (len(self.values) - 1))

    def quantile(self, p: float) -> float:
        """The draw below which the share p of them lies."""
        return self.values[min(int(p * len(self.values)), len(self.values) - 1)]

    def interval(self, coverage: float = 0.95) -> tuple[float, float]:
        """(low, high) with equal tails outside.  Source: JCGM 101, 7.7."""
        return self.quantile((1 - coverage) / 2), self.quantile((1 + coverage) / 2)


def simulate(
    formula: Callable[..., Numeric], *inputs: Numeric, draws: int = 100_000, seed: int = 0
) -> Draws:
    """The formula's result, drawn: a Draws.

    formula     plain arithmetic, as for :func:`~leverarm.uncertainty.derived.propagate`
    inputs      Measured or exact numbers; a source they share is drawn once for all
    A source with few degrees of freedom is drawn as Student's t (JCGM 101, 6.4.9).

    >>> from leverarm import statics
    >>> from leverarm.uncertainty.measured import uncertain
    >>> many = simulate(statics.hung_weight, uncertain(190, 2), uncertain(-80, 2), draws=20_000)
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


def _numpy() -> Any:
    """numpy, or None where there is none."""
    try:
        import numpy
    except ImportError:
        return None
    return numpy


def _at_once(
    numpy: Any, formula: Callable[..., Numeric], inputs: Sequence[Numeric], draws: int, seed: int
) -> list[float]:
    """All draws as arrays."""
    rng = numpy.random.default_rng(seed)
    chance = _Chance(
        lambda: rng.uniform(-1.0, 1.0, draws),
        lambda: rng.standard_normal(draws),
        lambda dof: numpy.sqrt(dof / rng.chisquare(dof, draws)),
    )
    result = formula(*chance.drawn(inputs))
    return numpy.broadcast_to(numpy.asarray(result, float), draws).tolist()


def _one_by_one(
    formula: Callable[..., Numeric], inputs: Sequence[Numeric], draws: int, seed: int
) -> Iterator[float]:
    """The same with the standard library."""
    rng = random.Random(seed)
    ways = (
        lambda: rng.uniform(-1.0, 1.0),
        lambda: rng.gauss(0.0, 1.0),
        lambda dof: (dof / 2 / rng.gammavariate(dof / 2, 1.0)) ** 0.5,
    )
    for _ in range(draws):
        yield formula(*_Chance(*ways).drawn(inputs))


class _Chance:
    """One draw (or an array of draws) of every error.

    uniform     from -1 to 1;  normal  of unit standard deviation
    widening    by degrees of freedom: what turns a normal draw into Student's t
    """

    def __init__(self, uniform: Draw, normal: Draw, widening: Callable[[float], Numeric]) -> None:
        self.uniform, self.normal, self.widening = uniform, normal, widening
        self.scales: dict[object, Numeric] = {}
        self.errors: dict[Source, Numeric] = {}

    def drawn(self, inputs: Sequence[Numeric]) -> list[Numeric]:
        """The inputs with every source's error drawn once."""
        return [self._input(one) if isinstance(one, Measured) else one for one in inputs]

    def _input(self, number: Measured) -> Numeric:
        for source in number.slopes:
            if source not in self.errors:
                self.errors[source] = source.u * self._unit_error(source)
        return number.value + sum(
            slope * self.errors[source] for source, slope in number.slopes.items()
        )

    def _unit_error(self, source: Source) -> Numeric:
        """One error of unit standard uncertainty, in the source's shape."""
        if source.shape == "rectangular":
            return DIVISORS["rectangular"] * self.uniform()
        if source.shape == "triangular":
            return DIVISORS["triangular"] * (self.uniform() + self.uniform()) / 2
        if math.isinf(source.dof):
            return self.normal()
        # Sources of one pool share one estimated scatter, so they widen together.
        pool = source.pool or source
        normal = self.normal()
        if pool not in self.scales:
            self.scales[pool] = self.widening(source.dof)
        return normal * self.scales[pool]
