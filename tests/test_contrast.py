"""Every pair of colors in use, by computed contrast (WCAG 2.2): words 4.5 to 1, lines that carry
meaning 3 to 1.

The colors are found by reading the sources: one that is new and not in the table below is a
failure.
The roles of the pictures have their own test in test_scene.py.
"""

import re
from pathlib import Path

import pytest

from leverarm.handouts import offline_page
from leverarm.marking import pages
from leverarm.panels.page import page_rules
from leverarm.scene.palette import INK, PAPER, ROLES, contrast

SRC = Path(__file__).parents[1] / "src"
# A color as six or three digits; not the number of a letter (&#183;) and not a line of a page
# (#name).
HEX = re.compile(r"(?<![&\w])#(?:[0-9a-fA-F]{8}|[0-9a-fA-F]{6}|[0-9a-fA-F]{3,4})\b")
NAMED = re.compile(
    r"(?:color|background|fill|stroke|color)[\"']?\s*[:=]\s*[\"']?(black|white|red|green|blue|gr[ae]y|yellow|orange|silver)\b"
)
WORDS, LINES, QUIET = (
    4.5,
    3.0,
    1.0,
)  # QUIET: rules between rows and grids, which say nothing that the words do not
WHITE, BLACK = PAPER
LIGHT_INK, DARK_INK = INK

# Where a color is written out, what it stands on, and how far it must stand out.  Everything else
# comes from ROLES.
USED = {
    "leverarm/graphs/style.py": [("#D9DCE0", WHITE, QUIET), ("white", LIGHT_INK, WORDS)],
    "leverarm/handouts/printing.py": [("#fff", "#1a1a1a", WORDS)],  # paper behind words
    "leverarm/handouts/customer_page.css": [
        ("#1a1a1a", "#fff", WORDS),
        ("#3a4046", "#fff", WORDS),
        ("#1a1a1a", "#f5f4f1", WORDS),
        ("#565c63", "#f5f4f1", WORDS),
        ("#1a1a1a", "#cfe4f2", WORDS),
        ("#1a1a1a", "#fbe0cc", WORDS),
        ("#005a8e", "#cfe4f2", WORDS),
        ("#a34600", "#fbe0cc", WORDS),
        ("#0072b2", "#f5f4f1", LINES),
        ("#d55e00", "#f5f4f1", LINES),
        ("#8a8f95", "#fff", LINES),
        ("#4a5057", "#eceef0", LINES),
        ("#4a5057", "#c2c7cc", LINES),
        ("#4a5057", "#f4f5f6", LINES),
        ("#dbd8d1", "#f5f4f1", QUIET),
        ("#f2f2f2", "#121416", WORDS),
        ("#d3d7db", "#121416", WORDS),
        ("#f2f2f2", "#1d2023", WORDS),
        ("#b4b9bf", "#1d2023", WORDS),
        ("#f2f2f2", "#0e3a56", WORDS),
        ("#f2f2f2", "#4a3300", WORDS),
        ("#a8d8f5", "#0e3a56", WORDS),
        ("#f5c869", "#4a3300", WORDS),
        ("#56b4e9", "#1d2023", LINES),
        ("#e69f00", "#1d2023", LINES),
        ("#8a8f95", "#121416", LINES),
        ("#b4b9bf", "#3a4046", LINES),
        ("#b4b9bf", "#555c63", LINES),
        ("#b4b9bf", "#2a2e32", LINES),
        ("#3a3f45", "#1d2023", QUIET),
    ],
    "leverarm/handouts/offline_page.html": [
        (LIGHT_INK, WHITE, WORDS),
        (DARK_INK, BLACK, WORDS),
        ("#0072B2", WHITE, LINES),
        ("#56B4E9", BLACK, LINES),
    ],
    "sitesettings/lesson_page.html": [
        ("#1A1A1A", "#FFFFFF", WORDS),
        ("#F2F2F2", "#111111", WORDS),
        ("#4D4D4D", "#FFFFFF", WORDS),
        ("#B3B3B3", "#111111", WORDS),
        ("#0060A0", "#FFFFFF", WORDS),
        ("#7CC4F5", "#111111", WORDS),
        ("#0072B2", "#FFFFFF", LINES),
        ("#56B4E9", "#111111", LINES),
    ],
    "leverarm/handouts/sheet.css": [
        ("#1a1a1a", "#fff", WORDS),
        ("#3a4046", "#fff", WORDS),
        ("#6a7077", "#fff", LINES),
        ("#8a8f95", "#fff", LINES),
    ],
    "leverarm/marking/pages.py": [("#8888", WHITE, QUIET), ("#8888", BLACK, QUIET)],
    "leverarm/marking/teach_page.py": [("#8888", WHITE, QUIET), ("#8888", BLACK, QUIET)],
    "leverarm/panels/page.css": [("#fff", "#7a1f00", WORDS), ("#7a1f00", WHITE, LINES)],
    "leverarm/stage/stage.css": [
        *(("#1A1A1A", paper, WORDS) for paper in (WHITE, "#f5f4f1", "#cfe4f2", "#fbe0cc")),
        *(("#F2F2F2", paper, WORDS) for paper in ("#111111", "#1c1c1a", "#0e3a56", "#4a3300")),
        *(("#5c6166", paper, WORDS) for paper in (WHITE, "#f5f4f1")),
        *(("#b4b9bd", paper, WORDS) for paper in ("#111111", "#1c1c1a")),
        *(("#005a8e", paper, WORDS) for paper in (WHITE, "#f5f4f1", "#cfe4f2")),
        *(("#8ccdf3", paper, WORDS) for paper in ("#111111", "#1c1c1a", "#0e3a56")),
        *(("#a34600", paper, WORDS) for paper in (WHITE, "#f5f4f1", "#fbe0cc")),
        *(("#f2b945", paper, WORDS) for paper in ("#111111", "#1c1c1a", "#4a3300")),
        *(("#0072b2", paper, LINES) for paper in (WHITE, "#f5f4f1", "#cfe4f2")),
        *(("#56b4e9", paper, LINES) for paper in ("#111111", "#1c1c1a", "#0e3a56")),
        *(("#d55e00", paper, LINES) for paper in (WHITE, "#f5f4f1", "#fbe0cc")),
        *(("#e69f00", paper, LINES) for paper in ("#111111", "#1c1c1a", "#4a3300")),
        *(("#4a5157", paper, LINES) for paper in (WHITE, "#ecedef", "#c1c6ca")),
        *(("#aab0b5", paper, LINES) for paper in ("#111111", "#2c2f32", "#4a4f54")),
        ("#d8d6d0", "#f5f4f1", QUIET),
        ("#3a3a37", "#1c1c1a", QUIET),
    ],
    "leverarm/yard_page/yard.css": [
        ("#1a1a1a", "#fff", WORDS),
        ("#5a6068", "#fff", LINES),
        ("#9aa0a6", BLACK, LINES),
    ],
    "sitesettings/front_page.html": [
        ("#0060a0", "#fff", WORDS),
        ("#1a1a1a", "#fff", WORDS),
        ("#7cc4f5", "#111", WORDS),
        ("#f2f2f2", "#111", WORDS),
    ],
}
PALETTE = "leverarm/scene/palette.py"


