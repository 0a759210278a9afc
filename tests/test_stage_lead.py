"""Front and rear tires that do not agree, on the stage: page as Python, turns worked by hand."""

import math
import re
from dataclasses import replace

import pytest
from stage_in_page import readable, still, written_alike

from leverarm import panels
from leverarm.driveline import Drive, demo_drive
from leverarm.quantities import Refusal
from leverarm.stage.elements import every_element
from leverarm.stage.lead import LeadGuess, LeadSeen
from leverarm.stage.lead_case import LeadCase
from leverarm.stage.recording import as_json, recorded, start_of
from leverarm.stage.sheet import PROJECTOR

DEMO = LeadCase(demo_drive())
# Somebody's own: a large tractor with a long wheelbase and little lead.
OWN = Drive(front="4.05 m", rear="5.30 m", ratio=1.32, wheelbase="2.81 m")
CASES = {
    "lb": DEMO,
    "kg": replace(DEMO, system="kg"),
    "own": LeadCase(OWN, squash_m=0.004, radius_m=4.6, system="kg"),
    "projector": replace(DEMO, sheets=(PROJECTOR,)),
}
ACTS = {"guess": LeadGuess, "seen": LeadSeen}


@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_page_and_python_write_the_same(which, act, tmp_path):
    draw = ACTS[act](CASES[which])
    _, places = written_alike(
        tmp_path, draw, draw.inputs, 200 if act == "seen" else 40, which + act
    )
    assert places > (40 if act == "seen" else 5)


@pytest.mark.parametrize("act", ACTS)
def test_markup_is_the_picture_at_the_start(act):
    draw = ACTS[act](DEMO)
    markup = re.sub(r' data-b="\d+"', "", recorded(draw, draw.inputs)["markup"])
    assert markup == still(draw, start_of(draw.inputs))


# Worked by hand in meters. 1.39 x 2.04 = 2.8356, and 2.8356 / 2.75 = 1.0311: lead 3.1 percent.
# 10 mm of squash take 2 pi x 10 / 3 = 20.9 mm off the front tire, 2 mm give 4.2 mm to the rear:
# 1.39 x 2.0191 / 2.7542 = 1.0190. In a turn of 2.5 m with a wheelbase of 1.651 m the front goes
# sqrt(2.5^2 + 1.651^2) = 2.9960 m out, 19.8 percent more than 2.5, so 3.1 - 19.8 = -16.7 percent of
# the rear's path, and 16.7 / 1.198 = 14.0 of its own. Nothing slips where 1.0311 = sqrt(1 +
# (1.651 / R)^2): R = 1.651 / sqrt(1.0311^2 - 1) = 6.57 m = 21.5 ft; with 1.0190, 8.43 m = 27.6 ft.
@pytest.mark.parametrize(
    ("radius_m", "squash_mm", "name", "wanted"),
    [
        (2.5, 10, "lead_off", 3.11),
        (2.5, 10, "lead_on", 1.90),
        (2.5, 0, "lead_on", 3.11),
        (2.5, 10, "short_off", -16.7),
        (2.5, 10, "short_on", -17.9),
        (2.5, 10, "own_off", -14.0),
        (6.57, 10, "short_off", 0.0),
        (8.43, 10, "short_on", 0.0),
        (2.5, 10, "way", 3.296),
    ],
)
def test_turns_worked_by_hand(radius_m, squash_mm, name, wanted):
    case = CASES["kg"]
    assert getattr(case.turn(radius_m, squash_mm), name) == pytest.approx(wanted, abs=0.05)


def test_a_track_rolled_out_on_paper_is_the_track():
    # Roll 100 rear turns about the center: the gears turn the front wheels, their rubber lays down.
    case, turns = CASES["kg"], 100
    one = case.turn(3.0, 0)
    laid = turns * 1.39 * 2.04
    angle = turns * 2.75 / 3.0
    assert turns * one.off == pytest.approx(laid)
    assert turns * one.way == pytest.approx(angle * math.hypot(3.0, demo_drive().wheelbase_m))


@pytest.mark.parametrize(
    ("state", "wanted"),
    [
        (
            {"part": 1.0},
            {
                "108.3 in",
                "111.6 in, lead 3.1 %",
                "110.3 in, lead 1.9 %",
                "129.8 in: 16.7 % of the rear's path short",
                "14.0 % of its own way",
                "8.2 ft",
                "9.8 ft",
            },
        ),
        ({"part": 3.0, "radius": 21.5}, {"111.7 in: nothing slips", "fits 21.5 ft, off"}),
        ({"part": 3.0, "radius": 27.6}, {"fits 27.6 ft, on", "27.6 ft"}),
        ({"part": 2.0, "lead_said": 1, "turn_said": 0}, {"you said: up", "you said: fitting"}),
    ],
)
def test_demo_reads_as_worked_by_hand(state, wanted):
    draw = LeadSeen(DEMO)
    assert wanted <= set(readable(draw, {**start_of(draw.inputs), **state}))


