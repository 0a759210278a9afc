"""The instructor's desk: one folder for a class, and what is done with it, step by step.

desk = Desk("my_class")
desk.start(24)                              class key and codes, made once
desk.set_work(Assignment("Week 3", [...]))  what to hand out, and the key to keep
desk.mark("Week 3")                         what came back into the folder came_back/Week_3

my_class/keep_to_yourself/   class_key.txt, codes.csv, answer keys: never hand out anything from here
my_class/hand_out/Week_3/    the assignment file, slips, paper
my_class/came_back/Week_3/   put the files, or the one zip, of the class here
my_class/marked/Week_3/01/   mark sheets, pages to hand back; a later marking that differs gets 02
"""

from pathlib import Path

from leverarm.files import write_whole
from leverarm.marking import pages
from leverarm.marking.assignment import (
    ASSIGNMENT_END,
    MOST_BYTES,
    SLIP_END,
    Slip,
    read_assignment,
    text,
)
from leverarm.marking.codes import (
    new_class_key,
    new_codes,
    number_key,
    read_class_key,
    shown_code,
)
from leverarm.marking.mark import mark_folder
from leverarm.marking.plaintext import Unfit
from leverarm.marking.roster import joined, read_roster, remarks
from leverarm.marking.sheets import next_folder, numbered, write_sheets
from leverarm.quantities import Refusal
from leverarm.scene import svg
from leverarm.tables import csv_bytes, read_list

KEEP, OUT, BACK, MARKED = "keep_to_yourself", "hand_out", "came_back", "marked"
CANNOT = (
    "A student can pass a code and number key on: then two people have the same numbers.",
    "Somebody else can do the work. The marks say what was typed under a code, not who typed it.",
    "The answer file is plain text, and whoever has the slip can write answers into it. Marks are worked out again "
    "from the code, so a changed verdict does nothing; a typed right answer is a right answer.",
    "A student can start a second answer file. The numbers stay the same, and each file has the tries that count. "
    "The class page lists every code under which several files came, and what each file gave.",
    "Whoever has a student's slip or answer file can hand in another file under that code. It can raise the mark. "
    "It cannot lower it, because the best answer to each problem counts.",
    "Seconds and hints come from the student's machine. Do not grade them.",
    "The workbook holds the code that checks. A student who reads Python can ask it.",
)
_README = (
    "The class key and the answer keys in this folder are yours alone. Whoever has the class key can work out every "
    "student's numbers.\r\nBack this folder up: without the class key nothing that was handed out can be marked.\r\n"
)


