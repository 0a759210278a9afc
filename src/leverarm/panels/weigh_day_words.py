"""What the weigh-day panel says: the promise, the forecast beside the readings, what would help
most.
"""

from html import escape

from leverarm.axles import AxleLoads
from leverarm.machine import Attachment, Tractor
from leverarm.panels.base import picture_html, table
from leverarm.quantities import Refusal, show, to_unit, unit_of
from leverarm.scene import Look, side_view
from leverarm.scene.chart import Span
from leverarm.uncertainty import plus_minus, uncertain
from leverarm.weighing import improvements


def promise(panel):
    """What to do next, while the readings with the bucket on are not there."""
    if panel.hidden:
        return (
            '<p class="lv-say">The readings with the bucket on are kept back. Predict what each '
            "scale does when it goes on, then "
            "lock it in. The workbook's own forecast comes with the reveal.</p>"
        )
    return (
        '<p class="lv-say">Now weigh. Type what each scale shows with the bucket on. Put a '
        "semicolon (;) between several readings of one scale. Or take the invented ones.</p>"
        + _forecast_line(panel)
    )


def machine_view(panel):
    """The machine on its scales: readings with the bucket off as outlines, with it on as arrows
    once they are typed.
    """
    v, off = panel.values, _loads(panel, "off")
    if off is None:
        return ""
    now = None if panel.hidden else _loads(panel, "on")
    machine = Tractor(
        "Machine", v["wheelbase"], max(off.front_kg, 1), max(off.rear_kg, 1), unusual_wheelbase=True
    )
    bucket = Attachment("bucket", v["weight"], v["ahead"])
    look = Look(panel.system, hidden=panel.hidden)
    return picture_html(
        side_view(machine, (bucket,), now or off, before=off if now else None, look=look),
        panel,
        "m",
    )


def _loads(panel, when):
    """The mean readings as AxleLoads, or None where they are not both there or can't be read."""
    try:
        means = panel.means(when)
    except Refusal:
        return None
    return (
        AxleLoads(means["front"], means["rear"])
        if len(means) == 2 and min(means.values()) > 0
        else None
    )


def _forecast_line(panel):
    try:
        return f"<p>{escape(panel.forecast.sentence(panel.system))}</p>"
    except Refusal as refusal:
        return f"<p>{escape(str(refusal))}</p>"


def verdict(panel, guess):
    """Did the forecast hold?"""
    if guess is None:
        return ""
    out = [axle for axle, kg in panel.means("on").items() if not guess.holds(axle, kg)]
    said = (
        "Both readings lie within the forecast."
        if not out
        else f"The {' and the '.join(out)} reading lies outside the forecast: what was believed "
        "of the bucket, or the set-up, is off."
    )
    return f"<p>{said}</p>"


def forecast_table(panel, guess):
    """Prediction, forecast and reading of both scales."""
    if guess is None:
        return ""
    said, off, means = panel.predictions, panel.means("off"), panel.means("on")
    rows = [
        [
            f"{axle.capitalize()} scale",
            *([show(off[axle] + said[axle], "weight", panel.system)] if said else []),
            plus_minus(getattr(guess, axle), "weight", panel.system, brief=True),
            show(means[axle], "weight", panel.system),
        ]
        for axle in ("front", "rear")
    ]
    return table(
        ["bucket on", *(["you said"] if said else []), "forecast (95 %)", "mean reading"], rows
    )


def help_list(hung):
    """What would shrink each interval most."""
    lines = []
    for name, number in (("weight", hung.weight), ("overhang", hung.ahead)):
        best = next(iter(improvements(number)), None)
        if best:
            lines.append(
                f"<li>For the {name}, {escape(best.name)} helps most: {best.percent:.0f}&nbsp;% "
                f"narrower. {escape(best.doing)}</li>"
            )
    return f"<ul>{''.join(lines)}</ul>" if lines else ""


def spans(panel, hung):
    """Believed and weighed on one scale each: chart arguments by picture name."""
    v, out = panel.values, {}
    for key, kind, name, number, value, u in (
        ("a", "weight", "Weight of the bucket", hung.weight, v["weight"], v["u_weight"]),
        ("b", "length", "Overhang of the bucket", hung.ahead, v["ahead"], v["u_ahead"]),
    ):
        if number.expanded() == number.expanded():
            unit = unit_of(kind, panel.system)
            rows = [
                _span("believed", uncertain(value, u), kind, unit, "muted"),
                _span("from the scales", number, kind, unit, "load"),
            ]
            out[key] = (name, f"{name.split()[0].lower()}, {unit}", rows)
    return out


def _span(name, number, kind, unit, role):
    value, low, high = (to_unit(x, kind, unit) for x in (number.value, *number.interval()))
    return Span(name, value, low, high, role)
