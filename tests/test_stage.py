"""The stage: what is recorded once moves in the page exactly as Python draws it."""

import random
import re
from dataclasses import dataclass
from xml.etree import ElementTree

import pytest
from stage_in_page import in_page, places_of, some_states, still, written_alike

from leverarm.axles import predict
from leverarm.machine import Attachment, Tractor
from leverarm.quantities import Refusal, show_number
from leverarm.stage.case import FREE, HungCase, loads
from leverarm.stage.elements import as_text, element, every_element, px
from leverarm.stage.recorder import (
    Recorder,
    Undecided,
    both_ways,
    cosine,
    least,
    most,
    root,
    sine,
    where,
    within,
)
from leverarm.stage.recording import Drawing, Input, as_json, recorded, start_of
from leverarm.stage.still import still_picture
from leverarm.stage.tractor import Guess, Weighed

DEMO = Tractor("Plot tractor", "65 in", "1320 lb", "1760 lb")
BUCKET = Attachment("bucket", "260 lb", "47 in")
# Short wheelbase, light rear: here a heavy bucket far out lifts the rear axle.
OTHER = Tractor("Ridge tractor", "1.41 m", "410 kg", "320 kg")
FORKS = Attachment("pallet forks", "190 kg", "1.05 m")
CASES = {
    "lb": HungCase(DEMO, BUCKET, "lb"),
    "kg": HungCase(DEMO, BUCKET, "kg"),
    "other": HungCase(OTHER, FORKS, "kg"),
}
ACTS = {"guess": (Guess, "guess_inputs"), "weighed": (Weighed, "inputs")}


@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_page_and_python_write_the_same_at_a_thousand_states(which, act, tmp_path):
    make, names = ACTS[act]
    case = CASES[which]
    draw, inputs = make(case), getattr(case, names)
    states, places = written_alike(
        tmp_path, draw, inputs, 1000 if which == "lb" else 200, which + act
    )
    assert places > (5 if act == "guess" else 100)
    lifted = 0
    for state in states:
        lifted += act == "weighed" and bool(loads(state)[2])
    if which == "other" and act == "weighed":
        assert lifted > 10


@pytest.mark.parametrize("act", ACTS)
def test_what_is_not_bound_stands_still(act):
    make, names = ACTS[act]
    case = CASES["lb"]
    draw, inputs = make(case), getattr(case, names)
    bound = set(places_of(draw, inputs))

    def rest(state):
        return [
            (one.tag, place, name, value)
            for place, one in enumerate(every_element(draw(state).tree))
            for name, value in (*one.attributes, ("", one.words))
            if (place, name) not in bound
        ]

    first = rest(start_of(inputs))
    for state in some_states(inputs, 40, seed=3):
        assert rest(state) == first


def test_the_markup_of_the_page_is_the_picture_at_the_start():
    import re

    for make, names in ACTS.values():
        case = CASES["lb"]
        draw, inputs = make(case), getattr(case, names)
        markup = re.sub(r' data-b="\d+"', "", recorded(draw, inputs)["markup"])
        assert markup == still(draw, start_of(inputs))


def test_loads_are_those_of_the_package():
    rng = random.Random(11)
    lifted = 0
    for _ in range(400):
        front, rear = rng.uniform(200, 900), rng.uniform(200, 900)
        weight, ahead, wheelbase = rng.uniform(5, 600), rng.uniform(0, 2.5), rng.uniform(1.2, 2.4)
        on = predict(Tractor("t", wheelbase, front, rear), Attachment("b", weight, ahead))
        got = loads(
            {
                "front": front,
                "rear": rear,
                "weight": weight,
                "overhang": ahead,
                "wheelbase": wheelbase,
            }
        )
        assert got[0] == pytest.approx(on.front_kg) and got[1] == pytest.approx(on.rear_kg)
        assert bool(got[2]) == (on.lift is not None)
        lifted += bool(got[2])
    assert 20 < lifted < 380


# Worked by hand: 260 lb x 47 in = 12,220 lb in; / 65 in = 188 lb; front 260 + 188 = 448 lb.
def test_demo_readings_worked_by_hand():
    case = CASES["lb"]
    assert loads(start_of(case.inputs))[:2] == pytest.approx((1768, 1572))
    text = still(Weighed(case), {**start_of(case.inputs), "part": 3.0})
    for words in ("+448 lb", "−188 lb", "+260 lb", "×1.72", "188 lb × 65 in", "260 lb × 47 in"):
        assert words in text


