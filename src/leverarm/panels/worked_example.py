"""A worked example that fades over four stages; each step also asks for the principle it uses.

After Renkl et al. 2002 and Atkinson, Renkl and Merrill 2003: the last step goes first.
"""

from html import escape

import ipywidgets as w

from leverarm import exercises
from leverarm.exercises import SolutionLine
from leverarm.numerals import number_readings, split_unit
from leverarm.panels.base import Panel, button, html, row, set_if_changed
from leverarm.panels.controls import dropdown, text_box
from leverarm.quantities import Refusal

STAGES = ("every step shown", "last step yours", "last two steps yours", "every step yours")
# How near a typed result must be to the step's own, relative.
NEAR = 0.005


class FadingLine:
    """One step: its text, a list of principles, and a box where the result is left blank.

    line    the step as shown, perhaps blank;  whole  the same with its result
    """

    def __init__(self, number: int, line: SolutionLine, whole: SolutionLine) -> None:
        self.line, self.whole = line, whole
        self.principle = dropdown(
            f"Step {number}: which principle?",
            [("choose", ""), *((words, key) for key, words in exercises.PRINCIPLES.items())],
        )
        self.box = text_box(f"Step {number}: {line.left} =")
        self.reply = html()
        self.asks_result = line.blank and bool(number_readings(split_unit(whole.result)[0]))
        parts = [self.box, self.principle] if self.asks_result else [self.principle]
        self.widget = w.VBox(
            [html(f"<p><b>{number}.</b> {escape(line.text)}</p>"), row(*parts), self.reply]
        )

    @property
    def typed(self) -> bool:
        """Whether anything was typed or chosen for this step."""
        return bool(self.box.value or self.principle.value)

    def check(self) -> bool:
        """True where everything asked was answered right; the reply says what was not."""
        result, result_words = self._check_result() if self.asks_result else (True, "")
        principle, principle_words = self._check_principle()
        words = " ".join(filter(None, (result_words, principle_words)))
        set_if_changed(self.reply, f'<p class="lv-say">{words}</p>')
        return result and principle

    def _check_principle(self) -> tuple[bool, str]:
        """Whether the principle is the step's own, and what to say."""
        if self.principle.value == self.whole.principle:
            return True, f"{escape(self.whole.tag)}: {escape(self.whole.words)}"
        if not self.principle.value:
            return False, "Choose the principle this step uses."
        return False, (
            "Another principle. What does this step add up: forces, or moments, and about "
            "which axle? Or does it only name or convert?"
        )

    def _check_result(self) -> tuple[bool, str]:
        """Whether the number typed is the step's own, and what to say."""
        number, unit = split_unit(self.box.value)
        typed = number_readings(number)
        right_number, right_unit = split_unit(self.whole.result)
        if not typed:
            return False, "Type a number for this step."
        if unit and unit != right_unit:
            return False, f"This step is worked in {escape(right_unit or 'no unit')}."
        right = number_readings(right_number)[0]
        if any(abs(value - right) <= NEAR * max(abs(right), 1e-9) for value in typed):
            return True, f"✓ {escape(self.whole.text)}."
        formula = escape(self.whole.letters or self.whole.numbers)
        return False, f"Not yet: put the numbers into {escape(self.whole.left)} = {formula}."


class WorkedExample(Panel):
    """A worked example over four stages.

    stage   0 to 3;  done  the stages finished
    problem the problem of this stage: every stage has new numbers
    """

    def __init__(self, kind: str, seed: object) -> None:
        self._kind, self._seed, self.stage = kind, seed, 0
        self.done: set[int] = set()
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.head, self.steps, self.end = html(), w.VBox(), html()
        self.check_button = button("Check these steps", self.check, primary=True)
        self.next_button = button("Next stage", self.next)
        self.back_button = button("Previous stage", self.back)
        self._take()
        buttons = row(self.check_button, self.next_button, self.back_button)
        return [self.head, self.steps, buttons, self.end]

    def _take(self) -> None:
        self.problem = exercises.make(self._kind, f"{self._seed}/{self.stage}", self.system)
        self._made_in = self.system
        whole = self.problem.solution
        faded = exercises.fade(whole, self.stage)
        self.lines = [FadingLine(i, *lines) for i, lines in enumerate(zip(faded, whole), 1)]
        self.steps.children = [line.widget for line in self.lines]

    def follow_shared(self) -> None:
        """Other units give an example with its own round numbers while nothing was typed."""
        if self.system != self._made_in and not any(line.typed for line in self.lines):
            self._take()
        super().follow_shared()

    def go(self, stage: int) -> None:
        """Show a stage, 0 to 3."""
        if stage not in range(len(STAGES)):
            allowed = f"a whole number from 0 to {len(STAGES) - 1}"
            raise Refusal("stage", stage, allowed, "choose one of the four")
        self.stage = stage
        self._take()
        self.redraw()

    def next(self) -> None:
        """The next stage, with new numbers."""
        self.go(min(self.stage + 1, len(STAGES) - 1))

    def back(self) -> None:
        """The stage before."""
        self.go(max(self.stage - 1, 0))

    def answer(self, step: int, *, result: str | None = None, principle: str | None = None) -> bool:
        """Answer a step, from 1, and check: answer(2, result="190 kg", principle="rear")."""
        line = self.lines[step - 1]
        if result is not None:
            line.box.value = str(result)
        if principle is not None:
            line.principle.value = principle
        return line.check()

    def check(self) -> bool:
        """Check every step of this stage; True where all are right."""
        checks = [line.check() for line in self.lines]  # each step writes its reply
        if all(checks):
            self.done.add(self.stage)
        set_if_changed(self.end, f'<p class="lv-say">{self._ending(all(checks))}</p>')
        return all(checks)

    def _ending(self, right: bool) -> str:
        if not right:
            return "Some steps are still open: read the note under each."
        if self.stage == len(STAGES) - 1:
            return "All steps are right. You have worked the whole example yourself."
        return "All steps are right. Go to the next stage, where one more step is yours."

    def draw(self) -> None:
        set_if_changed(
            self.head,
            f"<p><b>Worked example, stage {self.stage + 1} of {len(STAGES)}: {STAGES[self.stage]}."
            f"</b></p><p>{escape(self.problem.statement)}</p>",
        )
        set_if_changed(self.end, "")
        self.next_button.disabled = self.stage == len(STAGES) - 1
        self.back_button.disabled = self.stage == 0


def worked_example(kind: str, seed: object = 1) -> WorkedExample:
    """A worked example that fades over four stages; another seed gives other numbers.

    In code: .answer(2, result="190 kg", principle="rear"), .check(), .next(), .go(2).
    """
    return WorkedExample(kind, seed)
