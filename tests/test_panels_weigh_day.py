"""Panels of a weigh day and of the loader piece by piece: code twins, the gate, both unit systems,
nothing lost.
"""

import re
from dataclasses import replace

import pytest

from leverarm import Refusal, weighing
from leverarm.handouts.customer_page import customer_page
from leverarm.panels import (
    claim_audit,
    compare_days,
    hand_over,
    machine_and_scales,
    mow_or_unhook,
    readings_in,
    role_play,
    setup_errors,
    strip_down,
    weigh_day,
    weigh_record,
)
from leverarm.quantities import show
from leverarm.scene import NARROW, WIDE, place
from leverarm.scene.chart import Span, span_chart, span_views
from leverarm.scene.layout import overlap
from leverarm.scene.load_charts import STRIP_VIEWS, strip_chart
from leverarm.weighing.day import begun
from leverarm.weighing.day import weigh_day as new_day
from leverarm.weighing.day_file import add_rows, days_of, files_at
from leverarm.weighing.facts import machine, scale_facts
from leverarm.weighing.readings import weighing as one_weighing
from leverarm.weighing.results import LONE, results

pytestmark = pytest.mark.usefixtures("metric")


@pytest.fixture
def yard(tmp_path):
    return tmp_path / "weigh_days"


def kept(yard, name="Orchard tractor", **more):
    """A machine of this file's own invention, told and kept; today's day of it is chosen."""
    told = {"wheelbase": "65 in", "wheelbase_error": "1/8 in", "unit": "lb", **more}
    panel = machine_and_scales(yard).tell(name=name, **told)
    panel.keep()
    return panel


SCALES_TOLD = {"step": "2 lb", "accuracy": "0.5"}


def opened(yard):
    day = weigh_day(yard)
    day.gate.lock_in(front="up 180 kg", rear="down 70 kg")
    day.gate.reveal()
    day.wheels.unit.value = "lb"
    return day


def settled(day):
    """Say of every remark that it is so."""
    for _ in range(5):
        if day.remarks.open:
            day.remarks.keep_button.click()
    assert not day.remarks.open and not day.error.value
    return day


# --- piece by piece
# ---------------------------------------------------------------------------------


def test_order_does_not_matter():
    panel = strip_down()
    first = panel.steps("front")
    panel.order.value = "frame"
    second = panel.steps("front")
    assert first[::-1] == second and sum(kg for _, kg in first) == pytest.approx(
        panel.bare.front_kg - panel.loaded.front_kg
    )


def test_percent_of_what():
    panel = strip_down()
    percents = dict(panel.percents)
    assert percents["the front axle with the bucket on"] == pytest.approx(100 * 448 / 2274)
    assert percents["the front axle with the whole loader off"] == pytest.approx(100 * 448 / 1320)
    assert percents["what the whole loader adds in front"] == pytest.approx(100 * 448 / 954)
    assert (
        percents["the bucket's own weight"] == pytest.approx(100 * (1 + 47 / 65))
        and len(percents) == 6
    )


def test_a_lifted_rear_is_said():
    panel = strip_down().set(bucket="900 kg", bucket_ahead="2.5 m")
    assert "these equations no longer hold" in panel.out.value and not panel.error.value


# --- the machine
# -----------------------------------------------------------------------------------------


def test_a_machine_is_made_once_and_offered_next_week(yard):
    first = kept(
        yard, **SCALES_TOLD, front_tires="18x8.5-8", front_pressure="18", date="2026-05-14"
    )
    assert "is kept in orchard-tractor_2026-05-14.csv" in first.said.value
    assert "moved from axle to axle is assumed" in first.said.value
    later = machine_and_scales(yard).tell(name="orchard  tractor", date="2026-05-21")
    assert later.boxes["wheelbase"].value == "65 in" and later.boxes["step"].value == "2 lb"
    later.keep()
    assert later.day.machine == first.day_choice.day.machine
    days = {day.date: day for day in days_of(files_at(yard))}
    assert days["2026-05-21"].machine.front_tires == days["2026-05-14"].machine.front_tires


