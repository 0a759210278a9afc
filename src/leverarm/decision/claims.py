"""Spoken claims against statics: what is said, what is so, and the numbers that answer it for one
machine.

The words stand in ``data/claims.toml``; the formulas in :mod:`.claim_numbers`.
"""

from collections.abc import Callable
from dataclasses import dataclass

from leverarm import driveline, statics
from leverarm.data import Entry, toml_file
from leverarm.decision.case import Case
from leverarm.decision.claim_numbers import (
    HELD_AGAINST,
    SHOWN,
    Letters,
    ballast_front,
    ballast_rear,
    bucket_front,
    heavier_tangent,
    letters_of,
    patch_pressure,
    raised,
    stays,
    stress_below,
)
from leverarm.ground import formulas as soil
from leverarm.numerals import Numeric
from leverarm.uncertainty import value_of

PARTS = ("bucket", "ballast", "drive", "tires")


@dataclass(frozen=True)
class SpokenClaim:
    """One claim.

    said        the words;  truth  what statics says, for any machine
    claimed, so   calls on Letters: what the words claim, and what our formulas give, of one
                  quantity
    kind        of that quantity, for printing
    template    the sentence with a machine's number, its names of SHOWN in braces
    say         what to say instead
    needs       what must be told of the machine: bucket, ballast, drive, tires
    """

    key: str
    said: str
    truth: str
    claimed: Callable[[Letters], Numeric]
    so: Callable[[Letters], Numeric]
    kind: str
    template: str
    say: str
    needs: str

    def number(self, letters: Letters, system: str | None) -> str:
        """The sentence with this machine's number."""
        return self.template.format(
            **{
                name: show(letters, system)
                for name, show in SHOWN.items()
                if f"{{{name}}}" in self.template
            }
        )

    def holds(self, letters: Letters) -> bool | None:
        """True where claim and truth agree for these numbers, within the plus or minus if there is
        one.
        """
        gap = self.claimed(letters) - self.so(letters)
        U = gap.expanded() if hasattr(gap, "expanded") else 0.0
        return (
            abs(value_of(gap)) <= max(U, 1e-9 * abs(value_of(self.so(letters)))) if U == U else None
        )


def read_claims(words: Entry) -> tuple[SpokenClaim, ...]:
    """The SpokenClaims of a data file; Refusal with file and key for what cannot be used.

    Every claim that has formulas must be there once, and each name in braces must be known.
    """
    made: dict[str, SpokenClaim] = {}
    for entry in words.rows("claim"):
        key = entry.one_of("name", HELD_AGAINST)
        template = entry.template("number", SHOWN)
        if key in made:
            raise entry.refusal("name", key, "each claim once", "take one of them out")
        made[key] = SpokenClaim(
            key,
            entry.text("said"),
            entry.text("truth"),
            *HELD_AGAINST[key],
            template,
            entry.text("say"),
            entry.one_of("needs", PARTS),
        )
        entry.done()
    for key in HELD_AGAINST:
        if key not in made:
            raise words.refusal("claim", f"no claim {key}", "every claim once", "add it")
    return tuple(made.values())


_WORDS = toml_file("claims")
CLAIMS = read_claims(_WORDS)
NEVER_PROMISE = _WORDS.texts("never_promise")
RED_LINES = (
    *_WORDS.texts("red_lines"),
    f"Never promise: {', '.join(NEVER_PROMISE)}.",
)
MISSING = {part: _WORDS.part("missing").text(part) for part in (*PARTS, "height")}


def has(case: Case, part: str) -> bool:
    """True where the Case has this part: bucket, ballast, tires, drive."""
    return {"tires": case.tires.front, "drive": case.drive and case.drive.drive}.get(
        part, getattr(case, part, None)
    ) is not None


def missing_for(claim: SpokenClaim, case: Case) -> str:
    """The sentence that says what a claim's number lacks for this Case; "" where nothing does."""
    if not has(case, claim.needs):
        return MISSING[claim.needs]
    if claim.key == "heavier_stable" and case.bucket and case.bucket.height_m is None:
        return MISSING["height"]
    return ""


def true_number(claim: SpokenClaim, case: Case, system: str | None = None) -> str:
    """The sentence with this machine's number, or the one that says what was not told."""
    return missing_for(claim, case) or claim.number(letters_of(case), system)


def holds_for(claim: SpokenClaim, case: Case) -> bool | None:
    """Whether a claim holds for a Case: True, False, or None where that cannot be known."""
    return None if missing_for(claim, case) else claim.holds(letters_of(case))


