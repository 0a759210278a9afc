"""A plank on two scales, the jug that goes on it, and what of it a reader moves, in the unit shown.

::

      jug past the left pipe    pipe to pipe
         W <------------------- left <----------------- right

The left scale takes the front axle's place and the right one the rear axle's, so the formulas and
the picture are those of the tractor.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from leverarm import statics
from leverarm.machine import demo_tractor
from leverarm.numerals import Numeric
from leverarm.quantities import read, set_fields
from leverarm.stage.case import PART, SHEETS, Shown
from leverarm.stage.recorder import least, most
from leverarm.stage.recording import Input
from leverarm.stage.sheet import Paper, full_load

# Its two scales, and which axle's place each takes.
SIDES = {"left": "front", "right": "rear"}
# How far the plank reaches past each pipe, in shares of pipe to pipe: 18 in of 48.
ENDS = 18 / 48
# Half of the jug's width, in the same shares: it stays on the plank.
_HALF_JUG = 3 / 48
# What a whole column may stand for, in the unit shown.
_FULL_LOADS = (10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 250, 300, 400, 500, 600, 800)
# A jug is lower than a tractor: how far the floor moves down, and how much longer columns get.
_ROOM = {"desk": (-24, 24), "large": (12, -6)}
# How far the jug's weight and the bare readings can be moved up.
_HEAVIER, _MORE = 1.6, 1.2
MOST_READING_KG, MOST_JUG_KG = 150.0, 60.0


@dataclass(frozen=True)
class PlankCase(Shown):
    """What both scales read under the bare plank, and the jug that goes on it.

    span        from pipe to pipe;  past  of the jug past the left pipe, where it is asked about
    system      "lb" or "kg";  sheets  the sizes of paper drawn

    >>> round(PlankCase(past="12 in").past_m, 4)
    0.3048
    """

    light = True

    span_m: float
    left_kg: float
    right_kg: float
    jug_kg: float
    past_m: float
    system: str
    sheets: tuple[Paper, ...]

    def __init__(
        self,
        span: str | float = "48 in",
        left: str | float = "19 lb",
        right: str | float = "39 lb",
        jug: str | float = "24 lb",
        past: str | float = "12 in",
        *,
        system: str = "lb",
        sheets: tuple[Paper, ...] = SHEETS,
    ) -> None:
        span_m = read(span, "length", "pipe to pipe", 0.3, 4.0)
        on_plank = (ENDS - _HALF_JUG) * span_m
        set_fields(
            self,
            span_m=span_m,
            left_kg=read(left, "weight", "left reading", 0.5, MOST_READING_KG),
            right_kg=read(right, "weight", "right reading", 0.5, MOST_READING_KG),
            jug_kg=read(jug, "weight", "weight of the jug", 0.5, MOST_JUG_KG),
            past_m=read(
                past,
                "length",
                "jug past the left pipe",
                0.02,
                on_plank,
                do="keep the jug on the plank",
            ),
            system=system,
            sheets=sheets,
        )

    def on_paper(self, sheet: Paper) -> Paper:
        """The sheet at the scale that puts the pipes where the tractor's axles stand."""
        down, longer = _ROOM.get(sheet.name, (0, 0))
        return replace(
            sheet,
            per_m=sheet.per_m * demo_tractor().wheelbase_m / self.span_m,
            floor=sheet.floor + down,
            tape=sheet.tape + down,
            top=sheet.top + down,
            reach=sheet.reach + longer,
        )

    @property
    def bare(self) -> dict[str, float]:
        """The plank alone, in the unit shown: span, both readings, the jug's weight and place."""
        return {
            "span": self.length(self.span_m),
            "left": self.weight(self.left_kg),
            "right": self.weight(self.right_kg),
            "weight": self.weight(self.jug_kg),
            "past": self.length(self.past_m),
        }

    def past_at(self, place: str) -> float:
        """How far past the left pipe a place is: two easy ones, then the jug's own."""
        span, past = self.bare["span"], self.bare["past"]
        return {"above": 0.0, "halfway": -span / 2, "past": past}[place]

    def said(self, place: str = "past") -> tuple[Input, ...]:
        """What the reader says of a place: the change of each scale."""
        reach, (step, places) = 3 * self.bare["weight"], self.units.weight_step
        return tuple(
            Input(said_name(place, side), -reach, reach, 0, step, places, True) for side in SIDES
        )

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves in the last act, where the jug is past the left pipe."""
        bare = self.bare
        (w_step, w_places), (l_step, l_places) = self.units.weight_step, self.units.length_step
        out = self.length((ENDS - _HALF_JUG) * self.span_m)
        short, long = self.length(0.85 * self.span_m), self.length(1.15 * self.span_m)
        heavy = round(_HEAVIER * bare["weight"], w_places)
        return (
            Input("weight", 0, heavy, bare["weight"], w_step, w_places),
            Input("past", -short - out, out, bare["past"], l_step, l_places),
            Input("span", short, long, bare["span"], l_step, l_places),
            *(
                Input(side, 0, round(_MORE * bare[side], w_places), bare[side], w_step, w_places)
                for side in SIDES
            ),
            *self.said(),
            PART,
        )

    @property
    def full(self) -> float:
        """The load a whole column stands for: room for the jug at either end of the plank."""
        bare = self.bare
        shown = _MORE * max(bare["left"], bare["right"]) + _HEAVIER * bare["weight"] * (1 + ENDS)
        return full_load(shown, _FULL_LOADS)


def said_name(place: str, side: str) -> str:
    """The input that holds what was said of a place and a scale."""
    return f"{side}_said" if place == "past" else f"{place}_{side}_said"


def known_name(place: str, side: str) -> str:
    """The input that becomes 1 once it was said."""
    return said_name(place, side).replace("_said", "_known")


@dataclass(frozen=True)
class PlankLoads:
    """What both scales read with the jug on, and whose load is whose, in the unit shown.

    left, right                 the readings;  lifted_left, lifted_right  whether one lets go
    jug_left, jug_right         what of the jug each carries
    gone_left, gone_right       what each lost to the other
    """

    left: Numeric
    right: Numeric
    lifted_left: Numeric
    lifted_right: Numeric
    jug_left: Numeric
    jug_right: Numeric
    gone_left: Numeric
    gone_right: Numeric


def plank_loads(v: Mapping[str, Numeric]) -> PlankLoads:
    """The loads for span, left, right, weight and past.

    A scale that would be pulled up carries nothing, and the plank tips over the other pipe.

    >>> on = plank_loads({"span": 48, "left": 19, "right": 39, "weight": 24, "past": 12})
    >>> on.left, on.right, on.gone_right
    (49.0, 33.0, 6.0)
    """
    weight = v["weight"]
    left = v["left"] + statics.front_gain(weight, v["past"], v["span"])
    right = v["right"] + statics.rear_change(weight, v["past"], v["span"])
    now_left, now_right = (
        most(left + least(right, 0.0), 0.0),
        most(right + least(left, 0.0), 0.0),
    )
    return PlankLoads(
        left=now_left,
        right=now_right,
        lifted_left=left < 0,
        lifted_right=right < 0,
        jug_left=least(most(now_left - v["left"], 0.0), weight),
        jug_right=least(most(now_right - v["right"], 0.0), weight),
        gone_left=most(v["left"] - now_left, 0.0),
        gone_right=most(v["right"] - now_right, 0.0),
    )
