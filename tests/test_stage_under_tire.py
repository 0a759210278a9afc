"""What lies under a tire, on the stage: the page as Python, contacts worked by hand."""

import math
import re
from dataclasses import replace

import pytest
from stage_in_page import readable, still, written_alike

from leverarm.ground import ContactPatch, bulb, demo_patch
from leverarm.quantities import Refusal
from leverarm.stage.elements import every_element
from leverarm.stage.recorder import Recorder
from leverarm.stage.recording import as_json, recorded, start_of
from leverarm.stage.sheet import PROJECTOR
from leverarm.stage.under_tire import UnderTireGuess, UnderTireSeen
from leverarm.stage.under_tire_case import UnderTireCase, between_knots, round_number

LB = 0.45359237
DEMO = UnderTireCase(1320 * LB, 2274 * LB, demo_patch())
# Somebody's own: a large soft tire, and a patch so large that it reads below the gauge.
OWN = ContactPatch("41 cm", "33 cm", shape=0.8, load="790 kg", inflation="80 kPa")
CASES = {
    "lb": DEMO,
    "kg": replace(DEMO, system="kg"),
    "own": UnderTireCase(1500, 1900, OWN, "kg"),
    "projector": replace(DEMO, sheets=(PROJECTOR,)),
}
ACTS = {"guess": UnderTireGuess, "seen": UnderTireSeen}


@pytest.mark.parametrize("which", CASES)
@pytest.mark.parametrize("act", ACTS)
def test_page_and_python_write_the_same(which, act, tmp_path):
    draw = ACTS[act](CASES[which])
    _, places = written_alike(
        tmp_path, draw, draw.inputs, 200 if act == "seen" else 40, which + act
    )
    assert places > (60 if act == "seen" else 5)


@pytest.mark.parametrize("act", ACTS)
def test_markup_is_the_picture_at_the_start(act):
    draw = ACTS[act](DEMO)
    markup = re.sub(r' data-b="\d+"', "", recorded(draw, draw.inputs)["markup"])
    assert markup == still(draw, start_of(draw.inputs))


# Worked by hand in pounds and inches. The patch: 16 cm x 11.5 cm x 0.85 = 156.4 cm2 = 24.24 in2.
# Bare 660 lb / 24.24 in2 = 27.2 psi. Load x 1.7227, so the patch x (1 + 0.8 x 0.7227) = 1.578 on
# hard ground: 38.26 in2, 1,137 / 38.26 = 29.7 psi. On soft ground x (1 + 0.27 x 0.7227) = 1.195:
# 28.97 in2, 39.2 psi. Carcass 27.2 - 23.2 = 4.0 psi; 15 psi on the gauge and 660 lb give 19.0 psi,
# so 34.7 in2, and with the loader 54.8 in2 and 20.7 psi.
@pytest.mark.parametrize(
    ("axle", "gauge", "soft", "area", "pressure"),
    [
        (1320, 23.206, 0, 24.24, 27.23),
        (1320, 23.206, 1, 24.24, 27.23),
        (2274, 23.206, 0, 38.26, 29.72),
        (2274, 23.206, 1, 28.97, 39.24),
        (2274, 15.0, 0, 54.78, 20.76),
    ],
)
def test_contacts_worked_by_hand(axle, gauge, soft, area, pressure):
    tire = DEMO.tire(axle, gauge, soft)
    assert tire.area_m2 / 0.0254**2 == pytest.approx(area, rel=2e-3)
    assert tire.pressure_kpa / 6.894757 == pytest.approx(pressure, rel=2e-3)


def test_a_line_lies_where_the_stress_has_its_value():
    # By the formula for a circle, factor 4: 1 - (z^2 / (z^2 + a^2))^2, with a = sqrt(24.24 / pi).
    a, p = math.sqrt(24.24 / math.pi), 27.23
    for line in DEMO.lines_kpa:
        z = DEMO.bare().reach_m(line) / 0.0254
        assert p * (1 - (z * z / (z * z + a * a)) ** 2) == pytest.approx(line / 6.894757, rel=2e-3)


@pytest.mark.parametrize(
    ("state", "wanted"),
    [
        (
            {"part": 1.0},
            {"+72 %", "+58 %", "+9 %", "+33 %", "660 → 1,137 lb", "24.2 → 38.3 in²", "29.7 psi"},
        ),
        ({"part": 3.0, "soft": 1}, {"+20 %", "+44 %", "27.2 → 39.2 psi", "soft ground"}),
        ({"part": 3.0, "axle": 1320}, {"0 %", "660 → 660 lb"}),
        (
            {"part": 2.0, "pressure_said": 20, "reach_said": 1},
            {"you said +20.0", "you said deeper"},
        ),
    ],
)
def test_demo_reads_as_worked_by_hand(state, wanted):
    draw = UnderTireSeen(DEMO)
    assert wanted <= set(readable(draw, {**start_of(draw.inputs), **state}))


