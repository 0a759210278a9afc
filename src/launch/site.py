"""The command `site`: a folder of plain files in which the lessons run inside the student's
browser.

Built beside the folder it goes to and moved there last, so that an interrupted build leaves no half
site.
"""

import contextlib
import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

from . import checks, environment, siteparts, sitepython, wheels
from .places import PYPROJECT, ROOT, VENV, python_in
from .sitepython import LOG, RUNTIME_VERSION, SETTINGS, TOOLS
from .steps import pip, progress, run_step, show
from .student_files import student_files
from .words import Refusal, launcher, say

OLDEST_NODE = 20
NEEDED_MB = 600
NOTE = "class_site.json"  # the sign that a folder is a site of ours
# The site tools keep notes in the folder they run in: that must be one that goes away.
INSIDE = (
    "import os, runpy, sys; os.chdir(sys.argv.pop(1)); runpy.run_module('jupyterlite_core', "
    "run_name='__main__')"
)


def target(words):
    """The folder to build, as typed."""
    if len(words) != 1 or words[0].startswith("-"):
        raise Refusal(f"Name one folder for the class site: {launcher()} site FOLDER.", 2)
    return Path(words[0]).expanduser().absolute()


def fit_folder(folder, root=ROOT):
    """The folder is new, empty, or a class site built before; it lies outside the workbook."""
    if folder.resolve().is_relative_to(root.resolve()):
        raise Refusal(f"The folder {folder} lies inside the workbook: name one outside of it.")
    if folder.exists() and not folder.is_dir():
        raise Refusal(
            f"{folder} is a file: name a folder that is new or empty, "
            "or a class site to build again."
        )
    if folder.is_dir() and any(folder.iterdir()) and not (folder / NOTE).is_file():
        raise Refusal(
            f"The folder {folder} holds other files: name one that is new or empty, "
            "or a class site to build again."
        )
    if not folder.parent.is_dir():
        raise Refusal(
            f"There is no folder {folder.parent} to build the site in: make it, or name another."
        )


def node_version(node):
    """The version of Node.js as a number, or nothing where it does not run."""
    try:
        told = subprocess.run([node, "--version"], capture_output=True, text=True, timeout=60)
    except (OSError, subprocess.SubprocessError):
        return None
    found = re.match(r"v(\d+)", told.stdout)
    return int(found[1]) if found else None


def fit_node(which=shutil.which, version=node_version):
    """Node.js and npm are here and new enough; returns where they are. A student needs neither."""
    node, npm = which("node"), which("npm")
    found = version(node) if node and npm else None
    if found is None or found < OLDEST_NODE:
        what = f"this one is {found}" if found else "there is none here"
        raise Refusal(
            f"Building the site needs Node.js {OLDEST_NODE} or newer with its npm, "
            f"and {what}: install it "
            "from nodejs.org or with your system's package manager, "
            "then run the same command again."
        )
    return node, npm


def tools_wanted(pyproject=None):
    """The tools that build the site: the extra `site` of the package."""
    return tomllib.loads(pyproject or PYPROJECT.read_text("utf-8"))["project"][
        "optional-dependencies"
    ]["site"]


def tools(told):
    """The environment of the tools; made at the first build, and again when they change."""
    python, note = python_in(TOOLS), TOOLS / NOTE
    wanted = tools_wanted()
    if wheels.read_json(note).get("tools") != wanted or not environment.version_of(python):
        shutil.rmtree(TOOLS, ignore_errors=True)
        run_step([environment.ready(told.wheels), "-m", "venv", TOOLS], LOG)
        run_step(pip(python, "install", *wanted), LOG, progress)
        show("")
        wheels.write_atomically(note, {"tools": wanted})
    return python


