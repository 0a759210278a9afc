"""A loader goes on: say what the ground feels, see it, read why, then move load and gauge.

The picture has two acts.  The first knows the bare tire and the two loads, and nothing of what
lies under the loaded tire.  The second is made only once both answers are locked in.
"""

from collections.abc import Mapping
from functools import partial

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
from leverarm.stage.recorder import where
from leverarm.stage.recording import Drawing
from leverarm.stage.under_tire_case import TireOnGround, UnderTireCase
from leverarm.stage.under_tire_picture import SoilPicture, rise

# The ways a stress may go, and the ground it may go in.
WAYS = {"deeper": 1.0, "same": 0.0, "shallower": -1.0}
GROUNDS = {"hard": 0.0, "soft": 1.0}


def _way_words(value: Numeric) -> str:
    """Which way the stress goes in words, by its value."""
    return one_of_three(value, *(entry("under_tire").text(f"reach_{way}") for way in WAYS))


def _tire_words(case: UnderTireCase, name: str, tire: TireOnGround) -> dict[str, str]:
    """What stands in a tire of the picture."""
    return {
        f"{name}_name": entry("under_tire").text(f"tire_{name}"),
        f"{name}_load": case.show(tire.load_kg, "weight"),
        f"{name}_patch": case.show(tire.area_m2, "area"),
        f"{name}_pressure": case.show(tire.pressure_kpa, "pressure"),
    }


def _told(case: UnderTireCase) -> dict[str, str]:
    """What is known before the lock: the bare tire, and the load on the other."""
    bare, start, units = case.bare(), case.start, case.units
    load = [case.in_base(start[name], "weight") / 2 for name in ("bare", "on")]
    *first, last = map(case.show_line, case.lines_kpa)
    return {
        **_tire_words(case, "bare", bare),
        "on_name": entry("under_tire").text("tire_on"),
        "on_load": case.show(load[1], "weight"),
        "on_patch": "",
        "on_pressure": "?",
        "load_rise": rise(load[1], load[0]),
        "load_way": f"{case.digits(load[0], 'weight')} → {case.show(load[1], 'weight')}",
        "load_more": show_number(100 * (load[1] / load[0] - 1), 0),
        "axle_bare": units.show_weight(start["bare"]),
        "axle_on": units.show_weight(start["on"]),
        "gauge": case.show(case.in_base(start["gauge"], "pressure"), "pressure"),
        "line": case.show_line(case.lines_kpa[1]),
        "lines": entry("under_tire").text("lines").format(first=", ".join(first), last=last),
        "line_depth": case.show(bare.reach_m(case.lines_kpa[1]), "depth"),
        "ground": entry("under_tire").text("ground_hard"),
    }


