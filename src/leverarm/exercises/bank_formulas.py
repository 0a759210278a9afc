"""Formulas to derive, lessons 01 to 09."""

from leverarm.exercises.formulas import FormulaKind


def _formula(name, lesson, title, asked, given, statement, at="", stream=""):
    return FormulaKind(
        name, lesson, title, asked, tuple(given.split()), statement, tuple(at.split()), stream
    )


_HUNG = (
    "A weight W hangs on a {machine}, a distance a ahead of the front axle. The wheelbase is L. "
)
_MULTIPLE = "A weight W hangs on a {machine}, ahead of the front axle by a = {multiple}, L being the wheelbase. "
_DAY = (
    "A {machine} reads F0 in front and R0 at the rear; with something hung on it reads F1 and R1. "
)
_BEHIND = "A counterweight B hangs on a {machine}, a distance b behind the rear axle. The wheelbase is L. "

KINDS = (
    _formula(
        "formula_center",
        1,
        "Formula: the center of gravity",
        "x",
        "F0 R0 L",
        "A {machine} reads F0 in front and R0 at the rear; its wheelbase is L. Write how far behind the front axle its center of gravity is.",
        stream="formula_centre",
    ),
    _formula(
        "formula_front_reading",
        1,
        "Formula: the front reading",
        "F",
        "T x0 L",
        "A {machine} weighs T; its center of gravity is x behind the front axle, its wheelbase L. Write the front reading.",
    ),
    _formula(
        "formula_jug",
        1,
        "Formula: the jug on the plank",
        "Jr",
        "J d S",
        "A jug of weight J stands on a plank, d from the left scale; the scales are S apart. Write what the jug adds to the right scale.",
    ),
    _formula(
        "formula_front_gain",
        3,
        "Formula: the front gain",
        "dF",
        "W a L",
        _HUNG + "Write what the front reading gains.",
    ),
    _formula(
        "formula_rear_change",
        3,
        "Formula: the rear change",
        "dR",
        "W a L",
        _HUNG + "Write the change of the rear reading. (A loss is negative.)",
    ),
    _formula(
        "formula_factor",
        3,
        "Formula: the factor",
        "kf",
        "a L",
        "A weight hangs on a {machine}, a distance a ahead of the front axle. The wheelbase is L. Write how many times its weight the front gains.",
    ),
    _formula(
        "formula_overhang",
        3,
        "Formula: the overhang for a factor",
        "ak",
        "k L",
        "The wheelbase of a {machine} is L. Write how far ahead of the front axle a weight must hang, for the front to gain k times its weight.",
    ),
    _formula(
        "formula_lifting",
        3,
        "Formula: the weight that lifts the rear",
        "Wl",
        "R0 a L",
        "A {machine} reads R0 at the rear; its wheelbase is L. Write the weight that, a ahead of the front axle, just takes the last load off the rear.",
    ),
    _formula(
        "front_at_a_multiple",
        3,
        "The front gain at a multiple of the wheelbase",
        "dF",
        "W a L",
        _MULTIPLE + "Write what the front reading gains, in W.",
        "a L",
    ),
    _formula(
        "rear_at_a_multiple",
        3,
        "The rear change at a multiple of the wheelbase",
        "dR",
        "W a L",
        _MULTIPLE + "Write the change of the rear reading, in W. (A loss is negative.)",
        "a L",
    ),
    _formula(
        "formula_two_pieces",
        4,
        "Formula: two pieces",
        "dF12",
        "W1 a1 W2 a2 L",
        "On a {machine} hang a bucket W1, a1 ahead of the front axle, and arms W2, a2 ahead. The wheelbase is L. Write what the front reading gains.",
    ),
    _formula(
        "formula_percent",
        4,
        "Formula: the gain in percent",
        "pdF",
        "W a L F0",
        _HUNG + "Before, the front reading was F0. Write the front gain in percent of it.",
    ),
    _formula(
        "formula_weight",
        5,
        "Formula: the weight from readings",
        "Wr",
        "F0 R0 F1 R1",
        _DAY + "Write its weight.",
    ),
    _formula(
        "formula_overhang_read",
        5,
        "Formula: the overhang from readings",
        "ar",
        "F0 R0 F1 R1 L",
        _DAY + "The wheelbase is L. Write how far ahead of the front axle it hangs.",
    ),
    _formula(
        "formula_weight_changes",
        5,
        "Formula: the weight from the changes",
        "Wr",
        "dFr dRr",
        "Something is hung on a {machine}. The front reading changes by ΔF, the rear reading by ΔR, each with its sign. Write its weight.",
    ),
    _formula(
        "formula_overhang_changes",
        5,
        "Formula: the overhang from the changes",
        "ar",
        "dFr dRr L",
        "Something is hung on a {machine} of wheelbase L. The front reading changes by ΔF, the rear reading by ΔR, each with its sign. "
        "Write how far ahead of the front axle it hangs.",
    ),
    _formula(
        "formula_uncertainty",
        5,
        "Formula: the uncertainty of the weight",
        "uW",
        "u",
        "A weight is found from four readings, each with the standard uncertainty u; the errors do not depend on each other. "
        "Write the standard uncertainty of the weight.",
    ),
    _formula(
        "formula_braking",
        6,
        "Formula: what a braking force moves",
        "moved",
        "slow h L",
        "A {machine} is slowed by a force P that acts at its center of gravity, h above the ground. The wheelbase is L. "
        "Write the load that moves to the front axle.",
    ),
    _formula(
        "formula_sideways",
        6,
        "Formula: track and height",
        "ssf",
        "t h",
        "A four-cornered trolley has a track t and its center of gravity h above the ground. "
        "Write the tangent of the side slope at which the center of gravity is over the tire line.",
    ),
    _formula(
        "formula_ballast_front",
        7,
        "Formula: ballast and the front",
        "dFB",
        "B b L",
        _BEHIND + "Write the change of the front reading. (A loss is negative.)",
    ),
    _formula(
        "formula_ballast_rear",
        7,
        "Formula: ballast and the rear",
        "dRB",
        "B b L",
        _BEHIND + "Write the change of the rear reading.",
    ),
    _formula(
        "formula_cancelling",
        7,
        "Formula: ballast that takes the gain off again",
        "Bc",
        "W a b L",
        _HUNG
        + "Write the ballast that, b behind the rear axle, takes the whole front gain off again.",
    ),
    _formula(
        "formula_lead",
        9,
        "Formula: the lead",
        "ld",
        "Cf Cr g1",
        "One front turn of a {machine} rolls Cf, one rear turn Cr; drive in, the front turns i times for each rear turn. "
        "Write the lead in percent.",
    ),
    _formula(
        "formula_path",
        9,
        "Formula: the front path in a turn",
        "path",
        "O L",
        "A {machine} turns about a point R from the middle of its rear axle; its wheelbase is L. "
        "Write how many times as far the front axle runs as the rear axle.",
    ),
)
