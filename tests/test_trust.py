"""The start signs the workbook's own notebooks, and none that came with an output."""

import json
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "src"))

from launch.trust import trust, unanswered

CELL = {"cell_type": "code", "id": "a", "metadata": {}, "source": "1", "execution_count": None}
OUTPUT = {"output_type": "stream", "name": "stdout", "text": "1"}
META = {"kernelspec": {"name": "python3", "display_name": "Python 3"}}


def book(*outputs):
    cell = {**CELL, "outputs": list(outputs)}
    return {"cells": [cell], "metadata": META, "nbformat": 4, "nbformat_minor": 5}


@pytest.fixture
def notary(tmp_path, monkeypatch):
    monkeypatch.setenv("JUPYTER_DATA_DIR", str(tmp_path / "data"))
    sign = pytest.importorskip("nbformat.sign")
    return sign.NotebookNotary


def test_only_notebooks_without_output_are_signed(tmp_path, notary):
    nbformat = pytest.importorskip("nbformat")
    folder = tmp_path / "notebooks"
    folder.mkdir()
    for name, whole in (("ours", book()), ("theirs", book(OUTPUT))):
        (folder / f"{name}.ipynb").write_text(json.dumps(whole), "utf-8")
    (folder / "spoiled.ipynb").write_text("{not json", "utf-8")
    assert trust(folder) == 1
    read = {
        name: nbformat.read(folder / f"{name}.ipynb", as_version=4) for name in ("ours", "theirs")
    }
    assert notary().check_signature(read["ours"]) and not notary().check_signature(read["theirs"])


@pytest.mark.parametrize(
    ("whole", "answer"),
    [
        (book(), True),
        (book(OUTPUT), False),
        ({}, True),
        ({"cells": [{"cell_type": "markdown", "source": "x"}]}, True),
    ],
)
def test_what_counts_as_unanswered(whole, answer):
    assert unanswered(whole) is answer
