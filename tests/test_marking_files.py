"""The answer file loses nothing, by a kill or by two windows, and is read with care."""

import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from class_files import answer_text, demo_codes, lines, right, ticket_of

from leverarm.marking import (
    Assignment,
    Homework,
    Ticket,
    answer_file,
    files_beside,
    homework,
    write_ticket,
)
from leverarm.marking import answer_file as paper
from leverarm.marking.assignment import Unfit, file_text, read_assignment, read_ticket
from leverarm.marking.codes import proof
from leverarm.quantities import Refusal

KINDS = ["front_gain", "rear_change", "total_change", "front_gain"]
WEEK = Assignment("Week 3", KINDS, due="2031-03-14")
CODE = demo_codes(1)[0]
TICKET = ticket_of(CODE, WEEK)


def typed_right(home, name):
    return right(home.problem(name))


# Assignment and ticket ------------------------------------------------------------------------


def test_an_assignment_and_a_ticket_come_back_from_their_files():
    assert read_assignment(file_text(WEEK).encode()) == WEEK
    assert read_ticket(file_text(TICKET).encode()) == TICKET
    assert read_ticket(file_text(TICKET).encode("utf-16")) == TICKET


def test_a_kind_that_stands_twice_gets_numbers_of_its_own():
    assert [item.name for item in WEEK.items] == [
        "front_gain",
        "rear_change",
        "total_change",
        "front_gain.2",
    ]
    assert (
        homework.problem_for(TICKET, WEEK.items[0], 1).given
        != homework.problem_for(TICKET, WEEK.items[3], 1).given
    )


@pytest.mark.parametrize(
    "told, says",
    [
        ({"kinds": []}, "1 to 100"),
        ({"kinds": ["nothing"]}, "problems"),
        ({"kinds": "front_gain"}, "list of names"),
        ({"kinds": KINDS * 30}, "1 to 100"),
        ({"tries": -1}, "0 to 200"),
        ({"tries": True}, "0 to 200"),
        ({"tolerance": 0}, "0.1 to 5"),
        ({"tolerance": float("nan")}, "0.1 to 5"),
        ({"hints": 5}, "0 to 4"),
        ({"due": "soon"}, "2031-03-14"),
        ({"due": 7}, "2031-03-14"),
        ({"system": "stone"}, "kg, lb"),
        ({"name": "a/b"}, "plain letters"),
    ],
)
def test_a_strange_assignment_is_refused(told, says):
    with pytest.raises(Refusal, match=says):
        Assignment(**{"name": "Week 3", "kinds": KINDS} | told)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\0" * 50,
        b"[]",
        b"{}",
        b"null",
        b"[" * 5000,
        b'{"lever-arm assignment": 2, "name": "x"}',
        b"x" * 200_000,
        b'{"lever-arm assignment": 1}',
        b'{"lever-arm assignment": 1, "name": "Week 3", "kinds": {"a": 1}}',
        b'{"lever-arm assignment": 1, "name": "Week 3", "kinds": ["front_gain"], "tries": NaN}',
    ],
)
def test_a_strange_assignment_file_is_refused_in_a_sentence(data):
    with pytest.raises((Unfit, Refusal)):
        read_assignment(data)


def test_a_ticket_with_the_key_of_another_is_refused():
    other = ticket_of(demo_codes(2)[1], WEEK)
    with pytest.raises(Refusal):
        Ticket(CODE, other.key, WEEK)


def test_a_folder_is_searched_for_tickets_and_assignments(tmp_path):
    (tmp_path / "Week_3.assignment (1).txt").write_text(file_text(WEEK))
    (tmp_path / "broken.ticket.txt").write_text("{")
    (tmp_path / "notes.txt").write_text("milk, eggs")
    found = files_beside(tmp_path)
    assert (
        found.assignments == (WEEK,)
        and not found.tickets
        and found.notes[0].startswith("broken.ticket.txt: ")
    )
    write_ticket(TICKET, tmp_path)
    assert files_beside(tmp_path).tickets == (TICKET,)


# The answer file ----------------------------------------------------------------------------


def test_the_documented_example_is_what_is_written():
    example = [row.strip() for row in paper.__doc__.splitlines() if row.strip().startswith("{")]
    head, one = map(json.loads, example)
    assert list(head) == list(json.loads(paper.header("Week 3", "K7MPTDC", "x", "y")))
    assert list(one) == list(json.loads(paper.line(paper.Answer("a", 1, "", "b"))))


