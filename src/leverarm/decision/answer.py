"""An answer given to a customer, held against this machine: is the number there, is it right, is too much promised?

Nothing is marked right or wrong as a whole.  Each point says what was found and asks one question.
Typed text is only searched, never run.
"""

import re
from dataclasses import dataclass

from leverarm.decision.claims import true_number
from leverarm.numerals import number_readings, plain
from leverarm.quantities import KINDS, Refusal, unit_named

MOST_TEXT = 2000
# How far a spoken number may be from the true one: people round.
ROUNDED = 0.06
_PROMISES = re.compile(
    r"\b(no ruts?|never ruts?|guarantee\w*|warrant\w*|safe|resale|saves? (you )?(fuel|money|diesel)|"
    r"lasts? longer|\d+ (more )?hours?|will (surely|certainly|always)|can('|no)?t (tip|rut)|won'?t (tip|rut))\b",
    re.IGNORECASE,
)
_DENIED = re.compile(
    r"\b(not|no one|nobody|never|can'?t|cannot|don'?t|without) (\w+ ){0,3}(promise|guarantee|say|tell|call)",
    re.IGNORECASE,
)
# A number, perhaps with its plus or minus, and what follows it.
_NUMBER = re.compile(
    r"(\d[\d.,]*)(?:\s*(?:±|\+/-|plus or minus)\s*\d[\d.,]*)?\s*(%|per ?cent|times|[a-zA-Z]+)?"
)
_MANUAL = re.compile(r"\bmanual\b", re.IGNORECASE)
_AXLE = re.compile(r"\b(front|rear|axle|machine|ground|tire|tire|soil)\b", re.IGNORECASE)
# Claims whose answer must send the customer to a manual.
MANUAL_DECIDES = ("bucket_enough", "ballast_fixes", "four_wheel", "raise", "fluid")


@dataclass(frozen=True)
class Point:
    """One thing an honest answer has: whether it was found, and what to say about it."""

    name: str
    found: bool
    said: str


def quantities_in(text):
    """(kind, value in its base unit) of every number with a unit that a text holds; "times" for a factor.

    >>> quantities_in("about 190 kg, 1.73 times, 30 percent, 422 lb")[:3]
    [('weight', 190.0), ('times', 1.73), ('share', 30.0)]
    """
    found = []
    for typed, unit in _NUMBER.findall(plain(text)):
        readings, kind = number_readings(typed.rstrip(".,")), _kind(unit)
        if readings and kind:
            found.append(
                (
                    kind,
                    readings[0]
                    * (
                        1.0 if kind == "times" else KINDS[kind].units[unit_named(_unit(unit), kind)]
                    ),
                )
            )
    return found


def _unit(unit):
    return "%" if re.fullmatch(r"per ?cent", unit, re.IGNORECASE) else unit


def _kind(unit):
    """The kind of quantity a unit belongs to, of those that occur in answers."""
    if unit.lower() == "times":
        return "times"
    return next(
        (
            kind
            for kind in ("weight", "share", "pressure", "length")
            if unit and unit_named(_unit(unit), kind)
        ),
        None,
    )


def check_answer(text, claim, case):
    """Points of an answer to a spoken claim, for this machine.

    >>> from leverarm.decision.claims import CLAIMS
    >>> from leverarm.decision.demo import demo_case
    >>> [p.found for p in check_answer("190 kg comes off the front axle here.", CLAIMS[0], demo_case())]
    [True, True, True, True]
    """
    words = str(text).strip()
    if not words or len(words) > MOST_TEXT:
        raise Refusal(
            "answer",
            f"{len(words)} letters",
            f"1 to {MOST_TEXT} letters",
            "say it in a sentence or two",
        )
    true = quantities_in(true_number(claim, case, "kg"))
    told = quantities_in(words)
    right = any(_near(one, other) for one in told for other in true)
    promised = None if _DENIED.search(words) else _PROMISES.search(words)
    manual = claim.key not in MANUAL_DECIDES or bool(_MANUAL.search(words))
    return (
        Point(
            "a number",
            bool(told),
            "A number with its unit stands in it."
            if told
            else "There is no number with a unit in it. What did the scales say?",
        ),
        Point(
            "this machine's number",
            right,
            "It is this machine's number."
            if right
            else "No number in it is this machine's. Look at the card again: which axle, which piece?",
        ),
        Point(
            "what it is a number of",
            bool(_AXLE.search(words)),
            "It says what the number belongs to."
            if _AXLE.search(words)
            else "A number of what: the front axle, the machine, the ground?",
        ),
        _last(promised, manual, claim),
    )


def _last(promised, manual, claim):
    if promised:
        return Point(
            "nothing promised",
            False,
            f"“{promised.group(0)}” is a promise no scale can keep. What can you say instead?",
        )
    if not manual:
        return Point(
            "who decides",
            False,
            "Who decides this, you or the manual? Say where the customer can read it.",
        )
    return Point(
        "nothing promised",
        True,
        "It promises nothing that no scale can show"
        + (", and it sends the customer to the manual." if claim.key in MANUAL_DECIDES else "."),
    )


def _near(one, other):
    """True for two quantities of one kind that agree as spoken numbers do."""
    return one[0] == other[0] and abs(one[1] - other[1]) <= ROUNDED * max(
        abs(other[1]), 1.0 if other[0] == "weight" else 0.02
    )
