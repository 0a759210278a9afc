"""An answer given to a customer, held against this machine: is the number there, is it right, is
too much promised?

Nothing is marked right or wrong as a whole.  Each point says what was found and asks one question.
A number counts only for the axle and the direction that it belongs to.  Typed text is only
searched, never run.
"""

import re
from dataclasses import dataclass

from leverarm.decision.case import Case
from leverarm.decision.claims import Fact, SpokenClaim, facts_of
from leverarm.numerals import number_readings, plain
from leverarm.quantities import KINDS, Refusal, unit_named
from leverarm.weighing.promises import promise_reader

MOST_TEXT = 2000
# How far a spoken number may be from the true one: people round.
ROUNDED = 0.06
# Claims whose answer must send the customer to a manual.
MANUAL_DECIDES = ("bucket_enough", "ballast_fixes", "four_wheel", "raise", "fluid")

# A number, perhaps with its plus or minus, and what follows it.
_NUMBER = re.compile(
    r"([-+]?)(\d[\d.,]*)(?:\s*(?:±|\+/-|plus or minus)\s*\d[\d.,]*)?"
    r"\s*(%|(?i:per ?cent)|[a-zA-Z]+)?"
)
_MANUAL = re.compile(r"\bmanual\b", re.IGNORECASE)
_PIECE = r"(?:bucket|loader frame|loader|frame|ballast|counterweight|weights?|fluid)"
# What is done to the piece, said beside the number; its "off" says nothing of the number.
_TAKEN_OFF = re.compile(
    rf"\b(tak(?:e|es|ing|en)|unhook(?:s|ing)?|remov(?:e|es|ing)) "
    rf"(?:the |your |a )?{_PIECE}(?: off)?"
    rf"|\b(?:with )?(?:the |your )?{_PIECE}(?: is| comes| taken)? off\b"
    rf"|\bwithout (?:the |your |a )?{_PIECE}",
    re.IGNORECASE,
)
_HUNG_ON = re.compile(
    rf"\b(?:with (?:the |your |a )?{_PIECE} (?:is )?(?:on|hung|hitched)"
    rf"|(?:hang|put)(?:s|ting|ing)? (?:the |your |a )?{_PIECE} (?:back )?on(?! the)"
    rf"|(?:the|your|a|an|its) (?:\w+ )?{_PIECE} (?:itself )?"
    r"(?=puts?|adds?|takes?|lifts?|loads?|relieves?|gives?|brings?|presses|holds?))",
    re.IGNORECASE,
)
_OWNER = re.compile(r"\b(?:on|of|for|with|at) (?:this|your|our|the) (?:machine|tractor)\b", re.I)
_PLACES = {
    "front": re.compile(r"\b(?:front|steering)\b", re.IGNORECASE),
    "rear": re.compile(
        r"\b(?:rear|back) (?:axle|scale|wheels?|tires?|end|reading)\b|\brear\b", re.I
    ),
    "machine": re.compile(r"\b(?:machine|tractor|total|altogether|ground|soil)\b", re.IGNORECASE),
    "piece": re.compile(r"\b(?:weighs?|itself|own weight)\b", re.IGNORECASE),
    "tire": re.compile(r"\b(?:tires?|grass|turf|lawn)\b", re.IGNORECASE),
}
_DOWN = re.compile(
    r"\b(?:off|less|lighter|los(?:es|e|t|ing)|down|drops?|falls?|remov\w+|reliev\w+|reduc\w+|"
    r"decreas\w+|from|gone|goes away|minus|lifts?)\b",
    re.IGNORECASE,
)
_UP = re.compile(
    r"\b(?:more|heavier|gain\w*|add\w*|up|puts?|ris\w+|increas\w+|extra|plus|comes back|"
    r"goes (?:back )?(?:on|to|onto)|loads|stays?|remains?|left)\b",
    re.IGNORECASE,
)
_WORDS = {
    "front": "the front axle",
    "rear": "the rear axle",
    "machine": "the whole machine",
    "piece": "the piece itself",
    "tire": "one tire",
}