# By hand: 500 lb x 74 in = 37,000 lb in; the rear's 1,760 lb x 65 in = 114,400 lb in hold it. 1,560
# lb at the longest overhang does not: all 1,320 + 1,760 + W then stand on the front.
def test_once_the_rear_has_lifted_the_number_is_that_of_one_axle():
    """The paragraph, the name and the picture say it: no equation of two axles is left."""
    case = CASES["lb"]
    rear = case.bare["rear"]
    for weight, overhang in ((500, 74), (500, 80), (max_of(case, "weight"), 80)):
        at = {"part": 3.0, "weight": weight, "overhang": overhang, "rear": 0.5 * rear}
        state = {**start_of(case.inputs), **at}
        lifted = weight * overhang > 0.5 * rear * 65
        text = still(Weighed(case), state)
        total = f"1320 + {0.5 * rear:g} + {weight:g} = {1320 + 0.5 * rear + weight:g} lb"
        assert (total in text) == ("the lever rule ends" in text) == lifted
        assert ("so it gives up" in text) == ("The moments are" in text) == (not lifted)
        assert ("no longer equal" in text) == lifted


def max_of(case, name):
    """How far an input goes."""
    return next(one.high for one in case.inputs if one.name == name)


def test_first_act_holds_nothing_that_answers():
    """Neither numbers nor rows: the page before the lock cannot work the answer out."""
    case = CASES["lb"]
    data = recorded(Guess(case), case.guess_inputs)
    text = as_json(data)
    for told in ("448", "188", "1768", "1572", "1,768", "1,572", "1.72", "tips the tractor"):
        assert told not in text
    assert set(data["inputs"]) <= {"front_said", "rear_said", "front_known", "rear_known"}


@pytest.mark.parametrize("places", [0, 1, 2, 3])
@pytest.mark.parametrize("style", ["plain", "words", "signed"])
def test_page_prints_numbers_as_python_does(places, style, tmp_path):
    rng = random.Random(places)
    numbers = [0.0, -0.0, 0.5, 1.5, 2.5, -0.5, 0.25, 0.75, 0.125, 0.375, -0.04, 999.5, 9999.5]
    numbers += [12345.6, -1234567.8, 1e-9, 1000, 10000, 99999.96]
    numbers += [rng.randint(-4000, 4000) / 2**k for k in range(6) for _ in range(40)]
    numbers += [rng.uniform(-3000, 3000) for _ in range(200)]
    signs = recorded(lambda v: Drawing(element("p", px(v["x"]))), (Input("x", 0, 1, 0),))["signs"]
    got = in_page(tmp_path, numbers=[[x, places, style, signs] for x in numbers])["numbers"]
    for x, text in zip(numbers, got, strict=True):
        if style == "plain":
            wanted = f"{x:.{places}f}"
            wanted = wanted if wanted.strip("-0.") else wanted.lstrip("-")
        else:
            wanted = show_number(x, places, sign=style == "signed")
        assert text == wanted, x


@pytest.fixture
def recorder():
    return Recorder()


def values(recorder, quantity, **told):
    return recorder.work_out(told)[quantity.row]


@pytest.mark.parametrize(
    ("act", "x", "y", "wanted"),
    [
        (lambda x, y: x + 2 * y - 1, 3.0, 4.0, 10.0),
        (lambda x, y: (x - y) / (x + y), 3.0, 1.0, 0.5),
        (lambda x, y: -abs(y - x), 3.0, 5.0, -2.0),
        (lambda x, y: 1 - x, 3.0, 0.0, -2.0),
        (lambda x, y: 6 / x, 3.0, 0.0, 2.0),
        (lambda x, y: least(x, y, 2), 3.0, 5.0, 2.0),
        (lambda x, y: most(x, y, 2), 3.0, 5.0, 5.0),
        (lambda x, y: within(x, 0, y), 7.0, 5.0, 5.0),
        (lambda x, y: where(x > y, lambda: x, lambda: y * 10), 3.0, 5.0, 50.0),
        (lambda x, y: where(x <= y, lambda: x, lambda: y * 10), 3.0, 5.0, 3.0),
        (lambda x, y: where(x == y, lambda: x + 1, lambda: y), 5.0, 5.0, 6.0),
        (lambda x, y: both_ways(lambda: x if x < y else y), 3.0, 5.0, 3.0),
        (lambda x, y: both_ways(lambda: x if x >= y else y), 3.0, 5.0, 5.0),
        (lambda x, y: sine(x) ** 1 if False else sine(x), 0.5, 0.0, 0.479425538604203),
        (lambda x, y: cosine(x), 0.5, 0.0, 0.8775825618903728),
        (lambda x, y: root(x), 9.0, 0.0, 3.0),
    ],
)
def test_recorded_arithmetic(recorder, act, x, y, wanted):
    rows = recorder.input("x", -10, 10), recorder.input("y", -10, 10)
    assert values(recorder, act(*rows), x=x, y=y) == pytest.approx(wanted)
    assert act(x, y) == pytest.approx(wanted)


