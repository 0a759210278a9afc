"""The reader solves for one reaction in letters; then the package's own derivation may be seen."""

from html import escape
from typing import Any

import ipywidgets as w

from leverarm import exercises
from leverarm.derivation import Derivation
from leverarm.exercises.expressions.equivalence import TooBig
from leverarm.exercises.expressions.grammar import Unreadable
from leverarm.exercises.free_body import FreeBody, FreeBodyKind, is_same_formula
from leverarm.panels.base import Panel, button, html, row, set_if_changed, show_if
from leverarm.panels.board import MOST_TYPED, body_kind
from leverarm.panels.controls import choice, on_enter, text_box
from leverarm.panels.lesson_work import keep_work, kept_work
from leverarm.panels.on_stage import Explains
from leverarm.stage.controls import entry

# Each reaction that can be solved for, and the free body that asks for it.
KINDS = {"F": "body_bucket", "R": "body_bucket_rear"}
FORCES = ("W", "T", "F", "R")
LETTERS = ("W", "T", "a", "x", "L")
PIVOTS = ("front axle", "rear axle", "midpoint")


def formula_in(typed: str) -> str:
    """A typed formula without the letter it is for: "R = T x/L" is "T x/L"."""
    return typed.rpartition("=")[2].strip()


class SolveReaction(Explains):
    """Pick a reaction and a pivot, fill in the arms, solve; then what the bucket changed.

    done        whether both formulas are right
    """

    def __init__(self, lesson: str = "") -> None:
        self._lesson, self.solved, self.done = lesson, False, False
        super().__init__()
        if lesson:
            self.attempt(self._fetch)

    @property
    def explained(self) -> bool:
        return self.done

    def build(self) -> list[w.Widget]:
        say = self._say = entry("derive").part("solve")
        self.unknown = choice(say.text("unknown"), list(KINDS), None)
        self.pivot = choice(say.text("pivot"), list(PIVOTS), None)
        self.arms = {
            letter: text_box(
                say.text("arm").format(letter=letter), placeholder=say.text("arm_hint")
            )
            for letter in FORCES
        }
        self.result = text_box("", placeholder=say.text("result_hint"))
        self.change = text_box("", placeholder=say.text("change_hint"))
        self.check_button = button(
            say.text("check"), lambda: self.attempt(self.check), primary=True
        )
        for box in (*self.arms.values(), self.result, self.change):
            on_enter(box, self.check_button.click)
        self.reply, self.below = html("", "lv-say"), html()
        self.unknown.observe(lambda _: self.redraw(), "value")
        return [
            html(f"<p>{escape(say.text('intro'))}</p>"),
            self.unknown,
            self.pivot,
            row(*self.arms.values()),
            self.result,
            self.change,
            self.check_button,
            self.reply,
            self.below,
        ]

    def draw(self) -> None:
        letter = self.unknown.value or "…"
        self.result.description = self._say.text("result").format(letter=letter)
        self.change.description = self._say.text("change").format(letter=letter)
        show_if(self.solved, self.change)
        set_if_changed(self.below, f"<p>{escape(self._say.text('below'))}</p>" if self.done else "")

    def solve(self, unknown: str, pivot: str, result: str, change: str = "", **arms: str) -> None:
        """Fill in everything from code, and check: solve("R", "front axle", "…", W="a", …)."""
        self.unknown.value, self.pivot.value = unknown, pivot
        for letter, arm in arms.items():
            self.arms[letter].value = arm
        self.result.value, self.change.value = result, change
        self.check()

    def check(self) -> None:
        """Check what is filled in, and ask about the first thing that does not hold."""
        words = self._check()
        self.redraw()
        set_if_changed(self.reply, escape(words))
        self._keep()
        self.open_what_waits()

    def _check(self) -> str:
        say, letter = self._say, self.unknown.value
        self.solved = self.done = False
        if not letter:
            return say.text("intro")
        problem = exercises.make(KINDS[letter], f"lesson {self._lesson}")
        kind = body_kind(problem)
        right = kind.right()
        arms = {name: box.value.strip()[:MOST_TYPED] for name, box in self.arms.items()}
        built = FreeBody(
            right.body,
            right.arrows,
            self.pivot.value or "",
            tuple((name, arm) for name, arm in arms.items() if arm),
        )
        verdict = kind.check(problem, built)
        if not verdict.right:
            return " ".join(filter(None, (verdict.finding, verdict.question)))
        try:
            asked = self._asked_of_result(kind, letter)
            if asked:
                return asked
            self.solved = True
            if not self.change.value.strip():
                return say.text("solved").format(letter=letter)
            change = f"({kind.reaction()}) - ({kind.reaction('W')})"
            if not is_same_formula(formula_in(self.change.value), change, LETTERS):
                return say.text("change_asked")
        except (Unreadable, TooBig) as sentence:
            return str(sentence)
        self.done = True
        return say.text("done")

    def _asked_of_result(self, kind: FreeBodyKind, letter: str) -> str:
        """The question about the formula for the reaction; nothing where it is right."""
        say, typed = self._say, formula_in(self.result.value)
        if is_same_formula(typed, kind.reaction(), LETTERS):
            return ""
        if is_same_formula(typed, f"L*{kind.reaction()}", LETTERS):
            return say.text("force_or_moment").format(letter=letter)
        other = body_kind(exercises.make(next(k for n, k in KINDS.items() if n != letter), 1))
        if is_same_formula(typed, other.reaction(), LETTERS):
            return say.text("other")
        return say.text("result_asked").format(letter=letter)

    def _boxes(self) -> dict[str, Any]:
        arms = {f"arm_{letter}": box for letter, box in self.arms.items()}
        return {"unknown": self.unknown, "pivot": self.pivot, **arms, "result": self.result,
                "change": self.change}  # fmt: skip

    def _keep(self) -> None:
        if self._lesson:
            kept = {f"solve_{name}": box.value or "" for name, box in self._boxes().items()}
            keep_work(self._lesson, kept)

    def _fetch(self) -> None:
        work = kept_work(self._lesson)
        for name, box in self._boxes().items():
            kept = work.get(f"solve_{name}")
            if isinstance(kept, str) and kept:
                if name in ("unknown", "pivot") and kept not in (
                    KINDS if name == "unknown" else PIVOTS
                ):
                    continue
                box.value = kept[:MOST_TYPED]
        if self.unknown.value:
            self.check()


