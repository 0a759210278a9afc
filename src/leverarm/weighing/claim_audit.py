"""A spoken claim held against one machine's weigh day: number, axle, direction, and of what.

A claim is true where everything that it says is so, half true where its number is right for one
thing that it may mean and wrong for another, and false where nothing fits it as it was said.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from leverarm import statics
from leverarm.quantities import Refusal
from leverarm.uncertainty import Measured, plus_minus, value_of
from leverarm.weighing.claims import brief, fitting, number_text, percent_text
from leverarm.weighing.day import WeighDay
from leverarm.weighing.infer import place_in_words
from leverarm.weighing.promises import promise_reader
from leverarm.weighing.results import NO_SCALES, DayResults, base_of, pieces_apart, results
from leverarm.weighing.spoken import SpokenWords, piece_in_words, pieces_meant, read_spoken

TRUE, HALF, FALSE, UNKNOWN, PROMISE = "true", "half true", "false", "not known", "promise"
Quantity = tuple[str, Measured | None]  # what it is, in words, and its number; None: not weighed


@dataclass(frozen=True)
class ClaimMeaning:
    """One thing a claim may mean: what it is in words, what was found of it, and whether it fits.

    found   Measured without a sign; None where it was not weighed
    fits    None where it was not weighed
    """

    name: str
    found: Measured | None
    fits: bool | None


@dataclass(frozen=True)
class SpokenAudit:
    """A claim and what the readings say of it.

    text        as it was said
    kind        "weight", "factor", "percent"; "" for a promise
    truth       "true", "half true", "false", "not known", or "promise"
    meanings    everything that the claim may mean
    why         one or two sentences
    piece       what it is about, in words; found  the DayResults of that; None for a promise
    needs, needs_weight     overhang and weight that the piece would need for the claim to be so,
                where it is about its weight and the front axle; else None
    """

    text: str
    kind: str
    truth: str
    meanings: tuple[ClaimMeaning, ...]
    why: Callable[[str | None], str]
    piece: str = ""
    found: DayResults | None = None
    needs: Measured | None = None
    needs_weight: Measured | None = None

    def sentences(self, system: str | None = None) -> tuple[str, str]:
        """(the verdict, why) in words."""
        verdict = {
            TRUE: "That is true for this machine and day.",
            HALF: "That is half true.",
            FALSE: "That is not true for this machine and day.",
            UNKNOWN: "These readings cannot say.",
            PROMISE: "That is a promise, and no reading.",
        }[self.truth]
        return verdict, self.why(system)

    def needed(self, system: str | None = None) -> str:
        """What the claim would need to be so, beside what was found; "" where that says nothing."""
        if self.needs is None or self.found is None:
            return ""
        place, found = partial(place_in_words, system=system, brief=True), self.found
        said = f"It would need the center of gravity of the {self.piece} {place(self.needs)}"
        if self.needs_weight is not None:
            said += f", and a weight of {brief(self.needs_weight, 'weight', system)}"
        if found.ahead is None:
            return f"{said}."
        where = "Told, not weighed: it is" if found.given == "ahead" else "The readings put it"
        return f"{said}. {where} {place(found.ahead)}."

    def instead(self, system: str | None = None) -> str:
        """What can be said honestly: a percentage with its base, each number with its ±; "" where
        no ± is known.
        """
        found = self.found
        if found is None or not found.has_plus_minus:
            return ""
        change = found.front_change
        taken = brief(abs(change), "weight", system)
        off = f"takes {taken} off" if change.value > 0 else f"puts {taken} more on"
        percent = percent_text(abs(statics.share(change, found.front_with)))
        said = [
            f"Say: taking the {self.piece} off {off} the front axle, {percent} of what that axle "
            "carried with it on."
        ]
        if found.weight is not None and found.factor is not None:
            told = {"weight": " (told, not weighed)"}.get(found.given, "")
            said.append(
                f"The machine loses {brief(found.weight, 'weight', system)}{told}; the front axle "
                f"changes by {number_text(found.factor)} times that."
            )
        return " ".join([*said, "Each ± holds the truth in 95 of 100 cases."])


def audit_spoken(
    text: str,
    day: WeighDay,
    piece: str = "bucket",
    told: Mapping[str, Any] | None = None,
) -> SpokenAudit:
    """Hold any spoken claim against a weigh day.

    piece   what it is about, where the words name no piece
    told    what was told beside the readings, as for :func:`~leverarm.weighing.results.results`
    Raises Refusal where the words hold no number, or the day has no readings of that piece.

    >>> from leverarm.weighing.demo import demo_day
    >>> audit_spoken("Bucket off takes twice its weight off the front", demo_day()).truth
    'false'
    """
    promise = promise_reader().about(text)
    own = {piece_in_words(one): one for one in pieces_apart(day)}
    try:
        said = read_spoken(text, tuple(own))
    except Refusal:
        if not promise:
            raise
        return SpokenAudit(text, "", PROMISE, (), lambda system: promise)
    meant = said.piece or piece_in_words(piece)
    found = results(day, own.get(meant) or pieces_in_day(day, said.piece or piece), **(told or {}))
    judged = _judged(said, found, meant)
    if not promise:
        return judged
    return replace(judged, truth=PROMISE, why=lambda system: promise, needs=None, needs_weight=None)


def pieces_in_day(day: WeighDay, piece: str) -> str:
    """A day's pieces that a name means, as :func:`.results` asks for them."""
    names = dict.fromkeys(one for row in day.current for one in row.setup)
    return pieces_meant(piece, names) or piece


