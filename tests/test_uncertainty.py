"""The law of propagation, its two routes to the sensitivities, and the drawing of errors."""

import inspect
import math
import random
import statistics
import subprocess
import sys

import pytest

from leverarm import Refusal, statics
from leverarm.uncertainty import (
    Measured,
    Source,
    chi_squared_sf,
    combine,
    correlated,
    coverage_factor,
    f_sf,
    from_expanded,
    from_graduation,
    from_half_width,
    from_repeats,
    law,
    plus_minus,
    propagate,
    rounded,
    scatter,
    sensitivities,
    simulate,
    t_cdf,
    uncertain,
)

FORMULAS = [
    statics.front_gain,
    statics.rear_change,
    statics.amplification,
    statics.overhang_for,
    statics.front_gain_on_grade,
    statics.rear_change_on_grade,
    statics.pull_transfer,
    statics.hung_weight,
    statics.overhang_of,
    statics.center_of_gravity,
    statics.lifting_weight,
    statics.share,
]


def some_inputs(formula, seed):
    rng = random.Random(f"{formula.__name__} {seed}")
    return [
        uncertain(rng.uniform(1, 9), rng.uniform(0.01, 0.5))
        for _ in inspect.signature(formula).parameters
    ]


# --- two routes to the same sensitivities -----------------------------------------------------


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f.__name__)
def test_arithmetic_and_sympy_agree(formula, seed):
    inputs = some_inputs(formula, seed)
    by_arithmetic, by_sympy = formula(*inputs), propagate(formula, *inputs)
    assert by_arithmetic.value == pytest.approx(by_sympy.value, rel=1e-12)
    for number in inputs:
        (source,) = number.slopes
        assert by_arithmetic.slopes.get(source, 0.0) == pytest.approx(
            by_sympy.slopes[source], rel=1e-9, abs=1e-12
        )


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f.__name__)
def test_arithmetic_agrees_with_finite_differences(formula):
    inputs = some_inputs(formula, 99)
    values = [number.value for number in inputs]
    for i, number in enumerate(inputs):
        step = 1e-6 * values[i]
        up, down = ([*values[:i], values[i] + sign * step, *values[i + 1 :]] for sign in (1, -1))
        slope = (formula(*up) - formula(*down)) / (2 * step)
        assert formula(*inputs).slopes[next(iter(number.slopes))] == pytest.approx(
            slope, rel=1e-5, abs=1e-8
        )


@pytest.mark.parametrize(
    "result, slope, value",
    [
        (lambda x: 2 - x, -1, -1),
        (lambda x: 6 / x, -6 / 9, 2),
        (lambda x: x**2, 6, 9),
        (lambda x: -x, -1, -3),
        (lambda x: x * x, 6, 9),
        (lambda x: x - x, 0, 0),
        (lambda x: x / x, 0, 1),
        (lambda x: sum([x, x]), 2, 6),
    ],
)
def test_each_operation_carries_its_slope(result, slope, value):
    x = uncertain(3.0, 0.1)
    assert (result(x).value, result(x).slopes[next(iter(x.slopes))]) == pytest.approx(
        (value, slope)
    )


def test_sensitivities_are_readable_and_kept():
    assert str(sensitivities(statics.overhang_of)["dF"]) == "L*dR/(dF + dR)**2"
    assert sensitivities(statics.overhang_of) is sensitivities(statics.overhang_of)
    assert str(law(statics.hung_weight)) == "sqrt(u_dF**2 + u_dR**2)"


