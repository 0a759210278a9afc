"""The trainer's hour: bets against readings, readings in, the page to hand over."""

from datetime import date as Date
from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm import decision, weighing
from leverarm.machine import DEMO_NOTE
from leverarm.panels.base import Panel, button, html, row, set_if_changed, table
from leverarm.panels.controls import choice, text_box
from leverarm.panels.gate import Gated, Question, with_unit
from leverarm.panels.record_choice import RECORD, RecordChoice
from leverarm.quantities import Refusal, read, show
from leverarm.uncertainty import plus_minus

STATES = (
    ("loader with empty bucket, low", "loader frame + bucket"),
    ("bucket off, if the manual allows", "loader frame"),
    ("loader off", "bare"),
    ("loader off, rear ballast on", "ballast"),
)


class Bets(Gated):
    """Three bets before anything is weighed; the readings stay back until they stand.

    case        the Case the record makes
    """

    questions = (
        Question("machine", "Whole machine, bucket off"),
        Question("front", "Front scale, bucket off"),
        Question("rear", "Rear scale, bucket off"),
    )
    why = (
        "The scales together lose what the bucket weighs. The front loses more, because the "
        "bucket hung ahead of it; the rear gets back the difference."
    )

    def __init__(self, record=RECORD) -> None:
        self._record = record
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.out = html()
        self.again = button("Read the record again", self.redraw)
        self.record_choice = RecordChoice(self._record, self.redraw)
        return [*self.gate_parts(), row(self.again), self.record_choice.widget, self.out]

    @property
    def case(self):
        """The Case of the record."""
        return self.record_choice.case()

    @property
    def changes(self):
        """What taking the bucket off does: machine, front, rear, Measured."""
        return self._changes(self.case)

    def _changes(self, case):
        if case.bucket is None:
            raise Refusal(
                "record",
                "no bucket that came off by itself",
                "readings with the bucket on and off",
                "weigh both states",
            )
        on, off = decision.states(case)[:2]
        return {
            "machine": off.total - on.total,
            "front": off.front - on.front,
            "rear": off.rear - on.rear,
        }

    def draw(self) -> None:
        if self.hidden:
            set_if_changed(
                self.out,
                '<p class="lv-say">Nothing is shown yet. The bucket comes off. Bet a direction '
                "and a number for each line, then lock it in.</p>",
            )
            return
        day = self.record_choice.day
        changes = self._changes(decision.case_of_day(day, scales=self.record_choice.scales))
        rows = [
            [
                name,
                show(self.predictions[key], "weight", self.system, sign=True),
                _signed(changes[key], self.system),
                show(
                    self.predictions[key] - changes[key].value,
                    "weight",
                    self.system,
                    sign=True,
                ),
            ]
            for key, name in (
                ("machine", "machine"),
                ("front", "front scale"),
                ("rear", "rear scale"),
            )
        ]
        set_if_changed(
            self.out,
            table(["bucket off", "your bet", "weighed (95 %)", "bet minus weighed"], rows)
            + (
                f"<p>{escape(DEMO_NOTE)} These are invented readings: no record is there yet.</p>"
                if day.invented
                else ""
            ),
        )


def _signed(number, system):
    text = plus_minus(number, "weight", system, brief=True)
    return text if number.value < 0 else f"+{text}"


