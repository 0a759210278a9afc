"""Reading what people type where a number is asked, and what the reply says about it."""

import random
import re
from dataclasses import replace

import pytest
from bench import bench_exercises as bench

from leverarm import exercises
from leverarm.exercises.expressions.grammar import Unreadable
from leverarm.exercises.number_reader import read_number, significant, two_numbers

KG = 0.45359237


@pytest.mark.parametrize(
    "typed, kind, unit, value, shown",
    [
        ("1234", "weight", "kg", 1234, "1,234 kg"),
        ("12.5 kg", "weight", "kg", 12.5, "12.5 kg"),
        ("12,5 kg", "weight", "kg", 12.5, "12.5 kg"),
        ("12.5KG", "weight", "kg", 12.5, "12.5 kg"),
        ("−82.7", "weight", "kg", -82.7, "−82.7 kg"),
        ("–82.7 kg", "weight", "kg", -82.7, "−82.7 kg"),
        ("-82.7 Lbs.", "weight", "kg", -82.7 * KG, "−82.7 lb"),
        ("3/4", "length", "m", 0.75, "0.75 m"),
        ("43 1/2 in", "length", "m", 43.5 * 0.0254, "43.5 in"),
        ("43½″", "length", "in", 43.5 * 0.0254, "43.5 in"),
        ("3' 11\"", "length", "in", 47 * 0.0254, "47 in"),
        ("1.2e3 N", "force", "N", 1200, "1,200 N"),
        ("1.2E3 n", "force", "N", 1200, "1,200 N"),
        ("1.2 × 10³ N", "force", "N", 1200, "1,200 N"),
        ("1.2*10^3 N", "force", "N", 1200, "1,200 N"),
        ("1\u202f234 kg", "weight", "kg", 1234, "1,234 kg"),
        ("1 234,5 kg", "weight", "kg", 1234.5, "1,234.5 kg"),
        ("1,234.5 kg", "weight", "kg", 1234.5, "1,234.5 kg"),
        ("１２.５ ｋｇ", "weight", "kg", 12.5, "12.5 kg"),
        ("ΔF = 190 kg", "weight", "kg", 190, "190 kg"),
        ("≈ 190", "weight", "kg", 190, "190 kg"),
        ("about 190 kg.", "weight", "kg", 190, "190 kg"),
        ("190 kg ± 5 kg", "weight", "kg", 190, "190 kg"),
        ("80 kg lost", "weight", "kg", -80, "−80 kg"),
        ("the rear axle loses 80 kg", "weight", "kg", -80, "−80 kg"),
        ("-80 kg (loss)", "weight", "kg", -80, "−80 kg"),
        ("gains 190 kg", "weight", "kg", 190, "190 kg"),
        ("minus 80", "weight", "kg", -80, "−80 kg"),
        ("1.73 times", "number", "", 1.73, "1.73"),
        ("1.73x", "number", "", 1.73, "1.73"),
        ("173 %", "number", "", 1.73, "173 %"),
        ("31.7 percent", "share", "%", 31.7, "31.7 %"),
        ("1,863 N", "weight", "kg", 1863 / 9.80665, "1,863 N"),
        ("1,234 m", "length", "m", 1.234, "1.234 m"),  # 1234 m is no length on a tractor
    ],
)
def test_one_reading(typed, kind, unit, value, shown):
    got = read_number(typed, kind, unit)
    assert got.values == pytest.approx((value,), rel=1e-12) and got.shown == shown


@pytest.mark.parametrize(
    "typed, kind, unit, shown",
    [
        ("1,234", "weight", "kg", "1,234 kg or 1.234 kg"),
        ("12,345 lb", "weight", "kg", "12,345 lb or 12.345 lb"),
        ("−1,234", "weight", "lb", "−1,234 lb or −1.234 lb"),
        ("1,234 %", "share", "%", "1,234 % or 1.234 %"),
    ],
)
def test_two_readings_are_both_shown(typed, kind, unit, shown):
    assert read_number(typed, kind, unit).shown == shown


