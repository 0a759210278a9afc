"""What the panels and messages say goes up or down, gains or loses, holds or slides: both ways.

Like test_directions.py: worked by hand, read as a person reads it.
"""

import math
import re

import pytest
from hand import KG_PER_LB, numbers_in, on_front, on_rear, words_of

from leverarm import panels, weighing
from leverarm.axles import predict
from leverarm.ballast import rear_need, steering_need
from leverarm.decision import behind, case, counters, decide, piece, steps
from leverarm.ground import ContactPatch
from leverarm.machine import Attachment, Tractor
from leverarm.panels import shared
from leverarm.stability import Loader, Part, Stance
from leverarm.stage.case import HungCase
from leverarm.stage.elements import as_text
from leverarm.stage.recording import start_of
from leverarm.stage.tractor import Weighed
from leverarm.weighing.day import weigh_day
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.readings import weighing as one_weighing
from leverarm.weighing.setup_errors import (
    bucket_down,
    fuel_burned,
    on_grade,
    operator_off,
    pads_under,
    unsettled,
)

pytestmark = pytest.mark.usefixtures("metric")

L, FRONT, REAR, HEIGHT = 1.5, 600.0, 900.0, 0.7
TRACTOR = Tractor("Hand-worked tractor", L, FRONT, REAR, HEIGHT)
SYSTEMS = pytest.mark.parametrize("system, size", [("kg", 1.0), ("lb", KG_PER_LB)])


def near(kg, system, size):
    """The tolerance of a number as printed: half of its last place, 0.1 kg or 1 lb."""
    return pytest.approx(kg / size, abs=0.051 if system == "kg" else 0.51)


def row_of(markup, name):
    """The cells of the table row that begins with this name."""
    rows = re.findall(r"<tr>(.*?)</tr>", markup, flags=re.DOTALL)
    cells = [[words_of(one) for one in re.split(r"</t[hd]>", row)] for row in rows]
    return next(one for one in cells if one[0] == name)


# --- a piece hung on --------------------------------------------------------------------------


@SYSTEMS
@pytest.mark.parametrize("ahead", [1.2, 0.4, 0.0, -1.5, -2.4])
def test_what_is_hung_gains_or_loses_at_each_axle(ahead, system, size):
    """What the moving picture says at its end, of each axle and of both together."""
    case = HungCase(TRACTOR, Attachment("piece", 110, ahead), system)
    picture = as_text(Weighed(case)({**start_of(case.inputs), "part": 3.0}).tree)
    told = " ".join(re.sub("<[^>]+>", " ", picture).split())
    changes = {"front": on_front(110, ahead, L), "rear": on_rear(110, ahead, L), "together": 110}
    for name, change in changes.items():
        sign, shown = re.search(rf"\b{name} ([+−]?)(\d+) {system} ", told).groups()
        assert sign == ("+" if change > 0 else "−" if change < 0 else "")
        # In pounds the picture goes in steps of 1 lb and 1 in.
        assert float(shown) == pytest.approx(abs(change) / size, abs=2.5)


# --- strip down ----------------------------------------------------------------------------------


@SYSTEMS
@pytest.mark.parametrize("bucket, frame", [((100, 1.2), (200, 0.3)), ((60, -0.9), (250, -0.4))])
def test_what_comes_off_takes_load_off_the_front_and_puts_it_on_the_rear_or_not(
    bucket, frame, system, size
):
    pieces = (Attachment("loader frame", *frame), Attachment("bucket", *bucket))
    panel = panels.strip_down(TRACTOR, pieces)
    shared.set(system=system)
    panel.set(bucket=bucket[0], bucket_ahead=bucket[1], frame=frame[0], frame_ahead=frame[1])
    said = words_of(panel.out.value)
    for name, (weight, ahead) in (("bucket", bucket), ("loader frame", frame)):
        front, rear = on_front(weight, ahead, L), on_rear(weight, ahead, L)
        part = re.search(rf"The {name} weighs (.*?) times its weight", said).group(1)
        assert numbers_in(part, system) == [near(weight, system, size), near(front, system, size)]
        assert "off the front" in part and part.endswith(f"{front / weight:.2f}")
        # In the pictures the front falls by this, the rear rises where it hung ahead.
        for axle, change in (("Front", -front), ("Rear", -rear)):
            chart = re.search(rf"{axle} axle: (.*?)bare", panel.out.value).group(1)
            told = numbers_in(chart.split(f"{name} off ")[1], system)[0]
            # A picture shows whole pounds and whole kilograms.
            assert told == pytest.approx(change / size, abs=0.51)
    whole = FRONT + on_front(*bucket, L) + on_front(*frame, L)
    assert numbers_in(row_of(panel.out.value, "of the front axle with the bucket on")[1], "%") == [
        pytest.approx(100 * on_front(*bucket, L) / whole, abs=0.051)
    ]
    off = whole - on_front(*bucket, L)
    assert numbers_in(row_of(panel.out.value, "of the front axle with the bucket off")[1], "%") == [
        pytest.approx(100 * on_front(*bucket, L) / off, abs=0.051)
    ]


