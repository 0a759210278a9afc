"""A problem is told in one unit system: statement, unit, hints, solution, options and replies."""

import re

import pytest

from leverarm import exercises
from leverarm.quantities import to_unit

KINDS = exercises.problems()
# What belongs to the other system: words, and signs behind a number.
FOREIGN = {
    "lb": re.compile(
        r"\b(kg|kilograms?|met(?:er|re)s?|cm|mm|centimeters?|millimeters?|kPa|newtons?|kN)\b"
        r"|(?<=\d )(?:m|m²|N|t)\b"
    ),
    "kg": re.compile(
        r"\b(lb|lbs|pounds?|inch|inches|feet|foot|psi)\b|(?<=\d )(?:in²|ft|in (?!front)|in$)"
    ),
}
# Whose question is the change from one system into the other, and which reads in both.
CHANGES = {"pounds", "kilograms", "newtons", "psi", "inches_and_meters"}
# A wrong option that says so.
NAMED_AS_WRONG = {"feet_in_a_ratio", "centimeters_in_a_ratio"}
SEEDS = range(4)


def texts(problem):
    yield problem.statement
    yield problem.unit
    yield from problem.hints
    yield from (f"{line.text}. {line.words}" for line in problem.solution)
    yield from (str(option) for option in problem.options)
    yield from (f"{letter}: {value}." for letter, value in problem.given.items())


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_no_foreign_unit_is_read(kind, system):
    if kind.name in CHANGES:
        pytest.skip("its question is the change from one system into the other")
    allowed = {"meters"} if kind.name in NAMED_AS_WRONG and system == "lb" else set()
    for step in kind.steps:
        for seed in SEEDS:
            problem = exercises.make(kind, seed, system, step=step)
            assert problem.system == system
            for text in texts(problem):
                text = re.sub(r"(?<=\d) in (?=front|one equation|all)", " ", text)
                found = {match[0] for match in FOREIGN[system].finditer(text)} - allowed
                assert not found, (text, found)


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_a_reply_says_one_of_two_units(system):
    """A slip's words name both; what a student reads names theirs."""
    seen = 0
    for kind in KINDS:
        for group in kind.listed_mistakes if kind.style == "number" else ():
            both = [one for one in group.mistakes if " or pound" in one.what + one.question]
            if not both:
                continue
            problem = exercises.make(kind, 1, system)
            rule, number = kind.method.rule, group.compute(problem.drawn.values)
            typed = f"{to_unit(number, rule.kind, problem.unit):.6g}"
            reply = exercises.check(problem, typed, sympy=False).message
            assert " or pound" not in reply and not FOREIGN[system].search(reply), reply
            seen += 1
    assert seen >= 3


@pytest.mark.parametrize(
    ("asked", "system", "got"),
    [
        ("feet_and_inches", "kg", "millimeters_and_meters"),
        ("millimeters_and_meters", "lb", "feet_and_inches"),
        ("millimeters_and_meters", "kg", "millimeters_and_meters"),
        ("feet_in_a_ratio", "kg", "centimeters_in_a_ratio"),
        ("centimeters_in_a_ratio", "lb", "feet_in_a_ratio"),
        ("millimeters_and_meters", None, "millimeters_and_meters"),
    ],
)
def test_the_same_question_is_asked_in_the_system_chosen(asked, system, got):
    assert exercises.make(asked, 3, system).kind == got
    assert exercises.make(asked, 3, system, edition=2).kind == asked


def test_the_changes_of_units_are_few_and_named():
    fixed = {kind.name for kind in KINDS if getattr(kind, "system", "")}
    assert fixed - CHANGES == {"feet_and_inches", "millimeters_and_meters"}
