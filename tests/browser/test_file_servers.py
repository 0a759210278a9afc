"""The blocks for nginx and Caddy in lessons/class_site.md, taken from the page and run on this
computer alone: types, compressed copies, and what a browser may keep.
"""

import contextlib
import gzip
import re
import shutil
import subprocess
import time
import urllib.error
import urllib.request

import pytest
from lab import ROOT, free_port

PAGE = (ROOT / "lessons" / "class_site.md").read_text("utf-8")
POLICY = re.search(r"Content-Security-Policy: (.+)", PAGE)[1]
FOR_GOOD = "max-age=31536000, immutable"
WORDS = b"words of the page, " * 50
# Name, how it is to be called, and what a browser may do with it.
FILES = (
    ("index.html", "text/html", "no-cache"),
    ("build/12.0a1b2c3.js", "javascript", FOR_GOOD),
    ("build/plain.js", "javascript", "no-cache"),
    ("static/opener-0123456789.mjs", "javascript", FOR_GOOD),
    ("static/python-0123456789.zip.packed", "", FOR_GOOD),
    ("jupyter-lite.json", "json", "no-cache"),
)


@pytest.fixture
def folder(tmp_path):
    goal = tmp_path / "site"
    for name, _, _ in FILES:
        (goal / name).parent.mkdir(parents=True, exist_ok=True)
        (goal / name).write_bytes(WORDS)
        if not name.endswith(".packed"):
            (goal / f"{name}.gz").write_bytes(gzip.compress(WORDS))
    return goal


def block(language, folder, address):
    """The block of a server from the page, for this folder and address."""
    return (
        re.search(rf"```{language}\n(.*?)```", PAGE, re.DOTALL)[1]
        .replace("FOLDER", str(folder))
        .replace("listen 80", f"listen {address}")
        .replace(":80 {", f"http://{address} {{")
    )


@contextlib.contextmanager
def running(language, folder, scratch, policy=""):
    """The server, on a port of its own; its address."""
    program = shutil.which(language)
    if program is None:
        pytest.skip(f"{language} is not installed")
    address = f"127.0.0.1:{free_port()}"
    words = block(language, folder, address)
    settings = scratch / "settings"
    if language == "nginx":
        more = f'add_header Content-Security-Policy "{policy}";\n    add_header Cache'
        words = words.replace("add_header Cache", more if policy else "add_header Cache")
        settings.write_text(
            f"daemon off; pid {scratch}/pid; error_log {scratch}/log; user root;\nevents {{}}\n"
            f"http {{ include /etc/nginx/mime.types; access_log off;\n{words}}}\n"
        )
        command = [program, "-e", f"{scratch}/log", "-c", str(settings)]
    else:
        more = f'header Content-Security-Policy "{policy}"\n    root'
        words = words.replace("root", more if policy else "root", 1)
        settings.write_text(f"{{\n    admin off\n    auto_https off\n}}\n{words}")
        command = [program, "run", "--adapter", "caddyfile", "--config", str(settings)]
    server = subprocess.Popen(
        command, cwd=scratch, stderr=subprocess.PIPE, env={"HOME": str(scratch)}
    )
    try:
        url = f"http://{address}/"
        for _ in range(100):
            with contextlib.suppress(urllib.error.URLError):
                urllib.request.urlopen(url, timeout=5)
                break
            assert server.poll() is None, server.stderr.read().decode()
            time.sleep(0.1)
        yield url
    finally:
        server.terminate()
        server.wait()


@pytest.mark.parametrize("policy", ["", POLICY])
@pytest.mark.parametrize("language", ["nginx", "caddy"])
def test_the_block_of_the_page_sends_what_the_page_says(language, policy, folder, tmp_path):
    with running(language, folder, tmp_path, policy) as url:
        for name, called, kept in FILES:
            ask = urllib.request.Request(url + name, headers={"Accept-Encoding": "gzip"})
            with urllib.request.urlopen(ask, timeout=10) as answer:
                told, body = answer.headers, answer.read()
            assert called in (told["Content-Type"] or ""), name
            assert told.get_all("Cache-Control") == [kept], name
            assert (told["Content-Security-Policy"] or "") == policy, name
            if name.endswith(".packed"):
                assert told["Content-Encoding"] is None and body == WORDS
            else:
                assert told["Content-Encoding"] == "gzip" and gzip.decompress(body) == WORDS
                assert "Accept-Encoding" in told["Vary"], name
