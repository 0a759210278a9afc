"""The plank of lesson 01 on its two pipes, the sandbag that stays on it, and the jug."""

from leverarm.numerals import Numeric
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.plank_case import ENDS
from leverarm.stage.sheet import area
from leverarm.stage.stand import Stand, platform

_HALF_SCALE_M, _PIPE_M, _THICK_M = 0.15, 0.027, 0.038
# The sandbag lies a quarter of the way in from the right pipe: 12 in of 48.
_BAG_AT, _HALF_BAG_M, _BAG_M = 0.75, 0.13, 0.12
# The jug's outline round the middle of its foot, meters to the right and up.
_JUG = (
    (-0.075, 0.0),
    (-0.085, 0.02),
    (-0.085, 0.15),
    (-0.035, 0.22),
    (-0.035, 0.25),
    (0.035, 0.25),
    (0.035, 0.22),
    (0.085, 0.15),
    (0.085, 0.02),
    (0.075, 0.0),
)
_JUG_HIGH_M = 0.25


def _top(stand: Stand) -> Numeric:
    """How high the plank's upper face is, before it leans."""
    return stand.ground - (2 * _PIPE_M + _THICK_M) * stand.sheet.per_m


def scales_under_plank(stand: Stand) -> Element:
    """The two bathroom scales."""
    return element("g", (platform(stand, axle, _HALF_SCALE_M) for axle in ("front", "rear")))


def plank_parts(stand: Stand) -> Element:
    """The plank with its pipes: gray, only scales carry color."""
    scale = stand.sheet.per_m
    ends = ENDS * stand.apart_m
    low, top = stand.ground - 2 * _PIPE_M * scale, _top(stand)
    left, right = stand.at(0.0, -ends, 0)[0], stand.at(1.0, ends, 0)[0]
    pipes = [
        element(
            "circle",
            class_="st-area-tire",
            cx=px(x),
            cy=px(y - _PIPE_M * scale),
            r=f"{_PIPE_M * scale:.1f}",
            stroke_width="1.6",
        )
        for x, y in (stand.at(0.0, 0, 0), stand.at(1.0, 0, 0))
    ]
    board = area([(left, low), (right, low), (right, top), (left, top)], "machine")
    return element("g", *pipes, board)


def sandbag(stand: Stand) -> Element:
    """The sandbag, which stays where it lies."""
    scale, x, y = stand.sheet.per_m, stand.at(_BAG_AT, 0, 0)[0], _top(stand)
    half, high = _HALF_BAG_M * scale, _BAG_M * scale
    path = (
        f"M{px(x - half)} {px(y)}Q{px(x - 1.25 * half)} {px(y - high)} {px(x - 0.5 * half)} "
        f"{px(y - high)}H{px(x + 0.5 * half)}Q{px(x + 1.25 * half)} {px(y - high)} "
        f"{px(x + half)} {px(y)}Z"
    )
    return element("path", class_="st-area-machine", d=path, stroke_width="1.6")


def jug(stand: Stand, x: Numeric, *, there: bool = True) -> Element:
    """The jug above x; not there yet, it is dashed."""
    scale, y = stand.sheet.per_m, _top(stand)
    return element(
        "polygon",
        class_="st-area-piece" if there else "st-area-ghost",
        points=corners([(x + dx * scale, y - dy * scale) for dx, dy in _JUG]),
        stroke_width="2.2",
        fill=f"url(#st@-{stand.sheet.name}-hung)" if there else "none",
    )


def above_jug(stand: Stand, x: Numeric) -> tuple[Numeric, Numeric]:
    """Where the arrow of the jug's weight ends."""
    return x, _top(stand) - _JUG_HIGH_M * stand.sheet.per_m - 4
