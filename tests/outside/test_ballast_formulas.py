"""The trade's ballast formulas are our own equilibrium, letter for letter.

Implement and loader manuals print them without a derivation.  Their letters stand
only here: T_L unladen tractor, T_V and T_H its front and rear axle loads, G_V and
G_H front and rear implement, a front implement to front axle, b wheelbase, c rear
axle to lower-link ball, d ball to rear implement.
"""

import random

import pytest
import sympy
from sympy import Rational, symbols
from worked import worked_loader, worked_tractor

from leverarm import Attachment, Tractor, predict, statics
from leverarm.ballast import (
    REAR_SHARE,
    STEERING_SHARE,
    counterweight,
    rear_need,
    steering_need,
)

T_V, T_H, G_V, G_H, a, b, c, d = symbols("T_V T_H G_V G_H a b c d", positive=True)
T_L = T_V + T_H
FIFTH, LEGAL_REAR = Rational(1, 5), Rational(45, 100)


def loads(front_implement, rear_implement):
    """Axle loads of the tractor with both implements, by the project's own equilibrium."""
    front, rear = statics.reactions([front_implement, rear_implement], [a, -(b + c + d)], b)
    return T_V + front, T_H + rear


def test_minimum_front_ballast():
    """G_V,min = [G_H (c + d) - T_V b + 0.2 T_L b] / (a + b), as printed in implement manuals."""
    printed = (G_H * (c + d) - T_V * b + FIFTH * T_L * b) / (a + b)
    ours = statics.weight_for_share(loads(0, G_H)[0], T_L, statics.amplification(a, b), 0, FIFTH)
    assert sympy.simplify(printed - ours) == 0
    assert sympy.simplify(loads(printed, G_H)[0] - FIFTH * T_L) == 0


def test_minimum_rear_ballast():
    """G_H,min = [G_V a - T_H b + 0.45 T_L b] / (b + c + d), as printed in implement manuals."""
    printed = (G_V * a - T_H * b + LEGAL_REAR * T_L * b) / (b + c + d)
    ours = statics.weight_for_share(
        loads(G_V, 0)[1], T_L, statics.rear_change(1, -(b + c + d), b), 0, LEGAL_REAR
    )
    assert sympy.simplify(printed - ours) == 0
    assert sympy.simplify(loads(G_V, printed)[1] - LEGAL_REAR * T_L) == 0


def test_actual_front_axle_load_and_the_sign_that_one_print_has_wrong():
    """T_V,act = [G_V (a + b) + T_V b - G_H (c + d)] / b; one print has -T_V b, which no equilibrium
    gives.
    """
    front, rear = loads(G_V, G_H)
    assert sympy.simplify(front - (G_V * (a + b) + T_V * b - G_H * (c + d)) / b) == 0
    assert sympy.simplify(front - (G_V * (a + b) - T_V * b - G_H * (c + d)) / b) == 2 * T_V
    assert sympy.simplify(front + rear - (G_V + T_L + G_H)) == 0


def test_the_same_load_with_the_center_of_gravity_told():
    """Some manuals go through e, front axle to the center of gravity: T_H = M e / b; the answer is
    the same.
    """
    M, e = symbols("M e", positive=True)
    front = statics.reactions([M, G_V, G_H], [-e, a, -(b + c + d)], b)[0]
    from_moments = (G_V * (a + b) + M * (b - e) - G_H * (c + d)) / b
    assert sympy.simplify(front - from_moments) == 0


def test_loader_counterweight():
    """M > [5 N b + I2 (P + N - 5 G)] / [5 (I1 + I2) - I2] of loader manuals: N payload at b ahead
    of the front
    axle, I1 linkage to rear axle, I2 wheelbase, G rear axle load with the loader empty, P both
    axles."""
    N, ahead, I1, I2, G, G1 = symbols("N b I1 I2 G G1", positive=True)
    P = G + G1
    printed = (5 * N * ahead + I2 * (P + N - 5 * G)) / (5 * (I1 + I2) - I2)
    rear = G + statics.rear_change(N, ahead, I2)
    ours = statics.weight_for_share(rear, P + N, statics.rear_change(1, -(I1 + I2), I2), 1, FIFTH)
    assert sympy.simplify(printed - ours) == 0
    after = rear + statics.rear_change(printed, -(I1 + I2), I2)
    assert sympy.simplify(after - FIFTH * (P + N + printed)) == 0


