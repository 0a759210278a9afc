"""Reading a typed number: its value, its unit, and the direction stated in words.

Nothing is guessed.  A single comma before three digits that has two sensible
readings gives both, and the caller shows them.

>>> got = read_number("−82.7 KG", "weight", "kg")
>>> got.values, got.shown
((-82.7,), '−82.7 kg')
>>> read_number("80 kg lost", "weight", "kg").values
(-80.0,)
>>> [f"{v:g}" for v in read_number("1,234 kg", "weight", "kg").values]
['1234', '1.234']
"""

import re
from dataclasses import dataclass

from leverarm import quantities
from leverarm.exercises.expressions.grammar import Unreadable
from leverarm.numerals import number_readings, plain, split_unit
from leverarm.quantities import KINDS, G, Refusal, kind_of_unit, show_number, to_unit, unit_named

MOST_TYPED = 120
NOTHING_TYPED = "Nothing was typed"
# Sizes that make sense for an answer, in the base unit; outside, a reading of a comma is dropped.
SENSIBLE = {
    "weight": (0.2, 60_000),
    "length": (0.002, 60),
    "pressure": (0.5, 5_000),
    "share": (0.05, 10_000),
    "number": (0.01, 100),
    "moment": (0.2, 100_000),
    "angle": (0.01, 90),
    "area": (1e-4, 5),
    "force": (1, 600_000),
}
# 1,234 is read as the one of 1234 and 1.234 that is within this factor of the answer's size; where
# both are, or neither is, the student is asked.
FAR = 40
_LOSS = re.compile(
    r"\b(less|loss|lost|loses?|losing|lighter|lower|smaller|down|off|decreas(?:e[sd]?|ing)|"
    r"reduc(?:e[sd]?|ing|tion)|falls?|fell|fallen|falling|drop(?:s|ped|ping)?|fewer|behind|minus|"
    r"negative)\b"
)
_GAIN = re.compile(
    r"\b(more|gain(?:s|ed|ing)?|heavier|higher|greater|larger|up|increas(?:e[sd]?|ing)|"
    r"ris(?:es?|en|ing)|rose|grows?|grew|added|extra|additional|ahead|in front|plus|"
    r"positive)\b"
)
_FILLER = re.compile(
    r"\b(in front|about|approximately|approx|roughly|around|circa|ca|is|equals?|by|of|the|it|on|"
    r"at|axle|front|rear|reading|total|machine|answer|farther|further|goes|comes|or so)\b\.?|[~≈()]"
)
# Words with which a number means another one, or no one number: "half of 190", "less than 190".
_OTHER_NUMBER = re.compile(
    r"\b(not|no|never|half|third|quarter|twice|double|triple|times?|squared|cubed|sqrt|root|sin|cos|"
    r"tan|log|ln|over|under|above|below|than|least|most|to|until|from|between|if|per|each|every|both|"
    r"either|one|two|three|four|five|six|seven|eight|nine|ten|twelve|dozen|hundred|thousand|million)"
    r"\b"
)
_BEFORE = re.compile(r"(?:[^\W\d_]+(?:'[^\W\d_]+)?(?:[.:,;]+ ?| ))+(?=[-+] ?[.\d]|[.\d])")
_WORD = re.compile(r"[^\W\d_]+")
_BEHIND = re.compile(r"[^\W\d_]+(?:[ ,.;:?'-]+[^\W\d_]+)*[ ,.;:?'-]*")
# 282-283 kg, 282 to 283, between 282 and 283: two numbers where one is asked.
_TWO = re.compile(
    r"(?:between )?([0-9]+(?:[.,][0-9]+)*)([^0-9.,+*/^()=-]{0,12}?) ?(-|to|or|and|\.\.\.?|through)"
    r" ?([0-9]+(?:[.,][0-9]+)*)([^0-9+*/^()=]*)",
    re.IGNORECASE,
)
ALIKE = 1.25  # 282-283 names a range; of 160-282 nobody can say so
_POWER_OF_TEN = re.compile(r"\s*[*x]\s*10\s*\^\s*\(?\s*([+-]?\d{1,2})\s*\)?", re.IGNORECASE)
_FEET = re.compile(r"[+-]?\d+\s*(?:'|ft\.?|feet|foot)[ ,-]*\d", re.IGNORECASE)


