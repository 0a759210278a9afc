"""Worked solutions from the working itself, with the problem's own numbers; hints; fading.

Every line keeps the tree it was printed from and the number it claims, so that a
test can work it out again.  A lever's line stands on its moment equation, taken
from the sympy derivation.
"""

from dataclasses import dataclass, replace
from functools import cache

from leverarm import statics
from leverarm.exercises.answers import figured, short, unit_shown
from leverarm.exercises.evaluate import closure, value
from leverarm.exercises.feedback import numbers_of, principle_question
from leverarm.exercises.grammar import read
from leverarm.exercises.rules import PRINCIPLES
from leverarm.exercises.spell import text
from leverarm.exercises.trees import Letter, Named, Num, children, letters_of, rebuilt
from leverarm.exercises.working import RULES
from leverarm.quantities import KINDS, Refusal, to_unit, unit_of

BLANK = "____"
_WORDS = {"in": "inches", "in2": "square inches", "ft": "feet"}
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
    mark: str = " = "

    @property
    def tag(self):
        """The principle as printed."""
        return PRINCIPLES[self.principle]

    @property
    def text(self):
        """The line as printed; a blank one keeps only its left side."""
        chain = dict.fromkeys(
            (self.left, BLANK)
            if self.blank
            else (self.left, self.letters, self.numbers, self.result)
        )
        return self.mark.join(part for part in chain if part)


def lines(work, problem):
    """The worked solution of a numeric problem."""
    frame = _Frame(work, problem)
    made = list(frame.conversions)
    for step in work.steps:
        made += _balance(frame, step) + [_step(frame, step)]
    return tuple(made + frame.last())


def hints(work, problem):
    """A question, a picture, the step, the step worked."""
    made = lines(work, problem)
    first = next((line for line in made if line.principle != "units"), made[0])
    given = ", ".join(f"{letter} = {told}" for letter, told in problem.given.items())
    return (
        principle_question(work.rule),
        f"{picture(work.given, work.rule.principle)} Write on it: {given}.",
        f"Principle: {first.tag}. {first.words} {first.left} = {first.letters or first.result}",
        first.text,
    )


BODY = "Draw the machine as a line with an arrow up at each axle and an arrow down at each weight, arms measured from one axle."
# What to draw, by a letter that is given: the first that fits.
_PICTURES = (
    (
        "S P d",
        "Draw the plank as a line with an arrow up at each scale and an arrow down at each weight, arms measured from one scale.",
    ),
    ("r1", "Draw a line and a dot on it for each reading."),
    ("A N l I Q0", "Draw one tire on its print: the arrow down on it, the area under it."),
    ("O", "Draw the machine from above, its two axles, and the point about which both turn."),
    (
        "Cf Cr n1 n0 nt s D e e0",
        "Draw a front and a rear wheel side by side, and the way each rolls for one turn of the rear one.",
    ),
    (
        "R1",
        "Draw two columns, before and after, a row for each axle, and the change at the end of each row.",
    ),
    (
        "u U h2",
        "Draw a reading as a dot on a line, and a bar to each side as long as its uncertainty.",
    ),
    ("G", "Draw a right triangle: 100 along, the rise up."),
    (
        "t",
        "Draw the machine from behind, its wheels, its center of gravity, and the line from there to a wheel.",
    ),
    ("o", "Draw the arm from its pivot to the load, and the level line under it."),
    (
        "j",
        "Draw the machine on its slope, one arrow for each weight, split into a part along the slope and a part square to it.",
    ),
    (
        "y slow",
        "Draw the machine from the side with a level arrow at its center of gravity, and its height.",
    ),
    ("b bm", BODY + " What hangs behind the rear axle pulls on that side."),
)


def picture(given, principle="definition"):
    """What to draw for a problem with these letters."""
    if principle == "units" and "G" not in given:
        return "Draw two bars of one length, one for each unit, and mark which unit is the bigger."
    return next((drawn for letters, drawn in _PICTURES if set(letters.split()) & set(given)), BODY)


def fade(solution, stage):
    """A worked solution with its last lines left blank: stage 0 none, 1 the last, 2 the last two, 3 all."""
    if stage not in range(STAGES):
        raise Refusal("stage", stage, f"a whole number from 0 to {STAGES - 1}", "take one of these")
    keep = (len(solution), len(solution) - 1, len(solution) - 2, 0)[stage]
    return tuple(
        line if at < keep else replace(line, blank=True) for at, line in enumerate(solution)
    )


def in_letters(work, letters, put_in=None, multiple=""):
    """The worked solution of a formula: each step in letters, and a last line where a letter is a multiple of another."""
    made = []
    for step in work.steps:
        rule = RULES[step.name]
        if rule.balance:
            pivot, weight, arm = rule.balance
            tree = _moments(pivot, weight, arm, step.name)
            made.append(
                Line(rule.principle, _moment_words(pivot), text(tree, letters), "", "", "0", tree)
            )
        made.append(
            Line(
                rule.principle,
                rule.why,
                rule.shown,
                "",
                "",
                text(step.of, letters),
                _leaves(step.of),
            )
        )
    if put_in is not None:
        made.append(
            Line(
                "definition",
                f"Put {multiple} in.",
                work.rule.shown,
                "",
                "",
                text(put_in, letters),
                put_in,
            )
        )
    return tuple(made)