class ReadingsIn(Panel):
    """One weighing after another into the record: state, front, rear, unit.

    state       what hangs on;  put_in(front="1019", rear="700")   write one down;  saved  the last
                weighing.Saved
    """

    def __init__(self, record=RECORD) -> None:
        self._record = Path(record)
        self.saved: weighing.Saved | None = None
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.machine, self.wheelbase = (
            text_box("Machine"),
            text_box("Wheelbase", placeholder="such as 1.65 m or 65 in"),
        )
        self._as_before()
        self.hung = choice("State:", list(STATES), STATES[0][1])
        self.front, self.rear = text_box("Front scale"), text_box("Rear scale")
        self.unit = choice("Scales show:", [("kg", "kg"), ("lb", "lb")], self.system)
        self.put_button = button(
            "Write this weighing down", lambda: self.attempt(self.put_in), primary=True
        )
        self.said, self.out = html("", "lv-say"), html()
        return [
            row(self.machine, self.wheelbase),
            self.hung,
            row(self.front, self.rear, self.unit),
            self.put_button,
            self.said,
            self.out,
        ]

    def _as_before(self):
        """Machine and wheelbase of the record's last row; empty where it holds none."""
        rows = self.record.rows
        if rows:
            self.machine.value = rows[-1].machine
            self.wheelbase.value = show(rows[-1].wheelbase_m, "length", decimals=3)

    @property
    def record(self):
        """What the record holds."""
        return weighing.read_record(self._record)

    def put_in(self, front=None, rear=None, state=None):
        """Add what stands in the boxes, or what is told, as one weighing.

        Raises Refusal, changing nothing.
        """
        for box, text in ((self.front, front), (self.rear, rear)):
            box.value = box.value if text is None else str(text)
        self.hung.value = state or self.hung.value
        known = self.record.rows
        wheelbase = read(
            with_unit(self.wheelbase.value.strip(), "length", self.system),
            "length",
            "wheelbase",
            0.5,
            5,
        )
        made = weighing.record_row(
            self.machine.value,
            wheelbase,
            self.hung.value,
            self.front.value,
            self.rear.value,
            self.unit.value,
            weighing.next_repeat(known, self.machine.value, self.hung.value),
        )
        self.saved = weighing.append_rows(self._record, made)
        self.front.value = self.rear.value = ""
        set_if_changed(self.said, escape(self.saved.message))
        self.redraw()

    def draw(self) -> None:
        today, machine = Date.today().isoformat(), self.machine.value.strip().casefold()
        rows = [
            one
            for one in self.record.current
            if one.date == today and one.machine.casefold() == machine
        ]
        done = {state: sum(one.state == state for one in rows) for _, state in STATES}
        lines = [
            [
                escape(name),
                f"{done[state]} of 2",
                escape(
                    "; ".join(
                        f"{one.front:g} / {one.rear:g} {one.unit}"
                        for one in rows
                        if one.state == state and None not in (one.front, one.rear)
                    )
                ),
            ]
            for name, state in STATES
        ]
        set_if_changed(self.out, table(["state", "weighed", "front / rear"], lines))


class HandOver(Panel):
    """The page to hand over: what to write on it, and where it goes.

    about       what was typed, name -> text;  write(folder=".") -> paths
    """

    FIELDS = (
        ("company", "From (company)"),
        ("machine", "Machine"),
        ("date", "Weighed on"),
        ("fuel", "Fuel"),
        ("operator", "Driver on the seat"),
    )

    def __init__(self, make, record=RECORD, case=None) -> None:
        self._make, self._record, self._case = make, record, case
        self.paths: tuple[Path, ...] = ()
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.fields = {
            key: text_box(label, placeholder="left blank if empty") for key, label in self.FIELDS
        }
        self.paper = choice("Paper:", [("A4", "A4"), ("Letter", "Letter")], "A4")
        self.record_choice = RecordChoice(self._record, self.redraw)
        self.write_button = button(
            "Write the page (PDF and HTML)", lambda: self.attempt(self.write), primary=True
        )
        self.said = html("", "lv-say")
        of_record = [] if self._case else [self.record_choice.widget]
        return [row(*self.fields.values()), *of_record, self.paper, self.write_button, self.said]

    @property
    def about(self):
        """What was typed: name -> text."""
        return {key: box.value.strip() for key, box in self.fields.items() if box.value.strip()}

    def write(self, folder="."):
        """Write the page as PDF and as HTML into a folder; returns both paths."""
        case, note, about = self._case, "", self.about
        if case is None:
            day = self.record_choice.day
            case = decision.case_of_day(day, scales=self.record_choice.scales)
            note, about = day.note, self._about_of(day)
        paths = [Path(folder) / f"customer_page.{end}" for end in ("pdf", "html")]
        self.paths = tuple(
            self._make(case, path, paper=self.paper.value, system=self.system, note=note, **about)
            for path in paths
        )
        set_if_changed(
            self.said,
            "Written: "
            + ", ".join(escape(path.name) for path in self.paths)
            + ". Look at it before you hand it over.",
        )
        return self.paths

    def _about_of(self, day):
        """What stands on a page made from a record: the day it was weighed, unless another was
        typed.
        """
        about = self.about
        if not day.invented:
            return {"date": day.date, **about}
        for key in ("company", "machine"):
            if key in about:
                raise Refusal(
                    dict(self.FIELDS)[key],
                    about[key],
                    "nothing while the record holds no readings, "
                    "since the page would show the demo machine's",
                    "write the readings down first",
                )
        return about

    def draw(self) -> None:
        """Offer the machines and days that the record holds."""
        if self._case is None:
            self.record_choice.look()


def bets(record=RECORD):
    """Bets before the weighing, against what the record says after.

    In code: .gate.lock_in(machine="down 110 kg", ...), .gate.reveal().
    """
    return Bets(record)


def readings_in(record=RECORD):
    """The four states into a record.

    In code: .put_in(front="1019", rear="700", state="loader frame + bucket").
    """
    return ReadingsIn(record)


def hand_over(make, record=RECORD, *, case=None):
    """The page to hand over; make is handouts.customer_page.

    In code: .fields["company"].value = "...", .write(folder).
    """
    return HandOver(make, record, case)
