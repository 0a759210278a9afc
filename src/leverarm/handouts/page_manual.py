"""What the manual asks for, on the page to hand over: told or left blank, and where a weighing was
outside of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from html import escape

from leverarm.handouts.page_facts import PageFacts
from leverarm.handouts.page_numbers import PageNumbers, round_decimal, spoken
from leverarm.quantities import show_number, to_unit

BLANK_PAGE = '<span class="blank page">&nbsp;</span>'
_ASK = "Ask the service department before this machine works that way."


def manual_lines(facts: PageFacts, unit: str) -> str:
    """The least rear share, or a line to look it up; axle ratings only where they were told."""
    least, ratings = facts.machine.rear_share_least, facts.machine.ratings_kg
    if least is None:
        share = (
            f"Least rear share the manual asks for: <b>not told</b>. Look it up: page {BLANK_PAGE}"
        )
    else:
        percent = show_number(least, 0 if least % 1 == 0 else 1)
        share = f"Least rear share, from the manual: <b>{percent} percent</b>."
    lines = [share]
    if ratings:
        said = " and ".join(
            f"{axle} <b>{_as_told(kg, unit)}\u00a0{unit}</b>" for axle, kg in ratings.items()
        )
        lines.append(f"Axle rating, from the manual: {said}.")
    return "".join(f'<p class="after">{line}</p>' for line in lines)


def stop_line(facts: PageFacts, numbers: PageNumbers, unit: str) -> str:
    """A red line where a weighing was outside of what was told from the manual."""
    low, over = list(_too_light(facts, numbers)), list(_too_heavy(facts, numbers, unit))
    said = []
    if over:
        said.append(f"More than the axle rating from the manual: {', and '.join(over)}.")
    if low:
        asked = "The rear axle carried less of the weight than the manual asks for"
        said.append(f"{asked}: {', and '.join(low)}.")
    return f'<p class="stop">Stop. {" ".join(said)} {_ASK}</p>' if said else ""


def _too_heavy(facts: PageFacts, n: PageNumbers, unit: str) -> Iterator[str]:
    """Each axle and set-up with more on it than its rating, as printed."""
    for axle, pair in (("front", n.front), ("rear", n.rear)):
        rating = facts.machine.ratings_kg.get(axle)
        for when, carried in zip(("on", "off"), pair or ()):
            if rating is not None and carried > _decimal(rating, unit):
                yield f"{axle} axle with the {escape(facts.name)} {when}, {spoken(carried)} {unit}"


def _too_light(facts: PageFacts, n: PageNumbers) -> Iterator[str]:
    """Each set-up with less than the least share on the rear axle."""
    least = facts.machine.rear_share_least
    if least is None or n.rear is None or n.total is None:
        return
    for when, rear, total in zip(("on", "off"), n.rear, n.total):
        share = 100 * rear / total
        if share < Decimal(repr(least)):
            places = 0 if round_decimal(share, 0) < least else 1
            yield f"with the {escape(facts.name)} {when}, {round_decimal(share, places)} percent"


def _as_told(kg: float, unit: str) -> str:
    """A weight that was told, in as few digits as it was told with."""
    number = _decimal(kg, unit)
    rounded = (round_decimal(number, places) for places in range(3))
    return spoken(next((one for one in rounded if one == number), round_decimal(number, 0)))


def _decimal(kg: float, unit: str) -> Decimal:
    """A told weight in the printed unit, without the dust of a change of units."""
    return Decimal(repr(round(to_unit(kg, "weight", unit), 6)))
