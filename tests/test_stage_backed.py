"""A claim beside a reading and its band: the page as Python, bands worked by hand, cards sorted."""

import re

import pytest
from stage_in_page import numbers_in_pictures, readable, still, written_alike

from leverarm import panels
from leverarm.machine import Attachment, Tractor
from leverarm.panels.base import shared
from leverarm.panels.written import demo_numbers
from leverarm.quantities import Refusal
from leverarm.stage.backed import BackedGuess, BackedWeighed
from leverarm.stage.backed_case import PILES, BackedCase
from leverarm.stage.four_readings import FourReadings
from leverarm.stage.recording import as_json, recorded, start_of
from leverarm.stage.sheet import PROJECTOR
from leverarm.stage.sure_case import SureCase, crew_forks
from leverarm.stage.yard_case import FORKS_READ
from leverarm.weighing import audit_spoken
from leverarm.weighing.demo import READING_ERROR_KG, bucket_day
from leverarm.weighing.results import results
from leverarm.weighing.scales import Scales

POUND = 0.45359237
DEMO = Tractor("Plot tractor", "65 in", "1827 lb", "1714 lb")
BUCKET = Attachment("bucket", "260 lb", "47 in")
READ = (2274 * POUND, 1527 * POUND)
# Somebody's own: a grapple that hangs far out, and somebody who says half as much again.
OWN = Tractor("Ridge tractor", "1.83 m", "920 kg", "1310 kg")
GRAPPLE = Attachment("grapple", "310 kg", "1.4 m")
CASES = {
    "lb": BackedCase(DEMO, BUCKET, READ, 3 * POUND),
    "kg": BackedCase(DEMO, BUCKET, READ, 3 * POUND, system="kg"),
    "own": BackedCase(OWN, GRAPPLE, (1470, 1069), 2.6, 1.5, "kg"),
    "true": BackedCase(DEMO, BUCKET, READ, 3 * POUND, 1.7),
    "projector": BackedCase(DEMO, BUCKET, READ, 3 * POUND, sheets=(PROJECTOR,)),
}
ACTS = {"guess": BackedGuess, "weighed": BackedWeighed}


def inputs_of(act, case):
    return case.guess_inputs if act == "guess" else case.inputs


def shown(case, **state):
    return " ".join(readable(BackedWeighed(case), {**start_of(case.inputs), **state}))


@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_page_and_python_write_the_same(which, act, tmp_path):
    case = CASES[which]
    draw, inputs = ACTS[act](case), inputs_of(act, case)
    _, places = written_alike(tmp_path, draw, inputs, 200 if act == "weighed" else 30, which + act)
    assert places > (30 if act == "weighed" else 4)


@pytest.mark.parametrize("part", [0.0, 1.0, 2.0, 3.0])
@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_a_picture_says_its_numbers_in_its_name(act, which, part):
    case = CASES[which]
    draw, inputs = ACTS[act](case), inputs_of(act, case)
    state = {**start_of(inputs), "part": part, "days": 14.0}
    state |= {"off_known": 1.0, "u": 2.0}
    for written, told in numbers_in_pictures(draw, state):
        assert written and written <= told


@pytest.mark.parametrize("act", ACTS)
def test_markup_is_the_picture_at_the_start(act):
    case = CASES["lb"]
    draw, inputs = ACTS[act](case), inputs_of(act, case)
    markup = re.sub(r' data-b="\d+"', "", recorded(draw, inputs)["markup"])
    assert markup == still(draw, start_of(inputs))


def test_a_question_holds_nothing_that_answers(monkeypatch):
    case = BackedCase(DEMO, BUCKET, READ, 3 * POUND)
    refused = property(lambda _: pytest.fail("a result before the lock"))
    monkeypatch.setattr(FourReadings, "_results", refused)
    draw = BackedGuess(case)
    data = recorded(draw, case.guess_inputs)
    assert set(data["start"]) == {"pile"}
    told = " ".join(readable(draw, start_of(case.guess_inputs)))
    numbers = set(re.findall(r"\d[\d,.]*", told))
    assert {"2,274", "1,827", "1,527", "1,714", "3"} <= numbers
    assert not numbers & {"447", "448", "260", "187", "1.72", "9", "12", "0.07"}
    assert not re.search("ruled out|lies outside|lies inside|band", as_json(data))


