"""A weigh-day record as the Case of a decision: one machine on one day, and nothing lent.

A record may hold several machines and days.  A Case is made of one machine on one day,
so where there are more, one has to be chosen.  What the record does not hold (tires,
heights, arms, a manual) is absent from the Case unless it was told, and the rows that
need it say so.  Without the scales' step and accuracy no plus or minus is known.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from leverarm import weighing
from leverarm.decision.case import Case, Piece
from leverarm.machine import DEMO_NOTE
from leverarm.quantities import Refusal, show
from leverarm.uncertainty import Measured, uncertain
from leverarm.weighing.scales import wheelbase_of

RECORD = "weigh_day_record.csv"
# A tape held to both hubs is read to a few millimeters; no load on the page depends on it.
U_TAPE_M = 0.003


@dataclass(frozen=True)
class MachineDay:
    """The rows of a record that belong to one machine and one day.

    invented    True for the demo machine's readings, which are never taken for a record
    """

    machine: str
    date: str
    rows: tuple[weighing.RecordRow, ...]
    invented: bool = False

    @property
    def name(self) -> str:
        """Machine and day as one line, to choose from."""
        return f"{self.machine} on {self.date}"

    @property
    def note(self) -> str:
        """What a page says of where its numbers come from."""
        if self.invented:
            return DEMO_NOTE
        return f"Loads come from the weigh-day record: {self.name}."


def machine_days(rows: Iterable[weighing.RecordRow]) -> tuple[MachineDay, ...]:
    """Rows parted by machine and day, in order of first appearance; letter case makes no other
    machine.

    >>> [day.name for day in machine_days(weighing.demo_rows())]
    ['Plot tractor on 2025-05-14']
    """
    parted: dict[tuple[str, str], list[weighing.RecordRow]] = {}
    for one in rows:
        parted.setdefault((one.date, one.machine.casefold()), []).append(one)
    return tuple(MachineDay(own[0].machine, own[0].date, tuple(own)) for own in parted.values())


def read_days(path: Path | str) -> tuple[MachineDay, ...]:
    """Every machine and day of a record file; empty where it is not there or holds no reading.

    Raises Refusal where a line cannot be read: a page made without it would hide that.
    """
    record = weighing.read_record(path)
    if record.faults:
        more = len(record.faults) - 1
        raise Refusal(
            "record",
            Path(path).name,
            "a record in which every line can be read",
            f"correct {record.faults[0]}" + (f" ({more} more)" if more else ""),
        )
    return machine_days(record.current)


def one_day(
    days: Sequence[MachineDay], machine: str | None = None, date: str | None = None
) -> MachineDay:
    """The one MachineDay that was asked for; a Refusal where there is none, or more than one.

    machine, date   may be left out where the days hold only one
    """
    fitting = [
        day
        for day in days
        if (machine is None or day.machine.casefold() == machine.strip().casefold())
        and (date is None or day.date == date)
    ]
    if len(fitting) == 1:
        return fitting[0]
    asked = ", ".join(filter(None, (machine, date)))
    held = "; ".join(day.name for day in days)
    if not days:
        raise no_readings("record")
    if fitting:
        raise Refusal(
            "machine and day",
            f"{len(fitting)} in this record",
            "one of them: " + "; ".join(day.name for day in fitting),
            "choose one, since machines and days are never averaged",
        )
    raise Refusal("machine and day", asked, held, "choose one that the record holds")


def no_readings(path: Path | str) -> Refusal:
    """The Refusal for a record that is not there yet, or holds no reading."""
    return Refusal(
        Path(path).name,
        "no readings",
        "readings of one machine on one day",
        "weigh the machine and write the readings down first",
    )


def demo_day() -> MachineDay:
    """The demo machine's invented weigh day, marked as invented."""
    (day,) = machine_days(weighing.demo_rows())
    return replace(day, invented=True)


