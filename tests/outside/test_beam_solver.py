"""A second opinion: SymPy's beam solver, which integrates singularity functions, on seeded random
machines.

It works on the same beam in whole kilograms and millimeters, exactly, and shares no line
with our derivation.  Up is positive; the machine's own weight is one of the loads.
"""

import random
from fractions import Fraction
from functools import cache
from unittest.mock import patch

import pytest
from sympy import expand, symbols
from sympy.physics.continuum_mechanics import beam as beam_module
from sympy.physics.continuum_mechanics.beam import Beam

from leverarm import Attachment, Tractor, predict, statics

# Solving takes most of a tenth of a second however small the beam, so machines of one wheelbase
# share
# a beam: each has a letter that all of its loads are multiplied by, and the solver carries it
# through.
WHEELBASES, SHARING = 13, 5
F, R, *LETTERS = symbols(f"F R e:{SHARING}")


@cache
def machines(seed):
    """A wheelbase in mm and several machines on it.

    A machine is its loads as (kg, mm ahead): first itself,
    between its axles, then what hangs on it ahead, between and behind; some of it lifts an axle."""
    draw = random.Random(seed)
    wheelbase = draw.randint(500, 5000)
    return wheelbase, [
        [
            (draw.randint(200, 4000), -draw.randint(1, wheelbase - 1)),
            *(
                (draw.randint(1, 900), draw.randint(-5000, 4000))
                for _ in range(draw.choice((1, 1, 1, 1, 2, 2, 3, 5)))
            ),
        ]
        for _ in range(SHARING)
    ]


@cache
def solved_as_a_beam(seed):
    """Reactions (front, rear) of each of the machines, as the solver finds them."""
    wheelbase, several = machines(seed)
    stations = [station for loads in several for _, station in loads]
    back = -min(-wheelbase, *stations)
    # Bending stiffness does not matter.  The beam ends past its last load, where its curves are
    # smooth:
    # their limit, which takes the solver nearly half its time, is their value.
    beam = Beam(back + max(0, *stations) + 1, 1, 1)
    beam.apply_load(F, back, -1)
    beam.apply_load(R, back - wheelbase, -1)
    for letter, loads in zip(LETTERS, several):
        for weight, station in loads:
            beam.apply_load(-weight * letter, back + station, -1)
    with patch.object(beam_module, "limit", lambda curve, x, end: curve.subs(x, end)):
        beam.solve_for_reaction_loads(F, R)
    front, rear = (expand(beam.reaction_loads[support]) for support in (F, R))
    return [
        tuple(Fraction(int(x.p), int(x.q)) for x in (front.coeff(e), rear.coeff(e)))
        for e in LETTERS
    ]


@pytest.mark.parametrize("seed", range(WHEELBASES))
def test_the_beam_solver_finds_the_same_reactions(seed):
    wheelbase, several = machines(seed)
    for loads, beam in zip(several, solved_as_a_beam(seed), strict=True):
        assert statics.reactions(*zip(*loads), Fraction(wheelbase)) == beam


@pytest.mark.parametrize("seed", range(WHEELBASES))
def test_the_prediction_says_what_the_beam_solver_says(seed):
    """Where a support of the beam pulls down, the prediction says this axle carries nothing."""
    wheelbase, several = machines(seed)
    for ((weight, station), *hung), (front, rear) in zip(
        several, solved_as_a_beam(seed), strict=True
    ):
        bare = statics.reactions([weight], [station], wheelbase)
        told = predict(
            Tractor("random", f"{wheelbase} mm", *bare),
            *(Attachment(f"load {i}", w, f"{a} mm") for i, (w, a) in enumerate(hung)),
        )
        expected = (
            (0, front + rear) if front < 0 else (front + rear, 0) if rear < 0 else (front, rear)
        )
        assert (told.front_kg, told.rear_kg) == pytest.approx(tuple(map(float, expected)))
        assert (told.lift and told.lift.axle) == (
            "front" if front < 0 else "rear" if rear < 0 else None
        )


def test_there_are_enough_machines_of_every_kind():
    """One load hung and several, both axles pressing, the front lifted, the rear lifted."""
    several = [loads for seed in range(WHEELBASES) for loads in machines(seed)[1]]
    reactions = [pair for seed in range(WHEELBASES) for pair in solved_as_a_beam(seed)]
    assert len(reactions) == len(several) >= 60
    assert all([len(loads) for loads in several].count(n) >= 3 for n in (2, 3, 4, 6))
    lifted = [sum(pair[side] < 0 for pair in reactions) for side in (0, 1)]
    assert all(3 <= n <= len(several) / 3 for n in lifted), lifted


def test_in_letters():
    """One load in letters: the beam solver's answer is the formula."""
    W, a, L = symbols("W a L", positive=True)
    beam = Beam(L + a, *symbols("E I"))
    beam.apply_load(R, 0, -1)
    beam.apply_load(F, L, -1)
    beam.apply_load(-W, L + a, -1)
    beam.solve_for_reaction_loads(F, R)
    assert (beam.reaction_loads[F] - statics.front_gain(W, a, L)).simplify() == 0
    assert (beam.reaction_loads[R] - statics.rear_change(W, a, L)).simplify() == 0
