"""Readings before and after, turned into a hung weight and its overhang, with uncertainties."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeAlias

from leverarm import statics
from leverarm.machine import MOST_AHEAD_M, MOST_WEIGHT_KG
from leverarm.quantities import Refusal, show
from leverarm.uncertainty import Draws, Measured, Source, plus_minus, simulate
from leverarm.weighing.formulas import weight_from_front, weight_from_rear
from leverarm.weighing.scales import (
    AXLES,
    Given,
    Scales,
    Session,
    Tilt,
    is_sequence,
    leveled,
    read_measured,
    wheelbase_of,
)

# Past this u(W)/W the overhang divides by too little for a first-order law.
SHAKY = 0.1

Pair: TypeAlias = Sequence[Any]  # (front, rear), each a Given, a list of them, Wheels or None
Changes: TypeAlias = dict[str, Any]  # fields of a Source to replace


def place_in_words(ahead: Measured, system: str | None = None, *, brief: bool = False) -> str:
    """Where something sits, with its plus or minus: so far ahead of the front axle or behind it.

    >>> place_in_words(Measured(-0.5), "kg", brief=True)
    '0.50 ± 0.00 m behind the front axle'
    """
    side = "ahead of" if ahead.value >= 0 else "behind"
    return f"{plus_minus(abs(ahead), 'length', system, brief=brief)} {side} the front axle"


@dataclass(frozen=True)
class InferredPiece:
    """What was hung on (or taken off, with a negative weight) between two weighings.

    weight, ahead           Measured: kg, and meters ahead of the front axle
    front_change            Measured, after minus before; one that was not read follows from what
    rear_change             was given
    given                   "" where both axles were read, else what had to be given: "weight" or
                            "ahead"
    """

    weight: Measured
    ahead: Measured
    wheelbase: Measured
    front_change: Measured
    rear_change: Measured
    given: str = ""
    name: str = field(default="piece", compare=False)

    @property
    def weight_kg(self) -> float:
        """Hung weight: what the machine gained, negative where something was taken off."""
        return self.weight.value

    @property
    def ahead_m(self) -> float:
        """Overhang ahead of the front axle."""
        return self.ahead.value

    @property
    def u_weight_kg(self) -> float:
        """Standard uncertainty of the weight."""
        return self.weight.u

    @property
    def u_ahead_m(self) -> float:
        """Standard uncertainty of the overhang."""
        return self.ahead.u

    @property
    def factor(self) -> Measured:
        """Front change per unit of weight, a Measured."""
        return statics.amplification(self.ahead, self.wheelbase)

    @property
    def shaky(self) -> bool:
        """True where the weight is too uncertain for the overhang's interval to be believed."""
        return self.weight.u > SHAKY * abs(self.weight.value)

    def draw_overhang(self, draws: int = 100_000) -> Draws:
        """The overhang by Monte Carlo, which also holds where the weight is small."""
        return simulate(
            statics.overhang_of,
            self.front_change,
            self.rear_change,
            self.wheelbase,
            draws=draws,
        )

    def sentence(self, system: str | None = None) -> str:
        """The result in words, with what had to be given and what to doubt."""
        taken = self.weight.value < 0
        size = plus_minus(-self.weight if taken else self.weight, "weight", system)
        words = (
            f"The {self.name} {'taken off' if taken else 'hung on'} weighs {size}; "
            f"it sits {place_in_words(self.ahead, system)}."
        )
        if self.given:
            words += f" Only one axle was read, so the {_WORDS[self.given]} had to be given."
        if self.shaky:
            words += " The weight is small against its uncertainty: do not rely on this overhang."
        return words


_WORDS = {"weight": "weight", "ahead": "overhang"}


def infer(
    before: Pair,
    after: Pair,
    wheelbase: Given,
    *,
    u_reading: Given | None = None,
    u_wheelbase: Given | None = None,
    scales: Scales | None = None,
    tilt: Tilt | None = None,
    weight: Given | None = None,
    u_weight: Given | None = None,
    ahead: Given | None = None,
    u_ahead: Given | None = None,
    name: str = "piece",
) -> InferredPiece:
    """The hung weight and its overhang from readings before and after.

    before, after   (front, rear): numbers in kg or text with a unit; a list for repeats of one,
                    Wheels(left, right) for two wheels; None for an axle that was not read
    wheelbase       meters or text;  u_wheelbase  standard uncertainty of the tape measure
    u_reading       standard uncertainty of one reading by itself; without it the scatter of repeats
                    is used, or the scale's graduation
    scales          Scales: graduation, stated accuracy, zero, shared by all readings
    tilt            Tilt, where front and rear wheels did not stand at one height
    weight, ahead   with one axle read, one of the two must be given (with u_weight or u_ahead)
    name            what to call it in a sentence
    What is not given stays unknown: its results have ``u`` not a number.

    >>> hung = infer(before=(600, 800), after=(790, 720), wheelbase="1.65 m", u_reading="2 kg",
    ...              u_wheelbase="3 mm")
    >>> f"{hung.weight_kg:.1f} {hung.u_weight_kg:.1f} {hung.ahead_m:.3f} {hung.u_ahead_m:.3f}"
    '110.0 4.0 1.200 0.080'
    """
    base = wheelbase_of(wheelbase, u_wheelbase)
    given = {
        f"{axle} reading {when}": value
        for when, pair in (("before", before), ("after", after))
        for axle, value in zip(AXLES, pair_of(pair, f"readings {when}"))
    }
    front, rear, front_after, rear_after = Session(scales, u_reading, given).loads().values()
    pairs = zip(leveled(tilt, front, rear, base), leveled(tilt, front_after, rear_after, base))
    changes = [None if a is None or b is None else b - a for a, b in pairs]
    given_beside = _given_beside(weight, u_weight, ahead, u_ahead)
    return _solved(changes[0], changes[1], base, given_beside, name)


