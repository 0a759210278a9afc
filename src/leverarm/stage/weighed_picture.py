"""The second act's picture: what the scales read, why, and the bucket in the hand."""

from collections.abc import Mapping
from functools import partial

from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_outline as machine
from leverarm.stage.case import AXLES, EXPLAINED, FREE, WEIGHED, Case, loads
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.on_scales import columns_of, drawn, grip_parts, tape, weight_arrow
from leverarm.stage.recorder import least, most, where, within
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import Column, Sheet, shown, words


class WeighedPicture:
    """One size of the second act's picture."""

    def __init__(
        self, case: Case, sheet: Sheet, v: Mapping[str, Numeric], told: dict[str, str]
    ) -> None:
        self.case, self.sheet, self.v, self.told = case, sheet, v, told
        # How much of the weighing, and of the explaining, has been shown.
        self.weighing = within(v["part"], 0, 1)
        self.explaining = within(v["part"] - WEIGHED, 0, 1)
        self.done = v["part"] >= WEIGHED
        self.explained = v["part"] >= EXPLAINED
        self.free = v["part"] >= FREE
        self.front, self.rear, self.lifted = loads(v)
        now = {
            axle: v[axle] + (load - v[axle]) * self.weighing
            for axle, load in (("front", self.front), ("rear", self.rear))
        }
        self.columns = columns_of(case, sheet, v, **now)
        self.stand = machine.Stand(
            sheet,
            case.meters(v["wheelbase"]),
            *(machine.sunk(now[axle] - v[axle], case.full, sheet) for axle in AXLES),
        )
        self.at = (
            sheet.x(case.meters(v["overhang"])),
            self.stand.ground - machine.BUCKET_HEIGHT_M * sheet.per_m,
        )

    def drawn(self) -> tuple[Element, list[Handle]]:
        case, sheet, v = self.case, self.sheet, self.v
        held, handles = self._held()
        parts = [
            paper.grid(sheet, case.full, case.units.weight),
            machine.platforms(self.stand),
            element(
                "g",
                machine.loader(self.stand, self.at, where(self._close(), lambda: 1.0, lambda: 0.0)),
                machine.tractor(self.stand),
                machine.bucket(self.stand, self.at),
                transform=self.stand.lean,
            ),
            *tape(case, sheet, v["overhang"], v["wheelbase"]),
            *self._columns(),
            *self._why(),
            *self._notes(),
            *held,
        ]
        return drawn(sheet, self.told["live"], parts), handles

    def _close(self) -> Numeric:
        """Whether the bucket is closer in than any loader could hold it."""
        return self.case.meters(self.v["overhang"]) < 0.6

    def _held(self) -> tuple[list[Element], list[Handle]]:
        """The two rings: the bucket's weight above it, its overhang on the tape."""
        sheet, v = self.sheet, self.v
        x, _ = self.at
        arrow, tail = weight_arrow(
            self.case, sheet, self.at, v["weight"], f"{self.told['piece']} {self.told['weight']}"
        )
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
            element("g", *rings, factor, display=shown(self.free)),
        ], handles

    def _columns(self) -> list[Element]:
        case, label, v = self.case, entry("labels"), self.v
        parts = []
        for axle in AXLES:
            one = self.columns[axle]
            more, less = most(one.now, one.before), least(one.now, one.before)
            gained = where(one.now > one.before, lambda: 1.0, lambda: 0.0)
            bare = case.units.show_weight(v[axle])
            reading = where(self.done, lambda: "", partial(str, bare))
            # A gain is solid, a loss is the dashed place where the column was.
            parts += [
                paper.column(one, label.text(axle), reading),
                element(
                    "g",
                    one.band(one.before, one.before + (more - one.before), axle + "-solid"),
                    opacity=f"{gained * (1 - self.explaining):.2f}",
                ),
                element(
                    "g",
                    paper.outline(one, less, one.before, axle + "-ghost"),
                    display=shown(one.now < one.before),
                ),
                element(
                    "g",
                    paper.change_words(one, self.told[f"{axle}_change"], self.told[f"{axle}_way"]),
                    display=shown(self.done),
                ),
                self._said(one, axle),
            ]
        return parts

    def _said(self, one: Column, axle: str) -> Element:
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
        sheet, v = self.sheet, self.v
        front, rear = self.columns["front"], self.columns["rear"]
        bare, gone = v["front"], v["rear"] - self.rear
        share = self.explaining
        # The rear's piece on its way: from its own place to its place under the bucket's.
        there_y, here_y = rear.y(self.rear), front.y(bare + v["weight"])
        x = rear.left + (front.left - rear.left) * share
        y = there_y + (here_y - there_y) * share
        high = most(gone / self.case.full * sheet.reach, 0)
        hung = element(
            "rect",
            class_="st-area-piece",
            fill=f"url(#st@-{sheet.name}-hung)",
            x=px(front.left),
            y=px(front.y(bare)),
            width=px(sheet.column),
            height=px(v["weight"] / self.case.full * sheet.reach * share),
            stroke_width="1.2",
        )
        moved = element(
            "rect",
            class_="st-area-piece",
            fill=f"url(#st@-{sheet.name}-moved)",
            x=px(x),
            y=px(y),
            width=px(sheet.column),
            height=px(high),
            stroke_width="1.2",
        )
        return [
            element("g", hung, moved, display=shown(v["part"] > WEIGHED)),
            element("g", *self._why_words(), display=shown(self.explained)),
        ]

    def _why_words(self) -> list[Element]:
        sheet, v, label = self.sheet, self.v, entry("labels")
        front, rear = self.columns["front"], self.columns["rear"]
        start = (rear.left - 4, rear.y(self.rear) + 4)
        end_y = front.y(v["front"] + v["weight"] + (v["rear"] - self.rear) / 2)
        end = (front.right + 6, end_y)
        dip = most(start[1], end_y) + 34
        curve = element(
            "path",
            class_="st-line-rear",
            d=f"M{px(start[0])} {px(start[1])}C{px(start[0] - 10)} {px(dip)} "
            f"{px(end[0] + 24)} {px(dip)} {px(end[0] + 7)} {px(end[1] + 3)}",
            stroke_width="3",
        )
        head = element(
            "polygon",
            class_="st-solid-rear",
            points=corners([end, (end[0] + 12, end[1] - 4), (end[0] + 9, end[1] + 8)]),
        )
        narrow = sheet.width < 760
        unit = self.case.units.weight
        lines = [
            words(
                front.right + 6,
                front.y(v["front"]) + 0.9 * sheet.label,
                f"{self.told['piece']} {show_number(v['weight'], 0)}",
                sheet.small + 1,
                anchor="start",
                bold=True,
                halo=True,
            ),
            element("g", curve, head, display=shown(abs(v["rear"] - self.rear) >= 0.5)),
        ]
        if narrow:
            return [*lines, paper.pivot(front.x, sheet.tape + 2)]
        middle = (front.right + rear.left) / 2
        from_rear = label.text("from_rear").format(weight=self.told["rear_less"]).split("|")
        lines.append(
            element(
                "g",
                *(
                    words(
                        middle,
                        dip + 4 + 1.2 * sheet.label * i,
                        part,
                        sheet.label,
                        "rear-words",
                        bold=True,
                        halo=True,
                    )
                    for i, part in enumerate(from_rear)
                ),
                display=shown(abs(v["rear"] - self.rear) >= 0.5),
            )
        )
        right, base = rear.right + 70, sheet.height - 50
        moment = (
            f"{self.told['weight']} × {self.told['overhang']}",
            f"= {self.told['rear_less']} {unit} × {self.told['wheelbase']}",
        )
        lines += [
            words(right, base, label.text("about_front"), sheet.small, "muted", anchor="start"),
            words(right, base + 1.4 * sheet.body, moment[0], sheet.body, anchor="start"),
            words(right, base + 2.7 * sheet.body, moment[1], sheet.body, anchor="start"),
            paper.pivot(front.x, sheet.tape + 2),
        ]
        return lines

    def _notes(self) -> list[Element]:
        """Together, the lean that is larger than life, the marks of the tape."""
        sheet, v, label, ask = self.sheet, self.v, entry("labels"), entry("tractor")
        middle = (self.columns["front"].x + self.columns["rear"].x) / 2
        wheelbase = sheet.x(self.case.meters(v["wheelbase"]))
        low = sheet.height - 0.5 * sheet.body
        parts = [
            element(
                "g",
                words(
                    middle,
                    low - 1.2 * sheet.body,
                    label.text("together"),
                    sheet.label,
                    "muted",
                    halo=True,
                ),
                words(middle, low, self.told["together"], sheet.body, bold=True, halo=True),
                display=shown(self.done),
            ),
            element(
                "g",
                words(
                    wheelbase,
                    sheet.tape + 15 + 2.3 * sheet.label,
                    label.text("double"),
                    sheet.small,
                    "muted",
                    halo=True,
                ),
                display=shown(v["doubled"]),
            ),
        ]
        if sheet.width >= 760:
            parts.append(words(6, low, ask.text("lean"), sheet.small, "muted", anchor="start"))
            parts.append(
                element(
                    "g",
                    words(
                        self.at[0],
                        sheet.floor - 12,
                        ask.text("on_paper"),
                        sheet.small,
                        "muted",
                        halo=True,
                    ),
                    display=shown(self._close() * self.free),
                )
            )
        return parts
