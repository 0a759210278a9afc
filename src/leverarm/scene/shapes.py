"""What a picture is made of: plain shapes in metres, x ahead, y up.

A shape knows where it is and what it means (a role of :mod:`palette`), never its
colour or pixels.  Widths and sizes that belong to the drawing, not to the
machine, are in ems: multiples of the height of the letters.
"""

import math
from dataclasses import dataclass, fields, replace


@dataclass(frozen=True)
class Line:
    """An open polyline.  dash True draws it broken; None leaves that to the role."""

    points: tuple
    role: str = "body"
    width: float = 0.12
    dash: bool | None = None


@dataclass(frozen=True)
class Polygon:
    """A closed area; fill False leaves it hollow."""

    points: tuple
    role: str = "body"
    fill: bool = True
    width: float = 0.1


@dataclass(frozen=True)
class Circle:
    """A circle of a radius in metres."""

    at: tuple
    radius: float
    role: str = "body"
    fill: bool = True
    width: float = 0.1


@dataclass(frozen=True)
class Marker:
    """A mark of a fixed size: round, square, diamond, triangle or cross; None leaves that to the role."""

    at: tuple
    role: str = "ink"
    mark: str | None = None
    size: float = 0.6


@dataclass(frozen=True)
class Arrow:
    """A force: from tail to tip, its length drawn to scale by whoever makes the scene.

    ghost True draws it hollow: what was there before.
    """

    tail: tuple
    tip: tuple
    role: str = "load"
    ghost: bool = False
    width: float = 0.3


@dataclass(frozen=True)
class Dimension:
    """A dimension line from a to b, with its text in the middle."""

    a: tuple
    b: tuple
    text: str
    role: str = "ink"


@dataclass(frozen=True)
class Label:
    """Words at a point.

    side    where they stand: up, down, left, right, over (centred on the point)
    gap     ems between the point and the words
    short   what a narrow picture says instead, or None
    fixed   True keeps them there; otherwise they step aside for others
    size    of the letters, against the picture's own
    """

    at: tuple
    text: str
    role: str = "ink"
    side: str = "up"
    gap: float = 0.4
    short: str | None = None
    fixed: bool = False
    bold: bool = False
    size: float = 1.0


@dataclass(frozen=True)
class Scene:
    """A picture: shapes, the part of the world shown, and what it says to a reader who can't see it.

    box     x0, y0, x1, y1 in metres (for a chart, in the units of its axes)
    pad     ems of paper kept free at the left, right, top and bottom for words
    fit     "equal" keeps one scale for both directions, "fill" stretches each (charts)
    """

    shapes: tuple
    box: tuple
    title: str
    desc: str
    pad: tuple = (1.0, 1.0, 1.0, 1.0)
    fit: str = "equal"


def words(shape):
    """The Label a shape carries, or None: a label itself, or a dimension's text."""
    if isinstance(shape, Label):
        return shape
    if isinstance(shape, Dimension):
        middle = tuple((p + q) / 2 for p, q in zip(shape.a, shape.b))
        return Label(middle, shape.text, shape.role, "over", gap=0.0)
    return None


_PLACES = {"points", "at", "tail", "tip", "a", "b"}


def _mapped(shape, move):
    """The shape with each of its points moved."""
    new = {}
    for field in fields(shape):
        if field.name in _PLACES:
            value = getattr(shape, field.name)
            new[field.name] = tuple(map(move, value)) if field.name == "points" else move(value)
    return replace(shape, **new)


def turned(shapes, pivot, degrees):
    """The shapes turned about a pivot, counter-clockwise positive.

    >>> turned([Marker((1.0, 0.0))], (0.0, 0.0), 90)[0].at[1]
    1.0
    """
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    def move(point):
        x, y = point[0] - pivot[0], point[1] - pivot[1]
        return pivot[0] + c * x - s * y, pivot[1] + s * x + c * y

    return tuple(_mapped(shape, move) for shape in shapes)


def shifted(shapes, dx, dy):
    """The shapes moved along.

    >>> shifted([Marker((1.0, 0.0))], 0.5, 2.0)[0].at
    (1.5, 2.0)
    """
    return tuple(_mapped(shape, lambda p: (p[0] + dx, p[1] + dy)) for shape in shapes)
