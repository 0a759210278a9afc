"""The small panels of the lessons: ready, first slider, readings, ask."""

import sys

import pytest
from worked import worked_tractor

from leverarm import Refusal
from leverarm.panels.base import shared
from leverarm.panels.begin import NEEDED, first_slider, ready
from leverarm.panels.gate import ask
from leverarm.panels.overhang import readings

pytestmark = pytest.mark.usefixtures("metric")


def test_ready_has_a_line_for_everything_needed():
    lines = ready().value
    assert lines.count("<li>") == len(NEEDED) + 2 and "not ready" not in lines


def test_ready_says_what_is_missing(monkeypatch):
    # The package names the function like its module, so the module is asked for by its full name.
    monkeypatch.setattr(sys.modules["leverarm.panels.begin"], "NEEDED", ("no_such_package",))
    assert "<b>not ready</b>: no_such_package is missing" in ready().value


def test_the_first_slider_answers():
    panel = first_slider()
    assert "does not fit" in panel.sentence.value
    panel.numbers["door"].slider.value = 2.0
    assert "fits through" in panel.sentence.value and "2.00 m" in panel.sentence.value


def test_readings_show_bare_and_each_overhang_in_both_systems():
    panel = readings(worked_tractor(), "100 kg", ("0 m", "1.65 m"))
    for number in ("600.0", "700.0", "800.0"):
        assert number in panel.table.value
    shared.set(system="lb")
    assert "1,543" in panel.table.value


def test_nothing_is_shown_before_a_prediction_stands():
    panel = ask("Where?", 0.943, "length")
    assert "0.94" not in panel.reply.value
    panel.box.value = "0,8"
    panel.lock_button.click()
    assert panel.prediction == 0.8 and "0.94" in panel.reply.value and panel.box.disabled


@pytest.mark.parametrize("typed", ["", "front", "3 kg", "nan"])
def test_a_prediction_that_is_no_number_is_refused_and_nothing_shown(typed):
    panel = ask("Where?", 0.943, "length")
    panel.box.value = typed
    panel.lock_button.click()
    assert (
        "your prediction" in panel.error.value
        and "0.94" not in panel.reply.value
        and not panel.box.disabled
    )
    with pytest.raises(Refusal):
        panel.lock_in(typed)


def test_a_bare_prediction_is_meant_in_the_unit_shown():
    shared.set(system="lb")
    panel = ask("Front change", 100.0)
    panel.lock_in("220")
    assert panel.prediction == pytest.approx(99.79, abs=0.01)
