"""The derivation: every step implies its result, either pivot gives the same, and equilibrium
really holds.
"""

import copy
import itertools
import pickle
import random

import numpy as np
import pytest
from sympy import Add, Eq, Integer, Matrix, Rational, expand, linsolve, simplify, symbols

from leverarm import statics
from leverarm.derivation import LETTERS, _check, derive
from leverarm.quantities import Refusal

CASES = [
    pytest.param(n, about, grade, pull, id=f"{n}-{about}{'-grade' * grade}{'-pull' * pull}")
    for n, about, grade, pull in itertools.product(
        range(1, 6), ("front", "rear"), (False, True), (False, True)
    )
]
cases = pytest.mark.parametrize("n, about, grade, pull", CASES)


def letters(d, n):
    """Weights, stations, heights, cosine, sine, pull and its height: as symbols, or what they are
    on level ground.
    """
    marks = [""] if n == 1 else [f"_{i}" for i in range(1, n + 1)]
    known = d.symbols

    def take(name, default):
        return known.get(name, Integer(default))

    return (
        [known["W" + m] for m in marks],
        [known["a" + m] for m in marks],
        [take("h" + m, 0) for m in marks],
        take("c", 1),
        take("s", 0),
        take("P", 0),
        take("h_P", 0),
    )


@cases
def test_each_step_implies_its_result(n, about, grade, pull):
    """The equation of a step, with what earlier steps found put in, holds for its result and for
    nothing else.
    """
    d = derive(n, about=about, grade=grade, pull=pull)
    F, R = d.symbols["F"], d.symbols["R"]
    moments, forces, *along, tidy = d.steps
    first, second = (R, F) if about == "front" else (F, R)
    todo = [(moments, first), (forces, second)] + [(step, d.symbols["T"]) for step in along]
    found = {}
    for step, unknown in todo:
        left = step.equation.lhs.subs(found)
        assert step.equation.rhs == 0
        assert expand(left.subs(unknown, step.result)) == 0
        assert expand(left.subs(unknown, step.result + 1)) != 0
        assert not {F, R} & step.result.free_symbols
        found[unknown] = step.result
    assert tuple(expand(a - b) for a, b in zip(tidy.equation, tidy.result)) == (0, 0)
    assert (tidy.equation, tidy.result) == ((found[F], found[R]), (d.front, d.rear))


@cases
def test_the_pivot_carries_no_arm(n, about, grade, pull):
    """The moment equation holds one unknown: what acts at the pivot, or along the ground, drops
    out.
    """
    d = derive(n, about=about, grade=grade, pull=pull)
    near, far = ("F", "R") if about == "front" else ("R", "F")
    held = {letter.name for letter in d.steps[0].equation.free_symbols}
    assert far in held and not {near, "T"} & held
    other = "rear" if about == "front" else "front"
    assert d.steps[0].principle == f"moments about the {about} axle add up to zero"
    assert (
        f"The {about} reaction has no arm about its own axle, so only the {other} "
        in d.steps[0].words
    )
    assert d.steps[1].words.startswith(f"The {other} reaction is known; ")


@cases
def test_either_pivot_gives_the_same_reactions(n, about, grade, pull):
    d = derive(n, about=about, grade=grade, pull=pull)
    other = derive(n, about="rear" if about == "front" else "front", grade=grade, pull=pull)
    assert (d.front, d.rear, d.along) == (other.front, other.rear, other.along)
    assert d.equations[0] != other.equations[0]


@cases
def test_the_whole_body_is_in_equilibrium(n, about, grade, pull):
    """A second route: all forces as vectors, moments about any point, the ground's hold split any
    way at all.
    """
    d = derive(n, about=about, grade=grade, pull=pull)
    W, a, h, c, s, P, hP = letters(d, n)
    L, px, py, part = d.symbols["L"], *symbols("px py part")
    forces = [
        ((0, 0), (part * d.along, d.front)),
        ((-L, 0), ((1 - part) * d.along, d.rear)),
        ((0, hP), (-P, 0)),
    ]
    # Gravity on a grade whose nose is uphill: into the ground and rearward.
    forces += [((ai, hi), (-Wi * s, -Wi * c)) for Wi, ai, hi in zip(W, a, h)]
    assert expand(Add(*(fx for _, (fx, _) in forces))) == 0
    assert expand(Add(*(fy for _, (_, fy) in forces))) == 0
    turning = Add(
        *(Matrix([x - px, y - py, 0]).cross(Matrix([fx, fy, 0]))[2] for (x, y), (fx, fy) in forces)
    )
    assert expand(turning) == 0


