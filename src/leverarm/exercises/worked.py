"""Worked solutions from the working itself, with the problem's own numbers; hints; fading.

Every line keeps the tree it was printed from and the number it claims, so that a
test can work it out again.  A lever's line stands on its moment equation, taken
from the sympy derivation.
"""

from dataclasses import dataclass, replace
from functools import lru_cache

from leverarm import statics
from leverarm.exercises.answers import figured
from leverarm.exercises.evaluate import closure, value
from leverarm.exercises.feedback import numbers_of, principle_question
from leverarm.exercises.grammar import read
from leverarm.exercises.rules import PRINCIPLES
from leverarm.exercises.spell import text
from leverarm.exercises.trees import Letter, Named, Num, children, rebuilt
from leverarm.exercises.working import RULES
from leverarm.quantities import KINDS, to_unit, unit_of

BLANK = "____"
STAGES = 4


@dataclass(frozen=True)
class Line:
    """One line of a worked solution.

    principle   a key of PRINCIPLES: which one this line uses
    words       why, in a sentence
    left        what is worked out; letters, numbers  how, in letters and in numbers
    result      the number with its unit; blank  whether it is left for the reader
    tree, at, claim     the working, its numbers, and what it must come to
    """

    principle: str
    words: str
    left: str
    letters: str
    numbers: str
    result: str
    tree: object = None
    at: object = None
    claim: float = 0.0
    blank: bool = False

    @property
    def tag(self):
        """The principle as printed."""
        return PRINCIPLES[self.principle]

    @property
    def text(self):
        """The line as printed; a blank one keeps only its left side."""
        if self.blank:
            return f"{self.left} = {BLANK}"
        chain = dict.fromkeys((self.left, self.letters, self.numbers, self.result))
        return " = ".join(part for part in chain if part)


def lines(work, problem):
    """The worked solution of a numeric problem."""
    frame = _frame(work, problem)
    made = list(frame.conversions)
    for step in work.steps:
        made += _balance(frame, step) + [_step(frame, step)]
    return tuple(made + frame.last())


def hints(work, problem):
    """A question, a picture, the step, the step worked."""
    made = lines(work, problem)
    first = next((line for line in made if line.principle != "units"), made[0])
    given = ", ".join(f"{letter} = {told}" for letter, told in problem.given.items())
    return (principle_question(work.rule), f"{_PICTURES[problem.lesson]} Write on it: {given}.",
            f"{first.tag}. {first.words} {first.left} = {first.letters}", f"{first.text}")


BODY = "Draw the machine as a line with an arrow up at each axle and an arrow down at each weight, arms measured from one axle."
_PICTURES = {1: BODY, 2: BODY, 3: BODY, 4: BODY + " One arrow for each piece.",
             5: "Draw two columns, before and after, a row for each axle, and the change at the end of each row.",
             6: "Draw the machine on its slope or with its arms up: one arrow for each weight, the level arm of each.",
             7: BODY + " The ballast hangs behind the rear axle.",
             8: "Draw one tyre on its print: the arrow down on it, the area under it.",
             9: "Draw a front and a rear wheel side by side and the way each rolls for one turn of the rear one.",
             10: BODY + " One drawing with everything on, one with it off."}


def fade(solution, stage):
    """A worked solution with its last lines left blank: stage 0 none, 1 the last, 2 the last two, 3 all."""
    if stage not in range(STAGES):
        raise ValueError(f"stage: {stage} was given; 0 to {STAGES - 1} is allowed; take one of these")
    keep = (len(solution), len(solution) - 1, len(solution) - 2, 0)[stage]
    return tuple(line if at < keep else replace(line, blank=True) for at, line in enumerate(solution))


def in_letters(work, letters, put_in=None, multiple=""):
    """The worked solution of a formula: each step in letters, and a last line where a letter is a multiple of another."""
    made = []
    for step in work.steps:
        rule = RULES[step.name]
        if rule.balance:
            pivot, weight, arm = rule.balance
            tree = _moments(pivot, weight, arm, step.name)
            made.append(Line(rule.principle, _moment_words(pivot), text(tree, letters), "", "", "0", tree))
        made.append(Line(rule.principle, rule.why, rule.shown, "", "", text(step.of, letters), _leaves(step.of)))
    if put_in is not None:
        made.append(Line("definition", f"Put {multiple} in.", work.rule.shown, "", "", text(put_in, letters), put_in))
    return tuple(made)


