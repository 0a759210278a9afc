"""One machine on one day: what was told about both, and what its scales showed.

A WeighDay holds exactly one Machine and one date, so nothing made from it can mix two.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date as Date

from leverarm.machine import DEMO_NOTE
from leverarm.numerals import plain
from leverarm.quantities import Refusal, system_shown
from leverarm.tables import date_cell
from leverarm.weighing.facts import Machine, ScaleFacts
from leverarm.weighing.fit import SetupReadings, merged_repeats
from leverarm.weighing.readings import Weighing


@dataclass(frozen=True)
class WeighDay:
    """Everything weighed on one machine on one day, and what was told about both.

    rows        every Weighing in the order it was written; a later one with the same set-up and
                repeat corrects the earlier, and both stay
    unchanged   fuel, operator and mower the same in all set-ups: True, False, or None (not asked)
    accepted    keys of remarks of the gate that the person said are so
    system      "kg" or "lb": the unit system that comes first
    invented    True for demo readings: they are never written to a file, and stamp every page
    """

    machine: Machine
    date: str
    scales: ScaleFacts = field(default_factory=ScaleFacts)
    rows: tuple[Weighing, ...] = ()
    unchanged: bool | None = None
    accepted: tuple[str, ...] = ()
    system: str = field(default_factory=system_shown)
    invented: bool = False

    @property
    def name(self) -> str:
        """Machine and day as one line, to choose from."""
        return f"{self.machine.name} on {self.date}"

    @property
    def note(self) -> str:
        """What a page says of where its numbers come from."""
        return DEMO_NOTE if self.invented else f"Loads come from the weigh day: {self.name}."

    @property
    def file_name(self) -> str:
        """Its file: plain letters of the name, and the date."""
        letters = re.sub(r"[^a-z0-9]+", "-", plain(self.machine.name).casefold()).strip("-")
        return f"{letters or 'machine'}_{self.date}.csv"

    @property
    def current(self) -> tuple[Weighing, ...]:
        """The rows that count: of several with one key, the last."""
        return tuple({one.key: one for one in self.rows}.values())

    @property
    def setups(self) -> list[SetupReadings]:
        """The rows that count, one SetupReadings for each set-up with its repeats together; an axle
        that was not read is an empty list.
        """
        if not self.rows:
            return []
        return merged_repeats(
            SetupReadings(one.setup, *(axle and [axle.given] for axle in (one.front, one.rear)))
            for one in self.current
        )

    def with_and_without(self, *taken: str) -> tuple[SetupReadings, SetupReadings]:
        """(without, with) these pieces: two set-ups that differ by them alone, or a Refusal."""
        gone, setups = {piece.casefold() for piece in taken}, self.setups
        names = {one.name: {piece.casefold() for piece in one.pieces} for one in setups}
        for on in setups:
            for off in setups:
                if gone <= names[on.name] and names[off.name] == names[on.name] - gone:
                    return off, on
        what = " and ".join(taken)
        raise Refusal(
            f"readings of the {what}",
            "; ".join(names) or "nothing",
            f"two set-ups that differ by the {what} alone",
            f"weigh one set-up with the {what} and without",
        )

    def next_repeat(self, setup: Sequence[str]) -> int:
        """The number of the next weighing of a set-up."""
        same = {piece.casefold() for piece in setup}
        return 1 + max((one.repeat for one in self.rows if one.key[0] == same), default=0)

    def with_rows(self, *rows: Weighing) -> WeighDay:
        """The same day with rows after those it has."""
        return replace(self, rows=(*self.rows, *rows))


def weigh_day(
    told: Machine,
    date: str | Date | None = None,
    scales: ScaleFacts | None = None,
    rows: Iterable[Weighing] = (),
    *,
    unchanged: bool | None = None,
    system: str | None = None,
) -> WeighDay:
    """A checked WeighDay; today where no date is given.

    >>> from leverarm.weighing.facts import machine
    >>> weigh_day(machine("Orchard tractor", "65 in"), "2026-05-14").file_name
    'orchard-tractor_2026-05-14.csv'
    """
    day = Date.today() if date is None else date
    found = day.isoformat()[:10] if isinstance(day, Date) else date_cell(str(day))
    if found is None:
        raise Refusal("date", str(day), "a date such as 2026-05-14", "write year, month, day")
    return WeighDay(
        told, found, scales or ScaleFacts(), tuple(rows), unchanged, (), system_shown(system)
    )


def begun(days: Iterable[WeighDay], told: Machine, date: str | Date | None = None) -> WeighDay:
    """The WeighDay of a machine on a date (today) if it is among the days, else a new one.

    A new one takes over what was told of the machine and its scales on its latest day; the
    wheelbase that is told now counts.
    """
    new = weigh_day(told, date)
    own = sorted((day for day in days if day.machine.key == told.key), key=lambda day: day.date)
    for day in own:
        if day.date == new.date:
            return day
    if not own:
        return new
    known = replace(own[-1].machine, wheelbase_m=told.wheelbase_m)
    return replace(new, machine=known, scales=own[-1].scales, system=own[-1].system)
