"""The command `site`: a folder of plain files; the lessons run inside the student's browser.

Built beside the folder it goes to and moved there last, so that an interrupted build leaves no half
site.
"""

import argparse
import contextlib
import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Callable, Collection, Iterable
from html import escape
from pathlib import Path
from typing import Any

from . import browser_python, checks, environment, wheels
from .browser_python import ASKED_FOR, LOG, RUNTIME_VERSION, SETTINGS, TOOLS
from .places import LAB_SETTINGS, PYPROJECT, ROOT, SRC, VENV, python_in
from .steps import pip, progress, run_step, show
from .student_files import GIVEN, student_files
from .words import Refusal, launcher, say

OLDEST_NODE = 20
NEEDED_MB = 600
NOTE = "class_site.json"  # the sign that a folder is a site of ours
LESSON_PAGES = "lesson"
PARTS = Path("static", "pyodide")
# Named after what they hold: our parts of Python, and what the site tools have built.
KEPT_FOR_GOOD = re.compile(r"-[0-9a-f]{10}\.(mjs|[a-z]+\.packed)$|\.[0-9a-f]{7,20}\.js$")
# The site tools keep notes in the folder they run in: that must be one that goes away.
INSIDE = (
    "import os, runpy, sys; os.chdir(sys.argv.pop(1)); runpy.run_module('jupyterlite_core', "
    "run_name='__main__')"
)
# What a notebook's head asks for in JupyterLab, and what it says where cells run by themselves.
ASKED_FOR_A_PRESS = re.compile(r"Press \*\*(Start this \w+)\*\* once.*?Cells\.\)", re.DOTALL)
STARTS_ITSELF = (
    r"The page starts by itself: stay at the top and read down. If it has not, press **\1**."
)

OVERRIDES = LAB_SETTINGS / "labconfig" / "default_setting_overrides.json"
KERNEL = "@jupyterlite/pyodide-kernel-extension:kernel"
LINK = re.compile(r"(?<!!)\[([^]]+)\]\(([^)\s]+)\)")  # in Markdown, and not a picture


def target(words: list[str]) -> Path:
    """The folder to build, as typed."""
    if len(words) != 1 or words[0].startswith("-"):
        raise Refusal(f"Name one folder for the class site: {launcher()} site FOLDER.", 2)
    return Path(words[0]).expanduser().absolute()


def fit_folder(folder: Path, root: Path = ROOT) -> None:
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


def node_version(node: str) -> int | None:
    """The version of Node.js as a number, or nothing where it does not run."""
    try:
        said = subprocess.run([node, "--version"], capture_output=True, text=True, timeout=60)
    except (OSError, subprocess.SubprocessError):
        return None
    found = re.match(r"v(\d+)", said.stdout)
    return int(found[1]) if found else None


def fit_node(
    which: Callable[[str], str | None] = shutil.which,
    version: Callable[[str], int | None] = node_version,
) -> tuple[str, str]:
    """Node.js and npm are here and new enough; returns where they are. A student needs neither."""
    node, npm = which("node"), which("npm")
    found = version(node) if node and npm else None
    if not node or not npm or found is None or found < OLDEST_NODE:
        what = f"this one is {found}" if found else "there is none here"
        raise Refusal(
            f"Building the site needs Node.js {OLDEST_NODE} or newer with its npm, "
            f"and {what}: install it "
            "from nodejs.org or with your system's package manager, "
            "then run the same command again."
        )
    return node, npm


def tools_wanted(pyproject: str | None = None) -> list[str]:
    """The tools that build the site: the extra `site` of the package."""
    return tomllib.loads(pyproject or PYPROJECT.read_text("utf-8"))["project"][
        "optional-dependencies"
    ]["site"]


def tools(options: argparse.Namespace) -> Path:
    """The environment of the tools; made at the first build, and again when they change."""
    python, note = python_in(TOOLS), TOOLS / NOTE
    wanted = tools_wanted()
    if wheels.read_json(note).get("tools") != wanted or not environment.version_of(python):
        shutil.rmtree(TOOLS, ignore_errors=True)
        run_step([environment.ready(options.wheels), "-m", "venv", TOOLS], LOG)
        run_step(pip(python, "install", *wanted), LOG, progress)
        show("")
        wheels.write_atomically(note, {"tools": wanted})
    return python


def plain_text_svg(text: str) -> bytes:
    """An SVG file in ASCII: the pages read a picture as single bytes.

    >>> plain_text_svg("<text>2 \u00b7 W</text>")
    b'<text>2 &#183; W</text>'
    """
    return text.encode("ascii", "xmlcharrefreplace")


