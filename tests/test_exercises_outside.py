"""Answers of the bank against SymPy's beam solver, the GUM, and the modules the lessons use."""

import pytest

from leverarm import ballast, exercises, statics
from leverarm.axles import compare, predict, shares
from leverarm.exercises import rules
from leverarm.exercises.rules import quadrature
from leverarm.machine import Attachment, Tractor
from leverarm.quantities import from_unit
from leverarm.uncertainty import uncertain


def base(problem):
    return from_unit(problem.answer, problem.source.method.rule.kind, problem.unit)


@pytest.mark.parametrize("seed", range(6))
def test_readings_agree_with_sympy_beam(seed):
    """Independent second opinion: sympy.physics.continuum_mechanics.beam.Beam, an overhanging beam.

    The rear axle stands at 0, the front axle at L, the weight hangs at L + a; down is positive.
    """
    from sympy import Rational, Symbol, symbols
    from sympy.physics.continuum_mechanics.beam import Beam

    at = {
        n: Rational(str(v))
        for n, v in exercises.make("front_gain", seed, "kg").drawn.values.items()
    }
    front, rear = symbols("front rear")
    beam = Beam(at["L"] + at["a"], Symbol("E"), Symbol("I"))
    beam.apply_load(rear, 0, -1)
    beam.apply_load(front, at["L"], -1)
    beam.apply_load(at["W"], at["L"] + at["a"], -1)
    beam.bc_deflection = [(0, 0), (at["L"], 0)]
    beam.solve_for_reaction_loads(front, rear)
    for kind, load in (("front_gain", front), ("rear_change", rear)):
        p = exercises.make(kind, seed, "kg")
        same = {n: float(v) for n, v in at.items()}
        assert p.source.method.answer(same) == pytest.approx(
            float(-beam.reaction_loads[load]), rel=1e-12
        )


def machine(at, **more):
    return Tractor("Test tractor", wheelbase=at["L"], front=at["F0"], rear=at["R0"], **more)


@pytest.mark.parametrize("seed", range(5))
def test_predictions_of_the_lessons_give_the_same_numbers(seed):
    p = exercises.make("percent_change", seed)
    at = p.drawn.values
    bare = machine(at)
    change = compare(predict(bare), predict(bare, Attachment("load", at["W"], at["a"])))
    assert base(p) == pytest.approx(statics.share(change.front_kg, at["F0"]), rel=1e-12)
    q = exercises.make("bucket_or_ballast", seed)
    there = q.drawn.values
    hung = ballast.counterweight(machine(there | {"F0": 600, "R0": 800}), there["B"], there["b"])
    assert base(q) == pytest.approx(
        shares(machine(there | {"F0": 600, "R0": 800}), hung)[0].front_kg, rel=1e-12
    )


@pytest.mark.parametrize("B, b, L", [(200, 0.9, 1.65), (120, 0.65, 1.95), (320, 1.25, 1.45)])
def test_the_lever_from_the_other_side_is_the_same_lever(B, b, L):
    assert rules.front_of_ballast(B, b, L) == pytest.approx(
        statics.front_gain(B, -(L + b), L), rel=1e-12
    )
    assert rules.rear_of_ballast(B, b, L) == pytest.approx(
        statics.rear_change(B, -(L + b), L), rel=1e-12
    )
    assert rules.canceling_ballast(150.0, b, L) == pytest.approx(
        ballast.canceling_weight(150.0, b, L), rel=1e-12
    )


@pytest.mark.parametrize("seed", range(4))
def test_needs_agree_with_the_ballast_lesson(seed):
    p = exercises.make("front_weights", seed)
    at = p.drawn.values
    bare = machine(at)
    implement = ballast.counterweight(bare, at["Bm"], at["bm"], name="implement")
    assert base(p) == pytest.approx(
        ballast.steering_need(bare, implement, ahead=at["w"]).weight_kg, rel=1e-9
    )


def test_uncertainties_agree_with_the_law_of_propagation():
    """GUM 5.1.2 by the package's own Measured numbers: slopes +1 and -1 on four readings."""
    F0, R0, F1, R1 = (uncertain(value, 2.5) for value in (600.0, 800.0, 790.0, 720.0))
    assert (
        quadrature(2.5, 2.5, 2.5, 2.5)
        == pytest.approx(statics.hung_weight(F1 - F0, R1 - R0).u, rel=1e-12)
        == 5.0
    )


@pytest.mark.parametrize(
    "readings, s, u",
    [
        # Worked by hand: mean 3, squares 4 + 1 + 0 + 1 + 4 = 10, over 4, root.
        ((1, 2, 3, 4, 5), 2.5**0.5, 0.5**0.5),
    ],
)
def test_scatter_by_hand(readings, s, u):
    assert rules.scatter(*readings) == pytest.approx(s) and rules.mean_uncertainty(
        *readings
    ) == pytest.approx(u)
    assert rules.mean(*readings) == 3 and rules.span(*readings) == 4


@pytest.mark.parametrize(
    "kind, given, answer",
    [
        # By hand: midway between the axles each carries half.
        ("between_rear", {"W": 26.0, "i": 0.80, "L": 1.60}, 13.0),
        # Pure conversions: 100 % is 45 degrees, 25 % is 14.04 degrees.
        ("slope_degrees", {"G": 100.0}, 45.0),
        ("slope_degrees", {"G": 25.0}, 14.0362),
        # Hibbeler, Statics 14e, P11-43: half track 1.5 m, height 3.5 m: 23.2 degrees.
        ("sideways_angle", {"t": 3.0, "h": 3.5}, 23.1986),
        # Worked ratio (common practice, no source): 13.5 front turns against 13.11: lead 2.97 %.
        ("lead_from_roll_out", {"turns_drive_in": 13.5, "n0": 13.11}, 2.9748),
        # OpenStax University Physics 1, 12.1, center of gravity of a car: wheelbase 2.5 m, 52 % in
        # front, 1.3 m ahead of the rear axle.
        ("center_of_gravity", {"F0": 52.0, "R0": 48.0, "L": 2.5}, 1.2),
        # Boussinesq-Froehlich on the axis, factor 4, depth one radius (from memory): 0.75.
        ("stress_at_depth", {"N": 100.0, "A": 3.141592653589793, "z": 1.0}, 75.0),
        # NCERT Physics XI, rotation: 1800 kg, 1.8 m, 1.05 m behind the front axle, g = 9.8:
        # 3675 N a front wheel, 5145 N a rear wheel.
        ("front_reading", {"T": 1800 * 9.8, "x0": 1.05, "L": 1.8}, 2 * 3675),
        ("rear_reading", {"T": 1800 * 9.8, "x0": 1.05, "L": 1.8}, 2 * 5145),
        # OpenStax University Physics 1, 12.2, forearm: 50.0 lb at 13.0 in, lift at 1.5 in:
        # 433.3 lb and -383.3 lb.
        ("front_gain", {"W": 50.0, "a": 11.5, "L": 1.5}, 433.333),
        ("rear_change", {"W": 50.0, "a": 11.5, "L": 1.5}, -383.333),
        # General law of tire handbooks, load as pressure to 0.8: 70 % load, 64 % pressure.
        ("inflation", {"I": 100.0, "Q0": 100.0, "Q1": 70.0}, 64.03),
    ],
)
def test_published_numbers_put_into_the_bank(kind, given, answer):
    work = next(k for k in exercises.problems() if k.name == kind).method
    assert work.answer(given) == pytest.approx(answer, rel=1e-4)
