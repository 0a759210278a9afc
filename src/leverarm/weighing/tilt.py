"""A machine that does not stand level: pads under one axle, or an axle lifted on purpose."""

from leverarm.quantities import Refusal
from leverarm.weighing.formulas import slope_of_rise, tilt_transfer
from leverarm.weighing.readings import measured

MOST_RISE_M = 1.0


class Tilt:
    """How much higher the front wheels stand than the rear ones, and where the center of gravity is.

    rise                front above rear, "50 mm"; negative for pads under the rear axle alone
    u_rise              its standard uncertainty
    height_above_axles  of the center of gravity above the line through the axle centers
    u_height            its standard uncertainty
    Readings are corrected by what the tilt moved, and carry the uncertainty of that.

    >>> low, high = Tilt("50 mm", "2 mm", "0.30 m", "0.05 m").levelled(592.3, 807.7, 1.65)
    >>> round(low.value), round(high.value)
    (600, 800)
    """

    def __init__(self, rise=0.0, u_rise=0.0, height_above_axles=0.0, u_height=0.0):
        self.rise = measured(
            rise,
            "length",
            "rise of the front wheels",
            u_rise,
            low=-MOST_RISE_M,
            high=MOST_RISE_M,
            cause="tilt",
        )
        self.height = measured(
            height_above_axles,
            "length",
            "height above the axle centers",
            u_height,
            low=-MOST_RISE_M,
            high=5,
            cause="tilt",
        )

    def levelled(self, front, rear, wheelbase):
        """The readings the machine would have given level: the tilt's transfer put back.

        Its wheels are taken as equally large; the wheelbase is the distance of the axle centers.
        """
        moved = self._moved(front, rear, wheelbase)
        return front + moved, rear - moved

    def tilted(self, front, rear, wheelbase):
        """The other way: what level loads become on these pads."""
        moved = self._moved(front, rear, wheelbase)
        return front - moved, rear + moved

    def _moved(self, front, rear, wheelbase):
        return tilt_transfer(
            front + rear, self.height, slope_of_rise(self.rise, wheelbase), wheelbase
        )


def levelled(tilt, front, rear, wheelbase):
    """Readings put back level, where a tilt was told and both axles were read."""
    if tilt is None:
        return front, rear
    if front is None or rear is None:
        raise Refusal(
            "tilt",
            "one axle only",
            "a tilt with both axles read",
            "read both axles, or weigh level",
        )
    return tilt.levelled(front, rear, wheelbase)
