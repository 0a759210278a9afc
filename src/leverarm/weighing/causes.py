"""What people do wrong when they write readings down, each as a change that would undo it.

A Cause says in words what looks wrong and holds the rows as they would read without it.  The
gate tries each on the rows that do not fit, and names the one that leaves the least unexplained.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, product

from leverarm.quantities import from_unit, to_unit
from leverarm.weighing.plausible import DayRow
from leverarm.weighing.readings import AxleReading, digits, grouped
from leverarm.weighing.scales import AXLES
from leverarm.weighing.usual import KINDS, hung_together, piece_kind

MOST_ROWS_TRIED = 8
# Ballast that is named, though no row tells of it, weighs at least this part of the machine.
LEAST_BALLAST = 0.05


@dataclass(frozen=True)
class Cause:
    """One possible mistake.

    name        "swapped", "unit", "digits" ...
    sentence    what looks wrong, naming the row, without its full stop
    rows        {number: the row as it would read}; it may also tell another set-up
    rarity      how seldom it is made (-2 ln of its chance, roughly): breaks ties
    offered     True where the change can be written as a correction
    """

    name: str
    sentence: str
    rows: Mapping[int, DayRow]
    rarity: float
    offered: bool = True


def causes(rows: Sequence[DayRow], odd: Sequence[int]) -> Iterator[Cause]:
    """Every Cause to try, where the rows with these numbers do not fit."""
    by_number = {row.number: row for row in rows}
    for number in odd[:MOST_ROWS_TRIED]:
        row = by_number[number]
        yield from _of_one_row(row)
        yield from _other_setups(row, rows)
        yield from _ballast_left_on(row, rows)
        yield from _copied(row, rows)
    yield from _of_setups(rows, [by_number[number] for number in odd])
    yield from _of_the_day(rows)


def _read(row: DayRow, axle: str, reading: AxleReading | None) -> DayRow:
    """A row with another reading of one axle."""
    return replace(
        row,
        weighing=replace(row.weighing, front=reading)
        if axle == "front"
        else replace(row.weighing, rear=reading),
    )


def _with(row: DayRow, front: AxleReading | None, rear: AxleReading | None) -> DayRow:
    """A row with other readings of both axles."""
    return replace(row, weighing=replace(row.weighing, front=front, rear=rear))


def _with_wheel(reading: AxleReading, place: str, number: float | None) -> AxleReading:
    """A reading with another number for one wheel, or for the axle."""
    if place == "total":
        return replace(reading, total=number)
    return replace(reading, left=number) if place == "left" else replace(reading, right=number)


def swapped(row: DayRow) -> DayRow:
    """A row with front and rear the other way around."""
    return _with(row, row.weighing.rear, row.weighing.front)


def row_in_unit(row: DayRow, unit: str) -> DayRow:
    """A row with the same digits in another unit."""
    front, rear = row.weighing.front, row.weighing.rear
    return _with(
        row,
        None if front is None else replace(front, unit=unit),
        None if rear is None else replace(rear, unit=unit),
    )


def another_unit(row: DayRow) -> str:
    """The unit that is taken for the row's."""
    return "lb" if row.weighing.unit == "kg" else "kg"


def named(rows: Sequence[DayRow]) -> str:
    """Rows of one set-up, or several, as a person finds them."""
    if len(rows) == 1:
        return rows[0].name
    numbers = [str(row.number) for row in rows]
    same = len({row.pieces for row in rows}) == 1
    of = f" ({rows[0].weighing.setup_name})" if same else ""
    return f"rows {', '.join(numbers[:-1])} and {numbers[-1]}{of}"


def _of_one_row(row: DayRow) -> Iterator[Cause]:
    front, rear = row.weighing.front, row.weighing.rear
    if front and rear:
        yield Cause(
            "swapped", f"Front and rear look swapped in {row.name}", {row.number: swapped(row)}, 2
        )
        yield from _totals(row, front, rear)
        yield from _same_twice(row, front, rear)
        if front.wheels and rear.wheels:
            yield from _wheels(row, front, rear)
    unit = another_unit(row)
    yield Cause(
        "unit",
        f"The unit looks wrong in {row.name}: {unit} fits, and {row.weighing.unit} is written",
        {row.number: row_in_unit(row, unit)},
        3,
    )
    for axle, reading in zip(AXLES, (front, rear)):
        if reading:
            yield from _digits(row, axle, reading)
            yield from _wheels_of(row, axle, reading)


def _totals(row: DayRow, front: AxleReading, rear: AxleReading) -> Iterator[Cause]:
    for axle, whole, other in (("front", front, rear), ("rear", rear, front)):
        left = round(whole.shown - other.shown, 3)
        if left > 0 and whole.unit == other.unit:
            yield Cause(
                "total",
                f"The {axle} reading of {row.name} looks like front and rear together",
                {row.number: _read(row, axle, AxleReading(left, unit=whole.unit))},
                5,
            )


