"""The first picture of each lesson, for its page on the class site: data that the page moves.

    python first_pictures.py NOTEBOOK ...      one JSON object: name of the notebook -> unit -> data

The notebooks' own cells make the panel, so page and lesson show the same. Only its first act is
taken, in which nothing answers yet.
"""

import ast
import json
import sys
from pathlib import Path

from leverarm.panels.on_stage import OnStage
from leverarm.quantities import SYSTEMS, show_in
from leverarm.stage.recording import recorded


def code_cells(path: Path) -> list[str]:
    """The code of a notebook, cell by cell."""
    cells = json.loads(path.read_text("utf-8"))["cells"]
    return ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "code"]


def first_panel(path: Path) -> OnStage | None:
    """The first panel that is a picture of the stage, made as the notebook makes it."""
    names: dict[str, object] = {}
    for cell in code_cells(path):
        if "begin()" in cell:  # the page's own set-up: its imports alone
            tree = ast.parse(cell)
            imports = [node for node in tree.body if isinstance(node, (ast.Import, ast.ImportFrom))]
            cell = ast.unparse(ast.Module(imports, []))
        exec(compile(cell, str(path), "exec"), names)
        found = next((one for one in names.values() if isinstance(one, OnStage)), None)
        if found or "panels." in cell:
            return found
    return None


def picture(path: Path, system: str) -> dict[str, object] | None:
    """The first act as data; nothing for a page that begins otherwise."""
    show_in(system)
    panel = first_panel(path)
    if panel is None:
        return None
    draw, inputs, _ = panel.act()
    return dict(recorded(draw, inputs))


def main(words: list[str]) -> None:
    """Print the pictures of the notebooks named."""
    found = {}
    for path in map(Path, words):
        told = {system: picture(path, system) for system in SYSTEMS}
        if all(told.values()):
            found[path.stem] = told
    json.dump(found, sys.stdout, separators=(",", ":"))


if __name__ == "__main__":
    main(sys.argv[1:])
