"""What was told about one machine and one job: everything the decision is drawn from, checked at
the door.

A :class:`Case` is the bare machine, what hangs on it, what it mows with, the tires,
the front drive, the job, and what its manuals ask for.  Weights and places are
Measured: they carry their own plus or minus into every row.
"""

from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from leverarm.driveline import Drive, Mowing
from leverarm.ground import ContactPatch
from leverarm.machine import MOST_AHEAD_M, MOST_HEIGHT_M, MOST_WEIGHT_KG, Attachment, Tractor
from leverarm.quantities import Refusal, read, set_fields
from leverarm.stability import BRAKES, FRICTION, Loader, Stance
from leverarm.uncertainty import Measured
from leverarm.weighing.scales import read_measured, wheelbase_of

MOWERS = {"mid": "mid-mounted deck", "rear": "rear-mounted mower", "trailed": "trailed mower"}
BASES = {"unladen": "the bare tractor", "whole": "the whole machine"}
MOST_MINUTES = 10_000.0
MOST_SLOPE_DEG = 40.0
DEPTHS_M = (0.10, 0.30)


@dataclass(frozen=True)
class Piece:
    """Something hung on the machine, made by :func:`piece` or :func:`behind`.

    weight, ahead   Measured: kg, and meters ahead of the front axle
    height_m        of its center of gravity above the ground, or None
    reach_m         its farthest point ahead of the front axle, or None
    """

    name: str
    weight: Measured
    ahead: Measured
    height_m: float | None = None
    reach_m: float | None = None

    @cached_property
    def attachment(self) -> Attachment:
        """The piece without its plus or minus, for the parts of the package that take plain
        numbers.
        """
        return Attachment(self.name, self.weight.value, self.ahead.value, self.height_m)


def piece(
    name: str,
    weight: Measured | str | float,
    ahead: Measured | str | float,
    height: str | float | None = None,
    *,
    u_weight: str | float | None = None,
    u_ahead: str | float | None = None,
    reach: str | float | None = None,
) -> Piece:
    """A checked Piece; weight and ahead as numbers, text with a unit, or Measured.

    >>> piece("bucket", "110 kg", "1.20 m", u_weight=2, u_ahead="2 cm").weight
    Measured(110, u=2)
    """
    told = (
        read_measured(
            weight, "weight", f"weight of the {name}", u_weight, low=0, high=MOST_WEIGHT_KG
        ),
        read_measured(
            ahead,
            "length",
            f"overhang of the {name}",
            u_ahead,
            low=-MOST_AHEAD_M,
            high=MOST_AHEAD_M,
        ),
    )
    made = Piece(
        name,
        *told,
        _length(height, f"height of the {name}", 0, MOST_HEIGHT_M),
        _length(reach, f"farthest point of the {name}", -MOST_AHEAD_M, MOST_AHEAD_M),
    )
    _ = (
        made.attachment
    )  # refuses what is no piece: a weight of nothing, a name that can't be printed
    return made


def behind(
    name: str,
    weight: Measured | str | float,
    distance: Measured | str | float,
    wheelbase: Measured | str | float,
    height: str | float | None = None,
    *,
    u_weight: str | float | None = None,
    u_distance: str | float | None = None,
) -> Piece:
    """A Piece told by its distance behind the rear axle; 0 is on the rear wheels.

    >>> behind("ballast", 250, "0.90 m", 1.65, u_weight=2, u_distance=0.02).ahead.value
    -2.55
    """
    back = read_measured(
        distance,
        "length",
        f"distance of the {name} behind the rear axle",
        u_distance,
        low=0,
        high=10,
    )
    return piece(name, weight, -(wheelbase_of(wheelbase) + back), height, u_weight=u_weight)


def _length(value, field, low, high):
    return None if value is None else read(value, "length", field, low, high)


