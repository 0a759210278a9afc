"""The page to hand over: one sheet, real letters, this machine's numbers, gray, plain words,
nothing promised, strangers' text escaped.
"""

import re
import shutil
import subprocess
import zlib
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from reading import grade, syllables

from leverarm import Refusal
from leverarm.decision import Manual, demo_case
from leverarm.graphs import color
from leverarm.handouts.customer_page import customer_page, main
from leverarm.handouts.customer_page_print import page_figure, width_of
from leverarm.handouts.customer_page_words import BLANKS, page_words
from leverarm.handouts.sheet import PAPERS
from leverarm.scene.palette import contrast

CASE = demo_case(weighed=True)
# Means of the invented readings in pounds, front axle: bare 1321, frame and bucket 2274, ballast
# 1041,
# all on 1995.  The one check, 1995 - 2274 - 1041 + 1321 = 1, is shared out by a quarter: all on
# 1994.75,
# ballast alone 1041.25.  The deck adds 310 x (1 - 33/65) = 152.62 to both.
ON_KG, ON_LB, OFF_KG, CHANGE_KG = "974.0", "2147", "541.5", "−432.5"
STRICT = replace(
    CASE,
    manual=Manual(
        front_least=45, front_axle="900 kg", rear_axle="900 kg", bucket_may_come_off=False
    ),
)


def objects(data):
    """{number: bytes} of the objects of a PDF."""
    return {int(n): body for n, body in re.findall(rb"(\d+) 0 obj\n(.*?)\nendobj", data, re.DOTALL)}


def unpacked(body):
    """The content of an object's stream."""
    packed = re.search(rb"stream\r?\n(.*)\r?\nendstream", body, re.DOTALL).group(1)
    return zlib.decompress(packed) if b"/FlateDecode" in body else packed


def letters_of_fonts(data):
    """{name of a font on the page: {glyph number: letters}} from the ToUnicode maps."""
    known, fonts = objects(data), {}
    for name, number in re.findall(rb"/(F\d+) (\d+) 0 R", data):
        table = re.search(rb"/ToUnicode (\d+) 0 R", known[int(number)])
        fonts[name] = dict(_mapped(unpacked(known[int(table.group(1))])))
    return fonts


def _mapped(table):
    """(glyph number, letters) pairs: a run of glyphs to a run of letters, or to a list of them."""
    for first, _, rest in re.findall(
        rb"<([0-9a-fA-F]{4})> <([0-9a-fA-F]{4})>\s+(\[[^\]]*\]|<[0-9a-fA-F]+>)", table
    ):
        start = int(first, 16)
        for i, code in enumerate(re.findall(rb"<([0-9a-fA-F]+)>", rest)):
            yield start + i, bytes.fromhex(code.decode()).decode("utf-16-be")


def searched(data):
    """The words of a PDF as a search finds them, line by line, in pure Python."""
    fonts, lines = letters_of_fonts(data), []
    page = next(unpacked(body) for body in objects(data).values() if b"BT\n" in _tried(body))
    for block in re.findall(rb"BT(.*?)ET", page, re.DOTALL):
        line = ""
        for name, shown in re.findall(
            rb"/(F\d+) [\d.]+ Tf|\(((?:\\.|[^\\()])*)\)", block, re.DOTALL
        ):
            if name:
                letters = fonts[name]
            raw = re.sub(
                rb"\\([0-7]{1,3}|.)", lambda m: _unescaped(m.group(1)), shown, flags=re.DOTALL
            )
            line += "".join(
                letters.get(int.from_bytes(raw[i : i + 2], "big"), "?")
                for i in range(0, len(raw), 2)
            )
        lines.append(line)
    return "\n".join(lines)


def _tried(body):
    try:
        return unpacked(body)
    except (zlib.error, AttributeError):
        return b""


def _unescaped(code):
    named = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}
    return named.get(code) or (bytes([int(code, 8) & 255]) if code.isdigit() else code)


@pytest.fixture(scope="module", params=list(PAPERS))
def printed(request, tmp_path_factory):
    path = tmp_path_factory.mktemp("page") / "page.pdf"
    return request.param, customer_page(CASE, path, paper=request.param).read_bytes()


# --- the PDF
# -----------------------------------------------------------------------------------------


def test_one_page_of_the_paper_asked_for(printed):
    paper, data = printed
    box = re.search(rb"/MediaBox \[ ?0 0 ([\d.]+) ([\d.]+)", data)
    assert len(re.findall(rb"/Type /Page\b(?!s)", data)) == 1
    assert tuple(float(x) / 72 for x in box.groups()) == pytest.approx(PAPERS[paper], abs=0.01)


