"""Spoken claims against statics: what is said, what is so, and the number for one machine.

Every claim is two expressions on the same letters: what the words claim, and what our
formulas give.  Both run on floats, on Measured numbers and on sympy symbols, so that a
test can say where, if anywhere, the claim holds.

Letters: W, a, h bucket, its overhang and height; V, v frame of the loader and its
overhang; L wheelbase; B, b ballast and its distance behind the rear axle; A area of a
print under the load N, D a load added; lead percent and path meters; r a lift in meters;
k a factor.
"""

from dataclasses import dataclass, fields

from leverarm import driveline, statics
from leverarm.decision.demo import demo_case
from leverarm.ground import formulas as soil
from leverarm.ground.tire import GROWTH
from leverarm.quantities import show, show_number, to_unit
from leverarm.stability.formulas import mean_place, tipping_tangent
from leverarm.uncertainty import plus_minus, value_of


@dataclass(frozen=True)
class Letters:
    """What the claims are about; numbers of a machine, or symbols."""

    W: object
    a: object
    h: object
    V: object
    v: object
    L: object
    B: object
    b: object
    A: object
    N: object
    D: object
    lead: object
    path: object
    r: object = 1.0
    k: object = 2

    @property
    def numbers(self):
        """The same without plus or minus."""
        return Letters(*(value_of(getattr(self, one.name)) for one in fields(self)))


@dataclass(frozen=True)
class SpokenClaim:
    """One claim.

    said        the words;  truth  what statics says, for any machine
    claimed, so   calls on Letters: what the words claim, and what our formulas give, of one quantity
    kind        of that quantity, for printing
    number      a call (letters, system) -> the sentence with this machine's number
    say         what to say instead
    """

    key: str
    said: str
    truth: str
    claimed: object
    so: object
    kind: str
    number: object
    say: str

    def holds(self, letters):
        """True where claim and truth agree for these numbers, within the plus or minus if there is one."""
        gap = self.claimed(letters) - self.so(letters)
        U = gap.expanded() if hasattr(gap, "expanded") else 0.0
        return (
            abs(value_of(gap)) <= max(U, 1e-9 * abs(value_of(self.so(letters)))) if U == U else None
        )


def _kg(number, system):
    if hasattr(number, "expanded"):
        return plus_minus(number if number.value >= 0 else -number, "weight", system, brief=True)
    return show(abs(number), "weight", system)


def bucket_front(l):
    """What the bucket puts on the front axle."""
    return statics.front_gain(l.W, l.a, l.L)


def loader_front(l):
    """What bucket and frame put on the front axle."""
    return statics.reactions([l.W, l.V], [l.a, l.v], l.L)[0]


def ballast_place(l):
    """Where the ballast hangs, ahead of the front axle: so it is negative."""
    return -l.L - l.b


def ballast_front(l):
    """What the ballast does to the front axle."""
    return statics.front_gain(l.B, ballast_place(l), l.L)


def ballast_rear(l):
    """What the ballast does to the rear axle."""
    return statics.rear_change(l.B, ballast_place(l), l.L)


def stays(l):
    """What stays of the loader's front gain with the bucket off, percent."""
    return statics.share(statics.front_gain(l.V, l.v, l.L), loader_front(l))


def raised(l):
    """Front change when the bucket goes straight up by r, on level ground."""
    low, high = (statics.front_gain_on_grade(l.W, l.a, h, l.L, 1, 0) for h in (l.h, l.h + l.r))
    return high - low


def heavier_tangent(l, factor=1):
    """Tangent of a tipping angle of bucket and frame, every weight taken the same number of times."""
    weights = [factor * l.W, factor * l.V]
    return tipping_tangent(
        mean_place(weights, [l.a, l.v]) + l.L, mean_place(weights, [l.h, l.h + l.r])
    )


def print_pressure(l, growth=GROWTH):
    """Mean pressure under a front tire with the load added and the print grown."""
    return soil.mean_pressure(l.N + l.D, 1, soil.grown_area(l.A, l.N, l.N + l.D, growth))


