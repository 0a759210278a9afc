"""The gate at its edges, each worked by hand: how seldom a mistake is made, how near is alike, how
well a mended row must fit, how names are told apart.

How seldom (minus twice the logarithm of a chance, roughly) and how near are judgments of practice
without a source; they are typed here, so that nobody moves one without saying so.
"""

import itertools
import math
import random
import re
from dataclasses import replace
from functools import cache
from statistics import NormalDist

import messy_days
import numpy
import pytest
from messy_days import A_BARE, A_BOTH, A_FRAME, BOTH, FRAME, TODAY

from leverarm.quantities import Refusal
from leverarm.weighing import consistency, least_squares, read_claim
from leverarm.weighing.carried_over import copied_from_above, exchanged_in_a_repeat
from leverarm.weighing.causes import causes, slips_of_the_pen
from leverarm.weighing.facts import machine
from leverarm.weighing.finding import day_rows
from leverarm.weighing.gate import look_over
from leverarm.weighing.person import like_off_zero
from leverarm.weighing.plausible import Known, judged
from leverarm.weighing.results import fitted
from leverarm.weighing.row_checks import rows_alone
from leverarm.weighing.spelling import meant_name, nearly_same


def day(*rows, **about):
    return messy_days.day(*rows, **{"system": "kg", **about})


# --- how seldom -----------------------------------------------------------------------------------

WHEELS = ("bare", "300/301", "402/400")
OTHER = ("sprayer", 700, 900)
# What a sentence holds, of which day, with these rows odd: how seldom.
RARITY = [
    ("Front and rear look swapped in row 1 (bare)", (A_BARE, A_FRAME), (1,), 2),
    ("Front and rear look swapped in rows 1 and 2 (bare)", (A_BARE, A_BARE, A_FRAME), (1,), 3),
    ("Front and rear look swapped in every row", (A_BARE, A_FRAME), (1,), 5),
    ("The unit looks wrong in row 2 (loader frame): lb", (A_BARE, A_FRAME), (2,), 3),
    ("The unit looks wrong in rows 1 and 2 (bare): lb", (A_BARE, A_BARE, A_FRAME), (1,), 3),
    ("The unit looks wrong in every row: lb", (A_BARE, A_FRAME), (1,), 5),
    ("The rear reading of row 1 (bare) looks like front and rear", (A_BARE, A_FRAME), (1,), 5),
    ("Front and rear show the same number in row 1", (("bare", 800, 800), A_FRAME), (1,), 4),
    ("looks like one wheel of two: 1,200 kg would fit", (A_BARE, A_FRAME), (1,), 7),
    ("The front left wheel of row 1 (bare) looks typed in lb", (WHEELS, A_FRAME), (1,), 5),
    ("The rear right wheel of row 1 (bare) looks typed in lb", (WHEELS, A_FRAME), (1,), 5),
    ("The front left and the rear left wheel look swapped", (WHEELS, A_FRAME), (1,), 4),
    ("The front right and the rear right wheel look swapped", (WHEELS, A_FRAME), (1,), 4),
    ("The front left and the rear right wheel look swapped", (WHEELS, A_FRAME), (1,), 5),
    ("The decimal point looks slipped in the front reading", (A_BARE, A_FRAME), (2,), 6),
    ("Two digits look to have changed places in the rear", (A_BARE, A_FRAME), (2,), 6),
    ("A digit looks left out in the rear reading", (A_BARE, A_FRAME), (2,), 9),
    ("A digit looks too many in the rear reading", (A_BARE, A_FRAME), (2,), 11),
    ("as if the loader frame was on", (A_BARE, A_FRAME), (1,), 7),
    ("as if the loader frame was off", (A_BARE, A_FRAME), (2,), 7),
    ("as if the bucket was on and the loader frame was off", (A_FRAME, ("bucket", 1, 2)), (1,), 9),
    ("as if ballast was on", (A_FRAME, ("bare", 473, 1162)), (2,), 7),
    ("is the same as in row 1", (A_BARE, ("bucket", 790, 800)), (2,), 2),
    ("is the same as in row 1", (A_BARE, A_FRAME, ("bucket", 790, 800)), (3,), 9),
    ("is the same as in row 1", (A_BARE, ("bucket", 610, 800)), (2,), 9),
    ("The readings of bare and of loader frame look reversed", (A_BARE, A_FRAME), (1,), 3),
]


