"""A built class site on a plain file server, and a browser that knows the server by another name.

with classroom(browser, folder) as site, site.open("02_the_tractor") as (sheet, asked):
    sheet.run_all()
    assert site.elsewhere(asked) == []
"""

import contextlib
import functools
import http.server
import json
import re
import threading
from urllib.parse import urlsplit

from lab import CURRENT, IS_READY, QUIET, ROOT, WATCH, Sheet, find_browser

HOST = "classroom.test"  # a reserved name: it exists nowhere
PATIENCE_MS = 120_000
POLICY = re.search(
    r"Content-Security-Policy: (.+)", (ROOT / "lessons" / "class_site.md").read_text("utf-8")
)[1]
KERNEL = f"{CURRENT}.sessionContext.session.kernel"
# Run a line in the notebook's Python; what it prints, or its traceback.
TELL = f"""async (code) => {{
  const future = {KERNEL}.requestExecute({{code}});
  let text = '';
  future.onIOPub = ({{header, content}}) => {{
    if (header.msg_type === 'stream') text += content.text;
    if (header.msg_type === 'error') text += content.traceback.join(' ');
  }};
  await future.done; return text; }}"""


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
        sheet.page.on(
            "console",
            lambda told: sheet.console_errors.append(told.text) if told.type == "error" else None,
        )
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
        with self.visit(f"notebooks/index.html?path=notebooks_{self.edition}/{name}.ipynb") as (
            sheet,
            asked,
        ):
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


@contextlib.contextmanager
def classroom(browser, folder, *options):
    """The site of a folder, served until the end; options are for the browser."""
    server = http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0), functools.partial(Handler, directory=str(folder))
    )
    threading.Thread(target=server.serve_forever, daemon=True).start()
    named = browser.browser_type.launch(
        executable_path=find_browser(),
        args=[*QUIET, f"--host-resolver-rules=MAP {HOST} 127.0.0.1, MAP * ~NOTFOUND", *options],
    )
    try:
        yield Site(named, folder, server.server_port)
    finally:
        named.close()
        server.shutdown()


def asked_by_pages(log):
    """Every (host that asked, host that was asked) pair of a net log, workers included; what the
    browser asks for itself is left out.
    """
    told = json.loads(log.read_text("utf-8"))
    start = told["constants"]["logEventTypes"]["URL_REQUEST_START_JOB"]
    params = [event.get("params", {}) for event in told["events"] if event["type"] == start]
    return {
        (urlsplit(one["initiator"]).netloc, urlsplit(one["url"]).netloc)
        for one in params
        if one.get("initiator", "").startswith("http") and one["url"].startswith(("http", "ws"))
    }
