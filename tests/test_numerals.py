"""Numbers as people type them: tables of readings, of what is no number, and of limits."""

import math
import random

import pytest

from leverarm.numerals import number_readings, plain, split_unit

READINGS = {
    # plain figures and signs, every kind of minus
    "110": (110.0,),
    "0": (0.0,),
    "+5": (5.0,),
    "-82.7": (-82.7,),
    "−82.7": (-82.7,),
    "–82.7": (-82.7,),
    "—82.7": (-82.7,),
    "﹣82.7": (-82.7,),
    "- 82.7": (-82.7,),
    ".5": (0.5,),
    "5.": (5.0,),
    " 12 ": (12.0,),
    # one comma before three digits has two readings, any other comma one
    "12,5": (12.5,),
    ",5": (0.5,),
    "1,234": (1234.0, 1.234),
    "-1,234": (-1234.0, -1.234),
    "0,125": (0.125,),
    "1,2345": (1.2345,),
    "12345,678": (12345.678,),
    "1234,567": (1234.567,),
    "123,456": (123456.0, 123.456),
    # grouped thousands
    "1,234.5": (1234.5,),
    "1.234,5": (1234.5,),
    "1,234,567": (1234567.0,),
    "1.234.567": (1234567.0,),
    "1,234,567.5": (1234567.5,),
    "1 234": (1234.0,),
    "1\u202f234,5": (1234.5,),
    "1\u00a0234.5": (1234.5,),
    "1'234": (1234.0,),
    "1’234’567.5": (1234567.5,),
    "12 345 678": (12345678.0,),
    # fractions, as on a tape
    "3/4": (0.75,),
    "43 1/2": (43.5,),
    "43-1/2": (43.5,),
    "43½": (43.5,),
    "43 ½": (43.5,),
    "-43½": (-43.5,),
    "½": (0.5,),
    "⅞": (0.875,),
    "3 / 4": (0.75,),
    "7/2": (3.5,),
    "3⁄4": (0.75,),
    "0,5/2": (0.25,),
    # powers of ten, full-width and invisible characters
    "1e3": (1000.0,),
    "1.5E-3": (0.0015,),
    "1,5e3": (1500.0,),
    "８２.７": (82.7,),
    "\u200e110": (110.0,),
}

NO_NUMBER = [
    "",
    " ",
    "twelve",
    "nan",
    "inf",
    "-inf",
    "infinity",
    "1_000",
    "0x10",
    "1e",
    "e3",
    "--5",
    "+-5",
    "5-",
    "5-6",
    "1.2.3",
    "1,,2",
    "1234,567.8",
    "1234.567,8",
    "1,23,456",
    "12,34.5",
    "1.5,5",
    "1.234,567,8",
    "5 6",
    "1 2345",
    "1234 567",
    "1 23 456",
    "1'2345",
    "1.234 567",
    "5 . 6",
    "1/0",
    "1 1/0",
    "1/2/3",
    "43 5/2",
    "43 2/2",
    "1.5 1/2",
    "½½",
    "5²",
    "²",
    "5 - 1/2",
    "1e400",
    "1e308/1e-308",
    "٣",
    "1,٣٣٣",
    "5;",
    "5)",
    "(5)",
    "=5",
    "5=5",
    "1+1",
    "2*3",
    "__import__('os')",
]

SPLITS = {
    "1 234.5 lb": ("1234.5", "lb"),
    "110kg": ("110", "kg"),
    "-82.7 kg": ("-82.7", "kg"),
    '65"': ("65", '"'),
    "65″": ("65", '"'),
    "65''": ("65", '"'),
    "5'": ("5", "'"),
    "5 ft": ("5", "ft"),
    "1'650 mm": ("1650", "mm"),
    "43 1/2 in": ("43+1/2", "in"),
    '43½"': ("43+1/2", '"'),
    "12,5 kg": ("12,5", "kg"),
    "5 e3": ("5", "e3"),
    "1e3 kg": ("1e3", "kg"),
    "320 cm²": ("320", "cm2"),
    "10°": ("10", "°"),
    "40 %": ("40", "%"),
    "5²kg": ("5", "^2kg"),
    "kg": ("", "kg"),
    "": ("", ""),
    "g = 9.8": ("", "g = 9.8"),
    "5 kg/m": ("5", "kg/m"),
    "3 m/s": ("3", "m/s"),
}


@pytest.mark.parametrize("text, readings", READINGS.items(), ids=repr)
def test_readings(text, readings):
    assert number_readings(text) == readings


@pytest.mark.parametrize("text", NO_NUMBER, ids=repr)
def test_no_number(text):
    assert number_readings(text) == ()


@pytest.mark.parametrize("text, parts", SPLITS.items(), ids=repr)
def test_split(text, parts):
    assert split_unit(text) == parts


@pytest.mark.parametrize("text", [t for t in READINGS if t.strip()], ids=repr)
def test_a_unit_behind_changes_no_reading(text):
    number, unit = split_unit(f"{text} kg")
    assert (number_readings(number), unit) == (READINGS[text], "kg")


def test_text_of_any_length_is_answered_at_once():
    longest = "1" * 80
    assert number_readings(longest) == (float(longest),) and split_unit(longest) == (longest, "")
    for huge in ("1" * 81, "1," * 10**6, "9" * 10**7, "½" * 10**6, " " * 10**7):
        assert number_readings(huge) == ()
        assert split_unit(huge) == ("", huge)


def test_plain_is_plain_already():
    """Plain text does not change again, whatever went in."""
    draw = random.Random(41)
    for _ in range(2000):
        text = "".join(
            draw.choice("0159.,-+/ '\"½⅞²³″′−–·×８e%°kgmlbinft\u202f\u200b\u00a0é")
            for _ in range(draw.randint(0, 12))
        )
        assert plain(plain(text)) == plain(text), ascii(text)


def test_no_text_breaks_the_reading():
    """Any text at all gives finite numbers or none, and never an error."""
    draw = random.Random(42)
    signs = "0123456789.,+-/ '\"eE½²−₂Ⅷ٣߁१\x00\n\t\u202e😀"
    found = 0
    for _ in range(5000):
        text = "".join(draw.choice(signs) for _ in range(draw.randint(0, 10)))
        readings = number_readings(split_unit(text)[0])
        assert all(isinstance(x, float) and math.isfinite(x) for x in readings), ascii(text)
        found += bool(readings)
    assert found > 500


@pytest.mark.parametrize(
    "spell",
    [
        repr,
        "{:.3f}".format,
        "{:,.2f}".format,
        lambda x: f"{x:.2f}".replace(".", ","),
        lambda x: f"{x:,.2f}".replace(",", "\u202f"),
        lambda x: f"{x:,.2f}".replace(",", "'"),
        lambda x: f"{x:,.2f}".replace(",", " ").replace(".", ","),
        lambda x: f"{x:.6e}",
        lambda x: f"{x:.2f}".replace("-", "−"),
        lambda x: f"{x:,.2f}".translate(str.maketrans(",.", ".,")),
    ],
    ids=[
        "repr",
        "fixed",
        "comma groups",
        "decimal comma",
        "thin spaces",
        "apostrophes",
        "spaces and comma",
        "power",
        "true minus",
        "points and comma",
    ],
)
def test_numbers_come_back_from_every_spelling(spell):
    draw = random.Random(43)
    for _ in range(300):
        number = round(draw.choice([-1, 1]) * 10 ** draw.uniform(-1, 6), 2)
        assert number_readings(spell(number)) == pytest.approx((number,), rel=1e-6), spell(number)
