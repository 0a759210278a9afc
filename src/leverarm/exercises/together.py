"""One expression behind the wrong numbers of several students, each with their own numbers.

A number that alone speaks for no wrong turn may speak for one together with others: an expression
that gives three students' different numbers, each from its own, is near proof.  Each wrong turn is
weighed as the cause of some of the numbers, and chance as the cause of all.
"""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from leverarm.exercises.evidence import Typed
from leverarm.exercises.expressions.grammar import Unreadable
from leverarm.exercises.feedback import as_mistake
from leverarm.exercises.number_reader import read_number
from leverarm.exercises.numbers import NumberKind
from leverarm.exercises.problem import Mistake, Problem
from leverarm.exercises.suspects import search_for
from leverarm.quantities import from_unit, to_unit

SURE = 10.0  # so many times likelier than chance and everything else together
FEWEST = 2
MOST_FOUND = 3


@dataclass(frozen=True)
class SharedCause:
    """A wrong turn behind several answers.

    mistake     the wrong turn
    of          which of the answers it gives, by their places
    """

    mistake: Mistake
    of: tuple[int, ...]


def typed_as(problem: Problem, text: str) -> Typed | None:
    """A typed number in the unit asked, with its digits; None where it is no single number."""
    kind = problem.source
    if not isinstance(kind, NumberKind):
        return None
    rule = kind.method.rule
    right = from_unit(problem.answer, rule.kind, problem.unit)
    try:
        got = read_number(text, rule.kind, problem.unit, kind.sign == "change", right)
    except Unreadable:
        return None
    if len(got.values) != 1:
        return None
    number = to_unit(got.values[0], rule.kind, problem.unit)
    return kind.as_typed(number, got)


def shared_causes(tries: Sequence[tuple[Problem, str]]) -> tuple[SharedCause, ...]:
    """The wrong turns that two or more of these wrong answers speak for together.

    tries   problems of one kind and one unit system, each with what was typed
    """
    read = [(at, problem, typed_as(problem, text)) for at, (problem, text) in enumerate(tries)]
    left = [(at, problem, typed) for at, problem, typed in read if typed is not None]
    found: list[SharedCause] = []
    while len(left) >= FEWEST and len(found) < MOST_FOUND:
        cause = _best([(problem, typed) for _, problem, typed in left])
        if cause is None:
            break
        found.append(SharedCause(cause.mistake, tuple(left[at][0] for at in cause.of)))
        left = [one for at, one in enumerate(left) if at not in cause.of]
    return tuple(found)


def _best(tries: Sequence[tuple[Problem, Typed]]) -> SharedCause | None:
    """The wrong turn that several numbers speak for, where chance and all others do not."""
    first = tries[0][0]
    method = first.source.method  # type: ignore[attr-defined]  # typed_as let no other kind in
    search = search_for(method, first.system)
    # Of each try, for each turn that it speaks for at all: how far, against chance.
    rows: list[dict[int, float]] = []
    fits: defaultdict[int, list[int]] = defaultdict(list)
    for number, (problem, typed) in enumerate(tries):
        shown = {name: problem.drawn.shown[name] for name in method.given}
        against = search.against(typed, shown)
        rows.append(
            {
                at: weight / (turn.prior * against)
                for at, (weight, turn) in enumerate(
                    zip(search.weights(typed, shown), search.table.turns)
                )
                if weight and turn.prior and against
            }
        )
        for at, ratio in rows[-1].items():
            if ratio > 1:
                fits[at].append(number)
    scores = {
        at: _odds(search.table.turns[at].prior, [row.get(at, 0.0) for row in rows], len(of))
        for at, of in sorted(fits.items())
    }
    whole = math.fsum(scores.values())
    best = max(scores, key=lambda at: scores[at], default=None)
    if best is None:
        return None
    odds, of = scores[best], tuple(fits[best])
    if len(of) < FEWEST or odds < SURE * (1 + whole - odds):
        return None
    return SharedCause(as_mistake(method, search.table.turns[best]), of)


def _odds(prior: float, ratios: Sequence[float], fits: int) -> float:
    """Odds that a wrong turn gave as many of the numbers as fit it, against chance for all."""
    if fits < FEWEST:
        return 0.0
    share = fits / (len(ratios) + 1)
    logs = math.log(prior) + sum(math.log(1 - share + share * ratio) for ratio in ratios)
    return math.exp(min(logs, 600.0))
