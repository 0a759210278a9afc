"""The loader on its lift: the page as Python, loads worked by hand, what cannot be shown."""

import random
import re

import pytest
from stage_in_page import readable, still, written_alike

from leverarm import panels, stability
from leverarm.axles import predict
from leverarm.ballast import counterweight
from leverarm.machine import Attachment, Tractor
from leverarm.quantities import Refusal, show_number
from leverarm.stability import Loader, Part
from leverarm.stage.arms import ArmsGuess, ArmsWeighed
from leverarm.stage.arms_case import ArmsCase, arms_loads
from leverarm.stage.case import AXLES
from leverarm.stage.lift_still import LiftStill
from leverarm.stage.recording import as_json, recorded, start_of
from leverarm.stage.sheet import PROJECTOR

KG = 0.45359237
DEMO = Tractor("Plot tractor", "65 in", "1320 lb", "1760 lb")
LOADER = stability.demo_arms()
# Somebody's own: a long low loader without a frame, on a short tractor with a light rear.
OWN = Tractor("Ridge tractor", "1.48 m", "410 kg", "590 kg")
OTHER = Loader(
    pivot_ahead="-0.30 m",
    pivot_height="1.20 m",
    arm="1.70 m",
    low="0.20 m",
    high="2.05 m",
    arms=Part("arms", "60 kg", along="0.8 m", across="0.1 m"),
    bucket=Part("grapple", "95 kg", along="0.2 m", across="0.05 m"),
    load_along="0.3 m",
    load_across="0.2 m",
)
CASES = {
    "lb": ArmsCase(DEMO, LOADER, 600 * KG),
    "kg": ArmsCase(DEMO, LOADER, 600 * KG, "kg"),
    "own": ArmsCase(OWN, OTHER, 120.0, "kg"),
    "projector": ArmsCase(DEMO, LOADER, 600 * KG, sheets=(PROJECTOR,)),
}
ACTS = {"guess": (ArmsGuess, "guess_inputs"), "weighed": (ArmsWeighed, "inputs")}


@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_page_and_python_write_the_same(which, act, tmp_path):
    make, names = ACTS[act]
    case = CASES[which]
    draw, inputs = make(case), getattr(case, names)
    _, places = written_alike(tmp_path, draw, inputs, 200 if act == "weighed" else 60, which + act)
    assert places > (60 if act == "weighed" else 5)


def test_loads_are_those_of_the_package():
    rng, lifted = random.Random(8), 0
    case = CASES["kg"]
    for _ in range(200):
        height, load = rng.uniform(0.26, 2.46), rng.uniform(1, 900)
        v = {"front": rng.uniform(200, 900), "rear": rng.uniform(200, 900), "load": load}
        on = predict(
            Tractor("t", "65 in", v["front"], v["rear"]),
            *LOADER.at(LOADER.angle_at(height), load),
        )
        got = arms_loads(case, v, LOADER.places(*case.turn(height)))
        assert got[:2] == pytest.approx((on.front_kg, on.rear_kg))
        assert (got[2] < 0) == (on.lift is not None)
        lifted += got[2] < 0
    assert 20 < lifted < 180