def lite_settings() -> dict[str, Any]:
    """The settings of the page, with the names the kernel asks for."""
    page = json.loads((SETTINGS / "jupyter-lite.json").read_text("utf-8"))
    kernel = page["jupyter-config-data"]["litePluginSettings"][KERNEL]
    kernel["loadPyodideOptions"]["packages"] = list(ASKED_FOR)
    return page


def overrides() -> dict[str, Any]:
    """JupyterLab's settings: those of the workbook, and those of the site.

    A page is saved every few seconds, so that what is typed into it is hardly ever unsaved: the
    question at closing a tab then means the answers.
    """
    return json.loads(OVERRIDES.read_text("utf-8")) | json.loads(
        (SETTINGS / "overrides.json").read_text("utf-8")
    )


def edition(notebooks: Iterable[Path], version: str, opener: str) -> str:
    """The name of what is handed out: it changes with the notebooks and with the Python they run
    on (the name of its opener tells all its parts), and with nothing else.

    A browser keeps a student's saved copy of a page and shows it in place of ours from then on.
    So a corrected page must have another address, or nobody would ever see the correction.
    """
    digest = hashlib.sha256(opener.encode())
    for path in notebooks:
        digest.update(path.name.encode() + b"\0" + path.read_bytes().replace(b"\r\n", b"\n"))
    return f"{version}-{digest.hexdigest()[:4]}"


def without_dead_links(text: str) -> str:
    """Markdown in which a link to a file that no student is given is left as its words.

    >>> without_dead_links(
    ...     "the [glossary](../lessons/glossary.md), the [plan](../lessons/02_plan.md)"
    ... )
    'the [glossary](../lessons/glossary.md), the plan'
    """
    given = {path for part in GIVEN for path in student_files(part)}

    def kept(link: re.Match[str]) -> str:
        goal = link[2].split("#")[0]
        alive = not goal or ":" in goal or (ROOT / "notebooks" / goal).resolve() in given
        return link[0] if alive else link[1]

    return LINK.sub(kept, text)


def started(text: str) -> str:
    """The head of a notebook whose cells run by themselves.

    >>> started("Press **Start this page** once. (The menu: Run All Cells.)").split(": ")[0]
    'The page starts by itself'
    """
    return ASKED_FOR_A_PRESS.sub(STARTS_ITSELF, text, count=1)


def handed_out(text: str, name: str) -> str:
    """A notebook as it is handed out: with its edition, for the browser's Python."""
    book = json.loads(text)
    for cell in book["cells"]:
        if cell["cell_type"] == "markdown":
            cell["source"] = without_dead_links("".join(cell["source"])).splitlines(keepends=True)
    book["metadata"] |= {
        "leverarm_edition": name,
        "kernelspec": {"display_name": "Python", "language": "python", "name": "python"},
    }
    first = next((cell for cell in book["cells"] if cell["cell_type"] == "markdown"), None)
    if first:
        head = started("".join(first["source"]))
        first["source"] = [*head.splitlines(keepends=True), f"\n\nEdition {name}."]
    return json.dumps(book, ensure_ascii=False, indent=1) + "\n"


def title(text: str) -> str:
    """The heading of a notebook."""
    for cell in json.loads(text)["cells"]:
        found = (
            re.match(r"# (.+)", "".join(cell["source"]))
            if cell["cell_type"] == "markdown"
            else None
        )
        if found:
            return found[1].strip()
    return ""


def lesson_address(folder: str, name: str) -> str:
    """Where a notebook of the site opens, seen from its front page."""
    return f"notebooks/index.html?path={folder}/{name}"


def front_page(
    folder: str, titles: Iterable[tuple[str, str]], with_picture: Collection[str] = ()
) -> str:
    """The page a student opens first: one link a notebook, to its picture where it has one."""

    def opens_at(name: str) -> str:
        stem = name.removesuffix(".ipynb")
        own_page = f"{LESSON_PAGES}/{stem}.html"
        return own_page if stem in with_picture else lesson_address(folder, name)

    links = "\n".join(
        f'<li><a href="{escape(opens_at(name))}">{escape(text)}</a></li>' for name, text in titles
    )
    page = (SETTINGS / "front_page.html").read_text("utf-8")
    return (
        page.replace("<!-- links -->", links)
        .replace("<!-- edition -->", escape(folder.split("_", 1)[1]))
        .replace("<!-- files -->", f"lab/index.html?path={escape(folder)}/00_start_here.ipynb")
    )


