"""The weigh-day record: read back exactly, every fault named, nothing lost, nothing overwritten."""

import csv
import os
import random
import string
from datetime import date

import pytest

from leverarm import Refusal, demo_loader, demo_tractor, predict
from leverarm.tables import as_it_was, date_cell, defused
from leverarm.weighing import (
    COLUMNS,
    append_rows,
    correction,
    forecast,
    least_squares,
    next_repeat,
    read_record,
    record_row,
    setup_readings,
)
from leverarm.weighing.record import pieces

HEADER = ",".join(COLUMNS)
DAY = "2025-05-14"


def one(state="bare", front=600.0, rear=800.0, **more):
    return record_row(
        **{
            "machine": "Plot tractor",
            "wheelbase": "1.65 m",
            "date": DAY,
            "state": state,
            "front": front,
            "rear": rear,
            **more,
        }
    )


@pytest.fixture
def path(tmp_path):
    return tmp_path / "weigh_day.csv"


def written(path, text, encoding="utf-8", newline=None):
    path.write_bytes((text.replace("\n", newline) if newline else text).encode(encoding))
    return read_record(path)


# --- written and read back
# -----------------------------------------------------------------------------


def test_rows_come_back_exactly(path):
    rows = [
        one(),
        one("loader frame + bucket", 1019.1000000000001, None, note="wind, gusty"),
        one("bucket", "1,742 lb", 1587.25, unit="lb", repeat=2),
        one("x", 0.1 + 0.2, -3.5, note='he said "level"'),
    ]
    for each in rows:
        append_rows(path, each)
    record = read_record(path)
    assert record.rows == tuple(rows) and record.faults == () and record.remarks == ()


def test_seeded_rows_come_back_exactly(path):
    rng = random.Random(4)
    letters = string.ascii_letters + "=+-@'\"; ,.éß¼−\u202f"

    def word():
        return "".join(rng.choice(letters) for _ in range(rng.randint(1, 20))).strip() or "x"

    rows = [
        one(
            word(),
            rng.uniform(0, 9000),
            rng.uniform(0, 9000),
            machine=word(),
            note=word(),
            repeat=rng.randint(1, 99),
            unit=rng.choice(["kg", "lb"]),
            wheelbase=rng.uniform(0.6, 4),
        )
        for _ in range(300)
    ]
    append_rows(path, *rows)
    assert read_record(path).rows == tuple(rows)


def test_the_file_is_a_documented_table_a_spreadsheet_opens(path):
    append_rows(path, one())
    data = path.read_bytes()
    assert data.startswith(b"\xef\xbb\xbf" + HEADER.encode() + b"\r\n")
    assert next(csv.DictReader(data.decode("utf-8-sig").splitlines()))["wheelbase"] == "1.65 m"


@pytest.mark.parametrize(
    "text", ["=1+1", "+cmd|x", "-1-2", "@sum", "＝1", "'=1", "''@x", "-82.7 kg", "-bucket"]
)
def test_what_a_spreadsheet_would_run_is_defused_and_read_back(text, path):
    assert defused(text) == "'" + text and as_it_was(defused(text)) == text
    append_rows(path, one(state=text, machine=text, note=text))
    cells = next(csv.DictReader(path.read_text("utf-8-sig").splitlines()))
    assert {cells["machine"], cells["state"], cells["note"]} == {"'" + text}
    back = read_record(path).rows[0]
    assert (back.machine, back.state, back.note) == (text, text, text)


@pytest.mark.parametrize("text", ["-82.7", "+5", "−82.7", "'tis level", "bucket", "", "5-4", "'"])
def test_numbers_and_plain_words_are_left_alone(text):
    assert defused(text) == text and as_it_was(text) == text


# --- tolerant of what spreadsheets do
# -------------------------------------------------------------------


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_encodings_and_line_ends(path, encoding, newline):
    text = (
        f"{HEADER}\n{DAY},Mähtraktor,1.65 m,bare,600,800,kg,1,\n\n "
        f",,,,,,,,\n{DAY},Mähtraktor,65 in,bucket,790,720,kg,,ok\n"
    )
    record = written(path, text, encoding, newline)
    assert [(r.machine, r.front, r.repeat) for r in record.rows] == [
        ("Mähtraktor", 600, 1),
        ("Mähtraktor", 790, 1),
    ]
    assert record.faults == () and (("UTF-8" in str(record.remarks)) == (encoding == "cp1252"))


