"""Charts of axle loads: piece by piece, and under their limits."""

from collections.abc import Iterable, Sequence

from leverarm import ballast
from leverarm.quantities import show, show_number, to_unit, unit_of
from leverarm.scene.chart import Axis, Bar, Mark, bar_chart, nice_step
from leverarm.scene.layout import View
from leverarm.scene.shapes import Scene

# Room over the tallest bar for its number.
HEADROOM = 1.08
STRIP_VIEWS = View(720.0, 320.0, 16.0), View(270.0, 300.0, 13.0, narrow=True, name="narrow")


def strip_chart(
    axle: str, start_kg: float, steps: Sequence[tuple[str, float]], *, system: str | None = None
) -> Scene:
    """One axle's reading as pieces come off: a waterfall.

    axle    "front" or "rear"; start_kg  the reading with everything on
    steps   (name, change in kg) in the order they come off
    """
    unit = unit_of("weight", system)
    level = to_unit(start_kg, "weight", unit)
    bars = [Bar("all on", level, role=axle, text=show_number(level, 0))]
    left_kg = start_kg
    words = [
        f"{axle.capitalize()} axle: {show(start_kg, 'weight', system, decimals=0)} with all on"
    ]
    for name, change in steps:
        left_kg += change
        start, level = level, to_unit(left_kg, "weight", unit)
        text = show_number(to_unit(change, "weight", unit), 0, sign=True)
        bars.append(Bar(f"{name} off".replace(" ", "\n", 1), level, start, "load", text))
        words.append(f"{name} off {show(change, 'weight', system, decimals=0, sign=True)}")
    bars.append(Bar("bare", level, role=axle, text=show_number(level, 0)))
    words.append(f"{show(left_kg, 'weight', system, decimals=0)} bare.")
    top = max(max(bar.start, bar.end) for bar in bars)
    step = nice_step(top * HEADROOM, 5)
    return bar_chart(
        f"{axle.capitalize()} axle, piece by piece",
        "; ".join(words),
        Axis(f"{axle} axle, {unit}", 0, step * -(-top * HEADROOM // step)),
        bars,
        joined=True,
    )


def limit_chart(checks: Iterable[ballast.LimitCheck], *, system: str | None = None) -> Scene | None:
    """ballast.LimitChecks with a known limit, each in percent of it, under the line at 100.

    None where no limit is known.
    """
    known = [(check, check.share) for check in checks if check.share is not None]
    if not known:
        return None
    top = max(120.0, 10 * -(-max(share for _, share in known) // 10))
    drawn = [
        Bar(
            check.name.replace(" ", "\n", 1),
            share,
            role=_role(check.name),
            text=f"{show_number(share, 0)} %" + (", over" if check.over else ""),
        )
        for check, share in known
    ]
    return bar_chart(
        "Loads under the limits you read",
        _limits_desc(known, system),
        Axis("percent of the limit", 0, top),
        drawn,
        marks=[Mark("the limit you read", 0.0, 100.0)],
    )


def _role(name: str) -> str:
    """A bar takes the color of its axle; that it is over is said in words."""
    return next((axle for axle in ("front", "rear") if axle in name.lower()), "body")


def _limits_desc(known: Iterable[tuple[ballast.LimitCheck, float]], system: str | None) -> str:
    return " ".join(
        f"{check.name}: {show(check.load_kg, 'weight', system, decimals=0)} of "
        f"{show(check.limit_kg or 0.0, 'weight', system, decimals=0)}, "
        f"{show_number(share, 0)} percent{', over the limit' if check.over else ''}."
        for check, share in known
    )
