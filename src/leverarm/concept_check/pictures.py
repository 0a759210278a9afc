"""A drawing for every question: plain shapes, no force, no bar, no tilt, nothing that answers it.

drawing(question) -> Scene; its words are the question's own, from the data.
"""

from collections.abc import Callable, Sequence

from leverarm import outline
from leverarm.concept_check.questions import CheckQuestion
from leverarm.scene import (
    Arrow,
    Circle,
    Dimension,
    Label,
    Line,
    Marker,
    Polygon,
    Scene,
    View,
)
from leverarm.scene.machine_drawing import as_shapes, tractor_shapes
from leverarm.scene.shapes import Shape, extent

# A sheet beside a question, wide and narrow.
SHEETS = (View(620.0, 215.0, 15.0), View(300.0, 175.0, 12.0, narrow=True, name="narrow"))
PAPER_SHEET = View(310.0, 152.0, 11.8)
L = 1.65  # the wheelbase that is drawn
Shapes = list[Shape]


def drawing(question: CheckQuestion) -> Scene:
    """The Scene of a question."""
    shapes = _DRAWN[question.number, question.form](question.told)
    x0, y0, x1, y1 = extent([one for one in shapes if not isinstance(one, Label)])
    return Scene(
        tuple(shapes),
        (x0, y0, x1, y1),
        f"Drawing for question {question.form}{question.number}",
        question.picture,
        pad=(1.0, 1.0, 1.8, 2.2),
    )


# Pieces --------------------------------------------------------------------------------------


def _box(x: float, y: float, width: float, height: float, role: str = "body") -> Polygon:
    """A box by its middle and its lower edge."""
    half = width / 2
    return Polygon(
        ((x - half, y), (x + half, y), (x + half, y + height), (x - half, y + height)), role
    )


def _words(x: float, y: float, text: str, side: str = "up", role: str = "ink") -> Label:
    return Label((x, y), text, role, side, fixed=True)


def _scale(x: float, text: str = "scale") -> Shapes:
    """A scale under a support."""
    return [_box(x, -0.1, 0.62, 0.1, "ground"), _words(x, -0.1, text, "down")]


def _scales(*places: float) -> Shapes:
    return [shape for x in places for shape in _scale(x)]


def _plank(start: float, end: float, y: float) -> Polygon:
    return Polygon(((start, y), (end, y), (end, y + 0.06), (start, y + 0.06)))


def _tractor(scales: Sequence[float] = (0.0, -L)) -> Shapes:
    """A tractor facing right, its front axle at zero, on scales."""
    return [*_scales(*scales), *tractor_shapes(L)]


def _loader(at: tuple[float, float]) -> Shapes:
    """The loader and its bucket, which has its center of gravity there."""
    return as_shapes([*outline.loader(L, at), outline.bucket(at)])


def _wagon(scales: Sequence[float] = (0.0, -2.2)) -> Shapes:
    """A wagon with two axles facing right, its front axle at zero, on scales."""
    wheels = [Circle((x, 0.3), 0.3, "body", 0.3) for x in (0.0, -2.2)]
    tongue = Line(((0.4, 0.5), (0.95, 0.3)), "body", 0.3)
    return [*_scales(*scales), tongue, _plank(-2.6, 0.4, 0.62), *wheels]


def _marks(count: int, step: float, y: float, every: int) -> Shapes:
    """Numbered marks on both halves, outward from the middle."""
    shapes: Shapes = []
    for at in range(1, count + 1):
        for x in (-at * step, at * step):
            shapes.append(Line(((x, y), (x, y + 0.06)), "ink", 0.08))
            if at % every == 0:
                shapes.append(Label((x, y), f"{at}", "ink", "down", 0.2, fixed=True, size=0.8))
    return shapes


def _way(tail: tuple[float, float], tip: tuple[float, float], name: str, side: str) -> Shapes:
    """How a load is moved: an arrow with its number."""
    middle = ((tail[0] + tip[0]) / 2, (tail[1] + tip[1]) / 2)
    return [
        Arrow(tail, tip, "ink", width=0.16),
        Label(middle, name, "ink", side, bold=True, fixed=True),
    ]


# The questions -------------------------------------------------------------------------------


