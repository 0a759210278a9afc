"""What everything weighs and where it is: the tractor and what hangs on it, as three lists."""

from leverarm.quantities import Refusal


def told(tractor, attachments):
    """Weights, stations and heights of a tractor and its attachments, in that order.

    Raises Refusal where a height was not told: slopes and braking work on it.

    >>> from leverarm.machine import demo_loader, demo_tractor
    >>> [round(kg) for kg in told(demo_tractor(), demo_loader())[0]]
    [1397, 209, 118]
    """
    for one in (tractor, *attachments):
        if one.height_m is None:
            raise Refusal(
                f"height of the {one.name}",
                "",
                "a height above the ground",
                "tell the height of its center of gravity, since braking and slopes work on it",
            )
    return tuple(
        zip(
            *(
                (one.total_kg if one is tractor else one.weight_kg, one.ahead_m, one.height_m)
                for one in (tractor, *attachments)
            )
        )
    )
