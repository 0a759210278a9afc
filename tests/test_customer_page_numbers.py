"""The page to hand over, line by line: digits, signs, months, scales, both unit systems."""

import math
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hand import KG_PER_LB
from test_customer_page import FRONT, FULL, weighed, words

from leverarm import Refusal
from leverarm.handouts.customer_page import MANY_LETTERS, page_html
from leverarm.handouts.page_facts import PageFacts
from leverarm.handouts.page_numbers import page_numbers, round_decimal, rounded_up, spoken
from leverarm.handouts.page_plus_minus import scales_words
from leverarm.weighing.facts import scale_facts


@pytest.mark.parametrize(
    "came_off, shown",
    [(30, "30"), (29.94, "29.9"), (3, "3.0"), (2.96, "2.96"), (1000, "1,000"), (418.5, "418")],
)
def test_the_smaller_what_came_off_the_more_digits(came_off, shown):
    """Whole numbers from 30 up, tenths from 3 up, hundredths below."""
    made = page_numbers((500 + came_off, 500), None, None, 65.0)
    assert made.headline(made.came_off) == shown
    assert (made.weight, made.rear_gain, made.factor, made.total, made.shares) == (None,) * 5


@pytest.mark.parametrize(
    "factor, said",
    [(1.7, "1.7"), (1.24, "1.2"), (1.14, "1.14"), (1.0, "1.00"), (0.95, "0.95"), (0.84, "0.8"),
     (0.86, "0.86"), (2.06, "2.1"), (3.0, "3.0")],
)  # fmt: skip
def test_a_factor_near_one_is_said_with_three_digits(factor, said):
    weight = 1000
    made = page_numbers((5000 + factor * weight, 5000), None, weight, 65.0)
    assert made.times == said
    assert float(made.factor) == pytest.approx(factor, abs=0.0051)
    assert float(made.overhang) == pytest.approx((factor - 1) * 65, abs=0.35)
    assert made.rear_gain == made.came_off - weight


def test_shares_are_of_all_that_stood_on_the_scales():
    made = page_numbers((1920, 1502), (1310, 1482), None, 65.0)
    for (front, rear), on in zip(made.shares, (True, False)):
        f, r = (1920, 1310) if on else (1502, 1482)
        assert (front, rear) == (round(Fraction(100 * f, f + r)), 100 - round(100 * f / (f + r)))
    assert made.total == (3230, 2984) and made.wheelbase == Decimal("65.0")
    metric = page_numbers((1000, 800), (800, 900), None, 1.5, 2)
    assert str(metric.wheelbase) == "1.50" and str(metric.overhang) == "1.50"


@pytest.mark.parametrize(
    "number, places, text",
    [("2.5", 0, "2"), ("3.5", 0, "4"), ("-2.5", 0, "-2"), ("0.125", 2, "0.12"), ("7", 2, "7.00")],
)
def test_a_half_goes_to_the_even_digit(number, places, text):
    assert str(round_decimal(Decimal(number), places)) == text


@pytest.mark.parametrize(
    "number, sign, text",
    [
        ("1234567", False, "1,234,567"),
        ("999", False, "999"),
        ("-418", False, "−418"),
        ("418", True, "+418"),
        ("0", True, "0"),
        ("-0.5", True, "−0.5"),
        ("0.50", False, "0.50"),
    ],
)
def test_numbers_as_printed(number, sign, text):
    assert spoken(Decimal(number), sign) == text


@pytest.mark.parametrize(
    "number, places, text",
    [(3.0001, 0, "4"), (3, 0, "3"), (0, 0, "1"), (0.001, 2, "0.01"), (0.011, 2, "0.02"),
     (2.04, 1, "2.1")],
)  # fmt: skip
def test_half_of_an_interval_rounds_up_and_is_never_nothing(number, places, text):
    assert str(rounded_up(number, places)) == text


MONTHS = "January February March April May June July August September October November December"


@pytest.mark.parametrize("month", range(1, 13))
def test_the_day_in_words(month):
    said = words(replace(FULL, date=f"2026-{month:02}-04"))
    assert f"Weighed {MONTHS.split()[month - 1]} 4, 2026" in said


