"""Worksheets on paper, one a lesson, and their key: problems with the numbers of one seed.

worksheet(lesson, size, seed)     two pages: the same problems in pounds and in kilograms
key(size, seed)                   pages with every answer and its working
"""

from collections.abc import Mapping
from functools import lru_cache

from leverarm.data import OnDemand, lessons
from leverarm.exercises import PRINCIPLES, Problem, make
from leverarm.handouts.sheet import EDGE, Figure, Sheet, Size, Trial, block_height
from leverarm.quantities import Refusal

SEED = 41
SYSTEM_NAMES = {"lb": "pounds and inches", "kg": "kilograms and meters"}
# Titles, and five or six of a lesson's kinds, easiest first; the last is a choice to argue about.
TITLES: Mapping[int, str] = OnDemand(
    lambda: {number: entry.part("lesson").text("title") for number, entry in lessons().items()}
)
CHOSEN: Mapping[int, tuple[str, ...]] = OnDemand(
    lambda: {number: entry.part("lesson").texts("worksheet") for number, entry in lessons().items()}
)
_HOW = (
    "Principle first, then letters, then numbers, then the unit. Work on the back too. "
    "Can each answer be right?"
)
RING = "First step, ring one:"


@lru_cache(maxsize=64)
def problems_of(lesson: int, system: str, seed: int = SEED) -> tuple[Problem, ...]:
    """The problems of a lesson's worksheet."""
    if lesson not in CHOSEN:
        raise Refusal("lesson", lesson, f"{min(CHOSEN)} to {max(CHOSEN)}", "name one of them")
    return tuple(make(kind, seed, system) for kind in CHOSEN[lesson])


def worksheet(lesson: int, size: Size, seed: int = SEED) -> list[Figure]:
    """Figures of a lesson's worksheet on paper of a size in inches."""
    return [_page(lesson, system, size, seed) for system in SYSTEM_NAMES]


def _page(lesson: int, system: str, size: Size, seed: int) -> Figure:
    """One page: head, then the problems with room to work."""
    sheet, asked = Sheet(size), problems_of(lesson, system, seed)
    sheet.write(f"Worksheet {lesson:02d}: {TITLES[lesson]}", 15, bold=True)
    sheet.write(
        f"Seed {seed}, in {SYSTEM_NAMES[system]}. Invented machines; "
        "no page says what yours may do.",
        8.5,
        gap=0.04,
    )
    sheet.blanks((("Name or code", 4.2), ("Date", 1.5)))
    sheet.write(_HOW, 8.5, gap=0.05)
    need = sum(_length(sheet, number, problem) for number, problem in enumerate(asked, 1))
    room = (sheet.height - EDGE - sheet.y - need) / sum(_share(problem) for problem in asked)
    for number, problem in enumerate(asked, 1):
        _problem(sheet, number, problem)
        _room(sheet, problem, room * _share(problem))
    return sheet.page


def _length(sheet: Sheet, number: int, problem: Problem) -> float:
    """How much paper a problem's words take: written on a page that is thrown away."""
    trial = Trial((sheet.width, sheet.height))
    _problem(trial, number, problem)
    return trial.y - EDGE


def _share(problem: Problem) -> float:
    """How much of the room that is left a problem needs, against the others."""
    return {"choice": 0.7, "body": 1.6}.get(problem.style, 1.0)


def _problem(sheet: Sheet, number: int, problem: Problem) -> None:
    """Title, statement, options, principles to ring."""
    sheet.write(f"{number}  {problem.title}", 10, bold=True)
    sheet.write(paper_words(problem), 9.5, x=EDGE + 0.2)
    if problem.style == "choice":
        for letter, text in problem.options:
            sheet.write(f"□ {letter}  {text}", 9.5, x=EDGE + 0.3)
    elif problem.style == "number":
        ring = "     ".join((RING, *(PRINCIPLES[name] for name in principles(problem))))
        sheet.axes.text(EDGE + 0.2, sheet.y, ring, fontsize=8.5, va="top")
        sheet.y += 0.16


def paper_words(problem: Problem) -> str:
    """The statement as paper needs it: a free body is drawn there, not built."""
    if problem.style != "body":
        return problem.statement
    return (
        problem.statement.replace("Build the free body", "Draw the free body")
        + " Name the pivot and every arm."
    )


def principles(problem: Problem) -> tuple[str, ...]:
    """The principles to choose from: a plank has scales where a machine has axles."""
    pivots = ("left", "right") if "plank" in problem.statement else ("front", "rear")
    return ("forces", *pivots, "definition", "units")


def _room(sheet: Sheet, problem: Problem, height: float) -> None:
    """Room to work, with the line for the answer at its foot."""
    foot = sheet.y + height - 0.16
    words = "Because:" if problem.style == "choice" else "Answer:"
    left = EDGE + 0.2 if problem.style == "choice" else sheet.width - EDGE - 2.6
    sheet.axes.text(left, foot, words, fontsize=9, va="bottom")
    sheet.rule(left + 0.75, sheet.width - EDGE - 0.55, foot)
    unit = problem.unit if problem.style == "number" else ""
    sheet.axes.text(sheet.width - EDGE - 0.5, foot, unit, fontsize=9, va="bottom")
    sheet.y += height


def worksheets_key(size: Size, seed: int = SEED) -> list[Figure]:
    """Figures of the key to all worksheets: a lesson begins a page."""
    return [sheet.page for lesson in CHOSEN for sheet in _key_pages(lesson, size, seed)]


def _key_pages(lesson: int, size: Size, seed: int) -> list[Sheet]:
    """The pages of one lesson's key, as many as its workings take."""
    pages = [_key_page(lesson, size, seed)]
    for system, name in SYSTEM_NAMES.items():
        entries = [
            _entry(number, problem)
            for number, problem in enumerate(problems_of(lesson, system, seed), 1)
        ]
        for at, entry in enumerate(entries):
            block = ([(f"In {name}", 11, True)] if at == 0 else []) + entry
            if pages[-1].y + block_height(size, block, 0.07) > size[1] - EDGE:
                pages.append(_key_page(lesson, size, seed))
            pages[-1].block(block, 0.07)
    return pages


def _key_page(lesson: int, size: Size, seed: int) -> Sheet:
    sheet = Sheet(size)
    sheet.write(
        f"Key to worksheet {lesson:02d}: {TITLES[lesson]}   (seed {seed}; for the instructor)",
        11,
        bold=True,
        gap=0.08,
    )
    return sheet


def _entry(number: int, problem: Problem) -> list[tuple[str, float, bool]]:
    """One problem's lines in the key: (text, size, bold)."""
    head = (f"{number}  {problem.title}: {answer(problem)}", 9, True)
    return [head, *((f"{line.tag}: {line.text}", 8, False) for line in problem.solution)]


def answer(problem: Problem) -> str:
    """The right answer as the key prints it."""
    if problem.style == "number":
        return problem.solution[-1].result
    if problem.style == "choice":
        return f"{problem.answer}"
    return problem.answer if problem.style == "symbol" else "free body and equation"
