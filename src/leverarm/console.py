"""What the package's own commands print, on any console; an error as one sentence."""

import sys
from collections.abc import Callable
from typing import TextIO

from leverarm.files import explain_os_error
from leverarm.quantities import Refusal


def say(line: str, stream: TextIO | None = None) -> None:
    """Print a line whatever letters this console knows: a letter it lacks stands as its number.

    A folder called `Übung` must not end a command on a console that only knows ASCII.
    """
    stream = stream or sys.stdout
    if stream is None:  # a start without a console
        return
    encoding = getattr(stream, "encoding", None) or "ascii"
    print(line.encode(encoding, "backslashreplace").decode(encoding), file=stream, flush=True)


def done(command: Callable[..., int | None], *words: object) -> int:
    """Run a command and return its exit code; a Refusal or an OSError is one sentence and a 1."""
    try:
        return command(*words) or 0
    except (Refusal, OSError) as why:
        say(explain_os_error(why) if isinstance(why, OSError) else str(why), sys.stderr)
        return 1
