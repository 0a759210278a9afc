"""Quantities that are written down instead of worked out, so that a page can work them out later.

Drawing code and formulas run unchanged on a :class:`Recorded`: each operation becomes one row of
a :class:`Recorder`, and equal operations share one row.  A quantity printed into a text leaves a
token there; the recorder keeps what the token stands for.

An ``if`` cannot be written down.  Drawing code says :func:`where`, :func:`least`, :func:`most`
instead.  Formulas and sentences with an ``if`` run inside :func:`both_ways`, which tries each
``if`` both ways and joins the results.

How far each row can reach is kept beside it, so that what can never happen is left out.
"""

from __future__ import annotations

import math
import operator
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import partial, reduce
from typing import Any, TypeAlias, TypeVar

from leverarm.numerals import Numeric

Reach: TypeAlias = tuple[float, float]
T = TypeVar("T")

ANYWHERE: Reach = (-math.inf, math.inf)
OPEN, CLOSE = "\ue000", "\ue001"
TOKEN = re.compile(f"{OPEN}(\\d+){CLOSE}")


def _corners(act: Callable[[float, float], float], a: Reach, b: Reach) -> Reach:
    """Least and largest of an operation that is monotonic in each argument."""
    found = [act(x, y) for x in a for y in b]
    return ANYWHERE if any(map(math.isnan, found)) else (min(found), max(found))


def _quotient(a: Reach, b: Reach) -> Reach:
    return ANYWHERE if b[0] <= 0 <= b[1] else _corners(operator.truediv, a, b)


def _size(a: Reach) -> Reach:
    return max(a[0], -a[1], 0.0), max(-a[0], a[1])


def _whole(end: float, act: Callable[[float], int]) -> float:
    """An end of a reach as a whole number."""
    return float(act(end)) if math.isfinite(end) else end


@dataclass(frozen=True)
class Operation:
    """What a row does with the rows it names, and how far its result can reach."""

    act: Callable[..., float]
    reach: Callable[..., Reach]


OPERATIONS: dict[str, Operation] = {
    "add": Operation(operator.add, lambda a, b: (a[0] + b[0], a[1] + b[1])),
    "sub": Operation(operator.sub, lambda a, b: (a[0] - b[1], a[1] - b[0])),
    "mul": Operation(operator.mul, lambda a, b: _corners(operator.mul, a, b)),
    "div": Operation(operator.truediv, _quotient),
    "neg": Operation(operator.neg, lambda a: (-a[1], -a[0])),
    "abs": Operation(abs, _size),
    "less": Operation(
        lambda a, b: float(a < b), lambda a, b: (float(a[1] < b[0]), float(a[0] < b[1]))
    ),
    "at_most": Operation(
        lambda a, b: float(a <= b), lambda a, b: (float(a[1] <= b[0]), float(a[0] <= b[1]))
    ),
    "equal": Operation(
        lambda a, b: float(a == b),
        lambda a, b: (float(a[0] == a[1] == b[0] == b[1]), float(a[0] <= b[1] and b[0] <= a[1])),
    ),
    "least": Operation(min, lambda a, b: (min(a[0], b[0]), min(a[1], b[1]))),
    "most": Operation(max, lambda a, b: (max(a[0], b[0]), max(a[1], b[1]))),
    "choose": Operation(
        lambda c, a, b: a if c else b, lambda c, a, b: (min(a[0], b[0]), max(a[1], b[1]))
    ),
    "sin": Operation(math.sin, lambda a: (-1.0, 1.0)),
    "cos": Operation(math.cos, lambda a: (-1.0, 1.0)),
    "floor": Operation(
        lambda a: float(math.floor(a)),
        lambda a: (_whole(a[0], math.floor), _whole(a[1], math.floor)),
    ),
    "nearest": Operation(
        lambda a: float(round(a)), lambda a: (_whole(a[0], round), _whole(a[1], round))
    ),
    "sqrt": Operation(math.sqrt, lambda a: (math.sqrt(max(a[0], 0.0)), math.sqrt(max(a[1], 0.0)))),
}


