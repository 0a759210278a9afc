"""Pictures: numbers drawn to scale, words inside the sheet and off each other, colors legible, text
escaped.
"""

import itertools
import random
import re
import xml.etree.ElementTree as ET

import pytest
from worked import worked_loader, worked_tractor

from leverarm import Attachment, Tractor, predict, statics
from leverarm.axles import AxleLoads
from leverarm.quantities import show
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
    Look,
    Mark,
    Marker,
    Scene,
    View,
    bar_chart,
    line_chart,
    picture,
    place,
    shifted,
    side_view,
    svg,
    ticks,
    turned,
)
from leverarm.scene.layout import overlap, text_width
from leverarm.scene.machine_drawing import round_up
from leverarm.scene.palette import INK, PAPER, ROLES, contrast, style_sheet
from leverarm.scene.side_view import round_down

SVG = "{http://www.w3.org/2000/svg}"
VIEWS = [WIDE, NARROW, LARGE]
PLOT, (FRAME, BUCKET) = worked_tractor(), worked_loader()


def hung(weight=110, ahead=1.2, wheelbase=1.65, front=600, rear=800, **look):
    tractor, piece = (
        Tractor("test machine", wheelbase, front, rear),
        Attachment("bucket", weight, ahead),
    )
    return side_view(
        tractor, (piece,), predict(tractor, piece), before=predict(tractor), look=Look(**look)
    )


def arrows(scene, role, ghost=False):
    return [s for s in scene.shapes if isinstance(s, Arrow) and s.role == role and s.ghost == ghost]


def length(arrow):
    return sum((p - q) ** 2 for p, q in zip(arrow.tail, arrow.tip)) ** 0.5


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


# --- what the side view shows --------------------------------------------------------------------


@pytest.mark.parametrize("system", ["kg", "lb"])
@pytest.mark.parametrize(
    "weight, ahead", [(110, 1.2), (300, 0.4), (110, -0.8), (200, -1.65), (50, 3)]
)
def test_arrows_are_drawn_to_one_scale(weight, ahead, system):
    scene = hung(weight, ahead, system=system)
    loads = predict(Tractor("t", 1.65, 600, 800), Attachment("b", weight, ahead))
    (front,), (rear,), (load,) = (
        arrows(scene, "front"),
        arrows(scene, "rear"),
        arrows(scene, "load"),
    )
    per_kg = length(front) / loads.front_kg
    assert length(rear) == pytest.approx(per_kg * loads.rear_kg)
    assert length(load) == pytest.approx(per_kg * weight)
    assert [
        length(a) for role in ("front", "rear") for a in arrows(scene, role, ghost=True)
    ] == pytest.approx([per_kg * 600, per_kg * 800])


@pytest.mark.usefixtures("metric")
def test_the_scale_bar_is_as_long_as_it_says():
    scene = hung()
    bar = next(s for s in scene.shapes if isinstance(s, Dimension) and not s.text)
    told = next(t for t in texts(scene) if t.startswith("an arrow this long"))
    kg = float(re.search(r"([\d,]+) kg", told).group(1).replace(",", ""))
    assert abs(bar.a[0] - bar.b[0]) / kg == pytest.approx(length(arrows(scene, "front")[0]) / 790)


@pytest.mark.usefixtures("metric")
def test_dimensions_measure_what_they_say():
    spans = {
        s.text: abs(s.a[0] - s.b[0]) for s in hung().shapes if isinstance(s, Dimension) and s.text
    }
    assert spans == {"overhang 1.20 m": pytest.approx(1.2), "wheelbase 1.65 m": pytest.approx(1.65)}


@pytest.mark.parametrize("system", ["kg", "lb"])
def test_readings_and_description_carry_the_numbers(system):
    scene = hung(system=system)
    for kg in (790, 720, 600, 800):
        whole = show(kg, "weight", system, decimals=0)
        assert any(whole in t for t in texts(scene)) and whole in scene.desc
    assert show(1.65, "length", system) in scene.desc and show(1.2, "length", system) in scene.desc


def test_hidden_readings_are_in_no_word_of_the_picture():
    scene = hung(hidden=True)
    words = " ".join([scene.title, scene.desc, *texts(scene)])
    assert "790" not in words and "720" not in words and "kept back" in words
    assert not arrows(hung(hidden=True), "front")


@pytest.mark.parametrize("ahead, axle", [(1.2, "rear"), (-3.5, "front")])
def test_a_lifted_axle_is_drawn_and_told(ahead, axle):
    tractor, piece = Tractor("t", 1.65, 600, 800), Attachment("load", 1500, ahead)
    scene = side_view(tractor, (piece,), predict(tractor, piece), before=predict(tractor))
    assert not arrows(scene, axle) and f"The {axle} axle carries nothing" in texts(scene)
    assert "has left its scale" in scene.desc
    wheel = [s for s in scene.shapes if hasattr(s, "radius") and s.radius > 0.3]
    bottoms = sorted(s.at[1] - s.radius for s in wheel)
    assert bottoms[-1] > 0.02 and abs(bottoms[0]) < 0.01


def test_double_is_marked_one_wheelbase_ahead():
    scene = hung(doubling=True)
    at = next(s.at[0] for s in scene.shapes if isinstance(s, Label) and "double" in s.text)
    assert at == pytest.approx(1.65) and statics.amplification(at, 1.65) == pytest.approx(2)


