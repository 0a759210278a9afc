"""What a spoken claim says: a number, of what, on which axle, which way, and about which piece.

The words stand in ``data/spoken.toml``.  Nothing typed is ever run.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from leverarm.data import Entry, toml_file
from leverarm.numerals import plain
from leverarm.quantities import Refusal
from leverarm.weighing.claims import MOST_TEXT, Claim, read_claim

Phrases = tuple[tuple[str, str], ...]  # (phrase, what it means), the longest first
_PIECE_OF = r"(?:the |your |my |its )?(?:\w+ )?"
_MORE = re.compile(r"\b(?:more than|over|at least|upwards of)\b")
_LESS = re.compile(r"\b(?:less than|under|at most|up to|not even)\b")
_ITSELF = re.compile(r"\b(?:its (?:own )?weight|(?:what|as much as) (?:it|the \w+) weighs)\b")
_UNITS = "percent|per cent|times|pounds?|lbs?|kilos?|kg"


@dataclass(frozen=True)
class SpokenWords:
    """What a person said about a piece and the scales.

    claim       the number with its rounding: "weight", "factor" or "percent"
    piece       "bucket", "loader frame", "whole loader", "ballast"; "" where none was named
    axle        "front", "rear", "machine"; "" where none was named
    of          what a factor or a percentage is of: "piece", "front", "rear", "machine"; ""
    way         +1 goes on, -1 comes off, 0 where neither was said
    action      "off" where the piece is taken off (also where nothing else was said), "on"
    asks        "change" of a load; "load" that an axle carries; "weight" of the piece
    bound       +1 "more than", -1 "less than", 0 a plain number
    """

    claim: Claim
    piece: str = ""
    axle: str = ""
    of: str = ""
    way: int = 0
    action: str = "off"
    asks: str = "change"
    bound: int = 0

    @property
    def text(self) -> str:
        """As it was said."""
        return self.claim.text


@cache
def _phrases(group: str) -> Phrases:
    """The phrases of a group of the data file, the longest first."""
    entry: Entry = toml_file("spoken").part(group)
    found = [(phrase, meaning) for meaning in entry for phrase in entry.texts(meaning)]
    return tuple(sorted(found, key=lambda one: -len(one[0])))


@cache
def _numbers() -> dict[str, float]:
    """{word: number} of the data file."""
    entry = toml_file("spoken").part("numbers")
    return {word: entry.number(word) for word in entry}


@cache
def _piece_phrases(own: tuple[str, ...]) -> Phrases:
    """The words for a piece: a day's own names, then those of the data file; the longest first."""
    named = {" ".join(name.casefold().split()): name for name in own}
    known = [one for one in _phrases("piece") if one[0] not in named]
    return tuple(sorted([*named.items(), *known], key=lambda one: -len(one[0])))


@cache
def _actions(own: tuple[str, ...]) -> tuple[tuple[re.Pattern[str], str], ...]:
    """What is done to a piece, each phrase with every name of a piece in it."""
    names = "|".join(re.escape(name) for name, _ in _piece_phrases(own))
    return tuple(
        (
            re.compile(
                rf"\b{phrase.replace('the {piece}', '{piece}')}\b".replace(
                    "{piece}", rf"{_PIECE_OF}(?:{names})"
                )
            ),
            meaning,
        )
        for phrase, meaning in _phrases("action")
    )


def read_spoken(text: str, own: tuple[str, ...] = ()) -> SpokenWords:
    """The SpokenWords of what was said; Refusal where it holds no number that can be weighed.

    own     what a day's pieces are called, beside the usual names

    >>> said = read_spoken("Taking the bucket off takes 450 lb off the front axle")
    >>> said.piece, said.axle, said.way, said.action, said.claim.kind
    ('bucket', 'front', -1, 'off', 'weight')
    >>> read_spoken("half the weight").of
    ''
    """
    words = _plain(text)
    claim = _number_of(words, str(text))
    left, found, action = words, dict[str, str](), ""
    piece = _longest(words, _piece_phrases(own))
    for pattern, meaning in _actions(own):
        if pattern.search(left):
            action = meaning
            left = left if meaning == "does" else pattern.sub(" ", left)
            break
    asks = _first(words, "asks") or "change"
    if claim.kind == "weight":
        found["of"] = ""
    else:
        found["of"], left = _taken(left, "of", keep=False)
        asks = "change" if asks == "weight" else asks
    for group in ("axle", "way"):
        found[group], left = _taken(left, group, keep=True)
    if _PERCENT_LESS.search(words):  # whatever it "carries" or "has"
        asks, found["of"] = "change", found["of"] or found["axle"]
    bound = 1 if _MORE.search(words) else -1 if _LESS.search(words) else 0
    way = {"down": -1, "up": 1, "": 0}[found["way"]]
    if bound and re.search(r"\b(?:more|less) than\b", left):
        way = _way_beside(left)
    return SpokenWords(
        claim,
        piece,
        found["axle"],
        found["of"],
        way,
        "on" if action in ("on", "does") or (not action and _grows(claim, found["of"])) else "off",
        asks,
        bound,
    )


