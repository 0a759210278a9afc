"""A scene as SVG text: crisp at any size, read aloud, following the theme of the page.

The same scene on the same sheet gives the same bytes.
"""

import re
from collections.abc import Callable, Iterable
from functools import cache
from hashlib import sha1
from html import escape
from importlib.resources import files
from math import hypot
from typing import Any

from leverarm.scene.layout import LARGE, LINE_HEIGHT, NARROW, WIDE, Frame, Placed, View, place
from leverarm.scene.palette import ROLES, style_sheet
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
)

# Arrows, markers and dimension lines as points on the sheet, for the screen and for print alike.
_MARKS = {
    "square": ((-1, -1), (1, -1), (1, 1), (-1, 1)),
    "diamond": ((0, -1.3), (1.3, 0), (0, 1.3), (-1.3, 0)),
    "triangle": ((0, -1.2), (1.2, 1), (-1.2, 1)),
    "cross": (
        (-1.2, -0.5),
        (-0.5, -1.2),
        (0, -0.7),
        (0.5, -1.2),
        (1.2, -0.5),
        (0.7, 0),
        (1.2, 0.5),
        (0.5, 1.2),
        (0, 0.7),
        (-0.5, 1.2),
        (-1.2, 0.5),
        (-0.7, 0),
    ),
}


def along(tail: Point, tip: Point) -> tuple[float, tuple[float, float]]:
    """Length and direction of a line on the sheet.

    >>> along((0, 0), (3, 4))
    (5.0, (0.6, 0.8))
    """
    dx, dy = tip[0] - tail[0], tip[1] - tail[1]
    length = hypot(dx, dy)
    return length, (dx / length, dy / length) if length else (0.0, 0.0)


def dash_of(role: str, broken: bool | None, em: float) -> tuple[float, ...]:
    """The dash of a line in units of the sheet: its role's own, unless ``broken`` says otherwise.

    () is a solid line.
    """
    dash = ROLES[role].dash if broken is None else ((5, 4) if broken else ())
    return tuple(d * em / 16 for d in dash)


def marker_corners(marker: Marker, frame: Frame) -> list[Point] | None:
    """Corners of a marker, or None for a round one."""
    (x, y), half = frame(marker.at), marker.size * frame.em / 2
    mark = marker.mark or ROLES[marker.role].marker
    return None if mark == "round" else [(x + dx * half, y + dy * half) for dx, dy in _MARKS[mark]]


def arrow_corners(arrow: Arrow, frame: Frame) -> list[Point]:
    """Shaft and head as one outline; a short arrow has a smaller head, a zero arrow has none."""
    tail, tip = frame(arrow.tail), frame(arrow.tip)
    length, (ux, uy) = along(tail, tip)
    if length < 0.5:
        return []
    half = arrow.width * frame.em / 2
    head = min(0.9 * frame.em, 0.6 * length)
    wide = max(half * 1.2, head * 0.5)
    corners = (
        (0, half),
        (length - head, half),
        (length - head, wide),
        (length, 0),
        (length - head, -wide),
        (length - head, -half),
        (0, -half),
    )
    return [(tail[0] + ux * u - uy * v, tail[1] + uy * u + ux * v) for u, v in corners]


def dimension_strokes(dimension: Dimension, frame: Frame) -> list[tuple[Point, Point]]:
    """A dimension line as pairs of points: the line, two end strokes, and heads if they fit."""
    a, b = frame(dimension.a), frame(dimension.b)
    length, (ux, uy) = along(a, b)
    em, tick = frame.em, 0.4 * frame.em
    strokes: list[tuple[Point, Point]] = [(a, b)]
    strokes += [((x - uy * tick, y + ux * tick), (x + uy * tick, y - ux * tick)) for x, y in (a, b)]
    if length > 2 * em:
        strokes += [
            (
                (x, y),
                (
                    x + way * 0.6 * em * ux - side * em * uy,
                    y + way * 0.6 * em * uy + side * em * ux,
                ),
            )
            for (x, y), way in ((a, 1), (b, -1))
            for side in (0.22, -0.22)
        ]
    return strokes


def leader_ends(placed: Placed, frame: Frame) -> tuple[Point, Point] | None:
    """Ends of the thin line back to its point, for words that stepped far aside, else None."""
    left, top, right, bottom = placed.box
    x, y = frame(placed.label.at)
    nearest = min(max(x, left), right), min(max(y, top), bottom)
    return (
        ((x, y), nearest) if placed.moved and along((x, y), nearest)[0] >= 1.3 * frame.em else None
    )


