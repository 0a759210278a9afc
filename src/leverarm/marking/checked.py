"""A checked answer, and what its mistakes are called over a whole class."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from leverarm.exercises import Mistake, Problem, Verdict
from leverarm.exercises.choices import defended
from leverarm.marking.answer_file import Answer
from leverarm.quantities import show_number

_NUMBER = re.compile(r"(?<![A-Za-z\d])\d(?:[\d.,\u202f]*\d)?")


@dataclass(frozen=True, slots=True)
class CheckedAnswer:
    """An answer that counts, its problem made again, and its verdict."""

    answer: Answer
    problem: Problem
    verdict: Verdict


# Item name -> the answers that count, first try first.
Work: TypeAlias = dict[str, list[CheckedAnswer]]


class ItemMarks(Mapping[str, int | None]):
    """Item name -> 1 right, 0 not yet, None not answered; all rows share the names.

    names   of the items, in order;  marks  one for each
    """

    __slots__ = ("_marks", "_names")

    def __init__(self, names: tuple[str, ...], marks: Iterable[int | None]) -> None:
        self._names, self._marks = names, tuple(marks)

    def __getitem__(self, name: str) -> int | None:
        try:
            return self._marks[self._names.index(name)]
        except ValueError:
            raise KeyError(name) from None

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)


# Name of a mistake, and its words without numbers.
MistakeName: TypeAlias = tuple[str, str]


def without_numbers(words: str) -> str:
    """Words about one student's number, fit for a class: its numbers are left open.

    >>> without_numbers("what comes out without the factor (1 + 1.2/1.65)")
    'what comes out without the factor (\u2026 + \u2026/\u2026)'
    """
    return _NUMBER.sub("\u2026", words)


def class_words(problem: Problem, mistake: Mistake) -> tuple[MistakeName, str]:
    """(name, words) of a mistake as a class table has them.

    An option goes by its name, for its words may name another tractor each time.
    """
    if problem.style == "choice":
        return (mistake.name, ""), mistake.what.removeprefix("the thought that ")
    return (mistake.name, without_numbers(mistake.what)), mistake.what


def right_answer(problem: Problem) -> str:
    """The right answer as text: a number with four digits and its unit, or as it stands."""
    answer = problem.answer
    if isinstance(answer, bool) or not isinstance(answer, (int, float)):
        return str(answer)
    whole = len(str(int(abs(answer))))
    return f"{show_number(answer, max(0, 4 - whole))} {problem.unit}".strip()


def shown_answer(problem: Problem) -> str:
    """The right answer for people: an option with its words, a free body in one row."""
    answer = right_answer(problem)
    if problem.style == "choice":
        words = dict(problem.options)
        return " Or ".join(f"{one}: {words[one]}" for one in defended(problem))
    return "; ".join(answer.splitlines())
