"""How errors that have nothing to do with each other add up, and how their ± is printed.

One-line formulas that run on floats and on the recorded quantities of a picture; a
:class:`~leverarm.uncertainty.measured.Measured` number does the same with its sources kept apart.
"""

from leverarm.numerals import Numeric

# A ± that is printed holds two standard uncertainties: the truth in about 95 of 100 cases.
K = 2


def u_of_sum(*parts: Numeric) -> Numeric:
    """Standard uncertainty of a sum or difference whose parts have separate errors.

    Equation    u = sqrt(u1^2 + u2^2 + ...)
    parts       standard uncertainty of each part, times the slope of the result on it
    Valid       errors that do not depend on each other; one they share adds plainly
    Source      GUM, JCGM 100:2008, 5.1.2

    >>> u_of_sum(3, 3, 3, 3)
    6.0
    """
    return sum(part * part for part in parts) ** 0.5


def u_of_mean(u: Numeric, n: Numeric) -> Numeric:
    """Standard uncertainty of the mean of n readings whose errors are separate.

    Equation    u(mean) = u/sqrt(n)
    u           standard uncertainty of one reading;  n  how many, one or more
    Source      GUM, JCGM 100:2008, 4.2.3

    >>> u_of_mean(3, 9)
    1.0
    """
    return u / n**0.5


def raised_to_print(U: Numeric, decimals: int) -> Numeric:
    """A ± raised so that printing it with so many decimals rounds it up, never down.

    U           0 or more; what passes a printed step by less than a thousandth of it stays there
    Source      GUM, JCGM 100:2008, 7.2.6: it may be right to round an uncertainty up

    >>> [f"{raised_to_print(U, 0):.0f}" for U in (8.49, 12.0, 2.92)]
    ['9', '12', '3']
    """
    return U + 0.499 * 10.0**-decimals
