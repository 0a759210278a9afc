"""Three browser engines that do the same: open, ask the page, click, type, take a picture.

Chromium as everywhere.  Firefox by the package marionette-driver.  WebKit, the engine of iPhones
and Safari, by Debian's webkit2gtk-driver and xvfb and the package selenium.  Neither package is
part of the workbook: a test is skipped, with the reason, where one is missing.
"""

import contextlib
import importlib.util
import os
import shutil
import subprocess
import time
from pathlib import Path

import pytest

PATIENCE_S = 120
SIZE = (390, 844)
# Keep what goes wrong in the page where the test can ask for it.
LISTEN = """window.went_wrong = [];
addEventListener('error', (event) => window.went_wrong.push(event.message));
addEventListener('unhandledrejection', (event) => window.went_wrong.push(String(event.reason)));"""


class Engine:
    """A page in one of the engines; each gives `goto`, `ask`, `find` and `picture`."""

    name = ""

    def goto(self, address):
        """Open an address; from now on what goes wrong in the page is kept."""
        self.go(address)
        self.ask(LISTEN)

    def wait(self, condition, *given, seconds=PATIENCE_S):
        """Wait until the page says so; what it said."""
        end = time.monotonic() + seconds
        while not (told := self.ask(f"return ({condition});", *given)):
            assert time.monotonic() < end, f"{self.name}: not within {seconds} s: {condition}"
            time.sleep(0.1)
        return told

    def errors(self):
        """What went wrong in the page since it was opened."""
        return self.ask("return window.went_wrong;")


class Chromium(Engine):
    """Chromium, by touch."""

    name = "chromium"

    def __init__(self, page):
        self.page = page
        self.go = page.goto

    def ask(self, body, *given):
        return self.page.evaluate(f"(given) => (function () {{ {body} }})(...given)", list(given))

    def click(self, css):
        self.page.locator(css).first.tap()

    def type(self, css, words):
        self.page.locator(css).first.fill(words)
        self.page.locator(css).first.press("Tab")

    def press(self, css, key):
        self.page.locator(css).first.press(key)

    def picture(self, path):
        self.page.screenshot(path=path)


class Driven(Engine):
    """Firefox or WebKit through its driver, which have nearly the same words."""

    def __init__(self, driver, by, keys):
        self.driver, self.by, self.keys = driver, by, keys

    def _find(self, css):
        self.ask("document.querySelector(arguments[0]).scrollIntoView({block: 'center'});", css)
        return self.driver.find_element(self.by.CSS_SELECTOR, css)

    def click(self, css):
        self._find(css).click()

    def type(self, css, words):
        found = self._find(css)
        found.clear()
        found.send_keys(words + self.keys.TAB)

    def into(self, css):
        """From now on inside this frame."""
        self.enter(self._find(css))

    def press(self, css, key):
        self._find(css).send_keys({"ArrowRight": self.keys.ARROW_RIGHT}[key])


class Firefox(Driven):
    """Firefox, headless."""

    name = "firefox"

    def enter(self, frame):
        self.driver.switch_to_frame(frame)

    def go(self, address):
        self.driver.navigate(address)

    def ask(self, body, *given):
        return self.driver.execute_script(body, list(given), sandbox=None)

    def picture(self, path):
        Path(path).write_bytes(self.driver.screenshot(format="binary", full=False))


class WebKit(Driven):
    """WebKit in its own small browser, on a screen that nobody sees."""

    name = "webkit"

    def enter(self, frame):
        self.driver.switch_to.frame(frame)

    def go(self, address):
        self.driver.get(address)

    def ask(self, body, *given):
        return self.driver.execute_script(body, *given)

    def picture(self, path):
        # Its picture is the last frame that was painted: let it paint.
        self.driver.execute_async_script(
            "const done = arguments[0]; requestAnimationFrame(() => setTimeout(done, 300));"
        )
        self.driver.save_screenshot(str(path))


def _needs(package, program):
    if importlib.util.find_spec(package) is None:
        pytest.skip(f"the package that drives {program} is not installed: {package}")
    found = shutil.which(program)
    if found is None:
        pytest.skip(f"{program} is not installed")
    return found


@contextlib.contextmanager
def _chromium(browser):
    width, height = SIZE
    context = browser.new_context(
        viewport={"width": width, "height": height}, has_touch=True, is_mobile=True
    )
    yield Chromium(context.new_page())
    context.close()


@contextlib.contextmanager
def _firefox(_):
    program = _needs("marionette_driver", "firefox-esr")
    from marionette_driver.by import By
    from marionette_driver.keys import Keys
    from marionette_driver.marionette import Marionette

    client = Marionette(bin=program, headless=True, gecko_log=os.devnull)
    client.start_session()
    try:
        client.timeout.script = PATIENCE_S
        client.set_window_rect(width=SIZE[0], height=SIZE[1])
        yield Firefox(client, By, Keys)
    finally:
        client.quit()


@contextlib.contextmanager
def _unseen_screen():
    """A display of its own: WebKit's small browser must have one."""
    server = subprocess.Popen(
        [_needs("selenium", "Xvfb"), "-displayfd", "1", "-screen", "0", "1280x1024x24"],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    )
    before = os.environ.get("DISPLAY")
    os.environ["DISPLAY"] = ":" + server.stdout.readline().strip()
    try:
        yield
    finally:
        del os.environ["DISPLAY"]
        if before is not None:
            os.environ["DISPLAY"] = before
        server.terminate()
        server.wait()


@contextlib.contextmanager
def _webkit(_):
    program = _needs("selenium", "WebKitWebDriver")
    from selenium import webdriver
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys
    from selenium.webdriver.webkitgtk.options import Options
    from selenium.webdriver.webkitgtk.service import Service

    options = Options()
    options.binary_location = str(next(Path("/usr/lib").glob("*/webkit2gtk-*/MiniBrowser")))
    options.add_argument("--automation")
    with _unseen_screen():
        driver = webdriver.WebKitGTK(options=options, service=Service(program))
        try:
            driver.set_script_timeout(PATIENCE_S)
            driver.set_window_size(*SIZE)
            yield WebKit(driver, By, Keys)
        finally:
            driver.quit()


ENGINES = {"chromium": _chromium, "firefox": _firefox, "webkit": _webkit}
