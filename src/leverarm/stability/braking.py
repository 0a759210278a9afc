"""Braking and holding on a grade: what friction each braked axle needs, against what there is.

A light rear axle and a loaded bucket on a downhill is how a machine gets away:
the rear brakes, or an engine that holds through the rear wheels alone, press on
the axle that carries least.
"""

import math
from dataclasses import dataclass

from leverarm import statics
from leverarm.axles import MOST_GRADE_DEG, AxleLoads, read_pull, read_slowing
from leverarm.machine import Attachment, Tractor
from leverarm.quantities import Refusal, Sourced, read
from leverarm.stability.formulas import (
    friction_demand,
    holding_tangent,
    mean_place,
    slope_push,
    tipping_tangent,
)
from leverarm.stability.pieces import weights_and_places

BRAKES = {"rear": ("rear",), "front": ("front",), "all": ("front", "rear")}
MOST_FRICTION = 3.0

# Rough figures for a locked or nearly locked tire.  The ground under the machine decides.
_NOON = "Noon, Engineering Analysis of Vehicular Accidents, 1994, sliding, as cited"
_WONG = "Wong, Theory of Ground Vehicles, table of road adhesion, sliding, from memory"
FRICTION = {
    "dry concrete": Sourced(0.75, "", _NOON),
    "firm dry earth": Sourced(0.65, "", _WONG),
    "gravel": Sourced(0.55, "", _WONG),
    "wet earth": Sourced(0.40, "", _WONG),
    "wet grass": Sourced(0.20, "", _NOON),
}


@dataclass(frozen=True)
class Grip:
    """One braked axle: what presses it down, its part of the push, the friction that takes.

    demanded    None where the axle carries nothing: it can hold nothing
    """

    axle: str
    load_kg: float
    push_kg: float
    demanded: float | None

    def slides(self, friction: str | float) -> bool:
        """True where the friction there is cannot supply what is demanded."""
        return self.demanded is None or self.demanded > read(
            friction, "number", "friction there is", 0, MOST_FRICTION
        )


@dataclass(frozen=True)
class Braking:
    """A machine held or slowed on a grade.

    loads       on each axle, square to the ground; at the limit where one lifts
    lifted      the axle that carries nothing, or None
    push_kg     what brakes or drive must supply along the ground, without its sign
    grips       one Grip for each axle that brakes or drives
    """

    loads: AxleLoads
    lifted: str | None
    push_kg: float
    grips: tuple[Grip, ...]


def brake(
    tractor: Tractor,
    *attachments: Attachment,
    grade_deg: str | float = 0.0,
    slowing: str | float = 0.0,
    brakes: str = "rear",
    pull: str | float = 0.0,
    pull_height: str | float = 0.0,
) -> Braking:
    """Braking of a machine on a grade, or driving it there.

    grade_deg   nose uphill positive; nose downhill is negative
    slowing     loss of speed over gravity, of a machine rolling nose first; 0 holds it or lets
                it roll steadily, 0.1 is about 1 m/s each second; negative while it speeds up
    brakes      "rear", "front" or "all": the axles that brake or drive; a two-wheel-drive
                transmission holds and drives through "rear"
    pull        of what hangs on the drawbar, along the ground, as a weight: positive holds the
                machine back, negative pushes it, as a trailer on a downhill does
    pull_height of the drawbar above the ground
    With all four, each axle is taken to push by what presses on it: the best there is, since
    neither slides before the other.  What each really does depends on the brakes.

    >>> from leverarm.machine import demo_loader, demo_tractor
    >>> held = brake(demo_tractor(), *demo_loader(), grade_deg=-15)
    >>> f"{held.push_kg:.0f} {held.grips[0].load_kg:.0f} {held.grips[0].demanded:.2f}"
    '446 480 0.93'
    """
    grade = _grade(grade_deg)
    weights, stations, heights = weights_and_places(tractor, attachments)
    slow, s = read_slowing(slowing), math.sin(grade)
    back = read_pull(pull, pull_height)
    front, rear = statics.reactions_on_grade(
        weights, stations, heights, tractor.wheelbase_m, math.cos(grade), s - slow
    )
    moved = statics.pull_transfer(*back, tractor.wheelbase_m)
    loads = front - moved, rear + moved
    push = abs(slope_push(sum(weights), s, slow, back[0]))
    lifted = next((axle for axle, load in zip(("front", "rear"), loads) if load <= 0), None)
    loads = _at_limit(loads, lifted)
    return Braking(loads, lifted, push, _grips(loads, push, _axles(brakes)))


def _grade(grade_deg):
    return math.radians(read(grade_deg, "angle", "grade", -MOST_GRADE_DEG, MOST_GRADE_DEG))


def _axles(brakes):
    """The axles that brake."""
    if brakes not in BRAKES:
        raise Refusal("brakes", brakes, "'rear', 'front' or 'all'", "say which axles brake")
    return BRAKES[brakes]


def _at_limit(loads, lifted):
    """Both loads; where one axle lifts the other carries everything."""
    total = sum(loads)
    return AxleLoads(*{None: loads, "front": (0.0, total), "rear": (total, 0.0)}[lifted])


def _grips(loads, push, axles):
    """Each braked axle with its part of the push, shared by what presses on each."""
    pressed = {axle: getattr(loads, f"{axle}_kg") for axle in axles}
    held = sum(pressed.values())

    def part(load):
        return push * load / held if held else push

    return tuple(
        Grip(axle, load, part(load), friction_demand(part(load), load) if load else None)
        for axle, load in pressed.items()
    )


@dataclass(frozen=True)
class Holding:
    """How steep it gets before a braked machine slides, and before it tips over an axle.

    slides_deg  None where it tips before it slides
    tips_deg    the axle uphill carries nothing
    """

    slides_deg: float | None
    tips_deg: float


def holding(
    tractor: Tractor,
    *attachments: Attachment,
    friction: str | float,
    brakes: str = "rear",
    nose: str = "down",
) -> Holding:
    """Steepest grade held, nose "down" or "up", with this friction.

    >>> from leverarm.machine import demo_loader, demo_tractor
    >>> machine = demo_tractor(), *demo_loader()
    >>> rear, four = (holding(*machine, friction=0.4, brakes=b) for b in ("rear", "all"))
    >>> f"{rear.slides_deg:.1f} {four.slides_deg:.1f}"
    '7.8 21.8'
    """
    if nose not in ("down", "up"):
        raise Refusal("nose", nose, "'down' or 'up'", "say which way the machine points")
    mu = read(friction, "number", "friction there is", 0, MOST_FRICTION, open_low=True)
    weights, stations, heights = weights_and_places(tractor, attachments)
    front, rear = statics.reactions(weights, stations, tractor.wheelbase_m)
    height = mean_place(weights, heights)
    uphill = max(0.0, rear if nose == "down" else front) / sum(weights) * tractor.wheelbase_m
    tips = tipping_tangent(uphill, height) if height else math.inf
    slides = _slides(_axles(brakes), front, rear, height / tractor.wheelbase_m, mu, nose)
    return Holding(
        None if slides is None or slides >= tips or not tips else math.degrees(math.atan(slides)),
        math.degrees(math.atan(tips)),
    )


def _slides(axles, front, rear, rise, mu, nose):
    """Tangent at which the braked axles slide; None where friction holds at any grade."""
    if len(axles) == 2:
        return mu
    (axle,) = axles
    signed = rise if (axle == "front") == (nose == "down") else -rise
    return (
        holding_tangent((front if axle == "front" else rear) / (front + rear), signed, mu)
        if mu * signed < 1
        else None
    )
