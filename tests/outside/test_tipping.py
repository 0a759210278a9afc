"""Tipping, slopes, braking and turning against published values; each source beside its check."""

import math

import pytest
import sympy
from sympy import cos, sin, symbols
from worked import worked_arms

from leverarm import Attachment, Tractor, panels, stability, statics
from leverarm.stability import (
    RATED_SHARE,
    Stance,
    brake,
    holding,
    limits,
    load_for_share,
    side_tilt,
)
from leverarm.stability.formulas import (
    friction_demand,
    holding_tangent,
    rated_load,
    slope_push,
    static_stability_factor,
    tipping_speed,
    tipping_tangent,
)


def degrees(tangent):
    return math.degrees(math.atan(tangent))


# --- parked on a slope: Jazar, Vehicle Dynamics, sec. 2.2
# ------------------------------------------


def test_jazar_parked_nose_uphill():
    """Front m g (a2/l cos - h/l sin), rear m g (a1/l cos + h/l sin), brakes m g sin, whichever axle
    is braked.
    """
    m, g, a1, a2, h, phi = symbols("m g a1 a2 h phi", positive=True)
    length = a1 + a2
    front, rear = statics.reactions_on_grade([m * g], [-a1], [h], length, cos(phi), sin(phi))
    assert sympy.simplify(front - m * g * (a2 / length * cos(phi) - h / length * sin(phi))) == 0
    assert sympy.simplify(rear - m * g * (a1 / length * cos(phi) + h / length * sin(phi))) == 0
    assert slope_push(m * g, sin(phi), 0) == m * g * sin(phi)


def test_jazar_tips_over_backwards_where_the_front_axle_empties():
    a1, a2, h = symbols("a1 a2 h", positive=True)
    front = statics.front_gain_on_grade(1, -a1, h, a1 + a2, 1, tipping_tangent(a2, h))  # per cosine
    assert sympy.simplify(front) == 0


def test_jazar_in_a_machine():
    tall = Tractor("tall", wheelbase=2.0, front=500, rear=500, height=1.0)
    assert holding(tall, friction=2, nose="up").tips_deg == pytest.approx(45)


# --- sideways
# ---------------------------------------------------------------------------------------


def test_hibbeler_tips_sideways():
    """Hibbeler, Statics 14e, P11-43: half track 1.5 m, center of gravity at 3.5 m: 23.2 degrees."""
    assert degrees(tipping_tangent(1.5, 3.5)) == pytest.approx(23.2, abs=0.05)
    machine = Tractor("any", wheelbase=3, front=500, rear=500, height=3.5)
    assert side_tilt(machine, stance=Stance(3.0, 3.0, 0.5, 0)).four_deg == pytest.approx(
        23.2, abs=0.05
    )


def test_giancoli_parked_truck():
    """Giancoli, Physics: Principles with Applications 6e, ch. 9 problem 63: 2.4 m wide, center of
    gravity
    2.2 m up; the answer, 29 degrees to two figures, from memory."""
    assert round(degrees(tipping_tangent(2.4 / 2, 2.2))) == 29


@pytest.mark.parametrize(
    "kind, height_in, track_in, threshold_g",
    [
        ("sports car", 18, 60, 1.7),
        ("sports car", 20, 50, 1.2),
        ("compact car", 20, 60, 1.5),
        ("compact car", 23, 50, 1.1),
        ("luxury car", 20, 65, 1.6),
        ("luxury car", 24, 60, 1.2),
        ("pickup truck", 30, 70, 1.1),
        ("pickup truck", 35, 65, 0.9),
        ("passenger van", 30, 70, 1.1),
        ("passenger van", 40, 65, 0.8),
        ("medium truck", 45, 75, 0.8),
        ("medium truck", 55, 65, 0.6),
        ("heavy truck", 60, 72, 0.6),
        ("heavy truck", 85, 70, 0.4),
    ],
)
def test_gillespie_rollover_thresholds(kind, height_in, track_in, threshold_g):
    """Gillespie, Fundamentals of Vehicle Dynamics, table 9.1, from memory: the ends of each class,
    to 0.1 g
    (printed to one decimal, some rounded up and some down)."""
    assert static_stability_factor(track_in, height_in) == pytest.approx(threshold_g, abs=0.1)


