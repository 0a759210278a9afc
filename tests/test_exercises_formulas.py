"""Typed formulas: the grammar, its bounds, exact comparison, the verdict on formula problems."""

import random
from fractions import Fraction

import pytest

from leverarm import exercises
from leverarm.exercises.expressions.equivalence import (
    as_sympy,
    degree,
    equivalent,
    exact_value,
    points,
    profile,
    with_second_opinion,
)
from leverarm.exercises.expressions.grammar import MOST_DEPTH, MOST_TYPED, Unreadable, read_formula
from leverarm.exercises.expressions.tree import (
    Letter,
    Num,
    Power,
    compiled,
    formula_text,
    negative,
    product,
    total,
    walk,
)

LETTERS = ["W", "a", "L", "dF", "F0", "ΔF", "B", "b"]
AT = {"W": 110.0, "a": 1.2, "L": 1.6, "dF": 7.0, "F0": 600.0, "ΔF": 9.0, "B": 5.0, "b": 3.0}


@pytest.mark.parametrize(
    "typed, number",
    [
        ("W*(1+a/L)", 192.5),
        ("W(1 + a/L)", 192.5),
        ("2W", 220),
        ("W×(1+a÷L)", 192.5),
        ("W·(1 + a⁄L)", 192.5),
        ("W (L+a)/L", 192.5),
        ("W[1+{a/L}]", 192.5),
        ("-W a/L", -82.5),
        ("−W·a/L", -82.5),
        ("W - -a", 111.2),
        ("W*-a", -132),
        ("ΔF", 9),
        ("∆F", 9),
        ("delta F", 9),
        ("Delta_F", 9),
        ("F0+W", 710),
        ("F₀+W", 710),
        ("dF", 7),
        ("a^2", 1.44),
        ("a²", 1.44),
        ("a⁻²", 1 / 1.44),
        ("a^2L", 1.44 * 1.6),
        ("a**2", 1.44),
        ("2a^2", 2.88),
        ("-a^2", -1.44),
        ("W/a^2", 110 / 1.44),
        ("a^-1", 1 / 1.2),
        ("a^(-2)", 1 / 1.44),
        ("sqrt(a)", 1.2**0.5),
        ("√(a+L)", 2.8**0.5),
        ("√a L", 1.2**0.5 * 1.6),
        ("a^(1/2)", 1.2**0.5),
        ("a^0.5", 1.2**0.5),
        ("3/4 W", 82.5),
        ("1.5W", 165),
        ("1,5 W", 165),
        ("０.5Ｗ", 55),
        ("w*A", 132),
        ("W x a", 132),
        ("B b", 15),
        ("(((W)))", 110),
        ("W/(2*L)", 110 / 3.2),
        ("W/2*L", 88),
        ("2W(a)(L)", 422.4),
        ("1e0", None),
    ],
)
def test_readings(typed, number):
    if number is None:
        with pytest.raises(Unreadable):
            read_formula(typed, LETTERS)
        return
    trees = read_formula(typed, LETTERS)
    assert len(trees) == 1 and compiled(trees[0])(AT) == pytest.approx(number, rel=1e-12)


@pytest.mark.parametrize(
    "typed, one, other",
    [
        ("a/2L", "a/(2 × L)", "a × L/2"),
        ("W/a b", "W/(a × b)", "W × b/a"),
        ("1/2W", "1/(2 × W)", "W/2"),
        ("3/4W", "3/(4 × W)", "3 × W/4"),
    ],
)
def test_a_product_behind_a_division_has_two_readings(typed, one, other):
    assert [formula_text(tree) for tree in read_formula(typed, LETTERS)] == [one, other]


@pytest.mark.parametrize(
    "typed, says",
    [
        ("", "Nothing was typed"),
        ("   ", "Nothing was typed"),
        ("W*(1+a/L", "not closed"),
        ("W)", "none belongs"),
        ("W+", "Something is missing"),
        ("*W", "before the *"),
        ("Z", "Z is not a letter"),
        ("exec", "is not a letter"),
        # A word is named whole, also where its first letters are letters of the problem.
        ("answer", "answer is not a letter"),
        ("W*(1 + ankle/L)", "ankle is not a letter"),
        ("2Lever", "Lever is not a letter"),
        ("W.real", "is not a number"),
        ("9**9**9", "exponent"),
        ("W^a", "exponent"),
        ("W^7", "exponent"),
        ("W^(a)", "exponent"),
        ("W^(1/3)", "exponent"),
        ("W^(1/0)", "exponent"),
        ("W^(/2)", "exponent"),
        ("W^2^2", "exponent"),
        ("W^(-/2)", "exponent"),
        ("W^(1/2", "exponent"),
        ("W^", "exponent"),
        ("W 2", "right behind"),
        ("2 3", "right behind"),
        ("1,234 W", "1234 or 1.234"),
        ("1..2", "not a number"),
        ("()", "Something is missing"),
        ("(" * (MOST_DEPTH + 5) + "W", "nested more than"),
        ("W+" * MOST_TYPED, "characters long"),
        ("__import__('os')", "not a letter"),
        ("W;a", "not a letter"),
        ("sqrt", "at the end"),
    ],
)
def test_refusals_are_one_plain_sentence(typed, says):
    with pytest.raises(Unreadable) as refused:
        read_formula(typed, ["W", "a", "L"])
    assert says in str(refused.value) and len(str(refused.value)) < 200


