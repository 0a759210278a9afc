"""The header block of a weigh day's file: what was told about machine, scales and day.

One ``key,value`` line each, a value with its unit; what was not told has no line.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeVar

from leverarm.quantities import KINDS, AsTyped, Refusal, from_unit, to_unit, unit_of
from leverarm.weighing.day import WeighDay, weigh_day
from leverarm.weighing.facts import Machine, ScaleFacts, Tire, machine, scale_facts, tire
from leverarm.weighing.readings import digits
from leverarm.weighing.scales import AXLES

FORMAT_KEY, FORMAT = "weigh day", "1"
Made = TypeVar("Made")

_YES_NO = {"yes": True, "no": False}

_MACHINE_KEYS = (
    *("machine", "wheelbase", "wheelbase error", "mower", "rear share, least"),
    *("model", "serial number", "hours"),
)
_PAIR_KEYS = {
    "track": ("front track", "rear track"),
    "turns": ("front turns", "rear turns"),
}
_DRIVEN, _RATING = "front turns driven", " axle rating"

# Key in the file, its name in scale_facts, its field in ScaleFacts, its kind.
_SCALE_KEYS = (
    ("scales step", "step", "step_kg", "weight"),
    ("scales accuracy", "accuracy", "accuracy_percent", "share"),
    ("scales limit", "limit", "limit_kg", "weight"),
    ("scales pads", "pads", "pads", "number"),
    ("scales placed", "placed", "placed", "number"),
    ("scales ground", "ground", "ground", "number"),
    ("pad height", "pad_height", "pad_height_m", "length"),
    ("yard off level", "off_level", "off_level_deg", "angle"),
)
_TIRE_KEYS = (
    *("tires", "tire pressure", "patch length", "patch width", "patch shape", "patch load"),
)

_HEIGHT = "height of "

_KNOWN_KEYS = {
    FORMAT_KEY,
    "date",
    "units",
    "all else unchanged",
    "said to be so",
    *_MACHINE_KEYS,
    *(key for key, *_ in _SCALE_KEYS),
    *(one for pair in _PAIR_KEYS.values() for one in pair),
    *(f"{axle} {key}" for axle in AXLES for key in _TIRE_KEYS),
    *(f"{axle}{_RATING}" for axle in AXLES),
    _DRIVEN,
}


@dataclass(frozen=True)
class FileFault:
    """What could not be read: line and column as a spreadsheet counts them, and one sentence."""

    file: str
    line: int
    column: str
    sentence: str

    def __str__(self) -> str:
        return f"{self.file}, line {self.line}, {self.column}: {self.sentence}"


def is_known(key: str) -> bool:
    return key in _KNOWN_KEYS or key.startswith(_HEIGHT)


def header_day(
    told: Mapping[str, tuple[int, str]], name: str
) -> tuple[WeighDay | None, list[FileFault]]:
    """The WeighDay without rows that a header block tells, and what it cannot tell."""
    text = {key: value for key, (_, value) in told.items()}
    faults: list[FileFault] = []

    def tried(key: str, make: Callable[[], Made]) -> Made | None:
        """What is made of a key's line, or None and a fault there."""
        try:
            return make()
        except Refusal as refusal:
            faults.append(FileFault(name, told.get(key, (1, ""))[0], "header", str(refusal)))
            return None

    tires = {axle: tried(f"{axle} tires", partial(_tire, text, axle)) for axle in AXLES}
    made = tried("wheelbase", lambda: _machine(text, tires))
    scales = tried("scales step", lambda: _scales(text))
    if made is None:
        return None, faults
    same, units = (text.get(key, "").casefold() for key in ("all else unchanged", "units"))
    day = tried(
        "date",
        lambda: weigh_day(
            made,
            text.get("date", ""),
            scales,
            unchanged=_YES_NO.get(same),
            system="lb" if units == "lb" else "kg",
        ),
    )
    if day is None:
        return None, faults
    accepted = tuple(one.strip() for one in text.get("said to be so", "").split(";") if one.strip())
    return replace(day, accepted=accepted), faults


def _tire(text: Mapping[str, str], axle: str) -> Tire | None:
    patch = [text.get(f"{axle} patch {side}", "") for side in ("length", "width")]
    size, pressure = text.get(f"{axle} tires", ""), text.get(f"{axle} tire pressure")
    shape, load = (text.get(f"{axle} patch {key}", "") for key in ("shape", "load"))
    return tire(size, pressure, patch, axle, shape, load)


