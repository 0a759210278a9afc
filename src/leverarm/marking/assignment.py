"""An assignment: which problems, how many tries, how near is right, when it is due.

It is a small text file that lies beside the homework notebook and holds no secret:
the numbers come from each student's number key.  A ticket is an assignment with one
student's code and number key, in one file, so that nothing needs to be typed.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cached_property
from typing import Any

from leverarm.exercises import EDITION, ProblemKind, kind_named
from leverarm.exercises.difficulty import ORDINARY, allowed_step
from leverarm.marking.codes import assignment_name, read_code, read_number_key, shown_code
from leverarm.quantities import Refusal, set_fields
from leverarm.tables import decoded

FORMAT, ASSIGNMENT, TICKET = 1, "lever-arm assignment", "lever-arm ticket"
OLD_TICKET = "lever-arm slip"  # what a ticket was called in files: Week_3-K7MPTDC.slip.txt
ASSIGNMENT_END, TICKET_END, ANSWERS_END = ".assignment.txt", ".ticket.txt", ".answers.txt"
MOST_ITEMS, MOST_TRIES, MOST_HINTS, MOST_BYTES = 100, 200, 4, 100_000
EDITIONS = range(1, EDITION + 1)
LEAST_TOLERANCE, MOST_TOLERANCE = 0.1, 5.0


class Unfit(ValueError):
    """A file, or a line of one, that cannot be used, with the reason in plain words."""


@dataclass(frozen=True)
class Item:
    """One problem of an assignment.

    name    its name in answer files;  kind  its kind in the bank
    step    how hard it is, where that is not ordinary: "easy" or "hard"
    old     the assignment that it was asked in before, where it is mixed in to be remembered
    """

    name: str
    kind: str
    step: str = field(default=ORDINARY, repr=False)
    old: str = field(default="", repr=False)

    @property
    def in_bank(self) -> ProblemKind:
        """The kind of problem, as the bank has it."""
        found = kind_named(self.kind)
        assert found, "an Assignment takes only kinds that are in the bank"
        return found

    @property
    def asked(self) -> str:
        """The kind as an assignment lists it: "front_gain", or "front_gain:hard"."""
        return self.kind if self.step == ORDINARY else f"{self.kind}:{self.step}"


@dataclass(frozen=True, init=False)
class Assignment:
    """What the class is asked.

    name        as on the tickets
    items       Item after Item, in order
    system      "kg" or "lb" for everyone; "" lets each student's numbers decide
    tries       how many tries of a problem count; 0 for no limit
    tolerance   how near is right, in percent of the right answer
    hints       how far the hints go before an answer, 0 to 4
    due         "2031-03-14 17:00" in the instructor's own time, or ""
    edition     the edition of the bank that it was handed out by
    old         item name -> the assignment it was asked in before, for items that are mixed in

    >>> Assignment("Week 3", ["front_gain", "rear_change", "front_gain:hard"]).items[2]
    Item(name='front_gain.2', kind='front_gain')
    """

    name: str
    items: tuple[Item, ...]
    system: str
    tries: int
    tolerance: float
    hints: int
    due: str
    edition: int

    def __init__(
        self,
        name: Any,
        kinds: Any,
        *,
        system: str = "",
        tries: int = 0,
        tolerance: float = 0.5,
        hints: int = 3,
        due: str = "",
        edition: int = EDITION,
        old: Mapping[str, str] | None = None,
    ) -> None:
        set_fields(
            self,
            name=assignment_name(name),
            items=_with_sources(_items(kinds), old or {}),
            system=_system(system),
            tries=_whole(tries, "tries that count", MOST_TRIES),
            tolerance=_tolerance(tolerance),
            hints=_whole(hints, "hints before an answer", MOST_HINTS),
            due=due_moment(due, "due"),
            edition=_edition(edition),
        )

    def counts(self, number: int) -> bool:
        """Whether the try of this number counts."""
        return 1 <= number <= (self.tries or MOST_TRIES)

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The names of the items, in order."""
        return tuple(item.name for item in self.items)

    @property
    def stem(self) -> str:
        """The assignment's part of a file name: Week_3."""
        return self.name.replace(" ", "_")

    def record(self) -> dict[str, Any]:
        """The assignment as a record for a file."""
        old = {item.name: item.old for item in self.items if item.old}
        return {
            ASSIGNMENT: FORMAT,
            "name": self.name,
            "due": self.due,
            "tries": self.tries,
            "tolerance": self.tolerance,
            "hints": self.hints,
            "system": self.system,
            "edition": self.edition,
            "kinds": [item.asked for item in self.items],
            **({"old": old} if old else {}),
        }


def _items(kinds: Any) -> tuple[Item, ...]:
    """The items of a list of kinds, each with its step behind a colon where it has one.

    A kind that stands twice gets a number behind its name.
    """
    if isinstance(kinds, str) or not hasattr(kinds, "__iter__"):
        raise Refusal(
            "problems", kinds, "a list of names from exercises.problems()", "choose at least one"
        )
    asked = [getattr(kind, "name", kind) for kind in kinds]
    names = [one.partition(":")[0] if isinstance(one, str) else one for one in asked]
    if not 1 <= len(names) <= MOST_ITEMS:
        raise Refusal(
            "problems",
            len(names),
            f"1 to {MOST_ITEMS} problems",
            "choose at least one, or make two assignments",
        )
    for name in names:
        if kind_named(name) is None:
            raise Refusal(
                "problems",
                name,
                "a name from exercises.problems()",
                "choose one from the list; if it came in a file, this workbook is older "
                "than the file",
            )
    steps = [one.partition(":")[2] or ORDINARY for one in asked]
    for name, step in zip(names, steps, strict=True):
        found = kind_named(name)
        allowed_step(step, name, found.steps if found else ())
    seen = [names[:at].count(name) + 1 for at, name in enumerate(names)]
    return tuple(
        Item(name if turn == 1 else f"{name}.{turn}", name, step)
        for name, turn, step in zip(names, seen, steps, strict=True)
    )


