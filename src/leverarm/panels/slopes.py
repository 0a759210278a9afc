"""On a slope with the loader: what the brakes need downhill, and how far it leans across."""

from dataclasses import replace
from html import escape

import ipywidgets as w

from leverarm import stability
from leverarm.machine import Attachment, Tractor
from leverarm.panels.arms_up import LoaderPanel, NumberRow, cautions_list
from leverarm.panels.base import picture_html, set_if_changed
from leverarm.panels.controls import choice
from leverarm.panels.gate import asked_first
from leverarm.quantities import show_number
from leverarm.scene import Look
from leverarm.scene.loader_arc import loader_view
from leverarm.scene.tilt import base_plan, friction_chart, slope_section

SURFACES = tuple((f"{name}, {value:.2f}", name) for name, value in stability.FRICTION.items())


class Downhill(LoaderPanel):
    """Load, height, slope, brakes and ground: what each braked axle needs beside what there is.

    braking     stability.Braking shown; friction  of the ground chosen
    """

    questions, why = asked_first("slope_down", "rear")

    def rows(self) -> tuple[NumberRow, ...]:
        return (
            ("load", "Load in bucket", "weight", "450 lb", 0, 1000),
            self.height_row(0.45),
            ("slope", "Slope", "angle", 10, 0, 30),
            ("slowing", "Braking (0.1 is 1 m/s²)", "number", 0, 0, 0.5),
        )

    def choices(self) -> list[w.Widget]:
        self.nose = choice(
            "Nose:", [("downhill", "down"), ("uphill", "up")], "down", on_change=self.redraw
        )
        self.brakes = choice(
            "Brakes on:",
            [("rear wheels", "rear"), ("all four", "all")],
            "rear",
            on_change=self.redraw,
        )
        self.ground = choice(
            "Ground (rough friction):", list(SURFACES), "wet grass", on_change=self.redraw
        )
        return [self.nose, self.brakes, self.ground]

    @property
    def grade_deg(self) -> float:
        """The slope with its sign: nose uphill positive."""
        return self.values["slope"] * (1 if self.nose.value == "up" else -1)

    @property
    def friction(self) -> float:
        """Rough friction of the ground chosen."""
        return float(stability.FRICTION[self.ground.value])

    @property
    def pieces(self) -> tuple[Attachment, ...]:
        """The loader where it is."""
        return self._loader.at(self.angle_deg, self.values["load"])

    @property
    def braking(self) -> stability.Braking:
        """Held, rolling steadily or slowing nose first on this slope."""
        return self._braked(*self.pieces)

    @property
    def bare(self) -> stability.Braking:
        """The same without loader and load."""
        return self._braked()

    def _braked(self, *pieces):
        return stability.brake(
            self._tractor,
            *pieces,
            grade_deg=self.grade_deg,
            slowing=self.values["slowing"],
            brakes=self.brakes.value,
        )

    @property
    def lift_point(self) -> stability.LiftPoint:
        """The machine as shown, its axle loads with what the slowing moves forward."""
        still = stability.lift_point(
            self._tractor,
            self._loader,
            self.angle_deg,
            self.values["load"],
            grade_deg=self.grade_deg,
        )
        return still if still.loads.lift else replace(still, loads=self.braking.loads)

    def draw(self) -> None:
        here = self.lift_point
        view = loader_view(
            self._tractor,
            self._loader,
            here,
            look=Look(self.system, self.hidden, grade_deg=self.grade_deg),
        )
        found = self.braking
        chart = friction_chart(found, self.friction, hidden=self.hidden)
        words = self._promise() if self.hidden else self._words(found)
        set_if_changed(
            self.out,
            picture_html(view, self, "a")
            + words
            + picture_html(chart, self, "b")
            + cautions_list(stability.SLOPE_CAUTIONS),
        )

    def _promise(self):
        need = self.bare.grips[-1].demanded
        return (
            '<p class="lv-say">Without loader and load the rear axle would need a friction of '
            f"<b>{'more than any' if need is None else show_number(need, 2)}</b> here. "
            "Predict how much more it needs now, then lock it in.</p>"
        )

    def _words(self, found):
        slides = [grip.axle for grip in found.grips if grip.slides(self.friction)]
        need = ", ".join(
            f"the {grip.axle} axle needs a friction of <b>{show_number(grip.demanded, 2)}</b>"
            if grip.demanded is not None
            else f"the {grip.axle} axle carries nothing and holds nothing"
            for grip in found.grips
        )
        end = (
            f"There is about {show_number(self.friction, 2)}: the {' and '.join(slides)} wheels "
            "slide, and the machine slides away."
            if slides
            else f"There is about {show_number(self.friction, 2)}: in this model the wheels hold. "
            "Bumps and mud are not in it."
        )
        return (
            f'<p class="lv-say">To hold {self.say(found.push_kg)} along the slope {need}. {end}'
            "</p>"
            f"<p>{self._steepest()} A wheel that slides has lost its side grip as well: when the "
            "rear slides, the machine swings around until it stands across the slope, and when the "
            "front slides, it does not steer. The friction of real ground varies more than this "
            "list.</p>"
        )

    def _steepest(self):
        """How steep it gets before the wheels slide, with the brakes chosen and with the other
        choice.
        """
        said = []
        for brakes, name in (("rear", "rear brakes alone"), ("all", "all four")):
            limit = stability.holding(
                self._tractor,
                *self.pieces,
                friction=self.friction,
                brakes=brakes,
                nose=self.nose.value,
            )
            said.append(
                f"it tips at {show_number(limit.tips_deg)}° before {name} slide"
                if limit.slides_deg is None
                else f"{name} slide at {show_number(limit.slides_deg)}°"
            )
        return f"Held or rolling steadily, in this model, on this ground: {'; '.join(said)}."


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


def downhill(
    tractor: Tractor | None = None, loader: stability.Loader | None = None, *, gated: bool = False
) -> Downhill:
    """Brakes on a slope.

    In code: panel.set(load="200 kg", slope="10 deg", slowing=0.1), panel.nose.value = "up",
    panel.brakes.value = "all",
    panel.ground.value = "gravel", panel.braking, panel.bare.
    """
    return Downhill(tractor, loader, gated=gated)


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
