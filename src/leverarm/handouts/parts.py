"""Every generated part of ``lessons/``, written by one command and checked by the same.

``python -m leverarm.handouts``            writes what has changed
``python -m leverarm.handouts --check``    says what is stale
``python -m leverarm.handouts --seed 7 --folder FOLDER``   fresh worksheets with other numbers

A PDF carries the fingerprint of what stands on its pages, so that checking it
needs no drawing, and another release of matplotlib makes no page stale.
"""

import hashlib
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any, TypeAlias

from leverarm.console import say
from leverarm.files import write_whole
from leverarm.handouts import plank_lab, poll_cards, standards, weigh_sheet, worksheets
from leverarm.handouts.sheet import PAPERS, Figure, Size

GeneratedPart: TypeAlias = tuple[str, Callable[[Size], list[Figure]]]  # title, what draws its pages
Content: TypeAlias = str | tuple[str, list[Figure]]  # text, or title and pages


def generated_parts(seed: int = worksheets.SEED) -> dict[str, GeneratedPart]:
    """File name without paper and ending -> title and what draws its pages."""
    made: dict[str, GeneratedPart] = {
        "weigh_day_sheet": ("Weigh-day sheet", weigh_sheet.pages),
        "plank_lab": ("Plank lab", plank_lab.plank_lab),
        "poll_cards": ("Poll cards", poll_cards.poll_cards),
        "poll_questions": ("Poll questions", lambda size: poll_cards.poll_questions(size, seed)),
    }
    return {**made, **worksheet_parts(seed)}


def worksheet_parts(seed: int = worksheets.SEED) -> dict[str, GeneratedPart]:
    """The worksheets and their key, as in generated_parts."""

    def one(lesson: int) -> Callable[[Size], list[Figure]]:
        return lambda size: worksheets.worksheet(lesson, size, seed)

    made: dict[str, GeneratedPart] = {
        f"worksheets/worksheet_{lesson:02d}": (f"Worksheet {lesson:02d}: {title}", one(lesson))
        for lesson, title in worksheets.TITLES.items()
    }
    return {
        **made,
        "worksheets/key": (
            "Key to the worksheets",
            lambda size: worksheets.worksheets_key(size, seed),
        ),
    }


def fingerprint(figures: Sequence[Figure]) -> str:
    """What stands on pages and where, in sixteen letters: words, sizes, places, lines.

    How they are drawn does not count.
    """
    standing = [_stands(figure) for figure in figures]
    return hashlib.sha256(repr(standing).encode("utf-8")).hexdigest()[:16]


def _stands(figure: Figure) -> tuple[Any, ...]:
    axes = figure.axes[0]
    words = [
        (
            text.get_text(),
            *(f"{x:.3f}" for x in text.get_position()),
            text.get_fontsize(),
            str(text.get_weight()),
        )
        for text in axes.texts
    ]
    lines = [
        [f"{x:.3f} {y:.3f}" for x, y in line.get_xydata()]
        + [line.get_linewidth(), line.get_marker()]
        for line in axes.lines
    ]
    return [f"{inches:.2f}" for inches in figure.get_size_inches()], words, lines


def stale_parts(folder: Path) -> list[str]:
    """Names of generated files in a folder that are missing or not what the package says now."""
    wanted = _wanted(folder, generated_parts())
    return [name for name, content in wanted if not _current(folder / name, content)]


def write_parts(folder: Path, parts: dict[str, GeneratedPart] | None = None) -> list[str]:
    """Write generated parts into a folder, each whole or not at all; returns those that changed."""
    changed = []
    for name, content in _wanted(folder, parts or generated_parts()):
        if not _current(folder / name, content):
            _write(folder / name, content)
            changed.append(name)
    return changed


def _wanted(folder: Path, parts: dict[str, GeneratedPart]) -> Iterator[tuple[str, Content]]:
    """(file name, what is in it) of every part."""
    if (folder / "standards.csv").is_file():
        yield "standards.md", standards.matrix(folder)
    for stem, (title, make) in parts.items():
        for paper, size in PAPERS.items():
            yield f"{stem}_{paper.lower()}.pdf", (title, make(size))


def _current(path: Path, content: Content) -> bool:
    if not path.is_file():
        return False
    if isinstance(content, str):
        return path.read_text("utf-8").replace("\r\n", "\n") == content
    return f"({fingerprint(content[1])})".encode() in path.read_bytes()


def _write(path: Path, content: Content) -> None:
    from leverarm.graphs import pdf

    path.parent.mkdir(parents=True, exist_ok=True)
    if isinstance(content, str):
        write_whole(path, content.encode("utf-8"))
        return
    title, figures = content
    pdf(path, figures, title=title, keywords=fingerprint(figures))


def main(argv: Sequence[str] | None = None) -> int:
    """The command line: 0 where all is well, 1 where something is stale or not to be used."""
    import argparse

    asked = argparse.ArgumentParser(
        "python -m leverarm.handouts", description="Write the generated pages of lessons."
    )
    asked.add_argument(
        "--folder", default="lessons", type=Path, help="where they go (default: lessons)"
    )
    asked.add_argument("--check", action="store_true", help="only say which files are stale")
    asked.add_argument(
        "--seed", type=int, help="worksheets and key alone, with the numbers of another seed"
    )
    given = asked.parse_args(argv)
    if given.check:
        old = stale_parts(given.folder)
        say("\n".join(f"stale: {name}" for name in old) or "All generated pages are current.")
        return 1 if old else 0
    fresh = None if given.seed is None else worksheet_parts(given.seed)
    changed = write_parts(given.folder, fresh)
    say("\n".join(f"written: {given.folder / name}" for name in changed) or "Nothing has changed.")
    return 0
