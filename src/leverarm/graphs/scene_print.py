"""A scene on paper: the shapes of the screen, walked once more, onto a matplotlib page.

Nothing is drawn twice over: frame, places of words and outlines of arrows come from
:mod:`leverarm.scene`.  On paper an axle is known by its mark, its hatching and its
words, so that a gray print tells as much as a colored one.
"""

from collections.abc import Callable, Sequence
from typing import Any

from matplotlib.axes import Axes
from matplotlib.patches import Circle as Disc
from matplotlib.patches import Polygon as Area
from matplotlib.patches import Rectangle

from leverarm.graphs.style import color
from leverarm.scene import (
    Arrow,
    Circle,
    Dimension,
    Frame,
    Label,
    Line,
    Marker,
    Polygon,
    Scene,
    View,
    place,
)
from leverarm.scene.layout import Placed
from leverarm.scene.palette import PAPER
from leverarm.scene.render import (
    arrow_corners,
    dash_of,
    dimension_strokes,
    leader_ends,
    marker_corners,
)
from leverarm.scene.shapes import Point

_POINTS_PER_INCH = 72.0
# The letters of printed pages run wider than those the words were placed with.
_LETTER_WIDTH = 0.88
HATCH = {"rear": "////"}


class _Pen:
    """Draws into a rectangle of a page whose axes are in inches, y downwards."""

    def __init__(
        self,
        axes: Axes,
        scene: Scene,
        left: float,
        top: float,
        width: float,
        height: float,
        font: float,
    ) -> None:
        self.axes, self.left, self.top = axes, left, top
        self.view = View(width * _POINTS_PER_INCH, height * _POINTS_PER_INCH, font)
        self.frame = Frame(scene, self.view)

    def at(self, point: Point) -> tuple[float, float]:
        """A point of the sheet as inches on the page."""
        return self.left + point[0] / _POINTS_PER_INCH, self.top + point[1] / _POINTS_PER_INCH

    def stroke(
        self, points: Sequence[Point], role: str, width: float, dash: tuple[float, ...] = ()
    ) -> None:
        """A line through points of the sheet; width and dash in points."""
        xs, ys = zip(*map(self.at, points))
        style: dict[str, Any] = (
            {"linestyle": (0, tuple(d / max(width, 0.1) for d in dash))} if dash else {}
        )
        self.axes.plot(
            xs,
            ys,
            color=color(role),
            linewidth=width,
            solid_capstyle="butt",
            dash_capstyle="butt",
            **style,
        )

    def area(
        self,
        corners: Sequence[Point],
        role: str,
        width: float,
        *,
        fill: str | None = None,
        dash: tuple[float, ...] = (),
        hatch: str | None = None,
    ) -> None:
        """A closed outline; fill a color, or None for a hollow one."""
        style: dict[str, Any] = (
            {"linestyle": (0, tuple(d / max(width, 0.1) for d in dash))} if dash else {}
        )
        self.axes.add_patch(
            Area(
                list(map(self.at, corners)),
                closed=True,
                facecolor=fill or "none",
                edgecolor=color(role),
                linewidth=width,
                hatch=hatch,
                zorder=2,
                **style,
            )
        )

    def disc(self, at: Point, radius: float, role: str, width: float, fill: str | None) -> None:
        """A circle; radius and width in points."""
        self.axes.add_patch(
            Disc(
                self.at(at),
                radius / _POINTS_PER_INCH,
                facecolor=fill or "none",
                edgecolor=color(role),
                linewidth=width,
                zorder=2,
            )
        )


def _line(pen: _Pen, s: Line) -> None:
    em = pen.frame.em
    pen.stroke([pen.frame(p) for p in s.points], s.role, s.width * em, dash_of(s.role, s.dash, em))


def _polygon(pen: _Pen, s: Polygon) -> None:
    pen.area(
        [pen.frame(p) for p in s.points],
        s.role,
        s.width * pen.frame.em,
        fill=color(s.role, "fill") if s.fill else None,
        hatch=HATCH.get(s.role) if s.fill else None,
    )


def _circle(pen: _Pen, s: Circle) -> None:
    pen.disc(
        pen.frame(s.at),
        s.radius * abs(pen.frame.sx),
        s.role,
        s.width * pen.frame.em,
        color(s.role, "fill"),
    )


def _marker(pen: _Pen, s: Marker) -> None:
    corners = marker_corners(s, pen.frame)
    if corners is None:
        pen.disc(pen.frame(s.at), s.size * pen.frame.em / 2, s.role, 0, color(s.role))
    else:
        pen.area(corners, s.role, 0, fill=color(s.role))


def _arrow(pen: _Pen, s: Arrow) -> None:
    corners = arrow_corners(s, pen.frame)
    if corners:
        pen.area(
            corners,
            s.role,
            0.08 * pen.frame.em,
            fill=None if s.ghost else color(s.role),
            dash=dash_of(s.role, True, pen.frame.em) if s.ghost else (),
        )


def _dimension(pen: _Pen, s: Dimension) -> None:
    for stroke in dimension_strokes(s, pen.frame):
        pen.stroke(stroke, s.role, 0.09 * pen.frame.em)


_DRAW: dict[type, Callable[[_Pen, Any], None]] = {
    Line: _line,
    Polygon: _polygon,
    Circle: _circle,
    Marker: _marker,
    Arrow: _arrow,
    Dimension: _dimension,
}


def _words(pen: _Pen, placed: Placed) -> None:
    """Words in the middle of their box, on a patch of paper.

    They are real letters, so that a page can be searched.
    """
    left, top, right, bottom = placed.box
    (x0, y0), (x1, y1) = pen.at((left, top)), pen.at((right, bottom))
    if not placed.label.fixed:  # fixed words have their own place, with nothing under them
        pen.axes.add_patch(
            Rectangle(
                (x0, y0),
                x1 - x0,
                y1 - y0,
                facecolor=PAPER[0],
                edgecolor="none",
                alpha=0.85,
                zorder=3,
            )
        )
    pen.axes.text(
        (x0 + x1) / 2,
        (y0 + y1) / 2,
        placed.text,
        fontsize=placed.size * _LETTER_WIDTH,
        color=color(placed.label.role, "text"),
        weight="bold" if placed.label.bold else "normal",
        ha="center",
        va="center",
        linespacing=1.1,
        zorder=4,
    )


def draw_scene(
    axes: Axes,
    scene: Scene,
    left: float,
    top: float,
    width: float,
    height: float,
    font: float = 11.0,
) -> list[Placed]:
    """Draw a scene into a rectangle of a page.

    axes        matplotlib Axes in inches, y downwards, one inch the same both ways
    left, top, width, height   of the rectangle, inches; font  size of the letters, points
    Returns the words as they were placed.
    """
    pen = _Pen(axes, scene, left, top, width, height, font)
    for shape in scene.shapes:
        if not isinstance(shape, Label):
            _DRAW[type(shape)](pen, shape)
    placed = place(scene, pen.view, pen.frame)
    for one in placed:
        if ends := leader_ends(one, pen.frame):
            pen.stroke(ends, one.label.role, 0.06 * pen.frame.em, (1, 2))
        _words(pen, one)
    return placed
