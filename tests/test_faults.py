"""What must not go wrong when everything else does: kills, full disks, closed folders, clocks,
files made to be slow.
"""

import errno
import itertools
import multiprocessing
import os
import random
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest
from class_files import answer_text, demo_codes, right, ticket_of

from leverarm import exercises, figures, marking, panels
from leverarm.console import done
from leverarm.files import LEFT_S, explain_os_error, write_whole
from leverarm.handouts import offline_page, parts
from leverarm.handouts.customer_page import customer_page
from leverarm.handouts.tickets import print_tickets
from leverarm.marking import Assignment, Desk, Homework, mark_folder, student
from leverarm.marking.answer_file import Answer, line, read_answers
from leverarm.marking.assignment import file_text
from leverarm.marking.codes import DEMO_KEY, shown_code
from leverarm.weighing.day import weigh_day
from leverarm.weighing.day_file import add_rows, days_of, files_at, read_day_file
from leverarm.weighing.demo import demo_day
from leverarm.weighing.facts import machine
from leverarm.weighing.readings import weighing as weighed

sys.path.insert(0, str(Path(__file__).parents[1] / "src"))

from launch import checks, words

WEEK = Assignment("Week 3", ["front_gain", "rear_change"])
CODE = demo_codes(1)[0]
TICKET = ticket_of(CODE, WEEK)
DAY = "2031-03-14"
POSIX = pytest.mark.skipif(os.name == "nt", reason="needs fork and a kill that cannot be caught")
FORKS = pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")


