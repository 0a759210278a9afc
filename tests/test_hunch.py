"""The hunch of the first page: kept, shown again, and not answered there."""

import json
from pathlib import Path

import pytest

from leverarm import panels
from leverarm.panels.hunch import ANSWERS, hunch, kept_hunch
from leverarm.panels.lesson_work import WORK_FILE
from leverarm.quantities import Refusal

PAGE = Path(__file__).resolve().parents[1] / "notebooks" / "00_start_here.ipynb"


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("front", ANSWERS["front"])
@pytest.mark.parametrize("rear", ANSWERS["rear"])
def test_every_hunch_is_kept_and_none_is_judged(front, rear):
    panel = hunch()
    panel.choices["front"].value, panel.choices["rear"].value = front, rear
    panel.lock_button.click()
    assert panel.error.value == "" and panel.said == {"front": front, "rear": rear}
    assert kept_hunch() == panel.said and hunch().said == panel.said
    for judging in ("right.", "wrong", "correct"):
        assert judging not in panel.reply.value.replace("whether it is right.", "")
    assert panel.choices["front"].disabled


@pytest.mark.parametrize("front, rear", [(None, "stays"), ("more", None), ("twice", "stays")])
def test_half_a_hunch_is_refused(front, rear):
    panel = hunch()
    with pytest.raises(Refusal, match="choose one"):
        panel.lock_in(front=front, rear=rear)
    assert panel.said == {} and kept_hunch() == {}
    panel.lock_button.click()
    assert "choose one" in panel.error.value


@pytest.mark.parametrize("held", [{"hunch_front": "more"}, {"hunch_front": 3, "hunch_rear": []}])
def test_a_kept_file_is_not_believed(folder, held):
    (folder / WORK_FILE).write_text(json.dumps({"00": held}), "utf-8")
    assert hunch().said == {}


def test_the_picture_has_no_number_and_the_page_no_answer():
    shown = hunch().widget.children[1].value
    assert "<svg" in shown and " lb<" not in shown and " kg<" not in shown
    page = PAGE.read_text("utf-8")
    for answer in ("about twice", "790", "720", "448", "more than the bucket", "doubles"):
        assert answer not in page


def test_what_waits_for_a_panel_says_so_and_names_no_picture():
    stage = panels.pivot_stage()
    solve = panels.after_why(stage, panels.solve_reaction)
    derived = panels.after_why(solve, panels.derived)
    assert "picture above" in solve.note.value and "the one above" in derived.note.value
