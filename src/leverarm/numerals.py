"""Numbers as people type them: any minus, decimal comma, grouped thousands, fractions.

Nothing typed is ever evaluated: text becomes digits, a sign and one decimal
point, or it is no number.  Standard library only.
"""

import math
import unicodedata

_ALIKE = {"″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "º": "°", "·": "*", "⋅": "*", "×": "*",
          **dict.fromkeys("−–—‒﹣－", "-")}
_MOST_TEXT = 80


def plain(text):
    """Typed text with look-alikes made plain: full-width digits, any minus, thin spaces, superscript 2.

    >>> plain("−８２.7 kg")
    '-82.7 kg'
    """
    text = "".join(_ALIKE.get(c, c) for c in text)
    text = unicodedata.normalize("NFKC", text)
    text = "".join(_ALIKE.get(c, c) for c in text if unicodedata.category(c) != "Cf")
    return " ".join(text.split())


def split_unit(text):
    """The leading number of a text and what stands behind it, both as text.

    >>> split_unit("1 234.5 lb")
    ('1234.5', 'lb')
    """
    text = plain(text)
    end = 0
    while end < len(text) and (text[end] in "0123456789.,+-/ '" or _is_exponent(text, end)):
        # A foot mark ends the number; between two digits it groups thousands.
        if text[end] == "'" and not text[end + 1:end + 4].isdigit():
            break
        end += 1
    return text[:end].replace(" ", "").replace("'", ""), text[end:].strip()


def _is_exponent(text, at):
    """True inside 1.2e3: the e stands between a digit and a signed digit."""
    return (text[at] in "eE" and at and text[at - 1].isdigit()
            and text[at + 1:at + 3].lstrip("+-")[:1].isdigit())


def number_readings(text):
    """Every number that a text without a unit can mean, the likelier first.

    One comma before exactly three digits has two readings; a decimal comma and
    grouped thousands have one.  An empty tuple says the text is no number.

    >>> number_readings("12,5"), number_readings("1,234"), number_readings("1,234,567.5")
    ((12.5,), (1234.0, 1.234), (1234567.5,))
    >>> number_readings("3/4"), number_readings("1.234,5"), number_readings("twelve")
    ((0.75,), (1234.5,), ())
    """
    text = plain(text).replace(" ", "")
    if not text or len(text) > _MOST_TEXT:
        return ()
    if text.count("/") == 1:
        over, under = (number_readings(part) for part in text.split("/"))
        return tuple(x / y for x in over for y in under if y)
    return tuple(dict.fromkeys(value for spelling in _decimal_spellings(text)
                               if (value := _finite(spelling)) is not None))


def _finite(text):
    """A float of digits, or None: no 'nan', no 'infinity', no underscores."""
    if not all(c in "0123456789.+-eE" for c in text):
        return None
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _decimal_spellings(text):
    """The text with its commas and points turned into the one decimal point Python reads."""
    commas, points = text.count(","), text.count(".")
    if not commas:
        return (text,) if points < 2 else (_grouped(text, "."),)
    if points and text.rfind(",") > text.rfind("."):
        return (_grouped(text.split(",")[0], ".") + "." + text.split(",")[1],) if commas == 1 else ("",)
    head, _, tail = text.partition(".")
    if points or commas > 1:
        return (_grouped(head, ",") + ("." + tail if points else ""),)
    whole, part = text.split(",")
    if len(part) == 3 and part.isdigit() and 1 <= len(whole.lstrip("+-")) <= 3 and whole.lstrip("+-0"):
        return whole + part, whole + "." + part
    return (whole + "." + part,)


def _grouped(text, mark):
    """Thousands marks taken out where they really group in threes, else something unreadable."""
    head, *groups = text.split(mark)
    right = 1 <= len(head.lstrip("+-")) <= 3 and all(len(g) == 3 and g.isdigit() for g in groups)
    return head + "".join(groups) if right else "x"
