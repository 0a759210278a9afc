"""Front drive in a turn: both paths from above, and the mismatch against the radius."""

import math

from leverarm.driveline import Drive
from leverarm.quantities import show, show_number, system_shown, to_unit
from leverarm.scene.chart import OFF_AND_ON, OFF_AND_ON_ROLES, Axis, Curve, Mark, line_chart
from leverarm.scene.shapes import (
    Dimension,
    Label,
    Line,
    Marker,
    Point,
    Polygon,
    Scene,
    Shape,
    shifted,
    turned,
)

TRACK_M = 1.05
# The chart's radii, in meters.
RADII = (1.5, 15.0)
LOWEST = -30.0


def turn_plan(
    drive: Drive, radius: float, *, system: str | None = None, hidden: bool = False
) -> Scene:
    """A machine from above in a turn about one center, with the paths of both axles, as a Scene.

    drive   Drive; radius  of the turn, to the middle of the rear axle, m
    hidden  True keeps the front axle's path back: a prediction comes first
    """
    system = system_shown(system)
    L, steer = drive.wheelbase_m, math.degrees(math.atan2(drive.wheelbase_m, radius))
    front = math.hypot(radius, L)
    center = (radius, 0.0)
    shapes: list[Shape] = [
        *_machine(L, steer),
        *_path(radius, radius, 0.0, "rear"),
        Marker((0.0, L), "front", size=0.8),
        Line(((0.0, 0.0), center), "rear", 0.08),
        Marker(center, "ink", "cross", 0.7),
        Label(center, "center of the turn", "ink", "down", 0.6, short="center"),
        Dimension((-1.05, 0.0), (-1.05, L), show(L, "length", system), "ink"),
        _radius((radius / 2, 0.0), "rear", radius, system, "down", 0.3),
    ]
    if not hidden:
        shapes += [
            *_path(front, radius, steer, "front"),
            Line(((0.0, L), center), "front", 0.08, dash=False),
            _radius((radius / 2, L / 2), "front", front, system, "up", 0.4),
        ]
    box = (-1.4, -1.0, radius + 0.5, L + 1.3)
    title = (
        "A turn from above" if hidden else "A turn from above: the front axle takes the longer path"
    )
    return Scene(
        tuple(shapes),
        box,
        title,
        _plan_desc(drive, radius, front, system, hidden),
        (0.8, 1.2, 0.8, 1.6),
    )


def _radius(at: Point, axle: str, meters: float, system: str, side: str, gap: float) -> Label:
    """The name of an axle with the radius of its path."""
    return Label(at, f"{axle} {length_words(meters, system)}", axle, side, gap, bold=True)


def length_words(meters: float, system: str | None = None) -> str:
    """A turning radius as people say it: meters or feet.

    >>> length_words(2.5, "kg"), length_words(2.5, "lb")
    ('2.50 m', '8.2 ft')
    """
    return (
        show(meters, "length", "kg")
        if system_shown(system) == "kg"
        else f"{to_unit(meters, 'length', 'ft'):.1f} ft"
    )


def _arc(
    radius: float, around: float, low: float, high: float, steps: int = 24
) -> tuple[Point, ...]:
    """Points of a circle about (around, 0); degrees from straight left, forward positive."""
    angles = (math.radians(low + (high - low) * i / steps) for i in range(steps + 1))
    return tuple((around - radius * math.cos(t), radius * math.sin(t)) for t in angles)


def _path(own: float, radius: float, middle: float, role: str) -> tuple[Shape, ...]:
    """An axle's path about the center of the turn, and its middle."""
    reach = min(60.0, math.degrees(2.5 / radius))
    points = _arc(own, radius, middle - 0.5 * reach, middle + 0.5 * reach)
    return Line(points, role, 0.2), Marker(_arc(own, radius, middle, middle, 1)[0], role, size=0.8)


