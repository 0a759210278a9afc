"""The picture of a loader that comes off piece by piece."""

from leverarm.axles import AxleLoads, predict
from leverarm.machine import Attachment, Tractor, demo_loader, demo_tractor
from leverarm.panels.said_first import SaidFirst
from leverarm.quantities import Refusal
from leverarm.stage.strip import StripGuess, StripWeighed
from leverarm.stage.strip_case import StripCase


class StripStage(SaidFirst):
    """The frame comes off after the bucket: say the front's change, lock it in, lift the pieces.

    loaded, bare    AxleLoads with everything on, and of the tractor alone
    """

    acts = StripGuess, StripWeighed
    asked = ("front",)

    def __init__(
        self,
        tractor: Tractor | None = None,
        pieces: tuple[Attachment, Attachment] | None = None,
        lesson: str = "",
    ) -> None:
        self._tractor, self._pieces = tractor or demo_tractor(), pieces or demo_loader()
        super().__init__(lesson)

    @property
    def case(self) -> StripCase:
        """The tractor, the loader frame and the bucket."""
        return StripCase(self._tractor, *self._pieces, self.system, self.sheets)

    @property
    def most_kg(self) -> float:
        return 3 * self._pieces[0].weight_kg

    @property
    def loaded(self) -> AxleLoads:
        """What the scales read with everything on."""
        return predict(self._tractor, *self._pieces)

    @property
    def bare(self) -> AxleLoads:
        """What the scales read under the tractor alone; refused until the change is locked in."""
        if not self.locked:
            raise Refusal("bare", "no prediction", "a prediction for the front scale", "lock in")
        return predict(self._tractor)


def strip_stage(
    tractor: Tractor | None = None,
    pieces: tuple[Attachment, Attachment] | None = None,
    *,
    lesson: str = "",
) -> StripStage:
    """The picture of a loader that comes off; what answers comes after the lock.

    pieces      the loader frame and what hangs on it
    lesson      its number, where what is said shall be kept beside the notebook
    In code: panel.lock_in(front="-506 lb"), panel.explain("…"), panel.free(), panel.bare.
    """
    return StripStage(tractor, pieces, lesson)
