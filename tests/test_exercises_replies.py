"""Answers at the bounds of what is read, the sentences of replies, hints in both directions."""

import hashlib
import re
from dataclasses import replace
from decimal import Context, Decimal

import pytest
from hand import GRAVITY, KG_PER_LB, numbers_in

from leverarm import exercises
from leverarm.data import parsed
from leverarm.exercises.dimensions import sums_tell
from leverarm.exercises.expressions.grammar import Unreadable, read_formula
from leverarm.exercises.free_body import FreeBody, read_free_body
from leverarm.exercises.letters import grid_digits, read_letters
from leverarm.exercises.number_reader import (
    clipped,
    in_unit,
    printed_unit,
    read_number,
    significant,
    without_end_zeros,
)
from leverarm.exercises.random_numbers import RandomStream
from leverarm.exercises.rules import RULES
from leverarm.exercises.solution import drawing_hint, principle_question

KINDS = {kind.name: kind for kind in exercises.problems()}


def made(name, seed=3, system="kg"):
    return exercises.make(name, seed, system)


def sentence_of(read, *told):
    """The sentence of a refusal; "" where the text is read."""
    try:
        read(*told)
    except Unreadable as sentence:
        return str(sentence)
    return ""


# --- a number and its unit ------------------------------------------------------------------------


@pytest.mark.parametrize(
    "typed, kind, unit, numbers",
    [
        # The largest and the smallest sizes that make sense, and the next beyond them.
        ("60,000 kg", "weight", "kg", (60_000, 60)),
        ("60,001 kg", "weight", "kg", (60.001,)),
        ("200,000 g", "weight", "kg", (200_000, 200)),
        ("199,000 g", "weight", "kg", (199_000,)),
        ("60,000 mm", "length", "m", (60_000, 60)),
        ("60,001 mm", "length", "m", (60.001,)),
        ("2,000 mm", "length", "m", (2000, 2)),
        ("1,999 mm", "length", "m", (1999,)),
        ("5,000 kPa", "pressure", "kPa", (5000, 5)),
        ("5,001 kPa", "pressure", "kPa", (5.001,)),
        ("500,000 Pa", "pressure", "kPa", (500_000, 500)),
        ("499,000 Pa", "pressure", "kPa", (499_000,)),
        ("10,000 %", "share", "%", (10_000, 10)),
        ("10,001 %", "share", "%", (10.001,)),
        ("10,000 %", "number", "", (10_000, 10)),
        ("10,100 %", "number", "", (10.1,)),
        ("1,000 %", "number", "", (1000, 1)),
        ("100,000", "number", "", (100,)),
        ("101,000", "number", "", (101_000,)),
        ("100,000", "moment", "kg m", (100_000, 100)),
        ("100,001", "moment", "kg m", (100.001,)),
        ("18,000 lb in", "moment", "kg m", (18_000, 18)),
        ("17,000 lb in", "moment", "kg m", (17_000,)),
        ("90,000 deg", "angle", "deg", (90,)),
        ("91,000 deg", "angle", "deg", (91_000,)),
        ("101,000 mm2", "area", "cm2", (101_000, 101)),
        ("99,000 mm2", "area", "cm2", (99_000,)),
        ("50,000 cm2", "area", "cm2", (50_000, 50)),
        ("50,100 cm2", "area", "cm2", (50.1,)),
        ("600,000 N", "force", "N", (600_000, 600)),
        ("600,001 N", "force", "N", (600.001,)),
        ("1,000 N", "force", "N", (1000, 1)),
        ("101,000 g", "force", "N", (101_000,)),
        ("103,000 g", "force", "N", (103_000, 103)),
    ],
)
def test_a_comma_has_two_readings_where_both_are_sizes_of_a_tractor(typed, kind, unit, numbers):
    assert read_number(typed, kind, unit).numbers == numbers


@pytest.mark.parametrize(
    "typed, kind, unit, value, read_in",
    [
        ("100 N", "weight", "kg", 100 / GRAVITY, "N"),
        ("2 kN", "weight", "lb", 2000 / GRAVITY, "kN"),
        ("100 kg", "force", "N", 100 * GRAVITY, "kg"),
        ("100 lb", "force", "lbf", 100 * KG_PER_LB * GRAVITY, "lb"),
        ("100 lb", "weight", "kg", 100 * KG_PER_LB, "lb"),
        ("100", "weight", "lb", 100 * KG_PER_LB, "lb"),
        ("50 %", "number", "", 0.5, "%"),
        ("50 %", "share", "%", 50, "%"),
        ("1.5 x", "number", "", 1.5, ""),
        ("1.5 fold", "number", "", 1.5, ""),
        ("1.5 W", "number", "", 1.5, ""),
        ("1.5 times W", "number", "", 1.5, ""),
        ("2e-3 m", "length", "m", 0.002, "m"),
        ("2*10^-3 m", "length", "m", 0.002, "m"),
        ("2 x 10^(3) N", "force", "N", 2000, "N"),
        ("6 ft 2 in", "length", "m", 74 * 0.0254, "in"),
        ("x = 2 = 3 m", "length", "m", 3, "m"),
        ("3 m ± 1", "length", "m", 3, "m"),
        ("3 m +/- 1 m", "length", "m", 3, "m"),
        ("3 m +- 1", "length", "m", 3, "m"),
    ],
)
def test_a_number_is_turned_into_the_base_unit(typed, kind, unit, value, read_in):
    got = read_number(typed, kind, unit)
    assert (got.values, got.unit) == ((pytest.approx(value, rel=1e-12),), read_in)
    assert got.unit_typed == bool(re.search("[A-Za-z%*]", typed.split("=")[-1].replace("e-3", "")))


