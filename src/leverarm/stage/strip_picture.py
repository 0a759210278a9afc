"""One size of the picture of a loader that comes off piece by piece."""

from collections.abc import Mapping
from dataclasses import dataclass

from leverarm.numerals import Numeric
from leverarm.outline import BUCKET_HEIGHT_M, PIN
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_outline as machine
from leverarm.stage.case import AXLES, Progress
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element, px
from leverarm.stage.on_scales import (
    asked_tag,
    drawn,
    gain_and_loss,
    grip_parts,
    hung_piece,
    moments,
    together_words,
)
from leverarm.stage.recorder import least, within
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import LoadColumn, Paper, shown, words
from leverarm.stage.stand import Stand, sunk
from leverarm.stage.strip_case import StripCase

_HATCHINGS = {"frame": "frame", "bucket": "hung"}
# How far a piece on the hoist hangs from its place, meters ahead and up.
_HANGS = {"frame": (1.13, -0.12), "bucket": (0.30, 0.06)}


@dataclass(frozen=True)
class StripSeen:
    """What the scales read, front and rear, in the unit shown, and where the pieces are.

    on, before, now     with everything on, before this step, now
    frame_up, bucket_up how far each hangs on the hoist, 0 to 1
    """

    on: tuple[Numeric, Numeric]
    before: tuple[Numeric, Numeric]
    now: tuple[Numeric, Numeric]
    bucket_up: Numeric
    frame_up: Numeric


