"""Readings to weight, overhang and center of gravity: values, refusals, limits, what is shared."""

import math
import random
import subprocess
import sys

import pytest
from worked import worked_loader, worked_tractor

from leverarm import Attachment, Refusal, Tractor, predict, statics
from leverarm.uncertainty import Measured, propagate, simulate, uncertain
from leverarm.weighing import (
    Improvement,
    Scales,
    SetupReadings,
    Tilt,
    Wheels,
    center_of_gravity,
    detached,
    forecast,
    formulas,
    height_by_lifting,
    improvements,
    infer,
    least_squares,
)

PLAIN = {"wheelbase": 1.65, "u_reading": 2, "u_wheelbase": 0.003}
BEFORE, AFTER = (600, 800), (790, 720)


# --- infer ----------------------------------------------------------------------------------------


def test_the_promised_call_gives_the_promised_numbers():
    hung = infer(before=BEFORE, after=AFTER, wheelbase=1.65, u_reading=2.0, u_wheelbase=0.003)
    assert (hung.weight_kg, hung.ahead_m) == pytest.approx((110, 1.2))
    assert hung.u_weight_kg == pytest.approx(2 * 2.0), "four readings, each u"
    by_hand = propagate(
        statics.overhang_of,
        uncertain(190, 2 * 2**0.5),
        uncertain(-80, 2 * 2**0.5),
        uncertain(1.65, 0.003),
    )
    assert hung.u_ahead_m == pytest.approx(by_hand.u, rel=1e-12)


def test_text_quantities_in_any_unit_give_the_same():
    metric = infer(BEFORE, AFTER, "1.65 m", u_reading="2 kg", u_wheelbase="3 mm")

    def lb(kg):
        return f"{kg / 0.45359237!r} lb"

    imperial = infer(
        tuple(map(lb, BEFORE)),
        tuple(map(lb, AFTER)),
        f"{1.65 / 0.0254!r} in",
        u_reading=lb(2),
        u_wheelbase=f"{0.003 / 0.0254!r} in",
    )
    assert (
        imperial.weight_kg,
        imperial.ahead_m,
        imperial.u_weight_kg,
        imperial.u_ahead_m,
    ) == pytest.approx((metric.weight_kg, metric.ahead_m, metric.u_weight_kg, metric.u_ahead_m))


def test_infer_undoes_predict_on_many_machines():
    rng = random.Random(11)
    for _ in range(200):
        tractor = Tractor("t", rng.uniform(1, 3), rng.uniform(900, 2000), rng.uniform(900, 2000))
        piece = Attachment("p", rng.uniform(20, 300), rng.uniform(-4, 2.5))
        bare, hung = predict(tractor), predict(tractor, piece)
        if hung.lift:
            continue
        found = infer(
            (bare.front_kg, bare.rear_kg), (hung.front_kg, hung.rear_kg), tractor.wheelbase_m
        )
        assert (found.weight_kg, found.ahead_m) == pytest.approx(
            (piece.weight_kg, piece.ahead_m), rel=1e-6
        )


@pytest.mark.usefixtures("metric")
def test_taking_off_is_a_negative_weight_at_the_same_place():
    on, off = infer(BEFORE, AFTER, **PLAIN), infer(AFTER, BEFORE, **PLAIN)
    assert (off.weight_kg, off.ahead_m, off.u_ahead_m) == pytest.approx(
        (-on.weight_kg, on.ahead_m, on.u_ahead_m)
    )
    assert (
        "hung on weighs 110.0 ± 7.8 kg" in on.sentence()
        and "taken off weighs 110.0 ± 7.8 kg" in off.sentence()
    )


def test_what_is_not_known_stays_unknown():
    hung = infer(BEFORE, AFTER, 1.65)
    assert (hung.weight_kg, hung.ahead_m) == pytest.approx((110, 1.2))
    assert math.isnan(hung.u_weight_kg) and math.isnan(hung.u_ahead_m)
    no_tape = infer(BEFORE, AFTER, 1.65, u_reading=2)
    assert no_tape.u_weight_kg == 4 and math.isnan(no_tape.u_ahead_m)


