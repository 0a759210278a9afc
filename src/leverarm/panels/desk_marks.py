"""The desk's second half: mark what came back, read what the class misunderstood, put names beside
the marks.
"""

from collections.abc import Sequence
from html import escape
from pathlib import Path
from typing import Protocol

import ipywidgets as w

from leverarm.marking import ClassResult, Desk, pages, processors
from leverarm.marking.teach_page import teach_html
from leverarm.panels.base import (
    Panel,
    button,
    html,
    picture_html,
    row,
    set_if_changed,
    show_if,
)
from leverarm.panels.controls import choice, dropdown, offer, text_box
from leverarm.quantities import Refusal

CAME = [
    ("each file has its own date", "files"),
    ("everything came on one date", "date"),
    ("do not look at dates", ""),
]
SHEETS = [
    ("teach_tomorrow.html", "the first page here, on one sheet to print or to show"),
    ("marks.csv", "one row a student"),
    ("items.csv", "one row a problem"),
    ("slips.csv", "what was misunderstood"),
    ("slips_by_code.csv", "who made the slips of the first page"),
    ("unexplained.csv", "first answers without a known cause"),
    ("several_files.csv", "codes under which several files came, and what each gave"),
    ("left_out.csv", "files not marked, and why"),
    ("class.html", "marks and counts, to keep; class.svg is its picture"),
    ("hand_back", "a page for each code, to hand back"),
]


HIDDEN = "<p>Codes are hidden, so marks and files are not shown here.</p>"


class ClassFolder(Protocol):
    """What the panels of one class folder share: desk.InstructorDesk is it."""

    desk: Desk

    def assignments(self) -> list[str]:
        """The names of what was handed out."""

    def look_again(self) -> None:
        """Redraw every panel from what the folder holds now."""


def files_html(rows: Sequence[tuple[str, str]]) -> str:
    """Files and what each is for."""
    return (
        "<ul>"
        + "".join(f"<li><b>{escape(name)}</b>: {escape(use)}</li>" for name, use in rows)
        + "</ul>"
    )


def class_html(result: ClassResult, panel: Panel) -> str:
    """Marks and counts of a class, as pieces of a page: the mistakes, the picture, the problems,
    the marks, what was left out.
    """
    notes = "".join(f"<p>{escape(note)}</p>" for note in result.notes)
    scene = pages.class_picture(result)
    return (
        notes
        + pages.mistakes_html(result)
        + (pages.PICTURE + picture_html(scene, panel) if scene else "")
        + pages.items_html(result)
        + pages.marks_html(result)
        + pages.several_files_html(result)
        + pages.skipped_html(result)
    )


class MarkedClass:
    """A marked class on a panel: what to teach tomorrow first, then marks and counts.

    hide    the box that leaves the codes out, for a projector
    """

    def __init__(self, panel: Panel) -> None:
        self._panel = panel
        self.hide = w.Checkbox(value=False, description="Hide codes", indent=False)
        self.hide.observe(lambda _: panel.attempt(panel.draw), "value")
        self.teach, self.rest = html(), html()
        self.widget = w.VBox([self.hide, self.teach, self.rest])

    @property
    def text(self) -> str:
        """What it shows, as HTML."""
        return self.teach.value + self.rest.value

    def show(self, result: ClassResult | None) -> None:
        """Show a result, or nothing."""
        show_if(result is not None, self.widget)
        hidden = self.hide.value
        teach = teach_html(result, hidden=hidden) if result else ""
        set_if_changed(self.teach, teach)
        rest = HIDDEN if hidden else class_html(result, self._panel) if result else ""
        set_if_changed(self.rest, rest)


class ClassPanel(Panel):
    """A marked class to look at.

    result      the marking.ClassResult
    """

    def __init__(self, result: ClassResult) -> None:
        self.result = result
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.shown = MarkedClass(self)
        return [self.shown.widget]

    def draw(self) -> None:
        self.shown.show(self.result)


def marked(result: ClassResult) -> ClassPanel:
    """A marked class, what to teach first: marked(mark_folder(...))."""
    return ClassPanel(result)


