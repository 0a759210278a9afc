"""The loader along its lift: geometry, axle loads, the peak, loads that lighten the rear axle."""

import itertools
import math
import random

import pytest
from worked import worked_arms, worked_loader, worked_tractor

from leverarm import Attachment, Refusal, Tractor, predict
from leverarm.stability import Loader, Part, arc, lift_point, limits, load_for_share, peak

TRACTOR, LOADER = worked_tractor(), worked_arms()


def made(**changed):
    """The demo loader with some of what was told changed."""
    told = {
        "pivot_ahead": -0.48,
        "pivot_height": 1.36,
        "arm": 1.85,
        "low": 0.25,
        "high": 2.40,
        "arms": Part("arms", 105, 0.75, 0.2),
        "bucket": Part("bucket", 110, 0.2, 0.1),
        "load_along": 0.25,
        "load_across": 0.2,
    }
    return Loader(**(told | changed))


# --- geometry ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "angle, ahead, height",
    [
        (0, 1.37, 1.36),
        (30, -0.48 + 1.85 * math.cos(math.pi / 6), 1.36 + 0.925),
        (-30, 1.122147, 0.435),
    ],
)
def test_the_bucket_pin_follows_its_circle(angle, ahead, height):
    assert LOADER.pin_at(angle) == pytest.approx((ahead, height), abs=1e-6)


def test_the_ends_of_the_lift_are_the_heights_told():
    assert LOADER.pin_at(LOADER.lowest_deg)[1] == pytest.approx(0.25)
    assert LOADER.pin_at(LOADER.highest_deg)[1] == pytest.approx(2.40)
    assert LOADER.angle_at("1.36 m") == 0


def test_lowered_and_empty_it_weighs_as_the_demo_loader():
    """Frame and arms are the one, bucket the other: weight, overhang and height agree."""
    frame, arms, bucket = LOADER.at(LOADER.lowest_deg)
    whole, told_bucket = worked_loader()
    both = frame.weight_kg + arms.weight_kg
    assert both == whole.weight_kg
    for axis in ("ahead_m", "height_m"):
        mean = (
            frame.weight_kg * getattr(frame, axis) + arms.weight_kg * getattr(arms, axis)
        ) / both
        assert mean == pytest.approx(getattr(whole, axis))
        assert getattr(bucket, axis) == pytest.approx(getattr(told_bucket, axis))


def test_a_levelled_bucket_keeps_its_place_from_the_pin_and_the_other_turns():
    for angle in (-20, 0, 30):
        pin = LOADER.pin_at(angle)
        *_, flat = LOADER.at(angle, leveled=True)
        *_, rolled = LOADER.at(angle, leveled=False)
        assert (flat.ahead_m - pin[0], flat.height_m - pin[1]) == pytest.approx((0.20, 0.10))
        turned = complex(0.20, 0.10) * complex(
            math.cos(math.radians(angle - LOADER.lowest_deg)),
            math.sin(math.radians(angle - LOADER.lowest_deg)),
        )
        assert complex(rolled.ahead_m - pin[0], rolled.height_m - pin[1]) == pytest.approx(turned)
    assert LOADER.at(LOADER.lowest_deg, 50, leveled=True) == pytest.approx(
        LOADER.at(LOADER.lowest_deg, 50, leveled=False)
    )


def test_no_load_is_no_piece():
    assert [p.name for p in LOADER.at(0)] == ["loader frame", "arms", "bucket"]
    assert [p.name for p in LOADER.at(0, "300 kg")] == ["loader frame", "arms", "bucket", "load"]
    assert [p.name for p in made(frame=None).at(0)] == ["arms", "bucket"]


