"""A worked example that fades: full, last step blank, last two blank, all blank; each step asks for its principle."""

from html import escape

import ipywidgets as w

from leverarm.numerals import number_readings, split_unit
from leverarm.panels.base import Panel, button, html, row, set_if_changed
from leverarm.panels.controls import dropdown
from leverarm.quantities import Refusal

STAGES = ("every step shown", "last step yours", "last two steps yours", "every step yours")
NEAR = 0.005
_CHOOSE = "choose"


class FadingLine:
    """One step: its text, a list of principles to choose from, and a box where the result is left blank."""

    def __init__(self, number, line, whole, principles):
        self.line, self.whole = line, whole
        self.principle = dropdown(
            f"Step {number}: which principle?",
            [(_CHOOSE, ""), *((words, key) for key, words in principles.items())],
        )
        self.box = w.Text(
            description=f"Step {number}: {line.left} =",
            continuous_update=False,
            style={"description_width": "initial"},
        )
        self.box.add_class("lv-ask")
        self.reply = html()
        self.asks_result = line.blank and bool(number_readings(split_unit(whole.result)[0]))
        parts = [self.box, self.principle] if self.asks_result else [self.principle]
        self.widget = w.VBox(
            [html(f"<p><b>{number}.</b> {escape(line.text)}</p>"), row(*parts), self.reply]
        )

    def check(self):
        """True where everything asked was answered right; the reply says what was not."""
        said, right = [], True
        if self.asks_result:
            good, words = self._check_result()
            right, said = right and good, [*said, words]
        good = self.principle.value == self.whole.principle
        said.append(
            f"{escape(self.whole.tag)}: {escape(self.whole.words)}" if good else self._ask_again()
        )
        set_if_changed(self.reply, f'<p class="lv-say">{" ".join(said)}</p>')
        return right and good

    def _ask_again(self):
        if not self.principle.value:
            return "Choose the principle this step uses."
        return (
            "Another principle. What does this step add up: forces, or moments, and about "
            "which axle? Or does it only name or convert?"
        )

    def _check_result(self):
        """Whether the number typed is the line's own, and what to say."""
        number, unit = split_unit(self.box.value)
        told = number_readings(number)
        right_number, right_unit = split_unit(self.whole.result)
        if not told:
            return False, "Type a number for this step."
        if unit and unit != right_unit:
            return False, f"This step is worked in {escape(right_unit or 'no unit')}."
        right = number_readings(right_number)[0]
        if any(abs(value - right) <= NEAR * max(abs(right), 1e-9) for value in told):
            return True, f"✓ {escape(self.whole.text)}."
        return (
            False,
            f"Not yet: put the numbers into {escape(self.whole.left)} = "
            f"{escape(self.whole.letters or self.whole.numbers)}.",
        )


class Fading(Panel):
    """A worked example over four stages.

    stage   0 to 3; problem  the problem of this stage: every stage has new numbers; done  stages finished
    """

    def __init__(self, kind, seed=1, system=None):
        self._kind, self._seed, self._system, self.stage, self.done = kind, seed, system, 0, set()
        super().__init__()

    def build(self):
        self.head, self.steps, self.end = html(), w.VBox(), html()
        self.check_button = button("Check these steps", self.check, primary=True)
        self.next_button = button("Next stage", self.next)
        self.back_button = button("Stage before", self.back)
        self._take()
        return [
            self.head,
            self.steps,
            row(self.check_button, self.next_button, self.back_button),
            self.end,
        ]

    def _take(self):
        from leverarm import exercises

        self.problem = exercises.make(
            self._kind, f"{self._seed}/{self.stage}", self._system or self.system
        )
        whole = self.problem.solution
        faded = exercises.fade(whole, self.stage)
        self.lines = [
            FadingLine(i, line, full, exercises.PRINCIPLES)
            for i, (line, full) in enumerate(zip(faded, whole), 1)
        ]
        self.steps.children = [line.widget for line in self.lines]

    def go(self, stage):
        """Show a stage, 0 to 3."""
        if stage not in range(len(STAGES)):
            raise Refusal(
                "stage",
                stage,
                f"a whole number from 0 to {len(STAGES) - 1}",
                "choose one of the four",
            )
        self.stage = stage
        self._take()
        self.redraw()

    def next(self):
        """The next stage, with new numbers."""
        self.go(min(self.stage + 1, len(STAGES) - 1))

    def back(self):
        """The stage before."""
        self.go(max(self.stage - 1, 0))

    def answer(self, step, *, result=None, principle=None):
        """Answer one step, counted from 1, and check: answer(2, result="190 kg", principle="rear") -> bool."""
        line = self.lines[step - 1]
        if result is not None:
            line.box.value = str(result)
        if principle is not None:
            line.principle.value = principle
        return line.check()

    def check(self):
        """Check every step of this stage; True where all are right."""
        right = all([line.check() for line in self.lines])
        if right:
            self.done.add(self.stage)
        set_if_changed(self.end, '<p class="lv-say">' + self._ending(right) + "</p>")
        return right

    def _ending(self, right):
        if not right:
            return "Some steps are still open: read the note under each."
        last = self.stage == len(STAGES) - 1
        return "All steps stand. " + (
            "You have worked it alone." if last else "Take the next stage: one step more is yours."
        )

    def draw(self):
        set_if_changed(
            self.head,
            f"<p><b>Worked example, stage {self.stage + 1} of {len(STAGES)}: {STAGES[self.stage]}."
            f"</b></p><p>{escape(self.problem.statement)}</p>",
        )
        set_if_changed(self.end, "")
        self.next_button.disabled = self.stage == len(STAGES) - 1
        self.back_button.disabled = self.stage == 0


def worked_example(kind, seed=1, *, system=None):
    """A worked example that fades in four stages.  In code: .answer(step, result=, principle=), .check(), .next(), .go(2)."""
    return Fading(kind, seed, system)
