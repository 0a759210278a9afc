"""Equilibrium of a rigid body on two supports: the bare formulas.

The body is a machine, the supports its axles.  ``x`` is measured ahead of the
front axle, ``h`` above the ground the wheels stand on, both in meters::

            a (ahead, +)              L (wheelbase)
   W  <------------------- F <-------------------- R

Each formula is one line of plain arithmetic, so the same text runs on floats,
arrays, uncertain numbers and sympy symbols; a test holds each one equal to what
:func:`derive` gets from the equations of equilibrium.  Weights and readings are
scale readings (kg, or any one unit); a grade comes in as its cosine ``c`` and
sine ``s``, nose uphill positive.

Letters: W hung weight, a its overhang, h a height, L wheelbase, F and R the
front and rear reactions, dF and dR their changes, P a horizontal pull, T what
the ground holds against it.
"""

from __future__ import annotations

from collections.abc import Iterable

from leverarm.numerals import TYPE_CHECKING, Numeric

if TYPE_CHECKING:
    from leverarm.derivation import Derivation


def moment(W: Numeric, x: Numeric) -> Numeric:
    """Moment of a weight: its push to turn the body about a point.

    Equation    M = W x
    W           weight, kg; x  its arm, meters from the point, along the ground
    Sign        positive for a weight ahead of the point
    Valid       level ground, where weight pulls square to the arm
    Source      definition of a moment

    >>> moment(110, 1.5)
    165.0
    """
    return W * x


def front_gain(W: Numeric, a: Numeric, L: Numeric) -> Numeric:
    """What the front axle gains when a weight is hung on the machine.

    Equation    dF = W (1 + a/L), from moments about the rear axle
    W           hung weight, kg; a, L  its overhang and the wheelbase, one length unit
    Sign        a > 0 ahead of the front axle, a = -L over the rear axle
    Valid       level ground, standing still, while both axles press on the ground
    Errors      ZeroDivisionError for L = 0
    Source      the lever law; Beer & Johnston, Statics, ch. 4

    >>> front_gain(100, 1.5, 1.5)
    200.0
    """
    return W * (1 + a / L)


def rear_change(W: Numeric, a: Numeric, L: Numeric) -> Numeric:
    """What the rear axle gains (negative: loses) when a weight is hung on the machine.

    Equation    dR = -W a/L, from moments about the front axle
    W           hung weight, kg; a, L  its overhang and the wheelbase, one length unit
    Sign        negative for a load ahead of the front axle
    Valid       level ground, standing still, while both axles press on the ground
    Errors      ZeroDivisionError for L = 0
    Source      the lever law; Beer & Johnston, Statics, ch. 4

    >>> rear_change(100, 1.5, 1.5)
    -100.0
    """
    return -W * a / L


def amplification(a: Numeric, L: Numeric) -> Numeric:
    """Front gain per unit of hung weight.

    Equation    k = 1 + a/L
    a, L        overhang and wheelbase, one length unit
    Sign        above 1 ahead of the front axle, 0 over the rear axle, negative behind it
    Valid       as front_gain
    Errors      ZeroDivisionError for L = 0
    Source      front_gain divided by W

    >>> amplification(1.5, 1.5)
    2.0
    """
    return front_gain(1, a, L)


def overhang_for(k: Numeric, L: Numeric) -> Numeric:
    """Overhang at which the front gains k times the hung weight.

    Equation    a = (k - 1) L; k = 2 gives one wheelbase
    k           amplification, a number; L  wheelbase
    Valid       as front_gain
    Source      amplification solved for a

    >>> overhang_for(2, 1.5)
    1.5
    """
    return (k - 1) * L


def front_gain_on_grade(
    W: Numeric, a: Numeric, h: Numeric, L: Numeric, c: Numeric, s: Numeric
) -> Numeric:
    """Front gain on a grade, read normal to it.

    Equation    dF = W (c (1 + a/L) - s h/L), from moments about the rear contact
    W           hung weight, kg; a, h, L  overhang, height and wheelbase, one length unit
    c, s        cosine and sine of the grade, nose uphill positive
    Sign        nose uphill (s > 0) takes load off the front
    Valid       standing still, both axles pressing; whichever axle is braked
    Errors      ZeroDivisionError for L = 0
    Source      Jazar, Vehicle Dynamics, sec. 2.2 (parked on an inclined road)

    >>> front_gain_on_grade(100, 1.5, 0.5, 1.5, 1.0, 0.0)
    200.0
    """
    return c * front_gain(W, a, L) - pull_transfer(W * s, h, L)


