"""The side view: a machine on two scales, what hangs on it, and what the scales read.

The machine faces left, as on the blackboard.  Arrows are drawn to the scale shown
in the picture; a hollow arrow shows what was there before.
"""

import math
from collections.abc import Sequence

from leverarm.axles import AxleLoads
from leverarm.machine import Attachment, Tractor
from leverarm.quantities import from_unit, show_number, to_unit, unit_of
from leverarm.scene import outline
from leverarm.scene.machine_drawing import (
    PAD_M,
    PLAIN,
    Look,
    ground,
    leant,
    nothing_left,
    reaction_arrows,
    round_up,
    stepped_box,
)
from leverarm.scene.shapes import (
    Arrow,
    Box,
    Dimension,
    Label,
    Line,
    Marker,
    Point,
    Scene,
    Shape,
    extent,
    turned,
)


def round_down(number: float) -> float:
    """The 1, 2 or 5 times a power of ten not above a number.

    >>> round_down(390.0), round_down(1000.0)
    (200.0, 1000.0)
    """
    power = 10.0 ** math.floor(math.log10(number) + 1e-9)
    return next(n * power for n in (5, 2, 1) if n * power <= number * (1 + 1e-9))


def side_view(
    tractor: Tractor,
    attachments: Sequence[Attachment] = (),
    loads: AxleLoads | None = None,
    *,
    before: AxleLoads | None = None,
    look: Look = PLAIN,
) -> Scene:
    """A machine on two scales as a Scene.

    tractor, attachments   what stands there, in meters and kg
    loads       AxleLoads the scales read now; None shows the machine without readings
    before      AxleLoads of an earlier set-up, drawn as hollow arrows
    look        unit system, hidden readings, grade
    """
    sheet = _Sheet(tractor, attachments, loads, before, look)
    lifted = loads if loads and loads.lift and not look.hidden else None
    machine, points = _machine(tractor, attachments, lifted)
    shapes: list[Shape] = [
        *_ground(tractor, attachments, look),
        *machine,
        *reaction_arrows(
            tractor.wheelbase_m,
            loads,
            before,
            sheet.scale,
            look,
            down=-1.3 if before else -0.9,
        ),
        *_dimensions(sheet),
    ]
    if look.grade_deg:
        shapes = list(turned(shapes, (0.0, 0.0), look.grade_deg))
        points = turned(points, (0.0, 0.0), look.grade_deg)
    shapes += [*_weights(attachments, points, sheet), *_remarks(tractor, lifted, look)]
    rows = 1.6 * sheet.rows + 1.9
    shapes += _scale_bar(extent(shapes), sheet, rows - 0.9)
    return Scene(
        tuple(shapes),
        stepped_box(shapes),
        _title(tractor, attachments),
        _desc(sheet),
        (1.0, 1.0, 2.6, rows),
    )


class _Sheet:
    """What one side view is drawn from, and the scale of its arrows."""

    def __init__(
        self,
        tractor: Tractor,
        attachments: Sequence[Attachment],
        loads: AxleLoads | None,
        before: AxleLoads | None,
        look: Look,
    ) -> None:
        self.tractor, self.attachments, self.look = tractor, attachments, look
        self.loads, self.before = loads, before
        shown = [one for one in (loads, before) if one]
        weights = [kg for one in shown for kg in (one.front_kg, one.rear_kg)]
        stations = [0.0, -tractor.wheelbase_m, *(one.ahead_m for one in attachments)]
        self.longest = 0.24 * (
            max(stations) - min(stations) + 1.6 * outline.size_of(tractor.wheelbase_m)
        )
        self.scale = self.longest / round_up(
            max([*weights, *(one.weight_kg for one in attachments), 1e-6])
        )
        self.drawn = bool(weights or attachments)
        # Under the ground: the arrows, and below them one row for each dimension line that needs
        # its own.
        self.low = -PAD_M - (self.longest if weights else 0.0)
        self.rows = max(1, sum(one.ahead_m > 0 for one in attachments)) + sum(
            one.ahead_m < 0 for one in attachments
        )


