"""Every notebook keeps the shape of a lesson, and carries no output.

What no page may say stands in test_words.
"""

import ast
import json
import re
import statistics
from pathlib import Path

import pytest

NOTEBOOKS = sorted((Path(__file__).resolve().parents[1] / "notebooks").glob("*.ipynb"))
LESSONS = [p for p in NOTEBOOKS if re.match(r"(0[1-9]|10)_", p.name)]


def cells(path, kind=None):
    book = json.loads(path.read_text("utf-8"))
    return [c for c in book["cells"] if kind in (None, c["cell_type"])]


def text(cell):
    return "".join(cell["source"])


def code_lines(cell):
    return [line for line in text(cell).splitlines() if line.strip()]


def by_name(path):
    return path.stem


def test_there_are_notebooks():
    assert NOTEBOOKS and LESSONS


@pytest.mark.parametrize("path", NOTEBOOKS, ids=by_name)
def test_no_output_is_committed(path):
    book = json.loads(path.read_text("utf-8"))
    assert "widgets" not in book["metadata"]
    assert all(not c["outputs"] and c["execution_count"] is None for c in cells(path, "code"))
    assert len({c["id"] for c in book["cells"]}) == len(book["cells"])


@pytest.mark.parametrize("path", NOTEBOOKS, ids=by_name)
def test_the_first_cell_says_how_to_run(path):
    first = cells(path)[0]
    assert first["cell_type"] == "markdown" and "Run ▸ Run All Cells" in text(first)


@pytest.mark.parametrize("path", NOTEBOOKS, ids=by_name)
def test_code_lives_in_the_package(path):
    for cell in cells(path, "code"):
        assert len(code_lines(cell)) <= 12
        for node in ast.walk(ast.parse(text(cell))):
            if isinstance(node, ast.FunctionDef):
                assert node.end_lineno - node.lineno < 3


@pytest.mark.parametrize("path", NOTEBOOKS, ids=by_name)
def test_something_is_asserted(path):
    assert any("assert " in text(c) for c in cells(path, "code"))


@pytest.mark.parametrize("path", NOTEBOOKS, ids=by_name)
def test_pictures_exist_and_have_words(path):
    for cell in cells(path, "markdown"):
        for words, target in re.findall(r"!\[(.*?)\]\((.*?)\)", text(cell), re.DOTALL):
            assert len(words.split()) >= 5, f"say what the picture shows: {target}"
            assert (path.parent / target).is_file(), f"no such picture: {target}"


@pytest.mark.parametrize("path", NOTEBOOKS, ids=by_name)
def test_links_lead_somewhere(path):
    for cell in cells(path, "markdown"):
        for target in re.findall(r"(?<!!)\[[^\]]*\]\(([^)#]+)", text(cell)):
            assert target.startswith("https://") or (path.parent / target).exists(), (
                f"dead link: {target}"
            )


@pytest.mark.parametrize("path", LESSONS, ids=by_name)
def test_shape_of_a_lesson(path):
    everything, code = cells(path), cells(path, "code")
    words = sum(len(text(c).split()) for c in cells(path, "markdown"))
    kinds = "".join(c["cell_type"][0] for c in everything)
    assert 15 <= len(code) <= 30, "15 to 30 code cells"
    assert statistics.median(len(code_lines(c)) for c in code) <= 4, "most code cells are short"
    assert 0.45 <= 1 - len(code) / len(everything) <= 0.60, "about half the cells are words"
    assert "cccc" not in kinds, "no more than three code cells in a row"
    assert 800 <= words <= 1700, f"800 to 1700 words, not {words}"


@pytest.mark.parametrize("path", LESSONS, ids=by_name)
def test_parts_of_a_lesson(path):
    whole = "\n".join(text(c) for c in cells(path))
    for part in (
        "## What you will be able to do",
        "## Predict",
        "## Worked example",
        "## Exercises",
        "## Exit question",
        "## What this model leaves out",
    ):
        assert part in whole, f"a lesson has the part {part!r}"
    assert whole.index("## Predict") < whole.index("## Worked example"), (
        "predict before the explanation"
    )
    assert 3 <= len(re.findall(r"panels\.exercise\(", whole)) <= 6, (
        "three to five checked exercises, and an exit question"
    )
