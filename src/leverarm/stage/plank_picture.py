"""One size of the plank's picture: dashed and asked about, and weighed, explained, in the hand."""

from collections.abc import Mapping
from functools import partial

from leverarm.numerals import Numeric
from leverarm.stage import plank_outline as outline
from leverarm.stage import sheet as paper
from leverarm.stage.case import Progress
from leverarm.stage.controls import entry
from leverarm.stage.elements import Element, element
from leverarm.stage.on_scales import (
    asked_tag,
    drawn,
    grip_parts,
    hung_piece,
    moments,
    moved_arrow,
    moved_piece,
    named_where_it_fits,
    read_column,
    together_words,
    weight_arrow,
)
from leverarm.stage.plank_case import SIDES, PlankCase, known_name, plank_loads, said_name
from leverarm.stage.recorder import least, most, where, within
from leverarm.stage.recording import Handle
from leverarm.stage.sheet import LoadColumn, Paper, shown, words
from leverarm.stage.stand import Stand, sunk


def plank_columns(
    case: PlankCase, sheet: Paper, v: Mapping[str, Numeric], **now: Numeric
) -> dict[str, LoadColumn]:
    """Both columns; ``now`` tells what they read now where that differs from the bare plank."""
    x = {"left": sheet.x(0.0), "right": sheet.x(-case.meters(v["span"]))}
    return {
        side: LoadColumn(sheet, x[side], axle, case.full, v[side], now.get(side, v[side]))
        for side, axle in SIDES.items()
    }


def plank_tape(case: PlankCase, sheet: Paper, v: Mapping[str, Numeric]) -> list[Element]:
    """The tape from jug to pipe to pipe, whatever their order: both arms between the pipes."""
    past, span = v["past"], v["span"]
    marks = most(past, 0.0), within(past, -span, 0.0), least(past, -span)
    lines = [
        paper.stroke([(x, sheet.floor - 30), (x, sheet.tape + 8)], "center", 1)
        for x in (sheet.x(case.meters(mark)) for mark in marks)
    ]
    first = _length_on_tape(case, sheet, marks[:2], past <= -span, -1)
    second = _length_on_tape(case, sheet, marks[1:], past >= 0, 1)
    return [*lines, first, second]


def _length_on_tape(
    case: PlankCase, sheet: Paper, ends: tuple[Numeric, Numeric], whole: Numeric, way: int
) -> Element:
    """One dimension: an arm, or from pipe to pipe where ``whole``; way -1 is the left one."""
    begin, end = (sheet.x(case.meters(mark)) for mark in ends)
    text = case.units.show_length(ends[0] - ends[1])
    arm_room: Numeric = paper.room_for(sheet, case.units.long_length)
    # An arm too short for its words has them beside it, clear of the ring.
    aside = (begin if way < 0 else end) + way * (15 + arm_room / 2)
    short = end - begin < arm_room + 30
    middle = where(short, lambda: aside, lambda: (begin + end) / 2)
    name, room = text, arm_room
    if not sheet.narrow:
        texts = text, entry("labels").text("span")
        name, room = named_where_it_fits(sheet, case.units, (begin, end), texts, whole)
    line = paper.dimension(sheet, begin, end, name, room, middle)
    return element("g", line, display=shown(end - begin > 1))


