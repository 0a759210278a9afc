"""The free body: the machine cut loose from the ground, every force on it, and its arms.

The forces are drawn to scale; with ``letters`` the same
picture carries the letters of the blackboard instead.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from leverarm.axles import AxleLoads
from leverarm.machine import Attachment, Tractor
from leverarm.quantities import show
from leverarm.scene import outline
from leverarm.scene.machine_drawing import round_up
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
    extent,
)
from leverarm.scene.side_view import height_of

Arm: TypeAlias = Callable[[float, int], list[Shape]]  # drawn once its row is known


@dataclass(frozen=True)
class BodyForce:
    """One force on the body: its name, where it acts, its size (upward positive), its words."""

    name: str
    x: float
    y: float
    up_kg: float
    role: str
    text: str


def forces(
    tractor: Tractor,
    attachments: Sequence[Attachment],
    loads: AxleLoads,
    system: str | None = None,
    letters: bool = False,
) -> list[BodyForce]:
    """Every force on the body: each weight down, each reaction up."""
    L = tractor.wheelbase_m

    def force(name: str, x: float, y: float, up: float, role: str, letter: str) -> BodyForce:
        text = letter if letters else f"{letter} {show(abs(up), 'weight', system, decimals=0)}"
        return BodyForce(name, x, y, up, role, text)

    middle = 0.75 * outline.size_of(L)
    found = [
        force("weight of the machine", tractor.ahead_m, middle, -tractor.total_kg, "body", "T")
    ]
    for number, one in enumerate(attachments, 1):
        letter = "W" if len(attachments) < 2 else f"W{number}"
        x, y, name = one.ahead_m, height_of(one, L), f"weight of the {one.name}"
        found.append(force(name, x, y, -one.weight_kg, "load", letter))
    return [
        *found,
        force("front reaction", 0.0, 0.0, loads.front_kg, "front", "F"),
        force("rear reaction", -L, 0.0, loads.rear_kg, "rear", "R"),
    ]


def free_body(
    tractor: Tractor,
    attachments: Sequence[Attachment],
    loads: AxleLoads,
    *,
    about: str | None = None,
    system: str | None = None,
    letters: bool = False,
) -> Scene:
    """The isolated body as a Scene.

    loads    AxleLoads that act on it
    about    "front", "rear" or None: the pivot whose arms are drawn
    letters  True writes letters in place of numbers
    """
    acting = forces(tractor, attachments, loads, system, letters)
    reach = max(f.x for f in acting) - min(f.x for f in acting) + 1.0
    scale = 0.24 * reach / round_up(max(abs(f.up_kg) for f in acting))
    shapes: list[Shape] = [
        *_ghost(tractor, attachments),
        *(part for f in acting for part in _arrow(f, scale)),
    ]
    arms = _arms(acting, tractor, about, system, letters) if about else []
    low = extent(shapes)[1]
    shapes += [part for row, arm in enumerate(arms) for part in arm(low, row)]
    shapes += _pivot(tractor, about)
    x0, y0, x1, y1 = extent([s for s in shapes if not isinstance(s, Label)])
    return Scene(
        tuple(shapes),
        (x1 + 0.1, y0, x0 - 0.1, y1),
        f"Free body of {tractor.name}",
        _desc(acting, about, system, letters),
        (2.2, 2.2, 2.0, 1.6 * len(arms) + 1.6),
    )


def _ghost(tractor: Tractor, attachments: Sequence[Attachment]) -> list[Shape]:
    """The body itself, pale: it is there to hang arrows on."""
    parts = [*outline.tractor(tractor.wheelbase_m)]
    for one in attachments:
        at = (one.ahead_m, height_of(one, tractor.wheelbase_m))
        ahead = one.ahead_m > outline.nose(tractor.wheelbase_m) + 0.15
        parts += (
            [*outline.arms(tractor.wheelbase_m, at), *outline.bucket(tractor.wheelbase_m, at)]
            if ahead
            else []
        )
    return [_pale(part) for part in parts]


def _pale(part: Shape) -> Shape:
    if isinstance(part, Circle):
        return Circle(part.at, part.radius, "muted", width=0.08)
    if isinstance(part, Line):
        return Line(part.points, "muted", 0.12, dash=False)
    assert isinstance(part, Polygon), "an outline is circles, lines and polygons"
    return Polygon(part.points, "muted", width=0.08)


def _arrow(f: BodyForce, scale: float) -> list[Shape]:
    """A weight pulls from its center of gravity; a reaction pushes up from below."""
    length = abs(f.up_kg) * scale
    if f.up_kg >= 0:
        return [
            Arrow((f.x, f.y - length), (f.x, f.y), f.role, width=0.42),
            Label(
                (f.x, f.y - length / 2),
                f.text,
                f.role,
                "left" if f.role == "front" else "right",
                0.8,
                bold=True,
            ),
        ]
    return [
        Marker((f.x, f.y), f.role, "round", 0.5),
        Arrow((f.x, f.y + length), (f.x, f.y), f.role, width=0.42),
        Label((f.x, f.y + length), f.text, f.role, "up", 0.25, bold=True),
    ]


def _arms(
    acting: list[BodyForce], tractor: Tractor, about: str | None, system: str | None, letters: bool
) -> list[Arm]:
    """One dimension line for each force that has an arm about the pivot, longest lowest."""
    pivot = 0.0 if about == "front" else -tractor.wheelbase_m
    turning = sorted(
        (f for f in acting if abs(f.x - pivot) > 1e-9 and f.up_kg), key=lambda f: abs(f.x - pivot)
    )
    return [_arm_line(f, pivot, _arm_text(f, pivot, system, letters)) for f in turning]


def _arm_text(f: BodyForce, pivot: float, system: str | None, letters: bool) -> str:
    name = f.text.split()[0]
    return (
        f"arm of {name}" if letters else f"arm of {name} {show(abs(f.x - pivot), 'length', system)}"
    )


def _arm_line(f: BodyForce, pivot: float, text: str) -> Arm:
    def draw(low: float, row: int) -> list[Shape]:
        up = -0.7 - 1.6 * row
        drop = Line(((f.x, f.y), (f.x, low, 0.0, up - 0.4)), "muted", 0.05, dash=True)
        return [
            drop,
            Dimension(
                (f.x, low, 0.0, up),
                (pivot, low, 0.0, up),
                text,
                f.role,
                text.removeprefix("arm of "),
            ),
        ]

    return draw


def _pivot(tractor: Tractor, about: str | None) -> list[Shape]:
    if about is None:
        return []
    x = 0.0 if about == "front" else -tractor.wheelbase_m
    return [
        Marker((x, 0.0), "ink", "triangle", 1.1),
        Label((x, 0.0), "pivot", "ink", "right" if about == "front" else "left", 0.9, size=0.9),
    ]


def _desc(acting: list[BodyForce], about: str | None, system: str | None, letters: bool) -> str:
    """The forces in a sentence each, then the pivot."""
    sentences = ["The machine cut loose from the ground, facing left."]
    for f in acting:
        size = "" if letters else f" of {show(abs(f.up_kg), 'weight', system, decimals=0)}"
        where = (
            "over the front axle"
            if abs(f.x) < 1e-9
            else (
                f"{show(abs(f.x), 'length', system)} "
                f"{'ahead of' if f.x > 0 else 'behind'} the front axle"
            )
        )
        sentences.append(
            f"{f.name.capitalize()}{size}, {'up' if f.up_kg >= 0 else 'down'}, {where}."
        )
    return " ".join(
        sentences
        + (
            [f"Moments are taken about the {about} axle, whose reaction has no arm."]
            if about
            else []
        )
    )
