"""Every sentence and number of the decision, in both unit systems, beside a machine worked by hand.

Wheelbase 1.5 m, bare 600 and 900 kg.  The frame, 200 kg over the front axle, puts 200 on the front.
The bucket, 100 kg one wheelbase ahead, puts 200 on the front and takes 100 off the rear.  The
ballast, 300 kg half a wheelbase behind the rear axle, takes 150 off the front and puts 450 on the
rear.
"""

import math
import re
from dataclasses import replace

import pytest
from hand import GRAVITY, KG_PER_LB, numbers_in, on_front, on_rear

from leverarm import Attachment, Refusal, stability
from leverarm.decision import (
    CLAIMS,
    MANUAL_DECIDES,
    MEANINGS,
    Job,
    Letters,
    Manual,
    Mower,
    Tires,
    behind,
    case,
    check_answer,
    counters,
    decide,
    demo_case,
    facts_of,
    manual_questions,
    most_per_minute,
    numbers_said,
    order,
    piece,
    quantities_in,
    rating_checks,
    setups,
    steps,
    true_number,
    value_text,
    why_most,
)
from leverarm.decision.claim_numbers import HELD_AGAINST, SHOWN, letters_of
from leverarm.decision.order import alike
from leverarm.ground import ContactPatch
from leverarm.uncertainty import uncertain

L = 1.5
SURE = {"u_weight": 1, "u_ahead": 0.01}
BASE = uncertain(L, 0.003, "wheelbase", cause="tape")
FRAME = piece("loader frame", 200, 0, 0.8, reach=0.9, **SURE)
BUCKET = piece("bucket", 100, L, 0.3, reach=2.0, **SURE)
BALLAST = behind("ballast", 300, 0.75, BASE, 0.5, u_weight=1, u_distance=0.01)
NAMES = ("on", "bucket_off", "loader_off", "all_off")


def machine(**more):
    about = {"loader": FRAME, "bucket": BUCKET, "ballast": BALLAST, "nose": 0.4, **more}
    return case("Hand-worked tractor", BASE, 600, 900, 0.7, u_reading=1, **about)


def said(table, title, system="kg"):
    return next(one.said for one in counters(table, system) if one.title.startswith(title))


def in_unit(kg, system):
    return kg / KG_PER_LB if system == "lb" else kg


# --- the numbers of a claim -----------------------------------------------------------------------

# Bucket 100 kg at 1.2 m, frame 200 kg at 0.1 m, ballast 300 kg 0.75 m behind; a patch of 150 cm2
# under 300 kg, 150 kg more put on it; a lead of 3 percent over 1000 m.
X = Letters(100.0, 1.2, 0.4, 200.0, 0.1, L, 300.0, 0.75, 0.015, 300.0, 150.0, 3.0, 1000.0)
B_FRONT, F_FRONT = on_front(100, 1.2, L), on_front(200, 0.1, L)
PRESSURE = 300 * GRAVITY / 0.015 / 1000
# Half more load on a patch that grows by 0.8 of that.
PRESSED = 450 * GRAVITY / (0.015 * 1.4) / 1000
# Froehlich with factor 4 under the middle of a round patch, 0.3 m down.
BELOW = PRESSURE * (1 - (0.09 / (0.09 + 0.015 / math.pi)) ** 2)
BY_HAND = {
    "bucket": ("weight", 100),
    "bucket_front": ("weight", B_FRONT),
    "bucket_factor": ("", f"{B_FRONT / 100:.2f}"),
    "loader": ("weight", 300),
    "loader_front": ("weight", B_FRONT + F_FRONT),
    "loader_factor": ("", f"{(B_FRONT + F_FRONT) / 300:.2f}"),
    "frame_factor": ("", f"{F_FRONT / 200:.2f}"),
    "stays": ("", f"{100 * F_FRONT / (B_FRONT + F_FRONT):.0f}"),
    "ballast": ("weight", 300),
    "ballast_front": ("weight", 150),
    "ballast_rear": ("weight", 450),
    "ballast_total": ("weight", 300),
    "fluid_front": ("weight", 0),
    "lead": ("", "3.0"),
    "path": ("far", 1000),
    "slipped": ("far", 30),
    "lift": ("length", 1),
    "raised": ("weight", 0),
    "heavier": ("", "2.00"),
    "tipping_factor": ("", "1.00"),
    "load_more": ("", "50"),
    "pressure_off": ("pressure", PRESSURE),
    "pressure_on": ("pressure", PRESSED),
    "depth": ("deep", 0.3),
    "stress": ("pressure", BELOW),
}
PRINTED = {
    "weight": (lambda x: f"{x:,.1f} kg", lambda x: f"{x / KG_PER_LB:,.0f} lb"),
    "length": (lambda x: f"{x:.2f} m", lambda x: f"{x / 0.0254:.1f} in"),
    "deep": (lambda x: f"{100 * x:.0f} cm", lambda x: f"{x / 0.0254:.0f} in"),
    "far": (lambda x: f"{x:,.0f} m", lambda x: f"{x / 0.3048:,.0f} ft"),
    "pressure": (
        lambda x: f"{x:.0f} kPa",
        lambda x: f"{x * 1000 / (KG_PER_LB * GRAVITY / 0.0254**2):.1f} psi",
    ),
    "": (str, str),
}


def test_every_number_that_a_claim_may_show_is_worked_here():
    assert set(BY_HAND) == set(SHOWN)


@pytest.mark.parametrize("name", BY_HAND)
def test_a_number_of_a_claim_by_hand(name):
    kind, worth = BY_HAND[name]
    for system, printed in zip(("kg", "lb"), PRINTED[kind]):
        assert SHOWN[name](X, system) == printed(worth)


