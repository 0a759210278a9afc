"""The side view: a machine on two scales, what hangs on it, and what the scales read.

The machine faces left, as on the blackboard.  Arrows are drawn to the scale shown
in the picture; a dashed outline shows what was there before.
"""

import math
from dataclasses import dataclass

from leverarm.quantities import from_unit, show, show_number, to_unit, unit_of
from leverarm.scene import outline
from leverarm.scene.shapes import (
    Arrow,
    Dimension,
    Label,
    Line,
    Marker,
    Polygon,
    Scene,
    extent,
    turned,
)

PAD_M = 0.06
LIFTED_DEG = 3.0


@dataclass(frozen=True)
class Look:
    """How a side view is shown.

    system      unit system
    hidden      True keeps the readings back: a prediction comes first
    doubling    True marks where a hung weight counts double
    grade_deg   nose uphill positive
    """

    system: str = "kg"
    hidden: bool = False
    doubling: bool = False
    grade_deg: float = 0.0

    def weight(self, kg, **how):
        """A weight as text in the system shown."""
        return show(kg, "weight", self.system, **how)

    def length(self, m, **how):
        """A length as text in the system shown."""
        return show(m, "length", self.system, **how)


def round_up(kg):
    """The next of 1, 1.5, 2, 3, 5, 7 times a power of ten.

    >>> round_up(790.0), round_up(1600)
    (1000.0, 2000.0)
    """
    power = 10.0 ** math.floor(math.log10(kg))
    return next(n * power for n in (1, 1.5, 2, 3, 5, 7, 10) if n * power >= kg * (1 - 1e-9))


def round_down(number):
    """The 1, 2 or 5 times a power of ten not above a number.

    >>> round_down(390.0), round_down(1000.0)
    (200.0, 1000.0)
    """
    power = 10.0 ** math.floor(math.log10(number) + 1e-9)
    return next(n * power for n in (5, 2, 1) if n * power <= number * (1 + 1e-9))


def side_view(tractor, attachments=(), loads=None, *, before=None, look=Look()):
    """A machine on two scales as a Scene.

    tractor, attachments   what stands there, in meters and kg
    loads       AxleLoads the scales read now; None shows the machine without readings
    before      AxleLoads of an earlier state, drawn as dashed outlines
    look        unit system, hidden readings, grade
    """
    sheet = _Sheet(tractor, attachments, loads, before, look)
    lifted = loads if loads and loads.lift and not look.hidden else None
    machine, points = _machine(tractor, attachments, lifted)
    shapes = [
        *_ground(tractor, attachments, look),
        *machine,
        *_reactions(sheet),
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
        _box(shapes),
        _title(tractor, attachments),
        _desc(sheet),
        (1.0, 1.0, 2.6, rows),
    )


class _Sheet:
    """What one side view is drawn from, and the scale of its arrows."""

    def __init__(self, tractor, attachments, loads, before, look):
        self.tractor, self.attachments, self.loads, self.before, self.look = (
            tractor,
            attachments,
            loads,
            before,
            look,
        )
        states = [state for state in (loads, before) if state]
        weights = [kg for state in states for kg in (state.front_kg, state.rear_kg)]
        stations = [0.0, -tractor.wheelbase_m, *(one.ahead_m for one in attachments)]
        self.longest = 0.24 * (
            max(stations) - min(stations) + 1.6 * outline.size_of(tractor.wheelbase_m)
        )
        self.scale = self.longest / round_up(
            max([*weights, *(one.weight_kg for one in attachments), 1e-6])
        )
        self.drawn = bool(weights or attachments)
        # Under the ground: the arrows, and below them one row for each dimension line that needs its own.
        self.low = -PAD_M - (self.longest if weights else 0.0)
        self.rows = max(1, sum(one.ahead_m > 0 for one in attachments)) + sum(
            one.ahead_m < 0 for one in attachments
        )


def height_of(one, wheelbase_m):
    """Where a piece is drawn: at its told height, or where such a thing usually hangs."""
    if one.height_m is not None:
        return one.height_m
    u = outline.size_of(wheelbase_m)
    inside = -wheelbase_m - 0.3 * u < one.ahead_m < outline.nose(wheelbase_m)
    return (1.2 if inside else 0.4) * u


def _machine(tractor, attachments, lifted):
    """The drawing of the machine with its pieces, and a Marker at each piece's center of gravity."""
    L = tractor.wheelbase_m
    points = tuple(
        Marker((one.ahead_m, height_of(one, L)), "ink", "round", 0.4) for one in attachments
    )
    shapes = (*outline.tractor(L), *_pieces(L, [p.at for p in points]))
    if not lifted:
        return shapes, points
    lean = -LIFTED_DEG if lifted.lift.axle == "rear" else LIFTED_DEG
    pivot = (0.0, 0.0) if lifted.lift.axle == "rear" else (-L, 0.0)
    return turned(shapes, pivot, lean), turned(points, pivot, lean)


def _pieces(L, places):
    """The piece farthest ahead of the nose is a bucket on arms; any other is a block."""
    ahead = max(places, default=None)
    if ahead is None or ahead[0] <= outline.nose(L) + 0.15 * outline.size_of(L):
        return [part for at in places for part in outline.block(L, at)]
    # What hangs low or behind the machine is its own block; a loader frame is drawn as the arms already.
    blocks = [
        part
        for at in places
        if at != ahead and (at[0] < -L or at[1] < 0.5 * outline.size_of(L))
        for part in outline.block(L, at)
    ]
    return [*blocks, *outline.arms(L, ahead), *outline.bucket(L, ahead)]


