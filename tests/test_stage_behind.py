"""Ballast behind the tractor on the stage: the page as Python, loads worked by hand, refusals."""

import random

import pytest
from stage_in_page import readable, still, written_alike

from leverarm import panels
from leverarm.axles import predict
from leverarm.machine import Attachment, Tractor
from leverarm.quantities import Refusal
from leverarm.stage.case import HungCase, loads
from leverarm.stage.recording import as_json, recorded, start_of
from leverarm.stage.sheet import PROJECTOR
from leverarm.stage.tractor import Guess, Weighed

DEMO = Tractor("Plot tractor", "65 in", "1320 lb", "1760 lb")
LOADER = Attachment("loader frame", "460 lb", "6.5 in"), Attachment("bucket", "260 lb", "47 in")
BALLAST = Attachment("ballast", "520 lb", "-100 in")
# Somebody's own: nothing in front, a light front, and a spreader far behind that lifts it.
OWN = Tractor("Ridge tractor", "1.41 m", "310 kg", "520 kg")
SPREADER = Attachment("spreader", "380 kg", "-2.51 m")
CASES = {
    "lb": HungCase(DEMO, BALLAST, "lb", held=LOADER),
    "kg": HungCase(DEMO, BALLAST, "kg", held=LOADER),
    "own": HungCase(OWN, SPREADER, "kg"),
    "projector": HungCase(DEMO, BALLAST, "lb", (PROJECTOR,), LOADER),
}
ACTS = {"guess": (Guess, "guess_inputs"), "weighed": (Weighed, "inputs")}


@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_page_and_python_write_the_same(which, act, tmp_path):
    make, names = ACTS[act]
    case = CASES[which]
    draw, inputs = make(case), getattr(case, names)
    _, places = written_alike(tmp_path, draw, inputs, 200 if act == "weighed" else 60, which + act)
    assert places > (60 if act == "weighed" else 5)


def test_loads_are_those_of_the_package():
    rng, lifted = random.Random(9), 0
    for _ in range(300):
        front, rear = rng.uniform(200, 900), rng.uniform(200, 900)
        weight, past, wheelbase = rng.uniform(5, 600), rng.uniform(0, 2.5), rng.uniform(1.2, 2.4)
        on = predict(
            Tractor("t", wheelbase, front, rear), Attachment("b", weight, -wheelbase - past)
        )
        v = {"front": front, "rear": rear, "weight": weight, "overhang": past}
        got = loads({**v, "wheelbase": wheelbase}, True)
        assert got[:2] == pytest.approx((on.front_kg, on.rear_kg))
        assert (got[2] < 0) == (on.lift is not None)
        lifted += got[2] < 0
    assert 20 < lifted < 280


# By hand, about the rear axle: 520 lb x 35 in = 18,200 lb in; / 65 in = 280 lb off the front;
# rear 520 + 280 = 800. The loader before it: front 1320 + 506 + 448 = 2274, rear 1760 - 46 - 188.
def test_demo_reads_as_worked_by_hand():
    case = CASES["lb"]
    start = start_of(case.inputs)
    assert case.bare == {"front": 2274, "rear": 1526}
    assert loads(start, True)[:2] == pytest.approx((1994, 2326))
    shown = set(readable(Weighed(case), {**start, "part": 3.0}))
    assert {"−280 lb", "+800 lb", "+520 lb", "2,274 → 1,994", "1,526 → 2,326", "×1.54"} <= shown
    assert {"520 lb × 35 in", "= 280 lb × 65 in", "280 from", "the front"} <= shown


@pytest.mark.parametrize(("front", "rear", "exact"), [(-280, 800, True), (-280, 799, False)])
def test_an_exact_prediction_is_told_so(front, rear, exact):
    case = CASES["lb"]
    said = {"front_said": float(front), "rear_said": float(rear)}
    text = still(Weighed(case), {**start_of(case.inputs), **said, "part": 1.0})
    (line,) = [one for one in text.split("<p ") if "and it is." in one]
    assert ("hidden" not in line.split(">")[0]) == exact
    free = still(Weighed(case), {**start_of(case.inputs), **said, "part": 3.0})
    (line,) = [one for one in free.split("<p ") if "and it is." in one]
    assert "hidden" in line.split(">")[0]


