"""Three or more set-ups at once: every weight and overhang from all readings together.

A set-up is the set of pieces that hung on the machine.  On each axle its reading is
the bare machine's plus each piece's own gain there, so the unknowns are those gains;
a piece's weight and overhang follow from its two.  What the fit leaves over is kept
reading by reading, and judged all together by chi-squared.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

from leverarm.quantities import Refusal
from leverarm.uncertainty import Measured, value_of
from leverarm.weighing.consistency import Consistency, Group, Residual, consistency_of
from leverarm.weighing.infer import InferredPiece, piece_from_changes
from leverarm.weighing.scales import (
    AXLES,
    Given,
    Scales,
    Session,
    Wheels,
    gathered,
    is_sequence,
    totals_of,
    wheelbase_of,
)

INDEPENDENT = 1e-9
MOST_SETUPS = 200

Rows: TypeAlias = list[list[float]]


@dataclass(frozen=True)
class SetupReadings:
    """One set-up of a weigh day: the pieces that hung on, and its readings (repeats as lists)."""

    pieces: tuple[str, ...]
    front: Any
    rear: Any

    @property
    def name(self) -> str:
        """The set-up in words."""
        return " + ".join(self.pieces) or "bare"


@dataclass(frozen=True)
class Fit:
    """Everything from all readings together.

    front, rear     Measured: the bare machine's loads
    pieces          {name: InferredPiece}
    residuals       a Residual per reading, in the order given
    dof             degrees of freedom left over: from set-ups that check each other, and from
                    repeats
    consistency     Consistency: the chi-squared test, and how far to trust it
    """

    front: Measured
    rear: Measured
    pieces: dict[str, InferredPiece]
    residuals: tuple[Residual, ...]
    redundant_dof: int
    repeat_dof: int
    consistency: Consistency

    @classmethod
    def of(
        cls,
        front: Measured,
        rear: Measured,
        pieces: dict[str, InferredPiece],
        groups: list[Group],
        redundant_dof: int,
        scatter_dof: float,
    ) -> Fit:
        """The Fit with its residuals and its test, from the groups of readings."""
        repeats = sum(len(group.readings) - 1 for group in groups)
        residuals = tuple(one for group in groups for one in group.residuals())
        consistency = consistency_of(groups, redundant_dof, repeats, scatter_dof)
        return cls(front, rear, pieces, residuals, redundant_dof, repeats, consistency)

    @property
    def dof(self) -> int:
        """Observations beyond the unknowns."""
        return self.redundant_dof + self.repeat_dof

    @property
    def worst(self) -> tuple[Residual, ...]:
        """The readings that disagree most with the rest: one, or all that nothing tells apart."""
        checked = [(r, r.standardized) for r in self.residuals if r.standardized is not None]
        most = max((abs(left) for _, left in checked), default=0.0)
        return tuple(one for one, left in checked if abs(left) > most * (1 - 1e-6))


def least_squares(
    setups: Iterable[SetupReadings | tuple[Any, ...]],
    wheelbase: Given,
    *,
    u_reading: Given | None = None,
    u_wheelbase: Given | None = None,
    scales: Scales | None = None,
) -> Fit:
    """All weights and overhangs from the readings of several set-ups.

    setups      SetupReadings, or tuples (pieces, front, rear), such as
                (("loader frame", "bucket"), [602, 601], "720 kg").
                The same pieces twice are taken as repeats of one set-up
    The rest    as for :func:`~leverarm.weighing.infer.infer`
    Equation    reading = bare + sum over the pieces hung of their gains, weighted by 1/u^2
    Shared errors of the scales lie within what the model can take up, so they do not change the
    weights; they come in where the solution is made of Measured readings.
    Refused where two pieces were never apart: nothing tells one from the other.

    >>> day = [((), 600, 800), (("frame",), 829, 781), (("frame", "bucket"), 1019, 701)]
    >>> fit = least_squares(day, 1.65, u_reading=2, u_wheelbase=0.003)
    >>> f"{fit.pieces['bucket'].weight_kg:.1f} {fit.pieces['bucket'].ahead_m:.2f} {fit.dof}"
    '110.0 1.20 0'
    """
    listed = [
        one if isinstance(one, SetupReadings) else SetupReadings(tuple(one[0]), *one[1:])
        for one in setups
    ]
    merged = merged_repeats(listed)
    names = _pieces(listed)
    session = Session(scales, u_reading, readings_by_name(merged))
    (front, *dF), front_groups = _axle("front", merged, names, session)
    (rear, *dR), rear_groups = _axle("rear", merged, names, session)
    base = wheelbase_of(wheelbase, u_wheelbase)
    return Fit.of(
        front,
        rear,
        {name: piece_from_changes(f, r, base, name=name) for name, f, r in zip(names, dF, dR)},
        front_groups + rear_groups,
        len(front_groups) + len(rear_groups) - 2 * (1 + len(names)),
        session.dof,
    )


def readings_by_name(merged: Iterable[SetupReadings]) -> dict[str, Any]:
    """{"front reading, bare": ...} of every axle that was read, for a Session."""
    return {
        f"{axle} reading, {one.name}": getattr(one, axle)
        for one in merged
        for axle in AXLES
        if totals_of(getattr(one, axle))
    }


def merged_repeats(setups: Iterable[SetupReadings]) -> list[SetupReadings]:
    """Set-ups with the same pieces made one, their readings together, in order of appearance.

    A piece is the same however it is capitalized.  An axle that was not read is an empty list.
    """
    together: dict[frozenset[str], tuple[tuple[str, ...], list[Any], list[Any]]] = {}
    for setup in setups:
        key = frozenset(piece.casefold() for piece in setup.pieces)
        _, front, rear = together.setdefault(key, (tuple(setup.pieces), [], []))
        front += _one_by_one(setup.front)
        rear += _one_by_one(setup.rear)
    if not 1 <= len(together) <= MOST_SETUPS:
        raise Refusal(
            "set-ups",
            f"{len(together)} set-ups",
            f"1 to {MOST_SETUPS}",
            "give the set-ups that were weighed",
        )
    return [
        SetupReadings(
            names,
            gathered(front, f"front reading, {' + '.join(names) or 'bare'}"),
            gathered(rear, f"rear reading, {' + '.join(names) or 'bare'}"),
        )
        for names, front, rear in together.values()
    ]


def _one_by_one(given: Any) -> list[Any]:
    """Readings as a list: a single one, a list of them, or none."""
    return [] if given is None else list(given) if is_sequence(given) else [given]


def _pieces(setups: list[SetupReadings]) -> list[str]:
    """Every piece, in order of first appearance; each may hang once in a set-up."""
    first: dict[str, str] = {}
    for setup in setups:
        if len(_folded(setup)) != len(setup.pieces):
            raise Refusal("set-up", setup.name, "each piece once", "name the pieces apart")
        for piece in setup.pieces:
            first.setdefault(piece.casefold(), piece)
    return list(first.values())


def _axle(
    axle: str, setups: list[SetupReadings], names: list[str], session: Session
) -> tuple[list[Measured], list[Group]]:
    """The bare load and each piece's gain on one axle, and that axle's readings against the fit."""
    setups = [one for one in setups if totals_of(getattr(one, axle))]
    rows = [
        [1.0, *(float(name.casefold() in _folded(setup)) for name in names)] for setup in setups
    ]
    fields = [f"{axle} reading, {setup.name}" for setup in setups]
    shown = [getattr(setup, axle) for setup in setups]
    own = [session.u_own(values, field) for field, values in zip(fields, shown)]
    try:
        weights, leverages = gains(rows, _relative([u for u, _ in own]))
    except Dependent as why:
        raise Refusal(
            f"set-ups with a {axle} reading",
            f"set-ups in which the {names[why.column - 1]} never comes off by itself"
            if why.column
            else "none",
            "set-ups that part each piece from the rest once",
            "weigh one more set-up",
        ) from None
    loads = [session.reading(axle, values, field) for field, values in zip(fields, shown)]
    solved = [sum(w * load for w, load in zip(row, loads)) for row in weights]
    return solved, [
        _group(axle, *parts, solved) for parts in zip(setups, rows, shown, own, leverages)
    ]


def _folded(setup: SetupReadings) -> set[str]:
    """The names of a set-up's pieces, letter case aside."""
    return {piece.casefold() for piece in setup.pieces}


