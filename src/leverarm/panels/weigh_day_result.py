"""What a weigh day says of the bucket: weight and overhang, and what was believed beside them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from html import escape

from leverarm import weighing
from leverarm.axles import AxleLoads
from leverarm.machine import Attachment, Tractor
from leverarm.panels.base import table
from leverarm.quantities import Refusal, show, to_unit, unit_of
from leverarm.scene import Look, Scene, side_view
from leverarm.scene.chart import Span
from leverarm.uncertainty import Measured, mean, plus_minus, uncertain
from leverarm.weighing.day import WeighDay
from leverarm.weighing.fit import SetupReadings
from leverarm.weighing.scales import AXLES

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


def inferred(day: WeighDay, believed: Believed) -> weighing.InferredPiece:
    """Weight and overhang of the bucket; with one axle read, by the overhang that was taped."""
    off, on = day.with_and_without(BUCKET)
    axles = [axle for axle in AXLES if getattr(off, axle) and getattr(on, axle)]
    before, after = (
        tuple(getattr(one, axle) if axle in axles else None for axle in AXLES) for one in (off, on)
    )
    return weighing.infer(
        before,
        after,
        day.machine.wheelbase_m,
        u_wheelbase=day.machine.u_wheelbase_m or 0.0,
        scales=day.scales.scales,
        ahead=None if both_read(off, on) else believed.measured("ahead"),
        name=BUCKET,
    )


def forecast_of(day: WeighDay, believed: Believed) -> weighing.Forecast | None:
    """What the scales should show with the bucket on; None where too little was told."""
    weight, ahead = believed.measured("weight"), believed.measured("ahead")
    without = next((one for one in day.setups_by_axle if one.pieces == FRAME), None)
    if weight is None or ahead is None or without is None or not both_read(without):
        return None
    return weighing.forecast(
        (without.front, without.rear),
        weight,
        ahead,
        day.machine.wheelbase_m,
        u_wheelbase=day.machine.u_wheelbase_m or 0.0,
        scales=day.scales.scales,
    )


def result_html(
    day: WeighDay,
    hung: weighing.InferredPiece,
    believed: Believed,
    bets: Mapping[str, float],
    system: str,
) -> str:
    """Weight and overhang in words, the forecast beside the readings, what would help most.

    Without the scales' step or accuracy no plus or minus is printed.
    """
    if not day.scales.known:
        return (
            f'<p class="lv-say">The bucket weighs {show(hung.weight_kg, "weight", system)} and '
            f"hangs {show(hung.ahead_m, 'length', system)} ahead of the front axle. No ± is given: "
            "neither the scales' step nor their accuracy was told.</p>"
        )
    guess = forecast_of(day, believed)
    return (
        f'<p class="lv-say">{escape(hung.sentence(system))}</p>'
        + (_beside(day, guess, bets, system) if guess else "")
        + _help(hung)
    )


def _beside(day: WeighDay, guess: weighing.Forecast, bets: Mapping[str, float], system: str) -> str:
    """Bet, forecast and reading of both scales, and whether the forecast held."""
    off, on = day.with_and_without(BUCKET)
    if not both_read(off, on):
        return ""
    rows, out = [], []
    for axle in AXLES:
        before, after = mean(getattr(off, axle)), mean(getattr(on, axle))
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
    return f"<p>{words}</p>{table(head, rows)}"


def _help(hung: weighing.InferredPiece) -> str:
    """What would shrink each interval most."""
    lines = []
    for name, number in (("weight", hung.weight), ("overhang", hung.ahead)):
        best = next(iter(weighing.improvements(number)), None)
        if best:
            lines.append(
                f"<li>For the {name}, {escape(best.name)} helps most: "
                f"{best.percent:.0f}&nbsp;% narrower. {escape(best.doing)}</li>"
            )
    return f"<ul>{''.join(lines)}</ul>" if lines else ""


def machine_view(day: WeighDay, believed: Believed, look: Look) -> Scene | None:
    """The machine on its scales: without the bucket as outlines, with it as arrows.

    None where no set-up was read on both axles.
    """
    try:
        off, on = day.with_and_without(BUCKET)
        pairs = [one for one in (off, on) if both_read(one)]
    except Refusal:
        pairs = [one for one in day.setups_by_axle if both_read(one) and one.pieces == FRAME]
    loads = [AxleLoads(mean(one.front), mean(one.rear)) for one in pairs]
    if not loads or min(loads[0].front_kg, loads[0].rear_kg) <= 0:
        return None
    before, now = loads[0], loads[-1]
    machine = Tractor(day.machine.name, day.machine.wheelbase_m, before.front_kg, before.rear_kg)
    hung = (
        (Attachment(BUCKET, believed.weight, believed.ahead),)
        if believed.weight is not None and believed.ahead is not None
        else ()
    )
    return side_view(machine, hung, now, before=before if len(loads) > 1 else None, look=look)


def span_charts(
    hung: weighing.InferredPiece, believed: Believed, system: str
) -> dict[str, tuple[str, str, list[Span]]]:
    """Believed and weighed on one scale each: chart arguments by picture name."""
    charts = {}
    for key, kind, name, number, told in (
        ("a", "weight", "Weight of the bucket", hung.weight, believed.measured("weight")),
        ("b", "length", "Overhang of the bucket", hung.ahead, believed.measured("ahead")),
    ):
        if number.expanded() != number.expanded():  # not a number: its ± is not known
            continue
        unit = unit_of(kind, system)
        rows = [_span("believed", told, kind, unit, "muted")] if told else []
        rows.append(_span("from the scales", number, kind, unit, "load"))
        charts[key] = (name, f"{name.split()[0].lower()}, {unit}", rows)
    return charts


def _span(name: str, number: Measured, kind: str, unit: str, role: str) -> Span:
    value, low, high = (to_unit(x, kind, unit) for x in (number.value, *number.interval()))
    return Span(name, value, low, high, role)