def _a1(told: dict[str, str]) -> Shapes:
    feet = Polygon(((-0.25, 0.0), (0.25, 0.0), (0.06, 0.6), (-0.06, 0.6)), "ground")
    sack: Shapes = [_box(-1.2, 0.66, 0.26, 0.24, "load"), _words(-1.2, 0.9, f"12 {told['unit']}")]
    other: Shapes = [
        _box(1.3, 0.0, 0.22, 0.2, "load"),
        _words(1.42, 0.1, f"8 {told['unit']}", "right"),
    ]
    return [feet, _plank(-2.15, 2.15, 0.6), *_marks(10, 0.2, 0.6, 1), *sack, *other]


def _b1(told: dict[str, str]) -> Shapes:
    chain = Line(((0, 1.0), (0, 1.7)), "ink", 0.2)
    beam = Line(((-0.3, 1.7), (0.3, 1.7)), "ground", 0.5)
    pail: Shapes = [
        Line(((1.68, 0.97), (1.68, 0.72)), "ink", 0.08),
        _box(1.68, 0.45, 0.26, 0.27, "load"),
    ]
    other: Shapes = [
        _box(-1.3, 0.0, 0.22, 0.24, "load"),
        _words(-1.18, 0.1, f"6 {told['unit']}", "right"),
    ]
    return [
        chain,
        beam,
        _plank(-2.35, 2.35, 0.94),
        *_marks(16, 0.14, 0.94, 2),
        *pail,
        _words(1.82, 0.55, f"8 {told['unit']}", "right"),
        *other,
    ]


def _a2(told: dict[str, str]) -> Shapes:
    bed, wheel = _plank(-0.95, 1.25, 0.62), Circle((0.0, 0.34), 0.34, "body", 0.3)
    tongue = Line(((-0.95, 0.62), (-1.9, 0.55)), "body", 0.35)
    jack = Line(((-1.85, 0.0), (-1.85, 0.55)), "ground", 0.5)
    return [
        *_scales(0.0, -1.85),
        tongue,
        jack,
        bed,
        wheel,
        _box(1.05, 0.68, 0.38, 0.36, "load"),
        _words(1.05, 1.04, "crate"),
    ]


def _b2(told: dict[str, str]) -> Shapes:
    bracket = Line(((0.3, 0.52), (1.2, 0.52)), "body", 0.25)
    return [
        *_tractor(),
        bracket,
        _box(1.05, 0.54, 0.42, 0.3, "load"),
        _words(1.05, 0.84, "toolbox"),
    ]


def _a3(told: dict[str, str]) -> Shapes:
    at = (1.1, 0.35)
    return [
        *_tractor(),
        *_loader(at),
        _words(1.15, 0.65, "bucket", "right"),
    ]


def _two_pipes(start: float, end: float) -> Shapes:
    """A plank on two pipes with a scale under each, a sandbag on it between them."""
    pipes = [Circle((x, 0.1), 0.1, "body", 0.2) for x in (-0.7, 0.7)]
    bag: Shapes = [_box(0.25, 0.26, 0.4, 0.16, "ground"), _words(0.25, 0.42, "sandbag")]
    return [*_scales(-0.7, 0.7), *pipes, _plank(start, end, 0.2), *bag]


def _b3(told: dict[str, str]) -> Shapes:
    return [
        *_two_pipes(-1.75, 1.2),
        _box(-1.5, 0.26, 0.34, 0.3, "load"),
        _words(-1.5, 0.56, "sack"),
    ]


def _places(*named: tuple[str, float, float]) -> Shapes:
    """Places with their letters."""
    return [
        shape
        for name, x, y in named
        for shape in (
            Marker((x, y), "load", "diamond", 0.7),
            Label((x, y), name, "load", "up", bold=True, fixed=True),
        )
    ]


def _a4(told: dict[str, str]) -> Shapes:
    rack = Line(((0.3, 0.52), (1.25, 0.52)), "body", 0.25)
    return [
        *_tractor((0.0,)),
        rack,
        *_places(("P", 0.0, 1.05), ("Q", -L / 2, 1.35), ("R", 1.0, 0.62)),
    ]


def _b4(told: dict[str, str]) -> Shapes:
    rack = Line(((-2.6, 0.65), (-3.4, 0.65)), "body", 0.25)
    return [
        *_wagon((-2.2,)),
        rack,
        *_places(("S", -2.2, 0.78), ("T", -1.1, 0.78), ("U", -3.15, 0.78)),
    ]


def _a5(told: dict[str, str]) -> Shapes:
    feet = [
        Polygon(((x - 0.2, 0.0), (x + 0.2, 0.0), (x + 0.05, 0.5), (x - 0.05, 0.5)), "ground")
        for x in (-1.2, 1.2)
    ]
    sack: Shapes = [_box(-0.6, 0.56, 0.34, 0.3, "load"), _words(-0.6, 0.86, f"60 {told['unit']}")]
    return [*_scales(-1.2, 1.2), *feet, _plank(-1.45, 1.45, 0.5), *sack]


