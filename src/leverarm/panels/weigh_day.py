"""Weigh day: bets, then readings as the wheels stand, then what they say of the bucket."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as w

from leverarm import weighing
from leverarm.numerals import plain
from leverarm.panels.base import (
    button,
    grid,
    html,
    html_table,
    row,
    set_if_changed,
    show_if,
    split,
)
from leverarm.panels.controls import dropdown, text_box
from leverarm.panels.day_choice import FOLDER, DayChoice
from leverarm.panels.gate import Gated, asked_first, with_unit
from leverarm.panels.remarks import Remarks, Unchanged
from leverarm.panels.weigh_day_result import (
    BUCKET,
    FRAME,
    Believed,
    bucket_results,
    forecast_of,
    result_html,
    span_charts,
)
from leverarm.panels.wheel_boxes import WheelBoxes
from leverarm.quantities import Refusal, read, show, to_unit, unit_of
from leverarm.scene import picture
from leverarm.scene.chart import span_chart, span_views
from leverarm.stage.elements import as_text
from leverarm.stage.enlarged import Level
from leverarm.stage.weighed_day import DaySeen, weighed_day
from leverarm.uncertainty import Measured, mean
from leverarm.weighing.day import WeighDay
from leverarm.weighing.day_file import Saved
from leverarm.weighing.demo import BELIEVED
from leverarm.weighing.fit import SetupReadings
from leverarm.weighing.gate import passed
from leverarm.weighing.piece_names import with_names
from leverarm.weighing.readings import SIDES
from leverarm.weighing.results import DayResults
from leverarm.weighing.scales import AXLES, Session, Wheels, repeats, totals_of


def day_picture(
    day: WeighDay,
    believed: Believed,
    bets: Mapping[str, float],
    system: str,
    *,
    key: str,
    large: bool = False,
) -> str:
    """The machine between its readings as a piece of the page; nothing while none was read.

    With the bucket on, each axle's bet, forecast and reading stand enlarged beside its column.
    """
    off, on = _setups(day)
    now = on or off
    if now is None or not (now.front or now.rear):
        return ""
    unit = unit_of("weight", system)

    before = _axles(off, unit)
    said = {
        axle: before[axle] + to_unit(kg, "weight", unit)
        for axle, kg in bets.items()
        if axle in before
    }
    seen = DaySeen(
        day.machine.name,
        day.machine.wheelbase_m,
        system,
        day.machine.track_m,
        _wheels(now, unit),
        _axles(now, unit),
        before,
        {} if on is None else _bars(day, believed, said, on, unit),
        piece=on is not None,
    )
    return as_text(weighed_day(seen, large=large)).replace("st@", key)


def _setups(day: WeighDay) -> tuple[SetupReadings | None, SetupReadings | None]:
    """(without the bucket, with it); None for what was not weighed."""
    try:
        return day.with_and_without(BUCKET)
    except Refusal:
        found = [one for one in day.setups if one.pieces == FRAME]
        return (found[0] if found else None), None


def _axles(one: SetupReadings | None, unit: str) -> dict[str, float]:
    """The mean reading of each axle that was read."""
    read = {axle: totals_of(getattr(one, axle)) for axle in AXLES if one is not None}
    return {axle: to_unit(mean(kgs), "weight", unit) for axle, kgs in read.items() if kgs}


def _wheels(one: SetupReadings, unit: str) -> dict[str, float]:
    """The mean reading of each pad, of the axles that were read wheel by wheel."""
    return {
        f"{axle} {side}": to_unit(mean(repeats(getattr(given, side), axle)), "weight", unit)
        for axle, given in (("front", one.front), ("rear", one.rear))
        if isinstance(given, Wheels)
        for side in SIDES
    }


def _bars(
    day: WeighDay, believed: Believed, said: Mapping[str, float], on: SetupReadings, unit: str
) -> dict[str, tuple[Level, ...]]:
    """What was said, expected and read of each axle with the bucket on."""

    def bar(name: str, number: Measured) -> Level:
        half = to_unit(number.expanded(), "weight", unit)
        load = to_unit(number.value, "weight", unit)
        return Level(name, load, half if 0 < half < math.inf else None)

    # Without the scales' step or accuracy no plus or minus is shown.
    known = day.scales.known
    guess = forecast_of(day, believed) if known else None
    given: dict[str, Any] = {
        axle: getattr(on, axle) for axle in AXLES if totals_of(getattr(on, axle))
    }
    loads = Session(day.scales.scales, given=given).loads() if known else {}
    found = {}
    for axle, one in given.items():
        bars = [Level("said", said[axle])] if axle in said else []
        if guess is not None:
            bars.append(bar("expected", getattr(guess, axle)))
        now, load = mean(totals_of(one)), loads.get(axle)
        bars.append(bar("read", load if isinstance(load, Measured) else Measured(now)))
        found[axle] = tuple(bars)
    return found


ANOTHER = "another set-up"
SETUPS = (
    "loader frame + bucket",
    "loader frame",
    "bare",
    "ballast",
    "loader frame + bucket + ballast",
    ANOTHER,
)
BEFORE_ON = (
    "Level hard ground. Bucket down. Kept from rolling. Nobody near while it moves. "
    "Hands off the pads."
)
BEFORE_OFF = (
    "Take a piece off only as its manual says: bucket flat on the ground, pressure let off."
)
WAITS = "The result waits until each remark beside it is settled."

# Key, label, kind, what may be told.
_BELIEFS = (
    ("weight", "Bucket, believed", "weight", (1, 2000)),
    ("u_weight", "Bucket, ± (standard)", "weight", (0, 500)),
    ("ahead", "Overhang by tape", "length", (-2, 4)),
    ("u_ahead", "Overhang, ± (standard)", "length", (0, 1)),
)


class WeighDayPanel(Gated):
    """Bets on both scales, readings written down as they are taken, and the bucket's weight and
    overhang.

    day         the WeighDay shown;  result  weighing.results.DayResults of the bucket
    forecast    weighing.Forecast from what was believed of the bucket, or None
    write_down(setup="bare", front="1320", rear=("880", "880"))     write one weighing down
    """

    questions, why = asked_first("weigh_day", "front", "rear")

    def __init__(self, place: Path | str = FOLDER, *, gated: bool = True) -> None:
        self._place, self._invented_on = place, False
        self.saved: Saved | None = None
        super().__init__(gated=gated)

    def build(self) -> list[w.Widget]:
        self.day_choice = DayChoice(self._place, self.redraw)
        self.beliefs = {
            key: text_box(label, placeholder="not told", on_change=self.redraw)
            for key, label, _, _ in _BELIEFS
        }
        self.setup = dropdown("What hangs on", list(SETUPS), SETUPS[1], on_change=self._setup)
        self.other = text_box("Its pieces", placeholder="such as pallet forks + ballast")
        self.wheels = WheelBoxes()
        self.remark = text_box("Note", placeholder="such as gusty wind")
        self.write_button = button(
            "Write this weighing down", lambda: self.attempt(self.write_down), primary=True
        )
        self.same = Unchanged(self.day_choice, self.attempt)
        self.fill = button("Fill in the invented readings", lambda: self.attempt(self.invent))
        self.remarks = Remarks(self.day_choice, self.attempt)
        self.head, self.said, self.counts = html(), html("", "lv-say"), html()
        self.out, self.plots = html(), html()
        self.box: w.Widget = w.VBox(
            [
                html(f"<p>{BEFORE_ON}</p><p>{BEFORE_OFF}</p>"),
                row(self.setup, self.other),
                self.wheels.widget,
                self.remark,
                self.write_button,
                self.same.box,
            ]
        )
        show_if(False, self.other)
        left = [
            self.day_choice.widget,
            self.head,
            grid(*self.beliefs.values()),
            *self.gate_parts(),
            self.box,
            self.fill,
            self.said,
            self.counts,
            self.remarks.widget,
        ]
        return [split(left, [self.out, self.plots])]

    # Readings in --------------------------------------------------------------------------

    def write_down(
        self,
        setup: str | None = None,
        front: object = None,
        rear: object = None,
    ) -> Saved:
        """Write what stands in the boxes, or what is told, into the day's file as one weighing.

        front, rear     "1320", or a pair for the left and right wheel.  Raises Refusal
        """
        if setup is not None:
            self.setup.value, self.other.value = ANOTHER, setup
        for axle, reading in zip(AXLES, (front, rear)):
            if reading is not None:
                self.wheels.tell(axle, reading)
        day, setup = self.day, str(self.setup.value)
        self.saved = self.wheels.write(
            day,
            self.other.value if setup == ANOTHER else setup,
            self.remark.value,
            place=self.day_choice.path,
        )
        self.remark.value = ""
        set_if_changed(self.said, escape(self.saved.message))
        self.day_choice.choose(day.machine.name, day.date)
        return self.saved

    def _setup(self, name: str) -> None:
        show_if(name == ANOTHER, self.other)

    def invent(self) -> None:
        """Take the readings of the invented day, which no file ever holds."""
        self._invented_on = True
        self.redraw()

    @property
    def day(self) -> WeighDay:
        """The machine and day shown; of the invented one, the bucket's readings come when asked."""
        return self._read()[0]

    def _read(self) -> tuple[WeighDay, tuple[WeighDay, ...]]:
        """The day shown and every day of its place, from one reading of the files."""
        day, days = self.day_choice.read()
        if day.invented and not self._invented_on:
            day = replace(day, rows=tuple(one for one in day.rows if BUCKET not in one.setup))
        return day, days

    # What comes out -----------------------------------------------------------------------

    @property
    def believed(self) -> Believed:
        """What was believed of the bucket; of the invented one, what its crew believes."""
        return self._believed(self.day)

    def _believed(self, day: WeighDay) -> Believed:
        told: dict[str, float | None] = {}
        for key, label, kind, (low, high) in _BELIEFS:
            text = plain(self.beliefs[key].value)
            told[key] = BELIEVED[key] if day.invented else None
            if text:
                told[key] = read(with_unit(text, kind, self.system), kind, label, low, high)
        return Believed(**told)

    @property
    def result(self) -> DayResults:
        """What came off with the bucket, once every remark of the gate is settled."""
        day, days = self._read()
        return bucket_results(day if day.invented else passed(day, days), self._believed(day))

    @property
    def forecast(self) -> weighing.Forecast | None:
        """What the scales should show with the bucket on, from what is believed of it."""
        day = self.day
        return forecast_of(day, self._believed(day))

    def draw(self) -> None:
        day, days = self._read()
        self.wheels.follow(day)
        if self.moved_to(day.name):
            set_if_changed(self.said, "")
        self.day_choice.seal(self.hidden and not day.invented)
        betting = self.gate is not None and self.gate.state == "open"
        show_if(not betting and not day.invented, self.box)
        show_if(not self.hidden and day.invented and not self._invented_on, self.fill)
        self.same.follow(day)
        for key, _, kind, _ in _BELIEFS:
            invented = show(BELIEVED[key], kind, self.system) if day.invented else "not told"
            self.beliefs[key].placeholder = invented
        stamp = f"<p><b>EXAMPLE.</b> {escape(day.note)}</p>" if day.invented else ""
        set_if_changed(self.head, f"<p>{escape(day.name)}</p>{stamp}")
        set_if_changed(self.counts, self._weighed(day))
        if self.hidden:
            self.remarks.hide()
            self._before(day)
        elif not self.remarks.look(day, days):
            set_if_changed(self.out, f"<p>{WAITS}</p>")
            set_if_changed(self.plots, "")
        elif any(BUCKET in one.pieces for one in day.setups):
            self._after(with_names(day))
        else:
            self._before(day)

    def _weighed(self, day: WeighDay) -> str:
        """What was weighed how often; the readings once the bets are open."""
        rows = []
        for one in day.setups:
            read = [totals_of(getattr(one, axle)) for axle in AXLES]
            shown = [f"{len(kgs)}" for kgs in read]
            if not self.hidden or day.invented:
                shown = [self._readings(kgs) for kgs in read]
            rows.append([escape(one.name), *shown])
        hidden = self.hidden and not day.invented
        head = ["set-up", *(f"{axle} readings{', how many' * hidden}" for axle in AXLES)]
        return html_table(head, rows) if rows else ""

    def _readings(self, kgs: list[float]) -> str:
        return "; ".join(show(kg, "weight", self.system) for kg in kgs) or "not read"

    def _before(self, day: WeighDay) -> None:
        """What to do next, while there is no reading with the bucket on."""
        if self.hidden:
            words = (
                "The readings with the bucket on are kept back. Predict what each scale does when "
                "it goes on, then lock it in. The workbook's own forecast comes with the reveal."
            )
        elif day.invented:
            words = "Now weigh. No machine at hand? Take the invented readings."
        else:
            words = "Now weigh, each set-up twice. An axle or its two wheels, either works."
        believed = self._believed(day)
        guess = None if self.hidden or not day.scales.known else forecast_of(day, believed)
        say = f"<p>{escape(guess.sentence(self.system))}</p>" if guess else ""
        view = self._view(day, believed) if day.invented or not self.hidden else ""
        set_if_changed(self.out, f'<p class="lv-say">{words}</p>{say}{view}')
        set_if_changed(self.plots, "")

    def _after(self, day: WeighDay) -> None:
        """Weight and overhang, the forecast beside the readings, what would help most."""
        believed = self._believed(day)
        found = bucket_results(day, believed)
        words = result_html(found, believed, self.predictions, self.system)
        set_if_changed(self.out, words + self._view(day, believed))
        charts = span_charts(found, believed, self.system)
        set_if_changed(
            self.plots,
            "".join(
                picture(
                    span_chart(*chart),
                    key=self.key + name,
                    large=self.large,
                    views=span_views(len(chart[2])),
                )
                for name, chart in charts.items()
            ),
        )

    def _view(self, day: WeighDay, believed: Believed) -> str:
        """The machine from above between its readings; bets are shown once they are opened."""
        bets = {} if self.hidden else self.predictions
        return day_picture(day, believed, bets, self.system, key=f"{self.key}m", large=self.large)


def weigh_day(place: Path | str = FOLDER, *, gated: bool = True) -> WeighDayPanel:
    """The weigh-day panel: bets, readings, result; gated False shows it from the start.

    In code: panel.gate.lock_in(front="up 190 kg", rear="down 80 kg"), panel.gate.reveal(),
    panel.write_down("loader frame + bucket", "1019", ("350", "350")), panel.result.
    """
    return WeighDayPanel(place, gated=gated)
