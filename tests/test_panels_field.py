"""Panels and pictures of tire and front drive: code twins, the gate, both unit systems, words kept
inside.
"""

import pytest

from leverarm import driveline, ground, predict
from leverarm.machine import demo_loader, demo_tractor
from leverarm.panels import contact_patch, front_lead, roll_out, under_tire
from leverarm.quantities import Refusal
from leverarm.scene import LARGE, NARROW, WIDE, place, svg
from leverarm.scene.layout import overlap
from leverarm.scene.soil import SECTION_VIEWS, depth_chart, soil_section
from leverarm.scene.turning import mismatch_chart, turn_plan

pytestmark = pytest.mark.usefixtures("metric")


def contacts():
    return ground.front_contacts(
        ground.demo_patch(), predict(demo_tractor()), predict(demo_tractor(), *demo_loader())
    )


# --- panels -----------------------------------------------------------------------

GATED = [
    (under_tire, {"surface": "up 20 kPa", "reach": "up 6 cm"}),
    (front_lead, {"lead": "down 1 %", "turn": "down 20 %"}),
]


@pytest.mark.parametrize("make, told", GATED)
def test_nothing_is_shown_before_a_prediction(make, told):
    panel = make()
    assert (panel.hidden and "kept back" in panel.out.value) or "Predict" in panel.out.value
    assert "lv-table" not in panel.out.value
    panel.gate.lock_in(**told)
    assert panel.hidden and all(number.box.disabled for number in panel.numbers.values())
    panel.gate.reveal()
    assert not panel.hidden and "you said" in panel.out.value and not panel.error.value


@pytest.mark.parametrize("make, told", GATED)
def test_a_moved_slider_drops_the_prediction_and_can_go_back(make, told):
    panel = make()
    panel.gate.lock_in(**told)
    panel.gate.reveal()
    name = next(iter(panel.numbers))
    before = panel.values
    panel.numbers[name].value = panel.numbers[name].value * 1.1
    assert panel.predictions == {} and "you said" not in panel.out.value
    panel.restore()
    assert panel.values == before and "you said" in panel.out.value


@pytest.mark.parametrize("make", [under_tire, front_lead])
@pytest.mark.parametrize("system, words", [("kg", ("kPa", "hectare")), ("lb", ("psi", "acre"))])
def test_both_unit_systems(make, system, words):
    panel = make(gated=False).set(system=system)
    assert any(word in panel.out.value for word in words) and not panel.error.value


def test_under_tire_shows_what_the_package_computes():
    panel = under_tire(gated=False)
    off, on = contacts()
    assert (panel.off, panel.on) == (off, on)
    assert (
        f"{on.pressure_kpa:.0f} kPa" in panel.out.value
        and f"{off.pressure_kpa:.0f} kPa" in panel.out.value
    )
    panel.set(inflation="100 kPa")
    assert panel.off.pressure_kpa == pytest.approx(
        ground.demo_patch().under(1320 * 0.45359237 / 2, inflation=100).pressure_kpa
    )


def test_the_caveat_stands_beside_the_plot():
    panel = under_tire(gated=False)
    page = "".join(w.value for w in panel.widget.children if hasattr(w, "value"))
    assert (
        all(line.split("(")[0].strip()[:40] in page for line in ground.LIMITS) and "6.67 kN" in page
    )
    assert "safe" not in page.replace("lv-", "").lower()


def test_front_lead_shows_what_the_package_computes():
    panel = front_lead(gated=False).set(squash="12 mm", radius="3 m")
    assert panel.off == driveline.demo_drive() and panel.on.lead == pytest.approx(
        panel.off.squashed("12 mm").lead
    )
    assert f"{panel.off.mismatch(3):.1f}".replace("-", "−") in panel.out.value
    page = "".join(w.value for w in panel.widget.children if hasattr(w, "value"))
    assert all(line.split("'")[0][:30] in page for line in driveline.CAUTIONS)


def test_drive_out_makes_nothing_slip():
    panel = front_lead(gated=False)
    panel.switch.value = False
    assert "Drive out" in panel.out.value and "lv-table" not in panel.out.value


