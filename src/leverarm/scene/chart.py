"""Curves and bars as a scene: axes with ticks, named lines, bands, bars, a marked place.

The box of the scene is in the units of the two axes, so a chart is drawn, placed
and printed by the same means as a machine.
"""

import math
from dataclasses import dataclass

from leverarm.quantities import show_number
from leverarm.scene.palette import ROLES
from leverarm.scene.shapes import Label, Line, Marker, Polygon, Scene


@dataclass(frozen=True)
class Axis:
    """A name with its unit, the range shown, and the decimals of its ticks (None: as few as needed).

    start greater than end runs the axis the other way (depth downwards).
    """

    name: str
    start: float
    end: float
    decimals: int | None = None
    most_ticks: int = 6


@dataclass(frozen=True)
class Curve:
    """A named line through (x, y) points; dash and marker follow its role.

    name "" leaves it unnamed; end says where the name stands: "right", "left" or "top"
    """

    name: str
    points: tuple
    role: str = "front"
    markers: int = 5
    end: str = "right"


@dataclass(frozen=True)
class Band:
    """What a curve may be: the area between two lines over the same x, from (x, low, high) points."""

    points: tuple
    role: str = "front"


@dataclass(frozen=True)
class Bar:
    """One column of a bar chart or waterfall: from start to end, with its name under and a value over it."""

    name: str
    end: float
    start: float = 0.0
    role: str = "front"
    text: str = ""


@dataclass(frozen=True)
class Mark:
    """A named place: a vertical line at x, or a point at (x, y)."""

    name: str
    x: float
    y: float | None = None
    role: str = "ink"


def nice_step(span, most):
    """The smallest of 1, 2, 5 times a power of ten that needs no more than ``most`` steps.

    >>> nice_step(3.2, 6), nice_step(900, 5)
    (1.0, 200.0)
    """
    raw = abs(span) / most
    power = 10.0 ** math.floor(math.log10(raw))
    return next(step * power for step in (1, 2, 5, 10) if step * power >= raw * (1 - 1e-9))


def ticks(start, end, most=6):
    """Round numbers inside a range.

    >>> ticks(-0.3, 2.1)
    [0.0, 0.5, 1.0, 1.5, 2.0]
    """
    low, high = sorted((start, end))
    step = nice_step(high - low, most)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [i * step for i in range(first, last + 1)]


def _decimals(axis):
    if axis.decimals is not None:
        return axis.decimals
    step = nice_step(axis.end - axis.start, axis.most_ticks)
    return max(0, -math.floor(math.log10(step) + 1e-9))


def _tick_labels(axis, place, side, gap):
    return [
        Label(place(v), show_number(v, _decimals(axis)), "muted", side, gap, fixed=True, size=0.9)
        for v in ticks(axis.start, axis.end, axis.most_ticks)
    ]


def _rules(axis, line):
    """Faint rules across the paper at each tick."""
    return [
        Line(line(v), "muted", 0.03, dash=False)
        for v in ticks(axis.start, axis.end, axis.most_ticks)
    ]


def _axes(x, y, x_ticks=True):
    """Rules, the two axis lines, tick numbers, names: the vertical axis is named level, above it."""
    out = _rules(y, lambda v: ((x.start, v), (x.end, v)))
    out += [
        Line(((x.start, y.start), (x.start, y.end)), "ink", 0.07),
        Line(((x.start, y.start), (x.end, y.start)), "ink", 0.07),
    ]
    if min(y.start, y.end) < 0 < max(y.start, y.end):
        out.append(Line(((x.start, 0), (x.end, 0)), "ink", 0.1))
    out += _tick_labels(y, lambda v: (x.start, v), "left", 0.4)
    if x_ticks:
        out += _tick_labels(x, lambda v: (v, y.start), "down", 0.7)
    top = max(y.start, y.end) if y.end > y.start else y.end
    out.append(Label((x.start, top), y.name, "ink", "up", gap=0.7, fixed=True))
    if x.name:
        out.append(
            Label(
                ((x.start + x.end) / 2, y.start if y.end > y.start else y.start),
                x.name,
                "ink",
                "down",
                gap=1.9 if x_ticks else 0.4,
                fixed=True,
            )
        )
    return out


