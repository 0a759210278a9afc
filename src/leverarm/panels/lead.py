"""Front drive: count turns to a lead, and what slips and wears while a lawn is mowed."""

from html import escape

import ipywidgets as w

from leverarm import driveline
from leverarm.axles import predict
from leverarm.machine import demo_loader, demo_tractor
from leverarm.panels.base import Panel, grid, html, html_table, picture_html, set_if_changed, split
from leverarm.panels.controls import Number, choice
from leverarm.quantities import show_number
from leverarm.scene.chart import OFF_AND_ON
from leverarm.scene.turning import length_words, mismatch_chart
from leverarm.stage.lead_case import REAR_RISES


class RollOutPanel(Panel):
    """Front turns with the drive in and out over the same rear turns: the lead with its
    uncertainty.

    counted     the driveline.RollOut that was told
    """

    def build(self) -> list[w.Widget]:
        self.numbers = {
            name: Number(label, "number", value, low, high, on_change=self.redraw, slider=False)
            for name, label, value, low, high in (
                ("engaged", "Front turns, drive in", 13.5, 1, 1000),
                ("free", "Front turns, drive out", 13.11, 1, 1000),
                ("rear", "Rear turns, both times", 10, 1, 1000),
                ("step", "Read to this part of a turn", 0.05, 0.005, 1),
            )
        }
        self.out = html()
        return [grid(*(number.widget for number in self.numbers.values())), self.out]

    @property
    def counted(self) -> driveline.RollOut:
        """The roll-out that was told."""
        return driveline.RollOut(**self.values)

    def draw(self) -> None:
        counted = self.counted
        lead, enough = counted.lead, counted.turns_for(0.5)
        turns = f"{show_number(enough, 0)} front turns, read just as finely"
        more = f" To know it to ± 1 %, count {turns}." if enough > counted.engaged else ""
        set_if_changed(
            self.out,
            f'<p class="lv-say">Lead <b>{show_number(lead.value, 1, sign=True)} ± '
            f"{show_number(lead.expanded(), 1)} %</b> "
            f"(95 %), ratio {show_number(counted.ratio, 3)}. "
            f"{escape(driveline.lead_verdict(lead))}{more}</p>",
        )


