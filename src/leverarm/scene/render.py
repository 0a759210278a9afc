"""A scene as SVG text: crisp at any size, read aloud, following the theme of the page.

The same scene on the same sheet gives the same bytes.
"""

from hashlib import sha1
from html import escape

from leverarm.scene.layout import LARGE, LINE, NARROW, WIDE, Frame, place
from leverarm.scene.palette import style_sheet
from leverarm.scene.shapes import Arrow, Circle, Dimension, Label, Line, Marker, Polygon
from leverarm.scene.strokes import (
    arrow_corners,
    dash_of,
    dimension_strokes,
    leader_ends,
    marker_corners,
)


def _n(number):
    """A coordinate: one decimal, no trailing zero, no minus zero."""
    text = f"{number:.1f}"
    return {"-0.0": "0"}.get(text, text.removesuffix(".0"))


def _numbers(text):
    """Many coordinates at once, each as `_n` has it; they end at a comma, a space, a letter or the text's end.

    >>> _numbers("1.0,-0.0 12.5,10.0")
    '1,0 12.5,10'
    """
    text = text.replace("-0.0", "0")
    for end in ", LM":
        text = text.replace(f".0{end}", end)
    return text.removesuffix(".0")


def _points(points):
    return _numbers(" ".join([f"{x:.1f},{y:.1f}" for x, y in points]))


def _dash(role, broken, em):
    """The dash of a line as an attribute."""
    dash = dash_of(role, broken, em)
    return f' stroke-dasharray="{" ".join(map(_n, dash))}"' if dash else ""


def _line(s, frame):
    return (
        f'<polyline class="lv-line-{s.role}" points="{_points(map(frame, s.points))}" '
        f'stroke-width="{_n(s.width * frame.em)}"{_dash(s.role, s.dash, frame.em)}/>'
    )


def _polygon(s, frame):
    kind = "area" if s.fill else "line"
    return (
        f'<polygon class="lv-{kind}-{s.role}" points="{_points(map(frame, s.points))}" '
        f'stroke-width="{_n(s.width * frame.em)}"/>'
    )


def _circle(s, frame):
    (x, y), kind = frame(s.at), "area" if s.fill else "line"
    return (
        f'<circle class="lv-{kind}-{s.role}" cx="{_n(x)}" cy="{_n(y)}" r="{_n(s.radius * abs(frame.sx))}" '
        f'stroke-width="{_n(s.width * frame.em)}"/>'
    )


def _marker(s, frame):
    corners = marker_corners(s, frame)
    if corners is None:
        (x, y), half = frame(s.at), s.size * frame.em / 2
        return f'<circle class="lv-solid-{s.role}" cx="{_n(x)}" cy="{_n(y)}" r="{_n(half)}"/>'
    return f'<polygon class="lv-solid-{s.role}" points="{_points(corners)}"/>'


def _arrow(s, frame):
    outline = _points(arrow_corners(s, frame))
    if not outline:
        return ""
    if s.ghost:
        return (
            f'<polygon class="lv-line-{s.role}" points="{outline}" stroke-width="{_n(0.08 * frame.em)}"'
            f"{_dash(s.role, True, frame.em)}/>"
        )
    return f'<polygon class="lv-solid-{s.role}" points="{outline}"/>'


def _dimension(s, frame):
    path = _numbers(
        "".join(
            [
                f"M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}"
                for (x0, y0), (x1, y1) in dimension_strokes(s, frame)
            ]
        )
    )
    return f'<path class="lv-line-{s.role}" d="{path}" stroke-width="{_n(0.09 * frame.em)}"/>'


_DRAW = {
    Line: _line,
    Polygon: _polygon,
    Circle: _circle,
    Marker: _marker,
    Arrow: _arrow,
    Dimension: _dimension,
}


def _text(placed):
    """Words with a halo, centered in their box, so that another font's width does no harm."""
    left, top, right, _ = placed.box
    lines, step, middle = placed.text.split("\n"), LINE * placed.size, _n((left + right) / 2)
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
        f'<text class="lv-text-{placed.label.role} lv-halo" x="{middle}" y="{_n(top + 0.78 * step)}" '
        f'text-anchor="middle" font-size="{_n(placed.size)}"{bold}>{inside}</text>'
    )


def _backing(placed):
    """A piece of paper behind words that stand on a line."""
    left, top, right, bottom = placed.box
    return (
        ""
        if not placed.label.backed
        else (
            f'<rect class="lv-paper" x="{_n(left)}" y="{_n(top)}" width="{_n(right - left)}" height="{_n(bottom - top)}"/>'
        )
    )


def _leader(placed, frame):
    """A thin line back to the point, for words that stepped far aside."""
    ends = leader_ends(placed, frame)
    if ends is None:
        return ""
    (x, y), nearest = ends
    return (
        f'<path class="lv-line-{placed.label.role}" d="M{_n(x)} {_n(y)}L{_n(nearest[0])} {_n(nearest[1])}" '
        f'stroke-width="{_n(0.06 * frame.em)}" stroke-dasharray="1 2"/>'
    )


def body(scene, view):
    """Everything inside the picture: shapes in their order, then words on top."""
    frame = Frame(scene, view)
    drawn = [_DRAW[type(s)](s, frame) for s in scene.shapes if not isinstance(s, Label)]
    placed = place(scene, view, frame)
    return "".join(drawn + [_leader(p, frame) for p in placed] + [_text(p) for p in placed])


def svg(scene, view=WIDE, *, key=None, style=True, card=False):
    """The scene as one SVG element, named and described for a screen reader.

    view    the sheet: WIDE, NARROW, LARGE or a View of your own
    key     what makes its ids unique on the page; by default they come from its content
    style   False leaves the style sheet out, where the page already has it
    card    True draws the paper behind it: for a file that stands on any page

    >>> from leverarm.scene import Scene, Marker, svg
    >>> svg(Scene((Marker((0, 0)),), (-1, -1, 1, 1), "A point", "One point."), key="p", style=False)[:24]
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
        f'<title id="{key}-t">{escape(scene.title)}</title><desc id="{key}-d">{escape(scene.desc)}</desc>'
        + (f"<style>{style_sheet()}</style>" if style else "")
        + ('<rect class="lv-paper" width="100%" height="100%"/>' if card else "")
        + inside
        + "</svg>"
    )


def picture(scene, *, key=None, large=False, views=(WIDE, NARROW)):
    """The scene for a page of any width: a wide and a narrow sheet, of which the page shows one.

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


def page_style():
    """The style sheet a page needs for :func:`picture`, as text."""
    return (
        style_sheet() + ".lv-pic{container-type:inline-size;width:100%}"
        ".lv-pic svg{width:100%;height:auto;display:block;max-width:64rem;max-height:85vh}"
        ".lv-pic .lv-narrow{display:none;max-width:26rem}@container(max-width:30rem){"
        ".lv-pic .lv-narrow{display:block}.lv-pic .lv-wide{display:none}}"
    )
