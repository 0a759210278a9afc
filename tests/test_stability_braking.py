"""Braking and holding on a grade: loads, demanded friction, limits, refusals."""

import math
import random

import pytest
from worked import worked_loader, worked_tractor

from leverarm import Attachment, Refusal, Tractor, predict
from leverarm.stability import FRICTION, brake, holding
from leverarm.stability.braking import MOST_FRICTION

TRACTOR, LOADER = worked_tractor(), worked_loader()
LOAD = Attachment("load", 200, 1.25, 0.45)


@pytest.mark.parametrize("grade", [-20, -5, 0, 12])
def test_held_on_a_grade_the_loads_are_those_of_predict(grade):
    held, still = (
        brake(TRACTOR, *LOADER, grade_deg=grade).loads,
        predict(TRACTOR, *LOADER, grade_deg=grade),
    )
    assert (held.front_kg, held.rear_kg) == pytest.approx((still.front_kg, still.rear_kg))


@pytest.mark.parametrize("pull, pull_height", [(0, 0), (250, 0.4), (-180, 0.6)])
@pytest.mark.parametrize(
    "grade, slowing",
    [(-15, 0), (-10, 0.1), (0, 0.2), (8, 0.15), (15, 0), (0, -0.2), (12, -0.1), (-8, -0.05)],
)
def test_the_machine_is_in_balance(grade, slowing, pull, pull_height):
    """Newton along, square to and about the ground, written out anew: the second route."""
    moving = {"slowing": slowing, "pull": pull, "pull_height": pull_height}
    found = brake(TRACTOR, *LOADER, LOAD, grade_deg=grade, brakes="all", **moving)
    said = predict(TRACTOR, *LOADER, LOAD, grade_deg=grade, **moving)
    assert (said.front_kg, said.rear_kg) == pytest.approx(
        (found.loads.front_kg, found.loads.rear_kg)
    )
    pieces = [
        (1400, TRACTOR.ahead_m, 0.70),
        *((p.weight_kg, p.ahead_m, p.height_m) for p in (*LOADER, LOAD)),
    ]
    weight, c, s = (
        sum(p[0] for p in pieces),
        math.cos(math.radians(grade)),
        math.sin(math.radians(grade)),
    )
    center = [sum(p[0] * p[i] for p in pieces) / weight for i in (1, 2)]
    # mass x slowing = brakes + the grade's own help + the drawbar's
    held_back = weight * slowing - weight * s - pull
    assert found.push_kg == pytest.approx(abs(held_back))
    assert found.loads.total_kg == pytest.approx(weight * c)
    about_center = (
        found.loads.front_kg * -center[0]
        - found.loads.rear_kg * (TRACTOR.wheelbase_m + center[0])
        - held_back * center[1]
        + pull * (pull_height - center[1])
    )
    assert about_center == pytest.approx(0, abs=1e-9)


def test_pulling_away_uphill_empties_the_front_axle():
    """Grade, gain of speed and a high hitch work together; the grade is not blamed."""
    calm = predict(TRACTOR, grade_deg=10)
    gone = predict(TRACTOR, grade_deg=10, slowing=-0.3, pull="900 kg", pull_height="0.9 m")
    assert calm.lift is None and gone.lift.axle == "front" and gone.front_kg == 0
    assert "with this pull or change of speed, before anything" in gone.lift.sentence()
    # By hand: the front empties where its level share is used up by everything along the ground.
    share = 600 * math.cos(math.radians(10)) * 1.65
    along = 1400 * (math.sin(math.radians(10)) + 0.3) * 0.70 + 900 * 0.9
    assert along > share


def test_a_trailer_that_pushes_downhill_asks_more_of_the_brakes():
    alone = brake(TRACTOR, grade_deg=-10)
    pushed = brake(TRACTOR, grade_deg=-10, pull="-200 kg", pull_height="0.4 m")
    assert pushed.push_kg == pytest.approx(alone.push_kg + 200)
    assert pushed.loads.rear_kg < alone.loads.rear_kg
    assert pushed.grips[0].demanded > alone.grips[0].demanded


