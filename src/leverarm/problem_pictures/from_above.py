"""A machine from above, turning about a point: both axles and their wheels on a strip.

A plan of a turn, not the one outline seen from above: nothing of the body counts here.
"""

from leverarm.problem_pictures.told import Told
from leverarm.scene.shapes import Dimension, Label, Line, Marker, Polygon, Scene, Shape


def turn_scene(told: Told) -> Scene:
    """Both axles, and the point about which the machine turns."""
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