@dataclass(frozen=True)
class Reading:
    """A typed number as it was read.

    values      its possible values in the base unit, the likelier first; a comma can leave two
    numbers     the same in the unit it was read in
    unit        that unit
    unit_typed  whether the unit was typed, or taken from the question
    digits      significant digits typed
    end_zeros   of these, zeros that may only hold a place: 1,380 may be rounded to tens
    direction   "loss" or "gain" where words said so, else ""
    """

    values: tuple[float, ...]
    numbers: tuple[float, ...]
    unit: str
    unit_typed: bool
    digits: int
    end_zeros: int
    direction: str

    @property
    def shown(self) -> str:
        """What was understood, to show beside what was typed."""
        return " or ".join(_as_typed(number, self.unit) for number in self.numbers)


def _as_typed(number: float, unit: str) -> str:
    """A number with its unit, every digit that was typed and no more."""
    if number and not 1e-9 <= abs(number) < 1e12:
        return f"{number:.4g} {printed_unit(unit)}".strip()
    places = next((n for n in range(9) if abs(number - round(number, n)) <= 1e-9 * abs(number)), 9)
    return f"{show_number(number, places)} {printed_unit(unit)}".strip()


# Units that a sentence spells out: "in inches", never "in in".
UNIT_WORDS = {
    "in": "inches",
    "in2": "square inches",
    "ft": "feet",
    "lb in": "pound-inches",
    "%": "percent",
    "deg": "degrees",
}


def printed_unit(unit: str) -> str:
    """A unit as printed: cm2 is cm²."""
    return unit.replace("2", "²")


def read_number(
    typed: str, kind: str, unit: str, direction_counts: bool = True, near: float | None = None
) -> Reading:
    """A typed answer to a question that asks for a kind of quantity in a unit.  Raises Unreadable.

    direction_counts    whether "lost" or "behind" makes the number negative; where the question
                        says which way, these words change nothing
    near                the right answer in the base unit, whose size tells which of two readings
                        of a comma can be meant; without it the sizes of a tractor tell
    """
    if len(typed) > MOST_TYPED:
        raise Unreadable(
            f"That is {len(typed)} characters long; up to {MOST_TYPED} are read. "
            "Type the number and its unit."
        )
    text, direction = _split_direction(_tidied(typed))
    text = _without_words_before(text)
    direction = direction if direction_counts else ""
    numbers, rest = _numbers(text, kind)
    if not numbers:
        found = f"{clipped(typed)} cannot be read as a number" if typed.strip() else NOTHING_TYPED
        raise Unreadable(f"{found}. Type a number and its unit, such as {_example(kind, unit)}.")
    named, factor = _unit(rest, kind, unit)
    numbers = tuple(-abs(n) if direction == "loss" else n for n in numbers)
    if len(numbers) > 1:
        low, high = SENSIBLE.get(kind, (0, float("inf")))
        if near:
            low, high = abs(near) / FAR, abs(near) * FAR
        fit = tuple(n for n in numbers if low <= abs(n * factor) <= high)
        numbers = fit or (numbers if near else numbers[:1])
    digits, end_zeros = _digits(text)
    return Reading(
        *(tuple(n * factor for n in numbers), numbers, named, bool(rest)),
        *(digits, end_zeros, direction),
    )


def clipped(typed: str, most: int = 24) -> str:
    """What was typed, short, on one line, fit to show."""
    word = (
        "".join(c if c.isprintable() else "?" for c in " ".join(typed[:200].split())[: most + 1])
        or "nothing"
    )
    return word if len(word) <= most else word[:most] + "..."


