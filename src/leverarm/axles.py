"""A machine and what hangs on it, turned into axle loads: level or on a grade.

:func:`predict` answers what each scale will read, :func:`compare` what changed
between two states, :func:`shares` which piece did how much of it.  All three are
the same superposition of :mod:`leverarm.statics`.
"""

import math
from dataclasses import dataclass
from itertools import accumulate

from leverarm import statics
from leverarm.machine import MOST_HEIGHT_M, Attachment, Tractor
from leverarm.quantities import Refusal, read, show

MOST_GRADE_DEG = 45.0
MOST_PIECES = 100
MOST_SLOWING = 1.0
MOST_PULL_KG = 20_000.0


@dataclass(frozen=True)
class Lift:
    """Where statics ends: the axle that carries nothing, the piece that did it, and at what weight.

    weight_kg is the weight of that piece at which the last load left the axle; None where the
    bare machine's axle was empty already: piece is then "grade", or "pull or change of speed".
    """

    axle: str
    piece: str
    weight_kg: float | None

    def sentence(self, system: str | None = None) -> str:
        """What happened, in words with the number, ready to show in either system of units."""
        at = (
            f"when the {self.piece} reached {show(self.weight_kg, 'weight', system)}"
            if self.weight_kg is not None
            else f"{'on' if self.piece == 'grade' else 'with'} this {self.piece}, "
            "before anything was hung"
        )
        return (
            f"The {self.axle} axle carries nothing. It lost its last load {at}. "
            "With more the machine tips, and these equations no longer hold."
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


def predict(
    tractor: Tractor,
    *attachments: Attachment,
    grade_deg: str | float = 0.0,
    slowing: str | float = 0.0,
    pull: str | float = 0.0,
    pull_height: str | float = 0.0,
) -> AxleLoads:
    """Axle loads of a machine with these attachments.

    grade_deg   nose uphill positive, within 45 degrees, or text such as "10 %"; needs every height
    slowing     loss of speed over gravity, rolling nose first; negative while it speeds up; needs
                every height
    pull        rearward pull on the drawbar, along the ground, as a weight; negative pushes
    pull_height of the drawbar above the ground
    An axle that would be pulled upwards carries nothing, and ``lift`` says so.
    Raises Refusal for a grade or a change of speed without heights.

    >>> from leverarm.machine import demo_loader, demo_tractor
    >>> frame, bucket = demo_loader()
    >>> on = predict(demo_tractor(), bucket)
    >>> f"{on.front_kg:.1f} {on.rear_kg:.1f}", on.lift
    ('802.0 713.0', None)
    >>> pulling = predict(demo_tractor(), slowing=-0.1, pull="300 kg", pull_height="0.45 m")
    >>> f"{pulling.rear_kg - predict(demo_tractor()).rear_kg:.0f} kg more on the rear"
    '142 kg more on the rear'
    """
    # A machine that slows acts as on a grade steeper by the slowing, its nose downhill.
    slow = read_slowing(slowing)
    c, s = _grade(tractor, attachments, grade_deg, slow)
    pieces = _pieces(tractor, attachments, (c, s))
    pulled = statics.pull_transfer(*read_pull(pull, pull_height), tractor.wheelbase_m)
    bare = _bare(tractor, (c, s), pulled)
    # What each axle carries as piece after piece is hung.
    front = list(accumulate((piece.front_kg for piece in pieces), initial=bare.front_kg))
    rear = list(accumulate((piece.rear_kg for piece in pieces), initial=bare.rear_kg))
    total = front[-1] + rear[-1]
    cause = "pull or change of speed" if pulled or slow else "grade"
    if rear[-1] < 0:
        return AxleLoads(total, 0.0, _lift("rear", rear, attachments, cause))
    if front[-1] < 0:
        return AxleLoads(0.0, total, _lift("front", front, attachments, cause))
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


def read_slowing(given: str | float) -> float:
    """A loss of speed over gravity, at most 1 g; negative while the machine speeds up."""
    return read(given, "number", "slowing over gravity", -MOST_SLOWING, MOST_SLOWING)


def read_pull(pull: str | float, height: str | float) -> tuple[float, float]:
    """A drawbar's rearward pull in kg and its height in meters."""
    return (
        read(pull, "weight", "pull on the drawbar", -MOST_PULL_KG, MOST_PULL_KG),
        read(height, "length", "height of the drawbar", 0, MOST_HEIGHT_M),
    )


def _grade(
    tractor: Tractor,
    attachments: tuple[Attachment, ...],
    grade_deg: str | float,
    slowing: float = 0.0,
) -> tuple[float, float]:
    """Cosine of the grade, and its sine less the slowing; a Refusal where a height it needs is
    not known.
    """
    _check(tractor, attachments)
    grade = read(grade_deg, "angle", "grade", -MOST_GRADE_DEG, MOST_GRADE_DEG)
    parts: tuple[Tractor | Attachment, ...] = (tractor, *attachments)
    unknown = next((one.name for one in parts if one.height_m is None), None)
    if (grade or slowing) and unknown is not None:
        raise Refusal(
            "grade" if grade else "slowing over gravity",
            grade_deg if grade else slowing,
            "level ground, or a grade when every height is given,"
            if grade
            else "steady speed, or a change of speed when every height is given,",
            f"give the height of the center of gravity of the {unknown}",
        )
    return math.cos(math.radians(grade)), math.sin(math.radians(grade)) - slowing


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


def _bare(tractor: Tractor, cosine_sine: tuple[float, float], pulled: float) -> AxleLoads:
    """The bare machine's own reactions: its readings on level ground, tilted by the grade, and
    what a pull at the drawbar moves from front to rear.
    """
    c, s = cosine_sine
    moved = pulled + statics.pull_transfer(
        tractor.total_kg * s, tractor.height_m or 0.0, tractor.wheelbase_m
    )
    return AxleLoads(c * tractor.front_kg - moved, c * tractor.rear_kg + moved)


def _lift(axle: str, loads: list[float], attachments: tuple[Attachment, ...], cause: str) -> Lift:
    """The Lift of an axle, from what it carried before the first piece and after each.

    The last piece to take the axle to zero is named, at the part of its weight that did it; the
    cause where the axle was empty before the first.
    """
    lift = Lift(axle, cause, None)
    for one, before, after in zip(attachments, loads, loads[1:]):
        if after <= 0 < before:
            lift = Lift(axle, one.name, one.weight_kg * before / (before - after))
    return lift
