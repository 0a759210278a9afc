"""The loader along its lift: the machine with its arms where they are, the path of the load, both loads as curves."""

import math
from dataclasses import replace

from leverarm.quantities import show, to_unit, unit_of
from leverarm.scene import outline
from leverarm.scene.chart import Axis, Curve, Mark, line_chart
from leverarm.scene.shapes import (
    Arrow,
    Circle,
    Dimension,
    Label,
    Line,
    Marker,
    Polygon,
    Scene,
    extent,
    turned,
)
from leverarm.scene.side_view import LIFTED_DEG, PAD_M, Look, round_up

ARROW_M = 0.9
_BUCKET = ((0.02, 0.36), (-0.05, 0.0), (0.06, -0.2), (0.62, -0.2), (0.22, -0.04), (0.16, 0.36))
_HEAP = ((0.15, 0.3), (0.22, -0.04), (0.6, -0.17), (0.42, 0.16), (0.26, 0.32))


def loader_view(
    tractor,
    loader,
    posture,
    *,
    others=(),
    path=(),
    before=None,
    was="low",
    levelled=True,
    room=True,
    look=Look(),
):
    """A machine on two scales with its arms at one point of the lift, as a Scene.

    posture     stability.Posture to draw; path  Postures whose load places are joined by a line
    others      further Attachments, drawn as blocks
    before      AxleLoads of an earlier state, dashed, and the word for it in ``was``
    room        True keeps room for the whole lift, so that raising the arms never rescales the picture
    look        unit system, hidden readings; a grade turns the whole picture
    """
    machine = (
        *outline.tractor(tractor.wheelbase_m),
        *_others(tractor, others),
        *_arms(loader, posture.angle_deg),
        *_bucket(loader, posture, levelled),
    )
    machine = _leant(machine, tractor.wheelbase_m, None if look.hidden else posture.loads.lift)
    shapes = [
        *_ground(tractor, loader, others),
        *_trace(path),
        *machine,
        *_reactions(tractor, posture, before, was, look),
    ]
    shapes += _dimensions(posture, look)
    (point,) = turned(
        [Marker((posture.overhang_m, posture.height_m), "ink", "round", 0.4)],
        (0.0, 0.0),
        look.grade_deg,
    )
    shapes = [
        *turned(shapes, (0.0, 0.0), look.grade_deg),
        *_weight(point, posture, look, tractor),
        *(() if look.grade_deg else _others_words(tractor, others, posture, look)),
    ]
    return Scene(
        tuple(shapes),
        _box(shapes, loader if room else None),
        _title(tractor, posture, look),
        _desc(tractor, posture, others, before, was, look),
        (1.0, 1.0, 2.4, 2.2),
    )


def _arms(loader, angle_deg):
    """Mast, pivot, arms with their knee, bucket pin."""
    pivot, pin = (loader.pivot_ahead_m, loader.pivot_height_m), loader.pin_at(angle_deg)
    along, across = (pin[0] - pivot[0], pin[1] - pivot[1]), (pivot[1] - pin[1], pin[0] - pivot[0])
    knee = tuple(pivot[i] + 0.6 * along[i] + 0.15 * across[i] for i in (0, 1))
    mast = Line(((pivot[0] + 0.1, 0.5 * pivot[1]), pivot), "load", 0.45)
    return (
        mast,
        Line((pivot, knee, pin), "load", 0.45),
        Circle(pivot, 0.05, "load"),
        Circle(pin, 0.04, "load"),
    )


def _bucket(loader, posture, levelled):
    """The bucket at its pin, and a heap in it where there is a load."""
    pin = loader.pin_at(posture.angle_deg)
    at = lambda points: Polygon(tuple((pin[0] + x, pin[1] + y) for x, y in points), "load")
    parts = [at(_HEAP)] * (posture.carried.name == "load") + [at(_BUCKET)]
    return parts if levelled else turned(parts, pin, posture.angle_deg - loader.lowest_deg)


def _places(tractor, others):
    """Each further attachment with the point where it is drawn."""
    usual = 0.5 * outline.size_of(tractor.wheelbase_m)
    return [
        (one, (one.ahead_m, one.height_m if one.height_m is not None else usual)) for one in others
    ]


def _others(tractor, others):
    """Whatever else hangs on the machine, as blocks in the color of a counterweight."""
    half = 0.17 * outline.size_of(tractor.wheelbase_m)
    return [
        Polygon(
            (
                (x + half, y - half),
                (x + half, y + half),
                (x - half, y + half),
                (x - half, y - half),
            ),
            "counter",
        )
        for _, (x, y) in _places(tractor, others)
    ]


