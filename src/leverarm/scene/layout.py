"""From meters to paper: the frame of a picture, and where its words can stand.

Words keep inside the picture and off each other.  Those marked fixed stand where
they were put; the others take the nearest free place, in the order of the scene.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import copysign

from leverarm.scene.shapes import Arrow, Box, Circle, Dimension, Label, Point, Scene, Shape


@dataclass(frozen=True)
class View:
    """A sheet of paper: width and height in its own units, letters of ``font`` units."""

    width: float = 720.0
    height: float = 430.0
    font: float = 16.0
    narrow: bool = False
    name: str = "wide"


WIDE = View()
NARROW = View(270.0, 320.0, 13.0, narrow=True, name="narrow")
LARGE = View(960.0, 520.0, 29.0, name="large")


class Frame:
    """The map from a scene's box to a sheet."""

    def __init__(self, scene: Scene, view: View) -> None:
        x0, y0, x1, y1 = scene.box
        left, right, top, bottom = (pad * view.font for pad in scene.pad)
        width, height = view.width - left - right, view.height - top - bottom
        self.sx, self.sy = width / (x1 - x0), height / (y1 - y0)
        if scene.fit == "equal":
            scale = min(abs(self.sx), abs(self.sy))
            self.sx, self.sy = copysign(scale, self.sx), copysign(scale, self.sy)
        # What the scale leaves over is shared left and right; the bottom edge stays put.
        self.x0, self.y0 = x0, y0
        self.left = left + (width - self.sx * (x1 - x0)) / 2
        self.base = view.height - bottom
        self.em = view.font

    def __call__(self, point: Point) -> tuple[float, float]:
        """A point of a scene as a point on the sheet, y downwards."""
        x, y, right, up = point if len(point) == 4 else (*point, 0.0, 0.0)
        return (
            self.left + (x - self.x0) * self.sx + right * self.em,
            self.base - (y - self.y0) * self.sy - up * self.em,
        )


@dataclass(frozen=True)
class Placed:
    """A label where it stands: its text, size and box (left, top, right, bottom).

    moved   True if it stepped aside
    """

    label: Label
    text: str
    size: float
    box: Box
    moved: bool


# Room a letter takes, in ems: the widths of DejaVu Sans, the widest of the ordinary sans-serif
# fonts.  Helvetica and Arial are a tenth narrower; words that stand in the wide one stand in them.
_EMS = {
    **dict.fromkeys("ijlIJ ,.'|·’\u202f\u00a0", 0.31),
    **dict.fromkeys("ftr()[]!-:;/\\²", 0.4),
    **dict.fromkeys('csz?"*_°–“”', 0.54),
    **dict.fromkeys("w#+<=>~^±×−→≈&M", 0.85),
    **dict.fromkeys("mW%@—…½", 1.0),
}
_CAPITAL, _OTHER, _BOLD = 0.75, 0.635, 1.12


@lru_cache(maxsize=4096)
def text_width(text: str, bold: bool = False) -> float:
    """Width of a text in ems, a little on the large side, for any ordinary sans-serif font.

    >>> text_width("iii") < text_width("nnn") < text_width("MMM")
    True
    """
    ems = sum(_EMS.get(c) or (_CAPITAL if c.isupper() else _OTHER) for c in text)
    return ems * (_BOLD if bold else 1.01)


LINE_HEIGHT = 1.18


def _preferred(label: Label, point: Point, size: float, width: float, lines: int) -> Box:
    """The box a label would like: on its side of the point, a gap away."""
    x, y = point[:2]
    gap, high = label.gap * size, lines * LINE_HEIGHT * size
    left = {"left": x - gap - width, "right": x + gap}.get(label.side, x - width / 2)
    top = {"up": y - gap - high, "down": y + gap}.get(label.side, y - high / 2)
    return left, top, left + width, top + high


MARGIN = 2.0


def _clamped(box: Box, view: View) -> Box:
    """The box pushed inside the sheet."""
    left, top, right, bottom = box
    dx = max(MARGIN - left, 0) or min(view.width - MARGIN - right, 0)
    dy = max(MARGIN - top, 0) or min(view.height - MARGIN - bottom, 0)
    return left + dx, top + dy, right + dx, bottom + dy