def rear_change_on_grade(
    W: Numeric, a: Numeric, h: Numeric, L: Numeric, c: Numeric, s: Numeric
) -> Numeric:
    """Rear change on a grade, read normal to it.

    Equation    dR = W (s h/L - c a/L), from moments about the front contact
    W           hung weight, kg; a, h, L  overhang, height and wheelbase, one length unit
    c, s        cosine and sine of the grade, nose uphill positive
    Sign        nose uphill (s > 0) puts load on the rear
    Valid       standing still, both axles pressing; whichever axle is braked
    Errors      ZeroDivisionError for L = 0
    Source      Jazar, Vehicle Dynamics, sec. 2.2 (parked on an inclined road)

    >>> rear_change_on_grade(100, 1.5, 0.5, 1.5, 1.0, 0.0)
    -100.0
    """
    return c * rear_change(W, a, L) + pull_transfer(W * s, h, L)


def pull_transfer(P: Numeric, h: Numeric, L: Numeric) -> Numeric:
    """Load that a horizontal force at a height moves from the front axle to the rear.

    Equation    dR = -dF = P h/L, from moments about either contact
    P           horizontal force, in the unit of the readings; h, L  its height and the wheelbase
    Sign        P > 0 points rearward (a drawbar pull); braking is P < 0 at the center of gravity
    Valid       steady, both axles pressing; the ground supplies the opposite force
    Errors      ZeroDivisionError for L = 0
    Source      the lever law, with the height as the arm

    >>> pull_transfer(300, 0.5, 1.5)
    100.0
    """
    return P * h / L


def ground_force(W: Numeric, s: Numeric, P: Numeric) -> Numeric:
    """Force along the ground that the wheels must supply, whichever axle does it.

    Equation    T = W s + P, from the forces along the ground
    W           whole weight, kg; s  sine of the grade
    P           rearward pull, 0 for none, in the unit of W
    Sign        T > 0 points forward: it holds a machine whose nose is uphill
    Valid       standing still or steady; it has no arm, so it moves no load between the axles
    Source      Jazar, Vehicle Dynamics, sec. 2.2 (brake force m g sin)

    >>> ground_force(1500, 0.2, 0)
    300.0
    """
    return W * s + P


def reactions(
    weights: Iterable[Numeric], stations: Iterable[Numeric], L: Numeric
) -> tuple[Numeric, Numeric]:
    """Front and rear reactions under any number of loads on level ground.

    Equation    F = sum W (1 + a/L), R = -sum W a/L
    weights     kg, one per load; stations  meters ahead of the front axle, same order
    Sign        a negative reaction says that axle would have to be held down
    Valid       level, still; a result below zero is past the end of statics
    Errors      ValueError where the two lists differ in length; ZeroDivisionError for L = 0
    Source      superposition of front_gain and rear_change

    >>> reactions([1400, 110], [-0.9, 1.2], 1.5)
    (758.0, 752.0)
    """
    loads = list(zip(weights, stations, strict=True))
    return sum(front_gain(W, a, L) for W, a in loads), sum(rear_change(W, a, L) for W, a in loads)


def reactions_on_grade(
    weights: Iterable[Numeric],
    stations: Iterable[Numeric],
    heights: Iterable[Numeric],
    L: Numeric,
    c: Numeric,
    s: Numeric,
) -> tuple[Numeric, Numeric]:
    """Front and rear reactions on a grade, read normal to it; they add up to c times the weight.

    Equation    sums of front_gain_on_grade and rear_change_on_grade
    weights, stations, heights   kg and meters, one per load
    c, s        cosine and sine of the grade, nose uphill positive
    Valid       standing still, both axles pressing
    Errors      ValueError where the lists differ in length; ZeroDivisionError for L = 0
    Source      superposition

    >>> reactions_on_grade([1400], [-0.9], [0.7], 1.5, 1.0, 0.0)
    (560.0, 840.0)
    """
    loads = list(zip(weights, stations, heights, strict=True))
    return (
        sum(front_gain_on_grade(W, a, h, L, c, s) for W, a, h in loads),
        sum(rear_change_on_grade(W, a, h, L, c, s) for W, a, h in loads),
    )


