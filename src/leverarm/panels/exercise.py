"""The exercise box: statement, a field for the answer, a reply that names the mistake, hints one at
a time.

A field is a line of text, a choice, or the board of a free body; ``field_for``
gives the one that fits a problem.  Homework uses the same fields.  Nothing needs the mouse.
Every retry has new numbers and none is the last (mastery learning, Kulik et al.).
"""

from collections.abc import Callable
from html import escape

import ipywidgets as w

from leverarm import exercises
from leverarm.exercises import Problem, SolutionLine, Verdict
from leverarm.exercises.difficulty import ORDINARY, STEP_WORDS
from leverarm.exercises.typeset import plain_letters, solution_line
from leverarm.panels.base import Panel, button, html, row, set_if_changed, show_if
from leverarm.panels.board import FreeBodyBoard
from leverarm.panels.controls import choice, dropdown, on_enter, text_box
from leverarm.panels.lesson_work import as_sentence, keep_work, kept_work
from leverarm.problem_pictures import picture_views, problem_scene
from leverarm.scene import picture

MOST_TRIES, MOST_ROUNDS = 20, 10_000


class Field:
    """Where an answer is given.

    widget      its place on the page;  text  what goes to the check
    """

    widget: w.Widget

    @property
    def text(self) -> str:
        """The answer as it is written now."""
        raise NotImplementedError

    def write(self, text: str) -> None:
        """Write an answer into the field."""
        raise NotImplementedError

    def lock(self, locked: bool) -> None:
        """Keep the user from changing it, or let them again."""
        raise NotImplementedError

    def first(self) -> w.Widget:
        """The control at which the keyboard starts."""
        return self.widget

    def on_enter(self, call: Callable[[], object]) -> None:
        """Call when Enter is pressed, where the field has such a key; else the button checks."""

    def show_verdict(self, verdict: Verdict) -> None:
        """Show in the field what the check asks about, where it can."""


class TextField(Field):
    """A number with its unit, or a formula."""

    def __init__(self, problem: Problem) -> None:
        # Sent whole when the box is left, and page.js leaves it at Enter: sent letter by letter,
        # the check could overtake the last letters.
        self.widget = self.box = text_box("")
        self.ask(problem)

    def ask(self, problem: Problem) -> None:
        """Ask for the answer to this problem, in the box that is already on the page."""
        unit = problem.unit.replace(" ", "·")
        self.box.description = f"Your answer ({unit})" if unit else "Your answer"
        self.box.value = ""
        self.lock(False)

    @property
    def text(self) -> str:
        return self.box.value

    def write(self, text: str) -> None:
        self.box.value = str(text)

    def lock(self, locked: bool) -> None:
        self.box.disabled = locked

    def on_enter(self, call: Callable[[], object]) -> None:
        on_enter(self.box, call)


class ChoiceField(Field):
    """One of the options, by its letter."""

    def __init__(self, problem: Problem) -> None:
        options = [(f"{letter}: {text}", letter) for letter, text in problem.options]
        self.widget = self.radio = choice("Your answer", options, None)
        self.radio.add_class("lv-stack")

    @property
    def text(self) -> str:
        return self.radio.value or ""

    def write(self, text: str) -> None:
        self.radio.value = text if text in [letter for _, letter in self.radio.options] else None

    def lock(self, locked: bool) -> None:
        self.radio.disabled = locked


# Of a drawing; times its width over its height.  Narrower, the sheet for a phone would be shown.
_HIGHEST = "max(31rem, calc(max(26rem, 55vh)"


class BodyField(Field):
    """A free body on the board: body, arrows, pivot and arms, by hand or from its list."""

    def __init__(self, problem: Problem) -> None:
        self.board = FreeBodyBoard(problem)
        self.widget = self.board.widget

    @property
    def text(self) -> str:
        return self.board.text

    def write(self, text: str) -> None:
        self.board.write(text)

    def lock(self, locked: bool) -> None:
        self.board.lock(locked)

    def show_verdict(self, verdict: Verdict) -> None:
        self.board.show_verdict(verdict)