# By hand, arms low (sine -45/75, cosine 0.8): arms 30 x 0.8 + 8 x 0.6 - 20 = 8.8 in ahead, bucket
# 60 - 20 + 7 = 47, load 60 - 20 + 10 = 50. Rear: 1760 - (230 x 4.2 + 230 x 8.8 + 260 x 47 +
# 600 x 50) / 65 = 1760 - 695.54 = 1064.46; front: 1320 + 1320 + 695.54 = 3335.54.
# Arms level: 30 - 20 = 10, 62 and 65 in ahead: 13,176 lb in more, / 65 = 202.71 lb.
def test_demo_reads_as_worked_by_hand():
    case = CASES["lb"]
    low = LOADER.places(*case.turn(case.heights[0]))
    assert low["load"][0] / 0.0254 == pytest.approx(50)
    assert arms_loads(case, case.start, low)[:2] == pytest.approx((3335.54, 1064.46), abs=0.01)
    level = arms_loads(case, case.start, LOADER.places(1.0, 0.0))
    assert level[:2] == pytest.approx((3538.25, 861.75), abs=0.01)
    shown = set(readable(ArmsWeighed(case), {**start_of(case.inputs), "part": 3.0}))
    assert {"+203 lb", "−203 lb", "0 lb", "3,336 → 3,538", "1,064 → 862", "65 in"} <= shown
    text = " ".join(shown)
    assert "860 × 15 ÷ 65 = 198 lb goes from the rear to the front" in text
    assert "The arms themselves add 4 lb. With nothing rounded on the way the sum is 203 lb" in text
    # Empty and level the rear reads 1760 - (966 + 2300 + 16,120) / 65 = 1461.75; a is 65 in.
    assert "R × L ÷ a = 1,462 × 65 ÷ 65 = 1,462 lb" in text


def test_above_level_the_load_comes_back():
    case = CASES["lb"]
    start = {**start_of(case.inputs), "part": 3.0}
    fronts = []
    for height in (10.0, 30.0, 53.0, 75.0, 97.0):
        seen = ArmsWeighed(case)._seen({**start, "height": height})
        fronts.append(seen.now[0])
    assert fronts[0] < fronts[1] < fronts[2] > fronts[3] > fronts[4]


def test_hoisted_straight_up_the_scales_stay():
    case = CASES["lb"]
    for height in (10.0, 60.0, 97.0):
        state = {**start_of(case.inputs), "part": 3.0, "height": height, "hoist": 1.0}
        shown = set(readable(ArmsWeighed(case), state))
        assert {"3,336 → 3,336", "1,064 → 1,064"} <= shown


# 0.2 of the total on the rear: R - W a / L = 0.2 (T + W), by hand with R 1461.75, T 3800, a = L:
# W = (1461.75 - 760) / 1.2 = 584.8 lb.
def test_the_load_that_leaves_a_fifth():
    case = CASES["lb"]
    seen = ArmsWeighed(case)._seen({**start_of(case.inputs), "part": 3.0, "load": 584.8})
    assert seen.now[1] / sum(seen.now) == pytest.approx(0.2, abs=1e-4)
    limits = stability.limits(DEMO, LOADER)
    assert limits.keeping_kg == pytest.approx(584.8 * KG, rel=0.002)


def test_a_rear_that_lifts_is_said_and_drawn():
    case = CASES["lb"]
    draw, start = ArmsWeighed(case), {**start_of(case.inputs), "part": 3.0}
    assert "The rear carries nothing" in still(draw, {**start, "load": 1500.0})
    assert "The rear carries nothing" not in still(draw, start)


def test_first_act_holds_nothing_that_answers():
    for which, told in (
        ("lb", ("203", "3,538", "862", "198", "65 in ahead", "1,462", "farther", "arc")),
        ("kg", ("92 kg", "1,605", "391")),
    ):
        case = CASES[which]
        draw = ArmsGuess(case)
        data = recorded(draw, case.guess_inputs)
        shown = " ".join(readable(draw, start_of(case.guess_inputs)))
        assert set(data["inputs"]) <= {"front_said", "rear_said", "front_known", "rear_known"}
        assert [answer for answer in told if answer in shown] == []
        assert "plumb" not in as_json(data) and "arc carries" not in as_json(data)


def test_what_cannot_be_shown_is_refused():
    low = Loader(
        "-0.3 m",
        "2.2 m",
        "1.7 m",
        "0.6 m",
        "2.0 m",
        arms=Part("arms", "60 kg", along="0.8 m"),
        bucket=Part("bucket", "95 kg", along="0.2 m"),
    )
    with pytest.raises(Refusal, match="pass level"):
        ArmsCase(OWN, low, 100.0)
    with pytest.raises(Refusal, match="both axles"):
        ArmsCase(DEMO, LOADER, 900.0)
    with pytest.raises(Refusal, match="load in the bucket"):
        panels.arms_stage(load="0 lb")


