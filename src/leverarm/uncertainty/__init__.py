"""How sure a result is: the GUM's law of propagation, Student's t, Monte Carlo.

Source throughout: GUM, JCGM 100:2008, and its supplement JCGM 101:2008.  The
everyday path is arithmetic on :class:`Measured` numbers, standard library alone;
sympy shows the same sensitivities as formulas, numpy draws.
"""

from leverarm.uncertainty.chances import chi_squared_above, coverage_factor, f_above, t_below
from leverarm.uncertainty.derived import law, propagate, sensitivities
from leverarm.uncertainty.draws import Draws, simulate
from leverarm.uncertainty.measured import Measured, Part, combine, correlated, told, value_of
from leverarm.uncertainty.sources import (
    Source,
    from_expanded,
    from_graduation,
    from_half_width,
    from_repeats,
    mean,
    scatter,
)
from leverarm.uncertainty.words import plus_minus, rounded

__all__ = [
    "Draws",
    "Measured",
    "Part",
    "Source",
    "chi_squared_above",
    "combine",
    "correlated",
    "coverage_factor",
    "f_above",
    "from_expanded",
    "from_graduation",
    "from_half_width",
    "from_repeats",
    "law",
    "mean",
    "plus_minus",
    "propagate",
    "rounded",
    "scatter",
    "sensitivities",
    "simulate",
    "t_below",
    "told",
    "value_of",
]