def height_of(one: Attachment, wheelbase_m: float) -> float:
    """Where a piece is drawn: at its given height, or where such a thing usually hangs."""
    if one.height_m is not None:
        return one.height_m
    u = outline.size_of(wheelbase_m)
    inside = -wheelbase_m - 0.3 * u < one.ahead_m < outline.nose(wheelbase_m)
    return (1.2 if inside else 0.4) * u


def _machine(
    tractor: Tractor, attachments: Sequence[Attachment], lifted: AxleLoads | None
) -> tuple[tuple[Shape, ...], tuple[Marker, ...]]:
    """The machine with its pieces, and a Marker at each piece's center of gravity."""
    L = tractor.wheelbase_m
    points = tuple(
        Marker((one.ahead_m, height_of(one, L)), "ink", "round", 0.4) for one in attachments
    )
    shapes = (*outline.tractor(L), *hung_pieces(L, [p.at for p in points]))
    lift = lifted.lift if lifted else None
    return leant(shapes, L, lift), leant(points, L, lift)


def hung_pieces(L: float, places: list[Point]) -> list[Shape]:
    """The piece farthest ahead of the nose is a bucket on arms; any other is a block."""
    ahead = max(places, default=None)
    if ahead is None or ahead[0] <= outline.nose(L) + 0.15 * outline.size_of(L):
        return [part for at in places for part in outline.block(L, at)]
    # What hangs low or behind the machine is its own block; a loader frame is drawn as the arms
    # already.
    blocks = [
        part
        for at in places
        if at != ahead and (at[0] < -L or at[1] < 0.5 * outline.size_of(L))
        for part in outline.block(L, at)
    ]
    return [*blocks, *outline.arms(L, ahead), *outline.bucket(L, ahead)]


def _ground(tractor: Tractor, attachments: Sequence[Attachment], look: Look) -> list[Shape]:
    """The ground under everything that is drawn."""
    L, u = tractor.wheelbase_m, outline.size_of(tractor.wheelbase_m)
    marks = [L - 0.4 * u] if look.doubling else []
    ahead = max([one.ahead_m for one in attachments] + [outline.nose(L), *marks]) + 0.5 * u
    behind = min([one.ahead_m for one in attachments] + [-L - 0.54 * u]) - 0.1 - 0.2 * L
    return ground(L, ahead, behind)


def _dimensions(sheet: _Sheet) -> list[Shape]:
    """Wheelbase and overhangs in rows under the arrows; the first two share a row."""
    L = sheet.tractor.wheelbase_m
    ahead = sorted(
        (one for one in sheet.attachments if one.ahead_m > 0), key=lambda one: -one.ahead_m
    )
    behind = sorted(
        (one for one in sheet.attachments if one.ahead_m < 0), key=lambda one: -one.ahead_m
    )
    rows = [*enumerate(ahead), *enumerate(behind, max(1, len(ahead)))]
    several = len(sheet.attachments) > 1
    shapes = [part for row, one in rows for part in _overhang(one, several, row, sheet)]
    axles = [
        Line(((x, sheet.low), (x, sheet.low, 0, -1.3)), "muted", 0.06, dash=True) for x in (0.0, -L)
    ]
    return [*axles, *shapes, _dimension(-L, L, 0, "wheelbase", "ink", sheet)]


def _dimension(
    a: float, length_m: float, row: int, name: str, role: str, sheet: _Sheet
) -> Dimension:
    """From a station to the front axle, in a row under the arrows."""
    up, length, b = -0.9 - 1.6 * row, sheet.look.length(length_m), 0.0
    return Dimension(
        (a, sheet.low, 0.0, up), (b, sheet.low, 0.0, up), f"{name} {length}", role, length
    )


def _overhang(one: Attachment, several: bool, row: int, sheet: _Sheet) -> list[Shape]:
    """From the front axle to a piece, with a thin line up to it."""
    x, name = one.ahead_m, one.name if several else "overhang"
    down = Line(((x, -PAD_M), (x, sheet.low, 0.0, -1.3 - 1.6 * row)), "muted", 0.06, dash=True)
    return [down, _dimension(x, x, row, name, "load", sheet)]


