"""Readings carried over: from the row above, or from a repeat with two of them exchanged.

They look like readings; only that the very digits stand elsewhere betrays them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from leverarm.weighing.day import WeighDay
from leverarm.weighing.finding import Finding, day_rows, key_of, reading_of
from leverarm.weighing.plausible import FAR, DayRow, Known
from leverarm.weighing.readings import AxleReading
from leverarm.weighing.scales import AXLES
from leverarm.weighing.usual import KINDS, hung_together, piece_kind

# How far from its usual place, in its spreads, a piece would hang that moved nothing on an axle;
# and how many times the noise it usually moves there.
UNUSUAL, CLEARLY_MOVED = 2.5, 4.0
# Two numbers this many steps apart, exchanged in a repeat to within one fifth of that.
EXCHANGED_STEPS, EXCHANGED_WITHIN = 6.0, 0.2


def copied_from_above(rows: Sequence[DayRow], known: Known) -> Iterator[Finding]:
    """One axle reads what it read in the row above, and what came on usually changes it."""
    for above, row in pairwise(rows):
        same = [
            axle
            for axle in AXLES
            if _reading(row, axle) is not None and _reading(row, axle) == _reading(above, axle)
        ]
        if len(same) == 1 and _would_change(above, row, same[0], known):
            brief = (
                f"The {same[0]} reading of {row.name} is the same as in row {above.number}, and "
                "may have been copied"
            )
            yield Finding(
                key_of("copied", reading_of(row.weighing)),
                row.number,
                f"{brief}: what came on or off between them usually changes it.",
                "copied",
                brief=brief,
            )


def _reading(row: DayRow, axle: str) -> AxleReading | None:
    return row.weighing.front if axle == "front" else row.weighing.rear


def _would_change(above: DayRow, row: DayRow, axle: str, known: Known) -> bool:
    """Whether what lies between two set-ups hangs where it changes this axle by far."""
    kinds = [piece_kind(piece) for piece in above.pieces ^ row.pieces]
    usual = [KINDS[kind] for kind in kinds if kind]
    nested = above.pieces < row.pieces or row.pieces < above.pieces
    (front, rear), (front_above, rear_above) = row.loads, above.loads
    if not nested or len(usual) < len(kinds):
        return False
    if front is None or rear is None or front_above is None or rear_above is None:
        return False
    weight = abs(front + rear - front_above - rear_above)
    middle = hung_together(usual)[3]
    here = 0.0 if axle == "rear" else -1.0
    moved = weight * abs(middle - here)
    load = rear if axle == "rear" else front
    far = abs(middle - here) > UNUSUAL * max(one.spread for one in usual)
    return far and moved > CLEARLY_MOVED * known.spread(load)


def exchanged_in_a_repeat(day: WeighDay) -> Iterator[Finding]:
    """A repeat that shows the other's two numbers the other way around, too near each other for
    repeats to disagree: front and rear, or the left and right wheel of an axle.  The scales' own
    step tells it from scatter; which of the two rows is right, nothing tells.
    """
    step = day.scales.step_kg
    known = Known(day.machine.wheelbase_m, day.scales, day.system)
    rows = day_rows(day)
    for i, row in enumerate(rows):
        first = next((one for one in rows[:i] if one.pieces == row.pieces), None)
        if first is None or not step:
            continue
        near = FAR * math.sqrt(2) * known.spread(max(load or 0.0 for load in row.loads))
        if _exchanged(first.loads, row.loads, step, near):
            yield _which("Front and rear", row, first)
        for axle in AXLES:
            one, other = _reading(first, axle), _reading(row, axle)
            if one is not None and other is not None and one.wheels and other.wheels:
                size = step * one.shown / one.kg if one.kg > 0 else step
                if _exchanged(one.sides, other.sides, size, math.inf):
                    yield _which(f"Left and right {axle} wheel", row, first)


def _exchanged(
    one: tuple[float | None, float | None],
    other: tuple[float | None, float | None],
    step: float,
    near: float,
) -> bool:
    a, b = one
    c, d = other
    if a is None or b is None or c is None or d is None:
        return False
    apart = abs(a - b)
    within = EXCHANGED_WITHIN * apart
    exchanged = abs(a - d) <= within and abs(b - c) <= within
    return EXCHANGED_STEPS * step <= apart <= near and exchanged


def _which(what: str, row: DayRow, first: DayRow) -> Finding:
    brief = f"{what} look swapped in {row.name} or in row {first.number}: which was it?"
    about = f"{what.casefold()} {reading_of(row.weighing)}"
    return Finding(key_of("swapped", about), row.number, brief, "swapped", brief=brief)
