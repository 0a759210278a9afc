"""Three or more states at once: every weight and overhang from all readings together.

A state is the set of pieces that hung on the machine.  On each axle its reading is
the bare machine's plus each piece's own gain there, so the unknowns are those gains;
a piece's weight and overhang follow from its two.
"""

import math
from dataclasses import dataclass

from leverarm.quantities import Refusal
from leverarm.uncertainty import Measured, value_of
from leverarm.weighing.hung import hung_from
from leverarm.weighing.linear import gains
from leverarm.weighing.readings import AXLES, Session, repeats, wheelbase_of
from leverarm.weighing.residuals import Consistency, Group, judged

MOST_STATES = 200


@dataclass(frozen=True)
class State:
    """One state of a weigh day: the pieces that hung on the machine, and its readings (repeats as lists)."""

    pieces: tuple
    front: object
    rear: object

    @property
    def name(self):
        """The state in words."""
        return " + ".join(self.pieces) or "bare"


@dataclass(frozen=True)
class Fit:
    """Everything from all readings together.

    front, rear     Measured: the bare machine's loads
    pieces          {name: Hung}
    residuals       a Residual per reading, in the order given
    dof             degrees of freedom left over: from states that check each other, and from repeats
    consistency     Consistency: the chi-squared test, and how far to trust it
    """

    front: Measured
    rear: Measured
    pieces: dict
    residuals: tuple
    redundant_dof: int
    repeat_dof: int
    consistency: Consistency

    @property
    def dof(self):
        """Observations beyond the unknowns."""
        return self.redundant_dof + self.repeat_dof

    @property
    def worst(self):
        """The readings that disagree most with the rest: one, or all that nothing tells apart."""
        checked = [r for r in self.residuals if r.standardized is not None]
        most = max((abs(r.standardized) for r in checked), default=None)
        return tuple(r for r in checked if abs(r.standardized) > most * (1 - 1e-6))


def least_squares(states, wheelbase, *, u_reading=None, u_wheelbase=None, scales=None):
    """All weights and overhangs from the readings of several states.

    states      States, or tuples (pieces, front, rear): (("loader frame", "bucket"), [602, 601], "720 kg").
                The same pieces twice are taken as repeats of one state
    The rest    as for :func:`~leverarm.weighing.hung.infer`
    Equation    reading = bare + sum over the pieces hung of their gains, weighted by 1/u^2
    Shared errors of the scales lie within what the model can take up, so they do not change the weights;
    they come in where the solution is made of Measured readings.
    Refused where two pieces were never apart: nothing tells one from the other.

    >>> fit = least_squares([((), 600, 800), (("frame",), 829, 781), (("frame", "bucket"), 1019, 701)],
    ...                     1.65, u_reading=2, u_wheelbase=0.003)
    >>> f"{fit.pieces['bucket'].weight_kg:.1f} {fit.pieces['bucket'].ahead_m:.2f} {fit.dof}"
    '110.0 1.20 0'
    """
    states = merged(
        [
            state if isinstance(state, State) else State(tuple(state[0]), *state[1:])
            for state in states
        ]
    )
    names = _pieces(states)
    base = wheelbase_of(wheelbase, u_wheelbase)
    session = Session(
        scales,
        u_reading,
        {
            f"{axle} reading, {state.name}": getattr(state, axle)
            for state in states
            for axle in AXLES
        },
    )
    (front, *dF), front_groups = _axle("front", states, names, session)
    (rear, *dR), rear_groups = _axle("rear", states, names, session)
    groups = front_groups + rear_groups
    redundant = 2 * (len(states) - 1 - len(names))
    repeated = sum(len(group.readings) - 1 for group in groups)
    pieces = {name: hung_from(f, r, base, name=name) for name, f, r in zip(names, dF, dR)}
    return Fit(
        front,
        rear,
        pieces,
        tuple(r for group in groups for r in group.residuals()),
        redundant,
        repeated,
        judged(groups, redundant, repeated, session.dof),
    )


def merged(states):
    """States with the same pieces made one, all their readings together, in order of first appearance."""
    together = {}
    for state in states:
        _, front, rear = together.setdefault(frozenset(state.pieces), (tuple(state.pieces), [], []))
        front += repeats(state.front, f"front reading, {state.name}")
        rear += repeats(state.rear, f"rear reading, {state.name}")
    if not 1 <= len(together) <= MOST_STATES:
        raise Refusal(
            "states",
            f"{len(together)} states",
            f"1 to {MOST_STATES}",
            "give the states that were weighed",
        )
    return [State(*parts) for parts in together.values()]


def _pieces(states):
    """Every piece, in order of first appearance; each may hang once in a state."""
    for state in states:
        if len(set(state.pieces)) != len(state.pieces):
            raise Refusal("state", state.name, "each piece once", "name the pieces apart")
    return list(dict.fromkeys(piece for state in states for piece in state.pieces))


def _axle(axle, states, names, session):
    """The bare load and each piece's gain on one axle, and that axle's readings against the fit."""
    rows = [[1.0, *(float(name in state.pieces) for name in names)] for state in states]
    fields = [f"{axle} reading, {state.name}" for state in states]
    shown = [getattr(state, axle) for state in states]
    own = [session.own(field, len(values)) for field, values in zip(fields, shown)]
    weights, leverages, dependent = gains(rows, _relative([source.u for source in own]))
    if dependent is not None:
        raise Refusal(
            "states",
            f"states in which the {names[dependent - 1]} never comes off by itself",
            "states that part each piece from the rest once",
            "weigh one more state",
        )
    loads = [session.reading(axle, values, field) for field, values in zip(fields, shown)]
    solved = [sum(w * load for w, load in zip(row, loads)) for row in weights]
    return solved, [
        _group(axle, *parts, solved) for parts in zip(states, rows, shown, own, leverages)
    ]


def _relative(us):
    """Uncertainties to weight by: all alike where one is not known or nothing."""
    return us if all(0 < u < math.inf for u in us) else [1.0] * len(us)


def _group(axle, state, row, readings, own, leverage, solved):
    fitted = value_of(sum(a * x for a, x in zip(row, solved)))
    effective = 1 if own.cause == "graduation" else len(readings)
    return Group(state.name, axle, tuple(readings), fitted, own.u or math.nan, effective, leverage)