@pytest.mark.parametrize(
    "changed, field",
    [
        ({"arm": 0}, "arm, pivot to bucket pin"),
        ({"arm": "7 m"}, "arm, pivot to bucket pin"),
        ({"low": "2.5 m", "high": "2.4 m"}, "highest bucket pin"),
        ({"high": "4 m"}, "height of the bucket pin"),
        ({"pivot_height": 0}, "height of the arm pivot"),
        ({"pivot_ahead": "3 kg"}, "arm pivot ahead"),
        ({"load_along": "9 m"}, "load ahead of the bucket pin"),
        ({"low": "-0.1 m"}, "height of the bucket pin"),
    ],
)
def test_a_loader_that_cannot_be_is_refused(changed, field):
    with pytest.raises(Refusal) as refused:
        made(**changed)
    assert refused.value.field == field and "is allowed" in str(refused.value)


@pytest.mark.parametrize(
    "call, field",
    [
        (lambda: Part("arms", 0, 1), "weight of the arms"),
        (lambda: Part("", 5, 1), "attachment name"),
        (lambda: Part("arms", 5, "6 m"), "place along of the arms"),
        (lambda: LOADER.at(60), "lift angle"),
        (lambda: LOADER.at(-40), "lift angle"),
        (lambda: LOADER.at(0, "-1 kg"), "load in the bucket"),
        (lambda: arc(TRACTOR, LOADER, steps=0), "steps"),
        (lambda: arc(TRACTOR, LOADER, steps=True), "steps"),
        (lambda: load_for_share(TRACTOR, LOADER, 0, 120), "share of the rear axle"),
        (lambda: limits(TRACTOR, LOADER, rated_share="3 kg"), "rated share"),
    ],
)
def test_bad_input_gets_one_sentence(call, field):
    with pytest.raises(Refusal) as refused:
        call()
    assert refused.value.field == field


# --- the arc -----------------------------------------------------------------------------------


def test_the_arc_runs_from_end_to_end_in_equal_steps():
    found = arc(TRACTOR, LOADER, 300, steps=10)
    assert len(found) == 11
    assert (found[0].angle_deg, found[-1].angle_deg) == pytest.approx(
        (LOADER.lowest_deg, LOADER.highest_deg)
    )
    gaps = {round(b.angle_deg - a.angle_deg, 9) for a, b in itertools.pairwise(found)}
    assert len(gaps) == 1
    assert all(a.height_m < b.height_m for a, b in itertools.pairwise(found))


def test_every_lift_point_weighs_the_same_on_level_ground():
    assert {round(p.loads.total_kg, 9) for p in arc(TRACTOR, LOADER, 300)} == {2020.0}


@pytest.mark.parametrize("leveled", [True, False])
def test_the_front_load_is_the_slope_of_the_energy(leveled):
    """Virtual work: lifting by a small angle costs weight x rise, and that is the moment the front
    axle feels.

    d(energy)/d(angle) is the moment of what turns about the arm pivot, so between two
    points the front axle changes by the change of that slope over the wheelbase.
    """

    def energy(angle):
        return sum(p.weight_kg * p.height_m for p in LOADER.at(angle, 300, leveled=leveled))

    def slope(angle, step=1e-3):
        return (energy(angle + step) - energy(angle - step)) / (2 * math.radians(step))

    def front(angle):
        return lift_point(TRACTOR, LOADER, angle, 300, leveled=leveled).loads.front_kg

    for a, b in ((-30, 0), (0, 30), (-30, 30)):
        assert front(b) - front(a) == pytest.approx(
            (slope(b) - slope(a)) / TRACTOR.wheelbase_m, abs=1e-4
        )


@pytest.mark.parametrize("grade", [-15, 0, 12])
def test_axle_loads_by_virtual_work_of_the_whole_machine(grade):
    """Turn the whole machine a hair about the rear contact: the front axle's work is the rise of
    the weight.
    """
    up = complex(
        math.sin(math.radians(grade)), math.cos(math.radians(grade))
    )  # away from the earth's center
    here = lift_point(TRACTOR, LOADER, 10, 200, grade_deg=grade)
    places = [
        (TRACTOR.total_kg, complex(TRACTOR.ahead_m, TRACTOR.height_m)),
        *((p.weight_kg, complex(p.ahead_m, p.height_m)) for p in here.pieces),
    ]
    turn, rear = complex(math.cos(1e-6), math.sin(1e-6)), complex(-TRACTOR.wheelbase_m, 0)

    def rise(z):
        return (((z - rear) * turn - (z - rear)) * up.conjugate()).real

    # the contact moves square to the ground, against the reaction that presses there
    work = sum(W * rise(z) for W, z in places)
    assert here.loads.front_kg * TRACTOR.wheelbase_m * 1e-6 == pytest.approx(work, rel=1e-5)