def test_another_name_borrows_nothing(yard):
    kept(yard, **SCALES_TOLD, height_bare="27 in")
    panel = machine_and_scales(yard).tell(name="Orchard tractor")
    panel.boxes["name"].value = "Hill tractor"
    assert panel.boxes["wheelbase"].value == panel.boxes["height_bare"].value == ""
    panel.attempt(panel.keep)
    assert "wheelbase: nothing was given" in panel.error.value
    assert len(files_at(yard)) == 1


def test_a_fact_left_as_it_was_keeps_its_digits(yard):
    kept(yard, wheelbase="1.6543217 m")
    panel = machine_and_scales(yard).tell(name="Orchard tractor", step="5 lb")
    panel.keep()
    assert panel.day.machine.wheelbase_m == 1.6543217 and panel.day.scales.step_kg > 2
    with pytest.raises(Refusal, match="box"):
        panel.tell(color="red")


# --- weigh day
# -----------------------------------------------------------------------------------------


def test_the_invented_day_predicts_reads_and_infers(yard):
    day = weigh_day(yard)
    assert day.hidden and "kept back" in day.out.value and "EXAMPLE" in day.head.value
    assert not any(text in day.out.value + day.counts.value for text in ("2272", "1030.6"))
    day.gate.lock_in(front="up 180 kg", rear="down 70 kg")
    day.gate.reveal()
    assert "The scales should show" in day.out.value, "the forecast stands before the readings"
    day.invent()
    assert "you said" in day.out.value and "Both readings lie within the forecast" in day.out.value
    # (2274 - 1827) + (1525 - 1715) = 257 lb
    assert day.result.weight.value == pytest.approx(257 * 0.45359237) and day.result.weight.u > 0
    assert "helps most" in day.out.value and "<svg" in day.plots.value
    with pytest.raises(Refusal, match="the invented one"):
        day.write_down("bare", "1320", "1760")
    assert not yard.exists(), "an invented reading never gets into a file"


def test_readings_are_written_down_and_kept_back_until_bets_are_opened(yard):
    kept(yard, **SCALES_TOLD)
    day, record, audit = weigh_day(yard), weigh_record(yard), claim_audit(place=yard)
    assert day.box.layout.display == "none", "bets come first"
    day.gate.lock_in(front="up 180 kg", rear="down 70 kg")
    day.wheels.unit.value = "lb"
    day.write_down("loader frame", "1,828", ("860", "854"))
    day.write_down("loader frame + bucket", "1140/1132", "1524")
    shown = [day.out, day.counts, day.plots, record.out, audit.out, *day.wheels.boxes.values()]
    on_screen = " ".join(one.value for one in shown)
    assert not any(n in on_screen for n in ("1,828", "829.", "860", "1,140", "1,524", "691."))
    assert "kept back" in record.out.value and day.wheels.empty
    assert not day.remarks.words.value and not record.remarks.words.value
    day.gate.reveal()
    assert "Were fuel, operator and mower the same" in day.remarks.words.value
    assert day.remarks.correct_button.description == "Yes, all three"
    day.remarks.correct_button.click()
    assert day.day.unchanged is True and not day.remarks.open
    # (2272 - 1828) + (1524 - 1714) = 254 lb
    assert day.result.weight.value == pytest.approx(254 * 0.45359237)
    assert "254" in day.set(system="lb").out.value and "1,140 + 1,132 lb" in record.out.value
    assert "That is not true" in audit.out.value and "EXAMPLE" not in audit.out.value


def test_pressing_twice_writes_once(yard):
    kept(yard, **SCALES_TOLD)
    day = opened(yard)
    for axle, text in (("front", "1828"), ("rear", "1714")):
        day.wheels.tell(axle, text)
    day.write_button.click()
    day.write_button.click()
    assert "already written as row 1" in day.error.value and len(day.day.rows) == 1
    day.write_down("loader frame", "1828", "1714")
    assert [one.repeat for one in day.day.rows] == [1, 2], "typed again it is a repeat"


