"""Where the center of gravity lies: fore and aft, how high, and in a bucket on the ground."""

from dataclasses import dataclass
from typing import Any

from leverarm import statics
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, Sourced, show
from leverarm.uncertainty import Measured, from_half_width
from leverarm.weighing.formulas import center_distance, height_from_tilt, slope_of_rise
from leverarm.weighing.infer import Pair, pair_of
from leverarm.weighing.scales import (
    AXLES,
    Given,
    Scales,
    Session,
    Tilt,
    leveled,
    read_measured,
    wheelbase_of,
)

MOST_LIFT_M = 2.0
# Where nobody measured the axle centers: one lies above the other by up to this, either way.
MOST_CENTERS_APART_M = Sourced(0.35, "m", "tires of a compact tractor; common practice, no source")


@dataclass(frozen=True)
class Center:
    """A machine's weight and its center of gravity, ahead of the front axle (so negative)."""

    weight: Measured
    ahead: Measured
    wheelbase: Measured


def center_of_gravity(
    readings: Pair,
    wheelbase: Given,
    *,
    u_reading: Given | None = None,
    u_wheelbase: Given | None = None,
    scales: Scales | None = None,
    tilt: Tilt | None = None,
) -> Center:
    """Center of gravity fore and aft, from both axle readings of one set-up.

    readings    (front, rear), each a number, text, repeats or Wheels
    The rest    as for :func:`~leverarm.weighing.infer.infer`; a shared zero does not cancel here

    >>> center = center_of_gravity((600, 800), "1.65 m", u_reading=2, u_wheelbase=0.003)
    >>> f"{center.ahead.value:.3f} {center.ahead.u:.4f}"
    '-0.943 0.0024'
    """
    base = wheelbase_of(wheelbase, u_wheelbase)
    given = dict(zip(("front reading", "rear reading"), pair_of(readings, "readings")))
    front_load, rear_load = Session(scales, u_reading, given).loads().values()
    front, rear = leveled(tilt, front_load, rear_load, base)
    return Center(front + rear, statics.center_of_gravity(front, rear, base), base)


@dataclass(frozen=True)
class Height:
    """Height of a center of gravity, as Measured.

    above_axles     above the line through the axle centers, square to it
    above_ground    above level ground; None where the axle centers' heights are not known
    moved           what the tilt moved from the lifted axle to the other
    """

    above_axles: Measured
    above_ground: Measured | None
    moved: Measured


def height_by_lifting(
    level: Pair,
    raised: Any,
    lift: Given,
    wheelbase: Given,
    *,
    lifted: str = "front",
    axle_heights: Pair | None = None,
    u_axle_height: Given | None = None,
    u_reading: Given | None = None,
    u_lift: Given | None = None,
    u_wheelbase: Given | None = None,
    scales: Scales | None = None,
) -> Height:
    """Height of the center of gravity, from a second weighing with one axle lifted.

    level       (front, rear) readings on level ground
    raised      reading of the axle that stays on its scale, with the other one lifted
    lift        how far the lifted axle's center was raised;  lifted  "front" or "rear"
    axle_heights    (front, rear) heights of the axle centers above level ground; without them
                    only the height above their line is found, the centers are taken as level, and
                    the error of that, up to 0.16 m for a high lift, stands in the uncertainty as
                    35 cm of difference either way
    The rest    standard uncertainties, as for :func:`~leverarm.weighing.infer.infer`
    Badly conditioned: the reading moves by W tan h/D, a small difference of large numbers, so a
    small lift shows next to nothing.  Lifting a machine is workshop work: chocks, rated stands,
    nobody near.

    >>> height = height_by_lifting((600, 800), 885, "0.40 m", 1.65, u_reading=2, u_lift=0.005,
    ...                            u_wheelbase=0.003)
    >>> f"{height.above_axles.value:.3f} {height.above_axles.u:.3f}"
    '0.401 0.024'
    """
    base = wheelbase_of(wheelbase, u_wheelbase)
    loads, moved = _loads_and_change(level, raised, lifted, scales, u_reading)
    up = read_measured(lift, "length", "lift", u_lift, low=0, high=MOST_LIFT_M)
    return _height(loads, moved, up, lifted, base, _axle_heights(axle_heights, u_axle_height))


def _other(axle: str) -> str:
    """The axle that stays down while one is lifted."""
    return "rear" if axle == "front" else "front"


def _loads_and_change(
    level: Pair, raised: Any, lifted: str, scales: Scales | None, u_reading: Given | None
) -> tuple[dict[str, Measured], Measured]:
    """{axle: level load}, and what lifting one axle put on the other."""
    if lifted not in AXLES:
        raise Refusal("lifted", lifted, "'front' or 'rear'", "name the axle that was lifted")
    pair = zip(AXLES, pair_of(level, "level readings"))
    given = {f"{axle} reading, level": one for axle, one in pair}
    given[f"{_other(lifted)} reading, {lifted} lifted"] = raised
    front, rear, after = Session(scales, u_reading, given).loads().values()
    loads = {"front": front, "rear": rear}
    return loads, after - loads[_other(lifted)]