@pytest.mark.parametrize("words, rows, odd, rarity", RARITY)
def test_how_seldom_a_mistake_is_made(words, rows, odd, rarity):
    found = [one for one in causes(day_rows(day(*rows)), odd) if words in one.sentence]
    assert found and {one.rarity for one in found} == {rarity}


@pytest.mark.parametrize("words, rows, odd, rarity", RARITY)
def test_only_what_tells_the_right_number_is_offered_as_a_correction(words, rows, odd, rarity):
    """A number nobody read (a copy, a wheel, another set-up) cannot be written down as read."""
    guesses = ("same number", "same as in", "one wheel", "typed in", "as if")
    found = [one for one in causes(day_rows(day(*rows)), odd) if words in one.sentence]
    assert {one.offered for one in found} == {not any(guess in words for guess in guesses)}


def test_eight_rows_are_tried_and_not_the_ninth():
    rows = day_rows(day(*[(f"piece {i}", 600 + i, 800) for i in range(10)]))
    alone = {
        number
        for one in causes(rows, tuple(range(1, 11)))
        if one.name == "swapped" and len(one.rows) == 1
        for number in one.rows
    }
    assert alone == set(range(1, 9))


@pytest.mark.parametrize("number, many", [(0.0, 0), (-1.0, 0), (600.0, 40), (4_999.0, 40)])
def test_no_slip_leads_beyond_what_is_weighed(number, many):
    meant = [one for _, one, _ in slips_of_the_pen(number)]
    assert (len(meant) > many) is bool(many)
    assert all(one > 0 for one in meant) and number not in meant


@pytest.mark.parametrize("number, edge, found", [(4_999, 49_999, True), (5_000, 50_000, False)])
def test_a_digit_left_out_leads_below_fifty_thousand(number, edge, found):
    meant = [one for what, one, _ in slips_of_the_pen(number) if what == "A digit looks left out"]
    assert (edge in meant) is found and max(meant) < 50_000


def test_a_copied_number_is_fresh_where_the_whole_moved_by_two_percent():
    """Of 800 kg on the rear, two percent are 16: the whole must differ by more."""
    for apart, rarity in ((16, 9), (17, 2)):
        rows = day_rows(day(A_BARE, ("bucket", 600 + apart, 800)))
        copied = [
            one for one in causes(rows, (2,)) if one.name == "copied" and "rear" in one.sentence
        ]
        assert [one.rarity for one in copied] == [rarity]


# --- alike, and swapped ---------------------------------------------------------------------------


def remarks(*rows, **about):
    return [one.cause for one in look_over(day(*rows, **about), (), TODAY)]


@pytest.mark.parametrize(
    "apart, step, asked",
    [
        (168, "0.1 kg", True),  # 12 percent of 1,400
        (168.4, "0.1 kg", False),
        (4, "0.1 kg", True),  # beyond 4.5 x a thousandth of 702
        (3, "0.1 kg", False),
        (68, "10 kg", True),  # beyond 4.5 x 1.5 steps
        (67, "10 kg", False),
    ],
)
def test_front_and_rear_are_alike_within_twelve_percent_and_beyond_the_scatter(apart, step, asked):
    """Pieces that nobody knows, so that nothing else tells front from rear."""
    rows = ("sprayer", 700 - apart / 2, 700 + apart / 2), ("mower", 300, 700)
    found = remarks(*rows, step=step, accuracy=None)
    assert [one for one in found if one != "step"] == ["nearly alike"] * asked


def test_alike_matters_only_where_two_set_ups_are_compared():
    assert remarks(("sprayer", 650, 750), step="0.1 kg", accuracy=None) == []


@pytest.mark.parametrize("front, named", [(828, False), (829, True), (840, True)])
def test_a_swap_is_named_where_it_fits_better_by_six(front, named):
    """A bare tractor has 42 percent in front, give or take 7, and nothing else is known here.

    Swapped it fits better by ((s - 0.42)/0.07)^2 - ((0.58 - s)/0.07)^2 with s its share in front.
    """
    share = front / 1400
    better = ((share - 0.42) / 0.07) ** 2 - ((1 - share - 0.42) / 0.07) ** 2
    assert (better > 6) is named
    rows = ("bare", front, 1400 - front), ("sprayer", 1900, 400)
    found = remarks(*rows, step="0.1 kg", accuracy=None)
    assert found == ["swapped"] * named


