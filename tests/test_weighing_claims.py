"""Spoken claims against readings, and set-up errors one at a time."""

import math
from dataclasses import replace

import pytest
from worked import worked_loader, worked_tractor

from leverarm import Attachment, Refusal, predict
from leverarm.weighing import (
    audit_spoken,
    effect_of_error,
    everyday_errors,
    infer,
    read_claim,
    readings_with_errors,
)
from leverarm.weighing.day import weigh_day
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.readings import weighing
from leverarm.weighing.setup_errors import (
    brakes_on,
    bucket_down,
    fuel_burned,
    on_grade,
    operator_off,
    pads_under,
    unsettled,
)

# --- what was said --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text, kind, value, half",
    [
        ("twice its weight", "factor", 2, 0.2),
        ("It DOUBLES!", "factor", 2, 0.2),
        ("2x", "factor", 2, 0.2),
        ("1.7 times its weight", "factor", 1.7, 0.05),
        ("three times", "factor", 3, 0.3),
        ("triple", "factor", 3, 0.3),
        ("about 150 lb", "weight", 150 * 0.45359237, 5 * 0.45359237),
        ("110 kg", "weight", 110, 5),
        ("1,234 lb", "weight", 1234 * 0.45359237, 0.5 * 0.45359237),
        ("12,5 kilos", "weight", 12.5, 0.05),
        ("30 %", "percent", 30, 3),
        ("34 percent", "percent", 34, 0.5),
        ("−20 %", "percent", 20, 2),
        ("25 percent of it", "percent", 25, 2.5),
        ("a third", "percent", 100 / 3, 10 / 3),
        ("two thirds", "percent", 200 / 3, 20 / 3),
        ("half of the weight", "percent", 50, 5),
        ("3/4", "percent", 75, 7.5),
        ("0.5", "percent", 50, 5),
        ("0.4 of it", "percent", 40, 4),
        ("0.9 of its weight", "percent", 90, 5),
    ],
)
def test_claims_are_read_with_their_rounding(text, kind, value, half):
    claim = read_claim(text)
    assert (claim.kind, claim.value.value) == (kind, pytest.approx(value))
    assert claim.value.u * math.sqrt(3) == pytest.approx(half)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "a lot",
        "1",
        "150",
        "1 of it",
        "150 of it",
        "43 in",
        "0 kg",
        "__import__('os')",
        "9" * 500,
        None,
    ],
)
def test_what_is_no_claim_is_refused(text):
    with pytest.raises(Refusal, match="claim"):
        read_claim(text)


def test_rounding_can_be_told():
    assert read_claim("30 %", rounding=5).value.u == pytest.approx(5 / 3**0.5)


# --- what it would need, and what to say instead --------------------------------------------------


def day_of(with_it, without, piece="bucket"):
    """One weighing each with a piece on and off; a wheelbase of 1.65 m, scales of 1 kg."""
    rows = [weighing(piece, *with_it), weighing("", *without)]
    told = machine("Worked tractor", "1.65 m", wheelbase_error="3 mm")
    return weigh_day(told, "2026-05-14", scale_facts("1 kg", "0.1 %"), rows)


DEMO = day_of((790, 720), (600, 800))


def test_twice_needs_one_wheelbase_and_half_the_front_change():
    found = audit_spoken("twice its weight", DEMO)
    assert found.needs.value == pytest.approx(1.65)
    assert found.needs_weight.value == pytest.approx(95)
    # Two is rounded by 0.2 at most, so 95 percent of 0.2 times 1.65 m.
    assert "1.65 ± 0.31 m ahead" in found.needed("kg") and "95.0 ± " in found.needed("kg")
    assert found.truth == "false" and "takes 190.0 ± " in found.instead("kg")
    assert "of what that axle carried with it on" in found.instead("kg")
    assert "The machine loses 110.0 ± " in found.instead("kg")


@pytest.mark.parametrize(
    "text, needs, way",
    [
        ("110 kg", 1.20, "ahead"),  # 190/110 of its weight
        ("half its weight", -0.825, "behind"),
        ("50 % of its own weight", -0.825, "behind"),
        ("1.5 times its weight", 0.825, "ahead"),
    ],
)
def test_what_a_claim_needs_by_hand(text, needs, way):
    found = audit_spoken(text, DEMO)
    assert found.needs.value == pytest.approx(needs) and f" m {way}" in found.needed("kg")


@pytest.mark.parametrize(
    "text",
    [
        "190 kg comes off the front axle",
        "80 kg goes on the rear axle",
        "30 % of the front axle's load",
        "the front axle carries 600 kg without the bucket",
        "more than twice its weight",
        "saves your tires",
    ],
)
def test_a_claim_about_something_else_needs_no_overhang(text):
    assert audit_spoken(text, DEMO).needed("kg") == ""


def test_a_piece_behind_the_rear_axle_takes_load_off_the_front():
    day = day_of((500, 1100), (600, 800), "ballast")
    found = audit_spoken("The ballast weighs 200 kg", day, "ballast")
    assert "puts 100.0 ± " in found.instead("kg") and "more on the front" in found.instead("kg")


@pytest.mark.parametrize("change, words", [(1, "takes 1.0"), (-1, "puts 1.0")])
def test_takes_or_puts_for_the_smallest_change_too(change, words):
    assert words in audit_spoken("2 kg", day_of((600 + change, None), (600, None))).instead("kg")


