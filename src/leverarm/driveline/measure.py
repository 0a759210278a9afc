"""Roll-out: the lead of the front axle, measured by counting turns, with its uncertainty.

Mark a front and a rear tire at the bottom.  Drive the same number of rear turns twice,
once with the front drive in, once with it out, and count the front turns.
"""

import math
from dataclasses import dataclass

import leverarm.driveline.formulas as formulas
from leverarm.quantities import Refusal, Sourced, read, set_fields, show_number
from leverarm.uncertainty import Measured, from_graduation

MOST_TURNS = 10_000


@dataclass(frozen=True)
class Window:
    """A range of lead that somebody printed, in percent, and who."""

    low: Sourced
    high: Sourced

    @property
    def words(self) -> str:
        """The range, to read: 'from +1 to +5 %'."""
        return (
            f"from {show_number(self.low, 0, sign=True)} to "
            f"{show_number(self.high, 0, sign=True)} %"
        )

    def holds(self, lead: float) -> bool:
        """Whether a plain lead lies in the range."""
        return self.low <= lead <= self.high


def _window(low, high, source):
    return Window(Sourced(low, "%", source), Sourced(high, "%", source))


_TIRE_MAKERS = "tire makers' technical pages, common practice"
WANTED = _window(1, 5, _TIRE_MAKERS)
ACCEPTED = _window(0, 6, _TIRE_MAKERS)
# Others print 0 to 3 %, 1.5 to 4 % (never below 1 or above 7), and tractors leave the factory near
# 1.5 to 2.5 % (Transport 34(6), 2019): the ranges disagree, so the machine's own manual decides.


@dataclass(frozen=True, init=False)
class RollOut:
    """Front turns counted over one and the same number of rear turns, drive in and drive out.

    engaged, free   front turns with the drive in and out
    rear            rear turns, the same both times
    step            smallest part of a turn that was read, on both wheels: 1 for whole turns, 0.05
                    with a tape; on a tire of 20 bars half a bar is 0.025

    >>> counted = RollOut(engaged=13.5, free=13.11, rear=10, step=0.05)
    >>> f"{counted.lead.value:.2f} {counted.lead.u:.2f} {counted.ratio:.2f}"
    '2.97 0.26 1.35'
    """

    engaged: float
    free: float
    rear: float
    step: float

    def __init__(self, engaged: float, free: float, rear: float, step: float) -> None:
        set_fields(
            self,
            engaged=_turns(engaged, "front turns, drive in"),
            free=_turns(free, "front turns, drive out"),
            rear=_turns(rear, "rear turns"),
            step=read(step, "number", "step", 0, 1, open_low=True),
        )
        if not 0.5 <= self.engaged / self.free <= 2:
            raise Refusal(
                "front turns",
                f"{self.engaged:g} with the drive in and {self.free:g} with it out",
                "two counts within a few percent",
                "count over the same number of rear turns both times",
            )

    @property
    def ratio(self) -> float:
        """Front turns for one rear turn, drive locked."""
        return formulas.turns_ratio(self.engaged, self.rear)

    @property
    def lead(self) -> Measured:
        """The lead in percent with its uncertainty: each count is known to a step.

        Front and rear are counted in both runs, so four counts are a step coarse.
        """
        ratios = (
            self._count(f"front, drive {way}", front) / self._count(f"rear, drive {way}", self.rear)
            for way, front in (("in", self.engaged), ("out", self.free))
        )
        return formulas.roll_out_lead(*ratios)

    def _count(self, wheel: str, turns: float) -> Measured:
        return Measured(turns, {from_graduation(f"count, {wheel}", self.step): 1.0})

    def turns_for(self, u_lead: float) -> float:
        """Front turns to count, read to the same step, for a standard uncertainty of the lead.

        >>> round(RollOut(13.5, 13.11, 10, step=1).turns_for(0.5))
        137
        """
        u_lead = read(u_lead, "share", "wanted uncertainty of the lead", 0, 100, open_low=True)
        u = from_graduation("count", self.step).u
        return formulas.turns_to_count(math.hypot(u, u * self.ratio), u_lead)


def _turns(value, field):
    return read(value, "number", field, 0, MOST_TURNS, open_low=True)


def lead_verdict(lead: float | Measured) -> str:
    """What a lead says beside the published ranges, in a sentence; a Measured is judged with its 95
    % interval.

    >>> lead_verdict(3.0)
    'The lead lies in the range tire makers want, from +1 to +5 %. Your manual decides.'
    >>> lead_verdict(RollOut(13.5, 13.11, 10, step=1).lead)[:37]
    'The count is too coarse to judge: the'
    """
    low, high = lead.interval() if isinstance(lead, Measured) else (lead, lead)
    manual = "Your manual decides."
    if WANTED.holds(low) and WANTED.holds(high):
        return f"The lead lies in the range tire makers want, {WANTED.words}. {manual}"
    if ACCEPTED.holds(low) and ACCEPTED.holds(high):
        return (
            f"The lead may lie outside the range tire makers want, {WANTED.words}, "
            f"but it is inside the one they accept, {ACCEPTED.words}. {manual}"
        )
    if high < ACCEPTED.low or low > ACCEPTED.high:
        return (
            f"The lead is outside the range tire makers accept, {ACCEPTED.words}. "
            "Check tires and pressures, then call the service department."
        )
    return (
        "The count is too coarse to judge: the lead may be anything from "
        f"{show_number(low, 1, sign=True)} to "
        f"{show_number(high, 1, sign=True)} %. Count more turns."
    )