# --- slips of the pen -----------------------------------------------------------------------------


@pytest.mark.parametrize("off, named", [(5.0, True), (5.1, True), (5.3, False), (8.0, False)])
def test_a_slip_is_named_where_the_mended_row_fits_the_others(off, named):
    """829 written as 892, beside two repeats of 829 and a little: the square of its distance, in
    deviations of 3 kg (1.5 steps) and of the mean of two others, must stay below two.
    """
    assert (off**2 / (3**2 * 1.5) < 2) is named
    rows = [("bare", 829 + off, 800)] * 2 + [("bare", 892, 800)]
    assert ("digits" in remarks(*rows, step="2 kg", accuracy=None)) is named


# --- lighter than what hangs on it ----------------------------------------------------------------


@pytest.mark.parametrize("step, spread", [("0.1 kg", 1.01), ("2 kg", 3.0), ("10 kg", 15.0)])
def test_a_frame_may_be_lighter_by_the_scatter_of_the_heaviest_set_up(step, spread):
    """4.5 deviations of one reading: of its heaviest axle's, 1.5 steps or a thousandth."""
    bucket = 180.0
    for within, found in ((0.98, False), (1.02, True)):
        frame = bucket - 4.5 * spread * within
        both = 1400 + frame + bucket
        rows = [("bare", 600, 800), (FRAME, 600 + frame, 800), (BOTH, 1010, both - 1010)]
        made = day(*rows, step=step, accuracy=None)
        odd = judged(day_rows(made), Known(1.65, made.scales, "kg")).oddities
        assert ("lighter" in {one.cause for one in odd}) is found, frame


# --- names ----------------------------------------------------------------------------------------


def keys_to_press(one, other):
    """Keys to press to make one word the other, a change of places included: from the definition,
    by recursion on what is left of both.
    """

    @cache
    def least(a, b):
        if not a or not b:
            return len(a) + len(b)
        best = min(least(a[1:], b) + 1, least(a, b[1:]) + 1, least(a[1:], b[1:]) + (a[0] != b[0]))
        if len(a) > 1 and len(b) > 1 and a[:2] == b[1::-1]:
            best = min(best, least(a[2:], b[2:]) + 1)
        return best

    return least(one, other)


def test_names_are_nearly_the_same_within_a_key_or_two():
    """One key in a word of four letters or more, two in eight or more; a number counts whole."""
    rng, seen = random.Random(3), {True: 0, False: 0}
    words = ("fork", "forks", "bucket", "loader", "ballast", "grapple", "counterweight", "bar")
    words += ("pallet forks", "loader frame", "weight 1", "weight 12")
    for _ in range(1200):
        one = rng.choice(words)
        other = list(one)
        for _ in range(rng.randrange(4)):
            at = rng.randrange(len(other))
            how = rng.randrange(4)
            if how == 0:
                other.insert(at, rng.choice("aeklr"))
            elif how == 1 and len(other) > 2:
                del other[at]
            elif how == 2:
                other[at] = rng.choice("aeklr")
            elif at:
                other[at - 1 : at + 1] = other[at], other[at - 1]
        text = "".join(other)
        digits = [re.split("[^0-9]+", name) for name in (one, text)]
        digits = [[run for run in runs if run] for runs in digits]
        short = min(len(one), len(text))
        allowed = 0 if short < 4 else 1 if short < 8 else 2
        same = one != text and digits[0] == digits[1] and keys_to_press(one, text) <= allowed
        assert nearly_same(one, text) is same and nearly_same(text, one) is same, (one, text)
        seen[same] += 1
    assert min(seen.values()) > 200


@pytest.mark.parametrize(
    "typed, meant",
    [
        ("Loder Frmae", "loader frame"),
        ("buckets", "buckets"),
        ("pallets", "pallets"),
        ("palet forks", "pallet forks"),
        ("conuterwieght", "counterweight"),
        ("cart", "cart"),
        ("balast 2", "ballast 2"),
    ],
)
def test_the_usual_word_is_read_through_a_slip_of_a_key(typed, meant):
    assert meant_name(typed) == meant


