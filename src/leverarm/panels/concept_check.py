"""A student's concept check in the notebook: a slip once, then the questions of its form.

What is marked is kept at once in a file to hand in.  Nothing says whether it is right until the
instructor gives the opening key.
"""

from base64 import b64encode
from collections.abc import Callable
from hashlib import sha1
from html import escape
from pathlib import Path

import ipywidgets as w

from leverarm.concept_check.pictures import SHEETS, drawing
from leverarm.concept_check.questions import CheckQuestion, check_words
from leverarm.concept_check.sheet import WHEN, CheckSheet, CheckSlip, read_slip
from leverarm.marking.codes import shown_code
from leverarm.panels.base import IN_BROWSER, Panel, button, html, row, set_if_changed, show_if
from leverarm.panels.controls import choice, text_box
from leverarm.quantities import Refusal
from leverarm.scene import picture

NONE = ""


class CheckPanel(Panel):
    """The concept check beside a notebook.

    sheet       the concept_check CheckSheet being filled in, or None while there is no slip
    number      the question shown, from 1
    """

    def __init__(self, folder: Path | str) -> None:
        self.folder = Path(folder)
        self.sheet: CheckSheet | None = None
        self.number = 1
        self._asked: tuple[int, str, str] | None = None
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.code = text_box("Code", placeholder="such as K7MP-TDC")
        self.key_box = text_box("Number key", placeholder="four groups of four")
        start = button(
            "Open this sheet",
            lambda: self.attempt(lambda: self.start(self.code.value, self.key_box.value)),
            primary=True,
        )
        self.slip = w.VBox([row(self.code, self.key_box), start])
        self.head, self.asked, self.saved = html(), html(), html("", "lv-say")
        self.place = w.VBox()
        self.back_button = self._button("Question before", lambda: self.go(self.number - 1))
        self.next_button = self._button("Next question", lambda: self.go(self.number + 1))
        self.next_button.button_style = "primary"
        self.open_box = text_box("Opening key", placeholder="when your instructor gives it")
        self.open_button = button(
            "Show the answers", lambda: self.attempt(lambda: self.open(self.open_box.value))
        )
        self.opening = row(self.open_box, self.open_button)
        self.shown = html()
        self.leave_button = button("Use another slip", lambda: self.attempt(self.leave))
        self.page = w.VBox(
            [
                self.head,
                self.asked,
                self.place,
                row(self.back_button, self.next_button),
                self.saved,
                self.opening,
                self.shown,
                self.leave_button,
            ]
        )
        return [self.slip, self.page]

    def _button(self, text: str, action: Callable[[], object]) -> w.Button:
        return button(text, lambda: self.attempt(action))

    # The slip

    def start(self, code: str, key: str) -> None:
        """Type a slip: start("K7MP-TDC", "number key"); the key tells round and form."""
        self.use(read_slip(code, key))

    def use(self, slip: CheckSlip) -> None:
        """Open the sheet of a slip at the first question without a mark."""
        self.sheet = CheckSheet(slip, self.folder)
        blank = [one.number for one in self._questions if one.number not in self.sheet.marked]
        self.go(blank[0] if blank else 1)

    def leave(self) -> None:
        """Back to the slip; nothing is lost."""
        self.sheet, self._asked = None, None
        self.redraw()

    @property
    def _at_work(self) -> CheckSheet:
        if self.sheet is None:
            raise Refusal("slip", "none", "an open sheet", "type code and number key first")
        return self.sheet

    @property
    def _questions(self) -> tuple[CheckQuestion, ...]:
        return self._at_work.questions(self.system)

    # A question

    def go(self, number: int) -> None:
        """Show a question by its number."""
        self.number = min(max(1, number), len(self._questions))
        self.redraw()

    def mark(self, letter: str, number: int | None = None) -> None:
        """Mark a letter of the question shown, or of another: mark("C"), mark("C", 3)."""
        self._at_work.mark(number or self.number, letter)
        self._asked = None
        self.redraw()

    def open(self, key: str) -> None:
        """Show the answers, with the opening key that the instructor gave."""
        self._at_work.open(key)
        self._asked = None
        self.redraw()

    # Drawing

    def draw(self) -> None:
        show_if(not self.sheet, self.slip)
        show_if(self.sheet, self.page)
        if self.sheet is None:
            return
        question = self._questions[self.number - 1]
        set_if_changed(self.head, self._head(self.sheet))
        set_if_changed(
            self.asked,
            f"<h3>{question.form}{question.number}</h3><p>{escape(question.text)}</p>"
            + picture(drawing(question), key=self.key, large=self.large, views=SHEETS),
        )
        self._ask(question, self.sheet)
        self.back_button.disabled = self.number == 1
        self.next_button.disabled = self.number == len(self._questions)
        show_if(not self.sheet.opened, self.opening)
        set_if_changed(self.saved, self._saved(self.sheet))
        set_if_changed(self.shown, self._answer(question) if self.sheet.opened else "")

    def _ask(self, question: CheckQuestion, sheet: CheckSheet) -> None:
        """The options of a question; made anew for another question, since none may be chosen."""
        asked = (question.number, question.form, self.system)
        if self._asked == asked:
            return
        self._asked = asked
        options: list[tuple[str, str | None]] = [
            (f"{letter}: {option.text}", letter)
            for letter, option in zip(question.letters, question.options)
        ]
        self.options = choice("Your answer", options, sheet.marked.get(question.number))
        self.options.disabled = sheet.opened
        self.options.observe(self._marked, "value")
        self.place.children = [self.options]

    def _marked(self, change: dict) -> None:
        if change["new"] is not None:
            self.attempt(lambda: self._keep(change["new"]))

    def _keep(self, letter: str) -> None:
        self._at_work.mark(self.number, letter)
        self.draw()

    def _head(self, sheet: CheckSheet) -> str:
        slip, words = sheet.slip, check_words()
        return (
            f"<p><b>{escape(words.title)}</b>, form {slip.form}, {WHEN[slip.round]}, code "
            f"{shown_code(slip.code)}. About {escape(words.minutes)} minutes. "
            f"{len(sheet.marked)} of {len(self._questions)} marked.</p>"
            f"<p><i>{escape(words.rules)}</i></p>"
        )

    def _saved(self, sheet: CheckSheet) -> str:
        """Where the marks are, and a copy to take along."""
        if not sheet.path.is_file():
            return "<p>Your first mark starts your file. Nothing is graded or shown here.</p>"
        data, name = sheet.path.read_bytes(), escape(sheet.path.name)
        blank = len(self._questions) - len(sheet.marked)
        left = f" {blank} still blank." if blank else " All are marked."
        link = (
            f'<a style="text-decoration:underline" download="{name}" '
            f'href="data:text/plain;base64,{b64encode(data).decode()}">Save a copy</a>'
        )
        where, kind = "is kept", ""
        if IN_BROWSER:  # the page asks before it closes on a file that no download had
            where = "is in this tab only, until you save a copy"
            stamp = sha1(data).hexdigest()[:12]
            kind = f' class="lv-answers" data-file="{name}" data-stamp="{stamp}"'
        hand_in = f"<b>{name}</b> is the file to hand in. {link}"
        return f"<p{kind}>What you marked {where}.{left} {hand_in}</p>"

    def _answer(self, question: CheckQuestion) -> str:
        """The right letter and its reason, and what the letter marked says."""
        marked = self._at_work.marked.get(question.number, NONE)
        right = question.option(question.key)
        own = (
            f"<p>You marked {marked}. {escape(question.option(marked).thought)}</p>"
            if marked and marked != question.key
            else f"<p>You marked {marked or 'nothing'}.</p>"
        )
        return f"{own}<p><b>{question.key}: {escape(right.text)}</b> {escape(right.thought)}</p>"


def concept_check(folder: Path | str = ".") -> CheckPanel:
    """The concept check beside this notebook.

    In code: .start(code, key) .mark("C") .go(3) .open(opening_key).
    """
    return CheckPanel(folder)