def _b5(told: dict[str, str]) -> Shapes:
    tank: Shapes = [
        _box(-0.75 * L, 0.42, 0.3, 0.36, "load"),
        _words(-0.75 * L, 1.62, f"tank, 100 {told['unit']}", "right"),
    ]
    leader = Line(((-0.75 * L, 0.78), (-0.75 * L, 1.62)), "load", 0.08)
    return [*_tractor(), *tank, leader]


def _a6(told: dict[str, str]) -> Shapes:
    span = Dimension((-0.7, 0.85), (0.7, 0.85), told["gap"])
    return [*_two_pipes(-2.4, 2.4), span]


def _b6(told: dict[str, str]) -> Shapes:
    rail = Line(((0.3, 0.52), (2.1, 0.52)), "body", 0.25)
    return [*_tractor(), rail, Dimension((-L, 2.0), (0.0, 2.0), told["gap"])]


def _a7(told: dict[str, str]) -> Shapes:
    rack = Line(((-2.6, 0.65), (-3.3, 0.65)), "body", 0.25)
    box: Shapes = [_box(-2.85, 0.67, 0.32, 0.26, "load"), _words(-2.85, 0.93, "box")]
    wheel: Shapes = [
        Circle((-3.15, 0.38), 0.22, "counter", 0.3),
        _words(-3.4, 0.3, "wheel", "left"),
    ]
    return [*_wagon((-2.2,)), rack, *box, *wheel]


def _b7(told: dict[str, str]) -> Shapes:
    bracket = Line(((0.3, 0.5), (1.1, 0.4)), "body", 0.25)
    blade = Polygon(((1.1, 0.06), (1.2, 0.4), (1.12, 0.72), (1.05, 0.4)), "load")
    rack: Shapes = [
        _box(0.75, 0.8, 0.3, 0.26, "counter"),
        Line(((0.75, 0.8), (0.75, 0.45)), "body", 0.2),
    ]
    return [
        *_tractor((0.0,)),
        bracket,
        blade,
        *rack,
        _words(1.24, 0.4, "blade", "right"),
        _words(0.75, 1.06, "rack"),
    ]


def _a8(told: dict[str, str]) -> Shapes:
    at = (0.95, 0.45)
    return [*_tractor(), *_loader(at)]


def _b8(told: dict[str, str]) -> Shapes:
    rack = Line(((-2.6, 0.65), (-3.4, 0.65)), "body", 0.25)
    bales = [_box(x, 0.67, 0.34, 0.3, "load") for x in (-2.85, -3.2)]
    return [*_wagon(), rack, *bales, _words(-3.0, 0.97, "bales")]


def _a9(told: dict[str, str]) -> Shapes:
    wheels = [Circle((x, 0.36), 0.36, "body", 0.3) for x in (0.0, -2.4)]
    cab = Polygon(((-0.5, 0.5), (0.6, 0.5), (0.6, 1.0), (0.25, 1.0), (0.1, 1.6), (-0.5, 1.6)))
    shelf = Line(((-0.6, 1.6), (-2.9, 1.6)), "body", 0.25)
    posts = [Line(((x, 0.7), (x, 1.6)), "body", 0.15) for x in (-0.6, -2.9)]
    return [
        *_scales(0.0, -2.4),
        _plank(-3.0, 0.0, 0.62),
        cab,
        *wheels,
        shelf,
        *posts,
        _box(-1.3, 0.7, 0.36, 0.28, "load"),
        *_way((-1.3, 1.02), (-1.3, 1.55), "1", "right"),
        *_way((-1.45, 1.78), (-2.4, 1.78), "2", "up"),
    ]


def _b9(told: dict[str, str]) -> Shapes:
    mast = Line(((0.5, 0.2), (0.5, 1.7)), "body", 0.35)
    pallet: Shapes = [
        Line(((0.55, 0.3), (1.25, 0.3)), "body", 0.25),
        _box(0.9, 0.33, 0.5, 0.3, "load"),
    ]
    up = _way((0.9, 0.7), (0.9, 1.3), "1", "left")
    return [*_tractor(), mast, *pallet, *up, *_way((0.98, 1.4), (1.6, 1.4), "2", "up")]


