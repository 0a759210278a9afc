"""A machine, a day and its file: what people type, what strangers hand in, what must not mix."""

from dataclasses import replace
from datetime import date as Date
from datetime import datetime

import pytest

from leverarm.panels import weigh_record
from leverarm.quantities import Refusal
from leverarm.units import KG_PER_LB, M_PER_IN
from leverarm.weighing.day import WeighDay, weigh_day
from leverarm.weighing.day_file import (
    add_rows,
    days_of,
    files_at,
    machines_of,
    one_day,
    read_day_file,
    read_folder,
    save_header,
)
from leverarm.weighing.facts import machine, scale_facts, tire
from leverarm.weighing.readings import AxleReading, axle_reading, weighing

# What stands in a box, and what it means: axle total, or (left, right).
UNDERSTOOD = [
    ("829", 829.0),
    (" 829 kg ", 829.0),
    ("1,234", 1234.0),
    ("1 019", 1019.0),
    ("1019.5", 1019.5),
    ("1.019,5", 1019.5),
    ("12,5", 12.5),
    ("−3", -3.0),
    ("８２９", 829.0),
    ("432/428", (432.0, 428.0)),
    ("432 / 428 kg", (432.0, 428.0)),
    ("432 + 428", (432.0, 428.0)),
    ("432 kg + 428 kg", (432.0, 428.0)),
    ("432, 428", (432.0, 428.0)),
    ("432 and 428", (432.0, 428.0)),
    ("1,016/1,008", (1016.0, 1008.0)),
]


@pytest.mark.parametrize("text, meant", UNDERSTOOD)
def test_a_box_as_people_fill_it(text, meant):
    made = axle_reading(text, "kg", step_kg=0.5)
    assert (made.sides if isinstance(meant, tuple) else made.total) == meant
    assert made.kg == pytest.approx(sum(meant) if isinstance(meant, tuple) else meant)


REFUSED = [
    ("1.019", "1.019 kg or 1,019 kg"),
    ("1/2", "wheels that carry"),
    ("43 1/2", "a number of kg"),
    ("829 lb", "a reading in kg"),
    ("432 lb/428", "a reading in kg"),
    ("829 in", "a reading in kg"),
    ("about 800", "a number of kg"),
    ("432//428", "left and right wheel"),
    ("1+2+3", "left and right wheel"),
    ("432/", "left and right wheel"),
    ("432-428", "a number of kg"),
    ("8 2 9", "a number of kg"),
    ("60000", "50"),
    ("-80", "−50"),
    ("=800", "a number of kg"),
    ("nan", "a number of kg"),
    ("9" * 200, "number"),
]


@pytest.mark.parametrize("text, allowed", REFUSED)
def test_a_box_that_could_be_misread(text, allowed):
    with pytest.raises(Refusal) as found:
        axle_reading(text, "kg", step_kg=1.0)
    assert allowed in str(found.value)
    assert str(found.value).count("was given") == 1


@pytest.mark.parametrize(
    "text, unit, step, shown",
    [("1.019", "t", None, None), ("1.019", "t", 1.0, 1.019), ("1.019", "kg", 0.001, 1.019)],
)
def test_three_decimals_are_taken_where_the_scales_can_show_them(text, unit, step, shown):
    if shown is None:
        with pytest.raises(Refusal):
            axle_reading(text, unit, step_kg=step)
    else:
        assert axle_reading(text, unit, step_kg=step).shown == shown


def test_one_wheel_alone_is_asked_for():
    with pytest.raises(Refusal, match="front right wheel"):
        weighing("bare", ["432", ""], "800")
    assert weighing("bare", ["432", "428"], "").front == AxleReading(None, 432.0, 428.0, "kg")
    assert axle_reading("") is None and axle_reading(["", ""]) is None


@pytest.mark.parametrize(
    "make, what",
    [
        (lambda: machine("", "65 in"), "machine"),
        (lambda: machine("A", "9 m"), "wheelbase"),
        (lambda: machine("A", "65 in", wheelbase_error="2 m"), "error of the wheelbase"),
        (lambda: machine("A", "65 in", track=["1 m", ""]), "track"),
        (lambda: machine("A", "65 in", rear_share_least="120 %"), "least share"),
        (lambda: scale_facts("2 lb", "0.5 %", pads=3), "pads"),
        (lambda: scale_facts("2 lb", placed="anywhere"), "scales, placed"),
        (lambda: scale_facts("-1 kg"), "smallest step"),
        (lambda: weigh_day(machine("A", "65 in"), "5/4/2026"), "date"),
        (lambda: weighing("bucket + Bucket", "800", "700"), "set-up"),
        (lambda: weighing("bucket"), "readings"),
        (lambda: weighing("bucket", "800", unit="stone"), "unit"),
        (lambda: weighing("bucket", "800", repeat="0"), "repeat"),
    ],
)
def test_refused_at_the_door(make, what):
    with pytest.raises(Refusal) as found:
        make()
    assert found.value.field.startswith(what)


