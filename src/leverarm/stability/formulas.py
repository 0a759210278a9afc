"""Tipping, gripping and turning: the bare formulas, on top of :mod:`leverarm.statics`.

Each is one line of plain arithmetic that runs on floats, arrays, uncertain
numbers and sympy symbols.  ``x`` is measured ahead of the front axle, ``h`` above
the ground the wheels stand on, ``c`` and ``s`` are the cosine and sine of a grade.

Letters: x, y place of a point on a turning arm, L wheelbase, mu friction, d a
slowing as a fraction of free fall, R radius of a turn, g gravity.
"""

from collections.abc import Sequence

from leverarm.numerals import Numeric
from leverarm.statics import front_gain, ground_force, moment, rear_change


def turned_ahead(x: Numeric, y: Numeric, c: Numeric, s: Numeric) -> Numeric:
    """How far ahead of its pivot a point of a turning arm lies.

    Equation    X = x c - y s
    x, y        along the arm and square to it (up when the arm is level), meters
    c, s        cosine and sine of the arm's angle above level
    Valid       a rigid arm on a fixed pivot
    Source      rotation of a plane

    >>> turned_ahead(2.0, 0.5, 0.0, 1.0)
    -0.5
    """
    return x * c - y * s


def turned_up(x: Numeric, y: Numeric, c: Numeric, s: Numeric) -> Numeric:
    """How far above its pivot a point of a turning arm lies.

    Equation    Y = x s + y c
    x, y        along the arm and square to it (up when the arm is level), meters
    c, s        cosine and sine of the arm's angle above level
    Valid       a rigid arm on a fixed pivot
    Source      rotation of a plane

    >>> turned_up(2.0, 0.5, 0.0, 1.0)
    2.0
    """
    return x * s + y * c


def moment_sum(weights: Sequence[Numeric], places: Sequence[Numeric]) -> Numeric:
    """Sum of the moments of several weights along one axis.

    Equation    M = sum W x
    weights, places   kg and meters, one each, in the same order
    Errors      ValueError where the lists differ in length
    Source      superposition of moment

    >>> moment_sum([100, 50], [2.0, 4.0])
    400.0
    """
    return sum(moment(W, x) for W, x in zip(weights, places, strict=True))


def mean_place(weights: Sequence[Numeric], places: Sequence[Numeric]) -> Numeric:
    """Where the common center of gravity of several weights lies, along one axis.

    Equation    x = sum W x / sum W
    weights, places   kg and meters, one each, in the same order
    Errors      as moment_sum; ZeroDivisionError for no weight
    Source      the moment of the whole is the sum of the moments

    >>> mean_place([1400, 100], [-0.9, 0.6])
    -0.8
    """
    return moment_sum(weights, places) / sum(weights)


def tipping_tangent(arm: Numeric, height: Numeric) -> Numeric:
    """Tangent of the slope at which the center of gravity crosses a tipping line.

    Equation    tan = arm / height: moments about the line are zero
    arm         level distance from the center of gravity in to the line, meters
    height      of the center of gravity above the line, meters
    Sign        arm <= 0: it stands past the line on level ground already
    Valid       rigid machine standing still; tires and ground give, so the real angle is smaller
    Errors      ZeroDivisionError for height 0: such a machine slides and never tips
    Source      Jazar, Vehicle Dynamics, sec. 2.2 (tan = a2/h); Hibbeler, Statics 14e, P11-43

    >>> tipping_tangent(0.5, 1.0)
    0.5
    """
    return arm / height


def static_stability_factor(track: Numeric, height: Numeric) -> Numeric:
    """Half the track over the height of the center of gravity: how wide a machine is for how high.

    Equation    SSF = track / (2 height)
    track, height   meters
    Valid       four fixed corners; it leaves out that the front axle pivots
    Errors      ZeroDivisionError for height 0
    Source      NHTSA, rollover resistance ratings

    >>> static_stability_factor(1.4, 0.7)
    1.0
    """
    return tipping_tangent(track / 2, height)


