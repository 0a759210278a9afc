"""What was measured stands in figures/: every part, with its table made from it.

Never a timing: a busy machine fails no test.
"""

import ast
import copy
import json
import math
import re
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent / "bench"))

from report import PARTS, page

ROOT = Path(__file__).parents[1]
BENCH = ROOT / "tests" / "bench"
MEASURED = ROOT / "figures" / "bench.json"


def part(name):
    """A part as a benchmark leaves it."""
    return {
        "bench": f"bench_{name}",
        "quick": False,
        "seconds": 12.0,
        "machine": {"load_average": 0.5},
        "tables": [
            {
                "title": f"The {name}, ms",
                "head": ["what", "ms"],
                "rows": [["a | b", "1.0 (0.9 to 1.2)"]],
            }
        ],
        "checks": [
            {"what": "ratio", "value": 1.25, "limit": 2, "bound": "at most", "met": True},
            {"what": "growth", "value": 3.0, "limit": 1.1, "bound": "at most", "met": False},
        ],
    }


@pytest.fixture
def record():
    here = {
        "python": "3.13.1",
        "system": "Linux",
        "processor": "Some processor",
        "processors": 2,
        "load_average": 0.1,
        "at": "2031-03-14 10:00:00",
        "packages": {"numpy": "2.4.0", "sympy": None},
    }
    return {
        "quick": False,
        "machine": here,
        "seconds": 500.0,
        "parts": {name: part(name) for name in PARTS},
    }


def test_every_part_is_a_benchmark_of_its_own_and_can_be_tried_out():
    for name in PARTS:
        text = (BENCH / f"bench_{name}.py").read_text("utf-8")
        assert ast.get_docstring(ast.parse(text)) and "many(" in text
        assert f'save("bench_{name}"' in text.replace("save(\n        ", "save(")
        assert "verdict(" in text and "table(" in text


def test_the_page_tells_machine_parts_checks_and_tables(record):
    told = page(record)
    assert (
        "Measured 2031-03-14 10:00:00 in 8.3 minutes" in told
        and "2 × Some processor; numpy 2.4.0." in told
    )
    assert re.findall(r"^## (\w+)$", told, re.M) == [name.capitalize() for name in PARTS]
    assert (
        told.count("| ratio | 1.25 | at most 2 | met |")
        == told.count("| growth | 3 | at most 1.1 | **missed** |")
        == len(PARTS)
    )
    assert told.count("| a \\| b | 1.0 (0.9 to 1.2) |") == len(PARTS) and "trial" not in told


def test_a_trial_says_that_it_is_one(record):
    assert "these numbers say nothing" in page(record | {"quick": True})


def test_every_table_has_as_many_cells_in_each_row(record):
    for told in (
        record,
        *([json.loads(MEASURED.read_text("utf-8"))] if MEASURED.is_file() else []),
    ):
        widths = [
            [len(re.findall(r"(?<!\\)\|", line)) for line in block.splitlines()]
            for block in page(told).split("\n\n")
            if block.startswith("|")
        ]
        assert widths and all(len(set(each)) == 1 for each in widths)


def test_the_page_is_made_of_the_record_alone(record):
    other = copy.deepcopy(record)
    other["parts"]["import"]["checks"][0]["value"] = 1.75
    assert page(record) == page(copy.deepcopy(record)) != page(other)


@pytest.mark.skipif(
    not MEASURED.is_file(), reason="nothing has been measured yet: run python tests/bench"
)
def test_what_was_measured_is_whole_and_its_page_is_current():
    told = json.loads(MEASURED.read_text("utf-8"))
    assert not told["quick"] and list(told["parts"]) == list(PARTS)
    assert (
        told["machine"]["processors"]
        and told["machine"]["packages"]["sympy"]
        and told["machine"]["load_average"] is not None
    )
    for name, one in told["parts"].items():
        assert (
            not one["quick"] and one["tables"] and all(table["rows"] for table in one["tables"])
        ), name
        assert one["checks"] and all(math.isfinite(check["value"]) for check in one["checks"]), name
        assert one["machine"]["load_average"] is not None
    assert MEASURED.with_suffix(".md").read_text("utf-8").replace("\r\n", "\n") == page(told), (
        "run python tests/bench"
    )
    for text in (MEASURED.read_text("utf-8"), page(told)):
        assert not re.search(r"/(home|root|tmp|Users)/|\\Users\\|https?://", text), (
            "nothing tells whose machine it was"
        )