def test_what_is_not_told_is_none():
    told = machine("Orchard tractor", "65 in")
    unset = {"u_wheelbase_m", "track_m", "front_tires", "rear_tires", "turns", "turns_driven"}
    unset |= {"rear_share_least"}
    assert {name for name in vars(told) if vars(told)[name] is None} == unset
    assert scale_facts().scales is None and not scale_facts().known
    assert scale_facts("", "").scales is None
    assert scale_facts(accuracy="1 %").scales.graduation_kg == 0
    assert tire() is None


def orchard(date="2026-05-14", **about):
    """A machine of this file's own invention, with everything told."""
    told = machine(
        "Orchard tractor",
        "65 in",
        wheelbase_error="1/8 in",
        track=["42 in", "44 in"],
        front_tires=tire("18x8.5-8", "18 psi", ["7 in", "6 in"], shape=0.85, load="510 lb"),
        turns=["18.2", "12"],
        turns_driven="18.75",
        ratings={"front": "2,400 lb"},
        mower="rear-mounted mower",
        heights={"bare": "27 in", "bucket": "13 in"},
        rear_share_least="20 %",
        model="none",
        serial="=1+1",
    )
    facts = scale_facts("2 lb", "0.5 %", pads=2, placed="moved", ground="on the ground")
    return weigh_day(told, date, facts, unchanged=True, system="lb", **about)


ROWS = (
    weighing("bare", "1302", "1,744", "lb"),
    weighing("loader frame + bucket", "1120/1128", "1510", "lb", note="=HYPERLINK(1)"),
    weighing("loader frame", "1,806", "", "lb"),
)


def test_a_day_comes_back_from_its_file_as_it_was(tmp_path):
    day = orchard()
    add_rows(day, *ROWS, folder=tmp_path)
    file = read_day_file(tmp_path / "orchard-tractor_2026-05-14.csv")
    assert not file.faults and not file.remarks
    back = file.day
    assert back.rows == ROWS and back.scales.pads == 2 and back.unchanged and back.system == "lb"
    assert back.machine.wheelbase_m == 65 * M_PER_IN
    assert back.machine.heights_m == pytest.approx({"bare": 27 * M_PER_IN, "bucket": 13 * M_PER_IN})
    assert back.machine == day.machine and back.scales == day.scales
    cells = (tmp_path / day.file_name).read_text("utf-8-sig").replace("\n", ",").split(",")
    assert not any(cell.startswith("=") for cell in cells)


def test_setups_hold_wheels_and_what_was_not_read(tmp_path):
    bare, both, frame = orchard(rows=ROWS).setups
    assert bare.front == [pytest.approx(1302 * KG_PER_LB)]
    assert both.front.left == [pytest.approx(1120 * KG_PER_LB)]
    assert frame.rear == [] and frame.name == "loader frame"


def test_two_machines_and_two_days_never_share_a_file(tmp_path):
    one, later = orchard(), orchard("2026-05-21")
    other = weigh_day(machine("Hill tractor", "1.71 m"), "2026-05-14")
    for day in (one, later, other):
        add_rows(day, ROWS[0], folder=tmp_path)
    days = days_of(read_folder(tmp_path))
    assert [day.name for day in days] == [
        "Hill tractor on 2026-05-14",
        "Orchard tractor on 2026-05-21",
        "Orchard tractor on 2026-05-14",
    ]
    assert [len(day.rows) for day in days] == [1, 1, 1]
    assert [day.date for day in machines_of(days)] == ["2026-05-14", "2026-05-21"]


def test_two_names_that_make_one_file_name_are_refused(tmp_path):
    add_rows(orchard(), ROWS[0], folder=tmp_path)
    twin = replace(orchard(), machine=machine("Orchard, tractor", "65 in"))
    before = (tmp_path / twin.file_name).read_bytes()
    with pytest.raises(Refusal, match="another name"):
        add_rows(twin, ROWS[0], folder=tmp_path)
    assert (tmp_path / twin.file_name).read_bytes() == before