def _judged(said: SpokenWords, found: DayResults, piece: str) -> SpokenAudit:
    """The audit of words that hold a number."""
    meanings = tuple(
        ClaimMeaning(name, None if number is None else abs(number), _fits(said, number))
        for name, number in _meant(said, found, piece)
    )
    known = [one.fits for one in meanings if one.fits is not None]
    truth = UNKNOWN if not known else TRUE if all(known) else HALF if any(known) else FALSE
    if truth == TRUE and len(known) < len(meanings):
        truth = HALF
    wrong_way = truth != UNKNOWN and _against(said, found)
    if wrong_way:
        truth = FALSE
    elsewhere = _elsewhere(said, found, piece) if truth == FALSE else None

    def why(system: str | None) -> str:
        return _why(said, found, meanings, wrong_way, elsewhere, piece, system)

    needs = _needed(said, found)
    return SpokenAudit(said.text, said.claim.kind, truth, meanings, why, piece, found, *needs)


def _needed(said: SpokenWords, found: DayResults) -> tuple[Measured | None, Measured | None]:
    """(overhang, weight) with which a factor or a weight that was said would be so; None where the
    claim is about another axle or another whole, or says the weight itself.
    """
    percent, weight = (said.claim.kind == kind for kind in ("percent", "weight"))
    own_weight = said.of in ("", "piece") and said.asks != "load" and said.axle in ("", "front")
    if not own_weight or said.bound or (percent and said.of != "piece") or (weight and said.axle):
        return None, None
    change, base = abs(found.front_change), base_of(found.day)
    if weight:
        return statics.overhang_for(change / said.claim.value, base), None
    factor = said.claim.value / 100 if percent else said.claim.value
    return statics.overhang_for(factor, base), change / factor


def _fits(said: SpokenWords, number: Measured | None) -> bool | None:
    """Whether a number is what was said, within its ± and the rounding of speech; None where it
    was not weighed, or its ± is not known.
    """
    if number is None:
        return None
    size = abs(number)
    within = fitting(said.claim.value, size)
    if said.bound and within is not None:
        return said.bound * (size.value - said.claim.value.value) > 0
    return within


def _change(found: DayResults, axle: str) -> Measured | None:
    """Load with the piece on, less without it."""
    rear = found.rear_change
    if rear is None and found.weight is not None:
        rear = found.weight - found.front_change  # not read, but the weight was told
    return {"front": found.front_change, "rear": rear, "machine": found.weight}[axle]


def _load(found: DayResults, axle: str, which: str) -> Measured | None:
    """What an axle, or the machine, carries "with" the piece or "without" it."""
    if axle != "machine":
        load: Measured | None = getattr(found, f"{axle}_{which}")
        return load
    front, rear = (getattr(found, f"{one}_{which}") for one in ("front", "rear"))
    return None if front is None or rear is None else front + rear


OF = ", of "  # what a ratio is of follows it in a meaning's name
_PLACES = {"front": "the front axle", "rear": "the rear axle", "machine": "the whole tractor"}


def _axle(said: SpokenWords) -> str:
    """The axle that is spoken of: "halves the load on the rear" is about the rear too."""
    return said.axle or ("rear" if said.of == "rear" else "front")


def _meant(said: SpokenWords, found: DayResults, piece: str) -> list[Quantity]:
    """Everything that the words may mean."""
    before = "with" if said.action == "off" else "without"
    axle = _axle(said)
    if said.asks == "weight" and said.claim.kind == "weight":
        return [(f"the weight of the {piece}", found.weight)]
    if said.asks == "load" and said.axle:
        return _carried(said, found, piece)
    change = _change(found, axle)
    if said.claim.kind == "weight":
        named = [(f"the change of {_PLACES[axle]}", change)]
        return named if said.axle else [*named, (f"the weight of the {piece}", found.weight)]
    after = "without" if said.action == "off" else "with"
    return [
        (
            # "Twice the load" is the whole load after, "twice its weight" the change alone.
            f"what {_PLACES[of]} carried {after} it{OF}{name}"
            if said.claim.kind == "factor" and of != "piece"
            else f"the change of {_PLACES[axle]}{OF}{name}",
            _ratio(said, found, change, base, of),
        )
        for of, name, base in _bases(said, found, piece, before)
    ]


