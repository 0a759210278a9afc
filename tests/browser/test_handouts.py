"""The sheets to print as a browser shows and prints them: the checker, paper, a narrow window."""

import re

import axe
import pytest
from class_files import demo_codes, ticket_of

from leverarm.exercises import problems
from leverarm.exercises.typeset import typeset
from leverarm.handouts import parts
from leverarm.handouts.sheet import PAPERS as PAPER_SIZES
from leverarm.handouts.sheet import sheet_html
from leverarm.handouts.tickets import print_tickets
from leverarm.marking import Desk, invented_class
from leverarm.marking.assignment import Assignment
from leverarm.marking.pages import paper as assignment_on_paper
from leverarm.marking.pages import whole_page
from leverarm.marking.teach_page import teach_page
from leverarm.panels.page import page_rules

SHEETS = parts.generated_sheets()
# How many pieces of paper each takes at most; a key and the polls as many as they need.
MOST = {"worksheets/worksheet": 1, "poll_cards": 1, "plank_lab": 2, "weigh_day": 2, "tickets": 2}
PAPERS = ("Letter", "A4")
ONE_OF_A_KIND = [
    *("poll_cards", "poll_questions_lb", "plank_lab_kg", "weigh_day_sheet_lb"),
    *("worksheets/worksheet_03_kg", "worksheets/worksheet_12_lb", "worksheets/key_lb", "tickets"),
]


def text_of(stem, folder):
    if stem != "tickets":
        return SHEETS[stem]()
    work = Assignment("Week 3 of the machine behind the shed 4", ["front_gain"])
    desk = Desk(folder / "my_class")
    desk.start(5)
    desk.write_assignment(work)
    return print_tickets(desk.tickets(work), folder / "tickets.html", "Letter").read_text("utf-8")


@pytest.fixture
def page(browser):
    opened = browser.new_page()
    yield opened
    opened.close()


def pieces_of_paper(printed):
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", printed))


# The units change no element: the checker looks at each sheet in pounds.
@pytest.mark.parametrize("stem", [*(one for one in SHEETS if not one.endswith("_kg")), "tickets"])
def test_the_checker_finds_nothing(stem, page, tmp_path):
    axe.script()
    page.set_content(text_of(stem, tmp_path))
    found = axe.check(page, "html", tags=(*axe.TAGS, "best-practice"))
    assert axe.short(found["violations"]) == []


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("stem", ONE_OF_A_KIND)
def test_it_takes_the_paper_it_is_made_for(stem, paper, page, tmp_path):
    """With and without background graphics, which many print dialogs leave out.

    Every PDF file of the lessons is held in tests/test_lessons.py.
    """
    page.set_content(text_of(stem, tmp_path))
    most = next((n for name, n in MOST.items() if stem.startswith(name)), 12)
    for graphics in (True, False):
        printed = page.pdf(format=paper, print_background=graphics)
        assert 1 <= pieces_of_paper(printed) <= most


@pytest.mark.parametrize("stem", ONE_OF_A_KIND)
@pytest.mark.parametrize("width", [320, 390, 640, 1280])
def test_nothing_runs_off_the_side(stem, width, page, tmp_path):
    """640 pixels are a window of 1,280 at 200 percent."""
    page.set_viewport_size({"width": width, "height": 800})
    page.set_content(text_of(stem, tmp_path))
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= width


@pytest.mark.parametrize("stem", ["worksheets/worksheet_02_lb", "worksheets/worksheet_09_kg"])
def test_the_room_to_work_is_as_large_as_designed(stem, page, tmp_path):
    """4.06 in wide on Letter and 2.17 in high, on paper: 96 pixels an inch."""
    page.set_viewport_size({"width": round(7.3 * 96), "height": 1000})
    page.emulate_media(media="print")
    page.set_content(text_of(stem, tmp_path))
    for room in page.locator(".room").all():
        box = room.bounding_box()
        assert box["width"] >= 4.0 * 96 and box["height"] >= 2.17 * 96 - 1


def test_the_key_is_read_from_a_desk(page, tmp_path):
    """No letter of the key is under 11 points but the units of its head."""
    page.emulate_media(media="print")
    page.set_content(text_of("worksheets/key_lb", tmp_path))
    small = page.evaluate(
        """() => [...document.querySelectorAll('.solved *')].filter(one =>
        [...one.childNodes].some(part => part.nodeType == 3 && part.data.trim()) &&
        !one.closest('sub, sup, .lv-heard') &&
        parseFloat(getComputedStyle(one).fontSize) < 11 * 96 / 72 - 0.01)
        .map(one => one.textContent)"""
    )
    assert small == []


