"""A tractor on a grade, on the stage: page as Python, readings by hand and by the package."""

import math
import random
import re
from dataclasses import replace

import pytest
from stage_in_page import readable, still, written_alike

from leverarm import panels, stability
from leverarm.axles import predict
from leverarm.machine import Attachment, Tractor, demo_tractor
from leverarm.quantities import Refusal
from leverarm.stability import Loader, Part, demo_arms
from leverarm.stage.controls import entry
from leverarm.stage.elements import every_element
from leverarm.stage.recording import as_json, recorded, start_of
from leverarm.stage.sheet import PROJECTOR
from leverarm.stage.slopes import SlopesGuess, SlopesWeighed
from leverarm.stage.slopes_case import SlopeCase

KG = 0.45359237
DEMO = SlopeCase(demo_tractor(), demo_arms(), 450 * KG)
# Somebody's own: a large tractor, told in metric units, with a lighter load and a gentler grade.
OWN = SlopeCase(
    Tractor("long one", "2.45 m", "1900 kg", "2600 kg", "0.95 m"),
    Loader(
        pivot_ahead="-0.7 m",
        pivot_height="1.9 m",
        arm="2.6 m",
        low="0.4 m",
        high="3.4 m",
        frame=Attachment("frame", "250 kg", ahead="0.1 m", height="0.9 m"),
        arms=Part("arms", "260 kg", along="1.1 m", across="0.2 m"),
        bucket=Part("bucket", "280 kg", along="0.3 m", across="0.1 m"),
        load_along="0.4 m",
        load_across="0.2 m",
    ),
    300.0,
    system="kg",
    grade=12.0,
)
CASES = {
    "lb": DEMO,
    "kg": replace(DEMO, system="kg"),
    "own": OWN,
    "projector": replace(DEMO, sheets=(PROJECTOR,)),
}
ACTS = {"guess": (SlopesGuess, "guess_inputs"), "weighed": (SlopesWeighed, "inputs")}


def parts(act, case):
    draw, inputs = ACTS[act]
    return draw(case), getattr(case, inputs)


@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_page_and_python_write_the_same(which, act, tmp_path):
    draw, inputs = parts(act, CASES[which])
    how_many = 250 if act == "weighed" else 40
    _, places = written_alike(tmp_path, draw, inputs, how_many, which + act)
    assert places > (60 if act == "weighed" else 5)


@pytest.mark.parametrize("act", ACTS)
def test_markup_is_the_picture_at_the_start(act):
    draw, inputs = parts(act, DEMO)
    markup = re.sub(r' data-b="\d+"', "", recorded(draw, inputs)["markup"])
    assert markup == still(draw, start_of(inputs))


def test_readings_are_those_of_the_package():
    rng, lifted = random.Random(4), 0
    for _ in range(200):
        case = rng.choice(list(CASES.values()))
        unit = KG if case.system == "lb" else 1.0
        state = {one.name: rng.uniform(one.low, one.high) for one in case.inputs} | {"part": 3.0}
        seen = SlopesWeighed(case).on_grade(state)
        low, high = case.heights[0], case.highest_m
        height = min(max(case.meters(state["height"]), low), high)
        tractor = Tractor(
            "t",
            case.tractor.wheelbase_m,
            state["front"] * unit,
            state["rear"] * unit,
            case.tractor.height_m,
        )
        pieces = case.loader.at(case.loader.angle_at(height), state["load"] * unit)
        held = stability.brake(
            tractor,
            *pieces,
            grade_deg=-math.degrees(math.atan(state["grade"] / 100)),
            slowing=state["slowing"],
        )
        got = [one * unit for one in seen.now]
        assert got == pytest.approx([held.loads.front_kg, held.loads.rear_kg], abs=1e-6)
        assert seen.push * unit == pytest.approx(held.push_kg)
        level = predict(tractor, *pieces)
        if level.lift is None:
            assert [one * unit for one in seen.level] == pytest.approx(
                [level.front_kg, level.rear_kg]
            )
        (grip,) = held.grips
        if grip.demanded is not None and grip.demanded < 9:
            assert seen.rear_need == pytest.approx(grip.demanded)
        lifted += held.lifted is not None
    assert 5 < lifted < 150


