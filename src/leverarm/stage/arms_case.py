"""A loader with something in its bucket, and what the scales read along its lift.

The bucket floor is kept flat.  How far the arms have turned is told by the height of the bucket
pin, so its sine is known and its cosine is a root.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from leverarm import statics
from leverarm.axles import predict
from leverarm.machine import Tractor
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, show, to_unit
from leverarm.stability import Loader
from leverarm.stage.case import AXLES, PART, SHEETS, SaidCase
from leverarm.stage.recorder import least, most, root
from leverarm.stage.recording import Input
from leverarm.stage.sheet import Paper, full_load

# What moves when the arms do.
MOVING = ("arms", "bucket", "load")


@dataclass(frozen=True)
class ArmsCase(SaidCase):
    """A bare tractor, its loader and what lies in the bucket, with how it is shown.

    system      "lb" or "kg";  sheets  the sizes of paper drawn
    """

    moves: ClassVar[tuple[str, ...]] = ("height", "load", "hoist", *AXLES)
    tractor: Tractor
    loader: Loader
    load_kg: float
    system: str = "lb"
    sheets: tuple[Paper, ...] = SHEETS

    def __post_init__(self) -> None:
        loader = self.loader
        if not loader.lowest_deg < 0 < loader.highest_deg:
            raise Refusal(
                "lift of the loader",
                f"a pivot {show(loader.pivot_height_m, 'length')} up",
                "arms that pass level on their way up",
                "tell a lift whose bucket pin goes from under the arm pivot to above it",
            )
        for height in (self.heights[0], self.heights[1]):
            pieces = loader.at(loader.angle_at(height), self.load_kg)
            if predict(self.tractor, *pieces).lift:
                raise Refusal(
                    "load in the bucket",
                    show(self.load_kg, "weight"),
                    "a load that leaves something on both axles",
                    "take some of it out",
                )

    @property
    def heights(self) -> tuple[float, float, float]:
        """How high the bucket pin is with the arms low, level and highest, meters."""
        loader = self.loader
        low, high = (loader.pin_at(deg)[1] for deg in (loader.lowest_deg, loader.highest_deg))
        return low, loader.pivot_height_m, high

    def weight_of(self, name: str, v: Mapping[str, Numeric]) -> Numeric:
        """What a moving part weighs, in the unit shown."""
        if name == "load":
            return v["load"]
        part = getattr(self.loader, name)
        return to_unit(part.weight_kg, "weight", self.units.weight)

    def turn(self, height_m: Numeric) -> tuple[Numeric, Numeric]:
        """Cosine and sine of the arms' angle above level, for the height of the bucket pin."""
        s = (height_m - self.loader.pivot_height_m) / self.loader.arm_m
        return root(most(1 - s * s, 0.0)), s

    @property
    def bare(self) -> dict[str, float]:
        """What the scales read under the bare tractor, in the unit shown."""
        return {axle: self.weight(getattr(self.tractor, f"{axle}_kg")) for axle in AXLES}

    @property
    def start(self) -> dict[str, float]:
        """The bare readings and the load, in the unit shown."""
        return {**self.bare, "load": self.weight(self.load_kg)}

    @property
    def said(self) -> tuple[Input, ...]:
        """What the reader says: the two changes."""
        reach = 1.5 * self.weight(self.load_kg)
        return tuple(Input(f"{axle}_said", -reach, reach, 0, 1, 0, True) for axle in AXLES)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves in the second act."""
        (step, places), start = self.units.length_step, self.start
        by = 5.0 if self.system == "lb" else 2.0
        low, level, high = (self.length(height) for height in self.heights)
        return (
            Input("height", low, high, level, step, places),
            Input("load", 0, self.heaviest, start["load"], by),
            *(
                Input(axle, by * round(0.5 * start[axle] / by), 1.5 * start[axle], start[axle], by)
                for axle in AXLES
            ),
            *self.said,
            Input("hoist", 0, 1, 0, 0.01, 2),
            PART,
        )

    @property
    def level_change(self) -> float:
        """What the front gains from arms low to arms level, in the unit shown."""
        low = self.loader.places(*self.turn(self.heights[0]))
        fronts = [arms_loads(self, self.start, at)[0] for at in (self.loader.places(1.0, 0.0), low)]
        return float(fronts[0] - fronts[1])

    @property
    def full(self) -> float:
        """The load a whole column stands for: nearly all of the heaviest load, arms level."""
        heavy = {**self.start, "load": self.heaviest}
        front, rear, _ = arms_loads(self, heavy, self.loader.places(1.0, 0.0))
        return full_load(0.92 * max(front, rear))

    @property
    def heaviest(self) -> float:
        """The heaviest load that can be tried, in the unit shown: it lifts the rear."""
        tens = 10 if self.system == "lb" else 5
        return tens * round(2.6 * self.start["load"] / tens)


Places = Mapping[str, tuple[Numeric, Numeric]]


def arms_loads(
    case: ArmsCase, v: Mapping[str, Numeric], places: Places
) -> tuple[Numeric, Numeric, Numeric]:
    """Front and rear reading with the loader's parts at these places, and what the rear lacks.

    The same as :func:`leverarm.axles.predict`: an axle that would be pulled up carries nothing.
    What it lacks is zero or less.
    """
    L, loader = case.tractor.wheelbase_m, case.loader
    hung = [(case.weight_of(name, v), places[name][0]) for name in MOVING]
    if loader.frame:
        frame = to_unit(loader.frame.weight_kg, "weight", case.units.weight)
        hung.append((frame, loader.frame.ahead_m))
    front = v["front"] + sum(statics.front_gain(W, a, L) for W, a in hung)
    rear = v["rear"] + sum(statics.rear_change(W, a, L) for W, a in hung)
    lacks = least(rear, 0.0)
    return front + lacks, most(rear, 0.0), lacks
