"""Any spoken claim against a machine's weigh day, and cards of claims made from its numbers.

The day is worked out by hand: frame alone 800 + 800 kg, with the bucket 1,000 + 700 kg.  So the
bucket weighs 100 kg, 200 kg come off the front, 100 kg go on the rear, and the factor is 2.
"""

from importlib import resources

import pytest

from leverarm import Refusal
from leverarm.data import parsed, toml_file
from leverarm.weighing import audit_spoken, claim_cards
from leverarm.weighing.day import weigh_day
from leverarm.weighing.demo import demo_day
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.promises import promise_reader, read_promises
from leverarm.weighing.readings import weighing
from leverarm.weighing.spoken import pieces_meant, read_spoken

TAPE = machine("Hill tractor", "1.65 m", wheelbase_error="3 mm")
SCALES = scale_facts("1 kg", "0.1 %", placed="moved")


def day_of(*rows, scales=SCALES):
    return weigh_day(TAPE, "2026-05-14", scales, [weighing(*row) for row in rows])


DAY = day_of(("bare", 700, 800), ("loader frame", 800, 800), ("loader frame + bucket", 1000, 700))
FRONT_ONLY = day_of(("loader frame", 800), ("loader frame + bucket", 1000))


@pytest.mark.parametrize(
    "text, truth",
    [
        ("Taking the bucket off takes 200 kg off the front axle", "true"),
        ("Taking the bucket off takes 441 lb off the front axle", "true"),
        ("with the bucket off the front is 440 pounds lighter", "true"),
        ("two hundred kilos come off the front", "true"),
        ("the front carries 20 percent less", "true"),
        ("the rear carries 14 % more", "true"),
        ("the rear carries 14 % less", "false"),
        ("a fifth of what the front carried", "true"),
        ("one and three quarter times its weight", "false"),
        ("2 and a quarter times its weight", "false"),
        ("Unhook the bucket and the front axle loses 150 kg", "false"),
        ("188 kg comes off the rear", "false"),
        ("200 kg comes off the rear axle", "false"),
        ("100 kg comes off the rear axle", "false"),
        ("Taking the bucket off puts 100 kg on the rear axle", "true"),
        ("The bucket takes 100 kg off the rear axle", "true"),
        ("The bucket adds 100 kg to the rear axle", "false"),
        ("The bucket adds 200 kg to the front", "true"),
        ("twice its weight", "true"),
        ("Bucket off removes double its own weight from the front", "true"),
        ("two times what the bucket weighs", "true"),
        ("exactly what it weighs comes off the front", "false"),
        ("one and a half times its weight", "false"),
        ("half again as much as it weighs", "false"),
        ("more than its own weight comes off the front", "true"),
        ("less than its weight comes off the front", "false"),
        ("over 150 kg comes off the front", "true"),
        ("half the weight", "false"),
        ("20 percent off the front", "half true"),
        ("a fifth of the front axle's load", "true"),
        ("a quarter of the front axle's load", "false"),
        ("twelve percent of the tractor's weight", "true"),
        ("doubles the load on the front axle", "false"),
        ("Without the bucket the tractor is 100 kg lighter", "true"),
        ("Without the bucket the tractor is 200 kg lighter", "false"),
        ("the bucket weighs 100 kg", "true"),
        ("the bucket weighs 220 lb", "true"),
        ("the bucket weighs 200 kg", "false"),
        ("200 kg", "half true"),
        ("the front axle carries 59 percent of the total with the bucket on", "true"),
        ("the front axle carries 50 percent of the total with the bucket on", "false"),
        ("the front axle carries half of the total without the bucket", "true"),
        ("the whole loader weighs 200 kg", "true"),
        ("Taking the loader off takes 300 kg off the front axle", "true"),
        ("The loader frame weighs 100 kg", "true"),
        ("Taking the loader frame off takes 100 kg off the front", "true"),
    ],
)
def test_a_claim_is_held_against_the_readings(text, truth):
    found = audit_spoken(text, DAY)
    assert found.truth == truth, (found.sentences(), read_spoken(text))


@pytest.mark.parametrize(
    "text, words",
    [
        ("100 kg comes off the rear axle", "With the bucket off, the rear axle gains load."),
        ("The bucket adds 100 kg to the rear axle", "With the bucket on, the rear axle loses load"),
        ("200 kg comes off the rear axle", "The number said is the change of the front axle."),
        ("the bucket weighs 200 kg", "The number said is the change of the front axle."),
        ("20 percent off the front", "Say of what."),
        ("200 kg", "Say on which axle."),
        ("The bucket halves the load on the rear axle", "The change of the rear axle is"),
    ],
)
def test_the_reason_says_what_is_wrong(text, words):
    assert words in audit_spoken(text, DAY).sentences()[1]


