"""Formulas as trees, held against plain arithmetic on numbers beside them.

A random calculation is done twice at each step, once on trees and once on fractions; what a tree
prints is worked out by Python's own rules of precedence.
"""

import ast
import hashlib
import math
import operator
import random
from decimal import Context, Decimal
from fractions import Fraction

import pytest

from leverarm import exercises
from leverarm.exercises.expressions.equivalence import (
    Comparison,
    TooBig,
    agree,
    as_sympy,
    degree,
    equivalent,
    exact_value,
    nearly_agree,
    points,
    profile,
    with_second_opinion,
)
from leverarm.exercises.expressions.grammar import Unreadable, read_formula
from leverarm.exercises.expressions.tree import (
    ONE,
    ZERO,
    Call,
    Letter,
    Named,
    Neg,
    Num,
    Power,
    Prod,
    Rounded,
    Sum,
    children,
    compiled,
    formula_text,
    letters_in,
    negative,
    node,
    product,
    rebuilt,
    replaced,
    total,
    traced,
    value_at,
    walk,
    written_out,
)

W, A, L = Letter("W"), Letter("a"), Letter("L")
SEVENTY = Context(prec=70)
AT = {"W": Fraction(7, 3), "a": Fraction(5, 11), "L": Fraction(13, 4)}
LETTERS = tuple(AT)


# --- what arithmetic on nodes builds --------------------------------------------------------------

BUILT = [
    (total(), ZERO),
    (total(W), W),
    (total(ZERO, W, ZERO), W),
    (total(W, A), Sum((W, A))),
    (total(total(W, A), L), Sum((W, A, L))),
    (total(W, total(A, L)), Sum((W, A, L))),
    (total(W, Neg(W)), ZERO),
    (total(Neg(W), W, A), A),
    (total(W, A, Neg(W), L), Sum((A, L))),
    (total(W, W), Sum((W, W))),
    (total(Num(2), Num(-2)), ZERO),
    (negative(W), Neg(W)),
    (negative(Neg(W)), W),
    (negative(Num(3)), Num(-3)),
    (product(()), ONE),
    (product((W,)), W),
    (product((ONE, W, ONE)), W),
    (product((W, A)), Prod((W, A))),
    (product((W,), (A,)), Prod((W,), (A,))),
    (product((), (A,)), Prod((ONE,), (A,))),
    (product((W,), (ONE,)), W),
    (product((ZERO, W), (A,)), ZERO),
    (product((Neg(W), A)), Neg(Prod((W, A)))),
    (product((Neg(W), Neg(A))), Prod((W, A))),
    (product((W,), (Neg(A),)), Neg(Prod((W,), (A,)))),
    (product((Neg(W),), (Neg(A),)), Prod((W,), (A,))),
    (product((Num(-2), W)), Neg(Prod((Num(2), W)))),
    (product((W,), (Num(-2),)), Neg(Prod((W,), (Num(2),)))),
    (product((Num(-1), W)), Neg(W)),
    (product((Prod((W,), (A,)), L)), Prod((W, L), (A,))),
    (product((W,), (Prod((L,), (A,)),)), Prod((W, A), (L,))),
    (product((Neg(Prod((W, A))), L)), Neg(Prod((W, A, L)))),
    (product((Prod((ONE,), (L,)), W)), Prod((W,), (L,))),
    (product((W,), (Prod((ONE,), (L,)),)), Prod((W, L))),
    (W + 1, Sum((W, Num(1)))),
    (1 + W, Sum((Num(1), W))),
    (W - 1, Sum((W, Num(-1)))),
    (1 - W, Sum((Num(1), Neg(W)))),
    (W * 2, Prod((W, Num(2)))),
    (2 * W, Prod((Num(2), W))),
    (W / 2, Prod((W,), (Num(2),))),
    (2 / W, Prod((Num(2),), (W,))),
    (W**2, Power(W, 2)),
    (W**1, W),
    (W**0.5, Power(W, 0.5)),
    (W ** Fraction(3, 2), Power(W, Fraction(3, 2))),
    (-W, Neg(W)),
    (+W, W),
    (node(3), Num(3)),
    (node(W), W),
]


