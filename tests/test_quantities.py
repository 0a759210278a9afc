"""Quantities: values with the source of each factor, refusals in whole sentences, limits."""

import copy
import math
import pickle
import random
import re
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest

from leverarm import units
from leverarm.quantities import (
    KINDS,
    KPA_PER_PSI,
    SYSTEMS,
    G,
    Refusal,
    Sourced,
    degrees_of_slope,
    from_unit,
    kind_of_unit,
    read,
    read_as_typed,
    show,
    show_in,
    show_number,
    system_shown,
    to_unit,
    unit_named,
    unit_of,
    unit_words,
)

# One of a unit in the base unit of its kind.
FACTORS = [
    ("weight", "lb", 0.45359237, "international yard and pound agreement 1959"),
    ("weight", "t", 1000, "SI"),
    ("weight", "g", 1e-3, "SI"),
    ("length", "in", 0.0254, "international yard and pound agreement 1959"),
    ("length", "ft", 0.3048, "international yard and pound agreement 1959"),
    ("distance", "ft", 0.3048, "international yard and pound agreement 1959"),
    ("distance", "in", 0.0254, "international yard and pound agreement 1959"),
    ("length", "cm", 0.01, "SI"),
    ("length", "mm", 0.001, "SI"),
    ("pressure", "psi", 6.894757, "NIST SP 811, table B.8 (from memory)"),
    ("pressure", "bar", 100, "NIST SP 811, table B.8 (from memory)"),
    ("pressure", "Pa", 1e-3, "SI"),
    ("force", "lbf", 4.448222, "NIST SP 811, table B.8 (from memory)"),
    ("force", "kgf", 9.80665, "CGPM 1901"),
    ("force", "kN", 1000, "SI"),
    ("area", "in2", 6.4516e-4, "NIST SP 811, table B.8 (from memory)"),
    ("area", "cm2", 1e-4, "SI"),
    ("area", "mm2", 1e-6, "SI"),
    ("moment", "N m", 1 / 9.80665, "CGPM 1901"),
    # 1 lbf ft = 1.355818 N m and 1 lbf in = 0.1129848 N m
    ("moment", "lb ft", 1.355818 / 9.80665, "NIST SP 811, table B.8 (from memory)"),
    ("moment", "lb in", 0.1129848 / 9.80665, "NIST SP 811, table B.8 (from memory)"),
    ("speed", "km/h", 1 / 3.6, "SI"),
    ("speed", "mph", 0.44704, "NIST SP 811, table B.8 (from memory)"),
]


@pytest.mark.parametrize("kind, unit, worth, source", FACTORS, ids=lambda x: str(x))
def test_a_unit_is_worth_what_its_source_says(kind, unit, worth, source):
    assert from_unit(1, kind, unit) == pytest.approx(worth, rel=5e-7)
    assert to_unit(worth, kind, unit) == pytest.approx(1, rel=5e-7)


def test_every_unit_has_its_worth_tested():
    tested = {(kind, unit) for kind, unit, *_ in FACTORS}
    assert tested == {
        (kind.name, unit) for kind in KINDS.values() for unit in kind.units if unit != kind.base
    }


