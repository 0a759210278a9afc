"""The loader that comes off in a notebook: said first, kept, and never answered too early."""

import json

import pytest

from leverarm import Refusal
from leverarm.machine import Attachment, Tractor
from leverarm.panels.base import shared
from leverarm.panels.strip_stage import strip_stage
from leverarm.stage.case import EXPLAINED, FREE, WEIGHED

POUND = 0.45359237


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


def press(stage, did, **state):
    """What the page tells when a button is pressed."""
    stage.told.value = json.dumps({"state": {**stage.state, **state}, "did": did})


def test_a_change_is_said_before_anything_is_read():
    stage = strip_stage()
    with pytest.raises(Refusal, match="lock in"):
        _ = stage.bare
    press(stage, "locked", front_said=0)
    assert not stage.locked and "front scale" in stage.error.value
    press(stage, "locked", front_said=-460, front_known=1)
    assert stage.locked and stage.said["front"] == pytest.approx(-460 * POUND)
    assert stage.bare.front_kg == pytest.approx(1320 * POUND)


@pytest.mark.parametrize("said", [{}, {"rear": "+46 lb"}, {"front": "-506 lb", "rear": "+46 lb"}])
def test_another_scale_is_refused(said):
    with pytest.raises(Refusal, match="a change of the front scale"):
        strip_stage().lock_in(**said)


def test_more_than_three_times_the_frame_is_refused():
    # 3 x 460 = 1,380
    with pytest.raises(Refusal, match="front change"):
        strip_stage().lock_in(front="-1400 lb")


def test_the_lesson_goes_on_where_it_was():
    stage = strip_stage(lesson="04")
    press(stage, "locked", front_said=-793, front_known=1)
    later = strip_stage(lesson="04")
    assert later.locked and later.state["part"] == WEIGHED
    assert later.state["front_said"] == pytest.approx(-793)
    later.did("explained", {"seen": "The frame took more."})
    again = strip_stage(lesson="04")
    assert again.seen == "The frame took more." and again.state["part"] == EXPLAINED
    again.again()
    assert not strip_stage(lesson="04").locked


def test_another_lessons_prediction_is_not_taken():
    strip_stage(lesson="04").did("again", {})
    stage = strip_stage(lesson="02")
    assert not stage.locked


def test_somebody_elses_machine_in_kilograms():
    before = shared.system
    shared.set(system="kg")
    try:
        pieces = (
            Attachment("loader arms", "90 kg", "0.6 m"),
            Attachment("grapple", "120 kg", "1.3 m"),
        )
        stage = strip_stage(Tractor("Ridge tractor", "1.41 m", "410 kg", "520 kg"), pieces)
        assert "loader arms" in stage._shown_html and "grapple" in stage._shown_html
        stage.lock_in(front="-100 kg")
        stage.explain("Less.")
        stage.free()
        assert stage.state["part"] == FREE and stage.explained
        # 410 + 90 (1 + 0.6/1.41) + 120 (1 + 1.3/1.41) = 410 + 128.3 + 230.6
        assert stage.loaded.front_kg == pytest.approx(768.9, abs=0.05)
    finally:
        shared.set(system=before)