@pytest.mark.parametrize("at", range(len(BUILT)))
def test_a_built_node_is_flat_and_has_its_sign_in_front(at):
    made, wanted = BUILT[at]
    assert made == wanted


def test_an_exponent_is_a_number():
    with pytest.raises(TypeError, match="exponent"):
        W ** "2"


def test_nodes_are_small_and_cannot_be_changed():
    """Thousands are made for one page: each keeps its fields and no dictionary beside them."""
    for one in (W, Num(1), Neg(W), Sum((W, A)), Prod((W, A)), Power(W, 2), Rounded(W, 2)):
        assert not hasattr(one, "__dict__")
        with pytest.raises((AttributeError, TypeError)):
            one.name = "another"
    for one in (Named("x", W), Call(math.sin, (W,))):
        assert not hasattr(one, "__dict__")


# --- the same calculation on trees and on fractions -----------------------------------------------

TWO = [operator.add, operator.sub, operator.mul, operator.truediv]
ONE_PART = [
    operator.neg,
    operator.pos,
    lambda x: x**2,
    lambda x: x**-1,
    lambda x: x**3,
    lambda x: 2 - x,
    lambda x: 3 * x,
    lambda x: x / 5,
    lambda x: 1 / x,
    lambda x: x + Fraction(1, 3),
]


def grown(rng, steps=7):
    """A tree and its value, each made by the same operations from the same beginnings."""
    found = [(Letter(name), number) for name, number in AT.items()]
    while steps:
        if rng.random() < 0.6:
            operation, chosen = rng.choice(TWO), [rng.choice(found) for _ in range(2)]
        else:
            operation, chosen = rng.choice(ONE_PART), [rng.choice(found)]
        try:
            value = operation(*(number for _, number in chosen))
        except ZeroDivisionError:
            continue
        if abs(value) > 10**9 or (value and abs(value) < Fraction(1, 10**9)):
            continue
        found.append((operation(*(tree for tree, _ in chosen)), value))
        steps -= 1
    return found[-1]


def pythons_own(text):
    """The value of printed text by Python's rules of precedence."""

    def of(part):
        if isinstance(part, ast.BinOp):
            signs = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul}
            signs |= {ast.Div: operator.truediv, ast.Pow: operator.pow}
            return signs[type(part.op)](of(part.left), of(part.right))
        if isinstance(part, ast.UnaryOp):
            return -of(part.operand)
        return AT[part.id] if isinstance(part, ast.Name) else Fraction(part.value)

    return of(parsed(text))


def parsed(text):
    """Printed text as Python's own syntax tree."""
    for shown, typed in (("×", "*"), ("−", "-"), ("^", "**")):
        text = text.replace(shown, typed)
    return ast.parse(text, mode="eval").body


def without_each_pair(text):
    """The text with one pair of parentheses less, for each pair."""
    opened = []
    for at, char in enumerate(text):
        if char == "(":
            opened.append(at)
        elif char == ")":
            first = opened.pop()
            yield text[:first] + text[first + 1 : at] + text[at + 1 :]


@pytest.mark.parametrize("seed", range(60))
def test_a_tree_is_worth_what_its_operations_give(seed):
    tree, value = grown(random.Random(seed))
    assert exact_value(tree, AT) == value
    floats = {name: float(number) for name, number in AT.items()}
    assert value_at(compiled(tree), floats) == pytest.approx(float(value), rel=1e-9, abs=1e-9)
    text = formula_text(tree)
    assert pythons_own(text) == value, text
    for fewer in without_each_pair(text):
        try:
            same = ast.dump(parsed(fewer)) == ast.dump(parsed(text))
        except SyntaxError:
            same = False
        signs = fewer.replace("−", "-")
        assert not same or any(two in signs for two in ("- -", "+ -", "/-", "× -", "--")), text
    again = rebuilt(tree, children(tree)) if children(tree) else tree
    assert exact_value(again, AT) == value and formula_text(again) == text
    swapped = replaced(tree, {"W": A, "a": W})
    assert exact_value(swapped, AT) == exact_value(tree, AT | {"W": AT["a"], "a": AT["W"]})