def test_a_loss_is_shown_without_a_sign_and_with_its_plus_or_minus():
    weighed = letters_of(machine())
    assert SHOWN["ballast_front"](weighed, "kg").startswith("150.0 ± ")
    assert SHOWN["bucket"](weighed, "kg") == "100.0 ± 2.0 kg"
    assert SHOWN["bucket_factor"](weighed, "kg") == "2.00"


def test_letters_are_those_of_the_machine():
    made = letters_of(machine(), path_m=500)
    values = [one and getattr(one, "value", one) for one in vars(made).values()]
    # Half the front load of bucket and frame is what a front tire has more.
    told = [100, 1.5, 0.3, 200, 0, 1.5, 300, 0.75, None, None, 200, None, 500, 1, 2]
    assert values == [one if one is None else pytest.approx(one) for one in told]
    assert letters_of(machine()).path == 1000
    bare = letters_of(machine(bucket=None, ballast=None))
    assert (bare.W, bare.a, bare.h, bare.B, bare.b) == (None, None, 0, None, None)
    assert pytest.approx(100) == bare.D
    low = letters_of(machine(bucket=piece("bucket", 100, L, **SURE)))
    assert low.h == 0
    patched = letters_of(machine(tires=Tires(ContactPatch(0.2, 0.15, 0.8, 300, 150))))
    assert (pytest.approx(0.024), 300) == (patched.A, patched.N)


LOADER = B_FRONT + F_FRONT
UNDER = ("tire", "front", "machine")
CLAIM_FACTS = {
    "twice": [
        ("weight", B_FRONT, ("front",), -1, False),
        ("weight", 80, ("rear",), 1, False),
        ("weight", 100, ("machine",), -1, False),
        ("weight", 100, ("piece",), 0, False),
        ("times", 1.8, ("front", "piece"), 0, False),
    ],
    "whole_loader": [
        ("weight", LOADER, ("front",), -1, False),
        ("weight", LOADER - 300, ("rear",), 1, False),
        ("weight", 300, ("machine",), -1, False),
        ("weight", 300, ("piece",), 0, False),
        ("times", LOADER / 300, ("front", "piece"), 0, False),
        ("times", F_FRONT / 200, ("front", "piece"), 0, False),
    ],
    "bucket_enough": [
        ("share", 100 * F_FRONT / LOADER, ("front",), 1, False),
        ("share", 100 * B_FRONT / LOADER, ("front",), -1, False),
        ("weight", F_FRONT, ("front",), 1, False),
        ("weight", B_FRONT, ("front",), -1, False),
        ("weight", 80, ("rear",), 1, False),
        ("weight", 100, ("machine",), -1, False),
        ("weight", 100, ("piece",), 0, False),
    ],
    "ballast_fixes": [
        ("weight", 150, ("front",), -1, True),
        ("weight", 450, ("rear",), 1, True),
        ("weight", 300, ("machine",), 1, True),
        ("weight", 300, ("piece",), 0, True),
    ],
    "fluid": [
        ("weight", 0, ("front",), 0, True),
        ("weight", 300, ("rear",), 1, True),
        ("weight", 300, ("machine",), 1, True),
        ("weight", 300, ("piece",), 0, True),
    ],
    "four_wheel": [
        ("share", 3, UNDER, 0, False),
        ("length", 30, UNDER, 0, False),
        ("length", 1000, UNDER, 0, False),
    ],
    "raise": [
        ("weight", 0, ("front",), 0, False),
        ("length", 1, ("front", "piece"), 0, False),
    ],
    "heavier_stable": [
        ("times", 2, ("machine", "piece", "front", "rear"), 0, False),
        ("times", 1, ("machine", "piece", "front", "rear"), 0, False),
    ],
    "psi": [
        ("share", 50, UNDER, 1, True),
        ("pressure", PRESSURE, UNDER, 0, False),
        ("pressure", PRESSED, UNDER, 0, False),
    ],
    "no_ruts": [("pressure", BELOW, UNDER, 0, False)],
}
CLAIM_FACTS["happy_soil"] = CLAIM_FACTS["ballast_fixes"]


@pytest.mark.parametrize("key", HELD_AGAINST)
def test_the_facts_that_answer_a_claim_by_hand(key, monkeypatch):
    monkeypatch.setitem(facts_of.__globals__, "letters_of", lambda case: X)
    claim = next(one for one in CLAIMS if one.key == key)
    found = facts_of(claim, demo_case())
    assert [(one.kind, one.of, one.way, one.hung) for one in found] == [
        (kind, of, way, hung) for kind, _, of, way, hung in CLAIM_FACTS[key]
    ]
    assert [one.value for one in found] == [
        pytest.approx(value, abs=1e-9) for _, value, *_ in CLAIM_FACTS[key]
    ]


@pytest.mark.parametrize("key", HELD_AGAINST)
def test_a_claim_holds_within_the_plus_or_minus_of_the_difference_and_no_further(key):
    """The claimed number, moved to the bound and past it on either side."""
    claim = next(one for one in CLAIMS if one.key == key)
    right = uncertain(100.0, 2.0, "x")
    for off, U_holds in ((0, True), (3.9, True), (-3.9, True), (4.0, False), (-4.0, False)):
        moved = replace(
            claim, claimed=lambda x, off=off: right + off, so=lambda x: 2 * right - right
        )
        assert moved.holds(X) is (off == 0), "one source of error: it cancels in the difference"
        moved = replace(claim, claimed=lambda x, off=off: 100 + off, so=lambda x: right)
        # k = 1.96 for a known uncertainty: 3.92.
        assert moved.holds(X) is U_holds
    unknown = replace(claim, claimed=lambda x: uncertain(1, math.nan, "z"), so=lambda x: right)
    assert unknown.holds(X) is None
    for off, holds in ((0.0, True), (0.9e-7, True), (1.1e-7, False), (-1.1e-7, False)):
        plain = replace(claim, claimed=lambda x, off=off: 100.0 + off, so=lambda x: 100.0)
        assert plain.holds(X) is holds


