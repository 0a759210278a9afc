"""Rules of lessons 06 to 10: tipping and braking, ballast, tire and turf, lead, units, the decision."""

import math

from leverarm import statics
from leverarm.driveline import formulas as drive
from leverarm.exercises.rules import difference, half, per, printed_as, table, times, together
from leverarm.ground import formulas as ground
from leverarm.quantities import G, degrees_of_slope, from_unit, to_unit
from leverarm.stability import formulas as tipping

TIRES = 2
KEEP = 0.2


def arctan(tangent):
    """Angle in degrees of a slope told by its tangent."""
    return degrees_of_slope(100 * tangent)


@printed_as(lambda percent: f"arctan({percent}/100)")
def degrees(percent):
    """Angle in degrees of a slope told in percent."""
    return degrees_of_slope(percent)


def _of_degrees(name):
    return lambda angle: f"{name}({angle}°)" if angle[:1].isdigit() else f"{name}({angle})"


@printed_as(_of_degrees("sin"))
def sin(degrees):
    """Sine of an angle in degrees."""
    return math.sin(math.radians(degrees))


@printed_as(_of_degrees("cos"))
def cos(degrees):
    """Cosine of an angle in degrees."""
    return math.cos(math.radians(degrees))


def front_downhill(weight, behind, height, wheelbase, c, s):
    """Front reading of a machine nose downhill on a slope of cosine c and sine s."""
    return statics.front_gain_on_grade(weight, -behind, height, wheelbase, c, -s)


def rear_downhill(weight, behind, height, wheelbase, c, s):
    """Rear reading of a machine nose downhill on a slope of cosine c and sine s."""
    return statics.rear_change_on_grade(weight, -behind, height, wheelbase, c, -s)


def front_uphill(weight, behind, height, wheelbase, c, s):
    """Front reading of the same machine nose uphill."""
    return front_downhill(weight, behind, height, wheelbase, c, -s)


def rear_uphill(weight, behind, height, wheelbase, c, s):
    """Rear reading of the same machine nose uphill."""
    return rear_downhill(weight, behind, height, wheelbase, c, -s)


def push_of(weight, s):
    """What the brakes must hold on a slope, machine standing."""
    return tipping.slope_push(weight, s, 0)


def overhang_on_arc(pivot_behind, reach, c):
    """Overhang of a load on an arm whose pivot lies behind the front axle."""
    return tipping.turned_ahead(reach, 0, c, 0) - pivot_behind


def load_to_keep(R0, T0, a, L):
    """Load at an overhang at which the rear axle still carries a fifth of everything."""
    return statics.weight_for_share(R0, T0, statics.rear_change(1, a, L), 1, KEEP)


def front_of_ballast(B, b, L):
    """Front change from ballast behind the rear axle: the lever seen from the other side of the machine."""
    return statics.rear_change(B, b, L)


def rear_of_ballast(B, b, L):
    """Rear change from ballast behind the rear axle: the lever seen from the other side of the machine."""
    return statics.front_gain(B, b, L)


def cancelling_ballast(dF, b, L):
    """Ballast behind the rear axle that takes dF off the front: the lever seen from the other side."""
    return statics.lifting_weight(dF, b, L)


def steering_weight(front, unladen, w, L):
    """Front weights that bring the front axle to a fifth of the unladen tractor."""
    return statics.weight_for_share(front, unladen, statics.amplification(w, L), 0, KEEP)


def axle_pressure(axle, area):
    """Mean pressure under the two tires of an axle."""
    return ground.mean_pressure(axle, TIRES, area)


def one_tire_pressure(load, area):
    """Mean pressure under one tire."""
    return ground.mean_pressure(load, 1, area)


def grown_print(area, before, after, growth):
    """A print under the load of another axle reading, at unchanged tire pressure."""
    return ground.grown_area(area, before, after, growth)


def forced_turns(free, lead):
    """Front turns with the drive in, from those with it out."""
    return free * (1 + lead / 100)


def stress_at(pressure, radius, depth):
    """Stress under the center of a print, with the concentration factor 4."""
    return ground.stress_under_center(pressure, radius, depth, 4)


def in_pounds(kilograms):
    """A number of kilograms as pounds."""
    return to_unit(kilograms, "weight", "lb")


def in_kilograms(pounds):
    """A number of pounds as kilograms."""
    return from_unit(pounds, "weight", "lb")