# By hand: 2,274 - 1,827 = 447, 1,714 - 1,527 = 187, 447 - 187 = 260, 447/260 = 1.719. A change is
# off by 3 sqrt 2 = 4.243, twice that is 8.49; the weight by 6, twice that is 12. The factor's
# slopes are 187/260^2 on the front change and 447/260^2 on the rear's: sqrt(187^2 + 447^2)/260^2 x
# 4.243 = 0.0304, twice that is 0.0608. A ± is rounded up.
@pytest.mark.parametrize(
    ("result", "u", "wanted"),
    [
        ("front", 3, "447 ± 9 lb"),
        ("rear", 3, "187 ± 9 lb"),
        ("weight", 3, "260 ± 12 lb"),
        ("factor", 3, "1.72 ± 0.07"),
        ("factor", 15, "1.72 ± 0.31"),
        ("weight", 15, "260 ± 60 lb"),
    ],
)
def test_bands_worked_by_hand(result, u, wanted):
    assert CASES["lb"].show_plus_minus(result, u) == wanted


# 2 - 1.719 = 0.281 is twice 0.0304 x u/3 at u = 13.86.
@pytest.mark.parametrize(
    ("claim", "u", "inside"),
    [
        (2, 3, False),
        (2, 13, False),
        (2, 14, True),
        (1.7, 3, True),
        (1.65, 3, False),
        (1.78, 3, True),
    ],
)
def test_a_claim_is_ruled_out_or_not(claim, u, inside):
    case = CASES["lb"]
    assert bool(case.allowed(claim, u)) == inside
    told = shown(case, part=3.0, claim=claim, u=u)
    assert ("Not ruled out" in told) == inside and ("Ruled out by" in told) != inside


@pytest.mark.parametrize(
    ("which", "pile", "side"), [("lb", "Contradicted", "outside"), ("true", "Backed", "inside")]
)
def test_what_stands_below_says_where_the_claim_belongs(which, pile, side):
    told = shown(CASES[which], part=2.0)
    assert f"Its number lies {side} the band, so it belongs to “{pile}”." in told


@pytest.mark.parametrize(("pile", "there"), [(1, False), (2, True), (4, False)])
def test_a_pile_that_is_right_is_told_so(pile, there):
    told = shown(CASES["lb"], part=2.0, pile=pile)
    assert ("and that is where it belongs" in told) == there


def test_rule_and_scales_are_compared():
    assert "worked out 448 lb where these scales read 447" in shown(CASES["lb"], part=2.0)
    assert "rule and scales agree" in shown(CASES["lb"], part=2.0)
    off = BackedCase(DEMO, Attachment("bucket", "300 lb", "47 in"), READ, 3 * POUND)
    assert "look at the told weight" in shown(off, part=2.0)


@pytest.mark.parametrize("claim", [0.0, -1.0, 9.0])
def test_a_claim_out_of_range_is_refused(claim):
    with pytest.raises(Refusal, match="claim"):
        BackedCase(DEMO, BUCKET, READ, 3 * POUND, claim)


def test_scales_too_poor_for_any_claim_are_refused():
    with pytest.raises(Refusal, match="heavier"):
        BackedCase(
            DEMO, Attachment("box", "10 lb", "47 in"), (1835 * POUND, 1710 * POUND), POUND * 3
        )


# --- in a notebook ------------------------------------------------------------------------------