def random_tree(rng, depth):
    """A tree to write down and read back."""
    if not depth or rng.random() < 0.2:
        return rng.choice(
            [
                Letter("W"),
                Letter("a"),
                Letter("L"),
                Num(rng.randrange(1, 9)),
                Num(Fraction(rng.randrange(1, 9), 4)),
            ]
        )
    parts = [random_tree(rng, depth - 1) for _ in range(rng.randrange(2, 4))]
    return rng.choice(
        [
            lambda: total(*parts),
            lambda: product(parts),
            lambda: product(parts[:1], parts[1:]),
            lambda: negative(parts[0]),
            lambda: Power(parts[0], rng.choice([2, 3, -1])),
        ]
    )()


def test_what_is_printed_reads_back_as_the_same_formula():
    rng, kept = random.Random(5), 0
    for _ in range(400):
        tree = random_tree(rng, 3)
        said = formula_text(tree)
        if len(said) > MOST_TYPED or not list(walk(tree)):
            continue
        found = {
            profile(again, points(("W", "a", "L"))) for again in read_formula(said, ["W", "a", "L"])
        }
        assert found == {profile(tree, points(("W", "a", "L")))}, said
        kept += 1
    assert kept > 300


@pytest.mark.parametrize(
    "typed, shown",
    [
        ("a^2", "a^2"),
        ("(W+a)^2", "(W + a)^2"),
        ("sqrt(a)", "sqrt(a)"),
        ("a^(1/2)", "sqrt(a)"),
        ("a^-1", "a^−1"),
        ("W-(a-L)", "W − (a − L)"),
        ("W*-a", "−W × a"),
        ("-(W+a)", "−(W + a)"),
        ("W/(a L)", "W/(a × L)"),
        ("W/(a/L)", "W × L/a"),
        ("W/(a+L)", "W/(a + L)"),
        ("2/3 W", "2/3 × W"),
        ("(W/a)^2", "(W/a)^2"),
        ("W (1+a/L) 2", None),
    ],
)
def test_a_formula_is_shown_as_people_write_it(typed, shown):
    if shown is None:
        with pytest.raises(Unreadable):
            read_formula(typed, LETTERS)
    else:
        assert formula_text(read_formula(typed, LETTERS)[0]) == shown


def test_exact_values_agree_with_sympy():
    """General-purpose library: sympy, rational arithmetic."""
    from sympy import Rational

    rng = random.Random(6)
    at = {"W": Fraction(7, 3), "a": Fraction(5, 11), "L": Fraction(13, 4)}
    for _ in range(150):
        tree = random_tree(rng, 3)
        try:
            exact = exact_value(tree, at)
        except ZeroDivisionError:
            continue
        there = as_sympy(tree).subs(
            {
                s: Rational(at[s.name].numerator, at[s.name].denominator)
                for s in as_sympy(tree).free_symbols
            }
        )
        assert there == Rational(exact.numerator, exact.denominator)


@pytest.mark.parametrize(
    "one, other, equal",
    [
        ("W*(1+a/L)", "(W*L + W*a)/L", True),
        ("W*(1+a/L)", "W + W*a/L", True),
        ("W*(1+a/L)", "W*(1+L/a)", False),
        ("(W+a)^2", "W^2+2*W*a+a^2", True),
        ("(W+a)^2", "W^2+a^2", False),
        ("W-W", "0", True),
        ("sqrt(W^2)", "W", True),
        ("sqrt(W)*sqrt(W)", "W", True),
        ("sqrt(W^2+a^2)", "W+a", False),
        ("W/3", "0.3333333333*W", False),
        ("(W^2-a^2)/(W-a)", "W+a", True),
        ("W*1.0000000001", "W", False),
    ],
)
def test_sameness(one, other, equal):
    trees = [read_formula(t, ["W", "a", "L"])[0] for t in (one, other)]
    profiles = [profile(tree, points(("W", "a", "L"))) for tree in trees]
    found = with_second_opinion(equivalent(*profiles), *trees)
    assert found.same is equal and "cannot tell" not in found.how
    assert "at 4 points" in found.how and "sympy finds the same" in found.how