# --- all set-ups together, put back level ---------------------------------------------------------


@pytest.mark.parametrize("placed, ground", [("moved", "on the ground"), ("every wheel", None)])
def test_a_fit_is_put_back_level_mass_by_mass(placed, ground):
    """On pads under one axle, W h t/L^2 goes from the front to the rear, and comes back."""
    made = day(A_BARE, A_FRAME, A_BOTH)
    pads = {"placed": placed, "ground": ground, "pad_height_m": 0.06}
    heights = {"bare": 0.7, "loader frame": 0.8, "bucket": 0.9}
    tilted = replace(
        made,
        scales=replace(made.scales, **pads),
        machine=replace(made.machine, heights_m=heights),
    )
    fit = fitted(tilted)
    plain = least_squares(made.setups, 1.65, u_reading=1)
    axle = (0.25 + 0.45) / 2
    on_pads = placed == "moved"

    def back(height, kg):
        return on_pads * kg * (height - axle) * 0.06 / 1.65**2

    bare = back(0.7, 1400)
    assert fit.front.value == pytest.approx(plain.front.value + bare)
    assert fit.rear.value == pytest.approx(plain.rear.value + bare)
    for name, kg, front in (("loader frame", 210, 229), ("bucket", 110, 190)):
        moved = back(heights[name], kg)
        assert fit.pieces[name].weight_kg == pytest.approx(kg + 2 * moved)
        rear = kg - front + moved
        assert fit.pieces[name].ahead_m == pytest.approx(-rear * 1.65 / (kg + 2 * moved))


def test_the_set_up_that_stands_out_is_named_and_those_nothing_tells_apart():
    """Five set-ups of three pieces: what is off in one is left over in four alike, and the fifth,
    the only one with nothing to check it, is not named.
    """
    rows = [A_BARE, A_FRAME, A_BOTH, ("ballast", 473, 1162), (BOTH + " + ballast", 892 + 80, 1063)]
    made = day(*rows, step="2 kg", accuracy=None)
    odd = judged(day_rows(made), Known(1.65, made.scales, "kg")).oddities
    (found,) = [one for one in odd if one.cause == "set-ups"]
    us = [max(3.0, 0.001 * max(front, rear)) for _, front, rear in rows]
    # Of one equation, c y = 0 with c = (1, 0, -1, -1, 1) in these set-ups, all lie as far out.
    assert found.rows == (1, 3, 4, 5)
    left = 80 / sum(u * u for u in (us[0], us[2], us[3], us[4]))
    assert f"up to {max(us[i] ** 2 for i in (0, 2, 3, 4)) * left:.0f} kg" in found.words
    assert math.isfinite(found.size)


# --- carried over, exchanged, replaced ------------------------------------------------------------


def copied(*rows):
    """Rows of which one axle looks copied from the row above, scales stepping by 2 kg."""
    made = day(*rows, step="2 kg", accuracy=None)
    return [one.row for one in copied_from_above(day_rows(made), Known(1.65, made.scales, "kg"))]


@pytest.mark.parametrize(
    "above, here, found",
    [
        # A bucket moves three quarters of its weight off the rear: beyond 4 x 3 kg from 17 kg on.
        ((FRAME, 829, 781), (BOTH, 829 + 17, 781), True),
        ((FRAME, 829, 781), (BOTH, 829 + 15, 781), False),
        ((BOTH, 829 + 17, 781), (FRAME, 829, 781), True),
        ((FRAME, 829, 781), (BOTH, 829, 781 - 17), True),
        # A frame hangs near the front axle, so the rear may well stay as it was.
        (A_BARE, (FRAME, 810, 800), False),
        (A_BARE, (FRAME, 600, 1000), True),
        # Ballast behind hangs half a wheelbase behind the rear axle, give or take.
        (A_BARE, ("ballast", 480, 800), True),
        (A_BARE, ("ballast", 600, 1000), False),
        # Nobody knows where these hang, or more than one thing changed.
        (A_BARE, ("sprayer", 900, 800), False),
        ((FRAME, 829, 781), ("bucket", 760, 781), False),
        ((FRAME, 829, 781), (BOTH, 829, 781), False),
    ],
)
def test_one_axle_copied_from_the_row_above(above, here, found):
    assert copied(above, here) == [2] * found


