"""The decision panel and the trainer's hour: gate, code twins, both unit systems, records, what
goes wrong is said.
"""

from dataclasses import replace

import pytest

from leverarm import Refusal, panels, weighing
from leverarm.decision import CLAIMS, check_answer, demo_case
from leverarm.panels import shared
from leverarm.panels.case_form import GROUPS
from leverarm.panels.trainer import hand_over
from leverarm.weighing import audit_spoken, demo_day
from leverarm.weighing.day import weigh_day
from leverarm.weighing.day_file import add_rows
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.readings import weighing as one_weighing

pytestmark = pytest.mark.usefixtures("metric")


# The invented readings: frame and bucket 2274 and 1525 lb, the frame alone 1827 and 1715; so the
# bucket puts 447 lb on the front, takes 190 lb off the rear, weighs 257.
FRONT_KG, BUCKET_KG = "202.8", pytest.approx(257 * 0.45359237)


@pytest.fixture
def none(tmp_path):
    return str(tmp_path / "no_record.csv")


@pytest.fixture
def record(tmp_path):
    folder = tmp_path / "days"
    add_rows(replace(weighing.demo_day(), invented=False), folder=folder)
    return str(folder)


# --- mow or unhook
# -----------------------------------------------------------------------------------


def test_only_the_state_as_it_stands_shows_before_a_prediction():
    """In pounds: front 1320 + 954 - 280 + 152.6 (deck) = 2146.6 with all on, 954 less without the
    loader.
    """
    panel = panels.mow_or_unhook()
    assert (
        panel.hidden
        and "973.7" in panel.out.value
        and "541.0" not in panel.out.value + panel.picture.value
    )
    panel.gate.lock_in(front="down 320 kg", rear="stays")
    panel.gate.reveal()
    assert (
        "541.0" in panel.out.value
        and "−320.0 kg" in panel.out.value
        and "−432.7 kg" in panel.out.value
        and not panel.error.value
    )


def test_every_row_says_why_how_sure_and_what_it_leaves_out():
    panel = panels.mow_or_unhook(gated=False)
    assert "How sure:" not in panel.out.value
    panel.part.value, panel.reasons.value = "everything", True
    glance = 3
    assert (
        panel.out.value.count("How sure:") - glance
        == panel.out.value.count("Left out:") - glance
        == len(panel.table.rows)
    )
    panel.reasons.value = False
    assert "How sure:" not in panel.out.value


def test_four_setups_by_three_rows_come_first_and_the_rest_on_request():
    panel = panels.mow_or_unhook(gated=False)
    assert (
        panel.out.value.count('<th scope="col">') == 4
        and panel.out.value.count('<th scope="row">') == 3
        and "Front axle, mowing" in panel.out.value
        and "Scuff index" not in panel.out.value
        and "Carry it low" not in panel.out.value
    )
    panel.part.value = "the other side"
    assert "Carry it low" in panel.out.value and "Front axle, mowing" not in panel.out.value


@pytest.mark.parametrize("kind", ["mid", "rear", "trailed", "none"])
@pytest.mark.parametrize("system", ["kg", "lb"])
def test_every_mower_in_both_systems(kind, system):
    panel = panels.mow_or_unhook(gated=False)
    panel.mowers.value = kind
    panel.set(system=system)
    assert not panel.error.value and ("lb" if system == "lb" else "kg") in panel.out.value
    assert (panel.case.mower is None) == (kind == "none")


def test_four_set_ups_by_three_rows_come_first():
    panel = panels.mow_or_unhook(gated=False)
    assert panel.out.value.count('scope="col"') == 4 and panel.out.value.count('scope="row"') == 3
    panel.set(system="lb")
    # In pounds: front 2146.6 with all on, 447.5 less without the bucket, 954 less without the
    # loader, 280 more without the ballast.
    assert all(number in panel.out.value for number in ("2,147", "1,699", "1,193", "1,473"))
    assert "Ruled out" not in panel.out.value
    panel.set(front_least="60 %")
    assert "Ruled out: Loader off" in panel.out.value


