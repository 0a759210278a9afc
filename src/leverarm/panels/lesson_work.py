"""What a reader predicted and wrote in a lesson, kept in one file beside the notebooks.

The file is the reader's own; it holds text and numbers by lesson and place.  A file that cannot
be read is left as it is, and said so: nothing is written over it.
"""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from leverarm.files import file_lock, write_whole
from leverarm.quantities import Refusal

WORK_FILE = "my_lessons.json"
MOST_BYTES = 1_000_000
MOST_LETTERS = 2000


def _whole(path: Path) -> dict[str, Any]:
    """Everything kept; a Refusal for a file that is not ours or was spoiled."""
    try:
        with path.open("rb") as file:
            held = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        return {}
    try:
        found = json.loads(held.decode("utf-8")) if len(held) <= MOST_BYTES else None
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, dict):
        raise Refusal(
            WORK_FILE,
            held[:40].decode("utf-8", "replace"),
            "what this workbook wrote",
            "move the file away; until then nothing new is kept",
        )
    return found


def kept_work(lesson: str) -> dict[str, Any]:
    """What was kept for a lesson, by place; empty where nothing was."""
    found = _whole(Path(WORK_FILE)).get(lesson)
    return dict(found) if isinstance(found, dict) else {}


def keep_work(lesson: str, work: Mapping[str, Any]) -> None:
    """Keep text and numbers of a lesson, beside what was kept before.

    Raises OSError where the folder takes no file, Refusal for a file that cannot be read.
    """
    path = Path(WORK_FILE)
    with file_lock(path):
        whole = _whole(path)
        old = whole.get(lesson)
        whole[lesson] = {**(old if isinstance(old, dict) else {}), **work}
        text = json.dumps(whole, ensure_ascii=False, indent=1, sort_keys=True)
        write_whole(path, text.encode("utf-8"))


def as_sentence(value: object) -> str:
    """A kept sentence, bounded; nothing for anything else.

    >>> as_sentence("The front gained more."), as_sentence(["x"])
    ('The front gained more.', '')
    """
    return value[:MOST_LETTERS] if isinstance(value, str) else ""