@pytest.mark.parametrize(
    "kind, unit, wrong, says",
    [
        ("weight", "kg", "3 m", "m measures length; this question asks for a weight, in kg."),
        ("length", "in", "3 kg", "kg measures weight; this question asks for a length, in inches."),
        ("angle", "deg", "3 kg", "kg measures weight; this question asks for an angle, "
         "in degrees."),
        ("area", "cm2", "3 m", "m measures length; this question asks for an area, in cm²."),
        ("force", "N", "3 m", "m measures length; this question asks for a force, in N."),
        ("moment", "kg m", "3 m", "m measures length; this question asks for a moment, in kg m."),
        ("pressure", "psi", "3 m", "m measures length; this question asks for a pressure, in psi."),
        ("share", "%", "3 m", "m measures length; this question asks for a share, "
         "in percent."),
        ("number", "", "3 m", "m measures length; this question asks for a number, "
         "without a unit."),
    ],
)  # fmt: skip
def test_a_unit_of_another_kind_is_refused(kind, unit, wrong, says):
    assert sentence_of(read_number, wrong, kind, unit) == says
    assert "an answer" not in sentence_of(read_number, "3 furlongs", kind, unit)
    assert "furlongs is not a unit" in sentence_of(read_number, "3 furlongs", kind, unit)