# The same as SVG text.


def _n(number: float) -> str:
    """A coordinate: one decimal, no trailing zero, no minus zero."""
    text = f"{number:.1f}"
    return {"-0.0": "0"}.get(text, text.removesuffix(".0"))


def _numbers(text: str) -> str:
    """Many coordinates at once, each as `_n` writes it.

    They end at a comma, a space, a letter or the end of the text.

    >>> _numbers("1.0,-0.0 12.5,10.0")
    '1,0 12.5,10'
    """
    text = text.replace("-0.0", "0")
    for end in ", LM":
        text = text.replace(f".0{end}", end)
    return text.removesuffix(".0")


def _points(points: Iterable[Point]) -> str:
    return _numbers(" ".join([f"{x:.1f},{y:.1f}" for x, y in points]))


def _dash(role: str, broken: bool | None, em: float) -> str:
    """The dash of a line as an attribute."""
    dash = dash_of(role, broken, em)
    return f' stroke-dasharray="{" ".join(map(_n, dash))}"' if dash else ""


def _line(s: Line, frame: Frame) -> str:
    return (
        f'<polyline class="lv-line-{s.role}" points="{_points(map(frame, s.points))}" '
        f'stroke-width="{_n(s.width * frame.em)}"{_dash(s.role, s.dash, frame.em)}/>'
    )


def _polygon(s: Polygon, frame: Frame) -> str:
    kind = "area" if s.fill else "line"
    return (
        f'<polygon class="lv-{kind}-{s.role}" points="{_points(map(frame, s.points))}" '
        f'stroke-width="{_n(s.width * frame.em)}"/>'
    )


def _circle(s: Circle, frame: Frame) -> str:
    x, y = frame(s.at)
    return (
        f'<circle class="lv-area-{s.role}" cx="{_n(x)}" cy="{_n(y)}" '
        f'r="{_n(s.radius * abs(frame.sx))}" '
        f'stroke-width="{_n(s.width * frame.em)}"/>'
    )


def _marker(s: Marker, frame: Frame) -> str:
    corners = marker_corners(s, frame)
    if corners is None:
        (x, y), half = frame(s.at), s.size * frame.em / 2
        return f'<circle class="lv-solid-{s.role}" cx="{_n(x)}" cy="{_n(y)}" r="{_n(half)}"/>'
    return f'<polygon class="lv-solid-{s.role}" points="{_points(corners)}"/>'


def _arrow(s: Arrow, frame: Frame) -> str:
    outline = _points(arrow_corners(s, frame))
    if not outline:
        return ""
    return f'<polygon class="lv-solid-{s.role}" points="{outline}"/>'


def _dimension(s: Dimension, frame: Frame) -> str:
    path = _numbers(
        "".join(
            [
                f"M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}"
                for (x0, y0), (x1, y1) in dimension_strokes(s, frame)
            ]
        )
    )
    return f'<path class="lv-line-{s.role}" d="{path}" stroke-width="{_n(0.09 * frame.em)}"/>'


_DRAW: dict[type, Callable[[Any, Frame], str]] = {
    Line: _line,
    Polygon: _polygon,
    Circle: _circle,
    Marker: _marker,
    Arrow: _arrow,
    Dimension: _dimension,
}


def _text(placed: Placed) -> str:
    """Words with a halo, centered in their box, so that another font's width does no harm."""
    left, top, right, _ = placed.box
    lines, step, middle = placed.text.split("\n"), LINE_HEIGHT * placed.size, _n((left + right) / 2)
    inside = (
        escape(lines[0])
        if len(lines) == 1
        else "".join(
            f'<tspan x="{middle}" y="{_n(top + (i + 0.78) * step)}">{escape(line)}</tspan>'
            for i, line in enumerate(lines)
        )
    )
    bold = ' font-weight="bold"' if placed.label.bold else ""
    return _backing(placed) + (
        f'<text class="lv-text-{placed.label.role} lv-halo" x="{middle}" '
        f'y="{_n(top + 0.78 * step)}" '
        f'text-anchor="middle" font-size="{_n(placed.size)}"{bold}>{inside}</text>'
    )


