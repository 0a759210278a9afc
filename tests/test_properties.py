"""What must hold for every machine, on two hundred and more seeded random ones."""

import math
import random
from itertools import permutations

import pytest

from leverarm import Attachment, Tractor, compare, predict, shares, statics

MACHINES = 250


def machines(seed, *, pieces=(1, 5), reach=(-3.0, 2.0), heavy=300):
    """Random tractors, each with some random attachments."""
    draw = random.Random(seed)
    for _ in range(MACHINES):
        tractor = Tractor(
            "tractor",
            draw.uniform(0.5, 5),
            draw.uniform(50, 4000),
            draw.uniform(50, 4000),
            height=draw.uniform(0.2, 1.5),
        )
        yield (
            tractor,
            [
                Attachment(
                    f"piece {i}", draw.uniform(1, heavy), draw.uniform(*reach), draw.uniform(0, 2.5)
                )
                for i in range(draw.randint(*pieces))
            ],
            draw,
        )


def pair(loads):
    return loads.front_kg, loads.rear_kg


def near(*values):
    return pytest.approx(values, rel=1e-9, abs=1e-7)


def both_axles_press(tractor, pieces, grade=0.0):
    return predict(tractor, *pieces, grade_deg=grade).lift is None


def test_front_gain_and_rear_change_are_the_weight():
    for tractor, (piece, *_), _ in machines(1):
        (part,) = shares(tractor, piece)
        assert part.total_kg == pytest.approx(piece.weight_kg)
        told = piece.weight_kg, piece.ahead_m, tractor.wheelbase_m
        assert pair(part) == near(statics.front_gain(*told), statics.rear_change(*told))


def test_a_load_ahead_adds_more_than_its_weight_in_front_and_takes_off_the_rear():
    for tractor, (piece, *_), _ in machines(2):
        (part,) = shares(tractor, piece)
        assert (part.front_kg > piece.weight_kg) == (part.rear_kg < 0) == (piece.ahead_m > 0)
        assert (
            (part.front_kg < 0)
            == (part.rear_kg > piece.weight_kg)
            == (piece.ahead_m < -tractor.wheelbase_m)
        )


def test_superposition():
    """What all pieces do together is the sum of what each does alone."""
    seen = 0
    for tractor, pieces, _ in machines(3, heavy=60):
        if not both_axles_press(tractor, pieces) or not all(
            both_axles_press(tractor, [one]) for one in pieces
        ):
            continue
        seen += 1
        bare = predict(tractor)
        alone = [compare(bare, predict(tractor, one)) for one in pieces]
        together = compare(bare, predict(tractor, *pieces))
        assert pair(together) == near(
            sum(one.front_kg for one in alone), sum(one.rear_kg for one in alone)
        )
    assert seen > MACHINES * 0.6


def test_shares_add_up_to_the_change_while_both_axles_press():
    seen = 0
    for tractor, pieces, draw in machines(4, heavy=100):
        grade = draw.choice([0.0, draw.uniform(-15, 15)])
        if not both_axles_press(tractor, pieces, grade) or not both_axles_press(tractor, [], grade):
            continue
        seen += 1
        parts = shares(tractor, *pieces, grade_deg=grade)
        change = compare(
            predict(tractor, grade_deg=grade), predict(tractor, *pieces, grade_deg=grade)
        )
        assert pair(change) == near(sum(p.front_kg for p in parts), sum(p.rear_kg for p in parts))
        assert change.total_kg == pytest.approx(
            math.cos(math.radians(grade)) * sum(p.weight_kg for p in pieces)
        )
    assert seen > MACHINES * 0.5


def test_every_weight_moved_to_an_axle_loads_that_axle_alone():
    """Split the whole machine into its readings hung on the axles: the same two come back."""
    seen = 0
    for tractor, pieces, _ in machines(5, heavy=60):
        loads = predict(tractor, *pieces)
        if loads.lift:
            continue
        seen += 1
        assert statics.reactions(
            pair(loads), (0, -tractor.wheelbase_m), tractor.wheelbase_m
        ) == near(*pair(loads))
        moved = [
            Attachment(one.name, one.weight_kg, 0 if i % 2 else -tractor.wheelbase_m)
            for i, one in enumerate(pieces)
        ]
        assert pair(compare(predict(tractor), predict(tractor, *moved))) == near(
            sum(one.weight_kg for one in pieces[1::2]), sum(one.weight_kg for one in pieces[::2])
        )
    assert seen > MACHINES * 0.6