@dataclass(frozen=True)
class Mower:
    """What mows, as the machine feels it.

    kind        "mid", "rear" or "trailed"
    carried     the Piece the machine carries on the road: the raised mower, or a drawbar load; None
                for nothing
    at_work     the Piece it still carries while it mows; None where the mower stands on its own
                wheels
    """

    kind: str
    carried: Piece | None
    at_work: Piece | None

    def __post_init__(self):
        if self.kind not in MOWERS:
            raise Refusal(
                "mower", self.kind, " or ".join(MOWERS), "say how the mower hangs on the machine"
            )

    @property
    def words(self) -> str:
        """What it is called."""
        return MOWERS[self.kind]


@dataclass(frozen=True)
class Tires:
    """Contact patches of one front and one rear tire, and the two depths asked about;
    None where not made.
    """

    front: ContactPatch | None = None
    rear: ContactPatch | None = None
    depths_m: tuple[float, float] = DEPTHS_M


@dataclass(frozen=True)
class FrontDrive:
    """The front drive while it mows.

    drive       driveline.Drive, as it rolls with the loader off; None for two-wheel drive
    squash_m    how far the front hub comes down when the loader goes on
    mowing      driveline.Mowing
    engaged     False where the job is done with the front drive out
    """

    drive: Drive | None = None
    squash_m: float = 0.0
    mowing: Mowing | None = None
    engaged: bool = True


@dataclass(frozen=True, init=False)
class Job:
    """The work, as the user states it.

    slope       of the ground mown, degrees or text such as "10 %"
    surface     a name in stability.FRICTION; brakes  "rear" or "all"
    bucket_minutes, loader_minutes   off and on again: the bucket alone, the whole loader from
                                     everything on
    ballast_minutes   the ballast off and on again
    mowings     how often it mows before the loader is wanted again
    """

    slope_deg: float
    surface: str
    brakes: str
    bucket_minutes: float
    loader_minutes: float
    ballast_minutes: float
    mowings: float

    def __init__(
        self,
        slope: str | float = 0.0,
        surface: str = "wet grass",
        brakes: str = "rear",
        bucket_minutes: float = 5,
        loader_minutes: float = 20,
        ballast_minutes: float = 10,
        mowings: float = 1,
    ) -> None:
        def minutes(value, what):
            return read(value, "number", f"minutes for the {what}", 0, MOST_MINUTES, open_low=True)

        set_fields(
            self,
            slope_deg=read(slope, "angle", "slope of the job", 0, MOST_SLOPE_DEG),
            surface=_one_of(surface, FRICTION, "surface"),
            brakes=_one_of(brakes, BRAKES, "brakes"),
            bucket_minutes=minutes(bucket_minutes, "bucket"),
            loader_minutes=minutes(loader_minutes, "loader"),
            ballast_minutes=minutes(ballast_minutes, "ballast"),
            mowings=read(mowings, "number", "mowings before the loader goes on again", 1, 1000),
        )


def _one_of(value, known, field):
    if value not in known:
        raise Refusal(field, value, " or ".join(known), "choose one of these")
    return value


