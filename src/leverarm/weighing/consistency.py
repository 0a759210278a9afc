"""Whether set-ups agree: what a fit leaves over, reading by reading, judged by chi-squared."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from leverarm.quantities import show_number
from leverarm.uncertainty import chi_squared_sf, f_sf, mean

# Where a result this unlikely would come by chance, the readings are said to disagree.
UNLIKELY = 0.05
NOTHING_LEFT = 1e-9
# "Would have been found" means in this share of weigh days.
SEEN = 0.8


@dataclass(frozen=True)
class Residual:
    """One reading against the fit.

    left            reading minus fitted, kg
    standardized    left over its own standard uncertainty; None where nothing else measures this
                    reading
    """

    setup: str
    axle: str
    number: int
    reading_kg: float
    fitted_kg: float
    standardized: float | None

    @property
    def left_kg(self) -> float:
        """Reading minus fitted."""
        return self.reading_kg - self.fitted_kg

    @property
    def name(self) -> str:
        """Which reading, in words."""
        return f"{self.axle} reading {self.number} of {self.setup}"


@dataclass(frozen=True)
class Consistency:
    """The chi-squared test of the set-ups against each other.

    kind        "redundant" (set-ups check each other), "repeated" (only repeats are left over)
                or "none"
    chance      probability of a chi-squared at least this large if the stated errors are all
                there are; None if unknown
    groups, scatter_dof     what was tested
    """

    kind: str
    chi_squared: float
    dof: int
    chance: float | None
    words: str
    groups: tuple[Group, ...] = ()
    scatter_dof: float = math.inf

    @property
    def sees_kg(self) -> float | None:
        """An error of this size in one reading would be found four times in five; None where
        nothing checks a reading.
        """
        if self.kind != "redundant" or self.chance is None:
            return None
        return _smallest_seen(self.groups, self.dof, self.scatter_dof)


@dataclass(frozen=True)
class Group:
    """The readings of one set-up on one axle, against the fit.

    u           standard uncertainty of their mean
    effective   how many readings the mean counts as: repeats all rounded alike count as one
    leverage    pull of the mean on its own fitted value, 0 to 1
    """

    setup: str
    axle: str
    readings: tuple[float, ...]
    fitted: float
    u: float
    effective: int
    leverage: float

    @property
    def chi_squared(self) -> float:
        """Square of the mean's distance from the fit, in its own standard uncertainties."""
        return ((mean(self.readings) - self.fitted) / self.u) ** 2

    @property
    def scatter_chi_squared(self) -> float:
        """The same for each reading about their mean."""
        middle = mean(self.readings)
        return sum((x - middle) ** 2 for x in self.readings) / (self.u**2 * self.effective)

    def residuals(self) -> list[Residual]:
        """A Residual for each reading.

        Its variance is n times that of the mean, less the part the fit takes from the reading.
        """
        variance = self.u**2 * (self.effective - self.leverage)
        spread = math.sqrt(variance) if variance > NOTHING_LEFT * self.u**2 else None
        return [
            Residual(
                self.setup,
                self.axle,
                i,
                x,
                self.fitted,
                (x - self.fitted) / spread if spread else None,
            )
            for i, x in enumerate(self.readings, 1)
        ]


def consistency_of(
    groups: list[Group], redundant: int, repeated: int, scatter_dof: float
) -> Consistency:
    """The Consistency of a fit.

    redundant, repeated     degrees of freedom from set-ups that check each other, and from repeats
    scatter_dof             behind the standard uncertainty of one reading; infinite where it is
                            known.  An estimated scatter turns the chi-squared test into an F test
    """
    if redundant > 0:
        total = sum(group.chi_squared for group in groups)
        chance = _chance(total, redundant, scatter_dof)
        said = _verdict(chance)
        return Consistency("redundant", total, redundant, chance, said, tuple(groups), scatter_dof)
    if repeated > 0:
        total = sum(group.scatter_chi_squared for group in groups)
        chance = _chance(total, repeated, scatter_dof) if math.isinf(scatter_dof) else None
        return Consistency(
            "repeated",
            total,
            repeated,
            chance,
            "Only repeats are left over. They say how far readings scatter, not whether the "
            "model fits. Weigh one more set-up to check that.",
        )
    return Consistency(
        "none",
        0.0,
        0,
        None,
        "Nothing is left over: each number was measured once, so nothing checks it.",
    )


def _chance(total: float, dof: int, scatter_dof: float) -> float | None:
    if not math.isfinite(total):
        return None
    return (
        chi_squared_sf(total, dof)
        if math.isinf(scatter_dof)
        else f_sf(total / dof, dof, scatter_dof)
    )


def _smallest_seen(groups: Sequence[Group], dof: int, scatter_dof: float) -> float | None:
    """The error in one set-up's reading that the test would find in SEEN of cases, kg.

    Equation    delta = u sqrt(lambda/(1 - h)), h the leverage, of the reading that is checked least
    lambda      noncentrality at which the chance to pass the limit is SEEN
    Source      the noncentral F distribution as a Poisson mixture (Abramowitz & Stegun, 26.6.18)
    """
    checked = [one for one in groups if one.leverage < 1 - NOTHING_LEFT]
    if not checked:
        return None
    limit = _root(lambda f: _chance(f * dof, dof, scatter_dof) or 0.0, UNLIKELY, 1.0)

    def missed(noncentrality: float) -> float:
        found, weight = 0.0, math.exp(-noncentrality / 2)
        for j in range(200):
            more = dof + 2 * j
            if j > noncentrality and weight < 1e-7:
                break
            found += weight * (_chance(limit * dof, more, scatter_dof) or 0.0)
            weight *= noncentrality / 2 / (j + 1)
        return 1 - found

    noncentrality = _root(missed, 1 - SEEN, 8.0)
    return max(one.u * math.sqrt(noncentrality / (1 - one.leverage)) for one in checked)


def _root(falling: Callable[[float], float], wanted: float, start: float) -> float:
    """Where a falling function takes a value, found by halving."""
    low, high = 0.0, start
    while falling(high) > wanted and high < 200:
        low, high = high, 2 * high
    for _ in range(25):
        middle = (low + high) / 2
        low, high = (middle, high) if falling(middle) > wanted else (low, middle)
    return high


def _verdict(chance: float | None) -> str:
    """What the test says, and no more."""
    if chance is None:
        return (
            "The set-ups check each other, but no reading's uncertainty is known, "
            "so the test says nothing."
        )
    percent = show_number(100 * chance, 1)
    odds = f"by chance, readings this far apart come up in {percent} % of weigh days"
    if chance < UNLIKELY:
        return (
            f"The set-ups disagree: {odds}. Look at the reading that disagrees most, "
            "and weigh it again."
        )
    return f"The set-ups agree: {odds}."
