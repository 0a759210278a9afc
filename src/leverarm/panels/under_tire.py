"""Under the tire: its contact patch, and the stress with depth with the loader off and on."""

from html import escape

import ipywidgets as w

from leverarm import ground
from leverarm.axles import predict
from leverarm.machine import demo_loader, demo_tractor
from leverarm.panels.base import Panel, grid, html, html_table, picture_html, set_if_changed, split
from leverarm.panels.controls import Number
from leverarm.quantities import show, show_number
from leverarm.scene.chart import OFF_AND_ON
from leverarm.scene.soil import depth_chart, depth_words, levels_kpa

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


class UnderTire(Panel):
    """Front axle loads off and on, tire pressure, concentration factor: stress with depth, as a
    table and a chart.

    off, on     the two Contacts
    """

    def __init__(self, made: ground.ContactPatch | None) -> None:
        self._made = made or ground.demo_patch()
        super().__init__()

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
        return [split([controls], [self.out]), self.plot, limits]

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
        said = f'<p class="lv-say">{self._sentence(off, on, factor)}</p>'
        set_if_changed(self.out, said + self._table(off, on, factor))
        set_if_changed(self.plot, picture_html(depth_chart(off, on, system=self.system), self, "b"))

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
        def line(name, values, kind):
            return [
                name,
                *(
                    show(v, kind, self.system, decimals=0 if kind == "weight" else None)
                    for v in values
                ),
                percent_more(values[1], values[0]),
            ]

        rows = [
            line("Load on one tire", (off.load_kg, on.load_kg), "weight"),
            line("Contact patch", (off.area_m2, on.area_m2), "area"),
            line("At the surface", (off.pressure_kpa, on.pressure_kpa), "pressure"),
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
            ]
        )
        head = ["", *(name.replace(" ", "\u00a0") for name in OFF_AND_ON)]
        return html_table([*head, "change"], rows)


def contact_patch() -> ContactPatchPanel:
    """One tire's contact patch, measured on paper: .made is the ground.ContactPatch.

    In code: panel.set(length="16 cm", width="11.5 cm", load="300 kg").
    """
    return ContactPatchPanel()


def under_tire(made: ground.ContactPatch | None = None) -> UnderTire:
    """Stress with depth under a front tire, loader off and on, by the soil.

    made        ground.ContactPatch of the front tire
    In code: panel.set(on="1019 kg", inflation="160 kPa", factor=4), panel.off, panel.on.
    """
    return UnderTire(made)
