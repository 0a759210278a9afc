"""Before weighing: what the scales should show, and how far off that may be."""

from dataclasses import dataclass

from leverarm import statics
from leverarm.machine import MOST_AHEAD_M, MOST_WEIGHT_KG
from leverarm.uncertainty import Measured, plus_minus
from leverarm.weighing.infer import Pair, pair_of
from leverarm.weighing.scales import (
    AXLES,
    LEAST_READING_KG,
    Given,
    Scales,
    Session,
    Tilt,
    leveled,
    read_measured,
    wheelbase_of,
)


@dataclass(frozen=True)
class Forecast:
    """The next readings, front and rear, as Measured: the error of the reading to come is in them.

    They are no readings: the weigh-day record refuses them.
    """

    front: Measured
    rear: Measured

    def holds(self, axle: str, reading_kg: float) -> bool:
        """True where a reading lies within the 95 percent forecast for that axle."""
        low, high = getattr(self, axle).interval()
        return low <= reading_kg <= high

    def sentence(self, system: str | None = None) -> str:
        """The forecast in words."""
        words = (
            f"The scales should show {plus_minus(self.front, 'weight', system)} in front and "
            f"{plus_minus(self.rear, 'weight', system)} at the rear."
        )
        if self.rear.value < LEAST_READING_KG:
            words += (
                " Less than nothing: the rear lifts before that, "
                "and there these equations no longer hold."
            )
        return words


def forecast(
    before: Pair,
    weight: Given,
    ahead: Given,
    wheelbase: Given,
    *,
    u_weight: Given | None = None,
    u_ahead: Given | None = None,
    u_reading: Given | None = None,
    u_wheelbase: Given | None = None,
    scales: Scales | None = None,
    tilt: Tilt | None = None,
) -> Forecast:
    """What both scales will show once a weight is hung on (or, negative, taken off).

    before          (front, rear) readings without it
    weight, ahead   of the piece, with u_weight and u_ahead
    The rest        as for :func:`~leverarm.weighing.infer.infer`
    With the same scales a shared zero cancels; their gain acts on the hung part alone.

    >>> next_ = forecast((600, 800), "110 kg", "1.20 m", "1.65 m", u_weight=3, u_ahead=0.02,
    ...                  u_reading=2, u_wheelbase=0.003)
    >>> f"{next_.front.value:.1f} {next_.front.u:.1f} {next_.rear.value:.1f} {next_.rear.u:.1f}"
    '790.0 6.1 720.0 3.8'
    """
    base = wheelbase_of(wheelbase, u_wheelbase)
    given = dict(
        zip(("front reading before", "rear reading before"), pair_of(before, "readings before"))
    )
    session = Session(scales, u_reading, given)
    W = read_measured(
        weight, "weight", "hung weight", u_weight, low=-MOST_WEIGHT_KG, high=MOST_WEIGHT_KG
    )
    a = read_measured(ahead, "length", "overhang", u_ahead, low=-MOST_AHEAD_M, high=MOST_AHEAD_M)
    front_load, rear_load = session.loads().values()
    front, rear = leveled(tilt, front_load, rear_load, base)
    after = front + statics.front_gain(W, a, base), rear + statics.rear_change(W, a, base)
    after = after if tilt is None else tilt.tilted(*after, base)
    return Forecast(
        *(
            session.to_come(axle, load, f"{axle} reading to come")
            for axle, load in zip(AXLES, after)
        )
    )
