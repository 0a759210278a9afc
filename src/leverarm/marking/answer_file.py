"""The answer file: what a student hands in.

One small UTF-8 text file.  Its first line says whose answers these are, each
further line is one checked answer, in the order they were checked::

    {"lever-arm answers": 1, "assignment": "Week 3", "code": "K7MPTDC", "proof": "...", "made with": "leverarm 0.1.0"}
    {"item": "front_gain", "try": 1, "given": "W 110 kg; a 1.20 m; L 1.65 m", "typed": "190 kg", "read": "190 kg", "hints": 0, "seconds": 85}

Each line is JSON (RFC 8259) in ASCII.  There is no name, no verdict, no date, and
nothing about the computer in it.  What is read here may come from anybody.

An :class:`AnswerLines` keeps such a file on the disk so that nothing is lost: not by a kill,
not by two windows on one file.
"""  # noqa: E501 - the two lines as they stand in a file

import json
from collections import Counter
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from leverarm.files import explain_os_error_briefly, file_lock, write_whole
from leverarm.marking.assignment import (
    ASSIGNMENT,
    MOST_HINTS,
    MOST_TRIES,
    OLD_TICKET,
    TICKET,
    Unfit,
)
from leverarm.marking.codes import read_code
from leverarm.quantities import Refusal, how_many
from leverarm.tables import decoded

FORMAT, TITLE = 1, "lever-arm answers"
MOST_BYTES = 1_000_000
MOST_ANSWERS = 2_000
MOST_TYPED = 600
MOST_GIVEN = 600
MOST_SECONDS = 10**6
MOST_LINE = 6000
MOST_BRACKETS = 40
# A word processor turns straight quotes into these and spoils a record.
_STRAIGHT = str.maketrans(dict.fromkeys("“”„‟″«»", '"') | {"\u00a0": " "})


@dataclass(frozen=True, slots=True)
class Answer:
    """One checked answer.

    item, number    which problem, which try
    given           the numbers in the problem, on one line
    typed, read     the text as typed and as it was read
    hints, seconds  hints seen, and seconds from the problem to the answer
    """

    item: str
    number: int
    given: str
    typed: str
    read: str = ""
    hints: int = 0
    seconds: int = 0


@dataclass(frozen=True)
class AnswerFile:
    """Whose answers, and the answers, with remarks on what could not be used."""

    assignment: str
    code: str
    proof: str
    made_with: str
    answers: tuple[Answer, ...]
    notes: tuple[str, ...] = ()


def header(assignment: str, code: str, proof: str, made_with: str) -> str:
    """The first line of an answer file."""
    return written(
        {
            TITLE: FORMAT,
            "assignment": assignment,
            "code": code,
            "proof": proof,
            "made with": made_with,
        }
    )


def line(answer: Answer) -> str:
    """An answer as a line of the file."""
    return written(
        {
            "item": answer.item,
            "try": answer.number,
            "given": answer.given[:MOST_GIVEN],
            "typed": answer.typed,
            "read": answer.read[:MOST_TYPED],
            "hints": answer.hints,
            "seconds": min(answer.seconds, MOST_SECONDS),
        }
    )


def read_answers(data: bytes) -> AnswerFile:
    """The AnswerFile in some bytes; a bad line is left out and noted.

    Raises Unfit where the bytes are no answer file.
    """
    if len(data) > MOST_BYTES:
        raise Unfit(f"larger than {MOST_BYTES // 10**6} MB")
    text, encoding = decoded(data)
    notes: tuple[str, ...] = ()
    if encoding == "cp1252" or "\ufffd" in text:
        notes = ("some characters could not be read",)
    first, *rest = text_lines(text) or [""]
    if any(title in text[:200] for title in (ASSIGNMENT, TICKET, OLD_TICKET)):
        raise Unfit("a ticket or an assignment, not an answer file")
    assignment, code, proof, made_with = _head(first)
    answers, spoiled = _lines(rest[:MOST_ANSWERS])
    if spoiled:
        notes += (f"{spoiled} of {how_many(len(rest), 'line')} could not be read",)
    if len(rest) > MOST_ANSWERS:
        notes += (f"only the first {MOST_ANSWERS} lines were read",)
    return AnswerFile(assignment, code, proof, made_with, answers, notes)


def is_of(data: bytes, assignment: str) -> bool:
    """Whether bytes begin like an answer file of an assignment; no more than a line is read."""
    start, _ = decoded(data[:MOST_LINE])
    try:
        named, *_ = _head((text_lines(start) or [""])[0])
    except Unfit:
        return False
    return same_name(named, assignment)


def same_name(one: str, other: str) -> bool:
    """Whether two names of assignments are the same but for capitals and spaces."""
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()


