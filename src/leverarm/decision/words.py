"""What the decision says beside its numbers, from ``data/decision.toml``, checked when read.

What each row means, the arguments of the other side, and what only a manual answers.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from leverarm.data import Entry, toml_file

# Each row, with the kind of its numbers: what it is worked out from stands in ``decision.table``.
ROW_KINDS = {
    "front": "weight",
    "rear": "weight",
    "total": "weight",
    "front_share": "share",
    "front_least": "share",
    "rear_least": "share",
    "front_pressure": "pressure",
    "rear_pressure": "pressure",
    "front_stress_1": "pressure",
    "front_stress_2": "pressure",
    "rear_stress_1": "pressure",
    "rear_stress_2": "pressure",
    "scuff": "number",
    "grade": "angle",
    "uphill": "angle",
    "sideways": "angle",
    "length": "length",
    "minutes": "minutes",
}
# Each argument with its sentences, and what may stand in braces in them.
SENTENCES: dict[str, dict[str, tuple[str, ...]]] = {
    "short_job": {"text": ("minutes", "for_each")},
    "firm_ground": {"text": ("on", "off")},
    "carried_low": {"text": (), "heights_told": ("low", "high", "rise")},
    "ballast_stays": {
        "text": ("without", "with_it"),
        "arms_told": ("load_without", "load_with"),
        "arms_not_told": (),
        "last": (),
    },
    "ballast_off_front": {"front_gains": ("taken", "gained"), "front_keeps": ("taken",)},
    "next_job": {"text": ("mowings",)},
    "light_steering": {"text": ("share", "base")},
    "half_measure": {"text": ("share",)},
}
# What a box holds once it was read in a manual.
READ_IN_MANUAL = (
    "front_least",
    "rear_least",
    "front_axle",
    "rear_axle",
    "machine",
    "bucket_may_come_off",
)
WANTED = ("less", "more", "")
Word = TypeVar("Word")


@dataclass(frozen=True)
class RowMeaning:
    """One row before it has numbers.

    kind        of its numbers, for printing
    wanted      "less" or "more" is better for mowing grass; "" where neither is
    coarse      the smallest part of a value that means a difference, where the value has no plus or
                minus of its own: judgment
    """

    group: str
    name: str
    kind: str
    wanted: str
    reason: str
    confidence: str
    leaves_out: str
    coarse: float = 0.0


@dataclass(frozen=True)
class Argument:
    """One argument of the other side: its title, and its sentences by name, numbers in braces."""

    title: str
    sentences: Mapping[str, str]


def read_rows(words: Entry) -> dict[str, RowMeaning]:
    """The RowMeaning of every row, in the order of the file; Refusal with file and key."""
    groups, shared = words.texts("groups"), words.part("shared")

    def long(entry: Entry, key: str) -> str:
        text = entry.text(key)
        if not text.startswith("@"):
            return text
        if text[1:] not in shared:
            raise entry.unknown(key, text, [f"@{name}" for name in shared])
        return shared.text(text[1:])

    def one(entry: Entry, name: str) -> RowMeaning:
        coarse = entry.number("coarse", 0.0)
        if not 0 <= coarse < 1:
            raise entry.refusal("coarse", coarse, "0 to below 1: a part of the value", "correct it")
        return RowMeaning(
            entry.one_of("group", groups),
            entry.template("title", ("0", "1") if "_stress_" in name else ()),
            ROW_KINDS[name],
            entry.one_of("wanted", WANTED, ""),
            entry.text("reason"),
            long(entry, "confidence"),
            long(entry, "leaves_out"),
            coarse,
        )

    return _each_once(words, "row", ROW_KINDS, one)


def read_arguments(words: Entry) -> dict[str, Argument]:
    """The Argument of every counter, in the order of the file; Refusal with file and key."""

    def one(entry: Entry, name: str) -> Argument:
        sentences = {key: entry.template(key, names) for key, names in SENTENCES[name].items()}
        return Argument(entry.text("title"), sentences)

    return _each_once(words, "counter", SENTENCES, one)


def read_manual(words: Entry) -> dict[str, str]:
    """{name: question} for the manuals, in the order of the file; those without a box may be more
    or fewer.
    """
    asked = [entry.text("name") for entry in words.rows("manual")]
    return _each_once(
        words,
        "manual",
        dict.fromkeys((*READ_IN_MANUAL, *asked)),
        lambda entry, _: entry.text("asked"),
    )


def _each_once(
    words: Entry,
    key: str,
    known: Mapping[str, object],
    one: Callable[[Entry, str], Word],
) -> dict[str, Word]:
    """{name: what it says} of the tables [[key]]; each of the known ones must be there once."""
    made: dict[str, Word] = {}
    for entry in words.rows(key):
        name = entry.one_of("name", known)
        if name in made:
            raise entry.refusal("name", name, f"each {key} once", "take one of them out")
        made[name] = one(entry, name)
        entry.done()
    for name in known:
        if name not in made:
            raise words.refusal(key, f"no {key} {name}", f"every {key} once", "add it")
    return made


def read_all(words: Entry) -> tuple[dict[str, RowMeaning], dict[str, Argument], dict[str, str]]:
    """(rows, arguments, questions for the manuals) of a whole file, every key of it known."""
    made = read_rows(words), read_arguments(words), read_manual(words)
    words.done()
    return made


_FILE = toml_file("decision")
MEANINGS, ARGUMENTS, MANUAL_QUESTIONS = read_all(_FILE)
GROUPS = _FILE.texts("groups")
