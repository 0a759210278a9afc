"""What a scale showed, as numbers that know their errors; and a machine that stands tilted.

A true load is what the scale showed, corrected by errors of known size:
``load = shown (1 + gain) + zero + own``.  Gain and zero belong to the scales and are
shared by all their readings; ``own`` (scatter, rounding) belongs to one reading.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

from leverarm.machine import MOST_WEIGHT_KG
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, read
from leverarm.uncertainty import (
    Measured,
    Source,
    from_graduation,
    from_half_width,
    mean,
    scatter,
    uncertain,
    value_of,
)
from leverarm.weighing.formulas import (
    left_of_scatter,
    slope_of_rise,
    tilt_transfer,
    usual_scatter,
)

# An empty scale may show a little less than nothing.
LEAST_READING_KG = -50.0
MOST_REPEATS = 1000
MOST_RISE_M = 1.0
AXLES = ("front", "rear")

Given: TypeAlias = str | float | Measured  # text with a unit, a number in kg or m, or uncertain


@dataclass(frozen=True)
class Wheels:
    """An axle weighed wheel by wheel: the readings (or repeats) of its left and right wheel."""

    left: Any
    right: Any


class Scales:
    """What is known about the scales of a weigh day.

    Use one object for everything that was weighed on them.

    graduation  step of the display, "1 kg": adds d/sqrt(12) to a reading that was not repeated
    accuracy    stated limit in percent of the reading, "0.5 %": a gain error all readings share
    zero        stated limit of the zero, "1 kg": an offset all readings share
    u_reading   standard uncertainty of one reading from its own causes, if it is known from before;
                it then takes the place of graduation and scatter
    one_set     True: the same scales under both axles; False: another set under each
    usual       True: where nothing was repeated, one reading is taken to scatter as much as scales
                of this step and accuracy may (:meth:`usual_scatter`)

    >>> Scales(graduation="1 kg", accuracy="0.5 %").graduation_kg
    1.0
    """

    def __init__(
        self,
        graduation: str | float = 0.0,
        accuracy: str | float = 0.0,
        zero: str | float = 0.0,
        u_reading: str | float | None = None,
        *,
        one_set: bool = True,
        usual: bool = False,
    ) -> None:
        self.usual = usual
        self.graduation_kg = read(graduation, "weight", "graduation of the scale", 0, 1000)
        self.u_reading_kg = (
            None if u_reading is None else _uncertainty(u_reading, "weight", "reading")
        )
        gain = read(accuracy, "share", "accuracy of the scale in percent", 0, 50) / 100
        self.gain = gain
        offset = read(zero, "weight", "zero of the scale", 0, 1000)
        shared = (
            [(_error("gain", gain, ""), _error("zero", offset, ""))] * 2
            if one_set
            else [
                (_error("gain", gain, f", {axle}"), _error("zero", offset, f", {axle}"))
                for axle in AXLES
            ]
        )
        self._shared = dict(zip(AXLES, shared))

    def usual_scatter(self, shown: float) -> float:
        """Scatter of one reading where it was not told and nothing was repeated, kg.

        The rule is :func:`.formulas.usual_scatter`.

        >>> Scales("1 kg", "0.5 %").usual_scatter(600.0)
        1.0
        """
        return usual_scatter(self.graduation_kg, shown, self.gain)

    def load(self, axle: str, shown: Numeric) -> Numeric:
        """The true load behind a shown one."""
        gain, zero = self._shared[axle]
        return shown * (1 + gain) + zero

    def shown(self, axle: str, load: Numeric) -> Numeric:
        """What the scale will show of a true load."""
        gain, zero = self._shared[axle]
        return (load - zero) / (1 + gain)


def _error(cause: str, half_width: float, where: str) -> Measured:
    """A shared error of estimate zero; nothing at all where its limit is zero."""
    return Measured(
        0.0,
        {from_half_width(f"{cause} of the scales{where}", half_width, cause=cause): 1.0}
        if half_width
        else {},
    )


def _uncertainty(u: object, kind: str, of: str) -> float:
    """A standard uncertainty; None or not a number means not known, and stays so in results."""
    unknown = u is None or (isinstance(u, float) and math.isnan(u))
    return math.nan if unknown else read(u, kind, f"standard uncertainty of the {of}", 0)


def read_measured(
    value: object,
    kind: str,
    field: str,
    u: object = None,
    *,
    low: float = -math.inf,
    high: float = math.inf,
    cause: str = "stated",
) -> Measured:
    """A given quantity as a Measured: number or text with its standard uncertainty.

    A Measured is returned as it is.

    >>> read_measured("1.65 m", "length", "wheelbase", "3 mm", cause="tape").u
    0.003
    """
    if isinstance(value, Measured):
        return value
    return uncertain(
        read(value, kind, field, low, high), _uncertainty(u, kind, field), field, cause=cause
    )


def wheelbase_of(value: object, u: object = None) -> Measured:
    """The wheelbase with the tape's uncertainty."""
    return read_measured(value, "length", "wheelbase", u, low=0.5, high=50, cause="tape")


