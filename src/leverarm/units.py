"""Units of measure: their size, how people spell them, and the ones a reader of kg or lb sees.

Every kind of quantity has a base unit, its first; the package computes in base
units alone.  Factors that a standard fixes carry their source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from leverarm.numerals import MOST_TEXT, plain


class Sourced(float):
    """A number that remembers its unit and where it comes from.

    >>> G
    Sourced(9.80665 m/s2; CGPM 1901, standard acceleration of free fall, exact)
    >>> G * 2
    19.6133
    """

    unit: str
    source: str

    def __new__(cls, value: float, unit: str, source: str) -> Sourced:
        self = super().__new__(cls, value)
        self.unit, self.source = unit, source
        return self

    def __repr__(self) -> str:
        return f"Sourced({float.__repr__(self)} {self.unit}; {self.source})"

    def __reduce__(self) -> tuple[type, tuple[float, str, str]]:
        return type(self), (float(self), self.unit, self.source)


_YARD = "international yard and pound agreement 1959, exact"
KG_PER_LB = Sourced(0.45359237, "kg/lb", _YARD)
M_PER_IN = Sourced(0.0254, "m/in", _YARD)
G = Sourced(9.80665, "m/s2", "CGPM 1901, standard acceleration of free fall, exact")
KPA_PER_PSI = Sourced(
    KG_PER_LB * G / M_PER_IN**2 / 1000, "kPa/psi", "pound-force per square inch, from the above"
)


@dataclass(frozen=True, eq=False)
class Kind:
    """A kind of quantity: its units as multiples of the first, and how finely each is printed."""

    name: str
    units: dict[str, float]
    decimals: dict[str, int]
    example: str

    @property
    def base(self) -> str:
        """The unit a bare number is taken in."""
        return next(iter(self.units))


KINDS = {
    kind.name: kind
    for kind in (
        Kind(
            "weight",
            {"kg": 1.0, "lb": float(KG_PER_LB), "t": 1000.0, "g": 0.001},
            {"kg": 1, "lb": 0, "t": 3, "g": 0},
            "110 kg or 243 lb",
        ),
        Kind(
            "length",
            {"m": 1.0, "cm": 0.01, "mm": 0.001, "in": float(M_PER_IN), "ft": 12 * M_PER_IN},
            {"m": 2, "cm": 0, "mm": 0, "in": 1, "ft": 2},
            "1.65 m or 65 in",
        ),
        # A length on the ground, not on a machine: a run, the radius of a turn.
        Kind(
            "distance",
            {"m": 1.0, "ft": 12 * M_PER_IN, "in": float(M_PER_IN)},
            {"m": 1, "ft": 1, "in": 0},
            "50 m or 160 ft",
        ),
        Kind(
            "pressure",
            {"kPa": 1.0, "psi": float(KPA_PER_PSI), "bar": 100.0, "Pa": 0.001},
            {"kPa": 0, "psi": 1, "bar": 2, "Pa": 0},
            "120 kPa or 17 psi",
        ),
        Kind(
            "force",
            {"N": 1.0, "kN": 1000.0, "lbf": KG_PER_LB * G, "kgf": float(G)},
            {"N": 0, "kN": 2, "lbf": 0, "kgf": 0},
            "1,500 N or 337 lbf",
        ),
        Kind(
            "area",
            {"m2": 1.0, "cm2": 1e-4, "in2": M_PER_IN**2, "mm2": 1e-6},
            {"m2": 4, "cm2": 0, "in2": 1, "mm2": 0},
            "320 cm2 or 50 in2",
        ),
        Kind(
            "moment",
            {
                "kg m": 1.0,
                "lb in": KG_PER_LB * M_PER_IN,
                "lb ft": KG_PER_LB * 12 * M_PER_IN,
                "N m": 1 / G,
            },
            {"kg m": 1, "lb in": 0, "lb ft": 0, "N m": 0},
            "132 kg m or 955 lb ft",
        ),
        Kind("angle", {"deg": 1.0}, {"deg": 1}, "10 deg"),
        Kind(
            "speed",
            {"m/s": 1.0, "km/h": 1 / 3.6, "mph": 63360 * M_PER_IN / 3600},
            {"m/s": 2, "km/h": 1, "mph": 1},
            "8 km/h or 5 mph",
        ),
        Kind("share", {"%": 1.0}, {"%": 1}, "40 %"),
        Kind("number", {"": 1.0}, {"": 2}, "1.73"),
    )
}

# What people write for a unit, lower case and without dots, to the name used here.
_SPELLINGS = {
    written: unit
    for unit, spellings in {
        "kg": "kgs, kilo, kilos, kilogram, kilograms, kilogramme, kilogrammes",
        "lb": "lbs, pound, pounds, #",
        "t": "tonne, tonnes, metric ton, metric tons, metric tonne, metric tonnes",
        "g": "gram, grams, gramme, grammes",
        "m": "metre, metres, meter, meters",
        "cm": "centimetre, centimetres, centimeter, centimeters",
        "mm": "millimetre, millimetres, millimeter, millimeters",
        "in": '", inch, inches, ins',
        "ft": "', foot, feet",
        "kpa": "kilopascal, kilopascals",
        "psi": "lb/in2, lbs/in2, lbf/in2, lb/sq in, lbs/sq in, lb per sq in, lbs per sq in, "
        "lb per square inch, lbs per square inch, pounds per square inch, pounds/square inch",
        "bar": "bars",
        "n": "newton, newtons",
        "lbf": "lbsf",
        "kgf": "kp",
        "cm2": "sq cm, square cm, square centimeter, square centimeters, square centimetres",
        "in2": "sq in, square inch, square inches",
        "kg m": "kg*m, kg * m, kgm, m kg, kilogram meter, kilogram meters, kilogram metres",
        "n m": "n*m, nm, newton meter, newton meters, newton metres",
        "lb in": "lb*in, lb * in, in lb, in lbs, lbs in, lbf in, in lbf, pound inch, "
        "pound inches, inch pounds",
        "lb ft": "lb*ft, lb * ft, ft lb, ft lbs, lbs ft, lbf ft, ft lbf, pound feet, "
        "pound foot, foot pounds",
        "deg": "degree, degrees, °",
        "km/h": "kmh, kph",
        "%": "percent, per cent",
    }.items()
    for written in spellings.split(", ")
}


def unit_named(text: str, kind: str) -> str | None:
    """The unit of this kind that a text names, or None.

    >>> unit_named("LBS.", "weight"), unit_named("furlong", "length")
    ('lb', None)
    """
    wanted = (
        plain(text if len(text) <= MOST_TEXT else "?")
        .lower()
        .replace("^", "")
        .replace("-", " ")
        .replace(".", "")
    )
    wanted = _SPELLINGS.get(wanted, wanted)
    return next((unit for unit in KINDS[kind].units if unit.lower() == wanted), None)


def kind_of_unit(text: str) -> str | None:
    """The kind of quantity whose unit a text names, or None: tells a mass from a length.

    >>> kind_of_unit("kilos"), kind_of_unit("inches"), kind_of_unit("parsec")
    ('weight', 'length', None)
    """
    return next((kind for kind in KINDS if kind != "number" and unit_named(text, kind)), None)


def unit_words(kind: str) -> str:
    """The units of a kind, to read aloud.

    >>> unit_words("weight")
    'kg, lb, t or g'
    """
    units = [unit for unit in KINDS[kind].units if unit]
    return " or ".join(filter(None, [", ".join(units[:-1]), units[-1]])) if units else "no unit"


def degrees_of_slope(percent: float) -> float:
    """Angle of a slope given as rise in percent of run: degrees_of_slope(100) is 45.0."""
    return math.degrees(math.atan(percent / 100))


SYSTEMS = {
    "kg": {
        "weight": "kg",
        "length": "m",
        "distance": "m",
        "pressure": "kPa",
        "force": "N",
        "area": "cm2",
        "moment": "kg m",
        "angle": "deg",
        "speed": "km/h",
        "share": "%",
        "number": "",
    },
    "lb": {
        "weight": "lb",
        "length": "in",
        "distance": "ft",
        "pressure": "psi",
        "force": "lbf",
        "area": "in2",
        "moment": "lb in",
        "angle": "deg",
        "speed": "mph",
        "share": "%",
        "number": "",
    },
}


# The one choice of units: pounds first, until somebody chooses (quantities.show_in).
_chosen = ["lb"]


def system_shown(system: str | None = None) -> str:
    """The unit system named, else the one chosen for everything that is shown: "kg" or "lb"."""
    return _chosen[0] if system is None else system


def choose_system(system: str) -> None:
    """Show everything in this system from now on; quantities.show_in checks its name first."""
    _chosen[0] = system


def unit_of(kind: str, system: str | None = None) -> str:
    """The unit in which a system shows a kind of quantity: unit_of("length", "lb") is "in"."""
    return SYSTEMS[system_shown(system)][kind]


def to_unit(value: float, kind: str, unit: str) -> float:
    """A base value as a number of the unit.  to_unit(1.0, "length", "in") is 39.37..."""
    return value / KINDS[kind].units[unit]


def from_unit(number: float, kind: str, unit: str) -> float:
    """A number of the unit as a base value.  from_unit(65, "length", "in") is 1.651."""
    return number * KINDS[kind].units[unit]
