"""What the yard adds to :mod:`leverarm.statics`: one axle only, and a machine that is tilted.

A tilted machine stands on the ground through its axle centers, so the height that
counts, h, is that of the center of gravity above the line joining them, measured
square to the line.  ``rise`` is how much higher the front axle center stands than
the rear one.
"""

import math
from functools import lru_cache

from leverarm import statics
from leverarm.numerals import Numeric


def weight_from_front(dF: Numeric, a: Numeric, L: Numeric) -> Numeric:
    """Hung weight from the front change alone, its overhang being known.

    Equation    W = dF / (1 + a/L)
    dF          front after minus before, kg; a, L  overhang and wheelbase, one length unit
    Valid       level, nothing else changed; a far from -L, where the front feels nothing
    Errors      ZeroDivisionError for a = -L
    Source      statics.front_gain solved for W

    >>> weight_from_front(200.0, 1.5, 1.5)
    100.0
    """
    return dF / statics.amplification(a, L)


def weight_from_rear(dR: Numeric, a: Numeric, L: Numeric) -> Numeric:
    """Hung weight from the rear change alone, its overhang being known.

    Equation    W = -dR L/a
    dR          rear after minus before, kg; a, L  overhang and wheelbase, one length unit
    Valid       level, nothing else changed; a far from 0, where the rear feels nothing
    Errors      ZeroDivisionError for a = 0
    Source      statics.rear_change solved for W

    >>> weight_from_rear(-100.0, 1.5, 1.5)
    100.0
    """
    return dR / statics.rear_change(1, a, L)


def usual_scatter(step: Numeric, shown: Numeric, gain: Numeric) -> Numeric:
    """Scatter of one reading where it was not told and nothing was repeated.

    Equation    s = max(d, |x| g)/3: a third of the limit of error at this reading, or of a step if
                that is more
    step        d, of the display; shown  x, the reading, in the same unit
    gain        g, limit of error as a part of the reading
    Valid       scales that meet what is stated of them; a windy yard can do worse
    Source      repeated weighings of one load may differ by no more than the limit of error
                (OIML R 76-1, 3.6.1, from memory); ten readings range over about three standard
                deviations

    >>> usual_scatter(1.0, 600.0, 0.005)
    1.0
    """
    return max(step, abs(shown) * gain) / 3


def rounding_left(sigma: float, d: float) -> float:
    """What rounding leaves in the mean of many repeats that scatter: a variance.

    Equation    d^2/(2 pi^2) sum over k of exp(-4 pi^2 k^2 sigma^2/d^2)/k^2
    sigma       standard deviation of the load under the scale, before rounding; d  its step
    Valid       the load's place between two steps is as likely to be one as another
    Limits      d^2/12 where nothing scatters (all repeats are rounded alike), nothing where sigma
                is above half a step or so: scatter averages rounding out
    Source      variance of the mean of a rounded normal variable, by its Fourier series

    >>> round(rounding_left(0.0, 1.0), 4), round(rounding_left(0.5, 1.0), 6)
    (0.0833, 3e-06)
    """
    if not sigma:
        return d**2 / 12
    terms = (math.exp(-((2 * math.pi * k * sigma / d) ** 2)) / k**2 for k in range(1, 2000))
    total = 0.0
    for term in terms:
        total += term
        if term < 1e-9 * total:
            break
    return d**2 / (2 * math.pi**2) * total


@lru_cache(maxsize=1024)
def left_of_scatter(s: float, d: float) -> float:
    """What rounding leaves in the mean, as :func:`rounding_left`, from the scatter that is seen.

    Equation    rounding_left(sigma, d) where s^2 = sigma^2 + d^2/12 - rounding_left(sigma, d)
    s           standard deviation of rounded readings of one load;  d  their step
    Limits      d^2/12 for s = 0; nothing where s is three quarters of a step or more
    Source      law of total variance: a rounded reading varies by sigma^2 + d^2/12 in all, part of
                it about its own mean (s^2), part from one place between two steps to another

    >>> round(left_of_scatter(0.0, 1.0), 4), left_of_scatter(0.8, 1.0)
    (0.0833, 0.0)
    """
    if not d or s >= 0.75 * d:
        return 0.0
    low, high = 0.0, d
    for _ in range(20 if s else 0):
        sigma = (low + high) / 2
        if sigma**2 + d**2 / 12 - rounding_left(sigma, d) < s**2:
            low = sigma
        else:
            high = sigma
    return rounding_left(low, d)


def slope_of_rise(rise: Numeric, D: Numeric) -> Numeric:
    """Slope of the line through the axle centers: the tangent of its tilt, nose up positive.

    Equation    tan = rise / sqrt(D^2 - rise^2)
    rise        front axle center above the rear one; D  distance between the axle centers
    Valid       |rise| < D
    Source      right-angled triangle with D as its long side

    >>> slope_of_rise(3.0, 5.0)
    0.75
    """
    return rise / (D**2 - rise**2) ** 0.5


def center_distance(L: Numeric, rise: Numeric) -> Numeric:
    """Distance between the axle centers, from the level wheelbase and their difference in height.

    Equation    D = sqrt(L^2 + rise^2)

    >>> center_distance(4.0, -3.0)
    5.0
    """
    return (L**2 + rise**2) ** 0.5


def tilt_transfer(W: Numeric, h: Numeric, slope: Numeric, D: Numeric) -> Numeric:
    """What a tilt takes off the front axle and puts on the rear.

    Equation    T = W tan h/D; pads of thickness t under the front wheels give about W h t/D^2
    W           whole weight, kg
    h           height of its center of gravity above the line through the axle centers
    slope       tangent of the tilt, nose up positive; D  distance between the axle centers
    Valid       wheels free to roll, standing still, on level scales
    Source      statics.pull_transfer: along the tilted line the weight pulls rearward with W tan
                for each W pressing on it

    >>> round(tilt_transfer(1400, 0.30, 0.05 / 1.65, 1.65), 2)
    7.71
    """
    return statics.pull_transfer(W * slope, h, D)


def height_from_tilt(T: Numeric, W: Numeric, slope: Numeric, D: Numeric) -> Numeric:
    """Height of the center of gravity above the line of the axle centers, from what a tilt moved.

    Equation    h = T D/(W tan)
    T           load the tilt moved from the front axle to the rear, kg; W  whole weight
    slope       tangent of the tilt, or the change of tangent between two weighings
    D           distance of the axle centers
    Errors      ZeroDivisionError for no tilt: level readings say nothing about height
    Source      tilt_transfer solved for h

    >>> round(height_from_tilt(7.71, 1400, 0.05 / 1.65, 1.65), 2)
    0.3
    """
    return T / tilt_transfer(W, 1, slope, D)
