"""Rules of lessons 01 to 05: readings, the lever, pieces, the way back from readings, uncertainty."""

from leverarm import statics, uncertainty
from leverarm.exercises.rules import (
    difference,
    half,
    per,
    printed_as,
    quadrature,
    table,
    times,
    together,
)
from leverarm.stability.formulas import mean_place


def behind_front(front, rear, wheelbase):
    """Center of gravity as a distance behind the front axle."""
    return -statics.center_of_gravity(front, rear, wheelbase)


def moment_about_rear(weight, overhang, wheelbase):
    """Moment of a hung weight about the rear axle: its arm reaches over the whole wheelbase."""
    return statics.moment(weight, overhang + wheelbase)


def front_part(weight, behind, wheelbase):
    """What a weight behind the front axle puts on the front axle."""
    return statics.front_gain(weight, -behind, wheelbase)


def rear_part(weight, behind, wheelbase):
    """What a weight behind the front axle puts on the rear axle."""
    return statics.rear_change(weight, -behind, wheelbase)


def place_of(rear_gain, weight, span):
    """Where a weight stands on a plank, from the far scale: its distance from the near one."""
    return -statics.overhang_of(weight - rear_gain, rear_gain, span)


def taken_off(change):
    """The change when the same thing is taken off again."""
    return -change


def common_overhang(*weights_and_overhangs):
    """Overhang of the common center of gravity of several pieces."""
    count = len(weights_and_overhangs) // 2
    return mean_place(weights_and_overhangs[:count], weights_and_overhangs[count:])


def still_to_add(limit, fitted):
    """What may still be hung at a place before the limit, beside what hangs there already."""
    return limit - fitted


def certificate(U):
    """Standard uncertainty from a certificate's expanded one, told with k = 2."""
    return uncertainty.from_expanded("certificate", U, 2).u


def limits(half_width):
    """Standard uncertainty from limits within which all values are alike."""
    return uncertainty.from_half_width("limits", half_width).u


@printed_as(lambda *readings: f"({' + '.join(readings)})/{len(readings)}")
def mean(*readings):
    """The mean of repeated readings."""
    return uncertainty.mean(readings)


def scatter(*readings):
    """The standard deviation of repeated readings."""
    return uncertainty.scatter(readings)[0]


@printed_as(lambda *readings: f"scatter({', '.join(readings)})/sqrt({len(readings)})")
def mean_uncertainty(*readings):
    """The standard uncertainty of the mean of repeated readings."""
    return uncertainty.from_repeats("readings", readings).u


def span(*readings):
    """Largest reading less the smallest."""
    return max(readings) - min(readings)


_BOTH = "The ground carries all of the weight: both readings together are the weight."
_PIECES = "Each piece has its own arm about the rear axle."
_AFTER = "The reading after is the reading before and the change."
_CHANGE = "A change is after minus before, with its sign."
_FIVE = " ".join(f"r{i}" for i in range(1, 6))

