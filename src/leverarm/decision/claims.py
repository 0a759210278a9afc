"""Spoken claims against statics: what is said, what is so, and the number for one machine.

Every claim is two expressions on the same letters: what the words claim, and what our
formulas give.  Both run on floats, on Measured numbers and on sympy symbols, so that a
test can say where, if anywhere, the claim holds.

Letters: W, a, h bucket, its overhang and height; V, v frame of the loader and its
overhang; L wheelbase; B, b ballast and its distance behind the rear axle; A area of a
print under the load N, D a load added; lead percent and path meters; r a lift in meters;
k a factor.
"""

from collections.abc import Callable
from dataclasses import dataclass, fields

from leverarm import driveline, statics
from leverarm.ground import formulas as soil
from leverarm.ground.tire import GROWTH
from leverarm.numerals import Numeric
from leverarm.quantities import show, show_number, to_unit
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
    def numbers(self):
        """The same without plus or minus."""
        return Letters(*(value_of(getattr(self, one.name)) for one in fields(self)))


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


@dataclass(frozen=True)
class SpokenClaim:
    """One claim.

    said        the words;  truth  what statics says, for any machine
    claimed, so   calls on Letters: what the words claim, and what our formulas give, of one
                  quantity
    kind        of that quantity, for printing
    number      a call (letters, system) -> the sentence with this machine's number
    say         what to say instead
    """

    key: str
    said: str
    truth: str
    claimed: Callable[[Letters], Numeric]
    so: Callable[[Letters], Numeric]
    kind: str
    number: Callable[[Letters, str], str]
    say: str

    def holds(self, letters):
        """True where claim and truth agree for these numbers, within the plus or minus if there is
        one.
        """
        gap = self.claimed(letters) - self.so(letters)
        U = gap.expanded() if hasattr(gap, "expanded") else 0.0
        return (
            abs(value_of(gap)) <= max(U, 1e-9 * abs(value_of(self.so(letters)))) if U == U else None
        )


def _kg(number, system):
    if hasattr(number, "expanded"):
        return plus_minus(number if number.value >= 0 else -number, "weight", system, brief=True)
    return show(abs(number), "weight", system)


def bucket_front(x):
    """What the bucket puts on the front axle."""
    return statics.front_gain(x.W, x.a, x.L)


def loader_front(x):
    """What bucket and frame put on the front axle."""
    return statics.reactions([x.W, x.V], [x.a, x.v], x.L)[0]


def ballast_place(x):
    """Where the ballast hangs, ahead of the front axle: so it is negative."""
    return -x.L - x.b


def ballast_front(x):
    """What the ballast does to the front axle."""
    return statics.front_gain(x.B, ballast_place(x), x.L)


def ballast_rear(x):
    """What the ballast does to the rear axle."""
    return statics.rear_change(x.B, ballast_place(x), x.L)


def stays(x):
    """What stays of the loader's front gain with the bucket off, percent."""
    return statics.share(statics.front_gain(x.V, x.v, x.L), loader_front(x))


def raised(x):
    """Front change when the bucket goes straight up by r, on level ground."""
    low, high = (statics.front_gain_on_grade(x.W, x.a, h, x.L, 1, 0) for h in (x.h, x.h + x.r))
    return high - low


def heavier_tangent(x, factor=1):
    """Tangent of the tipping angle of bucket and frame, every weight taken factor times."""
    weights = [factor * x.W, factor * x.V]
    return tipping_tangent(
        mean_place(weights, [x.a, x.v]) + x.L, mean_place(weights, [x.h, x.h + x.r])
    )


def print_pressure(x, growth=GROWTH):
    """Mean pressure under a front tire with the load added and the print grown."""
    return soil.mean_pressure(x.N + x.D, 1, soil.grown_area(x.A, x.N, x.N + x.D, growth))


def psi_in_proportion(x):
    """The pressure if the print did not grow at all."""
    return print_pressure(x, 0)


def stress_below(x):
    """Stress in the soil 30 cm under a front tire with the loader off."""
    return soil.stress_under_center(
        soil.mean_pressure(x.N, 1, x.A), soil.radius_of(x.A), STRESS_DEPTH_M, 4
    )


def _far(meters, system):
    """A long way, in meters or feet."""
    return (
        f"{show_number(meters, 0)} m"
        if system == "kg"
        else f"{show_number(to_unit(meters, 'length', 'ft'), 0)} ft"
    )


def _factor(number):
    return show_number(value_of(number), 2)


