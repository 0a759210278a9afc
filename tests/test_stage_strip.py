"""A loader that comes off piece by piece: the page as Python, loads worked by hand."""

import re

import pytest
from stage_in_page import readable, still, written_alike

from leverarm import predict, statics
from leverarm.machine import Attachment, Tractor
from leverarm.stage.recording import as_json, recorded, start_of
from leverarm.stage.sheet import PROJECTOR
from leverarm.stage.strip import StripGuess, StripWeighed
from leverarm.stage.strip_case import StripCase, strip_loads

DEMO = Tractor("Plot tractor", "65 in", "1320 lb", "1760 lb")
PIECES = Attachment("loader frame", "460 lb", "6.5 in"), Attachment("bucket", "260 lb", "47 in")
# Somebody's own: a long light frame, a heavy grapple, and a rear axle that lifts.
OWN = Tractor("Ridge tractor", "1.41 m", "410 kg", "320 kg")
OTHERS = Attachment("loader arms", "90 kg", "0.6 m"), Attachment("grapple", "420 kg", "1.3 m")
CASES = {
    "lb": StripCase(DEMO, *PIECES),
    "kg": StripCase(DEMO, *PIECES, "kg"),
    "own": StripCase(OWN, *OTHERS, "kg"),
    "projector": StripCase(DEMO, *PIECES, sheets=(PROJECTOR,)),
}
ACTS = {"guess": StripGuess, "weighed": StripWeighed}


@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_page_and_python_write_the_same(which, act, tmp_path):
    draw = ACTS[act](CASES[which])
    _, places = written_alike(
        tmp_path, draw, draw.inputs, 300 if act == "weighed" else 60, which + act
    )
    assert places > (60 if act == "weighed" else 5)


@pytest.mark.parametrize("act", ACTS)
def test_markup_is_the_picture_at_the_start(act):
    draw = ACTS[act](CASES["lb"])
    markup = re.sub(r' data-b="\d+"', "", recorded(draw, draw.inputs)["markup"])
    assert markup == still(draw, start_of(draw.inputs))


# Worked by hand. Frame 460 x 6.5 = 2,990 lb in; / 65 = 46, so front 460 + 46 = 506.
# Bucket 260 x 47 = 12,220 lb in; / 65 = 188, so front 260 + 188 = 448.
@pytest.mark.parametrize(
    ("frame", "bucket", "front", "rear"),
    [
        (1, 1, 2274, 1526),
        (1, 0, 1826, 1714),
        (0, 1, 1768, 1572),
        (0, 0, 1320, 1760),
        (0.5, 0, 1573, 1737),
    ],
)
def test_loads_worked_by_hand(frame, bucket, front, rear):
    assert strip_loads(CASES["lb"], frame, bucket) == pytest.approx((front, rear))


def test_an_axle_that_would_be_pulled_up_carries_nothing():
    case = CASES["own"]
    on = predict(OWN, *OTHERS)
    assert on.lift is not None
    # Pieces and tractor are rounded to whole kilograms and centimeters as they are shown.
    assert strip_loads(case, 1.0, 1.0) == pytest.approx((on.front_kg, on.rear_kg), abs=1.5)


def test_a_lifted_axle_is_said():
    for which, lifted in (("lb", False), ("own", True)):
        draw = StripWeighed(CASES[which])
        state = {**start_of(draw.inputs), "part": 3.0, "frame_up": 0.0, "bucket_up": 0.0}
        shown = " ".join(readable(draw, state))
        assert ("The rear carries nothing" in shown) == lifted


def test_a_question_holds_nothing_that_answers():
    draw = StripGuess(CASES["lb"])
    data = recorded(draw, draw.inputs)
    assert set(data["start"]) == {"front_said", "front_known"}
    shown = " ".join(readable(draw, start_of(draw.inputs)))
    words = set(re.findall(r"\d[\d,.]*", shown))
    assert {"1,826", "1,714", "460", "448"} <= words
    assert not words & {"506", "46", "1,320", "1,760", "1.1", "1.10", "1.100"}
    # Nor does a place of the frame in the column: only readings before it came off are drawn.
    bare = 332 + 1320 / CASES["lb"].full * 212
    assert f"{bare:.1f}" not in as_json(data)
    assert "lever" not in as_json(data)


def test_a_question_is_drawn_without_the_share_of_a_piece(monkeypatch):
    draw = StripGuess(CASES["lb"])

    def not_before_the_lock(*_):
        raise AssertionError("a share is worked out before the lock")

    for name in ("front_gain", "rear_change", "amplification"):
        monkeypatch.setattr(statics, name, not_before_the_lock)
    monkeypatch.setattr(StripCase, "full", 2500)
    recorded(draw, draw.inputs)


@pytest.mark.parametrize(
    ("state", "wanted"),
    [
        ({"part": 1.0}, {"−506 lb", "+46 lb", "−460 lb", "1,826 → 1,320", "1,714 → 1,760"}),
        ({"part": 3.0}, {"−954 lb", "+234 lb", "−720 lb", "2,274 → 1,320", "1,526 → 1,760"}),
        ({"part": 3.0, "frame_up": 0.0}, {"−448 lb", "+188 lb", "2,274 → 1,826"}),
        ({"part": 3.0, "bucket_up": 0.0}, {"−506 lb", "+46 lb", "2,274 → 1,768"}),
        ({"part": 2.0}, {"460 × 1.100 = 506", "260 × 1.723 = 448", "bucket 448"}),
    ],
)
def test_demo_reads_as_worked_by_hand(state, wanted):
    draw = StripWeighed(CASES["lb"])
    shown = set(readable(draw, {**start_of(draw.inputs), **state}))
    assert wanted <= shown


def test_percentages_say_of_what():
    # 448 of 2,274 with everything on, of 1,320 bare, of 954 that the loader adds.
    draw = StripWeighed(CASES["lb"])
    text = " ".join(readable(draw, start_of(draw.inputs)))
    assert "20 percent of the reading with the loader on" in text
    assert "34 percent of the reading without it" in text
    assert "47 percent of what the loader adds" in text


def test_heavy_close_in_is_said_only_where_it_is_so():
    for which, close in (("lb", True), ("own", False)):
        draw = StripWeighed(CASES[which])
        shown = " ".join(readable(draw, {**start_of(draw.inputs), "part": 2.0}))
        assert ("heavy piece close in" in shown) == close


@pytest.mark.parametrize(
    ("said", "part", "exact"),
    [
        (-506, 1.0, True),
        (-506, 2.0, True),
        (-507, 1.0, False),
        (506, 1.0, False),
        (-506, 3.0, False),
    ],
)
def test_an_exact_prediction_is_told_so(said, part, exact):
    draw = StripWeighed(CASES["lb"])
    text = still(draw, {**start_of(draw.inputs), "front_said": said, "part": part})
    (line,) = [one for one in text.split("<p ") if "and it is." in one]
    assert ("hidden" not in line.split(">")[0]) == exact