def case_of_day(
    day: MachineDay,
    *,
    scales: weighing.Scales | None = None,
    heights: Mapping[str, float | None] | None = None,
    **about: Any,
) -> Case:
    """The Case of one machine on one day.

    scales      what was told about the scales; without it the Case carries no plus or minus
    heights     {piece name: meters}, "machine" for the bare machine: for the rows on slopes
    about       mower=, tires=, drive=, job=, manual=, stance=, arms=, nose_m=; nothing is lent
    """
    if day.invented and scales is None:
        scales = weighing.demo_scales()
    lengths = {one.wheelbase_m for one in day.rows}
    if len(lengths) > 1:
        raise Refusal(
            "wheelbase",
            " and ".join(show(length, "length", decimals=3) for length in sorted(lengths)),
            f"one wheelbase for {day.name}",
            "correct the rows in which it is wrong",
        )
    base = wheelbase_of(lengths.pop(), U_TAPE_M)
    fit = weighing.least_squares(weighing.setup_readings(day.rows), base, scales=scales)
    made = from_fit(day.machine, fit, base, heights=heights, **about)
    return made if scales is not None else _without_plus_minus(made)


def case_from_record(
    path: Path | str = RECORD,
    *,
    machine: str | None = None,
    date: str | None = None,
    scales: weighing.Scales | None = None,
    **about: Any,
) -> Case:
    """The Case of a record file; which machine and day must be said where it holds several.

    scales, about   as for :func:`case_of_day`
    """
    return case_of_day(one_day(read_days(path), machine, date), scales=scales, **about)


def scales_told(step: str, accuracy: str) -> weighing.Scales | None:
    """Scales from what was typed: their smallest step and accuracy in percent; None where neither
    was.

    >>> scales_told("1 lb", "0.5 %").graduation_kg, scales_told("", " ")
    (0.45359237, None)
    """
    step, accuracy = step.strip(), accuracy.strip()
    if not step and not accuracy:
        return None
    for field, text in (("smallest step", step), ("accuracy", accuracy)):
        if not text:
            raise Refusal(
                f"{field} of the scales",
                "nothing",
                "both their smallest step and their accuracy, or neither",
                "tell both for a ±, or leave both empty for none",
            )
    return weighing.Scales(graduation=step, accuracy=accuracy)


def _without_plus_minus(made: Case) -> Case:
    """A Case whose weights and places carry no uncertainty that could be printed."""

    def bare(number):
        return uncertain(number.value, math.nan, "scales not told")

    def piece(one):
        return one and replace(one, weight=bare(one.weight), ahead=bare(one.ahead))

    return replace(
        made,
        front=bare(made.front),
        rear=bare(made.rear),
        loader=piece(made.loader),
        bucket=piece(made.bucket),
        ballast=piece(made.ballast),
    )


def from_fit(
    name: str,
    fit: weighing.Fit,
    wheelbase: Measured | float | str,
    *,
    loader: str = "loader frame",
    bucket: str = "bucket",
    ballast: str = "ballast",
    heights: Mapping[str, float | None] | None = None,
    reaches: Mapping[str, float | None] | None = None,
    **more: Any,
) -> Case:
    """A Case from a weigh day's Fit: bare loads, weights and overhangs, each with its plus or
    minus.

    loader, bucket, ballast   what those pieces were called in the record; only the loader must be
                              there
    heights, reaches    {piece name: meters}, for slopes and for the length ahead; "machine" is the
                        bare machine
    more        mower=, tires=, drive=, job=, manual=, stance=, arms=, nose_m=
    """
    heights, reaches = heights or {}, reaches or {}
    if loader not in fit.pieces:
        raise Refusal(
            "record",
            ", ".join(fit.pieces) or "no piece",
            f"one with a {loader}",
            "weigh the machine with the loader on and off",
        )
    weighed = {
        name: Piece(name, hung.weight, hung.ahead, heights.get(name), reaches.get(name))
        for name, hung in fit.pieces.items()
    }
    return Case(
        name,
        wheelbase_of(wheelbase),
        fit.front,
        fit.rear,
        heights.get("machine"),
        weighed[loader],
        weighed.get(bucket),
        weighed.get(ballast),
        **more,
    )