def test_sentences_come_in_both_unit_systems():
    found = audit_spoken("200 kg off the front", DAY)
    assert "200.0 ±" in found.sentences("kg")[1] and " kg" in found.sentences("kg")[1]
    assert "440.9 ±" in found.sentences("lb")[1] and " lb" in found.sentences("lb")[1]


def test_the_front_alone_says_what_it_can():
    assert audit_spoken("200 kg off the front", FRONT_ONLY).truth == "true"
    assert audit_spoken("twice its weight", FRONT_ONLY).truth == "not known"
    assert "not read" in audit_spoken("100 kg onto the rear", FRONT_ONLY).sentences()[1]
    told = audit_spoken("twice its weight", FRONT_ONLY, told={"weight": "100 kg", "u_weight": 1})
    assert told.truth == "true"


@pytest.mark.parametrize("text", ["200 kg off the front", "150 kg off the front", "over 10 kg"])
def test_nothing_is_judged_where_the_scales_were_not_told(text):
    day = day_of(
        ("loader frame", 800, 800), ("loader frame + bucket", 1000, 700), scales=scale_facts()
    )
    found = audit_spoken(text, day)
    assert found.truth == "not known"
    assert "± not known" in found.sentences()[1] and "not told" in found.sentences()[1]
    with pytest.raises(Refusal, match="step"):
        claim_cards(day)


@pytest.mark.parametrize("text", ["", "a lot", "it gets better", "43 in", "off the front"])
def test_words_without_a_number_are_refused(text):
    with pytest.raises(Refusal, match="claim"):
        audit_spoken(text, DAY)


def test_a_piece_that_was_not_weighed_is_refused():
    with pytest.raises(Refusal, match="ballast"):
        audit_spoken("The ballast weighs 200 kg", DAY)


@pytest.mark.parametrize(
    "text",
    [
        "saves your tires",
        "no more rutting",
        "You can mow that hill",
        "200 kg off the front saves your tires",
        "It is safe without the bucket",
    ],
)
def test_a_promise_is_answered_as_one(text):
    found = audit_spoken(text, DAY)
    assert found.truth == "promise" and promise_reader().about(text) in found.sentences()[1]


def test_a_plain_claim_is_no_promise():
    assert promise_reader().about("200 kg comes off the front axle") == ""


@pytest.mark.parametrize("day, system", [(DAY, "kg"), (DAY, "lb"), (demo_day(), "lb")])
@pytest.mark.parametrize("seed", range(4))
def test_cards_are_made_of_this_machines_numbers(day, system, seed):
    cards = claim_cards(day, system=system, seed=seed)
    assert len(cards) == 6 and len({card.said for card in cards}) == 6
    assert {card.truth for card in cards} == {"true", "half true", "false"}
    again = claim_cards(day, system=system, seed=seed)
    assert [card.said for card in cards] == [card.said for card in again]
    for card in cards:
        assert audit_spoken(card.said, day).truth == card.truth
        assert (" kg" if system == "lb" else " lb") not in card.said


def test_cards_of_the_front_alone_ask_nothing_of_the_rear():
    cards = claim_cards(FRONT_ONLY)
    assert cards and not any("on the rear" in card.said for card in cards)


@pytest.mark.usefixtures("metric")
def test_a_card_made_of_a_true_number_is_true():
    """Every template that names the front change on the front axle must come out true."""
    said = [card for seed in range(6) for card in claim_cards(DAY, count=16, seed=seed)]
    sure = "Taking the bucket off takes 200 kg off the front axle."
    assert {card.truth for card in said if card.said == sure} == {"true"}


def test_pieces_are_found_under_the_names_of_the_day():
    names = ["loader frame", "Bucket", "rear weights"]
    assert pieces_meant("bucket", names) == "Bucket"
    assert pieces_meant("whole loader", names) == "loader frame + Bucket"
    assert pieces_meant("ballast", names) == "rear weights"
    assert pieces_meant("bucket", ["snow plow"]) == ""


def test_the_words_are_data_that_can_be_read():
    words = toml_file("spoken")
    for entry in words.rows("card", "said"):
        assert "{piece}" in entry.text("said")


# A promise is one in a claim and in an answer alike: one reader, one file.
@pytest.mark.parametrize(
    "text",
    [
        "It saves your tires.",
        "Fewer ruts!",
        "You can mow that hill.",
        "Your front axle lasts longer.",
        "Trust me, 450 lb comes off.",
    ],
)
def test_a_promise_is_one_in_a_claim_and_in_an_answer(text):
    assert promise_reader().first(text) and audit_spoken(text, DAY).truth == "promise"


