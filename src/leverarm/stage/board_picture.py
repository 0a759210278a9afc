"""The board's picture: the machine to cut free, arrows at open circles, the pivot, the arms."""

from collections.abc import Mapping

from leverarm.numerals import Numeric
from leverarm.stage.board_body import cut_round, drawn_thing
from leverarm.stage.board_case import BoardCase, Layout, chosen
from leverarm.stage.controls import entry, hidden_unless
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.on_scales import drawn
from leverarm.stage.recorder import most, where
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import box, note, pivot, shown, stroke, words

# How far off a circle an arrow may be let go and still go there, in units of the desk's sheet.
_NEAR = 70.0
# How far an arrow stands beside another at the same place, in lengths of an arrow.
BESIDE = 0.7


def color_of(letter_words: str) -> str:
    """The color of a force's arrow: a scale's own for what the ground or a scale pushes."""
    pushed = "reaction of the ground" in letter_words or "push of the" in letter_words
    near = "front axle" in letter_words or "left scale" in letter_words
    far = "rear axle" in letter_words or "right scale" in letter_words
    return "front" if pushed and near else "rear" if pushed and far else "ink"


def arrow_parts(
    x: Numeric, y: Numeric, down: Numeric, letter: str, kind: str, layout: Layout
) -> list[Element]:
    """An arrow whose head is at a point, and its letter at its tail."""
    way = where(down, lambda: 1.0, lambda: -1.0)
    size = layout.arrow / 46
    tail, head, half, thin = layout.arrow, 13 * size, 8 * size, 3.5 * size
    points = [(0.0, 0.0), (-half, head), (-thin, head), (-thin, tail)]
    points += [(-dx, dy) for dx, dy in points[:0:-1]]
    color = "ink" if kind == "ink" else f"{kind}-words"
    label = layout.paper.body + 2
    return [
        element(
            "polygon",
            class_=f"st-solid-{kind}",
            points=corners([(x + dx, y - way * dy) for dx, dy in points]),
        ),
        words(
            x + 0.8 * label,
            y - way * (tail - 0.3 * label) + 0.35 * label,
            letter,
            label,
            color,
            bold=True,
            halo=True,
        ),
    ]


