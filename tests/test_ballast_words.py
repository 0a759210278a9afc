"""What a rule about ballast and a limit say, in both unit systems and directions, worked by hand.

Wheelbase 1.5 m, bare 600 and 900 kg.  A mower of 400 kg half a wheelbase behind the rear axle
takes 200 off the front.  A load one wheelbase ahead takes its own weight off the rear.
"""

import pytest
from hand import KG_PER_LB, numbers_in

from leverarm import Attachment, Tractor, ballast
from leverarm.axles import AxleLoads

TRACTOR = Tractor("Hand-worked tractor", 1.5, 600, 900, 0.7)
MOWER = Attachment("mower", 400, -2.25)
UNITS = {"kg": 1.0, "lb": KG_PER_LB}


def load(kg):
    return Attachment("load", kg, 1.5)


NEEDS = {
    # A third of 1,500 kg is 500; 100 kg are missing, and front weights 0.6 m out count 1.4 times.
    "steering": (
        lambda: ballast.steering_need(TRACTOR, MOWER, ahead=0.6, share=100 / 3),
        "front", 400, 27, "the bare tractor", "33.3", 100 / 1.4,
    ),
    "enough": (
        lambda: ballast.steering_need(TRACTOR, ahead=0.6, share=12.34),
        "front", 600, 40, "the bare tractor", "12.3", 0,
    ),
    # -100 + 1.5 W = 0.2 (2500 + W)
    "tips": (
        lambda: ballast.rear_need(TRACTOR, load(1000), behind=0.75, share=20),
        "rear", -100, None, "the whole machine, ballast included", "20", 600 / 1.3,
    ),
    # 300 + 1.5 W = 0.2 (2100 + W)
    "light": (
        lambda: ballast.rear_need(TRACTOR, load(600), behind=0.75, share=20),
        "rear", 300, 14, "the whole machine, ballast included", "20", 120 / 1.3,
    ),
    # 0.7 m ahead of the rear axle is a share of 1 - 0.7/1.5: 600 + 1.5 W = 0.5333 (1800 + W)
    "center": (
        lambda: ballast.center_need(TRACTOR, load(300), center=0.7, behind=0.75),
        "rear", 600, 33, "the whole machine, ballast included", "53.3", 360 / (1.5 - 8 / 15),
    ),
}  # fmt: skip


@pytest.mark.parametrize("system", UNITS)
@pytest.mark.parametrize("name", NEEDS)
def test_a_need_in_words(name, system):
    make, axle, has, percent, base, share, takes = NEEDS[name]
    need = make()
    assert (need.now_kg, need.weight_kg) == pytest.approx((has, takes))
    text = need.sentence(system)
    found = [number * UNITS[system] for number in numbers_in(text, system)]
    assert found == pytest.approx([abs(has), *([takes] if takes else [])], abs=0.3)
    assert f"The rule asks for {share} % of {base}: " in text
    assert text.endswith("The machine's own manual decides.")
    of = base.partition(",")[0]
    assert (f"The {axle} axle has" in text and f", {percent} % of {of}." in text) is (has > 0)
    assert (f"the {axle} axle lifts, and" in text and "hold it down" in text) is (has < 0)
    assert ("it has that without ballast" in text) is (takes == 0)
    assert ("of ballast there" in text) is (takes > 0)


CHECKS = {
    "Front axle": (980, 900),
    "Rear axle": (640, 640),
    "Whole machine": (1620, 1620.5),
    "Each front tire": (490, 500),
    "Each rear tire": (320, 300),
}


@pytest.mark.parametrize("system", UNITS)
def test_a_limit_in_words(system):
    made = ballast.limit_checks(
        AxleLoads(980, 640),
        front_axle=900, rear_axle=640, front_tire=500, rear_tire=300, machine=1620.5,
    )  # fmt: skip
    assert [one.name for one in made] == list(CHECKS)
    for one in made:
        carries, limit = CHECKS[one.name]
        text, over = one.sentence(system), carries > limit
        assert (one.load_kg, one.limit_kg, one.over) == (carries, limit, over)
        assert one.share == pytest.approx(100 * carries / limit)
        found = [number * UNITS[system] for number in numbers_in(text, system)]
        assert found == pytest.approx([carries, abs(carries - limit)], abs=0.3)
        assert text.startswith(f"{one.name}: ")
        assert ("over the limit you read" in text) is over
        assert ("under the limit you read" in text) is not over
        assert ("ask the service department" in text) is over


def test_a_limit_nobody_read_is_to_be_looked_up():
    made = ballast.limit_checks(AxleLoads(980, 640))
    assert [one.name for one in made] == ["Front axle", "Rear axle", "Whole machine"]
    for one in made:
        assert one.over is None and one.share is None
        assert one.sentence("kg").endswith(" kg. Look up its limit in the manual.")
