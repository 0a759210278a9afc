"""An uncertain number as words: no more digits than it has earned."""

import math

from leverarm.quantities import KINDS, show_number, to_unit, unit_of


def places_for(U, digits=2):
    """Decimal places at which U keeps ``digits`` figures.  Source: GUM 7.2.6.

    >>> places_for(4.21), places_for(0.0312), places_for(153.0)
    (1, 3, 0)
    """
    return max(0, digits - 1 - math.floor(math.log10(abs(U)))) if U and math.isfinite(U) else 2


def rounded(value, U):
    """Value and U as text, rounded at the same place.

    >>> rounded(110.2, 4.21), rounded(1.2044, 0.0312)
    (('110.2', '4.2'), ('1.204', '0.031'))
    """
    places = places_for(U)
    return show_number(value, places), show_number(U, places)


def plus_minus(number, kind, system="kg", *, coverage=0.95, unit=None, brief=False):
    """A Measured as text with its expanded uncertainty and what that means.

    kind, system    as for :func:`leverarm.quantities.show`
    brief           True leaves out coverage and k, for a sentence that says them once

    >>> from leverarm.uncertainty.measured import told
    >>> plus_minus(told(110.2, 2.1), "weight")
    '110.2 ± 4.1 kg (95 %, k = 1.96)'
    """
    unit = unit or unit_of(kind, system)
    value, U = (to_unit(x, kind, unit) for x in (number.value, number.expanded(coverage)))
    if math.isnan(U):
        return f"{show_number(value, KINDS[kind].decimals[unit])} {unit} (± not told)"
    value, U = rounded(value, U)
    return f"{value} ± {U} {unit}" + (
        "" if brief else f" ({100 * coverage:g} %, k = {number.k(coverage):.2f})"
    )
