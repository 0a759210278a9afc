"""A spoken claim as a number, held against readings: what it would need, and what to say instead.

"Twice", "about 150 lb", "30 %", "a third" are read; nothing typed is ever run.
"""

import re
from dataclasses import dataclass
from functools import partial
from typing import Any, TypeAlias

from leverarm import statics
from leverarm.numerals import number_readings, plain
from leverarm.quantities import KINDS, Refusal, show_number, unit_named
from leverarm.uncertainty import Measured, from_half_width, plus_minus, rounded
from leverarm.weighing.infer import InferredPiece, infer, pair_of, place_in_words
from leverarm.weighing.scales import AXLES, Given, Scales, Session, read_measured, wheelbase_of

_FACTORS = {
    "once": 1.0,
    "twice": 2.0,
    "double": 2.0,
    "doubles": 2.0,
    "doubled": 2.0,
    "thrice": 3.0,
    "triple": 3.0,
    "triples": 3.0,
    "tripled": 3.0,
}
_NUMBERS = {
    "one": 1.0,
    "a": 1.0,
    "an": 1.0,
    "two": 2.0,
    "three": 3.0,
    "four": 4.0,
    "five": 5.0,
    "ten": 10.0,
}
_PARTS = {
    "half": 2,
    "halves": 2,
    "third": 3,
    "thirds": 3,
    "quarter": 4,
    "quarters": 4,
    "fifth": 5,
    "fifths": 5,
    "tenth": 10,
    "tenths": 10,
}
_TIMES = {"x", "*", "times", "fold"}
MOST_TEXT = 200
# A spoken number is taken as rounded in its last place that is not zero, but never by more than
# this part of itself.
COARSEST = 0.1


@dataclass(frozen=True)
class Claim:
    """What was said, as a number.

    kind    "weight" (kg), "factor" (times its weight), "percent" (of something)
    value   Measured: the number, with its rounding as a limit of error
    text    as it was typed
    """

    kind: str
    value: Measured
    text: str


def read_claim(text: str, rounding: float | None = None) -> Claim:
    """A Claim from what was said.

    rounding    half-width of what the number may have been rounded by, in its own unit

    >>> said = ("twice its weight", "about 150 lb", "30 percent", "a third", "1.7 times")
    >>> [read_claim(text).kind for text in said]
    ['factor', 'weight', 'percent', 'percent', 'factor']
    >>> f"{read_claim('two thirds').value.value:.1f}"
    '66.7'
    """
    words = plain(str(text)[:MOST_TEXT]).lower()
    kind, number, half, scale = _read_digits(words) or _read_words(words) or _refuse(text)
    half = half if rounding is None else float(rounding)
    source = from_half_width("rounding of the claim", half * scale)
    return Claim(kind, Measured(number * scale, {source: 1.0}), str(text))


def _refuse(text):
    raise Refusal(
        "claim",
        str(text),
        "a weight, a factor, a percentage or a fraction",
        "say it like 'twice its weight', '150 lb', '30 %' or 'a third'",
    )


def _read_digits(words):
    """A claim with digits in it: the number, and by its unit what kind of claim it is."""
    found = re.search(r"\d[\d.,/]*", words)
    if not found:
        return None
    typed = found.group().rstrip(".,/")
    after = words[found.start() + len(typed) :].split()
    readings = number_readings(typed)
    if not readings or readings[0] <= 0:
        return None
    return _by_unit(readings[0], _rounding(typed, readings[0]), after)


def _by_unit(number, half, after):
    unit = after[0].rstrip(".,;") if after else ""
    if unit in _TIMES:
        return "factor", number, half, 1.0
    if unit_named(unit, "share") == "%" or after[:2] == ["per", "cent"]:
        return "percent", number, half, 1.0
    weight = unit and unit_named(unit, "weight")
    if weight:
        return "weight", number, half, KINDS["weight"].units[weight]
    return (
        ("percent", number, half, 100.0)
        if (number < 1 and not unit) or (unit == "of" and number < 1)
        else None
    )


def _read_words(words):
    """A claim in words alone: a factor, or a fraction."""
    tokens = re.findall(r"[a-z]+", words)
    factor = next((_FACTORS[t] for t in tokens if t in _FACTORS), None)
    if factor is not None:
        return "factor", factor, factor * COARSEST, 1.0
    for before, token in zip(["", *tokens], tokens):
        count = _NUMBERS.get(before, 1.0)
        if token in _PARTS:
            return "percent", count / _PARTS[token], count / _PARTS[token] * COARSEST, 100.0
        if token == "times" and before in _NUMBERS:
            return "factor", count, count * COARSEST, 1.0
    return None


