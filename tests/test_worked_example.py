"""Worked examples: as many stages as steps, letters before use, blanks that say what is wrong.

Numbers are worked by hand here, or by the bank's own answer, which another road leads to.
"""

import math
import re
from html import unescape

import pytest

from leverarm import Refusal, exercises
from leverarm.data import parsed
from leverarm.exercises.typeset import plain_letters, typeset
from leverarm.exercises.worked import (
    FURTHER,
    known_letters,
    read_further,
    reply_to_step,
    worked_steps,
)
from leverarm.panels import worked_example
from leverarm.panels.base import shared
from leverarm.panels.worked_example import example_picture, step_html

KINDS = exercises.problems()
NUMERIC = [kind for kind in KINDS if kind.style == "number"]
# A letter as it stands in a formula, functions and units left out.
LETTER = re.compile(r"[^\W\d_]+(?:_[^\W_]+|\d+)?")
WORDS = {"sqrt", "sin", "cos", "arctan", "tan", "scatter", "mean", "lb", "kg"}


@pytest.fixture(params=["lb", "kg"])
def system(request):
    before = shared.system
    shared.set(system=request.param)
    yield request.param
    shared.set(system=before)


def heard(markup):
    """What a reader hears."""
    return " ".join(unescape(re.sub(r"<[^>]+>", "", markup)).split())


def seen(panel):
    """Everything a worked example shows, without its tags."""
    parts = [panel.head.value, panel.picture.value]
    for line in panel.lines:
        parts += [line.widget.children[0].value, line.box.description, line.reply.value]
    return re.sub(r"<style.*?</style>|<[^>]+>", " ", " ".join(parts))


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_step_and_picture_is_written_out(kind, system):
    problem = exercises.make(kind, 4, system)
    steps, known = worked_steps(problem), known_letters(problem)
    assert steps
    shown = [step_html(step) + plain_letters(step.letter) for step in steps]
    if known:
        scene = example_picture(problem)
        shown.append(scene.desc)
        shown += [getattr(shape, "text", "") for shape in scene.shapes]
    for text in shown:
        assert "{" not in text and "_" not in text and "None" not in text, text
    for step, text in zip(steps, shown, strict=False):
        assert (step.value is not None) == (kind.style == "number")
        assert heard(text).endswith(plain_letters(step.letter)) and len(heard(text)) > 5


# One kind of each style in each lesson.
SAMPLE = list({(kind.style, kind.lesson): kind.name for kind in KINDS}.values())


@pytest.mark.parametrize("name", [*SAMPLE, *FURTHER])
def test_as_many_stages_as_steps_and_real_blanks(name, system):
    panel = worked_example(name, 4)
    count, number = panel.stages, panel.problem.style == "number"
    assert count == len(worked_steps(panel.problem)) >= 1
    panel.go(count - 1)
    assert panel.next_button.disabled
    for line in panel.lines:
        assert line.blank == (line.box in parts(line.widget)) == number
    text = seen(panel)
    assert "{" not in text and "_" not in text and f"stage {count} of {count}" in text
    with pytest.raises(Refusal, match="choose one"):
        panel.go(count)