@pytest.mark.parametrize("students", [5, 30, 300])
def test_teach_tomorrow_is_one_sheet_of_type_that_is_read_standing(students, page, tmp_path):
    """No letter under 10 points, on one sheet of Letter and of A4; nothing runs off its side."""
    result, _ = invented_class(tmp_path, students).mark("Trial")
    page.set_viewport_size({"width": round(7.5 * 96), "height": 1000})
    page.emulate_media(media="print")
    page.set_content(teach_page(result))
    small = page.evaluate(
        """() => [...document.querySelectorAll('main *')].filter(one =>
        [...one.childNodes].some(part => part.nodeType == 3 && part.data.trim()) &&
        !one.closest('style, .tt-hide') &&
        parseFloat(getComputedStyle(one).fontSize) < 10 * 96 / 72 - 0.01)
        .map(one => one.textContent)"""
    )
    assert small == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    for paper in PAPERS:
        assert pieces_of_paper(page.pdf(format=paper)) == 1


def test_a_reader_hears_question_drawing_room_and_answer_in_that_order(page, tmp_path):
    page.set_content(text_of("worksheets/worksheet_02_lb", tmp_path))
    told = page.locator(".problem").first.aria_snapshot()
    places = [
        told.index(words)
        for words in ("heading", "A load W is hung on", "Machine on two scales", "Change of the")
    ]
    assert places == sorted(places)


@pytest.mark.parametrize("first", [0, 1])
@pytest.mark.parametrize("paper", PAPERS)
def test_no_end_of_a_page_cuts_a_problem_from_its_drawing(paper, first, page):
    """On Letter and A4 each problem fits on a page, whole, with its drawing inside its lines."""
    width, height = PAPER_SIZES[paper]
    work = Assignment("All of it", [kind.name for kind in problems()][first::2], system="lb")
    page.set_viewport_size({"width": round((width - 1.2) * 96), "height": 1000})
    page.emulate_media(media="print")
    page.set_content(assignment_on_paper([ticket_of(demo_codes(1)[0], work)]))
    found = page.evaluate(
        """() => [...document.querySelectorAll('.item')].map(one => {
        const box = one.getBoundingClientRect(), svg = one.querySelector('svg');
        const drawn = svg ? svg.getBoundingClientRect() : box;
        const letters = [...one.querySelectorAll('svg text')].map(text =>
          parseFloat(text.getAttribute('font-size')) * drawn.width / svg.viewBox.baseVal.width);
        return {whole: getComputedStyle(one).breakInside == 'avoid', high: box.height,
          inside: drawn.right <= box.right + 1 && drawn.left >= box.left - 1
            && drawn.top >= box.top - 1 && drawn.bottom <= box.bottom + 1,
          letters: Math.min(...letters, 99), words: one.querySelector('h2').textContent}})"""
    )
    for one in found:
        assert one["whole"] and one["inside"], one
        assert one["high"] < (height - 1.0) * 96 / 2, one
        # Nine points and a half: as small as the notes of our sheets.
        assert one["letters"] >= 9.5 * 96 / 72, one


ROOTS = (
    "s = sqrt(((r1 - r_mean)^2 + (r2 - r_mean)^2 + (r3 - r_mean)^2 + (r4 - r_mean)^2)/4)",
    "R_f = sqrt(R^2 + L^2) = sqrt(2)",
    "u = s/sqrt(5)",
)
STYLES = {  # the three places where a formula is typeset
    "a page that goes back": lambda inside: whole_page("Roots", inside),
    "a sheet": lambda inside: sheet_html("Roots", inside, kind="key"),
    "a notebook": lambda inside: f"<style>{page_rules()}</style><div class=lv-panel>{inside}</div>",
}


@pytest.mark.parametrize("media", ["screen", "print"])
@pytest.mark.parametrize("width", [320, 700, 800])
@pytest.mark.parametrize("place", STYLES)
def test_a_root_sign_stays_at_its_bar_and_is_as_high_as_what_stands_under_it(
    place, width, media, page
):
    page.set_viewport_size({"width": width, "height": 900})
    page.emulate_media(media=media)
    lines = "".join(f"<p class=lv-math>{typeset(one)}</p>" for one in ROOTS)
    page.set_content(STYLES[place](lines))
    found = page.evaluate(
        """() => [...document.querySelectorAll('.lv-sqrt')].map(one => {
        const sign = one.querySelector('path').getBoundingClientRect();
        const bar = one.querySelector('.lv-root').getBoundingClientRect();
        return [sign.right - bar.left, sign.top - bar.top, bar.bottom - sign.bottom,
          bar.right - document.documentElement.clientWidth]})"""
    )
    assert len(found) == 4
    for aside, above, below, off in found:
        assert abs(aside) <= 2 and abs(above) <= 2 and -1 <= below <= 3 and off <= 0, found
