"""How sure the page to hand over is: each number's plus or minus, what it means, which scales."""

from __future__ import annotations

from decimal import Decimal
from html import escape

from leverarm.handouts.page_facts import PageFacts
from leverarm.handouts.page_numbers import PageNumbers, round_decimal, rounded_up, spoken
from leverarm.quantities import show, show_number, to_unit, unit_of

_PLACED = {
    "moved": "one set moved between axles",
    "every wheel": "one pad under each wheel",
}


def how_sure(facts: PageFacts, numbers: PageNumbers, system: str) -> str:
    """Two lines as HTML: the numbers, then what their ± means and which scales stand behind it."""
    if facts.U_front_kg is None:
        lines = (
            "No ± is given: the step and the accuracy of the scales were not told.",
            " ".join(filter(None, ("The numbers are what the scales showed.", _told(facts)))),
        )
    else:
        lines = (
            _numbers(facts, numbers, unit_of("weight", system), facts.U_front_kg),
            f"95 of 100 weighings come this close. {scales_words(facts, system)}",
        )
    return f'<section class="sure"><h2>How sure</h2><p>{"<br>".join(lines)}</p></section>'


def _numbers(facts: PageFacts, n: PageNumbers, unit: str, U_front_kg: float) -> str:
    def text(name: str, number: Decimal, half_kg: float) -> str:
        half = rounded_up(to_unit(half_kg, "weight", unit), n.places)
        shown = f"{n.headline(number)} ± {spoken(half)} {unit}"
        return f'{name} <b class="nb">{shown}</b>.'

    parts = [text("Off the front", n.came_off, U_front_kg)]
    if n.weight is not None and facts.U_weight_kg is not None:
        name = facts.name[:1].upper() + facts.name[1:]
        told = ", told, not weighed" if facts.given == "weight" else ""
        parts.append(text(escape(name), n.weight, facts.U_weight_kg).removesuffix(".") + f"{told}.")
    if n.factor is not None and facts.U_factor is not None:
        factor, half = spoken(round_decimal(n.factor, 2)), spoken(rounded_up(facts.U_factor, 2))
        parts.append(f'Times <b class="nb">{factor} ± {half}</b>.')
    return " ".join(filter(None, (*parts, _told(facts))))


def _told(facts: PageFacts) -> str:
    """Which number was told and not weighed; "" where none was, or where that stands beside it."""
    weighed = not facts.given or (
        facts.given == "weight" and None not in (facts.U_weight_kg, facts.U_front_kg)
    )
    return "" if weighed else f"The {_TOLD[facts.given]} was told, not weighed."


_TOLD = {"weight": "weight", "ahead": "overhang"}


def scales_words(facts: PageFacts, system: str) -> str:
    """What was told about the scales, as one sentence."""
    scales, unit = facts.scales, unit_of("weight", system)
    parts = []
    if scales.step_kg is not None:
        step = to_unit(scales.step_kg, "weight", unit)
        places = 0 if abs(step - round(step)) < 1e-6 else 1 if step >= 1 else 2
        parts.append(f"{show_number(step, places)} {unit} steps")
    if scales.accuracy_percent is not None:
        parts.append(f"{scales.accuracy_percent:g} percent")
    if scales.limit_kg is not None:
        parts.append(f"certificate limit {show(scales.limit_kg, 'weight', system)}")
    if scales.placed is not None:
        parts.append(_PLACED[scales.placed])
    return f"Scales: {', '.join(parts)}."
