"""What was weighed on a day, what cannot be read, corrections, and all set-ups fitted together."""

from __future__ import annotations

import math
from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm import weighing
from leverarm.panels.base import Panel, button, html, html_table, row, set_if_changed, show_if
from leverarm.panels.controls import dropdown, offer, text_box
from leverarm.panels.day_choice import FOLDER, DayChoice
from leverarm.panels.remarks import Remarks
from leverarm.quantities import Refusal, how_many, show, show_number
from leverarm.uncertainty import Measured, plus_minus
from leverarm.weighing.day import WeighDay
from leverarm.weighing.day_file import Saved, add_rows
from leverarm.weighing.piece_names import with_names
from leverarm.weighing.readings import Weighing
from leverarm.weighing.readings import weighing as one_weighing
from leverarm.weighing.results import fitted, pieces_apart, results
from leverarm.weighing.scales import totals_of
from leverarm.weighing.spoken import piece_in_words

WAITS = "All set-ups together wait until each remark above is settled."
KEPT_BACK = "The readings are kept back until the bets are opened."
_NO_ROW = ("no row", -1)
# More readings than this that disagree alike tell nobody where to look.
MOST_NAMED = 2


class WeighRecord(Panel):
    """The rows of a day, corrections as new rows, the fit of all set-ups with what it leaves over.

    day         the WeighDay shown;  fit  weighing.Fit of its rows that count
    correct(row=5, front="1320", rear="")   write a correction of row 5; an empty box changes
                nothing
    """

    def __init__(self, place: Path | str = FOLDER, *, day: WeighDay | None = None) -> None:
        self._place, self._day = place, day
        self.saved: Saved | None = None
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.day_choice = DayChoice(self._place, self.redraw)
        self.again = button("Read the file again", self.redraw)
        self.wrong = dropdown("Correct", [_NO_ROW])
        self.front, self.rear = text_box("Front should be"), text_box("Rear should be")
        self.correct_button = button(
            "Add a correction as a new row", lambda: self.attempt(self.correct)
        )
        self.remarks = Remarks(self.day_choice, self.attempt)
        self.out, self.said = html(), html("", "lv-say")
        self._corrections = row(self.wrong, self.front, self.rear, self.correct_button)
        own = [
            self.day_choice.widget,
            self.again,
            self.remarks.widget,
            self._corrections,
            self.said,
        ]
        return [*([] if self._day else own), self.out]

    @property
    def day(self) -> WeighDay:
        """The day that was given, or the one that is chosen."""
        return self._day or self.day_choice.unchecked

    @property
    def fit(self) -> weighing.Fit:
        """All set-ups of the day together."""
        return fitted(self.day)

    def correct(self, row: int | None = None, front: str = "", rear: str = "") -> Saved:
        """Write the correction that is told, or that the boxes tell; the wrong row stays."""
        at = int(self.wrong.value) if row is None else row - 1
        day = self.day
        if not 0 <= at < len(day.rows):
            raise Refusal("row", "none", f"a row from 1 to {len(day.rows)}", "choose the wrong row")
        wrong = day.rows[at]
        told = {"front": front or self.front.value, "rear": rear or self.rear.value}
        if not any(text.strip() for text in told.values()):
            raise Refusal("correction", "nothing", "a reading", "type what it should be")
        fixed = one_weighing(
            wrong.setup,
            told["front"] or wrong.front,
            told["rear"] or wrong.rear,
            wrong.unit,
            wrong.repeat,
            f"correction of row {at + 1}",
            day.scales.step_kg,
        )
        self.saved = add_rows(day, fixed, folder=self.day_choice.path)
        self.front.value = self.rear.value = ""
        set_if_changed(self.said, escape(self.saved.message))
        self.day_choice.choose(day.machine.name, day.date)
        return self.saved

    def draw(self) -> None:
        day, days = (self._day, ()) if self._day else self.day_choice.read()
        sealed = self.day_choice.sealed and not day.invented and self._day is None
        show_if(bool(day.rows) and not sealed and not day.invented, self._corrections)
        if sealed:
            count = f"{how_many(len(day.rows), 'row')} written down."
            set_if_changed(self.out, f"<p>{count} {KEPT_BACK}</p>")
            self.remarks.hide()
            return
        labels = [(f"row {i}: {_in_words(one)}", i - 1) for i, one in enumerate(day.rows, 1)]
        offer(self.wrong, [_NO_ROW, *labels], 0)
        settled = self._day is not None or self.remarks.look(day, days)
        fit = self._fit_words(with_names(day)) if settled and day.rows else ""
        set_if_changed(self.out, self._rows(day) + (fit if settled else f"<p>{WAITS}</p>"))

    def _rows(self, day: WeighDay) -> str:
        """Every row as it was typed; one that a later row corrects is said to be."""
        counting = {id(one) for one in day.current}
        rows = [
            [
                str(i),
                escape(one.setup_name),
                str(one.repeat),
                *(escape(str(axle)) if axle else "not read" for axle in (one.front, one.rear)),
                escape(one.note) if id(one) in counting else "corrected by a later row",
            ]
            for i, one in enumerate(day.rows, 1)
        ]
        stamp = f"<p><b>EXAMPLE.</b> {escape(day.note)}</p>" if day.invented else ""
        title = f'<p class="lv-say">{escape(day.name)}: {len(rows)} rows.</p>{stamp}'
        remarks = () if self._day else self.day_choice.remarks
        title += "".join(f"<p>{escape(one)}</p>" for one in remarks)
        return title + html_table(["row", "set-up", "repeat", "front", "rear", "note"], rows)

    def _fit_words(self, day: WeighDay) -> str:
        """Weights and overhangs, the test, the reading that disagrees most."""
        pieces = self._pieces(day)
        one_axle = [one.name for one in day.setups if not (one.front and one.rear)]
        if one_axle:
            return pieces + (
                f"<p>Only one axle was read in: {escape('; '.join(one_axle))}. All set-ups "
                "together need both.</p>"
            )
        try:
            fit = fitted(day)
        except Refusal as refusal:
            return pieces + f"<p>{escape(str(refusal))}</p>"
        if not day.scales.known:
            return f"{pieces}<p>No ± is given: the scales' step and accuracy were not told.</p>"
        worst = " or ".join(
            f"{r.name} ({show(r.left_kg, 'weight', self.system, sign=True)}, "
            f"{show_number(abs(r.standardized or 0.0), 1)} standard uncertainties)"
            for r in fit.worst
            if len(fit.worst) <= MOST_NAMED
        )
        return (
            pieces
            + f"<p>{escape(fit.consistency.words)}{escape(self._would_see(fit))}</p>"
            + (f"<p>Disagrees most: {escape(worst)}.</p>" if worst else "")
            + self._residuals(fit)
        )

    def _pieces(self, day: WeighDay) -> str:
        """What came off between two set-ups: the numbers that every panel and page has of it."""
        found = {piece_in_words(one): results(day, one) for one in pieces_apart(day)}
        rows = [
            [
                escape(name),
                *(
                    self._shown(number, kind)
                    for number, kind in (
                        (one.front_change, "weight"),
                        (one.weight, "weight"),
                        (one.ahead, "length"),
                        (one.factor, "number"),
                    )
                ),
            ]
            for name, one in found.items()
        ]
        head = ["what came off", "front axle", "weight", "overhang", "factor"]
        return html_table(head, rows) if rows else ""

    def _shown(self, number: Measured | None, kind: str) -> str:
        """A number of a piece with its ±, where one is known."""
        if number is None:
            return "not known"
        if math.isnan(number.u):
            return (
                show_number(number.value, 2)
                if kind == "number"
                else show(number.value, kind, self.system)
            )
        return plus_minus(number, kind, self.system, brief=True)

    def _would_see(self, fit: weighing.Fit) -> str:
        """What size of error the test would have found."""
        seen = fit.consistency.sees_kg
        if seen is None or not math.isfinite(seen):
            return ""
        return (
            f" An error of {show(seen, 'weight', self.system)} in one reading would have been "
            "found four times in five; a smaller one may hide."
        )

    def _residuals(self, fit: weighing.Fit) -> str:
        rows = [
            [
                escape(r.name),
                show(r.reading_kg, "weight", self.system),
                show(r.fitted_kg, "weight", self.system),
                show(r.left_kg, "weight", self.system, sign=True),
            ]
            for r in fit.residuals
        ]
        return (
            "<details><summary>Every reading against the fit"
            f"</summary>{html_table(['', 'read', 'fitted', 'left over'], rows)}</details>"
        )


