"""Where the center of gravity lies: fore and aft, how high, and in a bucket on the ground."""

from dataclasses import dataclass

from leverarm import statics
from leverarm.quantities import Refusal
from leverarm.uncertainty import Measured
from leverarm.weighing.formulas import center_distance, height_from_tilt, slope_of_rise
from leverarm.weighing.hung import pair_of
from leverarm.weighing.readings import AXLES, Session, measured, wheelbase_of
from leverarm.weighing.tilt import levelled

MOST_LIFT_M = 2.0


@dataclass(frozen=True)
class Center:
    """A machine's weight and its center of gravity, ahead of the front axle (so negative), as Measured."""

    weight: Measured
    ahead: Measured
    wheelbase: Measured

    @property
    def ahead_of_rear(self):
        """The same place, measured forward from the rear axle."""
        return self.ahead + self.wheelbase


def center_of_gravity(
    readings, wheelbase, *, u_reading=None, u_wheelbase=None, scales=None, tilt=None
):
    """Center of gravity fore and aft, from both axle readings of one state.

    readings    (front, rear), each a number, text, repeats or Wheels
    The rest    as for :func:`~leverarm.weighing.hung.infer`; a shared zero does not cancel here

    >>> center = center_of_gravity((600, 800), "1.65 m", u_reading=2, u_wheelbase=0.003)
    >>> f"{center.ahead.value:.3f} {center.ahead.u:.4f}"
    '-0.943 0.0024'
    """
    base = wheelbase_of(wheelbase, u_wheelbase)
    given = dict(zip(("front reading", "rear reading"), pair_of(readings, "readings")))
    loads = Session(scales, u_reading, given).loads().values()
    front, rear = levelled(tilt, *loads, base)
    return Center(front + rear, statics.center_of_gravity(front, rear, base), base)


@dataclass(frozen=True)
class Height:
    """Height of a center of gravity, as Measured.

    above_axles     above the line through the axle centers, square to it
    above_ground    above level ground; None where the axle centers' heights were not told
    moved           what the tilt moved from the lifted axle to the other
    """

    above_axles: Measured
    above_ground: Measured | None
    moved: Measured


def height_by_lifting(
    level,
    raised,
    lift,
    wheelbase,
    *,
    lifted="front",
    axle_heights=None,
    u_axle_height=None,
    u_reading=None,
    u_lift=None,
    u_wheelbase=None,
    scales=None,
):
    """Height of the center of gravity, from a second weighing with one axle lifted.

    level       (front, rear) readings on level ground
    raised      reading of the axle that stays on its scale, with the other one lifted
    lift        how far the lifted axle's center was raised;  lifted  "front" or "rear"
    axle_heights    (front, rear) heights of the axle centers above level ground; without them
                    the centers are taken as level, and the height is told above their line alone
    The rest    standard uncertainties, as for :func:`~leverarm.weighing.hung.infer`
    Badly conditioned: the reading moves by W tan h/D, a small difference of large numbers, so a small
    lift tells next to nothing.  Lifting a machine is workshop work: chocks, rated stands, nobody near.

    >>> height = height_by_lifting((600, 800), 885, "0.40 m", 1.65, u_reading=2, u_lift=0.005, u_wheelbase=0.003)
    >>> f"{height.above_axles.value:.3f} {height.above_axles.u:.3f}"
    '0.401 0.015'
    """
    if lifted not in AXLES:
        raise Refusal("lifted", lifted, "'front' or 'rear'", "name the axle that was lifted")
    base = wheelbase_of(wheelbase, u_wheelbase)
    stays = "rear" if lifted == "front" else "front"
    given = {
        f"{axle} reading, level": one for axle, one in zip(AXLES, pair_of(level, "level readings"))
    }
    given[f"{stays} reading, {lifted} lifted"] = raised
    *level, up_there = Session(scales, u_reading, given).loads().values()
    loads = dict(zip(AXLES, level))
    moved = up_there - loads[stays]
    up = measured(lift, "length", "lift", u_lift, low=0, high=MOST_LIFT_M)
    heights = _axle_heights(axle_heights, u_axle_height)
    rise = heights[lifted] - heights[stays] if heights else 0.0
    distance = center_distance(base, rise)
    turned = slope_of_rise(rise + up, distance) - slope_of_rise(rise, distance)
    above = _height(moved, loads["front"] + loads["rear"], turned, distance)
    ahead = statics.center_of_gravity(loads["front"], loads["rear"], base)
    # Square to the line, then upright: the two differ where the line slopes on level ground.
    ground = (
        line_height(heights["front"], heights["rear"], ahead, base) + above * distance / base
        if heights
        else None
    )
    return Height(above, ground, moved)


