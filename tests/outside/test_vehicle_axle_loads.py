"""Axle loads and centers of gravity of vehicles: published problems, each put to our own functions.

Mapping: stations are measured ahead of the front axle, so a center of gravity between the axles is
negative.
"""

import pytest

from leverarm import Tractor, statics


def test_center_of_gravity_of_a_car():
    """OpenStax University Physics 1, 12.1, Center of Gravity of a Car: wheelbase 2.5 m, 52 % on the
    front:
    1.3 m ahead of the rear axle."""
    assert 2.5 + statics.center_of_gravity(52, 48, 2.5) == pytest.approx(1.3)
    car = Tractor("car", wheelbase="2.5 m", front=520, rear=480)
    assert car.wheelbase_m + car.ahead_m == pytest.approx(1.3)


def test_force_on_each_wheel():
    """NCERT Physics XI, chapter on rotation: 1800 kg, wheelbase 1.8 m, center of gravity 1.05 m
    behind the front
    axle, g = 9.8: 3675 N on each front wheel, 5145 N on each rear wheel."""
    front, rear = statics.reactions([1800 * 9.8], [-1.05], 1.8)
    assert (front / 2, rear / 2) == pytest.approx((3675, 5145))


def test_truck_on_a_bridge():
    """Cutnell & Johnson, Physics 10e, ch. 9, problem 14: 7460 kg, center of gravity 0.63 m ahead of
    the rear and
    2.30 m behind the front axle, g = 9.80: 1.57e4 N in front, 5.74e4 N at the rear."""
    front, rear = statics.reactions([7460 * 9.80], [-2.30], 0.63 + 2.30)
    assert front == pytest.approx(1.57e4, abs=50)
    assert rear == pytest.approx(5.74e4, abs=50)


def test_center_of_gravity_from_wheel_forces():
    """Jazar, Vehicle Dynamics, example on the position of the center of gravity: 2000 N and 1800 N
    per wheel,
    wheelbase 2.34 m: 1.1084 m behind the front axle, 1.2316 m ahead of the rear."""
    behind_front = -statics.center_of_gravity(2 * 2000, 2 * 1800, 2.34)
    assert behind_front == pytest.approx(1.1084, abs=5e-5)
    assert 2.34 - behind_front == pytest.approx(1.2316, abs=5e-5)


def test_a_tractor_with_thirty_percent_on_the_front_axle():
    """NASD, tractor stability sheet d000746: 30 % front and 70 % rear with the center of gravity 24
    in ahead
    of the rear axle, which is so on a wheelbase of 80 in."""
    assert 80 + statics.center_of_gravity(30, 70, 80) == pytest.approx(24)
    assert statics.reactions([100], [24 - 80], 80) == pytest.approx((30, 70))
