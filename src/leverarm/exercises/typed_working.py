"""A working typed where a number is asked: 110*(1+1.2/1.65), or W(1+a/L)."""

from dataclasses import dataclass

from leverarm.exercises.evaluate import closure, value
from leverarm.exercises.grammar import MOST_TYPED, Unreadable, read, spellings
from leverarm.exercises.spell import text
from leverarm.exercises.trees import letters_of
from leverarm.quantities import from_unit, to_unit, unit_named


@dataclass(frozen=True)
class Typed:
    """The number a typed working gives, in the unit asked; whether letters stand in it; how it was read."""

    number: float
    with_letters: bool
    text: str


def worked_out(work, problem, typed):
    """What a typed working gives, or None where it cannot be read one way only."""
    letters = spellings({work.letters[name].shown: name for name in work.given})
    trees, unit = _trees(typed, letters, work.rule.kind)
    if len(trees) != 1:
        return None
    used = letters_of(trees[0])
    number = value(closure(trees[0]), problem.inner.values)
    if number != number or abs(number) > 1e12:
        return None
    if not used and unit:
        number = to_unit(from_unit(number, work.rule.kind, unit), work.rule.kind, problem.unit)
    elif used and not work.rule.raw:
        number = to_unit(number, work.rule.kind, problem.unit)
    return Typed(
        number, bool(used), text(trees[0], {name: work.letters[name].shown for name in work.given})
    )


def _trees(typed, letters, kind):
    """The readings of a working, and the unit at its end if there is one."""
    if len(typed) > MOST_TYPED:
        return (), ""
    body = typed.rsplit("=", 1)[-1].strip()
    head, _, last = body.rpartition(" ")
    unit = unit_named(last, kind) if head else None
    for attempt, with_unit in ([(head, unit)] if unit else []) + [(body, "")]:
        try:
            return read(attempt, letters), with_unit
        except Unreadable:
            continue
    return (), ""