def whole(color):
    """A color as #rrggbb; a see-through one without its fourth part.

    >>> whole("#fff"), whole("#8888"), whole("white")
    ('#ffffff', '#888888', '#FFFFFF')
    """
    digits = {"white": "FFFFFF", "black": "000000"}.get(color, color.lstrip("#"))
    digits = digits if len(digits) in (6, 8) else "".join(2 * one for one in digits)
    return f"#{digits[:6]}"


def written(text):
    """The colors written out in a source."""
    return {found.group() for found in HEX.finditer(text)} | {
        found.group(1) for found in NAMED.finditer(text)
    }


def sources():
    """Every source that can carry a color."""
    return [
        path
        for path in sorted(SRC.rglob("*"))
        if path.suffix in (".py", ".html", ".css", ".json", ".svg", ".mjs", ".js")
        and "__pycache__" not in path.parts
    ]


def test_every_color_that_is_written_out_is_in_the_table():
    found = {
        path.relative_to(SRC).as_posix(): written(path.read_text("utf-8")) for path in sources()
    }
    told = {name: {color for pair in pairs for color in pair[:2]} for name, pairs in USED.items()}
    roles = {
        color
        for role in ROLES.values()
        for part in (role.line, role.fill, role.text)
        for color in part
    } | {*PAPER, *INK}
    assert found.pop(PALETTE) - {"#FFFFFF", "#000000"} <= roles
    # The table also names what a color stands on, which may be written elsewhere.
    assert {
        name: colors - told.get(name, set())
        for name, colors in found.items()
        if colors - told.get(name, set())
    } == {}
    assert {name for name in told if not {pair[0] for pair in USED[name]} <= found[name]} == set()


@pytest.mark.parametrize(
    "text, colors",
    [
        ("a{color:#12345;background:#abc}", {"#abc"}),
        ("&#183; &#8220;", set()),
        ("color: red", {"red"}),
        ('facecolor": "white"', {"white"}),
        ("see #4a4f55.", {"#4a4f55"}),
    ],
)
def test_a_color_is_found_where_it_is_written(text, colors):
    assert written(text) == colors


@pytest.mark.parametrize(
    "where, color, under, least", [(name, *pair) for name, pairs in USED.items() for pair in pairs]
)
def test_contrast_of_what_is_written_out(where, color, under, least):
    assert contrast(whole(color), whole(under)) >= least


@pytest.mark.parametrize("dark", [0, 1], ids=["light", "dark"])
def test_contrast_of_everything_else_on_a_page(dark):
    """Words and edges of panels, of the page to hand over and of the offline page, on the paper
    they set or get.
    """
    paper, ink = PAPER[dark], INK[dark]
    assert contrast(ink, paper) >= WORDS
    for role in ("front", "rear", "muted"):
        assert (
            contrast(ROLES[role].text[dark], paper) >= WORDS
            and contrast(ROLES[role].line[dark], paper) >= LINES
        )


@pytest.mark.parametrize("dark", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("name", ROLES)
def test_words_of_a_role_stand_out_from_every_area(name, dark):
    """Words have a rim of paper, which is what counts; even without it they stand out from the area
    of their own role.
    """
    role = ROLES[name]
    if name != "ink":
        assert contrast(role.text[dark], role.fill[dark]) >= LINES
    assert "paint-order:stroke;stroke:var(--lv-paper)" in page_rules()


def test_pages_take_the_pair_of_their_theme():
    """Paper and ink are told together, so that neither stands on the reader's own."""
    for text in (pages.whole_page("A page"), offline_page.page()):
        for light, dark in (PAPER, INK):
            assert re.search(rf"light-dark\({light}, ?{dark}\)", text)
    assert "var(--lv-rear-text)" in page_rules()


def test_pictures_and_panels_use_no_variable_that_is_not_set():
    """A name without a color would be drawn in black, on dark paper too."""
    set_there = set(re.findall(r"(--[\w-]+):", page_rules()))
    used = set(re.findall(r"var\((--[\w-]+)", page_rules()))
    assert used <= set_there and len(used) > 20
    page = offline_page.page()
    assert set(re.findall(r"var\((--[\w-]+)\)", page)) <= set(re.findall(r"(--[\w-]+):", page))
