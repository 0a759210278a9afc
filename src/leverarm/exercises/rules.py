"""What follows from what: each result of the lessons, and the one function that computes it.

A rule names a result, the function it comes from, the letters and results that go
in, and the principle behind it.  A problem asks for one result and gives some
letters; the rules are followed back from one to the other.  The rules stand in
`data/rules.toml`; the functions they may name are those of the package and the
definitions below.
"""

import inspect
import math
import sys
from collections.abc import Callable
from dataclasses import dataclass, field

from leverarm import statics, uncertainty
from leverarm.data import Entry, OnDemand, toml_file
from leverarm.driveline import formulas as drive
from leverarm.exercises.expressions.tree import over_100, printed_as
from leverarm.exercises.letters import LETTERS, in_one_system
from leverarm.ground import formulas as ground
from leverarm.numerals import Numeric
from leverarm.quantities import KINDS, G, degrees_of_slope, from_unit, to_unit, unit_of
from leverarm.stability import formulas as tipping

TIRES = 2
KEEP = 0.2
PRINCIPLES = {
    "forces": "ΣF = 0",
    "front": "ΣM = 0 about the front",
    "rear": "ΣM = 0 about the rear",
    "left": "ΣM = 0 about the left scale",
    "right": "ΣM = 0 about the right scale",
    "tires": "ΣM = 0 about the tire line",
    "definition": "definition",
    "units": "units",
}


@dataclass(frozen=True)
class Rule:
    """A result of a lesson.

    name, shown, words   how rules, print and sentences call it
    kind        the kind of quantity it is
    function    the formula of the package that computes it, or a definition below
    args        the letters and results it needs
    principle   a key of PRINCIPLES
    why         the reason in a sentence;  why_lb  the same in pounds, where it differs
    unit        the unit to ask for where it is not the usual one of the system: {"lb": "ft"}
    raw         the function takes and gives numbers as they stand, whatever their unit
    letter      how it is printed where a problem gives it, if not as shown
    stream      the name its made-up numbers are drawn by, where it had another name before
    figures     "uncertainty" or "mean" where an answer carries fewer or more digits than usual
    """

    name: str
    shown: str
    words: str
    kind: str
    function: Callable[..., Numeric]
    args: tuple[str, ...]
    principle: str
    why: str
    unit: dict[str, str] = field(default_factory=dict, hash=False)
    raw: bool = False
    letter: str = ""
    stream: str = ""
    why_lb: str = ""
    figures: str = ""

    def unit_in(self, system: str) -> str:
        """The unit that it is asked for in a unit system."""
        return self.unit.get(system) or unit_of(self.kind, system)

    def reason(self, system: str) -> str:
        """The reason in a sentence, for a reader of this unit system."""
        return in_one_system(self.why_lb if system == "lb" and self.why_lb else self.why, system)


def together(*parts: Numeric) -> Numeric:
    """Weights, readings or changes added up."""
    return sum(parts)


def difference(after: Numeric, before: Numeric) -> Numeric:
    """After minus before."""
    return after - before


def half(whole: Numeric) -> Numeric:
    """One of two equal parts."""
    return whole / 2


def per(part: Numeric, whole: Numeric) -> Numeric:
    """A part for each unit of a whole: a plain ratio."""
    return part / whole


def times(count: Numeric, part: Numeric) -> Numeric:
    """So many times a part."""
    return count * part


def quadrature(*parts: Numeric) -> Numeric:
    """Independent uncertainties together: the root of the sum of squares.  Source: GUM 5.1.2."""
    return sum(part**2 for part in parts) ** 0.5


def twice(part: Numeric) -> Numeric:
    """Two times a part."""
    return 2 * part


# Lessons 01 to 07: readings, the lever, pieces, the way back from readings, uncertainty


def behind_front(front: Numeric, rear: Numeric, wheelbase: Numeric) -> Numeric:
    """Center of gravity as a distance behind the front axle."""
    return -statics.center_of_gravity(front, rear, wheelbase)


