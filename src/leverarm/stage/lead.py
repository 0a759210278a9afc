"""Do front and rear tires agree: say which way the lead goes and what a tight turn does, then see.

The picture has two acts.  The first knows the lead with the loader off and the rear axle's path.
The second is made only once both answers are locked in.
"""

from collections.abc import Mapping
from functools import partial

from leverarm.driveline import RollOut
from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.act import FirstAct, SecondAct
from leverarm.stage.case import WEIGHED, Progress, in_part
from leverarm.stage.controls import (
    act_drawing,
    after_steps,
    choice_of,
    control,
    entry,
    exact_line,
    more_of,
    once_done,
    one_of_three,
    question_controls,
    said_words,
    steps_after_weighing,
    table_of,
)
from leverarm.stage.elements import Element
from leverarm.stage.lead_case import LeadCase, OneTurn
from leverarm.stage.lead_picture import TurnPicture
from leverarm.stage.recorder import root, where
from leverarm.stage.recording import Drawing

# The ways a lead may go, and what a turn may do to the front axle.
LEAD_WAYS = {"up": 1.0, "same": 0.0, "down": -1.0}
TURN_WAYS = {"pushed": 1.0, "fits": 0.0, "dragged": -1.0}
WAYS = {"lead": LEAD_WAYS, "turn": TURN_WAYS}
# A turn fits when less than this many percent have to slip: a step of the slider.
_FITS = 0.035


def _turned(short: float) -> float:
    """What a turn does to the front, as the value of a choice."""
    if abs(short) <= _FITS:
        return TURN_WAYS["fits"]
    return TURN_WAYS["dragged" if short < 0 else "pushed"]


def _percent(value: Numeric, sign: bool = False) -> str:
    return f"{show_number(value, 1, sign=sign)} %"


def _way_words(name: str, value: Numeric) -> str:
    """A choice in words, by its value."""
    return one_of_three(value, *(entry("lead").text(f"{name}_{way}") for way in WAYS[name]))


def _counted(case: LeadCase) -> dict[str, str]:
    """Turns counted over ten turns of the rear wheels, drive in and out, and their lead."""
    drive, rear = case.drive, 10
    engaged, free = rear * drive.ratio, rear * drive.rear_m / drive.front_m
    counted = RollOut(round(engaged, 2), round(free, 2), rear, step=0.01)
    return {
        "rear_turns": str(rear),
        "engaged": f"{counted.engaged:.2f}",
        "free": f"{counted.free:.2f}",
        "ratio": f"{drive.ratio:g}",
        "counted_lead": _percent(counted.lead.value),
    }


def _told(case: LeadCase) -> dict[str, str]:
    """What is known before the lock."""
    drive, text = case.drive, entry("lead").text
    off = drive.rear_m * (1 + drive.lead / 100)
    lead = _percent(drive.lead)
    return {
        "lead": lead,
        "lead_bare": show_number(drive.lead, 1),
        "tight": case.show_turn(case.radius_m),
        "radius": case.show_turn(case.radius_m),
        "wheelbase": case.units.show_length(case.length(drive.wheelbase_m)),
        "rolls": case.show_track(drive.rear_m),
        "off": text("with_lead").format(track=case.show_track(off), lead=lead),
    }


