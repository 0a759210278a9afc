"""What a reader wrote in a lesson is kept beside the notebook, and nothing is lost."""

import json

import pytest

from leverarm.panels.exercise import exercise
from leverarm.panels.lesson_work import MOST_BYTES, WORK_FILE, keep_work, kept_work
from leverarm.panels.on_stage import after_why, told_by_page
from leverarm.panels.tractor_stage import tractor_stage
from leverarm.panels.written import exit_question
from leverarm.quantities import Refusal
from leverarm.stage.recording import Input


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_work_is_kept_by_lesson(folder):
    assert kept_work("02") == {}
    keep_work("02", {"exit": "one"})
    keep_work("03", {"exit": "two"})
    keep_work("02", {"seen": "three"})
    assert kept_work("02") == {"exit": "one", "seen": "three"}
    assert kept_work("03") == {"exit": "two"}


@pytest.mark.parametrize(
    "held",
    [b"not json", b"[1, 2]", b"\xff\xfe", b"[" * 100_000, b"x" * (MOST_BYTES + 1)],
    ids=["words", "list", "bytes", "deep", "long"],
)
def test_a_spoiled_file_is_left_as_it_is(folder, held):
    (folder / WORK_FILE).write_bytes(held)
    with pytest.raises(Refusal, match="move the file away"):
        keep_work("02", {"exit": "one"})
    assert (folder / WORK_FILE).read_bytes() == held
    panel = exit_question("02")
    panel.write("The tractor gets lighter by the bucket.")
    assert "move the file away" in panel.error.value
    assert panel.sentence and "To compare" in panel.reply.value


@pytest.mark.parametrize("kept", [3, ["a"], None, {"b": 1}])
def test_what_is_kept_under_a_name_is_checked(folder, kept):
    (folder / WORK_FILE).write_text(
        json.dumps({"02": {"exit": kept, "seen": kept, "front_said_kg": kept, "rear_said_kg": "x"}})
    )
    assert exit_question("02").sentence == ""
    assert not tractor_stage(lesson="02").locked


def test_a_sentence_comes_first_and_comes_back():
    panel = exit_question("02")
    panel.compare()
    assert "write it first" in panel.error.value and not panel.reply.value
    panel.write("  The front loses more.  ")
    assert panel.error.value == "" and "To compare" in panel.reply.value
    again = exit_question("02")
    assert again.sentence == again.box.value == "The front loses more."


def test_numbers_of_the_exit_question_follow_the_units():
    panel = exit_question("02")
    panel.set(system="lb")
    assert "448 lb" in panel.question.value
    panel.set(system="kg")
    assert "203 kg" in panel.question.value
    panel.set(system="lb")


def test_a_lesson_goes_on_where_the_reader_was():
    stage = tractor_stage(lesson="02")
    assert not stage.locked
    with pytest.raises(Refusal, match="lock in"):
        _ = stage.result
    stage.told.value = json.dumps(
        {
            "state": {"front_said": 260, "rear_said": -50, "front_known": 1, "rear_known": 1},
            "did": "locked",
        }
    )
    assert stage.locked
    later = tractor_stage(lesson="02")
    assert later.locked and later.said == pytest.approx(stage.said) and not later.explained
    later.did("explained", {"seen": "The front gained more."})
    assert tractor_stage(lesson="02").seen == "The front gained more."
    later.again()
    assert not tractor_stage(lesson="02").locked


@pytest.mark.parametrize(
    "state",
    [
        {"front_said": 260, "rear_said": -50, "front_known": 1, "rear_known": 0},
        {"front_said": 260, "rear_said": -50, "front_known": 0, "rear_known": 1},
    ],
)
def test_one_change_is_no_prediction(state):
    stage = tractor_stage()
    stage.told.value = json.dumps({"state": state, "did": "locked"})
    assert not stage.locked and "both" in stage.error.value


def test_what_the_page_sent_of_an_act_gone_by_is_passed_over():
    """A second press of the lock, or a move under way, reaches Python after the new act."""
    stage = tractor_stage()
    state = {"front_said": 260, "rear_said": -50, "front_known": 1, "rear_known": 1}
    act = stage._act
    for count in (1, 2):
        stage.told.value = json.dumps({"state": state, "did": "locked", "act": act, "count": count})
    assert stage.locked and stage.error.value == "" and stage.state["part"] == 0
    stage.told.value = json.dumps({"state": state, "act": stage._act})
    assert "message from the picture" in stage.error.value


