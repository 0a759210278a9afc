"""Exercises with everyone's own numbers: the bank, the reading of answers, and feedback that names the slip.

>>> problem = make("front_gain", seed=1)
>>> check(problem, f"{problem.answer:.1f} {problem.unit}").right
True
"""

from leverarm.exercises import bank_lever
from leverarm.exercises.check import Suspect, Verdict, check_number
from leverarm.exercises.kinds import Kind
from leverarm.exercises.problem import Problem, make_number
from leverarm.quantities import Refusal

__all__ = ["Kind", "Problem", "Suspect", "Verdict", "check", "make", "problems"]

_BANK = {kind.name: kind for kind in sorted(bank_lever.KINDS, key=lambda kind: kind.lesson)}


def problems():
    """Every kind in the bank, in lesson order: each with .name, .lesson and .title."""
    return tuple(_BANK.values())


def make(kind, seed, system=None):
    """A problem of a kind with the numbers of a seed; the same kind and seed give the same problem everywhere.

    kind    a kind or its name; seed  a number or text; system  "kg" or "lb", left to the seed if not told
    """
    found = _BANK.get(getattr(kind, "name", kind))
    if found is None:
        raise Refusal("kind", kind, "a name from problems()", "look the name up there")
    if system not in (None, "kg", "lb"):
        raise Refusal("system", system, "'kg' or 'lb'", "choose one of the two")
    return make_number(found, seed, system)


def check(problem, text, tolerance=None):
    """The Verdict on what a student typed: .right .reading .suspects .message."""
    return check_number(problem, text, tolerance)
