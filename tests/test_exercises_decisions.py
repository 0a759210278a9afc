"""Decisions with two answers that can be defended: both are taken, and every reason is true.

What each option says is worked here from the numbers as a student reads them.
"""

import math
import re

import pytest

from leverarm import Refusal, exercises
from leverarm.data import lesson_file, parsed, toml_file
from leverarm.exercises.bank import read_lesson
from leverarm.exercises.choices import defended
from leverarm.marking.checked import shown_answer

KINDS = [kind for kind in exercises.problems() if getattr(kind, "numbers", ())]


def read_numbers(text):
    """Numbers with kg or lb behind, as printed."""
    return [float(one.replace(",", "")) for one in re.findall(r"([\d,]+) (?:kg|lb)", text)]


def options(problem):
    """name of the slip -> text; those that can be defended are called 0 and 1, as in the file."""
    texts = dict(problem.options)
    right = [one.text for one in problem.drawn if not one.mistake]
    wrong = {one.mistake: one.text for one in problem.drawn if one.mistake}
    assert set(texts.values()) == {*right, *wrong.values()}
    return sorted(right), wrong


def test_there_are_decisions_in_the_last_lesson():
    assert [kind.name for kind in KINDS] == [
        "bucket_for_mowing",
        "rating_within_the_bar",
        "off_or_behind",
    ]
    assert {kind.lesson for kind in KINDS} == {12}


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_both_are_right_with_their_reasons_and_the_others_are_not(kind, system):
    for seed in range(60):
        problem = exercises.make(kind, seed, system)
        assert problem == exercises.make(kind, seed, system)
        assert len(defended(problem)) == 2 and problem.answer == defended(problem)[0]
        assert not re.search(r"[{}]", problem.statement + str(problem.options))
        for label, text in problem.options:
            found = exercises.check(problem, label)
            assert found.right == (label in defended(problem))
            if found.right:
                assert found.finding.count("It rests on") == 2
                assert exercises.check(problem, text[:40]).right
            else:
                assert found.suspects and found.question.rstrip(".").endswith("?")
        for label in defended(problem):
            assert label in shown_answer(problem)
            assert label in [line.left for line in problem.solution]


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize("seed", range(120))
def test_what_is_said_of_the_rating_and_the_change_is_true(seed, system):
    problem = exercises.make("bucket_for_mowing", seed, system)
    on, pm, off, pm_too, rating = read_numbers(problem.statement)
    (change, last), wrong = options(problem)
    told, room = read_numbers(change)
    (top, limit) = read_numbers(last)
    assert told == on - off and room == pytest.approx(pm * math.sqrt(2), abs=1)
    assert pm == pm_too and told > 5 * room, "the change is far larger than its ±"
    assert top == pytest.approx(on + pm) and limit == rating and top < rating
    assert on < rating, wrong["rating missed"]


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize("seed", range(120))
def test_the_rating_lies_inside_the_bar(seed, system):
    problem = exercises.make("rating_within_the_bar", seed, system)
    reading, pm, rating = read_numbers(problem.statement)
    assert reading < rating < reading + pm
    assert "manual decides" in problem.statement


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize("seed", range(120))
def test_both_ways_fulfill_what_the_owner_wants(seed, system):
    problem = exercises.make("off_or_behind", seed, system)
    most, rating, f1, r1, f0, r0, fb, rb, pm = read_numbers(problem.statement)
    assert f0 + pm < most and fb + pm < most < f1 - pm and rb + pm < rating
    assert f0 + r0 < f1 + r1 < fb + rb, "bucket off is lightest, ballast heaviest"
    assert f1 - f0 > 2 * pm
    more = next(one for one in problem.drawn if one.text.startswith("Ballast behind: the front"))
    assert read_numbers(more.reply)[-1] == pytest.approx(fb + rb - f0 - r0, abs=2)


BAD = """
[lesson]
[[concept]]
name = "own"
title = "Own"
question = "Is {A} much?"
principle = "forces"
hints = ["a?", "b.", "c."]
[[concept.number]]
name = "A"
kind = "weight"
%s
[concept.right]
text = "Yes"
reply = "It is."
[[concept.wrong]]
name = "no"
text = "No"
reply = "Why?"
"""


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("range = [5, 1]\nsteps = [1, 1]", "swap the two"),
        ("range = [1, 5]\nsteps = [0, 1]", "above zero"),
        ("range = [1, 5]", "steps"),
        ('steps = [1, 1]\nformula = "B + 1"', "formula"),
        ('steps = [1, 1]\nformula = "__import__(1)"', "formula"),
        ("range = [1, 2]\nsteps = [1, 1]\nodd = 1", "odd"),
    ],
)
def test_a_number_that_cannot_be_used_is_refused_in_one_sentence(rows, said):
    with pytest.raises(Refusal, match=said):
        read_lesson(parsed(BAD % rows, "own.toml"), 12, toml_file("common"))
    assert lesson_file(12)
