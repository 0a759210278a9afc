"""The analysis of a trial: two groups, before and after, from the sheets that the desk writes.

    python -m leverarm.concept_check --simulated              an invented trial, worked through
    python -m leverarm.concept_check with.csv without.csv     students.csv of each group

The first file, or the files before a dash, are of the classes that used the workbook.  Files of
several classes of one group stand side by side: one.csv two.csv - three.csv four.csv.

What is printed is the normalized gain of each group, the difference with its ±, and what the
difference may not be used for.  The plan of such a trial stands in lessons/trial.md.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random

from leverarm.concept_check.results import WITHHELD
from leverarm.concept_check.simulated import Imagined, imagined_class
from leverarm.concept_check.statistics import COVERAGE, FULL, Gain, class_gain
from leverarm.console import say
from leverarm.quantities import Refusal, show_number
from leverarm.tables import read_list
from leverarm.uncertainty.distributions import coverage_factor

COLUMNS = ("right before", "right after", "out of")
FEW_CLASSES = 4
Pairs = Sequence[tuple[float, float]]


@dataclass(frozen=True)
class Difference:
    """How much more one group gained than another.

    value       difference of the normalized gains;  plus_minus  95 times in 100, or None
    """

    value: float
    plus_minus: float | None


def gain_error(pairs: Pairs) -> float:
    """Standard uncertainty of a group's normalized gain.

    Equation    u(g) = sd(post - pre - g (100 - pre))/sqrt(n)/(100 - mean pre), sd with n - 1
    Valid       from 2 pairs, with room left to gain; students answer for themselves
    Source      first-order propagation for a ratio of two means: GUM (JCGM 100:2008) 5.1

    >>> round(gain_error([(25, 50), (50, 75), (50, 50), (25, 75)]), 3)
    0.135
    """
    n = len(pairs)
    room = sum(FULL - pre for pre, _ in pairs) / n
    gain = sum(post - pre for pre, post in pairs) / n / room
    rests = [post - pre - gain * (FULL - pre) for pre, post in pairs]  # their mean is zero
    return math.sqrt(sum(one * one for one in rests) / (n - 1) / n) / room


def gain_difference(one: Pairs, other: Pairs) -> Difference:
    """How much more the first group gained.

    Equation    g1 - g2 ± t sqrt(u1^2 + u2^2), t with Welch and Satterthwaite's degrees of freedom
    Valid       students of one group do not depend on each other: a few classes of one teacher do
    Source      Welch (1947), Biometrika 34, 28-35
    """
    first, second = class_gain(one), class_gain(other)
    if first.gain is None or second.gain is None:
        raise Refusal(
            "trial", "a group that was full before", "room left to gain", "use another check"
        )
    value = first.gain - second.gain
    if min(len(one), len(other)) < 2:
        return Difference(value, None)
    u1, u2 = gain_error(one) ** 2, gain_error(other) ** 2
    if not u1 + u2:
        return Difference(value, None)
    nu = (u1 + u2) ** 2 / (u1 * u1 / (len(one) - 1) + u2 * u2 / (len(other) - 1))
    return Difference(value, coverage_factor(COVERAGE, nu) * math.sqrt(u1 + u2))


def read_students(data: bytes, name: str) -> list[tuple[float, float]]:
    """Percent before and after of the students with both rounds, from the desk's students.csv."""
    head, *rows = read_list(data, name)
    missing = [column for column in COLUMNS if column not in head]
    if missing:
        raise Refusal(
            "file of a class",
            f"{name} without a column {missing[0]}",
            "the students.csv that the desk wrote for the concept check",
            "read both rounds at the desk, and take that file",
        )
    places = [head.index(column) for column in COLUMNS]
    return [pair for row in rows if (pair := _pair([*row, "", ""], places, name)) is not None]


def _pair(row: list[str], places: list[int], name: str) -> tuple[float, float] | None:
    cells = [row[at].strip() if at < len(row) else "" for at in places]
    if not all(cells):
        return None
    if not all(cell.isascii() and cell.isdigit() for cell in cells) or not (
        0 < int(cells[2]) <= 1000 and max(int(cells[0]), int(cells[1])) <= int(cells[2])
    ):
        raise Refusal(
            "file of a class",
            f"{name} with {', '.join(cells)}",
            "right answers as whole numbers, none above the number of questions",
            "take the file as the desk wrote it",
        )
    before, after, of = map(int, cells)
    return FULL * before / of, FULL * after / of


