"""Marking answer files of 40 answers, two tries each: seconds for 10 to 1,000, memory, the floor.

The floor is ``json`` reading of the same lines and nothing else.  Wanted: 1,000 files
in under 60 s on one core, time in proportion to the number of files, memory flat.
The files are invented: a first try that is wrong in one of the usual ways, and a right second.
The same class is marked again with files among it that are made to be slow: as many
formulas as a file may hold, each the dearest we know.

    python tests/bench/bench_marking.py [result.json] [mutants] [pairs] [--quick]

``mutants`` marks 10,000 damaged files as well (a few minutes).  ``pairs`` marks 10,000 files in
one process and in two, in turn, and nothing else: wanted are 1.7 times the speed and the same
bytes.  On a busy computer the clock says little, so the work of the processors stands beside it:
what two free processors need at the least is half of all the work, or what one process did alone.
"""

import hashlib
import json
import os
import shutil
import sys
import tempfile
import time
import tracemalloc
from functools import partial
from pathlib import Path

sys.path.insert(1, str(Path(__file__).resolve().parents[1]))

from class_files import answer_text, mutated, ticket_of, write_class
from common import many, power, save, table, times, verdict, words

from leverarm.marking import Desk, mark_folder
from leverarm.marking.answer_file import MOST_ANSWERS, Answer, line
from leverarm.marking.assignment import MOST_TRIES
from leverarm.marking.codes import DEMO_KEY
from leverarm.marking.homework import problem_for
from leverarm.marking.student import CUT, asks_formula

ITEMS, SIZES, LIMIT_S = 40, many((10, 100, 1000), (5, 10, 20)), 60.0
WATCHED = many((50, 250), (5, 20))  # memory: watching it makes everything three times as slow
CODES, SLOW_FILES = SIZES[-1], many(20, 2)
SLOW = "sqrt({0}+1)" + "*sqrt({0}+0.1)" * 12  # {0}: the first letter of the problem


def floor(folder):
    """Read every line of every file as JSON and do nothing with it."""
    for path in folder.glob("*.answers.txt"):
        for row in path.read_text("utf-8").splitlines():
            json.loads(row)


def peak(call):
    """The most memory in MB that Python held during a call."""
    tracemalloc.start()
    call()
    most = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    return most


def some(whole, size, scratch):
    """A folder of so many files."""
    folder = scratch / str(size)
    folder.mkdir(exist_ok=True)
    for path in sorted(whole.glob("*.answers.txt"))[:size]:
        shutil.copy(path, folder)
    return folder


def measure(whole, assignment, size, scratch):
    """Seconds, floor and answers a second for so many files."""
    folder = some(whole, size, scratch)
    repeat, busy = (3 if size < SIZES[-1] else 1), time.process_time()
    seconds = min(times(lambda: mark_folder(folder, DEMO_KEY, assignment=assignment), repeat))
    cpu = (time.process_time() - busy) / repeat
    return {
        "files": size,
        "seconds": seconds,
        "cpu": cpu,
        "floor": min(times(lambda: floor(folder), 3)),
        "per_answer_ms": 1e3 * cpu / size / ITEMS / 2,
    }


def whole_desk(whole, assignment, scratch):
    """Seconds for the desk with all its sheets and pages, and the progress seen."""
    desk, seen = Desk(scratch / "class"), []
    desk.start(1)
    (desk.private / "class_key.txt").write_text(DEMO_KEY)
    (desk.private / "codes.csv").write_text(
        "code\n" + "\n".join(p.name.split("-")[1][:7] for p in whole.glob("*.answers.txt"))
    )
    out = desk.hand_out_folder(assignment)
    out.mkdir(parents=True)
    from leverarm.marking.assignment import file_text

    (out / "x.assignment.txt").write_text(file_text(assignment))
    start, busy = time.perf_counter(), time.process_time()
    desk.mark(assignment.name, whole, progress=lambda done, of: seen.append(done))
    return time.perf_counter() - start, time.process_time() - busy, len(seen)