def test_told_beside_the_front_is_said_to_be_told():
    day = day_of((790, None), (600, None))
    alone = audit_spoken("twice its weight", day)
    assert "The readings put it" not in alone.needed("kg") and "weight of 95" in alone.needed("kg")
    told = {"ahead": "1.20 m", "u_ahead": "2 cm"}
    assert "Told, not weighed: it is 1.2" in audit_spoken("twice", day, told=told).needed("kg")
    told = {"weight": "110 kg", "u_weight": "1 kg"}
    assert "(told, not weighed)" in audit_spoken("twice", day, told=told).instead("kg")


# --- set-up errors
# --------------------------------------------------------------------------------------

TRACTOR, (FRAME, BUCKET) = worked_tractor(), worked_loader()


def test_pads_under_one_axle_move_w_h_t_over_l_squared():
    front, rear = pads_under("front", "50 mm", (0.4, 0.4)).shift(TRACTOR, [])
    assert front == pytest.approx(-1400 * 0.30 * 0.05 / 1.65**2, rel=2e-3) and rear == -front
    assert pads_under("rear", "50 mm", (0.4, 0.4)).shift(TRACTOR, [])[0] == pytest.approx(
        -front, rel=1e-9
    )
    assert pads_under("front", 0).shift(TRACTOR, []) == (0, 0)


def test_pads_left_in_place_nearly_cancel_pads_put_in_between_do_not():
    pads = pads_under("front", "50 mm")
    left, between = (
        effect_of_error(replace(pads, lasting=both), TRACTOR, BUCKET, [FRAME])
        for both in (True, False)
    )
    assert abs(left.ahead_m) < 0.01 < abs(between.ahead_m)
    assert left.weight_kg == pytest.approx(0, abs=1e-9) and between.weight_kg == pytest.approx(
        0, abs=1e-9
    )


def test_a_grade_is_the_grade_of_axles():
    front, rear = on_grade(2).shift(TRACTOR, [BUCKET])
    tilted, level = predict(TRACTOR, BUCKET, grade_deg=2), predict(TRACTOR, BUCKET)
    assert (front, rear) == pytest.approx(
        (tilted.front_kg - level.front_kg, tilted.rear_kg - level.rear_kg)
    )
    assert front + rear == pytest.approx(level.total_kg * (math.cos(math.radians(2)) - 1))


def test_brakes_are_the_bound_the_user_states_and_the_worst_of_its_signs():
    found = effect_of_error(brakes_on("5 kg"), TRACTOR, BUCKET)
    assert abs(found.weight_kg) == pytest.approx(10)
    opposite = infer((600, 800), (795, 715), 1.65).ahead_m - 1.2
    assert abs(found.ahead_m) >= abs(opposite) - 1e-9
    assert effect_of_error(brakes_on(0), TRACTOR, BUCKET).ahead_m == 0


@pytest.mark.parametrize(
    "error, weight",
    [
        (bucket_down("40 kg", 1.5), -40),
        (operator_off("85 kg", -1.1), -85),
        (fuel_burned(10, -0.4), -8.4),
    ],
)
def test_what_leaves_the_scales_is_missing_from_the_weight(error, weight):
    assert effect_of_error(error, TRACTOR, BUCKET, [FRAME]).weight_kg == pytest.approx(weight)


def test_a_moved_center_of_gravity_is_what_the_scales_would_say():
    """The operator error is the same as weighing with a passenger of negative weight."""
    found = effect_of_error(operator_off("85 kg", -1.1), TRACTOR, BUCKET)
    after = predict(TRACTOR, BUCKET, Attachment("seat", 85, -1.1))
    both = infer((after.front_kg, after.rear_kg), (790, 720), 1.65)
    assert both.weight_kg == pytest.approx(-85) and both.ahead_m == pytest.approx(-1.1)
    assert found.front_kg == pytest.approx(790 - after.front_kg)


def test_unsettled_readings_are_short_in_proportion():
    assert unsettled(1).shift(TRACTOR, []) == pytest.approx((-6, -8))


def test_every_error_has_a_size_a_reason_and_a_remedy():
    for error in everyday_errors():
        found = effect_of_error(error, TRACTOR, BUCKET, [FRAME])
        assert max(abs(found.front_kg), abs(found.rear_kg)) > 1, error.name
        assert error.why.endswith(".") and error.doing.endswith(".")
    assert len({error.key for error in everyday_errors()}) == 7


def test_switched_on_together_they_add_up():
    errors = everyday_errors()[3:5]
    level, *alone = (
        readings_with_errors(TRACTOR, [FRAME, BUCKET], chosen)
        for chosen in ([], errors[:1], errors[1:])
    )
    both = readings_with_errors(TRACTOR, [FRAME, BUCKET], errors)
    assert both == pytest.approx([one + other - base for base, one, other in zip(level, *alone)])


@pytest.mark.parametrize(
    "make, message",
    [
        (lambda: pads_under("left", 0.05), "axle"),
        (lambda: pads_under("front", -1), "thickness"),
        (lambda: on_grade(80), "grade"),
        (lambda: brakes_on("5 m"), "brakes"),
        (lambda: operator_off(4000, 0), "operator"),
        (lambda: fuel_burned(-1, 0), "liters"),
        (lambda: unsettled(90), "short"),
        (lambda: bucket_down(-1, 0), "ground"),
        (
            lambda: pads_under("front", 0.05).shift(TRACTOR, [Attachment("box", 50, 1)]),
            "height of the box",
        ),
    ],
)
def test_setup_refusals(make, message):
    with pytest.raises(Refusal, match=message):
        make()
