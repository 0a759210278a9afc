"""Sideways: the line to the pin, the axle stop, four corners, turning; each by a second route."""

import math
import random

import pytest
import sympy
from worked import worked_loader, worked_tractor

from leverarm import Attachment, Refusal, Tractor
from leverarm.stability import SIDE_FORCE, Stance, demo_stance, side_tilt, tilt_about, turning_speed
from leverarm.stability.sideways import (
    UP,
    cross,
    dot,
    minus,
    plus,
    scaled,
    turn_to_stop,
    turned_about,
)

TRACTOR, LOADER, STANCE = worked_tractor(), worked_loader(), demo_stance()


def machine(rng):
    return Tractor(
        "any",
        rng.uniform(1.4, 2.2),
        rng.uniform(300, 700),
        rng.uniform(700, 1200),
        rng.uniform(0.5, 1.0),
    )


def stance(rng):
    return Stance(
        rng.uniform(0.9, 1.3), rng.uniform(0.9, 1.4), rng.uniform(0.2, 0.45), rng.uniform(2, 12)
    )


@pytest.mark.parametrize("seed", range(20))
def test_the_two_dimensional_formula_is_the_moment_in_space(seed):
    """Half base over height above the line, against r x g about the line as vectors."""
    rng = random.Random(seed)
    one, at = machine(rng), stance(rng)
    tilt = side_tilt(one, *LOADER, stance=at, aside=rng.uniform(-0.1, 0.1))
    pin, rear = (0.0, 0.0, at.pin_m), (-one.wheelbase_m, at.rear_track_m / 2, 0.0)
    assert tilt.line_deg == pytest.approx(tilt_about(tilt.center, pin, rear))
    lean = math.radians(tilt.line_deg)
    gravity = (0.0, math.sin(lean), -math.cos(lean))
    assert dot(cross(minus(tilt.center, pin), gravity), minus(rear, pin)) == pytest.approx(
        0, abs=1e-12
    )


@pytest.mark.parametrize("seed", range(10))
def test_the_line_is_crossed_where_the_energy_is_at_its_top(seed):
    """Turn the body about the line on the tilted ground: at that tilt its height can only fall."""
    rng = random.Random(seed)
    one, at = machine(rng), stance(rng)
    tilt = side_tilt(one, stance=at)
    lean, pin, rear = (
        math.radians(tilt.line_deg),
        (0.0, 0.0, at.pin_m),
        (-one.wheelbase_m, at.rear_track_m / 2, 0.0),
    )
    up = (0.0, -math.sin(lean), math.cos(lean))

    def height(degrees):
        return dot(turned_about(tilt.center, pin, rear, degrees), up)

    assert height(0) > height(0.05) and height(0) > height(-0.05)
    assert height(0.01) - height(-0.01) == pytest.approx(0, abs=1e-8)


def test_the_line_in_sympy_geometry():
    """The plane through the line and the vertical of the tilted ground passes through the center of
    gravity.
    """
    tilt = side_tilt(TRACTOR, *LOADER, stance=STANCE)
    pin = sympy.Point3D(0, 0, STANCE.pin_m)
    rear = sympy.Point3D(-TRACTOR.wheelbase_m, STANCE.rear_track_m / 2, 0)
    lean = math.radians(tilt.line_deg)
    below = sympy.Point3D(0, math.sin(lean), STANCE.pin_m - math.cos(lean))
    assert float(
        sympy.Plane(pin, rear, below).distance(sympy.Point3D(*tilt.center))
    ) == pytest.approx(0, abs=1e-9)


def test_the_rear_tire_uphill_carries_nothing_at_the_line():
    """Three supports, three unknown forces: solved anew, the uphill rear one passes zero at
    line_deg.
    """

    def uphill(lean):
        _x, _y, _h = tilt.center
        points = [(0, 0, STANCE.pin_m), (-1.65, 0.55, 0.0), (-1.65, -0.55, 0.0)]
        gravity = (0.0, math.sin(lean), -math.cos(lean))
        # moments about the line from the pin to the downhill rear tire leave only the uphill force,
        # square to the slope
        line = minus(points[1], points[0])
        arm = dot(cross(minus(points[2], points[0]), UP), line)
        return -dot(cross(minus(tilt.center, points[0]), gravity), line) / arm

    tilt = side_tilt(TRACTOR, stance=STANCE)
    lean = math.radians(tilt.line_deg)
    assert uphill(0) == pytest.approx(800 / 1400 / 2)  # half the rear share, level
    assert uphill(lean) == pytest.approx(0, abs=1e-12)
    assert uphill(lean - 0.01) > 0 > uphill(lean + 0.01)