def _backing(placed: Placed) -> str:
    """A piece of paper behind words that stand on a line."""
    left, top, right, bottom = placed.box
    return (
        ""
        if not placed.label.backed
        else (
            f'<rect class="lv-paper" x="{_n(left)}" y="{_n(top)}" '
            f'width="{_n(right - left)}" height="{_n(bottom - top)}"/>'
        )
    )


def _leader(placed: Placed, frame: Frame) -> str:
    """A thin line back to the point, for words that stepped far aside."""
    ends = leader_ends(placed, frame)
    if ends is None:
        return ""
    (x, y), nearest = ends
    return (
        f'<path class="lv-line-{placed.label.role}" d="M{_n(x)} {_n(y)}L{_n(nearest[0])} '
        f'{_n(nearest[1])}" '
        f'stroke-width="{_n(0.06 * frame.em)}" stroke-dasharray="1 2"/>'
    )


def body(scene: Scene, view: View) -> str:
    """Everything inside the picture: shapes in their order, then words on top."""
    frame = Frame(scene, view)
    drawn = [_DRAW[type(s)](s, frame) for s in scene.shapes if not isinstance(s, Label)]
    placed = place(scene, view, frame)
    return "".join(drawn + [_leader(p, frame) for p in placed] + [_text(p) for p in placed])


def svg(
    scene: Scene,
    view: View = WIDE,
    *,
    key: str | None = None,
    style: bool = True,
    card: bool = False,
) -> str:
    """The scene as one SVG element, named and described for a screen reader.

    view    the sheet: WIDE, NARROW, LARGE or a View of your own
    key     what makes its ids unique on the page; by default they come from its content
    style   False leaves the style sheet out, where the page already has it
    card    True draws the paper behind it: for a file that stands on any page

    >>> from leverarm.scene import Scene, Marker, svg
    >>> point = Scene((Marker((0, 0)),), (-1, -1, 1, 1), "A point", "One point.")
    >>> svg(point, key="p", style=False)[:24]
    '<svg class="lv lv-wide" '
    """
    inside = body(scene, view)
    key = key or "lv" + sha1((scene.title + scene.desc + inside).encode()).hexdigest()[:10]
    width, height = _n(view.width), _n(view.height)
    # A file of its own says how large it is; on a page the page decides.
    size = f'viewBox="0 0 {width} {height}"' + (
        f' width="{width}" height="{height}"' if card else ""
    )
    return (
        f'<svg class="lv lv-{view.name}" xmlns="http://www.w3.org/2000/svg" {size} '
        f'font-size="{_n(view.font)}" role="img" aria-labelledby="{key}-t {key}-d">'
        f'<title id="{key}-t">{escape(scene.title)}</title><desc '
        f'id="{key}-d">{escape(scene.desc)}</desc>'
        + (f"<style>{style_sheet()}</style>" if style else "")
        + ('<rect class="lv-paper" width="100%" height="100%"/>' if card else "")
        + inside
        + "</svg>"
    )


def picture(
    scene: Scene,
    *,
    key: str | None = None,
    large: bool = False,
    views: tuple[View, ...] = (WIDE, NARROW),
) -> str:
    """The scene for a page of any width: a wide and a narrow sheet; the page shows one.

    The page must hold :func:`leverarm.scene.page_style` once.
    """
    sheets = (LARGE,) if large else views
    return (
        '<div class="lv-pic">'
        + "".join(
            svg(scene, view, key=key and f"{key}-{view.name}", style=False) for view in sheets
        )
        + "</div>"
    )


def page_style() -> str:
    """The style sheet a page needs for :func:`picture`, as text."""
    return (
        style_sheet() + ".lv-pic{container-type:inline-size;width:100%}"
        ".lv-pic svg{width:100%;height:auto;display:block;max-width:64rem;max-height:85vh}"
        ".lv-pic .lv-narrow{display:none;max-width:26rem}@container(max-width:30rem){"
        ".lv-pic .lv-narrow{display:block}.lv-pic .lv-wide{display:none}}"
    )


@cache
def formula_rules() -> str:
    """The rules of typeset formulas on one line, for the style sheet of a page."""
    rules = files(__package__).joinpath("formula.css").read_text("utf-8")
    return re.sub(r"/\*.*?\*/|\n\s*", "", rules, flags=re.DOTALL)
