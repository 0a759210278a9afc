"""A front drive with the loader off and on, and one turn, in the unit shown.

The formulas of :mod:`leverarm.driveline` run in meters on what a reader moves.  Everything is told
for one turn of the rear tire: what the rear axle rolls, what the gears let the front tires lay
down, and what the front axle has to travel.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from leverarm import statics
from leverarm.driveline import ROLLING_SHARE, Drive, demo_mowing, formulas
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, from_unit, show_number, to_unit
from leverarm.stage.case import PART, SHEETS, SaidCase
from leverarm.stage.recorder import where
from leverarm.stage.recording import Input
from leverarm.stage.sheet import Paper

# How far the loader brings the front hubs down, and what share of it the rear hubs rise: invented.
SQUASH_M, REAR_RISES = 0.010, 0.2
# The least lead whose fitting turn is looked for, in percent.
_LEAST_LEAD = 0.3


@dataclass(frozen=True)
class OneTurn:
    """What happens in one turn of the rear tire; lengths in meters, shares in percent.

    rolls       of the rear axle;  off, on  what the front lays down, loader off and on
    way         of the front axle in the turn;  lead_off, lead_on  in percent of what the rear rolls
    short_off, short_on    what the front wants more than its way, in percent of the rear's path;
                           below zero it is dragged
    own_off     the same with the loader off, in percent of the front's own way
    """

    rolls: Numeric
    off: Numeric
    on: Numeric
    way: Numeric
    lead_off: Numeric
    lead_on: Numeric
    short_off: Numeric
    short_on: Numeric
    own_off: Numeric


@dataclass(frozen=True)
class LeadCase(SaidCase):
    """A front drive, how far its tires are squashed, and a tight turn, with how they are shown.

    squash_m    how far the loader brings the front hubs down
    radius_m    of the tight turn, to the middle of the rear axle
    """

    drive: Drive
    squash_m: float = SQUASH_M
    radius_m: float = demo_mowing().radius_m
    system: str = "lb"
    sheets: tuple[Paper, ...] = SHEETS

    def __post_init__(self) -> None:
        if self.drive.lead < _LEAST_LEAD:
            raise Refusal(
                "front drive",
                f"a lead of {self.drive.lead:.1f} percent",
                f"a lead of {_LEAST_LEAD} percent or more with the loader off",
                "check tires, pressures and counts",
            )
        low, high = self.radii_m
        if not low <= self.radius_m <= high:
            raise Refusal(
                "turning radius",
                f"{self.radius_m:g} m",
                f"from {low:.1f} to {high:.1f} m for this wheelbase",
                "tell a turn that this machine can drive",
            )

    @property
    def radii_m(self) -> tuple[float, float]:
        """The turns that the picture holds."""
        return 0.9 * self.drive.wheelbase_m, 7.2 * self.drive.wheelbase_m

    # A turn is told in feet, a track in inches, a squash in hundredths of an inch.
    @property
    def turn_unit(self) -> str:
        """The unit of a turning radius."""
        return "ft" if self.system == "lb" else "m"

    @property
    def squash_unit(self) -> str:
        """The unit of a squash."""
        return "in" if self.system == "lb" else "mm"

    @property
    def _turn_places(self) -> int:
        return 1 if self.system == "lb" else 2

    @property
    def _squash_places(self) -> int:
        return 2 if self.system == "lb" else 0

    def turn_m(self, shown: Numeric) -> Numeric:
        """A turning radius in meters, from the unit shown."""
        return shown * from_unit(1.0, "length", self.turn_unit)

    def show_turn(self, m: Numeric) -> str:
        """A turning radius with its unit."""
        number = show_number(m * to_unit(1.0, "length", self.turn_unit), self._turn_places)
        return f"{number} {self.turn_unit}"

    def show_track(self, m: Numeric) -> str:
        """A path of one turn with its unit: inches, or centimeters."""
        unit = "in" if self.system == "lb" else "cm"
        number = show_number(m * to_unit(1.0, "length", unit), 1)
        return f"{number} {unit}"

    def show_squash(self, shown: Numeric) -> str:
        """A squash in the unit shown with its unit."""
        return f"{show_number(shown, self._squash_places)} {self.squash_unit}"

    @property
    def start(self) -> dict[str, float]:
        """The tight turn and the squash, in the unit shown."""
        return {
            "radius": round(to_unit(self.radius_m, "length", self.turn_unit), self._turn_places),
            "squash": round(to_unit(self.squash_m, "length", self.squash_unit), 2),
        }

    def squashed(self, squash_m: Numeric) -> tuple[Numeric, Numeric]:
        """Front and rear circumference with the front hubs down by that much."""
        share = float(ROLLING_SHARE)
        front = formulas.squashed(self.drive.front_m, squash_m, share)
        return front, formulas.squashed(self.drive.rear_m, -REAR_RISES * squash_m, share)

    def turn(self, radius: Numeric, squash: Numeric) -> OneTurn:
        """One turn of the rear tire, for a radius and a squash in the unit shown."""
        drive, base = self.drive, self.drive.rear_m
        radius_m = self.turn_m(radius)
        front, rear = self.squashed(squash * from_unit(1.0, "length", self.squash_unit))
        off = formulas.lead(drive.front_m, drive.rear_m, drive.ratio)
        on = formulas.lead(front, rear, drive.ratio)
        ratio = formulas.front_path_ratio(radius_m, drive.wheelbase_m)
        short = formulas.turn_mismatch(off, radius_m, drive.wheelbase_m)
        return OneTurn(
            rolls=base,
            off=base + formulas.slip_distance(base, off),
            on=base + formulas.slip_distance(base, on),
            way=base * ratio,
            lead_off=off,
            lead_on=on,
            short_off=short,
            short_on=formulas.turn_mismatch(on, radius_m, drive.wheelbase_m),
            own_off=statics.share(formulas.slip_distance(base, short), base * ratio),
        )

    def fits_m(self, lead: Numeric) -> Numeric:
        """The radius of the turn that a lead fits; 0 where the lead is too small to fit one."""
        return where(
            lead >= _LEAST_LEAD,
            lambda: formulas.fitting_radius(lead, self.drive.wheelbase_m),
            lambda: 0.0,
        )

    @property
    def moving(self) -> tuple[Input, ...]:
        """What can be moved: the turning radius, and how far the front tires are squashed."""
        start, (low, high) = self.start, self.radii_m
        step = 0.1 if self.system == "lb" else 0.05
        least, most = (round(to_unit(one, "length", self.turn_unit), 1) for one in (low, high))
        deep = to_unit(2.0 * self.squash_m, "length", self.squash_unit)
        by, places = (0.01, 2) if self.system == "lb" else (1.0, 0)
        return (
            Input("radius", least, most, start["radius"], step, self._turn_places),
            Input("squash", 0, round(deep, 2), start["squash"], by, places),
        )

    @property
    def said(self) -> tuple[Input, ...]:
        """What the reader says: which way the lead goes, and what the turn does to the front."""
        return Input("lead_said", -1, 1, 0), Input("turn_said", -1, 1, 0)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves in the second act; the last two become 1 once a fitting turn was found."""
        found = Input("found_off", 0, 1, 0), Input("found_on", 0, 1, 0)
        return (*self.moving, *self.said, PART, *found)

    def of(self, v: Mapping[str, Numeric]) -> OneTurn:
        """One turn of the rear tire as the reader has moved it."""
        return self.turn(v["radius"], v["squash"])