@pytest.mark.parametrize(
    "missing, extra, given_word",
    [
        ("rear", {"ahead": "1.20 m", "u_ahead": "1 cm"}, "ahead"),
        ("rear", {"weight": 110, "u_weight": 1}, "weight"),
        ("front", {"ahead": "1.20 m", "u_ahead": "1 cm"}, "ahead"),
        ("front", {"weight": 110, "u_weight": 1}, "weight"),
    ],
)
def test_one_axle_needs_the_other_quantity_given(missing, extra, given_word):
    cut = (lambda pair: (pair[0], None)) if missing == "rear" else (lambda pair: (None, pair[1]))
    hung = infer(cut(BEFORE), cut(AFTER), **PLAIN, **extra)
    assert (hung.weight_kg, hung.ahead_m) == pytest.approx(
        (110, 1.2), rel=1e-9
    ) and hung.given == given_word
    assert hung.u_weight_kg > 0 and hung.u_ahead_m > 0
    assert "had to be given" in hung.sentence()


def test_one_axle_uncertainty_is_the_law_of_propagation():
    hung = infer((600, None), (790, None), ahead=1.2, u_ahead=0.01, **PLAIN)
    by_hand = propagate(
        formulas.weight_from_front,
        uncertain(190, 2 * 2**0.5),
        uncertain(1.2, 0.01),
        uncertain(1.65, 0.003),
    )
    assert hung.u_weight_kg == pytest.approx(by_hand.u)


def test_repeats_give_students_t():
    hung = infer(
        ([600, 602, 601], [800, 801, 799]),
        ([790, 791, 789], [720, 722, 721]),
        1.65,
        u_wheelbase=0.003,
    )
    assert hung.u_weight_kg == pytest.approx(math.sqrt(4 * 1.0 / 3))
    assert hung.weight.dof == pytest.approx(8)
    assert hung.weight.k() == pytest.approx(2.306, abs=1e-3)


def test_arrays_are_rows_of_readings_too():
    import numpy

    plain = infer(([600, 601], [800, 801]), ([790, 791], [720, 721]), 1.65, u_wheelbase=0.003)
    arrays = infer(
        numpy.array([[600, 601], [800, 801]])[[0, 1]].tolist(),
        (numpy.array([790, 791]), numpy.array([720.0, 721.0])),
        numpy.float64(1.65),
        u_wheelbase=0.003,
    )
    assert (arrays.weight_kg, arrays.u_ahead_m) == (plain.weight_kg, plain.u_ahead_m)
    assert (
        infer(numpy.array([600.0, 800.0]), numpy.array([790.0, 720.0]), 1.65, u_reading=2).weight_kg
        == 110
    )


def test_wheel_by_wheel_is_the_axle_with_two_readings_worth_of_error():
    whole = infer(BEFORE, AFTER, **PLAIN)
    wheels = infer(
        (Wheels(295, 305), Wheels(400, 400)), (Wheels(390, 400), Wheels(361, 359)), **PLAIN
    )
    assert (wheels.weight_kg, wheels.ahead_m) == pytest.approx((whole.weight_kg, whole.ahead_m))
    assert wheels.u_weight_kg == pytest.approx(math.sqrt(2) * whole.u_weight_kg)


def test_the_overhang_from_a_small_weight_is_called_shaky():
    small = infer((600, 800), (619, 792), 1.65, u_reading=2, u_wheelbase=0.003)
    assert small.shaky and "do not rely on this overhang" in small.sentence()
    assert small.draw_overhang(draws=20_000).u > 1.1 * small.u_ahead_m


