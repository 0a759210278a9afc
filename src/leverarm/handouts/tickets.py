"""Number tickets to cut out: four a page, code and number key large, cut lines between them."""

from collections.abc import Iterable, Sequence
from pathlib import Path
from textwrap import fill
from typing import Any

from leverarm.handouts.sheet import Figure, Size, draw_cut_lines, paper_size
from leverarm.marking import Assignment, Ticket, shown_code

# The tickets fill the page but for a margin that no printer reaches, in inches.
MARGIN, A_PAGE = 0.35, 4
_STEPS = (
    "Put the file {file} beside the notebook homework.",
    "Open homework. Type the code and the number key, once.",
    "Work. Every check is kept in one file beside the notebook.",
    "Hand in that file. Its name ends in .answers.txt.",
)


def print_tickets(tickets: Iterable[Ticket], path: str | Path, paper: str = "A4") -> Path:
    """Write the tickets of a class as a PDF file to print and cut; returns its path.

    tickets     one after another, as Desk.tickets gives them; paper  "A4" or "Letter"
    """
    from leverarm.graphs import pdf

    size, all_ = paper_size(paper), list(tickets)
    return pdf(path, (_page(all_[at : at + A_PAGE], size) for at in range(0, len(all_), A_PAGE)))


def _page(four: Sequence[Ticket], size: Size) -> Figure:
    """Up to four tickets on one page."""
    from leverarm.graphs import figure

    page, paper = figure(*size)
    page.set_layout_engine("none")
    paper.set(position=(0, 0, 1, 1), xlim=(0, size[0]), ylim=(size[1], 0))
    paper.axis("off")
    _cut_lines(paper, size)
    for at, ticket in enumerate(four):
        _ticket(
            paper,
            ticket,
            MARGIN + at % 2 * size[0] / 2,
            MARGIN + at // 2 * size[1] / 2,
            size[0] / 2 - 2 * MARGIN,
        )
    return page


def _cut_lines(paper: Any, size: Size) -> None:
    """Dashed lines across the middle, both ways, with a word at their ends."""
    width, height = size
    draw_cut_lines(paper, size)
    paper.text(width - 0.12, height / 2 - 0.06, "cut", fontsize=8, ha="right", color="#5A6067")


def _ticket(paper: Any, ticket: Ticket, x: float, y: float, width: float) -> None:
    """One ticket: what it is for, code, number key, what to do."""
    work = ticket.assignment
    long = len(work.name) > 24
    paper.text(
        x, y + 0.20, fill(work.name, 34), fontsize=11 if long else 15, weight="bold", va="top"
    )
    paper.text(x, y + 0.60, f"Due {work.due}" if work.due else "", fontsize=10, va="top")
    _framed(paper, "Code", shown_code(ticket.code), x, y + 1.0, width)
    _framed(paper, "Number key", ticket.key, x, y + 1.85, width)
    for at, step in enumerate(_steps(work), 1):
        paper.text(x, y + 2.82 + 0.42 * (at - 1), f"{at}.", fontsize=9.5, va="top")
        paper.text(
            x + 0.22, y + 2.82 + 0.42 * (at - 1), step, fontsize=9.5, va="top", linespacing=1.25
        )
    paper.text(
        x,
        y + 4.62,
        "Keep this ticket. The numbers it gives are yours alone.\nThe digits 0 and 1 and "
        "the letters O and I are never used.",
        fontsize=9,
        va="top",
        color="#5A6067",
        linespacing=1.3,
    )


def _steps(work: Assignment) -> list[str]:
    return [
        fill(step.format(file=f"{work.stem}.assignment.txt"), 46, break_long_words=True)
        for step in _STEPS
    ]


def _framed(paper: Any, name: str, text: str, x: float, y: float, width: float) -> None:
    """A name over its text in a frame, in letters of one width."""
    from matplotlib.patches import Rectangle

    paper.text(x, y, name, fontsize=9, va="bottom", color="#5A6067")
    paper.add_patch(Rectangle((x, y + 0.04), width, 0.5, fill=False, linewidth=1.2))
    paper.text(
        x + width / 2,
        y + 0.29,
        text,
        fontsize=17,
        family="monospace",
        weight="bold",
        ha="center",
        va="center",
    )
