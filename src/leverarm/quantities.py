"""Reading and printing quantities: kg, m, kPa for the yard scale, lb, in, psi beside them.

A quantity is told as a bare number (SI) or as text with a unit.  Inside the
package it is a plain float in the base unit of its kind; the unit stands in the
name (``weight_kg``, ``wheelbase_m``, ``pressure_kpa``).  What cannot be read is
refused here, in one sentence, before anything else sees it.

>>> read("243 lb", "weight", "bucket weight")
110.22294591
>>> show(110.22294591, "weight", "lb")
'243 lb'
"""

import math
from dataclasses import dataclass

from leverarm.numerals import number_readings, plain, split_unit


class Refusal(ValueError):
    """One clear sentence about a value that cannot be used: field, given, allowed, what to do."""

    def __init__(self, field, given, allowed, do):
        self.field, self.given, self.allowed, self.do = field, _clip(given), allowed, do
        super().__init__(f"{field}: {self.given} was given; {allowed} is allowed; {do}.")


def _clip(given, most=60):
    """What was given, on one line and short enough to show anywhere."""
    text = " ".join(given.split()) if isinstance(given, str) else repr(given)
    text = "".join(c if c.isprintable() else "?" for c in text[:most + 1]) or "nothing"
    return text if len(text) <= most else text[:most] + "..."


class Sourced(float):
    """A number that remembers its unit and where it comes from.

    >>> G
    Sourced(9.80665 m/s2; CGPM 1901, standard acceleration of free fall, exact)
    >>> G * 2
    19.6133
    """

    def __new__(cls, value, unit, source):
        self = super().__new__(cls, value)
        self.unit, self.source = unit, source
        return self

    def __repr__(self):
        return f"Sourced({float(self):g} {self.unit}; {self.source})".replace(
            f"{float(self):g}", float.__repr__(self), 1)

    def __reduce__(self):
        return type(self), (float(self), self.unit, self.source)


_YARD = "international yard and pound agreement 1959, exact"
KG_PER_LB = Sourced(0.45359237, "kg/lb", _YARD)
M_PER_IN = Sourced(0.0254, "m/in", _YARD)
G = Sourced(9.80665, "m/s2", "CGPM 1901, standard acceleration of free fall, exact")
KPA_PER_PSI = Sourced(KG_PER_LB * G / M_PER_IN**2 / 1000, "kPa/psi", "pound-force per square inch, from the above")


@dataclass(frozen=True)
class Kind:
    """A kind of quantity: its units as multiples of the first, and how finely each is printed."""

    name: str
    units: dict
    decimals: dict
    example: str

    @property
    def base(self):
        """The unit a bare number is taken in."""
        return next(iter(self.units))


KINDS = {kind.name: kind for kind in (
    Kind("weight", {"kg": 1.0, "lb": float(KG_PER_LB), "t": 1000.0, "g": 0.001},
         {"kg": 1, "lb": 0, "t": 3, "g": 0}, "110 kg or 243 lb"),
    Kind("length", {"m": 1.0, "cm": 0.01, "mm": 0.001, "in": float(M_PER_IN), "ft": 12 * M_PER_IN},
         {"m": 2, "cm": 0, "mm": 0, "in": 1, "ft": 2}, "1.65 m or 65 in"),
    Kind("pressure", {"kPa": 1.0, "psi": float(KPA_PER_PSI), "bar": 100.0, "Pa": 0.001},
         {"kPa": 0, "psi": 1, "bar": 2, "Pa": 0}, "120 kPa or 17 psi"),
    Kind("force", {"N": 1.0, "kN": 1000.0, "lbf": KG_PER_LB * G, "kgf": float(G)},
         {"N": 0, "kN": 2, "lbf": 0, "kgf": 0}, "1500 N or 337 lbf"),
    Kind("area", {"m2": 1.0, "cm2": 1e-4, "in2": M_PER_IN**2, "mm2": 1e-6},
         {"m2": 4, "cm2": 0, "in2": 1, "mm2": 0}, "320 cm2 or 50 in2"),
    Kind("moment", {"kg m": 1.0, "lb in": KG_PER_LB * M_PER_IN, "lb ft": KG_PER_LB * 12 * M_PER_IN,
                    "N m": 1 / G},
         {"kg m": 1, "lb in": 0, "lb ft": 0, "N m": 0}, "132 kg m or 955 lb ft"),
    Kind("angle", {"deg": 1.0}, {"deg": 1}, "10 deg"),
    Kind("speed", {"m/s": 1.0, "km/h": 1 / 3.6, "mph": 63360 * M_PER_IN / 3600},
         {"m/s": 2, "km/h": 1, "mph": 1}, "8 km/h or 5 mph"),
    Kind("share", {"%": 1.0}, {"%": 1}, "40 %"),
    Kind("number", {"": 1.0}, {"": 2}, "1.73"),
)}

