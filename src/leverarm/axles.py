"""A machine and what hangs on it, turned into axle loads: level or on a grade.

:func:`predict` answers what each scale will read, :func:`compare` what changed
between two states, :func:`shares` which piece did how much of it.  All three are
the same superposition of :mod:`leverarm.statics`.
"""

import math
from dataclasses import dataclass
from itertools import accumulate

from leverarm import statics
from leverarm.machine import Attachment, Tractor
from leverarm.quantities import Refusal, read, show

MOST_GRADE_DEG = 45.0
MOST_PIECES = 100


@dataclass(frozen=True)
class Lift:
    """Where statics ends: the axle that carries nothing, the piece that did it, and at what weight.

    weight_kg is the weight of that piece at which the last load left the axle;
    None where the grade alone did it.
    """

    axle: str
    piece: str
    weight_kg: float | None

    def sentence(self, system: str = "kg") -> str:
        """What happened, in words with the number, ready to show in either system of units."""
        at = (
            f"when the {self.piece} weighed {show(self.weight_kg, 'weight', system)}"
            if self.weight_kg is not None
            else "on this grade, before anything was hung"
        )
        return (
            f"The {self.axle} axle carries nothing. It lost its last load {at}. "
            "From there the machine tips, and statics ends."
        )


@dataclass(frozen=True)
class AxleLoads:
    """What the two scales read.  On a grade they read normal to it: total = weight x cosine.

    lift        None while both axles press; else a Lift, and the readings are only what force
                balance leaves: nothing on the lifted axle, everything on the other
    """

    front_kg: float
    rear_kg: float
    lift: Lift | None = None

    @property
    def total_kg(self) -> float:
        """Both readings together."""
        return self.front_kg + self.rear_kg

    @property
    def front_share(self) -> float:
        """Front reading in percent of both readings."""
        return statics.share(self.front_kg, self.total_kg)

    @property
    def rear_share(self) -> float:
        """Rear reading in percent of both readings."""
        return statics.share(self.rear_kg, self.total_kg)


@dataclass(frozen=True)
class Change:
    """After minus before: what each scale gained."""

    front_kg: float
    rear_kg: float

    @property
    def total_kg(self) -> float:
        """What the machine gained: exactly the hung weight, on level ground."""
        return self.front_kg + self.rear_kg


@dataclass(frozen=True)
class Share(Change):
    """One piece's part of a change."""

    name: str


def predict(tractor: Tractor, *attachments: Attachment, grade_deg: str | float = 0.0) -> AxleLoads:
    """Axle loads of a machine with these attachments.

    grade_deg   nose uphill positive, within 45 degrees, or text such as "10 %"; needs every height
    An axle that would be pulled upwards carries nothing, and ``lift`` says so.
    Raises Refusal for a grade without heights.

    >>> from leverarm.machine import demo_loader, demo_tractor
    >>> frame, bucket = demo_loader()
    >>> on = predict(demo_tractor(), bucket)
    >>> f"{on.front_kg:.1f} {on.rear_kg:.1f}", on.lift
    ('802.0 713.0', None)
    """
    cosine_sine = _grade(tractor, attachments, grade_deg)
    pieces = _pieces(tractor, attachments, cosine_sine)
    bare = _bare(tractor, cosine_sine)
    # What each axle carries as piece after piece is hung.
    front = list(accumulate((piece.front_kg for piece in pieces), initial=bare.front_kg))
    rear = list(accumulate((piece.rear_kg for piece in pieces), initial=bare.rear_kg))
    total = front[-1] + rear[-1]
    if rear[-1] < 0:
        return AxleLoads(total, 0.0, _lift("rear", rear, attachments))
    if front[-1] < 0:
        return AxleLoads(0.0, total, _lift("front", front, attachments))
    return AxleLoads(front[-1], rear[-1])


def compare(before: AxleLoads, after: AxleLoads) -> Change:
    """The Change from one AxleLoads to another.

    >>> compare(AxleLoads(600, 800), AxleLoads(790, 720)).total_kg
    110
    """
    return Change(after.front_kg - before.front_kg, after.rear_kg - before.rear_kg)


