"""What a teacher would change, as TOML files in this folder: read when asked for, and checked.

    lesson_01.toml and so on    problems, slips and questions, one file a lesson
    letters.toml                the letters of problems and the ranges of their numbers
    rules.toml                  what follows from what
    ways.toml                   the steps by which worked solutions come to their results
    worked.toml                 what a worked example does after its answer: a step, a check
    claims.toml                 what people say about loaders, and what to answer
    claim_sorting.toml          the piles and reasons of claims on cards
    sure_more.toml              what goes beyond four separate errors
    spoken.toml                 how people speak of weights, and what they promise
    decision.toml               what the decision's rows mean, and the other side
    predictions.toml            what a panel asks before it shows its readings
    cautions.toml               the cautions of every subject
    polls.toml                  what to do after a show of hands
    concept_check.toml          the questions before and after the lessons
    misconceptions.toml         slips that are one idea, and a question for the board
    class_view.toml             what stands beside a question in front of a class
    customer_page.toml          the words of the page to hand over
    stage.toml                  what the moving pictures share, stage_plank.toml and so on the rest
    common.toml                 sentences and invented machines that lessons share

A file is read into Entries.  An Entry hands out its values by key and refuses, in one
sentence with file and key, what is missing, misspelled or of the wrong type.
"""

import pkgutil
import re
import tomllib
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from functools import cache
from string import Formatter
from typing import Any, TypeVar

from leverarm.quantities import Refusal

END = ".toml"
MOST_LISTED = 8
MOST_LESSONS = 100  # two digits
Key = TypeVar("Key")
Value = TypeVar("Value")


@cache
def toml_file(name: str) -> "Entry":
    """The whole of one file of this folder, by its name without the ending."""
    return parsed(_text(name), name + END)


def _text(name: str) -> str:
    # importlib.resources would do, and cost a fresh process a fifth of its first exercise.
    return (pkgutil.get_data(__name__, name + END) or b"").decode("utf-8")


@cache
def lesson_texts() -> dict[int, str]:
    """The text of every lesson's file by its number, not yet read as TOML."""
    found = {}
    for number in range(MOST_LESSONS):
        try:
            found[number] = _text(f"lesson_{number:02d}")
        except OSError:  # in a zip a file that is not there is no FileNotFoundError
            continue
    return found


def lessons() -> "dict[int, Entry]":
    """The file of every lesson by its number: lesson_01.toml is 1."""
    return {number: lesson_file(number) for number in lesson_texts()}


def lesson_file(number: int) -> "Entry":
    """The file of one lesson."""
    return toml_file(f"lesson_{number:02d}")


def lessons_with(key: str, text: str) -> list[int]:
    """The lessons in which a key has this text: so one is found without reading all of them."""
    line = re.compile(rf"""^\s*{key}\s*=\s*["']{re.escape(text)}["']""", re.MULTILINE)
    return [number for number, whole in lesson_texts().items() if line.search(whole)]


def parsed(text: str, where: str) -> "Entry":
    """The Entry of a TOML text; where is what refusals call it.

    >>> parsed("title = 'The factor'", "own.toml").text("title")
    'The factor'
    """
    try:
        return Entry(tomllib.loads(text), where)
    except tomllib.TOMLDecodeError as error:
        raise Refusal(
            where, str(error), "TOML that can be read", "mend that line: each text needs its quotes"
        ) from None


# What has cautions of its own, and what says what its numbers leave out.
SUBJECTS = (
    "ballast",
    "lifting",
    "slopes",
    "front_drive",
    "decision",
    "weigh_sheet",
    "plank",
)
LEAVE_OUT = ("slopes", "decision")
MOST_LETTERS = 240


def read_cautions(words: "Entry") -> "dict[str, tuple[str, ...]]":
    """{subject: its cautions}, and "slopes, left out" and the like; Refusal with file and key."""
    left_out = words.part("left_out")
    found = {subject: _some(words, subject) for subject in SUBJECTS}
    found |= {f"{subject}, left out": _some(left_out, subject) for subject in LEAVE_OUT}
    left_out.done()
    words.done()
    return found


def _some(entry: "Entry", key: str) -> tuple[str, ...]:
    """The sentences of a list: at least one, none of them empty or too long to be read."""
    found = entry.texts(key)
    if not found:
        raise entry.refusal(key, "no sentence", "at least one", "write what to look out for")
    for text in found:
        if not 1 <= len(text) <= MOST_LETTERS:
            raise entry.refusal(key, text, f"1 to {MOST_LETTERS} characters", "write it shorter")
    return found


@cache
def cautions(subject: str) -> tuple[str, ...]:
    """The cautions of a subject: cautions("ballast"); what it leaves out: "slopes, left out"."""
    return read_cautions(toml_file("cautions"))[subject]


class OnDemand(Mapping[Key, Value]):
    """A mapping that is read when first looked into, so that imports stay quick.

    read        all of it
    read_one    the value of one key, or KeyError, where that takes less than reading all
    """

    def __init__(
        self,
        read: Callable[[], Mapping[Key, Value]],
        read_one: Callable[[Key], Value] | None = None,
    ) -> None:
        self._read = cache(read)
        self._read_one = cache(read_one) if read_one else lambda name: self._read()[name]

    def __getitem__(self, name: Key) -> Value:
        return self._read_one(name)

    def __iter__(self) -> Iterator[Key]:
        return iter(self._read())

    def __len__(self) -> int:
        return len(self._read())


