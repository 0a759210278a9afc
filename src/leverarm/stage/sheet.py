"""The sheet of a stage picture: its grid, and what stands on it in every lesson.

::

      question                      controls        (page, not picture)
            machine on its two platforms
      ------------------------------------ floor
            overhang  |  wheelbase                  tape
          [ front ]        [ rear ]                 columns: deeper is heavier
           +448 lb          -188 lb                 change under the end
              together +260 lb

Four places round a column and nothing else: its name on top, the change under its end, what was
said outside, why inside (between the columns).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.recorder import first_so, most, where


@dataclass(frozen=True)
class Paper:
    """One size of paper.  Lengths are in its own units (pixels at full size).

    near_x      where the front axle stands (the left pipe of the plank)
    per_m       units for each meter
    floor       the floor line;  tape  its dimension lines;  top  where columns begin
    reach       how long a column of the scale's full load is
    column      how wide a column is;  tag  how wide a tag is
    small, label, body, change   sizes of type
    """

    name: str
    width: float
    height: float
    near_x: float
    per_m: float
    floor: float
    tape: float
    top: float
    reach: float
    column: float
    tag: float
    small: float
    label: float
    body: float
    change: float

    @property
    def narrow(self) -> bool:
        """Whether there is room for the least words only."""
        return self.width < 760

    @property
    def large(self) -> bool:
        """Whether its type is for a whole class to read."""
        return self.label > 16

    def x(self, ahead_m: Numeric) -> Numeric:
        """Across the sheet, for meters ahead of the front axle."""
        return self.near_x - ahead_m * self.per_m


DESK = Paper("desk", 960, 600, 349, 150, 288, 309, 332, 212, 108, 88, 12, 14, 16, 28)
PROJECTOR = Paper("large", 1190, 600, 420, 140, 322, 346, 372, 134, 114, 124, 23, 23, 24, 40)
PHONE = Paper("phone", 390, 400, 152, 66, 148, 162, 180, 150, 58, 66, 12, 13, 15, 20)

# What a whole column may stand for, in the unit shown.
FULL_LOADS = (1000, 1500, 2000, 2500, 3000, 4000, 5000, 6000, 8000, 10000, 15000, 20000, 40000)


def full_load(most_shown: Numeric, loads: Sequence[float] = FULL_LOADS) -> Numeric:
    """The scale of the columns: the least of the round loads that holds everything shown.

    >>> full_load(2200), full_load(790), full_load(900_000)
    (2500, 1000, 1000000.0)
    """
    return first_so([(most_shown <= full, full) for full in loads], 1e6)


def words(
    x: Numeric,
    y: Numeric,
    text: str,
    size: float,
    kind: str = "ink",
    *,
    anchor: str = "middle",
    bold: bool = False,
    halo: bool = False,
) -> Element:
    """A line of text on the picture, centered on x unless told otherwise."""
    return element(
        "text",
        text,
        class_=f"st-text-{kind}" + (" st-halo" if halo else ""),
        x=px(x),
        y=px(y),
        font_size=f"{size:g}",
        text_anchor=anchor,
        font_weight="bold" if bold else None,
    )


def note(paper: Paper, x: Numeric, y: Numeric, text: str, **more: str) -> Element:
    """A small gray remark."""
    anchor = more.get("anchor", "middle")
    return words(x, y, text, paper.small, "muted", anchor=anchor, halo=True)


def shown(condition: Numeric) -> str:
    """The display attribute of what comes and goes."""
    return where(condition, lambda: "inline", lambda: "none")


def held(free: Numeric) -> str:
    """The pointer-events attribute of a piece that may be taken hold of only once it is free."""
    return where(free, lambda: "auto", lambda: "none")


def stroke(points: Sequence[tuple[Numeric, Numeric]], kind: str, width: float = 1.4) -> Element:
    """An open line; the style sheet gives its kind a color and a dash."""
    return element(
        "polyline", class_=f"st-line-{kind}", points=corners(points), stroke_width=f"{width:g}"
    )


def area(points: Sequence[tuple[Numeric, Numeric]], kind: str, width: float = 1.6) -> Element:
    """A closed area."""
    return element(
        "polygon", class_=f"st-area-{kind}", points=corners(points), stroke_width=f"{width:g}"
    )


def box(
    x: Numeric, y: Numeric, wide: Numeric, high: Numeric, kind: str, width: float = 0.0
) -> Element:
    """An upright rectangle."""
    return element(
        "rect",
        class_=f"st-area-{kind}",
        x=px(x),
        y=px(y),
        width=px(wide),
        height=px(high),
        stroke_width=f"{width:g}",
    )


def under_floor(sheet: Paper, marks: Iterable[Element] = ()) -> list[Element]:
    """The paper under the floor, what is marked on it, and the line of the floor."""
    return [
        box(0, sheet.floor, sheet.width, sheet.height - sheet.floor, "paper"),
        *marks,
        stroke([(0, sheet.floor), (sheet.width, sheet.floor)], "floor", 2.2),
    ]


def load_grid(sheet: Paper, full: float, unit: str) -> Element:
    """The paper under the floor and the marks of the one scale that both columns share."""
    step = next(
        s
        for s in (2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 200000)
        if full / s <= 5
    )
    parts = []
    for mark in range(0, int(full) + 1, step):
        y = sheet.top + mark / full * sheet.reach
        parts.append(stroke([(0, y), (sheet.width, y)], "grid", 1))
        text = show_number(mark, 0) + (f" {unit}" if mark == 0 else "")
        parts.append(words(sheet.width - 6, y - 3, text, sheet.small, "muted", anchor="end"))
    return element("g", under_floor(sheet, parts))


@dataclass(frozen=True)
class LoadColumn:
    """One scale's column: where it stands, what it read before, what it reads now.

    Loads are in the unit shown; ``full`` is what ``sheet.reach`` stands for.
    """

    sheet: Paper
    x: Numeric
    axle: str
    full: float
    before: Numeric
    now: Numeric

    def y(self, load: Numeric) -> Numeric:
        """How deep a load reaches."""
        return self.sheet.top + load / self.full * self.sheet.reach

    @property
    def left(self) -> Numeric:
        """Its left edge."""
        return self.x - self.sheet.column / 2

    @property
    def right(self) -> Numeric:
        """Its right edge."""
        return self.x + self.sheet.column / 2

    @property
    def end(self) -> Numeric:
        """Where it ends, or ended before: words stand under it, and under its name."""
        name = self.sheet.top + 1.5 * self.sheet.label
        return most(self.y(most(self.before, self.now)), name)

    def band(self, top: Numeric, bottom: Numeric, kind: str) -> Element:
        """The part of the column between two loads."""
        high = most(self.y(bottom) - self.y(top), 0)
        return box(self.left, self.y(top), self.sheet.column, high, kind)


def column(one: LoadColumn, name: str, reading: str) -> Element:
    """A column hanging from the tape line, with its name and, if told, its reading."""
    sheet, high = one.sheet, one.y(one.now) - one.sheet.top
    kind, inside = one.axle, 1.4 * sheet.label + 1.2 * sheet.body
    # A reading that does not fit inside stands under the end.
    low = where(
        high < inside + 0.4 * sheet.body,
        lambda: one.y(one.now) + 1.25 * sheet.body,
        lambda: sheet.top + inside,
    )
    return element(
        "g",
        box(one.left, sheet.top, sheet.column, high, f"{kind}-fill"),
        element(
            "path",
            class_=f"st-line-{kind}",
            d=f"M{px(one.left)} {px(sheet.top)}V{px(one.y(one.now))}"
            f"H{px(one.right)}V{px(sheet.top)}Z",
            stroke_width="2",
        ),
        stroke([(one.left, one.y(one.now)), (one.right, one.y(one.now))], kind, 4),
        words(one.x, sheet.top + 1.25 * sheet.label, name, sheet.label, f"{kind}-words"),
        words(
            one.x,
            low,
            reading,
            min(1.15 * sheet.body, sheet.column / 4.8),
            "ink",
            bold=True,
        ),
    )


def outline(one: LoadColumn, top: Numeric, bottom: Numeric, kind: str = "ghost") -> Element:
    """The dashed edge of what was there or will be there, between two loads."""
    upper, lower = one.y(top), one.y(bottom)
    return element(
        "path",
        class_=f"st-line-{kind}",
        d=f"M{px(one.left + 3)} {px(upper)}V{px(lower)}H{px(one.right - 3)}V{px(upper)}Z",
        stroke_width="1.8",
    )


def change_words(one: LoadColumn, change: str, way: str) -> Element:
    """Under the end of a column: the change, and from what to what.

    A change too wide for its place is set smaller: about seven letters, each 0.62 of their size
    wide in a wide typeface.
    """
    sheet = one.sheet
    size = min(sheet.change, (sheet.column + 30) / (7 * 0.62))
    first = one.end + 0.95 * size + 4
    way_size = sheet.label if sheet.narrow else sheet.body
    return element(
        "g",
        words(one.x, first, change, size, f"{one.axle}-words", bold=True, halo=True),
        # On a phone the columns stand too close for two readings of four digits each.
        words(one.x, first + 2 + 1.1 * sheet.body, way, way_size, halo=True),
    )


def tag(one: LoadColumn, load: Numeric, top: str, bottom: str, *, old: Numeric = 0) -> Element:
    """A tag outside a column that points at a load: what somebody said."""
    sheet = one.sheet
    side = -1 if one.axle == "front" else 1
    edge = one.left - 3 if side < 0 else one.right + 3
    wide, half, y = sheet.tag, 1.25 * sheet.label, one.y(load)
    far, near = edge + side * wide, edge + side * 14
    outline_points = [
        (edge, y),
        (near, y - half),
        (far, y - half),
        (far, y + half),
        (near, y + half),
    ]
    # Words keep clear of the ring at the far end.
    middle = (near + far) / 2 - side * 4
    return element(
        "g",
        element(
            "polygon",
            class_="st-tag",
            points=corners(outline_points),
            stroke_width="2",
            stroke_dasharray=where(old, lambda: "4 3", lambda: "none"),
        ),
        words(middle, y - 0.2 * sheet.label, top, sheet.small, "muted"),
        words(middle, y + 0.95 * sheet.label, bottom, sheet.label, bold=True),
    )


def ring(x: Numeric, y: Numeric, upright: bool) -> Element:
    """Take hold here: a ring with two arrowheads that point the ways it goes."""
    r = 11.0
    heads = [((-5, -2), (5, -2), (0, -7)), ((-5, 2), (5, 2), (0, 7))]
    if not upright:
        heads = [((-2, -5), (-2, 5), (-7, 0)), ((2, -5), (2, 5), (7, 0))]
    return element(
        "g",
        element("circle", class_="st-ring", cx=px(x), cy=px(y), r=f"{r:g}", stroke_width="2.2"),
        *(
            element(
                "polygon",
                class_="st-solid-ink",
                points=corners([(x + dx, y + dy) for dx, dy in head]),
            )
            for head in heads
        ),
    )


def room_for(sheet: Paper, longest: str) -> float:
    """How wide words as long as these are on the tape in a wide typeface, with two gaps."""
    return sheet.label * (0.58 * len(longest) + 0.6)


def dimension(
    sheet: Paper, a: Numeric, b: Numeric, text: str, room: Numeric, middle: Numeric | None = None
) -> Element:
    """A dimension line on the tape from a to b, its words on paper.

    room    how wide its widest words are, so that they keep their place while they change
    middle  where its words stand, if not in the middle
    """
    y = sheet.tape
    middle = (a + b) / 2 if middle is None else middle
    # A dimension shorter than its words shows them without the line under them.
    head = min(9.0, 0.6 * sheet.label)
    heads = [
        element(
            "polygon",
            class_="st-solid-ink",
            points=corners([(x, y), (x + way * head, y - 3.4), (x + way * head, y + 3.4)]),
        )
        for x, way in ((a, 1), (b, -1))
    ]
    return element(
        "g",
        stroke([(a, y), (b, y)], "ink", 1.4),
        *heads,
        box(middle - room / 2, y - 0.7 * sheet.label, room, 1.4 * sheet.label, "paper"),
        words(middle, y + 0.35 * sheet.label, text, sheet.label),
    )


def pivot(x: Numeric, y: Numeric) -> Element:
    """The pivot: a triangle standing under its point."""
    return element(
        "polygon",
        class_="st-solid-ink",
        points=corners([(x, y), (x - 8, y + 13), (x + 8, y + 13)]),
    )
