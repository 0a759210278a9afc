"""The house style of every graph, and its way to a page: SVG, PNG or PDF, the same bytes every time."""

import html
import io
import re
from dataclasses import dataclass
from pathlib import Path

import matplotlib
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure

from leverarm.files import write_whole
from leverarm.scene.palette import INK, ROLES

STYLE = {
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
NO_DATE = {
    "svg": {"Date": None, "Creator": None},
    "png": {"Software": None},
    "pdf": {"CreationDate": None, "ModDate": None, "Producer": None, "Creator": None},
}


def color(role, part="line"):
    """A role's color on white paper: color("front"), color("rear", "text")."""
    return getattr(ROLES[role], part)[0]


@matplotlib.rc_context(STYLE)
def figure(width=7.0, height=4.0):
    """A Figure in the house style and its one Axes, sizes in inches."""
    new = Figure(figsize=(width, height))
    return new, new.add_subplot()


@matplotlib.rc_context(STYLE)
def _saved(drawn, kind, **options):
    buffer = io.BytesIO()
    drawn.savefig(buffer, format=kind, metadata=NO_DATE[kind], **options)
    return buffer.getvalue()


@dataclass(frozen=True)
class Picture:
    """A graph ready to show, with the words that stand for it.

    figure  the matplotlib Figure;  words  what a screen reader says
    """

    figure: Figure
    words: str

    @property
    def svg(self):
        """The graph as SVG text that scales with the page and carries its words."""
        text = _saved(self.figure, "svg").decode("utf-8")
        text = text[text.index("<svg") :]
        head = f'<svg role="img" aria-label="{html.escape(self.words)}" style="max-width:100%;height:auto"'
        return re.sub("<svg", head, text, count=1)

    def png(self, dpi=120):
        """The graph as PNG bytes."""
        return _saved(self.figure, "png", dpi=dpi)

    def _repr_html_(self):
        return self.svg


def picture(drawn, words):
    """A Figure with the words that stand for it."""
    return Picture(drawn, words)


@matplotlib.rc_context(STYLE)
def pdf(path, figures, title=None, keywords=None):
    """Write figures as the pages of one PDF file, all of it or nothing; returns the path.

    title, keywords     what the file says about itself
    """
    buffer = io.BytesIO()
    with PdfPages(
        buffer, metadata={**NO_DATE["pdf"], "Title": title, "Keywords": keywords}
    ) as pages:
        for page in figures:
            pages.savefig(page)
    write_whole(path, buffer.getvalue())
    return Path(path)
