"""The concept check on the instructor's side: write forms and slips, read both rounds."""

from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm.concept_check.desk import A_FIRST, BY_TURNS, CheckDesk, imagined_check
from leverarm.concept_check.questions import check_words
from leverarm.concept_check.report import report_html
from leverarm.concept_check.results import CheckResult
from leverarm.marking import Desk
from leverarm.panels.base import Panel, button, html, row, set_if_changed
from leverarm.panels.controls import choice, text_box
from leverarm.panels.desk_marks import files_html

DEALS = [
    ("by turns: half begin with form A, half with B", BY_TURNS),
    ("everybody form A first", A_FIRST),
]
HAND_OUT = [
    ("slips_round_1.html", "print and cut it before lesson 01: a code and a key for each student"),
    ("slips_round_2.html", "the same for after lesson 12, with the other form"),
    ("form_A_on_paper.html and form_B_on_paper.html", "for whoever works on paper"),
]


class CheckDeskPanel(Panel):
    """The concept check of a class folder.

    desk    the concept_check CheckDesk;  result  the last CheckResult, or None
    only_result     nothing is there to press, only what came out
    """

    def __init__(self, desk: CheckDesk, only_result: bool = False) -> None:
        self.desk, self.only_result = desk, only_result
        self.result: CheckResult | None = None
        self.folder: Path | None = None
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.deal = choice("Which form first", DEALS, BY_TURNS)
        self.place = text_box("Folder or zip file (empty: the came_back folder)")
        self.said, self.shown = html("", "lv-say"), html()
        if self.only_result:
            return [self.shown]
        return [
            self.deal,
            row(
                button("Write forms and slips", lambda: self.attempt(self.write), primary=True),
            ),
            self.place,
            row(button("Read both rounds", lambda: self.attempt(self.read), primary=True)),
            self.said,
            self.shown,
        ]

    def write(self) -> Path:
        """Write what to hand out; returns its folder."""
        folder = self.desk.write(str(self.deal.value), self.system)
        self.redraw()
        return folder

    def read(self, place: Path | str | None = None) -> CheckResult:
        """Read what came back, of one round or both; the CheckResult stays in .result."""
        typed = self.place.value.strip().strip('"')
        self.result, self.folder = self.desk.read(place or typed or None)
        self.redraw()
        return self.result

    def draw(self) -> None:
        set_if_changed(self.said, self._words())
        set_if_changed(self.shown, report_html(self.result) if self.result else "")

    def _words(self) -> str:
        if self.result is not None and self.folder is not None:
            where = f"marked/{self.folder.parent.name}/{self.folder.name}"
            return f"<p>Read. Page and sheets are in <b>{escape(where)}</b>, for you alone.</p>"
        if not self.desk.written:
            return f"<p>{escape(check_words().unproved)}</p>"
        return (
            f"<p>In <b>hand_out/Concept_check</b>:</p>{files_html(HAND_OUT)}"
            "<p>In <b>keep_to_yourself</b>: <b>concept_check_key.html</b>. Put the files of both "
            "rounds into <b>came_back/Concept_check</b>; type paper answers into "
            "<b>paper_answers.csv</b> there.</p><p>After the second round this opening key shows "
            f"students their answers: <b>{escape(self.desk.opening_key)}</b></p>"
        )


def concept_check_desk(folder: Path | str | Desk = "my_class") -> CheckDeskPanel:
    """The concept check of a class folder: .write() .read() .result; .desk is the CheckDesk."""
    return CheckDeskPanel(CheckDesk(folder if isinstance(folder, Desk) else Desk(folder)))


def imagined_check_panel(folder: Path | str) -> CheckDeskPanel:
    """Both rounds of an invented class, read."""
    panel = CheckDeskPanel(imagined_check(folder), only_result=True)
    panel.read()
    return panel
