"""What the hub starts, as the student: bring their copy up to date, set the limit, become the
server.
"""

import grp
import os
import resource
import sys
from contextlib import suppress
from pathlib import Path

sys.path[0] = str(Path(__file__).resolve().parents[1])

from classserver.own_copy import link, update_copy  # noqa: E402 - found on the path set above
from classserver.place import Place  # noqa: E402 - as above

# What board and tray hold lies outside of the student's folder. This handler reads through the
# file browser's own part of the server, which follows such links; the usual one refuses them.
SERVE_LINKS = "--FileContentsManager.files_handler_class=jupyter_server.files.handlers.FilesHandler"


def at_the_desk(place: Place) -> bool:
    """Whether this account is an instructor's."""
    return grp.getgrnam(place.desk).gr_gid in os.getgroups()


def prepare(place: Place, own: Path, name: str, desk: bool) -> None:
    """The student's folder as it should be, and the links in it."""
    written = update_copy(place.workbook, own, desk)
    print(f"{name}: {len(written)} files brought up to date", flush=True)
    link(own, "board", place.board)
    if desk:
        link(own, "trays", place.trays)
    elif (place.trays / name).is_dir():
        link(own, "tray", place.trays / name)


def limit_memory(megabytes: int) -> None:
    """No process of this server takes more memory of its own than this.

    A cell that wants more gets a MemoryError.
    """
    with suppress(ValueError, OSError):
        resource.setrlimit(resource.RLIMIT_DATA, (megabytes * 2**20, megabytes * 2**20))


def main(options: list[str]) -> None:
    """Become the server; the hub's options go on to it."""
    place, name = Place(Path(__file__).resolve().parents[3]), os.environ["USER"]
    desk = at_the_desk(place)
    limit_memory(int(os.environ.get("CLASS_SERVER_MEMORY_MB", 2000)))
    try:
        prepare(place, Path.home() / "workbook", name, desk)
    except OSError as why:  # a full disk must not keep anybody from the work that is there
        print(
            f"{name}: the notebooks could not be brought up to date: {why}",
            file=sys.stderr,
            flush=True,
        )
    # Short, since a socket's path has at most 107 letters; in the home, so that it is closed to
    # others.
    os.environ["JUPYTER_RUNTIME_DIR"] = str(Path.home() / ".run")
    terminals = [] if desk else ["--ServerApp.terminals_enabled=False"]
    server = Path(sys.executable).with_name("jupyterhub-singleuser")
    os.execv(server, [str(server), SERVE_LINKS, *terminals, *options])


if __name__ == "__main__":
    main(sys.argv[1:])
