"""The page to hand over: one machine, loader on against loader off, what it means and what it does
not.

``customer_page(case, "page.pdf")`` writes one printed page, ``customer_page(case, "page.html")``
one self-contained file for a browser.  No logo, no brand; the company's name is a line to fill in.
``python -m leverarm.handouts.customer_page FOLDER`` writes both for the invented machine.
"""

import sys
from pathlib import Path
from typing import Any

from leverarm.console import done, say
from leverarm.decision import Case, demo_case
from leverarm.files import write_whole
from leverarm.handouts.customer_page_html import page_html
from leverarm.handouts.customer_page_words import page_words
from leverarm.handouts.sheet import PAPERS
from leverarm.machine import DEMO_NOTE
from leverarm.quantities import SYSTEMS, Refusal


def customer_page(
    case: Case,
    path: str | Path,
    *,
    paper: str = "A4",
    system: str = "kg",
    note: str = "",
    **about: Any,
) -> Path:
    """Write the page of a Case; the file's ending says which kind.  Returns the path.

    case        decision.Case
    path        ends in .pdf or .html; the folder must be there
    paper       "A4" or "Letter", for the PDF
    system      unit system of the pictures; table and sentences say both
    about       company=, machine=, date=, fuel=, operator=, ballast=; what is not told stays a line
                to fill in
    The same case and words write the same bytes; no date is on it unless one is told.
    """
    path, words = (
        Path(path),
        page_words(_known(case, paper, system), system=system, note=note, **about),
    )
    if path.suffix.lower() == ".html":
        write_whole(path, page_html(words).encode())
        return path
    if path.suffix.lower() != ".pdf":
        raise Refusal(
            "page", path.name, "a name that ends in .pdf or .html", "choose one of the two"
        )
    from leverarm.graphs import pdf
    from leverarm.handouts.customer_page_print import page_figure

    return pdf(path, [page_figure(words, PAPERS[paper])])


def _known(case, paper, system):
    for field, given, known in (("paper", paper, PAPERS), ("unit system", system, SYSTEMS)):
        if given not in known:
            raise Refusal(field, given, " or ".join(known), "name one of them")
    return case


def main(folder: str = "lessons") -> None:
    """Write the invented machine's page for both papers and for the browser into a folder."""
    case = demo_case(weighed=True)
    for name, paper in (
        ("customer_page_a4.pdf", "A4"),
        ("customer_page_letter.pdf", "Letter"),
        ("customer_page.html", "A4"),
    ):
        say(str(customer_page(case, Path(folder) / name, paper=paper, note=DEMO_NOTE)))


if __name__ == "__main__":
    sys.exit(done(main, *sys.argv[1:2]))