# --- what is told and what is missing -------------------------------------------------------------


@pytest.mark.parametrize(
    "key, missing, without",
    [
        ("twice", "No bucket", {"bucket": None}),
        ("whole_loader", "No bucket", {"bucket": None}),
        ("ballast_fixes", "No ballast", {"ballast": None}),
        ("four_wheel", "No front drive", {"drive": None}),
        ("psi", "No contact patch", {"tires": Tires()}),
        ("no_ruts", "No contact patch", {"tires": Tires()}),
    ],
)
def test_a_claim_says_what_it_lacks(key, missing, without):
    claim = next(one for one in CLAIMS if one.key == key)
    told = demo_case()
    assert not true_number(claim, told).startswith("No ")
    assert true_number(claim, replace(told, **without)).startswith(missing)
    assert facts_of(claim, replace(told, **without)) == () != facts_of(claim, told)


def test_only_the_claim_about_stability_needs_a_height():
    low = replace(demo_case(), bucket=replace(demo_case().bucket, height_m=None))
    for claim in CLAIMS:
        lacks = true_number(claim, low).startswith("No height of the bucket")
        assert lacks is (claim.key == "heavier_stable")


# --- steps of work --------------------------------------------------------------------------------

# Front, rear and machine change, and the minutes of each step.
WORK = {
    ("on", "bucket_off"): (-200, 100, -100, 5),
    ("bucket_off", "loader_off"): (-200, 0, -200, 15),
    ("on", "loader_off"): (-400, 100, -300, 20),
    ("loader_off", "all_off"): (150, -450, -300, 10),
}
WORDS = {
    "on": "Bucket and loader on",
    "bucket_off": "Bucket off",
    "loader_off": "Loader off",
    "all_off": "Loader off, ballast off",
}


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_a_step_says_what_it_buys_in_both_directions(system):
    found = {(one.before.key, one.after.key): one for one in steps(decide(machine()))}
    assert list(found) == list(WORK)
    for pair, (front, rear, total, minutes) in WORK.items():
        text = found[pair].sentence(system)
        before, after = (WORDS[key] for key in pair)
        assert text.startswith(f"{after}, from {before[0].lower()}{before[1:]}: ")
        for name, change in (("front", front), ("rear", rear), ("machine", total)):
            (way, number) = re.search(rf"{name} (up|down) ([\d.]+) ±", text).groups()
            assert way == ("down" if change < 0 else "up"), (pair, name)
            assert float(number) == pytest.approx(in_unit(abs(change), system), abs=0.5)
        way, number = re.search(r"is ([\d.]+) ± .+ (off|more on) the front axle", text).groups()[
            ::-1
        ]
        assert way == ("off" if front < 0 else "more on")
        assert float(number) == pytest.approx(in_unit(abs(front) / minutes, system), abs=0.05)
        assert f"In {minutes} minutes, " in text


def test_a_step_that_changes_little_says_which_way():
    """A bucket of half a kilogram over the front axle, then behind it, then behind both."""
    for weight, ahead, front, way in (
        (0.5, 0.0, "down", "off"),
        (0.5, -2.0, "up", "more on"),
        (0.5, -L, "up 0.0", "more on"),
    ):
        small = machine(bucket=piece("bucket", weight, ahead, **SURE))
        text = steps(decide(small))[0].sentence()
        assert f"front {front}" in text and f"{way} the front axle" in text, text


def test_the_step_that_takes_most_off_each_minute():
    table = decide(machine())
    for what, pair in (
        ("front", ("on", "bucket_off")),
        ("rear", ("loader_off", "all_off")),
        ("total", ("loader_off", "all_off")),
    ):
        best = most_per_minute(table, what)
        assert (best.before.key, best.after.key) == pair
    assert most_per_minute(table).after.key == "bucket_off"
    lightens = machine(bucket=None, ballast=None, loader=piece("loader frame", 200, -2.0, **SURE))
    assert most_per_minute(decide(lightens)) is None and why_most(decide(lightens)) == ""


def test_ever_so_little_off_is_taken_off_and_nothing_is_not():
    """A tenth of a kilogram a minute; a piece over the rear axle takes nothing off the front."""
    for weight, ahead, found in ((0.5, 0.0, True), (0.5, -L, False), (0.5, -2.0, False)):
        light = piece("loader frame", weight, ahead, **SURE)
        best = most_per_minute(decide(machine(bucket=None, ballast=None, loader=light)))
        assert (best is not None) is found
        assert best is None or best.per_minute().value == pytest.approx(-weight / 20)


def test_work_that_takes_no_more_time_is_no_step_of_its_own():
    """Bucket and whole loader in the same minutes: nothing is divided by nothing."""
    same = decide(machine(job=Job(bucket_minutes=20, loader_minutes=20)))
    pairs = [(one.before.key, one.after.key) for one in steps(same)]
    assert pairs == [("on", "bucket_off"), ("on", "loader_off"), ("loader_off", "all_off")]
    quick = decide(machine(job=Job(bucket_minutes=20, loader_minutes=20.5)))
    assert ("bucket_off", "loader_off") in [(one.before.key, one.after.key) for one in steps(quick)]


