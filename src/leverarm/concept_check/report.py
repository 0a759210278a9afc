"""What both rounds tell, as a page and as sheets, for the instructor alone.

Each figure says what it is good for; where a class is too small for one, the page says so.
"""

from collections.abc import Iterable
from html import escape
from pathlib import Path

from leverarm.concept_check.questions import check_words, how_many_questions
from leverarm.concept_check.results import (
    ENOUGH_FOR_FIGURES,
    ENOUGH_FOR_GAIN,
    WITHHELD,
    CheckResult,
    left_out_of_gain,
)
from leverarm.concept_check.statistics import Gain, share_interval
from leverarm.files import write_whole
from leverarm.marking.codes import shown_code
from leverarm.marking.pages import cells_table, plain_html, whole_page
from leverarm.quantities import how_many
from leverarm.tables import csv_bytes

# Mean and spread (one standard deviation) of the gains of courses, from memory: Hake (1998),
# American Journal of Physics 66, 64-74.
HAKE = (
    "For comparison only: on another test, in physics, 14 courses taught the traditional way "
    "gained 0.23 ± 0.04 and 48 with interactive teaching 0.48 ± 0.14, mean and spread of the "
    "courses (Hake 1998, American Journal of Physics 66, 64). "
    "These questions are different, so that is no yardstick for them."
)
LITTLE_LEFT = 85.0
NOT_THE_CAUSE = (
    "A gain shows that something changed between the two rounds. It does not show what changed it."
)


def gain_words(result: CheckResult) -> tuple[str, ...]:
    """What is to be said of the gain, in sentences."""
    gain = result.gain
    if not any(result.sheets):
        return ("No sheet came back yet.",)
    if gain is None:
        return ("Nobody has done both rounds yet, so there is no gain to work out.",)
    if gain.pairs < WITHHELD:
        return (
            f"{how_many(gain.pairs, 'student')} did both rounds. Under {WITHHELD} nothing is shown "
            "for the class: it would point at persons.",
        )
    alone = left_out_of_gain(result)
    said = [
        f"{gain.pairs} students did both rounds{f'; {alone}' if alone else ''}. Before the lessons "
        f"they had {gain.pre:.0f} percent right, after them {gain.post:.0f} percent.",
        *_gain_number(gain),
    ]
    if gain.pre > LITTLE_LEFT:
        said.append(
            f"Before the lessons more than {LITTLE_LEFT:.0f} percent was right already, so little "
            "was left to gain."
        )
    return (*said, HAKE, NOT_THE_CAUSE, check_words().unproved)


def _gain_number(gain: Gain) -> tuple[str, ...]:
    """The gain and its ±, or why there is none."""
    if gain.gain is None:
        return ("Everything was right before the lessons, so nothing was left to gain.",)
    if gain.low is None or gain.high is None:
        return ("The gain has no ±: too little was left to gain, or all gained the same share.",)
    ends = f"from {gain.low:.2f} to {gain.high:.2f}"
    unshown = (
        ("Zero lies inside, so no gain can be shown. That does not mean that there was none.",)
        if gain.low <= 0 <= gain.high
        else ()
    )
    if gain.pairs < ENOUGH_FOR_GAIN:
        return (
            f"With {gain.pairs} students the normalized gain may be anything {ends}: too few for "
            "one number. Look at the single questions and ask.",
            *unshown,
        )
    return (
        f"Normalized gain: {gain.gain:.2f} ± {gain.plus_minus:.2f}. That share of what was not "
        f"known before was gained. The ± holds 95 times in 100, for students like these: {ends}.",
        *unshown,
    )


def reliability_words(result: CheckResult) -> tuple[str, ...]:
    """What KR-20 says in each round, or that the class is too small for it."""
    said = []
    for name, found, n in zip(("before", "after"), result.kr20, result.sheets):
        if found is not None:
            said.append(
                f"KR-20 {name} the lessons: {found[0]:.2f}, from {found[1]:.2f} to {found[2]:.2f}. "
                "It says how far the questions agree on who did well; six of them rest on one law, "
                "which raises it."
            )
        elif n:
            said.append(
                f"{how_many(n, 'sheet')} {name} the lessons: KR-20 and discrimination need "
                f"{ENOUGH_FOR_FIGURES} at least, and 100 to 200 before one question can be judged."
            )
    return tuple(said)


def report_html(result: CheckResult) -> str:
    """The whole of it as pieces of a page: gain, slips, questions, codes, files left out."""
    parts = [f"<p>{escape(one)}</p>" for one in gain_words(result)]
    if any(n >= WITHHELD for n in result.sheets):
        parts += ["<h3>What they thought</h3>", _slips_html(result)]
        parts += ["<h3>Question by question</h3>", _questions_html(result)]
        parts += [f"<p>{escape(one)}</p>" for one in reliability_words(result)]
    if result.students:
        parts += ["<h3>Code by code</h3>", "<p>Do not grade or place a student by it.</p>"]
        parts.append(_students_html(result))
    if result.skipped:
        rows = [(plain_html(one.file, 120), plain_html(one.reason)) for one in result.skipped]
        parts += ["<h3>Left out</h3>", cells_table(("file", "why"), rows[:200])]
    return "".join(parts)


