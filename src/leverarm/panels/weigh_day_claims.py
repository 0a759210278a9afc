"""A spoken claim and the readings: whether it is so, why, and what to say instead."""

from __future__ import annotations

from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm import weighing
from leverarm.numerals import plain
from leverarm.panels.base import Panel, html, row, set_if_changed, show_if, split
from leverarm.panels.controls import dropdown, text_box
from leverarm.panels.day_choice import FOLDER, DayChoice, offer_pieces
from leverarm.panels.gate import with_unit
from leverarm.panels.weigh_day_record import KEPT_BACK
from leverarm.quantities import read
from leverarm.weighing.day import WeighDay
from leverarm.weighing.gate import passed
from leverarm.weighing.results import results

EXAMPLES = (
    "twice its weight; half its weight comes off the front; {weight}; a third of the front axle's "
    "load; the bucket takes {rear} off the rear"
)
# Claims of the size that people make, in the unit shown.
SAID = {"lb": {"weight": "250 lb", "rear": "150 lb"}, "kg": {"weight": "110 kg", "rear": "70 kg"}}
# Key, label, what may be told: where only the front axle was read.
_TOLD = (
    ("weight", "Its weight, if told", "weight", (1, 5000)),
    ("u_weight", "Weight, ± (standard)", "weight", (0, 500)),
    ("ahead", "Or its overhang by tape", "length", (-3, 4)),
    ("u_ahead", "Overhang, ± (standard)", "length", (0, 1)),
)


class ClaimAudit(Panel):
    """A spoken claim held against the machine and day that were chosen: number, axle and direction.

    result      the weighing.SpokenAudit
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
        self.taken = dropdown(
            "It is about", [("the bucket", "bucket")], on_change=lambda _: self.redraw()
        )
        self.told = {
            key: text_box(label, placeholder="not told", on_change=self.redraw)
            for key, label, *_ in _TOLD
        }
        self._told_box = row(*self.told.values())
        self.out, self.examples = html(), html()
        return [
            split(
                [
                    self.day_choice.widget,
                    self.claim,
                    self.examples,
                    self.taken,
                    self._told_box,
                ],
                [self.out],
            )
        ]

    def say(self, claim: str) -> ClaimAudit:
        """Tell another claim."""
        set_if_changed(self.claim, str(claim))
        return self

    @property
    def result(self) -> weighing.SpokenAudit:
        """The audit of the claim."""
        return self._audit(self.day_choice.day)

    def _audit(self, day: WeighDay) -> weighing.SpokenAudit:
        offer_pieces(self.taken, day)
        piece = str(self.taken.value)
        front_only = results(day, piece).front_only
        show_if(front_only, self._told_box)
        told = self._what_was_told() if front_only else None
        return weighing.audit_spoken(self.claim.value, day, piece, told)

    def _what_was_told(self) -> dict[str, float | str]:
        """What stands in the boxes: the weight, or else the overhang, each with its ±."""
        told: dict[str, float | str] = {}
        for key, label, kind, (low, high) in _TOLD:
            if text := plain(self.told[key].value):
                told[key] = read(with_unit(text, kind, self.system), kind, label, low, high)
        return told

    def withdraw(self) -> None:
        set_if_changed(self.out, "")

    def draw(self) -> None:
        examples = EXAMPLES.format(**SAID[self.system])
        set_if_changed(self.examples, f"<p>Try: {examples}.</p>")
        day, days = self.day_choice.read()
        if self.day_choice.sealed and not day.invented:
            set_if_changed(self.out, f"<p>{KEPT_BACK}</p>")
            return
        day = day if day.invented else passed(day, days)
        audit = self._audit(day)
        verdict, why = audit.sentences(self.system)
        lines = [why, audit.needed(self.system), audit.instead(self.system)]
        said = "".join(f"<p>{escape(line)}</p>" for line in lines if line)
        stamp = f"<p><b>EXAMPLE.</b> {escape(day.note)}</p>" if day.invented else ""
        claim = f"<p><q>{escape(audit.text)}</q></p>"
        set_if_changed(
            self.out,
            f'{stamp}<div class="lv-say">{claim}<p><b>{escape(verdict)}</b></p>{said}</div>',
        )


def claim_audit(claim: str = "twice its weight", place: Path | str = FOLDER) -> ClaimAudit:
    """A claim against the readings: panel.say("a third"), panel.taken.value, panel.result."""
    return ClaimAudit(claim, place)
