"""Mistakes: every common one is recognized for what it is; where several fit, all are named.

The rows are written in blackboard letters, apart from the package: W hung weight, a overhang, L
wheelbase, F0 R0 T0 front, rear and total before, F1 T1 after, x center of gravity to front axle, B
ballast at b behind the rear axle, u standard uncertainty of a reading, A contact patch of one tire,
Cf Cr rolling circumferences, i turns ratio, g gravity.
"""

import pytest

from leverarm import exercises
from leverarm.exercises.expressions.grammar import read_formula
from leverarm.exercises.expressions.tree import Letter, compiled, traced, value_at
from leverarm.exercises.method import method_for
from leverarm.exercises.single_changes import Context, single_changes
from leverarm.quantities import to_unit

G = 9.80665
ROWS = [  # kind to ask, id, formula of the number
    *(
        ("front_gain_among_readings", *row)
        for row in (
            ("RIGHT", "W*(1+a/L)"),
            ("weight alone", "W"),
            ("rear loss only", "W*a/L"),
            ("between the axles", "W*(L-a)/L"),
            ("lever upside down", "W*L/a"),
            ("half of the weight", "W/2"),
            ("plain doubling", "2*W"),
            ("arm to center of gravity", "W*(1+a/x)"),
            ("newtons", "g*W*(1+a/L)"),
            ("overhang to the lip", "W*(1+(a+0.25)/L)"),
            ("reading for gain", "F0+W*(1+a/L)"),
            ("distance added to weight", "W+a"),
        )
    ),
    *(
        ("rear_change", *row)
        for row in (
            ("RIGHT", "-W*a/L"),
            ("other sign", "W*a/L"),
            ("no change", "0*W"),
            ("whole weight off the rear", "-W"),
            ("size of the front gain", "-W*(1+a/L)"),
        )
    ),
    *(
        ("total_change", *row)
        for row in (("RIGHT", "W"), ("front gain alone", "W*(1+a/L)"), ("no change", "0*W"))
    ),
    *(
        ("percent_change", *row)
        for row in (
            ("RIGHT", "100*W*(1+a/L)/F0"),
            ("percent of the whole tractor", "100*W*(1+a/L)/T0"),
            ("percent of, not more than", "100*(F0+W*(1+a/L))/F0"),
            ("weight without lever", "100*W/F0"),
            ("percent of the rear", "100*W*(1+a/L)/R0"),
            ("percent of the hung weight", "100*(1+a/L)"),
            ("not yet percent", "W*(1+a/L)/F0"),
        )
    ),
    *(
        ("front_share_after", *row)
        for row in (
            ("RIGHT", "100*(F0+W*(1+a/L))/(T0+W)"),
            ("old weight below", "100*(F0+W*(1+a/L))/T0"),
        )
    ),
    *(
        ("loader_front", *row)
        for row in (
            ("RIGHT", "W1*(1+a1/L)+W2*(1+a2/L)+W3*(1+a3/L)"),
            ("all at the bucket", "(W1+W2+W3)*(1+a1/L)"),
            ("plain mean of arms", "(W1+W2+W3)*(1+(a1+a2+a3)/3/L)"),
            ("factors multiplied", "(1+a1/L)*(1+a2/L)*(1+a3/L)"),
            ("bucket counted twice", "2*W1*(1+a1/L)+W2*(1+a2/L)+W3*(1+a3/L)"),
        )
    ),
    *(
        ("weight_from_readings", *row)
        for row in (
            ("RIGHT", "f+r"),
            ("front gain alone", "f"),
            ("signs lost", "f-r"),
            ("mean of the sizes", "(f-r)/2"),
            ("before and after swapped", "-f-r"),
        )
    ),
    *(
        ("overhang_from_readings", *row)
        for row in (
            ("RIGHT", "-L*r/(f+r)"),
            ("from the rear axle", "L-L*r/(f+r)"),
            ("signs lost", "-L*r/(f-r)"),
            ("subtracted from the wheelbase", "L+L*r/(f+r)"),
            ("other sign", "L*r/(f+r)"),
        )
    ),
    *(
        ("bucket_or_ballast", *row)
        for row in (
            ("RIGHT", "-B*b/L"),
            ("no change", "0*B"),
            ("weight alone", "-B"),
            ("other sign", "B*b/L"),
            ("overhang of the bucket", "-B*a/L"),
        )
    ),
    *(("ballast_rear", *row) for row in (("RIGHT", "B*(1+b/L)"), ("weight without lever", "B"))),
    *(
        ("lifting_weight", *row)
        for row in (
            ("RIGHT", "R0*L/a"),
            ("rear reading itself", "R0"),
            ("lever upside down", "R0*a/L"),
            ("front reading used", "F0*L/a"),
        )
    ),
    ("lifting_weight_in_all", "fitted weight subtracted", "R0*L/a-W"),
    *(
        ("weight_uncertainty", *row)
        for row in (
            ("RIGHT", "2*u"),
            ("one reading only", "u"),
            ("added plainly", "4*u"),
            ("errors canceled", "0*u"),
            ("percent of one reading", "(f+r)*u/F0"),
            ("two readings only", "2^0.5*u"),
        )
    ),
    *(
        ("front_pressure", *row)
        for row in (
            ("RIGHT", "F1*g/(2*A)/1000"),
            ("axle on one tire", "F1*g/A/1000"),
            ("whole machine on two tires", "T1*g/(2*A)/1000"),
            ("whole machine on four patches", "T1*g/(4*A)/1000"),
        )
    ),
    ("pressure_growth", "pressure grows as load", "100*(F1/F0-1)"),
    *(
        ("lead", *row)
        for row in (
            ("RIGHT", "100*(Cf*i-Cr)/Cr"),
            ("turns ratio forgotten", "100*(Cf-Cr)/Cr"),
            ("ratio, not lead", "100*Cf*i/Cr"),
            ("other sign", "-100*(Cf*i-Cr)/Cr"),
        )
    ),
    ("inches_and_meters", "inches over meters", "W*(1+a/0.0254/L)"),
    ("feet_and_inches", "feet over inches", "W*(1+a/12/L)"),
    ("millimeters_and_meters", "millimeters over meters", "W*(1+a*1000/L)"),
]
CONCEPTS = [
    "equal weights",
    "heavy never tips",
    "height changes level readings",
    "pivot changes readings",
    "rear gains",
    "load taken for mass",
    "pinned means carried",
    "moments need motion",
    "too many digits",
    "pressure grows as load",
    "tires change the load",
    "inflation pressure only",
    "free diameter",
    "lead always acts",
    "turn without lead",
    "feet over inches",
    "rounded early",
]
CONVERSIONS = [
    ("pounds", "factor turned over", 0.45359237),
    ("pounds", "newtons mixed in", 4.4482216),
    ("psi", "factor turned over", 6.894757),
]
LETTERS = [
    "W",
    "a",
    "L",
    "F0",
    "R0",
    "T0",
    "F1",
    "T1",
    "x",
    "W1",
    "a1",
    "W2",
    "a2",
    "W3",
    "a3",
    "f",
    "r",
    "B",
    "b",
    "u",
    "A",
    "Cf",
    "Cr",
    "i",
    "g",
]


