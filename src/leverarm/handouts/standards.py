"""The table of standards as a page: lessons and their goals, goals and their standards.

The goals of a lesson stand in its plan; what a goal supports stands in ``standards.csv``.
"""

import csv
import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TypeAlias

# stem, title, goals worked at, goals supported
Plan: TypeAlias = tuple[str, str, list[str], list[str]]

GOALS = tuple(f"G{number}" for number in range(1, 13))
MAIN, SIDE = "●", "○"
_HEAD = """# Lessons, goals, standards

Written by `python -m leverarm.handouts` from the plans and from \
[`standards.csv`](standards.csv). Change those, not this page.
A standard is *supported*: the lessons work at a part of it. Read the standard itself \
before you claim it.

"""


def rows(folder: Path) -> list[dict[str, str]]:
    """The rows of standards.csv as dictionaries."""
    with open(folder / "standards.csv", encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def goals(plan: str) -> tuple[list[str], list[str]]:
    """The goals a plan names: those it works at, those it supports."""
    line = re.search(r"^\*\*Goals\.\*\*(.*)$", plan, re.MULTILINE)
    main, _, side = (line.group(1) if line else "").partition("supports")
    return re.findall(r"\bG\d+\b", main), re.findall(r"\bG\d+\b", side)


def lesson_plans(folder: Path) -> Iterator[Plan]:
    """Every plan there is, in lesson order."""
    for path in sorted(folder.glob("[01][0-9]_*.md")):
        text = path.read_text("utf-8")
        title = re.match(r"# Lesson \d+ plan: (.+)", text)
        if title:
            main, side = goals(text)
            yield path.stem, title.group(1), main, side


def matrix(folder: Path) -> str:
    """The page as Markdown text."""
    table, plans = rows(folder), list(lesson_plans(folder))
    words = {row["goal"]: row["words"] for row in table if row["standard"] == "goal"}
    return _HEAD + "\n\n".join((_goals(plans, words), _standards(table, plans))) + "\n"


def _goals(plans: Sequence[Plan], words: dict[str, str]) -> str:
    """Lessons across, goals down."""
    lines = [
        _line("goal", "what a student can do", *(stem[:2] for stem, *_ in plans)),
        _line(*["---"] * (len(plans) + 2)),
    ]
    lines += [
        _line(goal, words.get(goal, ""), *(_mark(goal, main, side) for _, _, main, side in plans))
        for goal in GOALS
    ]
    return f"## Goals by lesson\n\n{MAIN} works at it, {SIDE} supports it.\n\n" + "\n".join(lines)


def _standards(table: list[dict[str, str]], plans: Sequence[Plan]) -> str:
    """Standards down, with the goals and lessons that support each."""
    by_standard: dict[str, list[dict[str, str]]] = {}
    for row in table:
        if row["standard"] != "goal":
            by_standard.setdefault(row["standard"], []).append(row)
    lines = [
        _line("standard", "what it asks, in our words", "goals", "lessons", "wording read"),
        _line(*["---"] * 5),
    ]
    for code, some in by_standard.items():
        held = [row["goal"] for row in some]
        where = [stem[:2] for stem, _, main, side in plans if set(held) & set(main)]
        lines.append(
            _line(code, some[0]["words"], " ".join(held), " ".join(where), some[0]["verified"])
        )
    return "## Standards supported\n\n" + "\n".join(lines)


def _mark(goal: str, main: Sequence[str], side: Sequence[str]) -> str:
    return MAIN if goal in main else SIDE if goal in side else ""


def _line(*cells: str) -> str:
    return "| " + " | ".join(cells) + " |"
