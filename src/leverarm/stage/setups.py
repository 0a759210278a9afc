"""A machine in every set-up it can mow in: say what the front does when the ballast comes off too.

The first act knows the set-ups that were weighed already, and nothing of the one asked about.  In
the second that one is weighed and explained; then the reader moves the least shares that a manual
asks for, and chooses a set-up.
"""

from collections.abc import Mapping, Sequence
from functools import partial

from leverarm import statics
from leverarm.decision import BASES, Setup
from leverarm.numerals import Numeric
from leverarm.quantities import show_number, to_unit
from leverarm.stage.act import FirstAct, SecondAct
from leverarm.stage.case import AXLES, FREE, WEIGHED, in_part
from leverarm.stage.controls import (
    act_drawing,
    after_steps,
    axles_asked,
    control,
    entry,
    load_table,
    more_of,
    push_button,
    steps_after_weighing,
    until,
)
from leverarm.stage.elements import Element, element
from leverarm.stage.recorder import where, within
from leverarm.stage.recording import Drawing, Handle
from leverarm.stage.setups_case import ALONE, ALONE_LARGE, SetupsCase
from leverarm.stage.setups_picture import LeastLoad, Loads, SetupsPicture
from leverarm.stage.sheet import Paper


def _told(case: SetupsCase, loads: Sequence[Loads]) -> dict[str, str]:
    """What set-ups read and how that differs from the first, in words."""
    units, told = case.units, {"ballast": "ballast", "name": case.machine.name}
    if case.machine.ballast:
        told["ballast"] = case.machine.ballast.name
    told["count"] = str(len(case.setups))
    for n, read in enumerate(loads):
        for axle, first, load in zip(AXLES, loads[0], read, strict=True):
            told[f"{axle}_{n}"] = units.digits(load)
            change = units.digits(load - first, sign=True) if n else ""
            told[f"{axle}_{n}_change"] = change
        total = units.show_weight(sum(read))
        told[f"together_{n}"] = entry("setups").text("together").format(total=total)
    return told


def _readings(
    case: SetupsCase, loads: Sequence[Loads], told: Mapping[str, str]
) -> tuple[list[str], list[str]]:
    """A sentence for each set-up: what its scales read; from the second on, what has changed."""
    ask, reads, changes = entry("setups"), [], []
    for n, (setup, read) in enumerate(zip(case.setups, loads, strict=False)):
        shown = {axle: case.units.show_weight(load) for axle, load in zip(AXLES, read, strict=True)}
        reads.append(ask.text("reads").format(setup=setup.name, **shown))
        if n:
            shown = {axle: told[f"{axle}_{n}_change"] for axle in AXLES}
            changes.append(ask.text("changes").format(setup=setup.name, **shown))
    return reads, changes


Asked = dict[str, tuple[float, float, float]]


def _asked(case: SetupsCase) -> list[Asked]:
    """In each set-up, by axle: its share in percent, its ± (0 where not known), what it is of."""

    def one(setup: Setup, axle: str) -> tuple[float, float, float]:
        base = setup.base(case.machine.manual.least(axle)[1], "at_work")
        share = statics.share(setup.load(axle), base)
        sure = share.expanded()
        weight = to_unit(base.value, "weight", case.units.weight)
        return share.value, sure if sure == sure else 0.0, weight

    return [{axle: one(setup, axle) for axle in AXLES} for setup in case.setups]


def _lines(asked: list[Asked], v: Mapping[str, Numeric]) -> list[list[LeastLoad]]:
    """The least load of each axle, and whether it is under that or too close to call."""

    def one(axle: str, share: float, sure: float, base: float) -> LeastLoad:
        least = v[f"{axle}_least"]
        told, under = least > 0, least > share
        close = told * (1 - under) * (least >= share - sure)
        return LeastLoad(base * least / 100, told, told * under, close)

    return [[one(axle, *shares[axle]) for axle in AXLES] for shares in asked]


