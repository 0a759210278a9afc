"""A loader comes off piece by piece: say what the frame takes off the front, see, lift, put back.

The bucket hangs on the hoist already, and its change was read.  The first act asks for the front's
change when the loader frame comes off too, and knows nothing that answers.  In the second each
piece can be lifted off and put back in any order; a hoist takes its weight little by little.
"""

from collections.abc import Mapping
from functools import partial

from leverarm import statics
from leverarm.machine import Attachment
from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage.act import FirstAct, SecondAct
from leverarm.stage.case import AXLES, EXPLAINED, FREE, SECONDS, WEIGHED, in_part
from leverarm.stage.controls import (
    act_drawing,
    after_steps,
    axles_asked,
    entry,
    exact_line,
    hidden_unless,
    load_table,
    more_of,
    push_button,
    steps_after_weighing,
)
from leverarm.stage.elements import Element, element
from leverarm.stage.recorder import where, within
from leverarm.stage.recording import Drawing, Handle
from leverarm.stage.sheet import Paper
from leverarm.stage.strip_case import PIECES, StripCase, strip_loads
from leverarm.stage.strip_picture import StripPicture, StripSeen


def _told(case: StripCase) -> dict[str, str]:
    """What is known before the frame comes off."""
    told = {}
    for name in PIECES:
        piece: Attachment = getattr(case, name)
        told[name] = piece.name
        told[f"{name}_weight"] = case.units.show_weight(case.weight(piece.weight_kg))
        told[f"{name}_ahead"] = case.show_length(piece.ahead_m)
    told["wheelbase"] = case.show_length(case.tractor.wheelbase_m)
    return told


class StripGuess(FirstAct[StripCase]):
    """The first act as a drawing function: the bucket off, the frame still on, one tag."""

    def __init__(self, case: StripCase) -> None:
        super().__init__(case)
        # Worked out here: what is drawn and recorded holds both readings and no piece's share.
        self._on, self._now = strip_loads(case, 1.0, 1.0), strip_loads(case, 1.0, 0.0)

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, ask, units = self.case, entry("strip"), self.case.units
        told = _told(case)
        change = units.digits(self._now[0] - self._on[0], sign=True)
        told["bucket_off"] = f"{told['bucket']} {change}"
        question = ask.text("say_question").format(**told)
        tags, heard, controls = axles_asked(case, case.said, v, ask.text("say_hint"))
        seen = StripSeen(on=self._on, before=self._now, now=self._now, bucket_up=1.0, frame_up=0.0)

        read = dict(zip(("front_now", "rear_now"), map(units.show_weight, self._now), strict=True))
        seen_words = ask.text("picture_said").format(**told, **read)

        def picture(sheet: Paper) -> tuple[Element, list[Handle]]:
            asked = StripPicture(case, sheet, told, seen)
            said = tags["front"], v["front_said"], v["front_known"]
            return asked.asked(f"{question} {seen_words}", *said)

        live = ask.text("live_said").format(front_said=heard["front"])
        return act_drawing(case, picture, question, controls, live)


