"""What the instructor's desk and the concept check say, for write.py to write out.

A class is drawn by chance everywhere else.  Here its key and codes are those that everybody knows,
so that the sentences stay the same from one writing to the next.
"""

import re
import sys
import tempfile
from datetime import date, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from class_files import answer_text, demo_codes, right, ticket_of

from leverarm import panels
from leverarm.concept_check.sheet import check_slip
from leverarm.marking import Assignment, Desk, pages
from leverarm.marking.answer_file import Answer, line
from leverarm.marking.codes import DEMO_KEY, shown_code
from leverarm.marking.homework import problem_for
from leverarm.marking.teach_page import teach_page
from leverarm.quantities import Refusal
from leverarm.tables import csv_bytes

KINDS = ("front_gain", "rear_change", "where_double")
DAY = re.compile(r"\b20\d\d-\d\d-\d\d\b")
CODE = re.compile(r"\b[0-9A-Z]{4}-[0-9A-Z]{3}\b")


def made_desk(folder, students):
    """A desk with the codes and the key that everybody knows."""
    desk = Desk(Path(folder) / "class")
    desk.private.mkdir(parents=True)
    (desk.private / "class_key.txt").write_text(DEMO_KEY)
    rows = [["code", "name"], *([shown_code(code), ""] for code in sorted(demo_codes(students)))]
    (desk.private / "codes.csv").write_bytes(csv_bytes(rows))
    return desk


def typed(problem, at):
    """What student number at gives: the weight, the other sign, a number nobody knows, or right."""
    if problem.style == "choice":
        return "ABCD"[at % 4]
    weight = problem.given["W"].partition(" ")[0]
    share = problem.answer * 0.3811
    return (weight, weight, f"{-problem.answer:.4g}", f"{share:.4g}", right(problem), "77.31")[
        at % 6
    ]


def marked_class(folder, students, system):
    """A marked class, and its desk."""
    desk = made_desk(folder, students)
    work = Assignment("Week 2", KINDS, system=system, due="2031-03-14 17:00")
    desk.write_assignment(work, date.today() - timedelta(8))
    for at, code in enumerate(desk.codes[:-1]):
        ticket = ticket_of(code, work)
        rows = [
            line(Answer(item.name, 1, "", typed(problem_for(ticket, item, 1), at)))
            for item in work.items
        ]
        path = desk.came_back_folder(work).parent / f"{at}.txt"
        path.write_text(answer_text(ticket, rows))
    desk.paper_list(work).enter(desk.codes[-1], {1: "1", 3: "A"})
    return desk, desk.mark("Week 2", received="2031-03-15")[0]


def desk_section(lines_of, widget_lines):
    """A section: the desk's pages and panels, of a class and of a small one."""

    def section(system):
        for students in (13, 3):
            with tempfile.TemporaryDirectory() as folder:
                desk, result = marked_class(folder, students, system)
                yield from lines_of(teach_page(result))
                yield from lines_of(pages.class_page(result))
                yield from lines_of(pages.key_page(desk.tickets(result.assignment)[:2]))
                page = panels.desk(desk.folder)
                page.choose.mix.value = True
                page.paper.code.value = page.progress.code.value = desk.codes[0]
                page.paper.look()
                page.progress.look()
                shown = (page.codes, page.choose, page.paper, page.marks, page.names, page.progress)
                for panel in shown:
                    yield from (DAY.sub("a day", text) for text in widget_lines(panel.widget))
                sheet = desk.paper_list(result.assignment)
                for code, answers in (("K7MP-TDX", {}), ("K7MP-TDC", {}), (desk.codes[0], {9: ""})):
                    try:
                        sheet.enter(code, answers)
                    except Refusal as refusal:
                        yield str(refusal)

    return section


def check_section(lines_of, widget_lines):
    """A section: the concept check as a student fills it in, and its desk with both rounds."""

    def section(system):
        for form in "AB":
            with tempfile.TemporaryDirectory() as folder:
                made = panels.concept_check(folder)
                yield from widget_lines(made.widget)
                made.use(check_slip(DEMO_KEY, demo_codes(1)[0], 1, form))
                for number in range(1, 13):
                    made.go(number)
                    yield from widget_lines(made.widget)
                made.mark("A")
                yield from widget_lines(made.widget)
        with tempfile.TemporaryDirectory() as folder:
            found = panels.imagined_check_panel(Path(folder) / "class")
            for text in widget_lines(found.widget):
                yield CODE.sub("a code", text)

    return section
