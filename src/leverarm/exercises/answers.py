"""Reading a typed number: its value, its unit, the sign it states in words, and what was understood.

Nothing is guessed.  A single comma before three digits that has two sensible
readings gives both, and whoever asks shows them.

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

from leverarm.exercises.grammar import Unreadable
from leverarm.numerals import number_readings, plain, split_unit
from leverarm.quantities import G, KINDS, kind_named, show_number, to_unit, unit_named

MOST_TYPED = 120
# Sizes that make sense for an answer, in the base unit; outside, a reading of a comma is dropped.
SENSIBLE = {"weight": (0.2, 60_000), "length": (0.002, 60), "pressure": (0.5, 5_000), "share": (0.05, 10_000),
            "number": (0.01, 100), "moment": (0.2, 100_000), "angle": (0.01, 90), "area": (1e-4, 5),
            "force": (1, 600_000), "speed": (0.01, 60)}
_LOSS = re.compile(r"\b(less|loss|lost|loses|losing|lighter|down|off|decrease[sd]?|fewer|behind)\b")
_GAIN = re.compile(r"\b(more|gain(?:s|ed)?|heavier|up|increase[sd]?|added|ahead)\b")
_LEAD = re.compile(r"^(?:about|approximately|approx\.?|roughly|around|ca\.?|circa|~|≈|is|equals?|=|\s)+", re.I)
_POWER = re.compile(r"\s*[*x]\s*10\s*\^\s*\(?\s*([+-]?\d{1,2})\s*\)?", re.I)
_MIXED = re.compile(r"^([+-]?)(\d{1,6}) (\d{1,4})/(\d{1,4})(?![\d.,])")
_FEET = re.compile(r"^([+-]?)(\d{1,3})\s*(?:ft|feet|foot|')\.?\s*(\d{1,3}(?:[.,]\d{1,3})?)\s*(?:in|inch|inches|\")?\.?$", re.I)
_RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺", "0123456789-+")


@dataclass(frozen=True)
class Reading:
    """A typed number as read.

    values      its possible values in the base unit, the likelier first; two where a comma leaves it open
    numbers     the same as typed, in the unit it was read in
    unit        that unit; told  whether it was typed or taken from the question
    kind        the kind of quantity the unit measures
    digits      significant digits typed
    signed      "loss" or "gain" where words said so, else ""
    """

    values: tuple
    numbers: tuple
    unit: str
    told: bool
    kind: str
    digits: int
    signed: str

    @property
    def shown(self):
        """What was understood, to show beside what was typed."""
        return " or ".join(_shown(number, self.unit) for number in self.numbers)


def _shown(number, unit):
    """A number with its unit, every digit that was typed and no more."""
    places = next((n for n in range(9) if abs(number - round(number, n)) <= 1e-9 * abs(number)), 9)
    return f"{show_number(number, places)} {unit.replace('2', '²')}".strip()


def read_number(typed, kind, unit):
    """A typed answer to a question that asks for a kind of quantity in a unit.  Raises Unreadable."""
    if len(typed) > MOST_TYPED:
        raise Unreadable(f"That is {len(typed)} characters long; up to {MOST_TYPED} are read. Type the number and its unit.")
    text, signed = _signed(_tidied(typed))
    numbers, rest = _numbers(text)
    if not numbers:
        raise Unreadable(_no_number(typed, kind))
    named, measured, factor = _unit(rest, kind, unit)
    numbers = tuple(-abs(n) if signed == "loss" else n for n in numbers)
    sensible = tuple(n for n in numbers if _in_range(n * factor, kind)) or numbers[:1]
    kept = sensible if len(numbers) > 1 else numbers
    return Reading(tuple(n * factor for n in kept), kept, named, bool(rest), measured, _digits(text), signed)


def _no_number(typed, kind):
    """The sentence for text without a number."""
    word = "".join(c if c.isprintable() else "?" for c in " ".join(typed.split())[:20]) or "nothing"
    return f"{word} is no number that can be read. Type a number and its unit, such as {KINDS[kind].example.split(' or ')[0]}."


def _tidied(typed):
    """Typed text on one line, look-alikes made plain, what stands before an equals sign gone."""
    raised = re.sub("[⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺]+", lambda m: "^" + m[0].translate(_RAISED), typed)
    raised = re.sub(r"\b(m|cm|mm|in)\^2", r"\g<1>2", raised)
    text = plain(raised).replace("**", "^").rstrip(".;!")
    if "=" in text:
        text = text.rsplit("=", 1)[1]
    text = _LEAD.sub("", text.strip())
    return re.split(r"±|\+/-|\+-", text)[0].strip() or text


def _signed(text):
    """The text without words of direction, and the direction they state."""
    low = text.lower()
    loss, gain = bool(_LOSS.search(low)), bool(_GAIN.search(low))
    if loss == gain:
        return text, ""
    cut = (_LOSS if loss else _GAIN).sub(" ", low)
    return " ".join(cut.replace("by", " ").replace("minus", "-").split()), "loss" if loss else "gain"


def _numbers(text):
    """The possible numbers at the head of a text, and what stands behind them."""
    feet = _FEET.match(text)
    if feet:
        inches = 12 * int(feet[2]) + float(feet[3].replace(",", "."))
        return (-inches if feet[1] == "-" else inches,), "in"
    mixed = _MIXED.match(text)
    if mixed and int(mixed[4]):
        whole = int(mixed[2]) + int(mixed[3]) / int(mixed[4])
        return (-whole if mixed[1] == "-" else whole,), text[mixed.end():].strip()
    ten = _POWER.search(text)
    if ten:
        head = number_readings(text[:ten.start()])
        return tuple(n * 10.0 ** int(ten[1]) for n in head), text[ten.end():].strip()
    number, rest = split_unit(text)
    return number_readings(number), rest


def _unit(rest, kind, asked):
    """The unit typed, the kind it measures, and what turns its numbers into the base unit of the question."""
    if not rest or (kind == "number" and rest.strip(" *.").lower() in ("x", "w", "times", "fold", "times w")):
        return asked, kind, KINDS[kind].units[asked]
    own = unit_named(rest, kind)
    if own is not None:
        return own, kind, KINDS[kind].units[own]
    other = kind_named(rest)
    if {kind, other} == {"weight", "force"}:
        force = unit_named(rest, other)
        return force, other, KINDS[other].units[force] * (1 / G if kind == "weight" else G)
    if other is None:
        word = "".join(c if c.isprintable() else "?" for c in rest[:20])
        raise Unreadable(f"{word} is no unit that can be read here. Type a number and its unit, such as "
                         f"{KINDS[kind].example.split(' or ')[0]}.")
    wrong = unit_named(rest, other)
    raise Unreadable(f"{wrong} measures {other}; this question asks for a {kind}, in {asked or 'no unit'}.")


def _in_range(value, kind):
    """Whether a size makes sense for the kind of quantity."""
    low, high = SENSIBLE.get(kind, (0, float("inf")))
    return low <= abs(value) <= high


def _digits(text):
    """Significant digits typed."""
    mantissa = re.split("[eE]", split_unit(text)[0])[0]
    return len(re.sub(r"[^0-9]", "", mantissa).lstrip("0")) or 1


def in_unit(base, kind, unit):
    """A base value with four significant digits in a unit, as a reply shows it."""
    number = to_unit(base, kind, unit)
    places = max(0, 3 - len(str(int(abs(number)))) + (1 if abs(number) >= 1 else 1))
    return f"{show_number(number, min(places, 4))} {unit.replace('2', '²')}".strip()