def test_without_a_plus_or_minus_half_a_kilogram_more_is_more():
    """The bucket takes 200.5 kg off where the frame takes 200, and nobody told how sure that is."""
    made = machine(
        bucket=piece("bucket", 100.25, L),
        loader=piece("loader frame", 200, 0),
        job=Job(bucket_minutes=5, loader_minutes=20),
    )
    assert why_most(decide(made), "kg").startswith("It takes more off, and in less time: 200.5")


@pytest.mark.parametrize(
    "bucket, minutes, begins, here, there",
    [
        (100, (5, 20), "Not because it takes more off, but because it takes less time", 200, 200),
        (150, (5, 20), "It takes more off, and in less time", 300, 200),
        (250, (11, 21), "It takes more off", 500, 200),
        (99, (5, 10), "The two are close", 200, 198),
        (60, (10, 15), "Not", None, None),
    ],
)
def test_why_a_step_buys_most(bucket, minutes, begins, here, there):
    made = machine(
        bucket=piece("bucket", bucket, L, **SURE),
        job=Job(bucket_minutes=minutes[0], loader_minutes=minutes[1]),
    )
    why = why_most(decide(made), "kg")
    if here is None:
        # The frame takes 200 kg in 5 minutes, the bucket 120 in 10: more, and sooner.
        assert why.startswith("It takes more off, and in less time: 200.0")
        assert "Bucket off takes 120.0" in why
        return
    assert why.startswith(f"{begins}: ")
    assert numbers_in(why, "kg") == [here, there]
    assert re.findall(r"in (\d+) minutes?", why) == [
        str(minute)
        for minute in (
            (minutes[0], minutes[1] - minutes[0])
            if here == 2 * bucket
            else (minutes[1] - minutes[0], minutes[0])
        )
    ]


def test_one_step_has_nothing_beside_it():
    alone = machine(bucket=None, ballast=None)
    assert len(steps(decide(alone))) == 1 and why_most(decide(alone)) == ""
    assert why_most(decide(machine(ballast=None)), "lb").startswith("Not because it takes more off")
    assert numbers_in(why_most(decide(machine()), "lb"), "lb") == pytest.approx([440.9, 440.9])


# --- the order ------------------------------------------------------------------------------------


def test_the_order_in_words():
    found = order(decide(machine()), "rear")
    assert found.sentences() == (
        "1. Loader off, ballast off",
        "2. Bucket and loader on",
        "3. Bucket off and Loader off: too close to tell apart",
    )
    stopped = order(decide(machine(manual=Manual(front_axle=800))), "front")
    assert stopped.sentences("lb")[:3] == (
        "1. Loader off", "2. Loader off, ballast off", "3. Bucket off",
    )  # fmt: skip
    assert stopped.sentences("lb")[3].startswith("Ruled out: Bucket and loader on. Front axle: ")
    assert numbers_in(stopped.sentences("lb")[3], "lb") == pytest.approx(
        [850 / KG_PER_LB, 50 / KG_PER_LB], abs=1
    )


# The smallest part of a value that means a difference, where it has no plus or minus: judgment.
COARSE = {
    **dict.fromkeys(("front", "rear", "total", "front_share", "front_least", "rear_least"), 0),
    **dict.fromkeys(("front_pressure", "rear_pressure", "grade", "uphill", "sideways"), 0.05),
    **{f"{axle}_stress_{depth}": 0.10 for axle in ("front", "rear") for depth in (1, 2)},
    "scuff": 0.10,
    "length": 0.01,
    "minutes": 0.01,
}


@pytest.mark.parametrize("key", COARSE)
def test_what_is_too_close_to_tell_apart(key):
    assert set(COARSE) == set(MEANINGS)
    row, part = decide(demo_case()).row(key), COARSE[key]
    for size in (1000.0, 1.0):
        for low, same in (
            (size * (1 - part) * (1 + 1e-9), True),
            (size * (1 - part) * 0.999, False),
        ):
            pair = replace(row, values=(size, low, 0, 0))
            expected = same if part else low == size
            assert alike(pair, 0, 1) is alike(pair, 1, 0) is expected, (size, low)
    band = replace(row, values=((90.0, 110.0), (100 * (1 - part) - 5, 100 * (1 - part) + 5), 0, 0))
    assert alike(band, 0, 1) or part == 0 or alike(replace(band, values=(100, 100.0)), 0, 1)


@pytest.mark.parametrize("key", [key for key in MEANINGS if MEANINGS[key].wanted])
def test_less_is_wanted_of_load_and_more_of_angles_and_least_shares(key):
    more = {"front_least", "rear_least", "grade", "uphill", "sideways"}
    assert MEANINGS[key].wanted == ("more" if key in more else "less")
    table = decide(demo_case())
    found = [one for place in order(table, key).places for one in place]
    values = [table.value(key, one.key) for one in found]
    middles = [sum(v) / 2 if isinstance(v, tuple) else getattr(v, "value", v) for v in values]
    best, worst = middles[0], middles[-1]
    assert best >= worst if key in more else best <= worst


# --- values in print ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "value, kind, kg, lb",
    [
        (None, "weight", "", ""),
        ((68.9476, 137.895), "pressure", "69 to 138 kPa", "10.0 to 20.0 psi"),
        (9.46, "angle", "9.5°", "9.5°"),
        (29.6, "minutes", "30 min", "30 min"),
        (99.6, "number", "100", "100"),
        (1.28, "length", "1.28 m", "50.4 in"),
        (uncertain(100, 1, "x"), "weight", "100.0 ± 2.0 kg", "220.5 ± 4.3 lb"),
        (uncertain(25, 0.5, "x"), "share", "25.00 ± 0.98 %", "25.00 ± 0.98 %"),
        (uncertain(25, 0.001, "x"), "share", "25.000 ± 0.050 %", "25.000 ± 0.050 %"),
        (uncertain(25, math.nan, "x"), "share", "25.0 %", "25.0 %"),
    ],
)
def test_a_value_in_both_unit_systems(value, kind, kg, lb):
    assert (value_text(value, kind, "kg"), value_text(value, kind, "lb")) == (kg, lb)


