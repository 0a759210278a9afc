"""Ballast: effects, canceling, needs with their base, bars; by a second route, at the limits."""

import random

import pytest
import sympy
from worked import worked_loader, worked_tractor

from leverarm import (
    Attachment,
    Refusal,
    ballast,
    predict,
    shares,
    statics,
)
from leverarm.axles import AxleLoads
from leverarm.ballast import (
    LimitCheck,
    cancel,
    canceling_weight,
    center_need,
    counterweight,
    limit_checks,
    rear_need,
    steering_need,
    wheel_ballast,
)

TRACTOR, (FRAME, BUCKET) = worked_tractor(), worked_loader()
MOWER = Attachment("rear mower", 420, -2.75)


# --- what goes down, what goes up ----------------------------------------------------------------


def test_a_counterweight_is_the_bucket_s_lever_the_other_way_round():
    """Distance behind the rear axle plays overhang; front and rear change places."""
    W, b, L = sympy.symbols("W b L", positive=True)
    assert sympy.simplify(statics.front_gain(W, -(L + b), L) - statics.rear_change(W, b, L)) == 0
    assert sympy.simplify(statics.rear_change(W, -(L + b), L) - statics.front_gain(W, b, L)) == 0


def test_what_goes_down_what_goes_up():
    (share,) = shares(TRACTOR, counterweight(TRACTOR, "200 kg", behind="0.90 m"))
    assert share.front_kg == pytest.approx(-200 * 0.9 / 1.65)
    assert share.rear_kg == pytest.approx(200 * (1 + 0.9 / 1.65))
    assert share.total_kg == pytest.approx(200)


@pytest.mark.parametrize("weight", [1, 150, 900])
def test_weight_on_the_axle_line_leaves_the_front_exactly_as_it_is(weight):
    (share,) = shares(TRACTOR, wheel_ballast(TRACTOR, weight))
    assert share.front_kg == 0 and share.rear_kg == weight


def test_front_weights_do_to_the_rear_what_the_bucket_does():
    (share,) = shares(TRACTOR, Attachment("front weights", 110, 1.20))
    (bucket,) = shares(TRACTOR, BUCKET)
    assert (share.front_kg, share.rear_kg) == (bucket.front_kg, bucket.rear_kg)


# --- canceling ----------------------------------------------------------------------------------


def test_cancelling_is_the_gain_times_the_wheelbase_over_the_distance():
    dF, b, L = sympy.symbols("dF b L", positive=True)
    assert sympy.simplify(canceling_weight(dF, b, L) - dF * L / b) == 0


@pytest.mark.parametrize("seed", range(20))
def test_canceled_the_front_is_as_before_and_the_rear_carries_both(seed):
    rng = random.Random(seed)
    piece = Attachment("piece", rng.uniform(20, 300), rng.uniform(-0.5, 2.0))
    done = cancel(TRACTOR, piece, rng.uniform(0.3, 1.5))
    both = predict(TRACTOR, piece, done.counterweight)
    assert both.front_kg == pytest.approx(TRACTOR.front_kg)
    assert done.front_kg == pytest.approx(0, abs=1e-9)
    assert both.rear_kg - TRACTOR.rear_kg == pytest.approx(done.rear_kg)
    assert (
        done.rear_kg
        == pytest.approx(done.total_kg)
        == pytest.approx(piece.weight_kg + done.counterweight.weight_kg)
    )


def test_cancelling_by_moments_about_the_rear_axle():
    """The second route: both weights balance about the rear axle like a see-saw."""
    done = cancel(TRACTOR, BUCKET, "0.90 m")
    assert done.counterweight.weight_kg * 0.90 == pytest.approx(110 * (1.65 + 1.20))


def test_the_closer_it_hangs_the_heavier_it_must_be():
    weights = [cancel(TRACTOR, BUCKET, b).counterweight.weight_kg for b in (0.3, 0.6, 1.2)]
    assert weights[0] == pytest.approx(2 * weights[1]) == pytest.approx(4 * weights[2])


