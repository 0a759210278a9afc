"""A tractor with something in its bucket on a grade, and what scales under its wheels read.

A grade is told in percent: t is its rise over its level run.  With c = 1/√(1 + t²) each weight
presses c of itself square to the ground, and with s = t·c it pulls s of itself along it.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from leverarm import statics
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, to_unit
from leverarm.stability.formulas import friction_demand, mean_place, slope_push
from leverarm.stability.pieces import weights_and_places
from leverarm.stage.arms_case import MOVING, ArmsCase
from leverarm.stage.case import AXLES, PART, to_say
from leverarm.stage.recorder import least, most, root, where
from leverarm.stage.recording import Input
from leverarm.stage.sheet import full_load

# The steepest grade drawn, in percent; the one that is asked about.
MOST_GRADE, GRADE = 30.0, 20.0
# How high the bucket pin can be raised here, as a share of the way to level: a load stays low.
_RAISED = 0.75
# The heaviest slowing that can be tried, over gravity.
_MOST_SLOWING = 0.5
# A friction that no ground gives.
NO_GROUND = 10.0


@dataclass(frozen=True)
class OnGrade:
    """A tractor held on a grade, weights in the unit shown and places in meters.

    c, s            cosine and sine of the grade, nose downhill positive
    total           everything's weight;  ahead, height   of its center of gravity
    level           front and rear reading on level ground;  now  on the grade
    moved           what the pull along the grade moves from the rear to the front
    push            what the brakes must supply along the ground
    lacks           what each axle lacks that would be pulled up, zero or less
    """

    c: Numeric
    s: Numeric
    total: Numeric
    ahead: Numeric
    height: Numeric
    level: tuple[Numeric, Numeric]
    now: tuple[Numeric, Numeric]
    moved: Numeric
    push: Numeric
    lacks: tuple[Numeric, Numeric]

    @property
    def all_need(self) -> Numeric:
        """The friction that all four wheels need to hold it."""
        return friction_demand(self.push, sum(self.now))

    @property
    def rear_need(self) -> Numeric:
        """The friction that the rear wheels need alone; NO_GROUND where there is none like it."""
        push, rear = self.push, self.now[1]
        held = where(push > 0, lambda: NO_GROUND, lambda: 0.0)
        return where(rear > 0, lambda: least(friction_demand(push, rear), NO_GROUND), lambda: held)


@dataclass(frozen=True)
class SlopeCase(ArmsCase):
    """A tractor, its loader and a load, with the grade that is asked about.

    grade       in percent, nose downhill
    """

    moves = ("grade", "load", "height", "slowing", *AXLES)
    grade: float = GRADE

    def __post_init__(self) -> None:
        super().__post_init__()
        if not 0 < self.grade <= MOST_GRADE:
            raise Refusal(
                "grade",
                f"{self.grade:g} percent",
                f"from 1 to {MOST_GRADE:g} percent",
                "tell the grade as percent, nose downhill",
            )
        loader = self.loader
        pieces = loader.at(loader.lowest_deg, self.load_kg)
        # Pulls along a grade act at a height, so each height has to be told.
        weights_and_places(self.tractor, pieces)
        if any(one < 0 for one in self.at_start.lacks):
            raise Refusal(
                "load in the bucket",
                f"a load that lifts an axle on a grade of {self.grade:g} percent",
                "a load that leaves something on both axles",
                "take some of it out",
            )

    def _loads(
        self, v: Mapping[str, Numeric], height_m: Numeric
    ) -> tuple[list[Numeric], list[Numeric], list[Numeric]]:
        """Weights in the unit shown, stations and heights in meters, of everything."""
        frame, L = self.loader.frame, self.tractor.wheelbase_m
        weights = [v["front"] + v["rear"]]
        ahead = [statics.center_of_gravity(v["front"], v["rear"], L)]
        up: list[Numeric] = [self.tractor.height_m]
        if frame:
            weights.append(to_unit(frame.weight_kg, "weight", self.units.weight))
            ahead.append(frame.ahead_m)
            up.append(frame.height_m)
        places = self.loader.places(*self.turn(height_m))
        for name in MOVING:
            weights.append(self.weight_of(name, v))
            ahead.append(places[name][0])
            up.append(places[name][1])
        return weights, ahead, up

    def on_grade(
        self, v: Mapping[str, Numeric], height_m: Numeric, t: Numeric, slowing: Numeric = 0.0
    ) -> OnGrade:
        """What everything does on a grade of t, nose downhill positive.

        height_m    of the bucket pin;  slowing  loss of speed over gravity, nose first
        """
        weights, ahead, up = self._loads(v, height_m)
        L, total = self.tractor.wheelbase_m, sum(weights)
        c = 1 / root(1 + t * t)
        s = t * c
        # In the formulas the nose goes uphill.
        front, rear = statics.reactions_on_grade(weights, ahead, up, L, c, -s - slowing)
        high = mean_place(weights, up)
        no_front, no_rear = least(front, 0.0), least(rear, 0.0)
        return OnGrade(
            c,
            s,
            total,
            mean_place(weights, ahead),
            high,
            statics.reactions_on_grade(weights, ahead, up, L, 1.0, 0.0),
            (most(front, 0.0) + no_rear, most(rear, 0.0) + no_front),
            statics.pull_transfer(-slope_push(total, -s, slowing), high, L),
            abs(slope_push(total, -s, slowing)),
            (no_front, no_rear),
        )

    @property
    def highest_m(self) -> float:
        """How high the bucket pin can be raised."""
        low, level, _ = self.heights
        return low + _RAISED * (level - low)

    @property
    def at_start(self) -> OnGrade:
        """The tractor on the grade that is asked about, arms low."""
        return self.on_grade(self.start, self.heights[0], self.grade / 100)

    @property
    def said(self) -> tuple[Input, ...]:
        reach = round(0.5 * sum(self.bare.values()), 0)
        return tuple(Input(f"{axle}_said", -reach, reach, 0, 1, 0, True) for axle in self.bare)

    @property
    def guess_inputs(self) -> tuple[Input, ...]:
        """What moves in the first act: the changes, the brakes, and whether each was said."""
        return (*super().guess_inputs, *to_say(self._brakes))

    @property
    def _brakes(self) -> tuple[Input, ...]:
        return (Input("brakes_said", -1, 1, 0),)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves in the second act."""
        (step, places), start = self.units.length_step, self.start
        by = 5.0 if self.system == "lb" else 2.0
        low, high = (self.length(height) for height in (self.heights[0], self.highest_m))
        return (
            Input("grade", -MOST_GRADE, MOST_GRADE, self.grade, 1.0, 0, True),
            Input("load", 0, self.heaviest, start["load"], by),
            Input("height", low, high, low, step, places),
            Input("slowing", 0, _MOST_SLOWING, 0, 0.01, 2),
            *(
                Input(axle, by * round(0.5 * start[axle] / by), 1.5 * start[axle], start[axle], by)
                for axle in self.bare
            ),
            *self.said,
            *self._brakes,
            PART,
        )

    @property
    def full(self) -> float:
        """The load a whole column stands for: what the front reads on the grade, with room."""
        return full_load(1.2 * self.at_start.now[0])
