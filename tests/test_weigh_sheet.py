"""The weigh-day sheet: two pages on both papers, every word on the paper, the cautions first,
nothing called safe.
"""

import re
from pathlib import Path

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg

from leverarm import Refusal
from leverarm.handouts.sheet import PAPERS
from leverarm.handouts.weigh_sheet import CAUTIONS, readings_page, weigh_sheet, working_page

LESSONS = Path(__file__).resolve().parents[1] / "lessons"


def pages(data):
    return len(re.findall(rb"/Type /Page\b(?!s)", data))


def size(data):
    box = re.search(rb"/MediaBox \[ ?0 0 ([\d.]+) ([\d.]+)", data)
    return tuple(float(x) / 72 for x in box.groups())


def test_two_pages_of_the_paper_asked_for_and_the_same_bytes_every_time(tmp_path):
    """A4 here; what is committed on both papers is held below."""
    first, again = (weigh_sheet(tmp_path / f"{n}.pdf", "A4").read_bytes() for n in (1, 2))
    assert first == again
    assert pages(first) == 2 and size(first) == pytest.approx(PAPERS["A4"], abs=0.01)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("make", [readings_page, working_page])
def test_every_word_stands_on_the_paper_and_apart(paper, make):
    page = make(PAPERS[paper])
    draw = FigureCanvasAgg(page).get_renderer()
    boxes = [
        (text.get_text(), text.get_window_extent(draw))
        for text in page.axes[0].texts
        if text.get_text()
    ]
    width, height = page.bbox.width, page.bbox.height
    for words, box in boxes:
        assert (
            box.x0 >= 0 and box.y0 >= 0 and box.x1 <= width - 0.3 * page.dpi and box.y1 <= height
        ), words
    for i, (words, box) in enumerate(boxes):
        for other, there in boxes[:i]:
            assert not box.padded(-2).overlaps(there.padded(-2)), (words, other)


def test_the_cautions_come_first_and_promise_nothing():
    words = [text.get_text() for text in readings_page(PAPERS["A4"]).axes[0].texts]
    assert words.index("Before you start") < words.index("Readings")
    said = " ".join(CAUTIONS).lower()
    for needed in (
        "belt",
        "one height",
        "brakes released",
        "raised loader",
        "hydraulic pressure",
        "stands",
        "operator's manual",
    ):
        assert needed in said
    assert "safe" not in said


def test_there_is_a_cell_for_each_wheel_and_axle_and_the_question_what_changed():
    words = [text.get_text() for text in readings_page(PAPERS["A4"]).axes[0].texts]
    cells = [f"{axle}\n{part}" for axle in ("Front", "Rear") for part in ("left", "right", "axle")]
    assert [word for word in words if "\n" in word] == cells
    assert any("Fuel, operator and mower the same in all set-ups?" in word for word in words)
    bets = next(i for i, word in enumerate(words) if word.startswith("My bets"))
    assert bets < words.index("Readings"), "bets stand before the readings"


def test_the_committed_sheets_are_there(tmp_path):
    for paper in PAPERS:
        data = (LESSONS / f"weigh_day_sheet_{paper.lower()}.pdf").read_bytes()
        assert pages(data) == 2 and size(data) == pytest.approx(PAPERS[paper], abs=0.01)


def test_another_paper_is_refused(tmp_path):
    with pytest.raises(Refusal, match="paper"):
        weigh_sheet(tmp_path / "x.pdf", "A3")
