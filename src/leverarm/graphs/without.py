"""Graphs where there is no numpy or matplotlib, as in a browser's own Python: drawn live by `scene`, with the same words."""

from dataclasses import dataclass, replace

from leverarm.graphs import said
from leverarm.quantities import Refusal, show_number
from leverarm.scene import WIDE, Axis, Bar, Curve, Mark, Marker, bar_chart, line_chart, svg
from leverarm.scene.weigh_charts import Span, span_chart, span_views


@dataclass(frozen=True)
class Stand:
    """What stands in a graph's place; shows itself as a Picture does.

    words  what a screen reader says;  shown  the HTML of the page
    """

    words: str
    shown: str

    def _repr_html_(self):
        return self.shown


def _stand(words, scene, view=WIDE):
    """A scene with its words, no wider than the page."""
    drawn = svg(replace(scene, desc=words), view, card=True)
    return Stand(words, drawn.replace("<svg ", '<svg style="max-width:100%;height:auto" ', 1))


def figure(*told, **options):
    """A page to draw on: there is none here, and the refusal says so."""
    raise Refusal(
        "printing",
        "this Python",
        "one with matplotlib",
        "open this page in the whole workbook to print it",
    )


color = pdf = picture = figure


def _axis(name, values, *, zero=False):
    """An axis with a little room around all values; where it must, down to nothing."""
    low, high = min([*values, *[0] * zero]), max([*values, *[0] * zero])
    room = 0.1 * (high - low) or abs(high) or 1.0
    return Axis(
        name, low if zero and not low else low - room, high if zero and not high else high + room
    )


def waterfall(
    start, steps, *, unit="kg", role="front", title="", start_name="bare", end_name="all"
):
    """A reading, step by step: steps are pairs (name, change)."""
    level, columns = start, [Bar(start_name, start, role=role, text=show_number(start, 1))]
    for name, change in steps:
        columns.append(Bar(name, level + change, level, "load", show_number(change, 1, sign=True)))
        level += change
    columns.append(Bar(end_name, level, role=role, text=show_number(level, 1)))
    words = said.waterfall(start, steps, unit, start_name, end_name)
    tall = _axis(unit, [end for column in columns for end in (column.start, column.end)], zero=True)
    return _stand(words, bar_chart(title or "Step by step", "", tall, columns, joined=True))


def bars(rows, *, unit="%", title="", role="front"):
    """Named lengths: rows of (name, length)."""
    columns = [Bar(name, length, role=role, text=show_number(length, 1)) for name, length in rows]
    tall = _axis(unit, [length for _, length in rows], zero=True)
    return _stand(said.bars(rows, unit), bar_chart(title or "Lengths", "", tall, columns))


def intervals(rows, *, unit="kg", title="", truth=None, truth_name="truth"):
    """Values with their +/- on one scale: rows of (name, value, low, high) or (name, value, low, high, role)."""
    spans = [Span(*row) for row in rows] + (
        [] if truth is None else [Span(truth_name, truth, truth, truth, "ink")]
    )
    return _stand(
        said.intervals(rows, unit),
        span_chart(title or "Values", unit, spans),
        span_views(len(spans))[0],
    )


def dots(groups, *, unit="kg", title=""):
    """Each reading a dot, each group's mean a mark between its ends: rows of (name, readings)."""
    spans = [Span(name, sum(r) / len(r), min(r), max(r), "rear") for name, r in groups]
    chart = span_chart(title or "Readings", unit, spans)
    seen = tuple(
        Marker((x, len(spans) - at - 0.72, 0, 1.0 * r[:i].count(x)), "front", size=0.7)
        for at, (_, r) in enumerate(groups)
        for i, x in enumerate(r)
    )
    return _stand(
        said.dots(groups, unit),
        replace(chart, shapes=chart.shapes + seen),
        span_views(len(spans))[0],
    )


def lines(x, curves, *, x_name="", y_name="", title="", marks=()):
    """Curves over one axis: (name, values, role) each; marks (x, words) are places to point out."""
    drawn = [Curve(name, tuple(zip(x, values)), role) for name, values, role in curves]
    tall = _axis(y_name, [value for _, values, _ in curves for value in values])
    return _stand(
        said.lines(curves, x_name, y_name),
        line_chart(
            title or y_name,
            "",
            Axis(x_name, min(x), max(x)),
            tall,
            drawn,
            marks=[Mark(name, at) for at, name in marks],
        ),
    )


def counts(values, bins):
    """How many values fall into each of so many equal steps: (left edge, width, counts).

    >>> counts([0, 1, 1, 4], 2)
    (0, 2.0, [3, 1])
    """
    low, high = min(values), max(values)
    width = (high - low) / bins or 1.0
    found = [0] * bins
    for value in values:
        found[min(bins - 1, int((value - low) / width))] += 1
    return low, width, found


def _outline(low, width, found):
    """The steps of a histogram as a line."""
    sides = [(low, 0)]
    for at, count in enumerate(found):
        sides += [(low + at * width, count), (low + (at + 1) * width, count)]
    return (*sides, (low + len(found) * width, 0))


def histogram(
    values,
    *,
    unit="kg",
    title="",
    interval=None,
    interval_name="first order, 95 %",
    bins=40,
    keep=0.995,
):
    """How often each value was drawn; the same words as the drawn one."""
    ordered = sorted(values)
    cut = int((1 - keep) / 2 * len(ordered))
    low, width, found = counts(ordered[cut : len(ordered) - cut], bins)
    words = said.histogram(ordered, unit, interval, interval_name)
    marks = tuple(Mark(f"{edge:.4g}", edge, role="rear") for edge in interval or ())
    ends = [low, low + bins * width, *(interval or ())]
    chart = line_chart(
        title or "Draws",
        "",
        Axis(unit, min(ends), max(ends)),
        Axis("how often", 0, max(found) * 1.1),
        [Curve("", _outline(low, width, found), markers=0)],
        marks=marks,
    )
    return _stand(words, chart)