def test_an_answer_file_comes_back_whole(tmp_path):
    home = Homework(TICKET, tmp_path)
    typed = typed_right(home, "front_gain")
    assert home.check("front_gain", typed, hints=2, seconds=85.4).right
    found = paper.read_answers(home.path.read_bytes())
    assert (found.code, found.assignment, found.proof, found.notes) == (
        CODE,
        "Week 3",
        proof(TICKET.key),
        (),
    )
    given = homework.given_text(home.problem("front_gain", 1))
    read = found.answers[0].read
    assert found.answers == (paper.Answer("front_gain", 1, given, typed, read, 2, 85),) and read


def test_nothing_of_the_person_or_the_machine_is_in_the_file(tmp_path):
    home = Homework(TICKET, tmp_path)
    home.check("front_gain", "1")
    written = home.path.read_text("ascii").lower()
    import getpass
    import platform

    for word in (
        getpass.getuser(),
        platform.node(),
        str(tmp_path),
        tmp_path.name,
        "/",
        "\\\\",
        TICKET.key.lower(),
    ):
        assert word.lower() not in re.sub(r'"(given|typed|read)": "[^"]*"', "", written), word
    assert not re.search(r"20\d\d-\d\d", written), "no date"


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32"]
)
@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
def test_any_editor_may_have_saved_it(encoding, ends):
    body = [paper.line(paper.Answer("front_gain", n, "W 110 kg", "−82,7 “kg”")) for n in (1, 2)]
    data = answer_text(TICKET, body).replace("\n", ends).encode(encoding)
    assert [one.typed for one in paper.read_answers(data).answers] == ["−82,7 “kg”"] * 2


def test_smart_quotes_and_lower_case_codes_are_read():
    data = answer_text(TICKET, [paper.line(paper.Answer("front_gain", 1, "", "190 kg"))])
    found = paper.read_answers(data.replace('"', "”").replace(CODE, CODE.lower()).encode())
    assert found.code == CODE and found.answers[0].typed == "190 kg"


@pytest.mark.parametrize(
    "data, says",
    [
        (b"", "empty"),
        (b"\0\0\0\n", "empty"),
        (b"hello", "not an answer file"),
        (b"x" * 1_000_001, "larger than 1 MB"),
        (b'{"lever-arm answers": 1, "assig', "first line is damaged"),
        (b'{"lever-arm answers": 2}', "newer workbook"),
        (b'{"lever-arm answers": true, "code": "K7MPTDC"}', "newer workbook"),
        (b'{"lever-arm answers": 1, "assignment": "Week 3", "code": "K7MPTDD"}', "code is no code"),
        (b'{"lever-arm answers": 1, "assignment": 3, "code": "K7MPTDC"}', "assignment is missing"),
        (file_text(TICKET).replace("\n", "").encode(), "a ticket or an assignment"),
    ],
)
def test_what_is_no_answer_file_is_named(data, says):
    with pytest.raises(Unfit, match=says):
        paper.read_answers(data)


@pytest.mark.parametrize(
    "field, value",
    [
        ("item", 3),
        ("item", "x" * 81),
        ("try", 0),
        ("try", 201),
        ("try", True),
        ("try", 1.0),
        ("try", None),
        ("typed", None),
        ("typed", "x" * 601),
        ("typed", ["190"]),
        ("hints", 9),
        ("seconds", -1),
        ("seconds", 10**9),
        ("given", {"W": 1}),
    ],
)
def test_a_line_with_a_strange_value_is_left_out_and_counted(field, value):
    good = json.loads(paper.line(paper.Answer("front_gain", 1, "", "190 kg")))
    data = answer_text(TICKET, [json.dumps(good | {field: value}), json.dumps(good)]).encode()
    found = paper.read_answers(data)
    assert len(found.answers) == 1 and found.notes == ("1 of 2 lines could not be read",)


@pytest.mark.parametrize(
    "line",
    [
        "[" * 5000,
        '{"a":' * 30,
        "NaN",
        '{"item": NaN}',
        '{"item": Infinity}',
        "x" * 7000,
        "1" * 5000,
        '{"item": "front_gain", "try": 1, "typed": "\\ud800"}',
        "null",
        '"x"',
    ],
)
def test_hostile_lines_cost_one_line_and_no_time(line):
    start = time.perf_counter()
    found = paper.read_answers(
        answer_text(
            TICKET, [line, paper.line(paper.Answer("front_gain", 2, "", "190 kg"))]
        ).encode()
    )
    assert found.answers[-1].number == 2 and time.perf_counter() - start < 1
    json.dumps([one.typed for one in found.answers], ensure_ascii=False).encode("utf-8")


