"""Progress of each code over the weeks, and which old problems to ask again.

It lies in keep_to_yourself/progress.json, on the instructor's computer alone, and no page of the
class shows it.  The file is JSON, written whole::

    {"lever-arm progress": 1,
     "assignments": {"Week 2": {"set": "2031-03-07",
                                "kinds": ["front_gain", "rear_change"],
                                "codes": {"K7MPTDC": "20"}}}}

set     the day it was first handed out
codes   for each problem in order: 2 right at the first try, 1 right later, 0 not yet, - no answer

Marking again writes the same assignment anew.  A file that cannot be read is put aside and kept,
and marking the weeks again makes a new one.
"""

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from leverarm.exercises import kind_named
from leverarm.files import file_lock, write_whole
from leverarm.marking.assignment import Assignment
from leverarm.marking.checked import Work
from leverarm.quantities import Refusal

TITLE, FORMAT = "lever-arm progress", 1
MOST_BYTES = 20_000_000
# Asked again after about a week and about a month: (days wished for, from, to).
SPACED = ((7, 6, 20), (30, 21, 90))


@dataclass(frozen=True)
class OldProblem:
    """A problem to ask again: its kind, where it was asked, how long ago, right first answers."""

    kind: str
    assignment: str
    days: int
    first: int
    answered: int


def standing_of(work: Work) -> str:
    """How each problem of a marked student stands: "20-1" as the file keeps it."""
    marks = []
    for checks in work.values():
        right = [one.verdict.right for one in checks]
        marks.append("-" if not right else "2" if right[0] else "1" if any(right) else "0")
    return "".join(marks)


class ProgressFile:
    """The progress file of a class."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def assignments(self) -> dict[str, dict[str, Any]]:
        """name -> what is kept of an assignment, in the order they were set."""
        try:
            if self.path.stat().st_size > MOST_BYTES:
                raise ValueError("too large")
            found = json.loads(self.path.read_bytes())
            if found[TITLE] != FORMAT:
                raise ValueError("another format")
            kept = {name: one for name, one in found["assignments"].items() if _sound(one)}
        except FileNotFoundError:
            return {}
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            self.path.replace(self.path.with_name(self.path.name + ".damaged"))
            return {}
        return dict(sorted(kept.items(), key=lambda one: (one[1]["set"], one[0])))

    def note_set(self, assignment: Assignment, on: date) -> None:
        """Keep the day an assignment is first handed out."""
        self._write(assignment, {}, on)

    def note_marked(self, assignment: Assignment, standings: Mapping[str, str], on: date) -> None:
        """Keep how every code stands."""
        self._write(assignment, standings, on)

    def _write(self, assignment: Assignment, standings: Mapping[str, str], on: date) -> None:
        with file_lock(self.path):
            kept = self.assignments()
            before = kept.get(assignment.name, {"set": f"{on:%Y-%m-%d}", "codes": {}})
            kept[assignment.name] = {
                "set": before["set"],
                "kinds": [item.asked for item in assignment.items],
                "codes": dict(sorted((standings or before["codes"]).items())),
            }
            text = json.dumps({TITLE: FORMAT, "assignments": kept}, indent=1)
            write_whole(self.path, (text + "\n").encode())

    def of(self, code: str) -> list[tuple[str, str, str]]:
        """(assignment, day it was set, how each problem stands) of a code, week after week."""
        return [
            (name, one["set"], one["codes"].get(code, ""))
            for name, one in self.assignments().items()
            if one["codes"]
        ]

    def old_problems(self, on: date, without: Iterable[str] = ()) -> tuple[OldProblem, ...]:
        """One problem of about a week ago and one of about a month ago, the hardest for the class.

        Where there is none of a month ago, both are of the last weeks.
        """
        taken, chosen = set(without), list[OldProblem]()
        found = [one for one in self._asked(on) if one.answered]
        for wished, low, high in (*SPACED, SPACED[0]):
            fit = [one for one in found if low <= one.days <= high and one.kind not in taken]
            if fit and len(chosen) < len(SPACED):
                best = min(
                    fit,
                    key=lambda one: (
                        *(one.first / one.answered, abs(one.days - wished)),
                        *(one.assignment, one.kind),
                    ),
                )
                chosen.append(best)
                taken.add(best.kind)
        return tuple(chosen)

    def _asked(self, on: date) -> Iterator[OldProblem]:
        for name, one in self.assignments().items():
            days = (on - date.fromisoformat(one["set"])).days
            for at, asked in enumerate(one["kinds"]):
                marks = [row[at] for row in one["codes"].values() if len(row) > at]
                kind = asked.partition(":")[0]
                if kind_named(kind):
                    yield OldProblem(
                        kind, name, days, marks.count("2"), len(marks) - marks.count("-")
                    )


def _sound(one: Any) -> bool:
    """Whether what stands for an assignment has the parts it must have."""
    date.fromisoformat(one["set"])
    return isinstance(one["kinds"], list) and all(
        isinstance(row, str) and set(row) <= set("012-") for row in one["codes"].values()
    )


def with_old(assignment: Assignment, old: Iterable[OldProblem]) -> Assignment:
    """The assignment with old problems behind its own; it carries where they come from."""
    rows = tuple(old)
    if any(item.old for item in assignment.items):
        raise Refusal(
            "old problems", assignment.name, "an assignment without old ones", "mix them in once"
        )
    kinds = [item.asked for item in assignment.items] + [one.kind for one in rows]
    first = len(assignment.items)
    plain = Assignment(assignment.name, kinds)
    sources = {
        item.name: one.assignment for item, one in zip(plain.items[first:], rows, strict=True)
    }
    return Assignment(
        assignment.name,
        kinds,
        system=assignment.system,
        tries=assignment.tries,
        tolerance=assignment.tolerance,
        hints=assignment.hints,
        due=assignment.due,
        edition=assignment.edition,
        old=sources,
    )