@pytest.mark.parametrize(
    ("said", "reach", "exact"), [(2.5, 1, True), (2.5, 0, False), (2.6, 1, False), (20, 1, False)]
)
def test_an_exact_prediction_is_told_so(said, reach, exact):
    draw = UnderTireSeen(DEMO)
    state = {**start_of(draw.inputs), "part": 1.0, "pressure_said": said, "reach_said": reach}
    line = [one for one in every_element(draw(state).tree) if "and it is" in one.words]
    assert [dict(one.attributes)["hidden"] for one in line] == ["" if exact else "hidden"]


def test_air_works_at_the_surface_and_load_in_the_depth():
    loaded = DEMO.loaded()
    aired, lighter = DEMO.tire(2274, 12.0), DEMO.bare()
    deep = DEMO.lines_kpa[-1]
    assert aired.pressure_kpa < 0.7 * loaded.pressure_kpa
    assert aired.reach_m(deep) > 0.93 * loaded.reach_m(deep)
    assert lighter.pressure_kpa > 0.9 * loaded.pressure_kpa
    assert lighter.reach_m(deep) < 0.8 * loaded.reach_m(deep)


def test_a_question_holds_nothing_that_answers():
    draw = UnderTireGuess(DEMO)
    data = recorded(draw, draw.inputs)
    assert set(data["start"]) == {"pressure_said", "reach_said", "pressure_known", "reach_known"}
    shown = " ".join(readable(draw, start_of(draw.inputs)))
    words = set(re.findall(r"\d[\d,.]*", shown))
    assert {"72", "660", "1,137", "27.2", "24.2"} <= words
    assert not words & {"58", "9", "33", "38.3", "29.7", "9.2", "44", "2.5"}
    assert not re.search(r"flatten|grows|soft|you said", as_json(data))


def test_a_question_is_drawn_without_the_loaded_tire(monkeypatch):
    asked = []
    honest = UnderTireCase.tire

    def noted(self, axle, gauge, soft=0.0):
        asked.append(axle)
        return honest(self, axle, gauge, soft)

    monkeypatch.setattr(UnderTireCase, "tire", noted)
    # How deep the paper reaches is settled for all that may ever be moved, not for this load.
    monkeypatch.setattr(UnderTireCase, "corners", [])
    monkeypatch.setattr(UnderTireCase, "deepest", 20.0)
    draw = UnderTireGuess(replace(DEMO))
    recorded(draw, draw.inputs)
    assert asked and set(asked) == {1320}


def test_a_line_that_the_surface_does_not_have_is_not_drawn():
    draw = UnderTireSeen(CASES["own"])
    low = {one.name: one.low for one in draw.inputs} | {"part": 3.0}
    line = CASES["own"].lines_kpa[0]
    assert not CASES["own"].of(low).has(line)
    assert "nan" not in still(draw, low)


def test_drawn_lines_follow_the_lines_of_the_soil():
    # The shape is known at a few depths; between them it may be off by a hundredth.
    for axle in (900, 1320, 1800, 2274, 2700):
        tire = DEMO.tire(axle, 20.0)
        for line, knots in zip(DEMO.lines_kpa, DEMO.shapes, strict=True):
            true = bulb(1.0, 1.0, line / tire.pressure_kpa, 4, steps=12)
            drawn = between_knots(knots, tire.reach_m(line) / tire.radius_m)
            for wide, (offset, _) in zip(drawn, true[1:-1], strict=True):
                assert wide == pytest.approx(offset, abs=0.03 * max(o for o, _ in true))


def test_everything_stays_on_the_paper():
    for case in CASES.values():
        deepest = max(one.reach_m(case.lines_kpa[-1]) for one in case.corners)
        assert case.of_base(deepest, "depth") <= case.deepest


@pytest.mark.parametrize("pair", [(0, 500), (600, 600), (900, 600)])
def test_a_loader_that_adds_no_load_is_refused(pair):
    with pytest.raises(Refusal, match="two readings of the front scale"):
        UnderTireCase(*pair, demo_patch())


@pytest.mark.parametrize(
    ("value", "wanted"),
    [(1.2, 1), (1.3, 1.5), (4.1, 5), (6, 5), (6.1, 7), (8.6, 10), (0.024, 0.02)],
)
def test_a_round_number_is_the_nearest(value, wanted):
    assert round_number(value) == pytest.approx(wanted)


# Powers of a recorded quantity, beside Python's own.
@pytest.mark.parametrize("power", [0.5, 1, 1.5, 2, 3, -0.5, -1, -2])
def test_a_recorded_power_is_the_power(power):
    recorder = Recorder()
    x = recorder.input("x", 0.1, 10)
    row = (x**power).row
    for value in (0.1, 0.7, 2.0, 10.0):
        assert recorder.work_out({"x": value})[row] == pytest.approx(value**power, rel=1e-14)


@pytest.mark.parametrize("power", [0, 0.3, 1 / 3])
def test_other_powers_are_refused(power):
    with pytest.raises(TypeError, match="powers such as"):
        Recorder().input("x", 0.1, 10) ** power
