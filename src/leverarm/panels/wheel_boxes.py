"""Boxes for the readings of one set-up, laid out as the wheels stand under a tractor facing left.

The front axle is the left column, the rear axle the right one, and the machine, seen from above,
stands between them.  Each column has a box for its right wheel above, its left
wheel below, and one between them for the axle as a whole; an axle or its two wheels, either works.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import ipywidgets as w

from leverarm.panels.base import html, set_if_changed
from leverarm.panels.controls import choice, text_box
from leverarm.quantities import Refusal
from leverarm.stage.controls import entry
from leverarm.stage.elements import as_text
from leverarm.stage.weighed_day import machine_only
from leverarm.weighing.day import WeighDay
from leverarm.weighing.day_file import Saved, add_rows
from leverarm.weighing.readings import SIDES, pieces, weighing
from leverarm.weighing.scales import AXLES


class WheelBoxes:
    """Six boxes of one set-up.

    boxes       "front", "front left", "front right", "rear", "rear left", "rear right" -> text box
    unit        what the scales show; it follows the day's, and can be chosen
    """

    def __init__(self) -> None:
        self._last, self._followed = "", ("", "")
        self.unit = choice("Scales show:", [("lb", "lb"), ("kg", "kg")], "lb")
        self.boxes = {
            name: text_box(f"{name.capitalize()}{what}", placeholder="not read")
            for axle in AXLES
            for name, what in ((axle, " axle"), *((f"{axle} {side}", " wheel") for side in SIDES))
        }
        columns = [
            w.VBox([self.boxes[f"{axle} right"], self.boxes[axle], self.boxes[f"{axle} left"]])
            for axle in AXLES
        ]
        self.machine = html("", "lv-between")
        stand = w.Box([columns[0], self.machine, columns[1]])
        stand.add_class("lv-wheels")
        self.widget: w.Widget = w.VBox([stand, self.unit])

    def follow(self, day: WeighDay) -> None:
        """Take the unit of a machine and day, when another one is shown, and draw the machine."""
        name, told = entry("weighed_day").text("pads").format(machine=day.machine.name), day.machine
        drawn = machine_only(told.wheelbase_m, told.track_m, name)
        set_if_changed(self.machine, as_text(drawn))
        if self._followed != (day.name, day.system):
            self._followed = (day.name, day.system)
            set_if_changed(self.unit, day.system)

    def of(self, axle: str) -> str | tuple[str, str]:
        """What stands in the boxes of an axle: one text, or (left, right)."""
        whole = self.boxes[axle].value.strip()
        left, right = (self.boxes[f"{axle} {side}"].value.strip() for side in SIDES)
        if not left and not right:
            return whole
        if whole:
            raise Refusal(
                f"{axle} axle",
                f"{whole}, and its wheels too",
                "the axle as a whole, or its left and right wheel",
                "leave one of them empty",
            )
        return left, right

    @property
    def empty(self) -> bool:
        """True where nothing is typed."""
        return not any(box.value.strip() for box in self.boxes.values())

    def tell(self, axle: str, reading: object) -> None:
        """Type a reading in code: "1019", or a pair ("432", "428") for left and right."""
        whole: object = reading
        pair: Sequence[object] = ("", "")
        if isinstance(reading, (list, tuple)):
            whole, pair = "", reading
        self.boxes[axle].value = str(whole)
        for side, text in zip(SIDES, pair):
            self.boxes[f"{axle} {side}"].value = str(text)

    def clear(self) -> None:
        """Empty every box."""
        for box in self.boxes.values():
            box.value = ""

    def write(self, day: WeighDay, setup: str, note: str = "", *, place: Path | str) -> Saved:
        """Write what stands in the boxes into a day's file as one weighing, and empty them.

        Raises Refusal, changing nothing; so does a second press with nothing new typed.
        """
        if day.invented:
            raise Refusal(
                "machine",
                "only the invented one",
                "a machine that was weighed",
                "tell the machine and its scales first, and keep it",
            )
        if self.empty and self._last:
            raise Refusal(
                "readings", "nothing new", "a new reading", f"{self._last}; type the next one"
            )
        hung = pieces(setup)
        front, rear = map(self.of, AXLES)
        made = weighing(
            hung, front, rear, str(self.unit.value), day.next_repeat(hung), note, day.scales.step_kg
        )
        saved = add_rows(day, made, folder=place)
        self._last = (
            f"{made.setup_name}, repeat {made.repeat}, is already written "
            f"as row {len(day.rows) + 1}"
        )
        self.clear()
        said = f"{made.setup_name}, repeat {made.repeat}: {saved.message}"
        return replace(saved, message=said)
