"""Sketches for a worked example: the few lines a person would draw first, to scale.

A lever is a line on its supports and a wheel a circle: not the machine drawn another way, but what
is left of it for the question.  Where the whole machine stands there, it is the one outline.

A place is in meters to the right of the first support, as the moving pictures show it; what is
written beside it comes from the problem, letters and numbers as they stand there.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from leverarm.scene.layout import View
from leverarm.scene.machine_drawing import tractor_shapes
from leverarm.scene.shapes import (
    Arrow,
    Circle,
    Dimension,
    Label,
    Line,
    Marker,
    Polygon,
    Scene,
    Shape,
    turned,
)


@dataclass(frozen=True)
class WeightArrow:
    """A weight's arrow down at a place, with its words."""

    text: str
    at: float


@dataclass(frozen=True)
class SketchLength:
    """A length between two places, with its words."""

    text: str
    start: float
    end: float


def lever_sketch(
    supports: Sequence[tuple[str, float]],
    forces: Sequence[WeightArrow],
    lengths: Sequence[SketchLength],
    desc: str,
) -> Scene:
    """A line on its supports, an arrow for each weight, and every length under it.

    supports    what is written under each, and its place
    """
    places = [place for _, place in supports] + [one.at for one in forces]
    places += [end for one in lengths for end in (one.start, one.end)]
    low, high, top = min(places), max(places), 2.6
    shapes: list[Shape] = [Line(((low, 0), (high, 0)), "ink", 0.3)]
    level, before = 0, low - (high - low)
    for one in sorted(forces, key=lambda force: force.at):
        # Words beside each other have room: the second stands higher.
        level = level + 1 if one.at - before < 0.3 * (high - low) else 0
        before, high_up = one.at, 2.6 + 1.6 * level
        top = max(top, high_up)
        shapes.append(Arrow((one.at, 0, 0, high_up), (one.at, 0, 0, 0.25), "load"))
        shapes.append(Label((one.at, 0, 0, high_up), one.text, "ink", "up", bold=True, fixed=True))
    first = 3.6 + 1.3 * max(text.count("\n") for text, _ in supports)
    for row, length in enumerate(lengths):
        down = -first - 1.9 * row
        shapes += [
            Line(((place, 0, 0, -0.3), (place, 0, 0, down - 0.4)), "muted", 0.05, True)
            for place in (length.start, length.end)
        ]
        start, end = (length.start, 0, 0, down), (length.end, 0, 0, down)
        shapes.append(Dimension(start, end, length.text))
    # Last, so that these words stand on the dashed lines.
    for at, (text, place) in enumerate(supports):
        role = ("front", "rear")[at % 2]
        shapes += [
            Marker((place, 0, 0, -0.6), role, "triangle", 1.1),
            Label((place, 0, 0, -1.2), text, role, "down", fixed=True, backed=True),
        ]
    pad = (4.5, 4.5, top + 2.0, first + 1.9 * len(lengths) - 0.6)
    return Scene(tuple(shapes), (low, -0.01, high, 0.01), "Sketch", desc, pad)


def sketch_views(scene: Scene) -> tuple[View, View]:
    """A wide and a narrow sheet just high enough: a lever has no height of its own."""
    low, high = scene.box[1], scene.box[3]
    if high - low > 0.1:
        return View(820.0, 230.0, 15.2), View(300.0, 200.0, 12.0, narrow=True, name="narrow")
    rows = scene.pad[2] + scene.pad[3] + 0.6
    return (
        View(820.0, 15.2 * rows, 15.2),
        View(300.0, 12.0 * rows, 12.0, narrow=True, name="narrow"),
    )


def tire_sketch(lines: Sequence[str], desc: str) -> Scene:
    """A tire on its contact patch, the load on it, and what is given beside it."""
    radius = 0.35
    shapes: list[Shape] = [
        Circle((0, radius - 0.03), radius, "body"),
        Circle((0, radius - 0.03), 0.12, "body"),
        Line(((-0.6, 0), (0.6, 0)), "ink", 0.2),
        Line(((-0.14, 0), (0.14, 0)), "front", 0.5),
        Arrow((0, radius + 0.35), (0, radius), "load"),
        Label((0, -0.02), "contact patch", "front", "down", fixed=True),
    ]
    return Scene((*shapes, *_beside(lines, 0.45, 0.66)), (-0.6, -0.05, 1.0, 0.75), "Sketch", desc)


def wheels_sketch(lines: Sequence[str], desc: str) -> Scene:
    """A front and a rear wheel side by side, and what is given between them."""
    shapes: list[Shape] = [
        Circle((-0.9, 0.5), 0.5, "rear"),
        Circle((0.2, 0.33), 0.33, "front"),
        Line(((-1.5, 0), (0.7, 0)), "ink", 0.2),
        Label((-0.9, 0.5), "rear", "rear", "over", fixed=True),
        Label((0.2, 0.33), "front", "front", "over", fixed=True),
    ]
    return Scene((*shapes, *_beside(lines, 0.65, 0.95)), (-1.5, -0.05, 1.4, 1.0), "Sketch", desc)


def readings_sketch(lines: Sequence[str], desc: str) -> Scene:
    """A reading as a dot on a line, and a bar to each side for what it may be off."""
    shapes: list[Shape] = [
        Line(((-1, 0), (1, 0)), "muted", 0.1),
        Line(((-0.35, 0.12), (0.35, 0.12)), "front", 0.3),
        *(Line(((end, 0.06), (end, 0.18)), "front", 0.3) for end in (-0.35, 0.35)),
        Marker((0, 0.12), "front", "round", 0.9),
        Label((0, 0), "what it may be off, each way", "ink", "down", fixed=True),
    ]
    return Scene((*shapes, *_beside(lines, 0.5, 0.5)), (-1, -0.08, 1, 0.55), "Sketch", desc)


def slope_sketch(lines: Sequence[str], desc: str) -> Scene:
    """A slope with the machine on it, nose downhill, and what is given beside it.

    Places are told from under the front axle, ahead to the left, as in the outline.
    """
    low, high = (0.8, -0.18), (-1.2, 0.27)
    shapes: list[Shape] = [
        Polygon((low, (high[0], low[1]), high), "ground", False, 0.2),
        *turned(tractor_shapes(0.58), (0.0, 0.0), math.degrees(math.atan2(low[1], low[0]))),
    ]
    box = (low[0], low[1], high[0], low[1] + 1.0)
    return Scene((*shapes, *_beside(lines, low[0], low[1] + 0.95)), box, "Sketch", desc)


def _beside(lines: Sequence[str], x: float, y: float) -> list[Label]:
    """One line of words under the other."""
    return [
        Label((x, y, 0, -1.5 * at), text, "ink", "right", fixed=True, bold=True)
        for at, text in enumerate(lines)
    ]
