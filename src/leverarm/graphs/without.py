"""Graphs where there is no numpy or matplotlib, as in a browser's own Python.

A histogram is drawn by `scene`. Of the others the title and the words stand there, with one sentence.
"""

from dataclasses import dataclass
from html import escape

from leverarm.quantities import Refusal
from leverarm.scene import Axis, Curve, Mark, line_chart, svg

SENTENCE = "This Python has no library for this kind of graph: read the numbers beside it, or open the lesson in the whole workbook."


@dataclass(frozen=True)
class Stand:
    """What stands in a graph's place; shows itself as a Picture does.

    words  what a screen reader says;  shown  the HTML of the page
    """

    words: str
    shown: str

    def _repr_html_(self):
        return self.shown


def _named(name):
    """A graph of this name that cannot be drawn here."""
    def graph(*told, title="", **options):
        words = " ".join(filter(None, [f"{title}." if title else "", SENTENCE]))
        return Stand(words, f'<p role="note">{escape(words)}</p>')

    graph.__name__ = name
    return graph


bars, dots, intervals, lines, waterfall = map(_named, ("bars", "dots", "intervals", "lines", "waterfall"))


def figure(*told, **options):
    """A page to draw on: there is none here, and the refusal says so."""
    raise Refusal("printing", "this Python", "one with matplotlib", "open this page in the whole workbook to print it")


colour = pdf = picture = figure


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


def histogram(values, *, unit="kg", title="", interval=None, interval_name="first order, 95 %", bins=40, keep=0.995):
    """How often each value was drawn; the same words as the drawn one."""
    ordered = sorted(values)
    cut = int((1 - keep) / 2 * len(ordered))
    low, width, found = counts(ordered[cut:len(ordered) - cut], bins)
    left, right = ordered[int(0.025 * len(ordered))], ordered[int(0.975 * len(ordered))]
    words = (f"Histogram of {len(ordered)} draws: the middle 95 % lie from {left:.4g} to {right:.4g} {unit}"
             + (f"; {interval_name}: {interval[0]:.4g} to {interval[1]:.4g}." if interval else "."))
    marks = tuple(Mark(f"{edge:.4g}", edge, role="rear") for edge in interval or ())
    ends = [low, low + bins * width, *(interval or ())]
    chart = line_chart(title or "Draws", words, Axis(unit, min(ends), max(ends)), Axis("how often", 0, max(found) * 1.1),
                       [Curve("", _outline(low, width, found), markers=0)], marks=marks)
    return Stand(words, svg(chart, card=True))