def _under(setup: Setup, asked: Sequence[LeastLoad]) -> tuple[str, Numeric]:
    """Which axles of a set-up are under the shares told, in sentences, and how many."""
    ask, said, found = entry("setups"), "", 0.0
    for axle, line in zip(AXLES, asked, strict=True):
        said += line.said(
            *(
                ask.text(name).format(setup=setup.name, axle=axle) + " "
                for name in ("is_under", "is_close")
            )
        )
        found = found + line.under + line.close
    return said, found


def setups_still(case: SetupsCase, *, large: bool = False, hidden: bool = False) -> Element:
    """A picture of each set-up of a machine as it reads, as many in a row as there is room for.

    large   drawn for a projector;  hidden  what the first reads is shown, and no other reading
    """
    loads, ask = [case.loads(one) for one in case.setups], entry("setups")
    told, read = _told(case, loads), 1 if hidden else len(loads)
    lines = _lines(_asked(case), {one.name: one.start for one in case.least})
    reads, changes = _readings(case, loads[:read], told)
    names = [ask.text("waits").format(setup=one.name) for one in case.setups]
    for n in range(read):
        together, (under, _) = f"{told[f'together_{n}']}.", _under(case.setups[n], lines[n])
        said = (ask.text("alone").format(**told), reads[n], *changes[n - 1 : n], together, under)
        names[n] = " ".join(said).strip()
    sheet = ALONE_LARGE if large else ALONE
    drawing = SetupsPicture(case, sheet, told, loads, asked=False).still(names, lines, read=read)
    most_wide = f"max-width: {1.4 * sheet.width * len(loads):g}px"
    each = element("div", drawing, class_="st-each", style=most_wide)
    return element("div", each, class_="st st-projector" if large else "st")


class SetupsGuess(FirstAct[SetupsCase]):
    """The first act as a drawing function: the set-ups weighed already, one tag on the last."""

    def __init__(self, case: SetupsCase) -> None:
        super().__init__(case)
        # The set-up asked about stands with the readings of the one before it.
        self._loads = [case.loads(one) for one in case.setups[:-1]]

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, ask = self.case, entry("setups")
        told = _told(case, self._loads)
        question = ask.text("say_question").format(**told)
        tags, heard, controls = axles_asked(case, case.said, v, ask.text("say_hint"))
        readings = " ".join(_readings(case, self._loads, told)[0])
        live = ask.text("live_said").format(front_said=heard["front"])
        named = f"{question} {ask.text('picture').format(**told)} {readings} {live}"
        loads = [*self._loads, self._loads[-1]]

        def picture(sheet: Paper) -> tuple[Element, list[Handle]]:
            asked = SetupsPicture(case, sheet, told, loads)
            return asked.asked(named, tags["front"], v["front_said"], v["front_known"])

        return act_drawing(case, picture, question, controls, live)


