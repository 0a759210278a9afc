"""See-saws and ordinary levers: published problems, each put to our own functions.

Mapping: the pivot is the front axle.  What sits behind it holds the rear axle down; the weight
ahead that balances it is the one that just takes the last load off the rear.
"""

import pytest

from leverarm import statics


def test_two_children():
    """OpenStax College Physics 2e, example 9.1: 26.0 kg at 1.60 m against 32.0 kg: 1.30 m."""
    assert statics.lifting_weight(26.0, 1.30, 1.60) == pytest.approx(32.0)
    # In the balance of moments a weight and its arm may change places: asked for the arm, as the
    # book does.
    assert statics.lifting_weight(26.0, 32.0, 1.60) == pytest.approx(1.30)
    pivot, seat = statics.reactions([26.0, 32.0], [-1.60, 1.30], 1.60)
    assert (pivot, seat) == pytest.approx((58.0, 0), abs=1e-9)


@pytest.mark.parametrize("rear_at", [10, 70, 250])
def test_torque_balance(rear_at):
    """OpenStax University Physics 1, 12.2, The Torque Balance: 50.0 g at 70 cm, 75.0 g at 40 cm,
    stick 150.0 g
    at 20 cm, all left; the third mass at 30 cm right: 316.7 g.  Where we put the rear support does
    not matter."""
    _, rear = statics.reactions([50.0, 75.0, 150.0], [-70, -40, -20], rear_at)
    third = statics.lifting_weight(rear, 30, rear_at)
    assert third == pytest.approx(316.7, abs=0.05)
    assert statics.reactions([50.0, 75.0, 150.0, third], [-70, -40, -20, 30], rear_at)[
        1
    ] == pytest.approx(0, abs=1e-9)


# OpenStax University Physics 1, 12.2, scaffold: 40 kg over 6.0 m, painter 80 kg at 1.0 m from the
# left, equipment at
# 4.5 m from the left; right support 444.3 N, left 888.5 N; the equipment is 16.0 kg; g = 9.8.
# Mapping: right support = front, left support = rear, so a station is x - 6.
PLANK_AND_PAINTER = ([40, 80], [3.0 - 6, 1.0 - 6])
RIGHT_N, LEFT_N, SCAFFOLD_G = 444.3, 888.5, 9.8


def test_scaffold_forces():
    weights, stations = PLANK_AND_PAINTER
    found = statics.reactions([SCAFFOLD_G * w for w in (*weights, 16.0)], [*stations, 4.5 - 6], 6.0)
    assert found == pytest.approx((RIGHT_N, LEFT_N), abs=0.3)


def test_scaffold_equipment_from_the_readings():
    """The other way round, as on a weigh day: what was added, and where, from the two readings."""
    right, left = statics.reactions(*PLANK_AND_PAINTER, 6.0)
    changes = RIGHT_N / SCAFFOLD_G - right, LEFT_N / SCAFFOLD_G - left
    assert statics.hung_weight(*changes) == pytest.approx(16.0, abs=0.05)
    assert statics.overhang_of(*changes, 6.0) == pytest.approx(4.5 - 6, abs=0.02)


def test_board_too_short():
    """OpenStax College Physics 2e, see-saw too short: 30.0 kg at 1.40 m, 18.0 kg, board 3.00 m: the
    place it
    takes is 2.33 m from the pivot, off the board (an impossible answer on purpose)."""
    needed = statics.lifting_weight(30.0, 18.0, 1.40)
    assert needed == pytest.approx(2.33, abs=0.005)
    assert needed > 3.00 / 2
    at_the_end = statics.reactions([30.0, 18.0], [-1.40, 3.00 / 2], 1.40)[1]
    assert at_the_end > 0, "even at the end of the board the other side stays down"