def moment_about_rear(weight: Numeric, overhang: Numeric, wheelbase: Numeric) -> Numeric:
    """Moment of a hung weight about the rear axle: its arm reaches over the whole wheelbase."""
    return statics.moment(weight, overhang + wheelbase)


def front_part(weight: Numeric, behind: Numeric, wheelbase: Numeric) -> Numeric:
    """What a weight behind the front axle puts on the front axle."""
    return statics.front_gain(weight, -behind, wheelbase)


def rear_part(weight: Numeric, behind: Numeric, wheelbase: Numeric) -> Numeric:
    """What a weight behind the front axle puts on the rear axle."""
    return statics.rear_change(weight, -behind, wheelbase)


def place_of(rear_gain: Numeric, weight: Numeric, span: Numeric) -> Numeric:
    """Where a weight stands on a plank, from the far scale: its distance from the near one."""
    return -statics.overhang_of(weight - rear_gain, rear_gain, span)


def taken_off(change: Numeric) -> Numeric:
    """The change when the same thing is taken off again."""
    return -change


def common_overhang(*weights_and_overhangs: Numeric) -> Numeric:
    """Overhang of the common center of gravity of several pieces."""
    count = len(weights_and_overhangs) // 2
    return tipping.mean_place(weights_and_overhangs[:count], weights_and_overhangs[count:])


def still_to_add(limit: Numeric, fitted: Numeric) -> Numeric:
    """What may still be hung at a place before the limit, beside what hangs there already."""
    return limit - fitted


def certificate(U: Numeric) -> Numeric:
    """Standard uncertainty from a certificate's expanded one, told with k = 2."""
    return uncertainty.from_expanded("certificate", U, 2).u


def limits(half_width: Numeric) -> Numeric:
    """Standard uncertainty from limits within which all values are alike."""
    return uncertainty.from_half_width("limits", half_width).u


@printed_as(lambda *readings: f"({' + '.join(readings)})/{len(readings)}")
def mean(*readings: Numeric) -> Numeric:
    """The mean of repeated readings."""
    return uncertainty.mean(readings)


@printed_as(lambda *readings: "s")
def scatter(*readings: Numeric) -> Numeric:
    """The standard deviation of repeated readings."""
    return uncertainty.scatter(readings)[0]


@printed_as(lambda *readings: f"s/sqrt({len(readings)})")
def mean_uncertainty(*readings: Numeric) -> Numeric:
    """The standard uncertainty of the mean of repeated readings."""
    return uncertainty.from_repeats("readings", readings).u


@printed_as(lambda *readings: "(r_max − r_min)")
def span(*readings: Numeric) -> Numeric:
    """Largest reading less the smallest."""
    return max(readings) - min(readings)


# Lessons 08 to 12: tipping, braking, ballast, contact patches, lead, units


def arctan(tangent: Numeric) -> Numeric:
    """Angle in degrees of a slope told by its tangent."""
    return degrees_of_slope(100 * tangent)


@printed_as(over_100("arctan"))
def degrees(percent: Numeric) -> Numeric:
    """Angle in degrees of a slope told in percent."""
    return degrees_of_slope(percent)


def _of_degrees(name: Numeric) -> Numeric:
    return lambda angle: f"{name}({angle}°)" if angle[:1].isdigit() else f"{name}({angle})"


@printed_as(_of_degrees("sin"))
def sin(degrees: Numeric) -> Numeric:
    """Sine of an angle in degrees."""
    return math.sin(math.radians(degrees))


@printed_as(_of_degrees("cos"))
def cos(degrees: Numeric) -> Numeric:
    """Cosine of an angle in degrees."""
    return math.cos(math.radians(degrees))


