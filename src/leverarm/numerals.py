"""Numbers as people type them: any minus, decimal comma, grouped thousands, 43 1/2.

Nothing typed is ever evaluated: text becomes digits, a sign and one decimal
point, or it is no number.  Standard library only.
"""

import math
import re
import unicodedata

TYPE_CHECKING = False  # typing costs a third of `import leverarm`, and only a type checker needs it
if TYPE_CHECKING:
    from typing import Any, TypeAlias

    Numeric: TypeAlias = Any  # a float, an array, an uncertain number or a symbol
else:
    Numeric = object

_ALIKE = {
    "″": '"',
    "”": '"',
    "“": '"',
    "′": "'",
    "’": "'",
    "º": "°",
    "·": "*",
    "⋅": "*",
    "×": "*",
    "⁄": "/",
    "∕": "/",
    **dict.fromkeys("−–—‒﹣－", "-"),
}
MOST_TEXT = 80

# What a number may be written with.  A foot mark ends it; before three digits it groups thousands.
_START = re.compile(r"(?:[0-9.,+\-/ ]|'(?=[0-9]{3}(?![0-9]))|(?<=[0-9])[eE](?=[+-]?[0-9]))*")
_GROUPED = re.compile(r"(?<![0-9.,/])([0-9]{1,3})((?:[ '][0-9]{3})+)(?![0-9 '])")
_MIXED = re.compile(r"([+-]?)([0-9]{1,6})[ +-]([0-9]{1,2}/[0-9]{1,2})")


def plain(text: str) -> str:
    """Typed text with look-alikes made plain: full-width digits, any minus, ½, inch marks.

    >>> plain("−８２.7 kg"), plain("43½″"), plain("5 cm²")
    ('-82.7 kg', '43 1/2"', '5 cm2')
    """
    if not text.isascii():  # in ASCII nothing looks like anything else
        text = "".join(map(_apart, " " + text, text))
        text = unicodedata.normalize("NFKC", "".join(_ALIKE.get(c, c) for c in text))
        text = "".join(_ALIKE.get(c, c) for c in text if unicodedata.category(c) != "Cf")
    return " ".join(text.replace("''", '"').split())


def _apart(before: str, c: str) -> str:
    """A character kept apart where closing up would change the number: 43½, and 5² is no 52."""
    kind = unicodedata.decomposition(c).partition(" ")[0]
    if kind == "<fraction>" and before.isdigit():
        return " " + c
    return f"^{c}" if kind == "<super>" and not before.isalpha() else c


def split_unit(text: str) -> tuple[str, str]:
    """The leading number of a text and what stands behind it, both as text.

    >>> split_unit("1 234.5 lb"), split_unit("43 1/2 in"), split_unit("5 ft")
    (('1234.5', 'lb'), ('43+1/2', 'in'), ('5', 'ft'))
    """
    if len(text) > MOST_TEXT:
        return "", text
    text = plain(text)
    found = _START.match(text)
    number = found.group() if found else ""
    return _closed_up(number), text[len(number) :].strip()


def _closed_up(number: str) -> str:
    """A number without the spaces and marks that only help the eye.

    Any other space stays, and makes the number unreadable.
    """
    number = re.sub(r" ?/ ?", "/", number.strip())
    number = re.sub(r"^([+-]) ", r"\1", number)
    if mixed := _MIXED.fullmatch(number):
        return "{}{}+{}".format(*mixed.groups())
    return _GROUPED.sub(lambda found: re.sub("[ ']", "", found.group()), number)


def number_readings(text: str) -> tuple[float, ...]:
    """Every number that a text without a unit can mean, the likelier first.

    One comma before exactly three digits has two readings; a decimal comma and
    grouped thousands have one.  An empty tuple says the text is no number.

    >>> number_readings("12,5"), number_readings("1,234"), number_readings("1,234,567.5")
    ((12.5,), (1234.0, 1.234), (1234567.5,))
    >>> number_readings("3/4"), number_readings("43 1/2"), number_readings("twelve")
    ((0.75,), (43.5,), ())
    """
    if len(text) > MOST_TEXT:
        return ()
    text = _closed_up(plain(text))
    if mixed := _MIXED.fullmatch(text):
        return _mixed(*mixed.groups())
    if text.count("/") == 1:
        over, under = (number_readings(part) for part in text.split("/"))
        return tuple(x / y for x in over for y in under if y and math.isfinite(x / y))
    return tuple(
        dict.fromkeys(
            value
            for spelling in _decimal_spellings(text)
            if (value := _finite(spelling)) is not None
        )
    )


def _mixed(sign: str, whole: str, fraction: str) -> tuple[float, ...]:
    """43 1/2: a whole number and a proper fraction under one sign, or no number."""
    over, under = map(int, fraction.split("/"))
    return (float(f"{sign}1") * (int(whole) + over / under),) if over < under else ()


def _finite(text: str) -> float | None:
    """A float of digits, or None: no 'nan', no 'infinity', no underscores."""
    if not all(c in "0123456789.+-eE" for c in text):
        return None
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _decimal_spellings(text: str) -> tuple[str, ...]:
    """The text with its commas and points turned into the one decimal point Python reads."""
    commas, points = text.count(","), text.count(".")
    if not commas:
        return (text,) if points < 2 else (_grouped(text, "."),)
    if points and text.rfind(",") > text.rfind("."):
        return (
            (_grouped(text.split(",")[0], ".") + "." + text.split(",")[1],)
            if commas == 1
            else ("",)
        )
    head, _, tail = text.partition(".")
    if points or commas > 1:
        return (_grouped(head, ",") + ("." + tail if points else ""),)
    whole, part = text.split(",")
    if (
        len(part) == 3
        and part.isdigit()
        and 1 <= len(whole.lstrip("+-")) <= 3
        and whole.lstrip("+-0")
    ):
        return whole + part, whole + "." + part
    return (whole + "." + part,)


def _grouped(text: str, mark: str) -> str:
    """Thousands marks taken out where they really group in threes, else something unreadable."""
    head, *groups = text.split(mark)
    right = 1 <= len(head.lstrip("+-")) <= 3 and all(len(g) == 3 and g.isdigit() for g in groups)
    return head + "".join(groups) if right else "x"
