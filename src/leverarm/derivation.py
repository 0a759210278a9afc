"""The two equations of equilibrium, solved with sympy one step at a time.

The body stands on a front contact at x = 0 and a rear contact at x = -L.  Each
load W_i sits at (a_i, h_i).  Two conditions fix the two reactions: moments about
one contact give the far reaction without the near one, and the forces normal to
the ground give the rest.  On a grade or under a pull a third, along the ground,
says what the wheels must hold; it passes through both contacts and moves nothing.
Every step carries its principle, its equation and its result, so that a lesson
can show it and a test can check it.
"""

from dataclasses import dataclass
from functools import lru_cache
from numbers import Integral
from typing import Any, TypeAlias

from leverarm.numerals import Numeric
from leverarm.quantities import Refusal

Expression: TypeAlias = Any  # of sympy, which loads only when a derivation is asked for

MOST_LOADS = 1000
LETTERS = {
    "W": "hung weight",
    "a": "overhang ahead of the front axle",
    "h": "height above the ground",
    "L": "wheelbase",
    "F": "front reaction",
    "R": "rear reaction",
    "c": "cosine of the grade",
    "s": "sine of the grade, nose uphill positive",
    "P": "rearward pull",
    "h_P": "height of the pull",
    "T": "force of the ground on the wheels, along it, forward positive",
}


@dataclass(frozen=True)
class DerivationStep:
    """One step: the principle, why it is taken (words), the equation, what it gives."""

    principle: str
    words: str
    equation: Expression
    result: Expression


@dataclass(frozen=True)
class Derivation:
    """Reactions of a body on two supports, with the way to them.

    equations   the equilibrium equations used, as sympy Eq
    steps       the Steps in order
    front, rear the reactions, grouped load by load
    along       what the wheels must hold along the ground, forward positive
    letters     the sympy symbols used
    """

    equations: tuple[Expression, ...]
    steps: tuple[DerivationStep, ...]
    front: Expression
    rear: Expression
    along: Expression
    letters: tuple[Expression, ...]

    @property
    def symbols(self) -> dict[str, Expression]:
        """Name -> sympy symbol, for substituting numbers."""
        return {str(letter): letter for letter in self.letters}

    def at(self, **values: Numeric) -> tuple[Expression, Expression]:
        """Front and rear with numbers for letters: at(W=110, a=1.2, L=1.65)."""
        symbols = self.symbols
        unknown = next((name for name in values if name not in symbols), None)
        if unknown is not None:
            raise Refusal(
                "letter",
                unknown,
                f"any of {', '.join(symbols)}",
                "use the letters of this derivation",
            )
        pairs = {symbols[name]: value for name, value in values.items()}
        return self.front.subs(pairs), self.rear.subs(pairs)


# typed: True and 1.0 equal 1, and must not find its answer before they are refused.
@lru_cache(maxsize=64, typed=True)
def derive(
    loads: int = 1, *, about: str = "front", grade: bool = False, pull: bool = False
) -> Derivation:
    """Derive the reactions under ``loads`` weights.

    about   "front" or "rear": the contact about which moments are taken
    grade   True puts the body on a grade of cosine c and sine s, loads at heights h
    pull    True adds a rearward pull P at height h_P
    With one load its letters are W, a, h; with more, W_1, a_1, h_1 and so on.
    Work grows linearly with the number of loads.

    >>> d = derive()
    >>> d.equations[0]
    Eq(-L*R - W*a, 0)
    >>> d.front, d.rear
    (W*(1 + a/L), -W*a/L)
    >>> derive(about="rear").front == d.front
    True
    """
    _check(loads, about)
    model = _Model(loads, grade, pull)
    moments = _moment_step(model, about)
    forces = _force_step(model, about, moments.result)
    along = _along_step(model)
    tidy = _tidy_step(model, *_in_order(about, moments.result, forces.result))
    used = (moments, forces, along) if grade or pull else (moments, forces)
    front, rear = tidy.result
    return Derivation(
        tuple(step.equation for step in used),
        (*used, tidy),
        front,
        rear,
        along.result,
        model.letters,
    )


def _check(loads: int, about: str) -> None:
    """Refuse a count or a pivot that means nothing."""
    if (
        isinstance(loads, bool)
        or not isinstance(loads, Integral)
        or not 1 <= int(loads) <= MOST_LOADS
    ):
        raise Refusal(
            "loads",
            loads,
            f"a whole number from 1 to {MOST_LOADS}",
            "say how many loads the body carries",
        )
    if about not in ("front", "rear"):
        raise Refusal("about", about, "'front' or 'rear'", "name the axle to take moments about")


