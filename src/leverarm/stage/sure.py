"""Four readings give a weight: say how far off it is, weigh it again, see the band, narrow it.

The first act knows one weighing and what a reading is off by, and nothing that answers.  The
second holds the days, drawn by Python from a seed, and what makes the band narrower.
"""

from collections.abc import Mapping

from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.act import FirstAct, SecondAct
from leverarm.stage.case import FREE, SECONDS, WEIGHED, in_part
from leverarm.stage.controls import (
    act_drawing,
    after_steps,
    control,
    entry,
    hidden_unless,
    more_of,
    push_button,
    question_controls,
    said_words,
    steps_after_weighing,
    table_of,
    until,
)
from leverarm.stage.elements import Element, element
from leverarm.stage.recorder import first_so, least, where
from leverarm.stage.recording import Drawing, Handle
from leverarm.stage.sheet import Paper
from leverarm.stage.sure_case import DAYS, LEAST_DAYS, RESULTS, SureCase
from leverarm.stage.sure_picture import SurePicture, day_numbers, readings_told
from leverarm.uncertainty import raised_to_print
from leverarm.uncertainty.separate import K

# How many days one press of the longer button weighs.
_MORE_DAYS = 10


def _error(case: SureCase, u: Numeric) -> str:
    """How far off a reading typically is, with its unit."""
    return f"{show_number(u, case.error_step[1])} {case.units.weight}"


def _told(case: SureCase) -> dict[str, str]:
    """What is known before anything is said."""
    return {
        "piece": case.piece.name,
        "weight_read": case.show_one("weight", case.truth.value("weight")),
        "u": _error(case, case.u),
        **readings_told(case, [case.truth], 1.0),
    }


