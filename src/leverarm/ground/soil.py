"""Stress beside the axis of a loaded circle, and the line on which it has one value.

Off the axis no short formula exists.  The stress of all the points of the circle
adds up to one integral round its rim, smooth enough for a plain midpoint sum::

    stress / pressure = 1/pi  integral 0..pi  [1 - (z^2/(z^2 + s^2))^(factor/2)] a (a - r cos t)/s^2
                              dt
    s^2 = a^2 + r^2 - 2 a r cos t      distance to the rim point at angle t, seen from above

with a the radius, r the offset, z the depth.  At r = 0 it is stress_under_center.
"""

from functools import lru_cache
from math import cos, pi

from leverarm.ground.formulas import depth_of_stress

RIM_POINTS = 64


@lru_cache(maxsize=8)
def _cosines(points):
    """Cosines of the midpoint angles round half the rim."""
    return tuple(cos(pi * (i + 0.5) / points) for i in range(points))


def stress_beside(
    pressure: float,
    radius: float,
    depth: float,
    offset: float,
    factor: float,
    points: int = RIM_POINTS,
) -> float:
    """Vertical stress at a depth and an offset from the axis of an evenly pressed circle.

    pressure    kPa on the circle; radius, depth, offset  m, the depth above zero
    factor      3 (Boussinesq) to 6; points  of the midpoint sum
    Error       below 1e-9 of the pressure from half a radius deep; 1e-4 at a twentieth of it
    Source      superposition of stress_from_point over the circle

    >>> round(stress_beside(100, 1, 1, 0, 4), 9), round(stress_beside(100, 1, 1, 1, 3), 1)
    (75.0, 33.2)
    """
    total = 0.0
    for c in _cosines(points):
        away = radius * radius + offset * offset - 2 * radius * offset * c
        faded = 1 - (depth * depth / (depth * depth + away)) ** (factor / 2)
        total += faded * radius * (radius - offset * c) / away if away else 0.0
    return pressure * total / points


def bulb(
    pressure: float, radius: float, stress: float, factor: float, steps: int = 12
) -> tuple[tuple[float, float], ...]:
    """The line on which the soil carries one stress, as (offset, depth) from under the center out
    to the rim.

    Empty where the pressure never reaches that stress.  Offsets are good to a hundredth of the
    span.

    >>> line = bulb(200, 0.08, 50, 5)
    >>> line[0][0], round(line[0][1], 3), line[-1]
    (0.0, 0.229, (0.08, 0.0))
    """
    if not 0 < stress < pressure:
        return ()
    deepest = depth_of_stress(pressure, radius, stress, factor)
    depths = [deepest * cos(pi / 2 * i / steps) for i in range(1, steps)]
    sides = [(_offset(pressure, radius, z, stress, factor), z) for z in depths]
    return ((0.0, deepest), *sides, (radius, 0.0))


def _offset(pressure, radius, depth, stress, factor):
    """Offset at which the stress has fallen to a value: a false position that keeps both ends
    moving (Illinois).
    """

    def over(offset):
        return stress_beside(pressure, radius, depth, offset, factor, 24) - stress

    near, far = 0.0, 2 * (radius + depth)
    above, below = over(near), over(far)
    for _ in range(9):
        middle = far - below * (far - near) / (below - above)
        found = over(middle)
        if abs(found) < 0.002 * stress:
            break
        if found * below < 0:
            near, above = far, below
        else:
            above /= 2
        far, below = middle, found
    return middle
