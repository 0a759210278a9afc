"""More or less, up or down, front or rear, worst or best: each said both ways, against hand work.

Nothing in this file asks the package's formulas what is right.  A machine is worked by hand
with the lever alone; the sentences are read as a person reads them, and their numbers and their
direction words must be those of the hand.
"""

import math
import re
import xml.etree.ElementTree as ET

import pytest
from hand import GRAVITY, KG_PER_LB, M_PER_IN, numbers_in, on_front, on_rear, words_of

from leverarm import exercises
from leverarm.axles import AxleLoads
from leverarm.ballast import limit_checks, rear_need, steering_need
from leverarm.decision import (
    CLAIMS,
    Job,
    Mower,
    Tires,
    case,
    decide,
    demo_rear_patch,
    order,
    piece,
    true_number,
)
from leverarm.graphs import without
from leverarm.ground import ContactPatch
from leverarm.machine import Tractor
from leverarm.panels import front_lead
from leverarm.quantities import Refusal
from leverarm.weighing import infer

pytestmark = pytest.mark.usefixtures("metric")

L = 1.5


def machine(loader=(200, 0.3), bucket=(100, 1.5), ballast=None, *, u=1.0, **more):
    """A tractor of 600 and 900 kg on a wheelbase of 1.5 m, pieces as (weight, ahead)."""

    def hung(name, told, height):
        return told and piece(name, told[0], told[1], height, u_weight=u, u_ahead=0.01)

    return case(
        "Hand-worked tractor",
        L,
        600,
        900,
        0.7,
        u_wheelbase=0.003,
        u_reading=1,
        loader=hung("loader frame", loader, 0.8),
        bucket=hung("bucket", bucket, 0.3),
        ballast=hung("ballast", ballast, 0.5),
        **more,
    )


# --- the decision's rows -----------------------------------------------------------------------


def center(*hung):
    """(weight, ahead, height) of the bare tractor with pieces told as (weight, ahead, height)."""
    parts = [(1500, -L * 900 / 1500, 0.7), *hung]
    weight = sum(part[0] for part in parts)
    return weight, *(sum(part[0] * part[i] for part in parts) / weight for i in (1, 2))


def uphill_angle(*hung):
    """Nose uphill the front is empty when the center stands over the rear tires' contact."""
    _, ahead, height = center(*hung)
    return math.degrees(math.atan((L + ahead) / height))


def downhill_angle(friction, *hung):
    """Nose downhill, rear brakes: push W sin = friction times W (c cos - h sin)/L at the rear."""
    _, ahead, height = center(*hung)
    return math.degrees(math.atan(friction * -ahead / (L + friction * height)))


def test_a_slope_row_takes_the_worse_of_both_mower_positions():
    """Carried behind, a mower empties the front uphill; on the ground it loads no rear brake."""
    carried = (300, -L - 0.75, 0.9)
    table = decide(
        machine(
            mower=Mower("rear", piece("mower", *carried, u_weight=1, u_ahead=0.01), None),
            job=Job(slope="5 deg", surface="wet grass", brakes="rear"),
        )
    )
    frame, bucket = (200, 0.3, 0.8), (100, 1.5, 0.3)
    hung = {"on": (frame, bucket), "bucket_off": (frame,), "loader_off": ()}
    for state, parts in hung.items():
        up = uphill_angle(*parts), uphill_angle(*parts, carried)
        down = downhill_angle(0.2, *parts), downhill_angle(0.2, *parts, carried)
        assert up[1] < up[0] and down[0] < down[1], "each mower position is the worse one once"
        assert table.value("uphill", state) == pytest.approx(up[1])
        assert table.value("grade", state) == pytest.approx(down[0])
        at = [one.key for one in table.setups].index(state)
        sign = "+" if down[0] > 5 else "−"
        assert table.row("grade").cells()[at] == f"{down[0]:.1f}° ({sign}{abs(down[0] - 5):.1f}°)"


