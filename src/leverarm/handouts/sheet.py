"""A sheet to print as one HTML file: its frame, its style, and the parts that sheets share.

A sheet is read on a screen, by a screen reader, and on Letter or A4 in black and white: headings
in their order, tables with scopes, pictures with words, and no script.  Every text that is put in
is escaped here; three or more underscores in a row stand for a line to write on.
"""

import re
from collections.abc import Callable, Iterable, Sequence
from functools import cache
from html import escape
from importlib.resources import files

from leverarm.quantities import Refusal, known_system
from leverarm.scene import formula_rules
from leverarm.scene.palette import style_sheet
from leverarm.stage.still import light_rules

# Width and height in inches.
PAPERS = {"A4": (8.27, 11.69), "Letter": (8.5, 11.0)}
SYSTEM_NAMES = {"lb": "pounds and inches", "kg": "kilograms and meters"}
# A cell to write into: one with nothing in it would be left out of a PDF file's table.
EMPTY_CELL = "<td>\u00a0</td>"
_LETTER_WIDE_IN = 0.085  # of a line to write on, for each underscore


def paper_size(paper: str) -> tuple[float, float]:
    """Width and height of a paper in inches, or a Refusal.

    >>> paper_size("Letter")
    (8.5, 11.0)
    """
    if paper not in PAPERS:
        raise Refusal("paper", paper, " or ".join(PAPERS), "name one of them")
    return PAPERS[paper]


def system_words(system: str) -> str:
    """The units of a sheet in words; a Refusal for a system there is not.

    >>> system_words("lb")
    'pounds and inches'
    """
    return SYSTEM_NAMES[known_system(system)]


def sheet_html(title: str, *pages: str, kind: str, paper: str = "") -> str:
    """The whole file as text.

    pages   each begins on a new piece of paper
    kind    the class of the sheet, which its style goes by
    paper   "A4" or "Letter" where it is to be printed on that one alone
    """
    if paper:
        width, height = paper_size(paper)
        paper = f"@page{{size:{width:g}in {height:g}in}}"
    inside = "".join(f'<div class="page">{page}</div>' for page in pages)
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>{_style_for(inside)}{paper}</style></head>\n"
        f'<body><main class="{kind}" data-jp-theme-light="true">{inside}</main></body></html>\n'
    )


def _style_for(inside: str) -> str:
    """The rules a page needs: its own, and those of drawings and formulas that stand on it."""
    marked: dict[str, Callable[[], str]] = {
        'class="lv ': style_sheet,
        'class="st-': light_rules,
        'class="lv-': formula_rules,
    }
    return "".join(rules() for mark, rules in marked.items() if mark in inside) + _style()


@cache
def _style() -> str:
    rules = files("leverarm.handouts").joinpath("sheet.css").read_text("utf-8")
    return re.sub(r"/\*.*?\*/|\n\s*", "", rules, flags=re.DOTALL)


def filled(text: str) -> str:
    """A text with its lines to write on.

    >>> filled("Date ____")
    'Date <span class="line" style="width:0.34in"></span>'
    """

    def line(found: re.Match[str]) -> str:
        wide = len(found[0]) * _LETTER_WIDE_IN
        return f'<span class="line" style="width:{wide:.2f}in"></span>'

    spaced = re.sub(r" {3,}", "\u2003", escape(text))
    spaced = re.sub(
        r"_{3,} (?!and |to )[\w%²/]{1,5}(?![\w²])", r'<span class="blank">\g<0></span>', spaced
    )
    return re.sub(r"_{3,}", line, spaced).replace("□", '<span class="box"></span>')


def heading(title: str, under: str = "", blanks: str = "") -> str:
    """The head of a page: its title, what it is, and lines for a name."""
    small = f"<p>{escape(under)}</p>" if under else ""
    name = f'<p class="name">{blanks}</p>' if blanks else ""
    return f"<header><div><h1>{escape(title)}</h1>{small}</div>{name}</header>"


def paragraph(text: str, kind: str = "") -> str:
    """A paragraph, which may have lines to write on."""
    return f"<p{_class(kind)}>{filled(text)}</p>"


def items(lines: Iterable[str], kind: str = "", tag: str = "ul") -> str:
    """A list; kind "boxes" gives each line a box to tick."""
    inside = "".join(f"<li>{filled(line)}</li>" for line in lines)
    return f"<{tag}{_class(kind)}>{inside}</{tag}>"


def blanks(fields: Iterable[tuple[str, float]]) -> str:
    """Named lines to fill in, each with its width in inches, beside each other as they fit."""
    inside = "".join(
        f'<div style="flex:{wide:g} 1 {wide:g}in"><dt>{escape(name)}</dt><dd></dd></div>'
        for name, wide in fields
    )
    return f'<dl class="blanks">{inside}</dl>'


def writing_lines(count: int) -> str:
    """Empty lines to write on, which a screen reader passes over."""
    return '<div class="rules" aria-hidden="true">' + "<i></i>" * count + "</div>"


def table(
    caption: str, head: str, rows: Iterable[Sequence[str]], kind: str = "", *, wide: int = 0
) -> str:
    """A table to write into: what a row's cells hold is printed, the rest is empty.

    head    the rows of the head, as HTML
    rows    each begins with its name;  wide  how many cells each has after it
    """
    body = "".join(
        f'<tr><th scope="row">{filled(name)}</th>'
        + "".join(f"<td>{filled(cell)}</td>" for cell in cells)
        + EMPTY_CELL * (wide - len(cells))
        + "</tr>"
        for name, *cells in rows
    )
    return (
        f"<table{_class(kind)}><caption>{filled(caption)}</caption><thead>{head}</thead>"
        f"<tbody>{body}</tbody></table>"
    )


def head_row(names: Iterable[str]) -> str:
    """One row of a table's head, with scopes."""
    return "<tr>" + "".join(f'<th scope="col">{escape(name)}</th>' for name in names) + "</tr>"


def _class(kind: str) -> str:
    return f' class="{kind}"' if kind else ""