# --- needs ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(30))
def test_with_the_weight_it_asks_for_the_share_is_kept_exactly(seed):
    rng = random.Random(seed)
    mower = Attachment("mower", rng.uniform(450, 700), -1.65 - rng.uniform(0.8, 1.4))
    ahead, share = rng.uniform(0.3, 1.0), rng.uniform(18, 35)
    need = steering_need(TRACTOR, mower, ahead=ahead, share=share)
    if need.weight_kg:
        after = predict(TRACTOR, mower, Attachment("front weights", need.weight_kg, ahead))
        assert after.front_kg == pytest.approx(share / 100 * TRACTOR.total_kg)
    load = Attachment("load", rng.uniform(300, 500), 1.3)
    for base in ("whole", "unladen"):
        behind = rng.uniform(0, 1.2)
        need = rear_need(TRACTOR, FRAME, BUCKET, load, behind=behind, share=share, base=base)
        after = predict(
            TRACTOR, FRAME, BUCKET, load, counterweight(TRACTOR, max(need.weight_kg, 1e-9), behind)
        )
        of = after.total_kg if base == "whole" else TRACTOR.total_kg
        assert after.rear_kg >= share / 100 * of - 1e-6
        if need.weight_kg:
            assert after.rear_kg == pytest.approx(share / 100 * of)


def test_a_need_found_by_trying_weights_one_by_one():
    """The second route: hang more and more until the scales say enough."""
    need = rear_need(TRACTOR, FRAME, BUCKET, Attachment("load", 500, 1.25), behind="0.9 m")
    tried = 0.0
    while (
        predict(
            TRACTOR,
            FRAME,
            BUCKET,
            Attachment("load", 500, 1.25),
            counterweight(TRACTOR, tried + 0.01, "0.9 m"),
        ).rear_share
        < 20
    ):
        tried += 0.01
    assert need.weight_kg == pytest.approx(tried, abs=0.02)


def test_enough_is_no_weight_and_says_so():
    need = steering_need(TRACTOR, ahead="0.5 m")
    assert need.weight_kg == 0 and need.now_share == pytest.approx(600 / 14)
    assert "has that without ballast" in need.sentence() and "manual decides" in need.sentence()


def test_the_base_is_always_said():
    load = Attachment("load", 500, 1.25)
    assert (
        "20 % of the whole machine, ballast included"
        in rear_need(TRACTOR, FRAME, BUCKET, load, behind="0.9 m").sentence()
    )
    assert "45 % of the bare tractor" in rear_need(
        TRACTOR, FRAME, BUCKET, load, behind="0.9 m", share=45, base="unladen"
    ).sentence("lb")
    assert (
        "The rule asks for 20 % of the bare tractor:"
        in steering_need(TRACTOR, MOWER, ahead="0.6 m").sentence()
    )


def test_another_base_another_answer():
    load = Attachment("load", 500, 1.25)
    whole, unladen = (
        rear_need(TRACTOR, FRAME, BUCKET, load, behind="0.9 m", share=20, base=base).weight_kg
        for base in ("whole", "unladen")
    )
    assert whole > unladen


@pytest.mark.parametrize(
    "call, field",
    [
        (lambda: counterweight(TRACTOR, 100, "-0.5 m"), "counterweight behind the rear axle"),
        (lambda: counterweight(TRACTOR, 0, 1), "weight of the counterweight"),
        (lambda: cancel(TRACTOR, BUCKET, 0), "counterweight behind the rear axle"),
        (lambda: cancel(TRACTOR, MOWER, 1), "front gain of the rear mower"),
        (
            lambda: cancel(TRACTOR, wheel_ballast(TRACTOR, 100), 1),
            "front gain of the wheel ballast",
        ),
        (
            lambda: steering_need(TRACTOR, Attachment("mower", 600, -2.75), ahead="-1.7 m"),
            "place of the ballast",
        ),
        # 2,000 kg behind has lifted the front axle: no ballast behind can be the answer.
        (
            lambda: rear_need(TRACTOR, Attachment("mower", 2000, -2.75), behind=1),
            "place of the ballast",
        ),
        (
            lambda: rear_need(TRACTOR, Attachment("load", 900, 1.25), behind=0, share=120),
            "share to keep",
        ),
        (lambda: rear_need(TRACTOR, behind=1, base="loaded"), "base of the share"),
        (
            lambda: center_need(TRACTOR, center="2 m", behind=1),
            "center of gravity ahead of the rear axle",
        ),
        (lambda: limit_checks(AxleLoads(1, 2), front_axle=0), "front axle rating"),
    ],
)
def test_bad_input_gets_one_sentence(call, field):
    with pytest.raises(Refusal) as refused:
        call()
    assert refused.value.field == field
    assert str(refused.value).count("; ") == 2 and str(refused.value).endswith(".")


