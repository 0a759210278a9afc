"""Exercises with everyone's own numbers: the bank, reading answers, naming the mistake.

>>> problem = make("front_gain", seed=1)
>>> check(problem, f"{problem.answer:.1f} {problem.unit}").right
True
"""

from collections.abc import Sequence
from dataclasses import replace

from leverarm.exercises.bank import BANK, OLD_NAMES, proofread
from leverarm.exercises.change_classes import CLASSES
from leverarm.exercises.choices import ChoiceKind
from leverarm.exercises.difficulty import ORDINARY, STEP_WORDS, STEPS
from leverarm.exercises.free_body import FreeBody
from leverarm.exercises.letters import in_one_system
from leverarm.exercises.listed_mistakes import LISTED_MISTAKES
from leverarm.exercises.numbers import NumberKind
from leverarm.exercises.problem import (
    EDITION,
    ONE_SYSTEM,
    Mistake,
    Problem,
    ProblemKind,
    SolutionLine,
    Verdict,
)
from leverarm.exercises.rules import PRINCIPLES
from leverarm.exercises.together import SharedCause, shared_causes
from leverarm.quantities import Refusal

__all__ = [
    "EDITION",
    "PRINCIPLES",
    "STEPS",
    "STEP_WORDS",
    "FreeBody",
    "Mistake",
    "Problem",
    "ProblemKind",
    "SharedCause",
    "SolutionLine",
    "Verdict",
    "check",
    "check_again",
    "kind_named",
    "known_mistakes",
    "make",
    "problems",
    "proofread",
    "shared_causes",
]


def problems() -> tuple[ProblemKind, ...]:
    """Every kind in the bank, in lesson order: each with .name .lesson .title .style."""
    return tuple(BANK.values())


def kind_named(name: object) -> ProblemKind | None:
    """The kind of a name, today's or one it had before; None where there is none."""
    if not isinstance(name, str):
        return None
    return BANK.get(name) or BANK.get(OLD_NAMES.get(name, ""))


def known_mistakes() -> frozenset[str]:
    """Every name that a Mistake can have: listed slips, classes of wrong turns, wrong options."""
    listed = {slip.name for slips in LISTED_MISTAKES.values() for slip in slips}
    options = {
        option.mistake
        for kind in BANK.values()
        if isinstance(kind, ChoiceKind)
        for option in kind.options
    }
    return frozenset(listed | set(CLASSES) | options) - {""}


def make(
    kind: ProblemKind | str,
    seed: object,
    system: str | None = None,
    edition: int = EDITION,
    step: str = ORDINARY,
) -> Problem:
    """A problem of a kind with the numbers of a seed.

    The same kind and seed give the same problem everywhere.

    kind    a kind or its name
    seed    a number or text
    system  "kg" or "lb"; where none is given, the seed decides
    edition the edition of the bank: what was handed out by an earlier one keeps its numbers
    step    "easy" for round numbers, "ordinary", "hard" for a twist; a kind's .steps
    """
    name = getattr(kind, "name", kind)
    found = kind_named(name)
    if found is None:
        raise Refusal("kind", name, "a name from problems()", "look the name up there")
    if system not in (None, "kg", "lb"):
        raise Refusal("system", system, "'kg' or 'lb'", "choose one of the two")
    if edition not in range(1, EDITION + 1):
        allowed = f"an edition from 1 to {EDITION}"
        raise Refusal("edition", edition, allowed, "use the newer workbook that made it")
    other = found.instead.get(system or "") if edition >= ONE_SYSTEM else None
    return (BANK[other] if other else found).make(seed, system, edition, step)


def check(
    problem: Problem,
    text: object,
    tolerance: float | None = None,
    *,
    sympy: bool = True,
    before: Sequence[tuple[Problem, str]] = (),
) -> Verdict:
    """The Verdict on what a student typed: .right .reading .suspects .message .counts.

    text        as typed; for a free body its lines, or a FreeBody
    tolerance   relative, for numbers; half a percent where none is given.  An uncertainty may have
                two digits and a mean must be nearer, whatever it is (leverarm.exercises.tolerance)
    sympy       False leaves out sympy's second opinion on a right formula, for marking many
    before      wrong tries at the same kind with other numbers, as (problem, text): a number that
                is wrong again is told what explains them all, where one thing does
    """
    readable = isinstance(text, str) or (isinstance(text, FreeBody) and problem.style == "body")
    found = problem.source.check(problem, text if readable else "", tolerance, sympy)
    found = _in_its_system(problem, found)
    return check_again(problem, text, found, before) if before and readable else found


def check_again(
    problem: Problem, text: object, alone: Verdict, before: Sequence[tuple[Problem, str]]
) -> Verdict:
    """The Verdict on what was wrong again, where one thing explains it and what came before.

    alone       the Verdict on it alone, which stands where nothing does
    before      wrong tries at the same kind with other numbers, as (problem, text)
    """
    if alone.case != "wrong" or not isinstance(problem.source, NumberKind):
        return alone
    found = problem.source.check_again(problem, str(text), alone, before)
    return _in_its_system(problem, found)


def _in_its_system(problem: Problem, found: Verdict) -> Verdict:
    """A Verdict in the units of its problem."""
    told = [in_one_system(text, problem.system) for text in (found.finding, found.question)]
    if told == [found.finding, found.question]:
        return found
    return replace(found, finding=told[0], question=told[1])