@dataclass(frozen=True, init=False)
class Manual:
    """What the user read in the manuals; None is "not read yet", and stays a question.

    front_least, rear_least   percent that must stay on the axle; front_base, rear_base  percent of
                              what
    front_axle, rear_axle, machine   ratings
    bucket_may_come_off       True, False, or None where nobody has looked
    """

    front_least: float | None
    rear_least: float | None
    front_base: str
    rear_base: str
    front_axle_kg: float | None
    rear_axle_kg: float | None
    machine_kg: float | None
    bucket_may_come_off: bool | None

    def __init__(
        self,
        front_least: str | float | None = None,
        rear_least: str | float | None = None,
        front_base: str = "unladen",
        rear_base: str = "whole",
        front_axle: str | float | None = None,
        rear_axle: str | float | None = None,
        machine: str | float | None = None,
        bucket_may_come_off: bool | None = None,
    ) -> None:
        def share(value, axle):
            return (
                None
                if value is None
                else read(value, "share", f"least share of the {axle} axle", 0, 100)
            )

        def kg(value, what):
            return (
                None
                if value is None
                else read(value, "weight", what, 0, MOST_WEIGHT_KG, open_low=True)
            )

        set_fields(
            self,
            front_least=share(front_least, "front"),
            rear_least=share(rear_least, "rear"),
            front_base=_one_of(front_base, BASES, "base of the front share"),
            rear_base=_one_of(rear_base, BASES, "base of the rear share"),
            front_axle_kg=kg(front_axle, "front axle rating"),
            rear_axle_kg=kg(rear_axle, "rear axle rating"),
            machine_kg=kg(machine, "permitted total weight"),
            bucket_may_come_off=bucket_may_come_off,
        )

    def or_told(
        self, rear_least: float | None, front_axle: float | None, rear_axle: float | None
    ) -> "Manual":
        """The same manual; what was not read in it is as it was told with the machine."""

        def first(*values: float | None) -> float | None:
            return next((value for value in values if value is not None), None)

        return Manual(
            self.front_least,
            first(self.rear_least, rear_least),
            self.front_base,
            self.rear_base,
            first(self.front_axle_kg, front_axle),
            first(self.rear_axle_kg, rear_axle),
            self.machine_kg,
            self.bucket_may_come_off,
        )

    def least(self, axle: str) -> tuple[float | None, str]:
        """(percent or None, key of its base) for "front" or "rear"."""
        return getattr(self, f"{axle}_least"), getattr(self, f"{axle}_base")


@dataclass(frozen=True)
class Case:
    """One machine and one job.

    Made by :func:`case`, from told numbers, or from a weigh day by ``from_fit``.

    front, rear     Measured: readings of the bare machine, nothing hung on, operator as stated
    loader          the loader frame; bucket  the bucket or fork; ballast  None where there
                    is none
    mower           Mower, or None where it was on the scales with the bare machine
    nose_m          farthest point of the machine itself ahead of the front axle, or None
    stance          stability.Stance, or None
    drive           FrontDrive, or None where nobody told it
    arms            stability.Loader, the same loader with its moving arms, or None where nobody
                    measured it
    """

    name: str
    wheelbase: Measured
    front: Measured
    rear: Measured
    height_m: float | None
    loader: Piece
    bucket: Piece | None = None
    ballast: Piece | None = None
    mower: Mower | None = None
    tires: Tires = Tires()
    drive: FrontDrive | None = None
    job: Job = field(default_factory=Job)
    manual: Manual = field(default_factory=Manual)
    stance: Stance | None = None
    nose_m: float | None = None
    arms: Loader | None = None

    @cached_property
    def tractor(self) -> Tractor:
        """The bare machine without plus or minus."""
        return Tractor(
            self.name, self.wheelbase.value, self.front.value, self.rear.value, self.height_m
        )


def case(
    name: str,
    wheelbase: Measured | str | float,
    front: Measured | str | float,
    rear: Measured | str | float,
    height: str | float | None = None,
    *,
    loader: Piece,
    bucket: Piece | None = None,
    ballast: Piece | None = None,
    u_wheelbase: str | float | None = None,
    u_reading: str | float | None = None,
    nose: str | float | None = None,
    **more: Any,
) -> Case:
    """A Case from numbers told one by one, without a weigh day.

    u_reading   standard uncertainty of each bare reading
    more        mower=, tires=, drive=, job=, manual=, stance=, arms=
    """

    def read_off(value, axle):
        return read_measured(
            value, "weight", f"{axle} reading", u_reading, low=0, high=MOST_WEIGHT_KG
        )

    told = Case(
        name,
        wheelbase_of(wheelbase, u_wheelbase),
        read_off(front, "front"),
        read_off(rear, "rear"),
        _length(height, "height of the machine's center of gravity", 0, MOST_HEIGHT_M),
        loader,
        bucket,
        ballast,
        nose_m=_length(nose, "nose of the machine", -1, 5),
        **more,
    )
    _ = told.tractor  # refuses what is no machine
    return told
