"""A loader as its manual draws it: a pivot, arms, a bucket, and how far the arms lift.

    bucket pin o-------- arm -------- o pivot       angle of the line above level
         |___                         |
    bucket, load                 fixed frame        heights from the ground, x ahead of the front
                                 axle

What turns with the arms is told in the arms' own axes, ``along`` the line from the
pivot to the bucket pin and ``across`` it.  Bucket and load are told from the
bucket pin, with the bucket floor flat: ``along`` ahead of the pin, ``across`` above it.
"""

import math
from dataclasses import dataclass

from leverarm.machine import MOST_AHEAD_M, MOST_HEIGHT_M, MOST_WEIGHT_KG, Attachment
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, read, set_fields
from leverarm.stability.formulas import turned_ahead, turned_up

MOST_PLACE_M = 5.0


@dataclass(frozen=True, init=False)
class Part:
    """A weight fixed to a moving body, told in that body's own axes.

    >>> Part("arms", "105 kg", along="0.75 m", across="20 cm").across_m
    0.2
    """

    name: str
    weight_kg: float
    along_m: float
    across_m: float

    def __init__(
        self, name: str, weight: str | float, along: str | float, across: str | float = 0.0
    ) -> None:
        def place(value, word):
            return read(value, "length", f"{word} of the {name}", -MOST_PLACE_M, MOST_PLACE_M)

        # The Attachment that this part becomes checks its name.
        set_fields(
            self,
            name=Attachment(name, 1, 0).name,
            weight_kg=read(
                weight, "weight", f"weight of the {name}", 0, MOST_WEIGHT_KG, open_low=True
            ),
            along_m=place(along, "place along"),
            across_m=place(across, "place across"),
        )


