"""Weigh day: from readings to weight, overhang and centre of gravity, with honest uncertainty.
"""

from leverarm.weighing.centre import Centre, Detached, Height, centre_of_gravity, detached, height_by_lifting
from leverarm.weighing.fit import Fit, State, least_squares
from leverarm.weighing.forecast import Forecast, forecast
from leverarm.weighing.hung import Hung, infer
from leverarm.weighing.improve import Improvement, improvements
from leverarm.weighing.readings import Scales, Wheels
from leverarm.weighing.tilt import Tilt

__all__ = ["Centre", "Detached", "Fit", "Forecast", "Height", "Hung", "Improvement", "Scales", "State", "Tilt",
           "Wheels", "centre_of_gravity", "detached", "forecast", "height_by_lifting", "improvements", "infer",
           "least_squares"]
