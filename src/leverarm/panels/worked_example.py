"""A worked example that fades, as many stages as it has steps; each step asks for its principle.

After Renkl et al. 2002 and Atkinson, Renkl and Merrill 2003: the last step goes first.
"""

from html import escape

import ipywidgets as w

from leverarm import exercises
from leverarm.exercises.numbers import NumberKind
from leverarm.exercises.problem import Problem
from leverarm.exercises.typeset import letter, plain_letters, typeset
from leverarm.exercises.worked import (
    Known,
    WorkedStep,
    blanks_at,
    known_letters,
    reply_to_step,
    worked_steps,
)
from leverarm.panels.base import Panel, button, html, row, set_if_changed
from leverarm.panels.controls import dropdown, text_box
from leverarm.quantities import Refusal
from leverarm.scene import picture
from leverarm.scene.shapes import Scene
from leverarm.scene.sketch import (
    SketchLength,
    WeightArrow,
    lever_sketch,
    readings_sketch,
    sketch_views,
    slope_sketch,
    tire_sketch,
    wheels_sketch,
)

# Weights ahead of the front axle and their overhangs; behind the rear axle and their distances.
_AHEAD = (("W", "a"), ("W", "a_in"), ("W", "a_ft"), ("W", "a_mm"))
_PIECES = (("W1", "a1"), ("W2", "a2"), ("W3", "a3"))
_BEHIND = (("B", "b"), ("Bm", "bm"))
# What is drawn by a letter that is given: the first that fits.
_SKETCHES = (
    ("A N I K l v q Q0 Q1 z", tire_sketch, "A tire stands on its contact patch"),
    ("Cf Cr nt n1 n0 nr e e0 D turns_drive_in O", wheels_sketch, "A front and a rear wheel"),
    ("u U h2 r1", readings_sketch, "A reading as a dot with a bar to each side"),
    ("j G t y o", slope_sketch, "A machine on a slope"),
)
# Lengths where a problem gives none: the picture is then not to scale, and says so.
_USUAL = {"L": 1.65, "a": 1.1, "a1": 1.2, "a2": 0.5, "a3": 0.3, "i": 0.7, "b": 0.9, "x0": 0.8}


def example_picture(problem: Problem) -> Scene:
    """The Scene of a worked example."""
    known = known_letters(problem)
    told = [f"{plain_letters(letter)} {value}".strip() for letter, _, value in known]
    kind = problem.source
    given = kind.given if isinstance(kind, NumberKind) else tuple(letter for letter, _, _ in known)
    for letters, draw, words in _SKETCHES:
        if set(given) & set(letters.split()):
            return draw(told, f"{words}. {_in_words(known)}")
    return _lever(problem, dict(zip(given, told, strict=True)), known)


def _in_words(known: tuple[Known, ...]) -> str:
    """Every letter with what it stands for, for a reader who cannot see the picture."""
    return " ".join(
        f"{plain_letters(letter)}: {words}, {value}.".replace(", .", ".")
        for letter, words, value in known
    )


