"""What everything weighs and where it is: the tractor and what hangs on it, as three lists."""

from collections.abc import Sequence
from typing import TypeAlias

from leverarm.machine import Attachment, Tractor
from leverarm.quantities import Refusal

Lists: TypeAlias = tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]


def weights_and_places(tractor: Tractor, attachments: Sequence[Attachment]) -> Lists:
    """Weights, stations and heights of a tractor and its attachments, in that order.

    Raises Refusal where a height was not told: slopes and braking work on it.

    >>> from leverarm.machine import demo_loader, demo_tractor
    >>> [round(kg) for kg in weights_and_places(demo_tractor(), demo_loader())[0]]
    [1397, 209, 118]
    """
    everything: list[Tractor | Attachment] = [tractor, *attachments]
    heights = []
    for one in everything:
        if one.height_m is None:
            raise Refusal(
                f"height of the {one.name}",
                "",
                "a height above the ground",
                "tell the height of its center of gravity, since braking and slopes work on it",
            )
        heights.append(one.height_m)
    return (
        (tractor.total_kg, *(one.weight_kg for one in attachments)),
        (tractor.ahead_m, *(one.ahead_m for one in attachments)),
        tuple(heights),
    )
