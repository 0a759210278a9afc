"""The set-ups in the order of what matters to the user, and what a minute of work buys.

Nothing is recommended.  Set-ups whose difference is within its plus or minus share a
place, and a set-up that breaks what the user read in the manual has no place at all.
"""

from dataclasses import dataclass

from leverarm.decision.case import Job
from leverarm.decision.setups import Setup, stops
from leverarm.decision.table import Row, Table
from leverarm.quantities import Refusal, how_many, show_number
from leverarm.uncertainty import Measured, plus_minus

MATTERS = (
    "front",
    "total",
    "rear",
    "front_pressure",
    "front_stress_2",
    "rear_stress_2",
    "scuff",
    "grade",
    "uphill",
    "sideways",
    "front_least",
    "rear_least",
    "length",
    "minutes",
)


@dataclass(frozen=True)
class Ranking:
    """places: tuples of Setups, best first, those that cannot be told apart together; stopped:
    {State: why}.
    """

    matters: tuple[str, ...]
    places: tuple[tuple[Setup, ...], ...]
    stopped: dict[Setup, tuple[str, ...]]

    def sentences(self, system: str | None = None) -> tuple[str, ...]:
        """The order in words."""
        said = [
            f"{i}. {' and '.join(one.name for one in place)}"
            + (": too close to tell apart" if len(place) > 1 else "")
            for i, place in enumerate(self.places, 1)
        ]
        return tuple(
            said
            + [
                f"Ruled out: {setup.name}. {' '.join(stops(setup, system))}"
                for setup in self.stopped
            ]
        )


def order(table: Table, *matters: str) -> Ranking:
    """A Ranking of a Table's set-ups by the rows that matter, the first one first.

    >>> from leverarm.decision.demo import demo_case
    >>> from leverarm.decision.table import decide
    >>> ranked = order(decide(demo_case()), "total", "front")
    >>> [[one.key for one in place] for place in ranked.places]
    [['all_off'], ['loader_off'], ['bucket_off'], ['on']]
    """
    rows = [_numbered(table, key) for key in matters or _refuse()]
    stopped = table.stopped
    stand = [i for i, one in enumerate(table.setups) if one.key not in stopped]
    return Ranking(
        tuple(matters),
        tuple(tuple(table.setups[i] for i in place) for place in _places(stand, rows)),
        {one: stopped[one.key] for one in table.setups if one.key in stopped},
    )


def _refuse():
    raise Refusal("what matters", "nothing", " or ".join(MATTERS), "name at least one row")


def _numbered(table, key):
    """A row that has a wish and a number in every set-up that stands."""
    row = table.row(key)
    missing = [
        note
        for setup, value, note in zip(table.setups, row.values, row.notes)
        if value is None and setup.key not in table.stopped
    ]
    if not row.meaning.wanted or missing:
        raise Refusal(
            "what matters",
            row.name(),
            "a row with a number that is wanted higher or lower",
            missing[0] if missing else "choose another row",
        )
    return row


def _places(indices, rows):
    """Setups grouped into places: by the first row, then those it cannot part by the next."""
    if not rows or len(indices) < 2:
        return [tuple(indices)] if indices else []
    row, rest = rows[0], rows[1:]
    ranked = sorted(
        indices, key=lambda i: _middle(row.values[i]), reverse=row.meaning.wanted == "more"
    )
    groups = [[ranked[0]]]
    for i in ranked[1:]:
        (groups[-1].append(i) if alike(row, groups[-1][0], i) else groups.append([i]))
    return [place for group in groups for place in _places(group, rest)]


def _middle(value):
    """A value as one number: the middle of a band."""
    return sum(value) / 2 if isinstance(value, tuple) else float(value)


def alike(row: Row, i: int, j: int) -> bool:
    """True where two set-ups differ in a row by no more than can be told."""
    one, other = row.values[i], row.values[j]
    if isinstance(one, Measured):
        difference = one - other
        U = difference.expanded()
        return abs(difference.value) <= (U if U == U else 0.0)
    return abs(_middle(one) - _middle(other)) <= row.meaning.coarse * max(
        abs(_middle(one)), abs(_middle(other))
    )


