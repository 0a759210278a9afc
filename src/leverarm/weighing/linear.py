"""Weighted least squares of a few unknowns, on the standard library.

The solution is returned as the numbers each observation is multiplied by, so that
it runs on Measured observations and keeps what they share.
"""

import math

INDEPENDENT = 1e-9


def gains(rows, us):
    """How much each unknown moves per unit of each observation: unknowns = gains x observations.

    rows    one per observation, the coefficient of each unknown in it
    us      standard uncertainty of each observation; only their ratios matter
    Returns (gains, leverages, dependent): a row of gains per unknown, the pull of each observation on
    its own fitted value (0 to 1), and the index of the first unknown that the rest make superfluous, or None.
    Source      Gram-Schmidt orthogonalisation, A = Q R with A weighted by 1/u

    >>> weights, leverages, _ = gains([[1, 0], [1, 1], [1, 1]], [1.0, 1.0, 1.0])
    >>> [[round(w, 3) for w in row] for row in weights], [round(h, 3) for h in leverages]
    ([[1.0, 0.0, 0.0], [-1.0, 0.5, 0.5]], [1.0, 0.5, 0.5])
    """
    columns = [[a / u for a, u in zip(column, us)] for column in zip(*rows)]
    Q, R = [], []
    for j, column in enumerate(columns):
        left, above = column, []
        for q in Q:
            along = _dot(q, left)
            above.append(along)
            left = [x - along * y for x, y in zip(left, q)]
        size = math.sqrt(_dot(left, left))
        if size <= INDEPENDENT * math.sqrt(_dot(column, column)):
            return None, None, j
        Q.append([x / size for x in left])
        R.append([*above, size])
    solved = _back_substituted(R, [[x / u for x, u in zip(q, us)] for q in Q])
    return solved, [sum(q[i] ** 2 for q in Q) for i in range(len(rows))], None


def _back_substituted(R, right):
    """Rows x with R x = right, R upper triangular and stored by columns."""
    x = [None] * len(R)
    for i in reversed(range(len(R))):
        row = right[i]
        for j in range(i + 1, len(R)):
            row = [r - R[j][i] * y for r, y in zip(row, x[j])]
        x[i] = [r / R[i][i] for r in row]
    return x


def _dot(a, b):
    return math.fsum(x * y for x, y in zip(a, b))
