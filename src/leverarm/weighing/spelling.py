"""Names of pieces as people spell them: alike but for a slip of a key, and what was meant."""

from __future__ import annotations

import re

# Words that name a piece, long enough that a slip of a key makes no other word of them.
PIECE_WORDS = ("bucket", "loader", "frame", "grapple", "pallet", "ballast", "counterweight")


def nearly_same(one: str, other: str) -> bool:
    """True where two names differ by a slip of a key or two; a number in a name parts them.

    >>> nearly_same("backet", "bucket"), nearly_same("weight 1", "weight 2")
    (True, False)
    """
    if one == other or re.findall(r"\d+", one) != re.findall(r"\d+", other):
        return False
    most = 2 if min(len(one), len(other)) >= 8 else 1
    return min(len(one), len(other)) >= 4 and _edits(one, other, most) <= most


def meant_name(name: str) -> str:
    """A piece's name with the usual word for each word that is a slip of a key away from one.

    >>> meant_name("Loder frame"), meant_name("backet"), meant_name("basket"), meant_name("buckets")
    ('loader frame', 'bucket', 'basket', 'buckets')
    """
    return re.sub(r"[^\W\d_]+", lambda word: _meant_word(word[0]), name.casefold())


def _meant_word(word: str) -> str:
    if word in PIECE_WORDS or word.removesuffix("s") in PIECE_WORDS:
        return word
    return next((one for one in PIECE_WORDS if nearly_same(word, one)), word)


def _edits(one: str, other: str, most: int) -> int:
    """Keys to press to make one name the other: put in, take out, change, or change places."""
    if abs(len(one) - len(other)) > most:
        return most + 1
    before: list[int] = []
    last = list(range(len(other) + 1))
    for i, a in enumerate(one, 1):
        row = [i]
        for j, b in enumerate(other, 1):
            least = min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (a != b))
            if i > 1 and j > 1 and a == other[j - 2] and one[i - 2] == b:
                least = min(least, before[j - 2] + 1)
            row.append(least)
        before, last = last, row
    return last[-1]