class SureGuess(FirstAct[SureCase]):
    """The first act as a drawing function: one weighing, and a dashed band to pull open."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, ask, told = self.case, entry("sure"), _told(self.case)
        known, said = v["off_known"], v["off_said"]
        question = ask.text("say_question").format(**told)
        shown, heard = said_words(known, f"± {_error(case, said)}")
        told["said"] = shown
        told["heard"] = ask.text("live_said").format(said=heard)
        live = told["heard"]

        def picture(sheet: Paper) -> tuple[Element, list[Handle]]:
            name = f"{question} {ask.text('picture_said').format(**told)}"
            return SurePicture(case, sheet, told).asked(name, said, known)

        label, unit = ask.text("off_said"), case.units.weight
        box = control(case.said[0], label, unit, heard, known="off_known")
        controls = question_controls([box], known, ask.text("say_hint"))
        return act_drawing(case, picture, question, controls, live)


class SureWeighed(SecondAct[SureCase]):
    """The second act as a drawing function: the days, the band, and what makes it narrower."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, told = self.case, self._told(v)
        return act_drawing(
            case,
            lambda sheet: SurePicture(case, sheet, told).weighed(v),
            self._question(v, told),
            self._controls(v, told),
            told["live"],
            below=[self._more(v, told), after_steps("sure", told, v["part"])],
        )

    def _told(self, v: Mapping[str, Numeric]) -> dict[str, str]:
        """Every number of the page in words, in the unit shown."""
        case, ask = self.case, entry("sure")
        told = {**_told(case), **day_numbers(case, v["days"])}
        told["said"] = f"± {_error(case, v['off_said'])}"
        exact = abs(v["off_said"] - case.u_at_first("weight")) < case.error_step[0] / 2
        told["reply"] = where(
            exact,
            lambda: ask.text("reply_exact").format(**told),
            lambda: ask.text("reply").format(**told),
        )
        told["u_now"] = _error(case, v["u"])
        told["u_tape"] = f"{show_number(v['u_tape'], case.tape_step[1])} {case.units.length}"
        told["repeats"] = show_number(v["repeats"], 0)
        for result in RESULTS:
            first = case.u_at_first(result)
            now = case.truth.u_of(result, v["u"], v["u_tape"], v["repeats"])
            places, unit = case.places(result), case.unit(result)
            told[f"first_{result}"] = case.show_plus_minus(result, first)
            tried = [(v["part"] >= FREE, case.show_plus_minus(result, now))]
            told[f"printed_{result}"] = first_so(tried, told[f"first_{result}"])
            told[f"day_{result}"] = told[f"one_{result}"]
            told[f"wide_{result}"] = (
                f"{show_number(raised_to_print(K * first, places), places)} {unit}"
            )
            told[f"u_{result}"] = f"{show_number(first, case.fine_places(result))} {unit}"
        told["live"] = self._live(v, told)
        told["picture"] = f"{ask.text('picture').format(**told)} {told['live']}"
        return told

    def _live(self, v: Mapping[str, Numeric], told: Mapping[str, str]) -> str:
        """What is read aloud: the last day, then the band, then what is tried."""

        def text(name: str) -> str:
            return entry("sure").text(name).format(**told)

        begun = where(v["days"] >= 1, lambda: text("live_day"), lambda: text("live_none"))
        banded = where(v["part"] >= FREE, lambda: text("live_free"), lambda: text("live_band"))
        return where(v["part"] < WEIGHED, lambda: begun, lambda: banded)

    def _question(self, v: Mapping[str, Numeric], told: Mapping[str, str]) -> str:
        names = "gather_question", "band_question", "why", "try_question"
        texts = (entry("sure").text(name).format(**told) for name in names)
        return in_part(v["part"], *texts)

    def _controls(self, v: Mapping[str, Numeric], told: Mapping[str, str]) -> list[Element]:
        case, ask = self.case, entry("sure")
        inputs = {one.name: one for one in case.inputs}
        shown = {
            "u": (case.units.weight, told["u_now"]),
            "u_tape": (case.units.length, told["u_tape"]),
            "repeats": (ask.text("times"), told["repeats"]),
        }
        moving = [control(inputs[name], ask.text(name), *given) for name, given in shown.items()]
        as_it_was = {name: inputs[name].start for name in shown}
        moving.append(push_button(ask.text("as_it_was"), sets=as_it_was))
        gathering = until(v["part"], 0, WEIGHED)
        few = (v["part"] < WEIGHED) * (v["days"] < LEAST_DAYS)
        enough = (v["part"] < WEIGHED) * (v["days"] >= LEAST_DAYS)
        first, again = (hidden_unless(one) for one in (few, enough))
        weigh = [
            self._weigh_button(v["days"], "weigh_again", 1, first, bold=True),
            self._weigh_button(v["days"], "weigh_again", 1, again),
            self._weigh_button(v["days"], "weigh_more", _MORE_DAYS, gathering),
        ]
        band = push_button(
            ask.text("show_band"),
            bold=True,
            plays="part",
            goal=f"{WEIGHED:g}",
            seconds=f"{SECONDS:g}",
            tell="band",
            hidden=again,
        )
        hint = ask.text("gather_hint").format(least=LEAST_DAYS, most=DAYS)
        return [
            *weigh,
            band,
            element("p", hint, class_="st-hint", hidden=gathering),
            *steps_after_weighing(v["part"], ask.text("why_hint"), moving),
        ]

    def _weigh_button(
        self, days: Numeric, name: str, more: int, hidden: str, *, bold: bool = False
    ) -> Element:
        """A button that weighs so many days more; the last day drawn is the end."""
        return push_button(
            entry("sure").text(name),
            bold=bold,
            plays="days",
            goal=f"{least(days + more, DAYS):.0f}",
            seconds=f"{0 if more == 1 else SECONDS:g}",
            tell="weighed_again",
            hidden=hidden,
            disabled=where(days >= DAYS, lambda: "disabled", lambda: ""),
        )

    def _more(self, v: Mapping[str, Numeric], told: Mapping[str, str]) -> Element:
        """Behind More: how many of the days lie within which band."""
        ask, rows = entry("sure"), []
        for result in RESULTS:
            cells = [
                told[f"first_{result}"],
                *(told[f"{name}_{result}"] for name in ("near", "inside")),
            ]
            rows.append((ask.text(result), *cells))
        caption = ask.text("caption").format(**told)
        return more_of(v["part"], table_of(caption, ask.texts("head"), rows))
