"""A machine in its set-ups: the page as Python, loads by hand, nothing told before its lock."""

import json
import re

import pytest
from stage_in_page import readable, still, written_alike

from leverarm import decision
from leverarm.panels.both_sides import both_sides
from leverarm.panels.hunch import hunch, hunch_again, scales_say
from leverarm.panels.lesson_work import WORK_FILE, kept_work
from leverarm.panels.setups_stage import setups_stage
from leverarm.quantities import Refusal
from leverarm.stage.elements import every_element
from leverarm.stage.recording import as_json, recorded, start_of
from leverarm.stage.setups import SetupsGuess, SetupsWeighed, setups_still
from leverarm.stage.setups_case import SetupsCase
from leverarm.stage.sheet import PROJECTOR

DEMO = decision.demo_case()


def somebody_elses(**more):
    """A long tractor whose bucket cannot be weighed apart, a mower behind, and no ± told."""
    behind = decision.behind("mower", "180 kg", "0.7 m", 2.2)
    return decision.case(
        "Ridge tractor",
        "2.2 m",
        "900 kg",
        "1400 kg",
        loader=decision.piece("loader", "520 kg", "0.55 m"),
        ballast=decision.behind("weight box", "600 kg", "1.1 m", 2.2),
        mower=decision.Mower("rear", behind, behind),
        **more,
    )


# The front lifts once the loader is off: 300 x 2.0 > 1.6 x 300.
TIPS = decision.case(
    "Light tractor",
    "1.6 m",
    "300 kg",
    "500 kg",
    loader=decision.piece("loader frame", "200 kg", "0.3 m"),
    bucket=decision.piece("bucket", "90 kg", "1.1 m"),
    ballast=decision.behind("drum", "300 kg", "2.0 m", 1.6),
)
CASES = {
    "lb": SetupsCase(DEMO),
    "kg": SetupsCase(DEMO, "kg"),
    "own": SetupsCase(somebody_elses(manual=decision.Manual(front_least=25)), "kg"),
    "own in lb": SetupsCase(somebody_elses()),
    "tips": SetupsCase(TIPS, "kg"),
    "projector": SetupsCase(DEMO, sheets=(PROJECTOR,)),
}
ACTS = {"guess": SetupsGuess, "weighed": SetupsWeighed}


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_page_and_python_write_the_same(which, act, tmp_path):
    draw = ACTS[act](CASES[which])
    many = 200 if (which, act) == ("lb", "weighed") else 40
    _, places = written_alike(tmp_path, draw, draw.inputs, many, which + act)
    assert places > (60 if act == "weighed" else 5)


@pytest.mark.parametrize("act", ACTS)
def test_markup_is_the_picture_at_the_start(act):
    draw = ACTS[act](CASES["lb"])
    markup = re.sub(r' data-b="\d+"', "", recorded(draw, draw.inputs)["markup"])
    assert markup == still(draw, start_of(draw.inputs))


# By hand, in lb and in about the wheelbase of 65: bucket 260 (1 + 47/65) = 448, frame
# 460 (1 + 6.5/65) = 506, ballast 520 x 35/65 = 280, deck 310 x 32/65 = 152.6 in front and 157.4
# behind.  Front 1,320 + 152.6 - 280 = 1,192.6 with the loader off.
@pytest.mark.parametrize(
    ("key", "front", "rear"),
    [
        ("on", 1192.6 + 954, 1760 + 157.4 + 800 - 234),
        ("bucket_off", 1192.6 + 506, 1760 + 157.4 + 800 - 46),
        ("loader_off", 1192.6, 1760 + 157.4 + 800),
        ("all_off", 1320 + 152.6, 1760 + 157.4),
    ],
)
def test_loads_worked_by_hand(key, front, rear):
    case = CASES["lb"]
    (one,) = (setup for setup in case.setups if setup.key == key)
    assert case.loads(one) == pytest.approx((front, rear), abs=0.05)


