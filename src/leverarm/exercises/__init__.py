"""Exercises with everyone's own numbers: the bank, the reading of answers, and feedback that names the slip.

>>> problem = make("front_gain", seed=1)
>>> check(problem, f"{problem.answer:.1f} {problem.unit}").right
True
"""

from leverarm.exercises.bank import BANK, OLD_NAMES
from leverarm.exercises.freebody import FreeBody
from leverarm.exercises.problem import Problem, Suspect, Verdict
from leverarm.exercises.rules import PRINCIPLES
from leverarm.exercises.worked import Line, fade
from leverarm.quantities import Refusal

__all__ = [
    "PRINCIPLES",
    "FreeBody",
    "Line",
    "Problem",
    "Suspect",
    "Verdict",
    "check",
    "fade",
    "kind_named",
    "make",
    "problems",
]


def problems():
    """Every kind in the bank, in lesson order: each with .name .lesson .title .style."""
    return tuple(BANK.values())


def kind_named(name):
    """The kind of a name, today's or one it had before; None where there is none."""
    return BANK.get(OLD_NAMES.get(name, name)) if isinstance(name, str) else None


def make(kind, seed, system=None):
    """A problem of a kind with the numbers of a seed; the same kind and seed give the same problem everywhere.

    kind    a kind or its name; seed  a number or text; system  "kg" or "lb", left to the seed if not told
    """
    name = getattr(kind, "name", kind)
    found = kind_named(name)
    if found is None:
        raise Refusal("kind", name, "a name from problems()", "look the name up there")
    if system not in (None, "kg", "lb"):
        raise Refusal("system", system, "'kg' or 'lb'", "choose one of the two")
    return found.make(seed, system)


def check(problem, text, tolerance=None, *, sympy=True):
    """The Verdict on what a student typed: .right .reading .suspects .message .counts.

    text        as typed; for a free body its lines, or a FreeBody
    tolerance   relative, for numbers; half a percent if not told
    sympy       False leaves out sympy's second opinion on a formula, for marking many
    """
    known = isinstance(text, (str, FreeBody)) and not (
        isinstance(text, FreeBody) and problem.style != "body"
    )
    return problem.source.check(problem, text if known else "", tolerance, sympy)