@dataclass(frozen=True, init=False)
class Loader:
    """A loader's geometry and weights; :meth:`at` puts it at a lift angle.

    pivot_ahead     arm pivot, from the front axle, forward positive (usually negative)
    pivot_height    arm pivot above the ground
    arm             straight line from the arm pivot to the bucket pin
    low, high       height of the bucket pin at both ends of the lift
    frame           what stays put, an Attachment, or None
    arms, bucket    Parts that move; load_along, load_across place what is in the bucket
    """

    pivot_ahead_m: float
    pivot_height_m: float
    arm_m: float
    lowest_deg: float
    highest_deg: float
    frame: Attachment | None
    arms: Part
    bucket: Part
    load_along_m: float
    load_across_m: float

    def __init__(
        self,
        pivot_ahead: str | float,
        pivot_height: str | float,
        arm: str | float,
        low: str | float,
        high: str | float,
        *,
        arms: Part,
        bucket: Part,
        frame: Attachment | None = None,
        load_along: str | float = 0.0,
        load_across: str | float = 0.0,
    ) -> None:
        def length(value, field, low, high, **more):
            return read(value, "length", field, low, high, **more)

        set_fields(
            self,
            pivot_ahead_m=length(pivot_ahead, "arm pivot ahead", -MOST_AHEAD_M, MOST_AHEAD_M),
            pivot_height_m=length(
                pivot_height, "height of the arm pivot", 0, MOST_HEIGHT_M, open_low=True
            ),
            arm_m=length(arm, "arm, pivot to bucket pin", 0, MOST_PLACE_M, open_low=True),
            frame=frame,
            arms=arms,
            bucket=bucket,
            load_along_m=length(
                load_along, "load ahead of the bucket pin", -MOST_PLACE_M, MOST_PLACE_M
            ),
            load_across_m=length(
                load_across, "load above the bucket pin", -MOST_PLACE_M, MOST_PLACE_M
            ),
        )
        set_fields(self, lowest_deg=self.angle_at(low), highest_deg=self.angle_at(high))
        if not self.lowest_deg < self.highest_deg:
            raise Refusal(
                "highest bucket pin",
                high,
                f"a height above the lowest one, {low}",
                "check both heights",
            )

    def angle_at(self, pin_height: str | float) -> float:
        """Lift angle, degrees above level, at which the bucket pin stands at a height."""
        low, high = max(0.0, self.pivot_height_m - self.arm_m), self.pivot_height_m + self.arm_m
        height = read(pin_height, "length", "height of the bucket pin", low, high)
        return math.degrees(math.asin((height - self.pivot_height_m) / self.arm_m))

    def pin_at(self, angle_deg: float) -> tuple[float, float]:
        """Bucket pin at a lift angle: meters ahead of the front axle, meters above the ground."""
        return self._on_arm(self.arm_m, 0.0, *_turn(self._angle(angle_deg)))

    def at(
        self, angle_deg: float, load: str | float = 0.0, *, leveled: bool = True
    ) -> tuple[Attachment, ...]:
        """The pieces as Attachments at a lift angle, ready for predict.

        angle_deg   of the arms above level, between lowest_deg and highest_deg
        load        what is in the bucket; 0 leaves it out
        leveled    True keeps the bucket floor flat; False lets it turn with the arms,
                    flat at the bottom of the lift
        """
        angle = self._angle(angle_deg)
        load_kg = read(load, "weight", "load in the bucket", 0, MOST_WEIGHT_KG)
        bucket_turn = _turn(0.0 if leveled else angle - self.lowest_deg)
        places = self.places(*_turn(angle), bucket_turn)
        moving = {"arms": self.arms, **self._carried(load_kg)}
        hung = [
            Attachment(part.name, part.weight_kg, *places[name]) for name, part in moving.items()
        ]
        return (*((self.frame,) if self.frame else ()), *hung)

    def places(
        self, c: Numeric, s: Numeric, bucket_turn: tuple[Numeric, Numeric] = (1.0, 0.0)
    ) -> dict[str, tuple[Numeric, Numeric]]:
        """Where arms, bucket, load and the bucket pin are: ahead of the front axle, and up, meters.

        c, s            cosine and sine of the arms' angle above level
        bucket_turn     the same of how far the bucket floor has turned; it is flat unless told
        """
        ahead, up = pin = self._on_arm(self.arm_m, 0.0, c, s)

        def in_bucket(x: float, y: float) -> tuple[Numeric, Numeric]:
            return ahead + turned_ahead(x, y, *bucket_turn), up + turned_up(x, y, *bucket_turn)

        return {
            "pin": pin,
            "arms": self._on_arm(self.arms.along_m, self.arms.across_m, c, s),
            "bucket": in_bucket(self.bucket.along_m, self.bucket.across_m),
            "load": in_bucket(self.load_along_m, self.load_across_m),
        }

    def _angle(self, angle_deg):
        """A lift angle within the travel of the arms; a hair past an end counts as the end."""
        room = 1e-9
        angle = read(
            angle_deg, "angle", "lift angle", self.lowest_deg - room, self.highest_deg + room
        )
        return min(max(angle, self.lowest_deg), self.highest_deg)

    def _on_arm(self, x, y, c, s):
        """Where a point of the turning arms is: ahead of the front axle, above the ground."""
        return self.pivot_ahead_m + turned_ahead(x, y, c, s), self.pivot_height_m + turned_up(
            x, y, c, s
        )

    def turning(self, load_kg: float, leveled: bool) -> tuple[tuple[float, ...], ...]:
        """What the arms swing: weights, and their places along and across the arms.

        A leveled bucket is carried by its pin without turning, so its weight swings
        with the pin; one that turns with the arms is part of them.
        """
        swung = [(self.arms.weight_kg, self.arms.along_m, self.arms.across_m)]
        c, s = _turn(-self.lowest_deg)
        for part in self._carried(load_kg).values():
            x, y = part.along_m, part.across_m
            beyond = (0.0, 0.0) if leveled else (turned_ahead(x, y, c, s), turned_up(x, y, c, s))
            swung.append((part.weight_kg, self.arm_m + beyond[0], beyond[1]))
        return tuple(zip(*swung))

    def _carried(self, load_kg):
        """The bucket, and what is in it."""
        load = Part("load", load_kg, self.load_along_m, self.load_across_m) if load_kg else None
        return {"bucket": self.bucket, **({"load": load} if load else {})}


def _turn(angle_deg: float) -> tuple[float, float]:
    """Cosine and sine of an angle in degrees."""
    return math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))


def demo_arms() -> Loader:
    """The invented plot tractor's loader with its moving parts; lowered, it weighs as demo_loader()
    does.

    >>> low = demo_arms().at(demo_arms().lowest_deg)
    >>> [f"{p.name} {p.ahead_m:.2f} {p.height_m:.2f}" for p in low]
    ['loader frame 0.11 0.53', 'arms 0.22 1.10', 'bucket 1.19 0.36']
    """
    return Loader(
        pivot_ahead="-20 in",
        pivot_height="55 in",
        arm="75 in",
        low="10 in",
        high="97 in",
        frame=Attachment("loader frame", "230 lb", ahead="4.2 in", height="21 in"),
        arms=Part("arms", "230 lb", along="30 in", across="8 in"),
        bucket=Part("bucket", "260 lb", along="7 in", across="4 in"),
        load_along="10 in",
        load_across="8 in",
    )