# --- arms up -------------------------------------------------------------------------------------

ARM, PIVOT = 2.0, (-0.5, 1.3)  # arm and arm pivot: meters, (ahead, up)
LOADER = Loader(
    PIVOT[0],
    PIVOT[1],
    ARM,
    0.3,
    2.6,
    arms=Part("arms", 100, 1.0),
    bucket=Part("bucket", 80, 0.4),
    load_along=0.4,
)


def pin(height):
    """How far ahead the bucket pin stands at a height: a circle about the pivot."""
    return PIVOT[0] + math.sqrt(ARM**2 - (height - PIVOT[1]) ** 2)


def moving(height, load):
    """(weight, ahead) of arms, bucket and load; the arms' center lies halfway along the arm."""
    return [(100, (PIVOT[0] + pin(height)) / 2), (80 + load, pin(height) + 0.4)]


@SYSTEMS
@pytest.mark.parametrize("height, farther", [(1.3, True), (2.6, False)])
def test_raising_the_arms_loads_the_front_until_they_are_level_and_lightens_it_above(
    height, farther, system, size
):
    load = 200
    panel = panels.arms_up(TRACTOR, LOADER, gated=False)
    shared.set(system=system)
    panel.set(front=FRONT, rear=REAR, load=load, height=height)
    front = sum(on_front(*one, L) for one in moving(height, load))
    low = sum(on_front(*one, L) for one in moving(0.3, load))
    assert (front > low) == farther
    said = words_of(panel.out.value)
    part = said.split("Compared with the arms low")[1]
    up, down, both = numbers_in(part, system)[:3]
    assert up == near(front - low, system, size) and down == near(low - front, system, size)
    assert both == 0 and part.index("front") < part.index("rear")
    rear = REAR + 380 - front
    share = float(re.search(r"rear axle has ([\d.]+) ?%", said).group(1))
    assert share == pytest.approx(100 * rear / (FRONT + REAR + 380), abs=0.051)


def test_the_worst_of_the_lift_is_where_the_load_is_farthest_out():
    """Level arms: the load that empties the rear, and the one that leaves it a fifth."""
    panel = panels.arms_up(TRACTOR, LOADER, gated=False)
    panel.set(front=FRONT, rear=REAR, load=100)
    said = words_of(panel.out.value)
    far = PIVOT[0] + ARM + 0.4
    rear = REAR + sum(on_rear(*one, L) for one in moving(1.3, 0))
    tips = rear * L / far
    # rear - W far / L = 0.2 (1500 + 180 + W)
    keeps = (rear - 0.2 * 1680) / (far / L + 0.2)
    found = numbers_in(said.split("At the worst point of the lift")[1], "kg")
    assert found[:3] == [pytest.approx(one, rel=0.002) for one in (tips, keeps, tips / 2)]


# --- slopes --------------------------------------------------------------------------------------


def side_angle(height_of_load, load):
    """Tilt at which the center crosses the line from a rear tire, 0.6 m out, to the pin."""
    parts = [(1500, -L * REAR / 1500, HEIGHT)]
    for (weight, ahead), height in zip(
        moving(height_of_load, load), ((PIVOT[1] + height_of_load) / 2, height_of_load)
    ):
        parts.append((weight, ahead, height))
    weight = sum(one[0] for one in parts)
    ahead, height = (sum(one[0] * one[i] for one in parts) / weight for i in (1, 2))
    half, line = 0.6 * -ahead / L, 0.4 * (L + ahead) / L
    return math.degrees(math.atan(half / (height - line)))


