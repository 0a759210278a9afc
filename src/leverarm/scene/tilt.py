"""Across a slope: the base from above, the machine from behind; each a Scene.

Downhill is to the left in both views of a machine standing across a slope.  They draw what holds
it up, tires, axle, pin and base, on the machine's own track and heights; the outline from the side
knows no width, so that only the size of a tire is the same in both.
"""

import math
from collections.abc import Iterable
from typing import Any

from leverarm.outline import FRONT_RADIUS_M, HALF_TIRE_M, REAR_RADIUS_M
from leverarm.quantities import show, show_number
from leverarm.scene.shapes import (
    Arrow,
    Circle,
    Dimension,
    Label,
    Line,
    Marker,
    Point,
    Polygon,
    Scene,
    Shape,
    turned,
)
from leverarm.stability import SideTilt, Stance

WHEEL_M = (FRONT_RADIUS_M, REAR_RADIUS_M)


def base_plan(
    tilt: SideTilt,
    stance: Stance,
    wheelbase: float,
    *,
    side_deg: float = 0.0,
    system: str | None = None,
    hidden: bool = False,
) -> Scene:
    """The base seen from above, nose up: the triangle to the pin, the trapezoid, the weight.

    tilt, stance   stability.SideTilt and its Stance; side_deg  tilt toward the left
    The round mark is the center of gravity; its foot is where gravity then points, level with the
    tipping line.
    """
    half_f, half_r = stance.front_track_m / 2, stance.rear_track_m / 2
    x, y, height = tilt.center
    foot = (-y - (height - tilt.line_height_m) * math.tan(math.radians(side_deg)), x)
    rear: list[Point] = [(-half_r, -wheelbase), (half_r, -wheelbase)]
    front: list[Point] = [(half_f, 0.0), (-half_f, 0.0)]
    shapes = [
        *_wheels_above(front, rear),
        Polygon((rear[0], rear[1], front[0], front[1]), "muted", fill=False, width=0.1),
        Polygon((rear[0], rear[1], (0.0, 0.0)), "front", width=0.12),
        Line((rear[0], (0.0, 0.0)), "rear", 0.3),
        Marker((0.0, 0.0), "ink", "round", 0.8),
        Label((0.0, 0.0), "pivot pin, raised", "ink", "up", 0.5, short="pin"),
        *_gravity_above(tilt, foot, side_deg, hidden),
        *_words_above(tilt, stance, wheelbase, system),
    ]
    box = (-half_r - 0.45, -wheelbase - 0.5, half_r + 0.45, 0.5)
    return Scene(
        tuple(shapes),
        box,
        "The base from above: a triangle from the rear tires to the pivot pin",
        _plan_desc(tilt, side_deg, system, hidden),
        (4.4, 4.4, 1.2, 1.2),
    )


def _wheels_above(front: list[Point], rear: list[Point]) -> list[Shape]:
    boxes = [(point, 0) for point in front] + [(point, 1) for point in rear]
    return [
        Polygon(
            (
                (px - HALF_TIRE_M[i], py - WHEEL_M[i]),
                (px + HALF_TIRE_M[i], py - WHEEL_M[i]),
                (px + HALF_TIRE_M[i], py + WHEEL_M[i]),
                (px - HALF_TIRE_M[i], py + WHEEL_M[i]),
            ),
            "body",
            width=0.1,
        )
        for (px, py), i in boxes
    ]


def _gravity_above(tilt: SideTilt, foot: Point, side_deg: float, hidden: bool) -> list[Shape]:
    """The center of gravity and, on a slope, where its pull now points."""
    at = (-tilt.center[1], tilt.center[0])
    shapes: list[Shape] = [
        Marker(at, "load", "round", 0.9),
        Label(at, "center of gravity", "load", "right", 0.7, short="CG", bold=True),
    ]
    if side_deg and not hidden:
        shapes += [Arrow(at, foot, "load", width=0.3), Marker(foot, "load", "cross", 0.8)]
    return shapes


def _words_above(
    tilt: SideTilt, stance: Stance, wheelbase: float, system: str | None
) -> list[Shape]:
    x, half = tilt.center[0], tilt.half_base_m
    left = -stance.rear_track_m / 2 - 0.45
    return [
        Dimension(
            (-half, x), (-tilt.center[1], x), show(half - tilt.center[1], "length", system), "rear"
        ),
        Label((left, 0.25), "downhill", "ink", "down", 0.3, bold=True, size=0.9),
        Arrow((left + 0.16, 0.25), (left - 0.16, 0.25), "ink", width=0.2),
        Label((-half * 0.5, x * 0.5), "tipping line", "rear", "left", 0.8, bold=True),
        Label(
            (stance.front_track_m / 2, -0.35 * wheelbase),
            "four corners,\nonly on the axle stop",
            "muted",
            "right",
            1.2,
            short="on the\nstop",
            size=0.9,
        ),
    ]