def _relative(us: list[float]) -> list[float]:
    """Uncertainties to weight by: all alike where one is not known or nothing."""
    return us if all(0 < u < math.inf for u in us) else [1.0] * len(us)


def _group(
    axle: str,
    setup: SetupReadings,
    row: list[float],
    shown: list[float] | Wheels,
    own: tuple[float, bool],
    leverage: float,
    solved: list[Measured],
) -> Group:
    fitted = value_of(sum(a * x for a, x in zip(row, solved)))
    readings = tuple(totals_of(shown))
    u, rounded_alike = own
    effective = 1 if rounded_alike else len(readings)
    return Group(setup.name, axle, readings, fitted, u or math.nan, effective, leverage)


class Dependent(ValueError):
    """The unknown of this column is superfluous beside those before it."""

    def __init__(self, column: int) -> None:
        super().__init__(column)
        self.column = column


def gains(rows: Sequence[Sequence[float]], us: Sequence[float]) -> tuple[Rows, list[float]]:
    """How much each unknown moves per unit of each observation: unknowns = gains x observations.

    The result runs on Measured observations too, and keeps what they share.

    rows    one per observation, the coefficient of each unknown in it
    us      standard uncertainty of each observation; only their ratios matter
    Returns (gains, leverages): a row of gains per unknown, and the pull of each observation on its
    own fitted value (0 to 1).
    Errors      Dependent where the unknowns before one make it superfluous
    Source      Gram-Schmidt orthogonalization, A = Q R with A weighted by 1/u

    >>> weights, leverages = gains([[1, 0], [1, 1], [1, 1]], [1.0, 1.0, 1.0])
    >>> [[round(w, 3) for w in row] for row in weights], [round(h, 3) for h in leverages]
    ([[1.0, 0.0, 0.0], [-1.0, 0.5, 0.5]], [1.0, 0.5, 0.5])
    """
    columns = [[a / u for a, u in zip(column, us)] for column in zip(*rows)]
    Q: Rows = []
    R: Rows = []
    for j, column in enumerate(columns):
        left, above = column, []
        for q in Q:
            along = _dot(q, left)
            above.append(along)
            left = [x - along * y for x, y in zip(left, q)]
        size = math.sqrt(_dot(left, left))
        if size <= INDEPENDENT * math.sqrt(_dot(column, column)):
            raise Dependent(j)
        Q.append([x / size for x in left])
        R.append([*above, size])
    solved = _back_substituted(R, [[x / u for x, u in zip(q, us)] for q in Q])
    return solved, [sum(q[i] ** 2 for q in Q) for i in range(len(rows))]


def _back_substituted(R: Rows, right: Rows) -> Rows:
    """Rows x with R x = right, R upper triangular and stored by columns."""
    x: Rows = [[] for _ in R]
    for i in reversed(range(len(R))):
        row = right[i]
        for j in range(i + 1, len(R)):
            row = [r - R[j][i] * y for r, y in zip(row, x[j])]
        x[i] = [r / R[i][i] for r in row]
    return x


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return math.fsum(x * y for x, y in zip(a, b))