# --- how sure -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "told, lb, kg",
    [
        (("2 lb", "0.5 %"), "2 lb steps, 0.5 percent", "0.91 kg steps, 0.5 percent"),
        (("1 kg", ""), "2.2 lb steps", "1 kg steps"),
        (("0.5 kg", "1 %"), "1.1 lb steps, 1 percent", "0.50 kg steps, 1 percent"),
        (("10 kg", ""), "22.0 lb steps", "10 kg steps"),
        (("", "0.25 %"), "0.25 percent", "0.25 percent"),
    ],
)
def test_the_scales_in_words(told, lb, kg):
    made = replace(FULL, scales=scale_facts(*told))
    assert scales_words(made, "lb") == f"Scales: {lb}."
    assert scales_words(made, "kg") == f"Scales: {kg}."


@pytest.mark.parametrize(
    "placed, said",
    [("moved", "one set moved between axles"), ("every wheel", "one pad under each wheel")],
)
def test_where_the_scales_stood(placed, said):
    made = replace(FULL, scales=scale_facts("2 lb", "0.5 %", placed=placed))
    assert scales_words(made, "lb").endswith(f"0.5 percent, {said}.")


@pytest.mark.parametrize("system", ["lb", "kg"])
def test_each_number_has_its_own_plus_or_minus(system):
    size = KG_PER_LB if system == "lb" else 1
    made = replace(FULL, U_front_kg=3.2 * size, U_weight_kg=5.1 * size, U_factor=0.0301)
    text = words(made, system=system)
    front, weight = ("418", "246") if system == "lb" else ("190", "112")
    assert f"Off the front {front} ± 4 {system} . Bucket {weight} ± 6 {system} ." in text
    assert "Times 1.70 ± 0.04 ." in text and "95 of 100" in text
    without = words(replace(made, U_weight_kg=None, U_factor=None), system=system)
    assert "Off the front" in without and "Bucket 2" not in without and "Times 1" not in without


def test_a_half_interval_that_is_not_known_prints_none():
    for U in (math.nan, math.inf):
        made = weighed(("1920", "1310"), ("1502", "1482"), scales=scale_facts(placed="moved"))
        assert made.U_front_kg is None and made.U_weight_kg is None and made.U_factor is None, U
    known = weighed(("1920", "1310"), ("1502", "1482"))
    assert 0 < known.U_front_kg < known.U_weight_kg and known.U_factor > 0


# --- what makes a page, and how full it is --------------------------------------------------------


@pytest.mark.parametrize(
    "change, allowed",
    [
        ({"front_on_kg": 700.0, "front_off_kg": 700.0}, False),
        ({"front_on_kg": 700.1, "front_off_kg": 700.0}, True),
        ({"weight_kg": 0.0}, False),
        ({"weight_kg": 0.1}, True),
        ({"weight_kg": None}, True),
    ],
)
def test_a_page_needs_a_piece_with_a_weight_that_loaded_the_front(change, allowed):
    if allowed:
        assert isinstance(replace(FULL, **change), PageFacts)
    else:
        with pytest.raises(Refusal, match="two readings are swapped"):
            replace(FULL, **change)


def test_only_the_front_was_read_where_one_rear_reading_is_missing():
    assert not FULL.front_only and FRONT.front_only
    assert replace(FULL, rear_on_kg=None).front_only and replace(FULL, rear_off_kg=None).front_only
    assert not FULL.with_ballast and replace(FULL, also_on=("Rear BALLAST",)).with_ballast


@pytest.mark.parametrize("more, full", [(0, False), (1, True)])
def test_a_page_with_many_letters_is_set_smaller(more, full):
    """What was told, what hung on and the notes: up to 180 letters stand as large as usual."""
    bare = replace(FULL, notes=(), also_on=(), machine=replace(FULL.machine, mower=""))
    told = {"address": "a" * 70, "dealer": "d" * 50, "customer": "c" * 40, "fuel": "f" * 20}
    assert sum(map(len, told.values())) == MANY_LETTERS == 180
    noted = replace(bare, notes=("n" * more,))
    assert ('<main class="full">' in page_html(noted, **told)) is full
    assert '<main class="full">' in page_html(replace(bare, also_on=("ballast",)))


@pytest.mark.parametrize(
    "most, names",
    [
        (20, ["hours"]),
        (40, ["customer", "model", "serial", "mower", "fuel", "ballast", "weighed_by"]),
        (50, ["dealer"]),
        (70, ["address"]),
    ],
)
def test_a_line_on_the_page_holds_so_many_letters(most, names):
    for name in names:
        assert "n" * most in page_html(FULL, **{name: "n" * most})
        with pytest.raises(Refusal, match=f"{most} printable"):
            page_html(FULL, **{name: "n" * (most + 1)})


