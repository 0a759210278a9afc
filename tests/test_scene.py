"""Pictures: numbers drawn to scale, words inside the sheet and off each other, colors legible, text
escaped.
"""

import itertools
import re
import xml.etree.ElementTree as ET

import pytest

from leverarm import exercises
from leverarm.problem_pictures import problem_scene
from leverarm.scene import (
    LARGE,
    NARROW,
    WIDE,
    Arrow,
    Axis,
    Band,
    Bar,
    Curve,
    Dimension,
    Frame,
    Label,
    Mark,
    Marker,
    Scene,
    View,
    bar_chart,
    line_chart,
    picture,
    place,
    svg,
    ticks,
    turned,
)
from leverarm.scene.layout import overlap, text_width
from leverarm.scene.loader_arc import round_up
from leverarm.scene.palette import INK, PAPER, ROLES, contrast, style_sheet

SVG = "{http://www.w3.org/2000/svg}"
VIEWS = [WIDE, NARROW, LARGE]


def given(seed=1, system="kg"):
    """A drawing with every kind of shape: a loader, three pieces, a column and lengths."""
    return problem_scene(exercises.make("loader_off_relief", seed, system))


def named(name):
    """A picture and a place of this name."""
    return Scene((Marker((0, 0)), Label((0, 0), name)), (-1, -1, 1, 1), name, f"Of {name}.")


def texts(scene):
    return [s.text for s in scene.shapes if isinstance(s, (Label, Dimension))]


# --- colors -------------------------------------------------------------------------------------


@pytest.mark.parametrize("dark", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("name", ROLES)
def test_contrast_on_paper_and_on_the_roles_own_fill(name, dark):
    """WCAG 2.2: words 4.5 to 1, lines 3 to 1, on the paper and on every area they may stand on."""
    role = ROLES[name]
    assert contrast(role.text[dark], PAPER[dark]) >= 4.5
    assert contrast(role.line[dark], PAPER[dark]) >= 3
    if name != "ink":
        assert contrast(role.line[dark], role.fill[dark]) >= 3
        assert contrast(INK[dark], role.fill[dark]) >= 4.5


@pytest.mark.parametrize(
    "one, other, ratio",
    [
        ("#FFFFFF", "#000000", 21),
        ("#FFFFFF", "#FFFFFF", 1),
        ("#777777", "#FFFFFF", 4.48),
        ("#767676", "#FFFFFF", 4.54),
    ],
)
def test_contrast_by_published_values(one, other, ratio):
    """WCAG 2.2 definition; the pair around 4.5 for grays on white is widely published (from
    memory).
    """
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)


def test_axles_differ_in_dash_and_marker_too():
    marks = {
        name: (role.dash, role.marker)
        for name, role in ROLES.items()
        if name in ("front", "rear", "load", "counter")
    }
    assert len({mark for _, mark in marks.values()}) == 4
    assert not ROLES["front"].dash and ROLES["rear"].dash


def test_both_themes_are_in_the_style_sheet():
    rules = style_sheet()
    for line, dark in (ROLES["front"].line, ROLES["rear"].line):
        assert line in rules and dark in rules
    assert "prefers-color-scheme:dark" in rules and "data-jp-theme-light" in rules


# --- words: inside the sheet, off each other ------------------------------------------------------


def crowded(scene, view):
    """Labels that leave the sheet or stand on another."""
    placed = place(scene, view)
    out = [
        p.text
        for p in placed
        if p.box[0] < 0 or p.box[1] < 0 or p.box[2] > view.width or p.box[3] > view.height
    ]
    return out + [
        (p.text, q.text) for p, q in itertools.combinations(placed, 2) if overlap(p.box, q.box)
    ]


def test_the_collision_test_can_fail():
    on_top = Scene(
        tuple(Label((0, 0), "the same place", fixed=True) for _ in range(2)),
        (-1, -1, 1, 1),
        "t",
        "d",
    )
    assert crowded(on_top, WIDE)
    outside = View(20, 20, 16)
    assert crowded(
        Scene((Label((0, 0), "far too long for so small a sheet"),), (-1, -1, 1, 1), "t", "d"),
        outside,
    )


# --- the renderer --------------------------------------------------------------------------------


def test_svg_is_well_formed_named_and_described():
    root = ET.fromstring(svg(given()))
    assert root.get("role") == "img"
    named = root.get("aria-labelledby").split()
    assert [root.find(f"{SVG}{tag}").get("id") for tag in ("title", "desc")] == named
    assert root.find(f"{SVG}desc").text == given().desc


def test_the_same_scene_gives_the_same_bytes_and_another_gives_other_ids():
    assert svg(given()) == svg(given())
    ids = [set(re.findall(r'id="([^"]+)"', svg(scene))) for scene in (given(), given(2))]
    assert not ids[0] & ids[1]
    drawn = " ".join(re.findall(r' (?:points|d|x|y|cx|cy|r|width|height)="([^"]*)"', svg(given())))
    assert len(drawn) > 1000 and not re.search(r"\d\.\d{2}|[a-df-km-z]|-0\b(?!\.)", drawn)


def test_a_page_picture_shows_one_of_two_sheets_with_ids_of_their_own():
    html = picture(given(), key="k")
    ids = re.findall(r'id="([^"]+)"', html)
    assert len(ids) == len(set(ids)) == 4 and html.count("<svg") == 2
    assert picture(given(), key="k", large=True).count("<svg") == 1