def test_slowing_on_the_level_asks_for_its_own_share_of_the_weight():
    found = brake(TRACTOR, *LOADER, slowing=0.3, brakes="all")
    assert found.push_kg == pytest.approx(0.3 * 1720)
    assert [g.demanded for g in found.grips] == pytest.approx([0.3, 0.3])


@pytest.mark.parametrize("degrees", [1, 10, 20, 30])
def test_all_four_ask_for_the_tangent_of_the_grade(degrees):
    for sign in (1, -1):
        held = brake(TRACTOR, *LOADER, grade_deg=sign * degrees, brakes="all")
        assert [g.demanded for g in held.grips] == pytest.approx(
            [math.tan(math.radians(degrees))] * 2
        )


def test_a_loaded_bucket_on_a_downhill_asks_most_of_the_rear_brakes():
    """Each step of the story makes it worse: the load, the nose downhill, the rear brakes alone,
    the slowing.
    """
    bare = brake(TRACTOR, grade_deg=-12).grips[0].demanded
    loader = brake(TRACTOR, *LOADER, grade_deg=-12).grips[0].demanded
    loaded = brake(TRACTOR, *LOADER, LOAD, grade_deg=-12).grips[0].demanded
    slowing = brake(TRACTOR, *LOADER, LOAD, grade_deg=-12, slowing=0.05).grips[0].demanded
    assert bare < loader < loaded < slowing
    assert brake(TRACTOR, *LOADER, LOAD, grade_deg=12).grips[0].demanded < loaded
    assert brake(TRACTOR, *LOADER, LOAD, grade_deg=-12, brakes="all").grips[1].demanded < loaded


def test_level_and_still_nothing_is_demanded():
    for brakes in ("rear", "front", "all"):
        assert all(g.demanded == 0 for g in brake(TRACTOR, *LOADER, brakes=brakes).grips)


def test_an_axle_off_the_ground_holds_nothing():
    lifted = brake(TRACTOR, *LOADER, Attachment("load", 900, 1.25, 0.45), grade_deg=-10)
    assert lifted.lifted == "rear" and lifted.loads.rear_kg == 0
    assert lifted.grips[0].demanded is None and lifted.grips[0].slides(1.0)
    four = brake(TRACTOR, *LOADER, Attachment("load", 900, 1.25, 0.45), grade_deg=-10, brakes="all")
    assert (
        four.grips[0].demanded == pytest.approx(math.tan(math.radians(10)))
        and four.grips[1].demanded is None
    )
    assert sum(g.push_kg for g in four.grips) == pytest.approx(four.push_kg)


@pytest.mark.parametrize("friction, slides", [(0.89, True), (0.92, False)])
def test_a_grip_slides_where_demand_passes_friction(friction, slides):
    assert brake(TRACTOR, *LOADER, grade_deg=-15).grips[0].slides(friction) is slides


@pytest.mark.parametrize("seed", range(30))
def test_at_the_holding_limit_the_demand_is_the_friction(seed):
    rng = random.Random(seed)
    machine = Tractor(
        "any",
        rng.uniform(1.4, 2.2),
        rng.uniform(300, 900),
        rng.uniform(500, 1200),
        rng.uniform(0.4, 0.9),
    )
    brakes, nose, mu = (
        rng.choice(["rear", "front", "all"]),
        rng.choice(["up", "down"]),
        rng.uniform(0.1, 0.8),
    )
    limit = holding(machine, *LOADER, friction=mu, brakes=brakes, nose=nose)
    if limit.slides_deg is None or limit.slides_deg > 45:
        return
    at = brake(
        machine, *LOADER, grade_deg=limit.slides_deg * (1 if nose == "up" else -1), brakes=brakes
    )
    assert [g.demanded for g in at.grips] == pytest.approx([mu] * len(at.grips))
    assert limit.slides_deg < limit.tips_deg


