"""Weighing practice: published aircraft examples (public domain), one textbook car, facts of the
trade.
"""

import pytest

from leverarm import statics
from leverarm.weighing import audit_spoken, center_of_gravity, infer, least_squares
from leverarm.weighing.day import weigh_day
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.readings import weighing

LB, IN = 0.45359237, 0.0254


def inches(meters):
    return meters / IN


def pounds(kg):
    return kg / LB


# --- FAA-H-8083-1, Aircraft Weight and Balance Handbook, ch. 10
# ------------------------------------------


def test_nosewheel_center_of_gravity():
    """340 lb on the nosewheel, 78 in ahead of the main wheels, 2006 lb in all: 13.2 in ahead of the
    main wheels.
    """
    center = center_of_gravity(
        ("340 lb", f"{2006 - 340} lb"), "78 in", u_reading="1 lb", u_wheelbase="0.1 in"
    )
    assert inches((center.ahead + center.wheelbase).value) == pytest.approx(13.2, abs=0.05)
    assert pounds(center.weight.value) == pytest.approx(2006)


# --- FAA-H-8083-25, Pilot's Handbook of Aeronautical Knowledge, ch. 9
# --------------------------------------
# Stations count aft of a datum; here they are hung on two supports, one at the datum, one 200 in
# behind it.

SPAN = 200.0


def as_readings(total, station):
    """What scales at the two supports would read: the same moments as total at its station."""
    return statics.reactions([total], [-station], SPAN)


def test_weight_shifted_from_station_30_to_150():
    """8000 lb and 616 000 lb-in; 100 lb moved from 30 to 150 in: 628 000 lb-in, CG at 78.5 in."""
    before = as_readings(8000, 616_000 / 8000)
    front, rear = (b + c for b, c in zip(before, statics.reactions([-100, 100], [-30, -150], SPAN)))
    center = center_of_gravity((f"{front} lb", f"{rear} lb"), f"{SPAN} in")
    assert -inches(center.ahead.value) == pytest.approx(78.5, abs=0.005)
    assert -pounds(center.weight.value) * inches(center.ahead.value) == pytest.approx(
        628_000, rel=1e-9
    )


def test_cargo_to_move_for_a_limit():
    """7800 lb, CG at 81.5 in, limit 80.5 in, cargo moved from 150 to 30 in: 65 lb."""
    per_pound = statics.center_of_gravity(
        *statics.reactions([7800, -1, 1], [-81.5, -150, -30], SPAN), SPAN
    )
    moved = (81.5 - 80.5) / (81.5 + per_pound)
    assert moved == pytest.approx(65, abs=0.01)


def test_the_taken_off_piece_is_found_at_its_station():
    """The 100 lb of the first example, unloaded at station 30 between two weighings, is found there
    again.
    """
    after = as_readings(8000, 77.0)
    before = tuple(a - b for a, b in zip(after, statics.reactions([100], [-30], SPAN)))

    def lb(pair):
        return tuple(f"{x} lb" for x in pair)

    hung = infer(lb(before), lb(after), f"{SPAN} in")
    assert (pounds(hung.weight_kg), inches(hung.ahead_m)) == pytest.approx((100, -30))


# --- Jazar, Vehicle Dynamics, example on the position of the center of gravity
# ----------------------------


def test_car_from_four_wheel_readings():
    """2000 N under each front wheel and 1800 N under each rear wheel, wheelbase 2.34 m: 1.1084 m
    and 1.2316 m.
    """
    center = center_of_gravity((4000 / 9.80665, 3600 / 9.80665), 2.34)
    assert -center.ahead.value == pytest.approx(1.1084, abs=5e-5)
    assert (center.ahead + center.wheelbase).value == pytest.approx(1.2316, abs=5e-5)


# --- least squares: GUM H.3, calibration of a thermometer, through the gains the fit of states uses
# --------

READ = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511]
CORRECTION = [
    -0.171,
    -0.169,
    -0.166,
    -0.159,
    -0.164,
    -0.165,
    -0.156,
    -0.157,
    -0.159,
    -0.161,
    -0.160,
]


