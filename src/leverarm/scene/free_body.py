"""The free body: the machine cut loose from the ground, every force on it, and the arms about a pivot.

The forces are drawn to scale where numbers are told; with ``letters`` the same
picture carries the letters of the blackboard instead.
"""

from dataclasses import dataclass

from leverarm.quantities import show
from leverarm.scene import outline
from leverarm.scene.shapes import (
    Arrow,
    Circle,
    Dimension,
    Label,
    Line,
    Marker,
    Polygon,
    Scene,
    extent,
)
from leverarm.scene.side_view import height_of, round_up


@dataclass(frozen=True)
class Force:
    """One force on the body: what it is, where it acts, how large (upward positive), how it is called."""

    name: str
    x: float
    y: float
    up_kg: float
    role: str
    text: str


def forces(tractor, attachments, loads, system="kg", letters=False):
    """Every force on the body: each weight down, each reaction up."""
    marks = [""] if len(attachments) < 2 else [f"{i}" for i in range(1, len(attachments) + 1)]
    told = [
        (
            "weight of the machine",
            tractor.ahead_m,
            0.75 * outline.size_of(tractor.wheelbase_m),
            -tractor.total_kg,
            "body",
            "T",
        )
    ]
    told += [
        (
            f"weight of the {one.name}",
            one.ahead_m,
            height_of(one, tractor.wheelbase_m),
            -one.weight_kg,
            "load",
            f"W{mark}",
        )
        for one, mark in zip(attachments, marks)
    ]
    told += [
        ("front reaction", 0.0, 0.0, loads.front_kg, "front", "F"),
        ("rear reaction", -tractor.wheelbase_m, 0.0, loads.rear_kg, "rear", "R"),
    ]
    return [
        Force(
            name,
            x,
            y,
            up,
            role,
            letter if letters else f"{letter} {show(abs(up), 'weight', system)}",
        )
        for name, x, y, up, role, letter in told
    ]


def free_body(tractor, attachments, loads, *, about=None, system="kg", letters=False):
    """The isolated body as a Scene.

    loads    AxleLoads that act on it
    about    "front", "rear" or None: the pivot whose arms are drawn
    letters  True writes letters in place of numbers
    """
    acting = forces(tractor, attachments, loads, system, letters)
    reach = max(f.x for f in acting) - min(f.x for f in acting) + 1.0
    scale = 0.24 * reach / round_up(max(abs(f.up_kg) for f in acting))
    shapes = [*_ghost(tractor, attachments), *(part for f in acting for part in _arrow(f, scale))]
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


def _ghost(tractor, attachments):
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


def _pale(part):
    if isinstance(part, Circle):
        return Circle(part.at, part.radius, "muted", width=0.08)
    if isinstance(part, Line):
        return Line(part.points, "muted", 0.12, dash=False)
    return Polygon(part.points, "muted", width=0.08)


def _arrow(f, scale):
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


def _arms(acting, tractor, about, system, letters):
    """One dimension line for each force that has an arm about the pivot, longest lowest."""
    pivot = 0.0 if about == "front" else -tractor.wheelbase_m
    turning = sorted(
        (f for f in acting if abs(f.x - pivot) > 1e-9 and f.up_kg), key=lambda f: abs(f.x - pivot)
    )
    return [_arm(f, pivot, _arm_text(f, pivot, system, letters)) for f in turning]


def _arm_text(f, pivot, system, letters):
    name = f.text.split()[0]
    return (
        f"arm of {name}" if letters else f"arm of {name} {show(abs(f.x - pivot), 'length', system)}"
    )


def _arm(f, pivot, text):
    def draw(low, row):
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


def _pivot(tractor, about):
    if about is None:
        return []
    x = 0.0 if about == "front" else -tractor.wheelbase_m
    return [
        Marker((x, 0.0), "ink", "triangle", 1.1),
        Label((x, 0.0), "pivot", "ink", "right" if about == "front" else "left", 0.9, size=0.9),
    ]


def _desc(acting, about, system, letters):
    """The forces in a sentence each, then the pivot."""
    said = ["The machine cut loose from the ground, facing left."]
    for f in acting:
        size = "" if letters else f" of {show(abs(f.up_kg), 'weight', system)}"
        where = (
            "over the front axle"
            if abs(f.x) < 1e-9
            else (
                f"{show(abs(f.x), 'length', system)} {'ahead of' if f.x > 0 else 'behind'} the front axle"
            )
        )
        said.append(f"{f.name.capitalize()}{size}, {'up' if f.up_kg >= 0 else 'down'}, {where}.")
    return " ".join(
        said
        + (
            [f"Moments are taken about the {about} axle, whose reaction has no arm."]
            if about
            else []
        )
    )