@pytest.mark.parametrize("factor", [1.1, 1.5])
def test_nhtsa_factor_is_the_tilt_of_four_fixed_corners(factor):
    """NHTSA: SSF = track / (2 x height of the center of gravity); published values run from about 1
    to 1.5.
    """
    machine = Tractor("car", wheelbase=2.7, front=700, rear=700, height=0.5)
    found = side_tilt(machine, stance=Stance(factor, factor, 0.3, 0))
    assert found.factor == pytest.approx(factor)
    assert math.tan(math.radians(found.four_deg)) == pytest.approx(factor)


@pytest.mark.parametrize("grade, angle", [("10 %", 5.71), ("20 %", 11.31), ("25 %", 14.04)])
def test_grades_in_percent(grade, angle):
    """Pure conversions; a grade of 15 degrees is 26.8 %, 1 in 3 is 18.43 degrees."""
    assert degrees(float(grade.split()[0]) / 100) == pytest.approx(angle, abs=0.005)
    by_angle, by_percent = (
        brake(Tractor("any", 1.65, 600, 800, 0.7), grade_deg=g) for g in (angle, grade)
    )
    assert by_percent.push_kg == pytest.approx(by_angle.push_kg, rel=1e-3)
    assert degrees(1 / 3) == pytest.approx(18.43, abs=0.005) and math.tan(
        math.radians(15)
    ) == pytest.approx(0.268, abs=5e-4)


# --- braking
# ----------------------------------------------------------------------------------------


def test_front_brakes_nose_uphill_hold_less_than_often_printed():
    """The denominator is l + mu h (the grade unloads the braked front axle); l - mu h belongs to
    rear brakes.
    """
    a1, a2, h, mu = symbols("a1 a2 h mu", positive=True)
    length = a1 + a2
    front = holding_tangent(a2 / length, -h / length, mu)
    rear = holding_tangent(a1 / length, h / length, mu)
    assert sympy.simplify(front - mu * a2 / (length + mu * h)) == 0
    assert sympy.simplify(rear - mu * a1 / (length - mu * h)) == 0
    phi = sympy.atan(front)
    load = statics.front_gain_on_grade(1, -a1, h, length, cos(phi), sin(phi))
    assert sympy.simplify(friction_demand(slope_push(1, sin(phi), 0), load) - mu) == 0


@pytest.mark.parametrize(
    "grade, printed_m",
    [(0, 65), (-0.03, 66), (-0.06, 70), (-0.09, 74), (0.03, 61), (0.06, 59), (0.09, 58)],
)
def test_aashto_stopping_distance_on_grades(grade, printed_m):
    """AASHTO Green Book, stopping sight distance on grades at 50 km/h (from memory): 2.5 s of
    thinking, then
    3.4 m/s2 on the level; the road gives that friction on the grade too.  Printed distances are
    rounded up."""
    g, v = 9.81, 50 / 3.6
    angle = math.atan(grade)
    wanted = 3.4 / g
    slowing = wanted * math.cos(angle) + math.sin(angle)
    machine = Tractor("car", 2.7, 700, 700, 0.5)
    demanded = [grip.demanded for grip in _slowed(machine, angle, slowing).grips]
    assert demanded == pytest.approx([wanted] * 2)
    distance = v * 2.5 + v * v / (2 * g * slowing)
    assert 0 <= printed_m - distance < 2.1


def _slowed(machine, angle, slowing):
    """All four wheels braked, rolling nose first on a grade in radians, nose uphill positive."""
    return brake(machine, grade_deg=math.degrees(angle), slowing=slowing, brakes="all")