# --- the peak ----------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(25))
def test_the_peak_is_the_greatest_front_load_of_a_fine_arc(seed):
    rng = random.Random(seed)
    loader = made(
        arms=Part("arms", rng.uniform(20, 200), rng.uniform(0.3, 1.2), rng.uniform(-0.4, 0.6)),
        pivot_height=rng.uniform(1.0, 1.8),
        load_along=rng.uniform(-0.2, 0.6),
        load_across=rng.uniform(0, 0.6),
    )
    how = {"leveled": rng.random() < 0.5, "grade_deg": rng.uniform(-20, 20)}
    load = rng.choice([0, rng.uniform(10, 250)])
    heavy = Tractor("heavy", 1.65, 900, 2500, 0.7)  # stays on both axles
    best = peak(heavy, loader, load, **how)
    fine = max(arc(heavy, loader, load, steps=800, **how), key=lambda p: p.loads.front_kg)
    assert best.loads.front_kg >= fine.loads.front_kg - 1e-9
    assert best.loads.front_kg == pytest.approx(fine.loads.front_kg, abs=0.02)


def test_at_the_peak_the_turning_center_is_level_with_the_pivot():
    loader = made(arms=Part("arms", 105, 0.75, 0.2), low=0.6)
    at = peak(TRACTOR, loader, 200, leveled=False)
    turning = [p for p in at.pieces if p.name != "loader frame"]
    height = sum(p.weight_kg * p.height_m for p in turning) / sum(p.weight_kg for p in turning)
    assert loader.lowest_deg < at.angle_deg < loader.highest_deg
    assert height == pytest.approx(loader.pivot_height_m)


def test_a_grade_moves_the_peak_by_its_own_angle():
    level = peak(TRACTOR, LOADER, 100).angle_deg
    assert peak(TRACTOR, LOADER, 100, grade_deg=5).angle_deg == pytest.approx(level - 5)
    assert peak(TRACTOR, LOADER, 100, grade_deg=-5).angle_deg == pytest.approx(level + 5)


def test_a_lift_that_ends_early_peaks_at_its_end():
    assert (short := made(high=1.0)) and peak(TRACTOR, short, 200).angle_deg == pytest.approx(
        short.highest_deg
    )
    assert (tall := made(low=1.9)) and peak(TRACTOR, tall, 200).angle_deg == pytest.approx(
        tall.lowest_deg
    )


# --- loads that lighten the rear axle -----------------------------------------------------------


@pytest.mark.parametrize("angle", [-36, -10, 0, 20, 34])
@pytest.mark.parametrize("share", [0, 10, 20])
@pytest.mark.parametrize("how", [{}, {"leveled": False}, {"grade_deg": -10}, {"grade_deg": 8}])
def test_that_load_leaves_that_share(angle, share, how):
    load = load_for_share(TRACTOR, LOADER, angle, share, **how)
    loads = lift_point(TRACTOR, LOADER, angle, load, **how).loads
    assert loads.rear_kg == pytest.approx(share / 100 * loads.total_kg, abs=1e-6)


def test_a_little_more_than_the_tipping_load_lifts_the_rear_axle():
    load = load_for_share(TRACTOR, LOADER, 0, 0)
    assert lift_point(TRACTOR, LOADER, 0, load - 0.1).loads.lift is None
    over = lift_point(TRACTOR, LOADER, 0, load + 0.1).loads
    assert over.lift.axle == "rear" and over.lift.piece == "load"
    assert over.lift.weight_kg == pytest.approx(load)


