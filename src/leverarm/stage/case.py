"""A bare tractor, the piece that goes on it, and what of it a reader moves, in the unit shown.

Units carry no physics: moments and sums hold in any one unit, so the formulas of
:mod:`leverarm.statics` run on what is shown.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import ClassVar, TypeVar

from leverarm import statics
from leverarm.axles import predict
from leverarm.machine import Attachment, Tractor
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, from_unit, show, show_number, to_unit, unit_of
from leverarm.stage import sheet as paper
from leverarm.stage.recorder import least, most, where, within
from leverarm.stage.recording import Input
from leverarm.stage.sheet import Paper

T = TypeVar("T")
# The parts of the second act along its one input: weighed at 1, explained at 2, free to move at 3.
WEIGHED, EXPLAINED, FREE = 1.0, 2.0, 3.0
PART = Input("part", 0, FREE, 0, 0.001, 3)
SHEETS = (paper.DESK, paper.PHONE)
AXLES = ("front", "rear")
# With a piece behind the tractor: what share of the usual size it is drawn at, and where the
# controls begin.
_BEHIND = {"desk": (0.87, 706), "large": (0.97, 826), "phone": (1.0, 384)}


@dataclass(frozen=True)
class Units:
    """The unit system of a picture: units, steps and digits.

    light   True shows tenths of a kilogram, for what a hand can carry
    """

    system: str
    light: bool = False

    @property
    def weight(self) -> str:
        """The unit of weight."""
        return unit_of("weight", self.system)

    @property
    def length(self) -> str:
        """The unit of length."""
        return unit_of("length", self.system)

    @property
    def moment(self) -> str:
        """The unit of a moment."""
        return f"{self.weight}·{self.length}"

    @property
    def one_weight(self) -> str:
        """The unit of weight as a word."""
        return {"lb": "pound", "kg": "kilogram"}[self.weight]

    @property
    def length_step(self) -> tuple[float, int]:
        """The step of a length and the digits it needs."""
        return (1.0, 0) if self.system == "lb" else (0.01, 2)

    @property
    def weight_step(self) -> tuple[float, int]:
        """The step of a weight and the digits it needs."""
        return (0.1, 1) if self.light and self.system == "kg" else (1.0, 0)

    @property
    def long_length(self) -> str:
        """A length in words, as long as those of a machine are."""
        return self.show_length(99 if self.system == "lb" else 9.99)

    def digits(self, value: Numeric, sign: bool = False) -> str:
        """A weight in digits."""
        return show_number(value, self.weight_step[1], sign=sign)

    def show_weight(self, value: Numeric, sign: bool = False) -> str:
        """A weight with its unit."""
        return f"{self.digits(value, sign)} {self.weight}"

    def show_length(self, value: Numeric) -> str:
        """A length with its unit."""
        return f"{show_number(value, self.length_step[1])} {self.length}"


@dataclass(frozen=True)
class Progress:
    """How far the second act has come.

    weighing, explaining    how much of each has been shown, 0 to 1
    done, explained, free   whether each part has begun
    """

    weighing: Numeric
    explaining: Numeric
    done: Numeric
    explained: Numeric
    free: Numeric

    @classmethod
    def of(cls, part: Numeric) -> "Progress":
        """Along the act's one input."""
        return cls(
            within(part, 0, 1),
            within(part - WEIGHED, 0, 1),
            part >= WEIGHED,
            part >= EXPLAINED,
            part >= FREE,
        )


def in_part(part: Numeric, weighing: T, weighed: T, explained: T, free: T) -> T:
    """What stands there in each part of the second act, from its beginning on.

    >>> in_part(1.5, "it rises", "what do you see?", "why", "your turn")
    'what do you see?'
    """
    later = once_weighed(part, weighed, explained, free)
    return where(part < WEIGHED, lambda: weighing, lambda: later)


def once_weighed(part: Numeric, weighed: T, explained: T, free: T) -> T:
    """The same of an act in which nothing has to be weighed first."""
    last = where(part < FREE, lambda: explained, lambda: free)
    return where(part < EXPLAINED, lambda: weighed, lambda: last)


