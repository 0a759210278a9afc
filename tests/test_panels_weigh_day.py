"""Panels of a weigh day and of the loader piece by piece: code twins, the gate, both unit systems,
nothing lost.
"""

import pytest

from leverarm import Refusal, weighing
from leverarm.panels import claim_audit, setup_errors, strip_down, weigh_day, weigh_record
from leverarm.scene import NARROW, WIDE, place
from leverarm.scene.chart import Span, span_chart, span_views
from leverarm.scene.layout import overlap
from leverarm.scene.load_charts import STRIP_VIEWS, strip_chart

pytestmark = pytest.mark.usefixtures("metric")


@pytest.fixture
def path(tmp_path):
    return tmp_path / "record.csv"


def shown_day(**more):
    day = weigh_day(gated=False, **more)
    day.invent()
    assert not day.error.value
    return day


# --- piece by piece
# ---------------------------------------------------------------------------------


def test_strip_down_keeps_back_until_a_prediction_stands():
    panel = strip_down()
    # 1320 + 460 x 1.1 + 260 x (1 + 47/65) = 2274 lb = 1031.5 kg; the bucket 448 lb = 203.2 kg
    assert panel.hidden and "1031.5 kg" in panel.out.value and "203.2" not in panel.out.value
    panel.gate.lock_in(bucket="down 150 kg", loader="down 320 kg")
    panel.gate.reveal()
    assert (
        "you said" in panel.out.value
        and "−150.0 kg" in panel.out.value
        and "203.2 kg" in panel.out.value
    )


def test_order_does_not_matter():
    panel = strip_down(gated=False)
    first = panel.steps("front")
    panel.order.value = "frame"
    second = panel.steps("front")
    assert first[::-1] == second and sum(kg for _, kg in first) == pytest.approx(
        panel.bare.front_kg - panel.loaded.front_kg
    )


def test_percent_of_what():
    panel = strip_down(gated=False)
    percents = dict(panel.percents)
    assert percents["the front axle with the bucket on"] == pytest.approx(100 * 448 / 2274)
    assert (
        percents["the bucket's own weight"] == pytest.approx(100 * (1 + 47 / 65))
        and len(percents) == 5
    )


def test_a_lifted_rear_is_said():
    panel = strip_down(gated=False).set(bucket="900 kg", bucket_ahead="2.5 m")
    assert "statics ends here" in panel.out.value and not panel.error.value


# --- weigh day
# -----------------------------------------------------------------------------------------


def test_the_day_predicts_reads_and_infers():
    day = weigh_day()
    assert (
        day.hidden
        and "kept back" in day.out.value
        and "2272" not in day.out.value
        and "1030.6" not in day.out.value
    )
    day.gate.lock_in(front="up 180 kg", rear="down 70 kg")
    day.gate.reveal()
    assert "The scales should show" in day.out.value, "the forecast stands before the readings"
    day.invent()
    assert "you said" in day.out.value and "Both readings lie within the forecast" in day.out.value
    # (2274 - 1827) + (1525 - 1715) = 257 lb
    assert day.result.weight_kg == pytest.approx(257 * 0.45359237) and day.result.u_weight_kg > 0
    assert "helps most" in day.out.value and "<svg" in day.plots.value


def test_readings_are_told_in_code_and_refused_whole():
    day = shown_day()
    before = {name: box.value for name, box in day.boxes.items()}
    for told in (
        {"front_on": "abc"},
        {"front_on": ""},
        {"left": "600"},
        {"front_on": "600", "rear_on": "x"},
    ):
        with pytest.raises(Refusal):
            day.read(**told)
    assert {name: box.value for name, box in day.boxes.items()} == before
    assert day.read(
        front_on="2272; 2276; 2274", rear_on=1525
    ).result.front_change.value == pytest.approx(447 * 0.45359237)


def test_a_typing_slip_is_shown_and_the_rest_stays():
    day = shown_day()
    day.boxes["rear_on"].value = "seven hundred"
    assert "seven hundred" in day.error.value
    day.boxes["rear_on"].value = "700; 701"
    assert day.error.value == ""


def test_a_reading_outside_the_forecast_is_said():
    day = shown_day().read(front_on="1100", rear_on="650")
    assert "outside the forecast" in day.out.value


def test_one_axle_needs_the_tape_and_says_so(path):
    day = shown_day(record=path)
    day.boxes["rear_on"].value = ""
    assert (
        not day.error.value
        and "had to be given" in day.out.value
        and "forecast (95" not in day.out.value
    )
    assert day.result.ahead_m == pytest.approx(48 * 0.0254) and day.read_axles == ["front"]
    day.save()
    assert [(r.front, r.rear) for r in weighing.read_record(path).rows] == [
        (1828, None),
        (1826, None),
        (2272, None),
        (2276, None),
    ]


def test_pounds_show_pounds():
    day = shown_day().set(system="lb")
    assert "lb" in day.out.value and "in (95" in day.out.value and not day.error.value