def _with_sources(items: tuple[Item, ...], old: Any) -> tuple[Item, ...]:
    """Items, with the assignment that the old ones come from."""
    names = {item.name for item in items}
    if not isinstance(old, Mapping) or not set(old) <= names:
        raise Refusal(
            "old problems", old, "names of its own problems", "get a fresh copy of the file"
        )
    sources = {name: assignment_name(source) for name, source in old.items()}
    return tuple(replace(item, old=sources.get(item.name, "")) for item in items)


def _system(system: Any) -> str:
    if system not in ("", "kg", "lb"):
        raise Refusal("units", system, "kg, lb, or nothing to mix them", "choose one of the three")
    return system


def _edition(edition: Any) -> int:
    if isinstance(edition, bool) or not isinstance(edition, int) or edition not in EDITIONS:
        raise Refusal(
            "edition of the problems",
            edition,
            f"an edition from 1 to {EDITION}",
            "if it came in a file, this workbook is older than the file: get the newer workbook",
        )
    return edition


def _whole(number: Any, field: str, most: int) -> int:
    if isinstance(number, bool) or not isinstance(number, int) or not 0 <= number <= most:
        raise Refusal(field, number, f"a whole number from 0 to {most}", "give a whole number")
    return number


def _tolerance(percent: Any) -> float:
    fits = not isinstance(percent, bool) and isinstance(percent, (int, float))
    if not fits or not LEAST_TOLERANCE <= percent <= MOST_TOLERANCE:
        raise Refusal(
            "tolerance",
            percent,
            f"{LEAST_TOLERANCE:g} to {MOST_TOLERANCE:g} percent",
            "0.5 accepts answers as exact as the numbers given",
        )
    return float(percent)


def due_moment(text: Any, field: str) -> str:
    """A date with its time as "2031-03-14 17:00", or ""; a date alone means the end of that day.

    >>> due_moment("2031-03-14", "due")
    '2031-03-14 23:59'
    """
    text = " ".join(text.replace("T", " ").split()) if isinstance(text, str) else text
    if text == "":
        return ""
    for form in ("%Y-%m-%d %H:%M", "%Y-%m-%d"):
        try:
            found = datetime.strptime(text, form)
        except (ValueError, TypeError):
            continue
        return f"{found:%Y-%m-%d} " + ("23:59" if form == "%Y-%m-%d" else f"{found:%H:%M}")
    raise Refusal(
        field,
        text,
        "a date such as 2031-03-14, or with a time, 2031-03-14 17:00",
        "write it that way, or leave it empty",
    )


@dataclass(frozen=True, init=False)
class Ticket:
    """What one student gets: a code and a number key for an assignment."""

    code: str
    key: str
    assignment: Assignment

    def __init__(self, code: Any, key: Any, assignment: Assignment) -> None:
        code = read_code(code)
        key = read_number_key(key, code, assignment.name)
        set_fields(self, code=code, key=key, assignment=assignment)

    @property
    def stem(self) -> str:
        """What the files of this ticket are called: Week_3-K7MPTDC."""
        return f"{self.assignment.stem}-{self.code}"

    def record(self) -> dict[str, Any]:
        """The ticket as a record for a file."""
        return {
            TICKET: FORMAT,
            "code": shown_code(self.code),
            "number key": self.key,
            "assignment": self.assignment.record(),
        }


def file_text(thing: Assignment | Ticket) -> str:
    """An assignment or a ticket as the text of its file."""
    return json.dumps(thing.record(), indent=1, ensure_ascii=True) + "\n"


def read_assignment(data: bytes) -> Assignment:
    """The assignment in the bytes of a file; Unfit or Refusal where there is none."""
    return _assignment(_loaded(data, ASSIGNMENT))


def read_ticket(data: bytes) -> Ticket:
    """The ticket in the bytes of a file; Unfit or Refusal where there is none."""
    found = _loaded(data, TICKET)
    return Ticket(
        found.get("code"),
        found.get("number key"),
        _assignment(_titled(found.get("assignment"), ASSIGNMENT)),
    )


def _assignment(found: dict[str, Any]) -> Assignment:
    rules: dict[str, Any] = {
        field: found[field]
        for field in ("system", "tries", "tolerance", "hints", "due", "old")
        if field in found
    }
    # Files of before the editions name none.
    rules["edition"] = found.get("edition", 1)
    return Assignment(found.get("name"), found.get("kinds"), **rules)


def _loaded(data: bytes, title: str) -> dict[str, Any]:
    if len(data) > MOST_BYTES or data.count(b"[") + data.count(b"{") > 2 * MOST_ITEMS:
        raise Unfit(f"this is no {title} file")
    try:
        return _titled(json.loads(decoded(data)[0]), title)
    except ValueError as why:
        if isinstance(why, (Unfit, Refusal)):
            raise
        raise Unfit(f"this is no {title} file, or it is damaged: get a fresh copy") from why


def _titled(found: Any, title: str) -> dict[str, Any]:
    """The record if it carries this title in a format that this workbook knows."""
    names = (title, OLD_TICKET) if title == TICKET else (title,)
    number = (
        next((found[n] for n in names if n in found), None) if isinstance(found, dict) else None
    )
    if number is None:
        raise Unfit(f"this is no {title} file")
    if number != FORMAT:
        raise Unfit(f"this {title} file was made by a newer workbook: get the newer workbook")
    return found
