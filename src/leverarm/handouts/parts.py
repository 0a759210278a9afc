"""Every generated part of ``lessons/``, written by one command and checked by the same.

``python -m leverarm.handouts``            writes what has changed
``python -m leverarm.handouts --check``    says what is stale
``python -m leverarm.handouts --seed 7 --folder FOLDER``   fresh worksheets with other numbers

A PDF carries the fingerprint of what stands on its pages, so that checking it
needs no drawing, and another release of matplotlib makes no page stale.
"""

import hashlib
from pathlib import Path

from leverarm.console import say
from leverarm.files import write_whole
from leverarm.handouts import plank_lab, poll_cards, standards, weigh_sheet, worksheets

PAPERS = weigh_sheet.PAPERS


def pages(seed=worksheets.SEED):
    """File name without paper and ending -> (title, function of the paper's size that makes its Figures)."""
    made = {
        "weigh_day_sheet": ("Weigh-day sheet", weigh_sheet.pages),
        "plank_lab": ("Plank lab", plank_lab.plank_lab),
        "poll_cards": ("Poll cards", poll_cards.poll_cards),
        "poll_questions": ("Poll questions", lambda size: poll_cards.poll_questions(size, seed)),
    }
    return {**made, **sheets(seed)}


def sheets(seed=worksheets.SEED):
    """The worksheets and their key, as in pages."""

    def one(lesson):
        return lambda size: worksheets.worksheet(lesson, size, seed)

    made = {
        f"worksheets/worksheet_{lesson:02d}": (f"Worksheet {lesson:02d}: {title}", one(lesson))
        for lesson, title in worksheets.TITLES.items()
    }
    return {
        **made,
        "worksheets/key": ("Key to the worksheets", lambda size: worksheets.key(size, seed)),
    }


def fingerprint(figures):
    """What stands on pages and where, in sixteen letters: words, sizes, places, lines; nothing of how they are drawn."""
    told = [_stands(figure) for figure in figures]
    return hashlib.sha256(repr(told).encode("utf-8")).hexdigest()[:16]


def _stands(figure):
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


def stale(folder, names=None):
    """Names of generated files in a folder that are missing or do not say what the package says now."""
    return [name for name, made in _wanted(folder, names) if not _current(folder / name, made)]


def write(folder, names=None, made=None):
    """Write generated parts into a folder, each whole or not at all; returns the names of those that changed."""
    changed = []
    for name, part in _wanted(folder, names, made):
        if not _current(folder / name, part):
            _write(folder / name, part)
            changed.append(name)
    return changed


def _wanted(folder, names=None, made=None):
    """(file name, text or (title, Figures)) of every generated part, or of those named."""
    if (folder / "standards.csv").is_file() and (names is None or "standards" in names):
        yield "standards.md", standards.matrix(folder)
    for stem, (title, make) in (made or pages()).items():
        if names is None or stem in names:
            for paper, size in PAPERS.items():
                yield f"{stem}_{paper.lower()}.pdf", (title, make(size))


def _current(path, part):
    if not path.is_file():
        return False
    if isinstance(part, str):
        return path.read_text("utf-8").replace("\r\n", "\n") == part
    return f"({fingerprint(part[1])})".encode() in path.read_bytes()


def _write(path, part):
    from leverarm.graphs import pdf

    path.parent.mkdir(parents=True, exist_ok=True)
    if isinstance(part, str):
        return write_whole(path, part.encode("utf-8"))
    title, figures = part
    return pdf(path, figures, title=title, keywords=fingerprint(figures))


def main(argv=None):
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
    told = asked.parse_args(argv)
    if told.check:
        old = stale(told.folder)
        say("\n".join(f"stale: {name}" for name in old) or "All generated pages are current.")
        return 1 if old else 0
    changed = write(told.folder, made=None if told.seed is None else sheets(told.seed))
    say("\n".join(f"written: {told.folder / name}" for name in changed) or "Nothing has changed.")
    return 0
