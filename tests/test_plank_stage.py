"""The plank in a notebook: one act after another, own readings, nothing believed, nothing lost."""

import json

import pytest

from leverarm.panels.lesson_work import WORK_FILE
from leverarm.panels.plank_stage import BOXES, own_plank, plank_stage
from leverarm.quantities import Refusal

OWN = {"span": "50 in", "left": "21 lb", "right": "35 lb", "jug": "20 lb"}


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def through(stage, past=("+30 lb", "-6 lb")):
    stage.lock_in("+24 lb", "0 lb")
    stage.lock_in("+12 lb", "+12 lb")
    stage.did("easy_read", {})
    stage.lock_in(*past)
    return stage


def test_each_place_is_said_before_it_is_read():
    stage = plank_stage(lesson="01")
    shown = [stage.at]
    stage.lock_in("+24 lb", "0 lb")
    shown.append(stage.at)
    stage.lock_in("+12 lb", "+12 lb")
    shown.append(stage.at)
    with pytest.raises(Refusal, match="go on first"):
        stage.lock_in("+1 lb", "+1 lb")
    stage.did("easy_read", {})
    shown.append(stage.at)
    stage.lock_in("+30 lb", "-6 lb")
    assert [*shown, stage.at] == ["above", "halfway", "easy", "past", "weighed"]
    assert not stage.explained
    stage.explain("The left gained more.")
    assert stage.explained


# 24 lb x 12 in = 288 lb in; / 48 in = 6 lb: left 19 + 30 = 49, right 39 - 6 = 33.
def test_the_answer_is_not_there_before_the_lock():
    stage = plank_stage()
    for act in ("above", "halfway", "easy", "past"):
        assert stage.at == act
        for answer in ("19 → 49", "39 → 33", "tips the plank"):
            assert answer not in stage._shown_html
        if act == "easy":
            stage.did("easy_read", {})
        else:
            stage.lock_in("+1 lb", "+1 lb")
    assert "19 → 49" in stage._shown_html and "39 → 33" in stage._shown_html


def test_a_page_that_says_one_change_goes_nowhere():
    stage = plank_stage()
    state = dict(stage.state) | {"above_left_known": 1.0}
    stage.told.value = json.dumps({"state": state, "did": "locked"})
    assert stage.at == "above" and "both" in stage.error.value


def test_a_lesson_goes_on_where_the_reader_was():
    stage = through(plank_stage(lesson="01"))
    again = plank_stage(lesson="01")
    assert again.at == "weighed" and again.said == pytest.approx(stage.said)
    again.again()
    assert plank_stage(lesson="01").at == "past"


@pytest.mark.parametrize(
    "held",
    [
        {"at": "weighed"},
        {"at": "nowhere", "said": {"left_said": 1}},
        {"at": "past", "said": ["x"]},
        {"at": ["past"], "said": {}},
        {"plank": {"span": "x", "left": "x", "right": "x", "jug": "x"}},
        {"plank": {"span": "48 in"}},
    ],
)
def test_a_kept_file_is_not_believed(folder, held):
    (folder / WORK_FILE).write_text(json.dumps({"01": held}), "utf-8")
    stage = plank_stage(lesson="01")
    assert stage.at == "above" or "x" in stage.error.value


def test_own_readings_are_shown_and_start_over():
    stage = through(plank_stage(lesson="01"))
    boxes = own_plank(stage)
    boxes.use(**OWN)
    assert stage.at == "above" and stage.said == {} and boxes.error.value == ""
    assert stage.case.jug_kg == pytest.approx(20 * 0.45359237)
    assert plank_stage(lesson="01").case.span_m == pytest.approx(50 * 0.0254)


@pytest.mark.parametrize("name", BOXES)
@pytest.mark.parametrize("text", ["", "heavy", "-5", "1e9"])
def test_a_wrong_reading_is_refused_and_changes_nothing(name, text):
    stage = plank_stage()
    before = stage.case
    boxes = own_plank(stage)
    for one, told in {**OWN, name: text}.items():
        boxes.boxes[one].value = told
    boxes.use_button.click()
    assert boxes.error.value and stage.case == before


def test_a_bare_number_is_in_the_unit_shown():
    stage = plank_stage()
    boxes = own_plank(stage)
    boxes.set(system="kg")
    boxes.use(span="1.2", left="9", right="16", jug="10")
    assert stage.case.left_kg == 9 and stage.case.span_m == 1.2
    boxes.set(system="lb")