@pytest.mark.parametrize("nose, axle", [("down", "rear"), ("up", "front")])
def test_at_the_tipping_limit_the_uphill_axle_carries_nothing(nose, axle):
    high = Tractor("high", 1.65, 600, 800, 1.4)
    limit = holding(high, LOAD, friction=1.0, nose=nose)
    sign = 1 if nose == "up" else -1
    assert getattr(
        brake(high, LOAD, grade_deg=sign * (limit.tips_deg - 1e-9)).loads, f"{axle}_kg"
    ) == pytest.approx(0, abs=1e-5)
    assert brake(high, LOAD, grade_deg=sign * (limit.tips_deg + 0.01)).lifted == axle


def test_it_tips_before_it_slides_where_friction_is_high():
    tall = Tractor("tall", 1.65, 200, 1200, 1.5)
    assert holding(tall, friction=1.2, brakes="rear", nose="up").slides_deg is None
    assert holding(tall, friction=1.2, brakes="all", nose="up").slides_deg is None


def test_height_zero_never_tips_and_slides_at_the_share_times_the_friction():
    flat = Tractor("flat", 1.65, 600, 800, 0)
    limit = holding(flat, friction=0.35, brakes="rear")
    assert limit.tips_deg == 90 and math.tan(math.radians(limit.slides_deg)) == pytest.approx(
        0.35 * 800 / 1400
    )


def test_a_machine_that_has_tipped_already_holds_nothing():
    limit = holding(TRACTOR, Attachment("load", 2000, 1.25, 0.45), friction=0.5, nose="down")
    assert limit.tips_deg == 0 and limit.slides_deg is None


@pytest.mark.parametrize(
    "call, field",
    [
        (lambda: brake(TRACTOR, grade_deg=50), "grade"),
        (lambda: brake(TRACTOR, slowing=2), "slowing over gravity"),
        (lambda: brake(TRACTOR, slowing=-1.1), "slowing over gravity"),
        (lambda: brake(TRACTOR, pull=1e6), "pull on the drawbar"),
        (lambda: predict(TRACTOR, pull=100, pull_height=-1), "height of the drawbar"),
        (
            lambda: predict(Tractor("flat", 1.65, 600, 800), slowing=0.1),
            "slowing over gravity",
        ),
        (lambda: brake(TRACTOR, brakes="hand"), "brakes"),
        (lambda: brake(TRACTOR, Attachment("box", 10, 1)), "height of the box"),
        (lambda: holding(TRACTOR, friction=0), "friction there is"),
        (lambda: holding(TRACTOR, friction=0.5, nose="left"), "nose"),
        (lambda: holding(Tractor("flat", 1.65, 600, 800), friction=0.5), "height of the flat"),
        (
            lambda: brake(TRACTOR, grade_deg=-5).grips[0].slides(MOST_FRICTION + 1),
            "friction there is",
        ),
    ],
)
def test_bad_input_gets_one_sentence(call, field):
    with pytest.raises(Refusal) as refused:
        call()
    assert refused.value.field == field


def test_friction_figures_say_where_they_are_from():
    assert all(value.source and 0 < value < 1 for value in FRICTION.values())
    assert list(FRICTION.values()) == sorted(FRICTION.values(), reverse=True)


@pytest.mark.parametrize("part, lifted", [(0.999, None), (0.9999, None), (1.0001, "front")])
def test_an_axle_lifts_where_its_load_is_gone_and_not_a_kilogram_before(part, lifted):
    """600 and 900 kg, 0.7 m high, 1.5 m long: the front is empty where the slope is 6/7."""
    machine = Tractor("Hand-worked tractor", 1.5, 600, 900, 0.7)
    held = brake(machine, grade_deg=math.degrees(math.atan(part * 600 / 700)))
    assert held.lifted == lifted
    c = math.cos(math.atan(part * 600 / 700))
    assert held.loads.front_kg == pytest.approx(max(0, 600 * (1 - part) * c), abs=1e-9)
