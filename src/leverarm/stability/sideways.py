"""Sideways: where the machine stands, the line it tips about, and the tilt that takes it over.

The front axle swings on a pin above it, so the body stands on three points: the
pin and the two rear tires.  It tips about a line from a rear tire up to the pin,
not to the ground below.  Only when the axle meets its stop do both front tires
count, and the base becomes the four contacts::

          rear left o----------------_ front left      x ahead, y left, z up
                    |          _ _ _/|
                    |  G . _ -       o pin, raised
                    |      - _       |
         rear right o----------------_ front right
"""

import math
from dataclasses import dataclass
from typing import TypeAlias

from leverarm.machine import MOST_HEIGHT_M, Attachment, Tractor
from leverarm.quantities import G, Refusal, read, set_fields
from leverarm.stability.formulas import (
    between_axles,
    mean_place,
    static_stability_factor,
    tipping_speed,
    tipping_tangent,
)
from leverarm.stability.pieces import weights_and_places

Vector: TypeAlias = tuple[float, float, float]

UP = (0.0, 0.0, 1.0)
LEFT = (0.0, 1.0, 0.0)


def minus(p: Vector, q: Vector) -> Vector:
    """The arrow from q to p."""
    return p[0] - q[0], p[1] - q[1], p[2] - q[2]


def plus(p: Vector, q: Vector) -> Vector:
    """Both arrows, one after the other."""
    return p[0] + q[0], p[1] + q[1], p[2] + q[2]


def scaled(k: float, p: Vector) -> Vector:
    """An arrow k times as long."""
    return k * p[0], k * p[1], k * p[2]


def dot(p: Vector, q: Vector) -> float:
    """Scalar product."""
    return sum(a * b for a, b in zip(p, q))


def cross(p: Vector, q: Vector) -> Vector:
    """Vector product, right-handed.

    >>> cross((1, 0, 0), (0, 1, 0))
    (0, 0, 1)
    """
    return p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]


def turned_about(point: Vector, start: Vector, end: Vector, degrees: float) -> Vector:
    """A point turned about the line from start to end, right-handed.

    Equation    v' = v cos + (u x v) sin + u (u.v)(1 - cos), v from start, u the line's unit arrow
    Source      Rodrigues' rotation formula

    >>> [round(x, 9) for x in turned_about((1, 0, 0), (0, 0, 0), (0, 0, 2), 90)]
    [0.0, 1.0, 0.0]
    """
    u, v = _unit(minus(end, start)), minus(point, start)
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return plus(
        start, plus(plus(scaled(c, v), scaled(s, cross(u, v))), scaled(dot(u, v) * (1 - c), u))
    )


def _unit(p: Vector) -> Vector:
    return scaled(1 / math.sqrt(dot(p, p)), p)


MOST_TRACK_M = 5.0
MOST_SWING_DEG = 45.0
SIDE_FORCE = (
    "How much of the side force the front tires take, and how much the rear, cannot be found from "
    "equilibrium when the wheels are locked or braked: more than one split balances. None is "
    "given here."
)


@dataclass(frozen=True, init=False)
class Stance:
    """Where a machine's tires stand, and how its front axle is hung.

    front_track, rear_track   middle of the left contact patch to the right one
    pin             height of the front axle's pivot pin above the ground
    swing           how far the axle swings, each way, before it meets its stop, degrees

    >>> Stance("1.05 m", "1.10 m", pin="42 cm", swing=8).pin_m
    0.42
    """

    front_track_m: float
    rear_track_m: float
    pin_m: float
    swing_deg: float

    def __init__(
        self,
        front_track: str | float,
        rear_track: str | float,
        pin: str | float,
        swing: str | float,
    ) -> None:
        def track(value, field):
            return read(value, "length", field, 0, MOST_TRACK_M, open_low=True)

        set_fields(
            self,
            front_track_m=track(front_track, "front track"),
            rear_track_m=track(rear_track, "rear track"),
            pin_m=read(pin, "length", "height of the pivot pin", 0, MOST_HEIGHT_M),
            swing_deg=read(swing, "angle", "swing of the front axle", 0, MOST_SWING_DEG),
        )


