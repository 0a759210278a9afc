"""Front-axle lead, turning, slip and wear: values, limits, second routes, refusals."""

import math
import random
import statistics

import pytest
import sympy

from leverarm import driveline
from leverarm.axles import AxleLoads
from leverarm.driveline import formulas
from leverarm.quantities import Refusal
from leverarm.uncertainty import uncertain

TURNS = [(2.0, 1.5), (3.0, 1.65), (6.6, 1.65), (40.0, 2.1)]  # radius, wheelbase


# --- identities and limits ------------------------------------------------------


def test_solved_forms_give_back_what_went_in():
    f, r, m, w, _R, L, n = sympy.symbols("f r m w R L n", positive=True)
    assert sympy.simplify(formulas.lead(formulas.front_for(w, r, m), r, m) - w) == 0
    fits = sympy.nsimplify(
        formulas.turn_mismatch(w, formulas.fitting_radius(w, L), L), rational=True
    )
    assert sympy.simplify(fits) == 0
    # Both ways of measuring agree: n rear turns make m n front turns locked, n r/f rolling free.
    assert sympy.simplify(formulas.roll_out_lead(m * n, n * r / f) - formulas.lead(f, r, m)) == 0
    assert sympy.simplify(formulas.rolling_circumference(n * r, n) - r) == 0
    assert sympy.simplify(formulas.turns_ratio(m * n, n) - m) == 0


def test_limits():
    w, R, L = sympy.symbols("w R L", positive=True)
    assert sympy.limit(formulas.turn_mismatch(w, R, L), R, sympy.oo) == w
    assert sympy.limit(formulas.turn_mismatch(w, R, L), R, 0) == -sympy.oo
    assert sympy.limit(formulas.fitting_radius(w, L), w, 0, "+") == sympy.oo
    assert formulas.front_path_ratio(1e9, 1.65) == pytest.approx(1)
    assert formulas.slip_distance(5000, 0) == 0
    assert formulas.squashed(2.04, 0, 1 / 3) == 2.04
    none = driveline.Drive(front=2.0, rear=2.6, ratio=1.3, wheelbase=1.65)
    assert (
        none.lead == pytest.approx(0, abs=1e-12)
        and driveline.Drive(1.9, 2.6, 1.3, 1.65).fitting_radius_m is None
    )


@pytest.mark.parametrize("percent", [0.5, 3, 10])
def test_small_lead_fits_a_radius_near_wheelbase_over_root_of_twice_the_lead(percent):
    near = 1.65 / math.sqrt(2 * percent / 100)
    assert formulas.fitting_radius(percent, 1.65) == pytest.approx(near, rel=percent / 100)


# --- second routes --------------------------------------------------------------


@pytest.mark.parametrize("radius, wheelbase", TURNS)
def test_turning_by_vectors(radius, wheelbase):
    """A rigid body turning about a point moves each of its points at right angles to the line to
    that point.
    """
    spin, center = 0.3, (0.0, radius)

    def speed(x, y):
        return math.hypot(-spin * (y - center[1]), spin * (x - center[0]))

    assert formulas.front_path_ratio(radius, wheelbase) == pytest.approx(
        speed(wheelbase, 0) / speed(0, 0)
    )


@pytest.mark.parametrize("radius, wheelbase", TURNS)
def test_turning_by_steering_angle(radius, wheelbase):
    """tan(steer) = wheelbase/radius, and the rear goes cos(steer) for each meter of the front."""
    steer = math.atan(wheelbase / radius)
    assert formulas.front_path_ratio(radius, wheelbase) == pytest.approx(1 / math.cos(steer))