def test_a_claim_about_a_tire_counts_one_tire():
    """A front tire carries half of what the loader adds to the axle."""
    claim = next(one for one in CLAIMS if one.key == "psi")
    made = ContactPatch(
        length="20 cm", width="15 cm", shape=0.8, load="250 kg", inflation="150 kPa"
    )
    added = on_front(200, 0.3, L) + on_front(100, 1.5, L)
    told = machine(tires=Tires(made, demo_rear_patch()))
    for system, unit, size in (("kg", "kPa", 1.0), ("lb", "psi", 6.894757)):
        said = true_number(claim, told, system)
        assert f"rises by {100 * added / 2 / 250:.0f} " in said
        before = numbers_in(said.replace(" to ", f" {unit} to "), unit)[0]
        assert before == pytest.approx(250 * GRAVITY / (0.2 * 0.15 * 0.8) / 1000 / size, rel=0.005)


def places(table, *matters):
    return [sorted(one.key for one in place) for place in order(table, *matters).places]


def test_a_tie_is_a_difference_within_its_plus_or_minus():
    """One wheelbase out the bucket counts twice at the front, and so does its plus or minus."""
    for u, apart in ((40, True), (60, False)):  # 95 %: 2 x 40 x 2 = 160 < 200 < 240 = 2 x 60 x 2
        table = decide(
            case(
                "Hand-worked tractor",
                L,
                600,
                900,
                u_reading=1,
                u_wheelbase=0.001,
                loader=piece("loader frame", 400, 0, u_weight=1, u_ahead=0.001),
                bucket=piece("bucket", 100, L, u_weight=u, u_ahead=0.001),
            )
        )
        tied = [["bucket_off"], ["on"]] if apart else [["bucket_off", "on"]]
        assert places(table, "front") == [["loader_off"], *tied]
        said = order(table, "front").sentences()
        assert ("too close to tell apart" in said[1]) == (not apart)


def test_without_a_plus_or_minus_only_equals_tie():
    bare = {"loader": piece("loader frame", 200, 0)}
    for weight in (1, 100):
        table = decide(case("Small", L, 600, 900, bucket=piece("bucket", weight, L), **bare))
        assert places(table, "front") == [["loader_off"], ["bucket_off"], ["on"]]
    assert places(table, "minutes") == [["on"], ["bucket_off"], ["loader_off"]]


@pytest.mark.parametrize(
    "bucket, loader, ballast, expected",
    [
        (100, 100.8, 10, [["on"], ["bucket_off", "loader_off"], ["all_off"]]),
        (100, 101.6, 10, [["on"], ["bucket_off"], ["loader_off"], ["all_off"]]),
        # Each within one percent of the one before, the last not of the first: a chain is no tie.
        (100, 100.8, 0.8, [["on"], ["bucket_off", "loader_off"], ["all_off"]]),
    ],
)
def test_a_row_without_plus_or_minus_ties_within_its_judgment(bucket, loader, ballast, expected):
    job = Job(bucket_minutes=bucket, loader_minutes=loader, ballast_minutes=ballast)
    table = decide(machine(ballast=(300, -2.25), job=job))
    assert places(table, "minutes") == expected


def test_what_is_wanted_more_stands_highest_first():
    """Less is wanted of the front load, more of a least share: the two orders are opposite."""
    front = {
        "on": 600 + on_front(200, 0.3, L) + on_front(100, 1.5, L) + on_front(300, -2.25, L),
        "bucket_off": 600 + on_front(200, 0.3, L) + on_front(300, -2.25, L),
        "loader_off": 600 + on_front(300, -2.25, L),
        "all_off": 600.0,
    }
    ranked = sorted(front, key=front.get)
    table = decide(machine(ballast=(300, -2.25)))
    assert places(table, "front") == [[key] for key in ranked]
    assert places(table, "front_least") == [[key] for key in reversed(ranked)]


# --- the front drive ---------------------------------------------------------------------------