@pytest.mark.parametrize(
    "front, rear, what",
    [
        ("abc", "700", "abc"),
        ("", "", "readings"),
        ("1.019", "1700", "1,019 lb"),
        (("860", ""), "1700", "front right wheel"),
        ("829 kg", "1700", "a reading in lb"),
    ],
)
def test_a_reading_that_cannot_be_taken_is_said_and_what_was_typed_stays(yard, front, rear, what):
    kept(yard, **SCALES_TOLD)
    day = opened(yard)
    day.attempt(lambda: day.write_down("bare", front, rear))
    assert what in day.error.value and day.day.rows == ()
    assert day.wheels.of("front") == front and day.wheels.of("rear") == rear


def test_an_axle_and_its_wheels_at_once_are_asked_about(yard):
    kept(yard, **SCALES_TOLD)
    day = opened(yard)
    day.wheels.boxes["front"].value, day.wheels.boxes["front left"].value = "1828", "914"
    with pytest.raises(Refusal, match="leave one of them empty"):
        day.write_down()


def test_without_scales_no_plus_or_minus_is_printed(yard):
    kept(yard)
    day = opened(yard)
    day.write_down("loader frame", "1828", "1714")
    day.write_down("loader frame + bucket", "2272", "1524")
    record = weigh_record(yard)
    settled(day)
    assert "there is no ±" in day.out.value and day.out.value.count("±") == 1
    assert "254" in day.set(system="lb").out.value and not day.plots.value
    assert not record.error.value


def test_one_axle_needs_the_tape_and_says_so(yard):
    kept(yard, **SCALES_TOLD)
    day = opened(yard)
    day.write_down("loader frame", "1828")
    day.write_down("loader frame + bucket", "2272")
    day.same.say(True)
    # Front only, nothing told: what the front says, and what would tell the rest.
    assert "444" in day.set(system="lb").out.value and day.result.weight is None
    assert "its weight and its overhang stay open" in day.out.value and not day.error.value
    day.beliefs["ahead"].value, day.beliefs["u_ahead"].value = "48 in", "1 in"
    assert not day.error.value and "overhang as told" in day.out.value
    # 444 lb = W (1 + 48/65)
    assert day.result.weight.value == pytest.approx(444 / (1 + 48 / 65) * 0.45359237)
    assert "Only one axle was read" in weigh_record(yard).out.value


def test_one_axle_and_the_weight_as_told(yard):
    """Worked by hand: 444 lb = 250 lb (1 + a/65), so a = 50.4 in."""
    kept(yard, **SCALES_TOLD)
    day = opened(yard)
    day.write_down("loader frame", "1828")
    day.write_down("loader frame + bucket", "2272")
    day.same.say(True)
    day.set(system="lb")
    day.beliefs["weight"].value, day.beliefs["u_weight"].value = "250 lb", "2 lb"
    assert not day.error.value and "weight as told" in day.out.value
    assert day.result.ahead.value == pytest.approx(65 * (444 / 250 - 1) * 0.0254, rel=1e-4)


@pytest.mark.parametrize(
    "told, says",
    [
        ({"weight": "250", "weight_error": "5"}, ("told, not weighed", "250 lb × 1.")),
        ({"ahead": "48", "ahead_error": "1 in"}, ("The overhang was told", "48.0 in ÷ 65.0 in")),
        ({}, ("444 lb off",)),
    ],
)
def test_a_page_of_the_front_alone_takes_weight_or_overhang(yard, tmp_path, told, says):
    kept(yard, **SCALES_TOLD)
    day = opened(yard)
    day.write_down("loader frame", "1828")
    day.write_down("loader frame + bucket", "2272")
    day.same.say(True)
    page = hand_over(customer_page, yard)
    page.set(system="lb")
    for key, text in told.items():
        page.told[key].value = text
    words = re.sub(r"<[^>]+>", "", page.write(tmp_path).read_text("utf-8")).replace("\xa0", " ")
    assert all(one in words for one in says)


