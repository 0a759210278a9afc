"""What a class said in a lesson and how far it came, kept with the work of a lesson.

What comes back from the file is held against the lesson; a file with anything else counts as none.
"""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass

from leverarm.exercises.room import (
    MOST_HANDS,
    RoomQuestion,
    RoomSaid,
    said_from_file,
    said_to_keep,
)
from leverarm.panels.lesson_work import keep_work, kept_work
from leverarm.quantities import Refusal

# Which vote a step closes.
VOTE_OF = {"vote": "first", "again": "second"}
MOST_DRAWN = 2000
# Under what name the lesson that was chosen last is kept.
_LAST = "class"


@dataclass(frozen=True)
class ClassWork:
    """What a class said in a lesson, and the place of the step it came to."""

    at: int
    said: tuple[dict[str, RoomSaid], ...]
    votes: dict[str, tuple[int, ...]]
    drawn: str


def keep_class(lesson: str, work: ClassWork) -> None:
    """Keep it; a class goes on where the folder takes no file."""
    kept = {
        "at": work.at,
        "said": [said_to_keep(one) for one in work.said],
        "votes": {name: list(hands) for name, hands in work.votes.items()},
        "drawn": work.drawn,
    }
    with suppress(OSError, Refusal):
        keep_work(f"class {lesson}", kept)


def kept_class(
    lesson: str, steps: Sequence[str], questions: tuple[RoomQuestion, ...], letters: int
) -> ClassWork | None:
    """What was kept of a class in the middle of a lesson; None where nothing can be used.

    A class that had come to the end is done: the next one begins with the question.
    """
    work = kept_work(f"class {lesson}")
    at, drawn, listed = work.get("at"), work.get("drawn"), work.get("said")
    if type(at) is not int or not 0 < at < len(steps) - 1 or not isinstance(listed, list):
        return None
    read = [said_from_file(questions, one) for one in listed[: steps.count("ask")]]
    said, passed = tuple(one for one in read if one is not None), steps[:at]
    votes = _votes_from_file(work.get("votes"), letters)
    drawn = drawn[:MOST_DRAWN] if isinstance(drawn, str) else ""
    if (
        len(said) != len(read)
        or len(said) < passed.count("ask")
        or any(VOTE_OF[step] not in votes for step in passed if step in VOTE_OF)
        or ("board" in passed and not drawn)
    ):
        return None
    return ClassWork(at, said, votes, drawn)


def _votes_from_file(kept: object, letters: int) -> dict[str, tuple[int, ...]]:
    """The votes that a file kept, as far as they can be used."""
    found: dict[str, tuple[int, ...]] = {}
    if not isinstance(kept, dict):
        return found
    for name in VOTE_OF.values():
        hands = kept.get(name)
        if (
            isinstance(hands, list)
            and len(hands) == letters
            and all(type(hand) is int and 0 <= hand <= MOST_HANDS for hand in hands)
        ):
            found[name] = tuple(hands)
    return found


def keep_last_lesson(lesson: str) -> None:
    """Keep which lesson was chosen."""
    with suppress(OSError, Refusal):
        keep_work(_LAST, {"lesson": lesson})


def last_lesson(known: Sequence[str], first: str) -> str:
    """The lesson that was chosen last, one of those known; else the one that comes first."""
    try:
        kept = kept_work(_LAST).get("lesson")
    except (OSError, Refusal):
        return first
    return str(kept) if kept in known else first