@pytest.mark.parametrize("how", [{}, {"leveled": False}, {"grade_deg": -10}])
def test_the_worst_of_the_lift_is_the_least_load_of_a_fine_arc(how):
    found = limits(TRACTOR, LOADER, **how)
    angles = [
        LOADER.lowest_deg + (LOADER.highest_deg - LOADER.lowest_deg) * i / 2000 for i in range(2001)
    ]
    for load, share in ((found.tipping_kg, 0), (found.keeping_kg, 20)):
        fine = min(load_for_share(TRACTOR, LOADER, at, share, **how) for at in angles)
        assert load <= fine + 1e-9
        assert load == pytest.approx(fine, abs=0.01)


def test_limits_at_one_angle_are_those_loads_there():
    found = limits(TRACTOR, LOADER, -30)
    assert found.at_deg == -30
    assert found.tipping_kg == load_for_share(TRACTOR, LOADER, -30, 0)
    assert found.keeping_kg == load_for_share(TRACTOR, LOADER, -30, 20)
    assert found.rated_kg == found.tipping_kg / 2
    assert limits(TRACTOR, LOADER, -30, rated_share=35).rated_kg == pytest.approx(
        0.35 * found.tipping_kg
    )


def test_a_counterweight_raises_every_limit():
    from leverarm.ballast import counterweight

    bare, with_it = (
        limits(TRACTOR, LOADER),
        limits(TRACTOR, LOADER, others=(counterweight(TRACTOR, 300, "0.9 m"),)),
    )
    assert with_it.tipping_kg > bare.tipping_kg and with_it.keeping_kg > bare.keeping_kg


def test_a_rear_axle_light_already_has_no_room_for_a_load():
    nose_heavy = Tractor("nose heavy", 1.65, 1300, 100, 0.7)
    found = limits(nose_heavy, LOADER)
    assert found.tipping_kg == found.keeping_kg == found.rated_kg == 0


def test_a_load_behind_the_front_axle_never_tips_it_forward():
    short = made(
        pivot_ahead=-1.6,
        arm=1.2,
        low=1.0,
        high=2.0,
        bucket=Part("bucket", 110, 0, 0),
        load_along=-0.1,
    )
    assert load_for_share(TRACTOR, short, 0, 0) is None
    assert (
        limits(TRACTOR, short, 0).tipping_kg is None and limits(TRACTOR, short, 0).rated_kg is None
    )


def test_straight_up_changes_no_reading_on_level_ground():
    """Same overhang below and above the pivot: height alone does nothing to level scales."""
    low, high = lift_point(TRACTOR, LOADER, -30, 300), lift_point(TRACTOR, LOADER, 30, 300)

    def arms(p):
        return next(x for x in p.pieces if x.name == "arms").ahead_m

    moved = 105 * (arms(high) - arms(low)) / TRACTOR.wheelbase_m
    assert high.loads.front_kg - low.loads.front_kg == pytest.approx(moved)
    assert high.carried.height_m > low.carried.height_m + 1


def test_a_lift_point_is_what_predict_says():
    here = lift_point(
        TRACTOR, LOADER, 5, 120, others=(Attachment("box", 100, -2.5, 0.5),), grade_deg=4
    )
    assert here.loads == predict(
        TRACTOR, *here.pieces, Attachment("box", 100, -2.5, 0.5), grade_deg=4
    )
    assert (here.overhang_m, here.height_m) == (here.pieces[-1].ahead_m, here.pieces[-1].height_m)


@pytest.mark.parametrize(
    "share, allowed", [(-0.5, False), (0, True), (0.5, True), (100, True), (100.5, False)]
)
def test_a_share_is_none_to_all(share, allowed):
    for ask in (
        lambda: load_for_share(TRACTOR, LOADER, 0, share),
        lambda: limits(TRACTOR, LOADER, 0, rated_share=share),
        lambda: limits(TRACTOR, LOADER, 0, keep_share=share),
    ):
        if allowed:
            ask()
        else:
            with pytest.raises(Refusal, match="share"):
                ask()
