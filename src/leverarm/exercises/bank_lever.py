"""Numeric problems of lessons 01 to 04: two readings, more than its weight, derive it, strip it down."""

from leverarm.exercises.numbers import NumberKind


def numeric(name, lesson, title, asked, given, statement, **more):
    """A numeric kind from one row of a table."""
    return NumberKind(
        name,
        lesson,
        title,
        asked,
        tuple(given.split()),
        statement,
        hidden=tuple(more.pop("hidden", "").split()),
        **more,
    )


SIGNS = "(A gain is positive, a loss negative.)"
HUNG = (
    "A {thing} of {W} hangs on the {machine}, its center of gravity {a} ahead of the front axle. "
    "The wheelbase is {L}. "
)
READS = "The {machine} reads {F0} in front and {R0} at the rear. "
_PLANK = "An even plank of {P} lies on two bathroom scales, {S} apart. A jug of {J} stands {d} from the left scale. "
_WHERE = "The {machine} weighs {T}. Its center of gravity is {x0} behind the front axle. The wheelbase is {L}. "
_INSIDE = "A load of {W} sits on the {machine}, {i} behind the front axle. The wheelbase is {L}. "
LOADER = (
    "The loader of the {machine}: bucket {W1} at {a1} ahead of the front axle, arms {W2} at {a2}, frame {W3} at {a3}. "
    "The wheelbase is {L}. "
)
PIECES = "W1 a1 W2 a2 W3 a3 L"