def test_a_machine_of_ones_own_borrows_nothing():
    """Typed: bare 600 and 900 kg, wheelbase 1.5 m, frame 200 kg over the front axle."""
    panel = panels.mow_or_unhook(gated=False)
    panel.sources.value = "typed"
    assert "bare rear reading" in panel.error.value and "not every number" in panel.error.value
    panel.set(wheelbase="1.5 m", front="600 kg", rear="900 kg", frame="200 kg", frame_ahead="0 m")
    assert not panel.error.value
    case = panel.case
    assert (case.bucket, case.ballast, case.mower, case.height_m, case.stance) == (None,) * 5
    assert (case.drive, case.arms, case.nose_m, case.tires.front) == (None,) * 4
    assert (case.manual.front_least, case.manual.rear_least) == (None, None)
    assert [one.front.value for one in panel.table.setups] == [800, 600]
    assert "no mower counted in" in panel.out.value and "not known" in panel.out.value
    panel.mowers.value = "mid"
    assert "no weight and no place" in panel.error.value
    panel.set(mower="150 kg", mower_ahead="-0.75 m", at_work="150 kg")
    assert panel.table.setups[0].front.value == 875, "half of it on each axle"
    panel.sources.value = "demo"
    assert panel.case.tires.front and panel.case.manual.rear_least == 20
    assert panel.table.setups[0].front.value == pytest.approx(2146.6 * 0.45359237, abs=0.05)
    assert "not your machine" in panel.whose.value


def test_a_case_handed_in_is_the_machine_shown():
    case = demo_case("rear", weighed=True)
    panel = panels.mow_or_unhook(case, gated=False)
    assert panel.case.front.value == pytest.approx(case.front.value)
    assert panel.case.bucket.weight.value == pytest.approx(case.bucket.weight.value)
    assert panel.case.mower.carried.weight.value == pytest.approx(case.mower.carried.weight.value)


def test_every_number_reaches_the_table():
    panel = panels.mow_or_unhook(gated=False)
    panel.part.value = "everything"
    for group in GROUPS.values():
        for key, _, _, value, _low, high in group:
            before = panel.out.value + panel.picture.value
            panel.set(
                **{
                    key: (value + 0.7 * (high - value))
                    if key not in ("front", "rear")
                    else value + 60
                }
            )
            assert panel.out.value + panel.picture.value != before or panel.error.value, key
            panel.set(**{key: value})


def test_a_rear_mower_and_a_manual_that_forbids_stop_a_state():
    panel = panels.mow_or_unhook(gated=False)
    panel.part.value = "everything"
    panel.mowers.value = "rear"
    panel.set(front_least="30 %")
    assert "Ruled out: Loader off." in panel.out.value and "mower carried" in panel.out.value
    panel.bucketless.value = False
    assert "Ruled out: Bucket off." in panel.out.value


def test_order_follows_what_matters_and_says_it_is_no_advice():
    panel = panels.mow_or_unhook(gated=False)
    panel.part.value = "everything"
    assert "1. Loader off" in panel.out.value and "not advice" in panel.out.value
    panel.first.value = "minutes"
    assert "1. Bucket and loader on" in panel.out.value and panel.matters == ("minutes", "total")


def test_record_or_typed(record, tmp_path):
    panel = panels.mow_or_unhook(gated=False, record=record)
    panel.sources.value = "record"
    assert not panel.error.value and panel.case.bucket.weight.value == BUCKET_KG
    (tmp_path / "half.csv").write_text(
        "date,machine,wheelbase,state,front,rear,unit,repeat,note\n2025-05-14,A,1.65 "
        "m,bare,600,800,kg,1,\n",
        "utf-8",
    )
    panel.place.value = str(tmp_path / "half.csv")
    assert "loader" in panel.error.value
    panel.sources.value = "demo"
    assert not panel.error.value


