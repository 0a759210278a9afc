"""Weigh day from above: four pads read without and with a piece; say its weight and its overhang.

The first act knows the readings and what the reader says, and works nothing out of them.  The
second is made only once both answers are said.
"""

from collections.abc import Mapping

from leverarm import statics
from leverarm.numerals import Numeric
from leverarm.stage.act import FirstAct, SecondAct
from leverarm.stage.case import AXLES, in_part, loads
from leverarm.stage.controls import (
    act_drawing,
    after_steps,
    control,
    entry,
    load_table,
    more_of,
    question_controls,
    read_aloud,
    said_words,
    steps_after_weighing,
)
from leverarm.stage.elements import Element
from leverarm.stage.recorder import where
from leverarm.stage.recording import Drawing
from leverarm.stage.tractor_above import WHEELS
from leverarm.stage.yard_case import YardCase
from leverarm.stage.yard_picture import YardPicture, YardSeen

ANSWERS = ("weight", "overhang")


def _told(case: YardCase, seen: YardSeen) -> dict[str, str]:
    """What both acts say: the readings, the wheelbase, the piece whose overhang is known."""
    units = case.units
    told = {
        "piece": case.piece,
        "other": case.other,
        "other_ahead": units.show_length(case.other_shown),
        "wheelbase": units.show_length(case.wheelbase_shown),
    }
    lines = []
    for name in WHEELS:
        before, now = (units.digits(number) for number in seen.wheels[name])
        told[f"{name} before"], told[f"{name} now"] = before, now
        named = {
            "name": name.capitalize(),
            "before": before,
            "now": units.show_weight(seen.wheels[name][1]),
        }
        lines.append(entry("yard").text("wheel").format(**named))
    told["wheels"] = " ".join(lines)
    for axle, (before, now) in seen.axles.items():
        told[f"{axle}_way"] = f"{units.digits(before)} → {units.digits(now)}"
    return told


