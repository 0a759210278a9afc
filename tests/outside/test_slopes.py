"""Slopes and tipping against published statements, through the equilibrium alone: derivation,
formulas, predict.

Mapping for Jazar's letters: a1 from the front axle back to the center of gravity, a2 from there to
the rear axle,
l = a1 + a2, so the center of gravity stands at -a1.
"""

import math

import pytest
from sympy import cos, expand, linear_eq_to_matrix, linsolve, sin, symbols

from leverarm import Tractor, predict, statics
from leverarm.quantities import degrees_of_slope, read

# Where a test says Jazar: Vehicle Dynamics, sec. 2.2, a vehicle parked nose uphill.
m, g, a1, a2, h, phi, mu = symbols("m g a1 a2 h phi mu", positive=True)
LENGTH = a1 + a2


def test_parked_nose_uphill():
    """Jazar: front m g (a2/l cos - h/l sin), rear m g (a1/l cos + h/l sin), brakes m g sin."""
    front, rear = statics.derive(grade=True).at(
        W=m * g, a=-a1, h=h, L=LENGTH, c=cos(phi), s=sin(phi)
    )
    assert (
        expand(
            LENGTH * (front - m * g * (a2 / LENGTH * cos(phi) - h / LENGTH * sin(phi)))
        ).simplify()
        == 0
    )
    assert (
        expand(
            LENGTH * (rear - m * g * (a1 / LENGTH * cos(phi) + h / LENGTH * sin(phi)))
        ).simplify()
        == 0
    )
    assert statics.ground_force(m * g, sin(phi), 0) == m * g * sin(phi)


# A machine of our own for the numbers: a1 = 1.2 m, a2 = 0.8 m, h = 0.9 m.
def parked(height=0.9):
    return Tractor("parked", wheelbase=2.0, front=400, rear=600, height=height)


@pytest.mark.parametrize("angle", [0, 5, 12.5, 30])
def test_parked_nose_uphill_in_numbers(angle):
    loads, phi_ = predict(parked(), grade_deg=angle), math.radians(angle)
    assert loads.front_kg == pytest.approx(
        1000 * (0.8 / 2 * math.cos(phi_) - 0.9 / 2 * math.sin(phi_))
    )
    assert loads.rear_kg == pytest.approx(
        1000 * (1.2 / 2 * math.cos(phi_) + 0.9 / 2 * math.sin(phi_))
    )
    assert loads.total_kg == pytest.approx(1000 * math.cos(phi_))


def test_tips_over_backwards():
    """Jazar: it tips over backwards at tan phi = a2/h; there the front reads nothing."""
    tip = math.degrees(math.atan(0.8 / 0.9))
    assert predict(parked(), grade_deg=tip).front_kg == pytest.approx(0, abs=1e-9)
    assert predict(parked(), grade_deg=tip - 0.01).lift is None
    assert predict(parked(), grade_deg=tip + 0.01).lift.axle == "front"


def test_normal_forces_do_not_depend_on_the_braked_axle():
    """Jazar: with all of the brake force in front, all at the rear or any split, the same
    reactions.

    The brakes are put in as forces at the two contacts, which the derivation leaves out because
    they have no arm.
    """
    d = statics.derive(grade=True)
    F, R, W, a, h_, L, c, s = (d.symbols[name] for name in "FRWahLcs")
    split = symbols("split")
    brake = statics.ground_force(W, s, 0)
    x_y_force = [
        ((0, 0), (split * brake, F)),
        ((-L, 0), ((1 - split) * brake, R)),
        ((a, h_), (-W * s, -W * c)),
    ]
    along = sum(fx for _, (fx, _) in x_y_force)
    square = sum(fy for _, (_, fy) in x_y_force)
    about_front = sum(x * fy - y * fx for (x, y), (fx, fy) in x_y_force)
    assert expand(along) == 0
    ((front, rear),) = linsolve([square, about_front], F, R)
    assert expand(front - d.front) == expand(rear - d.rear) == 0
    assert split not in front.free_symbols | rear.free_symbols


def test_all_wheels_locked_leaves_the_split_open():
    """One equation along the ground for two brake forces: no unique answer per axle, so none is
    taught.
    """
    front_brake, rear_brake, W, s = symbols("B_f B_r W s")
    matrix, _ = linear_eq_to_matrix(
        [front_brake + rear_brake - statics.ground_force(W, s, 0)], front_brake, rear_brake
    )
    assert matrix.rank() == 1 < 2


def holding_limit(axle, friction):
    """The grade, nose uphill, at which the brake of one axle needs all its friction: found by
    halving.
    """
    low, high = 0.0, 40.0
    while high - low > 1e-10:
        middle = (low + high) / 2
        load = getattr(predict(parked(), grade_deg=middle), f"{axle}_kg")
        needed = statics.ground_force(1000, math.sin(math.radians(middle)), 0)
        low, high = (middle, high) if needed < friction * load else (low, middle)
    return math.tan(math.radians(low))


@pytest.mark.parametrize("friction", [0.2, 0.5, 0.8])
def test_front_brakes_hold_less_the_higher_the_machine(friction):
    """The front-brake limit has l + mu h below the line; the often-printed l - mu h belongs to rear
    brakes.
    """
    front, rear = holding_limit("front", friction), holding_limit("rear", friction)
    assert front == pytest.approx(friction * 0.8 / (2.0 + friction * 0.9))
    assert front != pytest.approx(friction * 0.8 / (2.0 - friction * 0.9), rel=0.05)
    assert rear == pytest.approx(friction * 1.2 / (2.0 - friction * 0.9))


def test_tips_sideways():
    """Hibbeler, Statics 14e, P11-43: half track 1.5 m, center of gravity 3.5 m up: tips sideways at
    23.2 degrees.

    Seen from behind, the two sides are the two supports: the uphill side is the front axle of the
    formula.
    """
    phi_ = math.radians(23.2)

    def uphill(angle):
        return statics.front_gain_on_grade(1, -1.5, 3.5, 3.0, math.cos(angle), math.sin(angle))

    assert uphill(phi_) == pytest.approx(0, abs=1e-3)
    assert uphill(math.radians(23.15)) > 0 > uphill(math.radians(23.25))


@pytest.mark.parametrize("track, height", [(1.5, 0.7), (1.2, 0.9), (3.0, 3.5)])
def test_static_stability_factor(track, height):
    """NHTSA: static stability factor = track / (2 x height of the center of gravity).

    It is the tangent of the side slope at which the uphill side reads nothing.
    """
    angle = math.atan(track / (2 * height))
    uphill, downhill = statics.reactions_on_grade(
        [1000], [-track / 2], [height], track, math.cos(angle), math.sin(angle)
    )
    assert uphill == pytest.approx(0, abs=1e-9)
    assert downhill == pytest.approx(1000 * math.cos(angle))


# Pure conversions.
CONVERSIONS = [("10 %", 5.71), ("20 %", 11.31), ("25 %", 14.04)]


@pytest.mark.parametrize("percent, angle", CONVERSIONS)
def test_a_grade_in_percent(percent, angle):
    assert read(percent, "angle", "grade") == pytest.approx(angle, abs=0.005)
    assert predict(parked(), grade_deg=percent).front_kg == pytest.approx(
        predict(parked(), grade_deg=angle).front_kg, abs=0.1
    )


def test_one_in_three_and_fifteen_degrees():
    """Pure conversions: 1 in 3 = 18.43 degrees; 15 degrees = 26.8 %."""
    assert degrees_of_slope(100 / 3) == pytest.approx(18.43, abs=0.005)
    assert degrees_of_slope(26.8) == pytest.approx(15, abs=0.03)