def _lever(problem: Problem, told: dict[str, str], known: tuple[Known, ...]) -> Scene:
    """A machine or a plank as a line on its two supports."""
    numbers = getattr(problem.drawn, "values", {})

    def at(letter: str) -> float:
        return float(numbers.get(letter, _USUAL.get(letter, 0.6)))

    plank = "S" in told
    span = at("S") if plank else at("L")
    forces, lengths = [], []
    for weight, arm in (*_AHEAD, *_PIECES):
        if arm in told:
            ahead = float(numbers[arm]) if arm.startswith("a_") else at(arm)
            forces.append(WeightArrow(told.get(weight, f"{plain_letters(weight)} ?"), -ahead))
            lengths.append(SketchLength(told[arm], 0.0, -ahead))
    for weight, arm in _BEHIND:
        if arm in told:
            forces.append(WeightArrow(told.get(weight, "B ?"), span + at(arm)))
            lengths.append(SketchLength(told[arm], span, span + at(arm)))
    for weight, arm in (("W", "i"), ("T", "x0"), ("J", "d")):
        if arm in told:
            forces.append(WeightArrow(told.get(weight, weight), at(arm)))
            lengths.append(SketchLength(told[arm], 0.0, at(arm)))
    if "P" in told:
        forces.append(WeightArrow(told["P"], span / 2))
    if not forces and not plank:
        forces.append(WeightArrow(told.get("W", "W ?"), -at("a")))
    whole = told.get("S") or told.get("L")
    if whole:
        lengths.append(SketchLength(whole, 0.0, span))
    names = ("left scale", "right scale") if plank else ("front axle", "rear axle")
    under = [
        "\n".join([name, *(told[one] for one in readings.split() if one in told)])
        for name, readings in zip(names, ("F0 F1", "R0 R1"), strict=True)
    ]
    supports = [(under[0], 0.0), (under[1], span)]
    desc = (
        f"A line on two supports, {names[0]} and {names[1]}, an arrow down for each weight. "
        f"{_in_words(known)}"
    )
    return lever_sketch(supports, forces, lengths, desc)


def stage_name(stage: int, count: int) -> str:
    """What is the reader's own at a stage, counted from 0, of an example of so many steps.

    >>> stage_name(0, 4), stage_name(2, 4), stage_name(3, 4)
    ('every step is shown', 'the last 2 steps are yours', 'every step is yours')
    """
    blanks = blanks_at(stage, count)
    if blanks in (0, count):
        return "every step is yours" if blanks else "every step is shown"
    return "the last step is yours" if blanks == 1 else f"the last {blanks} steps are yours"


def step_html(step: WorkedStep) -> str:
    """How a step is worked, typeset: its equation, then letters, numbers and result."""
    lines = [f"<div>{typeset(one)}</div>" for one in step.balance]
    parts = [typeset(part) for part in dict.fromkeys((step.letters, step.numbers)) if part]
    if step.result:
        result = escape(step.result).replace(" ", "\u00a0") if step.unit else escape(step.result)
        parts.append(f"<b>{result}</b>" if step.value is not None else result)
    if not step.letters and step.value is None:
        return f'<div class="lv-math">{escape(step.letter)}: {parts[-1]}</div>'
    if step.value is None:
        parts = parts[:1]
    head = typeset(step.letter)
    lines.append(f"<div>{head} = {parts[0]}</div>")
    lines += [f'<div class="lv-on">= {part}</div>' for part in parts[1:]]
    return f'<div class="lv-math">{"".join(lines)}</div>'


class FadingStep:
    """One step: what it works out, how or a box for it, and a list of principles.

    step    the WorkedStep;  blank  whether its number is the reader's own
    """

    def __init__(
        self, at: int, steps: tuple[WorkedStep, ...], known: tuple[Known, ...], blank: bool
    ) -> None:
        self.at, self.steps, self.known, self.step = at, steps, known, steps[at]
        self.blank = blank and self.step.value is not None
        self.principle = dropdown(
            f"Step {at + 1}: which principle?",
            [("choose", ""), *((words, key) for key, words in exercises.PRINCIPLES.items())],
        )
        self.box = text_box(f"Step {at + 1}: {plain_letters(self.step.letter)} =")
        self.reply = html()
        name = f"{escape(self.step.name)}, " if self.step.name else ""
        head = f"<p><b>{at + 1}.</b> {name}{typeset(self.step.letter)}</p>"
        parts: list[w.Widget] = [html(head + ("" if self.blank else step_html(self.step)))]
        asked = [self.box, self.principle] if self.blank else [self.principle]
        self.widget = w.VBox([*parts, row(*asked), self.reply])

    @property
    def typed(self) -> bool:
        """Whether anything was typed or chosen for this step."""
        return bool(self.box.value or self.principle.value)

    def check(self) -> bool:
        """True where everything asked was answered right; the reply says what was not."""
        right, words = True, ""
        if self.blank:
            right, said = reply_to_step(self.steps, self.at, self.box.value, self.known)
            words = f"<p>{'✓ ' if right else ''}{escape(said)}</p>"
            words += step_html(self.step) if right else ""
        principle, said = self._check_principle()
        set_if_changed(self.reply, f'<div class="lv-say">{words}<p>{said}</p></div>')
        return right and principle

    def _check_principle(self) -> tuple[bool, str]:
        """Whether the principle is the step's own, and what to say."""
        if self.principle.value == self.step.principle:
            tag = exercises.PRINCIPLES[self.step.principle]
            return True, f"{escape(tag)}: {escape(self.step.why)}"
        if not self.principle.value:
            return False, "Choose the principle this step uses."
        return False, (
            "Another principle. What does this step add up: forces, or moments, and about "
            "which axle? Or does it only name or convert?"
        )


