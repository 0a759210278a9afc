"""The decision row by row: what each set-up does to load, share, ground, drive, slope and room."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from leverarm import driveline, stability
from leverarm.decision.case import BASES, Case
from leverarm.decision.setups import Setup, mower_words, setups, share_text, stops
from leverarm.decision.words import MEANINGS, RowMeaning
from leverarm.driveline import Drive
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, show, show_number, system_shown
from leverarm.uncertainty import Measured, plus_minus

SLOPES = ("grade", "uphill", "sideways")


def squash_at(squash: Numeric, front: Numeric, off: Numeric, on: Numeric) -> Numeric:
    """How far the front hub is down at a front axle load.

    Equation    squash (front - off) / (on - off)
    squash      of the front hub when the loader goes on, m; front, off, on  front axle loads, kg
    Valid       a tire that gives in proportion to its load, between and near the two loads
    Errors      ZeroDivisionError where the loader changes nothing
    Source      a straight line through two set-ups

    >>> squash_at(0.010, 800, 600, 1000)
    0.005
    """
    return squash * (front - off) / (on - off)


@dataclass(frozen=True)
class Row:
    """One row: a value for each set-up, and what it means.

    values      per set-up a Measured, a float, a (low, high) band, or None where something was not
                told
    notes       per set-up, words to stand behind the value or in its place
    """

    key: str
    meaning: RowMeaning
    values: tuple[Any, ...]
    notes: tuple[str, ...]
    depths_m: tuple[float, ...] = ()
    of: str = ""

    def name(self, system: str | None = None) -> str:
        """The row's name, its depth in the unit shown, and what its numbers are of."""
        places = 2 if system_shown(system) == "kg" else 0
        depths = (f"{show(d, 'length', system, decimals=places)} down" for d in self.depths_m)
        return self.meaning.name.format(*depths) + self.of

    def cells(self, system: str | None = None) -> tuple[str, ...]:
        """The row as texts, one for each set-up."""
        return tuple(
            " ".join(filter(None, (value_text(value, self.meaning.kind, system), note.strip())))
            for value, note in zip(self.values, self.notes)
        )


def value_text(value: Any, kind: str, system: str | None = None) -> str:
    """A value of any of the row kinds as text; "" for None."""
    if value is None:
        return ""
    if isinstance(value, tuple):
        low, high = (show(x, kind, system) for x in value)
        return f"{low.split()[0]} to {high}"
    if kind == "share":
        return share_text(value)
    if isinstance(value, Measured):
        return plus_minus(value, kind, system, brief=True)
    return {
        "angle": f"{show_number(value, 1)}°",
        "minutes": f"{show_number(value, 0)} min",
        "number": show_number(value, 0),
    }.get(kind) or show(value, kind, system)


@dataclass(frozen=True)
class Table:
    """The set-ups of a Case, side by side.

    setups      the Setups;  rows  the Rows, in order
    """

    case: Case
    setups: tuple[Setup, ...]
    rows: tuple[Row, ...]

    def row(self, key: str) -> Row:
        """The Row of this key; raises Refusal for an unknown one."""
        found = next((row for row in self.rows if row.key == key), None)
        if found is None:
            raise Refusal("row", key, " or ".join(MEANINGS), "name one of the rows")
        return found

    def value(self, key: str, setup: str) -> Any:
        """One value: table.value("front", "loader_off")."""
        at = next((i for i, one in enumerate(self.setups) if one.key == setup), None)
        if at is None:
            raise Refusal(
                "set-up",
                setup,
                " or ".join(one.key for one in self.setups),
                "name one of the set-ups",
            )
        return self.row(key).values[at]

    @cached_property
    def stopped(self) -> dict[str, tuple[str, ...]]:
        """{set-up key: sentences} for every set-up that breaks what was read in the manual."""
        return {one.key: said for one in self.setups if (said := stops(one))}


def decide(case: Case) -> Table:
    """The decision Table of a Case.

    >>> from leverarm.decision.demo import demo_case
    >>> table = decide(demo_case())
    >>> table.row("front").cells("kg")[2], table.row("front").cells("lb")[2]
    ('541.0 ± 9.3 kg', '1,193 ± 21 lb')
    """
    made = setups(case)
    lifted = [
        any(setup.level(mower_at).lift for mower_at in setup.mower_positions) for setup in made
    ]
    return Table(case, made, tuple(_row(key, case, made, lifted) for key in MEANINGS))


def _row(key, case, made, lifted):
    values, notes = zip(*(_value(key, setup, made, gone) for setup, gone in zip(made, lifted)))
    return Row(
        key,
        MEANINGS[key],
        values,
        notes,
        tuple(case.tires.depths_m) if "stress" in key else (),
        _of(key, case),
    )


def _of(key, case):
    """What a row's numbers are of: a share's base, or the slope that a margin is beyond."""
    if case.mower is None and key in ("front", "rear", "total", "front_share"):
        return " (no mower counted in)"
    if key in SLOPES:
        return f" (beyond your {show_number(case.job.slope_deg, 0)}°)"
    return (
        f", % of {BASES[case.manual.least(key.removesuffix('_least'))[1]]}"
        if key.endswith("_least")
        else ""
    )


