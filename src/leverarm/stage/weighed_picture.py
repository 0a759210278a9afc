"""The second act's picture: what the scales read, why, and the bucket in the hand."""

from collections.abc import Mapping
from functools import partial

from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_outline as machine
from leverarm.stage.case import AXLES, EXPLAINED, FREE, WEIGHED, HungCase, loads
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.on_scales import columns_of, drawn, grip_parts, tape, weight_arrow
from leverarm.stage.recorder import least, most, where, within
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import LoadColumn, Paper, shown, words


class WeighedPicture:
    """One size of the second act's picture."""

    def __init__(
        self, case: HungCase, sheet: Paper, v: Mapping[str, Numeric], told: dict[str, str]
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
        return drawn(sheet, self.told["live"], parts), handles

    def _close(self) -> Numeric:
        """Whether the bucket is closer in than any loader could hold it."""
        return self.case.meters(self.v["overhang"]) < 0.6

    def _held(self) -> tuple[list[Element], list[Handle]]:
        """The two rings: the bucket's weight above it, its overhang on the tape."""
        sheet, v = self.sheet, self.v
        x, _ = self.at
        arrow, tail = weight_arrow(self.case, sheet, self.at, v["weight"], self.told)
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
        """What the pieces of the gain are called, the curved arrow, and the moments that agree."""
        sheet, v = self.sheet, self.v
        front = self.columns["front"]
        name = f"{self.told['piece']} {show_number(v['weight'], 0)}"
        y = front.y(v["front"]) + 0.9 * sheet.label
        moved = [*self._curve(), *([] if sheet.narrow else self._from_rear())]
        return [
            words(front.right + 6, y, name, sheet.small + 1, anchor="start", bold=True, halo=True),
            element("g", *moved, display=shown(abs(v["rear"] - self.rear) >= 0.5)),
            *([] if sheet.narrow else self._moments()),
            paper.pivot(front.x, sheet.tape + 2),
        ]

    @property
    def _dip(self) -> Numeric:
        """How low the curved arrow hangs between the columns."""
        front, rear, v = self.columns["front"], self.columns["rear"], self.v
        landing = front.y(v["front"] + v["weight"] + (v["rear"] - self.rear) / 2)
        return most(rear.y(self.rear) + 4, landing) + 34

    def _curve(self) -> list[Element]:
        """The arrow from what the rear lost to its place in the front column."""
        front, rear, v, dip = self.columns["front"], self.columns["rear"], self.v, self._dip
        x0, y0 = rear.left - 4, rear.y(self.rear) + 4
        x1 = front.right + 6
        y1 = front.y(v["front"] + v["weight"] + (v["rear"] - self.rear) / 2)
        path = (
            f"M{px(x0)} {px(y0)}C{px(x0 - 10)} {px(dip)} {px(x1 + 24)} {px(dip)} "
            f"{px(x1 + 7)} {px(y1 + 3)}"
        )
        head = corners([(x1, y1), (x1 + 12, y1 - 4), (x1 + 9, y1 + 8)])
        return [
            element("path", class_="st-line-rear", d=path, stroke_width="3"),
            element("polygon", class_="st-solid-rear", points=head),
        ]

    def _from_rear(self) -> list[Element]:
        """Under the curve: how much came from the rear."""
        sheet, size = self.sheet, self.sheet.label
        middle = (self.columns["front"].right + self.columns["rear"].left) / 2
        told = entry("labels").text("from_rear").format(weight=self.told["rear_less"])
        return [
            words(
                middle,
                self._dip + 4 + 1.2 * size * line,
                part,
                sheet.label,
                "rear-words",
                bold=True,
                halo=True,
            )
            for line, part in enumerate(told.split("|"))
        ]

    def _moments(self) -> list[Element]:
        """The two moments about the front axle, which are equal."""
        sheet, told = self.sheet, self.told
        x, base = self.columns["rear"].right + 70, sheet.height - 50
        unit = self.case.units.weight
        lines = (
            f"{told['weight']} × {told['overhang']}",
            f"= {told['rear_less']} {unit} × {told['wheelbase']}",
        )
        return [
            paper.note(sheet, x, base, entry("labels").text("about_front"), anchor="start"),
            *(
                words(x, base + (1.4 + 1.3 * line) * sheet.body, text, sheet.body, anchor="start")
                for line, text in enumerate(lines)
            ),
        ]

    def _notes(self) -> list[Element]:
        """Together, the lean that is larger than life, the marks of the tape."""
        sheet, label, ask = self.sheet, entry("labels"), entry("tractor")
        middle = (self.columns["front"].x + self.columns["rear"].x) / 2
        double_x = sheet.x(self.case.meters(self.v["wheelbase"]))
        low = sheet.height - 0.5 * sheet.body
        together = [
            words(
                middle,
                low - 1.2 * sheet.body,
                label.text("together"),
                sheet.label,
                "muted",
                halo=True,
            ),
            words(middle, low, self.told["together"], sheet.body, bold=True, halo=True),
        ]
        double = paper.note(
            sheet, double_x, sheet.tape + 15 + 2.3 * sheet.label, label.text("double")
        )
        parts = [
            element("g", together, display=shown(self.done)),
            element("g", double, display=shown(self.v["doubled"])),
        ]
        if not sheet.narrow:
            close = paper.note(sheet, self.at[0], sheet.floor - 12, ask.text("on_paper"))
            parts += [
                paper.note(sheet, 6, low, ask.text("lean"), anchor="start"),
                element("g", close, display=shown(self._close() * self.free)),
            ]
        return parts
