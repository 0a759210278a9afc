"""The two pivots of lesson 03: a tractor with a piece ahead of it, and what a reader moves."""

from collections.abc import Mapping
from dataclasses import dataclass

from leverarm import statics
from leverarm.machine import Attachment, Tractor
from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.case import PART, SHEETS, SaidCase, loads
from leverarm.stage.recorder import where
from leverarm.stage.recording import Input
from leverarm.stage.sheet import Paper

# What a reader says of the front's answer about the other pivot.
SAID = {"shrink": -1.0, "stay": 0.0, "grow": 1.0}


@dataclass(frozen=True)
class PivotCase(SaidCase):
    """A bare tractor and the piece ahead of it, with how they are shown.

    system      "lb" or "kg";  sheets  the sizes of paper drawn
    """

    tractor: Tractor
    piece: Attachment
    system: str = "lb"
    sheets: tuple[Paper, ...] = SHEETS

    @property
    def fixed(self) -> dict[str, float]:
        """What does not move, in the unit shown."""
        return {
            "overhang": self.length(self.piece.ahead_m),
            "wheelbase": self.length(self.tractor.wheelbase_m),
            "front": self.weight(self.tractor.front_kg),
            "rear": self.weight(self.tractor.rear_kg),
        }

    @property
    def said(self) -> tuple[Input, ...]:
        """What the reader says: which way the answer goes."""
        return (Input("answer_said", -1, 1, 0),)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves in the last act: the weight, up to where the rear has lifted; the pivot."""
        step, places = self.units.length_step
        fixed, weight = self.fixed, self.weight(self.piece.weight_kg)
        by = 10.0 if self.system == "lb" else 5.0
        lifts = statics.lifting_weight(fixed["rear"], fixed["overhang"], fixed["wheelbase"])
        heavy = by * round(max(1.2 * lifts, 2 * weight) / by)
        long = fixed["wheelbase"]
        return (
            Input("weight", 0, heavy, weight, by),
            Input("pivot", 0, long, long, step, places),
            *self.said,
            PART,
        )


@dataclass(frozen=True)
class Turning:
    """The moments about a pivot, in the unit shown.

    front, rear     both reactions;  lifted  whether the rear has come off the ground
    hung, tractor   moments of the piece, and of the tractor's own weight (lifting the nose)
    arms            the arms of W, F and R
    """

    front: Numeric
    rear: Numeric
    lifted: Numeric
    hung: Numeric
    tractor: Numeric
    arms: dict[str, Numeric]

    @classmethod
    def about(cls, case: PivotCase, v: Mapping[str, Numeric]) -> "Turning":
        """About the pivot that stands v["pivot"] behind the front axle."""
        fixed, behind = case.fixed, v["pivot"]
        front, rear, lifted = loads({**fixed, "weight": v["weight"]})
        hung_arm = fixed["overhang"] + behind
        return cls(
            front,
            rear,
            lifted,
            statics.moment(v["weight"], hung_arm),
            # The bare scales tell it: what the rear one held up, less what turns about the pivot.
            statics.moment(fixed["rear"], fixed["wheelbase"] - behind)
            - statics.moment(fixed["front"], behind),
            {"W": hung_arm, "F": behind, "R": fixed["wheelbase"] - behind},
        )


def turning_told(case: PivotCase, v: Mapping[str, Numeric]) -> dict[str, str]:
    """Every number of the last act in words."""
    units, fixed = case.units, case.fixed
    turning = Turning.about(case, v)
    places = 0 if case.system == "lb" else 1
    every = fixed["front"] + fixed["rear"] + v["weight"]
    hung = statics.moment(v["weight"], fixed["overhang"])
    long = statics.moment(v["weight"], fixed["overhang"] + fixed["wheelbase"])
    front, rear = (statics.moment(fixed[axle], fixed["wheelbase"]) for axle in ("front", "rear"))

    def bare(moment: Numeric) -> str:
        return show_number(moment, places)

    def whole(moment: Numeric) -> str:
        return f"{bare(moment)} {units.moment}"

    return {
        "piece": case.piece.name,
        "weight": units.show_weight(v["weight"]),
        "overhang": units.show_length(fixed["overhang"]),
        "wheelbase": units.show_length(fixed["wheelbase"]),
        "long": units.show_length(fixed["overhang"] + fixed["wheelbase"]),
        "pivot": units.show_length(v["pivot"]),
        "front": units.show_weight(turning.front),
        "rear": units.show_weight(turning.rear),
        "front_bare": units.show_weight(fixed["front"]),
        "rear_bare": units.show_weight(fixed["rear"]),
        "all": units.show_weight(every),
        "hung_moment": whole(hung),
        "long_moment": whole(long),
        "front_moment": whole(front),
        "rear_moment": whole(rear),
        "left": whole(rear - hung),
        "sum": whole(long + front),
        "moment": whole(turning.hung),
        "hung_bare": bare(turning.hung),
        "tractor_bare": bare(abs(turning.tractor)),
        "tractor_moment": whole(abs(turning.tractor)),
        "rest": whole(turning.hung - turning.tractor),
        **{f"arm_{letter}": units.show_length(arm) for letter, arm in turning.arms.items()},
        "arm_front": units.show_length(turning.arms["F"]),
        "arm_rear": units.show_length(turning.arms["R"]),
    }


def at_an_axle(
    case: PivotCase, v: Mapping[str, Numeric], front: str, rear: str, between: str
) -> str:
    """One text with the pivot at the front axle, one at the rear axle, one between them."""
    near = 0.5 * case.units.length_step[0]
    long = case.fixed["wheelbase"]
    return where(
        v["pivot"] < near,
        lambda: front,
        lambda: where(v["pivot"] > long - near, lambda: rear, lambda: between),
    )
