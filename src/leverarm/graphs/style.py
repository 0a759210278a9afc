"""The house style of every graph, and its way to a page: SVG or PDF, the same bytes every time."""

import html
import io
import re
from dataclasses import dataclass
from typing import Any

import matplotlib
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from leverarm.scene.palette import INK, ROLES

STYLE: Any = {
    "font.family": "sans-serif",
    "font.sans-serif": ["DejaVu Sans"],
    "font.size": 11,
    "axes.titlesize": 12,
    "axes.titlelocation": "left",
    "axes.titlepad": 12,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.grid": True,
    "axes.axisbelow": True,
    "grid.color": "#D9DCE0",
    "grid.linewidth": 0.8,
    "axes.edgecolor": INK[0],
    "axes.labelcolor": INK[0],
    "text.color": INK[0],
    "xtick.color": INK[0],
    "ytick.color": INK[0],
    "legend.frameon": False,
    "figure.facecolor": "white",
    "savefig.facecolor": "white",
    "svg.hashsalt": "leverarm",
    "svg.fonttype": "path",
    "pdf.fonttype": 42,
    "figure.constrained_layout.use": True,
}


def color(role: str, part: str = "line") -> str:
    """A role's color on white paper: color("front"), color("rear", "text")."""
    return getattr(ROLES[role], part)[0]


@matplotlib.rc_context(STYLE)
def figure(width: float, height: float) -> tuple[Figure, Axes]:
    """A Figure in the house style and its one Axes, sizes in inches."""
    new = Figure(figsize=(width, height))
    return new, new.add_subplot()


@matplotlib.rc_context(STYLE)
def _svg(drawn: Figure) -> str:
    buffer = io.BytesIO()
    drawn.savefig(buffer, format="svg", metadata={"Date": None, "Creator": None})
    return buffer.getvalue().decode("utf-8")


@dataclass(frozen=True)
class Picture:
    """A graph ready to show, with the words that stand for it.

    figure      the matplotlib Figure;  alt_text  what a screen reader says
    """

    figure: Figure
    alt_text: str

    @property
    def svg(self) -> str:
        """The graph as SVG text that scales with the page and carries its words."""
        text = _svg(self.figure)
        text = text[text.index("<svg") :]
        head = (
            f'<svg role="img" aria-label="{html.escape(self.alt_text)}" '
            'style="max-width:100%;height:auto"'
        )
        return re.sub("<svg", head, text, count=1)

    def _repr_html_(self) -> str:
        return self.svg
