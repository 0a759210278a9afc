"""Marking: every mark from the code, what the class misunderstood; no file is believed or run."""

import csv
import html.parser
import io
import json
import os
import random
import re
import shutil
import zipfile
from datetime import datetime
from html import escape, unescape
from itertools import product
from pathlib import Path

import pytest
from class_files import answer_text, demo_codes, lines, mutated, right, ticket_of, write_class

from leverarm import exercises
from leverarm.marking import (
    Assignment,
    Desk,
    Homework,
    add_file,
    files_beside,
    mark_folder,
    pages,
    results,
)
from leverarm.marking import answer_file as paper
from leverarm.marking.assignment import file_text, read_assignment
from leverarm.marking.checked import right_answer, without_numbers
from leverarm.marking.codes import DEMO_KEY, new_class_key, proof, shown_code
from leverarm.marking.homework import given_text, problem_for
from leverarm.marking.results import advice, small_class_words
from leverarm.marking.roster import joined, read_roster
from leverarm.problem_pictures import paper_view, problem_scene
from leverarm.quantities import Refusal
from leverarm.scene.render import body
from leverarm.tables import csv_bytes

KINDS = ["front_gain", "rear_change", "total_change"]
WEEK = Assignment("Week 3", KINDS, due="2031-03-14 17:00", system="kg")
CODES = demo_codes(24)
NASTY = (
    '=HYPERLINK("http://x","y")',
    "<script>alert(1)</script>",
    "a\r\nb",
    "\u202egnp",
    "-1+cmd|' /C calc'!A0",
    "@SUM(1)",
    "\tx",
    '"><img src=x>',
)


def line_of(ticket, item, number, typed, **more):
    problem = problem_for(
        ticket, next(one for one in ticket.assignment.items if one.name == item), number
    )
    return paper.line(
        paper.Answer(item, number, more.pop("given", given_text(problem)), typed, **more)
    )


def hand_in(folder, code, told, assignment=WEEK, name=None):
    """Write a file of (item, try, text); "right" is the right answer, "hung" the hung weight."""
    ticket, body = ticket_of(code, assignment), []
    for item, number, typed in told:
        problem = problem_for(
            ticket,
            next((one for one in assignment.items if one.name == item), assignment.items[0]),
            number,
        )
        typed = {"right": right(problem), "hung": problem.given.get("W", "1 kg")}.get(typed, typed)
        body.append(paper.line(paper.Answer(item, number, given_text(problem), typed)))
    path = folder / (name or f"{ticket.stem}.answers.txt")
    path.write_text(answer_text(ticket, body))
    return path


def marked(folder, **more):
    return mark_folder(folder, DEMO_KEY, assignment=WEEK, **more)


def only(result):
    assert len(result.marks) == 1
    return result.marks[0]


# One student --------------------------------------------------------------------------------


def test_a_mark_is_worked_out_from_the_code(tmp_path):
    hand_in(
        tmp_path,
        CODES[0],
        [("front_gain", 1, "hung"), ("front_gain", 2, "right"), ("rear_change", 1, "right")],
    )
    mark = only(marked(tmp_path))
    assert (mark.code, mark.score, mark.out_of, mark.tries) == (CODES[0], 2, 3, 3)
    assert (
        mark.items == {"front_gain": 1, "rear_change": 1, "total_change": None} and mark.notes == ()
    )


def test_the_expected_number_is_the_one_statics_gives(tmp_path):
    """Not through the bank: the statement's own numbers, the lever law, and the mark."""
    ticket = ticket_of(CODES[0], WEEK)
    given = problem_for(ticket, WEEK.items[0], 1).given
    W, a, L = (float(given[letter].split()[0]) for letter in "WaL")
    hand_in(
        tmp_path,
        CODES[0],
        [
            ("front_gain", 1, f"{W + W * a / L:.1f} kg"),
            ("rear_change", 1, f"{W + W * a / L:.1f} kg"),
        ],
    )
    assert only(marked(tmp_path)).items == {"front_gain": 1, "rear_change": 0, "total_change": None}


def test_a_verdict_in_a_file_is_ignored(tmp_path):
    path = hand_in(tmp_path, CODES[0], [("front_gain", 1, "1 kg"), ("rear_change", 1, "right")])
    head, one, other = path.read_text().splitlines()
    one = json.dumps(json.loads(one) | {"right": True, "verdict": "right", "score": 1})
    other = json.dumps(json.loads(other) | {"right": False, "verdict": "wrong"})
    path.write_text(
        "\n".join((json.dumps(json.loads(head) | {"score": 3, "right": [1, 1, 1]}), one, other))
    )
    assert only(marked(tmp_path)).items == {"front_gain": 0, "rear_change": 1, "total_change": None}


def test_the_numbers_of_another_try_do_not_count(tmp_path):
    ticket = ticket_of(CODES[0], WEEK)
    second = right(problem_for(ticket, WEEK.items[0], 2))
    hand_in(tmp_path, CODES[0], [("front_gain", 1, second)])
    assert only(marked(tmp_path)).score == 0


def test_tries_beyond_those_that_count_are_left_out(tmp_path):
    few = Assignment("Week 3", KINDS, tries=2)
    hand_in(
        tmp_path,
        CODES[0],
        [("front_gain", 1, "1 kg"), ("front_gain", 2, "1 kg"), ("front_gain", 3, "right")],
        few,
    )
    mark = only(mark_folder(tmp_path, DEMO_KEY, assignment=few))
    assert (mark.score, mark.tries) == (0, 2) and "beyond the tries that count" in mark.notes[0]


def test_the_tolerance_of_the_assignment_decides(tmp_path):
    ticket = ticket_of(CODES[0], WEEK)
    near = problem_for(ticket, WEEK.items[0], 1).answer * 1.02
    hand_in(tmp_path, CODES[0], [("front_gain", 1, f"{near:.2f}")])
    assert only(marked(tmp_path)).score == 0
    wide = Assignment("Week 3", KINDS, tolerance=3.0, system="kg")
    assert only(mark_folder(tmp_path, DEMO_KEY, assignment=wide)).score == 1


