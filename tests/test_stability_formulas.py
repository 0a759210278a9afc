"""Bare formulas of stability: against sympy, against a second route, at their limits."""

import cmath
import inspect
import math

import pytest
import sympy
from sympy import Rational, cos, sin, symbols

from leverarm import statics
from leverarm.stability import formulas, sideways
from leverarm.stability.formulas import (
    between_axles,
    friction_demand,
    holding_tangent,
    mean_place,
    moment_sum,
    rated_load,
    slope_push,
    static_stability_factor,
    tipping_speed,
    tipping_tangent,
    turned_ahead,
    turned_up,
)

L, h, b, mu, phi = symbols("L h b mu phi", positive=True)
FORMULAS = [
    f
    for _, f in inspect.getmembers(formulas, inspect.isfunction)
    if f.__module__ == formulas.__name__
]


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f.__name__)
def test_a_formula_is_one_line_under_a_full_docstring(formula):
    doc = inspect.getdoc(formula)
    for part in ("Equation", "Source", ">>>"):
        assert part in doc, f"{formula.__name__} says no {part}"
    body = inspect.getsource(formula).split('"""')[2].strip()
    assert body.startswith("return ") and "\n" not in body
    assert not any(word in body for word in ("float(", "math.", " if ", "max(", "abs("))


@pytest.mark.parametrize(
    "x, y, degrees", [(1.85, 0, 0), (0.75, 0.2, -36.9), (2, -0.3, 40), (1, 1, 90), (0, 1, 180)]
)
def test_turning_is_multiplication_by_a_complex_number(x, y, degrees):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    turned = complex(x, y) * cmath.exp(1j * math.radians(degrees))
    assert (turned_ahead(x, y, c, s), turned_up(x, y, c, s)) == pytest.approx(
        (turned.real, turned.imag)
    )


def test_turning_keeps_every_length():
    x, y, t = symbols("x y t", real=True)
    X, Y = turned_ahead(x, y, cos(t), sin(t)), turned_up(x, y, cos(t), sin(t))
    assert sympy.simplify(X**2 + Y**2 - x**2 - y**2) == 0


def test_mean_place_is_the_center_the_scales_find():
    weights, stations = [1400, 210, 110, 300], [-0.943, 0.15, 1.2, 1.25]
    by_scales = statics.center_of_gravity(*statics.reactions(weights, stations, 1.65), 1.65)
    assert mean_place(weights, stations) == pytest.approx(by_scales)
    assert moment_sum(weights, stations) == pytest.approx(by_scales * sum(weights))


def test_lists_of_different_length_are_refused():
    with pytest.raises(ValueError):
        moment_sum([1, 2], [3])


def test_tipping_is_the_top_of_the_energy():
    """Lean a body about its line: the center of gravity is highest at the angle whose tangent the
    formula gives.
    """
    arm, lean = symbols("arm lean", positive=True)
    height = turned_up(
        -arm, h, cos(lean), -sin(lean)
    )  # the line is at 0, the center inside it by arm
    at = sympy.atan(tipping_tangent(arm, h))
    assert sympy.simplify(sympy.diff(height, lean).subs(lean, at)) == 0
    assert sympy.simplify(sympy.diff(height, lean, 2).subs(lean, at)).is_negative


@pytest.mark.parametrize(
    "axle, nose", [("rear", "down"), ("rear", "up"), ("front", "down"), ("front", "up")]
)
def test_holding_tangent_is_where_demand_meets_friction(axle, nose):
    """The limit is the root of friction_demand(slope_push, reaction on that grade) = mu."""
    k = symbols("k", positive=True)  # the rear axle's share of the weight
    front, rear = statics.reactions_on_grade(
        [1], [-k * L], [h], L, cos(phi), (-1 if nose == "down" else 1) * sin(phi)
    )
    push = slope_push(1, sin(phi), 0)
    share = k if axle == "rear" else 1 - k
    rise = h / L if (axle == "front") == (nose == "down") else -h / L
    at = sympy.atan(holding_tangent(share, rise, mu))
    demand = friction_demand(push, rear if axle == "rear" else front).subs(phi, at)
    assert sympy.simplify(demand - mu) == 0


def test_rear_brakes_nose_downhill_have_the_plus_sign_and_nose_uphill_the_minus():
    """The sign that is often printed wrong."""
    k = symbols("k", positive=True)
    assert sympy.simplify(holding_tangent(k, -h / L, mu) - mu * k * L / (L + mu * h)) == 0
    assert sympy.simplify(holding_tangent(k, h / L, mu) - mu * k * L / (L - mu * h)) == 0