@pytest.mark.parametrize(
    "kind, unit, example",
    [
        ("weight", "kg", "110 kg"), ("weight", "lb", "243 lb"), ("weight", "t", "110 kg"),
        ("length", "m", "1.65 m"), ("length", "in", "65 in"), ("length", "ft", "65 in"),
        ("pressure", "kPa", "120 kPa"), ("pressure", "psi", "17 psi"),
        ("area", "cm2", "320 cm2"), ("area", "in2", "50 in2"),
        ("moment", "kg m", "132 kg m"), ("moment", "lb in", "955 lb ft"),
        ("force", "lbf", "337 lbf"), ("angle", "deg", "10 deg"), ("share", "%", "40 %"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("typed", ["plenty", "3 furlongs"])
def test_the_example_is_in_the_units_of_the_question(kind, unit, example, typed):
    assert sentence_of(read_number, typed, kind, unit).endswith(f"such as {example}.")


def test_a_number_is_read_up_to_a_bound():
    assert read_number("1" + " " * 119, "weight", "kg").values == (1,)
    assert sentence_of(read_number, "1" + " " * 120, "weight", "kg") == (
        "That is 121 characters long; up to 120 are read. Type the number and its unit."
    )


@pytest.mark.parametrize(
    "typed, shown",
    [
        ("0 kg", "0 kg"),
        ("1e12 kg", "1e+12 kg"),
        ("999999999999 kg", "999,999,999,999 kg"),
        ("1e-9 kg", "0.000000001 kg"),
        ("0.9e-9 kg", "9e-10 kg"),
        ("0.12345678 kg", "0.12345678 kg"),
        ("12.50 kg", "12.5 kg"),
        ("-7 kg", "−7 kg"),
        ("1,234 kg", "1,234 kg or 1.234 kg"),
    ],
)
def test_what_was_read_is_shown_with_every_digit_typed(typed, shown):
    assert read_number(typed, "weight", "kg").shown == shown


@pytest.mark.parametrize(
    "text, most, short",
    [
        ("", 24, "nothing"),
        ("   ", 24, "nothing"),
        ("a  b\nc", 24, "a b c"),
        ("abcdef", 6, "abcdef"),
        ("abcdefg", 6, "abcdef..."),
        ("a\x00b", 24, "a?b"),
        (" " * 199 + "ab", 24, "a"),
    ],
)
def test_what_was_typed_is_shown_short_and_on_one_line(text, most, short):
    assert clipped(text, most) == short


@pytest.mark.parametrize("digits", [2, 3, 4, 5])
def test_significant_digits_are_those_of_decimal_arithmetic(digits):
    """General-purpose library: Python's decimal, rounding to so many digits."""
    for number in (
        *(7.654321 * 10.0**size for size in range(-6, digits - 1)),
        *(-1.23456 * 10.0**size for size in range(-6, digits - 1)),
        *(1.0, 9.0, 0.5, 0.1, 0.001),
    ):
        wanted = Context(prec=digits).create_decimal(Decimal(number))
        text = significant(number, digits).replace("−", "-").replace(",", "")
        assert Decimal(text) == wanted, number
        assert len(text.lstrip("-0.").replace(".", "")) == digits, (number, text)
    assert significant(76543.2, digits).replace(",", "") == "76543"


@pytest.mark.parametrize(
    "number, text",
    [(8.05, "8.05"), (100.0, "100"), (1200, "1,200"), (0.5, "0.5"), (1.23456, "1.2346"), (0, "0")],
)
def test_a_number_on_the_way_has_no_zeros_behind_it(number, text):
    assert without_end_zeros(number) == text


def test_units_in_print():
    assert [printed_unit(unit) for unit in ("cm2", "kg", "")] == ["cm²", "kg", ""]
    assert in_unit(1, "weight", "lb") == "2.205 lb" and in_unit(1, "area", "cm2") == "10,000 cm²"


# --- a working where a number is asked ------------------------------------------------------------

RIGHT, WRONG = "That formula is right. Now put the numbers in.", "Type the number that it gives."


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize(
    "factor, tolerance, right",
    [
        ("", None, True),
        ("*1.0049", None, True),
        ("*0.9951", None, True),
        ("*1.0051", None, False),
        ("*0.9949", None, False),
        ("*1.0149", 0.015, True),
        ("*1.0151", 0.015, False),
    ],
)
def test_a_formula_typed_for_a_number_is_right_within_the_same_bounds(
    system, factor, tolerance, right
):
    p = made("front_gain", 3, system)
    verdict = exercises.check(p, f"W*(1+a/L){factor}", tolerance)
    assert verdict.case == "unclear" and not verdict.counts
    assert verdict.message.endswith(RIGHT if right else WRONG)


@pytest.mark.parametrize("name, typed", [("pounds", "W/0.45359237"), ("newtons", "9.80665 W")])
def test_a_formula_may_turn_units(name, typed):
    assert exercises.check(made(name, 1), typed).message.endswith(RIGHT)
    assert exercises.check(made(name, 1), f"2*{typed}").message.endswith(WRONG)


@pytest.mark.parametrize(
    "typed, case",
    [
        ("10^6*10^6", "wrong"),
        ("10^6*10^6*1.1", "unread"),
        ("1/(1-1)", "unread"),
        ("W/(L-L)", "unread"),
        ("a/2L", "unread"),
        (("0+" * 85 + "0 = 162*(1+1.36/1.91)").rjust(200), "right"),
        (("0+" * 85 + "0 = 162*(1+1.36/1.91)").rjust(201), "unread"),
    ],
)
def test_a_working_is_read_as_far_as_it_gives_one_number(typed, case):
    assert exercises.check(made("front_gain"), typed).case == case


def test_a_working_may_end_with_its_unit():
    """162 kg x (1 + 1.36/1.91), asked in kilograms."""
    p = made("front_gain")
    pounds = f"162*(1+1.36/1.91)/{KG_PER_LB}"
    assert exercises.check(p, "162*(1+1.36/1.91)").right
    assert exercises.check(p, f"{pounds} lb").right
    assert not exercises.check(p, pounds).right and not exercises.check(p, f"{pounds} kg").right


# --- remarks about a right answer -----------------------------------------------------------------


@pytest.mark.parametrize("digits, many", [(4, False), (5, False), (6, True), (7, True)])
def test_six_digits_are_more_than_the_data_carry(digits, many):
    p = made("front_gain")
    number = f"{p.answer:.{digits - 3}f}"
    assert len(number.replace(".", "")) == digits
    remarks = exercises.check(p, number).remarks
    three = Context(prec=3).create_decimal(Decimal(p.answer))
    assert remarks == (
        (f"So many digits claim more than the data support: {three} is enough.",) if many else ()
    )


@pytest.mark.parametrize(
    "typed, remarks",
    [
        ("{loss:.4g} kg lost", ["A loss counts negative here, and that is how it was read."]),
        ("−{loss:.4g} kg", []),
        ("−{loss:.4g}", []),
        ("−{loss:.6g} kg", ["So many digits"]),
        ("−{pounds:.4g} lb", ["In kg, as asked, it is"]),
        ("{pounds:.6g} lb less", ["In kg, as asked, it is", "A loss counts", "So many digits"]),
    ],
)
def test_each_remark_has_its_reason(typed, remarks):
    p = made("rear_change")
    assert p.answer < -100
    verdict = exercises.check(p, typed.format(loss=-p.answer, pounds=-p.answer / KG_PER_LB))
    assert verdict.right and len(verdict.remarks) == len(remarks)
    assert all(said.startswith(words) for said, words in zip(verdict.remarks, remarks))


@pytest.mark.parametrize("typed, said", [("{:.4g} %", False), ("−{:.4g} %", True)])
def test_a_size_needs_no_sign(typed, said):
    p = made("relief_percent")
    assert p.answer > 0
    verdict = exercises.check(p, typed.format(p.answer))
    assert verdict.right and ("the size is enough" in verdict.message) is said


def test_a_number_speaks_for_a_mistake_as_far_as_its_digits_go():
    """The weight alone: named at its own number, not one percent away; never with two digits."""
    p = made("front_gain", 3, "kg")
    assert p.given["W"] == "162 kg"
    for typed, named in (
        ("162", True), ("162.0", True), ("163.6", False), ("160.4", False), ("1.7e2", False),
    ):  # fmt: skip
        found = [one.name for one in exercises.check(p, typed).suspects]
        assert ("weight alone" in found) is named, (typed, found)


def test_two_mistakes_with_one_number_get_another_number_that_parts_them():
    """The reply asks to work it once more with one number changed, and gives both results."""
    asked = 0
    for name in ("loader_front", "front_share_after", "bucket_off_reading", "front_gain"):
        for seed in range(16):
            p = made(name, seed)
            for wrong in (p.answer * 0.8, p.answer * 1.1, p.answer * 1.3):
                said = exercises.check(p, f"{wrong:.3g}").question
                found = re.search(
                    r"Work yours again with (.+) at ([\d.,−]+)( \S+)?: "
                    r"do you get (\S+) or (\S+?)( \S+)?\?",
                    said,
                )
                if not found:
                    continue
                low, high = (float(found[at].replace(",", "").replace("−", "-")) for at in (4, 5))
                assert low < high and high - low > 0.049 * max(abs(low), abs(high)), said
                (told,) = {
                    number
                    for letter, number in p.given.items()
                    if letter in {RULES[n].shown if n in RULES else n for n in KINDS[name].given}
                    and number.endswith((found[3] or "").strip())
                    and any(
                        float(found[2].replace(",", ""))
                        == pytest.approx(
                            factor * float(number.split(" ")[0].replace(",", "")), rel=0.01
                        )
                        for factor in (1.5, 2.0, 0.75)
                    )
                } or (None,)
                assert told, (said, p.given)
                assert (found[6] or "").strip() == p.unit
                asked += 1
    assert asked > 3


# --- hints and solutions --------------------------------------------------------------------------

ARM = ": which forces have an arm there, and how long is each?"


@pytest.mark.parametrize(
    "principle, question",
    [
        ("front", f"Take moments about the front axle{ARM}"),
        ("rear", f"Take moments about the rear axle{ARM}"),
        ("left", f"Take moments about the left scale{ARM}"),
        ("right", f"Take moments about the right scale{ARM}"),
        ("forces", "What pushes up and what pulls down? They must be equal."),
        ("definition", "In your own words: what is the gain?"),
        ("units",
         "Which unit is given, which is asked, and is the one bigger or smaller than the other?"),
        ("tires", "Seen from behind: which forces have an arm about the tire line, "
         "and how long is each?"),
    ],
)  # fmt: skip
def test_each_principle_asks_its_own_question(principle, question):
    rule = replace(RULES["front_gain"], principle=principle, words="the gain")
    assert principle_question(rule) == question


@pytest.mark.parametrize(
    "given, principle, picture",
    [
        ("W a L", "rear", "the machine as a line"),
        ("F0 R0", "forces", "the machine as a line"),
        ("W", "units", "two bars of one length"),
        ("W a L", "units", "two bars of one length"),
        ("G", "units", "a right triangle"),
        ("G", "definition", "a right triangle"),
        ("P S", "left", "the plank as a line"),
        ("J d", "right", "the plank as a line"),
        ("r1 r2", "definition", "a line and a dot"),
        ("A N", "definition", "one tire on its contact patch"),
        ("O L", "definition", "the machine from above"),
        ("Cf Cr", "definition", "a front and a rear wheel"),
        ("F0 F1 R0 R1", "forces", "two columns"),
        ("u", "definition", "a reading as a dot"),
        ("t h", "tires", "the machine from behind"),
        ("r o", "definition", "the arm from its pivot"),
        ("T j h", "front", "the machine on its slope"),
        ("T y h", "rear", "a level arrow at its center of gravity"),
        ("B b L", "front", "What hangs behind the rear axle pulls on that side."),
    ],
)
def test_what_to_draw_follows_from_what_is_given(given, principle, picture):
    hint = drawing_hint(given.split(), principle)
    assert hint.startswith("Draw ") and picture in hint
    assert ("What hangs behind" in hint) is ("b" in given.split())


@pytest.mark.parametrize("name", [name for name, kind in KINDS.items() if kind.style == "number"])
def test_the_third_hint_is_the_first_step_that_is_no_change_of_units(name):
    for system in ("kg", "lb"):
        p = made(name, 2, system)
        lines = [line for line in p.solution if line.principle != "units"] or p.solution[:1]
        _, picture, step, worked = p.hints
        assert step.startswith(f"Principle: {lines[0].tag}. {lines[0].words} {lines[0].left} = ")
        assert worked == lines[0].text and worked.startswith(lines[0].left)
        told = ", ".join(f"{letter} = {number}" for letter, number in p.given.items())
        assert picture.endswith(f" Write on it: {told}.")


def test_a_conversion_says_by_what_it_multiplies():
    """Kilograms in a pound, inches in a foot and meters in an inch, by their definitions."""
    texts = {
        "pounds": "W_lb = W/0.45359237 = ",
        "kilograms": "W_kg = W × 0.45359237 = ",
        "newtons": "F = W × 9.80665 = ",
    }
    for name, begins in texts.items():
        assert made(name, 1).solution[0].text.startswith(begins)
    for name, system, words, factor in (
        ("inches_and_meters", "kg", "The overhang in m, as the formula needs it.", 0.0254),
        ("feet_and_inches", "lb", "The overhang in inches, as the formula needs it.", 12),
        ("millimeters_and_meters", "kg", "The overhang in m, as the formula needs it.", 0.001),
        ("rolling", "lb", "The straight distance in inches, as the formula needs it.", 12),
    ):
        line = made(name, 1, system).solution[0]
        number, _, result = line.text.split(" = ")[1].partition(" × ")
        assert line.words == words and float(result) == factor
        assert line.claim == pytest.approx(float(number.replace(",", "")) * factor)


def test_nothing_is_converted_where_the_units_fit():
    """Pounds over square inches are psi as they stand."""
    fitting = (("front_gain", "kg"), ("front_gain", "lb"), ("two_pieces", "lb"))
    for name, system in (*fitting, ("patch_needed", "lb"), ("front_pressure", "lb")):
        assert all(line.principle != "units" for line in made(name, 1, system).solution)


# --- letters, grids, streams ----------------------------------------------------------------------

OWN = """
[letters.length]
q = { words = "a length", low = 1, high = 2, steps = [0.05, 0.25], units = { kg = "cm" }, shown = "Q" }
[letters.weight]
Z = { words = "a weight", low = 4, high = 4 }
[grid]
weight = [1, 2]
"""  # noqa: E501 - TOML wants such a table on one line


def test_a_letter_keeps_its_unit_and_grid_for_each_system():
    letters = read_letters(parsed(OWN, "own.toml"))
    q, z = letters["q"], letters["Z"]
    assert (q.unit("kg"), q.unit("lb"), z.unit("kg"), z.unit("lb")) == ("cm", "in", "kg", "lb")
    assert (q.step("kg"), q.step("lb"), z.step("kg"), z.step("lb")) == (0.05, 0.25, 1, 1)
    assert (q.shown, z.shown) == ("Q", "Z")
    assert q.base(150, "kg") == pytest.approx(1.5) and q.base(50, "lb") == pytest.approx(1.27)
    assert q.snapped(1.5012, "kg") == 150.1 and q.snapped(1.5013, "kg") == 150.15
    assert q.snapped(1.27, "lb") == 50 and q.snapped(1.2740, "lb") == 50.25
    assert q.printed(150.1, "kg") == "150.10 cm" and q.printed(-50.0, "lb") == "−50.00 in"
    assert {z.draw(RandomStream("x", at), "kg") for at in range(5)} == {4}


@pytest.mark.parametrize(
    "step, places", [(100, 0), (10, 0), (1, 0), (0.5, 1), (0.2, 1), (0.25, 2), (0.01, 2),
                     (0.005, 3), (0.0005, 4), (0.00001, 5), (0.000001, 6)],
)  # fmt: skip
def test_a_number_has_as_many_decimals_as_its_grid(step, places):
    assert grid_digits(3 * step, step) == f"{3 * step:.{places}f}"
    assert grid_digits(-step, step)[0] == "−"


@pytest.mark.parametrize(
    "low, high, step, every",
    [
        (1, 2, 0.5, [1, 1.5, 2]),
        (0.95, 2.05, 0.5, [1, 1.5, 2]),
        (-1, 1, 0.5, [-1, -0.5, 0, 0.5, 1]),
        (-1.2, 1.2, 1, [-1, 0, 1]),
        (3, 3, 1, [3]),
        (10, 35, 10, [10, 20, 30]),
    ],
)
def test_a_draw_reaches_both_ends_of_its_grid_and_no_further(low, high, step, every):
    drawn = {RandomStream("grid", at).on_grid(low, high, step) for at in range(80)}
    assert sorted(drawn) == every


def test_a_stream_is_the_hash_of_its_label_and_a_counter():
    """SHA-256 of "label|part|block", four bytes a number; eight numbers to a block."""
    stream, numbers = RandomStream("front", 7), []
    for block in range(3):
        digest = hashlib.sha256(f"front|7|{block}".encode()).digest()
        numbers += [int.from_bytes(digest[at : at + 4], "big") for at in range(0, 32, 4)]
    assert [stream.below(1000) for _ in range(24)] == [number % 1000 for number in numbers]
    pick = RandomStream("front", 7)
    assert [pick.one_of("abc") for _ in range(24)] == ["abc"[number % 3] for number in numbers]


def test_shuffling_keeps_every_thing_and_reaches_every_order():
    orders = {tuple(RandomStream("order", at).shuffled("abc")) for at in range(60)}
    assert len(orders) == 6 and all(sorted(order) == list("abc") for order in orders)


# --- options --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "form, named",
    [
        ("{letter}", True), ("({letter})", True), ("({letter}", True), ("{letter})", True),
        ("{letter}:", True), ("{letter}.", True), ("Option {letter}", True),
        ("answer ({letter})", True), ("{number}", True), ("option {number}", True),
        ("{words}", True), ("{words}" + " " * 5, True), ("{letter}{letter}", False),
        ("the {letter}", False), ("{number}{number}", False), ("{words} because", False),
    ],
)  # fmt: skip
def test_ways_to_name_an_option(form, named):
    p = made("which_pivot", 2)
    for at, (letter, words) in enumerate(p.options):
        verdict = exercises.check(p, form.format(letter=letter, number=at + 1, words=words))
        assert (verdict.reading == f"{letter}: {words}") is named and verdict.counts is named


@pytest.mark.parametrize("typed", ["0", "5", "6", "E", "F", "G", "-1", "abc"])
def test_an_option_that_is_not_there(typed):
    p = made("which_pivot", 2)
    assert len(p.options) == 4
    verdict = exercises.check(p, typed)
    assert verdict.case == "unread"
    assert verdict.finding == f"{typed} does not name an option. Type one letter: A, B, C, D."
    assert exercises.check(p, " ").finding.startswith("Nothing was typed. Type one letter")


def test_words_that_begin_two_options_name_none():
    for kind in KINDS.values():
        if kind.style == "choice":
            p = kind.make(1)
            texts = [text.lower() for _, text in p.options]
            for at, text in enumerate(texts):
                for length in (4, 8, 12):
                    begun = text[:length].rstrip(" .")
                    alone = sum(other.startswith(begun) for other in texts) == 1
                    if len(begun) == length:
                        found = exercises.check(p, begun)
                        assert found.counts is alone, (begun, texts)
                        assert not alone or found.reading.startswith(p.options[at][0])


def test_the_words_of_an_option_are_read_up_to_a_bound():
    p = made("which_pivot", 2)
    assert exercises.check(p, "B".ljust(300)).counts
    assert not exercises.check(p, "B".ljust(301)).counts


@pytest.mark.parametrize("name", [name for name, kind in KINDS.items() if kind.style == "choice"])
def test_the_last_hint_rules_out_a_wrong_option(name):
    for seed in range(4):
        p = made(name, seed)
        letter = re.match(r"It is not ([A-F])\. ", p.hints[3])[1]
        right = [line.left for line in p.solution]
        first = next(one for one, _ in p.options if one not in right)
        assert letter == first and not exercises.check(p, letter).right
        assert p.hints[3].endswith(exercises.check(p, letter).question)
        for line in p.solution:
            assert line.text == f"{line.left}: {dict(p.options)[line.left]}"
            ends = "can be defended" if len(right) > 1 else "is it"
            said = exercises.check(p, line.left).finding
            assert said.startswith(f"{line.left} {ends}. {line.words}")
            assert len(right) > 1 or said.endswith(line.words)


# --- free bodies ----------------------------------------------------------------------------------


def test_a_free_body_is_read_up_to_its_bounds():
    assert sentence_of(read_free_body, "W down at a".ljust(2000)) == ""
    assert "2001 characters long; up to 2000" in sentence_of(
        read_free_body, "W down at a".ljust(2001)
    )
    assert len(read_free_body("W down at a;" * 40).arrows) == 40
    assert "41 lines" in sentence_of(read_free_body, "W down at a\n" * 41)


@pytest.mark.parametrize(
    "line, read",
    [
        ("W down at bucket", FreeBody(arrows=(("W", "down", "bucket"),))),
        ("W DOWN AT Bucket", FreeBody(arrows=(("W", "down", "bucket"),))),
        ("body = Tractor", FreeBody("tractor")),
        ("Body: tractor", FreeBody("tractor")),
        ("pivot: front axle", FreeBody(pivot="front axle")),
        ("T down at centre of gravity", FreeBody(arrows=(("T", "down", "center of gravity"),))),
        ("arm W: a + L", FreeBody(arms=(("W", "a + L"),))),
        ("arm of W = a + L", FreeBody(arms=(("W", "a + L"),))),
        ("body: a\rpivot: b\n\n;;arm W: c", FreeBody("a", (), "b", (("W", "c"),))),
        ("body: a; body: b", FreeBody("b")),
    ],
)
def test_a_line_of_a_free_body(line, read):
    assert read_free_body(line) == read
    assert read_free_body(read.lines) == read


@pytest.mark.parametrize("name", [name for name, kind in KINDS.items() if kind.style == "body"])
def test_an_arm_is_right_in_any_form_and_with_either_sign(name):
    p, kind = made(name), KINDS[name]
    right = kind.right()
    for at, (letter, arm) in enumerate(right.arms):
        for typed, fits in (
            (f"-({arm})", True),
            (f"({arm})*2/2", True),
            (f"2*({arm})", False),
            (f"({arm}) + {kind.letters[0]}", False),
            ("0", False),
            (f"({arm})/0", False),
            (f"(({arm})^6)^6 ({arm})^6", False),
            ("", False),
        ):
            arms = [*right.arms]
            arms[at] = (letter, typed)
            verdict = exercises.check(p, replace(right, arms=tuple(arms)))
            assert verdict.right is fits, (arm, typed)
            assert fits or [one.name for one in verdict.suspects] == [f"arm {letter}"]


@pytest.mark.parametrize("name", [name for name, kind in KINDS.items() if kind.style == "body"])
def test_a_free_body_hints_at_the_other_unknown(name):
    p, kind = made(name), KINDS[name]
    asked, other = kind.unknowns
    force = next(one for one in kind.forces if one.letter == other)
    assert force.at == kind.pivot, "the other unknown has no arm about the pivot"
    assert p.hints[2] == f"Take as pivot a point through which the unknown {other} passes."
    assert p.hints[3].startswith(f"Moments about the {kind.pivot}: ")
    assert asked in p.hints[3] and f"{other} × " not in p.hints[3]
    assert p.solution[-1].words == f"About the {kind.pivot}, {other} has no arm."
    assert f"gives {asked} in one equation" in exercises.check(p, "body: nothing").goal
    assert f"{asked} and {other} among them" in exercises.check(p, "body: nothing").question
    outside = [one for one in kind.forces if not one.inside]
    assert [line.left for line in p.solution[1:-1]] == [one.letter for one in outside]
    assert p.solution[0].text == f"body: {kind.body}"


@pytest.mark.parametrize("gone, more", [(1, ""), (2, "(1 more"), (3, "(2 more"), (4, "(3 more")])
def test_what_is_left_to_look_at_is_counted(gone, more):
    p, kind = made("body_bucket"), KINDS["body_bucket"]
    right = kind.right()
    verdict = exercises.check(p, replace(right, arrows=right.arrows[gone:]))
    assert len(verdict.suspects) == gone
    assert verdict.finding.endswith(f"{more} to look at after this.)" if more else ".")
    assert ("more to look" in verdict.finding) is bool(more)


@pytest.mark.parametrize("pivot, said", [("moon", "its pivot at the moon"), ("", "no pivot named")])
def test_a_pivot_that_is_not_offered(pivot, said):
    p, right = made("body_bucket"), KINDS["body_bucket"].right()
    verdict = exercises.check(p, replace(right, pivot=pivot))
    assert said in verdict.finding
    assert verdict.question == "About which point has one of the two unknown forces no arm?"


# --- formulas asked -------------------------------------------------------------------------------


def test_a_formula_with_two_readings_shows_both():
    p = made("formula_front_gain", 1)
    verdict = exercises.check(p, "W + W/L a")
    assert verdict.reading == "W + W/(L × a) or W + W × a/L"
    assert verdict.message == (
        "W + W/L a can be read as W + W/(L × a) or as W + W × a/L. "
        "Put parentheses or a times sign where you mean them."
    )


def test_two_readings_of_one_formula_are_no_question():
    assert exercises.check(made("formula_front_gain", 1), "W(1+a/L)/1(1)").right


@pytest.mark.parametrize("name", [name for name, kind in KINDS.items() if kind.style == "symbol"])
def test_a_formula_hints_at_its_first_step(name):
    p = made(name, 1)
    question, picture, step, worked = p.hints
    first = p.solution[0]
    assert question == principle_question(RULES[KINDS[name].asked])
    assert step == f"Principle: {first.tag}. {first.words}" and worked == first.text
    told = ", ".join(f"{letter} for {words}" for letter, words in p.given.items())
    assert picture.endswith(f"Write the letters on it: {told}.")
    assert p.solution[-1].left == RULES[KINDS[name].asked].shown


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        ("kilograms", "1", "I don't see how 1 kg came about."),
        ("kilograms", "0", "I don't see how 0 kg came about. Check this step: "),
        ("slope_degrees", "0", "I don't see how 0 deg came about. Check this step: "),
        ("rear_change", "0", "0 lb is no change at all."),
        ("rear_reading", lambda p: f"{-p.answer:.5g}", "Can this quantity be negative?"),
        ("rear_change", lambda p: f"{-p.answer:.5g}", "which end gets lighter?"),
        ("moment_about_front", lambda p: f"{p.answer * 0.45359237:.5g}", "multiplied by 0.4536"),
    ],
)
def test_a_reply_says_more_than_the_number_and_no_long_one(name, typed, said):
    """Wrong numbers typed as a student who reads the answer would judge it."""
    problem = exercises.make(name, 5, "lb")
    text = typed(problem) if callable(typed) else typed
    found = exercises.check(problem, text)
    assert not found.right and said in found.message, found.message
    assert "the number" not in found.finding and not re.search(r"\.\d{5}", found.finding)


