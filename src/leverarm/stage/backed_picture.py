"""One size of the picture of a claim beside a reading and its band."""

from collections.abc import Mapping
from dataclasses import replace

from leverarm.numerals import Numeric
from leverarm.outline import BUCKET_HEIGHT_M
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_outline as machine
from leverarm.stage.backed_case import FACTOR_PLACES, BackedCase
from leverarm.stage.case import AXLES, Progress
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, corners, element, px
from leverarm.stage.on_scales import drawn
from leverarm.stage.recorder import where
from leverarm.stage.result_axis import ResultAxis
from leverarm.stage.sheet import LoadColumn, Paper, full_load, shown, words
from leverarm.stage.stand import Stand
from leverarm.uncertainty.separate import K

# How long the columns are beside those of a lesson that has them alone.
_SHORT = 0.42


class BackedPicture:
    """One size of the picture."""

    def __init__(self, case: BackedCase, sheet: Paper, told: Mapping[str, str]) -> None:
        self.case, self.sheet, self.told = case, sheet, told
        self.stand = Stand(sheet, case.tractor.wheelbase_m, 0.0, 0.0)
        self.short = replace(sheet, reach=_SHORT * sheet.reach)
        across = sheet.x(0.0), sheet.x(-case.tractor.wheelbase_m)
        full = full_load(max(*case.read.before, *case.read.after))
        self.columns = {
            axle: LoadColumn(
                self.short, across[n], axle, full, case.read.after[n], case.read.before[n]
            )
            for n, axle in enumerate(AXLES)
        }

    def _machine(self) -> list[Element]:
        """The tractor with its loader; the piece that came off dashed."""
        case, sheet, stand = self.case, self.sheet, self.stand
        at = case.piece.ahead_m, BUCKET_HEIGHT_M
        return [
            *paper.under_floor(sheet),
            machine.platforms(stand),
            machine.loader_part(stand, at, 0.0),
            machine.tractor_parts(stand),
            machine.bucket_part(stand, at, "ghost"),
        ]

    def _columns(self) -> list[Element]:
        """Under each axle what its scale read with the piece and without it."""
        parts, units = list[Element](), self.case.units
        for axle, one in self.columns.items():
            way = f"{units.digits(one.before)} → {units.digits(one.now)}"
            room = one.sheet.column + (45 if one.sheet.large else 30)
            size = min(one.sheet.body, room / (11 * 0.62))
            low, high = sorted((one.before, one.now))
            parts += [
                paper.column(one, entry("labels").text(axle), ""),
                paper.outline(one, low, high, axle if one.now > one.before else "ghost"),
                words(one.x, one.end + 1.1 * size, way, size, bold=True),
            ]
        return parts

    def asked(self, name: str) -> Element:
        """The picture of the first act: the readings, and no band."""
        return drawn(self.sheet, name, [*self._machine(), *self._columns()])

    def weighed(self, v: Mapping[str, Numeric]) -> Element:
        """The picture of the second act: each change with its ±, and the claim beside the band."""
        step = Progress.of(v["part"])
        known = element("g", self._changes(), display=shown(step.done))
        return drawn(
            self.sheet,
            self.told["picture"],
            [*self._machine(), *self._columns(), known, *self._band(v, step)],
        )

    def _changes(self) -> list[Element]:
        """Beside the columns: what each scale lost or gained, and both together."""
        sheet, told, parts = self.sheet, self.told, list[Element]()
        # Words of twelve letters, each 0.62 of their size wide, between and beside the columns.
        front, rear = self.columns["front"], self.columns["rear"]
        between = (rear.left - front.right) / (12 * 0.62)
        beside = (sheet.width - rear.right - 10) / (11.5 * 0.62)
        size = min((1.0 if sheet.large else 0.9) * sheet.body, beside)
        for axle, anchor in (("front", "end"), ("rear", "start")):
            one = self.columns[axle]
            x = one.left - 8 if anchor == "end" else one.right + 8
            parts.append(
                words(
                    x,
                    one.end,
                    told[f"{axle}_change"],
                    size,
                    f"{axle}-words",
                    anchor=anchor,
                    bold=True,
                    halo=True,
                )
            )
        middle = (front.x + rear.x) / 2
        if between >= sheet.small:
            label = entry("labels").text("together")
            y = front.y(0) + 1.2 * sheet.label
            parts.append(words(middle, y, label, sheet.label, "muted"))
            parts.append(
                words(middle, y + 1.3 * size, told["together"], min(size, between), bold=True)
            )
        return parts

    @property
    def _deep(self) -> Numeric:
        """Where the columns' words end."""
        return max(one.end for one in self.columns.values()) + 1.3 * self.sheet.body

    def axis(self) -> ResultAxis:
        """The front column's end enlarged: one unit is the weight of the piece."""
        case, sheet = self.case, self.sheet
        return ResultAxis(
            sheet,
            case.read.value("factor"),
            case.reach,
            self._deep + 2.0 * sheet.body + 1.6 * sheet.small,
            sheet.height - sheet.small - 11,
            FACTOR_PLACES,
            "",
        )

    def _band(self, v: Mapping[str, Numeric], step: Progress) -> list[Element]:
        """The factor with its band, and the claim as a flag on the same axis."""
        case, sheet, axis, told = self.case, self.sheet, self.axis(), self.told
        factor = case.read.value("factor")
        u = case.read.u_of("factor", v["u"])
        bands = [
            axis.band(factor, size * u * step.weighing, kind)
            for size, kind in ((K, "band"), (1, "band-inner"))
        ]
        x, y, radius = axis.dot(factor, 0, 3)
        dot = element("circle", class_="st-solid-ink", cx=px(x), cy=px(y), r=f"{radius:.1f}")
        top, edge = axis.top - 0.5 * sheet.body, 0.02 * sheet.width
        first = self._deep + 1.1 * sheet.small
        return [
            element("g", bands, display=shown(step.weighing > 0)),
            axis.drawn(),
            dot,
            self._flag(axis, v),
            element(
                "g",
                words(axis.x(factor), top, told["factor"], sheet.body, bold=True, halo=True),
                display=shown(step.done),
            ),
            words(edge, first, told["axis"], sheet.small, "muted", anchor="start"),
        ]

    def _flag(self, axis: ResultAxis, v: Mapping[str, Numeric]) -> Element:
        """The claim on the axis, filled where it is ruled out."""
        case, sheet, told = self.case, self.sheet, self.told
        flag, high = axis.x(v["claim"]), axis.top - 0.2 * sheet.label
        inside = case.allowed(v["claim"], v["u"])
        kind = where(inside, lambda: "st-dot-outside", lambda: "st-solid-ink")
        pennant = element(
            "polygon",
            class_=kind,
            points=corners([(flag, high), (flag + 16, high + 6), (flag, high + 12)]),
        )
        # Its words stand beside the flag, on the side that has room.
        late = flag > 0.72 * sheet.width
        beside = element(
            "text",
            told["claimed"],
            class_="st-text-ink st-halo",
            x=px(flag + where(late, lambda: -6.0, lambda: 20.0)),
            y=px(high + 11),
            font_size=f"{sheet.label:g}",
            text_anchor=where(late, lambda: "end", lambda: "start"),
            font_weight="bold",
        )
        pole = paper.stroke([(flag, axis.base), (flag, high)], "ink", 2.2)
        return element("g", pole, pennant, beside)
