"""A machine with a pad under every wheel, read without and with a piece, as a picture shows it."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from leverarm import statics
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, read
from leverarm.stage.case import AXLES, PART, SHEETS, SaidCase
from leverarm.stage.recording import Input
from leverarm.stage.sheet import Paper, full_load
from leverarm.stage.tractor_above import WHEELS

# Invented readings of the invented crew: without and with pallet forks on the loader frame.
FORKS_READ: Mapping[str, tuple[str, str]] = {
    "front left": ("914 lb", "1174 lb"),
    "front right": ("912 lb", "1172 lb"),
    "rear left": ("856 lb", "759 lb"),
    "rear right": ("858 lb", "760 lb"),
}


@dataclass(frozen=True)
class YardCase(SaidCase):
    """A weighed machine and the piece that was hung on it, with how they are shown.

    wheels      (without, with) under each wheel of WHEELS, as text with a unit
    other, other_ahead  a piece whose overhang is known, to compare with
    track       between the wheels of the front and of the rear axle; None: not told
    Raises Refusal where a wheel is missing or the readings do not show that something was hung on.
    """

    wheelbase: str | float
    wheels: Mapping[str, tuple[str | float, str | float]] = field(
        default_factory=lambda: FORKS_READ
    )
    piece: str = "pallet forks"
    other: str = "bucket"
    other_ahead: str | float = "47 in"
    track: tuple[float, float] | None = None
    system: str = "lb"
    sheets: tuple[Paper, ...] = SHEETS

    def __post_init__(self) -> None:
        missing = [name for name in WHEELS if name not in self.wheels]
        if missing:
            raise Refusal(
                "wheel readings", ", ".join(self.wheels), "four wheels", f"read {missing[0]} too"
            )
        if sum(self.changes) <= 0:
            raise Refusal(
                "readings with the piece on",
                f"together {self.units.show_weight(sum(self.changes), sign=True)}",
                "more than without it",
                "look whether without and with were swapped",
            )

    @property
    def wheelbase_shown(self) -> float:
        """The wheelbase in the unit shown."""
        return self.length(read(self.wheelbase, "length", "wheelbase", 0.8, 4))

    @property
    def other_shown(self) -> float:
        """The known overhang in the unit shown."""
        return self.length(read(self.other_ahead, "length", "overhang", -2, 5))

    def wheel(self, name: str) -> tuple[float, float]:
        """What the pad under a wheel showed without and with the piece, in the unit shown."""
        without, on = (
            self.weight(read(one, "weight", f"{name} wheel", 0, 20_000))
            for one in self.wheels[name]
        )
        return without, on

    def axle(self, axle: str) -> tuple[float, float]:
        """What an axle's pads showed together, without and with the piece."""
        both = [self.wheel(name) for name in WHEELS if name.startswith(axle)]
        return sum(one[0] for one in both), sum(one[1] for one in both)

    @property
    def changes(self) -> tuple[float, float]:
        """What the front and the rear axle gained, with the sign."""
        front, rear = (on - without for without, on in map(self.axle, AXLES))
        return front, rear

    @property
    def hung(self) -> tuple[Numeric, Numeric]:
        """The piece's weight and overhang as the readings tell them."""
        gain, loss = self.changes
        weight = statics.hung_weight(gain, loss)
        return weight, statics.overhang_of(gain, loss, self.wheelbase_shown)

    @property
    def said(self) -> tuple[Input, ...]:
        """What the reader says: the weight, and how far ahead of the front axle it hangs."""
        step, places = self.units.length_step
        heavy = 2 * sum(abs(change) for change in self.changes)
        return (
            Input("weight_said", 0, round(heavy), 0),
            Input("overhang_said", 0, 2 * self.wheelbase_shown, 0, step, places),
        )

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves in the second act: the piece, once it is free to."""
        step, places = self.units.length_step
        weight, overhang = self.hung
        by = 5.0 if self.system == "lb" else 2.0
        far = max(1.15 * self.wheelbase_shown, 1.1 * overhang)
        return (
            *self.said,
            Input("weight", 0, round(1.6 * weight), weight, by),
            Input("overhang", min(0.0, overhang), far, overhang, step, places),
            PART,
        )

    @property
    def full(self) -> float:
        """The load a whole column stands for, from the readings alone."""
        return full_load(1.2 * max(max(self.axle(axle)) for axle in AXLES))
