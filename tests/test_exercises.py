"""Problems are made the same every time, right answers are accepted, listed slips are named."""

import pytest

from leverarm import exercises
from leverarm.exercises.evaluate import value
from leverarm.exercises.kinds import TOO_NEAR, working
from leverarm.quantities import Refusal, from_unit, to_unit

KINDS = exercises.problems()
NUMERIC = [kind for kind in KINDS if kind.style == "number"]
SEEDS = range(12)


def ids(kind):
    return kind.name


def test_the_bank_is_in_lesson_order_without_doubles():
    assert [k.lesson for k in KINDS] == sorted(k.lesson for k in KINDS)
    assert len({k.name for k in KINDS}) == len({k.title for k in KINDS}) == len(KINDS)


@pytest.mark.parametrize("kind", KINDS, ids=ids)
def test_the_same_seed_gives_the_same_problem(kind):
    assert exercises.make(kind, 7) == exercises.make(kind.name, 7)


@pytest.mark.parametrize("kind", NUMERIC, ids=ids)
def test_a_right_answer_is_right_in_any_rounding_that_the_data_allow(kind):
    for seed in SEEDS:
        p = exercises.make(kind, seed)
        for digits in (3, 4, 6, 12):
            typed = f"{float(f'{p.answer:.{digits}g}')!r} {p.unit}"
            assert exercises.check(p, typed).right, (p.statement, typed)


@pytest.mark.parametrize("kind", NUMERIC, ids=ids)
def test_listed_slips_are_named_and_stand_clear_of_the_right_answer(kind):
    work = working(kind)
    for seed in SEEDS:
        p = exercises.make(kind, seed)
        for turn, compute in zip(work.turns[:work.listed], work.values):
            wrong = value(compute, p.numbers)
            assert abs(wrong - p.base) >= TOO_NEAR * abs(p.base)
            verdict = exercises.check(p, repr(to_unit(wrong, work.rule.kind, p.unit)))
            assert not verdict.right and turn.name in {s.name for s in verdict.suspects}, (p.statement, turn)


def test_refusals():
    with pytest.raises(Refusal):
        exercises.make("no_such_kind", 1)
    with pytest.raises(Refusal):
        exercises.make("front_gain", 1, "stone")


def test_one_comma_before_three_digits_is_asked_about():
    p = exercises.make("front_gain", 3, "kg")
    verdict = exercises.check(p, "1,234")
    assert verdict.case == "unclear" and not verdict.counts
    assert "1234 kg or 1.234 kg" in verdict.message
