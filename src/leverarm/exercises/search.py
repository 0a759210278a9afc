"""The wrong turns of a kind of problem, searched for and not listed.

The right expression is written in several shapes; single changes of these, carried forward, and
some pairs of changes make a table, merged where they come to the same number, the likeliest kept.
Listed slips stand in the same table, with words of their own.  A table is built at the first
wrong try, from the numbers as a statement shows them; nothing else waits for it.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from leverarm.exercises.alike import like_changes
from leverarm.exercises.at_hand import context_of
from leverarm.exercises.change_classes import CLASSES, TWO
from leverarm.exercises.changes import Turn, changes_inside, single_changes
from leverarm.exercises.dimensions import sums_tell
from leverarm.exercises.expressions.simplest import fraction_of, multiplied_out
from leverarm.exercises.expressions.tree import (
    Call,
    Named,
    Power,
    Prod,
    Rounded,
    Tree,
    children,
    rebuilt,
    written_out,
)
from leverarm.exercises.made_up import made_up
from leverarm.exercises.method import Method
from leverarm.exercises.values import Numbers, Values

MOST, MOST_OF_A_FORMULA = 600, 1500
MOST_PAIRS, MOST_FIRST = 1200, 60
PART_OF_LISTED, PART_OF_TWO = 0.45, 0.1
SAID_FIRST = {"sign", "half", "double", "unit", "not yet percent"}
# Kilograms and meters added up: seldom, and never twice or on top of another change.
UNLIKE = 0.2
FEW = 4.0  # a class with fewer changes than this does not give all of its part to them


@dataclass(frozen=True, slots=True)
class WrongTurn:
    """A wrong turn: its class or its listed name, expression, prior, parts, place in the list."""

    name: str
    tree: Tree
    prior: float
    parts: tuple[Tree, ...] = ()
    words: str = ""
    question: str = ""


# All that leads to one number: the likeliest change of each class.
_Found: TypeAlias = dict[str, Turn]


class TurnTable:
    """The wrong turns of a method in one unit system, the likeliest first.

    right       the right expression, in numbers as shown
    listed      listed slips: (name, expression, share) each, with words and question
    numbers     sets of numbers, to tell expressions apart
    most        so many turns are kept
    metric      whether every unit of the problem is metric
    """

    def __init__(
        self,
        method: Method,
        shown: Callable[[Tree], Tree],
        right: Tree,
        listed: Sequence[WrongTurn],
        numbers: Sequence[Numbers],
        most: int = MOST,
        metric: bool = False,
    ) -> None:
        self.values = Values(numbers)
        self.context = context_of(method, shown, self.values, metric)
        self.right = right
        # What is smaller than this is nothing but the dust of canceled terms.
        self._least = [1e-9 * abs(value) for value in self.values(right)]
        self._right = self._key(right)
        self._adds_unlike = sums_tell({name: self.context.kinds[name] for name in method.given})
        self._by_key: dict[tuple[str, ...], _Found] = {}
        self._listed: dict[tuple[str, ...], WrongTurn] = {}
        for slip in listed:
            key = self._key(slip.tree)
            if key is not None and key != self._right:
                self._listed.setdefault(key, slip)
        self._gather(self._singles())
        singles = self._priors()
        self._pairs(singles)
        self.turns = self._kept(singles, most)
        del self.values, self._by_key, self._listed, self._best, self._adds_unlike

    def _key(self, tree: Tree) -> tuple[str, ...] | None:
        values = self.values(tree)
        if any(x != x or abs(x) > 1e12 for x in values):
            return None
        return tuple(
            [f"{x:.10g}" if abs(x) > least else "0" for x, least in zip(values, self._least)]
        )

    def _singles(self) -> Iterator[Turn]:
        first, *others = shapes_of(self.right)
        yield from single_changes(first, self.context)
        yield from like_changes(self.right, self.context)
        for shape in others:
            yield from changes_inside(shape, self.context)
        yield from made_up(self.context)

    def _gather(self, changes: Iterable[Turn]) -> None:
        for change in changes:
            key = self._key(change.tree)
            if key is None or key == self._right or not change.share:
                continue
            if self._adds_unlike(change.tree):
                if change.name == "alike":
                    continue
                change = replace(change, share=UNLIKE * change.share)
            found = self._by_key.setdefault(key, {})
            known = found.get(change.name)
            if known is None or change.share > known.share:
                found[change.name] = change

    def _priors(self) -> dict[tuple[str, ...], float]:
        """The part of each class spread over what leads to it."""
        totals: defaultdict[str, float] = defaultdict(float)
        for found in self._by_key.values():
            for name, change in found.items():
                totals[name] += change.share
        parts = {name: CLASSES[name].part / max(total, FEW) for name, total in totals.items()}
        self._best = {
            # A change of the whole answer is said in words, for its expression holds the right one.
            key: max(
                found.values(),
                key=lambda change: (
                    change.name in SAID_FIRST,
                    parts[change.name] * change.share,
                ),
            )
            for key, found in self._by_key.items()
        }
        return {
            key: sum(parts[change.name] * change.share for change in found.values())
            for key, found in self._by_key.items()
        }

    def _pairs(self, singles: Mapping[tuple[str, ...], float]) -> None:
        """Second changes of the likeliest first ones."""
        self._twice: dict[tuple[str, ...], tuple[float, Turn]] = {}
        count = 0
        firsts = sorted(singles, key=lambda key: -singles[key])[:MOST_FIRST]
        for key in firsts:
            first = self._best[key]
            for second in changes_inside(first.tree, self.context):
                count += 1
                again = self._key(second.tree)
                if again is None or again == self._right or again in singles:
                    continue
                if self._adds_unlike(second.tree):
                    continue
                weight = singles[key] * CLASSES[second.name].part * second.share
                known = self._twice.get(again)
                if known is None:
                    self._twice[again] = (weight, both(first, second))
                else:
                    self._twice[again] = (known[0] + weight, known[1])
            if count > MOST_PAIRS:
                break

    def _kept(self, singles: Mapping[tuple[str, ...], float], most: int) -> tuple[WrongTurn, ...]:
        ofs = sum(singles.values()) or 1.0
        twos = sum(weight for weight, _ in self._twice.values()) or 1.0
        part_two = PART_OF_TWO if self._twice else 0.0
        found = {
            key: (prior * (1 - part_two) / ofs, self._best[key]) for key, prior in singles.items()
        }
        found |= {
            key: (part_two * weight / twos, change) for key, (weight, change) in self._twice.items()
        }
        listed = PART_OF_LISTED if self._listed else 0.0
        each = listed / sum(slip.prior for slip in self._listed.values()) if self._listed else 0.0
        turns = []
        for key, slip in self._listed.items():
            prior, _ = found.pop(key, (0.0, None))
            turns.append(
                WrongTurn(
                    *(slip.name, slip.tree, each * slip.prior + (1 - listed) * prior),
                    *(slip.parts, slip.words, slip.question),
                )
            )
        rest = sorted(found.values(), key=lambda one: -one[0])[: max(0, most - len(turns))]
        turns += [
            WrongTurn(change.name, change.tree, (1 - listed) * prior, change.parts, change.words)
            for prior, change in rest
            if change is not None
        ]
        del self._twice
        shared = _Shared()
        return tuple(
            WrongTurn(
                *(turn.name, shared(turn.tree), turn.prior),
                *(turn.parts, turn.words, turn.question),
            )
            for turn in sorted(turns, key=lambda turn: -turn.prior)
        )


def both(first: Turn, second: Turn) -> Turn:
    """Two changes as one wrong turn, each said in its words."""
    one, two = (change.words or CLASSES[change.name].words for change in (first, second))
    for at in reversed(range(len(second.parts))):
        two = two.replace(f"{{{at}}}", f"{{{at + len(first.parts)}}}")
    return Turn(TWO, second.tree, 1.0, first.parts + second.parts, f"{one}; and {two}")


def shapes_of(right: Tree) -> tuple[Tree, ...]:
    """The right expression as its steps have it, written out, as one fraction, multiplied out."""
    plain = written_out(right)
    return tuple(dict.fromkeys((right, plain, fraction_of(plain), multiplied_out(plain))))


class _Shared:
    """Trees with equal parts held once."""

    def __init__(self) -> None:
        self._known: dict[object, Tree] = {}
        self._of: dict[int, tuple[Tree, Tree]] = {}

    def __call__(self, tree: Tree) -> Tree:
        if id(tree) not in self._of:
            self._of[id(tree)] = tree, self._held(tree)
        return self._of[id(tree)][1]

    def _held(self, tree: Tree) -> Tree:
        parts = [self(part) for part in children(tree)]
        key: object = (type(tree), _own(tree), *map(id, parts)) if parts else tree
        if key not in self._known:
            self._known[key] = rebuilt(tree, parts) if parts else tree
        return self._known[key]


def _own(tree: Tree) -> object:
    """What sets a node apart from others over the same parts."""
    if isinstance(tree, Prod):
        return len(tree.over)
    if isinstance(tree, Named):
        return tree.name
    if isinstance(tree, Power):
        return tree.exponent
    if isinstance(tree, Rounded):
        return tree.digits
    return tree.function if isinstance(tree, Call) else None