# By hand, in pounds and inches. Level: front 3,070.15, rear 1,179.85 (moments about each axle of
# 3,800 lb of tractor with its loader and 450 lb at 50 in ahead). 20 percent: c = 1 / sqrt(1.04) =
# 0.98058, s = 0.19612; the pull is 4,250 x 0.19612 = 833.5 lb. Heights: tractor 3,080 x 28, frame
# 230 x 21, arms 230 x 43.4, bucket 260 x 14, load 450 x 18 give 4,250 x 26.54.
# Moved: 833.5 x 26.54 / 65 = 340.3. Rear 1,179.85 c - 340.3 = 816.6, front 3,070.15 c + 340.3 =
# 3,350.8. Rear brakes: 833.5 / 816.6 = 1.02; all four: 0.20, the grade itself.
def test_demo_reads_as_worked_by_hand():
    c = 1 / math.sqrt(1.04)
    high = (3080 * 28 + 230 * 21 + 230 * 43.4 + 260 * 14 + 450 * 18) / 4250
    moved = 4250 * 0.2 * c * high / 65
    one = DEMO.at_start
    assert one.now == pytest.approx((3070.15 * c + moved, 1179.85 * c - moved), abs=0.3)
    assert (one.rear_need, one.all_need) == pytest.approx((1.0207, 0.2), abs=0.001)
    shown = list(readable(SlopesWeighed(DEMO), {**start_of(DEMO.inputs), "part": 3.0}))
    assert {"+281 lb", "−363 lb", "−83 lb", "3,070 → 3,351", "1,180 → 817"} <= set(shown)
    text = " ".join(shown)
    assert "rear brakes alone: 1.02. All four: 0.20." in text


@pytest.mark.parametrize("which", CASES)
def test_what_the_explanation_works_out_comes_out(which):
    """Every product and quotient printed gives the number printed behind it, to its digits."""
    case = CASES[which]
    text = " ".join(readable(SlopesWeighed(case), {**start_of(case.inputs), "part": 2.0}))
    number = r"(\d[\d,.]*\d|\d)"
    sums = re.findall(rf"((?:{number} (?:[×÷]) )+{number}) = {number}", text.replace("\u2009", ""))
    assert len(sums) >= 4
    for left, *_, result in sums:
        worked = eval(left.replace(",", "").replace("×", "*").replace("÷", "/"))
        digits = len(result.partition(".")[2])
        near = 0.6 * 10**-digits + 0.004 * abs(worked)
        assert float(result.replace(",", "")) == pytest.approx(worked, abs=near), left


def test_all_four_need_the_grade_whatever_hangs_in_front():
    for load in (0.0, 300.0, 1100.0):
        for grade in (-30, -7, 0, 20, 30):
            state = {**start_of(DEMO.inputs), "part": 3.0, "load": load, "grade": grade}
            assert SlopesWeighed(DEMO).on_grade(state).all_need == pytest.approx(abs(grade) / 100)


def test_slowing_on_the_level_is_a_steeper_grade():
    start = {**start_of(DEMO.inputs), "part": 3.0}
    slowed = SlopesWeighed(DEMO).on_grade({**start, "grade": 0.0, "slowing": 0.1})
    held = SlopesWeighed(DEMO).on_grade({**start, "grade": 10.0})
    assert slowed.now[1] / sum(slowed.now) == pytest.approx(held.now[1] / sum(held.now))
    assert slowed.rear_need == pytest.approx(held.rear_need)


def test_rear_wheels_that_leave_are_said_and_drawn():
    start = {**start_of(DEMO.inputs), "part": 3.0}
    heavy = {**start, "load": 1170.0, "height": 44.0, "grade": 30.0}
    text = " ".join(readable(SlopesWeighed(DEMO), heavy))
    assert "The rear wheels leave the paper here" in text and "→ 0" in text
    assert "more than any ground gives" in text
    assert "leave the paper" not in " ".join(readable(SlopesWeighed(DEMO), start))


def test_ground_and_tractor_turn_together_and_the_plumb_line_stays_upright():
    for grade in (-30.0, 0.0, 25.0):
        text = still(SlopesWeighed(DEMO), {**start_of(DEMO.inputs), "part": 3.0, "grade": grade})
        turns = re.findall(r"matrix\(([-\d. ]+)\)", text)
        assert len(turns) == len(DEMO.sheets)
        for turn in turns:
            c, down, along, also = (float(one) for one in turn.split()[:4])
            assert (c, down) == (also, -along)
            assert along / c == pytest.approx(grade / 100, abs=2e-4)
        upright = [
            line
            for line in re.findall(r'class="st-line-ink" points="([\d. ,-]+)"', text)
            if len({point.partition(",")[0] for point in line.split()}) == 1
        ]
        assert len(upright) >= len(DEMO.sheets)