@pytest.mark.parametrize("seed", range(6))
def test_sympy_gets_the_same_formula(seed):
    """General-purpose library: sympy, rational arithmetic."""
    tree, value = grown(random.Random(seed))
    there = as_sympy(tree)
    there = there.subs({one: AT[one.name] for one in there.free_symbols})
    assert (there.p, there.q) == (value.numerator, value.denominator)


def test_roots_are_worked_to_sixty_digits():
    """sqrt(2) to fifty decimals, from Decimal's own square root."""
    root = SEVENTY.sqrt(Decimal(2))
    for tree, worth in (
        (Power(Num(2), 0.5), root),
        (Neg(Power(Num(2), 0.5)), SEVENTY.minus(root)),
        (Power(Num(2), 0.5) + Fraction(1, 4), SEVENTY.add(root, Decimal("0.25"))),
        (Power(Num(2), 0.5) - Power(Num(2), 0.5) * 3, SEVENTY.multiply(root, Decimal(-2))),
        (Power(Num(2), 0.5) / 4, SEVENTY.divide(root, Decimal(4))),
        (5 / Power(Num(2), 0.5) / 2, SEVENTY.divide(Decimal("2.5"), root)),
        (Power(Num(2), Fraction(3, 2)), SEVENTY.multiply(root, Decimal(2))),
        (Named("x", Power(Num(2), 0.5)), root),
    ):
        (value,) = profile(tree, ({},))
        off = SEVENTY.subtract(value, worth)
        assert isinstance(value, Decimal) and abs(off) < Decimal("1e-57")


@pytest.mark.parametrize(
    "tree, value",
    [
        (Power(Num(0), 0.5), 0),
        (Power(Num(Fraction(4, 9)), 0.5), Fraction(2, 3)),
        (Power(Num(4), Fraction(1, 2)), 2),
        (Num(0.1), Fraction(1, 10)),
        (Named("x", Num(3)), 3),
        (Power(Num(-1), 0.5), None),
        (Power(Num(0), -1), None),
        (Num(1) / ZERO, None),
    ],
)
def test_a_value_is_exact_or_there_is_none(tree, value):
    (found,) = profile(tree, ({},))
    assert found == value and (value is None or isinstance(found, Fraction))


# --- walking --------------------------------------------------------------------------------------


def test_letters_come_in_the_order_they_appear_each_once():
    assert letters_in(W * (1 + A / L) - A) == ("W", "a", "L")
    assert letters_in(L / A + W) == ("L", "a", "W")
    assert letters_in(Num(1)) == ()
    assert letters_in(Named("gain", Power(W, 2))) == ("W",)
    assert letters_in(Call(math.sin, (A,)) + Rounded(L, 2)) == ("a", "L")


def test_walking_meets_a_node_before_what_is_below_it():
    tree = Neg(Prod((W, Power(A, 2)), (L,)))
    assert list(walk(tree)) == [tree, tree.of, W, Power(A, 2), A, L]


def test_results_on_the_way_are_written_out():
    gain = Named("gain", W * (1 + Named("ratio", A / L)))
    assert written_out(gain) == W * (1 + A / L)
    assert written_out(Rounded(gain, 3)) == Rounded(W * (1 + A / L), 3)
    assert written_out(Call(math.sin, (gain,))) == Call(math.sin, (W * (1 + A / L),))
    assert rebuilt(gain, (A,)) == Named("gain", A)
    assert replaced(gain, {"W": L}) == Named("gain", L * (1 + Named("ratio", A / L)))
    assert rebuilt(Power(W, 3), (A,)) == Power(A, 3)
    assert rebuilt(Rounded(W, 3), (A,)) == Rounded(A, 3)
    assert rebuilt(Neg(W), (Neg(A),)) == A


