"""What a loader, a bucket or ballast usually weighs, and where it usually hangs.

Common practice, no source.  It lets the gate ask a question; it never changes a number.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from leverarm.weighing.spelling import meant_name


@dataclass(frozen=True)
class Usual:
    """Where a kind of piece usually hangs, in wheelbases ahead of the front axle, and its weight
    as part of the bare tractor's.
    """

    least_ahead: float
    most_ahead: float
    ahead: float
    spread: float
    weight: float
    most_weight: float


KINDS = {
    "frame": Usual(-0.35, 0.6, 0.12, 0.15, 0.13, 0.45),
    "front": Usual(0.05, 1.6, 0.75, 0.2, 0.07, 0.35),
    "rear": Usual(-3.0, -0.6, -1.5, 0.4, 0.17, 0.8),
}
# What a piece's name tells of its kind, the surer word first.
_NAMED = (
    ("frame", ("frame",)),
    ("front", ("bucket", "fork", "grapple", "front w", "front b")),
    ("frame", ("loader",)),
    ("rear", ("ballast", "counterweight", "rear w", "rear b")),
)


def hung_together(pieces: Sequence[Usual]) -> tuple[float, float, float, float]:
    """(weight as part of the bare tractor's, least, most and middle place) of pieces together."""
    share = sum(one.weight for one in pieces)
    least, far, middle = (
        sum(one.weight * getattr(one, name) for one in pieces) / share
        for name in ("least_ahead", "most_ahead", "ahead")
    )
    return share, least, far, middle


def piece_kind(piece: str) -> str | None:
    """Which kind a piece's name tells, a slip of a key in it or not, or None: nothing is expected
    of a piece we do not know.

    >>> piece_kind("loader bucket"), piece_kind("front ballast"), piece_kind("sprayer") is None
    ('front', 'front', True)
    """
    name = meant_name(piece)
    for kind, words in _NAMED:
        if any(word in name for word in words):
            return kind
    return None
