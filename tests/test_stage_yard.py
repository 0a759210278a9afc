"""Four pads under a machine seen from above: the page as Python, answers worked by hand."""

import re

import pytest
from stage_in_page import readable, still, written_alike

from leverarm import Refusal, statics
from leverarm.stage.recording import as_json, recorded, start_of
from leverarm.stage.sheet import PROJECTOR
from leverarm.stage.tractor_above import WHEELS, above_floor
from leverarm.stage.yard import YardGuess, YardWeighed
from leverarm.stage.yard_case import FORKS_READ, YardCase

# Somebody's own: a long machine, a wide track, a heavy bale spike close to the axle.
OWN_READ = {
    "front left": ("611 kg", "774 kg"),
    "front right": ("598 kg", "759 kg"),
    "rear left": ("902 kg", "871 kg"),
    "rear right": ("911 kg", "878 kg"),
}
OWN = {"piece": "bale spike", "other": "bucket", "other_ahead": "1.45 m", "track": (1.55, 1.62)}
CASES = {
    "lb": YardCase("65 in"),
    "kg": YardCase("65 in", system="kg"),
    "own": YardCase("2.24 m", OWN_READ, system="kg", **OWN),
    "own lb": YardCase("2.24 m", OWN_READ, **OWN),
    "projector": YardCase("65 in", sheets=(PROJECTOR,)),
}
ACTS = {"guess": YardGuess, "weighed": YardWeighed}


@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_page_and_python_write_the_same(which, act, tmp_path):
    draw = ACTS[act](CASES[which])
    _, places = written_alike(
        tmp_path, draw, draw.inputs, 200 if act == "weighed" else 40, which + act
    )
    assert places > (60 if act == "weighed" else 15)


@pytest.mark.parametrize("act", ACTS)
def test_markup_is_the_picture_at_the_start(act):
    draw = ACTS[act](CASES["lb"])
    markup = re.sub(r' data-b="\d+"', "", recorded(draw, draw.inputs)["markup"])
    assert markup == still(draw, start_of(draw.inputs))


def words_shown(draw, **state):
    return set(readable(draw, {**start_of(draw.inputs), **state}))


def test_the_question_shows_every_reading():
    words = words_shown(YardGuess(CASES["lb"]))
    assert {
        "1,174",
        "1,172",
        "759",
        "760",
        "914 →",
        "912 →",
        "1,826 → 2,346",
        "1,714 → 1,519",
    } <= words


@pytest.mark.parametrize("which", CASES)
def test_a_question_holds_nothing_that_answers(which, monkeypatch):
    case = CASES[which]
    weight, overhang = case.hung
    answers = {case.units.digits(weight), f"{overhang:.{case.units.length_step[1]}f}"}

    def not_before_the_lock(*_):
        raise AssertionError("worked out before the lock")

    for name in ("hung_weight", "overhang_of", "front_gain", "rear_change"):
        monkeypatch.setattr(statics, name, not_before_the_lock)
    draw = YardGuess(case)
    data = recorded(draw, draw.inputs)
    shown = " ".join(readable(draw, start_of(draw.inputs)))
    assert not answers & set(re.findall(r"\d+(?:\.\d+)?", shown))
    assert set(data["start"]) == {name for one in draw.inputs for name in [one.name]}
    assert "together" not in as_json(data) and "ΔR" not in as_json(data)


# Worked by hand. Front 1,826 -> 2,346 gains 520 lb, rear 1,714 -> 1,519 loses 195: 325 lb went on,
# and 65 x 195 / 325 = 39 in. Slips: 520; 520 + 195 = 715; half of it 357.5; 65 + 39 = 104 in.
def test_the_forks_as_worked_by_hand():
    assert CASES["lb"].hung == pytest.approx((325, 39))
    words = words_shown(YardWeighed(CASES["lb"]), part=2.0)
    assert {"520 − 195 = 325 lb", "65 in × 195 ÷ 325 = 39 in", "+520 lb", "−195 lb"} <= words
    text = " ".join(words)
    for slip in ("520 lb is what", "715 lb adds", "358 lb is the average", "104 in is measured"):
        assert slip in text
    assert "closer in than the bucket" in " ".join(words_shown(YardWeighed(CASES["lb"]), part=1.0))


# Worked by hand. Front 1,209 -> 1,533 gains 324 kg, rear 1,813 -> 1,749 loses 64: 260 kg,
# and 2.24 x 64 / 260 = 0.5514 m.
def test_somebody_elses_piece_as_worked_by_hand():
    assert CASES["own"].hung == pytest.approx((260, 0.5514), abs=1e-4)
    assert "324 − 64 = 260 kg" in words_shown(YardWeighed(CASES["own"]), part=2.0)


def test_where_the_rear_stays_the_readings_still_tell_the_weight():
    words = words_shown(YardWeighed(CASES["lb"]), part=3.0, overhang=0.0)
    assert {"+325 lb", "0 lb", "1,714 → 1,714"} <= words
    # Each wheel keeps its share of the axle: 859 + 855 are 1,714 again.
    assert {"855", "859"} & words or {"856", "858"} & words


def test_one_farther_out_is_said_to_be():
    far = YardCase("65 in", other_ahead="20 in")
    assert "farther out than the bucket" in " ".join(words_shown(YardWeighed(far), part=1.0))


@pytest.mark.parametrize(
    ("wheels", "said"),
    [
        ({name: FORKS_READ[name] for name in WHEELS[:3]}, "rear right"),
        ({name: pair[::-1] for name, pair in FORKS_READ.items()}, "swapped"),
        ({**FORKS_READ, "front left": ("914", "x")}, "front left wheel"),
    ],
)
def test_readings_that_cannot_be_are_refused(wheels, said):
    with pytest.raises(Refusal, match=said):
        YardCase("65 in", wheels)


@pytest.mark.parametrize("which", CASES)
def test_the_machine_stays_on_its_sheet(which):
    case = CASES[which]
    for sheet in case.sheets:
        above = above_floor(sheet, case.meters(case.wheelbase_shown), case.track)
        for name in WHEELS:
            (x, y), (long, wide) = above.wheel(name), above.half(name)
            assert x - long > 0 and x + long < sheet.width
            assert y - wide > 0 and y + wide < sheet.floor
