"""Wrong turns as single changes of a right expression.

The right expression is a tree.  Each change here is one mistake that people make in any method:
a wrong quantity in a place, a ratio upside down, a sign, a term dropped or doubled, a step left
off, another function, a unit factor left in.  The search in ``search`` takes one or two of them.
"""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from leverarm.exercises import readings, rules
from leverarm.exercises.expressions.tree import (
    Call,
    Letter,
    Named,
    Neg,
    Num,
    Power,
    Prod,
    Sum,
    Tree,
    children,
    letters_in,
    negative,
    product,
    rebuilt,
    replaced,
    total,
    walk,
)
from leverarm.exercises.unit_slips import other_unit_factors, unit_slips


@dataclass(frozen=True, slots=True)
class Turn:
    """A wrong turn: its class, its expression, how likely it is in its class, parts for words.

    words   words of its own, where those of the class say too little
    """

    name: str
    tree: Tree
    share: float = 1.0
    parts: tuple[Tree, ...] = ()
    words: str = ""


@dataclass(frozen=True)
class Context:
    """What the changes may draw on.

    kinds       name -> kind of quantity
    pool        kind -> quantities of that kind, each with how near at hand it is
    other_axle  name -> the same result at the other axle
    asked       the kind of quantity asked
    metric      whether every unit of the problem is metric
    """

    kinds: Mapping[str, str]
    pool: Mapping[str, tuple[tuple[Tree, float], ...]]
    other_axle: Mapping[str, Tree]
    asked: str
    metric: bool

    def kind_of(self, node: Tree) -> str | None:
        """The kind of quantity a letter, a result or a sum of them is; None for anything else."""
        if isinstance(node, (Letter, Named)):
            return self.kinds.get(node.name)
        if isinstance(node, (Neg, Sum)):
            return next(filter(None, map(self.kind_of, children(node))), None)
        return None


def single_changes(tree: Tree, context: Context) -> Iterator[Turn]:
    """Every single change of an expression, in no order."""
    yield from _whole(tree, context)
    yield from _results(tree, context)
    yield from _everywhere(tree, context)
    yield from changes_inside(tree, context)


# --- the answer as a whole -------------------------------------------------------------------


def _whole(tree: Tree, context: Context) -> Iterator[Turn]:
    """Changes to the answer as a whole."""
    yield Turn("sign", negative(tree))
    for factor, share in ((2, 1.0), (4, 0.25), (3, 0.15), (5, 0.05)):
        parts = (Num(factor),)
        yield Turn("half", product((tree,), parts), share, parts)
        yield Turn("double", product((*parts, tree)), share, parts)
    for size, share, words in unit_slips(context.asked, context.metric):
        yield Turn("unit", product((Num(size), tree)), share, (), f"the right result {words}")
    if context.asked == "share":
        yield from _of_percent(tree)
    elif context.asked in ("number", "angle"):
        yield from _of_number(tree, context.asked)
    for other, share in context.pool.get(context.asked, ()):
        yield Turn("complement", total(other, negative(tree)), share, (other,))
        yield from _added(tree, other, share)
        if context.asked == "weight":
            ratio = product((tree,), (other,))
            yield Turn("unit", ratio, 0.1 * share, (other,), "the right answer over {0}")
            percent = product((Num(100), tree), (other,))
            yield Turn("unit", percent, 0.1 * share, (other,), "the right answer in percent of {0}")


def _added(tree: Tree, other: Tree, share: float) -> Iterator[Turn]:
    """A quantity added to the right answer, or taken off it."""
    yield Turn("added", total(tree, other), share, (other,))
    less = total(tree, negative(other))
    yield Turn("added", less, share, (other,), "the right answer with {0} taken off")


def _of_percent(tree: Tree) -> Iterator[Turn]:
    hundred = Num(100)
    yield Turn("not yet percent", product((Num(0.01), tree)), 4.0)
    yield Turn("complement", total(hundred, negative(tree)), 4.0, (hundred,))
    yield from _added(tree, hundred, 4.0)
    yield Turn("reciprocal", product((Num(10_000),), (tree,)))
    yield Turn("reciprocal", product((hundred,), (tree,)), 0.3)