def test_the_panel_locks_then_answers(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    stage = panels.arms_stage(lesson="08")
    with pytest.raises(Refusal, match="lock in"):
        _ = stage.result
    assert "plumb line" not in stage._shown_html
    stage.lock_in(front="0 lb", rear="0 lb")
    assert "plumb line" in stage._shown_html and not stage.explained
    stage.explain("It moved.")
    stage.free()
    level = stability.lift_point(DEMO, LOADER, 0, 600 * KG).loads
    assert stage.result.front_kg == pytest.approx(level.front_kg, abs=0.5)
    stage.move(height=97.0)
    assert stage.result.front_kg == pytest.approx(stage.low.front_kg, abs=2)
    stage.move(hoist=1.0)
    assert stage.result.rear_kg == pytest.approx(stage.low.rear_kg)


@pytest.mark.parametrize("system", ["lb", "kg"])
def test_a_strange_machine_is_shown_in_either_unit(system):
    panels.shared.set(system=system)
    stage = panels.arms_stage(OWN, OTHER, "120 kg")
    stage.lock_in(front="+1 kg", rear="-1 kg")
    stage.free()
    on = stability.lift_point(OWN, OTHER, 0, 120).loads
    assert stage.result.front_kg == pytest.approx(on.front_kg, abs=1.5)
    panels.shared.set(system="lb")


def test_places_of_the_loader_are_those_of_its_pieces():
    for deg in (LOADER.lowest_deg, -10.0, 0.0, 25.0, LOADER.highest_deg):
        from math import cos, radians, sin

        places = LOADER.places(cos(radians(deg)), sin(radians(deg)))
        for piece in LOADER.at(deg, 100):
            if piece.name in places:
                told = Attachment(piece.name, piece.weight_kg, *places[piece.name])
                assert (told.ahead_m, told.height_m) == pytest.approx(
                    (piece.ahead_m, piece.height_m)
                )


def still_text(load=300.0, angle=0.0, hang=None, **more):
    """A standing picture, and its words: the loader at an angle, held against the arms low."""
    others = (counterweight(DEMO, *hang),) if hang else ()
    low, here = (
        stability.lift_point(DEMO, LOADER, deg, load, others=others)
        for deg in (LOADER.lowest_deg, angle)
    )
    drawn = LiftStill(DEMO, LOADER, here, low.loads, others, system="kg", **more)
    text = drawn.html("k1")
    assert "st@" not in text and not re.search(r"\bnan\b|\binf\b", text)
    return text, low.loads, here.loads


@pytest.mark.parametrize(
    ("load", "angle", "hang"), [(300, 0, None), (0, 34, None), (200, -20, (250, 0.9))]
)
def test_a_standing_picture_tells_the_readings_of_the_package(load, angle, hang):
    text, low, here = still_text(load, angle, hang)
    for axle in AXLES:
        before, now = (show_number(getattr(one, f"{axle}_kg"), 0) for one in (low, here))
        assert text.count(f"{before} → {now}") >= 4, "in both sizes and in their names"
    assert ("-ballast)" in text) == bool(hang)
    assert ("-hung)" in text) == bool(load)


def test_a_standing_picture_that_is_hidden_tells_the_low_readings_only():
    text, low, here = still_text(hidden=True)
    for axle in AXLES:
        before, now = (show_number(getattr(one, f"{axle}_kg"), 0) for one in (low, here))
        assert f"{before} kg" in text and now not in text and "→" not in text


def test_a_bucket_that_turns_with_the_arms_is_turned_and_a_lifted_rear_is_off_its_scale():
    flat, turned = still_text(angle=34.0)[0], still_text(angle=34.0, tilted=True)[0]
    assert flat.count("rotate(") + 2 == turned.count("rotate(")
    assert still_text(load=900.0)[2].lift and " → 0" in still_text(load=900.0)[0]
