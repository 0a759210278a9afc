"""Pages to hand back and to print: each one file of HTML that loads nothing and runs nothing.

Everything that came from a student is escaped, and shown as text on one line.
"""

from collections.abc import Iterable
from html import escape
from typing import NamedTuple

from leverarm.exercises import Problem
from leverarm.exercises.choices import defended
from leverarm.exercises.number_reader import printed_unit
from leverarm.exercises.typeset import plain_letters, solution_line
from leverarm.marking.assignment import Ticket
from leverarm.marking.checked import CheckedAnswer, shown_answer
from leverarm.marking.codes import shown_code
from leverarm.marking.homework import problem_for
from leverarm.marking.results import GO_ON, RE_TEACH, ClassResult
from leverarm.marking.student import Student
from leverarm.problem_pictures import paper_picture
from leverarm.scene import Axis, Bar, Mark, Scene, bar_chart, formula_rules, page_style, svg
from leverarm.scene.palette import INK, PAPER, style_sheet
from leverarm.tables import visible

SCROLLS = "Table, scrolls sideways"
SHORT = 16  # letters of a cell that stays on one line
MOST_MISTAKES, MOST_FILES = 12, 200  # rows on the class page; the sheets have all
# Paper and ink, light and dark, as the pictures have them.
_PAPER = (
    f"body{{background:light-dark({','.join(PAPER)});color:light-dark({','.join(INK)})}}"
    f"@media print{{svg text{{fill:{INK[0]}!important}}.reply{{border-color:{INK[0]}!important}}}}"
)
_RULES = """
:root{color-scheme:light dark}
body{font:16px/1.45 system-ui,Helvetica,Arial,sans-serif}
body{max-width:48rem;margin:1.5rem auto;padding:0 1rem}
h1{font-size:1.5rem}h2{font-size:1.15rem;margin:1.6rem 0 .3rem}
table{border-collapse:collapse;width:100%}
th,td{text-align:left;vertical-align:top;padding:.3rem .5rem;border-bottom:1px solid #8888}
.wide{overflow-x:auto}.key td,.key th{padding:.1rem .5rem}.n{text-align:right;white-space:nowrap}
.reply{border-left:.25rem solid #8888;padding-left:.7rem;margin:.5rem 0}
.line{border-bottom:1px solid;display:inline-block;min-width:12rem;height:1.6rem}
section.sheet{break-after:page}section.sheet:last-child{break-after:auto}
sub,sup{line-height:0}
.item,tr,li,.reply{break-inside:avoid}h1,h2,h3{break-after:avoid}
th[scope=row],.short{white-space:nowrap}code{font-size:1.05em;letter-spacing:.05em;white-space:nowrap}
@page{margin:.5in .6in}@media print{body{margin:0;max-width:none;padding:0;font-size:11pt}
.wide{overflow:visible}}
"""


def whole_page(title: str, *parts: str) -> str:
    """A whole page."""
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        '<meta http-equiv="Content-Security-Policy" '
        "content=\"default-src 'none'; style-src 'unsafe-inline'\">"
        f"<title>{escape(title)}</title><style>{_PAPER}{formula_rules()}{_RULES}</style>"
        "</head><body><main>\n" + "\n".join(filter(None, parts)) + "\n</main></body></html>\n"
    )


def plain_html(text: str, most: int = 400) -> str:
    """A stranger's text, fit for a page."""
    return escape(visible(text, most))


def cells_table(
    head: Iterable[str], rows: Iterable[Iterable[object]], kind: str = "", named: bool = False
) -> str:
    """A table of ready HTML cells; its head comes again on each piece of paper.

    kind    a class of its own;  named   whether the first cell of a row is its name
    """
    cells = "".join(f'<th scope="col">{name}</th>' if name else "<td></td>" for name in head)
    body = "".join(_table_row(list(row), named) for row in rows)
    # A narrow page scrolls the table, by keys too.
    return (
        f'<div class="wide{kind and " " + kind}" tabindex="0" role="group" aria-label="{SCROLLS}">'
        f"<table><thead><tr>{cells}</tr></thead><tbody>{body}</tbody></table></div>"
    )