@pytest.mark.parametrize(
    "typed, kind, unit, numbers",
    [
        # A reading that no machine has is dropped; where none is left, the first stays.
        ("1,234 g", "weight", "kg", (1234,)),
        ("1,234 lb", "weight", "lb", (1234, 1.234)),
        ("100,000 kg", "weight", "kg", (100,)),
        ("1,234 mm", "length", "m", (1234,)),
        ("50,000 mm", "length", "m", (50_000, 50)),
        ("90,000 mm", "length", "m", (90,)),
        ("1,500 cm", "length", "m", (1500, 1.5)),
        ("2,500 mm", "length", "m", (2500, 2.5)),
        ("1,900 mm", "length", "m", (1900,)),
        ("1,100 kg", "weight", "kg", (1100, 1.1)),
        ("1,100", "moment", "kg m", (1100, 1.1)),
        ("1,100", "pressure", "kPa", (1100, 1.1)),
        ("1,100 %", "share", "%", (1100, 1.1)),
        ("1,500 %", "number", "", (1500, 1.5)),
        ("1,100 mm2", "area", "cm2", (1100,)),
        ("1,100 N", "force", "N", (1100, 1.1)),
        ("1,500 Pa", "pressure", "kPa", (1500,)),
        ("9,000 kPa", "pressure", "kPa", (9,)),
        ("12,000 %", "share", "%", (12,)),
        ("9,000 %", "share", "%", (9000, 9)),
        ("1,234", "number", "", (1.234,)),
        ("200,000", "moment", "kg m", (200,)),
        ("1,234 deg", "angle", "deg", (1.234,)),
        ("1,234 cm2", "area", "cm2", (1234, 1.234)),
        ("100,000 cm2", "area", "cm2", (100,)),
        ("700,000 N", "force", "N", (700,)),
    ],
)
def test_a_comma_before_three_digits_is_read_as_sizes_make_sense(typed, kind, unit, numbers):
    assert read_number(typed, kind, unit).numbers == numbers


@pytest.mark.parametrize(
    "kind, unit, typed, numbers",
    [
        # The largest and smallest sizes that make sense, in the unit typed: at each, and beyond.
        ("weight", "kg", "60,000 kg", (60_000, 60)),
        ("weight", "kg", "60,001 kg", (60.001,)),
        ("weight", "kg", "200,000 g", (200_000, 200)),
        ("weight", "kg", "199,999 g", (199_999,)),
        ("length", "m", "60,000 mm", (60_000, 60)),
        ("length", "m", "60,001 mm", (60.001,)),
        ("length", "m", "2,000 mm", (2000, 2)),
        ("length", "m", "1,999 mm", (1999,)),
        ("pressure", "kPa", "5,000 kPa", (5000, 5)),
        ("pressure", "kPa", "5,001 kPa", (5.001,)),
        ("pressure", "kPa", "500,000 Pa", (500_000, 500)),
        ("pressure", "kPa", "499,999 Pa", (499_999,)),
        ("share", "%", "10,000 %", (10_000, 10)),
        ("share", "%", "10,001 %", (10.001,)),
        ("number", "", "100,000", (100,)),
        ("number", "", "100,001", (100_001,)),
        ("number", "", "1,000 %", (1000, 1)),
        ("moment", "kg m", "100,000 kg m", (100_000, 100)),
        ("moment", "kg m", "100,001 kg m", (100.001,)),
        ("angle", "deg", "90,000 deg", (90,)),
        ("angle", "deg", "90,001 deg", (90_001,)),
        ("area", "cm2", "50,000 cm2", (50_000, 50)),
        ("area", "cm2", "50,001 cm2", (50.001,)),
        ("area", "cm2", "1,000 cm2", (1000, 1)),
        ("force", "N", "600,000 N", (600_000, 600)),
        ("force", "N", "600,001 N", (600.001,)),
        ("force", "N", "102,000 g", (102_000, 102)),
        ("force", "N", "101,000 g", (101_000,)),
    ],
)
def test_sizes_that_make_sense_end_where_they_end(kind, unit, typed, numbers):
    assert read_number(typed, kind, unit).numbers == numbers


@pytest.mark.parametrize(
    "near, numbers",
    [
        (25, (1000, 1)),
        (24.9, (1,)),
        (40, (1000, 1)),
        (40.1, (1000,)),
        (-25, (1000, 1)),
        (-24.9, (1,)),
        # Neither is near, so the student is asked; without an answer the sizes tell.
        (0.02, (1000, 1)),
        (50_000, (1000, 1)),
        (None, (1000, 1)),
        (0, (1000, 1)),
    ],
)
def test_a_comma_is_read_as_what_lies_within_forty_times_the_answer(near, numbers):
    assert read_number("1,000 kg", "weight", "kg", near=near).numbers == numbers


