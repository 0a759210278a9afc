"""The set-ups of a machine side by side: all on, bucket off, loader off, ballast off too."""

from dataclasses import dataclass
from functools import cached_property

from leverarm import statics
from leverarm.axles import AxleLoads, predict
from leverarm.ballast import LimitCheck
from leverarm.decision.case import BASES, Case, Piece
from leverarm.machine import Attachment
from leverarm.quantities import show_number
from leverarm.uncertainty import Measured, rounded

# How a set-up is come by, in the order in which a person would do it.
SETUPS = (
    ("on", "Bucket and loader on", ("loader", "bucket", "ballast")),
    ("bucket_off", "Bucket off", ("loader", "ballast")),
    ("loader_off", "Loader off", ("ballast",)),
    ("all_off", "Loader off, ballast off", ()),
)
MOWER_POSITIONS = {"at_work": "mowing", "carried": "mower carried"}


@dataclass(frozen=True)
class Setup:
    """One set-up of a Case.

    key, name   "on", "bucket_off", "loader_off" or "all_off", and its words
    parts       names of the Case's pieces that hang on it
    """

    key: str
    name: str
    parts: tuple[str, ...]
    case: Case

    def pieces(self, mower_at: str = "at_work") -> tuple[Piece, ...]:
        """The Pieces that hang on the machine, the mower as it stands in that position."""
        mower = self.case.mower and getattr(self.case.mower, mower_at)
        hung = [getattr(self.case, part) for part in self.parts]
        return tuple(one for one in (*hung, mower) if one is not None)

    def attachments(self, mower_at: str = "at_work") -> tuple[Attachment, ...]:
        """The same without plus or minus."""
        return tuple(one.attachment for one in self.pieces(mower_at))

    def level(self, mower_at: str = "at_work") -> AxleLoads:
        """AxleLoads without plus or minus; ``lift`` says where an axle carries nothing."""
        return predict(self.case.tractor, *self.attachments(mower_at))

    @cached_property
    def mower_positions(self) -> tuple[str, ...]:
        """The mower positions that differ: one where nothing is lowered to work."""
        mower = self.case.mower
        return tuple(MOWER_POSITIONS) if mower and mower.carried != mower.at_work else ("at_work",)

    @cached_property
    def both(self) -> dict[str, tuple[Measured, Measured]]:
        """{mower position: (front, rear)} as Measured."""
        return {
            mower_at: self._reactions(self.pieces(mower_at)) for mower_at in self.mower_positions
        }

    def _reactions(self, hung):
        front, rear = statics.reactions(
            [one.weight for one in hung], [one.ahead for one in hung], self.case.wheelbase
        )
        return self.case.front + front, self.case.rear + rear

    def loads(self, mower_at: str = "at_work") -> tuple[Measured, Measured]:
        """(front, rear) as Measured; below zero means that axle would have to be held down."""
        return self.both[mower_at if mower_at in self.both else "at_work"]

    def load(self, axle: str, mower_at: str = "at_work") -> Measured:
        """One axle's load, Measured."""
        return self.loads(mower_at)[axle == "rear"]

    @property
    def front(self) -> Measured:
        """Front axle load while mowing."""
        return self.load("front")

    @property
    def rear(self) -> Measured:
        """Rear axle load while mowing."""
        return self.load("rear")

    @property
    def total(self) -> Measured:
        """What the machine weighs while mowing."""
        return self.front + self.rear

    @property
    def front_share(self) -> Measured:
        """Front axle in percent of the total, while mowing."""
        return statics.share(self.front, self.total)

    def base(self, key: str, mower_at: str) -> Measured:
        """What a manual's percentage is of: "unladen" or "whole"."""
        front, rear = (
            (self.case.front, self.case.rear) if key == "unladen" else self.loads(mower_at)
        )
        return front + rear

    def least_share(self, axle: str) -> tuple[Measured, str]:
        """(share Measured, mower position) where this axle has least, in percent of the base
        its manual names.
        """
        key = self.case.manual.least(axle)[1]
        shares = [
            (statics.share(self.load(axle, mower_at), self.base(key, mower_at)), mower_at)
            for mower_at in self.mower_positions
        ]
        return min(shares, key=lambda pair: pair[0].value)

    @property
    def minutes(self) -> float:
        """Minutes of work from everything on to this set-up and back, as stated."""
        job = self.case.job
        loader = {"on": 0.0, "bucket_off": job.bucket_minutes}.get(self.key, job.loader_minutes)
        return loader + (job.ballast_minutes if self.key == "all_off" else 0.0)

    @property
    def length_m(self) -> float | None:
        """How far the machine reaches ahead of its front axle, or None where it was not told."""
        points = [
            one.reach_m
            for part in self.parts
            if part in ("loader", "bucket") and (one := getattr(self.case, part))
        ]
        points.append(self.case.nose_m)
        return None if None in points else max(points)


