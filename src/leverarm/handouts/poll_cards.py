"""Cards A to D for a vote by show of hands: four a page, to cut. A letter is told by its dots too."""

from leverarm.exercises import make, problems
from leverarm.handouts.weigh_sheet import EDGE, Sheet
from leverarm.handouts.worksheets import SEED, Trial

LETTERS = "ABCD"
HEAD = "Poll questions"
HOW = (
    "Read one aloud. Everyone thinks, then all cards go up at once. Count. Between a third and two thirds right: talk in "
    "pairs, vote again. Fewer: teach it again. More: go on."
)


def poll_cards(size):
    """One Figure: the four cards."""
    width, height = size
    sheet = Sheet(size)
    for at, letter in enumerate(LETTERS):
        x, y = width * (0.25 + 0.5 * (at % 2)), height * (0.25 + 0.5 * (at // 2))
        sheet.axes.text(x, y, letter, fontsize=230, weight="bold", ha="center", va="center")
        for dot in range(at + 1):
            sheet.axes.plot(
                x + 0.35 * (dot - at / 2), y + height * 0.19, "o", color="#1A1A1A", markersize=13
            )
    for xs, ys in (((width / 2, width / 2), (0, height)), ((0, width), (height / 2, height / 2))):
        sheet.axes.plot(xs, ys, color="#6A7077", linewidth=0.8, linestyle=(0, (6, 4)))
    return [sheet.page]


def poll_questions(size, seed=SEED):
    """Figures with every question of choice in the bank, by lesson; the key on the last page."""
    asked = [make(kind, seed, "kg") for kind in problems() if kind.style == "choice"]
    pages = [_start(size, f"{HEAD} (seed {seed})")]
    pages[0].write(HOW, 9.5, gap=0.1)
    for number, problem in enumerate(asked, 1):
        block = [
            (f"{number}  Lesson {problem.lesson:02d}: {problem.title}", 10, True),
            (problem.statement, 10, False),
            *((f"{letter}  {text}", 10, False) for letter, text in problem.options),
        ]
        if pages[-1].y + _height(size, block) > size[1] - EDGE:
            pages.append(_start(size, HEAD))
        _put(pages[-1], block)
    pages.append(_start(size, f"{HEAD}: key (seed {seed})"))
    _put(
        pages[-1],
        [
            (f"{number}  {problem.title}: {problem.answer}", 9.5, False)
            for number, problem in enumerate(asked, 1)
        ],
    )
    return [sheet.page for sheet in pages]


def _start(size, head):
    sheet = Sheet(size)
    sheet.write(head, 14, bold=True, gap=0.08)
    return sheet


def _put(sheet, block):
    for text, points, bold in block:
        sheet.write(text, points, x=EDGE + (0 if bold else 0.25), bold=bold)
    sheet.y += 0.12


def _height(size, block):
    trial = Trial(size)
    _put(trial, block)
    return trial.y - EDGE