READ = [
    ("weight", 110, 110.0),
    ("weight", "110", 110.0),
    ("weight", "110 kg", 110.0),
    ("weight", "110KG.", 110.0),
    ("weight", "243 lb", 110.22294591),
    ("weight", "243 lbs.", 110.22294591),
    ("weight", "243#", 110.22294591),
    ("weight", "1,234 lb", 1234 * 0.45359237),
    ("weight", "12,5 kg", 12.5),
    ("weight", "1.2 t", 1200.0),
    ("weight", "½ tonne", 500.0),
    ("weight", "800 grams", 0.8),
    ("weight", "1 1/2 t", 1500.0),
    ("length", "1.65 m", 1.65),
    ("length", "165 cm", 1.65),
    ("length", "1 650 mm", 1.65),
    ("length", "1,65", 1.65),
    ("length", "65 in", 1.651),
    ("length", '65"', 1.651),
    ("length", "65″", 1.651),
    ("length", "65''", 1.651),
    ("length", "43 1/2 in", 1.1049),
    ("length", '43½"', 1.1049),
    ("length", "5.5 ft", 1.6764),
    ("length", "5' 5\"", 1.651),
    ("length", "5'5″", 1.651),
    ("length", "5 ft 5 in", 1.651),
    ("distance", "8 ft 2 in", 2.4892),
    ("distance", "164 feet", 49.9872),
    ("length", "5ft. 5in.", 1.651),
    ("length", "5 feet, 5 1/2 inches", 1.6637),
    ("length", "5' 6", 1.6764),
    ("length", "-5' 6\"", -1.6764),
    ("length", "−1.2 m", -1.2),
    ("length", "5'650 mm", 5.65),
    ("pressure", "17 psi", 117.2108),
    ("pressure", "1.2 bar", 120.0),
    ("force", "1.5 kN", 1500.0),
    ("area", "320 cm²", 0.032),
    ("area", "50 sq. in.", 0.032258),
    ("area", "50 in^2", 0.032258),
    ("moment", "100 N·m", 100 / 9.80665),
    ("moment", "10 ft-lb", 1.382550),
    ("moment", "10 lb ft", 1.382550),
    ("moment", "10 kg·m", 10.0),
    ("angle", "10°", 10.0),
    ("angle", "10 degrees", 10.0),
    ("angle", "100 %", 45.0),
    ("speed", "8 km/h", 8 / 3.6),
    ("speed", "5 mph", 2.2352),
    ("share", "40 %", 40.0),
    ("share", "40 percent", 40.0),
    ("number", "1.73", 1.73),
    ("number", "1 3/4", 1.75),
]


@pytest.mark.parametrize("kind, told, base", READ, ids=str)
def test_read(kind, told, base):
    value = read(told, kind, "field")
    assert type(value) is float and value == pytest.approx(base, rel=1e-6)


@pytest.mark.parametrize(
    "number",
    [
        5,
        5.0,
        Fraction(5),
        Decimal("5"),
        np.float64(5),
        np.float32(5),
        np.int64(5),
        np.uint8(5),
        np.array(5.0),
        Sourced(5, "kg", "a scale"),
        type("Float", (float,), {})(5),
        type("Int", (int,), {})(5),
    ],
    ids=lambda n: type(n).__name__,
)
def test_any_real_number_is_read(number):
    value = read(number, "weight", "field")
    assert type(value) is float and value == 5.0


class Sulky(float):
    """A number that will not be one."""

    def __float__(self):
        raise RuntimeError("not today")

    __str__ = __repr__ = __float__


class Mute:
    """A value that raises whatever is asked of it."""

    def __getattr__(self, name):
        raise KeyError(name)

    def __repr__(self):
        raise KeyError("repr")