def _of_number(tree: Tree, asked: str) -> Iterator[Turn]:
    one = Num(1 if asked == "number" else 90)
    yield Turn("complement", total(one, negative(tree)), 4.0, (one,))
    if asked == "number":
        whole = Num(100) if Num(100) in walk(tree) else one  # an index starts at 100
        yield from _added(tree, whole, 4.0)
        yield Turn("reciprocal", product((one,), (tree,)))


PART = 0.3  # a part of the answer that has no name of its own, given for it


def _results(tree: Tree, context: Context) -> Iterator[Turn]:
    """A result on the way, or another one, given as the answer."""
    for node in list(walk(tree))[1:]:
        if isinstance(node, Named):
            same = context.kinds[node.name] == context.asked
            yield Turn("stopped", node, 1.0 if same else 0.2, (node,))
            if not same and {context.kinds[node.name], context.asked} == {"number", "share"}:
                yield Turn("stopped", product((Num(100), node)), 0.5, (node,))
        elif isinstance(node, (Sum, Prod)):
            yield Turn("stopped", node, PART, (node,))
    for other, share in context.pool.get(context.asked, ()):
        yield Turn("another result", other, share, (other,))
        yield Turn("another result", negative(other), 0.2 * share, (other,))
    for kind, quantities in context.pool.items():
        if kind != context.asked:
            for other, share in quantities:
                yield Turn("another result", other, 0.15 * share, (other,))
    for number, share in ((0, 0.5), (1, 0.3), (2, 0.3), (100, 0.3 * (context.asked == "share"))):
        yield Turn("another result", Num(number), share, (Num(number),))


def _everywhere(tree: Tree, context: Context) -> Iterator[Turn]:
    """Another quantity all the way through, or two of them swapped."""
    letters = () if any(map(_hides_letters, walk(tree))) else letters_in(tree)
    for at, name in enumerate(letters):
        kind = context.kinds.get(name, "")
        for other, share in context.pool.get(kind, ()):
            if other != Letter(name):
                whole = replaced(tree, {name: other})
                yield Turn("wrong everywhere", whole, share, (Letter(name), other))
        for other_name in letters[at + 1 :]:
            if context.kinds.get(other_name) == kind:
                one, two = Letter(name), Letter(other_name)
                yield Turn("swapped", replaced(tree, {name: two, other_name: one}), 1.0, (one, two))


# --- inside the expression -------------------------------------------------------------------


def changes_inside(tree: Tree, context: Context) -> Iterator[Turn]:
    """Every change at every place of a tree."""
    yield from _here(tree, context)
    if _hides_letters(tree):
        return
    parts = children(tree)
    for at, part in enumerate(parts):
        for change in changes_inside(part, context):
            whole = rebuilt(tree, (*parts[:at], change.tree, *parts[at + 1 :]))
            yield Turn(change.name, whole, change.share, change.parts, change.words)


def _hides_letters(node: Tree) -> bool:
    """Whether a node prints itself without its readings: a change of one could not be shown."""
    return isinstance(node, Call) and len(node.args) > 1 and node.function is not rules.mean


def _here(node: Tree, context: Context) -> Iterator[Turn]:
    """The changes at one node."""
    if isinstance(node, (Letter, Named)) or (isinstance(node, Sum) and context.kind_of(node)):
        yield from _another(node, context)
    if isinstance(node, Sum):
        yield from _terms(node)
    elif isinstance(node, Prod):
        yield from _factors(node, context)
        yield from _brackets(node)
    elif isinstance(node, Power):
        yield from _powers(node)
    elif isinstance(node, Num):
        yield from _numbers(node)
    elif isinstance(node, Call):
        yield from _functions(node)


def _another(node: Tree, context: Context) -> Iterator[Turn]:
    """Another quantity of the same kind in this place: a wrong arm, a wrong axle, a wrong base."""
    name = node.name if isinstance(node, (Letter, Named)) else ""
    if name in context.other_axle:
        other = context.other_axle[name]
        yield Turn("other axle", other, 1.0, (node, other))
    kind = context.kind_of(node)
    for other, share in context.pool.get(kind or "", ()):
        if other != node:
            yield Turn("wrong quantity", other, share, (node, other))
    if kind in ("number", "share") and isinstance(node, Letter):
        whole = Num(1 if kind == "number" else 100)
        for other in (total(whole, negative(node)), total(whole, node)):
            yield Turn("wrong quantity", other, 1.0, (node, other))
    if isinstance(node, Letter):
        yield Turn("power", Power(node, 2), 0.5, (node,))
        yield Turn("power", Power(node, 0.5), 0.1, (node,))