@pytest.mark.parametrize("seed", range(24))
def test_a_multiple_is_told_as_a_fraction(seed):
    """An overhang of over/under wheelbases puts (1 + over/under) W on the front."""
    p = made("front_at_a_multiple", seed)
    over, under = p.drawn.numerator, p.drawn.denominator
    told = f"({over}/{under}) × L" if over > 1 else f"L/{under}"
    assert f"a = {told}, where" in p.statement
    assert p.answer == f"{over + under} × W/{under}"
    assert exercises.check(p, f"W + {over}/{under} W").right


def test_a_value_between_rounded_and_wrong_is_told_as_rounded():
    """4/3 = 1.3333: 1.33 and 1.327 lie within half a percent of it, 1.35 does not."""
    p = next(
        p for p in (made("front_at_a_multiple", at) for at in range(50)) if p.answer == "4 × W/3"
    )
    for typed, case in (("1.33W", "unclear"), ("1.327W", "unclear"), ("1.326W", "wrong"),
                        ("1.339W", "unclear"), ("1.341W", "wrong"), ("1W", "wrong")):  # fmt: skip
        assert exercises.check(p, typed).case == case, typed


@pytest.mark.parametrize(
    "typed, says",
    [
        ("W/0", "W/0 divides by zero. Check the parentheses."),
        ("(W", "A parenthesis is opened and not closed."),
        ("W" * 201, "That is 201 characters long; up to 200 are read. Type the formula alone."),
    ],
)
def test_a_formula_that_has_no_value(typed, says):
    verdict = exercises.check(made("formula_front_gain", 1), typed)
    assert verdict.case == "unread" and verdict.finding == says