GIVE, TYPE, FINITE = (
    "give a number or text with a unit",
    "type only a number and its unit",
    "give a finite number",
)
UNITS = "use kg, lb, t or g"
REFUSED = [
    (True, "True", GIVE),
    (False, "False", GIVE),
    (None, "nothing", GIVE),
    (np.True_, "a value of type bool", GIVE),
    ([5], "a value of type list", GIVE),
    ({}, "a value of type dict", GIVE),
    (b"5", "a value of type bytes", GIVE),
    (bytearray(b"5"), "a value of type bytearray", GIVE),
    (object(), "a value of type object", GIVE),
    (5 + 0j, "(5+0j)", GIVE),
    (np.complex64(5), "(5+0j)", GIVE),
    (np.array([5.0, 6.0]), "a value of type ndarray", GIVE),
    (lambda: 5, "a value of type function", GIVE),
    (Sulky(5), "a value of type Sulky", GIVE),
    (Mute(), "a value of type Mute", GIVE),
    (Decimal("sNaN"), "sNaN", GIVE),
    (math.nan, "nan", FINITE),
    (math.inf, "inf", FINITE),
    (-math.inf, "-inf", FINITE),
    (np.float64("nan"), "nan", FINITE),
    (Decimal("NaN"), "NaN", FINITE),
    (Decimal("Infinity"), "Infinity", FINITE),
    (10**400, "1" + 56 * "0" + "...", FINITE),
    (10**5000, "a value of type int", FINITE),
    ("", "nothing", TYPE),
    ("  \t\n", "nothing", TYPE),
    ("kg", "kg", TYPE),
    ("heavy", "heavy", TYPE),
    ("nan kg", "nan kg", TYPE),
    ("inf", "inf", TYPE),
    ("1e400 kg", "1e400 kg", TYPE),
    ("g = 9.8", "g = 9.8", TYPE),
    ("W = 110 kg", "W = 110 kg", TYPE),
    ("about 5 kg", "about 5 kg", TYPE),
    ("5-6 kg", "5-6 kg", TYPE),
    ("5 6 kg", "5 6 kg", TYPE),
    ("1/0 kg", "1/0 kg", TYPE),
    ("٣ kg", "٣ kg", TYPE),
    ("kg 5", "kg 5", TYPE),
    ("9" * 10**6, "9" * 57 + "...", TYPE),
    ("5 " + "kg " * 10**5, ("5 " + "kg " * 30)[:57] + "...", TYPE),
    ("5 furlongs", "5 furlongs", UNITS),
    ("5 stone", "5 stone", UNITS),
    ("5 ton", "5 ton", UNITS),
    ("5 kg 3 kg", "5 kg 3 kg", UNITS),
    ("5 kg; rm -rf", "5 kg; rm -rf", UNITS),
    ("5²kg", "5²kg", UNITS),
    ("110 kg (empty)", "110 kg (empty)", UNITS),
    ("5\x00kg", "5?kg", UNITS),
    ("5\x1b[31m kg", "5?[31m kg", UNITS),
    ("5 kg\u202e", None, None),
    ("5 <b>kg</b>", "5 <b>kg</b>", UNITS),
    ("0x10 kg", "0x10 kg", UNITS),
    ("5 m", "5 m", '"m" is a unit of length, so give a weight'),
    ('5"', '5"', '"in" is a unit of length, so give a weight'),
    ("500 N", "500 N", '"N" is a unit of force, so give a weight'),
    ("5 kPa", "5 kPa", '"kPa" is a unit of pressure, so give a weight'),
    ("5 kg m", "5 kg m", '"kg m" is a unit of moment, so give a weight'),
    ("5 %", "5 %", '"%" is a unit of share, so give a weight'),
]


def sentence_of(*args, **options):
    with pytest.raises(Refusal) as caught:
        read(*args, **options)
    return str(caught.value)


@pytest.mark.parametrize(
    "told, given, do", REFUSED, ids=[ascii(given)[:30] for _, given, _ in REFUSED]
)
def test_refused(told, given, do):
    if do is None:  # an invisible mark beside a good value does no harm
        assert read(told, "weight", "bucket weight") == 5.0
        return
    assert sentence_of(told, "weight", "bucket weight") == (
        f"bucket weight: {given} was given; a weight such as 110 kg or 243 lb is allowed; {do}."
    )


OTHER_KINDS = [
    (
        "length",
        "2 kg",
        'a length such as 1.65 m or 65 in is allowed; "kg" is a unit of weight, so give a length.',
    ),
    (
        "length",
        "2 lb",
        'a length such as 1.65 m or 65 in is allowed; "lb" is a unit of weight, so give a length.',
    ),
    ("length", "4 yd", "a length such as 1.65 m or 65 in is allowed; use m, cm, mm, in or ft."),
    (
        "length",
        "5 ft 13 in",
        "a length such as 1.65 m or 65 in is allowed; use m, cm, mm, in or ft.",
    ),
    (
        "length",
        "5 ft 3 kg",
        "a length such as 1.65 m or 65 in is allowed; use m, cm, mm, in or ft.",
    ),
    (
        "angle",
        "2 kg",
        'an angle such as 10 deg is allowed; "kg" is a unit of weight, so give an angle.',
    ),
    ("angle", "2 rad", "an angle such as 10 deg is allowed; use deg."),
    ("area", "2 acres", "an area such as 320 cm2 or 50 in2 is allowed; use m2, cm2, in2 or mm2."),
    (
        "number",
        "2 kg",
        'a number such as 1.73 is allowed; "kg" is a unit of weight, so give a number.',
    ),
    ("number", "2 times", "a number such as 1.73 is allowed; use no unit."),
]