@pytest.mark.parametrize(
    "line, front",
    [
        ("2025-05-14;Plot;1,65 m;bare;602,5;800;kg;1;", 602.5),
        ("14.05.2025;Plot;165 cm;bare;1,234;800;kg;1;", 1.234),
        ("2025-05-14;Plot;1,65;bare;1.234,5;800;kg;1,0;", 1234.5),
    ],
)
def test_semicolons_and_decimal_commas(path, line, front):
    record = written(path, HEADER.replace(",", ";") + "\n" + line + "\n")
    assert record.faults == () and record.rows[0].front == front
    assert record.rows[0].wheelbase_m == pytest.approx(1.65) and record.rows[0].date == DAY


def test_quoted_decimal_commas_between_commas(path):
    record = written(path, f'{HEADER}\n{DAY},Plot,"1,65 m",bare,"602,5","1,234",kg,1,\n')
    assert (record.rows[0].front, record.rows[0].rear) == (602.5, 1.234)
    assert (
        written(path, f'{HEADER}\n{DAY},Plot,1.65 m,bare,602.5,"1,234",kg,1,\n').rows[0].rear
        == 1234
    )


def test_a_unit_per_row(path):
    record = written(
        path,
        f"{HEADER}\n{DAY},Plot,1.65 m,bare,600,800,kg,1,\n{DAY},Plot,65 "
        f"in,bucket,1742,1587,lbs,1,\n{DAY},Plot,65 in,x,.6,.8,t,1,\n",
    )
    assert [round(r.front_kg, 1) for r in record.rows] == [600.0, 790.2, 600.0]


def test_columns_in_any_order_and_more_of_them(path):
    record = written(
        path,
        "Note,REAR,front ,unit,state,wheelbase,machine,date,weather\n"
        f"ok,800,600,kg,bare,1.65,Plot,{DAY},dry\n",
    )
    assert (
        record.rows[0].rear == 800
        and record.rows[0].note == "ok"
        and "weather" in record.remarks[0]
    )
    append_rows(path, one())
    assert read_record(path).rows[1] == one() and path.read_text().splitlines()[0].endswith(
        "weather"
    )


@pytest.mark.parametrize(
    "text, day",
    [
        ("2025-05-14", DAY),
        ("2025/5/14", DAY),
        ("14.5.2025", DAY),
        ("14/05/2025", DAY),
        ("5/14/2025", DAY),
        ("5/5/2025", "2025-05-05"),
        ("5/4/2025", None),
        ("2025-02-30", None),
        ("May 5", None),
    ],
)
def test_dates_with_one_meaning(text, day):
    assert date_cell(text) == day


# --- nothing dropped silently
# ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "line, column, words",
    [
        (f"{DAY},Plot,1.65 m,bare,6OO,800,kg,1,", "front", "6OO"),
        (f"{DAY},Plot,1.65 m,bare,600,800,stone,1,", "unit", "stone"),
        (f"{DAY},Plot,165 m,bare,600,800,kg,1,", "wheelbase", "165 m"),
        ("5/4/2025,Plot,1.65 m,bare,600,800,kg,1,", "date", "5/4/2025"),
        (f"{DAY},,1.65 m,bare,600,800,kg,1,", "machine", "nothing"),
        (f"{DAY},Plot,1.65 m,bare,,,kg,1,", "front", "read a scale"),
        (f"{DAY},Plot,1.65 m,bare,600,800,kg,0,", "repeat", "0"),
        (f"{DAY},Plot,1.65 m,bare,602,5,800,0,kg,1,x", "whole line", "cells"),
        (f"{DAY},Plot,1.65 m,bare,-600,800,kg,1,", "front", "-600"),
        (f"{DAY},Plot,1.65 m,bare,600,999999,kg,1,", "rear", "50"),
        (f"{DAY}", "machine", "nothing"),
    ],
)
def test_a_fault_is_named_by_line_and_column(path, line, column, words):
    record = written(
        path,
        f"{HEADER}\n\n{DAY},Plot,1.65 m,bare,600,800,kg,1,\n{line}\n{DAY},Plot,1.65 "
        "m,bucket,790,720,kg,1,\n",
    )
    assert len(record.rows) == 2
    problem = next(p for p in record.faults if p.column == column)
    assert (
        problem.line == 4
        and words in problem.sentence
        and f"line 4, column {column}" in str(problem)
    )


def test_every_fault_of_a_line_is_named_at_once(path):
    record = written(path, f"{HEADER}\nsoon,,9 kg,bare,x,y,stone,z,\n")
    assert {p.column for p in record.faults} == {
        "date",
        "machine",
        "wheelbase",
        "front",
        "rear",
        "unit",
        "repeat",
    }


