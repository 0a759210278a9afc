"""The suspects behind a wrong number: from its digits back to the wrong turn that gives it."""

import gc
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache, lru_cache

from leverarm.exercises.as_shown import AsShown
from leverarm.exercises.evidence import (
    Typed,
    background,
    claimed,
    mis_keyed,
    pen_slips,
)
from leverarm.exercises.expressions.tree import (
    Named,
    Prod,
    Rounded,
    Tree,
    children,
    compiled,
    rebuilt,
    value_at,
    walk,
)
from leverarm.exercises.listed_mistakes import LISTED_MISTAKES
from leverarm.exercises.method import Method, in_given_letters
from leverarm.exercises.mistakes import probes_of
from leverarm.exercises.search import TurnTable, WrongTurn
from leverarm.exercises.values import Numbers, Together
from leverarm.quantities import G

SHORT_G = 9.81
KEPT = 3  # so many sets of numbers are kept worked out


def listed_turns(method: Method, system: str) -> tuple[WrongTurn, ...]:
    """The listed slips that the given letters lead to, in the numbers as shown.

    A slip that mixes units stands there twice: with bare numbers, as a student adds a distance
    to a weight, and in base units.
    """
    shown, found = AsShown(method, system), []
    rule = method.rule
    for slip in LISTED_MISTAKES.get(method.asked, ()):
        if system and system not in slip.systems:
            continue
        try:
            tree = in_given_letters(slip.tree, method.given)
        except KeyError:
            continue
        words = (slip.name, slip.what, slip.question)
        found.append((words, shown.of(tree, rule.kind, rule.unit_in(system))))
        if system and not any(isinstance(part, Named) for part in walk(tree)):
            found.append((words, tree))
    return tuple(
        WrongTurn(name, tree, 1.0, words=what, question=question)
        for (name, what, question), tree in found
    )


class Search:
    """The wrong turns of one method in one unit system, and what a number says for each."""

    def __init__(self, method: Method, system: str) -> None:
        rule = method.rule
        self.method, self.system = method, system
        shown = AsShown(method, system)
        self.right = shown.of(method.tree, rule.kind, rule.unit_in(system))
        self.answer = compiled(self.right)
        numbers = [
            {name: at[name] / (1 if rule.raw else shown.sizes[name]) for name in method.given}
            for at in probes_of(method)
        ]
        self.table = TurnTable(
            method,
            lambda tree: _result_shown(shown, tree),
            self.right,
            listed_turns(method, system),
            numbers,
            metric=shown.metric,
        )
        # What each wrong turn comes to; with g also with 9.81, which most students use.
        self._together = Together([turn.tree for turn in self.table.turns], float(G), SHORT_G)
        self._cut = [compiled(tree) for tree in cut_short(self.right)]
        # Several numbers are tried at one problem, and a try is read with the one before.
        self._at = lru_cache(KEPT)(self._worked_out)
        self._slips_at = lru_cache(KEPT)(self._pen_slips)

    def _key(self, shown: Numbers) -> tuple[float, ...]:
        return tuple(shown[name] for name in self.method.given)

    def values(self, shown: Numbers) -> list[float]:
        """What each wrong turn of the table comes to, NaN where it has no value."""
        return self._at(self._key(shown))[0]

    def _worked_out(self, key: tuple[float, ...]) -> tuple[list[float], list[float]]:
        return self._together(dict(zip(self.method.given, key)))

    def _pen_slips(self, key: tuple[float, ...]) -> tuple[list[float], list[float]]:
        """The answer with a given number mis-keyed, and with a step cut short."""
        given = dict(zip(self.method.given, key))
        keyed = mis_keyed(given, lambda at: value_at(self.answer, at))
        return keyed, [value_at(cut, given) for cut in self._cut]

    def weights(self, typed: Typed, shown: Numbers) -> list[float]:
        """How far a number speaks for each wrong turn."""
        turns, (values, rounded) = self.table.turns, self._at(self._key(shown))
        found = [0.0] * len(turns)
        for at in typed.near(values):
            found[at] = turns[at].prior * typed.likelihood(values[at])
        with_g = self._together.with_constant
        near = set(typed.near(rounded))
        for place, at in enumerate(with_g):
            if rounded[place] == rounded[place]:
                also = turns[at].prior * typed.likelihood(rounded[place]) if place in near else 0.0
                found[at] = (found[at] + also) / 2
        return found

    def against(self, typed: Typed, shown: Numbers) -> float:
        """How far a number speaks for a slip of the pen, or for nothing known."""
        right = value_at(self.answer, shown)
        keyed, cut = self._slips_at(self._key(shown))
        return background(typed, right) + pen_slips(typed, right, keyed, cut)

    def judged(self, typed: Typed, shown: Numbers) -> tuple[tuple[WrongTurn, ...], float]:
        """The one or two wrong turns that a number speaks for, none where it might be chance.

        Also the part of everything that speaks for wrong turns, whichever they are.
        """
        weights = self.weights(typed, shown)
        against = background(typed, value_at(self.answer, shown))
        found = claimed(weights, against)
        if found:  # slips of the pen take longest, and can only speak against
            against = self.against(typed, shown)
            found = claimed(weights, against)
        whole = sum(weights)
        return self._turns(found, typed, shown), whole / (whole + against) if whole else 0.0

    def judged_together(self, tries: Sequence[tuple[Typed, Numbers]]) -> tuple[WrongTurn, ...]:
        """The one or two wrong turns that several tries speak for, each with its own numbers."""
        together, against = [turn.prior for turn in self.table.turns], 1.0
        for typed, shown in tries:
            weights = self.weights(typed, shown)
            together = [
                so_far * weight / turn.prior
                for so_far, weight, turn in zip(together, weights, self.table.turns)
            ]
            against *= self.against(typed, shown)
        return self._turns(claimed(together, against), *tries[-1])

    def _turns(self, found: tuple[int, ...], typed: Typed, shown: Numbers) -> tuple[WrongTurn, ...]:
        """The wrong turns at these places; where the sign says nothing, not one with both signs."""
        if typed.signless and len(found) == 2:
            one, other = (abs(self.values(shown)[at]) for at in found)
            if abs(one - other) <= 1e-9 * one:
                found = found[:1]
        return tuple(self.table.turns[at] for at in found)


@cache
def search_for(method: Method, system: str) -> Search:
    """The search of a method in a unit system, made at the first wrong try."""
    with _uncollected():
        return Search(method, system)


@contextmanager
def _uncollected() -> Iterator[None]:
    """No search for cycles meanwhile: trees hold none, and looking took a third of the time."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _result_shown(shown: AsShown, tree: Tree) -> Tree:
    """A result in the unit in which it is shown."""
    return shown.of(tree) if not isinstance(tree, Named) else shown.named(tree)


def cut_short(tree: Tree) -> tuple[Tree, ...]:
    """The tree with each step on the way cut to two digits."""
    whole = (tree, *children(tree)) if isinstance(tree, Named) else (tree,)
    steps = dict.fromkeys(
        node for node in walk(tree) if isinstance(node, (Named, Prod)) and node not in whole
    )
    return tuple(_with(tree, step, Rounded(step, 2)) for step in steps)


def _with(tree: Tree, old: Tree, new: Tree) -> Tree:
    """The tree with one node in place of another."""
    if tree == old:
        return new
    parts = children(tree)
    return rebuilt(tree, tuple(_with(part, old, new) for part in parts)) if parts else tree