def slowed(whole, assignment, scratch):
    """The class with files made to be slow: seconds of this program, files cut short."""
    folder = scratch / "slowed"
    shutil.copytree(whole, folder)
    formulas = [item for item in assignment.items if asks_formula(item)]
    for path in sorted(folder.glob("*.answers.txt"))[:SLOW_FILES]:
        ticket = ticket_of(path.name.split("-")[1][:7], assignment)
        slow = {
            item.name: SLOW.format(next(iter(problem_for(ticket, item, 1).given)))
            for item in formulas
        }
        tries = [(item.name, 1 + n) for n in range(MOST_TRIES) for item in formulas][:MOST_ANSWERS]
        path.write_text(
            answer_text(
                ticket, [line(Answer(name, number, "", slow[name])) for name, number in tries]
            ),
            "utf-8",
        )
    busy = time.process_time()
    result = mark_folder(folder, DEMO_KEY, assignment=assignment)
    return time.process_time() - busy, sum(
        any(CUT in note for one in mark.files for note in one.notes) for mark in result.marks
    )


def fuzz(whole, assignment, scratch, count=10_000, batch=500):
    """Mark so many damaged files; every one must be marked, or listed with a reason."""
    good, marked, listed, failed = sorted(whole.glob("*.answers.txt"))[:batch], 0, 0, 0
    start = time.perf_counter()
    for first in range(0, count, batch):
        folder = scratch / f"fuzz{first}"
        folder.mkdir()
        for number in range(first, first + batch):
            (folder / f"{number}.txt").write_bytes(
                mutated(good[number % batch].read_bytes(), number)
            )
        result = mark_folder(folder, DEMO_KEY, assignment=assignment)
        marked, listed = marked + len(result.marks), listed + len(result.skipped)
        failed += sum(
            "could not be checked" in note for mark in result.marks for note in mark.notes
        )
        shutil.rmtree(folder)
    print(
        f"  {count} damaged files: {marked} marked, {listed} listed, "
        f"{count - marked - listed} without a row, {failed} failed checks"
    )
    return {
        "files": count,
        "seconds": time.perf_counter() - start,
        "marked": marked,
        "listed": listed,
        "failed": failed,
    }


def digest(folder):
    """One fingerprint for all files of a folder."""
    found = hashlib.sha256()
    for path in sorted(folder.iterdir()):
        found.update(path.name.encode() + path.read_bytes())
    return found.hexdigest()


def run_with(whole, assignment, scratch, processes):
    """Seconds, seconds of this process and of the others, and what came of it."""
    import resource

    from leverarm.marking import results
    from leverarm.marking.desk import _write_page

    pages = Path(tempfile.mkdtemp(dir=scratch))
    before, start = os.times(), time.perf_counter()
    result = mark_folder(
        *(whole, DEMO_KEY),
        assignment=assignment,
        each=partial(_write_page, pages),
        processes=processes,
    )
    seconds, after = time.perf_counter() - start, os.times()
    results.write_sheets(result, pages)
    row = {
        "processes": processes,
        "seconds": seconds,
        "own": after.user + after.system - before.user - before.system,
        "others": (after.children_user + after.children_system)
        - (before.children_user + before.children_system),
        "load": os.getloadavg()[0],
        "largest_mb": max(
            resource.getrusage(who).ru_maxrss / 1000
            for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
        ),
    }
    made = digest(pages)
    shutil.rmtree(pages)
    return row, made, result


