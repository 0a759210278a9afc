"""The page for many schools holds the sums of what was measured, and nothing typed in between."""

import json
import re
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent / "bench"))

import many_schools as sums
from cluster_image import RECIPE, Image, steps

ROOT = Path(__file__).parents[1]
FOUND = json.loads(sums.MEASURED.read_text("utf-8"))
ONE = {"requests": 150, "bytes": 12_500_000}


def test_the_tables_of_the_page_follow_from_what_was_measured():
    page = sums.PAGE.read_text("utf-8")
    assert sums.filled(page, FOUND) == page, "python tests/bench/many_schools.py writes them"


def test_a_table_that_was_changed_by_hand_is_seen():
    page = sums.PAGE.read_text("utf-8").replace("| 1,000 |", "| 1,001 |")
    assert sums.filled(page, FOUND) != page


def test_the_sums_are_those_of_students_who_come_one_by_one():
    """A line that sends to one student after another, a tenth of a second at a time."""
    students, mbit, step = 30, 100, 0.1
    left, seconds = [ONE["bytes"]] * students, 0.0
    while any(left):
        room, seconds = mbit * 1e6 / 8 * step, seconds + step
        for at, waiting in enumerate(left):
            taken = min(room, waiting)
            left[at], room = waiting - taken, room - taken
    assert sums.seconds_for(students, ONE["bytes"], mbit) == pytest.approx(seconds, abs=2 * step)
    assert sums.seconds_for(students, ONE["bytes"], mbit) == pytest.approx(30)


@pytest.mark.parametrize(
    "value, says",
    [(950, "1 kB"), (37_700, "38 kB"), (1.24e9, "1.2 GB"), (124e9, "124 GB"), (2.5e12, "2.5 TB")],
)
def test_amounts(value, says):
    assert sums.amount(value) == says


@pytest.mark.parametrize("value, says", [(29.6, "30 s"), (300, "5 min"), (9000, "2.5 h")])
def test_times(value, says):
    assert sums.spell(value) == says


def test_what_was_tried_agrees_with_the_sums():
    tried = FOUND["tried"]
    assert tried["students"] == 100 and tried["requests"] == tried["sum_requests"]
    assert tried["bytes"] == pytest.approx(tried["sum_bytes"], rel=0.02)
    assert 0.95 < tried["seconds"] / tried["sum_seconds"] < 1.5, "no line is faster than itself"


def test_a_returning_student_costs_far_less_than_a_new_one():
    first, again = (
        FOUND["visits"][visit]["compressed"]["bytes"]
        for visit in ("lesson 02, first visit", "lesson 02 on another day")
    )
    assert again < 0.01 * first < 0.01 * 16e6


# The image of the cluster --------------------------------------------------------------------


def test_the_recipe_takes_the_releases_that_were_tried_and_copies_what_is_there():
    told = list(steps(RECIPE.read_text("utf-8")))
    assert told[0][0] == "FROM"
    run = " ".join(rest for word, rest in told if word == "RUN")
    assert "-c src/constraints.txt" in run and "[server]" in run
    copied = [rest.split()[0] for word, rest in told if word == "COPY"]
    assert all((ROOT / name).exists() for name in copied)
    left_in = (RECIPE.parent / (RECIPE.name + ".dockerignore")).read_text().split()
    assert {f"!{name}" for name in copied} == {row for row in left_in if row.startswith("!")}


def test_the_values_start_what_the_recipe_holds():
    values = (RECIPE.parent / "values.yaml").read_text("utf-8")
    start = json.loads(re.search(r"cmd: (\[.*\])", values)[1])
    command = next(rest for word, rest in steps(RECIPE.read_text("utf-8")) if word == "CMD")
    assert json.loads(command) == start
    assert (ROOT / start[1].removeprefix("/opt/leverarm/")).is_file()
    assert "homeMountPath: /home/student" in values


def test_a_step_of_the_recipe_lands_below_the_folder(tmp_path, monkeypatch):
    monkeypatch.setattr("subprocess.run", lambda *told, **more: None)
    image = Image(tmp_path / "image")
    image.do("WORKDIR", "/opt/leverarm")
    image.do("COPY", "requirements.txt ./")
    image.do("USER", "student")
    assert (tmp_path / "image" / "opt" / "leverarm" / "requirements.txt").is_file()
    assert image.moved("python /opt/x -c src/opt/y") == f"python {image.folder}/opt/x -c src/opt/y"
    assert image.left_out == ["USER student"]
    with pytest.raises(ValueError, match="teach it"):
        image.do("ADD", "x y")
