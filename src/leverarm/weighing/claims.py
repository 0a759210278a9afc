"""A spoken claim against the readings: what it would need, whether that fits, and what to say
instead.
"""

from dataclasses import dataclass

from leverarm import statics
from leverarm.quantities import Refusal
from leverarm.uncertainty import Measured
from leverarm.weighing.audit_words import needed, said_instead, verdict
from leverarm.weighing.infer import InferredPiece, infer, pair_of
from leverarm.weighing.scales import AXLES, Session, read_measured, wheelbase_of
from leverarm.weighing.spoken import Claim, read_claim


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
    bases: tuple
    fits: bool | None
    hung: InferredPiece | None
    front_percent: Measured

    def sentences(self, system="kg"):
        """(what it needs, whether it fits, what to say instead), in words."""
        return needed(self, system), verdict(self, system), said_instead(self, system)


def audit(
    claim,
    *,
    with_it,
    without,
    wheelbase,
    piece="bucket",
    ahead=None,
    u_ahead=None,
    weight=None,
    u_weight=None,
    u_reading=None,
    u_wheelbase=None,
    scales=None,
    rounding=None,
):
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
    front, loads = front_on - front_off, ((front_on, rear_on), (front_off, rear_off))
    hung = None if rear_on is None or rear_off is None else infer(loads[1], loads[0], base)
    tape = (
        None
        if ahead is None
        else read_measured(
            ahead, "length", "overhang by tape", u_ahead, low=-20, high=20, cause="tape"
        )
    )
    scale = (
        None
        if weight is None
        else read_measured(weight, "weight", "weight by scale", u_weight, low=0)
    )
    return _judged(claim, piece, front, base, loads, hung, tape, scale)


def _judged(claim, piece, front, base, loads, hung, tape, scale):
    """The audit of each kind of claim."""
    ahead = tape if tape is not None else hung and hung.ahead
    weight = scale if scale is not None else hung and hung.weight
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


def fitting(one, other):
    """True where two numbers agree within the expanded uncertainty of their difference; None where
    that is unknown.
    """
    difference = one - other
    U = difference.expanded()
    return abs(difference.value) <= U if U == U else None


def percents(front, loads, weight):
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
