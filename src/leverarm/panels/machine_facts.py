"""The machine and its scales, told once: what a weigh day begins with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from html import escape
from typing import Any

import ipywidgets as w

from leverarm.numerals import plain
from leverarm.panels.base import Panel, button, grid, html, row, set_if_changed, show_if
from leverarm.panels.controls import choice, dropdown, text_box
from leverarm.panels.day_choice import FOLDER, DayChoice
from leverarm.panels.gate import with_unit
from leverarm.quantities import AsTyped, Refusal, show, to_unit, unit_of
from leverarm.weighing.day import WeighDay, begun
from leverarm.weighing.day_file import Saved, days_of, machines_of, save_header
from leverarm.weighing.facts import (
    GROUNDS,
    PADS,
    PLACINGS,
    Machine,
    ScaleFacts,
    Tire,
    machine,
    scale_facts,
    tire,
)
from leverarm.weighing.results import TAPE_M

_NOT_TOLD = ("not told", "")
HEIGHTS = ("bare", "loader frame", "bucket", "ballast", "mower")

# Key, label, kind of quantity ("" for words).
_MACHINE = (
    ("name", "Name of the machine", ""),
    ("wheelbase", "Wheelbase", "length"),
    ("wheelbase_error", "Tape good to ±", "length"),
)
_SCALES = (
    ("step", "Smallest step of the scales", "weight"),
    ("accuracy", "Accuracy, ± percent", "share"),
    ("limit", "Or ± on the certificate", "weight"),
    ("pad_height", "Height of a pad", "length"),
    ("off_level", "Yard off level by up to", "angle"),
)
_MORE = (
    ("model", "Model", ""),
    ("serial", "Serial number", ""),
    ("hours", "Hours", ""),
    ("mower", "Mower", ""),
    ("rear_share", "Least on the rear axle, percent", "share"),
    *(
        (f"{axle}_{key}", f"{axle.capitalize()} {label}", kind)
        for axle in ("front", "rear")
        for key, label, kind in (
            ("tires", "tires, size", ""),
            ("pressure", "tire pressure", "pressure"),
            ("patch_length", "contact patch, length", "length"),
            ("patch_width", "contact patch, width", "length"),
            ("patch_shape", "contact patch, shape: rectangle 1, ellipse 0.785", "number"),
            ("patch_load", "contact patch, load on that tire", "weight"),
            ("rating", "axle rating, from the manual", "weight"),
            ("turns", "wheel turns, front drive out", "number"),
            ("track", "track", "length"),
        )
    ),
    ("turns_driven", "Front wheel turns, front drive in", "number"),
    *(
        (f"height_{piece}", f"Height of the {piece.replace('bare', 'bare tractor')}", "length")
        for piece in HEIGHTS
    ),
)
_KINDS = {key: kind for key, _, kind in (*_MACHINE, *_SCALES, *_MORE)}
# What stands in an empty box, in the unit that a bare number there is taken in.
_EXAMPLES = {
    "name": ("what you call it", "what you call it"),
    "wheelbase": ("such as 65 in", "such as 1.65 m"),
    "wheelbase_error": ("such as 1/8 in", "such as 3 mm"),
    "step": ("such as 2 lb", "such as 1 kg"),
    "accuracy": ("such as 0.5 %", "such as 0.5 %"),
    "limit": ("such as 2 lb", "such as 1 kg"),
    "pad_height": ("such as 2 in", "such as 5 cm"),
    "off_level": ("such as 1 deg", "such as 1 deg"),
    "rear_share": ("from the manual", "from the manual"),
}
_CHOICES = (
    ("pads", "Pads", [(str(count), str(count)) for count in PADS]),
    (
        "placed",
        "The scales",
        [("move from axle to axle", PLACINGS[0]), ("stand under every wheel", PLACINGS[1])],
    ),
    (
        "ground",
        "They stand",
        [(GROUNDS[0], GROUNDS[0]), ("let into the ground", GROUNDS[1])],
    ),
)
_NEEDED_FOR = {
    "wheelbase_error": (
        f"the ± of the overhang takes a tape good to {show(TAPE_M, 'length', decimals=3)}"
    ),
    "step": "no ± can be given without the scales' step or accuracy",
    "placed": "one set of scales moved from axle to axle is assumed",
}


class MachineFacts(Panel):
    """A machine made once, its scales, and the day: every weighing belongs to one of each.

    day         the WeighDay as told;  saved  the last weighing.day_file.Saved
    tell(name="Orchard tractor", wheelbase="65 in", step="2 lb", ...)    fill the boxes in code
    keep()      begin the day's file, or write what was told into it; its readings stay
    """

    def __init__(self, place: str = FOLDER) -> None:
        self._place = place
        self._filled: dict[str, tuple[str, Any]] = {}
        self._filling = False
        self._followed = ""
        self.saved: Saved | None = None
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.day_choice = DayChoice(self._place, self._chosen, demo=False)
        self.boxes = {key: text_box(label) for key, label, _ in (*_MACHINE, *_SCALES, *_MORE)}
        self.boxes["name"].observe(self._named, "value")
        self.date = text_box("Day", placeholder="today if left empty")
        self.choices = {
            key: dropdown(label, [_NOT_TOLD, *options]) for key, label, options in _CHOICES
        }
        self.unit = choice(
            "Scales show:", [("lb", "lb"), ("kg", "kg")], self.system, on_change=self._examples
        )
        self._examples(self.system)
        self.more_button = button("More about the machine", self._more)
        self.keep_button = button(
            "Keep this machine and day", lambda: self.attempt(self.keep), primary=True
        )
        self._more_boxes = grid(*(self.boxes[key] for key, *_ in _MORE))
        show_if(False, self._more_boxes)
        self.said, self.out = html("", "lv-say"), html()
        return [
            self.day_choice.widget,
            grid(*(self.boxes[key] for key, *_ in _MACHINE), self.date),
            grid(*(self.boxes[key] for key, *_ in _SCALES), *self.choices.values()),
            self.unit,
            self.more_button,
            self._more_boxes,
            row(self.keep_button),
            self.said,
            self.out,
        ]

    def tell(self, **told: str) -> MachineFacts:
        """Fill boxes by name; raises Refusal for a name that no box has."""
        known = [*self.boxes, *self.choices, "date", "unit"]
        for key in told:
            if key not in known:
                raise Refusal("box", key, ", ".join(known), "use one of these names")
        for key in sorted(told, key=known.index):
            control = self.boxes.get(key) or self.choices.get(key) or getattr(self, key)
            control.value = str(told[key])
        return self

    @property
    def day(self) -> WeighDay:
        """The WeighDay that the boxes tell, with the rows it has; raises Refusal."""
        told = self._machine()
        made = begun(days_of(self.day_choice.files), told, self.date.value or None)
        told = replace(told, heights_m={**_without_box(made.machine.heights_m), **told.heights_m})
        return replace(made, machine=told, scales=self._scales(), system=str(self.unit.value))

    def keep(self) -> Saved:
        """Write what was told into the file of this machine and day."""
        day = self.day
        self.saved = save_header(day, self.day_choice.path)
        self.day_choice.choose(day.machine.name, day.date)
        missing = [why for key, why in _NEEDED_FOR.items() if not self._text(key)]
        set_if_changed(
            self.said,
            f"{escape(day.name)} is kept in {escape(self.saved.path.name)}."
            + "".join(f"<br>Not told, so {why}." for why in missing),
        )
        return self.saved

    def _text(self, key: str) -> str:
        control = self.boxes.get(key) or self.choices[key]
        return plain(str(control.value))

    def _told(self, key: str) -> Any:
        """What a box tells, for the makers of facts: None where it is empty.

        A value that was filled in from a file and left as it is keeps all its digits.
        """
        text = self._text(key)
        if key in self._filled and self._filled[key][0] == text:
            return self._filled[key][1]
        kind = _KINDS.get(key, "")
        if not text or not kind or kind == "number":
            return text or ("" if not kind else None)
        return with_unit(text, kind, str(self.unit.value))

    def _machine(self) -> Machine:
        pairs = {
            key: [self._told(f"{axle}_{key}") for axle in ("front", "rear")]
            for key in ("track", "turns")
        }
        heights = {piece: self._told(f"height_{piece}") for piece in HEIGHTS}
        return machine(
            self._told("name"),
            self._told("wheelbase") or "nothing",
            wheelbase_error=self._told("wheelbase_error"),
            track=pairs["track"],
            front_tires=self._tire("front"),
            rear_tires=self._tire("rear"),
            turns=pairs["turns"],
            turns_driven=self._told("turns_driven"),
            mower=self._told("mower"),
            heights={piece: height for piece, height in heights.items() if height is not None},
            rear_share_least=self._told("rear_share"),
            ratings={axle: self._told(f"{axle}_rating") for axle in ("front", "rear")},
            model=self._told("model"),
            serial=self._told("serial"),
            hours=self._told("hours"),
        )

    def _tire(self, axle: str) -> Tire | None:
        patch = [self._told(f"{axle}_patch_{side}") for side in ("length", "width")]
        return tire(
            self._told(f"{axle}_tires"),
            self._told(f"{axle}_pressure"),
            patch,
            axle,
            self._told(f"{axle}_patch_shape"),
            self._told(f"{axle}_patch_load"),
        )

    def _scales(self) -> ScaleFacts:
        return scale_facts(
            **{key: self._told(key) for key, *_ in _SCALES},
            **{key: control.value for key, control in self.choices.items()},
        )

    def _more(self) -> None:
        """Show the rest of the boxes, or hide them."""
        show_if(self._more_boxes.layout.display == "none", self._more_boxes)

    def _examples(self, system: str) -> None:
        """Say in empty boxes what may stand there, in the unit of the scales."""
        for key, (in_lb, in_kg) in _EXAMPLES.items():
            self.boxes[key].placeholder = in_lb if system == "lb" else in_kg

    def _chosen(self) -> None:
        """Fill the boxes from the machine and day that was chosen."""
        set_if_changed(self.said, "")
        self.attempt(lambda: self._fill(self.day_choice.unchecked, with_date=True))

    def _named(self, change: Mapping[str, Any]) -> None:
        """A known name brings what was told of that machine; another name takes it away."""
        if self._filling:
            return
        known = {day.machine.key: day for day in machines_of(days_of(self.day_choice.files))}
        key = " ".join(str(change["new"]).split()).casefold()
        if key in known:
            self._fill(known[key])
        elif self._filled:
            self._clear([key for key, *_ in (*_MACHINE[1:], *_MORE)])

    def _clear(self, keys: list[str]) -> None:
        for key in keys:
            self._filled.pop(key, None)
            self.boxes[key].value = ""

    def _fill(self, day: WeighDay, *, with_date: bool = False) -> None:
        self._filling = True
        self.unit.value = day.system
        values = facts_by_box(day)
        for key, value in values.items():
            if key in self.choices:
                self.choices[key].value = "" if value is None else str(value)
                continue
            text = value or "" if isinstance(value, str) or value is None else ""
            if isinstance(value, AsTyped):
                text = value.text
            elif isinstance(value, float):
                unit = unit_of(_KINDS[key], day.system)
                text = f"{to_unit(value, _KINDS[key], unit):.6g} {unit}".strip()
            self._filled[key] = (plain(text), value)
            set_if_changed(self.boxes[key], text)
        self.date.value = day.date if with_date else self.date.value
        self._filling = False

    def draw(self) -> None:
        """List the machines that are known; the unit follows the session's where that changes."""
        if self.system != self._followed:
            self._followed = self.system
            set_if_changed(self.unit, self.system)
        known = machines_of(days_of(self.day_choice.files))
        lines = [f"{escape(day.machine.name)}, last weighed {day.date}" for day in known]
        set_if_changed(
            self.out,
            f"<p>Known machines: {'; '.join(lines)}. Type a name to take over what was told.</p>"
            if lines
            else "",
        )


