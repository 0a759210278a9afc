"""What spoken claims are about: the letters of a machine, and what our formulas make of them.

Every formula runs on floats, on Measured numbers and on sympy symbols, so that a test can
say where, if anywhere, a claim holds.

Letters: W, a, h bucket, its overhang and height; V, v loader frame and its overhang;
L wheelbase; B, b ballast and its distance behind the rear axle; A area of a contact patch
under the load N, D a load added; lead percent and path meters; r a lift in meters; k a
factor.
"""

from collections.abc import Callable
from dataclasses import dataclass, fields

from leverarm import driveline, statics
from leverarm.decision.case import Case
from leverarm.ground import formulas as soil
from leverarm.ground.tire import GROWTH
from leverarm.numerals import Numeric
from leverarm.quantities import show, show_number, system_shown, to_unit
from leverarm.stability.formulas import mean_place, tipping_tangent
from leverarm.uncertainty import plus_minus, value_of

STRESS_DEPTH_M = 0.3


@dataclass(frozen=True)
class Letters:
    """What the claims are about; numbers of a machine, or symbols."""

    W: Numeric
    a: Numeric
    h: Numeric
    V: Numeric
    v: Numeric
    L: Numeric
    B: Numeric
    b: Numeric
    A: Numeric
    N: Numeric
    D: Numeric
    lead: Numeric
    path: Numeric
    r: Numeric = 1.0
    k: Numeric = 2

    @property
    def numbers(self) -> "Letters":
        """The same without plus or minus."""
        return Letters(*(value_of(getattr(self, one.name)) for one in fields(self)))


def _kg(number, system):
    if hasattr(number, "expanded"):
        return plus_minus(abs(number), "weight", system, brief=True)
    return show(abs(number), "weight", system)


def bucket_front(x: Letters) -> Numeric:
    """What the bucket puts on the front axle."""
    return statics.front_gain(x.W, x.a, x.L)


def loader_front(x: Letters) -> Numeric:
    """What bucket and frame put on the front axle."""
    return statics.reactions([x.W, x.V], [x.a, x.v], x.L)[0]


def ballast_place(x: Letters) -> Numeric:
    """Where the ballast hangs, ahead of the front axle: so it is negative."""
    return -x.L - x.b


def ballast_front(x: Letters) -> Numeric:
    """What the ballast does to the front axle."""
    return statics.front_gain(x.B, ballast_place(x), x.L)


def ballast_rear(x: Letters) -> Numeric:
    """What the ballast does to the rear axle."""
    return statics.rear_change(x.B, ballast_place(x), x.L)


def fluid_front(x: Letters) -> Numeric:
    """What ballast centered on the rear axle does to the front: nothing."""
    return statics.front_gain(x.B, -x.L, x.L)


def stays(x: Letters) -> Numeric:
    """What stays of the loader's front gain with the bucket off, percent."""
    return statics.share(statics.front_gain(x.V, x.v, x.L), loader_front(x))


def raised(x: Letters) -> Numeric:
    """Front change when the bucket goes straight up by r, on level ground."""
    low, high = (statics.front_gain_on_grade(x.W, x.a, h, x.L, 1, 0) for h in (x.h, x.h + x.r))
    return high - low


def heavier_tangent(x: Letters, factor: Numeric = 1) -> Numeric:
    """Tangent of the tipping angle of bucket and frame, every weight taken factor times."""
    weights = [factor * x.W, factor * x.V]
    return tipping_tangent(
        mean_place(weights, [x.a, x.v]) + x.L, mean_place(weights, [x.h, x.h + x.r])
    )


def patch_pressure(x: Letters, growth: Numeric = GROWTH) -> Numeric:
    """Mean pressure under a front tire with the load added and the contact patch grown."""
    return soil.mean_pressure(x.N + x.D, 1, soil.grown_area(x.A, x.N, x.N + x.D, growth))


def psi_in_proportion(x: Letters) -> Numeric:
    """The pressure if the contact patch did not grow at all."""
    return patch_pressure(x, 0)


def stress_below(x: Letters) -> Numeric:
    """Stress in the soil 30 cm under a front tire with the loader off."""
    return soil.stress_under_center(
        soil.mean_pressure(x.N, 1, x.A), soil.radius_of(x.A), STRESS_DEPTH_M, 4
    )


def _deep(meters, system):
    """A depth, in whole centimeters or inches."""
    unit = "cm" if system_shown(system) == "kg" else "in"
    return f"{show_number(to_unit(meters, 'length', unit), 0)} {unit}"


def _far(meters, system):
    """A long way, in meters or feet."""
    return (
        f"{show_number(meters, 0)} m"
        if system_shown(system) == "kg"
        else f"{show_number(to_unit(meters, 'length', 'ft'), 0)} ft"
    )


