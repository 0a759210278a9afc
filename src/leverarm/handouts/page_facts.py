"""What the page to hand over is made from: one machine, one day, two weighings that differ by one
piece.

Every value is told, measured or None; nothing is filled in.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from leverarm.quantities import Refusal
from leverarm.uncertainty import Measured
from leverarm.weighing.facts import Machine, ScaleFacts
from leverarm.weighing.readings import pieces
from leverarm.weighing.results import LONE, NO_SCALES, TILTED, USUAL, DayResults
from leverarm.weighing.spoken import piece_in_words

BALLAST = "ballast"
# Notes as a customer reads them; "" for what the page says anyway.
SHORT_NOTES = {
    NO_SCALES: "",
    USUAL: "Each load was read once, so the ± assumes the usual scatter of such scales.",
    LONE: "It may be wider than it has to be.",
    TILTED: "The tilt of the pads is put back and counted.",
}


@dataclass(frozen=True)
class PageFacts:
    """Two weighings of one machine on one day, with a piece on and with it off.

    piece               what came off between the two; several pieces are joined by " + "
    also_on             what hung on both times
    front_on_kg and so on   mean readings; rear_on_kg and rear_off_kg are None where only the
                        front axle was read
    weight_kg           of the piece: from the readings, or told; None where neither
    given               "weight" or "ahead" where only the front axle was read and that was told; a
                        told weight has a ± where that was told too
    U_front_kg, U_weight_kg, U_factor   half of the 95 percent intervals; None prints no ±
    unchanged           fuel, operator and mower the same both times: True, False, None (not asked)
    notes               sentences about the ± that stand beside it
    invented            True stamps the page
    """

    machine: Machine
    date: str
    piece: str
    front_on_kg: float
    front_off_kg: float
    rear_on_kg: float | None = None
    rear_off_kg: float | None = None
    weight_kg: float | None = None
    given: str = ""
    U_front_kg: float | None = None
    U_weight_kg: float | None = None
    U_factor: float | None = None
    scales: ScaleFacts = field(default_factory=ScaleFacts)
    also_on: tuple[str, ...] = ()
    unchanged: bool | None = None
    notes: tuple[str, ...] = ()
    invented: bool = False

    def __post_init__(self) -> None:
        if self.front_on_kg <= self.front_off_kg:
            raise Refusal(
                "page",
                f"a front axle that reads no less with the {self.piece} off",
                "a piece that loaded the front axle",
                "look whether two readings are swapped",
            )
        if self.weight_kg is not None and self.weight_kg <= 0:
            raise Refusal(
                "page",
                f"a machine that weighs no less with the {self.piece} off",
                "a piece with a weight",
                "look whether two readings are swapped",
            )

    @property
    def name(self) -> str:
        """What came off, in words: "whole loader"."""
        return piece_in_words(self.piece)

    @property
    def names(self) -> tuple[str, ...]:
        """Each piece that came off."""
        return tuple(one.strip() for one in self.piece.split("+"))

    def has(self, name: str) -> bool:
        """Whether something of this name came off."""
        return name.casefold() in self.piece.casefold()

    @property
    def several(self) -> bool:
        """Whether what came off is spoken of as more than one: forks, bucket and ballast."""
        return " and " in self.name or (self.name.endswith("s") and not self.name.endswith("ss"))

    @property
    def front_only(self) -> bool:
        """True where the rear axle was not read both times."""
        return self.rear_on_kg is None or self.rear_off_kg is None

    @property
    def with_ballast(self) -> bool:
        """True where ballast hung on both times."""
        return any(BALLAST in piece.casefold() for piece in self.also_on)

    @classmethod
    def from_results(cls, found: DayResults) -> PageFacts:
        """The facts of what a weigh day says of one piece."""
        return cls(
            machine=found.day.machine,
            date=found.day.date,
            piece=found.piece,
            front_on_kg=found.front_with.value,
            front_off_kg=found.front_without.value,
            rear_on_kg=None if found.rear_with is None else found.rear_with.value,
            rear_off_kg=None if found.rear_without is None else found.rear_without.value,
            weight_kg=None if found.weight is None else found.weight.value,
            given=found.given,
            U_front_kg=_half(found.front_change),
            U_weight_kg=_half(found.weight),
            U_factor=_half(found.factor),
            scales=found.day.scales,
            also_on=pieces(found.without),
            unchanged=found.day.unchanged,
            notes=tuple(filter(None, (SHORT_NOTES.get(note, note) for note in found.notes))),
            invented=found.day.invented,
        )


def _half(number: Measured | None) -> float | None:
    """Half of the 95 percent interval; None where it is not known."""
    half = math.nan if number is None else number.expanded()
    return half if math.isfinite(half) else None