@pytest.mark.parametrize(
    "typed, two",
    [
        ("100-125", ("100", "125")),
        ("100-126", None),
        ("100-100", None),
        ("125-100", None),
        ("100 to 300 kg", ("100", "300")),
        ("300 to 100 kg", ("300", "100")),
        ("between 1,000 and 1,100 lb", ("1,000", "1,100")),
        ("1" * 59 + "-" + "2" * 61, None),
        ("7", None),
    ],
)
def test_a_range_names_two_numbers_a_quarter_apart_at_most(typed, two):
    assert two_numbers(typed) == two


@pytest.mark.parametrize(
    "number, shown",
    [
        (1e12, "1e+12 kg"),
        (999_999_999_999.0, "999,999,999,999 kg"),
        (1e-9, "0.000000001 kg"),
        (9e-10, "9e-10 kg"),
        (0.0, "0 kg"),
        (1.5, "1.5 kg"),
        (0.123456789, "0.123456789 kg"),
    ],
)
def test_what_was_read_has_no_power_of_ten_where_it_can_be_written_out(number, shown):
    made = read_number("1 kg", "weight", "kg")
    assert replace(made, numbers=(number,)).shown == shown


@pytest.mark.parametrize(
    "typed, digits",
    [("5", 1), ("0.05", 1), ("0.050", 2), ("100", 3), ("1.0e3", 2), ("12.50 kg", 4), ("0", 1)],
)
def test_significant_digits_are_counted_as_typed(typed, digits):
    assert read_number(typed, "weight", "kg").digits == digits


@pytest.mark.parametrize(
    "typed, direction, value",
    [
        *(
            (f"80 kg {word}", "loss", -80)
            for word in ("less", "lost", "lighter", "fewer", "behind")
        ),
        *((f"80 kg {word}", "gain", 80) for word in ("more", "added", "heavier", "ahead", "up")),
        ("less 80 kg more", "", 80),
        ("the total is 80 kg", "", 80),
    ],
)
def test_words_of_direction_state_a_sign_where_it_counts(typed, direction, value):
    assert (got := read_number(typed, "weight", "kg")).direction == direction
    assert got.values == (value,)
    assert read_number(typed, "weight", "kg", direction_counts=False).values == (80,)


@pytest.mark.parametrize(
    "number, digits, shown",
    [
        (1234.5, 4, "1,234"),
        (999.96, 4, "1,000"),
        (99.96, 4, "99.96"),
        (9.9996, 4, "10.00"),
        (1.0, 4, "1.000"),
        (1.2345, 3, "1.23"),
        (-1.9996, 4, "−2.000"),
        (-0.0123456, 4, "−0.01235"),
        (12345.6, 3, "12,346"),
        (0.5, 3, "0.500"),
        (0, 3, "0"),
    ],
)
def test_significant_digits_in_print(number, digits, shown):
    assert significant(number, digits) == shown


@pytest.mark.parametrize(
    "typed, kind, says",
    [
        ("", "weight", "Nothing was typed"),
        ("twelve", "weight", "twelve cannot be read as a number"),
        ("nan", "weight", "cannot be read as a number"),
        ("inf", "weight", "cannot be read as a number"),
        ("1e999", "weight", "cannot be read as a number"),
        ("12 m", "weight", "m measures length; this question asks for a weight"),
        ("12 kg", "length", "kg measures weight; this question asks for a length"),
        ("12 kg", "number", "without a unit"),
        ("3' 11\"", "weight", "' 11\" is not a unit"),
        ("x" * 24, "weight", "x" * 24 + " cannot be read"),
        ("x" * 25, "weight", "x" * 24 + "... cannot be read"),
        ("12 stones", "weight", "stones is not a unit"),
        ("1_000", "weight", "is not a unit"),
        ("12 34 kg", "weight", "cannot be read as a number"),
        ("5² kg", "weight", ""),
        ("9" * 500, "weight", "500 characters long"),
        ("12\u202e kg\x00", "weight", ""),
    ],
)
def test_what_is_no_answer_gets_one_sentence(typed, kind, says):
    with pytest.raises(Unreadable) as sentence:
        read_number(typed, kind, {"weight": "kg", "length": "m", "number": ""}[kind])
    text = str(sentence.value)
    assert says in text and text.endswith(".") and text.isprintable() and len(text) < 200


