"""Worked solutions: every line is worked out again, as a tree and as printed; hints."""

import math
from collections import Counter

import pytest
from class_files import demo_codes, ticket_of

from leverarm import exercises, panels
from leverarm.exercises import solution
from leverarm.exercises.expressions.equivalence import exact_value
from leverarm.exercises.expressions.grammar import MOST_TYPED, Unreadable, read_formula
from leverarm.exercises.expressions.tree import Call, Power, compiled, value_at, walk
from leverarm.marking import Assignment
from leverarm.marking.assignment import file_text

NUMERIC = [kind for kind in exercises.problems() if kind.style == "number"]
CASES = [
    (kind, seed, system)
    for kind in NUMERIC
    for seed, system in ((1, "kg"), (2, "lb"))
    if not kind.system or kind.system == system
]


def plain_number(text):
    """A printed number without its unit."""
    return float(text.split(" ")[0].replace(",", "").replace("−", "-"))


@pytest.mark.parametrize(
    "kind, seed, system", CASES, ids=[f"{k.name}-{system}" for k, _, system in CASES]
)
def test_every_line_holds_as_a_tree_and_as_it_is_printed(kind, seed, system):
    p = exercises.make(kind, seed, system)
    lines = p.solution
    for line in lines:
        assert (
            line.principle in exercises.PRINCIPLES
            and line.words
            and line.text.startswith(line.left)
        )
        there = value_at(compiled(line.tree), line.at)
        scale = abs(line.claim) or max(abs(number) for number in line.at.values())
        assert abs(there - line.claim) <= 1e-9 * scale, line.text
        odd = any(
            isinstance(t, Call) or (isinstance(t, Power) and t.exponent == 1.25)
            for t in walk(line.tree)
        )
        if line.numbers and not odd and line.claim:
            (tree,) = read_formula(line.numbers.replace(",", ""), ["π"])
            printed = (
                float(exact_value(tree, {}))
                if not any(mark in line.numbers for mark in ("sqrt", "^", "π"))
                else compiled(tree)({"π": math.pi})
            )
            assert printed == pytest.approx(plain_number(line.result), rel=2e-3), line.text
    assert plain_number(lines[-1].result) == pytest.approx(p.answer, rel=6e-4)
    assert p.unit.replace("2", "²") in lines[-1].result


def test_a_solution_in_the_student_s_own_numbers():
    p = exercises.make("front_gain", 1)
    # 301 x 53.5 = 16,103.5; over 68.5 235.0876; 301 + 235.09 = 536.09
    assert [line.text for line in p.solution] == [
        "M = W × a = 301 × 53.5 = 16,104 lb in",
        "ΔR = −M/L = −16,104/68.5 = −235.1 lb",
        "ΔF = W − ΔR = 301 − (−235.09) = 536.1 lb",
    ]


def test_a_homework_problem_is_worked_out_once(tmp_path, monkeypatch):
    """Counted on the page: a hint, a wrong answer, another hint, the solution opened twice."""
    calls, whole = Counter(), solution.solution_in_numbers

    def counted(method, problem):
        calls[problem.seed] += 1
        return whole(method, problem)

    monkeypatch.setattr(solution, "solution_in_numbers", counted)
    week = Assignment("Week 3", ["front_gain", "rear_change"], tries=3, hints=4)
    (tmp_path / "Week_3.assignment.txt").write_text(file_text(week))
    page = panels.homework(tmp_path)
    page.start(demo_codes(1)[0], ticket_of(demo_codes(1)[0], week).key)
    page.hint()
    assert not page.answer(page.problem.given["W"]).right
    page.hint()
    page.show_solution()
    page.show_solution()
    assert '<i>ΔR</i> = −<span class="lv-frac"><span><i>M</i>' in page.solution.value
    assert calls == {page.problem.seed: 1}


@pytest.mark.parametrize("kind", exercises.problems(), ids=lambda kind: kind.name)
def test_the_hint_ladder_goes_from_a_question_to_a_worked_step(kind):
    p = exercises.make(kind, 1)
    question, picture, step, worked = p.hints
    assert len({question, picture, step, worked}) == 4
    assert "?" in question or "must be" in question or "Which" in question
    if kind.style == "number":
        assert picture.startswith("Draw") and all(told in picture for told in p.given.values())
        assert step.startswith("Principle: ") and worked.count("=") >= 1
        result = str(p.solution[-1].result)
        assert result in p.given.values() or result not in question + picture + step


@pytest.mark.parametrize("kind", NUMERIC, ids=lambda kind: kind.name)
def test_names_in_one_working_are_told_apart(kind):
    p = exercises.make(kind, 1)
    assert len(p.given) == len(kind.given)
    lefts = [line.left for line in p.solution if line.principle != "units" and not line.equation]
    assert len(set(lefts)) == len(lefts), lefts


@pytest.mark.parametrize("kind", NUMERIC, ids=lambda kind: kind.name)
def test_a_wrong_answer_gets_goal_finding_and_question(kind):
    p = exercises.make(kind, 1)
    for factor in (0.31, 1.37, 4.4):
        verdict = exercises.check(p, f"{p.answer * factor:.5g}")
        if verdict.case == "wrong":
            assert (
                verdict.goal.startswith("The question asks for ")
                and verdict.reading in verdict.finding
                and verdict.question
            )
            low = verdict.message.lower()
            assert not any(
                word in low for word in ("you always", "score", "marks", "wrong", "stupid", "safe")
            )


def test_what_cannot_be_read_back_is_bounded_too():
    with pytest.raises(Unreadable):
        read_formula("1+" * MOST_TYPED, [])
