"""The weigh-day record: a small table that the notebook writes and a spreadsheet may edit.

One row per weighing of one state, columns in any order, named by the header:

date        2025-05-14
machine     what it is called
wheelbase   with its unit: 1.65 m or 65 in; a bare number is meters
state       the pieces that hung on it, joined by +: loader frame + bucket; bare for none
front, rear what the scale showed; empty where an axle was not read
unit        of both readings: kg, lb or t
repeat      1, 2, 3 ... for the same state weighed again
note        anything

A reading is never changed: a later row with the same date, machine, state and
repeat is a correction, and both stay.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date as Date
from numbers import Real
from typing import Any

from leverarm.machine import MOST_NAME, MOST_WEIGHT_KG, WHEELBASE_M
from leverarm.numerals import number_readings, split_unit
from leverarm.quantities import Refusal, from_unit, read, unit_named
from leverarm.tables import Format, date_cell, defused
from leverarm.weighing.fit import SetupReadings
from leverarm.weighing.scales import LEAST_READING_KG

COLUMNS = ("date", "machine", "wheelbase", "state", "front", "rear", "unit", "repeat", "note")
MOST_NOTE = 300
MOST_REPEAT = 999
BARE = ("bare", "all off", "none", "")


@dataclass(frozen=True)
class RecordRow:
    """One weighing as it was read off: made by :func:`record_row`, which checks it."""

    date: str
    machine: str
    wheelbase_m: float
    state: str
    front: float | None
    rear: float | None
    unit: str
    repeat: int = 1
    note: str = ""

    @property
    def front_kg(self) -> float | None:
        """Front reading in kg, or None."""
        return None if self.front is None else from_unit(self.front, "weight", self.unit)

    @property
    def rear_kg(self) -> float | None:
        """Rear reading in kg, or None."""
        return None if self.rear is None else from_unit(self.rear, "weight", self.unit)

    @property
    def key(self) -> tuple[str, str, str, int]:
        """What makes two rows the same weighing, so that the later one corrects the earlier."""
        return (
            self.date,
            self.machine.casefold(),
            " + ".join(sorted(pieces(self.state))),
            self.repeat,
        )

    def cells(self, form: Format) -> dict[str, str]:
        """The row's cells by column, as a file of this Format writes them."""
        return {
            "date": self.date,
            "machine": defused(self.machine),
            "wheelbase": f"{form.number(self.wheelbase_m)} m",
            "state": defused(self.state),
            "front": form.number(self.front),
            "rear": form.number(self.rear),
            "unit": self.unit,
            "repeat": str(self.repeat),
            "note": defused(self.note),
        }


def record_row(
    machine: str,
    wheelbase: str | float,
    state: str,
    front: str | float | None,
    rear: str | float | None,
    unit: str = "kg",
    repeat: int = 1,
    note: str = "",
    date: str | Date | None = None,
) -> RecordRow:
    """A checked_row RecordRow.

    front, rear     what the scale showed, in ``unit``; None for an axle that was not read
    date            ISO text or a date; today where it is left out
    A prediction is refused: the record holds readings alone.

    >>> record_row("Plot tractor", "1.65 m", "bucket", 790, "720 kg", date="2025-05-14").rear
    720.0
    """
    made, refusals = checked_row(
        {
            "machine": machine,
            "wheelbase": wheelbase,
            "state": state,
            "front": front,
            "rear": rear,
            "unit": unit,
            "repeat": repeat,
            "note": note,
            "date": Date.today() if date is None else date,
        }
    )
    if made is None:
        raise next(iter(refusals.values()))
    return made


def checked_row(given: Mapping[str, Any]) -> tuple[RecordRow | None, dict[str, Refusal]]:
    """(the RecordRow or None, {column: Refusal}) of what was given: every fault at once."""
    values: dict[str, Any] = {}
    refusals: dict[str, Refusal] = {}
    for column, check in _CHECKS.items():
        try:
            values[column] = check(given.get(column, ""), values)
        except Refusal as refusal:
            refusals[column] = refusal
    if not refusals and values["front"] is None and values["rear"] is None:
        refusals["front"] = Refusal(
            "readings", "nothing", "a front reading, a rear reading or both", "read a scale first"
        )
    if refusals:
        return None, refusals
    return RecordRow(wheelbase_m=values.pop("wheelbase"), **values), {}


