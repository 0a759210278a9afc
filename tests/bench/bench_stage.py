"""From a key or a pointer to the stage's changed picture: 100 moves, beside two others.

In JupyterLab, and in the built class site when its folder is told, a moving picture stands in
one page with a slider that only prints its value and with the lift panel of lesson 08, which
Python draws; they take turns, so that a busy moment hits all.  Firefox does the keys in
JupyterLab, and the offline page of lesson 02 is timed in Firefox and WebKit too, where these are
installed
(firefox-esr with the package marionette-driver; WebKitWebDriver with the package selenium, all
under xvfb-run).
``python tests/bench/bench_stage.py [SITE] [result.json] [--quick]``; SITE is what
``start.py site`` built.
"""

import contextlib
import functools
import http.server
import shutil
import sys
import tempfile
import threading
import time
from pathlib import Path

from bench_site import IN_PLACE
from bench_slider import FLOOR, latencies, spread
from common import machine, many, save, table, verdict, words

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))

from classroom import classroom
from lab import IS_READY, QUIET, as_start_does, find_browser, start_lab, write_notebook
from lab import WATCH as LISTEN

from leverarm.handouts import offline_page

STAGE = """from leverarm import panels
panels.begin(system='lb')
stage = panels.tractor_stage()
stage.lock_in(front='+448 lb', rear='-188 lb'), stage.explain('seen'), stage.free()
stage"""
PANEL = """panel = panels.arms_up()
panel"""
OVERHANG = "input[type=range][data-moves=overhang]"
SLIDER = {
    "prints its value": ".bench-floor .noUi-handle",
    "lift panel": ".lv-split .noUi-handle >> nth=1",
    "stage": f".st {OVERHANG}",
}
OUTPUT = {
    "prints its value": ".bench-text .widget-html-content",
    "lift panel": ".lv-split .widget-html-content:has(svg)",
    "stage": ".st-desk",
}
RING = ".st-desk [data-hold=overhang]"
PAUSE_MS = 120
# Times are taken in the page: the key or the pointer as the browser stamped it, the picture when
# the frame after its change has been handed to the screen.
WATCH = """([name, output]) => {
  window.bench = window.bench || {};
  const note = window.bench[name] = {keys: [], paints: []};
  new MutationObserver(() => requestAnimationFrame(() => {
    const pipe = new MessageChannel();
    pipe.port1.onmessage = () => note.paints.push(performance.now());
    pipe.port2.postMessage(0);
  })).observe(document.querySelector(output), {childList: true, subtree: true,
      characterData: true, attributes: true});
}"""
STAMP = """() => { for (const kind of ['keydown', 'pointermove', 'mousemove']) {
  document.addEventListener(kind, (event) => {
    if (kind === 'keydown' || (event.buttons && kind === (window.benchBy || 'pointermove')))
      for (const note of Object.values(window.bench || {})) note.keys.push(event.timeStamp);
  }, true); } }"""
CLEAR = (
    "() => { for (const one of Object.values(window.bench)) { one.keys = []; one.paints = []; } }"
)
NOTE = "(name) => window.bench[name]"
# How long after the last move Python has the value: Python writes it back, so this is a bound.
ECHO = """import ipywidgets as w
echo, moved = w.HTML('-'), stage.moved
def told():
    moved()
    echo.value = str(stage.state['overhang'])
stage.moved = told
echo.add_class('bench-echo')
display(echo)"""
HEARD = """async () => {
  const echo = document.querySelector('.bench-echo .widget-html-content');
  const before = echo.textContent;
  const slider = document.querySelector('.st input[type=range][data-moves=overhang]');
  const began = performance.now();
  slider.value = String(Number(slider.value) - 1);
  slider.dispatchEvent(new Event('input', {bubbles: true}));
  while (echo.textContent === before && performance.now() - began < 3000)
    await new Promise(done => setTimeout(done, 2));
  return performance.now() - began;
}"""


def keys(page, name, count, direction):
    """Times from key to picture of one slider, in ms."""
    page.evaluate(CLEAR)
    page.locator(SLIDER[name]).first.focus()
    for _ in range(count):
        page.keyboard.press("ArrowRight" if direction else "ArrowLeft")
        page.wait_for_timeout(PAUSE_MS)
    page.wait_for_timeout(300)
    note = page.evaluate(NOTE, name)
    return latencies(note["keys"], note["paints"])


def drags(page, name, count, direction):
    """Times from pointer to picture while one handle is dragged, in ms."""
    handle = RING if name == "stage" else SLIDER[name]
    box = page.locator(handle).first.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.evaluate(CLEAR)
    page.mouse.down()
    for at in range(1, count + 1):
        page.mouse.move(x + (4 if direction else -4) * at, y)
        page.wait_for_timeout(PAUSE_MS)
    page.mouse.up()
    page.wait_for_timeout(300)
    note = page.evaluate(NOTE, name)
    return latencies(note["keys"], note["paints"])