@pytest.mark.parametrize(
    "front, rear, again, found",
    [
        (700, 706, (706, 700), True),  # six steps apart
        (700, 705, (705, 700), False),
        (700, 709, (709, 700), True),  # 4.5 x root 2 x 1.5 kg is 9.5
        (700, 710, (710, 700), False),
        (700, 708, (707, 701), True),  # a fifth of eight is 1.6
        (700, 708, (706, 700), False),
        (700, 708, (708, 698), False),
        (700, 708, (700, 708), False),
    ],
)
def test_two_numbers_exchanged_in_a_repeat(front, rear, again, found):
    made = day(("bare", front, rear), ("bare", *again), step="1 kg", accuracy=None)
    said = list(exchanged_in_a_repeat(made))
    assert [one.row for one in said] == [2] * found
    if found:
        assert said[0].sentence.startswith("Front and rear look swapped in row 2")


@pytest.mark.parametrize("unit", ["kg", "lb"])
@pytest.mark.parametrize("axle", ["front", "rear"])
@pytest.mark.parametrize("apart, found", [(5, False), (6, True), (60, True)])
def test_two_wheels_exchanged_in_a_repeat(axle, apart, found, unit):
    """In the unit of the scales: six steps, and no distance is too large."""
    one, other = f"300/{300 + apart}", f"{300 + apart}/300"
    rows = [
        ("bare", wheels, 800) if axle == "front" else ("bare", 800, wheels)
        for wheels in (one, other)
    ]
    made = day(*rows, step=f"1 {unit}", unit=unit, accuracy=None)
    said = [one.sentence for one in exchanged_in_a_repeat(made)]
    assert [text.startswith(f"Left and right {axle} wheel look swapped") for text in said] == (
        [True] * found
    )


@pytest.mark.parametrize(
    "off, found", [(20, True), (-20, True), (21, False), (-21, False), (0, False)]
)
def test_a_row_that_hardly_differs_from_the_one_it_replaces_is_rather_a_repeat(off, found):
    """4.5 x 1.5 x 3 kg are 20.25, and what is the very same on an axle was corrected on purpose."""
    rows = [("bare", 600, 800), ("bare", 600 + off, 801, {"repeat": 1}), (FRAME, 829, 781)]
    said = list(rows_alone(day(*rows, step="2 kg", accuracy=None)))
    assert ("same number" in [one.cause for one in said]) is found
    again = [*rows, ("bare", 600, 800, {"repeat": 2})]
    said = list(rows_alone(day(*again, step="2 kg", accuracy=None)))
    assert "same number" not in [one.cause for one in said], "it counts under another number"


@pytest.mark.parametrize("share, alike", [(0.41, False), (0.43, True), (0.5, True), (0.2, False)])
@pytest.mark.parametrize("kg", [80, -80])
def test_scales_off_zero_read_nearly_as_much_off_on_both_axles(share, alike, kg):
    (row,) = day_rows(day(("bare", 600, 800)))
    (mended,) = day_rows(day(("bare", 600 + kg * share, 800 + kg * (1 - share))))
    assert like_off_zero(row, [mended]) is alike


# --- how small an error would be seen -------------------------------------------------------------

# Noncentrality of chi-squared at which a test at 5 percent finds it four times in five.  Source:
# tables of the noncentral chi-squared distribution as power handbooks print them, from memory.
NONCENTRALITY = {2: 9.635, 4: 11.935}
CHECKED = {
    2: [((), 600, 800), (("a",), 700, 800), (("b",), 800, 800), (("a", "b"), 900, 800)],
    4: [
        *(((), 600, 800), (("a",), 700, 800), (("b",), 800, 800), (("a", "b"), 900, 800)),
        *((("c",), 650, 790), (("a", "c"), 750, 790)),
    ],
}


