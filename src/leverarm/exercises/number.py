"""Numeric problems: drawing numbers that keep slips and right answers apart, and checking what is typed."""

from dataclasses import dataclass
from functools import cached_property

from leverarm.exercises import worked
from leverarm.exercises.answers import figured, in_unit, read_number
from leverarm.exercises.draw import Stream
from leverarm.exercises.evaluate import value
from leverarm.exercises.feedback import wrong
from leverarm.exercises.grammar import Unreadable
from leverarm.exercises.problem import Problem, Suspect, Verdict, unclear, unread
from leverarm.exercises.scenes import SCENES
from leverarm.exercises.typed_working import worked_out
from leverarm.exercises.working import working
from leverarm.quantities import Refusal, from_unit, to_unit, unit_of

MOST_DRAWS = 400
TOLERANCE = 0.005  # a right answer rounded to three digits lies within this
WINDOW = 0.005  # how near a number must come to a wrong turn's to be taken for it
FEW_DIGITS_WINDOW = 0.02  # the same for a number typed to one or two digits
TOO_NEAR = 0.03  # how near a listed wrong turn may come to the right answer
# Where the lever upside down, the load in the middle or plain doubling give the right answer.
BLIND_SPOTS, SPOT = (0.5, 0.618034, 1.0), 0.03
MANY_DIGITS = 6


@dataclass(frozen=True)
class Numbers:
    """What a numeric problem keeps beside its text: numbers by letter, and the right answer, as they are computed with."""

    shown: dict
    values: dict
    right: float


@dataclass(frozen=True, eq=False)
class NumberKind:
    """A kind of numeric problem: data, and the rule that is asked.

    asked       the rule whose result is asked
    given       letters whose numbers stand in the statement; hidden  letters drawn behind given readings
    statement   text with {letters}, {machine} and {thing}
    sign        "change": a gain is positive and a loss negative, and the sign is part of the answer;
                "size": the statement says which way, so either sign is right; "plain": positive
    low, high   what a real machine allows for the answer, in the base unit
    system      "kg" or "lb" where only one makes sense
    ranges      (letter, low, high) where the usual range of a letter does not suit
    caution     a sentence to show with it
    """

    name: str
    lesson: int
    title: str
    asked: str
    given: tuple
    statement: str
    hidden: tuple = ()
    sign: str = "plain"
    low: float = 1e-9
    high: float = 1e9
    system: str = ""
    ranges: tuple = ()
    caution: str = ""
    stream: str = ""
    style = "number"

    @cached_property
    def working(self):
        """The Working behind it."""
        return working(self.asked, self.given, self.hidden, self.sign == "change", self.ranges)

    def unit(self, system):
        """The unit the answer is asked in."""
        rule = self.working.rule
        return rule.unit.get(system) or unit_of(rule.kind, system)

    def make(self, seed, system=None):
        """The problem of a seed."""
        system = (
            self.system
            or system
            or Stream(self.stream or self.name, seed, "units").one_of(("kg", "kg", "lb"))
        )
        work = self.working
        for redraws in range(MOST_DRAWS):
            stream = Stream(self.stream or self.name, seed, system, redraws)
            numbers = _drawn(work, stream, system)
            if self._fit(numbers) and not _crowded(work, numbers):
                return self._told(stream, seed, system, numbers, redraws)
        raise Refusal(
            "seed", seed, "a seed that leaves room between right and wrong", "take another seed"
        )

    def _fit(self, numbers):
        """Whether a real machine allows this answer, and no lever stands at a blind spot."""
        at = numbers.values
        ratio = at["a"] / at["L"] if "a" in at and "L" in at else 0.0
        return (
            self.low <= abs(numbers.right) <= self.high
            and (self.sign != "plain" or numbers.right > 0)
            and all(abs(ratio - spot) > SPOT for spot in BLIND_SPOTS)
        )

    def _told(self, stream, seed, system, numbers, redraws):
        """The problem in words."""
        work, unit = self.working, self.unit(system)
        given = {
            name: work.letters[name].printed(numbers.shown[name], system) for name in self.given
        }
        scene = {part: stream.one_of(choices) for part, choices in SCENES.items()}
        answer = numbers.right if work.rule.raw else to_unit(numbers.right, work.rule.kind, unit)
        return Problem(
            self.name,
            self.lesson,
            self.title,
            self.style,
            seed,
            system,
            " ".join(filter(None, (self.statement.format(**scene, **given), self.caution))),
            {work.letters[name].shown: text for name, text in given.items()},
            unit,
            answer,
            redraws=redraws,
            source=self,
            inner=numbers,
        )

    def check(self, problem, typed, tolerance=None, sympy=True):
        """The Verdict on what was typed."""
        kind = self.working.rule.kind
        try:
            got = read_number(typed, kind, problem.unit, self.sign == "change")
        except Unreadable as sentence:
            return self._otherwise(problem, typed, sentence, tolerance)
        if len(got.values) > 1:
            return unclear(
                got.shown,
                f"{typed.strip()} can mean {got.shown}. Type it without the comma, or with a decimal point.",
            )
        return self._judged(problem, got, tolerance)

    def _otherwise(self, problem, typed, sentence, tolerance):
        """What is no number may still be a working that was not worked out."""
        found = worked_out(self.working, problem, typed)
        if found is None:
            return unread(sentence)
        if not found.with_letters:
            return self._judged(
                problem,
                read_number(repr(found.number), self.working.rule.kind, problem.unit),
                tolerance,
            )
        near = abs(found.number - problem.answer) <= (tolerance or TOLERANCE) * abs(problem.answer)
        tail = (
            "That formula is right. Now put the numbers in."
            if near
            else "Type the number that it gives."
        )
        return unclear(found.text, f"Read as the formula {found.text}. {tail}")

    def _judged(self, problem, got, tolerance):
        """Right, or wrong with its suspects."""
        work, numbers = self.working, problem.inner
        number = (
            to_unit(got.values[0], work.rule.kind, problem.unit) if work.rule.raw else got.values[0]
        )
        if self._is_right(number, numbers.right, tolerance or TOLERANCE):
            return Verdict(
                True,
                got.shown,
                case="right",
                finding=f"{got.shown}: that is it.",
                remarks=tuple(self._remarks(problem, got)),
            )
        return wrong(
            self,
            problem,
            got.shown,
            tuple(_suspect_paths(self, problem, number, got.digits)),
            _too_coarse(problem.answer, to_unit(got.values[0], work.rule.kind, problem.unit)),
        )

    def _is_right(self, number, right, tolerance):
        """Within the tolerance; where the statement says which way, either sign."""
        if self.sign == "size":
            number, right = abs(number), abs(right)
        return abs(number - right) <= tolerance * abs(right) * (1 + 1e-9)

    def _remarks(self, problem, got):
        """What is worth saying about a right answer."""
        asked = in_unit(
            from_unit(problem.answer, self.working.rule.kind, problem.unit),
            self.working.rule.kind,
            problem.unit,
        )
        if got.told and got.unit != problem.unit:
            yield f"In {problem.unit or 'plain numbers'}, as asked, it is {asked}."
        if got.signed == "loss" and self.sign == "change":
            yield "A loss counts negative here, and that is how it was read."
        if self.sign == "size" and got.values[0] * problem.inner.right < 0:
            yield "The question says which way, so the size is enough."
        if got.digits >= MANY_DIGITS:
            yield f"So many digits are more than the data carry: {figured(problem.answer, 3)} says as much."

    def hints(self, problem):
        """Four hints, one rung at a time."""
        return worked.hints(self.working, problem)

    def solution(self, problem):
        """The worked solution."""
        return worked.lines(self.working, problem)


