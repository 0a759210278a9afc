"""Wrong turns as single changes to the right working.

A working is a tree.  Each change here is one slip that people make at any
working: a wrong letter in a place, a ratio upside down, a sign, a term dropped or
doubled, a step left off, a unit factor left in, a number cut too early.  So a
slip that nobody listed is recognised too, and two slips at once are not claimed.
"""

from dataclasses import dataclass

from leverarm.exercises.spell import text
from leverarm.exercises.trees import (
    Letter, Named, Neg, Num, Prod, Rounded, Sum, children, negative, product, rebuilt, total, walk,
)
from leverarm.quantities import G, KG_PER_LB, M_PER_IN


@dataclass(frozen=True)
class Turn:
    """A wrong turn: what the number is (words), the question that helps, its tree, and how common (0 first)."""

    name: str
    what: str
    ask: str
    tree: object
    rank: int


def edits(tree, kinds, shown, asked):
    """Every single-step change of a working.

    kinds   name -> kind of quantity, for each letter and result of the problem
    shown   name -> what is printed for it
    asked   the kind of quantity the answer is
    """
    yield from _whole(tree)
    yield from _stopped(tree, kinds, shown, asked)
    yield from _units(tree, asked)
    yield from _cut_early(tree)
    yield from _inside(tree, kinds, shown)


def _whole(tree):
    """Changes to the answer as a whole."""
    yield Turn("sign", "the right size with the other sign", "Which way does it go, up or down?", negative(tree), 10)
    yield Turn("half", "half of what is asked: one wheel, one side, or a mean in place of a sum",
               "Is it one wheel or the whole axle that is asked?", product((tree,), (Num(2),)), 34)
    yield Turn("double", "twice what is asked: one part counted twice",
               "Which part has gone in twice?", product((Num(2), tree)), 36)


def _stopped(tree, kinds, shown, asked):
    """A result on the way, given as the answer."""
    for node in list(walk(tree))[1:]:
        if isinstance(node, Named) and kinds[node.name] == asked:
            yield Turn("stopped", f"{shown[node.name]}, a step on the way",
                       "What was asked for, and what is still to do?", node.of, 26)


_FACTORS = {
    "weight": (("g", G, "newtons"), ("lb", 1 / KG_PER_LB, "pounds"), ("kg", float(KG_PER_LB), "kilograms")),
    "length": (("in", 1 / M_PER_IN, "inches"), ("m", float(M_PER_IN), "metres"), ("ft", 1 / 12, "feet"),
               ("cm", 100, "centimetres"), ("mm", 1000, "millimetres")),
    "share": (("fraction", 0.01, "a fraction, not per cent"), ("percent", 100, "per cent taken twice")),
    "number": (("percent", 100, "per cent, not a plain factor"),),
}


def _units(tree, asked):
    """The right working with a unit factor left in or turned over."""
    for name, factor, words in _FACTORS.get(asked, ()):
        yield Turn(f"unit {name}", f"the right size in {words}" if asked != "share" else words,
                   "Which unit is asked for, and which one is your number in?",
                   product((Num(float(factor)), tree)), 30)


def _cut_early(tree):
    """A number on the way cut to two digits before the last step."""
    seen = set()
    for at, node in enumerate(walk(tree)):
        if at and isinstance(node, (Named, Prod)) and node not in seen and children(node):
            seen.add(node)
            for digits in (1, 2):
                cut = Rounded(node, digits)
                yield Turn("rounded early", f"what comes out when {text(node)} is cut to {digits} "
                           f"digit{'s' * (digits > 1)} on the way",
                           "Did you round before the end? Keep every digit until the last step.",
                           _with(tree, node, cut), 44)


def _with(tree, old, new):
    """The tree with one node in place of another."""
    if tree == old:
        return new
    parts = children(tree)
    return rebuilt(tree, tuple(_with(part, old, new) for part in parts)) if parts else tree


def _inside(tree, kinds, shown):
    """Every change at every place of the tree."""
    for turn in _here(tree, kinds, shown):
        yield turn
    parts = children(tree)
    for at, part in enumerate(parts):
        for turn in _inside(part, kinds, shown):
            yield Turn(turn.name, turn.what, turn.ask,
                       rebuilt(tree, parts[:at] + (turn.tree,) + parts[at + 1:]), turn.rank)


def _here(node, kinds, shown):
    """The changes at one node."""
    if isinstance(node, Letter):
        yield from _other_letter(node, kinds, shown)
    elif isinstance(node, Sum):
        yield from _terms(node, shown)
    elif isinstance(node, Prod):
        yield from _factors(node, kinds, shown)


def _other_letter(node, kinds, shown):
    """Another quantity of the same kind in this place: the wrong arm, the wrong axle, the wrong base."""
    kind = kinds[node.name]
    question = {"length": "From where to where does the arm reach?", "weight": "Which weight belongs here?"}
    for other in kinds:
        if kinds[other] == kind and other != node.name and other in shown:
            yield Turn("wrong letter", f"what comes out with {shown[other]} in the place of {shown[node.name]}",
                       question.get(kind, "Which number belongs here?"), Letter(other), 20)


def _terms(node, shown):
    """A term dropped, of the other sign, or taken twice."""
    for at, term in enumerate(node.terms):
        rest, word = node.terms[:at] + node.terms[at + 1:], text(term, shown)
        yield Turn("dropped term", f"what is left when the term {word} is forgotten",
                   "Have all parts of the sum gone in?", total(*rest), 24)
        if at or isinstance(term, Neg):
            yield Turn("inner sign", f"what comes out when {word} goes in with the other sign",
                       "Does this part help or hinder?", total(*rest[:at], negative(term), *rest[at:]), 28)
        yield Turn("doubled term", f"what comes out when {word} goes in twice",
                   "Has a part gone in twice?", total(*node.terms, term), 38)


def _factors(node, kinds, shown):
    """A ratio upside down, a factor dropped, times in place of divided by."""
    for top in node.over:
        rest = tuple(f for f in node.over if f is not top)
        for bottom in node.under:
            if kind_of(top, kinds) == kind_of(bottom, kinds) is not None:
                others = tuple(f for f in node.under if f is not bottom)
                yield Turn("upside down", f"what comes out with {text(top, shown)}/{text(bottom, shown)} upside down",
                           "Make one of the two bigger: should the answer grow?",
                           product(rest + (bottom,), others + (top,)), 22)
        if rest or node.under:
            yield Turn("dropped factor", f"what comes out without the factor {text(top, shown)}",
                       "What is each number in your product for?", product(rest, node.under), 32)
    for bottom in node.under:
        others = tuple(f for f in node.under if f is not bottom)
        yield Turn("not divided", f"what comes out without dividing by {text(bottom, shown)}",
                   "Which length or weight is it a part of?", product(node.over, others), 33)
        yield Turn("times for divide", f"what comes out when {text(bottom, shown)} multiplies, where it divides",
                   "Make it bigger: should the answer grow or shrink?", product(node.over + (bottom,), others), 40)


def kind_of(node, kinds):
    """The kind of quantity a letter, a result or a sum of them is; None for anything else."""
    if isinstance(node, (Letter, Named)):
        return kinds.get(node.name)
    if isinstance(node, (Neg, Sum)):
        return next(filter(None, (kind_of(part, kinds) for part in children(node))), None)
    return None
