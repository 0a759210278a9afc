"""A machine in every set-up it can mow in, and where each stands on the paper."""

from dataclasses import dataclass, replace
from functools import cached_property

from leverarm import statics
from leverarm.decision import Case, Setup, setups
from leverarm.quantities import Refusal, to_unit
from leverarm.stage import sheet as paper
from leverarm.stage.case import AXLES, PART, SHEETS, SaidCase
from leverarm.stage.recording import Input
from leverarm.stage.sheet import Paper, full_load

# Small machines side by side: narrower columns, less type under them, no tape.
_DESK = replace(
    paper.DESK,
    height=540,
    per_m=48,
    floor=292,
    tape=307,
    top=328,
    reach=140,
    column=44,
    tag=78,
    label=13,
    body=15,
    change=17,
)
_PROJECTOR = replace(
    paper.PROJECTOR,
    height=598,
    per_m=50,
    floor=300,
    tape=324,
    top=364,
    reach=96,
    column=72,
    change=23,
)
_PHONE = replace(
    paper.PHONE,
    height=476,
    per_m=38,
    floor=82,
    tape=95,
    top=114,
    reach=62,
    column=34,
    tag=62,
    label=12,
    body=13,
    change=14,
)
# A machine alone: as many stand side by side as the page has room for, and no letter shrinks.
ALONE = replace(
    _PHONE,
    name="alone",
    width=192,
    height=290,
    per_m=40,
    floor=84,
    tape=98,
    top=117,
    reach=102,
    column=36,
    body=14,
    change=15,
)
ALONE_LARGE = replace(
    ALONE,
    name="alone_large",
    width=480,
    height=486,
    per_m=80,
    floor=170,
    tape=194,
    top=222,
    reach=146,
    column=72,
    small=20,
    label=20,
    body=24,
    change=26,
)
PAPERS = {one.name: one for one in (_DESK, _PROJECTOR, _PHONE, ALONE, ALONE_LARGE)}
# How many machines stand in a row, where that is not all of them; and how many rows a paper has.
_IN_ROW = {_PHONE.name: 2, ALONE.name: 1, ALONE_LARGE.name: 1}
_ROWS = {_PHONE.name: 2}
# Room at the right for the marks of the scale, where a machine has them beside it.
_MARKS = {ALONE.name: 24, ALONE_LARGE.name: 40}
# How far outlines reach beyond a piece's center of gravity or an axle, in meters.
_AHEAD_M, _BEHIND_M = 0.45, 0.35
MOST_SHARE = 60.0


@dataclass(frozen=True)
class SetupsCase(SaidCase):
    """One machine in the set-ups it can mow in, with how they are shown.

    With ballast the last set-up is the one asked about: the ballast comes off too.

    machine     what was told about it;  system  "lb" or "kg";  sheets  the sizes of paper drawn
    """

    machine: Case
    system: str = "lb"
    sheets: tuple[Paper, ...] = SHEETS

    @cached_property
    def setups(self) -> tuple[Setup, ...]:
        """The set-ups, the one asked about last."""
        return setups(self.machine)

    def loads(self, setup: Setup) -> tuple[float, float]:
        """What front and rear scale read in a set-up, in the unit shown.

        An axle that would be pulled up carries nothing.
        """
        level, unit = setup.level(), self.units.weight
        return (
            to_unit(level.front_kg, "weight", unit),
            to_unit(level.rear_kg, "weight", unit),
        )

    @property
    def ballast(self) -> tuple[float, float, float]:
        """Its weight, how far behind the rear axle it hangs, and the wheelbase, as shown."""
        hung = self.machine.ballast
        if hung is None:
            raise Refusal(
                "machine",
                "no ballast",
                "a machine with a loader and with ballast behind",
                "tell its ballast; what comes off with it is the question here",
            )
        wheelbase = self.machine.wheelbase.value
        behind = self.length(-(hung.ahead.value + wheelbase))
        return self.weight(hung.weight.value), behind, self.length(wheelbase)

    @property
    def gives_back(self) -> float:
        """What the ballast lifts off the front axle, and gives back when it comes off."""
        weight, behind, wheelbase = self.ballast
        return -statics.front_gain(weight, -(wheelbase + behind), wheelbase)

    @property
    def said(self) -> tuple[Input, ...]:
        """What the reader says: the front's change when the ballast comes off."""
        reach = 3 * self.ballast[0]
        return (Input("front_said", -reach, reach, 0, 1, 0, True),)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves: the least shares of the manual, and which set-up is chosen (0 is none)."""
        return (*self.said, *self.least, Input("chosen", 0, len(self.setups), 0), PART)

    @property
    def least(self) -> tuple[Input, ...]:
        """The least shares that the manual asks for, in percent; 0 is not told."""
        manual = self.machine.manual
        told = {axle: manual.least(axle)[0] or 0.0 for axle in AXLES}
        return tuple(
            Input(f"{axle}_least", 0, max(MOST_SHARE, told[axle]), told[axle]) for axle in AXLES
        )

    @cached_property
    def full(self) -> float:
        """The load a whole column stands for; it knows nothing of the set-up asked about."""
        asked = self.machine.ballast is not None
        known = [self.loads(one) for one in (self.setups[:-1] if asked else self.setups)]
        most = [load for both in known for load in both]
        if asked:
            most.append(known[-1][0] + self.ballast[0])
        return full_load(1.05 * max(most))

    def places(self, sheet: Paper) -> tuple[Paper, ...]:
        """A small paper for each set-up: side by side, two in a row, or one under the other."""
        base, count = PAPERS[sheet.name], len(self.setups)
        columns = _IN_ROW.get(sheet.name, count)
        room = (base.width - _MARKS.get(sheet.name, 0)) / columns
        high = base.height / _ROWS.get(sheet.name, 1)
        mower, machine = self.machine.mower, self.machine
        hung = [machine.loader, machine.bucket, machine.ballast, mower and mower.at_work]
        places = [one.ahead.value for one in hung if one]
        wheelbase = machine.wheelbase.value
        ahead = max(*places, 0.6) + _AHEAD_M
        behind = max(-min(places), wheelbase + 0.4) + _BEHIND_M
        per_m = min(base.per_m, (room - 8) / (ahead + behind))
        column = min(base.column, 0.62 * wheelbase * per_m)
        spare = room - (ahead + behind) * per_m

        def at(n: int) -> Paper:
            across, down = n % columns, n // columns * high
            return replace(
                base,
                name=f"{base.name}-{n}" if columns == 1 else base.name,
                near_x=across * room + spare / 2 + ahead * per_m,
                per_m=per_m,
                column=column,
                floor=base.floor + down,
                tape=base.tape + down,
                top=base.top + down,
                height=(n // columns + 1) * high,
            )

        return tuple(at(n) for n in range(count))
