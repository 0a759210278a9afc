"""Two front tires on a cut through the soil, and four bars that say what the load became.

The left tire carries the bare tractor.  The right one carries what the reader puts on it.  Under
each hang lines of equal stress, all at one scale.  A bar twice as long is twice as much.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.case import FREE
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.on_scales import drawn, grip_parts, weight_arrow
from leverarm.stage.recorder import least, root, where, within
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import (
    DESK,
    PHONE,
    PROJECTOR,
    Paper,
    box,
    note,
    shown,
    stroke,
    under_floor,
    words,
)
from leverarm.stage.under_tire_case import (
    FRONT_TIRES,
    STEPS,
    TireOnGround,
    UnderTireCase,
    between_knots,
)

# How large the wheel is drawn beside its contact patch; the picture says nothing of its height.
_WHEEL = 3.4
ROWS = ("load", "patch", "pressure", "reach")


@dataclass(frozen=True)
class SoilSheet:
    """Where things stand on one size of paper.

    bare_x, now_x   the middles of both tires;  deep  how far down the depth scale reaches
    rows            where each bar begins;  one  how long a bar of the bare tire is
    wide            room of a row;  wheel  the largest wheel, as a share of the floor's height
    """

    paper: Paper
    bare_x: float
    now_x: float
    deep: float
    rows: tuple[tuple[float, float], ...]
    one: float
    wide: float
    wheel: float = 0.47


_SHEETS = {
    DESK.name: SoilSheet(
        DESK, 190, 500, 262, tuple((690.0, 322.0 + 70 * n) for n in range(4)), 104, 255
    ),
    PROJECTOR.name: SoilSheet(
        PROJECTOR, 210, 560, 262, tuple((764.0, 324.0 + 72 * n) for n in range(4)), 134, 420, 0.46
    ),
    PHONE.name: SoilSheet(
        replace(PHONE, height=446.0, floor=122.0),
        92,
        282,
        168,
        ((8.0, 316.0), (204.0, 316.0), (8.0, 384.0), (204.0, 384.0)),
        74,
        180,
    ),
}


def rise(now: Numeric, before: Numeric) -> str:
    """A change in percent of what was before, with its sign."""
    return f"{show_number(100 * (now / before - 1), 0, sign=True)} %"


class SoilPicture:
    """One size of the picture.

    bare, now   the two tires;  told  its words;  part  how far the second act has come, or None
                in the first, where nothing lies under the right tire
    """

    def __init__(
        self,
        case: UnderTireCase,
        sheet: Paper,
        bare: TireOnGround,
        now: TireOnGround | None,
        told: Mapping[str, str],
    ) -> None:
        self.case, self.at = case, _SHEETS[sheet.name]
        self.sheet, self.told = self.at.paper, told
        self.bare, self.now = bare, now
        # Of the sheet's units for each meter of soil.
        self.per_m = self.at.deep / float(case.in_base(case.deepest, "depth"))
        self.wheel = min(
            _WHEEL * float(case.bare().radius_m) * self.per_m, self.sheet.floor * self.at.wheel
        )

    def asked(self, v: Mapping[str, Numeric]) -> Element:
        """The first act: the right half of the soil is not drawn, and two rows wait."""
        case, at = self.case, self.at
        load = {
            name: case.in_base(case.start[name], "weight") / FRONT_TIRES for name in ("bare", "on")
        }
        parts = [
            *self._soil(),
            *self._tire(at.bare_x, self.bare, "bare"),
            *self._lines(at.bare_x, self.bare),
            *self._arrow(at.bare_x, self.bare.load_kg, "bare")[0],
            *self._tire(at.now_x, None, "on"),
            *self._arrow(at.now_x, load["on"], "on")[0],
            words(
                at.now_x,
                self.sheet.floor + 0.4 * at.deep,
                "?",
                2 * self.sheet.change,
                "muted",
                bold=True,
            ),
        ]
        ratio = load["on"] / load["bare"]
        parts += self._row("load", ratio, self.told["load_rise"], self.told["load_way"])
        pressure = self.bare.pressure_kpa
        said = case.in_base(v["pressure_said"], "pressure")
        ghost = within((pressure + said) / pressure, 0, self.at.wide / self.at.one)
        parts += self._said_row("pressure", ghost, v["pressure_known"], self.told["pressure_tag"])
        parts += self._said_row("reach", 1.0, v["reach_known"], self.told["reach_tag"])
        return drawn(self.sheet, self.told["picture"], parts)

    def seen(self, v: Mapping[str, Numeric], kept: TireOnGround) -> tuple[Element, list[Handle]]:
        """The second act.

        kept    the right tire before anything was moved: its lines stay, dashed
        """
        case, at, now = self.case, self.at, self.now
        assert now is not None
        done, free = v["part"] >= 1.0, v["part"] >= FREE
        middle = case.lines_kpa[1]
        said = case.in_base(v["pressure_said"], "pressure")
        ratio = {
            "load": now.load_kg / self.bare.load_kg,
            "patch": now.area_m2 / self.bare.area_m2,
            "pressure": now.pressure_kpa / self.bare.pressure_kpa,
            "reach": now.shown_reach(middle) / self.bare.reach_m(middle),
        }
        arrow, tail = self._arrow(at.now_x, now.load_kg, "on")
        parts = [
            *self._soil(),
            *self._tire(at.bare_x, self.bare, "bare"),
            *self._lines(at.bare_x, self.bare),
            element("g", self._lines(at.now_x, kept, ghost=True), display=shown(free)),
            *self._tire(at.now_x, now, "on"),
            *self._lines(at.now_x, now),
            *self._arrow(at.bare_x, self.bare.load_kg, "bare")[0],
            *arrow,
        ]
        for name in ROWS:
            rows = self._row(name, ratio[name], self.told[f"{name}_rise"], self.told[f"{name}_way"])
            parts.append(element("g", rows, display=shown(done)))
        old = where(free, lambda: 1.0, lambda: 0.0)
        tick = within(1 + said / case.bare().pressure_kpa, 0, at.wide / at.one)
        parts += [
            self._tick("pressure", tick, old),
            *self._tag_words("pressure", self.told["pressure_tag"]),
            *self._tag_words("reach", self.told["reach_tag"]),
        ]
        grip = (at.now_x, tail)
        parts.append(element("g", grip_parts(grip, "axle", upright=True), display=shown(free)))
        return drawn(self.sheet, self.told["picture"], parts), [
            Handle("axle", self.sheet.name, grip)
        ]

    # What stands in the picture.

    def _soil(self) -> list[Element]:
        """The ground and its depth marks."""
        case, sheet, at = self.case, self.sheet, self.at
        bottom = sheet.floor + at.deep
        right = at.now_x + (at.now_x - at.bare_x) / 2 + (0 if sheet.narrow else 20)
        marks = []
        step = next(s for s in (1, 2, 4, 5, 10, 20, 40, 50, 100) if case.deepest / s <= 5)
        for mark in range(step, int(case.deepest) + 1, step):
            y = sheet.floor + mark / case.deepest * at.deep
            marks.append(stroke([(0, y), (min(right, sheet.width), y)], "grid", 1))
            text = show_number(mark, 0)
            marks.append(words(4, y - 3, text, sheet.small, "muted", anchor="start"))
        name = entry("under_tire").text("depth").format(unit=case.unit("depth"))
        low = sheet.floor + 1.1 * sheet.small
        marks.append(words(4, low, name, sheet.small, "muted", anchor="start"))
        y = bottom - 4 if sheet.narrow else sheet.floor - 6
        kind = note(sheet, (at.bare_x + at.now_x) / 2, y, self.told["ground"])
        return [*under_floor(sheet, marks), kind]

    def _center(self, half: Numeric) -> Numeric:
        """How high a wheel's center stands that lies flat over this half width."""
        return self.sheet.floor - root(self.wheel**2 - half * half)

    def _tire(self, x: float, tire: TireOnGround | None, name: str) -> list[Element]:
        """The lower half of a wheel, flat where it stands, its load, and what it says."""
        sheet, r = self.sheet, self.wheel
        half = 0.0 if tire is None else least(tire.radius_m * self.per_m, 0.9 * r)
        middle = self._center(half)
        angles = [math.pi / 2 * n / 10 for n in range(11)]
        side = [(r * math.cos(a), least(middle + r * math.sin(a), sheet.floor)) for a in angles]
        points = [
            *((x + dx, y) for dx, y in side[:-1]),
            (x + half, sheet.floor),
            (x - half, sheet.floor),
            *((x - dx, y) for dx, y in reversed(side[:-1])),
        ]
        parts = [
            element("polygon", class_="st-area-tire", points=corners(points), stroke_width="1.6")
        ]
        if tire is not None:
            flat = [(x - half, sheet.floor), (x + half, sheet.floor)]
            parts.append(stroke(flat, "front", 5))
        line = self._tip + (1.1 if sheet.narrow else 1.65) * sheet.label
        for n, key in enumerate(("load", "patch", "pressure")):
            text, y = self.told[f"{name}_{key}"], line + 1.25 * n * sheet.label
            if n == 0 and not sheet.narrow:
                text = f"{self.told[f'{name}_name']} {text}"
            parts.append(words(x, y, text, sheet.label, bold=key == "pressure"))
        return parts

    def _arrow(self, x: float, load_kg: Numeric, name: str) -> tuple[list[Element], Numeric]:
        """The arrow of the load on a tire, and where it begins; named above on narrow paper."""
        most_kg = self.case.in_base(self.case.moving[0].high, "weight") / FRONT_TIRES
        full = most_kg * self.sheet.reach / (30 if self.sheet.narrow else 52)
        above = self.told[f"{name}_name"] if self.sheet.narrow else ""
        return weight_arrow(self.sheet, full, (x, self._tip), load_kg, above)

    @property
    def _tip(self) -> float:
        """Where the arrow of a load ends."""
        return self.sheet.floor - self.wheel + (2 if self.sheet.narrow else 8)

    def _lines(self, x: float, tire: TireOnGround, *, ghost: bool = False) -> list[Element]:
        """The lines of equal stress, the deepest first."""
        case, sheet, parts = self.case, self.sheet, []
        radius = tire.radius_m * self.per_m
        for n, stress in reversed(list(enumerate(case.lines_kpa))):
            depth = tire.reach_m(stress) * self.per_m
            widths = between_knots(case.shapes[n], depth / radius)
            down = [math.cos(math.pi / 2 * i / STEPS) for i in range(1, STEPS)]
            half = [
                (radius * wide, sheet.floor + depth * share)
                for wide, share in zip(widths, down, strict=True)
            ]
            line = [
                (x - radius, sheet.floor),
                *((x - wide, y) for wide, y in reversed(half)),
                (x, sheet.floor + depth),
                *((x + wide, y) for wide, y in half),
                (x + radius, sheet.floor),
            ]
            kind = "ghost" if ghost else "front"
            marks = [stroke(line, kind, 1.2 if ghost else 2.6 if n == 1 else 1.4)]
            if not ghost:
                text = case.show_line(stress)
                y = sheet.floor + depth + 0.95 * sheet.small
                marks.append(words(x, y, text, sheet.small, "front-words", bold=n == 1, halo=True))
            parts.append(element("g", marks, display=shown(tire.has(stress))))
        return parts

    def _row(self, name: str, ratio: Numeric, change: str, way: str) -> list[Element]:
        """A bar beside the bare tire's, its change, and from what to what."""
        at, sheet = self.at, self.sheet
        x, y = at.rows[ROWS.index(name)]
        label = entry("under_tire").text(f"row_{name}").format(line=self.told["line"])
        size = 1.5 * sheet.label if not sheet.narrow else 1.15 * sheet.label
        long = within(ratio, 0, at.wide / at.one) * at.one
        return [
            words(x, y, label, sheet.label, anchor="start", halo=True),
            words(x + at.wide, y + 2, change, size, "front-words", anchor="end", bold=True),
            box(x, y + 7, long, 11, "front-solid"),
            box(x, y + 7, at.one, 11, "ghost", 1.2),
            words(x, y + 20 + sheet.label, way, sheet.label, anchor="start", halo=True),
        ]

    def _said_row(self, name: str, ratio: Numeric, known: Numeric, tag: str) -> list[Element]:
        """A row that waits: the bare tire's bar, and what the reader says."""
        at, sheet = self.at, self.sheet
        x, y = at.rows[ROWS.index(name)]
        label = entry("under_tire").text(f"row_{name}").format(line=self.told["line"])
        return [
            words(x, y, label, sheet.label, anchor="start", halo=True),
            words(x + at.wide, y + 2, "?", 1.5 * sheet.label, "muted", anchor="end", bold=True),
            box(x, y + 7, at.one, 11, "ghost", 1.2),
            self._tick(name, ratio, 1 - known),
            *self._tag_words(name, tag),
        ]

    def _tick(self, name: str, ratio: Numeric, old: Numeric) -> Element:
        """A mark at what was said on a row's bar; dashed until it was said, or once moved."""
        x, y = self.at.rows[ROWS.index(name)]
        at = x + ratio * self.at.one
        return element(
            "path",
            class_="st-line-ink",
            d=f"M{px(at)} {px(y + 3)}V{px(y + 22)}",
            stroke_width="3",
            stroke_dasharray=where(old, lambda: "4 3", lambda: "none"),
        )

    def _tag_words(self, name: str, tag: str) -> list[Element]:
        """What was said, at the right end under a row's bar."""
        at, sheet = self.at, self.sheet
        x, y = at.rows[ROWS.index(name)]
        low = y + 20 + sheet.label + (1.1 * sheet.small if sheet.narrow else 0)
        return [
            words(x + at.wide, low, tag, sheet.small, "muted", anchor="end", bold=True, halo=True)
        ]
