"""A bucket goes on a tractor: say what each scale will do, weigh it, see why, move it.

The picture has two acts.  The first knows the bare machine, the bucket and what the reader says,
and nothing that answers.  The second is made only once both changes are said.
"""

from collections.abc import Mapping
from functools import partial

from leverarm import statics
from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_outline as machine
from leverarm.stage.case import AXLES, EXPLAINED, FREE, WEIGHED, HungCase, loads
from leverarm.stage.controls import (
    after_steps,
    control,
    entry,
    load_table,
    more_of,
    push_button,
    stage_page,
    steps_after_weighing,
    until,
)
from leverarm.stage.elements import Element, element
from leverarm.stage.on_scales import columns_of, drawn, grip_parts, tag_grip, tape, weight_arrow
from leverarm.stage.recorder import least, most, where, within
from leverarm.stage.recording import Drawing, Handle
from leverarm.stage.sheet import Paper
from leverarm.stage.stand import Stand
from leverarm.stage.weighed_picture import WeighedPicture


class Guess:
    """The first act as a drawing function: the bare machine, the bucket dashed, two tags."""

    def __init__(self, case: HungCase) -> None:
        self.case = case

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, units = self.case, self.case.units
        ask, label = entry("tractor"), entry("labels")
        weight, overhang = case.weight(case.piece.weight_kg), case.length(case.piece.ahead_m)
        told = {
            "piece": case.piece.name,
            "weight": units.show_weight(weight),
            "overhang": units.show_length(overhang),
            "wheelbase": units.show_length(case.length(case.tractor.wheelbase_m)),
            "front_bare": units.show_weight(case.weight(case.tractor.front_kg)),
            "rear_bare": units.show_weight(case.weight(case.tractor.rear_kg)),
        }
        said, heard = {}, {}
        for axle in AXLES:
            number = show_number(v[f"{axle}_said"], 0, sign=True)
            known = v[f"{axle}_known"]
            said[axle] = where(known, partial(str, number), partial(label.text, "drag"))
            heard[axle] = where(known, partial(str, number), partial(label.text, "unsaid"))
        live = ask.text("live_said").format(front_said=heard["front"], rear_said=heard["rear"])
        bare = (ask.text(key).format(**told) for key in ("say_question", "picture_said"))
        told["picture"] = " ".join((*bare, live))
        pictures, handles = [], []
        for one in case.sheets:
            picture, held = self._picture(one, v, said, told)
            pictures.append(picture)
            handles += held
        question = element("p", ask.text("say_question").format(**told), class_="st-question")
        large = case.sheets[0] is paper.PROJECTOR
        page = stage_page(question, pictures, self._controls(v, heard), live, large=large)
        return Drawing(page, tuple(handles))

    def _controls(self, v: Mapping[str, Numeric], heard: dict[str, str]) -> list[Element]:
        words_of, unit = entry("controls"), self.case.units.weight
        both = v["front_known"] * v["rear_known"]
        boxes = [
            control(
                one,
                words_of.text(one.name),
                unit,
                heard[axle],
                kind=f"{axle}-words",
                known=f"{axle}_known",
            )
            for axle, one in zip(AXLES, self.case.said, strict=True)
        ]
        lock = push_button(
            words_of.text("lock_in"),
            bold=True,
            enter="1",
            checks="1",
            tell="locked",
            open="next",
            disabled=where(both, lambda: "", lambda: "disabled"),
        )
        return [*boxes, lock, element("p", entry("tractor").text("say_hint"), class_="st-hint")]

    def _picture(
        self, sheet: Paper, v: Mapping[str, Numeric], said: dict[str, str], told: dict[str, str]
    ) -> tuple[Element, list[Handle]]:
        case, units = self.case, self.case.units
        label = entry("labels")
        tractor = case.tractor
        stand = Stand(sheet, tractor.wheelbase_m, 0.0, 0.0)
        at = (sheet.x(case.piece.ahead_m), stand.ground - machine.BUCKET_HEIGHT_M * sheet.per_m)
        weight, name = case.weight(case.piece.weight_kg), f"{told['piece']} {told['weight']}"
        columns = columns_of(
            case,
            sheet,
            {
                "wheelbase": case.length(tractor.wheelbase_m),
                "front": case.weight(tractor.front_kg),
                "rear": case.weight(tractor.rear_kg),
            },
        )
        parts: list[Element] = [
            paper.load_grid(sheet, case.full, units.weight),
            machine.platforms(stand),
            machine.loader_part(stand, at, 0.0),
            machine.tractor_parts(stand),
            machine.bucket_part(stand, at, "ghost"),
            *weight_arrow(sheet, case.full, machine.above_bucket(stand, at), weight, name)[0],
            *tape(case, sheet, case.length(case.piece.ahead_m), case.length(tractor.wheelbase_m)),
        ]
        handles = []
        for axle in AXLES:
            one = columns[axle]
            load = within(one.before + v[f"{axle}_said"], 0, case.full * 1.1)
            grip = tag_grip(one, load)
            parts += [
                paper.column(one, label.text(axle), units.show_weight(one.now)),
                paper.outline(one, least(one.before, load), most(one.before, load), "ghost"),
                paper.tag(one, load, label.text("you_say"), said[axle], old=1 - v[f"{axle}_known"]),
                *grip_parts(grip, f"{axle}_said", upright=True),
            ]
            handles.append(Handle(f"{axle}_said", sheet.name, grip))
        return drawn(sheet, told["picture"], parts), handles


