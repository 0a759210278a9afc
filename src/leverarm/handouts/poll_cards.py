"""Cards A to D for a vote by show of hands: four a page, to cut; each letter has dots too."""

from leverarm.data import Entry, toml_file
from leverarm.exercises import make, problems
from leverarm.handouts.sheet import EDGE, Figure, Sheet, Size, block_height
from leverarm.handouts.worksheets import SEED
from leverarm.quantities import system_shown

_LETTERS = "ABCD"
_HEAD = "Poll questions"


def read_how(words: Entry) -> str:
    """How to put a question to the vote, in a few sentences; Refusal with file and key."""
    how = words.text("how")
    words.done()
    return how


def poll_cards(size: Size) -> list[Figure]:
    """One Figure: the four cards."""
    width, height = size
    sheet = Sheet(size)
    for at, letter in enumerate(_LETTERS):
        x, y = width * (0.25 + 0.5 * (at % 2)), height * (0.25 + 0.5 * (at // 2))
        sheet.axes.text(x, y, letter, fontsize=230, weight="bold", ha="center", va="center")
        for dot in range(at + 1):
            sheet.axes.plot(
                x + 0.35 * (dot - at / 2), y + height * 0.19, "o", color="#1A1A1A", markersize=13
            )
    sheet.cut_lines()
    return [sheet.page]


def poll_questions(size: Size, seed: int = SEED) -> list[Figure]:
    """Figures with every question of choice in the bank, by lesson; the key on the last page."""
    asked = [make(kind, seed, system_shown()) for kind in problems() if kind.style == "choice"]
    pages = [_start(size, f"{_HEAD} (seed {seed})")]
    pages[0].write(read_how(toml_file("polls").part("cards")), 9.5, gap=0.1)
    for number, problem in enumerate(asked, 1):
        block = [
            (f"{number}  Lesson {problem.lesson:02d}: {problem.title}", 10, True),
            (problem.statement, 10, False),
            *((f"{letter}  {text}", 10, False) for letter, text in problem.options),
        ]
        if pages[-1].y + block_height(size, block, 0.12) > size[1] - EDGE:
            pages.append(_start(size, _HEAD))
        pages[-1].block(block, 0.12)
    pages.append(_start(size, f"{_HEAD}: key (seed {seed})"))
    answers = [
        (f"{number}  {problem.title}: {problem.answer}", 9.5, False)
        for number, problem in enumerate(asked, 1)
    ]
    pages[-1].block(answers, 0.12)
    return [sheet.page for sheet in pages]


def _start(size: Size, head: str) -> Sheet:
    sheet = Sheet(size)
    sheet.write(head, 14, bold=True, gap=0.08)
    return sheet
