"""A claim held against the scales: sort it with a reason, see the band, make the scales worse.

The first act knows the claim, the four readings and what they are off by, and nothing that
answers.
"""

import json
from collections.abc import Mapping

from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.act import FirstAct, SecondAct
from leverarm.stage.backed_case import PILES, BackedCase
from leverarm.stage.backed_picture import BackedPicture
from leverarm.stage.case import AXLES, in_part
from leverarm.stage.controls import (
    act_drawing,
    after_steps,
    control,
    entry,
    push_button,
    read_aloud,
    sentence_box,
    steps_after_weighing,
)
from leverarm.stage.elements import Element, element
from leverarm.stage.recorder import first_so, where
from leverarm.stage.recording import Drawing


def _told(case: BackedCase) -> dict[str, str]:
    """What is known before anything is said."""
    read, digits, step = case.read, case.units.digits, case.error_step[1]
    told = {
        "piece": case.piece.name,
        "claim": entry("backed")
        .text("claim")
        .format(piece=case.piece.name, times=_times(case.claim)),
        "u": f"{show_number(case.u, step)} {case.units.weight}",
    }
    for n, axle in enumerate(AXLES):
        told[f"{axle}_way"] = f"{digits(read.after[n])} → {digits(read.before[n])}"
    return told


def _times(factor: float) -> str:
    """A factor as people say it: twice, three times, or its number."""
    spoken = {2.0: "twice", 3.0: "three times"}
    return spoken.get(factor, f"{factor:g} times")


def _pile_name(pile: Numeric) -> str:
    """The pile that was chosen, in words."""
    ask = entry("backed")
    piles = reversed(list(enumerate(PILES, 1)))
    return first_so([(pile >= n, ask.text(name)) for n, name in piles], ask.text("none"))


class BackedGuess(FirstAct[BackedCase]):
    """The first act as a drawing function: the claim, the readings, four piles and a reason."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, ask, told = self.case, entry("backed"), _told(self.case)
        pile = v["pile"]
        question = ask.text("say_question").format(**told)
        name = f"{question} {ask.text('picture_said').format(**told)}"
        piles = [
            element(
                "button",
                ask.text(one),
                type="button",
                class_="st-button",
                data_set=json.dumps({"pile": n}),
                aria_pressed=where(abs(pile - n) < 0.5, lambda: "true", lambda: "false"),
            )
            for n, one in enumerate(PILES, 1)
        ]
        lock = push_button(
            entry("controls").text("lock_in"),
            bold=True,
            checks="1",
            needs="reason",
            tell="locked",
            open="next",
            disabled=where(pile >= 0.5, lambda: "", lambda: "disabled"),
        )
        controls = [
            element("div", piles, role="group", aria_label=ask.text("piles")),
            sentence_box("reason", ask),
            lock,
        ]
        live = ask.text("live_said").format(pile=_pile_name(pile))
        return act_drawing(
            case,
            lambda sheet: (BackedPicture(case, sheet, told).asked(name), []),
            question,
            controls,
            live,
        )


class BackedWeighed(SecondAct[BackedCase]):
    """The second act as a drawing function: the band, the claim, and scales that get worse."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, told = self.case, self._told(v)
        return act_drawing(
            case,
            lambda sheet: (BackedPicture(case, sheet, told).weighed(v), []),
            self._question(v, told),
            self._controls(v, told),
            told["live"],
            below=[after_steps("backed", told, v["part"])],
        )

    def _told(self, v: Mapping[str, Numeric]) -> dict[str, str]:
        """Every number of the page in words, in the unit shown."""
        case, ask, units = self.case, entry("backed"), self.case.units
        told = _told(case)
        for result in ("front", "rear", "weight", "factor"):
            told[f"{result}_first"] = case.show_plus_minus(result, case.u)
            told[result] = case.show_plus_minus(result, v["u"])
            told[f"{result}_bare"] = show_number(abs(case.read.value(result)), case.places(result))
        told["front_change"], told["rear_change"] = f"−{told['front']}", f"+{told['rear']}"
        told["together"] = f"−{told['weight']}"
        told["u_now"] = f"{show_number(v['u'], case.error_step[1])} {units.weight}"
        told["times"] = _times(case.claim)
        told["claimed_now"] = show_number(v["claim"], 2)
        told["claimed"] = ask.text("claimed").format(**told)
        told["axis"] = ask.text("axis").format(**told)
        told["pile"] = _pile_name(v["pile"])
        allowed = case.allowed(v["claim"], v["u"])
        told["verdict"] = where(allowed, lambda: ask.text("allowed"), lambda: ask.text("ruled_out"))
        inside = bool(case.allowed(case.claim, case.u))
        told["own_pile"] = ask.text("backed" if inside else "contradicted")
        told["side"] = ask.text("inside" if inside else "outside")
        told["forecast"] = units.show_weight(case.forecast)
        apart = abs(case.forecast - case.read.value("front"))
        near = apart <= case.plus_minus("front", case.u)
        told["agree"] = ask.text("forecast_near" if near else "forecast_far").format(**told)
        return told | read_aloud("backed", told)

    def _question(self, v: Mapping[str, Numeric], told: Mapping[str, str]) -> str:
        names = "say_question", "band_question", "why", "try_question"
        texts = (entry("backed").text(name).format(**told) for name in names)
        return in_part(v["part"], *texts)

    def _controls(self, v: Mapping[str, Numeric], told: Mapping[str, str]) -> list[Element]:
        case, ask = self.case, entry("backed")
        inputs = {one.name: one for one in case.inputs}
        shown = {
            "u": (case.units.weight, told["u_now"]),
            "claim": (ask.text("times"), told["claimed_now"]),
        }
        moving = [
            control(inputs[name], ask.text(f"{name}_moved"), *given)
            for name, given in shown.items()
        ]
        moving += [
            element("p", told["verdict"], class_="st-hint"),
            push_button(ask.text("as_it_was"), sets={name: inputs[name].start for name in shown}),
        ]
        own = PILES.index("backed" if case.allowed(case.claim, case.u) else "contradicted") + 1
        hint = where(
            abs(v["pile"] - own) < 0.5,
            lambda: ask.text("why_hint_exact").format(**told),
            lambda: ask.text("why_hint").format(**told),
        )
        return steps_after_weighing(v["part"], hint, moving)