def test_rows_say_what_their_numbers_are_of():
    table = decide(machine(job=Job(slope=6)))
    mown = decide(machine(mower=Mower("mid", FRAME, FRAME)))
    for key in MEANINGS:
        name = table.row(key).name()
        assert ("(no mower counted in)" in name) is (
            key in ("front", "rear", "total", "front_share")
        )
        assert "no mower" not in mown.row(key).name()
        assert ("(beyond your 6°)" in name) is (key in ("grade", "uphill", "sideways"))
        assert (", % of " in name) is key.endswith("_least")
    assert table.row("front_least").name().endswith(", % of the bare tractor")
    assert table.row("rear_least").name().endswith(", % of the whole machine")
    turned = decide(machine(manual=Manual(front_base="whole", rear_base="unladen")))
    assert turned.row("front_least").name().endswith(", % of the whole machine")
    assert turned.row("rear_least").name().endswith(", % of the bare tractor")
    assert turned.value("front_least", "on").value == pytest.approx(100 * 850 / 2100)
    assert turned.value("rear_least", "on").value == pytest.approx(100 * 1250 / 1500)


def test_shares_say_what_the_manual_asks_for():
    table = decide(machine(manual=Manual(front_least=12.5)))
    for key, begins, ends in (
        ("front_least", "56.67 ± 0.", " % (least: 12.5 %)"),
        ("rear_least", "59.52 ± 0.", " % (least: not read yet)"),
    ):
        cell = table.row(key).cells()[0]
        assert cell.startswith(begins) and cell.endswith(ends)


@pytest.mark.parametrize("at, depth", [(1, (0.10, 4)), (2, (0.30, 12))])
def test_depths_and_sides_of_the_ground_rows(at, depth):
    made = ContactPatch(0.2, 0.15, 0.8, 300, 150)
    table = decide(machine(tires=Tires(made, ContactPatch(0.2, 0.15, 0.8, 450, 150))))
    for axle, (heavy, light) in {
        "front": ("on", "loader_off"),
        "rear": ("loader_off", "all_off"),
    }.items():
        row = table.row(f"{axle}_stress_{at}")
        assert row.name("kg") == f"Stress {depth[0]:.2f} m down under a {axle} tire"
        assert row.name("lb") == f"Stress {depth[1]} in down under a {axle} tire"
        load = table.value(axle, heavy).value / 2
        patch = 0.024 * (1 + 0.8 * (load / {"front": 300, "rear": 450}[axle] - 1))
        pressure = load * GRAVITY / patch / 1000
        assert table.value(f"{axle}_pressure", heavy) == pytest.approx(pressure)
        # Boussinesq, factor 3, and Froehlich's largest, 6.
        left = depth[0] ** 2 / (depth[0] ** 2 + patch / math.pi)
        band = [pressure * (1 - left ** (factor / 2)) for factor in (3, 6)]
        assert list(table.value(f"{axle}_stress_{at}", heavy)) == pytest.approx(band)
        assert table.value(f"{axle}_stress_{at}", heavy) > table.value(f"{axle}_stress_{at}", light)


# --- what rules a state out -----------------------------------------------------------------------


@pytest.mark.parametrize(
    "axle, base", [("front", "unladen"), ("front", "whole"), ("rear", "whole")]
)
def test_a_share_is_under_close_or_enough(axle, base):
    """Loader off: 450 of 1500 or of 1800 kg in front, 1350 of 1800 behind."""
    share = {("front", "unladen"): 30, ("front", "whole"): 25, ("rear", "whole"): 75}[axle, base]
    made = machine(manual=Manual(**{f"{axle}_base": base}))
    U = setups(made)[2].least_share(axle)[0].expanded()
    for least, words in (
        (share + 2 * U, "under the"),
        (share + 0.01, "under the"),
        (share - 0.01, "too close"),
        (share - 0.99 * U, "too close"),
        (share - 1.01 * U, ""),
        (share - 5, ""),
    ):
        told = {f"{axle}_base": base, f"{axle}_least": least}
        stopped = decide(machine(manual=Manual(**told))).stopped.get("loader_off", ("",))
        assert (words in stopped[0]) if words else stopped == ("",), (least, stopped)
        if words:
            (text,) = stopped
            whose = {"unladen": "the bare tractor", "whole": "the whole machine"}[base]
            assert (
                text.startswith(f"The {axle} axle has {share:.2f} ± ") and f"% of {whose}" in text
            )
            assert f"the {least:g} % you read" in text
            assert ("Call the service department." in text) is (words == "under the")
            assert ("Weigh it in this set-up before it is used." in text) is (words == "too close")


def test_without_a_plus_or_minus_only_a_share_that_is_met_exactly_is_too_close():
    unknown = case("Hand", L, 600, 900, loader=piece("loader frame", 200, 0))
    for least, words in ((40, "too close"), (40.001, "under the"), (39.999, "")):
        told = replace(unknown, manual=Manual(front_least=least))
        stopped = decide(told).stopped.get("loader_off", ("",))[0]
        assert (words in stopped) if words else stopped == ""


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize(
    "told, name, load, state",
    [
        ("front_axle", "Front axle", 850, "on"),
        ("rear_axle", "Rear axle", 1350, "bucket_off"),
        ("machine", "Whole machine", 2100, "on"),
    ],
)
def test_a_rating_is_over_or_just_met(told, name, load, state, system):
    for limit, over in (
        (load - 10, True),
        (load - 0.1, True),
        (load + 0.1, False),
        (load + 10, False),
    ):
        table = decide(machine(manual=Manual(**{told: limit})))
        assert (state in table.stopped) is over
        bars = {bar.name: bar.over for bar in rating_checks(table.setups[NAMES.index(state)])}
        assert bars.pop(name) is over and set(bars.values()) == {None}