def test_what_is_no_plain_arithmetic_becomes_a_call():
    tree = traced(math.hypot, W, A)
    assert tree == Call(math.hypot, (W, A))
    assert value_at(compiled(tree), {"W": 3.0, "a": 4.0}) == 5.0
    assert formula_text(tree) == "hypot(W, a)"
    assert formula_text(tree, {"W": "3", "a": "4"}) == "hypot(3, 4)"
    assert exercises.make("slope_degrees", 1, "kg").solution[0].letters == "arctan(G/100)"


def test_a_value_that_does_not_exist_is_none():
    for tree, at in (
        (1 / W, {"W": 0.0}),
        (Power(W, 9), {"W": 1e300}),
        (Power(W, 0.5), {"W": -1.0}),
        (Call(math.acos, (W,)), {"W": 2.0}),
    ):
        assert math.isnan(value_at(compiled(tree), at))


@pytest.mark.parametrize(
    "number, digits, cut", [(1234.5, 2, 1200), (1234.5, 3, 1230), (0.98765, 3, 0.988)]
)
def test_early_rounding_cuts_to_so_many_digits(number, digits, cut):
    assert compiled(Rounded(W, digits))({"W": number}) == pytest.approx(cut, rel=1e-12)


# --- printing -------------------------------------------------------------------------------------

NEGATIVE = {"W": "−5", "a": "3"}


@pytest.mark.parametrize(
    "tree, names, text",
    [
        # A minus never stands bare behind another sign.
        (W + A, NEGATIVE, "−5 + 3"),
        (A + W, NEGATIVE, "3 + (−5)"),
        (A - W, NEGATIVE, "3 − (−5)"),
        (-W, NEGATIVE, "−(−5)"),
        (W * A, NEGATIVE, "(−5) × 3"),
        (A * W, NEGATIVE, "3 × (−5)"),
        (A / W, NEGATIVE, "3/(−5)"),
        (W**2, NEGATIVE, "(−5)^2"),
        (Power(W, 0.5), NEGATIVE, "sqrt(−5)"),
        # A result's working stands in parentheses where it is a part of something.
        (Named("x", W) + A, {"x": "F1 − F0"}, "F1 − F0 + a"),
        (A + Named("x", W), {"x": "F1 − F0"}, "a + (F1 − F0)"),
        (A - Named("x", W), {"x": "F1/F0"}, "a − (F1/F0)"),
        (Named("x", W) * A, {"x": "F^2"}, "(F^2) × a"),
        (Named("x", W) * A, {"x": "F"}, "F × a"),
        (A / Named("x", W), {"x": "F"}, "a/F"),
        # Constants.
        (Num(Fraction(1, 3)) * W, {}, "1/3 × W"),
        (W * Num(Fraction(1, 3)), {}, "W × (1/3)"),
        (Num(Fraction(1, 3)) + W, {}, "1/3 + W"),
        (W + Num(Fraction(1, 3)), {}, "W + 1/3"),
        (W - Fraction(1, 3), {}, "W − 1/3"),
        (Power(Num(Fraction(1, 3)), 2), {}, "(1/3)^2"),
        (W - 2, {}, "W − 2"),
        (2 - W, {}, "2 − W"),
        (Num(9.80665) * W, {}, "9.80665 × W"),
        (Num(1.01234567891), {}, "1.012345679"),
        (Num(-2), {}, "−2"),
        (Power(W, -2), {}, "W^−2"),
        (Power(W, 0.5), {}, "sqrt(W)"),
        (Power(W, Fraction(1, 2)), {}, "sqrt(W)"),
        (Power(W, 1.25), {}, "W^1.25"),
        # What binds more loosely than its surroundings.
        (Power(W + A, 2), {}, "(W + a)^2"),
        (Power(W * A, 2), {}, "(W × a)^2"),
        (Power(Power(W, 2), 3), {}, "(W^2)^3"),
        (Power(Neg(W), 2), {}, "(−W)^2"),
        (Neg(W + A), {}, "−(W + a)"),
        (Neg(W * A), {}, "−W × a"),
        (Neg(Power(W, 2)), {}, "−W^2"),
        (Neg(W) + A, {}, "−W + a"),
        (W + Neg(A + L), {}, "W − (a + L)"),
        (W * (A + L), {}, "W × (a + L)"),
        ((W + A) * L, {}, "(W + a) × L"),
        (W / (A + L), {}, "W/(a + L)"),
        (Prod((W,), (A, L)), {}, "W/(a × L)"),
        (Prod((W, A), (L,)), {}, "W × a/L"),
        (Prod((Power(W, 2),), (Power(A, 2),)), {}, "W^2/a^2"),
        (Rounded(W + A, 3) * L, {}, "(W + a) × L"),
        (Rounded(W, 3), {}, "W"),
    ],
)
def test_a_formula_in_print(tree, names, text):
    assert formula_text(tree, names) == text


