"""Arms up: raise the loader and watch both scales; then take it downhill and across a slope."""

from collections.abc import Sequence
from html import escape

import ipywidgets as w

from leverarm import stability
from leverarm.axles import compare
from leverarm.ballast import counterweight
from leverarm.machine import Attachment, Tractor, demo_tractor
from leverarm.panels.base import (
    grid,
    html,
    html_table,
    lift_sentence,
    picture_html,
    set_if_changed,
    split,
)
from leverarm.panels.controls import Number, choice
from leverarm.panels.gate import Gated, asked_first
from leverarm.quantities import show, show_number
from leverarm.scene.loader_arc import arc_chart
from leverarm.stage.lift_still import LiftStill

COUNTERWEIGHT_BEHIND_M = 0.90
# Name, label, kind, value, low, high of a Number.
NumberRow = tuple[str, str, str, float | str, float, float]


class LoaderPanel(Gated):
    """What the three panels share: a tractor, its loader, a load, a lift height.

    numbers     rows() gives them: name, label, kind, value, low, high
    """

    def __init__(
        self,
        tractor: Tractor | None = None,
        loader: stability.Loader | None = None,
        *,
        gated: bool,
    ) -> None:
        self._tractor, self._loader = tractor or demo_tractor(), loader or stability.demo_arms()
        super().__init__(gated=gated)

    def rows(self) -> tuple[NumberRow, ...]:
        """The Number controls of the panel."""
        raise NotImplementedError

    def height_row(self, start: float) -> NumberRow:
        """Lift height, between the ends of the lift."""
        low, high = (
            self._loader.pin_at(angle)[1]
            for angle in (self._loader.lowest_deg, self._loader.highest_deg)
        )
        return "height", "Bucket pin height", "length", min(max(start, low), high), low, high

    def build(self) -> list[w.Widget]:
        self.numbers = {
            name: Number(label, kind, value, low, high, on_change=self.redraw)
            for name, label, kind, value, low, high in self.rows()
        }
        self.out = html()
        controls = grid(*(number.widget for number in self.numbers.values()))
        return [split([controls, *self.choices(), *self.gate_parts()], [self.out])]

    def choices(self) -> list[w.Widget]:
        """Radio buttons under the numbers."""
        return []

    def say(self, value: float, kind: str = "weight", *, sign: bool = False) -> str:
        """A quantity in the unit system shown."""
        return show(value, kind, self.system, sign=sign)

    @property
    def tractor(self) -> Tractor:
        """The bare machine."""
        return self._tractor

    @property
    def loader(self) -> stability.Loader:
        """The loader."""
        return self._loader

    @property
    def angle_deg(self) -> float:
        """Lift angle that puts the bucket pin at the height told."""
        return self._loader.angle_at(self.values["height"])


def cautions_list(lines: Sequence[str]) -> str:
    """Cautions as a list, with the work they belong to."""
    return (
        "<p>With this work:</p><ul>"
        + "".join(f"<li>{escape(line)}</li>" for line in lines)
        + "</ul>"
    )