class UnderTireGuess(FirstAct[UnderTireCase]):
    """The first act as a drawing function."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, ask, told = self.case, entry("under_tire"), _told(self.case)
        places = 1 if case.system == "lb" else 0
        number = show_number(v["pressure_said"], places, sign=True)
        said, heard = said_words(v["pressure_known"], f"{number} {case.unit('pressure')}")
        reach = said_words(v["reach_known"], _way_words(v["reach_said"]))[1]
        you = entry("labels").text("you_say")
        told["pressure_tag"] = where(v["pressure_known"], lambda: f"{you} {said}", lambda: heard)
        told["reach_tag"] = where(v["reach_known"], lambda: f"{you} {reach}", lambda: reach)
        live = ask.text("live_said").format(pressure_said=heard, reach_said=reach)
        question = ask.text("say_question").format(**told)
        told["picture"] = f"{question} {ask.text('picture_said').format(**told)} {live}"
        boxes = [
            control(
                case.said[0],
                ask.text("pressure_box"),
                case.unit("pressure"),
                heard,
                kind="front-words",
                known="pressure_known",
            ),
            choice_of(
                "reach",
                ask.text("reach_box"),
                {way: ask.text(f"reach_{name}") for name, way in WAYS.items()},
                v["reach_said"],
                v["reach_known"],
            ),
        ]
        known = v["pressure_known"] * v["reach_known"]
        controls = question_controls(boxes, known, ask.text("say_hint"))
        return act_drawing(
            case,
            lambda sheet: (SoilPicture(case, sheet, case.bare(), None, told).asked(v), []),
            question,
            controls,
            live,
        )


class UnderTireSeen(SecondAct[UnderTireCase]):
    """The second act as a drawing function: the other half of the soil, and the hand on it."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, start, part = self.case, self.case.start, v["part"]
        step = Progress.of(part)
        # Until it is free to move, the load goes from bare to loaded; whole at the end.
        goes = start["bare"] + (start["on"] - start["bare"]) * step.weighing
        axle = where(step.free, lambda: v["axle"], lambda: goes)
        gauge = where(step.free, lambda: v["gauge"], lambda: start["gauge"])
        soft = where(step.free, lambda: v["soft"], lambda: 0.0)
        bare, now = case.bare(soft), case.tire(axle, gauge, soft)
        told = self._words(v, bare, now, soft)
        return act_drawing(
            case,
            lambda sheet: SoilPicture(case, sheet, bare, now, told).seen(v, case.loaded()),
            self._question(v, told),
            self._controls(v, told),
            told["live"],
            below=[more_of(part, self._table(bare, now)), after_steps("under_tire", told, part)],
        )

    def _words(
        self, v: Mapping[str, Numeric], bare: TireOnGround, now: TireOnGround, soft: Numeric
    ) -> dict[str, str]:
        """Every number of the page in words, in the unit shown."""
        case, ask, told = self.case, entry("under_tire"), _told(self.case)
        done = v["part"] >= WEIGHED
        told |= _tire_words(case, "bare", bare)
        moving = _tire_words(case, "on", now)
        for key in ("on_load", "on_patch", "on_pressure"):
            told[key] = where(done, partial(str, moving[key]), partial(str, ""))
        line = case.lines_kpa[1]
        pairs = {
            "load": (bare.load_kg, now.load_kg, "weight"),
            "patch": (bare.area_m2, now.area_m2, "area"),
            "pressure": (bare.pressure_kpa, now.pressure_kpa, "pressure"),
            "reach": (bare.reach_m(line), now.shown_reach(line), "depth"),
        }
        for name, (before, after, kind) in pairs.items():
            told[f"{name}_rise"] = rise(after, before)
            told[f"{name}_way"] = f"{case.digits(before, kind)} → {case.show(after, kind)}"
        told["pressure_change"] = case.show(now.pressure_kpa - bare.pressure_kpa, "pressure", True)
        places = 1 if case.system == "lb" else 0
        said = show_number(v["pressure_said"], places, sign=True)
        you = entry("labels").text("you_said")
        told["pressure_said"] = f"{said} {case.unit('pressure')}"
        told["reach_said"] = _way_words(v["reach_said"])
        told["pressure_tag"] = f"{you} {said}"
        told["reach_tag"] = f"{you} {told['reach_said']}"
        told["ground"] = where(
            soft > 0.5, lambda: ask.text("ground_soft"), lambda: ask.text("ground_hard")
        )
        told["gauge_now"] = case.show(case.in_base(v["gauge"], "pressure"), "pressure")
        told |= self._as_weighed()
        return told | once_done("under_tire", told, done)

    def _as_weighed(self) -> dict[str, str]:
        """The numbers of the explanation: as weighed, whatever is moved later."""
        case = self.case
        bare, on = case.bare(), case.loaded()
        bare_soft, on_soft = case.bare(1.0), case.loaded(1.0)
        more = {
            "patch_more": (bare.area_m2, on.area_m2),
            "pressure_more": (bare.pressure_kpa, on.pressure_kpa),
            "patch_soft": (bare_soft.area_m2, on_soft.area_m2),
            "pressure_soft": (bare_soft.pressure_kpa, on_soft.pressure_kpa),
        }
        numbers = {
            name: show_number(100 * (after / before - 1), 0)
            for name, (before, after) in more.items()
        }
        return numbers | {
            "tire_load": case.show(bare.load_kg, "weight"),
            "area": case.show(bare.area_m2, "area"),
            "pressure": case.show(bare.pressure_kpa, "pressure"),
            "on_tire": case.show(on.load_kg, "weight"),
            "on_area": case.show(on.area_m2, "area"),
            "on_pressure_now": case.show(on.pressure_kpa, "pressure"),
            "ball_light": "5 lb" if case.system == "lb" else "2 kg",
            "ball_heavy": "10 lb" if case.system == "lb" else "4 kg",
            "newtons": "" if case.system == "lb" else entry("under_tire").text("newtons"),
        }

    def _question(self, v: Mapping[str, Numeric], told: dict[str, str]) -> str:
        names = "goes_on", "weigh_question", "why_question", "try_question"
        texts = (entry("under_tire").text(name).format(**told) for name in names)
        return in_part(v["part"], *texts)

    def _controls(self, v: Mapping[str, Numeric], told: dict[str, str]) -> list[Element]:
        case, text = self.case, entry("under_tire").text
        inputs = {one.name: one for one in case.moving}
        moving = [
            control(
                inputs["axle"],
                text("axle_box"),
                case.units.weight,
                case.units.show_weight(v["axle"]),
            ),
            control(inputs["gauge"], text("gauge_box"), case.unit("pressure"), told["gauge_now"]),
            choice_of(
                "soft",
                text("ground_box"),
                {way: text(f"choose_{name}") for name, way in GROUNDS.items()},
                v["soft"],
            ),
        ]
        bare, on = case.bare(), case.loaded()
        change = case.of_base(on.pressure_kpa - bare.pressure_kpa, "pressure")
        deeper = float(on.reach_m(case.lines_kpa[1]) > bare.reach_m(case.lines_kpa[1]))
        said = f"{told['pressure_said']}, {told['reach_said']}"
        near = 0.05 if case.system == "lb" else 0.5
        exact = exact_line(v, {"pressure": change, "reach": deeper}, said, near)
        steps = steps_after_weighing(v["part"], text("why_hint").format(**told), moving)
        return [exact, *steps]

    def _table(self, bare: TireOnGround, now: TireOnGround) -> Element:
        """Both tires, number beside number, and how deep each line reaches."""
        case, text = self.case, entry("under_tire").text
        rows = [
            (text("row_load"), bare.load_kg, now.load_kg, "weight"),
            (text("row_patch"), bare.area_m2, now.area_m2, "area"),
            (text("row_pressure"), bare.pressure_kpa, now.pressure_kpa, "pressure"),
        ]
        for stress in case.lines_kpa:
            name = text("row_reach").format(line=case.show_line(stress))
            reach = [one.shown_reach(stress) for one in (bare, now)]
            rows.append((name, *reach, "depth"))
        head = ("", *(text(f"tire_{name}") for name in ("bare", "on")))
        lines = ((name, *(case.show(one, kind) for one in ones)) for name, *ones, kind in rows)
        return table_of(text("caption"), head, lines)
