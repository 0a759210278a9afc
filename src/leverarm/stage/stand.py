"""How a tractor or a plank stands on two scales, and how it leans when they sink."""

from dataclasses import dataclass

from leverarm.numerals import Numeric
from leverarm.outline import Place, spot
from leverarm.stage.elements import Element, angle, element, px
from leverarm.stage.recorder import least, most
from leverarm.stage.sheet import Paper, area

# How deep a whole column sinks or lifts a platform, in units of the desk's sheet.
_SINK, _PLATFORM = 0.16, 9.0


@dataclass(frozen=True)
class Stand:
    """How something stands on its two platforms, on one sheet.

    apart_m                 from the near support to the far one
    sink_front, sink_rear   how far each platform went down, in the sheet's units
    rise_front, rise_rear   how far each wheel has left its platform
    """

    sheet: Paper
    apart_m: Numeric
    sink_front: Numeric
    sink_rear: Numeric
    rise_front: Numeric = 0.0
    rise_rear: Numeric = 0.0

    @property
    def ground(self) -> float:
        """Where it stands while nothing has changed."""
        return self.sheet.floor - _PLATFORM * self.sheet.per_m / 150 - 2

    def at(self, share: float, behind_m: float, up_m: float) -> Place:
        """A place on the sheet before it leans: a share of the way to the far one, and beyond."""
        return self.place(spot(self.apart_m, (share, behind_m, up_m)))

    def place(self, place: Place) -> Place:
        """The same for a place in meters ahead of the near support and meters up."""
        return self.sheet.x(place[0]), self.ground - place[1] * self.sheet.per_m

    @property
    def lean(self) -> str:
        """The transform that puts it on both platforms."""
        x, y = self.at(0, 0, 0)
        across = self.apart_m * self.sheet.per_m
        front, rear = self.sink_front - self.rise_front, self.sink_rear - self.rise_rear
        degrees = -(front - rear) / across * 57.29578
        return f"translate(0.0 {px(front)}) rotate({angle(degrees)} {px(x)} {px(y)})"


def sunk(change: Numeric, full: float, sheet: Paper) -> Numeric:
    """How far a platform sinks for a change of its reading: larger than life, and limited."""
    limit = _PLATFORM * sheet.per_m / 150
    return least(most(change / full * sheet.reach * _SINK, -limit), limit)


def risen(lacks: Numeric, full: float, sheet: Paper) -> Numeric:
    """How far a wheel has left its platform, for the load that its axle lacks: zero or less."""
    return least(-lacks / full * sheet.reach, 0.22 * sheet.per_m)


def platform(stand: Stand, axle: str, half_m: float) -> Element:
    """One scale in the color of its column, reaching half_m to each side."""
    sheet, near = stand.sheet, axle == "front"
    x, y = stand.at(0.0 if near else 1.0, 0, 0)
    half = half_m * sheet.per_m
    top = y + (stand.sink_front if near else stand.sink_rear)

    def upright(left: Numeric, right: Numeric, upper: Numeric, lower: Numeric) -> Element:
        corners_of = [(left, upper), (right, upper), (right, lower), (left, lower)]
        return area(corners_of, f"{axle}-solid", 0)

    feet = (x - 0.8 * half, x + 0.8 * half)
    return element(
        "g",
        upright(x - half, x + half, top, top + 5),
        *(upright(foot - 4, foot + 4, top + 5, sheet.floor) for foot in feet),
    )
