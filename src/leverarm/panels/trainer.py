"""The trainer's hour: bets against readings, readings in, the page to hand over."""

from collections.abc import Callable
from contextlib import suppress
from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm import decision
from leverarm.machine import DEMO_NOTE
from leverarm.panels.base import Panel, button, grid, html, html_table, row, set_if_changed
from leverarm.panels.controls import choice, dropdown, text_box
from leverarm.panels.day_choice import FOLDER, DayChoice, offer_pieces
from leverarm.panels.gate import Gated, asked_first, with_unit
from leverarm.panels.remarks import Remarks, Unchanged
from leverarm.panels.wheel_boxes import WheelBoxes
from leverarm.quantities import Refusal, show
from leverarm.uncertainty import Measured, plus_minus
from leverarm.weighing.day import WeighDay
from leverarm.weighing.day_file import Saved
from leverarm.weighing.gate import with_names
from leverarm.weighing.readings import pieces
from leverarm.weighing.scales import AXLES

SETUPS = (
    ("loader with empty bucket, low", "loader frame + bucket"),
    ("bucket off, if the manual allows", "loader frame"),
    ("loader off", "bare"),
    ("loader off, rear ballast on", "ballast"),
)


ASKS = (
    "Nothing is shown yet. The bucket comes off. Bet a direction and a number for each line, then "
    "lock it in."
)
WEIGH = "The bets stand, and nothing is shown yet. Weigh first, then open them here."
BETS_WAIT = "The bets wait until each remark is settled."


class Bets(Gated):
    """Three bets before anything is weighed; until they are opened, every panel of the place
    keeps the readings back.

    case        the Case the record makes
    """

    questions, why = asked_first("bets", "machine", "front", "rear")

    def __init__(self, record: Path | str = FOLDER) -> None:
        self._record = record
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.out = html()
        self.again = button("Read the record again", self.redraw)
        self.day_choice = DayChoice(self._record, self.redraw)
        self.remarks = Remarks(self.day_choice, self.attempt)
        return [
            *self.gate_parts(),
            row(self.again),
            self.day_choice.widget,
            self.remarks.widget,
            self.out,
        ]

    @property
    def case(self) -> decision.Case:
        """The Case of the record."""
        return self.day_choice.case()

    @property
    def changes(self) -> dict[str, Measured]:
        """What taking the bucket off does: machine, front, rear, Measured."""
        return self._changes(self.case)

    def _changes(self, case: decision.Case) -> dict[str, Measured]:
        if case.bucket is None:
            raise Refusal(
                "record",
                "no bucket that came off by itself",
                "readings with the bucket on and off",
                "weigh both set-ups",
            )
        on, off = decision.setups(case)[:2]
        return {
            "machine": off.total - on.total,
            "front": off.front - on.front,
            "rear": off.rear - on.rear,
        }

    def withdraw(self) -> None:
        set_if_changed(self.out, "")

    def draw(self) -> None:
        day, days = self.day_choice.read()
        self.moved_to(day.name)
        self.day_choice.seal(self.hidden and not day.invented)
        if self.hidden:
            self.remarks.hide()
            betting = self.gate is not None and self.gate.state == "open"
            set_if_changed(self.out, f'<p class="lv-say">{ASKS if betting else WEIGH}</p>')
            return
        if not self.remarks.look(day, days):
            set_if_changed(self.out, f"<p>{BETS_WAIT}</p>")
            return
        changes = self._changes(decision.case_of_day(with_names(day)))
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
            html_table(["bucket off", "your bet", "weighed (95 %)", "bet minus weighed"], rows)
            + (
                f"<p>{escape(DEMO_NOTE)} These are invented readings: no record is there yet.</p>"
                if day.invented
                else ""
            ),
        )


def _signed(number: Measured, system: str) -> str:
    text = plus_minus(number, "weight", system, brief=True)
    return text if number.value < 0 else f"+{text}"


class ReadingsIn(Panel):
    """One weighing after another into the file of a machine and day: set-up and readings.

    put_in(front="1019", rear=("432", "428"), setup="bare")     write one down
    saved  the last Saved
    """

    def __init__(self, record: Path | str = FOLDER) -> None:
        self._record = record
        self.saved: Saved | None = None
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.day_choice = DayChoice(self._record, self.redraw)
        self.hung = choice("Set-up:", list(SETUPS), SETUPS[0][1])
        self.wheels = WheelBoxes()
        self.put_button = button(
            "Write this weighing down", lambda: self.attempt(self.put_in), primary=True
        )
        self.same = Unchanged(self.day_choice, self.attempt)
        self.head, self.said, self.out = html(), html("", "lv-say"), html()
        return [
            self.day_choice.widget,
            self.head,
            self.hung,
            self.wheels.widget,
            self.put_button,
            self.same.box,
            self.said,
            self.out,
        ]

    @property
    def day(self) -> WeighDay:
        """The machine and day that the readings are written to, settled or not: a day with an
        open remark takes more readings.
        """
        return self.day_choice.unchecked

    def put_in(self, front: object = None, rear: object = None, setup: str = "") -> None:
        """Add what stands in the boxes, or what is told, as one weighing.

        Raises Refusal, changing nothing.
        """
        for axle, typed in zip(AXLES, (front, rear)):
            if typed is not None:
                self.wheels.tell(axle, typed)
        self.hung.value = setup or self.hung.value
        day, place = self.day, self.day_choice.path
        self.saved = self.wheels.write(day, str(self.hung.value), place=place)
        set_if_changed(self.said, escape(self.saved.message))
        self.day_choice.choose(day.machine.name, day.date)

    def draw(self) -> None:
        """How often each set-up was weighed; no reading is shown before bets are opened."""
        day = self.day
        self.wheels.follow(day)
        self.same.follow(day)
        first = "Tell the machine and its scales first." if day.invented else day.name
        set_if_changed(self.head, f"<p>{escape(first)}</p>")
        rows = () if day.invented else day.current
        lines = [
            [escape(name), f"{sum(one.setup == pieces(setup) for one in rows)} of 2"]
            for name, setup in SETUPS
        ]
        set_if_changed(self.out, html_table(["set-up", "weighed"], lines))


