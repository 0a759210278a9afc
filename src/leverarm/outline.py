"""The one machine: a compact tractor with a loader, of nobody's make, faced left, from the side.

A place is meters ahead of the front axle and meters above the ground.  Lengths may be numbers or
recorded quantities: nothing here asks how large they are.  The body stretches with the wheelbase
and wheels stay round; ``size`` makes everything else larger or smaller than the machine is drawn.

Whoever draws decides what a kind looks like: machine, operator and tire, which stand there; frame,
bucket, ballast and deck, which hang on it.
"""

from typing import NamedTuple, TypeAlias

from leverarm.numerals import Numeric
from leverarm.stability.formulas import turned_ahead, turned_up

Place: TypeAlias = tuple[Numeric, Numeric]
# On the machine: a share of the wheelbase behind the front axle, meters behind that, meters up.
Spot: TypeAlias = tuple[float, float, float]


class Area(NamedTuple):
    """A closed area by its corners."""

    kind: str
    points: tuple[Place, ...]


class Disk(NamedTuple):
    """A circle; its radius in meters."""

    kind: str
    at: Place
    radius: float


class Rod(NamedTuple):
    """An open line; where the edge of an area is 1.6 wide, it is ``wide``."""

    kind: str
    points: tuple[Place, ...]
    wide: float


Part: TypeAlias = Area | Disk | Rod
Parts: TypeAlias = tuple[Part, ...]

FRONT_RADIUS_M, REAR_RADIUS_M = 0.34, 0.54
# Half the width of a tire, front and rear, as it is drawn from above and from behind.
HALF_TIRE_M = (0.10, 0.15)
# How far the hood reaches ahead of the front axle.
NOSE_M = 0.43
# A piece nearer than that hangs on no arms: they would fold back.
LEAST_REACH_M = 0.7

_HOOD = (
    (0.0, -0.42, 0.52),
    (0.0, -NOSE_M, 0.80),
    (0.0, -0.38, 0.92),
    (0.0, 0.02, 1.01),
    (0.48, 0.0, 1.07),
    (0.50, 0.0, 1.00),
    (0.50, 0.03, 0.54),
)
_FRAME = ((0.0, -0.10, 0.42), (0.0, -0.10, 0.56), (1.0, 0.0, 0.66), (1.0, 0.0, 0.50))
_FLOOR = ((0.50, 0.0, 0.54), (0.50, 0.0, 0.63), (0.70, 0.0, 0.63), (0.70, 0.0, 0.54))
_FENDER = (
    (1.0, -0.62, 0.66),
    (1.0, -0.58, 0.92),
    (1.0, -0.34, 1.15),
    (1.0, 0.0, 1.21),
    (1.0, 0.34, 1.13),
    (1.0, 0.56, 0.90),
    (1.0, 0.50, 0.86),
    (1.0, 0.28, 1.06),
    (1.0, 0.0, 1.13),
    (1.0, -0.30, 1.07),
    (1.0, -0.51, 0.88),
    (1.0, -0.55, 0.66),
)
_SEAT = (
    (1.0, -0.36, 1.08),
    (1.0, -0.36, 1.15),
    (1.0, 0.03, 1.15),
    (1.0, 0.13, 1.46),
    (1.0, 0.21, 1.45),
    (1.0, 0.12, 1.08),
)
# From where to where behind the rear axle the roll bar stands.
ROLL_BAR_M = (0.30, 0.37)
_ROLL_BAR = tuple(
    (1.0, ROLL_BAR_M[at], up) for at, up in ((0, 1.10), (0, 1.77), (1, 1.77), (1, 1.08))
)
_TORSO = (
    (1.0, -0.24, 1.14),
    (1.0, -0.27, 1.26),
    (1.0, -0.21, 1.48),
    (1.0, -0.11, 1.55),
    (1.0, -0.01, 1.49),
    (1.0, 0.05, 1.24),
    (1.0, 0.02, 1.14),
)
_LEG = (
    (1.0, -0.02, 1.15),
    (1.0, -0.50, 1.19),
    (1.0, -0.58, 1.12),
    (1.0, -0.66, 0.72),
    (1.0, -0.82, 0.70),
    (1.0, -0.82, 0.64),
    (1.0, -0.58, 0.64),
    (1.0, -0.46, 1.04),
    (1.0, -0.10, 1.02),
)
_ARM = (
    (1.0, -0.17, 1.48),
    (1.0, -0.30, 1.29),
    (1.0, -0.58, 1.34),
    (1.0, -0.59, 1.27),
    (1.0, -0.28, 1.20),
    (1.0, -0.11, 1.41),
)
_HEAD: Spot = (1.0, -0.11, 1.66)
_HEAD_M = 0.10
_VENT = ((0.0, -0.30, 0.74), (0.36, 0.0, 0.78))
_COLUMN = ((1.0, -0.65, 1.35), (1.0, -0.88, 1.02))
_STEERING = ((1.0, -0.76, 1.42), (1.0, -0.54, 1.28))

