"""A front tire on the ground with the loader off and on, in the unit shown.

The formulas of :mod:`leverarm.ground` run in kg, m and kPa on what a reader moves; what the
picture prints is turned into the unit shown by a constant.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise, product
from typing import TypeAlias

from leverarm.ground import GROWTH, SOFT_GROWTH, ContactPatch, bulb, formulas
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, from_unit, show_number, to_unit, unit_of
from leverarm.stage.case import PART, SHEETS, SaidCase
from leverarm.stage.recorder import most, where, within
from leverarm.stage.recording import Input
from leverarm.stage.sheet import Paper

FRONT_TIRES = 2
# How the stress gathers under the load: between 3 (elastic theory) and 6; the panel under More
# moves it.
SOIL_FACTOR = 4
# The three lines of equal stress, as shares of the pressure under the bare tire.
LINES = (0.55, 0.25, 0.11)
# Corners of a line of equal stress, and at how many depths its shape is known.
STEPS, _KNOTS = 12, 6
# Digits of what the picture prints.
_PLACES = {
    "lb": {"pressure": 1, "area": 1, "depth": 1},
    "kg": {"pressure": 0, "area": 0, "depth": 0},
}
# (depth, half widths) of a line at a few depths.
Knots: TypeAlias = tuple[tuple[float, tuple[float, ...]], ...]
_ROUND = (1.0, 1.5, 2.0, 3.0, 5.0, 7.0, 10.0)
_DEPTHS = (12, 16, 20, 24, 30, 40, 50, 60, 80, 100, 120, 160, 200, 300, 500)


def round_number(value: float) -> float:
    """The nearest of 1, 1.5, 2, 3, 5 and 7 and their tens.

    >>> round_number(6.8), round_number(103.2), round_number(0.16)
    (7.0, 100.0, 0.15)
    """
    ten = 1.0
    while value >= 10 * ten:
        ten *= 10
    while value < ten:
        ten /= 10
    return min((float(f"{one * ten:.6g}") for one in _ROUND), key=lambda one: abs(one - value))


def between_knots(knots: Knots, at: Numeric) -> list[Numeric]:
    """Values known at a few places, by straight lines between them; kept at both ends.

    knots   (place, values) in rising order

    >>> between_knots(((0, (1.0,)), (2, (5.0,)), (3, (4.0,))), 1)
    [3.0]
    """
    found: list[Numeric] = list(knots[0][1])
    for (a, low), (b, high) in pairwise(knots):
        share = within(at - a, 0, b - a) / (b - a)
        found = [value + share * (y - x) for value, x, y in zip(found, low, high, strict=True)]
    return found


@dataclass(frozen=True)
class TireOnGround:
    """One tire: its load in kg, its contact patch in m2, the mean pressure on it in kPa."""

    load_kg: Numeric
    area_m2: Numeric
    pressure_kpa: Numeric

    @property
    def radius_m(self) -> Numeric:
        """Radius of the circle that stands for the contact patch."""
        return formulas.radius_of(self.area_m2)

    def reach_m(self, stress_kpa: float) -> Numeric:
        """How deep a stress reaches under the center.

        For a stress that the surface hardly has: the depth of one that is 2 percent smaller.
        """
        pressure = most(self.pressure_kpa, 1.02 * stress_kpa)
        return formulas.depth_of_stress(pressure, self.radius_m, stress_kpa, SOIL_FACTOR)

    def shown_reach(self, stress_kpa: float) -> Numeric:
        """How deep a line is drawn; 0 where the surface hardly has its stress."""
        return where(self.has(stress_kpa), lambda: self.reach_m(stress_kpa), lambda: 0.0)

    def has(self, stress_kpa: float) -> Numeric:
        """Whether the surface has a stress, so that its line is drawn."""
        return self.pressure_kpa >= 1.02 * stress_kpa


@dataclass(frozen=True)
class UnderTireCase(SaidCase):
    """A front axle weighed twice and one tire's contact patch, with how they are shown.

    bare_kg, on_kg   front axle with the loader off and on
    patch            the contact patch of one front tire, on hard ground
    """

    bare_kg: float
    on_kg: float
    patch: ContactPatch
    system: str = "lb"
    sheets: tuple[Paper, ...] = SHEETS

    def __post_init__(self) -> None:
        if not 0 < self.bare_kg < self.on_kg:
            raise Refusal(
                "front axle",
                f"{self.bare_kg:,g} kg bare and {self.on_kg:,g} kg with the loader",
                "a bare reading above zero and a larger one with the loader",
                "type the two readings of the front scale",
            )

    def _unit(self, kind: str) -> str:
        if kind == "depth":
            return "in" if self.system == "lb" else "cm"
        return unit_of(kind, self.system)

    def of_base(self, value: Numeric, kind: str) -> Numeric:
        """A value of the formulas in the unit shown; a constant times it, so that it records."""
        base = "length" if kind == "depth" else kind
        return value * to_unit(1.0, base, self._unit(kind))

    def in_base(self, value: Numeric, kind: str) -> Numeric:
        """A value shown in the unit of the formulas."""
        base = "length" if kind == "depth" else kind
        return value * from_unit(1.0, base, self._unit(kind))

    def unit(self, kind: str) -> str:
        """The unit as it is printed."""
        return self._unit(kind).replace("2", "²")

    def digits(self, value: Numeric, kind: str, sign: bool = False) -> str:
        """A value of the formulas in digits of the unit shown."""
        places = _PLACES[self.system].get(kind, 0)
        return show_number(self.of_base(value, kind), places, sign=sign)

    def show(self, value: Numeric, kind: str, sign: bool = False) -> str:
        """A value of the formulas with its unit."""
        return f"{self.digits(value, kind, sign)} {self.unit(kind)}"

    def show_line(self, stress_kpa: float) -> str:
        """The stress of a line with its unit, without a zero behind the point."""
        return f"{self.of_base(stress_kpa, 'pressure'):.4g} {self.unit('pressure')}"

    def tire(self, axle: Numeric, gauge: Numeric, soft: Numeric = 0.0) -> TireOnGround:
        """A front tire for a reading of the axle and a gauge pressure in the unit shown.

        soft    0 on hard ground, 1 on soft: there the contact patch grows far less
        """
        patch = self.patch
        load = self.in_base(axle, "weight") / FRONT_TIRES
        growth = GROWTH + (float(SOFT_GROWTH) - GROWTH) * soft
        resting = formulas.area_for(
            patch.load_kg,
            formulas.contact_pressure(self.in_base(gauge, "pressure"), patch.carcass_kpa),
        )
        area = formulas.grown_area(resting, patch.load_kg, load, growth)
        return TireOnGround(load, area, formulas.mean_pressure(load, 1, area))

    @property
    def start(self) -> dict[str, float]:
        """The axle with the loader off and on, and the gauge, in the unit shown."""
        places = _PLACES[self.system]["pressure"]
        gauge = round(self.of_base(self.patch.inflation_kpa, "pressure"), places)
        return {
            "bare": self.weight(self.bare_kg),
            "on": self.weight(self.on_kg),
            "gauge": gauge,
        }

    def bare(self, soft: Numeric = 0.0) -> TireOnGround:
        """The tire with the loader off, at the gauge pressure of its contact patch."""
        return self.tire(self.start["bare"], self.start["gauge"], soft)

    def loaded(self, soft: Numeric = 0.0) -> TireOnGround:
        """The tire with the loader on, at the gauge pressure of its contact patch."""
        return self.tire(self.start["on"], self.start["gauge"], soft)

    @cached_property
    def lines_kpa(self) -> tuple[float, ...]:
        """The stresses whose lines are drawn, round in the unit shown."""
        pressure = self.of_base(self.bare().pressure_kpa, "pressure")
        return tuple(
            float(self.in_base(round_number(share * pressure), "pressure")) for share in LINES
        )

    @property
    def moving(self) -> tuple[Input, ...]:
        """What can be moved: the axle's load, the gauge, and which ground."""
        by = 10.0 if self.system == "lb" else 5.0
        start, step = self.start, 0.1 if self.system == "lb" else 1.0
        low = by * round(0.6 * start["bare"] / by)
        high = by * round(1.25 * start["on"] / by)
        # The gauge stays where the carcass still leaves a pressure on the ground.
        least = max(
            0.45 * start["gauge"],
            self.of_base(-self.patch.carcass_kpa, "pressure") + 0.2 * start["gauge"],
        )
        places = _PLACES[self.system]["pressure"]
        ends = round(least, places), round(1.6 * start["gauge"], places)
        return (
            Input("axle", low, high, start["on"], by),
            Input("gauge", *ends, start["gauge"], step, places),
            Input("soft", 0, 1, 0),
        )

    @property
    def said(self) -> tuple[Input, ...]:
        """What the reader says: the change of the pressure, and whether the stress goes deeper."""
        pressure = self.of_base(self.bare().pressure_kpa, "pressure")
        places = _PLACES[self.system]["pressure"]
        reach = max(1.0, round(1.5 * pressure))
        step = 0.1 if self.system == "lb" else 1.0
        return (
            Input("pressure_said", -reach, reach, 0, step, places, True),
            Input("reach_said", -1, 1, 0),
        )

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves in the second act."""
        return (*self.moving, *self.said, PART)

    @cached_property
    def shapes(self) -> tuple[Knots, ...]:
        """Each line's shape: its half widths by its depth, both in radii of the contact patch."""
        pressures = [one.pressure_kpa for one in (self.bare(), *self.corners)]
        found = []
        for stress in self.lines_kpa:
            ends = [min(stress / one, 0.98) for one in (min(pressures), max(pressures))]
            shares = {ends[0] + (ends[1] - ends[0]) * n / (_KNOTS - 1) for n in range(_KNOTS)}
            lines = [bulb(1.0, 1.0, one, SOIL_FACTOR, steps=STEPS) for one in sorted(shares)]
            found.append(
                tuple((line[0][1], tuple(wide for wide, _ in line[1:-1])) for line in lines[::-1])
            )
        return tuple(found)

    @cached_property
    def corners(self) -> list[TireOnGround]:
        """The tire at every end of what moves."""
        ends = [(one.low, one.high) for one in self.moving]
        return [self.tire(*at) for at in product(*ends)]

    @cached_property
    def deepest(self) -> float:
        """The depth that the picture holds, in the unit shown: round, and fixed for all moves."""
        reached = max(one.reach_m(self.lines_kpa[-1]) for one in self.corners)
        depth = 1.05 * self.of_base(reached, "depth")
        return next((float(one) for one in _DEPTHS if one >= depth), depth)

    def of(self, v: Mapping[str, Numeric]) -> TireOnGround:
        """The tire as the reader has moved it."""
        return self.tire(v["axle"], v["gauge"], v["soft"])