def _factor(number):
    return show_number(value_of(number), 2)


# What may stand in braces in the sentence with a machine's number.
SHOWN: dict[str, Callable[[Letters, str | None], str]] = {
    "bucket": lambda x, s: _kg(x.W, s),
    "bucket_front": lambda x, s: _kg(bucket_front(x), s),
    "bucket_factor": lambda x, s: _factor(bucket_front(x) / x.W),
    "loader": lambda x, s: _kg(x.W + x.V, s),
    "loader_front": lambda x, s: _kg(loader_front(x), s),
    "loader_factor": lambda x, s: _factor(loader_front(x) / (x.W + x.V)),
    "frame_factor": lambda x, s: _factor(statics.front_gain(x.V, x.v, x.L) / x.V),
    "stays": lambda x, s: show_number(value_of(stays(x)), 0),
    "ballast": lambda x, s: _kg(x.B, s),
    "ballast_front": lambda x, s: _kg(ballast_front(x), s),
    "ballast_rear": lambda x, s: _kg(ballast_rear(x), s),
    "ballast_total": lambda x, s: _kg(ballast_rear(x) + ballast_front(x), s),
    "fluid_front": lambda x, s: show(value_of(fluid_front(x)), "weight", s),
    "lead": lambda x, s: show_number(value_of(x.lead), 1),
    "path": lambda x, s: _far(value_of(x.path), s),
    "slipped": lambda x, s: _far(value_of(driveline.slip_distance(x.path, x.lead)), s),
    "lift": lambda x, s: show(value_of(x.r), "length", s),
    "raised": lambda x, s: show(value_of(raised(x)), "weight", s),
    "heavier": lambda x, s: _factor(x.k),
    "tipping_factor": lambda x, s: _factor(heavier_tangent(x, x.k) / heavier_tangent(x)),
    "load_more": lambda x, s: show_number(value_of(statics.share(x.D, x.N)), 0),
    "pressure_off": lambda x, s: show(value_of(soil.mean_pressure(x.N, 1, x.A)), "pressure", s),
    "pressure_on": lambda x, s: show(value_of(patch_pressure(x)), "pressure", s),
    "depth": lambda x, s: _deep(STRESS_DEPTH_M, s),
    "stress": lambda x, s: show(value_of(stress_below(x)), "pressure", s),
}

# Per claim: what the words claim, what the formulas give of the same quantity, and its kind.
HELD_AGAINST: dict[str, tuple[Callable[[Letters], Numeric], Callable[[Letters], Numeric], str]] = {
    "twice": (lambda x: 2 * x.W, bucket_front, "weight"),
    "whole_loader": (lambda x: 2 * (x.W + x.V), loader_front, "weight"),
    "bucket_enough": (lambda x: 0 * x.W, stays, "share"),
    "ballast_fixes": (lambda x: 0 * x.B, lambda x: ballast_front(x) + ballast_rear(x), "weight"),
    "fluid": (lambda x: -x.B, lambda x: fluid_front(x), "weight"),
    "happy_soil": (lambda x: 0 * x.B, lambda x: ballast_rear(x) + ballast_front(x), "weight"),
    "four_wheel": (
        lambda x: 0 * x.path,
        lambda x: driveline.slip_distance(x.path, x.lead),
        "length",
    ),
    "raise": (lambda x: -x.W * x.r / x.L, raised, "weight"),
    "heavier_stable": (
        lambda x: x.k * heavier_tangent(x),
        lambda x: heavier_tangent(x, x.k),
        "number",
    ),
    "psi": (psi_in_proportion, patch_pressure, "pressure"),
    "no_ruts": (lambda x: 0 * x.A, stress_below, "pressure"),
}


def letters_of(case: Case, path_m: float = 1000.0) -> Letters:
    """The Letters of a Case; what was not told is None, and nothing is lent."""
    bucket, ballast, made = case.bucket, case.ballast, case.tires.front
    hung = [one for one in (bucket, case.loader) if one is not None]
    on = statics.reactions(
        [one.weight for one in hung], [one.ahead for one in hung], case.wheelbase
    )[0]
    return Letters(
        bucket and bucket.weight,
        bucket and bucket.ahead,
        (bucket and bucket.height_m) or 0.0,
        case.loader.weight,
        case.loader.ahead,
        case.wheelbase,
        ballast and ballast.weight,
        ballast and -case.wheelbase - ballast.ahead,
        made and made.area_m2,
        made and made.load_kg,
        on.value / 2,
        case.drive and case.drive.drive and case.drive.drive.lead,
        path_m,
    )
