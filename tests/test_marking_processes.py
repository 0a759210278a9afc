"""Marking in several processes: the marks of one, whatever comes back and whatever dies."""

import multiprocessing
import os
import random
import signal
import subprocess
import sys
import time
import zipfile
from functools import partial
from pathlib import Path

import pytest
from class_files import answer_text, demo_codes, lines, mutated, ticket_of, write_class
from test_faults import SLOW

from leverarm import exercises
from leverarm.marking import Assignment, Desk, mark, mark_folder, processes, processors, student
from leverarm.marking.answer_file import Answer, line
from leverarm.marking.codes import DEMO_KEY
from leverarm.marking.homework import problem_for
from leverarm.marking.student import asks_formula
from leverarm.quantities import Refusal

TESTS = Path(__file__).parent
KINDS = [kind.name for kind in exercises.problems()][::9]
CODES = demo_codes(13)


@pytest.fixture(autouse=True)
def any_class_is_large(monkeypatch):
    monkeypatch.setattr(mark, "FEWEST_FOR_PROCESSES", 2)
    monkeypatch.setattr(processes, "BATCH", 3)


@pytest.fixture
def desk(tmp_path):
    """A class of 13 codes under the key that everybody knows."""
    made = Desk(tmp_path / "class")
    made.start(1)
    (made.private / "class_key.txt").write_text(DEMO_KEY)
    (made.private / "codes.csv").write_text("code\n" + "\n".join(CODES))
    return made


@pytest.fixture
def week(desk):
    """Everything that may come back: good, late, copied, forged, broken, zipped, on paper."""
    return came_back(desk, KINDS)


@pytest.fixture
def short(desk):
    """The same of two problems, where it is not about marks: each new process begins quicker."""
    return came_back(desk, KINDS[:2])


def came_back(desk, kinds):
    week = Assignment("Week 3", kinds, due="2031-03-14 17:00")
    desk.write_assignment(week)
    folder, rng = desk.came_back_folder(week), random.Random(3)
    tickets = {ticket.code: ticket for ticket in desk.tickets(week)}
    texts = {code: answer_text(one, lines(one, 2, rng)) for code, one in tickets.items()}
    good, copied, forged, swapped, broken, zipped, paper, *others = tickets
    for code in (good, copied, broken, *others):
        (folder / f"{code}.answers.txt").write_text(texts[code])
    (folder / f"{copied}-again.answers.txt").write_text(texts[copied])
    (folder / "forged.answers.txt").write_text(texts[good].replace(good, forged))
    (folder / f"{swapped}.answers.txt").write_text(texts[others[0]])
    for seed in range(6):
        data = mutated(texts[broken].encode(), seed)
        (folder / f"broken {seed}.answers.txt").write_bytes(data)
    (folder / "notes.docx").write_bytes(b"PK\3\4 of a word processor")
    with zipfile.ZipFile(folder / "sent.zip", "w") as pack:
        pack.writestr(f"{zipped}.answers.txt", texts[zipped])
        pack.writestr(f"{good}.answers.txt", texts[good])
    desk.paper_list(week).enter(paper, {1: "12 kg", 2: "3 kg"})
    for number, path in enumerate(sorted(folder.iterdir())):
        os.utime(path, (1_925_000_000 + 10**6 * number,) * 2)
    return week


