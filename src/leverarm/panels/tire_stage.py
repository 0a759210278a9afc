"""The ground under a front tire in a notebook: said first, then seen, then moved."""

from collections.abc import Mapping
from types import MappingProxyType

from leverarm.axles import predict
from leverarm.ground import ContactPatch, demo_patch
from leverarm.machine import Attachment, Tractor, demo_loader, demo_tractor
from leverarm.panels.said_first import SaidFirst
from leverarm.quantities import Refusal
from leverarm.stage.under_tire import WAYS, UnderTireGuess, UnderTireSeen
from leverarm.stage.under_tire_case import TireOnGround, UnderTireCase


class TireStage(SaidFirst):
    """A loader goes on: what the pressure under a front tire does, and how deep stress reaches.

    result      TireOnGround as shown: load, contact patch, mean pressure
    """

    acts = UnderTireGuess, UnderTireSeen
    asked = ("pressure", "reach")
    kinds: Mapping[str, str] = MappingProxyType({"pressure": "pressure"})
    ways: Mapping[str, Mapping[str, float]] = MappingProxyType({"reach": WAYS})

    def __init__(
        self,
        tractor: Tractor | None = None,
        loader: tuple[Attachment, ...] | None = None,
        patch: ContactPatch | None = None,
        lesson: str = "",
    ) -> None:
        self._tractor = tractor or demo_tractor()
        self._loader = demo_loader() if loader is None else loader
        self._patch = patch or demo_patch()
        super().__init__(lesson)

    @property
    def case(self) -> UnderTireCase:
        """The axle weighed twice, and the contact patch."""
        loads = predict(self._tractor), predict(self._tractor, *self._loader)
        bare, on = (one.front_kg for one in loads)
        return UnderTireCase(bare, on, self._patch, self.system, self.sheets)

    def limits(self, _name: str) -> tuple[float, float]:
        reach = self.case.in_base(self.case.said[0].high, "pressure")
        return -reach, reach

    def _not_all_said(self, given: str) -> Refusal:
        return Refusal("prediction", given, "pressure and reach", "say both first")

    @property
    def result(self) -> TireOnGround:
        """The right tire as shown; refused until the prediction is locked in."""
        if not self.locked:
            raise Refusal("result", "no prediction", "both answers", "lock them in")
        return self.case.of(self.state)


def tire_stage(
    tractor: Tractor | None = None,
    loader: tuple[Attachment, ...] | None = None,
    patch: ContactPatch | None = None,
    *,
    lesson: str = "",
) -> TireStage:
    """The ground under a front tire, loader off and on; what answers comes after the lock.

    lesson      its number, where what is said shall be kept beside the notebook
    In code: panel.lock_in(pressure="+5 psi", reach="deeper"), panel.explain("…"), panel.free(),
    panel.move(gauge=15), panel.result, panel.said.
    """
    return TireStage(tractor, loader, patch, lesson)