def field_for(problem: Problem) -> Field:
    """The field that fits a problem."""
    if problem.style == "choice":
        return ChoiceField(problem)
    return BodyField(problem) if problem.style == "body" else TextField(problem)


def asked_html(problem: Problem) -> str:
    """Title and statement; a title that asks needs no other stop."""
    stop = "" if problem.title.endswith("?") else "."
    return f"<b>{escape(problem.title)}{stop}</b> {escape(problem.statement)}"


def statement_html(problem: Problem, panel: Panel) -> str:
    """Title, statement and drawing."""
    return f"<p>{asked_html(problem)}</p>" + drawing_html(problem, panel)


def drawing_html(problem: Problem, panel: Panel) -> str:
    """The drawing of a problem, "" where it has none; a free body is drawn by its own board.

    It is no higher than leaves the question, the box and the reply on the screen of a laptop.
    """
    scene = problem_scene(problem) if problem.style != "body" else None
    if scene is None:
        return ""
    views = picture_views(scene)
    drawn = picture(scene, key=panel.key, large=panel.large, views=views)
    ratio = views[0].width / views[0].height
    return (
        drawn if panel.large else f'<div style="max-width:{_HIGHEST} * {ratio:.3f}))">{drawn}</div>'
    )


def hints_html(problem: Problem, shown: int, step: int | None = None) -> str:
    """The first hints, as many as were asked for, at the step where an answer stops fitting."""
    return "".join(
        f'<p class="lv-say"><b>Hint {at}.</b> {escape(plain_letters(text))}</p>'
        for at, text in enumerate(problem.hints_at(step)[:shown], 1)
    )


def solution_html(problem: Problem) -> str:
    """The worked solution, each line typeset, with the principle it uses."""
    lines = "".join(
        f"<li>{solution_line(problem, line)}<br><small>{_reason(line)}</small></li>"
        for line in problem.solution
    )
    return f'<ol class="lv-lines">{lines}</ol>'


def _reason(line: SolutionLine) -> str:
    """The principle of a line and why; a definition and what follows from a line need no name."""
    why = escape(plain_letters(line.words))
    return why if line.principle == "definition" else f"{escape(line.tag)}. {why}"