def _tire(x: float, radius: float) -> Shapes:
    """A tire on hard ground, flat where it touches."""
    return [
        Circle((x, radius - 0.03), radius, "body", 0.3),
        Circle((x, radius - 0.03), 0.4 * radius, "body"),
        Line(((x - 0.14, 0), (x + 0.14, 0)), "front", 0.5),
        Label((x, 0), "contact patch", "front", "down", fixed=True),
    ]


def _a10(told: dict[str, str]) -> Shapes:
    return [
        Line(((-1.2, 0), (1.2, 0)), "ground", 0.4),
        *_tire(0.0, 0.4),
        _words(0.7, 0.0, "concrete", "up"),
    ]


def _b10(told: dict[str, str]) -> Shapes:
    tray = Polygon(((0.1, 0.55), (0.9, 0.55), (1.2, 0.95), (-0.2, 0.95)), "load")
    handle = Line(((0.0, 0.3), (1.9, 0.75)), "body", 0.25)
    legs = Line(((0.95, 0.5), (1.1, 0.0)), "body", 0.25)
    return [
        Line(((-0.7, 0), (2.1, 0)), "ground", 0.4),
        handle,
        legs,
        tray,
        *_tire(0.0, 0.32),
        _words(1.5, 0.0, "paved path", "up"),
    ]


def _a11(told: dict[str, str]) -> Shapes:
    at, back = (1.1, 0.35), (-L - 0.95, 0.62)
    return [
        *_tractor(),
        *_loader(at),
        *as_shapes([*outline.hitch(L, back), outline.ballast(back)]),
        _words(back[0], 0.88, "box"),
        _words(1.15, 0.65, "bucket", "right"),
    ]


def _b11(told: dict[str, str]) -> Shapes:
    tires = [_box(x, 0.0, 0.3, 0.95, "muted") for x in (-0.6, 0.6)]
    body: Shapes = [
        _box(0.0, 0.4, 0.8, 0.3),
        _box(0.0, 0.7, 0.55, 0.35),
        Line(((-0.35, 1.05), (-0.35, 1.8), (0.35, 1.8), (0.35, 1.05)), "body", 0.28),
    ]
    arms: Shapes = [
        Line(((0.4, 0.55), (1.3, 0.3)), "body", 0.25),
        Line(((-0.4, 0.55), (-1.35, 0.55)), "body", 0.25),
    ]
    loads: Shapes = [_box(1.5, 0.1, 0.8, 0.22, "load"), _box(-1.45, 0.45, 0.2, 0.3, "counter")]
    return [
        *_scale(-0.6, "left scale"),
        *_scale(0.6, "right scale"),
        *arms,
        *tires,
        *body,
        *loads,
        _words(1.5, 0.32, "side mower"),
        _words(-1.45, 0.75, "plate"),
    ]


def _a12(told: dict[str, str]) -> Shapes:
    bracket = Line(((0.3, 0.5), (0.8, 0.45)), "body", 0.25)
    block = as_shapes([outline.block((0.95, 0.45))])
    return [*_tractor((0.0,)), bracket, *block, _words(0.95, 0.28, "attachment", "down")]


def _b12(told: dict[str, str]) -> Shapes:
    shapes: Shapes = []
    for x, name, filled in ((0.0, "full", True), (1.6, "empty", False)):
        shapes += [
            *_scale(x, name),
            Polygon(
                ((x - 0.12, 0.2), (x + 0.12, 0.2), (x + 0.45, 0.9), (x - 0.45, 0.9)), "load", filled
            ),
            Line(((x - 0.1, 0.2), (x - 0.25, 0.0)), "body", 0.2),
            Line(((x + 0.1, 0.2), (x + 0.25, 0.0)), "body", 0.2),
        ]
    return shapes


_DRAWN: dict[tuple[int, str], Callable[[dict[str, str]], Shapes]] = {
    (1, "A"): _a1,
    (1, "B"): _b1,
    (2, "A"): _a2,
    (2, "B"): _b2,
    (3, "A"): _a3,
    (3, "B"): _b3,
    (4, "A"): _a4,
    (4, "B"): _b4,
    (5, "A"): _a5,
    (5, "B"): _b5,
    (6, "A"): _a6,
    (6, "B"): _b6,
    (7, "A"): _a7,
    (7, "B"): _b7,
    (8, "A"): _a8,
    (8, "B"): _b8,
    (9, "A"): _a9,
    (9, "B"): _b9,
    (10, "A"): _a10,
    (10, "B"): _b10,
    (11, "A"): _a11,
    (11, "B"): _b11,
    (12, "A"): _a12,
    (12, "B"): _b12,
}
