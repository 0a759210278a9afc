"""What the fit leaves over: reading by reading, and all together as chi-squared."""

import math
from dataclasses import dataclass

from leverarm.quantities import show_number
from leverarm.uncertainty import chi_squared_sf, f_sf, mean

# Where a result this unlikely would come by chance, the readings are said to disagree.
UNLIKELY = 0.05
NOTHING_LEFT = 1e-9


@dataclass(frozen=True)
class Residual:
    """One reading against the fit.

    left            reading minus fitted, kg
    standardized    left over its own standard uncertainty; None where nothing else measures this reading
    """

    state: str
    axle: str
    number: int
    reading_kg: float
    fitted_kg: float
    standardized: float | None

    @property
    def left_kg(self):
        """Reading minus fitted."""
        return self.reading_kg - self.fitted_kg

    @property
    def name(self):
        """Which reading, in words."""
        return f"{self.axle} reading {self.number} of {self.state}"


@dataclass(frozen=True)
class Consistency:
    """The chi-squared test of the states against each other.

    kind        "redundant" (states check each other), "repeated" (only repeats are left over) or "none"
    chance      probability of a chi-squared at least this large if the told errors are all there is; None if unknown
    """

    kind: str
    chi_squared: float
    dof: int
    chance: float | None
    words: str

    @property
    def consistent(self):
        """True or False where the states check each other, else None: the test cannot say."""
        return None if self.kind != "redundant" or self.chance is None else self.chance >= UNLIKELY


@dataclass(frozen=True)
class Group:
    """The readings of one state on one axle, against the fit.

    u           standard uncertainty of their mean
    effective   how many readings the mean counts as: repeats that are all rounded alike count as one
    leverage    pull of the mean on its own fitted value, 0 to 1
    """

    state: str
    axle: str
    readings: tuple
    fitted: float
    u: float
    effective: int
    leverage: float

    @property
    def chi_squared(self):
        """Square of the mean's distance from the fit, in its own standard uncertainties."""
        return ((mean(self.readings) - self.fitted) / self.u) ** 2

    @property
    def scatter_chi_squared(self):
        """The same for each reading about their mean."""
        middle = mean(self.readings)
        return sum((x - middle) ** 2 for x in self.readings) / (self.u**2 * self.effective)

    def residuals(self):
        """A Residual for each reading: n times the variance of the mean, less what the fit leans on it."""
        variance = self.u**2 * (self.effective - self.leverage)
        spread = math.sqrt(variance) if variance > NOTHING_LEFT * self.u**2 else None
        return [
            Residual(
                self.state,
                self.axle,
                i,
                x,
                self.fitted,
                (x - self.fitted) / spread if spread else None,
            )
            for i, x in enumerate(self.readings, 1)
        ]


def judged(groups, redundant, repeated, scatter_dof):
    """The Consistency of a fit.

    redundant, repeated     degrees of freedom from states that check each other, and from repeats
    scatter_dof             behind the standard uncertainty of one reading; infinite where it was told.
                            An estimated scatter turns the chi-squared test into an F test
    """
    if redundant > 0:
        total = sum(group.chi_squared for group in groups)
        chance = _chance(total, redundant, scatter_dof)
        return Consistency("redundant", total, redundant, chance, _verdict(chance))
    if repeated > 0:
        total = sum(group.scatter_chi_squared for group in groups)
        chance = _chance(total, repeated, scatter_dof) if math.isinf(scatter_dof) else None
        return Consistency(
            "repeated",
            total,
            repeated,
            chance,
            "Only repeats are left over. They say how far readings scatter, not whether the "
            "model fits. Weigh one more state to check that.",
        )
    return Consistency(
        "none",
        0.0,
        0,
        None,
        "Nothing is left over: each number was measured once, so nothing checks it.",
    )


def _chance(total, dof, scatter_dof):
    if not math.isfinite(total):
        return None
    return (
        chi_squared_sf(total, dof)
        if math.isinf(scatter_dof)
        else f_sf(total / dof, dof, scatter_dof)
    )


def _verdict(chance):
    """What the test says, and no more."""
    if chance is None:
        return "The states check each other, but no reading's uncertainty is known, so nothing can be judged."
    odds = f"by chance readings this far apart come up in {show_number(100 * chance, 1)} % of weigh days"
    if chance < UNLIKELY:
        return f"The states disagree: {odds}. Look at the reading that disagrees most, and weigh it again."
    return f"The states agree: {odds}."
