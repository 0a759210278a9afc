"""From a key on a slider to the picture painted, in JupyterLab in a real browser.

Compares the overhang panel with a slider that only prints its value, in the same
page and the same run; then a burst of 30 moves in a second, 1000 moves in a row for
memory, and the time to the first picture.  ``python tests/bench/bench_slider.py [result.json]``
"""

import statistics
import sys
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path

import psutil
from common import machine, save, table, verdict

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))

from lab import CURRENT, QUIET, as_start_does, find_browser, start_lab, write_notebook  # noqa: E402

FLOOR = """import ipywidgets as w
slider, text = w.FloatSlider(value=1.2, min=-2, max=3, step=0.05, readout=False), w.HTML('1.20')
slider.observe(lambda change: setattr(text, 'value', f"{change['new']:.2f}"), 'value')
slider.add_class('bench-floor'), text.add_class('bench-text')
display(slider, text)"""
PANEL = """from leverarm.panels import overhang
panel = overhang(gated=False)
panel"""
CELLS = ("from leverarm.panels import begin\nbegin()", FLOOR, PANEL)
SLIDERS = {"prints its value": ".bench-floor .noUi-handle", "overhang panel": ".lv-split .noUi-handle >> nth=1"}
OUTPUTS = {"prints its value": ".bench-text .widget-html-content", "overhang panel": ".lv-split .widget-html-content:has(svg)"}

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
  })).observe(document.querySelector(selector), {childList: true, subtree: true, characterData: true});
  document.addEventListener('keydown', (event) => {
    if (event.target.matches('.noUi-handle')) note.keys.push(event.timeStamp);
  }, true);
}"""
CLEAR = "() => { for (const note of Object.values(window.bench)) { note.keys = []; note.paints = []; } }"


def seconds_to_picture(sheet):
    """From running the set-up and the panel cell in a fresh kernel to the picture in the page; and the panel cell alone."""
    start = time.perf_counter()
    run_cell(sheet, 0)
    sheet.page.wait_for_selector(".lv-alive")
    middle = time.perf_counter()
    run_cell(sheet, 2)
    sheet.page.wait_for_selector(".lv-pic svg")
    return time.perf_counter() - start, time.perf_counter() - middle


def run_cell(sheet, index):
    sheet.page.evaluate(f"""(index) => {{ {CURRENT}.content.activeCellIndex = index;
        return window.jupyterapp.commands.execute('notebook:run-cell'); }}""", index)


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
            taken[name] += latencies(*press(sheet, name, KEYS[i % 2], count, 120))
    return taken


def burst(sheet, name, key):
    """30 moves in a second: pictures drawn, how long after the last key the last one came, and how long the keys took."""
    keys, paints = press(sheet, name, key, 30, 1000 / 30 - KEY_MS)
    return len(paints), max(paints) - keys[-1], keys[-1] - keys[0]


def kernel_of(lab):
    """The kernel's process: the youngest ipykernel under the server."""
    found = [p for p in psutil.Process(lab.process.pid).children(recursive=True) if "ipykernel" in " ".join(p.cmdline())]
    return max(found, key=lambda p: p.create_time())


def memory(lab, sheet, session):
    """Kernel's resident memory and the page's script memory after a clean-up, in MB."""
    session.send("HeapProfiler.collectGarbage")
    page = session.send("Runtime.getHeapUsage")["usedSize"]
    return kernel_of(lab).memory_info().rss / 1e6, page / 1e6


def grow(lab, sheet, moves):
    """Growth of both over so many moves, after a hundred to warm up."""
    session = sheet.page.context.new_cdp_session(sheet.page)
    move(sheet, 100)
    before = memory(lab, sheet, session)
    move(sheet, moves)
    return [after - was for was, after in zip(before, memory(lab, sheet, session))]


def move(sheet, count):
    sheet.page.locator(SLIDERS["overhang panel"]).focus()
    for i in range(count):
        sheet.page.keyboard.press(KEYS[i // 25 % 2])
        sheet.page.wait_for_timeout(15)
    sheet.page.wait_for_timeout(1500)


def spread(values):
    """Median, p95 and spread of times in ms."""
    ordered = sorted(values)
    return {"median": statistics.median(ordered), "p95": ordered[int(0.95 * (len(ordered) - 1))], "low": ordered[0],
            "high": ordered[-1], "deviation": statistics.pstdev(ordered), "n": len(ordered)}


@contextmanager
def running():
    """JupyterLab on a scratch folder with the bench notebook, and a browser."""
    from playwright.sync_api import sync_playwright
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        root, home = Path(folder, "root"), Path(folder, "home")
        root.mkdir(), home.mkdir()
        write_notebook(root / "bench.ipynb", *CELLS)
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
        sheet.page.wait_for_selector(".bench-floor .noUi-handle")
        sheet.page.wait_for_timeout(1000)
        for name in SLIDERS:
            sheet.page.evaluate(WATCH, [name, OUTPUTS[name]])
        compare(sheet, 1, 10)  # once for nothing
        taken = {name: spread(values) for name, values in compare(sheet, 8, 25).items()}
        bursts = {name: [burst(sheet, name, KEYS[i % 2]) for i in range(6)] for name in SLIDERS}
        kernel_mb, page_mb = grow(lab, sheet, 1000)
        errors = sheet.errors()
    report(first, panel_cell, taken, bursts, kernel_mb, page_mb, errors)


def report(first, panel_cell, taken, bursts, kernel_mb, page_mb, errors):
    table("Key press to picture painted, ms", ["slider", "median", "p95", "low", "high", "deviation", "n"],
          [[name, *(f"{s[k]:.1f}" for k in ("median", "p95", "low", "high", "deviation")), s["n"]] for name, s in taken.items()])
    settled = {name: [ms for _, ms, _ in runs] for name, runs in bursts.items()}
    table("30 moves in a second", ["slider", "pictures drawn", "settled after ms: median", "highest", "keys took ms"],
          [[name, f"{min(n for n, *_ in runs)} to {max(n for n, *_ in runs)}", f"{statistics.median(settled[name]):.0f}",
            f"{max(settled[name]):.0f}", f"{statistics.median(took for *_, took in runs):.0f}"] for name, runs in bursts.items()])
    floor, panel = (taken[name] for name in SLIDERS)
    checks = [verdict("median against the slider that only prints, ratio", panel["median"] / floor["median"], 1.4),
              verdict("settles after the last of 30 moves, ms", max(settled["overhang panel"]), 200),
              verdict("kernel growth over 1000 moves, MB", kernel_mb, 5),
              verdict("page growth over 1000 moves, MB", page_mb, 5),
              verdict("panel cell to first picture, s", panel_cell, 2),
              verdict("fresh kernel, set-up and panel cell to first picture, s", first, 2)]
    print("  errors in the page or kernel:", errors or "none")
    here = machine()
    print(f"  load average {here['load_average']:.1f} on {here['processors']} processors; this run alone makes about 2")
    save("bench_slider", {"times": taken, "bursts": bursts, "checks": checks, "errors": errors})


if __name__ == "__main__":
    main()