@dataclass(frozen=True)
class Step:
    """One piece of work, with what it changes.  minutes as stated: off and on again.

    front, rear, total   changes, Measured, kg
    """

    before: Setup
    after: Setup
    minutes: float
    front: Measured
    rear: Measured
    total: Measured

    def per_minute(self, what: str = "front") -> Measured:
        """Change per minute of work, Measured."""
        return getattr(self, what) / self.minutes

    def sentence(self, system: str | None = None) -> str:
        """What the work buys, in words."""
        buys = ", ".join(
            f"{name} {_went(getattr(self, key), system)}"
            for name, key in (("front", "front"), ("rear", "rear"), ("machine", "total"))
        )
        front = abs(self.per_minute())
        return (
            f"{self.after.name}, from {self.before.name[0].lower()}{self.before.name[1:]}: {buys}. "
            f"In {show_number(self.minutes, 0)} minutes, "
            f"that is {plus_minus(front, 'weight', system, brief=True)} "
            f"{'off' if self.front.value < 0 else 'more on'} the front axle for each minute."
        )


def _went(kg, system):
    return f"{'down' if kg.value < 0 else 'up'} {plus_minus(abs(kg), 'weight', system, brief=True)}"


PAIRS = (
    ("on", "bucket_off"),
    ("bucket_off", "loader_off"),
    ("on", "loader_off"),
    ("loader_off", "all_off"),
)


def steps(table: Table) -> tuple[Step, ...]:
    """The Steps of a Table, in the order a person would think of them.

    >>> from leverarm.decision.demo import demo_case
    >>> from leverarm.decision.table import decide
    >>> [f"{s.after.key} {s.per_minute().value:.1f}" for s in steps(decide(demo_case()))]
    ['bucket_off -40.6', 'loader_off -15.3', 'loader_off -21.6', 'all_off 12.7']
    """
    known = {one.key: one for one in table.setups}
    pairs = [(known[a], known[b]) for a, b in PAIRS if a in known and b in known]
    return tuple(
        Step(
            a,
            b,
            _minutes(a, b),
            *(getattr(b, key) - getattr(a, key) for key in ("front", "rear", "total")),
        )
        for a, b in pairs
        if _minutes(a, b) > 0
    )


def _minutes(before, after):
    return after.minutes - before.minutes


def most_per_minute(table: Table, what: str = "front") -> Step | None:
    """The Step that takes most off per minute of work: "front", "rear" or "total"; None where
    nothing is taken off.
    """
    made = [step for step in steps(table) if step.per_minute(what).value < 0]
    return min(made, key=lambda step: step.per_minute(what).value, default=None)


def why_most(table: Table, system: str | None = None) -> str:
    """Why a step buys most per minute: because it takes more off, or because it takes less time.

    "" where nothing is taken off, or there is only one step to compare.
    """

    def ends(step: Step) -> tuple[str, str]:
        return step.before.key, step.after.key

    best = most_per_minute(table)
    # The step that takes both pieces off at once is no other piece of work.
    skipped = {("on", "loader_off"), ends(best) if best else ()}
    others = [s for s in steps(table) if s.front.value < 0 and ends(s) not in skipped]
    if best is None or not others:
        return ""
    other = max(others, key=lambda step: -step.front.value)
    here, there = (
        f"{plus_minus(abs(step.front), 'weight', system, brief=True)} in "
        f"{how_many(round(step.minutes), 'minute')}"
        for step in (best, other)
    )
    gap = abs(best.front) - abs(other.front)
    U = gap.expanded()
    more = gap.value > (U if U == U else 0.0)
    quicker = best.minutes < other.minutes
    reason = {
        (True, True): "It takes more off, and in less time",
        (True, False): "It takes more off",
        (False, True): "Not because it takes more off, but because it takes less time",
    }.get((more, quicker), "The two are close")
    return f"{reason}: {here}. {other.after.name} takes {there}."


def per_mowing(setup: Setup) -> float:
    """Minutes of this set-up's work for each mowing before the loader goes on again."""
    job: Job = setup.case.job
    return setup.minutes / job.mowings