@pytest.mark.parametrize("n, about, grade, pull", CASES[:12])  # it takes its time
def test_a_general_solver_agrees(n, about, grade, pull):
    d = derive(n, about=about, grade=grade, pull=pull)
    unknowns = [d.symbols[name] for name in "FRT"[: len(d.equations)]]
    (solution,) = linsolve([equation.lhs for equation in d.equations], unknowns)
    for ours, theirs in zip((d.front, d.rear, d.along), solution):
        assert simplify(ours - theirs) == 0


@cases
def test_numbers_put_in_equal_the_bare_formulas(n, about, grade, pull):
    d = derive(n, about=about, grade=grade, pull=pull)
    draw = random.Random(50 + n)

    def number(low, high):
        return Rational(draw.randint(low, high), 100)

    for _ in range(3):
        L, P, hP = number(50, 500), number(-9000, 9000), number(0, 200)
        c, s = (Rational(4, 5), Rational(-3, 5)) if grade else (Integer(1), Integer(0))
        W, a, h = (
            [number(*span) for _ in range(n)] for span in ((1, 90000), (-400, 400), (0, 200))
        )
        values = dict(zip((x.name for x in itertools.chain(*letters(d, n)[:2])), W + a)) | {"L": L}
        if grade:
            values |= {"c": c, "s": s} | dict(zip((x.name for x in letters(d, n)[2]), h))
        if pull:
            values |= {"P": P, "h_P": hP}
        front, rear = (
            statics.reactions_on_grade(W, a, h, L, c, s) if grade else statics.reactions(W, a, L)
        )
        moved = statics.pull_transfer(P, hP, L) if pull else 0
        assert d.at(**values) == (front - moved, rear + moved)


@pytest.mark.parametrize("n", range(1, 6))
def test_superposition_can_be_read_off(n):
    """Each load stands in one product of its own, and its factor knows of no other load."""
    d = derive(n, grade=True, pull=True)
    W, a, h, *_ = letters(d, n)
    for reaction in (d.front, d.rear):
        products = Add.make_args(reaction)
        assert len(products) == n + 1
        for i, weight in enumerate(W):
            (own,) = [p for p in products if p.has(weight)]
            assert not (own / weight).free_symbols & {*W, *a[:i], *a[i + 1 :], *h[:i], *h[i + 1 :]}


def test_the_lesson_case_reads_as_on_the_blackboard():
    d = derive()
    F, R, L, W, a = (d.symbols[name] for name in "FRLWa")
    assert [str(x) for x in (d.front, d.rear, d.along)] == ["W*(1 + a/L)", "-W*a/L", "0"]
    assert d.equations == (Eq(-L * R - W * a, 0), Eq(F + R - W, 0))
    assert list(d.symbols) == ["F", "R", "L", "W", "a"] and len(d.steps) == 3
    assert [len(derive(**more).steps) for more in ({"grade": True}, {"pull": True})] == [4, 4]


def test_limits():
    d = derive()
    L, W, _a = (d.symbols[name] for name in "LWa")
    assert d.at(a=0) == (W, 0)
    assert d.at(a=-L) == (0, W)
    assert d.at(a=-L / 2) == (W / 2, W / 2)
    assert d.at(a=L) == (2 * W, -W)
    assert d.at(W=0) == (0, 0)
    level = derive(grade=True)
    assert level.at(c=1, s=0) == (d.front, d.rear) and level.along.subs(level.symbols["s"], 0) == 0


@pytest.mark.parametrize("grade", [False, True])
def test_a_pull_moves_its_moment_over_the_wheelbase(grade):
    """P h/L leaves the front for the rear, the total stays, and the ground holds exactly P more."""
    without, pulled = derive(2, grade=grade), derive(2, grade=grade, pull=True)
    P, h, L = (pulled.symbols[name] for name in ("P", "h_P", "L"))
    assert expand(pulled.rear - without.rear - P * h / L) == 0
    assert expand(pulled.front - without.front + P * h / L) == 0
    assert expand(pulled.along - without.along) == P


