"""What a hung weight does to both scales, as a sentence and as a table."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from types import MappingProxyType

from leverarm import statics
from leverarm.axles import AxleLoads, Lift, compare
from leverarm.machine import Attachment, Tractor
from leverarm.panels.base import html_table
from leverarm.quantities import show, show_number


def _went(kg: float, system: str | None) -> str:
    """A change in words: gains 190.0 kg, loses 80.0 kg, does not change."""
    if abs(kg) < 0.05:
        return "does not change"
    return f"{'gains' if kg > 0 else 'loses'} {show(abs(kg), 'weight', system)}"


def place_words(piece: Attachment, system: str | None) -> str:
    """Where a piece hangs."""
    if abs(piece.ahead_m) < 1e-9:
        return "right over the front axle"
    side = "ahead of" if piece.ahead_m > 0 else "behind"
    return f"{show(abs(piece.ahead_m), 'length', system)} {side} the front axle"


def change_sentence(
    tractor: Tractor,
    piece: Attachment,
    result: AxleLoads,
    bare: AxleLoads,
    system: str | None = None,
) -> str:
    """What happened, in words with the numbers, for a reader of any kind."""
    name, weight = escape(piece.name), show(piece.weight_kg, "weight", system)
    start = f"The {name} weighs {weight} and hangs {place_words(piece, system)}."
    if result.lift:
        return f"{start} {lift_sentence(result.lift, system)}"
    change = compare(bare, result)
    factor = statics.amplification(piece.ahead_m, tractor.wheelbase_m)
    return (
        f"{start} The front scale {_went(change.front_kg, system)}, the rear "
        f"{_went(change.rear_kg, system)}, and together they gain "
        f"{show(change.total_kg, 'weight', system)}: {_factor_words(factor, name)}."
    )


def _factor_words(factor: float, name: str) -> str:
    """What the factor says."""
    if abs(factor - 1) < 0.005:
        return f"the front takes exactly the weight of the {name}"
    return f"the front takes {show_number(factor, 2)} times the weight of the {name}"


def lift_sentence(lift: Lift, system: str | None = None) -> str:
    """An axle carries nothing: at what weight, and that the equations end there."""
    at = (
        f" It lost its last load when the {escape(lift.piece)} reached "
        f"{show(lift.weight_kg, 'weight', system)}."
        if lift.weight_kg is not None
        else ""
    )
    return (
        f"The {lift.axle} axle carries nothing.{at} With any more the machine tips, and these "
        "equations no longer hold. Lower the load and carry less."
    )


def change_table(
    tractor: Tractor,
    piece: Attachment,
    bare: AxleLoads,
    result: AxleLoads,
    system: str | None = None,
    predictions: Mapping[str, float] = MappingProxyType({}),
) -> str:
    """Before, change and now for each scale, with the predictions beside the changes."""
    change = compare(bare, result)
    rows = [
        _row(
            name,
            getattr(bare, f"{key}_kg"),
            getattr(change, f"{key}_kg"),
            getattr(result, f"{key}_kg"),
            predictions.get(key),
            bool(predictions),
            system,
        )
        for name, key in (
            ("Front scale", "front"),
            ("Rear scale", "rear"),
            ("Both together", "total"),
        )
    ]
    head = ["", "without", "change", *(["you said"] if predictions else []), "with"]
    return html_table(head, rows) + _factor_line(tractor, piece, result, system)


def _row(
    name: str,
    before: float,
    change: float,
    after: float,
    said: float | None,
    asked: bool,
    system: str | None,
) -> list[str]:
    predicted = ["" if said is None else _arrowed(said, system)] if asked else []
    return [
        name,
        show(before, "weight", system),
        f"<b>{_arrowed(change, system)}</b>",
        *predicted,
        show(after, "weight", system),
    ]


def _arrowed(kg: float, system: str | None) -> str:
    """A change by sign and arrow, so that its direction is seen twice."""
    arrow = "▲ " if kg > 0.05 else "▼ " if kg < -0.05 else ""
    return arrow + show(kg, "weight", system, sign=True)


def _factor_line(tractor: Tractor, piece: Attachment, result: AxleLoads, system: str | None) -> str:
    """The factor, and where it is two."""
    double = show(statics.overhang_for(2, tractor.wheelbase_m), "length", system)
    if result.lift:
        return f"<p>A hung weight counts double at an overhang of {double}: one wheelbase.</p>"
    factor = show_number(statics.amplification(piece.ahead_m, tractor.wheelbase_m), 2)
    return (
        f"<p>Factor, front gain over the weight of the {escape(piece.name)}: <b>{factor}</b>. "
        f"It is 2 at an overhang of {double}: one wheelbase.</p>"
    )
