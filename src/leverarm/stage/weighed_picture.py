"""The second act's picture: what the scales read, why, and the piece in the hand."""

from collections.abc import Mapping
from functools import partial

from leverarm import statics
from leverarm.machine import Attachment
from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage import sheet as paper
from leverarm.stage.case import AXLES, WEIGHED, HungCase, Progress, ahead_of_front, loads
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element
from leverarm.stage.hung import HATCHINGS, above_piece, machine_parts, piece_place
from leverarm.stage.on_scales import (
    columns_of,
    drawn,
    grip_parts,
    hung_piece,
    kept_tag,
    moments,
    moved_arrow,
    moved_piece,
    read_column,
    tape,
    together_words,
    weight_arrow,
)
from leverarm.stage.recorder import where
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import Paper, shown, words
from leverarm.stage.stand import Stand, risen, sunk


def in_front(case: HungCase) -> Attachment | None:
    """What hangs farthest ahead of the front axle already, or None."""
    ahead = [one for one in case.held if one.ahead_m > 0]
    return max(ahead, key=lambda one: one.ahead_m, default=None)


def canceled_front(case: HungCase, v: Mapping[str, Numeric]) -> Numeric:
    """What the front reads once a piece behind has canceled what hangs farthest in front."""
    piece = in_front(case)
    if piece is None:
        return v["front"]
    given = case.weight(piece.weight_kg), case.length(piece.ahead_m), v["wheelbase"]
    return v["front"] - statics.front_gain(*given)


class WeighedPicture:
    """One size of the second act's picture."""

    def __init__(
        self, case: HungCase, sheet: Paper, v: Mapping[str, Numeric], told: dict[str, str]
    ) -> None:
        sheet = case.on_paper(sheet)
        self.case, self.sheet, self.v, self.told = case, sheet, v, told
        step = self.step = Progress.of(v["part"])
        *read, self.lacks = loads(v, case.behind)
        self.read = dict(zip(AXLES, read, strict=True))
        now = {axle: v[axle] + (self.read[axle] - v[axle]) * step.weighing for axle in AXLES}
        ahead = ahead_of_front(v, case.behind)
        self.columns = columns_of(case, sheet, v, **now)
        self.stand = Stand(
            sheet,
            case.meters(v["wheelbase"]),
            *(sunk(now[axle] - v[axle], case.full, sheet) for axle in AXLES),
            **{f"rise_{case.far}": risen(self.lacks * step.weighing, case.full, sheet)},
        )
        self.at = piece_place(case, case.meters(ahead))

    def drawn(self) -> tuple[Element, list[Handle]]:
        case, sheet, v = self.case, self.sheet, self.v
        held, handles = self._held()
        parts = [
            paper.load_grid(sheet, case.full, case.units.weight),
            *machine_parts(
                case, self.stand, self.at, pale=where(self._close(), lambda: 1.0, lambda: 0.0)
            ),
            *tape(case, sheet, v["overhang"], v["wheelbase"]),
            *self._columns(),
            *self._why(),
            *self._notes(),
            *held,
        ]
        return drawn(sheet, self.told["picture"], parts), handles

    def _close(self) -> Numeric:
        """Whether it is closer in than any loader, or any hitch, could hold it."""
        return self.case.meters(self.v["overhang"]) < (0.3 if self.case.behind else 0.6)

    def _held(self) -> tuple[list[Element], list[Handle]]:
        """The two rings: the weight above the piece, its overhang on the tape."""
        sheet, v = self.sheet, self.v
        name = f"{self.told['piece']} {self.told['weight']}"
        tip = above_piece(self.case, self.stand, self.at)
        x = tip[0]
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
        case, v = self.case, self.v
        parts = list[Element]()
        for axle in AXLES:
            one = self.columns[axle]
            bare = case.units.show_weight(v[axle])
            reading = where(self.step.done, lambda: "", partial(str, bare))
            tag = kept_tag(case, one, case.bare[axle], v, self.told[f"{axle}_said"])
            parts += [tag, *read_column(one, axle, self.told, self.step, reading)]
        return parts

    def _why(self) -> list[Element]:
        """The gain in two pieces: the piece, and what came over from the far axle."""
        sheet, v, told, label = self.sheet, self.v, self.told, entry("labels")
        case = self.case
        near, far = self.columns[case.near], self.columns[case.far]
        gone, lands = v[case.far] - self.read[case.far], v[case.near] + v["weight"]
        hatching = HATCHINGS[case.words]
        pieces = [
            hung_piece(near, v["weight"], self.step.explaining, hatching=hatching),
            moved_piece(far, near, gone, lands, self.step.explaining),
        ]
        weight = show_number(v["weight"], 0)
        name = weight if sheet.narrow or sheet.large else f"{told['piece']} {weight}"
        y = near.y(v[case.near]) + 0.9 * sheet.label
        less = told[f"{case.far}_less"]
        moved_from = label.text(f"from_{case.far}").format(weight=less)
        moved = moved_arrow(far, near, gone, lands, moved_from)
        lines = (
            f"{told['weight']} × {told['overhang']}",
            f"= {less} {case.units.weight} × {told['wheelbase']}",
        )
        x, anchor = (near.left - 6, "end") if case.behind else (near.right + 6, "start")
        why = [
            words(x, y, name, sheet.small + 1, anchor=anchor, bold=True, halo=True),
            element("g", moved, display=shown(abs(gone) >= 0.5)),
            paper.pivot(near.x, sheet.tape + 2),
        ]
        if not sheet.narrow:
            equal = moments(sheet, label.text(f"about_{case.near}"), lines)
            # Once an axle has left its scale, they are no longer equal.
            why.append(element("g", equal, display=shown(self.lacks >= 0)))
        return [
            element("g", pieces, display=shown(v["part"] > WEIGHED)),
            element("g", why, display=shown(self.step.explained)),
        ]

    def _notes(self) -> list[Element]:
        """Together, the lean that is larger than life, the marks of the tape."""
        sheet, ask = self.sheet, entry(self.case.words)
        middle = (self.columns["front"].x + self.columns["rear"].x) / 2
        low = sheet.height - 0.5 * sheet.body
        found = self._canceled() if self.case.behind else self._double()
        parts = [
            element(
                "g",
                together_words(sheet, middle, self.told["together"]),
                display=shown(self.step.done),
            ),
            element("g", found, display=shown(self.v[self.case.found])),
        ]
        if not sheet.narrow:
            close = paper.note(sheet, self.at[0], sheet.floor - 12, ask.text("on_paper"))
            parts += [
                paper.note(sheet, 6, low, ask.text("lean"), anchor="start"),
                element("g", close, display=shown(self._close() * self.step.free)),
            ]
        return parts

    def _double(self) -> list[Element]:
        """Where it counts double, on the tape."""
        sheet, text = self.sheet, entry("labels").text("double")
        x = sheet.x(self.case.meters(self.v["wheelbase"]))
        return [paper.note(sheet, x, sheet.tape + 15 + 2.3 * sheet.label, text)]

    def _canceled(self) -> list[Element]:
        """What the front reads when what hangs in front has been canceled, in its column."""
        one, sheet = self.columns["front"], self.sheet
        y = one.y(canceled_front(self.case, self.v))
        line = paper.stroke([(one.left, y), (one.right, y)], "center", 2)
        if sheet.narrow:
            return [line]
        told = entry("behind").text("canceled").format(**self.told).split("|")
        return [
            line,
            *(
                words(one.x, y - 6 - 1.1 * n * sheet.small, text, sheet.small)
                for n, text in enumerate(reversed(told))
            ),
        ]
