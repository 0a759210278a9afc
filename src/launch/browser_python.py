"""The browser's Python for the class site: fetched, compiled, and kept for the next build.

All of it becomes one file, `python_stdlib.zip`, from which the browser's Python imports directly: a
folder of wheels would be unpacked again at every visit. What does not change with a notebook is
kept beside the tools, under a fingerprint of all that went into it. What is read here comes from
the packages just fetched; nothing of it is run but in the browser's own Python.
"""

import hashlib
import json
import os
import shutil
import tarfile
import zipfile
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from . import wheels
from .places import SRC, VENV
from .steps import pip, progress, run_step, show
from .words import Refusal

SETTINGS = SRC / "sitesettings"
STAND_INS = SETTINGS / "inside"
RUNTIME = "pyodide"
RUNTIME_VERSION = "314.0.6"
RUNTIME_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm", "pyodide-lock.json")
STDLIB = "python_stdlib.zip"
PYTHON_INSIDE = "3.14"
LOG = VENV / "site.log"
TOOLS = VENV / "site_tools"  # apart: in .venv itself they would show up in JupyterLab
KEPT = TOOLS / "compiled"
MADE_FROM = "made_from.json"
KERNEL_WHEELS = "share/jupyter/labextensions/@jupyterlite/pyodide-kernel-extension/static/pypi"
KERNEL_OWN = ("ipykernel-*", "pyodide_kernel-*", "widgetsnbextension-4*")
DATE = (1980, 1, 1, 0, 0, 0)  # the same bytes from every build
# The kernel does not start without packages of these names on its list. `jedi` (5 MB, for
# completing names) and `micropip` (for installing) are nowhere: IPython does without the one, a
# class without the other.
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
TRY_OUT = (
    "import sys, pyodide_kernel, piplite.piplite, ipywidgets, sympy; "
    "from leverarm import panels; panels.exercise"
)


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
    """Zips put together into one, compressed; of two files of a name the first one stays."""
    opened = [zipfile.ZipFile(part) for part in parts]
    names = {name: part for part in reversed(opened) for name in part.namelist()}
    with zipfile.ZipFile(goal, "w") as out:
        for name in sorted(names):
            out.writestr(
                zipfile.ZipInfo(name, DATE), names[name].read(name), zipfile.ZIP_DEFLATED, 9
            )
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


def with_our_own(python: Path, node: str, kept: Path, work: Path, goal: Path) -> None:
    """Our own package, compiled, added to the others; then all of it is tried out."""
    own = work / "own"
    own.mkdir()
    run_step(pip(python, "wheel", "--no-deps", "-w", own, SRC), LOG, progress)
    show("")
    compile_all(node, kept, own, work / "own.zip", keep_text=True)
    for name in RUNTIME_FILES:
        shutil.copy2(kept / name, goal)
    join([work / "own.zip", kept / STDLIB], goal / STDLIB)
    run_step([node, SETTINGS / "try_out.mjs", goal, TRY_OUT], LOG)


def write_lock(folder: Path) -> None:
    """The list of packages beside the runtime: nothing but the names the kernel asks for.

    The packages themselves lie in the zip of the standard library, where they are imported without
    being unpacked.
    """
    stock = json.loads((folder / "pyodide-lock.json").read_text("utf-8"))
    entries = {name: entry(name, empty_wheel(folder, name)) for name in ASKED_FOR}
    wheels.write_atomically(
        folder / "pyodide-lock.json", {"info": stock["info"], "packages": entries}
    )


def entry(name: str, wheel: Path) -> dict[str, Any]:
    """What the list of packages says about one wheel."""
    return {
        "name": name,
        "version": "0",
        "file_name": wheel.name,
        "install_dir": "site",
        "sha256": hashlib.sha256(wheel.read_bytes()).hexdigest(),
        "package_type": "package",
        "imports": [],
        "depends": [],
        "unvendored_tests": False,
    }


def empty_wheel(folder: Path, name: str) -> Path:
    """A wheel with nothing in it."""
    path = folder / f"{name.replace('-', '_')}-0-py3-none-any.whl"
    label = f"{path.name.split('-')[0]}-0.dist-info"
    with zipfile.ZipFile(path, "w") as out:
        out.writestr(
            zipfile.ZipInfo(f"{label}/METADATA"),
            f"Metadata-Version: 2.1\nName: {name}\nVersion: 0\n",
        )
        out.writestr(
            zipfile.ZipInfo(f"{label}/WHEEL"),
            "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
        )
        out.writestr(
            zipfile.ZipInfo(f"{label}/RECORD"),
            f"{label}/METADATA,,\n{label}/WHEEL,,\n{label}/RECORD,,\n",
        )
    return path