@pytest.mark.parametrize("kind, told, rest", OTHER_KINDS, ids=str)
def test_refused_in_other_kinds(kind, told, rest):
    assert sentence_of(told, kind, "field") == f"field: {told} was given; {rest}"


RANGES = [
    # low, high, open_low, words
    (-math.inf, 5, False, "a weight up to 5 kg"),
    (0, math.inf, False, "a weight from 0 kg"),
    (0, math.inf, True, "a weight above 0 kg"),
    (0.5, 5, False, "a weight from 0.5 kg to 5 kg"),
    (0, 50_000, True, "a weight above 0 kg and up to 50,000 kg"),
    (-20, 20, False, "a weight from −20 kg to 20 kg"),
]


@pytest.mark.parametrize("low, high, open_low, words", RANGES, ids=str)
def test_out_of_range_says_the_range(low, high, open_low, words):
    outside = [x for x in (low - 1, high + 1) if math.isfinite(x)] + [low] * open_low
    for value in outside:
        assert f"{words} is allowed; check the number and its unit." in sentence_of(
            value, "weight", "field", low, high, open_low=open_low
        )
    inside = [x for x in (low, high) if math.isfinite(x)]
    for value in inside[open_low:]:
        assert read(value, "weight", "field", low, high, open_low=open_low) == value
    assert sentence_of(
        outside[0], "weight", "field", low, high, open_low=open_low, do="think again"
    ).endswith("think again.")


def test_the_ends_of_what_is_read():
    assert read(0, "weight", "field", 0) == 0.0
    # Eighty characters are read, eighty-one are not, whatever they say.
    assert read("5'" + " " * 77 + "6", "length", "field") == pytest.approx(1.6764)
    assert "type only a number" in sentence_of("5'" + " " * 78 + "6", "length", "field")
    assert read("5" + " " * 77 + "kg", "weight", "field") == 5.0
    assert "type only a number" in sentence_of("5" + " " * 78 + "kg", "weight", "field")
    assert "x" * 60 + " was given" in sentence_of("x" * 60, "weight", "field")
    assert "x" * 57 + "... was given" in sentence_of("x" * 61, "weight", "field")


def test_a_comma_with_two_readings_takes_the_one_in_range():
    assert read("1,650 m", "length", "wheelbase", 0.5, 5) == 1.65
    assert read("1,650 mm", "length", "wheelbase", 0.5, 5) == pytest.approx(1.65)
    assert read("1,234 lb", "weight", "reading", 0, 50_000) == 1234 * 0.45359237
    assert read("1,234", "number", "field") == 1234.0
    assert "1,650 kg was given" in sentence_of("1,650 kg", "weight", "field", 2, 1000)


SAYS = re.compile(
    r"""[^:]+: .+ was given; .+ is allowed; (give|type|use|check|"[^"]+" is a unit of) .+\."""
)


def test_a_refusal_is_one_short_clear_line_whatever_was_given():
    """Field, given, allowed, what to do; printable, on one line, with the right article."""
    draw = random.Random(44)
    signs = "0123456789.,-+/ '\"\n\t\x00\x1b\u202e½²kgmlbinft%°=<>&;😀"
    for _ in range(3000):
        told = "".join(draw.choice(signs) for _ in range(draw.randint(0, 90)))
        kind = draw.choice(list(KINDS))
        try:
            assert math.isfinite(read(told, kind, "field"))
        except Refusal as refusal:
            sentence = str(refusal)
            assert SAYS.fullmatch(sentence), sentence
            assert (
                sentence.isprintable()
                and len(sentence) < 250
                and not re.search(r"\ba a|\ban [^a]", refusal.allowed + refusal.do)
            ), sentence


def test_a_refusal_is_a_value_error_that_can_be_copied_and_sent():
    try:
        read("2 kg", "length", "overhang")
    except ValueError as caught:
        refusal = caught
    for twin in (copy.copy(refusal), copy.deepcopy(refusal), pickle.loads(pickle.dumps(refusal))):
        assert (type(twin), str(twin), vars(twin)) == (Refusal, str(refusal), vars(refusal))
    assert (refusal.field, refusal.given, refusal.do) == (
        "overhang",
        "2 kg",
        '"kg" is a unit of weight, so give a length',
    )
    assert (
        Refusal("f", "x" * 100, "a", "d").given
        == Refusal("f", Refusal("f", "x" * 100, "a", "d").given, "a", "d").given
    )