CLAIMS = (
    SpokenClaim(
        "twice",
        "Bucket off removes twice its weight.",
        "From the front axle W(1 + a/L): twice only where the overhang is one wheelbase. "
        "The machine loses W.",
        lambda x: 2 * x.W,
        bucket_front,
        "weight",
        lambda x, s: (
            f"Here {_kg(bucket_front(x), s)} comes off the front axle: "
            f"{_factor(bucket_front(x) / x.W)} times the bucket. "
            f"The machine loses {_kg(x.W, s)}."
        ),
        "It takes more than its weight off the front axle. Let me show you the two readings.",
    ),
    SpokenClaim(
        "whole_loader",
        "The whole loader doubles its own weight.",
        "Arms and frame sit near the front axle; the factor is near 1 for them. Use the scales.",
        lambda x: 2 * (x.W + x.V),
        loader_front,
        "weight",
        lambda x, s: (
            f"Here the loader, {_kg(x.W + x.V, s)}, puts {_kg(loader_front(x), s)} on "
            "the front axle: "
            f"{_factor(loader_front(x) / (x.W + x.V))} times its weight; the frame alone "
            f"{_factor(statics.front_gain(x.V, x.v, x.L) / x.V)} times."
        ),
        "The bucket counts most, because it hangs far out. The rest counts about once.",
    ),
    SpokenClaim(
        "bucket_enough",
        "Bucket off is enough.",
        "Pound for pound the best step, but part of the loader's front gain stays. "
        "Check whether the manual allows running without an attachment.",
        lambda x: 0 * x.W,
        stays,
        "share",
        lambda x, s: (
            f"Here {show_number(value_of(stays(x)), 0)} % of the loader's front gain "
            "stays with the bucket off."
        ),
        "It is the most for the least work. Here is what stays. "
        "And your loader manual must allow it.",
    ),
    SpokenClaim(
        "ballast_fixes",
        "Rear ballast fixes it.",
        "It takes B·b/L off the front and adds B(1 + b/L) to the rear and B to the "
        "machine: right for loader work, not for turf.",
        lambda x: 0 * x.B,
        lambda x: ballast_front(x) + ballast_rear(x),
        "weight",
        lambda x, s: (
            f"Here it takes {_kg(ballast_front(x), s)} off the front, "
            f"puts {_kg(ballast_rear(x), s)} on the rear, "
            f"and the ground carries {_kg(x.B, s)} more."
        ),
        "For loader work it belongs there. On the lawn the ground carries it too.",
    ),
    SpokenClaim(
        "fluid",
        "Fluid or wheel weights take load off the front.",
        "Centered on the rear axle: the front changes by nothing.",
        lambda x: -x.B,
        lambda x: statics.front_gain(x.B, -x.L, x.L),
        "weight",
        lambda x, s: (
            f"Here {_kg(x.B, s)} in the rear tires changes the front by "
            f"{show(value_of(statics.front_gain(x.B, -x.L, x.L)), 'weight', s)}, "
            "and the rear carries all of it."
        ),
        "They steady the rear. The front scale does not notice.",
    ),
    SpokenClaim(
        "happy_soil",
        "Lighter front, happy soil.",
        "The rear increase exceeds the front relief by exactly B.",
        lambda x: 0 * x.B,
        lambda x: ballast_rear(x) + ballast_front(x),
        "weight",
        lambda x, s: (
            f"Here the ballast relieves the front by {_kg(ballast_front(x), s)} and "
            f"loads the rear by {_kg(ballast_rear(x), s)}. "
            f"The difference, {_kg(ballast_rear(x) + ballast_front(x), s)}, is the ballast."
        ),
        "Look at both scales together. What hangs on the machine, the ground carries.",
    ),
    SpokenClaim(
        "four_wheel",
        "Four-wheel drive on turf is harmless.",
        "With a lead something must slip; in tight turns the front is dragged.",
        lambda x: 0 * x.path,
        lambda x: driveline.slip_distance(x.path, x.lead),
        "length",
        lambda x, s: (
            f"Here the lead is {show_number(value_of(x.lead), 1)} %: "
            f"over {_far(value_of(x.path), s)} of "
            "mowing some tire slips "
            f"{_far(value_of(driveline.slip_distance(x.path, x.lead)), s)}, "
            "turns not counted."
        ),
        "With the front drive in, some tire slips. When it must be in and when out, "
        "your manual says.",
    ),
    SpokenClaim(
        "raise",
        "Raise the bucket to shift weight back.",
        "Straight up changes no level reading and lifts the center of gravity; "
        "along its arc the overhang changes too.",
        lambda x: -x.W * x.r / x.L,
        raised,
        "weight",
        lambda x, s: (
            f"Here, {show(value_of(x.r), 'length', s)} straight up changes the front by "
            f"{show(value_of(raised(x)), 'weight', s)}."
        ),
        "Up does not help the front axle, and it makes the machine easier to tip. Carry it low.",
    ),
    SpokenClaim(
        "heavier_stable",
        "Heavier is more stable.",
        "Stability is where the center of gravity is.",
        lambda x: x.k * heavier_tangent(x),
        lambda x: heavier_tangent(x, x.k),
        "number",
        lambda x, s: (
            f"Take every weight {_factor(x.k)} times: the tipping angle is multiplied by "
            f"{_factor(heavier_tangent(x, x.k) / heavier_tangent(x))}."
        ),
        "Where the weight sits decides, not how much there is.",
    ),
    SpokenClaim(
        "psi",
        "More weight, more psi in proportion.",
        "At unchanged tire pressure the print grows; pressure rises little, "
        "the stress reaches deeper.",
        psi_in_proportion,
        print_pressure,
        "pressure",
        lambda x, s: (
            "Here a front tire's load rises by "
            f"{show_number(value_of(statics.share(x.D, x.N)), 0)} %; "
            "the pressure goes from "
            f"{show(value_of(soil.mean_pressure(x.N, 1, x.A)), 'pressure', s)} to "
            f"{show(value_of(print_pressure(x)), 'pressure', s)}."
        ),
        "The surface notices little. Deeper down it does.",
    ),
    SpokenClaim(
        "no_ruts",
        "Off means no ruts.",
        "Wetness and passes dominate: never promise.",
        lambda x: 0 * x.A,
        stress_below,
        "pressure",
        lambda x, s: (
            "Here, with the loader off, the soil 30 cm (12 in) under a front tire still carries "
            f"{show(value_of(stress_below(x)), 'pressure', s)}. "
            "Whether that makes a rut, no scale can say."
        ),
        "The front axle carries less. About ruts I promise nothing: wetness and passes decide.",
    ),
)

