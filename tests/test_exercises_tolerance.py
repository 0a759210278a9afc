"""How near is right: an honest worker who rounds as the lesson teaches is right, a mistake is not.

Two digits of an uncertainty: GUM (JCGM 100:2008) 7.2.6, "it usually suffices to quote ... to at
most two significant digits", and rounding up where it seems fit.  That results on the way keep
one or two digits more than the answer is common practice, no source.
"""

import itertools
import math
from decimal import Decimal

import pytest
from bench import bench_exercises as bench

from leverarm import exercises
from leverarm.exercises import numbers
from leverarm.exercises.expressions.tree import (
    Letter,
    Named,
    Neg,
    Num,
    children,
    compiled,
    rebuilt,
    value_at,
)
from leverarm.exercises.problem import Verdict
from leverarm.exercises.tolerance import Tolerance, rounding_on_the_way, two_figures
from leverarm.quantities import Refusal, to_unit

NUMERIC = bench.numeric()
UNCERTAIN = [
    *("scatter", "mean_uncertainty", "total_uncertainty", "weight_uncertainty"),
    *("expanded_uncertainty", "from_certificate", "from_limits"),
]
DELICATE = [
    *("front_weights", "lead", "lead_from_roll_out", "pressure_growth", "stress_at_depth"),
    *("stress_share", "turn_mismatch"),
]
by_number = pytest.mark.parametrize("kind", NUMERIC, ids=lambda kind: kind.name)


def made(kind, seeds):
    """The problems of a kind in both unit systems."""
    for seed, system in itertools.product(seeds, ("kg", "lb")):
        if not kind.system or kind.system == system:
            yield exercises.make(kind, seed, system)


def cut(number, digits):
    return float(f"{number:.{digits}g}")


def worked(tree, at, digits):
    """What a worker gets who writes down each part with so many digits and goes on with it."""
    if isinstance(tree, (Num, Letter)):
        return compiled(tree)(at)
    if isinstance(tree, Named):
        return worked(tree.of, at, digits)
    if isinstance(tree, Neg):
        return -worked(tree.of, at, digits)
    parts = [Num(worked(part, at, digits)) for part in children(tree)]
    return cut(compiled(rebuilt(tree, parts))({}), digits)


def as_taught(problem, number):
    """A worked number as the question says it: digits of an answer, or decimals of a mean."""
    if problem.kind in UNCERTAIN:
        return f"{cut(number, 2):g}"
    return f"{number:.1f}" if problem.kind == "mean_reading" else f"{cut(number, 3):g}"


@by_number
def test_an_honest_worker_is_right(kind):
    """Five digits on the way, rounded once at the end: right at every seed in both systems."""
    for p in made(kind, range(30)):
        number = worked(kind.method.tree, p.drawn.values, 5)
        asked = number if kind.method.rule.raw else bench.in_answer_unit(p, number)
        assert exercises.check(p, as_taught(p, asked)).right, (p.statement, asked, p.answer)
        assert exercises.check(p, as_taught(p, p.answer)).right


@pytest.fixture
def no_causes(monkeypatch):
    """Right or wrong alone: looking for the cause takes far longer, and says nothing of either."""
    monkeypatch.setattr(numbers, "explained", lambda *told: Verdict(False, ""))
    monkeypatch.setattr(numbers, "wrong_number", lambda *told: Verdict(False, ""))


@by_number
def test_no_listed_mistake_is_right(kind, no_causes):
    """Neither exact nor with the digits that the question allows."""
    for p in made(kind, range(30)):
        for group in kind.listed_mistakes:
            there = value_at(group.compute, p.drawn.values)
            if not math.isfinite(there):
                continue
            asked = bench.in_answer_unit(p, there)
            if kind.sign == "size" and abs(abs(there / p.drawn.right) - 1) < 1e-9:
                continue
            for typed in (repr(asked), f"{cut(asked, 4):g}", as_taught(p, asked)):
                assert not exercises.check(p, typed).right, (p.given, group.mistakes[0], typed)