class _Model:
    """The symbols of one case, and each load's normal and downhill force."""

    def __init__(self, loads: int, grade: bool, pull: bool) -> None:
        from sympy import Integer, Symbol

        # Positive letters keep division honest; a station may have either sign.
        marks = [""] if loads == 1 else [f"_{i}" for i in range(1, loads + 1)]

        def real(name: str) -> Expression:
            return Symbol(name, real=True)

        self.F, self.R, self.T, self.L = real("F"), real("R"), real("T"), Symbol("L", positive=True)
        self.W = [Symbol("W" + m, positive=True) for m in marks]
        self.a = [real("a" + m) for m in marks]
        self.h = [Symbol("h" + m, nonnegative=True) if grade else Integer(0) for m in marks]
        self.c, self.s = (real("c"), real("s")) if grade else (Integer(1), Integer(0))
        self.P, self.hP = (
            (real("P"), Symbol("h_P", nonnegative=True)) if pull else (Integer(0), Integer(0))
        )
        used = (
            self.F,
            self.R,
            self.T,
            self.L,
            self.c,
            self.s,
            self.P,
            self.hP,
            *self.W,
            *self.a,
            *self.h,
        )
        self.letters = tuple(
            letter for letter in used if letter.is_Symbol and (grade or pull or letter != self.T)
        )
        self.flat = not (grade or pull)


def _moments(model: _Model, pivot: Expression) -> Expression:
    """Moments about the contact at x = pivot, nose-up positive: each force times its arm."""
    from sympy import Add

    terms = [model.F * (0 - pivot), model.R * (-model.L - pivot)]
    for W, a, h in zip(model.W, model.a, model.h):
        terms += [-W * model.c * (a - pivot), W * model.s * h]
    return Add(*terms, model.P * model.hP)


def _moment_step(model: _Model, about: str) -> DerivationStep:
    """Moments about one contact: that contact's own reaction has no arm and drops out."""
    from sympy import Eq

    pivot, unknown, other = (
        (0, model.R, "rear") if about == "front" else (-model.L, model.F, "front")
    )
    equation = Eq(_moments(model, pivot), 0, evaluate=False)
    return DerivationStep(
        f"moments about the {about} axle add up to zero",
        f"The {about} reaction has no arm about its own axle, so only the {other} reaction "
        "is unknown."
        + ("" if model.flat else " What holds the wheels along the ground has no arm either."),
        equation,
        _solved(equation, unknown),
    )


def _force_step(model: _Model, about: str, known: Expression) -> DerivationStep:
    """Forces normal to the ground: the second condition gives the second reaction."""
    from sympy import Add, Eq

    unknown, found = (model.F, model.R) if about == "front" else (model.R, model.F)
    equation = Eq(Add(model.F, model.R, *(-W * model.c for W in model.W)), 0, evaluate=False)
    return DerivationStep(
        "forces normal to the ground add up to zero",
        f"The {'rear' if about == 'front' else 'front'} reaction is known; together they carry "
        + ("the weight." if model.c == 1 else "what presses square to the ground."),
        equation,
        _solved(Eq(equation.lhs.xreplace({found: known}), 0, evaluate=False), unknown),
    )


def _along_step(model: _Model) -> DerivationStep:
    """Forces along the ground: what the wheels must hold, whichever axle does it."""
    from sympy import Add, Eq

    pushes = [-W * model.s for W in model.W]
    equation = Eq(Add(model.T, *pushes, -model.P), 0, evaluate=False)
    return DerivationStep(
        "forces along the ground add up to zero",
        "Both contacts lie on the ground line, so it does not matter which axle holds.",
        equation,
        _solved(equation, model.T),
    )


def _solved(equation: Expression, unknown: Expression) -> Expression:
    """The unknown of an equation in which it stands once, to the first power."""
    from sympy import Add, expand_mul

    coefficient: list[Expression] = []
    rest: list[Expression] = []
    for term in Add.make_args(equation.lhs):
        (coefficient if term.has(unknown) else rest).append(term)
    factor = Add(*coefficient).coeff(unknown)
    return Add(*(expand_mul(-term / factor) for term in rest))


def _in_order(about: str, first: Expression, second: Expression) -> tuple[Expression, Expression]:
    """The two results as (front, rear)."""
    return (second, first) if about == "front" else (first, second)


def _tidy_step(model: _Model, front: Expression, rear: Expression) -> DerivationStep:
    """Each load's own contribution gathered: superposition made visible."""
    return DerivationStep(
        "superposition",
        "Gather what belongs to each load: no load changes what another one does.",
        (front, rear),
        (_by_load(model, front), _by_load(model, rear)),
    )


def _by_load(model: _Model, expression: Expression) -> Expression:
    """The sum regrouped, one product per load, in one pass over its terms."""
    from sympy import Add, Mul, expand_mul

    owner: dict[Expression, list[Expression]] = {W: [] for W in model.W}
    rest: list[Expression] = []
    for term in Add.make_args(expand_mul(expression)):
        W = next((factor for factor in Mul.make_args(term) if factor in owner), None)
        (owner[W] if W is not None else rest).append(term / W if W is not None else term)
    return Add(*(Mul(W, Add(*parts)) for W, parts in owner.items()), *rest)