class YardGuess(FirstAct[YardCase]):
    """The first act as a drawing function: eight readings, and what the reader makes of them."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, units, ask = self.case, self.case.units, entry("yard")
        seen = YardSeen(
            {name: case.wheel(name) for name in WHEELS}, {axle: case.axle(axle) for axle in AXLES}
        )
        told = _told(case, seen)
        numbers = {
            "weight": units.show_weight(v["weight_said"]),
            "overhang": units.show_length(v["overhang_said"]),
        }
        said, heard = {}, {}
        for name in ANSWERS:
            said[name], heard[name] = said_words(v[f"{name}_known"], numbers[name])
        live = ask.text("live_said").format(
            weight_said=heard["weight"], overhang_said=heard["overhang"]
        )
        question = ask.text("say_question").format(**told)
        told["picture"] = f"{question} {ask.text('picture_said').format(**told)} {live}"
        boxes = [
            control(
                one,
                ask.text(one.name).format(**told),
                unit,
                heard[name],
                known=f"{name}_known",
            )
            for name, one, unit in zip(
                ANSWERS, case.said, (units.weight, units.length), strict=True
            )
        ]
        both = v["weight_known"] * v["overhang_known"]
        hint = ask.text("say_hint").format(**told)
        return act_drawing(
            case,
            lambda sheet: YardPicture(case, sheet, seen, told).asked(v, said),
            question,
            question_controls(boxes, both, hint),
            live,
        )


class YardWeighed(SecondAct[YardCase]):
    """The second act as a drawing function: weight and overhang, why, and the piece in the hand."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case = self.case
        before = {axle: case.axle(axle)[0] for axle in AXLES}
        front, rear, lifted = loads({**v, **before, "wheelbase": case.wheelbase_shown})
        now = {"front": front, "rear": rear}
        # Each wheel keeps the share of its axle that it had when the piece was on.
        wheels = {}
        for name in WHEELS:
            axle = name.split()[0]
            without, on = case.wheel(name)
            wheels[name] = without, on / max(case.axle(axle)[1], 1e-9) * now[axle]
        seen = YardSeen(wheels, {axle: (before[axle], now[axle]) for axle in AXLES})
        told = self._told(v, seen)
        table = load_table(seen.axles, case.units.weight)
        return act_drawing(
            case,
            lambda sheet: YardPicture(case, sheet, seen, told).weighed(v),
            self._asked(v, told, seen, lifted),
            self._controls(v, told),
            told["live"],
            below=[more_of(v["part"], table), after_steps("yard", told, v["part"])],
        )

    def _told(self, v: Mapping[str, Numeric], seen: YardSeen) -> dict[str, str]:
        """Every number of the page in words, in the unit shown."""
        case, units = self.case, self.case.units
        told = _told(case, seen)
        gains = {axle: now - before for axle, (before, now) in seen.axles.items()}
        told |= {
            "weight": units.show_weight(v["weight"]),
            "overhang": units.show_length(abs(v["overhang"])),
            "weight_said": units.show_weight(v["weight_said"]),
            "overhang_said": units.show_length(v["overhang_said"]),
            "front_change": units.show_weight(gains["front"], sign=True),
            "rear_change": units.show_weight(gains["rear"], sign=True),
            "together": units.show_weight(v["weight"], sign=True),
            "rear_less": units.digits(abs(gains["rear"])),
            "front_more": units.show_weight(abs(gains["front"])),
        }
        sign = where(gains["rear"] > 0, lambda: "+", lambda: "−")
        front, rear = units.digits(gains["front"]), told["rear_less"]
        told["sum_line"] = f"{front} {sign} {rear} = {told['weight']}"
        wheelbase, weight = units.show_length(case.wheelbase_shown), units.digits(v["weight"])
        told["lever_line"] = f"{wheelbase} × {rear} ÷ {weight} = {told['overhang']}"
        told |= self._slips()
        return told | read_aloud("yard", told)

    def _slips(self) -> dict[str, str]:
        """What four common slips give, from the readings that were asked about."""
        case, units = self.case, self.case.units
        gain, loss = case.changes
        sizes = statics.hung_weight(abs(gain), abs(loss))
        _, overhang = case.hung
        return {
            "slip_front": units.show_weight(gain),
            "slip_sizes": units.show_weight(sizes),
            "slip_mean": units.show_weight(sizes / 2),
            "slip_arm": units.show_length(case.wheelbase_shown + overhang),
        }

    def _asked(
        self, v: Mapping[str, Numeric], told: dict[str, str], seen: YardSeen, lifted: Numeric
    ) -> str:
        ask, part = entry("yard"), v["part"]
        before, now = seen.axles["rear"]
        apart = v["overhang"] - self.case.other_shown
        half = self.case.units.length_step[0] / 2

        def text(name: str) -> str:
            return ask.text(name).format(**told)

        told["place"] = where(
            abs(apart) < half,
            lambda: text("same"),
            lambda: where(apart > 0, lambda: text("farther"), lambda: text("closer")),
        )
        why = where(
            abs(now - before) < 0.5,
            lambda: text("why_question_level"),
            lambda: where(
                now > before, lambda: text("why_question_gain"), lambda: text("why_question")
            ),
        )
        free = where(
            lifted, lambda: entry("tractor").text("lifted_question"), lambda: text("try_question")
        )
        return in_part(part, text("say_question"), text("weigh_question"), why, free)

    def _controls(self, v: Mapping[str, Numeric], told: dict[str, str]) -> list[Element]:
        case, units, ask = self.case, self.case.units, entry("yard")
        inputs = {one.name: one for one in case.inputs}
        moving = [
            control(inputs[name], ask.text(name).format(**told), unit, told[name])
            for name, unit in (("weight", units.weight), ("overhang", units.length))
        ]
        return steps_after_weighing(v["part"], ask.text("why_hint"), moving)
