"""What people promise about a loader and no scale shows: found in a claim or an answer.

The phrases stand in ``data/spoken.toml``, checked when read.  Typed text is only searched.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from leverarm.data import Entry, toml_file
from leverarm.numerals import plain

Groups = Mapping[str, tuple[str, ...]]
MOST_LETTERS = 2000
# "Saves 140 lb on the front axle" is a weight, and no promise.
_A_WEIGHT = re.compile(r"\d ?(?:lbs?|pounds?|kg|kilos?)\b", re.IGNORECASE)
# A promise that is taken back is so in the same clause.
_CLAUSE_ENDS = re.compile(r"[.;:!?]|\b(?:but|however)\b")


@dataclass(frozen=True)
class Promise:
    """What was promised: the words as they stand in the text, and what to say to them."""

    words: str
    say: str


@dataclass(frozen=True)
class PromisePhrases:
    """The phrases of one kind of promise, ready to search for.

    words, about    what promises it, and what only names it; None where nothing does
    """

    words: re.Pattern[str]
    about: re.Pattern[str] | None
    say: str


@dataclass(frozen=True)
class PromiseReader:
    """Every kind of promise, and what takes one back."""

    kinds: tuple[PromisePhrases, ...]
    before: re.Pattern[str]
    right_before: re.Pattern[str]
    right_after: re.Pattern[str]

    def first(self, text: str) -> Promise | None:
        """The first promise of a text that is not taken back; None where there is none."""
        for clause in _CLAUSE_ENDS.split(_plain(text)):
            found = [
                (match.start(), -len(match.group()), match, kind)
                for kind in self.kinds
                for match in kind.words.finditer(clause)
                if not _A_WEIGHT.search(match.group()) and not self._taken_back(clause, match)
            ]
            if found:
                *_, match, kind = min(found, key=lambda one: one[:2])
                return Promise(match.group(), kind.say)
        return None

    def _taken_back(self, clause: str, match: re.Match[str]) -> bool:
        before, after = clause[: match.start()], clause[match.end() :]
        return bool(
            self.before.search(before)
            or self.right_before.search(before)
            or self.right_after.match(after)
        )

    def about(self, text: str) -> str:
        """What to say to a claim about what no scale shows; "" where it is about weights."""
        if promise := self.first(text):
            return promise.say
        words = _plain(text)
        return next(
            (kind.say for kind in self.kinds if kind.about and kind.about.search(words)), ""
        )


def read_promises(words: Entry) -> PromiseReader:
    """The PromiseReader of a data file; Refusal with file and key for what cannot be used."""
    groups, back = _groups(words.part("promise_words")), words.part("taken_back")
    own = {key: back.texts(key) for key in ("nobody", "says")}
    kinds = []
    for entry in words.rows("promise", "name"):
        phrases, about = _phrases(entry, "words", groups), entry.texts("about", ())
        names = _pattern(_phrases(entry, "about", groups)) if about else None
        kinds.append(PromisePhrases(_pattern(phrases), names, entry.text("say")))
        entry.done()
    if not kinds:
        raise words.refusal("promise", "none", "at least one [[promise]]", "add it")
    before, right_before, right_after = (
        _phrases(back, key, own) for key in ("before", "right_before", "right_after")
    )
    back.done()
    return PromiseReader(
        tuple(kinds),
        _pattern(before),
        re.compile(rf"\b(?:{'|'.join(right_before)})\s*$", re.IGNORECASE),
        re.compile(rf"\s*(?:{'|'.join(right_after)})\b", re.IGNORECASE),
    )


@cache
def promise_reader() -> PromiseReader:
    """The PromiseReader of the package's own file.

    >>> promise_reader().first("It saves your tires.").words
    'saves your tires'
    >>> promise_reader().first("I can't promise fewer ruts.")
    """
    return read_promises(toml_file("spoken"))


def _plain(text: str) -> str:
    """Text in plain characters, no more of it than anybody says."""
    return plain(text[:MOST_LETTERS]).replace("’", "'")


def _groups(entry: Entry) -> dict[str, tuple[str, ...]]:
    """{name: its words} of a table of word lists."""
    return {name: entry.texts(name) for name in entry}


def _phrases(entry: Entry, key: str, groups: Groups) -> list[str]:
    """The phrases of a list as parts of a pattern, the longest first."""
    found = entry.texts(key)
    if not all(found) or not found:
        raise entry.refusal(key, "nothing", "phrases of one word or more", "write them")
    return [_as_pattern(entry, key, one, groups) for one in sorted(found, key=len, reverse=True)]


def _as_pattern(entry: Entry, key: str, phrase: str, groups: Groups) -> str:
    """A phrase as a pattern: _ a word that may stand there, ~ any ending, # a number, {group}."""
    parts = []
    for word in phrase.split():
        if word == "_":
            parts.append(r"(?:[\w']+ )?")
            continue
        name = re.fullmatch(r"\{(\w+)\}", word)
        if name and name[1] not in groups:
            raise entry.unknown(key, name[1], groups)
        ones = groups[name[1]] if name else (word,)
        parts.append(f"(?:{'|'.join(_word(entry, key, one) for one in ones)}) ")
    return "".join(parts).removesuffix(" ")


def _word(entry: Entry, key: str, word: str) -> str:
    """One word, or a few that belong together: letters and apostrophes, # or an ending ~."""
    if word == "#":
        return r"\d+"
    if not re.fullmatch(r"[a-z']+(?: [a-z']+)*~?", word, re.IGNORECASE):
        raise entry.refusal(key, word, "letters, _, ~, # and names in braces", "write plain words")
    return re.escape(word.removesuffix("~")) + (r"\w*" if word.endswith("~") else "")


def _pattern(phrases: list[str]) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(phrases)})\b", re.IGNORECASE)
