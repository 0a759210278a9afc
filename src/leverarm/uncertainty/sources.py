"""One cause of error each: how large it is, and how well that is known.

Two numbers that share a Source are correlated through it.  That is all there is
to correlation here: one pair of scales is one zero and one gain, met again in
every reading.
"""

import math
from dataclasses import dataclass

from leverarm.quantities import Refusal

# How each shape's half-width becomes a standard uncertainty (GUM 4.3.7 and 4.3.9).
DIVISORS = {"rectangular": math.sqrt(3), "triangular": math.sqrt(6)}
SHAPES = ("normal", *DIVISORS)


@dataclass(frozen=True, eq=False)
class Source:
    """One independent cause of error.

    name    what to call it in a budget
    u       standard uncertainty, in the unit of what it disturbs
    dof     degrees of freedom behind u; infinite where u is known
    cause   the group an improvement acts on: scatter, graduation, zero, gain, tape, tilt, told
    shape   how errors are spread: normal, rectangular or triangular
    pool    sources whose u come from one and the same estimate share this mark
    count   how many readings the mean it belongs to holds
    """

    name: str
    u: float
    dof: float = math.inf
    cause: str = "told"
    shape: str = "normal"
    pool: object = None
    count: int = 1


def from_half_width(name, half_width, *, cause="told", shape="rectangular"):
    """A stated limit of error: +/- half_width, all values in it alike (or a triangle).

    Equation    u = half_width/sqrt(3), or /sqrt(6) for a triangle
    Source      GUM 4.3.7, 4.3.9

    >>> round(from_half_width("scale", 3.0).u, 3)
    1.732
    """
    return Source(name, half_width / DIVISORS[shape], cause=cause, shape=shape)


def from_graduation(name, step):
    """A display that moves in steps: the truth lies within half a step.

    Equation    u = d/sqrt(12)
    Source      GUM F.2.2.1

    >>> round(from_graduation("display", 1.0).u, 4)
    0.2887
    """
    return from_half_width(name, step / 2, cause="graduation")


def from_expanded(name, expanded, k=2.0, *, cause="told"):
    """A certificate's +/- U with its coverage factor k: u = U/k.  Source: GUM 4.3.3.

    >>> from_expanded("certificate", 0.5).u
    0.25
    """
    return Source(name, expanded / k, cause=cause)


def scatter(*groups):
    """Standard deviation of one reading, pooled over groups of repeats, and its degrees of freedom.

    Equation    s^2 = sum (x - mean of its group)^2 / nu, nu = sum (n - 1)
    groups      sequences of repeats of one thing each; a group of one adds nothing
    Source      GUM 4.2.2 and 4.2.4 (pooled)
    Errors      Refusal where nothing was repeated

    >>> s, nu = scatter([600, 602, 601], [790, 791])
    >>> round(s, 3), nu
    (0.913, 3)
    """
    nu = sum(len(group) - 1 for group in groups)
    if nu < 1:
        raise Refusal(
            "repeats",
            "no reading twice",
            "two or more readings of the same thing",
            "weigh it again",
        )
    return math.sqrt(sum(_squares(group) for group in groups) / nu), nu


def mean(values):
    """Arithmetic mean, summed without loss."""
    return math.fsum(values) / len(values)


def _squares(group):
    middle = mean(group)
    return math.fsum((x - middle) ** 2 for x in group)


def from_repeats(name, values):
    """Repeats of one reading: u is the standard deviation of their mean.

    Equation    u = s/sqrt(n), dof = n - 1
    Source      GUM 4.2.3
    The scatter already holds the rounding of the display; add none.

    >>> source = from_repeats("front", [600, 602, 601, 603, 599])
    >>> round(source.u, 3), source.dof
    (0.707, 4)
    """
    s, nu = scatter(values)
    return Source(name, s / math.sqrt(len(values)), nu, cause="scatter", count=len(values))
