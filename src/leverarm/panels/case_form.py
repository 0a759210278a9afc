"""The controls that tell a Case: the machine, its mower, the job, and what the manual says."""

from pathlib import Path
from typing import Any

import ipywidgets as w

from leverarm import decision, stability
from leverarm.ballast import REAR_SHARE, STEERING_SHARE
from leverarm.panels.base import grid, row
from leverarm.panels.controls import Number, choice, dropdown, text_box
from leverarm.panels.day_choice import FOLDER, DayChoice
from leverarm.panels.gate import Gated
from leverarm.uncertainty import Measured, uncertain
from leverarm.weighing.demo import U_TAPE_M

U_WEIGHT_KG, U_AHEAD_M = 2.0, 0.02
# Counted in whole numbers.
WHOLE = ("bucket_minutes", "loader_minutes", "ballast_minutes", "mowings")
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


def _weight(
    key: str, label: str, hung: decision.Piece, low: float = 0
) -> tuple[str, str, str, float, float, float]:
    return key, label, "weight", hung.weight.value, low, 2000


GROUPS = {
    "machine": (
        ("wheelbase", "Wheelbase", "length", _DEMO.wheelbase.value, 0.5, 5),
        ("front", "Bare front reading", "weight", _DEMO.front.value, 1, 5000),
        ("rear", "Bare rear reading", "weight", _DEMO.rear.value, 1, 5000),
        ("height", "Height of center of gravity", "length", _DEMO.height_m, 0.2, 2),
        _weight("bucket", "Bucket", _DEMO.bucket),
        ("bucket_ahead", "Bucket, overhang", "length", _DEMO.bucket.ahead.value, -1, 4),
        _weight("frame", "Loader frame", _DEMO.loader, 1),
        ("frame_ahead", "Loader frame, overhang", "length", _DEMO.loader.ahead.value, -2, 3),
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
        _weight("at_work", "Part still carried at work", _DECK),
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
# Typing a mower kind sets where such a mower usually hangs on the invented machine.
USUAL = {kind: decision.demo_mower(kind) for kind in decision.MOWERS}


class CaseForm(Gated):
    """A gated panel whose controls tell a Case: typed here, or a machine and day of the record.

    case        decision.Case as told;  source  "typed" or "record"
    """

    def __init__(
        self, case: decision.Case | None = None, *, record: str | Path = FOLDER, gated: bool = True
    ) -> None:
        self._lender, self._record = case or decision.demo_case(), record
        super().__init__(gated=gated)

    def form(self) -> list[w.Widget]:
        """The controls, one group shown at a time."""
        self.numbers = {
            key: Number(
                label,
                kind,
                value,
                low,
                high,
                on_change=self.redraw,
                decimals=0 if key in WHOLE else None,
                step=1 if key in WHOLE else None,
            )
            for group in GROUPS.values()
            for key, label, kind, value, low, high in group
        }
        more = (
            self._record_controls(),
            self._mower_controls(),
            self._job_controls(),
            self._manual_controls(),
        )
        self._groups = {
            name: w.VBox([grid(*(self.numbers[key].widget for key, *_ in group)), *others])
            for (name, group), others in zip(GROUPS.items(), more)
        }
        self.pages = choice(
            "Change:", [(name, name) for name in GROUPS], "machine", on_change=self._page
        )
        self._page("machine")
        return [self.pages, *self._groups.values()]

    def _record_controls(self) -> list[w.Widget]:
        self.sources = choice(
            "Numbers from:",
            [("typed here", "typed"), ("the weigh-day record", "record")],
            "typed",
            on_change=self._source_chosen,
        )
        self.place = text_box("Weigh-day folder", on_change=self.redraw)
        self.place.value = str(self._record)
        self.day_choice = DayChoice(self._record, self.redraw, demo=False)
        return [self.sources, self.place, self.day_choice.widget]

    def _mower_controls(self) -> list[w.Widget]:
        self.mowers = choice("Mower:", list(MOWERS), "mid", on_change=self._mower_chosen)
        return [self.mowers]

    def _job_controls(self) -> list[w.Widget]:
        self.drive = choice(
            "Front drive:", [("in", True), ("out, or none", False)], True, on_change=self.redraw
        )
        self.brakes = choice(
            "Brakes on:", [("rear", "rear"), ("all", "all")], "rear", on_change=self.redraw
        )
        self.surface = dropdown(
            "Ground", list(stability.FRICTION), "wet grass", on_change=self.redraw
        )
        return [self.drive, self.brakes, self.surface]

    def _manual_controls(self) -> list[w.Widget]:
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
        return [self.bucketless, row(*self.ratings.values())]

    def _page(self, name: str) -> None:
        """Show the controls of one group."""
        for key, box in self._groups.items():
            box.layout.display = "" if key == name else "none"

    def _source_chosen(self, source: str) -> None:
        """A record brings no mower and no manual: the demo machine's leave the controls."""
        if source == "record":
            for key in ("front_least", "rear_least"):
                self.numbers[key].hold(0.0)
            self.mowers.value = "none"
        self.redraw()

    def _mower_chosen(self, kind: str) -> None:
        """Put the numbers of such a mower in, as a start."""
        usual = USUAL.get(kind)
        carried = usual and usual.carried
        self.numbers["mower"].hold(carried.weight.value if carried else 0.0)
        self.numbers["at_work"].hold(usual.at_work.weight.value if usual and usual.at_work else 0.0)
        if carried:
            self.numbers["mower_ahead"].hold(round(carried.ahead.value, 3))
        self.redraw()

    @property
    def source(self) -> str:
        """Where the machine's numbers come from."""
        return self.sources.value

    @property
    def case(self) -> decision.Case:
        """The Case that was told."""
        told = {"mower": self._mower(), "job": self._job(), "manual": self._manual()}
        if self.source == "record":
            return self._weighed(told)
        lent = {part: self._lent(part) for part in ("tires", "stance", "nose_m")}
        return self._typed({**told, **lent, "drive": self._front_drive(), "arms": self._arms()})

    def _lent(self, part: str) -> Any:
        """Tires, stance and nose: of the case that was handed in, or of the invented machine."""
        return getattr(self._lender, part)

    def _arms(self) -> Any:
        """The lent loader's arms, as long as frame and bucket are the lent ones too."""
        lender, v = self._lender, self.values
        pieces = ((lender.loader, "frame"), (lender.bucket, "bucket"))
        same = all(
            hung is not None
            and (hung.weight.value, hung.ahead.value) == (v[key], v[f"{key}_ahead"])
            for hung, key in pieces
        )
        return self._lent("arms") if same else None

    def _base(self) -> Measured:
        return uncertain(self.values["wheelbase"], U_TAPE_M, "wheelbase", cause="tape")

    def _typed(self, about: dict[str, Any]) -> decision.Case:
        """The machine as its numbers stand in the boxes."""
        v, base, sure = self.values, self._base(), {"u_weight": U_WEIGHT_KG, "u_ahead": U_AHEAD_M}

        def made(name: str, kg: float, ahead: float, height: float, reach: float) -> decision.Piece:
            return decision.piece(name, kg, ahead, height, reach=reach, **sure)

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
            bucket=made("bucket", v["bucket"], v["bucket_ahead"], 0.35, v["bucket_ahead"] + 0.45)
            if v["bucket"]
            else None,
            ballast=ballast,
            **about,
        )

    def _weighed(self, told: dict[str, Any]) -> decision.Case:
        """The machine as a weigh day found it: what neither the record nor a control tells is
        absent.
        """
        self.day_choice.path = Path(self.place.value.strip() or FOLDER)
        drive = None if self.drive.value else decision.FrontDrive(engaged=False)
        return self.day_choice.case(drive=drive, **told)

    def _mower(self) -> decision.Mower | None:
        v = self.values
        if self.mowers.value == "none":
            return None

        def made(kg: float) -> decision.Piece | None:
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

    def _front_drive(self) -> decision.FrontDrive:
        lent = self._lent("drive")
        return decision.FrontDrive(lent.drive, lent.squash_m, lent.mowing, self.drive.value)

    def _job(self) -> decision.Job:
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

    def _manual(self) -> decision.Manual:
        v = self.values
        read = {key: box.value for key, box in self.ratings.items() if box.value.strip()}
        return decision.Manual(
            v["front_least"] or None,
            v["rear_least"] or None,
            bucket_may_come_off=self.bucketless.value,
            **read,
        )
