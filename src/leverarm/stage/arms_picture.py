"""One size of the picture of a loader on its lift: the plumb line of the load, and both columns."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from leverarm.numerals import Numeric
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_outline as machine
from leverarm.stage.arms_case import ArmsCase, Places
from leverarm.stage.case import AXLES, WEIGHED, Progress
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element, px
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
from leverarm.stage.recorder import least, most, within
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import LoadColumn, Paper, shown, words
from leverarm.stage.stand import Stand, risen, sunk

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


# Room for a lift: floor, columns' reach, room over the highest bucket, where controls begin.
_ROOM = {"desk": (330, 150, 74, 706), "large": (336, 128, 84, 826), "phone": (172, 118, 24, 384)}


@dataclass(frozen=True)
class ArmsSeen:
    """Readings of both axles, in the unit shown, and where the loader's parts are.

    low, now            with the arms low, and as shown
    low_at, at          the places of the parts then
    lacks               what the rear lacks, zero or less
    """

    low: tuple[Numeric, Numeric]
    now: tuple[Numeric, Numeric]
    low_at: Places
    at: Places
    turn: tuple[Numeric, Numeric]
    lacks: Numeric = 0.0


def on_paper(case: ArmsCase, sheet: Paper) -> Paper:
    """The sheet with room for the highest bucket; the camera then stays."""
    floor, reach, over, right = _ROOM[sheet.name]
    back = case.tractor.wheelbase_m + 0.6
    ahead = case.loader.pivot_ahead_m + case.loader.arm_m + 0.7
    per_m = min((floor - 8 - over) / (case.heights[2] + 0.36), (right - 8) / (back + ahead))
    tagged = sheet.width - sheet.column / 2 - sheet.tag - 26
    near_x = min(right - back * per_m, tagged - case.tractor.wheelbase_m * per_m)
    down = floor - sheet.floor
    return replace(
        sheet,
        per_m=per_m,
        near_x=near_x,
        floor=floor,
        tape=sheet.tape + down,
        top=sheet.top + down,
        reach=reach,
        column=min(sheet.column, (0.8 if sheet.large else 0.7) * case.tractor.wheelbase_m * per_m),
    )


class ArmsPicture:
    """One size of the picture."""

    def __init__(
        self, case: ArmsCase, sheet: Paper, told: Mapping[str, str], seen: ArmsSeen
    ) -> None:
        self.case, self.told, self.seen = case, told, seen
        sheet = self.sheet = on_paper(case, sheet)
        wheelbase = case.tractor.wheelbase_m
        across = sheet.x(0.0), sheet.x(-wheelbase)
        self.front, self.rear = (
            LoadColumn(sheet, across[n], axle, case.full, seen.low[n], seen.now[n])
            for n, axle in enumerate(AXLES)
        )
        sink_front, sink_rear = (
            sunk(now - low, case.full, sheet) for now, low in zip(seen.now, seen.low, strict=True)
        )
        rise = risen(seen.lacks, case.full, sheet)
        self.stand = Stand(sheet, wheelbase, sink_front, sink_rear, rise_rear=rise)

    def _machine(self, pale: Numeric = 0.0) -> list[Element]:
        """Tractor, mast, arms, bucket and load; pale 1 draws the arms faintly."""
        return lifting_tractor(self.case.loader, self.stand, self.seen.at, self.seen.turn, pale)

    def _ghost(self, at: Places) -> list[Element]:
        """The bucket where it was or will be, dashed."""
        return [machine.bucket_part(self.stand, at["bucket"], "ghost")]

    def _arc(self) -> Element:
        """The way of the load, from the lowest to the highest."""
        case, (low, _, high) = self.case, self.case.heights
        steps = [case.turn(low + (high - low) * n / 16) for n in range(17)]
        points = [self.stand.place(case.loader.places(*turn)["load"]) for turn in steps]
        return paper.stroke(points, "ghost", 1.4)

    def _tape(self, overhang: str) -> list[Element]:
        """Overhang and wheelbase on the tape, with the center lines of both axles."""
        sheet, load = self.sheet, self.stand.place(self.seen.at["load"])[0]
        room = paper.room_for(sheet, self.case.units.long_length)
        axles = [
            paper.stroke([(one.x, sheet.floor - 40), (one.x, sheet.tape + 8)], "center", 1)
            for one in (self.front, self.rear)
        ]
        return [
            *axles,
            paper.dimension(sheet, load, self.front.x, overhang, room),
            paper.dimension(sheet, self.front.x, self.rear.x, self.told["wheelbase"], room),
        ]

    def _plumb(self) -> Element:
        """From the load straight down to the tape."""
        x, y = self.stand.place(self.seen.at["load"])
        return paper.stroke([(x, y), (x, self.sheet.tape + 8)], "center", 1.6)

    def _load_name(self) -> Element:
        sheet, (x, y) = self.sheet, self.stand.place(self.seen.at["bucket"])
        ahead = x - 0.44 * sheet.per_m
        return words(ahead, y + 4, self.told["load"], sheet.label, anchor="end", bold=True)

    def asked(
        self, v: Mapping[str, Numeric], tags: Mapping[str, str], level_at: Places
    ) -> tuple[Element, list[Handle]]:
        """Before the lock: arms low, the bucket's place dashed where the arms are level."""
        case, units = self.case, self.case.units
        parts: list[Element] = [
            paper.load_grid(self.sheet, case.full, units.weight),
            *self._machine(),
            *self._ghost(level_at),
            self._load_name(),
            *self._tape(self.told["overhang_low"]),
        ]
        columns, handles = asked_columns(case, (self.front, self.rear), v, tags)
        return drawn(self.sheet, self.told["picture"], [*parts, *columns]), handles

    def weighed(self, v: Mapping[str, Numeric]) -> tuple[Element, list[Handle]]:
        """After the lock: what the rear lost goes to the front, and the arms can be moved."""
        case, sheet, step, told = self.case, self.sheet, Progress.of(v["part"]), self.told
        columns = list[Element]()
        for one in (self.front, self.rear):
            tag = kept_tag(case, one, one.before, v, told[f"{one.axle}_said"])
            columns += [tag, *read_column(one, one.axle, told, step)]
        rings, handles = self._held(step)
        # The rear's column is short here, so there is room under it.
        together = together_words(sheet, self.rear.x, told["together"])
        parts = [
            paper.load_grid(sheet, case.full, case.units.weight),
            element("g", self._arc(), display=shown(step.explained)),
            element("g", self._ghost(self.seen.low_at), opacity=f"{0.7 * step.weighing:.2f}"),
            *self._machine(v["hoist"]),
            self._load_name(),
            *self._tape(told["overhang"]),
            element("g", self._plumb(), display=shown(step.explained)),
            *columns,
            *self._why(step, v),
            element("g", together, display=shown(step.done)),
            *([] if sheet.narrow else [self._detail(step, v), self._lean()]),
            rings,
        ]
        return drawn(sheet, told["picture"], parts), handles

    def _lean(self) -> Element:
        sheet = self.sheet
        low, text = sheet.height - 0.5 * sheet.body, entry("arms").text("lean")
        return paper.note(sheet, 6, low, text, anchor="start")

    def _held(self, step: Progress) -> tuple[Element, list[Handle]]:
        """The ring on the bucket pin."""
        at = self.stand.place(self.seen.at["pin"])
        ring = element("g", grip_parts(at, "height", upright=True), display=shown(step.free))
        return ring, [Handle("height", self.sheet.name, at)]

    def _why(self, step: Progress, v: Mapping[str, Numeric]) -> list[Element]:
        """What the rear lost on its way to the front, the moment, and a fifth of the total."""
        sheet, told, front, rear = self.sheet, self.told, self.front, self.rear
        gone = rear.before - rear.now
        piece = moved_piece(rear, front, gone, front.before, step.explaining)
        arrow = moved_arrow(rear, front, gone, front.before, "")
        parts = [
            element("g", piece, display=shown(v["part"] > WEIGHED)),
            element("g", arrow, display=shown(step.explained * (gone >= 0.5))),
        ]
        y = rear.y(sum(self.seen.now) / 5)
        line = paper.stroke([(rear.left - 4, y), (rear.right + 4, y)], "center", 2)
        name = words(
            rear.left - 6, y - 3, entry("arms").text("fifth"), sheet.small, anchor="end", halo=True
        )
        parts.append(element("g", line, name, display=shown(step.free)))
        if not sheet.narrow:
            lines = (told["moment"], f"= {told['rear_less']} {told['unit']} × {told['wheelbase']}")
            about = entry("labels").text("about_front")
            why = moments(sheet, about, lines)
            why.append(paper.pivot(front.x, sheet.tape + 2))
            # Once the rear has left its scale, the moments are no longer equal.
            holds = step.explained * (self.seen.lacks >= 0)
            parts.append(element("g", why, display=shown(holds)))
        return parts

    def _detail(self, step: Progress, v: Mapping[str, Numeric]) -> Element:
        """The ends of both columns enlarged: what the arms do is small beside what they carry."""
        case = self.case
        times = enlarged_times(case.level_change, self.sheet, case.full)
        ends = enlarged_ends((self.front, self.rear), v, times, step.explaining)
        return element("g", ends, display=shown(step.done))