def test_braking_loads_the_front():
    """Slowing acts as a forward pull at the center of gravity: P is negative, the front gains."""
    d = derive(pull=True)
    values = {"W": 1400, "a": Rational(-9, 10), "L": Rational(3, 2), "h_P": Rational(7, 10)}
    still, braked = d.at(P=0, **values), d.at(P=-300, **values)
    assert (braked[0] - still[0], braked[1] - still[1]) == (140, -140)


def test_a_grade_moves_weight_times_sine_times_height_over_wheelbase():
    """Gravity along the grade is a pull W s at the height of the center of gravity."""
    graded, pulled = derive(grade=True), derive(pull=True)
    W, h, c, s = (graded.symbols[name] for name in "Whcs")
    P, hP = pulled.symbols["P"], pulled.symbols["h_P"]
    # Only c may differ: on the level it is one.
    assert expand(graded.rear.subs(c, 1) - pulled.rear.subs({P: W * s, hP: h})) == 0
    assert expand(graded.front + graded.rear - c * W) == 0


REFUSED = [
    (n, {}, "loads") for n in (0, -1, 1001, True, False, 1.0, 2.5, "1", None, float("nan"), (1,))
]
REFUSED += [(1, {"about": about}, "about") for about in ("middle", "", None, 1, "Front")]


@pytest.mark.parametrize("n, more, field", REFUSED, ids=str)
@pytest.mark.parametrize("door", [derive, statics.derive], ids=["derivation", "statics"])
def test_refused_whatever_was_derived_before(door, n, more, field):
    """True and 1.0 equal 1, whose answer is kept by now; they are refused all the same."""
    assert door(1).front == door().front
    for _ in range(2):
        with pytest.raises(Refusal) as caught:
            door(n, **more)
        assert caught.value.field == field


def test_any_whole_number_type_counts_loads():
    assert _check(1000, "rear") is None  # deriving so many takes seconds
    assert derive(np.int64(3)).front == derive(3).front


def test_numbers_for_unknown_letters_are_refused():
    with pytest.raises(
        Refusal, match=r"letter: h was given; any of F, R, L, W, a is allowed; use the letters"
    ):
        derive().at(W=1, h=2)
    W, L = derive().symbols["W"], derive().symbols["L"]
    assert derive().at(a=Rational(6, 5), L=Rational(3, 2)) == (
        Rational(9, 5) * W,
        Rational(-4, 5) * W,
    )
    assert derive().at() == (derive().front, derive().rear) and L.is_positive


def test_an_answer_is_kept_and_nobody_can_spoil_it():
    first = derive(4, grade=True)
    first.symbols.clear()
    assert derive(4, grade=True) is first and len(first.symbols) == 18
    with pytest.raises(AttributeError):
        first.front = 0
    with pytest.raises(AttributeError):
        first.steps[0].result = 0
    assert hash(first) == hash(derive(4, grade=True)) and first != derive(4)


def test_an_answer_can_be_copied_and_stored():
    d = derive(2, pull=True)
    for twin in (copy.copy(d), copy.deepcopy(d), pickle.loads(pickle.dumps(d))):
        assert twin == d
    assert "Derivation(" in repr(d)


def test_every_letter_has_a_meaning_and_every_step_its_words():
    d = derive(2, grade=True, pull=True)
    assert all(letter.is_real for letter in d.letters)
    # Weights and the wheelbase are above zero, heights never below; a station may have either sign.
    assert [d.symbols[name].is_positive for name in ("L", "W_1", "W_2", "a_1", "c", "F")] == [
        True
    ] * 3 + [None] * 3
    assert [d.symbols[name].is_nonnegative for name in ("h_1", "h_P", "a_1")] == [True, True, None]
    for name in d.symbols:
        assert name in LETTERS or name.split("_")[0] in LETTERS, name
    assert set(LETTERS) == {name if name == "h_P" else name.split("_")[0] for name in d.symbols}
    for step in d.steps:
        assert step.words.endswith(".") and 20 < len(step.words) < 160 and step.principle
    for more in ({}, {"grade": True}, {"pull": True}):
        assert ("along the ground has no arm" in derive(**more).steps[0].words) == bool(more)
    # A grade carries less than the weight, and the words say so.
    assert (
        "carry the weight." in derive().steps[1].words
        and "carry the weight." not in d.steps[1].words
    )
