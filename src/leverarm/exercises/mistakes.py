"""The mistakes a kind of problem knows: listed ones first, then single changes of the right method.

A listed mistake counts in every problem whose given letters lead to its formula.
Mistakes that lead to the same formula are kept together, since no number can tell
them apart.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache

from leverarm.exercises.expressions.tree import Compute, Named, Tree, compiled, value_at, walk
from leverarm.exercises.listed_mistakes import LISTED_MISTAKES
from leverarm.exercises.method import Method, in_given_letters, resolve
from leverarm.exercises.problem import Mistake
from leverarm.exercises.random_numbers import RandomStream
from leverarm.exercises.rules import RULES
from leverarm.exercises.single_changes import Context, single_changes

MOST_GROUPS = 60
MOST_OF_A_CLASS = 16  # of one class of change, so that no class crowds out the others
PROBES = 3
_SIDES = ({"front", "rear"}, {"left", "right"})


@dataclass(frozen=True)
class MistakeGroup:
    """Mistakes that lead to the same formula, the likeliest first, with that formula compiled."""

    mistakes: tuple[Mistake, ...]
    tree: Tree
    compute: Compute

    @property
    def listed(self) -> bool:
        """Whether a listed mistake is among them."""
        return not self.mistakes[0].rank


@cache
def listed_mistakes(method: Method) -> tuple[MistakeGroup, ...]:
    """The listed mistakes of a method, those that lead to the same formula together."""
    probes = _probes(method)
    groups: defaultdict[tuple[float, ...], list[Mistake]] = defaultdict(list)
    right = _key(method.answer, probes)
    for slip in LISTED_MISTAKES.get(method.asked, ()):
        try:
            tree = in_given_letters(slip.tree, method.given)
        except KeyError:
            continue
        key = _key(compiled(tree), probes)
        if key == right:
            raise slip.same_as_right()
        if not any(number != number for number in key):
            groups[key].append(Mistake(slip.name, slip.what, slip.question, tree))
    return tuple(map(_group, groups.values()))


@cache
def known_mistakes(method: Method, signed: bool) -> tuple[MistakeGroup, ...]:
    """The mistakes of a method, those with a listed one first, then the more common first.

    signed      whether a change is asked with its sign
    """
    listed, probes = listed_mistakes(method), _probes(method)
    taken = {_key(group.compute, probes) for group in listed} | {_key(method.answer, probes)}
    groups: defaultdict[tuple[float, ...], list[Mistake]] = defaultdict(list)
    for mistake in _single_changes(method, signed):
        assert mistake.tree is not None
        tree = in_given_letters(mistake.tree, method.given)
        key = _key(compiled(tree), probes)
        if key in taken or any(number != number for number in key):
            continue
        group = groups[key]
        # Two that differ in class are kept.
        if not group or (len(group) < 2 and mistake.name != group[0].name):
            group.append(replace(mistake, tree=tree))
    found = [*listed, *map(_group, groups.values())]
    return tuple(list(_few_of_a_class(found))[: max(MOST_GROUPS, len(listed))])


def _group(mistakes: list[Mistake]) -> MistakeGroup:
    tree = mistakes[0].tree
    assert tree is not None
    return MistakeGroup(tuple(mistakes), tree, compiled(tree))


def _single_changes(method: Method, signed: bool) -> list[Mistake]:
    """The single changes of the right method, the more common first."""
    kinds = {name: method.letters[name].kind for name in method.given}
    named = {t.name: RULES[t.name].kind for t in walk(method.tree) if isinstance(t, Named)}
    context = Context(
        kinds | {name: kind for name, kind in named.items() if name != method.asked},
        _at_the_other_axle(named, method.given),
        method.rule.kind,
        signed,
    )
    return sorted(single_changes(method.tree, context), key=lambda mistake: mistake.rank)


def _at_the_other_axle(names: Iterable[str], given: tuple[str, ...]) -> dict[str, Tree]:
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


def _few_of_a_class(groups: Iterable[MistakeGroup]) -> Iterator[MistakeGroup]:
    """The groups with no more than so many of each class of change."""
    seen: Counter[str] = Counter()
    for group in groups:
        name = group.mistakes[0].name
        seen[name] += 1
        if group.listed or seen[name] <= MOST_OF_A_CLASS:
            yield group


def _probes(method: Method) -> list[dict[str, float]]:
    return [_probe(method, number) for number in range(PROBES)]


def _probe(method: Method, number: int) -> dict[str, float]:
    """Made-up numbers for the given letters, within their ranges, to tell formulas apart."""
    stream = RandomStream("probe", method.rule.stream or method.asked, *method.given, number)
    drawn = {
        name: method.letters[name].low * (1 + stream.below(10**6) / 4e6)
        or stream.below(10**6) / 1e6
        for name in method.drawn
    }
    return drawn | {
        name: value_at(function, drawn) * (1 + stream.below(10**6) / 1e8)
        for name, function in method.derived.items()
    }


def _key(function: Compute, probes: Iterable[Mapping[str, float]]) -> tuple[float, ...]:
    """A row of numbers that two ways of computing the same thing share."""
    return tuple(float(f"{value_at(function, at):.9g}") for at in probes)
