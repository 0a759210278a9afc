"""What a class says before a lesson answers: hands for each way, and numbers as they are called.

What is asked stands in the lesson's data.  What is typed is read here: "12, 5, 8" for hands in
the order of the ways, "+260, 130, -50" for numbers in the unit shown, a few words for a reason.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from statistics import median
from typing import Any

from leverarm.data import Entry
from leverarm.quantities import KINDS, Refusal, read, show_number, to_unit, unit_of

MOST_HANDS, MOST_CALLED, MOST_LISTED, MOST_LETTERS = 300, 60, 7, 160
# The kind of a question that is answered in words.
WORDS = "words"
# A hand's count is typed with nothing but digits.
_COUNT = re.compile(r"[0-9]{1,6}")
_FAR = {"weight": 50_000.0}


@dataclass(frozen=True)
class RoomQuestion:
    """One thing that a class says before the lock.

    name    what the stage calls it: "front", "left"
    label   what the page calls it
    ways    what hands go up for, in order; none where it is answered in words
    kind    the kind of the numbers that are called out, a name in KINDS; "" asks for hands alone,
            "words" for a reason
    keys    what the stage calls the ways, where it has other words for them
    plain   whether its numbers have no sign: a weight, and not the change of one
    """

    name: str
    label: str
    ways: tuple[str, ...]
    kind: str = ""
    keys: tuple[str, ...] = ()
    plain: bool = False


@dataclass(frozen=True)
class RoomSaid:
    """What a class said to one question.

    hands       a count for each way, in order; none where nobody counted
    numbers     the numbers called out, in the base unit, in the order called
    words       the reason that was given
    """

    hands: tuple[int, ...] = ()
    numbers: tuple[float, ...] = ()
    words: str = ""

    @property
    def middle(self) -> float:
        """The median of the numbers called out."""
        return median(self.numbers)


def room_questions(lesson: Entry) -> tuple[RoomQuestion, ...]:
    """What a lesson asks a class; none where its data asks nothing.  Refusal with file and key."""
    found = []
    for row in lesson.rows("room"):
        kind, ways = row.one_of("kind", ("", *KINDS, WORDS), ""), row.texts("ways", ())
        if kind != WORDS and not 2 <= len(ways) <= 4:
            raise row.refusal("ways", len(ways), "two to four ways", "add or leave out some")
        keys, plain = row.texts("keys", ()), row.flag("plain")
        if keys and len(keys) != len(ways):
            raise row.refusal("keys", len(keys), "one for each way", "add or leave out some")
        found.append(RoomQuestion(row.text("name"), row.text("label"), ways, kind, keys, plain))
        row.done()
    return tuple(found)


def read_hands(text: str, label: str, ways: tuple[str, ...]) -> tuple[int, ...]:
    """A count of hands for each way, from what was typed.  Raises Refusal.

    >>> read_hands("12, 5 8", "Front", ("more", "the same", "less"))
    (12, 5, 8)
    """
    found = [part for part in re.split(r"[\s,;/]+", text.strip()) if part]
    allowed = f"{len(ways)} whole numbers, for {', '.join(ways)}"
    if len(found) != len(ways) or not all(_COUNT.fullmatch(part) for part in found):
        raise Refusal(f"{label}, hands", text, allowed, "count the hands again")
    counts = tuple(map(int, found))
    if not 1 <= sum(counts) <= MOST_HANDS:
        few = f"1 to {MOST_HANDS} hands together"
        raise Refusal(f"{label}, hands", f"{sum(counts)} hands", few, "count the hands again")
    return counts


def read_called(text: str, label: str, kind: str, system: str) -> tuple[float, ...]:
    """The numbers a class called out, in the base unit; a bare one is in the unit shown.

    Raises Refusal for what is no number, for nothing and for too many.

    >>> read_called("+260, 130; -50 0", "Front", "number", "lb")
    (260.0, 130.0, -50.0, 0.0)
    """
    unit, far = unit_of(kind, system), _FAR.get(kind, 1e6)
    found = [
        read(f"{part} {unit}", kind, f"{label}, numbers", -far, far, do="type plain numbers")
        for part in _parted(text)
    ]
    if not 1 <= len(found) <= MOST_CALLED:
        raise Refusal(
            f"{label}, numbers",
            text or "nothing",
            f"1 to {MOST_CALLED} numbers such as 120, -40",
            "ask the class for a number and type it",
        )
    return tuple(found)


def read_reason(text: str, label: str) -> str:
    """The reason that a class gave, in a few words.  Raises Refusal for none and for a long one."""
    reason = " ".join(text.split())
    if not 1 <= len(reason) <= MOST_LETTERS:
        given = f"{len(reason)} letters" if reason else "nothing"
        allowed = f"a reason of 1 to {MOST_LETTERS} letters"
        raise Refusal(label, given, allowed, "ask the class why and type what most say")
    return reason


def said_to_keep(said: Mapping[str, RoomSaid]) -> dict[str, dict[str, Any]]:
    """What a class said to a question, by name, as a file keeps it."""
    return {name: asdict(one) for name, one in said.items()}


def said_from_file(questions: tuple[RoomQuestion, ...], kept: object) -> dict[str, RoomSaid] | None:
    """What a class said, from what a file kept; None where the file holds anything else."""
    if not isinstance(kept, dict) or set(kept) != {one.name for one in questions}:
        return None
    found = {}
    for one in questions:
        given = kept[one.name]
        parts = [given.get(part) for part in ("hands", "numbers", "words")] if given else []
        if [type(part) for part in parts] != [list, list, str]:
            return None
        hands, numbers, reason = parts
        counted = all(type(hand) is int and 0 <= hand <= MOST_HANDS for hand in hands)
        called = all(type(each) in (int, float) and math.isfinite(each) for each in numbers)
        told = bool(reason if one.kind == WORDS else numbers if one.kind else sum(hands))
        if not (counted and called and told and len(hands) in (0, len(one.ways))):
            return None
        if len(numbers) > MOST_CALLED or len(reason) > MOST_LETTERS:
            return None
        found[one.name] = RoomSaid(tuple(hands), tuple(map(float, numbers)), reason)
    return found


def _parted(text: str) -> list[str]:
    """The numbers of a line, each as it was typed: "1,320" is one, "260,130" is two.

    A comma before three digits groups thousands only behind a single digit, as in most loads.
    """
    found: list[str] = []
    for part in re.split(r"[\s;]+|,(?=\s)|,$", text.replace("−", "-").strip()):
        one = re.fullmatch(r"[+-]?[0-9],[0-9]{3}", part or "")
        found += [part] if one else (part or "").split(",")
    return [part for part in found if part]


def room_words(question: RoomQuestion, said: RoomSaid, system: str) -> tuple[str, str]:
    """The hands and the numbers of a class in words; "" for what nobody told.

    >>> front = RoomQuestion("front", "Front", ("more", "less"), "weight")
    >>> room_words(front, RoomSaid((12, 5), (0.0,)), "lb")
    ('12 more, 5 less', '0 lb')
    """
    if question.kind == WORDS:
        return said.words, ""
    hands = ", ".join(f"{count} {way}" for count, way in zip(said.hands, question.ways))
    if not said.numbers:
        return hands, ""
    unit = unit_of(question.kind, system)
    ordered = [round(to_unit(one, question.kind, unit), 1) for one in sorted(said.numbers)]
    places = 0 if all(number % 1 == 0 for number in ordered) else 1
    shown = [show_number(number, places, sign=not question.plain) for number in ordered]
    listed = shown if len(shown) <= MOST_LISTED else [shown[0], "…", shown[-1]]
    return hands, f"{', '.join(listed)} {unit}"


def lock_text(question: RoomQuestion, said: RoomSaid, system: str) -> str:
    """What the stage is told: the middle of the numbers, the way of most hands, or the reason."""
    if question.kind == WORDS:
        return said.words
    if not question.kind:
        most = said.hands.index(max(said.hands))
        return (question.keys or question.ways)[most]
    unit = unit_of(question.kind, system)
    number = round(to_unit(said.middle, question.kind, unit), 1)
    return f"{number:+.1f} {unit}"
