"""A plain machine of simple shapes, x ahead of the front axle, y above the ground.

No real machine: circles, boxes and lines in the proportions of a compact
tractor, stretched to the given wheelbase.
"""

from leverarm.scene.shapes import Circle, Line, Point, Polygon, Shape

# The proportions below belong to this wheelbase; others scale from it within reason.
_DRAWN_AT_M = 1.65


def size_of(wheelbase_m: float) -> float:
    """How much larger than drawn the wheels and the body are, within reason."""
    return min(max(wheelbase_m / _DRAWN_AT_M, 0.3), 1.5)


def wheels(wheelbase_m: float) -> tuple[Circle, ...]:
    """Front and rear wheel, each with its hub."""
    u = size_of(wheelbase_m)
    front, rear = 0.34 * u, 0.54 * u
    return (
        Circle((-wheelbase_m, rear), rear, "body", width=0.3),
        Circle((-wheelbase_m, rear), 0.2 * u, "muted"),
        Circle((0.0, front), front, "body", width=0.3),
        Circle((0.0, front), 0.12 * u, "muted"),
    )


def nose(wheelbase_m: float) -> float:
    """How far the machine itself reaches ahead of its front axle."""
    return 0.36 * size_of(wheelbase_m)


def tractor(wheelbase_m: float) -> tuple[Shape, ...]:
    """Frame, hood, fender, seat, steering wheel and roll bar, then the wheels on top."""
    u, L = size_of(wheelbase_m), wheelbase_m
    frame = _box(0.1 * u, -L - 0.1 * u, 0.38 * u, 0.56 * u)
    bonnet = Polygon(
        ((0.36 * u, 0.5 * u), (0.33 * u, 0.92 * u), (-0.42 * L, 1.02 * u), (-0.46 * L, 0.5 * u))
    )
    guard = Polygon(
        (
            (-L + 0.62 * u, 0.72 * u),
            (-L + 0.42 * u, 1.08 * u),
            (-L - 0.3 * u, 1.14 * u),
            (-L - 0.52 * u, 0.82 * u),
        )
    )
    seat = Polygon(
        (
            (-L + 0.42 * u, 1.1 * u),
            (-L + 0.4 * u, 1.22 * u),
            (-L + 0.04 * u, 1.22 * u),
            (-L - 0.06 * u, 1.55 * u),
            (-L - 0.16 * u, 1.53 * u),
            (-L - 0.08 * u, 1.12 * u),
        )
    )
    bar = Line(((-L - 0.34 * u, 1.0 * u), (-L - 0.38 * u, 1.85 * u)), "body", 0.28)
    wheel = Line(((-0.44 * L, 0.98 * u), (-0.52 * L - 0.08 * u, 1.26 * u)), "body", 0.12)
    rim = Line(((-0.52 * L + 0.08 * u, 1.32 * u), (-0.52 * L - 0.22 * u, 1.18 * u)), "body", 0.22)
    return (frame, bar, seat, guard, bonnet, wheel, rim, *wheels(L))


def _box(front: float, back: float, low: float, high: float, role: str = "body") -> Polygon:
    return Polygon(((front, low), (front, high), (back, high), (back, low)), role)


def arms(wheelbase_m: float, at: Point) -> tuple[Shape, ...]:
    """Loader arms from their mast, over an elbow, to what they carry at a point."""
    u = size_of(wheelbase_m)
    pivot = (-0.3 * wheelbase_m, 1.12 * u)
    hand = (at[0] - 0.16 * u, at[1] + 0.04 * u)
    elbow = (max(0.45 * u, 0.5 * (pivot[0] + hand[0])), max(0.95 * u, hand[1] + 0.1 * u))
    mast = Line(((-0.3 * wheelbase_m, 0.5 * u), pivot), "load", 0.4)
    return mast, Line((pivot, elbow, hand), "load", 0.4), Circle(pivot, 0.06 * u, "load")


def bucket(wheelbase_m: float, at: Point) -> tuple[Polygon, ...]:
    """A bucket from the side, its center of gravity at the point."""
    x, y = at
    u = size_of(wheelbase_m)
    return (
        Polygon(
            (
                (x - 0.16 * u, y + 0.26 * u),
                (x - 0.22 * u, y - 0.08 * u),
                (x - 0.1 * u, y - 0.22 * u),
                (x + 0.38 * u, y - 0.22 * u),
                (x + 0.02 * u, y - 0.06 * u),
                (x + 0.0 * u, y + 0.26 * u),
            ),
            "load",
        ),
    )


def block(wheelbase_m: float, at: Point) -> tuple[Polygon, ...]:
    """Any other weight: a block around its center of gravity."""
    half = 0.17 * size_of(wheelbase_m)
    return (_box(at[0] + half, at[0] - half, at[1] - half, at[1] + half, "load"),)