def test_what_the_ballast_gives_back_worked_by_hand():
    assert CASES["lb"].gives_back == pytest.approx(280)
    # 600 kg x 1.1 m / 2.2 m.
    assert CASES["own"].gives_back == pytest.approx(300)


def said_at(draw, **state):
    return list(readable(draw, {**start_of(draw.inputs), **state}))


@pytest.mark.parametrize(
    ("state", "wanted"),
    [
        ({"part": 1.0}, {"1,473", "+280", "1,917", "−800", "together 3,390 lb"}),
        ({"part": 3.0}, {"−448", "+188", "−954", "+234", "−674", "−566"}),
    ],
)
def test_demo_reads_as_worked_by_hand(state, wanted):
    assert wanted <= set(said_at(SetupsWeighed(CASES["lb"]), **state))


@pytest.mark.parametrize("which", ["lb", "own"])
@pytest.mark.parametrize("part", [None, 1.0, 2.0, 3.0])
def test_the_picture_says_its_numbers_in_words(which, part):
    draw = SetupsGuess(CASES[which]) if part is None else SetupsWeighed(CASES[which])
    more = {"front_said": -77.0, **({"front_known": 1.0} if part is None else {"part": part})}
    tree = draw({**start_of(draw.inputs), **more}).tree
    (svg, *_) = (one for one in every_element(tree) if one.tag == "svg")
    told = set(re.findall(r"\d+", dict(svg.attributes)["aria-label"]))
    assert "77" in told
    for texts in seen_texts(svg):
        assert set(re.findall(r"\d+", texts)) <= told, texts


def seen_texts(tree):
    """Words in a picture that are shown, but for the marks of the scale and what is gray."""
    told = dict(tree.attributes)
    if told.get("display") == "none" or "muted" in told.get("class", ""):
        return
    yield tree.words
    for one in tree.inside:
        if not isinstance(one, str):
            yield from seen_texts(one)


def stills(case, **how):
    """Each picture of a machine's set-ups."""
    return [one for one in every_element(setups_still(case, **how)) if one.tag == "svg"]


def test_a_panel_of_rows_shows_the_setups_of_any_machine():
    for case, setups in ((CASES["kg"], 4), (CASES["own"], 3)):
        said = still_words(case)
        assert said.count("against the first") == setups - 1
        hidden = stills(case, hidden=True)
        assert len(hidden) == setups
        seen = " ".join(text for svg in hidden for text in seen_texts(svg))
        readings = {case.units.digits(load) for load in case.loads(case.setups[0])}
        assert set(re.findall(r"[\d,]{3,}", seen)) == readings
        waiting = " ".join(dict(svg.attributes)["aria-label"] for svg in hidden[1:])
        assert not re.search(r"\d", waiting)
    bare = decision.case("Bare", 2, 900, 1000, loader=decision.piece("loader", "300 kg", "0.5 m"))
    said = still_words(SetupsCase(bare, "kg"))
    assert "Loader on: front 1,275 kg, rear 925 kg." in said and "ballast" not in said.lower()


@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize("which", sorted(CASES))
def test_each_set_up_stands_in_a_picture_of_its_own(which, large):
    """Its numbers are in its name, its marks have names of their own, and it stays on its paper."""
    case, ids = CASES[which], []
    for svg in stills(case, large=large):
        told = dict(svg.attributes)
        numbers = set(re.findall(r"\d+", told["aria-label"]))
        assert all(set(re.findall(r"\d+", text)) <= numbers for text in seen_texts(svg))
        _, top, wide, high = map(float, told["viewBox"].split())
        assert high == {192: 290, 480: 486}[wide]
        for one in every_element(svg):
            marks = dict(one.attributes)
            ids += [marks["id"]] if "id" in marks else []
            if one.tag == "text":
                assert 0 <= float(marks["x"]) <= wide and top <= float(marks["y"]) <= top + high
                assert float(marks["font-size"]) >= (20 if large else 12) or not one.words
    assert len(ids) == len(set(ids))


def still_words(case):
    return " ".join(dict(svg.attributes)["aria-label"] for svg in stills(case))


