"""Lesson 03 on the stage: which way does the answer go about the other pivot, and why not.

PivotGuess asks; the board (:mod:`leverarm.stage.board`) stands between; PivotTurned answers.
"""

from collections.abc import Mapping

from leverarm.numerals import Numeric
from leverarm.stage.act import FirstAct, SecondAct
from leverarm.stage.board_case import chosen_words
from leverarm.stage.case import once_weighed
from leverarm.stage.controls import (
    act_drawing,
    after_steps,
    choice_of,
    control,
    entry,
    question_controls,
    steps_after_weighing,
)
from leverarm.stage.derive_case import SAID, PivotCase, Turning, turning_told
from leverarm.stage.derive_picture import PivotPicture, equation_words
from leverarm.stage.elements import Element
from leverarm.stage.recorder import where
from leverarm.stage.recording import Drawing


class PivotGuess(FirstAct[PivotCase]):
    """The first act: about the rear axle instead, will F grow, shrink or stay?"""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, say = self.case, entry("derive")
        known = v["answer_known"]
        fixed = case.fixed
        told = {
            "piece": case.piece.name,
            "weight": case.units.show_weight(case.weight(case.piece.weight_kg)),
            "overhang": case.units.show_length(fixed["overhang"]),
            "wheelbase": case.units.show_length(fixed["wheelbase"]),
        }
        said = where(known, lambda: said_word(v), lambda: say.text("unsaid"))
        ways = {value: say.text(way) for way, value in SAID.items()}
        live = say.text("live_asked").format(said=said)
        name = f"{say.text('picture_asked').format(**told)} {live}"
        pick = choice_of("answer", say.text("answer"), ways, v["answer_said"], known)
        return act_drawing(
            case,
            lambda sheet: PivotPicture(case, sheet).asked(
                name, told["overhang"], told["wheelbase"]
            ),
            say.text("question"),
            question_controls([pick], known, say.text("hint")),
            live,
        )


def said_word(v: Mapping[str, Numeric]) -> str:
    """What was said of the answer, in a word."""
    say = entry("derive")
    return chosen_words(v["answer_said"] + 1, [say.text(way) for way in SAID])


class PivotTurned(SecondAct[PivotCase]):
    """The last act: both pivots give one answer, why, and the pivot in the hand."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, say = self.case, entry("derive")
        told = {**turning_told(case, v), "said": said_word(v)}
        told |= equation_words(case, v, told)
        told |= {name: say.text(name).format(**told) for name in ("live", "picture")}
        return act_drawing(
            case,
            lambda sheet: PivotPicture(case, sheet).turned(v, told),
            self._question(v, told),
            self._controls(v, told),
            told["live"],
            below=[after_steps("derive", told, v["part"])],
        )

    def _question(self, v: Mapping[str, Numeric], told: dict[str, str]) -> str:
        say = entry("derive")

        def text(name: str) -> str:
            return say.text(name).format(**told)

        names = "weigh_question", "why_question", "try_question"
        now = once_weighed(v["part"], *map(text, names))
        lifted = Turning.about(self.case, v).lifted
        return where(lifted, lambda: text("lifted_question"), lambda: now)

    def _controls(self, v: Mapping[str, Numeric], told: dict[str, str]) -> list[Element]:
        case, say = self.case, entry("derive")
        inputs = {one.name: one for one in case.inputs}
        weight = entry("controls").text("weight").format(piece=case.piece.name)
        moving = [
            control(inputs["pivot"], say.text("pivot"), case.units.length, told["pivot"]),
            control(inputs["weight"], weight, case.units.weight, told["weight"]),
        ]
        return steps_after_weighing(v["part"], say.text("why_hint"), moving)
