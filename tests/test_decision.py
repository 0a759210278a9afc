"""The decision table against cases worked by hand, both mower mountings, what stops a state, the
order, the other side.
"""

from dataclasses import replace

import pytest

from leverarm import Attachment, Refusal, statics
from leverarm.decision import (
    CAUTIONS,
    LEFT_OUT,
    MATTERS,
    MEANINGS,
    Job,
    Manual,
    Mower,
    Tires,
    behind,
    case,
    counters,
    decide,
    demo_case,
    demo_mower,
    from_fit,
    manual_questions,
    most_per_minute,
    order,
    per_mowing,
    piece,
    rating_checks,
    squash_at,
    steps,
    value_text,
    why_most,
    without,
)
from leverarm.decision.order import alike
from leverarm.decision.table import drive_at
from leverarm.quantities import show_number
from leverarm.stability import Loader, Part
from leverarm.weighing import demo_day, demo_scales, least_squares

L = 1.5


def by_hand(mower=None, **more):
    """Wheelbase 1.5 m, bare 600 and 900 kg; frame 200 kg over the front axle, bucket 100 kg one
    wheelbase ahead,
    ballast 300 kg half a wheelbase behind."""
    sure = {"u_weight": 1, "u_ahead": 0.01}
    return case(
        "Worked tractor",
        L,
        600,
        900,
        0.7,
        u_wheelbase=0.003,
        u_reading=1,
        loader=piece("loader frame", 200, 0, 0.8, reach=0.9, **sure),
        bucket=piece("bucket", 100, 1.5, 0.3, reach=2.0, **sure),
        ballast=behind("ballast", 300, 0.75, statics_base(), 0.5, u_weight=1, u_distance=0.01),
        nose=0.4,
        mower=mower,
        **more,
    )


def statics_base():
    from leverarm.uncertainty import uncertain

    return uncertain(L, 0.003, "wheelbase", cause="tape")


def numbers(table, key):
    return [round(float(value), 6) for value in table.row(key).values]


# Worked on paper: the bucket puts 2 x 100 on the front, the ballast takes 300 x 0.5 off and puts
# 300 x 1.5 on the rear.
@pytest.mark.parametrize(
    "key, worked",
    [
        ("front", [850, 650, 450, 600]),
        ("rear", [1250, 1350, 1350, 900]),
        ("total", [2100, 2000, 1800, 1500]),
        ("front_share", [100 * 850 / 2100, 32.5, 25, 40]),
        ("front_least", [100 * 850 / 1500, 100 * 650 / 1500, 30, 40]),
        ("rear_least", [100 * 1250 / 2100, 67.5, 75, 60]),
        ("length", [2.0, 0.9, 0.4, 0.4]),
        ("minutes", [0, 5, 20, 30]),
    ],
)
def test_four_setups_by_hand(key, worked):
    assert numbers(decide(by_hand()), key) == pytest.approx(worked)


def test_a_rear_mower_carried_is_what_lightens_the_front():
    """400 kg carried half a wheelbase behind takes 200 off the front; at work it stands on its own
    wheels.
    """
    carried = behind("mower", 400, 0.75, statics_base(), 0.6, u_weight=1, u_distance=0.01)
    table = decide(by_hand(Mower("rear", carried, None), manual=Manual(front_least=20)))
    assert numbers(table, "front") == [850, 650, 450, 600], (
        "mowing, it weighs nothing on the machine"
    )
    assert numbers(table, "front_least") == pytest.approx(
        [100 * kg / 1500 for kg in (650, 450, 250, 400)]
    )
    assert (
        list(table.stopped) == ["loader_off"] and "under the 20 %" in table.stopped["loader_off"][0]
    )
    assert (
        "mower carried" in table.stopped["loader_off"][0]
        and "least: 20 %" in table.row("front_least").cells()[2]
        and "bare tractor" in table.row("front_least").name()
    )
    assert [one.key for one in order(table, "front").stopped] == ["loader_off"]


def test_a_mower_so_heavy_that_the_front_lifts_is_said_and_not_computed_past():
    carried = behind("mower", 950, 0.75, statics_base(), 0.6, u_weight=1, u_distance=0.01)
    table = decide(by_hand(Mower("rear", carried, None)))
    assert "carries nothing" in table.stopped["loader_off"][0]
    row = table.row("front")
    assert (
        row.values[2] is None
        and row.cells()[2] == "an axle carries nothing"
        and table.row("length").values[2] == 0.4
    )


