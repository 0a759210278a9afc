"""Concept questions with options: every wrong option is a mistake with its own reply.

A decision has more than one right option: each can be defended, its reply says on what it rests.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from leverarm.exercises.letters import scene
from leverarm.exercises.number_reader import NOTHING_TYPED, clipped
from leverarm.exercises.problem import Mistake, Problem, ProblemKind, SolutionLine, Verdict, unread
from leverarm.exercises.told_numbers import ToldNumber, drawn_numbers, printed_numbers
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
    """One option: the mistake it is ("" for the right one), its text, the reply to it."""

    mistake: str
    text: str
    reply: str


@dataclass(frozen=True, eq=False)
class ChoiceKind(ProblemKind):
    """A concept question.

    question    text with {machine} and {thing}
    options     the right Option first, or all that can be defended; a problem shuffles them
    principle   which one decides
    hint        a question, a picture to draw, and a step to think through
    told        numbers of the question by name, as text for each unit system
    numbers     numbers of the question that its seed draws
    """

    question: str
    options: tuple[Option, ...]
    principle: str
    hint: tuple[str, str, str]
    told: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    numbers: tuple[ToldNumber, ...] = ()
    style = "choice"

    def made(self, seed: object, system: str | None, edition: int) -> Problem:
        """The problem of a seed: the same question, its options in their own order."""
        stream, system = self.numbers_of(seed), system or "kg"
        words = {**scene(stream), **{name: text[system] for name, text in self.told.items()}}
        drawn = self.numbers_of(seed, system, "numbers")
        at = drawn_numbers(self.numbers, drawn, system)
        words |= printed_numbers(self.numbers, at, system)
        order = tuple(
            Option(one.mistake, one.text.format(**words), one.reply.format(**words))
            for one in stream.shuffled(self.options)
        )
        options = tuple((label, option.text) for label, option in zip(LABELS, order))
        right = next(at for at, option in enumerate(order) if not option.mistake)
        return self.problem(
            seed,
            system,
            self.question.format(**words),
            answer=LABELS[right],
            options=options,
            drawn=order,
        )

    def check(
        self, problem: Problem, typed: str, tolerance: float | None = None, sympy: bool = True
    ) -> Verdict:
        """The Verdict on a letter, a number from 1, or the words of an option."""
        at = _chosen(typed, problem.options)
        if at is None:
            labels = ", ".join(label for label, _ in problem.options)
            found = f"{clipped(typed)} does not name an option" if typed.strip() else NOTHING_TYPED
            return unread(f"{found}. Type one letter: {labels}.")
        (label, text), option = problem.options[at], problem.drawn[at]
        shown = f"{label}: {text}"
        if not option.mistake:
            finding = f"{label} is it. {option.reply}"
            others = [one for one in defended(problem) if one != label]
            if others:
                replies = dict(zip(LABELS, problem.drawn))
                finding = f"{label} can be defended. {option.reply} " + " ".join(
                    f"So can {one}. {replies[one].reply}" for one in others
                )
            return Verdict(True, shown, case="right", finding=finding)
        thought = f"the thought that {text[0].lower()}{text[1:].rstrip('.')}"
        return Verdict(
            False,
            shown,
            (Mistake(option.mistake, thought, option.reply),),
            "wrong",
            DECIDES[self.principle],
            f"{label} says: {text}",
            option.reply,
        )

    def hints(self, problem: Problem, step: int | None = None) -> tuple[str, ...]:
        """Four hints, one rung at a time; the last rules out one wrong option."""
        label, option = next(
            (label, option)
            for (label, _), option in zip(problem.options, problem.drawn)
            if option.mistake
        )
        return (*self.hint, f"It is not {label}. {option.reply}")

    def solution(self, problem: Problem) -> tuple[SolutionLine, ...]:
        """Why the right option is right."""
        texts, replies = dict(problem.options), dict(zip(LABELS, problem.drawn))
        return tuple(
            SolutionLine(
                self.principle, replies[label].reply, label, result=texts[label], mark=": "
            )
            for label in defended(problem)
        )


def defended(problem: Problem) -> tuple[str, ...]:
    """The letters of the options that are right: one, or all that can be defended."""
    return tuple(label for label, option in zip(LABELS, problem.drawn) if not option.mistake)


def _chosen(typed: str, options: tuple[tuple[str, Any], ...]) -> int | None:
    """The index of the option that a text names, or None."""
    if len(typed) > MOST_TYPED:
        return None
    text = plain(typed).strip().lower()
    letter = re.fullmatch(r"(?:option|answer)?\s*\(?([a-f1-6])[).:]?", text)
    if letter:
        at = LABELS.lower().find(letter[1]) if letter[1].isalpha() else int(letter[1]) - 1
        return at if 0 <= at < len(options) else None
    fits = [
        at
        for at, (_, words) in enumerate(options)
        if len(text) > 3 and plain(words).lower().startswith(text.rstrip("."))
    ]
    return fits[0] if len(fits) == 1 else None
