"""What the hub starts, as the student: bring the notebooks up to date, set the limit, become the student's server."""

import grp
import os
import resource
import sys
from contextlib import suppress
from pathlib import Path

sys.path[0] = str(Path(__file__).resolve().parents[1])

from classserver.own_copy import bring, link  # noqa: E402
from classserver.place import Place  # noqa: E402


def at_the_desk(place):
    """Whether this account is an instructor's."""
    return grp.getgrnam(place.desk).gr_gid in os.getgroups()


def prepare(place, own, name, desk):
    """The student's folder as it should be, and the links in it."""
    for brought in bring(place.workbook, own, desk):
        print(f"{name}: {brought} is there", flush=True)
    for part in ("figures", "lessons"):
        link(own, part, place.workbook / part)
    link(own, "board", place.board)
    if desk:
        link(own, "trays", place.trays)
    elif (place.trays / name).is_dir():
        link(own, "tray", place.trays / name)


def limit(megabytes):
    """No process of this server takes more memory of its own than this; a cell that wants more gets a MemoryError."""
    with suppress(ValueError, OSError):
        resource.setrlimit(resource.RLIMIT_DATA, (megabytes * 2**20, megabytes * 2**20))


def main(options):
    place, name = Place(Path(__file__).resolve().parents[3]), os.environ["USER"]
    desk = at_the_desk(place)
    limit(int(os.environ.get("CLASS_SERVER_MEMORY_MB", 2000)))
    try:
        prepare(place, Path.home() / "workbook", name, desk)
    except OSError as why:  # a full disk must not keep anybody from the work that is there
        print(
            f"{name}: the notebooks could not be brought up to date: {why}",
            file=sys.stderr,
            flush=True,
        )
    # Short, since a socket's path has at most 107 letters; in the home, so that it is closed to others.
    os.environ["JUPYTER_RUNTIME_DIR"] = str(Path.home() / ".run")
    terminals = [] if desk else ["--ServerApp.terminals_enabled=False"]
    server = Path(sys.executable).with_name("jupyterhub-singleuser")
    os.execv(server, [str(server), *terminals, *options])


if __name__ == "__main__":
    main(sys.argv[1:])