def is_sequence(given: object) -> bool:
    """True for a list, a tuple or an array of one dimension: several numbers in order."""
    return isinstance(given, (list, tuple)) or getattr(given, "ndim", 0) == 1


def repeats(given: Any, field: str) -> tuple[float, ...]:
    """One reading or several of the same thing, in kg: a tuple of floats."""
    several = tuple(given) if is_sequence(given) else (given,)
    if not 1 <= len(several) <= MOST_REPEATS:
        raise Refusal(
            field,
            f"{len(several)} readings",
            f"1 to {MOST_REPEATS} readings",
            "give the readings of one load",
        )
    return tuple(read(one, "weight", field, LEAST_READING_KG, MOST_WEIGHT_KG) for one in several)


class Session:
    """All readings that are to be judged together: they share scales, and pool their scatter.

    given       {name: reading} of all of them, to find the scatter of one reading where it is not
                known; a name begins with its axle where the axles have scales of their own
    """

    def __init__(
        self,
        scales: Scales | None = None,
        u_reading: Given | None = None,
        given: Mapping[str, Any] | None = None,
    ) -> None:
        self.scales, self.given = scales or Scales(), given or {}
        known = (
            self.scales.u_reading_kg
            if u_reading is None
            else _uncertainty(u_reading, "weight", "reading")
        )
        several = [
            repeats(one, name) for name, reading in self.given.items() for one in _wheels(reading)
        ]
        self.graduation_kg = self.scales.graduation_kg
        self.pool: object | None = None
        self.dof, self.left_by_rounding = math.inf, 0.0
        if known is not None:
            self.u_one = known
        elif any(len(group) > 1 for group in several):
            (self.u_one, self.dof), self.pool = scatter(*several), object()
            self.left_by_rounding = left_of_scatter(self.u_one, self.graduation_kg)
        else:
            self.u_one = math.nan
        self.known = known is not None

    def reading(self, axle: str, given: Any, field: str) -> Numeric:
        """The true load behind a reading, its repeats, its two wheels, or a Measured as it is."""
        if isinstance(given, Measured):
            return given
        return sum(
            self._one(axle, one, field + where)
            for one, where in zip(_wheels(given), _places(given))
        )

    def loads(self) -> dict[str, Any]:
        """Every load, by the name of its reading; None stays None."""
        return {
            name: None
            if one is None
            else self.reading("rear" if name.startswith("rear") else "front", one, name)
            for name, one in self.given.items()
        }

    def _one(self, axle: str, given: Any, field: str) -> Numeric:
        values = repeats(given, field)
        own = self.own(field, len(values), mean(values))
        return self.scales.load(axle, Measured(mean(values), {own: 1.0} if own.u else {}))

    def u_own(self, given: list[float] | Wheels, field: str) -> tuple[float, bool]:
        """(standard uncertainty of this mean by itself, True where rounding sets it)."""
        own = [
            self.own(field + where, len(one), mean(one))
            for one, where in zip(_wheels(given), _places(given))
        ]
        return math.hypot(*(one.u for one in own)), own[0].cause == "graduation"

    def to_come(self, axle: str, load: Numeric, field: str) -> Numeric:
        """What one reading still to be taken will show of a load, its own error included."""
        own = self.own(field, 1, float(value_of(load)))
        return self.scales.shown(axle, load) + Measured(0.0, {own: 1.0} if own.u else {})

    def own(self, field: str, count: int, shown: float = 0.0) -> Source:
        """The error that belongs to the mean of ``count`` readings of one thing, about ``shown``.

        Scatter averages rounding out: what repeats leave is their own scatter, s^2/n, and what
        rounding leaves in a mean of ever so many (:func:`.left_of_scatter`).  A lone reading has
        both.  Source: GUM F.2.2.1; the law of total variance.
        """
        name, d = f"{field}, scatter", self.graduation_kg
        if self.known:
            return Source(name, self.u_one / math.sqrt(count), cause="scatter", count=count)
        rounding = from_graduation(f"{field}, graduation", d)
        if self.pool is None:
            usual = self.scales.usual_scatter(shown) if self.scales.usual else 0.0
            if usual:
                u = math.hypot(usual, rounding.u)
                return Source(f"{field}, one reading", u, cause="scatter")
            return rounding if d else Source(f"{field}, not known", math.nan, cause="scatter")
        scattered, left = self.u_one**2 / count, self.left_by_rounding
        if not scattered:
            return rounding
        u, dof = math.sqrt(scattered + left), self.dof * ((scattered + left) / scattered) ** 2
        if left > scattered:
            return Source(rounding.name, u, dof, cause="graduation", pool=self.pool)
        return Source(name, u, dof, cause="scatter", pool=self.pool, count=count)