@pytest.mark.parametrize("slope", [4, 30])
def test_the_pull_of_gravity_points_inside_or_past_the_tipping_line(slope):
    stance = Stance(1.1, 1.2, pin=0.4, swing=8)
    panel = panels.sideways(TRACTOR, LOADER, stance)
    panel.set(load=150, height=2.4, slope=slope)
    high, low = side_angle(2.4, 150), side_angle(0.3, 150)
    assert high < low
    said = words_of(panel.out.value)
    told = [float(one) for one in re.findall(r"([\d.]+)°", said)[:2]]
    assert told == [pytest.approx(high, abs=0.051), pytest.approx(low, abs=0.051)]
    past = slope > high
    assert ("points past the tipping line" in said, "points inside the" in said) == (past, not past)
    assert ("even standing still" in said) == past


# --- counterweight -------------------------------------------------------------------------------


@SYSTEMS
@pytest.mark.parametrize("place, ahead", [("hitch", -L - 0.8), ("wheels", -L), ("front", 0.8)])
def test_ballast_takes_from_one_axle_what_it_adds_to_the_other(place, ahead, system, size):
    panel = panels.counterweight(TRACTOR, LOADER, gated=False)
    shared.set(system=system)
    panel.set(load=0, weight=200, distance=0.8)
    panel.kind.value = place
    front, rear = on_front(200, ahead, L), on_rear(200, ahead, L)
    said = words_of(panel.out.value)
    changed = numbers_in(said.split("The front scale changed by")[1], system)
    assert changed[:3] == [near(one, system, size) for one in (front, rear, 200)]
    for name, change in (("Front scale", front), ("Rear scale", rear)):
        before, moved, after = (
            numbers_in(one, system)[0] for one in row_of(panel.out.value, name)[1:4]
        )
        assert moved == near(change, system, size)
        assert after - before == pytest.approx(moved, abs=0.11 if system == "kg" else 1.1)


@SYSTEMS
def test_a_share_too_small_asks_for_ballast_and_one_large_enough_for_none(system, size):
    """A mower behind takes the front down; front weights 0.6 m ahead make up for it."""
    for mower, asks in ((100, False), (800, True)):
        need = steering_need(TRACTOR, Attachment("mower", mower, -L - 0.8), ahead=0.6)
        front = FRONT + on_front(mower, -L - 0.8, L)
        said = need.sentence(system)
        now, *more = numbers_in(said, system)
        assert now == near(front, system, size) and f"{100 * front / 1500:.0f} %" in said
        assert ("has that without ballast" in said) == (not asks) and bool(more) == asks
        if asks:
            assert more == [near((0.2 * 1500 - front) * L / (L + 0.6), system, size)]
    load = Attachment("load", 500, 1.6)
    rear = REAR + on_rear(500, 1.6, L)
    said = rear_need(TRACTOR, load, behind=0.5, share=25).sentence(system)
    # rear + W (1 + 0.5/L) = 0.25 (2000 + W)
    assert numbers_in(said, system) == [
        near(rear, system, size),
        near((0.25 * 2000 - rear) / (1 + 0.5 / L - 0.25), system, size),
    ]
    assert said.startswith("The rear axle") and "ballast included" in said


@SYSTEMS
@pytest.mark.parametrize("ahead, axle", [(1.5, "rear"), (-L - 1.0, "front")])
def test_the_axle_that_lifts_is_named_with_the_weight_that_did_it(ahead, axle, system, size):
    lift = predict(TRACTOR, Attachment("load", 2000, ahead)).lift
    limit = REAR * L / ahead if axle == "rear" else FRONT * L / -(L + ahead)
    said = lift.sentence(system)
    assert said.startswith(f"The {axle} axle carries nothing.")
    assert numbers_in(said, system) == [near(limit, system, size)]


# --- under the tire ------------------------------------------------------------------------------