def front_downhill(
    weight: Numeric, behind: Numeric, height: Numeric, wheelbase: Numeric, c: Numeric, s: Numeric
) -> Numeric:
    """Front reading of a machine nose downhill on a slope of cosine c and sine s."""
    return statics.front_gain_on_grade(weight, -behind, height, wheelbase, c, -s)


def rear_downhill(
    weight: Numeric, behind: Numeric, height: Numeric, wheelbase: Numeric, c: Numeric, s: Numeric
) -> Numeric:
    """Rear reading of a machine nose downhill on a slope of cosine c and sine s."""
    return statics.rear_change_on_grade(weight, -behind, height, wheelbase, c, -s)


def front_uphill(
    weight: Numeric, behind: Numeric, height: Numeric, wheelbase: Numeric, c: Numeric, s: Numeric
) -> Numeric:
    """Front reading of the same machine nose uphill."""
    return front_downhill(weight, behind, height, wheelbase, c, -s)


def rear_uphill(
    weight: Numeric, behind: Numeric, height: Numeric, wheelbase: Numeric, c: Numeric, s: Numeric
) -> Numeric:
    """Rear reading of the same machine nose uphill."""
    return rear_downhill(weight, behind, height, wheelbase, c, -s)


def push_of(weight: Numeric, s: Numeric) -> Numeric:
    """What the brakes must hold on a slope, machine standing."""
    return tipping.slope_push(weight, s, 0)


def overhang_on_arc(pivot_behind: Numeric, reach: Numeric, c: Numeric) -> Numeric:
    """Overhang of a load on an arm whose pivot lies behind the front axle."""
    return tipping.turned_ahead(reach, 0, c, 0) - pivot_behind


def load_to_keep(R0: Numeric, T0: Numeric, a: Numeric, L: Numeric) -> Numeric:
    """Load at an overhang at which the rear axle still carries a fifth of everything."""
    return statics.weight_for_share(R0, T0, statics.rear_change(1, a, L), 1, KEEP)


def front_of_ballast(B: Numeric, b: Numeric, L: Numeric) -> Numeric:
    """Front change from ballast behind the rear axle: the lever seen from the other side."""
    return statics.rear_change(B, b, L)


def rear_of_ballast(B: Numeric, b: Numeric, L: Numeric) -> Numeric:
    """Rear change from ballast behind the rear axle: the lever seen from the other side."""
    return statics.front_gain(B, b, L)


def canceling_ballast(dF: Numeric, b: Numeric, L: Numeric) -> Numeric:
    """Ballast behind the rear axle that takes dF off the front: the lever from the other side."""
    return statics.lifting_weight(dF, b, L)


def steering_weight(front: Numeric, bare: Numeric, w: Numeric, L: Numeric) -> Numeric:
    """Front weights that bring the front axle to a fifth of the bare tractor."""
    return statics.weight_for_share(front, bare, statics.amplification(w, L), 0, KEEP)


def axle_pressure(axle: Numeric, area: Numeric) -> Numeric:
    """Mean pressure under the two tires of an axle."""
    return ground.mean_pressure(axle, TIRES, area)


def one_tire_pressure(load: Numeric, area: Numeric) -> Numeric:
    """Mean pressure under one tire."""
    return ground.mean_pressure(load, 1, area)


def grown_patch(area: Numeric, before: Numeric, after: Numeric, growth: Numeric) -> Numeric:
    """A contact patch under the load of another axle reading, at unchanged tire pressure."""
    return ground.grown_area(area, before, after, growth)


def forced_turns(free: Numeric, lead: Numeric) -> Numeric:
    """Front turns with the drive in, from those with it out."""
    return free * (1 + lead / 100)


def stress_at(pressure: Numeric, radius: Numeric, depth: Numeric) -> Numeric:
    """Stress under the center of a contact patch, with the concentration factor 4."""
    return ground.stress_under_center(pressure, radius, depth, 4)


def in_pounds(kilograms: Numeric) -> Numeric:
    """A number of kilograms as pounds."""
    return to_unit(kilograms, "weight", "lb")