def test_four_wheels_together_hold_up_to_the_friction_itself():
    front, rear = holding_tangent(0.4, 0, 0.5), holding_tangent(0.6, 0, 0.5)
    assert front + rear == pytest.approx(0.5)  # height 0: two axles, no transfer, tan = mu


def test_tipping_speed_by_moments_about_the_outer_line():
    """Weight and the outward pull, turned into slope axes, have no moment about the line at that
    speed.
    """
    t, R, g, a = symbols("t R g a", positive=True)
    v2 = sympy.nsimplify(tipping_speed(t, R, cos(a), sin(a), g)) ** 2
    outward, down = v2 / R + g * sin(a), g * cos(a)
    assert sympy.simplify(outward * 1 - down * t) == 0  # height 1, arm t


@pytest.mark.parametrize("times", [2, 3])
def test_speed_goes_with_the_square(times):
    """Twice the speed needs four times the radius for the same lean."""
    assert tipping_speed(0.6, times**2 * 5, 1, 0, 9.8) == pytest.approx(
        times * tipping_speed(0.6, 5, 1, 0, 9.8)
    )


def test_between_axles_is_a_straight_line():
    x, f, r = symbols("x f r", real=True)
    line = sympy.Line(sympy.Point(0, f), sympy.Point(-L, r))
    on = between_axles(f, r, x, L)
    assert (
        sympy.simplify(
            line.equation().subs(
                {sympy.Symbol("x", real=True): x, sympy.Symbol("y", real=True): on}
            )
        )
        == 0
    )


@pytest.mark.parametrize(
    "formula, told, answer",
    [
        (between_axles, (1, 2, 0, 1.5), 1),
        (between_axles, (1, 2, -1.5, 1.5), 2),
        (tipping_tangent, (0, 1), 0),
        (holding_tangent, (0.6, 0, 0.4), 0.24),
        (holding_tangent, (1, 0, 0.4), 0.4),
        (slope_push, (1000, 0, 0), 0),
        (tipping_speed, (0.5, 0, 1, 0, 9.8), 0),
        (rated_load, (800, 0.35), 280),
        (static_stability_factor, (2.0, 1.0), 1.0),
        (friction_demand, (0, 500), 0),
    ],
)
def test_limits(formula, told, answer):
    assert formula(*told) == pytest.approx(answer)


@pytest.mark.parametrize(
    "formula, told", [(tipping_tangent, (1, 0)), (friction_demand, (1, 0)), (mean_place, ([], []))]
)
def test_division_by_nothing_is_an_error(formula, told):
    with pytest.raises(ZeroDivisionError):
        formula(*told)


def test_weight_for_share_solves_its_own_definition():
    now, base, gain, grows, k = symbols("now base gain grows k", positive=True)
    W = statics.weight_for_share(now, base, gain, grows, k)
    assert sympy.simplify(now + W * gain - k * (base + W * grows)) == 0
    R0, a = symbols("R0 a", positive=True)
    tips = statics.weight_for_share(R0, base, statics.rear_change(1, a, L), 1, 0)
    assert sympy.simplify(tips - statics.lifting_weight(R0, a, L)) == 0


@pytest.mark.parametrize("degrees", [0, 30, 90, 200])
def test_turned_about_a_line_agrees_with_a_sympy_rotation(degrees):
    start, end, point = (0.0, 0.0, 0.42), (-1.65, 0.55, 0.0), (-0.9, 0.1, 0.7)
    axis = sympy.Matrix(sideways.minus(end, start)).normalized()
    K = sympy.Matrix([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    matrix = (K * math.radians(degrees)).evalf(30)
    turn = sympy.eye(3) + sum(
        (matrix**n / math.factorial(n) for n in range(1, 40)), sympy.zeros(3)
    )  # exp of the axis
    expected = turn * sympy.Matrix(sideways.minus(point, start)) + sympy.Matrix(start)
    assert sideways.turned_about(point, start, end, degrees) == pytest.approx(
        [float(x) for x in expected], abs=1e-9
    )


def test_vector_rules():
    p, q = (1.0, 2.0, 3.0), (-2.0, 0.5, 4.0)
    assert (
        sideways.dot(sideways.cross(p, q), p)
        == pytest.approx(0)
        == sideways.dot(sideways.cross(p, q), q)
    )
    assert sideways.plus(q, sideways.minus(p, q)) == p and sideways.scaled(2, p) == (2, 4, 6)


def test_formulas_run_on_exact_fractions():
    assert tipping_tangent(Rational(1, 2), 2) == Rational(1, 4)
    assert holding_tangent(Rational(1, 2), Rational(-1, 4), Rational(2, 5)) == Rational(2, 11)
