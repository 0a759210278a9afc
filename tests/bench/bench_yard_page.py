"""How long the yard page takes to open on a phone's screen, and from a tap to the next screen.

``python tests/bench/bench_yard_page.py [PAGE ...]``; without a page today's is written and
measured.  Several pages take turns, so that a busy moment hits all.  Each round is a fresh
profile, once at the speed of this machine and once at a quarter of it.  *Open* is the end of the
page's scripts, when a tap is answered; *painted* is the first words on the screen; *tap* is what
the browser itself measures from "New machine" to the next screen painted.
"""

import os
import sys
import tempfile
from pathlib import Path

from common import many, ms, summary, table
from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))

from lab import QUIET, find_browser

from leverarm.yard_page.page import yard_page

SLOWER = (1, 4)
WATCH_TAPS = """window.taps = [];
new PerformanceObserver((list) => taps.push(...list.getEntries()
  .filter((one) => ['click', 'pointerup'].includes(one.name)).map((one) => one.duration)))
  .observe({type: 'event', durationThreshold: 16});"""
READ = """() => [performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd,
  performance.getEntriesByName('first-contentful-paint')[0].startTime, Math.max(16, ...taps)]"""


def one_opening(browser, page, slower):
    """Milliseconds to open, to the first paint, and from the first tap to the next screen."""
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True
    )
    sheet = context.new_page()
    sheet.add_init_script(WATCH_TAPS)
    session = context.new_cdp_session(sheet)
    session.send("Emulation.setCPUThrottlingRate", {"rate": slower})
    sheet.goto(page.absolute().as_uri())
    sheet.get_by_role("button", name="New machine").tap()
    sheet.get_by_role("heading", name="What is it, and how long?").wait_for()
    sheet.wait_for_timeout(300)
    told = sheet.evaluate(READ)
    context.close()
    return told


def main(pages):
    """Print the table, a row a page and speed."""
    rows = []
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=find_browser(), args=QUIET)
        for slower in SLOWER:
            taken = {page: [] for page in pages}
            for _ in range(many(15, 2)):
                for page in pages:
                    taken[page].append(one_opening(browser, page, slower))
            for page, rounds in taken.items():
                spread = [
                    ms(summary([one / 1e3 for one in kind])) for kind in zip(*rounds, strict=True)
                ]
                rows.append([page.name, f"{slower} times slower", *spread])
    table("The yard page, ms", ["page", "processor", "open", "painted", "tap"], rows)
    print("load of the last minute:", round(os.getloadavg()[0], 1))


if __name__ == "__main__":
    told = [Path(word) for word in sys.argv[1:] if not word.startswith("--")]
    with tempfile.TemporaryDirectory() as scratch:
        own = Path(scratch, "yard_page.html")
        own.write_text(yard_page(), "utf-8")
        main(told or [own])
