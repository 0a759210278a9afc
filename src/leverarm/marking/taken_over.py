"""Wrong answers that are right with a classmate's numbers: taken over from another file or ticket.

Everyone has own numbers, so one number may agree by chance and several do not.  How many digits
must agree grows with the class: of N students there are about N² pairs, and each further digit
leaves a tenth of the chance agreements.

A number that was typed anew, with more or fewer digits, agrees with the classmate's right answer
where both round to the same four digits.  That happens by chance more often, so then half of
somebody's wrong numbers must agree with one classmate's.

None of this changes a mark, and it proves nothing: somebody may have opened the wrong ticket.
"""

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from math import ceil, log10
from typing import TypeAlias

from leverarm.marking.checked import Work

FEWEST_ANSWERS, FEWEST_DIGITS = 2, 5
ROUNDED_DIGITS, PART_ROUNDED = 4, 0.5
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
        # The right answers to all problems that somebody was at, by four digits.
        self._rounded: defaultdict[_Number, set[str]] = defaultdict(set)
        self._wrong: dict[str, set[_Number]] = {}

    def add(self, code: str, work: Work) -> None:
        """Note the numbers of one marked student."""
        wrong = set()
        for name, checks in work.items():
            for one in checks:
                number = (name, one.verdict.reading)
                if one.problem.style != "number":
                    continue
                if len(self._rounded) < MOST_KEPT:
                    self._rounded[name, _four_digits(one.problem.answer)].add(code)
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
        for number, codes in later._rounded.items():
            if len(self._rounded) < MOST_KEPT:
                self._rounded[number] |= codes

    def found(self, students: int) -> Iterator[tuple[str, str, int]]:
        """(code, the classmate's code, wrong answers that are right with that one's numbers)."""
        needed = digits_needed(students)
        for code, wrong in self._wrong.items():
            typed = self._agreeing(wrong, lambda one: self._right.get(one, ()))
            anew = self._agreeing(wrong, self._as_rounded)
            for other in sorted((typed.keys() | anew.keys()) - {code}):
                count, digits = typed.get(other, (0, 0))
                if anew.get(other, (0, 0))[0] >= max(PART_ROUNDED * len(wrong), count + 1):
                    count, digits = anew[other]
                if count >= FEWEST_ANSWERS and digits >= needed:
                    yield code, other, count

    def _as_rounded(self, number: _Number) -> Iterable[str]:
        """Whose right answer a number is when both are rounded to four digits."""
        name, reading = number
        found = _DIGITS.search(reading)
        if not found or digits_that_tell(reading) < ROUNDED_DIGITS:
            return ()
        sign = "-" if reading[: found.start()].strip() else ""
        value = float(sign + found[0].rstrip(".,").replace(",", ""))
        return self._rounded.get((name, _four_digits(value)), ())

    @staticmethod
    def _agreeing(
        wrong: Iterable[_Number], owners: Callable[[_Number], Iterable[str]]
    ) -> dict[str, tuple[int, int]]:
        """Classmate -> how many numbers are right there, and their digits."""
        found: dict[str, tuple[int, int]] = {}
        for number in wrong:
            for other in owners(number):
                count, digits = found.get(other, (0, 0))
                found[other] = count + 1, digits + digits_that_tell(number[1])
        return found


def _four_digits(number: float) -> str:
    return f"{number:.{ROUNDED_DIGITS - 1}e}"