class LeadGuess(FirstAct[LeadCase]):
    """The first act as a drawing function."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, ask, told = self.case, entry("lead"), _told(self.case)
        you, boxes, heard = entry("labels").text("you_say"), [], {}
        for name, ways in WAYS.items():
            known, words = v[f"{name}_known"], _way_words(name, v[f"{name}_said"])
            heard[name] = said_words(known, words)[1]
            told[f"{name}_tag"] = where(known, partial(str, f"{you}: {words}"), partial(str, ""))
            boxes.append(
                choice_of(
                    name,
                    ask.text(f"{name}_box").format(**told),
                    {value: ask.text(f"{name}_{way}") for way, value in ways.items()},
                    v[f"{name}_said"],
                    known,
                )
            )
        live = ask.text("live_said").format(
            **{f"{name}_said": said for name, said in heard.items()}
        )
        question = ask.text("say_question").format(**told)
        told["picture"] = f"{question} {ask.text('picture_said').format(**told)} {live}"
        controls = question_controls(boxes, v["lead_known"] * v["turn_known"], ask.text("say_hint"))
        return act_drawing(
            case,
            lambda sheet: (TurnPicture(case, sheet, case.radius_m, told).asked(), []),
            question,
            controls,
            live,
        )


class LeadSeen(SecondAct[LeadCase]):
    """The second act as a drawing function: both leads, the turn, and the center in the hand."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, start, part = self.case, self.case.start, v["part"]
        step = Progress.of(part)
        # Until it is free to move, the loader squashes the tires little by little.
        squash = where(step.free, lambda: v["squash"], lambda: start["squash"] * step.weighing)
        radius = where(step.free, lambda: v["radius"], lambda: start["radius"])
        turn = case.turn(radius, squash)
        own = case.turn_m(radius)
        told = self._words(v, turn, own)
        found = {
            f"found_{name}": (abs(short) <= _FITS) * step.free
            for name, short in (("off", turn.short_off), ("on", turn.short_on))
        }
        return act_drawing(
            case,
            lambda sheet: TurnPicture(case, sheet, own, told).seen(v, turn),
            self._question(v, told),
            self._controls(v, told),
            told["live"],
            below=[more_of(part, self._table(turn)), after_steps("lead", told, part)],
            latches=found,
        )

    def _words(self, v: Mapping[str, Numeric], turn: OneTurn, radius_m: Numeric) -> dict[str, str]:
        """Every number of the page in words."""
        case, ask, told = self.case, entry("lead"), _told(self.case)
        you, wheelbase = entry("labels").text("you_said"), case.drive.wheelbase_m
        told["radius"] = case.show_turn(radius_m)
        told["front_radius"] = case.show_turn(root(radius_m**2 + wheelbase**2))
        for name in WAYS:
            told[f"{name}_said"] = _way_words(name, v[f"{name}_said"])
            told[f"{name}_tag"] = f"{you}: {told[f'{name}_said']}"
        told["on"] = ask.text("with_lead").format(
            track=case.show_track(turn.on), lead=_percent(turn.lead_on)
        )
        told |= self._way(turn)
        told["lead_on_now"] = _percent(turn.lead_on)
        told |= self._as_weighed()
        for name, lead in (("off", turn.lead_off), ("on", turn.lead_on)):
            fit = case.show_turn(case.fits_m(lead))
            told[f"fits_{name}"] = ask.text(f"fits_{name}").format(radius=fit)
        return told | once_done("lead", told, v["part"] >= WEIGHED)

    def _as_weighed(self) -> dict[str, str]:
        """The numbers of the explanation: as first shown, whatever is moved later."""
        case, start = self.case, self.case.start
        turn = case.turn(start["radius"], start["squash"])
        return {
            "lead_on": show_number(turn.lead_on, 1),
            "short": show_number(abs(turn.short_off), 1),
            "own": show_number(abs(turn.own_off), 1),
            "more_way": show_number(100 * (turn.way / turn.rolls - 1), 1),
            **_counted(case),
        }

    def _way(self, turn: OneTurn) -> dict[str, str]:
        """The front axle's way, and what the gears give too much or too little of it."""
        case, text = self.case, entry("lead").text
        track, share = case.show_track(turn.way), _percent(abs(turn.short_off))
        short, over, fits = (
            text(f"way_{name}").format(track=track, share=share)
            for name in ("short", "over", "fits")
        )
        own = text("way_own").format(own=_percent(abs(turn.own_off)))
        slips = abs(turn.short_off) > _FITS
        wrong = where(turn.short_off < 0, lambda: short, lambda: over)
        return {
            "way": where(slips, lambda: wrong, lambda: fits),
            "own_way": where(slips, lambda: own, lambda: ""),
        }

    def _question(self, v: Mapping[str, Numeric], told: dict[str, str]) -> str:
        names = "goes_on", "weigh_question", "why_question", "try_question"
        texts = (entry("lead").text(name).format(**told) for name in names)
        return in_part(v["part"], *texts)

    def _controls(self, v: Mapping[str, Numeric], told: dict[str, str]) -> list[Element]:
        case, text = self.case, entry("lead").text
        radius, squash = case.moving
        moving = [
            control(radius, text("radius_box"), case.turn_unit, told["radius"]),
            control(squash, text("squash_box"), case.squash_unit, case.show_squash(v["squash"])),
        ]
        turn = case.turn(case.start["radius"], case.start["squash"])
        ways = {
            "lead": LEAD_WAYS["down"],
            "turn": _turned(turn.short_off),
        }
        exact = exact_line(v, ways, f"{told['lead_said']}, {told['turn_said']}")
        steps = steps_after_weighing(v["part"], text("why_hint").format(**told), moving)
        return [exact, *steps]

    def _table(self, turn: OneTurn) -> Element:
        """Lead, mismatch in the turn, and the turn that fits, loader off and on."""
        case, text = self.case, entry("lead").text
        rows = [
            (text("row_lead"), _percent(turn.lead_off, True), _percent(turn.lead_on, True)),
            (text("row_short"), _percent(turn.short_off, True), _percent(turn.short_on, True)),
            (
                text("row_fits"),
                case.show_turn(case.fits_m(turn.lead_off)),
                case.show_turn(case.fits_m(turn.lead_on)),
            ),
        ]
        head = ("", *(text(f"loader_{name}") for name in ("off", "on")))
        return table_of(text("caption"), head, rows)
