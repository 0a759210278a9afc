"""Which machine and day the panels of a session show: chosen once, followed by all of them."""

from __future__ import annotations

import weakref
from collections.abc import Callable, Sequence
from contextlib import suppress
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as w

from leverarm import decision
from leverarm.panels.base import html, row, set_if_changed, show_if
from leverarm.panels.controls import dropdown, offer
from leverarm.quantities import Refusal
from leverarm.weighing.day import WeighDay
from leverarm.weighing.day_file import FOLDER, days_of, files_at, no_readings, one_day
from leverarm.weighing.day_text import DayFile, remarks_on
from leverarm.weighing.demo import demo_day
from leverarm.weighing.gate import passed
from leverarm.weighing.results import pieces_apart, results
from leverarm.weighing.spoken import meaning_of, piece_in_words

_NONE_CHOSEN = ("choose one", "")


class _Chosen:
    """What a session chose in one place: a machine's key and a date, "" for not yet.

    sealed      True while bets on its readings are not opened
    """

    def __init__(self) -> None:
        self.machine, self.date, self.sealed = "", "", False
        self.followers: weakref.WeakSet[DayChoice] = weakref.WeakSet()


_CHOSEN: dict[str, _Chosen] = {}


class DayChoice:
    """The machines and days of a folder as two lists; every panel of a session shows the same one.

    path        a folder of weigh days, or one file
    widget      both lists, shown where there is something to choose, and a note
    demo        True takes the invented day, marked so, while nothing was weighed
    remarks     what is worth a look in the file of the day that was read last
    In code: choose("Orchard tractor", "2026-05-14").
    """

    def __init__(
        self,
        path: Path | str = FOLDER,
        on_change: Callable[[], object] = lambda: None,
        *,
        demo: bool = True,
    ) -> None:
        self._demo, self._on_change, self._offering = demo, on_change, False
        self.remarks: tuple[str, ...] = ()
        self.machines = dropdown("Machine", [_NONE_CHOSEN], on_change=self._machine_picked)
        self.days = dropdown("Day", [_NONE_CHOSEN], on_change=self._day_picked)
        self.note = html()
        self.widget: w.Widget = w.VBox([row(self.machines, self.days), self.note])
        show_if(False, self.machines, self.days)
        self.path = path

    @property
    def path(self) -> Path:
        """The place that is read."""
        return self._path

    @path.setter
    def path(self, path: Path | str) -> None:
        if Path(path) == self.__dict__.get("_path"):
            return
        self._path = Path(path)
        self._chosen = _CHOSEN.setdefault(str(self._path.absolute()), _Chosen())
        self._chosen.followers.add(self)
        with suppress(Refusal):  # said where the day is used
            self.look()

    def choose(self, machine: str, date: str | None = None) -> None:
        """Choose a machine and a day in code; a Refusal where they are not there."""
        day = one_day(files_at(self.path), machine, date)
        self._pick(day.machine.key, day.date)

    @property
    def files(self) -> tuple[DayFile, ...]:
        """The files of the place, read now and offered in the lists."""
        found = files_at(self.path)
        self._offer(days_of(found))
        said = [str(file.faults[0]) for file in found if file.faults]
        said += [line for file in found if not file.days for line in file.remarks]
        set_if_changed(self.note, "".join(f"<p>{escape(line)}</p>" for line in said))
        return found

    @property
    def day(self) -> WeighDay:
        """The machine and day shown, once every remark of the gate on it is settled; else a
        Refusal.
        """
        day, days = self.read()
        return day if day.invented else passed(day, days)

    @property
    def unchecked(self) -> WeighDay:
        """The machine and day shown, whether or not it passes the gate."""
        return self.read()[0]

    def read(self) -> tuple[WeighDay, tuple[WeighDay, ...]]:
        """(the machine and day shown, every day of the place), from one reading of the files."""
        files = self.files
        day = self._one(files)
        self.remarks = tuple(
            one for file in files if day in file.days for one in remarks_on(day, file)
        )
        return day, days_of(files)

    def _one(self, files: Sequence[DayFile]) -> WeighDay:
        if not any(file.days or file.faults for file in files):
            if self._demo:
                return demo_day()
            raise no_readings(self.path)
        return one_day(files, self._chosen.machine or None, self._chosen.date or None)

    def look(self) -> None:
        """Read the files and offer their machines and days."""
        _ = self.files

    @property
    def sealed(self) -> bool:
        """True while readings are kept back: bets on them are not opened yet."""
        return self._chosen.sealed

    def opened(self) -> WeighDay:
        """The machine and day shown, as ``day``; a Refusal while bets on its readings are shut."""
        day = self.day
        if self.sealed and not day.invented:
            raise Refusal("bets", "still shut", "opened bets", "open the bets on this day first")
        return day

    def seal(self, sealed: bool) -> None:
        """Keep the readings of this place back in every panel, or show them."""
        if self._chosen.sealed != sealed:
            self._chosen.sealed = sealed
            self._tell(self)

    def case(self, **about: Any) -> decision.Case:
        """The Case of the machine and day shown."""
        return decision.case_of_day(self.day, **about)

    def _machine_picked(self, key: str) -> None:
        if not self._offering:
            self._pick(key, "")

    def _day_picked(self, date: str) -> None:
        if not self._offering:
            self._pick(self._chosen.machine or str(self.machines.value), date)

    def _pick(self, machine: str, date: str) -> None:
        """Choose for every panel that reads this place."""
        self._chosen.machine, self._chosen.date = machine, date
        self._tell()

    def _tell(self, *but: DayChoice) -> None:
        """Redraw the panels that follow."""
        for one in [one for one in self._chosen.followers if one not in but]:
            one._on_change()

    def _offer(self, days: Sequence[WeighDay]) -> None:
        """Offer what was weighed; what was chosen stays chosen while it is there."""
        names = {day.machine.key: day.machine.name for day in days}
        if self._chosen.machine not in names:
            self._chosen.machine, self._chosen.date = "", ""
        own = [day.date for day in days if self._chosen.machine in (day.machine.key, "")]
        dates = list(dict.fromkeys(own)) if self._chosen.machine or len(names) == 1 else []
        if self._chosen.date not in dates:
            self._chosen.date = ""
        self._offering = True
        for made, values, chosen in (
            (self.machines, names, self._chosen.machine),
            (self.days, {date: date for date in dates}, self._chosen.date),
        ):
            options = [_NONE_CHOSEN, *((name, key) for key, name in values.items())]
            offer(made, options, 0)
            set_if_changed(made, chosen)
            show_if(len(values) > 1, made)
        self._offering = False


def offer_pieces(made: Any, day: WeighDay, *, off_the_front: bool = False) -> None:
    """Offer in a list what came off between two set-ups of a day, the bucket chosen where it did.

    off_the_front   only what loaded the front axle
    """
    pieces = [
        one
        for one in pieces_apart(day)
        if not off_the_front or results(day, one).front_change.value > 0
    ]
    chosen = made.value
    at = next((i for i, one in enumerate(pieces) if meaning_of(one) == "bucket"), 0)
    offer(made, [(f"the {piece_in_words(one)}", one) for one in pieces], at)
    if chosen in pieces:
        set_if_changed(made, chosen)


__all__ = ["FOLDER", "DayChoice", "offer_pieces"]