class PlankPicture:
    """One size of the picture once the jug is on.

    v       span, left, right, weight, past in the unit shown
    told    numbers in words;  step  how far the act has come
    easy    True leaves out the moments
    """

    def __init__(
        self,
        case: PlankCase,
        sheet: Paper,
        v: Mapping[str, Numeric],
        told: Mapping[str, str],
        step: Progress,
        *,
        easy: bool = False,
    ) -> None:
        self.case, self.v, self.told, self.step, self.easy = case, v, told, step, easy
        self.sheet = sheet = case.on_paper(sheet)
        self.loads = plank_loads(v)
        now = {
            side: v[side] + (getattr(self.loads, side) - v[side]) * step.weighing for side in SIDES
        }
        self.columns = plank_columns(case, sheet, v, **now)
        sinks = (sunk(now[side] - v[side], case.full, sheet) for side in SIDES)
        self.stand = Stand(sheet, case.meters(v["span"]), *sinks)
        self.x = sheet.x(case.meters(v["past"]))

    def drawn(self, said: Mapping[str, Numeric], old: Numeric) -> tuple[Element, list[Handle]]:
        """The picture and its handles.

        said    side to the change that was said;  old  whether the numbers are others by now
        """
        case, sheet, stand = self.case, self.sheet, self.stand
        arrow, tail = weight_arrow(
            sheet,
            case.full,
            outline.above_jug(stand, self.x),
            self.v["weight"],
            f"{self.told['piece']} {self.told['weight']}",
        )
        grips = [((self.x, tail), "weight", True), ((self.x, sheet.tape), "past", False)]
        rings = [ring for at, name, way in grips for ring in grip_parts(at, name, upright=way)]
        parts = [
            paper.load_grid(sheet, case.full, case.units.weight),
            outline.scales_under_plank(stand),
            element(
                "g",
                element(
                    "g",
                    outline.jug(stand, self.x),
                    data_hold="past",
                    class_="st-hold",
                    pointer_events=paper.held(self.step.free),
                ),
                outline.plank_parts(stand),
                outline.sandbag(stand),
                transform=stand.lean,
            ),
            *plank_tape(case, sheet, self.v),
            *self._columns(said, old),
            *self._why(),
            *self._notes(),
            *arrow,
            element("g", rings, display=shown(self.step.free)),
        ]
        handles = [Handle(name, sheet.name, at) for at, name, _ in grips]
        return drawn(sheet, self.told["live"], parts), handles

    def _columns(self, said: Mapping[str, Numeric], old: Numeric) -> list[Element]:
        label, units, start = entry("labels"), self.case.units, self.case.bare
        parts = []
        for side in SIDES:
            one, bare = self.columns[side], units.show_weight(self.v[side])
            reading = where(self.step.done, lambda: "", partial(str, bare))
            load = within(start[side] + said[side], 0, 1.1 * self.case.full)
            you_said, text = label.text("you_said"), units.digits(said[side], sign=True)
            parts += [
                paper.tag(one, load, you_said, text, old=old),
                *read_column(one, side, self.told, self.step, reading),
            ]
        return parts

    def _why(self) -> list[Element]:
        """What of the jug each scale carries, and what came over from the other."""
        on, step, v, told = self.loads, self.step, self.v, self.told
        left, right = self.columns["left"], self.columns["right"]
        lands_left, lands_right = v["left"] + on.jug_left, v["right"] + on.jug_right
        pieces = [
            hung_piece(left, on.jug_left, step.explaining),
            hung_piece(right, on.jug_right, step.explaining),
            moved_piece(right, left, on.gone_right, lands_left, step.explaining),
            moved_piece(left, right, on.gone_left, lands_right, step.explaining),
        ]
        label, size = entry("labels"), self.sheet.small + 1
        least_shown = self.case.units.weight_step[0] / 2

        def name(one: LoadColumn, side: str, load: Numeric) -> Element:
            edge, anchor = (one.right + 6, "start") if side == "left" else (one.left - 6, "end")
            y, text = one.y(v[side]) + 0.9 * size, told[f"{side}_jug"]
            if not self.sheet.narrow:
                text = f"{told['piece']} {text}"
            line = words(edge, y, text, size, anchor=anchor, bold=True, halo=True)
            return element("g", line, display=shown(load >= least_shown))

        def moved(source: str, gone: Numeric, lands: Numeric) -> Element:
            one, other = (left, right) if source == "left" else (right, left)
            text = label.text(f"from_{source}").format(weight=told[f"{source}_less"])
            arrow = moved_arrow(one, other, gone, lands, text)
            return element("g", arrow, display=shown(gone >= least_shown))

        why = [
            name(left, "left", on.jug_left),
            name(right, "right", on.jug_right),
            moved("right", on.gone_right, lands_left),
            moved("left", on.gone_left, lands_right),
        ]
        return [
            element("g", pieces, display=shown(step.explaining > 0)),
            element("g", why, display=shown(step.explained)),
            *([] if self.easy else [element("g", self._moments(), display=shown(step.explained))]),
        ]

    def _moments(self) -> list[Element]:
        """The pivot, the left pipe until the jug is past the right one, and both moments."""
        sheet, told, units, v = self.sheet, self.told, self.case.units, self.v
        left, right, on = self.columns["left"], self.columns["right"], self.loads
        beyond = v["past"] < -v["span"]
        parts = [paper.pivot(where(beyond, lambda: right.x, lambda: left.x), sheet.tape + 2)]
        if sheet.narrow:
            return parts
        label = entry("labels")
        about = where(beyond, lambda: label.text("about_right"), lambda: label.text("about_left"))
        arm = where(beyond, lambda: -v["past"] - v["span"], lambda: abs(v["past"]))
        far = where(beyond, lambda: on.left - v["left"], lambda: on.right - v["right"])
        lines = (
            f"{told['weight']} × {units.show_length(arm)}",
            f"= {units.show_weight(abs(far))} × {told['span']}",
        )
        lifted = most(on.lifted_left, on.lifted_right)
        moment = moments(sheet, about, lines)
        return [*parts, element("g", moment, display=shown(lifted < 1))]

    def _notes(self) -> list[Element]:
        sheet = self.sheet
        middle = (self.columns["left"].x + self.columns["right"].x) / 2
        words_of = together_words(sheet, middle, self.told["together"])
        parts = [element("g", words_of, display=shown(self.step.done))]
        if not sheet.narrow:
            low = sheet.height - 0.5 * sheet.body
            parts.append(paper.note(sheet, 6, low, entry("tractor").text("lean"), anchor="start"))
        return parts


def asked_picture(
    case: PlankCase, sheet: Paper, place: str, v: Mapping[str, Numeric], told: Mapping[str, str]
) -> tuple[Element, list[Handle]]:
    """One size of the picture before the lock: the jug dashed, two tags, nothing that answers."""
    label, sheet = entry("labels"), case.on_paper(sheet)
    bare = {**case.bare, "past": case.past_at(place)}
    stand, x = Stand(sheet, case.span_m, 0.0, 0.0), sheet.x(case.meters(bare["past"]))
    tip, name = outline.above_jug(stand, x), f"{told['piece']} {told['weight']}"
    parts: list[Element] = [
        paper.load_grid(sheet, case.full, case.units.weight),
        outline.scales_under_plank(stand),
        outline.jug(stand, x, there=False),
        outline.plank_parts(stand),
        outline.sandbag(stand),
        *weight_arrow(sheet, case.full, tip, bare["weight"], name)[0],
        *plank_tape(case, sheet, bare),
    ]
    handles = []
    for side, one in plank_columns(case, sheet, bare).items():
        moves, known = said_name(place, side), v[known_name(place, side)]
        tag, handle = asked_tag(one, moves, v[moves], known, told[f"{side}_tag"])
        parts += [paper.column(one, label.text(side), case.units.show_weight(one.now)), *tag]
        handles.append(handle)
    return drawn(sheet, told["picture"], parts), handles