@dataclass(frozen=True)
class Printed:
    """A row as digits in a text.

    style   "plain" for a coordinate, "words" for a reader, "signed" for a reader with its sign
    """

    row: int
    decimals: int
    style: str


@dataclass(frozen=True)
class Either:
    """One text or another, by a row."""

    row: int
    yes: str
    no: str


class Recorder:
    """Rows: ("input", name), ("number", value) or (operation, row, ...)."""

    def __init__(self) -> None:
        self.rows: list[tuple[Any, ...]] = []
        self.reaches: list[Reach] = []
        self.pieces: list[Printed | Either] = []
        self._rows: dict[tuple[Any, ...], int] = {}
        self._pieces: dict[Printed | Either, int] = {}

    def input(self, name: str, low: float, high: float) -> Recorded:
        """A quantity that the page moves, within its range."""
        return self._row(("input", name), (low, high))

    def _row(self, key: tuple[Any, ...], reach: Reach) -> Recorded:
        if key not in self._rows:
            self._rows[key] = len(self.rows)
            self.rows.append(key)
            self.reaches.append(reach)
        return Recorded(self, self._rows[key])

    def token(self, piece: Printed | Either) -> str:
        """What stands for a piece of text until the page writes it."""
        if piece not in self._pieces:
            self._pieces[piece] = len(self.pieces)
            self.pieces.append(piece)
        return f"{OPEN}{self._pieces[piece]}{CLOSE}"

    def row_of(self, value: Numeric) -> int:
        """The row of a quantity, or of a number that becomes one."""
        if isinstance(value, Recorded):
            return value.row
        return self._row(("number", float(value)), (float(value), float(value))).row

    def record(self, name: str, *given: Numeric) -> Numeric:
        """One operation.  What needs no row gets none: numbers are worked out at once."""
        if not all(isinstance(one, (Recorded, int, float)) for one in given):
            return NotImplemented  # a number with its errors knows itself how
        if not any(isinstance(one, Recorded) for one in given):
            return float(OPERATIONS[name].act(*given))
        plain = _without_a_row(name, given)
        if plain is not None:
            return plain
        rows = [self.row_of(one) for one in given]
        reaches = [self.reaches[row] for row in rows]
        low, high = OPERATIONS[name].reach(*reaches)
        if low == high:
            return low
        if name in ("least", "most"):
            # One of the two always wins.
            a, b = reaches
            if a[1] <= b[0] or b[1] <= a[0]:
                return given[(a[1] <= b[0]) == (name == "most")]
        return self._row((name, *rows), (low, high))

    def work_out(self, told: Mapping[str, float]) -> list[float]:
        """The number in every row, for these inputs; nan where a way not taken divides by zero."""
        numbers: list[float] = []
        for name, *given in self.rows:
            if name in ("input", "number"):
                numbers.append(told[given[0]] if name == "input" else given[0])
                continue
            try:
                numbers.append(float(OPERATIONS[name].act(*(numbers[row] for row in given))))
            except (ZeroDivisionError, ValueError, OverflowError):
                numbers.append(math.nan)
        return numbers


def _without_a_row(name: str, given: tuple[Numeric, ...]) -> Numeric | None:
    """Times zero, times one and plus zero need no row; None where one is needed."""
    a, b = (*(None if isinstance(one, Recorded) else float(one) for one in given), None)[:2]
    if (name in ("mul", "div") and a == 0) or (name == "mul" and b == 0):
        return 0.0
    if (name in ("add", "sub") and b == 0) or (name in ("mul", "div") and b == 1):
        return given[0]
    if (name == "add" and a == 0) or (name == "mul" and a == 1):
        return given[1]
    return None