def _between(points, count):
    """A few points spread along a line, for its markers."""
    if count < 1 or not points:
        return []
    count = min(count, len(points))
    return [points[round(i * (len(points) - 1) / max(count - 1, 1))] for i in range(count)]


def _curve(curve):
    """The line, a few markers on it, and its name at an end, off the line."""
    if not curve.points:
        return []
    marks = [Marker(p, curve.role) for p in _between(curve.points, curve.markers)]
    return [
        Line(tuple(curve.points), curve.role, 0.16),
        *marks,
        *([_curve_name(curve)] if curve.name else []),
    ]


def _curve_name(curve):
    """A rising line leaves room above its right end and below its left one, a falling one the other way."""
    if curve.end == "top":
        return Label(
            max(curve.points, key=lambda p: p[1]), curve.name, curve.role, "up", gap=0.7, bold=True
        )
    end, side = (curve.points[-1], "left") if curve.end == "right" else (curve.points[0], "right")
    rising = curve.points[-1][1] >= curve.points[0][1]
    above = 1.0 if rising == (curve.end == "right") else -1.0
    return Label((*end, 0.0, above), curve.name, curve.role, side, gap=0.7, bold=True)


def _band(band):
    edge = [(x, high) for x, _, high in band.points] + [
        (x, low) for x, low, _ in reversed(band.points)
    ]
    return [Polygon(tuple(edge), band.role, width=0.0)]


def _mark(mark, y):
    """A named place, its name at the top of its line or beside its point."""
    if mark.y is not None:
        return [
            Marker((mark.x, mark.y), mark.role, size=0.9),
            Label((mark.x, mark.y, 0.0, 0.6), mark.name, mark.role, "left", gap=0.5),
        ]
    return [
        Line(((mark.x, y.start), (mark.x, y.end)), mark.role, 0.1, dash=True),
        Label((mark.x, y.end), mark.name, mark.role, "right", gap=0.4),
    ]


def line_chart(title, desc, x, y, curves, *, bands=(), marks=()):
    """Named curves over two axes, as a Scene.

    x, y    Axis; curves  Curve; bands  Band, drawn beneath; marks  Mark
    """
    shapes = [part for band in bands for part in _band(band)] + _axes(x, y)
    shapes += [part for mark in marks for part in _mark(mark, y)]
    shapes += [part for curve in curves for part in _curve(curve)]
    return Scene(
        tuple(shapes), (x.start, y.start, x.end, y.end), title, desc, (4.2, 1.2, 2.6, 3.4), "fill"
    )


def _bar(index, bar, y):
    """A column with its value over it and its name under the axis; a thin one stands for zero."""
    left, right = index + 0.2, index + 0.8
    corners = ((left, bar.start), (right, bar.start), (right, bar.end), (left, bar.end))
    value = Label(
        (index + 0.5, max(bar.start, bar.end)),
        bar.text,
        bar.role if bar.role in ROLES else "ink",
        "up",
        gap=0.2,
        bold=True,
    )
    return [
        Polygon(corners, bar.role, width=0.14),
        value,
        Label((index + 0.5, y.start), bar.name, "ink", "down", gap=0.4, fixed=True, size=0.95),
    ]


def bar_chart(title, desc, y, bars, *, marks=(), joined=False, room=0):
    """Named bars as a Scene; joined True ties each bar's end to the next (a waterfall).

    room  bars' widths left empty at the right, for the names of the marks
    """
    x = Axis("", 0.0, float(len(bars) + room))
    shapes = _axes(x, y, x_ticks=False)
    if joined:
        shapes += [
            Line(((i + 0.2, bar.end), (i + 1.8, bar.end)), "muted", 0.06)
            for i, bar in enumerate(bars[:-1])
        ]
    shapes += [part for i, bar in enumerate(bars) for part in _bar(i, bar, y)]
    shapes += [part for mark in marks for part in _level(mark, x)]
    return Scene(
        tuple(shapes), (x.start, y.start, x.end, y.end), title, desc, (4.2, 1.2, 2.6, 2.4), "fill"
    )


def _level(mark, x):
    """A named height across a bar chart."""
    return [
        Line(((x.start, mark.y), (x.end, mark.y)), mark.role, 0.1, dash=True),
        Label((x.end, mark.y), mark.name, mark.role, "up", gap=0.2),
    ]