def text_lines(text: str) -> list[str]:
    """The lines of a text that hold something, whichever way they end."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    return [part for part in text.split("\n") if part.strip("\0 \t")]


def _head(first: str) -> tuple[str, str, str, str]:
    if "lever-arm" not in first[:2000]:
        raise Unfit("not an answer file" if first else "the file is empty")
    try:
        found = record(first)
    except Unfit as why:
        raise Unfit(
            "the first line is damaged, so nobody can tell whose answers these are"
        ) from why
    if TITLE not in found:
        raise Unfit("not an answer file")
    if found[TITLE] != FORMAT or isinstance(found[TITLE], bool):
        raise Unfit("made by a newer workbook: mark it with that one")
    try:
        code = read_code(found.get("code"))
    except Refusal:
        raise Unfit("its code is no code") from None
    return (
        word(found, "assignment", 80),
        code,
        word(found, "proof", 20, ""),
        word(found, "made with", 40, ""),
    )


def _lines(rest: list[str]) -> tuple[tuple[Answer, ...], int]:
    """(answers, how many lines could not be read)."""
    answers: list[Answer] = []
    spoiled = 0
    for part in rest:
        try:
            answers.append(read_line(part))
        except Unfit:
            spoiled += 1
    return tuple(answers), spoiled


def read_line(text: str) -> Answer:
    """The Answer in a line.  Raises Unfit."""
    found = record(text)
    return Answer(
        word(found, "item", 80),
        count(found, "try", 1, MOST_TRIES),
        word(found, "given", MOST_GIVEN, ""),
        word(found, "typed", MOST_TYPED),
        word(found, "read", MOST_TYPED, ""),
        count(found, "hints", 0, MOST_HINTS, 0),
        count(found, "seconds", 0, MOST_SECONDS, 0),
    )


# One line as a small flat record -----------------------------------------------------------


def record(line: str) -> dict[str, Any]:
    """One line as a dict.  Raises Unfit: too long, too deep, no record, NaN."""
    if len(line) > MOST_LINE:
        raise Unfit("a line is too long")
    if line.count("[") + line.count("{") > MOST_BRACKETS:
        raise Unfit("a line is nested too deep")
    try:
        found = _loaded(line)
    except ValueError as why:
        try:
            found = _loaded(line.translate(_STRAIGHT))
        except ValueError:
            raise Unfit("a line is no record") from why
    if not isinstance(found, dict):
        raise Unfit("a line is no record")
    return found


def _loaded(line: str) -> Any:
    return json.loads(line, parse_constant=_no_constant)


def _no_constant(name: str) -> None:
    raise ValueError(f"{name} is no number")


def written(record_: dict[str, Any]) -> str:
    """A record as one line of ASCII, which no mail program, school system or editor spoils."""
    return json.dumps(record_, ensure_ascii=True, separators=(", ", ": "), allow_nan=False)


def word(record_: dict[str, Any], name: str, most: int, default: str | None = None) -> str:
    """A text of a record, bounded; Unfit where it is missing, no text or too long."""
    value = record_.get(name, default)
    if not isinstance(value, str) or len(value) > most:
        raise Unfit(f"{name} is missing or no short text")
    # Half a character (a lone surrogate) could never be written again.
    return value.encode("utf-8", "replace").decode()


def count(
    record_: dict[str, Any], name: str, low: int, high: int, default: int | None = None
) -> int:
    """A whole number of a record within bounds; Unfit where it is missing or none."""
    value = record_.get(name, default)
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise Unfit(f"{name} is missing or no whole number from {low} to {high}")
    return value


# On the disk -------------------------------------------------------------------------------


def earlier(path: Path) -> Path:
    """Where the version before the present one is kept."""
    return path.with_name(f".{path.name}.earlier")


def aside(path: Path) -> Path:
    """Where lines go while another program holds the file: a name that the window reads too."""
    end = "".join(path.suffixes[-2:])
    return path.with_name(f"{path.name.removesuffix(end)}-2{end}")


def lines_in(path: Path) -> list[str]:
    """The lines of a file; none where there is no file."""
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        return []
    return text_lines(decoded(data)[0])


def merged(disk: list[str], mine: list[str]) -> list[str]:
    """Lines on the disk, then mine that are missing there, each as often as it stands.

    >>> merged(["a", "b"], ["a", "c", "c"])
    ['a', 'b', 'c', 'c']
    """
    there, out = Counter(disk), list(disk)
    for line in mine:
        if there[line]:
            there[line] -= 1
        else:
            out.append(line)
    return out


class AnswerLines:
    """The lines of an answer file under its head line, shared with other windows.

    The file is written whole (:mod:`leverarm.files`), so it is the old one or the new one and
    never half of each.  The version before is kept as a hidden file.  Whoever writes adds its own
    lines to what is on the disk at that moment.

    path    where it lies; head  its first line if it is new; title  what a first line holds
    lines   all lines but the head, as far as this window knows
    """

    def __init__(self, path: Path, head: str, title: str = TITLE) -> None:
        self.path, self.head, self.title = path, head, title
        self.lines: list[str] = []
        self.refresh()

    def refresh(self) -> None:
        """Take in the file, what stands aside, and the earlier version if that has more."""
        for path in (earlier(self.path), aside(self.path), self.path):
            found = lines_in(path)
            if found and self.title in found[0]:
                self.head, found = found[0], found[1:]
            self.lines = merged(found, self.lines)

    def add(self, line: str) -> None:
        """Write one more line at once.  Raises Refusal where no file takes it."""
        self.lines.append(line)
        try:
            with file_lock(self.path):
                self._write()
        except OSError as why:
            self.lines.remove(line)
            raise Refusal(
                "answer file",
                self.path.name,
                "a folder that takes files",
                f"this answer is not kept yet: {explain_os_error_briefly(why)}, "
                "then check it again",
            ) from why

    def _write(self) -> None:
        """Keep the old file, then write the new one, aside where another program holds it."""
        self.refresh()
        data = ("\n".join([self.head, *self.lines]) + "\n").encode()
        with suppress(OSError):
            if self.path.exists():
                write_whole(earlier(self.path), self.path.read_bytes())
        try:
            write_whole(self.path, data)
        except PermissionError:
            write_whole(aside(self.path), data)
