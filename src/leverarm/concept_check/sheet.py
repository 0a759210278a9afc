"""A student's sheet: the slip that says whose and which form, the letters marked, the file of them.

    slip = read_slip("K7MP-TDC", "number key")    code, round and form, told by the key itself
    sheet = CheckSheet(slip, folder)                   takes up where its file left off
    sheet.mark(3, "C")                            kept at once; nothing says whether it is right
    read_sheet(data)                              the HandedIn of a file, from anybody

The file is like a homework file: lines of JSON in ASCII, a head and a line for each mark::

    {"lever-arm concept check": 1, "edition": "1", "round": 1, "form": "A", "code": "K7MPTDC", ...}
    {"question": 3, "marked": "C", "turn": 5}

Of two marks on one question the later turn counts.  A line {"opened": turn} says that the key was
shown: what came after it does not count.
"""

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from leverarm import __version__
from leverarm.concept_check.questions import FORMS, CheckQuestion, check_words, form
from leverarm.marking import codes
from leverarm.marking.answer_file import (
    MOST_ANSWERS,
    MOST_BYTES,
    AnswerLines,
    count,
    record,
    text_lines,
    word,
    written,
)
from leverarm.marking.assignment import Unfit
from leverarm.quantities import Refusal
from leverarm.tables import decoded

FORMAT, TITLE, FILE_END = 1, "lever-arm concept check", ".check.txt"
ROUNDS = (1, 2)
WHEN = {1: "before the lessons", 2: "after the lessons"}
MOST_TURNS = 10**6
_OPENING = "Concept check opening"


@dataclass(frozen=True)
class CheckSlip:
    """Whose sheet it is: a code, the round, the form, and the key that says so."""

    code: str
    round: int
    form: str
    key: str

    @property
    def file_name(self) -> str:
        """The name of the file to hand in."""
        return f"Concept_check_{self.round}{self.form}-{self.code}{FILE_END}"


def sheet_name(round_: int, form_: str) -> str:
    """What a key is made for: each round and form has its own."""
    return f"Concept check {round_}{form_}"


def check_slip(class_key: str, code: str, round_: int, form_: str) -> CheckSlip:
    """The slip of a code for a round and a form."""
    return CheckSlip(
        code, round_, form_, codes.number_key(class_key, code, sheet_name(round_, form_))
    )


def read_slip(code: object, key: object) -> CheckSlip:
    """The slip that a student typed, or a Refusal; the key itself tells round and form."""
    bare = codes.read_code(code)
    refused: Refusal | None = None
    for round_ in ROUNDS:
        for form_ in FORMS:
            try:
                found = codes.read_number_key(key, bare, sheet_name(round_, form_))
            except Refusal as why:
                refused = why
            else:
                return CheckSlip(bare, round_, form_, found)
    if refused is not None and "compare" not in str(refused):
        raise refused
    raise Refusal(
        "number key",
        key,
        f"the key on the slip of code {codes.shown_code(bare)} for the concept check",
        "compare code and key with the slip, character by character",
    )


def opening_key(class_key: str) -> str:
    """What the instructor writes on the board when the answers may be looked at."""
    return codes.number_key(class_key, "", _OPENING)


class CheckSheet:
    """One sheet being filled in beside a notebook.

    slip, path  whose, and where its file lies
    marked      question number -> letter, as it stands now
    opened      whether the key was shown here: then nothing more is taken
    """

    def __init__(self, slip: CheckSlip, folder: Path | str = ".") -> None:
        self.slip, self.path = slip, Path(folder) / slip.file_name
        self._file = AnswerLines(self.path, _head(slip), TITLE)
        self._read()

    def _read(self) -> None:
        self.marked, self.opened, self._turn, _, _ = _marks(self._file.lines, self.slip.form)

    def questions(self, system: str | None = None) -> tuple[CheckQuestion, ...]:
        """The questions of this form."""
        return form(self.slip.form, system)

    def mark(self, number: int, letter: str) -> None:
        """Mark a letter, or "" for none; it is in the file when this returns."""
        asked = self.questions("lb")
        if not 1 <= number <= len(asked):
            raise Refusal(
                "question", number, f"1 to {len(asked)}", "choose a question of this form"
            )
        if letter not in ("", *asked[number - 1].letters):
            raise Refusal(
                "letter", letter, f"one of {asked[number - 1].letters}", "choose one letter"
            )
        self._file.refresh()
        self._read()
        if self.opened:
            raise Refusal(
                "answer",
                letter,
                "a sheet whose answers were not shown yet",
                "hand in the file as it is; after the answers are shown nothing more is taken",
            )
        self._file.add(written({"question": number, "marked": letter, "turn": self._turn + 1}))
        self._read()

    def fill(self, letters: str) -> None:
        """Mark every question at once, "-" for none: fill("CDAB-DADBCAB")."""
        lines = [
            written({"question": number, "marked": letter, "turn": self._turn + number})
            for number, letter in enumerate(letters, 1)
            if letter != "-"
        ]
        if lines:
            self._file.lines += lines[:-1]
            self._file.add(lines[-1])
            self._read()

    def open(self, key: object) -> None:
        """Show the answers from here on: with the opening key that the instructor gives."""
        try:
            codes.read_number_key(key, "", _OPENING)
        except Refusal:
            raise Refusal(
                "opening key",
                key,
                "the opening key from your instructor, four groups of four",
                "copy it from the board, or wait until it is given",
            ) from None
        if not self.opened:
            self._file.add(written({"opened": self._turn + 1}))
            self._read()