def test_a_rating_that_cannot_be_read_is_said():
    panel = panels.mow_or_unhook(gated=False)
    panel.part.value = "everything"
    panel.ratings["front_axle"].value = "heavy"
    assert "front axle rating" in panel.error.value
    panel.ratings["front_axle"].value = "940 kg"
    assert not panel.error.value and "over the limit" in panel.out.value


def test_an_axle_that_lifts_is_said_not_computed():
    panel = panels.mow_or_unhook(gated=False)
    panel.mowers.value = "rear"
    panel.set(mower="2000 kg", mower_ahead="-4 m")
    assert "carries nothing" in panel.out.value and not panel.error.value


# --- the hour
# ----------------------------------------------------------------------------------------


def test_bets_stay_shut_until_they_stand(none):
    panel = panels.bets(none)
    assert FRONT_KG not in panel.out.value
    panel.gate.lock_in(machine="down 110 kg", front="down 110 kg", rear="stays")
    panel.gate.reveal()
    assert (
        f"−{FRONT_KG} ± " in panel.out.value
        and "+92.8 kg" in panel.out.value
        and "invented" in panel.out.value
    )


def readings_of(path, name):
    """Boxes for the readings of a machine that is told first."""
    told = panels.machine_and_scales(path)
    told.tell(name=name, wheelbase="1.5 m", unit="kg", step="1 kg", date="2026-05-14").keep()
    return panels.readings_in(path)


def test_nothing_is_written_before_a_machine_is_told_nor_twice(tmp_path):
    path = str(tmp_path / "days")
    with pytest.raises(Refusal, match="tell the machine"):
        panels.readings_in(path).put_in("1000", "700")
    put_in = readings_of(path, "Yard tractor")
    put_in.put_in("1000", ("340", "360"))
    assert put_in.day.current[0].rear.kg == 700
    with pytest.raises(Refusal, match="already written as row 1"):
        put_in.put_in()
    assert len(put_in.day.rows) == 1


def test_a_bet_on_one_machine_is_not_held_against_another(tmp_path):
    path = str(tmp_path / "days")
    first = readings_of(path, "Yard tractor")
    for state, front, rear in (("loader frame + bucket", "1000", "700"), ("bare", "600", "850")):
        first.put_in(front, rear, state)
    first.same.say(True)
    hour = panels.bets(path)
    hour.gate.lock_in(machine="down 100 kg", front="down 200 kg", rear="up 100 kg")
    readings_of(path, "Creek tractor")
    assert hour.hidden and hour.gate.state == "open" and not hour.predictions
    assert "Yard tractor" in hour.gate.error.value and "Creek tractor" in hour.gate.error.value
    hour.gate.lock_in(machine="down 100 kg", front="down 200 kg", rear="up 100 kg")
    assert not hour.gate.error.value and hour.gate.state == "locked"


def test_readings_go_in_and_the_bets_use_them(tmp_path):
    path = str(tmp_path / "days")
    put_in = readings_of(path, "Yard tractor")
    for state, front, rear in (
        ("loader frame + bucket", "1000", "700"),
        ("loader frame", "800", "801"),
        ("bare", "600", "850"),
        ("ballast", "450", "1250"),
    ):
        for _ in range(2):
            put_in.put_in(front, rear, state)
    put_in.same.say(True)
    assert "2 of 2" in put_in.out.value and put_in.day.current[0].repeat == 1
    hour = panels.bets(path)
    hour.gate.lock_in(machine="down 100 kg", front="down 200 kg", rear="up 100 kg")
    hour.gate.reveal()
    assert hour.changes["front"].value == pytest.approx(-200) and "invented" not in hour.out.value
    with pytest.raises(Refusal):
        put_in.put_in("heavy", "700")
    assert len(put_in.day.current) == 8


