"""Mistakes: every common one is recognized for what it is; where several fit, all are named.

The rows are written in blackboard letters, apart from the package: W hung weight, a overhang, L
wheelbase, F0 R0 T0 front, rear and total before, F1 T1 after, x center of gravity to front axle, B
ballast at b behind the rear axle, u standard uncertainty of a reading, A contact patch of one tire,
Cf Cr rolling circumferences, i turns ratio, g gravity.
"""

import pytest

from leverarm import exercises
from leverarm.exercises.changes import Context, single_changes
from leverarm.exercises.expressions.grammar import read_formula
from leverarm.exercises.expressions.tree import (
    Letter,
    compiled,
    formula_text,
    traced,
    value_at,
)
from leverarm.exercises.method import method_for
from leverarm.exercises.suspects import search_for
from leverarm.exercises.values import Values
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


def test_a_number_rounded_on_the_way_is_called_close_and_no_slip_is_claimed():
    p = exercises.make("front_gain", 3, "kg")
    ratio = p.drawn.values["a"] / p.drawn.values["L"]
    number = p.drawn.values["W"] * (1 + round(ratio, 1))
    assert 0.005 * p.answer < abs(number - p.answer) < 0.03 * p.answer
    verdict = exercises.check(p, f"{number:.1f}")
    assert not verdict.suspects and "is close: check the arithmetic" in verdict.finding


# Slips that no list names, each a single change of the right working.
UNLISTED = [
    ("front_reading", "T*x0/L*0 + T*(1+x0/L)", None),
    ("plank_right", "P + J*d/S*0 + P/2*0 + J*d/S", None),
    ("front_gain", "W*(1+L/L)", None),
    ("rear_change", "-W*a", None),
    ("factor", "a/L+2", None),
    ("new_front_reading", "W + W*(1+a/L)", None),
    ("weight_from_readings", "F1-F0+R1+R0", None),
    ("front_share", "100*F0/(R0+R0)", None),
    ("center_of_gravity", "L*R0/F0+R0", None),
    ("canceling_ballast", "W*a/L*L/b", None),
    ("loader_front", "W2*(1+a2/L)+W3*(1+a3/L)", None),
    ("ballast_rear", "2*B*(1+b/L)", None),
    ("front_gain", "W*(1+a)/L", None),
    ("front_gain", "W+a/L", None),
    ("loader_rear", "-(W1*a1+W2*a2-W3*a3)/L", None),
    ("bucket_and_ballast", "-B*b/L-W*a/L", None),
]


@pytest.mark.parametrize(
    "kind, formula, name", UNLISTED, ids=[f"{kind}-{formula}" for kind, formula, _ in UNLISTED]
)
def test_a_slip_that_nobody_listed_is_recognized(kind, formula, name):
    """Worked in the numbers as shown, so that meters added to kilograms are inches and pounds."""
    work = next(k for k in exercises.problems() if k.name == kind).method
    number = compiled(read_formula(formula, list(work.letters))[-1])
    for seed in range(3):
        p = exercises.make(kind, seed)
        verdict = exercises.check(p, repr(value_at(number, p.drawn.shown)))
        assert verdict.suspects and (name is None or name in {s.name for s in verdict.suspects}), (
            p.statement,
            verdict,
        )


