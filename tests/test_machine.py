"""Tractor and Attachment: what is accepted, what is refused and in which words, and that they are
sound values.
"""

import copy
import dataclasses
import math
import pickle

import numpy as np
import pytest

from leverarm import (
    Attachment,
    Refusal,
    Tractor,
    demo_ballast,
    demo_loader,
    demo_tractor,
    predict,
)
from leverarm.machine import DEMO_NOTE, MOST_AHEAD_M, MOST_HEIGHT_M, MOST_NAME, MOST_WEIGHT_KG


def tractor(**told):
    return Tractor(
        **{
            "name": "Yard tractor",
            "wheelbase": "1.65 m",
            "front": "600 kg",
            "rear": "800 kg",
            **told,
        }
    )


def attachment(**told):
    return Attachment(**{"name": "bucket", "weight": "110 kg", "ahead": "1.20 m", **told})


STORED = [
    (
        tractor(),
        {
            "name": "Yard tractor",
            "wheelbase_m": 1.65,
            "front_kg": 600,
            "rear_kg": 800,
            "height_m": None,
        },
    ),
    (
        tractor(wheelbase="65 in", front="1,323 lb", rear="1764#", height="28 in"),
        {"wheelbase_m": 1.651, "front_kg": 600.1027055, "rear_kg": 800.1369407, "height_m": 0.7112},
    ),
    (
        tractor(wheelbase="5' 5\"", front=np.float64(600), rear=np.int32(800), height=0),
        {"wheelbase_m": 1.651, "front_kg": 600, "rear_kg": 800, "height_m": 0},
    ),
    (tractor(name="  two \n words "), {"name": "two words"}),
    (tractor(wheelbase=0.5), {"wheelbase_m": 0.5}),
    (tractor(wheelbase=5), {"wheelbase_m": 5}),
    (tractor(wheelbase="30 cm", unusual_wheelbase=True), {"wheelbase_m": 0.3}),
    (tractor(wheelbase=50, unusual_wheelbase=True), {"wheelbase_m": 50}),
    (tractor(wheelbase="1,650 m", unusual_wheelbase=True), {"wheelbase_m": 1.65}),
    (tractor(front=1e-9, rear=MOST_WEIGHT_KG), {"front_kg": 1e-9, "rear_kg": 50_000}),
    (attachment(), {"name": "bucket", "weight_kg": 110, "ahead_m": 1.2, "height_m": None}),
    (
        attachment(weight="243 lb", ahead="47¼ in", height='14"'),
        {"weight_kg": 110.22294591, "ahead_m": 1.20015, "height_m": 0.3556},
    ),
    (attachment(ahead=0), {"ahead_m": 0}),
    (attachment(ahead="−2.4 m"), {"ahead_m": -2.4}),
    (attachment(ahead=-MOST_AHEAD_M), {"ahead_m": -20}),
    (attachment(ahead=MOST_AHEAD_M, height=MOST_HEIGHT_M), {"ahead_m": 20, "height_m": 10}),
    (attachment(name="b" * MOST_NAME), {"name": "b" * 60}),
]


@pytest.mark.parametrize("made, fields", STORED, ids=lambda x: str(x)[:60])
def test_stored(made, fields):
    for name, value in fields.items():
        stored = getattr(made, name)
        assert stored == (pytest.approx(value) if isinstance(value, (int, float)) else value)
        assert value is None or type(stored) in (float, str)


SUCH_WEIGHT, SUCH_LENGTH = "a weight such as 110 kg or 243 lb", "a length such as 1.65 m or 65 in"
WEIGHTS = "a weight above 0 kg and up to 50,000 kg"
# What was typed in pounds or inches is answered in them: 50 000 x 2.2046226, 0.5 / 0.0254.
POUNDS = "a weight above 0 lb and up to 110,231 lb"
CHECK, GIVE, FINITE = (
    "check the number and its unit",
    "give a number or text with a unit",
    "give a finite number",
)
ON_PURPOSE = "check the unit, or say unusual_wheelbase=True if it is meant"
USUAL, OVERHANGS, HEIGHTS = (
    "a length from 0.5 m to 5 m",
    "a length from −20 m to 20 m",
    "a length from 0 m to 10 m",
)
NAMES = "a name of 1 to 60 printable characters"