def test_letters_are_embedded_truetype(printed):
    data = printed[1]
    assert data.count(b"/FontFile2") >= 1 and b"/Type3" not in data and b"/FontFile3" not in data
    assert data.count(b"/ToUnicode") >= data.count(b"/FontFile2")


def test_the_numbers_of_this_machine_can_be_searched(printed):
    found = searched(printed[1])
    for needed in (
        "Mowing: loader on or off?",
        f"{ON_KG} ± ",
        f"{OFF_KG} ± ",
        f"{CHANGE_KG} ± ",
        f"{ON_LB} ± ",
        "Your manual decides",
        "Front axle",
        "Plot tractor",
    ):
        assert needed in found, needed


def test_poppler_finds_the_same(printed, tmp_path):
    if not shutil.which("pdftotext") or not shutil.which("pdffonts"):
        pytest.skip("poppler is not on this machine: the pure-Python reading above stands alone")
    path = tmp_path / "page.pdf"
    path.write_bytes(printed[1])
    text = subprocess.run(
        ["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True
    ).stdout
    fonts = subprocess.run(
        ["pdffonts", path], capture_output=True, text=True, check=True
    ).stdout.splitlines()[2:]
    assert f"{CHANGE_KG} ± " in text and "Your manual decides" in text
    assert fonts and all(
        "TrueType" in line and line.split("Identity-H")[1].split()[0] == "yes" for line in fonts
    )


def test_another_machine_gets_its_own_numbers(tmp_path):
    other = searched(customer_page(demo_case("rear"), tmp_path / "page.pdf").read_bytes())
    # 1320 + 954 - 280 - 130 x 24/65 = 1946 lb
    assert ON_KG not in other and "882.7" in other


def test_same_bytes_every_time_and_no_date_unless_told(tmp_path):
    for end in ("pdf", "html"):
        first, second = (
            customer_page(CASE, tmp_path / f"{name}.{end}").read_bytes() for name in "ab"
        )
        assert (
            first == second
            and b"CreationDate" not in first
            and not re.search(rb"20[2-9]\d-\d\d", first)
        )
    assert "2025-05-14" in searched(
        customer_page(CASE, tmp_path / "d.pdf", date="2025-05-14").read_bytes()
    )


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("case", [CASE, demo_case("rear"), STRICT], ids=["mid", "rear", "stopped"])
def test_every_word_is_on_the_sheet_and_large_enough(paper, case):
    page = page_figure(
        page_words(case, note="Invented readings, to show what a page looks like."), PAPERS[paper]
    )
    draw, axes = FigureCanvasAgg(page).get_renderer(), page.axes[0]
    for text in axes.texts:
        box = text.get_window_extent(draw)
        assert (
            box.x0 >= 0.3 * page.dpi
            and box.x1 <= page.bbox.width - 0.3 * page.dpi
            and box.y0 >= 0.25 * page.dpi
        ), text.get_text()
    sizes = sorted(text.get_fontsize() for text in axes.texts)
    body = [
        text.get_fontsize()
        for text in axes.texts
        if len(text.get_text()) > 25 and not text.get_text().startswith("Invented")
    ]
    assert min(body) >= 11 and sizes[-1] >= 17


def test_width_is_what_matplotlib_draws():
    page = page_figure(page_words(CASE), PAPERS["A4"])
    draw = FigureCanvasAgg(page).get_renderer()
    for text in page.axes[0].texts:
        if "\n" not in text.get_text() and text.get_text():
            drawn = text.get_window_extent(draw).width / page.dpi
            assert width_of(
                text.get_text(), text.get_fontsize(), text.get_weight() == "bold"
            ) == pytest.approx(drawn, rel=0.06, abs=0.03)  # the screen hints its letters


def test_gray_tells_front_from_rear():
    """By hatching, by the mark at the end of the bar, and by the word."""
    page = page_figure(page_words(CASE), PAPERS["A4"])
    hatched = {patch.get_hatch() for patch in page.axes[0].patches}
    words = [text.get_text() for text in page.axes[0].texts]
    assert "////" in hatched and None in hatched
    assert any(word.startswith("front ") for word in words) and any(
        word.startswith("rear ") for word in words
    )
    assert all(
        contrast(color(role, "text"), "#FFFFFF") >= 4.5 for role in ("front", "rear", "load", "ink")
    )


# --- the words
# ---------------------------------------------------------------------------------------


def everything(words):
    return [
        *words.means,
        *words.not_meant,
        *words.checklist,
        *words.manual,
        *words.working,
        words.assumed,
        *words.stops,
        words.title,
    ]


def test_the_measure_of_reading_itself():
    assert grade(["The cat sat on the mat."]) == pytest.approx(0.39 * 6 + 11.8 - 15.59)
    assert syllables("machine") == 2 and syllables("readings") == 2 and syllables("the") == 1


def test_a_customer_of_school_grade_six_to_eight_can_read_it():
    for case in (CASE, STRICT, demo_case("rear")):
        words = page_words(case)
        assert grade([*words.means, *words.not_meant, *words.checklist, words.assumed]) <= 8


def test_three_lines_mean_three_do_not_and_the_equation_gives_the_number():
    words = page_words(CASE)
    assert len(words.means) == len(words.not_meant) == 3 and len(words.working) == 3
    assert "203 kg" in words.working[1] and "447 lb" in words.working[2]
    assert "44 %" in words.means[0] and "953 lb" in words.means[0]


def test_nothing_is_promised():
    said = " ".join(everything(page_words(STRICT))).lower()
    assert "safe" not in said and "guarantee" not in said and "no ruts" not in said
    assert "nothing about ruts" in said and "nothing about wear, fuel, price or warranty" in said


def test_red_lines_stand_on_the_page(tmp_path):
    found = searched(customer_page(STRICT, tmp_path / "page.pdf").read_bytes())
    assert "STOP." in found and "service department" in found
    assert "STOP." in customer_page(STRICT, tmp_path / "page.html").read_text("utf-8")
    assert page_words(CASE).stops == ()


def test_company_is_a_blank_unless_told():
    blanks = dict(page_words(CASE).blanks)
    assert (
        blanks["From"] == ""
        and blanks["Machine"] == "Plot tractor"
        and "522 lb" in blanks["Ballast"]
    )
    assert dict(page_words(CASE, company="Your company").blanks)["From"] == "Your company" and len(
        blanks
    ) == len(BLANKS)


# --- the HTML
# ----------------------------------------------------------------------------------------


class Page(HTMLParser):
    def __init__(self, text):
        super().__init__()
        self.tags, self.links, self.words = [], [], []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.links += [
            value for name, value in attrs if name in ("src", "href", "onload", "onclick")
        ]

    def handle_data(self, data):
        self.words.append(data)


def test_html_is_whole_and_loads_nothing(tmp_path):
    text = customer_page(CASE, tmp_path / "page.html").read_text("utf-8")
    page = Page(text)
    assert (
        not page.links
        and "script" not in page.tags
        and "url(" not in text
        and "@import" not in text
    )
    assert (
        "http" not in text.replace("http://www.w3.org/2000/svg", "")
        and text.startswith("<!DOCTYPE html>")
        and 'lang="en"' in text
    )
    assert page.tags.count("h1") == 1 and page.tags.count("svg") == 4
    assert f"{CHANGE_KG} ± " in text and f"{ON_LB} ± " in text


NASTY = '<img src=x onerror="alert(1)">&</title>'


def test_what_a_stranger_typed_is_escaped(tmp_path):
    text = customer_page(
        replace(CASE, name="<script>x</script>"), tmp_path / "page.html", company=NASTY
    ).read_text("utf-8")
    page = Page(text)
    assert "script" not in page.tags and "img" not in page.tags and NASTY in "".join(page.words)


@pytest.mark.parametrize(
    "how, words",
    [
        ({"company": "x" * 200}, "From"),
        ({"color": "red"}, "page"),
        ({"company": "a\x07b"}, "From"),
        ({"paper": "A3"}, "paper"),
        ({"system": "st"}, "unit system"),
        ({"note": "x" * 500}, "note"),
    ],
)
def test_what_cannot_stand_on_it_is_refused(tmp_path, how, words):
    with pytest.raises(Refusal, match=words):
        customer_page(CASE, tmp_path / "page.pdf", **how)
    assert not list(tmp_path.iterdir())


def test_only_pdf_and_html(tmp_path):
    with pytest.raises(Refusal, match=r"pdf or \.html"):
        customer_page(CASE, tmp_path / "page.doc")
    main(tmp_path)
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "customer_page.html",
        "customer_page_a4.pdf",
        "customer_page_letter.pdf",
    ]