def _example(kind: str, asked: str) -> str:
    """What may be typed, in the system of the unit that is asked for.

    >>> _example("weight", "kg"), _example("weight", "lb"), _example("length", "ft")
    ('110 kg', '243 lb', '65 in')
    """
    examples = KINDS[kind].example.split(" or ")
    return examples[-1 if re.match(r"(lb|lbf|in2?|ft|psi|mph)\b", asked) else 0]


def _tidied(typed: str) -> str:
    """Typed text on one line, look-alikes made plain, from the equals sign to the ± sign."""
    text = plain(typed).strip(" $`").replace("**", "^").strip("^").rstrip(".;!?, ")
    for first, last in ('""', "''", "[]"):
        if text.startswith(first) and text.endswith(last):
            text = text[1:-1].strip()
    text = text.rsplit("=", 1)[-1].replace("plus or minus", "±")
    return re.split(r"±|\+/-|\+-", text)[0].strip() or text


def _split_direction(text: str) -> tuple[str, str]:
    """The text without words of direction and filler, and the direction that the words state."""
    low = text.lower()
    if not any(c.isalpha() or c in "~≈()" for c in low):
        return text, ""
    loss, gain = bool(_LOSS.search(low)), bool(_GAIN.search(low))
    bare = _GAIN.sub(" ", _LOSS.sub(" ", low)) if loss or gain else text
    return (
        " ".join(_FILLER.sub(" ", bare).split()).lstrip(":;, "),
        "" if loss == gain else "loss" if loss else "gain",
    )


def _without_words_before(text: str) -> str:
    """The text from its number on, where nothing but plain words stands before it."""
    found = _BEFORE.match(text)
    words = _WORD.findall(found.group().lower()) if found else []
    plain_words = all(
        (len(word) > 1 or word in "ai")
        and not _OTHER_NUMBER.fullmatch(word)
        and not kind_of_unit(word)
        for word in words
    )
    return text[found.end() :] if found and plain_words else text


def two_numbers(typed: str) -> tuple[str, str] | None:
    """The two numbers of a range or a choice, as typed; None where there is none.

    With a minus between, the second must be the larger, and not much: 790-600 is a subtraction.

    >>> two_numbers("282-283 kg"), two_numbers("about 282 or 283"), two_numbers("790-600")
    (('282', '283'), ('282', '283'), None)
    """
    if len(typed) > MOST_TYPED:
        return None
    text = _without_words_before(_split_direction(_tidied(typed))[0])
    found = _TWO.fullmatch(text)
    if not found:
        return None
    low, sign, high = found[1], found[3], found[4]
    ends = number_readings(low)[:1] + number_readings(high)[:1]
    if len(ends) < 2 or (sign == "-" and not ends[0] < ends[1] <= ALIKE * ends[0]):
        return None
    return low, high


def _numbers(text: str, kind: str) -> tuple[tuple[float, ...], str]:
    """The possible numbers at the head of a text, and what stands behind them."""
    if kind == "length" and _FEET.match(text):
        try:
            return (to_unit(quantities.read(text, "length", "answer"), "length", "in"),), "in"
        except Refusal:
            return (), ""
    if power := _POWER_OF_TEN.search(text):
        readings = number_readings(text[: power.start()])
        return tuple(n * 10.0 ** int(power[1]) for n in readings), text[power.end() :].strip()
    number, rest = split_unit(text)
    return number_readings(number), rest