def test_sourced_is_a_float_that_remembers():
    for twin in (G, copy.copy(G), copy.deepcopy(G), pickle.loads(pickle.dumps(G))):
        assert (twin, twin.unit, twin.source, type(twin)) == (9.80665, G.unit, G.source, Sourced)
    assert repr(KPA_PER_PSI).startswith("Sourced(6.894757293168361 kPa/psi; ")
    assert G == 9.80665 and hash(G) == hash(9.80665) and type(G * 1) is float


# A distance on the ground is a length too, and has its units.
ONCE = {name: kind for name, kind in KINDS.items() if name != "distance"}


@pytest.mark.parametrize("spelling, unit", units._SPELLINGS.items(), ids=str)
def test_every_spelling_names_a_unit_of_one_kind(spelling, unit):
    found = {kind: unit_named(spelling, kind) for kind in ONCE if unit_named(spelling, kind)}
    assert [name.lower() for name in found.values()] == [unit]
    assert kind_of_unit(spelling.upper() + ".") == next(iter(found))


def test_no_unit_belongs_to_two_kinds():
    assert set(KINDS["distance"].units) < set(KINDS["length"].units)
    for kind in ONCE.values():
        for unit in kind.units:
            assert kind_of_unit(unit) == (kind.name if unit else None)
            assert unit_named(unit, kind.name) == unit
    assert unit_named("k" * 10**6, "weight") is None
    assert [unit_words(kind) for kind in ("angle", "moment", "number")] == [
        "deg",
        "kg m, lb in, lb ft or N m",
        "no unit",
    ]


SHOWN = [
    (1.65, "length", "kg", {}, "1.65 m"),
    (1.65, "length", "lb", {}, "65 in"),
    (1.65, "length", "lb", {"decimals": 1}, "65.0 in"),
    (0.1651, "length", "lb", {}, "6.5 in"),
    (110.22294591, "weight", "lb", {}, "243 lb"),
    (-82.7, "weight", "kg", {"sign": True}, "−82.7 kg"),
    (80, "weight", "kg", {"sign": True}, "+80.0 kg"),
    (0.0, "weight", "kg", {"sign": True}, "0.0 kg"),
    (-0.04, "weight", "kg", {}, "0.0 kg"),
    (1234.5, "weight", "kg", {}, "1,234.5 kg"),
    (12345.6, "weight", "kg", {}, "12,345.6 kg"),
    (0.032, "area", "kg", {}, "320 cm²"),
    (0.032, "area", "lb", {}, "49.6 in²"),
    (40, "share", "kg", {}, "40.0 %"),
    (120, "pressure", "lb", {}, "17.4 psi"),
    (1.734, "number", "kg", {}, "1.73"),
    (10, "angle", "lb", {}, "10.0 deg"),
    (110.22, "weight", "kg", {"decimals": 3}, "110.220 kg"),
]


@pytest.mark.parametrize("value, kind, system, options, text", SHOWN, ids=lambda x: str(x))
def test_show(value, kind, system, options, text):
    assert show(value, kind, system, **options) == text


@pytest.mark.parametrize(
    "given, allowed",
    [  # 0.5 m is 19.685 in, 5 m is 196.850 in: rounded so that all that is named is allowed
        ("9 in", "a length from 19.69 in to 196.85 in"),
        ("17 ft", "a length from 19.69 in to 196.85 in"),
        ("9 m", "a length from 0.5 m to 5 m"),
        (9, "a length from 0.5 m to 5 m"),
    ],
)
def test_a_refusal_names_the_range_in_the_units_that_were_typed(given, allowed):
    with pytest.raises(Refusal, match=re.escape(f"{allowed} is allowed")):
        read(given, "length", "wheelbase", 0.5, 5)
    for end in ("19.69 in", "196.85 in"):
        assert 0.5 <= read(end, "length", "wheelbase", 0.5, 5) <= 5