@pytest.mark.parametrize(
    "change, message",
    [
        ({"before": 600}, "pair"),
        ({"before": "600 800"}, "pair"),
        ({"before": (600, 800, 0)}, "pair"),
        ({"before": (-600, 800)}, "front reading before"),
        ({"before": ("600 m", 800)}, "weight"),
        ({"before": ([], 800)}, "readings"),
        ({"wheelbase": 0}, "wheelbase"),
        ({"wheelbase": "2 kg"}, "wheelbase"),
        ({"u_reading": -1}, "standard uncertainty"),
        ({"u_wheelbase": "x"}, "standard uncertainty"),
        ({"after": (600, 800)}, "no overhang"),
        ({"after": (None, 720), "before": (600, None)}, "axle"),
        ({"before": (600, None), "after": (790, None)}, "give exactly one"),
        ({"ahead": 1.2}, "leave it out"),
        ({"before": (600, None), "after": (790, None), "weight": 110, "ahead": 1.2}, "exactly one"),
        ({"before": (600, None), "after": (790, None), "ahead": -1.65}, "read the other axle"),
        ({"before": (float("nan"), 800)}, "finite"),
    ],
)
def test_what_cannot_be_used_is_refused_in_one_sentence(change, message):
    given = {"before": BEFORE, "after": AFTER, **PLAIN, **change}
    with pytest.raises(Refusal, match=message) as caught:
        infer(**given)
    assert "\n" not in str(caught.value) and str(caught.value).endswith(".")


# --- scales
# -----------------------------------------------------------------------------------------


def test_a_shared_gain_scales_the_weight_and_leaves_the_overhang_alone():
    scales = Scales(accuracy="0.5 %", u_reading=0)
    hung = infer(BEFORE, AFTER, 1.65, u_wheelbase=0, scales=scales)
    assert hung.u_weight_kg == pytest.approx(110 * 0.005 / 3**0.5)
    assert hung.u_ahead_m == pytest.approx(0, abs=1e-12)


def test_a_shared_zero_cancels_in_the_change_and_not_in_the_center_of_gravity():
    scales = Scales(zero="2 kg", u_reading=0)
    hung = infer(BEFORE, AFTER, 1.65, u_wheelbase=0, scales=scales)
    assert (hung.u_weight_kg, hung.u_ahead_m) == pytest.approx((0, 0), abs=1e-12)
    assert center_of_gravity(BEFORE, 1.65, u_wheelbase=0, scales=scales).weight.u == pytest.approx(
        2 * 2 / 3**0.5
    )


def test_two_sets_of_scales_no_longer_share_their_gain():
    hung = infer(
        BEFORE,
        AFTER,
        1.65,
        u_wheelbase=0,
        scales=Scales(accuracy="0.5 %", u_reading=0, one_set=False),
    )
    assert hung.u_weight_kg == pytest.approx(math.hypot(190, 80) * 0.005 / 3**0.5)
    assert hung.u_ahead_m > 0.001


def test_graduation_counts_once_where_nothing_was_repeated():
    assert infer(
        BEFORE, AFTER, 1.65, scales=Scales(graduation="2 kg")
    ).u_weight_kg == pytest.approx(2 * 2 / 12**0.5)


def test_scatter_holds_the_rounding_already():
    lists = ([598, 602, 600], [800, 804, 802]), ([790, 786, 788], [720, 722, 724])
    without = infer(*lists, 1.65).u_weight_kg
    assert infer(*lists, 1.65, scales=Scales(graduation="2 kg")).u_weight_kg == without


def test_many_repeats_average_the_rounding_away():
    """Scatter as wide as a step carries readings from one step to the next, so their mean is finer
    than a step.
    """
    many = [598, 600, 602, 600] * 6
    hung = infer(
        (many, many),
        ([x + 190 for x in many], [x - 80 for x in many]),
        1.65,
        scales=Scales(graduation="2 kg"),
    )
    s = (sum((x - 600) ** 2 for x in many) / 23) ** 0.5
    assert hung.u_weight_kg == pytest.approx(2 * s / 24**0.5) and hung.u_weight_kg < 2 * 2 / 12**0.5


def test_repeats_that_never_move_still_leave_the_rounding():
    same = ([600] * 4, [800] * 4), ([790] * 4, [720] * 4)
    assert infer(*same, 1.65, scales=Scales(graduation="2 kg")).u_weight_kg == pytest.approx(
        2 * 2 / 12**0.5
    )