def _ground(tractor, attachments, look):
    """The ground line and the two scale platforms under the wheels."""
    L, u = tractor.wheelbase_m, outline.size_of(tractor.wheelbase_m)
    marks = [L - 0.4 * u] if look.doubling else []
    ahead = max([one.ahead_m for one in attachments] + [outline.nose(L), *marks]) + 0.5 * u
    behind = min([one.ahead_m for one in attachments] + [-L - 0.54 * u]) - 0.1 - 0.2 * L
    pads = [
        Polygon(
            ((x - 0.26 * u, 0), (x + 0.26 * u, 0), (x + 0.26 * u, -PAD_M), (x - 0.26 * u, -PAD_M)),
            role,
        )
        for x, role in ((0.0, "front"), (-L, "rear"))
    ]
    return [Line(((ahead, -PAD_M), (behind, -PAD_M)), "ground", 0.16), *pads]


def _dimensions(sheet):
    """Wheelbase and overhangs in rows under the arrows; the first overhang shares the wheelbase's row."""
    L, look = sheet.tractor.wheelbase_m, sheet.look
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


def _dimension(a, length_m, row, name, role, sheet):
    """From a station to the front axle, in a row under the arrows."""
    up, length, b = -0.9 - 1.6 * row, sheet.look.length(length_m), 0.0
    return Dimension(
        (a, sheet.low, 0.0, up), (b, sheet.low, 0.0, up), f"{name} {length}", role, length
    )


def _overhang(one, several, row, sheet):
    """From the front axle to a piece, with a thin line up to it."""
    x, name = one.ahead_m, one.name if several else "overhang"
    down = Line(((x, -PAD_M), (x, sheet.low, 0.0, -1.3 - 1.6 * row)), "muted", 0.06, dash=True)
    return [down, _dimension(x, x, row, name, "load", sheet)]


def _reactions(sheet):
    """What each scale pushes up, with its reading; before as a dashed outline."""
    shapes = []
    for x, axle, side in ((0.0, "front", "left"), (-sheet.tractor.wheelbase_m, "rear", "right")):
        was, now = (
            getattr(state, f"{axle}_kg") if state else None for state in (sheet.before, sheet.loads)
        )
        now = None if sheet.look.hidden else now
        shapes += [
            _push(x, kg, axle, sheet.scale, ghost)
            for kg, ghost in ((was, True), (now, False))
            if kg
        ]
        if sheet.before or sheet.loads:
            shapes.append(
                _reading(
                    (x, -PAD_M, 0.0, -1.3 if sheet.before else -0.9),
                    axle,
                    side,
                    was,
                    now,
                    sheet.look,
                )
            )
    return shapes


def _push(x, kg, axle, scale, ghost):
    return Arrow((x, -PAD_M - kg * scale), (x, -PAD_M), axle, ghost, 0.85 if ghost else 0.42)


def _reading(at, axle, side, was, now, look):
    """The reading of one scale beside its arrow: now, and what it was."""
    name, new = axle.capitalize(), "?" if now is None else look.weight(now)
    old = "" if was is None else f"\nwas {look.weight(was)}"
    return Label(at, f"{name} {new}{old}", axle, side, 0.9, short=f"{name}\n{new}", bold=True)


def _weights(attachments, points, sheet):
    """Each piece's weight, pushing down on its center of gravity."""
    shapes = []
    for one, point in zip(attachments, points):
        (x, y), weight = point.at, sheet.look.weight(one.weight_kg)
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


def _remarks(tractor, lifted, look):
    """Where a weight counts double; that an axle carries nothing."""
    shapes, L = [], tractor.wheelbase_m
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
    if lifted:
        axle = lifted.lift.axle
        at = (-L if axle == "rear" else 0.0, 1.95 * outline.size_of(L))
        shapes.append(
            Label(
                at,
                f"The {axle} axle carries nothing",
                axle,
                "up",
                0.2,
                short=f"{axle} axle:\nnothing left",
                bold=True,
            )
        )
    return shapes


def _box(shapes):
    """What is shown: all of it, the front edge in steps, so that a small move does not rescale the picture."""
    low, bottom, high, top = extent([s for s in shapes if not isinstance(s, Label)])
    return math.ceil(high * 4) / 4, bottom, math.floor(low * 4) / 4, math.ceil(top * 5) / 5


def _scale_bar(reach, sheet, down):
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


def _title(tractor, attachments):
    hung = " with " + ", ".join(one.name for one in attachments) if attachments else ""
    return f"{tractor.name} on two scales{hung}"


def _desc(sheet):
    """The picture in sentences, from its numbers."""
    tractor, attachments, loads, before, look = (
        sheet.tractor,
        sheet.attachments,
        sheet.loads,
        sheet.before,
        sheet.look,
    )
    said = [f"Side view, facing left. The wheelbase is {look.length(tractor.wheelbase_m)}."]
    said += [_said(one, look) for one in attachments]
    if look.grade_deg:
        said.append(f"The ground rises {show_number(look.grade_deg)} degrees toward the nose.")
    if before:
        said.append(
            f"Before, the front scale read {look.weight(before.front_kg)} and the rear {look.weight(before.rear_kg)}."
        )
    if look.hidden:
        said.append("The readings now are kept back until you have predicted them.")
    elif loads:
        said.append(
            f"The front scale reads {look.weight(loads.front_kg)}, the rear {look.weight(loads.rear_kg)}, "
            f"together {look.weight(loads.total_kg)}."
        )
    if loads and loads.lift and not look.hidden:
        said.append(f"The {loads.lift.axle} axle carries nothing and has left its scale.")
    return " ".join(said)


def _said(one, look):
    side = "ahead of" if one.ahead_m >= 0 else "behind"
    return f"The {one.name}, {look.weight(one.weight_kg)}, hangs {look.length(abs(one.ahead_m))} {side} the front axle."
