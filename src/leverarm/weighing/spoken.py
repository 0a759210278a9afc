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
from leverarm.weighing.claims import COARSEST, MOST_TEXT, Claim, read_claim

Phrases = tuple[tuple[str, str], ...]  # (phrase, what it means), the longest first
_MORE = re.compile(r"\b(?:more than|over|at least|upwards of)\b")
_LESS = re.compile(r"\b(?:less than|under|at most|up to|not even)\b")
_NO_MORE = re.compile(r"\b(?:no|not|never) (?:more than|over)\b")
_NO_LESS = re.compile(r"\b(?:no|not|never) (?:less than|under)\b")
_ITSELF = re.compile(r"\b(?:its (?:own )?weight|(?:what|as much as) (?:it|the \w+) weighs)\b")
_UNITS = "percent|per cent|times|pounds?|lbs?|kilos?|kg"
_PIECE_OF = r"(?:(?:the|that|this|your|my|our|its|a) )?(?:(?!(?:off|on|back|up|no|the)\b)\w+ )?"
# "Off the front axle" is where a load goes, "off the tractor" where the piece does.
_NO_AXLE = r"(?! (?:(?:the|your|that|its) )?(?:front|rear|back|steering|nose|axle)\b)"


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
    more        True where another number was said, which is not held against anything
    """

    claim: Claim
    piece: str
    axle: str
    of: str
    way: int
    action: str
    asks: str
    bound: int
    more: bool

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
    phrases = _piece_phrases(own)
    action, left = action_in(words, tuple(name for name, _ in phrases))
    done = left
    left, others = _clause_with_number(done)
    claim = _number_of(left, str(text))
    asks = _asked(left, words, claim.kind, phrases)
    of, whole = "", done
    if claim.kind != "weight":
        of, left = _of_what(left, phrases)
        of_whole, whole = _of_what(done, phrases)
        of = of or of_whole
    axle = _axle_beside(left) or _axle_beside(whole)
    of = axle if of == "itself" else of
    if _LESS_BY.search(words) and claim.kind == "percent":  # whatever it "carries" or "has"
        of = of or axle
    bound = _bound(left)
    way = next(filter(None, (_way(one, _bound(one)) for one in (left, whole))), 0)
    hangs_on = action in ("on", "does") or (not action and _grows(claim, of))
    return SpokenWords(
        claim,
        _longest(words, phrases),
        axle,
        of,
        way,
        "on" if hangs_on else "off",
        asks,
        bound,
        others,
    )


_WAYS = {"down": -1, "up": 1, "": 0}
_MORE_LESS_THAN = re.compile(r"\b(?:more|less) than\b")
_CLAUSE_ENDS = re.compile(r"[;,:](?= )|[.!?](?= |$)|\b(?:and|while|but)\b")
_WEIGHS = re.compile(r"\bweighs?\b")
_LOAD_IS = re.compile(r"\b(?:weight|load) on [\w' ]{3,30} (?:is|was)\b")


def _of_what(words: str, phrases: Phrases) -> tuple[str, str]:
    """What a factor or a percentage is of, "" where that is not said; the words without it."""
    piece = rf"(?:the|that|your|those) (?:{'|'.join(re.escape(name) for name, _ in phrases)})"
    own = re.compile(rf"\b(?:what {piece} weighs?|{piece}(?:'s|') weight|weight of {piece})\b")
    if own.search(words):
        return "piece", own.sub(" ", words)
    return _taken(words, "of", keep=False)


def _way(words: str, bound: int) -> int:
    """+1 load goes on, -1 it comes off, 0 neither; the "more" of a bound says neither."""
    return _WAYS[_first(_MORE_LESS_THAN.sub(" ", words) if bound else words, "way")]


def _clause_with_number(words: str) -> tuple[str, bool]:
    """(the first clause that holds a number, whether another holds one too); all the words where
    none does by itself.
    """
    found = []
    for clause in _CLAUSE_ENDS.split(words):
        try:
            read_claim(clause)
        except Refusal:
            continue
        found.append(clause)
    with_digits = [clause for clause in found if re.search(r"\d", clause)]
    found = with_digits or found
    said = [clause for clause in _CLAUSE_ENDS.split(words) if re.search(r"\d", clause)]
    return (found[0], len(said) > 1) if found else (words, False)


def _asked(clause: str, words: str, kind: str, phrases: Phrases) -> str:
    """What is asked of: "change", "load" or "weight"; an axle that weighs carries a load."""
    asks = _first(clause, "asks") or _first(words, "asks") or "change"
    if _LESS_BY.search(clause):
        return "change"
    if kind == "weight" and _LOAD_IS.search(clause):
        return "load"
    weighs = _WEIGHS.search(clause)
    if asks == "weight" and weighs and kind == "weight":
        before = clause[: weighs.start()]
        whose = _last(before, phrases), _last(before, _phrases("axle"))
        asks = "load" if whose[1] > whose[0] else asks
    return "change" if asks == "weight" and kind != "weight" else asks


def _last(words: str, phrases: Phrases) -> int:
    """Where the last of these phrases ends; -1 where none is there."""
    ends = [
        one.end()
        for phrase, _ in phrases
        for one in re.finditer(rf"\b{re.escape(phrase)}\b", words)
    ]
    return max(ends, default=-1)


def _axle_beside(clause: str) -> str:
    """The axle that is named nearest to the number; an axle counts before the whole machine."""
    number = re.search(r"\d", clause)
    at = number.start() if number else 0
    named = [
        (meaning == "machine", abs(one.start() - at), meaning)
        for phrase, meaning in _phrases("axle")
        for one in re.finditer(rf"\b{re.escape(phrase)}\b", clause)
    ]
    return min(named)[2] if named else ""


def _bound(clause: str) -> int:
    """+1 "more than", -1 "less than", 0 neither; "no more than" is the other way round."""
    for turned, pattern, sign in ((_NO_MORE, _MORE, 1), (_NO_LESS, _LESS, -1)):
        if turned.search(clause):
            return -sign
        if pattern.search(clause):
            return sign
    return 0


def _grows(claim: Claim, of: str) -> bool:
    """True for "doubles the load on the front axle": a load grows where a piece is hung on."""
    return claim.kind == "factor" and of in ("front", "rear", "machine")


_DIGITS = {str(number): float(number) for number in range(1, 10)}
_AND_A_PART = {
    "(?:a|one) quarter": 0.25,
    "three quarters?": 0.75,
    "(?:a|one) third": 1 / 3,
    "two thirds": 2 / 3,
}
_LESS_BY = re.compile(
    rf"(?:%|\b(?:{_UNITS})) (?:less|more|lighter|heavier|extra)\b(?! than (?:half|twice))"
)
_ONCE_IT_IS = re.compile(
    r"\bonce (?=(?:it|we|you|they|(?:the|that|your) \w+)"
    r"(?:'s (?:off|on|gone)|'re| is| are| comes| goes)\b)"
)
_PART_IN_WORDS = re.compile(r"\b(?:half|quarters?|thirds?)\b|½")
_SPLIT = re.compile(r"\b(\d\d)(?:[-/: ]| to )(\d\d)\b")


def _plain(text: object) -> str:
    """Lower-case words with single spaces, number words as digits."""
    words = " ".join(plain(str(text)[:MOST_TEXT]).lower().replace("\u2019", "'").split())
    words = _ONCE_IT_IS.sub("when ", words)
    tens = {word: f"{number:g}" for word, number in _numbers().items() if number >= 10}
    words = re.sub(
        rf"\b({'|'.join(tens)})-({'|'.join(tens)})\b", lambda m: f"{tens[m[1]]}-{tens[m[2]]}", words
    )
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
    return _split_said(re.sub(r"\bhalf as much again\b", "1.5 times", words))


def _split_said(words: str) -> str:
    """ "58/42" as what one axle carries of the total: the first named, else the front."""
    split = _SPLIT.search(words)
    if not split or int(split[1]) + int(split[2]) != 100:
        return words
    named = re.search(r"\b(?:front|rear|back)\b", words)
    axle = "rear" if named and named[0] != "front" else "front"
    rest = re.sub(r"\b(?:front|rear|back)\b", " ", _SPLIT.sub(" ", words))
    return f"{' '.join(rest.split())}, the {axle} axle carries {split[1]} percent of the total"


def _number_of(words: str, text: str) -> Claim:
    """The number; "its own weight" with no number beside it is once that, and "one and a half" is
    said to a tenth.
    """
    try:
        found = read_claim(words)
        if found.kind == "factor" and _PART_IN_WORDS.search(text.casefold()):
            found = read_claim(words, COARSEST)
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


@cache
def _patterns(names: tuple[str, ...]) -> tuple[tuple[re.Pattern[str], str], ...]:
    """(pattern, "off", "on" or "does") in the order in which they count."""
    piece, words = _any(names), toml_file("spoken")
    hands, action, does = (words.part(part) for part in ("hands", "action", "does"))
    verbs = {side: _forms(hands.texts(side)) for side in ("off", "on")}
    both, beside = rf"(?:{verbs['off']}|{verbs['on']})", words.part("hands").texts("beside")
    held = rf"{_PIECE_OF}{piece}(?!'s\b)"
    found: list[tuple[str, str]] = []
    for side, behind in (("off", "(?:back )?off"), ("on", _any(beside))):
        found.append((rf"{both} {held} {behind}{_NO_AXLE}", side))
        found.append((rf"{both} {behind} {held}", side))
    found += [(rf"{verbs[side]} {held}", side) for side in ("off", "on")]
    phrases = [(one, side) for side in ("off", "on") for one in action.texts(side)]
    for one, side in sorted(phrases, key=lambda one: -len(one[0])):
        said = re.escape(one.replace("the {piece}", "{piece}"))
        end = _NO_AXLE if one in ("{piece} on", "{piece} off") else ""
        found.append((said.replace(r"\{piece\}", _PIECE_OF + piece) + end, side))
    between = rf"(?: (?:{_any(does.texts('between'))}))*"
    idle, helper = _any(does.texts("not")), _any(does.texts("helpers"))
    several = rf"(?<=s){between} (?:{_any(does.texts('plural'))}|{both})"
    one = rf"{between} (?:{helper} \w+|(?!(?:{idle})\b)[a-z]+s)"
    found.append((rf"{piece}(?:{one}|{several})", "does"))
    return tuple((re.compile(rf"\b{pattern}\b"), side) for pattern, side in found)


def _any(words: tuple[str, ...]) -> str:
    """A pattern for any of these words, the longest first."""
    return f"(?:{'|'.join(re.escape(one) for one in sorted(words, key=len, reverse=True))})"


def _forms(verbs: tuple[str, ...]) -> str:
    """A pattern for verbs with their endings: drop, drops, dropping, dropped."""
    stems = (rf"{verb.removesuffix('e')}{verb[-1]}?(?:e|es|s|ed|ing)?" for verb in verbs)
    return f"(?:{'|'.join(stems)})"


def action_in(words: str, names: tuple[str, ...]) -> tuple[str, str]:
    """("off", "on", "does" or "", the words without it); what a piece does stays in the words.

    names   what pieces are called

    >>> action_in("unpin that bucket and the front loses 400 lb", ("bucket",))
    ('off', '  and the front loses 400 lb')
    >>> action_in("the bucket by itself picks 170 lb up off the rear", ("bucket",))[0]
    'does'
    """
    for pattern, action in _patterns(names):
        if pattern.search(words):
            return action, words if action == "does" else pattern.sub(" ", words)
    return "", words
