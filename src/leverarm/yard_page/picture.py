"""The pictures of the yard page: the machine between its boxes, its columns, and why.

The stage's own pieces, on sheets of a phone.  Front is left on every one of them.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from leverarm.numerals import Numeric
from leverarm.outline import BUCKET_HEIGHT_M
from leverarm.quantities import show_number
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_above as above
from leverarm.stage import tractor_outline as outline
from leverarm.stage.case import AXLES
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element, px
from leverarm.stage.on_scales import (
    drawn,
    gain_and_loss,
    hung_piece,
    moved_arrow,
    moved_piece,
    together_words,
)
from leverarm.stage.recorder import least, most, where
from leverarm.stage.sheet import PHONE, LoadColumn, Paper, full_load, shown, words
from leverarm.stage.stand import Stand

# The machine stands between boxes at these places; it is a sketch, and its columns hang under them.
_SKETCH_M, _FRONT_X, _PER_M = 1.65, 128.0, 76.0
WIDE = 358
ABOVE = replace(
    PHONE, name="above", width=WIDE, height=142, near_x=_FRONT_X, per_m=_PER_M, floor=140
)
_BELOW = replace(
    PHONE,
    name="below",
    width=WIDE,
    height=150,
    near_x=_FRONT_X,
    per_m=_PER_M,
    floor=2,
    top=18,
    reach=74,
    column=84,
    small=13,
    label=14,
    body=15,
    change=22,
)
_SIDE = replace(
    PHONE,
    name="side",
    width=WIDE,
    height=300,
    near_x=150,
    per_m=60,
    floor=124,
    tape=130,
    top=146,
    reach=96,
    column=70,
    small=13,
    label=14,
    body=13,
    change=24,
)


@dataclass(frozen=True)
class Seen:
    """What the pictures show, weights in the unit shown.

    on, off         {axle: reading}
    weight, gone    of the piece; what the rear gained
    ahead_m, wheelbase_m
    rear_known, all_known   1 where the rear was read; where weight and overhang are known
    bucket          1 where the bucket came off, 0 for more of the loader
    texts           words made for it: changes, ways, the pieces of the why
    """

    unit: str
    on: Mapping[str, Numeric]
    off: Mapping[str, Numeric]
    weight: Numeric
    gone: Numeric
    ahead_m: Numeric
    wheelbase_m: Numeric
    rear_known: Numeric
    all_known: Numeric
    bucket: Numeric
    texts: Mapping[str, str]

    @property
    def full(self) -> Numeric:
        """The load a whole column stands for."""
        return full_load(most(*self.on.values(), *self.off.values()))


def above_boxes(bucket: Numeric, name: str, *, on: bool) -> Element:
    """The machine on its pads, to stand between the boxes that its readings are typed in."""
    at = above.Above(ABOVE, _SKETCH_M, above.USUAL_TRACK_M, ABOVE.height / 2)
    loader = above.loader_above(at, above.BUCKET_AHEAD_M)
    hung = above.bucket_above(at, above.BUCKET_AHEAD_M, ghost=not on)
    parts = [
        above.pads(at),
        element("g", loader, display=shown(bucket) if not on else None),
        above.tractor_above(at),
        hung,
    ]
    return drawn(ABOVE, name, parts)


def columns_below(
    seen: Seen, name: str, now: Mapping[str, Numeric], known: Mapping[str, Numeric]
) -> Element:
    """Each axle's column under its own boxes while they are filled."""
    full = seen.full
    apart = {"front": 0.0, "rear": -_SKETCH_M}
    parts = [paper.box(0, _BELOW.floor, _BELOW.width, _BELOW.height - _BELOW.floor, "paper")]
    for axle in AXLES:
        one = LoadColumn(_BELOW, _BELOW.x(apart[axle]), axle, full, seen.on[axle], now[axle])
        parts.append(
            element("g", _one_below(seen, one, now is seen.on), display=shown(known[axle]))
        )
    middle = (_BELOW.x(0.0) + _BELOW.x(-_SKETCH_M)) / 2
    both = known["front"] * known["rear"]
    together = together_words(_BELOW, middle, show_number(now["front"] + now["rear"], 0))
    parts.append(element("g", together, display=shown(both if now is seen.on else 0.0)))
    return drawn(_BELOW, name, parts)


def _one_below(seen: Seen, one: LoadColumn, first: bool) -> list[Element]:
    label = entry("labels").text(one.axle)
    if first:
        low = one.end + 1.2 * _BELOW.body
        reading = f"{show_number(one.now, 0)} {seen.unit}"
        return [*gain_and_loss(one, label, "", 0.0), words(one.x, low, reading, 16, bold=True)]
    return [
        *gain_and_loss(one, label, "", 0.0),
        paper.change_words(one, seen.texts[f"{one.axle}_change"], seen.texts[f"{one.axle}_way"]),
    ]