def _value(key, setup, made, lifted):
    """(value, note) of one row in one set-up; once an axle has lifted, only reach and minutes still
    mean something.
    """
    if lifted and key not in ("length", "minutes"):
        return None, "an axle carries nothing"
    value = _VALUES[key](setup, made)
    if value is None:
        return None, f"not told: {', '.join(missing_for_row(key, setup))}"
    return (value[0], value[1]) if isinstance(value, list) else (value, "")


def _least(axle):
    def worth(setup, made):
        share, mower_at = setup.least_share(axle)
        least = setup.case.manual.least(axle)[0]
        return [
            share,
            mower_words(setup, mower_at).removeprefix(", ")
            + f" (least: {'not read yet' if least is None else f'{least:g} %'})",
        ]

    return worth


def _contact(axle):
    def made_of(setup):
        made = getattr(setup.case.tires, axle)
        return made and made.under(setup.load(axle).value / 2)

    return made_of


def _pressure(axle):
    return lambda setup, made: (touch := _contact(axle)(setup)) and touch.pressure_kpa


def _stress(axle, which):
    return lambda setup, made: (
        (touch := _contact(axle)(setup)) and touch.band_kpa(setup.case.tires.depths_m[which])
    )


def drive_at(setup: Setup, made: Sequence[Setup]) -> Drive | None:
    """The front drive in a set-up, front tires squashed by their load; None without one."""
    told = setup.case.drive
    if told is None or told.drive is None or told.mowing is None or not told.engaged:
        return None
    off = next(one for one in made if one.key in ("loader_off", "all_off")).front.value
    on = made[0].front.value
    return told.drive.squashed(
        squash_at(told.squash_m, setup.front.value, off, on) if told.squash_m else 0.0
    )


def _scuff(setup, made):
    told = setup.case.drive
    if told is None or (told.engaged and told.drive is not None and told.mowing is None):
        return None
    first, second = drive_at(made[0], made), drive_at(setup, made)
    if first is None or second is None:
        return [0.0, "no lead acts: drive out, or two-wheel drive"]
    return driveline.wear_of_lighter_axle(
        told.mowing, (first, made[0].level()), (second, setup.level())
    )


def _over_postures(angle):
    """The smaller angle of both mower positions, with its margin beyond the job's slope; None where
    heights are missing.
    """

    def worth(setup, made):
        try:
            least = min(angle(setup, mower_at) for mower_at in setup.mower_positions)
        except Refusal:
            return None
        return [least, f"({show_number(least - setup.case.job.slope_deg, 1, sign=True)}°)"]

    return worth


def _grade(setup, mower_at):
    job = setup.case.job
    held = stability.holding(
        setup.case.tractor,
        *setup.attachments(mower_at),
        friction=float(stability.FRICTION[job.surface]),
        brakes=job.brakes,
        nose="down",
    )
    return held.tips_deg if held.slides_deg is None else min(held.slides_deg, held.tips_deg)


def _uphill(setup, mower_at):
    return stability.holding(
        setup.case.tractor, *setup.attachments(mower_at), friction=1.0, brakes="all", nose="up"
    ).tips_deg


def _sideways(setup, mower_at):
    if setup.case.stance is None:
        raise Refusal("stance", None, "track, pin and swing", "tell them")
    return stability.side_tilt(
        setup.case.tractor, *setup.attachments(mower_at), stance=setup.case.stance
    ).line_deg


_VALUES = {
    "front": lambda setup, made: setup.front,
    "rear": lambda setup, made: setup.rear,
    "total": lambda setup, made: setup.total,
    "front_share": lambda setup, made: setup.front_share,
    "front_least": _least("front"),
    "rear_least": _least("rear"),
    "front_pressure": _pressure("front"),
    "rear_pressure": _pressure("rear"),
    "front_stress_1": _stress("front", 0),
    "front_stress_2": _stress("front", 1),
    "rear_stress_1": _stress("rear", 0),
    "rear_stress_2": _stress("rear", 1),
    "scuff": _scuff,
    "grade": _over_postures(_grade),
    "uphill": _over_postures(_uphill),
    "sideways": _over_postures(_sideways),
    "length": lambda setup, made: setup.length_m,
    "minutes": lambda setup, made: setup.minutes,
}


def missing_for_row(key: str, setup: Setup) -> tuple[str, ...]:
    """What a row needs and was not told for a set-up, in words."""
    case = setup.case
    if key in SLOPES:
        return _heights_missing(setup) + (
            ("track, front axle pin and swing",) if key == "sideways" and not case.stance else ()
        )
    if key == "length":
        reaches = {"tractor": case.nose_m} | {
            one.name: one.reach_m for one in (case.loader, case.bucket) if one in setup.pieces()
        }
        return tuple(f"farthest point of the {name}" for name, m in reaches.items() if m is None)
    if key == "scuff":
        lead = case.drive is None or case.drive.drive is None
        return ("lead of the front drive and how it mows" if lead else "how it mows",)
    return (
        f"contact patch of a {key.split('_')[0]} tire (length, width, shape), its pressure and "
        "the load on it",
    )


def _heights_missing(setup: Setup) -> tuple[str, ...]:
    heights = {"tractor": setup.case.height_m} | {
        one.name: one.height_m for mower in setup.mower_positions for one in setup.pieces(mower)
    }
    return tuple(f"height of the {name}" for name, m in heights.items() if m is None)
