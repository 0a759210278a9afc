"""The board of a free body under a finger: carried, turned over, beside another, never twice."""

import json

import pytest

from leverarm import panels
from leverarm.panels.page import style_and_script

PLACES = """() => [...
  [...document.querySelectorAll("svg.st-sheet")].find((one) => one.getClientRects().length)
  .querySelectorAll('circle.st-ring')].map((one) => {
    const box = one.getBoundingClientRect();
    return [box.x + box.width / 2, box.y + box.height / 2]; })"""


class Finger:
    """One finger on a touch screen, by the browser's own touch events."""

    def __init__(self, page):
        self.page, self.wire = page, page.context.new_cdp_session(page)

    def _touch(self, kind, *points):
        told = [{"x": x, "y": y} for x, y in points]
        self.wire.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": told})

    def carry(self, begins, ends):
        """Down, along, up."""
        self._touch("touchStart", begins)
        for share in (0.2, 0.5, 0.8, 1.0):
            here = (a + (b - a) * share for a, b in zip(begins, ends, strict=True))
            self._touch("touchMove", tuple(here))
        self._touch("touchEnd")
        self.page.wait_for_timeout(60)


@pytest.fixture
def page(browser):
    """Lesson 03's board on a phone's screen that is tall enough for all of it."""
    panel = panels.pivot_stage()
    panel.lock_in(answer="grow")
    context = browser.new_context(
        viewport={"width": 390, "height": 1400}, has_touch=True, is_mobile=True
    )
    page = context.new_page()
    page.set_content(
        "<meta name='viewport' content='width=device-width'>"
        f"<body style='margin:0'>{style_and_script()}{panel._shown_html}"
        f"<div class='st-told-{panel.key}'><input></div></body>"
    )
    page.wait_for_timeout(200)
    page.places = list(panel.board.places)
    page.spots = dict(zip(page.places, page.evaluate(PLACES), strict=True))
    page.told = lambda: json.loads(page.locator(f".st-told-{panel.key} input").input_value())
    yield page
    context.close()


def middle(one):
    box = one.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def in_rack(page, letter):
    return middle(page.locator(f"button[data-carry=at_{letter}]"))


def arrow(page, letter):
    """The arrow on the picture that is shown."""
    return page.locator(f"svg:visible g[data-carry=at_{letter}] .st-hit")


def state(page):
    page.wait_for_timeout(150)
    return page.told()["state"]


def at(page, letter):
    number = round(state(page)[f"at_{letter}"])
    return page.places[number - 1] if number else ""


def test_a_finger_draws_turns_and_takes_an_arrow_away(page):
    finger, rear = Finger(page), "rear axle"
    scrolled = page.evaluate("scrollY")
    finger.carry(in_rack(page, "R"), page.spots[rear])
    assert at(page, "R") == rear and state(page)["down_R"] == 1
    page.touchscreen.tap(*middle(arrow(page, "R")))
    assert state(page)["down_R"] == 0
    finger.carry(middle(arrow(page, "R")), page.spots["front axle"])
    assert at(page, "R") == "front axle"
    finger.carry(middle(arrow(page, "R")), (380, 900))
    assert at(page, "R") == "" and page.evaluate("scrollY") == scrolled
    finger.carry(middle(page.locator("svg:visible g[data-carry=pivot] .st-hit")), page.spots[rear])
    assert state(page)["pivot"] > 0


def test_a_second_arrow_stands_beside_the_first_and_each_can_be_taken(page):
    finger, place = Finger(page), page.spots["front axle"]
    for letter in ("F", "N"):
        finger.carry(in_rack(page, letter), place)
        assert at(page, letter) == "front axle"
    first, second = (middle(arrow(page, letter))[0] for letter in ("F", "N"))
    assert abs(first - second) >= 18
    for letter in ("F", "N"):
        page.touchscreen.tap(*middle(arrow(page, letter)))
        assert state(page)[f"down_{letter}"] == 0
    finger.carry(middle(arrow(page, "N")), page.spots["rear axle"])
    assert (at(page, "F"), at(page, "N")) == ("front axle", "rear axle")


def test_one_force_is_not_drawn_twice_and_that_is_said(page):
    finger, reply = Finger(page), page.locator("[data-told=reply]")
    finger.carry(in_rack(page, "W"), page.spots["bucket"])
    assert reply.inner_text() == ""
    finger.carry(in_rack(page, "W"), page.spots["bucket"])
    assert reply.inner_text().startswith("Each force is drawn once") and at(page, "W") == "bucket"
    finger.carry(in_rack(page, "W"), page.spots["front axle"])
    assert at(page, "W") == "front axle"
    assert page.locator("svg:visible g[data-carry=at_W]:visible").count() == 1
