"""What a person told about a machine and about the scales: told once, checked at the door.

What was not told is None, and stays None: no value is borrowed from another machine.  A value
that was typed remembers its digits and its unit, so that 63 in stays 63 in.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from leverarm.machine import MOST_HEIGHT_M, MOST_NAME, MOST_WEIGHT_KG, WHEELBASE_M
from leverarm.numerals import number_readings, plain
from leverarm.quantities import Refusal, read_as_typed
from leverarm.weighing.scales import AXLES, Scales

PLACINGS = ("moved", "every wheel")

GROUNDS = ("on the ground", "let in")

PADS = (1, 2, 4)

MOST_TURNS = 1000.0
# Finer than any scale for machines: such a number was no percentage.
LEAST_PERCENT = 0.005
_PLUS_MINUS = re.compile(r"^(±|\+ ?/? ?-) ?")

# Part of length times width that a contact patch fills: a rectangle all of it.
PATCH_SHAPE = (0.5, 1)


@dataclass(frozen=True)
class Tire:
    """What was told about the tires of one axle.

    size        as it stands on the sidewall
    pressure_kpa
    patch_m     (length, width) of one contact patch on the ground
    patch_shape     0.5 to 1: a rectangle is 1, an ellipse 0.785
    patch_load_kg   what stood on that one tire when the patch was made
    """

    size: str = ""
    pressure_kpa: float | None = None
    patch_m: tuple[float, float] | None = None
    patch_shape: float | None = None
    patch_load_kg: float | None = None


@dataclass(frozen=True)
class Machine:
    """What a person told about a tractor once; only name and wheelbase must be known.

    wheelbase_m, u_wheelbase_m  front axle to rear axle, and the error of the tape
    track_m             (front, rear): between the middles of the wheels of an axle
    front_tires, rear_tires
    turns               (front, rear): wheel turns counted over the same distance, front drive out
    turns_driven        front wheel turns over as many rear turns, front drive in; both for the lead
    mower               what it mows with, in words
    heights_m           {piece: height of its center of gravity}, "bare" for the tractor itself
    rear_share_least    percent of the total that the manual wants on the rear axle
    ratings_kg          {axle: what the manual lets it carry}, "front" and "rear"
    model, serial, hours    as on the plate and the meter, for the page
    """

    name: str
    wheelbase_m: float
    u_wheelbase_m: float | None = None
    track_m: tuple[float, float] | None = None
    front_tires: Tire | None = None
    rear_tires: Tire | None = None
    turns: tuple[float, float] | None = None
    turns_driven: float | None = None
    mower: str = ""
    heights_m: Mapping[str, float] = field(default_factory=dict)
    rear_share_least: float | None = None
    ratings_kg: Mapping[str, float] = field(default_factory=dict)
    model: str = ""
    serial: str = ""
    hours: str = ""

    @property
    def key(self) -> str:
        """What makes two names the same machine: letter case and spacing do not part them."""
        return " ".join(self.name.split()).casefold()


def machine(
    name: str,
    wheelbase: str | float,
    *,
    wheelbase_error: str | float | None = None,
    track: Sequence[str | float] | None = None,
    front_tires: Tire | None = None,
    rear_tires: Tire | None = None,
    turns: Sequence[str | float] | None = None,
    turns_driven: str | float | None = None,
    mower: str = "",
    heights: Mapping[str, str | float] | None = None,
    rear_share_least: str | float | None = None,
    ratings: Mapping[str, str | float | None] | None = None,
    model: str = "",
    serial: str = "",
    hours: str = "",
) -> Machine:
    """A checked Machine from what was typed; text with a unit, or numbers in kg, m, percent.

    >>> machine("Orchard tractor", "65 in", wheelbase_error="1/8 in").u_wheelbase_m
    0.003175
    """
    return Machine(
        one_line(name, "machine", MOST_NAME, 1),
        read_as_typed(wheelbase, "length", "wheelbase", *WHEELBASE_M),
        _told(wheelbase_error, "length", "error of the wheelbase", 0, 0.2),
        _pair(track, "length", "track", 0.3, 4),
        front_tires,
        rear_tires,
        _pair(turns, "number", "wheel turns", 0.1, MOST_TURNS),
        _told(turns_driven, "number", "front wheel turns, front drive in", 0.1, MOST_TURNS),
        one_line(mower, "mower", MOST_NAME),
        _heights(heights or {}),
        _told(rear_share_least, "share", "least share on the rear axle", 0, 100),
        _ratings(ratings or {}),
        one_line(model, "model", MOST_NAME),
        one_line(serial, "serial number", MOST_NAME),
        one_line(hours, "hours", MOST_NAME),
    )


def _heights(given: Mapping[str, str | float]) -> dict[str, float]:
    """Heights of centers of gravity by piece."""
    return {
        one_line(piece, "piece", MOST_NAME, 1): read_as_typed(
            height, "length", f"height of the {piece}", 0, MOST_HEIGHT_M
        )
        for piece, height in given.items()
    }


def _ratings(given: Mapping[str, str | float | None]) -> dict[str, float]:
    """What the manual lets an axle carry, for the axles that were told."""
    told = {
        axle: _told(given.get(axle), "weight", f"{axle} axle rating", 1, MOST_WEIGHT_KG)
        for axle in AXLES
    }
    return {axle: kg for axle, kg in told.items() if kg is not None}


def tire(
    size: str = "",
    pressure: str | float | None = None,
    patch: Sequence[str | float] | None = None,
    axle: str = "front",
    shape: str | float | None = None,
    load: str | float | None = None,
) -> Tire | None:
    """A checked Tire; None where nothing was told about it.

    >>> tire("23x8.50-12", "20 psi").patch_m is None
    True
    """
    made = Tire(
        one_line(size, f"size of the {axle} tires", MOST_NAME),
        _told(pressure, "pressure", f"pressure of the {axle} tires", 20, 500),
        _pair(patch, "length", f"contact patch of the {axle} tires", 0.01, 2),
        _told(shape, "number", f"shape of the {axle} contact patch", *PATCH_SHAPE),
        _told(load, "weight", f"load on the {axle} contact patch", 1, MOST_WEIGHT_KG),
    )
    return None if made == Tire() else made


@dataclass(frozen=True)
class ScaleFacts:
    """What was told about the scales of a day; None is not told.

    step_kg             smallest step of the display
    accuracy_percent    limit of error in percent of the reading
    limit_kg            limit of error as the certificate states it, at any reading
    pads                1, 2 or 4
    placed              "moved": one set from axle to axle; "every wheel": a pad under every wheel
    ground              "on the ground" (the pads raise what stands on them) or "let in"
    pad_height_m        of a pad that stands on the ground
    off_level_deg       how far off level the yard may be
    """

    step_kg: float | None = None
    accuracy_percent: float | None = None
    limit_kg: float | None = None
    pads: int | None = None
    placed: str | None = None
    ground: str | None = None
    pad_height_m: float | None = None
    off_level_deg: float | None = None

    @property
    def known(self) -> bool:
        """True where a plus or minus can be worked out: the step or the accuracy was told."""
        return self.step_kg is not None or self.accuracy_percent is not None

    @property
    def scales(self) -> Scales | None:
        """The Scales of :mod:`~leverarm.weighing.scales`; None where neither step nor accuracy
        was told, so that no plus or minus is printed.
        """
        if not self.known:
            return None
        return Scales(
            self.step_kg or 0.0,
            self.accuracy_percent or 0.0,
            self.limit_kg or 0.0,
            one_set=self.placed != "every wheel",
            usual=True,
        )


def scale_facts(
    step: str | float | None = None,
    accuracy: str | float | None = None,
    limit: str | float | None = None,
    pads: int | str | None = None,
    placed: str | None = None,
    ground: str | None = None,
    pad_height: str | float | None = None,
    off_level: str | float | None = None,
) -> ScaleFacts:
    """Checked ScaleFacts from what was typed; an empty text is not told.

    >>> scale_facts("2 lb", "0.5 %", placed="moved").accuracy_percent
    0.5
    """
    count = None if pads in (None, "") else whole_number(pads, "pads", max(PADS))
    if count is not None and count not in PADS:
        raise Refusal("pads", pads, "1, 2 or 4", "count the pads of the scales")
    for given, known, what in ((placed, PLACINGS, "placed"), (ground, GROUNDS, "ground")):
        if given not in (None, "", *known):
            raise Refusal(f"scales, {what}", given, " or ".join(known), "choose one of the two")
    percent = _told(accuracy, "share", "accuracy of the scales", 0, 50)
    if percent and percent < LEAST_PERCENT:
        raise Refusal(
            "accuracy of the scales",
            accuracy,
            f"0, or {LEAST_PERCENT} percent and more",
            "type percent of the reading, such as 0.5",
        )
    return ScaleFacts(
        _told(step, "weight", "smallest step of the scales", 0.001, 1000),
        percent,
        _told(limit, "weight", "limit on the certificate", 0, 1000),
        count,
        placed or None,
        ground or None,
        _told(pad_height, "length", "height of a pad", 0, 0.5),
        _told(off_level, "angle", "slope of the yard", 0, 10),
    )


def one_line(text: object, what: str, most: int, least: int = 0) -> str:
    """One line of printable text, no longer than a cell should be."""
    line = " ".join(str(text).split())
    if not least <= len(line) <= most or not line.isprintable():
        raise Refusal(
            what,
            line or "nothing",
            f"{least} to {most} printable characters",
            "write it shorter" if len(line) > most else "write it in plain letters",
        )
    return line


def whole_number(given: object, what: str, most: int) -> int:
    """A whole number from 1."""
    number = next(iter(number_readings(str(given).strip() or "1")), 0)
    if not 1 <= number <= most or number % 1:
        raise Refusal(what, str(given), f"a whole number from 1 to {most}", "count again")
    return int(number)


def _told(given: object, kind: str, what: str, low: float, high: float) -> float | None:
    """A quantity, or None where nothing was told."""
    if isinstance(given, str):
        given = _PLUS_MINUS.sub("", plain(given))
    if given is None or given == "":
        return None
    return read_as_typed(given, kind, what, low, high)


def _pair(
    given: Sequence[str | float] | None, kind: str, what: str, low: float, high: float
) -> tuple[float, float] | None:
    """Two quantities or none; one alone is refused."""
    told = [_told(one, kind, what, low, high) for one in given or ()]
    found = [one for one in told if one is not None]
    if not found:
        return None
    if len(found) != 2 or len(told) != 2:
        raise Refusal(what, f"{len(found)} of two", "both or none", "give the other one too")
    return found[0], found[1]