def test_other_numbers_in_the_file_are_noted_and_the_code_decides(tmp_path):
    ticket = ticket_of(CODES[0], WEEK)
    typed = right(problem_for(ticket, WEEK.items[0], 1))
    path = hand_in(tmp_path, CODES[0], [])
    path.write_text(
        path.read_text() + line_of(ticket, "front_gain", 1, typed, given="W 1 kg; a 1 m; L 1 m")
    )
    mark = only(marked(tmp_path))
    assert mark.score == 1 and "with other numbers than this code has" in mark.notes[0]


def test_answers_that_cannot_be_read_or_belong_elsewhere_are_noted(tmp_path):
    hand_in(
        tmp_path,
        CODES[0],
        [("front_gain", 1, "no idea"), ("nothing", 1, "1 kg"), ("rear_change", 1, "right")],
    )
    mark = only(marked(tmp_path))
    assert mark.score == 1 and mark.tries == 1 and len(mark.notes) == 2


# Files that come twice, from others, too late -------------------------------------------------


def shares(mark):
    """file -> problems that are right because of it."""
    return {one.file: one.right for one in mark.files}


def test_a_renamed_copy_changes_nothing(tmp_path):
    told = [("front_gain", 1, "1 kg"), ("rear_change", 1, "right")]
    alone = tmp_path / "alone"
    alone.mkdir()
    hand_in(alone, CODES[0], told)
    for name in ("Week_3.answers (1).txt", "copy of x.txt", "Surname_First_123_x.txt"):
        hand_in(tmp_path, CODES[0], told, name=name)
    both = only(mark_folder(tmp_path, DEMO_KEY, assignment=WEEK))
    assert (both.score, both.items, both.tries) == (1, only(marked(alone)).items, 2)
    assert both.notes == ("4 files came: the best answer to each problem counts",)
    assert sorted(shares(both).values()) == [0, 0, 0, 1]


ALL_RIGHT = [(kind, 1, "right") for kind in KINDS]
EARLY, LATE = datetime(2031, 3, 14, 12), datetime(2031, 3, 15, 12)
# What a stranger brings: files of one code, their mark, and how many problems each file gave.
SEVERAL = {
    "a longer forgery, every answer wrong": (
        {"own": ALL_RIGHT, "forged": [(k, n, "1 kg") for k in KINDS for n in range(1, 60)]},
        3,
        {"own": 3, "forged": 0},
    ),
    "a forgery that is called first": (
        {"own": ALL_RIGHT, "a forged": [(k, 1, "1 kg") for k in KINDS] * 2},
        3,
        {"own": 3, "a forged": 0},
    ),
    "right at school, wrong at home": (
        {
            "school": [("front_gain", 1, "right"), ("rear_change", 1, "right")],
            "home": [(kind, n, "1 kg") for kind in KINDS for n in (1, 2)],
        },
        2,
        {"school": 2, "home": 0},
    ),
    "two honest halves": (
        {"one": ALL_RIGHT[:1], "two": ALL_RIGHT[1:]},
        3,
        {"one": 1, "two": 2},
    ),
    "each right where the other is wrong": (
        {
            "one": [("front_gain", 1, "right"), ("rear_change", 1, "1 kg")],
            "two": [("front_gain", 1, "1 kg"), ("rear_change", 1, "right")],
        },
        2,
        {"one": 1, "two": 1},
    ),
    "the same file twice": ({"one": ALL_RIGHT, "two": ALL_RIGHT}, 3, {"one": 3, "two": 0}),
    "problems that are not in the assignment": (
        {"own": ALL_RIGHT, "mixed": [("where_double", n, "1 m") for n in range(1, 30)]},
        3,
        {"own": 3, "mixed": 0},
    ),
    "only wrong ones": (
        {"one": [("front_gain", 1, "1 kg")], "two": [("rear_change", 1, "1 kg")]},
        0,
        {"one": 0, "two": 0},
    ),
}


@pytest.mark.parametrize("files, score, gave", SEVERAL.values(), ids=SEVERAL)
def test_every_file_of_a_code_counts_and_none_lowers_another(tmp_path, files, score, gave):
    for name, told in files.items():
        hand_in(tmp_path, CODES[0], told, name=name)
    mark = only(marked(tmp_path))
    assert mark.score == score and shares(mark) == gave
    assert sum(gave.values()) == score


def test_no_file_lowers_a_mark_whatever_is_in_it(tmp_path):
    """Drawn at random: the mark of some files is never below the mark of a part of them."""
    for seed in range(12):
        rng, best, place = random.Random(seed), 0, tmp_path / str(seed)
        place.mkdir()
        for at in range(4):
            told = [
                (rng.choice(KINDS), rng.randrange(1, 4), rng.choice(("right", "hung", "1 kg", "?")))
                for _ in range(rng.randrange(1, 12))
            ]
            hand_in(place, CODES[0], told, name=f"{rng.random()}.txt")
            score = only(marked(place, received=rng.choice(("", "2031-04-01")))).score
            assert score >= best, (seed, at)
            best = score


def test_a_thousand_wrong_tries_use_up_nobodys_tries(tmp_path):
    """Two tries count in each file; the second one of the student is right."""
    two = Assignment("Week 3", KINDS, tries=2, system="kg")
    own = [("front_gain", 1, "1 kg"), ("front_gain", 2, "right")]
    hand_in(tmp_path, CODES[0], own, two, name="own")
    forged = [(kind, n, "1 kg") for kind in KINDS for n in range(1, 201)] * 2
    hand_in(tmp_path, CODES[0], forged, two, name="forged")
    mark = only(mark_folder(tmp_path, DEMO_KEY, assignment=two))
    assert mark.items["front_gain"] == 1 and shares(mark) == {"own": 1, "forged": 0}
    forged = next(one for one in mark.files if one.file == "forged")
    assert "594 answers beyond the tries that count" in forged.notes
    assert mark.notes == ("2 files came: the best answer to each problem counts",), "not theirs"


def test_the_tries_that_count_hold_in_every_file(tmp_path):
    one = Assignment("Week 3", KINDS, tries=1, system="kg")
    for name in "ab":
        told = [("front_gain", 1, "1 kg"), ("front_gain", 2, "right")]
        hand_in(tmp_path, CODES[0], told, one, name=name)
    assert only(mark_folder(tmp_path, DEMO_KEY, assignment=one)).score == 0