def test_results_from_one_set_of_scales_are_correlated():
    scales = Scales(accuracy="1 %", graduation="0.5 kg")
    bucket = infer(BEFORE, AFTER, 1.65, scales=scales)
    frame = infer(AFTER, (1019, 701), 1.65, scales=scales)
    assert bucket.weight.correlation(frame.weight) > 0.6


# --- tilt
# ---------------------------------------------------------------------------------------------


def test_a_known_tilt_is_taken_out():
    level = worked_tractor()
    moved = formulas.tilt_transfer(1400, 0.3, formulas.slope_of_rise(0.05, 1.65), 1.65)
    tilted = (level.front_kg - moved, level.rear_kg + moved)
    found = center_of_gravity(tilted, 1.65, tilt=Tilt("50 mm", height_above_axles="0.30 m"))
    assert found.ahead.value == pytest.approx(level.ahead_m)


def test_an_uncertain_tilt_widens_the_overhang_but_hardly_the_weight():
    plain, tilted = (
        infer(BEFORE, AFTER, **PLAIN, tilt=tilt)
        for tilt in (None, Tilt(0, "10 mm", "0.35 m", "0.05 m"))
    )
    assert tilted.u_weight_kg == pytest.approx(plain.u_weight_kg)
    assert tilted.u_ahead_m > plain.u_ahead_m
    with pytest.raises(Refusal, match="both axles"):
        infer((600, None), (790, None), ahead=1.2, tilt=Tilt(), **PLAIN)


def test_the_tilt_formula_is_the_printed_one_for_thin_pads():
    """W h t/L^2, to first order in the thickness."""
    import sympy

    W, h, t, L = sympy.symbols("W h t L", positive=True)
    exact = formulas.tilt_transfer(W, h, formulas.slope_of_rise(t, L), L)
    assert sympy.simplify(sympy.series(exact, t, 0, 2).removeO() - W * h * t / L**2) == 0


def test_height_undoes_tilt():
    assert formulas.height_from_tilt(
        formulas.tilt_transfer(1400, 0.4, 0.2, 1.65), 1400, 0.2, 1.65
    ) == pytest.approx(0.4)


# --- center of gravity
# -----------------------------------------------------------------------------------


def test_center_from_either_axle():
    center = center_of_gravity(BEFORE, **PLAIN)
    assert center.ahead.value == pytest.approx(-1.65 * 800 / 1400)
    assert (center.ahead + center.wheelbase).value == pytest.approx(1.65 * 600 / 1400)


def turned(x, z, pivot, angle):
    """A point turned nose up about a pivot."""
    dx, dz = x - pivot[0], z - pivot[1]
    return pivot[0] + dx * math.cos(angle) - dz * math.sin(angle), pivot[1] + dx * math.sin(
        angle
    ) + dz * math.cos(angle)


@pytest.mark.parametrize("lifted", ["front", "rear"])
@pytest.mark.parametrize("heights", [(0.40, 0.40), (0.30, 0.45), (0.50, 0.35)])
def test_height_is_found_from_the_geometry_of_a_lifted_machine(lifted, heights):
    """An independent route: turn the whole machine about the axle that stays, then take moments."""
    W, L, x, z, lift = 1400.0, 1.65, -0.95, 0.72, 0.35
    front, rear = (0.0, heights[0]), (-L, heights[1])
    D = math.hypot(L, heights[0] - heights[1])
    stays, goes, sign = (rear, front, 1) if lifted == "front" else (front, rear, -1)
    angle = sign * (
        math.asin((goes[1] + lift - stays[1]) / D) - math.asin((goes[1] - stays[1]) / D)
    )
    gx, _ = turned(x, z, stays, angle)
    ox, oz = turned(*goes, stays, angle)
    assert oz == pytest.approx(goes[1] + lift)
    raised = W * (gx - ox) / (stays[0] - ox)
    level = (W * (1 + x / L), -W * x / L)
    found = height_by_lifting(level, raised, lift, L, lifted=lifted, axle_heights=heights)
    assert found.above_ground.value == pytest.approx(z, rel=1e-9)
    line = heights[0] + (heights[0] - heights[1]) * x / L
    assert found.above_axles.value == pytest.approx((z - line) * L / D, rel=1e-9)


