"""Lesson 02 as one HTML file: the stage with its script, no Python, no network.

    python -m leverarm.handouts.offline_page FILE

Picture, words and arithmetic are recorded from the package, so they cannot drift from it.
"""

import sys
from collections.abc import Sequence
from importlib.resources import files
from pathlib import Path
from typing import Any

from leverarm.console import done
from leverarm.files import write_whole
from leverarm.machine import demo_loader, demo_tractor
from leverarm.quantities import SYSTEMS
from leverarm.stage.case import WEIGHING, HungCase
from leverarm.stage.recording import as_json, recorded
from leverarm.stage.tractor import Guess, Weighed


def acts(system: str) -> dict[str, Any]:
    """Both acts of the picture as data: the first, and in it the second, undrawn until the lock."""
    case = HungCase(demo_tractor(), demo_loader()[1], system)
    second = {**recorded(Weighed(case), case.inputs), "plays": WEIGHING}
    return {**recorded(Guess(case), case.guess_inputs), "next": second}


def page() -> str:
    """The page as text."""
    stage = files("leverarm.stage")
    text = files("leverarm.handouts").joinpath("offline_page.html").read_text("utf-8")
    filled = {
        "/*style*/": stage.joinpath("stage.css").read_text("utf-8"),
        "/*script*/": stage.joinpath("stage.js").read_text("utf-8"),
        "/*data*/": as_json({system: acts(system) for system in SYSTEMS}),
    }
    for place, words in filled.items():
        text = text.replace(place, words)
    return text


def main(words: Sequence[str]) -> int:
    """Write the page to the file named."""
    if len(words) != 1:
        print("Name one file: python -m leverarm.handouts.offline_page FILE", file=sys.stderr)
        return 2
    write_whole(Path(words[0]), page().encode())
    return 0


if __name__ == "__main__":
    sys.exit(done(main, sys.argv[1:]))
