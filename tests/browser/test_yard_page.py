"""The yard page on a phone: a whole visit by touch, strangers' typing, files both ways, axe."""

import json
from pathlib import Path

import axe
import pytest

from leverarm.weighing.day_text import day_bytes, parsed_day
from leverarm.weighing.results import results
from leverarm.yard_page.page import yard_page

WHEELS = ("front_left", "front_right", "rear_left", "rear_right")
READ = {"on": ("964", "956", "652", "658"), "off": ("754", "748", "738", "744")}
DEMO = {f"{row}_{wheel}": one for row in READ for wheel, one in zip(WHEELS, READ[row], strict=True)}
SCREENS = ("machine", "own", "scales", "on", "off", "stop", "came", "why", "claim", "say", "hand")
PICTURES_NAMED = """() => [...document.querySelectorAll('svg[role=img]')]
  .filter((one) => one.getClientRects().length).every((one) => one.getAttribute('aria-label'))"""


MEASURED = """() => [document.documentElement.scrollWidth - innerWidth,
  [...document.querySelectorAll('button, input:not([type=radio]), .yp-chip')].filter((one) =>
    one.offsetParent && one.getBoundingClientRect().height < 48).map((one) => one.outerHTML)]"""
NO_STORAGE = {
    "full": "Storage.prototype.setItem = () => { throw new DOMException('', 'Full'); }",
    "off": "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException(''); }})",
}


class Phone:
    """The page in the hand."""

    def __init__(self, page):
        self.page, self.errors = page, []
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        page.on("console", lambda m: m.type == "error" and self.errors.append(m.text))

    def here(self, what):
        return self.page.locator(f"[data-screen]:not([hidden]) {what}")

    def tap(self, words):
        self.here("button").filter(has_text=words).locator("visible=true").first.tap()

    def choose(self, name, place):
        self.here(f"input[name={name}]").nth(place).tap(force=True)

    def type(self, **boxes):
        for name, words in boxes.items():
            self.page.locator(f"[data-in={name}]").fill(words)
            self.page.locator(f"[data-in={name}]").dispatch_event("change")

    def screen(self):
        return self.page.evaluate(
            "document.querySelector('[data-screen]:not([hidden])').dataset.screen"
        )

    def text(self):
        return self.here("h1").first.inner_text() + "\n" + self.here(".yp-body").inner_text()

    def weigh(self, name="Compact tractor 3", wheelbase="65", readings=DEMO):
        self.tap("New machine")
        self.page.locator("[data-line=machine]").fill(name)
        self.type(wheelbase=wheelbase)
        self.tap("To the scales")
        self.choose("step", 1)
        self.choose("accuracy", 2)
        self.choose("placed", 0)
        self.tap("To the readings")
        self.type(**{key: words for key, words in readings.items() if key.startswith("on")})
        self.tap("weigh again")
        self.type(**{key: words for key, words in readings.items() if key.startswith("off")})
        self.choose("same", 0)
        self.tap("What came off")

    def download(self, words):
        with self.page.expect_download() as waited:
            self.tap(words)
        return Path(waited.value.path()).read_bytes()


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    goal = tmp_path_factory.mktemp("yard") / "yard.html"
    goal.write_text(yard_page(), "utf-8")
    return goal


@pytest.fixture
def phone_of(browser, file):
    opened = []

    def phone(width=390, before="", **more):
        context = browser.new_context(
            viewport={"width": width, "height": 844}, has_touch=True, is_mobile=True, **more
        )
        page = context.new_page()
        if before:
            page.add_init_script(before)
        opened.append(context)
        page.goto(file.as_uri())
        return Phone(page)

    yield phone
    for context in opened:
        context.close()


@pytest.mark.parametrize("width", [390, 320])
def test_a_visit_by_touch(phone_of, width):
    phone = phone_of(width)
    phone.weigh()
    assert phone.screen() == "came" and "418 lb came off the front axle" in phone.text()
    assert "1.7 times" in phone.text()
    phone.tap("Why")
    assert "246 lb + 172 lb = 418 lb" in phone.text() and "246 lb × 1.70 = 418 lb" in phone.text()
    phone.tap("Check a claim")
    phone.choose("claim", 3)
    assert "Not on this machine." in phone.text() and "492 lb" in phone.text()
    phone.tap("What can I say")
    phone.here(".yp-back").tap()
    assert "Not on this machine." in phone.text()
    phone.tap("What can I say")
    said = "taking the bucket off took 418 pounds, give or take"
    assert said in phone.text() and "Do not promise" in phone.text()
    phone.tap("Share or print")
    assert b"418 lb" in phone.download("Share the customer")
    assert phone.errors == []


@pytest.mark.parametrize("width", [390, 320])
def test_every_screen_is_open_to_everyone(phone_of, width):
    phone = phone_of(width)
    phone.weigh()
    for name in SCREENS:
        phone.page.evaluate("(name) => leverarmYard.show(name, false)", name)
        phone.page.wait_for_function(PICTURES_NAMED)
        found = axe.check(phone.page, "main")
        assert axe.short(found["violations"]) == [], name
        wide, small = phone.page.evaluate(MEASURED)
        assert wide <= 0 and small == [], name


def test_what_strangers_type(phone_of):
    phone = phone_of()
    phone.tap("New machine")
    phone.tap("To the scales")
    assert phone.screen() == "own" and "Type the wheelbase first" in phone.text()
    for words in ("-65", "sixty", "650000", "65;1"):
        phone.type(wheelbase=words)
        assert f"“{words}” was typed" in phone.text(), words
        phone.tap("To the scales")
        assert phone.screen() == "own", words
    phone.type(wheelbase="64,5")
    state = "window.leverarmYard.day.state"
    assert phone.page.evaluate(f"{state}.wheelbase") == 64.5
    phone.tap("To the scales")
    phone.choose("step", 0)
    phone.tap("To the readings")
    phone.type(on_front_left="1,234")
    assert phone.page.evaluate(f"{state}.on_front_left") == 1234
    phone.type(on_front_left="1.234")
    assert "could be two numbers" in phone.text()
    phone.type(on_front_left="")
    phone.tap("weigh again")
    assert phone.screen() == "on" and "Type what the front axle reads first" in phone.text()