def setups(case: Case) -> tuple[Setup, ...]:
    """The Setups of a Case that differ: without ballast there are three, without a bucket of its
    own two.

    >>> from leverarm.decision.demo import demo_case
    >>> [f"{one.front.value:.0f} {one.rear.value:.0f}" for one in setups(demo_case())]
    ['974 1126', '770 1212', '541 1233', '668 870']
    """
    made = [
        Setup(
            key,
            name if case.bucket else name.replace("Bucket and loader", "Loader"),
            tuple(part for part in parts if getattr(case, part)),
            case,
        )
        for key, name, parts in SETUPS
    ]
    return tuple(
        one for i, one in enumerate(made) if one.parts not in [other.parts for other in made[:i]]
    )


def mower_words(setup: Setup, mower_at: str) -> str:
    """ ", mowing" or ", mower carried"; nothing where the mower hangs alike in both."""
    return f", {MOWER_POSITIONS[mower_at]}" if len(setup.mower_positions) > 1 else ""


def stops(setup: Setup, system: str | None = None) -> tuple[str, ...]:
    """Sentences that say why this set-up is ruled out: what the manual says and it breaks.

    Empty where none is known.

    Only what the user read in the manual can stop a set-up; what was not read yet is asked
    elsewhere.
    """
    found = [setup.level(mower_at).lift for mower_at in setup.mower_positions]
    said = [lift.sentence(system) for lift in dict.fromkeys(lift for lift in found if lift)]
    said += [sentence for axle in ("front", "rear") if (sentence := share_stop(setup, axle))]
    said += [check.sentence(system) for check in rating_checks(setup) if check.over]
    if setup.key == "bucket_off" and setup.case.manual.bucket_may_come_off is False:
        said.append("The loader manual you read does not allow the loader without an attachment.")
    return tuple(said)


def share_stop(setup: Setup, axle: str) -> str:
    """The sentence for an axle lighter than the manual's least share, or ""."""
    least, key = setup.case.manual.least(axle)
    if least is None:
        return ""
    share, mower_at = setup.least_share(axle)
    below = share.value < least
    if not below and not close(share, least):
        return ""
    said = f"The {axle} axle has {share_text(share)} of {BASES[key]}{mower_words(setup, mower_at)}"
    return (
        f"{said}: under the {least:g} % you read in the manual. Call the service department."
        if below
        else (
            f"{said}: too close to the {least:g} % you read to call. "
            "Weigh it in this set-up before it is used."
        )
    )


def close(number: Measured, limit: float) -> bool:
    """True where a limit lies within the plus or minus of a number, or that is not known and the
    two are alike.
    """
    U = number.expanded()
    return abs(number.value - limit) <= (U if U == U else 0.0)


def share_text(share: Measured) -> str:
    """A percentage with its plus or minus, where known."""
    U = share.expanded()
    value, u = rounded(share.value, max(U, 0.05)) if U == U else (show_number(share.value, 1), "")
    return f"{value} ± {u} %" if u else f"{value} %"


def rating_checks(setup: Setup) -> tuple[LimitCheck, ...]:
    """Both axles and the whole machine, the mower where it weighs more, under the ratings the
    user read.
    """
    m, loads = setup.case.manual, [setup.level(mower_at) for mower_at in setup.mower_positions]

    def heaviest(key):
        return max(getattr(one, key) for one in loads)

    return (
        LimitCheck("Front axle", heaviest("front_kg"), m.front_axle_kg),
        LimitCheck("Rear axle", heaviest("rear_kg"), m.rear_axle_kg),
        LimitCheck("Whole machine", heaviest("total_kg"), m.machine_kg),
    )