def _table_row(cells: list[object], named: bool) -> str:
    """A row; a cell that is short stays on one line, so that no unit leaves its number."""
    first = f'<th scope="row">{cells.pop(0)}</th>' if named else ""
    rest = (
        f'<td class="short">{one}</td>' if len(str(one)) <= SHORT else f"<td>{one}</td>"
        for one in cells
    )
    return f"<tr>{first}{''.join(rest)}</tr>"


# A page for one student --------------------------------------------------------------------


def feedback(student: Student) -> str:
    """The page that goes back to one code: each problem, each answer, and the way to it."""
    ticket, mark = student.ticket, student.mark
    title = f"{ticket.assignment.name}: code {shown_code(ticket.code)}"
    late = f" It came {mark.late}." if mark.late in ("late", "part late") else ""
    top = f"<p>{mark.score} of {mark.out_of} problems are right.{late} The best try counts.</p>"
    notes = "".join(f"<p>Note: {plain_html(note)}.</p>" for note in student.for_student)
    parts = [
        _item(at, item.in_bank.title, student.work[item.name])
        for at, item in enumerate(ticket.assignment.items, 1)
    ]
    return whole_page(title, f"<h1>{escape(title)}</h1>", top, notes, *parts)


def _item(at: int, title: str, checks: list[CheckedAnswer]) -> str:
    if not checks:
        return f'<div class="item"><h2>{at}. {escape(title)}: not answered</h2></div>'
    last, right = checks[-1], any(one.verdict.right for one in checks)
    tries = "".join(_try(one) for one in checks)
    way = "" if right else _way(last.problem)
    return (
        f'<div class="item"><h2>{at}. {escape(title)}: '
        f"{'right' if right else 'not right yet'}</h2>"
        f"{tries}{way}</div>"
    )


def _try(one: CheckedAnswer) -> str:
    """One try: its problem, what was typed, how it was read, what it is."""
    verdict = one.verdict
    return (
        f"<p><b>Try {one.answer.number}.</b> {escape(one.problem.statement)}</p>"
        f"<p>You gave <b>{plain_html(one.answer.typed)}</b>, "
        f"read as {plain_html(verdict.reading).rstrip('.')}.</p>"
        f'<p class="reply">{plain_html(verdict.message, 1000)}</p>'
    )


def _way(problem: Problem) -> str:
    """The worked solution with the student's own numbers, or the right answer alone."""
    steps = "".join(
        f"<li>{escape(plain_letters(line.words))}<br>"
        f"<b>{solution_line(problem, line)}</b> "
        f"{f'<i>({escape(line.tag)})</i>' if line.principle != 'definition' else ''}</li>"
        for line in problem.solution
    )
    return (
        f"<p>The way to it, with the numbers of your last try:</p><ol>{steps}</ol>"
        if steps
        else "<p>With the numbers of your last try the answer is "
        f"{escape(shown_answer(problem))}.</p>"
    )


# A page for the class ----------------------------------------------------------------------

PICTURE = "<h2>Right at the first try, problem by problem</h2>"


def class_picture(result: ClassResult) -> Scene | None:
    """Right first tries of each problem as a chart; None where the class is too small."""
    shares = {
        at: 100 * row.first_share
        for at, row in enumerate(result.items, 1)
        if row.first_share is not None
    }
    if not shares:
        return None
    words = ", ".join(f"problem {at} {share:.0f} percent" for at, share in shares.items())
    return bar_chart(
        f"{result.assignment.name}: right at the first try",
        f"Share of right first tries: {words}.",
        Axis("right at the first try, %", 0, 100),
        [Bar(str(at), share, role="front", text=f"{share:.0f}") for at, share in shares.items()],
        marks=[Mark("go on above", 0, 100 * GO_ON), Mark("re-teach below", 0, 100 * RE_TEACH)],
        room=1,
    )


def class_page(result: ClassResult) -> str:
    """What the class misunderstood, for the instructor, and what was left out."""
    title = f"{result.assignment.name}: the class"
    scene = class_picture(result)
    return whole_page(
        title,
        f"<style>{page_style()}</style><h1>{escape(title)}</h1>",
        *(f"<p>{plain_html(note)}</p>" for note in result.notes),
        mistakes_html(result),
        PICTURE + svg(scene, style=False) if scene else "",
        items_html(result),
        marks_html(result),
        several_files_html(result),
        skipped_html(result),
    )


