"""A weigh day's own readings: the machine from above, its columns, and each column's end enlarged.

A still picture: nothing in it moves.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from leverarm.quantities import to_unit
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_above as outline
from leverarm.stage.case import AXLES, Units
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element
from leverarm.stage.enlarged import Detail, Level, Spot
from leverarm.stage.on_scales import drawn
from leverarm.stage.sheet import DESK, PHONE, PROJECTOR, LoadColumn, Paper, words

_SMALL = replace(PHONE, height=430, top=200)


@dataclass(frozen=True)
class DaySeen:
    """What a day's readings show, weights in the unit shown.

    track_m     None where it was not told
    wheels      what each pad of tractor_above.WHEELS shows, where the wheels were read
    axles       what each axle shows now, where it was read;  before  and without the piece
    bars        what was said, expected and read of an axle, where anything was
    piece       whether the piece hangs on
    """

    machine: str
    wheelbase_m: float
    system: str
    track_m: tuple[float, float] | None = None
    wheels: Mapping[str, float] = field(default_factory=dict)
    axles: Mapping[str, float] = field(default_factory=dict)
    before: Mapping[str, float] = field(default_factory=dict)
    bars: Mapping[str, tuple[Level, ...]] = field(default_factory=dict)
    piece: bool = False


def weighed_day(seen: DaySeen, *, large: bool = False) -> Element:
    """The picture on each size of paper, in its words."""
    sheets = (PROJECTOR,) if large else (DESK, _SMALL)
    pictures = [_Picture(seen, sheet).drawn() for sheet in sheets]
    return element("div", pictures, class_="st st-projector" if large else "st")


def machine_only(wheelbase_m: float, track_m: tuple[float, float] | None, name: str) -> Element:
    """The machine on its pads alone, to stand between the boxes that its readings are typed in."""
    sheet = replace(PHONE, name="pads", width=270, height=170, near_x=62, per_m=100, floor=168)
    above = outline.above_floor(sheet, wheelbase_m, track_m)
    picture = element(
        "svg",
        outline.pads(above),
        outline.tractor_above(above),
        viewBox=f"0 0 {sheet.width:g} {sheet.height:g}",
        role="img",
        aria_label=name,
    )
    return element("div", picture, class_="st")


class _Picture:
    """One size of the picture."""

    def __init__(self, seen: DaySeen, sheet: Paper) -> None:
        self.seen, self.units = seen, Units(seen.system)
        self.above = outline.above_floor(sheet, seen.wheelbase_m, seen.track_m)
        self.sheet = self.above.sheet
        behind = {"front": 0.0, "rear": -seen.wheelbase_m}
        most = max([*seen.axles.values(), *seen.before.values(), 1.0])
        full = paper.full_load(1.05 * most)
        self.columns = {
            axle: LoadColumn(
                self.sheet,
                self.sheet.x(behind[axle]),
                axle,
                full,
                seen.before.get(axle, now),
                now,
            )
            for axle, now in seen.axles.items()
        }
        self.full = full

    def drawn(self) -> Element:
        """The picture with its name."""
        sheet, above = self.sheet, self.above
        # As far out as the front's boxes need, so that nothing is hidden.
        begins = max(outline.BUCKET_AHEAD_M, outline.beside_m(above))
        parts = [
            *self._ground(),
            outline.pads(above),
            outline.loader_above(above, begins),
            outline.tractor_above(above),
            *([outline.bucket_above(above, begins)] if self.seen.piece else []),
            *self._boxes(),
            *self._columns(),
        ]
        return drawn(sheet, self._name(), parts)

    def _name(self) -> str:
        """Everything of the picture in words."""
        seen, units, told = self.seen, self.units, entry("weighed_day")
        wheelbase = units.show_length(to_unit(seen.wheelbase_m, "length", units.length))
        lines = [told.text("picture").format(machine=seen.machine, wheelbase=wheelbase)]
        for name, load in seen.wheels.items():
            reading = units.show_weight(load)
            lines.append(told.text("wheel").format(name=name.capitalize(), reading=reading))
        for axle, load in seen.axles.items():
            reading = units.show_weight(load)
            lines.append(told.text("axle").format(axle=axle.capitalize(), reading=reading))
        for axle, bars in seen.bars.items():
            for bar in bars:
                number = units.show_weight(bar.load)
                if bar.half is not None:
                    half = units.digits(bar.half)
                    number = told.text("between").format(number=units.digits(bar.load), half=half)
                lines.append(
                    told.text("bar").format(
                        axle=axle.capitalize(), name=told.text(bar.name), number=number
                    )
                )
        return " ".join(lines)

    def _ground(self) -> list[Element]:
        sheet = self.sheet
        if sheet.narrow:
            return paper.under_floor(sheet)
        return [paper.load_grid(sheet, self.full, self.units.weight)]

    def _boxes(self) -> list[Element]:
        """What each pad shows, or each axle where only that was read."""
        parts = []
        for name in outline.WHEELS:
            if name in self.seen.wheels:
                now = self.units.digits(self.seen.wheels[name])
                parts.append(outline.reading_box(self.above, name, self.units.weight, now))
        for axle in AXLES:
            if f"{axle} left" not in self.seen.wheels:
                load = self.seen.axles.get(axle)
                now = "–" if load is None else self.units.digits(load)
                parts.append(outline.axle_box(self.above, axle, self.units.weight, now))
        return parts

    def _columns(self) -> list[Element]:
        """Both columns with their details; on narrow paper the details alone."""
        parts = []
        for axle in AXLES:
            one, bars = self.columns.get(axle), self.seen.bars.get(axle)
            if one is not None and not self.sheet.narrow:
                name = entry("labels").text(axle)
                parts.append(paper.column(one, name, self.units.show_weight(one.now)))
            if one is not None and bars:
                parts += self._detail(one, bars)
        return parts

    def _detail(self, one: LoadColumn, bars: tuple[Level, ...]) -> list[Element]:
        """A detail outside its column, tied to the column's end; on narrow paper under its name."""
        sheet, front = self.sheet, one.axle == "front"
        if sheet.narrow:
            wide = sheet.width / 2 - 6
            left = 3 if front else sheet.width / 2 + 3
            place = Spot(left, sheet.top, wide, sheet.height - sheet.top - 4)
            name = f"{entry('labels').text(one.axle)} {self.units.show_weight(one.now)}"
            kind = f"{one.axle}-words"
            title = words(left + wide / 2, sheet.top - 10, name, sheet.body, kind, bold=True)
            return [title, Detail(sheet, one.axle, place, bars, brief=True).drawn(None)]
        top, high = sheet.tape, sheet.height - sheet.tape - 8
        gap = 30
        rear_left = one.right + gap
        left = 6 if front else rear_left
        wide = min(280, one.left - gap - 6 if front else sheet.width - rear_left - 44)
        left = one.left - gap - wide if front else left
        place = Spot(left, top, wide, high)
        near, edge = (left + wide, one.left) if front else (left, one.right)
        y = one.y(one.now)
        ties = [
            paper.stroke([(edge, y - 5), (near, top)], "body", 1.2),
            paper.stroke([(edge, y + 5), (near, top + high)], "body", 1.2),
        ]
        detail = Detail(sheet, one.axle, place, bars, brief=sheet.label > 16)
        return [*ties, detail.drawn(sheet.reach / one.full)]