def test_on_a_grade_the_machine_turns_and_weights_stay_plumb():
    tractor, piece = Tractor("t", 1.65, 600, 800, "0.7 m"), Attachment("b", 110, 1.2, "0.35 m")
    scene = side_view(
        tractor, (piece,), predict(tractor, piece, grade_deg=10), look=Look(grade_deg=10)
    )
    (load,), (front,) = arrows(scene, "load"), arrows(scene, "front")
    assert load.tail[0] == pytest.approx(load.tip[0])
    assert (front.tip[0] - front.tail[0]) / (front.tip[1] - front.tail[1]) == pytest.approx(
        -0.17633, abs=1e-4
    )  # tan 10 deg
    assert "10.0 degrees" in scene.desc


def test_the_loader_reaches_from_the_machine_to_its_bucket():
    alone, with_bucket = side_view(PLOT), side_view(PLOT, (BUCKET,))
    assert (
        not any(s.role == "load" for s in alone.shapes)
        and sum(s.role == "load" for s in with_bucket.shapes) > 5
    )


# --- words: inside the sheet, off each other ------------------------------------------------------


def sweep(count=250):
    """Extremes of every slider, then seeded places between them."""
    extremes = itertools.product(
        (1, 2000), (-2, -0.4, 0, 0.4, 1.2, 3), (0.5, 1.65, 5), (1, 2000), (1, 2000)
    )
    r = random.Random(20)
    between = (
        (
            r.uniform(1, 2000),
            r.uniform(-2, 3),
            r.uniform(0.5, 5),
            r.uniform(1, 2000),
            r.uniform(1, 2000),
        )
        for _ in range(count)
    )
    return [*extremes, *between]


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


@pytest.mark.parametrize("view", VIEWS, ids=lambda v: v.name)
@pytest.mark.parametrize("system", ["kg", "lb"])
def test_no_words_collide_or_leave_the_sheet_over_the_whole_range(system, view):
    for case in sweep():
        assert not crowded(hung(*case, system=system, doubling=True), view), case


@pytest.mark.parametrize("view", VIEWS, ids=lambda v: v.name)
def test_no_words_collide_elsewhere(view):
    both = (FRAME, BUCKET)
    scenes = [
        side_view(PLOT, both, predict(PLOT, *both), before=predict(PLOT)),
    ]
    for scene in scenes:
        assert not crowded(scene, view), scene.title


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
    root = ET.fromstring(svg(hung()))
    assert root.get("role") == "img"
    named = root.get("aria-labelledby").split()
    assert [root.find(f"{SVG}{tag}").get("id") for tag in ("title", "desc")] == named
    assert root.find(f"{SVG}desc").text == hung().desc


def test_the_same_scene_gives_the_same_bytes_and_another_gives_other_ids():
    assert svg(hung()) == svg(hung())
    ids = [set(re.findall(r'id="([^"]+)"', svg(scene))) for scene in (hung(), hung(111))]
    assert not ids[0] & ids[1]
    drawn = " ".join(re.findall(r' (?:points|d|x|y|cx|cy|r|width|height)="([^"]*)"', svg(hung())))
    assert len(drawn) > 1000 and not re.search(r"\d\.\d{2}|[a-df-km-z]|-0\b(?!\.)", drawn)


def test_a_page_picture_shows_one_of_two_sheets_with_ids_of_their_own():
    html = picture(hung(), key="k")
    ids = re.findall(r'id="([^"]+)"', html)
    assert len(ids) == len(set(ids)) == 4 and html.count("<svg") == 2
    assert picture(hung(), key="k", large=True).count("<svg") == 1


@pytest.mark.parametrize("name", ["<b>x</b>", "a & b", 'quote "', "<script>alert(1)</script>"])
def test_names_are_escaped(name):
    piece = Attachment(name, 110, 1.2)
    root = ET.fromstring(svg(side_view(PLOT, (piece,), predict(PLOT, piece))))
    assert (
        name in root.find(f"{SVG}title").text
        and not root.findall(f".//{SVG}script")
        and not root.findall(f".//{SVG}b")
    )


def test_no_scene_names_a_color():
    """Colors live in the style sheet; the drawing itself has none."""
    drawing = svg(hung(doubling=True), style=False)
    assert not re.search(r"#[0-9A-Fa-f]{3,6}\b|rgb|fill=\"(?!none)", drawing)


def test_short_words_on_a_narrow_sheet():
    assert {p.text for p in place(hung(), NARROW)} != {p.text for p in place(hung(), WIDE)}


@pytest.mark.parametrize(
    "number, up, down",
    [(790, 1000, 500), (1000, 1000, 1000), (1001, 1500, 1000), (0.3, 0.3, 0.2), (45, 50, 20)],
)
def test_round_numbers(number, up, down):
    assert round_up(number) == pytest.approx(up) and round_down(number) == pytest.approx(down)


def test_frame_keeps_one_scale_and_mirrors():
    frame = Frame(Scene((), (2, 0, -2, 2), "t", "d", (0, 0, 0, 0)), View(400, 300, 10))
    assert (
        frame((2, 0)) == (0, 300)
        and frame((-2, 0)) == (400, 300)
        and frame((0, 1, 1, 2)) == (210, 180)
    )


def test_turned_and_shifted_keep_what_is_drawn():
    arrow = Arrow((0.0, 0.0), (1.0, 0.0, 0.5, 0.0))
    assert turned([arrow], (0.0, 0.0), 90)[0].tip == pytest.approx((0, 1, 0.5, 0))
    assert shifted([arrow], 1, 1)[0].tip == (2.0, 1.0, 0.5, 0.0)


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


def test_loads_without_before_show_no_was():
    scene = side_view(PLOT, (), AxleLoads(600, 800))
    assert not any("was" in t for t in texts(scene)) and "Before" not in scene.desc
