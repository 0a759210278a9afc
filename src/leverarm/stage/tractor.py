"""A bucket goes on a tractor: say what each scale will do, weigh it, see why, move it.

The picture has two acts.  The first knows the bare machine, the bucket and what the reader says,
and nothing that answers.  The second is made only once both changes are said.
"""

from collections.abc import Mapping
from functools import partial

from leverarm import statics
from leverarm.numerals import Numeric
from leverarm.quantities import show_number
from leverarm.stage import sheet as paper
from leverarm.stage import tractor_outline as machine
from leverarm.stage.case import AXLES, EXPLAINED, FREE, WEIGHED, Case, loads
from leverarm.stage.controls import control, entry, page, push_button, sentence_box
from leverarm.stage.elements import Element, element
from leverarm.stage.on_scales import columns_of, drawn, grip_parts, tape, weight_arrow
from leverarm.stage.recorder import least, most, where, within
from leverarm.stage.recording import Drawing, Handle
from leverarm.stage.sheet import Sheet
from leverarm.stage.weighed_picture import WeighedPicture


class Guess:
    """The first act as a drawing function: the bare machine, the bucket dashed, two tags."""

    def __init__(self, case: Case) -> None:
        self.case = case

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        case, units = self.case, self.case.units
        ask, label = entry("tractor"), entry("labels")
        weight, overhang = case.weight(case.piece.weight_kg), case.length(case.piece.ahead_m)
        told = {
            "piece": case.piece.name,
            "weight": units.show_weight(weight),
            "overhang": units.show_length(overhang),
        }
        said = {}
        for axle in AXLES:
            number = show_number(v[f"{axle}_said"], 0, sign=True)
            known = v[f"{axle}_known"]
            said[axle] = where(known, partial(str, number), partial(label.text, "drag"))
        pictures, handles = [], []
        for one in case.sheets:
            picture, held = self._picture(one, v, said, told)
            pictures.append(picture)
            handles += held
        both = v["front_known"] * v["rear_known"]
        question = element("p", ask.text("say_question").format(**told), class_="st-question")
        named = {axle: entry("controls").text(f"{axle}_said") for axle in AXLES}
        controls = [
            control(
                one,
                named[axle],
                units.weight,
                said[axle],
                kind=f"{axle}-words",
                known=f"{axle}_known",
            )
            for axle, one in zip(AXLES, case.said, strict=True)
        ]
        controls.append(
            push_button(
                entry("controls").text("lock_in"),
                bold=True,
                enter="1",
                checks="1",
                disabled=where(both, lambda: "", lambda: "disabled"),
                tell="locked",
                open="next",
            )
        )
        controls.append(element("p", ask.text("say_hint"), class_="st-hint"))
        live = ask.text("live_said").format(front_said=said["front"], rear_said=said["rear"])
        return Drawing(page(question, pictures, controls, [], live), tuple(handles))

    def _picture(
        self, sheet: Sheet, v: Mapping[str, Numeric], said: dict[str, str], told: dict[str, str]
    ) -> tuple[Element, list[Handle]]:
        case, units = self.case, self.case.units
        label = entry("labels")
        tractor = case.tractor
        stand = machine.Stand(sheet, tractor.wheelbase_m, 0.0, 0.0)
        at = (sheet.x(case.piece.ahead_m), stand.ground - machine.BUCKET_HEIGHT_M * sheet.per_m)
        columns = columns_of(
            case,
            sheet,
            {
                "wheelbase": case.length(tractor.wheelbase_m),
                "front": case.weight(tractor.front_kg),
                "rear": case.weight(tractor.rear_kg),
            },
        )
        parts: list[Element] = [
            paper.grid(sheet, case.full, units.weight),
            machine.platforms(stand),
            element(
                "g",
                machine.loader(stand, at, 0.0),
                machine.tractor(stand),
                machine.bucket(stand, at, "ghost"),
            ),
            *weight_arrow(
                case,
                sheet,
                at,
                case.weight(case.piece.weight_kg),
                f"{told['piece']} {told['weight']}",
            )[0],
            *tape(case, sheet, case.length(case.piece.ahead_m), case.length(tractor.wheelbase_m)),
        ]
        handles = []
        for axle in AXLES:
            one = columns[axle]
            given = one.before + v[f"{axle}_said"]
            load = within(given, 0, case.full * 1.1)
            parts += [
                paper.column(one, label.text(axle), units.show_weight(one.now)),
                paper.outline(one, least(one.before, load), most(one.before, load), "ghost"),
                paper.tag(one, load, label.text("you_say"), said[axle], old=1 - v[f"{axle}_known"]),
            ]
            side = -1 if axle == "front" else 1
            edge = one.left - 3 if side < 0 else one.right + 3
            grip = (edge + side * (sheet.tag + 8), one.y(load))
            parts += grip_parts(grip, f"{axle}_said", upright=True)
            handles.append(Handle(f"{axle}_said", sheet.name, grip))
        question = entry("tractor").text("say_question").format(**told)
        return drawn(sheet, question, parts), handles


