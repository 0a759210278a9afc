"""Drawings of the sheets to print: the stage's machine and plank, standing still, in ink.

The parts that move in the lessons draw them, so there is one way to draw a machine.  What is
given stands in the drawing; a length or a weight to be found is a question mark or a line.
"""

from collections.abc import Iterable, Sequence
from hashlib import sha1
from html import escape

from leverarm.outline import BUCKET_HEIGHT_M
from leverarm.stage import plank_outline as plank
from leverarm.stage import tractor_outline as tractor
from leverarm.stage.elements import Element, as_text, element, px
from leverarm.stage.on_scales import hatchings
from leverarm.stage.sheet import Paper, box, dimension, stroke, words
from leverarm.stage.stand import Stand

# Lengths with their words: from where to where, in meters ahead of the first support.
Length = tuple[float, float, str]
Named = tuple[float, str]


def _paper(width: float, near_x: float, per_m: float, floor: float, label: float) -> Paper:
    """A sheet just large enough: machine, floor, dimension lines, and words under them."""
    tape, top = floor + 22, floor + 44
    return Paper(
        "print", width, top + 34, near_x, per_m, floor, tape, top, 30, 70, 0, label, label, label, 0
    )


def machine_drawing(said: str, names: Sequence[Named], lengths: Sequence[Length]) -> str:
    """The invented tractor with its bucket on two scales, and what is to be measured.

    said    the drawing in words;  names  what stands under a place
    """
    base, ahead = 1.65, 1.15
    sheet = _paper(640, 300, 130, 252, 14)
    stand = Stand(sheet, base, 0.0, 0.0)
    at = ahead, BUCKET_HEIGHT_M
    parts = [
        tractor.platforms(stand),
        tractor.loader_part(stand, at, 0.0),
        tractor.tractor_parts(stand),
        tractor.bucket_part(stand, at),
    ]
    return _svg(sheet, said, [*parts, *_measured(sheet, names, lengths)])


def plank_drawing(said: str, names: Sequence[Named], lengths: Sequence[Length]) -> str:
    """The plank on its two pipes, the jug beyond the left one, and what is to be measured."""
    sheet = _paper(640, 156, 280, 128, 14)
    stand = Stand(sheet, 1.2, 0.0, 0.0)
    parts = [
        plank.scales_under_plank(stand),
        plank.plank_parts(stand),
        plank.jug(stand, sheet.x(0.22)),
    ]
    return _svg(sheet, said, [*parts, *_measured(sheet, names, lengths)])


def _measured(sheet: Paper, names: Iterable[Named], lengths: Iterable[Length]) -> Iterable[Element]:
    """The floor, dimension lines with their words, and names under their places."""
    yield stroke([(0, sheet.floor), (sheet.width, sheet.floor)], "floor", 2.2)
    for start, end, text in lengths:
        left, right = sorted((sheet.x(start), sheet.x(end)))
        for x in (left, right):
            yield stroke([(x, sheet.floor + 4), (x, sheet.tape + 8)], "ink", 0.8)
        yield dimension(sheet, left, right, text, (len(text) + 1) * 0.55 * sheet.label)
    for ahead, text in names:
        yield words(sheet.x(ahead), sheet.top + 8, text, sheet.label, bold=True)


def _svg(sheet: Paper, said: str, parts: Iterable[Element]) -> str:
    """The drawing as text; its hatching is its own, whatever else stands on the page."""
    inside = as_text(element("g", hatchings(sheet), *parts))
    key = "d" + sha1((said + inside).encode()).hexdigest()[:8]
    ground = as_text(box(0, sheet.floor, sheet.width, sheet.height - sheet.floor, "paper"))
    return (
        f'<svg viewBox="0 0 {px(sheet.width)} {px(sheet.height)}" role="img" '
        f'aria-label="{escape(said)}">{ground}{inside}</svg>'
    ).replace("st@", key)
