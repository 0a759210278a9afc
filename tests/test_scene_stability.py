"""Pictures of the lift, the slope and the ratings: words inside the sheet and off each other,
described, true.
"""

import itertools

import pytest
from worked import worked_arms, worked_tractor

from leverarm.axles import AxleLoads
from leverarm.ballast import limit_checks
from leverarm.scene import LARGE, NARROW, WIDE, place, svg
from leverarm.scene.layout import overlap
from leverarm.scene.load_charts import limit_chart
from leverarm.scene.loader_arc import arc_chart
from leverarm.scene.tilt import base_plan, slope_section
from leverarm.stability import arc, demo_stance, lift_point, side_tilt

TRACTOR, LOADER, STANCE = worked_tractor(), worked_arms(), demo_stance()
SYSTEMS = ("kg", "lb")


def lift_scenes():
    for system, angle, load in itertools.product(
        SYSTEMS, (LOADER.lowest_deg, 0, 34), (0, 300, 900)
    ):
        path = arc(TRACTOR, LOADER, load, steps=12)
        here = lift_point(TRACTOR, LOADER, angle, load)
        yield arc_chart(LOADER, path, here, system=system)


def slope_scenes():
    for system, side, load in itertools.product(SYSTEMS, (0, 8, 20), (0, 250)):
        tilt = side_tilt(TRACTOR, *LOADER.at(20, load), stance=STANCE)
        yield base_plan(tilt, STANCE, 1.65, side_deg=side, system=system)
        yield slope_section(tilt, STANCE, side_deg=side, system=system)


SCENES = [*lift_scenes(), *slope_scenes()]


@pytest.mark.parametrize("view", [WIDE, NARROW, LARGE], ids=lambda v: v.name)
def test_words_stay_inside_the_sheet_and_off_each_other(view):
    for scene in SCENES:
        placed = place(scene, view)
        for one in placed:
            left, top, right, bottom = one.box
            assert (
                left >= -1 and top >= -1 and right <= view.width + 1 and bottom <= view.height + 1
            ), (scene.title, one.text)
        ticks = [p.label.fixed and p.label.role == "muted" for p in placed]
        for (a, i), (b, j) in itertools.combinations(zip(placed, ticks), 2):
            # The two zeros at the corner of a chart touch by a hair, as on any graph paper.
            assert (i and j) or not overlap(a.box, b.box), (
                f"{scene.title}: {a.text!r} on {b.text!r}"
            )


def test_every_picture_is_named_and_described():
    for scene in SCENES:
        assert scene.title and len(scene.desc.split()) >= 8
        assert 'role="img"' in svg(scene) and "safe" not in scene.desc.lower()


def test_hidden_readings_are_nowhere_in_the_picture():
    tilt = side_tilt(TRACTOR, *LOADER.at(20, 200), stance=STANCE)
    assert "tipping line" in base_plan(tilt, STANCE, 1.65, side_deg=30, hidden=True).desc
    assert "past" not in base_plan(tilt, STANCE, 1.65, side_deg=30, hidden=True).desc


def test_the_plan_and_the_section_agree_with_the_tilt():
    tilt = side_tilt(TRACTOR, *LOADER.at(20, 200), stance=STANCE)
    for side in (tilt.line_deg - 0.5, tilt.line_deg + 0.5):
        past = side > tilt.line_deg
        scene = slope_section(tilt, STANCE, side_deg=side)
        line, center = (
            next(s.at for s in scene.shapes if getattr(s, "mark", "") == mark and s.role == role)
            for mark, role in (("square", "rear"), ("round", "load"))
        )
        assert (center[0] < line[0]) is past  # downhill is left
        foot = next(
            s.at
            for s in base_plan(tilt, STANCE, 1.65, side_deg=side).shapes
            if getattr(s, "mark", "") == "cross"
        )
        assert (foot[0] < -tilt.half_base_m) is past


def test_a_chart_of_limits_needs_a_limit():
    assert limit_chart(limit_checks(AxleLoads(900, 800))) is None
    scene = limit_chart(limit_checks(AxleLoads(990, 800), front_axle=900, rear_axle=1000))
    assert "110 percent, over the limit" in scene.desc and "80 percent." in scene.desc