@dataclass(frozen=True)
class SideTilt:
    """How far a machine tilts sideways before its center of gravity crosses a tipping line.

    center          of gravity: meters ahead of the front axle, left of the middle, above the ground
    half_base_m     from the middle to the tipping line, level with the center of gravity
    line_height_m   of that line above the ground there
    line_deg        tilt at which the line to the pin is crossed and the uphill rear tire leaves the
                    ground
    stop_deg        tilt at which a body already swung onto its axle stop crosses the line
                    through both downhill tires; below line_deg the stop does not hold it.  To
                    swing that far on the pin the body turns farther than the swing, since its
                    line slants: see turn_to_stop
    four_deg        the same without the swing: what four fixed corners would give
    weakest_deg, weakest_heading_deg   least tilt that crosses the line to the pin, and the way the
                    slope then falls: 90 straight to the side, less: partly ahead, more: partly
                    behind
    factor          static stability factor, mean track over twice the height; it knows no pin
    """

    center: Vector
    half_base_m: float
    line_height_m: float
    line_deg: float
    stop_deg: float
    four_deg: float
    weakest_deg: float
    weakest_heading_deg: float
    factor: float

    @property
    def tangent(self) -> float:
        """Tangent of line_deg, the sideways pull over weight that crosses the line."""
        return math.tan(math.radians(self.line_deg))


def side_tilt(
    tractor: Tractor, *attachments: Attachment, stance: Stance, aside: str | float = 0.0
) -> SideTilt:
    """SideTilt of a machine and what hangs on it, standing across a slope.

    aside       how far the common center of gravity lies from the middle toward the downhill side
    Left out: give of tires and ground, bumps, holes, swinging loads, liquid in tanks.  Each of
    them makes it tip sooner.  The front axle's own weight is counted with the body, though it
    stays behind when the body tips: the body tips sooner than said here where the axle's center
    of gravity lies below the pin (by half a degree on the demo machine), later where it lies
    above the pin.

    >>> from leverarm.machine import demo_tractor
    >>> tilt = side_tilt(demo_tractor(), stance=demo_stance())
    >>> f"{tilt.line_deg:.1f} {tilt.four_deg:.1f} {tilt.factor:.2f}"
    '30.6 37.2 0.76'
    """
    weights, stations, heights = weights_and_places(tractor, attachments)
    aside_m = read(aside, "length", "center of gravity aside", -MOST_TRACK_M, MOST_TRACK_M)
    center = (mean_place(weights, stations), aside_m, mean_place(weights, heights))
    _check_between(center[0], tractor.wheelbase_m)
    return _tilt(center, tractor.wheelbase_m, stance)


def _check_between(x, wheelbase):
    """Sideways tipping is asked of a machine that stands on both axles."""
    if not -wheelbase <= x <= 0:
        raise Refusal(
            "center of gravity",
            f"{x:.2f} m ahead of the front axle",
            f"from {-wheelbase:.2f} m to 0",
            "take load off, since an axle carries nothing and the machine has tipped already",
        )


def _tilt(center, wheelbase, stance):
    """The tilts, from the shape of the base."""
    x, y, height = center
    pin, rear = (0.0, 0.0, stance.pin_m), (-wheelbase, stance.rear_track_m / 2, 0.0)
    front = (0.0, stance.front_track_m / 2, 0.0)
    half, line = (between_axles(pin[i], rear[i], x, wheelbase) for i in (1, 2))
    mean_track = 2 * between_axles(front[1], rear[1], -wheelbase / 2, wheelbase)
    least, heading = _weakest(center, pin, rear)
    return SideTilt(
        center,
        half,
        line,
        _degrees(half - y, height - line),
        tilt_about(turned_about(center, pin, rear, turn_to_stop(pin, rear, stance)), front, rear),
        tilt_about(center, front, rear),
        least,
        heading,
        static_stability_factor(mean_track, height) if height else math.inf,
    )


