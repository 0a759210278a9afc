"""An answer to a customer: number, axle and direction of each number, and promises as sales people
make them.
"""

import pytest

from leverarm import Refusal
from leverarm.decision import (
    CLAIMS,
    behind,
    case,
    check_answer,
    demo_case,
    numbers_said,
    piece,
    quantities_in,
)
from leverarm.weighing.promises import promise_reader

BY_KEY = {claim.key: claim for claim in CLAIMS}
# Wheelbase 1.5 m; bucket 100 kg 1.2 m ahead: 100 x (1 + 1.2/1.5) = 180 on the front, 80 off the
# rear.
# Frame 200 kg over the front axle: the loader's 300 kg put 380 on the front and take 80 off the
# rear;
# with the bucket off 200 of the 380 stay, 53 percent.  Ballast 300 kg 0.75 m behind the rear axle:
# 300 x 0.75/1.5 = 150 off the front, 450 on the rear.
CASE = case(
    "Worked tractor",
    1.5,
    600,
    900,
    loader=piece("loader frame", 200, 0),
    bucket=piece("bucket", 100, 1.2),
    ballast=behind("ballast", 300, 0.75, 1.5),
)


def point(key, text):
    """The point about this machine's number."""
    return check_answer(text, BY_KEY[key], CASE)[1]


@pytest.mark.parametrize(
    "key, text",
    [
        ("twice", "180 kg comes off the front axle."),
        ("twice", "It takes 397 lb off the front axle here."),
        ("twice", "Bucket off, the front axle carries 180 kg less and the rear 80 kg more."),
        ("twice", "Without the bucket the front axle is 180 kg lighter."),
        ("twice", "The bucket puts 180 kg on the front axle and lifts 80 kg off the rear."),
        ("twice", "With the bucket on, the rear axle carries 80 kg less."),
        ("twice", "On this machine, the front axle loses 180 kg; the machine loses 100 kg."),
        ("twice", "On the front axle, it is 180 kg less."),
        ("twice", "The front axle changes by -180 kg."),
        ("twice", "The bucket itself weighs 100 kg."),
        ("twice", "1.8 times the bucket comes off the front axle."),
        ("whole_loader", "Without the loader, 380 kg comes off the front axle."),
        ("bucket_enough", "53 % of it stays on the front axle. Ask your manual."),
        ("bucket_enough", "47 % of the front gain comes off. Ask your manual."),
        ("ballast_fixes", "It takes 150 kg off the front and puts 450 kg on the rear."),
        ("ballast_fixes", "The ground carries 300 kg more."),
        ("ballast_fixes", "Taking the ballast off, the rear axle loses 450 kg."),
        ("fluid", "The rear axle carries 300 kg more."),
    ],
)
def test_a_number_on_its_axle_in_its_direction_counts(key, text):
    assert point(key, text).found, point(key, text).said


@pytest.mark.parametrize(
    "key, text, why",
    [
        ("twice", "180 kg comes off the rear axle.", "the front axle"),
        ("twice", "180 kg comes off the rear.", "the front axle"),
        ("twice", "The machine loses 180 kg.", "the front axle"),
        ("twice", "The bucket itself weighs 180 kg.", "the front axle"),
        ("twice", "80 kg comes off the front axle.", "the rear axle"),
        ("twice", "Bucket off, the front axle carries 180 kg more.", "other way"),
        ("twice", "Bucket off, the rear axle carries 80 kg less.", "other way"),
        ("twice", "The bucket takes 180 kg off the front axle.", "other way"),
        ("twice", "With the bucket on, the rear axle carries 80 kg more.", "other way"),
        ("twice", "The front axle changes by +180 kg.", "other way"),
        (
            "twice",
            "180 kg comes off the front axle and 80 kg comes off the rear axle.",
            "other way",
        ),
        ("twice", "200 kg comes off the front axle.", "Not one of its numbers"),
        ("bucket_enough", "47 % of it stays on the front axle.", "other way"),
        ("bucket_enough", "53 % comes off the front axle.", "other way"),
        ("ballast_fixes", "It puts 150 kg on the front axle.", "other way"),
        ("ballast_fixes", "It takes 450 kg off the rear axle.", "other way"),
        ("ballast_fixes", "Taking the ballast off, the rear axle gains 450 kg.", "other way"),
        ("ballast_fixes", "150 kg comes off the rear axle.", "the front axle"),
        ("fluid", "It takes 300 kg off the front axle.", "not for the front axle"),
    ],
)
def test_a_number_on_another_axle_or_the_wrong_way_does_not(key, text, why):
    made = point(key, text)
    assert not made.found and why in made.said, made.said


