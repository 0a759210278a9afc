"""Weigh day: predict, read the scales, infer weight and overhang with their plus or minus, save the
readings.
"""

from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as w

from leverarm import weighing
from leverarm.machine import demo_tractor
from leverarm.panels.base import button, grid, html, row, set_if_changed, split
from leverarm.panels.controls import choice, number_boxes, text_box
from leverarm.panels.gate import Gated, Question, with_unit
from leverarm.panels.weigh_day_words import (
    forecast_table,
    help_list,
    machine_view,
    promise,
    spans,
    verdict,
)
from leverarm.quantities import Refusal, to_unit
from leverarm.scene import picture
from leverarm.scene.chart import span_chart, span_views
from leverarm.weighing.demo import BELIEVED, U_TAPE_M
from leverarm.weighing.scales import AXLES

PLACES = (
    ("front_off", "Front, bucket off"),
    ("rear_off", "Rear, bucket off"),
    ("front_on", "Front, bucket on"),
    ("rear_on", "Rear, bucket on"),
)
WHY = (
    "Both changes together are the bucket's weight: what one axle passes to the other cancels. "
    "The rear loss alone tells the overhang. Each is a small difference of large readings, so "
    "each keeps a plus or minus that no rounding takes away."
)
RECORD = "weigh_day_record.csv"


def several(text, system, field="reading"):
    """Readings typed with ; between, each with its unit: "601; 600" -> ["601 kg", "600 kg"]."""
    parts = [
        with_unit(part.strip(), "weight", system) for part in str(text).split(";") if part.strip()
    ]
    if not parts:
        raise Refusal(
            field,
            "nothing",
            "one reading, or several with a semicolon (;) between",
            "type what the scale showed",
        )
    return parts


def _joined(kgs):
    """Invented readings as their scales show them: in whole pounds."""
    return "; ".join(f"{to_unit(kg, 'weight', 'lb'):.0f} lb" for kg in kgs)