def test_two_digits_of_an_uncertainty_are_right_and_one_is_not():
    for name in UNCERTAIN:
        for p in made(exercises.kind_named(name), range(60)):
            step = 10 ** (math.floor(math.log10(p.answer)) - 1)
            up = math.ceil(p.answer / step - 1e-9) * step
            for typed in (cut(p.answer, 2), up):
                assert exercises.check(p, f"{typed:.10g} {p.unit}").right, (p.answer, typed)
            one = cut(p.answer, 1)
            if one not in (cut(p.answer, 2), up):
                assert not exercises.check(p, f"{one:g}").right
            assert not exercises.check(p, f"{up + step:.10g}").right
            assert not exercises.check(p, f"{p.answer * 1.011:.6g}").right


def test_two_digits_count_in_the_unit_they_are_typed_in():
    p = exercises.make("total_uncertainty", 2, "kg")
    pounds = p.answer / 0.45359237
    assert exercises.check(p, f"{cut(pounds, 2):g} lb").right


@pytest.mark.parametrize(
    "number, right, fits",
    [
        (3.6, 3.5512, True),
        (3.5, 3.5512, False),
        (3.5, 3.5412, True),
        (3.6, 3.5412, True),  # rounded up
        (3.4, 3.5412, False),
        (3.54, 3.5512, False),  # three figures are held to more
        (10, 9.96, True),
        (11, 10.4, True),
        (9.9, 10.4, False),
        (0.98, 0.975, True),
        (0.97, 0.975, True),
        (-3.6, 3.5512, False),
        (-3.6, -3.5512, True),
        (0, 3.5, False),
        (3.5, 0, False),
    ],
)
def test_two_figures(number, right, fits):
    assert two_figures(number, right) is fits


def test_no_reading_passes_for_the_mean():
    for p in made(exercises.kind_named("mean_reading"), range(500)):
        readings = [told.split(" ")[0] for told in p.given.values()]
        for reading in readings:
            assert not exercises.check(p, reading).right, (p.answer, readings)
        mean = sum(float(reading.replace(",", "")) for reading in readings) / 5
        assert exercises.check(p, f"{mean:.1f}").right
        for off in (-0.3, 0.3):
            assert not exercises.check(p, f"{mean + off:.2f}").right


def test_a_reading_and_a_coarse_mean_are_told_for_what_they_are():
    p = exercises.make("mean_reading", 5, "kg")
    reading = next(iter(p.given.values()))
    assert "one reading" in {one.name for one in exercises.check(p, reading).suspects}
    coarse = f"{round(p.answer)}"
    assert "cut short" in {one.name for one in exercises.check(p, coarse).suspects}


def test_the_question_says_how_near_is_right():
    said = {}
    for kind in NUMERIC:
        for p in made(kind, range(20)):
            sentence = p.source.nearness(p.drawn, p.system).said
            assert sentence in p.statement
            said.setdefault(sentence, set()).add(p.kind)
    by_start = {sentence.split(" ")[0]: kinds for sentence, kinds in said.items()}
    assert by_start["Two"] == set(UNCERTAIN) and by_start["Give"] == {"mean_reading"}
    assert by_start["It"] == set(DELICATE)
    assert by_start["Three"] >= {kind.name for kind in NUMERIC} - {
        *UNCERTAIN,
        *DELICATE,
        "mean_reading",
    }


@pytest.mark.parametrize("name", DELICATE)
def test_a_small_difference_has_the_room_that_rounding_takes(name):
    """Four digits on the way are right in most cases, and never is more given than two percent."""
    right = []
    for p in made(exercises.kind_named(name), range(40)):
        near = p.source.nearness(p.drawn, p.system)
        assert near.room <= 0.0200001 * abs(p.drawn.right)
        number = bench.in_answer_unit(p, worked(p.source.method.tree, p.drawn.values, 4))
        right.append(exercises.check(p, as_taught(p, number)).right)
    assert sum(right) >= 0.9 * len(right), name


def test_rounding_by_hand():
    """Lead 100 (x/y - 1) with x/y = 1.03: half of a thousandth of the ratio, times a hundred."""
    ratio = Letter("x") / Letter("y")
    at = {"x": 2.06, "y": 2.0}
    assert rounding_on_the_way((ratio - 1) * 100, at) == pytest.approx(
        0.05 + 100 * 0.000005, rel=1e-9
    )
    assert rounding_on_the_way(ratio, at) == 0, "the answer itself is rounded at the end"
    root = (Letter("x") * Letter("y")) ** 0.5
    assert rounding_on_the_way(root, at) == pytest.approx(0.5 * 0.0005 / 4.12 * 4.12**0.5, rel=1e-3)


