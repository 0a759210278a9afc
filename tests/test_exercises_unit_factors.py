"""Factors that students leave in, leave out or take for another, against what units are.

An inch is 2.54 cm and a pound 0.453 592 37 kg by definition (international yard and pound); a psi
is a pound-force per square inch, g = 9.806 65 m/s2 by definition (CGPM 1901).
"""

import math
import re
from itertools import permutations

import pytest

from leverarm.exercises.unit_slips import SELDOM, other_unit_factors, unit_slips

INCH, FOOT, POUND, STANDARD_G = 0.0254, 0.3048, 0.45359237, 9.80665
PSI = POUND * STANDARD_G / INCH**2 / 1000  # kPa
KINDS = ("weight", "length", "share", "number", "pressure", "moment", "angle", "area", "force")
MOVED = {"one place": 10, "two places": 100}


def slips(kind, metric=False):
    return unit_slips(kind, metric)


def said_factor(said):
    """What a slip's words say was done to the right result, as factors that fit them."""
    number = re.search(r"(times|multiplied by|divided by) ([\d. ]*\d|g)\b", said)
    if number:
        size = STANDARD_G if number[2] == "g" else float(number[2].replace(" ", ""))
        return [1 / size if number[1] == "divided by" else size]
    for words, size in MOVED.items():
        if words in said:
            return [size, 1 / size]
    return {
        "without g": [1 / STANDARD_G],
        "in radians": [math.pi / 180],
        "turned from radians": [180 / math.pi],
        "in percent": [100.0],
    }[re.search("without g|in radians|turned from radians|in percent", said)[0]]


@pytest.mark.parametrize("kind", KINDS)
def test_a_slip_does_what_its_words_say(kind):
    for factor, _, said in slips(kind):
        fits = said_factor(said)
        assert any(factor == pytest.approx(one, rel=3e-4) for one in fits), said


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_mixed_up_is_mixed_up_as_often_one_way_as_the_other(kind):
    """Common practice, no source.  Where g or the radian comes in, one way is the usual one."""
    for factor, share, said in slips(kind):
        alike = [tag for tag in ("mixed up", "1000", "point moved") if tag in said]
        for other, as_common, words in slips(kind):
            if any(tag in words for tag in alike) and factor * other == pytest.approx(1):
                assert share == as_common, (said, words)
        assert 0 < share <= 2, said


@pytest.mark.parametrize("kind", KINDS)
def test_between_systems_is_seldom_where_all_is_metric(kind):
    """A metric problem has the same slips; only those that name a unit of the other are rarer."""
    for (factor, share, said), (same, less, words) in zip(slips(kind), slips(kind, True)):
        assert (factor, said) == (same, words)
        other = any(one in said for one in ("pounds", "inches", "psi"))
        assert less == pytest.approx(share * SELDOM if other else share), said


def test_every_kind_can_slip_by_a_point():
    assert [one[0] for one in slips("nothing known")] == [10, 0.1, 100, 0.01]


SIZES = {"m": 1.0, "cm": 0.01, "mm": 0.001, "in": INCH, "ft": FOOT}


@pytest.mark.parametrize(
    "value",
    [0.01, 0.1, 100.0, 1000.0, 10_000.0, INCH, 2.54, FOOT, 1 / 12, 1 / INCH, 12.0],
)
def test_what_is_taken_for_a_factor_of_lengths_is_one(value):
    """A power of ten, or one length in another; beside it ten times and a tenth of itself, and
    itself doubled.
    """
    between = {a / b for a, b in permutations(SIZES.values(), 2)}
    sound = {*between, *(10.0**n for n in range(-2, 5)), 10 * value, value / 10, 2 * value}
    found = other_unit_factors(value)
    assert value in found and {10 * value, value / 10, 2 * value} <= found
    for one in found:
        assert any(one == pytest.approx(other, rel=1e-9) for other in sound), one


@pytest.mark.parametrize("value", [POUND, PSI])
def test_a_weight_s_or_a_pressure_s_factor_is_taken_upside_down(value):
    for one in (value, 1 / value):
        wanted = {value, 1 / value, 10 * one, one / 10, 2 * one}
        assert sorted(other_unit_factors(one)) == pytest.approx(sorted(wanted))


def test_g_is_taken_for_ten_and_another_number_for_nothing():
    assert other_unit_factors(STANDARD_G) == {10.0}
    for other in (3.0, 0.5, 12.1, 0.0255, 999.0):
        assert other_unit_factors(other) == set()
