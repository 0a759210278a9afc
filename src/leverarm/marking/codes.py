"""Codes, class keys and number keys: who is who, without a name.

A code is six random characters and a check character.  The class key stays with
the instructor.  A number key is a keyed hash (HMAC, RFC 2104) of code and
assignment under the class key: the instructor works it out again at any time,
and one student's number key says nothing about another's.  All numbers of a
student, every later try included, come from the number key.

The nineteen symbols leave out every look-alike (0 O Q, 1 I L, 2 Z, 5 S, 8 B,
6 G, U V) and the vowels, so no code spells a word.  Nineteen is a prime, so the
check character catches every single wrong character and every two swapped ones.
"""

import hmac
import re
import secrets
import unicodedata
from collections.abc import Iterable
from hashlib import sha256
from typing import Any

from leverarm.files import unfit_name
from leverarm.quantities import Refusal

SYMBOLS = "34679CDFHJKMNPRTWXY"
BASE = len(SYMBOLS)
CODE_LENGTH, KEY_BODY, KEY_CHECK, CLASS_BODY = 7, 12, 4, 28
MOST_CODES = 2000
_NAME = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 _.-]{0,38}[A-Za-z0-9])?")


def assignment_name(text: Any) -> str:
    """An assignment's name, fit for a ticket and a file name, or a Refusal.

    >>> assignment_name("  Week  3 ")
    'Week 3'
    """
    name = " ".join(text.split()) if isinstance(text, str) and len(text) < 200 else ""
    # A class shares its files: a name that one system cannot write is none anywhere.
    if not _NAME.fullmatch(name) or ".." in name or unfit_name(name, "nt"):
        raise Refusal(
            "assignment name",
            text,
            "a name of 1 to 40 plain letters, digits, spaces, - or _, but not CON or another "
            "that Windows keeps for itself,",
            "give it a short name such as Week 3",
        )
    return name


def _bare(text: Any, most: int) -> str:
    """Typed text as capitals: spaces and dashes of any kind out, full-width letters made plain."""
    if not isinstance(text, str) or len(text) > 4 * most:
        return ""
    text = unicodedata.normalize("NFKC", text).upper()
    return "".join(
        c
        for c in text
        if not c.isspace() and unicodedata.category(c) not in ("Pd", "Cf") and c not in "−_."
    )


def _symbols(digest: bytes, count: int) -> str:
    """A digest as so many symbols."""
    number, out = int.from_bytes(digest, "big"), ""
    for _ in range(count):
        number, digit = divmod(number, BASE)
        out += SYMBOLS[digit]
    return out


def _grouped(text: str) -> str:
    return "-".join(text[at : at + 4] for at in range(0, len(text), 4))


def _refuse_strange(field: str, typed: Any, bare: str, length: int) -> None:
    """Refuse a text with a character that no code has, or of another length, and say so."""
    strange = next((c for c in bare if c not in SYMBOLS), None)
    if strange is not None:
        shown = strange if strange.isprintable() else "a mark that cannot be shown"
        raise Refusal(
            field, typed, f"only {SYMBOLS}", f"{shown} is never used: look at the ticket again"
        )
    if len(bare) != length:
        raise Refusal(field, typed, f"{length} characters", "copy it from the ticket again")


# The code ----------------------------------------------------------------------------------


def _weighted(symbols: str) -> int:
    return sum(weight * SYMBOLS.index(c) for weight, c in enumerate(symbols, 1)) % BASE


def with_check(six: str) -> str:
    """Six symbols and their check character: the sum of place times value is 0 modulo 19.

    >>> with_check("K7MPTD")
    'K7MPTDC'
    """
    return six + SYMBOLS[-_weighted(six) * pow(CODE_LENGTH, -1, BASE) % BASE]


def new_codes(count: int, taken: Iterable[str] = ()) -> list[str]:
    """So many random codes, none of them taken, in alphabetical order."""
    if not isinstance(count, int) or isinstance(count, bool) or not 1 <= count <= MOST_CODES:
        raise Refusal(
            "number of codes",
            count,
            f"a whole number from 1 to {MOST_CODES}",
            "say how many students there are",
        )
    taken, made = set(taken), set[str]()
    while len(made) < count:
        code = with_check("".join(secrets.choice(SYMBOLS) for _ in range(CODE_LENGTH - 1)))
        if code not in taken:
            made.add(code)
    return sorted(made)


