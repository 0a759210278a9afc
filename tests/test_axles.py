"""Axle loads: values worked by hand, grades, the lifted axle, shares, and what is refused."""

import copy
import dataclasses
import math
import pickle
import random

import pytest
from worked import worked_loader, worked_tractor

from leverarm import (
    Attachment,
    Refusal,
    Tractor,
    compare,
    predict,
    shares,
    statics,
)
from leverarm.axles import MOST_PIECES, AxleLoads, Change, Lift, Share

PLOT = worked_tractor()
FRAME, BUCKET = worked_loader()
BALLAST = Attachment("ballast box", "200 kg", ahead=-2.65, height=0.5)

# Worked by hand: 1400 kg on 1.65 m; frame 210 kg at 0.15 m; bucket 110 kg at 1.20 m; ballast 200 kg
# at 1.00 m behind.
LEVEL = [
    ((), 600, 800),
    ((BUCKET,), 600 + 190, 800 - 80),
    ((FRAME,), 600 + 229.0909, 800 - 19.0909),
    ((FRAME, BUCKET), 1019.0909, 700.9091),
    ((BALLAST,), 600 - 121.2121, 800 + 321.2121),
    ((FRAME, BUCKET, BALLAST), 897.8788, 1022.1212),
]


@pytest.mark.parametrize(
    "pieces, front, rear",
    LEVEL,
    ids=lambda x: "+".join(p.name for p in x) if isinstance(x, tuple) else "",
)
def test_level(pieces, front, rear):
    loads = predict(PLOT, *pieces)
    assert (loads.front_kg, loads.rear_kg) == pytest.approx((front, rear), abs=5e-5)
    assert loads.total_kg == pytest.approx(1400 + sum(piece.weight_kg for piece in pieces))
    assert loads.lift is None
    assert loads.front_share == pytest.approx(100 * front / (front + rear), abs=1e-5)
    assert loads.front_share + loads.rear_share == pytest.approx(100)


def test_level_ground_needs_no_height_and_heights_do_not_matter_there():
    flat = predict(Tractor("bare", 1.65, 600, 800), Attachment("bucket", 110, 1.2))
    assert (
        flat
        == predict(PLOT, BUCKET)
        == predict(PLOT, BUCKET, grade_deg=0)
        == predict(PLOT, BUCKET, grade_deg="0 %")
    )


# The bare machine of worked.py, center of gravity 0.942857 m behind the front axle and 0.70 m up,
# worked by hand: front 1400 (c 0.428571 - s 0.424242), rear 1400 (c 0.571429 + s 0.424242).
GRADES = [
    (10, 487.747, 890.984),
    (-10, 694.022, 684.709),
    ("10 %", 537.923, 855.129),
    (20, 360.676, 954.893),
    (45, 4.285, 985.664),
    (-45, 844.244, 145.706),
]


@pytest.mark.parametrize("grade, front, rear", GRADES, ids=str)
def test_on_a_grade(grade, front, rear):
    loads = predict(PLOT, grade_deg=grade)
    assert (loads.front_kg, loads.rear_kg) == pytest.approx((front, rear), abs=2e-3)


def test_a_grade_takes_its_load_by_cosine_and_height():
    """The bucket at 10 degrees nose uphill: 110 (c (1 + 1.2/1.65) - s 0.35/1.65)."""
    change = compare(predict(PLOT, grade_deg=10), predict(PLOT, BUCKET, grade_deg=10))
    c, s = math.cos(math.radians(10)), math.sin(math.radians(10))
    assert change.front_kg == pytest.approx(110 * (c * 2.85 - s * 0.35) / 1.65)
    assert change.rear_kg == pytest.approx(110 * (s * 0.35 - c * 1.2) / 1.65)
    assert change.total_kg == pytest.approx(110 * c)


LIFTS = [
    # pieces, axle, piece, weight: by hand, 800 kg x 1.65 m / overhang
    ((Attachment("pallet", 700, 2.0),), "rear", "pallet", 660),
    ((BUCKET, Attachment("pallet", 700, 2.0)), "rear", "pallet", 594),
    ((Attachment("pallet", 700, 2.0), BUCKET), "rear", "pallet", 660),
    ((Attachment("mast", 600, -3.65),), "front", "mast", 495),
]


@pytest.mark.parametrize(
    "pieces, axle, piece, weight", LIFTS, ids=lambda x: str(x) if isinstance(x, str) else ""
)
def test_a_lifted_axle_is_told_not_refused(pieces, axle, piece, weight):
    loads = predict(PLOT, *pieces)
    assert loads.lift == Lift(axle, piece, pytest.approx(weight))
    empty, loaded = ("rear_kg", "front_kg") if axle == "rear" else ("front_kg", "rear_kg")
    assert getattr(loads, empty) == 0.0
    assert getattr(loads, loaded) == pytest.approx(1400 + sum(one.weight_kg for one in pieces))