LEVER = table(
    ("T0", "T0", "the weight of the machine", "weight", together, "F0 R0", "forces", _BOTH),
    (
        "pF0",
        "p",
        "the front share",
        "share",
        statics.share,
        "F0 T0",
        "definition",
        "A share is a part of the whole in percent: here of both readings together.",
    ),
    (
        "x",
        "x",
        "the distance of the center of gravity behind the front axle",
        "length",
        behind_front,
        "F0 R0 L",
        "front",
        "About the front axle, the rear reading with the arm L balances the whole weight with the arm x.",
    ),
    (
        "Mf",
        "M",
        "the moment about the front axle",
        "moment",
        statics.moment,
        "W a",
        "definition",
        "A moment is a weight times its arm, and the arm starts at the pivot.",
    ),
    (
        "Mr",
        "M",
        "the moment about the rear axle",
        "moment",
        moment_about_rear,
        "W a L",
        "definition",
        "The arm starts at the pivot: from the rear axle it is the wheelbase and the overhang together.",
    ),
    (
        "F",
        "F",
        "the front reading",
        "weight",
        front_part,
        "T x0 L",
        "rear",
        "About the rear axle only the front reading and the weight have an arm.",
    ),
    (
        "R",
        "R",
        "the rear reading",
        "weight",
        rear_part,
        "T x0 L",
        "front",
        "About the front axle only the rear reading and the weight have an arm.",
    ),
    (
        "Jl",
        "A_J",
        "what the jug puts on the left scale",
        "weight",
        front_part,
        "J d S",
        "right",
        "About the right scale only the left scale and the jug have an arm.",
    ),
    (
        "Jr",
        "B_J",
        "what the jug puts on the right scale",
        "weight",
        rear_part,
        "J d S",
        "left",
        "About the left scale only the right scale and the jug have an arm.",
    ),
    (
        "Ph",
        "H",
        "half of the plank",
        "weight",
        half,
        "P",
        "definition",
        "An even plank rests half on each end.",
    ),
    (
        "Al",
        "A",
        "the reading of the left scale",
        "weight",
        together,
        "Ph Jl",
        "forces",
        "The scale carries its half of the plank and its part of the jug.",
    ),
    (
        "Ar",
        "B",
        "the reading of the right scale",
        "weight",
        together,
        "Ph Jr",
        "forces",
        "The scale carries its half of the plank and its part of the jug.",
    ),
    (
        "dj",
        "d",
        "the distance of the jug from the left scale",
        "length",
        place_of,
        "Jr J S",
        "left",
        "About the left scale: the jug with the arm d balances the right scale's gain with the arm S.",
    ),
    (
        "inF",
        "ΔF",
        "what the load puts on the front axle",
        "weight",
        front_part,
        "W i L",
        "rear",
        "The same lever with the load behind the front axle: its overhang is negative.",
    ),
    (
        "inR",
        "ΔR",
        "what the load puts on the rear axle",
        "weight",
        rear_part,
        "W i L",
        "front",
        "The same lever with the load behind the front axle: its overhang is negative.",
    ),
    (
        "dF",
        "ΔF",
        "the change at the front",
        "weight",
        statics.front_gain,
        "W a L",
        "rear",
        "About the rear axle, the front has the arm L and the hung weight the arm L + a.",
        {"balance": ("rear", "W", "a")},
    ),
    (
        "dR",
        "ΔR",
        "the change at the rear",
        "weight",
        statics.rear_change,
        "W a L",
        "front",
        "About the front axle, the rear has the arm L and the hung weight the arm a, on the other side.",
        {"balance": ("front", "W", "a")},
    ),
    (
        "dT",
        "ΔT",
        "the change of the whole machine",
        "weight",
        statics.hung_weight,
        "dF dR",
        "forces",
        "Both changes together, each with its sign, are what the ground carries more.",
    ),
    (
        "dF_off",
        "ΔF_off",
        "the front change when it comes off",
        "weight",
        taken_off,
        "dF",
        "definition",
        "Taking off undoes what hanging on did: the same size, the other sign.",
    ),
    (
        "dR_off",
        "ΔR_off",
        "the rear change when it comes off",
        "weight",
        taken_off,
        "dR",
        "definition",
        "Taking off undoes what hanging on did: the same size, the other sign.",
    ),
    (
        "kf",
        "k",
        "the factor",
        "number",
        statics.amplification,
        "a L",
        "rear",
        "The factor is what the front gains for each kilogram or pound that is hung on.",
    ),
    (
        "ak",
        "a",
        "the overhang",
        "length",
        statics.overhang_for,
        "k L",
        "rear",
        "The factor is 1 + a/L. Solve it for a.",
    ),
    ("F1", "F1", "the new front reading", "weight", together, "F0 dF", "definition", _AFTER),
    ("R1", "R1", "the new rear reading", "weight", together, "R0 dR", "definition", _AFTER),
    ("T1", "T1", "the weight after", "weight", together, "F1 R1", "forces", _BOTH),
    (
        "pdF",
        "p",
        "the front gain in percent of the front reading before",
        "share",
        statics.share,
        "dF F0",
        "definition",
        "Percent of what? Of what the front axle carried before.",
    ),
    (
        "pdR",
        "p",
        "the rear change in percent of the rear reading before",
        "share",
        statics.share,
        "dR R0",
        "definition",
        "Percent of what? Of what the rear axle carried before.",
    ),
    (
        "pdT",
        "p",
        "the growth of the whole weight in percent",
        "share",
        statics.share,
        "W T0",
        "definition",
        "The machine gains the hung weight; percent of its weight before.",
    ),
    (
        "pF1",
        "p",
        "the front share after",
        "share",
        statics.share,
        "F1 T1",
        "definition",
        "The new front reading as a part of the new weight.",
    ),
    (
        "poff",
        "p",
        "the front relief in percent of the front reading with it on",
        "share",
        statics.share,
        "dF F1",
        "definition",
        "Now the reading with the attachment on is the one before.",
    ),
    *(
        (
            f"dF{n}",
            f"ΔF{n}",
            f"what the {piece} to the front",
            "weight",
            statics.front_gain,
            f"W{n} a{n} L",
            "rear",
            _PIECES,
            {"balance": ("rear", f"W{n}", f"a{n}")},
        )
        for n, piece in ((1, "bucket does"), (2, "arms do"), (3, "frame does"))
    ),
    *(
        (
            f"dR{n}",
            f"ΔR{n}",
            f"what the {piece} to the rear",
            "weight",
            statics.rear_change,
            f"W{n} a{n} L",
            "front",
            "Each piece has its own arm about the front axle.",
            {"balance": ("front", f"W{n}", f"a{n}")},
        )
        for n, piece in ((1, "bucket does"), (2, "arms do"), (3, "frame does"))
    ),
    (
        "dF12",
        "ΔF",
        "the change at the front",
        "weight",
        together,
        "dF1 dF2",
        "forces",
        "The pieces add up.",
    ),
    (
        "dF13",
        "ΔF",
        "the change at the front",
        "weight",
        together,
        "dF1 dF3",
        "forces",
        "The pieces add up.",
    ),
    (
        "dF123",
        "ΔF",
        "the change at the front",
        "weight",
        together,
        "dF1 dF2 dF3",
        "forces",
        "The pieces add up.",
    ),
    (
        "dR123",
        "ΔR",
        "the change at the rear",
        "weight",
        together,
        "dR1 dR2 dR3",
        "forces",
        "The pieces add up.",
    ),
    (
        "W13",
        "W",
        "the weight of both pieces",
        "weight",
        together,
        "W1 W3",
        "forces",
        "Weights add up.",
    ),
    (
        "W123",
        "W",
        "the weight of the loader",
        "weight",
        together,
        "W1 W2 W3",
        "forces",
        "Weights add up.",
    ),
    (
        "kl",
        "k",
        "the factor of the whole loader",
        "number",
        per,
        "dF123 W123",
        "definition",
        "What the front gains, for each kilogram or pound of loader.",
    ),
    (
        "al",
        "a",
        "the overhang of the whole loader",
        "length",
        common_overhang,
        "W1 W2 W3 a1 a2 a3",
        "front",
        "The moment of the whole is the sum of the moments of the pieces.",
    ),
    (
        "pb",
        "p",
        "the bucket's part of the front gain",
        "share",
        statics.share,
        "dF1 dF123",
        "definition",
        "A part of the whole, in percent: the bucket's gain over the whole loader's gain.",
    ),
    (
        "Fl",
        "F1",
        "the front reading with the whole loader",
        "weight",
        together,
        "F0 dF123",
        "definition",
        _AFTER,
    ),
    (
        "dF23",
        "ΔF_rest",
        "what arms and frame do to the front",
        "weight",
        together,
        "dF2 dF3",
        "forces",
        "The pieces add up.",
    ),
    (
        "prest",
        "p",
        "what is left of the front gain",
        "share",
        statics.share,
        "dF23 dF123",
        "definition",
        "With the bucket off, arms and frame stay: their gain over the whole gain.",
    ),
    (
        "tire",
        "ΔF_w",
        "the gain of one front tire",
        "weight",
        half,
        "dF123",
        "definition",
        "The two front tires share the axle.",
    ),
    (
        "Fb",
        "F2",
        "the front reading with the bucket off",
        "weight",
        difference,
        "Fl dF1",
        "definition",
        "Take off what the bucket does; the rest of the loader stays.",
    ),
    (
        "pl",
        "p",
        "the front relief in percent",
        "share",
        statics.share,
        "dF123 Fl",
        "definition",
        "Percent of the reading with the loader on.",
    ),
    (
        "pbo",
        "p",
        "the front relief in percent",
        "share",
        statics.share,
        "dF1 Fl",
        "definition",
        "Percent of the reading with the whole loader on.",
    ),
    ("dFr", "ΔF", "the change at the front", "weight", difference, "F1 F0", "definition", _CHANGE),
    ("dRr", "ΔR", "the change at the rear", "weight", difference, "R1 R0", "definition", _CHANGE),
    (
        "Wr",
        "W",
        "the hung weight",
        "weight",
        statics.hung_weight,
        "dFr dRr",
        "forces",
        "What the ground carries more is what was hung on: both changes, each with its sign.",
    ),
    (
        "ar",
        "a",
        "the overhang",
        "length",
        statics.overhang_of,
        "dFr dRr L",
        "front",
        "About the front axle: the hung weight with the arm a balances what the rear lost with the arm L.",
    ),
    (
        "kr",
        "k",
        "the factor",
        "number",
        per,
        "dFr Wr",
        "definition",
        "What the front gained, for each kilogram or pound hung on.",
    ),
    (
        "Wl",
        "W_max",
        "the weight that just lifts the rear",
        "weight",
        statics.lifting_weight,
        "R0 a L",
        "front",
        "At the limit the rear reads nothing: about the front axle, the load balances what the rear had.",
    ),
    (
        "Wmore",
        "W_more",
        "what may still be added",
        "weight",
        still_to_add,
        "Wl W",
        "definition",
        "What hangs there already is part of the limit.",
    ),
    *(
        (f"r{n}", f"r{n}", f"reading {n}", "weight", together, f"m e{n}", "definition", "")
        for n in range(1, 6)
    ),
    (
        "rm",
        "r_mean",
        "the mean of the readings",
        "weight",
        mean,
        _FIVE,
        "definition",
        "Add them up and divide by how many.",
    ),
    (
        "rs",
        "s",
        "the standard deviation of one reading",
        "weight",
        scatter,
        _FIVE,
        "definition",
        "Square the distances from the mean, add, divide by one less than their number, take the root.",
    ),
    (
        "ru",
        "u",
        "the standard uncertainty of the mean",
        "weight",
        mean_uncertainty,
        _FIVE,
        "definition",
        "The mean of n readings scatters less than one: divide s by the root of n.",
    ),
    (
        "rspan",
        "span",
        "the largest reading less the smallest",
        "weight",
        span,
        _FIVE,
        "definition",
        "Largest minus smallest.",
    ),
    (
        "uW",
        "u_W",
        "the standard uncertainty of the hung weight",
        "weight",
        quadrature,
        "u u u u",
        "definition",
        "Four readings go in, and independent errors add as squares.",
    ),
    (
        "uT",
        "u_T",
        "the standard uncertainty of the sum",
        "weight",
        quadrature,
        "u u",
        "definition",
        "Two readings go in, and independent errors add as squares.",
    ),
    (
        "uU",
        "u",
        "the standard uncertainty",
        "weight",
        certificate,
        "U",
        "definition",
        "Divide by the coverage factor k = 2.",
    ),
    (
        "uh",
        "u",
        "the standard uncertainty",
        "weight",
        limits,
        "h2",
        "definition",
        "All values between the limits are alike: divide the half-width by the root of 3.",
    ),
    (
        "U2",
        "U",
        "the expanded uncertainty with k = 2",
        "weight",
        lambda u: times(2, u),
        "uW",
        "definition",
        "Expanded is k times standard.",
    ),
)
