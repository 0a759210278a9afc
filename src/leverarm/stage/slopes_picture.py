"""One size of the picture of a tractor on a grade: it turns with the ground, plumb line and
columns do not.
"""

from collections.abc import Mapping
from dataclasses import replace

from leverarm.numerals import Numeric
from leverarm.stage import sheet as paper
from leverarm.stage.arms_case import Places
from leverarm.stage.case import AXLES, WEIGHED, Progress
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element, px, turning
from leverarm.stage.lift_outline import lifting_tractor
from leverarm.stage.on_scales import (
    asked_columns,
    drawn,
    grip_parts,
    kept_tag,
    moments,
    moved_arrow,
    moved_piece,
    read_column,
    together_words,
)
from leverarm.stage.recorder import least, most, where
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import LoadColumn, Paper, shown, words
from leverarm.stage.slopes_case import MOST_GRADE, OnGrade, SlopeCase
from leverarm.stage.stand import Stand, risen

# Where the ground turns, where the paper begins, where columns begin, their reach, where the
# controls begin, and the room over the tractor.
_ROOM = {
    "desk": (276, 352, 372, 144, 706, 46),
    "large": (268, 340, 358, 146, 826, 70),
    "phone": (124, 170, 186, 116, 384, 6),
}
# How far the ground is drawn behind the rear axle and ahead of the lowered bucket's pin, and how
# high the tractor is.
_BEHIND_M, _AHEAD_M, _HIGH_M = 1.2, 0.55, 1.8


def ground_ahead(case: SlopeCase) -> float:
    """How far the ground is drawn ahead of the middle between the axles, in meters."""
    pin = case.loader.places(*case.turn(case.heights[0]))["pin"][0]
    return float(case.tractor.wheelbase_m / 2 + pin + _AHEAD_M)


def _on_paper(case: SlopeCase, sheet: Paper) -> Paper:
    """The sheet with room for the steepest grade; the camera then stays."""
    turns, floor, top, reach, right, over = _ROOM[sheet.name]
    half, steep = case.tractor.wheelbase_m / 2, MOST_GRADE / 100
    ahead, back = ground_ahead(case), half + _BEHIND_M
    reaching = half + case.loader.pivot_ahead_m + case.loader.arm_m + _AHEAD_M
    high = max(_HIGH_M + steep * back, case.highest_m + 0.45 + steep * reaching)
    per_m = min(
        (turns - over) / high,
        (right - 8) / (back + reaching + 0.3),
        (floor - turns) / steep / ahead,
    )
    column = min(sheet.column, (0.8 if sheet.large else 0.7) * 2 * half * per_m)
    tagged = sheet.width - column / 2 - sheet.tag - 26
    middle = min(right - (back + 0.2) * per_m, tagged - half * per_m)
    return replace(
        sheet,
        per_m=per_m,
        near_x=middle - half * per_m,
        floor=floor,
        tape=floor + (7 if sheet.narrow else 10),
        top=top,
        reach=reach,
        column=column,
    )


