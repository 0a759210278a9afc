"""Panels and pictures of tire and front drive: code twins, both unit systems, words kept inside."""

import pytest

from leverarm import driveline, ground, predict
from leverarm.machine import demo_loader, demo_tractor
from leverarm.panels import contact_patch, front_lead, roll_out, under_tire
from leverarm.quantities import Refusal
from leverarm.scene import LARGE, NARROW, WIDE, place
from leverarm.scene.layout import overlap
from leverarm.scene.soil import depth_chart
from leverarm.scene.turning import mismatch_chart

pytestmark = pytest.mark.usefixtures("metric")


def contacts():
    return ground.front_contacts(
        ground.demo_patch(), predict(demo_tractor()), predict(demo_tractor(), *demo_loader())
    )


# --- panels -----------------------------------------------------------------------


@pytest.mark.parametrize("make", [under_tire, front_lead])
@pytest.mark.parametrize("system, words", [("kg", ("kPa", "hectare")), ("lb", ("psi", "acre"))])
def test_both_unit_systems(make, system, words):
    panel = make().set(system=system)
    assert any(word in panel.out.value for word in words) and not panel.error.value


def test_under_tire_shows_what_the_package_computes():
    panel = under_tire()
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
    panel = under_tire()
    page = "".join(w.value for w in panel.widget.children if hasattr(w, "value"))
    assert (
        all(line.split("(")[0].strip()[:40] in page for line in ground.LIMITS) and "6.67 kN" in page
    )
    assert "safe" not in page.replace("lv-", "").lower()


def test_front_lead_shows_what_the_package_computes():
    panel = front_lead().set(squash="12 mm", radius="3 m")
    assert panel.off == driveline.demo_drive() and panel.on.lead == pytest.approx(
        panel.off.squashed("12 mm", "-2.4 mm").lead
    )
    assert f"{panel.off.mismatch(3):.1f}".replace("-", "−") in panel.out.value
    page = "".join(w.value for w in panel.widget.children if hasattr(w, "value"))
    assert all(line.split("'")[0][:30] in page for line in driveline.CAUTIONS)


def test_drive_out_makes_nothing_slip():
    panel = front_lead()
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
    yield depth_chart(off, on, system=system)
    yield depth_chart(on, off, system=system)
    for radius in (2.5, 14.0):
        yield mismatch_chart(drive, squashed, radius, system=system)


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize("view", [WIDE, NARROW, LARGE], ids=["wide", "narrow", "large"])
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
    assert "188 kPa at the surface" in depth_chart(*contacts()).desc
    drive = driveline.demo_drive()
    assert "−16.7 %" in mismatch_chart(drive, drive.squashed(0.01), 2.5).desc


# --- a slider that the page puts on its step ----------------------------------------


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_drawing_a_slider_changes_no_value(system):
    """The page rounds a handle to its step and says so: that is an echo, not a move.

    A real move counts.
    """
    panel = under_tire().set(on="1019.1 kg", system=system)
    number = panel.numbers["on"]
    low, step = number.slider.min, number.slider.step
    number.slider.value = low + round((number.slider.value - low) / step) * step
    assert number.value == 1019.1
    number.slider.value += step
    assert number.value > 1019.1
