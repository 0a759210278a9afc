"""A folder of packages for machines without the internet: making one, and checking one.

`contents.json` in the folder says what it was made for and what it holds. It is written
first as unfinished and last as finished, so half a folder is never taken for a whole one.
"""

import json
import os
import platform
import tomllib
from pathlib import Path
from typing import Any

from .places import PYPROJECT, REQUIREMENTS
from .words import Refusal

CONTENTS = "contents.json"
EDITABLE = "editables~=0.3"  # asked for by hatchling when a package is installed in place


def this_system() -> str:
    """The kind of machine that wheels are for."""
    return f"{platform.system()} {platform.machine()}"


def wanted(requirements: str | None = None, pyproject: str | None = None) -> list[str]:
    """Everything an offline install asks for: requirements, the package's own, the build back end.

    >>> wanted("-e ./src\\nnumpy>=2  # arrays\\n", '[build-system]\\nrequires = ["hatchling"]')
    ['numpy>=2', 'hatchling', 'editables~=0.3']
    """
    lines = (requirements or REQUIREMENTS.read_text("utf-8")).splitlines()
    named = [line.split("#")[0].strip() for line in lines if not line.startswith("-")]
    table = tomllib.loads(pyproject or PYPROJECT.read_text("utf-8"))
    own = table.get("project", {}).get("dependencies", [])
    return [*filter(None, named), *own, *table["build-system"]["requires"], EDITABLE]


def write_whole(path: Path, text: str) -> None:
    """Write a file whole or not at all."""
    beside = path.with_name(path.name + ".new")
    beside.write_text(text, "utf-8")
    os.replace(beside, path)


def write_atomically(path: Path, value: Any) -> None:
    """Write a value as JSON, whole or not at all."""
    write_whole(path, json.dumps(value, indent=1, sort_keys=True) + "\n")


def read_json(path: Path) -> dict[str, Any]:
    """The table a JSON file holds, or an empty one if there is no such file or it is spoiled."""
    try:
        value = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return value if isinstance(value, dict) else {}


def begin(folder: Path) -> None:
    """Make the folder ready to be filled; what an earlier run left is replaced, nothing else."""
    if folder.exists() and not folder.is_dir():
        raise Refusal(f"{folder} is a file: name a folder that is new or empty.")
    if folder.is_dir() and any(folder.iterdir()) and not (folder / CONTENTS).is_file():
        raise Refusal(
            f"The folder {folder} already holds other files: name one that is new or empty."
        )
    folder.mkdir(parents=True, exist_ok=True)
    write_atomically(folder / CONTENTS, {"finished": False})
    for old in folder.glob("*.whl"):
        old.unlink()


def finish(folder: Path, version: str | None) -> dict[str, int]:
    """Record what the folder holds; from here on it can be used."""
    sizes = {wheel.name: wheel.stat().st_size for wheel in sorted(folder.glob("*.whl"))}
    made_for = {"python": version, "system": this_system()}
    write_atomically(folder / CONTENTS, {"finished": True, "wheels": sizes, **made_for})
    return sizes


def _damaged(folder: Path, sizes: dict[str, int]) -> list[str]:
    """The wheels that are missing or shorter or longer than they were."""

    def size(name: str) -> int | None:
        path = folder / os.path.basename(name)
        return path.stat().st_size if path.is_file() else None

    return [name for name, bytes_ in sizes.items() if size(name) != bytes_]


def check(folder: Path, version: str | None, system: str | None = None) -> None:
    """The folder is whole and fits this machine; a refusal says which of these it is not."""
    if not folder.is_dir():
        raise Refusal(
            f"There is no folder {folder}: make one with the command 'wheels' "
            "on a machine with internet, and name it after --wheels."
        )
    contents = read_json(folder / CONTENTS)
    again = "make it again with the command 'wheels'"
    if not contents.get("finished") or not isinstance(contents.get("wheels"), dict):
        raise Refusal(f"The folder {folder} is not a finished folder of wheels: {again}.")
    here = (version, system or this_system())
    if (contents.get("python"), contents.get("system")) != here:
        raise Refusal(
            f"The wheels in {folder} are for Python {contents.get('python')} on "
            f"{contents.get('system')}, and "
            f"this is Python {here[0]} on {here[1]}: {again} on a machine like this one."
        )
    damaged = _damaged(folder, contents["wheels"])
    if damaged:
        raise Refusal(
            f"The folder {folder} lacks {len(damaged)} of its {len(contents['wheels'])} "
            "wheels, or they "
            f"are damaged ({damaged[0]} for one): copy it again, or {again}."
        )