class BoardPicture:
    """One size of the board's picture."""

    def __init__(self, case: BoardCase, layout: Layout, v: Mapping[str, Numeric]) -> None:
        self.case, self.layout, self.v = case, layout, v
        self.sheet, self.stand = layout.paper, case.stand(layout)
        self.spots = [case.spot(self.stand, place) for place in case.places]
        self.park = (min(layout.room - 40.0, self.sheet.width - 30), layout.rail)
        ends = [case.spot(self.stand, place)[0] for place in case.pivots]
        self.pivot_x = chosen(v["pivot"], [self.park[0], *ends])
        self.rail = (min(ends) - 30, max(ends) + 30)

    def drawn(self, name: str) -> tuple[Element, list[Handle]]:
        """The picture with the boxes for arms over it, and what can be taken hold of."""
        layout, sheet, v = self.layout, self.sheet, self.v
        cuts = [
            element("g", cut_round(self.case.thing, body, self.stand), display=shown(v["cut"] == k))
            for k, body in enumerate(self.case.bodies, 1)
        ]
        below = box(0, layout.below, sheet.width, sheet.height - layout.below, "paper")
        circles = [
            element("circle", class_="st-ring", cx=px(x), cy=px(y), r="5.5", stroke_width="1.8")
            for x, y in self.spots
        ]
        arms, boxes = self._arms()
        picture = drawn(
            sheet,
            name,
            [
                below,
                drawn_thing(self.case.thing, self.stand),
                *cuts,
                *self._given(),
                *circles,
                *self._pivot(),
                *arms,
                *(self._arrow(letter) for letter in self.case.letters),
                self._ring(),
            ],
        )
        over = element("div", picture, boxes, class_=f"st-over st-{sheet.name}")
        return over, self._handles()

    def _at(self, letter: str) -> tuple[Numeric, Numeric]:
        """The place of an arrow; in the rack, beyond the paper."""
        at = self.v[f"at_{letter}"]
        return (
            chosen(at, [self.sheet.width + 200, *(x for x, _ in self.spots)]),
            chosen(at, [-200.0, *(y for _, y in self.spots)]),
        )

    def _beside(self, letter: str) -> Numeric:
        """How many arrows before this one stand at the same place: it is drawn beside them."""
        before = self.case.letters[: self.case.letters.index(letter)]
        return sum(
            (where(self.v[f"at_{one}"] == self.v[f"at_{letter}"], lambda: 1.0, lambda: 0.0))
            for one in before
        )

    def _arrow(self, letter: str) -> Element:
        x, y = self._at(letter)
        x = x + self._beside(letter) * BESIDE * self.layout.arrow
        down = self.v[f"down_{letter}"]
        kind = color_of(dict(self.case.forces)[letter])
        way = where(down, lambda: 1.0, lambda: -1.0)
        half = self.layout.arrow / 2
        hit = element(
            "ellipse",
            class_="st-hit",
            cx=px(x),
            cy=px(y - way * half),
            rx=f"{0.7 * half:g}",
            ry=f"{1.1 * half:g}",
        )
        carried = {} if self.case.locked else _carried(f"at_{letter}", letter, f"down_{letter}")
        return element(
            "g",
            *arrow_parts(x, y, down, letter, kind, self.layout),
            hit,
            display=shown(self.v[f"at_{letter}"] > 0.5),
            class_="st-hold",
            **carried,
        )

    def _given(self) -> list[Element]:
        """The given lengths, as few lines of them as their ends allow."""
        layout, sheet, told = self.layout, self.sheet, entry("board")
        lines: list[list[tuple[float, float, str]]] = []
        for letter in self.case.lengths:
            a, b = sorted(
                self.case.spot(self.stand, end)[0] for end in self.case.thing.lengths[letter]
            )
            free = (line for line in lines if all(b <= x or y <= a for x, y, _ in line))
            line = next(free, None)
            if line is None:
                lines.append(line := [])
            line.append((a, b, letter))
        parts: list[Element] = []
        for k, line in enumerate(lines):
            y = layout.given + k * layout.given_pitch
            for a, b, letter in line:
                parts += [*measured(a, b, y), _on_paper((a + b) / 2, y, letter, layout)]
        for x in {x for line in lines for one in line for x in one[:2]}:
            parts.append(stroke([(x, layout.below - 6), (x, layout.rail)], "center", 1))
        if not sheet.narrow:
            parts.append(note(sheet, 6, layout.given + 4, told.text("given"), anchor="start"))
        return parts

    def _pivot(self) -> list[Element]:
        layout, sheet, told = self.layout, self.sheet, entry("board")
        at = self.v["pivot"]
        mark = element(
            "g",
            pivot(self.pivot_x, layout.rail),
            element("circle", class_="st-hit", cx=px(self.pivot_x), cy=px(layout.rail + 8), r="20"),
            class_="st-hold",
            **(
                {}
                if self.case.locked
                else {**_carried("pivot", "▲"), "data_along": "1", "data_far": "150"}
            ),
        )
        upright = stroke(
            [(self.pivot_x, layout.rail), (self.pivot_x, sheet.height - 8)], "center", 1
        )
        # Under its ▲, where no center line of the given lengths comes down.
        right = self.park[0] + (20 if sheet.narrow else 8)
        hint = note(sheet, right, layout.rail + 18 + sheet.small, told.text("park"), anchor="end")
        parts = [
            stroke([(self.rail[0], layout.rail), (self.rail[1], layout.rail)], "ink", 1.4),
            element("g", upright, display=shown(at > 0.5)),
            mark,
            element("g", hint, display=shown(at < 0.5)),
        ]
        if not sheet.narrow:
            parts += [
                note(sheet, 6, layout.rail + 4, told.text("pivot_row"), anchor="start"),
                note(sheet, 6, layout.rows + 4, told.text("arms"), anchor="start"),
            ]
        return parts

    def _row(self, letter: str) -> float:
        return self.layout.rows + self.case.letters.index(letter) * self.layout.pitch

    def _arms(self) -> tuple[list[Element], list[Element]]:
        """A line for each arm, and the box on it; none for the arrow through the pivot."""
        parts, boxes = [], []
        for letter in self.case.letters:
            x = self._at(letter)[0]
            there = (self.v[f"at_{letter}"] > 0.5) * (self.v["pivot"] > 0.5)
            away = abs(x - self.pivot_x) > 1
            line, none = self._arm_lines(letter, x)
            parts += [
                element("g", line, display=shown(there * away)),
                element("g", none, display=shown(there * (1 - away))),
            ]
            boxes.append(self._arm_box(letter, x, there * away))
        return parts, boxes

    def _arm_lines(self, letter: str, x: Numeric) -> tuple[list[Element], list[Element]]:
        """The line of an arm with its letter, and what stands there where it has no length."""
        layout, sheet, y = self.layout, self.sheet, self._row(letter)
        side = where(x < self.pivot_x, lambda: -1.0, lambda: 1.0)
        anchor = where(x < self.pivot_x, lambda: "end", lambda: "start")
        # A letter stands beyond its line, or beyond the box where that is wider.
        half = most(abs(x - self.pivot_x), layout.box[0]) / 2
        far = (x + self.pivot_x) / 2 + side * (half + 8)
        low = y + 0.35 * sheet.label
        no_arm = entry("board").text("no_arm").format(letter=letter)
        return [
            stroke([(x, layout.rail), (x, y)], "dots", 1),
            *measured(self.pivot_x, x, y),
            words(far, low, letter, sheet.label, anchor=anchor, bold=True),
        ], [
            element("circle", class_="st-solid-ink", cx=px(self.pivot_x), cy=px(y), r="3.5"),
            words(self.pivot_x + 10, low, no_arm, sheet.label, anchor="start", halo=True),
        ]

    def _arm_box(self, letter: str, x: Numeric, there: Numeric) -> Element:
        """The box for an arm, over the middle of its line."""
        (wide, high), sheet = self.layout.box, self.sheet
        middle = (x + self.pivot_x) / 2 / sheet.width * 100
        low = self._row(letter) / sheet.height * 100
        size = f"width:{wide / sheet.width * 100:.2f}%;height:{high / sheet.height * 100:.2f}%"
        typed = element(
            "input",
            type="text",
            class_="st-arm",
            value=(self.case.typed or {}).get(letter, ""),
            data_name=f"arm_{letter}",
            aria_label=entry("board").text("arm").format(letter=letter),
            autocomplete="off",
            spellcheck="false",
            maxlength="120",
            style=f"left:{px(middle)}%;top:{low:.2f}%;{size}",
            disabled="disabled" if self.case.locked else "",
        )
        # The letter shows where the box stands under the picture, since there is no room in it.
        return element(
            "label",
            element("b", letter),
            typed,
            class_="st-arm-of",
            hidden=hidden_unless(there),
        )

    def _ring(self) -> Element:
        """The dotted ring with its question mark, round what was looked at first."""
        size, body = self.layout.arrow, self.layout.paper.body
        spots = self._ring_spots()
        x = chosen(self.v["ring"], [0.0, *(one for one, _ in spots)])
        y = chosen(self.v["ring"], [0.0, *(one for _, one in spots)])
        mark_x, mark_y = x + 0.6 * size, y - 0.41 * size
        ring = element(
            "ellipse",
            class_="st-ask-ring",
            cx=px(x),
            cy=px(y),
            rx=f"{0.55 * size:g}",
            ry=f"{0.75 * size:g}",
            stroke_width="2.6",
        )
        dot = element(
            "circle", class_="st-solid-ink", cx=px(mark_x), cy=px(mark_y), r=f"{0.26 * size:g}"
        )
        mark = words(mark_x, mark_y + 0.33 * body, "?", body, "paper", bold=True)
        return element(
            "g", ring, dot, mark, display=shown(self.v["ring"] > 0.5), pointer_events="none"
        )

    def _ring_spots(self) -> list[tuple[Numeric, Numeric]]:
        """What can be ringed, in the order of the ring's codes: arrows, places, pivot, arms."""
        layout, letters = self.layout, self.case.letters
        arrows, arms = [], []
        for letter in letters:
            x, y = self._at(letter)
            way = where(self.v[f"down_{letter}"], lambda: 1.0, lambda: -1.0)
            beside = self._beside(letter) * BESIDE * layout.arrow
            arrows.append((x + beside, y - way * layout.arrow / 2))
            arms.append(((x + self.pivot_x) / 2, self._row(letter)))
        return [*arrows, *self.spots, (self.pivot_x, layout.rail + 6), *arms]

    def _handles(self) -> list[Handle]:
        name = self.sheet.name
        moving = [Handle(f"at_{letter}", name, self._at(letter)) for letter in self.case.letters]
        return [*moving, Handle("pivot", name, (self.pivot_x, self.layout.rail))]


def _carried(name: str, letter: str, tap: str = "") -> dict[str, str | None]:
    """The attributes of what can be carried to a place: the input, and what a tap turns over."""
    return {
        "data_carry": name,
        "data_letter": letter,
        "data_tap": tap or None,
        "data_far": f"{_NEAR:g}",
    }


def measured(a: Numeric, b: Numeric, y: float) -> list[Element]:
    """A dimension line from a to b with a head at each end; it may run either way."""
    way = where(a < b, lambda: 1.0, lambda: -1.0)
    heads = [
        element(
            "polygon",
            class_="st-solid-ink",
            points=corners([(x, y), (x + turn * 8, y - 3.2), (x + turn * 8, y + 3.2)]),
        )
        for x, turn in ((a, way), (b, -way))
    ]
    return [stroke([(a, y), (b, y)], "ink", 1.3), *heads]


def _on_paper(x: float, y: float, text: str, layout: Layout) -> Element:
    """Words that interrupt the line they stand on."""
    size = layout.paper.label
    wide = 0.75 * size * len(text) + 8
    return element(
        "g",
        box(x - wide / 2, y - 0.7 * size, wide, 1.4 * size, "paper"),
        words(x, y + 0.35 * size, text, size, bold=True),
    )
