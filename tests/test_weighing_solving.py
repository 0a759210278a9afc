"""Set-ups solved for what hangs on the tractor: against weighted least squares by numpy, in any
units, and what repeats alone tell.
"""

import itertools
import math
import random

import numpy
import pytest

from leverarm.weighing import least_squares
from leverarm.weighing.fit import Dependent, gains

ROWS = [[1, 0, 0], [1, 1, 0], [1, 0, 1], [1, 1, 1], [1, 1, 0]]
TWICE = [[1, 1, 0], [1, 1, 1], [1, 1, 0]]  # the second is on throughout: nothing tells it apart


@pytest.mark.parametrize("scale", [1e-12, 1e-6, 1.0, 1e6, 1e12])
def test_only_the_ratios_of_uncertainties_matter(scale):
    """In kilograms, grams or tonnes: the same gains, and the same unknowns are superfluous."""
    us = [1.0, 2.0, 0.5, 1.5, 3.0]
    found, leverages = gains(ROWS, [scale * u for u in us])
    weights = numpy.diag([1 / u for u in us])
    design = weights @ numpy.array(ROWS, float)
    assert numpy.array(found) == pytest.approx(numpy.linalg.pinv(design) @ weights)
    assert leverages == pytest.approx(numpy.diag(design @ numpy.linalg.pinv(design)))
    with pytest.raises(Dependent) as why:
        gains(TWICE, [scale * u for u in us[:3]])
    assert why.value.column == 1


@pytest.mark.parametrize("seed", range(6))
def test_what_is_superfluous_is_what_adds_no_rank(seed):
    """Set-ups by dice, of pieces on and off: the first column that leaves the rank as it was."""
    rng = random.Random(seed)
    rows = [[1, *(rng.randint(0, 1) for _ in range(4))] for _ in range(6)]
    us = [rng.choice([0.001, 1.0, 400.0]) for _ in rows]
    ranks = [numpy.linalg.matrix_rank(numpy.array(rows)[:, :n]) for n in range(1, 6)]
    first = next((n for n, rank in enumerate(ranks) if rank <= n), None)
    if first is None:
        assert len(gains(rows, us)[0]) == 5
        return
    with pytest.raises(Dependent) as why:
        gains(rows, us)
    assert why.value.column == first


@pytest.mark.parametrize(
    "front, rear", [([600, 606, 603], [800, 800, 803]), ([600, 600], [790, 811]), ([600, 601], [5])]
)
def test_repeats_alone_are_tested_by_their_squares_over_the_known_scatter(front, rear):
    """The chi-squared of handbooks: squares about each mean over u squared, n - 1 degrees of
    freedom for each mean; for two of them its chance is exp(-x/2).
    """
    fit = least_squares([((), front, rear)], 1.65, u_reading=3).consistency
    squares = sum((x - numpy.mean(one)) ** 2 for one in (front, rear) for x in one)
    assert fit.kind == "repeated" and fit.dof == len(front) + len(rear) - 2
    assert fit.chi_squared == pytest.approx(squares / 9)
    if fit.dof == 2:
        assert fit.chance == pytest.approx(math.exp(-fit.chi_squared / 2))
    for fewer, more in itertools.pairwise([9.0, 3.0, 1.0]):
        sure, doubt = (
            least_squares([((), front, rear)], 1.65, u_reading=u).consistency.chance
            for u in (fewer, more)
        )
        assert doubt < sure