def test_either_pivot_gives_the_same_reactions():
    """Moments about the rear axle give the front, moments about the front the rear, and forces the
    other one.
    """
    for tractor, pieces, _ in machines(6):
        L = tractor.wheelbase_m
        loads = [
            (tractor.total_kg, tractor.ahead_m),
            *((one.weight_kg, one.ahead_m) for one in pieces),
        ]
        whole = sum(weight for weight, _ in loads)
        front = sum(statics.moment(weight, ahead + L) for weight, ahead in loads) / L
        rear = -sum(statics.moment(weight, ahead) for weight, ahead in loads) / L
        ours = statics.reactions(*zip(*loads), L)
        assert ours == near(front, whole - front)
        assert ours == near(whole - rear, rear)


@pytest.mark.parametrize("grade", [0.0, 12.0])
def test_the_order_of_the_pieces_changes_no_reading(grade):
    for tractor, pieces, draw in machines(7, pieces=(2, 4)):
        first = predict(tractor, *pieces, grade_deg=grade)
        for order in draw.sample(list(permutations(pieces)), 2):
            assert pair(predict(tractor, *order, grade_deg=grade)) == near(*pair(first))


def test_heavier_by_a_factor_reads_heavier_by_that_factor():
    for tractor, pieces, draw in machines(8):
        k = draw.uniform(0.1, 10)
        scaled = Tractor("tractor", tractor.wheelbase_m, k * tractor.front_kg, k * tractor.rear_kg)
        times_k = [Attachment(one.name, k * one.weight_kg, one.ahead_m) for one in pieces]
        loads, other = predict(tractor, *pieces), predict(scaled, *times_k)
        assert pair(other) == near(k * loads.front_kg, k * loads.rear_kg)
        assert (loads.lift and loads.lift.weight_kg) == (
            other.lift and pytest.approx(other.lift.weight_kg / k)
        )


def test_longer_in_proportion_reads_the_same():
    """Readings know only ratios of lengths: meters or inches, a model or the machine, on a grade
    too.
    """
    for tractor, pieces, draw in machines(9):
        k, grade = draw.uniform(0.3, 3), draw.uniform(-20, 20)
        scaled = Tractor(
            "tractor",
            k * tractor.wheelbase_m,
            tractor.front_kg,
            tractor.rear_kg,
            k * tractor.height_m,
            unusual_wheelbase=True,
        )
        times_k = [
            Attachment(one.name, one.weight_kg, k * one.ahead_m, k * one.height_m) for one in pieces
        ]
        assert pair(predict(scaled, *times_k, grade_deg=grade)) == near(
            *pair(predict(tractor, *pieces, grade_deg=grade))
        )


def test_seen_from_the_other_side_front_and_rear_change_places():
    for tractor, pieces, draw in machines(10):
        L, grade = tractor.wheelbase_m, draw.uniform(-20, 20)
        mirrored = Tractor("tractor", L, tractor.rear_kg, tractor.front_kg, tractor.height_m)
        turned = [
            Attachment(one.name, one.weight_kg, -L - one.ahead_m, one.height_m) for one in pieces
        ]
        loads = predict(tractor, *pieces, grade_deg=grade)
        other = predict(mirrored, *turned, grade_deg=-grade)
        assert pair(other) == near(loads.rear_kg, loads.front_kg)
        if loads.lift:
            assert {loads.lift.axle, other.lift.axle} == {
                "front",
                "rear",
            } and loads.lift.piece == other.lift.piece


@pytest.mark.parametrize("grade", [0.0, 9.0, -9.0])
def test_at_exactly_the_reported_weight_the_lifted_axle_reads_zero(grade):
    """With the pieces before it on and those after it off; a little less presses, a little more is
    lifted.
    """
    seen = 0
    for tractor, pieces, _ in machines(11, pieces=(1, 3), reach=(-6, 4), heavy=8000):
        lift = predict(tractor, *pieces, grade_deg=grade).lift
        if lift is None or lift.weight_kg is None:
            continue
        seen += 1
        at = [piece.name for piece in pieces].index(lift.piece)

        def hung(part, lift=lift, before=pieces[:at], piece=pieces[at]):
            weight_kg = part * lift.weight_kg
            return [*before, Attachment(lift.piece, weight_kg, piece.ahead_m, piece.height_m)]

        zero = getattr(predict(tractor, *hung(1), grade_deg=grade), f"{lift.axle}_kg")
        assert zero == pytest.approx(0, abs=1e-6)
        assert lift.weight_kg <= pieces[at].weight_kg
        if lift.weight_kg > 0.1:
            less, more = (predict(tractor, *hung(part), grade_deg=grade) for part in (0.999, 1.001))
            assert less.lift is None and getattr(less, f"{lift.axle}_kg") > 0
            assert more.lift.axle == lift.axle and getattr(more, f"{lift.axle}_kg") == 0
    assert seen > MACHINES * 0.3