def _height(
    loads: dict[str, Measured],
    moved: Measured,
    lift: Measured,
    lifted: str,
    base: Measured,
    heights: dict[str, Measured],
) -> Height:
    """The Height, from both level loads and what the lift moved."""
    rise = heights[lifted] - heights[_other(lifted)] if heights else _not_measured()
    distance = center_distance(base, rise)
    if abs(float((rise + lift).value)) >= float(distance.value):
        raise Refusal(
            "lift",
            show(lift.value, "length"),
            f"a lift that leaves the axles apart, so less than {show(distance.value, 'length')}",
            "check the lift and the wheelbase",
        )
    turned = slope_of_rise(rise + lift, distance) - slope_of_rise(rise, distance)
    try:
        above = height_from_tilt(moved, loads["front"] + loads["rear"], turned, distance)
    except ZeroDivisionError:
        raise Refusal(
            "lift",
            "0 m",
            "a lift above zero",
            "lift one axle: level readings say nothing about height",
        ) from None
    if not heights:
        return Height(above, None, moved)
    ahead = statics.center_of_gravity(loads["front"], loads["rear"], base)
    # Square to the line, then upright: the two differ where the line slopes on level ground.
    line = line_height(heights["front"], heights["rear"], ahead, base)
    return Height(above, line + above * distance / base, moved)


def _not_measured() -> Measured:
    """The lifted axle center above the other one where nobody measured: level, give or take."""
    unknown = from_half_width("axle heights, not measured", MOST_CENTERS_APART_M, cause="tape")
    return Measured(0.0, {unknown: 1.0})


def _axle_heights(given: Pair | None, u: Given | None) -> dict[str, Measured]:
    """{axle: height of its center}, Measured, or nothing where they are not known."""
    return (
        {
            axle: read_measured(
                height, "length", f"height of the {axle} axle center", u, low=0, high=3
            )
            for axle, height in zip(AXLES, pair_of(given, "axle heights"))
        }
        if given
        else {}
    )


def line_height(front: Numeric, rear: Numeric, ahead: Numeric, L: Numeric) -> Numeric:
    """Height of the line through the axle centers, below a place ``ahead`` of the front axle.

    >>> line_height(0.3, 0.5, -1.0, 2.0)
    0.4
    """
    return front + (front - rear) * ahead / L


@dataclass(frozen=True)
class Detached:
    """A piece weighed off the machine, as Measured.

    weight      kg;  from_pins  its center of gravity, from the edge on the pin side
    ahead       its overhang once it is mounted; None where the pins' place is not known
    """

    weight: Measured
    from_pins: Measured
    ahead: Measured | None


def detached(
    pin_edge: Any,
    far_edge: Any,
    span: Given,
    *,
    pins_ahead: Given | None = None,
    weight: Given | None = None,
    u_reading: Given | None = None,
    u_span: Given | None = None,
    u_pins_ahead: Given | None = None,
    u_weight: Given | None = None,
    scales: Scales | None = None,
) -> Detached:
    """A bucket on the yard: one edge on a scale, the other on a pipe.  The same lever once more.

    pin_edge    reading with the scale under the edge at the pins and the pipe under the other
    far_edge    reading with the two exchanged; one of the two may be None where ``weight`` is given
    span        distance between the two edges
    pins_ahead  from the front axle to the pin edge, mounted
    Valid       the piece lies as it hangs; both edges at one height, the pipe free to roll

    >>> found = detached(70, 40, "0.90 m", pins_ahead="0.87 m", u_reading=0.5, u_span=0.003,
    ...                  u_pins_ahead=0.005)
    >>> f"{found.weight.value:.0f} {found.from_pins.value:.3f} {found.ahead.value:.3f}"
    '110 0.327 1.197'
    """
    given = {"reading at the pin edge": pin_edge, "reading at the far edge": far_edge}
    length = read_measured(span, "length", "span", u_span, low=0.01, high=10, cause="tape")
    near, far = Session(scales, u_reading, given).loads().values()
    near, far = _both_edges(near, far, weight, u_weight)
    from_pins = -statics.center_of_gravity(near, far, length)
    ahead = None
    if pins_ahead is not None:
        ahead = from_pins + read_measured(
            pins_ahead,
            "length",
            "overhang of the pins",
            u_pins_ahead,
            low=-20,
            high=20,
            cause="tape",
        )
    return Detached(near + far, from_pins, ahead)


def _both_edges(
    near: Any, far: Any, weight: Given | None, u_weight: Given | None
) -> tuple[Measured, Measured]:
    """Both edge readings; a missing one follows from the weight."""
    if (near is None) + (far is None) != (weight is not None):
        raise Refusal(
            "readings of the edges",
            "too few or too many",
            "both edges, or one edge and the weight",
            "weigh both edges, or give the weight for the one left out",
        )
    if weight is not None:
        whole = read_measured(weight, "weight", "weight of the piece", u_weight, low=0)
        near, far = (whole - far if near is None else near), (whole - near if far is None else far)
    if (near + far).value <= 0:
        raise Refusal(
            "weight of the piece",
            show((near + far).value, "weight"),
            "a weight above zero",
            "check both readings of the edges, and the weight",
        )
    return near, far