def test_pressing_twice_writes_once(tmp_path):
    add_rows(orchard(), *ROWS, folder=tmp_path)
    with pytest.raises(Refusal, match="already written as row 2"):
        add_rows(orchard(), ROWS[1], folder=tmp_path)
    assert len(read_day_file(tmp_path / orchard().file_name).day.rows) == 3


def test_a_correction_is_a_later_row_and_both_stay(tmp_path):
    add_rows(orchard(), *ROWS, folder=tmp_path)
    add_rows(orchard(), weighing("bare", "1320", "1744", "lb"), folder=tmp_path)
    file = read_day_file(tmp_path / orchard().file_name)
    assert len(file.day.rows) == 4 and len(file.day.current) == 3
    assert file.day.current[0].front.shown == 1320
    assert file.remarks == ("bare, repeat 1: corrected by a later row.",)


def test_invented_readings_never_get_into_a_file(tmp_path):
    with pytest.raises(Refusal, match="invented"):
        add_rows(replace(orchard(), invented=True), ROWS[0], folder=tmp_path)
    with pytest.raises(Refusal, match="invented"):
        save_header(replace(orchard(), invented=True), tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_header_may_come_first_and_change_later(tmp_path):
    save_header(orchard(), tmp_path)
    assert read_day_file(tmp_path / orchard().file_name).day.rows == ()
    add_rows(orchard(), *ROWS, folder=tmp_path)
    save_header(replace(orchard(), accepted=("swap-2",), unchanged=False), tmp_path)
    day = read_day_file(tmp_path / orchard().file_name).day
    assert day.rows == ROWS and day.accepted == ("swap-2",) and day.unchanged is False


def test_one_file_by_its_name_keeps_answers_and_rows(tmp_path):
    """A stranger's file under any name: what was said is there when it is opened again."""
    path = tmp_path / "from a dealer.csv"
    add_rows(orchard(), *ROWS, folder=tmp_path)
    (tmp_path / orchard().file_name).rename(path)
    said = replace(one_day(files_at(path)), unchanged=False, accepted=("swapped: a / b", "step: c"))
    assert save_header(said, path).path == path
    add_rows(said, weighing("bare", "1304", "1744", "lb", 2), folder=path)
    back = one_day(files_at(path))
    assert back.unchanged is False and back.accepted == said.accepted
    assert back.rows[:-1] == ROWS and back.rows[-1].front.shown == 1304
    assert "\nall else unchanged,no\nsaid to be so,swapped: a / b; step: c\n" in path.read_text()
    with pytest.raises(Refusal, match="holds something else"):
        save_header(orchard("2026-05-15"), path)
    assert [one.name for one in tmp_path.iterdir() if one.suffix == ".csv"] == [path.name]


def test_an_earlier_record_by_its_name_keeps_answers_in_the_folder_beside_it(tmp_path):
    path = tmp_path / "last year.csv"
    path.write_text(EARLIER.replace("1.91 m", "1.71 m"))
    day = one_day(files_at(path), "Orchard tractor", "2026-05-14")
    save_header(replace(day, unchanged=True), path)
    again = one_day(files_at(path), "Orchard tractor", "2026-05-14")
    assert again.unchanged is True and again.rows == day.rows
    assert len(files_at(path)) == 2 and path.read_text() == EARLIER.replace("1.91 m", "1.71 m")
    other = one_day(files_at(path), "Hill tractor")
    assert other.unchanged is None and len(other.rows) == 2


def test_a_spreadsheet_that_holds_the_file(tmp_path):
    add_rows(orchard(), ROWS[0], folder=tmp_path)
    mark = tmp_path / f".~lock.{orchard().file_name}#"
    mark.write_text("")
    saved = add_rows(orchard(), ROWS[1], folder=tmp_path)
    assert saved.beside and "Close the spreadsheet" in saved.message
    assert len(read_day_file(tmp_path / orchard().file_name).day.rows) == 2
    mark.unlink()
    assert not add_rows(orchard(), ROWS[2], folder=tmp_path).beside
    assert read_day_file(tmp_path / orchard().file_name).day.rows == ROWS
    assert len(list(tmp_path.glob("*.csv"))) == 1


def test_what_stands_in_a_file_stays_byte_for_byte(tmp_path):
    path = tmp_path / orchard().file_name
    semicolons = (
        "weigh day;1\nmachine;Orchard tractor\ndate;14.5.2026\nwheelbase;1,651 m\nsky;gray\n\n"
        "Set-up;Front;Rear;Unit;Who\nbare;591,5;798;kg;Al\n"
    )
    path.write_bytes(semicolons.encode())
    add_rows(orchard(), weighing("loader frame", "812.5", "780"), folder=tmp_path)
    assert path.read_bytes().startswith(semicolons.encode())
    file = read_day_file(path)
    assert [row.front.shown for row in file.day.rows] == [591.5, 812.5]
    assert file.day.machine.wheelbase_m == pytest.approx(1.651)
    assert '"sky" is kept and not read.' in file.remarks
    assert "The column who is kept and not read." in file.remarks


FAULTS = [
    ("machine,A\n", "1, header", "no weigh day"),
    ("weigh day,2\nmachine,A\n", "1, header", "no weigh day"),
    ("", "1, header", "no weigh day"),
    ("{TOP}set-up,front\nbare,600\n", "5, header", "unit"),
    ("{TOP}set-up,front,unit\nbare,6oo,kg\n", "6, column front", "6oo"),
    ("{TOP}set-up,front,unit\nbare,600,kg,9\n", "6, whole line", "4 cells"),
    ("{TOP}set-up,front,front left,front right,unit\nbare,600,300,300,kg\n", "6,", "leave one"),
    ("{TOP}set-up,front,unit\nbare,600,\n", "6, column unit", "kg, lb or t"),
    ('{TOP}set-up,front,unit\n"bare,600,kg\n', "6, whole line", "quotes"),
    ("weigh day,1\nmachine,A\ndate,2026-05-14\nwheelbase,9 m\n", "4, header", "wheelbase"),
    ("weigh day,1\nmachine,A\ndate,soon\nwheelbase,1.6 m\n", "3, header", "date"),
]


@pytest.mark.parametrize("text, where, what", FAULTS)
def test_faults_are_named_by_line_and_column(tmp_path, text, where, what):
    path = tmp_path / "a.csv"
    top = "weigh day,1\nmachine,A\ndate,2026-05-14\nwheelbase,1.6 m\n"
    path.write_text(text.replace("{TOP}", top))
    file = read_day_file(path)
    assert f"a.csv, line {where}" in str(file.faults[0]) and what in str(file.faults[0])
    with pytest.raises(Refusal, match="every line can be read"):
        _ = file.day


EARLIER = """date,machine,wheelbase,state,front,rear,unit,repeat,note
2026-05-14,Orchard tractor,65 in,bare,1320,1760,lb,1,
2026-05-14,orchard  Tractor,65 in,loader frame,1828,1714,lb,1,wind
2026-05-21,Orchard tractor,65 in,bare,1322,1758,lb,1,
2026-05-14,Hill tractor,1.71 m,bare,604,,kg,1,
2026-05-14,Hill tractor,1.91 m,bucket,604,800,kg,1,
"""


def test_the_earlier_format_is_split_by_machine_and_day(tmp_path):
    path = tmp_path / "weigh_day_record.csv"
    path.write_text(EARLIER)
    (file,) = files_at(tmp_path / "none")
    assert [(day.name, len(day.rows)) for day in file.days] == [
        ("Orchard tractor on 2026-05-14", 2),
        ("Orchard tractor on 2026-05-21", 1),
        ("Hill tractor on 2026-05-14", 1),
    ]
    assert "line 6, column wheelbase" in str(file.faults[0])
    assert path.read_text() == EARLIER


def test_the_earlier_format_says_what_was_corrected_and_how_it_was_read(tmp_path):
    path = tmp_path / "weigh_day_record.csv"
    again = "2026-05-14,Orchard tractor,65 in,bare,1318,1760,lb,1,M\xfcller\n"
    path.write_bytes((EARLIER.replace("1.91 m", "1.71 m") + again).encode("cp1252"))
    (file,) = files_at(tmp_path / "none")
    assert not file.faults and file.remarks == (
        "The file is not in UTF-8; it was read as Windows-1252.",
        "Orchard tractor on 2026-05-14: bare, repeat 1: corrected by a later row.",
    )
    panel = weigh_record(tmp_path / "none")
    panel.day_choice.choose("Orchard tractor", "2026-05-14")
    assert "read as Windows-1252" in panel.out.value and "Müller" in panel.out.value
    panel.day_choice.choose("Hill tractor", "2026-05-14")
    assert "read as Windows-1252" in panel.out.value
    assert "corrected" not in panel.out.value


def test_another_file_under_its_name_is_left_alone(tmp_path):
    path = tmp_path / orchard().file_name
    path.write_text("name,price\nhay,3\n")
    with pytest.raises(Refusal, match="holds something else"):
        add_rows(orchard(), ROWS[0], folder=tmp_path)
    assert path.read_text() == "name,price\nhay,3\n"


def test_a_day_is_a_value():
    assert isinstance(orchard(), WeighDay)
    assert orchard().with_rows(ROWS[0]).next_repeat(()) == 2
    assert weigh_day(machine("Ölmühle №7", "65 in"), "2026-05-14").file_name.endswith(".csv")


def test_a_new_header_leaves_what_it_does_not_know(tmp_path):
    path = tmp_path / orchard().file_name
    table = 'set-up;front;rear;unit;who\r\nbare;591,5;798;kg;"Al;Bo"\r\n'
    head = "weigh day;1\r\nmachine;Orchard tractor\r\ndate;2026-05-14\r\nwheelbase;1,651 m\r\n"
    path.write_bytes((head + "sky;gray\r\n\r\n" + table).encode("cp1252"))
    save_header(orchard(), tmp_path)
    text = path.read_bytes().decode()
    assert text.endswith("sky;gray\r\n\r\n" + table)
    day = read_day_file(path).day
    assert day.scales == orchard().scales and day.rows[0].front.shown == 591.5


def test_a_day_of_the_earlier_format_goes_on_in_a_file_of_its_own(tmp_path):
    (tmp_path / "weigh_day_record.csv").write_text(EARLIER.replace("1.91 m", "1.71 m"))
    place = tmp_path / "weigh_days"
    day = one_day(files_at(place), "ORCHARD tractor", "2026-05-14")
    add_rows(day, weighing("bucket", "1500", "1600", "lb"), folder=place)
    again = one_day(files_at(place), "orchard tractor", "2026-05-14")
    assert [row.setup_name for row in again.rows] == ["bare", "loader frame", "bucket"]
    assert len(days_of(files_at(place))) == 3
    save_header(one_day(files_at(place), date="2026-05-21"), place)
    assert len(one_day(files_at(place), date="2026-05-21").rows) == 1


def test_one_day_is_chosen_or_asked_for(tmp_path):
    with pytest.raises(Refusal, match="no readings"):
        one_day(files_at(tmp_path / "none"))
    for day in (orchard(), orchard("2026-05-21")):
        add_rows(day, ROWS[0], folder=tmp_path)
    with pytest.raises(Refusal, match="Choose the machine and day: 2 are kept"):
        one_day(files_at(tmp_path))
    with pytest.raises(Refusal, match="Green"):
        one_day(files_at(tmp_path), "Green")
    assert one_day(files_at(tmp_path), date="2026-05-21").date == "2026-05-21"
    copy = tmp_path / "copy (1).csv"
    copy.write_bytes((tmp_path / orchard().file_name).read_bytes())
    assert one_day(files_at(tmp_path), date="2026-05-14").rows == ROWS[:1], "a copy adds nothing"
    assert "is a copy of" in files_at(tmp_path)[0].remarks[0]
    copy.open("a").write("bare,2,600,,,800,,,lb,\r\n")
    with pytest.raises(Refusal, match=r"copy \(1\).csv and orchard"):
        one_day(files_at(tmp_path), date="2026-05-14")
    copy.unlink()
    (tmp_path / orchard().file_name).open("a").write("bare,2,6oo,,,,,,lb,\r\n")
    with pytest.raises(Refusal, match="every line can be read"):
        one_day(files_at(tmp_path), date="2026-05-14")
    assert one_day(files_at(tmp_path), date="2026-05-21").rows == ROWS[:1]


@pytest.mark.parametrize(
    "given",
    ["2026-05-14", "14.05.2026", Date(2026, 5, 14), datetime(2026, 5, 14, 23, 59)],
)
def test_a_date_as_text_as_a_date_and_as_a_moment(given):
    assert weigh_day(machine("Orchard tractor", "1.65 m"), given).date == "2026-05-14"