# How long a movement takes that plays by itself, in seconds, and the one that weighs.
SECONDS = 0.9
WEIGHING = {"name": "part", "goal": WEIGHED, "seconds": SECONDS}


class Shown:
    """What every case of a lesson shares: its units and the paper it is drawn on.

    system      "lb" or "kg";  sheets  the sizes of paper drawn
    light       whether a hand can carry what is weighed, so that tenths of a kilogram count
    """

    system: str
    sheets: tuple[Paper, ...]
    light = False

    @cached_property
    def units(self) -> Units:
        """Its units."""
        return Units(self.system, self.light)

    @property
    def large(self) -> bool:
        """Whether it is drawn for a projector."""
        return self.sheets[0] is paper.PROJECTOR

    def weight(self, kg: float) -> float:
        """A weight in the unit shown, in the steps it is printed in."""
        return round(to_unit(kg, "weight", self.units.weight), self.units.weight_step[1])

    def length(self, m: float) -> float:
        """A length in the unit shown, in the steps it is printed in."""
        return round(to_unit(m, "length", self.units.length), self.units.length_step[1])

    def meters(self, length: Numeric) -> Numeric:
        """A length of the picture in meters, for drawing."""
        return length * from_unit(1.0, "length", self.units.length)


class SaidCase(Shown):
    """A case of two acts: something is said of it in the first, and moved in the second.

    moves   the inputs that the second act puts back to their start
    """

    moves: ClassVar[tuple[str, ...]] = ()

    @property
    def said(self) -> tuple[Input, ...]:
        """What the reader says, each input X_said."""
        raise NotImplementedError

    @property
    def guess_inputs(self) -> tuple[Input, ...]:
        """What moves in the first act: what is said, and whether each was, X_known."""
        return to_say(self.said)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves in the second act."""
        raise NotImplementedError


def to_say(said: tuple[Input, ...]) -> tuple[Input, ...]:
    """What moves in the first act: what is said, X_said, and whether each was, X_known."""
    known = (Input(one.name.replace("_said", "_known"), 0, 1, 0) for one in said)
    return (*said, *known)


@dataclass(frozen=True)
class HungCase(SaidCase):
    """A tractor and the piece that goes on it past one of its axles, with how it is shown.

    piece       hangs ahead of the front axle, or behind the rear axle
    system      "lb" or "kg"
    sheets      the sizes of paper drawn
    held        what hangs on the tractor already, in front
    """

    moves = ("weight", "overhang", "wheelbase", *AXLES)
    tractor: Tractor
    piece: Attachment
    system: str = "lb"
    sheets: tuple[Paper, ...] = SHEETS
    held: tuple[Attachment, ...] = ()

    def __post_init__(self) -> None:
        if self.past_m < 0:
            raise Refusal(
                f"place of the {self.piece.name}",
                show(self.piece.ahead_m, "length"),
                "a place ahead of the front axle or behind the rear axle",
                "hang it past one of the axles",
            )
        lift = predict(self.tractor, *self.held).lift
        if lift:
            raise Refusal(
                f"what hangs on the {self.tractor.name} already",
                f"a load that lifts its {lift.axle} axle",
                "what leaves load on both axles",
                "take some of it off",
            )

    @property
    def behind(self) -> bool:
        """Whether the piece hangs behind the rear axle."""
        return self.piece.ahead_m < -self.tractor.wheelbase_m / 2

    @property
    def near(self) -> str:
        """The axle that the piece hangs past."""
        return "rear" if self.behind else "front"

    @property
    def far(self) -> str:
        """The other axle."""
        return "front" if self.behind else "rear"

    @property
    def words(self) -> str:
        """The name of its table of words."""
        return "behind" if self.behind else "tractor"

    @property
    def found(self) -> str:
        """The input that becomes 1 once the reader has found what they were asked to find."""
        return "canceled" if self.behind else "doubled"

    @property
    def past_m(self) -> float:
        """How far past its axle the piece hangs."""
        ahead = self.piece.ahead_m
        return -ahead - self.tractor.wheelbase_m if self.behind else ahead

    @property
    def _reach_m(self) -> float:
        """How far past its axle it can be moved."""
        if self.behind:
            return max(0.75 * self.tractor.wheelbase_m, 1.4 * self.past_m)
        return max(1.9, 1.15 * self.tractor.wheelbase_m, 1.1 * self.past_m)

    @cached_property
    def bare(self) -> dict[str, float]:
        """What the scales read before the piece goes on, in the unit shown."""
        before = predict(self.tractor, *self.held)
        return {axle: self.weight(getattr(before, f"{axle}_kg")) for axle in AXLES}

    def on_paper(self, sheet: Paper) -> Paper:
        """The sheet, with room behind the tractor where the piece hangs there."""
        if not self.behind:
            return sheet
        share, right = _BEHIND[sheet.name]
        ahead = max((one.ahead_m for one in self.held), default=0.5) + 0.45
        back = self.tractor.wheelbase_m + self._reach_m + 0.3
        per_m = min(share * sheet.per_m, (right - 8) / (ahead + back))
        # The rear's tag needs its own room, and the ring at its end.
        tagged = sheet.width - sheet.column / 2 - sheet.tag - 26
        near_x = min(right - back * per_m, tagged - self.tractor.wheelbase_m * per_m)
        return replace(sheet, per_m=per_m, near_x=near_x)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves in the second act."""
        step, places = self.units.length_step
        weight, overhang = self.weight(self.piece.weight_kg), self.length(self.past_m)
        wheelbase = self.length(self.tractor.wheelbase_m)
        by = 5.0 if self.system == "lb" else 2.0
        tens = 10 if self.system == "lb" else 5
        heavy = tens * round(max(1.9 * weight, 10 * tens) / tens)
        bare = self.bare
        short, long = (self.length(share * self.tractor.wheelbase_m) for share in (0.85, 1.2))
        return (
            Input("weight", 0, heavy, weight, by),
            Input("overhang", 0, self.length(self._reach_m), overhang, step, places),
            Input("wheelbase", short, long, wheelbase, step, places),
            *(
                Input(axle, by * round(0.5 * bare[axle] / by), 1.5 * bare[axle], bare[axle], by)
                for axle in AXLES
            ),
            *self.said,
            PART,
            Input(self.found, 0, 1, 0),
        )

    @property
    def said(self) -> tuple[Input, ...]:
        """What the reader says: the two changes."""
        weight = self.weight(self.piece.weight_kg)
        reach = 3 * weight
        return tuple(Input(f"{axle}_said", -reach, reach, 0, 1, 0, True) for axle in AXLES)

    @property
    def full(self) -> float:
        """The load a whole column stands for: the start with room for all of the wheelbase."""
        weight = self.weight(self.piece.weight_kg)
        near, far = self.bare[self.near], self.bare[self.far]
        return paper.full_load(max(near + 2.6 * weight, far + weight))


def ahead_of_front(v: Mapping[str, Numeric], behind: bool = False) -> Numeric:
    """How far ahead of the front axle the piece hangs; behind the rear axle it is negative."""
    return -(v["wheelbase"] + v["overhang"]) if behind else v["overhang"]


def loads(v: Mapping[str, Numeric], behind: bool = False) -> tuple[Numeric, Numeric, Numeric]:
    """Front and rear reading with the piece on, and what an axle that would be pulled up lacks.

    behind      whether the overhang is told behind the rear axle
    The same as :func:`leverarm.axles.predict`: an axle that would be pulled up carries nothing.
    What it lacks is zero or less.
    """
    ahead = ahead_of_front(v, behind)
    front = v["front"] + statics.front_gain(v["weight"], ahead, v["wheelbase"])
    rear = v["rear"] + statics.rear_change(v["weight"], ahead, v["wheelbase"])
    no_front, no_rear = least(front, 0.0), least(rear, 0.0)
    return most(front, 0.0) + no_rear, most(rear, 0.0) + no_front, no_front + no_rear