def _moment_words(pivot):
    return f"Moments about the {pivot} axle. A change of a reading takes part like a force."


class _Frame:
    """The units a solution is worked in: those of the statement if the formulas allow, else those of the system, else base units."""

    def __init__(self, work, problem):
        self.work, self.problem, self.system = work, problem, problem.system
        self.base, self.used = problem.inner.values, letters_of(work.tree)
        for self.unit_of_letter in (self._told, self._usual, self._basic):
            self.at = {name: self._in(name) for name in self.used}
            if (
                work.rule.raw
                or self.unit_of_letter == self._basic
                or all(self._holds(step) for step in work.steps)
            ):
                break
        self.at |= {step.name: value(closure(step), self.at) for step in work.steps}
        told = numbers_of(work, problem)
        self.names = {
            name: short(self.at[name]) if self._turned(name) else told[name] for name in self.used
        }
        self.names |= {step.name: short(self.at[step.name]) for step in work.steps}
        self.letters = {name: work.letters[name].shown for name in work.given} | {
            s.name: RULES[s.name].shown for s in work.steps
        }

    def _told(self, name):
        """The unit a letter is told in."""
        return self.work.letters[name].unit(self.system)

    def _usual(self, name):
        """The usual unit of the system for it."""
        return unit_of(self.work.letters[name].kind, self.system)

    def _basic(self, name):
        """Its base unit."""
        return KINDS[self.work.letters[name].kind].base

    def _in(self, name):
        """A given number in the unit it is worked in."""
        if self.unit_of_letter == self._told:
            return self.problem.inner.shown[name]
        return to_unit(self.base[name], self.work.letters[name].kind, self.unit_of_letter(name))

    def _turned(self, name):
        """Whether a given number must be turned into another unit first."""
        return self._told(name) != self.unit_of_letter(name)

    def _holds(self, step):
        """Whether a step gives in these units what it gives in base units."""
        rule, there = RULES[step.name], value(closure(step), self.at)
        return abs(
            to_unit(value(closure(step), self.base), rule.kind, self.unit(rule)) - there
        ) <= 1e-9 * abs(there)

    def unit(self, rule):
        """The unit a result is worked out in."""
        if rule.unit.get(self.system) and self.unit_of_letter == self._told:
            return rule.unit[self.system]
        return (
            KINDS[rule.kind].base
            if self.unit_of_letter == self._basic
            else unit_of(rule.kind, self.system)
        )

    @property
    def conversions(self):
        """A line for each given number that must be turned into another unit first."""
        return [self._conversion(name) for name in self.used if self._turned(name)]

    def _conversion(self, name):
        letter, unit = self.work.letters[name], self.unit_of_letter(name)
        units = KINDS[letter.kind].units
        tree = Letter(name) * Num(units[self._told(name)] / units[unit])
        return Line(
            "units",
            f"{letter.words.capitalize()} in {_WORDS.get(unit, unit_shown(unit))}, as the formula needs it.",
            letter.shown,
            "",
            text(tree, numbers_of(self.work, self.problem)),
            f"{short(self.at[name])} {unit_shown(unit)}".strip(),
            tree,
            {name: self.problem.inner.shown[name]},
            self.at[name],
        )

    def last(self):
        """The line that turns the result into the unit asked, where it is another."""
        rule, unit = self.work.rule, self.problem.unit
        if rule.raw or self.unit(rule) == unit:
            return []
        tree = Letter(rule.name) / Num(
            KINDS[rule.kind].units[unit] / KINDS[rule.kind].units[self.unit(rule)]
        )
        return [
            Line(
                "units",
                f"In {_WORDS.get(unit, unit_shown(unit))}, as asked.",
                rule.shown,
                "",
                text(tree, self.names),
                f"{figured(self.problem.answer)} {unit_shown(unit)}",
                tree,
                self.at,
                self.problem.answer,
            )
        ]


def _step(frame, step):
    """The line of one result: letters, numbers, result."""
    rule = RULES[step.name]
    unit = frame.unit(rule)
    number = frame.at[step.name]
    return Line(
        rule.principle,
        rule.why,
        rule.shown,
        text(step.of, frame.letters),
        text(step.of, frame.names),
        f"{figured(number)} {unit_shown(unit)}".strip(),
        _leaves(step.of),
        frame.at,
        number,
    )


def _leaves(tree):
    """The tree with results on the way as letters, so that a line is worked out from the numbers it shows."""
    if isinstance(tree, Named):
        return Letter(tree.name)
    return (
        rebuilt(tree, tuple(_leaves(part) for part in children(tree))) if children(tree) else tree
    )


def _balance(frame, step):
    """The moment equation that a lever's line stands on, from the derivation."""
    rule = RULES[step.name]
    if not rule.balance:
        return []
    pivot, weight, arm = rule.balance
    tree = _moments(pivot, weight, arm, step.name)
    numbers = text(tree, frame.names | {step.name: rule.shown})
    return [
        Line(
            rule.principle,
            _moment_words(pivot),
            text(tree, frame.letters),
            "",
            numbers,
            "0",
            tree,
            frame.at,
            0.0,
        )
    ]


@cache
def _moments(pivot, weight, arm, result):
    """The left side of the derived moment equation, in a problem's own letters."""
    derived = statics.derive(about=pivot).equations[0]
    letters = {"W": weight, "a": arm, "L": "L", "F": result, "R": result}
    return read(str(derived.lhs), letters)[0]