def test_until_the_bets_are_opened_every_panel_keeps_the_readings_back(tmp_path):
    path = str(tmp_path / "days")
    hour, record = panels.bets(path), panels.weigh_record(path)
    put_in = readings_of(path, "Yard tractor")
    for state, front, rear in (("loader frame + bucket", "1000", "700"), ("bare", "607", "853")):
        put_in.put_in(front, rear, state)
    hour.gate.lock_in(machine="down 100 kg", front="down 200 kg", rear="up 100 kg")
    assert "kept back" in record.out.value and "607" not in record.out.value + put_in.out.value
    hour.gate.reveal()
    assert "607 kg" in record.out.value
    assert "Were fuel, operator" in hour.remarks.words.value and "wait" in hour.out.value
    hour.remarks.correct_button.click()
    assert put_in.day.unchanged is True and "bucket" in hour.error.value, "none came off alone"


def test_what_was_written_of_one_machine_is_not_said_beside_another(tmp_path):
    path = str(tmp_path / "days")
    page = hand_over(lambda day, path, **about: path, path)
    for name in ("Yard tractor", "Creek tractor"):
        put_in = readings_of(path, name)
        put_in.put_in("1000", "700", "loader frame + bucket")
        put_in.put_in("800", "801", "loader frame")
        assert not page.said.value, "another machine is shown"
        put_in.same.say(True)
        page.write(tmp_path)
        assert name.split()[0].lower() in page.said.value


def test_without_a_bucket_state_the_bets_say_what_is_missing(tmp_path):
    path = str(tmp_path / "days")
    put_in = readings_of(path, "Yard tractor")
    put_in.put_in("800", "801", "loader frame")
    put_in.put_in("600", "850", "bare")
    put_in.same.say(True)
    hour = panels.bets(path)
    hour.gate.lock_in(machine="down 100 kg", front="down 200 kg", rear="up 100 kg")
    hour.gate.reveal()
    assert "bucket" in hour.error.value


def test_claim_cards_one_by_one(none):
    cards = panels.claim_cards(none)
    assert "Lock in your answer first" in cards.out.value
    with pytest.raises(Refusal, match="verdict"):
        cards.reveal()
    cards.about.value = "what people say of loaders"
    cards.lock_in("true")
    assert (
        "It is not true." in cards.out.value
        and "You said: true." in cards.out.value
        and f"{FRONT_KG} ± " in cards.out.value
    )
    cards.undo()
    assert FRONT_KG not in cards.out.value and cards.locked == {}
    for number in range(1, len(CLAIMS) + 1):
        cards.go(number)
        cards.lock_in("false")
        assert CLAIMS[number - 1].truth.split(" ")[0] in cards.out.value and not cards.error.value
    cards.next()
    assert cards.at == len(CLAIMS) - 1
    with pytest.raises(Refusal):
        cards.go(12)
    with pytest.raises(Refusal, match="half true or false"):
        cards.lock_in("holds")


def test_claims_of_this_machine_are_true_half_true_and_false(none):
    """What a card is stands on no card before it is locked in, and is right where it does."""
    shared.set(system="lb")
    cards = panels.claim_cards(none)
    assert {card.truth for card in cards.cards} == {"true", "half true", "false"}
    for number, card in enumerate(cards.cards, 1):
        cards.go(number)
        assert (
            " lb" in card.said
            or "percent" in card.said
            or " times " in card.said
            or "twice" in card.said
        )
        assert card.said in cards.head.value and "You said" not in cards.out.value
        assert audit_spoken(card.said, demo_day()).truth == card.truth
        cards.lock_in("half true")
        said = {"true": "It is true.", "false": "It is not true.", "half true": "It is half true."}
        assert said[card.truth] in cards.out.value and "±" in cards.out.value
    cards.piece.value = "loader frame"
    assert cards.at == 0 and all("loader frame" in card.said for card in cards.cards)


