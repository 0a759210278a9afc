"""A weigh day's file: read back exactly, every fault named, nothing lost, nothing overwritten."""

import os
import random
import string
from dataclasses import replace
from pathlib import Path

import pytest

from leverarm import Refusal, demo_loader, demo_tractor, predict
from leverarm.tables import as_it_was, date_cell, defused
from leverarm.weighing import day_file, demo_day, forecast, least_squares
from leverarm.weighing.day import weigh_day
from leverarm.weighing.day_file import add_rows, files_at, read_day_file, read_folder
from leverarm.weighing.facts import machine
from leverarm.weighing.readings import weighing

HEAD = "weigh day,1\nmachine,Yard tractor\ndate,2026-05-14\nwheelbase,1.65 m\n\n"
COLUMNS = "set-up,repeat,front,front left,front right,rear,rear left,rear right,unit,note\n"
DAY = weigh_day(machine("Yard tractor", "1.65 m"), "2026-05-14")


@pytest.fixture
def path(tmp_path):
    return tmp_path / DAY.file_name


def add(path, *rows):
    return add_rows(DAY, *rows, folder=path.parent)


def rows_in(path):
    return read_day_file(path).day.rows


def written(path, table, head=HEAD, encoding="utf-8", newline=None):
    text = head + table
    path.write_bytes((text.replace("\n", newline) if newline else text).encode(encoding))
    return read_day_file(path)


# --- written and read back -------------------------------------------------------------------


def test_rows_come_back_exactly(path):
    rows = [
        weighing("bare", 600.0, 800.0),
        weighing("loader frame + bucket", 1019.1000000000001, note="wind, gusty"),
        weighing("bucket", "1,742 lb", (800.5, 786.75), unit="lb", repeat=2),
        weighing("x", 0.1 + 0.2, -3.5, note='he said "level"'),
    ]
    for one in rows:
        add(path, one)
    file = read_day_file(path)
    assert file.day.rows == tuple(rows) and file.remarks == ()


def test_seeded_rows_come_back_exactly(path):
    rng = random.Random(4)
    letters = string.ascii_letters + "=-@'\"; ,.éß¼−\u202f"

    def word():
        return " ".join("".join(rng.choices(letters, k=rng.randint(1, 20))).split()) or "x"

    rows = [
        weighing(
            (word(),),
            rng.uniform(0, 9000),
            rng.choice([rng.uniform(0, 9000), (rng.uniform(3, 900), rng.uniform(3, 900)), None]),
            note=word(),
            repeat=i,
            unit=rng.choice(["kg", "lb"]),
        )
        for i in range(1, 301)
    ]
    add(path, *rows)
    assert rows_in(path) == tuple(rows)


@pytest.mark.parametrize(
    "text", ["=1+1", "+cmd|x", "-1-2", "@sum", "＝1", "'=1", "''@x", "-82.7 kg", "-bucket"]
)
def test_what_a_spreadsheet_would_run_is_defused_and_read_back(text, tmp_path):
    assert defused(text) == "'" + text and as_it_was(defused(text)) == text
    day = weigh_day(machine(text, 1.65, mower=text, serial=text), "2026-05-14")
    piece = text.replace("+", "-")
    saved = add_rows(day, weighing((piece,), 600, note=text), folder=tmp_path)
    cells = saved.path.read_text("utf-8-sig").replace("\n", ",").split(",")
    assert sum(cell.startswith(("'", "\"'")) for cell in cells) == 5
    assert not any(cell.startswith(tuple("=+-@＝")) for cell in cells)
    back = read_day_file(saved.path).day
    assert back.machine == day.machine and (back.rows[0].note, back.rows[0].setup[0]) == (
        text,
        piece,
    )


@pytest.mark.parametrize("text", ["-82.7", "+5", "−82.7", "'tis level", "bucket", "", "5-4", "'"])
def test_numbers_and_plain_words_are_left_alone(text):
    assert defused(text) == text and as_it_was(text) == text


