"""The ends of both columns enlarged, where a change is small beside the load that stays."""

from collections.abc import Mapping

from leverarm.numerals import Numeric
from leverarm.stage import sheet as paper
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element, px
from leverarm.stage.recorder import least, most, within
from leverarm.stage.sheet import LoadColumn, words

# How far an end reaches up and down from where it was, how wide it is.
UP, _DOWN, _WIDE = 46.0, 62.0, 44.0


def enlarged_times(change: float, sheet: paper.Paper, full: float) -> int:
    """How much to enlarge, so that a change fits well."""
    high = abs(change) * sheet.reach / full
    return next((n for n in (10, 8, 6, 5, 4, 3) if n * high <= 0.9 * UP), 2)


def enlarged_ends(
    columns: tuple[LoadColumn, LoadColumn],
    v: Mapping[str, Numeric],
    times: int,
    explaining: Numeric,
) -> list[Element]:
    """Front and rear end, what was said as a dashed line, what came from the other hatched.

    times       how much larger than the columns;  explaining  how much of the why is shown, 0 to 1
    """
    sheet, full = columns[0].sheet, columns[0].full
    size, base = sheet.small, sheet.top + 0.42 * sheet.reach
    scale, left = times * sheet.reach / full, 20.0 + 4.2 * sheet.small
    parts: list[Element] = []
    for n, one in enumerate(columns):
        x = left + 1.7 * n * _WIDE
        end = base + within((one.now - one.before) * scale, -UP, _DOWN)
        said = base + within(v[f"{one.axle}_said"] * scale, -UP, _DOWN)
        parts += [
            *_end(one, columns[1 - n].axle, (x, base), end, explaining),
            paper.stroke([(x - 7, said), (x + _WIDE + 7, said)], "ghost", 2),
        ]
    right = left + 2.7 * _WIDE
    text = entry("arms").text("detail").format(times=times)
    return [
        *parts,
        paper.stroke([(14, base), (right + 12, base)], "center", 1),
        words(right + 16, base + 4, entry("arms").text("before"), size, "muted", anchor="start"),
        words(14, base - UP - 0.7 * size, text, size, "muted", anchor="start"),
    ]


def _end(
    one: LoadColumn, other: str, at: tuple[float, float], end: Numeric, explaining: Numeric
) -> list[Element]:
    """One end: its gain solid, then hatched as it came from the other; its loss dashed."""
    x, base = at
    gained, lost = most(end - base, 0.0), least(end, base)
    came = element(
        "rect",
        class_="st-area-piece",
        fill=f"url(#st@-{one.sheet.name}-from-{other})",
        x=px(x),
        y=px(base),
        width=px(_WIDE),
        height=px(gained * explaining),
        stroke_width="0.8",
    )
    place = [(x, lost), (x, base), (x + _WIDE, base), (x + _WIDE, lost)]
    return [
        paper.box(x, base - UP, _WIDE, end - (base - UP), f"{one.axle}-fill"),
        element(
            "g",
            paper.box(x, base, _WIDE, gained, f"{one.axle}-solid"),
            opacity=f"{1 - explaining:.2f}",
        ),
        came,
        paper.stroke(place, f"{one.axle}-ghost", 1.8),
        paper.stroke([(x, end), (x + _WIDE, end)], one.axle, 4),
    ]