def read_code(text: Any) -> str:
    """A typed code as it is kept, or a Refusal.

    >>> read_code(" k7mp-tdc ")
    'K7MPTDC'
    """
    bare = _bare(text, CODE_LENGTH)
    _refuse_strange("code", text, bare, CODE_LENGTH)
    if _weighted(bare):
        raise Refusal(
            "code",
            text,
            "a code whose last character checks the others",
            "one character is wrong or two are swapped: look at the ticket again",
        )
    return bare


def is_code(text: Any) -> bool:
    """Whether a typed text is a code, of whichever class."""
    try:
        return bool(read_code(text))
    except Refusal:
        return False


def shown_code(code: str) -> str:
    """A code as it is printed: shown_code("K7MPTDC") is "K7MP-TDC"."""
    return _grouped(code)


# The two keys ------------------------------------------------------------------------------


def _check(purpose: str, *parts: str) -> str:
    return _symbols(sha256("|".join((purpose, *parts)).encode()).digest(), KEY_CHECK)


def new_class_key() -> str:
    """A random class key, printed in groups; its last group checks the others."""
    body = "".join(secrets.choice(SYMBOLS) for _ in range(CLASS_BODY))
    return _grouped(body + _check("class key", body))


def read_class_key(text: Any, field: str = "class key") -> str:
    """A class key as it is kept, or a Refusal.  The refusal never shows it."""
    bare = _bare(text, CLASS_BODY + KEY_CHECK)
    if (
        len(bare) != CLASS_BODY + KEY_CHECK
        or not set(bare) <= set(SYMBOLS)
        or bare[CLASS_BODY:] != _check("class key", bare[:CLASS_BODY])
    ):
        raise Refusal(
            field,
            "a key that fails its own check" if bare else None,
            "the key in the class_key file, eight groups of four",
            "copy the whole key from that file",
        )
    return _grouped(bare)


def number_key(class_key: str, code: str, assignment: str) -> str:
    """The number key of a code for an assignment; its last group checks all three together.

    >>> key = number_key(DEMO_KEY, "K7MPTDC", "Week 3")
    >>> key == number_key(DEMO_KEY, "K7MPTDC", "Week 3"), len(key.split("-"))
    (True, 4)
    """
    message = f"number key|{code}|{assignment}".encode()
    body = _symbols(hmac.digest(class_key.encode(), message, "sha256"), KEY_BODY)
    return _grouped(body + _check("number key", body, code, assignment))


def read_number_key(text: Any, code: str, assignment: str) -> str:
    """A typed number key as it is kept; a Refusal where it is not of this code and assignment."""
    bare = _bare(text, KEY_BODY + KEY_CHECK)
    _refuse_strange("number key", text, bare, KEY_BODY + KEY_CHECK)
    if bare[KEY_BODY:] != _check("number key", bare[:KEY_BODY], code, assignment):
        raise Refusal(
            "number key",
            text,
            f"the key on the ticket of code {shown_code(code)} for {assignment}",
            "compare code, assignment and key with the ticket, character by character",
        )
    return _grouped(bare)


def proof(key: str) -> str:
    """What an answer file carries to show that it was made with this key; it hides the key."""
    return _symbols(hmac.digest(key.encode(), b"answers", "sha256"), 8)


def seed(key: str, item: str, number: int) -> int:
    """The seed of one try of one item, a whole number.

    >>> first = seed("a key", "front_gain", 1)
    >>> first == seed("a key", "front_gain", 1) != seed("a key", "front_gain", 2)
    True
    """
    return int.from_bytes(
        hmac.digest(key.encode(), f"{item}|{number}".encode(), "sha256")[:8], "big"
    )


# For demonstrations and tests only: a key that everybody knows keeps nothing to itself.
DEMO_KEY = _grouped("3" * CLASS_BODY + _check("class key", "3" * CLASS_BODY))