def test_level_the_three_points_share_as_the_scales_say():
    tilt = side_tilt(TRACTOR, stance=STANCE)
    assert tilt.half_base_m == pytest.approx(800 / 1400 * 0.55)
    assert tilt.line_height_m == pytest.approx(600 / 1400 * 0.42)


def test_a_pin_on_the_ground_would_move_the_line():
    """The tipping line runs to the pin; drawn to the ground below it, the answer is another."""
    on_ground = side_tilt(TRACTOR, stance=Stance(1.05, 1.10, 0, 8)).line_deg
    assert side_tilt(TRACTOR, stance=STANCE).line_deg - on_ground > 5


def test_four_corners_with_equal_tracks_are_the_stability_factor():
    tilt = side_tilt(TRACTOR, stance=Stance(1.1, 1.1, 0.42, 0))
    assert (
        math.tan(math.radians(tilt.four_deg))
        == pytest.approx(tilt.factor)
        == pytest.approx(1.1 / 1.4)
    )
    assert tilt.stop_deg == pytest.approx(tilt.four_deg)  # no swing: the stop is met at once


def test_a_trapezium_is_as_wide_as_its_side_is_at_the_center_of_gravity():
    tilt = side_tilt(TRACTOR, stance=Stance(0.9, 1.3, 0.4, 0))
    assert math.tan(math.radians(tilt.four_deg)) == pytest.approx(
        (0.45 * 600 + 0.65 * 800) / 1400 / 0.70
    )
    assert tilt.factor == pytest.approx(1.1 / 1.4)


@pytest.mark.parametrize("seed", range(20))
def test_the_swing_costs_tilt_and_the_pin_costs_more(seed):
    rng = random.Random(seed)
    tilt = side_tilt(machine(rng), *LOADER, stance=stance(rng))
    assert tilt.stop_deg < tilt.four_deg
    assert tilt.weakest_deg <= tilt.line_deg < tilt.four_deg


def roll(axis, degrees):
    """Roll in a turn about an axis, through its quaternion: the textbook's z-y-x angles."""
    half, long = math.radians(degrees) / 2, math.dist(axis, (0, 0, 0))
    w, (x, y, z) = math.cos(half), (math.sin(half) * one / long for one in axis)
    return math.degrees(math.atan2(2 * (w * x + y * z), 1 - 2 * (x * x + y * y)))


@pytest.mark.parametrize("seed", range(20))
def test_the_body_turns_farther_than_its_axle_swings(seed):
    """Turn the body until a quaternion's roll is the swing, found by halving; then the moment
    about the line through both tires, written out.
    """
    rng = random.Random(seed)
    one, at = machine(rng), stance(rng)
    pin, rear = (0.0, 0.0, at.pin_m), (-one.wheelbase_m, at.rear_track_m / 2, 0.0)
    axis, low, high = minus(rear, pin), 0.0, 40.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if -roll(axis, middle) < at.swing_deg else (low, middle)
    assert turn_to_stop(pin, rear, at) == pytest.approx(low, abs=1e-9)
    assert at.swing_deg < low < 1.35 * at.swing_deg
    tilt = side_tilt(one, stance=at)
    x, y, h = turned_about(tilt.center, pin, rear, low)
    half = at.front_track_m / 2 * (1 + x / one.wheelbase_m) - rear[1] * x / one.wheelbase_m
    assert tilt.stop_deg == pytest.approx(math.degrees(math.atan((half - y) / h)))


def test_taking_the_swing_for_the_body_s_turn_would_flatter():
    """0.3 to 0.4 degrees on machines like the demo one."""
    for swing in (6, 8, 10):
        at = Stance(1.05, 1.10, 0.42, swing)
        tilt = side_tilt(TRACTOR, stance=at)
        pin, rear, front = (0, 0, 0.42), (-1.65, 0.55, 0), (0, 0.525, 0)
        swung = tilt_about(turned_about(tilt.center, pin, rear, swing), front, rear)
        assert 0.25 < swung - tilt.stop_deg < 0.5