def _unit(rest: str, kind: str, asked: str) -> tuple[str, float]:
    """The unit typed, and the factor that turns its numbers into the base unit of the question."""
    if not rest or (
        kind == "number" and rest.strip(" *.").lower() in ("x", "w", "times", "fold", "times w")
    ):
        return asked, KINDS[kind].units[asked]
    rest = _without_words_behind(rest, kind)
    own = unit_named(rest, kind)
    if own is not None:
        return own, KINDS[kind].units[own]
    other = kind_of_unit(rest)
    if other is None and rest.lower().strip(".") in ("ton", "tons"):
        raise Unreadable("A ton may be 2000 lb or 1000 kg. Type the number in kg or in lb.")
    if other is None:
        raise Unreadable(
            f"{clipped(rest)} is not a unit that can be read here. "
            f"Type a number and its unit, such as {_example(kind, asked)}."
        )
    typed = unit_named(rest, other) or ""
    if {kind, other} == {"weight", "force"}:
        return typed, KINDS[other].units[typed] * (1 / G if kind == "weight" else G)
    if (kind, other) == ("number", "share"):
        return "%", 0.01
    a = "an" if kind[0] in "aeiou" else "a"
    in_unit_asked = (
        f", in {UNIT_WORDS.get(asked, printed_unit(asked))}." if asked else ", without a unit."
    )
    raise Unreadable(f"{typed} measures {other}; this question asks for {a} {kind}{in_unit_asked}")


def _without_words_behind(rest: str, kind: str) -> str:
    """The unit at the head of a text, where nothing but plain words stands behind it.

    >>> _without_words_behind("kg, I think", "weight"), _without_words_behind("kg each", "weight")
    ('kg', 'kg each')
    """
    if kind_of_unit(rest) or not _BEHIND.fullmatch(rest):
        return rest
    words = rest.split(" ")
    for count in range(len(words) - 1, 0, -1):
        unit = " ".join(words[:count]).rstrip(",.;:?")
        behind = _WORD.findall(" ".join(words[count:]).lower())
        if unit_named(unit, kind) is None:
            continue
        if any(word != "than" and _OTHER_NUMBER.fullmatch(word) for word in behind):
            break
        # "in" is an inch at the end alone, and a word before others: 1.4 m in front.
        if any(kind_of_unit(word) for word in behind if word != "in" or len(behind) == 1):
            break
        return unit
    return rest


def _digits(text: str) -> tuple[int, int]:
    """Significant digits typed, and how many zeros at the end of a whole number are among them.

    >>> _digits("1,380 kg"), _digits("1380.0"), _digits("138"), _digits("1.380e3"), _digits("0")
    ((4, 1), (5, 0), (3, 0), (4, 0), (1, 0))
    """
    number = split_unit(text)[0]
    mantissa = re.split("[eE]", number)[0]
    digits = re.sub(r"[^0-9]", "", mantissa).lstrip("0")
    whole = re.fullmatch(r"[+-]?\d+([, ']\d{3})*", number.strip())
    return len(digits) or 1, len(digits) - len(digits.rstrip("0")) if whole else 0


def in_unit(base: float, kind: str, unit: str) -> str:
    """A base value with four significant digits in a unit, as a reply shows it.

    >>> in_unit(190.0, "weight", "kg"), in_unit(-1.23456, "length", "m")
    ('190.0 kg', '−1.235 m')
    """
    return f"{significant(to_unit(base, kind, unit))} {printed_unit(unit)}".strip()


def significant(number: float, digits: int = 4) -> str:
    """A number with so many significant digits, and a true minus.

    >>> significant(1234.5), significant(-0.0123456), significant(0)
    ('1,234', '−0.01235', '0')
    """
    if not number:
        return "0"
    if abs(number) >= 1:
        size = len(str(int(abs(float(f"{number:.{digits}g}")))))
    else:
        size = 1 + int(f"{abs(number):e}".split("e")[1])
    return show_number(number, max(0, digits - size))


def without_end_zeros(number: float, digits: int = 5) -> str:
    """A number on the way through a solution, with no zeros behind its significant digits.

    >>> without_end_zeros(8.05), without_end_zeros(-110.2229), without_end_zeros(0.0123456)
    ('8.05', '−110.22', '0.012346')
    """
    text = significant(number, digits)
    return text.rstrip("0").rstrip(".") if "." in text else text
