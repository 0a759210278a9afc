"""Modules that hardly any page needs come when they are first imported.

`later_parts.json` beside this file names the part that holds each of them. A part is a zip; once it
is here, it is imported from like the zip of the standard library.
"""

import json
import sys
import zlib
from importlib.abc import MetaPathFinder
from importlib.machinery import PathFinder
from pathlib import Path
from pkgutil import get_data

FOLDER = Path("/lib/later_parts")
GZIP = 31  # how zlib is told that the bytes are a gzip file


class LaterParts(MetaPathFinder):
    """Finds what the other finders did not: fetches the part that holds it, and looks again."""

    def __init__(self, read, held):
        self.read, self.held = read, held

    def find_spec(self, name, path=None, target=None):
        part = self.held.get(name)
        if part is None:
            return None
        zipped = FOLDER / part
        if not zipped.exists():
            self.fetch(part, zipped)
        package = name.rpartition(".")[0]
        if not package:
            return PathFinder.find_spec(name, [str(zipped)])
        places = sys.modules[package].__path__
        inside = f"{zipped}/{package.replace('.', '/')}"
        if inside not in places:  # a package may lie in several parts
            places.append(inside)
        return PathFinder.find_spec(name, places)

    def fetch(self, part, zipped):
        """Put a part in its place."""
        try:
            data = self.read(part).to_bytes()
        except Exception as why:
            raise ImportError(
                f"{part} could not be fetched ({why}): see that the server can be reached, "
                "then reload the page and start the lesson again."
            ) from None
        FOLDER.mkdir(exist_ok=True)
        zipped.write_bytes(zlib.decompress(data, GZIP))
        sys.path.append(str(zipped))


def begin(read):
    """From now on a module of a later part is found; `read` gives the bytes of a part."""
    held = json.loads(get_data(__name__, "later_parts.json"))
    sys.meta_path.append(LaterParts(read, held))
