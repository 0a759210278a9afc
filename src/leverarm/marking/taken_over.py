"""Wrong answers that are right with a classmate's numbers: taken over from another file or ticket.

Everyone has own numbers, so one number may agree by chance and several do not.  How many digits
must agree grows with the class: of N students there are about N² pairs, and each further digit
leaves a tenth of the chance agreements.

None of this changes a mark, and it proves nothing: somebody may have opened the wrong ticket.
"""

import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from math import ceil, log10
from typing import TypeAlias

from leverarm.marking.checked import Work

FEWEST_ANSWERS, FEWEST_DIGITS = 2, 5
MOST_KEPT = 100_000  # right answers of a class; what comes after them is not looked for
# A number at a problem, as it was read, with its unit.
_Number: TypeAlias = tuple[str, str]
_DIGITS = re.compile(r"\d[\d.,]*")


def digits_that_tell(reading: str) -> int:
    """Digits of a number that say something: neither zeros before it nor zeros at its end.

    >>> [digits_that_tell(text) for text in ("-213.7 lb", "300 lb", "0.0450 m")]
    [4, 1, 2]
    """
    found = _DIGITS.search(reading)
    return len(re.sub(r"[.,]", "", found[0]).strip("0")) if found else 0


def digits_needed(students: int) -> int:
    """Digits that must agree in a class, so that chance does it in one class of 100,000.

    >>> digits_needed(7), digits_needed(24), digits_needed(300)
    (7, 8, 10)
    """
    return FEWEST_DIGITS + ceil(2 * log10(max(students, 1)))


class TakenOver:
    """The right numbers of a class and the wrong ones, one student at a time."""

    def __init__(self) -> None:
        self._right: defaultdict[_Number, set[str]] = defaultdict(set)
        self._wrong: dict[str, set[_Number]] = {}

    def add(self, code: str, work: Work) -> None:
        """Note the numbers of one marked student."""
        wrong = set()
        for name, checks in work.items():
            for one in checks:
                number = (name, one.verdict.reading)
                if one.problem.style != "number":
                    continue
                if not one.verdict.right:
                    wrong.add(number)
                elif len(self._right) < MOST_KEPT:
                    self._right[number].add(code)
        if len(wrong) >= FEWEST_ANSWERS:
            self._wrong[code] = wrong

    def join(self, later: "TakenOver") -> None:
        """Note those of a later part of the class."""
        self._wrong |= later._wrong
        for number, codes in later._right.items():
            if len(self._right) < MOST_KEPT:
                self._right[number] |= codes

    def found(self, students: int) -> Iterator[tuple[str, str, int]]:
        """(code, the classmate's code, wrong answers that are right with that one's numbers)."""
        needed = digits_needed(students)
        for code, wrong in self._wrong.items():
            answers: Counter[str] = Counter()
            digits: Counter[str] = Counter()
            for number in wrong:
                for other in self._right.get(number, ()):
                    answers[other] += 1
                    digits[other] += digits_that_tell(number[1])
            for other, count in answers.items():
                if other != code and count >= FEWEST_ANSWERS and digits[other] >= needed:
                    yield code, other, count
