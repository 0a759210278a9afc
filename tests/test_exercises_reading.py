"""Answers as students write them: sentences around a number, ranges, indexes, copied formulas.

What is read is what stands there; what could be another number is asked back and is no try.
"""

import random
from collections import Counter

import pytest
from bench import bench_exercises as bench

from leverarm import exercises
from leverarm.exercises.number_reader import read_number, two_numbers

GAIN = exercises.make("front_gain", 3, "kg")  # 277.35 kg
LOSS = exercises.make("rear_change", 3, "kg")  # −173.69 kg
PRESSURE = exercises.make("front_pressure", 3, "lb")  # 29.87 psi
AHEAD = exercises.make("overhang_from_readings", 3, "kg")  # 1.436 m
NEW = exercises.make("new_front_reading", 3, "kg")  # 803.5 kg

RIGHT = [
    *((LOSS, text) for text in ("falls by 173.7 kg", "a loss of 173.7 kg", "drops 173.7")),
    *((LOSS, text) for text in ("it goes down by 173.7 kg", "negative 173.7", "173.7 kg lower")),
    *((LOSS, text) for text in ("a reduction of 173.7 kg", "173.7 kg less than before")),
    *((LOSS, text) for text in ("The rear axle loses about 173.7 kg.", "−173.7 kg (a loss)")),
    *((GAIN, text) for text in ("Answer: 277.4 kg", "Ans. 277.4 kg", "I get 277.4", "dF: 277.4")),
    *((GAIN, text) for text in ("front gain: 277.4 kg", "rises by 277.4 kg", "277.4 kg, I think")),
    *((GAIN, text) for text in ("an increase of 277.4 kg", "277.4 kg (rounded)", "277.4 kg?")),
    *((GAIN, text) for text in ('"277.4 kg"', "[277.4 kg]", "**277.4 kg**", "$277.4$ kg")),
    *((GAIN, text) for text in ("277 plus or minus 1", "0.2774 metric tons", "277.4 kg or so")),
    *((GAIN, text) for text in ("162(1+1.36/1.91) = 277.4", "277.4 kg = 611.5 lb")),
    *((PRESSURE, f"29.87 {unit}") for unit in ("lb/in²", "lb/in^2", "lbf/in²", "lbs/in2", "PSI")),
    *((PRESSURE, f"29.87 {unit}") for unit in ("lb/sq. in.", "pounds per square inch")),
    *((AHEAD, text) for text in ("1.436 meters in front of the axle", "1.436 m forward")),
    (NEW, "803.5 kilograms on the front axle"),
]  # fmt: skip


@pytest.mark.parametrize("problem, typed", RIGHT, ids=[typed for _, typed in RIGHT])
def test_a_right_answer_in_a_sentence_is_right(problem, typed):
    verdict = exercises.check(problem, typed)
    assert verdict.right, verdict.message


@pytest.mark.parametrize(
    "typed",
    [
        *("half of 900 kg", "twice 138.7 kg", "not 277.4 kg", "277.4 kg per axle", "277.4 kg each"),
        *("less than 277.4 kg", "more than 277 kg", "up to 277.4 kg", "from 526 to 803.4 kg"),
        *("falls to 277.4 kg", "at least 277.4 kg", "one of 277.4", "lb 277.4", "277.4 kg kg"),
        *("277.4 stones", "277.4 kg at 3 m", "277.4 kg (612 lb)", "277.4kg/612lb"),
        *("0.2774 tons", "277.4 kg m", "two hundred", "277 . 4 kg", "277.4.0", "277.4 k g"),
    ],
)
def test_what_may_be_another_number_is_no_try(typed):
    verdict = exercises.check(GAIN, typed)
    assert verdict.case in ("unread", "unclear") and verdict.message.endswith(".")


@pytest.mark.parametrize(
    "typed",
    [
        *("277-278 kg", "277–278", "277 to 278 kg", "between 277 and 278 kg", "277 or 278 kg"),
        *("277 kg - 278 kg", "about 277-278 kg", "277...278", "282-283 kg"),
    ],
)
def test_two_numbers_are_asked_back_and_are_no_try(typed):
    verdict = exercises.check(GAIN, typed)
    assert verdict.case == "unclear" and not verdict.counts
    assert "Type the one that you mean." in verdict.message


