"""The instructor's desk: one folder for a class, and what is done with it, step by step.

desk = Desk("my_class")
desk.start(24)                              class key and codes, made once
desk.write_assignment(Assignment("Week 3", [...]))  what to hand out, and the key to keep
desk.mark("Week 3")                         what came back into the folder came_back/Week_3

my_class/keep_to_yourself/   class_key.txt, codes.csv, answer keys: never hand these out
my_class/hand_out/Week_3/    the assignment file, tickets, paper
my_class/came_back/Week_3/   put the files, or the one zip, of the class here
my_class/marked/Week_3/01/   mark sheets, pages to hand back; a later marking that differs gets 02
"""

import filecmp
import os
import re
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from datetime import date
from functools import partial
from pathlib import Path

from leverarm.files import abandoned_files, write_whole
from leverarm.marking import pages
from leverarm.marking.assignment import (
    ASSIGNMENT_END,
    MOST_BYTES,
    TICKET_END,
    Assignment,
    Ticket,
    Unfit,
    file_text,
    read_assignment,
)
from leverarm.marking.codes import (
    new_class_key,
    new_codes,
    number_key,
    read_class_key,
    shown_code,
)
from leverarm.marking.mark import mark_folder
from leverarm.marking.paper_answers import END as PAPER_END
from leverarm.marking.paper_answers import PaperList
from leverarm.marking.progress import ProgressFile, with_old
from leverarm.marking.results import ClassResult, write_sheets
from leverarm.marking.roster import joined, read_roster, remarks
from leverarm.marking.student import Student
from leverarm.marking.teach_page import teach_page
from leverarm.quantities import Refusal
from leverarm.scene import svg
from leverarm.tables import csv_bytes, read_list

KEEP, OUT, BACK, MARKED = "keep_to_yourself", "hand_out", "came_back", "marked"
_NUMBERED = re.compile(r"[0-9]{2,4}")
CANNOT = (
    "A student can pass a code and number key on: then two people have the same numbers.",
    "Somebody else can do the work. The marks say what was typed under a code, not who typed it.",
    "The answer file is plain text, and whoever has the ticket can write answers into it. "
    "Marks are worked out again from the code, so a changed verdict does nothing; "
    "a typed right answer is a right answer.",
    "A student can start a second answer file. The numbers stay the same, and each file has the "
    "tries that count. The class page lists every code under which several files came, "
    "and what each file gave.",
    "Whoever has a student's ticket or answer file can hand in another file under that code. "
    "It can raise the mark. It cannot lower it, because the best answer to each problem counts.",
    "Seconds and hints come from the student's computer. Do not grade them.",
    "The workbook holds the code that checks. A student who reads Python can ask it.",
)
_README = (
    "The class key and the answer keys in this folder are yours alone. "
    "Whoever has the class key can work out every student's numbers.\r\n"
    "Back this folder up: without the class key nothing that was handed out can be marked.\r\n"
)