@pytest.mark.parametrize(
    "may, answer, stopped", [(True, "yes", []), (False, "no", ["bucket_off"]), (None, None, [])]
)
def test_a_loader_driven_without_its_bucket(may, answer, stopped):
    told = machine(manual=Manual(bucket_may_come_off=may))
    assert list(decide(told).stopped) == stopped
    asked = {one.asked: one.answer for one in manual_questions(told)}
    assert asked["May the loader be driven without its bucket?"] == answer


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_what_was_read_in_the_manual_is_shown(system):
    told = Manual(front_least=20, rear_least=22.5, front_axle=1000, rear_axle=1500, machine=2200)
    asked = {one.asked: one.answer for one in manual_questions(machine(manual=told), system)}
    assert asked["Least share on the front axle, to steer"] == "20 %"
    assert asked["Least share on the rear axle"] == "22.5 %"
    for name, kg in (("Front axle", 1000), ("Rear axle", 1500), ("Permitted total", 2200)):
        (answer,) = (text for one, text in asked.items() if one.startswith(name))
        (number,) = numbers_in(answer, system)
        assert number == pytest.approx(in_unit(kg, system), abs=0.5)
    assert sum(answer is None for answer in asked.values()) == 6
    assert sum(one.answer is None for one in manual_questions(machine())) == 11


# --- mowers ---------------------------------------------------------------------------------------


def test_the_lighter_and_the_heavier_posture_of_a_mower():
    """400 kg carried half a wheelbase behind takes 200 off the front and puts 600 on the rear; at
    work 100 kg of it stays there, 50 and 150.
    """
    carried, at_work = (
        behind("mower", kg, 0.75, BASE, 0.6, u_weight=1, u_distance=0.01) for kg in (400, 100)
    )
    made = machine(mower=Mower("rear", carried, at_work), manual=Manual(front_least=20))
    table = decide(made)
    for at, (front, rear) in enumerate([(850, 1250), (650, 1350), (450, 1350), (600, 900)]):
        state = table.setups[at]
        assert state.front.value == pytest.approx(front - 50)
        assert state.rear.value == pytest.approx(rear + 150)
        assert state.load("front", "carried").value == pytest.approx(front - 200)
        assert state.load("rear", "carried").value == pytest.approx(rear + 600)
        share, posture = state.least_share("front")
        assert (share.value, posture) == (pytest.approx((front - 200) / 15), "carried")
        share, posture = state.least_share("rear")
        assert (share.value, posture) == (
            pytest.approx(100 * (rear + 150) / (front + rear + 100)),
            "at_work",
        )
        bars = {bar.name: bar.load_kg for bar in rating_checks(state)}
        assert bars == {
            "Front axle": pytest.approx(front - 50),
            "Rear axle": pytest.approx(rear + 600),
            "Whole machine": pytest.approx(front + rear + 400),
        }
        assert state.mower_positions == ("at_work", "carried")
    assert "mower carried (least: 20 %)" in table.row("front_least").cells()[0]
    assert "mowing (least: not read yet)" in table.row("rear_least").cells()[0]
    assert list(table.stopped) == ["loader_off"]
    assert "of the bare tractor, mower carried: under the 20 %" in table.stopped["loader_off"][0]
    mid = machine(mower=Mower("mid", carried, carried))
    assert setups(mid)[0].mower_positions == ("at_work",)
    assert "carried" not in decide(mid).row("front_least").cells()[0]


# --- the other side -------------------------------------------------------------------------------


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_the_ballast_that_comes_off_gives_some_back_to_the_front(system):
    text = said(decide(machine()), "Ballast off does two", system)
    assert numbers_in(text, system) == pytest.approx(
        [in_unit(300, system), in_unit(150, system)], abs=0.5
    )
    assert "off the ground, and puts" in text and text.endswith("back on the front axle.")
    # Over the rear axle it takes nothing off the front, so nothing comes back.
    over = machine(ballast=behind("ballast", 300, 0, BASE, u_weight=1))
    text = said(decide(over), "Ballast off does two", system)
    assert numbers_in(text, system) == pytest.approx([in_unit(300, system)], abs=0.5)
    assert text.endswith("off the ground.")


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_counters_by_hand(system):
    table = decide(machine(job=Job(mowings=4)))
    assert said(table, "A light front axle", system).startswith(
        "With the loader off, the front axle keeps 30.00 ± 0.29 % of the bare tractor. "
    )
    assert said(table, "Bucket off is not", system).startswith(
        "With the bucket off, 50.00 ± 0.66 % of what the loader put on the front axle stays. "
    )
    assert "takes 20 minutes as you stated them: 5 for each mowing." in said(table, "Leave it on")
    text = said(table, "Ballast off must", system)
    assert numbers_in(text, system) == pytest.approx(
        [in_unit(800, system), in_unit(1250, system)], abs=0.6
    )
    titles = [one.title for one in counters(table)]
    assert "Firm, dry ground" not in titles and len(titles) == 7
    alone = [one.title for one in counters(decide(machine(bucket=None, ballast=None)))]
    assert not any("Ballast" in title or "Bucket off" in title for title in alone)