def overlap(one: Box, other: Box) -> bool:
    """True where two boxes share more than an edge."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _steps() -> list[tuple[float, float]]:
    """Where to look for room, nearest first: in half lines up and down, in two-em steps across."""
    grid = [(dx * 2.0, dy * 0.6) for dx in range(-9, 10) for dy in range(-22, 23)]
    return sorted(grid, key=lambda step: (abs(step[0]) * 0.9 + abs(step[1]) * 1.2, step))


_STEPS = _steps()


def _free(box: Box, taken: list[Box]) -> bool:
    return not any(overlap(box, other) for other in taken)


def _settle(
    box: Box, em: float, view: View, taken: list[Box], obstacles: list[Box]
) -> tuple[Box, bool]:
    """The nearest place free of words and arrows, else of words alone, else where it is."""
    home = _clamped(box, view)
    if _free(home, taken) and _free(home, obstacles):
        return home, False
    second = None
    for dx, dy in _STEPS:
        spot = _clamped(
            (box[0] + dx * em, box[1] + dy * em, box[2] + dx * em, box[3] + dy * em), view
        )
        if _free(spot, taken):
            if _free(spot, obstacles):
                return spot, True
            second = second or spot
    return second or home, second is not None


def _obstacle(shape: Shape, frame: Frame) -> Box | None:
    """The room a shape takes that words had better not cover: arrows and wheels."""
    if isinstance(shape, Arrow):
        (x0, y0), (x1, y1), half = frame(shape.tail), frame(shape.tip), 0.35 * frame.em
        return min(x0, x1) - half, min(y0, y1), max(x0, x1) + half, max(y0, y1)
    if isinstance(shape, Circle):
        (x, y), r = frame(shape.at), 0.85 * shape.radius * abs(frame.sx)
        return x - r, y - r, x + r, y + r
    return None


def _words(shape: Shape, frame: Frame, narrow: bool) -> Label | None:
    """The Label a shape carries, or None: a dimension's text stands on or beyond its line."""
    if isinstance(shape, Label):
        return shape
    if not isinstance(shape, Dimension):
        return None
    text = shape.short if narrow and shape.short is not None else shape.text
    (x0, y0), (x1, y1) = frame(shape.a), frame(shape.b)
    if max(abs(x1 - x0), abs(y1 - y0)) > (text_width(text) + 1.4) * frame.em:
        middle = tuple((p + q) / 2 for p, q in zip(shape.a, shape.b))
        return Label(middle, text, shape.role, "over", gap=0.0, backed=True)
    return Label(shape.a, text, shape.role, "left" if x0 < x1 else "right", gap=0.5, backed=True)


def place(scene: Scene, view: View, frame: Frame | None = None) -> list[Placed]:
    """Every label of a scene where it stands on this sheet, in the order of the scene."""
    frame = frame or Frame(scene, view)
    labels = [
        label
        for shape in scene.shapes
        if (label := _words(shape, frame, view.narrow)) is not None and label.text
    ]
    obstacles = [box for shape in scene.shapes if (box := _obstacle(shape, frame))]
    taken: list[Box] = []
    done: dict[int, Placed] = {}
    for index in sorted(range(len(labels)), key=lambda i: not labels[i].fixed):
        label = labels[index]
        done[index] = _placed(label, frame, view, taken, obstacles)
        taken.append(done[index].box)
    return [done[i] for i in range(len(labels))]


def _placed(
    label: Label, frame: Frame, view: View, taken: list[Box], obstacles: list[Box]
) -> Placed:
    text = label.short if view.narrow and label.short is not None else label.text
    size = label.size * view.font
    lines = text.split("\n")
    width = max(text_width(line, label.bold) for line in lines) * size
    box = _preferred(label, frame(label.at), size, width, len(lines))
    if label.fixed:
        return Placed(label, text, size, _clamped(box, view), False)
    return Placed(label, text, size, *_settle(box, view.font, view, taken, obstacles))
