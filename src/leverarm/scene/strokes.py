"""How arrows, markers and dimension lines are drawn: as points on the sheet, for the screen and for print alike."""

from math import hypot

from leverarm.scene.palette import ROLES

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


def along(tail, tip):
    """Length and direction of a line on the sheet.

    >>> along((0, 0), (3, 4))
    (5.0, (0.6, 0.8))
    """
    dx, dy = tip[0] - tail[0], tip[1] - tail[1]
    length = hypot(dx, dy)
    return length, (dx / length, dy / length) if length else (0.0, 0.0)


def dash_of(role, broken, em):
    """The dash of a line in units of the sheet: its role's own, unless it says otherwise; () for a solid one."""
    dash = ROLES[role].dash if broken is None else ((5, 4) if broken else ())
    return tuple(d * em / 16 for d in dash)


def marker_corners(marker, frame):
    """Corners of a marker, or None for a round one."""
    (x, y), half = frame(marker.at), marker.size * frame.em / 2
    mark = marker.mark or ROLES[marker.role].marker
    return None if mark == "round" else [(x + dx * half, y + dy * half) for dx, dy in _MARKS[mark]]


def arrow_corners(arrow, frame):
    """Shaft and head as one outline; the head shrinks with a short arrow, and a zero arrow has none."""
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


def dimension_strokes(dimension, frame):
    """A dimension line as pairs of points: the line, its two end strokes, a small head at each end where there is room."""
    a, b = frame(dimension.a), frame(dimension.b)
    length, (ux, uy) = along(a, b)
    em, tick = frame.em, 0.4 * frame.em
    strokes = [(a, b)] + [
        ((x - uy * tick, y + ux * tick), (x + uy * tick, y - ux * tick)) for x, y in (a, b)
    ]
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


def leader_ends(placed, frame):
    """Ends of the thin line back to its point, for words that stepped far aside; None where they did not."""
    left, top, right, bottom = placed.box
    x, y = frame(placed.label.at)
    nearest = min(max(x, left), right), min(max(y, top), bottom)
    return (
        ((x, y), nearest) if placed.moved and along((x, y), nearest)[0] >= 1.3 * frame.em else None
    )