class StripPicture:
    """One size of the picture."""

    def __init__(
        self, case: StripCase, sheet: Paper, told: Mapping[str, str], seen: StripSeen
    ) -> None:
        self.case, self.sheet, self.told, self.seen = case, sheet, told, seen
        # Numbers alone, where names beside them would reach into each other.
        self.brief = sheet.narrow or sheet.label > 16
        wheelbase = case.tractor.wheelbase_m
        across = sheet.x(0.0), sheet.x(-wheelbase)
        # Words of the front column stand clear of the places of what came off.
        before = seen.on[0], seen.before[1]
        self.front, self.rear = (
            LoadColumn(sheet, across[n], axle, case.full, before[n], seen.now[n])
            for n, axle in enumerate(AXLES)
        )
        sinks = (
            sunk(now - before, case.full, sheet)
            for now, before in zip(seen.now, seen.before, strict=True)
        )
        self.stand = Stand(sheet, wheelbase, *sinks)
        self.hung = case.bucket.ahead_m, BUCKET_HEIGHT_M
        self.at = self.stand.place(self.hung)

    def _hung(self, name: str, up: Numeric) -> tuple[Numeric, Numeric]:
        """How far a piece is from its place on the sheet."""
        ahead, high = _HANGS[name]
        return -ahead * up * self.sheet.per_m, -high * up * self.sheet.per_m

    def _machine(self, free: Numeric = 0.0) -> list[Element]:
        """The tractor, and each piece on it or on its hoist; free to be lifted or not."""
        stand, seen, sheet = self.stand, self.seen, self.sheet
        frame = self._hung("frame", seen.frame_up)
        bucket = self._hung("bucket", seen.bucket_up)
        pin = stand.at(*PIN)

        def moved(part: Element, by: tuple[Numeric, Numeric], moves: str) -> Element:
            shift = f"translate({px(by[0])} {px(by[1])})"
            events = paper.held(free)
            return element(
                "g",
                part,
                transform=shift,
                data_hold=moves,
                data_rests="1",
                class_="st-hold",
                pointer_events=events,
            )

        def hoist(x: Numeric, y: Numeric, up: Numeric) -> Element:
            line = paper.stroke([(x, y), (x, y - 0.20 * sheet.per_m)], "ghost", 1.6)
            return element("g", line, display=shown(up > 0))

        return [
            machine.platforms(stand),
            element("g", machine.tractor_parts(stand), transform=stand.lean),
            moved(machine.loader_part(stand, self.hung, 0.0, "piece"), frame, "frame_up"),
            moved(machine.bucket_part(stand, self.hung), bucket, "bucket_up"),
            hoist(pin[0] + frame[0], pin[1] + frame[1] - 8, seen.frame_up),
            hoist(
                self.at[0] + bucket[0] + 0.14 * sheet.per_m,
                self.at[1] + bucket[1] - 0.26 * sheet.per_m,
                seen.bucket_up,
            ),
            *self._names(pin, frame, bucket),
        ]

    def _names(
        self,
        pin: tuple[Numeric, Numeric],
        frame: tuple[Numeric, Numeric],
        bucket: tuple[Numeric, Numeric],
    ) -> list[Element]:
        """The names of both pieces: over the arms, and under the bucket."""
        sheet, told = self.sheet, self.told
        names = {one: told[f"{one}_weight"] for one in _HANGS}
        if not self.brief:
            names = {one: f"{told[one]} {weight}" for one, weight in names.items()}
        x, y = (
            sheet.x(0.05 if self.brief else 0.18) + frame[0],
            pin[1] + frame[1] - 0.07 * sheet.per_m,
        )
        low = self.at[1] + 0.19 * sheet.per_m + bucket[1] + 1.05 * sheet.label
        return [
            words(x, y, names["frame"], sheet.label, bold=True),
            words(self.at[0] + bucket[0], low, names["bucket"], sheet.label, bold=True),
        ]

    def _tape(self) -> list[Element]:
        case, sheet, label = self.case, self.sheet, entry("labels")
        wheelbase = case.show_length(case.tractor.wheelbase_m)
        text = wheelbase if self.brief else label.text("wheelbase").format(length=wheelbase)
        frame, ahead = sheet.x(case.frame.ahead_m), self.told["frame_ahead"]
        lines = [
            paper.stroke([(x, sheet.floor - 40), (x, sheet.tape + 8)], "center", 1)
            for x in (frame, self.front.x, self.rear.x)
        ]
        name = ahead if self.brief else f"{self.told['frame']} {ahead}"
        longest = case.units.long_length
        room = paper.room_for(
            sheet, longest if self.brief else label.text("wheelbase").format(length=longest)
        )
        named = paper.room_for(sheet, longest if self.brief else f"{self.told['frame']} {longest}")
        return [
            *lines,
            paper.dimension(sheet, frame, self.front.x, name, named, frame - 8 - named / 2),
            paper.dimension(sheet, self.front.x, self.rear.x, text, room),
        ]

    def asked(
        self, question: str, tag: str, said: Numeric, known: Numeric
    ) -> tuple[Element, list[Handle]]:
        """Before the lock: the bucket's place dashed, one tag, nothing of the frame's share."""
        case, sheet, label, units = self.case, self.sheet, entry("labels"), self.case.units
        now, on = self.seen.now, self.seen.on
        asked, handle = asked_tag(self.front, "front_said", said, known, tag)
        place = words(
            self.front.right + 6,
            self.front.y(now[0]) + 0.9 * sheet.label,
            self.told["bucket_off"],
            sheet.small + 1,
            anchor="start",
            halo=True,
        )
        parts = [
            paper.load_grid(sheet, case.full, units.weight),
            *self._machine(),
            *self._tape(),
            paper.column(self.front, label.text("front"), units.show_weight(now[0])),
            paper.outline(self.front, now[0], on[0], "front-ghost"),
            place,
            *asked,
            paper.column(self.rear, label.text("rear"), units.show_weight(now[1])),
        ]
        return drawn(sheet, question, parts), [handle]

    def weighed(self, part: Numeric, said: Numeric) -> tuple[Element, list[Handle]]:
        """After the lock: what came off dashed, what is on hatched, each with its share."""
        sheet, case, seen, told = self.sheet, self.case, self.seen, self.told
        step, label = Progress.of(part), entry("labels")
        front = [
            paper.column(self.front, label.text("front"), ""),
            paper.outline(self.front, least(seen.now[0], seen.on[0]), seen.on[0], "front-ghost"),
            *self._shares(step),
        ]
        rear = gain_and_loss(self.rear, label.text("rear"), "", 0.0)
        changes = [
            paper.change_words(one, told[f"{one.axle}_change"], told[f"{one.axle}_way"])
            for one in (self.front, self.rear)
        ]
        bucket_off = case.bare["front"] + case.gain("frame")[0]
        load = within(bucket_off + said, 0, 1.1 * case.full)
        you_said = case.units.digits(said, sign=True)
        middle = (self.front.x + self.rear.x) / 2
        parts = [
            paper.load_grid(sheet, case.full, case.units.weight),
            *self._machine(step.free),
            *self._tape(),
            paper.tag(self.front, load, label.text("you_said"), you_said, old=step.free),
            *front,
            *rear,
            element("g", changes, display=shown(step.done)),
            element("g", together_words(sheet, middle, told["together"]), display=shown(step.done)),
            element("g", self._factors(), display=shown(step.explained)),
            self._rings(step),
        ]
        return drawn(sheet, told["picture"], parts), self._handles()

    def _shares(self, step: Progress) -> list[Element]:
        """Each piece's place in the front column: hatched while it is on, and while explained."""
        case, seen, sheet, told = self.case, self.seen, self.sheet, self.told
        top: Numeric = case.bare["front"]
        parts = []
        for name, up in (("frame", seen.frame_up), ("bucket", seen.bucket_up)):
            gain = case.gain(name)[0]
            held = step.free * (1 - up) + (1 - step.free) * step.explaining
            high = gain * (1 - step.free * up)
            y = self.front.y(top) + 0.9 * sheet.label
            text = told[f"{name}_took"] if self.brief else f"{told[name]} {told[f'{name}_took']}"
            size = sheet.small + 1
            line = words(self.front.right + 6, y, text, size, anchor="start", bold=True, halo=True)
            parts += [
                hung_piece(self.front, gain, held, top=top, hatching=_HATCHINGS[name]),
                element("g", line, display=shown(step.explained * (high > gain / 2))),
            ]
            top = top + high
        return parts

    def _factors(self) -> list[Element]:
        """At the bottom right: weight times factor is what each piece takes off the front."""
        told, sheet = self.told, self.sheet
        if sheet.narrow:
            return []
        lines = tuple(
            f"{told[f'{name}_bare']} × {told[f'{name}_factor']} = {told[f'{name}_took']}"
            for name in ("frame", "bucket")
        )
        about = entry("labels").text("factors")
        return moments(sheet, about, (lines[0], lines[1]))

    def _grips(self) -> list[tuple[str, tuple[Numeric, Numeric]]]:
        """Where each piece is taken hold of: the frame on its mast, the bucket at its middle."""
        stand = self.stand
        frame = self._hung("frame", self.seen.frame_up)
        bucket = self._hung("bucket", self.seen.bucket_up)
        mast = stand.at(PIN[0], 0.0, 0.85)
        return [
            ("frame_up", (mast[0] + frame[0], mast[1] + frame[1])),
            ("bucket_up", (self.at[0] + bucket[0], self.at[1] + bucket[1])),
        ]

    def _rings(self, step: Progress) -> Element:
        rings = [
            ring for moves, at in self._grips() for ring in grip_parts(at, moves, upright=False)
        ]
        # A piece let go halfway hangs off or stays on, whichever is nearer.
        return element("g", rings, display=shown(step.free), data_rests="1")

    def _handles(self) -> list[Handle]:
        return [Handle(moves, self.sheet.name, at) for moves, at in self._grips()]
