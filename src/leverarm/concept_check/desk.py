"""The concept check of one class, in the folder of the instructor's desk.

check = CheckDesk(Desk("my_class"))
check.write("by turns")         slips, both forms on paper, a list for paper answers; the key apart
check.read()                    (CheckResult, folder) of what came back into came_back/Concept_check

my_class/hand_out/Concept_check/            forms and slips
my_class/keep_to_yourself/                  concept_check_key.html, concept_check_forms.csv
my_class/came_back/Concept_check/           files of both rounds, and paper_answers.csv
my_class/marked/Concept_check/01/           the report and its sheets
"""

from pathlib import Path
from random import Random

from leverarm.concept_check.paper import check_key_page, form_page, slips_page
from leverarm.concept_check.paper_answers import paper_list
from leverarm.concept_check.questions import FORMS
from leverarm.concept_check.report import write_report
from leverarm.concept_check.results import CheckResult, due_form, read_class
from leverarm.concept_check.sheet import (
    ROUNDS,
    WHEN,
    CheckSheet,
    CheckSlip,
    check_slip,
    opening_key,
)
from leverarm.concept_check.simulated import Imagined, imagined_class, letters
from leverarm.files import write_whole
from leverarm.marking.codes import shown_code
from leverarm.marking.desk import BACK, KEEP, MARKED, OUT, Desk, numbered_folder
from leverarm.marking.roster import read_roster
from leverarm.quantities import Refusal
from leverarm.tables import csv_bytes

NAME = "Concept_check"
BY_TURNS, A_FIRST = "by turns", "A first"


class CheckDesk:
    """The concept check of the class in a Desk's folder."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    @property
    def _forms_file(self) -> Path:
        return self.desk.folder / KEEP / "concept_check_forms.csv"

    @property
    def came_back(self) -> Path:
        """The folder for what comes back, of both rounds."""
        return self.desk.folder / BACK / NAME

    @property
    def written(self) -> bool:
        """Whether forms were dealt to this class."""
        return self._forms_file.is_file()

    @property
    def opening_key(self) -> str:
        """What opens the answers in the students' notebooks."""
        return opening_key(self.desk.class_key)

    def first_forms(self, deal: str = BY_TURNS) -> dict[str, str]:
        """code -> the form of the first round; what was dealt once stays, new codes come after."""
        if deal not in (BY_TURNS, A_FIRST):
            raise Refusal("deal", deal, f"{BY_TURNS} or {A_FIRST}", "choose one of them")
        dealt: dict[str, str] = {}
        if self.written:
            rows = read_roster(self._forms_file.read_bytes()).rows
            dealt = {code: cells[0] for code, cells in rows.items() if cells[:1] != ()}
        codes = self.desk.codes
        for at, code in enumerate(codes):
            turn = FORMS[at % 2] if deal == BY_TURNS else FORMS[0]
            if dealt.get(code) not in FORMS:
                dealt[code] = turn
        return {code: dealt[code] for code in codes}

    def slips(self, round_: int, deal: str = BY_TURNS) -> list[CheckSlip]:
        """A slip for every code: in the second round everybody gets the other form."""
        key = self.desk.class_key
        return [
            check_slip(key, code, round_, due_form(first, round_))
            for code, first in self.first_forms(deal).items()
        ]

    def write(self, deal: str = BY_TURNS, system: str | None = None) -> Path:
        """Write what to hand out, and the key apart; returns the folder to hand out from."""
        forms, out = self.first_forms(deal), self.desk.folder / OUT / NAME
        rounds = {round_: self.slips(round_, deal) for round_ in ROUNDS}
        for folder in (out, self.came_back):
            folder.mkdir(parents=True, exist_ok=True)
        write_whole(
            self._forms_file,
            csv_bytes(
                [("code", "first form"), *((shown_code(code), one) for code, one in forms.items())]
            ),
        )
        for name in FORMS:
            write_whole(out / f"form_{name}_on_paper.html", form_page(name, system).encode())
        for round_, slips in rounds.items():
            page = slips_page(slips, f"Slips for round {round_}, {WHEN[round_]}")
            write_whole(out / f"slips_round_{round_}.html", page.encode())
        write_whole(
            self.desk.folder / KEEP / "concept_check_key.html", check_key_page(system).encode()
        )
        listed = self.came_back / "paper_answers.csv"
        if not listed.exists():  # what was typed in is never written over
            write_whole(listed, paper_list([*rounds[1], *rounds[2]]))
        return out

    def read(self, place: Path | str | None = None) -> tuple[CheckResult, Path]:
        """Both rounds as far as they came back, and the folder with the report."""
        if not (place or self.written or self.came_back.is_dir()):
            raise Refusal(
                "concept check", None, "one that was handed out", "write forms and slips first"
            )
        place = Path(place) if place else self.came_back
        dealt = self.first_forms() if self.written else None
        result = read_class(place, self.desk.class_key, self.desk.codes, dealt)
        with numbered_folder(self.desk.folder / MARKED / NAME) as new:
            write_report(result, new[0])
        return result, new[0]


def imagined_check(folder: Path | str, students: int = 24) -> CheckDesk:
    """An invented class with both rounds, drawn by chance, to look at.

    Two students missed the second round, and one file is of something else.
    """
    check = CheckDesk(Desk(folder))
    if check.written:  # made before: the same class again
        return check
    check.desk.start(students)
    check.write()
    draw = Random("imagined check")
    pupils = imagined_class(draw, students, Imagined(0.4, 0.4))
    for round_ in ROUNDS:
        for at, (slip, one) in enumerate(zip(check.slips(round_), pupils)):
            if round_ == 2 and at in (3, 10):
                continue
            sheet = CheckSheet(slip, check.came_back)
            sheet.fill(letters(draw, slip.form, one.before if round_ == 1 else one.after))
    write_whole(check.came_back / "holiday.txt", b"not an answer file\n")
    return check