# Where the arms turn on the mast.
PIN: Spot = (0.27, 0.0, 1.20)
_MAST = ((0.27, -0.06, 0.58), (0.27, -0.06, 1.26), (0.27, 0.06, 1.26), (0.27, 0.06, 0.58))
# How far ahead the arms bend down, at least, and how high; half the width of an arm.
_BEND_M, _HALF_ARM_M = (0.66, 1.14), 0.045
# What hangs, round its own center of gravity: meters ahead and up.
BUCKET = (
    (-0.20, 0.26),
    (-0.10, 0.26),
    (-0.06, 0.02),
    (0.04, -0.06),
    (0.38, -0.14),
    (0.38, -0.19),
    (-0.14, -0.19),
    (-0.24, 0.0),
)
BUCKET_HEIGHT_M = 0.34
# Pallet forks the same way: a back and a tine.
_FORKS = (
    (-0.24, 0.30),
    (-0.16, 0.30),
    (-0.16, -0.15),
    (0.62, -0.17),
    (0.62, -0.21),
    (-0.24, -0.21),
)
# A stone rake the same way: a beam with tines.
_RAKE_TINES = (0.29, 0.15, 0.01, -0.13)
_RAKE = (
    (-0.24, 0.02),
    (-0.24, 0.28),
    (-0.16, 0.28),
    (-0.16, 0.10),
    (0.34, 0.10),
    *(
        (ahead + over, up)
        for ahead in _RAKE_TINES
        for over, up in ((0.05, 0.02), (0.05, -0.19), (0.0, -0.19), (0.0, 0.02))
    ),
)
# A weight box the same way.
_BOX = ((-0.24, 0.26), (0.24, 0.26), (0.20, -0.19), (-0.20, -0.19))
# The heap in a bucket.
_HEAP = ((-0.06, 0.22), (-0.02, 0.02), (0.06, -0.04), (0.34, -0.12), (0.26, 0.10), (0.08, 0.26))
_BALLAST = (
    (0.20, 0.24),
    (-0.20, 0.24),
    (-0.20, -0.16),
    (-0.13, -0.24),
    (0.13, -0.24),
    (0.20, -0.16),
)
BALLAST_HEIGHT_M = 0.51
# Any other weight.
_HALF_BLOCK_M = 0.17
_BLOCK = tuple(
    (a * _HALF_BLOCK_M, b * _HALF_BLOCK_M) for a, b in ((1, -1), (1, 1), (-1, 1), (-1, -1))
)
# A mid-mounted deck: half its length, its lower edge, its upper edge.
_HALF_DECK_M, _DECK_M = 0.48, (0.14, 0.34)
# The two links of the hitch: how high at the tractor, how far under the piece's center, how wide.
_LINKS = ((0.50, -0.10, 4.0), (0.86, 0.16, 3.0))
_HITCH_M = 0.20
# A loader's arms in shares of their length, along and across the line from pivot to bucket pin.
_LIFT_ARMS = ((0.0, 0.035), (0.55, 0.20), (1.0, 0.035), (1.0, -0.035), (0.56, 0.11), (0.0, -0.035))


def size_for(wheelbase_m: float) -> float:
    """How large a machine of another wheelbase is drawn beside the one of 1.65 m, within reason.

    >>> size_for(1.65), size_for(0.1), size_for(9)
    (1.0, 0.3, 1.5)
    """
    return min(max(wheelbase_m / 1.65, 0.3), 1.5)


def spot(wheelbase_m: Numeric, where: Spot, size: float = 1.0) -> Place:
    """A spot on the machine as a place."""
    share, behind, up = where
    return -share * wheelbase_m - behind * size, up * size


def larger(a: Numeric, b: Numeric) -> Numeric:
    """The larger of two, without asking which: (a + b + |a − b|)/2.

    >>> larger(0.75, 0.5), larger(-3, 2)
    (0.75, 2.0)
    """
    return (a + b + abs(a - b)) / 2


