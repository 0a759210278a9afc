"""The bare formulas: each equals the derivation, in letters and in numbers, and is one line of
arithmetic.
"""

import ast
import inspect
import random
import re
from fractions import Fraction
from functools import cache

import numpy as np
import pytest
from sympy import Symbol, lambdify, simplify, solve, symbols

from leverarm import statics
from leverarm.statics import derive

FORMULAS = {
    name: f for name, f in vars(statics).items() if inspect.isfunction(f) and name != "derive"
}
# Those that take one entry per load.
ON_LISTS = {"reactions": 1, "reactions_on_grade": 3}

LEVEL, GRADE, PULL, BOTH = (
    derive(),
    derive(grade=True),
    derive(pull=True),
    derive(grade=True, pull=True),
)
W, a, L, F, R = (LEVEL.symbols[name] for name in "WaLFR")
h, c, s = (GRADE.symbols[name] for name in "hcs")
P, h_P = PULL.symbols["P"], PULL.symbols["h_P"]
R0, k, x = Symbol("R0", positive=True), Symbol("k", real=True), Symbol("x", real=True)
now, base, grows = symbols("now base grows", positive=True)
THREE, THREE_ON_GRADE = derive(3), derive(3, grade=True)


def per_load(d, letter):
    return [d.symbols[f"{letter}_{i}"] for i in (1, 2, 3)]


def solved(equation, letter):
    (only,) = solve(equation, letter)
    return only


# Formula -> (the letters to call it with, what the derivation says).  A formula without a line here
# fails.
SAYS = {
    "moment": ((W, a), -LEVEL.equations[0].lhs.subs(R, 0)),
    "front_gain": ((W, a, L), LEVEL.front),
    "rear_change": ((W, a, L), LEVEL.rear),
    "amplification": ((a, L), LEVEL.front / W),
    "overhang_for": ((k, L), solved(LEVEL.front - k * W, a)),
    "front_gain_on_grade": ((W, a, h, L, c, s), GRADE.front),
    "rear_change_on_grade": ((W, a, h, L, c, s), GRADE.rear),
    "pull_transfer": ((P, h_P, L), PULL.rear - LEVEL.rear),
    "ground_force": ((W, s, P), BOTH.along),
    "reactions": ((per_load(THREE, "W"), per_load(THREE, "a"), L), (THREE.front, THREE.rear)),
    "reactions_on_grade": (
        (
            per_load(THREE_ON_GRADE, "W"),
            per_load(THREE_ON_GRADE, "a"),
            per_load(THREE_ON_GRADE, "h"),
            L,
            c,
            s,
        ),
        (THREE_ON_GRADE.front, THREE_ON_GRADE.rear),
    ),
    "hung_weight": ((LEVEL.front, LEVEL.rear), W),
    "overhang_of": ((LEVEL.front, LEVEL.rear, L), a),
    # The whole machine is one load: its readings give its place back.
    "center_of_gravity": ((LEVEL.front, LEVEL.rear, L), a),
    "lifting_weight": ((R0, a, L), solved(R0 + LEVEL.rear, W)),
    "weight_for_share": (
        (now, base, LEVEL.front / W, grows, k),
        solved(now + LEVEL.front - k * (base + W * grows), W),
    ),
    "share": ((LEVEL.front, LEVEL.front + LEVEL.rear), 100 * (1 + a / L)),
}


def flat(value):
    """The numbers of a result, whether it is one or a pair."""
    return list(value) if isinstance(value, tuple) else [value]


def test_every_formula_is_held_to_the_derivation():
    missing = [name for name in FORMULAS if name not in SAYS]
    assert not missing, f"write what the derivation says of {missing} into SAYS"
    assert set(SAYS) == set(FORMULAS)


@pytest.mark.parametrize("name", SAYS)
def test_in_letters(name):
    told, says = SAYS[name]
    for ours, derived in zip(flat(FORMULAS[name](*told)), flat(says), strict=True):
        assert simplify(ours - derived) == 0
        assert ours != 0