def compare(page):
    """Both ways of moving, all three in turn."""
    page.locator(f"{SLIDER['stage']}:visible").first.wait_for()
    page.wait_for_timeout(1000)
    page.evaluate(STAMP)
    for name, output in OUTPUT.items():
        page.evaluate(WATCH, [name, output])
    rounds, count = many(5, 1), many(20, 6)
    found = {}
    for way in (keys, drags):
        taken = {name: [] for name in SLIDER}
        for name in SLIDER:
            way(page, name, 5, False)  # once for nothing
        for at in range(rounds):
            for name in SLIDER:
                page.locator(OUTPUT[name]).first.scroll_into_view_if_needed()
                taken[name] += way(page, name, count, at % 2 == 0)
        found[way.__name__] = {name: spread(times) for name, times in taken.items()}
    return found


def in_lab():
    """The three side by side in JupyterLab, and how long Python waits for the last value."""
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        root = Path(folder, "root")
        root.mkdir()
        write_notebook(root / "bench.ipynb", STAGE, FLOOR, PANEL, ECHO)
        browser = driver.chromium.launch(executable_path=find_browser(), args=QUIET)
        lab = start_lab(browser, root, as_start_does(Path(folder, "home")))
        try:
            with lab.open("bench.ipynb", height=2200) as sheet:
                sheet.only_notebook()
                sheet.run_all()
                return compare(sheet.page), wait_for_python(sheet.page), sheet.errors()
        finally:
            lab.stop()
            browser.close()


def wait_for_python(page):
    """How long after the last move Python has the value, in ms."""
    heard = []
    for _ in range(many(20, 5)):
        heard.append(page.evaluate(HEARD))
        page.wait_for_timeout(200)
    return spread(heard)


def on_site(folder):
    """The same three in the built class site."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=find_browser(), args=QUIET)
        try:
            with classroom(browser, folder) as site, site.open("02_the_tractor") as (sheet, _):
                sheet.page.set_viewport_size({"width": 1280, "height": 2200})
                sheet.page.evaluate(IN_PLACE, [STAGE, FLOOR, PANEL, ECHO])
                return compare(sheet.page), wait_for_python(sheet.page), sheet.errors()
        finally:
            browser.close()


def in_firefox_lab():
    """Key to picture of the three in JupyterLab in Firefox."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder, "root")
        root.mkdir()
        write_notebook(root / "bench.ipynb", STAGE, FLOOR, PANEL)
        lab = start_lab(None, root, as_start_does(Path(folder, "home")))
        try:
            with firefox(f"{lab.url}lab/tree/bench.ipynb?reset&token={lab.token}") as client:
                until(client, f"return ({IS_READY})();")
                client.execute_async_script(
                    f"const done = arguments[arguments.length - 1]; ({LISTEN})().then(() => "
                    "window.jupyterapp.commands.execute('notebook:run-all-cells'))"
                    ".then(() => done(1));",
                    sandbox=None,
                )
                until(client, f"return !!document.querySelector('{SLIDER['stage']}');")
                time.sleep(2)
                return {name: firefox_keys(client, name) for name in SLIDER}
        finally:
            lab.stop()


def until(client, script, patience=90):
    """Wait until a script in the page says yes."""
    end = time.monotonic() + patience
    while not client.execute_script(script, sandbox=None):
        assert time.monotonic() < end, f"waited in vain: {script}"
        time.sleep(0.2)


def offline_file(folder):
    """The offline page of lesson 02, moved to where it can be dragged."""
    path = Path(folder, "stage.html")
    path.write_text(offline_page.page(), "utf-8")
    return path


# What a reader does until the picture can be moved, as a script for any engine.
OPEN = """
const done = arguments[arguments.length - 1], wait = (ms) => new Promise(ok => setTimeout(ok, ms));
(async () => {
  const type = (el, text) => { el.value = text;
    for (const kind of ['input', 'change']) el.dispatchEvent(new Event(kind, {bubbles: true})); };
  for (const [name, text] of [['front_said', '+300'], ['rear_said', '-100']])
    type(document.querySelector(`input[type=text][data-moves=${name}]`), text);
  const press = async (words) => { [...document.querySelectorAll('button')].find(
    (one) => one.textContent.trim() === words && !one.disabled).click(); await wait(1500); };
  await press('Lock in');
  type(document.querySelector('textarea'), 'The front gained more.');
  await press('Show why'); await press('Now move it');
  done(document.querySelectorAll('input[type=range]').length);
})().catch((error) => done(String(error)));
"""