def between_axles(front: Numeric, rear: Numeric, x: Numeric, L: Numeric) -> Numeric:
    """A line's value at a station, from its values at the two axles.

    Equation    v = front (1 + x/L) - rear x/L, the lever law once more
    front, rear   values at the axles: half a base, a height; x  station ahead of the front axle
    Valid       a straight line from one end to the other
    Source      front_gain and rear_change: two similar triangles

    >>> between_axles(0.0, 0.6, -0.75, 1.5)
    0.3
    """
    return front_gain(front, x, L) + rear_change(rear, x, L)


def slope_push(W: Numeric, s: Numeric, d: Numeric, P: Numeric = 0) -> Numeric:
    """Force that the ground must supply through brakes or drive: the pull of the grade, the
    slowing and the drawbar together.

    Equation    T = W s + P - W d; a slowing machine acts as on a grade steeper by d
    W           weight, kg; s  sine of the grade, nose uphill positive
    d           slowing over gravity, positive when a machine rolling nose first loses speed,
                negative when it gains
    P           rearward pull at the drawbar, 0 for none, in the unit of W
    Sign        T > 0 points forward; nose downhill it is negative, and holds the machine back
    Valid       steady slowing, rolling resistance left out
    Source      d'Alembert: the inertia force W d acts forward at the center of gravity

    >>> slope_push(1000, -0.25, 0.25)
    -500.0
    """
    return ground_force(W, s, P - W * d)


def friction_demand(push: Numeric, load: Numeric) -> Numeric:
    """Friction an axle needs to carry a force along the ground.

    Equation    mu = push / load
    push, load  along and square to the ground, one unit
    Valid       the braked wheels hold all of the push
    Errors      ZeroDivisionError for an axle that carries nothing: it can hold nothing
    Source      Coulomb's law

    >>> friction_demand(200, 500)
    0.4
    """
    return push / load


def holding_tangent(k: Numeric, rise: Numeric, mu: Numeric) -> Numeric:
    """Tangent of the steepest grade that one braked axle holds.

    Equation    tan = mu k / (1 - mu rise)
    k           that axle's share of the weight on level ground, as a fraction
    rise        height of the center of gravity over the wheelbase: positive where the grade
                loads the braked axle, negative where it unloads it
    mu          friction there is
    Valid       standing or rolling steadily; the other axle rolls free
    Errors      ZeroDivisionError at mu rise = 1; from there the machine tips before it slides
    Source      Jazar, Vehicle Dynamics, sec. 2.2; equal to friction_demand = mu, solved for the
                grade

    >>> holding_tangent(0.5, -0.25, 0.4)
    0.18181818181818182
    """
    return mu * k / (1 - mu * rise)


def tipping_speed(tangent: Numeric, R: Numeric, c: Numeric, s: Numeric, g: Numeric) -> Numeric:
    """Speed at which a steady turn brings the center of gravity over the outer tipping line.

    Equation    v = sqrt(g R (c tan - s)), meters per second
    tangent     tipping_tangent on the outer side; R  radius of the turn, meters
    c, s        cosine and sine of the side slope, outer side downhill positive; g  gravity, m/s2
    Valid       smooth firm ground, steady turn, no sliding, no bump: the real limit is lower
    Source      NHTSA (SSF is the sideways pull in g that tips a rigid vehicle); circular motion

    >>> tipping_speed(0.5, 8.0, 1.0, 0.0, 9.0)
    6.0
    """
    return (g * R * (c * tangent - s)) ** 0.5


def rated_load(tipping: Numeric, k: Numeric) -> Numeric:
    """A rated load as a fraction of the tipping load: practice, not permission.

    Equation    W = k W_tip; k = 0.5 on wheels, 0.35 on tracks
    Valid       earth-moving loaders; a farm loader's own manual gives its figure
    Source      SAE J818, since 2013 ISO 14397-1, as cited in loader manuals

    >>> rated_load(800, 0.5)
    400.0
    """
    return k * tipping