class ArmsUp(LoaderPanel):
    """Load, lift height, bare readings, counterweight: the machine, both readings, the curves of
    the whole lift.

    lift_point  stability.LiftPoint shown; lowest  with the arms low; limits  LoadLimits at worst
                of the lift
    """

    # The whole lift as last drawn, and what it was drawn for.
    _case: tuple[object, ...] | None = None
    _swept: tuple[stability.LiftPoint, ...] = ()
    _limits: stability.LoadLimits

    questions, why = asked_first("arms_up", "front", "rear")

    def rows(self) -> tuple[NumberRow, ...]:
        t = self._tractor
        return (
            ("load", "Load in bucket", "weight", "600 lb", 0, 1000),
            self.height_row(self._loader.pivot_height_m),
            ("front", "Bare front reading", "weight", t.front_kg, 1, 2000),
            ("rear", "Bare rear reading", "weight", t.rear_kg, 1, 2000),
            ("counterweight", "Counterweight", "weight", 0, 0, 1000),
        )

    def choices(self) -> list[w.Widget]:
        self.leveled = choice(
            "Bucket:",
            [("kept level", True), ("turns with the arms", False)],
            True,
            on_change=self.redraw,
        )
        return [self.leveled]

    @property
    def tractor(self) -> Tractor:
        v, t = self.values, self._tractor
        return Tractor(t.name, t.wheelbase_m, v["front"], v["rear"], t.height_m)

    @property
    def others(self) -> tuple[Attachment, ...]:
        """The counterweight, where there is one."""
        weight = self.values["counterweight"]
        return (counterweight(self._tractor, weight, COUNTERWEIGHT_BEHIND_M),) if weight else ()

    @property
    def lift_point(self) -> stability.LiftPoint:
        """The machine as shown."""
        return self._at(self.angle_deg)

    @property
    def lowest(self) -> stability.LiftPoint:
        """The machine with its arms low."""
        return self._at(self._loader.lowest_deg)

    @property
    def limits(self) -> stability.LoadLimits:
        """Loads that lighten the rear axle, at the worst of the lift."""
        return stability.limits(
            self.tractor, self._loader, others=self.others, leveled=self.leveled.value
        )

    def _at(self, angle):
        return stability.lift_point(
            self.tractor,
            self._loader,
            angle,
            self.values["load"],
            others=self.others,
            leveled=self.leveled.value,
        )

    def _arc(self):
        """The whole lift; kept while only the height moves."""
        case = (*(v for name, v in self.values.items() if name != "height"), self.leveled.value)
        if self._case != case:
            self._swept = stability.arc(
                self.tractor,
                self._loader,
                self.values["load"],
                others=self.others,
                leveled=self.leveled.value,
                steps=30,
            )
            self._limits, self._case = self.limits, case
        return self._swept

    def draw(self) -> None:
        path, here = self._arc(), self.lift_point
        view = LiftStill(
            self.tractor,
            self._loader,
            here,
            path[0].loads,
            self.others,
            not self.leveled.value,
            self.hidden,
            self.system,
        ).html(self.key, large=self.large)
        if self.hidden:
            set_if_changed(
                self.out,
                view + self._promise(here) + cautions_list(stability.LIFT_CAUTIONS),
            )
            return
        chart = arc_chart(self._loader, path, here, system=self.system)
        set_if_changed(
            self.out,
            view
            + self._words(path[0], here)
            + picture_html(chart, self, "b")
            + self._limit_words()
            + cautions_list(stability.LIFT_CAUTIONS),
        )

    def _promise(self, here):
        return (
            f'<p class="lv-say">The arms are up: the {here.carried.name} is '
            f"{self.say(here.overhang_m, 'length')} ahead of the "
            "front axle. Predict what raising them did to each scale, then lock it in.</p>"
        )

    def _words(self, low, here):
        """What raising did, in a sentence and a table."""
        lifted = next((p.loads.lift for p in (here, low) if p.loads.lift), None)
        if lifted:
            return f'<p class="lv-say">{lift_sentence(lifted, self.system)}</p>'
        change = compare(low.loads, here.loads)
        said = (
            f"The {here.carried.name} is {self.say(here.overhang_m, 'length')} ahead of the front "
            f"axle and {self.say(here.height_m, 'length')} up. Compared with the arms low, the "
            f"front scale changed by <b>{self.say(change.front_kg, sign=True)}</b>, the rear by "
            f"<b>{self.say(change.rear_kg, sign=True)}</b>, both together by "
            f"{self.say(change.total_kg, sign=True)}. The rear axle has "
            f"{show_number(here.loads.rear_share)} % of the total."
        )
        if self.others:
            said += (
                f" The counterweight hangs {self.say(COUNTERWEIGHT_BEHIND_M, 'length')} "
                "behind the rear axle."
            )
        return f'<p class="lv-say">{said}</p>' + self._table(low.loads, here.loads, change)

    def _table(self, low, here, change):
        predicted = self.predictions
        rows = [
            [
                name,
                self.say(getattr(low, key)),
                self.say(getattr(change, key), sign=True),
                *(
                    [self.say(predicted[short], sign=True) if short in predicted else ""]
                    if predicted
                    else []
                ),
                self.say(getattr(here, key)),
            ]
            for name, key, short in (
                ("Front scale", "front_kg", "front"),
                ("Rear scale", "rear_kg", "rear"),
                ("Both together", "total_kg", "total"),
            )
        ]
        return html_table(
            ["", "arms low", "change", *(["you said"] if predicted else []), "here"], rows
        )

    def _limit_words(self):
        """The loads that matter, at the worst of the lift, with their bases."""
        found = self._limits
        if found.tipping_kg is None or found.keeping_kg is None or found.rated_kg is None:
            return "<p>No load in this bucket lifts the rear axle.</p>"
        return (
            "<p>At the worst point of the lift the rear axle carries nothing at "
            f"<b>{self.say(found.tipping_kg)}</b> in the bucket, and keeps {found.keep_share:g} % "
            f"of the total up to <b>{self.say(found.keeping_kg)}</b>. Practice for rating wheeled "
            f"earth-moving loaders takes {found.rated_share:g} % of the tipping load, "
            f"{self.say(found.rated_kg)}: practice, not permission. The loader's own manual gives "
            "the load it may lift.</p>"
        )


def arms_up(
    tractor: Tractor | None = None, loader: stability.Loader | None = None, *, gated: bool = False
) -> ArmsUp:
    """The lift panel; gated True asks for the changes first.

    tractor, loader   Tractor with a height, stability.Loader
    In code: panel.set(load="300 kg", height="1.36 m", counterweight="250 kg"), panel.lift_point,
    panel.lowest, panel.limits,
    panel.gate.lock_in(front="up 90 kg", rear="down 90 kg"), panel.gate.reveal().
    """
    return ArmsUp(tractor, loader, gated=gated)
