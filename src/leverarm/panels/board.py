"""The board of a free body in an exercise: the page moves it, the exercise's own check judges it.

FreeBodyBoard   the picture as a panel;  board_of  what a problem offers
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from leverarm.exercises import Problem, Verdict
from leverarm.exercises.expressions.grammar import Unreadable
from leverarm.exercises.free_body import FreeBody, FreeBodyKind, read_free_body
from leverarm.panels.on_stage import OnStage
from leverarm.stage.board import Board
from leverarm.stage.board_case import NOTHING, BoardCase
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element
from leverarm.stage.recording import Draw, Input
from leverarm.stage.sheet import Paper

MOST_TYPED = 120


def body_kind(problem: Problem) -> FreeBodyKind:
    """The kind of a free-body problem."""
    kind = problem.source
    if not isinstance(kind, FreeBodyKind):
        raise TypeError(f"{problem.kind} is not a free body")
    return kind


def board_of(problem: Problem, sheets: tuple[Paper, ...], *pivots: str) -> BoardCase:
    """What a problem offers on the board; ``pivots`` are offered besides its own."""
    parts: dict[str, Any] = dict(problem.options)
    return BoardCase(
        body_kind(problem).unknowns[0],
        parts["bodies"],
        parts["forces"],
        parts["places"],
        (*parts["pivots"], *pivots),
        parts["lengths"],
        sheets=sheets,
    )


def ring_round(case: BoardCase, kind: FreeBodyKind, verdict: Verdict) -> int:
    """The code of the ring round the first thing that a check asks about."""
    if verdict.right or not verdict.suspects:
        return NOTHING
    what, _, letter = verdict.suspects[0].name.partition(" ")
    if what == "missing":
        (place,) = (force.at for force in kind.forces if force.letter == letter)
        return case.ring_at("place", place)
    if what == "pivot":
        return case.ring_at("pivot", "")
    if what in ("inside", "way", "place", "arm"):
        return case.ring_at("arm" if what == "arm" else "arrow", letter)
    return NOTHING


def arms_in(case: BoardCase, written: Mapping[str, Any]) -> dict[str, str]:
    """The arms among what the page says was typed, by letter, each on one line."""
    arms = {letter: written.get(f"arm_{letter}") for letter in case.letters}
    return {
        letter: " ".join(arm.split())[:MOST_TYPED]
        for letter, arm in arms.items()
        if isinstance(arm, str)
    }


def built_on(case: BoardCase, state: Mapping[str, float], typed: Mapping[str, str]) -> FreeBody:
    """The free body that stands on a board."""
    arrows = []
    for letter in case.letters:
        if at := round(state[f"at_{letter}"]):
            way = "down" if state[f"down_{letter}"] else "up"
            arrows.append((letter, way, case.places[at - 1]))
    cut, pivot = round(state["cut"]), round(state["pivot"])
    return FreeBody(
        case.bodies[cut - 1] if cut else "",
        tuple(arrows),
        case.pivots[pivot - 1] if pivot else "",
        tuple((letter, arm) for letter in case.letters if (arm := typed.get(letter))),
    )


def board_with(case: BoardCase, given: FreeBody) -> tuple[dict[str, float], dict[str, str]]:
    """The state of a board, and its arms, with a free body on it as far as it is offered."""

    def place(name: str, offered: tuple[str, ...]) -> int:
        return offered.index(name) + 1 if name in offered else 0

    drawn = {letter.lower(): (way, at) for letter, way, at in given.arrows}
    arms = {letter.lower(): arm for letter, arm in given.arms}
    state: dict[str, float] = {
        "cut": place(given.body, case.bodies),
        "pivot": place(given.pivot, case.pivots),
        "ring": NOTHING,
    }
    for letter in case.letters:
        way, at = drawn.get(letter.lower(), ("down", ""))
        state |= {f"at_{letter}": place(at, case.places), f"down_{letter}": way != "up"}
    return (
        {name: float(value) for name, value in state.items()},
        {letter: arms.get(letter.lower(), "") for letter in case.letters},
    )


class FreeBodyBoard(OnStage):
    """A board for the free body of a problem.

    text        the free body as lines of text, which the check reads
    """

    inside = True

    def __init__(self, problem: Problem) -> None:
        self.problem, self.typed = problem, dict[str, str]()
        self.locked, self._as_written = False, ""
        super().__init__()

    @property
    def case(self) -> BoardCase:
        """What is offered, on the sizes of paper in use."""
        return board_of(self.problem, self.sheets)

    @property
    def explained(self) -> bool:
        return True

    def buttons(self) -> tuple[Element, ...]:
        """What stands under the list."""
        return ()

    def act(self) -> tuple[Draw, tuple[Input, ...], dict[str, Any]]:
        case = replace(
            self.case, start=dict(self.state), typed=dict(self.typed), locked=self.locked
        )
        more = {"alone": entry("board").text("alone"), "fleeting": ["ring"]}
        return Board(case, buttons=self.buttons()), case.inputs, more

    def moved(self) -> None:
        self._as_written = ""

    def wrote(self, written: Mapping[str, Any]) -> None:
        self.typed |= arms_in(self.case, written)

    @property
    def built(self) -> FreeBody:
        """The free body on the board."""
        return built_on(self.case, self.state, self.typed)

    @property
    def text(self) -> str:
        """The free body as lines of text."""
        if self._as_written:
            return self._as_written
        return self.built.lines

    def write(self, text: str) -> None:
        """Put a free body on the board; what the board cannot show is kept as it was written."""
        try:
            given: FreeBody | None = read_free_body(text)
        except Unreadable:
            given = None
        self.put(given or FreeBody())
        self._as_written = "" if self.built == given else text

    def put(self, given: FreeBody) -> None:
        """Put a free body on the board, as far as it is offered."""
        state, self.typed = board_with(self.case, given)
        self.state |= state
        self.redraw()

    def lock(self, locked: bool) -> None:
        """Keep the reader from changing it, or let them again."""
        if locked != self.locked:
            self.locked = locked
            self.redraw()

    def show_verdict(self, verdict: Verdict) -> None:
        """Ring the first thing that the check asks about."""
        ring = ring_round(self.case, body_kind(self.problem), verdict)
        self.state["ring"] = float(ring)
        self.tell_page({"ring": float(ring)})
