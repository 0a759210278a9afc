"""The pictures of the lessons, of the invented demo machine and its invented weigh day."""

from collections import Counter

from leverarm import weighing
from leverarm.axles import predict, shares
from leverarm.driveline import demo_drive
from leverarm.ground import Contact, demo_patch, front_contacts
from leverarm.machine import demo_loader, demo_tractor
from leverarm.quantities import from_unit, show, show_number, to_unit, unit_of
from leverarm.scene.chart import Span, span_chart, span_views, ticks
from leverarm.scene.layout import View
from leverarm.scene.load_charts import STRIP_VIEWS, strip_chart
from leverarm.scene.loader_arc import arc_chart
from leverarm.scene.shapes import Circle, Dimension, Label, Line, Marker, Polygon, Scene, Shape
from leverarm.scene.soil import depth_chart
from leverarm.scene.tilt import base_plan, slope_section
from leverarm.scene.turning import mismatch_chart
from leverarm.stability import arc, demo_arms, demo_stance, peak, side_tilt
from leverarm.uncertainty import uncertain
from leverarm.weighing.demo import BELIEVED, U_TAPE_M

# The bucket off the machine: distance of its edges and readings at both, in our own numbers.
SPAN_M = from_unit(35, "length", "in")
PIN_KG, FAR_KG = (from_unit(shown, "weight", "lb") for shown in (165, 95))
SQUASH = ("10 mm", "-2 mm")  # front and rear hub
RADIUS_M = 2.5
LOAD_KG = from_unit(600, "weight", "lb")
SIDE_DEG = 12


# Lessons 04 and 05: the loader piece by piece, the weigh day.


def stripped() -> Scene:
    """The front axle's reading as bucket and frame come off."""
    frame, bucket = demo_loader()
    off = [(part.name, -part.front_kg) for part in shares(demo_tractor(), bucket, frame)]
    return strip_chart("front", predict(demo_tractor(), frame, bucket).front_kg, off)


def five_readings() -> Scene:
    """The same axle weighed five times: dots on a scale, their mean marked."""
    unit = unit_of("weight")
    readings = [to_unit(kg, "weight", unit) for kg in weighing.FIVE_READINGS_KG]
    low, high = min(readings) - 1, max(readings) + 1
    middle = weighing.mean(readings)
    seen: Counter[float] = Counter()
    dots = []
    for reading in sorted(round(reading, 6) for reading in readings):
        seen[reading] += 1
        dots.append(Marker((reading, 0.0, 0.0, 1.2 * seen[reading] - 0.4), "front", size=0.9))
    shapes: list[Shape] = [
        Line(((low, 0), (high, 0)), "ink", 0.08),
        *(
            Label((at, 0), show_number(at, 0), "muted", "down", fixed=True)
            for at in ticks(low, high)
        ),
        *dots,
        Line(((middle, 0, 0, -0.1), (middle, 0, 0, 3.6)), "rear", 0.16),
        Label(
            (middle, 0, 0.3, 3.4), f"mean {show_number(middle)} {unit}", "rear", "right", fixed=True
        ),
        Label((middle, 0), f"front axle, {unit}", "ink", "down", gap=1.8, fixed=True),
    ]
    listed = ", ".join(show_number(reading, 0) for reading in readings)
    return Scene(
        tuple(shapes),
        (low, 0, high, 1),
        "One axle, weighed five times",
        f"Front axle readings {listed} {unit}: five dots on one scale, "
        f"from {show_number(min(readings), 0)} to {show_number(max(readings), 0)}, "
        f"their mean {show_number(middle)} {unit} marked by a line.",
        (1.5, 1.5, 1.0, 3.4),
        "fill",
    )


def ever_narrower() -> Scene:
    """The bucket's weight: believed, from one reading of each, from two, from every set-up."""
    scales, off, on = (
        weighing.demo_scales(),
        weighing.demo_pair("loader frame"),
        weighing.demo_pair("loader frame + bucket"),
    )
    base, unit = demo_tractor().wheelbase_m, unit_of("weight")
    once = weighing.infer(
        [x[:1] for x in off], [x[:1] for x in on], base, u_reading=1, scales=scales
    ).weight
    twice = weighing.infer(off, on, base, u_reading=1, scales=scales).weight
    fit = weighing.least_squares(
        weighing.demo_day().setups, base, u_reading=1, u_wheelbase=U_TAPE_M, scales=scales
    )
    rows = [
        ("believed", uncertain(BELIEVED["weight"], BELIEVED["u_weight"]), "muted"),
        ("each scale read once", once, "load"),
        ("each scale read twice", twice, "load"),
        ("five set-ups together", fit.pieces["bucket"].weight, "load"),
    ]
    shown = [(name, number / from_unit(1, "weight", unit), role) for name, number, role in rows]
    return span_chart(
        "What the bucket weighs, known better and better",
        f"weight of the bucket, {unit}",
        [
            Span(name, number.value, number.interval()[0], number.interval()[1], role)
            for name, number, role in shown
        ],
    )