def _moment_words(pivot):
    return f"Moments about the {pivot} axle. A change of a reading takes part like a force."


class _frame:
    """The units a solution is worked in: those of the statement where the formulas allow, else the base units."""

    def __init__(self, work, problem):
        self.work, self.problem, self.system = work, problem, problem.system
        self.base = problem.inner.values
        self.shown = {name: problem.inner.shown[name] for name in work.given}
        self.plain = work.rule.raw or all(self._holds(step) for step in work.steps)
        at = self.shown if self.plain else {name: self.base[name] for name in work.given}
        self.at = dict(at) | {step.name: value(closure(step), at) for step in work.steps}
        told = numbers_of(work, problem)
        self.names = {name: told[name] if self.plain or not self._turned(name) else figured(self.base[name], 6) for name in work.given}
        self.names |= {step.name: figured(self.at[step.name], 6) for step in work.steps}
        self.letters = {name: work.letters[name].shown for name in work.given} | {s.name: RULES[s.name].shown for s in work.steps}

    def _holds(self, step):
        """Whether a step gives the same in the statement's units as in base units."""
        rule = RULES[step.name]
        there = value(closure(step), self.shown)
        return abs(to_unit(value(closure(step), self.base), rule.kind, unit_of(rule.kind, self.system)) - there) <= 1e-9 * abs(there)

    def _turned(self, name):
        """Whether a given number is told in another unit than the base unit."""
        return self.work.letters[name].unit(self.system) != KINDS[self.work.letters[name].kind].base

    def unit(self, rule):
        """The unit a result is worked out in."""
        if rule.raw:
            return rule.unit[self.system]
        return unit_of(rule.kind, self.system) if self.plain else KINDS[rule.kind].base

    @property
    def conversions(self):
        """A line for each given number that must be turned into its base unit first."""
        if self.plain:
            return []
        return [self._into_base(name) for name in self.work.given if self._turned(name)]

    def _into_base(self, name):
        letter, kind = self.work.letters[name], KINDS[self.work.letters[name].kind]
        factor = kind.units[letter.unit(self.system)]
        tree = Letter(name) * Num(factor)
        told = self.problem.given[letter.shown].split(" ")[0]
        return Line("units", f"{letter.words.capitalize()} in {kind.base}, as the formula needs it.", letter.shown, "",
                    text(tree, {name: told}), f"{figured(self.base[name], 6)} {kind.base}".strip(),
                    tree, {name: self.shown[name]}, self.base[name])

    def last(self):
        """The line that turns the result into the unit asked, where it is another."""
        rule, unit = self.work.rule, self.problem.unit
        if rule.raw or self.unit(rule) == unit:
            return []
        tree = Letter(rule.name) / Num(KINDS[rule.kind].units[unit] / KINDS[rule.kind].units[self.unit(rule)])
        return [Line("units", f"In {unit}, as asked.", rule.shown, "", text(tree, self.names),
                     f"{figured(self.problem.answer)} {unit}", tree, self.at, self.problem.answer)]


def _step(frame, step):
    """The line of one result: letters, numbers, result."""
    rule = RULES[step.name]
    unit = frame.unit(rule)
    number = frame.at[step.name]
    return Line(rule.principle, rule.why, rule.shown, text(step.of, frame.letters), text(step.of, frame.names),
                f"{figured(number, 5)} {unit}".strip(), _leaves(step.of), frame.at, number)


def _leaves(tree):
    """The tree with results on the way as letters, so that a line is worked out from the numbers it shows."""
    if isinstance(tree, Named):
        return Letter(tree.name)
    return rebuilt(tree, tuple(_leaves(part) for part in children(tree))) if children(tree) else tree


def _balance(frame, step):
    """The moment equation that a lever's line stands on, from the derivation."""
    rule = RULES[step.name]
    if not rule.balance:
        return []
    pivot, weight, arm = rule.balance
    tree = _moments(pivot, weight, arm, step.name)
    numbers = text(tree, frame.names | {step.name: rule.shown})
    return [Line(rule.principle, _moment_words(pivot), text(tree, frame.letters), "", numbers, "0", tree, frame.at, 0.0)]


@lru_cache(maxsize=None)
def _moments(pivot, weight, arm, result):
    """The left side of the derived moment equation, in a problem's own letters."""
    derived = statics.derive(about=pivot).equations[0]
    letters = {"W": weight, "a": arm, "L": "L", "F": result, "R": result}
    return read(str(derived.lhs), letters)[0]