def test_a_grouped_or_decimal_point_is_left_to_the_reader(path):
    record = written(path, HEADER.replace(",", ";") + f"\n{DAY};Plot;1,65;bare;1.234;800,5;kg;1;\n")
    assert (
        record.rows == ()
        and record.faults[0].column == "front"
        and "two numbers" in record.faults[0].sentence
    )


def test_rows_and_problems_account_for_every_line(path):
    rng = random.Random(9)
    lines = [
        f"{DAY},Plot,1.65 m,bare,{rng.choice(['600', 'x', '', '-7000'])},800,"
        f"{rng.choice(['kg', 'stone'])},{i},{rng.choice(['', 'a', '=1'])}"
        for i in range(1, 200)
    ]
    record = written(path, "\n".join([HEADER, *lines]))
    assert len(record.rows) + len({p.line for p in record.faults}) == len(lines)


def test_a_broken_quote_is_named_with_what_follows(path):
    record = written(
        path,
        f'{HEADER}\n{DAY},Plot,1.65 m,bare,600,800,kg,1,ok\n{DAY},"Plot,1.65 '
        f"m,bare,600,800,kg,2,ok\n{DAY},Plot,1.65 m,bare,600,800,kg,3,ok\n",
    )
    assert (
        len(record.rows) == 1
        and record.faults[0].line == 3
        and "what follows" in record.faults[0].sentence
    )


def test_a_note_over_two_lines_keeps_the_line_numbers_right(path):
    record = written(
        path,
        f'{HEADER}\n{DAY},Plot,1.65 m,bare,600,800,kg,1,"one\ntwo"\n{DAY},Plot,1.65 '
        "m,bare,x,800,kg,1,\n",
    )
    assert record.rows[0].note == "one two" and record.faults[0].line == 4


@pytest.mark.parametrize("text", ["a,b,c\n1,2,3\n", "just words", "date;machine\n"])
def test_another_table_is_refused_and_left_alone(path, text):
    record = written(path, text)
    assert record.faults[0].column == "header" and "missing" in record.faults[0].sentence
    with pytest.raises(Refusal, match="another file name"):
        append_rows(path, one())
    assert path.read_text() == text


def test_no_file_is_an_empty_record_and_an_empty_file_gets_its_header(path):
    assert read_record(path).rows == ()
    path.write_bytes(b"\n")
    append_rows(path, one())
    assert read_record(path).rows == (one(),)


def test_too_large_a_file_is_refused(path):
    path.write_bytes(b"x" * 5_000_001)
    with pytest.raises(Refusal, match="5 MB"):
        read_record(path)


# --- never overwritten
# ----------------------------------------------------------------------------------------


def test_what_was_there_stays_byte_for_byte(path):
    old = f"{HEADER.replace(',', ';')}\n{DAY};Plot;1,65 m;bare;602,5;800;kg;1;hand made"
    path.write_bytes(old.encode())
    append_rows(path, one("bucket", 790.25, 720))
    data = path.read_bytes()
    assert data.startswith(old.encode()) and b"790,25" in data
    assert [r.front for r in read_record(path).rows] == [602.5, 790.25]


def test_a_correction_is_a_new_row(path):
    wrong = one("bucket", 970, 720)
    append_rows(path, one(), wrong)
    append_rows(path, correction(wrong, front=790))
    record = read_record(path)
    assert [r.front for r in record.rows] == [600, 970, 790] and [
        r.front for r in record.current
    ] == [600, 790]
    assert "front 970" in record.rows[2].note and "corrected by a later row" in record.remarks[0]


def test_the_next_repeat_is_counted_by_day_machine_and_pieces(path):
    rows = [one("frame + bucket"), one("bucket + frame", repeat=2), one(date="2025-05-15")]
    assert next_repeat(rows, "plot TRACTOR", "bucket + frame", DAY) == 3
    assert next_repeat(rows, "Plot tractor", "bare", DAY) == 1 and next_repeat((), "x", "bare") == 1


def test_a_failed_write_leaves_the_record_as_it_was(path, monkeypatch):
    append_rows(path, one())
    before = path.read_bytes()
    monkeypatch.setattr(
        os, "fsync", lambda _: (_ for _ in ()).throw(OSError(28, "No space left on device"))
    )
    with pytest.raises(Refusal, match="not kept yet: the disk is full; make room, then save again"):
        append_rows(path, one("bucket", 790, 720))
    assert path.read_bytes() == before and [p.name for p in path.parent.iterdir()] == [path.name]


