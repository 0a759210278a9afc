"""What can be cut free on the board: what is drawn of it, where forces may act, and where to cut.

A place is told as on the machine's outline: a share of the wheelbase, meters behind that, meters
up.  The proportions are a drawing's, not a machine's: on the board lengths are letters.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import cos, pi, sin

from leverarm.numerals import Numeric
from leverarm.outline import (
    BALLAST_HEIGHT_M,
    BUCKET,
    BUCKET_HEIGHT_M,
    FRONT_RADIUS_M,
    REAR_RADIUS_M,
    Spot,
    spot,
)
from leverarm.stage import plank_outline as plank
from leverarm.stage import tractor_outline as machine
from leverarm.stage.elements import Element, element
from leverarm.stage.plank_case import ENDS
from leverarm.stage.sheet import Paper, area, stroke
from leverarm.stage.stand import Stand

Point = tuple[Numeric, Numeric]
PLANK_TOP_M = 0.092


@dataclass(frozen=True)
class Thing:
    """Something that can be cut free.

    apart_m     from the near support to the far one
    ahead_m, behind_m   how far it reaches beyond both, so that it fits on the paper
    places      where forces may act, by name
    lengths     each letter's two ends, places both
    parts       the outline of each part, by name
    bodies      the parts that each offered body is made of
    larger      how much larger than a tractor it is drawn
    """

    name: str
    apart_m: float
    ahead_m: float
    behind_m: float
    places: dict[str, Spot]
    lengths: dict[str, tuple[str, str]]
    parts: dict[str, tuple[Spot, ...]]
    bodies: dict[str, tuple[str, ...]]
    larger: float = 1.0


def _wheel(share: float, radius: float) -> tuple[Spot, ...]:
    turns = [pi * k / 8 for k in range(16)]
    return tuple((share, radius * cos(t), radius + radius * sin(t)) for t in turns)


_FRONT_WHEEL = _wheel(0.0, FRONT_RADIUS_M)
_REAR_WHEEL = _wheel(1.0, REAR_RADIUS_M)
_TRACTOR = (
    *_FRONT_WHEEL,
    *_REAR_WHEEL,
    *((0.0, -0.43, 0.52), (0.0, -0.43, 0.95), (1.0, 0.3, 1.77), (1.0, 0.37, 1.77)),
    (1.0, -0.2, 1.76),
)
_AHEAD_M = 1.2
_BUCKET = tuple((0.0, -_AHEAD_M - x, BUCKET_HEIGHT_M + y) for x, y in BUCKET)
_LOADER = ((0.27, -0.06, 0.58), (0.27, 0.06, 1.26), (0.0, -0.66, 1.19))
_GROUND = ((0.0, -0.5, 0.0), (1.0, 0.6, 0.0), (1.0, 0.6, -0.07), (0.0, -0.5, -0.07))
_BLOCK = tuple((1.0, behind, up) for behind in (0.72, 1.12) for up in (0.28, 0.72))
_AXLES: dict[str, Spot] = {"front axle": (0.0, 0.0, 0.0), "rear axle": (1.0, 0.0, 0.0)}
_TRACTOR_PLACES: dict[str, Spot] = {**_AXLES, "center of gravity": (0.57, 0.0, 0.70)}
_MIDWAY: dict[str, Spot] = {"midpoint": (0.5, 0.0, 0.45), "middle": (0.5, 0.0, 0.45)}
_TRACTOR_LENGTHS = {"x": ("front axle", "center of gravity"), "L": ("front axle", "rear axle")}
_TRACTOR_PARTS = {
    "tractor": _TRACTOR,
    "front wheels": _FRONT_WHEEL,
    "rear wheels": _REAR_WHEEL,
    "ground": _GROUND,
}
_ALONE: dict[str, tuple[str, ...]] = {name: (name,) for name in _TRACTOR_PARTS}
_APART_M = 1.2
_END_M = ENDS * _APART_M
_BOARD = tuple(
    (share, out, up) for share, out in ((0.0, -_END_M), (1.0, _END_M)) for up in (0.05, 0.09)
)
_JUG_AT = 0.32
_JUG = tuple((_JUG_AT, x, up) for x in (-0.085, 0.085) for up in (0.09, 0.34))
_SCALES = ((0.0, -0.15, 0.0), (1.0, 0.15, 0.0), (1.0, 0.15, -0.05), (0.0, -0.15, -0.05))

_TRACTOR_ALONE = Thing(
    "tractor",
    1.65,
    0.45,
    0.6,
    {**_TRACTOR_PLACES, **_MIDWAY},
    _TRACTOR_LENGTHS,
    _TRACTOR_PARTS,
    _ALONE,
)
_WITH_BUCKET = Thing(
    "bucket",
    1.65,
    1.6,
    0.6,
    {
        **_TRACTOR_ALONE.places,
        "bucket": (0.0, -_AHEAD_M, 0.34),
        "pins": (0.0, -0.98, 0.46),
        "frame": (0.0, -0.3, 1.15),
        "bolts": (0.27, 0.0, 0.60),
    },
    {
        **_TRACTOR_LENGTHS,
        "a": ("bucket", "front axle"),
        "a1": ("bucket", "front axle"),
        "a2": ("frame", "front axle"),
    },
    {**_TRACTOR_PARTS, "bucket": _BUCKET, "frame": _LOADER},
    {
        **_ALONE,
        "bucket": ("bucket",),
        "loader": ("frame", "bucket"),
        "tractor and bucket": ("tractor", "frame", "bucket"),
        "tractor and loader": ("tractor", "frame", "bucket"),
    },
)
_WITH_BALLAST = Thing(
    "ballast",
    1.65,
    0.45,
    1.2,
    {
        **_TRACTOR_ALONE.places,
        "counterweight": (1.0, 0.92, BALLAST_HEIGHT_M),
        "hitch": (1.0, 0.62, 0.50),
    },
    {**_TRACTOR_LENGTHS, "b": ("rear axle", "counterweight")},
    {**_TRACTOR_PARTS, "counterweight": _BLOCK},
    {
        **_ALONE,
        "counterweight": ("counterweight",),
        "tractor and counterweight": ("tractor", "counterweight"),
    },
)
_PLANK = Thing(
    "plank",
    _APART_M,
    _END_M,
    _END_M,
    {
        "left scale": (0.0, 0.0, 0.0),
        "right scale": (1.0, 0.0, 0.0),
        "middle": (0.5, 0.0, PLANK_TOP_M),
        "jug": (_JUG_AT, 0.0, PLANK_TOP_M),
    },
    {"S": ("left scale", "right scale"), "d": ("left scale", "jug")},
    {"plank": _BOARD, "jug": _JUG, "scales": _SCALES},
    {
        "plank": ("plank",),
        "jug": ("jug",),
        "plank and jug": ("plank", "jug"),
        "scales": ("scales",),
    },
    larger=2.0,
)
_WITH_LOADER = replace(_WITH_BUCKET, name="loader")
THINGS = {
    one.name: one for one in (_TRACTOR_ALONE, _WITH_BUCKET, _WITH_LOADER, _WITH_BALLAST, _PLANK)
}
# The place that tells what is drawn; without any of them it is the bare tractor.
_SHOWS = {"jug": "plank", "frame": "loader", "bucket": "bucket", "counterweight": "ballast"}


def thing_with(places: Sequence[str]) -> Thing:
    """What is drawn where forces may act at these places.

    >>> thing_with(["front axle", "bucket"]).name, thing_with(["rear axle"]).name
    ('bucket', 'tractor')
    """
    return THINGS[next((thing for place, thing in _SHOWS.items() if place in places), "tractor")]


def stand_of(thing: Thing, sheet: Paper, room: float) -> Stand:
    """It stands on the paper, in the middle of the room from the left edge."""
    larger = replace(sheet, per_m=sheet.per_m * thing.larger)
    wide = (thing.ahead_m + thing.apart_m + thing.behind_m) * larger.per_m
    near = (room - wide) / 2 + thing.ahead_m * larger.per_m
    return Stand(replace(larger, near_x=near), thing.apart_m, 0.0, 0.0)


def drawn_thing(thing: Thing, stand: Stand) -> Element:
    """It, and a thin line for what it stands on."""
    if thing.name == "plank":
        jug_x = stand.at(_JUG_AT, 0, 0)[0]
        return element(
            "g",
            plank.scales_under_plank(stand),
            plank.plank_parts(stand),
            plank.jug(stand, jug_x),
        )
    left, right = stand.at(0.0, -0.5, 0.0), stand.at(1.0, 0.6, 0.0)
    parts = [stroke([left, right], "grid", 2)]
    at = _AHEAD_M, BUCKET_HEIGHT_M
    if thing.name in ("bucket", "loader"):
        parts.append(
            machine.loader_part(stand, at, 0.0, "piece" if thing.name == "loader" else "machine")
        )
    parts.append(machine.tractor_parts(stand))
    if thing.name in ("bucket", "loader"):
        parts.append(machine.bucket_part(stand, at))
    if thing.name == "ballast":
        block = spot(thing.apart_m, thing.places["counterweight"])
        parts += [machine.hitch_part(stand, block, 0.0), machine.ballast_part(stand, block)]
    return element("g", parts)


def cut_round(thing: Thing, body: str, stand: Stand) -> Element:
    """The dashed line along which scissors would cut it free."""
    points: list[tuple[float, float]] = []
    margin = 7.0 * stand.sheet.width / 960 if not stand.sheet.narrow else 4.0
    for part in thing.bodies[body]:
        for place in thing.parts[part]:
            x, y = stand.at(*place)
            points += [
                (x + margin * cos(pi * k / 4), y + margin * sin(pi * k / 4)) for k in range(8)
            ]
    return area(_hull(points), "cut", 2)


def _hull(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """The corners of the tightest line around points (both halves from left to right)."""

    def half(ordered: list[tuple[float, float]]) -> list[tuple[float, float]]:
        found: list[tuple[float, float]] = []
        for x, y in ordered:
            while len(found) > 1:
                (x1, y1), (x2, y2) = found[-2:]
                if (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1) > 0:
                    break
                found.pop()
            found.append((x, y))
        return found[:-1]

    ordered = sorted(set(points))
    return half(ordered) + half(ordered[::-1])