def test_two_suspects_are_both_named_and_none_is_claimed():
    """Twice the weight, or the overhang to the far edge, a quarter of a meter farther."""
    p = exercises.make("front_gain_among_readings", 2, "kg")
    verdict = exercises.check(p, "433")
    assert [s.name for s in verdict.suspects] == ["overhang to the lip", "plain doubling"]
    assert verdict.finding.startswith("433 kg can be ")
    assert verdict.question.startswith("Which of these was it?")
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
        at, factor = p.drawn.values, 1.0
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
            *("plank_right", 3, "kg", 19.5),
            ["whole plank on one scale", "whole jug on one scale"],
            "the weight of the plank at 23.8 kg",
            ("kg", 23.8 / 2 + 11.5, 23.8 + 11.5 * 0.750 / 2.42),
        ),
        (
            *("plank_right", 0, "kg", 17.3),
            ["whole plank on one scale", "whole jug on one scale"],
            "the weight of the plank at 18.6 kg",
            ("kg", 18.6 / 2 + 11.1, 18.6 + 11.1 * 1.000 / 2.28),
        ),
        # Twice the weight, or the overhang to the far edge, a quarter of a meter farther.
        (
            *("front_gain_among_readings", 2, "kg", 433),
            ["overhang to the lip", "plain doubling"],
            "the overhang at 2.39 m",
            ("kg", 2 * 217, by_ratio(217, 2.39 + 0.25, 1.85)),
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
    return f"{number:.1f}" if number < 100 else f"{number:,.0f}"


def test_no_wrong_turn_is_the_right_working_and_no_two_are_alike():
    for name in ("front_gain", "pressure_after", "scatter"):
        kind = exercises.kind_named(name)
        turns = search_for(kind.method, "lb").table.turns
        made = [exercises.make(kind, seed, "lb") for seed in range(9, 12)]
        values = Values([problem.drawn.shown for problem in made])
        rows = [tuple(f"{x:.7g}" for x in values(turn.tree)) for turn in turns]
        assert len(rows) <= 600 and len(rows) - len(set(rows)) <= 2, name
        assert tuple(f"{problem.answer:.7g}" for problem in made) not in rows, name
        priors = [turn.prior for turn in turns]
        assert priors == sorted(priors, reverse=True) and sum(priors) < 1.001


def test_single_changes_only():
    """W(1 + a/L): every single change, and nothing with two."""
    from leverarm import statics

    tree = traced(statics.front_gain, Letter("W"), Letter("a"), Letter("L"))
    pool = {"length": ((Letter("a"), 1.0), (Letter("L"), 1.0)), "weight": ((Letter("W"), 1.0),)}
    context = Context({"W": "weight", "a": "length", "L": "length"}, pool, {}, "weight", True)
    found = {formula_text(change.tree) for change in single_changes(tree, context)}
    assert found >= {
        *("−W × (1 + a/L)", "W × (1 + a/L)/2", "2 × W × (1 + a/L)", "W", "a"),
        *("W × a/L", "W × (1 − a/L)", "W × (1 + L/a)", "W × (1 + a)", "W × (1 + 1/L)"),
        *("W × (1 + a × L)", "W × (1 + a)/L", "W + a/L", "1 + a/L", "W × (1 + L/L)"),
        *("W × (1 + a/(L + a))", "W × (1 + a^2/L)"),
    }
    assert not any("^3" in text for text in found)


def test_a_method_is_made_once():
    assert method_for("front_gain", ("W", "a", "L")) is method_for("front_gain", ("W", "a", "L"))


def test_what_explains_two_tries_with_new_numbers_is_named():
    """One over the other where the sum belongs: unsure at three digits, sure the second time."""
    first, then = (exercises.make("front_gain", seed, "kg") for seed in (3, 4))
    tries = []
    for p in (first, then):
        at = p.drawn.values
        tries.append(f"{at['W'] * at['L'] / (at['L'] + at['a']):.3g}")
    verdict = exercises.check(then, tries[1], before=[(first, tries[0])])
    assert verdict.finding == (
        f"The same again: {tries[0]} kg and {tries[1]} kg are both what W × L/(L + a) gives."
    )
    assert verdict.reading == f"{tries[1]} kg" and not verdict.right


@pytest.mark.parametrize(
    "kind, system, text",
    [("rear_change", "kg", "1"), ("front_gain", "lb", "1"), ("front_gain", "kg", "W + a")],
    ids=["another kind", "other units", "no number"],
)
def test_another_try_that_cannot_be_compared_changes_nothing(kind, system, text):
    p, before = exercises.make("front_gain", 3, "kg"), exercises.make(kind, 5, system)
    typed = repr(p.drawn.values["W"])
    assert exercises.check(p, typed, before=[(before, text)]) == exercises.check(p, typed)
    assert exercises.check(p, repr(p.answer), before=[(before, text)]).right


def test_two_tries_that_no_one_turn_explains_are_told_as_one():
    first, then = (exercises.make("front_gain", seed, "kg") for seed in (3, 4))
    weight, double = repr(first.drawn.values["W"]), repr(2 * then.drawn.values["W"])
    alone = exercises.check(then, double)
    assert exercises.check(then, double, before=[(first, weight)]) == alone
