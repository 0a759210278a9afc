"""Set-up errors that people really make, each one a term to switch on and see.

An error shifts what the scales show of a machine that would read level and at rest.
:func:`effect` says what that does to the hung weight and overhang worked out from
the readings.  Every shift is the project's own equilibrium, once more.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import product

from leverarm import statics
from leverarm.axles import compare, predict
from leverarm.machine import MOST_AHEAD_M, MOST_WEIGHT_KG
from leverarm.quantities import Refusal, read
from leverarm.weighing.center import line_height
from leverarm.weighing.formulas import center_distance, slope_of_rise, tilt_transfer

# Of the invented plot tractor: heights of its front and rear axle centers.
DEMO_AXLE_HEIGHTS_M = 0.32, 0.43
# Common practice, no source; fuel changes with kind and temperature.
DIESEL_KG_PER_LITER = 0.84


@dataclass(frozen=True)
class SetupError:
    """One thing that went wrong while weighing.

    shift       (tractor, pieces) -> (front, rear): what the scales show too much, kg
    bound       True where only a limit is known: the shift may have either sign on either axle
    lasting     True where it is the same before and after (pads, a grade), so that most of it cancels
    """

    key: str
    name: str
    why: str
    doing: str
    shift: Callable = field(repr=False)
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


def pads_under(axle, thickness, axle_heights=DEMO_AXLE_HEIGHTS_M):
    """Pads of a thickness under one axle alone: the machine tilts, and W h t/L^2 moves to the low end."""
    if axle not in ("front", "rear"):
        raise Refusal("axle", axle, "'front' or 'rear'", "name the axle that stands on the pads")
    t = read(thickness, "length", "thickness of the pads", 0, 0.5) * (1 if axle == "front" else -1)
    front, rear = (read(h, "length", "height of an axle center", 0, 3) for h in axle_heights)

    def shift(tractor, pieces):
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


def on_grade(grade):
    """A yard that is not level, nose uphill positive."""
    degrees = read(grade, "angle", "grade", -20, 20)
    shift = lambda tractor, pieces: _both(
        compare(predict(tractor, *pieces), predict(tractor, *pieces, grade_deg=degrees))
    )
    return SetupError(
        "grade",
        f"a grade of {degrees:g} degrees",
        "Weight leans downhill, and each scale reads square to the slope.",
        "Find level hard ground, or weigh facing both ways and take the mean.",
        shift,
        lasting=True,
    )


def brakes_on(bound):
    """Brakes left on: nothing in the rigid level model; the wheels may push sideways on the pads by your own bound."""
    kg = read(bound, "weight", "bound for the brakes", 0, 1000)
    return SetupError(
        "brakes",
        "brakes left on",
        "The wheels push on the pads sideways, and a scale may feel that.",
        "Release the brakes on the scales. Keep the machine from rolling with chocks that do not touch them.",
        lambda tractor, pieces: (kg, kg),
        bound=True,
    )


def bucket_down(carried, ahead):
    """A bucket that touches the ground: the ground carries some of it at a place ahead of the axle."""
    kg = read(carried, "weight", "weight the ground carries", 0, MOST_WEIGHT_KG)
    meters = read(ahead, "length", "place where it touches", -MOST_AHEAD_M, MOST_AHEAD_M)
    return SetupError(
        "ground",
        "bucket touching the ground",
        "What the ground carries, no scale sees.",
        "Lift the bucket a hand above the ground, and keep clear of it.",
        _taken_off(kg, meters),
    )


def operator_off(weight, ahead):
    """The operator steps off between two readings."""
    kg = read(weight, "weight", "weight of the operator", 0, 300)
    meters = read(ahead, "length", "place of the seat", -MOST_AHEAD_M, MOST_AHEAD_M)
    return SetupError(
        "operator",
        "operator off for the second reading",
        "The seat lost a person, not the loader.",
        "Weigh always with the seat empty, or always with the same person in it.",
        _taken_off(kg, meters),
    )


def fuel_burned(liters, ahead, kg_per_liter=DIESEL_KG_PER_LITER):
    """Fuel burned between two readings."""
    volume = read(liters, "number", "liters of fuel", 0, 1000)
    meters = read(ahead, "length", "place of the tank", -MOST_AHEAD_M, MOST_AHEAD_M)
    return SetupError(
        "fuel",
        f"{volume:g} liters of fuel burned between readings",
        "Fuel is weight, and it sits somewhere.",
        "Weigh all states in one go, or fill up before each.",
        _taken_off(volume * kg_per_liter, meters),
    )


def unsettled(percent):
    """Readings taken before the display came to rest, short by a percentage of what stands on the scale."""
    part = read(percent, "share", "what the reading was short by", 0, 50) / 100
    shift = lambda tractor, pieces: tuple(-part * load for load in _both(predict(tractor, *pieces)))
    return SetupError(
        "unsettled",
        f"read before it settled, {100 * part:g} % short",
        "The display was still climbing.",
        "Wait until it stands still. Roll off, roll on, read again.",
        shift,
    )


def everyday_errors():
    """One of each, at a size met in practice on the invented demo machine; every amount is invented."""
    return (
        pads_under("front", "50 mm"),
        on_grade(2.0),
        brakes_on("5 kg"),
        bucket_down("40 kg", "1.50 m"),
        operator_off("85 kg", "-1.10 m"),
        fuel_burned(10, "-0.40 m"),
        unsettled(1.0),
    )


def shown(tractor, pieces, errors):
    """What the scales show with these errors all at once: (front, rear) in kg."""
    shifts = [error.shift(tractor, pieces) for error in errors]
    level = _both(predict(tractor, *pieces))
    return tuple(load + sum(shift[i] for shift in shifts) for i, load in enumerate(level))


def effect(error, tractor, piece, others=(), *, lasting=None):
    """What one error does when ``piece`` is hung on a machine that already carries ``others``.

    The error is there after, and before too where it lasts (say lasting=True or False to decide it).

    >>> from leverarm import demo_loader, demo_tractor
    >>> frame, bucket = demo_loader()
    >>> e = effect(operator_off("85 kg", "-1.10 m"), demo_tractor(), bucket, [frame])
    >>> round(e.weight_kg), round(e.front_kg, 1)
    (-85, -28.3)
    """
    after = error.shift(tractor, [*others, piece])
    both_times = error.lasting if lasting is None else lasting
    before = error.shift(tractor, list(others)) if both_times else (0.0, 0.0)
    signs = product((1, -1), repeat=2) if error.bound else [(1, 1)]
    found = [
        _drawn(tractor, piece, *(s * (a - b) for s, a, b in zip(sign, after, before)))
        for sign in signs
    ]
    weight, ahead = (max(column, key=abs) for column in zip(*found))
    return Effect(error, *after, weight, ahead)


def _drawn(tractor, piece, front, rear):
    """By how much weight and overhang come out wrong, with both changes wrong by so much."""
    told = piece.weight_kg, piece.ahead_m, tractor.wheelbase_m
    dF, dR = statics.front_gain(*told) + front, statics.rear_change(*told) + rear
    weight = statics.hung_weight(dF, dR)
    ahead = statics.overhang_of(dF, dR, tractor.wheelbase_m) if weight else float("inf")
    return weight - piece.weight_kg, ahead - piece.ahead_m


def _both(pair):
    return pair.front_kg, pair.rear_kg


def _taken_off(kg, meters):
    """The shift of a weight that was there before and is not there now."""
    return lambda tractor, pieces: (
        -statics.front_gain(kg, meters, tractor.wheelbase_m),
        -statics.rear_change(kg, meters, tractor.wheelbase_m),
    )


def _whole(tractor, pieces):
    """Weight of all, and where its center of gravity lies: ahead of the front axle, above the ground."""
    parts = [tractor, *pieces]
    weights = [tractor.total_kg, *(piece.weight_kg for piece in pieces)]
    unknown = next((part.name for part in parts if part.height_m is None), None)
    if unknown is not None:
        raise Refusal(
            "pads",
            f"no height of the {unknown}",
            "a machine with every height told",
            "tell the height of its center of gravity, since a tilt works on it",
        )
    total = sum(weights)
    return (
        total,
        sum(w * part.ahead_m for w, part in zip(weights, parts)) / total,
        sum(w * part.height_m for w, part in zip(weights, parts)) / total,
    )
