"""The folder of a class server: the workbook in it, readable by all; trays; the board; the hub's
own folder.

PLACE/workbook/                 the workbook and its .venv, written by root alone
PLACE/board/                    from the instructor to everybody: assignment files
PLACE/trays/student01/          between this student and the instructor, closed to all others
PLACE/left/                     trays of accounts that were taken away
PLACE/hub/                      the hub's records and the passwords, root alone
PLACE/jupyterhub_config.py      settings of this server, yours to edit
"""

import os
import re
import shutil
import stat
import sys
from dataclasses import dataclass
from pathlib import Path

from launch.student_files import student_files
from launch.words import Refusal

PARTS = ("notebooks", "lessons", "figures", "src", "tests")
SINGLE = ("README.md", "DEVELOPERS.md", "requirements.txt", ".pytest.ini")
CONFIG = "jupyterhub_config.py"
NAME = re.compile(r"[a-z][a-z0-9-]{0,19}")


@dataclass(frozen=True, slots=True)
class Place:
    """Every path of a class server, and the names of its two groups of accounts."""

    root: Path

    @property
    def workbook(self) -> Path:
        return self.root / "workbook"

    @property
    def board(self) -> Path:
        return self.root / "board"

    @property
    def trays(self) -> Path:
        return self.root / "trays"

    @property
    def hub(self) -> Path:
        return self.root / "hub"

    @property
    def config(self) -> Path:
        return self.root / CONFIG

    @property
    def students(self) -> str:
        """The group of students' accounts."""
        return f"{self.root.name}-class"

    @property
    def desk(self) -> str:
        """The group of instructors' accounts."""
        return f"{self.root.name}-desk"


def here(workbook: Path | str) -> Place:
    """The place this workbook stands in, or a Refusal."""
    place = Place(Path(workbook).parent)
    if Path(workbook).name != "workbook" or not place.hub.is_dir():
        raise Refusal(
            "This workbook is not on a class server: make the place first "
            "(sudo python3 src/classserver place /srv/leverarm), "
            "then work from its folder 'workbook'."
        )
    return place


def closed(path: Path | str) -> Path | None:
    """The first folder on the way to a path that other accounts cannot pass, or nothing."""
    ways = [*reversed(Path(path).resolve().parents)]
    return next(
        (way for way in ways if way.exists() and not way.stat().st_mode & stat.S_IXOTH), None
    )


def fit_place(root: Path | str, python: str = sys.executable) -> Place:
    """The place for a folder that can be one, or a Refusal."""
    root = Path(root)
    if not root.is_absolute() or not NAME.fullmatch(root.name):
        raise Refusal(
            f"{root} cannot be the place: give a whole path such as /srv/leverarm, its last name "
            "in small letters, digits and hyphens, at most 20."
        )
    if way := closed(root):
        raise Refusal(
            f"Students could not reach {root}, since {way} is closed to them: "
            "choose a folder such as /srv/leverarm."
        )
    if way := closed(os.path.realpath(python)):
        raise Refusal(
            f"Students could not run this Python, since {way} is closed to them: "
            "use the system's, /usr/bin/python3."
        )
    if root.is_dir() and any(root.iterdir()) and not (root / "hub").is_dir():
        raise Refusal(
            f"The folder {root} already holds other files: name one that is new or empty."
        )
    return Place(root)


def lay_out(source: Path, place: Place, group_id: int) -> None:
    """Make the place, or bring its workbook up to date; group_id is the instructors'.

    The environment in it stays.
    """
    place.workbook.mkdir(parents=True, exist_ok=True)
    for folder in (place.root, place.workbook):
        folder.chmod(0o755)
    for name in SINGLE:
        shutil.copyfile(source / name, place.workbook / name)
        (place.workbook / name).chmod(0o644)
    for name in PARTS:
        _renew(source / name, place.workbook / name, group_id)
    _folder(place.hub, 0o700, 0)
    _folder(place.trays, 0o751, group_id)
    _folder(place.board, 0o2775, group_id)
    if not place.config.exists():
        shutil.copyfile(source / "src" / "classserver" / CONFIG, place.config)
        place.config.chmod(0o644)


def _folder(path: Path, mode: int, group_id: int) -> None:
    path.mkdir(exist_ok=True)
    os.chown(path, 0, group_id)
    path.chmod(mode)  # after chown, which takes the mark for the group off


def _renew(source: Path, goal: Path, group_id: int) -> None:
    """Put a fresh copy in a folder's place; it is moved there when it is whole."""
    new, old = goal.with_name(f".new-{goal.name}"), goal.with_name(f".old-{goal.name}")
    for left in (new, old):
        shutil.rmtree(left, ignore_errors=True)
    shutil.copytree(source, new, ignore=_not_ours, copy_function=shutil.copyfile)
    _open_to_read(new)
    if goal.name == "lessons":
        _close_to_students(new, group_id)
    if goal.exists():
        goal.rename(old)
    new.rename(goal)
    shutil.rmtree(old, ignore_errors=True)


def _not_ours(folder: str, names: list[str]) -> list[str]:
    """What a person made while working stays behind: class keys, answers, readings; and what is
    hidden.
    """
    kept_back = [name for name in names if name.startswith((".", "__pycache__"))]
    if Path(folder).name == "notebooks":
        kept_back = [name for name in names if not name.endswith(".ipynb") or name.startswith(".")]
    return kept_back


def _open_to_read(top: Path) -> None:
    """Everybody may read, root alone may write."""
    top.chmod(0o755)
    for path in top.rglob("*"):
        path.chmod(0o755 if path.is_dir() else 0o644)


def _close_to_students(lessons: Path, group_id: int) -> None:
    """What no student is given, keys and plans among it, opens for instructors alone."""
    given = set(student_files("lessons", lessons))
    for path in lessons.rglob("*"):
        if path.is_file() and path not in given:
            os.chown(path, 0, group_id)
            path.chmod(0o640)