def test_nesting_never_reaches_the_parser():
    with pytest.raises(Unfit, match="too deep"):
        paper.record("[" * 41)


# Where a student is -------------------------------------------------------------------------


def test_a_wrong_answer_brings_new_numbers_and_a_right_one_moves_on(tmp_path):
    home = Homework(TICKET, tmp_path)
    first = home.problem("front_gain")
    assert not home.check("front_gain", "1 kg").right
    assert home.number("front_gain") == 2 and home.problem("front_gain").given != first.given
    assert home.problem("front_gain", 1) == first, "the first numbers can be looked at again"
    assert home.check("front_gain", typed_right(home, "front_gain")).right
    assert home.standing("front_gain").right and home.standing("front_gain").tries == 2
    assert home.first_open().name == "rear_change"


def test_what_cannot_be_read_is_no_try(tmp_path):
    home = Homework(TICKET, tmp_path)
    for typed in ("", "no idea", "9**9**9", "__import__('os')", "(" * 500):
        assert not home.check("front_gain", typed).counts
    assert home.number("front_gain") == 1 and not home.path.exists()
    with pytest.raises(Refusal):
        home.check("front_gain", "1" * 601)


def test_a_closed_notebook_takes_up_where_it_was(tmp_path):
    home = Homework(TICKET, tmp_path)
    home.check("front_gain", typed_right(home, "front_gain"))
    home.check("rear_change", "5 kg")
    again = Homework(TICKET, tmp_path)
    assert again.first_open().name == "rear_change" and again.number("rear_change") == 2
    assert again.verdict("front_gain", 1).right and again.problem("rear_change") == home.problem(
        "rear_change"
    )


def test_no_try_is_left_once_the_tries_are_used(tmp_path):
    home = Homework(ticket_of(CODE, Assignment("Week 3", KINDS, tries=2)), tmp_path)
    for _ in range(2):
        home.check("front_gain", "1 kg")
    assert not home.standing("front_gain").open and home.first_open().name == "rear_change"


def test_two_windows_on_one_file_lose_nothing(tmp_path):
    one, other = Homework(TICKET, tmp_path), Homework(TICKET, tmp_path)
    one.check("front_gain", "1 kg")
    other.check("rear_change", "2 kg")
    one.check("total_change", "3 kg")
    kept = paper.read_answers(one.path.read_bytes()).answers
    assert [answer.typed for answer in kept] == ["1 kg", "2 kg", "3 kg"]
    assert Homework(TICKET, tmp_path).number("rear_change") == one.number("rear_change") == 2


def test_two_windows_on_one_try_keep_both_and_the_first_counts(tmp_path):
    one, other = Homework(TICKET, tmp_path), Homework(TICKET, tmp_path)
    typed = right(one.problem("front_gain"))
    one.check("front_gain", "1 kg", number=1)
    other.check("front_gain", typed, number=1)
    assert len(paper.read_answers(one.path.read_bytes()).answers) == 2
    assert not other.was_first("front_gain", 1, typed) and not other.standing("front_gain").right
    assert other.number("front_gain") == 2


_WRITER = (
    f"KINDS = {KINDS!r}"
    + """
import sys
sys.path.insert(0, sys.argv[3])
from class_files import ticket_of
from leverarm.marking import Assignment, Homework
home = Homework(ticket_of(sys.argv[2], Assignment("Week 3", KINDS, due="2031-03-14")), sys.argv[1])
print("ready", flush=True)
sys.stdin.readline()
for number in range(int(sys.argv[4])):
    home.check("front_gain", f"{sys.argv[5]}{number + 1} kg")
    print(number, flush=True)
"""
)


def writer(folder, count, mark):
    return subprocess.Popen(
        [
            sys.executable,
            "-c",
            _WRITER,
            str(folder),
            CODE,
            str(Path(__file__).parent),
            str(count),
            str(mark),
        ],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )


def test_two_programs_writing_at_once_lose_nothing(tmp_path):
    both = [writer(tmp_path, 25, mark) for mark in (1, 2)]
    for one in both:
        assert one.stdout.readline() == "ready\n"
    for one in both:
        one.stdin.write("\n")
        one.stdin.flush()
    for one in both:
        one.communicate(timeout=120)
        assert one.returncode == 0
    kept = [
        answer.typed
        for answer in paper.read_answers(Homework(TICKET, tmp_path).path.read_bytes()).answers
    ]
    assert sorted(kept) == sorted(f"{mark}{n} kg" for mark in (1, 2) for n in range(1, 26))


