"""The one machine seen from above, faced left, with a pad under each wheel and a box beside it.

Places are told as in the outline from the side: how far along the wheelbase they lie (0 at the
front axle, 1 at the rear), meters beyond that, and meters to the machine's right, which is up.
The outline knows no width, so this is a drawing of its own; wheels, nose, mast and roll bar stand
where they stand there.
"""

from dataclasses import dataclass, replace

from leverarm.numerals import Numeric
from leverarm.outline import (
    FRONT_RADIUS_M,
    HALF_TIRE_M,
    NOSE_M,
    PIN,
    REAR_RADIUS_M,
    ROLL_BAR_M,
)
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.sheet import Paper, area, box, stroke, words

# Where a machine's track was not told, in meters.
USUAL_TRACK_M = (1.10, 1.14)
# Each wheel by its axle and side, in the order they are read; a side's sign is to the right.
WHEELS = ("front left", "front right", "rear left", "rear right")
_TO_RIGHT = {"left": -1, "right": 1}
_SHARE = {"front": 0.0, "rear": 1.0}
_RADIUS_M = {"front": FRONT_RADIUS_M, "rear": REAR_RADIUS_M}
_HALF_TIRE_M = dict(zip(_SHARE, HALF_TIRE_M, strict=True))
# How far a pad reaches beyond its tire, in meters.
_PAD_M = 0.05
# Where forks and a bucket begin ahead of the front axle, in meters.
FORKS_AHEAD_M, BUCKET_AHEAD_M = 0.72, 0.98
_BLADES = ((0.08, 0.20), (1.05, 0.20), (1.05, 0.30), (0.08, 0.30))
_CARRIAGE = ((0.0, -0.42), (0.08, -0.42), (0.08, 0.42), (0.0, 0.42))
_BUCKET = ((0.0, -0.66), (0.60, -0.66), (0.60, 0.66), (0.0, 0.66))


@dataclass(frozen=True)
class Above:
    """How a machine lies on a sheet, seen from above.

    track_m     between the middles of the front wheels, and of the rear wheels
    middle      the center line's place down the sheet
    """

    sheet: Paper
    wheelbase_m: float
    track_m: tuple[float, float]
    middle: float

    def at(self, share: float, behind_m: Numeric, right_m: float) -> tuple[Numeric, Numeric]:
        """A place on the sheet."""
        return (
            self.sheet.x(-share * self.wheelbase_m - behind_m),
            self.middle - right_m * self.sheet.per_m,
        )

    def wheel(self, name: str) -> tuple[Numeric, Numeric]:
        """The middle of a wheel of WHEELS."""
        axle, side = name.split()
        half = self.track_m[axle == "rear"] / 2
        return self.at(_SHARE[axle], 0.0, _TO_RIGHT[side] * half)

    def half(self, name: str, margin_m: float = 0.0) -> tuple[float, float]:
        """Half the length and half the width of a wheel, with a margin, on the sheet."""
        axle = name.split()[0]
        scale = self.sheet.per_m
        return (_RADIUS_M[axle] + margin_m) * scale, (_HALF_TIRE_M[axle] + margin_m) * scale


def above_floor(sheet: Paper, wheelbase_m: float, track_m: tuple[float, float] | None) -> Above:
    """A machine seen from above between the top of a sheet and its floor, drawn so that it fits."""
    track = track_m or USUAL_TRACK_M
    across = max(track) + 2 * (_HALF_TIRE_M["rear"] + _PAD_M)
    room = sheet.width - sheet.near_x - 4.6 * sheet.label
    least_top = 0.5 * sheet.body if sheet.narrow else 4.7 * sheet.body
    fits = min(
        sheet.per_m,
        (sheet.floor - 6 - least_top) / across,
        room / (wheelbase_m + REAR_RADIUS_M + _PAD_M),
    )
    return Above(
        replace(sheet, per_m=fits), wheelbase_m, track, sheet.floor - 6 - fits * across / 2
    )


def pads(above: Above) -> Element:
    """The scales, a pad in the color of its axle under each wheel."""
    parts = []
    for name in WHEELS:
        x, y = above.wheel(name)
        long, wide = above.half(name, _PAD_M)
        axle = name.split()[0]
        edge = [(x - long, y - wide), (x + long, y - wide), (x + long, y + wide)]
        parts += [
            box(x - long, y - wide, 2 * long, 2 * wide, f"{axle}-fill"),
            stroke([*edge, (x - long, y + wide), (x - long, y - wide)], axle, 2),
        ]
    return element("g", parts)