def test_more_swing_leaves_less_behind_the_stop():
    found = [
        side_tilt(TRACTOR, stance=Stance(1.05, 1.10, 0.42, swing)).stop_deg
        for swing in (0, 4, 8, 12)
    ]
    assert found == sorted(found, reverse=True)
    assert found[0] - found[2] == pytest.approx(5, abs=0.5)


@pytest.mark.parametrize("seed", range(10))
def test_no_heading_is_weaker_than_the_weakest(seed):
    rng = random.Random(seed)
    one, at = machine(rng), stance(rng)
    tilt = side_tilt(one, *LOADER, stance=at)
    pin, rear = (0.0, 0.0, at.pin_m), (-one.wheelbase_m, at.rear_track_m / 2, 0.0)

    def way(degrees):
        return (math.cos(math.radians(degrees)), math.sin(math.radians(degrees)), 0.0)

    around = [tilt_about(tilt.center, pin, rear, way(degrees / 4)) for degrees in range(40, 680)]
    assert tilt.weakest_deg <= min(around) + 1e-9
    assert tilt.weakest_deg == pytest.approx(min(around), abs=0.01)
    assert tilt_about(tilt.center, pin, rear, way(tilt.weakest_heading_deg)) == pytest.approx(
        tilt.weakest_deg
    )
    assert 0 < tilt.weakest_heading_deg < 90  # partly downhill ahead: worse than straight across


def test_up_and_forward_both_cost_tilt():
    """A load raised lifts the center of gravity; a load ahead moves it to where the triangle is
    narrow.
    """
    bare = side_tilt(TRACTOR, stance=STANCE).line_deg
    low = side_tilt(TRACTOR, Attachment("load", 300, 1.25, 0.45), stance=STANCE).line_deg
    high = side_tilt(TRACTOR, Attachment("load", 300, 1.25, 2.45), stance=STANCE).line_deg
    assert bare > low > high


def test_the_weight_does_not_matter_only_where_it_is():
    light = Tractor("light", 1.65, 300, 400, 0.70)
    assert side_tilt(light, stance=STANCE).line_deg == pytest.approx(
        side_tilt(TRACTOR, stance=STANCE).line_deg
    )


@pytest.mark.parametrize(
    "axle_height, least, most", [(0.30, 0.3, 0.7), (0.42, -1e-9, 1e-9), (0.54, -0.7, -0.3)]
)
def test_the_front_axle_s_own_weight_counts_either_way(axle_height, least, most):
    """What side_tilt says it leaves out: 130 kg of axle and wheels that stay level.  Below the
    pin (0.42 m) the body alone tips sooner than the whole machine would, above it later.
    """
    whole, body = 1400, 1270
    x, h = (whole * TRACTOR.ahead_m) / body, (whole * 0.70 - 130 * axle_height) / body
    without = tilt_about((x, 0.0, h), (0.0, 0.0, STANCE.pin_m), (-1.65, 0.55, 0.0))
    assert least < side_tilt(TRACTOR, stance=STANCE).line_deg - without < most


def test_aside_takes_from_one_side_what_it_gives_the_other():
    left, right = (side_tilt(TRACTOR, stance=STANCE, aside=a) for a in (0.05, -0.05))
    assert left.line_deg < side_tilt(TRACTOR, stance=STANCE).line_deg < right.line_deg
    assert math.tan(math.radians(left.line_deg)) * 0.52 == pytest.approx(left.half_base_m - 0.05)


def test_height_limits():
    flat = side_tilt(Tractor("flat", 1.65, 600, 800, 0.05), stance=STANCE)
    assert flat.line_deg == 90  # the line is above the center: it hangs, and does not tip
    assert (
        side_tilt(Tractor("zero", 1.65, 600, 800, 0), stance=Stance(1, 1, 0, 0)).factor == math.inf
    )


def test_a_center_over_the_rear_axle_has_the_whole_track():
    tilt = side_tilt(Tractor("tail", 1.65, 1e-9, 1400, 0.7), stance=STANCE)
    assert tilt.half_base_m == pytest.approx(0.55) and tilt.line_height_m == pytest.approx(
        0, abs=1e-9
    )


# --- turning ------------------------------------------------------------------------------------