class Entry:
    """A table of a data file: its values by key, each checked as it is handed out.

    where   file and place, as a refusal names them: "lesson_01.toml, number factor"
    """

    def __init__(self, values: dict[str, Any], where: str) -> None:
        self.where, self._values, self._read = where, values, set[str]()

    def __contains__(self, key: str) -> bool:
        return key in self._values

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def refusal(self, key: str, given: object, allowed: str, do: str) -> Refusal:
        """The refusal of what stands under a key."""
        return Refusal(f"{self.where}, {key}" if key else self.where, given, allowed, do)

    def text(self, key: str, default: str | None = None) -> str:
        """A text on one line; a text of several lines is joined with single spaces."""
        return " ".join(self._value(key, str, default, "a text in quotes").split())

    def words(self, key: str, default: str | None = None) -> tuple[str, ...]:
        """The words of a text: "W a L" is three."""
        return tuple(self.text(key, default).split())

    def number(self, key: str, default: float | None = None) -> float:
        """A number, as it stands: 3 stays a whole number."""
        value = self._value(key, (int, float), default, "a number without quotes")
        if isinstance(value, bool):
            raise self.refusal(key, str(value).lower(), "a number", "write a number without quotes")
        return value

    def flag(self, key: str) -> bool:
        """Whether a key says true; false where it is absent."""
        return self._value(key, bool, False, "true or false")

    def one_of(self, key: str, allowed: Collection[str], default: str | None = None) -> str:
        """A text that is one of those allowed."""
        value = self.text(key, default)
        if value not in allowed:
            raise self.unknown(key, value, allowed)
        return value

    def words_of(
        self, key: str, allowed: Collection[str], default: str | None = None
    ) -> tuple[str, ...]:
        """The words of a text, each of them one of those allowed."""
        words = self.words(key, default)
        for word in words:
            if word not in allowed:
                raise self.unknown(key, word, allowed)
        return words

    def unknown(self, key: str, value: str, known: Iterable[str]) -> Refusal:
        """The refusal of a name that is not known, with the known ones most like it."""
        names = list(known)
        if len(names) <= MOST_LISTED:
            return self.refusal(key, value, _listed(names), "write one of these")
        from difflib import get_close_matches

        near = get_close_matches(value, names, 3, 0.4) or names[:3]
        return self.refusal(
            key, value, f"one of {len(names)} known names, such as {_listed(near)}", "look it up"
        )

    def template(self, key: str, names: Collection[str]) -> str:
        """A text to be filled in: each name in braces is one of these, and nothing else is there.

        >>> parsed("said = '{front} comes off'", "own.toml").template("said", ("front", "rear"))
        '{front} comes off'
        """
        text = self.text(key)
        try:
            parts = list(Formatter().parse(text))
        except ValueError:
            parts = [("", None, "braces", None)]
        for _, name, spec, conversion in parts:
            if spec or conversion:
                raise self.refusal(key, text, "plain names in braces: {name}", "mend its braces")
            if name is not None and name not in names:
                raise self.unknown(key, name, names)
        return text

    def texts(self, key: str, default: tuple[str, ...] | None = None) -> tuple[str, ...]:
        """A list of texts: ["one", "two"]."""
        found = self._value(key, (list, tuple), default, "a list of texts: ['one', 'two']")
        for value in found:
            if not isinstance(value, str):
                raise self.refusal(key, value, "a list of texts", "put each of them in quotes")
        return tuple(" ".join(value.split()) for value in found)

    def pair(self, key: str, default: tuple[float, float] | None = None) -> tuple[float, float]:
        """Two numbers: [0.01, 0.5]."""
        found = self._value(key, (list, tuple), default, "two numbers: [0.01, 0.5]")
        if len(found) != 2 or not all(type(number) in (int, float) for number in found):
            raise self.refusal(key, str(found), "two numbers: [0.01, 0.5]", "mend that line")
        return found[0], found[1]

    def part(self, key: str) -> "Entry":
        """The table under a key; an empty one where it is absent."""
        found = self._value(key, dict, {}, f"a table: [{key}]")
        return Entry(found, f"{self.where}, {key}")

    def rows(self, key: str, named_by: str = "name") -> "tuple[Entry, ...]":
        """The tables of a list [[key]], called by one of their values; none where absent."""
        found = self._value(key, list, [], f"a list of tables: [[{key}]]")
        return tuple(
            Entry(values, f"{self.where}, {key} {_called(values, named_by, at)}")
            for at, values in enumerate(found, 1)
            if self._is_table(key, values)
        )

    def done(self) -> None:
        """Refuse any key that nothing asked for: a misspelled one must not be lost in silence."""
        for key in self._values:
            if key not in self._read:
                raise self.refusal(
                    "", f"the key {key}", _listed(sorted(self._read)), "look for a misspelled key"
                )

    def _is_table(self, key: str, values: object) -> bool:
        if not isinstance(values, dict):
            raise self.refusal(key, values, f"a list of tables: [[{key}]]", "begin each so")
        return True

    def _value(self, key: str, types: Any, default: Any, allowed: str) -> Any:
        self._read.add(key)
        value = self._values.get(key, default)
        if value is None:
            raise self.refusal(key, None, allowed, f"add the line {key} = ...")
        if not isinstance(value, types):
            raise self.refusal(key, value, allowed, "mend that line")
        return value


def _called(values: object, named_by: str, at: int) -> str:
    """What a row is called in a refusal: by its own name, or by its place."""
    name = values.get(named_by) if isinstance(values, dict) else None
    return name if isinstance(name, str) and name else str(at)


def _listed(names: Iterable[str]) -> str:
    """A few names for a refusal: "kg, lb or share"."""
    *most, last = [name or "nothing" for name in names] or ["nothing"]
    return f"{', '.join(most)} or {last}" if most else last