def bad_numbers(such):
    """What is no quantity of any kind: (told, how it is named, allowed, do)."""
    return [
        (math.nan, "nan", such, FINITE),
        (math.inf, "inf", such, FINITE),
        (-math.inf, "-inf", such, FINITE),
        (True, "True", such, GIVE),
        ([1], "a value of type list", such, GIVE),
        (np.bool_(True), "a value of type bool", such, GIVE),
        (10**400, "1" + 56 * "0" + "...", such, FINITE),
        ("", "nothing", such, "type only a number and its unit"),
    ]


NOTHING = (None, "nothing", SUCH_LENGTH, GIVE)


def weights(such=SUCH_WEIGHT):
    return [
        *bad_numbers(such),
        (0, "0", WEIGHTS, CHECK),
        (-1, "-1", WEIGHTS, CHECK),
        ("−5 kg", "−5 kg", WEIGHTS, CHECK),
        ("0 lb", "0 lb", POUNDS, CHECK),
        (50000.1, "50000.1", WEIGHTS, CHECK),
        ("60 t", "60 t", WEIGHTS, CHECK),
        (None, "nothing", such, GIVE),
        ("2 m", "2 m", such, '"m" is a unit of length, so give a weight'),
        ("2 furlongs", "2 furlongs", such, "use kg, lb, t or g"),
        ("5 N", "5 N", such, '"N" is a unit of force, so give a weight'),
    ]


MASS = ("2 kg", "2 kg", SUCH_LENGTH, '"kg" is a unit of weight, so give a length')
REFUSED = [
    (
        tractor,
        "wheelbase",
        "wheelbase",
        [
            *bad_numbers(SUCH_LENGTH),
            NOTHING,
            MASS,
            ("165 lb", "165 lb", SUCH_LENGTH, '"lb" is a unit of weight, so give a length'),
            ("2 yards", "2 yards", SUCH_LENGTH, "use m, cm, mm, in or ft"),
            *(
                (told, str(told), USUAL, ON_PURPOSE)
                for told in (0, -1, 0.49, 5.01, 165, "165", "1650 m", "1e9 m", "-1.65 m")
            ),
            ("5 in", "5 in", "a length from 19.69 in to 196.85 in", ON_PURPOSE),
        ],
    ),
    (
        lambda **told: tractor(**told, unusual_wheelbase=True),
        "wheelbase",
        "wheelbase",
        [
            *bad_numbers(SUCH_LENGTH),
            NOTHING,
            MASS,
            *(
                (told, str(told), "a length above 0 m and up to 50 m", CHECK)
                for told in (0, -1, 50.1)
            ),
        ],
    ),
    (tractor, "front", "front reading", weights()),
    (tractor, "rear", "rear reading", weights()),
    (attachment, "weight", "weight of the bucket", weights()),
    (
        attachment,
        "ahead",
        "overhang of the bucket",
        [
            *bad_numbers(SUCH_LENGTH),
            NOTHING,
            MASS,
            *((told, told, OVERHANGS, CHECK) for told in ("20.1 m", "-20.1 m", "1e3 m")),
        ],
    ),
    (
        tractor,
        "height",
        "height of the tractor's center of gravity",
        [
            *bad_numbers(SUCH_LENGTH),
            MASS,
            (-0.1, "-0.1", HEIGHTS, CHECK),
            ("11 m", "11 m", HEIGHTS, CHECK),
        ],
    ),
    (
        attachment,
        "height",
        "height of the bucket",
        [
            *bad_numbers(SUCH_LENGTH),
            MASS,
            (-0.1, "-0.1", HEIGHTS, CHECK),
            ("11 m", "11 m", HEIGHTS, CHECK),
        ],
    ),
    *(
        (
            maker,
            "name",
            field,
            [
                ("", "nothing", NAMES, "give it a short name"),
                (" \n", "nothing", NAMES, "give it a short name"),
                (None, "nothing", NAMES, "give it a short name"),
                (5, "5", NAMES, "give it a short name"),
                (b"x", "a value of type bytes", NAMES, "give it a short name"),
                ("x\x00y", "x?y", NAMES, "give it a short name"),
                ("\u202ex", "?x", NAMES, "give it a short name"),
                ("\x1b[2J", "?[2J", NAMES, "give it a short name"),
                ("n" * 61, "n" * 57 + "...", NAMES, "give it a short name"),
                ("n" * 10**6, "n" * 57 + "...", NAMES, "give it a short name"),
            ],
        )
        for maker, field in ((tractor, "tractor name"), (attachment, "attachment name"))
    ),
]
CASES = [
    pytest.param(maker, argument, field, *row, id=f"{field}-{ascii(row[1])[:30]}")
    for maker, argument, field, rows in REFUSED
    for row in rows
]


