"""The two pictures of the page to hand over: the machine on its scales, and under each axle a
column as long as its reading.

Left, with the piece on, stands why the front carried so much; right, with it off, what changed.
Both hang from one scale.  Colors say only front and rear, and the word stands in each column.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from html import escape

from leverarm import outline
from leverarm.handouts.page_facts import PageFacts
from leverarm.handouts.page_numbers import PageNumbers, spoken
from leverarm.outline import Area, Disk, Part, Place

WIDTH, HEIGHT = 352, 300
FRONT_X, GROUND_Y, TOP_Y, LOW_Y = 160.0, 115.0, 150.0, 262.0
HALF = 31.0
# Pixels between the axles, and to the piece ahead of them: at most, and the axles at least.
MOST_BASE, MOST_AHEAD, LEAST_BASE = 97.0, 128.0, 78.0
USUAL_AHEAD = 0.7  # of the wheelbase, where a piece is drawn whose place is not known
TICKS = 5
SHORT_NAME = 14  # letters beside a column on one line


def _cut(name: str) -> str:
    return name if len(name) <= SHORT_NAME else name[: SHORT_NAME - 1].rstrip() + "…"


@dataclass(frozen=True)
class _Drawing:
    """What both pictures share: facts, numbers, units, and the scale of the columns."""

    facts: PageFacts
    numbers: PageNumbers
    weight_unit: str
    length_unit: str

    @property
    def steps(self) -> list[int]:
        """The numbers of the scale, from 0 past the largest reading."""
        most = max(self.numbers.front[0], *(self.numbers.rear or (Decimal(0),)))
        step = next(
            n * 10**power for power in range(6) for n in (1, 2, 5) if n * 10**power * TICKS >= most
        )
        return [step * i for i in range(int(most // step) + 2)]

    def y(self, reading: Decimal | int) -> float:
        """How far down a column of this reading ends."""
        return TOP_Y + float(reading) / self.steps[-1] * (LOW_Y - TOP_Y)

    @property
    def ratio(self) -> float:
        """Overhang over wheelbase as drawn."""
        ahead, base = self.numbers.overhang, self.numbers.wheelbase
        return USUAL_AHEAD if ahead is None else min(max(float(ahead / base), -1.0), 1.5)

    @property
    def base_px(self) -> float:
        """Pixels between the axles."""
        return max(LEAST_BASE, min(MOST_BASE, MOST_AHEAD / max(self.ratio, 0.1)))

    @property
    def rear_x(self) -> float:
        return FRONT_X + self.base_px

    @property
    def piece_x(self) -> float:
        return FRONT_X - self.ratio * self.base_px


def pictures(facts: PageFacts, numbers: PageNumbers, units: tuple[str, str]) -> tuple[str, str]:
    """The picture with the piece on and the one with it off, as SVG text.

    units   (of weight, of length) as printed
    """
    drawing = _Drawing(facts, numbers, *units)
    return _picture(drawing, True), _picture(drawing, False)


def _picture(drawing: _Drawing, on: bool) -> str:
    piece = drawing.facts.name
    name = piece if len(piece) <= 2 * SHORT_NAME else piece[: 2 * SHORT_NAME] + "…"
    title = f"{name[:1].upper()}{name[1:]} {'on' if on else 'off'}"
    columns = _columns_on(drawing) if on else _columns_off(drawing)
    parts = [
        f'<rect class="soil" y="{GROUND_Y:g}" width="{WIDTH}" height="{HEIGHT - GROUND_Y:g}"/>',
        _words(4, 17, title, "title"),
        *_machine(drawing, on),
        *_grid(drawing, on),
        *(_lengths(drawing) if on else ()),
        *columns,
    ]
    return (
        f'<svg viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
        f'aria-label="{escape(_spoken_picture(drawing, on))}">'
        f"{_PATTERNS if on else ''}{''.join(parts)}</svg>"
    )


def _spoken_picture(drawing: _Drawing, on: bool) -> str:
    """What a picture shows, for a reader who cannot see it."""
    n, unit, piece = drawing.numbers, drawing.weight_unit, drawing.facts.name
    if on:
        words = f"Tractor with the {piece} on. Front axle {spoken(n.front[0])} {unit}"
        if n.weight is not None and n.rear_gain is not None and n.rear_gain > 0:
            words += (
                f", of which {spoken(n.weight)} {unit} is the {piece} and "
                f"{spoken(n.rear_gain)} {unit} came from the rear axle"
            )
        return words + (
            f"; rear axle {spoken(n.rear[0])} {unit}." if n.rear else ". Rear not read."
        )
    words = (
        f"The same tractor with the {piece} off. Front axle {spoken(n.front[1])} {unit}, "
        f"{spoken(n.came_off)} {unit} less"
    )
    if n.rear is None or n.rear_gain is None:
        return words + ". Rear not read."
    way = "less" if n.rear_gain < 0 else "more"
    change = f"{spoken(abs(n.rear_gain))} {unit} {way}" if n.rear_gain else "as before"
    return words + f"; rear axle {spoken(n.rear[1])} {unit}, {change}."


# The machine ------------------------------------------------------------------------------


def _machine(drawing: _Drawing, on: bool) -> list[str]:
    base_m = 1.65  # drawn always the same size: only where the piece hangs is to scale
    scale = drawing.base_px / base_m
    ahead = drawing.ratio * base_m

    def place(point: Place) -> tuple[str, str]:
        return f"{FRONT_X - point[0] * scale:.1f}", f"{GROUND_Y - point[1] * scale:.1f}"

    facts, now = drawing.facts, "hung" if on else "gone"
    loader = facts.has("loader")
    # On a loader that came off too, the bucket is drawn at the end of its arms.
    hung = (USUAL_AHEAD * base_m if loader else ahead), outline.BUCKET_HEIGHT_M
    parts: list[tuple[Part, str]] = [(one, "") for one in outline.tractor(base_m)]
    if loader or ahead > outline.NOSE_M:
        parts = [
            (one, now if loader else "machine") for one in outline.loader(base_m, hung)
        ] + parts
    mower = drawing.facts.machine.mower.casefold()
    if "deck" in mower or "mid" in mower:
        parts.append((outline.deck(-0.45 * base_m), "deck"))
    for name in facts.names:
        if "loader" not in name.casefold():
            shape = outline.bucket if "bucket" in name.casefold() else outline.block
            parts.append((shape(hung), now))
    return [_part_drawn(one, kind or one.kind, place, scale) for one, kind in parts] + [
        f'<rect class="{axle}-solid" x="{x - HALF:.1f}" y="114" width="{2 * HALF:g}" height="5"/>'
        for axle, x in (("front", FRONT_X), ("rear", drawing.rear_x))
    ]


def _part_drawn(
    part: Part, kind: str, place: Callable[[Place], tuple[str, str]], scale: float
) -> str:
    if isinstance(part, Disk):
        x, y = place(part.at)
        return f'<circle class="{kind}" cx="{x}" cy="{y}" r="{part.radius * scale:.1f}"/>'
    points = " ".join(",".join(place(point)) for point in part.points)
    if isinstance(part, Area):
        return f'<polygon class="{kind}" points="{points}"/>'
    return f'<polyline class="rod" stroke-width="{0.8 * part.wide:.1f}" points="{points}"/>'


# The columns ------------------------------------------------------------------------------


def _grid(drawing: _Drawing, on: bool) -> Iterable[str]:
    """Lines that run through both pictures; their numbers stand once, between the two."""
    for step in drawing.steps:
        y = drawing.y(step)
        yield f'<line class="grid" x1="0" x2="{WIDTH}" y1="{y:.1f}" y2="{y:.1f}"/>'
        if on:
            text = f"{step:,}" if step else f"0 {drawing.weight_unit}"
            yield _words(WIDTH - 4, y - 3, text, "scale", "end")
    for x in (FRONT_X, drawing.rear_x):
        yield f'<line class="plumb" x1="{x:.1f}" x2="{x:.1f}" y1="119" y2="{TOP_Y:g}"/>'


def _columns_on(drawing: _Drawing) -> list[str]:
    """Both columns; in the front one what is the piece and what the rear has given."""
    n, unit = drawing.numbers, drawing.weight_unit
    low = drawing.y(n.front[0])
    parts = [_column(FRONT_X, "front", TOP_Y, low)]
    if n.weight is not None and n.rear_gain is not None and n.rear_gain >= 0:
        parts += _front_parts(drawing, low)
    parts.append(_words(FRONT_X, low + 20, f"{spoken(n.front[0])} {unit}", "number"))
    if n.rear is None:
        return [*parts, *_not_read(drawing)]
    end = drawing.y(n.rear[0])
    parts.append(_column(drawing.rear_x, "rear", TOP_Y, end))
    parts.append(_words(drawing.rear_x, end + 20, f"{spoken(n.rear[0])} {unit}", "number"))
    return parts


def _front_parts(drawing: _Drawing, low: float) -> list[str]:
    n, piece = drawing.numbers, drawing.facts.name
    assert n.weight is not None and n.rear_gain is not None
    middle, top = drawing.y(n.front[0] - n.rear_gain), drawing.y(n.front[1])
    parts = [_part(FRONT_X, "piece-part", top, middle), _part(FRONT_X, "lever-part", middle, low)]
    x, gap = FRONT_X - HALF - 8, 16.0
    first = min((top + middle) / 2 + 3, low - gap)
    text = f"{piece} {spoken(n.weight)}"
    if len(text) > SHORT_NAME:
        parts.append(_words(x, first - gap, _cut(piece), "part", "end"))
        text = spoken(n.weight)
    parts.append(_words(x, first, text, "part", "end"))
    if n.rear_gain:
        second = max((middle + low) / 2 + 5, first + gap)
        parts.append(_words(x, second, f"from rear {spoken(n.rear_gain)}", "part", "end"))
    if n.rear is not None and n.rear_gain > 0:
        start, end = drawing.y(n.rear[0]) - 5, (middle + low) / 2
        x0, x1 = drawing.rear_x - HALF - 3, FRONT_X + HALF + 4
        bend = (x0 + x1) / 2
        parts.append(
            f'<path class="flow" d="M{x0:.1f},{start:.1f} C{bend:.1f},{start:.1f} '
            f'{bend:.1f},{end:.1f} {x1 + 7:.1f},{end:.1f}"/>'
            f'<polygon class="flow-tip" points="{x1:.1f},{end:.1f} {x1 + 11:.1f},{end - 5:.1f} '
            f'{x1 + 11:.1f},{end + 5:.1f}"/>'
        )
    return parts


def _columns_off(drawing: _Drawing) -> list[str]:
    """Both columns after; dashed what has gone, solid what has come."""
    n = drawing.numbers
    was, now = drawing.y(n.front[0]), drawing.y(n.front[1])
    parts = [
        _column(FRONT_X, "front", TOP_Y, now),
        _part(FRONT_X, "front-gone", now, was),
        _mark(FRONT_X, was),
        *_change(drawing, FRONT_X, was, -n.came_off, n.front),
    ]
    if n.rear is None or n.rear_gain is None:
        return [*parts, *_not_read(drawing)]
    x, was, now = drawing.rear_x, drawing.y(n.rear[0]), drawing.y(n.rear[1])
    parts.append(_column(x, "rear", TOP_Y, now))
    parts.append(_part(x, "rear-solid" if now >= was else "rear-gone", *sorted((was, now))))
    return [*parts, _mark(x, was), *_change(drawing, x, max(was, now), n.rear_gain, n.rear)]


def _change(
    drawing: _Drawing, x: float, low: float, change: Decimal, pair: Sequence[Decimal]
) -> list[str]:
    """The change as a large number, and the two readings under it; the front's keep left."""
    anchor, at = ("end", x + HALF + 12) if x == FRONT_X else ("start", x - HALF - 6)
    return [
        _words(
            at, low + 21, f"{spoken(change, sign=True)} {drawing.weight_unit}", "change", anchor
        ),
        _words(at, low + 38, f"{spoken(pair[0])} → {spoken(pair[1])}", "from-to", anchor),
    ]