class Desk:
    """The folder of one class."""

    def __init__(self, folder):
        self.folder = Path(folder)
        self.private = self.folder / KEEP

    # Codes and keys

    @property
    def started(self):
        """Whether this folder has a class key."""
        return self._key_file.is_file()

    @property
    def _key_file(self):
        return self.private / "class_key.txt"

    @property
    def _codes_file(self):
        return self.private / "codes.csv"

    def start(self, students):
        """Make a class key and codes for so many students; a folder that has them keeps them.  Returns the codes."""
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
        self._write_codes([("code", "name"), *((shown_code(code), "") for code in codes)])
        write_whole(self._key_file, (new_class_key() + "\n").encode())
        self._key_file.chmod(0o600)
        return codes

    def _write_codes(self, rows):
        write_whole(self._codes_file, csv_bytes(rows))

    def add_codes(self, students):
        """More codes for this class; those given out stay as they are.  Returns the new ones."""
        new = new_codes(students, self.codes)
        rows = read_list(self._codes_file.read_bytes(), "list of codes")
        self._write_codes(
            [*rows, *((shown_code(code), *("" for _ in rows[0][1:])) for code in new)]
        )
        return new

    @property
    def class_key(self):
        """The class key, from its file."""
        return read_class_key(self._private_text(self._key_file), "class key file")

    @property
    def codes(self):
        """The codes given out, in the order of the list."""
        self._private_text(self._codes_file)
        rows = read_roster(self._codes_file.read_bytes()).rows
        return list(rows)

    def _private_text(self, path):
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
    def assignments(self):
        """name -> Assignment for all that were set, in the order of their names."""
        found = [
            _assignment_in(path) for path in sorted(self.folder.glob(f"{OUT}/*/*{ASSIGNMENT_END}"))
        ]
        return {one.name: one for one in found}

    def assignment(self, name):
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

    def slips(self, assignment):
        """A Slip for every code."""
        key = self.class_key
        return [
            Slip(code, number_key(key, code, assignment.name), assignment) for code in self.codes
        ]

    def set_work(self, assignment):
        """Write what to hand out and the answer key; returns the folder to hand out from."""
        there = {one.stem.casefold(): one for one in self.assignments.values()}.get(
            assignment.stem.casefold(), assignment
        )
        if there != assignment:
            raise Refusal(
                "assignment",
                assignment.name,
                "a name that is not taken",
                "an assignment of this name was set with other problems or rules: choose another name",
            )
        out, slips = self.out(assignment), self.slips(assignment)
        for folder in (out / "slip_files", self.came_back(assignment)):
            folder.mkdir(parents=True, exist_ok=True)
        for slip in slips:
            write_whole(out / "slip_files" / (slip.stem + SLIP_END), text(slip).encode())
        write_whole(out / f"{assignment.stem}_on_paper.html", pages.paper(slips).encode())
        write_whole(self.private / f"{assignment.stem}_key.html", pages.key(slips).encode())
        write_whole(out / (assignment.stem + ASSIGNMENT_END), text(assignment).encode())
        return out

    def out(self, assignment):
        """The folder to hand out from."""
        return self.folder / OUT / assignment.stem

    def came_back(self, assignment):
        """The folder for what comes back."""
        return self.folder / BACK / assignment.stem

    def marked(self, assignment):
        """The folder of the marked assignment; numbered folders lie in it."""
        return self.folder / MARKED / assignment.stem

    # Marking

    def mark(self, name, place=None, *, received="files", progress=None):
        """Mark what came back; returns (ClassResult, the folder with the sheets and pages)."""
        assignment = self.assignment(name)
        place = Path(place) if place else self._place(assignment)
        with next_folder(self.marked(assignment)) as new:
            back = new[0] / "hand_back"
            back.mkdir()
            result = mark_folder(
                place,
                self.class_key,
                assignment=assignment,
                codes=self.codes,
                received=received,
                progress=progress,
                each=lambda student: _write_page(back, student),
            )
            write_sheets(result, new[0])
            write_whole(new[0] / "class.html", pages.class_page(result).encode())
            if scene := pages.class_picture(result):
                write_whole(new[0] / "class.svg", svg(scene, card=True).encode())
        return result, new[0]

    def _place(self, assignment):
        """The folder for what comes back; the zip in it, if there is one and nothing else."""
        folder = self.came_back(assignment)
        found = (
            [path for path in folder.iterdir() if not path.name.startswith(".")]
            if folder.is_dir()
            else []
        )
        return found[0] if len(found) == 1 and found[0].suffix.lower() == ".zip" else folder

    def with_names(self, name, roster=None):
        """Put names beside the last mark sheet; roster is a CSV file, by default codes.csv.  Returns (file, remarks)."""
        there = numbered(self.marked(self.assignment(name)))
        if not there:
            raise Refusal("assignment", name, "one that has been marked", "mark it first")
        rows = read_list((there[-1] / "marks.csv").read_bytes(), "mark sheet")
        found = read_roster(Path(roster or self._codes_file).read_bytes())
        target = self.private / f"{there[-1].parent.name}_{there[-1].name}_with_names.csv"
        write_whole(target, csv_bytes(joined(rows, found)))
        return target, remarks(rows, found)


def _assignment_in(path):
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


def _write_page(folder, student):
    """The page that goes back to one code."""
    (folder / f"{student.slip.code}.html").write_text(
        pages.feedback(student), "utf-8", newline="\n"
    )