# --- tolerant of what spreadsheets do --------------------------------------------------------


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_encodings_and_line_ends(path, encoding, newline):
    table = COLUMNS + "Schürfkübel,1,600,,,800,,,kg,\n\n ,,,,,,,,,\nbare,,790,,,720,,,kg,ok\n"
    file = written(path, table, HEAD.replace("Yard", "Mäh"), encoding, newline)
    assert file.day.machine.name == "Mäh tractor" and not file.faults
    assert [one.front.shown for one in file.day.rows] == [600, 790]
    assert file.day.rows[0].setup == ("Schürfkübel",)
    assert ("UTF-8" in str(file.remarks)) == (encoding == "cp1252")


@pytest.mark.parametrize(
    "cells, front",
    [("602,5;kg", 602.5), ("1,234;t", 1.234), ("1.234,5;kg", 1234.5), ('"602,5";kg', 602.5)],
)
def test_semicolons_and_decimal_commas(path, cells, front):
    head = HEAD.replace(",", ";").replace("1.65 m", "165 cm")
    file = written(path, f"set-up;front;unit\nbare;{cells}\n", head)
    assert file.day.rows[0].front.shown == front
    assert file.day.machine.wheelbase_m == pytest.approx(1.65)


def test_a_grouped_or_decimal_point_is_left_to_the_reader(path):
    table = "set-up;front;rear;unit\nbare;1.234;800,5;kg\n"
    file = written(path, table, HEAD.replace(",", ";"))
    assert file.days[0].rows == () and "could be two" in str(file.faults[0])


def test_a_unit_per_row_and_columns_in_any_order(path):
    table = "Note,REAR,front ,unit,state,sky\nok,800,600,kg,bare,dry\n,1587,1742,lbs,bucket,\n"
    file = written(path, table)
    assert [round(one.front.kg, 1) for one in file.day.rows] == [600.0, 790.2]
    assert "column sky" in file.remarks[0]
    add(path, weighing("x", 1, 2))
    assert rows_in(path)[2] == weighing("x", 1, 2)
    assert path.read_text().splitlines()[5].endswith("sky")


@pytest.mark.parametrize(
    "text, day",
    [
        ("2025-05-14", "2025-05-14"),
        ("2025/5/14", "2025-05-14"),
        ("14.5.2025", "2025-05-14"),
        ("14/05/2025", "2025-05-14"),
        ("5/14/2025", "2025-05-14"),
        ("5/5/2025", "2025-05-05"),
        ("5/4/2025", None),
        ("2025-02-30", None),
        ("May 5", None),
    ],
)
def test_dates_with_one_meaning(text, day):
    assert date_cell(text) == day


# --- nothing dropped silently ----------------------------------------------------------------


def test_rows_and_faults_account_for_every_line(path):
    rng = random.Random(9)
    lines = [
        f"bare,{i},{rng.choice(['600', 'x', '', '-7000', '300/300'])},,,{rng.choice(['', '800'])},"
        f",,{rng.choice(['kg', 'stone'])},{rng.choice(['', 'a', '=1'])}\n"
        for i in range(1, 200)
    ]
    file = written(path, COLUMNS + "".join(lines))
    assert len(file.days[0].rows) + len({one.line for one in file.faults}) == len(lines)


def test_a_note_over_two_lines_keeps_the_line_numbers_right(path):
    file = written(path, 'set-up,front,unit,note\nbare,600,kg,"one\ntwo"\nbare,x,kg,\n')
    assert file.days[0].rows[0].note == "one two" and file.faults[0].line == 9


def test_a_broken_quote_is_named_with_what_follows(path):
    file = written(path, 'set-up,front,unit\nbare,600,kg\n"bare,601,kg\nbare,602,kg\n')
    assert len(file.days[0].rows) == 1
    assert file.faults[0].line == 8 and "what follows" in file.faults[0].sentence


