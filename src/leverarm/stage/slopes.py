"""On a grade: say what each scale does and what the rear brakes need, see, hear why, move it.

The first act knows the readings on level ground and the grade, and nothing that answers.  The
second is made only once everything asked is said.
"""

from collections.abc import Mapping
from functools import partial
from types import MappingProxyType

from leverarm.numerals import Numeric
from leverarm.quantities import show_number, to_unit
from leverarm.stability import FRICTION, SLOPE_CAUTIONS
from leverarm.stability.formulas import tipping_tangent
from leverarm.stage.act import FirstAct, SecondAct
from leverarm.stage.case import AXLES, FREE, in_part
from leverarm.stage.controls import (
    act_drawing,
    after_steps,
    axles_asked,
    choice_of,
    control,
    entry,
    exact_line,
    load_table,
    more_of,
    moved_behind_more,
    one_of_three,
    read_aloud,
    said_words,
    steps_after_weighing,
)
from leverarm.stage.elements import Element, element
from leverarm.stage.recorder import where, within
from leverarm.stage.recording import Drawing, Handle
from leverarm.stage.sheet import Paper
from leverarm.stage.slopes_case import NO_GROUND, OnGrade, SlopeCase
from leverarm.stage.slopes_picture import SlopePicture

# What rear brakes alone may need, compared with all four.
BRAKES = MappingProxyType({"more": 1.0, "same": 0.0, "less": -1.0})
# Frictions nearer than this are called the same.
_SAME = 0.005


def _brakes_words(value: Numeric) -> str:
    """A choice about the brakes in words, by its value."""
    return one_of_three(value, *(entry("slopes").text(f"brakes_{way}") for way in BRAKES))


def _grade_words(percent: Numeric) -> str:
    """A grade with the way the nose points."""
    text, size = entry("slopes").text, show_number(abs(percent), 0)
    down, up = (partial(str, text(f"nose_{way}").format(grade=size)) for way in ("down", "up"))
    return where(percent > 0, down, lambda: where(percent < 0, up, lambda: text("level")))


def _told(case: SlopeCase, load: Numeric) -> dict[str, str]:
    """What is known before the ground turns."""
    units = case.units
    return {
        "load": units.show_weight(load),
        "wheelbase": units.show_length(case.length(case.tractor.wheelbase_m)),
        "asked_grade": show_number(case.grade, 0),
    }


def _cautions() -> Element:
    """What stands under the picture whatever is shown."""
    items = [element("li", line) for line in SLOPE_CAUTIONS]
    text = element("span", entry("slopes").text("on_paper"))
    return element("div", text, element("ul", items), class_="st-after st-caution")


