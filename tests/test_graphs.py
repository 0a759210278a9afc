"""Graphs: drawn without pyplot, the same bytes every time, never without words."""

import random
import re
import subprocess
import sys
import xml.etree.ElementTree as ET

import pytest

from leverarm import graphs
from leverarm.graphs import without
from leverarm.quantities import Refusal

RNG = random.Random(5)
ALL = {
    "waterfall": lambda: graphs.waterfall(
        600, [("frame", 229.1), ("bucket", 190.0), ("ballast", -90.0)], title="Front"
    ),
    "intervals": lambda: graphs.intervals(
        [("weighed", 110, 105, 115), ("predicted", 112, 100, 124, "rear")], truth=111
    ),
    "histogram": lambda: graphs.histogram(
        [RNG.gauss(1.2, 0.1) for _ in range(2000)], unit="m", interval=(1.0, 1.4)
    ),
    "lines": lambda: graphs.lines(
        [0, 1, 2],
        [("front", [1, 2, 3], "front"), ("rear", [0, -1, -2], "rear")],
        x_name="overhang, m",
        y_name="change, kg",
        marks=[(1, "doubles")],
    ),
    "bars": lambda: graphs.bars([("front after", 40.0), ("tape", 12.5)]),
    "dots": lambda: graphs.dots([("front", [600, 602, 601, 602]), ("rear", [800, 799])]),
}


@pytest.mark.parametrize("name", ALL)
def test_every_graph_shows_itself_with_words(name):
    shown = ALL[name]()
    root = ET.fromstring(shown._repr_html_())
    assert root.get("role") == "img" and root.get("aria-label") == shown.words
    assert len(shown.words.split()) > 5 and shown.words.endswith(".")
    assert shown.png()[:8] == b"\x89PNG\r\n\x1a\n"


@pytest.mark.parametrize("name", ["waterfall", "bars", "dots", "intervals", "lines"])
def test_the_same_numbers_give_the_same_bytes(name):
    first, second = ALL[name]().svg, ALL[name]().svg
    assert first == second
    assert not re.search(r"20\d\d-\d\d-\d\d", first), "no date"


def test_a_waterfall_ends_where_the_steps_lead():
    shown = ALL["waterfall"]()
    assert "all 929.1 kg" in shown.words and "ballast −90.0" in shown.words
    heights = [patch.get_height() for patch in shown.figure.axes[0].patches]
    assert heights == pytest.approx([600, 229.1, 190, -90, 929.1])


def test_a_taken_off_step_is_hatched_not_only_colored():
    steps = ALL["waterfall"]().figure.axes[0].patches[1:4]
    assert [bool(patch.get_hatch()) for patch in steps] == [False, False, True]


def test_pdf_pages_are_written_whole_and_stay_the_same(tmp_path):
    pages = [ALL["bars"]().figure, ALL["dots"]().figure]
    one, two = (graphs.pdf(tmp_path / name, pages).read_bytes() for name in ("a.pdf", "b.pdf"))
    assert (
        one == two
        and one.startswith(b"%PDF")
        and one.count(b"/Type /Page\n") + one.count(b"/Type /Page ") >= 2
    )
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.pdf", "b.pdf"]


def test_a_failed_page_leaves_nothing_behind(tmp_path):
    with pytest.raises(Exception):
        graphs.pdf(tmp_path / "a.pdf", ["no figure"])
    assert not list(tmp_path.iterdir())


def test_pyplot_is_never_loaded():
    code = (
        "import sys; from leverarm import graphs; graphs.bars([('a', 1.0)]).svg;"
        "print('matplotlib.pyplot' in sys.modules)"
    )
    assert (
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True
        ).stdout.strip()
        == "False"
    )


# Where there is neither numpy nor matplotlib


@pytest.mark.parametrize("name", ALL)
def test_without_libraries_every_graph_is_drawn_with_the_same_words(name, monkeypatch):
    words = ALL[name]().words
    for one in ALL:
        monkeypatch.setattr(graphs, one, getattr(without, one))
    RNG.seed(5)
    first = ALL[name]()
    root = ET.fromstring(first._repr_html_())
    drawn = {tag.tag.rsplit("}", 1)[-1] for tag in root.iter()}
    assert root.get("role") == "img" and drawn & {"polygon", "polyline"} and "text" in drawn
    assert root.find("{*}desc").text == first.words and (
        first.words == words or name == "histogram"
    )


def test_without_libraries_a_step_stands_between_its_levels():
    root = ET.fromstring(without.waterfall(600, [("frame", 200.0), ("ballast", -100.0)]).shown)
    tall = [
        sorted({float(pair.split(",")[1]) for pair in box.get("points").split()})
        for box in root.iter()
        if box.tag.endswith("polygon")
    ]
    (bare, foot), (frame, joint), (dip, top), (end, _) = tall
    assert joint == bare and top != dip and frame == dip and end == top
    assert (foot - bare) / (joint - frame) == pytest.approx(3, rel=0.01)


def test_without_libraries_no_page_is_printed():
    with pytest.raises(Refusal, match="whole workbook"):
        without.pdf("a.pdf", [])


def test_without_libraries_nothing_asks_for_them():
    code = (
        "import sys; sys.modules['numpy'] = sys.modules['matplotlib'] = None; from leverarm import graphs;"
        "print(graphs.bars([('a', 1.0)]).shown[:4])"
    )
    assert (
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True
        ).stdout.strip()
        == "<svg"
    )
