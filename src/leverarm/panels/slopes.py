"""Across a slope with the loader: how far it leans, and where gravity crosses the line."""

from html import escape

from leverarm import stability
from leverarm.machine import Tractor
from leverarm.panels.arms_up import LoaderPanel, NumberRow, cautions_list
from leverarm.panels.base import picture_html, set_if_changed
from leverarm.panels.gate import asked_first
from leverarm.quantities import show_number
from leverarm.scene.tilt import base_plan, slope_section


class Sideways(LoaderPanel):
    """Load, height, side slope, turn: the base from above, the machine from behind, the tilts that
    matter.

    tilt        stability.SideTilt shown
    """

    questions, why = asked_first("slope_across", "tilt")

    def __init__(
        self,
        tractor: Tractor | None,
        loader: stability.Loader | None,
        stance: stability.Stance | None,
        *,
        gated: bool,
    ) -> None:
        self._stance = stance or stability.demo_stance()
        super().__init__(tractor, loader, gated=gated)

    def rows(self) -> tuple[NumberRow, ...]:
        return (
            ("load", "Load in bucket", "weight", "450 lb", 0, 600),
            self.height_row(2.2),
            ("slope", "Slope to the left", "angle", 8, 0, 35),
            ("radius", "Turning radius", "length", 4, 1.5, 30),
        )

    def _tilt(self, angle):
        return stability.side_tilt(
            self._tractor, *self._loader.at(angle, self.values["load"]), stance=self._stance
        )

    @property
    def tilt(self) -> stability.SideTilt:
        """The machine as shown."""
        return self._tilt(self.angle_deg)

    @property
    def low_tilt(self) -> stability.SideTilt:
        """The same with the arms low."""
        return self._tilt(self._loader.lowest_deg)

    def draw(self) -> None:
        tilt, low, slope = self.tilt, self.low_tilt, self.values["slope"]
        views = [
            slope_section(
                tilt, self._stance, side_deg=slope, system=self.system, hidden=self.hidden
            ),
            base_plan(
                tilt,
                self._stance,
                self._tractor.wheelbase_m,
                side_deg=slope,
                system=self.system,
                hidden=self.hidden,
            ),
        ]
        words = self._promise(low) if self.hidden else self._words(tilt, low, slope)
        set_if_changed(
            self.out,
            picture_html(views[0], self, "a")
            + words
            + picture_html(views[1], self, "b")
            + cautions_list(stability.SLOPE_CAUTIONS),
        )

    def _promise(self, low):
        return (
            '<p class="lv-say">With the arms low the tipping line is crossed at '
            f"<b>{self._degrees(low.line_deg)}</b>. "
            "Predict how raising them changes that, then lock it in.</p>"
        )

    def _words(self, tilt, low, slope):
        state = "past the tipping line" if slope >= tilt.line_deg else "inside the tipping line"
        speed = stability.turning_speed(tilt, self.values["radius"], side_deg=slope)
        said = self.predictions.get("tilt")
        yours = f" You said {show_number(said, 1, sign=True)}°." if said is not None else ""
        return (
            '<p class="lv-say">The tipping line is crossed at '
            f"<b>{self._degrees(tilt.line_deg)}</b>; with the arms low, at "
            f"{self._degrees(low.line_deg)}.{yours} On this slope of {self._degrees(slope)} "
            f"gravity points {state}. {self._stop(tilt)}</p><p>{self._turn(speed)} The static "
            f"stability factor is {show_number(tilt.factor, 2)}; it leaves the pin out. "
            f"It tips soonest where the slope falls {self._degrees(tilt.weakest_heading_deg)} from "
            f"straight ahead: at {self._degrees(tilt.weakest_deg)}. {escape(stability.SIDE_FORCE)}"
            f"</p><p>This is for the load and height told above, standing still. Left out: "
            f"{escape('; '.join(stability.LEFT_OUT))}. Each makes it tip sooner. "
            f"{escape(stability.RIGID_FLATTERS)}</p>"
        )

    def _stop(self, tilt):
        if tilt.stop_deg <= tilt.line_deg:
            return (
                "Swung onto its axle stop it is past the four-corner line as well: the stop "
                "does not hold it."
            )
        return (
            "Past the line the body swings onto its axle stop. Standing still there it would "
            f"hold to {self._degrees(tilt.stop_deg)}, but it arrives with speed."
        )

    def _turn(self, speed):
        if not speed:
            return "On this slope it is past the tipping line even standing still."
        return (
            f"A steady turn of radius {self.say(self.values['radius'], 'length')}, outside "
            f"downhill, brings it to the line at <b>{self.say(speed, 'speed')}</b>."
        )

    @staticmethod
    def _degrees(value):
        return f"{show_number(value)}°"


def sideways(
    tractor: Tractor | None = None,
    loader: stability.Loader | None = None,
    stance: stability.Stance | None = None,
    *,
    gated: bool = False,
) -> Sideways:
    """Across a slope.

    In code: panel.set(load="200 kg", height="2.2 m", slope="8 deg", radius="4 m"), panel.tilt,
    panel.low_tilt.
    """
    return Sideways(tractor, loader, stance, gated=gated)
