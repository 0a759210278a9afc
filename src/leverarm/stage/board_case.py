"""What the board of a free body offers, on each size of paper: no answer is in it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from leverarm.numerals import Numeric
from leverarm.stage import sheet as paper
from leverarm.stage.board_body import Thing, stand_of, thing_with
from leverarm.stage.case import SHEETS, Shown
from leverarm.stage.recorder import where
from leverarm.stage.recording import Input
from leverarm.stage.sheet import Paper
from leverarm.stage.stand import Stand

# Codes of the ring beyond the arrows: what it stands round.
NOTHING = 0


@dataclass(frozen=True)
class Layout:
    """Where the board's lines stand on one size of paper, in its units.

    room        how wide the drawing may be;  below  where the paper under the machine begins
    given       the given lengths, with given_pitch to the next line;  rail  the pivot's line
    rows, pitch the first line of arms, and from each to the next
    box         how wide and high a box for an arm is;  arrow  how long an arrow is
    """

    paper: Paper
    room: float
    below: float
    given: float
    given_pitch: float
    rail: float
    rows: float
    pitch: float
    box: tuple[float, float]
    arrow: float


_DESK = Layout(replace(paper.DESK, floor=299), 712, 342, 364, 26, 426, 455, 26, (64, 24), 46)
_LARGE = Layout(
    replace(paper.PROJECTOR, per_m=104, floor=296), 830, 316, 340, 30, 396, 428, 31, (96, 30), 36
)
_PHONE = Layout(
    replace(paper.PHONE, per_m=62, floor=134, height=430),
    390,
    166,
    182,
    22,
    234,
    262,
    29,
    (56, 28),
    30,
)
LAYOUTS = {one.paper.name: one for one in (_DESK, _LARGE, _PHONE)}


@dataclass(frozen=True)
class BoardCase(Shown):
    """What is offered: the bodies, the arrows, their places, the pivots, the letters of lengths.

    forces      letter and words of each arrow
    start       the state it begins with, where that is not empty
    typed       arms as they stand in their boxes, by letter
    locked      True lets nothing be changed
    """

    asked: str
    bodies: tuple[str, ...]
    forces: tuple[tuple[str, str], ...]
    places: tuple[str, ...]
    pivots: tuple[str, ...]
    lengths: tuple[str, ...]
    system: str = "lb"
    sheets: tuple[Paper, ...] = SHEETS
    start: Mapping[str, float] | None = None
    typed: Mapping[str, str] | None = None
    locked: bool = False

    @cached_property
    def thing(self) -> Thing:
        """What is drawn."""
        return thing_with(self.places)

    @property
    def letters(self) -> tuple[str, ...]:
        """The letters of the arrows."""
        return tuple(letter for letter, _ in self.forces)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves: where each arrow is and whether it points down, the body, the pivot."""
        start = self.start or {}
        found = [
            *(Input(f"at_{letter}", 0, len(self.places), 0) for letter in self.letters),
            *(Input(f"down_{letter}", 0, 1, 1) for letter in self.letters),
            Input("cut", 0, len(self.bodies), 0),
            Input("pivot", 0, len(self.pivots), 0),
            Input("picked", 0, len(self.forces), 0),
            Input("ring", 0, 2 * len(self.forces) + len(self.places) + 1, 0),
        ]
        return tuple(replace(one, start=start.get(one.name, one.start)) for one in found)

    def ring_at(self, kind: str, name: str) -> int:
        """The code of the ring round an arrow, a place, the pivot or an arm; 0 for none."""
        n, m = len(self.forces), len(self.places)
        if kind == "pivot":
            return n + m + 1
        known: Sequence[str] = self.places if kind == "place" else self.letters
        first = {"arrow": 1, "place": n + 1, "arm": n + m + 2}[kind]
        return first + known.index(name) if name in known else NOTHING

    def stand(self, layout: Layout) -> Stand:
        """It stands on the paper."""
        return stand_of(self.thing, layout.paper, layout.room)

    def spot(self, stand: Stand, place: str) -> tuple[float, float]:
        """Where a place is on the paper."""
        x, y = stand.at(*self.thing.places[place])
        return float(x), float(y)


def chosen(value: Numeric, given: Sequence[Numeric]) -> Numeric:
    """The number that stands at a place counted from 0; the last one beyond them all.

    >>> chosen(1, [4.0, 5.0, 6.0])
    5.0
    """
    first, *rest = given
    if not rest:
        return first
    return where(value < 0.5, lambda: first, lambda: chosen(value - 1, rest))


def chosen_words(value: Numeric, given: Sequence[str]) -> str:
    """The text that stands at a place counted from 0."""
    first, *rest = given
    if not rest:
        return first
    return where(value < 0.5, lambda: first, lambda: chosen_words(value - 1, rest))