@pytest.mark.parametrize("mark", [".~lock.weigh_day.csv#", "~$weigh_day.csv", None])
def test_a_held_file_gets_its_row_beside_it_and_says_so(path, monkeypatch, mark):
    append_rows(path, one())
    before = path.read_bytes()
    if mark:
        (path.parent / mark).write_text("held")
    else:
        real = os.replace
        monkeypatch.setattr(
            os,
            "replace",
            lambda a, b: (
                real(a, b)
                if "waiting" in str(b)
                else (_ for _ in ()).throw(PermissionError(13, "held"))
            ),
        )
    saved = [append_rows(path, one("bucket", 790, 720, repeat=i)) for i in (1, 2)]
    assert path.read_bytes() == before and all(s.beside for s in saved)
    assert "held open" in saved[0].message and saved[0].path.name in saved[0].message
    record = read_record(path)
    assert len(record.rows) == 3 and "wait" in str(record.remarks)
    monkeypatch.undo()
    if mark:
        (path.parent / mark).unlink()
    assert not append_rows(path, one("frame", 829, 781)).beside
    assert [r.state for r in read_record(path).rows] == ["bare", "bucket", "bucket", "frame"]
    assert [p.name for p in path.parent.iterdir()] == [path.name]


def test_a_row_that_waits_counts_once_though_a_save_was_cut_off(path):
    """As if the power failed after the record took the row and before the file beside it was put
    away.
    """
    append_rows(path, one(), one("bucket", 790, 720))
    append_rows(path.with_name("weigh_day.waiting-1.csv"), one("bucket", 790, 720))
    assert read_record(path).rows == (one(), one("bucket", 790, 720))
    append_rows(path, one("frame", 829, 781))
    assert len(read_record(path).rows) == 3 and [p.name for p in path.parent.iterdir()] == [
        path.name
    ]


def test_letters_the_file_cannot_hold_go_beside(path):
    path.write_bytes(f"{HEADER}\n{DAY},Mäher,1.65 m,bare,600,800,kg,1,\n".encode("cp1252"))
    saved = append_rows(path, one(note="дождь"))
    assert saved.beside and "every letter" in saved.message and len(read_record(path).rows) == 2


def test_a_folder_that_refuses_is_said(path, monkeypatch):
    monkeypatch.setattr(
        "tempfile.mkstemp",
        lambda **_: (_ for _ in ()).throw(PermissionError(13, "Permission denied")),
    )
    with pytest.raises(Refusal, match="folder that can be written to"):
        append_rows(path, one())


# --- readings only
# ------------------------------------------------------------------------------------------


def test_a_prediction_is_never_a_reading():
    _frame, bucket = demo_loader()
    guess = forecast((600, 800), 110, 1.2, 1.65, u_reading=2)
    for value in (guess, guess.front, predict(demo_tractor(), bucket), [600], {"front": 600}, True):
        with pytest.raises(Refusal, match="reading"):
            one("bucket", value, 720)


@pytest.mark.parametrize(
    "change, message",
    [
        ({"unit": "stone"}, "unit"),
        ({"front": "600 lb"}, "row's unit"),
        ({"front": None, "rear": None}, "read a scale"),
        ({"front": "six"}, "type what"),
        ({"front": float("nan")}, "finite"),
        ({"state": "x" * 400}, "characters"),
        ({"note": "a\x00b"}, "printable"),
        ({"repeat": 1.5}, "whole"),
        ({"date": "yesterday"}, "date"),
        ({"wheelbase": "65"}, "wheelbase"),
        ({"machine": ""}, "machine"),
    ],
)
def test_row_refusals(change, message):
    with pytest.raises(Refusal, match=message):
        one(**change)


def test_today_is_taken_where_no_date_is_given():
    assert record_row("Plot", 1.65, "bare", 600, 800).date == date.today().isoformat()
    assert one(date=date(2025, 5, 14)).date == DAY


# --- to the fit -----------------------------------------------------------------------------------
# ----------------


def test_a_record_becomes_states_and_a_fit(path):
    append_rows(
        path,
        one(),
        one(front=601, repeat=2),
        one("loader frame", 829, 781),
        one("bucket + loader frame", 1019, 701),
        one("loader frame + bucket", 9999, 701, repeat=2),
        one("loader frame + bucket", 1020, 701, repeat=2),
        one("Bare", 599, None, repeat=3),
    )
    known = setup_readings(read_record(path).rows)
    assert [(s.name, s.front) for s in known] == [
        ("bare", [600, 601, 599]),
        ("loader frame", [829]),
        ("bucket + loader frame", [1019, 1020]),
    ]
    fit = least_squares(known, 1.65, u_wheelbase=0.003)
    assert fit.pieces["bucket"].weight_kg == pytest.approx(110, abs=2)
    assert pieces("none") == () and pieces(" a +  b c + ") == ("a", "b c")
