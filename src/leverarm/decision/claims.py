"""Spoken claims against statics: what is said, what is so, and the number for one machine.

The words stand in ``data/claims.toml``; the formulas in :mod:`.claim_numbers`.
"""

from collections.abc import Callable
from dataclasses import dataclass
from string import Formatter

from leverarm.data import Entry, toml_file
from leverarm.decision.case import Case
from leverarm.decision.claim_numbers import HELD_AGAINST, SHOWN, Letters, letters_of
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

    def number(self, letters: Letters, system: str) -> str:
        """The sentence with this machine's number."""
        return self.template.format(
            **{name: SHOWN[name](letters, system) for name in names_in(self.template)}
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


def names_in(template: str) -> tuple[str, ...]:
    """The names in braces of a sentence, in order."""
    return tuple(name for _, name, _, _ in Formatter().parse(template) if name is not None)


def read_claims(words: Entry) -> tuple[SpokenClaim, ...]:
    """The SpokenClaims of a data file; Refusal with file and key for what cannot be used.

    Every claim that has formulas must be there once, and each name in braces must be known.
    """
    made: dict[str, SpokenClaim] = {}
    for entry in words.rows("claim"):
        key = entry.one_of("name", HELD_AGAINST)
        template = entry.text("number")
        for name in names_in(template):
            if name not in SHOWN:
                raise entry.unknown("number", name, SHOWN)
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


def true_number(claim: SpokenClaim, case: Case, system: str = "kg") -> str:
    """The sentence with this machine's number, or the one that says what was not told."""
    return missing_for(claim, case) or claim.number(letters_of(case), system)


def holds_for(claim: SpokenClaim, case: Case) -> bool | None:
    """Whether a claim holds for a Case: True, False, or None where that cannot be known."""
    return None if missing_for(claim, case) else claim.holds(letters_of(case))
