"""The class site in a real browser, from an empty cache: first picture that moves, Python ready,
lesson 02 done, megabytes sent; slider to picture.

Every visit is a fresh profile, by plain http from another host name, under the policy of the
instructions.
The slider is compared with one that only prints its value, in the same page and the same run.
Several
sites (one built before a change, one after) are visited in turn, so that a busy moment hits all.
Each is visited twice: from a plain file server, and from one that sends the compressed copies.
``python tests/bench/bench_site.py SITE [SITE ...] [result.json] [--quick]``; SITE is what
``start.py site`` built.  ``MBIT=10`` in the environment narrows the line to so many Mbit/s; a slow
processor is what the system gives (on Linux a control group with a quota).
"""

import os
import sys
import time
from pathlib import Path

import psutil
from bench_slider import CELLS, OUTPUTS, SLIDERS, WATCH, compare, spread
from common import many, save, summary, table, verdict, words

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))

import contextlib

from classroom import KERNEL, LESSON_READY, TELL, classroom
from lab import CURRENT, IS_READY, QUIET, find_browser
from lab import WATCH as READY

LESSON = "02_the_tractor"
LAST_DONE = f"""() => {{ const all = {CURRENT}.content.widgets.filter(cell =>
    cell.model.type === 'code');
  return all[all.length - 1].model.executionCount > 0 && {KERNEL}.status === 'idle'; }}"""
# One redraw of the panel, without the page: what Python itself takes, in ms.
REDRAW = """import time
from leverarm.panels import arms_up as _o
_p, _t = _o(), []
for _i in range(40):
    _s = time.perf_counter(); _p.numbers["height"].hold(1 + _i % 20 / 20); _p.redraw()
    _t.append(time.perf_counter() - _s)
print(min(_t) * 1e3)"""

# Put these cells in the place of the lesson's first ones, and run them.
IN_PLACE = f"""async (cells) => {{
  const book = {CURRENT}.content;
  const code = book.widgets.map((cell, at) => [cell, at]).filter(([cell]) =>
      cell.model.type === 'code');
  for (const [i, text] of cells.entries()) {{
    code[i][0].model.sharedModel.setSource(text);
    book.activeCellIndex = code[i][1];
    await window.jupyterapp.commands.execute('notebook:run-cell');
  }} }}"""


def sites():
    """The folders named, taken from the words, so that a result's path stays."""
    found = [Path(word).absolute() for word in words() if Path(word, "class_site.json").is_file()]
    sys.argv[1:] = [word for word in sys.argv[1:] if Path(word).absolute() not in found]
    if not found:
        sys.exit(
            "Name a built class site: bench_site.py SITE (python src/start.py site SITE "
            "builds one)."
        )
    return found


def work():
    """Processor seconds of the browser and all its parts so far: less at a busy machine's mercy
    than the clock.
    """
    taken = 0.0
    for process in psutil.Process().children(recursive=True):
        with contextlib.suppress(psutil.Error):
            taken += sum(process.cpu_times()[:2])
    return taken


def first_visit(site):
    """Seconds from the address typed to a picture that moves, to Python, and to the lesson's last
    cell; megabytes the server sent.
    """
    load, worked, start = os.getloadavg()[0], work(), time.perf_counter()
    shown, done, spent, asked = (visit_by_picture if site.exposed else visit_by_press)(site)
    return {
        "first picture moves": shown - start,
        "lesson done": done - start,
        "MB": site.line.sent / 1e6,
        "processor s": spent - worked,
        "load": load,
        "requests": len(asked),
        "elsewhere": len(site.elsewhere(asked)),
    }


def visit_by_picture(site):
    """A site whose lesson opens with its picture and runs by itself: when it moved, when all was
    done, the processor's work by then, and every request.
    """
    with site.visit(f"lesson/{LESSON}.html") as (sheet, asked):
        page, frame = sheet.page, sheet.page.frame_locator("iframe")
        slider = page.locator("#stage input[type=range]").first
        slider.focus()
        before = page.locator("#stage").inner_html()
        slider.press("ArrowRight")
        assert page.locator("#stage").inner_html() != before
        shown = time.perf_counter()
        frame.locator(LESSON_READY).wait_for(state="attached")
        done, spent = time.perf_counter(), work()
        assert sheet.console_errors == []
        return shown, done, spent, asked


