"""The committed pictures are the ones the package draws; each says in words what it shows."""

import os
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from leverarm import figures
from leverarm.scene.palette import PAPER

FOLDER = Path(__file__).resolve().parents[1] / "figures"


@pytest.mark.parametrize("name", figures.FIGURES)
def test_every_figure_is_in_a_page(name):
    book = FOLDER.parent
    pages = [book / "README.md", *book.glob("lessons/*.md"), *book.glob("notebooks/*.ipynb")]
    assert any(f"figures/{name}.svg" in page.read_text("utf-8") for page in pages), (
        f"no page shows {name}"
    )


@pytest.mark.parametrize("name", figures.FIGURES)
def test_committed_figures_are_current(name):
    for file, text in figures.figure_files(name).items():
        assert (FOLDER / file).is_file(), f"missing: run python -m leverarm.figures {name}"
        assert (FOLDER / file).read_text("utf-8").replace("\r\n", "\n") == text, (
            f"stale: run python -m leverarm.figures {name}"
        )


def test_no_figure_is_left_over():
    assert figures.stale_figures(FOLDER) == []


@pytest.mark.parametrize("name", figures.FIGURES)
def test_every_figure_stands_on_its_own_paper_and_says_what_it_shows(name):
    drawing, words = figures.figure_files(name).values()
    root = ET.fromstring(drawing)
    assert root.get("role") == "img"
    if name in figures.SCENES:
        assert 'class="lv-paper" width="100%"' in drawing and PAPER[1] in drawing
    else:  # a still of the stage lies on white paper whatever the theme
        assert 'class="st-ground"></rect>' in drawing and "light-dark" not in drawing
    assert 40 < len(words) < 1200 and words.rstrip().endswith(".")
    assert "http" not in drawing.replace("http://www.w3.org/2000/svg", "")


def test_writing_twice_changes_nothing_and_leaves_nothing_behind(tmp_path):
    assert len(figures.write_figures(tmp_path)) == 2 * len(figures.FIGURES)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert figures.write_figures(tmp_path) == []
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before
    assert set(before) == {f"{name}.{end}" for name in figures.FIGURES for end in ("svg", "txt")}


def test_check_names_what_is_stale_missing_or_left_over(tmp_path, capsys):
    figures.write_figures(tmp_path)
    assert figures.main(["--check", "--folder", str(tmp_path)]) == 0
    (tmp_path / "side_view.svg").write_text("old", "utf-8")
    (tmp_path / "plank_predict.txt").unlink()
    (tmp_path / "nobody.svg").write_text("x", "utf-8")
    assert figures.main(["--check", "--folder", str(tmp_path)]) == 1
    assert [line.split()[-1] for line in capsys.readouterr().out.splitlines()[1:]] == [
        "nobody.svg",
        "plank_predict.txt",
        "side_view.svg",
    ]


def test_line_ends_of_another_system_are_not_stale(tmp_path):
    figures.write_figures(tmp_path, ["side_view"])
    path = tmp_path / "side_view.txt"
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    assert "side_view.txt" not in figures.stale_figures(tmp_path)


def test_an_unknown_name_is_refused_and_writes_nothing(tmp_path, capsys):
    assert figures.main(["no_such", "--folder", str(tmp_path / "new")]) == 1
    assert "no_such was given" in capsys.readouterr().err and not (tmp_path / "new").exists()


def test_a_failed_write_keeps_the_old_file(tmp_path, monkeypatch):
    figures.write_figures(tmp_path, ["side_view"])
    (tmp_path / "side_view.svg").write_text("old", "utf-8")
    monkeypatch.setattr(os, "replace", lambda *_: (_ for _ in ()).throw(OSError("disk full")))
    with pytest.raises(OSError):
        figures.write_figures(tmp_path, ["side_view"])
    assert (tmp_path / "side_view.svg").read_text("utf-8") == "old" and len(
        list(tmp_path.iterdir())
    ) == 2
