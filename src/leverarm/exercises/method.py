"""How the answer follows from what is given: one Method for each kind of problem.

A rule says which results lead to which.  From what is asked, the rules are followed
back to what is given; that makes the right expression and its steps.
"""

from collections.abc import Collection
from dataclasses import replace
from functools import cache

from leverarm.exercises.difficulty import told_in_another_unit
from leverarm.exercises.expressions.tree import (
    Letter,
    Named,
    Tree,
    children,
    compiled,
    letters_in,
    replaced,
    traced,
)
from leverarm.exercises.letters import LETTERS, Quantity, follows
from leverarm.exercises.problem import Problem
from leverarm.exercises.rules import RULES


def quantity(name: str) -> Quantity:
    """What a given letter is drawn from: its own range, or the grid of the rule it follows from."""
    if name in LETTERS:
        return LETTERS[name]
    rule = RULES[name]
    return follows(name, rule.words, rule.kind, rule.letter or rule.shown)


def words_of(name: str) -> str:
    """A letter or a result in words."""
    return (LETTERS[name] if name in LETTERS else RULES[name]).words


def resolve(name: str, given: Collection[str]) -> Tree:
    """The expression of a result in the given letters; KeyError where there is none."""
    if name in given:
        return Letter(name)
    rule = RULES[name]
    return Named(name, traced(rule.function, *(resolve(arg, given) for arg in rule.args)))


def in_given_letters(tree: Tree, given: Collection[str]) -> Tree:
    """The tree with every result replaced by its expression; KeyError where that cannot be."""
    named = {name: resolve(name, given) for name in letters_in(tree) if name not in given}
    return replaced(tree, named) if named else tree


def letters_behind(given: Collection[str]) -> tuple[str, ...]:
    """The letters that given readings follow from, where they are not given themselves."""
    behind = [letters_in(resolve(name, tuple(LETTERS))) for name in given if name not in LETTERS]
    return tuple(dict.fromkeys(name for letters in behind for name in letters if name not in given))


class Method:
    """How a kind's answer follows from what is given.

    asked, given    names of what is asked and of what is given
    rule, tree, answer  what is asked, its right expression, the same compiled
    letters     name -> Quantity, for all that is given or drawn
    drawn       letters that are drawn
    derived     given letters that follow from them, with their compiled expressions
    steps       the named results on the way, each once, in the order they are worked out
    """

    def __init__(
        self,
        asked: str,
        given: tuple[str, ...],
        hidden: tuple[str, ...],
        ranges: tuple[tuple[str, float, float], ...],
        retold: tuple[str, ...] = (),
    ) -> None:
        self.asked, self.given, self.rule = asked, given, RULES[asked]
        self.letters = {name: quantity(name) for name in given + hidden}
        self.letters |= {
            name: replace(quantity(name), low=low, high=high) for name, low, high in ranges
        }
        self.letters |= {name: told_in_another_unit(self.letters[name]) for name in retold}
        self.drawn = tuple(name for name in self.letters if name in LETTERS)
        self.derived = {
            name: compiled(resolve(name, self.drawn)) for name in given if name not in LETTERS
        }
        self.tree = resolve(asked, given)
        self.answer = compiled(self.tree)
        self.steps = _steps(self.tree)

    @property
    def given_letters(self) -> dict[str, str]:
        """What is given, by name, as it is printed."""
        return {name: self.letters[name].shown for name in self.given}

    def printed_letters(self) -> dict[str, str]:
        """Given letters and results on the way as they are printed."""
        return self.given_letters | {step.name: RULES[step.name].shown for step in self.steps}

    def given_numbers(self, problem: Problem) -> dict[str, str]:
        """name -> given number as it stands in the statement, without its unit."""
        return {name: problem.given[self.letters[name].shown].split(" ")[0] for name in self.given}


@cache
def method_for(
    asked: str,
    given: tuple[str, ...],
    hidden: tuple[str, ...] = (),
    ranges: tuple[tuple[str, float, float], ...] = (),
    retold: tuple[str, ...] = (),
) -> Method:
    """The Method for what is asked and given, made once.

    hidden      letters that are drawn, and that given ones follow from
    ranges      (letter, low, high) where a letter's usual range does not suit
    retold      lengths that are told in another unit of the same system
    """
    return Method(asked, given, hidden, ranges, retold)


def _steps(tree: Tree) -> tuple[Named, ...]:
    """The named results of a tree, each once, in the order they are worked out."""
    inner = [step for child in children(tree) for step in _steps(child)]
    own = [tree] if isinstance(tree, Named) else []
    return tuple({step.name: step for step in [*inner, *own]}.values())
