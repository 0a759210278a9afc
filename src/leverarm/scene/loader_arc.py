"""The loader along its lift: the machine, the path of the load, and both axle loads as curves."""

import math
from collections.abc import Sequence
from dataclasses import replace

from leverarm.axles import AxleLoads
from leverarm.machine import Attachment, Tractor
from leverarm.quantities import show, to_unit, unit_of
from leverarm.scene import outline
from leverarm.scene.chart import Axis, Curve, Mark, line_chart
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
    Circle,
    Dimension,
    Label,
    Line,
    Marker,
    Point,
    Polygon,
    Scene,
    Shape,
    turned,
)
from leverarm.stability import Loader
from leverarm.stability.lift import KEEP_SHARE, LiftPoint

ARROW_M = 0.9
# What the earlier readings were of, at the start of a sentence.
_EARLIER = {"low": "With the arms low", "without": "Without the ballast"}
_BUCKET = ((0.02, 0.36), (-0.05, 0.0), (0.06, -0.2), (0.62, -0.2), (0.22, -0.04), (0.16, 0.36))
_HEAP = ((0.15, 0.3), (0.22, -0.04), (0.6, -0.17), (0.42, 0.16), (0.26, 0.32))


def loader_view(
    tractor: Tractor,
    loader: Loader,
    lift_point: LiftPoint,
    *,
    others: Sequence[Attachment] = (),
    path: Sequence[LiftPoint] = (),
    before: AxleLoads | None = None,
    was: str = "low",
    leveled: bool = True,
    room: bool = True,
    look: Look = PLAIN,
) -> Scene:
    """A machine on two scales with its arms at one point of the lift, as a Scene.

    lift_point  stability.LiftPoint to draw; path  LiftPoints whose load places are joined by a line
    others      further Attachments, drawn as blocks
    before      AxleLoads of an earlier set-up, as hollow arrows, with the word for it in ``was``
    room        True keeps room for the whole lift, so that raising the arms does not rescale
    look        unit system, hidden readings; a grade turns the whole picture
    """
    L, lift = tractor.wheelbase_m, None if look.hidden else lift_point.loads.lift
    shapes = [
        *_ground(tractor, loader, others),
        *_trace(path),
        *leant(_machine(tractor, loader, lift_point, others, leveled), L, lift),
        *_readings(tractor, lift_point, before, was, look),
        *_dimensions(lift_point, look),
    ]
    shapes = [
        *turned(shapes, (0.0, 0.0), look.grade_deg),
        *_weight(lift_point, look, tractor),
        *(() if look.grade_deg else _others_words(tractor, others, lift_point, look)),
    ]
    return Scene(
        tuple(shapes),
        stepped_box(shapes, loader.pin_at(loader.highest_deg)[1] + 0.5 if room else -math.inf),
        f"{tractor.name} with its loader, {lift_point.carried.name} "
        f"{look.length(lift_point.height_m)} up",
        _desc(tractor, lift_point, others, before, was, look),
        (1.0, 1.0, 2.4, 2.2),
    )


def _readings(
    tractor: Tractor, lift_point: LiftPoint, before: AxleLoads | None, was: str, look: Look
) -> list[Shape]:
    """The arrows of the scales, with the words at the right of both."""
    scale, sides = _scale(lift_point), ("right", "right")
    return reaction_arrows(
        tractor.wheelbase_m, lift_point.loads, before, scale, look, earlier=f"{was}: ", sides=sides
    )


def _machine(
    tractor: Tractor,
    loader: Loader,
    lift_point: LiftPoint,
    others: Sequence[Attachment],
    leveled: bool,
) -> list[Shape]:
    """The tractor, what else hangs on it, the arms and the bucket."""
    return [
        *outline.tractor(tractor.wheelbase_m),
        *_others(tractor, others),
        *_arms(loader, lift_point.angle_deg),
        *_bucket(loader, lift_point, leveled),
    ]


def _arms(loader: Loader, angle_deg: float) -> tuple[Shape, ...]:
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


def _bucket(loader: Loader, lift_point: LiftPoint, leveled: bool) -> Sequence[Shape]:
    """The bucket at its pin, and a heap in it where there is a load."""
    pin = loader.pin_at(lift_point.angle_deg)

    def at(points: tuple[Point, ...]) -> Polygon:
        return Polygon(tuple((pin[0] + x, pin[1] + y) for x, y in points), "load")

    parts = [at(_HEAP)] * (lift_point.carried.name == "load") + [at(_BUCKET)]
    return parts if leveled else turned(parts, pin, lift_point.angle_deg - loader.lowest_deg)


