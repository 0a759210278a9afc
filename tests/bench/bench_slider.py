"""From a key on a slider to the picture painted, in JupyterLab in a real browser.

Compares the lift panel with a slider that only prints its value (the floor) and with
``interact`` that draws a fresh matplotlib figure, and looks at the largest panel, all in
the same page and the same run; then a burst of 30 moves in a second, 2,000 moves in a row
with the memory of kernel and page along the way, and the time to the first picture.
``python tests/bench/bench_slider.py [result.json] [--quick]``
"""

import statistics
import sys
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path

import psutil
from common import machine, many, save, table, verdict

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))

from lab import CURRENT, QUIET, as_start_does, find_browser, start_lab, write_notebook

FLOOR = """import ipywidgets as w
slider, text = w.FloatSlider(value=1.2, min=-2, max=3, step=0.05, readout=False), w.HTML('1.20')
slider.observe(lambda change: setattr(text, 'value', f"{change['new']:.2f}"), 'value')
slider.add_class('bench-floor'), text.add_class('bench-text')
display(slider, text)"""
PANEL = """from leverarm.panels import arms_up
panel = arms_up()
panel"""
FRESH = """import ipywidgets as w
import matplotlib.pyplot as plt, numpy as np
from leverarm import statics
def drawn(a=1.2):
    figure, axes = plt.subplots(figsize=(7, 3.5))
    ahead = np.linspace(-2, 3, 101)
    axes.plot(ahead, statics.front_gain(110, ahead, 1.65))
    axes.plot(ahead, statics.rear_change(110, ahead, 1.65))
    axes.plot([a, a], [statics.front_gain(110, a, 1.65), statics.rear_change(110, a, 1.65)], 'o')
    plt.show()
fresh = w.interactive(drawn, a=w.FloatSlider(value=1.2, min=-2, max=3, step=0.05, readout=False))
fresh.add_class('bench-fresh')
display(fresh)"""
LARGEST = """from leverarm.panels import mow_or_unhook
largest = mow_or_unhook(gated=False)
largest.widget.add_class('bench-largest')
largest"""
CELLS = ("from leverarm.panels import begin\nbegin()", FLOOR, PANEL)
SLIDERS = {
    "prints its value": ".bench-floor .noUi-handle",
    "lift panel": ".lv-split .noUi-handle >> nth=1",
}
OUTPUTS = {
    "prints its value": ".bench-text .widget-html-content",
    "lift panel": ".lv-split .widget-html-content:has(svg)",
}
# Slower ones: fewer moves, and the next one waits until the last is painted and all is quiet.
SLOW = {
    "interact, a fresh figure": ".bench-fresh .noUi-handle",
    "decision panel": ".bench-largest .lv-number .noUi-handle >> nth=1",
}
SLOW_OUTPUTS = {
    "interact, a fresh figure": ".bench-fresh .jp-OutputArea",
    "decision panel": ".bench-largest .widget-html-content:has(.lv-decide)",
}
PAUSE_MS, QUIET_MS, PATIENCE_MS = 120, 400, 10_000

KEYS = ("ArrowLeft", "ArrowRight")
KEY_MS = 6  # what a key press itself takes to send

# Times are taken in the page: the key as the browser stamped it, the picture when the frame
# after the change of the page has been handed to the screen.
WATCH = """([name, selector]) => {
  window.bench = window.bench || {};
  const note = window.bench[name] = {keys: [], paints: []};
  new MutationObserver(() => requestAnimationFrame(() => {
    const pipe = new MessageChannel();
    pipe.port1.onmessage = () => note.paints.push(performance.now());
    pipe.port2.postMessage(0);
  })).observe(document.querySelector(selector), {childList: true, subtree: true,
      characterData: true});
  document.addEventListener('keydown', (event) => {
    if (event.target.matches('.noUi-handle')) note.keys.push(event.timeStamp);
  }, true);
}"""
CLEAR = (
    "() => { for (const note of Object.values(window.bench)) { note.keys = []; "
    "note.paints = []; } }"
)


def seconds_to_picture(sheet):
    """From running the set-up and the panel cell in a fresh kernel to the picture in the page; and
    the panel cell alone.
    """
    start = time.perf_counter()
    run_cell(sheet, 0)
    sheet.page.wait_for_selector(".lv-alive")
    middle = time.perf_counter()
    run_cell(sheet, 2)
    sheet.page.wait_for_selector(".lv-pic svg")
    return time.perf_counter() - start, time.perf_counter() - middle