def test_beyond_the_limit_one_axle_reads_all_and_the_other_nothing():
    seen = 0
    for tractor, pieces, draw in machines(12, reach=(-6, 4), heavy=8000):
        grade = draw.uniform(-20, 20)
        loads = predict(tractor, *pieces, grade_deg=grade)
        pressed = math.cos(math.radians(grade)) * (
            tractor.total_kg + sum(one.weight_kg for one in pieces)
        )
        assert loads.total_kg == pytest.approx(pressed)
        assert min(pair(loads)) >= 0
        assert (loads.lift is not None) == (min(pair(loads)) == 0)
        seen += loads.lift is not None
    assert MACHINES * 0.2 < seen < MACHINES * 0.95


def test_on_a_grade_the_scales_add_up_to_weight_times_cosine():
    for tractor, pieces, draw in machines(13):
        grade = draw.uniform(-45, 45)
        weight = tractor.total_kg + sum(one.weight_kg for one in pieces)
        assert predict(tractor, *pieces, grade_deg=grade).total_kg == pytest.approx(
            weight * math.cos(math.radians(grade))
        )


def test_nose_uphill_loads_the_rear_and_the_grade_acts_on_heights_alone():
    seen = 0
    for tractor, pieces, _ in machines(14, heavy=50):
        level, uphill, downhill = (predict(tractor, *pieces, grade_deg=g) for g in (0, 8, -8))
        if any(loads.lift for loads in (level, uphill, downhill)):
            continue
        seen += 1
        assert uphill.rear_share > level.rear_share > downhill.rear_share
        # Nose up and nose down by the same angle: the mean is the level reading times the cosine.
        c = math.cos(math.radians(8))
        assert (
            (uphill.front_kg + downhill.front_kg) / 2,
            (uphill.rear_kg + downhill.rear_kg) / 2,
        ) == near(c * level.front_kg, c * level.rear_kg)
        low = [Attachment(one.name, one.weight_kg, one.ahead_m, 0) for one in pieces]
        flat = Tractor("tractor", tractor.wheelbase_m, tractor.front_kg, tractor.rear_kg, height=0)
        assert pair(predict(flat, *low, grade_deg=8)) == near(c * level.front_kg, c * level.rear_kg)
    assert seen > MACHINES * 0.5


def test_the_bare_machine_on_a_grade_is_one_load_at_its_center_of_gravity():
    """A second route: the machine's weight at its own station, by the general formula."""
    seen = 0
    for tractor, pieces, draw in machines(15, heavy=50):
        angle = math.radians(grade := draw.uniform(-12, 12))
        loads = predict(tractor, *pieces, grade_deg=grade)
        all_of_it = [
            (tractor.total_kg, tractor.ahead_m, tractor.height_m),
            *((one.weight_kg, one.ahead_m, one.height_m) for one in pieces),
        ]
        route = statics.reactions_on_grade(
            *zip(*all_of_it), tractor.wheelbase_m, math.cos(angle), math.sin(angle)
        )
        assert loads.lift or pair(loads) == near(*route)
        seen += loads.lift is None
    assert seen > MACHINES * 0.5


def test_readings_give_the_weight_and_its_place_back():
    """Hung and taken off: what the scales changed by tells what hung where."""
    seen = 0
    for tractor, (piece, *_), _ in machines(16, heavy=50):
        if not both_axles_press(tractor, [piece]):
            continue
        seen += 1
        change = compare(predict(tractor), predict(tractor, piece))
        assert statics.hung_weight(*pair(change)) == pytest.approx(piece.weight_kg)
        assert statics.overhang_of(*pair(change), tractor.wheelbase_m) == pytest.approx(
            piece.ahead_m, abs=1e-7
        )
    assert seen > MACHINES * 0.6
