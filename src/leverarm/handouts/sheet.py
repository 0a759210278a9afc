"""The paper that pages are printed on, and a sheet of it to write on from the top."""

from collections.abc import Iterable, Sequence
from textwrap import wrap
from typing import Any, TypeAlias

from leverarm.quantities import Refusal

# Width and height in inches.
PAPERS = {"A4": (8.27, 11.69), "Letter": (8.5, 11.0)}
EDGE = 0.6
_LINE = 0.19

Size: TypeAlias = tuple[float, float]
Figure: TypeAlias = Any  # of matplotlib, which loads only when a page is drawn
TextBlock: TypeAlias = Sequence[tuple[str, float, bool]]  # lines: text, size, bold


def paper_size(paper: str) -> Size:
    """Width and height of a paper in inches, or a Refusal.

    >>> paper_size("Letter")
    (8.5, 11.0)
    """
    if paper not in PAPERS:
        raise Refusal("paper", paper, " or ".join(PAPERS), "name one of them")
    return PAPERS[paper]


class Sheet:
    """One page in inches, y downwards, written from the top."""

    def __init__(self, size: Size) -> None:
        from leverarm.graphs import figure

        self.width, self.height = size
        self.axes: Any
        self.page, self.axes = figure(*size)
        self.page.set_layout_engine("none")
        self.axes.set(position=(0, 0, 1, 1), xlim=(0, self.width), ylim=(self.height, 0))
        self.axes.axis("off")
        self.y = EDGE

    def write(
        self, text: str, size: float = 9.5, x: float = EDGE, bold: bool = False, gap: float = 0.0
    ) -> None:
        """Lines of text as wide as the page; moves down."""
        letters = int((self.width - EDGE - x) / (size * 0.0074))
        for line in wrap(text, letters) or [""]:
            self.axes.text(
                x, self.y, line, fontsize=size, weight="bold" if bold else "normal", va="top"
            )
            self.y += _LINE * size / 9.5
        self.y += gap

    def items(self, lines: Iterable[str], mark: str = "•") -> None:
        """A list with its marks hanging."""
        for line in lines:
            self.axes.text(EDGE, self.y, mark, fontsize=9.5, va="top")
            self.write(line, 9.5, x=EDGE + 0.2, gap=0.03)

    def rule(self, x0: float, x1: float, y: float, width: float = 0.8) -> None:
        """A level line."""
        self.axes.plot((x0, x1), (y, y), color="#1A1A1A", linewidth=width)

    def table(
        self,
        heads: Sequence[str],
        widths: Sequence[float],
        rows: Iterable[Sequence[str]],
        height: float = 0.36,
    ) -> None:
        """A table to write into: what a row's cells hold is printed, the rest is empty."""
        left, right = EDGE, EDGE + sum(widths)
        edges = [left + sum(widths[:i]) for i in range(len(widths) + 1)]
        top = self.y
        for i, cells in enumerate([heads, *rows]):
            tall = max(height, 0.36) if i == 0 else height
            self.rule(left, right, self.y)
            for x, text in zip(edges, cells):
                self.axes.text(
                    x + 0.06,
                    self.y + tall / 2,
                    text,
                    fontsize=9,
                    weight="bold" if i == 0 else "normal",
                    va="center",
                )
            self.y += tall
        self.rule(left, right, self.y)
        for x in edges:
            self.axes.plot((x, x), (top, self.y), color="#1A1A1A", linewidth=0.8)
        self.y += 0.15

    def blanks(self, fields: Iterable[tuple[str, float]]) -> None:
        """Named lines to fill in, as many beside each other as fit."""
        x = EDGE
        for name, width in fields:
            if x + width > self.width - EDGE + 0.01:
                x, self.y = EDGE, self.y + 0.42
            self.axes.text(x, self.y, name, fontsize=8, va="top", color="#5A6067")
            self.rule(x, x + width - 0.15, self.y + 0.36)
            x += width
        self.y += 0.52

    def cut_lines(self) -> None:
        """Dashed lines across the middle, both ways."""
        draw_cut_lines(self.axes, (self.width, self.height))

    def block(self, lines: TextBlock, gap: float) -> None:
        """Lines of text: bold ones at the edge, the others a quarter inch in; then a gap."""
        for text, size, bold in lines:
            self.write(text, size, x=EDGE if bold else EDGE + 0.25, bold=bold)
        self.y += gap


def draw_cut_lines(axes: Any, size: Size) -> None:
    """Dashed lines across the middle of a page in inches, both ways."""
    width, height = size
    for xs, ys in (((width / 2, width / 2), (0, height)), ((0, width), (height / 2, height / 2))):
        axes.plot(xs, ys, color="#6A7077", linewidth=0.8, linestyle=(0, (6, 4)))


class Trial(Sheet):
    """A page that is only measured: what is written on it moves down and is not drawn."""

    def __init__(self, size: Size) -> None:
        self.width, self.height = size
        self.axes, self.y = self, EDGE

    def text(self, *_: object, **__: object) -> None:
        """No ink."""


def block_height(size: Size, lines: TextBlock, gap: float) -> float:
    """How much paper a block of lines takes."""
    trial = Trial(size)
    trial.block(lines, gap)
    return trial.y - EDGE