def tractor(wheelbase_m: Numeric, size: float = 1.0) -> Parts:
    """The bare tractor with its operator, what is behind first."""

    def at(where: Spot) -> Place:
        return spot(wheelbase_m, where, size)

    def area(points: tuple[Spot, ...], kind: str = "machine") -> Area:
        return Area(kind, tuple(map(at, points)))

    def rod(points: tuple[Spot, ...], wide: float) -> Rod:
        return Rod("machine", tuple(map(at, points)), wide)

    return (
        *(area(points) for points in (_FRAME, _ROLL_BAR, _SEAT, _FLOOR, _HOOD)),
        rod(_VENT, 1),
        rod(_COLUMN, 2),
        area(_TORSO, "operator"),
        Disk("operator", at(_HEAD), _HEAD_M * size),
        *_wheel(at((1.0, 0.0, REAR_RADIUS_M)), REAR_RADIUS_M * size),
        area(_FENDER),
        area(_LEG, "operator"),
        rod(_STEERING, 4),
        area(_ARM, "operator"),
        *_wheel(at((0.0, 0.0, FRONT_RADIUS_M)), FRONT_RADIUS_M * size),
    )


def _wheel(at: Place, radius: float) -> Parts:
    return (
        Disk("tire", at, radius),
        Disk("machine", at, 0.5 * radius),
        Disk("machine", at, 0.14 * radius),
    )


def loader(wheelbase_m: Numeric, hung: Place, size: float = 1.0) -> Parts:
    """Mast and arms, reaching for the center of gravity of what they carry, and their pin."""
    pin, wide = spot(wheelbase_m, PIN, size), _HALF_ARM_M * size
    hand = hung[0] - 0.20 * size, hung[1] + 0.02 * size
    bend = larger(_BEND_M[0] * size, (hand[0] + pin[0]) / 2), _BEND_M[1] * size
    # Arms of one width: each edge beside the line through pin, bend and hand.
    arms = (
        (pin[0], pin[1] + wide),
        (bend[0] + 0.4 * wide, bend[1] + wide),
        (hand[0] + wide, hand[1] + wide),
        (hand[0] - wide, hand[1] - wide),
        (bend[0] - 0.6 * wide, bend[1] - wide),
        (pin[0], pin[1] - wide),
    )
    mast = tuple(spot(wheelbase_m, one, size) for one in _MAST)
    return Area("frame", mast), Area("frame", arms), Disk("machine", pin, wide)


def lift_mast(pivot: Place, size: float = 1.0) -> Area:
    """The mast under the pivot of a loader that is drawn along its lift."""
    ahead, up = pivot
    half, low, over = 0.07 * size, 0.56 * size, up + 0.06 * size
    edge = ((ahead + half, low), (ahead + half, over), (ahead - half, over), (ahead - half, low))
    return Area("frame", edge)


def lift_arms(pivot: Place, arm_m: Numeric, turn: Place) -> Area:
    """A loader's arms turned about their pivot; ``turn`` is cosine and sine of their angle."""
    points = []
    for along, across in _LIFT_ARMS:
        x, y = along * arm_m, across * arm_m
        points.append((pivot[0] + turned_ahead(x, y, *turn), pivot[1] + turned_up(x, y, *turn)))
    return Area("frame", tuple(points))


def _round(kind: str, at: Place, edge: tuple[tuple[float, float], ...], size: float) -> Area:
    return Area(kind, tuple((at[0] + x * size, at[1] + y * size) for x, y in edge))


def bucket(at: Place, size: float = 1.0) -> Area:
    """A bucket round its center of gravity."""
    return _round("bucket", at, BUCKET, size)


def heap(at: Place, size: float = 1.0) -> Area:
    """What lies in a bucket whose center of gravity is there."""
    return _round("bucket", at, _HEAP, size)


def forks(at: Place, size: float = 1.0) -> Area:
    """Pallet forks round their center of gravity."""
    return _round("bucket", at, _FORKS, size)


def rake(at: Place, size: float = 1.0) -> Area:
    """A stone rake round its center of gravity."""
    return _round("bucket", at, _RAKE, size)


def weight_box(at: Place, size: float = 1.0) -> Area:
    """A box of weights on the loader, round its center of gravity."""
    return _round("bucket", at, _BOX, size)


def ballast(at: Place, size: float = 1.0) -> Area:
    """A ballast box round its center of gravity."""
    return _round("ballast", at, _BALLAST, size)


def block(at: Place, size: float = 1.0) -> Area:
    """Any other weight, round its center of gravity."""
    return _round("bucket", at, _BLOCK, size)


def hitch(wheelbase_m: Numeric, hung: Place, size: float = 1.0) -> Parts:
    """The links of the three-point hitch, reaching back to a piece."""
    return tuple(
        Rod(
            "machine",
            (spot(wheelbase_m, (1.0, _HITCH_M, up), size), (hung[0], hung[1] + over * size)),
            wide,
        )
        for up, over, wide in _LINKS
    )


def deck(ahead: Numeric) -> Area:
    """A mid-mounted deck with its center of gravity there."""
    half, (low, high) = _HALF_DECK_M, _DECK_M
    top = 0.7 * half
    return Area(
        "deck",
        ((ahead + half, low), (ahead - half, low), (ahead - top, high), (ahead + top, high)),
    )