def _percent(share: float | None) -> str:
    return "" if share is None else f"{100 * share:.0f} %"


def _with_ends(share: float | None, n: int) -> str:
    """A share in percent, and what the share of a great many such students may be."""
    if share is None:
        return ""
    low, high = share_interval(round(share * n), n)
    return f"{100 * share:.0f} % ({100 * low:.0f} to {100 * high:.0f})"


def _slips_html(result: CheckResult) -> str:
    """Each slip in each question, those that stayed first."""
    rows = [
        (option, question)
        for question in result.questions
        for option in question.options
        if option.slip and any(option.counts)
    ]
    rows.sort(key=lambda one: (-one[0].counts[1], -one[0].counts[0], one[1].number))
    return cells_table(
        ("slip", "question", "taught in", "before", "after"),
        [
            (
                escape(option.slip),
                f"{question.number}",
                escape(" ".join(question.lessons)),
                _percent(option.shares[0]),
                _percent(option.shares[1]),
            )
            for option, question in rows[:15]
        ],
    )


def _questions_html(result: CheckResult) -> str:
    # A small class has none, and the sentence below the table says so.
    told = any(one is not None for row in result.questions for one in row.discrimination)
    return cells_table(
        ("", "idea", "right before", "right after", "blank")
        + (("discrimination before, after",) if told else ()),
        [
            (
                f"{row.number}",
                escape(row.concept),
                _with_ends(row.facility[0], row.n[0]),
                _with_ends(row.facility[1], row.n[1]),
                f"{row.blank[0]}, {row.blank[1]}",
                *([_two_figures(row.discrimination)] if told else []),
            )
            for row in result.questions
        ],
    )


def _two_figures(figures: Iterable[float | None]) -> str:
    return ", ".join("-" if one is None else f"{one:.2f}" for one in figures)


def _students_html(result: CheckResult) -> str:
    of = how_many_questions()
    return cells_table(
        ("code", "forms", "before", "after", "notes"),
        [
            (
                f"<code>{shown_code(row.code)}</code>",
                ", ".join(one or "-" for one in row.forms),
                *("" if one is None else f"{one} of {of}" for one in row.scores),
                plain_html("; ".join(row.notes)),
            )
            for row in result.students
        ],
    )


def report_page(result: CheckResult) -> str:
    """The report as a page of its own."""
    title = f"{check_words().title}: before and after"
    return whole_page(title, f"<h1>{escape(title)}</h1>", report_html(result))


def write_report(result: CheckResult, folder: Path) -> None:
    """The page and its sheets into a folder."""
    write_whole(folder / "concept_check.html", report_page(result).encode())
    for name, rows in (
        ("students.csv", _student_rows(result)),
        ("questions.csv", _question_rows(result)),
        ("options.csv", _option_rows(result)),
        ("left_out.csv", [("file", "why"), *((one.file, one.reason) for one in result.skipped)]),
    ):
        write_whole(folder / name, csv_bytes(rows))


def _student_rows(result: CheckResult) -> Iterable[Iterable[object]]:
    """A row a code, as the analysis of a trial reads it."""
    yield "code", "form before", "right before", "form after", "right after", "out of", "notes"
    for row in result.students:
        yield (
            shown_code(row.code),
            row.forms[0],
            row.scores[0],
            row.forms[1],
            row.scores[1],
            how_many_questions(),
            "; ".join(row.notes),
        )


def _rounded(value: float | None) -> object:
    return None if value is None else round(value, 3)


def _question_rows(result: CheckResult) -> Iterable[Iterable[object]]:
    yield (
        "question", "idea", "sheets before", "right before", "blank before",
        "discrimination before", "sheets after", "right after", "blank after",
        "discrimination after",
    )  # fmt: skip
    for row in result.questions:
        yield (
            row.number,
            row.concept,
            *(
                cell
                for at in (0, 1)
                for cell in (
                    row.n[at],
                    _rounded(row.facility[at]),
                    row.blank[at],
                    _rounded(row.discrimination[at]),
                )
            ),
        )


def _option_rows(result: CheckResult) -> Iterable[Iterable[object]]:
    yield "question", "letter in A", "letter in B", "slip", "share before", "share after"
    for row in result.questions:
        for one in row.options:
            yield (
                row.number,
                *one.letters,
                one.slip or "right",
                *(_rounded(share) for share in one.shares),
            )
