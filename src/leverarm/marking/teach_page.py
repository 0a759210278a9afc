"""The page Teach tomorrow: what to say to the class, and why, on one sheet of Letter or A4.

The desk's panel shows the same pieces as the file that is printed.  Everything that came from a
student is escaped, and shown as text on one line.  No marks stand here, and nobody is ranked.
"""

from html import escape

from leverarm.exercises import Problem
from leverarm.marking.checked import shown_answer
from leverarm.marking.codes import shown_code
from leverarm.marking.pages import SCROLLS, plain_html, whole_page
from leverarm.marking.results import ClassResult, ItemRow
from leverarm.marking.teaching import Example, LeftOver, TaughtSlip, Teaching
from leverarm.quantities import how_many

# What fits on one sheet; the sheets beside it have the rest.
MOST_CODES, FEW_CODES, MOST_ROWS, MOST_LEFT, MOST_OF_A_ROW = 8, 5, 10, 5, 4
MOST_TYPED, MOST_FOUND = 40, 120
SQUARES = 40  # a class up to this size is drawn as so many squares
SIDE, GAP = 11, 3

TEACH_STYLE = """
.tt{container-type:inline-size;line-height:1.35}.tt p{margin:0 0 3px}
.tt .tt-title{font-size:1.75em;line-height:1.15;margin:0}
.tt-head{align-items:end;display:flex;flex-wrap:wrap;justify-content:space-between;gap:2px 16px;
border-bottom:2px solid currentColor;padding-bottom:5px}
.tt-first{font-size:1.12em;margin:8px 0 2px!important}
.tt-slip{border-bottom:1px solid currentColor;padding:7px 0 8px;break-inside:avoid}
.tt .tt-does{font-size:1.2em;font-weight:700;margin:0 0 4px}
.tt-n{display:inline-grid;place-items:center;width:1.5em;height:1.5em;border:2px solid;
border-radius:50%;margin-right:.4em;font-size:.85em}
.tt-g{display:grid;grid-template-columns:1.05fr .95fr 1.35fr;gap:8px 18px}
.tt-low{display:grid;grid-template-columns:1.3fr 1fr;gap:8px 22px;padding-top:8px}
.tt-low>*,.tt-g>*{min-width:0}
.tt .tt-sub{font-size:1em;font-weight:700;margin:0 0 1px}
.tt .tt-part{font-size:1.1em;font-weight:700;margin:0 0 3px}
.tt-count{font-size:1.15em}.tt-who svg{display:block;max-width:100%;height:14px;margin:2px 0 5px}
.tt ul{margin:0;padding:0;list-style:none}.tt li{margin:0 0 5px}
.tt code{font-size:.95em;white-space:nowrap;margin-right:.35em;letter-spacing:.03em}
.tt-ask{border-left:4px solid currentColor;padding-left:10px}
.tt-wide{overflow-x:auto}
.tt-low table{border-collapse:collapse;width:100%}
.tt-low td,.tt-low th{border-bottom:1px solid #8888;padding:1px 0 2px 8px;vertical-align:bottom}
.tt-low th{font-weight:400}.tt-low td,.tt-low th{text-align:right}
.tt-low tbody th{white-space:nowrap}.tt-low tr>:first-child{padding-left:0;text-align:left}
.tt-note{border-left:8px solid currentColor;padding:3px 0 3px 12px;margin:12px 0 0!important}
.tt-hide{display:inline-flex;gap:8px;align-items:center;min-height:32px}
.tt-hide input{width:20px;height:20px}
.tt-hidden code{display:none}body:has(#tt-hide:checked) .tt code{display:none}
@container(max-width:42rem){.tt-g,.tt-low{grid-template-columns:1fr}}
@media print{.tt-hide{display:none}.tt{font-size:10pt;line-height:1.15}
.tt code,.tt-n{font-size:1em!important}.tt-slip{padding:2px 0}.tt .tt-title{font-size:1.4em}
.tt .tt-does{font-size:1.15em}.tt-n{width:1.3em;height:1.3em}}
"""
_SHEET = """
@page{margin:.4in .5in}body{max-width:70rem}
@media print{body{font-family:Arial,Helvetica,"Liberation Sans","DejaVu Sans Condensed",sans-serif}
.tt-g{grid-template-columns:1fr 1.5fr!important;gap:4px 14px}
.tt-who{grid-column:1/-1;display:flex;flex-wrap:wrap;align-items:center;gap:0 14px}
.tt .tt-who p,.tt-who svg{margin:0}.tt-first{margin:4px 0 0!important}
.tt .tt-does{margin:0 0 1px}.tt-ask{padding-left:8px}
.tt-head{padding-bottom:2px}.tt li{margin:0 0 3px}.tt-note{margin:6px 0 0!important}
.tt-low{grid-template-columns:1.35fr 1fr!important;padding-top:4px}.tt-wide{overflow:visible}}
"""


