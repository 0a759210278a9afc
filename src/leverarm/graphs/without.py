"""Graphs where there is no numpy or matplotlib, as in a browser's own Python.

A histogram is drawn by :mod:`leverarm.scene`, with the same words; a Figure is refused.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NoReturn

from leverarm.quantities import Refusal
from leverarm.scene import WIDE, Axis, Curve, Mark, line_chart, svg

INTERVAL_NAME = "first order, 95 %"
# The share of the draws that is shown; the far tails would flatten the rest.
SHOWN_SHARE = 0.995
_BINS = 40


@dataclass(frozen=True)
class SceneGraph:
    """A graph drawn as a scene; shows itself as a Picture does.

    alt_text    what a screen reader says;  html  the HTML of the page
    """

    alt_text: str
    html: str

    def _repr_html_(self) -> str:
        return self.html


def figure(*_: object, **__: object) -> NoReturn:
    """A Figure to draw on: there is none here, and the refusal says so."""
    raise Refusal(
        "drawing",
        "this Python",
        "one with matplotlib",
        "open this page in the whole workbook",
    )


color = figure


def described(ordered: Sequence[float], unit: str, interval: tuple[float, float] | None) -> str:
    """A histogram in words: the middle of the draws, beside the other route's interval."""
    low, high = ordered[int(0.025 * len(ordered))], ordered[int(0.975 * len(ordered))]
    words = f"Histogram of {len(ordered)} draws: the middle 95 % lie from {low:,.4g} "
    words += f"to {high:,.4g} {unit}"
    if interval:
        words += f"; {INTERVAL_NAME}: {interval[0]:,.4g} to {interval[1]:,.4g}"
    return words + "."


def counts(values: Sequence[float], bins: int) -> tuple[float, float, list[int]]:
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


def _outline(low: float, width: float, found: list[int]) -> tuple[tuple[float, float], ...]:
    """The steps of a histogram as a line."""
    sides = [(low, 0.0)]
    for at, count in enumerate(found):
        sides += [(low + at * width, count), (low + (at + 1) * width, count)]
    return (*sides, (low + len(found) * width, 0.0))


def histogram(
    values: Iterable[float],
    *,
    unit: str = "kg",
    title: str = "",
    interval: tuple[float, float] | None = None,
) -> SceneGraph:
    """How often each value was drawn; the same words as the one matplotlib draws."""
    ordered = sorted(values)
    cut = int((1 - SHOWN_SHARE) / 2 * len(ordered))
    low, width, found = counts(ordered[cut : len(ordered) - cut], _BINS)
    ends = [low, low + _BINS * width, *(interval or ())]
    chart = line_chart(
        title or "Draws",
        described(ordered, unit, interval),
        Axis(unit, min(ends), max(ends)),
        Axis("how often", 0, max(found) * 1.1),
        [Curve("", _outline(low, width, found), markers=0)],
        marks=[Mark(f"{edge:,.4g}", edge, role="rear") for edge in interval or ()],
    )
    # No wider than the page.
    drawn = svg(chart, WIDE, card=True).replace(
        "<svg ", '<svg style="max-width:100%;height:auto" ', 1
    )
    return SceneGraph(chart.desc, drawn)
