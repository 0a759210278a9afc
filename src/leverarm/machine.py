"""What is known about a machine, checked when it is made: Tractor and Attachment.

Both are frozen.  A wrong value is refused when the object is made, in one
sentence, and nothing else changes.  The demo machine and its crew are invented.
"""

from dataclasses import dataclass

from leverarm import statics
from leverarm.quantities import Refusal, read, set_fields

# Beyond these it is a mistake in typing, not a tractor or an attachment.
MOST_WEIGHT_KG = 50_000.0
MOST_AHEAD_M = 20.0
MOST_HEIGHT_M = 10.0
WHEELBASE_M = (0.5, 5.0)
MOST_WHEELBASE_M = 50.0
MOST_NAME = 60


def _named(name: object, field: str) -> str:
    """A name fit to print: one line, not empty, not long."""
    text = " ".join(name.split()) if isinstance(name, str) else ""
    if not text or len(text) > MOST_NAME or not text.isprintable():
        raise Refusal(
            field, name, f"a name of 1 to {MOST_NAME} printable characters", "give it a short name"
        )
    return text


def _weight(value: object, field: str) -> float:
    return read(value, "weight", field, 0, MOST_WEIGHT_KG, open_low=True)


def _height(value: object, field: str) -> float | None:
    return None if value is None else read(value, "length", field, 0, MOST_HEIGHT_M)


@dataclass(frozen=True, init=False)
class Tractor:
    """A bare machine on two axles, as its scales read it on level ground.

    name        what to call it
    wheelbase   front axle to rear axle, 0.5 to 5 m; say unusual_wheelbase=True beyond that
    front, rear the readings of the bare machine, operator as stated, above zero
    height      of its center of gravity above the ground; only a grade or a tilt needs it

    >>> yard = Tractor("Yard tractor", wheelbase="1.60 m", front="540 kg", rear="810 kg")
    >>> yard.total_kg, round(yard.ahead_m, 3)
    (1350.0, -0.96)
    """

    name: str
    wheelbase_m: float
    front_kg: float
    rear_kg: float
    height_m: float | None = None

    def __init__(
        self,
        name: str,
        wheelbase: str | float,
        front: str | float,
        rear: str | float,
        height: str | float | None = None,
        *,
        unusual_wheelbase: bool = False,
    ) -> None:
        set_fields(
            self,
            name=_named(name, "tractor name"),
            wheelbase_m=_wheelbase(wheelbase, unusual_wheelbase),
            front_kg=_weight(front, "front reading"),
            rear_kg=_weight(rear, "rear reading"),
            height_m=_height(height, "height of the tractor's center of gravity"),
        )

    @property
    def total_kg(self) -> float:
        """Weight of the machine: both readings together."""
        return self.front_kg + self.rear_kg

    @property
    def ahead_m(self) -> float:
        """Center of gravity, meters ahead of the front axle (so negative)."""
        return statics.center_of_gravity(self.front_kg, self.rear_kg, self.wheelbase_m)


def _wheelbase(value: object, unusual: bool) -> float:
    """A wheelbase in meters; one outside the usual range only on purpose."""
    if unusual:
        return read(value, "length", "wheelbase", 0, MOST_WHEELBASE_M, open_low=True)
    return read(
        value,
        "length",
        "wheelbase",
        *WHEELBASE_M,
        do="check the unit, or say unusual_wheelbase=True if it is meant",
    )


@dataclass(frozen=True, init=False)
class Attachment:
    """A weight hung on a machine at a distance ahead of its front axle.

    name        what to call it
    weight      above zero
    ahead       of its center of gravity, measured from the front axle, forward positive;
                behind the rear axle it is more negative than the wheelbase
    height      of its center of gravity above the ground; only a grade or a tilt needs it

    >>> Attachment("bucket", weight="243 lb", ahead="47 in").ahead_m
    1.1938
    """

    name: str
    weight_kg: float
    ahead_m: float
    height_m: float | None = None

    def __init__(
        self, name: str, weight: str | float, ahead: str | float, height: str | float | None = None
    ) -> None:
        name = _named(name, "attachment name")
        set_fields(
            self,
            name=name,
            weight_kg=_weight(weight, f"weight of the {name}"),
            ahead_m=read(ahead, "length", f"overhang of the {name}", -MOST_AHEAD_M, MOST_AHEAD_M),
            height_m=_height(height, f"height of the {name}"),
        )


DEMO_NOTE = (
    "The Fernhollow College grounds crew and its plot tractor are invented. "
    "The numbers are typical of a compact tractor and come from no real one."
)


def demo_tractor() -> Tractor:
    """The plot tractor of the Fernhollow College grounds crew, operator aboard; all invented."""
    return Tractor(
        "Plot tractor", wheelbase="65 in", front="1320 lb", rear="1760 lb", height="28 in"
    )


def demo_loader() -> tuple[Attachment, Attachment]:
    """Its loader, also invented: the loader frame, and the empty bucket, lowered."""
    return (
        Attachment("loader frame", weight="460 lb", ahead="6.5 in", height="32.2 in"),
        Attachment("bucket", weight="260 lb", ahead="47 in", height="14 in"),
    )


def demo_ballast() -> Attachment:
    """Its ballast, also invented: 35 in behind the rear axle, which is 65 in behind the front."""
    return Attachment("ballast", weight="520 lb", ahead="-100 in", height="20 in")