class MarksPanel(Panel):
    """Mark what came back.

    result      the last ClassResult, or None; folder  where its sheets lie
    """

    def __init__(self, owner: ClassFolder) -> None:
        self.owner = owner
        self.result: ClassResult | None = None
        self.folder: Path | None = None
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.name = dropdown("Assignment", [])
        self.place = text_box("Folder or zip file (empty: the came_back folder)")
        self.came = choice("When it came", CAME, "files")
        self.date = text_box("That date", placeholder="such as 2031-03-14 17:00")
        self.mark_button = button("Mark", lambda: self.attempt(self.mark), primary=True)
        self.bar = w.IntProgress(
            0, 0, 1, description="Marking", style={"description_width": "initial"}
        )
        self.step, self.said, self.shown = html(), html("", "lv-say"), MarkedClass(self)
        self.bar.layout.display = "none"
        return [
            self.name,
            self.place,
            self.came,
            self.date,
            self.mark_button,
            row(self.bar, self.step),
            self.said,
            self.shown.widget,
        ]

    def mark(
        self,
        name: str | None = None,
        place: Path | str | None = None,
        received: str | None = None,
    ) -> ClassResult:
        """Mark an assignment: mark("Week 3"); returns the ClassResult, which stays in .result."""
        name = name or self.name.value
        if name is None:
            raise Refusal("assignment", name, "one that was handed out", "write one first")
        place = place or self._typed_place()
        received = self._received() if received is None else received
        self.bar.layout.display = ""
        try:
            self.result, self.folder = self.owner.desk.mark(
                name,
                place,
                received=received,
                progress=self._progress,
                processes=processors(),
            )
        finally:
            self.bar.layout.display = "none"
            set_if_changed(self.step, "")
        self.owner.look_again()
        return self.result

    def _typed_place(self) -> Path | None:
        text = self.place.value.strip().strip('"')
        return Path(text) if text else None

    def _received(self) -> str:
        if self.came.value == "date" and not self.date.value.strip():
            raise Refusal(
                "that date", "", "a date such as 2031-03-14 17:00", "type when everything came in"
            )
        return self.date.value if self.came.value == "date" else self.came.value

    def _progress(self, done: int, of: int) -> None:
        """Move the bar, a hundred times at most."""
        if done == of or not done % max(1, of // 100):
            self.bar.max, self.bar.value = max(of, 1), done
            set_if_changed(self.step, f"{done} of {of}")

    def draw(self) -> None:
        names = self.owner.assignments()
        offer(self.name, names)
        self.mark_button.disabled = not names
        set_if_changed(self.said, self._words(names))
        self.shown.show(self.result)

    def _words(self, names: Sequence[str]) -> str:
        if not names:
            return "<p>Nothing was handed out from this folder yet.</p>"
        if self.result is None or self.folder is None:
            return (
                "<p>Drag the answer files, or the one zip file, into the folder <b>came_back"
                "</b> of the assignment.</p>"
            )
        return (
            f"<p>Marked. In <b>marked/{escape(self.folder.parent.name)}/{self.folder.name}"
            f"</b>:</p>{files_html(SHEETS)}"
        )


class NamesPanel(Panel):
    """Names beside the marks, from the instructor's own list; the file stays in keep_to_yourself.

    path        the file written, or None
    """

    def __init__(self, owner: ClassFolder) -> None:
        self.owner = owner
        self.path: Path | None = None
        self._remarks: tuple[str, ...] = ()
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.name = dropdown("Assignment", [])
        self.roster = text_box("Your list of names (empty: codes.csv)")
        self.said = html("", "lv-say")
        return [
            row(self.name, self.roster),
            button("Put names beside the marks", lambda: self.attempt(self.join)),
            self.said,
        ]

    def join(self, name: str | None = None, roster: Path | str | None = None) -> Path:
        """Join names to the last mark sheet of an assignment; returns the file."""
        listed = roster or self.roster.value.strip().strip('"') or None
        if listed is not None and not Path(listed).is_file():
            raise Refusal(
                "list of names",
                str(listed),
                "a CSV file beside this notebook",
                "check the name of the file",
            )
        self.path, self._remarks = self.owner.desk.with_names(name or self.name.value, listed)
        self.redraw()
        return self.path

    def draw(self) -> None:
        names = self.owner.assignments()
        offer(self.name, names)
        remarks = "".join(f"<p>{escape(one)}</p>" for one in self._remarks)
        set_if_changed(
            self.said,
            f"<p>Written: <b>keep_to_yourself/{escape(self.path.name)}</b></p>{remarks}"
            if self.path
            else "",
        )