def lay_out(work):
    """What the site is built from: settings, and the notebooks under the name of their edition."""
    version = tomllib.loads(PYPROJECT.read_text("utf-8"))["project"]["version"]
    books = student_files("notebooks")
    name = siteparts.edition(books, version)
    contents = work / "contents"
    pages = contents / f"notebooks_{name}"
    pages.mkdir(parents=True)
    for book in books:
        (pages / book.name).write_text(siteparts.handed_out(book.read_text("utf-8"), name), "utf-8")
    for path in [*student_files("lessons"), *student_files("figures")]:
        goal = contents / path.relative_to(ROOT)
        goal.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, goal)
    for picture in (contents / "figures").glob("*.svg"):
        picture.write_bytes(siteparts.plain_text_svg(picture.read_text("utf-8")))
    wheels.write_atomically(work / "jupyter-lite.json", siteparts.lite_settings())
    shutil.copy2(SETTINGS / "jupyter_lite_config.json", work)
    wheels.write_atomically(work / "overrides.json", siteparts.overrides())
    return name, [(book.name, siteparts.title(book.read_text("utf-8"))) for book in books]


def assemble(python, work, goal):
    """Let the site tools put it all together."""
    run_step(
        [
            python,
            "-c",
            INSIDE,
            work,
            "build",
            "--lite-dir",
            work,
            "--contents",
            work / "contents",
            "--output-dir",
            goal,
        ],
        LOG,
    )
    told = wheels.read_json(goal / "jupyter-lite.json")
    settings = (
        told.get("jupyter-config-data", {}).get("litePluginSettings", {}).get(siteparts.KERNEL, {})
    )
    if not (
        settings.get("disablePyPIFallback") and settings.get("pyodideUrl", "").startswith("./")
    ):
        raise Refusal(
            f"The site tools made a site that would fetch Python from elsewhere: delete {TOOLS}, "
            "then run the same command again."
        )


def finish(goal, name, titles):
    """The front page, the page without Python, and the sign that this is a class site.

    A page asks for its pictures beside the site's own folders before it finds them among its files.
    """
    shutil.copytree(goal / "files" / "figures", goal / "figures")
    (goal / "index.html").write_text(siteparts.front_page(f"notebooks_{name}", titles), "utf-8")
    run_step(
        [python_in(VENV), "-m", "leverarm.handouts.offline_page", goal / "offline_lesson_02.html"],
        LOG,
    )
    wheels.write_atomically(goal / NOTE, {"edition": name, "runtime": RUNTIME_VERSION})


def clear(folder):
    """Take away what an interrupted build left."""
    shutil.rmtree(folder, ignore_errors=True)


def into_place(new, folder):
    """Let the new site take the place of the old one; where that fails, the old one stays."""
    old = folder.with_name(f".{folder.name}.old")
    clear(old)
    if folder.exists():
        os.replace(folder, old)
    try:
        os.replace(new, folder)
    except OSError:
        with contextlib.suppress(OSError):
            os.replace(old, folder)
        raise
    clear(old)


def build(told, folder, node, npm):
    """Build the site; returns its edition."""
    work = folder.with_name(f".{folder.name}.new")
    clear(work)
    goal, inside = work / "site", work / "static" / "pyodide"
    try:
        for part in (goal, inside):
            part.mkdir(parents=True)
        say("  1 of 4  Making the tools ready")
        python = tools(told)
        say(
            "  2 of 4  Fetching and compiling the browser's Python (one to four minutes, "
            "the first time)"
        )
        kept = sitepython.packages(python, node, npm, work, tools_wanted())
        say("  3 of 4  Compiling the workbook for it, and trying it out")
        sitepython.with_our_own(python, node, kept, work, inside)
        siteparts.write_lock(inside)
        say("  4 of 4  Putting the site together")
        name, titles = lay_out(work)
        assemble(python, work, goal)
        finish(goal, name, titles)
        into_place(goal, folder)
        return name
    finally:
        clear(work)


def size_mb(folder):
    """How much a site weighs, in megabytes."""
    return sum(path.stat().st_size for path in folder.rglob("*") if path.is_file()) / 1e6


def build_site(told, words):
    """Build the class site."""
    folder = target(words)
    fit_folder(folder)
    node, npm = fit_node()
    checks.writable(folder.parent)
    checks.room(folder.parent, NEEDED_MB)
    environment.ready(told.wheels)
    say(f"Building the class site in {folder}")
    name = build(told, folder, node, npm)
    say(f"Done: edition {name}, {size_mb(folder):.0f} MB. Put the folder on any web server.")
    say(
        f"To try it here: {Path(sys.executable).name} -m http.server --bind 127.0.0.1 "
        f'--directory "{folder}" 8000'
    )
    return 0
