"""Where a wrong number leaves the worked way: chains that are right up to a line, then slip."""

import math

import pytest
from bench.bench_departure import COMES_OUT, carried

from leverarm import exercises
from leverarm.exercises.evidence import typed_number
from leverarm.exercises.expressions.tree import compiled, value_at
from leverarm.exercises.number_reader import read_number

NUMERIC = [kind for kind in exercises.problems() if kind.style == "number"]


def digit_wrong(number):
    """The second of four digits one too high, or one too low."""
    unit = 10.0 ** (math.floor(math.log10(abs(number))) - 1)
    digit = int(abs(number) / unit + 1e-9) % 10
    return number + math.copysign(unit if digit < 9 else -unit, number)


SLIPS = {
    "twice": lambda number: 2 * number,
    "other sign": lambda number: -number,
    "ten times": lambda number: 10 * number,
    "a digit": digit_wrong,
    "two digits kept": lambda number: float(f"{number:.2g}"),
    "out of the blue": lambda number: 1.7321 * number,
}


def four_digits(number):
    return f"{number:.4g}" if 1e-4 < abs(number) < 1e4 else f"{float(f'{number:.4g}'):.0f}"


def replies(kind, system):
    """(line of the slip, what it is, what was typed, the reply) over one problem's lines."""
    problem = exercises.make(kind.name, 11, system)
    for at, line in enumerate(problem.solution):
        for name, slip in SLIPS.items() if line.makes else ():
            typed = four_digits(carried(problem.solution, at, slip(line.claim)))
            verdict = exercises.check(problem, typed)
            if not verdict.right and "nan" not in typed:
                yield at, name, typed, verdict, problem


def test_a_reply_seldom_points_behind_the_slip_and_says_nothing_untrue_of_a_step():
    """One problem of every eighth kind: a whole sweep stands in the benchmarks."""
    chains, behind, there = 0, [], 0
    for kind in NUMERIC[::8]:
        for at, name, typed, verdict, problem in replies(kind, kind.system or "lb"):
            chains += 1
            if verdict.step > at:
                behind.append((kind.name, at, name, typed, verdict.finding))
            there += verdict.step == at
            if found := COMES_OUT.search(verdict.finding):
                line = problem.solution[verdict.step]
                said = float(found[2].replace(",", "").replace("−", "-"))
                came = carried(problem.solution, verdict.step, said)
                assert found[1] == line.left
                last = 10.0 ** -len(typed.partition(".")[2])
                if "." not in typed:
                    last = 10.0 ** (len(typed) - len(typed.rstrip("0")))
                assert abs(abs(came) - abs(float(typed))) <= 0.51 * last, verdict.finding
    assert chains > 150 and len(behind) <= chains / 100, behind
    assert there > chains / 2


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_a_reply_names_the_step_and_the_hints_belong_to_it(system):
    """The change of the front reading with two digits swapped, all that follows worked right."""
    problem = exercises.make("new_front_reading", 3, system)
    at, line = next(
        (at, line) for at, line in enumerate(problem.solution) if line.makes == "front_gain"
    )
    first, second, *rest = f"{line.claim:.4g}"
    slipped = float("".join((second, first, *rest)))
    verdict = exercises.check(problem, f"{carried(problem.solution, at, slipped):.1f}")
    assert verdict.step == at and not verdict.suspects
    assert verdict.finding.endswith(f"comes out with {line.left} = {slipped:.1f} {system}.")
    assert verdict.question == (
        f"Did you have that? Then work out {line.name} again. If not, check the steps after it."
    )
    assert problem.hints_at(verdict.step)[-1] == line.text


def test_what_cannot_be_told_is_said_and_the_first_step_given():
    problem = exercises.make("new_front_reading", 3, "lb")
    verdict = exercises.check(problem, "1234.5")
    assert verdict.finding == "I don't see how 1,234.5 lb came about, or at which step."
    assert verdict.question.startswith("Start at the first: ") and verdict.step == 0


