"""A dealer's logo as text inside a page: a small PNG or JPEG picture, and nothing else."""

from __future__ import annotations

import base64
from pathlib import Path

from leverarm.files import explain_os_error
from leverarm.quantities import Refusal

MOST_BYTES = 300_000
MOST_PIXELS = 4000
_ALLOWED = "a PNG or JPEG picture of at most 300 kB and 4,000 pixels a side"
_PNG, _JPEG = b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff"
# Markers of a JPEG that carry its size: start of frame, but for tables and extensions.
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}


def logo_uri(path: str | Path | None) -> str:
    """The picture as a data URI; "" where no file is named.

    Only what the file holds decides, not its name; an SVG is refused, since it can hold script.
    """
    if path is None or not str(path).strip():
        return ""
    path = Path(path)
    try:
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise Refusal("logo", path.name, _ALLOWED, explain_os_error(error)) from None
    if len(content) > MOST_BYTES:
        raise Refusal("logo", f"{path.name}, over 300 kB", _ALLOWED, "save it smaller")
    kind, size = _kind_and_size(content)
    if not kind:
        raise Refusal("logo", path.name, _ALLOWED, "save it as PNG or JPEG")
    if not all(1 <= side <= MOST_PIXELS for side in size):
        given = f"{path.name}, {size[0]} by {size[1]} pixels"
        raise Refusal("logo", given, _ALLOWED, "save it smaller")
    return f"data:image/{kind};base64,{base64.b64encode(content).decode()}"


def _kind_and_size(content: bytes) -> tuple[str, tuple[int, int]]:
    """("png" or "jpeg", (width, height) in pixels); ("", ...) for anything else."""
    if content.startswith(_PNG) and content[12:16] == b"IHDR" and len(content) >= 33:
        return "png", (
            int.from_bytes(content[16:20], "big"),
            int.from_bytes(content[20:24], "big"),
        )
    if content.startswith(_JPEG):
        return "jpeg", _jpeg_size(content)
    return "", (0, 0)


def _jpeg_size(content: bytes) -> tuple[int, int]:
    """(width, height) from the frame header of a JPEG; (0, 0) where there is none."""
    at = 2
    while at + 9 <= len(content) and content[at] == 0xFF:
        marker, length = content[at + 1], int.from_bytes(content[at + 2 : at + 4], "big")
        if marker in _FRAMES:
            height, width = (int.from_bytes(content[i : i + 2], "big") for i in (at + 5, at + 7))
            return width, height
        at += 2 + max(length, 2)
    return 0, 0