def test_in_one_file_the_first_answer_to_a_try_counts(tmp_path):
    hand_in(tmp_path, CODES[0], [("front_gain", 1, "1 kg"), ("front_gain", 1, "right")])
    mark = only(marked(tmp_path))
    assert mark.score == 0 and mark.notes == ("1 try answered twice: the first counts",)


@pytest.mark.parametrize("which", ["another code", "another number key"])
def test_a_file_that_is_not_of_this_code_is_left_out_and_lowers_nothing(tmp_path, which):
    """A neighbor's file under this code, and a forgery without the number key."""
    hand_in(tmp_path, CODES[0], ALL_RIGHT[:2], name="own.txt")
    path = hand_in(tmp_path, CODES[1], [(k, n, "1 kg") for k in KINDS for n in (1, 2, 3)])
    if which == "another code":
        path.write_text(path.read_text().replace(CODES[1], CODES[0]))
    else:
        path.write_text(path.read_text().replace(proof(ticket_of(CODES[1], WEEK).key), "33333333"))
    result = marked(tmp_path)
    assert only(result).score == 2 and shares(only(result)) == {"own.txt": 2}
    assert [one.file for one in result.skipped] == [path.name]


def test_a_file_changed_while_it_is_marked_does_not_take_the_others_along(tmp_path):
    hand_in(tmp_path, CODES[0], ALL_RIGHT, name="own.txt")
    hand_in(tmp_path, CODES[0], ALL_RIGHT[:1], name="short.txt")
    hand_in(tmp_path, CODES[1], ALL_RIGHT[:1], name="gone.txt")

    def progress(done, of):
        (tmp_path / "short.txt").write_text("no longer")
        (tmp_path / "gone.txt").unlink(missing_ok=True)

    result = marked(tmp_path, progress=progress, codes=CODES[:2])
    assert {mark.code: mark.score for mark in result.marks} == {CODES[0]: 3, CODES[1]: None}
    assert [(one.file, one.reason[:8]) for one in result.skipped] == [
        ("gone.txt", "changed "),
        ("short.txt", "changed "),
    ]


@pytest.mark.parametrize("cut", [False, True], ids=["emptied", "cut out"])
def test_numbers_taken_out_of_a_file_are_noticed(tmp_path, cut):
    path = hand_in(tmp_path, CODES[0], ALL_RIGHT)
    head, *body = map(json.loads, path.read_text().splitlines())
    for line in body:
        line.pop("given") if cut else line.update(given="")
    path.write_text("\n".join(map(json.dumps, [head, *body])))
    mark = only(marked(tmp_path))
    assert mark.score == 3
    assert mark.notes == ("3 answers without the numbers of their problem: the file was changed",)


def notes_of(result):
    return {mark.code: mark.notes for mark in result.marks}


def test_a_file_under_a_classmates_code_is_named_on_both_rows(tmp_path):
    """The code in the file changed: it is left out, and both codes say so."""
    hand_in(tmp_path, CODES[0], ALL_RIGHT)
    path = hand_in(tmp_path, CODES[1], ALL_RIGHT, name="copy.txt")
    path.write_text(path.read_text().replace(CODES[1], CODES[0]))
    result = marked(tmp_path, codes=CODES[:2])
    notes = notes_of(result)
    assert notes[CODES[0]] == (
        f"copy.txt claims this code and is made with that of {shown_code(CODES[1])}",
    )
    assert notes[CODES[1]] == (
        "nothing handed in",
        f"copy.txt is made with this code and claims {shown_code(CODES[0])}",
    )
    assert {mark.code: mark.score for mark in result.marks} == {CODES[0]: 3, CODES[1]: None}


def test_swapped_files_are_named_on_both_rows(tmp_path):
    """Two students handed in each other's file, each renamed to the own code."""
    for own, other in (CODES[:2], CODES[1::-1]):
        hand_in(tmp_path, own, ALL_RIGHT, name=f"Week_3-{other}.answers.txt")
    notes = notes_of(marked(tmp_path, codes=CODES[:2]))
    for own, other in (CODES[:2], CODES[1::-1]):
        shown = shown_code(other)
        assert sorted(notes[own]) == sorted(
            (
                f"Week_3-{other}.answers.txt is from this code, named for {shown}",
                f"Week_3-{own}.answers.txt, named for this code, is from {shown}",
            )
        )


def replayed(folder, code, classmate, kinds=KINDS, week=WEEK, typed=right):
    """A file with the classmate's right answers, retyped beside the own numbers."""
    theirs = ticket_of(classmate, week)
    told = [
        (item.name, 1, typed(problem_for(theirs, item, 1)))
        for item in week.items
        if item.name in kinds
    ]
    return hand_in(folder, code, told, week)


def test_answers_taken_over_from_a_classmate_are_named_on_both_rows(tmp_path):
    """With own numbers beside them no copy of a file is left, and yet they are not the own ones."""
    hand_in(tmp_path, CODES[1], ALL_RIGHT)
    path = replayed(tmp_path, CODES[0], CODES[1])
    hand_in(tmp_path, CODES[2], [(kind, 1, "hung") for kind in KINDS])
    seen = {}
    result = marked(tmp_path, each=lambda one: seen.update({one.ticket.code: one}))
    what = f"3 wrong answers in {path.name} of {shown_code(CODES[0])} would be right with the"
    assert notes_of(result) == {
        CODES[0]: (f"{what} numbers of {shown_code(CODES[1])}",),
        CODES[1]: (f"{what} numbers of this code",),
        CODES[2]: (),
    }
    assert {one.code: one.score for one in result.marks}[CODES[1]] == 3
    back = pages.feedback(seen[CODES[1]]) + pages.feedback(seen[CODES[0]])
    assert "would be right" not in back, "a student reads no suspicion"