class SidePicture:
    """The machine from the side on its two scales, its columns below the floor."""

    def __init__(self, seen: Seen, name: str) -> None:
        self.seen, self.name = seen, name
        wide = seen.wheelbase_m + 1.9
        self.sheet: Paper = replace(_SIDE, per_m=least(60.0, 330 / wide))
        self.stand = Stand(self.sheet, seen.wheelbase_m, 0.0, 0.0)

    def came_off(self) -> Element:
        """The piece dashed where it was; what went off the front, and onto the rear."""
        return self._drawn(self.seen.on, self.seen.off, "ghost", [])

    def why(self) -> Element:
        """The piece on: the front's gain is the piece, and what came over from the rear."""
        seen, sheet = self.seen, self.sheet
        front, rear = self._columns(seen.off, seen.on).values()
        lands = seen.off["front"] + seen.weight
        moved = moved_arrow(rear, front, seen.gone, lands, "")
        y = front.y(lands - seen.weight / 2)
        parts = [
            hung_piece(front, most(seen.weight, 0.0), 1.0),
            element(
                "g", moved_piece(rear, front, seen.gone, lands, 1.0), display=shown(seen.gone > 0)
            ),
            element("g", moved, display=shown(seen.gone > 0)),
            words(front.left - 5, y + 4, seen.texts["piece_weight"], 13, anchor="end", bold=True),
            element(
                "g",
                words(
                    rear.x, sheet.height - 24, seen.texts["from_rear"], 13, "rear-words", bold=True
                ),
                display=shown(seen.gone > 0),
            ),
            paper.pivot(front.x, sheet.tape),
        ]
        return self._drawn(seen.off, seen.on, "hung-bucket", parts)

    def _columns(
        self, before: Mapping[str, Numeric], now: Mapping[str, Numeric]
    ) -> dict[str, LoadColumn]:
        apart = {"front": 0.0, "rear": -self.seen.wheelbase_m}
        return {
            axle: LoadColumn(
                self.sheet, self.sheet.x(apart[axle]), axle, self.seen.full, before[axle], now[axle]
            )
            for axle in AXLES
        }

    def _drawn(
        self,
        before: Mapping[str, Numeric],
        now: Mapping[str, Numeric],
        kind: str,
        more: list[Element],
    ) -> Element:
        seen = self.seen
        columns = self._columns(before, now)
        parts = [*self._ground(), *self._machine(kind)]
        for axle, one in columns.items():
            known = 1.0 if axle == "front" else seen.rear_known
            column = gain_and_loss(one, entry("labels").text(axle), "", 1.0 if more else 0.0)
            if not more:
                told = seen.texts[f"{axle}_change"], seen.texts[f"{axle}_way"]
                column.append(paper.change_words(one, *told))
            else:
                reading = f"{show_number(now[axle], 0)} {seen.unit}"
                column.append(words(one.x, one.end + 18, reading, 15, bold=True, halo=True))
            parts.append(element("g", column, display=shown(known)))
        parts.append(
            element("g", self._not_told(columns["rear"]), display=shown(1 - seen.rear_known))
        )
        return drawn(_SIDE, self.name, [*parts, *more])

    def _ground(self) -> list[Element]:
        sheet, full = self.sheet, self.seen.full
        parts = [paper.box(0, sheet.floor, sheet.width, sheet.height - sheet.floor, "paper")]
        for part in range(5):
            y = sheet.top + part / 4 * sheet.reach
            text = show_number(full * part / 4, 0) + (f" {self.seen.unit}" if not part else "")
            parts += [
                paper.stroke([(0, y), (sheet.width, y)], "grid", 1),
                words(4, y - 3, text, sheet.small, "muted", anchor="start"),
            ]
        line = paper.stroke([(0, sheet.floor), (sheet.width, sheet.floor)], "floor", 2.2)
        return [*parts, line]

    def _machine(self, kind: str) -> list[Element]:
        seen, sheet = self.seen, self.sheet
        # What hangs farther ahead than the sheet reaches is drawn at its edge; not told, as usual.
        ahead = where(seen.all_known, lambda: seen.ahead_m, lambda: 1.15)
        at = least(most(ahead, 0.75), (sheet.near_x - 26.0) / sheet.per_m), BUCKET_HEIGHT_M
        whole = "ghost" if kind == "ghost" else "piece"
        return [
            outline.platforms(self.stand),
            element("g", outline.loader_part(self.stand, at, 0.0), display=shown(seen.bucket)),
            element(
                "g", outline.loader_part(self.stand, at, 0.0, whole), display=shown(1 - seen.bucket)
            ),
            outline.tractor_parts(self.stand),
            outline.bucket_part(self.stand, at, kind),
        ]

    def _not_told(self, one: LoadColumn) -> list[Element]:
        sheet, label = self.sheet, entry("labels")
        high = 0.55 * sheet.reach
        return [
            element(
                "rect",
                class_="st-area-ghost",
                x=px(one.left),
                y=px(sheet.top),
                width=px(sheet.column),
                height=px(high),
                stroke_width="1.6",
            ),
            words(one.x, sheet.top + 22, label.text("rear"), 14),
            words(one.x, sheet.top + 40, "not told", 14),
        ]