@pytest.mark.parametrize("kind", ["mid", "rear", "trailed"])
def test_every_row_has_numbers_meaning_and_both_unit_systems(kind):
    table = decide(demo_case(kind, weighed=True))
    assert [row.key for row in table.rows] == list(MEANINGS)
    for row in table.rows:
        assert all(row.cells("kg")) and all(row.cells("lb")) and len(row.values) == 4
        assert (
            row.meaning.reason.endswith(".") and row.meaning.confidence and row.meaning.leaves_out
        )
    assert "kg" not in " ".join(table.row("front").cells("lb")) and "4 in down" in table.row(
        "front_stress_1"
    ).name("lb")


def test_weigh_day_and_told_numbers_agree_within_their_plus_or_minus():
    told, weighed_too = decide(demo_case()), decide(demo_case(weighed=True))
    for key in ("front", "rear", "total"):
        for one, other in zip(told.row(key).values, weighed_too.row(key).values):
            assert abs((one - other).value) < (one - other).expanded()


def test_a_weighed_state_gets_back_what_the_scales_showed():
    """Frame and bucket on: the very readings, 2274 and 1525 lb.  With the ballast they are made of
    its own pair, which the fifth set-up, 1995 and 2327 lb, bears out within 1 kg.
    """
    read = demo_case(None, weighed=True)
    both = decide(replace(read, ballast=None)).setups[0]
    assert both.front.value == pytest.approx(2274 * 0.45359237)
    assert both.rear.value == pytest.approx(1525 * 0.45359237)
    on = decide(read).setups[0]
    assert on.front.value == pytest.approx(1995 * 0.45359237, abs=1)
    assert on.rear.value == pytest.approx(2327 * 0.45359237, abs=1)
    assert on.front.u < sum(p.weight.u for p in on.pieces()) + on.case.front.u, (
        "shared errors are not counted twice"
    )


def test_without_ballast_or_bucket_the_setups_that_differ_are_shown():
    sure = {"u_weight": 1, "u_ahead": 0.01}
    bare = case("Small", L, 600, 900, loader=piece("loader frame", 200, 0, **sure))
    assert [one.key for one in decide(bare).setups] == ["on", "loader_off"]
    assert [
        one.key
        for one in decide(
            case(
                "Small",
                L,
                600,
                900,
                loader=piece("loader frame", 200, 0),
                bucket=piece("bucket", 90, 1),
            )
        ).setups
    ] == ["on", "bucket_off", "loader_off"]


def test_what_was_not_told_stays_a_request():
    table = decide(
        case(
            "Small",
            L,
            600,
            900,
            loader=piece("loader frame", 200, 0),
            bucket=piece("bucket", 90, 1),
        )
    )
    asked = {
        key: table.row(key).cells()[0]
        for key in ("front_pressure", "rear_stress_2", "grade", "sideways", "length")
    }
    patch = (
        "not told: contact patch of a front tire (length, width, shape), its pressure and "
        "the load on it"
    )
    heights = "not told: height of the tractor, height of the loader frame, height of the bucket"
    assert asked["front_pressure"] == patch and asked["rear_stress_2"] == patch.replace(
        "front", "rear"
    )
    assert asked["grade"] == heights
    assert asked["sideways"] == heights + ", track, front axle pin and swing"
    assert asked["length"] == (
        "not told: farthest point of the tractor, farthest point of the loader frame, "
        "farthest point of the bucket"
    )
    assert "(± not known)" in table.row("front").cells()[0] and table.row("scuff").cells()[
        0
    ].startswith("not told: lead")
    assert "not read yet" in table.row("front_least").cells()[0]
    with pytest.raises(Refusal, match="contact patch"):
        order(table, "front_pressure")


# --- what stops a state
# ------------------------------------------------------------------------------