@pytest.mark.parametrize("dof", [2, 4])
def test_an_error_that_would_be_found_four_times_in_five(dof):
    """Its size: u times the root of the noncentrality over what a reading is checked by."""
    rows = CHECKED[dof]
    names = sorted({name for setup, *_ in rows for name in setup})
    design = numpy.array([[1.0, *(name in setup for name in names)] for setup, *_ in rows])
    pull = numpy.diag(design @ numpy.linalg.pinv(design))
    fit = least_squares(rows, 1.65, u_reading=3)
    assert fit.redundant_dof == dof
    checked = max(one for one in pull if one < 1 - 1e-6)
    expected = 3 * math.sqrt(NONCENTRALITY[dof] / (1 - checked))
    assert fit.consistency.sees_kg == pytest.approx(expected, rel=2e-4)


def normal_tail(dof, x):
    """Chance of a chi-squared beyond x (Wilson and Hilferty's cube root)."""
    z = ((x / dof) ** (1 / 3) - (1 - 2 / (9 * dof))) / math.sqrt(2 / (9 * dof))
    return 1 - NormalDist().cdf(z)


@pytest.mark.parametrize("dof", [10, 40, 160])
def test_of_many_set_ups_an_error_is_found_as_often_by_patnaik_s_approximation(dof):
    """A noncentral chi-squared is nearly (k + 2l)/(k + l) times one of (k + l)^2/(k + 2l) degrees
    of freedom (Patnaik 1949, as handbooks print it; from memory).
    """
    group = consistency.Group("bare", "front", (600.0,), 600.0, 3.0, 1, 0.4)
    found = consistency.Consistency("redundant", 0.0, dof, 0.5, "", (group,)).sees_kg
    much = (found / 3.0) ** 2 * (1 - 0.4)
    limit = next(x for x in itertools.count(dof, dof / 1e4) if normal_tail(dof, x) < 0.05)
    wide = (dof + 2 * much) / (dof + much)
    assert normal_tail((dof + much) / wide, limit / wide) == pytest.approx(0.8, abs=0.004)


def test_with_an_estimated_scatter_an_error_is_found_as_often_when_simulated():
    """Three repeats each: F with 2 and 16 degrees of freedom, forty thousand days by dice."""
    rng = numpy.random.default_rng(5)
    rows = [
        (setup, [front + 3, front, front - 3], [rear + 3, rear, rear - 3])
        for setup, front, rear in CHECKED[2]
    ]
    fit = least_squares(rows, 1.65)
    sees, u_one, days = fit.consistency.sees_kg, 3.0, 40_000
    errors = rng.normal(0, u_one, (days, 2, 4, 3))
    errors[:, 0, 0] += sees
    means = errors.mean(axis=3)
    s2 = errors.var(axis=3, ddof=1).mean(axis=(1, 2))
    # One equation is left on each axle: bare - a - b + (a and b) = 0, of variance 4 s^2/3.
    left = means @ numpy.array([1.0, -1.0, -1.0, 1.0])
    f = (left**2).sum(axis=1) / (4 * s2 / 3) / 2
    limit = numpy.quantile(
        (rng.chisquare(2, 400_000) / 2) / (rng.chisquare(16, 400_000) / 16), 0.95
    )
    assert (f > limit).mean() == pytest.approx(0.8, abs=0.012)


@pytest.mark.parametrize(
    "name, said",
    [
        ("a" * 59 + "\x07", "write it in plain letters"),
        ("a" * 60 + "\x07", "write it shorter"),
        ("a" * 61, "write it shorter"),
    ],
)
def test_a_name_is_too_long_or_not_plain(name, said):
    with pytest.raises(Refusal, match=said):
        machine(name, 1.65)
    assert machine("a" * 60, 1.65).name == "a" * 60


@pytest.mark.parametrize(
    "said, percent", [("0.99 of its weight", 99), ("0.5", 50), ("1/2 of it", 50)]
)
def test_a_part_below_one_is_a_percentage(said, percent):
    claim = read_claim(said)
    assert (claim.kind, claim.value.value) == ("percent", pytest.approx(percent))


@pytest.mark.parametrize("said", ["1 of its weight", "1", "1.5 of it"])
def test_a_whole_number_of_nothing_is_no_claim(said):
    with pytest.raises(Refusal):
        read_claim(said)
