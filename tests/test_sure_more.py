"""More about trust: the numbers of each topic, against tables and by hand."""

import re

import pytest

from leverarm import panels
from leverarm.panels.base import shared


@pytest.fixture(params=["lb", "kg"])
def panel(request):
    before = shared.system
    shared.set(system=request.param)
    yield panels.sure_more()
    shared.set(system=before)


def chosen(panel, topic):
    panel.topic.value = topic
    words = re.sub(r"<svg.*?</svg>", " ", panel.out.value, flags=re.DOTALL)
    return re.sub(r"<[^>]+>", " ", words)


def test_every_topic_is_told_without_a_refusal(panel):
    before = ""
    for topic in ("causes", "shared", "help", "limit", "few"):
        text = chosen(panel, topic)
        assert text != before
        before = text
        assert len(text) > 300 and "{" not in text
        assert panel.system in text or topic in ("causes", "help", "limit")


def test_few_readings_use_the_table_of_student(panel):
    # Two-sided 95 percent of Student's t for 1, 2, 4 degrees of freedom: 12.706, 4.303, 2.776
    # (any statistics handbook). s of 1322, 1318, 1320, 1324, 1320 is 2.28 by hand.
    text = chosen(panel, "few")
    for k in ("12.7", "4.3", "2.8"):
        assert f" {k} " in text
    if panel.system == "lb":
        assert "typically" in text and "2.3 lb" in text
        assert "± 2.8 lb" in text  # 2.776 x 2.28/sqrt 5 = 2.83


def test_a_shared_error_leaves_the_overhang_alone(panel):
    text = chosen(panel, "shared")
    assert len(re.findall(r"± 0(?:\.0+)? (?:in|m)\b", text)) == 2
    # A zero drops out of the difference; of one percent of 257 lb, taken as limits, 95 percent of
    # the values lie within 0.95 x 2.57 = 2.44.
    assert re.search(r"zero[^±]*± 0(?:\.0+)? (?:lb|kg)", text)
    assert {"lb": "± 2.4 lb", "kg": "± 1.1 kg"}[panel.system] in text


def test_the_rear_matters_most_and_the_draws_are_lopsided(panel):
    assert "rear" in chosen(panel, "causes").split("percent of u²")[1][:40]
    assert re.search(r"L\s?\*|dR", chosen(panel, "causes"))
    text = chosen(panel, "limit")
    assert re.search(r"Histogram of \d+ draws", panel.out.value)
    found = re.findall(r"(\d+(?:\.\d+)?) (?:in|m)\b", text)[:4]
    low, high, drawn_low, drawn_high = (float(one) for one in found)
    middle = (low + high) / 2
    assert drawn_high - middle > 1.2 * (middle - drawn_low)