@pytest.mark.parametrize("maker, argument, field, told, given, allowed, do", CASES)
def test_refused_in_one_sentence(maker, argument, field, told, given, allowed, do):
    with pytest.raises(Refusal) as caught:
        maker(**{argument: told})
    assert str(caught.value) == f"{field}: {given} was given; {allowed} is allowed; {do}."


@pytest.mark.parametrize(
    "maker, argument, told",
    [(maker, argument, told) for maker, argument, _, rows in REFUSED for told, *_ in rows[:1]],
    ids=lambda x: x if isinstance(x, str) else "",
)
def test_a_refusal_changes_nothing(maker, argument, told):
    """Not even an object that is made a second time with a bad value."""
    made = maker()
    before = copy.copy(made)
    arguments = (
        {"name": "other", "wheelbase": 2, "front": 1, "rear": 1}
        if isinstance(made, Tractor)
        else {"name": "other", "weight": 1, "ahead": 0}
    )
    with pytest.raises(Refusal):
        made.__init__(**{**arguments, argument: told})
    assert made == before


MADE = [demo_tractor(), tractor(), *demo_loader(), attachment()]


@pytest.mark.parametrize("made", MADE, ids=str)
def test_they_are_sound_values(made):
    twins = [copy.copy(made), copy.deepcopy(made), pickle.loads(pickle.dumps(made))]
    for twin in twins:
        assert (
            twin == made
            and hash(twin) == hash(made)
            and repr(twin) == repr(made)
            and type(twin) is type(made)
        )
    assert len({made, *twins}) == 1
    assert dataclasses.asdict(made) == {
        field.name: getattr(made, field.name) for field in dataclasses.fields(made)
    }
    assert all(
        f"{name}={value!r}" in repr(made) for name, value in dataclasses.asdict(made).items()
    )
    assert [made != other for other in MADE].count(False) == 1


@pytest.mark.parametrize("made", MADE, ids=str)
def test_they_are_frozen(made):
    before = copy.copy(made)
    for name in [*dataclasses.asdict(made), "color"]:
        with pytest.raises(dataclasses.FrozenInstanceError):
            setattr(made, name, 1)
        with pytest.raises(dataclasses.FrozenInstanceError):
            delattr(made, name)
    assert made == before


def test_one_field_apart_is_another_machine():
    different = [
        tractor(name="x"),
        tractor(wheelbase=1.7),
        tractor(front=601),
        tractor(rear=801),
        tractor(height=0.7),
        attachment(name="x"),
        attachment(weight=111),
        attachment(ahead=1.3),
        attachment(height=0.3),
    ]
    assert len({tractor(), attachment(), *different}) == 11
    assert Tractor("bucket", 1.65, 110, 1.2) != Attachment("bucket", 110, 1.2)


