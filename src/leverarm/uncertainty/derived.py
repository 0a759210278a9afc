"""The sensitivities as formulas: sympy differentiates, once, and the result is compiled and kept.

Arithmetic on Measured numbers gets the same slopes without sympy and is the
everyday path; here they can be read, and each route is the test of the other.
"""

from collections.abc import Callable
from functools import lru_cache
from inspect import signature

from leverarm.numerals import Numeric
from leverarm.uncertainty.measured import Measured, combine, value_of


@lru_cache(maxsize=128)
def sensitivities(formula: Callable[..., Numeric]) -> dict[str, Numeric]:
    """{letter: derivative of the formula by that letter}, as sympy expressions.

    formula     a function of plain arithmetic, such as those of :mod:`leverarm.statics`

    >>> from leverarm import statics
    >>> sensitivities(statics.front_gain)["a"]
    W/L
    """
    from sympy import simplify

    letters = _letters(formula)
    whole = formula(*letters)
    return {str(letter): simplify(whole.diff(letter)) for letter in letters}


def _letters(formula: Callable[..., Numeric]) -> tuple[Numeric, ...]:
    from sympy import Symbol

    return tuple(Symbol(name, real=True) for name in signature(formula).parameters)


@lru_cache(maxsize=128)
def _compiled(formula: Callable[..., Numeric]) -> Callable[..., tuple[float, ...]]:
    """The sensitivities as one plain function of numbers, in the order of the arguments."""
    from sympy import lambdify

    return lambdify(_letters(formula), tuple(sensitivities(formula).values()), modules="math")


@lru_cache(maxsize=128)
def _whole(formula: Callable[..., Numeric]) -> Callable[..., float]:
    from sympy import lambdify

    letters = _letters(formula)
    return lambdify(letters, formula(*letters), modules="math")


def propagate(formula: Callable[..., Numeric], *inputs: Numeric) -> Measured:
    """A formula's result with its uncertainty, by the derivatives sympy found.

    inputs      Measured or exact numbers, in the order of the formula's arguments
    Equation    u^2 = sum over i, j of c_i c_j u(x_i, x_j), c = derivative at the estimates
    Source      GUM 5.1.2 (independent), 5.2.2 (correlated)
    Valid       to first order: while the formula is nearly straight over the inputs' spread

    >>> from leverarm import statics
    >>> from leverarm.uncertainty.measured import uncertain
    >>> propagate(statics.front_gain, uncertain(110, 2), uncertain(1.2, 0.05), 1.65)
    Measured(190, u=4.8)
    """
    values = [value_of(number) for number in inputs]
    return combine(_whole(formula)(*values), *zip(_compiled(formula)(*values), inputs))


def law(formula: Callable[..., Numeric]) -> Numeric:
    """The law of propagation for a formula, independent inputs, as a sympy expression to show.

    >>> from leverarm import statics
    >>> law(statics.hung_weight)
    sqrt(u_dF**2 + u_dR**2)
    """
    from sympy import Add, Symbol, sqrt

    return sqrt(
        Add(
            *(
                (slope * Symbol(f"u_{name}", positive=True)) ** 2
                for name, slope in sensitivities(formula).items()
            )
        )
    )
