"""The loader lifts what is in its bucket: say what each scale does, see, hear why, move the arms.

The first act knows the readings with the arms low and what the reader says, and nothing that
answers.  The second is made only once both changes are said.
"""

from collections.abc import Mapping

from leverarm import statics
from leverarm.numerals import Numeric
from leverarm.quantities import show_number, to_unit
from leverarm.stage.act import FirstAct, SecondAct
from leverarm.stage.arms_case import MOVING, ArmsCase, Places, arms_loads
from leverarm.stage.arms_picture import ArmsPicture, ArmsSeen
from leverarm.stage.case import AXLES, FREE, SECONDS, in_part
from leverarm.stage.controls import (
    act_drawing,
    after_steps,
    axles_asked,
    control,
    entry,
    exact_line,
    hidden_unless,
    load_table,
    more_of,
    moved_behind_more,
    push_button,
    read_aloud,
    steps_after_weighing,
)
from leverarm.stage.elements import Element, element
from leverarm.stage.recorder import where, within
from leverarm.stage.recording import Drawing, Handle
from leverarm.stage.sheet import Paper


def _low(case: ArmsCase, v: Mapping[str, Numeric]) -> tuple[Places, tuple[Numeric, Numeric]]:
    """Where the parts are with the arms low, and both readings then."""
    at = case.loader.places(*case.turn(case.heights[0]))
    front, rear, _ = arms_loads(case, v, at)
    return at, (front, rear)


def _told(case: ArmsCase, v: Mapping[str, Numeric], low_at: Places) -> dict[str, str]:
    """What is known before the arms rise."""
    units = case.units
    return {
        "load": units.show_weight(v["load"]),
        "wheelbase": units.show_length(case.length(case.tractor.wheelbase_m)),
        "overhang_low": units.show_length(to_unit(low_at["load"][0], "length", units.length)),
    }