NEVER_PROMISE = (
    "no ruts",
    "hours of tire life",
    "fuel saved",
    "resale value",
    "warranty",
    "a slope without danger",
    "lift capacity",
)
RED_LINES = (
    "Front axle or a tire over its rating: stop, call the service department.",
    "Rear axle under the manual's least share: stop, call the service department.",
    "Tires that do not match in four-wheel drive: stop, call the service department.",
    "Never promise: " + ", ".join(NEVER_PROMISE) + ".",
    (
        "Slopes, ballast, pressures, roll bar and belt: the operator's manual. Loader off, "
        "stands, no attachment: the loader manual."
    ),
)


NEEDS = {
    "twice": "bucket",
    "whole_loader": "bucket",
    "bucket_enough": "bucket",
    "ballast_fixes": "ballast",
    "fluid": "ballast",
    "happy_soil": "ballast",
    "four_wheel": "drive",
    "raise": "bucket",
    "heavier_stable": "bucket",
    "psi": "tires",
    "no_ruts": "tires",
}


def told(case, part):
    """True where the Case has this part: bucket, ballast, tires, drive."""
    return {"tires": case.tires.front, "drive": case.drive and case.drive.drive}.get(
        part, getattr(case, part, None)
    ) is not None


MISSING = {
    "bucket": (
        "No bucket that comes off by itself was told for this machine, so there is no number."
    ),
    "ballast": "No ballast was told for this machine, so there is no number.",
    "drive": "No front drive was told for this machine, so there is no number.",
    "tires": "No tire print was told for this machine, so there is no number.",
    "height": "No height of the bucket was told for this machine, so there is no number.",
}


def missing_for(claim, case):
    """The sentence that says what a claim's number lacks for this Case; "" where nothing does."""
    part = NEEDS[claim.key]
    if not told(case, part):
        return MISSING[part]
    if claim.key == "heavier_stable" and case.bucket.height_m is None:
        return MISSING["height"]
    return ""


def true_number(claim, case, system="kg"):
    """The sentence with this machine's number, or the one that says what was not told."""
    return missing_for(claim, case) or claim.number(letters_of(case), system)


def holds_for(claim, case):
    """Whether a claim holds for a Case: True, False, or None where that cannot be known."""
    return None if missing_for(claim, case) else claim.holds(letters_of(case))


def letters_of(case, path_m=1000.0):
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


def facts_of(claim, case):
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
        Fact("pressure", print_pressure(x), under),
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
