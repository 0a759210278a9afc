"""Concept questions with options: every wrong option is a wrong turn with a reply of its own."""

import re
from dataclasses import dataclass

from leverarm.exercises.answers import clipped
from leverarm.exercises.draw import Stream
from leverarm.exercises.problem import Problem, Suspect, Verdict, unread
from leverarm.exercises.scenes import SCENES
from leverarm.exercises.worked import Line
from leverarm.numerals import plain

LABELS = "ABCDEF"
MOST_TYPED = 300
DECIDES = {
    "forces": "Here the balance of forces decides.",
    "front": "Here moments about the front axle decide.",
    "rear": "Here moments about the rear axle decide.",
    "definition": "Here the meaning of the words decides.",
    "tires": "Here moments about the tire line decide.",
    "units": "Here the units decide.",
}


@dataclass(frozen=True)
class Option:
    """One option: the name of the wrong turn it is ("" for the right one), its text, what to say to it."""

    turn: str
    text: str
    reply: str


@dataclass(frozen=True, eq=False)
class ChoiceKind:
    """A concept question.

    question    text with {machine} and {thing}
    options     the right Option first; a problem shuffles them
    principle   which one decides
    hint        a picture to draw, and a step to think through
    """

    name: str
    lesson: int
    title: str
    question: str
    options: tuple
    principle: str
    hint: tuple
    stream: str = ""
    style = "choice"

    def make(self, seed, system=None):
        """The problem of a seed: the same question, its options in an order of their own."""
        stream = Stream(self.stream or self.name, seed)
        scene = {part: stream.one_of(choices) for part, choices in SCENES.items()}
        order = stream.shuffled(self.options)
        options = tuple(
            (label, option.text.format(**scene)) for label, option in zip(LABELS, order)
        )
        return Problem(
            self.name,
            self.lesson,
            self.title,
            self.style,
            seed,
            system or "kg",
            self.question.format(**scene),
            {},
            "",
            LABELS[order.index(self.options[0])],
            options,
            source=self,
            inner=tuple(order),
        )

    def check(self, problem, typed, tolerance=None, sympy=True):
        """The Verdict on a letter, a number from 1, or the words of an option."""
        at = _chosen(typed, problem.options)
        if at is None:
            labels = ", ".join(label for label, _ in problem.options)
            return unread(f"{clipped(typed)} names no option. Type one letter: {labels}.")
        (label, text), option = problem.options[at], problem.inner[at]
        shown = f"{label}: {text}"
        if not option.turn:
            return Verdict(True, shown, case="right", finding=f"{label} is it. {option.reply}")
        suspect = Suspect(option.turn, f"the thought that {_lower(text)}", option.reply)
        return Verdict(
            False,
            shown,
            (suspect,),
            "wrong",
            DECIDES[self.principle],
            f"{label} says: {text}",
            option.reply,
        )

    def hints(self, problem):
        """Four hints, one rung at a time."""
        wrong = next(
            label for (label, _), option in zip(problem.options, problem.inner) if option.turn
        )
        return (
            self.hint[0],
            self.hint[1],
            self.hint[2],
            f"It is not {wrong}. {self._option(problem, wrong).reply}",
        )

    def _option(self, problem, wanted):
        return next(
            option for (label, _), option in zip(problem.options, problem.inner) if label == wanted
        )

    def solution(self, problem):
        """Why the right option is right."""
        text = dict(problem.options)[problem.answer]
        return (
            Line(self.principle, self.options[0].reply, problem.answer, "", "", text, mark=": "),
        )


def _chosen(typed, options):
    """The index of the option a text names, or None."""
    if len(typed) > MOST_TYPED:
        return None
    text = plain(typed).strip().lower()
    letter = re.fullmatch(r"(?:option|answer)?\s*\(?([a-f1-6])[).:]?", text)
    if letter:
        at = LABELS.lower().find(letter[1]) if letter[1].isalpha() else int(letter[1]) - 1
        return at if 0 <= at < len(options) else None
    fits = [
        at
        for at, (label, said) in enumerate(options)
        if len(text) > 3 and plain(said).lower().startswith(text.rstrip("."))
    ]
    return fits[0] if len(fits) == 1 else None


def _lower(text):
    return text[0].lower() + text[1:].rstrip(".")