def solve_reaction(lesson: str = "") -> SolveReaction:
    """Boxes to solve for one reaction in letters; what waits below opens once it is solved.

    In code: panel.solve("R", "front axle", "(T*x - W*a)/L", "-W*a/L", W="a", T="x", R="L").
    """
    return SolveReaction(lesson)


class Derived(Panel):
    """Derivations step by step: the principle, its equation, and what it gives."""

    def __init__(self, *derivations: Derivation) -> None:
        self._derivations = derivations
        super().__init__()

    def build(self) -> list[w.Widget]:
        self.steps = html()
        return [self.steps]

    def draw(self) -> None:
        from sympy import mathml

        def typeset(formula: Any) -> str:
            parts = formula if isinstance(formula, (tuple, list)) else (formula,)
            return " ".join(
                f"<math>{mathml(part, printer='presentation')}</math>" for part in parts
            )

        shown = []
        for one in self._derivations:
            lines = "".join(
                f"<li>{escape(step.principle)}. {escape(step.words)}<br>"
                f"{typeset(step.equation)} → {typeset(step.result)}</li>"
                for step in one.steps
            )
            shown.append(f'<ol class="lv-lines">{lines}</ol>')
        set_if_changed(self.steps, "".join(shown))


def derived(*derivations: Derivation) -> Derived:
    """The steps of statics.derive(), typeset: derived(statics.derive(about="rear"))."""
    return Derived(*derivations)
