"""Drawings without a tractor's side: a plank, a tire, two wheels, a slope, a trolley, a turn."""

from leverarm.problem_pictures.columns import scale_column
from leverarm.problem_pictures.told import Told
from leverarm.scene.machine_drawing import PAD_M
from leverarm.scene.shapes import (
    Arrow,
    Circle,
    Dimension,
    Label,
    Line,
    Marker,
    Polygon,
    Scene,
    Shape,
)
from leverarm.scene.sketch import tire_sketch, wheels_sketch


def plank_scene(told: Told) -> Scene:
    """A plank on two scales with a jug on it; x grows to the right, from the left scale."""
    span, jug = told.size("S"), told.size("d")
    low = -PAD_M - 0.5
    shapes: list[Shape] = [
        *(
            Polygon(((x - 0.16, 0), (x + 0.16, 0), (x + 0.16, -PAD_M), (x - 0.16, -PAD_M)), role)
            for x, role in ((0.0, "front"), (span, "rear"))
        ),
        Polygon(((-0.2, 0.0), (span + 0.2, 0.0), (span + 0.2, 0.05), (-0.2, 0.05)), "body"),
        Polygon(
            ((jug - 0.08, 0.05), (jug + 0.08, 0.05), (jug + 0.08, 0.3), (jug - 0.08, 0.3)), "load"
        ),
        *scale_column(0.0, 0.16, "front", None),
        *scale_column(span, 0.16, "rear", None),
        Label((0.0, low, 0.0, 0.0), "left scale", "front", "down", 0.3),
        Label((span, low, 0.0, 0.0), "right scale", "rear", "down", 0.3),
        Arrow((jug, 0.62), (jug, 0.3), "load", width=0.4),
        Label((jug, 0.62), told.label("J"), "load", "up", 0.25, bold=True),
    ]
    if told.label("P"):
        middle = span / 2
        shapes += [
            Arrow((middle, 0.02), (middle, -0.3), "load", width=0.4),
            Label((middle, -0.3), told.label("P"), "load", "down", 0.3, bold=True),
        ]
    if gained := told.label("jug_on_right"):
        at = (span - 0.08, low + 0.25)
        shapes.append(Label(at, f"goes up by\n{gained}", "rear", "left", 0.3, bold=True))
    arm = told.label("d") or ("?" if told.kind == "length" else "")
    spans = [(span, told.label("S"), "ink"), (jug, arm, "load")]
    for row, (end, text, role) in enumerate(one for one in spans if one[1]):
        up = -2.6 - 1.7 * row
        shapes.append(Dimension((0.0, low, 0.0, up), (end, low, 0.0, up), text, role))
    opens = "Both columns are open at the bottom: what the scales show is not given."
    desc = told.described(f"A plank on two scales, a jug on it. {opens}", "S d")
    box = (-0.3, low, span + 0.3, 0.75)
    return Scene(tuple(shapes), box, "Plank on two scales", desc, (1, 1, 1, 5.6))


def tire_scene(told: Told) -> Scene:
    """A tire on its contact patch, the givens beside it."""
    return tire_sketch(
        list(told.labels.values()), told.described("A tire on its contact patch.", "")
    )


def wheels_scene(told: Told) -> Scene:
    """A front and a rear wheel, the givens between them."""
    return wheels_sketch(
        list(told.labels.values()), told.described("A front and a rear wheel side by side.", "")
    )


def gradient_scene(told: Told) -> Scene:
    """A slope that rises so many for a hundred along."""
    rise = told.size("G") / 100
    shapes: list[Shape] = [
        Polygon(((0, 0), (1, 0), (1, rise)), "ground", False, 0.2),
        Label((0.5, rise / 2), told.label("G"), "ink", "up", 0.5, bold=True),
        Label((0.0, 0.0), "φ ?", "ink", "left", 0.4, bold=True),
    ]
    desc = told.described("A slope, its angle at the foot marked with a question mark.", "G")
    return Scene(tuple(shapes), (-0.1, -0.05, 1.1, rise + 0.1), "Slope", desc, (3, 1, 1.5, 1))


def trolley_scene(told: Told) -> Scene:
    """A four-wheeled trolley from behind, with its track and its center of gravity."""
    half, height = told.size("t") / 2, told.size("h")
    shapes: list[Shape] = [
        Line(((-half - 0.3, 0), (half + 0.3, 0)), "ground", 0.16),
        *(
            Polygon(((x - 0.1, 0), (x + 0.1, 0), (x + 0.1, 0.5), (x - 0.1, 0.5)), "body")
            for x in (-half, half)
        ),
        Polygon(
            ((-half + 0.15, 0.3), (half - 0.15, 0.3), (half - 0.15, 1.1), (-half + 0.15, 1.1)),
            "body",
        ),
        Line(((0, 0), (0, height)), "muted", 0.1, True),
        Marker((0, height), "ink", "diamond", 0.8),
        Label((0, height / 2), told.label("h"), "ink", "right", 0.4, bold=True, backed=True),
        Label((0, height), "center of gravity", "ink", "up", 0.5),
        Dimension((-half, 0, 0, -1.2), (half, 0, 0, -1.2), told.label("t")),
        Circle((0, height), 0.03, "ink"),
    ]
    desc = told.described("A four-wheeled trolley from behind, on level ground.", "t h")
    box = (-half - 0.4, -0.02, half + 0.4, max(1.15, height + 0.1))
    return Scene(tuple(shapes), box, "Trolley from behind", desc, (1, 1, 1, 2.4))


def turn_scene(told: Told) -> Scene:
    """Both axles on a strip, and the point about which the machine turns.

    A plan of a turn, not the one outline seen from above: nothing of the body counts here.
    """
    L, radius = told.size("L"), told.size("O")
    front, rear = 0.5, 0.6
    shapes: list[Shape] = [
        Polygon(((L + 0.3, 0.22), (L + 0.3, -0.22), (-0.3, -0.22), (-0.3, 0.22)), "body"),
        Line(((L, front), (L, -front)), "front", 0.3),
        Line(((0.0, rear), (0.0, -rear)), "rear", 0.3),
        *(_wheel(L, side * front, 0.24, "front") for side in (1, -1)),
        *(_wheel(0.0, side * rear, 0.36, "rear") for side in (1, -1)),
        Line(((0.0, -rear), (0.0, -radius)), "muted", 0.1, True),
        Marker((0.0, -radius), "ink", "cross", 0.8),
        Label((0.0, -radius), "turning point", "ink", "left", 0.6),
        Dimension((-0.75, 0.0), (-0.75, -radius), "", "load"),
        Label((-0.75, -0.6 * radius), told.label("O"), "load", "right", 0.5, bold=True),
        Dimension((0.0, 0.95), (L, 0.95), told.label("L")),
    ]
    if lead := told.label("e"):
        shapes.append(Label((L, -front), lead, "front", "down", 0.8))
    desc = told.described("A machine from above; both axles turn about one point.", "O L")
    box = (L + 0.6, -radius - 0.2, -1.0, 1.15)
    return Scene(tuple(shapes), box, "A turn from above", desc, (2, 6, 1, 1))


def _wheel(x: float, y: float, half: float, role: str) -> Polygon:
    return Polygon(
        ((x + half, y - 0.1), (x + half, y + 0.1), (x - half, y + 0.1), (x - half, y - 0.1)), role
    )
