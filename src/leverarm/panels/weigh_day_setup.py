"""Set-up errors, each a switch: what the scales show then, and what that does to the result."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

import ipywidgets as w

from leverarm import weighing
from leverarm.axles import predict
from leverarm.machine import demo_loader, demo_tractor
from leverarm.panels.base import Panel, grid, html, html_table, set_if_changed, split
from leverarm.panels.controls import number_boxes
from leverarm.quantities import show
from leverarm.weighing.setup_errors import (
    brakes_on,
    bucket_down,
    fuel_burned,
    on_grade,
    operator_off,
    pads_under,
    unsettled,
)

# Key, short name, what is told, its kind, first value, limits, step, decimals, what makes the error
# of it.
AMOUNTS = (
    (
        "pads",
        "pads",
        "Pads under the front wheels",
        "length",
        0.05,
        0,
        0.2,
        0.005,
        3,
        lambda m: pads_under("front", m),
    ),
    ("grade", "grade", "Grade, nose uphill", "angle", 2, -10, 10, 0.5, 1, on_grade),
    ("brakes", "brakes", "Brakes on: your bound", "weight", 5, 0, 100, None, None, brakes_on),
    (
        "ground",
        "bucket down",
        "The ground carries",
        "weight",
        40,
        0,
        150,
        None,
        None,
        lambda kg: bucket_down(kg, 1.5),
    ),
    (
        "operator",
        "operator off",
        "The operator weighs",
        "weight",
        85,
        0,
        200,
        None,
        None,
        lambda kg: operator_off(kg, -1.1),
    ),
    (
        "fuel",
        "fuel burned",
        "Fuel burned, liters",
        "number",
        10,
        0,
        60,
        1,
        0,
        lambda liters: fuel_burned(liters, -0.4),
    ),
    ("unsettled", "not settled", "Short by", "share", 1, 0, 10, 0.1, 1, unsettled),
)
SHORT = {key: short.replace(" ", "\u00a0") for key, short, *_ in AMOUNTS}


class SetupErrors(Panel):
    """Seven things that go wrong in the yard, switched on one by one.

    errors      the weighing.SetupErrors switched on;  effects  what each does to the bucket's
                weight and overhang
    """

    def build(self) -> list[w.Widget]:
        self.numbers = number_boxes(((key, *row) for key, _, *row, _ in AMOUNTS), self.redraw)
        self.switches = {
            key: w.Checkbox(value=key == "pads", description=f"Switch on: {short}", indent=False)
            for key, short, *_ in AMOUNTS
        }
        for switch in self.switches.values():
            switch.observe(self.redraw, "value")
        self.out = html()
        pairs = [w.VBox([self.switches[key], self.numbers[key].widget]) for key in self.numbers]
        return [split([grid(*pairs)], [self.out])]

    def switch(self, **on: bool) -> SetupErrors:
        """Switch errors on or off: switch(pads=True, fuel=False)."""
        for key, value in on.items():
            self.switches[key].value = bool(value)
        return self

    @property
    def errors(self) -> list[weighing.SetupError]:
        """The errors switched on, at the amounts told."""
        return [make(self.values[key]) for key, *_, make in AMOUNTS if self.switches[key].value]

    @property
    def effects(self) -> list[weighing.Effect]:
        """What each error does to what is drawn from the readings of the bucket."""
        tractor, (frame, bucket) = demo_tractor(), demo_loader()
        return [weighing.effect_of_error(error, tractor, bucket, [frame]) for error in self.errors]

    def draw(self) -> None:
        effects, tractor, pieces = self.effects, demo_tractor(), demo_loader()
        level = predict(tractor, *pieces)
        front, rear = weighing.readings_with_errors(tractor, pieces, self.errors)
        if not effects:
            set_if_changed(self.out, '<p class="lv-say">Nothing is wrong. Switch an error on.</p>')
            return
        set_if_changed(
            self.out,
            f'<p class="lv-say">With the bucket on, the scales show <b>{self._say(front)}</b> in '
            "front and "
            f"<b>{self._say(rear)}</b> at the rear. Level and at rest they show "
            f"{self._say(level.front_kg)} and {self._say(level.rear_kg)}.</p>"
            + self._table(effects)
            + self._remedies(effects),
        )

    def _say(self, kg: float, *, sign: bool = False) -> str:
        return show(kg, "weight", self.system, sign=sign)

    def _table(self, effects: Sequence[weighing.Effect]) -> str:
        rows = [
            [
                SHORT[e.error.key],
                *(
                    ("±" if e.error.bound else "")
                    + self._say(abs(kg) if e.error.bound else kg, sign=not e.error.bound)
                    for kg in (e.front_kg, e.rear_kg)
                ),
                self._say(e.weight_kg, sign=True),
                show(e.ahead_m, "length", self.system, sign=True),
            ]
            for e in effects
        ]
        return html_table(["", "front", "rear", "bucket", "overhang"], rows)

    def _remedies(self, effects: Sequence[weighing.Effect]) -> str:
        lines = [
            f"{escape(e.error.name.capitalize())}. {e.error.why} "
            f"{'It was there both times, so most of it cancels. ' if e.error.lasting else ''}"
            f"<b>{e.error.doing}</b>"
            for e in effects
        ]
        return "<ul>" + "".join(f"<li>{line}</li>" for line in lines) + "</ul>"


def setup_errors() -> SetupErrors:
    """Set-up errors as switches: panel.switch(fuel=True), panel.set(pads="30 mm"), panel.errors,
    panel.effects.
    """
    return SetupErrors()