# What people write for a unit, lower case and without dots, to the name used here.
_SPELLINGS = {
    "kgs": "kg", "kilo": "kg", "kilos": "kg", "kilogram": "kg", "kilograms": "kg", "kilogrammes": "kg",
    "lbs": "lb", "pound": "lb", "pounds": "lb", "#": "lb", "tonne": "t", "tonnes": "t", "gram": "g", "grams": "g",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m", "centimetre": "cm", "centimetres": "cm",
    "millimetre": "mm", "millimetres": "mm", '"': "in", "inch": "in", "inches": "in", "ins": "in",
    "'": "ft", "foot": "ft", "feet": "ft", "kilopascal": "kpa", "kilopascals": "kpa", "bars": "bar",
    "newton": "n", "newtons": "n", "lbsf": "lbf", "kp": "kgf", "degree": "deg", "degrees": "deg", "°": "deg",
    "percent": "%", "per cent": "%", "sq cm": "cm2", "sq in": "in2", "kg*m": "kg m", "kgm": "kg m",
    "n*m": "n m", "nm": "n m", "lb*in": "lb in", "lb*ft": "lb ft", "kmh": "km/h", "kph": "km/h",
}


def unit_named(text, kind):
    """The unit of this kind that a text names, or None.

    >>> unit_named("LBS.", "weight"), unit_named("furlong", "length")
    ('lb', None)
    """
    wanted = plain(text).rstrip(".").lower().replace("^", "").replace("sq. ", "sq ")
    wanted = _SPELLINGS.get(wanted, wanted)
    return next((unit for unit in KINDS[kind].units if unit.lower() == wanted), None)


def kind_named(text):
    """The kind of quantity whose unit a text names, or None: tells a mass from a length.

    >>> kind_named("kilos"), kind_named("inches"), kind_named("parsec")
    ('weight', 'length', None)
    """
    return next((kind for kind in KINDS if kind != "number" and unit_named(text, kind)), None)


def read(value, kind, field, low=-math.inf, high=math.inf, *, open_low=False):
    """A told quantity as a float in the base unit of its kind.

    value   number in the base unit, or text with a unit
    kind    a name in KINDS
    field   what to call it in a refusal
    low, high   smallest and largest value accepted; open_low leaves ``low`` itself out

    Where a comma has two readings, grouped thousands are taken if they lie in
    the range, else the decimal comma.  Raises Refusal.

    >>> read("1,234 lb", "weight", "rear reading", 0) == 1234 * KG_PER_LB
    True
    >>> read("1,650 m", "length", "wheelbase", 0.5, 5)
    1.65
    >>> read("2 kg", "length", "overhang")
    Traceback (most recent call last):
      ...
    leverarm.quantities.Refusal: overhang: 2 kg was given; a length such as 1.65 m or 65 in is allowed; kg measures weight, so give a length.
    """
    candidates = _candidates(value, kind, field)
    for number in candidates:
        if low <= number <= high and not (open_low and number == low):
            return number
    raise Refusal(field, value, _range_words(kind, low, high, open_low),
                  "check the number and its unit")


