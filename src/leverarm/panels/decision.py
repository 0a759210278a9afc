"""Mow or unhook: one machine, one job, every state side by side."""

from pathlib import Path

import ipywidgets as w

from leverarm import decision, stability
from leverarm.ballast import REAR_SHARE, STEERING_SHARE
from leverarm.panels.base import grid, html, picture_html, row, set_if_changed, split
from leverarm.panels.controls import Number, choice, dropdown, text_box
from leverarm.panels.day_choice import FOLDER, DayChoice
from leverarm.panels.decision_words import (
    cautions,
    load_chart,
    minutes_worth,
    ordered,
    other_side,
    promise,
    said_beside,
    side_by_side,
    state_view,
)
from leverarm.panels.gate import Gated, Question
from leverarm.uncertainty import uncertain
from leverarm.weighing.demo import U_TAPE_M

WHY = (
    "Bucket and frame hang ahead of the rear axle, most of them ahead of the front axle too. Off, "
    "the front axle loses more than they weigh, and the rear gets back what they had lifted. The "
    "ballast is still behind: it is the same lever, the other way round."
)
U_WEIGHT_KG, U_AHEAD_M = 2.0, 0.02
RATINGS = (
    ("front_axle", "Front axle rating"),
    ("rear_axle", "Rear axle rating"),
    ("machine", "Permitted total"),
)
MOWERS = (
    ("mid-mounted deck", "mid"),
    ("rear-mounted", "rear"),
    ("trailed", "trailed"),
    ("none, or weighed with it", "none"),
)
_DEMO = decision.demo_case()
# The demo machine has all of them; a Case need not.
assert _DEMO.mower and _DEMO.mower.carried and _DEMO.bucket and _DEMO.loader and _DEMO.ballast
assert _DEMO.height_m is not None
_DECK = _DEMO.mower.carried


def _weight(key, label, hung, low=0):
    return key, label, "weight", hung.weight.value, low, 2000


GROUPS = {
    "machine": (
        ("wheelbase", "Wheelbase", "length", _DEMO.wheelbase.value, 0.5, 5),
        ("front", "Bare front reading", "weight", _DEMO.front.value, 1, 5000),
        ("rear", "Bare rear reading", "weight", _DEMO.rear.value, 1, 5000),
        ("height", "Height of its center", "length", _DEMO.height_m, 0.2, 2),
        _weight("bucket", "Bucket", _DEMO.bucket),
        ("bucket_ahead", "Bucket, overhang", "length", _DEMO.bucket.ahead.value, -1, 4),
        _weight("frame", "Loader frame", _DEMO.loader, 1),
        ("frame_ahead", "Frame, overhang", "length", _DEMO.loader.ahead.value, -2, 3),
        _weight("ballast", "Ballast", _DEMO.ballast),
        (
            "ballast_behind",
            "Ballast, behind",
            "length",
            -(_DEMO.ballast.ahead + _DEMO.wheelbase).value,
            0,
            3,
        ),
    ),
    "mower": (
        _weight("mower", "Mower, carried", _DECK),
        ("mower_ahead", "Mower, ahead", "length", _DECK.ahead.value, -6, 2),
        _weight("at_work", "Of it, at work", _DECK),
    ),
    "job": (
        ("slope", "Slope of the job", "angle", 6, 0, 25),
        ("bucket_minutes", "Minutes, bucket", "number", 5, 1, 240),
        ("loader_minutes", "Minutes, loader", "number", 20, 1, 480),
        ("ballast_minutes", "Minutes, ballast", "number", 10, 1, 240),
        ("mowings", "Mowings in between", "number", 2, 1, 100),
    ),
    "manual": (
        ("front_least", "Least front share", "share", STEERING_SHARE, 0, 60),
        ("rear_least", "Least rear share", "share", REAR_SHARE, 0, 60),
    ),
}
ORDER, MINUTES, OTHER = "the order", "what a minute buys", "the other side"
PARTS = (ORDER, *decision.GROUPS, MINUTES, OTHER)
LENT = (
    "Loads, shares and minutes are of the machine you told. Tire prints, front drive, track, pin, "
    "reach and the heights of the pieces are the invented machine's, unless a case of your own "
    "was handed in: mow_or_unhook(case). With numbers from the record nothing is "
    "lent: rows that need more say what is missing, and the manual's shares stay empty until you "
    "read them."
)
# Typing a mower kind sets where such a mower usually hangs on the invented machine.
USUAL = {kind: decision.demo_mower(kind) for kind in decision.MOWERS}


