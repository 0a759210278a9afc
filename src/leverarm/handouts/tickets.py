"""Number tickets to cut out: four a page, code and number key large, cut lines between them."""

from collections.abc import Iterable
from html import escape
from pathlib import Path

from leverarm.files import write_whole
from leverarm.handouts.sheet import items, sheet_html
from leverarm.marking import Assignment, Ticket, shown_code
from leverarm.quantities import Refusal

A_PAGE, LONG_NAME = 4, 24
_STEPS = (
    "Put the file {file} beside the notebook homework.",
    "Open homework. Type the code and the number key, once.",
    "Work. Every check is kept in one file beside the notebook.",
    "Hand in that file. Its name ends in .answers.txt.",
)
_KEEP = (
    "Keep this ticket. The numbers it gives are yours alone. The digits 0 and 1 and the letters O "
    "and I are never used."
)


def print_tickets(tickets: Iterable[Ticket], path: str | Path, paper: str = "A4") -> Path:
    """Write the tickets of a class as one HTML file to print and cut; returns its path.

    tickets     one after another, as Desk.tickets gives them; paper  "A4" or "Letter"
    """
    path, handed = Path(path), list(tickets)
    if path.suffix.lower() != ".html":
        raise Refusal("tickets", path.name, "a name that ends in .html", "choose such a name")
    title = f"Number tickets: {handed[0].assignment.name}" if handed else "Number tickets"
    pages = [
        f'<div class="four">{"".join(map(_ticket, handed[at : at + A_PAGE]))}</div>'
        for at in range(0, len(handed), A_PAGE)
    ]
    first = f'<h1 class="unseen">{escape(title)}</h1>'
    made = sheet_html(title, first + "".join(pages[:1]), *pages[1:], kind="tickets", paper=paper)
    write_whole(path, made.encode("utf-8"))
    return path


def _ticket(ticket: Ticket) -> str:
    """One ticket: what it is for, code, number key, what to do."""
    work = ticket.assignment
    long = ' class="long"' if len(work.name) > LONG_NAME else ""
    due = f"Due {escape(str(work.due))}" if work.due else ""
    return (
        f'<article><h2{long}>{escape(work.name)}</h2><p class="due">{due}</p>'
        f"<dl><dt>Code</dt><dd>{escape(shown_code(ticket.code))}</dd>"
        f"<dt>Number key</dt><dd>{escape(ticket.key)}</dd></dl>"
        f'{items(_steps(work), tag="ol")}<p class="keep">{_KEEP}</p></article>'
    )


def _steps(work: Assignment) -> list[str]:
    return [step.format(file=f"{work.stem}.assignment.txt") for step in _STEPS]