@pytest.mark.parametrize("lift", [0.4, 0.7, 1.0])
@pytest.mark.parametrize("apart", [-0.30, -0.15, 0.0, 0.15, 0.30])
def test_axle_heights_that_nobody_measured_stand_in_the_uncertainty(lift, apart):
    """The whole machine turned about the axle that stays: the height found without axle heights
    is off by up to 0.10 m where the lower axle is lifted, 0.16 m where the higher one is, and
    its +- says so.
    """
    W, L, D = 1400.0, 1.65, math.hypot(1.65, apart)
    front, rear, h = (0.0, 0.5 + apart), (-L, 0.5), 0.45  # h square to the line of the centers
    along, tilt = -0.9, math.asin(apart / D)
    x = front[0] + along * math.cos(tilt) - h * math.sin(tilt)
    z = front[1] + along * math.sin(tilt) + h * math.cos(tilt)
    angle = math.asin((apart + lift) / D) - tilt
    gx, _ = turned(x, z, rear, angle)
    ox, _ = turned(*front, rear, angle)
    raised = W * (gx - ox) / (rear[0] - ox)
    given = {
        "level": (W * (1 + x / L), -W * x / L),
        "raised": raised,
        "lift": lift,
        "wheelbase": L,
        "u_reading": 0.01,
        "u_lift": 1e-5,
        "u_wheelbase": 1e-5,
    }
    found = height_by_lifting(**given).above_axles
    assert abs(found.value - h) <= 2 * found.u
    assert abs(found.value - h) <= (0.10 if apart <= 0 else 0.16)
    told = height_by_lifting(
        **given, axle_heights=(front[1], rear[1]), u_axle_height=1e-5
    ).above_axles
    assert told.value == pytest.approx(h, rel=1e-9) and told.u < found.u


def test_a_small_lift_tells_next_to_nothing():
    given = {"wheelbase": 1.65, "u_reading": 2, "u_lift": 0.003, "u_wheelbase": 0.003}

    def u(lift):
        raised = 800 + formulas.tilt_transfer(1400, 0.35, formulas.slope_of_rise(lift, 1.65), 1.65)
        return height_by_lifting((600, 800), raised, lift, **given).above_axles.u

    assert u(0.05) > 5 * u(0.40) and u(0.05) > 0.08


@pytest.mark.parametrize(
    "change, message",
    [
        ({"lift": 0}, "lift one axle"),
        ({"lifted": "left"}, "name the axle"),
        ({"axle_heights": 0.3}, "pair"),
        ({"lift": -0.1}, "lift"),
    ],
)
def test_height_refusals(change, message):
    with pytest.raises(Refusal, match=message):
        height_by_lifting(
            **{"level": BEFORE, "raised": 880, "lift": 0.4, "wheelbase": 1.65, **change}
        )


def test_a_detached_bucket_is_the_same_lever():
    W, x, span = 110.0, 0.33, 0.90
    pin, far = W * (1 - x / span), W * x / span
    both = detached(
        pin, far, span, pins_ahead=0.87, u_reading=0.5, u_span=0.002, u_pins_ahead=0.005
    )
    assert (both.weight.value, both.from_pins.value, both.ahead.value) == pytest.approx(
        (W, x, 1.20)
    )
    assert both.weight.u == pytest.approx(0.5 * 2**0.5)
    for one in ({"pin_edge": None, "far_edge": far}, {"pin_edge": pin, "far_edge": None}):
        assert detached(**one, span=span, weight=W).from_pins.value == pytest.approx(x)
    for bad in (
        {"pin_edge": pin, "far_edge": None},
        {"pin_edge": pin, "far_edge": far, "weight": W},
        {"pin_edge": None, "far_edge": None, "weight": W},
    ):
        with pytest.raises(Refusal, match="edge"):
            detached(**bad, span=span)


