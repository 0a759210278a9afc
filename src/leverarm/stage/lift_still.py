"""A loader at one point of its lift, standing still on two columns, for a panel drawn in Python."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from leverarm.axles import AxleLoads
from leverarm.machine import Attachment, Tractor
from leverarm.outline import BALLAST_HEIGHT_M
from leverarm.quantities import to_unit
from leverarm.stability import Loader
from leverarm.stability.lift import LiftPoint
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_outline as machine
from leverarm.stage.arms_case import Places
from leverarm.stage.case import AXLES, SHEETS, Units
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, as_text, element
from leverarm.stage.lift_outline import lifting_tractor
from leverarm.stage.on_scales import drawn, gain_and_loss, together_words
from leverarm.stage.sheet import PROJECTOR, LoadColumn, Paper, full_load
from leverarm.stage.stand import Stand, sunk

# Floor, reach of the columns, room over the tractor.
_ROOM = {"desk": (330, 150, 12), "large": (336, 128, 14), "phone": (172, 118, 8)}
# How far a wheel that carries nothing has left its platform, and how much room a part needs.
_RISEN_M, _PART_M = 0.10, 0.7


@dataclass(frozen=True)
class LiftStill:
    """What the picture shows: a loader at a point of its lift, readings before and now.

    others      what else hangs on the tractor;  before  readings it is held against
    tilted      whether the bucket turns with the arms;  hidden  whether readings are kept back
    system      "lb" or "kg"
    """

    tractor: Tractor
    loader: Loader
    point: LiftPoint
    before: AxleLoads
    others: tuple[Attachment, ...] = ()
    tilted: bool = False
    hidden: bool = False
    system: str = "lb"

    @property
    def _tilted_deg(self) -> float:
        return self.point.angle_deg - self.loader.lowest_deg if self.tilted else 0.0

    def _turn(self, degrees: float) -> tuple[float, float]:
        return math.cos(math.radians(degrees)), math.sin(math.radians(degrees))

    @property
    def _places(self) -> Places:
        turn = self._turn(self.point.angle_deg), self._turn(self._tilted_deg)
        return self.loader.places(*turn[0], turn[1])

    def _weights(self, loads: AxleLoads) -> tuple[float, ...]:
        unit = Units(self.system).weight
        return tuple(to_unit(getattr(loads, f"{axle}_kg"), "weight", unit) for axle in AXLES)

    @property
    def _now(self) -> AxleLoads:
        return self.before if self.hidden else self.point.loads

    def _on_paper(self, sheet: Paper) -> Paper:
        """The sheet with room for the whole lift and for what hangs behind."""
        floor, reach, over = _ROOM[sheet.name]
        L, loader = self.tractor.wheelbase_m, self.loader
        back = max([L, *(-one.ahead_m for one in self.others)]) + _PART_M
        ahead = loader.pivot_ahead_m + loader.arm_m + _PART_M
        ahead = max([ahead, *(one.ahead_m + _PART_M for one in self.others)])
        high = loader.pin_at(loader.highest_deg)[1] + 0.36
        per_m = min((floor - 8 - over) / high, (sheet.width - 16) / (back + ahead))
        down = floor - sheet.floor
        return replace(
            sheet,
            per_m=per_m,
            near_x=sheet.width / 2 + (ahead - back) / 2 * per_m,
            floor=floor,
            tape=sheet.tape + down,
            top=sheet.top + down,
            reach=reach,
            column=min(sheet.column, 0.75 * L * per_m),
        )

    def _hung(self, stand: Stand) -> list[Element]:
        """Ballast behind on its hitch, in front, or in the wheels: there it is not seen."""
        parts = []
        for one in self.others:
            at = one.ahead_m, BALLAST_HEIGHT_M
            if one.ahead_m < -self.tractor.wheelbase_m:
                parts.append(machine.hitch_part(stand, at, 0.0))
            if abs(one.ahead_m + self.tractor.wheelbase_m) > 1e-6:
                parts.append(machine.ballast_part(stand, at))
        return parts

    def _columns(self, sheet: Paper) -> list[LoadColumn]:
        before, now = self._weights(self.before), self._weights(self._now)
        full = full_load(1.05 * max(*before, *now))
        across = sheet.x(0.0), sheet.x(-self.tractor.wheelbase_m)
        columns = []
        for n, axle in enumerate(AXLES):
            columns.append(LoadColumn(sheet, across[n], axle, full, before[n], now[n]))
        return columns

    def _picture(self, sheet: Paper, told: dict[str, str]) -> Element:
        """One size of the picture."""
        sheet = self._on_paper(sheet)
        columns = self._columns(sheet)
        full, lift, units = columns[0].full, self._now.lift, Units(self.system)
        rises = [_RISEN_M * sheet.per_m if lift and lift.axle == axle else 0.0 for axle in AXLES]
        sinks = [sunk(one.now - one.before, full, sheet) for one in columns]
        stand = Stand(sheet, self.tractor.wheelbase_m, *sinks, *rises)
        places, empty = self._places, self.point.carried.name != "load"
        load = stand.place(places["bucket" if empty else "load"])
        parts = [
            paper.load_grid(sheet, full, units.weight),
            *lifting_tractor(
                self.loader,
                stand,
                places,
                self._turn(self.point.angle_deg),
                tilted_deg=self._tilted_deg,
                empty=empty,
                others=self._hung(stand),
            ),
            paper.stroke([load, (load[0], sheet.tape + 8)], "center", 1.2),
            *self._tape(sheet, load[0], units),
        ]
        for one in columns:
            parts += gain_and_loss(one, entry("labels").text(one.axle), told[one.axle], 0.0)
            if not self.hidden:
                change, way = told[f"{one.axle}_change"], told[f"{one.axle}_way"]
                parts.append(paper.change_words(one, change, way))
        if not self.hidden:
            parts += together_words(sheet, columns[1].right + sheet.column, told["together"])
        return drawn(sheet, told["picture"], parts)

    def _tape(self, sheet: Paper, load: float, units: Units) -> list[Element]:
        """Overhang and wheelbase, and how far past the axle the ballast hangs."""
        front, rear = sheet.x(0.0), sheet.x(-self.tractor.wheelbase_m)
        lines = [
            paper.stroke([(x, sheet.floor - 40), (x, sheet.tape + 8)], "center", 1)
            for x in (front, rear)
        ]

        def long(m: float) -> str:
            return units.show_length(to_unit(m, "length", units.length))

        lengths = [(load, front, long(self.point.overhang_m))]
        lengths.append((front, rear, long(self.tractor.wheelbase_m)))
        for one in self.others:
            past = -one.ahead_m - self.tractor.wheelbase_m
            if past > 1e-6:
                lengths.append((rear, sheet.x(one.ahead_m), long(past)))
        room = paper.room_for(sheet, units.long_length)
        return [*lines, *(paper.dimension(sheet, a, b, text, room) for a, b, text in lengths)]

    def _told(self) -> dict[str, str]:
        """Every number of the picture in words."""
        units, text = Units(self.system), entry("arms").text
        before, now = self._weights(self.before), self._weights(self._now)
        told = {"together": units.show_weight(sum(now) - sum(before), sign=True)}
        for n, axle in enumerate(AXLES):
            told[axle] = units.show_weight(before[n]) if self.hidden else ""
            told[f"{axle}_change"] = units.show_weight(now[n] - before[n], sign=True)
            told[f"{axle}_way"] = f"{units.digits(before[n])} → {units.digits(now[n])}"

        def long(m: float) -> str:
            return units.show_length(to_unit(m, "length", units.length))

        pin = self.loader.pin_at(self.point.angle_deg)[1]
        told |= {"height": long(pin), "overhang": long(self.point.overhang_m)}
        hung = [*self.point.pieces, *self.others]
        listed = [
            f"{one.name} {units.show_weight(to_unit(one.weight_kg, 'weight', units.weight))}"
            for one in hung
        ]
        told["hung"] = ", ".join(dict.fromkeys(listed))
        told["wheelbase"] = long(self.tractor.wheelbase_m)
        key = "still_hidden" if self.hidden else "live"
        told["readings"] = text(key).format(**told)
        more = text("still_before" if self.hidden else "still_changes").format(**told)
        for one in self.others:
            past = -one.ahead_m - self.tractor.wheelbase_m
            if past > 1e-6:
                more += text("still_behind").format(name=one.name, past=long(past))
        told["picture"] = text("still").format(**told) + more
        return told

    def html(self, key: str, *, large: bool = False) -> str:
        """The picture for a page; ``key`` keeps its patterns apart from another's."""
        sheets: Sequence[Paper] = (PROJECTOR,) if large else SHEETS
        told = self._told()
        place = element(
            "div",
            [self._picture(one, told) for one in sheets],
            class_="st-paper",
            tabindex="0",
            role="group",
            aria_label=entry("arms").text("still_scrolls"),
        )
        page = element("div", place, class_="st st-projector" if large else "st")
        return as_text(page).replace("st@", key)