def first_pictures() -> dict[str, Any]:
    """The first picture of each lesson that begins with one, as data, by the notebook's name."""
    lines: list[str] = []
    command = [python_in(VENV), SETTINGS / "first_pictures.py", *student_files("notebooks")]
    run_step(command, LOG, lines.append)
    return json.loads(lines[-1])


def lesson_page(title: str, address: str, pictures: Any) -> str:
    """A lesson's page: its first picture, which moves at once, while the lesson is made ready."""
    stage = SRC / "leverarm" / "stage"
    filled = {
        "<!-- title -->": escape(title),
        "/*style*/": (stage / "stage.css").read_text("utf-8"),
        "/*script*/": (stage / "stage.js").read_text("utf-8"),
        "/*lesson*/": f"../{address}",
        "/*data*/": json.dumps(pictures, separators=(",", ":")).replace("<", "\\u003c"),
    }
    page = (SETTINGS / "lesson_page.html").read_text("utf-8")
    for mark, text in filled.items():
        page = page.replace(mark, text)
    return page


def with_scripts(page: str) -> str:
    """A page of the site tools with the scripts of ours: one fetches ahead, one says what runs and
    starts the lesson.

    >>> with_scripts("<body></body>").count("<script ")
    2
    """
    names = ("fetch_ahead", "class_page")
    ours = "".join(f'<script src="../{name}.js" defer></script>' for name in names)
    return page.replace("</body>", f"{ours}</body>", 1)


def kept_for_good(site: Path) -> list[str]:
    """The files of a site that are named after what they hold, so that a browser may keep them."""
    names = (path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file())
    return sorted(name for name in names if KEPT_FOR_GOOD.search(name))


def with_cache(site: Path) -> str:
    """The service worker of the site: ours, which keeps what was fetched, before the tools' own."""
    ours = (SETTINGS / "class_cache.js").read_text("utf-8")
    kept = json.dumps(kept_for_good(site), separators=(",", ":"))
    theirs = (site / "service-worker.js").read_text("utf-8")
    return ours.replace("/* kept */ []", kept) + theirs


def lay_out(work: Path, opener: str) -> tuple[str, list[tuple[str, str]]]:
    """What the site is built from: settings, and the notebooks under the name of their edition."""
    version = tomllib.loads(PYPROJECT.read_text("utf-8"))["project"]["version"]
    books = student_files("notebooks")
    name = edition(books, version, opener)
    contents = work / "contents"
    pages = contents / f"notebooks_{name}"
    pages.mkdir(parents=True)
    for book in books:
        (pages / book.name).write_text(handed_out(book.read_text("utf-8"), name), "utf-8")
    for path in [*student_files("lessons"), *student_files("figures")]:
        goal = contents / path.relative_to(ROOT)
        goal.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, goal)
    for picture in (contents / "figures").glob("*.svg"):
        picture.write_bytes(plain_text_svg(picture.read_text("utf-8")))
    wheels.write_atomically(work / "jupyter-lite.json", lite_settings())
    shutil.copy2(SETTINGS / "jupyter_lite_config.json", work)
    wheels.write_atomically(work / "overrides.json", overrides())
    return name, [(book.name, title(book.read_text("utf-8"))) for book in books]


def assemble(python: Path, work: Path, goal: Path, opener: str) -> None:
    """Let the site tools put it all together, and point the kernel to the file that opens Python:
    the tools know the runtime's own name alone.
    """
    stand_in = work / PARTS / "pyodide.mjs"
    stand_in.touch()
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
    page = wheels.read_json(goal / "jupyter-lite.json")
    settings = page.get("jupyter-config-data", {}).get("litePluginSettings", {}).get(KERNEL, {})
    if not (
        settings.get("disablePyPIFallback") and settings.get("pyodideUrl", "").startswith("./")
    ):
        raise Refusal(
            f"The site tools made a site that would fetch Python from elsewhere: delete {TOOLS}, "
            "then run the same command again."
        )
    settings["pyodideUrl"] = f"./{PARTS.as_posix()}/{opener}"
    wheels.write_atomically(goal / "jupyter-lite.json", page)
    (goal / PARTS / stand_in.name).unlink()