# --- forecast
# ------------------------------------------------------------------------------------------


def test_forecast_agrees_with_predict_and_holds_the_reading_to_come():
    _frame, bucket = worked_loader()
    said = forecast(
        BEFORE, "110 kg", "1.20 m", 1.65, u_weight=3, u_ahead=0.02, u_reading=2, u_wheelbase=0.003
    )
    on = predict(worked_tractor(), bucket)
    assert (said.front.value, said.rear.value) == pytest.approx((on.front_kg, on.rear_kg))
    by_hand = propagate(
        statics.front_gain, uncertain(110, 3), uncertain(1.2, 0.02), uncertain(1.65, 0.003)
    )
    assert said.front.u == pytest.approx(math.sqrt(by_hand.u**2 + 2 * 2**2)), (
        "reading before and reading to come"
    )
    assert said.holds("front", 795) and not said.holds("front", 830)


def test_a_shared_zero_does_not_widen_a_forecast():
    scales = Scales(zero="5 kg", accuracy="0 %", u_reading=1)
    said = forecast(BEFORE, 110, 1.2, 1.65, u_weight=0, u_ahead=0, u_wheelbase=0, scales=scales)
    assert said.front.u == pytest.approx(2**0.5)


def test_a_forecast_through_a_tilt_comes_back():
    tilt = Tilt("40 mm", 0, "0.3 m", 0)
    said = forecast(BEFORE, 110, 1.2, 1.65, tilt=tilt)
    back = infer(BEFORE, (said.front.value, said.rear.value), 1.65, tilt=tilt)
    assert (back.weight_kg, back.ahead_m) == pytest.approx((110, 1.2))
    assert "Less than nothing" in forecast((600, 50), 300, 1.2, 1.65, u_reading=1).sentence()


# --- several states
# --------------------------------------------------------------------------------------

FRAME, BUCKET = worked_loader()
STATES = {
    (): (600.0, 800.0),
    ("frame",): (829.1, 780.9),
    ("frame", "bucket"): (1019.1, 700.9),
    ("bucket",): (790.0, 720.0),
}


def noisy(rng, repeats, keep=STATES, sigma=1.0):
    return [
        SetupReadings(
            key, *([load + rng.gauss(0, sigma) for _ in range(repeats)] for load in loads)
        )
        for key, loads in keep.items()
    ]


def test_exact_readings_give_the_exact_pieces():
    fit = least_squares([(key, *loads) for key, loads in STATES.items()], **PLAIN)
    assert (fit.pieces["bucket"].weight_kg, fit.pieces["bucket"].ahead_m) == pytest.approx(
        (110, 1.2)
    )
    assert (fit.pieces["frame"].weight_kg, fit.pieces["frame"].ahead_m) == pytest.approx(
        (210, 0.15), abs=1e-2
    )
    assert (fit.front.value, fit.rear.value) == pytest.approx((600, 800))
    assert (fit.redundant_dof, fit.repeat_dof, fit.dof) == (2, 0, 2)
    assert fit.consistency.kind == "redundant" and fit.consistency.chance > 0.05
    assert fit.consistency.chi_squared == pytest.approx(0, abs=1e-6)


def test_two_states_are_infer():
    fit = least_squares([((), *BEFORE), (("bucket",), *AFTER)], **PLAIN)
    one = infer(BEFORE, AFTER, **PLAIN)
    assert (fit.pieces["bucket"].u_weight_kg, fit.pieces["bucket"].u_ahead_m) == pytest.approx(
        (one.u_weight_kg, one.u_ahead_m)
    )


