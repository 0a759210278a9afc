"""Curves and bars as a scene: axes with ticks, named lines, bands, bars, a marked place.

The box of the scene is in the units of the two axes, so a chart is drawn, placed
and printed by the same means as a machine.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from leverarm.quantities import show_number
from leverarm.scene.layout import View
from leverarm.scene.palette import ROLES
from leverarm.scene.shapes import Label, Line, Marker, Point, Points, Polygon, Scene, Shape

# Half the height of the upright ends of a span, in ems.
HALF_CAP = 0.45
MOST_TICKS = 6
# Pictures of the machine without and with its loader: what each is called, and its role.
OFF_AND_ON = ("loader off", "loader on")
OFF_AND_ON_ROLES = ("front", "load")


@dataclass(frozen=True)
class Axis:
    """A name with its unit, and the range shown.

    start greater than end runs the axis the other way (depth downwards).
    """

    name: str
    start: float
    end: float


@dataclass(frozen=True)
class Curve:
    """A named line through (x, y) points; dash and marker follow its role.

    name "" leaves it unnamed; end says where the name stands: "right", "left" or "top"
    """

    name: str
    points: Points
    role: str = "front"
    markers: int = 5
    end: str = "right"


@dataclass(frozen=True)
class Band:
    """What a curve may be: the area between two lines, from points (x, low, high)."""

    points: Points
    role: str = "front"


@dataclass(frozen=True)
class Bar:
    """One column of a bar chart or waterfall, from start to end, with its name and value."""

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


def nice_step(span: float, most: int) -> float:
    """The smallest of 1, 2, 5 times a power of ten that needs no more than ``most`` steps.

    >>> nice_step(3.2, 6), nice_step(900, 5)
    (1.0, 200.0)
    """
    raw = abs(span) / most
    power = 10.0 ** math.floor(math.log10(raw))
    return next(step * power for step in (1, 2, 5, 10) if step * power >= raw * (1 - 1e-9))


def ticks(start: float, end: float, most: int = MOST_TICKS) -> list[float]:
    """Round numbers inside a range.

    >>> ticks(-0.3, 2.1)
    [0.0, 0.5, 1.0, 1.5, 2.0]
    """
    low, high = sorted((start, end))
    step = nice_step(high - low, most)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [i * step for i in range(first, last + 1)]


def _decimals(axis: Axis) -> int:
    step = nice_step(axis.end - axis.start, MOST_TICKS)
    return max(0, -math.floor(math.log10(step) + 1e-9))


def _tick_labels(axis: Axis, place: Callable[[float], Point], side: str, gap: float) -> list[Label]:
    return [
        Label(place(v), show_number(v, _decimals(axis)), "muted", side, gap, fixed=True, size=0.9)
        for v in ticks(axis.start, axis.end)
    ]


def _rules(axis: Axis, line: Callable[[float], tuple[Point, Point]]) -> list[Line]:
    """Faint rules across the paper at each tick."""
    return [Line(line(v), "muted", 0.03, dash=False) for v in ticks(axis.start, axis.end)]


def _axes(x: Axis, y: Axis, x_ticks: bool = True) -> list[Shape]:
    """Rules, axis lines, tick numbers, names; the name of the vertical axis stands above it."""
    out: list[Shape] = [*_rules(y, lambda v: ((x.start, v), (x.end, v)))]
    out += [
        Line(((x.start, y.start), (x.start, y.end)), "ink", 0.07),
        Line(((x.start, y.start), (x.end, y.start)), "ink", 0.07),
    ]
    if min(y.start, y.end) < 0 < max(y.start, y.end):
        out.append(Line(((x.start, 0), (x.end, 0)), "ink", 0.1))
    out += _tick_labels(y, lambda v: (x.start, v), "left", 0.4)
    if x_ticks:
        out += _tick_labels(x, lambda v: (v, y.start), "down", 0.7)
    top = y.end
    out.append(Label((x.start, top), y.name, "ink", "up", gap=0.7, fixed=True))
    if x.name:
        out.append(
            Label(
                ((x.start + x.end) / 2, y.start),
                x.name,
                "ink",
                "down",
                gap=1.9 if x_ticks else 0.4,
                fixed=True,
            )
        )
    return out


def _between(points: Sequence[Point], count: int) -> list[Point]:
    """A few points spread along a line, for its markers."""
    if count < 1 or not points:
        return []
    count = min(count, len(points))
    return [points[round(i * (len(points) - 1) / max(count - 1, 1))] for i in range(count)]


def _curve(curve: Curve) -> list[Shape]:
    """The line, a few markers on it, and its name at an end, off the line."""
    if not curve.points:
        return []
    marks = [Marker(p, curve.role) for p in _between(curve.points, curve.markers)]
    return [
        Line(tuple(curve.points), curve.role, 0.16),
        *marks,
        *([_curve_name(curve)] if curve.name else []),
    ]


def _curve_name(curve: Curve) -> Label:
    """The name at an end, on the side that a rising or a falling line leaves free."""
    if curve.end == "top":
        return Label(
            max(curve.points, key=lambda p: p[1]), curve.name, curve.role, "up", gap=0.7, bold=True
        )
    end, side = (curve.points[-1], "left") if curve.end == "right" else (curve.points[0], "right")
    rising = curve.points[-1][1] >= curve.points[0][1]
    above = 1.0 if rising == (curve.end == "right") else -1.0
    return Label((*end, 0.0, above), curve.name, curve.role, side, gap=0.7, bold=True)


def _band(band: Band) -> list[Shape]:
    edge = [(x, high) for x, _, high in band.points] + [
        (x, low) for x, low, _ in reversed(band.points)
    ]
    return [Polygon(tuple(edge), band.role, width=0.0)]


def _mark(mark: Mark, y: Axis) -> list[Shape]:
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


def line_chart(
    title: str,
    desc: str,
    x: Axis,
    y: Axis,
    curves: Iterable[Curve],
    *,
    bands: Iterable[Band] = (),
    marks: Iterable[Mark] = (),
) -> Scene:
    """Named curves over two axes, as a Scene.

    x, y    Axis; curves  Curve; bands  Band, drawn beneath; marks  Mark
    """
    shapes = [*(part for band in bands for part in _band(band)), *_axes(x, y)]
    shapes += [part for mark in marks for part in _mark(mark, y)]
    shapes += [part for curve in curves for part in _curve(curve)]
    return Scene(
        tuple(shapes), (x.start, y.start, x.end, y.end), title, desc, (4.2, 1.2, 2.6, 3.4), "fill"
    )


def _bar(index: int, bar: Bar, y: Axis) -> list[Shape]:
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
        Label((index + 0.5, y.start), bar.name, "ink", "down", gap=0.4, fixed=True, size=0.87),
    ]


def bar_chart(
    title: str,
    desc: str,
    y: Axis,
    bars: Sequence[Bar],
    *,
    marks: Iterable[Mark] = (),
    joined: bool = False,
    room: float = 0,
) -> Scene:
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


def _level(mark: Mark, x: Axis) -> list[Shape]:
    """A named height across a bar chart."""
    height = mark.y or 0.0
    return [
        Line(((x.start, height), (x.end, height)), mark.role, 0.1, dash=True),
        Label((x.end, height), mark.name, mark.role, "up", gap=0.2),
    ]


@dataclass(frozen=True)
class Span:
    """A value and what it may be: from low to high, in the unit of the chart."""

    name: str
    value: float
    low: float
    high: float
    role: str = "front"


def span_views(count: int) -> tuple[View, View]:
    """Sheets just tall enough for so many spans, wide and narrow."""
    return View(720.0, 80.0 + 54.0 * count, 16.0), View(
        270.0, 70.0 + 46.0 * count, 13.0, narrow=True, name="narrow"
    )


def span_chart(title: str, name: str, spans: Sequence[Span]) -> Scene:
    """Spans under each other on one scale, the first on top.

    name    what the scale counts, with its unit
    """
    low, high = min(s.low for s in spans), max(s.high for s in spans)
    room = 0.08 * (high - low) or max(abs(high), 1.0) * 0.05
    axis = Axis(name, low - room, high + room)
    shapes: list[Shape] = [
        Line(((v, 0), (v, len(spans))), "muted", 0.03, dash=False)
        for v in ticks(axis.start, axis.end, 5)
    ]
    shapes += [Line(((axis.start, 0), (axis.end, 0)), "ink", 0.07)]
    decimals = max(0, -_exponent(nice_step(axis.end - axis.start, 5)))
    shapes += [
        Label((v, 0), show_number(v, decimals), "muted", "down", fixed=True, size=0.9)
        for v in ticks(axis.start, axis.end, 5)
    ]
    shapes.append(Label(((axis.start + axis.end) / 2, 0), name, "ink", "down", gap=1.7, fixed=True))
    shapes += [
        part for i, span in enumerate(spans) for part in _span(span, axis, len(spans) - i - 0.72)
    ]
    desc = " ".join(
        f"{s.name}: {show_number(s.value, decimals + 1)}, "
        f"from {show_number(s.low, decimals + 1)} to "
        f"{show_number(s.high, decimals + 1)}."
        for s in spans
    )
    return Scene(
        tuple(shapes),
        (axis.start, 0, axis.end, len(spans)),
        title,
        f"{name}. {desc}",
        (1.2, 1.2, 0.8, 3.4),
        "fill",
    )


def _span(span: Span, axis: Axis, y: float) -> list[Shape]:
    """A line from low to high with upright ends, its mark at the value, its words over it."""
    ends = [
        Line(((x, y, 0, -HALF_CAP), (x, y, 0, HALF_CAP)), span.role, 0.16, dash=False)
        for x in (span.low, span.high)
    ]
    return [
        Line(((span.low, y), (span.high, y)), span.role, 0.22),
        *ends,
        Marker((span.value, y), span.role, size=0.8),
        Label((axis.start, y, 0, 0.75), span.name, span.role, "right", gap=0.2, fixed=True),
    ]


def _exponent(step: float) -> int:
    """Power of ten of a step: 0.2 -> -1, 20 -> 1."""
    return int(f"{step:e}".split("e")[1])