def _without_box(heights: Mapping[str, float]) -> dict[str, float]:
    """Heights of pieces that this panel has no box for."""
    return {piece: height for piece, height in heights.items() if piece not in HEIGHTS}


def facts_by_box(day: WeighDay) -> dict[str, Any]:
    """What was told of a day's machine and scales, by the name of its box."""
    told, scales = day.machine, day.scales
    track, turns = told.track_m or (None, None), told.turns or (None, None)
    values: dict[str, Any] = {
        "name": told.name,
        "wheelbase": told.wheelbase_m,
        "wheelbase_error": told.u_wheelbase_m,
        "model": told.model,
        "serial": told.serial,
        "hours": told.hours,
        "mower": told.mower,
        "rear_share": told.rear_share_least,
        "turns_driven": told.turns_driven,
        "step": scales.step_kg,
        "accuracy": scales.accuracy_percent,
        "limit": scales.limit_kg,
        "pad_height": scales.pad_height_m,
        "off_level": scales.off_level_deg,
        "pads": scales.pads,
        "placed": scales.placed,
        "ground": scales.ground,
    }
    for i, (axle, fitted) in enumerate((("front", told.front_tires), ("rear", told.rear_tires))):
        one = fitted or Tire()
        length, width = one.patch_m or (None, None)
        values |= {
            f"{axle}_tires": one.size,
            f"{axle}_pressure": one.pressure_kpa,
            f"{axle}_patch_length": length,
            f"{axle}_patch_width": width,
            f"{axle}_patch_shape": one.patch_shape,
            f"{axle}_patch_load": one.patch_load_kg,
            f"{axle}_rating": told.ratings_kg.get(axle),
            f"{axle}_turns": turns[i],
            f"{axle}_track": track[i],
        }
    return values | {f"height_{piece}": told.heights_m.get(piece) for piece in HEIGHTS}


def machine_and_scales(place: str = FOLDER) -> MachineFacts:
    """The machine, its scales and the day: what a weighing begins with.

    In code: panel.tell(name="Orchard tractor", wheelbase="65 in", step="2 lb").keep().
    """
    return MachineFacts(place)