def test_the_solution_agrees_with_numpy():
    import numpy

    states = noisy(random.Random(3), 3)
    fit = least_squares(states, 1.65, u_reading=1, u_wheelbase=0.003)
    design = [[1, "frame" in s.pieces, "bucket" in s.pieces] for s in states for _ in s.front]
    for axle, mine in (
        (
            "front",
            [fit.front, *(p.front_change for p in (fit.pieces["frame"], fit.pieces["bucket"]))],
        ),
        ("rear", [fit.rear, *(p.rear_change for p in (fit.pieces["frame"], fit.pieces["bucket"]))]),
    ):
        seen = [x for s in states for x in getattr(s, axle)]
        theirs, *_ = numpy.linalg.lstsq(numpy.array(design, float), numpy.array(seen), rcond=None)
        covariance = numpy.linalg.inv(numpy.array(design, float).T @ numpy.array(design, float))
        assert [m.value for m in mine] == pytest.approx(list(theirs))
        assert [m.u for m in mine] == pytest.approx(list(numpy.sqrt(numpy.diag(covariance))))


def test_repeats_alone_say_nothing_about_the_model():
    three = {key: loads for key, loads in STATES.items() if key != ("bucket",)}
    fit = least_squares(noisy(random.Random(1), 4, three), 1.65, u_reading=1)
    assert (fit.redundant_dof, fit.repeat_dof) == (0, 18)
    assert fit.consistency.kind == "repeated"
    assert "not whether the model fits" in fit.consistency.words


def test_one_weighing_each_leaves_nothing_to_check():
    fit = least_squares([((), *BEFORE), (("bucket",), *AFTER)], **PLAIN)
    assert (
        fit.consistency.kind == "none"
        and fit.worst == ()
        and "nothing checks it" in fit.consistency.words
    )


def test_the_same_state_given_twice_is_a_repeat():
    twice = least_squares([((), 600, 800), ((), 602, 801), (("bucket",), 790, 720)], **PLAIN)
    assert (twice.redundant_dof, twice.repeat_dof) == (0, 2) and twice.front.value == 601


def test_a_wrong_reading_is_found_and_named():
    states = noisy(random.Random(8), 3)
    states[1].front[2] += 20
    fit = least_squares(states, 1.65, u_reading=1, u_wheelbase=0.003)
    assert fit.consistency.chance < 0.05 and "disagree" in fit.consistency.words
    assert [r.name for r in fit.worst] == ["front reading 3 of frame"]


def test_with_one_spare_setup_the_culprit_cannot_be_named():
    states = [SetupReadings(key, *loads) for key, loads in STATES.items()]
    states[1] = SetupReadings(("frame",), 845, 780.9)
    fit = least_squares(states, 1.65, u_reading=1)
    assert len(fit.worst) == 4 and {r.axle for r in fit.worst} == {"front"}


def test_chi_squared_is_taken_at_its_word_where_states_are_redundant():
    """With the right u, 5 % of honest weigh days are called inconsistent: 400 days, +/- 3 standard
    deviations.
    """
    rng = random.Random(21)
    for u in (1.0, None):
        wrong = sum(
            least_squares(noisy(rng, 2), 1.65, u_reading=u).consistency.chance < 0.05
            for _ in range(400)
        )
        assert abs(wrong / 400 - 0.05) < 3 * math.sqrt(0.05 * 0.95 / 400)


def test_a_shared_gain_reaches_every_weight_of_a_fit():
    scales = Scales(accuracy="1 %", u_reading=0.1)
    fit = least_squares(
        [(key, *loads) for key, loads in STATES.items()], 1.65, u_wheelbase=0, scales=scales
    )
    assert fit.pieces["frame"].weight.u == pytest.approx(210 * 0.01 / 3**0.5, rel=0.02)
    assert fit.pieces["frame"].weight.correlation(fit.pieces["bucket"].weight) > 0.9


@pytest.mark.parametrize(
    "setups, message",
    [
        ([], "set-ups"),
        ([((), 600, 800), (("frame", "bucket"), 1019, 701)], "bucket"),
        ([(("frame",), 600, 800)], "frame"),
        ([(("frame", "frame"), 1, 2)], "each piece once"),
        ([((), "x", 800)], "front reading, bare"),
    ],
)
def test_fit_refusals(setups, message):
    with pytest.raises(Refusal, match=message):
        least_squares(setups, **PLAIN)