def test_what_an_instructor_tells_widens_what_is_usual_and_no_mean():
    p = exercises.make("mean_reading", 1, "kg")
    assert not exercises.check(p, f"{p.answer + 1:.1f}", tolerance=0.05).right
    q = exercises.make("total_uncertainty", 1, "kg")
    assert exercises.check(q, f"{q.answer * 1.04:.4g}", tolerance=0.05).right
    near = Tolerance("usual", 0.5)
    assert near.accepts(100.5, 100) and not near.accepts(100.51, 100)


# --- hints --------------------------------------------------------------------------------------


@by_number
def test_the_first_hint_prints_no_formula_and_every_hint_treats_the_step_reached(kind):
    for p in made(kind, range(3)):
        for at, line in enumerate(p.solution):
            if not line.kind or line.principle == "units":
                continue
            question, _, step, worked_line = p.hints_at(at)
            formulas = [text for text in (line.letters, line.numbers) if len(text) > 3]
            assert not any(text in question for text in formulas)
            assert "=" not in question.replace("ΣM = 0", "").replace("with k = 2", "")
            assert line.words in step and worked_line == line.text


def test_a_result_on_the_way_is_where_a_student_stopped():
    p = exercises.make("new_front_reading", 3, "kg")
    gain = next(line for line in p.solution if line.name == "the change of the front reading")
    verdict = exercises.check(p, f"{gain.claim:.4g} kg")
    assert p.solution[verdict.step].name == p.solution[-1].name
    assert p.hints_at(verdict.step)[3] == p.solution[-1].text
    assert exercises.check(p, "1111 kg").step == 0


# --- editions -----------------------------------------------------------------------------------


def test_an_earlier_edition_keeps_its_numbers_and_its_mean():
    other = 0
    for seed in range(60):
        before, now = (exercises.make("mean_reading", seed, "kg", edition=n) for n in (1, 2))
        other += before.given != now.given
        assert exercises.check(before, f"{before.answer * 1.004:.1f}").right
    assert 0 < other < 40


@pytest.mark.parametrize("edition", [0, 4, -1, "2", None])
def test_an_edition_that_is_not_there_is_refused(edition):
    with pytest.raises(Refusal, match="edition"):
        exercises.make("mean_reading", 1, "kg", edition=edition)


def test_units_of_the_step():
    p = exercises.make("mean_reading", 1, "lb")
    near = p.source.nearness(p.drawn, "lb")
    assert to_unit(near.room, "weight", "lb") == pytest.approx(0.2), "a tenth of two pounds"


@pytest.mark.parametrize(
    "sort, room, number, right",
    [
        (sort, room, right + sign * room * part, right)
        for sort in ("usual", "mean", "difference", "uncertainty")
        for room, right in ((0.95, 190.0), (0.868, -173.6), (0.0021, 0.42))
        for sign in (1, -1)
        for part in (0, 0.5, 0.9999, 1.0001, 1.5, 4)
    ],
)
def test_a_number_is_right_within_its_room_on_either_side(sort, room, number, right):
    """And two figures of an uncertainty, to the nearest or up, by the decimal module."""
    near = abs(number - right) < room * (1 + 1e-6)
    if sort == "uncertainty":
        step = Decimal(1).scaleb(Decimal(repr(right)).adjusted() - 1)
        shown = Decimal(repr(number))
        whole = abs(shown / step - round(shown / step)) < Decimal("1e-6")
        more = (shown - Decimal(repr(right))) * (1 if right > 0 else -1) / step
        near = near or (whole and Decimal("-0.5") <= more < 1)
    assert Tolerance(sort, room).accepts(number, right) is near


@pytest.mark.parametrize("told, part", [(None, 0.005), (0.01, 0.01), (0.002, 0.002), (0.03, 0.03)])
@pytest.mark.parametrize("name", ["front_gain", "rear_change"])
def test_the_room_is_a_part_of_the_answer_whatever_its_sign(name, told, part):
    """Half a percent, or what an instructor tells."""
    p = exercises.make(name, 3, "kg")
    more = {} if told is None else {"tolerance": told}
    for sign in (1, -1):
        for size, right in ((0.98, True), (1.02, False)):
            typed = f"{p.answer * (1 + sign * part * size):.7g} kg"
            assert exercises.check(p, typed, **more).right is right, typed
