"""Somebody who got on or off between two weighings: no reading is wrong, and they do not fit.

No number of one row betrays it, so it is asked before a reading is doubted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import product

from leverarm.quantities import to_unit
from leverarm.weighing.plausible import DayRow, Judgment, Oddity
from leverarm.weighing.readings import AxleReading

# What a person weighs, and how much of it the front axle feels: a seat stands between the axles,
# nearer the rear one.  Common practice, no source.
PERSON_KG = (50.0, 130.0)
ON_FRONT = (0.1, 0.5)
# From this share on, scales off zero would look the same.
NEARLY_EVEN = 0.42
# The oddities that a change on the machine may bring, beside a wrong reading.
BROUGHT_BY_IT = ("place", "weight", "lighter", "set-ups", "repeats")
# Where the search begins, and its steps.
_WEIGHTS_KG, _SHARES = (65.0, 80.0, 95.0, 115.0), (0.2, 0.35)
_STEPS = ((16.0, 0.08), (8.0, 0.04), (4.0, 0.02), (2.0, 0.01), (1.0, 0.005))


def person_rows(rows: Sequence[DayRow], odd: Oddity) -> Iterator[list[DayRow]]:
    """The rows in which somebody may have been on or off: one, or all of a set-up."""
    about = [row for row in rows if row.number in odd.rows and None not in row.loads]
    if odd.cause == "repeats":
        yield from ([row] for row in about)
        return
    together: dict[frozenset[str], list[DayRow]] = {}
    for row in rows:
        if None not in row.loads:
            together.setdefault(row.pieces, []).append(row)
    for pieces in {row.pieces for row in about}:
        yield together[pieces]


def with_person(
    rows: Sequence[DayRow], own: Sequence[DayRow], kg: float, share: float
) -> list[DayRow]:
    """Rows as they would read with so many kg more in some of them, a share of it on the front."""
    changed = {row.number: _heavier(row, kg * share, kg * (1 - share)) for row in own}
    return [changed.get(row.number, row) for row in rows]


def _heavier(row: DayRow, front_kg: float, rear_kg: float) -> DayRow:
    front, rear = row.weighing.front, row.weighing.rear
    assert front is not None and rear is not None  # person_rows takes only such
    return replace(
        row, weighing=replace(row.weighing, front=_more(front, front_kg), rear=_more(rear, rear_kg))
    )


def _more(reading: AxleReading, kg: float) -> AxleReading:
    more = to_unit(kg, "weight", reading.unit)
    if reading.total is not None:
        return replace(reading, total=reading.total + more)
    left, right = (side or 0.0 for side in reading.sides)
    return replace(reading, left=left + more / 2, right=right + more / 2)


def like_off_zero(row: DayRow, rows: Sequence[DayRow]) -> bool:
    """Whether what ``rows`` take off a row is nearly the same on both axles, as an error of zero
    is: scales that were not set to zero read as much too high in front as behind.
    """
    front, rear = next(one.loads for one in rows if one.number == row.number)
    was_front, was_rear = row.loads
    assert front is not None and rear is not None  # person_rows takes only such
    assert was_front is not None and was_rear is not None
    return (front - was_front) / (front + rear - was_front - was_rear) > NEARLY_EVEN


def best_person(
    rows: Sequence[DayRow],
    own: Sequence[DayRow],
    judge: Callable[[Sequence[DayRow]], Judgment],
    left: Callable[[Judgment], float],
) -> tuple[float, list[DayRow]]:
    """(how much stays unexplained, the rows) with the person in some rows who explains most."""

    def tried(kg: float, share: float) -> tuple[float, float, float]:
        return left(judge(with_person(rows, own, kg, share))), kg, share

    best = min(
        tried(sign * kg, share) for sign, kg, share in product((1, -1), _WEIGHTS_KG, _SHARES)
    )
    for by_kg, by_share in _STEPS:
        _, kg, share = best
        near = [
            (kg + by_kg, share),
            (kg - by_kg, share),
            (kg, share + by_share),
            (kg, share - by_share),
        ]
        allowed = [
            one
            for one in near
            if PERSON_KG[0] <= abs(one[0]) <= PERSON_KG[1] and ON_FRONT[0] <= one[1] <= ON_FRONT[1]
        ]
        best = min([best, *(tried(*one) for one in allowed)])
    value, kg, share = best
    return value, with_person(rows, own, kg, share)