def _same_twice(row: DayRow, front: AxleReading, rear: AxleReading) -> Iterator[Cause]:
    """One axle's number written for both; which of the two is right, nobody can tell."""
    if front.shown == rear.shown:
        yield Cause(
            "copied",
            f"Front and rear show the same number in {row.name}, and one may have been copied",
            {row.number: _read(row, "rear", None)},
            4,
            offered=False,
        )


def _wheels_of(row: DayRow, axle: str, reading: AxleReading) -> Iterator[Cause]:
    """A wheel in another unit than its row, or one wheel written for its axle."""
    unit, other = reading.unit, another_unit(row)
    if not reading.wheels:
        yield Cause(
            "one wheel",
            f"The {axle} reading of {row.name} looks like one wheel of two: "
            f"{grouped(2 * reading.shown)} {unit} would fit",
            {row.number: _read(row, axle, replace(reading, total=2 * reading.shown))},
            7,
            offered=False,
        )
    for side, number in zip(("left", "right"), reading.sides):
        if number is not None:
            meant = round(to_unit(from_unit(number, "weight", other), "weight", unit))
            yield Cause(
                "wheel unit",
                f"The {axle} {side} wheel of {row.name} looks typed in {other}: "
                f"{grouped(number)} {other} is {meant:,} {unit}",
                {row.number: _read(row, axle, _with_wheel(reading, side, meant))},
                5,
                offered=False,
            )


def _wheels(row: DayRow, front: AxleReading, rear: AxleReading) -> Iterator[Cause]:
    """Two wheels that changed places, from axle to axle."""
    for ahead, behind in product(("left", "right"), repeat=2):
        changed = _with(
            row,
            _with_wheel(front, ahead, getattr(rear, behind)),
            _with_wheel(rear, behind, getattr(front, ahead)),
        )
        yield Cause(
            "wheels",
            f"The front {ahead} and the rear {behind} wheel look swapped in {row.name}",
            {row.number: changed},
            4 if ahead == behind else 5,
        )


def _digits(row: DayRow, axle: str, reading: AxleReading) -> Iterator[Cause]:
    """A slip of the pen in one number."""
    places = ("left", "right") if reading.wheels else ("total",)
    for place in places:
        number = getattr(reading, place)
        where = "" if place == "total" else f" {place}"
        for what, changed, rarity in slips_of_the_pen(number):
            made = _with_wheel(reading, place, changed)
            yield Cause(
                "digits",
                f"{what} in the {axle}{where} reading of {row.name}: "
                f"{grouped(changed)} {reading.unit} fits, and {grouped(number)} is written",
                {row.number: _read(row, axle, made)},
                rarity,
            )


def slips_of_the_pen(number: float) -> Iterator[tuple[str, float, float]]:
    """(what looks wrong, what was meant, rarity) for a number that was written wrong.

    >>> [meant for what, meant, _ in slips_of_the_pen(892.0) if "changed places" in what]
    [982.0, 829.0]
    """
    if number <= 0:
        return
    for factor in (10, 100):
        yield "The decimal point looks slipped", number * factor, 6
        yield "The decimal point looks slipped", number / factor, 6
    text = digits(number)
    seen = {number}
    for i in range(len(text) - 1):
        turned = text[:i] + text[i + 1] + text[i] + text[i + 2 :]
        yield from _new("Two digits look to have changed places", turned, 6, seen)
    for i in range(len(text)):
        yield from _new("A digit looks too many", text[:i] + text[i + 1 :], 11, seen)
    for i, digit in product(range(len(text) + 1), "0123456789"):
        yield from _new("A digit looks left out", text[:i] + digit + text[i:], 9, seen)


def _new(
    what: str, text: str, rarity: float, seen: set[float]
) -> Iterator[tuple[str, float, float]]:
    if "." not in (text[:1], text[-1:]) and text.count(".") < 2 and text[:1] not in ("", "0"):
        number = float(text)
        if number not in seen and number < 50_000:
            seen.add(number)
            yield what, number, rarity


def _other_setups(row: DayRow, rows: Sequence[DayRow]) -> Iterator[Cause]:
    """A piece still on, or already off, that the row does not tell."""
    every = {one.pieces for one in rows}
    if len(every) > 1 + len(frozenset().union(*every)):  # the others tell what it would read
        every |= {row.pieces ^ {piece} for one in rows for piece in one.pieces}
    names = {name.casefold(): name for one in rows for name in one.weighing.setup}
    for pieces in every - {row.pieces}:
        on, off = (sorted(part) for part in (pieces - row.pieces, row.pieces - pieces))
        words = [f"the {names.get(piece, piece)} was on" for piece in on]
        words += [f"the {names.get(piece, piece)} was off" for piece in off]
        yield Cause(
            "pieces",
            f"{row.at_start} reads as if {' and '.join(words)}",
            {row.number: replace(row, pieces=pieces)},
            5 + 2 * len(words),
            offered=False,
        )