def shares(
    tractor: Tractor, *attachments: Attachment, grade_deg: str | float = 0.0
) -> tuple[Share, ...]:
    """What each piece does to each axle, in the order given; they add up to the change
    while both axles carry load.

    >>> from leverarm.machine import demo_loader, demo_tractor
    >>> pieces = shares(demo_tractor(), *demo_loader())
    >>> [f"{s.name} {s.front_kg:+.1f} {s.rear_kg:+.1f}" for s in pieces]
    ['loader frame +229.5 -20.9', 'bucket +203.2 -85.3']
    """
    return _pieces(tractor, attachments, _grade(tractor, attachments, grade_deg))


def _grade(
    tractor: Tractor, attachments: tuple[Attachment, ...], grade_deg: str | float
) -> tuple[float, float]:
    """Cosine and sine of the grade; a Refusal where a height it needs is not known."""
    _check(tractor, attachments)
    grade = read(grade_deg, "angle", "grade", -MOST_GRADE_DEG, MOST_GRADE_DEG)
    parts: tuple[Tractor | Attachment, ...] = (tractor, *attachments)
    unknown = next((one.name for one in parts if one.height_m is None), None)
    if grade and unknown is not None:
        raise Refusal(
            "grade",
            grade_deg,
            "level ground, or a grade when every height is given,",
            f"give the height of the center of gravity of the {unknown}",
        )
    return math.cos(math.radians(grade)), math.sin(math.radians(grade))


def _check(tractor: Tractor, attachments: tuple[Attachment, ...]) -> None:
    """Refuse what is no machine, what cannot hang on one, and too much of it."""
    if not isinstance(tractor, Tractor):
        raise Refusal(
            "machine", tractor, "a Tractor", "make one with Tractor(name, wheelbase, front, rear)"
        )
    if len(attachments) > MOST_PIECES:
        raise Refusal(
            "attachments",
            f"a list of {len(attachments)}",
            f"a list of up to {MOST_PIECES}",
            "hang fewer pieces",
        )
    wrong = next((one for one in attachments if not isinstance(one, Attachment)), attachments)
    if wrong is not attachments:
        raise Refusal(
            "attachments",
            wrong,
            "one Attachment after another",
            "write a star before a list of them, as in predict(tractor, *pieces)",
        )


def _pieces(
    tractor: Tractor, attachments: tuple[Attachment, ...], cosine_sine: tuple[float, float]
) -> tuple[Share, ...]:
    """Each piece's Share, by the general formula; on level ground its height does not matter."""
    pieces = []
    for one in attachments:
        numbers = (one.weight_kg, one.ahead_m, one.height_m or 0.0, tractor.wheelbase_m)
        front = statics.front_gain_on_grade(*numbers, *cosine_sine)
        rear = statics.rear_change_on_grade(*numbers, *cosine_sine)
        pieces.append(Share(front, rear, one.name))
    return tuple(pieces)


def _bare(tractor: Tractor, cosine_sine: tuple[float, float]) -> AxleLoads:
    """The bare machine's own reactions: its readings on level ground, tilted by the grade."""
    c, s = cosine_sine
    moved = statics.pull_transfer(
        tractor.total_kg * s, tractor.height_m or 0.0, tractor.wheelbase_m
    )
    return AxleLoads(c * tractor.front_kg - moved, c * tractor.rear_kg + moved)


def _lift(axle: str, loads: list[float], attachments: tuple[Attachment, ...]) -> Lift:
    """The Lift of an axle, from what it carried before the first piece and after each.

    The last piece to take the axle to zero is named, at the part of its weight that did it.
    """
    lift = Lift(axle, "grade", None)
    for one, before, after in zip(attachments, loads, loads[1:]):
        if after <= 0 < before:
            lift = Lift(axle, one.name, one.weight_kg * before / (before - after))
    return lift