def _drawn(work, stream, system):
    """Numbers for every letter, as shown and as computed with, and the right answer."""
    letters = work.letters
    shown = {name: letters[name].draw(stream, system) for name in work.drawn}
    at = {name: letters[name].base(number, system) for name, number in shown.items()}
    for name, compute in work.derived.items():
        shown[name] = letters[name].snapped(value(compute, at), system)
    values = (
        shown
        if work.rule.raw
        else {name: letters[name].base(number, system) for name, number in shown.items()}
    )
    return Numbers(shown, values, value(work.answer, values))


def _crowded(work, numbers):
    """Whether a listed wrong turn comes too near to the right answer."""
    right = numbers.right
    return any(
        abs(value(path.compute, numbers.values) - right) < TOO_NEAR * abs(right)
        for path in work.listed
    )


def _too_coarse(right, number):
    """The right number, cut to fewer digits than the data carry: a tuple of that Suspect, or of none."""
    if not any(abs(float(f"{right:.{n}g}") - number) <= 1e-9 * abs(right) for n in (1, 2)):
        return ()
    return (
        Suspect(
            "cut short",
            "the right number cut to fewer than three digits",
            "The data carry three digits. How many should the answer carry?",
        ),
    )


def _suspect_paths(kind, problem, number, digits):
    """Every Path whose number this is; one or two digits typed leave more room."""
    room = FEW_DIGITS_WINDOW if digits < 3 else WINDOW
    for path in kind.working.paths:
        there = value(path.compute, problem.inner.values)
        if abs(number - there) <= room * abs(there) or (
            kind.sign == "size" and abs(number + there) <= room * abs(there)
        ):
            yield path