class MowOrUnhook(Gated):
    """The machine typed or from a weigh-day record, the mower, the job, the manual's word; the
    states side by side.

    case        decision.Case as told;  table  decision.Table
    source      "typed" or "record";  shown  the state drawn;  matters  the rows the states are
                ordered by
    """

    questions = (Question("front", "Front scale"), Question("rear", "Rear scale"))
    why = WHY

    def __init__(self, case=None, *, record=FOLDER, gated=True) -> None:
        self._lender, self._record = case or decision.demo_case(), record
        super().__init__(gated=gated)

    def build(self) -> list[w.Widget]:
        self.numbers = {
            key: Number(
                label,
                kind,
                value,
                low,
                high,
                on_change=self.redraw,
                decimals=0 if "minutes" in key or key == "mowings" else None,
                step=1 if "minutes" in key or key == "mowings" else None,
            )
            for group in GROUPS.values()
            for key, label, kind, value, low, high in group
        }
        self.sources = choice(
            "Numbers from:",
            [("typed here", "typed"), ("the weigh-day record", "record")],
            "typed",
            on_change=self._source_chosen,
        )
        self.place = text_box("Record file", on_change=self.redraw)
        self.place.value = str(self._record)
        self.day_choice = DayChoice(self._record, self.redraw, demo=False)
        self.mowers = choice("Mower:", list(MOWERS), "mid", on_change=self._mower_chosen)
        self.drive = choice(
            "Front drive:", [("in", True), ("out, or none", False)], True, on_change=self.redraw
        )
        self.brakes = choice(
            "Brakes on:", [("rear", "rear"), ("all", "all")], "rear", on_change=self.redraw
        )
        self.surface = dropdown(
            "Ground", list(stability.FRICTION), "wet grass", on_change=self.redraw
        )
        self.bucketless = dropdown(
            "Loader without its bucket?",
            [
                ("not read yet", None),
                ("the manual allows it", True),
                ("the manual forbids it", False),
            ],
            on_change=self.redraw,
        )
        self.ratings = {
            key: text_box(label, placeholder="from the manual", on_change=self.redraw)
            for key, label in RATINGS
        }
        self.first, self.second = (
            dropdown(
                name,
                [
                    (decision.MEANINGS[key].name.format("near", "deep"), key)
                    for key in decision.MATTERS
                ],
                value,
                on_change=self.redraw,
            )
            for name, value in (("Matters most", "front"), ("then", "total"))
        )
        self.states = choice(
            "Draw:",
            [
                ("all on", "on"),
                ("bucket off", "bucket_off"),
                ("loader off", "loader_off"),
                ("ballast off too", "all_off"),
            ],
            "loader_off",
            on_change=self.redraw,
        )
        # On a projector one part at a time.
        self.part = dropdown(
            "Show",
            [("everything", "all"), *((name, name) for name in PARTS)],
            PARTS[1] if self.large else "all",
            on_change=self.redraw,
        )
        self.reasons = w.Checkbox(value=True, description="Reasons under each row", indent=False)
        self.reasons.observe(self.redraw, "value")
        self.pages = choice(
            "Change:",
            [("machine", "machine"), ("mower", "mower"), ("job", "job"), ("manual", "manual")],
            "machine",
            on_change=self._page,
        )
        self.picture, self.out = html(), html()
        self._groups = {
            name: w.VBox([grid(*(self.numbers[key].widget for key, *_ in group)), *more])
            for (name, group), more in zip(
                GROUPS.items(),
                (
                    [self.sources, self.place, self.day_choice.widget],
                    [self.mowers],
                    [self.drive, self.brakes, self.surface],
                    [self.bucketless, row(*self.ratings.values())],
                ),
            )
        }
        self._page("machine")
        left = [self.pages, *self._groups.values(), *self.gate_parts(), self.first, self.second]
        return [
            split(left, [self.states, self.picture]),
            self.part,
            self.reasons,
            html(f"<p>{LENT}</p>"),
            self.out,
            html(cautions()),
        ]

    def _page(self, name):
        """Show the controls of one group."""
        for key, box in self._groups.items():
            box.layout.display = "" if key == name else "none"

    def _source_chosen(self, source):
        """A record brings no mower and no manual: the demo machine's leave the controls."""
        if source == "record":
            for key in ("front_least", "rear_least"):
                self.numbers[key].hold(0.0)
            self.mowers.value = "none"
        self.redraw()

    def _mower_chosen(self, kind):
        """Put the numbers of such a mower in, as a start."""
        usual = USUAL.get(kind)
        carried = usual and usual.carried
        self.numbers["mower"].hold(carried.weight.value if carried else 0.0)
        self.numbers["at_work"].hold(usual.at_work.weight.value if usual and usual.at_work else 0.0)
        if carried:
            self.numbers["mower_ahead"].hold(round(carried.ahead.value, 3))
        self.redraw()

    @property
    def source(self):
        """Where the machine's numbers come from."""
        return self.sources.value

    @property
    def shown(self):
        """The state drawn."""
        return self.states.value

    @property
    def matters(self):
        """The rows the states are ordered by, the first one first."""
        return tuple(dict.fromkeys((self.first.value, self.second.value)))

    @property
    def case(self):
        """The Case that was told."""
        told = {"mower": self._mower(), "job": self._job(), "manual": self._manual()}
        if self.source == "record":
            return self._weighed(told)
        lent = {part: self._lent(part) for part in ("tires", "stance", "nose_m")}
        return self._typed({**told, **lent, "drive": self._front_drive(), "arms": self._arms()})

    def _lent(self, part):
        """Tires, stance and nose: of the case that was handed in, or of the invented machine."""
        return getattr(self._lender, part)

    def _arms(self):
        """The lent loader's arms, as long as frame and bucket are the lent ones too."""
        lender, v = self._lender, self.values
        pieces = ((lender.loader, "frame"), (lender.bucket, "bucket"))
        same = all(
            hung is not None
            and (hung.weight.value, hung.ahead.value) == (v[key], v[f"{key}_ahead"])
            for hung, key in pieces
        )
        return self._lent("arms") if same else None

    def _base(self):
        return uncertain(self.values["wheelbase"], U_TAPE_M, "wheelbase", cause="tape")

    def _typed(self, about):
        """The machine as its numbers stand in the boxes."""
        v, base, sure = self.values, self._base(), {"u_weight": U_WEIGHT_KG, "u_ahead": U_AHEAD_M}

        def made(name, kg, ahead, height, reach):
            return decision.piece(name, kg, ahead, height, reach=reach, **sure) if kg else None

        ballast = (
            decision.behind(
                "ballast",
                v["ballast"],
                v["ballast_behind"],
                base,
                0.5,
                u_weight=U_WEIGHT_KG,
                u_distance=U_AHEAD_M,
            )
            if v["ballast"]
            else None
        )
        nose = about.pop("nose_m")
        return decision.case(
            "Your machine",
            base,
            v["front"],
            v["rear"],
            v["height"],
            u_reading=U_WEIGHT_KG,
            nose=nose,
            loader=made("loader frame", v["frame"], v["frame_ahead"], 0.80, 1.00),
            bucket=made("bucket", v["bucket"], v["bucket_ahead"], 0.35, v["bucket_ahead"] + 0.45),
            ballast=ballast,
            **about,
        )

    def _weighed(self, told):
        """The machine as a weigh day found it: what neither the record nor a control tells is
        absent.
        """
        self.day_choice.path = Path(self.place.value.strip() or FOLDER)
        drive = None if self.drive.value else decision.FrontDrive(engaged=False)
        return self.day_choice.case(drive=drive, **told)

    def _mower(self):
        v = self.values
        if self.mowers.value == "none":
            return None

        def made(kg):
            return (
                decision.piece(
                    "mower", kg, v["mower_ahead"], 0.45, u_weight=U_WEIGHT_KG, u_ahead=U_AHEAD_M
                )
                if kg
                else None
            )

        carried = made(v["mower"])
        return decision.Mower(
            self.mowers.value,
            carried,
            carried if v["at_work"] == v["mower"] else made(v["at_work"]),
        )

    def _front_drive(self):
        lent = self._lent("drive")
        return decision.FrontDrive(lent.drive, lent.squash_m, lent.mowing, self.drive.value)

    def _job(self):
        v = self.values
        return decision.Job(
            v["slope"],
            self.surface.value,
            self.brakes.value,
            v["bucket_minutes"],
            v["loader_minutes"],
            v["ballast_minutes"],
            v["mowings"],
        )

    def _manual(self):
        v = self.values
        read = {key: box.value for key, box in self.ratings.items() if box.value.strip()}
        return decision.Manual(
            v["front_least"] or None,
            v["rear_least"] or None,
            bucket_may_come_off=self.bucketless.value,
            **read,
        )

    @property
    def table(self):
        """The states side by side."""
        return decision.decide(self.case)

    def draw(self) -> None:
        table = self.table
        set_if_changed(self.picture, state_view(self, table))
        if self.hidden:
            set_if_changed(self.out, promise(self, table))
            return
        set_if_changed(
            self.out,
            "".join(
                self._part(name, table)
                for name in ([self.part.value] if self.part.value in PARTS else PARTS)
            ),
        )

    def _part(self, name, table):
        """One part of what there is to see: the order, a group of rows, a minute's worth, the other
        side.
        """
        if name == ORDER:
            return (
                said_beside(self, table)
                + ordered(self, table)
                + picture_html(load_chart(table, self.system), self, "b")
            )
        if name in decision.GROUPS:
            return side_by_side(table, self.system, self.reasons.value, name)
        return minutes_worth(self, table) if name == MINUTES else other_side(self, table)


def mow_or_unhook(case=None, *, record=FOLDER, gated=True):
    """The decision panel; gated False shows every state from the start.

    In code: panel.set(bucket="110 kg", slope="6 deg"), panel.mowers.value = "rear",
    panel.sources.value = "record",
    panel.first.value = "total", panel.case, panel.table, panel.gate.lock_in(front="down 420 kg",
    rear="up 100 kg"), panel.gate.reveal().
    case        lends tires, drive, stance and nose; the rest is typed or read from the record
    """
    return MowOrUnhook(case, record=record, gated=gated)