def pairs(scratch):
    """Ten thousand files in one process and in two."""
    whole = scratch / "many"
    kinds = ["front_gain", "rear_change", "total_change"]
    assignment = write_class(whole, many(10_000, 400), 3, tries=2, kinds=kinds)
    found = [
        run_with(whole, assignment, scratch, number) for _ in range(many(2, 1)) for number in (1, 2)
    ]
    rows, made, results = zip(*found)
    assert len(set(made)) == 1 and all(one == results[0] for one in results), "the same to the byte"
    table(
        f"{len(results[0].marks):,} files, in turn",
        ("processes", "s", "this process, s of work", "the others", "load", "largest, MB"),
        [(row["processes"], *(f"{value:.1f}" for value in list(row.values())[1:])) for row in rows],
    )
    ones, twos = ([row for row in rows if row["processes"] == n] for n in (1, 2))
    clock = min(row["seconds"] for row in ones) / min(row["seconds"] for row in twos)
    work = min(row["own"] for row in ones) / min(
        max((row["own"] + row["others"]) / 2, row["own"], row["others"] / 2) for row in twos
    )
    verdict("two processes against one, by the clock", clock, 1.7, at_most=False)
    verdict("two processes against one, by the processors' work", work, 1.7, at_most=False)
    return {"rows": rows, "clock": clock, "work": work}


def main():
    scratch = Path(tempfile.mkdtemp())
    if "pairs" in words():
        found = pairs(scratch)
        shutil.rmtree(scratch)
        save("bench_marking", {"pairs": found})
        return
    whole = scratch / "all"
    assignment = write_class(whole, CODES, ITEMS, tries=2)
    rows = [measure(whole, assignment, size, scratch) for size in SIZES]
    table(
        "Marking a folder, one core",
        ("files", "s", "of it this program", "ms an answer", "floor s", "times the floor"),
        [
            (
                r["files"],
                f"{r['seconds']:.2f}",
                f"{r['cpu']:.2f}",
                f"{r['per_answer_ms']:.3f}",
                f"{r['floor']:.3f}",
                f"{r['cpu'] / r['floor']:.0f}",
            )
            for r in rows
        ],
    )
    memory = {
        size: peak(partial(mark_folder, folder, DEMO_KEY, assignment=assignment))
        for size, folder in ((size, some(whole, size, scratch)) for size in WATCHED)
    }
    slow_s, cut = slowed(whole, assignment, scratch)
    desk_s, desk_cpu, seen = whole_desk(whole, assignment, scratch)
    table(
        "The whole class",
        ("what", "s of this program", "more"),
        [
            (
                "marked",
                f"{rows[-1]['cpu']:.1f}",
                "peak memory, MB: "
                + ", ".join(f"{mb:.1f} for {size}" for size, mb in memory.items()),
            ),
            (
                f"with {SLOW_FILES} files made to be slow",
                f"{slow_s:.1f}",
                f"{cut} cut short, and said so",
            ),
            (
                "the desk with all its pages",
                f"{desk_cpu:.1f}",
                f"{desk_s:.1f} s on the clock, {seen} steps of progress",
            ),
        ],
    )
    verdict(f"{CODES:,} files, seconds on the clock", rows[-1]["seconds"], LIMIT_S)
    verdict(f"{CODES:,} files, seconds of one processor", rows[-1]["cpu"], LIMIT_S)
    verdict(
        "power of growth with the files", power(SIZES[1:], [row["cpu"] for row in rows[1:]]), 1.1
    )
    verdict(
        "memory for each further file, kB",
        1000 * (memory[WATCHED[-1]] - memory[WATCHED[0]]) / (WATCHED[-1] - WATCHED[0]),
        5,
    )
    verdict(
        "seconds more for each file made to be slow", (slow_s - rows[-1]["cpu"]) / SLOW_FILES, 5
    )
    record = {
        "rows": rows,
        "memory_mb": memory,
        "desk_s": desk_s,
        "desk_cpu_s": desk_cpu,
        "slowed_s": slow_s,
        "cut": cut,
    }
    if "mutants" in words():
        record["fuzz"] = fuzz(whole, assignment, scratch)
    shutil.rmtree(scratch)
    save("bench_marking", record)


if __name__ == "__main__":
    main()
