"""Bytes from strangers as text, and one line of it as a small flat record.  Nothing is ever run.

>>> decoded("\\ufeffcode\\r\\nK7MPTDC".encode("utf-16"))[0]
'code\\nK7MPTDC'
"""

import codecs
import json
import unicodedata

MOST_LINE = 6000
MOST_BRACKETS = 40
_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
# A word processor turns straight quotes into these and spoils a record.
_STRAIGHT = str.maketrans(dict.fromkeys("“”„‟″«»", '"') | {"\u00a0": " "})


class Unfit(ValueError):
    """A file, or a line of one, that cannot be used, with the reason in plain words."""


def decoded(data):
    """(text, notes) of some bytes: byte order marks and UTF-16 understood, line ends made alike."""
    mark, encoding = next(((m, e) for m, e in _MARKS if data.startswith(m)), (b"", _guessed(data)))
    text = data[len(mark) :].decode(encoding, "replace")
    notes = ("some characters could not be read",) if "\ufffd" in text else ()
    return text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n"), notes


def _guessed(data):
    """UTF-8, or the UTF-16 that plain letters with a zero beside each of them betray."""
    if data[1:2] == b"\0" != data[:1]:
        return "utf-16-le"
    return "utf-16-be" if data[:1] == b"\0" != data[1:2] else "utf-8"


def record(line):
    """One line, or a whole small file, as a dict.  Raises Unfit: too long, too deep, no record, NaN."""
    if len(line) > MOST_LINE:
        raise Unfit("a line is too long")
    if line.count("[") + line.count("{") > MOST_BRACKETS:
        raise Unfit("a line is nested too deep")
    try:
        found = _loaded(line)
    except ValueError as why:
        try:
            found = _loaded(line.translate(_STRAIGHT))
        except ValueError:
            raise Unfit("a line is no record") from why
    if not isinstance(found, dict):
        raise Unfit("a line is no record")
    return found


def _loaded(line):
    return json.loads(line, parse_constant=_no_constant)


def _no_constant(name):
    raise ValueError(f"{name} is no number")


def written(record_):
    """A record as one line of plain ASCII: what no mail program, school system or editor spoils."""
    return json.dumps(record_, ensure_ascii=True, separators=(", ", ": "), allow_nan=False)


def word(record_, name, most, default=None):
    """A text of a record, bounded; Unfit where it is missing, no text or too long."""
    value = record_.get(name, default)
    if not isinstance(value, str) or len(value) > most:
        raise Unfit(f"{name} is missing or no short text")
    return value.encode(
        "utf-8", "replace"
    ).decode()  # half a character (a lone surrogate) could never be written again


def count(record_, name, low, high, default=None):
    """A whole number of a record within bounds; Unfit where it is missing or none."""
    value = record_.get(name, default)
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise Unfit(f"{name} is missing or no whole number from {low} to {high}")
    return value


def visible(text, most=200):
    """Text of a stranger on one line: nothing that hides, turns the reading direction or breaks the line.

    >>> visible("a\\u202eb\\nc\\0")
    'ab c'
    """
    text = text[: 4 * most]
    shown = " ".join((text if text.isprintable() else "".join(map(_seen, text))).split())
    return shown if len(shown) <= most else shown[: most - 3] + "..."


def _seen(c):
    """A character as it may be shown: a break as a space, what hides or turns as nothing."""
    kind = unicodedata.category(c)
    return " " if kind in ("Cc", "Zl", "Zp") else "" if kind in ("Cf", "Cs", "Co", "Cn") else c


def counted(number, one, more=""):
    """A number with its word: counted(1, "file"), counted(3, "file"), counted(2, "try", "tries").

    >>> counted(1, "try", "tries"), counted(2, "file")
    ('1 try', '2 files')
    """
    return f"{number} {one if number == 1 else more or one + 's'}"