P = exercises.make("rear_change", 3, "kg")


@pytest.mark.parametrize(
    "kind", ["front_gain", "rear_change", "rolling", "factor", "relief_percent"]
)
@pytest.mark.parametrize("system", ["kg", "lb"])
def test_half_a_percent_off_is_right_and_more_is_not(kind, system):
    p = exercises.make(kind, 2, system)
    for factor, right in ((1.0049, True), (0.9951, True), (1.0051, False), (0.9949, False)):
        assert exercises.check(p, repr(p.answer * factor)).right is right
        near = exercises.check(p, repr(p.answer * (1 + 3 * (factor - 1))), tolerance=0.015)
        assert near.right is right


@pytest.mark.parametrize(
    "unit, size, system", [("lb", KG, "kg"), ("N", 1 / 9.80665, "kg"), ("kg", 1, "lb")]
)
def test_a_right_answer_in_another_unit_is_told_in_the_one_asked(unit, size, system):
    p = exercises.make("rear_change", 3, system)
    kilograms = p.answer * (1 if system == "kg" else KG)
    (remark,) = exercises.check(p, f"{kilograms / size:.5g} {unit}").remarks
    number = re.fullmatch(rf"In {system}, as asked, it is (−[\d.]+) {system}\.", remark)[1]
    assert float(number.replace("−", "-")) == pytest.approx(p.answer, rel=1e-3)


@pytest.mark.parametrize(
    "form, remark",
    [
        ("{loss:.1f} kg lost", "A loss counts negative"),
        ("{answer:.1f} kg", ""),
        ("{pounds:.1f} lb", "In kg, as asked, it is"),
        ("{newtons:.0f} N", "In kg, as asked, it is"),
        ("{answer:.7f}", "So many digits"),
        ("−{loss:.0f}", ""),
    ],
)
def test_a_right_answer_is_right_and_remarks_are_remarks(form, remark):
    typed = form.format(
        answer=P.answer, loss=-P.answer, pounds=P.answer / KG, newtons=P.answer * 9.80665
    )
    verdict = exercises.check(P, typed)
    assert verdict.right and not verdict.suspects and verdict.case == "right" and verdict.counts
    assert (remark in verdict.message) if remark else not verdict.remarks


def test_the_right_size_with_the_other_sign_is_its_own_case():
    verdict = exercises.check(P, f"{-P.answer:.1f}")
    assert not verdict.right and [s.name for s in verdict.suspects] == ["other sign"]


def test_where_the_statement_says_which_way_either_sign_is_right():
    p = exercises.make("relief_percent", 1)
    assert exercises.check(p, f"{p.answer:.3g}").right
    assert "the size is enough" in exercises.check(p, f"-{p.answer:.3g} %").message


def test_words_of_direction_state_no_sign_where_the_question_says_which_way():
    p = exercises.make("center_of_gravity", 1)
    assert exercises.check(p, f"{p.answer:.4g} {p.unit} behind").right
    q = exercises.make("relief_percent", 1)
    assert exercises.check(q, f"{q.answer:.3g} % less").right


def test_the_right_number_in_the_wrong_unit_is_named_for_what_it_is():
    p = exercises.make("front_gain", 3, "kg")
    pounds = exercises.check(p, f"{p.answer / KG:.1f} kg")
    assert not pounds.right and "kilograms turned into pounds" in pounds.message
    assert [s.name for s in exercises.check(p, f"{p.answer * 9.80665:.0f}").suspects] == ["newtons"]


def test_fewer_digits_than_the_data_are_their_own_case():
    p = exercises.make("front_gain", 3, "kg")
    assert round(p.answer, -1) != p.answer and exercises.check(p, f"{p.answer:.3g}").right
    assert "cut short" in {
        s.name for s in exercises.check(p, f"{float(f'{p.answer:.2g}'):g}").suspects
    }


def test_one_comma_is_asked_about_where_both_readings_may_be_meant():
    p = exercises.make("plank_left", 2, "lb")
    assert 30 < p.answer < 50
    verdict = exercises.check(p, "1,234")
    assert verdict.case == "unclear" and not verdict.right and not verdict.counts
    assert "1,234 can mean 1,234 lb or 1.234 lb" in verdict.message