@pytest.mark.parametrize("radius", [2.5, 8.0, 1e9])
def test_slip_by_counting_turns_of_the_wheels(radius):
    """Roll the rear along its arc, turn the front by the gears, lay its path on the ground: the
    rest slips.
    """
    drive, path = driveline.demo_drive(), 30.0
    angle = path / radius
    steps = 2000

    def front(
        t,
    ):  # middle of the front axle, wheelbase ahead of a rear that turns about (0, radius)
        x, y = radius * math.sin(t), radius - radius * math.cos(t)
        return x + drive.wheelbase_m * math.cos(t), y + drive.wheelbase_m * math.sin(t)

    ground = sum(
        math.dist(front(angle * i / steps), front(angle * (i + 1) / steps)) for i in range(steps)
    )
    surface = path / drive.rear_m * drive.ratio * drive.front_m
    assert formulas.slip_distance(path, drive.mismatch(radius)) == pytest.approx(
        surface - ground, abs=1e-4
    )


def test_wear_at_exponent_one_is_work_of_friction():
    """Force of friction times distance, whatever the friction: the ratio of two works."""
    friction, g = 0.6, 9.81
    works = [friction * load * g * slip for load, slip in ((1019, 316), (600, 383))]
    assert formulas.wear_index(1019, 316, 600, 383) == pytest.approx(100 * works[0] / works[1])


@pytest.mark.parametrize("half_print", [0.04, 0.06, 0.09])
def test_squash_law_by_the_geometry_of_the_print(half_print):
    """A tread band that lays its arc onto the chord rolls half a print per print angle."""
    free = 2.04 / (2 * math.pi)
    angle = math.asin(half_print / free)
    squash = free * (1 - math.cos(angle))
    rolled = 2 * math.pi * half_print / angle
    assert formulas.squashed(2.04, squash, driveline.ROLLING_SHARE) == pytest.approx(
        rolled, rel=2e-4
    )


@pytest.mark.parametrize(
    "engaged, free, step", [(13.5, 13.11, 0.05), (139, 135, 1), (27.8, 27.0, 0.125)]
)
def test_uncertainty_of_a_roll_out(engaged, free, step):
    """Four counts, front and rear in both runs: the formula for a ratio (GUM 5.1.2), and what
    random counts show.
    """
    lead = driveline.RollOut(engaged, free, 10, step).lead
    u = step / math.sqrt(12)
    assert lead.u == pytest.approx(
        100 * engaged / free * u * math.sqrt(1 / engaged**2 + 1 / free**2 + 2 / 10**2), rel=1e-12
    )
    draw = random.Random(7).uniform
    low, high = lead.interval()
    seen = []
    for _ in range(20000):
        front_in, front_out, rear_in, rear_out = (
            count + draw(-step, step) / 2 for count in (engaged, free, 10, 10)
        )
        seen.append(100 * (front_in / rear_in / (front_out / rear_out) - 1))
    assert statistics.stdev(seen) == pytest.approx(lead.u, rel=0.03)
    assert 0.93 < sum(low <= one <= high for one in seen) / len(seen) < 0.98


def test_turns_to_count_reaches_the_wanted_uncertainty():
    counted = driveline.RollOut(14, 13.6, 10, step=1)
    turns = counted.turns_for(0.5)
    assert turns == pytest.approx(81.65 * math.hypot(1, 1.4), abs=0.1)
    longer = driveline.RollOut(turns, turns, turns / 1.4, step=1)
    assert longer.lead.u == pytest.approx(0.5)


def test_formulas_run_on_uncertain_numbers():
    lead = formulas.lead(uncertain(2.04, 0.003), uncertain(2.75, 0.003), 1.39)
    assert lead.value == pytest.approx(3.1127, abs=1e-4)
    assert lead.u == pytest.approx(103.11 * math.hypot(0.003 / 2.04, 0.003 / 2.75), rel=1e-3)


# --- what the lesson teaches ----------------------------------------------------


def test_a_squashed_front_tire_lowers_the_lead():
    off = driveline.demo_drive()
    for squash in (0.005, 0.010, 0.020):
        on = off.squashed(squash)
        assert on.lead < off.lead
        assert off.lead - on.lead == pytest.approx(
            100 * off.ratio * 2 * math.pi * squash / 3 / off.rear_m
        )
    assert off.squashed(0, rear=-0.002).lead < off.lead
    assert off.squashed(0).lead == off.lead