class Weighed:
    """The second act as a drawing function: the readings, why, and the bucket in the hand."""

    def __init__(self, case: Case) -> None:
        self.case = case

    def __call__(self, v: Mapping[str, Numeric]) -> Drawing:
        told = self._told(v)
        pictures, handles = [], []
        for one in self.case.sheets:
            picture, held = WeighedPicture(self.case, one, v, told).drawn()
            pictures.append(picture)
            handles += held
        found = abs(statics.amplification(v["overhang"], v["wheelbase"]) - 2) <= 0.012
        return Drawing(
            page(
                self._question(v, told),
                pictures,
                self._controls(v, told),
                self._more(v, told),
                told["live"],
            ),
            tuple(handles),
            {"doubled": found * (v["part"] >= FREE)},
        )

    def _told(self, v: Mapping[str, Numeric]) -> dict[str, str]:
        """Every number of the page in words, in the unit shown."""
        case, units = self.case, self.case.units
        front, rear, _ = loads(v)
        gain, loss = front - v["front"], rear - v["rear"]
        told = {
            "piece": case.piece.name,
            "weight": units.show_weight(v["weight"]),
            "overhang": units.show_length(v["overhang"]),
            "wheelbase": units.show_length(v["wheelbase"]),
            "front_more": show_number(gain, 0),
            "rear_less": show_number(abs(loss), 0),
            "front_change": units.show_weight(gain, sign=True),
            "rear_change": units.show_weight(loss, sign=True),
            "together": units.show_weight(v["weight"], sign=True),
            "factor": show_number(statics.amplification(v["overhang"], v["wheelbase"]), 2),
        }
        for axle, now in (("front", front), ("rear", rear)):
            told[f"{axle}_now"] = show_number(now, 0)
            told[f"{axle}_way"] = f"{show_number(v[axle], 0)} → {show_number(now, 0)}"
            told[f"{axle}_said"] = show_number(v[f"{axle}_said"], 0, sign=True)
        told["live"] = entry("tractor").text("live").format(**told)
        return told

    def _question(self, v: Mapping[str, Numeric], told: dict[str, str]) -> Element:
        ask = entry("tractor")
        _, rear, lifted = loads(v)
        level = abs(rear - v["rear"]) < 0.5

        def text(name: str) -> str:
            return ask.text(name).format(**told)

        def either(name: str) -> str:
            return where(level, lambda: text(f"{name}_level"), lambda: text(name))

        now = where(
            v["part"] < WEIGHED,
            lambda: text("say_question"),
            lambda: where(
                v["part"] < EXPLAINED,
                lambda: either("weigh_question"),
                lambda: where(
                    v["part"] < FREE, lambda: either("why_question"), lambda: text("try_question")
                ),
            ),
        )
        return element(
            "p", where(lifted, lambda: text("lifted_question"), lambda: now), class_="st-question"
        )

    def _controls(self, v: Mapping[str, Numeric], told: dict[str, str]) -> list[Element]:
        case, units, words_of = self.case, self.case.units, entry("controls")
        inputs = {one.name: one for one in case.inputs}

        def only(low: float, high: float) -> str:
            inside = (v["part"] >= low) * (v["part"] < high)
            return where(inside, lambda: "", lambda: "hidden")

        moving = [
            control(
                inputs["weight"],
                words_of.text("weight").format(piece=case.piece.name),
                units.weight,
                told["weight"],
            ),
            control(inputs["overhang"], words_of.text("overhang"), units.length, told["overhang"]),
        ]
        return [
            element("div", sentence_box("seen"), class_="st-part", hidden=only(WEIGHED, EXPLAINED)),
            push_button(
                words_of.text("show_why"),
                bold=True,
                hidden=only(WEIGHED, EXPLAINED),
                needs="seen",
                plays="part",
                goal=f"{EXPLAINED:g}",
                seconds="0.9",
                tell="explained",
            ),
            push_button(
                words_of.text("try_it"),
                bold=True,
                hidden=only(EXPLAINED, FREE),
                plays="part",
                goal=f"{FREE:g}",
                seconds="0",
                tell="free",
            ),
            element(
                "p",
                entry("tractor").text("why_hint").format(**told),
                class_="st-hint",
                hidden=only(EXPLAINED, FREE),
            ),
            element("div", moving, class_="st-part", hidden=only(FREE, 9)),
            push_button(words_of.text("again"), hidden=only(WEIGHED, 9), tell="again"),
        ]

    def _more(self, v: Mapping[str, Numeric], told: dict[str, str]) -> list[Element]:
        case, units, words_of = self.case, self.case.units, entry("controls")
        inputs = {one.name: one for one in case.inputs}
        start = {name: inputs[name].start for name in ("weight", "overhang", "wheelbase", *AXLES)}
        rest = [
            control(
                inputs[name],
                words_of.text(name),
                units.length if name == "wheelbase" else units.weight,
                units.show_length(v[name]) if name == "wheelbase" else units.show_weight(v[name]),
            )
            for name in ("wheelbase", *AXLES)
        ]
        rest.append(push_button(words_of.text("back"), sets=start))
        early = where(v["part"] >= FREE, lambda: "", lambda: "hidden")
        return [
            element("div", rest, class_="st-part st-grid", hidden=early),
            element(
                "div",
                self._table(v),
                class_="st-part",
                hidden=where(v["part"] >= WEIGHED, lambda: "", lambda: "hidden"),
            ),
        ]

    def _table(self, v: Mapping[str, Numeric]) -> Element:
        words_of, unit = entry("more"), self.case.units.weight
        front, rear, _ = loads(v)

        def row(name: str, before: Numeric, now: Numeric) -> Element:
            cells = (
                show_number(before, 1),
                show_number(now, 1),
                show_number(now - before, 1, sign=True),
            )
            return element(
                "tr",
                element("th", words_of.text(name), scope="row"),
                *(element("td", f"{cell} {unit}") for cell in cells),
            )

        head = [
            element("th", name, scope="col") if name else element("td", "")
            for name in words_of.texts("head")
        ]
        factor = statics.amplification(v["overhang"], v["wheelbase"])
        last = element(
            "tr",
            element("th", words_of.text("factor").format(piece=self.case.piece.name), scope="row"),
            element("td", ""),
            element("td", ""),
            element("td", show_number(factor, 3)),
        )
        return element(
            "table",
            element("caption", words_of.text("caption")),
            element("thead", element("tr", head)),
            element(
                "tbody",
                row("front", v["front"], front),
                row("rear", v["rear"], rear),
                row("together", v["front"] + v["rear"], front + rear),
                last,
            ),
        )
