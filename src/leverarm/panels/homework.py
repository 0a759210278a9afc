"""A student's homework: the ticket once, then problem after problem; a check is kept before it is
shown.

A ticket (the marking.Ticket: code, number key, assignment) says whose numbers these are.
"""

import time
from collections.abc import Callable
from html import escape
from pathlib import Path
from tempfile import TemporaryDirectory

import ipywidgets as w

from leverarm.exercises import Problem, Verdict
from leverarm.marking import Homework, Ticket, practice_ticket, shown_code
from leverarm.marking.homework import Standing
from leverarm.panels.answers_kept import AnswersKept
from leverarm.panels.base import Panel, button, html, row, set_if_changed, show_if
from leverarm.panels.controls import dropdown
from leverarm.panels.exercise import (
    Field,
    TextField,
    field_for,
    hints_html,
    solution_html,
    statement_html,
)
from leverarm.panels.ticket_desk import TicketDesk
from leverarm.quantities import Refusal


class HomeworkPanel(Panel):
    """Homework beside a notebook.

    work        the marking.Homework being worked on, or None while there is no ticket
    name        the problem shown; number  the try shown; verdict  the Verdict on it, or None
    """

    problem: Problem
    field: Field

    def __init__(self, folder: Path | str, spare: TemporaryDirectory | None = None) -> None:
        self.folder, self._spare = Path(folder), spare
        self.work: Homework | None = None
        self.name, self.number, self._hints, self._since = "", 0, 0, 0.0
        self.verdict: Verdict | None = None
        self._note = ""  # what else there is to say of this check
        self._offering = False
        self._fresh: set[Path] = set()  # answer files written in this visit
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.tickets = TicketDesk(self.folder, self.use, self.attempt)
        self.head, self.statement, self.reply = html(), html(), html("", "lv-say")
        self.hints, self.solution = html(), html()
        self.kept = AnswersKept(spare=self._spare is not None)
        self.items = dropdown("Problem", [])
        self.items.add_class("lv-long")
        self.items.observe(self._chose, "value")
        self.place = w.VBox()
        self.check_button = self._button("Check", self.check, primary=True)
        self.hint_button = self._button("Hint", self.hint)
        self.again_button = self._button("New numbers, try again", self.again, primary=True)
        self.solution_button = self._button("Show the worked solution", self.show_solution)
        self.next_button = self._button("Next problem", self.next)
        self.leave_button = self._button("Use another ticket", self.leave)
        buttons = row(
            self.check_button,
            self.hint_button,
            self.again_button,
            self.solution_button,
            self.next_button,
        )
        top = [self.head, self.items, self.statement, self.place, buttons]
        below = [self.reply, self.hints, self.solution, self.kept.widget, self.leave_button]
        self.page = w.VBox([*top, *below])
        return [self.tickets.widget, self.page]

    def _button(
        self, text: str, action: Callable[[], object], *, primary: bool = False
    ) -> w.Button:
        return button(text, lambda: self._pressed(action), primary=primary)

    def _pressed(self, action: Callable[[], object]) -> None:
        """Do it; if its control disappears, the keyboard moves on to the next one."""
        before = self.number, self.name, self.verdict
        self.attempt(action)
        if self.work and before != (self.number, self.name, self.verdict):
            self.pass_keyboard(self._next_control())

    def _next_control(self) -> w.Widget:
        """The control that comes next: the answer, or the button after it."""
        if self.verdict is None or not self.verdict.counts:
            return self.field.first()
        return self.again_button if self.again_button.layout.display == "" else self.next_button

    # The ticket

    @property
    def _at_work(self) -> Homework:
        """The homework of the open ticket, or a Refusal."""
        if self.work is None:
            raise Refusal("ticket", "none", "an open ticket", "open your ticket first")
        return self.work

    def look(self) -> None:
        """Look for tickets and assignments beside the notebook."""
        self.tickets.look()

    def start(self, code: str, key: str) -> None:
        """Type a ticket: start("K7MP-TDC", "number key")."""
        self.use(self.tickets.type(code, key))

    def use(self, ticket: Ticket) -> None:
        """Open a ticket and go to the first problem that is not done."""
        self.work = Homework(ticket, self.folder)
        self._titles = {
            item.name: item.in_bank.title + (f" (from {item.old})" if item.old else "")
            for item in ticket.assignment.items
        }
        self.go(self._at_work.first_open().name)

    def leave(self) -> None:
        """Back to the tickets; nothing is lost."""
        self.work, self.verdict = None, None
        self.look()
        self.redraw()

    # A problem

    def go(self, item: str | int) -> None:
        """Show a problem, by its name or its place from 1: its next try, or the last if done."""
        items = self._at_work.items
        if isinstance(item, int) and 1 <= item <= len(items):
            item = items[item - 1].name
        item = str(item)
        standing = self._at_work.standing(item)
        self.name, self.number = item, self._at_work.number(item)
        done = standing.right or not standing.open
        self._show(max(self._at_work.answers(item), default=1) if done else self.number, seen=done)

    def _show(self, number: int, seen: bool = False) -> None:
        """Show a try: open for an answer, or with the answer it got."""
        self.number, self._hints, self._note = number, 0, ""
        self.problem = self._at_work.problem(self.name, number)
        self.verdict = self._at_work.verdict(self.name, number) if seen else None
        self._ask()
        if seen:
            self.field.write(self._at_work.answers(self.name)[number].typed)
        self.field.lock(seen)
        self._since = time.monotonic()
        set_if_changed(self.solution, "")
        self.redraw()

    def _ask(self) -> None:
        """A field for the answer; a box on the page is used again and keeps the keyboard."""
        field = getattr(self, "field", None)
        if isinstance(field, TextField) and self.problem.style in ("number", "symbol"):
            field.ask(self.problem)
            return
        self.field = field_for(self.problem)
        self.field.on_enter(lambda: self._pressed(self.check))
        self.place.children = [self.field.widget]

    def _chose(self, change: dict) -> None:
        if not self._offering and change["new"] is not None:
            self.attempt(lambda: self.go(change["new"]))

    def answer(self, text: str) -> Verdict | None:
        """Type an answer and check it; returns the Verdict."""
        self.field.write(text)
        self.check()
        return self.verdict

    def check(self) -> None:
        """Check what is typed; a readable answer is in the file before its verdict is shown."""
        if self.verdict is not None and self.verdict.counts:
            return
        text = self.field.text
        self.verdict = self._at_work.check(
            self.name,
            text,
            hints=self._hints,
            number=self.number,
            seconds=time.monotonic() - self._since,
        )
        self._note = ""
        if self.verdict.counts:
            self._fresh.add(self._at_work.path)
            if not self._at_work.was_first(self.name, self.number, text):
                self._note = (
                    "Another window had answered this try before. Your answer is kept too, but "
                    "the first one counts."
                )
        self.field.lock(self.verdict.counts)
        self.redraw()

    def hint(self) -> None:
        """Show one more hint, as far as the assignment goes."""
        self._hints = min(self._hints + 1, self._most_hints())
        self.redraw()

    def _most_hints(self) -> int:
        return min(len(self.problem.hints), self._at_work.ticket.assignment.hints)

    def again(self) -> None:
        """The same problem with new numbers."""
        self._show(self._at_work.refresh().number(self.name))

    def next(self) -> None:
        """The next problem that is not done."""
        names = [item.name for item in self._at_work.items]
        at = names.index(self.name)
        standings = {name: self._at_work.standing(name) for name in names}
        later = (
            name
            for name in names[at + 1 :] + names[:at]
            if standings[name].open and not standings[name].right
        )
        self.go(next(later, names[(at + 1) % len(names)]))

    def show_solution(self) -> None:
        """The worked solution with the numbers of the try that is over."""
        set_if_changed(self.solution, solution_html(self.problem))

    # Drawing

    def draw(self) -> None:
        show_if(not self.work, self.tickets.widget)
        show_if(self.work, self.page)
        if not self.work:
            return
        standings = {item.name: self._at_work.standing(item.name) for item in self._at_work.items}
        self._offer_problems(standings)
        set_if_changed(self.head, self._head(standings))
        set_if_changed(self.statement, statement_html(self.problem, self) + self._try_words())
        set_if_changed(self.reply, self._reply())
        step = self._at_work.stuck_at(self.name, self.number)
        set_if_changed(self.hints, hints_html(self.problem, self._hints, step))
        path = self._at_work.path
        self.kept.show(path, fresh=path in self._fresh)
        self._draw_buttons(standings[self.name])

    def _offer_problems(self, standings: dict[str, Standing]) -> None:
        """Each problem with how far it is, the one shown chosen."""
        self._offering = True
        try:
            self.items.options = [
                (f"{at}. {self._titles[item.name]}: {_state(standings[item.name])}", item.name)
                for at, item in enumerate(self._at_work.items, 1)
            ]
            self.items.value = self.name
        finally:
            self._offering = False

    def _head(self, standings: dict[str, Standing]) -> str:
        """Whose ticket, how far, until when."""
        ticket = self._at_work.ticket
        right = sum(one.right for one in standings.values())
        due = f" Due {escape(ticket.assignment.due)}." if ticket.assignment.due else ""
        return (
            f"<p><b>{escape(ticket.assignment.name)}</b>, code {shown_code(ticket.code)}. "
            f"{right} of {len(standings)} right.{due}</p>"
        )

    def _try_words(self) -> str:
        tries = self._at_work.ticket.assignment.tries
        of = f" of {tries}" if tries else ""
        yours = " Only you have these numbers." if self.problem.style == "number" else ""
        return f"<p><small>Try {self.number}{of}.{yours}</small></p>"

    def _reply(self) -> str:
        if self.verdict is None:
            return ""
        tried = "Not yet. " if self.verdict.counts else "Not counted as a try. "
        mark = "✓ Right. " if self.verdict.right else tried
        words = f"{escape(self.verdict.message)} {escape(self._note)}"
        return f'<p class="lv-reply"><b>{mark}</b>{words}</p>'

    def _draw_buttons(self, standing: Standing) -> None:
        over = self.verdict is not None and self.verdict.counts
        show_if(not over, self.check_button)
        show_if(not over and self._most_hints() > 0, self.hint_button)
        show_if(over and not standing.right and standing.open, self.again_button)
        show_if(over, self.solution_button)
        show_if(not self._spare, self.leave_button)
        again = "New numbers, try again" if self.problem.style == "number" else "Try again"
        self.again_button.description = self.again_button.tooltip = again
        self.next_button.button_style = "primary" if over and standing.right else ""
        most = self._most_hints()
        self.hint_button.description = f"Hint {min(self._hints + 1, most)} of {most}"
        self.hint_button.disabled = self._hints >= most


def _state(standing: Standing) -> str:
    """How far a problem is."""
    if standing.right:
        return "right"
    if not standing.open:
        return "no try left"
    if not standing.tries:
        return "to do"
    return f"{standing.tries} {'try' if standing.tries == 1 else 'tries'} so far"


def practice() -> HomeworkPanel:
    """The homework page with an invented ticket; its answers are in a folder that goes away."""
    spare = TemporaryDirectory()
    page = HomeworkPanel(spare.name, spare)
    page.use(practice_ticket())
    return page


def homework(folder: Path | str = ".") -> HomeworkPanel:
    """Homework beside this notebook.

    In code: .start(code, key) .use(ticket) .answer("190 kg") -> Verdict .hint() .again() .next()
    .go(3).
    """
    return HomeworkPanel(folder)