def teach_page(result: ClassResult) -> str:
    """The page as one file of HTML, to print or to keep."""
    title = f"Teach tomorrow: {result.assignment.name}"
    hide = '<label class="tt-hide"><input type="checkbox" id="tt-hide">Hide codes</label>'
    return whole_page(
        title,
        f"<style>{_SHEET}</style>{hide}",
        teach_html(result, 1),
    )


def teach_html(result: ClassResult, level: int = 2, hidden: bool = False) -> str:
    """The pieces of the page.

    level   of its title;  hidden    leaves the codes out, for a projector
    """
    teaching = result.teaching
    first, rest = teaching.decision
    below = level + 1
    slips = "".join(_slip(at, slip, teaching, below) for at, slip in enumerate(teaching.slips, 1))
    table = "" if teaching.small else _problems(result, below)
    left = _left_over(teaching, below)
    return (
        f"<style>{TEACH_STYLE}</style>"
        f'<div class="tt{" tt-hidden" if hidden else ""}">{_head(result, level)}'
        f'<p class="tt-first"><b>{first}</b> {rest}</p>{slips}'
        f'<div class="tt-low">{table}{left}</div>{_note(teaching)}</div>'
    )


def _head(result: ClassResult, level: int) -> str:
    aside = len(result.skipped)
    more = f" {how_many(aside, 'file')} set aside." if aside else ""
    return (
        f'<div class="tt-head"><div>{_heading(level, "tt-title", "Teach tomorrow")}'
        f"<p>{escape(result.assignment.name)}</p></div>"
        f"<p><b>{result.handed_in} of {len(result.marks)}</b> came back.{more}</p></div>"
    )


def _heading(level: int, style: str, text: str) -> str:
    return f'<h{level} class="{style}">{text}</h{level}>'


# A slip ------------------------------------------------------------------------------------


def _slip(at: int, slip: TaughtSlip, teaching: Teaching, level: int) -> str:
    does = f'<span class="tt-n">{at}</span>{plain_html(slip.does, 160)}'
    answer = f" [{escape(slip.answer)}]" if slip.answer else ""
    again = f"{_statement(slip.again)} [{escape(shown_answer(slip.again).rstrip('.'))}]"
    typed = "".join(f"<li>{_example(one)}</li>" for one in slip.examples)
    sub = level + 1
    return (
        f'<section class="tt-slip">{_heading(level, "tt-does", does)}<div class="tt-g">'
        f'<div class="tt-who">{_who(slip, teaching)}</div>'
        f"<div>{_heading(sub, 'tt-sub', 'As typed')}<ul>{typed}</ul></div>"
        f'<div class="tt-ask">{_heading(sub, "tt-sub", "Ask the class")}'
        f"<p>{escape(slip.ask)}{answer}</p>"
        f"{_heading(sub, 'tt-sub', 'Then give this')}<p>{again}</p></div></div></section>"
    )


def _who(slip: TaughtSlip, teaching: Teaching) -> str:
    """How many and who, and in which problems."""
    answers = f"<p>{how_many(slip.answers, 'answer')}{_where(slip.where)}</p>"
    some = slip.codes[: MOST_CODES if len(slip.codes) <= SQUARES else FEW_CODES]
    more = len(slip.codes) - len(some)
    codes = " ".join(f"<code>{shown_code(code)}</code>" for code in some)
    rest = f" and {more} more, in slips_by_code.csv" if more else ""
    who = f"<p>{codes}{rest}</p>"
    if teaching.small:
        return answers + who
    count = f"{len(slip.codes)} of {teaching.students}"
    picture = _squares(len(slip.codes), teaching.students)
    return f'<p class="tt-count"><b>{count}</b> students</p>{picture}{answers}{who}'


def _where(places: tuple[tuple[int, int], ...]) -> str:
    """In which problems, and how often in each where there are several."""
    if len(places) == 1:
        return f" in no. {places[0][0]}"
    *most, last = [f"{number} in no. {at}" for at, number in places]
    return f": {', '.join(most)} and {last}"


def _squares(some: int, of: int) -> str:
    """So many of the class, as filled squares; a large class as one bar."""
    if of <= SQUARES:
        boxes = [(at * (SIDE + GAP) + 1, SIDE, at < some) for at in range(of)]
        width = of * (SIDE + GAP)
    else:
        width = SQUARES * (SIDE + GAP) // 3
        boxes = [(1, width - 2, False), (1, round((width - 2) * some / of), True)]
    drawn = "".join(
        f'<rect x="{x}" y="2" width="{wide}" height="{SIDE}" stroke="currentColor" '
        f'stroke-width="1.3" fill="{"currentColor" if filled else "none"}"/>'
        for x, wide, filled in boxes
    )
    return (
        f'<svg viewBox="0 0 {width} 15" width="{width}" preserveAspectRatio="xMinYMid" role="img" '
        f'aria-label="{some} of {of} students made this slip">{drawn}</svg>'
    )


