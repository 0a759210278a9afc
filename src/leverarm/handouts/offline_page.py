"""Lesson 02 as one HTML file: sliders in a little script, no Python, no network.

    python -m leverarm.handouts.offline_page FILE

The script's formulas are the lines of `statics` themselves, so they cannot drift from them.
"""

import ast
import inspect
import json
import sys
import textwrap
from collections.abc import Callable, Sequence
from importlib.resources import files
from pathlib import Path

from leverarm import statics
from leverarm.console import done
from leverarm.files import write_whole
from leverarm.machine import demo_loader, demo_tractor
from leverarm.numerals import Numeric
from leverarm.scene.palette import INK, PAPER, ROLES

FORMULAS: tuple[Callable[..., Numeric], ...] = (
    statics.front_gain,
    statics.rear_change,
    statics.amplification,
    statics.overhang_for,
)
ALIKE = (
    ast.BinOp,
    ast.UnaryOp,
    ast.Add,
    ast.Sub,
    ast.Mult,
    ast.Div,
    ast.USub,
    ast.Name,
    ast.Load,
    ast.Constant,
    ast.Call,
)


def in_script(formula: Callable[..., Numeric]) -> str:
    """A one-line formula in the words of the page's script; only what both languages read alike.

    >>> in_script(statics.rear_change)
    'const rear_change = (W, a, L) => -W * a / L;'
    """
    function = ast.parse(textwrap.dedent(inspect.getsource(formula))).body[0]
    assert isinstance(function, ast.FunctionDef) and isinstance(function.body[-1], ast.Return)
    value = function.body[-1].value
    assert value is not None
    strange = [node for node in ast.walk(value) if not isinstance(node, ALIKE)]
    if strange:
        raise ValueError(
            f"{formula.__name__} uses {type(strange[0]).__name__}, "
            "which a script may read otherwise"
        )
    letters = ", ".join(argument.arg for argument in function.args.args)
    return f"const {formula.__name__} = ({letters}) => {ast.unparse(value)};"


def _colors() -> str:
    """The colors of the paper, the ink and both axles, for light and for dark."""
    pairs = [
        ("paper", PAPER),
        ("ink", INK),
        *(
            (f"{role}{end}", getattr(ROLES[role], part))
            for role in ("front", "rear")
            for end, part in (("", "line"), ("-text", "text"))
        ),
    ]
    return " ".join(f"--{name}: light-dark({light}, {dark});" for name, (light, dark) in pairs)


def _start() -> dict[str, float]:
    """The demo tractor and its bucket, as the page starts with them."""
    plot, bucket = demo_tractor(), demo_loader()[1]
    return {
        "front": plot.front_kg,
        "rear": plot.rear_kg,
        "wheelbase": plot.wheelbase_m,
        "weight": bucket.weight_kg,
        "ahead": bucket.ahead_m,
    }


def page() -> str:
    """The page as text."""
    text = files("leverarm.handouts").joinpath("offline_page.html").read_text("utf-8")
    filled = {
        "/*colors*/": _colors(),
        "/*formulas*/": "\n".join(map(in_script, FORMULAS)),
        "/*start*/": json.dumps(_start()),
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