# --- forward tipping
# --------------------------------------------------------------------------------


def test_wickert_forklift():
    """Wickert & Lewis, An Introduction to Mechanical Engineering, sec. 4.5, the forklift of 3500 lb
    with 800 lb:
    load 24 in ahead of the front wheels, center of gravity 42 in behind them, 30 in to the rear
    (the last from
    the printed moments): 888 lb on each rear wheel, 1262 lb on each front; tips at 6125 lb."""
    front, rear = statics.reactions([3500, 800], [-42, 24], 72)
    assert rear / 2 == pytest.approx(888, abs=0.6) and front / 2 == pytest.approx(1262, abs=0.6)
    bare_rear = statics.reactions([3500], [-42], 72)[1]
    assert statics.lifting_weight(bare_rear, 24, 72) == pytest.approx(6125)
    assert statics.weight_for_share(
        bare_rear, 3500, statics.rear_change(1, 24, 72), 1, 0
    ) == pytest.approx(6125)


def test_hibbeler_loader_with_stone():
    """Hibbeler, Engineering Mechanics 14e, problem 6-108: loader of 1.18 Mg, 300 kg of stone 1.5 m
    ahead of the
    rear wheel line A, wheelbase 0.75 m, own weight 0.6 m from A; about 3.37 kN on B (6945.48 -
    4414.5 over 0.75)
    and 11.1 kN on A, the results from memory.  B is the light end: mapped here as the rear axle."""
    near, far = statics.reactions([1180 * 9.81, 300 * 9.81], [-0.6, 1.5], 0.75)
    assert far / 1000 == pytest.approx(3.37, abs=0.005)
    assert near / 1000 == pytest.approx(11.1, abs=0.05)


def test_beer_johnston_gravel_tractor_tipping_load():
    """Beer & Johnston, Statics, ch. 4: 2100-lb tractor, wheelbase 60 in, center of gravity 20 in
    ahead of the rear
    axle, 900 lb of gravel 50 in ahead of the front axle: 325 lb on each rear wheel, 1175 lb on each
    front wheel.
    From those: the rear carries nothing at 900 + 650 x 60/50 = 1680 lb."""
    front, rear = statics.reactions([2100, 900], [-40, 50], 60)
    assert (front / 2, rear / 2) == pytest.approx((1175, 325))
    more = statics.weight_for_share(rear, 3000, statics.rear_change(1, 50, 60), 1, 0)
    assert 900 + more == pytest.approx(1680)
    assert statics.reactions([2100, 1680], [-40, 50], 60)[1] == pytest.approx(0)


def test_beam_library_finds_the_same_tipping_load():
    """sympy's Beam, an independent solver: at our tipping load its rear support carries nothing."""
    from sympy.physics.continuum_mechanics.beam import Beam

    tractor, loader = Tractor("plot", 1.65, 600, 800, 0.7), worked_arms()
    load = load_for_share(tractor, loader, 0, 0)
    pieces = loader.at(0, load)
    E, inertia, front, rear = symbols("E I F R")
    beam = Beam(10, E, inertia)
    beam.apply_load(rear, 2, -1)
    beam.apply_load(front, sympy.Rational(365, 100), -1)
    beam.apply_load(-1400, 2 + sympy.nsimplify(1.65 - 1.65 * 800 / 1400, rational=True), -1)
    for piece in pieces:
        beam.apply_load(-piece.weight_kg, 3.65 + piece.ahead_m, -1)
    beam.bc_deflection = [(2, 0), (sympy.Rational(365, 100), 0)]
    beam.solve_for_reaction_loads(front, rear)
    assert float(beam.reaction_loads[rear]) == pytest.approx(0, abs=1e-6)


def test_rated_load_practice():
    """SAE J818 (since 2013 ISO 14397-1), as cited in loader manuals: half the tipping load on
    wheels, 35 % on tracks.
    """
    assert RATED_SHARE == 50 and rated_load(1000, 0.35) == pytest.approx(350)
    found = limits(Tractor("plot", 1.65, 600, 800, 0.7), worked_arms())
    assert found.rated_kg == found.tipping_kg / 2