def test_the_everyday_path_needs_no_heavy_library():
    code = (
        "import sys; from leverarm.uncertainty import uncertain; from leverarm import statics;"
        "statics.overhang_of(uncertain(190, 2), uncertain(-80, 2), uncertain(1.65, "
        ".003)).interval();"
        "print(sorted({'sympy', 'numpy'} & set(sys.modules)))"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


# --- what is shared -----------------------------------------------------------------------------


def test_a_shared_zero_cancels_in_a_difference_and_adds_in_a_sum():
    zero = Source("zero", 2.0)
    a, b = Measured(600, {zero: 1}), Measured(790, {zero: 1})
    assert (b - a).u == 0 and (a + b).u == 4 and a.correlation(b) == 1


def test_a_shared_gain_scales_the_weight_and_leaves_the_overhang_alone():
    gain = 1 + uncertain(0.0, 0.01)
    F, R = 190 * gain, -80 * gain
    assert statics.hung_weight(F, R).u == pytest.approx(1.1)
    assert statics.overhang_of(F, R, 1.65).u == pytest.approx(0, abs=1e-12)


def test_correlated_inputs_have_the_correlation_that_was_told():
    r = [[1, 0.3, -0.2], [0.3, 1, 0.5], [-0.2, 0.5, 1]]
    numbers = correlated([1, 2, 3], [0.1, 0.2, 0.3], r)
    assert [x.u for x in numbers] == pytest.approx([0.1, 0.2, 0.3])
    assert [[a.correlation(b) for b in numbers] for a in numbers] == [
        pytest.approx(row) for row in r
    ]


@pytest.mark.parametrize(
    "r", [[[1, 1.2], [1.2, 1]], [[1, 0.9, -0.9], [0.9, 1, 0.9], [-0.9, 0.9, 1]], [[2, 0], [0, 1]]]
)
def test_an_impossible_correlation_is_refused(r):
    with pytest.raises(ValueError, match="correlation"):
        correlated(range(len(r)), [0.1] * len(r), r)


def test_combine_is_the_law_with_covariances():
    x, y = correlated([5.0, 7.0], [0.3, 0.4], [[1, 0.25], [0.25, 1]])
    square = (2 * 0.3) ** 2 + (3 * 0.4) ** 2 + 2 * 2 * 3 * 0.25 * 0.3 * 0.4
    assert combine(0, (2, x), (3, y)).u == pytest.approx(math.sqrt(square))


# --- sources
# ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "source, u",
    [
        (from_half_width("a", 1.0), 1 / math.sqrt(3)),
        (from_half_width("a", 1.0, shape="triangular"), 1 / math.sqrt(6)),
        (from_graduation("d", 5.0), 5 / math.sqrt(12)),
        (from_expanded("c", 3.0, 2.0), 1.5),
        (from_repeats("r", [1, 2, 3, 4, 5]), math.sqrt(2.5 / 5)),
    ],
)
def test_divisors(source, u):
    assert source.u == pytest.approx(u)


def test_scatter_is_pooled_over_groups():
    groups = [600, 603, 601], [790, 788], [700]
    s, nu = scatter(*groups)
    assert nu == 3
    assert s == pytest.approx(
        math.sqrt((2 * statistics.variance(groups[0]) + statistics.variance(groups[1])) / 3)
    )
    with pytest.raises(Refusal, match="weigh it again"):
        scatter([600], [790])


def test_one_pooled_scatter_counts_its_degrees_once():
    pool = object()
    parts = [Measured(0, {Source(str(i), 1.0, 8, pool=pool): 1.0}) for i in range(4)]
    alone = [Measured(0, {Source(str(i), 1.0, 8): 1.0}) for i in range(4)]
    assert sum(parts).dof == pytest.approx(8)
    assert sum(alone).dof == pytest.approx(32)


def test_budget_adds_up_and_starts_with_the_largest():
    number = uncertain(1, 3.0, "big") + uncertain(1, 4.0, "bigger") + 2
    assert [part.source.name for part in number.budget()] == ["bigger", "big"]
    assert [part.percent for part in number.budget()] == pytest.approx([64, 36])


@pytest.mark.usefixtures("metric")
def test_unknown_stays_unknown():
    assert math.isnan((uncertain(1, math.nan) + uncertain(2, 1.0)).u)
    assert plus_minus(uncertain(110, math.nan), "weight") == "110.0 kg (± not known)"


def test_changed_shows_an_improvement():
    number = uncertain(0, 3.0, cause="tape") + uncertain(0, 4.0, cause="scatter")
    assert number.changed(scatter=lambda s: {"u": s.u / 2}).u == pytest.approx(math.sqrt(13))
    assert number.u == 5, "the number itself stays as it was"


# --- chances
# ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("nu", [1, 1.5, 2, 3, 7.3, 18, 120, 5000])
@pytest.mark.parametrize("p", [0.5, 0.68, 0.95, 0.9973])
def test_coverage_factor_and_t_undo_each_other(nu, p):
    k = coverage_factor(p, nu)
    assert t_cdf(k, nu) - t_cdf(-k, nu) == pytest.approx(p, abs=1e-11)


@pytest.mark.parametrize("nu", [1, 2, 3, 4.5, 10, 33])
@pytest.mark.parametrize("t", [-7.0, -0.3, 0.0, 0.8, 2.5, 40.0])
def test_t_agrees_with_mpmath(t, nu):
    """mpmath integrates the same distribution to many digits."""
    import mpmath

    tail = float(mpmath.betainc(nu / 2, 0.5, 0, nu / (nu + t * t), regularized=True)) / 2
    assert t_cdf(t, nu) == pytest.approx(tail if t < 0 else 1 - tail, rel=1e-11, abs=1e-13)


@pytest.mark.parametrize("nu", [1, 2, 3, 5, 8, 21])
@pytest.mark.parametrize("x", [0.1, 1.0, 4.0, 15.0, 60.0])
def test_chi_squared_agrees_with_mpmath(x, nu):
    import mpmath

    exact = float(mpmath.gammainc(nu / 2, x / 2, mpmath.inf, regularized=True))
    assert chi_squared_sf(x, nu) == pytest.approx(exact, rel=1e-10)