def test_equal_operations_share_a_row(recorder):
    x = recorder.input("x", 0, 1)
    assert (x + 1).row == (x + 1).row != (x + 2).row


def test_what_cannot_happen_is_left_out(recorder):
    x = recorder.input("x", 1, 4)
    assert (x > 5) == 0.0 and (x < 5) == 1.0
    assert most(x, 0) is x and least(x, 9) is x
    assert most(x, 2) is not x
    assert x * 0 == 0.0 and x * 1 is x and x + 0 is x and 0 + x is x and x / 1 is x
    # A division by what may be zero can reach anywhere.
    assert isinstance((1 / (x - 2)) > 1e9, type(x))


def test_a_bare_if_is_refused_with_the_cure(recorder):
    x = recorder.input("x", 0, 10)
    with pytest.raises(Undecided, match="where"):
        if x > 5:
            pass


def test_ways_that_give_different_things_are_refused(recorder):
    x = recorder.input("x", 0, 10)
    with pytest.raises(TypeError, match="same kind"):
        where(x > 5, lambda: "many", lambda: 3)


@dataclass(frozen=True)
class Pair:
    one: float
    two: str


def test_two_ways_are_joined_leaf_by_leaf(recorder):
    x = recorder.input("x", 0, 10)
    pair = where(x > 5, lambda: Pair(1.0, "many"), lambda: Pair(2.0, "few"))
    assert values(recorder, pair.one, x=6) == 1.0 and values(recorder, pair.one, x=5) == 2.0
    assert where(x > 5, lambda: (x, "a"), lambda: (x, "a")) == (x, "a")


@pytest.mark.parametrize("how", ["d", ".1e", "", "5.2f"])
def test_a_recorded_number_is_printed_only_as_the_page_can(recorder, how):
    with pytest.raises(TypeError, match="printed"):
        format(recorder.input("x", 0, 1), how)


def test_moving_words_beside_an_element_are_refused():
    def draw(v):
        return Drawing(element("p", px(v["x"]), element("b", "kg")))

    with pytest.raises(TypeError, match="stand alone"):
        recorded(draw, (Input("x", 0, 1, 0),))


def test_text_of_strangers_is_escaped():
    piece = Attachment('<img src=x onerror="1">', "100 kg", "1 m")
    case = HungCase(OTHER, piece, "kg")
    text = recorded(Weighed(case), case.inputs)["markup"]
    assert "<img" not in text and "&lt;img" in text
    assert "</script" not in as_json({"a": "</script>"})


def test_elements_are_written_out():
    tree = element("div", element("input", type="text", disabled="disabled"), "", hidden="")
    assert as_text(tree) == '<div><input disabled="" type="text"></div>' or as_text(tree) == (
        '<div><input type="text" disabled=""></div>'
    )
    assert px(-0.04) == "0.0"


def test_a_still_picture_is_the_moving_one_without_hands():
    """One state as a file: what is hidden, said or held is left out, colors stand in it."""
    case = CASES["lb"]
    picture, words = still_picture(
        Weighed(case), case.inputs, {"part": FREE}, words="A bucket on a tractor."
    )
    root = ElementTree.fromstring(picture)
    texts = [one.text for one in root.iter("{http://www.w3.org/2000/svg}text")]
    assert words == "A bucket on a tractor." and {"front", "rear", "+448 lb"} <= set(texts)
    assert "you said" not in texts and "var(" not in picture and "st@" not in picture
    assert "data-" not in picture and "display" not in picture and "st-hit" not in picture
    ids, used = (
        set(re.findall(r'id="([^"]+)"', picture)),
        set(re.findall(r"url\(#([^)]+)\)", picture)),
    )
    assert used and used <= ids
    cut, own = still_picture(Weighed(case), case.inputs, {"part": FREE}, top=250)
    assert 'viewBox="0 250 960 350"' in cut and "overhang 47 in" in own
    with pytest.raises(Refusal, match="choose desk, large or phone"):
        still_picture(Weighed(case), case.inputs, sheet="poster")