def made_slow(ticket):
    """An answer file of more formulas than are worked out, each made to be slow."""
    items = [item for item in ticket.assignment.items if asks_formula(item)]
    letters = {item.name: next(iter(problem_for(ticket, item, 1).given)) for item in items}
    return answer_text(
        ticket,
        [
            line(Answer(item.name, number, "", SLOW.format(letters[item.name])))
            for number in range(1, student.MOST_FORMULAS // len(items) + 5)
            for item in items
        ],
    )


def test_results_pages_and_sheets_are_those_of_one_process(desk, week):
    slow = made_slow(ticket_of(CODES[8], week))
    (desk.came_back_folder(week) / "slow.answers.txt").write_text(slow)
    one, folder = desk.mark("Week 3")
    many, same = desk.mark("Week 3", processes=2)
    # A marking that differed in a byte of any page or sheet would have a folder of its own.
    assert many == one and same == folder and folder.name == "01"
    assert len(list((folder / "hand_back").iterdir())) == one.handed_in >= 10
    assert one.skipped and one.teaching.slips and any(row.mistakes for row in one.items)
    assert {mark.late for mark in one.marks} >= {"late", "in time"}
    files = [file for row in one.marks for file in row.files]
    assert any("not worked out" in note for file in files for note in file.notes)


def test_a_zip_file_is_marked_so_too(desk, short, tmp_path):
    with zipfile.ZipFile(tmp_path / "all.zip", "w") as pack:
        for path in desk.came_back_folder(short).glob("*.txt"):
            pack.write(path, path.name)
    told = {"assignment": short, "codes": CODES, "received": ""}
    results = [mark_folder(tmp_path / "all.zip", DEMO_KEY, processes=n, **told) for n in (1, 2)]
    assert results[0] == results[1] and results[0].handed_in > 5


def test_joined_counts_are_those_of_one_after_another(desk, week, monkeypatch):
    """Whatever the batches: of one student, of all."""
    one = mark_folder(desk.came_back_folder(week), DEMO_KEY, assignment=week)
    for size in (1, 2, 100):
        monkeypatch.setattr(processes, "BATCH", size)
        # No process is started, so that the parts are joined here.
        monkeypatch.setattr(processes, "ProcessPoolExecutor", _no_processes)
        many = mark_folder(desk.came_back_folder(week), DEMO_KEY, assignment=week, processes=2)
        assert many == one


def _no_processes(*told):
    raise NotImplementedError("this system has no semaphores")


# What goes wrong -----------------------------------------------------------------------------


def die_at(code, once, student):
    """End the process at a student; once is a file that says it happened, "" for every time."""
    if student.ticket.code == code and not (once and Path(once).exists()):
        if once:
            Path(once).touch()
        os._exit(9)


def test_what_a_process_that_dies_had_in_hand_is_marked_again(desk, short, tmp_path):
    folder = desk.came_back_folder(short)
    one = mark_folder(folder, DEMO_KEY, assignment=short)
    each = partial(die_at, one.marks[4].code, str(tmp_path / "died"))
    many = mark_folder(folder, DEMO_KEY, assignment=short, processes=2, each=each)
    assert (tmp_path / "died").exists() and many == one


def test_a_code_that_always_ends_its_process_is_left_out_and_named(desk, short):
    folder = desk.came_back_folder(short)
    told = {"assignment": short, "codes": CODES}
    one = mark_folder(folder, DEMO_KEY, **told)
    fatal = next(row for row in one.marks if row.files and len(row.files) == 1)
    each = partial(die_at, fatal.code, "")
    many = mark_folder(folder, DEMO_KEY, processes=2, each=each, **told)
    left = {row.code: row for row in many.marks}
    assert left[fatal.code].score is None and left[fatal.code].notes[0] == mark.UNMARKED
    assert [row for row in one.marks if row.code != fatal.code] == [
        row for row in many.marks if row.code != fatal.code
    ]
    new = set(many.skipped) - set(one.skipped)
    assert {(row.file, row.reason) for row in new} == {(fatal.files[0].file, processes.DIED)}


def test_processes_that_keep_dying_end_in_one_sentence(desk, short, monkeypatch):
    monkeypatch.setattr(processes, "MOST_DEATHS", 1)
    folder, each = desk.came_back_folder(short), partial(die_at, CODES[0], "")
    monkeypatch.setattr(processes, "AHEAD", 1)
    with pytest.raises(Refusal, match="mark in one process"):
        mark_folder(folder, DEMO_KEY, assignment=short, processes=2, each=each)


def fail(student):
    raise OSError(28, "No space left on device")


def test_what_fails_in_a_process_is_told_and_nothing_is_left(desk, short, monkeypatch):
    monkeypatch.setattr("leverarm.marking.desk._write_page", lambda folder, student: fail(student))
    with pytest.raises(Refusal, match="a function of a module"):
        desk.mark("Week 3", processes=2)
    with pytest.raises(OSError, match="No space left"):
        folder = desk.came_back_folder(short)
        mark_folder(folder, DEMO_KEY, assignment=short, processes=2, each=fail)
    assert not list(desk.marked_folder(short).iterdir())


def fail_at(code, student):
    """Fail at one student, and be slow at all others."""
    if student.ticket.code == code:
        fail(student)
    time.sleep(0.3)


def test_no_process_is_left_once_marking_has_ended_or_failed(desk, short):
    folder = desk.came_back_folder(short)
    mark_folder(folder, DEMO_KEY, assignment=short, processes=2)
    assert multiprocessing.active_children() == []
    first = mark_folder(folder, DEMO_KEY, assignment=short).marks[0].code
    with pytest.raises(OSError, match="No space left"):
        each = partial(fail_at, first)
        mark_folder(folder, DEMO_KEY, assignment=short, processes=2, each=each)
    assert multiprocessing.active_children() == []


def test_a_function_without_a_name_is_refused_before_anything_starts(desk, short):
    with pytest.raises(Refusal, match="a function of a module"):
        folder = desk.came_back_folder(short)
        mark_folder(folder, DEMO_KEY, assignment=short, processes=2, each=lambda student: None)


def test_a_small_class_stays_in_one_process(desk, short, monkeypatch):
    monkeypatch.setattr(mark, "FEWEST_FOR_PROCESSES", 200)
    monkeypatch.setattr(processes, "ProcessPoolExecutor", _no_processes)
    seen = []
    mark_folder(
        desk.came_back_folder(short), DEMO_KEY, assignment=short, processes=8, each=seen.append
    )
    assert len(seen) > 5, "marked here, where a list can be added to"


def test_only_a_few_batches_are_in_hand_at_once(desk, short, monkeypatch):
    sent, most = [], [0]
    real_carried, real_join = processes._carried, mark.MarkedPart.join

    def carried(batch):
        sent.append(batch)
        most[0] = max(most[0], len(sent))
        return real_carried(batch)

    def join(whole, part):
        sent.pop()
        real_join(whole, part)

    monkeypatch.setattr(processes, "BATCH", 1)
    monkeypatch.setattr(processes, "_carried", carried)
    monkeypatch.setattr(mark.MarkedPart, "join", join)
    mark_folder(desk.came_back_folder(short), DEMO_KEY, assignment=short, processes=2)
    assert 2 <= most[0] <= 2 * processes.AHEAD


def test_there_is_a_process_for_each_processor_and_no_more_than_eight(monkeypatch):
    assert 1 <= processors() <= mark.MOST_PROCESSES == 8
    monkeypatch.setattr(sys, "platform", "emscripten")
    assert processors() == 1, "a browser has none to start"


def test_what_a_browser_lacks_is_not_imported_with_the_package():
    code = "import sys, leverarm.marking.desk; print('multiprocessing' in sys.modules)"
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "False"


# A whole program -----------------------------------------------------------------------------

PROGRAM = """
import sys, time
sys.path.insert(0, {tests!r})
from leverarm.marking import Desk, mark, mark_folder
from leverarm.marking.codes import DEMO_KEY
mark.FEWEST_FOR_PROCESSES = 2
def told(done, of):
    print(done, of, flush=True)
    time.sleep(0.3)  # so that there is time to stop it, however quick it has become
def main():
    print("begins", flush=True)
    desk = Desk({folder!r})
    desk.mark("Week 3", processes=2, progress=told)
    print("done", flush=True)
"""
GUARDED = PROGRAM + "if __name__ == '__main__':\n    main()\n"


def started(tmp_path, desk, program=GUARDED):
    path = tmp_path / "program.py"
    path.write_text(program.format(tests=str(TESTS), folder=str(desk.folder)))
    return subprocess.Popen(
        [sys.executable, str(path)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )


@pytest.fixture
def large(desk):
    """Enough to be stopped in the middle of it."""
    kinds = KINDS[:4]
    week = Assignment("Week 3", kinds)
    desk.write_assignment(week)
    write_class(desk.came_back_folder(week), 400, len(kinds), kinds=kinds)
    (desk.private / "codes.csv").write_text("code\n" + "\n".join(demo_codes(400)))
    return desk


def once_under_way(program):
    for told in program.stdout:
        if told.split()[0].isdecimal() and int(told.split()[0]) > 0:
            return
    raise AssertionError(program.stderr.read())


def alive(group):
    """Processes of a group that still run."""
    found = subprocess.run(
        ["ps", "-eo", "pgid,stat"], capture_output=True, text=True, check=True
    ).stdout.split("\n")[1:]
    rows = [row.split() for row in found if row]
    return [state for number, state in rows if int(number) == group and not state.startswith("Z")]


@pytest.mark.skipif(os.name == "nt", reason="signals to a group of processes are of POSIX")
@pytest.mark.parametrize("ended", ["SIGINT", "SIGKILL"])
def test_a_stopped_marking_leaves_no_process_and_no_page(large, tmp_path, ended):
    program = started(tmp_path, large)
    once_under_way(program)
    if ended == "SIGINT":  # Ctrl-C reaches all processes of a terminal
        os.killpg(program.pid, signal.SIGINT)
    else:  # the first process alone, which can tell the others nothing
        os.kill(program.pid, signal.SIGKILL)
    assert program.wait(60) != 0
    for _ in range(200):
        if not alive(program.pid):
            break
        time.sleep(0.1)
    assert alive(program.pid) == []
    said = program.stderr.read()
    if ended == "SIGINT":
        assert "KeyboardInterrupt" in said and said.count("Traceback") <= 2, said
        assert not list(large.marked_folder(large.assignment("Week 3")).iterdir())


def test_a_program_without_a_guard_is_marked_in_one_process(desk, short, tmp_path):
    """Each new process would run it again: none comes up, and the class is marked all the same."""
    program = started(tmp_path, desk, PROGRAM + "main()\n")
    said, _ = program.communicate(timeout=120)
    assert program.returncode == 0 and said.rstrip().endswith("done"), said
    assert desk.mark("Week 3")[1].name == "01"