class WeighDay(Gated):
    """Scales, believed values and four axle readings; a forecast before and the inference after.

    result      weighing.InferredPiece of the readings typed;  forecast  weighing.Forecast from what
                was believed
    read(front_on="1019; 1021", ...)    tell readings;  save(path=None)  add them to a record
    """

    questions = (Question("front", "Front scale"), Question("rear", "Rear scale"))
    why = WHY

    def __init__(self, tractor=None, *, gated=True, record=RECORD) -> None:
        self._tractor, self._record = tractor or demo_tractor(), Path(record)
        super().__init__(gated=gated)

    def build(self) -> list[w.Widget]:
        self.numbers = number_boxes(
            (
                ("wheelbase", "Wheelbase", "length", self._tractor.wheelbase_m, 0.5, 5, 0.01, 3),
                ("tape", "Tape, ± (standard)", "length", U_TAPE_M, 0, 0.2, 0.001, 3),
                ("graduation", "Step of the scale", "weight", 1, 0, 50, None, 1),
                ("accuracy", "Scale good to ±", "share", 0.5, 0, 10, 0.1, 2),
                ("weight", "Bucket, believed", "weight", BELIEVED["weight"], 1, 2000, None, None),
                (
                    "u_weight",
                    "Bucket, ± (standard)",
                    "weight",
                    BELIEVED["u_weight"],
                    0,
                    500,
                    None,
                    None,
                ),
                ("ahead", "Overhang by tape", "length", BELIEVED["ahead"], -2, 4, 0.01, 2),
                ("u_ahead", "Overhang, ± (standard)", "length", BELIEVED["u_ahead"], 0, 1, 0.01, 3),
            ),
            self.redraw,
        )
        self.boxes = {
            name: text_box(label, placeholder="such as 1828; 1826", on_change=self.redraw)
            for name, label in PLACES
        }
        for axle, kgs in zip(("front", "rear"), weighing.demo_pair("loader frame")):
            self.boxes[f"{axle}_off"].value = _joined(kgs)
        self.fill = button("Fill in the invented readings", lambda: self.attempt(self.invent))
        self.unit = choice(
            "Scales show:", [("kg", "kg"), ("lb", "lb")], "lb", on_change=self.redraw
        )
        self.machine, self.place = text_box("Machine"), text_box("Record file")
        self.machine.value, self.place.value = self._tractor.name, str(self._record)
        self.save_button = button(
            "Add these readings to the record", lambda: self.attempt(self.save), primary=True
        )
        self.out, self.plots, self.saved = html(), html(), html("", "lv-say")
        controls = grid(*(number.widget for number in self.numbers.values()))
        before, after = (
            row(*(self.boxes[name] for name in pair))
            for pair in (("front_off", "rear_off"), ("front_on", "rear_on"))
        )
        self._after = [
            after,
            self.fill,
            row(self.machine, self.place),
            self.save_button,
            self.saved,
        ]
        return [
            split(
                [controls, self.unit, before, *self.gate_parts(), *self._after],
                [self.out, self.plots],
            )
        ]

    def invent(self):
        """Type the readings of the invented weigh day."""
        off, on = weighing.demo_pair("loader frame"), weighing.demo_pair("loader frame + bucket")
        told = dict(zip((name for name, _ in PLACES), (*off, *on)))
        self.unit.value = "lb"
        self.read(**{name: _joined(kgs) for name, kgs in told.items()})

    def read(self, **told):
        """Tell readings by place: read(front_off="829; 828", front_on=1019).

        Raises Refusal, changing nothing.
        """
        for name, text in told.items():
            if name not in self.boxes:
                raise Refusal("place", name, ", ".join(self.boxes), "use one of these names")
            weighing.repeats(several(text, self.unit.value), name)
        for name, text in told.items():
            set_if_changed(self.boxes[name], str(text))
        self.redraw()
        return self

    @property
    def scales(self):
        """The scales that were told."""
        return weighing.Scales(self.values["graduation"], self.values["accuracy"])

    def _pair(self, when):
        """(front, rear) readings typed for "off" or "on"; None for an axle that was not read both
        times.
        """
        return tuple(
            several(
                self.boxes[f"{axle}_{when}"].value,
                self.unit.value,
                f"{axle} reading, bucket {when}",
            )
            if axle in self.read_axles
            else None
            for axle in AXLES
        )

    @property
    def read_axles(self):
        """The axles read both times, bucket off and bucket on."""
        return [
            axle
            for axle in AXLES
            if all(self.boxes[f"{axle}_{when}"].value.strip() for when in ("off", "on"))
        ]

    def _before(self):
        """(front, rear) readings with the bucket off, both of them."""
        return tuple(
            several(self.boxes[f"{axle}_off"].value, self.unit.value, f"{axle} reading, bucket off")
            for axle in AXLES
        )

    @property
    def forecast(self):
        """What the scales should show with the bucket on, from what is believed of it."""
        v = self.values
        return weighing.forecast(
            self._before(),
            v["weight"],
            v["ahead"],
            v["wheelbase"],
            u_weight=v["u_weight"],
            u_ahead=v["u_ahead"],
            u_wheelbase=v["tape"],
            scales=self.scales,
        )

    @property
    def result(self):
        """Weight and overhang from the readings; with one axle read, the taped overhang."""
        v = self.values
        tape: dict[str, Any] = (
            {} if len(self.read_axles) == 2 else {"ahead": v["ahead"], "u_ahead": v["u_ahead"]}
        )
        return weighing.infer(
            self._pair("off"),
            self._pair("on"),
            v["wheelbase"],
            u_wheelbase=v["tape"],
            scales=self.scales,
            name="bucket",
            **tape,
        )

    def draw(self) -> None:
        for part in self._after:
            part.layout.display = "none" if self.hidden else ""
        if self.hidden or not self.read_axles:
            set_if_changed(self.out, machine_view(self) + promise(self))
            set_if_changed(self.plots, "")
            return
        hung, both = self.result, len(self.read_axles) == 2
        beside = verdict(self, self.forecast) + forecast_table(self, self.forecast) if both else ""
        set_if_changed(
            self.out,
            f'<p class="lv-say">{escape(hung.sentence(self.system))}</p>'
            + beside
            + help_list(hung)
            + machine_view(self),
        )
        set_if_changed(
            self.plots,
            "".join(
                picture(
                    span_chart(*chart),
                    key=self.key + name,
                    large=self.large,
                    views=span_views(len(chart[2])),
                )
                for name, chart in spans(self, hung).items()
            ),
        )

    def means(self, when):
        """The mean of what was read with the bucket "off" or "on", in kg, by axle."""
        given = self._before() if when == "off" else self._pair(when)
        return {
            axle: weighing.mean(weighing.repeats(one, axle))
            for axle, one in zip(AXLES, given)
            if one is not None
        }

    def save(self, path=None):
        """Add the readings to a record, one row per repeat of each state; says where they went."""
        if not self.read_axles:
            raise Refusal(
                "readings",
                "nothing",
                "an axle read with the bucket off and on",
                "type what the scales showed",
            )
        target = Path(path or self.place.value.strip() or RECORD)
        known = weighing.read_record(target).rows
        rows = [
            one
            for when, state in (("off", "loader frame"), ("on", "loader frame + bucket"))
            for one in self._rows(when, state, known)
        ]
        done = weighing.append_rows(target, *rows)
        set_if_changed(self.saved, escape(done.message))
        return done

    def _rows(self, when, state, known):
        """The rows of one state; an axle read fewer times leaves empty cells."""
        front, rear = (given or [] for given in self._pair(when))
        first = weighing.next_repeat(known, self.machine.value, state)
        for i in range(max(len(front), len(rear))):
            yield weighing.record_row(
                self.machine.value,
                self.values["wheelbase"],
                state,
                front[i] if i < len(front) else None,
                rear[i] if i < len(rear) else None,
                self.unit.value,
                first + i,
            )


def weigh_day(tractor=None, *, gated=True, record=RECORD):
    """The weigh-day panel: predict, read, infer, save; gated False shows it from the start.

    In code: panel.set(graduation="2 kg"), panel.read(front_on="1019; 1021", rear_on="700; 701"),
    panel.forecast,
    panel.result, panel.save("my_record.csv"), panel.gate.lock_in(front="up 190 kg", rear="down 80
    kg"), panel.gate.reveal().
    """
    return WeighDay(tractor, gated=gated, record=record)
