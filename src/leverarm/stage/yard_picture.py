"""One size of the picture of a weigh day: the machine from above, its columns below the floor."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_above as outline
from leverarm.stage.case import AXLES, WEIGHED, Progress
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element
from leverarm.stage.on_scales import (
    asked_tag,
    drawn,
    gain_and_loss,
    grip_parts,
    hung_piece,
    moments,
    moved_arrow,
    moved_piece,
    together_words,
)
from leverarm.stage.recorder import least, most, where, within
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import LoadColumn, Paper, shown, words
from leverarm.stage.yard_case import YardCase


@dataclass(frozen=True)
class YardSeen:
    """What was read before and is read now, in the unit shown: under each wheel, on each axle."""

    wheels: Mapping[str, tuple[Numeric, Numeric]]
    axles: Mapping[str, tuple[Numeric, Numeric]]


class YardPicture:
    """One size of the picture."""

    def __init__(
        self, case: YardCase, sheet: Paper, seen: YardSeen, told: Mapping[str, str]
    ) -> None:
        self.case, self.seen, self.told = case, seen, told
        wheelbase = case.meters(case.wheelbase_shown)
        self.above = outline.above_floor(sheet, wheelbase, case.track)
        self.sheet = self.above.sheet
        # Lengths alone, where the words beside them would reach into the rings.
        self.brief = sheet.narrow or sheet.label > 16
        behind = {"front": 0.0, "rear": -wheelbase}
        self.columns = {
            axle: LoadColumn(self.sheet, self.sheet.x(behind[axle]), axle, case.full, before, now)
            for axle, (before, now) in seen.axles.items()
        }

    def _spot(self, overhang: Numeric) -> Numeric:
        """Where an overhang lies across the sheet; hardly moving once it is past the edge."""
        meters = self.case.meters(overhang)
        return most(self.sheet.x(meters), 18 - 2 * meters)

    def _machine(self, moved_m: Numeric = 0.0) -> list[Element]:
        """The machine on its pads with the piece."""
        above = self.above
        begins = outline.FORKS_AHEAD_M + moved_m
        return [
            outline.pads(above),
            outline.loader_above(above, begins),
            outline.tractor_above(above),
            outline.forks_above(above, begins),
        ]

    def _boxes(self) -> list[Element]:
        """A box beside each wheel: what its pad showed without the piece, and shows with it."""
        told = self.told
        return [
            outline.reading_box(
                self.above, name, f"{told[f'{name} before']} →", told[f"{name} now"]
            )
            for name in outline.WHEELS
        ]

    def _center_line(self, x: Numeric) -> Element:
        return paper.stroke([(x, self.above.middle), (x, self.sheet.tape + 8)], "center", 1)

    def _tick(self, x: Numeric) -> Element:
        """A place on the tape that stays where it is."""
        return paper.stroke([(x, self.sheet.tape - 7), (x, self.sheet.tape + 7)], "ink", 1.6)

    def _tape(self, mark: Numeric, text: str) -> list[Element]:
        """The tape: from a mark to the front axle, the wheelbase, the overhang that is known."""
        sheet, told, ask = self.sheet, self.told, entry("yard")
        front, rear = self.columns["front"], self.columns["rear"]
        wheelbase, longest = told["wheelbase"], self.case.units.long_length
        room, long_room = paper.room_for(sheet, longest), paper.room_for(sheet, longest)
        if not self.brief:
            label = entry("labels")
            wheelbase = label.text("wheelbase").format(length=wheelbase)
            room, long_room = (
                paper.room_for(sheet, label.text(name).format(length=longest))
                for name in ("overhang", "wheelbase")
            )
        # Words stand between mark and axle where there is room for them, else outside the mark.
        middle = where(
            front.x - mark > room + 14, lambda: (mark + front.x) / 2, lambda: mark - 18 - room / 2
        )
        other = self._spot(self.case.other_shown)
        named = ask.text("other").format(other=told["other"], length=told["other_ahead"])
        low = sheet.tape + 15 + (2.2 if not sheet.narrow else 1.0) * sheet.label
        return [
            *(self._center_line(x) for x in (mark, front.x, rear.x)),
            self._tick(other),
            paper.note(sheet, least(other, front.left - 4.2 * sheet.label), low, named),
            paper.dimension(sheet, mark, front.x, text, room, middle),
            paper.dimension(
                sheet,
                front.x,
                rear.x,
                wheelbase,
                long_room,
            ),
        ]

    def asked(self, v: Mapping[str, Numeric], said: dict[str, str]) -> tuple[Element, list[Handle]]:
        """Before the lock: the readings, a tag for the weight, a ring on the tape."""
        sheet, told, label = self.sheet, self.told, entry("labels")
        front = self.columns["front"]
        mark = self._spot(v["overhang_said"])
        ring = (mark, sheet.tape)
        text = said["overhang"]
        if not self.brief:
            told_so = entry("yard").text("you_say").format(length=text)
            text = where(v["overhang_known"], partial(str, told_so), partial(str, text))
        parts = [
            paper.load_grid(sheet, self.case.full, self.case.units.weight),
            *self._machine(),
            *self._tape(mark, text),
            *self._boxes(),
        ]
        for axle in AXLES:
            one = self.columns[axle]
            parts += gain_and_loss(one, label.text(axle), "", 0.0)
            parts.append(self._ways(one))
        # The tag tells how far the piece alone would have pushed the front's column.
        before = LoadColumn(sheet, front.x, "front", front.full, front.before, front.before)
        tag, handle = asked_tag(
            before, "weight_said", v["weight_said"], v["weight_known"], said["weight"]
        )
        parts += [*tag, *grip_parts(ring, "overhang_said", upright=False)]
        picture = drawn(sheet, told["picture"], parts)
        return picture, [handle, Handle("overhang_said", sheet.name, ring)]

    def _ways(self, one: LoadColumn) -> Element:
        """From what to what, under the end of a column."""
        low = one.end + 4 + 1.1 * self.sheet.body
        room = self.sheet.column + (45 if self.sheet.large else 20)
        size = min(self.sheet.body, room / 6.6)
        return words(one.x, low, self.told[f"{one.axle}_way"], size, halo=True)

    def weighed(self, v: Mapping[str, Numeric]) -> tuple[Element, list[Handle]]:
        """After the lock: weight and overhang, then why, then the piece in the hand."""
        sheet, told, label = self.sheet, self.told, entry("labels")
        step = Progress.of(v["part"])
        _, found = self.case.hung
        # The mark goes from what was said to what the readings tell.
        overhang = v["overhang_said"] + (v["overhang"] - v["overhang_said"]) * step.weighing
        mark = self._spot(overhang)
        text = told["overhang"]
        if not self.brief:
            text = entry("yard").text("overhang_found").format(length=text)
        text = where(step.done, partial(str, text), lambda: "")
        moved = self.case.meters(v["overhang"] - found) * step.free
        parts = [
            paper.load_grid(sheet, self.case.full, self.case.units.weight),
            *self._machine(moved),
            *self._said(v, step),
            *self._tape(mark, text),
            *self._boxes(),
        ]
        for axle in AXLES:
            one = self.columns[axle]
            parts += gain_and_loss(one, label.text(axle), "", step.explaining)
            change = paper.change_words(one, told[f"{axle}_change"], told[f"{axle}_way"])
            parts += [
                element("g", self._ways(one), display=shown(1 - step.done)),
                element("g", change, display=shown(step.done)),
            ]
        parts += self._why(v, step)
        middle = (self.columns["front"].x + self.columns["rear"].x) / 2
        together = together_words(sheet, middle, told["together"])
        # In large type the words of the explanation take its place.
        stays = step.done * (1 - step.explained) if sheet.large else step.done
        parts.append(element("g", together, display=shown(stays)))
        ring = (mark, sheet.tape)
        grip = grip_parts(ring, "overhang", upright=False)
        parts.append(element("g", grip, display=shown(step.free)))
        picture = drawn(sheet, told["picture"], parts)
        return picture, [Handle("overhang", sheet.name, ring)]

    def _said(self, v: Mapping[str, Numeric], step: Progress) -> list[Element]:
        """What was said of the weight, kept beside the column, and of the overhang, under its
        place on the tape.
        """
        sheet, told, front = self.sheet, self.told, self.columns["front"]
        load = within(front.before + v["weight_said"], 0, 1.1 * front.full)
        tag = paper.tag(
            front, load, entry("labels").text("you_said"), told["weight_said"], old=step.free
        )
        at = self._spot(v["overhang_said"])
        said = entry("yard").text("you_said").format(length=told["overhang_said"])
        half = 3.4 * sheet.label
        x = within(at, half + 4, front.left - half - 4) if not sheet.narrow else half + 2
        low = sheet.tape + (15 + sheet.label if not sheet.narrow else 14 + 2.2 * sheet.label)
        return [
            tag,
            self._tick(at),
            paper.note(sheet, x, low, said),
        ]

    def _why(self, v: Mapping[str, Numeric], step: Progress) -> list[Element]:
        """The front's gain in two pieces: what hangs there, and what came over from the rear."""
        sheet, told, label = self.sheet, self.told, entry("labels")
        front, rear = self.columns["front"], self.columns["rear"]
        gone, lands = rear.before - rear.now, front.before + v["weight"]
        pieces = [
            hung_piece(front, v["weight"], step.explaining),
            moved_piece(rear, front, gone, lands, step.explaining),
        ]
        from_rear = told["rear_less"]
        weight = show_number(v["weight"], self.case.units.weight_step[1])
        if not self.brief:
            from_rear = label.text("from_rear").format(weight=from_rear)
            weight = told["weight"]
        if sheet.large:
            # The columns stand close: the line of the sum has both numbers.
            from_rear = weight = ""
        moved = moved_arrow(rear, front, gone, lands, from_rear)
        y = front.y(front.before) + 0.9 * sheet.label
        why = [
            words(
                front.right + 6,
                y,
                weight,
                sheet.small + 1,
                anchor="start",
                bold=True,
                halo=True,
            ),
            element("g", moved, display=shown(abs(gone) >= 0.5)),
            paper.pivot(front.x, sheet.tape + 2),
        ]
        if not sheet.narrow:
            lines = (told["sum_line"], told["lever_line"])
            why += moments(sheet, entry("yard").text("sums"), lines)
        return [
            element("g", pieces, display=shown(v["part"] > WEIGHED)),
            element("g", why, display=shown(step.explained)),
        ]