def test_a_raised_bucket_crosses_the_tipping_line_sooner():
    """The same piece a meter higher, by the sideways model, with both angles in its words."""
    stance = stability.Stance(1.1, 1.2, pin=0.4, swing=8)
    table = decide(machine(stance=stance))
    hung = [
        Attachment(one.name, one.weight.value, one.ahead.value, one.height_m)
        for one in (FRAME, BALLAST)
    ]
    low, high = (
        stability.side_tilt(
            table.case.tractor, *hung, Attachment("bucket", 100, L, height), stance=stance
        ).line_deg
        for height in (0.3, 1.3)
    )
    assert low > high
    for system, higher in (("kg", "1.00 m"), ("lb", "39.4 in")):
        text = said(table, "Carry it low", system)
        assert (
            f"at {low:.1f}° with the bucket low and at {high:.1f}° with it {higher} higher" in text
        )
    for lacking in (machine(), machine(stance=stance, bucket=piece("bucket", 100, L, **SURE)),
                    machine(stance=stance, bucket=None)):  # fmt: skip
        assert "tipping line" not in said(decide(lacking), "Carry it low")


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_firm_ground_says_where_the_pressure_comes_from_and_goes_to(system):
    made = ContactPatch(0.2, 0.15, 0.8, 300, 150)
    table = decide(machine(tires=Tires(made, made)))
    text = said(table, "Firm, dry ground", system)
    on, off = (
        load * GRAVITY / (0.024 * (1 + 0.8 * (load / 300 - 1))) / 1000 for load in (425, 225)
    )
    unit, size = {"kg": ("kPa", 1), "lb": ("psi", KG_PER_LB * GRAVITY / 0.0254**2 / 1000)}[system]
    assert numbers_in(text, unit) == pytest.approx([on / size, off / size], abs=0.5)
    assert text.index("goes from") < text.index(" to ")


# --- answers to a customer ------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text, found",
    [
        ("190 kg", [("weight", 190)]),
        ("100 lb", [("weight", 100 * KG_PER_LB)]),
        ("1.8 times", [("times", 1.8)]),
        ("1.8 TIMES", [("times", 1.8)]),
        ("2 tons", []),
        ("3 years", []),
        ("3 weeks and 2 zebras", []),
        ("4 tires", []),
        ("4 yards", []),
        ("30 %", [("share", 30)]),
        ("30 percent", [("share", 30)]),
        ("30 per cent", [("share", 30)]),
        ("30 Per Cent", [("share", 30)]),
        ("20 psi", [("pressure", 20 * KG_PER_LB * GRAVITY / 0.0254**2 / 1000)]),
        ("65 in", [("length", 65 * 0.0254)]),
        ("-80 kg", [("weight", 80)]),
        ("−80 kg", [("weight", 80)]),
        ("191.4 ± 2.2 kg", [("weight", 191.4)]),
        ("191.4 plus or minus 2.2 kg", [("weight", 191.4)]),
        ("1,234 kg", [("weight", 1234)]),
        ("5 kg, 6 kg.", [("weight", 5), ("weight", 6)]),
        ("5", []),
        ("kg", []),
    ],
)
def test_numbers_with_a_unit(text, found):
    made = quantities_in(text)
    assert [kind for kind, _ in made] == [kind for kind, _ in found]
    assert [value for _, value in made] == pytest.approx([value for _, value in found])


@pytest.mark.parametrize(
    "text, said_of",
    [
        # The place named nearest to the number, before or behind it.
        ("On the front axle, not the rear axle, 180 kg", [("rear", 0)]),
        ("180 kg on the front, not so on the rear axle", [("front", 0)]),
        ("From the front 180 kg goes to the rear axle which is far away", [("front", 0)]),
        (
            "The rear axle of it all gets 80 kg and the front axle 180 kg",
            [("rear", 0), ("front", 0)],
        ),
        ("The bucket itself weighs 100 kg", [("piece", 0)]),
        ("It weighs on the front axle with 180 kg", [("front", 0)]),
        ("The whole machine loses 100 kg", [("machine", -1)]),
        ("Under one tire 20 psi", [("tire", 0)]),
        # A sign counts for more than words.
        ("The front axle gains -180 kg", [("front", -1)]),
        ("The front axle loses +180 kg", [("front", 1)]),
        ("The front axle loses −180 kg", [("front", -1)]),
        # What a clause leaves out stands in the number before it.
        ("The front axle loses 180 kg, or 397 lb", [("front", -1), ("front", 0)]),
        ("The front axle loses 180 kg. It gains 80 kg.", [("front", -1), ("", 1)]),
        # A clause without a number opens the next one.
        ("On the front axle, it is 180 kg less", [("front", -1)]),
        ("180 kg less; 80 kg more", [("", -1), ("", 1)]),
        ("Up and down it goes by 80 kg", [("", 0)]),
    ],
)
def test_a_number_belongs_to_the_place_and_way_of_its_clause(text, said_of):
    assert [(one.place, one.way) for one in numbers_said(text)] == said_of


@pytest.mark.parametrize(
    "text, hung",
    [
        ("With the bucket off, 180 kg", False),
        ("Taking the bucket off, 180 kg", False),
        ("Without the bucket 180 kg", False),
        ("Unhook the bucket: 180 kg", None),
        ("With the bucket on, 180 kg", True),
        ("Hang the bucket back on, 180 kg", True),
        ("The bucket puts 180 kg", True),
        ("180 kg", None),
    ],
)
def test_what_is_done_to_the_piece(text, hung):
    assert numbers_said(text)[-1].hung is hung


HAND = machine(bucket=piece("bucket", 100, 1.2, **SURE))