def board(problem):
    """The blackboard letters of a problem, worked out from its given numbers alone."""
    at = dict(problem.drawn.values) | {"g": G}
    for name in ("a_in", "a_ft", "a_mm"):
        at["a"] = at.get(name, at.get("a"))
    at |= {"i": at["g1"]} if "g1" in at else {}
    if {"F0", "R0"} <= at.keys():
        at["T0"] = at["F0"] + at["R0"]
        at["x"] = at.get("L", 0) * at["R0"] / at["T0"]
    if {"F1", "R1"} <= at.keys():
        at["T1"] = at["F1"] + at["R1"]
    if {"F0", "R0", "F1", "R1"} <= at.keys():
        at |= {"f": at["F1"] - at["F0"], "r": at["R1"] - at["R0"]}
    return at


@pytest.mark.parametrize(
    "kind, name, formula", ROWS, ids=[f"{kind}-{name}" for kind, name, _ in ROWS]
)
def test_every_listed_row_is_recognized_for_what_it_is(kind, name, formula):
    number = compiled(read_formula(formula, LETTERS)[-1])
    for seed in range(8):
        p = exercises.make(kind, seed)
        typed = repr(to_unit(value_at(number, board(p)), p.source.method.rule.kind, p.unit))
        verdict = exercises.check(p, typed)
        if name == "RIGHT":
            assert verdict.right
        else:
            assert not verdict.right and name in {s.name for s in verdict.suspects}, (
                p.statement,
                typed,
            )


@pytest.mark.parametrize("kind, name, factor", CONVERSIONS)
def test_unit_factors_the_wrong_way_round(kind, name, factor):
    p = exercises.make(kind, 2)
    number = float(next(iter(p.given.values())).split()[0]) * factor
    assert name in {s.name for s in exercises.check(p, f"{number:.6g}").suspects}