@pytest.mark.parametrize(
    "front, rear, ahead", [(600, 800, -1.65 * 8 / 14), (700, 700, -0.825), (1, 3, -1.2375)]
)
def test_center_of_gravity(front, rear, ahead):
    made = tractor(front=front, rear=rear)
    assert made.total_kg == front + rear
    assert made.ahead_m == pytest.approx(ahead)
    assert -made.wheelbase_m < made.ahead_m < 0


def test_the_demo_is_invented_and_says_so():
    assert "invented" in DEMO_NOTE
    assert demo_tractor() == demo_tractor() and demo_tractor().height_m is not None
    assert [piece.name for piece in demo_loader()] == ["loader frame", "bucket"]
    assert all(piece.height_m is not None for piece in demo_loader())


def test_the_demo_machine_has_one_weight_and_one_wheelbase():
    """Told in pounds and inches; what hangs on it adds up as a hand works it out (moments / 65)."""
    tractor, (frame, bucket), ballast = demo_tractor(), demo_loader(), demo_ballast()
    pound, inch = 0.45359237, 0.0254
    told = [tractor.wheelbase_m / inch, tractor.front_kg / pound, tractor.rear_kg / pound]
    assert told == pytest.approx([65, 1320, 1760])
    hung = {one.name: (one.weight_kg / pound, one.ahead_m / inch) for one in (frame, bucket)}
    assert hung["loader frame"] == pytest.approx((460, 6.5))
    assert hung["bucket"] == pytest.approx((260, 47))
    # 35 in behind the rear axle is 65 + 35 in behind the front axle.
    assert (ballast.weight_kg / pound, ballast.ahead_m / inch) == pytest.approx((520, -100))

    def pounds(*pieces):
        loads = predict(tractor, *pieces)
        return [round(kg / pound) for kg in (loads.front_kg, loads.rear_kg)]

    # 260 x 47 = 12,220 lb in; 12,220 / 65 = 188 off the rear; 460 x 6.5 / 65 = 46.
    assert pounds(bucket) == [1320 + 260 + 188, 1760 - 188]
    assert pounds(frame) == [1320 + 460 + 46, 1760 - 46]
    assert pounds(frame, bucket) == [1320 + 954, 1760 - 234] == [2274, 1526]
    # 520 x 35 / 65 = 280.
    assert pounds(ballast) == [1320 - 280, 1760 + 520 + 280]


def test_every_demo_is_of_that_machine():
    from leverarm.decision import demo_case
    from leverarm.driveline import demo_drive
    from leverarm.stability import demo_arms
    from leverarm.weighing import demo_day, demo_pair, infer

    tractor, loader, ballast = demo_tractor(), demo_loader(), demo_ballast()
    case, arms = demo_case(), demo_arms()
    assert case.name == demo_day().machine.name == tractor.name
    base = tractor.wheelbase_m
    assert (
        case.wheelbase.value == demo_day().machine.wheelbase_m == demo_drive().wheelbase_m == base
    )
    assert (case.front.value, case.rear.value) == (tractor.front_kg, tractor.rear_kg)
    for hung, one in zip((case.loader, case.bucket, case.ballast), (*loader, ballast)):
        assert hung.weight.value == pytest.approx(one.weight_kg)
        assert hung.ahead.value == pytest.approx(one.ahead_m)
    low = arms.at(arms.lowest_deg)
    assert sum(p.weight_kg for p in low) == pytest.approx(sum(p.weight_kg for p in loader))
    moment = sum(p.weight_kg * p.ahead_m for p in loader)
    # Arms low, the moving loader's moment is that of the one hung, to the width of a tape's mark.
    assert sum(p.weight_kg * p.ahead_m for p in low) == pytest.approx(moment, rel=0.02)
    # The invented scales step by 2 lb; their readings give the bucket back within what that leaves.
    found = infer(demo_pair("loader frame"), demo_pair("loader frame + bucket"), base)
    assert found.weight_kg == pytest.approx(loader[1].weight_kg, abs=2)
    assert found.ahead_m == pytest.approx(loader[1].ahead_m, abs=0.03)