LESSON_01 = (
    numeric(
        "machine_weight",
        1,
        "The weight of a machine",
        "T0",
        "F0 R0",
        READS + "What does the machine weigh?",
    ),
    numeric(
        "pounds",
        1,
        "Kilograms into pounds",
        "lb",
        "W",
        "A {thing} weighs {W}. What is that in pounds?",
        system="kg",
    ),
    numeric(
        "kilograms",
        1,
        "Pounds into kilograms",
        "kg",
        "W",
        "A {thing} weighs {W}. What is that in kilograms?",
        system="lb",
    ),
    numeric(
        "newtons",
        1,
        "A reading as a force",
        "Fn",
        "W",
        "A scale shows {W} under a {thing}. With what force does the {thing} press on it, in newtons?",
        system="kg",
    ),
    numeric(
        "moment_about_front",
        1,
        "A moment about the front axle",
        "Mf",
        "W a",
        "A {thing} of {W} hangs {a} ahead of the front axle. What is its moment about the front axle?",
    ),
    numeric(
        "moment_about_rear",
        1,
        "A moment about the rear axle",
        "Mr",
        "W a L",
        HUNG + "What is the moment of the {thing} about the rear axle?",
    ),
    numeric(
        "plank_left",
        1,
        "A plank with a jug: left scale",
        "Al",
        "P J d S",
        _PLANK + "What does the left scale read?",
    ),
    numeric(
        "plank_right",
        1,
        "A plank with a jug: right scale",
        "Ar",
        "P J d S",
        _PLANK + "What does the right scale read?",
    ),
    numeric(
        "jug_place",
        1,
        "Where the jug stands",
        "dj",
        "J Jr S",
        "A plank lies on two bathroom scales, {S} apart. A jug of {J} is put on it, and the right scale goes up by {Jr}. "
        "How far from the left scale does the jug stand?",
        hidden="d",
    ),
    numeric(
        "front_share",
        1,
        "The front share",
        "pF0",
        "F0 R0",
        READS + "What share of its weight is on the front axle, in percent?",
    ),
    numeric(
        "center_of_gravity",
        1,
        "Where the weight sits",
        "x",
        "F0 R0 L",
        READS + "The wheelbase is {L}. How far behind the front axle is the center of gravity?",
        stream="centre_of_gravity",
    ),
    numeric(
        "front_reading",
        1,
        "The front reading from the center of gravity",
        "F",
        "T x0 L",
        _WHERE + "What does the front scale read?",
    ),
    numeric(
        "rear_reading",
        1,
        "The rear reading from the center of gravity",
        "R",
        "T x0 L",
        _WHERE + "What does the rear scale read?",
    ),
)
LESSON_02 = (
    numeric(
        "front_gain",
        2,
        "What the front gains",
        "dF",
        "W a L",
        HUNG + "By how much does the front reading change? " + SIGNS,
        sign="change",
    ),
    numeric(
        "front_gain_among_readings",
        2,
        "What the front gains, readings told",
        "dF",
        "F0 R0 W a L",
        READS + "Then a {thing} of {W} is hung {a} ahead of the front axle. The wheelbase is {L}. "
        "By how much does the front reading change? " + SIGNS,
        sign="change",
    ),
    numeric(
        "rear_change",
        2,
        "What the rear does",
        "dR",
        "W a L",
        HUNG + "By how much does the rear reading change? " + SIGNS,
        sign="change",
    ),
    numeric(
        "total_change",
        2,
        "What the whole machine gains",
        "dT",
        "W a L",
        HUNG + "By how much do both readings together change? " + SIGNS,
        sign="change",
    ),
    numeric(
        "factor",
        2,
        "The factor",
        "kf",
        "a L",
        "A {thing} hangs on the {machine}, {a} ahead of the front axle. The wheelbase is {L}. "
        "How many times its own weight does the front axle gain?",
    ),
    numeric(
        "overhang_for_factor",
        2,
        "The overhang for a factor",
        "ak",
        "k L",
        "The wheelbase of the {machine} is {L}. How far ahead of the front axle must a {thing} hang, "
        "for the front axle to gain {k} times its weight?",
        low=0.3,
    ),
    numeric(
        "new_front_reading",
        2,
        "The new front reading",
        "F1",
        "F0 W a L",
        HUNG + "Before, the front axle read {F0}. What does it read now?",
    ),
    numeric(
        "new_rear_reading",
        2,
        "The new rear reading",
        "R1",
        "R0 W a L",
        HUNG + "Before, the rear axle read {R0}. What does it read now?",
        low=60,
    ),
    numeric(
        "front_when_off",
        2,
        "Taking it off: the front",
        "dF_off",
        "W a L",
        HUNG + "Now it is taken off. By how much does the front reading change? " + SIGNS,
        sign="change",
    ),
    numeric(
        "rear_when_off",
        2,
        "Taking it off: the rear",
        "dR_off",
        "W a L",
        HUNG + "Now it is taken off. By how much does the rear reading change? " + SIGNS,
        sign="change",
    ),
    numeric(
        "between_front",
        2,
        "A load between the axles: the front",
        "inF",
        "W i L",
        _INSIDE + "How much of it does the front axle carry?",
    ),
    numeric(
        "between_rear",
        2,
        "A load between the axles: the rear",
        "inR",
        "W i L",
        _INSIDE + "How much of it does the rear axle carry?",
    ),
    numeric(
        "inches_and_meters",
        2,
        "Inches beside meters",
        "dF_in",
        "W a_in L",
        "A {thing} of {W} hangs {a_in} ahead of the front axle of the {machine}. The wheelbase is {L}. "
        "By how much does the front reading grow?",
        system="kg",
        stream="inches_and_metres",
    ),
    numeric(
        "feet_and_inches",
        2,
        "Feet beside inches",
        "dF_ft",
        "W a_ft L",
        "A {thing} of {W} hangs {a_ft} ahead of the front axle of the {machine}. The wheelbase is {L}. "
        "By how much does the front reading grow?",
        system="lb",
    ),
    numeric(
        "millimeters_and_meters",
        2,
        "Millimeters beside meters",
        "dF_mm",
        "W a_mm L",
        "A {thing} of {W} hangs {a_mm} ahead of the front axle of the {machine}. The wheelbase is {L}. "
        "By how much does the front reading grow?",
        system="kg",
        stream="millimetres_and_metres",
    ),
)
LESSON_03 = (
    numeric(
        "lifting_weight",
        3,
        "The weight that lifts the rear",
        "Wl",
        "F0 R0 a L",
        READS
        + "The wheelbase is {L}. What weight, hung {a} ahead of the front axle, would just take the last load off the rear?",
    ),
    numeric(
        "lifting_weight_in_all",
        3,
        "The weight in all that lifts the rear",
        "Wl",
        "R0 W a L",
        HUNG + "Without it the rear axle reads {R0}. On paper: what weight in all, at that place, "
        "would just take the last load off the rear?",
    ),
    numeric(
        "weight_still_to_add",
        3,
        "What may still be added before the rear lifts",
        "Wmore",
        "R0 W a L",
        HUNG + "Without it the rear axle reads {R0}. On paper: how much more, at the same place, "
        "would just take the last load off the rear?",
        low=100,
    ),
    numeric(
        "two_pieces",
        3,
        "Two pieces at once",
        "dF13",
        "W1 a1 W3 a3 L",
        "On the {machine} hang a bucket of {W1}, {a1} ahead of the front axle, and a loader frame of {W3}, {a3} ahead. "
        "The wheelbase is {L}. By how much does the front reading change? " + SIGNS,
        sign="change",
    ),
)
LESSON_04 = (
    numeric(
        "loader_front",
        4,
        "The whole loader: the front",
        "dF123",
        PIECES,
        LOADER + "What does the whole loader do to the front reading? " + SIGNS,
        sign="change",
    ),
    numeric(
        "loader_rear",
        4,
        "The whole loader: the rear",
        "dR123",
        PIECES,
        LOADER + "What does the whole loader do to the rear reading? " + SIGNS,
        sign="change",
    ),
    numeric(
        "loader_factor",
        4,
        "The factor of the whole loader",
        "kl",
        PIECES,
        LOADER + "How many times the weight of the whole loader does the front axle gain?",
    ),
    numeric(
        "loader_overhang",
        4,
        "One overhang for the whole loader",
        "al",
        PIECES,
        LOADER + "How far ahead of the front axle is the center of gravity of the whole loader?",
    ),
    numeric(
        "bucket_share",
        4,
        "The bucket's part",
        "pb",
        PIECES,
        LOADER + "What percent of the loader's front gain comes from the bucket?",
    ),
    numeric(
        "bucket_off_reading",
        4,
        "The front reading with the bucket off",
        "Fb",
        "F0 " + PIECES,
        LOADER
        + "Without the loader the front axle reads {F0}. What does it read with arms and frame on and the bucket off?",
    ),
    numeric(
        "percent_change",
        4,
        "The front gain in percent",
        "pdF",
        "F0 R0 W a L",
        HUNG + "Before, the readings were {F0} in front and {R0} at the rear. "
        "By how many percent of the front reading before does the front reading grow?",
    ),
    numeric(
        "rear_percent",
        4,
        "The rear change in percent",
        "pdR",
        "F0 R0 W a L",
        HUNG + "Before, the readings were {F0} in front and {R0} at the rear. "
        "By how many percent of the rear reading before does the rear reading change? " + SIGNS,
        sign="change",
    ),
    numeric(
        "whole_percent",
        4,
        "The whole weight in percent",
        "pdT",
        "F0 R0 W a L",
        HUNG + "Before, the readings were {F0} in front and {R0} at the rear. "
        "By how many percent of the weight before does the weight of the machine grow?",
    ),
    numeric(
        "front_share_after",
        4,
        "The front share after",
        "pF1",
        "F0 R0 W a L",
        HUNG + "Before, the readings were {F0} in front and {R0} at the rear. "
        "What share of the weight is on the front axle now, in percent?",
    ),
    numeric(
        "relief_percent",
        4,
        "The front relief in percent",
        "poff",
        "F0 R0 W a L",
        HUNG + "Without it the readings are {F0} in front and {R0} at the rear. It is taken off. "
        "By how many percent of the front reading with it on does the front reading fall?",
        sign="size",
    ),
)
KINDS = LESSON_01 + LESSON_02 + LESSON_03 + LESSON_04