def _example(one: Example) -> str:
    """What somebody typed, what it is, and what was right."""
    return (
        f"<code>{shown_code(one.code)}</code><b>“{plain_html(one.typed, MOST_TYPED)}”</b><br>"
        f"{plain_html(one.finding, MOST_FOUND)} "
        f"Right: {plain_html(one.right.rstrip('.'), MOST_FOUND)}."
    )


def _statement(problem: Problem) -> str:
    """A fresh problem, with its options where it has some."""
    options = problem.options if problem.style == "choice" else ()
    offered = " ".join(f"<b>{escape(letter)}</b> {escape(words)}" for letter, words in options)
    return f"{escape(problem.statement)} {offered}".strip()


# Problems and what is left over ------------------------------------------------------------


def _problems(result: ClassResult, level: int) -> str:
    """The problems, as counts; of many, those with the fewest right first answers."""
    rows = list(enumerate(result.items, 1))
    if len(rows) > MOST_ROWS:
        worst = sorted(rows, key=lambda row: (row[1].first is None, row[1].first or 0))
        rows = sorted(worst[:MOST_ROWS], key=lambda row: row[0])
    more = len(result.items) - len(rows)
    rest = f"<p>And {how_many(more, 'problem')} more, in items.csv.</p>" if more else ""
    head = ("problem", "came in", "right first", "in the end", "unex\u00adplained")
    top = "".join(f'<th scope="col">{name}</th>' for name in head)
    body = "".join(_row(at, row) for at, row in rows)
    return (
        f"<section>{_heading(level, 'tt-part', 'Problems')}"
        f'<div class="tt-wide lv-wide" tabindex="0" role="group" aria-label="{SCROLLS}">'
        f"<table><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table></div>{rest}</section>"
    )


def _row(at: int, row: ItemRow) -> str:
    first, right = ("few" if one is None else one for one in (row.first, row.right))
    cells = (row.answered, first, right, row.unexplained)
    again = f" (again, from {escape(row.item.old)})" if row.item.old else ""
    return (
        f'<tr><th scope="row">{at} {escape(row.title)}{again}</th>'
        + "".join(f"<td>{cell}</td>" for cell in cells)
        + "</tr>"
    )


def _left_over(teaching: Teaching, level: int) -> str:
    if not teaching.left:
        return ""
    rows = teaching.left_over[:MOST_LEFT]
    shown = sum(len(one.answers[:MOST_OF_A_ROW]) for one in rows)
    more = teaching.left - shown
    rest = f"<p>And {how_many(more, 'answer')} more, in unexplained.csv.</p>" if more else ""
    items = "".join(f"<li>{_left(one)}</li>" for one in rows)
    title = f"Unexplained: {how_many(teaching.left, 'answer')}"
    return f"<section>{_heading(level, 'tt-part', title)}<ul>{items}</ul>{rest}</section>"


def _left(one: LeftOver) -> str:
    """Some answers to one problem, and what to do about them."""
    some = one.answers[:MOST_OF_A_ROW]
    typed = ", ".join(
        f"<code>{shown_code(code)}</code>“{plain_html(text, MOST_TYPED)}”" for code, text, _ in some
    )
    if one.shared:
        count = len(one.answers)
        all_of = "both" if count == 2 else f"all {count}"
        advice = (
            f"One thing gives {all_of}, each from its own numbers: "
            f"{plain_html(one.shared.what, MOST_FOUND)}. {plain_html(one.shared.question)}"
        )
    elif any(enough for _, _, enough in some):
        advice = "Nothing fits. Ask for the working."
    else:
        advice = "Too few digits to tell. Ask for four."
    return f"No. {one.at}: {typed}. {advice}"


def _note(teaching: Teaching) -> str:
    if not teaching.small:
        return (
            "<p>Judging one problem by its counts takes 100 answers or more. "
            "Your own list joins codes to names.</p>"
        )
    came = {0: "Nothing", 1: "Only one", 2: "Only two", 3: "Only three", 4: "Only four"}
    return (
        f'<p class="tt-note"><b>{came[teaching.students]} came back.</b> You see each answer '
        "and its code. The table of problems and all percentages are withheld: with fewer than "
        "five students they would point at persons if this page were shown or passed on.</p>"
    )
