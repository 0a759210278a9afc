"""How far a typed number speaks for a cause: every likelihood is a density, so over all numbers
that may be typed it adds up to the part it stands for.

The parts are judgments of practice without a source; they are typed here, so that nobody moves one
without saying so: of those who work right 80 percent round, 5 cut off, 15 round on the way.
"""

import math
import random

import pytest

from leverarm.exercises.dimensions import sums_tell
from leverarm.exercises.evidence import (
    Typed,
    background,
    claimed,
    mis_keyed,
    pen_slips,
    typed_number,
)
from leverarm.exercises.expressions.grammar import read_formula
from leverarm.exercises.expressions.tree import compiled, value_at


def typed_so(number, half, digits):
    """A number all of whose digits are sure, and no fewer than asked for."""
    return Typed(number, half, half, digits)


def grid(digits, unit, first, last):
    """Every number of one unit in its last place, as it would be typed."""
    return [typed_so(at * unit, unit / 2, digits) for at in range(first, last + 1)]


def summed(numbers, likelihood):
    """The sum over all of them, each counting for its unit."""
    return sum(2 * one.half * likelihood(one) for one in numbers)


@pytest.mark.parametrize("value", [123.43, 123.5001, 987.624, -250.3])
def test_a_working_is_typed_somehow(value):
    """Rounded, cut off (or rounded the wrong way), or rounded on the way within 0.3 percent."""
    at = round(value / 0.01)
    whole = summed(grid(5, 0.01, at - 900, at + 900), lambda one: one.likelihood(value))
    # A value lies on one side of a number: one neighbor is the rounded one, one the cut one.
    assert whole == pytest.approx(0.80 + 0.05 + 0.15, abs=0.003)


@pytest.mark.parametrize(
    "number, digits, half",
    [(282.0, 3, 0.5), (282.0, 4, 0.05), (0.0314, 3, 5e-5), (1500.0, 2, 50.0), (-9.6, 2, 0.05)],
)
def test_half_of_the_last_place_typed(number, digits, half):
    assert typed_number(number, digits).coarse == pytest.approx(half)
    finer = min(half, half * 10.0 ** (digits - 3))  # as fine as three digits, where fewer are typed
    assert typed_number(number, digits).half == pytest.approx(finer)
    assert typed_number(0.0, 2).coarse == 0.05


def test_only_what_is_near_has_a_likelihood_and_all_of_it_is_found():
    rng = random.Random(11)
    for _ in range(200):
        digits = rng.choice([2, 3, 5])
        number = float(f"{rng.uniform(-900, 900):.{digits - 1}e}")
        typed = typed_number(number, digits, signless=rng.random() < 0.5)
        values = [number * rng.uniform(0.99, 1.01) * rng.choice([1, 1, -1]) for _ in range(40)]
        likely = [at for at, value in enumerate(values) if typed.likelihood(value)]
        assert set(likely) <= set(typed.near(values))
        for at in typed.near(values):
            off = abs(abs(values[at]) - abs(number))
            assert off <= max(2 * typed.coarse, 0.0031 * abs(number)) * (1 + 1e-6)


@pytest.mark.parametrize("digits, whole", [(3, 2.0), (4, 1.1)])
@pytest.mark.parametrize("right", [40.0, -40.0])
def test_a_number_out_of_the_blue_has_any_size_within_ten_times(digits, whole, right):
    """As likely between 4 and 40 as between 40 and 400; close to the right one 15 percent more."""
    near, far = [], []
    for at in range(40, 4001):
        size = at / 10
        near.append(background(typed_so(math.copysign(size, right), 0.05, digits), right) / 10)
        far.append(background(typed_so(-math.copysign(size, right), 0.05, digits), right) / 10)
    assert sum(far) == pytest.approx(whole, rel=5e-3)
    assert sum(near) == pytest.approx(whole + 0.15, rel=0.01)
    close = [one - other for one, other in zip(near, far)]
    close = {40 + at for at, one in enumerate(close) if one > 1e-9}
    assert set(range(389, 412)) <= close <= set(range(388, 413))
    within, beyond = (background(typed_so(size, 0.05, digits), right) for size in (399.9, 400.1))
    assert beyond == pytest.approx(0.3 * within, rel=1e-3)
    within, beyond = (background(typed_so(size, 0.05, digits), right) for size in (4.01, 3.99))
    assert beyond == pytest.approx(0.3 * within, rel=2e-2)
    for edge in (4.0, 400.0):
        assert background(typed_so(edge, 0.05, digits), right) == pytest.approx(
            whole / edge / math.log(100)
        )
    assert background(typed_so(0.0, 0.05, digits), right) == 0


