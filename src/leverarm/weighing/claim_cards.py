"""Cards of claims to judge, made from one machine's own numbers.

What each card is follows from auditing its words, as anybody's words are audited.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from leverarm import statics
from leverarm.data import Entry, toml_file
from leverarm.quantities import Refusal, show_number, to_unit, unit_of
from leverarm.uncertainty import value_of
from leverarm.weighing.claim_audit import (
    FALSE,
    HALF,
    TRUE,
    SpokenAudit,
    audit_spoken,
    pieces_in_day,
)
from leverarm.weighing.day import WeighDay
from leverarm.weighing.results import DayResults, results
from leverarm.weighing.spoken import piece_in_words

# What stands in braces on a card.
CARD_NUMBERS = ("piece", "front", "rear", "weight", "front_percent", "factor")


@dataclass(frozen=True)
class ClaimCard:
    """A claim to judge, made from one machine's numbers: its words, and the audit of them."""

    said: str
    audit: SpokenAudit

    @property
    def truth(self) -> str:
        """true, half true or false."""
        return self.audit.truth


def claim_cards(
    day: WeighDay,
    piece: str = "bucket",
    system: str | None = None,
    *,
    count: int = 6,
    seed: int = 0,
    told: Mapping[str, Any] | None = None,
) -> tuple[ClaimCard, ...]:
    """Claims made from one machine's own numbers: some true, some half true, some false.

    told    what is known beside the readings, as :func:`.results` takes it
    seed    the same day and seed give the same cards in the same order

    >>> from leverarm.weighing.demo import demo_day
    >>> len({card.truth for card in claim_cards(demo_day())})
    3
    """
    found = results(day, pieces_in_day(day, piece), **(told or {}))
    if not found.has_plus_minus:
        raise Refusal(
            "claim cards",
            "scales without step and accuracy",
            "a day whose scales were told",
            "tell the step or the accuracy of the scales, so that a claim can be judged",
        )
    fields = _spoken_numbers(found, piece_in_words(piece), system)
    stream = random.Random(f"{day.name}, {piece}, {seed}")
    by_truth: dict[str, list[ClaimCard]] = {TRUE: [], HALF: [], FALSE: []}
    templates = read_cards(toml_file("spoken"))
    for template in stream.sample(templates, len(templates)):
        try:
            said = template.format(**fields)
        except KeyError:  # needs a number that was not weighed
            continue
        card = ClaimCard(said, audit_spoken(said, day, piece, told))
        if card.truth in by_truth:
            by_truth[card.truth].append(card)
    chosen: list[ClaimCard] = []
    while len(chosen) < count and any(by_truth.values()):
        for group in by_truth.values():
            if group and len(chosen) < count:
                chosen.append(group.pop())
    return tuple(stream.sample(chosen, len(chosen)))


def read_cards(words: Entry) -> list[str]:
    """The claims on cards of a data file, numbers in braces; Refusal with file and key."""
    made = []
    for entry in words.rows("card", "said"):
        made.append(entry.template("said", CARD_NUMBERS))
        entry.done()
    return made


def _spoken_numbers(found: DayResults, piece: str, system: str | None) -> dict[str, str]:
    """The machine's numbers as people round them in speech; what was not weighed is left out."""
    unit, said = unit_of("weight", system), {"piece": piece}
    for name, number in (
        ("front", found.front_change),
        ("rear", found.rear_change),
        ("weight", found.weight),
    ):
        if number is not None:
            said[name] = f"{_rounded(to_unit(abs(number.value), 'weight', unit))} {unit}"
    share = value_of(statics.share(found.front_change, found.front_with))
    said["front_percent"] = show_number(abs(share), 0)
    if found.factor is not None:
        said["factor"] = show_number(abs(found.factor.value), 1)
    return said


def _rounded(number: float) -> str:
    """To the nearest ten from 200 up, to the nearest five from 50 up, else to the nearest one."""
    step = 10 if number >= 200 else 5 if number >= 50 else 1
    return show_number(step * round(number / step), 0)