def test_in_a_tight_turn_the_front_is_dragged():
    drive = driveline.demo_drive()
    assert drive.mismatch(2.5) < -10 < 0 < drive.mismatch(20) < drive.mismatch() == drive.lead
    assert drive.mismatch(drive.fitting_radius_m) == pytest.approx(0, abs=1e-9)
    curve = [drive.mismatch(r) for r in (1.5, 2, 3, 5, 10, 50)]
    assert curve == sorted(curve)


def test_loader_lowers_the_straight_slip_and_raises_the_turning_slip():
    lawn, off = driveline.demo_mowing(), driveline.demo_drive()
    on = off.squashed("10 mm", "-2 mm")
    (ahead, turning), (ahead_on, turning_on) = lawn.slip_m(off), lawn.slip_m(on)
    assert 0 < ahead_on < ahead and turning_on < turning < 0
    assert lawn.slipped_m(off) == pytest.approx(ahead - turning)


def test_wider_strips_and_longer_runs_slip_less():
    drive = driveline.demo_drive()
    narrow, wide, long = (
        driveline.Mowing(w, run, 2.5) for w, run in ((1.2, 50), (1.8, 50), (1.2, 200))
    )
    assert wide.slipped_m(drive) == pytest.approx(narrow.slipped_m(drive) * 1.2 / 1.8)
    assert long.slip_m(drive)[0] == narrow.slip_m(drive)[0]
    assert long.slip_m(drive)[1] == pytest.approx(narrow.slip_m(drive)[1] / 4)


def test_hectare_and_acre_stand_in_proportion():
    lawn, drive = driveline.demo_mowing(), driveline.demo_drive()
    acre, hectare = (
        sum(map(abs, lawn.slip_m(drive, area)))
        for area in (driveline.M2_PER_ACRE, driveline.M2_PER_HECTARE)
    )
    assert acre / hectare == pytest.approx(0.40468564224) and lawn.slipped_m(drive) == hectare


def test_wear_index_and_its_exponent():
    off = (driveline.demo_drive(), 600)
    on = (driveline.demo_drive().squashed("10 mm", "-2 mm"), 1019)
    lawn = driveline.demo_mowing()
    assert driveline.wear_beside(lawn, off, off) == pytest.approx(100)
    plain, harsh = (driveline.wear_beside(lawn, off, on, exponent) for exponent in (1, 2))
    assert harsh / plain == pytest.approx(1019 / 600)
    assert plain * driveline.wear_beside(lawn, on, off) == pytest.approx(100 * 100)


# --- words ----------------------------------------------------------------------


@pytest.mark.parametrize(
    "lead, words",
    [
        (3, "want, from +1 to +5 %"),
        (5.5, "they accept, from 0 to +6 %"),
        (0.5, "may lie outside"),
        (-1, "outside the range tire makers accept"),
        (6.5, "outside the range tire makers accept"),
        (uncertain(3, 0.2), "want"),
        (uncertain(3, 3.2), "too coarse"),
        (uncertain(9, 0.5), "outside the range tire makers accept"),
        (uncertain(6, 0.4), "too coarse"),
    ],
)
def test_verdict(lead, words):
    assert words in driveline.lead_verdict(lead)


def test_whole_turns_over_ten_rear_turns_say_nothing():
    """The trap of a short roll-out: one turn more or less is the whole lead."""
    assert "too coarse" in driveline.lead_verdict(driveline.RollOut(14, 13, 10, step=1).lead)
    assert "want" in driveline.lead_verdict(driveline.RollOut(139.0, 134.8, 100, step=0.05).lead)


