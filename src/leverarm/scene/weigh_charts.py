"""Charts of a weigh day: a reading stripped down step by step, and values with their plus or minus on one scale."""

from dataclasses import dataclass

from leverarm.quantities import show, show_number, to_unit, unit_of
from leverarm.scene.chart import Axis, Bar, bar_chart, nice_step, ticks
from leverarm.scene.layout import View
from leverarm.scene.shapes import Label, Line, Marker, Scene

# Half the height of the upright ends of a span, in ems.
HALF_CAP = 0.45
# Room over the tallest bar for its number.
HEADROOM = 1.08


def strip_chart(axle, start_kg, steps, *, system="kg", end_name="bare"):
    """One axle's reading as pieces come off: a waterfall.

    axle    "front" or "rear"; start_kg  the reading with everything on
    steps   (name, change in kg) in the order they come off
    """
    unit = unit_of("weight", system)
    shown = lambda kg: to_unit(kg, "weight", unit)
    level, bars = (
        start_kg,
        [Bar("all on", shown(start_kg), role=axle, text=show_number(shown(start_kg), 0))],
    )
    for name, change in steps:
        bars.append(
            Bar(
                f"{name} off".replace(" ", "\n", 1),
                shown(level + change),
                shown(level),
                "load",
                show_number(shown(change), 0, sign=True),
            )
        )
        level += change
    bars.append(Bar(end_name, shown(level), role=axle, text=show_number(shown(level), 0)))
    top = max(max(bar.start, bar.end) for bar in bars)
    step = nice_step(top * HEADROOM, 5)
    desc = (
        f"{axle.capitalize()} axle: {show(start_kg, 'weight', system)} with all on; "
        + "; ".join(
            f"{name} off {show(change, 'weight', system, sign=True)}" for name, change in steps
        )
        + f"; {show(level, 'weight', system)} {end_name}."
    )
    return bar_chart(
        f"{axle.capitalize()} axle, piece by piece",
        desc,
        Axis(f"{axle} axle, {unit}", 0, step * -(-top * HEADROOM // step)),
        bars,
        joined=True,
    )


@dataclass(frozen=True)
class Span:
    """A value and what it may be: from low to high, in the unit of the chart."""

    name: str
    value: float
    low: float
    high: float
    role: str = "front"


STRIP_VIEWS = View(720.0, 320.0, 16.0), View(270.0, 300.0, 13.0, narrow=True, name="narrow")


def span_views(count):
    """Sheets just tall enough for so many spans, wide and narrow."""
    return View(720.0, 80.0 + 54.0 * count, 16.0), View(
        270.0, 70.0 + 46.0 * count, 13.0, narrow=True, name="narrow"
    )


def span_chart(title, name, spans):
    """Spans under each other on one scale, the first on top; name says what the scale counts, with its unit."""
    low, high = min(s.low for s in spans), max(s.high for s in spans)
    room = 0.08 * (high - low) or max(abs(high), 1.0) * 0.05
    axis = Axis(name, low - room, high + room)
    shapes = [
        Line(((v, 0), (v, len(spans))), "muted", 0.03, dash=False)
        for v in ticks(axis.start, axis.end, 5)
    ]
    shapes += [Line(((axis.start, 0), (axis.end, 0)), "ink", 0.07)]
    decimals = max(0, -_exponent(nice_step(axis.end - axis.start, 5)))
    shapes += [
        Label((v, 0), show_number(v, decimals), "muted", "down", fixed=True, size=0.9)
        for v in ticks(axis.start, axis.end, 5)
    ]
    shapes.append(Label(((axis.start + axis.end) / 2, 0), name, "ink", "down", gap=1.7, fixed=True))
    shapes += [
        part for i, span in enumerate(spans) for part in _span(span, axis, len(spans) - i - 0.72)
    ]
    desc = " ".join(
        f"{s.name}: {show_number(s.value, decimals + 1)}, from {show_number(s.low, decimals + 1)} to "
        f"{show_number(s.high, decimals + 1)}."
        for s in spans
    )
    return Scene(
        tuple(shapes),
        (axis.start, 0, axis.end, len(spans)),
        title,
        f"{name}. {desc}",
        (1.2, 1.2, 0.8, 3.4),
        "fill",
    )


def _span(span, axis, y):
    """A line from low to high with upright ends, its mark at the value, its words over it."""
    ends = [
        Line(((x, y, 0, -HALF_CAP), (x, y, 0, HALF_CAP)), span.role, 0.16, dash=False)
        for x in (span.low, span.high)
    ]
    return [
        Line(((span.low, y), (span.high, y)), span.role, 0.22),
        *ends,
        Marker((span.value, y), span.role, size=0.8),
        Label((axis.start, y, 0, 0.75), span.name, span.role, "right", gap=0.2, fixed=True),
    ]


def _exponent(step):
    """Power of ten of a step: 0.2 -> -1, 20 -> 1."""
    return int(f"{step:e}".split("e")[1])