def test_somebody_elses_machine_has_three_setups_and_its_own_words():
    draw = SetupsWeighed(CASES["own"])
    shown = " ".join(said_at(draw, part=2.0))
    assert "weight box: 600 × 1.10 ÷ 2.20 = 300" in shown
    assert "Bucket off" not in shown and "Choose: Loader off" in shown


def test_an_axle_that_carries_nothing_is_said_before_any_why():
    for which, lifted in (("lb", False), ("tips", True)):
        draw = SetupsWeighed(CASES[which])
        for part in (1.0, 2.0, 3.0):
            shown = " ".join(said_at(draw, part=part))
            assert ("An axle carries nothing" in shown) == lifted
    assert min(min(CASES["tips"].loads(one)) for one in CASES["tips"].setups) == 0


def test_ballast_right_over_the_axle_changes_nothing_in_front():
    machine = decision.case(
        "Even tractor",
        "2 m",
        "900 kg",
        "1000 kg",
        loader=decision.piece("loader", "300 kg", "0.5 m"),
        ballast=decision.behind("wheel weights", "200 kg", 0, 2),
    )
    draw = SetupsWeighed(SetupsCase(machine, "kg"))
    assert any("the front shows the same" in one for one in said_at(draw, part=1.0))
    assert any("no lever" in one for one in said_at(draw, part=2.0))


# 20 percent of the bare tractor's 3,080 lb is 616; loader off carries 38.7 percent of it.
@pytest.mark.parametrize(
    ("shares", "said"),
    [
        ((0, 0), "No set-up is under the two shares. That is no permission."),
        ((20, 20), "No set-up is under the two shares. That is no permission."),
        ((39, 20), "Loader off: front axle under the share. "),
        ((38.5, 0), "Loader off: front axle too close to the share to call. "),
        (
            (48, 0),
            "Loader off: front axle under the share. Loader off, ballast off: front axle under",
        ),
        ((0, 55), "Bucket and loader on: rear axle under the share. "),
    ],
)
def test_a_share_rules_out_what_stands_under_it(shares, said):
    draw = SetupsWeighed(CASES["lb"])
    told = said_at(draw, part=3.0, front_least=shares[0], rear_least=shares[1])
    assert any(one.startswith(said) for one in told), [one for one in told if "share" in one]


def test_the_stage_and_the_decision_rule_out_the_same():
    for least in range(5, 61, 5):
        machine = decision.demo_case(manual=decision.Manual(front_least=least, rear_least=least))
        draw = SetupsWeighed(SetupsCase(machine))
        shown = " ".join(said_at(draw, part=3.0))
        for one in decision.setups(machine):
            named = re.search(rf"(?<!, ){one.name}: (front|rear) axle (under|too close)", shown)
            assert bool(named) == bool(decision.stops(one)), (least, one.key)


def test_a_question_holds_nothing_that_answers():
    draw = SetupsGuess(CASES["lb"])
    data = recorded(draw, draw.inputs)
    assert set(data["start"]) == {"front_said", "front_known"}
    shown = " ".join(said_at(draw))
    numbers = set(re.findall(r"\d[\d,.]*", shown))
    assert {"2,147", "1,699", "1,193", "2,717"} <= numbers
    assert not numbers & {"280", "1,473", "1,917", "3,390", "800", "674", "566"}
    for word in ("gives", "back", "lever", "relieves"):
        assert word not in shown
    # Nor does a place: no column ends where the last set-up's do.
    case = CASES["lb"]
    small = case.places(case.sheets[0])[-1]
    for load in case.loads(case.setups[-1]):
        assert f"{small.top + load / case.full * small.reach:.1f}" not in as_json(data)


