"""What to say about a wrong number: the goal, what the number is, the next question.

Several mistakes can lead to one number.  Then all are named, none is claimed, and
the question is a second try with other numbers, which tells them apart.  Feedback that
explains helps most, right or wrong alone hardly at all (Van der Kleij et al. 2015).
"""

from collections.abc import Sequence

from leverarm.exercises.expressions.tree import (
    Letter,
    Named,
    Num,
    Tree,
    formula_text,
    value_at,
    written_out,
)
from leverarm.exercises.method import Method, words_of
from leverarm.exercises.mistakes import MistakeGroup
from leverarm.exercises.number_reader import UNIT_WORDS, printed_unit, significant
from leverarm.exercises.problem import Mistake, Problem, Verdict
from leverarm.exercises.rules import Rule
from leverarm.quantities import to_unit

APART = 0.05
STRETCHED = (1.5, 2.0, 0.75)


def wrong_number(
    method: Method,
    problem: Problem,
    shown: str,
    groups: Sequence[MistakeGroup],
    first: tuple[Mistake, ...] = (),
) -> Verdict:
    """The Verdict on a wrong number that these groups of mistakes lead to.

    first   mistakes found in another way, named before the others
    """
    found = [mistake for group in groups for mistake in group.mistakes]
    suspects = first + tuple(
        in_own_numbers(method, problem, mistake)
        for at, mistake in enumerate(found)
        if mistake.name != "rounded early" or mistake.name not in [one.name for one in found[:at]]
    )
    unit = UNIT_WORDS.get(problem.unit, printed_unit(problem.unit))
    unit = "" if not unit or method.rule.raw or unit in method.rule.words else f", in {unit}"
    goal = f"The question asks for {method.rule.words}{unit}."
    if not suspects:
        return Verdict(
            False, shown, (), "wrong", goal, *cause_unknown(shown, method.rule, problem.system)
        )
    if len(suspects) == 1:
        finding, question = f"{shown} is {suspects[0].what}.", suspects[0].question
    else:
        # Two mistakes may have the same words: each is said once.
        said = dict.fromkeys(suspect.what for suspect in suspects)
        finding = f"{shown} {'can be' if len(said) > 1 else 'is'} {'; or '.join(said)}."
        if len(groups) == 1 and len(suspects) == len(groups[0].mistakes):
            question = (
                f"Both lead to the same formula. {suspects[0].question} {suspects[1].question}"
            )
        else:
            retry = _second_try(method, problem, groups) if len(groups) > 1 else ""
            question = f"Which of these was it? {retry or suspects[0].question}"
    return Verdict(False, shown, suspects, "wrong", goal, finding, question)


def cause_unknown(shown: str, rule: Rule, system: str) -> tuple[str, str]:
    """Finding and question where no known mistake leads to the answer."""
    return (
        f"{shown} is not the answer, and I do not see how it came about.",
        f"Check this step first: {rule.reason(system)}",
    )


def in_own_numbers(method: Method, problem: Problem, mistake: Mistake) -> Mistake:
    """A mistake with this problem's own numbers in its words."""
    parts = (_part_words(method, problem, part) for part in mistake.parts)
    return Mistake(mistake.name, mistake.what.format(*parts), mistake.question)


def _part_words(method: Method, problem: Problem, part: Tree) -> str:
    """A part of an expression in words: a quantity by its name, anything else with its numbers."""
    if isinstance(part, (Letter, Named)):
        return words_of(part.name)
    if isinstance(part, Num):
        return f"the number {formula_text(part)}"
    letters = [method.letters[name] for name in method.given]
    units = {letter.kind: letter.unit(problem.system) for letter in letters}
    # Where two given numbers of one kind have different units, bare numbers would mislead.
    if any(letter.unit(problem.system) != units[letter.kind] for letter in letters):
        names = {name: words_of(name).removeprefix("the ") for name in method.given}
    else:
        names = method.given_numbers(problem)
    return formula_text(written_out(part), names)


def _second_try(method: Method, problem: Problem, groups: Sequence[MistakeGroup]) -> str:
    """Another value of one given number that tells the first two groups apart, and both results."""
    for name in method.given:
        letter = method.letters[name]
        base = letter.base(problem.drawn.shown[name], problem.system)
        for factor in STRETCHED:
            moved = letter.snapped(base * factor, problem.system)
            value = moved if method.rule.raw else letter.base(moved, problem.system)
            at = problem.drawn.values | {name: value}
            # In order of size, so that the order does not give the answer away.
            low, high = sorted(value_at(group.compute, at) for group in groups[:2])
            if high - low > APART * max(abs(low), abs(high), 1e-12):
                unit = f" {printed_unit(problem.unit)}" if problem.unit else ""
                return (
                    f"Work yours again with {words_of(name)} at "
                    f"{letter.printed(moved, problem.system)}: do you get "
                    f"{_in_unit_asked(method, problem, low)} or "
                    f"{_in_unit_asked(method, problem, high)}{unit}?"
                )
    return ""


def _in_unit_asked(method: Method, problem: Problem, value: float) -> str:
    """A result with three digits, in the unit asked."""
    number = value if method.rule.raw else to_unit(value, method.rule.kind, problem.unit)
    return significant(number, 3)
