"""What came back from both rounds, put together by code: scores, gain, and each question's figures.

read_class(place, class_key, codes) -> CheckResult     files and typed paper answers of a folder
result_of(sheets) -> CheckResult                       of sheets that are at hand

Every mark is worked out from the letters; what a file claims to be must fit its proof.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from leverarm.concept_check.paper_answers import read_paper_answers
from leverarm.concept_check.questions import FORMS, form, how_many_questions, right_letters
from leverarm.concept_check.sheet import (
    ROUNDS,
    WHEN,
    HandedIn,
    check_slip,
    read_sheet,
)
from leverarm.concept_check.statistics import (
    Gain,
    class_gain,
    discrimination,
    facility,
    kr20,
    kr20_interval,
)
from leverarm.marking.assignment import Unfit
from leverarm.marking.codes import proof, shown_code
from leverarm.marking.collect import Missing, Skipped, SubmittedFile, collected_files
from leverarm.quantities import Refusal, how_many

# Under so many no share is shown: it would point at persons.
WITHHELD = 5
# From so many on one number for a gain; for the other figures, which need more.
ENOUGH_FOR_GAIN, ENOUGH_FOR_FIGURES = 12, 30


@dataclass(frozen=True)
class CheckedStudent:
    """A code and its scores, None for a round without a sheet; what there is to say of it."""

    code: str
    forms: tuple[str | None, str | None]
    scores: tuple[int | None, int | None]
    notes: tuple[str, ...]

    @property
    def pair(self) -> tuple[float, float] | None:
        """Percent right in both rounds, or None."""
        before, after = self.scores
        if before is None or after is None:
            return None
        return 100 * before / how_many_questions(), 100 * after / how_many_questions()


@dataclass(frozen=True)
class OptionRow:
    """How many chose an idea in each round, both forms together: a slip, or "" for the right one.

    letters     its letter in form A and in form B;  shares  None where withheld
    """

    slip: str
    letters: tuple[str, str]
    counts: tuple[int, int]
    shares: tuple[float | None, float | None]


@dataclass(frozen=True)
class QuestionRow:
    """A question's figures in each round, both forms together; None where there is none.

    n           sheets in each round;  blank  how many left it out
    """

    number: int
    concept: str
    lessons: tuple[str, ...]
    n: tuple[int, int]
    blank: tuple[int, int]
    facility: tuple[float | None, float | None]
    discrimination: tuple[float | None, float | None]
    options: tuple[OptionRow, ...]


@dataclass(frozen=True)
class CheckResult:
    """All that both rounds tell.

    students    a row a code;  questions  a row a question
    gain        of the students with both rounds, None where there is none
    kr20        of each round: (value, low, high), None where there are too few
    sheets      the sheets counted, by round;  skipped  files left out, with the reason
    """

    students: tuple[CheckedStudent, ...]
    questions: tuple[QuestionRow, ...]
    gain: Gain | None
    kr20: tuple[tuple[float, float, float] | None, tuple[float, float, float] | None]
    sheets: tuple[int, int]
    skipped: tuple[Skipped, ...] = ()

    @property
    def pairs(self) -> int:
        """Students with both rounds."""
        return sum(row.pair is not None for row in self.students)


@dataclass
class _Gathered:
    """Sheets by code and round while files are read, and what there is to say of each code."""

    sheets: dict[tuple[str, int], HandedIn] = field(default_factory=dict)
    notes: dict[str, list[str]] = field(default_factory=dict)

    def say(self, code: str, note: str) -> None:
        """Keep a remark on a code."""
        self.notes.setdefault(code, []).append(note)

    def take(self, one: HandedIn) -> None:
        """Keep a sheet; of two for one round the fuller one, and of equals the first."""
        place = one.code, one.round
        there = self.sheets.setdefault(place, one)
        for note in one.notes:
            self.say(one.code, f"{one.file}: {note}")
        if there is one or (there.letters, there.form) == (one.letters, one.form):
            return
        used, left = (one, there) if one.answered > there.answered else (there, one)
        self.sheets[place] = used
        self.say(
            one.code,
            f"two sheets {WHEN[one.round]} that differ: {used.file} is counted, {left.file} is not",
        )


def read_class(
    place: Path | str,
    class_key: str,
    codes: Collection[str],
    dealt: Mapping[str, str] | None = None,
) -> CheckResult:
    """The CheckResult of a folder or zip: sheets from notebooks, and typed paper answers.

    dealt   code -> the form of the first round, where forms were dealt: a sheet on the other form
            may be typed under another student's code
    """
    gathered, skipped = _Gathered(), list[Skipped]()
    with collected_files(place) as (files, unread):
        skipped += unread
        for file in files:
            try:
                found, remarks = _sheets_in(file, class_key)
            except (Unfit, Missing, Refusal) as why:
                skipped.append(Skipped(file.name, str(why)))
                continue
            skipped += [Skipped(file.name, remark) for remark in remarks]
            for one in found:
                if reason := _unfit(one, codes):
                    skipped.append(Skipped(one.file, reason))
                else:
                    gathered.take(one)
                    if dealt and one.form != (due := due_form(dealt[one.code], one.round)):
                        gathered.say(
                            one.code,
                            f"{one.file}: form {one.form}, where form {due} was dealt; look "
                            "whether it is the sheet of another code",
                        )
    return _result(gathered, skipped)


def due_form(first: str, round_: int) -> str:
    """The form of a round: in the second everybody gets the other one."""
    return first if round_ == ROUNDS[0] else FORMS[1 - FORMS.index(first)]


def result_of(sheets: Iterable[HandedIn]) -> CheckResult:
    """The CheckResult of sheets that are at hand."""
    gathered = _Gathered()
    for one in sheets:
        gathered.take(one)
    return _result(gathered, [])


def _sheets_in(file: SubmittedFile, class_key: str) -> tuple[list[HandedIn], tuple[str, ...]]:
    """The sheets of one file, and remarks on rows that could not be read."""
    if file.name.lower().endswith(".csv"):
        return read_paper_answers(file.read(), file.name)
    one = read_sheet(file.read(), file.name)
    if one.proof != proof(check_slip(class_key, one.code, one.round, one.form).key):
        raise Unfit(
            "its code, round and form do not fit its proof: changed by hand, or of another class"
        )
    return [one], ()


def _unfit(one: HandedIn, codes: Collection[str]) -> str:
    if one.code not in codes:
        return f"code {shown_code(one.code)} is not on the list of this class"
    if not one.answered:
        return f"code {shown_code(one.code)}, {WHEN[one.round]}: no question is answered"
    return ""


# Putting it together -----------------------------------------------------------------------


def _result(gathered: _Gathered, skipped: list[Skipped]) -> CheckResult:
    by_round = {
        round_: [one for (_, at), one in sorted(gathered.sheets.items()) if at == round_]
        for round_ in ROUNDS
    }
    students = tuple(
        _student(code, gathered) for code in sorted({code for code, _ in gathered.sheets})
    )
    pairs = [row.pair for row in students if row.pair is not None]
    return CheckResult(
        students,
        tuple(_question(at, by_round) for at in range(how_many_questions())),
        class_gain(pairs) if pairs else None,
        (_reliability(by_round[1]), _reliability(by_round[2])),
        (len(by_round[1]), len(by_round[2])),
        tuple(sorted(skipped, key=lambda one: (one.file, one.reason))),
    )


def _student(code: str, gathered: _Gathered) -> CheckedStudent:
    before, after = (gathered.sheets.get((code, round_)) for round_ in ROUNDS)
    notes = list(dict.fromkeys(gathered.notes.get(code, [])))
    if before is None or after is None:
        notes.append(f"no sheet {WHEN[2 if after is None else 1]}: not in the gain")
    elif before.form == after.form:
        notes.append(f"form {before.form} both times")
    return CheckedStudent(
        code,
        (None if before is None else before.form, None if after is None else after.form),
        (_score(before), _score(after)),
        tuple(notes),
    )


def _right(one: HandedIn) -> list[bool]:
    return [a == b for a, b in zip(one.letters, right_letters(one.form))]


def _score(one: HandedIn | None) -> int | None:
    return None if one is None else sum(_right(one))


def _reliability(sheets: Sequence[HandedIn]) -> tuple[float, float, float] | None:
    """KR-20 and its interval, both forms together, where there are enough."""
    if len(sheets) < ENOUGH_FOR_FIGURES:
        return None
    value = kr20([_right(one) for one in sheets])
    ends = None if value is None else kr20_interval(value, len(sheets), how_many_questions())
    return None if value is None or ends is None else (value, *ends)


def _question(at: int, by_round: dict[int, list[HandedIn]]) -> QuestionRow:
    pair = {name: form(name, "lb")[at] for name in FORMS}
    before, after = by_round[1], by_round[2]
    slips = sorted((one.slip for one in pair["A"].options), key=bool)
    return QuestionRow(
        at + 1,
        pair["A"].concept,
        pair["A"].lessons,
        (len(before), len(after)),
        (_blanks(at, before), _blanks(at, after)),
        (_facility(at, before), _facility(at, after)),
        (_discrimination(at, before), _discrimination(at, after)),
        tuple(_option(at, slip, before, after) for slip in slips),
    )


def _blanks(at: int, sheets: Sequence[HandedIn]) -> int:
    return sum(one.letters[at] == "-" for one in sheets)


def _option(at: int, slip: str, before: Sequence[HandedIn], after: Sequence[HandedIn]) -> OptionRow:
    """How many marked what catches a slip, whichever letter it has on their form."""
    letter = {
        name: next(one for one in "ABCDEF" if form(name, "lb")[at].option(one).slip == slip)
        for name in FORMS
    }
    first, second = (
        sum(one.letters[at] == letter[one.form] for one in sheets) for sheets in (before, after)
    )
    return OptionRow(
        slip,
        (letter["A"], letter["B"]),
        (first, second),
        (_share(first, len(before)), _share(second, len(after))),
    )


def _share(part: int, whole: int) -> float | None:
    return None if whole < WITHHELD else part / whole


def _facility(at: int, sheets: Sequence[HandedIn]) -> float | None:
    if len(sheets) < WITHHELD:
        return None
    return facility([_right(one)[at] for one in sheets])


def _discrimination(at: int, sheets: Sequence[HandedIn]) -> float | None:
    if len(sheets) < ENOUGH_FOR_FIGURES:
        return None
    rows = [_right(one) for one in sheets]
    return discrimination([row[at] for row in rows], [sum(row) - row[at] for row in rows])


def left_out_of_gain(result: CheckResult) -> str:
    """Who is left out of the gain, in a few words; "" where nobody is."""
    alone = len(result.students) - result.pairs
    return f"{how_many(alone, 'student')} with one round only left out" if alone else ""
