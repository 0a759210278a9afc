"""The suspects behind a wrong number: from its digits back to the wrong turn that gives it."""

from collections.abc import Sequence
from functools import cache

from leverarm.exercises.alike import exchanged
from leverarm.exercises.as_shown import AsShown
from leverarm.exercises.evidence import (
    Typed,
    background,
    claimed,
    pen_slips,
)
from leverarm.exercises.expressions.tree import (
    Named,
    Num,
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
from leverarm.exercises.search import Numbers, TurnTable, WrongTurn, compiled_together
from leverarm.quantities import G

SHORT_G = 9.81


def listed_turns(method: Method, system: str) -> tuple[WrongTurn, ...]:
    """The listed slips that the given letters lead to, in the numbers as shown.

    A slip that mixes units stands there twice: with bare numbers, as a student adds a distance
    to a weight, and in base units.
    """
    shown, found = AsShown(method, system), []
    rule = method.rule
    for slip in LISTED_MISTAKES.get(method.asked, ()):
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
        )
        # What each wrong turn comes to at given numbers.
        trees = [turn.tree for turn in self.table.turns]
        self.values = compiled_together(trees)
        # Those with g also as they come out with 9.81, which most students use.
        self.with_g = [at for at, tree in enumerate(trees) if Num(float(G)) in walk(tree)]
        short: dict[Tree, Tree] = {Num(float(G)): Num(SHORT_G)}
        self.with_short_g = compiled_together([exchanged(trees[at], short) for at in self.with_g])
        self.cut = [compiled(tree) for tree in cut_short(self.right)]

    def weights(self, typed: Typed, shown: Numbers) -> list[float]:
        """How far a number speaks for each wrong turn."""
        found = [
            turn.prior * typed.likelihood(value) if value == value else 0.0
            for turn, value in zip(self.table.turns, self.values(shown))
        ]
        for at, value in zip(self.with_g, self.with_short_g(shown)):
            if value == value:
                also = self.table.turns[at].prior * typed.likelihood(value)
                found[at] = (found[at] + also) / 2
        return found

    def against(self, typed: Typed, shown: Numbers) -> float:
        """How far a number speaks for a slip of the pen, or for nothing known."""
        right = value_at(self.answer, shown)
        given = {name: shown[name] for name in self.method.given}
        return background(typed, right) + pen_slips(
            *(typed, right, given, lambda at: value_at(self.answer, at)),
            [value_at(cut, shown) for cut in self.cut],
        )

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
        return self._turns(found), whole / (whole + against) if whole else 0.0

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
        return self._turns(claimed(together, against))

    def _turns(self, found: tuple[int, ...]) -> tuple[WrongTurn, ...]:
        return tuple(self.table.turns[at] for at in found)


@cache
def search_for(method: Method, system: str) -> Search:
    """The search of a method in a unit system, made at the first wrong try."""
    return Search(method, system)


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