@pytest.mark.parametrize("radius, way", [(2.0, "dragged"), (15.0, "driven")])
def test_a_tight_turn_drags_the_front_and_a_wide_one_drives_it(radius, way):
    panel = front_lead()
    panel.set(front=2.04, rear=2.75, ratio=1.39, radius=radius, squash=0.010)
    base = panel.off.wheelbase_m
    lead = 100 * (1.39 * 2.04 / 2.75 - 1)
    fits = 100 * (math.hypot(radius, base) / radius - 1)  # what the turn asks for
    said = words_of(panel.out.value)
    other = {"dragged": "driven", "driven": "dragged"}[way]
    assert (lead < fits) == (way == "dragged")
    sentence = next(part for part in said.split(". ") if "the front is" in part)
    assert way in sentence and other not in sentence
    assert f"{abs(lead - fits):.1f}" in sentence and ("−" in sentence) == (lead < fits)
    # The loader sets the front hubs down by 10 mm, and the rear ones come up by 2 mm.
    third = 2 * math.pi / 3
    squashed = 100 * (1.39 * (2.04 - third * 0.010) / (2.75 + third * 0.002) - 1)
    assert re.search(rf"from \+{lead:.1f}.*? to \+{squashed:.1f}", said)
    # A turn whose outer path is longer by just the lead: R = L / sqrt((1 + lead)^2 - 1).
    fitting = float(re.search(r"fits a turn of ([\d.]+)", said).group(1))
    assert fitting == pytest.approx(base / math.sqrt((1 + lead / 100) ** 2 - 1), abs=0.051)


# --- exercises ---------------------------------------------------------------------------------


def suspects(problem, number):
    return {one.name: one.what for one in exercises.check(problem, repr(number)).suspects}


def test_upside_down_says_which_stood_on_top():
    """W(1 + L/a): in letters, the wheelbase over the overhang."""
    for seed in range(6):
        p = exercises.make("front_gain", seed, "kg")
        at = p.drawn.values
        told = suspects(p, at["W"] * (1 + at["L"] / at["a"]))
        assert {"what W × (1 + L/a) gives", "what W × (L + a)/a gives"} & set(told.values()), told


# --- ballast -----------------------------------------------------------------------------------


def test_ballast_that_can_never_give_the_share_is_refused_at_the_very_bound():
    """Over the rear axle a weight gives the front nothing; and no axle can have all."""
    tractor = Tractor("Hand-worked tractor", 1.5, 300, 900)
    with pytest.raises(Refusal, match="place of the ballast"):
        steering_need(tractor, ahead=-1.5, share=40)
    with pytest.raises(Refusal, match="place of the ballast"):
        rear_need(tractor, behind=0, share=100)
    # A hand's breadth beyond the bound there is an answer: (480 - 300) x 1.5 / 0.1.
    assert steering_need(tractor, ahead=-1.4, share=40).weight_kg == pytest.approx(2700)
    assert rear_need(tractor, behind=0.5, share=100).weight_kg == pytest.approx(300 / (1 / 3))


def test_a_share_just_met_needs_no_ballast_and_a_limit_just_met_is_not_over():
    tractor = Tractor("Hand-worked tractor", 1.5, 300, 900)
    assert steering_need(tractor, ahead=0.5, share=25).weight_kg == 0
    assert "without ballast" in steering_need(tractor, ahead=0.5, share=25).sentence()
    for load, over in ((899.9, False), (900.0, False), (900.1, True)):
        bar = limit_checks(AxleLoads(load, 600), front_axle=900, front_tire=450)[0]
        assert bar.over is over
        assert ("over the limit" in bar.sentence(), "under the limit" in bar.sentence()) == (
            over,
            not over,
        )


# --- weighing ----------------------------------------------------------------------------------