def bucket_on_pipe() -> Scene:
    """A bucket off the machine: one edge on a scale, the other on a pipe."""
    found = weighing.detached(PIN_KG, FAR_KG, SPAN_M)
    center = found.from_pins.value
    at_pins, at_edge, both = (
        show(kg, "weight", decimals=0) for kg in (PIN_KG, FAR_KG, found.weight.value)
    )
    bucket = Polygon(
        ((0.0, 0.12), (-0.02, 0.55), (0.22, 0.58), (0.30, 0.24), (SPAN_M, 0.14), (SPAN_M, 0.12)),
        "load",
    )
    scale = Polygon(((-0.12, 0.0), (-0.12, 0.10), (0.12, 0.10), (0.12, 0.0)), "front")
    shapes: list[Shape] = [
        Line(((-0.4, 0), (SPAN_M + 0.4, 0)), "ground", 0.16),
        scale,
        bucket,
        Circle((SPAN_M - 0.03, 0.06), 0.06, "body"),
        Circle((0.0, 0.11), 0.012, "front"),
        Marker((center, 0.24), "ink", "cross"),
        Label((-0.14, 0.08), f"scale\n{at_pins}", "front", "left", bold=True),
        Label((SPAN_M + 0.08, 0.06), "pipe", "body", "right"),
        Label((0.0, 0.58), "pin side", "load", "up"),
        Label((center, 0.24), f"weighs {both}", "ink", "right", 0.8),
        Dimension(
            (0.0, 0, 0, -1.2), (SPAN_M - 0.03, 0, 0, -1.2), f"edge to edge {show(SPAN_M, 'length')}"
        ),
        Dimension((0.0, 0, 0, -3.0), (center, 0, 0, -3.0), show(center, "length")),
    ]
    return Scene(
        tuple(shapes),
        (-0.45, 0.0, SPAN_M + 0.45, 0.6),
        "A bucket weighed off the machine",
        "A bucket lies with its pin side on a scale, "
        f"which reads {at_pins}, and its cutting edge on a pipe "
        f"{show(SPAN_M, 'length')} away. With the two exchanged the scale reads "
        f"{at_edge}. Together {both}; "
        f"the center of gravity is {show(center, 'length')} from the pin side.",
        (2.0, 2.0, 2.0, 4.6),
    )


# Lessons 08 and 09: the lift, its loads, the base, the slope, the counterweight.


def lift_loads() -> Scene:
    """Both axle loads along the lift."""
    plot, loader = demo_tractor(), demo_arms()
    return arc_chart(loader, arc(plot, loader, LOAD_KG), peak(plot, loader, LOAD_KG), mark="peak")


def base() -> Scene:
    """The base from above, arms low."""
    plot, loader, stance = demo_tractor(), demo_arms(), demo_stance()
    tilt = side_tilt(plot, *loader.at(loader.lowest_deg), stance=stance)
    return base_plan(tilt, stance, plot.wheelbase_m, side_deg=SIDE_DEG)


def across() -> Scene:
    """The machine across a slope, arms low."""
    plot, loader, stance = demo_tractor(), demo_arms(), demo_stance()
    return slope_section(
        side_tilt(plot, *loader.at(loader.lowest_deg), stance=stance), stance, side_deg=SIDE_DEG
    )


# Lessons 10 and 11: stress with depth, the mismatch against the radius.


def _contacts() -> tuple[Contact, Contact]:
    """The front tire with the loader off and on."""
    off, on = front_contacts(
        demo_patch(), predict(demo_tractor()), predict(demo_tractor(), *demo_loader())
    )
    return off, on


def depth() -> Scene:
    """Stress with depth, loader off and on."""
    return depth_chart(*_contacts())


def mismatch() -> Scene:
    """Mismatch against turning radius, loader off and on."""
    return mismatch_chart(demo_drive(), demo_drive().squashed(*SQUASH), RADIUS_M)


# Name -> (what makes it, the sheet it is drawn on).
PICTURES = {
    "strip_front": (stripped, STRIP_VIEWS[0]),
    "five_readings": (five_readings, span_views(2)[0]),
    "ever_narrower": (ever_narrower, span_views(4)[0]),
    "bucket_on_pipe": (bucket_on_pipe, View(720.0, 320.0, 16.0)),
}
