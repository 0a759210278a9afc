"""Charts of axle loads: piece by piece, every set-up side by side, and under their limits."""

from collections.abc import Collection, Iterable, Sequence
from typing import TypeAlias

from leverarm import ballast
from leverarm.decision.table import Table
from leverarm.quantities import show, show_number, to_unit, unit_of
from leverarm.scene.chart import Axis, Bar, Mark, bar_chart, nice_step
from leverarm.scene.layout import View
from leverarm.scene.shapes import Label, Line, Marker, Polygon, Scene, Shape

LoadRow: TypeAlias = tuple[str, float, float]  # name, front kg, rear kg

# Room over the tallest bar for its number.
HEADROOM = 1.08
# In rows: the set-up's name, the front bar, the rear bar, and a gap.
ROWS = 3.3
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


def setup_rows(table: Table) -> list[LoadRow]:
    """(name, front kg, rear kg) of every set-up, for setups_chart."""
    return [(one.name, one.front.value, one.rear.value) for one in table.setups]


def setups_chart(
    rows: Sequence[LoadRow],
    system: str | None = None,
    *,
    title: str = "What each axle carries",
    hidden: Collection[str] = (),
) -> Scene:
    """Rows of (name, front kg, rear kg) as a Scene, first on top.

    hidden  names of rows whose bars are kept back
    """
    most = max(max(front, rear, 1.0) for _, front, rear in rows)
    shapes: list[Shape] = [Line(((0.0, 0.0), (0.0, -ROWS * len(rows))), "ink", 0.08)]
    for i, (name, *loads) in enumerate(rows):
        top = -ROWS * i
        shapes.append(Label((0.0, top - 0.5), name, "ink", "right", 0.3, fixed=True, bold=True))
        for j, (axle, kg) in enumerate(zip(("front", "rear"), loads)):
            shapes += _load_bar(axle, max(kg, 0.0), top - 1.1 - j, system, name in hidden)
    return Scene(
        tuple(shapes),
        (0.0, -ROWS * len(rows), most, 0.0),
        title,
        _setups_desc(rows, system, hidden),
        (0.6, 8.6, 0.2, 0.3),
        "fill",
    )


def _load_bar(axle: str, kg: float, top: float, system: str | None, hidden: bool) -> list[Shape]:
    """A bar with the mark of its axle at the end, and its words."""
    middle, words = top - 0.4, "?" if hidden else show(kg, "weight", system, decimals=0)
    kg = 0.0 if hidden else kg
    corners = ((0.0, top), (kg, top), (kg, top - 0.8), (0.0, top - 0.8))
    return [
        Polygon(corners, axle, width=0.14),
        Marker((kg, middle), axle, size=0.7),
        Label((kg, middle), f"{axle} {words}", axle, "right", 0.7, fixed=True, bold=True),
    ]


def _setups_desc(rows: Sequence[LoadRow], system: str | None, hidden: Collection[str]) -> str:
    def kg(value: float) -> str:
        return show(value, "weight", system, decimals=0)

    return " ".join(
        f"{name}: kept back until you have predicted."
        if name in hidden
        else f"{name}: front {kg(front)}, rear {kg(rear)}."
        for name, front, rear in rows
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
