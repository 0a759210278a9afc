"""An axis of one result across a picture: its marks, the band of its ±, a place for each dot."""

import math
from dataclasses import dataclass

from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage import sheet as paper
from leverarm.stage.elements import Element, element, px
from leverarm.stage.sheet import Paper, words


@dataclass(frozen=True)
class ResultAxis:
    """A horizontal axis round a middle value, in the unit shown.

    middle, half    the value in its middle, and how far it reaches to each side
    top, base       where its room begins and where its line stands, in the sheet's units
    decimals        digits of its marks;  unit  written at the first of them, if it has one
    """

    sheet: Paper
    middle: float
    half: float
    top: float
    base: float
    decimals: int
    unit: str

    @property
    def _edge(self) -> float:
        return 0.06 * self.sheet.width

    @property
    def per_unit(self) -> float:
        """The sheet's units for each unit of the value."""
        return (self.sheet.width - 2 * self._edge) / (2 * self.half)

    def x(self, value: Numeric) -> Numeric:
        """Across the sheet."""
        return self.sheet.width / 2 + (value - self.middle) * self.per_unit

    @property
    def ends(self) -> tuple[float, float]:
        """The values at its two ends."""
        return self.middle - self.half, self.middle + self.half

    @property
    def marks(self) -> list[float]:
        """Round values along it, at most nine."""
        size = self.half / 4
        power = 10.0 ** math.floor(math.log10(size))
        step = next(s * power for s in (1.0, 2.0, 5.0, 10.0) if s * power >= size)
        first, last = math.ceil(self.ends[0] / step), math.floor(self.ends[1] / step)
        return [n * step for n in range(first, last + 1)]

    def drawn(self) -> Element:
        """Its line, its marks and their numbers."""
        sheet, parts = self.sheet, list[Element]()
        ends = (self._edge, sheet.width - self._edge)
        for n, mark in enumerate(self.marks):
            x, text = self.x(mark), show_number(mark, self.decimals)
            parts.append(paper.stroke([(x, self.base), (x, self.base + 5)], "ink", 1.4))
            name = f"{text} {self.unit}" if n == 0 and self.unit else text
            parts.append(words(x, self.base + 7 + sheet.small, name, sheet.small, "muted"))
        line = paper.stroke([(end, self.base) for end in ends], "ink", 2)
        return element("g", line, parts)

    def band(self, around: Numeric, size: Numeric, kind: str) -> Element:
        """What lies within ``size`` to each side of a value."""
        x, wide = self.x(around - size), 2 * size * self.per_unit
        return paper.box(x, self.top, wide, self.base - self.top, kind, 1.4)

    def bracket(self, around: Numeric, size: Numeric) -> Element:
        """The dashed edge of a band that was said, or was there before."""
        low, high = self.x(around - size), self.x(around + size)
        path = f"M{px(low)} {px(self.base)}V{px(self.top)}H{px(high)}V{px(self.base)}"
        return element("path", class_="st-line-ghost", d=path, stroke_width="1.8")

    def dot(
        self, value: Numeric, under: Numeric, most_under: int
    ) -> tuple[Numeric, Numeric, float]:
        """(x, y, radius) of a dot with others under it; ``most_under`` of any, so that all fit."""
        room = self.base - self.top - 0.4 * self.sheet.label
        high = min(0.72 * self.sheet.label, room / (most_under + 1))
        return self.x(value), self.base - 2 - (under + 0.5) * high, 0.46 * high