class SlopesGuess(FirstAct[SlopeCase]):
    """The first act as a drawing function: level ground, the grade dashed, two tags, a choice."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, ask, units = self.case, entry("slopes"), self.case.units
        low_m, start = case.heights[0], case.start
        level = case.on_grade(start, low_m, 0.0)
        told = _told(case, start["load"]) | {"grade": _grade_words(0.0)}
        told |= {
            f"{axle}_level": units.show_weight(one)
            for axle, one in zip(AXLES, level.now, strict=True)
        }
        known, way = v["brakes_known"], _brakes_words(v["brakes_said"])
        brakes = choice_of(
            "brakes",
            ask.text("brakes_box"),
            {value: ask.text(f"brakes_{name}") for name, value in BRAKES.items()},
            v["brakes_said"],
            known,
        )
        hint = ask.text("say_hint")
        tags, heard, controls = axles_asked(case, case.said, v, hint, [brakes], known)
        heard["brakes"] = said_words(known, way)[1]
        live = ask.text("live_said").format(**{f"{name}_said": one for name, one in heard.items()})
        question, before = (
            ask.text(key).format(**told) for key in ("say_question", "picture_said")
        )
        told["picture"] = f"{question} {before} {live}"
        at = case.loader.places(*case.turn(low_m))
        dashed = case.on_grade(start, low_m, case.grade / 100)

        def picture(sheet: Paper) -> tuple[Element, list[Handle]]:
            grade = SlopePicture(case, sheet, told, dashed)
            return SlopePicture(case, sheet, told, level).asked(v, tags, at, grade)

        return act_drawing(case, picture, question, controls, live, below=[_cautions()])


class SlopesWeighed(SecondAct[SlopeCase]):
    """The second act as a drawing function: the ground turns, why, and the grade in the hand."""

    def _height(self, v: Mapping[str, Numeric]) -> Numeric:
        return within(self.case.meters(v["height"]), self.case.heights[0], self.case.highest_m)

    def on_grade(self, v: Mapping[str, Numeric]) -> OnGrade:
        """Where everything is, and what the scales read."""
        case, part = self.case, v["part"]
        grade = where(part >= FREE, lambda: v["grade"], lambda: case.grade * within(part, 0, 1))
        return case.on_grade(v, self._height(v), grade / 100, v["slowing"])

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, seen, part = self.case, self.on_grade(v), v["part"]
        told, turn = self._tell(v, seen), self.case.turn(self._height(v))
        at, lifted = case.loader.places(*turn), sum(seen.lacks) < 0
        return act_drawing(
            case,
            lambda sheet: SlopePicture(case, sheet, told, seen).weighed(v, at, turn),
            self._question(v, seen, told),
            self._controls(v, seen, told),
            told["live"],
            below=[
                self._more(v, seen, told),
                after_steps("slopes", told, part, lifted),
                _cautions(),
            ],
        )

    def _tell(self, v: Mapping[str, Numeric], seen: OnGrade) -> dict[str, str]:
        """Every number of the page in words, in the unit shown."""
        case, units, ask = self.case, self.case.units, entry("slopes")
        told = _told(case, v["load"])
        for axle, level, now in zip(AXLES, seen.level, seen.now, strict=True):
            told[f"{axle}_change"] = units.show_weight(now - level, sign=True)
            told[f"{axle}_way"] = f"{show_number(level, 0)} → {show_number(now, 0)}"
            told[f"{axle}_said"] = show_number(v[f"{axle}_said"], 0, sign=True)
        part = v["part"]
        told |= {
            "grade": _grade_words(
                where(part >= FREE, lambda: v["grade"], lambda: case.grade * within(part, 0, 1))
            ),
            "height": units.show_length(to_unit(self._height(v), "length", units.length)),
            "together": units.show_weight(sum(seen.now) - sum(seen.level), sign=True),
            "brakes_said": _brakes_words(v["brakes_said"]),
            "all_need": show_number(seen.all_need, 2),
            "rear_need": self._need(seen.rear_need),
            "push": units.show_weight(seen.push),
            "moved": units.show_weight(abs(seen.moved)),
            "grounds": ", ".join(f"{name} {mu:.2f}" for name, mu in FRICTION.items()),
            "about": ask.text("about"),
            **self._numbers(),
        }
        # One digit more than other lengths have, so that the products come out.
        high = show_number(to_unit(seen.height, "length", units.length), units.length_step[1] + 1)
        told["pull_moment"] = f"{told['push']} × {high} {units.length}"
        told["needs"] = ask.text("needs").format(**told)
        return told | read_aloud("slopes", told)

    @staticmethod
    def _need(friction: Numeric) -> str:
        none = entry("slopes").text("no_ground")
        return where(friction < NO_GROUND, lambda: show_number(friction, 2), lambda: none)

    def _numbers(self) -> dict[str, str]:
        """The numbers of the explanation: as first shown, whatever is moved later."""
        case, units, one = self.case, self.case.units, self.case.at_start
        places = units.length_step[1]
        high = show_number(to_unit(one.height, "length", units.length), places + 1)

        def bare(m: float) -> str:
            return show_number(to_unit(m, "length", units.length), places)

        front, rear = (now - level for now, level in zip(one.now, one.level, strict=True))
        end = tipping_tangent(-one.ahead, one.height)
        return {
            "unit": units.weight,
            "unit_name": units.one_weight,
            "front_more": units.show_weight(abs(front)),
            "rear_less": units.show_weight(abs(rear)),
            "lighter": units.show_weight(abs(front + rear)),
            "c": show_number(one.c, 3),
            "s": show_number(one.s, 3),
            "t": show_number(case.grade / 100, 2),
            "total_bare": show_number(one.total, 0),
            "pull": units.show_weight(one.push),
            "pull_bare": show_number(one.push, 0),
            "high": f"{high} {units.length}",
            "high_bare": high,
            "wheelbase_bare": bare(case.tractor.wheelbase_m),
            "first_moved": units.show_weight(one.moved),
            "rear_level_bare": show_number(one.level[1], 0),
            "rear_first": units.show_weight(one.now[1]),
            "rear_bare": show_number(one.now[1], 0),
            "pressing_bare": show_number(sum(one.now), 0),
            "first_rear_need": self._need(one.rear_need),
            "first_all_need": show_number(one.all_need, 2),
            "end": show_number(100 * end, 0),
        }

    def _question(self, v: Mapping[str, Numeric], seen: OnGrade, told: Mapping[str, str]) -> str:
        names = "turning", "weigh_question", "why_question", "try_question"
        texts = (entry("slopes").text(name).format(**told) for name in names)
        now = in_part(v["part"], *texts)
        for axle, lacks in zip(AXLES, seen.lacks, strict=True):
            leaves = entry("slopes").text(f"{axle}_lifted").format(**told)
            now = where(lacks < 0, partial(str, leaves), partial(str, now))
        return now

    def _controls(
        self, v: Mapping[str, Numeric], seen: OnGrade, told: Mapping[str, str]
    ) -> list[Element]:
        case, units, ask = self.case, self.case.units, entry("slopes")
        inputs = {one.name: one for one in case.inputs}
        moving = [
            control(inputs["grade"], ask.text("grade"), "%", told["grade"]),
            control(inputs["load"], ask.text("load"), units.weight, told["load"]),
            # In large type the third finds its place behind More.
            *([] if case.large else [self._height_control(told)]),
            element("p", told["needs"], class_="st-hint"),
        ]
        more = seen.rear_need - seen.all_need
        way = where(
            more > _SAME, lambda: 1.0, lambda: where(more < -_SAME, lambda: -1.0, lambda: 0.0)
        )
        changes = {axle: seen.now[n] - seen.level[n] for n, axle in enumerate(AXLES)}
        said = f"{told['front_said']}, {told['rear_said']}, {told['brakes_said']}"
        hint = ask.text("why_hint").format(**told)
        steps = steps_after_weighing(v["part"], hint, moving)
        return [exact_line(v, {**changes, "brakes": way}, said), *steps]

    def _height_control(self, told: Mapping[str, str]) -> Element:
        (one,) = (one for one in self.case.inputs if one.name == "height")
        return control(one, entry("slopes").text("height"), self.case.units.length, told["height"])

    def _more(self, v: Mapping[str, Numeric], seen: OnGrade, told: Mapping[str, str]) -> Element:
        (slowing,) = (one for one in self.case.inputs if one.name == "slowing")
        text, value = entry("slopes").text("slowing"), show_number(v["slowing"], 2)
        first = [control(slowing, text, "", value)]
        first += [self._height_control(told)] if self.case.large else []
        rows = {axle: (seen.level[n], seen.now[n]) for n, axle in enumerate(AXLES)}
        rest = moved_behind_more(self.case, v, first)
        return more_of(v["part"], load_table(rows, self.case.units.weight), rest)