@pytest.mark.parametrize(
    "change, told, full",
    [
        ({}, {}, False),
        ({"rear_share_least": 41}, {}, True),  # a line in red
        ({"ratings_kg": {"front": 900.0}}, {}, True),
        ({}, {"also_on": ("ballast",)}, True),
        ({}, {"notes": ("n" * 181,)}, True),
    ],
)
def test_each_thing_that_fills_a_page_sets_it_smaller(change, told, full):
    usual = replace(FULL, notes=(), also_on=(), machine=replace(FULL.machine, mower="", **change))
    assert ('<main class="full">' in page_html(replace(usual, **told))) is full
    both = page_html(replace(usual, **told, **({} if "notes" in told else {"notes": ("n" * 181,)})))
    assert ('<main class="full fuller">' in both) is ("rear_share_least" in change)


@pytest.mark.parametrize(
    "kg, shown",
    [
        (2000 * KG_PER_LB, "2,000"),
        (1482.5 * KG_PER_LB, "1,482.5"),
        (1482.25 * KG_PER_LB, "1,482.25"),
        (1000.0, "2,205"),  # 2204.62 lb
        (1234.0, "2,721"),  # 2720.50 lb
    ],
)
def test_a_rating_stands_as_it_was_told_or_as_a_whole_number(kg, shown):
    said = words(replace(FULL, machine=replace(FULL.machine, ratings_kg={"front": kg})))
    assert f"Axle rating, from the manual: front {shown} lb ." in said


@pytest.mark.parametrize(
    "least, text", [(40, "40 percent"), (40.0, "40 percent"), (37.5, "37.5 percent")]
)
def test_the_share_that_a_manual_asks_for(least, text):
    said = words(replace(FULL, machine=replace(FULL.machine, rear_share_least=least)))
    assert f"Least rear share, from the manual: {text} ." in said and "not told ." not in said


@pytest.mark.parametrize(
    "least, shown", [(40.557, ""), (40.558, "40.6"), (41, "40.6"), (41.1, "41"), (50, "41")]
)
def test_a_share_below_the_least_is_shown_with_the_digit_that_tells(least, shown):
    """1310 of 3230 lb is 40.5573 percent; of 2984 lb it is more."""
    said = words(replace(FULL, machine=replace(FULL.machine, rear_share_least=least)))
    begins = "than the manual asks for: with the bucket on, "
    assert (begins in said) is bool(shown)
    assert not shown or said.split(begins)[1].startswith(f"{shown} percent")


@pytest.mark.parametrize(
    "also, text",
    [
        ((), ""),
        (("frame",), "On both times: frame."),
        (("frame", "fork"), "On both times: frame and fork."),
        (("frame", "fork", "weights"), "On both times: frame, fork and weights."),
        (("ballast",), ""),
        (("frame", "rear ballast"), "On both times: frame."),
    ],
)
def test_what_hung_on_both_times_is_listed(also, text):
    said = words(replace(FULL, also_on=also))
    assert (text in said) if text else ("On both times" not in said)


@pytest.mark.parametrize(
    "piece, low", [("bucket", True), ("Grading Bucket", True), ("loader frame", False)]
)
def test_the_bucket_was_empty_and_low(piece, low):
    said = words(replace(FULL, piece=piece))
    assert ("on level ground, bucket empty and low." in said) is low


@pytest.mark.parametrize(
    "told, machine, line",
    [
        ({}, "Meadow tractor . Mower", None),
        ({"customer": "Fernhollow"}, "Meadow tractor, Fernhollow . Mower", None),
    ],
)
def test_the_line_below_the_headline_names_machine_and_customer(told, machine, line):
    assert machine.replace(" .", ".") in words(FULL, **told)


@pytest.mark.parametrize("system, unit", [("lb", "pounds"), ("kg", "kilograms")])
def test_the_table_is_headed_by_its_unit(system, unit):
    assert f"Share on each axle {unit} bucket on share off share change" in words(
        FULL, system=system
    )
    assert f"What the scales showed {unit} bucket on off change" in words(FRONT, system=system)