@pytest.mark.skipif(os.name == "nt", reason="a kill of this kind is POSIX")
def test_a_kill_in_the_middle_of_writing_loses_nothing_that_was_shown(tmp_path):
    """Killed at five moments; after each the file is whole and holds every reported answer."""
    reported = 0
    for moment in range(5):
        one = writer(tmp_path, 1000, 7)
        assert one.stdout.readline() == "ready\n"
        one.stdin.write("\n")
        one.stdin.flush()
        for _ in range(3):
            one.stdout.readline()
        time.sleep(0.006 * moment)
        one.send_signal(signal.SIGKILL)
        rest = one.stdout.read().split()
        one.wait()
        one.stdin.close()
        one.stdout.close()
        reported += 3 + len([word for word in rest if word.isdigit()])
        for lock in tmp_path.glob(".*.lock"):
            os.utime(lock, (0, 0))
        found = paper.read_answers((tmp_path / f"{TICKET.stem}.answers.txt").read_bytes())
        assert not found.notes and len(found.answers) >= reported
        reported = len(found.answers)


def test_a_truncated_file_is_mended_from_the_version_before(tmp_path):
    home = Homework(TICKET, tmp_path)
    for typed in ("1 kg", "2 kg", "3 kg"):
        home.check("front_gain", typed)
    whole = home.path.read_bytes()
    home.path.write_bytes(whole[: len(whole) // 2])
    again = Homework(TICKET, tmp_path)
    assert again.number("front_gain") >= 3
    again.check("rear_change", "5 kg")
    kept = [answer.typed for answer in paper.read_answers(home.path.read_bytes()).answers]
    assert kept[-1] == "5 kg" and {"1 kg", "2 kg"} <= set(kept)


def test_a_file_that_went_away_comes_back_with_the_next_check(tmp_path):
    home = Homework(TICKET, tmp_path)
    home.check("front_gain", "1 kg")
    home.path.unlink()
    home.check("front_gain", "2 kg")
    assert [answer.typed for answer in paper.read_answers(home.path.read_bytes()).answers] == [
        "1 kg",
        "2 kg",
    ]


def test_a_folder_that_takes_no_file_is_said_and_the_answer_can_be_checked_again(
    tmp_path, monkeypatch
):
    home = Homework(TICKET, tmp_path)

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refusal, match="disk is full; make room, then check it again"):
        home.check("front_gain", "1 kg")
    monkeypatch.undo()
    home.check("front_gain", "1 kg")
    assert len(paper.read_answers(home.path.read_bytes()).answers) == 1
    assert not list(tmp_path.glob(".new-*"))


def test_a_file_that_another_program_holds_gets_a_neighbor(tmp_path, monkeypatch):
    home, moved = Homework(TICKET, tmp_path), os.replace

    def held(source, target):
        if Path(target) == home.path:
            raise PermissionError(13, "held open")
        return moved(source, target)

    monkeypatch.setattr(os, "replace", held)
    home.check("front_gain", "1 kg")
    beside = answer_file.aside(home.path)
    assert not home.path.exists() and len(paper.read_answers(beside.read_bytes()).answers) == 1
    monkeypatch.undo()
    again = Homework(TICKET, tmp_path)
    assert again.number("front_gain") == 2
    again.check("front_gain", "2 kg")
    assert [answer.typed for answer in paper.read_answers(home.path.read_bytes()).answers] == [
        "1 kg",
        "2 kg",
    ]


def test_a_stale_lock_is_broken(tmp_path):
    home = Homework(TICKET, tmp_path)
    lock = tmp_path / f".{home.path.name}.lock"
    lock.touch()
    os.utime(lock, (0, 0))
    start = time.perf_counter()
    home.check("front_gain", "1 kg")
    assert time.perf_counter() - start < 2 and not lock.exists()


def test_every_line_of_an_unknown_kind_stays_in_the_file(tmp_path):
    home = Homework(TICKET, tmp_path)
    home.check("front_gain", "1 kg")
    with open(home.path, "a") as file:
        file.write("a line from a later version\n")
    Homework(TICKET, tmp_path).check("front_gain", "2 kg")
    assert "a line from a later version" in home.path.read_text()


def test_the_numbers_are_those_of_the_answer_file_whoever_makes_it(tmp_path):
    """What the class key gives, what the ticket gives and what a later Python gives is the same."""
    rows = list(lines(TICKET, 2, __import__("random").Random(1)))
    home = Homework(TICKET, tmp_path)
    for row in rows:
        found = json.loads(row)
        assert found["given"] == homework.given_text(home.problem(found["item"], found["try"]))
