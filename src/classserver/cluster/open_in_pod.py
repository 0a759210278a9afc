"""What a cluster's hub starts for one student: bring their copy up to date, become the server.

The home is the student's own volume; the workbook in the image is the same for all and read only.
"""

import os
import sys
from pathlib import Path

sys.path[0] = str(Path(__file__).resolve().parents[2])

from classserver.own_copy import update_copy  # noqa: E402 - found on the path set above

WORKBOOK = Path(__file__).resolve().parents[3]


def main(options: list[str]) -> None:
    """Become the server, in the student's copy; the hub's options go on to it."""
    own = Path.home() / "workbook"
    try:
        print(f"{len(update_copy(WORKBOOK, own))} files brought up to date", flush=True)
    except OSError as why:  # a full volume must not keep anybody from the work that is there
        print(f"The notebooks could not be brought up to date: {why}", file=sys.stderr, flush=True)
    if own.is_dir():
        os.chdir(own)
    server = Path(sys.executable).with_name("jupyterhub-singleuser")
    os.execv(server, [str(server), "--ServerApp.terminals_enabled=False", *options])


if __name__ == "__main__":
    main(sys.argv[1:])
