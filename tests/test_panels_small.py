"""The small panels of the lessons: ready, first slider."""

import sys

import pytest

from leverarm.panels.begin import NEEDED, first_slider, ready

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