@pytest.fixture(params=["lb", "kg"])
def system(request, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    before = shared.system
    shared.set(system=request.param)
    yield request.param
    shared.set(system=before)


def test_results_take_what_is_known_of_the_scales():
    day = bucket_day()
    found = results(day, "bucket", scales=Scales(u_reading=READING_ERROR_KG))
    assert found.front_change.u == pytest.approx(3 * POUND * 2**0.5)
    assert found.weight.u == pytest.approx(6 * POUND)
    assert found.factor.u == pytest.approx(0.0304, abs=5e-5)
    assert results(day, "bucket").front_change.u < found.front_change.u


def test_a_card_says_where_it_lies_only_once_it_was_sorted_with_a_reason(system):
    panel = panels.claim_sorting()
    seen = set()
    for at, card in enumerate(panel.cards):
        assert panel.at == at and panel.out.value == ""
        assert card.said in panel.head.value.replace("&#x27;", "'")
        with pytest.raises(Refusal, match="not sorted"):
            panel.next()
        with pytest.raises(Refusal, match="no reason"):
            panel.sort("backed", None)
        assert panel.out.value == ""
        panel.sort(card.pile, "sound")
        assert "put it there too" in panel.out.value and "may sound right" in panel.out.value
        seen.add(card.pile)
        panel.next()
        assert panel.pile.value is None and panel.because.value is None
    assert seen == set(PILES)
    assert panel.at == 0 and f"{len(panel.cards)} of {len(panel.cards)}" in panel.out.value


def test_cards_lie_where_a_second_audit_puts_them(system):
    for card in panels.claim_sorting(seed=5).cards:
        told = {"scales": Scales(u_reading="3 lb")}
        truth = audit_spoken(card.said, bucket_day(), "bucket", told)
        piles = {"true": "backed", "false": "contradicted", "half true": "incomplete"}
        assert card.pile == piles.get(truth.truth, "beyond")


def test_the_first_pile_counts_and_a_reason_is_answered():
    panel = panels.claim_sorting()
    wrong = next(one for one in PILES if one != panel.card.pile)
    panel.sort(wrong, {"backed": "inside"}.get(wrong, "outside"))
    assert "put it elsewhere" in panel.out.value
    panel.sort(panel.card.pile, "exact")
    assert panel.piles == {0: wrong} and "No reading is exact" in panel.out.value


def test_a_claim_is_sorted_then_explained_and_kept(system):
    stage = panels.claim_stage(lesson="07")
    for pile, reason in (("", "no"), ("backed", " "), ("heap", "why")):
        with pytest.raises(Refusal, match="pile"):
            stage.lock_in(pile, reason)
    with pytest.raises(Refusal, match="show why"):
        stage.explain("It lies outside.")
    stage.state["pile"] = 2.0
    stage.did("locked", {"reason": "Its number lies outside."})
    assert stage.locked and stage.pile == "contradicted" and not stage.explained
    again = panels.claim_stage(lesson="07")
    assert (again.pile, again.reason) == ("contradicted", "Its number lies outside.")
    stage.explain("It stands outside.")
    assert stage.explained
    stage.again()
    assert not stage.locked and not panels.claim_stage(lesson="07").locked


def test_a_weighing_is_said_then_repeated_then_explained_and_kept(system):
    stage = panels.sure_stage(lesson="06")
    with pytest.raises(Refusal, match="weigh again"):
        stage.weigh()
    stage.state |= {"off_said": 3.0, "off_known": 1.0}
    stage.did("locked", {})
    stage.weigh(9)
    with pytest.raises(Refusal, match="band"):
        stage.show_band()
    stage.weigh()
    stage.show_band()
    with pytest.raises(Refusal, match="show why"):
        stage.explain(" ")
    stage.explain("They gather.")
    assert stage.explained and stage.days == 10
    assert panels.sure_stage(lesson="06").said == pytest.approx(stage.said)
    days = stage.case.days
    stage.again()
    assert not stage.locked and stage.case.days != days


@pytest.mark.parametrize("said", ["-1 lb", "900 lb", "three", ""])
def test_a_guess_out_of_range_is_refused(said):
    stage = panels.sure_stage()
    with pytest.raises(Refusal):
        stage.lock_in(off=said)
    assert not stage.locked


def test_a_strange_piece_and_claim_are_taken_too(system):
    own = panels.sure_stage(SureCase(OWN, Attachment("crate", "410 kg", "1.12 m"), 2.6))
    own.lock_in(off="3 kg")
    own.weigh(40)
    own.show_band()
    assert own.days == 40 and "crate" in own._shown_html
    claim = panels.claim_stage(CASES["own"])
    claim.lock_in("backed", "It sounds right.")
    assert "grapple" in claim._shown_html and claim.case.system == system


def test_the_forks_are_those_of_weigh_day():
    read = {axle: [0.0, 0.0] for axle in ("front", "rear")}
    for wheel, both in FORKS_READ.items():
        for n, text in enumerate(both):
            read[wheel.split()[0]][n] += float(text.removesuffix(" lb"))
    day = crew_forks().truth
    assert [read["front"][0], read["rear"][0]] == list(day.before)
    assert [read["front"][1], read["rear"][1]] == list(day.after)


def test_both_lessons_tell_the_same_weight_and_overhang(system):
    told = demo_numbers(system)
    assert told["forks_sure"].startswith(told["forks"].split()[0] + " ± ")
    assert told["ahead_sure"].startswith(told["forks_ahead"].split()[0] + " ± ")