# --- points, degrees, comparing -------------------------------------------------------------------


def by_hash(label, count):
    """The first whole numbers of a stream below a count, from SHA-256 of label and block."""
    block = hashlib.sha256(f"{label}|0".encode()).digest()
    return [int.from_bytes(block[at : at + 4], "big") % count for at in range(0, 32, 4)]


def test_points_are_four_fixed_ones_with_a_million_values_for_each_letter():
    """What was compared at them once must come out the same in five years."""
    for letters in (("W",), ("W", "a", "L"), tuple("abcdefgh")):
        assert points(letters) == tuple(
            {
                name: Fraction(1 + drawn, 1009)
                for name, drawn in zip(letters, by_hash(f"points|{number}", 10**6))
            }
            for number in range(4)
        )


@pytest.mark.parametrize(
    "typed, bound",
    [
        ("3", 0),
        ("W", 1),
        ("2W", 1),
        ("-W", 1),
        ("W a", 2),
        ("W/a", 2),
        ("W+a", 2),
        ("W+2", 1),
        ("sqrt(W)", 1),
        ("sqrt(2)", 0),
        ("W^3", 3),
        ("W^-3", 3),
        ("W^(5/2)", 2),
        ("(W a)^3/L", 7),
        ("(W+a)^2 (W+a)^2", 8),
    ],
)
def test_a_degree_is_counted_letter_by_letter(typed, bound):
    assert degree(read_formula(typed, LETTERS)[0]) == bound


def test_a_degree_of_forty_is_compared_and_one_more_is_not():
    at = points(LETTERS)
    assert None not in profile(read_formula("((W^6)^6) W^4", LETTERS)[0], at)
    with pytest.raises(TooBig):
        profile(read_formula("((W^6)^6) W^5", LETTERS)[0], at)
    assert degree(Named("x", W * A)) == 2 and degree(Call(math.hypot, (W * A, L))) == 2


@pytest.mark.parametrize(
    "one, other, near",
    [
        ((201,), (200,), True),
        ((199,), (200,), True),
        ((-201,), (-200,), True),
        ((Fraction(2011, 10),), (200,), False),
        ((Fraction(1989, 10),), (200,), False),
        ((-200,), (200,), False),
        ((200, 300), (200, 200), False),
        ((200, None), (200, 5), True),
        ((None,), (200,), False),
        ((), (), False),
    ],
)
def test_a_number_rounded_to_three_digits_is_near(one, other, near):
    assert nearly_agree(one, other) is near


@pytest.mark.parametrize(
    "one, other, same",
    [
        ((1, 2), (1, 2), True),
        ((1, 2), (1, 3), False),
        ((1, None), (1, 3), True),
        ((None, 2), (1, 2), True),
        ((None, None), (1, 3), False),
        ((), (), False),
    ],
)
def test_profiles_agree_wherever_both_have_a_value(one, other, same):
    one, other = (tuple(n if n is None else Fraction(n) for n in many) for many in (one, other))
    assert agree(one, other) is agree(other, one) is same
    assert equivalent(one, other).same is same


