"""Vectors in space, as triples (ahead, left, up): what sideways tipping needs, and no more."""

import math
from typing import TypeAlias

Vector: TypeAlias = tuple[float, float, float]

UP = (0.0, 0.0, 1.0)
LEFT = (0.0, 1.0, 0.0)


def minus(p: Vector, q: Vector) -> Vector:
    """The arrow from q to p."""
    return p[0] - q[0], p[1] - q[1], p[2] - q[2]


def plus(p: Vector, q: Vector) -> Vector:
    """Both arrows, one after the other."""
    return p[0] + q[0], p[1] + q[1], p[2] + q[2]


def scaled(k: float, p: Vector) -> Vector:
    """An arrow k times as long."""
    return k * p[0], k * p[1], k * p[2]


def dot(p: Vector, q: Vector) -> float:
    """Scalar product."""
    return sum(a * b for a, b in zip(p, q))


def cross(p: Vector, q: Vector) -> Vector:
    """Vector product, right-handed.

    >>> cross((1, 0, 0), (0, 1, 0))
    (0, 0, 1)
    """
    return p[1] * q[2] - p[2] * q[1], p[2] * q[0] - p[0] * q[2], p[0] * q[1] - p[1] * q[0]


def turned_about(point: Vector, start: Vector, end: Vector, degrees: float) -> Vector:
    """A point turned about the line from start to end, right-handed.

    Equation    v' = v cos + (u x v) sin + u (u.v)(1 - cos), v from start, u the line's unit arrow
    Source      Rodrigues' rotation formula

    >>> [round(x, 9) for x in turned_about((1, 0, 0), (0, 0, 0), (0, 0, 2), 90)]
    [0.0, 1.0, 0.0]
    """
    u, v = _unit(minus(end, start)), minus(point, start)
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return plus(
        start, plus(plus(scaled(c, v), scaled(s, cross(u, v))), scaled(dot(u, v) * (1 - c), u))
    )


def _unit(p: Vector) -> Vector:
    return scaled(1 / math.sqrt(dot(p, p)), p)