def test_answers_typed_anew_with_other_digits_are_named_even_where_both_swapped(tmp_path):
    """Neither has a right answer of their own, and each typed the other's more or less exactly."""
    kinds = [*KINDS, "front_reading", "lifting_weight", "percent_change", "ballast_front"]
    week = Assignment("Week 3", kinds, system="kg")
    for code, other, digits in ((CODES[0], CODES[1], 4), (CODES[1], CODES[0], 6)):
        replayed(tmp_path, code, other, kinds, week, lambda p, d=digits: f"{p.answer:.{d}g}")
    notes = notes_of(mark_folder(tmp_path, DEMO_KEY, assignment=week))
    for code in CODES[:2]:
        said = " ".join(notes[code])
        for one, other in (CODES[:2], CODES[1::-1]):
            to = "this code" if other == code else shown_code(other)
            assert (
                f"-{one}.answers.txt of {shown_code(one)} would be right with the numbers of {to}"
                in said
            )


def test_one_number_in_common_is_chance(tmp_path):
    hand_in(tmp_path, CODES[1], ALL_RIGHT)
    replayed(tmp_path, CODES[0], CODES[1], KINDS[:1])
    assert set(notes_of(marked(tmp_path)).values()) == {()}


def test_nobody_is_named_in_classes_that_answer_by_chance(tmp_path):
    """Each class draws its own numbers, wrong ones among them; nothing was taken over."""
    for seed in range(4):
        folder = tmp_path / str(seed)
        week = write_class(folder, 60, 8, tries=2, seed=seed, kinds=KINDS)
        result = mark_folder(folder, DEMO_KEY, assignment=week)
        assert not any("would be right" in note for one in result.marks for note in one.notes)


def test_what_goes_back_to_a_student_names_no_classmate(tmp_path):
    hand_in(tmp_path, CODES[0], ALL_RIGHT)
    path = hand_in(tmp_path, CODES[1], ALL_RIGHT[:2], name="copy.txt")
    path.write_text(path.read_text().replace(CODES[1], CODES[0]))
    seen = []
    marked(tmp_path, codes=CODES[:2], each=seen.append)
    assert seen[0].mark.notes and shown_code(CODES[1]) in seen[0].mark.notes[0]
    assert shown_code(CODES[1]) not in pages.feedback(seen[0])


def test_notes_that_hold_commas_are_kept_apart(tmp_path):
    hand_in(tmp_path, CODES[1], ALL_RIGHT[:1], name=f"Week_3-{CODES[0]}.answers.txt")
    hand_in(tmp_path, CODES[0], ALL_RIGHT[:1], name=f"Week_3-{CODES[1]}.answers.txt")
    result = marked(tmp_path, codes=CODES[:2])
    assert all(row[-1].count("; ") == 1 for row in list(results.marks_rows(result))[1:])
    assert pages.marks_html(result).count("; ") == 2


def test_a_file_that_came_twice_is_named_beside_each(tmp_path):
    for name in ("a.txt", "b.txt"):
        hand_in(tmp_path, CODES[0], ALL_RIGHT, name=name)
    hand_in(tmp_path, CODES[0], ALL_RIGHT[:1], name="c.txt")
    mark = only(marked(tmp_path))
    assert {one.file: one.notes for one in mark.files} == {
        "a.txt": ("the same file as b.txt",),
        "b.txt": ("the same file as a.txt",),
        "c.txt": (),
    }


def test_a_file_made_with_no_key_of_the_class_is_named_on_the_row_it_claims(tmp_path):
    hand_in(tmp_path, CODES[0], ALL_RIGHT, name="own.txt")
    path = hand_in(tmp_path, CODES[0], [(k, n, "1 kg") for k in KINDS for n in (1, 2)], name="bad")
    path.write_text(path.read_text().replace(proof(ticket_of(CODES[0], WEEK).key), "33333333"))
    mark = only(marked(tmp_path))
    assert (mark.score, mark.notes) == (3, ("bad claims this code without its number key",))


@pytest.mark.parametrize(
    "first, second, late",
    [
        ((EARLY, ALL_RIGHT), (LATE, ALL_RIGHT), "in time"),  # a copy, or somebody's replay
        ((EARLY, ALL_RIGHT), (LATE, [("front_gain", 9, "1 kg")] * 50), "in time"),
        ((EARLY, ALL_RIGHT[:2]), (LATE, ALL_RIGHT), "part late"),
        ((EARLY, [("front_gain", 1, "1 kg")]), (LATE, ALL_RIGHT), "late"),
        ((LATE, ALL_RIGHT[:1]), (LATE, ALL_RIGHT), "late"),
    ],
)
def test_late_is_only_what_came_late_and_counts(tmp_path, first, second, late):
    for name, (day, told) in (("a.txt", first), ("b.txt", second)):
        path = hand_in(tmp_path, CODES[0], told, name=name)
        os.utime(path, (0, day.timestamp()))
    assert only(marked(tmp_path)).late == late


def test_what_each_file_gave_stands_in_a_sheet_and_on_the_class_page_and_not_on_the_students(
    tmp_path,
):
    got, place = [], tmp_path / "in"
    place.mkdir()
    hand_in(place, CODES[0], ALL_RIGHT, name="own.txt")
    hand_in(place, CODES[0], [("front_gain", 1, "1 kg")], name="Surname_First.txt")
    hand_in(place, CODES[1], ALL_RIGHT, name="single.txt")
    result = marked(place, received="", each=lambda student: got.append(pages.feedback(student)))
    results.write_sheets(result, tmp_path)
    head, *rows = rows_of((tmp_path / "several_files.csv").read_bytes())
    assert [row[:3] for row in rows] == [
        [CODES[0], "own.txt", "3"],
        [CODES[0], "Surname_First.txt", "0"],
    ]
    assert head[:3] == ["code", "file", "problems_right_from_it"]
    assert "Surname_First.txt" in pages.class_page(result)
    assert not any("Surname_First.txt" in page for page in got)
    assert b"Surname" not in (tmp_path / "marks.csv").read_bytes()