class StripWeighed(SecondAct[StripCase]):
    """The second act as a drawing function: the frame off, each piece's share, any order."""

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, part = self.case, v["part"]
        free = part >= FREE
        frame_up = where(free, lambda: v["frame_up"], lambda: within(part, 0, 1))
        bucket_up = where(free, lambda: v["bucket_up"], lambda: 1.0)
        on, bucket_off = strip_loads(case, 1.0, 1.0), strip_loads(case, 1.0, 0.0)
        seen = StripSeen(
            on=on,
            before=where(free, lambda: on, lambda: bucket_off),
            now=strip_loads(case, 1 - frame_up, 1 - bucket_up),
            bucket_up=bucket_up,
            frame_up=frame_up,
        )
        told = self._told(seen)
        asked, read = self._asked(v, told, seen), told["live"]
        told["live"] = where(part < WEIGHED, lambda: asked, lambda: read)
        told["picture"] = self._picture_words(v, told)
        rows = {axle: (seen.before[n], seen.now[n]) for n, axle in enumerate(AXLES)}
        table = load_table(rows, case.units.weight)
        return act_drawing(
            case,
            lambda sheet: StripPicture(case, sheet, told, seen).weighed(part, v["front_said"]),
            asked,
            self._controls(v, seen),
            told["live"],
            below=[more_of(part, table), after_steps("strip", told, part)],
        )

    def _told(self, seen: StripSeen) -> dict[str, str]:
        """Every number of the page in words, in the unit shown."""
        case, units, told = self.case, self.case.units, _told(self.case)
        both, bare = seen.on[0] - case.bare["front"], case.bare["front"]
        for name in PIECES:
            gain, piece = case.gain(name)[0], getattr(case, name)
            ahead, wheelbase = case.length(piece.ahead_m), case.length(case.tractor.wheelbase_m)
            told[f"{name}_gain"] = units.show_weight(gain)
            told[f"{name}_bare"] = units.digits(case.weight(piece.weight_kg))
            told[f"{name}_took"] = units.digits(gain)
            told[f"{name}_factor"] = show_number(statics.amplification(ahead, wheelbase), 3)
        for axle, before, now in zip(AXLES, seen.before, seen.now, strict=True):
            told[f"{axle}_change"] = units.show_weight(now - before, sign=True)
            told[f"{axle}_less"] = units.digits(abs(now - before))
            told[f"{axle}_way"] = f"{units.digits(before)} → {units.digits(now)}"
        together = sum(seen.now) - sum(seen.before)
        told["together"] = units.show_weight(together, sign=True)
        told["both"], told["bare"] = units.show_weight(both), units.show_weight(bare)
        took = case.gain("bucket")[0]
        for name, base in (("on", seen.on[0]), ("bare", bare), ("both", both)):
            told[f"percent_{name}"] = show_number(100 * took / base, 0)
        told["live"] = entry("strip").text("live").format(**told)
        return told

    def _picture_words(self, v: Mapping[str, Numeric], told: Mapping[str, str]) -> str:
        """What the picture shows so far, in words."""
        part, said = v["part"], self.case.units.digits(v["front_said"], sign=True)
        shown, changes, why = (
            entry("strip").text(name).format(**told, front_said=said)
            for name in ("picture", "picture_read", "picture_why")
        )
        explained = where(part >= EXPLAINED, lambda: f"{changes} {why}", lambda: changes)
        read = where(part >= WEIGHED, partial(str, explained), lambda: "")
        return f"{shown} {told['live']} {read}"

    def _asked(self, v: Mapping[str, Numeric], told: Mapping[str, str], seen: StripSeen) -> str:
        part = v["part"]

        def text(name: str) -> str:
            return entry("strip").text(name).format(**told)

        heavy_close = self.case.gain("frame")[0] > self.case.gain("bucket")[0]
        why = text("why_close" if heavy_close else "why")
        alone = (seen.frame_up >= 0.5) * (seen.bucket_up < 0.5)
        tried = where(alone, lambda: text("on_paper"), lambda: text("try_question"))
        lifted = entry("tractor").text("lifted_question")
        tried = where(seen.now[1] <= 0, partial(str, lifted), partial(str, tried))
        return in_part(part, text("comes_off"), text("weigh_question"), why, tried)

    def _controls(self, v: Mapping[str, Numeric], seen: StripSeen) -> list[Element]:
        words_of, moving = entry("controls"), []
        for name in PIECES:
            for way, goal in (("off", 1), ("on", 0)):
                there = v[f"{name}_up"] < 0.5 if way == "off" else v[f"{name}_up"] >= 0.5
                moving.append(
                    push_button(
                        words_of.text(f"piece_{way}").format(piece=getattr(self.case, name).name),
                        hidden=hidden_unless(there),
                        plays=f"{name}_up",
                        goal=str(goal),
                        seconds=f"{SECONDS:g}",
                        tell=f"{name}_{way}",
                    )
                )
        hint = entry("strip").text("lift_hint")
        moving.append(element("p", hint, class_="st-hint"))
        steps = steps_after_weighing(v["part"], entry("strip").text("why_hint"), moving)
        said = self.case.units.show_weight(v["front_said"], sign=True)
        return [exact_line(v, {"front": seen.now[0] - seen.before[0]}, said), *steps]
