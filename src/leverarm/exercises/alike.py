"""One wrong turn made at every like piece: the lever left off all three pieces of a loader.

Pieces are alike where they are built alike from letters of the same kind.  A change of the first is
made at the others with their own letters, everywhere in the expression, or at all but the first.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from leverarm.exercises import readings, rules
from leverarm.exercises.changes import Context, Turn, changes_inside
from leverarm.exercises.expressions.tree import (
    Call,
    Letter,
    Named,
    Num,
    Prod,
    Sum,
    Tree,
    children,
    letters_in,
    product,
    rebuilt,
    replaced,
    total,
    walk,
)

# The letters of a first piece -> the letters that stand in their place in another.
Letters = Mapping[str, str]
EVERYWHERE, BUT_THE_FIRST, THEIR_SUM = 1.0, 0.5, 0.3


def like_changes(tree: Tree, context: Context) -> Iterator[Turn]:
    """Every change that is made at all like pieces of an expression."""
    for pieces, others in _like_pieces(tree, context.kinds):
        first, own = pieces[0], set(letters_in(pieces[0]))
        theirs = {name for letters in others for name in letters.values()} - own
        for change in changes_inside(_bare(first), context):
            if theirs.isdisjoint(letters_in(change.tree)):
                yield from _made_at_all(tree, pieces, others, change)
        yield from _all_together(tree, context.kinds, others)
    yield from _every_function(tree)
    yield from _factors_added(tree, context)


def _made_at_all(
    tree: Tree, pieces: tuple[Tree, ...], others: tuple[Letters, ...], change: Turn
) -> Iterator[Turn]:
    """One change at every like piece, and at all but the first."""
    made = [change.tree]
    for letters in others:
        made.append(replaced(change.tree, {one: Letter(name) for one, name in letters.items()}))
    rest = dict(zip(pieces[1:], made[1:]))
    everywhere = exchanged(tree, {pieces[0]: made[0], **rest})
    yield replace(change, name="alike", tree=everywhere, share=EVERYWHERE * change.share)
    yield replace(change, name="alike", tree=total(*made), share=THEIR_SUM * change.share)
    if len(pieces) > 2:  # else it is a single change
        left = exchanged(tree, rest)
        yield replace(change, name="alike", tree=left, share=BUT_THE_FIRST * change.share)


def _all_together(
    tree: Tree, kinds: Mapping[str, str], others: tuple[Letters, ...]
) -> Iterator[Turn]:
    """The sum of like letters, or their mean, in the place of each: arms added up."""
    for first in others[0]:
        family = [first, *(letters[first] for letters in others)]
        together = total(*map(Letter, family))
        mean = product((together,), (Num(len(family)),))
        for one, share in ((together, 1.0), (mean, 1.0)):
            parts = (Letter(first), one)
            yield Turn("alike", replaced(tree, dict.fromkeys(family, one)), share, parts,
                       "what you get with {1} in place of {0}")  # fmt: skip


def _every_function(tree: Tree) -> Iterator[Turn]:
    """All sines and cosines swapped, all left out, or the calculator set to radians."""
    angles = (rules.sin, rules.cos)
    calls = {node for node in walk(tree) if isinstance(node, Call) and node.function in angles}
    if len(calls) < 2:
        return
    for change, words in _OF_FUNCTIONS:
        made = exchanged(tree, {node: change(node) for node in calls})
        parts = tuple(next(iter(calls)).args[:1])
        yield Turn("alike", made, 1.0, parts, words)


def _swapped(node: Call) -> Tree:
    return Call(rules.cos if node.function is rules.sin else rules.sin, node.args)


def _in_radians(node: Call) -> Tree:
    cosine = node.function is rules.cos
    return Call(readings.cos_of_radians if cosine else readings.sin_of_radians, node.args)


_OF_FUNCTIONS: tuple[tuple[Callable[[Call], Tree], str], ...] = (
    (_swapped, "what you get with sine and cosine swapped"),
    (_in_radians, "what a calculator set to radians gives"),
    (lambda node: Num(1), "what you get when the angle is left out"),
)


def _factors_added(tree: Tree, context: Context) -> Iterator[Turn]:
    """Factors added up where they are multiplied, above and below a fraction line alike."""
    for node in walk(tree):
        if not isinstance(node, Prod):
            continue
        tops, bottoms = (
            [part for part in parts if not isinstance(part, Num)]
            for parts in (node.over, node.under)
        )
        if len(tops) > 1:
            numbers = [part for part in node.over if isinstance(part, Num)]
            below = [total(*bottoms)] if bottoms else []
            below += [part for part in node.under if isinstance(part, Num)]
            made = product((*numbers, total(*tops)), below)
            yield Turn("alike", exchanged(tree, {node: made}), 0.5, tuple(tops[:2]),
                       "what you get when {0} and {1} are added, not multiplied")  # fmt: skip


def exchanged(tree: Tree, new: Mapping[Tree, Tree]) -> Tree:
    """The tree with other nodes for some of its parts."""
    if tree in new:
        return new[tree]
    parts = children(tree)
    return rebuilt(tree, [exchanged(part, new) for part in parts]) if parts else tree


def _like_pieces(
    tree: Tree, kinds: Mapping[str, str]
) -> Iterator[tuple[tuple[Tree, ...], tuple[Letters, ...]]]:
    """Like pieces of every sum of a tree, with the letters that stand for those of the first."""
    seen: set[tuple[Tree, ...]] = set()
    for node in walk(tree):
        if not isinstance(node, Sum):
            continue
        first, *rest = node.terms
        pieces, others = [first], []
        for term in rest:
            letters = _matched(first, term, kinds)
            if letters and not isinstance(_bare(first), Letter):
                pieces.append(term)
                others.append(letters)
        if others and tuple(pieces) not in seen:
            seen.add(tuple(pieces))
            yield tuple(pieces), tuple(others)


def _matched(one: Tree, other: Tree, kinds: Mapping[str, str]) -> dict[str, str] | None:
    """The letters of another tree that stand where those of one do; None where they differ."""
    one, other = _bare(one), _bare(other)
    if isinstance(one, Letter) and isinstance(other, Letter):
        alike = kinds[one.name] == kinds[other.name]
        return ({one.name: other.name} if one != other else {}) if alike else None
    parts, theirs = children(one), children(other)
    if type(one) is not type(other) or len(parts) != len(theirs):
        return None
    if not parts:
        return {} if one == other else None
    if rebuilt(one, theirs) != other:
        return None
    found: dict[str, str] = {}
    for part, its in zip(parts, theirs):
        letters = _matched(part, its, kinds)
        if letters is None or any(found.get(a, b) != b for a, b in letters.items()):
            return None
        found |= letters
    return found


def _bare(tree: Tree) -> Tree:
    return tree.of if isinstance(tree, Named) else tree