class Recorded:
    """One row of a recorder, used as a number."""

    __slots__ = ("recorder", "row")

    def __init__(self, recorder: Recorder, row: int) -> None:
        self.recorder, self.row = recorder, row

    def __add__(self, other: Numeric) -> Numeric:
        return self.recorder.record("add", self, other)

    def __radd__(self, other: Numeric) -> Numeric:
        return self.recorder.record("add", other, self)

    def __sub__(self, other: Numeric) -> Numeric:
        return self.recorder.record("sub", self, other)

    def __rsub__(self, other: Numeric) -> Numeric:
        return self.recorder.record("sub", other, self)

    def __mul__(self, other: Numeric) -> Numeric:
        return self.recorder.record("mul", self, other)

    def __rmul__(self, other: Numeric) -> Numeric:
        return self.recorder.record("mul", other, self)

    def __truediv__(self, other: Numeric) -> Numeric:
        return self.recorder.record("div", self, other)

    def __rtruediv__(self, other: Numeric) -> Numeric:
        return self.recorder.record("div", other, self)

    def __neg__(self) -> Numeric:
        return self.recorder.record("neg", self)

    def __abs__(self) -> Numeric:
        return self.recorder.record("abs", self)

    def __pow__(self, exponent: Numeric) -> Numeric:
        """A power of whole or half steps, by products and roots that the page does alike."""
        doubled = 0 if isinstance(exponent, Recorded) else 2 * exponent
        if not doubled or doubled != int(doubled):
            raise TypeError(
                f"a recorded quantity takes powers such as 2, 0.5 or -1, not {exponent}"
            )
        whole, half = divmod(abs(int(doubled)), 2)
        power: Numeric = root(self) if half else 1.0
        for _ in range(whole):
            power = power * self
        return power if doubled > 0 else 1.0 / power

    def __lt__(self, other: Numeric) -> Numeric:
        return self.recorder.record("less", self, other)

    def __le__(self, other: Numeric) -> Numeric:
        return self.recorder.record("at_most", self, other)

    def __gt__(self, other: Numeric) -> Numeric:
        return self.recorder.record("less", other, self)

    def __ge__(self, other: Numeric) -> Numeric:
        return self.recorder.record("at_most", other, self)

    def __eq__(self, other: object) -> Any:
        if isinstance(other, Recorded) and other.row == self.row:
            return True
        return self.recorder.record("equal", self, other)

    def __hash__(self) -> int:
        return self.row

    def __bool__(self) -> bool:
        if self.row in _decided:
            return _decided[self.row]
        raise Undecided(self)

    def __format__(self, how: str) -> str:
        """As a coordinate: only ``.1f`` and its like, which the page can write too."""
        found = re.fullmatch(r"\.(\d)f", how)
        if not found:
            raise TypeError(f"a recorded quantity is printed as .1f or with show(), not {how!r}")
        return self.recorder.token(Printed(self.row, int(found[1]), "plain"))

    def as_words(self, decimals: int, sign: bool) -> str:
        """For a reader, by the rules of :func:`leverarm.quantities.show_number`."""
        return self.recorder.token(Printed(self.row, decimals, "signed" if sign else "words"))


class Undecided(TypeError):
    """An ``if`` on a recorded quantity, outside of :func:`both_ways`."""

    def __init__(self, condition: Recorded) -> None:
        self.condition = condition
        super().__init__(
            "This code asks `if` of a recorded quantity. Say where(), least() or most(), "
            "or call it inside both_ways()."
        )


_decided: dict[int, bool] = {}


@contextmanager
def _deciding(known: dict[int, bool]) -> Iterator[None]:
    global _decided
    before, _decided = _decided, known
    try:
        yield
    finally:
        _decided = before


def both_ways(act: Callable[[], T]) -> T:
    """What a call gives, each ``if`` on a recorded quantity tried both ways and joined.

    >>> both_ways(lambda: "heavy" if 3 > 2 else "light")
    'heavy'
    """

    def explore(known: dict[int, bool]) -> T:
        with _deciding(known):
            try:
                return act()
            except Undecided as asked:
                condition = asked.condition
        yes, no = (explore({**known, condition.row: way}) for way in (True, False))
        return both_of(condition, yes, no)

    return explore(dict(_decided))