@pytest.mark.parametrize(
    "change, says",
    [
        (lambda text: text.replace('"Week 3"', '"Week 4"'), "for another assignment: Week 4"),
        (lambda text: text.replace(CODES[0], CODES[1]), "number key of another ticket"),
        (
            lambda text: text.replace(proof(ticket_of(CODES[0], WEEK).key), "33333333"),
            "number key of another ticket",
        ),
        (lambda text: text[:40], "first line is damaged"),
        (lambda text: "", "empty"),
        (lambda text: "Dear teacher, my answers are 190 and 80.", "not an answer file"),
        (lambda text: text.replace(CODES[0], CODES[0][::-1]), "code"),
    ],
)
def test_what_is_not_marked_is_listed_with_the_reason(tmp_path, change, says):
    path = hand_in(tmp_path, CODES[0], [("front_gain", 1, "right")])
    path.write_text(change(path.read_text()))
    result = marked(tmp_path)
    assert (
        not result.marks
        and says in result.skipped[0].reason
        and result.skipped[0].file == path.name
    )


def test_another_class_key_marks_nothing(tmp_path):
    hand_in(tmp_path, CODES[0], [("front_gain", 1, "right")])
    result = mark_folder(tmp_path, new_class_key(), assignment=WEEK)
    assert not result.marks and "another class" in result.skipped[0].reason


def test_a_code_that_is_not_on_the_list_is_left_out_and_one_without_a_file_has_a_row(tmp_path):
    hand_in(tmp_path, CODES[0], [("front_gain", 1, "right")])
    hand_in(tmp_path, CODES[1], [("front_gain", 1, "right")])
    result = marked(tmp_path, codes=[CODES[1], shown_code(CODES[2]).lower()])
    assert {mark.code: mark.score for mark in result.marks} == {CODES[1]: 1, CODES[2]: None}
    assert result.handed_in == 1 and "not on your list" in result.skipped[0].reason


@pytest.mark.parametrize(
    "received, late",
    [
        ("2031-03-14 17:00", "in time"),
        ("2031-03-14 17:01", "late"),
        ("2031-03-15", "late"),
        ("", ""),
        ({CODES[0]: "2031-03-16"}, "late"),
        ({CODES[1]: "2031-03-16"}, ""),
    ],
)
def test_late_is_when_it_came_in(tmp_path, received, late):
    hand_in(tmp_path, CODES[0], [("front_gain", 1, "right")])
    assert only(marked(tmp_path, received=received)).late == late


def test_the_assignment_file_in_the_folder_is_taken(tmp_path):
    from leverarm.marking.assignment import file_text

    hand_in(tmp_path, CODES[0], [("front_gain", 1, "right")])
    with pytest.raises(Refusal, match="0 assignment files"):
        mark_folder(tmp_path, DEMO_KEY)
    (tmp_path / "Week_3.assignment.txt").write_text(file_text(WEEK))
    result = mark_folder(tmp_path, DEMO_KEY)
    assert result.marks[0].score == 1 and not result.skipped


# The class ----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def class_of_24(tmp_path_factory):
    """24 invented students: nine give the hung weight at first, three again, twelve are right."""
    folder = tmp_path_factory.mktemp("class")
    for at, code in enumerate(CODES):
        told = [("rear_change", 1, "right")] if at < 20 else []
        if at < 9:
            told += [("front_gain", 1, "hung"), ("front_gain", 2, "hung" if at < 3 else "right")]
        elif at < 21:
            told += [("front_gain", 1, "right")]
        hand_in(folder, code, told)
    return folder, mark_folder(folder, DEMO_KEY, assignment=WEEK)


def test_a_problems_row(class_of_24):
    row = class_of_24[1].items[0]
    assert (row.answered, row.omitted, row.first, row.right) == (21, 3, 12, 18)
    assert (
        row.first_share == pytest.approx(12 / 21)
        and row.facility == pytest.approx(18 / 21)
        and row.tries == 1
    )
    assert row.advice == "discuss in pairs, then ask again" and row.lesson == 2


def test_the_wrong_turn_table_says_what_the_class_misunderstood(class_of_24):
    top = class_of_24[1].mistakes[0]
    assert top.students == 9 and top.answered == 21 and top.item.name == "front_gain"
    assert top.words.startswith("9 of 21 gave the hung weight") and top.ask.endswith("?")


def test_a_problem_nobody_answered_has_no_figures(class_of_24):
    row = class_of_24[1].items[2]
    assert (
        row.answered == 0
        and row.omitted == 24
        and row.facility is None
        and row.tries is None
        and not row.mistakes
    )


def test_the_marks_do_not_depend_on_the_order_of_the_files(class_of_24, tmp_path):
    folder, result = class_of_24
    names = sorted(folder.iterdir())
    with zipfile.ZipFile(tmp_path / "all.zip", "w") as pack:
        for at, path in enumerate(reversed(names)):
            pack.writestr(f"{at:03d}/{path.name}", path.read_bytes())
    again = mark_folder(tmp_path / "all.zip", DEMO_KEY, assignment=WEEK, received="")
    assert [mark.items for mark in again.marks] == [
        mark.items for mark in result.marks
    ] and again.mistakes == result.mistakes


@pytest.mark.parametrize("students", [0, 1, 4])
def test_no_class_figures_under_five(tmp_path, students):
    for code in CODES[:students]:
        hand_in(tmp_path, code, [("front_gain", 1, "hung")])
    result = marked(tmp_path)
    assert all(row.facility is None and row.first is None for row in result.items)
    assert "no figures of a problem" in result.notes[0] and pages.class_picture(result) is None
    # The slips stay: without them the desk of a small class has nothing to teach from.
    assert [row.sure for row in result.mistakes] == ([students] if students else [])


@pytest.mark.parametrize(
    "share, says",
    [
        (None, "no figures"),
        (0.0, "re-teach"),
        (0.34, "re-teach"),
        (0.35, "discuss"),
        (0.7, "discuss"),
        (0.71, "go on"),
        (1.0, "go on"),
    ],
)
def test_advice_by_the_bounds_of_peer_instruction(share, says):
    assert says in advice(share, exercises.problems()[0])


def test_a_small_class_is_told_what_its_figures_cannot_say():
    assert "100 to 200" in small_class_words(24) and "no conclusion" in small_class_words(24)


def test_numbers_of_one_student_are_left_open_in_the_class_table():
    assert (
        without_numbers("W1 without the factor (1 + 1.2/1.65)") == "W1 without the factor (… + …/…)"
    )


# Sheets and pages ---------------------------------------------------------------------------