def test_roots_agree_to_fifty_digits_and_no_fewer():
    (root,) = profile(Power(Num(2), 0.5), ({},))
    for off, same in ((Decimal("1e-50"), True), (Decimal("2.1e-50"), False)):
        for one, near in ((root, SEVENTY.add(root, off)), (Fraction(2), SEVENTY.add(2, off))):
            assert agree((one,), (near,)) is agree((near,), (one,)) is same


def test_how_formulas_were_compared_is_said():
    root, exact = profile(Power(Num(2), 0.5), ({},) * 3), (Fraction(1),) * 3
    assert equivalent(exact, exact).how == "exactly, in fractions, at 3 points"
    assert equivalent((None, *exact), (None, *exact)).how == "exactly, in fractions, at 4 points"
    for one, other in ((root, root), (root, exact), (exact, root)):
        assert equivalent(one, other).how == "to fifty decimal places at 3 points"


def test_sympy_is_asked_about_small_formulas_only():
    """Up to forty nodes, a degree of sixteen, and nothing but plain arithmetic."""
    found = Comparison(True, "so")

    def asked(one, other):
        return with_second_opinion(found, one, other).how != "so"

    sums = {count: total(*map(Num, range(1, count))) for count in (40, 41)}
    assert [len(list(walk(tree))) for tree in sums.values()] == [40, 41]
    assert asked(sums[40], sums[40]) and asked(Power(W, 16), W)
    for big in (sums[41], Power(W, 17), Call(math.sin, (W,)) + 1):
        assert not asked(big, W) and not asked(W, big)


@pytest.mark.parametrize("same", [True, False])
@pytest.mark.parametrize("one, other, equal", [(W * 2, W + W, True), (W, A, False)])
def test_sympy_says_whether_it_finds_the_same(one, other, equal, same):
    told = with_second_opinion(Comparison(same, "so"), one, other)
    assert told.same is same
    assert told.how == f"so; sympy {'finds the same' if same == equal else 'cannot tell'}"


# --- what the grammar reads, at its bounds --------------------------------------------------------


def refused(typed, letters=LETTERS):
    """The sentence of a refusal; "" where the text is read."""
    try:
        read_formula(typed, letters)
    except Unreadable as sentence:
        return str(sentence)
    return ""


@pytest.mark.parametrize(
    "largest, one_more, says",
    [
        ("-W" * 60, "--W" + "-W" * 59, "121 parts; up to 120"),
        ("W" + " " * 199, "W" + " " * 200, "201 characters long; up to 200"),
        ("(" * 19 + "W" + ")" * 19, "(" * 20 + "W" + ")" * 20, "nested more than 20 deep"),
        ("√" * 19 + "W", "√" * 20 + "W", "Roots are nested more than 20 deep"),
        ("W^6", "W^7", "a whole number up to 6"),
        ("W^(11/2)", "W^(13/2)", "a whole number up to 6"),
        ("W^(1/2)", "W^(1/3)", "a whole number up to 6"),
    ],
)
def test_what_is_read_ends_at_a_bound(largest, one_more, says):
    assert refused(largest) == ""
    assert says in refused(one_more)


def test_parentheses_and_roots_side_by_side_are_not_nested():
    assert refused("+".join(["(W)"] * 29)) == ""
    assert refused(" ".join(["√W"] * 40)) == ""


