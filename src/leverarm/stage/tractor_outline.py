"""The one machine: a compact tractor with a loader, of nobody's make, faced left.

Places are told by how far along the wheelbase they lie (0 at the front axle, 1 at the rear), by
meters beyond that, and by meters above the ground; so the body stretches with the wheelbase and
the wheels stay round.
"""

from leverarm.numerals import Numeric
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.recorder import least
from leverarm.stage.sheet import area, stroke
from leverarm.stage.stand import Stand, platform

FRONT_RADIUS_M, REAR_RADIUS_M = 0.34, 0.54

# (share of the wheelbase, meters behind that, meters up)
_HOOD = (
    (0.0, -0.42, 0.52),
    (0.0, -0.43, 0.80),
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
_ROLL_BAR = ((1.0, 0.30, 1.10), (1.0, 0.30, 1.77), (1.0, 0.37, 1.77), (1.0, 0.37, 1.08))
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
_HEAD = (1.0, -0.11, 1.66, 0.10)
_MAST = ((0.27, -0.06, 0.58), (0.27, -0.06, 1.26), (0.27, 0.06, 1.26), (0.27, 0.06, 0.58))
# Where the arms turn on the mast.
PIN = (0.27, 0.0, 1.20)
# The bucket's outline round its own center of gravity, meters ahead and up.
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
# A ballast box round its own center of gravity, meters behind and up.
_BALLAST = (
    (-0.20, 0.24),
    (0.20, 0.24),
    (0.20, -0.16),
    (0.13, -0.24),
    (-0.13, -0.24),
    (-0.20, -0.16),
)
BALLAST_HEIGHT_M = 0.51


def platforms(stand: Stand) -> Element:
    """The two scales, as wide as their wheels need."""
    return element(
        "g",
        platform(stand, "front", FRONT_RADIUS_M),
        platform(stand, "rear", 0.65 * REAR_RADIUS_M),
    )


def _wheel(stand: Stand, share: float, radius: float) -> Element:
    x, y = stand.at(share, 0, radius)
    return element(
        "g",
        *(
            element(
                "circle",
                class_=f"st-area-{kind}",
                cx=px(x),
                cy=px(y),
                r=f"{part * radius * stand.sheet.per_m:.1f}",
                stroke_width="1.6",
            )
            for part, kind in ((1.0, "tire"), (0.5, "machine"), (0.14, "machine"))
        ),
    )


def tractor_parts(stand: Stand) -> Element:
    """The bare tractor with its operator, gray: only scales carry color."""

    def piece(points: tuple[tuple[float, float, float], ...], kind: str = "machine") -> Element:
        return area([stand.at(*point) for point in points], kind)

    share, behind, up, radius = _HEAD
    x, y = stand.at(share, behind, up)
    head = element(
        "circle",
        class_="st-area-operator",
        cx=px(x),
        cy=px(y),
        r=f"{radius * stand.sheet.per_m:.1f}",
        stroke_width="1.6",
    )
    wheel = stroke([stand.at(1.0, -0.76, 1.42), stand.at(1.0, -0.54, 1.28)], "body", 4)
    column = stroke([stand.at(1.0, -0.65, 1.35), stand.at(1.0, -0.88, 1.02)], "body", 2)
    vent = stroke([stand.at(0.0, -0.30, 0.74), stand.at(0.36, 0.0, 0.78)], "body", 1)
    return element(
        "g",
        piece(_FRAME),
        piece(_ROLL_BAR),
        piece(_SEAT),
        piece(_FLOOR),
        piece(_HOOD),
        vent,
        column,
        piece(_TORSO, "operator"),
        head,
        _wheel(stand, 1.0, REAR_RADIUS_M),
        piece(_FENDER),
        piece(_LEG, "operator"),
        wheel,
        piece(_ARM, "operator"),
        _wheel(stand, 0.0, FRONT_RADIUS_M),
    )


def loader_part(
    stand: Stand, bucket_at: tuple[Numeric, Numeric], pale: Numeric, kind: str = "machine"
) -> Element:
    """The loader frame: mast and arms, reaching for the bucket.

    pale    1 draws it faintly
    kind    "piece" draws it as what hangs on the tractor, "ghost" as what is not there now
    """
    pin = stand.at(*PIN)
    scale = stand.sheet.per_m
    hand = (bucket_at[0] + 0.20 * scale, bucket_at[1] - 0.02 * scale)
    elbow = (
        least(stand.sheet.x(0.66), (hand[0] + pin[0]) / 2),
        stand.ground - 1.14 * scale,
    )
    # Arms of one width: each edge beside the line through pin, elbow and hand.
    wide = 0.045 * scale
    arms = [
        (pin[0], pin[1] - wide),
        (elbow[0] - 0.4 * wide, elbow[1] - wide),
        (hand[0] - wide, hand[1] - wide),
        (hand[0] + wide, hand[1] + wide),
        (elbow[0] + 0.6 * wide, elbow[1] + wide),
        (pin[0], pin[1] + wide),
    ]
    mast = [stand.at(*point) for point in _MAST]
    return element(
        "g",
        *(_loader_piece(stand, points, kind) for points in (mast, arms)),
        element(
            "circle",
            class_="st-area-ghost" if kind == "ghost" else "st-area-machine",
            cx=px(pin[0]),
            cy=px(pin[1]),
            r=f"{0.045 * scale:.1f}",
            stroke_width="1.6",
        ),
        opacity=f"{1 - 0.6 * pale:.2f}",
    )


def _loader_piece(stand: Stand, points: list[tuple[Numeric, Numeric]], kind: str) -> Element:
    if kind != "piece":
        return area(points, kind)
    fill = f"url(#st@-{stand.sheet.name}-frame)"
    return element(
        "polygon", class_="st-area-piece", points=corners(points), stroke_width="2.2", fill=fill
    )


def forks_part(stand: Stand, at: tuple[Numeric, Numeric]) -> Element:
    """Pallet forks round their center of gravity."""
    return _hung(stand, at, _FORKS, "hung-bucket")


def bucket_part(stand: Stand, at: tuple[Numeric, Numeric], kind: str = "hung-bucket") -> Element:
    """The bucket round its center of gravity; kind "ghost" draws what is not there now."""
    return _hung(stand, at, BUCKET, kind)


def _hung(
    stand: Stand,
    at: tuple[Numeric, Numeric],
    outline: tuple[tuple[float, float], ...],
    kind: str,
) -> Element:
    scale = stand.sheet.per_m
    points = [(at[0] - dx * scale, at[1] - dy * scale) for dx, dy in outline]
    return element(
        "polygon",
        class_=f"st-area-{kind}",
        points=corners(points),
        stroke_width="2.2",
        fill=f"url(#st@-{stand.sheet.name}-hung)" if kind == "hung-bucket" else "none",
    )


def hitch_part(stand: Stand, ballast_at: tuple[Numeric, Numeric], pale: Numeric) -> Element:
    """The three-point hitch, reaching back to a piece; pale 1 draws it faintly."""
    scale = stand.sheet.per_m
    x, y = ballast_at
    links = [
        stroke([stand.at(1.0, 0.20, up), (x, y + down * scale)], "body", wide)
        for up, down, wide in ((0.50, 0.10, 4), (0.86, -0.16, 3))
    ]
    return element("g", links, opacity=f"{1 - 0.6 * pale:.2f}")


def ballast_part(stand: Stand, at: tuple[Numeric, Numeric], kind: str = "hung-bucket") -> Element:
    """A ballast box round its center of gravity; kind "ghost" draws what is not there now."""
    scale = stand.sheet.per_m
    points = [(at[0] + dx * scale, at[1] - dy * scale) for dx, dy in _BALLAST]
    fill = f"url(#st@-{stand.sheet.name}-ballast)" if kind == "hung-bucket" else "none"
    return element(
        "polygon",
        class_=f"st-area-{kind}",
        points=corners(points),
        stroke_width="2.2",
        fill=fill,
    )


def deck_part(stand: Stand, points: list[tuple[Numeric, Numeric]]) -> Element:
    """What mows, hatched upright, at its corners on the sheet."""
    fill = f"url(#st@-{stand.sheet.name}-deck)"
    return element(
        "polygon", class_="st-area-piece", points=corners(points), stroke_width="1.6", fill=fill
    )