def test_a_piece_has_no_plus_in_its_name(path):
    with pytest.raises(Refusal, match="each piece once"):
        weighing(("frame+bucket",), 600)


def test_too_large_a_file_is_refused(path):
    path.write_bytes(b"x" * 5_000_001)
    with pytest.raises(Refusal, match="5 MB"):
        read_day_file(path)


def test_an_empty_file_gets_its_header(path):
    path.write_bytes(b"\n")
    add(path, weighing("bare", 600))
    assert rows_in(path) == (weighing("bare", 600),)


@pytest.mark.parametrize("seed", range(30))
def test_a_strangers_bytes_are_read_or_named_and_never_raise(path, seed):
    rng = random.Random(seed)
    whole = bytearray((HEAD + COLUMNS + "bare,1,600,,,800,,,kg,=1\n").encode())
    for _ in range(rng.randint(1, 30)):
        whole[rng.randrange(len(whole))] = rng.choice([0, 10, 34, 44, 59, 61, 255, 200])
    path.write_bytes(bytes(whole))
    file = read_day_file(path)
    assert file.faults or len(file.days) == 1
    assert all(str(fault).isprintable() for fault in file.faults)


# --- never overwritten -----------------------------------------------------------------------


def test_a_failed_write_leaves_the_file_as_it_was(path, monkeypatch):
    add(path, weighing("bare", 600))
    before = path.read_bytes()
    monkeypatch.setattr(
        os, "fsync", lambda _: (_ for _ in ()).throw(OSError(28, "No space left on device"))
    )
    with pytest.raises(Refusal, match="not kept yet: the disk is full; make room, then save again"):
        add(path, weighing("bucket", 790, 720))
    assert path.read_bytes() == before and [p.name for p in path.parent.iterdir()] == [path.name]


@pytest.mark.parametrize("mark", [".~lock.{}#", "~${}", None])
def test_a_held_file_gets_its_row_beside_it_and_says_so(path, monkeypatch, mark):
    add(path, weighing("bare", 600))
    before = path.read_bytes()
    held = path.parent / mark.format(path.name) if mark else None
    if held:
        held.write_text("held")
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
    saved = [add(path, weighing("bucket", 790, 720, repeat=i)) for i in (1, 2)]
    assert path.read_bytes() == before and all(one.beside for one in saved)
    assert "held open" in saved[0].message and saved[0].path.name in saved[0].message
    file = read_day_file(path)
    assert len(file.day.rows) == 3 and "wait" in str(file.remarks)
    monkeypatch.undo()
    if held:
        held.unlink()
    assert not add(path, weighing("frame", 829, 781)).beside
    assert [one.setup_name for one in rows_in(path)] == ["bare", "bucket", "bucket", "frame"]
    assert [p.name for p in path.parent.iterdir()] == [path.name]


def test_a_row_that_waits_counts_once_though_a_save_was_cut_off(path):
    """As if the power failed after the file took the row and before the one beside it was gone."""
    rows = weighing("bare", 600), weighing("bucket", 790, 720)
    add(path, *rows)
    beside = path.with_name(f"{path.stem}.waiting-1.csv")
    beside.write_bytes(path.read_bytes())
    assert rows_in(path) == rows
    add(path, weighing("frame", 829, 781))
    assert len(rows_in(path)) == 3 and [p.name for p in path.parent.iterdir()] == [path.name]


def test_letters_the_file_cannot_hold_go_beside(path):
    written(path, COLUMNS + "Schürfkübel,1,600,,,,,,kg,\n", encoding="cp1252")
    saved = add(path, weighing("bare", 700, note="дождь"))
    assert saved.beside and "every letter" in saved.message and len(rows_in(path)) == 2


