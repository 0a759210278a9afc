"""A line of text from a stranger as a small flat record.  Nothing is ever run."""

import json

MOST_LINE = 6000
MOST_BRACKETS = 40
# A word processor turns straight quotes into these and spoils a record.
_STRAIGHT = str.maketrans(dict.fromkeys("“”„‟″«»", '"') | {"\u00a0": " "})


class Unfit(ValueError):
    """A file, or a line of one, that cannot be used, with the reason in plain words."""


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


def counted(number, one, more=""):
    """A number with its word: counted(1, "file"), counted(3, "file"), counted(2, "try", "tries").

    >>> counted(1, "try", "tries"), counted(2, "file")
    ('1 try', '2 files')
    """
    return f"{number} {one if number == 1 else more or one + 's'}"