@pytest.mark.parametrize(
    ("radius", "off", "on"), [(8.2, 0, 0), (21.5, 1, 0), (21.7, 0, 0), (27.6, 0, 1), (27.3, 0, 0)]
)
def test_a_fitting_turn_is_found_once_it_is_free(radius, off, on):
    draw = LeadSeen(DEMO)
    for part, free in ((2.0, 0), (3.0, 1)):
        state = {**start_of(draw.inputs), "part": part, "radius": radius}
        met = draw(state).latches
        assert [float(met["found_off"]), float(met["found_on"])] == [free * off, free * on]


@pytest.mark.parametrize(
    ("lead", "turn", "exact"), [(-1, -1, True), (-1, 0, False), (1, -1, False)]
)
def test_an_exact_prediction_is_told_so(lead, turn, exact):
    draw = LeadSeen(DEMO)
    state = {**start_of(draw.inputs), "part": 1.0, "lead_said": lead, "turn_said": turn}
    line = [one for one in every_element(draw(state).tree) if "and it is" in one.words]
    assert [dict(one.attributes)["hidden"] for one in line] == ["" if exact else "hidden"]


def test_counts_of_the_explanation_give_the_lead():
    text = " ".join(readable(LeadSeen(DEMO), start_of(LeadSeen(DEMO).inputs)))
    engaged, free, lead = re.search(r"([\d.]+) ÷ ([\d.]+) − 1 = ([\d.]+) %", text).groups()
    assert 100 * (float(engaged) / float(free) - 1) == pytest.approx(float(lead), abs=0.06)


def test_a_question_holds_nothing_that_answers():
    draw = LeadGuess(DEMO)
    data = recorded(draw, draw.inputs)
    assert set(data["start"]) == {"lead_said", "turn_said", "lead_known", "turn_known"}
    shown = " ".join(readable(draw, start_of(draw.inputs)))
    words = set(re.findall(r"\d[\d,.]*", shown))
    assert {"3.1", "8.2", "108.3", "111.6"} <= words
    assert not words & {"1.9", "16.7", "14.0", "129.8", "9.8", "21.5", "27.6", "19.8"}
    assert not re.search(r"flatten|longer|short|you said", as_json(data))


def test_a_question_is_drawn_without_turn_or_squash(monkeypatch):
    def not_before_the_lock(*_):
        raise AssertionError("worked out before the lock")

    for name in ("turn", "squashed", "fits_m"):
        monkeypatch.setattr(LeadCase, name, not_before_the_lock)
    draw = LeadGuess(DEMO)
    recorded(draw, draw.inputs)


def test_no_state_writes_what_is_no_number():
    for case in CASES.values():
        draw = LeadSeen(case)
        for end in ("low", "high"):
            text = still(draw, {one.name: getattr(one, end) for one in draw.inputs})
            assert not re.search(r"\bnan\b|\binf\b", text)


@pytest.mark.parametrize(
    ("drive", "more", "words"),
    [
        (Drive("1.95 m", "2.75 m", 1.39, "1.65 m"), {}, "lead of -1.4 percent"),
        (demo_drive(), {"radius_m": 0.8}, "from 1.5 to 11.9 m"),
        (demo_drive(), {"radius_m": 40.0}, "from 1.5 to 11.9 m"),
    ],
)
def test_other_machines_are_refused(drive, more, words):
    with pytest.raises(Refusal, match=words):
        LeadCase(drive, **more)


def test_the_panel_asks_locks_and_goes_on(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    panel = panels.lead_stage(lesson="11")
    with pytest.raises(Refusal, match="both answers"):
        _ = panel.result
    with pytest.raises(Refusal, match="up, same, down"):
        panel.lock_in(lead="sideways", turn="dragged")
    assert "16.7" not in panel._shown_html
    panel.lock_in(lead="down", turn="dragged")
    panel.explain("It was short.")
    panel.free()
    panel.move(radius=27.6)
    assert abs(panel.result.short_on) < 0.05
    assert "16.7" in panel._shown_html and panel.said == {"lead": -1.0, "turn": -1.0}