def hung_weight(dF: Numeric, dR: Numeric) -> Numeric:
    """Hung weight from the changes of both readings.

    Equation    W = dF + dR, from the sum of forces
    dF, dR      after minus before, kg, each with its own sign
    Valid       nothing else changed between the readings
    Source      vertical equilibrium

    >>> hung_weight(200.0, -100.0)
    100.0
    """
    return dF + dR


def overhang_of(dF: Numeric, dR: Numeric, L: Numeric) -> Numeric:
    """Overhang of a hung weight from the changes of both readings.

    Equation    a = -L dR / (dF + dR)
    dF, dR      after minus before, kg; L  wheelbase
    Sign        positive ahead of the front axle
    Valid       dF + dR not zero, nothing else changed
    Errors      ZeroDivisionError where the changes cancel
    Source      rear_change solved for a

    >>> overhang_of(200.0, -100.0, 1.5)
    1.5
    """
    return -L * dR / hung_weight(dF, dR)


def center_of_gravity(F: Numeric, R: Numeric, L: Numeric) -> Numeric:
    """How far ahead of the front axle the center of gravity lies (behind: negative).

    Equation    x = -L R / (F + R)
    F, R        front and rear readings, kg; L  wheelbase
    Valid       level ground
    Errors      ZeroDivisionError for an empty scale
    Source      overhang_of, with the whole machine as the hung weight

    >>> center_of_gravity(600.0, 800.0, 1.4)
    -0.8
    """
    return overhang_of(F, R, L)


def lifting_weight(R0: Numeric, a: Numeric, L: Numeric) -> Numeric:
    """Weight at an overhang that just takes the last load off the rear axle.

    Equation    W = R0 L/a, where R0 + rear_change(W, a, L) = 0
    R0          rear reading without that weight, kg; a, L  overhang and wheelbase
    Valid       a > 0; beyond this weight the machine tips and statics ends
    Errors      ZeroDivisionError for a = 0: no weight there lifts the rear
    Source      rear_change solved for W

    >>> lifting_weight(800, 1.0, 1.5)
    1200.0
    """
    return R0 * L / a


def weight_for_share(
    now: Numeric, base: Numeric, gain: Numeric, grows: Numeric, k: Numeric
) -> Numeric:
    """Weight that brings an axle to the share k of a base.

    Equation    W = (k base - now) / (gain - k grows), from now + W gain = k (base + W grows)
    now         the axle's reading without that weight; base  what the share is of, kg
    gain        what the axle gains per kg: amplification or rear_change(1, a, L)
    grows       what the base itself gains per kg: 1 the whole machine, 0 the bare tractor
    Sign        below zero: the axle is past that share already
    Valid       level ground, both axles pressing before and after
    Errors      ZeroDivisionError where no weight there changes the share
    Source      the definition of a share, solved for W; with k = 0 it is lifting_weight

    >>> weight_for_share(800, 1400, -0.5, 1, 0.0)
    1600.0
    """
    return (k * base - now) / (gain - k * grows)


def share(part: Numeric, whole: Numeric) -> Numeric:
    """Part of a whole in percent; the words beside it must say percent of what.

    Equation    p = 100 part/whole
    Valid       part and whole in one unit
    Errors      ZeroDivisionError for whole = 0
    Source      definition of percent

    >>> share(600, 1500)
    40.0
    """
    return 100 * part / whole


def derive(
    loads: int = 1, *, about: str = "front", grade: bool = False, pull: bool = False
) -> Derivation:
    """The reactions under ``loads`` weights, derived with sympy step by step.

    See :func:`leverarm.derivation.derive`; loading sympy waits until this is called.

    >>> derive().front
    W*(1 + a/L)
    """
    from leverarm.derivation import derive as derived

    return derived(loads, about=about, grade=grade, pull=pull)