def run_cell(sheet, index):
    sheet.page.evaluate(
        f"""(index) => {{ {CURRENT}.content.activeCellIndex = index;
        return window.jupyterapp.commands.execute('notebook:run-cell'); }}""",
        index,
    )


def press(sheet, name, key, count, pause_ms):
    """Press a key on one slider some times; key-to-paint times in ms, one for each key answered."""
    page = sheet.page
    page.evaluate(CLEAR)
    page.locator(SLIDERS[name]).focus()
    for _ in range(count):
        page.keyboard.press(key)
        page.wait_for_timeout(pause_ms)
    page.wait_for_timeout(400)
    note = page.evaluate("(name) => window.bench[name]", name)
    return note["keys"], note["paints"]


def press_slowly(sheet, name, key, count):
    """Key-to-paint times in ms, each move painted before the next is made."""
    page, taken = sheet.page, []
    page.locator(SLOW[name]).focus()
    for _ in range(count):
        page.evaluate(CLEAR)
        page.keyboard.press(key)
        page.wait_for_function(
            "(name) => window.bench[name].paints.length", arg=name, timeout=PATIENCE_MS
        )
        taken.append(
            page.evaluate(
                "(name) => window.bench[name].paints[0] - window.bench[name].keys[0]", name
            )
        )
        page.wait_for_timeout(QUIET_MS)
    return taken


def latencies(keys, paints):
    """For each key, the first paint after it and before the next key."""
    ends = [*keys[1:], float("inf")]
    found = (next((p for p in paints if key < p < end), None) for key, end in zip(keys, ends))
    return [paint - key for key, paint in zip(keys, found) if paint is not None]


def compare(sheet, rounds, count):
    """Key-to-paint times of both sliders, in turn, so that a busy moment hits both."""
    taken = {name: [] for name in SLIDERS}
    for i in range(rounds):
        for name in SLIDERS:
            taken[name] += latencies(*press(sheet, name, KEYS[i % 2], count, PAUSE_MS))
    return taken


def compare_slow(sheet, rounds, count):
    """The same for the slower ones."""
    taken = {name: [] for name in SLOW}
    for i in range(rounds):
        for name in SLOW:
            taken[name] += press_slowly(sheet, name, KEYS[i % 2], count)
    return taken


def burst(sheet, name, key):
    """30 moves in a second: pictures drawn, how long after the last key the last one came, and how
    long the keys took.
    """
    keys, paints = press(sheet, name, key, 30, 1000 / 30 - KEY_MS)
    return len(paints), max(paints) - keys[-1], keys[-1] - keys[0]


def kernel_of(lab):
    """The kernel's process: the youngest ipykernel under the server."""
    found = [
        p
        for p in psutil.Process(lab.process.pid).children(recursive=True)
        if "ipykernel" in " ".join(p.cmdline())
    ]
    return max(found, key=lambda p: p.create_time())


def memory(lab, sheet, session):
    """Kernel's resident memory and the page's script memory after a clean-up, in MB."""
    session.send("HeapProfiler.collectGarbage")
    page = session.send("Runtime.getHeapUsage")["usedSize"]
    return kernel_of(lab).memory_info().rss / 1e6, page / 1e6


def soak(lab, sheet, moves, every):
    """(moves so far, kernel MB, page MB) along so many moves, after a hundred to warm up."""
    session = sheet.page.context.new_cdp_session(sheet.page)
    move(sheet, 100)
    found = [(0, *memory(lab, sheet, session))]
    for done in range(every, moves + 1, every):
        move(sheet, every)
        found.append((done, *memory(lab, sheet, session)))
    return found


def slope(found, column):
    """MB for each 1,000 moves: the straight line of least squares through what was seen along the
    way.
    """
    xs, ys = [row[0] for row in found], [row[column] for row in found]
    middle = statistics.mean(xs)
    return 1000 * sum((x - middle) * y for x, y in zip(xs, ys)) / sum((x - middle) ** 2 for x in xs)


