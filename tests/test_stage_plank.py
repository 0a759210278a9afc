"""The plank on two scales: drawn by the page as by Python, with loads worked by hand."""

import random
import re

import pytest
from stage_in_page import readable, some_states, still, written_alike

from leverarm import statics
from leverarm.quantities import Refusal
from leverarm.stage.plank import EasyPlaces, PlankGuess, PlankWeighed
from leverarm.stage.plank_case import PlankCase, plank_loads
from leverarm.stage.recording import as_json, recorded, start_of
from leverarm.stage.sheet import PROJECTOR

CASES = {
    "lb": PlankCase(),
    "kg": PlankCase(system="kg"),
    # Somebody's own kit: a short light plank and a heavy jug, which lifts the far scale.
    "own": PlankCase("1.1 m", "3.2 kg", "2.4 kg", "14 kg", "0.3 m", system="kg"),
    "projector": PlankCase(sheets=(PROJECTOR,)),
}
ACTS = {
    "above": lambda case: PlankGuess(case, "above"),
    "halfway": lambda case: PlankGuess(case, "halfway"),
    "easy": EasyPlaces,
    "past": lambda case: PlankGuess(case, "past"),
    "weighed": PlankWeighed,
}
STATES = {"above": 60, "halfway": 60, "easy": 120, "past": 100, "weighed": 300}


@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_page_and_python_write_the_same(which, act, tmp_path):
    draw = ACTS[act](CASES[which])
    states, places = written_alike(tmp_path, draw, draw.inputs, STATES[act], which + act)
    assert places > (50 if act in ("easy", "weighed") else 5)
    lifted = 0
    for state in states:
        if act == "weighed":
            on = plank_loads(state)
            lifted += bool(on.lifted_left or on.lifted_right)
    if which == "own" and act == "weighed":
        assert lifted > 10


@pytest.mark.parametrize("act", ACTS)
def test_markup_is_the_picture_at_the_start(act):
    draw = ACTS[act](CASES["lb"])
    markup = re.sub(r' data-b="\d+"', "", recorded(draw, draw.inputs)["markup"])
    assert markup == still(draw, start_of(draw.inputs))


# Worked by hand, pipes 48 in apart, a jug of 24 lb on a plank that reads 19 and 39 lb.
# 12 in past the left pipe: 24 x 12 = 288 lb in; 288 / 48 = 6 off the right, 24 + 6 on the left.
HAND = [
    # inches past the left pipe, left change, right change
    (12, 30, -6),
    (6, 27, -3),
    (16, 32, -8),
    (0, 24, 0),
    (-12, 18, 6),
    (-24, 12, 12),
    (-48, 0, 24),
    (-60, -6, 30),
]


@pytest.mark.parametrize(("past", "left", "right"), HAND)
def test_loads_worked_by_hand(past, left, right):
    on = plank_loads({"span": 48.0, "left": 19.0, "right": 39.0, "weight": 24.0, "past": past})
    assert (on.left - 19, on.right - 39) == pytest.approx((left, right))
    assert on.jug_left + on.jug_right == pytest.approx(24)
    assert (on.gone_left, on.gone_right) == pytest.approx((max(-left, 0), max(-right, 0)))
    assert not on.lifted_left and not on.lifted_right


@pytest.mark.parametrize(
    ("told", "left", "right", "lets_go"),
    [
        # 40 x 15 / 48 = 12.5 lb would come off a right scale that reads 10.
        ({"left": 19, "right": 10, "weight": 40, "past": 15}, 69, 0, "right"),
        # 15 in past the right pipe the same comes off a left scale that reads 10.
        ({"left": 10, "right": 39, "weight": 40, "past": -63}, 0, 89, "left"),
        # Just balanced on the left pipe: 40 x 12 / 48 = 10.
        ({"left": 19, "right": 10, "weight": 40, "past": 12}, 69, 0, None),
    ],
)
def test_a_scale_that_would_be_pulled_up_carries_nothing(told, left, right, lets_go):
    on = plank_loads({"span": 48.0, **told})
    assert (on.left, on.right) == pytest.approx((left, right))
    assert bool(on.lifted_left) == (lets_go == "left")
    assert bool(on.lifted_right) == (lets_go == "right")
    case = PlankCase(jug="40 lb", left="19 lb", right="39 lb")
    state = {**start_of(case.inputs), **told, "part": 3.0}
    shown = " ".join(readable(PlankWeighed(case), state))
    for side in ("left", "right"):
        assert (f"The {side} scale carries nothing" in shown) == (side == lets_go)


def test_loads_balance_about_any_point():
    """Both conditions of equilibrium, about points drawn at random, lifted scales aside."""
    rng = random.Random(5)
    for _ in range(300):
        v = {
            "span": rng.uniform(30, 60),
            "left": rng.uniform(5, 40),
            "right": rng.uniform(5, 40),
            "weight": rng.uniform(1, 15),
            "past": rng.uniform(-70, 15),
        }
        on, about = plank_loads(v), rng.uniform(-100, 100)
        if on.lifted_left or on.lifted_right:
            continue
        gain = {0.0: on.left - v["left"], -v["span"]: on.right - v["right"]}
        assert sum(gain.values()) == pytest.approx(v["weight"])
        turning = sum(load * (x - about) for x, load in gain.items())
        assert turning == pytest.approx(v["weight"] * (v["past"] - about))


