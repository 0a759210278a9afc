"""A weigh day's own readings seen from above: this machine, these wheels, bars on one scale."""

import re
from itertools import pairwise

import pytest

from leverarm.panels.weigh_day import day_picture, weigh_day
from leverarm.panels.weigh_day_result import Believed
from leverarm.stage.elements import as_text
from leverarm.stage.enlarged import Detail, Level, Spot, marks_of
from leverarm.stage.sheet import DESK
from leverarm.stage.weighed_day import DaySeen, machine_only, weighed_day
from leverarm.weighing.day import weigh_day as new_day
from leverarm.weighing.demo import demo_day
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.readings import weighing


def words(text):
    return re.findall(r"<text[^>]*>([^<]+)</text>", text)


def own_day(*, scales=True, track=None, rear=True):
    """Somebody's own: a long tractor in kilograms, front wheel by wheel, scales stepping by 5."""
    rows = [
        weighing("loader frame", ("612", "600"), "905" if rear else None, "kg"),
        weighing("loader frame + bucket", ("731", "724"), "841" if rear else None, "kg"),
    ]
    facts = scale_facts("5 kg", "1 %", placed="every wheel") if scales else scale_facts()
    return new_day(machine("Hill tractor", "2.15 m", track=track), "2026-05-14", facts, rows)


@pytest.mark.parametrize(
    "low, high", [(997, 1025), (0, 0), (1430, 1500), (-3, 12), (700.2, 700.9), (200, 5000)]
)
def test_marks_hold_the_bars_between_them(low, high):
    marks = marks_of(low, high)
    assert marks[0] < low and marks[-1] > high and 2 <= len(marks) <= 8
    apart = {round(b - a, 9) for a, b in pairwise(marks)}
    assert len(apart) == 1


def test_a_detail_says_how_much_taller_it_is():
    """Worked by hand: marks 990 to 1030, so 40 units over its height; columns 0.25 a unit."""
    place = Spot(0, 0, 240, 290)
    detail = Detail(DESK, "front", place, (Level("said", 1018), Level("read", 1020, 3)))
    high = detail.y(detail.marks[-1]) - detail.y(detail.marks[0])
    span = detail.marks[-1] - detail.marks[0]
    text = as_text(detail.drawn(0.25))
    assert f"{round(high / span / 0.25)}× taller" in text and "± 3" in text
    assert detail.y(1018) < detail.y(1020), "deeper is heavier"


def test_own_wheels_and_axles_are_shown_and_what_was_not_read_is_not():
    text = day_picture(own_day(), Believed(), {}, "kg", key="k")
    shown = words(text)
    # The rear axle was read as a whole: 841, no wheels.
    assert {"731", "724", "841", "1,455 kg"} <= set(shown) and "said" not in shown
    assert "Front left: 731 kg." in text and "Rear left" not in text
    alone = day_picture(own_day(rear=False), Believed(), {}, "kg", key="k")
    assert "–" in words(alone) and "841" not in alone


def test_bets_stand_beside_what_was_expected_and_read():
    """Worked by hand: 1,212 kg before and a bet of +200 are 1,412."""
    believed = Believed(120.0, 4.0, 1.2, 0.03)
    text = day_picture(own_day(), believed, {"front": 200.0, "rear": -50.0}, "kg", key="k")
    assert {"1,412", "855"} <= set(words(text))
    # 1,212 + 120 (1 + 1.2/2.15) = 1,399.0; 905 - 120 x 1.2/2.15 = 838.0
    assert {"1,399", "838"} <= set(words(text))
    assert text.count("± ") >= 8
    assert "expected: 1,399 ±" in text


def test_without_scales_no_plus_or_minus_is_drawn():
    believed = Believed(120.0, 4.0, 1.2, 0.03)
    text = day_picture(own_day(scales=False), believed, {"front": 200.0}, "kg", key="k")
    assert "±" not in text and "1,399" not in text and "1,412" in text


def test_a_pound_machine_is_drawn_in_pounds():
    text = day_picture(own_day(), Believed(), {}, "lb", key="k")
    assert "3,208 lb" in words(text)  # 1,455 kg


def test_the_invented_day_before_its_bucket_shows_the_frame_alone():
    day = demo_day()
    before = [one for one in day.rows if "bucket" not in one.setup]
    text = day_picture(
        new_day(day.machine, day.date, day.scales, before), Believed(), {}, "lb", key="k"
    )
    assert {"1,827 lb", "1,715 lb"} <= set(words(text)) and "taller" not in text


def test_the_machine_is_drawn_as_long_and_as_wide_as_told():
    def pads(wheelbase, track):
        text = as_text(machine_only(wheelbase, track, "a machine"))
        rects = re.findall(r'<rect class="st-area-(front|rear)-fill" x="([^"]+)" y="([^"]+)"', text)
        at = [(axle, float(x), float(y)) for axle, x, y in rects]
        apart = at[2][1] - at[0][1]
        wide = max(y for axle, _, y in at if axle == "front") - min(
            y for axle, _, y in at if axle == "front"
        )
        return apart / wide

    assert pads(2.4, None) > 1.3 * pads(1.65, None)
    assert pads(1.65, (1.6, 1.6)) < 0.8 * pads(1.65, (1.1, 1.1))


def test_nothing_is_drawn_where_nothing_was_read():
    day = new_day(machine("Hill tractor", "2.15 m"), "2026-05-14")
    assert day_picture(day, Believed(), {}, "kg", key="k") == ""


@pytest.mark.parametrize("large", [False, True])
def test_a_picture_says_everything_in_its_name(large):
    seen = DaySeen(
        "A <b>", 1.65, "kg", axles={"front": 600.0}, bars={"front": (Level("read", 600.0),)}
    )
    text = as_text(weighed_day(seen, large=large))
    assert "A &lt;b&gt; from above" in text and "Front read: 600 kg." in text


@pytest.mark.usefixtures("metric")
def test_the_panel_keeps_bets_out_of_the_picture_until_they_are_opened(tmp_path):
    panel = weigh_day(tmp_path / "weigh_days")
    assert "expected" not in panel.out.value and "from above" in panel.out.value
    panel.gate.lock_in(front="up 180 kg", rear="down 70 kg")
    assert "expected" not in panel.out.value
    panel.gate.reveal()
    panel.invent()
    assert "you said" in panel.out.value and "expected" in panel.out.value
    # 1,827 lb = 828.7 kg; + 180 = 1,008.7
    assert "1,009" in words(panel.out.value)


@pytest.mark.usefixtures("metric")
def test_the_boxes_have_the_machine_between_them(tmp_path):
    panel = weigh_day(tmp_path / "weigh_days")
    stand = panel.wheels.machine
    assert "Plot tractor from above" in stand.value and "<svg" in stand.value
