"""The instructor's desk: codes for a class, what to hand out, marks for what came back, names
beside the marks.

Six panels on one class folder, each with a code twin, to be shown one after the
other.  Nothing is written before a button is pressed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm import exercises
from leverarm.exercises.difficulty import ORDINARY, STEP_WORDS
from leverarm.marking import Assignment, Desk, Ticket
from leverarm.marking.checked import shown_answer
from leverarm.marking.codes import read_code, shown_code
from leverarm.panels.base import Panel, button, grid, html, html_table, row, set_if_changed
from leverarm.panels.controls import choice, dropdown, text_box
from leverarm.panels.desk_marks import ClassFolder, MarksPanel, NamesPanel, files_html
from leverarm.panels.desk_paper import PaperPanel
from leverarm.panels.exercise import asked_html
from leverarm.quantities import Refusal


class ProgressPanel(Panel):
    """What a code got right, assignment after assignment; keep it off the projector."""

    def __init__(self, owner: ClassFolder) -> None:
        self.owner = owner
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.code = text_box("Code", placeholder="such as K7MP-TDC")
        self.show_button = button("Show this code", lambda: self.attempt(self.look))
        self.clear_button = button("Clear", lambda: self.attempt(self.clear))
        self.shown = html()
        return [row(self.code, self.show_button, self.clear_button), self.shown]

    def look(self) -> None:
        """Show the weeks of the code in the box."""
        desk, code = self.owner.desk, read_code(self.code.value)
        if code not in desk.codes:
            raise Refusal("code", shown_code(code), "a code of this class", "look at your list")
        rows = [
            (escape(name), day, *map(str, _counts(standing)))
            for name, day, standing in desk.progress.of(code)
        ]
        head = ("assignment", "handed out", "right at first", "right later", "not yet", "no answer")
        set_if_changed(
            self.shown,
            html_table(head, rows, f"Code {shown_code(code)}")
            if rows
            else "<p>Nothing was marked yet.</p>",
        )

    def clear(self) -> None:
        """Take it off the page."""
        self.code.value = ""
        set_if_changed(self.shown, "")

    def draw(self) -> None:
        pass


def _counts(standing: str) -> tuple[int, ...]:
    """Right at first, right later, not yet, no answer."""
    return tuple(standing.count(mark) for mark in "210-")


# What writes tickets as an HTML file: (tickets, path, paper).
PrintTickets = Callable[[Sequence[Ticket], Path, str], object]

UNITS = [
    ("pounds, inches, psi", "lb"),
    ("kilograms, meters, kPa", "kg"),
    ("some problems in each", ""),
]
PAPERS = [("A4", "A4"), ("US letter", "Letter")]
PAPER_OF = {"lb": "Letter", "kg": "A4"}  # what is offered with a unit system
TRIES = [("no limit", 0), ("one", 1), ("two", 2), ("three", 3), ("five", 5), ("ten", 10)]
NEAR = [("0.5 %: as exact as given", 0.5), ("1 %", 1.0), ("2 %", 2.0), ("5 %", 5.0)]
_STEPS = [(STEP_WORDS[step], step) for step in (ORDINARY, "easy", "hard")]
HINTS = [
    ("none", 0),
    ("a question", 1),
    ("a picture to draw", 2),
    ("the step", 3),
    ("the step worked out", 4),
]


class InstructorDesk:
    """The panels of one class folder.

    codes, choose, paper, marks, names, progress    the panels, in the order of the week
    desk        the marking.Desk behind them
    """

    def __init__(self, folder: Path | str, print_tickets: PrintTickets | None = None) -> None:
        self.desk = Desk(folder)
        self.codes = CodesPanel(self)
        self.choose = ChoosePanel(self, print_tickets)
        self.paper = PaperPanel(self)
        self.marks = MarksPanel(self)
        self.names = NamesPanel(self)
        self.progress = ProgressPanel(self)

    def assignments(self) -> list[str]:
        """The names of what was handed out."""
        return list(self.desk.assignments) if self.desk.started else []

    def look_again(self) -> None:
        """Redraw every panel from what the folder holds now."""
        for panel in (self.codes, self.choose, self.paper, self.marks, self.names):
            panel.redraw()


class CodesPanel(Panel):
    """A class key and a code for every student, made once."""

    def __init__(self, owner: InstructorDesk) -> None:
        self.owner = owner
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.students = text_box("How many students?", placeholder="such as 24")
        self.make_button = button(
            "Make class key and codes",
            lambda: self.attempt(lambda: self.start(_whole(self.students.value))),
            primary=True,
        )
        self.add_button = button(
            "Add codes", lambda: self.attempt(lambda: self.add(_whole(self.students.value)))
        )
        self.said = html("", "lv-say")
        return [row(self.students, self.make_button, self.add_button), self.said]

    def start(self, students: int) -> None:
        """Make the class key and so many codes."""
        self.owner.desk.start(students)
        self.owner.look_again()

    def add(self, students: int) -> None:
        """Make so many more codes; then write what to hand out once more."""
        self.owner.desk.add_codes(students)
        self.owner.look_again()

    def draw(self) -> None:
        desk = self.owner.desk
        set_if_changed(self.said, f"<p>{_codes_words(desk)}</p>")
        self.make_button.layout.display = "none" if desk.started else ""
        self.add_button.layout.display = "" if desk.started else "none"


def _codes_words(desk: Desk) -> str:
    name = escape(desk.folder.name)
    if not desk.started:
        return f"The folder <b>{name}</b> has no class key yet."
    return (
        f"The folder <b>{name}</b> has a class key and {len(desk.codes)} codes. They are in "
        "<b>keep_to_yourself</b>. Write each student's name beside a code in <b>codes.csv</b> "
        "there, or in a list of your own. Back this folder up."
    )


def _whole(text: str) -> int:
    """A typed count as a whole number, or a Refusal."""
    if not text.strip().isdecimal() or len(text.strip()) > 6:
        raise Refusal("number of students", text, "a whole number", "type how many, such as 24")
    return int(text)


class ChoosePanel(Panel):
    """Which problems, how hard, under which rules; then tickets, assignment file, paper and key.

    chosen      names of kinds, in the order of the lessons
    steps       name of a kind -> how hard it is asked, where that is not ordinary
    """

    def __init__(self, owner: InstructorDesk, print_tickets: PrintTickets | None) -> None:
        self.owner, self._print, self._kinds = owner, print_tickets, exercises.problems()
        self.chosen: tuple[str, ...] = ()
        self.steps: dict[str, str] = {}
        super().__init__()

    def build(self) -> list[w.Widget]:
        lessons = sorted({kind.lesson for kind in self._kinds})
        self.lesson = dropdown("Lesson", [(f"lesson {n:02d}", n) for n in lessons])
        self.lesson.observe(lambda _: self.attempt(self._tick_boxes), "value")
        self.boxes, self.list, self.how_hard = grid(), html(), grid()
        self.all_steps = dropdown("How hard, all of them", [("each as below", ""), *_STEPS])
        self.all_steps.observe(lambda _: self.attempt(self._all_alike), "value")
        self.look_button = button("Look at these problems", lambda: self.attempt(self.look))
        self.none_button = button("Untick all", lambda: self.attempt(self.choose))
        self.sample, self.written = html(), html("", "lv-say")
        self._rules()
        self._tick_boxes()
        self._step_boxes()
        return [
            self.lesson,
            self.boxes,
            self.list,
            self.all_steps,
            self.how_hard,
            row(self.look_button, self.none_button),
            self.sample,
            *self._rule_rows,
            self.write_button,
            self.written,
        ]

    def _rules(self) -> None:
        self.name = text_box("Name of the assignment", placeholder="such as Week 3")
        self.due = text_box(
            "Due (year-month-day, or empty)", placeholder="such as 2031-03-14 17:00"
        )
        self._offered = self.system
        self.units = choice("Units", UNITS, self._offered)
        self.tries, self.near = dropdown("Tries that count", TRIES), dropdown("Right within", NEAR)
        self.hints, self.paper = (
            dropdown("Hints go as far as", HINTS, 3),
            choice("Paper for the tickets", PAPERS, PAPER_OF[self.system]),
        )
        self.mix = w.Checkbox(value=False, description="Mix in two old problems", indent=False)
        self.mix.observe(lambda _: self.attempt(self.draw), "value")
        self.old = html()
        self.write_button = button(
            "Write what to hand out", lambda: self.attempt(self.write), primary=True
        )
        self._rule_rows = [
            grid(self.name, self.due, self.tries, self.near, self.hints),
            self.units,
            self.paper,
            self.mix,
            self.old,
        ]

    def follow_shared(self) -> None:
        """Offer the units chosen, unless others were named for this assignment."""
        if self.units.value == self._offered:
            if self.paper.value == PAPER_OF[self._offered]:
                self.paper.value = PAPER_OF[self.system]
            self._offered = self.units.value = self.system
        super().follow_shared()

    def _tick_boxes(self) -> None:
        """A box for each problem of the lesson."""
        boxes = []
        for kind in self._kinds:
            if kind.lesson == self.lesson.value:
                box = w.Checkbox(
                    value=kind.name in self.chosen, description=kind.title, indent=False
                )
                box.observe(
                    lambda change, name=kind.name: self._ticked(name, change["new"]), "value"
                )
                boxes.append(box)
        self.boxes.children = boxes

    def _ticked(self, name: str, on: bool) -> None:
        self.attempt(lambda: self._keep({*self.chosen, name} if on else {*self.chosen} - {name}))

    def _keep(self, names: Iterable[str]) -> None:
        self.chosen = tuple(kind.name for kind in self._kinds if kind.name in names)
        self.steps = {name: step for name, step in self.steps.items() if name in self.chosen}
        self.all_steps.value = ""
        self._step_boxes()
        self.draw()

    def choose(self, *names: str) -> ChoosePanel:
        """Choose kinds by name, with a step behind a colon: choose("front_gain", "factor:hard").

        None empties the list.
        """
        items = Assignment("check", names).items if names else ()
        self.steps = {item.kind: item.step for item in items if item.step != ORDINARY}
        self._keep({item.kind for item in items})
        self._tick_boxes()
        return self

    def _step_boxes(self) -> None:
        """How hard, for each chosen problem that has more than one step."""
        boxes = []
        for kind in self._kinds:
            if kind.name in self.chosen and len(kind.steps) > 1:
                box = dropdown(
                    f"How hard: {kind.title}", _STEPS, self.steps.get(kind.name, ORDINARY)
                )
                box.observe(
                    lambda change, name=kind.name: self._set_step(name, change["new"]), "value"
                )
                boxes.append(box)
        self.how_hard.children = boxes
        self.all_steps.layout.display = "" if len(boxes) > 1 else "none"

    def _set_step(self, name: str, step: str) -> None:
        self.steps = {**self.steps, name: step}
        if step == ORDINARY:
            del self.steps[name]
        self.all_steps.value = ""

    def _all_alike(self) -> None:
        """Every chosen problem at one step, where it has that step."""
        if step := self.all_steps.value:
            has = [one.name for one in self._kinds if one.name in self.chosen and step in one.steps]
            self.steps = {} if step == ORDINARY else dict.fromkeys(has, step)
            self._step_boxes()

    @property
    def asked(self) -> tuple[str, ...]:
        """The chosen kinds as an assignment lists them, each with its step behind a colon."""
        steps = self.steps
        return tuple(f"{one}:{steps[one]}" if one in steps else one for one in self.chosen)

    def look(self) -> None:
        """Show each chosen problem with the numbers of an invented student, and its answer."""
        units = self.units.value or None
        shown = [
            exercises.make(name, "look", units, step=self.steps.get(name, ORDINARY))
            for name in self.chosen
        ]
        set_if_changed(
            self.sample,
            "".join(
                f"<p>{asked_html(one)} <i>Answer: {escape(shown_answer(one))}</i></p>"
                for one in shown
            ),
        )

    def assignment(self) -> Assignment:
        """The Assignment as it stands in the boxes."""
        return Assignment(
            self.name.value,
            self.asked,
            system=self.units.value,
            tries=self.tries.value,
            tolerance=self.near.value,
            hints=self.hints.value,
            due=self.due.value,
        )

    def write(self, assignment: Assignment | None = None) -> Path:
        """Write the assignment in the boxes, or the one told; returns the folder to hand out."""
        work, desk = assignment or self.assignment(), self.owner.desk
        if self.mix.value and not assignment:
            work = desk.mixed(work)
        folder = desk.write_assignment(work)
        if self._print:
            self._print(
                desk.tickets(work), Path(folder) / f"{work.stem}_tickets.html", self.paper.value
            )
        set_if_changed(self.written, _written_words(desk, work, bool(self._print)))
        self.owner.look_again()
        return folder

    def draw(self) -> None:
        titles = {kind.name: kind.title for kind in self._kinds}
        names = "; ".join(escape(titles[name]) for name in self.chosen)
        set_if_changed(self.list, f"<p><b>{len(self.chosen)} chosen.</b> {names}</p>")
        set_if_changed(self.old, self._old_words(titles) if self.mix.value else "")

    def _old_words(self, titles: Mapping[str, str]) -> str:
        """Which old problems would be mixed in, and why these."""
        found = self.owner.desk.progress.old_problems(date.today(), self.chosen)
        if not found:
            return (
                "<p>There is nothing to mix in yet. Old problems come from assignments that were "
                "handed out 6 days ago or more and are marked.</p>"
            )
        rows = "".join(
            f"<li>{escape(titles[one.kind])}, from {escape(one.assignment)}, {one.days} days ago: "
            f"{one.first} of {one.answered} right at first</li>"
            for one in found
        )
        return f"<p>Asked again, each with new numbers:</p><ul>{rows}</ul>"


def _written_words(desk: Desk, work: Assignment, printed: bool) -> str:
    """What lies where, and who gets it."""
    tickets = (
        [(f"{work.stem}_tickets.html", "open it, print it, cut it, give each student one ticket")]
        if printed
        else []
    )
    rows = [
        (
            f"{work.stem}.assignment.txt",
            "everyone gets it, beside the homework notebook; it holds no secret",
        ),
        *tickets,
        (
            "ticket_files",
            "the same tickets as files: send each student one, and nobody types anything",
        ),
        (
            f"{work.stem}_on_paper.html",
            "for whoever works on paper: the same numbers, a sheet a code; open it and print",
        ),
    ]
    return (
        f"<p>Written for {len(desk.codes)} codes. In <b>hand_out/{escape(work.stem)}</b>:"
        f"</p>{files_html(rows)}<p>In <b>keep_to_yourself</b>: <b>{escape(work.stem)}_key.html"
        "</b>, the answers of every code.</p>"
    )


def desk(
    folder: Path | str = "my_class", print_tickets: PrintTickets | None = None
) -> InstructorDesk:
    """The instructor's desk on a class folder: .codes .choose .paper .marks .names
    .progress are panels, .desk is the marking.Desk.

    print_tickets     what writes the tickets as an HTML file: handouts.tickets.print_tickets
    """
    return InstructorDesk(folder, print_tickets)