def rows_of(data):
    return list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))


def test_the_sheets_hold_one_row_a_student_a_problem_a_turn_a_file(class_of_24, tmp_path):
    results.write_sheets(class_of_24[1], tmp_path)
    marks, items, turns, who, unexplained, several, left = (
        rows_of((tmp_path / name).read_bytes()) for name in results.SHEETS
    )
    assert len(several) == 1 and unexplained[0][-1] == "gives_several"
    taught = class_of_24[1].teaching.slips
    assert len(who) - 1 == sum(len(slip.codes) for slip in taught)
    assert (
        marks[0] == ["code", "score", "out_of", "tries", "late", *KINDS, "notes"]
        and len(marks) == 25
    )
    assert [row[0] for row in marks[1:]] == sorted(CODES)
    assert items[1][4:11] == ["21", "3", "12", "18", "0.571", "0.857", "1"] and len(items) == 4
    assert "9 of 21 gave" in items[1][11] and turns[1][4] == "9" and left == [["file", "reason"]]


class Watching(html.parser.HTMLParser):
    """Notes every tag and every address in a page."""

    def __init__(self):
        super().__init__()
        self.tags, self.odd = set(), []

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        self.odd += [
            name
            for name, value in attrs
            if name.startswith("on") or name in ("src", "href", "action")
        ]


def watched(text):
    seen = Watching()
    seen.feed(text)
    assert not seen.odd and not seen.tags & {
        "script",
        "img",
        "iframe",
        "object",
        "link",
        "form",
        "a",
    }
    return seen


def test_nothing_a_student_typed_gets_into_a_page_or_a_sheet_unescaped(tmp_path):
    ticket = ticket_of(CODES[0], WEEK)
    body = [line_of(ticket, "front_gain", 1, "1 kg", read="<script>alert(1)</script>", given="<b>")]
    body += [paper.line(paper.Answer(text[:80], 1, text, text)) for text in NASTY]
    for at, text in enumerate(NASTY, 1):
        body.append(paper.line(paper.Answer("rear_change", at, text, f"80 kg {text}")))
    place = tmp_path / "in"
    place.mkdir()
    (place / "=cmd <img src=x onerror=alert(1)> \u202e.txt").write_text(answer_text(ticket, body))
    (place / "-1+1<script>.txt").write_text("no")
    got = []
    result = marked(place, each=lambda student: got.append(pages.feedback(student)))
    for text in (*got, pages.class_page(result)):
        watched(text)
        assert "\u202e" not in text and "<script>alert" not in text
    results.write_sheets(result, tmp_path)
    for name in results.SHEETS:
        for row in rows_of((tmp_path / name).read_bytes()):
            assert not any(cell.startswith(("=", "+", "-", "@")) for cell in row)


def test_a_page_to_hand_back_names_the_ticket_and_shows_the_way(tmp_path):
    got = []
    hand_in(tmp_path, CODES[0], [("front_gain", 1, "hung"), ("rear_change", 1, "right")])
    marked(tmp_path, each=lambda student: got.append(pages.feedback(student)))
    ticket = ticket_of(CODES[0], WEEK)
    problem = problem_for(ticket, WEEK.items[0], 1)
    assert "1 of 3 problems are right" in got[0] and problem.statement.split(".")[0] in got[0]
    assert "the hung weight" in got[0] and "The way to it" in got[0] and "not answered" in got[0]
    assert shown_code(CODES[0]) in got[0] and ticket.key not in got[0]


def test_paper_and_key_have_the_numbers_of_the_screen(tmp_path):
    tickets = [ticket_of(code, WEEK) for code in CODES[:3]]
    on_paper, key = pages.paper(tickets), pages.key_page(tickets)
    for ticket in tickets:
        home = Homework(ticket, tmp_path)
        for item in WEEK.items:
            problem = home.problem(item.name)
            assert problem.statement in on_paper and right_answer(problem) in key
            assert exercises.check(problem, right_answer(problem)).right
    assert "ΔF =" not in on_paper and all(
        right_answer(home.problem(item.name)) not in on_paper for item in WEEK.items
    )
    watched(on_paper), watched(key)


@pytest.mark.parametrize("first", [0, 1])
@pytest.mark.parametrize("system", ["kg", "lb"])
def test_a_sheet_draws_what_the_notebook_draws(system, first):
    """The same shapes beside the same numbers, for every problem that has a drawing."""
    kinds = [kind.name for kind in exercises.problems()][first::2]
    work = Assignment("All of it", kinds, system=system)
    tickets = [ticket_of(code, work) for code in CODES[:2]]
    page = pages.paper(tickets)
    watched(page)
    items, drawn = page.split('<div class="item">')[1:], 0
    for part, (ticket, item) in zip(items, product(tickets, work.items), strict=True):
        scene = problem_scene(problem_for(ticket, item, 1))
        assert ("<svg" in part) == (scene is not None)
        if scene is not None:
            drawn += 1
            assert f">{escape(scene.title)}</title>" in part
            assert f">{escape(scene.desc)}</desc>" in part
            view = paper_view(scene, *pages.DRAWING)
            assert body(scene, view) in part and view.width <= pages.DRAWING[0]
    assert drawn > 100
    ids = re.findall(r' id="([^"]+)"', page)
    assert len(ids) == len(set(ids)) == 2 * drawn


# Problems whose matter is the other unit: one number turned into it, or both in one statement.
CONVERTS = {"pounds", "kilograms", "newtons", "psi", "inches_and_meters"}


@pytest.mark.parametrize("first", [0, 1])
@pytest.mark.parametrize(
    ("system", "other"), [("lb", "kg|m|cm|mm|cm²|kPa|N"), ("kg", "lb|ft|psi|in²|in(?! (?:no|the))")]
)
def test_a_sheet_and_its_key_hold_one_unit_system(system, other, first):
    kinds = [kind.name for kind in exercises.problems() if kind.name not in CONVERTS][first::2]
    tickets = [ticket_of(code, Assignment("All", kinds, system=system)) for code in CODES[:2]]
    for page in (pages.paper(tickets), pages.key_page(tickets)):
        text = unescape(re.sub(r"(?s)<style.*?</style>|<[^>]+>", " ", page))
        found = re.findall(rf"(?<![\w.,])\d[\d.,]*[ \u00a0](?:{other})(?![\w²/])", text)
        assert found == []
        assert re.search(rf"\d[ \u00a0]{system}\b", text)