def _carried(said: SpokenWords, found: DayResults, piece: str) -> list[Quantity]:
    """What an axle carries, or its share of the total, in the set-up that the words name."""
    which = "without" if said.action == "off" else "with"
    load = _load(found, said.axle, which)
    place = f"{_PLACES[said.axle]} {which} the {piece}"
    if said.claim.kind == "weight":
        return [(f"the load on {place}", load)]
    whole = _load(found, "machine", which)
    share = None if load is None or whole is None else statics.share(load, whole)
    if share is not None and said.claim.kind == "factor":
        share = share / 100
    return [(f"the share of {place} in the total", share)]


def _bases(
    said: SpokenWords, found: DayResults, piece: str, before: str
) -> list[tuple[str, str, Measured | None]]:
    """(key, name, number) of everything that a factor or percentage may be of."""
    own = ("piece", f"the weight of the {piece}", found.weight)
    axles = {
        axle: (axle, f"what {_PLACES[axle]} carried {before} it", _load(found, axle, before))
        for axle in _PLACES
    }
    if said.of:
        return [own if said.of == "piece" else axles[said.of]]
    if said.claim.kind == "factor":
        return [own, axles["front"]]
    return [axles["front"], axles["machine"], own]


def _ratio(
    said: SpokenWords,
    found: DayResults,
    change: Measured | None,
    base: Measured | None,
    of: str,
) -> Measured | None:
    """The change over its base; for "twice the load" the whole load after over the load before."""
    if base is None or change is None or not base.value:
        return None
    if said.claim.kind == "percent":
        return statics.share(change, base)
    if of == "piece":
        return change / base
    after = _load(found, of, "without" if said.action == "off" else "with")
    return None if after is None else after / base


def _against(said: SpokenWords, found: DayResults) -> bool:
    """Whether the words say that the load goes the other way than it does."""
    change = _change(found, _axle(said))
    if not said.way or change is None or said.asks != "change":
        return False
    way = 1 if change.value > 0 else -1
    return said.way != (-way if said.action == "off" else way)


def _elsewhere(said: SpokenWords, found: DayResults, piece: str) -> Quantity | None:
    """What a weight would be right for, where it is wrong as it was said."""
    if said.claim.kind != "weight":
        return None
    others: list[Quantity] = [
        (f"the change of {_PLACES[axle]}", _change(found, axle))
        for axle in ("front", "rear")
        if axle != said.axle or said.asks != "change"
    ]
    others.append((f"the weight of the {piece}", found.weight))
    return next(((name, one) for name, one in others if one is not None and _fits(said, one)), None)


def _why(
    said: SpokenWords,
    found: DayResults,
    meanings: tuple[ClaimMeaning, ...],
    wrong_way: bool,
    elsewhere: Quantity | None,
    piece: str,
    system: str | None,
) -> str:
    """What was found, for everything the words may mean."""
    parts = []
    if wrong_way:
        axle = _axle(said)
        change = value_of(_change(found, axle))
        gains = (change < 0) == (said.action == "off")
        parts.append(
            f"With the {piece} {said.action}, {_PLACES[axle]} "
            f"{'gains load' if gains else 'loses load'}."
        )
    kind = "share" if said.asks == "load" and said.claim.kind == "percent" else said.claim.kind
    for one in meanings:
        if one.found is None:
            parts.append(f"Of {one.name} nothing is known: the rear axle was not read.")
            continue
        fits = (
            ""
            if len(meanings) == 1 or one.fits is None
            else " This fits."
            if one.fits
            else " This does not fit."
        )
        what, _, base = one.name.partition(OF)
        words = _as_text(one.found, kind, system)
        of = f"{' ' if kind == 'factor' else OF.strip(',')}{base}" if base else ""
        parts.append(f"{what[0].upper()}{what[1:]} is {words}{of}.{fits}")
    if elsewhere is not None:
        parts.append(f"The number said is {elsewhere[0]}.")
    if said.more:
        parts.append("Only one number was judged: say the others by themselves.")
    if not found.has_plus_minus:
        return " ".join([*parts, NO_SCALES])
    if len(meanings) > 1:
        parts.append("Say of what." if said.claim.kind != "weight" else "Say on which axle.")
    return " ".join(parts)


def _as_text(number: Measured, kind: str, system: str | None) -> str:
    if kind == "weight":
        return plus_minus(number, "weight", system, brief=True)
    return percent_text(number) if kind in ("percent", "share") else f"{number_text(number)} times"
