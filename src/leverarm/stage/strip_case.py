"""A tractor and the two pieces of its loader, and what the scales read as they come off."""

from dataclasses import dataclass

from leverarm import statics
from leverarm.machine import Attachment, Tractor
from leverarm.numerals import Numeric
from leverarm.quantities import show_number, to_unit
from leverarm.stage.case import AXLES, PART, SHEETS, SaidCase
from leverarm.stage.recorder import least, most
from leverarm.stage.recording import Input
from leverarm.stage.sheet import Paper, full_load

# What comes off.
PIECES = ("frame", "bucket")


@dataclass(frozen=True)
class StripCase(SaidCase):
    """A bare tractor and the two pieces of its loader, with how they are shown.

    system      "lb" or "kg";  sheets  the sizes of paper drawn
    """

    tractor: Tractor
    frame: Attachment
    bucket: Attachment
    system: str = "lb"
    sheets: tuple[Paper, ...] = SHEETS

    def length(self, m: float) -> float:
        """A length in the unit shown, to a tenth of an inch or a centimeter."""
        return round(to_unit(m, "length", self.units.length), 1 if self.system == "lb" else 2)

    def show_length(self, m: float) -> str:
        """A length with its unit, without a zero behind the point."""
        length, places = self.length(m), 1 if self.system == "lb" else 2
        whole = self.system == "lb" and length == int(length)
        return f"{show_number(length, 0 if whole else places)} {self.units.length}"

    @property
    def bare(self) -> dict[str, float]:
        """What the scales read under the bare tractor, in the unit shown."""
        return {axle: self.weight(getattr(self.tractor, f"{axle}_kg")) for axle in AXLES}

    def gain(self, name: str) -> tuple[float, float]:
        """What a piece adds to the front and to the rear reading, in the unit shown."""
        piece: Attachment = getattr(self, name)
        given = self.weight(piece.weight_kg), self.length(piece.ahead_m)
        wheelbase = self.length(self.tractor.wheelbase_m)
        front = statics.front_gain(*given, wheelbase)
        return front, statics.rear_change(*given, wheelbase)

    @property
    def said(self) -> tuple[Input, ...]:
        """What the reader says: the front's change when the frame comes off."""
        reach = 3 * self.weight(self.frame.weight_kg)
        return (Input("front_said", -reach, reach, 0, 1, 0, True),)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves: how high each piece hangs, 0 on the tractor and 1 on the hoist."""
        up = (Input(f"{name}_up", 0, 1, 1, 0.01, 2) for name in PIECES)
        return (*self.said, *up, PART)

    @property
    def full(self) -> float:
        """The load a whole column stands for: everything on."""
        front, rear = strip_loads(self, 1.0, 1.0)
        return full_load(1.05 * max(front, rear, *self.bare.values()))


def strip_loads(case: StripCase, frame: Numeric, bucket: Numeric) -> tuple[Numeric, Numeric]:
    """Front and rear reading with a share of each piece on, from 0 (on the hoist) to 1.

    An axle that would be pulled up carries nothing.
    """
    on = {"frame": frame, "bucket": bucket}
    gains = {name: case.gain(name) for name in PIECES}
    front = case.bare["front"] + sum(on[name] * gains[name][0] for name in PIECES)
    rear = case.bare["rear"] + sum(on[name] * gains[name][1] for name in PIECES)
    return front + least(rear, 0.0), most(rear, 0.0)