def by_key(execute, send, count, name="stage", slider=OVERHANG):
    """Key to picture in an engine driven from outside: execute runs script, send presses a key."""
    execute(f"if (!window.bench) ({STAMP})(); ({WATCH})(['{name}', `{OUTPUT[name]}`]);")
    execute(f"document.querySelector('{slider}').focus();")
    for at in range(count):
        send(at // 25 % 2)
        time.sleep(PAUSE_MS / 1000)
    time.sleep(0.4)
    note = execute(f"return window.bench['{name}'];")
    return spread(latencies(note["keys"], note["paints"]))


@contextlib.contextmanager
def firefox(address):
    """Firefox at an address."""
    from marionette_driver.marionette import Marionette

    client = Marionette(bin=shutil.which("firefox-esr"), headless=True)
    client.start_session()
    try:
        client.timeout.script = 60
        client.navigate(address)
        yield client
    finally:
        client.quit()


def firefox_keys(client, name):
    """Key to picture of one slider in Firefox."""
    from marionette_driver.by import By
    from marionette_driver.keys import Keys

    selector, _, at = SLIDER[name].partition(" >> nth=")
    found = client.find_elements(By.CSS_SELECTOR, selector)
    slider = found[int(at or 0)]
    slider_now = "bench-now"
    client.execute_script(
        f"arguments[0].classList.add('{slider_now}'); arguments[0].focus();", [slider]
    )
    try:
        return by_key(
            lambda script: client.execute_script(script, sandbox=None),
            lambda back: slider.send_keys(Keys.ARROW_LEFT if back else Keys.ARROW_RIGHT),
            many(100, 10),
            name,
            f".{slider_now}",
        )
    finally:
        client.execute_script(f"arguments[0].classList.remove('{slider_now}');", [slider])


def in_firefox(address):
    """The offline page in Firefox."""
    with firefox(address) as client:
        assert client.execute_async_script(OPEN), "the stage did not open"
        return firefox_keys(client, "stage")


def in_webkit(address):
    """The offline page in WebKit, the engine of iPhones and Safari."""
    from selenium import webdriver
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys
    from selenium.webdriver.webkitgtk.options import Options
    from selenium.webdriver.webkitgtk.service import Service

    options = Options()
    options.binary_location = str(next(Path("/usr/lib").glob("*/webkit2gtk-*/MiniBrowser")))
    options.add_argument("--automation")
    driver = webdriver.WebKitGTK(options=options, service=Service(shutil.which("WebKitWebDriver")))
    try:
        driver.set_script_timeout(30)
        driver.get(address)
        assert driver.execute_async_script(OPEN), "the stage did not open"
        slider = driver.find_element(By.CSS_SELECTOR, OVERHANG)
        return by_key(
            driver.execute_script,
            lambda back: slider.send_keys(Keys.ARROW_LEFT if back else Keys.ARROW_RIGHT),
            many(100, 10),
        )
    finally:
        driver.quit()


@contextlib.contextmanager
def served(folder):
    """A folder over plain HTTP on this machine."""
    quiet = type("Quiet", (http.server.SimpleHTTPRequestHandler,), {"log_message": lambda *_: None})
    server = http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0), functools.partial(quiet, directory=str(folder))
    )
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()


def lines(where, found):
    """The rows of one place for the table."""
    return [
        [f"{where}, {way}", name, *(f"{one[k]:.1f}" for k in ("median", "p95")), one["n"]]
        for way, times in found.items()
        for name, one in times.items()
    ]


def judged(where, found, heard, errors):
    """Hold one place against what is wanted."""
    for way, times in found.items():
        stage = times["stage"]
        verdict(f"{where}, stage, {way}, median ms", stage["median"], 16)
        verdict(f"{where}, stage, {way}, p95 ms", stage["p95"], 40)
        verdict(
            f"{where}, stage against the slider that only prints, {way}, ratio of medians",
            stage["median"] / times["prints its value"]["median"],
            0.75,
        )
    verdict(f"{where}, Python has the last value after, ms", heard["median"], 150)
    verdict(f"{where}, errors in the page or kernel", len(errors), 0)


def main():
    places = {"JupyterLab": in_lab()}
    site = next((word for word in words() if Path(word, "class_site.json").is_file()), None)
    if site:
        sys.argv.remove(site)
        places["class site"] = on_site(Path(site))
    others = {}
    with tempfile.TemporaryDirectory() as folder:
        offline_file(folder)
        with served(folder) as address:
            for name, engine in {
                "JupyterLab, Firefox": in_firefox_lab,
                "offline page, Firefox": lambda: {"stage": in_firefox(address + "stage.html")},
                "offline page, WebKit": lambda: {"stage": in_webkit(address + "stage.html")},
            }.items():
                try:
                    others[name] = {"keys": engine()}
                except Exception as error:  # the engine is not there, or its driver is another's
                    print(f"  {name} was not tried: {type(error).__name__}: {str(error)[:120]}")
    rows = [line for where, (found, _, _) in places.items() for line in lines(where, found)]
    rows += [line for where, found in others.items() for line in lines(where, found)]
    table("Key or pointer to picture painted, ms", ["where", "what", "median", "p95", "n"], rows)
    for where, (found, heard, errors) in places.items():
        judged(where, found, heard, errors)
    print(f"  load average {machine()['load_average']:.1f}")
    save("bench_stage", {"places": places, "others": others})


if __name__ == "__main__":
    main()
