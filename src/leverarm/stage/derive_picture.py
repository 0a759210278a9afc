"""The picture of two pivots: the tractor cut free, four arrows, and each arm from the pivot."""

from collections.abc import Mapping
from functools import partial

from leverarm.numerals import Numeric
from leverarm.outline import BUCKET_HEIGHT_M
from leverarm.stage import tractor_outline as machine
from leverarm.stage.board_case import LAYOUTS
from leverarm.stage.board_picture import arrow_parts, measured
from leverarm.stage.case import Progress
from leverarm.stage.controls import entry
from leverarm.stage.derive_case import PivotCase, Turning, at_an_axle
from leverarm.stage.elements import Element, element
from leverarm.stage.on_scales import drawn, grip_parts
from leverarm.stage.recorder import where
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import Paper, box, note, pivot, shown, stroke, words
from leverarm.stage.stand import Stand

# Where the tractor's center of gravity is drawn, meters up; its place along comes from the scales.
_HIGH_M = 0.70


class PivotPicture:
    """One size of the picture; ``layout`` gives its lines."""

    def __init__(self, case: PivotCase, sheet: Paper) -> None:
        self.case, self.layout = case, LAYOUTS[sheet.name]
        self.sheet = self.layout.paper
        self.stand = Stand(self.sheet, case.tractor.wheelbase_m, 0.0, 0.0)
        tractor = case.tractor
        share = tractor.rear_kg / (tractor.front_kg + tractor.rear_kg)
        self.hung = case.piece.ahead_m, BUCKET_HEIGHT_M
        self.points: dict[str, tuple[Numeric, Numeric]] = {
            "W": self.stand.place(self.hung),
            "T": self.stand.at(share, 0.0, _HIGH_M),
            "F": self.stand.at(0.0, 0.0, 0.0),
            "R": self.stand.at(1.0, 0.0, 0.0),
        }

    def cut_free(self) -> list[Element]:
        """The tractor with its piece, above the paper."""
        sheet, layout, hung = self.sheet, self.layout, self.hung
        return [
            box(0, layout.below, sheet.width, sheet.height - layout.below, "paper"),
            machine.loader_part(self.stand, hung, 0.0),
            machine.tractor_parts(self.stand),
            machine.bucket_part(self.stand, hung),
        ]

    def given(self, overhang: str, wheelbase: str) -> list[Element]:
        """The two lengths that are told, and the pivot's line."""
        layout, sheet = self.layout, self.sheet
        hung, front, rear = (self.points[letter][0] for letter in "WFR")
        y = layout.given
        parts = [
            *measured(hung, front, y),
            *measured(front, rear, y),
            self._label((hung + front) / 2, y, overhang),
            self._label((front + rear) / 2, y, wheelbase),
            stroke([(hung - 20, layout.rail), (rear + 20, layout.rail)], "ink", 1.4),
            *(
                stroke([(x, layout.below - 6), (x, layout.rail)], "center", 1)
                for x in (hung, front, rear)
            ),
        ]
        if not sheet.narrow:
            told = entry("derive")
            parts += [
                note(sheet, 6, y + 4, told.text("given"), anchor="start"),
                note(sheet, 6, layout.rail + 4, told.text("pivot_row"), anchor="start"),
            ]
        return parts

    def _label(self, x: Numeric, y: float, text: str) -> Element:
        size = self.sheet.label
        wide = 3.6 * size
        return element(
            "g",
            box(x - wide / 2, y - 0.7 * size, wide, 1.4 * size, "paper"),
            words(x, y + 0.35 * size, text, size, bold=True),
        )

    def asked(self, name: str, overhang: str, wheelbase: str) -> tuple[Element, list[Handle]]:
        """The picture of the question: the pivot at the front axle, and where it would go."""
        layout, front, rear = self.layout, self.points["F"][0], self.points["R"][0]
        y = layout.rail + 34
        there = pivot(rear, layout.rail)
        dashed = element("polygon", class_="st-area-ghost", points=dict(there.attributes)["points"])
        arrow = [stroke([(front, y), (rear, y)], "ghost", 1.8), *measured(rear - 1, rear, y)[2:]]
        parts = [
            *self.cut_free(),
            *self.given(overhang, wheelbase),
            pivot(front, layout.rail),
            dashed,
            *arrow,
        ]
        return drawn(self.sheet, name, parts), []

    def turned(
        self, v: Mapping[str, Numeric], told: dict[str, str]
    ) -> tuple[Element, list[Handle]]:
        """The picture of the answer: four arrows, their arms, and the equation."""
        layout, sheet = self.layout, self.sheet
        step = Progress.of(v["part"])
        x = sheet.x(-self.case.meters(v["pivot"]))
        grip = (x, layout.rail - 2)
        arrows = [
            part
            for letter, (px, py) in self.points.items()
            for part in arrow_parts(
                px,
                py,
                float(letter in "WT"),
                letter,
                {"F": "front", "R": "rear"}.get(letter, "ink"),
                layout,
            )
        ]
        parts = [
            *self.cut_free(),
            *self.given(told["overhang"], told["wheelbase"]),
            stroke([(x, layout.rail), (x, self._row(3) + 10)], "center", 1),
            pivot(x, layout.rail),
            *arrows,
            *self._arms(x, v, told),
            element("g", self._equation(told), display=shown(step.done)),
            element("g", grip_parts(grip, "pivot", upright=False), display=shown(step.free)),
        ]
        return drawn(sheet, f"{told['picture']} {told['live']}", parts), [
            Handle("pivot", sheet.name, grip)
        ]

    def _row(self, k: int) -> float:
        return self.layout.rows + k * self.layout.pitch

    def _arms(self, x: Numeric, v: Mapping[str, Numeric], told: dict[str, str]) -> list[Element]:
        """A line for each arm, its force and length at the right; none through the pivot."""
        layout, sheet, say = self.layout, self.sheet, entry("derive")
        right = self.points["R"][0] + 0.55 * sheet.per_m if not sheet.narrow else sheet.width - 92
        turning = Turning.about(self.case, v)
        near = 0.5 * self.case.units.length_step[0]
        hung = say.text("hung_narrow" if sheet.narrow else "hung")
        texts = {
            "W": hung.format(**told, arm=told["arm_W"]),
            "T": "T" if sheet.narrow else say.text("tractor").format(moment=told["tractor_moment"]),
        }
        parts: list[Element] = []
        for k, (letter, (at, _)) in enumerate(self.points.items()):
            y = self._row(k)
            away: Numeric = abs(at - x) > 1
            text = texts.get(letter, "")
            if letter in ("F", "R"):
                away = turning.arms[letter] > near
                with_arm = say.text("with_arm").format(letter=letter, arm=told[f"arm_{letter}"])
                none = say.text("no_arm").format(letter=letter)
                text = where(away, partial(str, with_arm), partial(str, none))
            lines = [stroke([(at, layout.rail), (at, y)], "dots", 1), *measured(x, at, y)]
            side = where(at < x, lambda: -1.0, lambda: 1.0)
            name = words(
                at + side * 10, y + 0.35 * sheet.label, letter, sheet.label, bold=True, halo=True
            )
            parts += [
                element("g", lines, name, display=shown(away)),
                words(right, y + 0.35 * sheet.label, text, sheet.label, anchor="start"),
            ]
        return parts

    def _equation(self, told: dict[str, str]) -> list[Element]:
        """The equation about the pivot, and what it gives with the forces."""
        sheet = self.sheet
        size = sheet.small if sheet.narrow else sheet.body
        y = self._row(4) + 0.3 * size
        left = 6 if sheet.narrow else 0.09 * sheet.width
        return [
            words(left, y, told["equation"], size, anchor="start", bold=True, halo=True),
            words(left, y + 1.35 * size, told["so"], size, anchor="start", halo=True),
        ]


def equation_words(
    case: PivotCase, v: Mapping[str, Numeric], told: dict[str, str]
) -> dict[str, str]:
    """The equation about the pivot in words, and what follows from it."""
    say = entry("derive")

    def text(name: str) -> str:
        return say.text(name).format(**told)

    lifted = Turning.about(case, v).lifted
    equation = at_an_axle(case, v, *map(text, ("about_front", "about_rear", "between")))
    so = at_an_axle(case, v, *map(text, ("so_front", "so_rear", "so_between")))
    return {
        "equation": where(lifted, lambda: say.text("lifted"), lambda: equation),
        "so": where(lifted, lambda: "", lambda: so),
    }