def contents(folder):
    """Name -> bytes of every file below a folder, but for what is half-written."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(Path(folder).rglob("*"))
        if path.is_file() and ".new-" not in str(path)
    }


def left_behind(folder):
    """What a kill left half-written, and locks."""
    return [
        path
        for path in Path(folder).rglob("*")
        if path.name.startswith(".new-") or path.name.endswith(".lock")
    ]


def long_ago(folder):
    """Let what a kill left behind be old."""
    for path in left_behind(folder):
        os.utime(path, (0, 0))


# --- killed while saving
# ---------------------------------------------------------------------------------


class Answers:
    """A student checks one answer after another."""

    def __init__(self, folder):
        self.folder = folder
        self.home = Homework(TICKET, folder)

    def save(self, n):
        self.home.check("front_gain", f"{n + 1} kg")

    def whole(self, reported):
        found = read_answers(self.home.path.read_bytes()) if self.home.path.exists() else None
        assert not found or not found.notes
        assert len(found.answers if found else ()) >= reported
        page = opened(self.folder)
        assert not page.error.value and page.number == len(found.answers if found else ()) + 1

    def next_time(self):
        assert Homework(TICKET, self.folder).check("rear_change", "1 kg").counts


class Record:
    """One reading after another goes into the record."""

    def __init__(self, folder):
        self.folder = folder
        self.day = weigh_day(machine("Yard tractor", 1.65), DAY)

    @property
    def path(self):
        return self.folder / self.day.file_name

    def save(self, n):
        add_rows(self.day, weighed("bare", 600 + n, 800, repeat=n + 1), folder=self.folder)

    def whole(self, reported):
        if not reported and not self.path.exists():
            return  # killed before the first row was there
        file = read_day_file(self.path)
        assert not file.faults and not file.remarks
        repeats = [one.repeat for day in file.days for one in day.rows]
        assert repeats == list(range(1, len(repeats) + 1)) and len(repeats) >= reported

    def next_time(self):
        assert not add_rows(self.day, weighed("frame", 829, 781), folder=self.folder).beside


class Class:
    """One class after another is begun and set its work."""

    def __init__(self, folder):
        self.folder = folder

    def save(self, n):
        desk = Desk(self.folder / f"class{n}")
        desk.start(3)
        desk.write_assignment(WEEK)

    def whole(self, reported):
        for n in range(reported + 1):
            desk = Desk(self.folder / f"class{n}")
            if not desk.started:
                desk.start(3)
                assert n == reported and len(desk.codes) == 3
            assert len(desk.codes) == 3 and len(desk.class_key) > 20
            assert desk.assignments in ({}, {"Week 3": WEEK}) and (
                desk.assignments or n == reported
            )
            out = desk.write_assignment(WEEK)
            assert len(list((out / "ticket_files").glob("*.ticket.txt"))) == 3

    def next_time(self):
        for folder in self.folder.iterdir():
            desk = Desk(folder)
            desk.add_codes(1)
            desk.write_assignment(WEEK)


class Marking:
    """A class is marked over and over; each time somebody has answered once more."""

    def __init__(self, folder):
        self.desk = Desk(folder / "class")
        self.desk.start(2)
        self.desk.write_assignment(WEEK)
        self.students = [
            Homework(ticket, self.desk.came_back_folder(WEEK)) for ticket in self.desk.tickets(WEEK)
        ]
        self.students[0].check("front_gain", "1 kg")

    def save(self, n):
        self.students[n % 2].check("rear_change", f"{n + 1} kg")
        self.desk.mark("Week 3")

    def whole(self, reported):
        there = marking.desk.numbered(self.desk.marked_folder(WEEK))
        assert [int(path.name) for path in there] == list(range(1, len(there) + 1)) and len(
            there
        ) >= reported
        for path in there:
            assert {
                "marks.csv",
                "items.csv",
                "slips.csv",
                "left_out.csv",
                "class.html",
            } <= set(contents(path))
            assert len((path / "marks.csv").read_bytes().splitlines()) == 3 and list(
                (path / "hand_back").iterdir()
            )

    def next_time(self):
        for one in self.students:
            one.check("front_gain", "9 kg")
        result, _ = self.desk.mark("Week 3")
        assert all(one.file.startswith(".") for one in result.skipped), (
            "what a kill left is no answer file"
        )


class Page:
    """The page to hand over is written again and again, with one mower and then with another."""

    mowers = "60 in deck", "flail, rear"

    def __init__(self, folder):
        self.path, self.day = folder / "page.html", demo_day()

    def save(self, n):
        customer_page(self.day, self.path, mower=self.mowers[n % 2])

    def whole(self, reported):
        if self.path.exists():
            page = self.path.read_text("utf-8")
            assert (
                page.rstrip().endswith("</html>") and sum(one in page for one in self.mowers) == 1
            )
        assert self.path.exists() or not reported

    def next_time(self):
        self.save(0)


class Tickets(Page):
    """A page of tickets is written again and again."""

    def __init__(self, folder):
        self.path = folder / "page.html"

    def save(self, n):
        print_tickets([TICKET] * (1 + n % 2), self.path)

    def whole(self, reported):
        if self.path.exists():
            page = self.path.read_text("utf-8")
            assert page.rstrip().endswith("</html>") and 1 <= page.count("<article>") <= 2
        assert self.path.exists() or not reported


def saving(work, pipe, first=0):
    """Save without end, and tell each time."""
    for n in itertools.count(first):
        work.save(n)
        pipe.send(n)


def killed(target, *told, delay=None, first=False):
    """Run in a process of its own until it is killed, first: after it has saved once; how many
    saves it had reported.
    """
    ours, theirs = multiprocessing.Pipe(duplex=False)
    child = multiprocessing.get_context("fork").Process(
        target=target, args=(*told, theirs), daemon=True
    )
    child.start()
    theirs.close()
    if delay is not None:
        assert not first or ours.poll(60)
        time.sleep(delay)
        child.kill()
    child.join(60)
    assert child.exitcode == -signal.SIGKILL, "it must not end in any other way"
    reported = 0
    try:
        while True:
            ours.recv()
            reported += 1
    except (EOFError, OSError):  # the end, perhaps in the middle of a message
        return reported


KILLS = {
    Answers: (12, 0.1),
    Record: (12, 0.06),
    Class: (8, 0.1),
    Marking: (6, 0.2),
    Page: (8, 0.1),
    Tickets: (6, 0.1),
}


@POSIX
@FORKS
@pytest.mark.parametrize("kind", KILLS, ids=lambda kind: kind.__name__)
def test_killed_at_any_moment_the_file_is_the_old_or_the_new_one(kind, tmp_path):
    """A process that saves and saves is killed at seeded moments, 52 times in all."""
    count, longest = KILLS[kind]
    moments, saved = random.Random(kind.__name__), 0
    for number in range(count):
        folder = tmp_path / str(number)
        folder.mkdir()
        work = kind(folder)
        reported = killed(saving, work, delay=moments.uniform(0, longest), first=number % 3 > 0)
        long_ago(folder)
        work.whole(reported)
        work.next_time()
        assert not left_behind(folder), "the next save sweeps up"
        saved += reported
    assert saved >= count * 2 // 3


def dies(work, module, name, turn, after, pipe):
    """Save, and die before or after a call of the system, the so-manieth."""
    real, calls = getattr(module, name), itertools.count(1)

    def last(*args, **more):
        now = next(calls) == turn
        if now and not after:
            os.kill(os.getpid(), signal.SIGKILL)
        result = real(*args, **more)
        if now:
            os.kill(os.getpid(), signal.SIGKILL)
        return result

    setattr(module, name, last)
    saving(work, pipe, first=1)


@POSIX
@FORKS
@pytest.mark.parametrize("kind", [Answers, Record, Page], ids=lambda kind: kind.__name__)
@pytest.mark.parametrize(
    "module, name",
    [(tempfile, "mkstemp"), (os, "fsync"), (os, "chmod"), (os, "replace")],
    ids=lambda x: str(x)[:8],
)
def test_killed_at_every_step_of_a_save(kind, module, name, tmp_path):
    for turn, after in itertools.product((1, 2, 3), (False, True)):
        folder = tmp_path / f"{turn}{after}"
        folder.mkdir()
        work = kind(folder)
        work.save(0)
        reported = killed(dies, work, module, name, turn, after)
        long_ago(folder)
        work.whole(1 + reported)
        work.next_time()
        assert not left_behind(folder)


def test_what_a_living_writer_has_in_hand_is_not_swept_up(tmp_path):
    young, old, other = (
        tmp_path / ".new-abcd1234",
        tmp_path / ".new-abcd5678",
        tmp_path / ".new-notes.txt",
    )
    for path in (young, old, other):
        path.write_bytes(b"half")
    for path in (old, other):
        os.utime(path, (time.time() - 2 * LEFT_S,) * 2)
    write_whole(tmp_path / "note.txt", b"whole")
    assert {path.name for path in tmp_path.iterdir()} == {young.name, other.name, "note.txt"}


# --- no room, no leave to write
# -----------------------------------------------------------------------------


def opened(folder):
    """The homework of a folder with the ticket open."""
    page = panels.homework(folder)
    page.use(TICKET)
    return page


def an_answer(folder):
    page = opened(folder)
    page.answer("1 kg")
    page.again()
    page.field.write("190 kg")

    def told():
        assert page.field.text == "190 kg" and page.check_button.layout.display == "", (
            "what was typed is still there"
        )
        assert page.number == 2 and "download=" in page.kept.said.value, (
            "what is kept can be saved as a copy"
        )
        return page.error.value

    return page.check_button.click, told


def a_typed_ticket(folder):
    (folder / "Week_3.assignment.txt").write_text(file_text(WEEK), "utf-8")
    page = panels.homework(folder)
    page.tickets.code.value, page.tickets.key_box.value = TICKET.code, TICKET.key

    def told():
        assert (
            page.tickets.code.value == TICKET.code
            and page.tickets.key_box.value == TICKET.key
            and page.work is None
        )
        return page.error.value

    return page.tickets.start_button.click, told


def a_brought_file(folder):
    page = panels.homework(folder)
    return lambda: page.attempt(
        lambda: page.tickets.take(file_text(TICKET).encode())
    ), lambda: page.error.value


def readings(folder):
    panels.machine_and_scales(folder / "days").tell(name="Yard tractor", wheelbase="65 in").keep()
    day = panels.weigh_day(folder / "days", gated=False)
    day.wheels.tell("front", "600")

    def told():
        assert day.wheels.of("front") == "600", "what was read is still there"
        return day.error.value

    return day.write_button.click, told


def a_correction(folder):
    add_rows(replace(demo_day(), invented=False), folder=folder / "days")
    page = panels.weigh_record(folder / "days")
    page.wrong.value, page.front.value = 4, "1020"

    def told():
        assert page.front.value == "1020"
        return page.error.value

    return page.correct_button.click, told


def a_class_key(folder):
    desk = panels.desk(folder / "my_class", print_tickets=print_tickets)
    desk.codes.students.value = "3"
    return desk.codes.make_button.click, lambda: desk.codes.error.value


def work_for_a_class(folder):
    desk = panels.desk(folder / "my_class")
    desk.codes.start(3)
    desk.choose.choose("front_gain")
    desk.choose.name.value = "Week 3"
    return desk.choose.write_button.click, lambda: desk.choose.error.value


def marks(folder):
    desk = panels.desk(folder / "my_class")
    desk.codes.start(2)
    desk.choose.choose("front_gain").write(WEEK)
    Homework(desk.desk.tickets(WEEK)[0], desk.desk.came_back_folder(WEEK)).check(
        "front_gain", "1 kg"
    )
    desk.desk.mark("Week 3")
    Homework(desk.desk.tickets(WEEK)[1], desk.desk.came_back_folder(WEEK)).check(
        "front_gain", "2 kg"
    )
    return desk.marks.mark_button.click, lambda: desk.marks.error.value


def a_page_from_the_panel(folder):
    add_rows(replace(demo_day(), invented=False), folder=folder / "days")
    page = panels.hand_over(customer_page, folder / "days")
    page.fields["dealer"].value = "Yard of our own"

    def told():
        assert page.fields["dealer"].value == "Yard of our own" and not page.said.value
        return page.error.value

    return lambda: page.attempt(lambda: page.write(folder)), told


def command(act):
    """What a command of the package says where errors go; its exit code is 1."""

    def run(folder):
        said = []

        def go():
            sys.stderr, before = said_to(said), sys.stderr
            try:
                assert done(act, folder) == 1
            finally:
                sys.stderr = before

        return go, lambda: "".join(said).strip()

    return run


class said_to:
    encoding = "ascii"

    def __init__(self, said):
        self.write, self.flush = said.append, lambda: None


JOBS = {
    "an answer": an_answer,
    "a typed ticket": a_typed_ticket,
    "a brought file": a_brought_file,
    "readings": readings,
    "a correction": a_correction,
    "a class key": a_class_key,
    "work for a class": work_for_a_class,
    "marks": marks,
    "a page, printed from the panel": a_page_from_the_panel,
    "the page to hand over": command(
        lambda folder: customer_page(demo_day(), folder / "page.html") and 0
    ),
    "figures": command(lambda folder: figures.main(["side_view", "--folder", str(folder)])),
    "handouts": command(lambda folder: parts.main(["--html", "--folder", str(folder)])),
    "the page without Python": command(
        lambda folder: offline_page.main([str(folder / "page.html")])
    ),
}


def plain(sentence):
    """No word of a programmer, no path of a machine."""
    assert sentence and not re.search(
        r"Errno|Error|Traceback|None|/\w+/|\\|panel failed", sentence
    ), sentence
    return sentence


def refusing(monkeypatch, where, number):
    """Let the system refuse at one place."""

    def refuse(*_, **__):
        raise OSError(number, os.strerror(number), "/a/path/of/this/machine")

    for module, name in where:
        monkeypatch.setattr(module, name, refuse)


FULL = [(os, "fsync")]
CLOSED = [(tempfile, "mkstemp"), (tempfile, "mkdtemp"), (os, "mkdir")]
REFUSALS = {
    "full": (FULL, errno.ENOSPC, "the disk is full; make room"),
    "no more for this user": (
        FULL,
        getattr(errno, "EDQUOT", errno.ENOSPC),
        "the disk is full; make room",
    ),
    "read-only disk": (CLOSED, errno.EROFS, "takes no files.*folder of your own"),
    "no leave to write": (CLOSED, errno.EACCES, "takes no files.*folder of your own"),
    "broken disk": (FULL, errno.EIO, "the system said.*choose another"),
}


# Drawing pages takes long: those jobs meet one full disk and one closed folder.
CASES = [
    (job, why)
    for job in JOBS
    for why in REFUSALS
    if why in ("full", "read-only disk") or not (job == "handouts" or "printed" in job)
]


@pytest.mark.parametrize("job, why", CASES)
def test_what_cannot_be_kept_is_said_in_a_plain_sentence_and_nothing_is_lost(
    job, why, tmp_path, monkeypatch
):
    where, number, says = REFUSALS[why]
    act, told = JOBS[job](tmp_path)
    before = contents(tmp_path)
    refusing(monkeypatch, where, number)
    act()
    assert re.search(says, plain(told()))
    monkeypatch.undo()
    assert {name: data for name, data in contents(tmp_path).items() if name in before} == before
    assert not left_behind(tmp_path)


@pytest.mark.parametrize(
    "job",
    [
        "an answer",
        "a typed ticket",
        "readings",
        "a correction",
        "a class key",
        "work for a class",
        "marks",
    ],
)
def test_once_there_is_room_the_same_button_does_it(job, tmp_path, monkeypatch):
    act, _told = JOBS[job](tmp_path)
    before = contents(tmp_path)
    refusing(monkeypatch, FULL, errno.ENOSPC)
    act()
    monkeypatch.undo()
    act()
    after = contents(tmp_path)
    assert after != before and all(
        after[name].startswith(data)
        for name, data in before.items()
        if name.endswith((".csv", ".txt"))
    )


@contextmanager
def small_disk(size="160k"):
    """A disk of its own, so small that it can be filled."""
    place = Path(tempfile.mkdtemp())
    mount = shutil.which("mount")
    made = (
        mount
        and hasattr(os, "geteuid")
        and os.geteuid() == 0
        and subprocess.run(
            [mount, "-t", "tmpfs", "-o", f"size={size}", "tmpfs", place], capture_output=True
        ).returncode
        == 0
    )
    try:
        if not made:
            pytest.skip("no disk can be mounted here")
        yield place
    finally:
        if made:
            subprocess.run(["umount", place], check=True)
        place.rmdir()


def fill(place):
    """Leave no room at all."""
    with (
        open(place / "filler", "wb", buffering=0) as file,
        pytest.raises(OSError, match="No space"),
    ):
        while True:
            file.write(b"x" * 512)


@pytest.mark.parametrize(
    "job", ["an answer", "readings", "a correction", "marks", "the page to hand over"]
)
def test_on_a_disk_that_is_really_full(job):
    with small_disk() as place:
        act, told = JOBS[job](place)
        before = contents(place)
        fill(place)
        act()
        assert re.search("the disk is full; make room", plain(told()))
        (place / "filler").unlink()
        assert contents(place) == before and not left_behind(place)


def as_nobody(act, told, pipe):
    """Do it as a user who may not write here; send what was said."""
    if os.geteuid() == 0:
        os.setgroups([])
        os.setgid(65534)
        os.setuid(65534)
    act()
    pipe.send(told())


@POSIX
@FORKS
@pytest.mark.parametrize("job", [job for job in JOBS if "printed" not in job])
def test_in_a_folder_that_is_really_read_only(job):
    place = Path(tempfile.mkdtemp())
    try:
        act, told = JOBS[job](place)
        before = contents(place)
        for path in [place, *place.rglob("*")]:
            path.chmod(0o555 if path.is_dir() else 0o644)
        ours, theirs = multiprocessing.Pipe(duplex=False)
        child = multiprocessing.get_context("fork").Process(
            target=as_nobody, args=(act, told, theirs), daemon=True
        )
        child.start()
        theirs.close()
        said = ours.recv()
        child.join(60)
        assert (
            re.search("takes no files.*folder of your own", plain(said))
            and contents(place) == before
        )
    finally:
        for path in [place, *place.rglob("*")]:
            path.chmod(0o755)
        shutil.rmtree(place)


def writable_or_not(place):
    """What the start says of a folder."""
    said = []

    def look():
        try:
            checks.writable(place)
        except words.Refusal as refusal:
            said.append(str(refusal))

    return look, lambda: "".join(said)


@POSIX
@FORKS
def test_the_start_sees_a_read_only_folder_whoever_asks():
    place = Path(tempfile.mkdtemp())
    try:
        place.chmod(0o555)
        ours, theirs = multiprocessing.Pipe(duplex=False)
        child = multiprocessing.get_context("fork").Process(
            target=as_nobody, args=(*writable_or_not(place), theirs), daemon=True
        )
        child.start()
        theirs.close()
        assert re.search(
            "cannot be written to .*copy the whole workbook to a folder of your own", ours.recv()
        )
        child.join(60)
    finally:
        place.rmdir()


@pytest.mark.parametrize(
    "why, says",
    [
        (
            OSError(errno.ENOENT, "No such file", "C:\\class\\" + "x" * 300),
            "longer than the 259 letters",
        ),
        (
            OSError(errno.ENOENT, "No such file", "C:\\class\\names.csv"),
            r"^names\.csv: there is no such file or folder; check the name",
        ),
        (
            OSError(errno.EACCES, "Access is denied", "C:\\class\\marks.csv"),
            "another program holds it",
        ),
        (OSError("odd"), "^This file: the system said: odd"),
        (OSError(errno.ENOSPC, "No space", b"/a/b.csv"), r"^b\.csv: the disk is full"),
    ],
)
def test_trouble_in_words(why, says):
    assert re.search(says, explain_os_error(why, "nt")) and "C:" not in explain_os_error(why, "nt")


# --- two at one file
# ---------------------------------------------------------------------------------------------


def appending(folder, first, pipe):
    for n in range(20):
        day = weigh_day(machine("Yard tractor", 1.65), DAY)
        add_rows(day, weighed("bare", 600 + n, 800, repeat=first + n), folder=folder)
    pipe.send("done")


@POSIX
@FORKS
def test_two_windows_that_write_one_day_at_once_lose_no_row(tmp_path):
    pipes = []
    for first in (1, 101):
        ours, theirs = multiprocessing.Pipe(duplex=False)
        multiprocessing.get_context("fork").Process(
            target=appending, args=(tmp_path, first, theirs), daemon=True
        ).start()
        pipes.append(ours)
    assert [ours.recv() for ours in pipes] == ["done", "done"]
    (file,) = files_at(tmp_path)
    repeats = sorted(one.repeat for one in file.day.rows)
    assert repeats == [*range(1, 21), *range(101, 121)]


# --- the clock is set back
# -----------------------------------------------------------------------------------------


@pytest.fixture
def clock(monkeypatch):
    """A wall clock that goes back an hour each time it is asked."""
    now = itertools.count(time.time(), -3600)
    monkeypatch.setattr(time, "time", lambda: next(now))


def test_answers_keep_their_order_and_seconds_when_the_clock_goes_back(tmp_path, clock):
    page = opened(tmp_path)
    for typed in ("1 kg", "2 kg", "3 kg"):
        page.answer(typed)
        page.again()
    kept = read_answers(page.work.path.read_bytes()).answers
    assert [(one.number, one.typed) for one in kept] == [(1, "1 kg"), (2, "2 kg"), (3, "3 kg")]
    assert all(0 <= one.seconds < 60 for one in kept)
    assert opened(tmp_path).number == 4 and not left_behind(tmp_path)


def test_a_lock_from_the_future_holds_nobody_up(tmp_path):
    home = Homework(TICKET, tmp_path)
    lock = tmp_path / f".{home.path.name}.lock"
    lock.touch()
    os.utime(lock, (time.time() + 7200,) * 2)
    home.check("front_gain", "1 kg")
    assert not lock.exists() and home.number("front_gain") == 2


def test_a_correction_counts_by_its_place_in_the_file_not_by_the_clock(tmp_path, clock):
    day = weigh_day(machine("Plot", 1.65), DAY)
    for front in (600, 605, 602):
        add_rows(day, weighed("bare", front, 800), folder=tmp_path)
    (kept,) = days_of(files_at(tmp_path))
    assert [one.front.shown for one in kept.current] == [602] and len(kept.rows) == 3


def test_a_second_marking_comes_second_whatever_the_clock_says(tmp_path, clock):
    work = Marking(tmp_path)
    first = work.desk.mark("Week 3")[1]
    os.utime(first, (2**31 - 1,) * 2)
    work.students[1].check("front_gain", "5 kg")
    for path in work.desk.came_back_folder(WEEK).iterdir():
        os.utime(path, (10**8,) * 2)
    _, second = work.desk.mark("Week 3")
    assert (first.name, second.name) == ("01", "02") and (first / "marks.csv").read_bytes() != (
        second / "marks.csv"
    ).read_bytes()
    assert work.desk.with_names("Week 3")[0].name == "Week_3_02_with_names.csv"
    assert work.desk.mark("Week 3")[1] == second, "the same again is no third"


# --- files made to be slow
# ---------------------------------------------------------------------------------------------

SLOW = "sqrt({0}+1)" + "*sqrt({0}+0.1)" * 12  # {0}: the first letter of the problem


def hostile(ticket, count=2_000):
    """An answer file of so many tries at every item in turn; the first try at each is right."""
    items, body = ticket.assignment.items, []
    for n in range(count):
        item, number = items[n % len(items)], n // len(items) + 1
        problem = marking.homework.problem_for(ticket, item, 1)
        body.append(
            line(
                Answer(
                    item.name,
                    number,
                    "",
                    SLOW.format(next(iter(problem.given))) if number > 1 else right(problem),
                )
            )
        )
    return answer_text(ticket, body)


def formulas():
    return [kind.name for kind in exercises.problems() if kind.style == "symbol"]


@pytest.fixture
def worked(monkeypatch):
    """Every answer that is worked out."""
    seen, real = [], student.checked
    monkeypatch.setattr(
        student,
        "checked",
        lambda ticket, item, answer, last="": (
            seen.append((item.name, answer.number)) or real(ticket, item, answer, last)
        ),
    )
    return seen


def test_a_file_made_to_be_slow_costs_a_bounded_part_and_the_instructor_is_told(
    tmp_path, worked, monkeypatch
):
    week = Assignment("Week 3", [*(formulas() * 2)[:12], "front_gain"])
    ticket, honest = (ticket_of(code, week) for code in demo_codes(2))
    (tmp_path / "slow.answers.txt").write_text(hostile(ticket), "utf-8")
    home = Homework(honest, tmp_path)
    home.check("front_gain", right(home.problem("front_gain")))
    result = mark_folder(tmp_path, DEMO_KEY, assignment=week)
    first = {(item.name, 1) for item in week.items}
    cost = [name for name, _ in worked if not name.startswith("front_gain")]
    assert len(cost) == student.MOST_FORMULAS and first <= set(worked), "first tries first"
    row = {one.code: one for one in result.marks}
    assert row[ticket.code].score == 13, "what was right before the bound is right"
    cut = len([1 for n in range(2_000) if n % 13 < 12]) - student.MOST_FORMULAS
    assert (
        row[ticket.code].notes[0].startswith(f"{cut} of 2000 answers not worked out")
        and "look at this file" in row[ticket.code].notes[0]
    )
    assert row[honest.code].score == 1 and not row[honest.code].notes
    assert any(
        shown_code(ticket.code) in note and shown_code(honest.code) not in note
        for note in result.notes
    )
    monkeypatch.setattr(student, "MOST_FORMULAS", 30)
    again = [mark_folder(tmp_path, DEMO_KEY, assignment=week) for _ in range(2)]
    assert again[0] == again[1], "the same marks on a slow machine and on a fast one"


def test_many_files_of_one_code_share_one_bound_and_the_shortest_comes_first(tmp_path, worked):
    """Nine files of two hundred formulas each under the code of a student who has one of
    everything.
    """
    week = Assignment("Week 3", [formulas()[0], "front_gain"])
    ticket = ticket_of(CODE, week)
    (tmp_path / "own.answers.txt").write_text(hostile(ticket, 2), "utf-8")
    letter = next(iter(marking.homework.problem_for(ticket, week.items[0], 1).given))
    for part in range(9):
        body = [
            line(Answer(week.items[0].name, n, "", f"{part}.{n}*{letter}")) for n in range(1, 201)
        ]
        (tmp_path / f"{part}.answers.txt").write_text(answer_text(ticket, body), "utf-8")
    result = mark_folder(tmp_path, DEMO_KEY, assignment=week)
    cost = [name for name, _ in worked if name != "front_gain"]
    assert len(cost) == student.FILES_WORTH * student.MOST_FORMULAS
    assert result.marks[0].score == 2
    assert next(one.right for one in result.marks[0].files if one.file == "own.answers.txt") == 2
    assert any("not worked out" in note for one in result.marks[0].files for note in one.notes)


def test_one_file_has_its_own_bound(tmp_path, worked):
    week = Assignment("Week 3", ["front_gain"] * 40)
    ticket = ticket_of(CODE, week)
    body = [
        line(Answer(item.name, number, "", f"{number} kg"))
        for number in range(1, 51)
        for item in week.items
    ]
    for part in range(2):
        (tmp_path / f"{part}.answers.txt").write_text(answer_text(ticket, body), "utf-8")
    mark_folder(tmp_path, DEMO_KEY, assignment=week)
    # The same answers in two files cost once.
    assert len(worked) == student.MOST_WORKED == len(body)


@pytest.mark.parametrize("kinds, tries", [("formulas", 5), ("numbers", 20)])
def test_nobody_who_only_tries_hard_is_cut_short(tmp_path, kinds, tries):
    """A hundred problems, each tried as often as that."""
    names = formulas() if kinds == "formulas" else ["front_gain"]
    week = Assignment("Week 3", (names * 100)[:100])
    answers = [
        Answer(item.name, number, "", "W") for item in week.items for number in range(1, tries + 1)
    ]
    kept = student.Budget(ticket_of(CODE, week)).affordable(answers)
    assert len(kept) == len(answers) == 100 * tries