def _in_words(one: Weighing) -> str:
    shown = " / ".join(str(axle) if axle else "not read" for axle in (one.front, one.rear))
    return f"{one.setup_name}, {one.repeat}: {shown}"


class CompareDays(Panel):
    """Every machine and day of a folder side by side: the one place where several are shown."""

    def __init__(self, place: Path | str = FOLDER) -> None:
        self._place = place
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.day_choice = DayChoice(self._place, self.redraw)
        self.first, self.second = (
            dropdown(label, [("choose one", "")], on_change=self.redraw)
            for label in ("Compare", "with")
        )
        self.again = button("Read the folder again", self.redraw)
        self.out = html()
        return [row(self.first, self.second, self.again), self.out]

    def compare(self, first: str, second: str) -> None:
        """Choose two in code by their names, such as "Orchard tractor on 2026-05-14"."""
        self.first.value, self.second.value = first, second

    def draw(self) -> None:
        days = {day.name: day for file in self.day_choice.files for day in file.days}
        for made in (self.first, self.second):
            offer(made, [("choose one", ""), *((name, name) for name in days)], 0)
        chosen = [days[one.value] for one in (self.first, self.second) if one.value in days]
        if self.day_choice.sealed:
            set_if_changed(self.out, f"<p>{KEPT_BACK}</p>")
        elif len(chosen) == 2:
            set_if_changed(self.out, self._side_by_side(*chosen))
        else:
            set_if_changed(self.out, "<p>Choose two machines, or two days of one.</p>")

    def _side_by_side(self, *days: WeighDay) -> str:
        """Mean readings of each set-up, one column a day."""
        setups = [{one.name: one for one in day.setups} for day in days]
        rows = [
            [
                f"{escape(name)}, {axle}",
                *(
                    show(weighing.mean(totals_of(read)), "weight", self.system)
                    if read
                    else "not weighed"
                    for own in setups
                    for read in [getattr(own[name], axle) if name in own else []]
                ),
            ]
            for name in dict.fromkeys(name for own in setups for name in own)
            for axle in ("front", "rear")
        ]
        wheelbase = [show(day.machine.wheelbase_m, "length", self.system) for day in days]
        head = ["mean reading", *(escape(day.name) for day in days)]
        words = "This table compares. Nothing in it is averaged over machines or days."
        return f"<p>{words}</p>" + html_table(head, [["wheelbase", *wheelbase], *rows])


def weigh_record(place: Path | str = FOLDER, *, day: WeighDay | None = None) -> WeighRecord:
    """What was weighed and the fit of its set-ups; day= shows a WeighDay without a file.

    In code: panel.correct(row=5, front="1320"), panel.fit.pieces["bucket"].weight, panel.fit.worst.
    """
    return WeighRecord(place, day=day)


def compare_days(place: Path | str = FOLDER) -> CompareDays:
    """Two machines, or two days, side by side: panel.compare(name, other_name)."""
    return CompareDays(place)
