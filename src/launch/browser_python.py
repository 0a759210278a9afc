"""The browser's Python for the class site: fetched, compiled, and kept for the next build.

It comes in parts. The first is the zip of the standard library, with all that a lesson needs at
once, from which the browser's Python imports directly; the others (`later_parts.py` fetches them)
hold what hardly any page needs. Each part is compressed and named after what it holds, so a browser
fetches again only what is new. What does not change with the workbook is kept beside the tools,
under a fingerprint of all that went into it. What is read here comes from the packages just
fetched; nothing of it is run but in the browser's own Python.
"""

import contextlib
import gzip
import hashlib
import json
import os
import shutil
import tarfile
import zipfile
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from . import wheels
from .places import SRC, VENV
from .steps import pip, progress, run_step, show
from .words import Refusal

SETTINGS = SRC / "sitesettings"
STAND_INS = SETTINGS / "inside"
RUNTIME = "pyodide"
RUNTIME_VERSION = "314.0.6"
PACKED_FILES = ("pyodide.asm.mjs", "pyodide.asm.wasm")
RUNTIME_FILES = ("pyodide.mjs", *PACKED_FILES, "pyodide-lock.json")
STDLIB = "python_stdlib.zip"
OPENER = "open_python.mjs"
SYMPY, REST = "sympy.zip", "rest.zip"
PYTHON_INSIDE = "3.14"
LOG = VENV / "site.log"
TOOLS = VENV / "site_tools"  # apart: in .venv itself they would show up in JupyterLab
KEPT = TOOLS / "compiled"
MADE_FROM = "made_from.json"
KERNEL_WHEELS = "share/jupyter/labextensions/@jupyterlite/pyodide-kernel-extension/static/pypi"
KERNEL_OWN = ("ipykernel-*", "pyodide_kernel-*", "widgetsnbextension-4*")
DATE = (1980, 1, 1, 0, 0, 0)  # the same bytes from every build
# The kernel loads these itself unless they are on its list; all of them lie in the first part, or,
# as `jedi` (5 MB, for completing names) and `micropip` (for installing), nowhere: IPython does
# without the one, a class without the other.
ASKED_FOR = ("micropip", "piplite", "ipykernel", "comm", "pyodide-kernel", "jedi", "ipython")
INSIDE = (
    "--no-deps",
    "--only-binary=:all:",
    "--python-version",
    PYTHON_INSIDE,
    "--platform",
    "any",
    "--implementation",
    "py",
    "--abi",
    "none",
)
# What the first part must hold: all that this imports.
AT_ONCE = (
    "import later_parts, pyodide_kernel, piplite.piplite, ipywidgets, pkgutil, leverarm.panels; "
    "import encodings.ascii, encodings.latin_1, encodings.idna, encodings.cp437; "
    "import importlib.readers, importlib.resources._adapters; "
    "[getattr(leverarm.panels, name) for name in leverarm.panels.__all__]"
)
LATER = "import sympy; from leverarm import derivation; import unittest, email.mime.text"


def fingerprint(tools: list[str]) -> str:
    """What the kept part is made from: versions, the list of wheels, and the files that compile
    them.
    """
    digest = hashlib.sha256(repr((RUNTIME_VERSION, tools)).encode())
    for path in [
        SETTINGS / "wheels.txt",
        *sorted(SETTINGS.glob("repack.*")),
        *sorted(STAND_INS.rglob("*.py")),
    ]:
        digest.update(path.name.encode() + b"\0" + path.read_bytes().replace(b"\r\n", b"\n"))
    return digest.hexdigest()


def unpack(archive: tarfile.TarFile, folder: Path) -> None:
    """Write an archive's files into a folder; refuse whatever is no plain file or would leave it.

    `extractall(filter="data")` would do the same, but Python 3.11.2 lacks it.
    """
    top = folder.resolve()
    for member in archive:
        goal = (top / member.name).resolve()
        if not (member.isfile() or member.isdir()) or not goal.is_relative_to(top):
            raise Refusal(
                f"The archive of the browser's Python holds {member.name!r}, "
                "which is no plain file "
                "inside it, so nothing more of it was unpacked: "
                "fetch it again over another network."
            )
        if packed := archive.extractfile(member):  # nothing for a folder
            goal.parent.mkdir(parents=True, exist_ok=True)
            goal.write_bytes(packed.read())


