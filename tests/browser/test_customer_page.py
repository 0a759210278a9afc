"""The page to hand over as a browser shows and prints it: one sheet of Letter or A4, a phone."""

import re
from dataclasses import replace

import pytest

from leverarm.handouts.customer_page import ABOUT, page_html
from leverarm.handouts.page_facts import PageFacts
from leverarm.weighing.demo import demo_day
from leverarm.weighing.facts import scale_facts
from leverarm.weighing.results import results

DEMO = PageFacts.from_results(results(demo_day()))
OURS = replace(DEMO, invented=False, scales=scale_facts("2 lb", "0.5 %", placed="every wheel"))
TOLD = {name: ("Wide meadow and turf " * 4)[:most].strip() for name, most in ABOUT.items()}
STRICT = replace(OURS.machine, name="Meadow tractor of the northern grounds crew, number three")
PAGES = {
    "example": (DEMO, {}),
    "told": (OURS, {"dealer": "Meadow Yard", "mower": "60 in deck"}),
    "kilograms": (OURS, {"system": "kg"}),
    "no plus or minus": (replace(OURS, U_front_kg=None, scales=scale_facts()), {}),
    "front only": (
        replace(OURS, rear_on_kg=None, rear_off_kg=None, weight_kg=None),
        {},
    ),
    "loader frame": (replace(OURS, piece="loader frame", also_on=()), {}),
    "several pieces": (replace(OURS, piece="loader frame + pallet forks", also_on=()), {}),
    "whole loader, rated": (
        replace(
            OURS,
            piece="loader frame + bucket",
            machine=replace(OURS.machine, ratings_kg={"front": 2000.0, "rear": 2000.0}),
        ),
        {},
    ),
    "everything at its longest": (
        replace(
            OURS,
            machine=replace(
                STRICT, rear_share_least=60, ratings_kg={"front": 100.0, "rear": 100.0}
            ),
            also_on=("loader frame", "ballast", "front weights"),
            unchanged=False,
            notes=("The scatter of one reading was taken from the step of the scales.",),
        ),
        TOLD,
    ),
}


@pytest.fixture(params=PAGES)
def page(request, browser, tmp_path):
    facts, told = PAGES[request.param]
    path = tmp_path / "page.html"
    path.write_text(page_html(facts, **told), "utf-8")
    opened = browser.new_page()
    opened.goto(path.as_uri())
    yield opened
    opened.close()


def sheets(printed):
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", printed))


@pytest.mark.parametrize("paper", ["Letter", "A4"])
def test_it_prints_on_one_sheet(page, paper):
    assert sheets(page.pdf(format=paper, print_background=True)) == 1
    assert sheets(page.pdf(format=paper, print_background=False)) == 1


@pytest.mark.parametrize("width", [320, 390, 620, 800, 1280])
def test_nothing_runs_off_the_side(page, width):
    page.set_viewport_size({"width": width, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    tops = [
        box["y"] for box in (one.bounding_box() for one in page.locator("main svg[role]").all())
    ]
    assert (tops[1] > tops[0]) == (width <= 620), "the pictures stack on a phone"
    cut = page.evaluate(
        """[...document.querySelectorAll('svg[role] text')].filter(t => {
            const a = t.getBoundingClientRect(), b = t.ownerSVGElement.getBoundingClientRect();
            return a.left < b.left - 1 || a.right > b.right + 1 || a.bottom > b.bottom + 1;
        }).map(t => t.textContent)"""
    )
    assert cut == []


def test_words_in_the_pictures_do_not_cover_each_other(page):
    covered = page.evaluate(
        """[...document.querySelectorAll('svg[role]')].flatMap(svg => {
            const all = [...svg.querySelectorAll('text')].map(t => [t, t.getBoundingClientRect()]);
            return all.flatMap(([t, a], i) => all.slice(i + 1).filter(([, b]) =>
                Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 &&
                Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 5
            ).map(([u]) => t.textContent + ' / ' + u.textContent));
        })"""
    )
    assert covered == []