def parts(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from parts(child)


@pytest.mark.parametrize("stage", [-1, 4, 1.5, "1"])
def test_a_stage_that_is_none(stage):
    with pytest.raises(Refusal, match="0 to 3"):
        worked_example("front_gain").go(stage)


@pytest.mark.parametrize("name", ["front_gain", "loader_front", "plank_right", "lead"])
def test_more_steps_are_the_readers_own_each_time(name, system):
    panel = worked_example(name)
    count = panel.stages
    for stage in range(count):
        panel.go(stage)
        mine = count if stage == count - 1 else stage
        assert [line.blank for line in panel.lines] == [False] * (count - mine) + [True] * mine


@pytest.mark.parametrize("kind", NUMERIC, ids=lambda kind: kind.name)
def test_a_letter_is_introduced_before_it_is_used(kind, system):
    for seed in range(3):
        problem = exercises.make(kind, seed, system)
        known = {letter for letter, words, value in known_letters(problem) if words and value}
        assert known == set(problem.given)
        for step in worked_steps(problem):
            assert step.name and step.why
            # The sentence of a step tells g; everybody knows π.
            told = {"π"} | ({"g"} if "g = 9.80665" in step.why else set())
            used = set(LETTER.findall(f"{step.letters} {step.numbers}")) - WORDS - told
            assert used <= known, (step.letter, used - known)
            known.add(step.letter)
            assert set(LETTER.findall(" ".join(step.balance))) - told <= known
            if step.check:
                assert step.check in known


@pytest.mark.parametrize("kind", NUMERIC, ids=lambda kind: kind.name)
def test_the_blanks_take_the_right_number_and_no_other(kind, system):
    problem = exercises.make(kind, 5, system)
    steps, known = worked_steps(problem), known_letters(problem)
    for at, step in enumerate(steps):
        assert reply_to_step(steps, at, step.result, known)[0], step
        assert reply_to_step(steps, at, f"{step.value:.6g}", known)[0]
        for wrong in (1.02, 0.98, -1.0, 1.37):
            right, said = reply_to_step(steps, at, f"{step.value * wrong:.7g}", known)
            assert not right and said.endswith((".", "?"))
    assert math.isclose(
        {step.letter: step.value for step in steps}[kind.method.rule.shown],
        problem.answer,
        rel_tol=1e-9,
    )


@pytest.mark.parametrize("name", FURTHER)
def test_an_example_comes_to_the_answer_of_the_bank_and_its_check_holds(name, system):
    for seed in range(12):
        problem = exercises.make(name, seed, system)
        steps = worked_steps(problem)
        values = {
            letter: float(value.split()[0].replace(",", ""))
            for letter, _, value in known_letters(problem)
        }
        values |= {step.letter: step.value for step in steps}
        assert math.isclose(values[problem.source.method.rule.shown], problem.answer, rel_tol=1e-9)
        for step in steps:
            if step.check:
                # Readings of the problem are rounded to the scale's step.
                assert values[step.check] == pytest.approx(step.value, rel=3e-3)


def test_the_route_of_lesson_02_worked_by_hand():
    problem = exercises.make("front_gain", "1/0", "lb")
    assert problem.given == {"W": "355 lb", "a": "58.5 in", "L": "65.0 in"}
    # 355 x 58.5 = 20,767.5; / 65 = 319.5; 355 + 319.5 = 674.5; 674.5 - 319.5 = 355
    assert [(step.letter, step.principle, step.value) for step in worked_steps(problem)] == [
        ("M", "definition", 20767.5),
        ("ΔR", "front", -319.5),
        ("ΔF", "forces", 674.5),
        ("ΔT", "forces", 355.0),
    ]


# By hand, lb and in, from the numbers that each problem gives.
# 04: 296 x (1 + 53.5/57.5) = 571.41, 262 x (1 + 25.5/57.5) = 378.19, 604 x (1 + 15.25/57.5) =
# 764.19; sum 1,713.79. 08, kg and m: 498 + 762 = 1,260; 762 - 252 = 510; 1.39/1.45 + 0.2 = 1.15862;
# 510/1.15862 = 440.18; rear 762 - 440.18 x 1.39/1.45 = 340.04 = (1,260 + 440.18)/5.
# 11: 27.25/26 = 1.048077, lead 4.8077 percent.
@pytest.mark.parametrize(
    ("name", "units", "given", "wanted"),
    [
        (
            "loader_front",
            "lb",
            {"W1": "296 lb", "a3": "15.25 in"},
            [571.41, 378.19, 764.19, 1713.79, 1713.79],
        ),
        (
            "load_that_keeps_a_fifth",
            "kg",
            {"F0": "498 kg", "R0": "762 kg"},
            [1260, 440.18, 340.04, 340.04],
        ),
        (
            "lead_from_roll_out",
            "lb",
            {"n_in": "27.25", "n_out": "26.00"},
            [1.048077, 4.8077, 27.25],
        ),
    ],
)
def test_routes_of_later_lessons_worked_by_hand(name, units, given, wanted):
    problem = exercises.make(name, 1, units)
    assert {letter: problem.given[letter] for letter in given} == given
    assert [step.value for step in worked_steps(problem)] == pytest.approx(wanted, rel=2e-5)


@pytest.mark.parametrize(
    ("name", "units", "balances", "reason"),
    [
        ("overhang_from_readings", "lb", ["W × a = −ΔR × L"], "About the front axle, the weight"),
        ("canceling_ballast", "kg", ["B × b = ΔF × L"], "the ballast with the arm b must balance"),
        (
            "load_that_keeps_a_fifth",
            "lb",
            ["R0 − Q × a/L = (T0 + Q)/5", "R0 − T0/5 = Q × (a/L + 1/5)"],
            "About the front axle, the load takes",
        ),
    ],
)
def test_a_step_shows_every_equation_it_is_solved_from_with_its_reason(
    name, units, balances, reason
):
    (step,) = [
        one
        for one in worked_steps(exercises.make(name, 3, units))
        if one.balance and one.letter == exercises.kind_named(name).method.rule.shown
    ]
    assert list(step.balance) == balances and reason in step.why
    shown = step_html(step)
    assert shown.count("<div>") >= len(balances)
    for one in balances:
        assert typeset(one) in shown


def test_a_line_for_each_piece_then_the_sum():
    steps = worked_steps(exercises.make("loader_rear", 2, "lb"))
    assert [step.letter for step in steps] == ["ΔR1", "ΔR2", "ΔR3", "ΔR"]
    assert steps[0].letters == "−W1 × a1/L"
    assert steps[3].value == pytest.approx(sum(step.value for step in steps[:3]))


# The change of the rear, −319.5 lb: −144.9 kg.
@pytest.mark.parametrize(
    ("typed", "right", "said"),
    [
        ("-319.5 lb", True, "That is it."),
        ("319.5 lb lost", True, "That is it."),
        ("−144.9 kg", True, "That is it."),
        ("-320", True, "Read as −320 lb"),
        ("319.5 lb", False, "gain or a loss"),
        ("-144.9", False, "right in kg"),
        ("355 lb", False, "that is W, the hung weight, which was given"),
        ("674.5 lb", False, "that is ΔF, the change of the front reading"),
        ("-3195 lb", False, "decimal point"),
        ("-100 lb", False, "Put the numbers into ΔR = −M/L"),
        ("-3 m", False, "measures length"),
        ("about as much", False, "cannot be read as a number"),
        ("", False, "Nothing was typed"),
        ("x" * 500, False, "characters long"),
        ("<b>1</b>", False, "cannot be read"),
    ],
)
def test_a_blank_says_what_is_wrong_and_keeps_what_was_typed(typed, right, said):
    before = shared.system
    shared.set(system="lb")
    try:
        panel = worked_example("front_gain")
        panel.go(3)
        problem = exercises.make("front_gain", "1/0", "lb")
        steps, known = worked_steps(problem), known_letters(problem)
        got = reply_to_step(steps, 1, typed, known)
        assert got[0] == right and said in got[1]
        panel.answer(2, result=typed, principle="front")
        assert panel.lines[1].box.value == typed
        assert "<b>1</b>" not in panel.lines[1].reply.value
    finally:
        shared.set(system=before)


def test_thousands_are_read_as_the_reader_means_them():
    problem = exercises.make("front_gain", "1/0", "lb")
    steps, known = worked_steps(problem), known_letters(problem)
    assert reply_to_step(steps, 0, "20,768 lb·in", known)[0]
    assert reply_to_step(steps, 0, "20767.5", known)[0]


def test_it_fades_and_asks_for_the_principle(system):
    panel = worked_example("front_gain", 2)
    assert not panel.check() and "Choose the principle" in panel.lines[0].reply.value
    assert not panel.answer(1, principle="rear")
    assert "Another principle" in panel.lines[0].reply.value
    for stage in range(panel.stages):
        panel.go(stage)
        for at, line in enumerate(panel.lines, 1):
            panel.answer(
                at,
                result=line.step.result if line.blank else None,
                principle=line.step.principle,
            )
        assert panel.check() and stage in panel.done
    assert "worked the whole example yourself" in panel.end.value


def test_every_picture_says_in_words_what_it_shows(system):
    for name in ("front_gain", "loader_front", "plank_right", "front_pressure", "lead"):
        panel = worked_example(name)
        problem = panel.problem
        (desc,) = set(re.findall(r"<desc[^>]*>(.*?)</desc>", panel.picture.value))
        assert all(value in unescape(desc) for value in problem.given.values())


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("W × (1 + a/L)", "W × (1 + a over L)"),
        ("100 × ΔF1/ΔF", "100 × ΔF1 over ΔF"),
        ("(F1 − F0)/(2 × A)", "F1 − F0 over 2 × A"),
        ("sqrt(u^2 + u^2)", "square root of u to the power 2 + u to the power 2"),
        ("−L × ΔR/(ΔF + ΔR)", "−L × ΔR over ΔF + ΔR"),
        ("ΔF × L − W × (L + a) = 0", "ΔF × L − W × (L + a) = 0"),
        ("u_W", "uW"),
        ("<b>", "<b>"),
        ("(1 + (2", "(1 + (2))"),
        ("", ""),
    ],
)
def test_typeset_formulas_are_heard_as_they_are_meant(text, says):
    assert heard(typeset(text)) == says


def test_a_fraction_stands_one_over_the_other():
    assert '<span class="lv-frac"><span>53.5</span>' in typeset("1 + 53.5/68.5")
    assert typeset("u_W") == "<i>u</i><sub>W</sub>" and typeset("T0") == "<i>T</i><sub>0</sub>"


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ('[[after]]\nname = "x"\n[[after.step]]\nletter = "M"', "name"),
        (
            '[[after]]\nname = "x"\n[[after.step]]\nletter = "M"\nname = "m"\nkind = "mass"',
            "kind",
        ),
    ],
)
def test_a_step_that_cannot_be_used_is_refused(text, named):
    with pytest.raises(Refusal, match=named):
        read_further(parsed(text, "worked.toml"))