def _ballast_left_on(row: DayRow, rows: Sequence[DayRow]) -> Iterator[Cause]:
    """Ballast behind that no row of the day tells: against every set-up that holds the row's or is
    held by it, the rear gained and the front lost as they do under a weight behind the rear axle.
    """
    if None in row.loads or any(piece_kind(p) == "rear" for one in rows for p in one.pieces):
        return
    behind = []
    for one in rows:
        kinds = [piece_kind(piece) for piece in one.pieces ^ row.pieces]
        usual = [KINDS[kind] for kind in kinds if kind]
        nested = one.pieces <= row.pieces or row.pieces <= one.pieces
        if one is row or None in one.loads or not nested or len(usual) < len(kinds):
            continue
        front, rear = (a - b for a, b in zip(_both_loads(row), _both_loads(one)))
        if usual:
            share, _, _, middle = hung_together(usual)
            weight = share * sum(_both_loads(one)) * (1 if one.pieces < row.pieces else -1)
            front, rear = front - weight * (1 + middle), rear + weight * middle
        behind.append(front < 0 and front + rear > LEAST_BALLAST * sum(_both_loads(one)))
    if behind and all(behind):
        yield Cause(
            "pieces",
            f"{row.at_start} reads as if ballast was on",
            {row.number: replace(row, pieces=row.pieces | {"ballast"})},
            7,
            offered=False,
        )


def _both_loads(row: DayRow) -> tuple[float, float]:
    front, rear = row.loads
    return front or 0.0, rear or 0.0


def _copied(row: DayRow, rows: Sequence[DayRow]) -> Iterator[Cause]:
    """One axle's number the same as in a row of another set-up."""
    above = next((one for one in reversed(rows) if one.number < row.number), None)
    for other in rows:
        if other.pieces == row.pieces or other.number >= row.number or row.loads == other.loads:
            continue
        for axle in AXLES:
            one = getattr(row.weighing, axle)
            if one is not None and one == getattr(other.weighing, axle):
                fresh = abs(sum(_both_loads(row)) - sum(_both_loads(other))) > 0.02 * one.kg
                yield Cause(
                    "copied",
                    f"The {axle} reading of {row.name} is the same as in row {other.number}, and "
                    "may have been copied",
                    {row.number: _read(row, axle, None)},
                    2 if other is above and fresh else 9,
                    offered=False,
                )


def _of_setups(rows: Sequence[DayRow], odd: Sequence[DayRow]) -> Iterator[Cause]:
    """What was done wrong with all readings of a set-up, or between two set-ups."""
    groups: dict[frozenset[str], list[DayRow]] = {}
    for row in rows:
        groups.setdefault(row.pieces, []).append(row)
    for own in {row.pieces: groups[row.pieces] for row in odd}.values():
        if len(own) > 1:
            yield from _all(own, named(own), 3)
    for one, other in combinations(groups.values(), 2):
        if len(one) == len(other):
            pairs = list(zip(one, other))
            turned = {a.number: _taking(a, b) for a, b in pairs}
            turned |= {b.number: _taking(b, a) for a, b in pairs}
            yield Cause(
                "reversed",
                f"The readings of {one[0].weighing.setup_name} and of "
                f"{other[0].weighing.setup_name} look reversed in {named([*one, *other])}",
                turned,
                3,
            )


def _taking(row: DayRow, other: DayRow) -> DayRow:
    """A row with the readings of another."""
    return _with(row, other.weighing.front, other.weighing.rear)


def _of_the_day(rows: Sequence[DayRow]) -> Iterator[Cause]:
    if len(rows) > 1:
        yield from _all(rows, "every row", 5)


def _all(rows: Sequence[DayRow], where: str, rarity: float) -> Iterator[Cause]:
    """Front and rear swapped, or the unit wrong, in several rows alike."""
    changes: tuple[tuple[str, str, Callable[[DayRow], DayRow]], ...] = (
        ("swapped", f"Front and rear look swapped in {where}", swapped),
        (
            "unit",
            f"The unit looks wrong in {where}: {another_unit(rows[0])} fits, and "
            f"{rows[0].weighing.unit} is written",
            lambda row: row_in_unit(row, another_unit(rows[0])),
        ),
    )
    for name, sentence, change in changes:
        one_unit = len({row.weighing.unit for row in rows}) == 1
        if one_unit if name == "unit" else all(None not in row.loads for row in rows):
            yield Cause(name, sentence, {row.number: change(row) for row in rows}, rarity)
