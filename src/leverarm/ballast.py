"""Ballast: what goes down, what goes up, what the machine gains; and how much is asked for.

A counterweight behind the rear axle is the bucket's lever the other way around: it
takes load off the front, adds more than its own weight to the rear, and the
machine gains all of it.  Weight on the rear axle line, in or on the wheels, leaves
the front as it is.  All of it is :mod:`leverarm.statics` with a negative overhang.

How much is needed, where it may hang and what axles and tires may carry stands in
the manuals of the tractor, the loader and the tires.  They decide.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from leverarm import statics
from leverarm.axles import AxleLoads
from leverarm.data import cautions
from leverarm.machine import MOST_WEIGHT_KG, Attachment, Tractor
from leverarm.numerals import Numeric
from leverarm.quantities import Refusal, read, show

STEERING_SHARE = 20.0  # percent of the bare tractor on the front axle: the common rule
REAR_SHARE = 20.0  # percent of everything on the rear axle: common in loader manuals
MOST_BEHIND_M = 10.0

# What a share may be of: the words, and by how much the base grows with each kilogram of ballast.
BASES = {"unladen": ("the bare tractor", 0), "whole": ("the whole machine", 1)}

CAUTIONS = cautions("ballast")


def counterweight(
    tractor: Tractor,
    weight: float | str,
    behind: float | str,
    height: float | str | None = None,
    name: str = "counterweight",
) -> Attachment:
    """A weight on the three-point hitch, told by its distance behind the rear axle.

    >>> from leverarm.machine import demo_tractor
    >>> counterweight(demo_tractor(), "200 kg", behind="0.90 m").ahead_m
    -2.551
    """
    behind_m = read(behind, "length", f"{name} behind the rear axle", 0, MOST_BEHIND_M)
    return Attachment(name, weight, -tractor.wheelbase_m - behind_m, height)


def wheel_ballast(tractor: Tractor, weight: float | str) -> Attachment:
    """Wheel weights or liquid in the rear tires: on the axle line, both sides together.

    >>> from leverarm.machine import demo_tractor
    >>> from leverarm.axles import predict
    >>> f"{predict(demo_tractor(), wheel_ballast(demo_tractor(), '150 kg')).front_kg:.1f}"
    '598.7'
    """
    return counterweight(tractor, weight, 0.0, name="wheel ballast")


def canceling_weight(dF: Numeric, behind: Numeric, L: Numeric) -> Numeric:
    """Weight behind the rear axle that takes dF off the front axle.

    Equation    B = dF / -(1 + a/L) with a = -(L + behind), which is dF L/behind
    dF          load to take off the front, kg; behind, L  distances, meters
    Valid       level ground, both axles pressing
    Errors      ZeroDivisionError for behind = 0: weight on the axle line leaves the front as it is
    Source      front_gain solved for the weight

    >>> canceling_weight(150.0, 0.75, 1.5)
    300.0
    """
    return -dF / statics.amplification(-(L + behind), L)


@dataclass(frozen=True)
class Canceling:
    """The counterweight that leaves the front axle as if an attachment had not been hung, and its
    price.

    counterweight   the Attachment
    front_kg        what the front axle gains from both together: nothing
    rear_kg         what the rear axle gains: the weight of both
    total_kg        what the machine, its tires and the ground gain: the same
    """

    counterweight: Attachment
    front_kg: float
    rear_kg: float
    total_kg: float


def cancel(tractor: Tractor, attachment: Attachment, behind: float | str) -> Canceling:
    """The counterweight that cancels an attachment's front gain, and what that costs.

    >>> from leverarm.machine import demo_loader, demo_tractor
    >>> done = cancel(demo_tractor(), demo_loader()[1], behind="0.90 m")
    >>> kilos = done.counterweight.weight_kg, done.front_kg, done.rear_kg, done.total_kg
    >>> " ".join(f"{kg:.1f}" for kg in kilos)
    '372.8 0.0 490.7 490.7'
    """
    L = tractor.wheelbase_m
    behind_m = read(
        behind, "length", "counterweight behind the rear axle", 0, MOST_BEHIND_M, open_low=True
    )
    gain = statics.front_gain(attachment.weight_kg, attachment.ahead_m, L)
    if gain <= 0:
        raise Refusal(
            f"front gain of the {attachment.name}",
            show(gain, "weight"),
            "a gain above zero",
            "there is nothing to cancel, since it adds nothing to the front axle",
        )
    weight = counterweight(tractor, canceling_weight(gain, behind_m, L), behind_m)
    hung = (attachment, weight)
    front, rear = statics.reactions(
        [one.weight_kg for one in hung], [one.ahead_m for one in hung], L
    )
    return Canceling(weight, front, rear, front + rear)


@dataclass(frozen=True)
class Need:
    """How much ballast a rule asks for at a place.

    axle        the axle the rule protects
    weight_kg   of ballast; 0 where the axle has enough
    now_kg      what that axle carries before
    share       percent asked for; base  what it is a percentage of, in words
    base_kg     that base before the ballast; grows  what the base gains per kg of ballast, 0 or 1
    ahead_m     where the ballast is to hang
    """

    axle: str
    weight_kg: float
    now_kg: float
    share: float
    base: str
    base_kg: float
    grows: int
    ahead_m: float

    @property
    def now_share(self) -> float:
        """What the axle carries now, in percent of the base."""
        return statics.share(self.now_kg, self.base_kg)

    def sentence(self, system: str | None = None) -> str:
        """The need in words, with its base, ready to show."""
        has = (
            f"The {self.axle} axle has {show(self.now_kg, 'weight', system)}, "
            f"{self.now_share:.0f} % of {self.base}."
            if self.now_kg > 0
            else f"This load tips the machine: the {self.axle} axle lifts, and "
            f"{show(-self.now_kg, 'weight', system)} would have to hold it down."
        )
        rule = f"The rule asks for {round(self.share, 1):g} % of {self.base}" + (
            ", ballast included" if self.grows else ""
        )
        takes = (
            f"that takes {show(self.weight_kg, 'weight', system)} of ballast there"
            if self.weight_kg
            else "it has that without ballast"
        )
        return f"{has} {rule}: {takes}. The machine's own manual decides."


def steering_need(
    tractor: Tractor,
    *attachments: Attachment,
    ahead: float | str,
    share: float | str = STEERING_SHARE,
) -> Need:
    """Front ballast so that the front axle keeps its share of the bare tractor, to steer by.

    ahead       where the front weights hang, from the front axle

    >>> from leverarm.machine import Attachment, demo_tractor
    >>> mower = Attachment("mower", "420 kg", ahead="-2.75 m")
    >>> need = steering_need(demo_tractor(), mower, ahead="0.60 m")
    >>> f"{need.now_kg:.0f} {need.weight_kg:.0f} {need.base}"
    '319 0 the bare tractor'
    """
    return _need("front", tractor, attachments, ahead, share, "unladen")


def rear_need(
    tractor: Tractor,
    *attachments: Attachment,
    behind: float | str,
    share: float | str = REAR_SHARE,
    base: str = "whole",
) -> Need:
    """Rear ballast so that the rear axle keeps its share, with the loader loaded as told.

    behind      where the counterweight hangs, behind the rear axle; 0 is wheel weights or liquid
    A load that tips the machine is answered too: that is when ballast is asked for.
    base        "whole": everything, ballast included; "unladen": the bare tractor

    >>> from leverarm.machine import Attachment, demo_loader, demo_tractor
    >>> load = Attachment("load", "400 kg", ahead="1.25 m")
    >>> f"{rear_need(demo_tractor(), *demo_loader(), load, behind='0.90 m').weight_kg:.0f}"
    '26'
    """
    behind_m = read(behind, "length", "counterweight behind the rear axle", 0, MOST_BEHIND_M)
    return _need("rear", tractor, attachments, -tractor.wheelbase_m - behind_m, share, base)


def center_need(
    tractor: Tractor, *attachments: Attachment, center: float | str, behind: float | str
) -> Need:
    """Rear ballast that brings the center of gravity back to a wanted place.

    center      wanted distance ahead of the rear axle, 0 to the wheelbase
    behind      as for :func:`rear_need`
    The rear axle's share of everything is 1 - center/wheelbase, so this is a share to keep.

    >>> from leverarm.machine import demo_loader, demo_tractor
    >>> need = center_need(demo_tractor(), *demo_loader(), center="0.80 m", behind="0.90 m")
    >>> f"{need.weight_kg:.0f} kg for {need.share:.1f} %"
    '191 kg for 51.5 %'
    """
    place = read(center, "length", "center of gravity ahead of the rear axle", 0)
    if place > tractor.wheelbase_m:
        raise Refusal(
            "center of gravity ahead of the rear axle",
            show(place, "length"),
            f"a place up to the front axle, {show(tractor.wheelbase_m, 'length')}",
            "give a place between the axles",
        )
    share = 100 - statics.share(place, tractor.wheelbase_m)
    return rear_need(tractor, *attachments, behind=behind, share=share)


def _need(
    axle: str,
    tractor: Tractor,
    attachments: Sequence[Attachment],
    ahead: float | str,
    share: float | str,
    base: str,
) -> Need:
    """The one equation behind every rule: now + W gain = share (base + W grows).

    An axle that a load has lifted counts with the load below zero that holds the balance, since
    that is when ballast is asked for.
    """
    words, grows = _base(base)
    station = read(ahead, "length", "place of the ballast", -MOST_BEHIND_M * 2, MOST_BEHIND_M)
    percent = read(share, "share", "share to keep", 0, 100)
    front, rear = statics.reactions(
        [tractor.total_kg, *(one.weight_kg for one in attachments)],
        [tractor.ahead_m, *(one.ahead_m for one in attachments)],
        tractor.wheelbase_m,
    )
    now, gain = (
        (front, statics.front_gain(1, station, tractor.wheelbase_m))
        if axle == "front"
        else (rear, statics.rear_change(1, station, tractor.wheelbase_m))
    )
    base_kg = tractor.total_kg + grows * sum(one.weight_kg for one in attachments)
    weight = _weight(axle, now, base_kg, gain, grows, percent / 100, station)
    if front + rear - now + weight * (1 - gain) < 0:
        raise Refusal(
            "place of the ballast",
            f"{station:.2f} m",
            "ballast with which both axles carry load",
            f"hang it nearer to the {axle} axle, or take off what lifts the other one",
        )
    return Need(axle, weight, now, percent, words, base_kg, grows, station)


def _base(base):
    """The words for a base, and how it grows."""
    if base not in BASES:
        raise Refusal(
            "base of the share", base, "'whole' or 'unladen'", "say what the percentage is of"
        )
    return BASES[base]


def _weight(axle, now, base_kg, gain, grows, k, station):
    """The weight the rule asks for; a Refusal where no weight there can meet it."""
    short = k * base_kg - now
    if short > 0 and gain - k * grows <= 0:
        raise Refusal(
            "place of the ballast",
            f"{station:.2f} m",
            f"a place that loads the {axle} axle by more than the share asked for",
            f"hang it beyond the {axle} axle",
        )
    return statics.weight_for_share(now, base_kg, gain, grows, k) if short > 0 else 0.0


@dataclass(frozen=True)
class LimitCheck:
    """One load beside the limit read from a manual.

    limit_kg    None where the user has not read it yet
    """

    name: str
    load_kg: float
    limit_kg: float | None

    @property
    def share(self) -> float | None:
        """Load in percent of the limit, or None."""
        return None if self.limit_kg is None else statics.share(self.load_kg, self.limit_kg)

    @property
    def over(self) -> bool | None:
        """True above the limit; None where it is not known."""
        return None if self.limit_kg is None else self.load_kg > self.limit_kg

    def sentence(self, system: str | None = None) -> str:
        """The check in words."""
        load = show(self.load_kg, "weight", system)
        if self.limit_kg is None:
            return f"{self.name}: {load}. Look up its limit in the manual."
        room = show(abs(self.limit_kg - self.load_kg), "weight", system)
        if self.over:
            return (
                f"{self.name}: {load}, which is {room} over the limit you read. Take load off, "
                "and ask the service department."
            )
        return f"{self.name}: {load}, which is {room} under the limit you read."


def limit_checks(
    loads: AxleLoads,
    *,
    front_axle: float | str | None = None,
    rear_axle: float | str | None = None,
    front_tire: float | str | None = None,
    rear_tire: float | str | None = None,
    machine: float | str | None = None,
) -> tuple[LimitCheck, ...]:
    """Axle, tire and machine loads as LimitChecks, under the limits the user read in the manuals.

    loads       AxleLoads, standing level
    front_tire, rear_tire   limit of one tire at the pressure it has, from the tire's table; two to
                            an axle
    Tires are checked where their limit is given.  A machine that leans or turns loads one side
    more.

    >>> from leverarm.axles import AxleLoads
    >>> made = limit_checks(AxleLoads(980, 640), front_axle="900 kg")
    >>> [check.over for check in made], made[1].sentence()
    ([True, None, None], 'Rear axle: 1,411 lb. Look up its limit in the manual.')
    """

    def limit(value, what):
        return (
            None if value is None else read(value, "weight", what, 0, MOST_WEIGHT_KG, open_low=True)
        )

    rows = [
        LimitCheck("Front axle", loads.front_kg, limit(front_axle, "front axle rating")),
        LimitCheck("Rear axle", loads.rear_kg, limit(rear_axle, "rear axle rating")),
        LimitCheck("Whole machine", loads.total_kg, limit(machine, "permitted total weight")),
    ]
    tires = [
        LimitCheck(f"Each {axle} tire", load / 2, limit(value, f"{axle} tire rating"))
        for axle, load, value in (
            ("front", loads.front_kg, front_tire),
            ("rear", loads.rear_kg, rear_tire),
        )
        if value is not None
    ]
    return tuple(rows + tires)