def visit_by_press(site):
    """A site built before: somebody waits for Python and runs the cells."""
    with site.visit(f"notebooks/index.html?path=notebooks_{site.edition}/{LESSON}.ipynb") as (
        sheet,
        asked,
    ):
        sheet.page.wait_for_function(IS_READY)
        sheet.page.evaluate(READY)
        sheet.page.evaluate(
            "() => { window.jupyterapp.commands.execute('notebook:run-all-cells'); }"
        )
        sheet.page.wait_for_selector(".st-here, .lv-panel .widget-html-content:has(svg)")
        shown = time.perf_counter()
        sheet.page.wait_for_function(LAST_DONE)
        done, spent = time.perf_counter(), work()
        assert sheet.errors() == []
        return shown, done, spent, asked


def with_sliders(sheet):
    """Put the sliders of the comparison in the place of the lesson's first cells, and run them."""
    sheet.page.evaluate(IN_PLACE, list(CELLS[:3]))
    sheet.page.wait_for_selector(OUTPUTS["lift panel"])
    for name in SLIDERS:
        sheet.page.evaluate(WATCH, [name, OUTPUTS[name]])
    compare(sheet, 1, 10)  # once for nothing


def moves(site):
    """Key press to picture painted, ms, of both sliders; and the redraw alone in the browser's
    Python.
    """
    with site.open(LESSON) as (sheet, _):
        with_sliders(sheet)
        load = os.getloadavg()[0]
        taken = {
            name: spread(values) for name, values in compare(sheet, many(4, 1), many(25, 8)).items()
        }
        return taken, summary([float(sheet.page.evaluate(TELL, REDRAW)) for _ in range(3)]), load


def measured(browser, folders):
    """Visits and moves of every site, in turn."""
    visits, moved = {folder: [] for folder in folders}, {}
    rate = float(os.environ["MBIT"]) * 1e6 / 8 if os.environ.get("MBIT") else None
    for _ in range(many(3, 1)):
        for copies in (False, True):
            for folder in folders:
                with classroom(browser, folder, rate=rate, copies=copies) as site:
                    served = {"served": "compressed" if copies else "plain"}
                    visits[folder].append(served | first_visit(site))
    for folder in folders:
        with classroom(browser, folder) as site:
            moved[folder] = moves(site)
    return visits, moved


def megabytes(folder):
    return sum(path.stat().st_size for path in folder.rglob("*") if path.is_file()) / 1e6


def main():
    from playwright.sync_api import sync_playwright

    folders = sites()
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=find_browser(), args=QUIET)
        visits, moved = measured(browser, folders)
        browser.close()
    for folder in folders:
        report(folder, visits[folder], *moved[folder])
    save("bench_site", {})


def report(folder, visits, taken, redraw, load):
    name = f"{folder.name}, {megabytes(folder):.1f} MB"
    table(
        f"From an empty cache, s ({name})",
        ["visit", *visits[0]],
        [
            [
                at,
                *(
                    f"{value:.1f}" if isinstance(value, float) else value
                    for value in visit.values()
                ),
            ]
            for at, visit in enumerate(visits, 1)
        ],
    )
    table(
        f"Key press to picture painted, ms ({name}; load {load:.1f})",
        ["slider", "median", "p95", "low", "high", "n"],
        [
            [what, *(f"{s[k]:.1f}" for k in ("median", "p95", "low", "high")), s["n"]]
            for what, s in taken.items()
        ],
    )
    verdict(
        "lesson 02 done from an empty cache, best visit, s",
        min(visit["lesson done"] for visit in visits),
        12,
    )
    verdict("slider to picture, median, ms", taken["lift panel"]["median"], 21)
    verdict("redraw in the browser's Python alone, best, ms", redraw["low"], 15)
    best = [visit for visit in visits if visit["served"] == "compressed"]
    verdict("first picture moves, best visit, s", min(v["first picture moves"] for v in best), 2)
    verdict("lesson 02, compressed copies, MB", max(v["MB"] for v in best), 16)
    verdict("requests to another host", sum(visit["elsewhere"] for visit in visits), 0)


if __name__ == "__main__":
    main()
