"""What a picture is made of: plain shapes in meters, x ahead, y up.

A shape knows where it is and what it means (a role of :mod:`palette`), never its
color or pixels.  Widths and sizes that belong to the drawing, not to the
machine, are in ems: multiples of the height of the letters.  So a point is
``(x, y)`` in meters, or ``(x, y, right, up)`` with ems added on the sheet: the
place for a dimension line that keeps its distance at every scale.
"""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields, replace
from typing import Any, TypeAlias

Point: TypeAlias = tuple[float, ...]  # (x, y), or (x, y, right, up)
Points: TypeAlias = tuple[Point, ...]


@dataclass(frozen=True)
class Line:
    """An open polyline.  dash True draws it broken; None leaves that to the role."""

    points: Points
    role: str = "body"
    width: float = 0.12
    dash: bool | None = None


@dataclass(frozen=True)
class Polygon:
    """A closed area; fill False leaves it hollow."""

    points: Points
    role: str = "body"
    fill: bool = True
    width: float = 0.1


@dataclass(frozen=True)
class Circle:
    """A circle of a radius in meters."""

    at: Point
    radius: float
    role: str = "body"
    width: float = 0.1


@dataclass(frozen=True)
class Marker:
    """A mark of a fixed size: round, square, diamond, triangle or cross; None: as its role."""

    at: Point
    role: str = "ink"
    mark: str | None = None
    size: float = 0.6


@dataclass(frozen=True)
class Arrow:
    """A force: from tail to tip."""

    tail: Point
    tip: Point
    role: str = "load"
    width: float = 0.3


@dataclass(frozen=True)
class Dimension:
    """A dimension line from a to b, its text in the middle, or beyond a if there is no room."""

    a: Point
    b: Point
    text: str
    role: str = "ink"
    short: str | None = None


@dataclass(frozen=True)
class Label:
    """Words at a point; a line break in the text starts a new line.

    side    where they stand: up, down, left, right, over (centered on the point)
    gap     ems between the point and the words
    short   what a narrow picture says instead, or None
    fixed   True keeps them there; otherwise they step aside for others
    size    of the letters, against the picture's own
    backed  True puts a piece of paper behind them: they stand on a line
    """

    at: Point
    text: str
    role: str = "ink"
    side: str = "up"
    gap: float = 0.4
    short: str | None = None
    fixed: bool = False
    bold: bool = False
    size: float = 1.0
    backed: bool = False


Shape: TypeAlias = Line | Polygon | Circle | Marker | Arrow | Dimension | Label
Box: TypeAlias = tuple[float, float, float, float]


@dataclass(frozen=True)
class Scene:
    """A picture: shapes, the part of the world shown, and words for a reader who can't see it.

    box     x0, y0, x1, y1 in meters (for a chart, in the units of its axes)
    pad     ems of paper kept free at the left, right, top and bottom for words
    fit     "equal" keeps one scale for both directions, "fill" stretches each (charts)
    """

    shapes: tuple[Shape, ...]
    box: Box
    title: str
    desc: str
    pad: Box = (1.0, 1.0, 1.0, 1.0)
    fit: str = "equal"


_PLACES = {"points", "at", "tail", "tip", "a", "b"}
# The fields of each kind that hold points.
_PLACE_NAMES: dict[type, tuple[str, ...]] = {
    kind: tuple(field.name for field in fields(kind) if field.name in _PLACES)
    for kind in (Line, Polygon, Circle, Marker, Arrow, Dimension, Label)
}


def _mapped(shape: Any, move: Callable[[Point], Point]) -> Any:
    """The shape with each of its points moved."""
    old = {name: getattr(shape, name) for name in _PLACE_NAMES[type(shape)]}
    return replace(
        shape,
        **{
            name: tuple(map(move, value)) if name == "points" else move(value)
            for name, value in old.items()
        },
    )


def turned(shapes: Iterable[Shape], pivot: Point, degrees: float) -> tuple[Any, ...]:
    """The shapes turned about a pivot, counter-clockwise positive.

    >>> turned([Marker((1.0, 0.0))], (0.0, 0.0), 90)[0].at[1]
    1.0
    """
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    def move(point: Point) -> Point:
        x, y = point[0] - pivot[0], point[1] - pivot[1]
        return (pivot[0] + c * x - s * y, pivot[1] + s * x + c * y, *point[2:])

    return tuple(_mapped(shape, move) for shape in shapes)


def extent(shapes: Iterable[Shape]) -> Box:
    """Smallest and largest x and y of the shapes' points: x_low, y_low, x_high, y_high.

    >>> extent([Circle((0.0, 1.0), 0.5), Marker((2.0, 0.0))])
    (-0.5, 0.0, 2.0, 1.5)
    """
    xs: list[float] = []
    ys: list[float] = []
    for shape in shapes:
        reach = getattr(shape, "radius", 0.0)
        for point in _points_of(shape):
            xs += point[0] - reach, point[0] + reach
            ys += point[1] - reach, point[1] + reach
    return min(xs), min(ys), max(xs), max(ys)


def _points_of(shape: Any) -> list[Point]:
    return [
        point
        for name in _PLACE_NAMES[type(shape)]
        for point in (getattr(shape, name) if name == "points" else (getattr(shape, name),))
    ]