@pytest.mark.parametrize("kind", [kind.name for kind in exercises.problems()])
def test_every_kind_has_an_answer_for_the_key_that_is_marked_right(kind):
    for seed in range(3):
        problem = exercises.make(kind, seed)
        assert exercises.check(problem, right_answer(problem)).right


# Names --------------------------------------------------------------------------------------


@pytest.mark.parametrize("mark", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_names_are_joined_from_the_instructors_own_list(mark, encoding):
    text = (
        mark.join(("Name", "Code", "Group"))
        + "\r\n"
        + "".join(
            mark.join((f"Student {at}", shown_code(code).lower(), "A")) + "\r\n"
            for at, code in enumerate(CODES[:3])
        )
    )
    roster = read_roster(text.encode(encoding))
    rows = list(joined([["code", "score"], [CODES[1], 2], [CODES[5], 1]], roster))
    assert rows == [
        ["Name", "Group", "code", "score"],
        ["Student 1", "A", CODES[1], 2],
        ["", "", CODES[5], 1],
    ]


@pytest.mark.parametrize(
    "data", [b"", b"a,b\n1,2\n", b"\0\0", b"x" * 1_000_001, b'"' + b"a" * 200_000, b"," * 5000]
)
def test_a_list_without_codes_is_refused(data):
    with pytest.raises(Refusal):
        read_roster(data)


# The desk -----------------------------------------------------------------------------------


@pytest.fixture
def desk(tmp_path):
    made = Desk(tmp_path / "my_class")
    made.start(6)
    made.write_assignment(WEEK)
    return made


def work_through(desk, count, typed="right"):
    for ticket in desk.tickets(WEEK)[:count]:
        home = Homework(ticket, desk.came_back_folder(WEEK))
        for item in WEEK.items:
            home.check(item.name, right(home.problem(item.name)) if typed == "right" else typed)


def files_of(folder):
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_the_class_key_is_in_nothing_that_is_handed_out(desk):
    key = desk.class_key
    for name, data in files_of(desk.folder).items():
        held = key.encode() in data or key.replace("-", "").encode() in data
        assert held == (name == "keep_to_yourself/class_key.txt"), name


def test_each_ticket_holds_one_code_and_no_other(desk):
    for path in desk.hand_out_folder(WEEK).glob("ticket_files/*"):
        text = path.read_text()
        assert sum(shown_code(code) in text for code in desk.codes) == 1
        assert sum(ticket.key in text for ticket in desk.tickets(WEEK)) == 1


def test_marking_twice_gives_the_same_bytes_and_no_second_sheet(desk):
    work_through(desk, 6)
    result, folder = desk.mark("week 3")
    first = files_of(desk.folder)
    again, same = desk.mark("Week 3")
    assert folder == same and again == result and files_of(desk.folder) == first
    assert (folder / "class.svg").read_text().startswith("<svg")
    assert (
        folder.name == "01"
        and result.handed_in == 6
        and len(list((folder / "hand_back").iterdir())) == 6
    )


def test_an_earlier_sheet_is_kept(desk):
    work_through(desk, 3)
    _, first = desk.mark("Week 3")
    before = files_of(first)
    work_through(desk, 6, "1 kg")
    _, second = desk.mark("Week 3")
    assert second.name == "02" and files_of(first) == before and files_of(second) != before
    assert not list(desk.marked_folder(WEEK).glob(".new-*"))


def test_a_zip_alone_in_the_folder_is_marked(desk, tmp_path):
    work_through(desk, 5)
    place = desk.came_back_folder(WEEK)
    with zipfile.ZipFile(tmp_path / "all.zip", "w") as pack:
        for path in place.glob("*.txt"):
            pack.write(path, f"submission/{path.name}")
    for path in place.iterdir():
        path.unlink()
    (tmp_path / "all.zip").rename(place / "all.zip")
    assert desk.mark("Week 3")[0].handed_in == 5


def test_a_failed_marking_leaves_nothing_behind(desk, monkeypatch):
    work_through(desk, 1)
    monkeypatch.setattr(pages, "class_page", lambda result: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        desk.mark("Week 3")
    assert not list(desk.marked_folder(WEEK).iterdir())


def test_names_stand_beside_the_marks_and_stay_private(desk, tmp_path):
    work_through(desk, 2)
    desk.mark("Week 3")
    rows = rows_of((desk.private / "codes.csv").read_bytes())
    (desk.private / "codes.csv").write_bytes(
        csv_bytes([rows[0], *([code, f"Student {at}"] for at, (code, _) in enumerate(rows[1:]))])
    )
    path, said = desk.with_names("Week 3")
    joined_rows = rows_of(path.read_bytes())
    assert (
        path.parent == desk.private and joined_rows[0][:3] == ["name", "code", "score"] and not said
    )
    assert {row[0] for row in joined_rows[1:]} == {f"Student {at}" for at in range(6)}
    assert "Student" not in (desk.marked_folder(WEEK) / "01" / "marks.csv").read_text()
    other = tmp_path / "roster.csv"
    other.write_text(f"code;pupil\n{CODES[0]};=1+1\n{desk.codes[0]};Only One\n")
    path, said = desk.with_names("Week 3", other)
    assert "1 code of your list not in the mark sheet." in said and "Only One" in path.read_text(
        "utf-8-sig"
    )


def test_codes_can_be_added_and_nothing_is_made_twice(desk):
    before, key = desk.codes, desk.class_key
    desk.add_codes(2)
    after = desk.codes
    assert after[:6] == before and len(set(after)) == 8 and desk.class_key == key
    with pytest.raises(Refusal, match="codes already"):
        desk.start(3)
    assert desk.codes == after
    with pytest.raises(Refusal, match="choose another name"):
        desk.write_assignment(Assignment("Week 3", KINDS, tries=1))
    for name in ("Week_3", "week 3"):
        with pytest.raises(Refusal, match="choose another name"):
            desk.write_assignment(Assignment(name, KINDS, due="2031-03-14 17:00", system="kg"))
    desk.write_assignment(WEEK)
    assert len(list((desk.hand_out_folder(WEEK) / "ticket_files").iterdir())) == 8


@pytest.mark.parametrize(
    "call",
    [
        lambda desk: desk.codes,
        lambda desk: desk.class_key,
        lambda desk: desk.mark("Week 3"),
        lambda desk: desk.add_codes(1),
        lambda desk: desk.with_names("Week 3"),
    ],
)
def test_a_folder_without_a_class_is_told_so(tmp_path, call):
    with pytest.raises(Refusal):
        call(Desk(tmp_path / "nothing"))
    assert not (tmp_path / "nothing").exists()


def test_progress_is_told(desk):
    work_through(desk, 4)
    seen = []
    desk.mark("Week 3", progress=lambda done, of: seen.append((done, of)))
    assert seen == [(at, 4) for at in range(5)]


# Damage -------------------------------------------------------------------------------------


def test_damaged_files_never_stop_the_run(tmp_path, monkeypatch):
    """400 damaged files: each is marked or listed, and the good one beside them is marked."""
    codes = demo_codes(401)
    for seed, code in enumerate(codes):
        ticket = ticket_of(code, WEEK)
        whole = answer_text(ticket, lines(ticket, 2, random.Random(seed))).encode()
        (tmp_path / f"{seed:03d}.txt").write_bytes(mutated(whole, seed) if seed else whole)
    monkeypatch.setattr(exercises, "check", _no_surprise(exercises.check))
    got = []
    result = marked(tmp_path, each=lambda student: got.append(pages.feedback(student)))
    assert len(result.marks) + len(result.skipped) == 401 and all(
        one.reason for one in result.skipped
    )
    assert (
        next(mark for mark in result.marks if mark.code == codes[0]).score == 3
        and len(result.skipped) > 100
    )
    assert not any("could not be checked" in note for mark in result.marks for note in mark.notes)
    for text in (*got, pages.class_page(result)):
        watched(text)
    results.write_sheets(result, tmp_path)


def _no_surprise(check):
    """The bank's check, which may refuse in words and must not fail in any other way."""

    def watching(problem, text, *told, **more):
        verdict = check(problem, text, *told, **more)
        assert isinstance(verdict.reading, str) and verdict.case in (
            "right",
            "wrong",
            "unclear",
            "unread",
        )
        return verdict

    return watching


def test_a_whole_class_from_every_kind_is_marked(tmp_path):
    """Wrong at the first try, right at the second: everyone gets everything, in every lesson."""
    count = len(exercises.problems())
    assignment = write_class(tmp_path, 2, min(count, 100))
    result = mark_folder(tmp_path, DEMO_KEY, assignment=assignment)
    assert not result.skipped and all(
        mark.score == mark.out_of and not mark.notes for mark in result.marks
    )


# Numbers that the package gave under these names before they were renamed.
HANDED_OUT = {
    "tyre_gain": ("lb", 669.3657718120805, "288 lb"),
    "centre_of_gravity": ("in", 39.1512513601741, "1,215 lb"),
    "filled_tyres": ("", "C", ""),
    "formula_centre": ("", "L × R0/(F0 + R0)", "the front reading"),
    "tyre_gain.2": ("lb", 718.8308823529412, "232 lb"),
}


def write_answers(folder, ticket):
    """One student's file, right at the first try."""
    body = list(lines(ticket, 1, random.Random(1)))
    (folder / f"{ticket.stem}.answers.txt").write_text(answer_text(ticket, body), "utf-8")


def test_an_assignment_handed_out_under_old_names_still_marks_right(tmp_path):
    kinds = [name.removesuffix(".2") for name in HANDED_OUT]
    old = read_assignment(file_text(Assignment("Old week", kinds, system="lb")).encode())
    ticket = ticket_of(demo_codes(1)[0], old)
    assert [item.name for item in old.items] == list(HANDED_OUT)
    for item in old.items:
        unit, answer, first = HANDED_OUT[item.name]
        problem = problem_for(ticket, item, 1)
        assert (problem.unit, next(iter(problem.given.values()), "")) == (unit, first)
        assert problem.answer == (answer if isinstance(answer, str) else pytest.approx(answer))
    write_answers(tmp_path, ticket)
    result = mark_folder(tmp_path, DEMO_KEY, assignment=old)
    assert [(mark.score, mark.out_of) for mark in result.marks] == [(5, 5)]
    assert len(result.items) == 5


def test_a_set_of_an_edition_that_is_not_known_is_refused_before_anything_is_written(tmp_path):
    for path in (Path(__file__).parent / "old_homework").iterdir():
        shutil.copy(path, tmp_path)
    told = tmp_path / "Old_week.assignment.txt"
    told.write_text(json.dumps(json.loads(told.read_text("utf-8")) | {"edition": 99}), "utf-8")
    before = {path: path.read_bytes() for path in tmp_path.iterdir()}
    with pytest.raises(Refusal, match=r"^edition of the problems: 99 was given; .*get the newer"):
        mark_folder(tmp_path, DEMO_KEY)
    assert {path: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_homework_of_an_older_workbook_marks_right_and_goes_on(tmp_path):
    """Assignment, ticket (then called slip) and answers as an older workbook wrote them."""
    for path in (Path(__file__).parent / "old_homework").iterdir():
        shutil.copy(path, tmp_path)
    result = mark_folder(tmp_path, DEMO_KEY, received="2031-03-14 17:00")
    assert [(mark.score, mark.out_of, mark.late) for mark in result.marks] == [(6, 6, "in time")]
    assert not any(mark.notes for mark in result.marks)
    assert [one.reason for one in result.skipped] == [
        "a ticket or an assignment, not an answer file"
    ]
    found = files_beside(tmp_path)
    assert len(found.tickets) == len(found.assignments) == 1 and not found.notes
    (tmp_path / "later").mkdir()
    home = Homework(found.tickets[0], tmp_path)
    assert all(home.standing(item.name).right for item in home.items)
    assert add_file((tmp_path / f"{home.ticket.stem}.slip.txt").read_bytes(), tmp_path / "later")