def test_bets_are_on_one_machine_and_day(yard):
    kept(yard, **SCALES_TOLD)
    day = opened(yard)
    day.write_down("loader frame", "1828", "1714")
    kept(yard, "Hill tractor", wheelbase="70 in")
    assert day.day.machine.name == "Hill tractor" and day.hidden and day.day.rows == ()
    day.day_choice.choose("Orchard tractor")
    assert len(day.day.rows) == 1 and "829" not in day.out.value + day.counts.value


def test_what_stayed_the_same_is_asked_and_kept(yard):
    kept(yard, **SCALES_TOLD)
    day = opened(yard)
    day.write_down("loader frame", "1828", "1714")
    assert day.same.box.layout.display == "none"
    day.write_down("loader frame + bucket", "2272", "1524")
    assert day.same.box.layout.display == "" and day.day.unchanged is None
    day.same.say(False)
    assert day.day.unchanged is False and weigh_day(yard).same.box.value == "no"


def test_what_a_person_says_of_one_named_file_is_there_when_it_is_opened_again(yard):
    kept(yard, **SCALES_TOLD)
    day = opened(yard)
    day.write_down("loader frame", "1714", "1828")
    day.write_down("loader frame + bucket", "2272", "1524")
    (file,) = yard.glob("*.csv")
    panel = weigh_record(file)
    while panel.remarks.open:
        panel.remarks.keep_button.click()
        assert not panel.error.value
    again = weigh_record(file)
    assert not again.remarks.open and again.day.unchanged is False
    assert again.day.accepted and again.day.accepted == panel.day.accepted


def test_a_held_file_is_said_on_the_page(yard):
    kept(yard, **SCALES_TOLD)
    day = opened(yard)
    (yard / f".~lock.{day.day.file_name}#").write_text("held")
    day.write_down("bare", "1320", "1760")
    assert "held open" in day.said.value and "beside" in day.said.value
    assert len(day.day.rows) == 1


def test_what_was_typed_stays_as_typed_in_boxes_and_file(yard):
    """Inches and pounds typed in a session that shows kilograms, and the other way around."""
    typed = {
        "wheelbase": "5'3\"",
        "wheelbase_error": "1/8 in",
        "step": "10 lb",
        "limit": "5",
        "pad_height": "2 1/2 in",
        "front_pressure": "20 psi",
        "rear_track": "48 in",
        "front_track": "1.2 m",
        "height_bucket": "14 in",
        "front_patch_length": "9 in",
        "front_patch_width": "6 in",
        "front_patch_shape": "0.85",
        "front_patch_load": "900 lb",
        "front_rating": "2,000 lb",
        "front_turns": "13.11",
        "rear_turns": "10",
        "turns_driven": "13.5",
    }
    panel = machine_and_scales(yard).tell(name="Hill tractor", unit="kg", **typed)
    saved = panel.keep()
    lines = saved.path.read_text("utf-8-sig")
    for line in (
        'wheelbase,"5\'3"""',
        "wheelbase error,1/8 in",
        "scales step,10 lb",
        "scales limit,5 kg",
        "pad height,2 1/2 in",
        "front track,1.2 m",
        "front patch load,900 lb",
        'front axle rating,"2,000 lb"',
        "front turns driven,13.5",
    ):
        assert f"{line}\n" in lines.replace("\r", ""), lines
    again = machine_and_scales(yard)
    again.day_choice.choose("Hill tractor")
    shown = {key: again.boxes[key].value for key in typed}
    assert shown == {**typed, "limit": "5 kg"}
    again.keep()
    assert saved.path.read_text("utf-8-sig") == lines
    assert again.day.machine.wheelbase_m == pytest.approx(1.6002)
    # Printed in the chosen system, with as many digits as were typed.
    assert show(again.day.machine.wheelbase_m, "length") == "1.60 m"
    assert show(again.day.machine.wheelbase_m, "length", "lb") == "63 in"
    assert show(again.day.scales.step_kg, "weight") == "4.5 kg"