def report(with_it: Sequence[Pairs], without: Sequence[Pairs]) -> tuple[str, ...]:
    """What a trial tells, in sentences: class by class pairs of the two groups."""
    one = [pair for pairs in with_it for pair in pairs]
    other = [pair for pairs in without for pair in pairs]
    if min(len(one), len(other)) < WITHHELD:
        return (
            f"Each group needs at least {WITHHELD} students with both rounds; here they are "
            f"{len(one)} and {len(other)}. Nothing is worked out.",
        )
    found = gain_difference(one, other)
    lines = [
        _group_line("With the workbook", with_it, class_gain(one)),
        _group_line("Without it", without, class_gain(other)),
        _difference_line(found),
    ]
    if min(len(with_it), len(without)) < FEW_CLASSES:
        lines.append(
            "Students of one class share a teacher, a room and a day. With fewer than "
            f"{FEW_CLASSES} classes a group, the difference may be that of two teachers, and the "
            "± above leaves this out."
        )
    return (*lines, "The questions are not validated. No school has reported such a trial yet.")


def _group_line(name: str, classes: Sequence[Pairs], gain: Gain) -> str:
    stated = "none" if gain.gain is None else f"{gain.gain:.2f}"
    wide = "" if gain.plus_minus is None else f" ± {gain.plus_minus:.2f}"
    count = f"{len(classes)} {'class' if len(classes) == 1 else 'classes'}"
    return (
        f"{name}: {count}, {gain.pairs} students, {gain.pre:.0f} percent before and "
        f"{gain.post:.0f} after, normalized gain {stated}{wide}."
    )


def _difference_line(found: Difference) -> str:
    value = show_number(found.value, 2, sign=True)
    if found.plus_minus is None:
        return f"Difference of the gains: {value}, with no ± that could be given."
    shown = f"Difference of the gains: {value} ± {found.plus_minus:.2f}."
    if abs(found.value) <= found.plus_minus:
        return (
            f"{shown} Zero lies inside: no difference can be shown, which is not the same as none."
        )
    better = "with" if found.value > 0 else "without"
    return f"{shown} The group {better} the workbook gained more."


def simulated_trial(
    seed: object, with_it: Imagined, without: Imagined, classes: int = 4, students: int = 20
) -> tuple[list[list[tuple[float, float]]], list[list[tuple[float, float]]]]:
    """Invented pairs of both groups, class by class."""
    draw = Random(repr(seed))

    def group(like: Imagined) -> list[list[tuple[float, float]]]:
        return [
            [one.percents for one in imagined_class(draw, students, like)] for _ in range(classes)
        ]

    return group(with_it), group(without)


def main(argv: Sequence[str] | None = None) -> int:
    """The command line."""
    import argparse

    asked = argparse.ArgumentParser(
        "python -m leverarm.concept_check",
        description="Compare the gains of two groups. See lessons/trial.md.",
    )
    asked.add_argument("files", nargs="*", help="students.csv of each class; - parts the groups")
    asked.add_argument("--simulated", action="store_true", help="an invented trial instead")
    asked.add_argument("--seed", type=int, default=1, help="of the invented trial")
    given = asked.parse_args(argv)
    if given.simulated:
        say("Invented classes: gain 0.45 with the workbook, 0.30 without. Nobody was tested.")
        with_it, without = simulated_trial(given.seed, Imagined(gain=0.45), Imagined(gain=0.30))
    else:
        first, second = _groups(given.files)
        files = {name: Path(name).read_bytes() for name in (*first, *second)}
        _refuse_twice([*first, *second], files)
        with_it, without = (
            [read_students(files[name], name) for name in names] for names in (first, second)
        )
    say("\n".join(report(with_it, without)))
    return 0


def _refuse_twice(names: Sequence[str], files: Mapping[str, bytes]) -> None:
    """A Refusal where one class stands there twice, under whatever names."""
    seen: dict[bytes, str] = {}
    for name in names:
        earlier = seen.setdefault(files[name], name)
        if names.count(name) > 1 or earlier != name:
            here = Path(name).name
            raise Refusal(
                "files",
                f"{here} twice" if earlier == name else f"{here}, the same as {Path(earlier).name}",
                "each class once",
                "look where each students.csv came from",
            )


def _groups(names: Sequence[str]) -> tuple[list[str], list[str]]:
    """The files of the two groups: parted by a dash, or one file each."""
    at = names.index("-") if "-" in names else 1
    first, second = list(names[:at]), [name for name in names[at:] if name != "-"]
    if not first or not second or ("-" not in names and len(names) != 2):
        raise Refusal(
            "files",
            " ".join(names) or None,
            "two files, or several with a dash between the groups",
            "name students.csv of each class, or add --simulated",
        )
    return first, second