def test_two_hundred_letters_of_a_formula_are_read():
    p = made("formula_front_gain", 1)
    assert exercises.check(p, "W(1+a/L)".rjust(200)).right
    assert exercises.check(p, "W(1+a/L)".rjust(201)).case == "unread"


# --- what is common to all ------------------------------------------------------------------------


def test_the_seed_decides_the_units_where_none_are_told():
    """Two of three in kilograms: many American students meet both."""
    systems = [exercises.make("front_gain", seed).system for seed in range(300)]
    assert 0.55 < systems.count("kg") / 300 < 0.78


def test_gains_and_losses_are_read_by_what_the_question_says():
    """−80 by a sign, by a word, and by both; a word has no say where only a size is asked."""
    p = made("rear_change")
    for form in ("{:.4g} kg lost", "−{:.4g} kg", "−{:.4g} kg lost", "{:.4g} kg less"):
        assert exercises.check(p, form.format(-p.answer)).right, form
    for form in ("{:.4g} kg", "{:.4g} kg more", "{:.4g} kg gained"):
        assert not exercises.check(p, form.format(-p.answer)).right, form


def test_numbers_in_a_goal_name_no_unit_twice():
    verdict = exercises.check(made("front_gain"), "1 kg")
    assert verdict.goal == "The question asks for the change of the front reading, in kg."
    assert numbers_in(verdict.goal, "kg") == []