# --- turning
# ----------------------------------------------------------------------------------------


def test_openstax_banked_curve():
    """OpenStax College Physics 2e, ch. 6, banked curve (from memory): 100 m at 65.0 degrees: 45.8
    m/s.
    The resultant of weight and outward pull leans by that angle, which is what reaches a tipping
    line."""
    assert tipping_speed(math.tan(math.radians(65)), 100, 1, 0, 9.80) == pytest.approx(
        45.8, abs=0.05
    )


def test_penn_state_three_times_the_speed_is_nine_times_the_pull():
    """Penn State Extension, Tractor Stability and Instability: from 3 to 9 mph the outward pull
    grows nine times.
    """
    assert tipping_speed(0.5, 9 * 4, 1, 0, 9.8) == pytest.approx(
        3 * tipping_speed(0.5, 4, 1, 0, 9.8)
    )


def test_common_practice_a_load_ahead_and_high_costs_tilt():
    """Common practice, no source: carry the load low.

    The model agrees for every lift above the lowest.
    """
    tractor, loader, stance = (
        Tractor("plot", 1.65, 600, 800, 0.7),
        worked_arms(),
        Stance(1.05, 1.10, 0.42, 8),
    )
    low = side_tilt(tractor, *loader.at(loader.lowest_deg, 200), stance=stance).line_deg
    for angle in (-20, -5, 10, 25, loader.highest_deg):
        assert side_tilt(tractor, *loader.at(angle, 200), stance=stance).line_deg < low


# Majdan et al. 2021, Applied Sciences 11:381 (abstract): a sub-compact tractor with ballast from 0
# to 122 kg; how far the measured sideways angle falls short of the rigid one of ISO 16231-2, and of
# one with the tires' squash counted, percent.
def test_majdan_a_rigid_angle_flatters_and_the_page_says_by_how_much():
    rigid, squashed = (2.57, 2.80, 3.04, 3.42, 3.88), (0.95, 1.11, 1.29, 1.85, 1.42)
    assert rigid == stability.RIGID_FLATTERS_PERCENT and squashed == stability.WITH_SQUASH_PERCENT
    assert all(b < a / 1.8 for a, b in zip(rigid, squashed))  # the tires are most of it
    assert "2.6 to 3.9 percent smaller than the rigid one" in stability.RIGID_FLATTERS
    assert "0.9 to 1.9 percent smaller" in stability.RIGID_FLATTERS
    page = panels.sideways().out.value
    assert "2.6 to 3.9 percent" in page and "for the load and height told above" in page


# Shimane University, a small tractor on a tilting table (abstract): the operator raises the center
# of gravity by 19 percent, and the sideways stability falls to 0.749 of what it was.
def test_shimane_an_operator_on_the_seat_is_an_attachment_with_a_height():
    bare = Tractor("small", 1.40, 230, 370, 0.52)  # invented: the abstract gives no more
    stance = Stance(0.85, 0.85, 0.38, 8)
    tall = bare.total_kg * 0.19 * bare.height_m / (1.30 - 1.19 * bare.height_m)
    operator = Attachment("operator", tall, bare.ahead_m, 1.30)
    empty, seated = side_tilt(bare, stance=stance), side_tilt(bare, operator, stance=stance)
    assert seated.center[2] / empty.center[2] == pytest.approx(1.19)
    # On four fixed corners a center 19 percent higher leaves 1/1.19 = 0.84.  The published fall is
    # deeper, and so is the one about the line to a raised pin.
    assert seated.factor / empty.factor == pytest.approx(1 / 1.19)
    assert seated.tangent / empty.tangent == pytest.approx(0.749, abs=0.05)
    assert seated.tangent / empty.tangent < 1 / 1.19
