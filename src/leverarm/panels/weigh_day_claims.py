"""A spoken claim and the readings: what it would need, whether that fits, what to say instead."""

from __future__ import annotations

import math
from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm import weighing
from leverarm.numerals import plain
from leverarm.panels.base import Panel, html, html_table, row, set_if_changed, split
from leverarm.panels.controls import dropdown, text_box
from leverarm.panels.day_choice import FOLDER, DayChoice
from leverarm.panels.gate import with_unit
from leverarm.panels.weigh_day_record import KEPT_BACK
from leverarm.quantities import read
from leverarm.weighing.claims import percent_text
from leverarm.weighing.day import WeighDay
from leverarm.weighing.demo import BELIEVED
from leverarm.weighing.results import base_of

EXAMPLES = "twice its weight; 110 kg; 25 %; a third"
NO_JUDGMENT = (
    "Whether it fits cannot be said: the scales' step and accuracy were not told, "
    "so nobody knows how far off the readings may be."
)
# What the claim is about, and the pieces that come off together.
TAKEN = (
    ("the bucket", ("bucket",)),
    ("the loader frame", ("loader frame",)),
    ("the whole loader", ("loader frame", "bucket")),
)


class ClaimAudit(Panel):
    """A claim held against the machine and day that were chosen, in three sentences; every
    percentage with its base.

    result      the weighing.Audit
    """

    def __init__(self, claim: str = "twice its weight", place: Path | str = FOLDER) -> None:
        self._claim, self._place = claim, place
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.day_choice = DayChoice(self._place, self.redraw)
        self.claim = text_box(
            "The claim", placeholder="such as twice its weight", on_change=self.redraw
        )
        self.claim.value = self._claim
        self.taken = dropdown("It is about", list(TAKEN), on_change=self.redraw)
        self.ahead, self.u_ahead = (
            text_box(label, placeholder="not told", on_change=self.redraw)
            for label in ("Overhang by tape", "Overhang, ± (standard)")
        )
        self.out = html()
        return [
            split(
                [
                    self.day_choice.widget,
                    self.claim,
                    html(f"<p>Try: {EXAMPLES}.</p>"),
                    self.taken,
                    row(self.ahead, self.u_ahead),
                ],
                [self.out],
            )
        ]

    def say(self, claim: str) -> ClaimAudit:
        """Tell another claim."""
        set_if_changed(self.claim, str(claim))
        return self

    @property
    def result(self) -> weighing.Audit:
        """The audit of the claim."""
        return self._audit(self.day_choice.day)

    def _audit(self, day: WeighDay) -> weighing.Audit:
        without, with_it = day.with_and_without(*self.taken.value)
        ahead, u_ahead = (
            self._told(box, label)
            for box, label in ((self.ahead, "overhang"), (self.u_ahead, "± of the overhang"))
        )
        if day.invented and ahead is None and self.taken.value == ("bucket",):
            ahead, u_ahead = BELIEVED["ahead"], BELIEVED["u_ahead"]
        return weighing.audit(
            self.claim.value,
            with_it=(with_it.front or None, with_it.rear or None),
            without=(without.front or None, without.rear or None),
            wheelbase=base_of(day),
            piece=self.taken.label.removeprefix("the "),
            ahead=ahead,
            u_ahead=u_ahead,
            u_reading=None if day.scales.known else math.nan,
            scales=day.scales.scales,
        )

    def _told(self, box: w.Text, label: str) -> float | None:
        text = plain(box.value)
        return (
            read(with_unit(text, "length", self.system), "length", label, -3, 4) if text else None
        )

    def withdraw(self) -> None:
        set_if_changed(self.out, "")

    def draw(self) -> None:
        day = self.day_choice.day
        if self.day_choice.sealed and not day.invented:
            set_if_changed(self.out, f"<p>{KEPT_BACK}</p>")
            return
        audit = self._audit(day)
        needs, verdict, instead = (escape(part) for part in audit.sentences(self.system))
        if not day.scales.known:
            verdict, instead = NO_JUDGMENT, ""
        if audit.bases:
            rows = [
                [
                    f"of {base.name}",
                    percent_text(base.percent),
                    {True: "fits", False: "", None: "?"}[base.fits],
                ]
                for base in audit.bases
            ]
            needs = (
                f"<q>{escape(audit.claim.text)}</q> needs a base. Percent of what?"
                + html_table(["the front axle's change", "percent", ""], rows)
            )
        stamp = f"<p><b>EXAMPLE.</b> {escape(day.note)}</p>" if day.invented else ""
        set_if_changed(
            self.out,
            f'{stamp}<div class="lv-say"><p>{needs}</p><p><b>{verdict}</b></p>'
            f"<p>{instead}</p></div>",
        )


def claim_audit(claim: str = "twice its weight", place: Path | str = FOLDER) -> ClaimAudit:
    """A claim against the readings: panel.say("a third"), panel.taken.value, panel.result."""
    return ClaimAudit(claim, place)
