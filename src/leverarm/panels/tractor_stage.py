"""The picture of a piece that goes on a tractor, ahead of the front axle or behind the rear."""

from leverarm.axles import AxleLoads, predict
from leverarm.machine import Attachment, Tractor, demo_ballast, demo_loader, demo_tractor
from leverarm.panels.said_first import SaidFirst
from leverarm.quantities import Refusal, from_unit
from leverarm.stage.case import AXLES, HungCase, ahead_of_front
from leverarm.stage.tractor import Guess, Weighed


class TractorStage(SaidFirst):
    """A piece goes on a tractor: say both changes, lock them in, see the scales, move it.

    result      AxleLoads of what is shown;  bare  of the tractor without the piece
    held        what hangs on the tractor already, and is part of its readings without the piece
    """

    acts = Guess, Weighed

    def __init__(
        self,
        tractor: Tractor | None = None,
        piece: Attachment | None = None,
        lesson: str = "",
        held: tuple[Attachment, ...] = (),
    ) -> None:
        self._tractor, self._piece = tractor or demo_tractor(), piece or demo_loader()[1]
        self._held = held
        super().__init__(lesson)

    @property
    def case(self) -> HungCase:
        """The tractor and the piece that the picture starts with."""
        return HungCase(self._tractor, self._piece, self.system, self.sheets, self._held)

    @property
    def most_kg(self) -> float:
        return 3 * self._piece.weight_kg

    @property
    def tractor(self) -> Tractor:
        """The tractor shown, with what hangs on it already."""
        length = self.case.units.length
        if not self.locked:
            before = predict(self._tractor, *self._held)
            known = self._tractor
            return Tractor(known.name, known.wheelbase_m, before.front_kg, before.rear_kg)
        unit = self.case.units.weight
        front, rear = (from_unit(self.state[axle], "weight", unit) for axle in AXLES)
        wheelbase = from_unit(self.state["wheelbase"], "length", length)
        return Tractor(self._tractor.name, wheelbase, front, rear)

    @property
    def piece(self) -> Attachment | None:
        """The piece shown; None while it weighs nothing."""
        if not self.locked:
            return self._piece
        units = self.case.units
        weight = from_unit(self.state["weight"], "weight", units.weight)
        past = ahead_of_front(self.state, self.case.behind)
        ahead = from_unit(past, "length", units.length)
        return Attachment(self._piece.name, weight, ahead) if weight else None

    @property
    def bare(self) -> AxleLoads:
        """What the scales read without the piece."""
        return predict(self.tractor)

    @property
    def result(self) -> AxleLoads:
        """What the scales read with it; refused until the prediction is locked in."""
        if not self.locked:
            raise Refusal("result", "no prediction", "a prediction for both scales", "lock in")
        return predict(self.tractor, *(one for one in (self.piece,) if one))


def tractor_stage(
    tractor: Tractor | None = None, piece: Attachment | None = None, *, lesson: str = ""
) -> TractorStage:
    """The picture of a piece that goes on a tractor; what answers comes after the lock.

    lesson      its number, where what is said shall be kept beside the notebook
    In code: panel.lock_in(front="+448 lb", rear="-188 lb"), panel.explain("…"), panel.free(),
    panel.result, panel.said.
    """
    return TractorStage(tractor, piece, lesson)


def ballast_stage(
    tractor: Tractor | None = None,
    ballast: Attachment | None = None,
    *,
    held: tuple[Attachment, ...] | None = None,
    lesson: str = "",
) -> TractorStage:
    """The picture of ballast that goes on behind; used as tractor_stage.

    held        what hangs on the tractor already; its loader, unless told
    """
    hung = demo_loader() if held is None else held
    return TractorStage(tractor, ballast or demo_ballast(), lesson, hung)
