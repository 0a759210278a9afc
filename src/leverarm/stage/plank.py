"""A jug goes on a plank: say what each scale will do, weigh it, see why, move it.

The acts in order: two easy places asked about (:class:`PlankGuess`), both read
(:class:`EasyPlaces`); the jug past the left pipe asked about (:class:`PlankGuess` again), weighed,
explained and free to move (:class:`PlankWeighed`).  Each act is a drawing function with the
inputs it moves.  What asks knows the bare plank, the jug and what the reader says, and nothing
that answers.
"""

from collections.abc import Mapping
from functools import partial

from leverarm import statics
from leverarm.numerals import Numeric
from leverarm.stage.case import SECONDS, WEIGHED, Progress, in_part
from leverarm.stage.controls import (
    act_drawing,
    after_steps,
    control,
    entry,
    hidden_unless,
    load_table,
    more_of,
    push_button,
    question_controls,
    said_words,
    steps_after_weighing,
    until,
)
from leverarm.stage.elements import Element
from leverarm.stage.plank_case import SIDES, PlankCase, known_name, plank_loads, said_name
from leverarm.stage.plank_picture import PlankPicture, asked_picture
from leverarm.stage.recorder import most, where, within
from leverarm.stage.recording import Drawing, Handle, Input
from leverarm.stage.sheet import Paper

EASY = ("above", "halfway")


class PlankGuess:
    """The question about one place: the jug dashed, two tags.

    place   "above" the left pipe, "halfway" between the pipes, or "past" the left pipe
    """

    def __init__(self, case: PlankCase, place: str = "past") -> None:
        self.case, self.place = case, place

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves: both changes, and whether each was said; halfway keeps the first answer."""
        known = tuple(Input(known_name(self.place, side), 0, 1, 0) for side in SIDES)
        before = self.case.said("above") if self.place == "halfway" else ()
        return (*self.case.said(self.place), *known, *before)

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, ask = self.case, entry("plank")
        bare = case.bare
        told = {
            "piece": ask.text("jug"),
            "weight": case.units.show_weight(bare["weight"]),
            "past": case.units.show_length(bare["past"]),
        }
        told["question"] = ask.text(f"say_{self.place}").format(**told)
        told["from_left"] = case.units.show_length(abs(case.past_at(self.place)))
        told["span"] = case.units.show_length(bare["span"])
        told |= {f"{side}_bare": case.units.show_weight(bare[side]) for side in SIDES}
        for side in SIDES:
            number = case.units.digits(v[said_name(self.place, side)], sign=True)
            words = said_words(v[known_name(self.place, side)], number)
            told[f"{side}_tag"], told[f"{side}_said"] = words
        shows, live = (ask.text(key).format(**told) for key in ("picture_said", "live_said"))
        told["picture"] = f"{told['question']} {shows} {live}"
        return act_drawing(
            case,
            lambda sheet: asked_picture(case, sheet, self.place, v, told),
            told["question"],
            self._controls(v, told),
            live,
        )

    def _controls(self, v: Mapping[str, Numeric], told: Mapping[str, str]) -> list[Element]:
        words_of, unit = entry("controls"), self.case.units.weight
        both = v[known_name(self.place, "left")] * v[known_name(self.place, "right")]
        boxes = [
            control(
                one,
                words_of.text(f"{side}_said"),
                unit,
                told[f"{side}_said"],
                kind=f"{axle}-words",
                known=known_name(self.place, side),
            )
            for one, (side, axle) in zip(self.case.said(self.place), SIDES.items(), strict=True)
        ]
        halfway = self.place == "halfway"
        hint = entry("plank").text("halfway_hint") if halfway else entry("tractor").text("say_hint")
        return question_controls(boxes, both, hint)


def told_of(case: PlankCase, v: Mapping[str, Numeric]) -> dict[str, str]:
    """Every number of the page in words, in the unit shown."""
    units, on = case.units, plank_loads(v)
    told = {
        "piece": entry("plank").text("jug"),
        "weight": units.show_weight(v["weight"]),
        "past": units.show_length(abs(v["past"])),
        "span": units.show_length(v["span"]),
        "together": units.show_weight(v["weight"], sign=True),
        "moment": f"{units.digits(statics.moment(v['weight'], abs(v['past'])))} {units.moment}",
        "left_jug": units.digits(on.jug_left),
        "right_jug": units.digits(on.jug_right),
    }
    for side in SIDES:
        before, now = v[side], getattr(on, side)
        told[f"{side}_change"] = units.show_weight(now - before, sign=True)
        told[f"{side}_way"] = f"{units.digits(before)} → {units.digits(now)}"
        told[f"{side}_more"] = units.digits(abs(now - before))
        told[f"{side}_less"] = units.show_weight(abs(now - before))
    told["live"] = entry("plank").text("live").format(**told)
    return told


class EasyPlaces:
    """Both easy places read, one after the other: part 1 above the left pipe, part 2 halfway."""

    def __init__(self, case: PlankCase) -> None:
        self.case = case

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What was said of both places, and how far the reading has come."""
        said = (one for place in EASY for one in self.case.said(place))
        return (*said, Input("part", 0, 2, 0, 0.001, 3))

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, part = self.case, v["part"]
        now = {**case.bare, "past": within(part - 1, 0, 1) * case.past_at("halfway")}
        there = most(part == WEIGHED, part >= 2)
        told = told_of(case, now)
        asked, read = self._asked(part, told), told["live"]
        told["live"] = where(there, lambda: read, lambda: asked)
        said = {
            side: where(
                part > WEIGHED,
                partial(v.get, said_name("halfway", side)),
                partial(v.get, said_name("above", side)),
            )
            for side in SIDES
        }
        step = Progress(within(part, 0, 1), there, there, there, 0.0)

        def picture(sheet: Paper) -> tuple[Element, list[Handle]]:
            # Nothing is taken hold of here.
            return PlankPicture(case, sheet, now, told, step, easy=True).drawn(said, 0.0)[0], []

        return act_drawing(case, picture, asked, self._controls(part), told["live"])

    def _asked(self, part: Numeric, told: Mapping[str, str]) -> str:
        def text(name: str) -> str:
            return entry("plank").text(name).format(**told)

        at_second = where(part < 2, lambda: text("moves"), lambda: text("halfway"))
        at_first = where(part < WEIGHED, lambda: text("sets_down"), lambda: text("above"))
        return where(part > WEIGHED, lambda: at_second, lambda: at_first)

    def _controls(self, part: Numeric) -> list[Element]:
        words_of = entry("controls")
        return [
            push_button(
                words_of.text("halfway"),
                bold=True,
                hidden=until(part, WEIGHED, 2),
                plays="part",
                goal="2",
                seconds=f"{SECONDS:g}",
                tell="halfway",
            ),
            push_button(
                words_of.text("next_question"),
                bold=True,
                hidden=until(part, 2),
                tell="easy_read",
                open="next",
            ),
        ]


