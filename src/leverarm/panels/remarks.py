"""What a person answers about a weigh day: what looks wrong, and whether anything else changed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from html import escape

import ipywidgets as w

from leverarm.panels.base import button, html, row, set_if_changed, show_if
from leverarm.panels.controls import dropdown
from leverarm.panels.day_choice import DayChoice
from leverarm.quantities import Refusal
from leverarm.weighing.day import WeighDay
from leverarm.weighing.day_file import add_rows, days_of, save_header
from leverarm.weighing.finding import Finding
from leverarm.weighing.gate import kept, look_over, taken

SAME = "Fuel, operator and mower the same in all set-ups?"
_ANSWERS = (("not said", ""), ("yes", "yes"), ("no", "no"))
_SAID = {"yes": True, "no": False}


class Unchanged:
    """Whether anything but the set-ups changed, asked as soon as two were weighed.

    box         the drop-down list
    """

    def __init__(
        self, choice: DayChoice, attempt: Callable[[Callable[[], object]], object]
    ) -> None:
        self._choice, self._following = choice, False
        self.box = dropdown(
            SAME, _ANSWERS, on_change=lambda said: attempt(lambda: self.say(_SAID.get(said)))
        )

    def say(self, same: bool | None) -> None:
        """Keep the answer with the day shown."""
        day = self._choice.unchecked
        if not self._following and not day.invented and day.unchanged != same:
            save_header(replace(day, unchanged=same), self._choice.path)
            self._choice.choose(day.machine.name, day.date)

    def follow(self, day: WeighDay) -> None:
        """Show the answer of a day."""
        self._following = True
        said = next((word for word, same in _SAID.items() if same is day.unchanged), "")
        set_if_changed(self.box, said)
        self._following = False
        show_if(len(day.rows) > 1, self.box)


class Remarks:
    """The first open remark of the gate, with a button for each of two answers.

    attempt     how a panel does one thing and shows what goes wrong
    open        the Findings that nobody has settled
    correct(), keep()   what the two buttons do
    """

    def __init__(
        self, choice: DayChoice, attempt: Callable[[Callable[[], object]], object]
    ) -> None:
        self._choice = choice
        self.open: tuple[Finding, ...] = ()
        self.words = html("", "lv-say")
        self.correct_button = button("Correct it", lambda: attempt(self.correct), primary=True)
        self.keep_button = button("It is so", lambda: attempt(self.keep))
        self._buttons = row(self.correct_button, self.keep_button)
        self.widget: w.Widget = w.VBox([self.words, self._buttons])
        self.hide()

    def look(self, day: WeighDay, others: Sequence[WeighDay]) -> bool:
        """Show what looks wrong on a day; True where nothing is open."""
        self.open = () if day.invented else look_over(day, others)
        if not self.open:
            self.hide()
            return True
        first, more = self.open[0], len(self.open) - 1
        proposal = first.proposal
        rest = f" ({more} more after this.)" if more else ""
        offered = f"<p>{escape(proposal.words)}</p>" if proposal and proposal.words else ""
        for made, answer in zip((self.correct_button, self.keep_button), first.answers):
            made.description = made.tooltip = answer
        set_if_changed(self.words, f"<p><b>{escape(first.sentence)}</b>{rest}</p>{offered}")
        show_if(proposal is not None, self.correct_button)
        show_if(True, self._buttons)
        return False

    def hide(self) -> None:
        """Show nothing, while readings are kept back or where nothing is open."""
        set_if_changed(self.words, "")
        show_if(False, self._buttons)

    def correct(self) -> None:
        """Take the proposal: its corrected rows are added, and the wrong ones stay."""
        day, found = self._first()
        if found.proposal is not None and found.proposal.rows:
            add_rows(day, *found.proposal.rows, folder=self._choice.path)
        else:
            save_header(taken(day, found), self._choice.path)
        self._choice.choose(day.machine.name, day.date)

    def keep(self) -> None:
        """Keep with the day that it is so, or the "no" to a question."""
        day, found = self._first()
        save_header(kept(day, found), self._choice.path)
        self._choice.choose(day.machine.name, day.date)

    def _first(self) -> tuple[WeighDay, Finding]:
        """The day as its file is now, and its first open remark."""
        day = self._choice.unchecked
        found = look_over(day, days_of(self._choice.files))
        if not found:
            raise Refusal("remark", "none", "an open remark", "read the file again")
        return day, found[0]