def test_demo_reads_as_worked_by_hand():
    case = CASES["lb"]
    shown = list(readable(PlankWeighed(case), {**start_of(case.inputs), "part": 3.0}))
    for words in ("+30 lb", "−6 lb", "+24 lb", "19 → 49", "39 → 33", "24 lb × 12 in"):
        assert words in shown
    text = " ".join(shown)
    for words in ("24 lb × 12 in = 288 lb·in", "6 lb × 48 in = 288 lb·in", "loses 3 lb"):
        assert words in text


@pytest.mark.parametrize(
    ("past", "left_jug", "right_jug", "arms"),
    [(-12.0, "jug 18", "jug 6", ("12 in", "36 in")), (-24.0, "jug 12", "jug 12", ("24 in",) * 2)],
)
def test_between_the_pipes_both_arms_and_both_shares_are_told(past, left_jug, right_jug, arms):
    case = CASES["lb"]
    shown = list(readable(PlankWeighed(case), {**start_of(case.inputs), "part": 3.0, "past": past}))
    for words in (left_jug, right_jug, *arms):
        assert words in shown


def test_easy_places_read_as_worked_by_hand():
    draw = EasyPlaces(CASES["lb"])
    above, halfway = (
        list(readable(draw, {**start_of(draw.inputs), "part": part})) for part in (1.0, 2.0)
    )
    assert {"+24 lb", "0 lb", "19 → 43", "39 → 39"} <= set(above)
    assert {"19 → 31", "39 → 51"} <= set(halfway) and halfway.count("+12 lb") >= 2


# What answers each question: the changes and readings worked by hand above.
ANSWERS = {
    "above": ("43",),
    "halfway": ("12", "31", "51"),
    "past": ("30", "6", "49", "33", "288"),
}


@pytest.mark.parametrize("place", ANSWERS)
def test_a_question_holds_nothing_that_answers(place, monkeypatch):
    """Neither words nor rows: a question is drawn without working out a load."""

    def not_before_the_lock(*_):
        raise AssertionError("a load is worked out before the lock")

    for name in ("front_gain", "rear_change", "moment", "reactions", "amplification"):
        monkeypatch.setattr(statics, name, not_before_the_lock)
    draw = PlankGuess(CASES["lb"], place)
    data = recorded(draw, draw.inputs)
    assert all(name.endswith(("_said", "_known")) for name in data["start"])
    shown = " ".join(readable(draw, start_of(draw.inputs)))
    words = set(re.findall(r"\d+(?:\.\d+)?", shown))
    assert not words & set(ANSWERS[place])
    for sentence in ("tips", "carries", "lifts", "lands", "half of"):
        assert sentence not in shown and sentence not in as_json(data)


def test_what_was_said_of_the_first_place_is_kept_for_the_reading():
    case = CASES["lb"]
    carried = {one.name for one in PlankGuess(case, "halfway").inputs}
    wanted = {one.name for one in EasyPlaces(case).inputs} - {"part"}
    assert wanted <= carried


def test_an_input_keeps_its_own_range():
    for case in CASES.values():
        for draw in (make(case) for make in ACTS.values()):
            for one in draw.inputs:
                assert one.low <= one.start <= one.high, one


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"span": "4 in"}, "pipe to pipe"),
        ({"left": "-3 lb"}, "left reading"),
        ({"right": "900 lb"}, "right reading"),
        ({"jug": "0 lb"}, "weight of the jug"),
        ({"jug": "24 in"}, "weight of the jug"),
        ({"past": "30 in"}, "jug past the left pipe"),
        ({"past": "a foot"}, "jug past the left pipe"),
    ],
)
def test_what_no_kit_has_is_refused(given, field):
    with pytest.raises(Refusal, match=field):
        PlankCase(**given)


def test_pipes_stand_where_the_axles_of_the_tractor_stand():
    from leverarm.machine import demo_tractor

    for case in CASES.values():
        for sheet in case.sheets:
            own = case.on_paper(sheet)
            assert own.x(0) == sheet.x(0)
            assert own.x(-case.span_m) == pytest.approx(sheet.x(-demo_tractor().wheelbase_m))


def test_columns_hold_the_jug_at_every_place():
    for case in CASES.values():
        for state in some_states(case.inputs, 300, seed=4):
            on = plank_loads(state)
            assert max(on.left, on.right) <= case.full * 1.0001 or on.lifted_left + on.lifted_right


def test_places_are_what_they_say():
    case = CASES["lb"]
    assert [case.past_at(place) for place in ("above", "halfway", "past")] == [0.0, -24.0, 12.0]