class HandOver(Panel):
    """The page to hand over: what to write on it, and where it goes.

    about       what was typed, name -> text;  write(folder=".") -> path
    """

    FIELDS = (
        ("dealer", "Dealer"),
        ("address", "Address line"),
        ("customer", "Customer"),
        ("model", "Model"),
        ("serial", "Serial number"),
        ("hours", "Hours"),
        ("mower", "Mower, on both times"),
        ("fuel", "Fuel"),
        ("weighed_by", "Weighed by"),
    )
    # Key, label, kind, an example by unit system: one of the two is told where the rear was not
    # read.
    TOLD = (
        (
            "weight",
            "What it weighs, if the rear was not read",
            "weight",
            {"lb": "250 lb", "kg": "110 kg"},
        ),
        ("weight_error", "± of that weight, at most", "weight", {"lb": "5 lb", "kg": "2 kg"}),
        ("ahead", "Or its overhang by tape", "length", {"lb": "45 in", "kg": "1.15 m"}),
        ("ahead_error", "± of that overhang, at most", "length", {"lb": "1 in", "kg": "2 cm"}),
    )

    def __init__(self, make: Callable[..., Path], record: Path | str = FOLDER) -> None:
        self._make, self._record = make, record
        self._shown: tuple[object, ...] = ()
        self.path: Path | None = None
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.fields = {
            key: text_box(label, placeholder="left blank if empty") for key, label in self.FIELDS
        }
        self.logo = text_box("Logo file", placeholder="such as logo.png, or empty")
        self.piece = dropdown("What came off", [("the bucket", "bucket")])
        self.told = {key: text_box(label) for key, label, *_ in self.TOLD}
        self.day_choice = DayChoice(self._record, self.redraw)
        self.write_button = button("Write the page", lambda: self.attempt(self.write), primary=True)
        self.said = html("", "lv-say")
        return [
            self.day_choice.widget,
            self.piece,
            grid(*self.told.values(), *self.fields.values(), self.logo),
            self.write_button,
            self.said,
        ]

    @property
    def about(self) -> dict[str, str]:
        """What was typed: name -> text."""
        return {key: box.value.strip() for key, box in self.fields.items() if box.value.strip()}

    def write(self, folder: Path | str = ".") -> Path:
        """Write the page into a folder, named by machine and day; returns its path."""
        day = self.day_choice.opened()
        stem = "example" if day.invented else day.file_name.removesuffix(".csv")
        self.path = self._make(
            day,
            Path(folder) / f"customer_page_{stem}.html",
            piece=self.piece.value,
            **self._told(),
            system=self.system,
            logo=self.logo.value.strip() or None,
            **self.about,
        )
        set_if_changed(
            self.said,
            f"Written: {escape(self.path.name)}. Open it in a browser, look at it, and print it "
            "from there.",
        )
        return self.path

    def _told(self) -> dict[str, str]:
        """What was told beside front readings, each with a unit; nothing of what is empty."""
        return {
            key: with_unit(text, kind, self.system)
            for key, _, kind, _ in self.TOLD
            if (text := self.told[key].value.strip())
        }

    def draw(self) -> None:
        """Offer machines and days, and what came off the front axle there; what was written is of
        the one chosen.
        """
        self.day_choice.look()
        for key, _, _, examples in self.TOLD:
            self.told[key].placeholder = f"such as {examples[self.system]}"
        with suppress(Refusal):  # said where the page is written
            offer_pieces(self.piece, self.day_choice.unchecked, off_the_front=True)
        chosen = self.day_choice.machines.value, self.day_choice.days.value
        if chosen != self._shown:
            self._shown = chosen
            set_if_changed(self.said, "")


def bets(record: Path | str = FOLDER) -> Bets:
    """Bets before the weighing, against what the record says after.

    In code: .gate.lock_in(machine="down 110 kg", ...), .gate.reveal().
    """
    return Bets(record)


def readings_in(record: Path | str = FOLDER) -> ReadingsIn:
    """The four set-ups into a record.

    In code: .put_in(front="1019", rear="700", setup="loader frame + bucket").
    """
    return ReadingsIn(record)


def hand_over(make: Callable[..., Path], record: Path | str = FOLDER) -> HandOver:
    """The page to hand over; make is handouts.customer_page.

    In code: .fields["dealer"].value = "...", .write(folder).
    """
    return HandOver(make, record)