def finish(goal: Path, name: str, titles: list[tuple[str, str]], node: str) -> None:
    """The front page, the lessons' pages, the page without Python, the sign that this is a class
    site, and compressed copies.

    A page asks for its pictures beside the site's own folders before it finds them among its files.
    """
    folder, pictures = f"notebooks_{name}", first_pictures()
    shutil.copytree(goal / "files" / "figures", goal / "figures")
    shutil.copy2(goal / "static" / "favicons" / "favicon.ico", goal)  # browsers ask for it here
    (goal / "index.html").write_text(front_page(folder, titles, pictures), "utf-8")
    (goal / LESSON_PAGES).mkdir()
    for book, text in titles:
        stem = book.removesuffix(".ipynb")
        if stem in pictures:
            page = lesson_page(text, lesson_address(folder, book), pictures[stem])
            (goal / LESSON_PAGES / f"{stem}.html").write_text(page, "utf-8")
    shutil.copy2(SETTINGS / "class_page.js", goal)
    ahead = (SETTINGS / "fetch_ahead.js").read_text("utf-8")
    parts = [f"{PARTS.as_posix()}/{name}" for name in browser_python.at_start(goal / PARTS)]
    (goal / "fetch_ahead.js").write_text(
        ahead.replace("/* parts */ []", json.dumps(parts)), "utf-8"
    )
    opened = goal / "notebooks" / "index.html"
    opened.write_text(with_scripts(opened.read_text("utf-8")), "utf-8")
    run_step(
        [python_in(VENV), "-m", "leverarm.handouts.offline_page", goal / "offline_lesson_02.html"],
        LOG,
    )
    (goal / "service-worker.js").write_text(with_cache(goal), "utf-8")
    told = {
        "edition": name,
        "runtime": RUNTIME_VERSION,
        "parts": sorted(path.name for path in (goal / PARTS).iterdir()),
    }
    wheels.write_atomically(goal / NOTE, told)
    run_step([node, SETTINGS / "compress.mjs", goal], LOG)


def clear(folder: Path) -> None:
    """Take away what an interrupted build left."""
    shutil.rmtree(folder, ignore_errors=True)


def keep_parts(old: Path, new: Path) -> None:
    """Lay the parts of the edition before beside the new ones: a browser that has kept its old
    settings for a while still finds what they name. Those of editions before that go.
    """
    for name in wheels.read_json(old / NOTE).get("parts", ()):
        before, now = old / PARTS / Path(name).name, new / PARTS / Path(name).name
        if before.is_file() and now.parent.is_dir() and not now.exists():
            shutil.copy2(before, now)


def into_place(new: Path, folder: Path) -> None:
    """Let the new site take the place of the old one; where that fails, the old one stays."""
    keep_parts(folder, new)
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


def build(options: argparse.Namespace, folder: Path, node: str, npm: str) -> str:
    """Build the site; returns its edition."""
    work = folder.with_name(f".{folder.name}.new")
    clear(work)
    goal, inside = work / "site", work / PARTS
    try:
        for part in (goal, inside):
            part.mkdir(parents=True)
        say("  1 of 4  Making the tools ready")
        python = tools(options)
        say(
            "  2 of 4  Fetching and compiling the browser's Python (one to four minutes, "
            "the first time)"
        )
        kept = browser_python.packages(python, node, npm, work, tools_wanted())
        say("  3 of 4  Compiling the workbook for it, and trying it out")
        whole = browser_python.with_our_own(python, node, kept, work)
        opener = browser_python.in_parts(node, whole, work, inside)
        say("  4 of 4  Putting the site together")
        name, titles = lay_out(work, opener)
        assemble(python, work, goal, opener)
        finish(goal, name, titles, node)
        into_place(goal, folder)
        return name
    finally:
        clear(work)


def size_mb(folder: Path) -> float:
    """How much a site weighs, in megabytes."""
    return sum(path.stat().st_size for path in folder.rglob("*") if path.is_file()) / 1e6


def build_site(options: argparse.Namespace, words: list[str]) -> int:
    """Build the class site."""
    folder = target(words)
    fit_folder(folder)
    node, npm = fit_node()
    checks.writable(folder.parent)
    checks.room(folder.parent, NEEDED_MB)
    environment.ready(options.wheels)
    say(f"Building the class site in {folder}")
    name = build(options, folder, node, npm)
    say(f"Done: edition {name}, {size_mb(folder):.0f} MB. Put the folder on any web server.")
    say(
        f"To try it here: {Path(sys.executable).name} -m http.server --bind 127.0.0.1 "
        f'--directory "{folder}" 8000'
    )
    return 0