class Weighed:
    """The second act as a drawing function: the readings, why, and the bucket in the hand."""

    def __init__(self, case: HungCase) -> None:
        self.case = case

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        told = self._told(v)
        pictures, handles = [], []
        for one in self.case.sheets:
            picture, held = WeighedPicture(self.case, one, v, told).drawn()
            pictures.append(picture)
            handles += held
        found = abs(statics.amplification(v["overhang"], v["wheelbase"]) - 2) <= 0.012
        steps = {"explained": EXPLAINED, "free": FREE}
        hidden = {name: until(v["part"], at) for name, at in steps.items()}
        page = stage_page(
            self._question(v, told),
            pictures,
            self._controls(v, told),
            told["live"],
            below=[more_of(self._more(v)), after_steps("tractor", told, hidden)],
            large=self.case.sheets[0] is paper.PROJECTOR,
        )
        return Drawing(page, tuple(handles), {"doubled": found * (v["part"] >= FREE)})

    def _told(self, v: Mapping[str, Numeric]) -> dict[str, str]:
        """Every number of the page in words, in the unit shown."""
        case, units = self.case, self.case.units
        front, rear, _ = loads(v)
        gain, loss = front - v["front"], rear - v["rear"]
        told = {
            "piece": case.piece.name,
            "weight": units.show_weight(v["weight"]),
            "overhang": units.show_length(v["overhang"]),
            "wheelbase": units.show_length(v["wheelbase"]),
            "front_more": show_number(gain, 0),
            "rear_less": show_number(abs(loss), 0),
            "front_change": units.show_weight(gain, sign=True),
            "rear_change": units.show_weight(loss, sign=True),
            "together": units.show_weight(v["weight"], sign=True),
            "factor": show_number(statics.amplification(v["overhang"], v["wheelbase"]), 2),
            "factor_long": show_number(statics.amplification(v["overhang"], v["wheelbase"]), 3),
            "moment_bare": show_number(statics.moment(v["weight"], v["overhang"]), 0),
            "wheelbase_bare": show_number(v["wheelbase"], units.length_step[1]),
            "weight_bare": show_number(v["weight"], 0),
            "one": units.one_weight,
            "unit": units.weight,
        }
        told["moment"] = f"{told['moment_bare']} {units.moment}"
        for axle, now in (("front", front), ("rear", rear)):
            told[f"{axle}_now"] = show_number(now, 0)
            told[f"{axle}_way"] = f"{show_number(v[axle], 0)} → {show_number(now, 0)}"
            told[f"{axle}_said"] = show_number(v[f"{axle}_said"], 0, sign=True)
        told["live"] = entry("tractor").text("live").format(**told)
        told["picture"] = f"{entry('tractor').text('picture').format(**told)} {told['live']}"
        return told

    def _question(self, v: Mapping[str, Numeric], told: dict[str, str]) -> Element:
        ask = entry("tractor")
        _, rear, lifted = loads(v)
        level = abs(rear - v["rear"]) < 0.5

        def text(name: str) -> str:
            return ask.text(name).format(**told)

        def either(name: str) -> str:
            return where(level, lambda: text(f"{name}_level"), lambda: text(name))

        now = where(
            v["part"] < WEIGHED,
            lambda: text("say_question"),
            lambda: where(
                v["part"] < EXPLAINED,
                lambda: either("weigh_question"),
                lambda: where(
                    v["part"] < FREE, lambda: either("why_question"), lambda: text("try_question")
                ),
            ),
        )
        return element(
            "p", where(lifted, lambda: text("lifted_question"), lambda: now), class_="st-question"
        )

    def _controls(self, v: Mapping[str, Numeric], told: dict[str, str]) -> list[Element]:
        case, units, words_of = self.case, self.case.units, entry("controls")
        inputs = {one.name: one for one in case.inputs}

        names = {
            "weight": (units.weight, told["weight"]),
            "overhang": (units.length, told["overhang"]),
        }
        moving = [
            control(inputs[name], words_of.text(name).format(piece=case.piece.name), *shown)
            for name, shown in names.items()
        ]
        hint = entry("tractor").text("why_hint").format(**told)
        return steps_after_weighing(v["part"], hint, moving)

    def _more(self, v: Mapping[str, Numeric]) -> list[Element]:
        case, units, words_of = self.case, self.case.units, entry("controls")
        inputs = {one.name: one for one in case.inputs}
        start = {name: inputs[name].start for name in ("weight", "overhang", "wheelbase", *AXLES)}
        rest = [
            control(
                inputs[name],
                words_of.text(name),
                units.length if name == "wheelbase" else units.weight,
                units.show_length(v[name]) if name == "wheelbase" else units.show_weight(v[name]),
            )
            for name in ("wheelbase", *AXLES)
        ]
        rest.append(push_button(words_of.text("back"), sets=start))
        return [
            element("div", rest, class_="st-part st-grid", hidden=until(v["part"], FREE)),
            element(
                "div",
                self._table(v),
                class_="st-part",
                hidden=until(v["part"], WEIGHED),
            ),
        ]

    def _table(self, v: Mapping[str, Numeric]) -> Element:
        front, rear, _ = loads(v)
        factor = show_number(statics.amplification(v["overhang"], v["wheelbase"]), 3)
        rows = {
            "front": (v["front"], front),
            "rear": (v["rear"], rear),
            "together": (v["front"] + v["rear"], front + rear),
        }
        name = entry("more").text("factor").format(piece=self.case.piece.name)
        return load_table(rows, self.case.units.weight, (name, factor))
