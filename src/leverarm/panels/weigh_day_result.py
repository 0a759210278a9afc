"""What a weigh day says of the bucket: weight and overhang, and what was believed beside them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from html import escape
from typing import Any

from leverarm import weighing
from leverarm.panels.base import html_table
from leverarm.quantities import show, to_unit, unit_of
from leverarm.scene.chart import Span
from leverarm.uncertainty import Measured, mean, plus_minus, uncertain
from leverarm.weighing.day import WeighDay
from leverarm.weighing.fit import SetupReadings
from leverarm.weighing.results import DayResults, base_of, results
from leverarm.weighing.scales import AXLES, totals_of

BUCKET = "bucket"
FRAME = ("loader frame",)


@dataclass(frozen=True)
class Believed:
    """What was believed of the bucket before it was weighed, in kg and m; None: not told."""

    weight: float | None = None
    u_weight: float | None = None
    ahead: float | None = None
    u_ahead: float | None = None

    def measured(self, name: str) -> Measured | None:
        """A belief with its plus or minus; None unless both were told."""
        value, u = getattr(self, name), getattr(self, f"u_{name}")
        return None if value is None or u is None else uncertain(value, u, f"{name}, believed")


def both_read(*setups: SetupReadings) -> bool:
    """True where front and rear axle were read in every set-up."""
    return all(one.front and one.rear for one in setups)


def bucket_results(day: WeighDay, believed: Believed) -> DayResults:
    """What came off with the bucket; with the front axle alone, by the overhang that was taped, or
    by the weight where no overhang was told.
    """
    off, on = day.with_and_without(BUCKET)
    told = "weight" if believed.ahead is None else "ahead"
    instead: dict[str, Any] = {key: getattr(believed, key) for key in (told, f"u_{told}")}
    return results(day, BUCKET, **({} if both_read(off, on) else instead))


def forecast_of(day: WeighDay, believed: Believed) -> weighing.Forecast | None:
    """What the scales should show with the bucket on; None where too little was told."""
    weight, ahead = believed.measured("weight"), believed.measured("ahead")
    without = next((one for one in day.setups if one.pieces == FRAME), None)
    if weight is None or ahead is None or without is None or not both_read(without):
        return None
    return weighing.forecast(
        (without.front, without.rear),
        weight,
        ahead,
        base_of(day),
        scales=day.scales.scales,
    )


def result_html(
    found: DayResults, believed: Believed, bets: Mapping[str, float], system: str
) -> str:
    """What the bucket does to both axles, its weight and overhang, the forecast beside them.

    Without the scales' step or accuracy no plus or minus is printed.
    """
    notes = "".join(f"<p>{escape(note)}</p>" for note in found.notes)
    words = "".join(f"<p>{escape(line)}</p>" for line in sentences(found, system))
    guess = forecast_of(found.day, believed) if found.has_plus_minus else None
    return (
        f'<div class="lv-say">{words}</div>'
        + (_beside(found.day, guess, bets, system) if guess else "")
        + notes
        + (_help(found) if found.has_plus_minus else "")
    )


def sentences(found: DayResults, system: str) -> list[str]:
    """What the readings say of the bucket: at the axles first, then its weight and place."""
    say = _sayer(found, system)
    more = "more" if found.front_change.value > 0 else "less"
    axles = [f"the front axle carries {say(abs(found.front_change), 'weight')} {more}"]
    if found.rear_change is not None:
        more = "more" if found.rear_change.value > 0 else "less"
        axles.append(f"the rear axle {say(abs(found.rear_change), 'weight')} {more}")
    lines = [f"With the bucket on, {' and '.join(axles)}."]
    if found.weight is None or found.ahead is None or found.factor is None:
        return [
            *lines,
            (
                "Only the front axle was read, so its weight and its overhang stay open: read the "
                "rear axle, or tell its weight, or its overhang by tape, with a ±."
            ),
        ]
    place = "ahead of" if found.ahead.value >= 0 else "behind"
    told = "weight" if found.given == "weight" else "overhang"
    caveat = f" This takes the {told} as told, since only the front axle was read."
    lines.append(
        f"The bucket weighs {say(found.weight, 'weight')} and hangs "
        f"{say(abs(found.ahead), 'length')} {place} the front axle." + (caveat * bool(found.given))
    )
    lines.append(
        f"The front axle changes by {say(found.factor, 'number')} times what the bucket weighs."
    )
    if found.has_plus_minus:
        lines.append("Each ± holds the true value in 95 of 100 cases.")
    return lines


def _sayer(found: DayResults, system: str) -> Callable[[Measured, str], str]:
    """How a number of these results is said: with its ±, or without where none is known."""

    def say(number: Measured, kind: str) -> str:
        if found.has_plus_minus:
            return plus_minus(number, kind, system, brief=True).strip()
        return show(number.value, kind, system)

    return say


def _beside(day: WeighDay, guess: weighing.Forecast, bets: Mapping[str, float], system: str) -> str:
    """Bet, forecast and reading of both scales, and whether the forecast held."""
    off, on = day.with_and_without(BUCKET)
    if not both_read(off, on):
        return ""
    rows, out = [], []
    for axle in AXLES:
        before, after = (mean(totals_of(getattr(one, axle))) for one in (off, on))
        out += [] if guess.holds(axle, after) else [axle]
        bet = [show(before + bets[axle], "weight", system)] if bets else []
        forecast = plus_minus(getattr(guess, axle), "weight", system, brief=True)
        reading = show(after, "weight", system)
        rows.append([f"{axle.capitalize()} scale", *bet, forecast, reading])
    words = (
        f"The {' and the '.join(out)} reading lies outside the forecast: what was believed of the "
        "bucket, or the set-up, is off."
        if out
        else "Both readings lie within the forecast."
    )
    head = ["bucket on", *(["you said"] if bets else []), "forecast (95 %)", "mean reading"]
    return f"<p>{words}</p>{html_table(head, rows)}"


def _help(found: DayResults) -> str:
    """What would shrink each interval most."""
    lines = []
    for name, number in (("weight", found.weight), ("overhang", found.ahead)):
        best = next(iter(weighing.improvements(number)), None) if number is not None else None
        if best:
            lines.append(
                f"<li>For the {name}, {escape(best.name)} helps most: "
                f"{best.percent:.0f}&nbsp;% narrower. {escape(best.doing)}</li>"
            )
    return f"<ul>{''.join(lines)}</ul>" if lines else ""


def span_charts(
    found: DayResults, believed: Believed, system: str
) -> dict[str, tuple[str, str, list[Span]]]:
    """Believed and weighed on one scale each: chart arguments by picture name."""
    charts = {}
    for key, kind, name, number, believed_value in (
        ("a", "weight", "Weight of the bucket", found.weight, believed.measured("weight")),
        ("b", "length", "Overhang of the bucket", found.ahead, believed.measured("ahead")),
    ):
        if number is None or not found.has_plus_minus:
            continue
        unit = unit_of(kind, system)
        rows = [_span("believed", believed_value, kind, unit, "muted")] if believed_value else []
        rows.append(_span("from the scales", number, kind, unit, "load"))
        charts[key] = (name, f"{name.split()[0].lower()}, {unit}", rows)
    return charts


def _span(name: str, number: Measured, kind: str, unit: str, role: str) -> Span:
    value, low, high = (to_unit(x, kind, unit) for x in (number.value, *number.interval()))
    return Span(name, value, low, high, role)