def test_claims_about_forks_of_a_second_machine_in_lb_steps_of_ten(tmp_path):
    """Somebody else's case: front axle alone, 10 lb steps, forks for a bucket, no ± on the tape."""
    shared.set(system="lb")
    hill = weigh_day(
        machine("Gravel pit 4x4 #2", "71 in"),
        "2026-11-27",
        scale_facts("10 lb", "0.5 %"),
        unchanged=True,
        system="lb",
    )
    own = [
        one_weighing("loader frame", "1950", None, "lb"),
        one_weighing("loader frame + pallet forks", "2380", None, "lb"),
    ]
    add_rows(hill, *own, folder=tmp_path)
    cards = panels.claim_cards(tmp_path)
    assert not cards.error.value and cards.piece.value == "pallet forks"
    assert cards.cards and all("pallet forks" in card.said for card in cards.cards)
    assert not any("on the rear" in card.said for card in cards.cards)
    by_words = {card.said: card.truth for card in cards.cards}
    audit = panels.claim_audit("430 lb comes off the front axle", tmp_path)
    assert audit.result.truth == "true" and "430" in audit.out.value
    audit.say("430 lb comes off the rear axle")
    assert audit.result.truth == "not known" and set(by_words.values()) >= {"true"}
    audit.told["weight"].value, audit.told["u_weight"].value = "260 lb", "2 lb"
    audit.say("170 lb goes back on the rear axle")
    assert audit.result.truth == "true" and "told, not weighed" in audit.out.value
    audit.told["ahead"].value = "46 in"
    assert "leave one out" in audit.error.value


def test_cards_of_readings_under_bets_are_kept_back(tmp_path):
    add_rows(
        weigh_day(
            machine("Hill tractor", "65 in"),
            "2026-11-20",
            scale_facts("1 kg", "0.1 %"),
            unchanged=True,
        ),
        one_weighing("loader frame", 830, 780),
        one_weighing("loader frame + bucket", 1030, 700),
        folder=tmp_path,
    )
    day = panels.weigh_day(tmp_path)
    cards = panels.claim_cards(tmp_path)
    assert "kept back" in cards.out.value and not cards.cards and "200" not in cards.head.value
    day.gate.lock_in(front="up 190 kg", rear="down 80 kg")
    day.gate.reveal()
    assert len(cards.cards) == 6 and "Claim 1 of 6" in cards.head.value


def test_an_answer_is_held_against_the_machine(none):
    play = panels.role_play(none)
    assert all(
        point.found
        for point in play.answer(
            "Here 203 kg come off the front axle, and the machine loses 117 kg."
        )
    )
    assert [point.found for point in play.answer("You will have no ruts.")] == [
        False,
        False,
        False,
        False,
    ]
    play.go("bucket_enough")
    points = play.answer("About 54 % of it stays on the front axle.")
    assert points[1].found and not points[3].found and "manual" in points[3].said
    assert "<li>" in play.out.value
    play.go("twice")
    assert play.points == () and play.out.value == ""


# What a person would say, and whether each point is there: number, this machine's, of what, nothing
# promised.
@pytest.mark.parametrize(
    "key, text, found",
    [
        ("twice", "It takes 447 lb off the front axle, your manual has the rest.", [1, 1, 1, 1]),
        ("twice", "220 kg off the front, twice the bucket.", [1, 0, 1, 1]),
        ("twice", "I can't promise no ruts, but 203 kg comes off the front.", [1, 1, 1, 1]),
        ("twice", "203 kg off the front and it is safe on a slope.", [1, 1, 1, 0]),
        ("twice", "A lot.", [0, 0, 0, 1]),
        ("fluid", "The front changes by 0 kg. The manual says how much fluid.", [1, 1, 1, 1]),
        ("no_ruts", "The soil still carries 19 kPa. No scale can promise more.", [1, 1, 1, 1]),
        ("four_wheel", "Some tire slips 31 m in 1000 m.", [1, 1, 1, 0]),
    ],
)
def test_answers(key, text, found):
    claim = next(one for one in CLAIMS if one.key == key)
    assert [
        int(point.found) for point in check_answer(text, claim, demo_case(weighed=True))
    ] == found


def test_projector_type_reaches_every_panel(none):
    shared.set(large=True)
    for panel in (
        panels.mow_or_unhook(gated=False),
        panels.bets(none),
        panels.readings_in(none),
        panels.claim_cards(none),
        panels.role_play(none),
    ):
        assert "lv-big" in panel.widget._dom_classes and not panel.error.value
