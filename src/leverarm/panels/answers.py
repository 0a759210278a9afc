"""The exercise box: statement, answer, check, a reply that names the slip, hints one rung at a time, new numbers."""

from html import escape

import ipywidgets as w

from leverarm.panels.answer_fields import field_for
from leverarm.panels.base import Panel, button, html, row, set_if_changed


class Exercise(Panel):
    """One exercise kind, as often as wanted.

    problem     the problem shown; verdict  the last Verdict, or None
    attempts    (text, Verdict) for every check that counted, this problem's only
    """

    def __init__(self, kind, seed=None, system=None):
        self._kind, self._seed, self._system, self._round = kind, seed, system, 0
        self.attempts, self.verdict, self._hints_shown = [], None, 0
        super().__init__()

    def build(self):
        self.statement, self.reply, self.hints, self.worked = html(), html(), html(), html()
        self.place = w.VBox()
        self.check_button = button("Check", self._checked, primary=True)
        self.hint_button = button("Hint", self.hint)
        self.worked_button = button("Show the worked solution", self.show_solution)
        self.new_button = button("New numbers", self.new)
        self._take()
        return [
            self.statement,
            self.place,
            row(self.check_button, self.hint_button, self.worked_button, self.new_button),
            self.reply,
            self.hints,
            self.worked,
        ]

    def _make(self):
        from leverarm import exercises

        seed = 1 if self._seed is None else self._seed
        return exercises.make(
            self._kind, seed if not self._round else f"{seed}/{self._round}", self._shown_in
        )

    def _take(self):
        """A fresh problem, nothing answered yet."""
        self._shown_in = self._system or self.system
        self.problem = self._make()
        self.attempts, self.verdict, self._hints_shown = [], None, 0
        self.field = field_for(self.problem)
        self.field.on_enter(self._checked)
        self.place.children = [self.field.widget]

    def follow_shared(self):
        """Another unit system gives a problem in its own round numbers, as long as nothing was answered."""
        if (
            (self._system or self.system) != self._shown_in
            and not self.attempts
            and not self.field.text
        ):
            self._take()
        super().follow_shared()

    def answer(self, text):
        """Give an answer and check it; returns the Verdict."""
        self.field.tell(text)
        self._checked()
        return self.verdict

    def _checked(self):
        self.attempt(self._check)

    def _check(self):
        from leverarm import exercises

        text = self.field.text
        self.verdict = exercises.check(self.problem, text)
        if self.verdict.counts:
            self.attempts.append((text, self.verdict))
        self.draw()

    def hint(self):
        """Show one more hint."""
        self._hints_shown = min(self._hints_shown + 1, len(self.problem.hints))
        self.redraw()

    def show_solution(self):
        """Show the worked solution with these numbers."""
        lines = "".join(
            f"<li>{escape(line.text)}<br><small>{escape(line.tag)}. {escape(line.words)}</small>"
            "</li>"
            for line in self.problem.solution
        )
        set_if_changed(self.worked, f'<ol class="lv-lines">{lines}</ol>')

    def new(self):
        """The same kind with new numbers."""
        self._round += 1
        self._take()
        set_if_changed(self.worked, "")
        self.redraw()

    def draw(self):
        set_if_changed(
            self.statement,
            f"<p><b>{escape(self.problem.title)}.</b> {escape(self.problem.statement)}</p>",
        )
        set_if_changed(self.reply, self._reply() if self.verdict else "")
        shown, total = self._hints_shown, len(self.problem.hints)
        set_if_changed(
            self.hints,
            "".join(
                f'<p class="lv-say"><b>Hint {i}.</b> {escape(text)}</p>'
                for i, text in enumerate(self.problem.hints[:shown], 1)
            ),
        )
        self.hint_button.description = f"Hint {min(shown + 1, total)} of {total}"
        self.hint_button.disabled = shown >= total
        done = bool(self.verdict and self.verdict.right)
        # The solution opens once the answer is right, or after every hint and a try.
        self.worked_button.layout.display = (
            "" if done or (shown >= total and self.attempts) else "none"
        )

    def _reply(self):
        mark = "✓ Right. " if self.verdict.right else "Not yet. " if self.verdict.counts else ""
        return f'<p class="lv-say lv-reply"><b>{mark}</b>{escape(self.verdict.message)}</p>'


def exercise(kind, seed=None, *, system=None):
    """An exercise box.  In code: box.answer("190 kg") -> Verdict, box.hint(), box.new(), box.problem, box.attempts."""
    return Exercise(kind, seed, system)
