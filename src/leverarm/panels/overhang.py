"""The overhang panel: hang a bucket ahead of the front axle and watch both scales."""

import ipywidgets as w

from leverarm.axles import AxleLoads, Change, compare, predict
from leverarm.machine import Attachment, Tractor, demo_loader, demo_tractor
from leverarm.panels.base import (
    grid,
    html,
    picture_html,
    set_if_changed,
    shared,
    split,
)
from leverarm.panels.changes import change_sentence, change_table
from leverarm.panels.controls import Number, choice
from leverarm.panels.gate import Gated, asked_first
from leverarm.panels.unit_choice import choose_units
from leverarm.scene import Look, side_view


class Overhang(Gated):
    """Bucket weight, overhang, wheelbase and the bare readings; the side view and what both scales
    do.

    gate        the prediction gate, or None
    result      AxleLoads with the bucket; bare  without it
    """

    questions, why = asked_first("overhang", "front", "rear")

    def __init__(self, tractor: Tractor | None, bucket: Attachment | None, *, gated: bool) -> None:
        self._tractor, self._bucket = tractor or demo_tractor(), bucket or demo_loader()[1]
        super().__init__(gated=gated)

    def build(self) -> list[w.Widget]:
        t, b = self._tractor, self._bucket
        self.numbers = {
            name: Number(
                label,
                kind,
                value,
                low,
                high,
                on_change=self.redraw,
                reach=reach[0] if reach else None,
            )
            for name, label, kind, value, low, high, *reach in (
                ("weight", "Bucket weight", "weight", b.weight_kg, 1, 2000, 500),
                ("overhang", "Overhang", "length", b.ahead_m, -2, 3),
                ("wheelbase", "Wheelbase", "length", t.wheelbase_m, 0.5, 5),
                ("front", "Bare front reading", "weight", t.front_kg, 1, 2000),
                ("rear", "Bare rear reading", "weight", t.rear_kg, 1, 2000),
            )
        }
        self.units = choice(
            "Units:",
            [("lb and in", "lb"), ("kg and m", "kg")],
            shared.system,
            on_change=self._choose_units,
        )
        self.out = html()
        controls = grid(*(number.widget for number in self.numbers.values()))
        return [split([controls, self.units, *self.gate_parts()], [self.out])]

    def _choose_units(self, system: str) -> None:
        if system != self.system:
            self.attempt(lambda: choose_units(system))

    def follow_shared(self) -> None:
        if self.units.value != self.system:
            self.units.value = self.system
        super().follow_shared()

    @property
    def tractor(self) -> Tractor:
        """The bare machine that was told."""
        v = self.values
        return Tractor(
            self._tractor.name, v["wheelbase"], v["front"], v["rear"], self._tractor.height_m
        )

    @property
    def bucket(self) -> Attachment:
        """The bucket that was told."""
        return Attachment(self._bucket.name, self.values["weight"], self.values["overhang"])

    @property
    def bare(self) -> AxleLoads:
        """What the scales read without the bucket."""
        return predict(self.tractor)

    @property
    def result(self) -> AxleLoads:
        """What the scales read with the bucket."""
        return predict(self.tractor, self.bucket)

    @property
    def change(self) -> Change:
        """Front, rear and total change."""
        return compare(self.bare, self.result)

    def draw(self) -> None:
        tractor, bucket = self.tractor, self.bucket
        bare, result = predict(tractor), predict(tractor, bucket)
        scene = side_view(
            tractor,
            (bucket,),
            result,
            before=bare,
            look=Look(self.system, self.hidden, doubling=not self.hidden),
        )
        set_if_changed(
            self.out, picture_html(scene, self) + self._words(tractor, bucket, bare, result)
        )

    def _words(self, tractor, bucket, bare, result):
        """The result in a sentence and in numbers, or the promise of it."""
        if self.hidden:
            return (
                '<p class="lv-say">The readings with the bucket are kept back. Predict both '
                "scales, "
                "a direction and a number for each, then lock it in.</p>"
            )
        return (
            f'<p class="lv-say">{change_sentence(tractor, bucket, result, bare, self.system)}</p>'
            + change_table(tractor, bucket, bare, result, self.system, self.predictions)
        )


def overhang(
    tractor: Tractor | None = None, bucket: Attachment | None = None, *, gated: bool = True
) -> Overhang:
    """The overhang panel; gated False shows the readings from the start.

    In code: panel.set(weight="110 kg", overhang="1.2 m"), panel.values, panel.result,
    panel.gate.lock_in(front="up 190 kg", rear="down 80 kg"), panel.gate.reveal().
    """
    return Overhang(tractor, bucket, gated=gated)