def _others_words(tractor, others, posture, look):
    """What each of them is called, with its weight as an arrow."""
    shapes = []
    for one, (x, y) in _places(tractor, others):
        weight = look.weight(one.weight_kg)
        shapes += [
            Arrow(
                (x, y + max(one.weight_kg * _scale(posture), 0.02)), (x, y), "counter", width=0.42
            ),
            Label((x, y + 0.5), f"{one.name}\n{weight}", "counter", "up", 0.3, bold=True),
        ]
        shapes += _behind(x, y, tractor.wheelbase_m, look)
    return shapes


def _behind(x, y, L, look):
    """How far behind the rear axle a counterweight hangs, under the ground."""
    low = -PAD_M - ARROW_M
    if x > -L - 0.05:
        return []
    drops = [
        Line(((at, top), (at, low, 0.0, -0.6)), "muted", 0.06, dash=True)
        for at, top in ((x, y), (-L, -PAD_M))
    ]
    return [*drops, Dimension((x, low), (-L, low), look.length(-L - x), "counter")]


def _leant(machine, L, lift):
    """The machine, tilted a little where an axle has left its scale."""
    if not lift:
        return machine
    return turned(
        machine,
        (0.0, 0.0) if lift.axle == "rear" else (-L, 0.0),
        -LIFTED_DEG if lift.axle == "rear" else LIFTED_DEG,
    )


def _ground(tractor, loader, others):
    L, u = tractor.wheelbase_m, outline.size_of(tractor.wheelbase_m)
    ahead = loader.pivot_ahead_m + loader.arm_m + 0.75
    behind = min([-L - 0.65 * u, *(one.ahead_m - 0.3 for one in others)])
    pads = [
        Polygon(
            ((x - 0.26 * u, 0), (x + 0.26 * u, 0), (x + 0.26 * u, -PAD_M), (x - 0.26 * u, -PAD_M)),
            role,
        )
        for x, role in ((0.0, "front"), (-L, "rear"))
    ]
    return [Line(((ahead, -PAD_M), (behind, -PAD_M)), "ground", 0.16), *pads]


def _trace(path):
    """The way of the load (or of the empty bucket) along the lift, with its farthest point."""
    if not path:
        return []
    points = tuple((p.overhang_m, p.height_m) for p in path)
    far = max(points)
    return [
        Line(points, "load", 0.1, dash=True),
        Marker(far, "muted", "cross", 0.6),
        Label(far, "farthest out", "muted", "left", 0.8, short="farthest", size=0.9),
    ]


def _reactions(tractor, posture, before, was, look):
    """What each scale pushes up, with its reading; an earlier state as a dashed outline."""
    L, shapes = tractor.wheelbase_m, []
    scale = _scale(posture)
    for x, axle in ((0.0, "front"), (-L, "rear")):
        old, now = (
            getattr(state, f"{axle}_kg") if state else None for state in (before, posture.loads)
        )
        for kg, ghost in ((old, True), (None if look.hidden else now, False)):
            if kg:
                shapes.append(
                    Arrow(
                        (x, -PAD_M - kg * scale), (x, -PAD_M), axle, ghost, 0.85 if ghost else 0.42
                    )
                )
        new = "?" if look.hidden else look.weight(now)
        told = "" if old is None else f"\n{was}: {look.weight(old)}"
        shapes.append(
            Label(
                (x, -PAD_M, 0.0, -1.3),
                f"{axle.capitalize()} {new}{told}",
                axle,
                "right",
                0.9,
                short=f"{axle.capitalize()}\n{new}",
                bold=True,
            )
        )
    return shapes


def _scale(posture):
    """Meters of arrow for each kilogram; the same for every posture of one lift."""
    return ARROW_M / posture.loads.total_kg


def _dimensions(posture, look):
    """Overhang under the ground, height ahead of the bucket."""
    x, y, low = posture.overhang_m, posture.height_m, -PAD_M - ARROW_M
    down = Line(((x, y), (x, low, 0.0, -0.6)), "muted", 0.06, dash=True)
    axle = Line(((0.0, -PAD_M), (0.0, low, 0.0, -0.6)), "muted", 0.06, dash=True)
    return [
        down,
        axle,
        Dimension((x, low), (0.0, low), f"overhang {look.length(x)}", "load", look.length(x)),
    ]


def _weight(point, posture, look, tractor):
    """The carried weight pulling straight down on its center of gravity, and what it is called."""
    one, (x, y), weight = posture.carried, point.at, look.weight(posture.carried.weight_kg)
    tail = (x, y + max(one.weight_kg * _scale(posture), 0.02))
    shapes = [
        Arrow(tail, (x, y), "load", width=0.42),
        point,
        Label(
            (x, max(tail[1], y + 0.38)),
            f"{one.name} {weight}, {look.length(posture.height_m)} up",
            "load",
            "up",
            0.25,
            short=f"{one.name}\n{weight}",
            bold=True,
        ),
    ]
    if posture.loads.lift and not look.hidden:
        axle = posture.loads.lift.axle
        shapes.append(
            Label(
                (-tractor.wheelbase_m if axle == "rear" else 0.0, 2.0),
                f"The {axle} axle carries nothing",
                axle,
                "up",
                0.2,
                short=f"{axle} axle:\nnothing left",
                bold=True,
            )
        )
    return shapes


