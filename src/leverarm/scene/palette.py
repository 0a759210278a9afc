"""Colors by meaning, for white and for dark paper, and the style sheet made of them.

A scene names a role, never a color.  Each role has its own dash and marker, so
that nothing is told by color alone.  Blue, vermillion, sky blue and orange come
from a palette for color-blind readers (Okabe and Ito, 2008); text takes a darker
relative where the line color is too pale to read.
"""

from dataclasses import dataclass
from typing import TypeAlias

Colors: TypeAlias = tuple[str, str]  # on light and on dark paper


@dataclass(frozen=True)
class Role:
    """One meaning: its line, fill and text colors, its dash and marker."""

    line: Colors
    fill: Colors
    text: Colors
    dash: tuple[float, ...] = ()
    marker: str = "round"


PAPER = ("#FFFFFF", "#111111")
INK = ("#1A1A1A", "#F2F2F2")

ROLES = {
    "front": Role(("#0072B2", "#56B4E9"), ("#CFE4F2", "#0E3A56"), ("#005F96", "#7CC6F0")),
    "rear": Role(
        ("#D55E00", "#E69F00"), ("#FBE0CC", "#4A3300"), ("#B34E00", "#F0B43C"), (7, 4), "square"
    ),
    "load": Role(
        ("#00785A", "#3CC9A0"), ("#CDEBE2", "#0B4033"), ("#00694F", "#5BD6B2"), (), "diamond"
    ),
    "counter": Role(
        ("#A3447A", "#DE8FBD"), ("#F1DCE8", "#4B2239"), ("#94386D", "#E8A6CC"), (2, 3), "triangle"
    ),
    "body": Role(("#3A3F45", "#C9CED4"), ("#E1E5E9", "#343A41"), INK),
    # Parts of the machine beside its body: as the moving pictures show them.
    "tire": Role(("#3A3F45", "#C9CED4"), ("#C1C6CA", "#4A4F54"), INK),
    "operator": Role(("#3A3F45", "#C9CED4"), PAPER, INK),
    "ground": Role(("#6B6358", "#A39B8E"), ("#E8E4DC", "#2E2B26"), ("#5C5449", "#BDB5A8")),
    "muted": Role(("#6A7077", "#9AA1A8"), ("#F0F1F3", "#26292D"), ("#5A6067", "#AEB4BB"), (4, 4)),
    "ink": Role(INK, INK, INK),
}


def luminance(color: str) -> float:
    """Relative luminance of #rrggbb, 0 black to 1 white (WCAG 2.2, relative luminance).

    >>> luminance("#FFFFFF"), luminance("#000000")
    (1.0, 0.0)
    """
    parts = (int(color[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colors, 1 to 21 (WCAG 2.2, contrast ratio).

    >>> contrast("#FFFFFF", "#000000")
    21.0
    """
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def _variables(dark: int) -> str:
    """The colors of one paper as style-sheet variables."""
    pairs = [("paper", PAPER), ("ink", INK)]
    pairs += [
        (f"{name}-{part}", getattr(role, part))
        for name, role in ROLES.items()
        for part in ("line", "fill", "text")
    ]
    return "".join(f"--lv-{name}:{colors[dark]};" for name, colors in pairs)


def _role_rules(name: str) -> str:
    """How a role's lines, areas, solid marks and words take its colors."""
    line, fill, text = (f"var(--lv-{name}-{part})" for part in ("line", "fill", "text"))
    return (
        f".lv-line-{name}{{stroke:{line};fill:none}}.lv-area-{name}{{stroke:{line};fill:{fill}}}"
        f".lv-solid-{name}{{fill:{line};stroke:none}}.lv-text-{name}{{fill:{text}}}"
    )


FONT = "Helvetica,Arial,'Liberation Sans','Nimbus Sans',sans-serif"


def style_sheet() -> str:
    """The rules every picture shares.

    In JupyterLab the theme of the page decides; elsewhere the reader's preference.
    """
    light, dark = _variables(0), _variables(1)
    return (
        f":is(.lv,.lv-panel){{{light}}}@media(prefers-color-scheme:dark){{:is(.lv,.lv-panel){{{dark}}}}}"
        f"[data-jp-theme-light=true] :is(.lv,.lv-panel){{{light}}}"
        f"[data-jp-theme-light=false] :is(.lv,.lv-panel){{{dark}}}"
        f"svg.lv{{font-family:{FONT};color:var(--lv-ink);stroke-linejoin:round;stroke-linecap:butt}}"
        ".lv text{stroke:none}.lv-halo{paint-order:stroke;stroke:var(--lv-paper)!important;"
        "stroke-width:.28em;stroke-linejoin:round}.lv-paper{fill:var(--lv-paper);stroke:none}"
        + "".join(map(_role_rules, ROLES))
    )