class LeadPanel(Panel):
    """Rolling circumferences, ratio, squash, turn and mowing width: the lead, the turn and what
    slips.

    off, on     the two Drives; mowing  the Mowing; drive_in  whether the front drive is in
    """

    def __init__(self) -> None:
        self._drive, self._mowing = driveline.demo_drive(), driveline.demo_mowing()
        bare, loaded = predict(demo_tractor()), predict(demo_tractor(), *demo_loader())
        self._loads = bare, loaded
        super().__init__()

    def build(self) -> list[w.Widget]:
        d, m = self._drive, self._mowing
        self.numbers = {
            name: Number(
                label, kind, value, low, high, on_change=self.redraw, step=step, decimals=decimals
            )
            for name, label, kind, value, low, high, step, decimals in (
                ("front", "Front circumference", "length", d.front_m, 1.0, 4.0, 0.01, 3),
                ("rear", "Rear circumference", "length", d.rear_m, 1.5, 6.0, 0.01, 3),
                ("ratio", "Turns ratio", "number", d.ratio, 1.0, 2.0, 0.01, 3),
                ("squash", "Front hub down", "length", 0.010, 0, 0.04, 0.001, 3),
                ("radius", "Turning radius", "length", m.radius_m, 1.5, 15, 0.1, 2),
                ("width", "Mowing width", "length", m.width_m, 0.6, 4, 0.05, 2),
                ("exponent", "Wear exponent", "number", 1, 1, 2, 0.1, 1),
            )
        }
        self.switch = choice(
            "Front drive:", [("in", True), ("out", False)], True, on_change=self.redraw
        )
        self.switch.add_class("lv-inline")
        self.out, self.plot = html(), html()
        controls = grid(*(number.widget for number in self.numbers.values()))
        cautions = html(
            "<ul>" + "".join(f"<li>{escape(line)}</li>" for line in driveline.CAUTIONS) + "</ul>"
        )
        return [split([controls, self.switch], [self.out]), self.plot, cautions]

    @property
    def drive_in(self) -> bool:
        """True while the front drive is in."""
        return self.switch.value

    @property
    def off(self) -> driveline.Drive:
        """The machine without its loader."""
        v = self.values
        return driveline.Drive(v["front"], v["rear"], v["ratio"], self._drive.wheelbase_m)

    @property
    def on(self) -> driveline.Drive:
        """The machine with its loader on: the front tires squashed, the rear ones relieved."""
        down = self.numbers["squash"].value
        return self.off.squashed(down, -REAR_RISES * down)

    @property
    def mowing(self) -> driveline.Mowing:
        """The work."""
        return driveline.Mowing(self.values["width"], self._mowing.run_m, self.values["radius"])

    def draw(self) -> None:
        off, on, radius = self.off, self.on, self.numbers["radius"].value
        set_if_changed(self.out, self._words(off, on, radius))
        chart = mismatch_chart(off, on, radius, system=self.system)
        set_if_changed(self.plot, picture_html(chart, self, "b") if self.drive_in else "")

    def _words(self, off, on, radius):
        """What fits and what slips, in a sentence and a table."""
        if not self.drive_in:
            return (
                '<p class="lv-say">Drive out: each axle rolls as it likes, and the lead makes '
                "nothing slip. "
                "The operator's manual says when the drive must be out and when it must be in.</p>"
            )
        return f'<p class="lv-say">{self._sentence(off, on, radius)}</p>' + self._table(
            off, on, radius
        )

    def _sentence(self, off, on, radius):
        fits = (
            f"The lead just fits a turn of {length_words(off.fitting_radius_m, self.system)} "
            "(loader off)."
            if off.fitting_radius_m
            else "Without a lead above zero no turn fits."
        )
        way = "dragged" if off.mismatch(radius) < 0 else "over-driven"
        return (
            f"The loader takes the lead from {_percent(off.lead)} to <b>{_percent(on.lead)}</b>. "
            f"In this turn the front is <b>{way}</b>: {_percent(off.mismatch(radius))}. {fits} "
            f"{escape(driveline.lead_verdict(on.lead))} {escape(driveline.WEAR_LAW)}"
        )

    def _table(self, off, on, radius):
        name, area = driveline.AREAS[self.system]
        mowing, drives = self.mowing, (off, on)
        straight, turning = zip(*(mowing.slip_m(drive, area) for drive in drives))
        cases, exponent = tuple(zip(drives, self._loads)), self.numbers["exponent"].value
        first, second = cases
        fronts = ((first[0], first[1].front_kg), (second[0], second[1].front_kg))
        front = 100.0, driveline.wear_beside(mowing, fronts[0], fronts[1], exponent)
        lighter = 100.0, driveline.wear_of_lighter_axle(mowing, first, second, exponent)
        names = ", then ".join(driveline.lighter_axle(loads)[0] for loads in self._loads)
        rows = [
            ["Lead, straight ahead", *map(_percent, (off.lead, on.lead))],
            [
                "Mismatch in this turn",
                *(_percent(d.mismatch(radius)) for d in drives),
            ],
            [f"Slips straight ahead, per {name}", *(self._distance(d) for d in straight)],
            [f"Slips in turns, per {name}", *(self._distance(d) for d in turning)],
            [
                f"Wear index, the axle that carries less slips ({names})",
                *(show_number(w, 0) for w in lighter),
            ],
            [
                "Wear index, if the front did all the slipping",
                *(show_number(w, 0) for w in front),
            ],
        ]
        return html_table(["", *(name.replace(" ", "\u00a0") for name in OFF_AND_ON)], rows)

    def _distance(self, meters):
        return (
            f"{show_number(abs(meters), 0)} m"
            if self.system == "kg"
            else f"{show_number(abs(meters) / 0.3048, 0)} ft"
        )


def _percent(value):
    return f"{show_number(value, 1, sign=True)}\u00a0%"


def roll_out() -> RollOutPanel:
    """Count turns to a lead: .counted is the driveline.RollOut; .set(engaged=13.5, free=13.11,
    rear=10, step=0.05).
    """
    return RollOutPanel()


def front_lead() -> LeadPanel:
    """What slips and wears while a lawn is mowed with the front drive in, loader off and on.

    In code: panel.set(squash="10 mm", radius="2.5 m"), panel.off, panel.on, panel.mowing.
    """
    return LeadPanel()
