"""The second act's picture: what the scales read, why, and the bucket in the hand."""

from collections.abc import Mapping
from functools import partial

from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_outline as machine
from leverarm.stage.case import AXLES, WEIGHED, HungCase, Progress, loads
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element
from leverarm.stage.on_scales import (
    columns_of,
    drawn,
    gain_and_loss,
    grip_parts,
    hung_piece,
    moments,
    moved_arrow,
    moved_piece,
    tape,
    together_words,
    weight_arrow,
)
from leverarm.stage.recorder import where, within
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import LoadColumn, Paper, shown, words
from leverarm.stage.stand import Stand, sunk


class WeighedPicture:
    """One size of the second act's picture."""

    def __init__(
        self, case: HungCase, sheet: Paper, v: Mapping[str, Numeric], told: dict[str, str]
    ) -> None:
        self.case, self.sheet, self.v, self.told = case, sheet, v, told
        step = self.step = Progress.of(v["part"])
        self.front, self.rear, self.lifted = loads(v)
        now = {
            axle: v[axle] + (load - v[axle]) * step.weighing
            for axle, load in (("front", self.front), ("rear", self.rear))
        }
        self.columns = columns_of(case, sheet, v, **now)
        self.stand = Stand(
            sheet,
            case.meters(v["wheelbase"]),
            *(sunk(now[axle] - v[axle], case.full, sheet) for axle in AXLES),
        )
        self.at = (
            sheet.x(case.meters(v["overhang"])),
            self.stand.ground - machine.BUCKET_HEIGHT_M * sheet.per_m,
        )

    def drawn(self) -> tuple[Element, list[Handle]]:
        case, sheet, v = self.case, self.sheet, self.v
        held, handles = self._held()
        parts = [
            paper.load_grid(sheet, case.full, case.units.weight),
            machine.platforms(self.stand),
            element(
                "g",
                machine.loader_part(
                    self.stand, self.at, where(self._close(), lambda: 1.0, lambda: 0.0)
                ),
                machine.tractor_parts(self.stand),
                machine.bucket_part(self.stand, self.at),
                transform=self.stand.lean,
            ),
            *tape(case, sheet, v["overhang"], v["wheelbase"]),
            *self._columns(),
            *self._why(),
            *self._notes(),
            *held,
        ]
        return drawn(sheet, self.told["picture"], parts), handles

    def _close(self) -> Numeric:
        """Whether the bucket is closer in than any loader could hold it."""
        return self.case.meters(self.v["overhang"]) < 0.6

    def _held(self) -> tuple[list[Element], list[Handle]]:
        """The two rings: the bucket's weight above it, its overhang on the tape."""
        sheet, v = self.sheet, self.v
        x, _ = self.at
        name = f"{self.told['piece']} {self.told['weight']}"
        tip = machine.above_bucket(self.stand, self.at)
        arrow, tail = weight_arrow(sheet, self.case.full, tip, v["weight"], name)
        grips = [((x, tail), "weight", True), ((x, sheet.tape), "overhang", False)]
        rings = [
            part for at, moves, upright in grips for part in grip_parts(at, moves, upright=upright)
        ]
        handles = [Handle(moves, sheet.name, at) for at, moves, _ in grips]
        factor = words(
            x,
            sheet.tape + 15 + sheet.label,
            f"×{self.told['factor']}",
            sheet.label,
            bold=True,
            halo=True,
        )
        return [
            *arrow,
            element("g", *rings, factor, display=shown(self.step.free)),
        ], handles

    def _columns(self) -> list[Element]:
        case, label, v = self.case, entry("labels"), self.v
        parts = []
        for axle in AXLES:
            one = self.columns[axle]
            bare = case.units.show_weight(v[axle])
            reading = where(self.step.done, lambda: "", partial(str, bare))
            parts += [
                *gain_and_loss(one, label.text(axle), reading, self.step.explaining),
                element(
                    "g",
                    paper.change_words(one, self.told[f"{axle}_change"], self.told[f"{axle}_way"]),
                    display=shown(self.step.done),
                ),
                self._said(one, axle),
            ]
        return parts

    def _said(self, one: LoadColumn, axle: str) -> Element:
        """The tag keeps what the reader said; dashed once the numbers are others."""
        v, start = self.v, {i.name: i.start for i in self.case.inputs}
        moved = (
            sum(abs(v[name] - start[name]) for name in ("weight", "overhang", "wheelbase", *AXLES))
            > 0
        )
        load = within(start[axle] + v[f"{axle}_said"], 0, self.case.full * 1.1)
        return paper.tag(
            one, load, entry("labels").text("you_said"), self.told[f"{axle}_said"], old=moved
        )

    def _why(self) -> list[Element]:
        """The gain in two pieces: the bucket, and what came over from the rear."""
        sheet, v, told, label = self.sheet, self.v, self.told, entry("labels")
        front, rear = self.columns["front"], self.columns["rear"]
        gone, lands = v["rear"] - self.rear, v["front"] + v["weight"]
        pieces = [
            hung_piece(front, v["weight"], self.step.explaining),
            moved_piece(rear, front, gone, lands, self.step.explaining),
        ]
        weight = show_number(v["weight"], 0)
        name = weight if sheet.narrow else f"{told['piece']} {weight}"
        y = front.y(v["front"]) + 0.9 * sheet.label
        from_rear = label.text("from_rear").format(weight=told["rear_less"])
        moved = moved_arrow(rear, front, gone, lands, from_rear)
        lines = (
            f"{told['weight']} × {told['overhang']}",
            f"= {told['rear_less']} {self.case.units.weight} × {told['wheelbase']}",
        )
        why = [
            words(front.right + 6, y, name, sheet.small + 1, anchor="start", bold=True, halo=True),
            element("g", moved, display=shown(abs(gone) >= 0.5)),
            paper.pivot(front.x, sheet.tape + 2),
        ]
        if not sheet.narrow:
            why += moments(sheet, rear.right + 70, label.text("about_front"), lines)
        return [
            element("g", pieces, display=shown(v["part"] > WEIGHED)),
            element("g", why, display=shown(self.step.explained)),
        ]

    def _notes(self) -> list[Element]:
        """Together, the lean that is larger than life, the marks of the tape."""
        sheet, label, ask = self.sheet, entry("labels"), entry("tractor")
        middle = (self.columns["front"].x + self.columns["rear"].x) / 2
        double_x = sheet.x(self.case.meters(self.v["wheelbase"]))
        low = sheet.height - 0.5 * sheet.body
        double = paper.note(
            sheet, double_x, sheet.tape + 15 + 2.3 * sheet.label, label.text("double")
        )
        parts = [
            element(
                "g",
                together_words(sheet, middle, self.told["together"]),
                display=shown(self.step.done),
            ),
            element("g", double, display=shown(self.v["doubled"])),
        ]
        if not sheet.narrow:
            close = paper.note(sheet, self.at[0], sheet.floor - 12, ask.text("on_paper"))
            parts += [
                paper.note(sheet, 6, low, ask.text("lean"), anchor="start"),
                element("g", close, display=shown(self._close() * self.step.free)),
            ]
        return parts
