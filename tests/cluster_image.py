"""Run the steps of the cluster's image in a folder of this computer, as far as that goes.

    python tests/cluster_image.py FOLDER

What stands in ``src/classserver/cluster/Containerfile`` is read line by line: COPY copies below
FOLDER, RUN runs in an environment of its own, ENV and WORKDIR hold from there on, CMD is started
with a stand-in for the hub, and asked for its version and for a page.  FROM, USER and what makes an
account are named as left out.  Everything is bounded in time and ends by itself.
"""

import http.server
import json
import os
import re
import shutil
import socket
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
RECIPE = ROOT / "src" / "classserver" / "cluster" / "Containerfile"
LEFT_OUT = ("FROM", "USER")
LONGEST = 900
SKIP = shutil.ignore_patterns("__pycache__", ".venv", "*.egg-info", "my_class", "keep_to_yourself")


def steps(text):
    """(word, rest) of each line of a recipe."""
    for row in text.splitlines():
        if row.strip() and not row.startswith("#"):
            word, _, rest = row.partition(" ")
            yield word, rest.strip()


class Image:
    """The image so far, as a folder."""

    def __init__(self, folder):
        self.folder = Path(folder).absolute()
        self.place, self.left_out = self.folder, []
        self.folder.mkdir(parents=True)
        self.environment = self.folder / "python"
        subprocess.run([sys.executable, "-m", "venv", str(self.environment)], check=True)
        self.home = self.folder / "home" / "student"
        self.home.mkdir(parents=True)
        self.variables = {
            "PATH": f"{self.environment / 'bin'}{os.pathsep}{os.defpath}",
            "HOME": str(self.home),
        }

    def inside(self, path):
        """A path of the image, as a path below the folder."""
        return self.folder / path.lstrip("/") if path.startswith("/") else self.place / path

    def moved(self, text):
        """Text in which the image's own folders are those below the folder."""
        return re.sub(r"(?<![\w.])/(?=(opt|home)/)", f"{self.folder}/", text)

    def do(self, word, rest):
        if word in LEFT_OUT or rest.startswith("useradd"):
            self.left_out.append(f"{word} {rest}")
        elif word == "WORKDIR":
            self.place = self.inside(rest)
            self.place.mkdir(parents=True, exist_ok=True)
        elif word == "COPY":
            source, goal = rest.split()
            there = self.inside(goal)
            if (ROOT / source).is_dir():
                shutil.copytree(ROOT / source, there, ignore=SKIP)
            else:
                shutil.copy(ROOT / source, there)
        elif word == "ENV":
            self.variables |= dict(one.split("=", 1) for one in self.moved(rest).split())
        elif word == "RUN":
            self.run(self.moved(rest))
        elif word == "CMD":
            self.command = [self.moved(one) for one in json.loads(rest)]
        else:
            raise ValueError(f"{word} is in no recipe of ours: teach it here")

    def run(self, text):
        keep = {key: os.environ[key] for key in os.environ if key.startswith("PIP_")}
        subprocess.run(
            text, shell=True, cwd=self.place, env=keep | self.variables, check=True, timeout=LONGEST
        )


class StandInHub(http.server.BaseHTTPRequestHandler):
    """Says its version, as a student's server asks at its start, and knows nobody."""

    def do_GET(self):
        from importlib.metadata import version

        known = self.path.rstrip("/").endswith("/hub/api")
        self.send_response(200 if known else 404)
        self.end_headers()
        self.wfile.write(json.dumps({"version": VERSION or version("jupyterhub")}).encode())

    do_POST = do_GET

    def log_message(self, *told):
        pass


VERSION = next(
    iter(
        re.findall(r"^jupyterhub==([\d.]+)", (ROOT / "src" / "constraints.txt").read_text(), re.M)
    ),
    "",
)


def started(image, port):
    """What a student's server answers: its version, and where it sends who has not signed in."""
    hub = http.server.ThreadingHTTPServer(("127.0.0.1", 0), StandInHub)
    threading.Thread(target=hub.serve_forever, daemon=True).start()
    told = {
        "JUPYTERHUB_API_TOKEN": "of-a-stand-in",
        "JUPYTERHUB_API_URL": f"http://127.0.0.1:{hub.server_port}/hub/api",
        "JUPYTERHUB_BASE_URL": "/",
        "JUPYTERHUB_CLIENT_ID": "jupyterhub-user-student",
        "JUPYTERHUB_HOST": "",
        "JUPYTERHUB_SERVICE_PREFIX": "/user/student/",
        "JUPYTERHUB_SERVICE_URL": f"http://127.0.0.1:{port}/user/student/",
        "JUPYTERHUB_USER": "student",
        "JUPYTERHUB_OAUTH_CALLBACK_URL": "/user/student/oauth_callback",
    }
    root = ["--allow-root"] if hasattr(os, "getuid") and os.getuid() == 0 else []
    server = subprocess.Popen(
        [*image.command, *root], cwd=image.place, env=image.variables | told, text=True
    )
    try:
        return answers(server, f"http://127.0.0.1:{port}/user/student/")
    finally:
        server.terminate()
        server.wait(30)
        hub.shutdown()


class NoFollow(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *told):
        return None


def answers(server, address):
    opener = urllib.request.build_opener(NoFollow)
    for _ in range(240):
        if server.poll() is not None:
            raise RuntimeError(f"the server ended with {server.returncode}")
        try:
            with opener.open(f"{address}api", timeout=10) as answer:
                version = json.load(answer)["version"]
            break
        except (urllib.error.URLError, OSError):
            time.sleep(0.5)
    else:
        raise TimeoutError("the server did not answer in two minutes")
    try:
        with opener.open(f"{address}lab/tree/notebooks/00_start_here.ipynb", timeout=30) as answer:
            return version, answer.status, ""
    except urllib.error.HTTPError as sent:
        return version, sent.code, sent.headers.get("Location", "")


def main():
    image = Image(sys.argv[1])
    for word, rest in steps(RECIPE.read_text("utf-8")):
        print(word, rest, flush=True)
        image.do(word, rest)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    version, status, goes_to = started(image, port)
    given = sum(1 for path in (image.home / "workbook").rglob("*") if path.is_file())
    print(f"\nThe student's server is jupyter_server {version}; without a sign-in a page answers")
    print(
        f"{status} and sends to {goes_to.split('?')[0]}; {given} files were given to the student."
    )
    print("Left out here:", *image.left_out, sep="\n  ")
    assert status == 302 and "/hub/api/oauth2/authorize" in goes_to and given > 100


if __name__ == "__main__":
    main()