class Desk:
    """The folder of one class."""

    def __init__(self, folder: Path | str) -> None:
        self.folder = Path(folder)
        self.private = self.folder / KEEP

    # Codes and keys

    @property
    def started(self) -> bool:
        """Whether this folder has a class key."""
        return self._key_file.is_file()

    @property
    def _key_file(self) -> Path:
        return self.private / "class_key.txt"

    @property
    def _codes_file(self) -> Path:
        return self.private / "codes.csv"

    def start(self, students: int) -> None:
        """Make a class key and codes for so many students; a folder that has them keeps them."""
        if self.started:
            raise Refusal(
                "class folder",
                self.folder.name,
                "a folder without a class key",
                "this class has its codes already: use them, add codes, or name a new folder",
            )
        codes = new_codes(students)
        self.private.mkdir(parents=True, exist_ok=True)
        write_whole(self.private / "READ_ME.txt", _README.encode())
        self._write_codes([["code", "name"], *([shown_code(code), ""] for code in codes)])
        write_whole(self._key_file, (new_class_key() + "\n").encode())
        self._key_file.chmod(0o600)

    def _write_codes(self, rows: list[list[str]]) -> None:
        write_whole(self._codes_file, csv_bytes(rows))

    def add_codes(self, students: int) -> None:
        """More codes for this class; those given out stay as they are."""
        new = new_codes(students, self.codes)
        rows = read_list(self._codes_file.read_bytes(), "list of codes")
        others = [""] * (len(rows[0]) - 1)
        self._write_codes([*rows, *([shown_code(code), *others] for code in new)])

    @property
    def class_key(self) -> str:
        """The class key, from its file."""
        return read_class_key(self._private_text(self._key_file), "class key file")

    @property
    def codes(self) -> list[str]:
        """The codes given out, in the order of the list."""
        self._private_text(self._codes_file)
        return list(read_roster(self._codes_file.read_bytes()).rows)

    def _private_text(self, path: Path) -> str:
        if not path.is_file():
            raise Refusal(
                "class folder",
                self.folder.name,
                f"a folder with {KEEP}/{path.name}",
                "start the class first, or name the folder that has it",
            )
        return path.read_text("utf-8", "replace").strip()

    # Assignments

    @property
    def assignments(self) -> dict[str, Assignment]:
        """name -> Assignment for all that were set, in the order of their names."""
        found = [
            _assignment_in(path) for path in sorted(self.folder.glob(f"{OUT}/*/*{ASSIGNMENT_END}"))
        ]
        return {one.name: one for one in found}

    def assignment(self, name: str) -> Assignment:
        """The assignment of a name, or a Refusal."""
        found = next(
            (
                one
                for one in self.assignments.values()
                if one.name.casefold() == str(name).casefold()
            ),
            None,
        )
        if found is None:
            raise Refusal(
                "assignment",
                name,
                ", ".join(self.assignments) or "one that was set",
                "set it first, or check its name",
            )
        return found

    def tickets(self, assignment: Assignment) -> list[Ticket]:
        """A Ticket for every code."""
        key = self.class_key
        return [
            Ticket(code, number_key(key, code, assignment.name), assignment) for code in self.codes
        ]

    def write_assignment(self, assignment: Assignment, on: date | None = None) -> Path:
        """Write what to hand out and the answer key; returns the folder to hand out from.

        on      the day it is handed out; today if none is named
        """
        there = {one.stem.casefold(): one for one in self.assignments.values()}.get(
            assignment.stem.casefold(), assignment
        )
        if there != assignment:
            raise Refusal(
                "assignment",
                assignment.name,
                "a name that is not taken",
                "an assignment of this name was set with other problems or rules: "
                "choose another name",
            )
        out, tickets = self.hand_out_folder(assignment), self.tickets(assignment)
        for folder in (out / "ticket_files", self.came_back_folder(assignment)):
            folder.mkdir(parents=True, exist_ok=True)
        for ticket in tickets:
            write_whole(
                out / "ticket_files" / (ticket.stem + TICKET_END), file_text(ticket).encode()
            )
        write_whole(out / f"{assignment.stem}_on_paper.html", pages.paper(tickets).encode())
        write_whole(self.private / f"{assignment.stem}_key.html", pages.key_page(tickets).encode())
        write_whole(out / (assignment.stem + ASSIGNMENT_END), file_text(assignment).encode())
        self.progress.note_set(assignment, on or date.today())
        return out

    def mixed(self, assignment: Assignment, on: date | None = None) -> Assignment:
        """The assignment with two old problems; one that was handed out keeps those it has."""
        there = self.assignments.get(assignment.name)
        if there and any(item.old for item in there.items):
            return there
        kinds = [item.kind for item in assignment.items]
        return with_old(assignment, self.progress.old_problems(on or date.today(), kinds))

    @property
    def progress(self) -> ProgressFile:
        """What every code got right over the weeks; for the instructor alone."""
        return ProgressFile(self.private / "progress.json")

    def hand_out_folder(self, assignment: Assignment) -> Path:
        """The folder to hand out from."""
        return self.folder / OUT / assignment.stem

    def came_back_folder(self, assignment: Assignment) -> Path:
        """The folder for what comes back."""
        return self.folder / BACK / assignment.stem

    def marked_folder(self, assignment: Assignment) -> Path:
        """The folder of the marked assignment; numbered folders lie in it."""
        return self.folder / MARKED / assignment.stem

    def paper_list(self, assignment: Assignment) -> PaperList:
        """The answers on paper that were typed in for an assignment."""
        path = self.private / f"{assignment.stem}{PAPER_END}"
        return PaperList(path, assignment, self.codes)

    # Marking

    def mark(
        self,
        name: str,
        place: Path | str | None = None,
        *,
        received: str | Mapping[str, str] = "files",
        progress: Callable[[int, int], object] = lambda done, of: None,
        processes: int = 1,
    ) -> tuple[ClassResult, Path]:
        """Mark what came back; returns (ClassResult, the folder with the sheets and pages)."""
        assignment = self.assignment(name)
        place = Path(place) if place else self._place(assignment)
        with numbered_folder(self.marked_folder(assignment)) as new:
            back = new[0] / "hand_back"
            back.mkdir()
            result = mark_folder(
                place,
                self.class_key,
                assignment=assignment,
                codes=self.codes,
                received=received,
                elsewhere=self.folder / BACK,
                paper=self.paper_list(assignment),
                progress=progress,
                each=partial(_write_page, back),
                processes=processes,
            )
            write_sheets(result, new[0])
            write_whole(new[0] / "teach_tomorrow.html", teach_page(result).encode())
            write_whole(new[0] / "class.html", pages.class_page(result).encode())
            if scene := pages.class_picture(result):
                write_whole(new[0] / "class.svg", svg(scene, card=True).encode())
        standings = {mark.code: mark.standing for mark in result.marks if mark.standing}
        self.progress.note_marked(assignment, standings, date.today())
        return result, new[0]

    def _place(self, assignment: Assignment) -> Path:
        """The folder for what comes back, made again where it was lost."""
        folder = self.came_back_folder(assignment)
        folder.mkdir(parents=True, exist_ok=True)
        return folder

    def with_names(
        self, name: str, roster: Path | str | None = None
    ) -> tuple[Path, tuple[str, ...]]:
        """Put names beside the last mark sheet; returns (file, remarks).

        roster  the instructor's own CSV file; codes.csv if none is given
        """
        there = numbered(self.marked_folder(self.assignment(name)))
        if not there:
            raise Refusal("assignment", name, "one that has been marked", "mark it first")
        rows = read_list((there[-1] / "marks.csv").read_bytes(), "mark sheet")
        found = read_roster(Path(roster or self._codes_file).read_bytes())
        target = self.private / f"{there[-1].parent.name}_{there[-1].name}_with_names.csv"
        write_whole(target, csv_bytes(joined(rows, found)))
        return target, remarks(rows, found)