@pytest.mark.parametrize(
    "typed, exponent",
    [
        ("W^0", 0),
        ("W^6", 6),
        ("W^-6", -6),
        ("W^(-6)", -6),
        ("W^-(6)", -6),
        ("W^-(-6)", 6),
        ("W^(3/2)", 1.5),
        ("W^-(3/2)", -1.5),
        ("W^0.5", 0.5),
        ("W^[1/2]", 0.5),
        ("W⁶", 6),
        ("W⁻²", -2),
        ("W**2", 2),
    ],
)
def test_exponents(typed, exponent):
    (tree,) = read_formula(typed, LETTERS)
    assert tree == Power(W, exponent)


@pytest.mark.parametrize(
    "typed, shown",
    [
        ("delta F+W", ["ΔF + W"]),
        ("W+delta_F a", ["W + ΔF × a"]),
        ("Delta F-DELTA F*a", ["ΔF − ΔF × a"]),
        ("deltaF/a", ["ΔF/a"]),
        ("dF a", ["ΔF × a"]),
        ("DF a", ["ΔF × a"]),
        ("4/3 W", ["4/3 × W"]),
        ("4/3 (W)", ["4/3 × W"]),
        ("4/3W", ["4/(3 × W)", "4 × W/3"]),
        ("W/3/4 a", ["W/(3 × 4 × a)", "W × a/(3 × 4)"]),
        ("a+3/4 W", ["a + 3/4 × W"]),
        ("a-3/4 W", ["a − 3/4 × W"]),
        ("2^3/4 W", ["2^3/(4 × W)", "2^3 × W/4"]),
        ("1000000/3 W", ["1000000/(3 × W)", "1000000 × W/3"]),
        ("100000/3 W", ["100000/3 × W"]),
        ("W x a", ["W × a"]),
        ("WXa", ["W × a"]),
        ("W--a", ["W + a"]),
        ("--W", ["W"]),
        ("W*-a/L", ["−W × a/L"]),
        ("W/-a", ["−W/a"]),
        ("W-a-L", ["W − a − L"]),
        ("W-(a-L)", ["W − (a − L)"]),
        ("W/a/L", ["W/(a × L)"]),
        ("W/(a/L)", ["W × L/a"]),
        ("2(W)3", None),
        ("2 3/4 W", None),
        ("x W", None),
        ("W,a", None),
    ],
)
def test_typed_and_shown(typed, shown):
    letters = {"W": "W", "a": "a", "L": "L", "ΔF": "ΔF", "dF": "ΔF"}
    if shown is None:
        assert refused(typed, letters)
    else:
        assert [formula_text(tree) for tree in read_formula(typed, letters)] == shown


def test_a_letter_in_another_case_is_read_where_only_one_can_be_meant():
    assert read_formula("w", ["W"])[0] == W and read_formula("dt", ["dT", "t"])[0] == Letter("dT")
    assert read_formula("b", ["B", "b"])[0] == Letter("b") and read_formula("B", ["B", "b"])[
        0
    ] == Letter("B")
    assert "DF is not a letter" in refused("DF", ["dF", "Df"])


@pytest.mark.parametrize(
    "letters, allowed",
    [
        (["W", "a"], "its letters are W, a."),
        ({"ΔF": "gain", "dF": "gain", "a": "a"}, "its letters are ΔF, a."),
        ([], "its letters are numbers alone."),
    ],
)
def test_a_refusal_names_the_letters_that_may_be_used(letters, allowed):
    assert refused("Q", letters) == f"Q is not a letter of this problem; {allowed}"


@pytest.mark.parametrize(
    "typed, sentence",
    [
        ("W 2.5", "Put a sign between, such as * before 5/2."),
        ("W 2", "Put a sign between, such as * before 2."),
        ("1,250 W", "1,250 can mean 1250 or 1.25."),
        ("1..2", "1..2 is not a number."),
        ("W)", "A ) stands where none belongs."),
        ("(W", "A parenthesis is opened and not closed."),
        ("/W", "Something is missing before the /."),
        ("W*", "Something is missing at the end."),
        ("W*)", "Something is missing before the )."),
        ("", "Nothing was typed."),
    ],
)
def test_a_refusal_says_what_is_wrong(typed, sentence):
    assert sentence in refused(typed)