def mistakes_html(result: ClassResult) -> str:
    """The mistakes, the most frequent first."""
    if not result.mistakes:
        return "<h2>Slips</h2><p>No wrong answer fits a known slip.</p>"
    numbers = {item.name: at for at, item in enumerate(result.assignment.items, 1)}
    rows = [
        (
            numbers[row.item.name],
            escape(row.title),
            plain_html(row.words),
            f"lesson {row.lesson:02d}",
            plain_html(row.ask),
        )
        for row in result.mistakes[:MOST_MISTAKES]
    ]
    return "<h2>Slips</h2>" + cells_table(
        ("problem", "asked", "what they gave", "re-teach", "a question to ask"), rows
    )


def items_html(result: ClassResult) -> str:
    """The problems in order."""
    rows = [
        (
            at,
            escape(row.title),
            row.answered,
            row.omitted,
            _percent(row.first_share),
            _percent(row.facility),
            "" if row.tries is None else f"{row.tries:g}",
            escape(row.advice),
        )
        for at, row in enumerate(result.items, 1)
    ]
    return "<h2>Problems</h2>" + cells_table(
        (
            "problem",
            "asked",
            "answered",
            "omitted",
            "right at first",
            "right in the end",
            "median tries",
            "what next",
        ),
        rows,
    )


def _percent(share: float | None) -> str:
    return "" if share is None else f"{100 * share:.0f} %"


def marks_html(result: ClassResult) -> str:
    """One row a student, by code."""
    rows = [
        (
            f"<code>{shown_code(mark.code)}</code>",
            "" if mark.score is None else f"{mark.score}\u00a0of\u00a0{mark.out_of}",
            mark.tries,
            mark.late,
            plain_html("; ".join(mark.notes)),
        )
        for mark in result.marks
    ]
    return "<h2>Marks</h2>" + cells_table(("code", "right", "tries", "came", "notes"), rows)


def several_files_html(result: ClassResult) -> str:
    """Codes under which several files came, and what each file gave; "" where there is none."""
    rows = [
        (
            f"<code>{shown_code(mark.code)}</code>",
            plain_html(one.file, 120),
            one.right or "nothing",
            plain_html(one.came + (", late" if one.late else "")),
            plain_html("; ".join(one.notes)),
        )
        for mark in result.marks
        if len(mark.files) > 1
        for one in mark.files
    ]
    if not rows:
        return ""
    more = len(rows) - MOST_FILES
    return (
        "<h2>Several files under one code</h2>"
        "<p>Each file is marked alone, and the best answer to each problem counts. "
        "A file that gave nothing is a copy, an earlier state, or not this student's.</p>"
        + cells_table(("code", "file", "right answers from it", "came", "notes"), rows[:MOST_FILES])
        + (f"<p>And {more} more, in several_files.csv.</p>" if more > 0 else "")
    )


def skipped_html(result: ClassResult) -> str:
    """Files left out, with the reason."""
    rows = [
        (plain_html(one.file, 120), plain_html(one.reason)) for one in result.skipped[:MOST_FILES]
    ]
    more = (
        f"<p>And {len(result.skipped) - MOST_FILES} more, in left_out.csv.</p>"
        if len(result.skipped) > MOST_FILES
        else ""
    )
    return "<h2>Files left out</h2>" + (
        cells_table(("file", "why"), rows) + more if rows else "<p>No file was left out.</p>"
    )


# On paper ----------------------------------------------------------------------------------

DRAWING = (340.0, 13.0)  # how wide a drawing may be, and the size of its letters, in pixels
# A problem with its drawing: one piece, which no end of a page cuts.
_ON_PAPER = """
.drawn{display:grid;grid-template-columns:1fr max-content;gap:0 .25in;align-items:start}
.drawn svg{max-width:100%;height:auto}.item{border-bottom:1px solid #8888;padding-bottom:.1in}
@media screen and (max-width:40rem){.drawn{grid-template-columns:1fr}}
"""


def paper(tickets: list[Ticket]) -> str:
    """The assignment on paper, a sheet for each code, with the numbers of the first try."""
    name = tickets[0].assignment.name
    rules = f"<style>{style_sheet()}{_ON_PAPER}</style>"
    return whole_page(f"{name} on paper", rules, *map(_sheet, tickets))


