"""Counterweight: hang ballast behind, on the wheels or in front, and see what goes down and what
goes up.
"""

from html import escape

import ipywidgets as w

from leverarm import ballast, stability
from leverarm.axles import AxleLoads, compare, predict
from leverarm.machine import Attachment, Tractor, demo_ballast, demo_tractor
from leverarm.panels.arms_up import LoaderPanel, NumberRow, cautions_list
from leverarm.panels.base import html_table, lift_sentence, picture_html, row, set_if_changed
from leverarm.panels.controls import choice, text_box
from leverarm.panels.gate import asked_first
from leverarm.quantities import Refusal, show_number
from leverarm.scene.load_charts import limit_chart
from leverarm.stage.lift_still import LiftStill

KINDS = (
    ("behind, on the three-point hitch", "hitch"),
    ("on the rear wheels", "wheels"),
    ("in front", "front"),
)
RATINGS = (
    ("front_axle", "Front axle"),
    ("rear_axle", "Rear axle"),
    ("machine", "Whole machine"),
    ("front_tire", "One front tire"),
    ("rear_tire", "One rear tire"),
)


class Counterweight(LoaderPanel):
    """Load, ballast, where it hangs: both readings before and after, the rules, bars under the
    ratings typed in.

    before, after   AxleLoads without and with the ballast; piece  the ballast as an Attachment
    steering, rear  the two Needs; limit_checks  the ballast.LimitChecks
    """

    questions, why = asked_first("counterweight", "front", "rear")

    def rows(self) -> tuple[NumberRow, ...]:
        hung = demo_ballast()
        behind = -hung.ahead_m - demo_tractor().wheelbase_m
        return (
            ("load", "Load in bucket", "weight", "900 lb", 0, 1000),
            ("weight", "Ballast", "weight", hung.weight_kg, 0, 1500),
            ("distance", "Distance past the axle", "length", behind, 0.05, 2.0),
        )

    def choices(self) -> list[w.Widget]:
        self.kind = choice("Ballast:", list(KINDS), "hitch", on_change=self.redraw)
        self.ratings = {
            name: text_box(f"{label} limit", placeholder="from the manual", on_change=self.redraw)
            for name, label in RATINGS
        }
        return [self.kind, row(*self.ratings.values())]

    @property
    def pieces(self) -> tuple[Attachment, ...]:
        """The loader, arms low, with its load."""
        return self._loader.at(self._loader.lowest_deg, self.values["load"])

    @property
    def piece(self) -> Attachment | None:
        """The ballast as an Attachment, or None where it weighs nothing."""
        weight, distance = self.values["weight"], self.values["distance"]
        if not weight:
            return None
        if self.kind.value == "front":
            return Attachment("front weights", weight, distance)
        behind = distance if self.kind.value == "hitch" else 0.0
        return ballast.counterweight(
            self._tractor, weight, behind, name="ballast" if behind else "wheel ballast"
        )

    @property
    def hung(self) -> tuple[Attachment, ...]:
        """Loader, load and ballast."""
        return (*self.pieces, *((self.piece,) if self.piece else ()))

    @property
    def before(self) -> AxleLoads:
        """What the scales read without the ballast."""
        return predict(self._tractor, *self.pieces)

    @property
    def after(self) -> AxleLoads:
        """What the scales read with it."""
        return predict(self._tractor, *self.hung)

    @property
    def steering(self) -> ballast.Need:
        """Front weights the steering rule asks for, as the machine stands."""
        return ballast.steering_need(self._tractor, *self.hung, ahead=0.6)

    @property
    def rear(self) -> ballast.Need:
        """Ballast the rear rule asks for at the worst of the lift, this far behind, without what
        hangs there now.
        """
        behind = 0.0 if self.kind.value == "wheels" else self.values["distance"]
        worst = stability.peak(self._tractor, self._loader, self.values["load"])
        return ballast.rear_need(self._tractor, *worst.pieces, behind=behind)

    @property
    def limit_checks(self) -> tuple[ballast.LimitCheck, ...]:
        """Loads beside the limits typed in; raises Refusal for one that can't be read."""
        return ballast.limit_checks(
            self.after,
            **{name: box.value for name, box in self.ratings.items() if box.value.strip()},
        )

    def draw(self) -> None:
        lift_point = stability.lift_point(
            self._tractor,
            self._loader,
            self._loader.lowest_deg,
            self.values["load"],
            others=(self.piece,) if self.piece else (),
        )
        view = LiftStill(
            self._tractor,
            self._loader,
            lift_point,
            self.before,
            (self.piece,) if self.piece else (),
            hidden=self.hidden,
            system=self.system,
        ).html(self.key, large=self.large)
        words = self._promise() if self.hidden else self._words() + self._rules() + self._bars()
        set_if_changed(self.out, view + words + cautions_list(ballast.CAUTIONS))

    def _promise(self):
        return (
            '<p class="lv-say">The readings with the ballast are kept back. Predict what it '
            "does to each scale, then lock it in.</p>"
        )

    def _words(self):
        """What went down, what went up, what the machine gained."""
        before, after = self.before, self.after
        if after.lift:
            return f'<p class="lv-say">{lift_sentence(after.lift, self.system)}</p>'
        if before.lift:
            return (
                f'<p class="lv-say">Without the ballast: {lift_sentence(before.lift, self.system)}'
                f"</p><p>With it, as the picture shows, the front scale reads "
                f"<b>{self.say(after.front_kg)}</b> and the rear <b>{self.say(after.rear_kg)}</b>, "
                f"{show_number(after.rear_share)} % of the total. That is with the arms low and "
                "standing still. A machine that stands only because of its ballast can tip over "
                "the first bump: carry less.</p>"
            )
        change = compare(before, after)
        said = (
            f"The front scale changed by <b>{self.say(change.front_kg, sign=True)}</b>, the rear "
            f"by <b>{self.say(change.rear_kg, sign=True)}</b>. The machine, its tires and the "
            f"ground carry <b>{self.say(change.total_kg, sign=True)}</b>. The rear has "
            f"{show_number(after.rear_share)} % of the total, the front "
            f"{show_number(after.front_share)} %."
        )
        return f'<p class="lv-say">{said}</p>' + self._table(before, after, change)

    def _table(self, before, after, change):
        predicted = self.predictions
        rows = [
            [
                name,
                self.say(getattr(before, f"{key}_kg")),
                self.say(getattr(change, f"{key}_kg"), sign=True),
                *(
                    [self.say(predicted[key], sign=True) if key in predicted else ""]
                    if predicted
                    else []
                ),
                self.say(getattr(after, f"{key}_kg")),
            ]
            for name, key in (
                ("Front scale", "front"),
                ("Rear scale", "rear"),
                ("Both together", "total"),
            )
        ]
        return html_table(
            ["", "without", "change", *(["you said"] if predicted else []), "with"], rows
        )

    def _rules(self):
        """The two rules of thumb, each with its base."""
        try:
            lines = [
                f"To steer, as it stands here: {self.steering.sentence(self.system)}",
                "At the worst point of the lift, without this ballast: "
                f"{self.rear.sentence(self.system)}",
            ]
        except Refusal as refusal:
            lines = [str(refusal)]
        return "<ul>" + "".join(f"<li>{escape(line)}</li>" for line in lines) + "</ul>"

    def _bars(self):
        """Bars under the limits typed in, and what is still to be read."""
        checks = self.limit_checks
        chart = limit_chart(checks, system=self.system)
        said = "".join(f"<li>{escape(check.sentence(self.system))}</li>" for check in checks)
        return (picture_html(chart, self, "b") if chart else "") + f"<ul>{said}</ul>"


def counterweight(
    tractor: Tractor | None = None, loader: stability.Loader | None = None, *, gated: bool = False
) -> Counterweight:
    """The ballast panel; gated True asks for the changes first.

    In code: panel.set(load="300 kg", weight="250 kg", distance="0.90 m"), panel.kind.value =
    "wheels",
    panel.ratings["rear_axle"].value = "1500 kg", panel.before, panel.after, panel.rear,
    panel.steering, panel.limit_checks,
    panel.gate.lock_in(front="down 136 kg", rear="up 386 kg"), panel.gate.reveal().
    """
    return Counterweight(tractor, loader, gated=gated)