def _head(slip: CheckSlip) -> str:
    return written(
        {
            TITLE: FORMAT,
            "edition": check_words().edition,
            "round": slip.round,
            "form": slip.form,
            "code": slip.code,
            "proof": codes.proof(slip.key),
            "made with": f"leverarm {__version__}",
        }
    )


def _marks(lines: Iterable[str], name: str) -> tuple[dict[int, str], bool, int, int, int]:
    """(letters by question, whether opened, last turn, marks after that, lines not read)."""
    asked, found, spoiled = form(name, "lb"), [], 0
    opened = MOST_TURNS + 1
    for text in lines:
        try:
            one = record(text)
            if "opened" in one:
                opened = min(opened, count(one, "opened", 1, MOST_TURNS))
                continue
            number = count(one, "question", 1, len(asked))
            letter = word(one, "marked", 1)
            if letter not in ("", *asked[number - 1].letters):
                raise Unfit("no letter of this question")
            found.append((count(one, "turn", 1, MOST_TURNS), number, letter))
        except Unfit:
            spoiled += 1
    last = max([turn for turn, _, _ in found] + [opened if opened <= MOST_TURNS else 0])
    counts = {number: letter for turn, number, letter in sorted(found) if turn < opened}
    after = sum(turn >= opened for turn, _, _ in found)
    marked = {number: letter for number, letter in sorted(counts.items()) if letter}
    return marked, opened <= MOST_TURNS, last, after, spoiled


@dataclass(frozen=True)
class HandedIn:
    """A sheet that was handed in.

    file        where it came from, for people
    letters     a letter for each question, "-" where blank
    """

    file: str
    code: str
    round: int
    form: str
    letters: str
    proof: str = ""
    notes: tuple[str, ...] = ()

    @property
    def answered(self) -> int:
        """How many questions have a letter."""
        return len(self.letters.replace("-", ""))


def read_sheet(data: bytes, file: str = "") -> HandedIn:
    """The sheet in some bytes.  Raises Unfit, with the reason in plain words."""
    if len(data) > MOST_BYTES:
        raise Unfit(f"larger than {MOST_BYTES // 10**6} MB")
    first, *rest = text_lines(decoded(data)[0]) or [""]
    if TITLE not in first[:2000]:
        raise Unfit("not a file of the concept check" if first else "the file is empty")
    try:
        head = record(first)
    except Unfit as why:
        raise Unfit("its first line is damaged, so nobody can tell whose it is") from why
    _right_edition(head)
    try:
        code = codes.read_code(head.get("code"))
    except Refusal:
        raise Unfit("its code is no code") from None
    round_, name = count(head, "round", 1, len(ROUNDS)), word(head, "form", 1)
    if name not in FORMS:
        raise Unfit("its form is neither A nor B")
    marked, _, _, after, spoiled = _marks(rest[:MOST_ANSWERS], name)
    letters = "".join(marked.get(question.number, "-") for question in form(name, "lb"))
    notes = []
    if spoiled:
        notes.append(f"{spoiled} of its lines could not be read")
    if after:
        notes.append("what was marked after the answers were shown does not count")
    proof = ""
    with suppress(Unfit):
        proof = word(head, "proof", 20, "")
    return HandedIn(file, code, round_, name, letters, proof, tuple(notes))


def _right_edition(head: dict[str, Any]) -> None:
    if head.get(TITLE) != FORMAT or isinstance(head.get(TITLE), bool):
        raise Unfit("made by a newer workbook: read it with that one")
    edition, ours = head.get("edition"), check_words().edition
    if edition != ours:
        shown = edition if isinstance(edition, str) and len(edition) <= 12 else "none"
        raise Unfit(
            f"made with edition {shown} of the questions, and this workbook has edition {ours}: "
            "its letters may mean other answers, so read it with the workbook it was made with"
        )
