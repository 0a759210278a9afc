"""Readings before and after, turned into a hung weight and its overhang, each with its uncertainty."""

from dataclasses import dataclass, field

from leverarm import statics
from leverarm.machine import MOST_AHEAD_M, MOST_WEIGHT_KG
from leverarm.quantities import Refusal, show
from leverarm.uncertainty import Measured, plus_minus, simulate
from leverarm.weighing.formulas import weight_from_front, weight_from_rear
from leverarm.weighing.readings import AXLES, Session, is_row, measured, wheelbase_of
from leverarm.weighing.tilt import levelled

# Past this u(W)/W the overhang divides by too little for a straight-line law.
SHAKY = 0.1


@dataclass(frozen=True)
class Hung:
    """What was hung on (or taken off, with a negative weight) between two weighings.

    weight, ahead           Measured: kg, and meters ahead of the front axle
    front_change, rear_change   Measured, after minus before; the one that was not read follows from what was told
    told                    "" where both axles were read, else what had to be told: "weight" or "ahead"
    """

    weight: Measured
    ahead: Measured
    wheelbase: Measured
    front_change: Measured
    rear_change: Measured
    told: str = ""
    name: str = field(default="piece", compare=False)

    @property
    def weight_kg(self):
        """Hung weight: what the machine gained, negative where something was taken off."""
        return self.weight.value

    @property
    def ahead_m(self):
        """Overhang ahead of the front axle."""
        return self.ahead.value

    @property
    def u_weight_kg(self):
        """Standard uncertainty of the weight."""
        return self.weight.u

    @property
    def u_ahead_m(self):
        """Standard uncertainty of the overhang."""
        return self.ahead.u

    @property
    def factor(self):
        """Front change per unit of weight, a Measured."""
        return statics.amplification(self.ahead, self.wheelbase)

    @property
    def shaky(self):
        """True where the weight is too small against its uncertainty for the overhang's interval to be believed."""
        return self.weight.u > SHAKY * abs(self.weight.value)

    def draw_overhang(self, draws=100_000, seed=0):
        """The overhang by Monte Carlo, which also holds where the weight is small."""
        return simulate(
            statics.overhang_of,
            self.front_change,
            self.rear_change,
            self.wheelbase,
            draws=draws,
            seed=seed,
        )

    def sentence(self, system="kg"):
        """The result in words, with what was told and what to doubt."""
        taken = self.weight.value < 0
        size = plus_minus(-self.weight if taken else self.weight, "weight", system)
        said = (
            f"The {self.name} {'taken off' if taken else 'hung on'} weighs {size}; "
            f"it sits {plus_minus(self.ahead, 'length', system)} ahead of the front axle."
        )
        if self.told:
            said += f" One axle was read, so the {_WORDS[self.told]} had to be told."
        if self.shaky:
            said += " The weight is small against its uncertainty: do not build on this overhang."
        return said


_WORDS = {"weight": "weight", "ahead": "overhang"}


def infer(
    before,
    after,
    wheelbase,
    *,
    u_reading=None,
    u_wheelbase=None,
    scales=None,
    tilt=None,
    weight=None,
    u_weight=None,
    ahead=None,
    u_ahead=None,
    name="piece",
):
    """The hung weight and its overhang from readings before and after.

    before, after   (front, rear): numbers in kg or text with a unit; a list for repeats of one reading,
                    Wheels(left, right) for two wheels; None for an axle that was not read
    wheelbase       meters or text;  u_wheelbase  standard uncertainty of the tape measure
    u_reading       standard uncertainty of one reading by itself; without it the scatter of repeats
                    is used, or the scale's graduation
    scales          Scales: graduation, stated accuracy, zero, shared by all readings
    tilt            Tilt, where front and rear wheels did not stand at one height
    weight, ahead   with one axle read, one of the two must be told (with u_weight or u_ahead)
    name            what to call it in a sentence
    What was not told stays unknown: its results have ``u`` not a number.

    >>> hung = infer(before=(600, 800), after=(790, 720), wheelbase="1.65 m", u_reading="2 kg", u_wheelbase="3 mm")
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
    pairs = zip(levelled(tilt, front, rear, base), levelled(tilt, front_after, rear_after, base))
    changes = [None if a is None or b is None else b - a for a, b in pairs]
    return _solved(*changes, base, _told(weight, u_weight, ahead, u_ahead), name)


def pair_of(pair, field):
    """A (front, rear) pair as given, or a Refusal."""
    if not is_row(pair) or len(pair) != 2:
        raise Refusal(
            field,
            pair if isinstance(pair, str) else repr(pair),
            "a pair (front, rear)",
            "give both readings, or None for an axle that was not read",
        )
    return pair


def _told(weight, u_weight, ahead, u_ahead):
    """What was told beside the readings, as {name: Measured}."""
    kinds = {
        "weight": (weight, "weight", "hung weight", u_weight, MOST_WEIGHT_KG),
        "ahead": (ahead, "length", "overhang", u_ahead, MOST_AHEAD_M),
    }
    return {
        name: measured(value, kind, words, u, low=-most, high=most)
        for name, (value, kind, words, u, most) in kinds.items()
        if value is not None
    }


def _solved(dF, dR, base, told, called):
    """The result from both changes, or from one of them and what was told."""
    if dF is not None and dR is not None:
        if told:
            raise Refusal(
                next(iter(told)),
                "both axles read",
                "readings of both axles alone",
                "leave it out here and compare it with the result",
            )
        return hung_from(dF, dR, base, name=called)
    if (dF is None and dR is None) or len(told) != 1:
        raise Refusal(
            "readings",
            "one axle" if len(told) != 1 and (dF or dR) is not None else "no axle twice",
            "both axles before and after, or one axle and either the weight or the overhang",
            "read the other axle, or tell exactly one of weight and ahead",
        )
    name, value = next(iter(told.items()))
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
    return hung_from(dF, dR, base, told=name, name=called)


def _divided(formula, change, ahead, base):
    try:
        return formula(change, ahead, base)
    except ZeroDivisionError:
        raise Refusal(
            "overhang",
            show(ahead.value, "length"),
            "an overhang at which this axle feels the weight",
            "read the other axle",
        ) from None


def hung_from(dF, dR, base, told="", name="piece"):
    """A Hung from both changes, Measured, and the wheelbase; a Refusal where the changes cancel."""
    try:
        ahead = statics.overhang_of(dF, dR, base)
    except ZeroDivisionError:
        raise Refusal(
            "readings",
            "changes that cancel",
            "a change of the total",
            "with nothing gained there is no weight, and no overhang",
        ) from None
    return Hung(statics.hung_weight(dF, dR), ahead, base, dF, dR, told, name)