class ArmsGuess(FirstAct[ArmsCase]):
    """The first act as a drawing function: arms low, their place when level dashed, two tags."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, ask, units = self.case, entry("arms"), self.case.units
        low_at, low = _low(case, case.start)
        told = _told(case, case.start, low_at)
        told |= {f"{axle}_low": units.show_weight(load) for axle, load in zip(AXLES, low)}
        tags, heard, controls = axles_asked(case, case.said, v, ask.text("say_hint"))
        live = ask.text("live_said").format(front_said=heard["front"], rear_said=heard["rear"])
        question, known = (ask.text(key).format(**told) for key in ("say_question", "picture_said"))
        told["picture"] = f"{question} {known} {live}"
        seen = ArmsSeen(low, low, low_at, low_at, case.turn(case.heights[0]))
        level_at = case.loader.places(1.0, 0.0)

        def picture(sheet: Paper) -> tuple[Element, list[Handle]]:
            return ArmsPicture(case, sheet, told, seen).asked(v, tags, level_at)

        return act_drawing(case, picture, question, controls, live)


class ArmsWeighed(SecondAct[ArmsCase]):
    """The second act as a drawing function: the arms rise, why, and the arms in the hand."""

    def _seen(self, v: Mapping[str, Numeric]) -> ArmsSeen:
        """Where everything is, and what the scales read."""
        case, part = self.case, v["part"]
        low_m, level_m, _ = case.heights
        height = where(
            part >= FREE,
            lambda: case.meters(v["height"]),
            lambda: low_m + (level_m - low_m) * within(part, 0, 1),
        )
        turn = case.turn(height)
        low_at, low = _low(case, v)
        arc = case.loader.places(*turn)
        # A hoist lifts straight up: as high as the arms would, as far out as it hung low.
        at = {name: (x + (low_at[name][0] - x) * v["hoist"], y) for name, (x, y) in arc.items()}
        front, rear, lacks = arms_loads(case, v, at)
        return ArmsSeen(low, (front, rear), low_at, at, turn, lacks)

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, seen, part = self.case, self._seen(v), v["part"]
        told = self._tell(v, seen)
        return act_drawing(
            case,
            lambda sheet: ArmsPicture(case, sheet, told, seen).weighed(v),
            self._question(v, seen, told),
            self._controls(v, seen, told),
            told["live"],
            below=[self._more(v, seen), after_steps("arms", told, part)],
        )

    def _tell(self, v: Mapping[str, Numeric], seen: ArmsSeen) -> dict[str, str]:
        """Every number of the page in words, in the unit shown."""
        units = self.case.units
        told = _told(self.case, v, seen.low_at)
        for axle, low, now in zip(AXLES, seen.low, seen.now, strict=True):
            told[f"{axle}_more"] = show_number(now - low, 0)
            told[f"{axle}_less"] = show_number(abs(now - low), 0)
            told[f"{axle}_change"] = units.show_weight(now - low, sign=True)
            told[f"{axle}_way"] = f"{show_number(low, 0)} → {show_number(now, 0)}"
            told[f"{axle}_said"] = show_number(v[f"{axle}_said"], 0, sign=True)
        total = sum(seen.now)
        told |= {
            "unit": units.weight,
            "overhang": self._length(seen.at["load"][0]),
            "height": self._length(seen.at["pin"][1]),
            "together": units.show_weight(total - sum(seen.low), sign=True),
            "share": show_number(statics.share(seen.now[1], total), 0),
            "moment": f"{show_number(self._moved(v, seen), 0)} {units.moment}",
            **self._numbers(v),
        }
        return told | read_aloud("arms", told)

    def _length(self, m: Numeric) -> str:
        units = self.case.units
        return units.show_length(to_unit(m, "length", units.length))

    def _moved(self, v: Mapping[str, Numeric], seen: ArmsSeen) -> Numeric:
        """By how much the moment about the front axle has grown since the arms were low."""
        case = self.case
        return sum(
            statics.moment(
                case.weight_of(name, v),
                to_unit(seen.at[name][0] - seen.low_at[name][0], "length", case.units.length),
            )
            for name in MOVING
        )

    def _numbers(self, v: Mapping[str, Numeric]) -> dict[str, str]:
        """The worked numbers: from low to level, and the load at which the formula ends."""
        case, units, L = self.case, self.case.units, self.case.tractor.wheelbase_m
        low, level = _low(case, v)[0], case.loader.places(1.0, 0.0)
        farther = level["pin"][0] - low["pin"][0]
        carried = case.weight_of("bucket", v) + v["load"]
        moved = -statics.rear_change(carried, farther, L)
        arms = -statics.rear_change(case.weight_of("arms", v), level["arms"][0] - low["arms"][0], L)
        _, empty, lacks = arms_loads(case, {**v, "load": 0.0}, level)
        overhang, places = level["load"][0], units.length_step[1]

        def bare(m: float) -> str:
            return show_number(to_unit(m, "length", units.length), places)

        return {
            "farther": self._length(farther),
            "farther_bare": bare(farther),
            "carried": units.show_weight(carried),
            "carried_bare": show_number(carried, 0),
            "carried_moved": show_number(moved, 0),
            "arms_moved": show_number(arms, 0),
            "moved": units.show_weight(moved + arms),
            "wheelbase_bare": bare(L),
            "rear_empty_bare": show_number(empty + lacks, 0),
            "level_bare": bare(overhang),
            "limit": units.show_weight(statics.lifting_weight(empty, overhang, L)),
        }

    def _question(self, v: Mapping[str, Numeric], seen: ArmsSeen, told: Mapping[str, str]) -> str:
        names = "rising", "weigh_question", "why_question", "try_question", "lifted_question"
        *texts, lifted = (entry("arms").text(name).format(**told) for name in names)
        now = in_part(v["part"], *texts)
        return where(seen.lacks < 0, lambda: lifted, lambda: now)

    def _controls(
        self, v: Mapping[str, Numeric], seen: ArmsSeen, told: Mapping[str, str]
    ) -> list[Element]:
        case, units, ask = self.case, self.case.units, entry("arms")
        inputs = {one.name: one for one in case.inputs}
        moving = [
            control(inputs["height"], ask.text("height"), units.length, told["height"]),
            control(inputs["load"], ask.text("load"), units.weight, told["load"]),
        ]
        for name, goal, there in (("hoist", 1, v["hoist"] < 0.5), ("arc", 0, v["hoist"] >= 0.5)):
            moving.append(
                push_button(
                    ask.text(name),
                    hidden=hidden_unless(there),
                    plays="hoist",
                    goal=str(goal),
                    seconds=f"{SECONDS:g}",
                    tell=name,
                )
            )
        moving.append(element("p", ask.text("share").format(**told), class_="st-hint"))
        changes = {axle: seen.now[n] - seen.low[n] for n, axle in enumerate(AXLES)}
        said = f"{told['front_said']}, {told['rear_said']}"
        steps = steps_after_weighing(v["part"], ask.text("why_hint"), moving)
        return [exact_line(v, changes, said), *steps]

    def _more(self, v: Mapping[str, Numeric], seen: ArmsSeen) -> Element:
        rows = {axle: (seen.low[n], seen.now[n]) for n, axle in enumerate(AXLES)}
        rest = moved_behind_more(self.case, v)
        return more_of(v["part"], load_table(rows, self.case.units.weight), rest)