class SlopePicture:
    """One size of the picture."""

    def __init__(
        self, case: SlopeCase, sheet: Paper, told: Mapping[str, str], seen: OnGrade
    ) -> None:
        self.case, self.told, self.seen = case, told, seen
        turns = _ROOM[sheet.name][0]
        sheet = self.sheet = _on_paper(case, sheet)
        self.half = case.tractor.wheelbase_m / 2
        self.middle = sheet.x(-self.half), float(turns)
        across = sheet.x(0.0), sheet.x(-2 * self.half)
        self.front, self.rear = (
            LoadColumn(sheet, across[n], axle, case.full, seen.level[n], seen.now[n])
            for n, axle in enumerate(AXLES)
        )
        rises = [risen(lack, case.full, sheet) for lack in seen.lacks]
        ground = replace(sheet, floor=turns)
        self.stand = Stand(ground, 2 * self.half, 0.0, 0.0, rises[0], rises[1])

    def _at(self, place: tuple[Numeric, Numeric]) -> tuple[Numeric, Numeric]:
        """On the sheet, turned with the ground: a place ahead of the front axle, and up."""
        c, s, scale, (x, y) = self.seen.c, self.seen.s, self.sheet.per_m, self.middle
        u = place[0] + self.half
        up = place[1] + (y - self.stand.ground) / scale
        return x - (c * u + s * up) * scale, y + (s * u - c * up) * scale

    def _ground(self, ahead_m: Numeric) -> tuple[Numeric, Numeric]:
        """A place on the line of the ground."""
        return self._at((ahead_m, (self.stand.ground - self.middle[1]) / self.sheet.per_m))

    def _machine(self, at: Places, turn: tuple[Numeric, Numeric]) -> Element:
        """Ground, platforms and tractor, turned together."""
        sheet, (x, y) = self.sheet, self.middle
        ends = -ground_ahead(self.case), self.half + _BEHIND_M
        line = [(x + end * sheet.per_m, y) for end in ends]
        return element(
            "g",
            paper.stroke(line, "floor", 2.2),
            *lifting_tractor(self.case.loader, self.stand, at, turn),
            transform=turning(self.seen.c, self.seen.s, x, y),
        )

    def _level(self, text: str) -> list[Element]:
        """The level through the middle of the ground, and the grade in percent beside it."""
        sheet, (x, y) = self.sheet, self.middle
        ends = -ground_ahead(self.case), self.half + _BEHIND_M
        left, right = (x + end * sheet.per_m for end in ends)
        at = (sheet.width - 6, 1.2 * sheet.small) if sheet.narrow else (left - 8, y)
        return [
            paper.stroke([(left, y), (right, y)], "center", 1),
            words(at[0], at[1] + 0.35 * sheet.label, text, sheet.label, anchor="end", bold=True),
        ]

    def _feet(self) -> list[Element]:
        """From each wheel down to its column: the columns stay level and side by side."""
        lines = []
        for one, ahead in ((self.front, 0.0), (self.rear, -2 * self.half)):
            x, y = self._ground(ahead)
            lines.append(paper.stroke([(x, y), (one.x, self.sheet.top)], "center", 1))
        return lines

    def _name(self, bucket: tuple[Numeric, Numeric]) -> Element:
        """What is in the bucket, beside it."""
        sheet, (x, y) = self.sheet, self._at(bucket)
        size = sheet.small if sheet.narrow else sheet.label
        x = most(x - 0.44 * sheet.per_m, 3.6 * size)
        # Under a bucket that is high up, so that its words stay off the question.
        high = y < self.middle[1] - 1.2 * sheet.per_m
        beside = where(high, lambda: 0.42 * sheet.per_m + size, lambda: -0.42 * sheet.per_m)
        return words(x, y + beside, self.told["load"], size, bold=True, halo=True)

    def asked(
        self, v: Mapping[str, Numeric], tags: Mapping[str, str], at: Places, grade: "SlopePicture"
    ) -> tuple[Element, list[Handle]]:
        """Before the lock: level, the ground of the grade asked about dashed.

        grade       the same picture on that grade, of which nothing but the ground is drawn
        """
        case, units = self.case, self.case.units
        turn = case.turn(case.heights[0])
        far = ground_ahead(case) - self.half
        ends = [grade._ground(far), grade._ground(-2 * self.half - _BEHIND_M)]
        parts: list[Element] = [
            paper.load_grid(self.sheet, case.full, units.weight),
            paper.stroke(ends, "ghost", 1.8),
            self._machine(at, turn),
            *self._level(self.told["grade"]),
            *self._feet(),
            self._name(at["bucket"]),
        ]
        columns, handles = asked_columns(case, (self.front, self.rear), v, tags)
        return drawn(self.sheet, self.told["picture"], [*parts, *columns]), handles

    def weighed(
        self, v: Mapping[str, Numeric], at: Places, turn: tuple[Numeric, Numeric]
    ) -> tuple[Element, list[Handle]]:
        """After the lock: the ground turns, what the rear lost goes to the front."""
        case, sheet, step, told = self.case, self.sheet, Progress.of(v["part"]), self.told
        columns = list[Element]()
        for one in (self.front, self.rear):
            tag = kept_tag(case, one, one.before, v, told[f"{one.axle}_said"])
            columns += [tag, *read_column(one, one.axle, told, step)]
        rings, handles = self._held(step, at)
        together = together_words(sheet, (self.front.x + self.rear.x) / 2, told["together"])
        parts = [
            paper.load_grid(sheet, case.full, case.units.weight),
            self._machine(at, turn),
            *self._level(told["grade"]),
            *self._feet(),
            self._name(at["bucket"]),
            element("g", self._plumb(), display=shown(step.explained)),
            *columns,
            *self._why(step, v),
            element("g", together, display=shown(step.done)),
            rings,
        ]
        return drawn(sheet, told["picture"], parts), handles

    def _held(self, step: Progress, at: Places) -> tuple[Element, list[Handle]]:
        """The rings: on the end of the ground, and on the bucket pin."""
        places = {"grade": self._ground(-2 * self.half - _BEHIND_M), "height": self._at(at["pin"])}
        rings = [
            part
            for name, where_ in places.items()
            for part in grip_parts(where_, name, upright=True)
        ]
        handles = [Handle(name, self.sheet.name, where_) for name, where_ in places.items()]
        return element("g", rings, display=shown(step.free)), handles

    def _plumb(self) -> list[Element]:
        """The center of gravity, the plumb line through it, and the line square to the ground."""
        sheet, seen = self.sheet, self.seen
        at = self._at((seen.ahead, seen.height))
        foot, low = self._ground(seen.ahead), self.sheet.floor - 6
        radius, text = f"{0.3 * sheet.label:.1f}", entry("slopes").text("plumb")
        return [
            paper.stroke([at, foot], "ghost", 1.6),
            paper.stroke([at, (at[0], low)], "ink", 1.6),
            element("circle", class_="st-solid-ink", cx=px(at[0]), cy=px(at[1]), r=radius),
            *(
                []
                if sheet.narrow
                else [words(at[0] + 6, low, text, sheet.small, anchor="start", halo=True)]
            ),
        ]

    def _why(self, step: Progress, v: Mapping[str, Numeric]) -> list[Element]:
        """What the pull moved from one column to the other, and its moment."""
        sheet, told, seen = self.sheet, self.told, self.seen
        # Each column first loses what no longer presses; the rest was moved.
        front, rear = (replace(one, before=seen.c * one.before) for one in (self.front, self.rear))
        parts: list[Element] = []
        for source, target, gone in ((rear, front, seen.moved), (front, rear, -seen.moved)):
            load = most(least(gone, source.before), 0.0)
            piece = moved_piece(source, target, load, target.before, step.explaining)
            arrow = moved_arrow(source, target, load, target.before, "")
            away = (v["part"] > WEIGHED) * (load >= 0.5)
            parts += [
                element("g", piece, display=shown(away)),
                element("g", arrow, display=shown(away * step.explained)),
            ]
        if not sheet.narrow:
            lines = (told["pull_moment"], f"= {told['moved']} × {told['wheelbase']}")
            why = moments(sheet, told["about"], lines)
            # Once an axle has left the ground, the moments are no longer equal.
            holds = step.explained * where(sum(seen.lacks) < 0, lambda: 0.0, lambda: 1.0)
            parts.append(element("g", why, display=shown(holds)))
        return parts