@pytest.mark.parametrize("off, on", [(500, 900), (900, 500)])
def test_patch_pressure_and_depth_move_the_way_the_load_moves(off, on):
    """At one pressure a front tire with more load has a larger contact patch and reaches deeper."""
    made = ContactPatch("20 cm", "15 cm", 0.8, load="250 kg", inflation="70 kPa")
    panel = panels.under_tire(made)
    panel.set(off=off, on=on, inflation="70 kPa")
    mark, other = ("▲", "▼") if on > off else ("▼", "▲")
    load = row_of(panel.out.value, "Load on one tire")
    assert numbers_in(load[1], "kg") + numbers_in(load[2], "kg") == [off / 2, on / 2]
    assert numbers_in(load[3], "%") == [pytest.approx(100 * (on - off) / off, abs=0.51)]
    for name in ("Load on one tire", "Contact patch", "At the surface", "20 cm deep", "40 cm deep"):
        cell = row_of(panel.out.value, name)[3]
        assert cell.startswith(mark) and other not in cell, name
        assert (numbers_in(cell, "%")[0] > 0) == (on > off)
    # The mean pressure is the load over the contact patch, as both are shown.
    pressures = row_of(panel.out.value, "At the surface")
    patches = row_of(panel.out.value, "Contact patch")
    for at in (1, 2):
        kpa, area = numbers_in(pressures[at], "kPa")[0], numbers_in(patches[at], "cm²")[0]
        assert kpa == pytest.approx((off, on)[at - 1] / 2 * 9.80665 / area * 10, rel=0.01)


# --- decision: steps and the other side ----------------------------------------------------------


def told_case(ballast=(300, 0.75)):
    """Loader frame 200 kg at 0.3 m, bucket 100 kg at 1.5 m, ballast behind the rear axle."""
    return case(
        "Hand-worked tractor",
        L,
        FRONT,
        REAR,
        HEIGHT,
        u_reading=1,
        u_wheelbase=0.003,
        loader=piece("loader frame", 200, 0.3, 0.8, u_weight=1, u_ahead=0.01),
        bucket=piece("bucket", 100, 1.5, 0.3, u_weight=1, u_ahead=0.01),
        ballast=ballast and behind("ballast", *ballast, L, 0.5, u_weight=1, u_distance=0.01),
    )


@SYSTEMS
def test_a_step_says_which_way_each_reading_goes(system, size):
    bucket, frame, block = (100, 1.5), (200, 0.3), (300, -L - 0.75)
    off = {"bucket_off": [bucket], "loader_off": [bucket, frame], "all_off": [block]}
    seen = 0
    for step in steps(decide(told_case())):
        gone = off[step.after.key]
        if step.before.key == "bucket_off":
            gone = [frame]
        said = step.sentence(system)
        changes = {
            "front": -sum(on_front(*one, L) for one in gone),
            "rear": -sum(on_rear(*one, L) for one in gone),
            "machine": -sum(one[0] for one in gone),
        }
        for name, change in changes.items():
            way, rest = re.search(rf"{name} (up|down) (.*)", said).groups()
            assert way == ("up" if change > 0 else "down"), said
            assert numbers_in(rest, system)[0] == pytest.approx(abs(change) / size, abs=0.6)
        assert ("off the front axle" in said, "more on the front axle" in said) == (
            changes["front"] < 0,
            changes["front"] > 0,
        )
        minutes = float(re.search(r"In ([\d.]+) minutes", said).group(1))
        rate = numbers_in(said.split("that is")[1], system)[0]
        assert rate == pytest.approx(abs(changes["front"]) / minutes / size, rel=0.01, abs=0.6)
        seen += 1
    assert seen == 4


@SYSTEMS
def test_the_other_side_says_what_ballast_off_gives_back(system, size):
    """Behind the rear axle its ballast comes off the ground, and lets the front down again."""
    found = {one.title: one.said for one in counters(decide(told_case()), system)}
    said = next(text for title, text in found.items() if "two things" in title)
    off, back = numbers_in(said, system)
    assert off == pytest.approx(300 / size, rel=0.01)
    assert back == pytest.approx(-on_front(300, -L - 0.75, L) / size, rel=0.01)
    assert "off the ground" in said and "back on the front axle" in said
    wheels = {one.title: one.said for one in counters(decide(told_case((300, 0))), system)}
    assert not any("back on the front" in text for text in wheels.values())
    half = next(text for title, text in found.items() if title.startswith("Bucket off is not"))
    stays = 100 * on_front(200, 0.3, L) / (on_front(200, 0.3, L) + on_front(100, 1.5, L))
    assert numbers_in(half, "%")[0] == pytest.approx(stays, abs=0.1)
    gone = next(text for title, text in found.items() if title.startswith("Ballast off must"))
    without = REAR + on_rear(200, 0.3, L) + on_rear(100, 1.5, L)
    fewer, before = numbers_in(gone, system)[:2]
    assert fewer == pytest.approx(without / size, rel=0.005)
    assert before == pytest.approx((without + on_rear(300, -L - 0.75, L)) / size, rel=0.005)