@pytest.mark.parametrize(
    "kind, system, typed, reading",
    [
        ("front_gain", "kg", "1,234", "1,234 kg"),
        ("front_gain", "lb", "1,234 lb", "1,234 lb"),
        ("new_front_reading", "kg", "1,019 kg", "1,019 kg"),
        ("moment_about_front", "lb", "12,345 lb in", "12,345 lb in"),
        ("center_of_gravity", "kg", "1,047 m", "1.047 m"),
        ("total_uncertainty", "kg", "3,677 kg", "3.677 kg"),
    ],
)
def test_one_comma_is_read_by_what_the_question_can_have_for_an_answer(
    kind, system, typed, reading
):
    p = exercises.make(kind, 0, system)
    assert exercises.check(p, typed).reading == reading


@pytest.mark.parametrize(
    "typed, case, says",
    [
        ("162*(1+1.36/1.91)", "right", "277.3"),
        ("162(1+1.36/1.91) kg", "right", "277.3"),
        ("W(1+a/L)", "unclear", "That formula is right. Now put the numbers in."),
        ("W*L/a", "unclear", "Type the number that it gives."),
        ("162*(1+1.36", "unread", "is not a unit"),
        ("9**9**9", "unread", "is not a unit"),
        ("9^6*9^6*9^6 W", "unread", "is not a unit"),
        ("0+" * 100 + "0 = 162*(1+1.36/1.91)", "unread", "characters long"),
        ("162*(1+1.36/1.91)*1.006", "wrong", "change of the front reading, in kg"),
        ("2 3", "unread", "cannot be read as a number"),
    ],
)
def test_a_working_typed_where_a_number_is_asked(typed, case, says):
    p = exercises.make("front_gain", 3, "kg")
    assert p.given == {"W": "162 kg", "a": "1.36 m", "L": "1.91 m"}
    verdict = exercises.check(p, typed)
    assert verdict.case == case and says in verdict.message


def test_a_tolerance_may_be_told():
    p = exercises.make("front_gain", 3, "kg")
    off = f"{p.answer * 1.015:.2f}"
    assert not exercises.check(p, off).right and exercises.check(p, off, tolerance=0.02).right


@pytest.mark.parametrize(
    "typed", [None, 277, b"277", ["277"], object()], ids=lambda one: type(one).__name__
)
def test_what_is_no_text_is_no_answer(typed):
    for kind in ("front_gain", "formula_front_gain", "which_pivot", "body_plank"):
        assert exercises.check(exercises.make(kind, 1), typed).case == "unread"


@pytest.mark.parametrize("typed", bench.HOSTILE, ids=range(len(bench.HOSTILE)))
@pytest.mark.parametrize("kind", bench.ONE_OF_EACH)
def test_hostile_text_comes_back_with_a_plain_sentence(kind, typed):
    """How fast it comes back is measured in the benchmark."""
    verdict = exercises.check(exercises.make(kind, 1), typed)
    assert (
        not verdict.right
        and verdict.message
        and len(verdict.message) < 400
        and verdict.message.isprintable()
    )


def test_seeded_noise_never_raises():
    rng = random.Random(11)
    pieces = [
        "1",
        "2.5",
        ",",
        ".",
        "-",
        "−",
        "e3",
        "/",
        "(",
        ")",
        " ",
        "kg",
        "lb",
        "W",
        "a",
        "L",
        "^",
        "*",
        "√",
        "ft",
        "'",
        '"',
        "%",
        "=",
        "±",
        "½",
        "\u202e",
        "\ud83d",
        "nan",
        "x",
        ";",
        ":",
        "at",
        "down",
        "arm",
        "body",
        "\n",
        "٣",
        "E",
        "_",
    ]
    problems = [
        exercises.make(kind, 1)
        for kind in ("rear_change", "lead", "formula_overhang", "mass_and_load", "body_bucket")
    ]
    for _ in range(3000):
        typed = "".join(rng.choice(pieces) for _ in range(rng.randrange(1, 14)))
        verdict = exercises.check(rng.choice(problems), typed, sympy=False)
        assert verdict.case in ("right", "wrong", "unclear", "unread") and verdict.message