@pytest.mark.parametrize(
    "name", ["front_share", "percent_change", "rear_percent", "whole_percent", "front_share_after",
             "bucket_share", "relief_percent", "what_stays", "bucket_off_relief", "stress_share",
             "lead", "lead_from_roll_out", "loader_off_relief", "pressure_growth"],
)  # fmt: skip
@pytest.mark.parametrize("system", ["kg", "lb"])
def test_a_fraction_in_place_of_a_percent_is_named_wherever_percent_is_asked(name, system):
    for seed in range(5):
        problem = exercises.make(name, seed, system)
        found = exercises.check(problem, f"{problem.answer / 100:#.3g} %")
        assert [one.name for one in found.suspects] == ["not yet percent"]
        assert found.finding.endswith("is the fraction, not yet turned into percent.")
        assert found.question == "What turns a fraction into percent?"


@pytest.mark.parametrize(
    "name, system, typed, said",
    [
        # Where the sign says nothing, one expression with both signs is one suspect.
        ("relief_percent", "lb", lambda p: 100 - p.answer, "is the rest: 100 minus"),
        # Two that no number tells apart are one: kilograms plus a ratio are nearly the kilograms.
        ("new_front_reading", "lb", lambda p: number(p, "F0") + number(p, "W"), "lever: F0 + W."),
        # A root of a root, a square root of two and π as they are known.
        ("total_uncertainty", "kg", lambda p: number(p, "u") * 3**0.5, "is what sqrt(3) × u gives"),
        ("from_certificate", "lb", lambda p: number(p, "U") / 2**0.5, "is what U/sqrt(2) gives"),
        ("patch_radius", "lb", lambda p: number(p, "A") / 3.14159265, "is what A/π gives"),
    ],
)  # fmt: skip
def test_what_a_number_is_stands_there_as_a_student_would_write_it(name, system, typed, said):
    for seed in range(3):
        problem = exercises.make(name, seed, system)
        found = exercises.check(problem, f"{typed(problem):.4g}")
        assert said in found.message and " or what" not in found.finding, found.message