def test_a_question_is_drawn_without_the_setup_asked_about(monkeypatch):
    known = decision.setups(DEMO)[:-1]
    loads = SetupsCase.loads

    def not_before_the_lock(case, setup):
        assert setup.key in {one.key for one in known}, "weighed before the lock"
        return loads(case, setup)

    def no_answer(*_):
        raise AssertionError("the ballast's lever is worked out before the lock")

    monkeypatch.setattr(SetupsCase, "loads", not_before_the_lock)
    monkeypatch.setattr(SetupsCase, "gives_back", property(no_answer))
    draw = SetupsGuess(SetupsCase(DEMO))
    recorded(draw, draw.inputs)


def test_a_machine_without_ballast_is_refused_in_a_sentence():
    bare = decision.case("Bare", 2, 900, 1000, loader=decision.piece("loader", "300 kg", "0.5 m"))
    with pytest.raises(Refusal, match="no ballast"):
        setups_stage(bare)


# --- the panel
# ------------------------------------------------------------------------------------


def test_what_was_said_and_chosen_is_kept(folder):
    stage = setups_stage(lesson="12")
    with pytest.raises(Refusal, match="lock in"):
        stage.choose("on")
    stage.lock_in(front="-520 lb")
    stage._keep()
    stage.explain("The front gained.")
    stage.free()
    assert stage.explained and [one.key for one in stage.setups][-1] == "all_off"
    with pytest.raises(Refusal, match="choose one of these"):
        stage.choose("scrap it")
    stage.choose("bucket_off")
    assert kept_work("12")["chosen"] == "bucket_off"
    again = setups_stage(lesson="12")
    assert again.locked and again.chosen == "bucket_off" and again.state["chosen"] == 2
    again.again()
    assert setups_stage(lesson="12").chosen == "" and not again.locked


def test_the_page_chooses(folder):
    stage = setups_stage(lesson="12")
    stage.lock_in(front="+280 lb")
    stage._take(json.dumps({"state": {**stage.state, "part": 3, "chosen": 3}, "did": "chosen"}))
    assert stage.chosen == "loader_off"
    with pytest.raises(Refusal, match="chosen from 0 to 4"):
        stage._take(json.dumps({"state": {**stage.state, "chosen": 9}, "did": "chosen"}))


@pytest.mark.parametrize("held", [{"chosen": 7}, {"chosen": "scrap"}, {"front_said_kg": "x"}])
def test_a_kept_file_is_not_believed(folder, held):
    (folder / WORK_FILE).write_text(json.dumps({"12": {"front_said_kg": 3.0, **held}}), "utf-8")
    stage = setups_stage(lesson="12")
    assert stage.state.get("chosen", 0) == 0 and stage.error.value == ""


# --- the hunch and the reasons
# --------------------------------------------------------------------


def test_a_hunch_comes_back_beside_the_scales():
    assert "no hunch" in hunch_again().reply.value
    hunch().lock_in(front="exactly", rear="rises")
    said = hunch_again().reply.value
    # Worked by hand above: the bucket's 260 lb take 448 off the front and give 188 to the rear.
    assert "the scales say more than the bucket weighs" in said
    assert "260 lb" in said and "448 lb" in said and "so it is" in said and "188 lb" in said


@pytest.mark.parametrize(
    ("front", "weight", "rear", "wanted"),
    [
        (448, 260, 188, ("more", "rises")),
        (260, 260, 0, ("exactly", "stays")),
        (200, 260, -60, ("less", "falls")),
    ],
)
def test_scales_in_the_words_of_the_hunch(front, weight, rear, wanted):
    assert tuple(scales_say(front, weight, rear).values()) == wanted


def test_reasons_for_both_sides_are_kept(folder):
    panel = both_sides("12")
    panel.keep_button.click()
    assert "Two reasons to take it off" in panel.error.value and panel.reasons == {}
    panel.write(off="Lighter in front. Shorter.", on="")
    assert "leave it on" in panel.error.value and kept_work("12") == {}
    panel.write(off="Lighter in front. Shorter.", on="<b>No</b> work. Needed at noon.")
    assert panel.error.value == "" and both_sides("12").reasons == panel.reasons
    (folder / WORK_FILE).write_text(json.dumps({"12": {"reasons_off": 3}}), "utf-8")
    assert both_sides("12").reasons == {}