def _wheels(given: Any) -> tuple[Any, ...]:
    if isinstance(given, Wheels):
        return given.left, given.right
    return () if given is None or isinstance(given, Measured) else (given,)


def gathered(given: Sequence[Any], field: str) -> list[float] | Wheels:
    """Everything read of one load, in kg: its axle totals, or its wheels where all were read so.

    given   readings one by one, each a number, a list of repeats, or Wheels

    >>> gathered([Wheels(432, 428), Wheels(430, 431)], "front")
    Wheels(left=[432.0, 430.0], right=[428.0, 431.0])
    """
    if given and all(isinstance(one, Wheels) for one in given):
        left = [x for one in given for x in repeats(one.left, f"{field}, left")]
        right = [x for one in given for x in repeats(one.right, f"{field}, right")]
        return Wheels(left, right)
    totals: list[float] = []
    for one in given:
        if isinstance(one, Wheels):
            sides = (repeats(one.left, f"{field}, left"), repeats(one.right, f"{field}, right"))
            totals += [a + b for a, b in zip(*sides)]
        else:
            totals += repeats(one, field)
    return totals


def totals_of(given: list[float] | Wheels) -> list[float]:
    """The axle's readings: left and right together where its wheels were read."""
    if isinstance(given, Wheels):
        return [a + b for a, b in zip(given.left, given.right)]
    return given


def _places(given: Any) -> tuple[str, ...]:
    return (", left", ", right") if isinstance(given, Wheels) else ("",)


class Tilt:
    """How much higher the front wheels stand than the rear ones, and how high the weight is.

    rise                front above rear, "50 mm"; negative for pads under the rear axle alone
    u_rise              its standard uncertainty
    height_above_axles  of the center of gravity above the line through the axle centers
    u_height            its standard uncertainty
    Readings are corrected by what the tilt moved, and carry the uncertainty of that.

    >>> low, high = Tilt("50 mm", "2 mm", "0.30 m", "0.05 m").leveled(592.3, 807.7, 1.65)
    >>> round(low.value), round(high.value)
    (600, 800)
    """

    def __init__(
        self,
        rise: Given = 0.0,
        u_rise: Given = 0.0,
        height_above_axles: Given = 0.0,
        u_height: Given = 0.0,
    ) -> None:
        self.rise = read_measured(
            rise,
            "length",
            "rise of the front wheels",
            u_rise,
            low=-MOST_RISE_M,
            high=MOST_RISE_M,
            cause="tilt",
        )
        self.height = read_measured(
            height_above_axles,
            "length",
            "height above the axle centers",
            u_height,
            low=-MOST_RISE_M,
            high=5,
            cause="tilt",
        )

    def leveled(self, front: Numeric, rear: Numeric, wheelbase: Numeric) -> tuple[Numeric, Numeric]:
        """The readings the machine would have given level: the tilt's transfer put back.

        Its wheels are taken as equally large; the wheelbase is the distance of the axle centers.
        """
        moved = self._moved(front, rear, wheelbase)
        return front + moved, rear - moved

    def tilted(self, front: Numeric, rear: Numeric, wheelbase: Numeric) -> tuple[Numeric, Numeric]:
        """The other way: what level loads become on these pads."""
        moved = self._moved(front, rear, wheelbase)
        return front - moved, rear + moved

    def _moved(self, front: Numeric, rear: Numeric, wheelbase: Numeric) -> Numeric:
        return tilt_transfer(
            front + rear, self.height, slope_of_rise(self.rise, wheelbase), wheelbase
        )


def leveled(tilt: Tilt | None, front: Any, rear: Any, wheelbase: Numeric) -> tuple[Any, Any]:
    """Readings put back level, where a tilt was given and both axles were read."""
    if tilt is None:
        return front, rear
    if front is None or rear is None:
        raise Refusal(
            "tilt",
            "one axle only",
            "a tilt with both axles read",
            "read both axles, or weigh level",
        )
    return tilt.leveled(front, rear, wheelbase)