def number(problem, letter):
    """A given number as it stands in the statement."""
    return float(problem.given[letter].split()[0].replace(",", ""))


def test_zeros_behind_the_point_are_digits():
    """2 may be 1.74 rounded to one digit, 2.00 is not; 280 may be 281.7 rounded to two."""
    problem = next(
        p for p in (exercises.make("factor", s, "kg") for s in range(99)) if p.answer > 1.7
    )
    assert "rounded to fewer" in exercises.check(problem, "2").message
    assert "simple doubling" in exercises.check(problem, "2.00").message


def test_readings_that_a_measure_does_not_print_are_not_changed():
    """One reading typed for another cannot be shown as s/sqrt(5), which is the right answer."""
    for seed in range(20):
        problem = exercises.make("mean_uncertainty", seed, "kg")
        for factor in (0.41, 0.63, 0.77, 1.3, 1.9):
            found = exercises.check(problem, f"{problem.answer * factor:.4g}")
            assert "what s/sqrt(5) gives" not in found.finding


def test_a_ratio_added_to_a_weight_is_offered_as_no_cause():
    """Nobody adds 1 + a/L to W; three digits that happen to fit are chance."""
    for seed in range(30):
        problem = exercises.make("front_when_off", seed, "kg")
        ratio = number(problem, "a") / number(problem, "L")
        found = exercises.check(problem, f"{-(number(problem, 'W') + 1 + ratio):.3g}")
        assert all("W + 1 + a/L" not in one.what for one in found.suspects), found.message


@pytest.mark.parametrize(
    "formula, unlike",
    [("W*(1+a/L)", False), ("W*a/L-W", False), ("(a+L)^2/L+a", False), ("W+a", True),
     ("W*(1+a)", True), ("W+1+a/L", True), ("(W+a)/(W+a)", True), ("(a^2)^0.5+L", False)],
)  # fmt: skip
def test_kilograms_and_meters_cannot_be_added(formula, unlike):
    kinds = {"W": "weight", "a": "length", "L": "length"}
    assert sums_tell(kinds)(read_formula(formula, list(kinds))[-1]) is unlike