@dataclass(frozen=True)
class ReplyPoint:
    """One thing an honest answer has: whether it was found, and what to say about it."""

    name: str
    found: bool
    said: str


@dataclass(frozen=True)
class Said:
    """One number of an answer: its kind and value, and what its clause says it belongs to.

    place   "front", "rear", "machine", "piece" or "tire"; "" where the clause names none
    way     +1 where it is said to go on, -1 off, 0 where the clause says neither
    hung    True where the clause hangs the piece on, False where it takes it off, None where
            it leaves that to the customer's claim
    """

    kind: str
    value: float
    place: str = ""
    way: int = 0
    hung: bool | None = None


def quantities_in(text: str) -> list[tuple[str, float]]:
    """(kind, value in its base unit) of every number with a unit that a text holds; "times" for a
    factor.

    >>> quantities_in("about 190 kg, 1.73 times, 30 percent, 422 lb")[:3]
    [('weight', 190.0), ('times', 1.73), ('share', 30.0)]
    """
    return [found for match in _NUMBER.finditer(plain(text)) if (found := _quantity(match))]


def _quantity(match: re.Match[str]) -> tuple[str, float] | None:
    """(kind, value in its base unit) of one number, or None where no unit is known."""
    _, typed, unit = match.groups()
    unit = "%" if unit and re.fullmatch(r"per ?cent", unit, re.IGNORECASE) else unit or ""
    readings = number_readings(typed.rstrip(".,"))
    if unit.lower() == "times":
        return ("times", readings[0]) if readings else None
    for kind in ("weight", "share", "pressure", "length"):
        if readings and unit and (named := unit_named(unit, kind)):
            return kind, readings[0] * KINDS[kind].units[named]
    return None


def numbers_said(text: str) -> tuple[Said, ...]:
    """Every number with a unit in an answer, with the axle and the direction that its clause names.

    >>> numbers_said("Bucket off, 190 kg comes off the front axle and the rear gets 80 kg more.")[1]
    Said(kind='weight', value=80.0, place='rear', way=1, hung=False)
    """
    said: list[Said] = []
    for sentence in re.split(r"(?<!\d)[.;:!?]|[.;:!?](?!\d)", plain(text).replace("’", "'")):
        before, lead = Said("", 0.0), ""
        for clause in re.split(r",(?!\d)|\b(?:and|but|while|whereas)\b", sentence):
            clause = f"{lead} {clause}"
            matches = [match for match in _NUMBER.finditer(clause) if _quantity(match)]
            # A clause without a number opens the next one: "On the front axle, it is 190 kg less."
            lead = "" if matches else clause
            for match in matches:
                before = _in_clause(clause, match, before)
                said.append(before)
    return tuple(said)


def _in_clause(clause: str, match: re.Match[str], before: Said) -> Said:
    """One number with what its clause says; what it leaves out stands in the number before it."""
    kind, value = _quantity(match) or ("", 0.0)
    off, on = _TAKEN_OFF.search(clause), _HUNG_ON.search(clause)

    def blank(found):
        return " " * len(found.group())

    bare = _OWNER.sub(blank, _TAKEN_OFF.sub(blank, clause))
    near = {
        name: min(abs(found.start() - match.start()) for found in pattern.finditer(bare))
        for name, pattern in _PLACES.items()
        if pattern.search(bare)
    }
    if len(near) > 1:
        near.pop("piece", None)
    down, up = bool(_DOWN.search(bare)), bool(_UP.search(bare))
    sign = {"-": -1, "+": 1}.get(match.group(1), 0)
    return Said(
        kind,
        value,
        min(near, key=near.__getitem__) if near else before.place,
        sign or up - down,
        False if off else True if on else before.hung,
    )


