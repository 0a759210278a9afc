"""What a person types on the yard page: its inputs, in the unit shown.

A box that is empty has a value of 0 and a mark of 0.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from leverarm.machine import MOST_AHEAD_M, MOST_WEIGHT_KG, WHEELBASE_M
from leverarm.numerals import Numeric
from leverarm.quantities import from_unit, to_unit
from leverarm.stage.case import AXLES, Units
from leverarm.stage.recording import Input
from leverarm.weighing.readings import SIDES

# The two weighings, and the wheels in the order they are read.
ROWS = ("on", "off")
WHEELS = tuple((axle, side) for axle in AXLES for side in SIDES)
# What is typed in a box of its own: name, kind, least and most in the base unit.
BOXES = (
    ("wheelbase", "length", *WHEELBASE_M),
    ("told_weight", "weight", 1.0, MOST_WEIGHT_KG),
    ("told_ahead", "length", -MOST_AHEAD_M, MOST_AHEAD_M),
)
# Choices, and the number that each may be.
CHOICES = {
    "step": 500.0,
    "accuracy": 50.0,
    "limit": 500.0,
    "step_known": 1.0,
    "accuracy_known": 1.0,
    "one_set": 1.0,
    "placed_known": 1.0,
    "raised": 1.0,
    "same": 2.0,
    "piece": 2.0,
    "claim_axle": 2.0,
    "claim_weighs": 1.0,
    "claim_known": 1.0,
}


def box_name(row: str, axle: str, side: str) -> str:
    """The name of the input of one reading."""
    return f"{row}_{axle}_{side}"


@dataclass(frozen=True)
class YardInputs:
    """The inputs of one unit system."""

    system: str

    @cached_property
    def units(self) -> Units:
        """Its units."""
        return Units(self.system)

    def shown(self, base: float, kind: str) -> float:
        """A base value in the unit shown."""
        return to_unit(base, kind, self.unit(kind))

    def unit(self, kind: str) -> str:
        """The unit of a kind."""
        return self.units.weight if kind == "weight" else self.units.length

    def base(self, shown: Numeric, kind: str) -> Numeric:
        """A typed value in the base unit."""
        return shown * from_unit(1.0, kind, self.unit(kind))

    @cached_property
    def most_reading(self) -> float:
        """The most that a box takes."""
        return float(round(self.shown(MOST_WEIGHT_KG, "weight")))

    @cached_property
    def inputs(self) -> tuple[Input, ...]:
        """Every input, the readings first."""
        boxes = [box_name(row, *wheel) for row in ROWS for wheel in WHEELS]
        made = [Input(name, 0, self.most_reading, 0, 0.1, 1) for name in boxes]
        made += [Input(f"has_{name}", 0, 1, 0) for name in boxes]
        starts = {"wheelbase": self.shown(1.651, "length")}
        for name, kind, low, high in BOXES:
            ends = self.shown(low, kind), self.shown(high, kind)
            made.append(Input(name, *ends, starts.get(name, 0.0), 0.01, 2))
        made += [Input(f"has_{name}", 0, 1, 0) for name, *_ in BOXES]
        # Where it was not told, one set is taken, as the workbook does.
        made += [
            Input(name, 0, high, float(name == "one_set"), 0.01, 2)
            for name, high in CHOICES.items()
        ]
        made.append(Input("tape", 0, self.shown(0.2, "length"), self.shown(0.003, "length"), 0.001))
        made += [Input(name, 0, 100_000, 0, 0.01, 2) for name in ("claim",)]
        return tuple(made)


def whole_axle(v: Mapping[str, Numeric], row: str, axle: str) -> Numeric:
    """What the boxes of an axle show together."""
    return sum(v[box_name(row, axle, side)] for side in SIDES)


def known_axle(v: Mapping[str, Numeric], row: str, axle: str) -> Numeric:
    """1 where any box of an axle holds a number."""
    left, right = (v[f"has_{box_name(row, axle, side)}"] for side in SIDES)
    return left + right > 0


def raw_axles(v: Mapping[str, Numeric]) -> dict[tuple[str, str], Numeric]:
    """What the scales showed, in the unit shown."""
    return {(row, axle): whole_axle(v, row, axle) for row in ROWS for axle in AXLES}
