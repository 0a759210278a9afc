"""Four readings of two scales, before and after; what follows from them, and how far it is off.

Units carry no physics here: the formulas run on what is shown.
"""

from dataclasses import dataclass
from functools import cached_property

from leverarm import statics
from leverarm.numerals import Numeric
from leverarm.stage.case import AXLES
from leverarm.uncertainty import u_of_mean, u_of_sum, uncertain, value_of

_CAUSES = ("reading", "tape")


@dataclass(frozen=True)
class FourReadings:
    """Front and rear reading before and after, and the wheelbase, in the unit shown.

    Results by name: "front" and "rear" (the changes), "weight", "ahead" (the overhang), "factor".

    >>> read = FourReadings((1826, 1714), (2346, 1519), 65)
    >>> read.value("weight"), read.value("ahead"), read.value("factor")
    (325.0, 39.0, 1.6)
    """

    before: tuple[float, float]
    after: tuple[float, float]
    wheelbase: float

    @cached_property
    def _results(self) -> dict[str, Numeric]:
        """Every result, each reading and the tape off by one unit of its own."""
        front, rear = (
            uncertain(new, 1.0, f"{axle} after", cause="reading")
            - uncertain(old, 1.0, f"{axle} before", cause="reading")
            for axle, old, new in zip(AXLES, self.before, self.after, strict=True)
        )
        base = uncertain(self.wheelbase, 1.0, "wheelbase", cause="tape")
        ahead = statics.overhang_of(front, rear, base)
        return {
            "front": front,
            "rear": rear,
            "weight": statics.hung_weight(front, rear),
            "ahead": ahead,
            "factor": statics.amplification(ahead, base),
        }

    def value(self, result: str) -> float:
        """A result in the unit shown."""
        return float(value_of(self._results[result]))

    @cached_property
    def _slopes(self) -> dict[str, dict[str, tuple[float, ...]]]:
        """By result and cause: how much it moves for each unit of each single error."""
        return {
            name: {
                cause: tuple(x for source, x in one.slopes.items() if source.cause == cause)
                for cause in _CAUSES
            }
            for name, one in self._results.items()
        }

    def u_of(self, result: str, u: Numeric, u_tape: Numeric = 0.0, repeats: Numeric = 1) -> Numeric:
        """Standard uncertainty of a result, in the unit shown.

        u, u_tape   of one reading, of the wheelbase;  repeats  of each reading, averaged
        """
        slopes, steady = self._slopes[result], u_of_mean(u, repeats)
        errors = [x * steady for x in slopes["reading"]] + [x * u_tape for x in slopes["tape"]]
        return u_of_sum(*errors)
