"""Speaking to the person at the keyboard: short lines, one sentence when it cannot go on."""

import os
import sys
from typing import TextIO


class Refusal(Exception):
    """One sentence: what is wrong, and what to do. `code` is the exit code."""

    def __init__(self, sentence: str, code: int = 1) -> None:
        super().__init__(sentence)
        self.code = code


class Ended(KeyboardInterrupt):
    """The system asked us to end (SIGTERM); nobody pressed Ctrl-C, so no child knows yet."""


def say(line: str, stream: TextIO | None = None) -> None:
    """Print a line now, whatever letters this console knows.

    A folder called `Übung` must not end the set-up on a console that only knows ASCII.
    """
    stream = stream or sys.stdout
    if stream is None:  # a start without a console, as pythonw does it
        return
    print(fitting(line, stream), file=stream, flush=True)


def fitting(text: str, stream: TextIO) -> str:
    """The text with every letter that this console lacks as its number."""
    encoding = getattr(stream, "encoding", None) or "ascii"
    return text.encode(encoding, "backslashreplace").decode(encoding)


def complain(line: str) -> None:
    """Print a line where errors go."""
    say(line, sys.stderr)


def launcher(os_name: str = os.name) -> str:
    """How a person on this system types the start command."""
    return "py src\\start.py" if os_name == "nt" else "python3 src/start.py"