@pytest.mark.parametrize(
    ("said", "exact"),
    [((281, -363, 1), True), ((281, -363, 0), False), ((280, -363, 1), False)],
)
def test_an_exact_prediction_is_told_so(said, exact):
    names = ("front_said", "rear_said", "brakes_said")
    state = {**start_of(DEMO.inputs), "part": 1.0, **dict(zip(names, said, strict=True))}
    tree = SlopesWeighed(DEMO)(state).tree
    (line,) = [one for one in every_element(tree) if "and it is" in one.words]
    assert dict(line.attributes)["hidden"] == ("" if exact else "hidden")


@pytest.mark.parametrize("which", CASES)
def test_a_question_holds_nothing_that_answers(which):
    case = CASES[which]
    told = SlopesWeighed(case)._numbers()
    spoilers = [one.format(**told) for one in entry("slopes").part("spoilers").texts("texts")]
    answer = " ".join(readable(SlopesWeighed(case), {**start_of(case.inputs), "part": 3.0}))
    assert len(spoilers) > 6 and all(one in answer for one in spoilers)
    asked = as_json(recorded(SlopesGuess(case), case.guess_inputs))
    for spoiler in spoilers:
        assert not re.search(rf"(?<![\d.,]){re.escape(spoiler)}", asked), spoiler


def test_the_page_of_the_class_hour_asks_for_this_picture(pytestconfig):
    page = (pytestconfig.rootpath / "lessons" / "slopes.md").read_text("utf-8")
    assert "panels.slopes_stage()" in page


def test_nothing_is_called_safe_and_cautions_stand_in_both_acts():
    for act in ACTS:
        draw, inputs = parts(act, DEMO)
        text = " ".join(readable(draw, start_of(inputs)))
        assert not re.search(r"\bsafe(ly)?\b", text, re.IGNORECASE)
        assert all(line in text for line in stability.SLOPE_CAUTIONS)
        assert "On paper only" in text


def test_the_picture_says_all_its_numbers():
    state = {**start_of(DEMO.inputs), "part": 3.0}
    names = re.findall(r'aria-label="([^"]*wheelbase[^"]*)"', still(SlopesWeighed(DEMO), state))
    for one in ("65 in", "450 lb", "+281 lb", "−363 lb", "340 lb", "833 lb", "1.02", "0.20"):
        assert names and all(one in name for name in names)


def test_no_state_writes_what_is_no_number():
    for case in CASES.values():
        for end in ("low", "high"):
            state = {one.name: getattr(one, end) for one in case.inputs}
            assert not re.search(r"\bnan\b|\binf\b", still(SlopesWeighed(case), state))


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: replace(DEMO, grade=45.0), "from 1 to 30 percent"),
        (lambda: replace(DEMO, grade=0.0), "0 percent"),
        (
            lambda: replace(DEMO, tractor=Tractor("high", "65 in", 599, 798, "130 in")),
            "lifts an axle on a grade of 20 percent",
        ),
        (
            lambda: replace(DEMO, tractor=Tractor("low", "1.65 m", 600, 800)),
            "height of the low",
        ),
    ],
)
def test_other_machines_are_refused(make, words):
    with pytest.raises(Refusal, match=words):
        make()


def test_the_panel_asks_locks_keeps_and_goes_on(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = panels.slopes_stage(lesson="slopes")
    with pytest.raises(Refusal, match="all three"):
        _ = panel.result
    with pytest.raises(Refusal, match="more, same, less"):
        panel.lock_in(front="0 lb", rear="0 lb", brakes="stronger")
    assert "1.02" not in panel._shown_html
    panel.state |= {"front_said": 300.0, "rear_said": -400.0, "brakes_said": 1.0}
    with pytest.raises(Refusal, match="all three"):
        panel.did("locked", {})
    panel.state |= {f"{name}_known": 1.0 for name in panel.asked}
    panel.did("locked", {})
    panel.did("explained", {"seen": "The rear lost more."})
    panel.free()
    panel.move(grade=10, load=0)
    assert panel.result.all_need == pytest.approx(0.1)
    again = panels.slopes_stage(lesson="slopes")
    assert again.locked and again.said["brakes"] == 1.0 and again.explained
    assert again.said["front"] == pytest.approx(300 * KG)
    again.again()
    again.lock_in(front="+300 lb", rear="-400 lb", brakes="more")
    assert "1.02" in again._shown_html
