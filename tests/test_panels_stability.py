"""The panels of lessons 08 and 09: every control moves the picture, and the code twin says the
same.
"""

import pytest

from leverarm import Refusal, demo_tractor, panels, predict
from leverarm.panels import shared
from leverarm.stability import demo_arms, demo_stance, lift_point, limits, side_tilt

MAKERS = [panels.arms_up, panels.sideways, panels.counterweight]


pytestmark = pytest.mark.usefixtures("metric")


def named(make):
    return make.__name__


def open_panel(make):
    panel = make(gated=False)
    assert panel.error.value == ""
    return panel


@pytest.mark.parametrize("make", MAKERS, ids=named)
def test_every_number_moves_the_picture(make):
    panel = open_panel(make)
    start = panel.values
    for name, number in panel.numbers.items():
        panel.set(**start)
        before = panel.out.value
        number.slider.value = number.slider.min + 0.37 * (number.slider.max - number.slider.min)
        assert panel.out.value != before and panel.error.value == "", f"{name} does nothing"


@pytest.mark.parametrize("make", MAKERS, ids=named)
def test_every_choice_moves_the_picture(make):
    panel = open_panel(make)
    radios = [w for name, w in vars(panel).items() if hasattr(w, "options") and name != "gate"]
    assert radios or make is panels.sideways
    for radio in radios:
        for value in [v for v in dict(radio.options).values() if v != radio.value]:
            before = panel.out.value
            radio.value = value
            assert panel.out.value != before and panel.error.value == ""


@pytest.mark.parametrize("make", MAKERS, ids=named)
def test_units_change_what_is_shown_and_not_what_is_meant(make):
    panel = open_panel(make)
    before = panel.values
    shared.set(system="lb")
    assert " lb" in panel.out.value or (make is panels.sideways and " in" in panel.out.value)
    assert panel.values == before
    shared.set(large=True)
    assert "lv-large" in panel.out.value or "st-projector" in panel.out.value


@pytest.mark.parametrize("make", MAKERS, ids=named)
def test_every_picture_has_words_and_cautions_stand_with_the_work(make):
    panel = open_panel(make)
    pictures, named = panel.out.value.count('role="img"'), panel.out.value.count("<desc")
    assert panel.out.value.count("<title") == named
    assert pictures == named + panel.out.value.count('role="img" aria-label="A tractor of') >= 1
    assert "With this work:" in panel.out.value
    text = panel.out.value.lower()
    assert "safe" not in text.replace("safety", "")


@pytest.mark.parametrize("make", MAKERS, ids=named)
def test_nothing_is_shown_before_a_prediction(make):
    panel = make(gated=True)
    assert panel.hidden
    told = {q.key: "up 1" if q.kind != "weight" else "up 1 kg" for q in panel.gate.questions}
    panel.gate.lock_in(**told)
    assert panel.hidden and panel.numbers["load"].box.disabled
    panel.gate.reveal()
    assert not panel.hidden and not panel.numbers["load"].box.disabled


def test_arms_up_keeps_the_readings_back():
    panel = panels.arms_up(gated=True)
    reading = f"{panel.lift_point.loads.front_kg:,.1f}"
    assert reading not in panel.out.value
    panel.gate.lock_in(front="up 50 kg", rear="down 50 kg")
    panel.gate.reveal()
    assert (
        reading in panel.out.value
        and "+50.0 kg" in panel.out.value
        and "you said" in panel.out.value
    )


def test_arms_up_is_the_package():
    panel = open_panel(panels.arms_up).set(
        load="240 kg", height="2.0 m", counterweight="150 kg", rear="850 kg"
    )
    here = lift_point(
        panel.tractor, demo_arms(), demo_arms().angle_at(2.0), 240, others=panel.others
    )
    assert panel.lift_point == here and panel.others[0].ahead_m == pytest.approx(
        -65 * 0.0254 - 0.90
    )
    assert panel.limits == limits(panel.tractor, demo_arms(), others=panel.others)
    assert f"{panel.limits.tipping_kg:,.1f}" in panel.out.value
    panel.leveled.value = False
    assert (
        panel.lift_point.loads != here.loads
        and f"{panel.limits.tipping_kg:,.1f}" in panel.out.value
    )


def test_arms_up_says_when_the_rear_axle_has_left():
    panel = open_panel(panels.arms_up).set(load="900 kg")
    assert "carries nothing" in panel.out.value and panel.error.value == ""


def test_sideways_is_the_package():
    panel = open_panel(panels.sideways).set(load="100 kg", height="1.8 m")
    pieces = demo_arms().at(demo_arms().angle_at(1.8), 100)
    assert panel.tilt == side_tilt(demo_tractor(), *pieces, stance=demo_stance())
    assert f"{panel.tilt.line_deg:.1f}°" in panel.out.value
    panel.set(slope=panel.tilt.line_deg + 1)
    assert "past the tipping line" in panel.out.value and "even standing still" in panel.out.value


def test_counterweight_is_the_package():
    panel = open_panel(panels.counterweight)
    assert panel.after == predict(demo_tractor(), *panel.hung)
    panel.kind.value = "wheels"
    assert panel.after.front_kg == panel.before.front_kg
    panel.kind.value = "front"
    assert panel.after.front_kg > panel.before.front_kg + 250
    panel.set(weight=0)
    assert panel.piece is None and panel.after == panel.before and panel.error.value == ""


def test_ballast_that_brings_the_rear_down_again_is_told_as_the_picture_shows_it():
    """950 kg in the bucket lift the rear axle, and 600 kg behind put it back."""
    panel = panels.counterweight(gated=False)
    panel.set(load="950 kg", weight="600 kg")
    assert panel.before.lift and not panel.after.lift
    words = panel.out.value
    assert "Without the ballast: The rear axle carries nothing" in words
    for said in (panel.say(panel.after.front_kg), panel.say(panel.after.rear_kg)):
        assert words.count(said) >= 2, "in the picture and in the words"
    panel.set(weight="10 kg")
    assert panel.after.lift and "Without the ballast:" not in panel.out.value


def test_ratings_are_read_and_a_wrong_one_is_said_and_nothing_is_lost():
    panel = open_panel(panels.counterweight)
    assert "Look up its limit in the manual" in panel.out.value
    panel.ratings["front_axle"].value = "1200 kg"
    assert "over the limit you read" in panel.out.value
    shown = panel.out.value
    panel.ratings["rear_axle"].value = "lots"
    assert "rear axle rating" in panel.error.value and panel.out.value == shown
    panel.ratings["rear_axle"].value = "2646 lb"
    assert panel.error.value == "" and [b.limit_kg for b in panel.limit_checks][1] == pytest.approx(
        1200, abs=0.5
    )


def test_a_wrong_name_is_refused():
    with pytest.raises(Refusal):
        panels.arms_up(gated=False).set(speed=3)
