"""The commands of a class server, and what they say when they cannot."""

import inspect
import os
from collections.abc import Callable
from pathlib import Path

from launch.places import ROOT
from launch.words import Refusal, complain, say

from . import accounts, trays
from .place import fit_place, here, lay_out

HELP = """sudo python3 src/classserver COMMAND

  place FOLDER               lay the place out, or bring its workbook up to date
  students COUNT [--called NAME]   make the missing accounts NAME01, NAME02, ... (student01, ...)
  instructor NAME            let this account sit at the desk; it is made if there is none
  remove NAME | everyone     take accounts away, with their homes
  take FOLDER [BEGINNING]    (an instructor, no sudo) copy what is in the trays into FOLDER"""


def root_only() -> None:
    """These commands make accounts and folders for others."""
    if os.geteuid() != 0:
        raise Refusal("Only an administrator can do that: begin the command with sudo.")


def place(folder: str) -> None:
    """Lay the place out, or bring its workbook up to date."""
    root_only()
    goal = fit_place(folder)
    if goal.workbook == ROOT:
        raise Refusal(
            "This is the workbook of the class server itself: "
            "run the command from the newer workbook's folder."
        )
    desk = accounts.group_id(goal.desk)
    accounts.group_id(goal.students)
    lay_out(ROOT, goal, desk)
    say(f"The workbook is in {goal.workbook}, the settings are in {goal.config}.")


def students(count: str, *called: str) -> None:
    """Make the accounts that are missing."""
    root_only()
    if called and (len(called) != 2 or called[0] != "--called"):
        raise Refusal("Write it so: students 24, or students 24 --called class7-.")
    accounts.students(here(ROOT), count, called[1] if called else "student")


def instructor(name: str) -> None:
    """Let this account sit at the desk."""
    root_only()
    accounts.instructor(here(ROOT), name)


def remove(who: str) -> None:
    """Take accounts away, with their homes."""
    root_only()
    accounts.remove(here(ROOT), who)


def take(folder: str, begins: str = "") -> None:
    """Copy what is in the trays into a folder."""
    trays.report(*trays.take(here(ROOT), Path(folder), begins))


COMMANDS: dict[str, Callable[..., None]] = {
    act.__name__: act for act in (place, students, instructor, remove, take)
}


def fits(act: Callable[..., None], words: list[str]) -> bool:
    """Whether a command takes so many words."""
    try:
        return bool(inspect.signature(act).bind(*words))
    except TypeError:
        return False


def main(words: list[str]) -> int:
    """Do a command; 0 done, 1 refused, 2 wrongly called."""
    act = COMMANDS.get(words[0] if words else "")
    if act is None or not fits(act, words[1:]):
        say(HELP)
        return 0 if words[:1] in (["--help"], ["-h"]) else 2
    try:
        act(*words[1:])
    except Refusal as why:
        complain(str(why))
        return why.code
    except OSError as why:
        complain(f"That did not work: {why.strerror or why} ({why.filename}).")
        return 1
    return 0
