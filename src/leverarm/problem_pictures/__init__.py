"""The drawing that goes with a problem: what is given stands in it, and nothing in it answers.

problem_picture(problem) -> str     the drawing as one SVG, "" where a problem has no geometry
paper_picture(problem) -> str       the same, as large as it stands beside a problem on paper
problem_scene(problem) -> Scene     the same as shapes, or None

No pivot and no result is drawn.  A scale whose reading is not given stands on a column that is
open at the bottom.  The words for a reader who cannot see it say what is drawn, and no more.

>>> from leverarm import exercises
>>> problem_picture(exercises.make("front_gain", 1, "kg")).startswith("<svg")
True
>>> problem_picture(exercises.make("mean_reading", 1, "kg"))
''
"""

from leverarm.exercises import Problem
from leverarm.problem_pictures.machine_side import arc_scene, machine_scene, slope_scene
from leverarm.problem_pictures.simple_scenes import (
    gradient_scene,
    plank_scene,
    tire_scene,
    trolley_scene,
    turn_scene,
    wheels_scene,
)
from leverarm.problem_pictures.told import told_by
from leverarm.scene.layout import View
from leverarm.scene.render import svg
from leverarm.scene.shapes import Scene

__all__ = ["paper_picture", "paper_view", "picture_views", "problem_picture", "problem_scene"]

# What is drawn, by a letter that is given: the first that fits.
_SCENES = (
    ("S P d", plank_scene),
    ("A N I K l v q Q0 z", tire_scene),
    ("O", turn_scene),
    ("Cf Cr n1 n0 nr nt s D e e0 turns_drive_in", wheels_scene),
    ("G", gradient_scene),
    ("t", trolley_scene),
    ("o", arc_scene),
    ("j", slope_scene),
    ("L R0 F0 F1 W1 a W T measured_rear_change", machine_scene),
)
# Nothing to draw: one number turned into another unit.
_WITHOUT = ("in_pounds", "in_kilograms", "in_newtons", "in_psi")

# A drawing on paper: how narrow and how high it may be, where 290 pixels are free for it.
_FREE, _WIDTHS, _HIGH = 290.0, (290.0, 265.0, 240.0, 220.0, 200.0), 178.0


def problem_scene(problem: Problem) -> Scene | None:
    """The drawing of a problem as shapes; None where there is no geometry."""
    told = told_by(problem)
    if told is None or told.asked in _WITHOUT:
        return None
    for letters, draw in _SCENES:
        if told.has(letters):
            return draw(told)
    return None


def picture_views(scene: Scene) -> tuple[View, View]:
    """A wide and a narrow sheet just high enough for a scene."""
    return _fitting(scene, 720.0, 16.0), _fitting(scene, 300.0, 12.5, narrow=True)


def problem_picture(
    problem: Problem, width: float = 560.0, font: float = 15.0, *, style: bool = True
) -> str:
    """The drawing of a problem as one SVG; "" where a problem has no geometry.

    width, font     of the sheet and of its letters, in the same units
    style           False leaves the style sheet out, where the page already has it
    """
    scene = problem_scene(problem)
    return svg(scene, _fitting(scene, width, font), style=style, card=True) if scene else ""


def paper_view(scene: Scene, free: float = _FREE, font: float = 11.5) -> View:
    """The sheet of a drawing that stands beside a problem on paper, as high as the drawing is.

    It is as wide as leaves it low enough; its letters keep their size.

    free, font      how wide it may be, and the size of its letters, in pixels
    """
    views = [_fitting(scene, width * free / _FREE, font) for width in _WIDTHS]
    low = (view for view in views if view.height <= _HIGH * free / _FREE)
    return next(low, views[-1])


def paper_picture(
    problem: Problem, free: float = _FREE, font: float = 11.5, key: str | None = None
) -> str:
    """The drawing of a problem for a sheet to print, without its style sheet.

    free, font      as for paper_view
    key     what makes its ids unique where one drawing stands on several sheets of a page
    """
    scene = problem_scene(problem)
    if scene is None:
        return ""
    return svg(scene, paper_view(scene, free, font), key=key, style=False, card=True)


def _fitting(scene: Scene, width: float, font: float, narrow: bool = False) -> View:
    """A sheet of this width, as high as the scene then is."""
    x0, y0, x1, y1 = scene.box
    left, right, top, bottom = (pad * font for pad in scene.pad)
    scale = (width - left - right) / abs(x1 - x0)
    # A tall scene on a wide sheet leaves paper at its sides.
    high = min(abs(y1 - y0) * scale, 0.75 * width)
    return View(width, high + top + bottom, font, narrow, "narrow" if narrow else "wide")