def test_saving_adds_rows_and_never_a_prediction(path):
    day = weigh_day(record=path)
    day.gate.lock_in(front="up 180 kg", rear="down 70 kg")
    day.gate.reveal()
    day.attempt(day.save)
    assert "type what the scales showed" in day.error.value and not path.exists(), (
        "nothing read, nothing saved"
    )
    day.invent()
    assert day.save().path == path and "4 rows" in day.saved.value
    rows = weighing.read_record(path).rows
    assert [(r.state, r.front, r.repeat) for r in rows] == [
        ("loader frame", 1828, 1),
        ("loader frame", 1826, 2),
        ("loader frame + bucket", 2272, 1),
        ("loader frame + bucket", 2276, 2),
    ]
    # What was believed: 1827 + 250 x (1 + 48/65) = 2262 lb.
    assert not any("180" in str(r.front) or round(r.front) == 2262 for r in rows)
    day.save()
    assert [r.repeat for r in weighing.read_record(path).rows][4:] == [3, 4, 3, 4]


def test_a_held_record_is_said_on_the_page(path):
    day = shown_day(record=path)
    day.save()
    (path.parent / f".~lock.{path.name}#").write_text("held")
    day.save()
    assert "held open" in day.saved.value and "beside" in day.saved.value


# --- the record
# ---------------------------------------------------------------------------------------------


def test_the_record_shows_fit_faults_and_takes_corrections(path):
    weighing.append_rows(path, *weighing.demo_rows())
    with path.open("a", encoding="utf-8", newline="") as file:
        file.write("2025-05-14,Plot tractor,1.65 m,<b>bucket</b>,x,720,kg,1,\r\n")
    panel = weigh_record(path, scales=weighing.demo_scales())
    assert (
        "10 rows, 1 that cannot be read" in panel.out.value
        and "line 12, column front" in panel.out.value
    )
    assert "<b>bucket" not in panel.out.value and panel.fit.pieces[
        "bucket"
    ].weight_kg == pytest.approx(260 * 0.45359237, abs=2)
    assert "The set-ups agree" in panel.out.value and "Disagrees most" in panel.out.value
    panel.wrong.value = 4
    panel.front.value = "2274"
    panel.correct()
    assert "1 row added" in panel.said.value and "corrected by a later row" in panel.out.value
    assert len(panel.record.rows) == 11 and panel.record.rows[4].front == 2272


def test_rows_without_a_file(path):
    panel = weigh_record(rows=weighing.demo_rows())
    assert panel.fit.redundant_dof == 2 and not panel.error.value
    assert weigh_record(path).out.value.startswith('<p class="lv-say">0 rows')


def test_hostile_rows_are_escaped(path):
    weighing.append_rows(
        path,
        weighing.record_row("<script>x</script>", 1.65, "<img src=x>", 600, 800),
        weighing.record_row("m", 1.65, "bare", 500, 700, note="<i>"),
    )
    panel = weigh_record(path)
    assert "<script" not in panel.out.value and "<img" not in panel.out.value


# --- set-up errors and claims
# ------------------------------------------------------------------------------


def test_each_error_is_a_switch_with_its_size():
    panel = setup_errors()
    assert [e.key for e in panel.errors] == ["pads"] and "Put boards" in panel.out.value
    panel.switch(pads=False, operator=True).set(operator="70 kg")
    assert panel.effects[0].weight_kg == pytest.approx(-70) and "seat empty" in panel.out.value
    panel.switch(operator=False)
    assert "Nothing is wrong" in panel.out.value
    panel.switch(**dict.fromkeys(panel.switches, True))
    assert (
        panel.out.value.count("<tr>") == 8
        and "±5.0 kg" in panel.out.value
        and not panel.error.value
    )


def test_a_claim_is_audited_and_every_percentage_has_its_base():
    panel = claim_audit()
    assert panel.result.fits is False and "does not fit" in panel.out.value
    panel.say("25 %")
    assert "Percent of what?" in panel.out.value and panel.out.value.count("<tr>") == 7
    panel.say("<b>lots</b>")
    assert "&lt;b&gt;lots" in panel.error.value and "<b>lots" not in panel.error.value
    panel.say("110 kg").set(system="lb")
    assert "lb" in panel.out.value and not panel.error.value
    panel.boxes["rear_on"].value = ""
    assert not panel.error.value and panel.result.hung is None


# --- charts ---------------------------------------------------------------------------------------
# ------------

SPANS = [
    Span("believed", 105, 97, 113, "muted"),
    Span("from the scales", 110.5, 107, 114, "load"),
    Span("x", 1, 1, 1),
]
CHARTS = [
    (strip_chart(axle, start, steps, system=system), STRIP_VIEWS)
    for system in ("kg", "lb")
    for axle, start, steps in (
        ("front", 1019.1, [("bucket", -190.0), ("loader frame", -229.1)]),
        ("rear", 700.9, [("bucket", 80.0), ("loader frame", 19.1)]),
    )
]
CHARTS += [(span_chart("Weight", "weight, kg", SPANS[:n]), span_views(n)) for n in (1, 2, 3)]


@pytest.mark.parametrize("chart, views", CHARTS)
def test_charts_keep_their_words_inside_and_apart(chart, views):
    for view in (*views, *([WIDE, NARROW] if views is STRIP_VIEWS else [])):
        placed = place(chart, view)
        for one in placed:
            left, top, right, bottom = one.box
            assert (
                left >= 0 and top >= 0 and right <= view.width + 0.5 and bottom <= view.height + 0.5
            ), one.text
        assert not [
            (a.text, b.text)
            for i, a in enumerate(placed)
            for b in placed[:i]
            if overlap(a.box, b.box)
        ]
    assert chart.title and len(chart.desc.split()) > 6
