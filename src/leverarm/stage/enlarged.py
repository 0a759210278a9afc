"""The enlarged detail of a column's end: a few bars beside each other on one scale.

The columns keep their zero; a detail begins where its bars do, and says how much taller it is.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from leverarm.quantities import show_number
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element
from leverarm.stage.sheet import Paper, box, stroke, words

# Steps that a scale may have, times a power of ten.
_STEPS = (1, 2, 5)
# The longest scale has about this many marks.
_MOST_MARKS = 5


@dataclass(frozen=True)
class Level:
    """A load and how far off it may be, in the unit shown.

    name    "said", "expected" or "read";  half  its ±, None where nobody can tell
    """

    name: str
    load: float
    half: float | None = None

    @property
    def ends(self) -> tuple[float, float]:
        """The least and the largest load it reaches."""
        half = self.half or 0.0
        return self.load - half, self.load + half


@dataclass(frozen=True)
class Spot:
    """Where a detail stands on the sheet."""

    left: float
    top: float
    wide: float
    high: float


def marks_of(low: float, high: float) -> list[float]:
    """Round marks from below the lower end to above the upper one, evenly apart.

    >>> marks_of(997, 1025)
    [990, 1000, 1010, 1020, 1030]
    """
    span = max(high - low, 1e-6)
    steps = (step * 10**power for power in range(6) for step in _STEPS)
    step = next((one for one in steps if span / one <= _MOST_MARKS - 2), span)
    first, last = int(low // step), int(-(-high // step))
    first, last = (first - (first * step >= low), last + (last * step <= high))
    return [mark * step for mark in range(first, last + 1)]


class Detail:
    """One detail: its scale, and what is drawn on it; brief where there is room for short words."""

    def __init__(
        self, sheet: Paper, axle: str, place: Spot, bars: Sequence[Level], *, brief: bool = False
    ) -> None:
        self.sheet, self.axle, self.place, self.bars = sheet, axle, place, bars
        self._brief = brief
        ends = [end for bar in bars for end in bar.ends]
        self.marks = marks_of(min(ends), max(ends))
        self._top = place.top + 3.3 * sheet.small
        self._low = place.top + place.high - 3.2 * sheet.label

    @property
    def per_unit(self) -> float:
        """Sheet units for each unit of load."""
        return (self._low - self._top) / (self.marks[-1] - self.marks[0])

    def y(self, load: float) -> float:
        """How deep a load lies: deeper is heavier, as in the columns."""
        return self._top + (load - self.marks[0]) * self.per_unit

    def drawn(self, per_column: float | None) -> Element:
        """The detail.

        per_column  sheet units for each unit of load in the columns; None where none is drawn
        """
        sheet, place = self.sheet, self.place
        right = place.left + place.wide
        edge = [(place.left, place.top), (right, place.top), (right, place.top + place.high)]
        parts = [
            box(place.left, place.top, place.wide, place.high, "paper"),
            stroke([*edge, (place.left, place.top + place.high), edge[0]], "body", 1.2),
        ]
        for mark in self.marks:
            y = self.y(mark)
            parts += [
                stroke([(place.left + 1, y), (right - 1, y)], "grid", 1),
                words(
                    place.left + 4,
                    y - 2,
                    show_number(mark, 0),
                    sheet.small,
                    "muted",
                    anchor="start",
                ),
            ]
        if per_column:
            times = show_number(self.per_unit / per_column, 0)
            taller = entry("weighed_day").text("taller").format(times=times)
            x, y = place.left + 4, place.top + 1.2 * sheet.small
            parts.append(words(x, y, taller, sheet.small, "muted", anchor="start"))
        for n, bar in enumerate(self.bars):
            # Marks keep the left quarter to themselves.
            share = 0.25 + 0.75 * (n + 0.5) / len(self.bars)
            parts.append(self._bar(bar, place.left + share * place.wide))
        return element("g", parts)

    def _bar(self, bar: Level, x: float) -> Element:
        sheet = self.sheet
        half = min(23.0, 0.09 * self.place.wide)
        read = bar.name == "read"
        low, high = bar.ends
        parts = []
        if bar.half is not None:
            kind = f"{self.axle}-fill" if read else "machine"
            parts.append(
                box(x - half, self.y(low), 2 * half, self.y(high) - self.y(low), kind, 1.2)
            )
        line = self.axle if read else "ink"
        ends = [(x - half, self.y(bar.load)), (x + half, self.y(bar.load))]
        parts.append(stroke(ends, "ghost" if bar.name == "said" else line, 4 if read else 2))
        foot = self.place.top + self.place.high
        number = show_number(bar.load, 0)
        name = entry("weighed_day").text(f"{bar.name}_brief" if self._brief else bar.name)
        kind = f"{self.axle}-words" if read else "ink"
        parts += [
            words(x, self.place.top + 2.6 * sheet.small, name, sheet.small, bold=read),
            words(x, foot - 1.4 * sheet.label, number, sheet.label, kind, bold=True),
        ]
        if bar.half is not None:
            parts.append(
                words(x, foot - 0.4 * sheet.small, f"± {show_number(bar.half, 0)}", sheet.small)
            )
        return element("g", parts)