@pytest.mark.parametrize("name", ["<b>x</b>", "a & b", 'quote "', "<script>alert(1)</script>"])
def test_names_are_escaped(name):
    root = ET.fromstring(svg(named(name)))
    assert name == root.find(f"{SVG}title").text
    assert name in [one.text for one in root.iter(f"{SVG}text")]
    assert not root.findall(f".//{SVG}script") and not root.findall(f".//{SVG}b")


def test_no_scene_names_a_color():
    """Colors live in the style sheet; the drawing itself has none."""
    drawing = svg(given(), style=False)
    assert not re.search(r"#[0-9A-Fa-f]{3,6}\b|rgb|fill=\"(?!none)", drawing)


def test_short_words_on_a_narrow_sheet():
    assert {p.text for p in place(given(), NARROW)} != {p.text for p in place(given(), WIDE)}


@pytest.mark.parametrize(
    "number, up", [(790, 1000), (1000, 1000), (1001, 1500), (0.3, 0.3), (45, 50)]
)
def test_round_numbers(number, up):
    assert round_up(number) == pytest.approx(up)


def test_frame_keeps_one_scale_and_mirrors():
    frame = Frame(Scene((), (2, 0, -2, 2), "t", "d", (0, 0, 0, 0)), View(400, 300, 10))
    assert (
        frame((2, 0)) == (0, 300)
        and frame((-2, 0)) == (400, 300)
        and frame((0, 1, 1, 2)) == (210, 180)
    )


def test_turned_shapes_keep_what_is_drawn():
    arrow = Arrow((0.0, 0.0), (1.0, 0.0, 0.5, 0.0))
    assert turned([arrow], (0.0, 0.0), 90)[0].tip == pytest.approx((0, 1, 0.5, 0))


def test_wider_text_is_wider():
    assert (
        text_width("Front 790.0 kg")
        < text_width("Front 790.0 kg", bold=True)
        < text_width("Front 10790.0 kg", bold=True)
    )


@pytest.mark.parametrize("bold", [False, True], ids=["regular", "bold"])
@pytest.mark.parametrize(
    "words",
    [
        "Front 1660.6 kg",
        "low: 461.4 kg",
        "Rear 363.0 kg",
        "percent of the hands",
        "20 % of the total",
        "go on above",
        "overhang 47.0 in",
        "± 0.98 kg",
    ],
)
def test_words_have_room_in_a_wide_ordinary_font(words, bold):
    """Outside: the letters of DejaVu Sans, as they come with matplotlib. It is the font of a plain
    Linux desktop and a tenth wider than Helvetica; no more than a tenth of room is given away.
    """
    from matplotlib import font_manager
    from matplotlib.ft2font import FT2Font, LoadFlags

    wanted = font_manager.FontProperties(family="DejaVu Sans", weight="bold" if bold else "normal")
    font = FT2Font(font_manager.findfont(wanted))
    font.set_size(1000, 72)
    letters = [font.load_char(ord(letter), flags=LoadFlags.NO_HINTING) for letter in words]
    real = sum(letter.linearHoriAdvance for letter in letters) / 65536 / 1000
    assert real <= text_width(words, bold) <= 1.1 * real


# --- charts --------------------------------------------------------------------------------------


def test_a_chart_holds_its_lines_bands_and_marks():
    line = Curve("front", ((0, 1), (1, 2), (2, 3)))
    scene = line_chart(
        "t",
        "d",
        Axis("overhang, m", 0, 2),
        Axis("times", 0, 3),
        [line],
        bands=[Band(((0, 0.9, 1.1), (2, 2.9, 3.1)))],
        marks=[Mark("here", 1.0), Mark("there", 1.0, 2.0, "load")],
    )
    assert {"front", "here", "there", "overhang, m", "times", "0.0", "1.0", "2.0", "3.0"} <= set(
        texts(scene)
    )
    assert sum(isinstance(s, Marker) and s.role == "front" for s in scene.shapes) == 3
    ET.fromstring(svg(scene))


@pytest.mark.parametrize("view", VIEWS, ids=lambda v: v.name)
def test_chart_words_do_not_collide(view):
    bars = [
        Bar(n, e, s, text=f"{e - s:.0f}")
        for n, e, s in (("bare", 600, 0), ("frame", 829, 600), ("bucket", 1019, 829))
    ]
    lines = [
        Curve("front", tuple((x / 10, 1 + x / 10) for x in range(21))),
        Curve("rear", ((0, 0), (2, -2)), "rear"),
    ]
    for scene in (
        bar_chart("t", "d", Axis("kg", 0, 1200), bars, joined=True),
        line_chart(
            "t", "d", Axis("m", 0, 2), Axis("times", -2, 3), lines, marks=[Mark("doubles", 1.65)]
        ),
    ):
        assert not crowded(scene, view)


@pytest.mark.parametrize(
    "start, end, expected",
    [
        (0, 1, [0, 0.2, 0.4, 0.6, 0.8, 1.0]),
        (-2, 3, [-2, -1, 0, 1, 2, 3]),
        (0.5, 5, [1, 2, 3, 4, 5]),
        (1, 0, [0, 0.2, 0.4, 0.6, 0.8, 1.0]),
    ],
)
def test_ticks_are_round_and_inside(start, end, expected):
    assert ticks(start, end) == pytest.approx(expected)


def test_an_axis_can_run_downwards():
    frame = Frame(line_chart("t", "d", Axis("kPa", 0, 100), Axis("depth, m", 1, 0), []), WIDE)
    assert frame((0, 0))[1] < frame((0, 1))[1]
