"""A built class site on a plain file server, and a browser that knows the server by another name.

with classroom(browser, folder) as site, site.open("02_the_tractor") as (sheet, asked):
    sheet.run_all()
    assert site.elsewhere(asked) == []
"""

import contextlib
import functools
import http.server
import io
import json
import os
import re
import threading
import time
from urllib.parse import urlsplit

from lab import CURRENT, IS_READY, QUIET, ROOT, WATCH, Sheet, find_browser

HOST = "classroom.test"  # a reserved name: it exists nowhere
PATIENCE_MS = 120_000
POLICY = re.search(
    r"Content-Security-Policy: (.+)", (ROOT / "lessons" / "class_site.md").read_text("utf-8")
)[1]
# Named after what they hold, so a browser may keep them for good (lessons/class_site.md).
KEPT_FOR_GOOD = re.compile(r"-[0-9a-f]{10}\.(mjs|[a-z]+\.packed)$|\.[0-9a-f]{7,20}\.js(\?|$)")
LESSON_READY = "body[data-lesson=ready]"
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


class Line:
    """What a server sends through: how many bytes so far, and how many a second at most."""

    def __init__(self, bytes_a_second=None):
        self.rate, self.sent, self.free_at = bytes_a_second, 0, 0.0
        self.cut = False
        self.lock = threading.Lock()

    def take(self, size):
        """Count these bytes; wait until the line has room for them."""
        with self.lock:
            self.sent += size
            if not self.rate:
                return
            self.free_at = max(self.free_at, time.monotonic()) + size / self.rate
            wait = self.free_at - time.monotonic()
        time.sleep(max(wait, 0))


class Handler(http.server.SimpleHTTPRequestHandler):
    """A plain file server that sends the policy from the instructions; and, where it is told so,
    the compressed copies, and what may be kept for good, as the instructions say.
    """

    protocol_version = "HTTP/1.1"

    def __init__(self, *given, line, copies, **more):
        self.line, self.copies = line, copies
        super().__init__(*given, **more)

    def send_head(self):
        if self.line.cut:  # a connection that was kept open answers no longer
            self.close_connection = True
            return None
        path = self.translate_path(self.path)
        accepted = self.headers.get("Accept-Encoding", "")
        for ending, name in ((".br", "br"), (".gz", "gzip")):
            if self.copies and name in accepted and os.path.isfile(path + ending):
                changed = self.date_time_string(int(os.path.getmtime(path)))
                if self.headers.get("If-Modified-Since") == changed:
                    self.send_response(304)
                    self.end_headers()
                    return None
                with open(path + ending, "rb") as copy:
                    data = copy.read()
                self.send_response(200)
                self.send_header("Content-Type", self.guess_type(path))
                self.send_header("Content-Encoding", name)
                self.send_header("Vary", "Accept-Encoding")
                self.send_header("Last-Modified", changed)
                self.send_header("Content-Length", str(len(data)))
                self.end_headers()
                return io.BytesIO(data)
        return super().send_head()

    def copyfile(self, source, outputfile):
        while piece := source.read(16384):
            self.line.take(len(piece))
            outputfile.write(piece)

    def end_headers(self):
        self.send_header("Content-Security-Policy", POLICY)
        if self.copies:
            kept = KEPT_FOR_GOOD.search(self.path)
            self.send_header("Cache-Control", "max-age=31536000, immutable" if kept else "no-cache")
        super().end_headers()

    def log_message(self, *told):
        pass


class Site:
    """The site on a server, and a browser that knows the server by another name."""

    def __init__(self, browser, folder, port, line, host):
        self.browser, self.folder, self.url = browser, folder, f"http://{host}:{port}/"
        self.line = line
        self.settings = json.loads((folder / "jupyter-lite.json").read_text("utf-8"))
        self.exposed = self.settings["jupyter-config-data"].get("exposeAppInBrowser", False)
        self.edition = json.loads((folder / "class_site.json").read_text("utf-8"))["edition"]

    @contextlib.contextmanager
    def visit(self, path="", **how):
        """A page in a fresh profile; `asked` holds every request, wherever it went."""
        context = self.browser.new_context(viewport={"width": 1280, "height": 900}, **how)
        context.set_default_timeout(PATIENCE_MS)
        asked = []
        context.on("request", lambda request: asked.append(request.url))
        sheet = Sheet(context.new_page())
        sheet.page.on(
            "console",
            lambda told: sheet.console_errors.append(told.text) if told.type == "error" else None,
        )
        sheet.page.on("pageerror", lambda error: sheet.console_errors.append(f"page: {error}"))
        if not self.exposed:  # a page whose requests pass through here keeps nothing in its cache
            sheet.page.route(f"{self.url}jupyter-lite.json*", self._exposed)
        sheet.page.goto(self.url + path)
        try:
            yield sheet, asked
        finally:
            context.close()

    @contextlib.contextmanager
    def open(self, name):
        """A notebook that has run by itself and was read down."""
        with self.visit(f"notebooks/index.html?path=notebooks_{self.edition}/{name}.ipynb") as (
            sheet,
            asked,
        ):
            sheet.page.wait_for_function(IS_READY)
            sheet.page.evaluate(WATCH)
            if self.exposed:  # built before, it waits for a press
                sheet.page.wait_for_selector(LESSON_READY, state="attached")
            sheet.read_down()
            yield sheet, asked

    def _exposed(self, route):
        """The settings as they are, with a handle for the test (sites built before had none)."""
        self.settings["jupyter-config-data"]["exposeAppInBrowser"] = True
        route.fulfill(json=self.settings)

    def elsewhere(self, asked):
        """The requests that left for another host."""
        return [url for url in asked if not url.startswith((self.url, "data:", "blob:"))]


@contextlib.contextmanager
def served(folder, rate=None, copies=False):
    """The site of a folder on a server of this computer, at most `rate` bytes a second, with its
    compressed copies or without: the server, which may be ended early, and its line.
    """
    line = Line(rate)
    server = http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0),
        functools.partial(Handler, directory=str(folder), line=line, copies=copies),
    )
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield server, line
    finally:
        line.cut = True
        server.shutdown()
        server.server_close()


@contextlib.contextmanager
def classroom(browser, folder, *options, rate=None, copies=False, host=HOST):
    """The site of a folder, served until the end; options are for the browser. As `localhost` it
    may keep files offline.
    """
    with served(folder, rate, copies) as (server, line):
        named = browser.browser_type.launch(
            executable_path=find_browser(),
            args=[*QUIET, f"--host-resolver-rules=MAP {host} 127.0.0.1, MAP * ~NOTFOUND", *options],
        )
        try:
            yield Site(named, folder, server.server_port, line, host)
        finally:
            named.close()


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
