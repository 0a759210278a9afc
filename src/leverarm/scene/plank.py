"""The plank on two bathroom scales, with a jug standing past one of them: the same lever."""

from leverarm import statics
from leverarm.quantities import show
from leverarm.scene.machine_drawing import round_up
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
    Shape,
    extent,
)

THICK_M = 0.04
SCALE_HIGH_M = 0.07
OVERLAP_M = 0.06


def plank_readings(
    plank_kg: float, jug_kg: float, ahead_m: float, span_m: float, length_m: float | None = None
) -> tuple[float, float]:
    """What the left and the right scale read.

    ahead_m  of the jug, past the left scale positive; the plank begins OVERLAP_M behind the right
             scale
    A plank that tips reads nothing on the scale it leaves.

    >>> [round(kg, 2) for kg in plank_readings(6.0, 4.0, 0.4, 1.4, 2.0)]
    [9.17, 0.83]
    """
    middle = _length(ahead_m, span_m, length_m) / 2 - span_m - OVERLAP_M
    left, right = statics.reactions([plank_kg, jug_kg], [middle, ahead_m], span_m)
    return (left + right, 0.0) if right < 0 else (0.0, left + right) if left < 0 else (left, right)


def _length(ahead_m: float, span_m: float, given: float | None) -> float:
    """The given length of the plank, or one that just reaches the jug."""
    return given or span_m + max(ahead_m, 0.0) + 2 * OVERLAP_M + 0.1


def plank_view(
    plank_kg: float,
    jug_kg: float,
    ahead_m: float,
    span_m: float,
    length_m: float | None = None,
    *,
    system: str | None = None,
    letters: bool = False,
    hidden: bool = False,
) -> Scene:
    """A plank on two scales as a Scene.

    letters     True writes W, a, L, F, R;  hidden  True keeps the readings back
    """
    left, right = plank_readings(plank_kg, jug_kg, ahead_m, span_m, length_m)
    scale = 0.3 * span_m / round_up(max(left, right, jug_kg))
    back, long = -span_m - OVERLAP_M, _length(ahead_m, span_m, length_m)
    shapes: list[Shape] = [Line(((back + long + 0.15, 0), (back - 0.25, 0)), "ground", 0.16)]
    for x, kg, role, side, name, letter in (
        (0.0, left, "front", "left", "left scale", "F"),
        (-span_m, right, "rear", "right", "right scale", "R"),
    ):
        reading = "?" if hidden else show(kg, "weight", system, decimals=1)
        text = letter if letters else f"{name}\n{reading}"
        shapes += [
            *_scale(x, role),
            *_push(x, 0.0 if hidden else kg, scale, role),
            Label((x, 0.0, 0.0, -1.5), text, role, side, 0.9, bold=True),
        ]
    shapes += [
        Polygon(_box(back + long, back, SCALE_HIGH_M, SCALE_HIGH_M + THICK_M)),
        *_jug(ahead_m, jug_kg, scale, system, letters),
    ]
    low = -scale * max(left, right) if not hidden else -0.25 * span_m
    shapes += _dimensions(ahead_m, span_m, low, system, letters)
    x0, y0, x1, y1 = extent(shapes)
    return Scene(
        tuple(shapes),
        (x1, y0, x0, y1),
        "A plank on two bathroom scales",
        _desc(plank_kg, jug_kg, ahead_m, span_m, left, right, system, hidden),
        (3.0, 3.0, 2.0, 2.8),
    )


def _box(front: float, back: float, low: float, high: float) -> tuple[Point, ...]:
    return ((front, low), (front, high), (back, high), (back, low))


def _scale(x: float, role: str) -> list[Shape]:
    """A bathroom scale with a roller on top, so that the plank rests on a line."""
    return [
        Polygon(_box(x + 0.15, x - 0.15, 0.0, SCALE_HIGH_M - 0.03), role),
        Circle((x, SCALE_HIGH_M - 0.015), 0.015, role),
    ]


def _push(x: float, kg: float, scale: float, role: str) -> list[Shape]:
    return [Arrow((x, -kg * scale), (x, 0.0), role, width=0.42)] if kg > 0 else []


def _jug(x: float, kg: float, scale: float, system: str | None, letters: bool) -> list[Shape]:
    """A jug standing on the plank, its weight as an arrow."""
    top = SCALE_HIGH_M + THICK_M
    body = (
        (x - 0.07, top),
        (x - 0.08, top + 0.17),
        (x - 0.05, top + 0.24),
        (x + 0.05, top + 0.24),
        (x + 0.08, top + 0.17),
        (x + 0.07, top),
    )
    tail = (x, top + 0.12 + kg * scale)
    return [
        Polygon(body, "load"),
        Arrow(tail, (x, top + 0.12), "load", width=0.42),
        Marker((x, top + 0.12), "ink", "round", 0.4),
        Label(
            (x, max(tail[1], top + 0.26)),
            "W" if letters else f"jug {show(kg, 'weight', system, decimals=1)}",
            "load",
            "up",
            0.3,
            bold=True,
        ),
    ]


def _dimensions(
    ahead_m: float, span_m: float, low: float, system: str | None, letters: bool
) -> list[Shape]:
    """The span between the scales and the overhang of the jug."""
    rows = [(-span_m, span_m, "L" if letters else "between the scales", "ink", 0.0)]
    rows += (
        [
            (
                ahead_m,
                ahead_m,
                "a" if letters else "overhang" if ahead_m > 0 else "from the left scale",
                "load",
                0.0 if ahead_m > 0 else -1.6,
            )
        ]
        if ahead_m
        else []
    )
    drops = [
        Line(((x, 0.0), (x, low, 0.0, -1.3 + up)), "muted", 0.06, dash=True) for x, *_, up in rows
    ]
    lines = []
    for x, length, name, role, up in rows:
        number = show(abs(length), "length", system)
        lines.append(
            Dimension(
                (x, low, 0.0, -0.9 + up),
                (0.0, low, 0.0, -0.9 + up),
                name if letters else f"{name} {number}",
                role,
                name if letters else number,
            )
        )
    return [*drops, *lines]


def _desc(
    plank_kg: float,
    jug_kg: float,
    ahead_m: float,
    span_m: float,
    left: float,
    right: float,
    system: str | None,
    hidden: bool,
) -> str:
    def kg(weight: float) -> str:
        return show(weight, "weight", system, decimals=1)

    side = "past it" if ahead_m > 0 else "from it, toward the right one"
    read = (
        "The readings are kept back."
        if hidden
        else (f"The left scale reads {kg(left)}, the right one {kg(right)}.")
    )
    return (
        f"A plank of {kg(plank_kg)} lies on two bathroom scales "
        f"{show(span_m, 'length', system)} apart. "
        f"Seen from the left scale, a jug of {kg(jug_kg)} stands "
        f"{show(abs(ahead_m), 'length', system)} {side}. {read}"
    )
