"""A kind of problem, and the working that answers it, put together from the rules once.

A numeric kind says what is asked, what is given and how to say it.  The way from
the one to the other, the answer, every wrong turn and the worked solution follow.
"""

from dataclasses import dataclass
from functools import lru_cache

from leverarm.exercises.draw import Stream
from leverarm.exercises.edits import Turn, edits
from leverarm.exercises.evaluate import closure, value
from leverarm.exercises.grammar import read
from leverarm.exercises.letters import LETTERS, on_default_grid
from leverarm.exercises.rules import RULES
from leverarm.exercises.slips import SLIPS
from leverarm.exercises.trees import Letter, Named, letters_of, replaced, traced, walk

MOST_TURNS = 40
TOO_NEAR = 0.03
ALIKE = 1e-9


@dataclass(frozen=True)
class Kind:
    """One kind of problem in the bank.

    name, lesson, title   what it is called; the lesson it belongs to
    style       "number", "symbol", "choice" or "body"
    asked       the rule whose result is asked
    given       letters, with their numbers shown in the statement
    statement   text with {letters}, {machine} and {thing}
    hidden      letters that are drawn and not shown, where a given reading follows from them
    sign        "change": a gain is positive, a loss negative, and the sign is part of the answer;
                "size": the statement says which way, so the sign does not matter; "plain": positive
    low, high   what a real machine allows for the answer, in the base unit
    """

    name: str
    lesson: int
    title: str
    style: str
    asked: str
    given: tuple = ()
    statement: str = ""
    hidden: tuple = ()
    sign: str = "plain"
    low: float = -1e9
    high: float = 1e9


def quantity(name):
    """What a given letter is drawn from: its own range, or the grid of the rule it follows from."""
    if name in LETTERS:
        return LETTERS[name]
    rule = RULES[name]
    return on_default_grid(name, rule.shown, rule.words, rule.kind)


def resolve(name, given):
    """The tree of a result in terms of the given letters; KeyError where it does not follow from them."""
    if name in given:
        return Letter(name)
    rule = RULES[name]
    return Named(name, traced(rule.function, *(resolve(arg, given) for arg in rule.args)))


class Working:
    """All that a kind needs to be made and checked, found once.

    tree        the right working; answer  its closure
    turns       wrong turns, the commoner first: listed ones, then single changes of the working
    listed      how many of them are listed
    derived     closures of given letters that follow from the drawn ones
    """

    def __init__(self, kind):
        self.kind = kind
        self.rule = RULES[kind.asked]
        self.tree = resolve(kind.asked, kind.given)
        self.letters = {name: quantity(name) for name in kind.given + kind.hidden}
        drawn = tuple(n for n in kind.given + kind.hidden if n in LETTERS)
        self.derived = {n: closure(resolve(n, drawn)) for n in kind.given if n not in LETTERS}
        self.drawn = drawn
        self.answer = closure(self.tree)
        self.turns, self.listed = _turns(self)
        self.values = [closure(turn.tree) for turn in self.turns]

    def kinds(self):
        """Kind of quantity for each given letter and each result on the way."""
        named = {name: self.letters[name].kind for name in self.kind.given}
        return named | {t: RULES[t].kind for t in RULES if t not in named and self._follows(t)}

    def shown(self):
        """What is printed for each of them."""
        named = {name: self.letters[name].shown for name in self.kind.given}
        return named | {t: RULES[t].shown for t in RULES if t not in named and self._follows(t)}

    def _follows(self, name):
        try:
            return bool(resolve(name, self.kind.given))
        except KeyError:
            return False


@lru_cache(maxsize=None)
def working(kind):
    """The Working of a kind, made once."""
    return Working(kind)


def slip_tree(formula, given):
    """The tree of a listed slip's formula, or None where it needs what this problem does not give."""
    tree = read(formula, {**{n: n for n in LETTERS}, **{n: n for n in RULES}})[-1]
    try:
        return replaced(tree, {name: resolve(name, given) for name in letters_of(tree)})
    except KeyError:
        return None


def listed_turns(kind):
    """The listed slips that this problem leaves room for, in the order of the list."""
    for rank, (name, what, formula, ask) in enumerate(SLIPS.get(kind.asked, ())):
        tree = slip_tree(formula, kind.given)
        if tree is not None:
            yield Turn(name, what, ask, tree, 0)


def _turns(work):
    """Wrong turns without doubles: one entry for each number they lead to, whatever the numbers given."""
    kind, kinds, shown = work.kind, work.kinds(), work.shown()
    probes = [_probe(work, n) for n in range(3)]
    right = tuple(value(work.answer, at) for at in probes)
    kept, seen = [], {_key(right)}
    listed = list(listed_turns(kind))
    letters = {name: kinds[name] for name in kind.given}
    for turn in listed + sorted(edits(work.tree, letters | _on_the_way(work.tree, kinds), shown, work.rule.kind),
                                key=lambda t: t.rank):
        key = _key(tuple(value(closure(_grounded(turn.tree, kind.given)), at) for at in probes))
        if key in seen or any(part != part for part in key):
            continue
        if turn.name == "sign" and kind.sign == "size":
            continue
        seen.add(key)
        kept.append(Turn(turn.name, turn.what, turn.ask, _grounded(turn.tree, kind.given), turn.rank))
    return tuple(kept[:max(MOST_TURNS, len(listed))]), sum(1 for t in kept if not t.rank)


def _on_the_way(tree, kinds):
    """The named results inside a working."""
    return {t.name: kinds[t.name] for t in walk(tree) if isinstance(t, Named)}


def _grounded(tree, given):
    """The tree with every result written out down to the given letters."""
    return replaced(tree, {n: resolve(n, given) for n in letters_of(tree) if n not in given})


def _probe(work, number):
    """Made-up numbers for the given letters, to tell two formulas apart."""
    stream = Stream("probe", work.kind.name, number)
    return {name: 1.0 + stream.below(10**6) / 10**6 for name in work.kind.given}


def _key(values):
    """A row of numbers that two ways of computing the same thing share."""
    return tuple(float(f"{number:.9g}") for number in values)