# The true numbers that answer a claim ---------------------------------------------------


@dataclass(frozen=True)
class Fact:
    """One true number of a machine that answers a claim, with what it belongs to.

    kind, value     as in leverarm.quantities, in the base unit, without a sign; "times" for a
                    factor
    of      what it may be called a number of: "front", "rear", "machine", "piece", "tire"
    way     +1 where it goes on, -1 where it comes off, 0 where that says nothing
    hung    True where that is what hanging the piece on does, False for taking it off
    """

    kind: str
    value: float
    of: tuple[str, ...]
    way: int = 0
    hung: bool = False


def facts_of(claim: SpokenClaim, case: Case) -> tuple[Fact, ...]:
    """The Facts that answer a claim for a Case; empty where their numbers were not told."""
    if missing_for(claim, case):
        return ()
    return _FACTS[claim.key](letters_of(case).numbers)


def _changes(front, rear, way, hung):
    """The Facts of a piece: what both axles and the machine feel when it goes on or comes off.

    front, rear     what hanging it on adds to each axle, below zero where it takes off
    way     +1 where the claim hangs it on, -1 where it takes it off
    """

    def sign(change):
        return way * ((change > 0) - (change < 0))

    return (
        Fact("weight", abs(front), ("front",), sign(front), hung),
        Fact("weight", abs(rear), ("rear",), sign(rear), hung),
        Fact("weight", front + rear, ("machine",), way, hung),
        Fact("weight", front + rear, ("piece",), 0, hung),
    )


def _bucket_facts(x):
    return (
        *_changes(bucket_front(x), statics.rear_change(x.W, x.a, x.L), -1, False),
        Fact("times", bucket_front(x) / x.W, ("front", "piece")),
    )


def _loader_facts(x):
    front, rear = statics.reactions([x.W, x.V], [x.a, x.v], x.L)
    frame = statics.front_gain(x.V, x.v, x.L)
    return (
        *_changes(front, rear, -1, False),
        Fact("times", front / (x.W + x.V), ("front", "piece")),
        Fact("times", frame / x.V, ("front", "piece")),
    )


def _stays_facts(x):
    """What stays counts as going on: it is still there with the bucket off."""
    stays_kg = statics.front_gain(x.V, x.v, x.L)
    return (
        Fact("share", stays(x), ("front",), +1),
        Fact("share", 100 - stays(x), ("front",), -1),
        Fact("weight", stays_kg, ("front",), +1),
        *_changes(bucket_front(x), statics.rear_change(x.W, x.a, x.L), -1, False),
    )


def _ballast_facts(x):
    return _changes(ballast_front(x), ballast_rear(x), +1, True)


def _fluid_facts(x):
    nothing, all_of_it = (f(x.B, -x.L, x.L) for f in (statics.front_gain, statics.rear_change))
    return _changes(nothing, all_of_it, +1, True)


def _drive_facts(x):
    ground = ("tire", "front", "machine")
    return (
        Fact("share", x.lead, ground),
        Fact("length", driveline.slip_distance(x.path, x.lead), ground),
        Fact("length", x.path, ground),
    )


def _raise_facts(x):
    return (Fact("weight", raised(x), ("front",)), Fact("length", x.r, ("front", "piece")))


def _stable_facts(x):
    of = ("machine", "piece", "front", "rear")
    return (
        Fact("times", x.k, of),
        Fact("times", heavier_tangent(x, x.k) / heavier_tangent(x), of),
    )


def _pressure_facts(x):
    under = ("tire", "front", "machine")
    return (
        Fact("share", statics.share(x.D, x.N), under, +1, True),
        Fact("pressure", soil.mean_pressure(x.N, 1, x.A), under),
        Fact("pressure", patch_pressure(x), under),
    )


def _rut_facts(x):
    return (Fact("pressure", stress_below(x), ("tire", "front", "machine")),)


_FACTS = {
    "twice": _bucket_facts,
    "whole_loader": _loader_facts,
    "bucket_enough": _stays_facts,
    "ballast_fixes": _ballast_facts,
    "fluid": _fluid_facts,
    "happy_soil": _ballast_facts,
    "four_wheel": _drive_facts,
    "raise": _raise_facts,
    "heavier_stable": _stable_facts,
    "psi": _pressure_facts,
    "no_ruts": _rut_facts,
}