def _degrees(arm, height):
    """Tilt from an arm and a height: a quarter turn or more where the line is level with the center
    or above it.
    """
    return (
        math.degrees(math.atan(tipping_tangent(arm, height)))
        if height > 0
        else 90.0
        if arm >= 0
        else -90.0
    )


def tilt_about(center: Vector, front: Vector, rear: Vector, heading: Vector = LEFT) -> float:
    """Tilt in degrees at which gravity has no moment about the line from a front point to a rear
    one.

    heading     level arrow the slope falls along; LEFT is straight to the side
    Equation    tan = (r x up).u / (r x heading).u, r from the line to the center, u along the line
    Source      moments about a line in space: the vector route to tipping_tangent
    """
    r, u = minus(center, front), minus(rear, front)
    return math.degrees(math.atan2(dot(cross(r, UP), u), dot(cross(r, heading), u)))


def turn_to_stop(pin: Vector, rear: Vector, stance: Stance) -> float:
    """Degrees the body turns about the line from pin to rear tire until its axle meets the stop.

    Equation    tan swing = -R_zy/R_zz: the axle stays level while the body turns about the
                slanting line, so the swing on the pin is only the roll in that turn; with
                Rodrigues' R and the line's unit arrow u this is A cos + B sin = C, where
                A = uy uz - tan swing (1 - uz^2),  B = -ux,  C = uy uz + tan swing uz^2
    pin, rear   the points the body turns on, (ahead, left, up)
    Valid       both front tires stay on the ground; what pitch does to the axle's height is left
                out (second order)
    Source      rotation about a fixed line, roll taken out of it (z-y-x angles)

    >>> stance = demo_stance()
    >>> round(turn_to_stop((0, 0, 0.42), (-1.65, 0.55, 0), stance), 2)
    8.62
    """
    way = minus(rear, pin)
    ux, uy, uz = (one / math.sqrt(dot(way, way)) for one in way)
    swing = math.tan(math.radians(stance.swing_deg))
    a, b, c = uy * uz - swing * (1 - uz**2), -ux, uy * uz + swing * uz**2
    return math.degrees(math.atan2(b, a) - math.acos(c / math.hypot(a, b)))


def _weakest(center, pin, rear):
    """The slope's heading that needs least tilt, and that tilt: square to the line, seen from
    above.
    """
    r, u = minus(center, pin), minus(rear, pin)
    ahead, left, _ = cross(u, r)
    if left <= 0:  # the center hangs below the line: no slope takes it over
        return 90.0, 90.0
    heading = (ahead / math.hypot(ahead, left), left / math.hypot(ahead, left), 0.0)
    return tilt_about(center, pin, rear, heading), math.degrees(math.atan2(left, ahead))


def turning_speed(tilt: SideTilt, radius: str | float, *, side_deg: str | float = 0.0) -> float:
    """Speed in m/s at which a steady turn takes the machine to its tipping line; 0 if it stands
    past it.

    radius      of the turn, to the center of gravity
    side_deg    slope across the path, positive where the outer side is downhill

    >>> from leverarm.machine import demo_tractor
    >>> f"{turning_speed(side_tilt(demo_tractor(), stance=demo_stance()), '4 m') * 3.6:.0f} km/h"
    '17 km/h'
    """
    radius_m = read(radius, "length", "radius of the turn", 0, 10_000, open_low=True)
    side = math.radians(read(side_deg, "angle", "side slope", -90, 90))
    if side >= math.radians(tilt.line_deg):
        return 0.0
    return tipping_speed(tilt.tangent, radius_m, math.cos(side), math.sin(side), float(G))


def demo_stance() -> Stance:
    """Tires and pin of the invented plot tractor."""
    return Stance(front_track="1.05 m", rear_track="1.10 m", pin="0.42 m", swing=8)