def test_a_folder_that_refuses_is_said(path, monkeypatch):
    monkeypatch.setattr(
        "tempfile.mkstemp",
        lambda **_: (_ for _ in ()).throw(PermissionError(13, "Permission denied")),
    )
    with pytest.raises(Refusal, match="folder that can be written to"):
        add(path, weighing("bare", 600))


def test_a_file_name_is_no_folder(tmp_path):
    with pytest.raises(Refusal, match="a folder for weigh days"):
        add_rows(DAY, weighing("bare", 600), folder=tmp_path / "day.csv")
    assert files_at(tmp_path / "day.csv") == ()


# --- readings only, and what they give -------------------------------------------------------


def test_a_prediction_is_never_a_reading():
    off = predict(demo_tractor(), demo_loader()[0])
    made = forecast((off.front_kg, off.rear_kg), 110, 1.2, 1.65, u_weight=3, u_ahead=0.02)
    for calculated in (made.front, made, True, object(), {"front": 1}):
        with pytest.raises(Refusal, match="a calculated value"):
            weighing("bucket", calculated)


def test_a_file_becomes_set_ups_and_a_fit(tmp_path):
    saved = add_rows(replace(demo_day(), invented=False), folder=tmp_path)
    day = read_day_file(saved.path).day
    assert day.scales == demo_day().scales and day.machine == demo_day().machine
    fit = least_squares(day.setups, day.machine.wheelbase_m, u_reading=1)
    # Of the means in pounds, front and rear: bucket on 2274 and 1525, off 1827 and 1715.
    assert fit.pieces["bucket"].weight_kg == pytest.approx(257 * 0.45359237, abs=1)
    assert fit.pieces["ballast"].ahead_m < -day.machine.wheelbase_m


@pytest.mark.parametrize(
    "line, where",
    [
        ("bare,600,5,800,kg,1,", "column unit"),
        ("bare,600,5,800,kg,1,wind", "whole line: 10 cells"),
        ("bare,600,800,kg,1,windy, gusty", "whole line: 10 cells"),
    ],
)
def test_a_line_of_the_earlier_format_with_a_comma_too_many_is_a_fault(tmp_path, line, where):
    """600,5 without quotes would read as a front of 600 and a rear of 5."""
    path = tmp_path / "weigh_day_record.csv"
    head = "date,machine,wheelbase,state,front,rear,unit,repeat,note\n"
    path.write_text(f"{head}2026-05-14,Hill tractor,1.71 m,{line}\n")
    file = read_day_file(path)
    assert f"line 2, {where}" in str(file.faults[0])
    assert not any(day.rows for day in file.days)


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("last", [True, False])
def test_a_row_is_added_on_a_line_of_its_own_whatever_the_last_line_ends_with(path, newline, last):
    """Somebody's editor may leave out the last line's end; no line is left empty either."""
    text = (HEAD + COLUMNS + "bare,1,600,,,800,,,kg,\n").replace("\n", newline)
    path.write_bytes((text if last else text.removesuffix(newline)).encode())
    add(path, weighing("bucket", 700, 780))
    assert [(row.setup, row.front.shown) for row in rows_in(path)] == [
        ((), 600),
        (("bucket",), 700),
    ]
    after = path.read_bytes().decode()
    assert after.startswith(text)
    assert after.removeprefix(text).startswith("bucket") and "\n\n" not in after[len(HEAD) :]


def test_two_thousand_files_are_looked_into_and_no_more(tmp_path, monkeypatch):
    """What another program was writing when it stopped is not counted.  The folder is made up."""
    names = [f"{number:04}.csv" for number in range(2000)] + ["a.waiting-1.csv"]
    monkeypatch.setattr(day_file, "read_day_file", lambda path: path.name)
    monkeypatch.setattr(Path, "glob", lambda folder, _: (folder / name for name in names))
    assert read_folder(tmp_path) == tuple(names[:-1])
    names.append("2000.csv")
    with pytest.raises(Refusal, match="2001 files was given; up to 2000 weigh days"):
        read_folder(tmp_path)
