"""Pictures of lessons 04 and 05, of the invented demo machine and its invented weigh day."""

from collections import Counter

from leverarm import weighing
from leverarm.axles import predict, shares
from leverarm.machine import demo_loader, demo_tractor
from leverarm.quantities import show
from leverarm.scene.chart import ticks
from leverarm.scene.layout import View
from leverarm.scene.shapes import Circle, Dimension, Label, Line, Marker, Polygon, Scene
from leverarm.scene.weigh_charts import STRIP_VIEWS, Span, span_chart, span_views, strip_chart
from leverarm.uncertainty import uncertain
from leverarm.weighing.demo import BELIEVED, U_TAPE_M

# The bucket off the machine: distance of its edges and readings at both, in our own numbers.
SPAN_M, PIN_KG, FAR_KG = 0.90, 70.0, 40.0


def stripped(axle):
    """One axle's reading as bucket and frame come off."""
    frame, bucket = demo_loader()
    off = [
        (part.name, -getattr(part, f"{axle}_kg")) for part in shares(demo_tractor(), bucket, frame)
    ]
    return strip_chart(axle, getattr(predict(demo_tractor(), frame, bucket), f"{axle}_kg"), off)


def five_readings():
    """The same axle weighed five times: dots on a scale, their mean marked."""
    readings = weighing.FIVE_READINGS_KG
    low, high = min(readings) - 1, max(readings) + 1
    middle = weighing.mean(readings)
    seen, dots = Counter(), []
    for kg in sorted(readings):
        seen[kg] += 1
        dots.append(Marker((kg, 0.0, 0.0, 1.2 * seen[kg] - 0.4), "front", size=0.9))
    marks = [Label((kg, 0), f"{kg:.0f}", "muted", "down", fixed=True) for kg in ticks(low, high)]
    shapes = [
        Line(((low, 0), (high, 0)), "ink", 0.08),
        *marks,
        *dots,
        Line(((middle, 0, 0, -0.1), (middle, 0, 0, 3.6)), "rear", 0.16),
        Label((middle, 0, 0.3, 3.4), f"mean {middle:.1f} kg", "rear", "right", fixed=True),
        Label((middle, 0), "front axle, kg", "ink", "down", gap=1.8, fixed=True),
    ]
    said = ", ".join(f"{kg:.0f}" for kg in readings)
    return Scene(
        tuple(shapes),
        (low, 0, high, 1),
        "One axle, weighed five times",
        f"Front axle readings {said} kg: five dots on one scale, from {min(readings):.0f} to {max(readings):.0f}, "
        f"their mean {middle:.1f} kg marked by a line.",
        (1.5, 1.5, 1.0, 3.4),
        "fill",
    )


def ever_narrower():
    """The bucket's weight: believed, from one reading of each, from two, from every state together."""
    scales, off, on = (
        weighing.demo_scales(),
        weighing.demo_pair("loader frame"),
        weighing.demo_pair("loader frame + bucket"),
    )
    once = weighing.infer(
        [x[:1] for x in off], [x[:1] for x in on], 1.65, u_reading=1, scales=scales
    ).weight
    twice = weighing.infer(off, on, 1.65, u_reading=1, scales=scales).weight
    fit = weighing.least_squares(
        weighing.setup_readings(weighing.demo_rows()),
        1.65,
        u_reading=1,
        u_wheelbase=U_TAPE_M,
        scales=scales,
    )
    rows = [
        ("believed", uncertain(BELIEVED["weight"], BELIEVED["u_weight"]), "muted"),
        ("each scale read once", once, "load"),
        ("each scale read twice", twice, "load"),
        ("five states together", fit.pieces["bucket"].weight, "load"),
    ]
    return span_chart(
        "What the bucket weighs, ever better known",
        "weight of the bucket, kg",
        [Span(name, number.value, *number.interval(), role) for name, number, role in rows],
    )


def bucket_on_pipe():
    """A bucket off the machine: one edge on a scale, the other on a pipe."""
    found = weighing.detached(PIN_KG, FAR_KG, SPAN_M)
    center = found.from_pins.value
    bucket = Polygon(
        ((0.0, 0.12), (-0.02, 0.55), (0.22, 0.58), (0.30, 0.24), (SPAN_M, 0.14), (SPAN_M, 0.12)),
        "load",
    )
    scale = Polygon(((-0.12, 0.0), (-0.12, 0.10), (0.12, 0.10), (0.12, 0.0)), "front")
    shapes = [
        Line(((-0.4, 0), (SPAN_M + 0.4, 0)), "ground", 0.16),
        scale,
        bucket,
        Circle((SPAN_M - 0.03, 0.06), 0.06, "body"),
        Circle((0.0, 0.11), 0.012, "front"),
        Marker((center, 0.24), "ink", "cross"),
        Label((-0.14, 0.08), f"scale\n{show(PIN_KG, 'weight')}", "front", "left", bold=True),
        Label((SPAN_M + 0.08, 0.06), "pipe", "body", "right"),
        Label((0.0, 0.58), "pins' side", "load", "up"),
        Label((center, 0.24), f"weighs {show(found.weight.value, 'weight')}", "ink", "right", 0.8),
        Dimension(
            (0.0, 0, 0, -1.2), (SPAN_M - 0.03, 0, 0, -1.2), f"edge to edge {show(SPAN_M, 'length')}"
        ),
        Dimension((0.0, 0, 0, -3.0), (center, 0, 0, -3.0), show(center, "length")),
    ]
    return Scene(
        tuple(shapes),
        (-0.45, 0.0, SPAN_M + 0.45, 0.6),
        "A bucket weighed off the machine",
        f"A bucket lies with its pins' side on a scale, which reads {show(PIN_KG, 'weight')}, and its cutting edge on a pipe "
        f"{show(SPAN_M, 'length')} away. With the two exchanged the scale reads {show(FAR_KG, 'weight')}. Together "
        f"{show(found.weight.value, 'weight')}; the center of gravity is {show(center, 'length')} from the pins' side.",
        (2.0, 2.0, 2.0, 4.6),
    )


# Name -> (what makes it, the sheet it is drawn on).
PICTURES = {
    "strip_front": (lambda: stripped("front"), STRIP_VIEWS[0]),
    "strip_rear": (lambda: stripped("rear"), STRIP_VIEWS[0]),
    "five_readings": (five_readings, span_views(2)[0]),
    "ever_narrower": (ever_narrower, span_views(4)[0]),
    "bucket_on_pipe": (bucket_on_pipe, View(720.0, 320.0, 16.0)),
}