def test_unknown_uncertainty_still_solves():
    fit = least_squares([(key, *loads) for key, loads in STATES.items()], 1.65)
    assert fit.pieces["bucket"].weight_kg == pytest.approx(110) and math.isnan(
        fit.pieces["bucket"].u_weight_kg
    )
    assert fit.consistency.chance is None


# --- what would help most
# -----------------------------------------------------------------------------


def test_the_best_improvement_comes_first():
    scales = Scales(graduation="5 kg", accuracy="0.2 %")
    coarse = improvements(infer(BEFORE, AFTER, 1.65, u_wheelbase=0.003, scales=scales).weight)
    assert coarse[0].name == "a finer scale" and 45 < coarse[0].percent < 50
    tape = improvements(infer(BEFORE, AFTER, 1.65, u_wheelbase=0.3, u_reading=0.5).ahead)
    assert tape[0].name == "a better tape"


@pytest.mark.parametrize(
    "before, after, percent", [(2, 1, 50), (2, 2, 0), (4, 3, 25), (0.5, 0, 100), (0, 0, 0)]
)
def test_how_much_narrower_an_interval_gets(before, after, percent):
    """Where nothing is in doubt, nothing gets narrower."""
    assert Improvement("a finer scale", "weigh with it", before, after).percent == percent


def test_another_reading_is_worth_what_it_says():
    lists = ([600, 602], [800, 801]), ([790, 791], [720, 722])
    hung = infer(*lists, 1.65, u_wheelbase=0.001)
    another = next(i for i in improvements(hung.weight) if i.name == "another reading")
    s, nu = hung.weight.u / 2 * 2**0.5, 8
    longer = Measured(0, {uncertain(0, s / 3**0.5, dof=nu).slopes.popitem()[0]: 2.0})
    assert another.after == pytest.approx(longer.expanded(), rel=1e-6)


# --- Monte Carlo and weight of the path
# -------------------------------------------------------------------


def test_draws_agree_with_the_law_for_a_heavy_bucket():
    hung = infer(BEFORE, AFTER, 1.65, u_reading=1, u_wheelbase=0.003)
    many = hung.draw_overhang()
    assert many.u == pytest.approx(hung.u_ahead_m, rel=0.02)
    assert many.interval() == pytest.approx(hung.ahead.interval(), abs=0.05 * hung.u_ahead_m * 4)
    assert simulate(statics.hung_weight, hung.front_change, hung.rear_change).u == pytest.approx(
        hung.u_weight_kg, rel=0.01
    )


def test_inferring_needs_no_heavy_library():
    code = (
        "import sys; from leverarm import weighing as w;"
        "w.infer((600, 800), (790, 720), 1.65, u_reading=2, u_wheelbase=.003).sentence();"
        "w.least_squares([((), 600, 800), (('b',), 790, 720)], 1.65, u_reading=2);"
        "w.audit_spoken('twice', w.demo_day()).sentences();"
        "print(sorted({'sympy', 'numpy', 'matplotlib', 'ipywidgets'} & set(sys.modules)))"
    )
    assert (
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True
        ).stdout.strip()
        == "[]"
    )


def test_the_test_of_agreement_says_what_size_of_error_it_would_have_found():
    """An error of that size, put into one reading, is found about four times in five."""
    stream = random.Random(3)
    day = [((), 600, 800), (("frame",), 829, 781), (("frame", "b"), 1019, 701), (("b",), 790, 720)]
    seen = least_squares(day, 1.65, u_reading=2, u_wheelbase=0.003).consistency.sees_kg
    found = 0
    for _ in range(300):
        drawn = [(p, f + stream.gauss(0, 2), r + stream.gauss(0, 2)) for p, f, r in day]
        drawn[1] = (drawn[1][0], drawn[1][1] + seen, drawn[1][2])
        test = least_squares(drawn, 1.65, u_reading=2, u_wheelbase=0.003).consistency
        found += test.chance < 0.05
    assert 0.72 <= found / 300 <= 0.88
    alone = least_squares(day[:3], 1.65, u_reading=2, u_wheelbase=0.003).consistency
    assert alone.sees_kg is None