class SetupsWeighed(SecondAct[SetupsCase]):
    """The second act as a drawing function: the last set-up weighed, why, shares, a choice."""

    def __init__(self, case: SetupsCase) -> None:
        super().__init__(case)
        self._loads = [case.loads(one) for one in case.setups]
        self._asked = _asked(case)

    def _base(self, axle: str) -> str:
        return self.case.machine.manual.least(axle)[1]

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, part = self.case, v["part"]
        *known, before, after = self._loads
        weighing = within(part, 0, 1)
        now = tuple(b + (a - b) * weighing for b, a in zip(before, after, strict=True))
        first = self._told()
        told = dict(first)
        for axle in AXLES:
            # Against the set-up before it while it is asked about, then against the first.
            one = f"{axle}_{len(known) + 1}_change"
            step = told[f"{axle}_step"]
            told[one] = where(part >= FREE, partial(str, first[one]), partial(str, step))
        told["front_said"] = case.units.digits(v["front_said"], sign=True)
        lines = _lines(self._asked, v)
        told["verdict"] = self._verdict(lines)
        question = self._question(part, told)
        reads, changes = map(" ".join, _readings(case, self._loads, first))
        you, read = entry("setups").text("you_said"), f"{told['live']} {reads}"
        free = f"{read} {changes} {told['verdict']}"
        free = where(part >= FREE, partial(str, free), partial(str, read))
        live = where(part < WEIGHED, lambda: told["coming"], partial(str, free))
        told["name"] = (
            f"{entry('setups').text('picture').format(**told)} {you.format(**told)} {live}"
        )

        def picture(sheet: Paper) -> tuple[Element, list[Handle]]:
            drawing = SetupsPicture(case, sheet, told, [*known, before, (now[0], now[1])])
            return drawing.weighed(part, v["front_said"], lines, v["chosen"]), []

        return act_drawing(
            case,
            picture,
            question,
            self._controls(v),
            live,
            below=[
                self._choices(v, told),
                more_of(part, self._table()),
                after_steps("setups", told, part),
            ],
        )

    def _told(self) -> dict[str, str]:
        """Every number of the page in words, in the unit shown."""
        case, units, ask = self.case, self.case.units, entry("setups")
        told = _told(case, self._loads)
        before, after = self._loads[-2:]
        front, rear = (a - b for a, b in zip(after, before, strict=True))
        weight, behind, wheelbase = case.ballast
        told |= {
            "weight": units.show_weight(weight),
            "weight_bare": units.digits(weight),
            "behind_bare": show_number(behind, units.length_step[1]),
            "wheelbase_bare": show_number(wheelbase, units.length_step[1]),
            "gives_back": units.digits(case.gives_back),
            "front_more": units.digits(front),
            "rear_less": units.show_weight(-rear),
            "front_step": units.digits(front, sign=True),
            "rear_step": units.digits(rear, sign=True),
            "front_change": units.show_weight(front, sign=True),
            "rear_change": units.show_weight(rear, sign=True),
            "together": units.show_weight(front + rear, sign=True),
            "front_base": BASES[self._base("front")],
            "rear_base": BASES[self._base("rear")],
        }
        told["live"] = ask.text("live").format(**told)
        told["coming"] = ask.text("comes_off").format(**told)
        return told

    def _question(self, part: Numeric, told: Mapping[str, str]) -> str:
        ask, (before, after) = entry("setups"), self._loads[-2:]
        level = "_level" if abs(after[0] - before[0]) < 0.5 else ""
        if min(min(one) for one in self._loads) <= 0:
            after_lock = [ask.text("lifted_question")] * 3
        else:
            names = (f"weigh_question{level}", f"why_question{level}", "try_question")
            after_lock = [ask.text(name).format(**told) for name in names]
        return in_part(part, told["coming"], *after_lock)

    def _verdict(self, lines: list[list[LeastLoad]]) -> str:
        """Which set-ups are under the shares told, in sentences."""
        said, found = "", 0.0
        for setup, asked in zip(self.case.setups, lines, strict=True):
            one, many = _under(setup, asked)
            said, found = said + one, found + many
        none = entry("setups").text("none_under")
        return where(found > 0, partial(str, said), lambda: none)

    def _controls(self, v: Mapping[str, Numeric]) -> list[Element]:
        ask = entry("setups")
        moving = [
            control(one, ask.text(one.name), "%", f"{show_number(v[one.name], 0)} %")
            for one in self.case.least
        ]
        return steps_after_weighing(v["part"], ask.text("why_hint").format(**self._told()), moving)

    def _choices(self, v: Mapping[str, Numeric], told: Mapping[str, str]) -> Element:
        """A button for each set-up, and what stands there once one is chosen."""
        ask, buttons, chosen = entry("setups"), [], ""
        for n, setup in enumerate(self.case.setups, 1):
            text = ask.text("choose").format(setup=setup.name)
            buttons.append(push_button(text, sets={"chosen": n}, tell="chosen"))
            words = ask.text("chosen").format(setup=setup.name)
            chosen = where(abs(v["chosen"] - n) < 0.5, partial(str, words), partial(str, chosen))
        row = element("div", buttons, class_="st-part st-choices")
        verdict = element("p", told["verdict"], class_="st-hint")
        said = element("p", chosen, class_="st-after")
        return element("div", row, verdict, said, class_="st-beside", hidden=until(v["part"], FREE))

    def _table(self) -> Element:
        """What the ballast's going did, with one decimal."""
        before, after = self._loads[-2:]
        rows = {axle: (before[k], after[k]) for k, axle in enumerate(AXLES)}
        return load_table(rows, self.case.units.weight)
