"""A picture that asks first, in a notebook: what is kept, refused, and sent after the lock."""

import json

import pytest

from leverarm import panels
from leverarm.panels.lesson_work import WORK_FILE, kept_work
from leverarm.quantities import Refusal

SAID = {"pressure": "+5 psi", "reach": "deeper"}


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_what_answers_is_sent_only_after_the_lock():
    panel = panels.tire_stage()
    with pytest.raises(Refusal, match="both answers"):
        _ = panel.result
    assert "29.7 psi" not in panel._shown_html and "you said" not in panel._shown_html
    panel.lock_in(**SAID)
    assert "29.7 psi" in panel._shown_html and not panel.explained


def test_acts_follow_each_other():
    panel, opened = panels.tire_stage(), []
    panel.when_explained(lambda: opened.append(True))
    with pytest.raises(Refusal, match="sentence after the lock"):
        panel.explain("Too early.")
    with pytest.raises(Refusal, match="lock in"):
        panel.free()
    panel.lock_in(**SAID)
    with pytest.raises(Refusal, match="sentence after the lock"):
        panel.explain("  ")
    assert not opened
    panel.explain("The patch grew.")
    panel.free()
    assert opened == [True]
    before = panel.result.pressure_kpa
    panel.move(gauge=15)
    assert panel.result.pressure_kpa < 0.8 * before


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"pressure": "+5 psi"}, "pressure and reach"),
        ({"pressure": "+5 psi", "reach": "downward"}, "deeper, same, shallower"),
        ({"pressure": "+5 lb", "reach": "deeper"}, "pressure"),
        ({"pressure": "much", "reach": "same"}, "pressure"),
    ],
)
def test_other_predictions_are_refused(said, words):
    panel = panels.tire_stage()
    with pytest.raises(Refusal, match=words):
        panel.lock_in(**said)
    assert not panel.locked


def test_a_page_that_said_half_is_refused():
    panel = panels.tire_stage()
    state = {**panel.state, "pressure_known": 1.0}
    panel.told.value = json.dumps({"state": state, "did": "locked"})
    assert not panel.locked and "both" in panel.error.value


def test_the_picture_goes_on_where_the_reader_was():
    panel = panels.tire_stage(lesson="10")
    known = {"pressure_said": 5.0, "pressure_known": 1.0, "reach_said": 1.0, "reach_known": 1.0}
    panel.told.value = json.dumps({"state": {**panel.state, **known}, "did": "locked"})
    assert kept_work("10")["pressure_said_kpa"] == pytest.approx(5 * 6.894757)
    again = panels.tire_stage(lesson="10")
    assert again.locked and not again.explained
    assert again.said["pressure"] == pytest.approx(panel.said["pressure"])
    again.did("explained", {"seen": "The patch grew."})
    assert panels.tire_stage(lesson="10").explained


@pytest.mark.parametrize(
    "said",
    [
        {},
        {"pressure_said_kpa": 3},
        {"pressure_said_kpa": "x", "reach_said": 1},
        {"pressure_said_kpa": float("nan"), "reach_said": 1},
    ],
)
def test_a_spoiled_prediction_is_asked_again(said, folder):
    (folder / WORK_FILE).write_text(json.dumps({"10": {**said, "seen": "x"}}), "utf-8")
    panel = panels.tire_stage(lesson="10")
    assert not panel.locked and "29.7 psi" not in panel._shown_html


def test_a_new_prediction_takes_the_answer_away():
    panel = panels.tire_stage()
    panel.lock_in(**SAID)
    panel.again()
    assert not panel.locked and "29.7 psi" not in panel._shown_html