def test_only_what_was_read_in_a_manual_stops_a_state():
    assert not decide(demo_case("rear")).stopped
    strict = decide(
        demo_case(
            "rear", manual=Manual(front_least=30, front_axle="940 kg", bucket_may_come_off=False)
        )
    )
    assert list(strict.stopped) == ["bucket_off", "loader_off"]
    assert "does not allow" in strict.stopped["bucket_off"][0]
    heavy = decide(demo_case("mid", manual=Manual(front_axle="940 kg")))
    assert list(heavy.stopped) == ["on"] and "over the limit" in heavy.stopped["on"][0]
    assert [bar.over for bar in rating_checks(heavy.setups[0])] == [True, None, None]


def test_too_close_to_call_is_no_permission():
    share = decide(demo_case("rear")).setups[2].least_share("front")[0]
    near = decide(demo_case("rear", manual=Manual(front_least=share.value - share.u / 2)))
    assert "too close" in near.stopped["loader_off"][0]
    clear = decide(demo_case("rear", manual=Manual(front_least=share.value - 5 * share.u)))
    assert "loader_off" not in clear.stopped


# --- order, minutes
# ----------------------------------------------------------------------------------


def test_order_by_what_matters():
    table = decide(by_hand())
    assert [[one.key for one in place] for place in order(table, "front").places] == [
        ["loader_off"],
        ["all_off"],
        ["bucket_off"],
        ["on"],
    ]
    assert [[one.key for one in place] for place in order(table, "total").places] == [
        ["all_off"],
        ["loader_off"],
        ["bucket_off"],
        ["on"],
    ]
    assert [one.key for place in order(table, "minutes").places for one in place] == [
        "on",
        "bucket_off",
        "loader_off",
        "all_off",
    ]


def test_what_cannot_be_told_apart_shares_a_place_until_the_next_row_parts_it():
    table = decide(by_hand())
    tied = order(table, "rear").places  # 1250, 1350, 1350, 900
    assert {one.key for one in tied[2]} == {"bucket_off", "loader_off"} and "too close" in order(
        table, "rear"
    ).sentences()[2]
    assert [[one.key for one in place] for place in order(table, "rear", "front").places] == [
        ["all_off"],
        ["on"],
        ["loader_off"],
        ["bucket_off"],
    ]


def test_order_refuses_what_has_no_wish():
    with pytest.raises(Refusal, match="at least one row"):
        order(decide(by_hand()))
    with pytest.raises(Refusal, match="what matters"):
        order(decide(by_hand()), "front_share")
    with pytest.raises(Refusal, match="row"):
        order(decide(by_hand()), "color")


@pytest.mark.usefixtures("metric")
def test_per_minute_by_hand():
    made = {(s.before.key, s.after.key): s for s in steps(decide(by_hand()))}
    worked = {
        ("on", "bucket_off"): (-200, 100, -100, 5),
        ("bucket_off", "loader_off"): (-200, 0, -200, 15),
        ("on", "loader_off"): (-400, 100, -300, 20),
        ("loader_off", "all_off"): (150, -450, -300, 10),
    }
    for pair, (front, rear, total, minutes) in worked.items():
        step = made[pair]
        assert (step.front.value, step.rear.value, step.total.value, step.minutes) == pytest.approx(
            (front, rear, total, minutes), abs=1e-9
        )
    assert most_per_minute(decide(by_hand())).after.key == "bucket_off"  # 40 kg a minute
    assert most_per_minute(decide(by_hand()), "rear").after.key == "all_off"  # 45 kg a minute
    assert (
        "40.0" in made["on", "bucket_off"].sentence()
        and "more on the front" in made["loader_off", "all_off"].sentence()
    )


def test_a_difference_knows_what_its_two_setups_share():
    step = steps(decide(demo_case(weighed=True)))[0]
    assert step.front.u < step.before.front.u, "the scale's own errors cancel in a difference"


def test_minutes_spread_over_the_mowings():
    assert per_mowing(decide(by_hand(job=Job(mowings=4))).setups[2]) == 5


# --- the other side
# ----------------------------------------------------------------------------------


def test_counters_carry_numbers_and_promise_nothing():
    for kind in ("mid", "rear"):
        said = {one.title: one.said for one in counters(decide(demo_case(kind)))}
        assert {
            "Leave it on for a short job",
            "Carry it low",
            "Ballast off must come on again",
            "A light front axle",
        } <= set(said)
        assert "safe" not in " ".join(said.values()).lower()
    assert "mower carried" in said["A light front axle"]


