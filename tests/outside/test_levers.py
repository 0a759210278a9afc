"""A load hung beyond a support: published problems, each put to our own functions.

Mapping: the rear axle is the far support, the front axle the near one, the load hangs
at the overhang a ahead of it.  The front gains W (1 + a/L), the rear changes by -W a/L.
A reaction below zero is a support that pulls down.
"""

import pytest
from sympy import symbols

from leverarm import Attachment, Tractor, predict, statics

KG_PER_LB = 0.45359237  # the international pound, exact


def lb(kg):
    return kg / KG_PER_LB


def test_tractor_lifting_gravel():
    """Beer & Johnston, Vector Mechanics for Engineers: Statics, ch. 4, the 2100-lb tractor lifting
    900 lb of gravel.

    Wheelbase 60 in, center of gravity 20 in ahead of the rear axle, gravel 50 in ahead of the front
    axle.
    """
    front, rear = statics.reactions([2100, 900], [20 - 60, 50], 60)
    assert (front / 2, rear / 2) == pytest.approx((1175, 325))


def test_tractor_lifting_gravel_as_a_user_would_tell_it():
    """The same problem through text with units, center of gravity to readings and all."""
    front, rear = statics.reactions([2100], [20 - 60], 60)
    tractor = Tractor("tractor", wheelbase="60 in", front=f"{front} lb", rear=f"{rear} lb")
    loads = predict(tractor, Attachment("gravel", "900 lb", ahead="50 in"))
    assert (lb(loads.front_kg) / 2, lb(loads.rear_kg) / 2) == pytest.approx((1175, 325))
    assert loads.lift is None


FOREARMS = [
    # the joint is the rear support at 0, the muscle the front support; load and muscle measured
    # from the joint
    pytest.param(
        [50.0],
        [13.0],
        1.5,
        1,
        (433.3, -383.3),
        0.05,
        id="OpenStax University Physics 1, 12.2, Forces in the Forearm, lb and in",
    ),
    pytest.param(
        [3.0, 5.0],
        [15.0, 35.0],
        4.0,
        9.8,
        (539, -461),
        0.5,
        id="OpenStax University Physics 1, 12.2, biceps problem, g = 9.8",
    ),
    pytest.param(
        [2.50, 4.00],
        [16.0, 38.0],
        4.00,
        9.80,
        (470, -407),
        0.5,
        id="OpenStax College Physics 2e, 9.6 example, g = 9.80",
    ),
]


@pytest.mark.parametrize("weights, from_joint, muscle, g, published, half_digit", FOREARMS)
def test_forearm(weights, from_joint, muscle, g, published, half_digit):
    """Sign: the muscle pulls up (front), the upper arm holds the joint down (rear, below zero)."""
    found = statics.reactions(
        [weight * g for weight in weights], [at - muscle for at in from_joint], muscle
    )
    assert found == pytest.approx(published, abs=half_digit)


def test_head_on_neck():
    """OpenStax College Physics 2e, 9.6: 50 N head 2.5 cm ahead of the joint, muscle 5.0 cm behind
    it.

    The joint is the front support, the muscle the rear one.
    """
    assert statics.front_gain(50, 2.5, 5.0) == pytest.approx(75)
    assert statics.rear_change(50, 2.5, 5.0) == pytest.approx(-25)


def test_beam_with_a_couple():
    """SymPy tutorial, Solving Beam Bending Problems, example 2: supports at 10 and 30 m, 8 N at 0,
    120 N m
    counter-clockwise at 30 m; reactions -18 and +10, down positive.

    The support at 10 m is the front one.  A couple is a pull with its arm, P h; counter-clockwise
                                           here
    pushes the front support: P h = -120.
    """
    moved = statics.pull_transfer(-120, 1, 20)
    near, far = statics.reactions([8], [10], 20)
    assert (-(near - moved), -(far + moved)) == pytest.approx((-18, 10))


def test_beam_under_a_spread_load():
    """SymPy tutorial, example 4: 8 m beam on supports at 1 and 7 m; 10 kN/m over 0 to 2 m, 20 kN at
    5 m,
    8 kN at 7.5 m; 26 kN at 1 m and 22 kN at 7 m, up.

    The support at 7 m is the front one.  The spread load acts at its middle, or as many small
                                          loads.
    """

    def ahead(x):
        return x - 7

    front, rear = statics.reactions([20, 20, 8], [ahead(1), ahead(5), ahead(7.5)], 6)
    assert (rear, front) == pytest.approx((26, 22))
    slices = 1000
    spread = [(20 / slices, ahead(2 * (i + 0.5) / slices)) for i in range(slices)]
    sliced = statics.reactions(*zip(*spread, (20, ahead(5)), (8, ahead(7.5))), 6)
    assert sliced == pytest.approx((22, 26))


def test_beam_table():
    """Overhanging beam, load P at a beyond span l: -P a/l and P (l + a)/l.

    Beam tables of steel and timber design aids (from memory).
    """
    P, a, span = symbols("P a l", positive=True)
    assert (statics.rear_change(P, a, span) + P * a / span).expand() == 0
    assert (statics.front_gain(P, a, span) - P * (span + a) / span).expand() == 0
