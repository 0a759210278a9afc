"""A histogram of simulated values, drawn by matplotlib."""

from collections.abc import Iterable

import matplotlib

from leverarm.graphs.style import STYLE, Picture, color, figure
from leverarm.graphs.without import INTERVAL_NAME, SHOWN_SHARE, described

_BINS = 60


@matplotlib.rc_context(STYLE)
def histogram(
    values: Iterable[float],
    *,
    unit: str = "kg",
    title: str = "",
    interval: tuple[float, float] | None = None,
) -> Picture:
    """How often each value was drawn.

    interval    (low, high) of another route to draw over it
    The far tails are named in the words, not drawn.
    """
    drawn, axes = figure(7.0, 3.8)
    ordered = sorted(values)
    cut = int((1 - SHOWN_SHARE) / 2 * len(ordered))
    shown = ordered[cut : len(ordered) - cut]
    axes.hist(shown, _BINS, color=color("front", "fill"), edgecolor=color("front"), linewidth=0.6)
    axes.set_yticks([])
    if interval:
        axes.axvspan(*interval, color=color("rear"), alpha=0.12, label=INTERVAL_NAME)
        for edge in interval:
            axes.axvline(edge, color=color("rear"), linestyle=(0, (5, 3)), linewidth=1.5)
        axes.legend(loc="upper right")
    axes.set(title=title, xlabel=unit, ylabel="how often")
    axes.grid(False)
    axes.grid(True, axis="x")
    return Picture(drawn, described(ordered, unit, interval))
