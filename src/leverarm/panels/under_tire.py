"""Under the tire: its contact patch, and the ground under it with the loader off and on."""

from html import escape

import ipywidgets as w

from leverarm import ground
from leverarm.axles import predict
from leverarm.machine import demo_loader, demo_tractor
from leverarm.panels.base import Panel, grid, html, html_table, picture_html, set_if_changed, split
from leverarm.panels.controls import Number
from leverarm.panels.gate import Gated, asked_first
from leverarm.quantities import show, show_number
from leverarm.scene import picture
from leverarm.scene.chart import OFF_AND_ON
from leverarm.scene.soil import (
    SECTION_VIEWS,
    depth_chart,
    depth_words,
    levels_kpa,
    soil_section,
)

FRONT_TIRES = 2
TABLE_DEPTHS = {"kg": ("10 cm", "20 cm", "40 cm"), "lb": ("4 in", "8 in", "16 in")}


def percent_more(after: float, before: float) -> str:
    """A change in percent of what was before, with sign and arrow."""
    change = 100 * (after / before - 1)
    arrow = "▲ " if change > 0.5 else "▼ " if change < -0.5 else ""
    return f"{arrow}{show_number(change, 0, sign=True)}\u00a0%"


class ContactPatchPanel(Panel):
    """Outline, load and gauge pressure of one patch; its area, mean pressure and carcass share.

    made        the ground.ContactPatch that was told
    """

    def build(self) -> list[w.Widget]:
        p = ground.demo_patch()
        self.numbers = {
            name: Number(
                label, kind, value, low, high, on_change=self.redraw, step=step, decimals=decimals
            )
            for name, label, kind, value, low, high, step, decimals in (
                (
                    "length",
                    "Length of the contact patch",
                    "length",
                    p.length_m,
                    0.03,
                    0.6,
                    0.005,
                    3,
                ),
                ("width", "Width of the contact patch", "length", p.width_m, 0.03, 0.6, 0.005, 3),
                ("shape", "Shape of the contact patch", "number", p.shape, 0.5, 1, 0.01, None),
                ("load", "Load on this tire", "weight", p.load_kg, 10, 2000, None, None),
                ("inflation", "Tire pressure", "pressure", p.inflation_kpa, 20, 500, None, None),
            )
        }
        self.out = html()
        return [grid(*(number.widget for number in self.numbers.values())), self.out]

    @property
    def made(self) -> ground.ContactPatch:
        """The contact patch that was told."""
        return ground.ContactPatch(**self.values)

    def draw(self) -> None:
        made, area = self.made, show(self.made.area_m2, "area", self.system)
        mean, gauge, carcass = (
            show(kpa, "pressure", self.system)
            for kpa in (made.mean_kpa, made.inflation_kpa, made.carcass_kpa)
        )
        set_if_changed(
            self.out,
            f'<p class="lv-say">Area <b>{area}</b>. Mean pressure <b>{mean}</b>: {gauge} of air '
            f"and {carcass} of "
            f"carcass. {escape(made.remark(self.system))}</p>",
        )