def test_limits_of_the_chances():
    assert coverage_factor(0.95, math.inf) == pytest.approx(1.959964, abs=1e-6)
    for nu in (1e7, 1.01e7, 1e12, 1e60):
        assert coverage_factor(0.95, nu) == pytest.approx(coverage_factor(0.95, math.inf), rel=1e-6)
    assert chi_squared_sf(0, 3) == 1 and f_sf(0, 2, 3) == 1
    assert f_sf(4.0, 3, 1e9) == pytest.approx(chi_squared_sf(12.0, 3), rel=1e-5)
    assert f_sf(2.5**2, 1, 7) == pytest.approx(2 * t_cdf(-2.5, 7))


# --- words
# ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "value, U, text",
    [
        (110.2, 4.21, ("110.2", "4.2")),
        (1.20442, 0.0312, ("1.204", "0.031")),
        (1234.0, 153.0, ("1,234", "153")),
        (110.0, 0.0, ("110.00", "0.00")),
        (-82.7, 9.96, ("−82.7", "10.0")),
    ],
)
def test_no_more_digits_than_earned(value, U, text):
    assert rounded(value, U) == text


@pytest.mark.usefixtures("metric")
def test_plus_minus_in_both_systems():
    number = uncertain(100.0, 2.0)
    assert plus_minus(number, "weight") == "100.0 ± 3.9 kg (95 %, k = 1.96)"
    assert plus_minus(number, "weight", "lb") == "220.5 ± 8.6 lb (95 %, k = 1.96)"
    assert plus_minus(uncertain(1.2, 0.02), "length", "lb").startswith("47.2 ± 1.5 in")


# --- Monte Carlo
# ------------------------------------------------------------------------------------------


def agree(many, first_order, tolerance=0.02):
    assert many.u == pytest.approx(first_order.u, rel=tolerance)
    assert many.interval() == pytest.approx(
        first_order.interval(), abs=tolerance * 4 * first_order.u
    )


@pytest.mark.parametrize("without_numpy", [False, True])
def test_draws_agree_with_the_law_where_the_formula_is_straight(monkeypatch, without_numpy):
    if without_numpy:
        monkeypatch.setattr("leverarm.uncertainty.draws._numpy", lambda: None)
    zero = uncertain(0.0, 1.0)
    inputs = uncertain(190, 2) + zero, uncertain(-80, 1.5) + zero
    agree(
        simulate(statics.hung_weight, *inputs, draws=30_000, seed=4),
        statics.hung_weight(*inputs),
        0.03,
    )


def test_draws_use_students_t_for_few_repeats():
    few = Measured(0.0, {Source("five repeats", 1.0, 4): 1.0})
    assert simulate(lambda x: x, few, seed=1).interval() == pytest.approx(few.interval(), rel=0.05)


@pytest.mark.parametrize("without_numpy", [False, True])
def test_draws_share_one_estimated_scatter(monkeypatch, without_numpy):
    if without_numpy:
        monkeypatch.setattr("leverarm.uncertainty.draws._numpy", lambda: None)
    pool = object()
    parts = [Measured(0.0, {Source(str(i), 1.0, 4, pool=pool): 1.0}) for i in range(4)]
    many = simulate(lambda *x: sum(x), *parts, draws=40_000)
    # Drawn apart, the middle half would be a quarter wider; the outer limits happen to agree.
    for coverage in (0.5, 0.95):
        assert many.interval(coverage)[1] == pytest.approx(sum(parts).expanded(coverage), rel=0.06)


@pytest.mark.parametrize("shape, edge", [("rectangular", 3**0.5), ("triangular", 6**0.5)])
def test_draws_have_the_shape_that_was_told(shape, edge):
    many = simulate(lambda x: x, Measured(0.0, {Source("limit", 1.0, shape=shape): 1.0}))
    assert many.u == pytest.approx(1, rel=0.02)
    assert 0.97 * edge < many.values[-1] <= edge


def test_draws_show_where_the_law_fails():
    """Overhang from a small weight: the ratio's spread is lopsided, the law's interval is not."""
    inputs = uncertain(19, 3), uncertain(-8, 3), 1.65
    many, first = simulate(statics.overhang_of, *inputs), statics.overhang_of(*inputs)
    low, high = many.interval()
    assert high - many.median > 1.5 * (many.median - low)
    assert high > first.interval()[1]


def test_draws_repeat_with_their_seed_and_are_bounded():
    x = uncertain(1, 1)
    assert simulate(lambda x: x, x, draws=10, seed=3) == simulate(lambda x: x, x, draws=10, seed=3)
    for bad in (1, 10**9):
        with pytest.raises(Refusal, match="draws"):
            simulate(lambda x: x, x, draws=bad)


@pytest.mark.parametrize("value", [-2.5, 0.0, 2.5])
def test_a_number_without_its_sign_keeps_its_uncertainty_and_what_it_shares(value):
    number = uncertain(value, 0.3)
    size = abs(number)
    assert size.value == abs(value) and size.u == number.u
    assert (size - number if value >= 0 else size + number).u == 0