def psi_in_proportion(l):
    """The pressure if the print did not grow at all."""
    return print_pressure(l, 0)


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
        "From the front axle W(1 + a/L): twice only where the overhang is one wheelbase. The machine loses W.",
        lambda l: 2 * l.W,
        bucket_front,
        "weight",
        lambda l, s: (
            f"Here {_kg(bucket_front(l), s)} comes off the front axle: {_factor(bucket_front(l) / l.W)} times the bucket. "
            f"The machine loses {_kg(l.W, s)}."
        ),
        "It takes more than its weight off the front axle. Let me show you the two readings.",
    ),
    SpokenClaim(
        "whole_loader",
        "The whole loader doubles its own weight.",
        "Arms and frame sit near the front axle; the factor is near 1 for them. Use the scales.",
        lambda l: 2 * (l.W + l.V),
        loader_front,
        "weight",
        lambda l, s: (
            f"Here the loader, {_kg(l.W + l.V, s)}, puts {_kg(loader_front(l), s)} on the front axle: "
            f"{_factor(loader_front(l) / (l.W + l.V))} times its weight; the frame alone "
            f"{_factor(statics.front_gain(l.V, l.v, l.L) / l.V)} times."
        ),
        "The bucket counts most, because it hangs far out. The rest counts about once.",
    ),
    SpokenClaim(
        "bucket_enough",
        "Bucket off is enough.",
        "Kilo for kilo the best step, but part of the loader's front gain stays. Check whether the manual allows running without an attachment.",
        lambda l: 0 * l.W,
        stays,
        "share",
        lambda l, s: (
            f"Here {show_number(value_of(stays(l)), 0)} % of the loader's front gain stays with the bucket off."
        ),
        "It is the most for the least work. Here is what stays. And your loader manual must allow it.",
    ),
    SpokenClaim(
        "ballast_fixes",
        "Rear ballast fixes it.",
        "It takes B·b/L off the front and adds B(1 + b/L) to the rear and B to the machine: right for loader work, not for turf.",
        lambda l: 0 * l.B,
        lambda l: ballast_front(l) + ballast_rear(l),
        "weight",
        lambda l, s: (
            f"Here it takes {_kg(ballast_front(l), s)} off the front, puts {_kg(ballast_rear(l), s)} on the rear, "
            f"and the ground carries {_kg(l.B, s)} more."
        ),
        "For loader work it belongs there. On the lawn the ground carries it too.",
    ),
    SpokenClaim(
        "fluid",
        "Fluid or wheel weights take load off the front.",
        "Centered on the rear axle: the front changes by nothing.",
        lambda l: -l.B,
        lambda l: statics.front_gain(l.B, -l.L, l.L),
        "weight",
        lambda l, s: (
            f"Here {_kg(l.B, s)} in the rear tires changes the front by "
            f"{show(value_of(statics.front_gain(l.B, -l.L, l.L)), 'weight', s)}, and the rear carries all of it."
        ),
        "They steady the rear. The front scale does not notice.",
    ),
    SpokenClaim(
        "happy_soil",
        "Lighter front, happy soil.",
        "The rear increase exceeds the front relief by exactly B.",
        lambda l: 0 * l.B,
        lambda l: ballast_rear(l) + ballast_front(l),
        "weight",
        lambda l, s: (
            f"Here the ballast relieves the front by {_kg(ballast_front(l), s)} and loads the rear by {_kg(ballast_rear(l), s)}. "
            f"The difference, {_kg(ballast_rear(l) + ballast_front(l), s)}, is the ballast."
        ),
        "Look at both scales together. What hangs on the machine, the ground carries.",
    ),
    SpokenClaim(
        "four_wheel",
        "Four-wheel drive on turf is harmless.",
        "With a lead something must slip; in tight turns the front is dragged.",
        lambda l: 0 * l.path,
        lambda l: driveline.slip_distance(l.path, l.lead),
        "length",
        lambda l, s: (
            f"Here the lead is {show_number(value_of(l.lead), 1)} %: over {_far(value_of(l.path), s)} of "
            f"mowing some tire slips {_far(value_of(driveline.slip_distance(l.path, l.lead)), s)}, turns not counted."
        ),
        "With the front drive in, some tire slips. When it must be in and when out, your manual says.",
    ),
    SpokenClaim(
        "raise",
        "Raise the bucket to shift weight back.",
        "Straight up changes no level reading and lifts the center of gravity; along its arc the overhang changes too.",
        lambda l: -l.W * l.r / l.L,
        raised,
        "weight",
        lambda l, s: (
            f"Here, {show(value_of(l.r), 'length', s)} straight up changes the front by {show(value_of(raised(l)), 'weight', s)}."
        ),
        "Up does not help the front axle, and it makes the machine easier to tip. Carry it low.",
    ),
    SpokenClaim(
        "heavier_stable",
        "Heavier is more stable.",
        "Stability is where the center of gravity is.",
        lambda l: l.k * heavier_tangent(l),
        lambda l: heavier_tangent(l, l.k),
        "number",
        lambda l, s: (
            f"Take every weight {_factor(l.k)} times: the tipping angle is multiplied by "
            f"{_factor(heavier_tangent(l, l.k) / heavier_tangent(l))}."
        ),
        "Where the weight sits decides, not how much there is.",
    ),
    SpokenClaim(
        "psi",
        "More weight, more psi in proportion.",
        "At unchanged tire pressure the print grows; pressure rises little, the stress reaches deeper.",
        psi_in_proportion,
        print_pressure,
        "pressure",
        lambda l, s: (
            f"Here a front tire's load rises by {show_number(value_of(statics.share(l.D, l.N)), 0)} %; the pressure goes from "
            f"{show(value_of(soil.mean_pressure(l.N, 1, l.A)), 'pressure', s)} to {show(value_of(print_pressure(l)), 'pressure', s)}."
        ),
        "The surface notices little. Deeper down it does.",
    ),
    SpokenClaim(
        "no_ruts",
        "Off means no ruts.",
        "Wetness and passes dominate: never promise.",
        lambda l: 0 * l.A,
        lambda l: soil.stress_under_center(
            soil.mean_pressure(l.N, 1, l.A), soil.radius_of(l.A), 0.3, 4
        ),
        "pressure",
        lambda l, s: (
            "Here, with the loader off, the soil 30 cm (12 in) under a front tire still carries "
            f"{show(value_of(soil.stress_under_center(soil.mean_pressure(l.N, 1, l.A), soil.radius_of(l.A), 0.3, 4)), 'pressure', s)}. "
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
    "Slopes, ballast, pressures, roll bar and belt: the operator's manual. Loader off, stands, no attachment: the loader manual.",
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
    return {"tires": case.tires.front, "drive": case.drive.drive}.get(
        part, getattr(case, part)
    ) is not None


def true_number(claim, case, system="kg"):
    """The sentence with this machine's number; one that says so where a part was not told and the invented one stands in."""
    said = claim.number(letters_of(case), system)
    part = NEEDS[claim.key]
    return (
        said
        if told(case, part)
        else f"No {part} was told for this machine, so this is with the invented one's. {said}"
    )


def letters_of(case, path_m=1000.0):
    """The Letters of a Case; what it lacks is lent by the invented case, and :func:`true_number` says so."""
    lent = demo_case()
    bucket, ballast = case.bucket or lent.bucket, case.ballast or lent.ballast
    made, drive = case.tires.front or lent.tires.front, case.drive.drive or lent.drive.drive
    on = statics.reactions(
        [bucket.weight, case.loader.weight], [bucket.ahead, case.loader.ahead], case.wheelbase
    )[0]
    return Letters(
        bucket.weight,
        bucket.ahead,
        bucket.height_m or 0.0,
        case.loader.weight,
        case.loader.ahead,
        case.wheelbase,
        ballast.weight,
        -case.wheelbase - ballast.ahead,
        made.area_m2,
        made.load_kg,
        on.value / 2,
        drive.lead,
        path_m,
    )
