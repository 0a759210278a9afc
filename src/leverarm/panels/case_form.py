"""The controls that tell a Case: the machine, its mower, the job, and what the manual says."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import ipywidgets as w

from leverarm import decision, stability
from leverarm.driveline import Mowing
from leverarm.panels.base import grid, row, set_if_changed
from leverarm.panels.controls import choice, dropdown, number_boxes, text_box
from leverarm.panels.day_choice import FOLDER, DayChoice
from leverarm.panels.gate import Gated
from leverarm.quantities import Refusal
from leverarm.uncertainty import uncertain
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
LOWEST_M = 0.2
Box = tuple[str, str, str, float, float, float]


def _weight(key: str, label: str, hung: decision.Piece | None, low: float = 0) -> Box:
    return key, label, "weight", hung.weight.value if hung else low, low, 2000


def _ahead(key: str, label: str, hung: decision.Piece | None, low: float, high: float) -> Box:
    return key, label, "length", hung.ahead.value if hung else low, low, high


def groups(case: decision.Case) -> dict[str, tuple[Box, ...]]:
    """The boxes of each group, (key, label, kind, value, lowest, highest), with a Case's numbers;
    where it has none, the value is the lowest, which counts as not told.
    """
    job, manual, mower = case.job, case.manual, case.mower
    mows = case.drive.mowing if case.drive else None
    carried, at_work = (mower.carried, mower.at_work) if mower else (None, None)

    bucket, frame, ballast = case.bucket, case.loader, case.ballast
    behind = -(ballast.ahead + case.wheelbase).value if ballast else 0.0
    height = LOWEST_M if case.height_m is None else case.height_m
    return {
        "machine": (
            ("wheelbase", "Wheelbase", "length", case.wheelbase.value, 0.5, 5),
            ("front", "Bare front reading", "weight", case.front.value, 1, 5000),
            ("rear", "Bare rear reading", "weight", case.rear.value, 1, 5000),
            ("height", "Height of center of gravity", "length", height, LOWEST_M, 2),
            _weight("bucket", "Bucket", bucket),
            _ahead("bucket_ahead", "Bucket, overhang", bucket, -1, 4),
            _weight("frame", "Loader frame", frame, 1),
            _ahead("frame_ahead", "Loader frame, overhang", frame, -2, 3),
            _weight("ballast", "Ballast", ballast),
            ("ballast_behind", "Ballast, behind", "length", behind, 0, 3),
        ),
        "mower": (
            _weight("mower", "Mower, carried", carried),
            _ahead("mower_ahead", "Mower, ahead", carried, -6, 2),
            _weight("at_work", "Part still carried at work", at_work),
        ),
        "job": (
            ("slope", "Slope of the job", "angle", job.slope_deg, 0, 25),
            ("bucket_minutes", "Minutes, bucket", "number", job.bucket_minutes, 1, 240),
            ("loader_minutes", "Minutes, loader", "number", job.loader_minutes, 1, 480),
            ("ballast_minutes", "Minutes, ballast", "number", job.ballast_minutes, 1, 240),
            ("mowings", "Mowings in between", "number", job.mowings, 1, 100),
            ("run", "Length of a run", "distance", mows.run_m if mows else 0, 0, 1000),
            ("turn_radius", "Turning radius", "distance", mows.radius_m if mows else 0, 0, 30),
        ),
        "manual": (
            ("front_least", "Least front share", "share", manual.front_least or 0, 0, 60),
            ("rear_least", "Least rear share", "share", manual.rear_least or 0, 0, 60),
        ),
    }


GROUPS = groups(decision.demo_case())
# How it mows: what the front drive's slipping is worked out from.
MOWING = ("run", "turn_radius")
# The width of a strip cancels in what one set-up slips beside another.
ANY_WIDTH_M = 1.0
# Without these there is no machine; where they stand at their lowest they were not told.
NEEDED = ("wheelbase", "front", "rear", "frame", "frame_ahead")
# Typing a mower kind sets where such a mower usually hangs on the invented machine.
USUAL = {kind: decision.demo_mower(kind) for kind in decision.MOWERS}


class CaseForm(Gated):
    """A gated panel whose controls tell a Case.

    case        decision.Case as told
    source      "demo": the invented machine, or the case handed in, with what is changed here;
                "typed": a machine of one's own;  "record": a machine and day that was weighed
    Of a machine of one's own nothing is lent: what was not told is absent.
    """

    def __init__(
        self, case: decision.Case | None = None, *, record: str | Path = FOLDER, gated: bool = True
    ) -> None:
        self._shown, self._record = case or decision.demo_case(), record
        self._boxes = groups(self._shown)
        super().__init__(gated=gated)

    def form(self) -> list[w.Widget]:
        """The controls, one group shown at a time."""
        rows = [
            (*box, *((1, 0) if box[0] in WHOLE else (None, None)))
            for group in self._boxes.values()
            for box in group
        ]
        # How it mows moves one ratio by a few hundredths: a slider there would seem dead.
        slid = [row for row in rows if row[0] not in MOWING]
        boxed = [row for row in rows if row[0] in MOWING]
        self.numbers = number_boxes(slid, self.redraw, slider=True)
        self.numbers |= number_boxes(boxed, self.redraw)
        more = (
            self._record_controls(),
            self._mower_controls(),
            self._job_controls(),
            self._manual_controls(),
        )
        self._groups = {
            name: w.VBox([grid(*(self.numbers[key].widget for key, *_ in group)), *others])
            for (name, group), others in zip(self._boxes.items(), more)
        }
        self.pages = choice(
            "Change:", [(name, name) for name in GROUPS], "machine", on_change=self._page
        )
        self._page("machine")
        return [self.pages, *self._groups.values()]

    def _record_controls(self) -> list[w.Widget]:
        self.sources = choice(
            "Numbers from:",
            [
                (self._shown.name, "demo"),
                ("my machine, typed here", "typed"),
                ("the weigh-day record", "record"),
            ],
            "demo",
            on_change=self._source_chosen,
        )
        self.place = text_box("Weigh-day folder", on_change=self.redraw)
        self.place.value = str(self._record)
        self.day_choice = DayChoice(self._record, self.redraw, demo=False)
        return [self.sources, self.place, self.day_choice.widget]

    def _mower_controls(self) -> list[w.Widget]:
        kind = self._shown.mower.kind if self._shown.mower else "none"
        self.mowers = choice("Mower:", list(MOWERS), kind, on_change=self._mower_chosen)
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
        """A machine of one's own starts with nothing told; the one shown has all its numbers."""
        own = source != "demo"
        for name in ("machine", "manual"):
            for key, _, _, value, low, _ in self._boxes[name]:
                self.numbers[key].hold(low if own else value)
        for key, _, _, value, low, _ in self._boxes["job"]:
            if key in MOWING:
                self.numbers[key].hold(low if own else value)
        kind = "none" if own or not self._shown.mower else self._shown.mower.kind
        set_if_changed(self.mowers, kind)
        self._mower_chosen(kind)

    def _mower_chosen(self, kind: str) -> None:
        """Put the numbers of such an invented mower in, or none for a machine of one's own."""
        usual = USUAL.get(kind) if self.source == "demo" else None
        for key, _, _, _, low, _ in self._boxes["mower"]:
            self.numbers[key].hold(low)
        if usual and usual.carried:
            self.numbers["mower"].hold(usual.carried.weight.value)
            self.numbers["mower_ahead"].hold(usual.carried.ahead.value)
        if usual and usual.at_work:
            self.numbers["at_work"].hold(usual.at_work.weight.value)
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
        return self._typed(told) if self.source == "typed" else self._changed(told)

    @property
    def not_typed(self) -> tuple[str, ...]:
        """Labels of the boxes that a machine of one's own needs and that were not filled in."""
        needed = {*NEEDED, *(("bucket_ahead",) if self.values["bucket"] else ())}
        return tuple(
            label
            for key, label, _, _, low, _ in self._boxes["machine"]
            if key in needed and self.values[key] == low
        )

    def _changed(self, told: dict[str, Any]) -> decision.Case:
        """The machine shown, with the numbers that were changed here; all else is its own."""
        v, was = self.values, self._shown
        base = uncertain(v["wheelbase"], U_TAPE_M, "wheelbase", cause="tape")
        ballast = v["ballast"] and decision.behind(
            "ballast",
            v["ballast"],
            v["ballast_behind"],
            base,
            was.ballast.height_m if was.ballast else None,
            u_weight=U_WEIGHT_KG,
            u_distance=U_AHEAD_M,
        )
        frame = self._piece("frame", "loader frame", was.loader)
        assert frame is not None  # its box begins above zero
        return decision.case(
            was.name,
            base,
            v["front"],
            v["rear"],
            v["height"] if was.height_m or v["height"] > LOWEST_M else None,
            u_reading=U_WEIGHT_KG,
            nose=was.nose_m,
            loader=frame,
            bucket=self._piece("bucket", "bucket", was.bucket),
            ballast=ballast or None,
            tires=was.tires,
            stance=was.stance,
            drive=was.drive and replace(was.drive, engaged=self.drive.value, mowing=self._mowing()),
            arms=self._arms(),
            **told,
        )

    def _piece(self, key: str, name: str, had: decision.Piece | None) -> decision.Piece | None:
        """A piece of the machine shown, its height and reach kept; None without weight."""
        kg, ahead = self.values[key], self.values[f"{key}_ahead"]
        if not kg:
            return None
        height, reach = (had.height_m, had.reach_m) if had else (None, None)
        return decision.piece(
            name,
            kg,
            ahead,
            height,
            reach=reach + ahead - had.ahead.value if had and reach is not None else None,
            u_weight=U_WEIGHT_KG,
            u_ahead=U_AHEAD_M,
        )

    def _arms(self) -> Any:
        """The arms of the machine shown, as long as frame and bucket are its own too."""
        v = self.values
        pieces = ((self._shown.loader, "frame"), (self._shown.bucket, "bucket"))
        same = all(
            hung is not None
            and (hung.weight.value, hung.ahead.value) == (v[key], v[f"{key}_ahead"])
            for hung, key in pieces
        )
        return self._shown.arms if same else None

    def _typed(self, told: dict[str, Any]) -> decision.Case:
        """A machine of one's own, as its numbers stand in the boxes; no plus or minus was told."""
        if self.not_typed:
            raise Refusal(
                "your machine",
                "not every number it needs",
                "a machine with every number of its own",
                "type these under Change: machine: "
                + "; ".join(label.lower() for label in self.not_typed),
            )
        v = self.values
        bucket = decision.piece("bucket", v["bucket"], v["bucket_ahead"]) if v["bucket"] else None
        ballast = (
            decision.behind("ballast", v["ballast"], v["ballast_behind"], v["wheelbase"])
            if v["ballast"]
            else None
        )
        return decision.case(
            "Your machine",
            v["wheelbase"],
            v["front"],
            v["rear"],
            v["height"] if v["height"] > LOWEST_M else None,
            loader=decision.piece("loader frame", v["frame"], v["frame_ahead"]),
            bucket=bucket,
            ballast=ballast,
            drive=self._drive_out(),
            **told,
        )

    def _weighed(self, told: dict[str, Any]) -> decision.Case:
        """The machine as a weigh day found it: what neither the record nor a control tells is
        absent.
        """
        self.day_choice.path = Path(self.place.value.strip() or FOLDER)
        return self.day_choice.case(drive=self._drive_out(), mowing=self._mowing(), **told)

    def _mowing(self) -> Mowing | None:
        """How it mows; None until run and radius were told."""
        run, radius = (self.values[key] for key in MOWING)
        return Mowing(ANY_WIDTH_M, run, radius) if run and radius else None

    def _drive_out(self) -> decision.FrontDrive | None:
        """The front drive of a machine of one's own: out, or not told."""
        return None if self.drive.value else decision.FrontDrive(engaged=False)

    def _mower(self) -> decision.Mower | None:
        v, kind = self.values, self.mowers.value
        if kind == "none":
            return None
        own = self.source != "demo"
        lowest = {key: low for key, _, _, _, low, _ in self._boxes["mower"]}
        missing = [
            name
            for name, key in (("weight", "mower"), ("place", "mower_ahead"))
            if v[key] == lowest[key] and (kind != "trailed" or v["mower"])
        ]
        if own and missing:
            raise Refusal(
                "your mower",
                f"no {' and no '.join(missing)}",
                "a mower with its own weight and place",
                "type them under Change: mower, or choose none if it was weighed with the machine",
            )
        sure = {} if own else {"u_weight": U_WEIGHT_KG, "u_ahead": U_AHEAD_M}

        def piece(kg: float) -> decision.Piece | None:
            height = None if own else 0.45
            return decision.piece("mower", kg, v["mower_ahead"], height, **sure) if kg else None

        carried = piece(v["mower"])
        return decision.Mower(
            kind, carried, carried if v["at_work"] == v["mower"] else piece(v["at_work"])
        )

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