@pytest.mark.usefixtures("metric")
def test_ballast_forgotten_by_hand():
    table = decide(by_hand())
    bare = without(table.setups[0], "ballast")
    assert (bare.front.value, bare.rear.value) == pytest.approx((1000, 800))
    said = next(one.said for one in counters(table) if "come on again" in one.title)
    assert "800.0" in said and "1,250.0" in said
    assert "measure the loader" in said and "would empty" not in said, "nobody told the arms"


def test_the_load_that_empties_the_rear_axle_is_the_worst_of_the_lift():
    """Pivot 0.5 m behind the front axle, arm 2 m: level, the pin is one wheelbase ahead of the
    axle.

    Arms of no weight worth naming, bucket and load on the pin.  At the lowest, 30 degrees down, the
    pin is
    2 cos 30 - 0.5 = 1.232 m ahead; there the rear has 900 - 100 x 1.232/1.5 = 817.9 kg, and
    817.9 x 1.5/1.232 = 996 kg would empty it.  Level, the rear has 900 - 100 = 800 kg, and 800 kg
    one wheelbase ahead empty it; with the ballast, 300 x 1.5 = 450 kg more on the rear, 1250 kg.
    """
    arms = Loader(
        "-0.5 m",
        "1.2 m",
        "2 m",
        "0.2 m",
        "2.0 m",
        frame=Attachment("loader frame", 200, 0, 0.8),
        arms=Part("arms", 0.001, 0, 0),
        bucket=Part("bucket", 100, 0, 0),
    )
    low = replace(by_hand(arms=arms), bucket=piece("bucket", 100, 2 * 0.75**0.5 - 0.5, 0.2))
    for told, system, worst in (
        (low, "kg", ("800 kg", "1,250 kg")),
        (low, "lb", ("1,764", "2,756")),
    ):
        said = {one.title: one.said for one in counters(decide(told), system)}
        said = said["Ballast off must come on again"]
        assert "worst position" in said and all(number in said for number in worst)
        assert said.index(worst[0]) < said.index(worst[1]), "less load without the ballast"
        assert "996" not in said and "2,195" not in said


@pytest.mark.usefixtures("metric")
def test_what_the_manual_must_decide_is_asked_until_it_was_read():
    asked = {
        q.asked: q.answer
        for q in manual_questions(
            demo_case(manual=Manual(front_axle="1000 kg", bucket_may_come_off=True))
        )
    }
    assert (
        asked["Front axle rating"] == "1,000.0 kg"
        and asked["May the loader be driven without its bucket?"] == "yes"
    )
    assert asked["Rear axle rating"] is None and asked["Steepest slope, up and across"] is None
    assert "recommended" in CAUTIONS[0] and any("rut" in line for line in LEFT_OUT)


# --- parts
# -------------------------------------------------------------------------------------------


def test_squash_follows_the_load_and_loader_off_is_as_told():
    table = decide(demo_case())
    drives = [drive_at(setup, table.setups) for setup in table.setups]
    assert drives[2] == table.case.drive.drive and drives[0].lead < drives[1].lead < drives[2].lead
    assert squash_at(0.01, 600, 600, 1000) == 0 and squash_at(
        0.01, 1000, 600, 1000
    ) == pytest.approx(0.01)
    scuff = table.row("scuff").values
    assert scuff[0] == pytest.approx(100) and scuff[2] < scuff[1] < 100
    # By hand: the lighter axle slips, and its rubber goes as its load times the distance slipped.
    mowing, slipped = table.case.drive.mowing, []
    for setup, drive in zip(table.setups, drives):
        load = min(setup.front.value, setup.rear.value)
        slipped.append(load * sum(map(abs, mowing.slip_m(drive))))
    assert scuff == pytest.approx([100 * one / slipped[0] for one in slipped])


def test_the_rear_slips_where_a_loader_makes_the_front_the_heavier_axle():
    """Counterweight and mower off, the front carries more: then the rear is what wears."""
    table = decide(replace(demo_case(None), ballast=None))
    on, off = table.setups[0], table.setups[-1]
    assert on.front.value > on.rear.value and off.front.value < off.rear.value
    drives = [drive_at(setup, table.setups) for setup in (on, off)]
    on_m, off_m = (table.case.drive.mowing.slipped_m(drive) for drive in drives)
    wanted = 100 * off.front.value * off_m / (on.rear.value * on_m)
    assert table.value("scuff", "loader_off") == pytest.approx(wanted)


