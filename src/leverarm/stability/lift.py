"""Axle loads along the whole lift, where they peak, and the loads that lighten the rear axle.

The overhang of everything that turns with the arms goes as the cosine of one
angle, so the peak is known in closed form: the line from the arm pivot to the
center of gravity of what turns is level.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from leverarm import statics
from leverarm.axles import AxleLoads, predict
from leverarm.machine import Attachment, Tractor
from leverarm.quantities import Refusal, read
from leverarm.stability.formulas import moment_sum, rated_load
from leverarm.stability.loader import Loader

KEEP_SHARE = 20.0  # percent of the total on the rear axle; common in loader manuals
RATED_SHARE = 50.0  # percent of the tipping load, on wheels; 35 on tracks (SAE J818, ISO 14397-1)
MOST_STEPS = 1000


@dataclass(frozen=True)
class LiftPoint:
    """One point of the lift: the angle of the arms, the pieces where they are, the axle loads."""

    angle_deg: float
    pieces: tuple[Attachment, ...]
    loads: AxleLoads

    @property
    def carried(self) -> Attachment:
        """The outermost piece: the load, or the bucket when it is empty."""
        return next(
            piece for name in ("load", "bucket") for piece in self.pieces if piece.name == name
        )

    @property
    def overhang_m(self) -> float:
        """Overhang of the load, or of the empty bucket."""
        return self.carried.ahead_m

    @property
    def height_m(self) -> float:
        """Height of the load, or of the empty bucket."""
        height = self.carried.height_m
        assert height is not None  # the arms say how high they carry it
        return height


@dataclass(frozen=True)
class LoadLimits:
    """Loads in the bucket that leave the rear axle nothing, and a told share of the total.

    at_deg          lift angle; the worst of the whole lift unless one was told
    tipping_kg      the rear axle carries nothing; None where no load does that
    keeping_kg      the rear axle keeps keep_share percent of the total; 0 where it has less already
    rated_kg        rated_share percent of tipping_kg: practice, not permission
    """

    at_deg: float
    tipping_kg: float | None
    keeping_kg: float | None
    keep_share: float
    rated_kg: float | None
    rated_share: float


def lift_point(
    tractor: Tractor,
    loader: Loader,
    angle_deg: float,
    load: str | float = 0.0,
    *,
    others: Sequence[Attachment] = (),
    leveled: bool = True,
    grade_deg: str | float = 0.0,
) -> LiftPoint:
    """The machine with its arms at one angle.

    others      further Attachments, such as a counterweight
    grade_deg   nose uphill positive; needs the height of everything

    >>> from leverarm.machine import demo_tractor
    >>> from leverarm.stability.loader import demo_arms
    >>> f"{lift_point(demo_tractor(), demo_arms(), 0, 300).loads.rear_kg:.1f}"
    '363.0'
    """
    pieces = loader.at(angle_deg, load, leveled=leveled)
    return LiftPoint(
        float(angle_deg), pieces, predict(tractor, *pieces, *others, grade_deg=grade_deg)
    )


def arc(
    tractor: Tractor, loader: Loader, load: str | float = 0.0, *, steps: int = 40, **how: Any
) -> tuple[LiftPoint, ...]:
    """LiftPoints along the whole lift, lowest first, at equal steps of the angle."""
    if isinstance(steps, bool) or not isinstance(steps, int) or not 1 <= steps <= MOST_STEPS:
        raise Refusal(
            "steps",
            steps,
            f"a whole number from 1 to {MOST_STEPS}",
            "say how many steps the lift has",
        )
    low, travel = loader.lowest_deg, loader.highest_deg - loader.lowest_deg
    return tuple(
        lift_point(tractor, loader, low + travel * i / steps, load, **how) for i in range(steps + 1)
    )


def peak(
    tractor: Tractor,
    loader: Loader,
    load: str | float = 0.0,
    *,
    leveled: bool = True,
    grade_deg: str | float = 0.0,
    others: Sequence[Attachment] = (),
) -> LiftPoint:
    """The LiftPoint at which the front axle carries most (and the rear least).

    Equation    angle = -atan2(sum W y, sum W x) - grade: pivot and center of gravity of what
                turns lie on a level line, or at the end of the lift nearest to that
    Source      front_gain_on_grade along turned_ahead and turned_up, set to its maximum
    """
    how = read(load, "weight", "load in the bucket"), leveled, read(grade_deg, "angle", "grade")
    angle = _peak_deg(loader, *how)
    return lift_point(
        tractor, loader, angle, load, leveled=leveled, grade_deg=grade_deg, others=others
    )


def _peak_deg(loader, load_kg, leveled, grade_deg):
    """The lift angle of the peak, or the end of the lift that comes nearest to it."""
    weights, x, y = loader.turning(load_kg, leveled)
    level = -math.degrees(math.atan2(moment_sum(weights, y), moment_sum(weights, x))) - grade_deg
    inside = [level] if loader.lowest_deg <= level <= loader.highest_deg else []
    return max(
        (*inside, loader.lowest_deg, loader.highest_deg),
        key=lambda at: math.cos(math.radians(at - level)),
    )


def load_for_share(
    tractor: Tractor,
    loader: Loader,
    angle_deg: float,
    share: float,
    *,
    others: Sequence[Attachment] = (),
    leveled: bool = True,
    grade_deg: str | float = 0.0,
) -> float | None:
    """Load in the bucket that leaves the rear axle this percentage of the total; None if no load
    does.

    share       0 is the tipping load
    A result below zero says the rear axle has less than that with an empty bucket.

    >>> from leverarm.machine import demo_tractor
    >>> from leverarm.stability.loader import demo_arms
    >>> f"{load_for_share(demo_tractor(), demo_arms(), 0, 0):.1f}"
    '663.0'
    """
    k = read(share, "share", "share of the rear axle", 0, 100) / 100
    empty = lift_point(
        tractor, loader, angle_deg, others=others, leveled=leveled, grade_deg=grade_deg
    ).loads
    gain = _per_kg(tractor, loader, angle_deg, leveled, grade_deg)
    if gain.rear_kg >= k * gain.total_kg:
        return None
    return statics.weight_for_share(empty.rear_kg, empty.total_kg, gain.rear_kg, gain.total_kg, k)


def _per_kg(tractor, loader, angle_deg, leveled, grade_deg):
    """What one kilogram in the bucket does to each axle at this angle."""
    grade = math.radians(read(grade_deg, "angle", "grade"))
    load = loader.at(angle_deg, 1.0, leveled=leveled)[-1]
    places = 1.0, load.ahead_m, load.height_m, tractor.wheelbase_m, math.cos(grade), math.sin(grade)
    return AxleLoads(statics.front_gain_on_grade(*places), statics.rear_change_on_grade(*places))


def limits(
    tractor: Tractor,
    loader: Loader,
    angle_deg: float | None = None,
    *,
    keep_share: float = KEEP_SHARE,
    rated_share: float = RATED_SHARE,
    others: Sequence[Attachment] = (),
    leveled: bool = True,
    grade_deg: str | float = 0.0,
) -> LoadLimits:
    """LoadLimits at one lift angle, or at the worst one of the lift.

    >>> from leverarm.machine import demo_tractor
    >>> from leverarm.stability.loader import demo_arms
    >>> found = limits(demo_tractor(), demo_arms())
    >>> f"{found.tipping_kg:.0f} {found.keeping_kg:.0f} {found.rated_kg:.0f}"
    '663 265 331'
    """
    case = _Case(tractor, loader, others, leveled, read(grade_deg, "angle", "grade"))
    at_deg, tipping = case.least(0.0, angle_deg)
    rated = (
        None
        if tipping is None
        else rated_load(tipping, read(rated_share, "share", "rated share", 0, 100) / 100)
    )
    return LoadLimits(
        at_deg, tipping, case.least(keep_share, angle_deg)[1], keep_share, rated, rated_share
    )


@dataclass(frozen=True)
class _Case:
    """One machine, loader and ground, asked for loads."""

    tractor: Tractor
    loader: Loader
    others: Sequence[Attachment]
    leveled: bool
    grade_deg: float

    def least(self, share: float, angle_deg: float | None) -> tuple[float, float | None]:
        """(lift angle, load) at which the rear axle is down to that share; at the worst angle for
        None.
        """
        at = self._worst_deg(share) if angle_deg is None else angle_deg
        return at, self._load(at, share)

    def _load(self, at, share):
        load = load_for_share(
            self.tractor,
            self.loader,
            at,
            share,
            others=self.others,
            leveled=self.leveled,
            grade_deg=self.grade_deg,
        )
        return None if load is None else max(load, 0.0)

    def _worst_deg(self, share):
        """The lift angle at which the least load reaches that share.

        The least load is the one whose own peak just reaches it, so peak and load are
        found in turn; each round can only lower the load.
        """
        at, load = None, 0.0
        for _ in range(20):
            before, at = at, _peak_deg(self.loader, load, self.leveled, self.grade_deg)
            if at == before:
                break
            load = self._load(at, share) or 0.0
        return at