@cache
def as_functions(name):
    """The letters of a line of SAYS, then what to call the formula with and what is derived, as
    plain functions.
    """
    told, says = SAYS[name]
    told = [entry if isinstance(entry, list) else [entry] for entry in told]
    letters = sorted(set().union(*(one.free_symbols for entry in told for one in entry)), key=str)
    return letters, lambdify(letters, told, "math"), lambdify(letters, flat(says), "math")


def call(name, draw, kind):
    """Random arguments, the formula on them, and the derivation on the same numbers, exactly."""
    letters, told, says = as_functions(name)
    exact = [
        Fraction(draw.randint(10, 900) if letter.is_positive else draw.randint(-900, 900) or 1, 100)
        for letter in letters
    ]
    given = [[kind(one) for one in entry] for entry in told(*exact)]
    given = [
        entry if isinstance(spec, list) else entry[0] for entry, spec in zip(given, SAYS[name][0])
    ]
    return given, flat(FORMULAS[name](*given)), says(*exact)


@pytest.mark.parametrize("name", SAYS)
def test_on_fractions_exactly(name):
    draw = random.Random(60)
    for _ in range(20):
        _, ours, says = call(name, draw, Fraction)
        assert ours == says and all(isinstance(one, Fraction) for one in ours)


@pytest.mark.parametrize("name", SAYS)
def test_on_floats(name):
    draw = random.Random(61)
    for _ in range(20):
        _, ours, says = call(name, draw, float)
        assert ours == pytest.approx([float(one) for one in says], rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("name", SAYS)
def test_on_arrays(name):
    """An array in every place gives, element by element, what the plain numbers give."""
    draw = random.Random(62)
    rows = [call(name, draw, float) for _ in range(12)]
    columns = [
        [np.array(one) for one in zip(*entry)] if isinstance(entry[0], list) else np.array(entry)
        for entry in zip(*(given for given, _, _ in rows))
    ]
    for together, single in zip(
        flat(FORMULAS[name](*columns)), zip(*(ours for _, ours, _ in rows)), strict=True
    ):
        np.testing.assert_allclose(together, single, rtol=1e-12)
        assert together.shape == (12,)


def test_arrays_stretch_over_plain_numbers():
    overhangs = np.linspace(-1.5, 1.5, 7)
    np.testing.assert_allclose(
        statics.front_gain(100, overhangs, 1.5), np.linspace(0, 200, 7), atol=1e-12
    )
    assert statics.front_gain(np.ones((4, 1)), overhangs, 1.5).shape == (4, 7)


PLAIN = (
    ast.Return,
    ast.BinOp,
    ast.UnaryOp,
    ast.Add,
    ast.Sub,
    ast.Mult,
    ast.Div,
    ast.USub,
    ast.Name,
    ast.Load,
    ast.Constant,
    ast.Call,
)
OF_LISTS = (*PLAIN, ast.Tuple, ast.GeneratorExp, ast.comprehension, ast.Store, ast.keyword)


@pytest.mark.parametrize("name", FORMULAS)
def test_a_formula_is_one_line_of_bare_arithmetic(name):
    """Names of its letters, + - * /, whole numbers, and calls of other formulas: nothing else."""
    (function,) = ast.parse(inspect.getsource(FORMULAS[name])).body
    _, *prepare, line = function.body
    lists = name in ON_LISTS
    assert len(prepare) == lists and isinstance(line, ast.Return)
    called = {node.func.id for node in ast.walk(line) if isinstance(node, ast.Call)}
    assert called <= FORMULAS.keys() - {name} | ({"sum"} if lists else set())
    letters = {argument.arg for argument in function.args.args}
    inner = {
        node.id
        for node in ast.walk(line)
        if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store)
    }
    for node in ast.walk(line):
        assert isinstance(node, OF_LISTS if lists else PLAIN), ast.dump(node)
        assert not isinstance(node, ast.Name) or node.id in letters | inner | called | (
            {"loads"} if lists else set()
        )
        assert not isinstance(node, ast.Constant) or type(node.value) is int
    assert not function.args.defaults and not function.args.kwonlyargs


PARTS = ("Equation", "Valid", "Source")