def where(condition: Numeric, yes: Callable[[], T], no: Callable[[], T]) -> T:
    """yes() or no(); for a recorded condition both, joined.

    >>> where(2 > 1, lambda: "more", lambda: "less")
    'more'
    """
    if not isinstance(condition, Recorded):
        return yes() if condition else no()
    return both_of(condition, yes(), no())


def first_so(cases: Iterable[tuple[Numeric, T]], otherwise: T) -> T:
    """The value of the first (condition, value) that is so; for recorded conditions all, joined.

    >>> first_so([(1 > 2, "more"), (1 == 2, "as much")], "less")
    'less'
    """
    found = otherwise
    for condition, value in reversed(list(cases)):
        if isinstance(condition, Recorded):
            found = both_of(condition, value, found)
        elif condition:
            found = value
    return found


def both_of(condition: Recorded, yes: Any, no: Any) -> Any:
    """Two results of one shape, joined leaf by leaf."""
    recorder = condition.recorder
    if isinstance(yes, str) and isinstance(no, str):
        return yes if yes == no else recorder.token(Either(condition.row, yes, no))
    if isinstance(yes, (int, float, Recorded)) and isinstance(no, (int, float, Recorded)):
        same = recorder.row_of(yes) == recorder.row_of(no)
        return yes if same else recorder.record("choose", condition, yes, no)
    if isinstance(yes, (tuple, list)) and type(yes) is type(no) and len(yes) == len(no):
        return type(yes)(both_of(condition, a, b) for a, b in zip(yes, no, strict=True))
    if is_dataclass(yes) and type(yes) is type(no):
        parts = {
            f.name: both_of(condition, getattr(yes, f.name), getattr(no, f.name))
            for f in fields(yes)
        }
        return replace(yes, **parts)  # type: ignore[type-var]  # an instance, not the class
    if yes is None and no is None:
        return None
    raise TypeError(
        f"One way gives {type(yes).__name__}, the other {type(no).__name__}: "
        "a picture keeps its parts, so both ways must give the same kind of thing."
    )


def _each(name: str, *given: Numeric) -> Numeric:
    recorder = next((one.recorder for one in given if isinstance(one, Recorded)), None)
    if recorder is None:
        return OPERATIONS[name].act(*given)
    return reduce(partial(recorder.record, name), given)


def _each_one(name: str, value: Numeric) -> Numeric:
    act = OPERATIONS[name].act
    return value.recorder.record(name, value) if isinstance(value, Recorded) else act(value)


def least(*given: Numeric) -> Numeric:
    """The smallest.

    >>> least(3, 1, 2)
    1
    """
    return _each("least", *given)


def most(*given: Numeric) -> Numeric:
    """The largest.

    >>> most(3, 1, 2)
    3
    """
    return _each("most", *given)


def within(value: Numeric, low: Numeric, high: Numeric) -> Numeric:
    """The value, or the end of the range it has left.

    >>> within(7, 0, 5), within(-1, 0, 5)
    (5, 0)
    """
    return least(most(value, low), high)


def sine(angle: Numeric) -> Numeric:
    """Sine of an angle in radians."""
    return _each_one("sin", angle)


def cosine(angle: Numeric) -> Numeric:
    """Cosine of an angle in radians."""
    return _each_one("cos", angle)


def root(value: Numeric) -> Numeric:
    """Square root."""
    return _each_one("sqrt", value)


def floor(value: Numeric) -> Numeric:
    """The whole number at or below.

    >>> floor(2.7), floor(-2.1)
    (2.0, -3.0)
    """
    return _each_one("floor", value)


def nearest(value: Numeric) -> Numeric:
    """The nearest whole number; a half goes to the even one.

    >>> nearest(2.5), nearest(3.5), nearest(-0.4)
    (2.0, 4.0, 0.0)
    """
    return _each_one("nearest", value)