def test_gum_h3_straight_line():
    """GUM H.3.3 (data from memory): y1 = -0.1712, u 0.0029; y2 = 0.00218, u 0.00067; r = -0.930;
    b(30) = -0.1494, u 0.0041.
    """
    from leverarm.uncertainty import Measured, Source
    from leverarm.weighing.fit import gains

    rows = [[1.0, t - 20] for t in READ]
    weights, _ = gains(rows, [1.0] * len(rows))
    y1, y2 = (sum(w * b for w, b in zip(row, CORRECTION)) for row in weights)
    s = (sum((b - y1 - y2 * (t - 20)) ** 2 for t, b in zip(READ, CORRECTION)) / 9) ** 0.5
    pool = object()
    seen = [Measured(b, {Source(str(t), s, 9, pool=pool): 1.0}) for t, b in zip(READ, CORRECTION)]
    line, slope = (sum(w * b for w, b in zip(row, seen)) for row in weights)
    assert (s, line.value, line.u, slope.value, slope.u) == pytest.approx(
        (0.0035, -0.1712, 0.0029, 0.00218, 0.00067), abs=5e-5
    )
    assert line.correlation(slope) == pytest.approx(-0.930, abs=5e-4)
    at_30 = line + slope * 10
    assert (at_30.value, at_30.u, at_30.dof) == pytest.approx((-0.1494, 0.0041, 9), abs=5e-5)


# --- facts of the trade: common practice, no source
# ----------------------------------------------------------

WHEELBASE = "60 in"
FRONT = {"bare": "1000 lb", "loader": "1370 lb", "all": "1670 lb"}


def front_alone(piece, with_it, without):
    """A day on which only the front axle was read, on scales of 10 lb."""
    rows = [weighing(piece, with_it, None, "lb"), weighing("", without, None, "lb")]
    told = machine("Worked tractor", WHEELBASE, wheelbase_error="0.25 in")
    return weigh_day(told, "2026-05-14", scale_facts("10 lb", "0 %"), rows)


def test_bucket_of_150_lb_that_took_300_lb_off_the_front():
    """Common practice, no source: the claim needs an overhang of one wheelbase."""
    day = front_alone("bucket", FRONT["all"], FRONT["loader"])
    for claim in ("about 150 lb", "twice its weight"):
        assert inches(audit_spoken(claim, day).needs.value) == pytest.approx(60)
    assert pounds(audit_spoken("twice its weight", day).needs_weight.value) == pytest.approx(150)


def test_bare_loader_that_took_370_lb_more():
    """Common practice, no source: were it to count double too, it would weigh 185 lb, one wheelbase
    ahead of the axle.
    """
    day = front_alone("loader frame", FRONT["loader"], FRONT["bare"])
    told = {"ahead": "6 in", "u_ahead": "1 in"}
    doubled = audit_spoken("twice its weight", day, "loader frame", told)
    assert pounds(doubled.needs_weight.value) == pytest.approx(185)
    assert inches(doubled.needs.value) == pytest.approx(60)
    assert doubled.truth == "false", "its arms and frame sit near the front axle"
    needed = doubled.needed("lb")
    assert "60 ± " in needed and "185 ± " in needed and "370" in doubled.instead("lb")


@pytest.mark.parametrize(
    "ahead, weight", [("60 in", 185), ("12 in", 370 / 1.2), ("6 in", 370 / 1.1), ("0 in", 370)]
)
def test_what_each_overhang_of_the_bare_loader_makes_of_370_lb(ahead, weight):
    """Common practice, no source: the same 370 lb is 185 lb at one wheelbase, or all of 370 lb over
    the axle.
    """
    hung = infer((FRONT["bare"], None), (FRONT["loader"], None), WHEELBASE, ahead=ahead)
    assert pounds(hung.weight_kg) == pytest.approx(weight)
    day = front_alone("loader frame", FRONT["loader"], FRONT["bare"])
    claim = audit_spoken(f"it weighs {weight:.6f} lb", day, "loader frame")
    assert inches(claim.needs.value) == pytest.approx(float(ahead.split()[0]), abs=1e-4)


def test_both_pieces_from_all_readings_together():
    """Common practice, no source, with rear readings of our own to match 150 lb at 60 in and 310 lb
    at 11.6 in.
    """

    def lb(x):
        return f"{x} lb"

    rear = {
        "bare": 1400.0,
        "loader": 1400 - (370 - 370 / (1 + 11.6 / 60)),
        "all": 1400 - (370 - 370 / (1 + 11.6 / 60)) - 150,
    }
    fit = least_squares(
        [
            ((), FRONT["bare"], lb(rear["bare"])),
            (("loader",), FRONT["loader"], lb(rear["loader"])),
            (("loader", "bucket"), FRONT["all"], lb(rear["all"])),
        ],
        WHEELBASE,
        u_reading="2 lb",
        u_wheelbase="0.1 in",
    )
    assert pounds(fit.pieces["bucket"].weight_kg) == pytest.approx(150) and inches(
        fit.pieces["bucket"].ahead_m
    ) == pytest.approx(60)
    assert inches(fit.pieces["loader"].ahead_m) == pytest.approx(11.6)