def _places(tractor: Tractor, others: Sequence[Attachment]) -> list[tuple[Attachment, Point]]:
    """Each further attachment with the point where it is drawn."""
    usual = 0.5 * outline.size_of(tractor.wheelbase_m)
    return [
        (one, (one.ahead_m, one.height_m if one.height_m is not None else usual)) for one in others
    ]


def _others(tractor: Tractor, others: Sequence[Attachment]) -> list[Shape]:
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


def _others_words(
    tractor: Tractor, others: Sequence[Attachment], lift_point: LiftPoint, look: Look
) -> list[Shape]:
    """What each of them is called, with its weight as an arrow."""
    shapes: list[Shape] = []
    for one, (x, y) in _places(tractor, others):
        weight = look.weight(one.weight_kg)
        shapes += [
            Arrow(
                (x, y + max(one.weight_kg * _scale(lift_point), 0.02)),
                (x, y),
                "counter",
                width=0.42,
            ),
            Label((x, y + 0.5), f"{one.name}\n{weight}", "counter", "up", 0.3, bold=True),
        ]
        shapes += _behind(x, y, tractor.wheelbase_m, look)
    return shapes


def _behind(x: float, y: float, L: float, look: Look) -> list[Shape]:
    """How far behind the rear axle a counterweight hangs, under the ground."""
    low = -PAD_M - ARROW_M
    if x > -L - 0.05:
        return []
    drops = [
        Line(((at, top), (at, low, 0.0, -0.6)), "muted", 0.06, dash=True)
        for at, top in ((x, y), (-L, -PAD_M))
    ]
    return [*drops, Dimension((x, low), (-L, low), look.length(-L - x), "counter")]


def _ground(tractor: Tractor, loader: Loader, others: Sequence[Attachment]) -> list[Shape]:
    """The ground under the machine and the whole lift."""
    L, u = tractor.wheelbase_m, outline.size_of(tractor.wheelbase_m)
    ahead = loader.pivot_ahead_m + loader.arm_m + 0.75
    return ground(L, ahead, min([-L - 0.65 * u, *(one.ahead_m - 0.3 for one in others)]))


def _trace(path: Sequence[LiftPoint]) -> list[Shape]:
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


def _scale(lift_point: LiftPoint) -> float:
    """Meters of arrow for each kilogram; the same for every point of one lift."""
    return ARROW_M / lift_point.loads.total_kg


def _dimensions(lift_point: LiftPoint, look: Look) -> list[Shape]:
    """Overhang under the ground, height ahead of the bucket."""
    x, y, low = lift_point.overhang_m, lift_point.height_m, -PAD_M - ARROW_M
    down = Line(((x, y), (x, low, 0.0, -0.6)), "muted", 0.06, dash=True)
    axle = Line(((0.0, -PAD_M), (0.0, low, 0.0, -0.6)), "muted", 0.06, dash=True)
    return [
        down,
        axle,
        Dimension((x, low), (0.0, low), f"overhang {look.length(x)}", "load", look.length(x)),
    ]


def _weight(lift_point: LiftPoint, look: Look, tractor: Tractor) -> list[Shape]:
    """The carried weight pulling straight down on its center of gravity, and what it is called."""
    center = Marker((lift_point.overhang_m, lift_point.height_m), "ink", "round", 0.4)
    (point,) = turned([center], (0.0, 0.0), look.grade_deg)
    one, (x, y), weight = lift_point.carried, point.at, look.weight(lift_point.carried.weight_kg)
    tail = (x, y + max(one.weight_kg * _scale(lift_point), 0.02))
    shapes: list[Shape] = [
        Arrow(tail, (x, y), "load", width=0.42),
        point,
        Label(
            (x, max(tail[1], y + 0.38)),
            f"{one.name} {weight}, {look.length(lift_point.height_m)} up",
            "load",
            "up",
            0.25,
            short=f"{one.name}\n{weight}",
            bold=True,
        ),
    ]
    if lift_point.loads.lift and not look.hidden:
        shapes.append(nothing_left(lift_point.loads.lift, tractor.wheelbase_m, 2.0))
    return shapes


