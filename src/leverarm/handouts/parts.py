"""Every generated part of ``lessons/``, written by one command and checked by the same.

``python -m leverarm.handouts``            writes what has changed, and prints it as PDF files
``python -m leverarm.handouts --check``    says what is stale
``python -m leverarm.handouts --html``     writes the HTML alone
``python -m leverarm.handouts --seed 7 --folder FOLDER``   fresh worksheets with other numbers

A sheet is an HTML file; it is current when it says what the package says now.  Its PDF files carry
the fingerprint of the HTML they were printed from, so that checking them needs no browser.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TypeAlias

from leverarm.console import say
from leverarm.files import write_whole
from leverarm.handouts import plank_lab, poll_cards, printing, standards, weigh_sheet, worksheets
from leverarm.handouts.sheet import PAPERS
from leverarm.handouts.worksheet_key import worksheets_key
from leverarm.quantities import SYSTEMS

# A file's name without its ending -> what makes its text.
Sheets: TypeAlias = Mapping[str, Callable[[], str]]


def generated_sheets() -> Sheets:
    """Every sheet, in both unit systems where it has units."""
    made: dict[str, Callable[[], str]] = {"poll_cards": poll_cards.poll_cards}
    for system in SYSTEMS:
        made |= {
            f"weigh_day_sheet_{system}": partial(weigh_sheet.weigh_sheet, system),
            f"plank_lab_{system}": partial(plank_lab.plank_lab, system),
            f"poll_questions_{system}": partial(poll_cards.poll_questions, system),
        }
    return {**made, **worksheet_sheets()}


def worksheet_sheets(seed: int = worksheets.SEED) -> Sheets:
    """The worksheets and their keys."""
    made = {
        f"worksheets/worksheet_{lesson:02d}_{system}": partial(
            worksheets.worksheet, lesson, system, seed
        )
        for lesson in worksheets.TITLES
        for system in SYSTEMS
    }
    keys = {f"worksheets/key_{system}": partial(worksheets_key, system, seed) for system in SYSTEMS}
    return {**made, **keys}


def stale_parts(folder: Path) -> list[str]:
    """Names of generated files in a folder that are missing or not what the package says now."""
    wanted = dict(_wanted(folder, generated_sheets()))
    old = [name for name, text in wanted.items() if not _current(folder / name, text)]
    return [
        *old,
        *(path.relative_to(folder).as_posix() for _, path, _ in _unprinted(folder, wanted)),
    ]


def write_parts(folder: Path, sheets: Sheets | None = None) -> list[str]:
    """Write text and HTML into a folder, each whole or not at all; returns those that changed."""
    changed = []
    for name, text in _wanted(folder, sheets or generated_sheets()):
        if not _current(folder / name, text):
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            write_whole(folder / name, text.encode("utf-8"))
            changed.append(name)
    return changed


def print_parts(folder: Path, sheets: Sheets | None = None) -> list[str]:
    """Print the PDF files that are missing or stale; printing.NoBrowser where there is none."""
    wanted = _unprinted(folder, dict(_wanted(folder, sheets or generated_sheets())))
    return [path.relative_to(folder).as_posix() for path in printing.print_sheets(wanted)]


def _wanted(folder: Path, sheets: Sheets) -> Iterator[tuple[str, str]]:
    """(file name, text) of every part."""
    if (folder / "standards.csv").is_file():
        yield "standards.md", standards.matrix(folder)
    for stem, make in sheets.items():
        yield f"{stem}.html", make()


def _unprinted(folder: Path, wanted: Mapping[str, str]) -> list[tuple[str, Path, str]]:
    """(HTML, path, paper) of every PDF file that was not printed from this HTML."""
    return [
        (html, path, paper)
        for name, html in wanted.items()
        if name.endswith(".html")
        for paper in PAPERS
        for path in (folder / f"{name.removesuffix('.html')}_{paper.lower()}.pdf",)
        if not (path.is_file() and printing.carries(path.read_bytes(), html))
    ]


def _current(path: Path, text: str) -> bool:
    return path.is_file() and path.read_text("utf-8").replace("\r\n", "\n") == text


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
    asked.add_argument("--html", action="store_true", help="write no PDF files")
    asked.add_argument(
        "--seed", type=int, help="worksheets and key alone, with the numbers of another seed"
    )
    given = asked.parse_args(argv)
    if given.check:
        old = stale_parts(given.folder)
        say("\n".join(f"stale: {name}" for name in old) or "All generated pages are current.")
        return 1 if old else 0
    fresh = None if given.seed is None else worksheet_sheets(given.seed)
    changed = write_parts(given.folder, fresh)
    unprinted = ""
    if not given.html:
        try:
            changed += print_parts(given.folder, fresh)
        except printing.NoBrowser as why:
            unprinted = str(why)
    say("\n".join(f"written: {given.folder / name}" for name in changed) or "Nothing has changed.")
    if unprinted:
        say(unprinted)
    return 0
