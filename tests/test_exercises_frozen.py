"""What a student was once given and told stays so: every kind, ten seeds, both unit systems.

`frozen_exercises.json.gz` was written by the package as it stood before its problems
became data.  Statement numbers, given letters, answers, and the suspects for a fixed
set of wrong answers must be what they were.  Words may change; NEW_NAMES says how what
stands in the file is called today.
"""

import gzip
import json
import re
from pathlib import Path

import pytest

from leverarm import exercises

FILE = Path(__file__).with_name("frozen_exercises.json.gz")
FROZEN = json.loads(gzip.decompress(FILE.read_bytes()))
# Old name -> name today; what is not listed kept its name.
NEW_KINDS = {
    "centre_of_gravity": "center_of_gravity",
    "inches_and_metres": "inches_and_meters",
    "millimetres_and_metres": "millimeters_and_meters",
    "tyre_gain": "tire_gain",
    "formula_centre": "formula_center",
    "centre_and_halves": "center_and_halves",
    "per_cent_of_what": "percent_of_what",
    "filled_tyres": "filled_tires",
    "wide_tyres": "wide_tires",
}
NEW_SUSPECTS: dict[str, str] = {}
_NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")


def numbers_in(text):
    """The numbers of a text, each once, whatever the words around them."""
    return sorted({number.replace(",", "").rstrip(".") for number in _NUMBER.findall(text)})


def as_kept(answer):
    """An answer as the file has it: a number with twelve digits, any other as its text."""
    return float(f"{answer:.12g}") if isinstance(answer, float) else str(answer)


def found(problem, typed):
    """What is compared: numbers, letters, unit, answer, and the suspects of each wrong answer."""
    options = [text for _, text in problem.options] if problem.style == "choice" else []
    return [
        numbers_in(" ".join([problem.statement, *options])),
        list(problem.given) if problem.style == "symbol" else [*problem.given.items()],
        problem.unit,
        as_kept(problem.answer),
        [
            [suspect.name for suspect in exercises.check(problem, one, sympy=False).suspects]
            for one in typed
        ],
    ]


def unpacked(case):
    """A case of the file in the shape of `found`, with today's names."""
    numbers, given, unit, answer, suspects = case
    names = [[FROZEN["suspects"][at] for at in row] for row in suspects]
    return [
        numbers,
        [tuple(pair) if isinstance(pair, list) else pair for pair in given],
        unit,
        answer.replace("centre", "center") if isinstance(answer, str) else answer,
        [[NEW_SUSPECTS.get(name, name) for name in row] for row in names],
    ]


def test_the_file_holds_what_it_says():
    kinds = FROZEN["kinds"]
    assert len(kinds) == 153
    numeric = [cases for cases in kinds.values() if len(cases) == 20]
    assert len(numeric) == 98, "ten seeds, both systems"
    assert all(len(cases) == 10 for cases in kinds.values() if cases not in numeric)
    wrong = sum(len(case["typed"]) for cases in kinds.values() for case in cases)
    assert wrong > 10_000


@pytest.mark.parametrize("old", FROZEN["kinds"])
def test_a_problem_keeps_its_numbers_and_its_suspects(old):
    name = NEW_KINDS.get(old, old)
    for case in FROZEN["kinds"][old]:
        problem = exercises.make(name, case["seed"], case["system"])
        assert found(problem, case["typed"]) == unpacked(case["found"]), (
            f"{name}, seed {case['seed']}, {case['system']}"
        )


@pytest.mark.parametrize("old, new", NEW_KINDS.items())
def test_a_name_of_before_still_finds_its_problem(old, new):
    assert exercises.make(old, 5) == exercises.make(new, 5)
    assert exercises.kind_named(old).name == new
    assert old not in {kind.name for kind in exercises.problems()}
