"""What the readings of one day owe each other: where they cannot all be as they were written.

Each thing that does not fit is an Oddity.  How likely the rest is stands in one number, so that
possible causes can be compared.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property

from leverarm.quantities import show
from leverarm.uncertainty import chi_squared_sf, f_sf, mean
from leverarm.weighing.facts import ScaleFacts
from leverarm.weighing.fit import Dependent, gains
from leverarm.weighing.readings import Weighing
from leverarm.weighing.scales import AXLES
from leverarm.weighing.usual import KINDS, hung_together, piece_kind

# A reading farther out than this many of its standard deviations is asked about.
FAR = 4.5
# Chance at which repeats, or set-ups, are asked about: one day in several thousand.
UNLIKELY_REPEATS, UNLIKELY_SETUPS = 5e-4, 1e-4
# A square beyond this says no more about which of two causes is likelier.
MOST_SQUARE = 60.0
# No scales under an axle are finer than this, kg: a row that reads zero is judged by it.
LEAST_SPREAD = 0.01
# Two set-ups are one where a piece between them usually weighs so many times the noise.
NOTHING = 8.0
# Of all the weight: less than this on an axle is asked about.
LEAST_AXLE_SHARE = 0.02
# Left and right wheel apart by more than this part of their axle.
MOST_UNEVEN = 0.25
# Weight of a bare tractor by the cube of its wheelbase, kg/m3.
BULK = (105.0, 520.0)
# Against another day: fuel and operator make up to this part of a bare tractor.
OTHER_DAY, USUAL_OTHER_DAY = 0.12, 0.025
BARE_FRONT_SHARE = (0.42, 0.07)


@dataclass(frozen=True)
class DayRow:
    """A row as the gate looks at it: its number in the day, its pieces, its loads in kg."""

    number: int
    pieces: frozenset[str]
    weighing: Weighing

    @cached_property
    def loads(self) -> tuple[float | None, float | None]:
        """(front, rear) in kg."""
        front, rear = self.weighing.front, self.weighing.rear
        return None if front is None else front.kg, None if rear is None else rear.kg

    @property
    def name(self) -> str:
        """The row as a person finds it."""
        again = f", repeat {self.weighing.repeat}" if self.weighing.repeat > 1 else ""
        return f"row {self.number} ({self.weighing.setup_name}{again})"

    @property
    def at_start(self) -> str:
        """The same at the start of a sentence."""
        return "R" + self.name[1:]


@dataclass(frozen=True)
class Oddity:
    """Something that cannot be so.

    rows    numbers of the rows it is about, the likeliest first
    words   what follows "As typed, "
    alone   True where the first of the rows stands against all others
    """

    cause: str
    rows: tuple[int, ...]
    words: str
    size: float
    alone: bool = False

    @property
    def sign(self) -> tuple[str, frozenset[int]]:
        """What makes two oddities the same, whatever the numbers."""
        return self.cause, frozenset(self.rows)


@dataclass(frozen=True)
class Known:
    """What the rows of a day are judged by.

    elsewhere   {pieces: (date, front, rear)} of another day of the same machine
    """

    wheelbase_m: float
    scales: ScaleFacts
    system: str | None = None
    elsewhere: Mapping[frozenset[str], tuple[str, float, float]] = field(default_factory=dict)

    def spread(self, kg: float, wheels: bool = False) -> float:
        """The most that one reading may scatter by what was told of the scales: a standard
        deviation, kg.  Where nothing was told, 1 percent stands in; it is for the gate alone.
        """
        step, percent = self.scales.step_kg or 0.0, self.scales.accuracy_percent or 0.0
        if not self.scales.known:
            return max(1.0, 0.01 * abs(kg))
        own = max(1.5 * step, percent / 100 * abs(kg) / math.sqrt(3), 0.001 * abs(kg), LEAST_SPREAD)
        return own * (math.sqrt(2) if wheels else 1.0)

    def kg(self, weight: float) -> str:
        """A weight in the units of the day."""
        return show(weight, "weight", self.system, decimals=0)


@dataclass(frozen=True)
class SetupMeans:
    """The rows of one set-up that show both axles, and their means."""

    pieces: frozenset[str]
    rows: tuple[DayRow, ...]
    front: float
    rear: float
    noise: float

    @property
    def total(self) -> float:
        """All its weight."""
        return self.front + self.rear

    @property
    def numbers(self) -> tuple[int, ...]:
        """Which rows it is made of."""
        return tuple(row.number for row in self.rows)


@dataclass(frozen=True)
class Judgment:
    """The oddities of some rows, the worst first, and how unlikely the rest is (-2 ln)."""

    oddities: tuple[Oddity, ...]
    misfit: float


def judged(rows: Sequence[DayRow], known: Known) -> Judgment:
    """A Judgment of the rows that count."""
    setups = setups_of(rows, known)
    bare = next((one.total for one in setups if not one.pieces), None)
    parts = [
        _axles(rows, known),
        _repeats(rows, known),
        _pieces(setups, bare, known),
        _adding_up(setups, known),
        _other_days(setups, known),
        _size(setups, known),
    ]
    found = [oddity for oddities, _ in parts for oddity in oddities]
    found.sort(key=lambda one: -one.size)
    return Judgment(tuple(found), sum(misfit for _, misfit in parts))


Part = tuple[list[Oddity], float]


def setups_of(rows: Iterable[DayRow], known: Known) -> list[SetupMeans]:
    """The set-ups with both axles read."""
    together: dict[frozenset[str], list[DayRow]] = {}
    for row in rows:
        if None not in row.loads:
            together.setdefault(row.pieces, []).append(row)
    made = []
    for pieces, own in together.items():
        front, rear = (mean([row.loads[i] or 0.0 for row in own]) for i in (0, 1))
        made.append(SetupMeans(pieces, tuple(own), front, rear, known.spread(max(front, rear))))
    return made


def _square(x: float) -> float:
    return min(x * x, MOST_SQUARE)


def _axles(rows: Sequence[DayRow], known: Known) -> Part:
    """An axle with nearly nothing on it, and wheels of an axle that are far from alike."""
    found, misfit = [], 0.0
    for row in rows:
        total = sum(load or 0.0 for load in row.loads)
        for axle, load, shown in zip(AXLES, row.loads, (row.weighing.front, row.weighing.rear)):
            if load is None or shown is None:
                continue
            if load < LEAST_AXLE_SHARE * total or load <= 0:
                words = f"the {axle} axle would carry {known.kg(load)} of {known.kg(total)}"
                found.append(Oddity("nothing on it", (row.number,), words, 60.0))
            if shown.wheels and shown.shown > 0:
                left, right = (side or 0.0 for side in shown.sides)
                uneven = (left - right) / (left + right)
                misfit += _square(uneven / 0.08)
                if abs(uneven) > MOST_UNEVEN:
                    words = f"left and right {axle} wheel would be far apart ({shown})"
                    found.append(Oddity("wheels", (row.number,), words, 20 + 60 * abs(uneven)))
    return found, misfit


def _repeats(rows: Sequence[DayRow], known: Known) -> Part:
    """Readings of one set-up against each other.

    The yardstick is what was told of the scales, and the scatter of all other repeats of the day:
    a blunder cannot widen what it is measured with.
    """
    groups = []
    for axle in (0, 1):
        together: dict[frozenset[str], list[DayRow]] = {}
        for row in rows:
            if row.loads[axle] is not None:
                together.setdefault(row.pieces, []).append(row)
        groups += [(axle, own) for own in together.values() if len(own) > 1]
    found, misfit = [], 0.0
    for axle, own in groups:
        row, apart, others = _outlier(axle, own)
        shown = row.weighing.front if axle == 0 else row.weighing.rear
        widens = math.sqrt(1 + 1 / len(others))
        spread = known.spread(mean(others), shown is not None and shown.wheels)
        misfit += _square(apart / (spread * widens))
        # Of both axles: a row that was swapped is out on the other one too.
        rest = [_values(axle2, g, row) for axle2, g in groups]
        limit = FAR * spread * widens
        limit = min(limit, _limit_by_scatter(rest, widens, known, len(groups)))
        if apart > limit:
            rows_named = (row, *(r for r in own if r is not row))
            numbers = tuple(r.number for r in rows_named)
            alone = len(others) > 1 and max(others) - min(others) < limit
            words = (
                f"its {AXLES[axle]} reading is {known.kg(apart)} off the others of this set-up, "
                if alone
                else f"the {AXLES[axle]} readings of this set-up differ by {known.kg(apart)}, "
            ) + f"and these scales explain about {known.kg(limit)}"
            found.append(Oddity("repeats", numbers, words, min(10 * apart / limit, 50), alone))
    return found, misfit


def _values(axle: int, rows: Sequence[DayRow], without: DayRow) -> list[float]:
    return [load for row in rows if row is not without and (load := row.loads[axle]) is not None]


def _outlier(axle: int, rows: Sequence[DayRow]) -> tuple[DayRow, float, list[float]]:
    """(the row farthest from the mean of the others, how far, the others); of two the later."""
    found = []
    for row in rows:
        others = _values(axle, rows, row)
        found.append((abs((row.loads[axle] or 0.0) - mean(others)), row.number, row, others))
    apart, _, row, others = max(found, key=lambda one: one[:2])
    return row, apart, others


def _limit_by_scatter(
    rest: Sequence[Sequence[float]], widens: float, known: Known, tests: int
) -> float:
    """How far a reading may be out by the scatter of the others: Student's t at a small chance.

    Infinite where fewer than three degrees of freedom tell of it.
    """
    dof = sum(len(one) - 1 for one in rest if one)
    if dof < 3:
        return math.inf
    squares = sum((x - mean(one)) ** 2 for one in rest if one for x in one)
    step = known.scales.step_kg or 0.0
    u = math.sqrt(max(squares / dof, step**2 / 4, 1e-12)) * widens
    return max(_far(dof, tests) * u, 2.5 * step)


@cache
def _far(dof: int, tests: int) -> float:
    """How many standard deviations one of several tests may lie out, when few readings tell."""
    far = 1.0
    while f_sf(far**2, 1, dof) > UNLIKELY_REPEATS / tests:
        far *= 1.05
    return far


def _pieces(setups: Sequence[SetupMeans], bare: float | None, known: Known) -> Part:
    """What the step from a set-up to the next larger one says of what was hung on."""
    found, misfit = [], 0.0
    weights: dict[str, tuple[float, tuple[int, ...]]] = {}
    for less, more in _steps(setups):
        hung = more.pieces - less.pieces
        kinds = [piece_kind(piece) for piece in sorted(hung)]
        oddities, soft = _hung(less, more, kinds, bare, known)
        found += oddities
        misfit += soft
        if len(hung) == 1 and kinds[0]:
            weights.setdefault(kinds[0], (more.total - less.total, more.numbers + less.numbers))
    if "frame" in weights and "front" in weights:
        (frame, rows), (front, more_rows) = weights["frame"], weights["front"]
        noise = 2 * max((one.noise for one in setups), default=0.0)
        if 0 < frame < front - FAR * noise / 2:
            words = (
                f"the loader frame would weigh {known.kg(frame)}, less than the {known.kg(front)} "
                "of what hangs on it"
            )
            found.append(Oddity("lighter", tuple(dict.fromkeys(rows + more_rows)), words, 12.0))
    return found, misfit


def _steps(setups: Sequence[SetupMeans]) -> list[tuple[SetupMeans, SetupMeans]]:
    """Pairs of set-ups of which one holds the other, with none between them."""
    return [
        (less, more)
        for more in setups
        for less in setups
        if less.pieces < more.pieces
        and not any(less.pieces < one.pieces < more.pieces for one in setups)
    ]


def _hung(
    less: SetupMeans,
    more: SetupMeans,
    kinds: Sequence[str | None],
    bare: float | None,
    known: Known,
) -> Part:
    """What came on between two set-ups, against what such pieces usually are."""
    front, rear = more.front - less.front, more.rear - less.rear
    weight = front + rear
    noise = math.hypot(less.noise, more.noise)
    what = "the " + " with the ".join(sorted(more.pieces - less.pieces))
    rows = more.numbers + less.numbers
    if weight < -FAR * noise:
        words = f"{what} would weigh {known.kg(weight)}"
        return [Oddity("weight", rows, words, 30 + min(-weight / noise, 20))], MOST_SQUARE
    usual = [KINDS[kind] for kind in kinds if kind]
    most = sum(one.most_weight for one in usual) if len(usual) == len(kinds) else 1.2 * len(kinds)
    if bare and weight > most * bare + FAR * noise:
        words = f"{what} would weigh {known.kg(weight)}, and the bare tractor {known.kg(bare)}"
        return [Oddity("weight", rows, words, 30.0)], MOST_SQUARE
    if len(usual) < len(kinds):
        return [], 0.0
    share, least, far, middle = hung_together(usual)
    out = max(least * weight + rear, -rear - far * weight)
    moved = out > FAR * noise * math.hypot(1, max(abs(least), abs(far)))
    if weight <= noise:
        words = f"{what} would weigh next to nothing, and move {known.kg(abs(rear))} of load"
        if moved:
            return [Oddity("place", rows, words, 25.0)], 0.0
        nothing = share * less.total > NOTHING * noise and abs(weight) < FAR * noise
        words = f"{what} would weigh next to nothing, and move nothing"
        return [Oddity("weight", rows, words, 25.0)] if nothing else [], 0.0
    ahead = -rear / weight
    soft = _square((ahead - middle) / max(one.spread for one in usual))
    if bare:
        soft += _square(math.log(weight / (share * bare)) / 0.6)
    if moved:
        return [Oddity("place", rows, f"{what} would {_where(ahead, known)}", 25.0)], soft
    return [], soft


def _where(ahead: float, known: Known) -> str:
    """A place in words, from its distance ahead of the front axle in wheelbases."""
    distance = show(abs(ahead) * known.wheelbase_m, "length", known.system)
    if ahead > 0:
        return f"hang {distance} ahead of the front axle"
    if ahead > -1:
        return f"sit {distance} behind the front axle"
    past = show((-ahead - 1) * known.wheelbase_m, "length", known.system)
    return f"hang {past} behind the rear axle"


def _adding_up(setups: Sequence[SetupMeans], known: Known) -> Part:
    """Set-ups that check each other: a piece must add the same wherever it is hung on."""
    pieces = sorted({piece for one in setups for piece in one.pieces})
    columns = [[1.0] * len(setups)]
    columns += [[float(piece in one.pieces) for one in setups] for piece in pieces]
    us = [one.noise for one in setups]
    while True:
        rows = [list(row) for row in zip(*columns)]
        try:
            solution, leverages = gains(rows, us)
            break
        except Dependent as why:  # a piece that is on in every set-up, or only with another one
            del columns[why.column]
    dof = len(setups) - len(columns)
    if dof < 1:
        return [], 0.0
    left = {}
    for axle in AXLES:
        shown = [getattr(one, axle) for one in setups]
        x = [sum(g * y for g, y in zip(row, shown)) for row in solution]
        fitted = [sum(a * b for a, b in zip(row, x)) for row in rows]
        left[axle] = [y - fit for y, fit in zip(shown, fitted)]
    total = sum((r / u) ** 2 for axle in AXLES for r, u in zip(left[axle], us))
    if chi_squared_sf(total, 2 * dof) >= UNLIKELY_SETUPS:
        return [], total
    sizes = []
    for i, (one, h) in enumerate(zip(setups, leverages)):
        free = math.sqrt(max(1 - h, 1e-9))
        far = max(abs(left[axle][i]) for axle in AXLES) / us[i] / free if free > 1e-4 else 0.0
        sizes.append((far, one))
    worst = max(size for size, _ in sizes)
    named = [one for size, one in sizes if size > 0.999 * worst]
    axle = max(AXLES, key=lambda name: max(abs(r) for r in left[name]))
    most = max(abs(r) for r in left[axle])
    words = (
        f"the set-ups do not add up: on the {axle} axle up to {known.kg(most)} is left over, "
        "although each piece should add the same wherever it hangs"
    )
    numbers = tuple(number for one in named for number in one.numbers)
    return [Oddity("set-ups", numbers, words, 22.0)], min(total, 4 * MOST_SQUARE)


def _other_days(setups: Sequence[SetupMeans], known: Known) -> Part:
    """The same set-ups on another day of the machine: one Oddity for all that differ much."""
    far, misfit = [], 0.0
    for one in setups:
        if one.pieces not in known.elsewhere:
            continue
        date, front, rear = known.elsewhere[one.pieces]
        whole = front + rear
        usual = USUAL_OTHER_DAY * whole + one.noise
        apart = {"front": one.front - front, "rear": one.rear - rear}
        misfit += sum(_square(x / usual) for x in apart.values())
        axle = max(apart, key=lambda name: abs(apart[name]))
        if abs(apart[axle]) > OTHER_DAY * whole + FAR * one.noise:
            then = known.kg(front if axle == "front" else rear)
            now = known.kg(one.front if axle == "front" else one.rear)
            words = f"the {axle} axle carries {now} with the set-up that showed {then} on {date}"
            far.append((one, words))
    if not far:
        return [], misfit
    numbers = tuple(number for one, _ in far for number in one.numbers)
    return [Oddity("another day", numbers, far[0][1], 15.0)], misfit


def _size(setups: Sequence[SetupMeans], known: Known) -> Part:
    """A bare tractor against the cube of its wheelbase, and its share in front."""
    for one in setups:
        if not one.pieces and one.total > 0:
            bulk = one.total / known.wheelbase_m**3
            middle, spread = BARE_FRONT_SHARE
            misfit = _square((one.front / one.total - middle) / spread)
            misfit += _square(math.log(bulk / 280) / 0.5)
            if BULK[0] <= bulk <= BULK[1]:
                return [], misfit
            words = (
                f"a tractor with a wheelbase of {show(known.wheelbase_m, 'length', known.system)} "
                f"would weigh {known.kg(one.total)} bare, which is "
                + ("a lot" if bulk > BULK[1] else "very little")
            )
            return [Oddity("size", one.numbers, words, 14.0)], misfit
    return [], 0.0