def test_a_difference_is_a_working_and_no_range():
    """After less before, where both are near each other, is the answer of a loss."""
    p = exercises.make("rear_change", 3, "kg")
    size = -p.answer
    working = f"{1000:.2f}-{1000 + size:.2f} kg"
    assert two_numbers(working) is not None and exercises.check(p, working).right
    assert two_numbers("790-600 kg") is None and two_numbers("1-2e3") is None


def test_a_given_number_with_a_comma_stands_in_a_working():
    p = exercises.make("machine_weight", 2, "lb")
    front, rear = (told.split(" ")[0] for told in p.given.values())
    by_hand = sum(int(one.replace(",", "")) for one in (front, rear))
    assert "," in rear and by_hand == pytest.approx(p.answer)
    assert exercises.check(p, f"{front} + {rear}").right


def test_a_thousand_with_a_comma_is_read_wherever_weights_are_asked():
    """1,234 lb: both readings could be an answer only where one of some 40 lb is asked."""
    asked, back = Counter(), Counter()
    for kind in bench.numeric():
        for seed in range(10):
            p = exercises.make(kind, seed, "lb")
            if p.unit == "lb":
                small = 1234 / 40 <= abs(p.answer) <= 1.234 * 40
                asked[small] += 1
                back[small] += not exercises.check(p, "1,234 lb").counts
    assert asked[False] > 300 and back[False] == 0
    assert back[True] == asked[True]


def test_a_right_answer_with_a_comma_is_right_in_every_kind():
    found = 0
    for kind in bench.numeric():
        for seed in range(6):
            for system in ("kg", "lb"):
                p = exercises.make(kind, seed, system)
                if abs(p.answer) >= 1000:
                    found += 1
                    places = int(p.kind == "mean_reading")
                    assert exercises.check(p, f"{p.answer:,.{places}f} {p.unit}").right, p.statement
                elif abs(p.answer) > 1:
                    found += 1
                    assert exercises.check(p, f"{p.answer:.3f}".replace(".", ",")).right, (
                        p.statement
                    )
    assert found > 900


@pytest.mark.parametrize(
    "typed",
    [
        *("W(1+a/L).", "W (1 + a/L) .", "W(1+a/L);", "$W(1+a/L)$", "W*(1+(a/L))!", "W[1+a/L]"),
        *(r"W \cdot \left(1+\frac{a}{L}\right)", r"W\times(1+a/L)", "ΔF_1 = W+Wa/L."),
    ],
)  # fmt: skip
def test_a_formula_as_it_stands_in_a_sentence(typed):
    assert exercises.check(exercises.make("formula_front_gain", 1), typed).right


@pytest.mark.parametrize("zero", ["0", "_0", "_{0}", "_(0)", "₀", "_{ 0 }"])
def test_an_index_is_read_however_it_is_typed(zero):
    p = exercises.make("formula_center", 1)
    assert exercises.check(p, f"L*R{zero}/(F{zero} + R{zero}).").right


def test_an_index_of_another_letter_is_not_taken_for_one():
    assert exercises.check(exercises.make("formula_center", 1), "L*R_5/(F_0+R_0)").case == "unread"


SENTENCES = (
    "Answer: {0}",
    "{0}, I think",
    "about {0} more",
    "I get {0}.",
    "it rises by {0}",
    "({0})",
)


def test_words_never_change_the_number():
    rng = random.Random(5)
    for _ in range(2000):
        number = round(rng.uniform(0.1, 3000), rng.randrange(4))
        text = rng.choice(SENTENCES).format(f"{number} kg")
        assert read_number(text, "weight", "kg").values == (number,), text


@pytest.mark.parametrize(
    "typed", ["a" * 119 + "1", "a " * 59 + "1", "1 " + "a" * 117, "1 kg " + "a-" * 57, "1-" * 60]
)
def test_long_words_take_no_time(typed):
    """With a pattern that tries every way to split the words this would take years."""
    two_numbers(typed)
    assert exercises.check(GAIN, typed).message