def _not_read(drawing: _Drawing) -> list[str]:
    x = drawing.rear_x
    return [
        _part(x, "rear-gone", TOP_Y, TOP_Y + 60),
        _words(x, TOP_Y + 17, "rear", "name"),
        _words(x, TOP_Y + 36, "not read", "name"),
    ]


def _column(x: float, axle: str, top: float, low: float) -> str:
    return (
        f'<rect class="{axle}-fill" x="{x - HALF:.1f}" y="{top:.1f}" width="{2 * HALF:g}" '
        f'height="{max(low - top, 0):.1f}"/>'
        f'<line class="{axle}-end" x1="{x - HALF:.1f}" x2="{x + HALF:.1f}" y1="{low:.1f}" '
        f'y2="{low:.1f}"/>' + _words(x, top + 17, axle, f"name {axle}-name")
    )


def _part(x: float, kind: str, top: float, low: float) -> str:
    return (
        f'<rect class="{kind}" x="{x - HALF:.1f}" y="{top:.1f}" width="{2 * HALF:g}" '
        f'height="{max(low - top, 0):.1f}"/>'
    )


def _mark(x: float, y: float) -> str:
    """Where a reading stood before."""
    return f'<line class="was" x1="{x - 37:.1f}" x2="{x + 37:.1f}" y1="{y:.1f}" y2="{y:.1f}"/>'