def test_naming_a_slope_makes_a_claim_one_that_no_scale_answers_but_promises_nothing():
    text = "The bucket takes 450 lb off the front axle on a slope"
    assert promise_reader().first(text) is None and "slope" in promise_reader().about(text)


@pytest.mark.parametrize("order", [1, -1])
def test_of_two_promises_that_begin_alike_the_longer_is_meant_whichever_stands_first(order):
    text = resources.files("leverarm.data").joinpath("spoken.toml").read_text("utf-8")
    two = [("short", "glides along"), ("long", "glides along like new")][::order]
    own = "".join(
        f'[[promise]]\nwords = ["{words}"]\nsay = "Said of {name}."\n' for name, words in two
    )
    text = text.replace("\n[[promise]]", f"\n{own}\n[[promise]]", 1)
    reader = read_promises(parsed(text, "own.toml"))
    found = reader.first("It glides along like new, and glides along.")
    assert (found.words, found.say) == ("glides along like new", "Said of long.")
    assert reader.first("It glides along, then glides along like new.").words == "glides along"


SPOILED = [
    ("{saves} _ _ _ _ _ {tires}", "{saves} _ {tyres}", "promise 1, words: tyres was given"),
    ('"last longer"', '"last (longer"', "promise 1, words: (longer was given"),
    ('about = ["tires last"', 'abuot = ["tires last"', "promise 1: the key abuot was given"),
    ('about = ["tires last", "tire wear"]', 'about = [""]', "promise 1, about: nothing was given"),
    ('"{nobody} _ _ _ {says}"', '"{nobdy}"', "taken_back, before: nobdy was given"),
    ("right_after =", "rightafter =", "taken_back, right_after: nothing was given"),
]


@pytest.mark.parametrize("was, becomes, says", SPOILED)
def test_spoiled_promises_are_refused_with_file_and_key(was, becomes, says):
    text = resources.files("leverarm.data").joinpath("spoken.toml").read_text("utf-8")
    assert was in text
    with pytest.raises(Refusal) as refused:
        read_promises(parsed(text.replace(was, becomes, 1), "own.toml"))
    assert str(refused.value).startswith(f"own.toml, {says}")


@pytest.mark.parametrize(
    "piece", ["auger", "hitch", "loader", "tank", "winch", "yard rake", "zip box"]
)
def test_a_piece_that_the_day_does_not_hold_is_none_of_its_pieces(piece):
    """Wherever its name sorts among those that are known."""
    assert pieces_meant(piece, ["loader frame", "bucket", "ballast"]) == ""


# A day on which the rear was not weighed, and the bucket's weight, 100 kg, is told: by statics the
# rear loses 100 kg on taking it off less the 200 kg that the front loses, so it gains 100 kg.
@pytest.mark.parametrize(
    "text, truth",
    [
        ("Taking the bucket off puts 100 kg on the rear axle", "true"),
        ("Taking the bucket off takes 100 kg off the rear axle", "false"),
        ("Taking the bucket off puts 300 kg on the rear axle", "false"),
        ("200 kg come off the front", "true"),
    ],
)
def test_the_axle_that_was_not_weighed_follows_from_the_weight(text, truth):
    told = {"weight": "100 kg", "u_weight": 1}
    assert audit_spoken(text, FRONT_ONLY, "bucket", told).truth == truth


UP = ["gains", "goes up by", "rises by", "increases by", "grows by", "is heavier by"]
DOWN = [
    "loses",
    "goes down by",
    "falls by",
    "decreases by",
    "shrinks by",
    "is lighter by",
]
VERBS = [*((verb, 1) for verb in UP), *((verb, -1) for verb in DOWN)]


@pytest.mark.parametrize(
    "action, sign", [("Taking the bucket off", 1), ("Hanging the bucket on", -1)]
)
@pytest.mark.parametrize("axle, change", [("front", -200), ("rear", 100)])
@pytest.mark.parametrize("verb, way", VERBS)
def test_a_bound_has_a_direction_of_its_own(action, sign, axle, change, verb, way):
    """More or less than a number, or the number, on the axle and the way that were said."""
    size, right_way = abs(change), way * change * sign > 0
    for bound, number, so in [
        ("", 1, True), ("", 1.4, False),
        ("more than ", 0.7, True), ("more than ", 1.4, False),
        ("less than ", 0.7, False), ("less than ", 1.4, True),
    ]:  # fmt: skip
        said = f"{action}, the {axle} axle {verb} {bound}{size * number:g} kg"
        assert audit_spoken(said, DAY).truth == ("true" if right_way and so else "false"), said