def _box(shapes, loader):
    """What is shown, the edges in steps; with a loader told, with room for its whole lift."""
    low, bottom, high, top = extent([s for s in shapes if not isinstance(s, Label)])
    if loader:
        top = max(top, loader.pin_at(loader.highest_deg)[1] + 0.5)
    return math.ceil(high * 4) / 4, bottom, math.floor(low * 4) / 4, math.ceil(top * 5) / 5


def _title(tractor, posture, look):
    return (
        f"{tractor.name} with its loader, {posture.carried.name} {look.length(posture.height_m)} up"
    )


def _desc(tractor, posture, others, before, was, look):
    said = [
        f"Side view, facing left. The {posture.carried.name}, {look.weight(posture.carried.weight_kg)}, is "
        f"{look.length(posture.overhang_m)} ahead of the front axle and {look.length(posture.height_m)} above the ground."
    ]
    said += [
        f"The {one.name}, {look.weight(one.weight_kg)}, hangs {look.length(-one.ahead_m - tractor.wheelbase_m)} behind the "
        "rear axle."
        if one.ahead_m <= -tractor.wheelbase_m
        else f"The {one.name}, {look.weight(one.weight_kg)}, hangs "
        f"{look.length(one.ahead_m)} ahead of the front axle."
        for one in others
    ]
    if before:
        said.append(
            f"{was.capitalize()}, the front scale reads {look.weight(before.front_kg)} and the rear "
            f"{look.weight(before.rear_kg)}."
        )
    if look.hidden:
        said.append("The readings here are kept back until you have predicted them.")
    else:
        said.append(
            f"Here the front reads {look.weight(posture.loads.front_kg)} and the rear "
            f"{look.weight(posture.loads.rear_kg)}, together {look.weight(posture.loads.total_kg)}."
        )
    if posture.loads.lift and not look.hidden:
        said.append(posture.loads.lift.sentence(look.system))
    return " ".join(said)


def arc_chart(loader, postures, here, *, system="kg", keep_share=20.0, hidden=False, mark="now"):
    """Both axle loads along the lift, against the height of the bucket pin, as a chart.

    postures    stability.arc(...); here  the Posture marked, and the word for it in ``mark``
    hidden      True keeps the curves back
    """
    up = lambda posture: to_unit(
        loader.pin_at(posture.angle_deg)[1], "length", unit_of("length", system)
    )
    kg = lambda weight: to_unit(weight, "weight", unit_of("weight", system))
    total, most = postures[0].loads.total_kg, max(p.loads.front_kg for p in postures)
    curves = (
        []
        if hidden
        else [
            Curve(
                "front axle",
                tuple((up(p), kg(p.loads.front_kg)) for p in postures),
                "front",
                5,
                "top",
            ),
            Curve(
                "rear axle", tuple((up(p), kg(p.loads.rear_kg)) for p in postures), "rear", 5, "top"
            ),
        ]
    )
    keep = kg(total * keep_share / 100)
    curves.append(Curve("", ((up(postures[0]), keep), (up(postures[-1]), keep)), "muted", 0))
    chart = line_chart(
        "Axle loads along the lift",
        _chart_desc(loader, postures, system, hidden),
        Axis(f"height of the bucket pin, {unit_of('length', system)}", 0, up(postures[-1]) * 1.02),
        Axis(f"axle load, {unit_of('weight', system)}", 0, kg(round_up(most))),
        curves,
        marks=[Mark(mark, up(here))],
    )
    share = Label(
        (up(postures[-1]), keep), f"{keep_share:g} % of the total", "muted", "down", 0.3, size=0.9
    )
    return replace(chart, shapes=(*chart.shapes, share))


def _chart_desc(loader, postures, system, hidden):
    if hidden:
        return "The curves are kept back until you have predicted."
    low, high = postures[0], max(postures, key=lambda p: p.loads.front_kg)
    height = show(loader.pin_at(high.angle_deg)[1], "length", system)
    return (
        f"Low, the front axle carries {show(low.loads.front_kg, 'weight', system)} and the rear "
        f"{show(low.loads.rear_kg, 'weight', system)}. The front load peaks at "
        f"{show(high.loads.front_kg, 'weight', system)} with the bucket pin {height} up, level with the arm pivot; there "
        f"the rear has its least, {show(high.loads.rear_kg, 'weight', system)}."
    )
