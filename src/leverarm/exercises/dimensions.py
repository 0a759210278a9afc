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


class Unlike(ValueError):
    """A sum of unlike quantities: kilograms and meters."""


def sums_tell(kinds: Mapping[str, str]) -> Callable[[Tree], bool]:
    """A test of expressions in these letters: whether one adds unlike quantities somewhere.

    kinds   letter -> kind of quantity
    """
    known: dict[int, tuple[Tree, MadeOf | None]] = {}

    def made_of(tree: Tree) -> MadeOf:
        held = known.get(id(tree))
        if held is None:
            try:
                found = _made_of(tree, kinds, made_of)
            except Unlike:
                known[id(tree)] = tree, None
                raise
            known[id(tree)] = tree, found
            return found
        if held[1] is None:
            raise Unlike
        return held[1]

    def adds_unlike(tree: Tree) -> bool:
        try:
            made_of(tree)
        except Unlike:
            return True
        return False

    return adds_unlike


def _made_of(tree: Tree, kinds: Mapping[str, str], made_of: Callable[[Tree], MadeOf]) -> MadeOf:
    if isinstance(tree, Letter):
        return MADE_OF[kinds[tree.name]]
    if isinstance(tree, Num):
        return PLAIN
    parts = [made_of(part) for part in children(tree)]
    if isinstance(tree, Sum) and any(part != parts[0] for part in parts):
        raise Unlike
    if isinstance(tree, Prod):
        over, under = parts[: len(tree.over)], parts[len(tree.over) :]
        weight, length = (sum(m[at] for m in over) - sum(m[at] for m in under) for at in (0, 1))
        return weight, length
    if isinstance(tree, Power):
        exponent = float(tree.exponent)
        return exponent * parts[0][0], exponent * parts[0][1]
    # Several readings keep their kind; sine and arctangent give a plain number.
    return PLAIN if isinstance(tree, Call) and len(parts) == 1 else parts[0]