def test_no_lead_acts_with_the_drive_out():
    out = demo_case()
    out = replace(out, drive=replace(out.drive, engaged=False))
    assert decide(out).row("scuff").cells()[0].startswith("0 no lead acts")


def test_slopes_and_margins():
    table = decide(demo_case())
    for key in ("grade", "uphill", "sideways"):
        row = table.row(key)
        for value, cell in zip(row.values, row.cells()):
            assert cell == f"{value:.1f}° ({show_number(value - 6, 1, sign=True)}°)"
        assert row.name().endswith("(beyond your 6°)")
    low, high = (
        decide(demo_case(job=Job(surface=s))).value("grade", "on")
        for s in ("wet grass", "dry concrete")
    )
    assert low < high


@pytest.mark.parametrize(
    "make, words",
    [
        (lambda: Mower("sideways", None, None), "mower"),
        (lambda: Job(surface="ice"), "surface"),
        (lambda: Job(brakes="none"), "brakes"),
        (lambda: Job(loader_minutes=0), "minutes for the loader"),
        (lambda: Manual(front_least=120), "least share"),
        (lambda: Manual(rear_base="moon"), "base"),
        (lambda: piece("bucket", 0, 1), "weight of the bucket"),
        (lambda: piece("bucket", 10, "30 m"), "overhang"),
        (lambda: behind("ballast", 10, -1, 1.5), "behind the rear axle"),
        (lambda: case("x", 1.5, 0, 900, loader=piece("f", 1, 0)), "front reading"),
        (lambda: decide(demo_case()).value("front", "flying"), "set-up"),
    ],
)
def test_what_is_refused_is_refused_in_a_sentence(make, words):
    with pytest.raises(Refusal, match=words):
        make()


def test_a_record_without_a_loader_is_refused():
    fit = least_squares(demo_day().setups[:2], 1.65, scales=demo_scales(), u_wheelbase=0.003)
    with pytest.raises(Refusal, match="record"):
        from_fit("x", fit, 1.65, loader="front loader")
    bare = from_fit("x", fit, 1.65)
    assert bare.bucket is None and bare.loader.weight.value == pytest.approx(210, abs=5)


@pytest.mark.usefixtures("metric")
def test_bands_and_angles_as_text():
    assert (
        value_text((10, 20), "pressure") == "10 to 20 kPa"
        and value_text(9.44, "angle") == "9.4°"
        and value_text(None, "weight") == ""
    )
    assert set(MATTERS) <= set(MEANINGS) and all(MEANINGS[key].wanted for key in MATTERS)
    assert (
        Tires().front is None
        and demo_mower("trailed").words == "trailed mower"
        and statics.amplification(1, 1) == 2
    )


def test_the_bucket_buys_most_per_minute_because_of_the_minutes():
    """The demo machine: the frame takes more off than the bucket, but takes three times as long."""
    made = demo_case()
    taken = {
        piece.name: piece.weight.value * (1 + piece.ahead.value / made.wheelbase.value)
        for piece in (made.bucket, made.loader)
    }
    assert taken["loader frame"] > taken["bucket"]
    why = why_most(decide(replace(made, job=Job(bucket_minutes=5, loader_minutes=20))))
    assert why.startswith("Not because it takes more off, but because it takes less time")
    assert "in 5 minutes" in why and "in 15 minutes" in why
    quick = why_most(decide(replace(made, job=Job(bucket_minutes=5, loader_minutes=6))))
    assert quick.startswith("It takes more off, and in less time") and "in 1 minute." in quick


def test_the_middle_of_a_band_decides_to_a_fraction():
    """Bands 1 to 2 and 1.2 to 2.2 are not alike, though both middles are 1 when cut to whole."""
    table = decide(demo_case())
    row = table.row("front_pressure")
    narrow = replace(row, values=((1.0, 2.0), (1.2, 2.2), (5.0, 6.0), (9.0, 9.0)))
    assert row.meaning.coarse < 0.1
    assert not alike(narrow, 0, 1) and alike(narrow, 0, 0)


def test_a_step_begins_its_second_name_in_small_letters():
    step = steps(decide(demo_case()))[0]
    assert step.sentence().startswith("Bucket off, from bucket and loader on: ")