def in_kilograms(pounds: Numeric) -> Numeric:
    """A number of pounds as kilograms."""
    return from_unit(pounds, "weight", "lb")


def in_psi(kilopascals: Numeric) -> Numeric:
    """A number of kilopascals as psi."""
    return to_unit(kilopascals, "pressure", "psi")


def newtons(weight: Numeric) -> Numeric:
    """The force with which a weight presses, in newtons."""
    return weight * G


def inflation_by_power(pressure: Numeric, before: Numeric, after: Numeric) -> Numeric:
    """Inflation pressure with the exponent 1/0.8 used the wrong way around: what a slip gives."""
    return ground.inflation_for(pressure, before, after, 1.25)


# What a rule may name: these and no other function.
_NAMED = (
    (
        statics,
        "amplification front_gain hung_weight lifting_weight moment overhang_for overhang_of "
        "pull_transfer rear_change share",
    ),
    (tipping, "friction_demand static_stability_factor"),
    (ground, "area_for contact_pressure inflation_for patch_area radius_of"),
    (
        drive,
        "front_for front_path_ratio lead roll_out_lead rolling_circumference slip_distance "
        "turn_mismatch turns_ratio wear_index",
    ),
    (
        sys.modules[__name__],
        "arctan axle_pressure behind_front canceling_ballast certificate common_overhang cos "
        "degrees difference forced_turns front_downhill front_of_ballast front_part "
        "front_uphill grown_patch half in_kilograms in_pounds in_psi inflation_by_power limits "
        "load_to_keep mean mean_uncertainty moment_about_rear newtons one_tire_pressure "
        "overhang_on_arc per place_of push_of quadrature rear_downhill rear_of_ballast "
        "rear_part rear_uphill scatter sin span steering_weight still_to_add stress_at "
        "taken_off times together twice ",
    ),
)
FUNCTIONS: dict[str, Callable[..., Numeric]] = {
    name: getattr(module, name) for module, names in _NAMED for name in names.split()
}


def read_rules(entry: Entry) -> dict[str, Rule]:
    """Rules by name from a table of [[rule]]; what cannot be used is refused."""
    rules: dict[str, Rule] = {}
    rows = entry.rows("rule")
    known = {*LETTERS, *(row.text("name") for row in rows)}
    for row in rows:
        rule = _rule(row, known)
        # A letter may be told from another place: then a rule of its name says how it follows.
        if rule.name in rules or (rule.name in LETTERS) != row.flag("of_letter"):
            raise row.refusal("name", rule.name, "a name of its own", "choose another name")
        rules[rule.name] = rule
    entry.done()
    return rules


def _takes(function: Callable[..., Numeric], count: int) -> bool:
    """Whether a function of the package can be called with so many arguments."""
    code = function.__code__
    least = code.co_argcount - len(function.__defaults__ or ())
    return least <= count and (
        count <= code.co_argcount or bool(code.co_flags & inspect.CO_VARARGS)
    )


def _rule(row: Entry, known: set[str]) -> Rule:
    function = FUNCTIONS[row.one_of("function", FUNCTIONS)]
    args = row.words_of("from", known)
    if not _takes(function, len(args)):
        raise row.refusal(
            "from", " ".join(args), f"what {function.__name__} takes", "give as many, in its order"
        )
    unit = row.part("unit")
    rule = Rule(
        row.text("name"),
        row.text("shown"),
        row.text("words"),
        row.one_of("kind", KINDS),
        function,
        args,
        row.one_of("principle", PRINCIPLES),
        row.text("why", ""),
        {system: unit.text(system) for system in unit},
        row.flag("raw"),
        row.text("letter", ""),
        row.text("stream", ""),
        row.text("why_lb", ""),
        row.one_of("figures", ("", "mean", "uncertainty"), ""),
    )
    row.flag("of_letter")
    row.done()
    return rule


RULES = OnDemand(lambda: read_rules(toml_file("rules")))