def test_what_was_not_told_has_no_number():
    bare = case("Bare", 1.5, 600, 900, loader=piece("loader frame", 200, 0))
    for key in ("twice", "fluid", "four_wheel", "psi", "no_ruts"):
        made = check_answer("180 kg comes off the front axle.", BY_KEY[key], bare)[1]
        assert not made.found and "no number for this machine" in made.said


@pytest.mark.parametrize(
    "text, promise",
    [
        ("It saves your tires.", "saves your tires"),
        ("You get fewer ruts with it off.", "fewer ruts"),
        ("That will save you a lot of fuel.", "save you a lot of fuel"),
        ("No more ruts!", "No more ruts"),
        ("Your tires last longer.", "last longer"),
        ("It is easier on your lawn.", "easier on your lawn"),
        ("It protects the turf.", "protects the turf"),
        ("You will see less wear and less compaction.", "less wear"),
        ("It won't tear up the grass.", "won't tear"),
        ("It won’t hurt the grass.", "won't hurt"),
        ("That is safer on a slope.", "safer"),
        ("I promise it works.", "I promise"),
        ("Trust me, 180 kg comes off.", "Trust me"),
        ("It pays for itself.", "pays for itself"),
        ("500 more hours from the front tires.", "500 more hours"),
        ("Don't worry about it.", "Don't worry"),
        ("I can't promise fewer ruts, but it saves your tires.", "saves your tires"),
        ("Nobody can promise that. It saves your tires.", "saves your tires"),
        ("There is no risk.", "no risk"),
    ],
)
def test_promises_as_sales_people_make_them(text, promise):
    found = check_answer(f"180 kg comes off the front axle. {text}", BY_KEY["twice"], CASE)[3]
    assert (
        promise_reader().first(text).words == promise and not found.found and promise in found.said
    )


@pytest.mark.parametrize(
    "text",
    [
        "I can't promise fewer ruts.",
        "No scale can promise less wear.",
        "It is not safe on its own: the manual decides about slopes.",
        "That does not mean fewer ruts.",
        "About ruts I promise nothing.",
        "The scale reads 180 kg less on the front axle.",
        *(claim.say for claim in CLAIMS),
    ],
)
def test_what_takes_a_promise_back_or_makes_none(text):
    assert promise_reader().first(text) is None


def test_numbers_and_their_clauses():
    said = numbers_said("The front loses 1,234.5 lb, the rear gains 80 kg; the machine 30 percent.")
    assert [(one.kind, one.place, one.way) for one in said] == [
        ("weight", "front", -1),
        ("weight", "rear", 1),
        ("share", "machine", 0),
    ]
    assert said[0].value == pytest.approx(1234.5 * 0.45359237)
    assert quantities_in("191.4 ± 2.2 kg, 30 percent") == [("weight", 191.4), ("share", 30.0)]
    assert quantities_in("__import__('os') 5") == []


@pytest.mark.parametrize("bad", ["", "   ", "x" * 3000])
def test_an_answer_is_neither_nothing_nor_a_book(bad):
    with pytest.raises(Refusal, match="answer"):
        check_answer(bad, CLAIMS[0], demo_case())