class Exercise(Panel):
    """One exercise kind, as often as wanted.

    problem     the problem shown; verdict  the last Verdict, or None
    attempts    (text, Verdict) for every check that counted, this problem's only
    step        how hard its problems are: "easy", "ordinary" or "hard"
    """

    problem: Problem
    field: Field

    def __init__(self, kind: str, seed: object, step: str = ORDINARY) -> None:
        self._kind, self._seed, self._round, self.step = kind, seed, 0, step
        self._lesson = ""
        self._before: list[tuple[Problem, str]] = []
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.statement, self.reply, self.hints, self.solution = html(), html(), html(), html()
        self.place = w.VBox()
        self.check_button = button("Check", lambda: self.attempt(self._check), primary=True)
        self.hint_button = button("Hint", self.hint)
        self.solution_button = button("Show the worked solution", self.show_solution)
        self.new_button = button("New numbers", self.new)
        self._take()
        steps = self.problem.source.steps if self.problem.source else (self.step,)
        options = [(STEP_WORDS[step], step) for step in steps]
        self.steps = dropdown("Numbers", options, self.step)
        self.steps.observe(lambda change: self.set_step(change["new"]), "value")
        show_if(len(steps) > 1, self.steps)
        return [
            self.statement,
            self.place,
            row(
                self.check_button,
                self.hint_button,
                self.solution_button,
                self.new_button,
                self.steps,
            ),
            self.reply,
            self.hints,
            self.solution,
        ]

    def _take(self) -> None:
        """A fresh problem, nothing answered yet."""
        seed = f"{self._seed}/{self._round}" if self._round else self._seed
        self.problem = exercises.make(self._kind, seed, self.system, step=self.step)
        self.attempts: list[tuple[str, Verdict]] = []
        self.verdict: Verdict | None = None
        self._hints_shown, self._made_in = 0, self.system
        self.field = field_for(self.problem)
        self.field.on_enter(lambda: self.attempt(self._check))
        self.place.children = [self.field.widget]

    def follow_shared(self) -> None:
        """Other units give a problem with its own round numbers while nothing was answered."""
        if self.system != self._made_in and not self.attempts and not self.field.text:
            self._take()
        super().follow_shared()

    def answer(self, text: str) -> Verdict | None:
        """Give an answer and check it; returns the Verdict."""
        self.field.write(text)
        self.attempt(self._check)
        return self.verdict

    def _check(self) -> None:
        text = self.field.text
        self.verdict = exercises.check(self.problem, text, before=self._before)
        if self.verdict.counts:
            self.attempts.append((text, self.verdict))
        self.field.show_verdict(self.verdict)
        self.draw()
        if self._lesson and self.verdict.counts:
            told = {"seed": str(self._seed), "round": self._round, "system": self._made_in}
            told["step"] = self.step
            tries = [text for text, _ in self.attempts[-MOST_TRIES:]]
            keep_work(self._lesson, {f"tried_{self._kind}": {**told, "tries": tries}})

    def keep_in(self, lesson: str) -> None:
        """Keep every try with the lesson's work; what was tried there before is back at once."""
        self.attempt(lambda: self._fetch(lesson))
        self._lesson = lesson

    def _fetch(self, lesson: str) -> None:
        """Put the last numbers and tries back, as far as the file tells what these boxes take."""
        kept = kept_work(lesson).get(f"tried_{self._kind}")
        step = str(kept.get("step")) if isinstance(kept, dict) else ""
        match kept:
            case {"seed": str(seed), "round": int(at), "system": str(system), "tries": list(tries)}:
                if (seed, system) == (str(self._seed), self.system) and 0 <= at <= MOST_ROUNDS:
                    self._round = at
                    if step in [value for _, value in self.steps.options]:
                        self.step = self.steps.value = step
                    self._take()
                    for text in filter(None, map(as_sentence, tries[-MOST_TRIES:])):
                        self.field.write(text)
                        if self.field.text:
                            self._check()

    def set_step(self, step: str) -> None:
        """A problem of the same kind that is easier or harder; nothing answered yet."""
        if step != self.step:
            self.step = self.steps.value = step
            self._take()
            set_if_changed(self.solution, "")
            self.redraw()

    def hint(self) -> None:
        """Show one more hint."""
        self._hints_shown = min(self._hints_shown + 1, len(self.problem.hints))
        self.redraw()

    def show_solution(self) -> None:
        """Show the worked solution with these numbers."""
        set_if_changed(self.solution, solution_html(self.problem))

    def new(self) -> None:
        """The same kind with new numbers."""
        self._round += 1
        # What went wrong with these numbers says more together with the next wrong try.
        wrong = [(self.problem, text) for text, verdict in self.attempts[-1:] if not verdict.right]
        self._take()
        self._before = [one for one in wrong if one[0].system == self.problem.system]
        set_if_changed(self.solution, "")
        self.redraw()

    def draw(self) -> None:
        set_if_changed(self.statement, statement_html(self.problem, self))
        set_if_changed(self.reply, self._reply())
        shown, total = self._hints_shown, len(self.problem.hints)
        step = self.verdict.step if self.verdict is not None else None
        set_if_changed(self.hints, hints_html(self.problem, shown, step))
        self.hint_button.description = f"Hint {min(shown + 1, total)} of {total}"
        self.hint_button.disabled = shown >= total
        # The solution opens once the answer is right, or after every hint and a try.
        right = self.verdict is not None and self.verdict.right
        show_if(right or (shown >= total and self.attempts), self.solution_button)

    def _reply(self) -> str:
        if self.verdict is None:
            return ""
        mark = "✓ Right. " if self.verdict.right else "Not yet. " if self.verdict.counts else ""
        return f'<p class="lv-say lv-reply"><b>{mark}</b>{escape(self.verdict.message)}</p>'


def exercise(kind: str, seed: object = 1, step: str = ORDINARY) -> Exercise:
    """An exercise box; another seed gives other numbers, a step "easy" or "hard" other problems.

    In code: box.answer("190 kg") -> Verdict, box.hint(), box.new(), box.problem, box.attempts.
    """
    return Exercise(kind, seed, step)
