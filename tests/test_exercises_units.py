"""A problem is in one unit system: nothing that a student reads of it is in the other."""

import re

import pytest

from leverarm import exercises, panels
from leverarm.marking import Assignment, practice_ticket

# What these are about is the other unit.
CONVERSIONS = {
    "pounds",
    "kilograms",
    "newtons",
    "psi",
    "inches_and_meters",
    "millimeters_and_meters",
    "feet_and_inches",
    "feet_in_a_ratio",
    "centimeters_in_a_ratio",
}
OTHER = {
    "lb": re.compile(r"\d ?(kg|kPa|N|m|cm|mm|km/h|m²|cm²)\b|\b(kPa|meters)\b"),
    "kg": re.compile(r"\d ?(lb|psi|lbf|ft|mph|in²)\b|\d in\b(?! front)|\b(psi|inches)\b"),
}
KINDS = [kind.name for kind in exercises.problems() if kind.name not in CONVERSIONS]


def read_of(problem):
    """Everything a student may be shown of a problem, wrong answers' replies too."""
    yield from (problem.statement, problem.unit, *problem.given.values(), *problem.hints)
    if problem.style == "choice":
        yield from (text for _, text in problem.options)
        for letter, _ in problem.options:
            verdict = exercises.check(problem, letter)
            yield from (verdict.message, verdict.finding)
    if problem.style == "number":
        for times in (0.5, 1.1, 2, -1):
            typed = f"{times * problem.answer:.5g} {problem.unit}"
            yield exercises.check(problem, typed, sympy=False).message
    for line in problem.solution:
        yield from (line.text, line.words)


@pytest.mark.parametrize("system", ["lb", "kg"])
@pytest.mark.parametrize("name", KINDS)
def test_a_problem_is_in_one_system(name, system):
    for seed in (1, 2):
        for text in read_of(exercises.make(name, seed, system)):
            # "Put 4 × L/3 in." is no length.
            found = OTHER[system].search(
                text.replace("/3 in.", "").replace("/4 in.", "").replace("/5 in.", "")
            )
            assert not found, f"{name}, seed {seed}: {found[0]} in: {text}"


def test_a_choice_tells_numbers_that_belong_together_in_both_systems():
    """190/600 and 400/1250 are 32 percent, 190/790 and 400/1650 are 24."""
    for system, loaded, bare in (("kg", 790, 600), ("lb", 1650, 1250)):
        problem = exercises.make("percent_of_what", 1, system)
        told = [
            int(n.replace(",", "")) for n in re.findall(r"(\d[\d,]*) (?:kg|lb)", problem.statement)
        ]
        assert told == [loaded, bare]
        assert (round(100 * (loaded - bare) / bare), round(100 * (loaded - bare) / loaded)) == (
            32,
            24,
        )
        assert "32 percent" in problem.statement
        assert any("24 percent" in text for _, text in problem.options)


def test_options_stand_in_the_same_order_in_both_systems():
    """The letter is what an answer file keeps; it must mean the same whatever units were shown."""
    for name in ("mass_and_load", "percent_of_what", "digits_to_print", "filled_tires"):
        for seed in range(5):
            kg, lb = (exercises.make(name, seed, system) for system in ("kg", "lb"))
            assert kg.answer == lb.answer
            for letter in "ABCD":
                names = [
                    [one.name for one in exercises.check(problem, letter).suspects]
                    for problem in (kg, lb)
                ]
                assert names[0] == names[1]


def test_without_a_system_a_problem_is_what_it_was():
    """Answer files of before name no system: the seed decides, as it did."""
    drawn = {exercises.make("front_gain", seed).system for seed in range(20)}
    assert drawn == {"kg", "lb"}
    assert Assignment("Old", ["front_gain"]).system == ""


def test_new_homework_is_in_the_units_chosen(tmp_path):
    page = panels.desk(tmp_path / "class")
    assert page.choose.units.value == "lb" and practice_ticket().assignment.system == "lb"
    panels.shared.set(system="kg")
    assert page.choose.units.value == "kg" and practice_ticket().assignment.system == "kg"
    page.choose.units.value = "lb"
    assert page.choose.assignment is not None and panels.shared.system == "kg"
    panels.shared.set(large=True)
    assert page.choose.units.value == "lb", "named for this assignment, whatever is shown"


# 2370 lb on two patches of 30.4 in² is 2370/60.8 = 38.98 psi; 1127/2 lb at 17.5 psi need 32.2 in².
PRESSURES = [
    ("front_pressure", ["F_w = F1/2 =", "p = F_w/A ="]),
    ("patch_needed", ["F_w = F0/2", "A = F_w/N ="]),
]


@pytest.mark.parametrize("name, lines", PRESSURES)
def test_in_pounds_a_pressure_needs_no_g_and_no_conversion(name, lines):
    for seed in range(4):
        problem = exercises.make(name, seed, "lb")
        assert len(problem.solution) == len(lines)
        assert all(line.text.startswith(begin) for line, begin in zip(problem.solution, lines))
        assert "g," not in problem.solution[-1].words
    metric = exercises.make(name, 1, "kg").solution
    assert any("9.80665" in line.text for line in metric), "a kilogram is no newton"


def test_the_pressure_of_pounds_on_inches_by_hand():
    problem = exercises.make("front_pressure", 1, "lb")
    load, patch = (
        float(problem.given[letter].split()[0].replace(",", "")) for letter in ("F1", "A")
    )
    assert problem.answer == pytest.approx(load / (2 * patch), rel=1e-9)