def pair_of(pair: Any, field: str) -> Pair:
    """A (front, rear) pair as given, or a Refusal."""
    if not is_sequence(pair) or len(pair) != 2:
        raise Refusal(
            field,
            pair if isinstance(pair, str) else repr(pair),
            "a pair (front, rear)",
            "give both readings, or None for an axle that was not read",
        )
    return pair


def _given_beside(
    weight: Given | None, u_weight: Given | None, ahead: Given | None, u_ahead: Given | None
) -> dict[str, Measured]:
    """What was given beside the readings, as {name: Measured}."""
    kinds = {
        "weight": (weight, "weight", "hung weight", u_weight, MOST_WEIGHT_KG),
        "ahead": (ahead, "length", "overhang", u_ahead, MOST_AHEAD_M),
    }
    return {
        name: read_measured(value, kind, words, u, low=-most, high=most)
        for name, (value, kind, words, u, most) in kinds.items()
        if value is not None
    }


def _solved(
    dF: Any, dR: Any, base: Measured, beside: dict[str, Measured], called: str
) -> InferredPiece:
    """The result from both changes, or from one of them and what was given beside it."""
    if dF is not None and dR is not None:
        if beside:
            raise Refusal(
                next(iter(beside)),
                "a value beside the readings of both axles",
                "a value beside the readings of one axle",
                "leave it out here and compare it with the result",
            )
        return piece_from_changes(dF, dR, base, name=called)
    if (dF is None and dR is None) or len(beside) != 1:
        raise Refusal(
            "readings",
            "one axle" if len(beside) != 1 and (dF or dR) is not None else "no axle twice",
            "both axles before and after, or one axle and either the weight or the overhang",
            "read the other axle, or give exactly one of weight and ahead",
        )
    name, value = next(iter(beside.items()))
    weight = (
        value
        if name == "weight"
        else _divided(
            weight_from_rear if dF is None else weight_from_front,
            dR if dF is None else dF,
            value,
            base,
        )
    )
    dF, dR = (weight - dR if dF is None else dF), (weight - dF if dR is None else dR)
    return piece_from_changes(dF, dR, base, given=name, name=called)


def _divided(
    formula: Callable[..., Measured], change: Measured, ahead: Measured, base: Measured
) -> Measured:
    try:
        return formula(change, ahead, base)
    except ZeroDivisionError:
        raise Refusal(
            "overhang",
            show(ahead.value, "length"),
            "an overhang at which this axle feels the weight",
            "read the other axle",
        ) from None


def piece_from_changes(
    dF: Measured, dR: Measured, base: Measured, given: str = "", name: str = "piece"
) -> InferredPiece:
    """An InferredPiece from both changes and the wheelbase; a Refusal where they cancel."""
    try:
        ahead = statics.overhang_of(dF, dR, base)
    except ZeroDivisionError:
        raise Refusal(
            "readings",
            "no change of the total",
            "a change of the total",
            "with nothing gained there is no weight, and no overhang",
        ) from None
    return InferredPiece(statics.hung_weight(dF, dR), ahead, base, dF, dR, given, name)


@dataclass(frozen=True)
class Improvement:
    """One thing to do, and the expanded uncertainty it would leave."""

    name: str
    doing: str
    before: float
    after: float

    @property
    def percent(self) -> float:
        """How much narrower the interval gets, in percent of its width now."""
        return 100 * (1 - self.after / self.before) if self.before else 0.0


def _halved(source: Source) -> Changes:
    return {"u": source.u / 2}


def _once_more(number: Measured) -> Callable[[Source], Changes]:
    """Each reading once more: the mean steadies, and a pooled scatter is better known."""
    pools = [source.pool for source in number.slopes if source.pool is not None]
    return lambda source: {
        "u": source.u * (source.count / (source.count + 1)) ** 0.5,
        "dof": source.dof + (pools.count(source.pool) or 1),
        "count": source.count + 1,
    }


# What can be done: its name, what to do, and how it changes the sources of each cause.
_CHOICES = (
    (
        "another reading",
        "Read every scale once more, wheels rolled off and on.",
        lambda n: {"scatter": _once_more(n)},
    ),
    ("a finer scale", "Use a scale with half the step.", lambda n: {"graduation": _halved}),
    ("a better tape", "Measure lengths twice as well.", lambda n: {"tape": _halved}),
    (
        "a better calibration",
        "Have the scales' gain and zero known twice as well.",
        lambda n: {"gain": _halved, "zero": _halved},
    ),
    (
        "a more level yard",
        "Bring all wheels to one height twice as well.",
        lambda n: {"tilt": _halved},
    ),
    (
        "a better stated value",
        "Find the stated value twice as well.",
        lambda n: {"stated": _halved},
    ),
)


def improvements(number: Measured) -> tuple[Improvement, ...]:
    """Every improvement that does something, the best first.

    >>> from leverarm.weighing import infer
    >>> hung = infer((600, 800), (790, 720), 1.65, u_reading=2, u_wheelbase=0.003)
    >>> [(i.name, round(i.percent)) for i in improvements(hung.ahead)]
    [('another reading', 29), ('a better tape', 0)]
    """
    now = number.expanded()
    found = [
        Improvement(name, doing, now, number.changed(**changes(number)).expanded())
        for name, doing, changes in _CHOICES
        if changes(number).keys() & {s.cause for s in number.slopes}
    ]
    return tuple(
        sorted((one for one in found if one.after < one.before), key=lambda one: one.after)
    )