INPUTS = (Input("x", 0, 10, 5), Input("y", -1, 1, 0))


@pytest.mark.parametrize(
    "text",
    [
        "",
        "x",
        "[]",
        "3",
        '{"state": 3}',
        '{"state": {"x": 5}}',
        '{"state": {"x": "5", "y": 0}}',
        '{"state": {"x": true, "y": 0}}',
        '{"state": {"x": 11, "y": 0}}',
        '{"state": {"x": NaN, "y": 0}}',
        '{"state": {"x": Infinity, "y": 0}}',
        '{"state": {"x": 1e400, "y": 0}}',
        '{"state": {"x": 5, "y": -1.5}}',
        '{"state": ' + "9" * 30_000 + "}",
    ],
)
def test_what_no_picture_sends_is_refused(text):
    with pytest.raises(Refusal, match="message from the picture"):
        told_by_page(text, INPUTS)


def test_what_a_picture_sends_is_read():
    state, rest = told_by_page('{"state": {"x": 5, "y": 1, "z": 9}, "did": "locked"}', INPUTS)
    assert state == {"x": 5.0, "y": 1.0} and rest == {"did": "locked"}


def test_what_stands_below_opens_after_why():
    stage = tractor_stage()
    below = after_why(stage, exit_question, "02")
    assert below.panel is None and "opens when" in below.note.value
    stage.lock_in(front="+448 lb", rear="-188 lb")
    assert below.panel is None
    stage.explain("The front gained more.")
    assert below.panel is not None and below.note.layout.display == "none"
    assert after_why(stage, exit_question, "02").panel is not None


def shut_exercise(kind="rear_change"):
    stage = tractor_stage(lesson="02")
    opened = after_why(stage, exercise, kind)
    if not stage.locked:
        stage.lock_in(front="+448 lb", rear="-188 lb")
    stage.explain("The front gained more.")
    return opened.panel


def test_tries_come_back_with_their_numbers(folder):
    first = shut_exercise()
    first.answer("12")  # of the first numbers
    first.new()
    for text in ("1", "what?", first.problem.answer):
        first.answer(f"{text} lb" if text != "what?" else text)
    again = shut_exercise()
    assert again.problem.statement == first.problem.statement
    assert [text for text, _ in again.attempts] == [text for text, _ in first.attempts]
    assert again.verdict.right and again.reply.value == first.reply.value
    # Nothing of it is kept where no lesson is told, and other numbers keep theirs.
    assert not exercise("rear_change").attempts and not shut_exercise("front_gain").attempts


@pytest.mark.parametrize(
    "kept",
    [
        "x",
        {"seed": "1", "round": 0, "system": "lb", "tries": [None, 3, ["a"], ""]},
        {"seed": "1", "round": -4, "system": "lb", "tries": ["1 lb"]},
        {"seed": "1", "round": 10**9, "system": "lb", "tries": ["1 lb"]},
        {"seed": "2", "round": 0, "system": "lb", "tries": ["1 lb"]},
        {"seed": "1", "round": 0, "system": "kg", "tries": ["1 kg"]},
        {"seed": "1", "round": 0, "system": "lb", "tries": "1 lb"},
    ],
)
def test_tries_of_other_numbers_or_of_no_kind_are_left_alone(folder, kept):
    (folder / WORK_FILE).write_text(json.dumps({"02": {"tried_rear_change": kept}}))
    panel = shut_exercise()
    assert panel.attempts == [] and panel.error.value == "" and panel.reply.value == ""


def test_an_option_that_is_not_offered_is_no_answer(folder):
    tried = {"seed": "1", "round": 0, "system": "lb", "tries": ["Z", "<b>", "A" * 3000]}
    (folder / WORK_FILE).write_text(json.dumps({"02": {"tried_resting_bucket": tried}}))
    panel = shut_exercise("resting_bucket")
    assert panel.attempts == [] and panel.reply.value == "" and panel.field.text == ""