def test_a_result_on_the_way_is_called_one():
    """The moment stands in other units; the change of the front reading in those asked."""
    problem = exercises.make("new_front_reading", 3, "lb")
    at, line = next(
        (at, line) for at, line in enumerate(problem.solution) if line.makes == "front_gain"
    )
    assert exercises.check(problem, f"{line.claim:.5g}").step == at + 1


# --- digits that are typed, and digits that are sure ---------------------------------------------


@pytest.mark.parametrize(
    ("typed", "digits", "end_zeros"),
    [
        ("1380 lb", 4, 1),
        ("1,400 lb", 4, 2),
        ("1380. lb", 4, 0),
        ("1380.0 lb", 5, 0),
        ("13.80 lb", 4, 0),
        ("1.380e3 lb", 4, 0),
        ("-200 lb", 3, 2),
        ("0 lb", 1, 0),
        ("007 lb", 1, 0),
    ],
)
def test_zeros_at_the_end_of_a_whole_number_may_only_hold_a_place(typed, digits, end_zeros):
    got = read_number(typed, "weight", "lb")
    assert (got.digits, got.end_zeros) == (digits, end_zeros)


@pytest.mark.parametrize(
    ("number", "digits", "end_zeros", "asked", "half", "coarse", "sure"),
    [
        (1380, 4, 1, 3, 0.5, 5, 3),
        (1400, 4, 2, 3, 0.5, 5, 3),
        (100, 3, 2, 3, 0.5, 0.5, 3),
        (141, 3, 0, 3, 0.5, 0.5, 3),
        (2, 1, 0, 3, 0.005, 0.5, 1),
        (3.6, 2, 0, 2, 0.05, 0.05, 2),
        (3.6, 2, 0, 3, 0.005, 0.05, 2),
    ],
)
def test_how_far_a_number_may_be_off_by_its_digits(
    number, digits, end_zeros, asked, half, coarse, sure
):
    typed = typed_number(number, digits, False, end_zeros, asked)
    assert (typed.half, typed.coarse) == (pytest.approx(half), pytest.approx(coarse))
    assert typed.digits == sure


def test_a_number_rounded_to_tens_speaks_for_what_rounds_to_it():
    rounded, exact, far = (typed_number(1380, 4, end_zeros=1).likelihood(at)
                           for at in (1376.2, 1380.2, 1390.0))  # fmt: skip
    assert exact > rounded > 20 * far


def test_a_slip_at_three_digits_is_named_where_the_last_digit_is_a_zero():
    """Numbers above a thousand, rounded to tens: they came to four digits, one of them unsure."""
    named, tried = 0, 0
    for seed in range(60):
        problem = exercises.make("front_reading", seed, "lb")
        half = problem.drawn.shown["T"] / 2
        if half < 1000 or exercises.check(problem, typed := f"{float(f'{half:.3g}'):.0f}").right:
            continue
        tried += 1
        found = exercises.check(problem, typed).suspects
        named += any(abs(value_at(compiled(one.tree), problem.drawn.shown) / half - 1) < 1e-9
                     for one in found if one.tree is not None)  # fmt: skip
    assert tried > 5 and named > 0.9 * tried


def test_the_right_number_cut_short_and_a_slip_are_both_said():
    """2 is twice the weight, and 1.77 in one digit."""
    problem = exercises.make("factor", 0, "lb")
    verdict = exercises.check(problem, "2")
    assert [one.name for one in verdict.suspects] == ["cut short", "plain doubling"]
    assert "2 can be the right number rounded to fewer than three digits; or " in verdict.finding


@pytest.mark.parametrize(
    ("name", "typed", "asks"),
    [
        ("formula_front_gain", "W*(1+L/a)", "Make L bigger, and nothing else"),
        ("formula_front_gain", "W*(1+a*L)", "Make L bigger, and nothing else"),
        ("formula_front_gain", "W*a", "?"),
    ],
)
def test_a_wrong_formula_is_asked_about_with_its_letters(name, typed, asks):
    found = exercises.check(exercises.make(name, 1, "lb"), typed)
    assert not found.right and asks in found.question and "{" not in found.question
