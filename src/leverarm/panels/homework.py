"""A student's homework: the slip once, then problem after problem; every check is kept before it is shown."""

import time
from html import escape
from pathlib import Path
from tempfile import TemporaryDirectory

import ipywidgets as w

from leverarm import exercises
from leverarm.marking import Homework, Slip, files_beside, practice_slip, shown_code, write_slip
from leverarm.panels.base import Panel, button, html, row, set_if_changed
from leverarm.panels.controls import dropdown, offer, text_box
from leverarm.panels.exercise import field_for
from leverarm.panels.homework_files import Bring
from leverarm.panels.homework_words import PRACTICE, entry_words, head, item_words, kept
from leverarm.quantities import Refusal


class HomeworkPanel(Panel):
    """Homework beside a notebook.

    work        the marking.Homework being worked on, or None while there is no slip
    name        the item shown; number  the try shown; verdict  the Verdict on it, or None
    """

    def __init__(self, folder=".", slip=None, spare=None):
        self.folder, self.work, self.name, self.number, self._spare = (
            Path(folder),
            None,
            "",
            0,
            spare,
        )
        self.verdict, self._given, self._hints, self._since, self._quiet = None, "", 0, 0.0, False
        self.field, self._fresh = None, set()
        super().__init__()
        self.look()
        if slip is not None:
            self.attempt(lambda: self.use(slip))

    # The page

    def build(self):
        self.entry, self.page = w.VBox(self._entry()), w.VBox(self._page())
        return [self.entry, self.page]

    def _entry(self):
        self.told, self.slips, self.assignments = (
            html(),
            dropdown("Slip", []),
            dropdown("Assignment", []),
        )
        self.code, self.key_box = (
            text_box("Code", placeholder="such as K7MP-TDC"),
            text_box("Number key", placeholder="four groups of four"),
        )
        self.use_button = button(
            "Open this slip", lambda: self.attempt(self._use_chosen), primary=True
        )
        self.start_button = button("Start", lambda: self.attempt(self._start_typed), primary=True)
        self._chosen = row(self.slips, self.use_button)
        self._typed = w.VBox([self.assignments, self.code, self.key_box, self.start_button])
        self.bring = Bring(self.folder, self.attempt, self.look)
        return [
            self.told,
            self._chosen,
            self._typed,
            self.bring.widget,
            button("Look again for files", lambda: self.attempt(self.look)),
        ]

    def _page(self):
        self.head, self.statement, self.reply = html(), html(), html("", "lv-say")
        self.hints, self.worked, self.kept = html(), html(), html()
        self.items = dropdown("Problem", [])
        self.items.observe(self._chose, "value")
        self.place = w.VBox()
        self.check_button, self.again_button = (
            self._button("Check", "check", True),
            self._button("New numbers, try again", "again", True),
        )
        self.hint_button, self.way_button = (
            self._button("Hint", "hint"),
            self._button("Show the way", "show_way"),
        )
        self.next_button, self.leave_button = (
            self._button("Next problem", "next"),
            self._button("Use another slip", "leave"),
        )
        return [
            self.head,
            self.items,
            self.statement,
            self.place,
            row(
                self.check_button,
                self.hint_button,
                self.again_button,
                self.way_button,
                self.next_button,
            ),
            self.reply,
            self.hints,
            self.worked,
            self.kept,
            self.leave_button,
        ]

    def _button(self, text, name, primary=False):
        return button(text, lambda: self._pressed(getattr(self, name)), primary=primary)

    def _pressed(self, action):
        """Do it; where its control goes away with it, the keyboard goes on to the next one."""
        before = self.number, self.name, self.verdict
        self.attempt(action)
        if self.work and before != (self.number, self.name, self.verdict):
            self.pass_keyboard(self._at_hand())

    def _at_hand(self):
        """The control that comes next: the answer, or the button after it."""
        if self.verdict is None or not self.verdict.counts:
            return getattr(self.field, "body", self.field.widget)
        return self.again_button if self.again_button.layout.display == "" else self.next_button

    # The slip

    def look(self):
        """Look for slips and assignments beside the notebook."""
        self.found = files_beside(self.folder)
        offer(
            self.slips,
            [
                (f"{slip.assignment.name}, code {shown_code(slip.code)}", at)
                for at, slip in enumerate(self.found.slips)
            ],
        )
        offer(self.assignments, [(one.name, at) for at, one in enumerate(self.found.assignments)])
        self.redraw()

    def _use_chosen(self):
        self.use(self.found.slips[self.slips.value])

    def _start_typed(self):
        self.start(self.code.value, self.key_box.value)

    def start(self, code, key, assignment=None):
        """Type a slip: start("K7MP-TDC", "number key"); the slip is kept in a file, so that it is typed once."""
        name = assignment or (self.assignments.label if self.found.assignments else None)
        one = next((one for one in self.found.assignments if one.name == name), None)
        if one is None:
            raise Refusal(
                "assignment",
                name,
                "one whose file lies beside this notebook",
                "put the assignment file from your instructor there, then look again",
            )
        slip = Slip(code, key, one)
        write_slip(slip, self.folder)
        self.use(slip)

    def use(self, slip):
        """Open a slip and go to the first problem that is not done."""
        self.work = Homework(slip, self.folder)
        self._titles = {
            item.kind: exercises.kind_named(item.kind).title for item in slip.assignment.items
        }
        self.go(self.work.first_open().name)

    def leave(self):
        """Back to the slips; nothing is lost."""
        self.work, self.verdict = None, None
        self.look()

    # A problem

    def go(self, item):
        """Show an item, by its name or its place from 1; its next try, or the last one where it is done."""
        if (
            isinstance(item, int)
            and not isinstance(item, bool)
            and 1 <= item <= len(self.work.items)
        ):
            item = self.work.items[item - 1].name
        standing = self.work.standing(item)
        self.name, self.number = item, self.work.number(item)
        done = standing.right or not standing.open
        self._show(max(self.work.answers(item), default=1) if done else self.number, seen=done)

    def _show(self, number, seen=False):
        """Show a try: open for an answer, or with the answer it got."""
        self.number, self._hints, self._given = number, 0, ""
        self.problem = self.work.problem(self.name, number)
        self.verdict = self.work.verdict(self.name, number) if seen else None
        self._ask()
        if seen:
            self.field.write(self.work.answers(self.name)[number].typed)
        self.field.lock(seen)
        self._since = time.monotonic()
        set_if_changed(self.worked, "")
        self.redraw()

    def _ask(self):
        """A field for the answer; a box on the page is used again, so that the keyboard stays in it."""
        again = hasattr(self.field, "ask") and self.problem.style in ("number", "symbol")
        if again:
            self.field.ask(self.problem)
            return
        self.field = field_for(self.problem)
        self.field.on_enter(lambda: self._pressed(self.check))
        self.place.children = [self.field.widget]

    def _chose(self, change):
        if not self._quiet and change["new"] is not None:
            self.attempt(lambda: self.go(change["new"]))

    def answer(self, text):
        """Type an answer and check it; returns the Verdict."""
        self.field.write(text)
        self.check()
        return self.verdict

    def check(self):
        """Check what is typed; an answer that could be read is in the file before its verdict is shown."""
        if self.verdict is not None and self.verdict.counts:
            return
        text = self.field.text
        self.verdict = self.work.check(
            self.name,
            text,
            hints=self._hints,
            number=self.number,
            seconds=time.monotonic() - self._since,
        )
        self._given = (
            "Another window had answered this try before. Yours is kept too; the first one counts."
            if self.verdict.counts and not self.work.was_first(self.name, self.number, text)
            else ""
        )
        if self.verdict.counts:
            self._fresh.add(self.work.path)
        self.field.lock(self.verdict.counts)
        self.redraw()

    def hint(self):
        """Show one more hint, as far as the assignment goes."""
        self._hints = min(self._hints + 1, self._most_hints())
        self.redraw()

    def _most_hints(self):
        return min(len(self.problem.hints), self.work.slip.assignment.hints)

    def again(self):
        """The same problem with new numbers."""
        self._show(self.work.refresh().number(self.name))

    def next(self):
        """The next problem that is not done."""
        names = [item.name for item in self.work.items]
        at = names.index(self.name)
        later = (name for name in names[at + 1 :] + names[:at] if self._undone(name))
        self.go(next(later, names[(at + 1) % len(names)]))

    def _undone(self, name):
        standing = self.work.standing(name)
        return standing.open and not standing.right

    def show_way(self):
        """The worked way with the numbers of the try that is over."""
        lines = "".join(
            f"<li>{escape(line.text)}<br><small>{escape(line.tag)}. {escape(line.words)}</small>"
            "</li>"
            for line in self.problem.solution
        )
        set_if_changed(self.worked, f'<ol class="lv-lines">{lines}</ol>')

    # Drawing

    def draw(self):
        self.entry.layout.display = "none" if self.work else ""
        self.page.layout.display = "" if self.work else "none"
        if self.work:
            self._draw_page()
        else:
            self._draw_entry()

    def _draw_entry(self):
        found = getattr(self, "found", None)
        slips, assignments = (found.slips, found.assignments) if found else ((), ())
        self._chosen.layout.display = "" if slips else "none"
        self._typed.layout.display = "" if assignments else "none"
        notes = "".join(
            f'<p class="lv-error">{escape(note)}</p>' for note in (found.notes if found else ())
        )
        set_if_changed(self.told, entry_words(slips, assignments) + notes)

    def _draw_page(self):
        standing = {item.name: self.work.standing(item.name) for item in self.work.items}
        self._quiet = True
        try:
            self.items.options = [
                (item_words(at, self._titles[item.kind], standing[item.name]), item.name)
                for at, item in enumerate(self.work.items, 1)
            ]
            self.items.value = self.name
        finally:
            self._quiet = False
        set_if_changed(self.head, head(self.work, standing))
        set_if_changed(
            self.statement,
            f"<p><b>{escape(self.problem.title)}.</b> {escape(self.problem.statement)}</p>"
            + self._try_words(standing),
        )
        set_if_changed(self.reply, self._reply())
        shown = "".join(
            f"<p><b>Hint {at}.</b> {escape(text)}</p>"
            for at, text in enumerate(self.problem.hints[: self._hints], 1)
        )
        set_if_changed(self.hints, shown)
        set_if_changed(
            self.kept, PRACTICE if self._spare else kept(self.work, self.work.path in self._fresh)
        )
        self.leave_button.layout.display = "none" if self._spare else ""
        self._draw_buttons(standing[self.name])

    def _try_words(self, standing):
        left = self.work.slip.assignment.tries
        of = f" of {left}" if left else ""
        return f"<p><small>Try {self.number}{of}. These numbers are yours alone.</small></p>"

    def _reply(self):
        if self.verdict is None:
            return ""
        mark = (
            "✓ Right. "
            if self.verdict.right
            else "Not yet. "
            if self.verdict.counts
            else "Not counted as a try. "
        )
        return (
            f'<p class="lv-reply"><b>{mark}</b>{escape(self.verdict.message)} '
            f"{escape(self._given)}</p>"
        )

    def _draw_buttons(self, standing):
        over = self.verdict is not None and self.verdict.counts
        shown = {
            self.check_button: not over,
            self.hint_button: not over and self._most_hints() > 0,
            self.again_button: over and not standing.right and standing.open,
            self.way_button: over,
            self.next_button: True,
        }
        for one, on in shown.items():
            one.layout.display = "" if on else "none"
        self.again_button.description = self.again_button.tooltip = (
            "New numbers, try again" if self.problem.style == "number" else "Try again"
        )
        self.next_button.button_style = "primary" if over and standing.right else ""
        self.hint_button.description = (
            f"Hint {min(self._hints + 1, self._most_hints())} of {self._most_hints()}"
        )
        self.hint_button.disabled = self._hints >= self._most_hints()


def practice():
    """The homework page with an invented slip; what is answered here is kept in a folder of its own that goes away."""
    spare = TemporaryDirectory()
    return HomeworkPanel(spare.name, practice_slip(), spare)


def homework(folder=".", slip=None):
    """Homework beside this notebook.  In code: .start(code, key) .answer("190 kg") -> Verdict .hint() .again() .next() .go(3)."""
    return HomeworkPanel(folder, slip)
