"""The analysis of a trial: against numpy, on invented trials of a known difference, bad files."""

import math
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from leverarm.concept_check import trial
from leverarm.concept_check.desk import imagined_check
from leverarm.concept_check.simulated import Imagined
from leverarm.quantities import Refusal

np = pytest.importorskip("numpy")
SAME = Imagined(gain=0.3)


def joined(groups):
    return [[pair for pairs in classes for pair in pairs] for classes in groups]


def test_the_difference_and_its_plus_minus_agree_with_welch_worked_in_numpy():
    one, other = joined(trial.simulated_trial(3, Imagined(gain=0.5), SAME, 1, 12))
    gains, errors = [], []
    for pairs in (one, other):
        pre, post = np.array(pairs).T
        g = (post.mean() - pre.mean()) / (100 - pre.mean())
        rests = post - (1 - g) * pre
        gains.append(g)
        errors.append(rests.std(ddof=1) / math.sqrt(12) / (100 - pre.mean()))
    found = trial.gain_difference(one, other)
    u = math.hypot(*errors)
    nu = u**4 / (errors[0] ** 4 / 11 + errors[1] ** 4 / 11)
    # Student's t between 20 and 22 degrees of freedom lies between 2.074 and 2.086: any table.
    assert 19 < nu <= 22 and found.value == pytest.approx(gains[0] - gains[1])
    assert 2.07 * u < found.plus_minus < 2.10 * u


@pytest.mark.parametrize("more, classes, students", [(0.0, 1, 12), (0.2, 2, 15), (0.2, 4, 20)])
def test_a_known_difference_is_held_by_its_plus_minus(more, classes, students):
    held, trials = 0, 250
    for seed in range(trials):
        groups = trial.simulated_trial(seed, Imagined(gain=0.3 + more), SAME, classes, students)
        found = trial.gain_difference(*joined(groups))
        held += abs(found.value - more) <= found.plus_minus
    # Three times what chance moves the share of 250 trials: 4.1 percent.
    assert 0.909 <= held / trials <= 0.991


@pytest.mark.parametrize(
    "with_it, without, says",
    [
        ([[(40, 70)] * 4], [[(40, 50)] * 9], "at least 5 students"),
        ([[(40, 70), (30, 50)] * 4], [[(40, 70), (30, 50)] * 4], "Zero lies inside"),
        ([[(40, 80), (30, 70)] * 9], [[(40, 42), (30, 32)] * 9], "with the workbook gained more"),
        ([[(40, 42), (30, 32)] * 9], [[(40, 80), (30, 70)] * 9], "The group without the workbook"),
        ([[(40, 70)] * 9], [[(40, 70)] * 9], "no ± that could be given"),
    ],
)
def test_what_a_trial_may_say(with_it, without, says):
    said = " ".join(trial.report(with_it, without))
    assert says in said
    if "at least" not in says:
        assert "two teachers" in said and "not validated" in said
        assert "two teachers" not in " ".join(trial.report(with_it * 4, without * 4))


def test_a_group_without_room_is_refused():
    with pytest.raises(Refusal, match="room left to gain"):
        trial.report([[(100, 100)] * 9], [[(40, 50)] * 9])


def test_the_sheet_that_the_desk_writes_is_read(tmp_path):
    result, folder = imagined_check(tmp_path / "one").read()
    path = folder / "students.csv"
    pairs = trial.read_students(path.read_bytes(), path.name)
    assert sorted(pairs) == sorted(row.pair for row in result.students if row.pair is not None)


@pytest.mark.parametrize(
    "data, says",
    [
        (b"code,name\n1,2\n", "without a column right before"),
        (b"right before,right after,out of\n13,5,12\n", "none above the number of questions"),
        (b"right before,right after,out of\n-1,5,12\n", "none above the number of questions"),
        (b"right before,right after,out of\n3,x,12\n", "none above the number of questions"),
        (b"", "1 to 5000 rows"),
    ],
)
def test_a_file_of_something_else_is_refused(data, says):
    with pytest.raises(Refusal, match=says):
        trial.read_students(data, "class.csv")


@pytest.mark.parametrize("names", [[], ["a.csv"], ["a", "b", "c"], ["-", "a"], ["a", "-"]])
def test_the_groups_must_be_told(names):
    with pytest.raises(Refusal, match="dash between the groups"):
        trial.main(names)


def test_a_class_that_stands_there_twice_is_refused(tmp_path):
    """Every students.csv has the same name, so that one is soon copied twice."""
    one, again, other = (tmp_path / name for name in ("one.csv", "again.csv", "other.csv"))
    _, folder = imagined_check(tmp_path / "class").read()
    for path in (one, again):
        path.write_bytes((folder / "students.csv").read_bytes())
    _, folder = imagined_check(tmp_path / "second", 30).read()
    other.write_bytes((folder / "students.csv").read_bytes())
    with pytest.raises(Refusal, match=r"one\.csv twice"):
        trial.main([str(one), str(one)])
    with pytest.raises(Refusal, match=r"again\.csv, the same as one\.csv"):
        trial.main([str(one), str(other), "-", str(again)])
    assert trial.main([str(one), str(other)]) == 0


def test_a_loss_has_a_minus_sign_as_everywhere():
    said = " ".join(trial.report([[(40, 45), (50, 50), (45, 50)] * 3], [[(40, 80), (50, 90)] * 4]))
    assert "Difference of the gains: \u22120." in said


def test_the_commands_of_the_page_run_as_they_are_written(tmp_path):
    """In the workbook's folder, with the sheets named as the page names them."""
    page = (Path(__file__).parents[1] / "lessons" / "trial.md").read_text("utf-8")
    commands = re.findall(r"^    \.venv/bin/python (-m leverarm\.concept_check .+)$", page, re.M)
    assert len(commands) == 2
    for at, name in enumerate(("one", "two", "three", "four")):
        _, folder = imagined_check(tmp_path / name, 12 + at).read()
        (tmp_path / f"{name}.csv").write_bytes((folder / "students.csv").read_bytes())
    for words in commands:
        run = subprocess.run(
            [sys.executable, *words.split()],
            capture_output=True,
            cwd=tmp_path,
            encoding="utf-8",
            env=os.environ | {"PYTHONIOENCODING": "utf-8"},
        )
        assert run.returncode == 0 and "Difference of the gains" in run.stdout, run.stderr


def test_the_command_runs_on_an_invented_trial(capsys):
    assert trial.main(["--simulated"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Invented classes") and said.count("4 classes, 80 students") == 2
    assert "Difference of the gains: +0." in said
    run = subprocess.run(
        [sys.executable, "-m", "leverarm.concept_check", "nowhere.csv", "no.csv"],
        capture_output=True,
        text=True,
    )
    assert run.returncode == 1 and "nowhere.csv" in run.stderr and "Traceback" not in run.stderr
