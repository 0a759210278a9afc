"""What the package's own commands print: on any console, and one sentence where something is in the way."""

import sys

from leverarm.files import trouble
from leverarm.quantities import Refusal


def say(line, stream=None):
    """Print a line whatever letters this console knows: a letter it lacks stands as its number.

    A folder called `Übung` must not end a command on a console that only knows ASCII.
    """
    stream = stream or sys.stdout
    if stream is None:  # a start without a console
        return
    encoding = getattr(stream, "encoding", None) or "ascii"
    print(line.encode(encoding, "backslashreplace").decode(encoding), file=stream, flush=True)


def done(command, *words):
    """The exit code of a command; a Refusal, or the trouble a file makes, is one sentence and a 1."""
    try:
        return command(*words) or 0
    except (Refusal, OSError) as why:
        say(trouble(why) if isinstance(why, OSError) else str(why), sys.stderr)
        return 1
