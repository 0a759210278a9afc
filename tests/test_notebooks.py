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
LESSONS = [p for p in NOTEBOOKS if re.match(r"(?!00)\d\d_", p.name)]


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
    named = re.search(
        '<button data-commandlinker-command="notebook:run-all-cells".*?>(.+?)<', text(first)
    )
    assert named and f"Press **{named[1]}** once" in text(first)
    others = [text(cell) for cell in cells(path, "markdown")[1:]]
    assert not any("Run All Cells" in one and "Kernel" not in one for one in others)


@pytest.mark.parametrize("path", NOTEBOOKS, ids=by_name)
def test_code_is_folded_but_where_it_is_meant_to_be_read(path):
    code = cells(path, "code")
    for cell in code:
        assert text(cell).startswith("# "), "folded code shows its first line: say what it is"
        # A cell that teaches code, or is changed by hand, stays in sight.
        teaches = "teaches" in cell["metadata"].get("tags", [])
        assert cell["metadata"].get("jupyter", {}).get("source_hidden", False) is not teaches
    assert "assert " in text(code[-1]), "asserts in the last cell"
    assert all("assert " not in text(cell) for cell in code[:-1])


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


# Lessons in the form of a question: ask, lock in, show, why, try.  What answers is in the panel.
def asks(path):
    return "Start this lesson</button>" in text(cells(path)[0])


ASKING = [path for path in LESSONS if asks(path)]
TELLING = [path for path in LESSONS if not asks(path)]


@pytest.mark.parametrize("path", ASKING, ids=by_name)
def test_shape_of_a_lesson_that_asks(path):
    everything, code = cells(path), cells(path, "code")
    assert text(everything[0]).splitlines()[0].endswith("?"), "its title asks"
    assert all("print(" not in text(cell) for cell in code), "what answers stands in a panel"
    whole = "\n".join(text(c) for c in everything)
    for part in (
        "## Your call",
        "panels.worked_example",
        "panels.exit_question",
        "## What this leaves out",
    ):
        assert part in whole, f"a lesson has {part!r}"
    assert whole.index("## Your call") < whole.index("panels.worked_example")
    assert 3 <= len(re.findall(r"panels\.exercise\b", whole)) <= 5


@pytest.mark.parametrize("path", TELLING, ids=by_name)
def test_shape_of_a_lesson(path):
    everything, code = cells(path), cells(path, "code")
    words = sum(len(text(c).split()) for c in cells(path, "markdown"))
    kinds = "".join(c["cell_type"][0] for c in everything)
    assert 15 <= len(code) <= 30, "15 to 30 code cells"
    assert statistics.median(len(code_lines(c)) for c in code) <= 4, "most code cells are short"
    assert 0.45 <= 1 - len(code) / len(everything) <= 0.60, "about half the cells are words"
    assert "cccc" not in kinds, "no more than three code cells in a row"
    assert 600 <= words <= 1700, f"600 to 1700 words, not {words}"


@pytest.mark.parametrize("path", TELLING, ids=by_name)
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