def _candidates(value, kind, field):
    """Every value in the base unit that was told, or a Refusal."""
    allowed = f"a {kind} such as {KINDS[kind].example}"
    if isinstance(value, str):
        number, unit = split_unit(value)
        readings = number_readings(number)
        if not readings:
            raise Refusal(field, value, allowed, "type a number and its unit")
        return [r * KINDS[kind].units[_unit_or_refusal(unit, kind, field, value)] for r in readings]
    try:
        number = float(value) if not isinstance(value, bool) else math.nan
    except (TypeError, ValueError, OverflowError):
        raise Refusal(field, value, allowed, "give a number or text with a unit") from None
    if not math.isfinite(number):
        raise Refusal(field, value, allowed, "give a finite number")
    return [number]


def _unit_or_refusal(unit, kind, field, value):
    """The unit's name; the base unit where none is told."""
    named = unit_named(unit, kind) if unit else KINDS[kind].base
    if named is not None:
        return named
    other = kind_named(unit)
    do = f"{_clip(unit)} measures {other}, so give a {kind}" if other else f"use one of {unit_words(kind)}"
    raise Refusal(field, value, f"a {kind} such as {KINDS[kind].example}", do)


def unit_words(kind):
    """The units of a kind, to read aloud.

    >>> unit_words("weight")
    'kg, lb, t or g'
    """
    units = [unit for unit in KINDS[kind].units if unit]
    return " or ".join(filter(None, [", ".join(units[:-1]), units[-1]])) if units else "no unit"


def _range_words(kind, low, high, open_low):
    """The accepted range as words."""
    base = KINDS[kind].base
    more, most = ("above" if open_low else "from"), f"up to {high:g} {base}".rstrip()
    if math.isinf(low):
        return f"a {kind} {most}"
    return f"a {kind} {more} {low:g} {base}".rstrip() + ("" if math.isinf(high) else f" {most}")


SYSTEMS = {
    "kg": {"weight": "kg", "length": "m", "pressure": "kPa", "force": "N", "area": "cm2", "moment": "kg m",
           "angle": "deg", "speed": "km/h", "share": "%", "number": ""},
    "lb": {"weight": "lb", "length": "in", "pressure": "psi", "force": "lbf", "area": "in2", "moment": "lb in",
           "angle": "deg", "speed": "mph", "share": "%", "number": ""},
}


def unit_of(kind, system="kg"):
    """The unit in which a system shows a kind of quantity: unit_of("length", "lb") is "in"."""
    return SYSTEMS[system][kind]


def to_unit(value, kind, unit):
    """A base value as a number of the unit.  to_unit(1.0, "length", "in") is 39.37..."""
    return value / KINDS[kind].units[unit]


def from_unit(number, kind, unit):
    """A number of the unit as a base value.  from_unit(65, "length", "in") is 1.651."""
    return number * KINDS[kind].units[unit]


def show(value, kind, system="kg", *, decimals=None, sign=False):
    """A base value as text in the system's unit, with a true minus sign.

    >>> show(1.65, "length"), show(-82.7, "weight", sign=True), show(80, "weight", "lb", sign=True)
    ('1.65 m', '−82.7 kg', '+176 lb')
    """
    unit = unit_of(kind, system)
    places = KINDS[kind].decimals[unit] if decimals is None else decimals
    return f"{show_number(to_unit(value, kind, unit), places, sign=sign)} {unit.replace('2', '²')}".strip()


def show_number(number, decimals=1, *, sign=False):
    """A bare number as text: true minus, no sign on zero, thousands set apart from 10 000 up.

    >>> show_number(-0.04), show_number(1234.5), show_number(12345.6, 0), show_number(80, 0, sign=True)
    ('0.0', '1234.5', '12\u202f346', '+80')
    """
    text = f"{number:{'+' if sign else ''},.{decimals}f}"
    if not text.strip("+-0.,"):
        text = text.lstrip("+-")
    return text.replace("-", "−").replace(",", "\u202f" if abs(number) >= 9999.5 else "")