def test_swapped_boxes_are_asked_about_and_set_right(phone_of):
    phone = phone_of()
    on = [key for key in DEMO if key.startswith("on")]
    wrong = dict(zip(on, (DEMO[key] for key in [*on[2:], *on[:2]]), strict=True))
    phone.weigh(readings={**DEMO, **wrong})
    assert phone.screen() == "stop" and "swapped in “bucket on”" in phone.text()
    phone.tap("Swap them")
    phone.tap("What came off")
    assert "418 lb came off" in phone.text()


def test_the_same_readings_twice_are_not_kept_as_typed(phone_of):
    phone = phone_of()
    phone.weigh(readings={key: DEMO[key.replace("on_", "off_")] for key in DEMO})
    assert phone.screen() == "stop" and "It cannot be kept as typed" in phone.text()
    assert not phone.here("button").filter(has_text="Keep as typed").is_visible()
    phone.tap("Look again")
    assert phone.screen() == "on"


@pytest.mark.parametrize("width", [390, 320])
def test_the_shared_page_is_no_wider_than_the_phone(phone_of, width):
    phone = phone_of()
    phone.weigh()
    for words in ("Check a claim", "What can I say", "Share or print"):
        phone.tap(words)
    page = phone.download("Share the customer")
    phone.page.set_viewport_size({"width": width, "height": 844})
    phone.page.set_content(page.decode())
    wide = phone.page.evaluate("document.documentElement.scrollWidth")
    assert wide == width and "418 lb" in phone.page.locator("h1").inner_text()


def test_front_only_asks_for_one_more_number(phone_of):
    phone = phone_of()
    phone.weigh(readings={key: words for key, words in DEMO.items() if "front" in key})
    assert "Not told: the rear was not read." in phone.text()
    phone.type(told_weight="246")
    assert "1.7 times" in phone.text() and "bucket, told" in phone.text()


def test_a_day_s_file_goes_to_the_workbook_and_comes_back(phone_of, tmp_path):
    phone = phone_of()
    phone.weigh(name='Tractor "A", blue')
    for words in ("Check a claim", "What can I say", "Share or print"):
        phone.tap(words)
    sent = phone.download("Send this weigh day")
    day = parsed_day(sent, tmp_path / "day.csv").day
    assert day.machine.name == 'Tractor "A", blue' and day.unchanged is True
    assert round(results(day).front_change.value / 0.45359237) == 418
    # Written by the workbook, with a line the page does not know, and read again.
    written = day_bytes(day).replace(b"units,lb", b"units,lb\r\nheight of bucket,0.3 m")
    (tmp_path / "back.csv").write_bytes(written)
    phone.tap('Tractor "A"')
    phone.page.locator("input[type=file]").set_input_files(tmp_path / "back.csv")
    phone.here("h1").filter(has_text="how long").wait_for()
    assert "height of bucket" in phone.text()
    again = phone.page.evaluate("window.leverarmYard.csv()").encode()
    assert b"height of bucket,0.3 m" in again
    assert parsed_day(again, tmp_path / "day.csv").day.rows == day.rows
    (tmp_path / "foreign.csv").write_text("time,temperature\n1,2\n", "utf-8")
    phone.tap('Tractor "A"')
    phone.page.locator("input[type=file]").set_input_files(tmp_path / "foreign.csv")
    phone.here("[data-text=opened]").filter(has_text="no weigh day").wait_for()


def test_two_machines_are_kept_when_asked_and_only_then(phone_of):
    phone = phone_of()
    for name in ("Compact tractor 3", "Compact tractor 1"):
        phone.weigh(name=name)
        for words in ("Check a claim", "What can I say", "Share or print"):
            phone.tap(words)
        assert phone.page.evaluate("localStorage.length") == (name == "Compact tractor 1")
        phone.tap("Keep it on this phone")
        phone.tap(name)
    kept = json.loads(phone.page.evaluate("localStorage.getItem('leverarm-yard-page')"))
    assert [one["name"] for one in kept] == ["Compact tractor 3", "Compact tractor 1"]
    phone.page.reload()
    phone.tap("Compact tractor 1")
    assert phone.page.locator("[data-in=on_front_left]").input_value() == "964"


@pytest.mark.parametrize("how", NO_STORAGE)
def test_storage_that_is_full_or_off_is_said_in_one_sentence(phone_of, how):
    phone = phone_of(before=NO_STORAGE[how])
    phone.weigh()
    for words in ("Check a claim", "What can I say", "Share or print", "Keep it on this phone"):
        phone.tap(words)
    assert "send the weigh day as a file instead" in phone.text() and phone.errors == []


def test_without_scripts_one_sentence_says_so(phone_of):
    phone = phone_of(java_script_enabled=False)
    assert "This page needs scripts" in phone.page.locator("body").inner_text()


def test_the_first_screen_stands_before_the_script_has_run(phone_of, file):
    """And its first tap makes the rest, however early it comes."""
    phone = phone_of(before="window.requestIdleCallback = () => {};")
    assert phone.page.locator("[data-screen]").count() == 1
    phone.tap("New machine")
    assert phone.screen() == "own" and phone.page.locator("[data-screen]").count() == 11
    assert phone.errors == []
