"""Set-up errors that people really make, each one a term to switch on and see.

An error shifts what the scales show of a machine that would read level and at rest.
:func:`effect_of_error` says what that does to the hung weight and overhang worked out from
the readings.  Every shift is the project's own equilibrium, once more.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from itertools import product
from typing import TypeAlias

from leverarm import statics
from leverarm.axles import AxleLoads, Change, compare, predict
from leverarm.machine import MOST_AHEAD_M, MOST_WEIGHT_KG, Attachment, Tractor
from leverarm.quantities import Refusal, read
from leverarm.weighing.center_of_gravity import line_height
from leverarm.weighing.formulas import center_distance, slope_of_rise, tilt_transfer
from leverarm.weighing.scales import Given

# Of the invented plot tractor: heights of its front and rear axle centers.
DEMO_AXLE_HEIGHTS_M = 0.32, 0.43
# Common practice, no source; fuel changes with kind and temperature.
DIESEL_KG_PER_LITER = 0.84

Shift: TypeAlias = Callable[[Tractor, Sequence[Attachment]], tuple[float, float]]


@dataclass(frozen=True)
class SetupError:
    """One thing that went wrong while weighing.

    shift       (tractor, pieces) -> (front, rear): what the scales show too much, kg
    bound       True where only a limit is known: the shift may have either sign on either axle
    lasting     True where it is the same before and after (pads, a grade), so that most of it
                cancels
    """

    key: str
    name: str
    why: str
    doing: str
    shift: Shift = field(repr=False)
    bound: bool = False
    lasting: bool = False


@dataclass(frozen=True)
class Effect:
    """What an error did: to the readings after, and to the results drawn from them."""

    error: SetupError
    front_kg: float
    rear_kg: float
    weight_kg: float
    ahead_m: float


def pads_under(
    axle: str, thickness: Given, axle_heights: tuple[Given, Given] = DEMO_AXLE_HEIGHTS_M
) -> SetupError:
    """Pads of a thickness under one axle alone: the tilt moves W h t/L^2 to the low end."""
    if axle not in ("front", "rear"):
        raise Refusal("axle", axle, "'front' or 'rear'", "name the axle that stands on the pads")
    t = read(thickness, "length", "thickness of the pads", 0, 0.5) * (1 if axle == "front" else -1)
    front, rear = (read(h, "length", "height of an axle center", 0, 3) for h in axle_heights)

    def shift(tractor: Tractor, pieces: Sequence[Attachment]) -> tuple[float, float]:
        weight, ahead, high = _whole(tractor, pieces)
        L, rise = tractor.wheelbase_m, front - rear
        D = center_distance(L, rise)
        above = (high - line_height(front, rear, ahead, L)) * L / D
        moved = tilt_transfer(weight, above, slope_of_rise(rise + t, D) - slope_of_rise(rise, D), D)
        return -moved, moved

    return SetupError(
        "pads",
        f"pads under the {axle} wheels only",
        "The machine tilts, so its weight leans to the low end.",
        "Put boards of the same height under the other axle.",
        shift,
        lasting=True,
    )


def on_grade(grade: Given) -> SetupError:
    """A yard that is not level, nose uphill positive."""
    degrees = read(grade, "angle", "grade", -20, 20)

    def shift(tractor: Tractor, pieces: Sequence[Attachment]) -> tuple[float, float]:
        level = predict(tractor, *pieces)
        return _both(compare(level, predict(tractor, *pieces, grade_deg=degrees)))

    return SetupError(
        "grade",
        f"a grade of {degrees:g} degrees",
        "Weight leans downhill, and each scale reads square to the slope.",
        "Find level hard ground, or weigh facing both ways and take the mean.",
        shift,
        lasting=True,
    )


def brakes_on(bound: Given) -> SetupError:
    """Brakes left on: nothing in the rigid level model, so the size is your own bound.

    The wheels may push sideways on the pads.
    """
    kg = read(bound, "weight", "bound for the brakes", 0, 1000)
    return SetupError(
        "brakes",
        "brakes left on",
        "The wheels push on the pads sideways, and a scale may feel that.",
        "Release the brakes on the scales. "
        "Keep the machine from rolling with chocks that do not touch the scales.",
        lambda *_: (kg, kg),
        bound=True,
    )


def bucket_down(carried: Given, ahead: Given) -> SetupError:
    """A bucket that touches the ground, which carries some of it at a place ahead of the axle."""
    kg = read(carried, "weight", "weight the ground carries", 0, MOST_WEIGHT_KG)
    meters = read(ahead, "length", "place where it touches", -MOST_AHEAD_M, MOST_AHEAD_M)
    return SetupError(
        "ground",
        "bucket touching the ground",
        "No scale shows what the ground carries.",
        "Lift the bucket a hand above the ground, and keep clear of it.",
        _taken_off(kg, meters),
    )


def operator_off(weight: Given, ahead: Given) -> SetupError:
    """The operator steps off between two readings."""
    kg = read(weight, "weight", "weight of the operator", 0, 300)
    meters = read(ahead, "length", "place of the seat", -MOST_AHEAD_M, MOST_AHEAD_M)
    return SetupError(
        "operator",
        "operator off for the second reading",
        "The person left the seat; the loader did not change.",
        "Always weigh with the seat empty, or always with the same person in it.",
        _taken_off(kg, meters),
    )


def fuel_burned(liters: Given, ahead: Given) -> SetupError:
    """Fuel burned between two readings."""
    volume = read(liters, "number", "liters of fuel", 0, 1000)
    meters = read(ahead, "length", "place of the tank", -MOST_AHEAD_M, MOST_AHEAD_M)
    return SetupError(
        "fuel",
        f"{volume:g} liters of fuel burned between readings",
        "Fuel has weight, and its tank has a place on the machine.",
        "Weigh all set-ups in one go, or fill up before each one.",
        _taken_off(volume * DIESEL_KG_PER_LITER, meters),
    )


def unsettled(percent: Given) -> SetupError:
    """Readings taken before the display came to rest, short by a percentage of the load."""
    part = read(percent, "share", "what the reading was short by", 0, 50) / 100

    def shift(tractor: Tractor, pieces: Sequence[Attachment]) -> tuple[float, float]:
        front, rear = _both(predict(tractor, *pieces))
        return -part * front, -part * rear

    return SetupError(
        "unsettled",
        f"read before it settled, {100 * part:g} % short",
        "The display was still climbing.",
        "Wait until it stands still. Roll off, roll on, read again.",
        shift,
    )


def everyday_errors() -> tuple[SetupError, ...]:
    """One of each, at a size common in practice; every amount and the demo machine are invented."""
    return (
        pads_under("front", "50 mm"),
        on_grade(2.0),
        brakes_on("5 kg"),
        bucket_down("40 kg", "1.50 m"),
        operator_off("85 kg", "-1.10 m"),
        fuel_burned(10, "-0.40 m"),
        unsettled(1.0),
    )


def readings_with_errors(
    tractor: Tractor, pieces: Sequence[Attachment], errors: Iterable[SetupError]
) -> tuple[float, float]:
    """What the scales show with these errors all at once: (front, rear) in kg."""
    shifts = [error.shift(tractor, pieces) for error in errors]
    level = _both(predict(tractor, *pieces))
    front, rear = (load + sum(shift[i] for shift in shifts) for i, load in enumerate(level))
    return front, rear


def effect_of_error(
    error: SetupError,
    tractor: Tractor,
    piece: Attachment,
    others: Sequence[Attachment] = (),
) -> Effect:
    """What one error does when ``piece`` is hung on a machine that already carries ``others``.

    The error is there after, and before too where it lasts.

    >>> from leverarm import demo_loader, demo_tractor
    >>> frame, bucket = demo_loader()
    >>> e = effect_of_error(operator_off("85 kg", "-1.10 m"), demo_tractor(), bucket, [frame])
    >>> round(e.weight_kg), round(e.front_kg, 1)
    (-85, -28.4)
    """
    after = error.shift(tractor, [*others, piece])
    before = error.shift(tractor, list(others)) if error.lasting else (0.0, 0.0)
    signs = product((1, -1), repeat=2) if error.bound else [(1, 1)]
    found = [
        _drawn(tractor, piece, *(s * (a - b) for s, a, b in zip(sign, after, before)))
        for sign in signs
    ]
    weight, ahead = (max(column, key=abs) for column in zip(*found))
    return Effect(error, after[0], after[1], weight, ahead)


def _drawn(tractor: Tractor, piece: Attachment, front: float, rear: float) -> tuple[float, float]:
    """By how much weight and overhang come out wrong, with both changes wrong by so much."""
    W, a, L = piece.weight_kg, piece.ahead_m, tractor.wheelbase_m
    dF, dR = statics.front_gain(W, a, L) + front, statics.rear_change(W, a, L) + rear
    weight = statics.hung_weight(dF, dR)
    ahead = statics.overhang_of(dF, dR, L) if weight else float("inf")
    return weight - piece.weight_kg, ahead - piece.ahead_m


def _both(pair: AxleLoads | Change) -> tuple[float, float]:
    return pair.front_kg, pair.rear_kg


def _taken_off(kg: float, meters: float) -> Shift:
    """The shift of a weight that was there before and is not there now."""
    return lambda tractor, _: (
        -statics.front_gain(kg, meters, tractor.wheelbase_m),
        -statics.rear_change(kg, meters, tractor.wheelbase_m),
    )


def _whole(tractor: Tractor, pieces: Sequence[Attachment]) -> tuple[float, float, float]:
    """Whole weight, and its center of gravity: ahead of the front axle, above the ground."""
    parts: list[Tractor | Attachment] = [tractor, *pieces]
    weights = [tractor.total_kg, *(piece.weight_kg for piece in pieces)]
    unknown = next((part.name for part in parts if part.height_m is None), None)
    if unknown is not None:
        raise Refusal(
            "pads",
            f"no height of the {unknown}",
            "a machine with every height given",
            "give the height of its center of gravity, since a tilt works on it",
        )
    total = sum(weights)
    return (
        total,
        sum(w * part.ahead_m for w, part in zip(weights, parts)) / total,
        sum(w * (part.height_m or 0.0) for w, part in zip(weights, parts)) / total,
    )
