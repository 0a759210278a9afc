"""How a worked solution comes to a result: the steps of the lesson that taught it.

The steps stand in `data/ways.toml`.  A result without a way of its own is worked out in one
line, as its rule says.
"""

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cache

from leverarm.data import Entry, OnDemand, lesson_texts, toml_file
from leverarm.exercises.expressions.grammar import Unreadable, read_formula
from leverarm.exercises.expressions.tree import Letter, Named, Tree, children, letters_in, rebuilt
from leverarm.exercises.method import Method
from leverarm.exercises.rules import PRINCIPLES, RULES
from leverarm.quantities import KINDS, SYSTEMS, G

# What a way may use beside letters, and how it stands among numbers.
CONSTANTS = {"π": math.pi, "g": float(G)}
CONSTANTS_SHOWN = {"π": "π", "g": str(float(G))}


@dataclass(frozen=True)
class WayStep:
    """One step of a way, as the data tell it, in letters as printed.

    letter, name, kind  what is worked out; "" for an equation and for the result itself
    formula     how;  equation  its two sides, where the step is no working but an equation
    principle   a key of PRINCIPLES
    why         the reason in a sentence or two
    """

    letter: str
    name: str
    kind: str
    formula: str
    equation: tuple[str, ...]
    principle: str
    why: str


@dataclass(frozen=True)
class Way:
    """The steps to a result, and the lessons and unit systems that go this way; all where empty."""

    lessons: tuple[int, ...]
    systems: tuple[str, ...]
    steps: tuple[WayStep, ...]

    def fits(self, lesson: int, system: str) -> bool:
        """Whether a problem goes this way."""
        return lesson in (self.lessons or (lesson,)) and system in (self.systems or (system,))


@dataclass(frozen=True)
class PlannedStep:
    """A step of one problem's solution, each result a letter of its own.

    name        what its number is called on the way: a rule's name, or a letter of the way; for an
                equation what it is solved for
    shown       the letter as printed
    words, kind, principle, why     as in a rule
    tree        how it is worked out, or the left side of an equation less the right
    sides       both sides of an equation; none for a step that works something out
    """

    name: str
    shown: str
    words: str
    kind: str
    principle: str
    why: str
    tree: Tree
    sides: tuple[Tree, ...] = ()


def read_ways(entry: Entry) -> dict[str, tuple[Way, ...]]:
    """The ways to each result by its name, those for certain lessons first."""
    found: dict[str, list[Way]] = {}
    for row in entry.rows("way", named_by="of"):
        lessons = row.words_of("lessons", [str(number) for number in lesson_texts()], "")
        systems = row.words_of("systems", SYSTEMS, "")
        steps = tuple(_step(one) for one in row.rows("step", named_by="letter"))
        if not steps or steps[-1].letter or not steps[-1].formula:
            allowed = "steps of which the last has a formula and no letter"
            raise row.refusal("step", len(steps), allowed, "let the last step give the result")
        way = Way(tuple(map(int, lessons)), systems, steps)
        for name in row.words_of("of", RULES):
            found.setdefault(name, []).append(way)
        row.done()
    entry.done()
    return {
        name: tuple(sorted(ways, key=lambda way: not way.lessons)) for name, ways in found.items()
    }


def _step(row: Entry) -> WayStep:
    letter, equation = row.text("letter", ""), row.text("equation", "")
    sides = tuple(side.strip() for side in equation.split("=")) if equation else ()
    formula = row.text("formula", "") if sides else row.text("formula")
    if sides and (len(sides) != 2 or not all(sides) or formula or letter):
        raise row.refusal(
            "equation", equation, "left = right, with neither letter nor formula", "mend that step"
        )
    step = WayStep(
        letter,
        row.text("name") if letter else "",
        row.one_of("kind", KINDS) if letter else "",
        formula,
        sides,
        row.one_of("principle", PRINCIPLES),
        row.text("why"),
    )
    row.done()
    return step


WAYS = OnDemand(lambda: read_ways(toml_file("ways")))


@cache
def steps_to(method: Method, lesson: int, system: str) -> tuple[PlannedStep, ...]:
    """The steps to what a method asks for, each once, in the order they are worked out."""
    planner = _Planner(method, lesson, system)
    planner.add(method.asked)
    return tuple(planner.steps)


class _Planner:
    """Follows a method's results back to what is given, by the ways of a lesson."""

    def __init__(self, method: Method, lesson: int, system: str) -> None:
        self.given, self.lesson, self.system = method.given, lesson, system
        self.results = {step.name: step.of for step in method.steps}
        self.spelled = {RULES[name].shown: name for name in self.results}
        self.spelled |= {method.letters[name].shown: name for name in method.given}
        self.spelled |= {name: name for name in CONSTANTS}
        self.steps: list[PlannedStep] = []

    def add(self, name: str) -> None:
        """The steps to a result, after those to what it needs."""
        worked_out = {step.name for step in self.steps if not step.sides}
        if name not in self.results or name in worked_out:
            return
        ways = (way for way in WAYS.get(name, ()) if way.fits(self.lesson, self.system))
        way = next(ways, None)
        if way is None:
            rule, tree = RULES[name], results_as_letters(self.results[name])
            self._need(tree)
            why = rule.reason(self.system)
            self.steps.append(
                PlannedStep(name, rule.shown, rule.words, rule.kind, rule.principle, why, tree)
            )
        else:
            self._by_way(name, way)

    def _by_way(self, name: str, way: Way) -> None:
        rule, own = RULES[name], dict[str, str]()
        for one in way.steps:
            words, kind = one.name or rule.words, one.kind or rule.kind
            shown = one.letter or rule.shown
            key = f"{name}: {one.letter}" if one.letter else name
            tree: Tree
            sides: tuple[Tree, ...]
            if one.equation:
                known = self.spelled | own | {rule.shown: name}
                left, right = (self._tree(name, side, known) for side in one.equation)
                self._need(left - right, name)
                key, tree, sides = name, left - right, (left, right)
            else:
                tree, sides = self._tree(name, one.formula, self.spelled | own), ()
                self._need(tree)
                before = self._same(shown, tree)
                own |= {shown: before or key}
                if before:
                    continue
            self.steps.append(
                PlannedStep(key, shown, words, kind, one.principle, one.why, tree, sides)
            )

    def _same(self, shown: str, tree: Tree) -> str:
        """What a step that works out the same was called, "" where there is none."""
        return next((one.name for one in self.steps if (one.shown, one.tree) == (shown, tree)), "")

    def _need(self, tree: Tree, but: str = "") -> None:
        for name in letters_in(tree):
            if name != but:
                self.add(name)

    def _tree(self, of: str, formula: str, spelled: Mapping[str, str]) -> Tree:
        try:
            return read_formula(formula, spelled)[0]
        except Unreadable as sentence:
            entry = toml_file("ways")
            raise entry.refusal(
                f"way {of}", formula, "a formula in letters that its problems have", str(sentence)
            ) from None


def results_as_letters(tree: Tree) -> Tree:
    """The tree with results on the way as letters, so that a line uses the numbers it shows."""
    if isinstance(tree, Named):
        return Letter(tree.name)
    parts = children(tree)
    return rebuilt(tree, [results_as_letters(part) for part in parts]) if parts else tree


def used_letters(steps: Collection[PlannedStep], given: Collection[str]) -> tuple[str, ...]:
    """The given letters that steps use, in the order given."""
    used = {name for step in steps for name in letters_in(step.tree)}
    return tuple(name for name in given if name in used)
