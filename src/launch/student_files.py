"""What a student is given, by the class site and by the class server alike: these files, no others.

Plans, keys, poll questions and the pages for those who teach are not named here, so they stay
with the instructor, and so does every file that is added later and not named.
"""

from pathlib import Path

from .places import ROOT

GIVEN = {
    "notebooks": ("[0-9][0-9]_*.ipynb", "homework.ipynb"),
    "lessons": (
        "cautions.md",
        "glossary.md",
        "sources.md",
        "weigh_day_record.md",
        "plank_lab_*.html",
        "plank_lab_*.pdf",
        "poll_cards*.html",  # the cards to hold up: four letters
        "poll_cards*.pdf",
        "weigh_day_sheet_*.html",
        "weigh_day_sheet_*.pdf",
        "worksheets/worksheet_*.html",
        "worksheets/worksheet_*.pdf",
    ),
    "figures": ("*.svg",),
}


def student_files(part: str, folder: Path | None = None) -> list[Path]:
    """The files of `notebooks`, `lessons` or `figures` that a student is given, in order.

    `folder` is where that part lies, if not in this workbook.
    """
    top = folder or ROOT / part
    return sorted(path for pattern in GIVEN[part] for path in top.glob(pattern))
