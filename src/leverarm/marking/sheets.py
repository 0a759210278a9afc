"""The mark sheets as CSV files, in numbered folders, so that an earlier sheet is never overwritten.

UTF-8 with a byte order mark, comma, point decimal, one row a student.  A cell that
a spreadsheet would run as a formula gets an apostrophe before it.
"""

import filecmp
import os
import re
import shutil
import tempfile
from contextlib import contextmanager, suppress
from pathlib import Path

from leverarm.files import abandoned_files, write_whole
from leverarm.tables import csv_bytes

_NUMBERED = re.compile(r"[0-9]{2,4}")


def marks_rows(result):
    """One row a student: code, score, out of, tries, late, each problem (1 right, 0 not yet, empty not answered), notes."""
    items = [item.name for item in result.assignment.items]
    yield ["code", "score", "out_of", "tries", "late", *items, "notes"]
    for mark in result.marks:
        yield [
            mark.code,
            mark.score,
            mark.out_of,
            mark.tries,
            mark.late,
            *(mark.items[name] for name in items),
            ", ".join(mark.notes),
        ]


def items_rows(result):
    """One row a problem."""
    yield [
        "problem",
        "item",
        "title",
        "lesson",
        "answered",
        "omitted",
        "right_first_try",
        "right_in_the_end",
        "share_first_try",
        "facility",
        "median_tries",
        "wrong_turns",
        "advice",
    ]
    for at, row in enumerate(result.items, 1):
        turns = ", ".join(turn.words for turn in row.turns[:3])
        yield [
            at,
            row.item.name,
            row.title,
            row.lesson,
            row.answered,
            row.omitted,
            row.first,
            row.right,
            _share(row.first_share),
            _share(row.facility),
            row.tries,
            turns,
            row.advice,
        ]


def _share(share):
    return None if share is None else f"{share:.3f}"


def turns_rows(result):
    """One row a wrong turn, the most frequent first."""
    yield [
        "item",
        "title",
        "lesson",
        "wrong_turn",
        "students",
        "of_them_perhaps_another",
        "answered",
        "question_to_ask",
    ]
    for row in result.turns:
        yield [
            row.item.name,
            row.title,
            row.lesson,
            row.what,
            row.students,
            row.maybe,
            row.answered,
            row.ask,
        ]


def skipped_rows(result):
    """One row a file that was not marked."""
    yield ["file", "reason"]
    yield from ([one.file, one.reason] for one in result.skipped)


def files_rows(result):
    """One row a file, for every code under which more than one came."""
    yield ["code", "file", "problems_right_from_it", "came", "late", "notes"]
    for mark in result.marks:
        for one in mark.files if len(mark.files) > 1 else ():
            late = "late" if one.late else ""
            yield [mark.code, one.file, one.right, one.came, late, ", ".join(one.notes)]


SHEETS = {
    "marks.csv": marks_rows,
    "items.csv": items_rows,
    "wrong_turns.csv": turns_rows,
    "several_files.csv": files_rows,
    "left_out.csv": skipped_rows,
}


def write_sheets(result, folder):
    """Write the sheets into a folder."""
    for name, rows in SHEETS.items():
        write_whole(Path(folder) / name, csv_bytes(rows(result)))


# Numbered folders --------------------------------------------------------------------------


def numbered(parent):
    """The numbered folders below a folder, in order."""
    parent = Path(parent)
    found = (
        [path for path in parent.iterdir() if path.is_dir() and _NUMBERED.fullmatch(path.name)]
        if parent.is_dir()
        else []
    )
    return sorted(found, key=lambda path: int(path.name))


@contextmanager
def next_folder(parent):
    """A new folder to write into; when done it gets the next number, or goes where the last one holds the same.

    The value is a list whose first entry is the folder to write into, and, after the
    block, the folder where it all stands.
    """
    parent = Path(parent)
    parent.mkdir(parents=True, exist_ok=True)
    _sweep(parent)
    place = [Path(tempfile.mkdtemp(prefix=".new-", dir=parent))]
    try:
        yield place
        place[0] = _settled(place[0], parent)
    except BaseException:
        shutil.rmtree(place[0], ignore_errors=True)
        raise


def _sweep(parent):
    """Remove folders that a killed marking left half-written long ago."""
    with suppress(OSError):
        for entry in abandoned_files(parent):
            if entry.is_dir(follow_symlinks=False):
                shutil.rmtree(entry.path, ignore_errors=True)


def _settled(new, parent):
    there = numbered(parent)
    if there and same(new, there[-1]):
        shutil.rmtree(new)
        return there[-1]
    number = int(there[-1].name) + 1 if there else 1
    target = parent / f"{number:02d}"
    os.chmod(new, 0o755)
    os.rename(new, target)
    return target


def same(one, other):
    """Whether two folders hold the same files with the same bytes."""
    names = [
        sorted(path.relative_to(top).as_posix() for path in top.rglob("*") if path.is_file())
        for top in (one, other)
    ]
    return names[0] == names[1] and not any(
        filecmp.cmpfiles(one, other, names[0], shallow=False)[1:]
    )
