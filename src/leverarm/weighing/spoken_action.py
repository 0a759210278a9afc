"""What a spoken claim does to a piece: takes it off, hangs it on, or lets it do its work.

The words stand in ``data/spoken.toml``.
"""

from __future__ import annotations

import re
from functools import cache

from leverarm.data import toml_file

_PIECE_OF = r"(?:(?:the|that|this|your|my|our|its|a) )?(?:(?!(?:off|on|back|up|no|the)\b)\w+ )?"
# "Off the front axle" is where a load goes, "off the tractor" where the piece does.
_NO_AXLE = r"(?! (?:(?:the|your|that|its) )?(?:front|rear|back|steering|nose|axle)\b)"


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