def test_the_piece_named_is_the_one_that_took_the_axle_through_zero_for_good():
    pallet, bale = Attachment("pallet", 700, 2.0), Attachment("bale", 400, 2.0)
    assert predict(PLOT, pallet, BALLAST).lift is None
    lift = predict(PLOT, pallet, BALLAST, bale).lift
    # The rear stands at 800 - 848.48 + 321.21 = 272.73 before the bale; 272.73 x 1.65/2 takes that
    # off.
    assert lift == Lift("rear", "bale", pytest.approx(225.0))
    at_limit = predict(PLOT, pallet, BALLAST, Attachment("bale", lift.weight_kg, 2.0))
    assert at_limit.rear_kg == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    "ahead, loads", [(2.0, AxleLoads(1500.0, 0.0)), (-4.0, AxleLoads(0.0, 1500.0))]
)
def test_an_axle_that_just_reads_zero_is_not_lifted_yet(ahead, loads):
    assert predict(Tractor("even", 2.0, 500, 500), Attachment("mast", 500, ahead)) == loads


@pytest.mark.parametrize(
    "first, named",
    [
        (500, Lift("rear", "first", 500.0)),  # takes all of it; the next one only tips
        (499.5, Lift("rear", "next", 0.5)),  # leaves half a kilogram for the next one
        (1, Lift("rear", "next", 499.0)),
    ],
)
def test_the_piece_that_takes_the_last_load_is_named(first, named):
    even = Tractor("even", 2.0, 500, 500)
    assert (
        predict(even, Attachment("first", first, 2.0), Attachment("next", 600, 2.0)).lift == named
    )


def test_the_lifting_weight_is_what_the_rear_holds_times_the_lever():
    lift = predict(PLOT, Attachment("pallet", 5000, 1.3)).lift
    assert lift.weight_kg == pytest.approx(800 * 1.65 / 1.3)


def test_a_grade_alone_can_lift_an_axle():
    tall = Tractor("tall", 1.65, 600, 800, height=2.0)
    assert predict(tall, grade_deg=19).lift is None
    for pieces in ((), (Attachment("mast", 100, -2.0, 1.0),)):
        loads = predict(tall, *pieces, grade_deg=30)
        assert loads.lift == Lift("front", "grade", None) and loads.front_kg == 0.0
        assert "on this grade, before anything was hung" in loads.lift.sentence()


def test_the_last_kilogram_never_blames_the_grade_on_level_ground():
    """Right at the limit rounding decides whether the axle still carries a trace; the words stay
    true either way.
    """
    draw = random.Random(70)
    lifted = 0
    for _ in range(3000):
        tractor = Tractor("t", draw.uniform(1, 3), draw.uniform(100, 2000), draw.uniform(100, 2000))
        pieces = [
            Attachment(f"p{i}", draw.uniform(1, 300), draw.uniform(0.1, 1))
            for i in range(draw.randint(0, 4))
        ]
        left = predict(tractor, *pieces)
        if left.lift:
            continue
        ahead = draw.uniform(0.1, 3)
        last = statics.lifting_weight(left.rear_kg, ahead, tractor.wheelbase_m)
        if not 0 < last < 50_000:
            continue
        loads = predict(tractor, *pieces, Attachment("last", last, ahead))
        assert loads.rear_kg == pytest.approx(0, abs=1e-9)
        if loads.lift:
            lifted += 1
            assert loads.lift == Lift("rear", "last", pytest.approx(last))
    assert lifted > 300


@pytest.mark.usefixtures("metric")
def test_the_sentence_names_axle_piece_weight_and_the_end_of_statics():
    lift = predict(PLOT, Attachment("pallet", 700, 2.0)).lift
    assert lift.sentence() == (
        "The rear axle carries nothing. It lost its last load when the pallet reached 660.0 kg. "
        "With more the machine tips, and these equations no longer hold."
    )
    assert "reached 1,455 lb." in lift.sentence("lb")


def test_shares_are_in_the_order_given_and_add_up():
    parts = shares(PLOT, FRAME, BUCKET, BALLAST)
    assert [part.name for part in parts] == ["loader frame", "bucket", "ballast box"]
    assert [(part.front_kg, part.rear_kg) for part in parts] == [
        pytest.approx(pair, abs=1e-4)
        for pair in ((229.0909, -19.0909), (190, -80), (-121.2121, 321.2121))
    ]
    change = compare(predict(PLOT), predict(PLOT, FRAME, BUCKET, BALLAST))
    for field in ("front_kg", "rear_kg", "total_kg"):
        assert sum(getattr(part, field) for part in parts) == pytest.approx(getattr(change, field))
    assert shares(PLOT) == ()


