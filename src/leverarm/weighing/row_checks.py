"""What the gate sees without weighing one set-up against another: dates, steps, what is missing."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from leverarm.numerals import number_readings
from leverarm.quantities import how_many, show
from leverarm.units import to_unit
from leverarm.weighing.day import WeighDay
from leverarm.weighing.finding import Finding, Proposal, day_rows, key_of, noted, reading_of
from leverarm.weighing.piece_names import two_machine_names
from leverarm.weighing.plausible import FAR, DayRow, Known

# A weigh day longer ago than this is likelier a slip of the year.
LONG_AGO_YEARS = 30
# The cause of the question whether anything but the set-up changed.
NOT_SAID = "unchanged, not said"
# Front and rear show the same number: a chance below this makes it worth a question.
SAME_BY_CHANCE = 0.01
# Over what part of its load front and rear usually differ; common practice, no source.
AXLES_APART = 0.3


def machine_and_date(day: WeighDay, others: Sequence[WeighDay], today: str) -> Iterator[Finding]:
    """Date, hours and wheelbase against the calendar and the other days."""
    if day.date > today:
        yield Finding(
            key_of("date", day.date),
            None,
            f"The date {day.date} has not come yet: is it another year or month?",
            "date",
        )
    if int(day.date[:4]) < int(today[:4]) - LONG_AGO_YEARS:
        yield Finding(
            key_of("date", day.date),
            None,
            f"The date {day.date} is more than {LONG_AGO_YEARS} years ago: is it another year?",
            "date",
        )
    if day.unchanged is False:
        yield Finding(
            key_of("unchanged", day.date),
            None,
            "Fuel, operator or mower changed between the weighings, so what seems to come off "
            "with a piece includes that change. Weigh again with all of them the same, as a "
            "correction of each row that was not.",
            "unchanged",
            Proposal("", unchanged=True),
            "fuel, operator or mower changed between the weighings",
            ("Weighed again, all the same now", "It is so"),
        )
    own = sorted((one for one in others if one.machine.key == day.machine.key), key=_date)
    if own:
        yield from _wheelbase(day, own[-1])
        yield from _hours(day, own)
    else:
        yield from two_machine_names(day, others)


def unchanged_not_said(day: WeighDay) -> Iterator[Finding]:
    """Asked as soon as set-ups are compared: nothing in the readings would betray a change."""
    if day.unchanged is None and len({row.key[0] for row in day.current}) > 1:
        yield Finding(
            key_of(NOT_SAID, day.date),
            None,
            "Were fuel, operator and mower the same in all set-ups of this day? A change in them "
            "would look like weight of a piece.",
            NOT_SAID,
            Proposal("", unchanged=True),
            "were fuel, operator and mower the same in all set-ups of this day?",
            ("Yes, all three", "No, something changed"),
        )


def _date(day: WeighDay) -> str:
    return day.date


def _wheelbase(day: WeighDay, other: WeighDay) -> Iterator[Finding]:
    here, there = day.machine, other.machine
    error = math.hypot(here.u_wheelbase_m or 0.0, there.u_wheelbase_m or 0.0)
    if abs(here.wheelbase_m - there.wheelbase_m) > max(3 * error, 0.01 * here.wheelbase_m):
        shown = [show(one.wheelbase_m, "length", day.system) for one in (here, there)]
        yield Finding(
            key_of("wheelbase", " and ".join(shown)),
            None,
            f"The wheelbase of {here.name} is {shown[0]} on {day.date} and {shown[1]} on "
            f"{other.date}: one of them is wrong, or these are two machines under one name.",
            "wheelbase",
        )


def _hours(day: WeighDay, own: Sequence[WeighDay]) -> Iterator[Finding]:
    def meter(one: WeighDay) -> float | None:
        digits = re.match(r"[\d.,]+", one.machine.hours)
        return next(iter(number_readings(digits[0])), None) if digits else None

    here = meter(day)
    for other in own:
        there = meter(other)
        if here is None or there is None or other.date == day.date:
            continue
        if (other.date < day.date) != (there <= here) and here != there:
            yield Finding(
                key_of("hours", f"{here:g} and {there:g}"),
                None,
                f"The hour meter shows {here:,g} on {day.date} and {there:,g} on {other.date}: "
                "a date is wrong, or the hours are, or these are two machines under one name.",
                "hours",
            )
            return


def rows_alone(day: WeighDay) -> Iterator[Finding]:
    """A missing axle, a reading off the step, the same row twice, a repeat without its number."""
    rows = day_rows(day)
    yield from _one_axle(rows)
    yield from _off_step(day, rows)
    yield from _one_for_both(day, rows)
    yield from _twice(day, rows)
    yield from _same_number(day, rows)


def _one_axle(rows: Sequence[DayRow]) -> Iterator[Finding]:
    if not any(None not in row.loads for row in rows):
        return
    for row in rows:
        if None in row.loads:
            axle, read = ("front", "rear") if row.loads[0] is None else ("rear", "front")
            yield Finding(
                key_of("one axle", reading_of(row.weighing)),
                row.number,
                f"Only the {read} axle is read in {row.name}; the {axle} reading is missing.",
                "one axle",
            )


def _off_step(day: WeighDay, rows: Sequence[DayRow]) -> Iterator[Finding]:
    step = day.scales.step_kg
    if not step:
        return
    off = []
    for row in rows:
        size = to_unit(step, "weight", row.weighing.unit)
        if not _round_number(size):
            continue  # the scales step in another unit: the row was converted by hand
        for reading in (row.weighing.front, row.weighing.rear):
            for number in () if reading is None else (reading.total, reading.left, reading.right):
                if number is not None and abs(math.remainder(number, size)) > 0.01 * size:
                    off.append((row, number, size))
    if off:
        row, number, size = off[0]
        more = f", and {how_many(len(off) - 1, 'other reading')}" if len(off) > 1 else ""
        yield Finding(
            key_of("step", " & ".join(reading_of(row.weighing) for row, *_ in off[:5])),
            row.number,
            f"The reading {number:,g} {row.weighing.unit} in {row.name}{more} cannot come from "
            f"scales that step by {size:.4g} {row.weighing.unit}: the reading or the step is "
            "wrong.",
            "step",
        )


def _one_for_both(day: WeighDay, rows: Sequence[DayRow]) -> Iterator[Finding]:
    """One number on both axles of a set-up, where chance alone would seldom bring it."""
    step = day.scales.step_kg or 0.0
    for row in rows:
        front, rear = row.weighing.front, row.weighing.rear
        same_setup = [one for one in rows if one.pieces == row.pieces and one is not row]
        if (
            front is not None
            and rear is not None
            and front.shown == rear.shown
            and 0 < step < SAME_BY_CHANCE * AXLES_APART * front.kg
            and not any(_alike(one) for one in same_setup)
        ):
            yield Finding(
                key_of("copied", reading_of(row.weighing)),
                row.number,
                f"Front and rear show the same number in {row.name}: was one copied from the "
                "other?",
                "copied",
            )


def _alike(row: DayRow) -> bool:
    """True where front and rear of a row are within 2 percent, and not the same."""
    front, rear = row.loads
    return front is not None and rear is not None and 0 < abs(front - rear) < 0.02 * front


def _round_number(size: float) -> bool:
    """True for 1, 2, 2.5 or 5 and their tens: the steps that displays have."""
    leading = size / 10 ** math.floor(math.log10(size) + 1e-9)
    return any(abs(leading - one) < 1e-3 for one in (1, 2, 2.5, 5))


def _twice(day: WeighDay, rows: Sequence[DayRow]) -> Iterator[Finding]:
    """The very same digits on both axles, where the other repeats scatter more than that."""
    groups: dict[frozenset[str], list[DayRow]] = {}
    for row in rows:
        if None not in row.loads:
            groups.setdefault(row.pieces, []).append(row)
    pairs = [(a, b) for own in groups.values() for a, b in pairwise(own)]
    alike = [(a, b) for a, b in pairs if a.loads == b.loads]
    apart = [
        x - y
        for a, b in pairs
        if a.loads != b.loads
        for x, y in zip(a.loads, b.loads)
        if x is not None and y is not None
    ]
    if not alike or len(apart) < 2 or not day.scales.step_kg:
        return
    u = math.sqrt(sum(x * x for x in apart) / len(apart) / 2)
    chance = min(1.0, day.scales.step_kg / (u * 2 * math.sqrt(math.pi))) ** 2
    if chance * len(pairs) < 0.015:
        first, again = alike[0]
        yield Finding(
            key_of("twice", reading_of(again.weighing)),
            again.number,
            f"{again.at_start} shows the very digits of row {first.number}, and the other "
            "repeats differ: was one reading written down twice?",
            "twice",
        )


def _same_number(day: WeighDay, rows: Sequence[DayRow]) -> Iterator[Finding]:
    """A row that replaces one it hardly differs from: rather a second weighing."""
    known = Known(day.machine.wheelbase_m, day.scales, day.system)
    places = {id(row.weighing): row for row in rows}
    for number, row in enumerate(day.rows, 1):
        later = next((one for one in day.rows[number:] if one.key == row.key), None)
        if later is None or id(later) not in places:
            continue
        here, there = DayRow(number, row.key[0], row), places[id(later)]
        if any(here.loads == one.loads for one in rows if one.pieces == here.pieces):
            continue  # it counts under another number
        pairs = [(a, b) for a, b in zip(here.loads, there.loads) if a is not None and b is not None]
        if pairs and all(0 < abs(a - b) < FAR * 1.5 * known.spread(a) for a, b in pairs):
            again = replace(later, repeat=day.next_repeat(later.setup))
            yield Finding(
                key_of("same number", f"{reading_of(row)} and {reading_of(later)}"),
                there.number,
                f"{there.at_start} takes the place of row {number}, since both are repeat "
                f"{row.repeat}: if it was weighed again, both count.",
                "same number",
                Proposal(
                    f"Count both: row {number} as repeat {row.repeat}, row {there.number} as "
                    f"repeat {again.repeat}.",
                    (noted(row, "same number"), noted(again, "same number")),
                ),
            )