def _belongs(one: Said, fact: Fact) -> bool:
    """Whether a number is this fact: value, axle and direction."""
    way = fact.way if one.hung in (None, fact.hung) else -fact.way
    return _near(one, fact) and (not one.place or one.place in fact.of) and way * one.way in (0, 1)


def _near(one: Said, fact: Fact) -> bool:
    """True for a number and a fact that agree as spoken numbers do."""
    least = 1.0 if fact.kind == "weight" else 0.02
    return one.kind == fact.kind and abs(one.value - abs(fact.value)) <= ROUNDED * max(
        abs(fact.value), least
    )


def check_answer(text: str, claim: SpokenClaim, case: Case) -> tuple[ReplyPoint, ...]:
    """Points of an answer to a spoken claim, for this machine.

    >>> from leverarm.decision.claims import CLAIMS
    >>> from leverarm.decision.demo import demo_case
    >>> right = check_answer("203 kg comes off the front axle here.", CLAIMS[0], demo_case())
    >>> [point.found for point in right]
    [True, True, True, True]
    >>> check_answer("203 kg comes off the rear axle here.", CLAIMS[0], demo_case())[1].found
    False
    """
    words = " ".join(str(text).split())
    if not words or len(words) > MOST_TEXT:
        raise Refusal(
            "answer",
            f"{len(words)} letters",
            f"1 to {MOST_TEXT} letters",
            "say it in a sentence or two",
        )
    said, facts = numbers_said(words), facts_of(claim, case)
    return (
        ReplyPoint(
            "a number",
            bool(said),
            "A number with its unit stands in it."
            if said
            else "There is no number with a unit in it. What did the scales say?",
        ),
        _right(said, facts),
        _of_what(said),
        _last(words, claim),
    )


def _right(said: tuple[Said, ...], facts: tuple[Fact, ...]) -> ReplyPoint:
    """Whether a number is this machine's, and none of them is put on a wrong axle or in a wrong
    direction.
    """
    name = "this machine's number"
    if not facts:
        return ReplyPoint(
            name, False, "This claim has no number for this machine. What was not told?"
        )
    for one in said:
        known = [fact for fact in facts if _near(one, fact)]
        if known and not any(_belongs(one, fact) for fact in known):
            return ReplyPoint(name, False, _misplaced(one, known))
    if any(_belongs(one, fact) for one in said for fact in facts):
        return ReplyPoint(name, True, "It is this machine's number.")
    return ReplyPoint(
        name,
        False,
        "Not one of its numbers belongs to this machine. Look at the card again: which axle, "
        "which piece?",
    )


def _misplaced(one: Said, known: list[Fact]) -> str:
    """What is wrong with a number that this machine has, but not there or not that way."""
    if one.place and not any(one.place in fact.of for fact in known):
        return (
            f"This machine has that number, but not for {_WORDS[one.place]}: it belongs to "
            f"{_WORDS[known[0].of[0]]}. Which axle do you mean?"
        )
    return "The number is this machine's, but it changes the other way. Does it go on or come off?"


def _of_what(said: tuple[Said, ...]) -> ReplyPoint:
    """Whether a number is said to belong to something."""
    found = any(one.place for one in said)
    return ReplyPoint(
        "what it is a number of",
        found,
        "It says what the number belongs to."
        if found
        else "A number of what: the front axle, the machine, the ground?",
    )


def _last(words: str, claim: SpokenClaim) -> ReplyPoint:
    """Whether nothing is promised, and the manual is named where it decides."""
    if promised := promise_reader().first(words):
        return ReplyPoint(
            "nothing promised",
            False,
            f"“{promised.words}” is a promise no scale can keep. What can you say instead?",
        )
    decides = claim.key in MANUAL_DECIDES
    if decides and not _MANUAL.search(words):
        return ReplyPoint(
            "who decides",
            False,
            "Who decides this, you or the manual? Say where the customer can read it.",
        )
    sends = ", and it sends the customer to the manual." if decides else "."
    return ReplyPoint(
        "nothing promised", True, f"It promises nothing that no scale can show{sends}"
    )