def _rounding(typed, number):
    """Half of the last place that is not zero, at most a tenth of the number: 150 -> 5, 34 -> 0.5,
    2 -> 0.2.

    People count in fives too, so a number that ends in five is taken as one of those: 25 -> 2.5.
    """
    if "/" in typed:
        return number * COARSEST
    whole, _, part = (
        typed.replace(",", ".").rpartition(".")
        if re.search(r"[.,]\d{1,2}$", typed)
        else (typed, "", "")
    )
    digits = re.sub(r"\D", "", whole)
    place = 10.0 ** -len(part) if part else 10.0 ** (len(digits) - len(digits.rstrip("0")))
    if not part and len(digits) > 1 and digits.endswith("5"):
        place = 5.0
    return min(place / 2, number * COARSEST)


# Front and rear load, with the piece and without it; the rear may not have been read.
Loads: TypeAlias = tuple[tuple[Measured, Measured | None], tuple[Measured, Measured | None]]


@dataclass(frozen=True)
class Base:
    """One answer to "percent of what": the front change over this base."""

    name: str
    percent: Measured
    fits: bool | None


@dataclass(frozen=True)
class Audit:
    """What a claim needs, and whether it fits.

    needs_ahead, needs_weight   Measured; None where the claim asks for nothing of that kind
    found_ahead, found_weight   what tape, scale or readings say; None where nothing does
    fits        True, False, or None where nothing was measured to hold it against
    bases       for a percentage or fraction: every base it could mean, and which of them fit
    """

    claim: Claim
    piece: str
    front: Measured
    needs_ahead: Measured | None
    needs_weight: Measured | None
    found_ahead: Measured | None
    found_weight: Measured | None
    bases: tuple[Base, ...]
    fits: bool | None
    hung: InferredPiece | None
    front_percent: Measured

    def sentences(self, system: str | None = None) -> tuple[str, str, str]:
        """(what it needs, whether it fits, what to say instead), in words."""
        return needed(self, system), verdict(self, system), said_instead(self, system)


def audit(
    claim: str | Claim,
    *,
    with_it: tuple[Any, Any],
    without: tuple[Any, Any],
    wheelbase: Given,
    piece: str = "bucket",
    ahead: Given | None = None,
    u_ahead: Given | None = None,
    weight: Given | None = None,
    u_weight: Given | None = None,
    u_reading: Given | None = None,
    u_wheelbase: Given | None = None,
    scales: Scales | None = None,
    rounding: float | None = None,
) -> Audit:
    """Hold a spoken claim against readings.

    claim               text such as "twice its weight", "about 150 lb", "30 %", "a third", or a
                        Claim
    with_it, without    (front, rear) readings with the piece on and off; rear may be None
    ahead, weight       the piece's overhang by tape and its weight by scale, where they were
                        measured
    rounding            half-width of the claim's rounding, where the usual guess will not do

    >>> found = audit("twice its weight", with_it=(790, 720), without=(600, 800), wheelbase=1.65,
    ...               u_reading=2, u_wheelbase=0.003, ahead="1.20 m", u_ahead=0.02)
    >>> found.needs_ahead.value, found.fits
    (1.65, False)
    """
    claim = claim if isinstance(claim, Claim) else read_claim(claim, rounding)
    base = wheelbase_of(wheelbase, u_wheelbase)
    loads = _loads(with_it, without, scales, u_reading)
    (front_on, rear_on), (front_off, rear_off) = loads
    front = front_on - front_off
    hung = None if rear_on is None or rear_off is None else infer(loads[1], loads[0], base)
    place, heavy = (hung.ahead, hung.weight) if hung else (None, None)
    if ahead is not None:
        place = read_measured(
            ahead, "length", "overhang by tape", u_ahead, low=-20, high=20, cause="tape"
        )
    if weight is not None:
        heavy = read_measured(weight, "weight", "weight by scale", u_weight, low=0)
    return _judged(claim, piece, front, base, loads, hung, place, heavy)


def _loads(
    with_it: tuple[Any, Any],
    without: tuple[Any, Any],
    scales: Scales | None,
    u_reading: Given | None,
) -> Loads:
    """The readings of both set-ups as loads."""
    given = {
        f"{axle} reading {when}": one
        for when, pair in (("with it", with_it), ("without it", without))
        for axle, one in zip(AXLES, pair_of(pair, f"readings {when}"))
    }
    front_on, rear_on, front_off, rear_off = Session(scales, u_reading, given).loads().values()
    if front_on is None or front_off is None:
        raise Refusal(
            "readings",
            "no front axle",
            "front readings with and without the piece",
            "read the front axle twice",
        )
    return (front_on, rear_on), (front_off, rear_off)


