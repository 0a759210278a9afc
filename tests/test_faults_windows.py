"""Windows names and consoles, tried on any system: devices, drives, long paths, old code pages."""

import io
import os
import re
import shutil
import subprocess
import sys
from functools import partial
from pathlib import Path, PureWindowsPath

import pytest
from class_files import answer_text, demo_codes, ticket_of

from leverarm import Refusal, files
from leverarm.console import done, say
from leverarm.files import WINDOWS_LIMIT, unfit_name, write_whole
from leverarm.handouts.customer_page import customer_page
from leverarm.marking import Assignment, Desk, Homework, add_file, answer_file, codes
from leverarm.marking.answer_file import Answer, line
from leverarm.weighing.day import weigh_day
from leverarm.weighing.day_file import add_rows, files_at, read_day_file
from leverarm.weighing.demo import demo_day
from leverarm.weighing.facts import machine
from leverarm.weighing.readings import weighing as weighed

sys.path.insert(0, str(Path(__file__).parents[1] / "src"))

from launch import checks, steps, words

ROOT = Path(__file__).parents[1]

CODE_PAGES = ["ascii", "cp437", "cp1252", "cp932", "utf-8"]
# Each line is tried on all of them; whole programs, which take long, on one of each kind.
CONSOLES = ["ascii", "cp1252", "cp932"]
FOLDER = "Übung 日本 – ½"


# --- names
# --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name",
    [
        "CON",
        "con.csv",
        "Nul",
        "aux.tar.gz",
        "COM1.csv",
        "lpt9",
        "COM¹.txt",
        "conin$",
        "prn .csv",
        "a:b.csv",
        "C:day.csv",
        "what?.csv",
        'a"b',
        "a|b",
        "a<b",
        "a*b",
        "day.csv.",
        "day ",
        "a\tb",
        "a\0b",
    ],
)
def test_a_name_windows_takes_for_something_else_is_unfit_there_alone(name):
    assert unfit_name(name, "nt") and not unfit_name(name, "posix")


@pytest.mark.parametrize(
    "name",
    [
        "console.csv",
        "COM10.csv",
        "nullnummer.txt",
        "lptx",
        "con-1.csv",
        "a.con",
        "day.csv",
        ".hidden",
        "Übung.csv",
        "日本.csv",
        "a b.csv",
        "CONNECT",
        "x" * 200,
    ],
)
def test_any_other_name_is_fit(name):
    assert not unfit_name(name, "nt")


@pytest.fixture
def on_windows(monkeypatch):
    """Names as Windows takes them."""
    monkeypatch.setattr(files, "unfit_name", partial(unfit_name, system="nt"))


@pytest.mark.parametrize("name", ["con", "weigh:day", "day ", "COM1", "\u202etractor", "?*"])
def test_a_machine_of_any_name_has_a_file_that_windows_takes(tmp_path, on_windows, name):
    try:
        day = weigh_day(machine(name, 1.65), "2026-05-14")
    except Refusal:
        return  # letters that hide are refused at the door
    add_rows(day, weighed("bare", 600, 800), folder=tmp_path)
    (file,) = tmp_path.iterdir()
    assert not unfit_name(file.name, "nt") and file.name.isascii()
    assert read_day_file(file).day.machine.name == name.strip()


def test_so_is_a_page_to_hand_over(tmp_path, on_windows, capsys):
    assert done(customer_page, demo_day(), tmp_path / "aux.html") == 1
    assert (
        "aux.html: the system said: Windows keeps this name" in capsys.readouterr().err
        and list(tmp_path.iterdir()) == []
    )


@pytest.mark.parametrize("name", ["CON", "nul", "Com1", "LPT9", "aux", "con.old", "PRN"])
def test_no_assignment_is_called_like_a_device(name):
    with pytest.raises(Refusal, match="Windows keeps for itself"):
        codes.assignment_name(name)