def test_no_word_promises():
    text = " ".join(
        [*driveline.CAUTIONS, *(driveline.lead_verdict(x) for x in (-3, 0.5, 3, 8))]
    ).lower()
    assert "safe" not in text and "hour" not in text and "money" not in text and "manual" in text


# --- refusals -------------------------------------------------------------------


@pytest.mark.parametrize(
    "changed, field",
    [
        ({"front": 0}, "front rolling"),
        ({"front": "2 kg"}, "front rolling"),
        ({"rear": "27 m"}, "rear rolling"),
        ({"ratio": 0.1}, "ratio"),
        ({"ratio": "x"}, "ratio"),
        ({"wheelbase": 0}, "wheelbase"),
        ({"ratio": 0.72}, "front drive"),
    ],
)
def test_drive_refuses(changed, field):
    with pytest.raises(Refusal, match=field):
        driveline.Drive(
            **{"front": 2.04, "rear": 2.75, "ratio": 1.39, "wheelbase": 1.65, **changed}
        )


@pytest.mark.parametrize(
    "call, field",
    [
        (lambda: driveline.demo_drive().mismatch(0), "turning radius"),
        (lambda: driveline.demo_drive().squashed(1), "squash of the front"),
        (lambda: driveline.demo_drive().squashed(0, share=2), "share of the squash"),
        (lambda: driveline.RollOut(13.5, 0, 10, 0.1), "front turns, drive out"),
        (lambda: driveline.RollOut(13.5, 131, 10, 0.1), "front turns"),
        (lambda: driveline.RollOut(13.5, 13, 10, 0), "step"),
        (lambda: driveline.RollOut(13.5, 13, 10, 2), "step"),
        (lambda: driveline.RollOut(14, 13.6, 10, 1).turns_for(0), "wanted uncertainty"),
        (lambda: driveline.Mowing(0, 50, 2.5), "mowing width"),
        (lambda: driveline.Mowing(1.5, 0, 2.5), "length of a run"),
        (lambda: driveline.Mowing(1.5, 50, 0), "turning radius"),
        (
            lambda: driveline.wear_beside(
                driveline.demo_mowing(), (driveline.demo_drive(), 0), (driveline.demo_drive(), 1)
            ),
            "load on the slipping axle",
        ),
        (
            lambda: driveline.wear_beside(
                driveline.demo_mowing(), (driveline.demo_drive(), 1), (driveline.demo_drive(), 1), 3
            ),
            "wear exponent",
        ),
    ],
)
def test_refusals(call, field):
    with pytest.raises(Refusal, match=field):
        call()


def test_units_are_read_everywhere():
    yard = driveline.Drive(
        f"{2.04 / 0.0254} in", f"{2.75 / 0.0254} in", 1.39, f"{1.65 / 0.0254} in"
    )
    assert yard.lead == pytest.approx(driveline.demo_drive().lead, rel=1e-9)
    assert yard.squashed("0.4 in").lead == pytest.approx(
        driveline.demo_drive().squashed(0.01016).lead, rel=1e-9
    )


def test_the_lighter_axle_is_the_one_that_slips():
    """By hand: what slips per hectare, times the load on the axle that gives way, off and on."""
    lawn, off, on = driveline.demo_mowing(), driveline.demo_drive(), None
    on = off.squashed("10 mm", "-2 mm")
    light, heavy = AxleLoads(600, 800), AxleLoads(1019, 701)
    slipped = [
        sum(abs(meters) for meters in lawn.slip_m(drive)) * kg
        for drive, kg in ((off, 600), (on, 701))
    ]
    index = driveline.wear_of_lighter_axle(lawn, (off, light), (on, heavy))
    assert index == pytest.approx(100 * slipped[1] / slipped[0]) == pytest.approx(96, abs=0.5)
    # Were it the front in both cases, the same slip would cost half as much again.
    front = driveline.wear_beside(lawn, (off, 600), (on, 1019))
    assert front / index == pytest.approx(1019 / 701)