@pytest.mark.parametrize("side", [-10, 0, 15])
@pytest.mark.parametrize("radius", [3, 8])
def test_at_that_speed_weight_and_outward_pull_meet_the_line(side, radius):
    """A force in space: gravity and the inertia of the turn have no moment about the line to the
    pin.
    """
    tilt = side_tilt(TRACTOR, *LOADER, stance=STANCE)
    v, lean = turning_speed(tilt, radius, side_deg=side), math.radians(side)
    force = plus(
        (0.0, 9.80665 * math.sin(lean), -9.80665 * math.cos(lean)),
        scaled(v * v / radius, (0.0, 1.0, 0.0)),
    )
    pin, rear = (0.0, 0.0, STANCE.pin_m), (-1.65, 0.55, 0.0)
    assert dot(cross(minus(tilt.center, pin), force), minus(rear, pin)) == pytest.approx(
        0, abs=1e-9
    )


def test_turning_limits():
    tilt = side_tilt(TRACTOR, stance=STANCE)
    assert (
        turning_speed(tilt, 5, side_deg=tilt.line_deg) == 0 == turning_speed(tilt, 5, side_deg=40)
    )
    assert turning_speed(tilt, 5, side_deg=tilt.line_deg - 1e-7) == pytest.approx(0, abs=1e-3)
    assert (
        turning_speed(tilt, 5, side_deg=10)
        < turning_speed(tilt, 5)
        < turning_speed(tilt, 5, side_deg=-10)
    )
    assert turning_speed(tilt, "20 m") == pytest.approx(2 * turning_speed(tilt, "5 m"))


# --- at the door --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "call, field",
    [
        (lambda: Stance(0, 1, 0.4, 8), "front track"),
        (lambda: Stance(1, "9 m", 0.4, 8), "rear track"),
        (lambda: Stance(1, 1, -0.1, 8), "height of the pivot pin"),
        (lambda: Stance(1, 1, 0.4, 60), "swing of the front axle"),
        (lambda: side_tilt(Tractor("flat", 1.65, 600, 800), stance=STANCE), "height of the flat"),
        (
            lambda: side_tilt(TRACTOR, Attachment("load", 2000, 1.25, 0.4), stance=STANCE),
            "center of gravity",
        ),
        (lambda: turning_speed(side_tilt(TRACTOR, stance=STANCE), 0), "radius of the turn"),
        (lambda: turning_speed(side_tilt(TRACTOR, stance=STANCE), 5, side_deg=100), "side slope"),
    ],
)
def test_bad_input_gets_one_sentence(call, field):
    with pytest.raises(Refusal) as refused:
        call()
    assert refused.value.field == field


def test_locked_wheels_have_more_than_one_split_so_none_is_given():
    """Forces in the ground plane: with rolling wheels equilibrium fixes the split, with locked ones
    it does not.
    """
    L, w = sympy.Rational(33, 20), sympy.Rational(11, 20)
    spots = [(0, w), (0, -w), (-L, w), (-L, -w)]
    # Rows: forces along, forces across, moment about the vertical; columns: what each unknown does.
    across = [sympy.Matrix([0, 1, x]) for x in (0, -L)]  # one side force an axle
    along = [sympy.Matrix([1, 0, -y]) for _, y in spots]  # a locked tire also holds fore and aft
    rolling, locked = sympy.Matrix.hstack(*across), sympy.Matrix.hstack(*across, *along)
    assert rolling.rank() == len(across)  # one answer: the level split
    free = locked.nullspace()
    assert len(free) == len(across) + len(along) - 3
    assert any(vector[0] != 0 for vector in free)  # the front side force itself is free
    import leverarm.stability as stability

    assert "None is given" in SIDE_FORCE
    assert not any("split" in name or "per_wheel" in name for name in dir(stability))


@pytest.mark.parametrize(
    "weight, ahead, stands",
    [(299.9, -4.5, True), (300.1, -4.5, False), (999, 1.35, True), (1001, 1.35, False)],
)
def test_a_machine_that_has_tipped_fore_and_aft_is_not_asked_how_far_it_tips_sideways(
    weight, ahead, stands
):
    """600 kg in front and 900 behind over 1.5 m: 300 kg 3 m behind the rear axle, or 1,000 kg
    1.35 m ahead of the front one, take all of it off the other axle.
    """
    tractor = Tractor("Hand-worked tractor", 1.5, 600, 900, 0.7)
    hung = Attachment("crate", weight, ahead, 0.7)
    if stands:
        assert side_tilt(tractor, hung, stance=demo_stance()).line_deg > 0
    else:
        with pytest.raises(Refusal, match="has tipped already"):
            side_tilt(tractor, hung, stance=demo_stance())