def _sheet(ticket: Ticket) -> str:
    due = f" Due {escape(ticket.assignment.due)}." if ticket.assignment.due else ""
    items = "".join(
        _question(at, problem_for(ticket, item, 1), f"{ticket.code}-{at}")
        for at, item in enumerate(ticket.assignment.items, 1)
    )
    return (
        f'<section class="sheet"><h1>{escape(ticket.assignment.name)}</h1>'
        f"<p>Code <code>{shown_code(ticket.code)}</code>.{due} "
        "Work on a sheet of your own: the free body, the equation, the numbers, the unit.</p>"
        f"{items}</section>"
    )


def _question(at: int, problem: Problem, key: str) -> str:
    """One problem in one piece: its drawing stands beside its words, below them on a phone.

    key     what makes the drawing's ids unique on the page
    """
    answer = f'<p>Answer <span class="line"></span> {escape(printed_unit(problem.unit))}</p>'
    words = f"<p>{escape(problem.statement)}</p>{_options(problem)}{answer}"
    if picture := paper_picture(problem, *DRAWING, key):
        words = f'<div class="drawn"><div>{words}</div>{picture}</div>'
    return f'<div class="item"><h2>{at}. {escape(problem.title)}</h2>{words}</div>'


def _options(problem: Problem) -> str:
    """The options of a choice, each with its letter; the letters that a free body is drawn with."""
    if problem.style == "body":
        parts = dict(problem.options)
        forces = "; ".join(f"{letter} {words}" for letter, words in parts["forces"])
        lengths = escape(", ".join(parts["lengths"]))
        return f"<p>Letters: {escape(forces)}. Not every one belongs. Lengths: {lengths}.</p>"
    options = problem.options if problem.style == "choice" else ()
    return "".join(f"<p><b>{escape(letter)}</b> {escape(words)}</p>" for letter, words in options)


# So many answers stand side by side on a sheet of paper; one with more letters stands alone.
KEY_COLUMNS, KEY_LETTERS = 6, 20


def key_page(tickets: list[Ticket]) -> str:
    """The right answers of every code at the first try: keep it to yourself.

    A row is a code, a column a problem.  What is right for everyone stands above once.
    """
    assignment = tickets[0].assignment
    made = [
        [_right(problem_for(ticket, item, 1)) for item in assignment.items] for ticket in tickets
    ]
    titles = [item.in_bank.title for item in assignment.items]
    alike = [at for at in range(len(titles)) if len({row[at].words for row in made}) == 1]
    own = [at for at, one in enumerate(made[0]) if at not in alike or one.letter]
    said = "".join(
        f"<li><b>{at + 1} {escape(titles[at])}</b> {escape(made[0][at].words)}"
        f"{' Its letter stands below.' if at in own else ''}</li>"
        for at in alike
    )
    # Where the words stand above, the letter is enough.
    rows = [
        [one.letter if at in alike else one.whole for at, one in enumerate(row)] for row in made
    ]
    long = [at for at in own if max(len(row[at]) for row in rows) > KEY_LETTERS]
    short = [at for at in own if at not in long]
    together = [short[at : at + KEY_COLUMNS] for at in range(0, len(short), KEY_COLUMNS)]
    tables = [
        cells_table(
            ("code", *(f"{at + 1} {escape(titles[at])}" for at in places)),
            (
                (f"<code>{shown_code(ticket.code)}</code>", *(escape(row[at]) for at in places))
                for ticket, row in zip(tickets, rows, strict=True)
            ),
            "key",
            named=True,
        )
        for places in (*together, *([at] for at in long))
    ]
    return whole_page(
        f"{assignment.name}: answer key",
        f"<h1>{escape(assignment.name)}: answer key</h1>"
        f"<p>A number counts within {assignment.tolerance:g} percent, an uncertainty with two "
        "digits. Numbers of the first try.</p>",
        f"<h2>For everyone</h2><ul>{said}</ul>" if said else "",
        *tables,
    )


class _Right(NamedTuple):
    """A right answer: as shown, without the letter of an option, and that letter alone."""

    whole: str
    words: str
    letter: str


def _right(problem: Problem) -> _Right:
    """The right answer of a problem; an option has another letter for each code."""
    whole = shown_answer(problem)
    if problem.style != "choice":
        return _Right(whole, whole, "")
    letters, words = defended(problem), dict(problem.options)
    return _Right(whole, " Or ".join(words[one] for one in letters), " or ".join(letters))
