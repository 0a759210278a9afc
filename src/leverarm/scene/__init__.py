"""Pictures as shapes in meters, and the one SVG text made of them.

A scene is data: shapes with a meaning (a role), the part of the world shown, a
title and a description that a screen reader speaks.  :func:`svg` draws it; the
printed pages walk the same shapes.  A chart is a scene whose box is in the units
of its axes.

Shapes      Line, Polygon, Circle, Marker, Arrow, Dimension, Label, Scene; turned
Roles       front (solid, round), rear (dashed, square), load, counter, body, ground, muted, ink
Drawing     svg(scene, view=WIDE, *, key=None, style=True, card=False) -> str
            picture(scene, *, key=None, large=False) -> str: wide and narrow sheet in one, for a
            page
            page_style() -> str: the rules a page needs once; formula_rules() those of formulas
            place(scene, view) -> where every label stands (for print and for tests)
Sheets      View(width, height, font), WIDE, NARROW, LARGE
Charts      line_chart(title, desc, x, y, curves, bands=, marks=), bar_chart(title, desc, y, bars,
            marks=, joined=, room=)
            Axis(name, start, end), Curve(name, points, role), Band(points), Bar(name, end, start),
            Mark(name, x)
"""

from leverarm.scene.chart import Axis, Band, Bar, Curve, Mark, bar_chart, line_chart, ticks
from leverarm.scene.layout import LARGE, NARROW, WIDE, Frame, View, place
from leverarm.scene.render import formula_rules, page_style, picture, svg
from leverarm.scene.shapes import (
    Arrow,
    Circle,
    Dimension,
    Label,
    Line,
    Marker,
    Polygon,
    Scene,
    turned,
)

__all__ = [
    "LARGE",
    "NARROW",
    "WIDE",
    "Arrow",
    "Axis",
    "Band",
    "Bar",
    "Circle",
    "Curve",
    "Dimension",
    "Frame",
    "Label",
    "Line",
    "Mark",
    "Marker",
    "Polygon",
    "Scene",
    "View",
    "bar_chart",
    "formula_rules",
    "line_chart",
    "page_style",
    "picture",
    "place",
    "svg",
    "ticks",
    "turned",
]