def in_psi(kilopascals):
    """A number of kilopascals as psi."""
    return to_unit(kilopascals, "pressure", "psi")


def newtons(weight):
    """The force with which a weight presses, in newtons."""
    return weight * G


_LEVER_BACK = "The bucket's lever from the other side: the ballast hangs b behind the rear axle, as the bucket hangs a ahead of the front one."
_PRESSURE = "Pressure is force over area: kilograms times g over the print of all tires that share the load."

FIELD = table(
    (
        "aarc",
        "a",
        "the overhang of the load",
        "length",
        overhang_on_arc,
        "p r co",
        "definition",
        "The level part of the reach is its cosine part; the pivot stands behind the front axle.",
    ),
    (
        "co",
        "c",
        "the cosine of the arm's angle",
        "number",
        cos,
        "o",
        "definition",
        "Level part over length.",
    ),
    (
        "cj",
        "c",
        "the cosine of the slope",
        "number",
        cos,
        "j",
        "definition",
        "What presses square to the slope.",
    ),
    (
        "sj",
        "s",
        "the sine of the slope",
        "number",
        sin,
        "j",
        "definition",
        "What pulls along the slope.",
    ),
    (
        "Fdn",
        "F",
        "the front reading nose downhill",
        "weight",
        front_downhill,
        "T x0 h L cj sj",
        "rear",
        "About the rear contact: the weight's square part has a level arm, its downhill part the arm h.",
    ),
    (
        "Rdn",
        "R",
        "the rear reading nose downhill",
        "weight",
        rear_downhill,
        "T x0 h L cj sj",
        "front",
        "About the front contact: the weight's square part has a level arm, its downhill part the arm h.",
    ),
    (
        "push",
        "P",
        "what the brakes must hold along the slope",
        "weight",
        push_of,
        "T sj",
        "forces",
        "Along the slope only the brakes stand against the downhill part of the weight.",
    ),
    (
        "mu",
        "μ",
        "the friction that the rear tires need",
        "number",
        tipping.friction_demand,
        "push Rdn",
        "definition",
        "Friction is what acts along the ground over what presses on it.",
    ),
    (
        "slow",
        "P",
        "the force that slows the machine",
        "weight",
        times,
        "y T",
        "definition",
        "Slowing over gravity, times the weight.",
    ),
    (
        "moved",
        "ΔF",
        "the load that moves to the front",
        "weight",
        statics.pull_transfer,
        "slow h L",
        "rear",
        "A force at a height is a lever too: its arm is the height.",
    ),
    (
        "Gdeg",
        "φ",
        "the slope angle",
        "angle",
        degrees,
        "G",
        "units",
        "Percent of slope is 100 times rise over run, and rise over run is the tangent.",
    ),
    (
        "ssf",
        "tan",
        "half the track over the height",
        "number",
        tipping.static_stability_factor,
        "t h",
        "tires",
        "The center of gravity crosses the tire line when the slope's tangent is half the track over the height.",
    ),
    (
        "tilt",
        "φ",
        "the angle of the limit",
        "angle",
        arctan,
        "ssf",
        "definition",
        "The angle with that tangent.",
    ),
    (
        "Wkeep",
        "Q",
        "the load at which the rear keeps a fifth",
        "weight",
        load_to_keep,
        "R0 T0 a L",
        "front",
        "The rear reading left is a fifth of everything, the load included.",
    ),
    (
        "dFB",
        "ΔF_B",
        "the front change from the ballast",
        "weight",
        front_of_ballast,
        "B b L",
        "rear",
        _LEVER_BACK,
    ),
    (
        "dRB",
        "ΔR_B",
        "the rear change from the ballast",
        "weight",
        rear_of_ballast,
        "B b L",
        "front",
        _LEVER_BACK,
    ),
    (
        "dTB",
        "ΔT",
        "the change of the whole machine",
        "weight",
        statics.hung_weight,
        "dFB dRB",
        "forces",
        "Both changes together, each with its sign.",
    ),
    (
        "Bc",
        "B",
        "the ballast that takes the gain off again",
        "weight",
        cancelling_ballast,
        "dF b L",
        "rear",
        "About the rear axle: the ballast with the arm b balances the front gain with the arm L.",
    ),
    (
        "FB",
        "F1",
        "the front reading with the ballast",
        "weight",
        together,
        "F0 dFB",
        "definition",
        "Before and the change.",
    ),
    (
        "RB",
        "R1",
        "the rear reading with the ballast",
        "weight",
        together,
        "R0 dRB",
        "definition",
        "Before and the change.",
    ),
    (
        "both",
        "ΔR_both",
        "the rear change from bucket and ballast",
        "weight",
        together,
        "dR dRB",
        "forces",
        "Loads add up.",
    ),
    (
        "dFm",
        "ΔF_B",
        "what the implement does to the front",
        "weight",
        front_of_ballast,
        "Bm bm L",
        "rear",
        _LEVER_BACK,
    ),
    (
        "Fm",
        "F1",
        "the front reading with the implement",
        "weight",
        together,
        "F0 dFm",
        "definition",
        "Before and the change.",
    ),
    (
        "Bs",
        "B",
        "the front weights",
        "weight",
        steering_weight,
        "Fm T0 w L",
        "rear",
        "The front reading must grow to a fifth of the tractor's weight, and each kilogram or pound counts 1 + w/L times.",
    ),
    (
        "pf",
        "p",
        "the mean pressure under the front tires",
        "pressure",
        axle_pressure,
        "F1 A",
        "definition",
        _PRESSURE,
    ),
    (
        "pT",
        "p",
        "the whole machine on two tires",
        "pressure",
        axle_pressure,
        "T1 A",
        "definition",
        _PRESSURE,
    ),
    (
        "p0",
        "p0",
        "the mean pressure before",
        "pressure",
        axle_pressure,
        "F0 A",
        "definition",
        _PRESSURE,
    ),
    (
        "Ag",
        "A1",
        "the print under the new load",
        "area",
        grown_print,
        "A F0 F1 q",
        "definition",
        "At unchanged tire pressure the print grows by a part of what the load grows.",
    ),
    (
        "p1",
        "p1",
        "the mean pressure after",
        "pressure",
        axle_pressure,
        "F1 Ag",
        "definition",
        _PRESSURE,
    ),
    (
        "dp",
        "Δp",
        "the growth of the pressure",
        "pressure",
        difference,
        "p1 p0",
        "definition",
        "After minus before.",
    ),
    (
        "pp",
        "p",
        "the growth of the pressure in percent",
        "share",
        statics.share,
        "dp p0",
        "definition",
        "Percent of the pressure before.",
    ),
    (
        "Fw",
        "F_w",
        "the load on one front tire",
        "weight",
        half,
        "F0",
        "definition",
        "The two front tires share the axle.",
    ),
    (
        "Ap",
        "A",
        "the area of the print",
        "area",
        ground.print_area,
        "l v c",
        "definition",
        "Length times width times the shape; a rectangle has shape 1.",
    ),
    (
        "pAp",
        "p",
        "the mean pressure under the tire",
        "pressure",
        one_tire_pressure,
        "Fw Ap",
        "definition",
        _PRESSURE,
    ),
    (
        "An",
        "A",
        "the print that one tire needs",
        "area",
        ground.area_for,
        "Fw N",
        "definition",
        "Area is force over pressure.",
    ),
    (
        "pc",
        "p",
        "the mean pressure of the tire on hard ground",
        "pressure",
        ground.contact_pressure,
        "I K",
        "definition",
        "The stiff tire body carries a little, beside the air.",
    ),
    (
        "rad",
        "r",
        "the radius of the print taken as a circle",
        "length",
        ground.radius_of,
        "A",
        "definition",
        "The area of a circle is π r².",
        {"unit": {"kg": "cm"}},
    ),
    (
        "sz",
        "σ",
        "the stress at that depth",
        "pressure",
        stress_at,
        "N rad z",
        "definition",
        "The stress fades with depth, under a small print soonest.",
    ),
    (
        "psz",
        "p",
        "the stress in percent of the pressure at the surface",
        "share",
        statics.share,
        "sz N",
        "definition",
        "Percent of the pressure at the surface.",
    ),
    (
        "In",
        "I1",
        "the inflation pressure for the new load",
        "pressure",
        ground.inflation_for,
        "I Q0 Q1",
        "definition",
        "Load goes as pressure to the power 0.8; the tire's own table decides.",
    ),
    # Results that no problem asks for: what a slip leads to.
    ("so", "s", "the sine of the arm's angle", "number", sin, "o", "definition", ""),
    (
        "Fup",
        "F",
        "the front reading nose uphill",
        "weight",
        front_uphill,
        "T x0 h L cj sj",
        "rear",
        "",
    ),
    (
        "Rup",
        "R",
        "the rear reading nose uphill",
        "weight",
        rear_uphill,
        "T x0 h L cj sj",
        "front",
        "",
    ),
    ("wide", "tan", "the track over the height", "number", per, "t h", "definition", ""),
    ("tiltw", "φ", "the angle with that tangent", "angle", arctan, "wide", "units", ""),
    (
        "pold",
        "p",
        "the old print under the new load",
        "pressure",
        axle_pressure,
        "F1 A",
        "definition",
        "",
    ),
    (
        "szd",
        "σ",
        "the stress with the diameter for the radius",
        "pressure",
        stress_at,
        "N dia z",
        "definition",
        "",
    ),
    (
        "dia",
        "d",
        "the diameter of the print",
        "length",
        lambda r: times(2, r),
        "rad",
        "definition",
        "",
    ),
    (
        "Iw",
        "I1",
        "the pressure by the power 0.8",
        "pressure",
        lambda I, a, b: ground.inflation_for(I, a, b, 1.25),
        "I Q0 Q1",
        "definition",
        "",
    ),
    (
        "Cm",
        "C",
        "the rolling circumference",
        "length",
        drive.rolling_circumference,
        "s nt",
        "definition",
        "Distance rolled over turns.",
    ),
    (
        "gr",
        "i",
        "the turns ratio",
        "number",
        drive.turns_ratio,
        "n1 nr",
        "definition",
        "Front turns for each rear turn, drive in.",
    ),
    (
        "ld",
        "lead",
        "the lead",
        "share",
        drive.lead,
        "Cf Cr g1",
        "definition",
        "How much farther the front tires want to go, in percent of what the rear tires go.",
    ),
    ("nin", "n_in", "the front turns, drive in", "number", forced_turns, "n0 e", "definition", ""),
    (
        "lro",
        "lead",
        "the lead from the roll-out",
        "share",
        drive.roll_out_lead,
        "nin n0",
        "definition",
        "Same rear turns both times: front turns with the drive in over those with it out.",
    ),
    (
        "Cf",
        "Cf",
        "the front rolling circumference",
        "length",
        drive.front_for,
        "e Cr g1",
        "definition",
        "The lead, solved for the front.",
    ),
    (
        "path",
        "ratio",
        "the front path for each meter or foot of rear path",
        "number",
        drive.front_path_ratio,
        "O L",
        "definition",
        "Both axles turn about one point; the front one is at the far end of a right triangle.",
    ),
    (
        "mis",
        "mismatch",
        "the mismatch in the turn",
        "share",
        drive.turn_mismatch,
        "e O L",
        "definition",
        "The lead, less what the front path is longer in the turn.",
    ),
    (
        "slip",
        "slip",
        "the distance slipped",
        "length",
        drive.slip_distance,
        "D e",
        "definition",
        "The lead is percent of the way.",
        {"unit": {"lb": "ft"}},
    ),
    (
        "wear",
        "index",
        "the wear index",
        "number",
        drive.wear_index,
        "F1 e1 F0 e0",
        "definition",
        "Wear goes as load times slip; the first case counts 100.",
    ),
    (
        "lb",
        "W_lb",
        "the same weight in pounds",
        "weight",
        in_pounds,
        "W",
        "units",
        "A pound is 0.45359237 kg, so the number grows.",
        {"unit": {"kg": "lb"}, "raw": True},
    ),
    (
        "kg",
        "W_kg",
        "the same weight in kilograms",
        "weight",
        in_kilograms,
        "W",
        "units",
        "A pound is 0.45359237 kg, so the number shrinks.",
        {"unit": {"lb": "kg"}, "raw": True},
    ),
    (
        "psi",
        "p_psi",
        "the same pressure in psi",
        "pressure",
        in_psi,
        "I",
        "units",
        "A psi is 6.895 kPa, so the number shrinks.",
        {"unit": {"kg": "psi"}, "raw": True},
    ),
    (
        "Fn",
        "F",
        "the force on the scale",
        "force",
        newtons,
        "W",
        "units",
        "Each kilogram on the scale presses with g newtons.",
    ),
    *(
        (
            f"dF_{unit}",
            "ΔF",
            "the change at the front",
            "weight",
            statics.front_gain,
            f"W a_{unit} L",
            "rear",
            "Overhang and wheelbase must be in one unit before they are divided.",
            {"balance": ("rear", "W", f"a_{unit}")},
        )
        for unit in ("in", "ft", "mm")
    ),
)