def move(sheet, count):
    sheet.page.locator(SLIDERS["lift panel"]).focus()
    for i in range(count):
        sheet.page.keyboard.press(KEYS[i // 25 % 2])
        sheet.page.wait_for_timeout(15)
    sheet.page.wait_for_timeout(1500)


def spread(values):
    """Median, p95 and spread of times in ms."""
    ordered = sorted(values)
    return {
        "median": statistics.median(ordered),
        "p95": ordered[int(0.95 * (len(ordered) - 1))],
        "low": ordered[0],
        "high": ordered[-1],
        "deviation": statistics.pstdev(ordered),
        "n": len(ordered),
    }


@contextmanager
def running():
    """JupyterLab on a scratch folder with the bench notebook, and a browser."""
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        root, home = Path(folder, "root"), Path(folder, "home")
        root.mkdir(), home.mkdir()
        write_notebook(root / "bench.ipynb", *CELLS, FRESH, LARGEST)
        browser = driver.chromium.launch(executable_path=find_browser(), args=QUIET)
        lab = start_lab(browser, root, as_start_does(home))
        try:
            yield lab
        finally:
            lab.stop()
            browser.close()


def main():
    with running() as lab, lab.open("bench.ipynb") as sheet:
        sheet.only_notebook()
        first, panel_cell = seconds_to_picture(sheet)
        sheet.run_all()
        for selector in (*SLIDERS.values(), *SLOW.values()):
            sheet.page.locator(selector).wait_for(state="attached")
        sheet.page.wait_for_timeout(1000)
        for name, selector in (OUTPUTS | SLOW_OUTPUTS).items():
            sheet.page.evaluate(WATCH, [name, selector])
        compare(sheet, 1, 10)  # once for nothing
        taken = compare(sheet, many(8, 1), many(25, 8)) | compare_slow(
            sheet, many(4, 1), many(10, 4)
        )
        bursts = {
            name: [burst(sheet, name, KEYS[i % 2]) for i in range(many(6, 1))] for name in SLIDERS
        }
        along = soak(lab, sheet, many(2000, 100), many(250, 50))
        after = compare(sheet, many(2, 1), many(25, 8))
        errors = sheet.errors()
    report(
        first,
        panel_cell,
        {name: spread(values) for name, values in taken.items()},
        {name: spread(values) for name, values in after.items()},
        bursts,
        along,
        errors,
    )


def report(first, panel_cell, taken, after, bursts, along, errors):
    rows = [*taken.items(), *((f"{name}, after the soak", one) for name, one in after.items())]
    table(
        "Key press to picture painted, ms",
        ["slider", "median", "p95", "low", "high", "deviation", "n"],
        [
            [name, *(f"{s[k]:.1f}" for k in ("median", "p95", "low", "high", "deviation")), s["n"]]
            for name, s in rows
        ],
    )
    settled = {name: [ms for _, ms, _ in runs] for name, runs in bursts.items()}
    table(
        "30 moves in a second",
        ["slider", "pictures drawn", "settled after ms: median", "highest", "keys took ms"],
        [
            [
                name,
                f"{min(n for n, *_ in runs)} to {max(n for n, *_ in runs)}",
                f"{statistics.median(settled[name]):.0f}",
                f"{max(settled[name]):.0f}",
                f"{statistics.median(took for *_, took in runs):.0f}",
            ]
            for name, runs in bursts.items()
        ],
    )
    table(
        "Memory along the moves, MB",
        ["moves", "kernel", "page"],
        [[f"{n:,}", f"{kernel:.1f}", f"{page:.1f}"] for n, kernel, page in along],
    )
    floor, panel, fresh, largest = taken.values()
    verdict(
        "lift panel against the slider that only prints, ratio of medians",
        panel["median"] / floor["median"],
        1.4,
    )
    verdict(
        "interact with a fresh figure against the lift panel, ratio of medians",
        fresh["median"] / panel["median"],
        3,
        at_most=False,
    )
    verdict("decision panel, median ms", largest["median"], 200)
    verdict("settles after the last of 30 moves, ms", max(settled["lift panel"]), 200)
    verdict(f"kernel growth over {along[-1][0]:,} moves, MB", along[-1][1] - along[0][1], 5)
    verdict(f"page growth over {along[-1][0]:,} moves, MB", along[-1][2] - along[0][2], 5)
    verdict("kernel, MB for each 1,000 moves", slope(along, 1), 2)
    verdict("page, MB for each 1,000 moves", slope(along, 2), 2)
    verdict(
        "lift panel after the soak against before, ratio of medians",
        after["lift panel"]["median"] / panel["median"],
        1.2,
    )
    verdict("panel cell to first picture, s", panel_cell, 2)
    verdict("fresh kernel, set-up and panel cell to first picture, s", first, 2)
    verdict("errors in the page or kernel", len(errors), 0)
    here = machine()
    print(
        f"  load average {here['load_average']:.1f} on {here['processors']} processors; "
        "this run alone makes about 2"
    )
    save(
        "bench_slider",
        {"times": taken, "after": after, "bursts": bursts, "memory": along, "errors": errors},
    )


if __name__ == "__main__":
    main()