# --- the audit of a spoken claim -----------------------------------------------------------------


@pytest.mark.parametrize(
    "ahead, claim, truth",
    [
        (1.5, "twice its weight", "true"),
        (1.1, "twice its weight", "false"),
        (1.1, "it weighs 120 kg", "true"),
        (1.1, "it weighs 200 kg", "false"),
        (1.1, "it weighs 300 kg", "false"),
        (1.1, "30 % of its own weight", "false"),
    ],
)
def test_a_claim_fits_or_does_not(ahead, claim, truth):
    """120 kg ahead of the front axle, read to half a kilogram; every number worked here."""
    gain, loss = on_front(120, ahead, L), on_rear(120, ahead, L)
    rows = [one_weighing("bucket", FRONT + gain, REAR + loss), one_weighing("", FRONT, REAR)]
    told = machine("Worked", L, wheelbase_error="2 mm")
    found = weighing.audit_spoken(
        claim, weigh_day(told, "2026-05-14", scale_facts("0.5 kg", "0 %"), rows)
    )
    needs, instead = words_of(found.needed("kg")), words_of(found.instead("kg"))
    assert found.truth == truth, found.sentences()
    assert numbers_in(instead, "kg")[:1] == [pytest.approx(gain, rel=0.01)]
    assert "takes" in instead and "off the front axle" in instead
    if claim.startswith("twice"):
        assert numbers_in(needs, "m")[0] == pytest.approx(L, rel=0.01)
        assert numbers_in(needs, "kg")[0] == pytest.approx(gain / 2, rel=0.01)
    if said := {"it weighs 200 kg": 200, "it weighs 300 kg": 300}.get(claim):
        need = L * (gain / said - 1)  # W (1 + a/L) is the gain: the claim needs this overhang
        first = needs.split(" the front axle")[0]
        assert numbers_in(first, "m")[0] == pytest.approx(abs(need), abs=0.005)
        assert ("behind" in first, "ahead" in first) == (need < 0, need > 0)


# --- set-up errors -------------------------------------------------------------------------------

LEAN = math.sin(math.radians(3)), math.cos(math.radians(3))
TILT = math.tan(math.asin(0.05 / L))


@pytest.mark.parametrize(
    "error, front, rear",
    [
        # Nose uphill the center leans to the rear, and each scale reads square to the slope.
        (
            on_grade("3 deg"),
            FRONT * (LEAN[1] - 1) - 1500 * HEIGHT * LEAN[0] / L,
            REAR * (LEAN[1] - 1) + 1500 * HEIGHT * LEAN[0] / L,
        ),
        (
            on_grade("-3 deg"),
            FRONT * (LEAN[1] - 1) + 1500 * HEIGHT * LEAN[0] / L,
            REAR * (LEAN[1] - 1) - 1500 * HEIGHT * LEAN[0] / L,
        ),
        # On pads only the height above the axle centers leans: 0.7 - 0.4 m.
        (
            pads_under("front", "5 cm", (0.4, 0.4)),
            -1500 * 0.3 * TILT / L,
            1500 * 0.3 * TILT / L,
        ),
        (
            pads_under("rear", "5 cm", (0.4, 0.4)),
            1500 * 0.3 * TILT / L,
            -1500 * 0.3 * TILT / L,
        ),
        (bucket_down("20 kg", "1.2 m"), -on_front(20, 1.2, L), -on_rear(20, 1.2, L)),
        (operator_off("80 kg", "-1 m"), -on_front(80, -1, L), -on_rear(80, -1, L)),
        (unsettled("2 %"), -0.02 * FRONT, -0.02 * REAR),
    ],
    ids=lambda one: getattr(one, "name", None),
)
def test_what_goes_wrong_in_the_yard_moves_each_scale_its_own_way(error, front, rear):
    assert error.shift(TRACTOR, ()) == pytest.approx((front, rear), rel=1e-6)


def test_fuel_burned_is_weight_gone_where_the_tank_sits():
    """Ten liters of diesel weigh 8.2 to 8.6 kg (EN 590: 0.82 to 0.845 kg a liter)."""
    front, rear = fuel_burned(10, "-0.4 m").shift(TRACTOR, ())
    assert -8.6 < front + rear < -8.2
    assert front / rear == pytest.approx(on_front(1, -0.4, L) / on_rear(1, -0.4, L))