def _desc(
    tractor: Tractor,
    lift_point: LiftPoint,
    others: Sequence[Attachment],
    before: AxleLoads | None,
    was: str,
    look: Look,
) -> str:
    sentences = [
        f"Side view, facing left. The {lift_point.carried.name}, "
        f"{look.weight(lift_point.carried.weight_kg)}, is "
        f"{look.length(lift_point.overhang_m)} ahead of the front axle and "
        f"{look.length(lift_point.height_m)} above the ground."
    ]
    sentences += [
        f"The {one.name}, {look.weight(one.weight_kg)}, "
        f"hangs {look.length(-one.ahead_m - tractor.wheelbase_m)} behind the "
        "rear axle."
        if one.ahead_m <= -tractor.wheelbase_m
        else f"The {one.name}, {look.weight(one.weight_kg)}, hangs "
        f"{look.length(one.ahead_m)} ahead of the front axle."
        for one in others
    ]
    if before:
        sentences.append(
            f"{_EARLIER[was]}, the front scale reads {look.weight(before.front_kg)} "
            "and the rear "
            f"{look.weight(before.rear_kg)}."
        )
    if look.hidden:
        sentences.append("The readings here are kept back until you have predicted them.")
    else:
        sentences.append(
            f"Here the front reads {look.weight(lift_point.loads.front_kg)} and the rear "
            f"{look.weight(lift_point.loads.rear_kg)}, together "
            f"{look.weight(lift_point.loads.total_kg)}."
        )
    if lift_point.loads.lift and not look.hidden:
        sentences.append(lift_point.loads.lift.sentence(look.system))
    return " ".join(sentences)


def arc_chart(
    loader: Loader,
    points: Sequence[LiftPoint],
    here: LiftPoint,
    *,
    system: str | None = None,
    mark: str = "now",
) -> Scene:
    """Both axle loads along the lift, against the height of the bucket pin, as a chart.

    points    stability.arc(...); here  the LiftPoint marked, and the word for it in ``mark``
    """
    length, weight = unit_of("length", system), unit_of("weight", system)

    def up(lift_point: LiftPoint) -> float:
        return to_unit(loader.pin_at(lift_point.angle_deg)[1], "length", length)

    def kg(load: float) -> float:
        return to_unit(load, "weight", weight)

    front = tuple((up(p), kg(p.loads.front_kg)) for p in points)
    rear = tuple((up(p), kg(p.loads.rear_kg)) for p in points)
    first, last = up(points[0]), up(points[-1])
    keep = kg(points[0].loads.total_kg * KEEP_SHARE / 100)
    most = max(p.loads.front_kg for p in points)
    chart = line_chart(
        "Axle loads along the lift",
        _chart_desc(loader, points, system),
        Axis(f"height of the bucket pin, {length}", 0, last * 1.02),
        Axis(f"axle load, {weight}", 0, kg(round_up(most))),
        [
            Curve("front axle", front, "front", 5, "top"),
            Curve("rear axle", rear, "rear", 5, "top"),
            Curve("", ((first, keep), (last, keep)), "muted", 0),
        ],
        marks=[Mark(mark, up(here))],
    )
    # Clear of the right edge, which would cut it.
    place = (first + 0.85 * (last - first), keep)
    share = Label(place, f"{KEEP_SHARE:g} % of the total", "muted", "down", 0.3, size=0.9)
    return replace(chart, shapes=(*chart.shapes, share))


def _chart_desc(loader: Loader, points: Sequence[LiftPoint], system: str | None) -> str:
    low, high = points[0], max(points, key=lambda p: p.loads.front_kg)

    def kg(load: float) -> str:
        return show(load, "weight", system, decimals=0)

    height = show(loader.pin_at(high.angle_deg)[1], "length", system)
    start = (
        f"With the arms low, the front axle carries {kg(low.loads.front_kg)} "
        f"and the rear {kg(low.loads.rear_kg)}."
    )
    if high.loads.lift:
        return (
            f"{start} From a bucket pin {height} up, "
            f"the {high.loads.lift.axle} axle carries nothing, and the machine tips."
        )
    return (
        f"{start} The front load peaks at "
        f"{kg(high.loads.front_kg)} with the bucket pin {height} up, "
        "level with the arm pivot; there "
        f"the rear has its least, {kg(high.loads.rear_kg)}."
    )
