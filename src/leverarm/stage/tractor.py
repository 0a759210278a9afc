"""A piece goes on a tractor: say what each scale will do, weigh it, see why, move it.

It hangs ahead of the front axle or behind the rear axle.

The picture has two acts.  The first knows the bare machine, the piece and what the reader says,
and nothing that answers.  The second is made only once both changes are said.
"""

from collections.abc import Mapping

from leverarm import statics
from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage import sheet as paper
from leverarm.stage.act import FirstAct, SecondAct
from leverarm.stage.case import AXLES, FREE, HungCase, in_part, loads
from leverarm.stage.controls import (
    act_drawing,
    after_steps,
    axles_asked,
    control,
    entry,
    exact_line,
    load_table,
    more_of,
    moved_behind_more,
    steps_after_weighing,
)
from leverarm.stage.elements import Element
from leverarm.stage.hung import above_piece, machine_parts, piece_place
from leverarm.stage.on_scales import asked_columns, columns_of, drawn, tape, weight_arrow
from leverarm.stage.recorder import where
from leverarm.stage.recording import Drawing, Handle
from leverarm.stage.sheet import Paper
from leverarm.stage.stand import Stand
from leverarm.stage.weighed_picture import WeighedPicture, canceled_front, in_front


class Guess(FirstAct[HungCase]):
    """The first act as a drawing function: the bare machine, the piece dashed, two tags."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, units = self.case, self.case.units
        ask, bare = entry(case.words), case.bare
        weight, overhang = case.weight(case.piece.weight_kg), case.length(case.past_m)
        told = {
            "piece": case.piece.name,
            "weight": units.show_weight(weight),
            "overhang": units.show_length(overhang),
            "wheelbase": units.show_length(case.length(case.tractor.wheelbase_m)),
            "front_bare": units.show_weight(bare["front"]),
            "rear_bare": units.show_weight(bare["rear"]),
        }
        said, heard, controls = axles_asked(case, case.said, v, ask.text("say_hint"))
        live = ask.text("live_said").format(front_said=heard["front"], rear_said=heard["rear"])
        question, seen = (ask.text(key).format(**told) for key in ("say_question", "picture_said"))
        told["picture"] = f"{question} {seen} {live}"
        return act_drawing(
            case, lambda sheet: self._picture(sheet, v, said, told), question, controls, live
        )

    def _picture(
        self, sheet: Paper, v: Mapping[str, Numeric], said: dict[str, str], told: dict[str, str]
    ) -> tuple[Element, list[Handle]]:
        case, units = self.case, self.case.units
        sheet = case.on_paper(sheet)
        wheelbase, past = case.length(case.tractor.wheelbase_m), case.length(case.past_m)
        stand = Stand(sheet, case.tractor.wheelbase_m, 0.0, 0.0)
        at = piece_place(case, case.piece.ahead_m)
        weight, name = case.weight(case.piece.weight_kg), f"{told['piece']} {told['weight']}"
        columns = columns_of(case, sheet, {"wheelbase": wheelbase, **case.bare})
        parts: list[Element] = [
            paper.load_grid(sheet, case.full, units.weight),
            *machine_parts(case, stand, at, ghost=True),
            *weight_arrow(sheet, case.full, above_piece(case, stand, at), weight, name)[0],
            *tape(case, sheet, past, wheelbase),
        ]
        asked, handles = asked_columns(case, columns.values(), v, said)
        return drawn(sheet, told["picture"], [*parts, *asked]), handles


class Weighed(SecondAct[HungCase]):
    """The second act as a drawing function: the readings, why, and the piece in the hand."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, told = self.case, self._told(v)
        return act_drawing(
            case,
            lambda sheet: WeighedPicture(case, sheet, v, told).drawn(),
            self._question(v, told),
            self._controls(v, told),
            told["live"],
            below=[
                self._more(v),
                after_steps(case.words, told, v["part"], loads(v, case.behind)[2] < 0),
            ],
            latches={case.found: self._found(v) * (v["part"] >= FREE)},
        )

    def _found(self, v: Mapping[str, Numeric]) -> Numeric:
        """Whether it counts double in front; behind, whether it cancels what hangs in front."""
        if not self.case.behind:
            return abs(statics.amplification(v["overhang"], v["wheelbase"]) - 2) <= 0.012
        front, _, _ = loads(v, True)
        near_enough = 1.5 if self.case.system == "lb" else 0.7
        return abs(front - canceled_front(self.case, v)) <= near_enough

    def _told(self, v: Mapping[str, Numeric]) -> dict[str, str]:
        """Every number of the page in words, in the unit shown."""
        case, units = self.case, self.case.units
        front, rear, lacks = loads(v, case.behind)
        changes = {"front": front - v["front"], "rear": rear - v["rear"]}
        told = {
            "piece": case.piece.name,
            "weight": units.show_weight(v["weight"]),
            "overhang": units.show_length(v["overhang"]),
            "wheelbase": units.show_length(v["wheelbase"]),
            "together": units.show_weight(v["weight"], sign=True),
            "factor": show_number(statics.amplification(v["overhang"], v["wheelbase"]), 2),
            "factor_long": show_number(statics.amplification(v["overhang"], v["wheelbase"]), 3),
            "moment_bare": show_number(statics.moment(v["weight"], v["overhang"]), 0),
            "wheelbase_bare": show_number(v["wheelbase"], units.length_step[1]),
            "weight_bare": show_number(v["weight"], 0),
            "one": units.one_weight,
            "unit": units.weight,
            "far_first": show_number(v[case.far], 0),
        }
        held = show_number(statics.moment(v[case.far], v["wheelbase"]), 0)
        told["far_moment"] = f"{held} {units.moment}"
        told["moment"] = f"{told['moment_bare']} {units.moment}"
        for axle, now in (("front", front), ("rear", rear)):
            told[f"{axle}_more"] = show_number(changes[axle], 0)
            told[f"{axle}_less"] = show_number(abs(changes[axle]), 0)
            told[f"{axle}_change"] = units.show_weight(changes[axle], sign=True)
            told[f"{axle}_now"] = show_number(now, 0)
            told[f"{axle}_first"] = show_number(v[axle], 0)
            told[f"{axle}_way"] = f"{show_number(v[axle], 0)} → {show_number(now, 0)}"
            told[f"{axle}_said"] = show_number(v[f"{axle}_said"], 0, sign=True)
        if case.behind:
            told |= self._told_canceling(v)
        ask = entry(case.words)
        told["live"] = ask.text("live").format(**told)
        equal, ended = (ask.text(key).format(**told) for key in ("moments", "lifted_moments"))
        moments = where(lacks < 0, lambda: ended, lambda: equal)
        told["picture"] = f"{ask.text('picture').format(**told)} {moments} {told['live']}"
        return told

    def _told_canceling(self, v: Mapping[str, Numeric]) -> dict[str, str]:
        """What hangs in front, and what it adds there: that is to be canceled."""
        case, units = self.case, self.case.units
        front = in_front(case)
        gain = v["front"] - canceled_front(case, v)
        return {
            "in_front": front.name if front else entry("behind").text("nothing"),
            "front_gain": show_number(gain, 0),
            "front_gain_long": units.show_weight(gain),
        }

    def _question(self, v: Mapping[str, Numeric], told: dict[str, str]) -> str:
        ask, far = entry(self.case.words), self.case.far
        *now_read, lacks = loads(v, self.case.behind)
        level = abs(now_read[AXLES.index(far)] - v[far]) < 0.5

        def text(name: str) -> str:
            return ask.text(name).format(**told)

        def either(name: str) -> str:
            return where(level, lambda: text(f"{name}_level"), lambda: text(name))

        weighed, why = either("weigh_question"), either("why_question")
        now = in_part(v["part"], text("say_question"), weighed, why, text("try_question"))
        return where(lacks < 0, lambda: text("lifted_question"), lambda: now)

    def _controls(self, v: Mapping[str, Numeric], told: dict[str, str]) -> list[Element]:
        case, units, words_of = self.case, self.case.units, entry("controls")
        inputs = {one.name: one for one in case.inputs}

        names = {
            "weight": (units.weight, told["weight"]),
            "overhang": (units.length, told["overhang"]),
        }
        labels = {"weight": "weight", "overhang": "behind" if case.behind else "overhang"}
        moving = [
            control(inputs[name], words_of.text(labels[name]).format(piece=case.piece.name), *shown)
            for name, shown in names.items()
        ]
        hint = entry(case.words).text("why_hint").format(**told)
        read = dict(zip(AXLES, loads(v, case.behind), strict=False))
        changes = {axle: read[axle] - v[axle] for axle in AXLES}
        said = f"{told['front_said']}, {told['rear_said']}"
        return [exact_line(v, changes, said), *steps_after_weighing(v["part"], hint, moving)]

    def _more(self, v: Mapping[str, Numeric]) -> Element:
        case, units, name = self.case, self.case.units, "wheelbase"
        (one,) = (one for one in case.inputs if one.name == name)
        text, value = entry("controls").text(name), units.show_length(v[name])
        first = [control(one, text, units.length, value)]
        rest = moved_behind_more(case, v, first, "{axle}_before" if case.held else "{axle}")
        return more_of(v["part"], self._table(v), rest)

    def _table(self, v: Mapping[str, Numeric]) -> Element:
        front, rear, _ = loads(v, self.case.behind)
        factor = show_number(statics.amplification(v["overhang"], v["wheelbase"]), 3)
        rows = {"front": (v["front"], front), "rear": (v["rear"], rear)}
        name = entry("more").text("factor_behind" if self.case.behind else "factor")
        name = name.format(piece=self.case.piece.name)
        return load_table(rows, self.case.units.weight, (name, factor))