class WorkedExample(Panel):
    """A worked example that fades.

    stage   counted from 0, as many as there are steps;  done  the stages finished
    problem the problem of this stage: every stage has new numbers
    """

    def __init__(self, kind: str, seed: object) -> None:
        self._kind, self._seed, self.stage = kind, seed, 0
        self.done: set[int] = set()
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.head, self.picture, self.steps, self.end = html(), html(), w.VBox(), html()
        self.check_button = button("Check these steps", self.check, primary=True)
        self.next_button = button("Next stage", self.next)
        self.back_button = button("Previous stage", self.back)
        self._take()
        buttons = row(self.check_button, self.next_button, self.back_button)
        return [self.head, self.picture, self.steps, buttons, self.end]

    @property
    def stages(self) -> int:
        """How many stages there are: one for each step."""
        return len(self.lines)

    def _take(self) -> None:
        self.problem = exercises.make(self._kind, f"{self._seed}/{self.stage}", self.system)
        self._made_in = self.system
        steps, self.known = worked_steps(self.problem), known_letters(self.problem)
        shown = len(steps) - blanks_at(self.stage, len(steps))
        self.lines = [
            FadingStep(at, steps, self.known, blank=at >= shown) for at in range(len(steps))
        ]
        self.steps.children = [line.widget for line in self.lines]

    def follow_shared(self) -> None:
        """Other units give an example with its own round numbers while nothing was typed."""
        if self.system != self._made_in and not any(line.typed for line in self.lines):
            self._take()
        super().follow_shared()

    def go(self, stage: int) -> None:
        """Show a stage, counted from 0."""
        if stage not in range(self.stages):
            allowed = f"a whole number from 0 to {self.stages - 1}"
            raise Refusal("stage", stage, allowed, f"choose one of the {self.stages}")
        self.stage = stage
        self._take()
        self.redraw()

    def next(self) -> None:
        """The next stage, with new numbers."""
        self.go(min(self.stage + 1, self.stages - 1))

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
        if self.stage == self.stages - 1:
            return "All steps are right. You have worked the whole example yourself."
        return "All steps are right. Go to the next stage, where more steps are yours."

    def draw(self) -> None:
        stage = stage_name(self.stage, self.stages)
        letters = "; ".join(
            f"{letter(name)} {escape(words)}{f', {escape(value)}' if value else ''}"
            for name, words, value in self.known
        )
        set_if_changed(
            self.head,
            f"<p><b>Worked example, stage {self.stage + 1} of {self.stages}: {stage}.</b></p>"
            f"<p>{escape(self.problem.statement)}</p>"
            + (f'<p class="lv-letters">Letters: {letters}.</p>' if letters else ""),
        )
        scene = example_picture(self.problem) if self.known else None
        set_if_changed(
            self.picture,
            picture(scene, key=self.key, large=self.large, views=sketch_views(scene))
            if scene
            else "",
        )
        set_if_changed(self.end, "")
        self.next_button.disabled = self.stage == self.stages - 1
        self.back_button.disabled = self.stage == 0


def worked_example(kind: str, seed: object = 1) -> WorkedExample:
    """A worked example that fades, one stage for each step; another seed gives other numbers.

    In code: panel.answer(2, result="190 kg", principle="rear"), panel.check(), panel.next(),
    panel.go(2).
    """
    return WorkedExample(kind, seed)
