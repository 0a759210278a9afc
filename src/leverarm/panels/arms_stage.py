"""The picture of a loader that lifts what is in its bucket."""

from leverarm.axles import AxleLoads, predict
from leverarm.machine import Attachment, Tractor
from leverarm.panels.said_first import SaidOfLoader
from leverarm.quantities import Refusal, from_unit
from leverarm.stability import Loader
from leverarm.stage.arms import ArmsGuess, ArmsWeighed
from leverarm.stage.arms_case import ArmsCase
from leverarm.stage.case import AXLES

DEMO_LOAD = "600 lb"


class ArmsStage(SaidOfLoader):
    """The arms rise from low to level: say both changes, lock them in, see the scales, move them.

    result      AxleLoads of what is shown;  low  with the arms low
    """

    acts = ArmsGuess, ArmsWeighed

    @property
    def case(self) -> ArmsCase:
        """The tractor, the loader and the load that the picture starts with."""
        return ArmsCase(self._tractor, self._loader, self._load_kg, self.system, self.sheets)

    @property
    def most_kg(self) -> float:
        return 1.5 * self._load_kg

    @property
    def tractor(self) -> Tractor:
        """The bare tractor shown."""
        if not self.locked:
            return self._tractor
        unit = self.case.units.weight
        front, rear = (from_unit(self.state[axle], "weight", unit) for axle in AXLES)
        return Tractor(self._tractor.name, self._tractor.wheelbase_m, front, rear)

    @property
    def pieces(self) -> tuple[Attachment, ...]:
        """The loader's parts and the load as shown; refused until the prediction is locked in."""
        if not self.locked:
            raise Refusal("result", "no prediction", "a prediction for both scales", "lock in")
        units, (low, _, high) = self.case.units, self.case.heights
        load = from_unit(self.state["load"], "weight", units.weight)
        # The box holds whole steps: an end of the lift may be rounded past itself.
        height = from_unit(self.state["height"], "length", units.length)
        angle = self._loader.angle_at(min(max(height, low), high))
        shown = self._loader.at(angle, load)
        if not self.state["hoist"]:
            return shown
        lowest = self._loader.at(self._loader.lowest_deg, load)
        return tuple(
            Attachment(one.name, one.weight_kg, under.ahead_m, one.height_m)
            for one, under in zip(shown, lowest, strict=True)
        )

    @property
    def low(self) -> AxleLoads:
        """What the scales read with the arms low."""
        load = self._load_kg
        if self.locked:
            load = from_unit(self.state["load"], "weight", self.case.units.weight)
        return predict(self.tractor, *self._loader.at(self._loader.lowest_deg, load))

    @property
    def result(self) -> AxleLoads:
        """What the scales read as shown; refused until the prediction is locked in."""
        return predict(self.tractor, *self.pieces)


def arms_stage(
    tractor: Tractor | None = None,
    loader: Loader | None = None,
    load: str | float = DEMO_LOAD,
    *,
    lesson: str = "",
) -> ArmsStage:
    """The picture of a loader on its lift; what answers comes after the lock.

    load        what is in the bucket
    lesson      its number, where what is said shall be kept beside the notebook
    In code: panel.lock_in(front="+200 lb", rear="-200 lb"), panel.explain("…"), panel.free(),
    panel.result, panel.low.
    """
    return ArmsStage(tractor, loader, load, lesson)
