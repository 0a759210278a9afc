"""A piece that came off on two scales, and somebody's claim of how many times its weight that took
off the front axle.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from leverarm import statics
from leverarm.machine import Attachment, Tractor, demo_loader
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, show_number, to_unit
from leverarm.stage.case import PART, SHEETS, SaidCase
from leverarm.stage.four_readings import FourReadings
from leverarm.stage.recording import Input
from leverarm.stage.sheet import Paper
from leverarm.uncertainty import raised_to_print
from leverarm.uncertainty.separate import K
from leverarm.weighing.demo import READING_ERROR_KG, bucket_day

# Where a claim may belong, in the order of the buttons.
PILES = ("backed", "contradicted", "incomplete", "beyond")
# Digits of a factor beside its ±.
FACTOR_PLACES = 2
# How many times worse than they are the scales can be made.
_WORSE = 8
# The largest factor that is claimed or weighed.
_MOST_FACTOR = 5.0


@dataclass(frozen=True)
class BackedCase(SaidCase):
    """A tractor as it was read without a piece, the piece, the scales' error, and a claim.

    tractor     what the scales read without the piece;  on_kg  front and rear with it on
    piece       its weight and overhang as told before, by which the formula forecasts
    u_kg        standard uncertainty of one reading
    claim       how many times the piece's weight the front axle is said to lose
    system      "lb" or "kg";  sheets  the sizes of paper drawn
    """

    tractor: Tractor
    piece: Attachment
    on_kg: tuple[float, float]
    u_kg: float
    claim: float = 2.0
    system: str = "lb"
    sheets: tuple[Paper, ...] = SHEETS

    def __post_init__(self) -> None:
        factor, apart = self.read.value("factor"), K * self.read.u_of("factor", self.u)
        if not (0 < self.claim <= _MOST_FACTOR and 0 < factor <= _MOST_FACTOR and apart < factor):
            raise Refusal(
                "claim",
                f"{self.claim:g} times, where the scales read {factor:.2f} ± {apart:.2f}",
                f"a factor up to {_MOST_FACTOR:g}, and a ± smaller than what was read",
                "tell another claim, or weigh something heavier",
            )

    @property
    def error_step(self) -> tuple[float, int]:
        """The step of a reading's typical error and the digits it needs."""
        return (1.0, 0) if self.system == "lb" else (0.1, 1)

    @property
    def u(self) -> float:
        """How far off a reading typically is, in the unit shown."""
        step, places = self.error_step
        shown = round(to_unit(self.u_kg, "weight", self.units.weight) / step) * step
        return max(step, round(shown, places))

    @cached_property
    def read(self) -> FourReadings:
        """The four readings: without the piece, then with it."""
        front, rear = self.on_kg
        return FourReadings(
            (self.weight(self.tractor.front_kg), self.weight(self.tractor.rear_kg)),
            (self.weight(front), self.weight(rear)),
            self.length(self.tractor.wheelbase_m),
        )

    @property
    def forecast(self) -> float:
        """What the formula says that the piece takes off the front axle, in the unit shown."""
        return statics.front_gain(
            self.weight(self.piece.weight_kg),
            self.length(self.piece.ahead_m),
            self.length(self.tractor.wheelbase_m),
        )

    @property
    def reach(self) -> float:
        """How far the factor's axis reaches to each side of the reading."""
        factor, u = self.read.value("factor"), self.read.u_of("factor", self.u)
        return float(max(2 * abs(self.claim - factor), 6 * u))

    def places(self, result: str) -> int:
        """Digits of a result and of its ±."""
        return FACTOR_PLACES if result == "factor" else self.units.weight_step[1]

    def plus_minus(self, result: str, u: Numeric) -> Numeric:
        """The ± of a result as it is printed, twice its standard uncertainty, rounded up.

        u       standard uncertainty of one reading
        """
        return raised_to_print(K * self.read.u_of(result, u), self.places(result))

    def show_plus_minus(self, result: str, u: Numeric) -> str:
        """The size of a result with its ±, and its unit if it has one."""
        places = self.places(result)
        value = show_number(abs(self.read.value(result)), places)
        text = f"{value} ± {show_number(self.plus_minus(result, u), places)}"
        return text if result == "factor" else f"{text} {self.units.weight}"

    def allowed(self, claim: Numeric, u: Numeric) -> Numeric:
        """Whether a claimed factor lies inside what the readings allow."""
        return abs(claim - self.read.value("factor")) <= K * self.read.u_of("factor", u)

    @property
    def guess_inputs(self) -> tuple[Input, ...]:
        """What moves in the first act: the pile, by its number; 0 is none."""
        return (Input("pile", 0, len(PILES), 0),)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves in the second act: the pile said, the claim, and how far off readings are."""
        step, places = self.error_step
        factor, reach = self.read.value("factor"), 0.95 * self.reach
        low, high = (round(factor + way * reach, FACTOR_PLACES) for way in (-1, 1))
        return (
            *self.guess_inputs,
            Input("claim", low, high, self.claim, 0.01, FACTOR_PLACES),
            Input("u", step, round(_WORSE * self.u, places), self.u, step, places),
            PART,
        )


def crew_bucket(**shown: Any) -> BackedCase:
    """The invented crew's bucket as it was weighed on its day, and the claim that it counts twice.

    shown       system, sheets, as BackedCase takes them

    >>> crew_bucket().show_plus_minus("factor", crew_bucket().u)
    '1.72 ± 0.07'
    """
    day = bucket_day()
    front, rear, front_on, rear_on = (
        axle.kg for row in day.current for axle in (row.front, row.rear) if axle
    )
    tractor = Tractor(day.machine.name, day.machine.wheelbase_m, front, rear)
    on = front_on, rear_on
    return BackedCase(tractor, demo_loader()[1], on, READING_ERROR_KG, 2.0, **shown)
