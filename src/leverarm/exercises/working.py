"""The working behind a kind of problem, put together from the rules once.

From what is asked and what is given follow the right tree, the way to it, and
every wrong turn: the listed slips that the given letters leave room for, then
the single changes of the working.  Two turns that lead to the same formula are
kept together, since no number can tell them apart.
"""

from collections import Counter, defaultdict
from dataclasses import dataclass, replace
from functools import cache

from leverarm.exercises.draw import Stream
from leverarm.exercises.edits import Context, Turn, edits
from leverarm.exercises.evaluate import closure, value
from leverarm.exercises.grammar import read
from leverarm.exercises.letters import LETTERS, follows
from leverarm.exercises.rules_field import FIELD
from leverarm.exercises.rules_lever import LEVER
from leverarm.exercises.slips import SLIPS
from leverarm.exercises.trees import Letter, Named, children, letters_of, replaced, traced, walk

RULES = LEVER | FIELD
MOST_TURNS = 60
MOST_ALIKE = 16  # of one class of change, so that no class crowds out the others
PROBES = 3
_SIDES = ({"front", "rear"}, {"left", "right"})
_SPELLINGS = {name: name for name in [*LETTERS, *RULES]}


@dataclass(frozen=True)
class Path:
    """Wrong turns that lead to one and the same formula, the likeliest first, with its fast function."""

    turns: tuple
    tree: object
    compute: object

    @property
    def listed(self):
        """Whether a listed slip is among them."""
        return not self.turns[0].rank


def quantity(name):
    """What a given letter is drawn from: its own range, or the grid of the rule it follows from."""
    return LETTERS[name] if name in LETTERS else follows(name, RULES[name].words, RULES[name].kind)


def sources(given):
    """The letters that given readings follow from, where they are not given themselves."""
    told = [letters_of(resolve(name, tuple(LETTERS))) for name in given if name not in LETTERS]
    return tuple(
        dict.fromkeys(letter for letters in told for letter in letters if letter not in given)
    )


def words_of(name):
    """A letter or a result in words."""
    return (LETTERS[name] if name in LETTERS else RULES[name]).words


def resolve(name, given):
    """The tree of a result in terms of the given letters; KeyError where it does not follow from them."""
    if name in given:
        return Letter(name)
    rule = RULES[name]
    return Named(name, traced(rule.function, *(resolve(arg, given) for arg in rule.args)))


def grounded(tree, given):
    """The tree with every result written out down to the given letters; KeyError where that cannot be."""
    return replaced(tree, {name: resolve(name, given) for name in letters_of(tree)})


class Working:
    """All that a kind needs to be made and checked.

    rule, tree, answer  what is asked, its right tree, its fast function
    letters     name -> Quantity, for all that is given or drawn
    drawn       letters that are drawn; derived  given ones that follow from them, with their functions
    paths       wrong Paths: first those with a listed slip, then the others, the commoner first
    """

    def __init__(self, asked, given, hidden=(), signed=False, ranges=()):
        self.asked, self.given, self.rule = asked, given, RULES[asked]
        self.letters = {name: quantity(name) for name in given + hidden}
        self.letters |= {
            name: replace(quantity(name), low=low, high=high) for name, low, high in ranges
        }
        self.drawn = tuple(name for name in self.letters if name in LETTERS)
        self.derived = {
            name: closure(resolve(name, self.drawn)) for name in given if name not in LETTERS
        }
        self.tree = resolve(asked, given)
        self.answer = closure(self.tree)
        self.steps = _steps(self.tree)
        self.paths = _paths(self, signed)
        self.listed = tuple(path for path in self.paths if path.listed)


@cache
def working(asked, given, hidden=(), signed=False, ranges=()):
    """The Working for what is asked and given, made once; ranges: (letter, low, high) other than usual."""
    return Working(asked, given, hidden, signed, ranges)


def _steps(tree):
    """The named results of a tree, each once, in the order they are worked out."""
    inner = [step for child in children(tree) for step in _steps(child)]
    return tuple(
        {
            step.name: step for step in [*inner, *([tree] if isinstance(tree, Named) else [])]
        }.values()
    )


def _listed(asked, given):
    """The listed slips for what is asked, as far as the given letters go."""
    for name, what, formula, ask in SLIPS.get(asked, ()):
        try:
            yield Turn(name, what, ask, grounded(read(formula, _SPELLINGS)[-1], given))
        except KeyError:
            continue


def _changes(work, signed):
    """The single changes of the working, the commoner first."""
    kinds = {name: work.letters[name].kind for name in work.given}
    named = {t.name: RULES[t.name].kind for t in walk(work.tree) if isinstance(t, Named)}
    context = Context(
        kinds | {n: k for n, k in named.items() if n != work.asked},
        _partners(named, work.given),
        work.rule.kind,
        signed,
    )
    return sorted(edits(work.tree, context), key=lambda turn: turn.rank)


def _partners(names, given):
    """For each result, the same quantity at the other axle, where the given letters lead to it."""
    found = {}
    for name in names:
        rule = RULES[name]
        for other in RULES.values():
            if (other.args, other.kind) == (rule.args, rule.kind) and {
                other.principle,
                rule.principle,
            } in _SIDES:
                found[name] = resolve(other.name, given)
    return found


def _paths(work, signed):
    """Wrong turns grouped by the formula they lead to; what leads to the right one is none."""
    probes = [_probe(work, number) for number in range(PROBES)]
    groups, right = defaultdict(list), _key(work.tree, probes)
    for turn in [*_listed(work.asked, work.given), *_changes(work, signed)]:
        tree = grounded(turn.tree, work.given)
        key = _key(tree, probes)
        if key == right or any(part != part for part in key):
            continue
        group = groups[key]
        if (
            not group
            or not turn.rank
            or (group[0].rank and len(group) < 2 and turn.name != group[0].name)
        ):
            group.append(Turn(turn.name, turn.what, turn.ask, tree, turn.rank, turn.parts))
    paths = [Path(tuple(group), group[0].tree, closure(group[0].tree)) for group in groups.values()]
    return tuple(list(_thinned(paths))[: max(MOST_TURNS, sum(path.listed for path in paths))])


def _thinned(paths):
    """The paths with no more than so many of each class of change."""
    seen = Counter()
    for path in paths:
        seen[path.turns[0].name] += 1
        if path.listed or seen[path.turns[0].name] <= MOST_ALIKE:
            yield path


def _probe(work, number):
    """Made-up numbers for the given letters, to tell two formulas apart: near the middle of their ranges."""
    stream = Stream("probe", work.asked, *work.given, number)
    drawn = {
        name: work.letters[name].low * (1 + stream.below(10**6) / 4e6) or stream.below(10**6) / 1e6
        for name in work.drawn
    }
    return drawn | {
        name: value(function, drawn) * (1 + stream.below(10**6) / 1e8)
        for name, function in work.derived.items()
    }


def _key(tree, probes):
    """A row of numbers that two ways of computing the same thing share."""
    function = closure(tree)
    return tuple(float(f"{value(function, at):.9g}") for at in probes)
