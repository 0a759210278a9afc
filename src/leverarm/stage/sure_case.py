"""A piece weighed by four axle readings, and how its weight and overhang scatter from day to day.

Each day's errors are drawn by Python, from a seed, before the picture is made; the page only shows
them one after the other.
"""

import math
import random
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from leverarm import statics
from leverarm.axles import predict
from leverarm.machine import Attachment, Tractor, demo_loader, demo_tractor
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, show_number, to_unit
from leverarm.stage.case import PART, SHEETS, SaidCase
from leverarm.stage.four_readings import FourReadings
from leverarm.stage.recording import Input
from leverarm.stage.sheet import Paper
from leverarm.uncertainty import raised_to_print, u_of_sum
from leverarm.uncertainty.separate import K
from leverarm.weighing.demo import FORKS, READING_ERROR_KG

# How many weigh days were drawn, and how many must be seen before the band is shown.
DAYS, LEAST_DAYS = 40, 10
# What is worked out of a day: the weight hung on, and how far ahead it hangs.
RESULTS = ("weight", "ahead")
MOST_REPEATS = 10
# A weight below so many of its own standard uncertainties puts its overhang anywhere.
_LEAST_WEIGHT = 10


@dataclass(frozen=True)
class SureCase(SaidCase):
    """A tractor that reads something before a piece goes on, the piece, and the scales' error.

    tractor     what the scales truly carry before;  piece  what goes on
    u_kg        standard uncertainty of one reading;  u_tape_m  of the wheelbase by tape
    seed        the days drawn: the same seed gives the same days
    system      "lb" or "kg";  sheets  the sizes of paper drawn
    """

    tractor: Tractor
    piece: Attachment
    u_kg: float
    u_tape_m: float = 0.003
    seed: int = 1
    system: str = "lb"
    sheets: tuple[Paper, ...] = SHEETS

    def __post_init__(self) -> None:
        least = _LEAST_WEIGHT * u_of_sum(*[self.u_kg] * 4)
        rear = self.tractor.rear_kg + statics.rear_change(
            self.piece.weight_kg, self.piece.ahead_m, self.tractor.wheelbase_m
        )
        if self.u_kg <= 0 or self.piece.weight_kg < least or rear <= 0:
            raise Refusal(
                "piece to weigh",
                f"{self.piece.name}, {self.piece.weight_kg:g} kg, readings off by {self.u_kg:g} kg",
                f"readings that are off, a weight of {least:g} kg or more, and rear wheels that "
                "stay on their scale",
                "weigh something heavier, or with a finer scale",
            )

    @property
    def error_step(self) -> tuple[float, int]:
        """The step of a reading's typical error and the digits it needs."""
        return (1.0, 0) if self.system == "lb" else (0.1, 1)

    @property
    def tape_step(self) -> tuple[float, int]:
        """The step of the tape's typical error and the digits it needs."""
        return (0.1, 1) if self.system == "lb" else (0.001, 3)

    @property
    def ahead_places(self) -> int:
        """Digits of one day's overhang: more than it deserves, as a calculator shows."""
        return 1 if self.system == "lb" else 2

    @property
    def u(self) -> float:
        """How far off a reading typically is, in the unit shown."""
        step, places = self.error_step
        shown = round(to_unit(self.u_kg, "weight", self.units.weight) / step) * step
        return max(step, round(shown, places))

    @property
    def u_tape(self) -> float:
        """How far off the wheelbase typically is, in the unit shown."""
        return round(to_unit(self.u_tape_m, "length", self.units.length), self.tape_step[1])

    @property
    def wheelbase(self) -> float:
        """The wheelbase in the unit shown."""
        return self.length(self.tractor.wheelbase_m)

    @property
    def before(self) -> tuple[float, float]:
        """What the scales truly carry before, front and rear, in the unit shown."""
        return self.weight(self.tractor.front_kg), self.weight(self.tractor.rear_kg)

    @property
    def after(self) -> tuple[float, float]:
        """What they truly carry with the piece on."""
        weight, ahead = self.piece.weight_kg, self.piece.ahead_m
        base = self.tractor.wheelbase_m
        return (
            self.weight(self.tractor.front_kg + statics.front_gain(weight, ahead, base)),
            self.weight(self.tractor.rear_kg + statics.rear_change(weight, ahead, base)),
        )

    @cached_property
    def truth(self) -> FourReadings:
        """A day on which no reading is off."""
        return FourReadings(self.before, self.after, self.wheelbase)

    @cached_property
    def days(self) -> tuple[FourReadings, ...]:
        """The days drawn: each reading off by an error of its own, and shown in whole units."""
        chance, (_, places) = random.Random(self.seed), self.units.weight_step

        def read(loads: tuple[float, float]) -> tuple[float, float]:
            front, rear = (round(load + self.u * chance.gauss(0.0, 1.0), places) for load in loads)
            return front, rear

        return tuple(
            FourReadings(read(self.before), read(self.after), self.wheelbase) for _ in range(DAYS)
        )

    def u_at_first(self, result: str) -> float:
        """The same for the scales and the tape of the case, each reading taken once."""
        found: float = self.truth.u_of(result, self.u, self.u_tape)
        return found

    def places(self, result: str) -> int:
        """Digits of a ± and of the number beside it: whole pounds, kilograms, inches or cm."""
        return (self.units.weight_step if result == "weight" else self.units.length_step)[1]

    def unit(self, result: str) -> str:
        """The unit of a result."""
        return self.units.weight if result == "weight" else self.units.length

    def fine_places(self, result: str) -> int:
        """Digits of a standard uncertainty: those of the ± are too few for the half of it."""
        return self.error_step[1] if result == "weight" else self.ahead_places

    def show_one(self, result: str, value: Numeric) -> str:
        """What one day gives, with its unit: the overhang with more digits than it deserves."""
        places = self.places(result) if result == "weight" else self.ahead_places
        return f"{show_number(value, places)} {self.unit(result)}"

    def show_plus_minus(self, result: str, u: Numeric) -> str:
        """The result with its ±, twice its standard uncertainty, rounded up."""
        places = self.places(result)
        value = show_number(self.truth.value(result), places)
        return (
            f"{value} ± {show_number(raised_to_print(K * u, places), places)} {self.unit(result)}"
        )

    @property
    def said(self) -> tuple[Input, ...]:
        """What the reader says: how far off the weight typically is."""
        step, places = self.error_step
        return (Input("off_said", 0, round(5 * self.u, places), 0, step, places),)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves in the second act: days weighed, then the three things that may be better."""
        (step, places), (fine, digits) = self.error_step, self.tape_step
        return (
            *self.said,
            Input("days", 0, DAYS, 0),
            Input("u", step, round(2 * self.u, places), self.u, step, places),
            Input("u_tape", 0, round(20 * fine, digits), self.u_tape, fine, digits),
            Input("repeats", 1, MOST_REPEATS, 1),
            PART,
        )

    def bin_of(self, result: str) -> float:
        """How wide a place of the axis is in which dots stand over each other."""
        if result == "weight":
            return 10.0 ** -self.units.weight_step[1]
        size = self.u_at_first("ahead") / 3
        power = 10.0 ** math.floor(math.log10(size))
        return max(step * power for step in (1.0, 2.0, 5.0) if step * power <= size)

    def places_of(self, result: str) -> list[tuple[float, int]]:
        """For each day, in order: the middle of its place on the axis, and how many dots lie under
        its own there.
        """
        wide, held = self.bin_of(result), dict[int, int]()
        found = []
        for day in self.days:
            at = round(day.value(result) / wide)
            found.append((at * wide, held.get(at, 0)))
            held[at] = held.get(at, 0) + 1
        return found


def crew_forks(**shown: Any) -> SureCase:
    """The invented crew's pallet forks, on the tractor that carries its loader frame.

    shown       seed, system, sheets, as SureCase takes them

    >>> crew_forks().show_plus_minus("weight", crew_forks().u_at_first("weight"))
    '325 ± 12 lb'
    """
    plain = demo_tractor()
    on = predict(plain, demo_loader()[0])
    framed = Tractor(plain.name, plain.wheelbase_m, on.front_kg, on.rear_kg)
    return SureCase(framed, FORKS, READING_ERROR_KG, **shown)
