"""What the page to hand over is made from: one machine, one day, two weighings that differ by one
piece.

Every value is told, measured or None; nothing is filled in.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from leverarm.quantities import Refusal
from leverarm.uncertainty import Measured, mean
from leverarm.weighing.day import WeighDay
from leverarm.weighing.facts import Machine, ScaleFacts
from leverarm.weighing.infer import infer
from leverarm.weighing.readings import Weighing
from leverarm.weighing.scales import Scales, Session, wheelbase_of

BALLAST = "ballast"


@dataclass(frozen=True)
class PageFacts:
    """Two weighings of one machine on one day, with a piece on and with it off.

    piece               what came off between the two, in words
    also_on             what hung on both times
    front_on_kg and so on   mean readings; rear_on_kg and rear_off_kg are None where only the
                        front axle was read
    weight_kg           of the piece: from the readings, or told; None where neither
    ahead_m             of its center of gravity, ahead of the front axle; None where not known
    told                "weight" or "ahead" where only the front axle was read and that was told
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
    ahead_m: float | None = None
    told: str = ""
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
    def front_only(self) -> bool:
        """True where the rear axle was not read both times."""
        return self.rear_on_kg is None or self.rear_off_kg is None

    @property
    def with_ballast(self) -> bool:
        """True where ballast hung on both times."""
        return any(BALLAST in piece.casefold() for piece in self.also_on)

    @classmethod
    def of_day(
        cls,
        day: WeighDay,
        piece: str = "bucket",
        *,
        weight: str | float | None = None,
        ahead: str | float | None = None,
    ) -> PageFacts:
        """The facts of a weigh day whose set-ups were weighed with and without one piece.

        weight, ahead   told, where only the front axle was read
        """
        told = "weight" if weight is not None else "ahead" if ahead is not None else ""
        given = (weight, ahead) if told else (None, None)
        on, off = two_setups(day.current, piece)
        about: dict[str, Any] = {
            "machine": day.machine,
            "date": day.date,
            "piece": piece,
            "scales": day.scales,
            "also_on": off[0].setup,
            "unchanged": day.unchanged,
            "invented": day.invented,
        }
        front = [[row.front.kg for row in rows if row.front] for rows in (on, off)]
        rear = [[row.rear.kg for row in rows if row.rear] for rows in (on, off)]
        if all(rear):
            return cls(**about, **_both_axles(day, front, rear))
        return cls(**about, **_front_only(day, front, *given), told=told)


def two_setups(
    rows: Iterable[Weighing], piece: str
) -> tuple[tuple[Weighing, ...], tuple[Weighing, ...]]:
    """The weighings with and without a piece, everything else alike, that read the front axle.

    Where several set-ups differ by the piece alone, those with the fewest other pieces.
    """
    together: dict[frozenset[str], tuple[Weighing, ...]] = {}
    for row in rows:
        if row.front is not None:
            together[row.key[0]] = (*together.get(row.key[0], ()), row)
    wanted = {piece.casefold()}
    pairs = [
        (together[names], together[names - wanted])
        for names in together
        if wanted <= names and names - wanted in together
    ]
    if not pairs:
        weighed = [" + ".join(rows[0].setup) or "bare" for rows in together.values()]
        raise Refusal(
            "page",
            ", ".join(weighed) or "no reading of the front axle",
            f"the front axle read with the {piece} on and with it off, all else alike",
            "weigh both set-ups",
        )
    return min(pairs, key=lambda pair: len(pair[1][0].setup))


Readings = list[list[float]]


def _both_axles(day: WeighDay, front: Readings, rear: Readings) -> dict[str, Any]:
    scales = day.scales.scales
    found = infer((front[1], rear[1]), (front[0], rear[0]), _wheelbase(day), scales=scales)
    return {
        "front_on_kg": mean(front[0]),
        "front_off_kg": mean(front[1]),
        "rear_on_kg": mean(rear[0]),
        "rear_off_kg": mean(rear[1]),
        "weight_kg": found.weight_kg,
        "ahead_m": found.ahead_m,
        "U_front_kg": _half(found.front_change, scales),
        "U_weight_kg": _half(found.weight, scales),
        "U_factor": _half(found.factor, scales),
    }


def _front_only(
    day: WeighDay,
    front: Readings,
    weight: str | float | None,
    ahead: str | float | None,
) -> dict[str, Any]:
    """What the front axle alone says, with the weight or the overhang that was told, or neither."""
    scales = day.scales.scales
    facts = {"front_on_kg": mean(front[0]), "front_off_kg": mean(front[1])}
    on, off = Session(scales, None, {"front on": front[0], "front off": front[1]}).loads().values()
    change = {"U_front_kg": _half(on - off, scales)}
    if weight is None and ahead is None:
        return {**facts, **change}
    if weight is not None:
        ahead = None
    found = infer(
        (front[1], None),
        (front[0], None),
        _wheelbase(day),
        scales=scales,
        weight=weight,
        u_weight=None if weight is None else 0,
        ahead=ahead,
        u_ahead=None if ahead is None else 0,
    )
    return {
        **facts,
        **change,
        "weight_kg": found.weight_kg,
        "ahead_m": found.ahead_m,
    }


def _wheelbase(day: WeighDay) -> Measured:
    return wheelbase_of(day.machine.wheelbase_m, day.machine.u_wheelbase_m)


def _half(number: Measured, scales: Scales | None) -> float | None:
    """Half of the 95 percent interval; None where the scales or an error was not told."""
    half = number.expanded() if scales is not None else math.nan
    return half if math.isfinite(half) else None