def _terms(node: Sum) -> Iterator[Turn]:
    """A term dropped, alone, of the other sign, or taken twice; a bracket around too much."""
    for at, term in enumerate(node.terms):
        before, after = node.terms[:at], node.terms[at + 1 :]
        bare = term.of if isinstance(term, Neg) else term
        yield Turn("dropped term", total(*before, *after), 1.0, (bare,))
        if len(node.terms) > 2:
            yield Turn("one term", term, 1.0, (bare,))
        share = 1.0 if at or isinstance(term, Neg) else 0.5
        yield Turn("inner sign", total(*before, negative(term), *after), share, (bare,))
        yield Turn("doubled term", total(*node.terms, term), 1.0, (bare,))
        if isinstance(bare, Prod):
            sign = -1 if isinstance(term, Neg) else 1
            yield from _bracket_around(before, after, bare, sign)
    if len(node.terms) > 2 or any(isinstance(term, Neg) for term in node.terms):
        sizes = [term.of if isinstance(term, Neg) else term for term in node.terms]
        yield Turn("inner sign", total(*sizes), 1.0, (node,))
    if len(node.terms) > 1 and not any(isinstance(term, Num) for term in node.terms):
        count = (Num(len(node.terms)),)
        yield Turn("one term", product((node,), count), 1.0, (product((node,), count),))


def _bracket_around(
    before: tuple[Tree, ...], after: tuple[Tree, ...], bare: Prod, sign: int
) -> Iterator[Turn]:
    """A factor or a divisor of one term taken for one of the whole sum."""

    def signed(tree: Tree) -> Tree:
        return tree if sign > 0 else negative(tree)

    if bare.under:
        inside = total(*before, signed(product(bare.over)), *after)
        yield Turn("bracket moved", product((inside,), bare.under), 1.0, (product(bare.under),))
    for factor in bare.over if len(bare.over) > 1 else ():
        inside = total(*before, signed(product(_without(bare.over, factor), bare.under)), *after)
        yield Turn("bracket widened", product((inside, factor)), 1.0, (factor,))
        others = product(_without(bare.over, factor), bare.under)
        inside = total(*before, signed(factor), *after)
        yield Turn("bracket widened", product((inside, others)), 1.0, (others,))


def _brackets(node: Prod) -> Iterator[Turn]:
    """Parentheses lost on a calculator: only the last term is divided, or the first multiplied."""
    for bracket in (part for part in node.over if isinstance(part, Sum)):
        first, *middle, last = bracket.terms
        rest = _without(node.over, bracket)
        if rest or node.under:
            lost = total(product((*rest, first)), *middle, product((last,), node.under))
            yield Turn("bracket lost", lost, 1.0, (bracket,))
    for bracket in (part for part in node.under if isinstance(part, Sum)):
        first, *others = bracket.terms
        lost = total(product(node.over, (*_without(node.under, bracket), first)), *others)
        yield Turn("bracket lost", lost, 1.0, (bracket,))


def _factors(node: Prod, context: Context) -> Iterator[Turn]:
    """A ratio upside down, a factor dropped, times in place of divided by."""
    if len(node.under) > 1:
        flat = product((*node.over, *node.under))
        yield Turn("times for divide", flat, 0.5, (product(node.under),))
    for top in node.over:
        rest = _without(node.over, top)
        for bottom in node.under:
            alike = context.kind_of(top) == context.kind_of(bottom) is not None
            turned = product((*rest, bottom), (*_without(node.under, bottom), top))
            yield Turn("upside down", turned, 1.0 if alike else 0.15, (bottom, top))
            wider = total(bottom, top)
            if alike:
                summed = product(node.over, (*_without(node.under, bottom), wider))
                yield Turn("wrong quantity", summed, 1.0, (bottom, wider))
        if rest or node.under:
            yield Turn("dropped factor", product(rest, node.under), 1.0, (top,))
            yield Turn("divide for times", product(rest, (*node.under, top)), 1.0, (top,))
    for bottom in node.under:
        others = _without(node.under, bottom)
        yield Turn("not divided", product(node.over, others), 1.0, (bottom,))
        yield Turn("times for divide", product((*node.over, bottom), others), 1.0, (bottom,))