@pytest.mark.parametrize("name", CONCEPTS)
def test_every_listed_thought_is_an_option_with_a_reply_of_its_own(name):
    kind = next(
        k
        for k in exercises.problems()
        if k.style == "choice" and name in {o.mistake for o in k.options}
    )
    p = exercises.make(kind, 4)
    label = next(label for (label, _), option in zip(p.options, p.drawn) if option.mistake == name)
    verdict = exercises.check(p, label)
    assert (
        [s.name for s in verdict.suspects] == [name]
        and verdict.question.endswith(("?", "."))
        and len(verdict.question) > 15
    )


def test_rounding_on_the_way_is_recognized():
    p = exercises.make("front_gain", 3, "kg")
    ratio = p.drawn.values["a"] / p.drawn.values["L"]
    number = p.drawn.values["W"] * (1 + round(ratio, 1))
    assert abs(number - p.answer) > 0.005 * p.answer
    assert "rounded early" in {s.name for s in exercises.check(p, f"{number:.4f}").suspects}


# Slips that no list names, each a single change of the right working.
UNLISTED = [
    ("front_reading", "T*x0/L*0 + T*(1+x0/L)", "inner sign"),
    ("plank_right", "P + J*d/S*0 + P/2*0 + J*d/S", None),
    ("front_gain", "W*(1+L/L)", None),
    ("rear_change", "-W*a", "not divided"),
    ("factor", "a/L+2", "doubled term"),
    ("new_front_reading", "W + W*(1+a/L)", "wrong quantity"),
    ("weight_from_readings", "F1-F0+R1+R0", "inner sign"),
    ("front_share", "100*F0/(R0+R0)", "wrong quantity"),
    ("center_of_gravity", "L*R0/F0+R0", "bracket lost"),
    ("canceling_ballast", "W*a/L*L/b", None),
    ("loader_front", "W2*(1+a2/L)+W3*(1+a3/L)", "dropped term"),
    ("ballast_rear", "2*B*(1+b/L)", None),
    ("front_gain", "W*(1+a)/L", "bracket moved"),
    ("front_gain", "W+a/L", "bracket lost"),
    ("loader_rear", "-(W1*a1+W2*a2-W3*a3)/L", "inner sign"),
    ("bucket_and_ballast", "-B*b/L-W*a/L", "other axle"),
]


@pytest.mark.parametrize(
    "kind, formula, name", UNLISTED, ids=[f"{kind}-{formula}" for kind, formula, _ in UNLISTED]
)
def test_a_slip_that_nobody_listed_is_recognized(kind, formula, name):
    work = next(k for k in exercises.problems() if k.name == kind).method
    number = compiled(read_formula(formula, list(work.letters))[-1])
    for seed in range(3):
        p = exercises.make(kind, seed)
        verdict = exercises.check(
            p, repr(to_unit(value_at(number, p.drawn.values), work.rule.kind, p.unit))
        )
        assert verdict.suspects and (name is None or name in {s.name for s in verdict.suspects}), (
            p.statement,
            verdict,
        )


def test_several_suspects_are_all_named_and_none_is_claimed():
    p = next(
        q
        for q in (exercises.make("front_share", seed, "kg") for seed in range(200))
        if len(exercises.check(q, "50").suspects) > 1
    )
    verdict = exercises.check(p, "50")
    assert verdict.finding.startswith("50 % can be ") and verdict.question.startswith(
        "Which of these was it?"
    )
    assert all(suspect.what in verdict.finding for suspect in verdict.suspects)


@pytest.mark.parametrize(
    "kind, system, goal",
    [
        ("front_gain", "kg", "The question asks for the change of the front reading, in kg."),
        ("front_gain", "lb", "The question asks for the change of the front reading, in lb."),
        ("front_share", "kg", "The question asks for the front share, in percent."),
        ("factor", "kg", "The question asks for the factor."),
        ("pounds", "kg", "The question asks for the same weight in pounds."),
    ],
)
def test_the_goal_names_what_is_asked_and_its_unit(kind, system, goal):
    p = exercises.make(kind, 1, system)
    assert exercises.check(p, repr(p.answer * 3.3)).goal == goal


def test_the_sign_of_a_mistake_counts_unless_the_question_says_which_way():
    """Lost weight, told as a size, is the same mistake with either sign; a change is not."""
    for seed in range(4):
        p = exercises.make("relief_percent", seed, "kg")
        at, factor = p.drawn.values, 1.003
        wrong = factor * 100 * at["W"] / at["F1"] if "F1" in at else factor * p.answer * 0.5
        names = [
            {s.name for s in exercises.check(p, repr(sign * wrong)).suspects} for sign in (1, -1)
        ]
        assert names[0] == names[1] != set()
        q = exercises.make("front_gain", seed, "kg")
        W = q.drawn.values["W"]
        assert "weight alone" in {s.name for s in exercises.check(q, repr(W)).suspects}
        assert "weight alone" not in {s.name for s in exercises.check(q, repr(-W)).suspects}