@pytest.mark.parametrize("weight, ahead", [(120, 1.25), (-120, 1.25), (90, -0.5), (-90, -0.5)])
@pytest.mark.parametrize("system, unit, size", [("kg", "kg", 1), ("lb", "lb", KG_PER_LB)])
def test_what_was_hung_on_or_taken_off_has_a_size_and_a_word(weight, ahead, system, unit, size):
    before = (620.0, 880.0)
    after = (before[0] + on_front(weight, ahead, L), before[1] + on_rear(weight, ahead, L))
    said = infer(before, after, L, u_reading=1, u_wheelbase=0.002, name="fork").sentence(system)
    assert ("taken off" in said, "hung on" in said) == (weight < 0, weight > 0)
    (shown,) = numbers_in(said.split(";")[0], unit)
    assert shown == pytest.approx(abs(weight) / size, rel=0.01)
    length, inch = ("m", 1.0) if system == "kg" else ("in", M_PER_IN)
    (place, *_) = numbers_in(said.split(";")[1], length)
    assert place == pytest.approx(abs(ahead) / inch, rel=0.03)
    assert ("ahead of the front axle" in said, "behind the front axle" in said) == (
        ahead > 0,
        ahead < 0,
    )


# --- the plain graph's scale -------------------------------------------------------------------


def at_scale(shown):
    """(a call from a height on the page to its value by the ticks; heights of boxes; frame)."""
    root = ET.fromstring(shown)
    marks = [one for one in root.iter() if one.tag.endswith("text")]

    def read(one):
        return float(one.text.replace("−", "-").replace(",", ""))

    foot = max(float(one.get("y")) for one in marks)
    rules = [
        float(one.get("points").split(",")[1].split()[0])
        for one in root.iter()
        if one.tag.endswith("polyline") and one.get("stroke-width") == "0.5"
    ]
    ticks = [
        read(one)
        for one in marks
        if re.fullmatch(r"[−\d.,]+", one.text)
        and float(one.get("x")) < 67
        and float(one.get("y")) < foot - 15
    ]
    assert len(ticks) == len(rules) >= 2, "each rule has its number"
    (y0, v0), (y1, v1) = (rules[0], ticks[0]), (rules[-1], ticks[-1])

    def value(y):
        return v0 + (y - y0) * (v1 - v0) / (y1 - y0)

    for y, number in zip(rules, ticks):
        assert value(y) == pytest.approx(number, abs=1e-2 * abs(v1 - v0)), "ticks stand evenly"
    boxes = [
        sorted({float(pair.split(",")[1]) for pair in one.get("points").split()})
        for one in root.iter()
        if one.tag.endswith("polygon")
    ]
    frame = next(
        sorted(float(pair.split(",")[1]) for pair in one.get("points").split())
        for one in root.iter()
        if one.tag.endswith("polyline") and one.get("stroke-width") == "1.1"
    )
    return value, boxes, frame


def test_a_plain_histogram_reads_its_counts_and_its_interval_on_the_axes():
    """Forty steps from 0 to 40, so many values in the middle of each; an interval from 10 to 30."""
    many = [2 + (7 * step) % 13 for step in range(40)]
    values = [0.0, 40.0]
    values += [step + 0.5 for step, count in enumerate(many) for _ in range(count)]
    many[0] += 1
    many[-1] += 1
    shown = without.histogram(values, unit="kg", interval=(10.0, 30.0))._repr_html_()
    value, _, (top, bottom) = at_scale(shown)
    assert value(bottom) == 0 and value(top) == pytest.approx(1.1 * max(many), rel=0.01)
    lines = [
        [tuple(map(float, pair.split(","))) for pair in one.get("points").split()]
        for one in ET.fromstring(shown).iter()
        if one.tag.endswith("polyline")
    ]
    outline = max(lines, key=len)
    left, right = outline[0][0], outline[-1][0]
    for step, count in enumerate(many):
        (x, y), (end, same) = outline[1 + 2 * step : 3 + 2 * step]
        assert value(y) == value(same) == pytest.approx(count, abs=0.05)
        assert 40 * (x - left) / (right - left) == pytest.approx(step, abs=0.02)
        assert 40 * (end - left) / (right - left) == pytest.approx(step + 1, abs=0.02)
    upright = sorted(
        40 * (line[0][0] - left) / (right - left)
        for line in lines
        if len(line) == 2 and line[0][0] == line[1][0] and left < line[0][0] < right
    )
    assert upright == [pytest.approx(10, abs=0.05), pytest.approx(30, abs=0.05)]