def test_its_transfer_term_is_the_rear_loss():
    """The term 5 N b / (5 I2) of that formula is N b / I2: what the load takes off the rear."""
    N, ahead, I2 = symbols("N b I2", positive=True)
    assert sympy.simplify(-statics.rear_change(N, ahead, I2) - N * ahead / I2) == 0


@pytest.mark.parametrize("seed", range(20))
def test_the_functions_people_call_give_the_printed_numbers(seed):
    rng = random.Random(seed)
    tractor = Tractor("any", rng.uniform(1.5, 2.6), rng.uniform(400, 900), rng.uniform(600, 1400))
    tl, tv, th, base = tractor.total_kg, tractor.front_kg, tractor.rear_kg, tractor.wheelbase_m
    behind, ahead, rear_kg = rng.uniform(0.8, 1.6), rng.uniform(0.5, 1.2), 0.9 * tv * base / 1.6
    printed = (rear_kg * behind - tv * base + 0.2 * tl * base) / (ahead + base)
    need = steering_need(
        tractor, counterweight(tractor, rear_kg, behind, name="implement"), ahead=ahead
    )
    assert need.weight_kg == pytest.approx(max(printed, 0), abs=1e-9)
    front_kg = rng.uniform(0.3, 0.9) * th * base / ahead
    printed = (front_kg * ahead - th * base + 0.45 * tl * base) / (base + behind)
    need = rear_need(
        tractor,
        Attachment("front implement", front_kg, ahead),
        behind=behind,
        share=45,
        base="unladen",
    )
    assert need.weight_kg == pytest.approx(max(printed, 0), abs=1e-9)


def test_loader_counterweight_in_numbers():
    tractor, (frame, bucket) = worked_tractor(), worked_loader()
    empty = predict(tractor, frame, bucket)
    N, ahead, I1, I2, G, P = 500, 1.25, 0.90, 1.65, empty.rear_kg, empty.total_kg
    printed = (5 * N * ahead + I2 * (P + N - 5 * G)) / (5 * (I1 + I2) - I2)
    need = rear_need(tractor, frame, bucket, Attachment("load", N, ahead), behind=I1)
    assert need.weight_kg == pytest.approx(printed)


def test_front_axle_share_of_the_french_rule():
    """Arrete du 27 mars 1979 (France), art. 5: with its load a farm tractor's front wheels carry at
    least 20 % of
    the unladen weight.  That unladen base is the one steering_need takes unless told otherwise."""
    mower = Attachment("mower", 600, -2.75)
    need = steering_need(worked_tractor(), mower, ahead="0.60 m")
    after = predict(worked_tractor(), mower, Attachment("front weights", need.weight_kg, 0.60))
    assert after.front_kg == pytest.approx(0.20 * 1400) and need.base == "the bare tractor"


def test_shares_of_common_practice():
    """Common practice, no source: 20 % to steer by, 20 % of the total behind a loaded loader."""
    assert (STEERING_SHARE, REAR_SHARE) == (20, 20)


def test_aircraft_ballast_at_a_forward_station():
    """Ballast weight = total x distance to move / distance from the ballast to the wanted center of
    gravity (FAA-H-8083-1,
    weight and balance handbook, ballast formula, from memory).  Here: move a machine's center of
    gravity ahead by 0.1 m."""
    total, ahead, wheelbase = 1400, 0.6, 1.65
    now = statics.center_of_gravity(600, 800, wheelbase)
    wanted = now + 0.1
    faa = total * 0.1 / (ahead - wanted)
    share = statics.reactions([1], [wanted], wheelbase)[0]
    ours = statics.weight_for_share(600, total, statics.amplification(ahead, wheelbase), 1, share)
    assert ours == pytest.approx(faa)
