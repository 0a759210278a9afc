"""Measures of repeated readings and functions of an angle that are taken by mistake: each worked
here from its words, with numpy where there is a function for it, and as it prints itself.
"""

import cmath
import math

import numpy
import pytest

from leverarm.exercises import readings as taken

FOUR = (3.0, 5.0, 4.0, 9.0)
FIVE = (1322.0, 1318.0, 1327.0, 1324.0, 1319.5)


def by_its_words(r):
    """{name: what it comes to}."""
    n, mean = len(r), sum(r) / len(r)
    apart = [abs(one - mean) for one in r]
    span = numpy.ptp(r)
    return {
        "variance": numpy.var(r, ddof=1),
        "squares": sum(one**2 for one in apart),
        "root_of_squares": numpy.linalg.norm(apart),
        "mean_square": numpy.var(r),
        "over_their_number": numpy.std(r),
        "over_their_number_of_mean": numpy.std(r) / n**0.5,
        "mean_distance": numpy.mean(apart),
        "mean_distance_less_one": sum(apart) / (n - 1),
        "middle": numpy.quantile(r, 0.5),
        "first_and_last": numpy.mean([r[0], r[-1]]),
        "middle_of_ends": numpy.mean([min(r), max(r)]),
        "largest": sorted(r)[-1],
        "smallest": sorted(r)[0],
        "largest_distance": max(apart),
        "last_less_first": r[-1] - r[0],
        "span_over_root": span / n**0.5,
        "span_as_limits": span / 12**0.5,
        "span_over_number": span / n,
        "span_over_one_less": span / (n - 1),
        "over_root_of_one_less": numpy.std(r, ddof=1) / (n - 1) ** 0.5,
        "times_root": numpy.std(r, ddof=1) * n**0.5,
        "all_but_last": numpy.mean(r[:-1]),
        "all_but_first": numpy.mean(r[1:]),
    }


@pytest.mark.parametrize("r", [FOUR, FIVE, (7.0, 4.0)])
def test_each_measure_is_what_its_words_say(r):
    expected = by_its_words(r)
    assert {one.__name__ for one in taken.MEASURES} == set(expected)
    for measure in taken.MEASURES:
        assert measure(*r) == pytest.approx(expected[measure.__name__]), measure.__name__


@pytest.mark.parametrize(
    "measure, printed",
    [
        ("over_their_number", "s with 4 in place of 3"),
        ("over_their_number_of_mean", "s/sqrt(4) with 4 in place of 3 in s"),
        ("mean_distance_less_one", "the sum of the distances over 3"),
        ("first_and_last", "(a + d)/2"),
        ("last_less_first", "(d − a)"),
        ("span_over_root", "(r_max − r_min)/sqrt(4)"),
        ("over_root_of_one_less", "s/sqrt(3)"),
        ("times_root", "s × sqrt(4)"),
        ("all_but_last", "(a + b + c)/3"),
        ("all_but_first", "(b + c + d)/3"),
        ("span_over_number", "(r_max − r_min)/4"),
        ("span_over_one_less", "(r_max − r_min)/3"),
    ],
)
def test_a_measure_prints_what_it_does(measure, printed):
    assert getattr(taken, measure).say("a", "b", "c", "d") == printed


@pytest.mark.parametrize("x", [0.2, 0.5, 0.9])
def test_functions_of_an_angle_by_the_complex_exponential(x):
    turn, right = cmath.exp(1j * x), math.pi / 180
    assert taken.sin_of_radians(x) == pytest.approx(turn.imag)
    assert taken.cos_of_radians(x) == pytest.approx(turn.real)
    assert taken.tan(x / right) == pytest.approx(turn.imag / turn.real)
    assert taken.arcsin(turn.imag) == pytest.approx(x / right)
    assert taken.arccos(turn.real) == pytest.approx(x / right)
    assert taken.arctan_in_radians(turn.imag / turn.real) == pytest.approx(x)
    percent = 100 * turn.imag / turn.real
    assert taken.arctan_of_percent_in_radians(percent) == pytest.approx(x)
    assert taken.arcsin_of_percent(100 * turn.imag) == pytest.approx(x / right)
    assert taken.arccos_of_percent(100 * turn.real) == pytest.approx(x / right)


@pytest.mark.parametrize(
    "function, angle, printed",
    [
        ("tan", "7", "tan(7°)"),
        ("tan", "j", "tan(j)"),
        ("sin_of_radians", "7.5", "sin(7.5 rad)"),
        ("cos_of_radians", "j", "cos(j)"),
        ("arcsin", "a/L", "arcsin(a/L)"),
        ("arccos", "0.5", "arccos(0.5)"),
        ("arctan_in_radians", "q", "arctan in radians (q)"),
        ("arcsin_of_percent", "q", "arcsin(q/100)"),
        ("arccos_of_percent", "q + 1", "arccos((q + 1)/100)"),
    ],
)
def test_a_function_prints_its_angle_in_degrees_where_it_is_a_number(function, angle, printed):
    assert getattr(taken, function).say(angle) == printed