def fetch_runtime(npm: str, work: Path) -> Path:
    """Fetch and unpack the browser's Python."""
    name = f"{RUNTIME}@{RUNTIME_VERSION}"
    try:
        run_step([npm, "pack", "--silent", "--pack-destination", work, name], LOG)
    except Refusal:
        raise Refusal(
            f"The browser's Python (npm package {name}) could not be fetched: "
            "check the connection, "
            f"read {LOG}, then run the same command again."
        ) from None
    with tarfile.open(next(work.glob(f"{RUNTIME}-*.tgz"))) as archive:
        unpack(archive, work)
    return work / "package"


def fetch_wheels(python: Path, folder: Path) -> None:
    """Gather the wheels for the browser: fixed versions, and the kernel's own."""
    run_step(
        pip(python, "download", *INSIDE, "-d", folder, "-r", SETTINGS / "wheels.txt"), LOG, progress
    )
    show("")
    for pattern in KERNEL_OWN:
        for wheel in (TOOLS / KERNEL_WHEELS).glob(f"{pattern}.whl"):
            shutil.copy2(wheel, folder)


def compile_all(
    node: str, runtime: Path, source: Path, goal: Path, keep_text: bool = False
) -> None:
    """Compile the wheels and zips of a folder with the browser's own Python into one zip, on every
    processor.
    """
    count = min(os.cpu_count() or 1, 4)
    with ThreadPoolExecutor(count) as pool:
        list(
            pool.map(
                lambda part: run_step(
                    [
                        node,
                        SETTINGS / "repack.mjs",
                        runtime,
                        source,
                        part,
                        count,
                        *(["text"] if keep_text else []),
                    ],
                    LOG,
                ),
                range(count),
            )
        )
    join(sorted(source.glob("part*")), goal)


def join(parts: Iterable[Path], goal: Path) -> None:
    """Zips put together into one; of two files of a name the first one stays."""
    opened = [zipfile.ZipFile(part) for part in parts]
    names = {name: part for part in reversed(opened) for name in part.namelist()}
    with zipfile.ZipFile(goal, "w") as out:
        for name in sorted(names):
            out.writestr(zipfile.ZipInfo(name, DATE), names[name].read(name))
    for part in opened:
        part.close()


def packages(python: Path, node: str, npm: str, work: Path, tools: list[str]) -> Path:
    """The folder that holds the runtime and all compiled packages but our own; made anew when it
    must be.
    """
    wanted = {"fingerprint": fingerprint(tools)}
    if wheels.read_json(KEPT / MADE_FROM) != wanted:
        shutil.rmtree(KEPT, ignore_errors=True)
        KEPT.mkdir(parents=True)
        fetched = work / "fetched"
        fetched.mkdir()
        runtime = fetch_runtime(npm, work)
        fetch_wheels(python, fetched)
        shutil.copy2(runtime / STDLIB, fetched)
        shutil.copytree(STAND_INS, fetched / "inside")
        for name in RUNTIME_FILES:
            shutil.copy2(runtime / name, KEPT)
        compile_all(node, runtime, fetched, KEPT / STDLIB)
        wheels.write_atomically(KEPT / MADE_FROM, wanted)
    return KEPT


def with_our_own(python: Path, node: str, kept: Path, work: Path) -> Path:
    """A folder with the runtime and one zip of all packages, our own among them, compiled."""
    own, whole = work / "own", work / "whole"
    for folder in (own, whole):
        folder.mkdir()
    run_step(pip(python, "wheel", "--no-deps", "-w", own, SRC), LOG, progress)
    show("")
    compile_all(node, kept, own, work / "own.zip", keep_text=True)
    for name in RUNTIME_FILES:
        shutil.copy2(kept / name, whole)
    join([work / "own.zip", kept / STDLIB], whole / STDLIB)
    return whole


def imported(node: str, whole: Path) -> set[str]:
    """The modules that a page needs at once, as the browser's own Python tells them."""
    lines: list[str] = []
    run_step([node, SETTINGS / "try_out.mjs", whole, AT_ONCE], LOG, lines.append)
    return set(json.loads(lines[-1]))


