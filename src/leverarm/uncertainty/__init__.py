"""How sure a result is: the GUM's law of propagation, Student's t, Monte Carlo.

Source throughout: GUM, JCGM 100:2008, and its supplement JCGM 101:2008.  The
everyday path is arithmetic on :class:`Measured` numbers, standard library alone;
sympy shows the same sensitivities as formulas, numpy draws.
"""

from leverarm.uncertainty.derived import law, propagate, sensitivities
from leverarm.uncertainty.distributions import chi_squared_sf, coverage_factor, f_sf, t_cdf
from leverarm.uncertainty.draws import Draws, simulate
from leverarm.uncertainty.measured import (
    BudgetLine,
    Measured,
    Source,
    combine,
    correlated,
    from_expanded,
    from_graduation,
    from_half_width,
    from_repeats,
    mean,
    plus_minus,
    rounded,
    scatter,
    uncertain,
    value_of,
)
from leverarm.uncertainty.separate import raised_to_print, u_of_mean, u_of_sum

__all__ = [
    "BudgetLine",
    "Draws",
    "Measured",
    "Source",
    "chi_squared_sf",
    "combine",
    "correlated",
    "coverage_factor",
    "f_sf",
    "from_expanded",
    "from_graduation",
    "from_half_width",
    "from_repeats",
    "law",
    "mean",
    "plus_minus",
    "propagate",
    "raised_to_print",
    "rounded",
    "scatter",
    "sensitivities",
    "simulate",
    "t_cdf",
    "u_of_mean",
    "u_of_sum",
    "uncertain",
    "value_of",
]
