"""The weigh-day record: what the file holds, what it can't read, and all states fitted together."""

from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm import weighing
from leverarm.panels.base import Panel, button, html, row, set_if_changed, table
from leverarm.panels.controls import dropdown, text_box
from leverarm.panels.weigh_day import RECORD
from leverarm.quantities import show, show_number
from leverarm.uncertainty import plus_minus
from leverarm.weighing.demo import U_TAPE_M


class WeighRecord(Panel):
    """Rows of a record, its faults by line and column, the fit of all states with residuals,
    corrections as new rows.

    record      weighing.Record;  fit  weighing.Fit of its current rows
    """

    def __init__(self, path=RECORD, *, rows=None, scales=None) -> None:
        self._path, self._rows, self._scales = Path(path), rows, scales
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.place = text_box("Record file", on_change=self.redraw)
        self.place.value = str(self._path)
        self.again = button("Read the file again", self.redraw)
        self.wrong = dropdown("Correct", [("no row", None)])
        self.front, self.rear = text_box("Front should be"), text_box("Rear should be")
        self.correct_button = button(
            "Add a correction as a new row", lambda: self.attempt(self.correct)
        )
        self.out, self.said = html(), html("", "lv-say")
        file = [
            row(self.place, self.again),
            row(self.wrong, self.front, self.rear, self.correct_button),
            self.said,
        ]
        return [*([] if self._rows is not None else file), self.out]

    @property
    def record(self):
        """What the file holds, or the rows that were given."""
        if self._rows is not None:
            return weighing.Record(tuple(self._rows))
        return weighing.read_record(self.place.value.strip() or RECORD)

    @property
    def fit(self):
        """All states of the record together."""
        return self._fitted(self.record)

    def _fitted(self, record):
        rows = record.current
        return weighing.least_squares(
            weighing.setup_readings(rows),
            rows[0].wheelbase_m,
            u_wheelbase=U_TAPE_M,
            scales=self._scales,
        )

    def correct(self):
        """Add the correction that the boxes tell; the wrong row stays where it is."""
        if self.wrong.value is None:
            set_if_changed(self.said, "Choose the row that is wrong.")
            return
        fixed = weighing.correction(
            self.record.rows[self.wrong.value],
            front=self.front.value or None,
            rear=self.rear.value or None,
        )
        done = weighing.append_rows(self.place.value.strip() or RECORD, fixed)
        self.redraw()
        set_if_changed(self.said, escape(done.message))

    def draw(self) -> None:
        record = self.record
        options = [("no row", None)] + [
            (f"{one.date}, {one.state}, {one.repeat}: {one.front} / {one.rear} {one.unit}", i)
            for i, one in enumerate(record.rows)
        ]
        if list(self.wrong.options) != options:
            self.wrong.options = options
        counts = f"{len(record.rows)} rows, {len(record.faults)} that cannot be read."
        lines = [*map(str, record.faults), *record.remarks]
        set_if_changed(
            self.out,
            f'<p class="lv-say">{counts}</p><ul>'
            + "".join(f"<li>{escape(line)}</li>" for line in lines)
            + "</ul>"
            + (self._fit_words(self._fitted(record)) if record.rows else ""),
        )

    def _fit_words(self, fit):
        """Weights and overhangs, the test, the reading that disagrees most."""
        rows = [
            [
                escape(name),
                plus_minus(hung.weight, "weight", self.system, brief=True),
                plus_minus(hung.ahead, "length", self.system, brief=True),
                show_number(hung.factor.value, 2),
            ]
            for name, hung in fit.pieces.items()
        ]
        worst = " or ".join(
            f"{r.name} ({show(r.left_kg, 'weight', self.system, sign=True)}, "
            f"{show_number(abs(r.standardized), 1)} standard uncertainties)"
            for r in fit.worst
        )
        return (
            table(["all states together", "weight", "overhang", "factor"], rows)
            + f"<p>{escape(fit.consistency.words)}</p>"
            + (f"<p>Disagrees most: {escape(worst)}.</p>" if worst else "")
            + self._residuals(fit)
        )

    def _residuals(self, fit):
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
            f"</summary>{table(['', 'read', 'fitted', 'left over'], rows)}</details>"
        )


def weigh_record(path=RECORD, *, rows=None, scales=None):
    """A weigh-day record and the fit of its states; rows= shows rows without a file.

    In code: panel.record.faults, panel.fit.pieces["bucket"].weight, panel.fit.worst.
    """
    return WeighRecord(path, rows=rows, scales=scales)
