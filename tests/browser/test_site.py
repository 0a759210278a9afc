"""The class site in a real browser: from another host name over plain http, under a policy that forbids all else.

CLASS_SITE names a folder that `start.py site` built; without it one is built here, which takes minutes.
"""

import base64
import contextlib
import functools
import http.server
import json
import os
import random
import re
import shutil
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from lab import CURRENT, IS_READY, QUIET, ROOT, WATCH, Sheet

from leverarm import Attachment, Tractor, predict
from leverarm.marking import practice_slip
from leverarm.marking.assignment import text

HOST = "classroom.test"  # a reserved name: it exists nowhere
PATIENCE_MS = 120_000
POLICY = re.search(r"Content-Security-Policy: (.+)", (ROOT / "lessons" / "class_site.md").read_text("utf-8"))[1]
OUTPUT = f"""(at) => {CURRENT}.content.widgets.filter(cell => cell.model.type === 'code')[at].model.sharedModel.outputs"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A built class site."""
    given = os.environ.get("CLASS_SITE")
    if given:
        assert Path(given, "class_site.json").is_file(), f"CLASS_SITE={given} is no class site"
        return Path(given)
    if not (shutil.which("node") and shutil.which("npm")):
        pytest.skip("no Node.js with npm to build a class site, and CLASS_SITE names none")
    goal = tmp_path_factory.mktemp("class") / "site"
    told = subprocess.run([sys.executable, ROOT / "src" / "start.py", "site", goal], capture_output=True, text=True)
    if "could not be fetched" in told.stderr:
        pytest.skip(told.stderr.strip())
    assert told.returncode == 0, told.stderr
    return goal


class Handler(http.server.SimpleHTTPRequestHandler):
    """A plain file server that sends the policy from the instructions."""

    def end_headers(self):
        self.send_header("Content-Security-Policy", POLICY)
        super().end_headers()

    def log_message(self, *told):
        pass


class Site:
    """The site on a server, and a browser that knows the server by another name."""

    def __init__(self, browser, folder, port):
        self.browser, self.folder, self.url = browser, folder, f"http://{HOST}:{port}/"
        self.edition = json.loads((folder / "class_site.json").read_text("utf-8"))["edition"]

    @contextlib.contextmanager
    def visit(self, path=""):
        """A page in a fresh profile; `asked` holds every request, wherever it went."""
        context = self.browser.new_context(viewport={"width": 1280, "height": 900})
        context.set_default_timeout(PATIENCE_MS)
        asked = []
        context.on("request", lambda request: asked.append(request.url))
        sheet = Sheet(context.new_page())
        sheet.page.on("console", lambda told: sheet.console_errors.append(told.text) if told.type == "error" else None)
        sheet.page.on("pageerror", lambda error: sheet.console_errors.append(f"page: {error}"))
        sheet.page.route(f"{self.url}jupyter-lite.json*", self._exposed)
        sheet.page.goto(self.url + path)
        try:
            yield sheet, asked
        finally:
            context.close()

    @contextlib.contextmanager
    def open(self, name):
        """A notebook with its Python ready."""
        with self.visit(f"notebooks/index.html?path=notebooks_{self.edition}/{name}.ipynb") as (sheet, asked):
            sheet.page.wait_for_function(IS_READY)
            sheet.page.evaluate(WATCH)
            yield sheet, asked

    def _exposed(self, route):
        """The settings as they are, with a handle for the test."""
        told = json.loads((self.folder / "jupyter-lite.json").read_text("utf-8"))
        told["jupyter-config-data"]["exposeAppInBrowser"] = True
        route.fulfill(json=told)

    def elsewhere(self, asked):
        """The requests that left for another host."""
        return [url for url in asked if not url.startswith((self.url, "data:", "blob:"))]


@pytest.fixture(scope="module")
def site(browser, folder):
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Handler, directory=str(folder)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    named = browser.browser_type.launch(
        executable_path=shutil.which("chromium") or shutil.which("google-chrome"),
        args=[*QUIET, f"--host-resolver-rules=MAP {HOST} 127.0.0.1, MAP * ~NOTFOUND"])
    yield Site(named, folder, server.server_port)
    named.close()
    server.shutdown()


def outputs(sheet, at):
    """What a code cell shows."""
    return sheet.page.evaluate(OUTPUT, at)


def test_a_slider_moves_text_and_picture_and_nothing_leaves_this_host(site):
    with site.open("02_more_than_its_weight") as (sheet, asked):
        assert sheet.page.evaluate("() => window.isSecureContext") is False  # plain http, another name
        sheet.run_all()
        assert sheet.errors() == []
        gate = sheet.page.locator(".lv-panel:has(.lv-split)").first
        slider = gate.get_by_role("slider").first
        before = slider.get_attribute("aria-valuetext")
        slider.focus()
        slider.press("ArrowRight")
        sheet.page.wait_for_function("([el, old]) => el.getAttribute('aria-valuetext') !== old",
                                     arg=[slider.element_handle(), before])
        assert f"Edition {site.edition}." in sheet.cells()[0][1]
        assert site.elsewhere(asked) == [] and len(asked) > 50