def _grows(claim: Claim, of: str) -> bool:
    """True for "doubles the load on the front axle": a load grows where a piece is hung on."""
    return claim.kind == "factor" and of in ("front", "rear", "machine")


def _way_beside(words: str) -> int:
    """The direction, with the "more than" or "less than" of a bound left out."""
    way, _ = _taken(re.sub(r"\b(?:more|less) than\b", " ", words), "way", keep=True)
    return {"down": -1, "up": 1, "": 0}[way]


_DIGITS = {str(number): float(number) for number in range(1, 10)}
_AND_A_PART = {"(?:a|one) quarter": 0.25, "three quarters?": 0.75, "(?:a|one) third": 1 / 3}
_PERCENT_LESS = re.compile(
    r"(?:%|\bper ?cent) (?:less|more|lighter|heavier)\b(?! than (?:half|twice))"
)


def _plain(text: object) -> str:
    """Lower-case words with single spaces, number words as digits."""
    words = " ".join(plain(str(text)[:MOST_TEXT]).lower().replace("\u2019", "'").split())
    words = re.sub(r"\b(?:a|one) hundred\b", "100", words)
    for word, number in _numbers().items():
        words = re.sub(rf"\b{word} hundred\b", f"{100 * number:g}", words)
    for word, number in {**_numbers(), **_DIGITS}.items():
        for part, more in _AND_A_PART.items():
            words = re.sub(rf"\b{word} and {part}\b", f"{number + more:g}", words)
    for word, number in _numbers().items():
        # "Two thirds" stays words: fractions are read as such.
        words = re.sub(rf"\b{word}\b(?=(?: and a half)? (?:{_UNITS})\b|-)", f"{number:g}", words)
    words = re.sub(r"\b(\d00) (?:and )?(\d{1,2})\b", lambda m: str(int(m[1]) + int(m[2])), words)
    words = re.sub(r"\b(\d0)[ -](\d)\b", lambda m: str(int(m[1]) + int(m[2])), words)
    words = re.sub(r"\b(\d+) and a half\b", r"\g<1>.5", words)
    words = re.sub(r"\b(\d+)(?: 1/2|½)", r"\g<1>.5", words)
    words = words.replace("half again as much", "1.5 times").replace("half again", "1.5 times")
    return re.sub(r"\bhalf as much again\b", "1.5 times", words)


def _number_of(words: str, text: str) -> Claim:
    """The number; "its own weight" with no number beside it is once that."""
    try:
        found = read_claim(words)
    except Refusal:
        if not _ITSELF.search(words):
            raise
        found = read_claim("once")
    return Claim(found.kind, found.value, text)


def _first(words: str, group: str) -> str:
    """The meaning of the longest phrase of a group; "" where none is there."""
    return _taken(words, group, keep=True)[0]


def _longest(words: str, phrases: Phrases) -> str:
    """The meaning of the first of these phrases that is there; "" where none is."""
    return next(
        (means for phrase, means in phrases if re.search(rf"\b{re.escape(phrase)}\b", words)), ""
    )


def _taken(words: str, group: str, *, keep: bool) -> tuple[str, str]:
    """(meaning of the longest phrase of a group, the words without it)."""
    for phrase, meaning in _phrases(group):
        pattern = rf"\b{re.escape(phrase)}\b"
        if re.search(pattern, words):
            return meaning, words if keep else re.sub(pattern, " ", words)
    return "", words


def meaning_of(name: str) -> str:
    """Which of the usual pieces a name means; "" where it is none of them.

    >>> meaning_of("Rear weights"), meaning_of("snow plow")
    ('ballast', '')
    """
    return _longest(" ".join(name.casefold().split()), _phrases("piece"))


def piece_in_words(piece: str) -> str:
    """What several pieces that came off together are called.

    >>> piece_in_words("loader frame + bucket"), piece_in_words("ballast + snow plow")
    ('whole loader', 'ballast and snow plow')
    """
    names = [name.strip() for name in piece.split("+")]
    if sorted(map(meaning_of, names)) == ["bucket", "loader frame"]:
        return "whole loader"
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last


def pieces_meant(piece: str, names: Iterable[str]) -> str:
    """Which of a day's pieces a spoken name means, joined by " + "; "" where none does.

    >>> pieces_meant("whole loader", ["loader frame", "bucket", "ballast"])
    'loader frame + bucket'
    """
    wanted = ("loader frame", "bucket") if piece == "whole loader" else (piece,)
    known = {name: meaning_of(name) for name in names}
    exact = [name for name, meaning in known.items() if meaning == piece]
    return " + ".join(exact or [name for name, meaning in known.items() if meaning in wanted])
