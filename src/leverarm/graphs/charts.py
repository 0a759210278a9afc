"""The few graphs the lessons need.  Each takes numbers already worked out, and returns a Picture."""

import matplotlib

from leverarm.graphs import said
from leverarm.graphs.style import STYLE, color, figure, picture
from leverarm.quantities import show_number


def _signed(number):
    return show_number(number, 1, sign=True)


def _finish(drawn, axes, words, *, title="", x="", y="", grid="both"):
    """Names on the axes and the words beside the picture."""
    axes.set(title=title, xlabel=x, ylabel=y)
    axes.grid(False)
    if grid != "none":
        axes.grid(True, axis=grid)
    return picture(drawn, words)


@matplotlib.rc_context(STYLE)
def waterfall(
    start, steps, *, unit="kg", role="front", title="", start_name="bare", end_name="all"
):
    """A reading, step by step.

    start   the first reading; steps  pairs (name, change), in the order they happen
    Each bar hangs where the last one ended; the ends are full bars.
    """
    drawn, axes = figure(max(6.0, 1.4 * (len(steps) + 2)), 4.2)
    level, names = start, [start_name]
    _full_bar(axes, 0, start, role)
    for at, (name, change) in enumerate(steps, 1):
        _step_bar(axes, at, level, change, role)
        level += change
        names.append(name)
    _full_bar(axes, len(names), level, role)
    axes.set_xticks(range(len(names) + 1), [*names, end_name])
    low, high = axes.get_ylim()
    axes.set_ylim(low, high + 0.08 * (high - low))
    axes.axhline(0, color=color("ink"), linewidth=1)
    return _finish(
        drawn,
        axes,
        said.waterfall(start, steps, unit, start_name, end_name),
        title=title,
        y=unit,
        grid="y",
    )


def _full_bar(axes, at, height, role):
    axes.bar(at, height, 0.6, color=color(role), zorder=2)
    _value(axes, at, max(height, 0), show_number(height, 1))


def _step_bar(axes, at, level, change, role):
    """A change: hatched where it takes away, with its sign in words over it."""
    axes.bar(
        at,
        change,
        0.6,
        bottom=level,
        color=color(role, "fill"),
        edgecolor=color(role),
        hatch="" if change >= 0 else "///",
        zorder=2,
    )
    axes.plot([at - 1.3, at + 0.3], [level, level], color=color("muted"), linewidth=1, zorder=1)
    _value(axes, at, max(level, level + change), _signed(change))


def _value(axes, x, y, text):
    axes.annotate(text, (x, y), (0, 4), textcoords="offset points", ha="center", fontweight="bold")


@matplotlib.rc_context(STYLE)
def intervals(rows, *, unit="kg", title="", truth=None, truth_name="truth"):
    """Values with their +/- on one scale, the first on top.

    rows    (name, value, low, high) or (name, value, low, high, role)
    truth   a value to mark with a line across, or None
    """
    drawn, axes = figure(7.0, 1.2 + 0.55 * len(rows))
    for at, (name, value, low, high, *role) in enumerate(rows):
        kind = role[0] if role else "front"
        axes.plot([low, high], [at, at], color=color(kind), linewidth=3, solid_capstyle="butt")
        axes.plot(
            [low, low, high, high],
            [at - 0.15, at + 0.15, at + 0.15, at - 0.15],
            color=color(kind),
            linewidth=0,
            marker="|",
            markersize=10,
            markeredgewidth=2,
        )
        axes.plot(value, at, marker="s" if kind == "rear" else "o", color=color(kind), markersize=8)
    axes.set_yticks(range(len(rows)), [row[0] for row in rows])
    axes.set_ylim(len(rows) - 0.4, -0.6)
    if truth is not None:
        axes.axvline(truth, color=color("ink"), linestyle=(0, (5, 3)), linewidth=1.5)
        axes.annotate(truth_name, (truth, -0.55), (4, 0), textcoords="offset points", va="top")
    return _finish(drawn, axes, said.intervals(rows, unit), title=title, x=unit, grid="x")