@pytest.mark.parametrize(
    "key, text, found",
    [
        # 180 kg and six percent of it: 10.8 kg either way.
        ("twice", "190.7 kg comes off the front axle.", True),
        ("twice", "190.9 kg comes off the front axle.", False),
        ("twice", "169.3 kg comes off the front axle.", True),
        ("twice", "169.1 kg comes off the front axle.", False),
        ("twice", "1.9 times on the front axle", True),
        ("twice", "1.91 times on the front axle", False),
        ("twice", "1.7 times on the front axle", True),
        ("twice", "1.69 times on the front axle", False),
        # Nothing on the front, six percent of a kilogram.
        ("fluid", "The front axle changes by 0 kg.", True),
        ("fluid", "The front axle changes by 0.05 kg.", True),
        ("fluid", "The front axle changes by 0.07 kg.", False),
    ],
)
def test_a_spoken_number_may_be_six_percent_off(key, text, found):
    claim = next(one for one in CLAIMS if one.key == key)
    assert check_answer(text, claim, HAND)[1].found is found


def test_a_number_on_a_wrong_place_is_told_where_it_belongs():
    claim = next(one for one in CLAIMS if one.key == "twice")
    for text, not_for, belongs in (
        ("180 kg comes off the rear axle.", "the rear axle", "the front axle"),
        ("80 kg comes off the front axle.", "the front axle", "the rear axle"),
        ("180 kg comes off the whole machine.", "the whole machine", "the front axle"),
        ("The bucket itself weighs 180 kg.", "the piece itself", "the front axle"),
        ("180 kg less under a tire.", "one tire", "the front axle"),
    ):
        point = check_answer(text, claim, HAND)[1]
        assert point.said == (
            f"This machine has that number, but not for {not_for}: it belongs to {belongs}. "
            "Which axle do you mean?"
        )


def test_each_point_of_an_answer_is_found_or_asked_for():
    claim = next(one for one in CLAIMS if one.key == "twice")
    good = check_answer("180 kg comes off the front axle.", claim, HAND)
    bad = check_answer("It saves your tires.", claim, HAND)
    assert [point.found for point in good] == [True] * 4 and not any(point.found for point in bad)
    assert [point.said.endswith("?") for point in good] == [False] * 4
    assert ["?" in point.said for point in bad] == [True] * 4
    assert [point.found for point in check_answer("180 kg", claim, HAND)] == [
        True,
        True,
        False,
        True,
    ]


@pytest.mark.parametrize("key", [claim.key for claim in CLAIMS])
def test_the_manual_is_asked_for_where_it_decides(key):
    claim = next(one for one in CLAIMS if one.key == key)
    decides = key in ("bucket_enough", "ballast_fixes", "four_wheel", "raise", "fluid")
    assert (key in MANUAL_DECIDES) is decides
    without, named = (
        check_answer(text, claim, demo_case())[3]
        for text in ("About 100 kg.", "About 100 kg, and your manual decides.")
    )
    assert named.found and without.found is not decides
    assert ("sends the customer to the manual" in named.said) is decides
    assert (without.name == "who decides") is decides


def test_an_answer_is_read_up_to_two_thousand_letters():
    claim = CLAIMS[0]
    assert check_answer("w" * 2000, claim, HAND)
    with pytest.raises(Refusal, match="2001 letters"):
        check_answer("w" * 2001, claim, HAND)
    assert check_answer("w", claim, HAND)


# --- setups ---------------------------------------------------------------------------------------


def test_states_have_their_names_minutes_and_reach():
    table = decide(machine(job=Job(bucket_minutes=3, loader_minutes=17, ballast_minutes=8)))
    assert [one.key for one in table.setups] == list(NAMES)
    assert [one.name for one in table.setups] == list(WORDS.values())
    assert [one.minutes for one in table.setups] == [0, 3, 17, 25]
    assert [one.length_m for one in table.setups] == [2.0, 0.9, 0.4, 0.4]
    alone = setups(machine(bucket=None))
    assert [one.name for one in alone] == ["Loader on", "Loader off", "Loader off, ballast off"]
    assert [one.minutes for one in alone] == [0, 20, 30]
    short = machine(loader=piece("loader frame", 200, 0, **SURE))
    assert [one.length_m for one in setups(short)] == [None, None, 0.4, 0.4]
    assert [one.length_m for one in setups(machine(nose=None))] == [None] * 4


def test_a_piece_behind_carries_the_error_of_both_lengths():
    made = behind("ballast", 300, 0.75, BASE, u_weight=1, u_distance=0.01)
    assert made.ahead.value == pytest.approx(-2.25)
    assert made.ahead.u == pytest.approx(math.hypot(0.003, 0.01))
    assert made.weight.u == 1 and made.height_m is None and made.reach_m is None


def test_loads_carry_the_errors_of_all_that_went_in():
    """Front with all on: 600 + 200 + 200 - 150, each derivative by hand."""
    (on, *_) = setups(machine())
    parts = {
        "reading": 1,
        "frame": on_front(1, 0, L) * 1,
        "frame place": 200 / L * 0.01,
        "bucket": on_front(1, L, L) * 1,
        "bucket place": 100 / L * 0.01,
        "ballast": on_front(1, -2.25, L) * 1,
        "ballast place": 300 / L * 0.01,
        # Of the wheelbase: bucket -W a/L^2, ballast +B b/L^2.
        "tape": (-100 * 1.5 / L**2 + 300 * 0.75 / L**2) * 0.003,
    }
    assert on.front.value == pytest.approx(850)
    assert on.front.u == pytest.approx(math.hypot(*parts.values()), rel=1e-6)
    assert on.rear.value == pytest.approx(900 + on_rear(100, L, L) + on_rear(300, -2.25, L))