def test_slips_of_the_pen_share_their_parts():
    """A wrong digit 10 percent, two swapped 6, an input mis-keyed 15, a step cut short 6."""
    numbers = grid(3, 1.0, 1, 999)
    sure = summed([typed_so(573.0, 0.5, 3)], lambda one: one.likelihood(573.0))
    whole = summed(grid(3, 1.0, 500, 650), lambda one: one.likelihood(573.0)) / sure
    for keyed, steps, part in (
        ((), (), 0.16),
        ((812.0, 820.0), (), 0.31),
        ((), (570.0,), 0.22),
        ((812.0, 820.0), (570.0,), 0.37),
    ):
        found = summed(numbers, lambda one, k=keyed, s=steps: pen_slips(one, 573.0, k, s))
        assert found == pytest.approx(part * sure * whole, rel=0.05)
    # 27 numbers have one digit wrong, two have two swapped: 753 and 537.
    assert pen_slips(typed_so(753.0, 0.5, 3), 573.0, (), ()) == pytest.approx(
        0.06 / 2 * sure, rel=0.1
    )
    assert pen_slips(typed_so(173.0, 0.5, 3), 573.0, (), ()) == pytest.approx(
        0.10 / 27 * 0.95, rel=0.2
    )
    assert pen_slips(typed_so(5.0, 0.5, 1), 0.0, (), ()) == 0


@pytest.mark.parametrize("number", [4821.0, 0.35, 1100.0, -62.5, 7.0])
def test_what_is_mis_keyed_is_one_digit_off_or_two_swapped(number):
    """Compared digit by digit with every number of so many digits."""
    digits = f"{abs(number):.10f}".replace(".", "").strip("0")
    unit = number / int(digits)
    wrong = []
    for other in range(10 ** len(digits)):
        text = str(other).zfill(len(digits))
        places = [at for at in range(len(text)) if text[at] != digits[at]]
        swapped = len(places) == 2 and places[1] == places[0] + 1
        swapped = swapped and sorted(text) == sorted(digits)
        if len(places) == 1 or swapped:
            wrong.append(other * unit)
    found = mis_keyed({"x": number, "y": 0.0}, lambda at: at["x"] + 0 * at["y"])
    assert sorted(found) == pytest.approx(sorted(wrong))


@pytest.mark.parametrize(
    "weights, against, named",
    [
        ([0.51, 0.1], 0.61, (0, 1)),
        ([0.51, 0.05], 0.50, (0,)),
        ([0.5, 0.07], 0.50, (0, 1)),
        ([0.5, 0.059], 0.50, (0,)),
        ([0.4, 0.5, 0.1], 0.80, (1, 0)),
        ([0.4, 0.5, 0.1], 0.81, ()),
        ([0.0, 0.0], 0.0, ()),
        ([], 1.0, ()),
    ],
)
def test_two_causes_that_hold_half_are_claimed_and_the_lesser_from_an_eighth_of_the_first(
    weights, against, named
):
    assert claimed(weights, against) == named


# --- what an expression is made of ----------------------------------------------------------------

KINDS = {"W": "weight", "a": "length", "L": "length", "p": "pressure", "A": "area", "k": "number"}
# Kilograms of load and meters, as in tables of derived units: a pressure is a load over an area.
EXPONENTS = {"weight": (1, 0), "length": (0, 1), "area": (0, 2), "pressure": (1, -2)}
EXPONENTS["number"] = (0, 0)
SIZES = {"W": 3.7, "a": 1.9, "L": 2.3, "p": 5.1, "A": 0.7, "k": 1.3}


def stretched(tree, weight, length):
    """What an expression comes to where all weights and all lengths are so many times as large."""
    factors = {
        name: weight ** EXPONENTS[kind][0] * length ** EXPONENTS[kind][1]
        for name, kind in KINDS.items()
    }
    return value_at(compiled(tree), {name: SIZES[name] * factors[name] for name in SIZES})


@pytest.mark.parametrize(
    "typed",
    [
        "W*a/L", "W*(1 + a/L)", "W + a", "W*a + p*A*L", "p*A + W", "p + W/A", "p + W/(a*L)",
        "p - W/a", "W*a/L + L", "sqrt(a^2 + L^2)", "sqrt(a^2 + L)", "W*sqrt(A)/L + W",
        "a^2 + A", "a^2 + L", "(W*a)^2/(p*A) + W*a*L", "1/a + L/A", "1/a + L", "k + a/L", "k + a",
        "W*(a - L)/(a + L) - p*A", "2*W + 3*p*A/k", "W*a*L/(A*L) + W/L", "A^0.5 + L - a",
    ],
)  # fmt: skip
def test_unlike_quantities_are_added_where_stretching_tells(typed):
    """Weights doubled and lengths tripled: a sum of like quantities grows by one power of each."""
    tree = read_formula(typed, tuple(KINDS))[0]
    at = stretched(tree, 1, 1)
    for weight, length in ((2.0, 1.0), (1.0, 3.0)):
        once, twice = stretched(tree, weight, length), stretched(tree, weight**2, length**2)
        if once / at != pytest.approx(twice / once):
            assert sums_tell(KINDS)(tree)
            break
    else:
        assert not sums_tell(KINDS)(tree)
