"""Loads as bars in percent of the limits read from a manual."""

from leverarm.quantities import show, show_number
from leverarm.scene.chart import Axis, Bar, Mark, bar_chart


def limit_chart(bars, *, system="kg"):
    """ballast.Bars with a known limit, each in percent of it, under the line at 100; None where no limit is known."""
    known = [bar for bar in bars if bar.limit_kg is not None]
    if not known:
        return None
    top = max(120.0, 10 * -(-max(bar.share for bar in known) // 10))
    drawn = [
        Bar(
            bar.name.replace(" ", "\n", 1),
            bar.share,
            role=_role(bar.name),
            text=f"{show_number(bar.share, 0)} %" + (", over" if bar.over else ""),
        )
        for bar in known
    ]
    return bar_chart(
        "Loads under the limits you read",
        _desc(known, system),
        Axis("percent of the limit", 0, top),
        drawn,
        marks=[Mark("the limit you read", 0.0, 100.0)],
    )


def _role(name):
    """A bar takes the color of its axle; that it is over is said in words."""
    return next((axle for axle in ("front", "rear") if axle in name.lower()), "body")


def _desc(known, system):
    return " ".join(
        f"{bar.name}: {show(bar.load_kg, 'weight', system)} of {show(bar.limit_kg, 'weight', system)}, "
        f"{show_number(bar.share, 0)} percent{', over the limit' if bar.over else ''}."
        for bar in known
    )