def test_examples_in_empty_boxes_follow_the_unit_and_labels_are_distinct(yard):
    panel = machine_and_scales(yard)
    for unit, example in (("kg", "such as 1 kg"), ("lb", "such as 2 lb"), ("kg", "such as 1 kg")):
        panel.unit.value = unit
        assert panel.boxes["step"].placeholder == example
        shown = " ".join(box.placeholder for box in panel.boxes.values())
        other = "lb" if unit == "kg" else "kg"
        assert f" {other}" not in shown and (" in" in shown) == (unit == "lb")
    labels = [box.description for box in (*panel.boxes.values(), panel.day_choice.machines)]
    assert len(set(labels)) == len(labels)


# --- the gate
# -----------------------------------------------------------------------------------------


def test_a_swapped_row_keeps_the_result_back_until_it_is_corrected(yard):
    kept(yard, **SCALES_TOLD)
    day, record, audit = opened(yard), weigh_record(yard), claim_audit(place=yard)
    for repeat in range(2):
        day.write_down("loader frame", str(1828 + 2 * repeat), "1714")
        front, rear = ("2272", "1524") if repeat else ("1524", "2272")
        day.write_down("loader frame + bucket", front, rear)
    day.same.say(True)
    assert "row 2" in day.remarks.words.value and "swapped" in day.remarks.words.value
    assert "waits" in day.out.value and "wait until" in record.out.value and not day.plots.value
    assert "waits for your answer" in audit.error.value
    with pytest.raises(Refusal, match="waits for your answer"):
        _ = day.result
    day.remarks.correct_button.click()
    rows = day.day.rows
    assert len(rows) == 5 and rows[1].front.shown == 1524 and rows[4].front.shown == 2272
    # (2272 - 1829) + (1524 - 1714) = 253 lb
    assert day.result.weight.value == pytest.approx(253 * 0.45359237)
    assert not day.remarks.words.value and "That is not true" in audit.out.value


def test_a_person_may_say_that_it_is_so(yard):
    kept(yard, **SCALES_TOLD)
    day = opened(yard)
    day.write_down("loader frame", "1828", "1714")
    day.write_down("loader frame + bucket", "1524", "2272")
    assert day.remarks.open and "waits" in day.out.value
    settled(day)
    # (1524 - 1828) + (2272 - 1714) = 254 lb, behind the front axle
    assert day.result.weight.value == pytest.approx(254 * 0.45359237)
    assert "behind the front axle" in day.out.value and "less and the rear" in day.out.value
    assert day.day.accepted and not weigh_day(yard).remarks.open


# --- the record
# ---------------------------------------------------------------------------------------------


def test_the_record_shows_rows_and_fit_and_takes_corrections(yard):
    made = replace(weighing.demo_day(), invented=False)
    add_rows(made, folder=yard)
    panel = weigh_record(yard)
    assert "10 rows" in panel.out.value and not panel.error.value
    assert panel.fit.pieces["bucket"].weight_kg == pytest.approx(260 * 0.45359237, abs=2)
    assert "The set-ups agree" in panel.out.value and "Disagrees most" in panel.out.value
    panel.wrong.value, panel.front.value = 4, "2274"
    panel.correct_button.click()
    assert "1 row added" in panel.said.value and "corrected by a later row" in panel.out.value
    rows = panel.day.rows
    assert len(rows) == 11 and rows[4].front.shown == 2272 and rows[10].front.shown == 2274
    assert rows[10].rear == rows[4].rear and len(panel.day.current) == 10
    for row, front in ((12, "1"), (0, "1"), (3, "")):
        with pytest.raises(Refusal):
            panel.correct(row, front)


