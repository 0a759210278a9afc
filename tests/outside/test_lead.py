"""Front-axle lead, roll-out and turning against published formulas, ranges and trials."""

import math

import pytest

from leverarm import driveline
from leverarm.driveline import formulas


# Worked ratio on a tire dealer's technical page: rear wheels turned ten times, front wheels 13.5
# times.
def test_published_ratio():
    assert formulas.turns_ratio(13.5, 10) == 1.35


# Roll-out: front turns drive in against drive out for the same rear turns (GRDC Spray Application
# Manual, 15.5).
@pytest.mark.parametrize(
    "engaged, free, lead", [(13.5, 13.11, 2.97), (13.5, 13.5, 0.0), (13.5, 13.77, -1.96)]
)
def test_roll_out(engaged, free, lead):
    assert formulas.roll_out_lead(engaged, free) == pytest.approx(lead, abs=0.005)


# The lead as tire makers print it, A = (Rc front x RM - Rc rear)/Rc rear x 100, and as another
# prints it,
# (Rc front x ratio / Rc rear - 1) x 100: one and the same number.
@pytest.mark.parametrize(
    "front, rear, ratio", [(4.13, 5.45, 1.36), (3.29, 4.60, 1.43), (2.04, 2.75, 1.39)]
)
def test_two_printed_forms(front, rear, ratio):
    first = (front * ratio - rear) / rear * 100
    second = (front * ratio / rear - 1) * 100
    assert formulas.lead(front, rear, ratio) == pytest.approx(first) == pytest.approx(second)


# Ranges printed by tire makers (common practice): +1 to +5 % wanted, 0 to +6 % accepted.
def test_published_ranges():
    assert (driveline.WANTED.low, driveline.WANTED.high) == (1, 5)
    assert (driveline.ACCEPTED.low, driveline.ACCEPTED.high) == (0, 6)


# A tractor maker's operator's manual: made for 1.5 to 4 %, never less than 1 and never more than 7
# %.  Transport 34(6),
# 2019, 628-638: mechanical front drives leave the works with 1.5 to 2.5 %.  Both lie in the
# accepted range at least.
@pytest.mark.parametrize("low, high", [(1.5, 4), (1.5, 2.5)])
def test_other_printed_ranges_lie_inside(low, high):
    assert driveline.WANTED.holds(low) and driveline.WANTED.holds(high)
    assert "want" in driveline.lead_verdict(low) and "want" in driveline.lead_verdict(high)


# Transport 34(6), 2019: tire pressures alone moved the lead of the tested tractor to 6.9 %: outside
# what is accepted.
def test_tire_pressure_alone_can_leave_the_range():
    assert not driveline.ACCEPTED.holds(6.9)
    assert "outside" in driveline.lead_verdict(6.9)


# Janulevicius, Pupinis & Kurkauskas 2014, J. Terramechanics 53: a front loader squashes the front
# tires, which makes
# the front rolling radius smaller and the lead less; higher front pressure (less squash) gives it
# back.
def test_front_loader_lowers_the_lead():
    off = driveline.demo_drive()
    soft, hard = off.squashed("15 mm"), off.squashed("7 mm")
    assert soft.lead < hard.lead < off.lead


# GRDC: 75 to 100 m of level ground.  Over 100 m the demo machine's front wheels turn about 49
# times: read to a whole
# turn on both wheels that leaves the lead uncertain by 1.4 points, read to a twentieth by 0.07.
def test_the_recommended_distance_is_long_enough_when_parts_of_a_turn_are_read():
    front = 100 / driveline.demo_drive().front_m
    engaged = front * (1 + driveline.demo_drive().lead / 100)
    whole, fine = (driveline.RollOut(engaged, front, 36, step).lead for step in (1, 0.05))
    assert whole.u == pytest.approx(1.44, abs=0.02) and fine.u == pytest.approx(0.072, abs=0.002)
    assert "coarse" not in driveline.lead_verdict(fine)


# Steering geometry, printed examples: wheelbase 2.5 m steered 30 degrees turns at 4.33 m; 3 m
# steered 45 degrees at 3 m.
@pytest.mark.parametrize("wheelbase, degrees, radius", [(2.5, 30, 4.33), (3.0, 45, 3.0)])
def test_turning_radius_examples(wheelbase, degrees, radius):
    ratio = formulas.front_path_ratio(wheelbase / math.tan(math.radians(degrees)), wheelbase)
    assert ratio == pytest.approx(1 / math.cos(math.radians(degrees)))
    assert formulas.front_path_ratio(radius, wheelbase) == pytest.approx(ratio, rel=1e-3)


# Jazar, Vehicle Dynamics, ch. 1: rolling radius = 2/3 free + 1/3 loaded radius.
@pytest.mark.parametrize("free, loaded", [(0.35, 0.32), (0.50, 0.47)])
def test_rolling_radius(free, loaded):
    rolling = 2 / 3 * free + loaded / 3
    assert formulas.squashed(
        2 * math.pi * free, free - loaded, driveline.ROLLING_SHARE
    ) == pytest.approx(2 * math.pi * rolling)


# Persson et al. 2025, J. Chem. Phys. 162, 074704: wear per sliding distance proportional to the
# normal force and
# independent of the speed, at 0.12, 0.29 and 0.43 MPa on concrete.
@pytest.mark.parametrize("pressure", [0.29, 0.43])
def test_rubber_wear_as_the_load(pressure):
    assert formulas.wear_index(pressure, 1, 0.12, 1) == pytest.approx(100 * pressure / 0.12)


# International acre and hectare: 1 hectare = 2.471 acres (NIST SP 811).
def test_acre():
    assert pytest.approx(2.471, abs=5e-4) == driveline.M2_PER_HECTARE / driveline.M2_PER_ACRE
