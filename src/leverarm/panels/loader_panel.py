"""What the panels of a tractor with its loader share: the machine, a load, a lift height."""

from collections.abc import Sequence
from html import escape

import ipywidgets as w

from leverarm import stability
from leverarm.machine import Tractor, demo_tractor
from leverarm.panels.base import grid, html, split
from leverarm.panels.controls import Number
from leverarm.panels.gate import Gated
from leverarm.quantities import show

# Name, label, kind, value, low, high of a Number.
NumberRow = tuple[str, str, str, float | str, float, float]


class LoaderPanel(Gated):
    """A tractor, its loader, a load, a lift height.

    numbers     rows() gives them: name, label, kind, value, low, high
    """

    def __init__(
        self,
        tractor: Tractor | None = None,
        loader: stability.Loader | None = None,
        *,
        gated: bool = False,
    ) -> None:
        self._tractor, self._loader = tractor or demo_tractor(), loader or stability.demo_arms()
        super().__init__(gated=gated)

    def rows(self) -> tuple[NumberRow, ...]:
        """The Number controls of the panel."""
        raise NotImplementedError

    def height_row(self, start: float) -> NumberRow:
        """Lift height, between the ends of the lift."""
        low, high = (
            self._loader.pin_at(angle)[1]
            for angle in (self._loader.lowest_deg, self._loader.highest_deg)
        )
        return "height", "Bucket pin height", "length", min(max(start, low), high), low, high

    def build(self) -> list[w.Widget]:
        self.numbers = {
            name: Number(label, kind, value, low, high, on_change=self.redraw)
            for name, label, kind, value, low, high in self.rows()
        }
        self.out = html()
        controls = grid(*(number.widget for number in self.numbers.values()))
        return [split([controls, *self.choices(), *self.gate_parts()], [self.out])]

    def choices(self) -> list[w.Widget]:
        """Radio buttons under the numbers."""
        return []

    def say(self, value: float, kind: str = "weight", *, sign: bool = False) -> str:
        """A quantity in the unit system shown."""
        return show(value, kind, self.system, sign=sign)

    @property
    def tractor(self) -> Tractor:
        """The bare machine."""
        return self._tractor

    @property
    def loader(self) -> stability.Loader:
        """The loader."""
        return self._loader

    @property
    def angle_deg(self) -> float:
        """Lift angle that puts the bucket pin at the height told."""
        return self._loader.angle_at(self.values["height"])


def cautions_list(lines: Sequence[str]) -> str:
    """Cautions as a list, with the work they belong to."""
    return (
        "<p>With this work:</p><ul>"
        + "".join(f"<li>{escape(line)}</li>" for line in lines)
        + "</ul>"
    )