def _weights(
    attachments: Sequence[Attachment], points: Sequence[Marker], sheet: _Sheet
) -> list[Shape]:
    """Each piece's weight, pushing down on its center of gravity."""
    shapes: list[Shape] = []
    for one, point in zip(attachments, points):
        x, y = point.at
        weight = sheet.look.weight(one.weight_kg)
        tail = (x, y + one.weight_kg * sheet.scale)
        over = (x, max(tail[1], y + 0.28 * outline.size_of(sheet.tractor.wheelbase_m)))
        shapes += [
            Arrow(tail, (x, y), "load", width=0.42),
            point,
            Label(
                over,
                f"{one.name} {weight}",
                "load",
                "up",
                0.25,
                short=f"{one.name}\n{weight}",
                bold=True,
            ),
        ]
    return shapes


def _remarks(tractor: Tractor, lifted: AxleLoads | None, look: Look) -> list[Shape]:
    """Where a weight counts double; that an axle carries nothing."""
    shapes: list[Shape] = []
    L = tractor.wheelbase_m
    if look.doubling:
        high = 1.5 * outline.size_of(L)
        shapes += [
            Line(((L, -PAD_M), (L, high)), "muted", 0.08, dash=True),
            Label(
                (L, high),
                "here it counts double",
                "muted",
                "up",
                0.2,
                short="double\nhere",
                size=0.9,
            ),
        ]
    if lifted and lifted.lift:
        shapes.append(nothing_left(lifted.lift, L, 1.95 * outline.size_of(L)))
    return shapes


def _scale_bar(reach: Box, sheet: _Sheet, down: float) -> list[Shape]:
    """A bar just as long as the arrow of a round weight, in the last row."""
    if not sheet.drawn:
        return []
    unit = unit_of("weight", sheet.look.system)
    kg = from_unit(round_down(to_unit(sheet.longest / sheet.scale, "weight", unit)), "weight", unit)
    x, y = reach[0] + kg * sheet.scale, reach[1]
    return [
        Dimension((x, y, 0.0, -down), (reach[0], y, 0.0, -down), "", "muted"),
        Label(
            (x, y, 0.0, -down),
            f"an arrow this long: {sheet.look.weight(kg, decimals=0)}",
            "muted",
            "left",
            0.6,
            short=sheet.look.weight(kg, decimals=0),
            size=0.85,
        ),
    ]


def _title(tractor: Tractor, attachments: Sequence[Attachment]) -> str:
    hung = " with " + ", ".join(one.name for one in attachments) if attachments else ""
    return f"{tractor.name} on two scales{hung}"


def _desc(sheet: _Sheet) -> str:
    """The picture in sentences, from its numbers."""
    tractor, attachments, look = sheet.tractor, sheet.attachments, sheet.look
    loads, before = sheet.loads, sheet.before
    sentences = [f"Side view, facing left. The wheelbase is {look.length(tractor.wheelbase_m)}."]
    sentences += [_place_sentence(one, look) for one in attachments]
    if look.grade_deg:
        sentences.append(f"The ground rises {show_number(look.grade_deg)} degrees toward the nose.")
    if before:
        sentences.append(
            f"Before, the front scale read {look.weight(before.front_kg)} and the rear "
            f"{look.weight(before.rear_kg)}."
        )
    if look.hidden:
        sentences.append("The readings now are kept back until you have predicted them.")
    elif loads:
        sentences.append(
            f"The front scale reads {look.weight(loads.front_kg)}, "
            f"the rear {look.weight(loads.rear_kg)}, "
            f"together {look.weight(loads.total_kg)}."
        )
    if loads and loads.lift and not look.hidden:
        sentences.append(f"The {loads.lift.axle} axle carries nothing and has left its scale.")
    return " ".join(sentences)


def _place_sentence(one: Attachment, look: Look) -> str:
    side = "ahead of" if one.ahead_m >= 0 else "behind"
    return (
        f"The {one.name}, {look.weight(one.weight_kg)}, "
        f"hangs {look.length(abs(one.ahead_m))} {side} the front axle."
    )