def test_pounds_come_first_and_one_choice_is_followed():
    """260 lb is 117.934 kg and 47 in is 1.1938 m, by the international pound and yard."""
    weight, ahead = read("260 lb", "weight", "bucket"), read("47 in", "length", "overhang")
    assert (show(weight, "weight"), show(ahead, "length")) == ("260 lb", "47 in")
    assert (unit_of("pressure"), system_shown()) == ("psi", "lb")
    show_in("kg")
    assert (show(weight, "weight"), show(ahead, "length")) == ("117.9 kg", "1.19 m")
    assert (unit_of("pressure"), system_shown(), system_shown("lb")) == ("kPa", "kg", "lb")
    # In code a bare number is SI, whatever is shown.
    assert read(117.934, "weight", "bucket") == pytest.approx(weight, rel=1e-5)
    with pytest.raises(Refusal, match="unit system: stone was given; kg or lb is allowed"):
        show_in("stone")
    assert system_shown() == "kg", "a refused choice changes nothing"


def test_a_comma_groups_thousands_as_printed():
    assert show_number(1.25) == "1.2"
    cases = ((999.4, 0), (999.6, 0), (-1320, 0), (1019.44, 1), (9999.96, 1), (-1e6, 0))
    assert [show_number(x, d) for x, d in cases] == [
        "999",
        "1,000",
        "−1,320",
        "1,019.4",
        "10,000.0",
        "−1,000,000",
    ]
    assert show_number(1760, 0, sign=True) == "+1,760"


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("kind", KINDS)
def test_what_is_shown_can_be_read_back(kind, system):
    """To half of the last digit shown; an angle of more than a half turn is not told."""
    draw = random.Random(45)
    unit = unit_of(kind, system)
    step = from_unit(10.0 ** -KINDS[kind].decimals[unit], kind, unit)
    for _ in range(200):
        value = draw.choice([-1, 1]) * 10 ** draw.uniform(-2, 6)
        assert read(show(value, kind, system), kind, "field") == pytest.approx(
            value, abs=0.5001 * step, rel=1e-9
        )


@pytest.mark.parametrize("percent, angle", [(0, 0), (100, 45), (-100, -45)])
def test_slopes(percent, angle):
    assert degrees_of_slope(percent) == angle


@pytest.mark.parametrize(
    "text, kind, in_kg, in_lb",
    [
        ("63 in", "length", "1.60 m", "63 in"),
        ("64 5/8 in", "length", "1.641 m", "64.625 in"),
        ("5'3\"", "length", "1.60 m", "63 in"),
        ("1.65 m", "length", "1.65 m", "65.0 in"),
        ("1,65 m", "length", "1.65 m", "65.0 in"),
        ("1650 mm", "length", "1.650 m", "64.96 in"),
        ("3 mm", "length", "0.003 m", "0.12 in"),
        ("10 lb", "weight", "4.5 kg", "10 lb"),
        ("1,234 lb", "weight", "559.7 kg", "1,234 lb"),
        ("0.5 kg", "weight", "0.5 kg", "1.1 lb"),
        ("20 psi", "pressure", "138 kPa", "20 psi"),
        ("1.40 bar", "pressure", "140 kPa", "20.3 psi"),
        ("0.5", "share", "0.5 %", "0.5 %"),
    ],
)
def test_a_quantity_as_typed_is_shown_with_as_many_digits(text, kind, in_kg, in_lb):
    typed = read_as_typed(text, kind, "field", 0, 2000)
    assert typed == read(text, kind, "field", 0, 2000)
    assert (show(typed, kind, "kg"), show(typed, kind, "lb")) == (in_kg, in_lb)
    again = pickle.loads(pickle.dumps(read_as_typed(typed, kind, "field", 0, 2000)))
    assert (again, again.text) == (typed, typed.text)
    assert read(typed.text, kind, "field") == typed, "its text has its unit"
    assert type(typed * 1) is float


@pytest.mark.parametrize("given", [1.65, 2])
def test_a_number_was_not_typed(given):
    assert type(read_as_typed(given, "length", "field")) is float
    with pytest.raises(Refusal, match="wheelbase"):
        read_as_typed(read_as_typed("9 m", "length", "x"), "length", "wheelbase", 0, 5)