def _machine(text: Mapping[str, str], tires: Mapping[str, Tire | None]) -> Machine:
    track, turns = ([text.get(one, "") for one in pair] for pair in _PAIR_KEYS.values())
    return machine(
        text.get("machine", ""),
        text.get("wheelbase", "nothing"),
        wheelbase_error=text.get("wheelbase error"),
        track=track,
        front_tires=tires["front"],
        rear_tires=tires["rear"],
        turns=turns,
        turns_driven=text.get(_DRIVEN),
        mower=text.get("mower", ""),
        heights={
            key.removeprefix(_HEIGHT): value
            for key, value in text.items()
            if key.startswith(_HEIGHT)
        },
        rear_share_least=text.get("rear share, least"),
        ratings={axle: text.get(f"{axle}{_RATING}") for axle in AXLES},
        model=text.get("model", ""),
        serial=text.get("serial number", ""),
        hours=text.get("hours", ""),
    )


def _scales(text: Mapping[str, str]) -> ScaleFacts:
    return scale_facts(**{name: text.get(key, "") for key, name, *_ in _SCALE_KEYS})


def header_lines(day: WeighDay) -> list[tuple[str, str]]:
    """The header block of a WeighDay: what was told, each value with its unit."""
    system = day.system
    lines: list[tuple[str, str | None]] = [
        (FORMAT_KEY, FORMAT),
        ("machine", day.machine.name),
        ("date", day.date),
        ("units", day.system),
        *_machine_lines(day.machine, system),
    ]
    lines += [
        (key, _with_unit(getattr(day.scales, name), kind, system))
        for key, _, name, kind in _SCALE_KEYS
    ]
    lines += [
        ("all else unchanged", {True: "yes", False: "no", None: ""}[day.unchanged]),
        ("said to be so", "; ".join(day.accepted)),
    ]
    return [(key, value) for key, value in lines if value]


def _machine_lines(told: Machine, system: str) -> list[tuple[str, str | None]]:
    """What was told about a machine, beside its name."""
    lines: list[tuple[str, str | None]] = [
        ("wheelbase", _with_unit(told.wheelbase_m, "length", system)),
        ("wheelbase error", _with_unit(told.u_wheelbase_m, "length", system)),
        ("model", told.model),
        ("serial number", told.serial),
        ("hours", told.hours),
        ("mower", told.mower),
        ("rear share, least", _with_unit(told.rear_share_least, "share", system)),
    ]
    for key, pair, kind in (("track", told.track_m, "length"), ("turns", told.turns, "number")):
        lines += [
            (name, _with_unit(value, kind, system))
            for name, value in zip(_PAIR_KEYS[key], pair or ())
        ]
    lines.append((_DRIVEN, _with_unit(told.turns_driven, "number", system)))
    lines += [
        (f"{axle}{_RATING}", _with_unit(told.ratings_kg.get(axle), "weight", system))
        for axle in AXLES
    ]
    for axle, fitted in (("front", told.front_tires), ("rear", told.rear_tires)):
        lines += _tire_lines(axle, fitted or Tire(), system)
    return lines + [
        (f"{_HEIGHT}{piece}", _with_unit(h, "length", system))
        for piece, h in told.heights_m.items()
    ]


def _tire_lines(axle: str, fitted: Tire, system: str) -> list[tuple[str, str | None]]:
    length, width = fitted.patch_m or (None, None)
    return [
        (f"{axle} tires", fitted.size),
        (f"{axle} tire pressure", _with_unit(fitted.pressure_kpa, "pressure", system)),
        (f"{axle} patch length", _with_unit(length, "length", system)),
        (f"{axle} patch width", _with_unit(width, "length", system)),
        (f"{axle} patch shape", _with_unit(fitted.patch_shape, "number", system)),
        (f"{axle} patch load", _with_unit(fitted.patch_load_kg, "weight", system)),
    ]


def _with_unit(value: str | float | None, kind: str, system: str) -> str | None:
    """A value as it was typed; else in the day's own system where that loses no digit, or in SI."""
    if value is None or isinstance(value, str):
        return value
    if isinstance(value, AsTyped):
        return value.text
    for unit in (unit_of(kind, system), KINDS[kind].base):
        number = float(f"{to_unit(value, kind, unit):.10g}")
        if from_unit(number, kind, unit) == value:
            return f"{digits(number)} {unit}".strip()
    return f"{digits(value)} {KINDS[kind].base}".strip()