def by_ratio(W, a, L):
    return W * (1 + a / L)


@pytest.mark.parametrize(
    "kind, seed, system, typed, names, changed, results",
    [
        # The whole plank on one scale, or all of the jug; with the plank half as heavy again.
        (
            *(
                "plank_right",
                3,
                "kg",
                15.9 + 11.5 * 0.750 / 2.42,
                ["whole plank on one scale", "whole jug on one scale"],
            ),
            "the weight of the plank at 23.8 kg",
            ("kg", 23.8 / 2 + 11.5, 23.8 + 11.5 * 0.750 / 2.42),
        ),
        # Twice the weight, or the overhang to the lip of the bucket, a quarter of a meter farther.
        (
            *(
                "front_gain_among_readings",
                2,
                "kg",
                434.0,
                ["plain doubling", "overhang to the lip"],
            ),
            "the overhang at 2.39 m",
            ("kg", 2 * 217, by_ratio(217, 2.39 + 0.25, 1.85)),
        ),
        # All pieces at the arm of the bucket, or the bucket counted twice; in pounds and inches.
        (
            *(
                "two_pieces",
                3,
                "lb",
                by_ratio(237 + 648, 59.0, 74.5),
                ["all at the bucket", "bucket counted twice"],
            ),
            "the weight of the bucket at 356 lb",
            (
                "lb",
                by_ratio(356 + 648, 59.0, 74.5),
                2 * by_ratio(356, 59.0, 74.5) + by_ratio(648, 10.5, 74.5),
            ),
        ),
    ],
    ids=lambda value: value if isinstance(value, str) else None,
)
def test_the_second_try_tells_two_suspects_apart(
    kind, seed, system, typed, names, changed, results
):
    """The question gives both results at another number, the smaller first: by hand here."""
    p = exercises.make(kind, seed, system)
    verdict = exercises.check(p, repr(typed))
    assert [suspect.name for suspect in verdict.suspects] == names
    unit, low, high = results
    assert low < high and verdict.question == (
        f"Which of these was it? Work yours again with {changed}: "
        f"do you get {three_digits(low)} or {three_digits(high)} {unit}?"
    )


def three_digits(number):
    return f"{number:.1f}" if number < 100 else f"{number:.0f}"


def test_mistakes_that_lead_to_one_formula_are_named_as_such():
    """100 percent in front: the whole weight above the line, or a term left out below it."""
    p = exercises.make("front_share", 5, "kg")
    verdict = exercises.check(p, "100")
    assert [s.name for s in verdict.suspects] == ["wrong quantity", "dropped term"]
    assert verdict.question.startswith("Both lead to the same formula.")


def test_the_commoner_stand_first():
    for kind in exercises.problems():
        if kind.style == "number":
            ranks = [group.mistakes[0].rank for group in kind.mistakes]
            assert ranks == sorted(ranks)


def test_no_path_is_the_right_working_and_no_two_are_alike():
    for kind in exercises.problems():
        if kind.style == "number":
            made = [exercises.make(kind, seed).drawn for seed in range(9, 12)]
            rows = [
                tuple(float(f"{value_at(group.compute, at.values):.9g}") for at in made)
                for group in kind.mistakes
                if group.mistakes[0].name != "rounded early"
            ]  # a number may have no more digits
            assert (
                len(set(rows)) == len(rows)
                and tuple(float(f"{at.right:.9g}") for at in made) not in rows
            ), kind.name


def test_single_changes_only():
    """W(1 + a/L): every single change, and nothing with two."""
    from leverarm import statics

    tree = traced(statics.front_gain, Letter("W"), Letter("a"), Letter("L"))
    found = {
        mistake.name
        for mistake in single_changes(
            tree, Context({"W": "weight", "a": "length", "L": "length"}, {}, "weight", True)
        )
    }
    assert found == {
        "sign",
        "half",
        "double",
        "unit",
        "rounded early",
        "wrong quantity",
        "dropped term",
        "inner sign",
        "doubled term",
        "upside down",
        "dropped factor",
        "not divided",
        "times for divide",
        "bracket lost",
        "bracket moved",
    }


def test_a_method_is_made_once():
    assert method_for("front_gain", ("W", "a", "L")) is method_for("front_gain", ("W", "a", "L"))