@pytest.mark.parametrize("name", FORMULAS)
def test_a_formula_is_told_in_full(name):
    """What it is, its equation, letters, when it is valid, its source, errors and an example."""
    text = inspect.getdoc(FORMULAS[name])
    for part in PARTS:
        assert f"\n{part} " in text, part
    assert f">>> {name}(" in text
    for letter in inspect.signature(FORMULAS[name]).parameters:
        assert re.search(rf"\b{letter}\b", text.split("\n", 1)[1].split(">>>")[0]), letter


def divides(name):
    tree = ast.parse(inspect.getsource(FORMULAS[name]))
    calls = {
        node.func.id
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    }
    return any(isinstance(node, ast.Div) for node in ast.walk(tree)) or any(
        divides(n) for n in calls & FORMULAS.keys()
    )


# A call of each dividing formula whose divisor is zero.
BY_ZERO = {
    "front_gain": (1, 1, 0),
    "rear_change": (1, 1, 0),
    "amplification": (1, 0),
    "front_gain_on_grade": (1, 1, 1, 0, 1, 0),
    "rear_change_on_grade": (1, 1, 1, 0, 1, 0),
    "pull_transfer": (1, 1, 0),
    "reactions": ([1], [1], 0),
    "reactions_on_grade": ([1], [1], [1], 0, 1, 0),
    "overhang_of": (1, -1, 2),
    "center_of_gravity": (0, 0, 2),
    "lifting_weight": (800, 0, 1.5),
    "weight_for_share": (1, 1, 0.2, 1, 0.2),
    "share": (1, 0),
}


@pytest.mark.parametrize("name", FORMULAS)
def test_a_zero_divisor_is_an_error_and_the_docstring_says_so(name):
    text = inspect.getdoc(FORMULAS[name])
    assert (name in BY_ZERO) == divides(name), f"give BY_ZERO a call of {name} that divides by 0"
    assert divides(name) == ("ZeroDivisionError" in text), "say it under Errors"
    if name in BY_ZERO:
        with pytest.raises(ZeroDivisionError):
            FORMULAS[name](*BY_ZERO[name])


@pytest.mark.parametrize("told", [([1], [1, 2], 1.5), ([1, 2], [1], 1.5)])
def test_lists_must_match(told):
    with pytest.raises(ValueError):
        statics.reactions(*told)
    with pytest.raises(ValueError):
        statics.reactions_on_grade(*told[:2], [1], 1.5, 1, 0)
    with pytest.raises(ValueError):
        statics.reactions_on_grade([1, 2], [1, 2], [1], 1.5, 1, 0)


def test_no_load_is_no_reaction():
    assert (
        statics.reactions([], [], 1.5)
        == statics.reactions_on_grade([], [], [], 1.5, 1, 0)
        == (0, 0)
    )
    assert statics.reactions(iter([100, 50]), iter([1.5, -1.5]), 1.5) == (200, -50)


# Worked by hand with L = 1.5 m: overhang, front gain and rear change of 100 kg.
BY_HAND = [
    (0, 100, 0),
    (-1.5, 0, 100),
    (-0.75, 50, 50),
    (0.75, 150, -50),
    (1.5, 200, -100),
    (3, 300, -200),
    (-3, -100, 200),
    (0.3, 120, -20),
]


@pytest.mark.parametrize("ahead, front, rear", BY_HAND)
def test_by_hand(ahead, front, rear):
    assert statics.front_gain(100, ahead, 1.5) == pytest.approx(front)
    assert statics.rear_change(100, ahead, 1.5) == pytest.approx(rear)
    assert statics.reactions([100], [ahead], 1.5) == pytest.approx((front, rear))
    assert statics.amplification(ahead, 1.5) == pytest.approx(front / 100)
    assert statics.overhang_for(front / 100, 1.5) == pytest.approx(ahead)
    assert statics.overhang_of(front, rear, 1.5) == pytest.approx(ahead)
    assert statics.hung_weight(front, rear) == pytest.approx(100)


def test_limits():
    """Far out the front gain grows without bound; over a long wheelbase it comes down to the
    weight.
    """
    assert statics.front_gain(1, 1e9, 1) == pytest.approx(1e9, rel=1e-8)
    assert statics.front_gain(1, 1, 1e9) == pytest.approx(1, rel=1e-8)
    assert statics.lifting_weight(800, 1e-9, 1.5) > 1e11
    assert statics.lifting_weight(0, 1.2, 1.5) == 0
