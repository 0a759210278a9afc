"""What quantities are made of, and whether an expression adds what cannot be added."""

from collections.abc import Callable, Mapping
from typing import TypeAlias

from leverarm.exercises.expressions.tree import (
    Call,
    Letter,
    Num,
    Power,
    Prod,
    Sum,
    Tree,
    children,
)

# How often weight and length stand in a quantity; a force counts as a weight.
MadeOf: TypeAlias = tuple[float, float]
MADE_OF: dict[str, tuple[int, int]] = {
    "weight": (1, 0),
    "force": (1, 0),
    "length": (0, 1),
    "moment": (1, 1),
    "area": (0, 2),
    "pressure": (1, -2),
    "number": (0, 0),
    "share": (0, 0),
    "angle": (0, 0),
}
PLAIN: MadeOf = (0, 0)


def sums_tell(kinds: Mapping[str, str]) -> Callable[[Tree], bool]:
    """A test of expressions in these letters: whether one adds unlike quantities somewhere.

    kinds   letter -> kind of quantity
    """
    known: dict[int, tuple[Tree, MadeOf | None]] = {}

    def made_of(tree: Tree) -> MadeOf | None:
        held = known.get(id(tree))
        if held is None:
            # The tree too, so that its id stays its own.
            held = known[id(tree)] = tree, _made_of(tree, kinds, made_of)
        return held[1]

    return lambda tree: made_of(tree) is None


def _made_of(
    tree: Tree, kinds: Mapping[str, str], made_of: Callable[[Tree], MadeOf | None]
) -> MadeOf | None:
    """What an expression is made of; None where it adds kilograms and meters."""
    if isinstance(tree, Letter):
        return MADE_OF[kinds[tree.name]]
    if isinstance(tree, Num):
        return PLAIN
    parts: list[MadeOf] = []
    for part in children(tree):
        found = made_of(part)
        if found is None:
            return None
        parts.append(found)
    if isinstance(tree, Prod):
        weight = length = 0.0
        for at, (one, other) in enumerate(parts):
            sign = 1 if at < len(tree.over) else -1
            weight, length = weight + sign * one, length + sign * other
        return weight, length
    if isinstance(tree, Sum):
        return parts[0] if parts.count(parts[0]) == len(parts) else None
    if isinstance(tree, Power):
        exponent = float(tree.exponent)
        return exponent * parts[0][0], exponent * parts[0][1]
    # Several readings keep their kind; sine and arctangent give a plain number.
    return PLAIN if isinstance(tree, Call) and len(parts) == 1 else parts[0]