@pytest.mark.parametrize("name", sorted(path.stem for path in (ROOT / "notebooks").glob("*.ipynb")
                                        if path.stem not in ("instructor_desk", "trainer_session", "02_more_than_its_weight")))
def test_every_notebook_runs_through(site, name):
    with site.open(name) as (sheet, asked):
        sheet.run_all()
        assert sheet.errors() == [] and site.elsewhere(asked) == []


def test_the_policy_stops_a_request_elsewhere(site):
    with site.visit("index.html") as (sheet, _):
        told = sheet.page.evaluate("() => fetch('http://other.test/').then(() => 'went', (e) => String(e))")
        assert "Failed to fetch" in told or "Refused" in told
        assert any("Content Security Policy" in error or "Content-Security-Policy" in error for error in sheet.console_errors)


def bring(sheet, *files):
    """Choose files with the homework's own button."""
    with sheet.page.expect_file_chooser() as chosen:
        sheet.page.get_by_role("button", name="Bring a slip or saved answers").first.click()
    chosen.value.set_files([{"name": name, "mimeType": "text/plain", "buffer": data} for name, data in files])


def test_homework_goes_home_by_a_download_and_comes_back_in_a_later_visit(site):
    slip = ("my slip.txt", text(practice_slip()).encode())
    with site.open("homework") as (sheet, _):
        sheet.run_all()
        panel = sheet.page.locator(".lv-panel:has-text('Look again for files')").first
        bring(sheet, slip)
        panel.get_by_text("is here").wait_for()
        panel.get_by_role("button", name="Open this slip").click()
        panel.locator("input[type=text]:visible").first.fill("12.5 kg")
        panel.locator("input[type=text]:visible").first.press("Tab")
        panel.get_by_role("button", name="Check").click()
        link = panel.get_by_role("link", name="Save a copy")
        link.wait_for()
        with sheet.page.expect_download() as saved:
            link.click()
        kept = Path(saved.value.path()).read_bytes()
        assert base64.b64decode(link.get_attribute("href").split(",")[1]) == kept and b"12.5 kg" in kept
    with site.open("homework") as (sheet, _):
        sheet.run_all()
        panel = sheet.page.locator(".lv-panel:has-text('Look again for files')").first
        bring(sheet, slip, ("answers (1).txt", kept))
        panel.get_by_text("1 answer is taken up").wait_for()
        panel.get_by_role("button", name="Open this slip").click()
        panel.get_by_role("link", name="Save a copy").wait_for()
        chosen = panel.locator("select:visible").first.inner_text().replace("\xa0", " ")
        assert re.search(r"1 try so far|: right", chosen)


def test_a_traceback_shows_our_lines(site):
    with site.open("01_two_readings") as (sheet, _):
        told = sheet.page.evaluate(f"""async () => {{
          const future = {CURRENT}.sessionContext.session.kernel.requestExecute(
            {{code: "from leverarm import Tractor; Tractor('x', wheelbase='1 kg', front='1 kg', rear='1 kg')"}});
          let text = '';
          future.onIOPub = (m) => {{ if (m.header.msg_type === 'error') text = m.content.traceback.join(' '); }};
          await future.done; return text; }}""")
        plain = re.sub("\x1b\\[[0-9;]*m", "", told)
        assert "wheelbase" in plain and "_store(self" in plain


def test_the_front_page_leads_to_every_notebook(site):
    with site.visit("index.html") as (sheet, asked):
        links = sheet.page.evaluate("() => [...document.querySelectorAll('a')].map(a => a.href)")
        assert len(links) >= 12 and all(link.startswith(site.url) for link in links)
        assert site.elsewhere(asked) == []
        for link in links:
            name = re.search(r"path=(.+)", link)
            place = site.folder / "files" / name[1] if name else site.folder / link[len(site.url):]
            assert place.is_file(), link


def test_the_page_without_python_agrees_with_the_package(browser, folder):
    context = browser.new_context()
    page, asked = context.new_page(), []
    page.on("request", lambda request: asked.append(request.url))
    page.goto((folder / "offline_lesson_02.html").as_uri())
    page.fill("#guess", "110")
    page.check("[value=down]")
    page.click("#show")
    draw = random.Random(20)
    for _ in range(40):
        given = {"weight": draw.randint(10, 200), "ahead": round(draw.uniform(0, 2.5), 2), "wheelbase": round(draw.uniform(1.2, 2.2), 2)}
        for name, value in given.items():
            page.fill(f"#{name}", str(value))
        on = predict(Tractor("plot", given["wheelbase"], 600, 800), Attachment("bucket", given["weight"], given["ahead"]))
        if on.rear_kg < 0:
            assert "leave the ground" in page.inner_text("#said")
            continue
        shown = [cell.inner_text() for cell in page.locator("#rows tr td:nth-child(3)").all()]
        assert [float(each) for each in shown] == pytest.approx([on.front_kg, on.rear_kg, on.total_kg], abs=0.0501)
    assert all(url.startswith("file:") for url in asked)
    context.close()