def _judged(
    claim: Claim,
    piece: str,
    front: Measured,
    base: Measured,
    loads: Loads,
    hung: InferredPiece | None,
    ahead: Measured | None,
    weight: Measured | None,
) -> Audit:
    """The audit of each kind of claim."""
    need_a, need_w = _needs(claim, front, base), _needs_weight(claim, front)
    bases: tuple[Base, ...] = ()
    if claim.kind == "percent":
        bases = tuple(
            Base(name, p, fitting(p, claim.value)) for name, p in percents(front, loads, weight)
        )
        fits = any(b.fits for b in bases) if any(b.fits is not None for b in bases) else None
    else:
        checks = [
            fitting(need, found)
            for need, found in ((need_a, ahead), (need_w, weight))
            if found is not None
        ]
        fits = None if not checks or None in checks else all(checks)
    return Audit(
        claim,
        piece,
        front,
        need_a,
        need_w,
        ahead,
        weight,
        bases,
        fits,
        hung,
        statics.share(front, loads[0][0]),
    )


def _needs(claim, front, base):
    """The overhang a claim needs: a factor by itself, a weight together with the front change."""
    if claim.kind == "percent":
        return None
    return statics.overhang_for(
        claim.value if claim.kind == "factor" else front / claim.value, base
    )


def _needs_weight(claim, front):
    """The weight a claim needs: the one it names, or the front change over the factor it names."""
    return {"weight": claim.value, "factor": front / claim.value, "percent": None}[claim.kind]


def fitting(one: Measured, other: Measured) -> bool | None:
    """True where two numbers agree within the expanded uncertainty of their difference; None where
    that is unknown.
    """
    difference = one - other
    U = difference.expanded()
    return abs(difference.value) <= U if U == U else None


def percents(front: Measured, loads: Loads, weight: Measured | None) -> list[tuple[str, Measured]]:
    """The front change in percent of each thing it could be a percent of: (base, Measured)."""
    (front_with, rear_with), (front_without, rear_without) = loads
    bases = [
        ("what the front axle carries with it", front_with),
        ("what the front axle carries without it", front_without),
    ]
    if rear_with is not None and rear_without is not None:
        bases += [
            ("the whole machine with it", front_with + rear_with),
            ("the whole machine without it", front_without + rear_without),
            ("what the rear axle carries without it", rear_without),
        ]
    if weight is not None:
        bases.append(("its own weight", weight))
    return [(name, statics.share(front, whole)) for name, whole in bases]


brief = partial(plus_minus, brief=True)


def needed(audit: Audit, system: str | None = None) -> str:
    """What the claim would need to be true."""
    said = f'"{audit.claim.text}"'
    if audit.needs_ahead is None or audit.needs_weight is None:
        return (
            f"{said} needs a base. The front axle's change is "
            + "; ".join(f"{percent_text(base.percent)} of {base.name}" for base in audit.bases)
            + "."
        )
    place = place_in_words(audit.needs_ahead, system, brief=True)
    weight = brief(audit.needs_weight, "weight", system)
    if audit.claim.kind == "factor":
        return (
            f"{said} needs the center of gravity of the {audit.piece} {place}, "
            f"and a weight of {weight}."
        )
    return f"{said} needs the center of gravity of the {audit.piece} {place}."


def verdict(audit: Audit, system: str | None = None) -> str:
    """Whether it fits what was measured."""
    if audit.claim.kind == "percent":
        fitting = [base.name for base in audit.bases if base.fits]
        return (
            f"It fits as a percentage of {' or of '.join(fitting)}."
            if fitting
            else "It fits none of these bases."
        )
    found = []
    if audit.found_ahead is not None:
        found.append(place_in_words(audit.found_ahead, system, brief=True))
    if audit.found_weight is not None:
        found.append(brief(audit.found_weight, "weight", system))
    if audit.fits is None:
        return (
            "Nothing was measured to hold it against: measure the overhang with a tape, "
            "or read the rear axle too."
        )
    measured = f"Measured: {' and '.join(found)}. "
    return measured + (
        "The claim fits within the uncertainty." if audit.fits else "The claim does not fit."
    )


def said_instead(audit: Audit, system: str | None = None) -> str:
    """What can be said honestly: each percentage with its base, each number with its +/-."""
    taken, off = (
        (audit.front, "takes {} off")
        if audit.front.value > 0
        else (-audit.front, "puts {} more on")
    )
    said = [
        f"Say: taking the {audit.piece} off {off.format(brief(taken, 'weight', system))} "
        "the front axle, "
        f"{percent_text(abs(audit.front_percent))} of what that axle carried with it on."
    ]
    if audit.hung is not None:
        said.append(
            f"The machine loses {brief(audit.hung.weight, 'weight', system)}; "
            "the front axle changes by "
            f"{number_text(audit.hung.factor)} times that. "
            "Each ± holds the truth in 95 of 100 cases."
        )
    return " ".join(said)


def percent_text(number: Measured) -> str:
    """A percentage with its +/-, where known."""
    return f"{number_text(number)} %"


def number_text(number: Measured) -> str:
    """A bare number with its +/-, where known."""
    U = number.expanded()
    return "{} ± {}".format(*rounded(number.value, U)) if U == U else show_number(number.value, 1)