class UnderTire(Gated):
    """Front axle loads off and on, tire pressure, concentration factor: the soil under the tire and
    stress with depth.

    off, on     the two Contacts
    """

    questions, why = asked_first("under_tire", "surface", "reach")

    def __init__(self, made: ground.ContactPatch | None, *, gated: bool) -> None:
        self._made = made or ground.demo_patch()
        super().__init__(gated=gated)

    def build(self) -> list[w.Widget]:
        off, on = predict(demo_tractor()), predict(demo_tractor(), *demo_loader())
        self.numbers = {
            name: Number(label, kind, value, low, high, on_change=self.redraw, step=step)
            for name, label, kind, value, low, high, step in (
                ("off", "Front axle, loader off", "weight", off.front_kg, 50, 4000, None),
                ("on", "Front axle, loader on", "weight", on.front_kg, 50, 4000, None),
                ("inflation", "Tire pressure", "pressure", self._made.inflation_kpa, 40, 500, None),
                ("factor", "Soil factor", "number", 4, 3, 6, 0.5),
            )
        }
        self.out, self.plot = html(), html()
        controls = grid(*(number.widget for number in self.numbers.values()))
        limits = html(
            "<p>What this curve leaves out:</p><ul>"
            + "".join(f"<li>{escape(line)}</li>" for line in ground.LIMITS)
            + "</ul>"
        )
        return [split([controls, *self.gate_parts()], [self.out]), self.plot, limits]

    @property
    def off(self) -> ground.Contact:
        """The front tire on the ground, loader off."""
        return self._contact("off")

    @property
    def on(self) -> ground.Contact:
        """The front tire on the ground, loader on."""
        return self._contact("on")

    def _contact(self, name):
        return self._made.under(
            self.numbers[name].value / FRONT_TIRES, self.numbers["inflation"].value
        )

    def draw(self) -> None:
        off, on, factor = self.off, self.on, self.numbers["factor"].value
        section = soil_section(off, on, factor=factor, system=self.system, hidden=self.hidden)
        drawn = picture(section, key=self.key + "a", large=self.large, views=SECTION_VIEWS)
        set_if_changed(self.out, drawn + self._words(off, on, factor))
        set_if_changed(
            self.plot,
            picture_html(depth_chart(off, on, system=self.system, hidden=self.hidden), self, "b"),
        )

    def _words(self, off, on, factor):
        """Loader off and on in a sentence and a table, or the promise of it."""
        if self.hidden:
            return (
                '<p class="lv-say">What lies under the second tire is kept back. Predict the '
                "surface pressure and how deep "
                f"{self._pressure(levels_kpa(self.system)[1])} reaches, then lock it in.</p>"
            )
        return f'<p class="lv-say">{self._sentence(off, on, factor)}</p>' + self._table(
            off, on, factor
        )

    def _pressure(self, kpa):
        return show(kpa, "pressure", self.system)

    def _sentence(self, off, on, factor):
        level = levels_kpa(self.system)[1]
        share = ground.subsoil_share(self.numbers["on"].value)
        reach = [depth_words(c.reach_m(level, factor), self.system) for c in (off, on)]
        return (
            f"Load {percent_more(on.load_kg, off.load_kg)}, contact patch "
            f"{percent_more(on.area_m2, off.area_m2)}, surface pressure "
            f"{percent_more(on.pressure_kpa, off.pressure_kpa)}, on hard ground. "
            f"{self._on_soft_soil(off, on)} {self._pressure(level)} reaches "
            f"<b>{reach[1]}</b> deep instead of <b>{reach[0]}</b>. With the loader this axle "
            f"carries {show_number(share, 0)} % of the axle load from which published work warns "
            "of the deep subsoil."
        )

    @staticmethod
    def _on_soft_soil(off, on):
        """What the patch that grows less makes of the same two loads."""
        line, power = ground.soft_soil_rise(off.load_kg, on.load_kg)
        return (
            f"On soft soil a published law lets the patch grow by only "
            f"{show_number(float(ground.SOFT_GROWTH), 2)} of the load's growth: there the mean "
            f"pressure changes by <b>{show_number(line, 0, sign=True)} %</b> "
            f"({show_number(power, 0, sign=True)} % if it grows as a power of the load)."
        )

    def _table(self, off, on, factor):
        def line(name, values, kind, said=""):
            return [
                name,
                *(
                    show(v, kind, self.system, decimals=0 if kind == "weight" else None)
                    for v in values
                ),
                percent_more(values[1], values[0]),
                *([said] if predicted else []),
            ]

        predicted = self.predictions
        rows = [
            line("Load on one tire", (off.load_kg, on.load_kg), "weight"),
            line("Contact patch", (off.area_m2, on.area_m2), "area"),
            line(
                "At the surface",
                (off.pressure_kpa, on.pressure_kpa),
                "pressure",
                self._said("surface", "pressure"),
            ),
        ]
        rows += [
            line(f"{z} deep", [c.stress_kpa(z, factor) for c in (off, on)], "pressure")
            for z in TABLE_DEPTHS[self.system]
        ]
        level = levels_kpa(self.system)[1]
        reach = [c.reach_m(level, factor) for c in (off, on)]
        rows.append(
            [
                f"Depth of {self._pressure(level)}",
                *(depth_words(m, self.system) for m in reach),
                percent_more(reach[1], reach[0]) if reach[0] else "",
                *([self._said("reach", "length")] if predicted else []),
            ]
        )
        head = ["", *(name.replace(" ", "\u00a0") for name in OFF_AND_ON)]
        return html_table(
            [*head, "change", *(["you said"] if predicted else [])],
            rows,
        )

    def _said(self, key, kind):
        predicted = self.predictions.get(key)
        return "" if predicted is None else show(predicted, kind, self.system, sign=True)


def contact_patch() -> ContactPatchPanel:
    """One tire's contact patch, measured on paper: .made is the ground.ContactPatch.

    In code: panel.set(length="16 cm", width="11.5 cm", load="300 kg").
    """
    return ContactPatchPanel()


def under_tire(made: ground.ContactPatch | None = None, *, gated: bool = True) -> UnderTire:
    """The ground under a front tire, loader off and on; gated False shows it from the start.

    made        ground.ContactPatch of the front tire
    In code: panel.set(on="1019 kg", inflation="160 kPa", factor=4), panel.off, panel.on,
    panel.gate.lock_in(surface="up 20 kPa", reach="up 6 cm"), panel.gate.reveal().
    """
    return UnderTire(made, gated=gated)