def test_contact_patch_and_roll_out():
    paper = contact_patch()
    assert paper.made == ground.demo_patch() and "30 to 40 %" in paper.out.value
    paper.set(length="20 cm", inflation="200 kPa")
    assert "less than the gauge" in paper.out.value
    counted = roll_out()
    assert "+3.0" in counted.out.value and "manual decides" in counted.out.value
    counted.set(step=1)
    assert "too coarse" in counted.out.value


@pytest.mark.parametrize(
    "make, told",
    [
        (under_tire, {"factor": 2}),
        (under_tire, {"on": "0 kg"}),
        (front_lead, {"radius": 0}),
        (front_lead, {"speed": 3}),
        (contact_patch, {"shape": 2}),
        (roll_out, {"step": "x"}),
    ],
)
def test_panels_refuse_and_keep_what_they_had(make, told):
    panel = make()
    before = panel.values
    with pytest.raises(Refusal):
        panel.set(**told)
    assert panel.values == before


# --- pictures ---------------------------------------------------------------------


def scenes(system):
    off, on = contacts()
    drive = driveline.demo_drive()
    squashed = drive.squashed("10 mm")
    yield soil_section(off, on, system=system)
    yield soil_section(off, on, system=system, hidden=True)
    yield soil_section(on, off, system=system, factor=6)
    yield depth_chart(off, on, system=system)
    yield depth_chart(off, on, system=system, hidden=True)
    for radius in (1.5, 2.5, 6.0, 15.0):
        yield turn_plan(drive, radius, system=system)
        yield turn_plan(drive, radius, system=system, hidden=True)
    yield mismatch_chart(drive, squashed, 2.5, system=system)
    yield mismatch_chart(drive, squashed, 14.0, system=system, hidden=True)


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize(
    "view", [WIDE, NARROW, SECTION_VIEWS[1], LARGE], ids=["wide", "narrow", "low", "large"]
)
def test_words_stay_on_the_sheet_and_off_each_other(system, view):
    for scene in scenes(system):
        boxes = [placed.box for placed in place(scene, view)]
        for left, top, right, bottom in boxes:
            assert left >= 0 and top >= 0 and right <= view.width and bottom <= view.height, (
                scene.title
            )
        clashes = [(a, b) for i, a in enumerate(boxes) for b in boxes[i + 1 :] if overlap(a, b)]
        assert not clashes, f"{scene.title} on {view.name}: {clashes[:2]}"


def test_pictures_say_their_numbers():
    off, on = contacts()
    section = soil_section(off, on)
    assert "188 kPa at the surface" in section.desc and "23 cm deep" in section.desc
    assert (
        "kept back" in soil_section(off, on, hidden=True).desc
        and "23 cm" not in soil_section(off, on, hidden=True).desc
    )
    kept = turn_plan(driveline.demo_drive(), 2.5, hidden=True)
    assert "kept back" in kept.desc and "3.00 m" not in svg(kept)
    plan = turn_plan(driveline.demo_drive(), 2.5)
    assert "2.50 m" in plan.desc and "3.00 m" in plan.desc and "19.8 % farther" in plan.desc
    assert (
        "−16.7 %"
        in mismatch_chart(driveline.demo_drive(), driveline.demo_drive().squashed(0.01), 2.5).desc
    )


def test_the_same_scene_gives_the_same_bytes():
    off, on = contacts()
    assert svg(soil_section(off, on)) == svg(soil_section(off, on))


# --- a slider that the page puts on its step ----------------------------------------


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_drawing_a_slider_changes_no_value(system):
    """The page rounds a handle to its step and says so: that is an echo, not a move.

    A real move counts.
    """
    panel = under_tire(gated=False).set(on="1019.1 kg", system=system)
    number = panel.numbers["on"]
    low, step = number.slider.min, number.slider.step
    number.slider.value = low + round((number.slider.value - low) / step) * step
    assert number.value == 1019.1
    number.slider.value += step
    assert number.value > 1019.1
