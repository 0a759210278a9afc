"""Lesson 03: say what another pivot does to the answer, draw the free body, and see why."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from leverarm import exercises
from leverarm.exercises import Verdict
from leverarm.exercises.free_body import read_free_body
from leverarm.machine import Attachment, Tractor, demo_loader, demo_tractor
from leverarm.panels.board import arms_in, board_of, board_with, body_kind, built_on, ring_round
from leverarm.panels.lesson_work import as_sentence, keep_work, kept_work
from leverarm.panels.said_first import SaidFirst
from leverarm.quantities import Refusal
from leverarm.stage.board import Board
from leverarm.stage.board_case import BoardCase
from leverarm.stage.case import EXPLAINED, WEIGHED
from leverarm.stage.controls import entry, push_button
from leverarm.stage.derive import PivotGuess, PivotTurned
from leverarm.stage.derive_case import SAID, PivotCase
from leverarm.stage.elements import Element
from leverarm.stage.recording import Draw, Input

KIND = "body_bucket"


class PivotStage(SaidFirst):
    """Three acts: the question, the board of the free body, and both pivots side by side.

    solved      whether the free body was right, or shown after every hint and a try
    verdict     the last Verdict on the drawing, or None
    """

    acts = PivotGuess, PivotTurned
    asked = ("answer",)
    ways = MappingProxyType({"answer": SAID})

    def __init__(
        self, tractor: Tractor | None = None, piece: Attachment | None = None, lesson: str = ""
    ) -> None:
        self._tractor, self._piece = tractor or demo_tractor(), piece or demo_loader()[1]
        self._problem = exercises.make(KIND, f"lesson {lesson}")
        self._begin_board()
        super().__init__(lesson)

    def _begin_board(self) -> None:
        self.solved, self._hints, self._reply = False, 0, ""
        self.verdict: Verdict | None = None
        self._at: dict[str, float] = {}
        self._typed: dict[str, str] = {}

    @property
    def case(self) -> PivotCase:
        """The tractor and the piece ahead of it."""
        return PivotCase(self._tractor, self._piece, self.system, self.sheets)

    @property
    def board(self) -> BoardCase:
        """What the board offers: the pivot midway too, which leaves both unknowns."""
        return board_of(self._problem, self.sheets, "midpoint")

    def act(self) -> tuple[Draw, tuple[Input, ...], dict[str, Any]]:
        if self.solved or not self.locked:
            draw, inputs, more = super().act()
            return draw, inputs, {"alone": entry("derive").text("alone"), **more}
        case = replace(self.board, start=dict(self._at), typed=dict(self._typed))
        question = entry("derive").text("board_question").format(asked=case.asked)
        more = {"alone": entry("board").text("alone"), "fleeting": ["ring"]}
        return Board(case, question, self._buttons(), self._reply), case.inputs, more

    def _buttons(self) -> tuple[Element, ...]:
        say = entry("board")
        return (
            push_button(say.text("check"), bold=True, tell="checked"),
            push_button(say.text("show"), tell="shown")
            if self._may_be_shown
            else push_button(say.text("hint"), tell="hint"),
        )

    @property
    def _may_be_shown(self) -> bool:
        """Whether the drawing may be shown: after every hint and a try."""
        return self._hints >= len(self._problem.hints) and self.verdict is not None

    def _say(self, reply: str, ring: int = 0) -> None:
        """Say something of the drawing; the buttons change where it may be shown now."""
        self._reply = reply
        self._at = {**self.state, "ring": float(ring)}
        self.state["ring"] = float(ring)
        if self._may_be_shown:
            self.redraw()
        else:
            self.tell_page({"ring": float(ring)}, reply=reply)

    @property
    def explained(self) -> bool:
        return self.solved and super().explained

    @property
    def _on_board(self) -> bool:
        return self.locked and not self.solved

    def moved(self) -> None:
        if self._on_board:
            self._at = dict(self.state)
        else:
            super().moved()

    def wrote(self, written: Mapping[str, Any]) -> None:
        if self._on_board:
            self._typed |= arms_in(self.board, written)

    def did(self, what: str, written: Mapping[str, str]) -> None:
        if not self._on_board:
            super().did(what, written)
        elif what == "checked":
            self.check()
        elif what == "hint":
            self.hint()
        elif what == "shown":
            self.show_drawing()

    def check(self) -> None:
        """Check the drawing on the board: go on where it is right, else ask about one thing."""
        built = built_on(self.board, self.state, self._typed)
        if not built.lines:
            self._say(entry("board").text("nothing"))
            return
        self.verdict = verdict = exercises.check(self._problem, built)
        if verdict.right:
            self.solved, self._part = True, 0.0
            self.redraw()
            self._keep()
            return
        ring = ring_round(self.board, body_kind(self._problem), verdict)
        look = entry("derive").text("look_again")
        self._say(" ".join(filter(None, (look, verdict.finding, verdict.question))), ring)

    def hint(self) -> None:
        """Say one more hint; after the last one and a try the drawing can be shown."""
        hints = self._problem.hints
        said = hints[min(self._hints, len(hints) - 1)]
        self._hints += 1
        self._say(said)

    @property
    def drawing(self) -> str:
        """What was drawn on the board, as lines of text."""
        return built_on(self.board, self._at, self._typed).lines if self._at else ""

    def put_body(self, lines: str) -> None:
        """Put a free body on the board from code, as lines of text."""
        if not self._on_board:
            raise Refusal("the drawing", "no board", "a prediction first", "lock in")
        state, self._typed = board_with(self.board, read_free_body(lines))
        self._at |= state
        self.redraw()

    def draw_body(self, lines: str) -> None:
        """Put a free body on the board from code, as lines of text, and check it."""
        self.put_body(lines)
        self.check()

    def show_drawing(self) -> None:
        """Put the right drawing on the board."""
        self.draw_body(self._problem.answer)

    def explain(self, sentence: str) -> None:
        if self.locked and not self.solved:
            raise Refusal("show why", "no drawing", "a free body that was checked", "draw it first")
        super().explain(sentence)

    def again(self) -> None:
        self._begin_board()
        super().again()

    def _fetch(self) -> None:
        super()._fetch()
        if self.locked and kept_work(self._lesson).get("drawn") is True:
            self.solved = True
            self._part = EXPLAINED if self.seen else WEIGHED
            self.redraw()

    def _keep(self) -> None:
        super()._keep()
        if self._lesson:
            keep_work(self._lesson, {"drawn": self.solved, "seen": as_sentence(self.seen)})


def pivot_stage(
    tractor: Tractor | None = None, piece: Attachment | None = None, *, lesson: str = ""
) -> PivotStage:
    """The picture of two pivots, with a free body to draw between question and answer.

    lesson      its number, where what is said shall be kept beside the notebook
    In code: panel.lock_in(answer="stay"), panel.draw_body("body: …"), panel.explain("…"),
    panel.free().
    """
    return PivotStage(tractor, piece, lesson)
