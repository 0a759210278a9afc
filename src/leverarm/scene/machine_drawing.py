"""What every picture of a machine on two scales shares: ground, lean, arrows of the scales, edges.

The machine faces left, as on the blackboard.  Arrows are drawn to the scale shown in the
picture; a hollow arrow shows what was there before.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from leverarm.axles import AxleLoads, Lift
from leverarm.quantities import show
from leverarm.scene import outline
from leverarm.scene.shapes import Arrow, Box, Label, Line, Polygon, Shape, extent, turned

PAD_M = 0.06
LIFTED_DEG = 3.0


@dataclass(frozen=True)
class Look:
    """How a picture of a machine is shown.

    system      unit system
    hidden      True keeps the readings back: a prediction comes first
    doubling    True marks where a hung weight counts double
    grade_deg   nose uphill positive
    """

    system: str | None = None
    hidden: bool = False
    doubling: bool = False
    grade_deg: float = 0.0

    def weight(self, kg: float, decimals: int = 0) -> str:
        """A weight as text in the system shown, whole: no scale of a yard knows more."""
        return show(kg, "weight", self.system, decimals=decimals)

    def length(self, m: float) -> str:
        """A length as text in the system shown."""
        return show(m, "length", self.system)


PLAIN = Look()


def round_up(kg: float) -> float:
    """The next of 1, 1.5, 2, 3, 5, 7 times a power of ten.

    >>> round_up(790.0), round_up(1600)
    (1000.0, 2000.0)
    """
    power = 10.0 ** math.floor(math.log10(kg))
    return next(n * power for n in (1, 1.5, 2, 3, 5, 7, 10) if n * power >= kg * (1 - 1e-9))


def ground(wheelbase_m: float, ahead: float, behind: float) -> list[Shape]:
    """The ground line from ``ahead`` to ``behind``, and the two scale platforms on it."""
    u = outline.size_of(wheelbase_m)
    pads = [
        Polygon(
            ((x - 0.26 * u, 0), (x + 0.26 * u, 0), (x + 0.26 * u, -PAD_M), (x - 0.26 * u, -PAD_M)),
            role,
        )
        for x, role in ((0.0, "front"), (-wheelbase_m, "rear"))
    ]
    return [Line(((ahead, -PAD_M), (behind, -PAD_M)), "ground", 0.16), *pads]


def leant(shapes: Iterable[Any], wheelbase_m: float, lift: Lift | None) -> tuple[Any, ...]:
    """The shapes, tilted a little where an axle has left its scale."""
    if not lift:
        return tuple(shapes)
    if lift.axle == "rear":
        return turned(shapes, (0.0, 0.0), -LIFTED_DEG)
    return turned(shapes, (-wheelbase_m, 0.0), LIFTED_DEG)


def reaction_arrows(
    wheelbase_m: float,
    now: AxleLoads | None,
    before: AxleLoads | None,
    scale: float,
    look: Look,
    *,
    earlier: str = "was ",
    sides: tuple[str, str] = ("left", "right"),
    down: float = -1.3,
) -> list[Shape]:
    """What each scale pushes up, with its reading; an earlier reading as a hollow arrow.

    scale       meters of arrow for each kg
    earlier     what stands before the earlier reading
    sides       where the words of front and rear stand;  down  how many ems under the ground
    """
    shapes: list[Shape] = []
    for x, axle, side in ((0.0, "front", sides[0]), (-wheelbase_m, "rear", sides[1])):
        old, new = (getattr(state, f"{axle}_kg") if state else None for state in (before, now))
        new = None if look.hidden else new
        shapes += [
            _push(x, kg, axle, scale, ghost) for kg, ghost in ((old, True), (new, False)) if kg
        ]
        if before or now:
            name, text = axle.capitalize(), "?" if new is None else look.weight(new)
            tail = "" if old is None else f"\n{earlier}{look.weight(old)}"
            at, short = (x, -PAD_M, 0.0, down), f"{name}\n{text}"
            shapes.append(Label(at, f"{name} {text}{tail}", axle, side, 0.9, short, bold=True))
    return shapes


def _push(x: float, kg: float, axle: str, scale: float, ghost: bool) -> Arrow:
    return Arrow((x, -PAD_M - kg * scale), (x, -PAD_M), axle, ghost, 0.85 if ghost else 0.42)


def nothing_left(lift: Lift, wheelbase_m: float, height_m: float) -> Label:
    """The words over an axle that carries nothing."""
    axle = lift.axle
    return Label(
        (-wheelbase_m if axle == "rear" else 0.0, height_m),
        f"The {axle} axle carries nothing",
        axle,
        "up",
        0.2,
        short=f"{axle} axle:\nnothing left",
        bold=True,
    )


def stepped_box(shapes: Sequence[Shape], top: float = -math.inf) -> Box:
    """What is shown: all shapes, at least up to ``top``.

    The edges go in steps, so that a small move does not rescale the picture.
    """
    low, bottom, high, up = extent([s for s in shapes if not isinstance(s, Label)])
    up = max(up, top)
    return math.ceil(high * 4) / 4, bottom, math.floor(low * 4) / 4, math.ceil(up * 5) / 5