@pytest.mark.parametrize(
    "name", ["ab:c", "a*b", "CON", "..\\\\up", "C:\\\\up", "a/b", "week ", "a" * 41]
)
def test_no_answer_file_from_a_stranger_names_such_a_place(tmp_path, name):
    ticket = ticket_of(demo_codes(1)[0], Assignment("Week 3", ["front_gain"]))
    data = answer_text(ticket, [line(Answer("front_gain", 1, "", "1 kg"))]).replace("Week 3", name)
    if name == "week ":
        assert "1 answer is added" in add_file(data.encode(), tmp_path), (
            "spaces at the end are none of the name"
        )
        return
    with pytest.raises(Refusal):
        add_file(data.encode(), tmp_path)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["Week 3", "a", "9.x", "Final test - part 2", "x" * 40])
def test_every_file_of_a_class_has_a_name_that_windows_takes(tmp_path, name):
    work, desk = Assignment(name, ["front_gain"]), Desk(tmp_path / "class")
    desk.start(2)
    desk.write_assignment(work)
    student = Homework(desk.tickets(work)[0], desk.came_back_folder(work))
    student.check("front_gain", "1 kg")
    desk.mark(name)
    made = [path.relative_to(tmp_path) for path in tmp_path.rglob("*")]
    made += [
        answer_file.aside(student.path).relative_to(tmp_path),
        answer_file.earlier(student.path).relative_to(tmp_path),
    ]
    for path in made:
        assert (
            not any(unfit_name(part, "nt") for part in path.parts)
            and PureWindowsPath(*path.parts).parts == path.parts
        )
    assert max(len(str(path)) for path in made) <= 150, "room is left for the place of the workbook"


def project_files():
    """Every file of the project, as the version control knows them; without it, all but what a
    machine makes.
    """
    try:
        told = subprocess.run(
            ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True
        ).stdout.decode("utf-8")
        return [name for name in told.split("\0") if name]
    except (OSError, subprocess.CalledProcessError):
        return [
            path.relative_to(ROOT).as_posix()
            for part in ("src", "tests", "notebooks", "lessons", "figures")
            for path in (ROOT / part).rglob("*")
            if path.is_file() and "__pycache__" not in path.parts
        ]


def test_every_file_of_the_project_can_be_unpacked_on_windows():
    names = project_files()
    assert len(names) > 200
    assert [name for name in names if any(unfit_name(part, "nt") for part in name.split("/"))] == []
    assert len({name.casefold() for name in names}) == len(names), (
        "two names that differ in case alone"
    )
    assert max(map(len, names)) < checks.LONGEST_INSIDE and all(name.isascii() for name in names)


def test_a_folder_with_marks_of_a_pattern_in_its_name_finds_what_waits_in_it(tmp_path):
    day, folder = weigh_day(machine("Plot", 1.65), "2026-05-14"), tmp_path / "days [1]*"
    add_rows(day, weighed("bare", 600, 800), folder=folder)
    (folder / f"~${day.file_name}").write_text("held")
    assert add_rows(day, weighed("bucket", 790, 720), folder=folder).beside
    assert len(files_at(folder)[0].day.rows) == 2


def test_a_path_at_the_limit_of_windows_is_explained():
    why = FileNotFoundError(
        2, "The system cannot find the path specified", "C:\\" + "x" * WINDOWS_LIMIT + "\\day.csv"
    )
    assert "longer than the 259 letters" in files.explain_os_error(
        why, "nt"
    ) and "no such file" in files.explain_os_error(why, "posix")


# --- folders and consoles
# -----------------------------------------------------------------------------------------


def test_a_folder_with_any_letters_holds_everything(tmp_path):
    place = tmp_path / FOLDER
    place.mkdir()
    desk, work = Desk(place / "Klasse 7ß"), Assignment("Week 3", ["front_gain"])
    desk.start(2)
    desk.write_assignment(work)
    Homework(desk.tickets(work)[0], desk.came_back_folder(work)).check("front_gain", "1 kg")
    assert desk.mark("Week 3")[0].handed_in == 1
    day = weigh_day(machine("Mäher", 1.65), "2026-05-14")
    assert add_rows(day, weighed("bare", 600, 800), folder=place / "Mähtage").path.is_file()
    assert customer_page(demo_day(), place / "Übergabe.html").is_file()
    write_whole(place / "é.txt", b"x")


