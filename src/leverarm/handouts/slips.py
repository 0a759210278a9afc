"""Number slips to cut out: four a page, code and number key in large type, cut lines between them."""

from textwrap import fill

from leverarm.marking import shown_code

# Width and height in inches; the slips fill the page but for a margin no printer reaches.
PAPER = {"A4": (8.27, 11.69), "letter": (8.5, 11.0)}
MARGIN, A_PAGE = 0.35, 4
_STEPS = (
    "Put the file {file} beside the notebook homework.",
    "Open homework. Type the code and the number key, once.",
    "Work. Every check is kept in one file beside the notebook.",
    "Hand in that file. Its name ends in .answers.txt.",
)


def slips(handed, path, paper="A4"):
    """Write the slips of a class as a PDF file to print and cut; returns its path.

    handed  Slip after Slip, as Desk.slips gives them; paper  "A4" or "letter"
    """
    from leverarm.graphs import pdf
    from leverarm.quantities import Refusal

    if paper not in PAPER:
        raise Refusal("paper", paper, " or ".join(PAPER), "name one of them")
    handed = list(handed)
    return pdf(
        path,
        (_page(handed[at : at + A_PAGE], PAPER[paper]) for at in range(0, len(handed), A_PAGE)),
    )


def _page(four, size):
    """Up to four slips on one page."""
    from leverarm.graphs import figure

    page, paper = figure(*size)
    page.set_layout_engine("none")
    paper.set(position=(0, 0, 1, 1), xlim=(0, size[0]), ylim=(size[1], 0))
    paper.axis("off")
    _cut_lines(paper, size)
    for at, slip in enumerate(four):
        _slip(
            paper,
            slip,
            MARGIN + at % 2 * size[0] / 2,
            MARGIN + at // 2 * size[1] / 2,
            size[0] / 2 - 2 * MARGIN,
        )
    return page


def _cut_lines(paper, size):
    """Dashed lines across the middle, both ways, with a word at their ends."""
    width, height = size
    for x, y in (((width / 2, width / 2), (0, height)), ((0, width), (height / 2, height / 2))):
        paper.plot(x, y, color="#6A7077", linewidth=0.8, linestyle=(0, (6, 4)))
    paper.text(width - 0.12, height / 2 - 0.06, "cut", fontsize=8, ha="right", color="#5A6067")


def _slip(paper, slip, x, y, width):
    """One slip: what it is for, code, number key, what to do."""
    work = slip.assignment
    long = len(work.name) > 24
    paper.text(
        x, y + 0.20, fill(work.name, 34), fontsize=11 if long else 15, weight="bold", va="top"
    )
    paper.text(x, y + 0.60, f"Due {work.due}" if work.due else "", fontsize=10, va="top")
    _framed(paper, "Code", shown_code(slip.code), x, y + 1.0, width)
    _framed(paper, "Number key", slip.key, x, y + 1.85, width)
    for at, step in enumerate(_steps(work), 1):
        paper.text(x, y + 2.82 + 0.42 * (at - 1), f"{at}.", fontsize=9.5, va="top")
        paper.text(
            x + 0.22, y + 2.82 + 0.42 * (at - 1), step, fontsize=9.5, va="top", linespacing=1.25
        )
    paper.text(
        x,
        y + 4.62,
        "Keep this slip. The numbers it gives are yours alone.\nThe digits 0 and 1 and the letters O and I are never used.",
        fontsize=9,
        va="top",
        color="#5A6067",
        linespacing=1.3,
    )


def _steps(work):
    return [
        fill(step.format(file=f"{work.stem}.assignment.txt"), 46, break_long_words=True)
        for step in _STEPS
    ]


def _framed(paper, name, text, x, y, width):
    """A name over its text in a frame, in letters of one width."""
    from matplotlib.patches import Rectangle

    paper.text(x, y, name, fontsize=9, va="bottom", color="#5A6067")
    paper.add_patch(Rectangle((x, y + 0.04), width, 0.5, fill=False, linewidth=1.2))
    paper.text(
        x + width / 2,
        y + 0.29,
        text,
        fontsize=17,
        family="monospace",
        weight="bold",
        ha="center",
        va="center",
    )