# --- bars ----------------------------------------------------------------------------------------


def test_bars_stand_beside_what_was_read_and_ask_for_what_was_not():
    found = {
        bar.name: bar
        for bar in limit_checks(
            AxleLoads(980, 640), front_axle="900 kg", rear_axle="800 kg", front_tire="500 kg"
        )
    }
    assert (found["Front axle"].over, found["Rear axle"].over, found["Whole machine"].over) == (
        True,
        False,
        None,
    )
    assert found["Each front tire"].load_kg == 490 and found["Each front tire"].over is False
    assert "Each rear tire" not in found
    assert found["Rear axle"].share == pytest.approx(80) and found["Whole machine"].share is None
    assert "Look up its limit in the manual" in found["Whole machine"].sentence()


@pytest.mark.parametrize("load, over", [(899.9, False), (900, False), (900.1, True)])
def test_a_bar_at_its_limit_is_not_over(load, over):
    assert LimitCheck("Front axle", load, 900).over is over


def test_nothing_is_ever_called_safe():
    texts = [
        *ballast.CAUTIONS,
        steering_need(TRACTOR, MOWER, ahead="0.6 m").sentence(),
        *(
            bar.sentence("lb")
            for bar in limit_checks(AxleLoads(980, 640), front_axle=900, rear_axle=800)
        ),
    ]
    assert not any("safe" in text.lower().replace("safety", "") for text in texts)


@pytest.mark.parametrize("load_kg", [300, 700, 900, 1500])
@pytest.mark.parametrize("behind", [0.4, 0.9])
@pytest.mark.parametrize("share", [5, 20])
def test_ballast_is_asked_for_a_load_that_tips_the_machine_too(load_kg, behind, share):
    """Worked by moments about the front axle, with the ballast hung on."""
    hung = (FRAME, BUCKET, Attachment("load", load_kg, 1.25))
    need = rear_need(TRACTOR, *hung, behind=behind, share=share)
    L, all_kg = TRACTOR.wheelbase_m, TRACTOR.total_kg + sum(one.weight_kg for one in hung)
    about_front = TRACTOR.rear_kg * L - sum(one.weight_kg * one.ahead_m for one in hung)
    rear = (about_front + need.weight_kg * (L + behind)) / L
    reached = 100 * rear / (all_kg + need.weight_kg)
    assert reached == pytest.approx(share) if need.weight_kg else reached >= share
    tips = about_front < 0
    assert ("This load tips the machine" in need.sentence()) == tips == (need.now_kg < 0)
    assert tips == (load_kg == 1500)


@pytest.mark.parametrize("center", [0.3, 0.6, 0.8])
def test_ballast_brings_the_center_of_gravity_where_it_is_wanted(center):
    need = center_need(TRACTOR, FRAME, BUCKET, center=center, behind=0.9)
    L = TRACTOR.wheelbase_m
    weights = [TRACTOR.total_kg, FRAME.weight_kg, BUCKET.weight_kg, need.weight_kg]
    places = [TRACTOR.ahead_m, FRAME.ahead_m, BUCKET.ahead_m, -L - 0.9]
    middle = sum(w * x for w, x in zip(weights, places)) / sum(weights)
    assert need.weight_kg > 0 and middle + L == pytest.approx(center)