def _axle_heights(told, u):
    """{axle: height of its center}, Measured, or nothing where they were not told."""
    return (
        {
            axle: measured(height, "length", f"height of the {axle} axle center", u, low=0, high=3)
            for axle, height in zip(AXLES, pair_of(told, "axle heights"))
        }
        if told
        else {}
    )


def _height(moved, weight, slope, distance):
    try:
        return height_from_tilt(moved, weight, slope, distance)
    except ZeroDivisionError:
        raise Refusal(
            "lift",
            "0 m",
            "a lift above zero",
            "lift one axle: level readings say nothing about height",
        ) from None


def line_height(front, rear, ahead, L):
    """Height of the line through the axle centers, below a place ``ahead`` of the front axle.

    >>> line_height(0.3, 0.5, -1.0, 2.0)
    0.4
    """
    return front + (front - rear) * ahead / L


@dataclass(frozen=True)
class Detached:
    """A piece weighed off the machine, as Measured.

    weight      kg;  from_pins  its center of gravity, from the edge on the pins' side
    ahead       its overhang once it is mounted; None where the pins' place was not told
    """

    weight: Measured
    from_pins: Measured
    ahead: Measured | None


def detached(
    pin_edge,
    far_edge,
    span,
    *,
    pins_ahead=None,
    weight=None,
    u_reading=None,
    u_span=None,
    u_pins_ahead=None,
    u_weight=None,
    scales=None,
):
    """A bucket on the yard: one edge on a scale, the other on a pipe.  The same lever once more.

    pin_edge    reading with the scale under the edge at the pins and the pipe under the other
    far_edge    reading with the two exchanged; one of the two may be None where ``weight`` is told
    span        distance between the two edges;  pins_ahead  from the front axle to the pin edge, mounted
    Valid       the piece lies as it hangs; both edges at one height, the pipe free to roll

    >>> found = detached(70, 40, "0.90 m", pins_ahead="0.87 m", u_reading=0.5, u_span=0.003, u_pins_ahead=0.005)
    >>> f"{found.weight.value:.0f} {found.from_pins.value:.3f} {found.ahead.value:.3f}"
    '110 0.327 1.197'
    """
    given = {"reading at the pin edge": pin_edge, "reading at the far edge": far_edge}
    length = measured(span, "length", "span", u_span, low=0.01, high=10, cause="tape")
    near, far = _both_edges(*Session(scales, u_reading, given).loads().values(), weight, u_weight)
    from_pins = -statics.center_of_gravity(near, far, length)
    if pins_ahead is None:
        return Detached(near + far, from_pins, None)
    pins = measured(
        pins_ahead, "length", "overhang of the pins", u_pins_ahead, low=-20, high=20, cause="tape"
    )
    return Detached(near + far, from_pins, pins + from_pins)


def _both_edges(near, far, weight, u_weight):
    """Both edge readings; a missing one follows from the weight."""
    if (near is None) + (far is None) != (weight is not None):
        raise Refusal(
            "readings of the edges",
            "too few or too many",
            "both edges, or one edge and the weight",
            "weigh both edges, or tell the weight for the one left out",
        )
    if weight is None:
        return near, far
    whole = measured(weight, "weight", "weight of the piece", u_weight, low=0)
    return (whole - far if near is None else near), (whole - near if far is None else far)