class PlankWeighed:
    """The jug past the left pipe: felt, weighed, explained, free to move."""

    def __init__(self, case: PlankCase) -> None:
        self.case = case

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What moves."""
        return self.case.inputs

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, told, part = self.case, told_of(self.case, v), v["part"]
        asked, read = self._asked(v, told), told["live"]
        told["live"] = where(part < WEIGHED, lambda: asked, lambda: read)
        said = {side: v[said_name("past", side)] for side in SIDES}
        moved = sum((abs(v[name] - start) for name, start in case.bare.items()), 0.0) > 0
        step = Progress.of(part)
        return act_drawing(
            case,
            lambda sheet: PlankPicture(case, sheet, v, told, step).drawn(said, moved),
            asked,
            self._controls(v, told),
            told["live"],
            below=[self._more(v), after_steps("plank", self._told_first(), part)],
        )

    def _told_first(self) -> dict[str, str]:
        """The numbers of the place that was asked about, which the text below keeps."""
        case, bare = self.case, self.case.bare
        half = plank_loads(bare).gone_right / 2
        return {**told_of(case, bare), "goal": case.units.show_weight(half)}

    def _asked(self, v: Mapping[str, Numeric], told: Mapping[str, str]) -> str:
        on, part = plank_loads(v), v["part"]
        level = on.gone_right < self.case.units.weight_step[0] / 2

        def text(name: str) -> str:
            return entry("plank").text(name).format(**told)

        def either(name: str) -> str:
            return where(level, lambda: text(f"{name}_level"), lambda: text(name))

        tried = where(
            on.lifted_left,
            lambda: text("lifted_left"),
            lambda: where(on.lifted_right, lambda: text("lifted_right"), lambda: text("try")),
        )
        return in_part(part, text("feel"), either("weighed"), either("why"), tried)

    def _controls(self, v: Mapping[str, Numeric], told: Mapping[str, str]) -> list[Element]:
        units, words_of, part = self.case.units, entry("controls"), v["part"]
        inputs = {one.name: one for one in self.case.inputs}
        place = entry("plank").text("place").format(past=units.show_length(v["past"]))
        moving = [
            control(
                inputs["weight"],
                words_of.text("weight").format(piece=told["piece"]),
                units.weight,
                told["weight"],
            ),
            control(inputs["past"], words_of.text("past"), units.length, place),
        ]
        weigh = push_button(
            words_of.text("weigh"),
            bold=True,
            hidden=hidden_unless(part <= 0),
            plays="part",
            goal=f"{WEIGHED:g}",
            seconds=f"{SECONDS:g}",
            tell="weighed",
        )
        hint = entry("plank").text("why_hint").format(**told)
        return [weigh, *steps_after_weighing(part, hint, moving)]

    def _more(self, v: Mapping[str, Numeric]) -> Element:
        units, words_of, on = self.case.units, entry("controls"), plank_loads(v)
        inputs = {one.name: one for one in self.case.inputs}
        rest = [
            control(
                inputs["span"], words_of.text("span"), units.length, units.show_length(v["span"])
            )
        ]
        rest += [
            control(inputs[side], words_of.text(side), units.weight, units.show_weight(v[side]))
            for side in SIDES
        ]
        rest.append(push_button(words_of.text("back"), sets=self.case.bare))
        rows = {"left": (v["left"], on.left), "right": (v["right"], on.right)}
        return more_of(v["part"], load_table(rows, units.weight), rest)
