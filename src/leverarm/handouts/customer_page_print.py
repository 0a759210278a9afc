"""The page to hand over on paper: one sheet, read at arm's length, told without color."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from leverarm.handouts.customer_page_words import CALL, PageWords
from leverarm.quantities import Refusal

# Letters in points, and the height of the pictures in inches: the page is read at arm's length, so
# the largest that fits.
SIZES = ((12.5, 2.3), (12.0, 2.3), (12.0, 2.1), (11.5, 2.1), (11.0, 2.1), (11.0, 1.8), (11.0, 1.6))
EDGE, FOOT = 0.5, 0.35
LEAD = 1.22
INK, SOFT = "#1A1A1A", "#4A4F55"


def page_figure(words: PageWords, size: tuple[float, float]) -> Any:
    """The page as a matplotlib Figure of this size in inches, in the largest letters that fit."""
    for body, pictures in SIZES:
        sheet = _written(words, size, body, pictures)
        if sheet.y <= sheet.height - FOOT:
            return sheet.page
    raise Refusal(
        "page",
        "more words than one sheet holds",
        "what fits in letters of 11 points",
        "shorten the note",
    )


def _written(words, size, body, pictures):
    sheet = _Sheet(size, body)
    _head(sheet, words)
    _pictures(sheet, words, pictures)
    _table(sheet, words)
    _columns(
        sheet,
        ("What this means", words.means, "•"),
        ("What it does not mean", words.not_meant, "•"),
    )
    _columns(
        sheet,
        ("Before you mow", words.checklist, "□"),
        ("Your manual decides", [f"{line}: p." for line in words.manual], "_"),
    )
    _working(sheet, words)
    return sheet


class _Sheet:
    """One page in inches, y downwards, written from the top."""

    def __init__(self, size: tuple[float, float], body: float) -> None:
        from leverarm.graphs import figure

        (self.width, self.height), self.body = size, body
        self.page, self.axes = figure(*size)
        self.page.set_layout_engine("none")
        self.axes.set(position=(0, 0, 1, 1), xlim=(0, self.width), ylim=(self.height, 0))
        self.axes.axis("off")
        self.y, self.right = EDGE, self.width - EDGE
        # What an A4 sheet has more of goes between the parts.
        self.gap = 0.07 + max(0.0, self.height - 11.0) * 0.08

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float | None = None,
        *,
        bold: bool = False,
        soft: bool = False,
        right: bool = False,
    ) -> None:
        """One line, its top at y."""
        self.axes.text(
            x,
            y,
            text,
            fontsize=size or self.body,
            weight="bold" if bold else "normal",
            color=SOFT if soft else INK,
            va="top",
            ha="right" if right else "left",
        )

    def rule(self, x0: float, x1: float, y: float, width: float = 0.7) -> None:
        """A level line."""
        self.axes.plot((x0, x1), (y, y), color=INK, linewidth=width)

    def lines(
        self,
        text: str,
        x: float,
        y: float,
        width: float,
        size: float | None = None,
        *,
        bold: bool = False,
    ) -> float:
        """Text as wide as told from y down; returns where the next line would start."""
        size = size or self.body
        for line in wrapped(text, width, size, bold):
            self.text(x, y, line, size, bold=bold)
            y += step(size)
        return y


def step(size: float) -> float:
    """From one line to the next, inches."""
    return size * LEAD / 72


@lru_cache(maxsize=512)
def _advance(letter, bold):
    """How far one letter moves the pen, in ems."""
    from matplotlib.font_manager import FontProperties, findfont, get_font

    font = get_font(
        findfont(FontProperties(family="DejaVu Sans", weight="bold" if bold else "normal"))
    )
    font.set_size(100, 72)  # the font is shared: whoever drew last left a size of its own
    return font.load_char(ord(letter)).linearHoriAdvance / 65536 / 100


def width_of(text: str, size: float, bold: bool = False) -> float:
    """Width of a text in inches, as its letters really run."""
    return sum(_advance(letter, bold) for letter in text) * size / 72


def wrapped(text: str, width: float, size: float, bold: bool = False) -> list[str]:
    """Lines that fit a width, broken between words."""
    lines, line = [], ""
    for word in text.split(" "):
        longer = f"{line} {word}".strip()
        if line and width_of(longer, size, bold) > width:
            lines.append(line)
            longer = word
        line = longer
    return [*lines, line]


def _head(sheet, words):
    """Title, note, and the lines to fill in: three beside each other."""
    sheet.text(EDGE, sheet.y, words.title, 19, bold=True)
    sheet.y += 0.36
    if words.note:
        sheet.y = sheet.lines(words.note, EDGE, sheet.y, sheet.right - EDGE, 9) + 0.02
    column = (sheet.right - EDGE) / 3
    for at, (name, text) in enumerate(words.blanks):
        x, y = EDGE + at % 3 * column, sheet.y + at // 3 * 0.38
        sheet.text(x, y, name, 9, soft=True)
        sheet.text(x, y + 0.14, _fit(text, column - 0.2, sheet.body))
        sheet.rule(x, x + column - 0.15, y + 0.34)
    sheet.y += 0.76 + sheet.gap


def _fit(text, width, size):
    """Typed text cut to its line."""
    while text and width_of(text, size) > width:
        text = text[:-2].rstrip() + "…"
    return text


def _pictures(sheet, words, height):
    """The machine on the left, the bars on the right: the scenes of the screen."""
    from leverarm.graphs.scene_print import draw_scene

    half = (sheet.right - EDGE) / 2
    letters = min(12.0, 5.9 * height)
    draw_scene(sheet.axes, words.sketch, EDGE, sheet.y, half, height, letters)
    draw_scene(sheet.axes, words.bars, EDGE + half, sheet.y + 0.1, half, height - 0.15, letters)
    sheet.y += height + sheet.gap


def _table(sheet, words):
    """On, off and change; kilograms over pounds in each cell."""
    columns = [sheet.right - at * 1.95 for at in (2, 1, 0)]
    for x, name in zip(columns, words.head[1:]):
        sheet.text(x, sheet.y, name, bold=True, right=True)
    sheet.y += step(sheet.body)
    for name, *cells in words.rows:
        sheet.rule(EDGE, sheet.right, sheet.y)
        sheet.text(EDGE, sheet.y + 0.04, name, bold=True)
        for x, (kg, lb) in zip(columns, cells):
            sheet.text(x, sheet.y + 0.04, kg, bold=True, right=True)
            sheet.text(x, sheet.y + 0.04 + step(sheet.body), lb, right=True)
        sheet.y += 2 * step(sheet.body) + 0.06
    sheet.rule(EDGE, sheet.right, sheet.y)
    for line in (*words.stops, CALL) if words.stops else ():
        sheet.y = sheet.lines(
            f"STOP. {line}" if line != CALL else line,
            EDGE,
            sheet.y + 0.03,
            sheet.right - EDGE,
            bold=True,
        )
    sheet.y += sheet.gap


def _columns(sheet, left, right):
    """Two lists beside each other, each under its name."""
    half = (sheet.right - EDGE) / 2
    ends = [
        _list(sheet, name, lines, mark, x, half - 0.2)
        for (name, lines, mark), x in ((left, EDGE), (right, EDGE + half + 0.05))
    ]
    sheet.y = max(ends) + sheet.gap * 0.6


def _list(sheet, name, lines, mark, x, width):
    y = sheet.lines(name, x, sheet.y, width, 12, bold=True) + 0.02
    for line in lines:
        if mark == "_":
            sheet.text(x, y, line)
            sheet.rule(x + width - 0.45, x + width, y + 0.15)
            y += step(sheet.body)
        else:
            sheet.text(x, y, mark)
            y = sheet.lines(line, x + 0.2, y, width - 0.2)
    return y


def _working(sheet, words):
    """The equation, with the numbers, and what it takes for granted."""
    sheet.y = sheet.lines("How it was worked out", EDGE, sheet.y, 7, 12, bold=True) + 0.02
    for line in (*words.working, words.assumed):
        sheet.y = sheet.lines(line, EDGE, sheet.y, sheet.right - EDGE)