def test_degree_bounds_the_work():
    assert degree(read_formula("((W+a)^6)^6", ["W", "a"])[0]) == 72
    verdict = exercises.check(exercises.make("formula_front_gain", 1), "((((W+a)^6)^6)^6)^6")
    assert verdict.case == "unread" and "too many letters" in verdict.message


FORMULAS = [kind for kind in exercises.problems() if kind.style == "symbol"]


@pytest.mark.parametrize("kind", FORMULAS, ids=lambda kind: kind.name)
def test_the_likeliest_wrong_turns_of_a_formula_are_named_and_the_right_one_is_right(kind):
    p = exercises.make(kind, 1)
    assert exercises.check(p, p.answer, sympy=False).right
    told = 0
    for turn in kind.wrong_turns[:60]:
        tree = kind.put_in(turn.tree, p.drawn)
        typed = formula_text(tree, kind.letters)
        if len(typed) <= MOST_TYPED and "." not in typed and "(" in typed + "(":
            verdict = exercises.check(p, typed, sympy=False)
            told += 1
            assert verdict.case in ("right", "unclear", "unread") or (
                1 <= len(verdict.suspects) <= 2
            ), typed
    assert told > 20


@pytest.mark.parametrize(
    "typed, case, suspects",
    [
        ("W*(1+a/L)", "right", []),
        ("ΔF = W(L+a)/L", "right", []),
        ("W + Wa/L", "right", []),
        ("2W", "wrong", ["plain doubling"]),
        ("W", "wrong", ["weight alone"]),
        ("Wa/L", "wrong", ["rear loss only"]),
        ("W*L/a", "wrong", ["lever upside down"]),
        ("W(1+a)/L", "wrong", ["bracket moved"]),
        ("a/2L", "unclear", []),
        ("W/0", "unread", []),
        ("W^2", "wrong", ["two changes"]),
        ("W^3*a^2", "wrong", []),
    ],
)
def test_verdicts_on_the_front_gain(typed, case, suspects):
    verdict = exercises.check(exercises.make("formula_front_gain", 1), typed)
    assert (
        verdict.case == case
        and [s.name for s in verdict.suspects] == suspects
        and verdict.counts == (case in ("right", "wrong"))
    )
    assert case != "right" or (
        "exactly, in fractions, at 4 points" in verdict.message
        and "sympy finds the same" in verdict.message
    )


def test_no_multiple_stands_where_a_wrong_lever_gives_the_right_formula():
    """At half the wheelbase, at the golden ratio and at one wheelbase, as for numbers."""
    drawn = {exercises.make("front_at_a_multiple", seed).drawn for seed in range(300)}
    assert len(drawn) > 9 and all(0.2 <= multiple <= 1.7 for multiple in drawn)
    for spot in (0.5, 0.618034, 1):
        assert min(abs(float(multiple) - spot) for multiple in drawn) > 0.09


def test_a_multiple_of_the_wheelbase_gives_everyone_their_own_formula():
    answers = {exercises.make("front_at_a_multiple", seed).answer for seed in range(30)}
    assert len(answers) > 6
    p = exercises.make("front_at_a_multiple", 1)
    assert exercises.check(p, p.answer).right and exercises.check(p, f"W + {p.answer} - W").right
    assert not exercises.check(p, "2W").right


@pytest.mark.parametrize(
    "typed, case, suspects",
    [
        ("ΔF+ΔR", "right", []),
        ("dF + dR", "right", []),
        ("W = delta F + ∆R", "right", []),
        ("ΔF", "wrong", ["front gain alone"]),
        ("ΔF-ΔR", "wrong", ["signs lost"]),
        ("F1-F0", "unread", []),
    ],
)
def test_letters_with_a_delta(typed, case, suspects):
    verdict = exercises.check(exercises.make("formula_weight_changes", 1), typed)
    assert verdict.case == case and [s.name for s in verdict.suspects][:1] == suspects, (
        verdict.message
    )


def test_a_rounded_number_in_a_formula_is_asked_about_and_no_slip_is_claimed():
    p = next(
        p
        for p in (exercises.make("front_at_a_multiple", seed) for seed in range(50))
        if p.answer == "4 × W/3"
    )
    verdict = exercises.check(p, "1.33W")
    assert verdict.case == "unclear" and not verdict.suspects and "rounded" in verdict.message
    assert exercises.check(p, "4/3 W").right