def test_shares_beyond_the_limit_no_longer_add_up_to_what_the_scales_do():
    heavy = Attachment("pallet", 700, 2.0)
    (part,) = shares(PLOT, heavy)
    assert part.rear_kg == pytest.approx(-848.4848)
    assert compare(predict(PLOT), predict(PLOT, heavy)).rear_kg == -800


def test_compare_is_after_minus_before():
    assert compare(AxleLoads(600, 800), AxleLoads(790, 720)) == Change(190, -80)
    assert compare(AxleLoads(790, 720), AxleLoads(600, 800)).total_kg == -110


ANGLES = "an angle from −45 deg to 45 deg is allowed; check the number and its unit."
REFUSED = [
    ((PLOT,), 45.1, f"grade: 45.1 was given; {ANGLES}"),
    ((PLOT,), "-46 deg", f"grade: -46 deg was given; {ANGLES}"),
    ((PLOT,), "101 %", f"grade: 101 % was given; {ANGLES}"),
    (
        (PLOT,),
        math.nan,
        "grade: nan was given; an angle such as 10 deg is allowed; give a finite number.",
    ),
    (
        (PLOT,),
        True,
        (
            "grade: True was given; an angle such as 10 deg is allowed; "
            "give a number or text with a unit."
        ),
    ),
    (
        (PLOT,),
        None,
        (
            "grade: nothing was given; an angle such as 10 deg is allowed; "
            "give a number or text with a unit."
        ),
    ),
    (
        (PLOT,),
        "2 kg",
        (
            "grade: 2 kg was given; an angle such as 10 deg is allowed; "
            '"kg" is a unit of weight, so give an angle.'
        ),
    ),
    (
        (Tractor("bare", 1.65, 600, 800), BUCKET),
        "5 deg",
        "grade: 5 deg was given; level ground, or a grade when every height "
        "is given, is allowed; give the height of the center of gravity of the bare.",
    ),
    (
        (PLOT, FRAME, Attachment("fork", 50, 1)),
        1e-9,
        "grade: 1e-09 was given; level ground, or a grade when every height "
        "is given, is allowed; give the height of the center of gravity of the fork.",
    ),
    (
        ("plot",),
        0,
        (
            "machine: plot was given; a Tractor is allowed; make one with Tractor(name, "
            "wheelbase, front, rear)."
        ),
    ),
    (
        (None,),
        0,
        (
            "machine: nothing was given; a Tractor is allowed; make one with Tractor(name, "
            "wheelbase, front, rear)."
        ),
    ),
    (
        (PLOT, (FRAME, BUCKET)),
        0,
        "attachments: a value of type tuple was given; one Attachment after another is allowed; "
        "write a star before a list of them, as in predict(tractor, *pieces).",
    ),
    (
        (PLOT, None),
        0,
        "attachments: nothing was given; one Attachment after another is allowed; "
        "write a star before a list of them, as in predict(tractor, *pieces).",
    ),
    (
        (PLOT, PLOT),
        0,
        "attachments: a value of type Tractor was given; one Attachment after another is allowed; "
        "write a star before a list of them, as in predict(tractor, *pieces).",
    ),
    (
        (PLOT, *[BUCKET] * 101),
        0,
        "attachments: a list of 101 was given; a list of up to 100 is allowed; hang fewer pieces.",
    ),
]


@pytest.mark.parametrize("question", [predict, shares], ids=["predict", "shares"])
@pytest.mark.parametrize(
    "told, grade, sentence", REFUSED, ids=[words[:45] for *_, words in REFUSED]
)
def test_refused(question, told, grade, sentence):
    with pytest.raises(Refusal) as caught:
        question(*told, grade_deg=grade)
    assert str(caught.value) == sentence


def test_a_hundred_pieces_hang():
    light = Attachment("weight", 1, -1.65)
    assert predict(PLOT, *[light] * MOST_PIECES).rear_kg == pytest.approx(900)


@pytest.mark.parametrize(
    "value",
    [
        predict(PLOT, BUCKET),
        Lift("rear", "bucket", 660.0),
        Change(1.0, 2.0),
        Share(1.0, 2.0, "bucket"),
        predict(PLOT, Attachment("pallet", 700, 2.0)),
    ],
    ids=repr,
)
def test_results_are_sound_frozen_values(value):
    for twin in (
        copy.copy(value),
        copy.deepcopy(value),
        pickle.loads(pickle.dumps(value)),
        dataclasses.replace(value),
    ):
        assert twin == value and hash(twin) == hash(value) and repr(twin) == repr(value)
    with pytest.raises(dataclasses.FrozenInstanceError):
        setattr(value, next(iter(dataclasses.asdict(value))), 0)
    assert Change(1.0, 2.0) != Share(1.0, 2.0, "bucket")