# 448 lb x 65 in / 35 in = 832 lb takes off the front what the bucket adds there.
@pytest.mark.parametrize(("weight", "found"), [(832, 1.0), (830, 1.0), (825, 0.0), (845, 0.0)])
def test_what_cancels_the_bucket_is_marked_only_there(weight, found):
    case = CASES["lb"]
    draw = Weighed(case)
    state = {**start_of(case.inputs), "part": 3.0, "weight": float(weight)}
    assert float(draw(state).latches["canceled"]) == found
    assert float(draw({**state, "part": 2.0}).latches["canceled"]) == 0


def test_on_the_axle_line_the_front_keeps_its_load():
    case = CASES["lb"]
    state = {**start_of(case.inputs), "part": 3.0, "overhang": 0.0}
    shown = set(readable(Weighed(case), state))
    assert {"0 lb", "+520 lb", "2,274 → 2,274", "1,526 → 2,046"} <= shown


def test_a_front_that_lifts_is_said_and_drawn():
    case = CASES["own"]
    draw, start = Weighed(case), {**start_of(case.inputs), "part": 3.0}
    # 380 kg x 1.10 m / 1.41 m = 296 kg of 310: still down; 400 kg lift it.
    assert loads(start, True)[0] == pytest.approx(310 - 380 * 1.10 / 1.41)
    heavy = {**start, "weight": 500.0}
    assert "The front carries nothing" in still(draw, heavy)
    assert "The front carries nothing" not in still(draw, start)
    # 500 kg x 1.10 m = 550 kg m against 310 kg x 1.41 m = 437 kg m: the rear carries all of it.
    rear = case.bare["rear"]
    assert f"310 + {rear:g} + 500 = {310 + rear + 500:,.0f} kg" in still(draw, heavy)
    assert "so it gives up" in still(draw, start) and "so it gives up" not in still(draw, heavy)
    # The wheels have left their scale: the machine leans farther than its platforms have sunk.
    case_full = {**heavy, "overhang": 1.4}
    leans = [
        float(part.split("rotate(")[1].split()[0])
        for part in still(draw, case_full).split("transform=")
        if "rotate(" in part and "translate(" in part
    ]
    sunk_alone = [
        float(part.split("rotate(")[1].split()[0])
        for part in still(draw, {**start, "overhang": 1.05}).split("transform=")
        if "rotate(" in part and "translate(" in part
    ]
    assert min(leans) - min(sunk_alone) > 2 or max(leans) - max(sunk_alone) > 2


def test_first_act_holds_nothing_that_answers():
    for which, told in (
        ("lb", ("280", "800", "1,994", "2,326", "1,994", "2,326", "832", "448", "1.54")),
        ("kg", ("127 ", "363", "1.54")),
    ):
        case = CASES[which]
        data = recorded(Guess(case), case.guess_inputs)
        shown = " ".join(readable(Guess(case), start_of(case.guess_inputs)))
        assert set(data["inputs"]) <= {"front_said", "rear_said", "front_known", "rear_known"}
        assert [answer for answer in told if answer in shown] == []
        assert "tips the tractor" not in as_json(data)


@pytest.mark.parametrize(
    ("piece", "held", "match"),
    [
        (Attachment("ballast", "200 kg", "-1 m"), (), "ahead of the front axle or behind"),
        (BALLAST, (Attachment("bale", "1900 lb", "90 in"),), "lifts its rear axle"),
    ],
)
def test_what_cannot_be_shown_is_refused(piece, held, match):
    with pytest.raises(Refusal, match=match):
        HungCase(DEMO, piece, held=held)


def test_the_panel_locks_then_answers(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    stage = panels.ballast_stage(lesson="09")
    with pytest.raises(Refusal, match="lock in"):
        _ = stage.result
    assert "1,994" not in stage._shown_html
    stage.lock_in(front="-376 lb", rear="+520 lb")
    assert "1,994" in stage._shown_html and not stage.explained
    stage.explain("The rear gained more.")
    on = predict(DEMO, *LOADER, BALLAST)
    assert stage.result.front_kg == pytest.approx(on.front_kg, abs=0.5)
    assert stage.result.rear_kg == pytest.approx(on.rear_kg, abs=0.5)


def test_a_strange_machine_is_shown_in_either_unit():
    for system in ("lb", "kg"):
        panels.shared.set(system=system)
        stage = panels.ballast_stage(OWN, SPREADER, held=())
        stage.lock_in(front="-1 kg", rear="+1 kg")
        stage.free()
        text = stage._shown_html
        assert "spreader" in text and "nothing" in text
        on = predict(OWN, SPREADER)
        assert stage.result.front_kg == pytest.approx(
            on.front_kg, abs=6
        )  # the lengths are rounded as shown
    panels.shared.set(system="lb")
