"""Mistakes as single changes of the right method.

The right expression is a tree.  Each change here is one mistake that people make in
any method: a wrong quantity in a place, a ratio upside down, a sign, a term dropped
or doubled, the other axle, a step left off, a unit factor left in, a number rounded
too early.  So a mistake that nobody listed is recognized too.  Two at once are not claimed.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from leverarm.exercises.expressions.tree import (
    Call,
    Letter,
    Named,
    Neg,
    Num,
    Prod,
    Rounded,
    Sum,
    Tree,
    children,
    negative,
    product,
    rebuilt,
    total,
    walk,
)
from leverarm.exercises.problem import Mistake
from leverarm.quantities import KG_PER_LB, KPA_PER_PSI, M_PER_IN, G

HALVES, DOUBLES = 34, 36


@dataclass(frozen=True)
class Context:
    """What the changes may draw on.

    kinds       name -> kind of quantity
    other_axle  name -> expression of the same result at the other axle
    asked       the kind of quantity asked
    signed      whether a change is asked with its sign
    """

    kinds: Mapping[str, str]
    other_axle: Mapping[str, Tree]
    asked: str
    signed: bool = False


def single_changes(tree: Tree, context: Context) -> Iterator[Mistake]:
    """Every single change of an expression, in no order."""
    yield from _whole(tree, context)
    yield from _stopped(tree, context)
    yield from _units(tree, context.asked)
    yield from _cut_early(tree)
    yield from _inside(tree, context)


def _whole(tree: Tree, context: Context) -> Iterator[Mistake]:
    """Changes to the answer as a whole."""
    if context.signed:
        yield Mistake(
            "sign",
            "the right size with the other sign",
            "Which direction counts positive here, and which way does it go?",
            negative(tree),
            10,
        )
    else:
        yield Mistake(
            "sign",
            "the right size with a minus in front",
            "Which direction counts positive here? Can the answer be negative?",
            negative(tree),
            42,
        )
    yield Mistake(
        "half",
        "half of what is asked: one wheel for an axle, or a mean for a sum",
        "Is one wheel asked, or the axle? A mean, or a sum?",
        product((tree,), (Num(2),)),
        HALVES,
    )
    yield Mistake(
        "double",
        "twice what is asked: something was counted twice",
        "Which part did you count twice?",
        product((Num(2), tree)),
        DOUBLES,
    )


def _stopped(tree: Tree, context: Context) -> Iterator[Mistake]:
    """A result on the way, given as the answer."""
    for node in list(walk(tree))[1:]:
        if isinstance(node, Named) and context.kinds[node.name] == context.asked:
            yield Mistake(
                "stopped",
                "{0}, a step on the way",
                "What is asked, and which step is still missing?",
                node,
                26,
                (node,),
            )


_FACTORS = {
    "weight": (
        (float(G), "multiplied by g, as if newtons were asked and not a scale reading"),
        (1 / KG_PER_LB, "divided by 0.4536: kilograms turned into pounds once too often"),
        (float(KG_PER_LB), "multiplied by 0.4536: pounds turned into kilograms once too often"),
    ),
    "length": (
        (1 / M_PER_IN, "multiplied by 39.37: meters turned into inches once too often"),
        (float(M_PER_IN), "divided by 39.37: inches turned into meters once too often"),
        (12, "times 12: feet and inches mixed up"),
        (1 / 12, "divided by 12: feet and inches mixed up"),
        (100, "times 100: meters and centimeters mixed up"),
        (1000, "times 1000: meters and millimeters mixed up"),
    ),
    "share": ((0.01, "as a fraction, not percent"),),
    "number": ((100, "in percent, where a plain number is asked"),),
    "pressure": (
        (1000, "times 1000: pascals and kilopascals mixed up"),
        (0.001, "divided by 1000: pascals and kilopascals mixed up"),
        (1 / KPA_PER_PSI, "divided by 6.895: kPa turned into psi once too often"),
        (float(KPA_PER_PSI), "multiplied by 6.895: psi turned into kPa once too often"),
    ),
    "moment": (
        (float(G), "multiplied by g, as if newtons were asked and not a scale's unit"),
        (1 / 12, "divided by 12: feet and inches mixed up"),
        (12, "times 12: feet and inches mixed up"),
    ),
    "angle": ((math.radians(1), "in radians, where degrees are asked"),),
    "area": (
        (1e-4, "divided by 10 000: square centimeters and meters mixed up"),
        (1e4, "times 10 000: square centimeters and meters mixed up"),
    ),
}


def _units(tree: Tree, asked: str) -> Iterator[Mistake]:
    """The right expression with a unit factor left in or turned over."""
    for factor, words in _FACTORS.get(asked, ()):
        yield Mistake(
            "unit",
            f"the right result {words}",
            "Which unit is asked for, and in which one is your number?",
            product((Num(float(factor)), tree)),
            30,
        )


def _cut_early(tree: Tree) -> Iterator[Mistake]:
    """A number on the way rounded to one digit or two before the last step."""
    whole = (tree, *children(tree)) if isinstance(tree, Named) else (tree,)
    for node in dict.fromkeys(
        node for node in walk(tree) if isinstance(node, (Named, Prod)) and node not in whole
    ):
        for digits in (2, 1):
            yield Mistake(
                "rounded early",
                "what you get when {0} is rounded to "
                f"{'one digit' if digits == 1 else 'two digits'} on the way",
                "Did you round before the end? Keep every digit until the last step.",
                _with(tree, node, Rounded(node, digits)),
                45 - digits,
                (node,),
            )


def _with(tree: Tree, old: Tree, new: Tree) -> Tree:
    """The tree with one node in place of another."""
    if tree == old:
        return new
    parts = children(tree)
    return rebuilt(tree, tuple(_with(part, old, new) for part in parts)) if parts else tree


def _inside(tree: Tree, context: Context, summed: bool = False) -> Iterator[Mistake]:
    """Every change at every place of the tree; summed says whether it is part of a sum."""
    yield from _here(tree, context, summed)
    parts = () if isinstance(tree, Call) else children(tree)
    for at, part in enumerate(parts):
        for mistake in _inside(part, context, summed or isinstance(tree, Sum)):
            assert mistake.tree is not None  # every single change has one
            whole = rebuilt(tree, (*parts[:at], mistake.tree, *parts[at + 1 :]))
            yield replace(mistake, tree=whole)


def _here(node: Tree, context: Context, summed: bool) -> Iterator[Mistake]:
    """The changes at one node."""
    if isinstance(node, (Letter, Named)):
        yield from _another(node, context)
    elif isinstance(node, Sum):
        yield from _terms(node)
    elif isinstance(node, Prod):
        yield from _factors(node, context, summed)
        yield from _brackets(node)


_PLACES = {
    "length": "From where to where does that distance reach?",
    "weight": "Which weight belongs here?",
}


def _another(node: Letter | Named, context: Context) -> Iterator[Mistake]:
    """Another quantity of the same kind in this place: a wrong arm, a wrong axle, a wrong base."""
    if node.name in context.other_axle:
        other = context.other_axle[node.name]
        yield Mistake(
            "other axle",
            "what you get with {1} in place of {0}",
            "Which axle is it about?",
            other,
            18,
            (node, other),
        )
    taken = {node.name, getattr(context.other_axle.get(node.name), "name", "")}
    for name, kind in context.kinds.items():
        if kind == context.kinds.get(node.name) and name not in taken:
            yield Mistake(
                "wrong quantity",
                "what you get with {1} in place of {0}",
                _PLACES.get(kind, "Which number belongs here?"),
                Letter(name),
                20 if isinstance(node, Letter) else 31,
                (node, Letter(name)),
            )


def _terms(node: Sum) -> Iterator[Mistake]:
    """A term dropped, of the other sign, or taken twice."""
    for at, term in enumerate(node.terms):
        rest, bare = (
            node.terms[:at] + node.terms[at + 1 :],
            term.of if isinstance(term, Neg) else term,
        )
        yield Mistake(
            "dropped term",
            "what you get when {0} is left out",
            "Did you include every part?",
            total(*rest),
            24,
            (bare,),
        )
        if at or isinstance(term, Neg):
            yield Mistake(
                "inner sign",
                "what you get when {0} has the other sign",
                "Does this part add, or does it subtract?",
                total(*node.terms[:at], negative(term), *node.terms[at + 1 :]),
                28,
                (bare,),
            )
        if isinstance(term, Prod) and term.under:
            yield Mistake(
                "bracket moved",
                "what you get when the whole sum is divided by {0}, not just one part of it",
                "What belongs above the fraction line?",
                product(
                    (total(*node.terms[:at], product(term.over), *node.terms[at + 1 :]),),
                    term.under,
                ),
                25,
                (product(term.under),),
            )
        yield Mistake(
            "doubled term",
            "what you get when {0} is counted twice",
            "Did you count a part twice?",
            total(*node.terms, term),
            38,
            (bare,),
        )


def _brackets(node: Prod) -> Iterator[Mistake]:
    """Parentheses lost on a calculator: only the last term is divided, or the first multiplied."""
    for bracket in (part for part in node.over if isinstance(part, Sum)):
        first, *middle, last = bracket.terms
        rest = _without(node.over, bracket)
        if rest or node.under:
            yield Mistake(
                "bracket lost",
                "what a calculator gives without the parentheses around {0}",
                "What do the parentheses hold together?",
                total(product((*rest, first)), *middle, product((last,), node.under)),
                23,
                (bracket,),
            )
    for bracket in (part for part in node.under if isinstance(part, Sum)):
        first, *others = bracket.terms
        yield Mistake(
            "bracket lost",
            "what a calculator gives without the parentheses around {0}",
            "What do the parentheses hold together?",
            total(product(node.over, (*_without(node.under, bracket), first)), *others),
            23,
            (bracket,),
        )


def _factors(node: Prod, context: Context, summed: bool) -> Iterator[Mistake]:
    """A ratio upside down, a factor dropped, times in place of divided by.

    In one part of a sum of weights nobody drops a weight: that would add weights and plain numbers.
    """
    for top in node.over:
        rest = _without(node.over, top)
        for bottom in node.under:
            if kind_of(top, context.kinds) == kind_of(bottom, context.kinds) is not None:
                yield Mistake(
                    "upside down",
                    "what you get with {0} over {1}, upside down",
                    "Make one of the two bigger: should the answer grow?",
                    product((*rest, bottom), (*_without(node.under, bottom), top)),
                    22,
                    (bottom, top),
                )
        if (rest or node.under) and not (summed and kind_of(top, context.kinds) == "weight"):
            yield Mistake(
                "dropped factor",
                "what you get when {0} is left out of the product",
                "What is each factor for?",
                product(rest, node.under),
                32,
                (top,),
            )
    for bottom in node.under:
        others = _without(node.under, bottom)
        yield Mistake(
            "not divided",
            "what you get without dividing by {0}",
            "What do you divide by here, and why?",
            product(node.over, others),
            33,
            (bottom,),
        )
        yield Mistake(
            "times for divide",
            "what you get when you multiply by {0} instead of dividing by it",
            "Make it bigger: should the answer grow or shrink?",
            product((*node.over, bottom), others),
            40,
            (bottom,),
        )


def _without(parts: tuple[Tree, ...], one: Tree) -> tuple[Tree, ...]:
    """Several nodes without the first that equals one."""
    at = parts.index(one)
    return parts[:at] + parts[at + 1 :]


def kind_of(node: Tree, kinds: Mapping[str, str]) -> str | None:
    """The kind of quantity a letter, a result or a sum of them is; None for anything else."""
    if isinstance(node, (Letter, Named)):
        return kinds.get(node.name)
    if isinstance(node, (Neg, Sum)):
        return next(filter(None, (kind_of(part, kinds) for part in children(node))), None)
    return None