def tractor_above(above: Above) -> Element:
    """The bare tractor from above, gray: only scales carry color."""
    front, rear = (half / 2 for half in above.track_m)

    def piece(
        ends: tuple[tuple[float, float], tuple[float, float]], low: float, high: float
    ) -> Element:
        (share_a, a), (share_b, b) = ends
        points = [(share_a, a, low), (share_b, b, low), (share_b, b, high), (share_a, a, high)]
        return area([above.at(*point) for point in points], "machine")

    tires = []
    for name in WHEELS:
        x, y = above.wheel(name)
        long, wide = above.half(name)
        tires.append(box(x - long, y - wide, 2 * long, 2 * wide, "tire", 1.6))
    steering = above.at(1.0, -0.62, 0.0)
    fenders = [
        piece(((1.0, -0.52), (1.0, 0.48)), low, high)
        for low, high in ((rear - 0.24, rear - 0.15), (0.15 - rear, 0.24 - rear))
    ]
    return element(
        "g",
        piece(((0.0, -0.06), (0.0, 0.06)), -front, front),
        piece(((1.0, -0.09), (1.0, 0.09)), -rear, rear),
        tires,
        piece(((0.30, 0.0), (1.0, 0.44)), -0.16, 0.16),
        piece(((0.0, -NOSE_M), (0.50, 0.03)), -0.25, 0.25),
        piece(((0.50, 0.03), (1.0, -0.38)), -0.36, 0.36),
        fenders,
        piece(((1.0, -0.36), (1.0, 0.10)), -0.22, 0.22),
        piece(((1.0, ROLL_BAR_M[0]), (1.0, ROLL_BAR_M[1])), 0.06 - rear, rear - 0.06),
        element(
            "circle",
            class_="st-line-body",
            cx=px(steering[0]),
            cy=px(steering[1]),
            r=f"{0.17 * above.sheet.per_m:.1f}",
            stroke_width="3",
        ),
    )


def loader_above(above: Above, begins_m: Numeric) -> Element:
    """The two arms of the loader, from the mast to where the piece in front begins."""
    arms = []
    for low, high in ((0.27, 0.34), (-0.34, -0.27)):
        near = [above.at(PIN[0], 0.0, low), above.at(PIN[0], 0.0, high)]
        far = [above.at(0.0, -begins_m, high), above.at(0.0, -begins_m, low)]
        arms.append(area([*near, *far], "machine"))
    return element("g", arms)


def forks_above(above: Above, begins_m: Numeric) -> Element:
    """Pallet forks: the carriage and two blades, hatched as every hung piece is."""
    other = tuple((ahead, -right) for ahead, right in _BLADES)
    return element("g", (_hung(above, one, begins_m) for one in (_CARRIAGE, _BLADES, other)))


def bucket_above(above: Above, begins_m: Numeric, *, ghost: bool = False) -> Element:
    """The bucket, hatched; ghost True draws its dashed edge, where it is not there now."""
    if ghost:
        edge = [above.at(0.0, -(begins_m + ahead), right) for ahead, right in _BUCKET]
        return area(edge, "ghost", 2.0)
    return _hung(above, _BUCKET, begins_m)


def _hung(above: Above, points: tuple[tuple[float, float], ...], begins_m: Numeric) -> Element:
    return element(
        "polygon",
        class_="st-area-hung-bucket",
        points=corners(above.at(0.0, -(begins_m + ahead), right) for ahead, right in points),
        stroke_width="2.2",
        fill=f"url(#st@-{above.sheet.name}-hung)",
    )


def reading_box(above: Above, wheel: str, top: str, now: str) -> Element:
    """A box beside a wheel with what its pad shows, and a small line above that."""
    _, y = above.wheel(wheel)
    return _box(above, wheel.split()[0], y, top, now)


def axle_box(above: Above, axle: str, top: str, now: str) -> Element:
    """A box on the center line, ahead of the front axle or behind the rear one."""
    return _box(above, axle, above.middle, top, now)


def beside_m(above: Above) -> float:
    """How far ahead of the front axle its boxes reach."""
    long, _ = above.half("front left", _PAD_M)
    return (long + 12 + 4.2 * above.sheet.label) / above.sheet.per_m


def _box(above: Above, axle: str, y: Numeric, top: str, now: str) -> Element:
    sheet = above.sheet
    wide, high = 4.2 * sheet.label, 2.6 * sheet.label
    x = above.at(_SHARE[axle], 0.0, 0.0)[0]
    long, near = (above.half(f"{one} left", _PAD_M)[0] for one in (axle, "front"))
    # Ahead of its wheel; for a rear wheel only where the wheels leave room between them.
    between = sheet.per_m * above.wheelbase_m - long - near - 12
    ahead = axle == "front" or (between >= wide and y != above.middle)
    left = x - long - 6 - wide if ahead else x + long + 6
    return element(
        "g",
        element(
            "rect",
            class_="st-tag",
            x=px(left),
            y=px(y - high / 2),
            width=px(wide),
            height=px(high),
            stroke_width="1.6",
        ),
        words(left + wide / 2, y - 0.25 * sheet.label, top, sheet.small, "muted"),
        words(left + wide / 2, y + 0.95 * sheet.label, now, sheet.label, bold=True),
    )
