"""The answer file: what a student hands in.

One small UTF-8 text file.  Its first line says whose answers these are, each
further line is one checked answer, in the order they were checked::

    {"lever-arm answers": 1, "assignment": "Week 3", "code": "K7MPTDC", "proof": "...", "made with": "leverarm 0.1.0"}
    {"item": "front_gain", "try": 1, "given": "W 110 kg; a 1.20 m; L 1.65 m", "typed": "190 kg", "read": "190 kg", "hints": 0, "seconds": 85}

Each line is JSON (RFC 8259) in ASCII.  There is no name, no verdict, no date, and
nothing of the machine in it.  What is read here may come from anybody.
"""

from dataclasses import dataclass

from leverarm.marking.assignment import MOST_HINTS, MOST_TRIES
from leverarm.marking.codes import read_code
from leverarm.marking.plaintext import Unfit, count, counted, record, word, written
from leverarm.quantities import Refusal
from leverarm.tables import decoded

FORMAT, TITLE = 1, "lever-arm answers"
MOST_BYTES = 1_000_000
MOST_ANSWERS = 2_000
MOST_TYPED = 600
MOST_GIVEN = 600
MOST_SECONDS = 10**6


@dataclass(frozen=True, slots=True)
class Answer:
    """One checked answer: item, number of the try, numbers given, text typed, as it was read, hints seen, seconds."""

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
    answers: tuple
    notes: tuple = ()


def header(assignment, code, proof, made_with):
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


def line(answer):
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


def read_answers(data):
    """The AnswerFile in some bytes.  Raises Unfit where it is none; a bad line is left out and noted."""
    if len(data) > MOST_BYTES:
        raise Unfit(f"larger than {MOST_BYTES // 10**6} MB")
    text, encoding = decoded(data)
    notes: tuple[str, ...] = ()
    if encoding == "cp1252" or "\ufffd" in text:
        notes = ("some characters could not be read",)
    first, *rest = lines_of(text) or [""]
    assignment, code, proof, made_with = _head(first)
    answers, spoiled = _lines(rest[:MOST_ANSWERS])
    if spoiled:
        notes += (f"{spoiled} of {counted(len(rest), 'line')} could not be read",)
    if len(rest) > MOST_ANSWERS:
        notes += (f"only the first {MOST_ANSWERS} lines were read",)
    return AnswerFile(assignment, code, proof, made_with, answers, notes)


def lines_of(text):
    """The lines of a text that hold something, whichever way they end."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    return [part for part in text.split("\n") if part.strip("\0 \t")]


def _head(first):
    if "lever-arm" not in first[:2000]:
        raise Unfit("not an answer file" if first else "the file is empty")
    try:
        found = record(first)
    except Unfit as why:
        raise Unfit(
            "the first line is damaged, so nobody can tell whose answers these are"
        ) from why
    if TITLE not in found:
        raise Unfit("a slip or an assignment, not an answer file")
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


def _lines(rest):
    """(answers, how many lines could not be read)."""
    answers, spoiled = [], 0
    for part in rest:
        try:
            answers.append(read_line(record(part)))
        except Unfit:
            spoiled += 1
    return tuple(answers), spoiled


def read_line(found):
    """The Answer in a record.  Raises Unfit."""
    return Answer(
        word(found, "item", 80),
        count(found, "try", 1, MOST_TRIES),
        word(found, "given", MOST_GIVEN, ""),
        word(found, "typed", MOST_TYPED),
        word(found, "read", MOST_TYPED, ""),
        count(found, "hints", 0, MOST_HINTS, 0),
        count(found, "seconds", 0, MOST_SECONDS, 0),
    )