def _lengths(drawing: _Drawing) -> list[str]:
    """Overhang and wheelbase as dimension lines, and the pivot between them."""
    n, unit = drawing.numbers, drawing.length_unit
    spans = [(FRONT_X, drawing.rear_x, n.wheelbase)]
    if n.overhang is not None and n.overhang > 0:
        spans.insert(0, (drawing.piece_x, FRONT_X, n.overhang))
    parts = []
    for left, right, length in spans:
        text = f"{spoken(length)} {unit}"
        middle, half = (left + right) / 2, 3.6 * len(text)
        if right - left < 2 * half + 20:
            middle = left - half - 4
        parts.append(
            f'<path class="span" d="M{left:.1f},126V138M{right:.1f},126V138'
            f'M{left:.1f},132H{right:.1f}"/>'
            f'<rect class="soil" x="{middle - half:.1f}" y="124" width="{2 * half:.1f}" '
            f'height="16"/>' + _words(middle, 137, text, "length")
        )
    tip = f"{FRONT_X:g},119 {FRONT_X - 7:g},131 {FRONT_X + 7:g},131"
    return [*parts, f'<polygon class="pivot" points="{tip}"/>']


def _words(x: float, y: float, text: str, kind: str, anchor: str = "middle") -> str:
    anchor = "start" if kind == "title" else anchor
    return (
        f'<text class="{kind}" x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(text)}</text>'
    )


def _hatch(name: str, size: int, turn: int, lines: str) -> str:
    return (
        f'<pattern id="{name}" width="{size}" height="{size}" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate({turn})"><rect class="paper" width="{size}" height="{size}"/>'
        f'<line class="{lines}" x1="0" y1="0" x2="0" y2="{size}"/></pattern>'
    )


# Once on a page: both pictures use them.
_PATTERNS = (
    "<defs>"
    + _hatch("hatch-piece", 7, 45, "ink-hatch")
    + _hatch("hatch-lever", 7, -45, "rear-hatch")
    + _hatch("hatch-deck", 5, 0, "ink-hatch thin")
    + "</defs>"
)
