"""The true numbers of a machine that answer a claim, each with what it belongs to."""

from dataclasses import dataclass

from leverarm import driveline, statics
from leverarm.decision.case import Case
from leverarm.decision.claim_numbers import (
    ballast_front,
    ballast_rear,
    bucket_front,
    heavier_tangent,
    letters_of,
    patch_pressure,
    raised,
    stays,
    stress_below,
)
from leverarm.decision.claims import SpokenClaim, missing_for
from leverarm.ground import formulas as soil


@dataclass(frozen=True)
class Fact:
    """One true number of a machine that answers a claim, with what it belongs to.

    kind, value     as in leverarm.quantities, in the base unit, without a sign; "times" for a
                    factor
    of      what it may be called a number of: "front", "rear", "machine", "piece", "tire"
    way     +1 where it goes on, -1 where it comes off, 0 where that says nothing
    hung    True where that is what hanging the piece on does, False for taking it off
    """

    kind: str
    value: float
    of: tuple[str, ...]
    way: int = 0
    hung: bool = False


def facts_of(claim: SpokenClaim, case: Case) -> tuple[Fact, ...]:
    """The Facts that answer a claim for a Case; empty where their numbers were not told."""
    if missing_for(claim, case):
        return ()
    return _FACTS[claim.key](letters_of(case).numbers)


def _changes(front, rear, way, hung):
    """The Facts of a piece: what both axles and the machine feel when it goes on or comes off.

    front, rear     what hanging it on adds to each axle, below zero where it takes off
    way     +1 where the claim hangs it on, -1 where it takes it off
    """

    def sign(change):
        return way * ((change > 0) - (change < 0))

    return (
        Fact("weight", abs(front), ("front",), sign(front), hung),
        Fact("weight", abs(rear), ("rear",), sign(rear), hung),
        Fact("weight", front + rear, ("machine",), way, hung),
        Fact("weight", front + rear, ("piece",), 0, hung),
    )


def _bucket_facts(x):
    return (
        *_changes(bucket_front(x), statics.rear_change(x.W, x.a, x.L), -1, False),
        Fact("times", bucket_front(x) / x.W, ("front", "piece")),
    )


def _loader_facts(x):
    front, rear = statics.reactions([x.W, x.V], [x.a, x.v], x.L)
    frame = statics.front_gain(x.V, x.v, x.L)
    return (
        *_changes(front, rear, -1, False),
        Fact("times", front / (x.W + x.V), ("front", "piece")),
        Fact("times", frame / x.V, ("front", "piece")),
    )


def _stays_facts(x):
    """What stays counts as going on: it is still there with the bucket off."""
    stays_kg = statics.front_gain(x.V, x.v, x.L)
    return (
        Fact("share", stays(x), ("front",), +1),
        Fact("share", 100 - stays(x), ("front",), -1),
        Fact("weight", stays_kg, ("front",), +1),
        *_changes(bucket_front(x), statics.rear_change(x.W, x.a, x.L), -1, False),
    )


def _ballast_facts(x):
    return _changes(ballast_front(x), ballast_rear(x), +1, True)


def _fluid_facts(x):
    nothing, all_of_it = (f(x.B, -x.L, x.L) for f in (statics.front_gain, statics.rear_change))
    return _changes(nothing, all_of_it, +1, True)


def _drive_facts(x):
    ground = ("tire", "front", "machine")
    return (
        Fact("share", x.lead, ground),
        Fact("length", driveline.slip_distance(x.path, x.lead), ground),
        Fact("length", x.path, ground),
    )


def _raise_facts(x):
    return (Fact("weight", raised(x), ("front",)), Fact("length", x.r, ("front", "piece")))


def _stable_facts(x):
    of = ("machine", "piece", "front", "rear")
    return (
        Fact("times", x.k, of),
        Fact("times", heavier_tangent(x, x.k) / heavier_tangent(x), of),
    )


def _pressure_facts(x):
    under = ("tire", "front", "machine")
    return (
        Fact("share", statics.share(x.D, x.N), under, +1, True),
        Fact("pressure", soil.mean_pressure(x.N, 1, x.A), under),
        Fact("pressure", patch_pressure(x), under),
    )


def _rut_facts(x):
    return (Fact("pressure", stress_below(x), ("tire", "front", "machine")),)


_FACTS = {
    "twice": _bucket_facts,
    "whole_loader": _loader_facts,
    "bucket_enough": _stays_facts,
    "ballast_fixes": _ballast_facts,
    "fluid": _fluid_facts,
    "happy_soil": _ballast_facts,
    "four_wheel": _drive_facts,
    "raise": _raise_facts,
    "heavier_stable": _stable_facts,
    "psi": _pressure_facts,
    "no_ruts": _rut_facts,
}
