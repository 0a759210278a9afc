"""The loader along its lift: both axle loads as curves."""

import math
from collections.abc import Sequence
from dataclasses import replace

from leverarm.quantities import show, to_unit, unit_of
from leverarm.scene.chart import Axis, Curve, Mark, line_chart
from leverarm.scene.shapes import Label, Scene
from leverarm.stability import Loader
from leverarm.stability.lift import KEEP_SHARE, LiftPoint


def round_up(kg: float) -> float:
    """The next of 1, 1.5, 2, 3, 5, 7 times a power of ten.

    >>> round_up(790.0), round_up(1600)
    (1000.0, 2000.0)
    """
    power = 10.0 ** math.floor(math.log10(kg))
    return next(n * power for n in (1, 1.5, 2, 3, 5, 7, 10) if n * power >= kg * (1 - 1e-9))


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
