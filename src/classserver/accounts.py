"""The accounts of a class: made, given a tray, taken away.

Only accounts made here are ever taken away.
"""

import csv
import grp
import io
import os
import pwd
import secrets
import subprocess
from collections.abc import Callable, Iterable
from pathlib import Path

from launch.words import Refusal, say

from .place import NAME, Place

MOST = 99
LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"  # no look-alikes
NO_SHELL, SHELL = "/usr/sbin/nologin", "/bin/bash"
COMMENT = "lever-arm class server"
# What runs one of the system's account tools: the command, and what is typed into it.
Run = Callable[..., None]


def system(command: list[str], typed: str | None = None) -> None:
    """Run one of the system's account tools; its own words become the Refusal."""
    done = subprocess.run(command, input=typed, text=True, capture_output=True)
    if done.returncode:
        raise Refusal(f"{command[0]} did not work: {(done.stderr or done.stdout).strip()[:300]}")


def new_password() -> str:
    """Three groups of four letters and digits, by chance: 59 bits.

    >>> len(new_password()), new_password() != new_password()
    (14, True)
    """
    return "-".join("".join(secrets.choice(LETTERS) for _ in range(4)) for _ in range(3))


def group_id(name: str, run: Run = system) -> int:
    """The number of a group; it is made if there is none."""
    try:
        return grp.getgrnam(name).gr_gid
    except KeyError:
        run(["groupadd", name])
        return grp.getgrnam(name).gr_gid


def members(name: str) -> list[str]:
    """The accounts in a group, in order; none if there is no such group."""
    try:
        return sorted(grp.getgrnam(name).gr_mem)
    except KeyError:
        return []


def exists(name: str) -> bool:
    """Whether the machine has this account."""
    try:
        return bool(pwd.getpwnam(name))
    except KeyError:
        return False


def names(count: str | int, called: str = "student") -> list[str]:
    """The names of so many students' accounts.

    >>> names(2)
    ['student01', 'student02']
    """
    if not (str(count).isdecimal() and 1 <= int(count) <= MOST):
        raise Refusal(f"{count} students cannot be: give a number from 1 to {MOST}.")
    if not NAME.fullmatch(called):
        raise Refusal(
            f"Accounts cannot be called {called!r}: use small letters, "
            "digits and hyphens, a letter first, at most 20."
        )
    return [f"{called}{at:02d}" for at in range(1, int(count) + 1)]


def _make(name: str, group: str, shell: str, run: Run) -> str:
    """Make one account whose home nobody else can open; return its password."""
    password = new_password()
    run(
        [
            "useradd",
            "--create-home",
            "--user-group",
            "--groups",
            group,
            "--shell",
            shell,
            "--comment",
            COMMENT,
            name,
        ]
    )
    Path(pwd.getpwnam(name).pw_dir).chmod(0o700)
    run(["chpasswd"], f"{name}:{password}\n")
    return password


def _note(place: Place, made: Iterable[tuple[str, str]]) -> Path:
    """Add names and passwords to the list that root alone can read."""
    path, text = place.hub / "passwords.csv", io.StringIO()
    csv.writer(text, lineterminator="\n").writerows(made)
    with open(
        os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND | os.O_NOFOLLOW, 0o600),
        "a",
        encoding="utf-8",
    ) as file:
        file.write(text.getvalue())
    return path


def _tray(place: Place, name: str) -> None:
    """A folder between one student and the instructors; nobody else can pass its door."""
    path, person = place.trays / name, pwd.getpwnam(name)
    path.mkdir(exist_ok=True)
    os.chown(path, person.pw_uid, group_id(place.desk))
    path.chmod(0o2770)


def students(place: Place, count: str | int, called: str = "student", run: Run = system) -> None:
    """Make the accounts that are missing; those already there keep their password."""
    wanted, have = names(count, called), members(place.students)
    if taken := [name for name in wanted if name not in have and exists(name)]:
        raise Refusal(
            f"The machine already has an account {taken[0]} that this class server did not make: "
            "choose other names, such as --called class7-."
        )
    for name in wanted:
        if name not in have:
            # Noted one by one, so that a stop halfway loses no password.
            path = _note(place, [(name, _make(name, place.students, NO_SHELL, run))])
        _tray(place, name)
    fresh = [name for name in wanted if name not in have]
    say(
        f"{len(fresh)} accounts made, {len(wanted) - len(fresh)} were there. "
        + (f"Passwords: {path}" if fresh else "No password was changed.")
    )


def instructor(place: Place, name: str, run: Run = system) -> None:
    """Let an account sit at the desk; it is made if there is none."""
    if not NAME.fullmatch(name):
        raise Refusal(
            f"An account cannot be called {name!r}: use small letters, "
            "digits and hyphens, a letter first, at most 20."
        )
    if name in members(place.students):
        raise Refusal(f"{name} is a student's account: name another one.")
    if exists(name):
        run(["usermod", "--append", "--groups", place.desk, name])
        say(f"{name} is an instructor now. Restart the hub. The password is as it was.")
    else:
        path = _note(place, [(name, _make(name, place.desk, SHELL, run))])
        say(f"Account {name} made, an instructor. Restart the hub if it runs. Password: {path}")


def made_here(name: str) -> bool:
    """Whether an account was made here, by the words it was made with."""
    return exists(name) and pwd.getpwnam(name).pw_gecos == COMMENT


def remove(place: Place, who: str, run: Run = system) -> None:
    """Take away one student's account, or everyone's and the groups; homes go with them, trays are
    put away.
    """
    everyone = who == "everyone"
    gone = (
        [*members(place.students), *(members(place.desk) if everyone else [])]
        if everyone
        else [who]
    )
    if not everyone and who not in members(place.students):
        raise Refusal(
            f"{who} is no student of this class server: name one of its accounts, or 'everyone'."
        )
    for name in gone:
        _remove(place, name, run)
    for group in (place.students, place.desk) if everyone else ():
        if _has_group(group):
            run(["groupdel", group])
    say(
        f"{len(gone)} accounts taken away, their homes with them. "
        f"What lay in their trays is in {place.root / 'left'}."
    )


def _remove(place: Place, name: str, run: Run) -> None:
    """One account and its home; an account that was there before only leaves the desk."""
    if not made_here(name):
        run(["gpasswd", "--delete", name, place.desk])
        return
    run(["userdel", "--remove", name])
    _put_away(place, name)


def _put_away(place: Place, name: str) -> None:
    """Move a tray to where only root and instructors reach it: a later account may get the same
    name, or the same number.
    """
    tray, left = place.trays / name, place.root / "left"
    if not tray.is_dir():
        return
    left.mkdir(mode=0o750, exist_ok=True)
    os.chown(left, 0, tray.stat().st_gid)
    for path in [tray, *tray.rglob("*")]:
        os.chown(path, 0, -1, follow_symlinks=False)
    tray.rename(
        next(path for at in range(1, 10_000) if not (path := left / f"{name} {at}").exists())
    )


def _has_group(name: str) -> bool:
    try:
        return bool(grp.getgrnam(name))
    except KeyError:
        return False