def module_of(name: str) -> str:
    """The module that a file of a zip holds, or the package that it is data of.

    >>> [module_of(name) for name in ("json/__init__.pyc", "json/tool.pyc", "leverarm/data/a.toml")]
    ['json', 'json.tool', 'leverarm.data']
    """
    folder, _, file = name.rpartition("/")
    stem = file.removesuffix(".pyc").removesuffix(".py")
    is_module = stem != file and stem != "__init__"
    return ".".join(filter(None, [*folder.split("/"), stem if is_module else ""]))


def part_of(name: str, at_once: set[str]) -> str:
    """The part that a file goes into: ours and what is needed at once into the first.

    >>> [part_of(name, {"json"}) for name in
    ...  ("json/__init__.pyc", "json/tool.pyc", "mpmath/libmp/a.pyc", "leverarm/units.py")]
    ['python_stdlib.zip', 'rest.zip', 'sympy.zip', 'python_stdlib.zip']
    """
    top = name.split("/")[0].split("-")[0]
    if top in ("sympy", "mpmath", "ctypes", "colorsys.pyc"):
        return SYMPY
    at_hand = top == "leverarm" or name.endswith("/METADATA") or module_of(name) in at_once
    return STDLIB if at_hand else REST


def split(whole: Path, at_once: set[str], folder: Path) -> None:
    """Write the parts of a zip, and into the first one which module lies in which of the others.

    What lies in a zip is not compressed there: the part is, as a whole and better.
    """
    held: dict[str, str] = {}
    with zipfile.ZipFile(whole) as source, contextlib.ExitStack() as stack:
        parts = {
            part: stack.enter_context(zipfile.ZipFile(folder / part, "w"))
            for part in (STDLIB, SYMPY, REST)
        }
        for name in source.namelist():
            part = part_of(name, at_once)
            parts[part].writestr(zipfile.ZipInfo(name, DATE), source.read(name))
            if part != STDLIB and name.endswith(".pyc"):
                held[module_of(name)] = part
        parts[STDLIB].writestr(
            zipfile.ZipInfo("later_parts.json", DATE), json.dumps(held, sort_keys=True)
        )


def packed(path: Path, goal: Path) -> str:
    """A part compressed under a name that tells what it holds. The name has no ending that a
    server knows: it would say it had compressed the file, and the browser would unpack it.
    """
    return named(goal, path.name, gzip.compress(path.read_bytes(), 9, mtime=0), ".packed")


def in_parts(node: str, whole: Path, work: Path, goal: Path) -> str:
    """Lay the parts into the site and try them out; the name of the file that opens them."""
    folder = work / "parts"
    folder.mkdir()
    split(whole / STDLIB, imported(node, whole), folder)
    names = {part: packed(folder / part, goal) for part in (STDLIB, SYMPY, REST)}
    names |= {part: packed(whole / part, goal) for part in PACKED_FILES}
    names["pyodide.mjs"] = named(goal, "pyodide.mjs", (whole / "pyodide.mjs").read_bytes())
    lock = json.loads((whole / "pyodide-lock.json").read_text("utf-8"))
    opener = (SETTINGS / OPENER).read_text("utf-8")
    for mark, value in (("parts", names), ("lock", {"info": lock["info"], "packages": {}})):
        opener = opener.replace(f"/* {mark} */ {{}}", json.dumps(value, indent=1))
    shutil.copyfile(folder / STDLIB, whole / STDLIB)  # it is tried with the first part alone
    run_step([node, SETTINGS / "try_out.mjs", whole, LATER, goal, json.dumps(names)], LOG)
    return named(goal, OPENER, opener.encode())


def at_start(parts: Path) -> list[str]:
    """The names of the parts that every page needs, in the order in which they are asked for."""
    stems = ("open_python-", "pyodide.asm-*.wasm", "pyodide.asm-*.mjs", "python_stdlib-")
    return [path.name for stem in stems for path in sorted(parts.glob(f"{stem}*"))]


def named(goal: Path, name: str, data: bytes, packed_as: str = "") -> str:
    """Write a file under a name that tells what it holds; the name."""
    stem, _, ending = name.rpartition(".")
    name = f"{stem}-{hashlib.sha256(data).hexdigest()[:10]}.{ending}{packed_as}"
    (goal / name).write_bytes(data)
    return name