def _assignment_in(path: Path) -> Assignment:
    """The assignment in a file of this folder, or a Refusal that names the file."""
    try:
        with open(path, "rb") as file:
            return read_assignment(file.read(MOST_BYTES + 1))
    except Unfit as why:
        raise Refusal(
            "assignment file",
            path.name,
            "a file as it was written",
            f"{why}; put a copy of the file that was handed out there",
        ) from why


def _write_page(folder: Path, student: Student) -> None:
    """The page that goes back to one code."""
    (folder / f"{student.ticket.code}.html").write_text(
        pages.feedback(student), "utf-8", newline="\n"
    )


# Numbered folders --------------------------------------------------------------------------


def numbered(parent: Path) -> list[Path]:
    """The numbered folders below a folder, in order."""
    found = (
        [path for path in parent.iterdir() if path.is_dir() and _NUMBERED.fullmatch(path.name)]
        if parent.is_dir()
        else []
    )
    return sorted(found, key=lambda path: int(path.name))


@contextmanager
def numbered_folder(parent: Path) -> Iterator[list[Path]]:
    """A new folder that gets the next number when done, or goes where the last one holds the same.

    The value is a list whose first entry is the folder to write into, and, after the
    block, the folder where it all stands.
    """
    parent.mkdir(parents=True, exist_ok=True)
    _sweep(parent)
    place = [Path(tempfile.mkdtemp(prefix=".new-", dir=parent))]
    try:
        yield place
        place[0] = _settled(place[0], parent)
    except BaseException:
        shutil.rmtree(place[0], ignore_errors=True)
        raise


def _sweep(parent: Path) -> None:
    """Remove folders that a killed marking left half-written long ago."""
    with suppress(OSError):
        for entry in abandoned_files(parent):
            if entry.is_dir(follow_symlinks=False):
                shutil.rmtree(entry.path, ignore_errors=True)


def _settled(new: Path, parent: Path) -> Path:
    there = numbered(parent)
    if there and _same(new, there[-1]):
        shutil.rmtree(new)
        return there[-1]
    number = int(there[-1].name) + 1 if there else 1
    target = parent / f"{number:02d}"
    os.chmod(new, 0o755)
    os.rename(new, target)
    return target


def _same(one: Path, other: Path) -> bool:
    """Whether two folders hold the same files with the same bytes."""
    names = [
        sorted(path.relative_to(top).as_posix() for path in top.rglob("*") if path.is_file())
        for top in (one, other)
    ]
    return names[0] == names[1] and not any(
        filecmp.cmpfiles(one, other, names[0], shallow=False)[1:]
    )