# The unit comes first: readings are read in it.
_CHECKS: dict[str, Callable[[Any, dict[str, Any]], Any]] = {
    "unit": lambda given, _: _unit(given),
    "date": lambda given, _: _date(given),
    "machine": lambda given, _: _text(given, "machine", MOST_NAME, 1),
    "wheelbase": lambda given, _: read(given, "length", "wheelbase", *WHEELBASE_M),
    "state": lambda given, _: _text(given, "state", MOST_NOTE) or "bare",
    "front": lambda given, done: _reading(given, "front", done.get("unit", "kg")),
    "rear": lambda given, done: _reading(given, "rear", done.get("unit", "kg")),
    "repeat": lambda given, _: _repeat(given),
    "note": lambda given, _: _text(given, "note", MOST_NOTE),
}


def _unit(text: object) -> str:
    known = unit_named(str(text), "weight") if str(text).strip() else None
    if known is None:
        raise Refusal("unit", str(text), "kg, lb or t", "name the unit the scale shows")
    return known


def _text(text: object, field: str, most: int, least: int = 0) -> str:
    """One line of text, no longer than a cell should be."""
    line = " ".join(str(text).split())
    if not least <= len(line) <= most or not line.isprintable():
        raise Refusal(
            field,
            line or "nothing",
            f"{least} to {most} printable characters",
            "write it shorter or at all",
        )
    return line


def _date(day: object) -> str:
    found = day.isoformat()[:10] if isinstance(day, Date) else date_cell(str(day))
    if found is None:
        raise Refusal("date", str(day), "a date such as 2025-05-14", "write year, month, day")
    return found


def _repeat(number: object) -> int:
    whole = next(iter(number_readings(str(number).strip() or "1")), 0)
    if not 1 <= whole <= MOST_REPEAT or whole % 1:
        raise Refusal(
            "repeat",
            str(number),
            f"a whole number from 1 to {MOST_REPEAT}",
            "count the weighings of this state",
        )
    return int(whole)


def _reading(given: Any, axle: str, unit: str) -> float | None:
    """A reading in the row's unit, with the very digits that were given."""
    if given is None or (isinstance(given, str) and not given.strip()):
        return None
    field = f"{axle} reading"
    if isinstance(given, bool) or not isinstance(given, (str, Real)):
        raise Refusal(
            field,
            "a calculated value",
            "what the scale showed",
            "keep predictions out of the record, and type the reading",
        )
    number = _typed(given, field, unit) if isinstance(given, str) else float(given)
    read(from_unit(number, "weight", unit), "weight", field, LEAST_READING_KG, MOST_WEIGHT_KG)
    return number


def _typed(text: str, field: str, unit: str) -> float:
    """The number in typed text; its own unit, if it names one, must be the row's."""
    number, named = split_unit(text)
    readings = number_readings(number)
    if not readings:
        raise Refusal(field, text, f"a number of {unit}", "type what the scale showed")
    if named and unit_named(named, "weight") != unit:
        raise Refusal(field, text, f"a reading in {unit}", "give both readings in the row's unit")
    return readings[0]


def pieces(state: str) -> tuple[str, ...]:
    """The pieces a state names, in order.

    >>> pieces("loader frame + bucket"), pieces("bare")
    (('loader frame', 'bucket'), ())
    """
    if state.strip().casefold() in BARE:
        return ()
    return tuple(" ".join(part.split()) for part in state.split("+") if part.strip())


def current(rows: Iterable[RecordRow]) -> tuple[RecordRow, ...]:
    """The rows that count: of several with one key, the last.  The others stay in the file."""
    return tuple({one.key: one for one in rows}.values())


def next_repeat(
    rows: Iterable[RecordRow], machine: str, state: str, date: str | Date | None = None
) -> int:
    """The number of the next weighing of a state on a day."""
    wanted = RecordRow(_date(date or Date.today()), machine, 1.0, state, None, None, "kg").key[:3]
    return 1 + max((one.repeat for one in rows if one.key[:3] == wanted), default=0)


def correction(
    wrong: RecordRow, *, front: str | float | None = None, rear: str | float | None = None
) -> RecordRow:
    """A new row that corrects one: same weighing, another reading."""
    return record_row(
        wrong.machine,
        wrong.wheelbase_m,
        wrong.state,
        wrong.front if front is None else front,
        wrong.rear if rear is None else rear,
        wrong.unit,
        wrong.repeat,
        f"correction: front {wrong.front}, rear {wrong.rear} before",
        wrong.date,
    )


def setup_readings(rows: Iterable[RecordRow]) -> list[SetupReadings]:
    """The current rows as SetupReadings for :func:`~leverarm.weighing.fit.least_squares`.

    Both axles must have been read.
    """
    together: dict[str, tuple[tuple[str, ...], list[float], list[float]]] = {}
    for one in current(rows):
        _, front, rear = together.setdefault(one.key[2], (pieces(one.state), [], []))
        front += [] if one.front_kg is None else [one.front_kg]
        rear += [] if one.rear_kg is None else [one.rear_kg]
    return [SetupReadings(*parts) for parts in together.values()]
