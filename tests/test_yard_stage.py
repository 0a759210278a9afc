"""The weigh day from above in a notebook: said first, kept, and never answered too early."""

import json

import pytest

from leverarm import Refusal
from leverarm.panels.base import shared
from leverarm.panels.yard_stage import yard_stage
from leverarm.stage.case import EXPLAINED, WEIGHED

POUND, INCH = 0.45359237, 0.0254


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


def press(stage, did, **more):
    """What the page tells when a button is pressed."""
    written = more.pop("written", {})
    stage.told.value = json.dumps(
        {"state": {**stage.state, **more}, "did": did, "written": written}
    )


def test_both_are_said_before_anything_is_told():
    stage = yard_stage()
    press(stage, "locked", weight_said=520, weight_known=1)
    assert not stage.locked and "a weight and an overhang" in stage.error.value
    assert "325" not in stage._shown_html
    press(stage, "locked", weight_said=520, weight_known=1, overhang_said=50, overhang_known=1)
    assert stage.locked and "325 lb" in stage._shown_html
    assert stage.said == pytest.approx({"weight": 520 * POUND, "overhang": 50 * INCH})


def test_what_was_said_is_kept_with_its_units():
    stage = yard_stage(lesson="05")
    press(stage, "locked", weight_said=715, weight_known=1, overhang_said=104, overhang_known=1)
    assert yard_stage(lesson="05")._part == WEIGHED
    press(stage, "explained", part=2.0, written={"seen": "One up, one down."})
    before = shared.system
    shared.set(system="kg")
    try:
        again = yard_stage(lesson="05")
        assert again._part == EXPLAINED and again.seen == "One up, one down."
        assert again.said == pytest.approx({"weight": 715 * POUND, "overhang": 104 * INCH})
        assert again.state["overhang_said"] == pytest.approx(104 * INCH)
    finally:
        shared.set(system=before)
    again.again()
    assert not yard_stage(lesson="05").locked


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"weight": "325 lb"}, "a weight and an overhang"),
        ({"weight": "325 lb", "overhang": "9 m"}, "overhang"),
        ({"weight": "-20 lb", "overhang": "39 in"}, "weight"),
    ],
)
def test_what_cannot_be_said_is_refused(said, why):
    stage = yard_stage()
    with pytest.raises(Refusal, match=why):
        stage.lock_in(**said)
    assert not stage.locked