def _wheel(x: float, y: float, length: float, role: str) -> Polygon:
    return Polygon(
        (
            (x - 0.11, y - length / 2),
            (x + 0.11, y - length / 2),
            (x + 0.11, y + length / 2),
            (x - 0.11, y + length / 2),
        ),
        role,
        width=0.14,
    )


def _machine(L: float, steer: float) -> list[Shape]:
    """Two axles, four wheels, the front ones steered; nose up the sheet, turning right."""
    half = TRACK_M / 2
    rear = [_wheel(x, 0.0, 0.85, "body") for x in (-half, half)]
    fronts = [
        part
        for x in (-half, half)
        for part in shifted(turned([_wheel(0.0, 0.0, 0.58, "body")], (0.0, 0.0), -steer), x, L)
    ]
    body = Polygon(
        ((-0.22, -0.3), (0.22, -0.3), (0.2, L + 0.35), (-0.2, L + 0.35)), "body", width=0.1
    )
    axles = [Line(((-half, y), (half, y)), "body", 0.25) for y in (0.0, L)]
    return [body, *axles, *rear, *fronts]


def _plan_desc(drive: Drive, radius: float, front: float, system: str, hidden: bool) -> str:
    sentences = [
        f"Seen from above. The wheelbase is {show(drive.wheelbase_m, 'length', system)}. "
        "Both axles turn about one center. "
        f"The rear axle is at {length_words(radius, system)} from it."
    ]
    if hidden:
        return (
            sentences[0] + " The path of the front axle is kept back until you have predicted it."
        )
    sentences.append(
        f"The front axle is at {length_words(front, system)}, so it goes "
        f"{show_number(100 * (front / radius - 1), 1)} % farther. "
        f"The gears give it {show_number(abs(drive.lead), 1)} % "
        f"{'more' if drive.lead >= 0 else 'less'}."
    )
    return " ".join(sentences)


def mismatch_chart(
    off: Drive,
    on: Drive,
    radius: float,
    *,
    system: str | None = None,
    hidden: bool = False,
) -> Scene:
    """Mismatch in percent of the rear path, against the turning radius, for two Drives."""
    system = system_shown(system)

    def length(m):
        return to_unit(m, "length", "m" if system == "kg" else "ft")

    shown = list(zip((off, on), OFF_AND_ON, OFF_AND_ON_ROLES, ("right", "left")))[
        : 1 if hidden else 2
    ]
    low, high = RADII
    steps = [low * (high / low) ** (i / 60) for i in range(61)]
    curves = [
        Curve(
            name,
            tuple((length(r), drive.mismatch(r)) for r in steps if drive.mismatch(r) >= LOWEST),
            role,
            5,
            end,
        )
        for drive, name, role, end in shown
    ]
    marks = [Mark("this turn", length(min(max(radius, low), high)))]
    fits = off.fitting_radius_m
    if fits and low < fits < high:
        marks.append(Mark("fits here", length(fits), 0.0, "front"))
    unit = "m" if system == "kg" else "ft"
    return line_chart(
        "Mismatch against turning radius",
        _chart_desc(shown, radius, system),
        Axis(f"turning radius, {unit}", 0, length(high)),
        Axis("mismatch, % of the rear path", LOWEST, 10),
        curves,
        marks=marks,
    )


def _chart_desc(shown: list[tuple[Drive, str, str, str]], radius: float, system: str) -> str:
    sentences = [
        (
            "Above zero the front is over-driven, below zero it is dragged; "
            "the curves rise toward the lead as the turn widens."
        )
    ]
    for drive, name, _, _ in shown:
        fits = drive.fitting_radius_m
        where = (
            f"the lead just fits a turn of {length_words(fits, system)}" if fits else "no turn fits"
        )
        sentences.append(
            f"With the {name}: {where}; in the turn of {length_words(radius, system)} "
            "the mismatch is "
            f"{show_number(drive.mismatch(radius), 1, sign=True)} %."
        )
    return " ".join(sentences)