def _powers(node: Power) -> Iterator[Turn]:
    """A root or a square left out, another power, sides added in place of squares."""
    exponent = float(node.exponent)
    others = {1.0, 1 / exponent, -exponent, exponent + 1, exponent - 1, 2 * exponent, exponent / 2}
    for other in sorted(others - {0.0, exponent}):
        changed = node.base if other == 1 else Power(node.base, other)
        yield Turn("power", changed, 2.0 if other in (1.0, 1 / exponent) else 0.5, (node.base,))
    if exponent == 0.5 and isinstance(node.base, Sum):
        roots = [_root(term) for term in node.base.terms]
        yield Turn("power", total(*roots), 2.0, (node.base,))
    yield Turn("power", product((node, Num(2))), 0.3, (node.base,))
    for factor in (exponent, 1 / exponent):
        yield Turn("power", product((node.base, Num(factor))), 0.5, (node.base,))


def _root(term: Tree) -> Tree:
    if isinstance(term, Neg):
        return negative(_root(term.of))
    square = isinstance(term, Power) and term.exponent == 2
    return term.base if isinstance(term, Power) and square else term


MOST_UNDER_A_ROOT = 13
_roots = (math.sqrt(2), 2.0, math.sqrt(6), 3.0, math.sqrt(12))


def _numbers(node: Num) -> Iterator[Turn]:
    """Another number in the place of a constant."""
    value = float(node.value)
    if value == 0 or value == 1:
        return
    near = other_unit_factors(value)
    if not near:
        near = {value + 1, value - 1, value**2, 2 * value, value / 2, 1 - value}
        if 1 < value < MOST_UNDER_A_ROOT:
            near |= {value**0.5, *(_roots if not value.is_integer() else ())}
    for other in sorted(near - {value, 0.0}):
        number = int(other) if other.is_integer() else other
        yield Turn("number", Num(number), 1.0, (node, Num(number)))


def _functions(node: Call) -> Iterator[Turn]:
    """Another function of the same angle, or another measure of the same readings."""
    for other, share in OTHER_FUNCTIONS.get(node.function, ()):
        yield Turn("function", Call(other, node.args), share, node.args[:1])
    if len(node.args) == 1:
        yield Turn("function", node.args[0], 1.0, node.args)
        if node.function in (rules.sin, rules.cos):
            for part, share in ((100, 1.0), (90, 0.7), (45, 0.5), (180, 0.3)):
                yield Turn("function", product(node.args, (Num(part),)), share, node.args)
            radians = product((*node.args, Num(math.pi)), (Num(180),))
            yield Turn("function", radians, 0.5, node.args)
        elif node.function is rules.degrees:
            for degrees in (0.45, 0.9, 3.6, 1.8, math.degrees(0.01)):
                yield Turn("function", product((*node.args, Num(degrees))), 0.5, node.args)


OTHER_FUNCTIONS: dict[Callable[..., float], tuple[tuple[Callable[..., float], float], ...]] = {
    rules.sin: ((rules.cos, 2.0), (readings.tan, 1.0), (readings.sin_of_radians, 0.7)),
    rules.cos: ((rules.sin, 2.0), (readings.tan, 1.0), (readings.cos_of_radians, 0.7)),
    rules.arctan: (
        *((readings.arcsin, 1.0), (readings.arccos, 0.7), (readings.arctan_in_radians, 1.5)),
        (readings.tan, 0.7),
    ),
    rules.degrees: ((readings.arcsin_of_percent, 1.0), (readings.arccos_of_percent, 0.5),
                    (readings.arctan_of_percent_in_radians, 1.0), (readings.tan, 0.5)),
    **{
        measure: tuple(
            (other, 1.0)
            for other in (rules.mean, rules.scatter, rules.mean_uncertainty, rules.span,
                          *readings.MEASURES)
            if other is not measure
        )
        for measure in (rules.mean, rules.scatter, rules.mean_uncertainty, rules.span)
    },
}  # fmt: skip


def _without(parts: tuple[Tree, ...], one: Tree) -> tuple[Tree, ...]:
    """Several nodes without the first that equals one."""
    at = parts.index(one)
    return parts[:at] + parts[at + 1 :]