def test_the_invented_day_without_a_file(yard):
    panel = weigh_record(day=weighing.demo_day())
    assert panel.fit.redundant_dof == 2 and not panel.error.value
    assert "EXAMPLE" in panel.out.value and "EXAMPLE" in weigh_record(yard).out.value


def test_a_file_that_cannot_be_read_is_named(yard):
    add_rows(replace(weighing.demo_day(), invented=False), folder=yard)
    (file,) = yard.glob("*.csv")
    with file.open("a", encoding="utf-8", newline="") as out:
        out.write("<b>bucket</b>,1,x,,,720,,,kg,\r\n")
    panel = weigh_record(yard)
    assert "column front" in panel.error.value and "line 2" in panel.error.value
    assert "column front" in panel.day_choice.note.value


def test_hostile_text_is_escaped(yard):
    kept(yard, "<script>x</script>", **SCALES_TOLD)
    day = opened(yard)
    day.write_down("<img src=x>", "1320", "1760")
    day.remark.value = "<i>"
    day.write_down("bare", "1300", "1700")
    panel, audit = weigh_record(yard), claim_audit(place=yard)
    shown = (panel.out, panel.day_choice.note, day.out, day.counts, day.head, audit.out)
    words = " ".join(one.value for one in (*shown, machine_and_scales(yard).out))
    assert not any(bad in words for bad in ("<script", "<img src=x", "<i>"))


def test_two_machines_side_by_side(yard):
    for name, wheelbase, row in (
        ("Orchard tractor", "65 in", ("bare", "1320", "1760", "lb")),
        ("Hill tractor", "70 in", ("bare", "1400", "1800", "lb")),
    ):
        add_rows(new_day(machine(name, wheelbase)), one_weighing(*row), folder=yard)
    panel = compare_days(yard)
    assert "Choose two" in panel.out.value
    panel.set(system="lb").compare(*(one.name for one in days_of(files_at(yard))))
    cells = panel.out.value
    assert all(text in cells for text in ("1,400 lb", "1,320 lb", "1,760 lb", "70 in", "compares"))


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


def test_a_claim_is_audited_and_every_percentage_has_its_base(yard):
    panel = claim_audit(place=yard)
    assert panel.result.truth == "false" and "not true for this machine" in panel.out.value
    assert "would need the center of gravity" in panel.out.value and "EXAMPLE" in panel.out.value
    panel.say("20 %")
    assert panel.result.truth == "half true" and panel.out.value.count("not fit") == 2
    panel.say("20 % of the front axle's load")
    assert panel.result.truth == "true"
    panel.say("<b>lots</b>")
    assert "&lt;b&gt;lots" in panel.error.value and "<b>lots" not in panel.error.value
    panel.say("110 kg").set(system="lb")
    assert "lb" in panel.out.value and not panel.error.value


def test_a_claim_is_not_judged_without_the_scales(yard):
    kept(yard)
    day, panel = opened(yard), claim_audit(place=yard)
    for repeat in range(2):
        day.write_down("loader frame", str(1828 + repeat), "1500")
        day.write_down("loader frame + bucket", str(2272 + repeat), "1310")
    day.same.say(True)
    for claim in ("twice its weight", "25 %", "250 lb"):
        panel.say(claim)
        assert "These readings cannot say" in panel.out.value and not panel.error.value
        assert not any(words in panel.out.value for words in ("fits none", "95 of 100", "not fit"))


def test_a_claim_about_the_whole_loader(yard):
    panel = claim_audit("950 lb", yard)
    panel.taken.label = "the whole loader"
    # front 2274 - 1321 = 953 lb, and (2274 + 1525) - (1321 + 1760) = 718 lb of weight
    assert panel.result.found.front_change.value == pytest.approx(953 * 0.45359237)
    assert "whole loader" in panel.out.value


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


