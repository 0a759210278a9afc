"""The picture of a weigh day: the machine from above, bets beside what was expected and read."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from leverarm.panels.weigh_day_result import BUCKET, FRAME, Believed, forecast_of
from leverarm.quantities import Refusal, to_unit, unit_of
from leverarm.stage.elements import as_text
from leverarm.stage.enlarged import Level
from leverarm.stage.weighed_day import DaySeen, weighed_day
from leverarm.uncertainty import Measured, mean
from leverarm.weighing.day import WeighDay
from leverarm.weighing.fit import SetupReadings
from leverarm.weighing.readings import SIDES
from leverarm.weighing.scales import AXLES, Session, Wheels, repeats, totals_of


def day_picture(
    day: WeighDay,
    believed: Believed,
    bets: Mapping[str, float],
    system: str,
    *,
    key: str,
    large: bool = False,
) -> str:
    """The machine between its readings as a piece of the page; nothing while none was read.

    With the bucket on, each axle's bet, forecast and reading stand enlarged beside its column.
    """
    off, on = _setups(day)
    now = on or off
    if now is None or not (now.front or now.rear):
        return ""
    unit = unit_of("weight", system)

    before = _axles(off, unit)
    said = {
        axle: before[axle] + to_unit(kg, "weight", unit)
        for axle, kg in bets.items()
        if axle in before
    }
    seen = DaySeen(
        day.machine.name,
        day.machine.wheelbase_m,
        system,
        day.machine.track_m,
        _wheels(now, unit),
        _axles(now, unit),
        before,
        {} if on is None else _bars(day, believed, said, on, unit),
        piece=on is not None,
    )
    return as_text(weighed_day(seen, large=large)).replace("st@", key)


def _setups(day: WeighDay) -> tuple[SetupReadings | None, SetupReadings | None]:
    """(without the bucket, with it); None for what was not weighed."""
    try:
        return day.with_and_without(BUCKET)
    except Refusal:
        found = [one for one in day.setups if one.pieces == FRAME]
        return (found[0] if found else None), None


def _axles(one: SetupReadings | None, unit: str) -> dict[str, float]:
    """The mean reading of each axle that was read."""
    read = {axle: totals_of(getattr(one, axle)) for axle in AXLES if one is not None}
    return {axle: to_unit(mean(kgs), "weight", unit) for axle, kgs in read.items() if kgs}


def _wheels(one: SetupReadings, unit: str) -> dict[str, float]:
    """The mean reading of each pad, of the axles that were read wheel by wheel."""
    return {
        f"{axle} {side}": to_unit(mean(repeats(getattr(given, side), axle)), "weight", unit)
        for axle, given in (("front", one.front), ("rear", one.rear))
        if isinstance(given, Wheels)
        for side in SIDES
    }


def _bars(
    day: WeighDay, believed: Believed, said: Mapping[str, float], on: SetupReadings, unit: str
) -> dict[str, tuple[Level, ...]]:
    """What was said, expected and read of each axle with the bucket on."""

    def bar(name: str, number: Measured) -> Level:
        half = to_unit(number.expanded(), "weight", unit)
        load = to_unit(number.value, "weight", unit)
        return Level(name, load, half if 0 < half < math.inf else None)

    # Without the scales' step or accuracy no plus or minus is shown.
    known = day.scales.known
    guess = forecast_of(day, believed) if known else None
    given: dict[str, Any] = {
        axle: getattr(on, axle) for axle in AXLES if totals_of(getattr(on, axle))
    }
    loads = Session(day.scales.scales, given=given).loads() if known else {}
    found = {}
    for axle, one in given.items():
        bars = [Level("said", said[axle])] if axle in said else []
        if guess is not None:
            bars.append(bar("expected", getattr(guess, axle)))
        now, load = mean(totals_of(one)), loads.get(axle)
        bars.append(bar("read", load if isinstance(load, Measured) else Measured(now)))
        found[axle] = tuple(bars)
    return found