@pytest.mark.parametrize("encoding", CODE_PAGES)
@pytest.mark.parametrize("speak", [say, words.say])
def test_any_line_can_be_said_on_any_console(encoding, speak):
    console = io.TextIOWrapper(io.BytesIO(), encoding=encoding)
    speak(f"written: {FOLDER}/side_view.svg −82.7 kg ✓ \U0001f69c", console)
    told = console.buffer.getvalue().decode(encoding)
    assert told.startswith("written: ") and "side_view.svg" in told and told.count("\n") == 1
    assert ("日本" in told) == (encoding in ("cp932", "utf-8")) and ("Ü" in told) == (
        encoding in ("cp437", "cp1252", "utf-8")
    )


@pytest.mark.parametrize("encoding", CODE_PAGES)
def test_progress_is_shown_on_any_console(encoding, monkeypatch):
    console = io.TextIOWrapper(io.BytesIO(), encoding=encoding)
    console.isatty = lambda: True
    monkeypatch.setattr(sys, "stdout", console)
    steps.progress(f"Building wheel in {FOLDER}")
    monkeypatch.undo()
    assert b"building wheel" in console.buffer.getvalue()


def ran(encoding, cwd, *command):
    """Run a command under a code page; its output, decoded as that console would."""
    env = os.environ | {"PYTHONIOENCODING": encoding, "PYTHONUTF8": "0", "MPLCONFIGDIR": str(cwd)}
    told = subprocess.run(
        [sys.executable, *command], cwd=cwd, env=env, capture_output=True, timeout=120
    )
    return told.returncode, told.stdout.decode(encoding), told.stderr.decode(encoding)


@pytest.fixture
def elsewhere(tmp_path):
    """The start and its parts in a folder of a person whose name is not ASCII."""
    home = tmp_path / FOLDER
    (home / "src").mkdir(parents=True)
    shutil.copy(ROOT / "src" / "start.py", home / "src")
    shutil.copytree(
        ROOT / "src" / "launch",
        home / "src" / "launch",
        ignore=shutil.ignore_patterns("__pycache__"),
    )
    return home


@pytest.mark.parametrize("encoding", CONSOLES)
def test_the_start_speaks_from_any_folder_on_any_console(elsewhere, encoding):
    code, said, wrong = ran(encoding, elsewhere, "src/start.py", "--help")
    assert code == 0 and "start.py wheels FOLDER" in said and not wrong
    (elsewhere / "a file ü").write_text("x")
    code, said, wrong = ran(
        encoding, elsewhere, "src/start.py", "wheels", str(elsewhere / "a file ü")
    )
    assert (
        code == 1
        and "is a file: name a folder" in wrong
        and wrong.count("\n") == 1
        and "Traceback" not in wrong
    )


@pytest.mark.parametrize("encoding", CONSOLES)
def test_the_packages_commands_speak_from_any_folder_on_any_console(tmp_path, encoding):
    place = tmp_path / FOLDER
    place.mkdir()
    code, said, wrong = ran(
        encoding, tmp_path, "-m", "leverarm.figures", "side_view", "--folder", str(place)
    )
    assert (
        (code, wrong) == (0, "")
        and re.search(r"written: .*side_view\.txt", said)
        and (place / "side_view.svg").is_file()
    )
    code, said, wrong = ran(
        encoding,
        tmp_path,
        "-m",
        "leverarm.handouts.offline_page",
        str(place / "none" / "page.html"),
    )
    assert (
        code == 1
        and wrong.startswith("page.html: there is no such file or folder")
        and wrong.count("\n") == 1
    )