def _plan_desc(tilt: SideTilt, side_deg: float, system: str | None, hidden: bool) -> str:
    def length(m: float) -> str:
        return show(m, "length", system)

    words = (
        "Seen from above, nose up. The body stands on the two rear tires and on the "
        "pivot pin in the middle of the front axle. "
        f"The center of gravity is {length(-tilt.center[0])} behind the front axle; "
        "there the tipping line runs "
        f"{length(tilt.half_base_m)} from the middle, {length(tilt.line_height_m)} above "
        "the ground."
    )
    return words if hidden else f"{words} {_verdict(tilt, side_deg)}"


def _verdict(tilt: SideTilt, side_deg: float) -> str:
    """Where the pull of gravity points at this tilt, in a sentence."""
    tilted = show_number(side_deg)
    if side_deg < tilt.line_deg:
        return (
            f"At {tilted} degrees of tilt the pull of gravity still points inside the tipping line."
        )
    return (
        f"At {tilted} degrees of tilt the pull of gravity points past the tipping line: "
        "the uphill rear tire leaves the ground."
    )


def slope_section(
    tilt: SideTilt,
    stance: Stance,
    *,
    side_deg: float = 0.0,
    system: str | None = None,
    hidden: bool = False,
) -> Scene:
    """The machine from behind, across a slope that falls to the left, as a Scene.

    The vertical through the center of gravity is drawn against the tipping line, where that
    line passes beside the center: inside it the machine stands, past it it goes over.
    """
    x, height = -tilt.center[1], tilt.center[2]
    line = (-tilt.half_base_m, tilt.line_height_m)

    def turn(shapes: Iterable[Shape]) -> tuple[Any, ...]:
        return turned(shapes, (0.0, 0.0), side_deg)

    machine = turn([*_behind(stance), Line(((-1.25, 0.0), (1.25, 0.0)), "ground", 0.2)])
    center, tip, pin = (
        mark.at for mark in turn([Marker((x, height)), Marker(line), Marker((0.0, stance.pin_m))])
    )
    low = -1.25 * math.sin(math.radians(abs(side_deg))) - 0.05
    shapes = [
        *machine,
        Marker(tip, "rear", "square", 0.9),
        Label(tip, "tipping line", "rear", "left", 0.9, bold=True),
        Marker(center, "load", "round", 1.0),
        Label(center, "center of gravity", "load", "right", 0.9, short="CG", bold=True),
        Label(pin, "pivot pin", "ink", "right", 0.7, short="pin", size=0.9),
    ]
    if not hidden:
        shapes += [
            Line((center, (center[0], low)), "load", 0.14, dash=True),
            Arrow((center[0], center[1]), (center[0], center[1] - 0.4), "load", width=0.42),
        ]
    return Scene(
        tuple(shapes),
        (-1.5, -0.75, 1.5, 2.05),
        "The machine from behind, across a slope",
        _section_desc(tilt, side_deg, system, hidden),
        (1.0, 1.0, 0.8, 0.6),
    )


def _behind(stance: Stance) -> list[Shape]:
    """Two rear tires, axle, body, seat back and roll bar, as from behind."""
    half, tire, radius = stance.rear_track_m / 2, HALF_TIRE_M[1], WHEEL_M[1]

    def box(left: float, right: float, low: float, high: float, role: str = "body") -> Polygon:
        return Polygon(((left, low), (right, low), (right, high), (left, high)), role)

    front = [
        box(px - HALF_TIRE_M[0], px + HALF_TIRE_M[0], 0.0, 2 * WHEEL_M[0], "muted")
        for px in (-stance.front_track_m / 2, stance.front_track_m / 2)
    ]
    tires = [box(px - tire, px + tire, 0.0, 2 * radius) for px in (-half, half)]
    bar = Line(((-0.4, 1.0), (-0.4, 1.85), (0.4, 1.85), (0.4, 1.0)), "body", 0.28)
    return [
        *front,
        bar,
        box(-0.26, 0.26, 0.4, 1.2),
        box(-0.22, 0.22, 1.2, 1.5),
        *tires,
        Circle((0.0, stance.pin_m), 0.05, "ink"),
    ]


def _section_desc(tilt: SideTilt, side_deg: float, system: str | None, hidden: bool) -> str:
    words = (
        f"Seen from behind. The slope falls to the left by {show_number(side_deg)} "
        "degrees. The center of gravity is "
        f"{show(tilt.center[2], 'length', system)} above the ground."
    )
    return words if hidden else f"{words} {_verdict(tilt, side_deg)}"