def kept_in_kilograms(place, *more):
    """A day whose pounds were typed as kilograms: the gate asks about all of it."""
    told = begun((), machine("Gravel pit 4x4 #2", "70 in"), "2026-11-27")
    told = replace(told, scales=scale_facts("10 lb", "1 %"))
    rows = (
        one_weighing("loader frame + bucket", "2560", "1890"),
        one_weighing("loader frame", "2050", "2110"),
        one_weighing("bare", "1480", "1920"),
    )
    add_rows(told, *rows, *more, folder=place)
    return told


def test_a_day_with_an_open_remark_takes_more_readings_and_counts_them(tmp_path):
    kept_in_kilograms(tmp_path)
    panel = readings_in(tmp_path)
    assert panel.out.value.count("1 of 2") == 3 and not panel.error.value
    panel.put_in("1490", "1920", "bare")
    assert "2 of 2" in panel.out.value and not panel.error.value


def test_nothing_of_another_day_stands_beside_a_refusal(tmp_path):
    clean = begun((), machine("Hill tractor", "1.71 m"), "2026-11-20")
    clean = replace(clean, scales=scale_facts("1 kg", "0.5 %"), unchanged=True)
    for at in (1, 2):
        add_rows(
            clean,
            one_weighing("bare", f"{603 + at}", f"{803 - at}", repeat=at),
            one_weighing("loader frame", f"{833 + at}", f"{783 - at}", repeat=at),
            one_weighing("loader frame + bucket", f"{1024 + at}", f"{703 - at}", repeat=at),
            folder=tmp_path,
        )
    kept_in_kilograms(tmp_path)
    audit = claim_audit("twice its weight", tmp_path)
    mow = mow_or_unhook(record=tmp_path, gated=False)
    mow.sources.value = "record"
    for panel in (audit, mow):
        panel.day_choice.choose("Hill tractor", "2026-11-20")
        assert panel.out.value and not panel.error.value
        panel.day_choice.choose("Gravel pit 4x4 #2", "2026-11-27")
        assert "waits for your answer" in panel.error.value and not panel.out.value


def test_the_error_of_a_redraw_is_not_wiped_by_the_press_that_led_to_it(tmp_path):
    panel = mow_or_unhook(record=tmp_path / "none", gated=False)
    panel.attempt(lambda: setattr(panel.sources, "value", "record"))
    assert "no readings" in panel.error.value


def test_while_bets_are_shut_no_page_is_written_and_no_answer_held_against_readings(yard):
    kept(yard, **SCALES_TOLD)
    day, written = weigh_day(yard), []
    page = hand_over(lambda day, path, **about: written.append(path) or path, yard)
    play = role_play(yard)
    day.gate.lock_in(front="up 180 kg", rear="down 70 kg")
    day.wheels.unit.value = "lb"
    day.write_down("bare", "1320", "1760")
    day.write_down("loader frame", "1828", "1714")
    day.write_down("loader frame + bucket", "2272", "1524")
    day.same.say(True)
    with pytest.raises(Refusal, match="open the bets"):
        page.write(yard)
    with pytest.raises(Refusal, match="open the bets"):
        play.answer("About 444 lb comes off the front axle.")
    assert not written and not play.out.value
    day.gate.reveal()
    settled(day)
    page.write(yard)
    assert written and play.answer("About 444 lb comes off the front axle.")


@pytest.mark.parametrize("step, front, said", [("1 kg", "1200", False), ("10 kg", "1200", True)])
def test_a_lone_reading_is_called_limited_by_its_step_only_where_it_is(step, front, said):
    """Half a percent of 1,400 kg is 7 kg, a third of that 2.3: more than half of 1, less than 5."""
    rows = [
        one_weighing("loader frame", front, "900", "kg"),
        one_weighing("loader frame + bucket", "1400", "820", "kg"),
    ]
    told = machine("Hill tractor", "2 m", wheelbase_error="3 mm")
    day = new_day(told, "2026-05-14", scale_facts(step, "0.5 %"), rows)
    assert (LONE in results(day, "bucket").notes) == said
