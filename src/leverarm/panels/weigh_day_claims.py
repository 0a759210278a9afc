"""A spoken claim and the readings: what it would need, whether that fits, what to say instead."""

from html import escape

import ipywidgets as w

from leverarm import weighing
from leverarm.machine import demo_tractor
from leverarm.panels.base import Panel, grid, html, row, set_if_changed, split, table
from leverarm.panels.controls import number_boxes, text_box
from leverarm.panels.weigh_day import several
from leverarm.weighing.claims import percent_text
from leverarm.weighing.demo import U_TAPE_M

EXAMPLES = "twice its weight; 110 kg; 25 %; a third"


class ClaimAudit(Panel):
    """A claim, four readings and a tape: an audit in three sentences and every percentage with its
    base.

    result      the weighing.Audit
    """

    def __init__(self, tractor=None, claim="twice its weight") -> None:
        self._tractor, self._claim = tractor or demo_tractor(), claim
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.claim = text_box(
            "The claim", placeholder="such as twice its weight", on_change=self.redraw
        )
        self.claim.value = self._claim
        self.boxes = {
            name: text_box(label, on_change=self.redraw)
            for name, label in (
                ("front_on", "Front, bucket on"),
                ("rear_on", "Rear, bucket on"),
                ("front_off", "Front, bucket off"),
                ("rear_off", "Rear, bucket off"),
            )
        }
        pairs = weighing.demo_pair("loader frame + bucket"), weighing.demo_pair("loader frame")
        for (_name, box), kgs in zip(self.boxes.items(), [kgs for pair in pairs for kgs in pair]):
            box.value = "; ".join(f"{kg:g} kg" for kg in kgs)
        self.numbers = number_boxes(
            (
                ("wheelbase", "Wheelbase", "length", self._tractor.wheelbase_m, 0.5, 5, 0.01, 3),
                ("ahead", "Overhang by tape", "length", 1.22, -3, 4, 0.01, 2),
                ("u_ahead", "Overhang, ± (standard)", "length", 0.02, 0, 1, 0.01, 3),
                ("accuracy", "Scale good to ±", "share", 0.5, 0, 10, 0.1, 2),
            ),
            self.redraw,
        )
        self.out = html()
        return [
            split(
                [
                    self.claim,
                    html(f"<p>Try: {EXAMPLES}.</p>"),
                    row(*self.boxes.values()),
                    grid(*(number.widget for number in self.numbers.values())),
                ],
                [self.out],
            )
        ]

    def say(self, claim):
        """Tell another claim."""
        set_if_changed(self.claim, str(claim))
        return self

    def _read(self, name):
        """Readings of one place, or None where the box is empty."""
        text = self.boxes[name].value
        return several(text, self.system, name) if text.strip() else None

    @property
    def result(self):
        """The audit of the claim."""
        v = self.values
        return weighing.audit(
            self.claim.value,
            with_it=(self._read("front_on"), self._read("rear_on")),
            without=(self._read("front_off"), self._read("rear_off")),
            wheelbase=v["wheelbase"],
            ahead=v["ahead"],
            u_ahead=v["u_ahead"],
            u_wheelbase=U_TAPE_M,
            scales=weighing.Scales("1 kg", v["accuracy"]),
        )

    def draw(self) -> None:
        audit = self.result
        needs, verdict, instead = (escape(part) for part in audit.sentences(self.system))
        if audit.bases:
            rows = [
                [
                    f"of {base.name}",
                    percent_text(base.percent),
                    {True: "fits", False: "", None: "?"}[base.fits],
                ]
                for base in audit.bases
            ]
            needs = f"<q>{escape(audit.claim.text)}</q> needs a base. Percent of what?" + table(
                ["the front axle's change", "percent", ""], rows
            )
        set_if_changed(
            self.out,
            f'<div class="lv-say"><p>{needs}</p><p><b>{verdict}</b></p><p>{instead}</p></div>',
        )


def claim_audit(tractor=None, claim="twice its weight"):
    """The claim audit: panel.say("a third"), panel.set(ahead="1.25 m"), panel.result."""
    return ClaimAudit(tractor, claim)