@matplotlib.rc_context(STYLE)
def histogram(
    values,
    *,
    unit="kg",
    title="",
    interval=None,
    interval_name="first order, 95 %",
    bins=60,
    keep=0.995,
):
    """How often each value was drawn.

    interval    (low, high) of another route to draw over it
    keep        share of the draws shown; the far tails are named in the words, not drawn
    """
    drawn, axes = figure(7.0, 3.8)
    ordered = sorted(values)
    cut = int((1 - keep) / 2 * len(ordered))
    shown = ordered[cut : len(ordered) - cut]
    axes.hist(shown, bins, color=color("front", "fill"), edgecolor=color("front"), linewidth=0.6)
    axes.set_yticks([])
    if interval:
        axes.axvspan(*interval, color=color("rear"), alpha=0.12, label=interval_name)
        for edge in interval:
            axes.axvline(edge, color=color("rear"), linestyle=(0, (5, 3)), linewidth=1.5)
        axes.legend(loc="upper right")
    return _finish(
        drawn,
        axes,
        said.histogram(ordered, unit, interval, interval_name),
        title=title,
        x=unit,
        y="how often",
        grid="x",
    )


@matplotlib.rc_context(STYLE)
def lines(x, curves, *, x_name="", y_name="", title="", marks=()):
    """Curves over one axis.

    curves  (name, values, role) with roles as in the side view; each also has its own dash and marker
    marks   (x, words) places to point out
    """
    drawn, axes = figure(7.0, 4.2)
    for (name, values, role), shape in zip(curves, _SHAPES * 2):
        dash, marker = ((0, (5, 3)), "s") if role == "rear" else shape
        axes.plot(
            x,
            values,
            label=name,
            color=color(role),
            linestyle=dash,
            marker=marker,
            linewidth=2,
            markevery=max(1, len(x) // 6),
        )
    for at, words in marks:
        axes.axvline(at, color=color("muted"), linestyle=":", linewidth=1.5)
        axes.annotate(
            words,
            (at, 1),
            (4, -4),
            xycoords=("data", "axes fraction"),
            textcoords="offset points",
            va="top",
        )
    if len(curves) > 1:
        axes.legend(loc="best")
    return _finish(drawn, axes, said.lines(curves, x_name, y_name), title=title, x=x_name, y=y_name)


_SHAPES = [("-", "o"), ((0, (5, 3)), "D"), ((0, (1, 1.5)), "^"), ((0, (6, 2, 1, 2)), "v")]


@matplotlib.rc_context(STYLE)
def bars(rows, *, unit="%", title="", role="front"):
    """Named lengths, the first on top: rows of (name, length)."""
    drawn, axes = figure(7.0, 1.2 + 0.45 * len(rows))
    axes.barh(
        range(len(rows)),
        [length for _, length in rows],
        0.6,
        color=color(role, "fill"),
        edgecolor=color(role),
    )
    for at, (_, length) in enumerate(rows):
        axes.annotate(
            show_number(length, 1),
            (max(length, 0), at),
            (5, 0),
            textcoords="offset points",
            va="center",
        )
    axes.set_yticks(range(len(rows)), [name for name, _ in rows])
    axes.invert_yaxis()
    axes.margins(x=0.12)
    return _finish(drawn, axes, said.bars(rows, unit), title=title, x=unit, grid="x")


@matplotlib.rc_context(STYLE)
def dots(groups, *, unit="kg", title=""):
    """Each reading a dot, each group's mean a short line: rows of (name, readings)."""
    drawn, axes = figure(7.0, 1.2 + 0.6 * len(groups))
    for at, (_, readings) in enumerate(groups):
        stacked = [at - 0.09 * readings[:i].count(x) for i, x in enumerate(readings)]
        axes.plot(readings, stacked, "o", color=color("front"), markersize=8, alpha=0.8)
        middle = sum(readings) / len(readings)
        axes.plot([middle, middle], [at - 0.32, at + 0.32], color=color("rear"), linewidth=2.5)
    axes.set_yticks(range(len(groups)), [name for name, _ in groups])
    axes.set_ylim(len(groups) - 0.4, -0.6)
    return _finish(drawn, axes, said.dots(groups, unit), title=title, x=unit, grid="x")
