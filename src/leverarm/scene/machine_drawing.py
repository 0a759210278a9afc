"""The one machine as shapes of a scene, and the ground with two scales under it."""

from collections.abc import Iterable

from leverarm import outline
from leverarm.outline import Area, Disk, Part
from leverarm.scene.shapes import Circle, Line, Polygon, Shape

# How thick a scale is.
PAD_M = 0.06
# What stands there; whatever hangs on it is a load.
_ROLES = {"machine": "body", "operator": "operator", "tire": "tire"}
# How wide a line of the outline is that is 1 wide there, in ems.
_EM = 1 / 16


def as_shapes(parts: Iterable[Part]) -> list[Shape]:
    """Parts of the outline as shapes."""
    return [_shape(part, _ROLES.get(part.kind, "load")) for part in parts]


def _shape(part: Part, role: str) -> Shape:
    if isinstance(part, Area):
        return Polygon(part.points, role)
    if isinstance(part, Disk):
        return Circle(part.at, part.radius, role)
    return Line(part.points, role, part.wide * _EM)


def tractor_shapes(wheelbase_m: float) -> list[Shape]:
    """The bare tractor with its operator, as large as its wheelbase asks for."""
    return as_shapes(outline.tractor(wheelbase_m, outline.size_for(wheelbase_m)))


def ground(wheelbase_m: float, ahead: float, behind: float) -> list[Shape]:
    """The ground line from ``ahead`` to ``behind``, and the two scale platforms on it."""
    half = 0.26 * outline.size_for(wheelbase_m)
    pads = [
        Polygon(((x - half, 0), (x + half, 0), (x + half, -PAD_M), (x - half, -PAD_M)), role)
        for x, role in ((0.0, "front"), (-wheelbase_m, "rear"))
    ]
    return [Line(((ahead, -PAD_M), (behind, -PAD_M)), "ground", 0.16), *pads]
