"""Blind check: do the stated 95 % intervals hold the truth of invented machines?

A thousand seeded machines per case.  The truth and the scales are worked out here, from
moments about the tilted axles, not by the package.  Every reading gets noise, graduation, one
shared gain and zero, and unseen pad tilt, drawn from the distributions told to the package; the
tape errs too.  Run this file to print the coverage with its own sampling error:

    python tests/outside/test_coverage.py
"""

import math
import random

import pytest

from leverarm.weighing import Scales, Tilt, center_of_gravity, forecast, infer

MACHINES = 1000
RESULTS = ("weight", "overhang", "center of gravity", "front forecast", "rear forecast")
# Told to the package: limits of gain (percent) and zero, standard uncertainties of pads, height,
# tape.
GAIN, ZERO, U_RISE, U_HEIGHT, U_TAPE, U_WEIGHT, U_AHEAD = 0.4, 1.0, 0.003, 0.05, 0.003, 2.0, 0.015
U_TOO_LARGE = 0.1


def machine(rng):
    """Bare front and rear, wheelbase, hung weight, overhang, and heights above the axle line of
    both.
    """
    return (
        rng.uniform(350, 900),
        rng.uniform(450, 1300),
        rng.uniform(1.3, 2.2),
        rng.uniform(60, 260),
        rng.uniform(0.5, 1.8),
        rng.uniform(0.2, 0.5),
        rng.uniform(-0.1, 0.3),
    )


def on_scales(parts, L, rise):
    """True axle forces of (weight, ahead, height) parts, nose up by ``rise``: moments about the
    rear axle center.
    """
    angle = math.asin(rise / L)
    front = sum(W * ((L + a) * math.cos(angle) - h * math.sin(angle)) for W, a, h in parts) / (
        L * math.cos(angle)
    )
    return front, sum(W for W, _, _ in parts) - front


def weigh_day(rng, repeats):
    """One invented weigh day: the truth, and what the package is told."""
    F, R, L, W, a, h, h_piece = machine(rng)
    d, sigma = rng.choice((0.5, 1.0, 2.0)), rng.uniform(0.5, 2.0)
    gain, zero, rise = (
        rng.uniform(-GAIN, GAIN) / 100,
        rng.uniform(-ZERO, ZERO),
        rng.gauss(0, U_RISE),
    )

    def shown(load):
        return round(((load - zero) / (1 + gain) + rng.gauss(0, sigma)) / d) * d

    def axle(load):
        return [shown(load) for _ in range(repeats)]

    bare, piece = (F + R, -L * R / (F + R), h), (W, a, h_piece)
    without, with_it = on_scales([bare], L, rise), on_scales([bare, piece], L, rise)
    told = {
        "wheelbase": L + rng.gauss(0, U_TAPE),
        "u_wheelbase": U_TAPE,
        "tilt": Tilt(0, U_RISE, h + rng.gauss(0, U_HEIGHT), U_HEIGHT),
        "scales": Scales(
            graduation=d,
            accuracy=GAIN,
            zero=ZERO,
            u_reading=math.hypot(sigma, d / math.sqrt(12)) if repeats == 1 else None,
        ),
    }
    return (
        (W, a, bare[1]),
        tuple(map(axle, without)),
        tuple(map(axle, with_it)),
        tuple(map(shown, with_it)),
        told,
    )


def results(rng, repeats):
    """[(truth, the package's number)] for each of RESULTS, or None where u(W)/W is too large to
    promise anything.
    """
    (W, a, x), before, after, to_come, told = weigh_day(rng, repeats)
    hung = infer(before, after, **told)
    if hung.u_weight_kg > U_TOO_LARGE * W:
        return None
    guess = forecast(
        before,
        W + rng.gauss(0, U_WEIGHT),
        a + rng.gauss(0, U_AHEAD),
        u_weight=U_WEIGHT,
        u_ahead=U_AHEAD,
        **told,
    )
    return [
        (W, hung.weight),
        (a, hung.ahead),
        (x, center_of_gravity(before, **told).ahead),
        (to_come[0], guess.front),
        (to_come[1], guess.rear),
    ]


def holds(truth, number):
    low, high = number.interval(0.95)
    return low <= truth <= high


def coverage(repeats, seed=1):
    """Share of intervals that hold the truth, for each of RESULTS."""
    rng, counts, done = random.Random(seed), [0] * len(RESULTS), 0
    while done < MACHINES:
        found = results(rng, repeats)
        if found is not None:
            counts = [count + holds(*pair) for count, pair in zip(counts, found)]
            done += 1
    return [count / MACHINES for count in counts]


def sampling_error(share):
    """Standard uncertainty of a share found from MACHINES trials (binomial)."""
    return math.sqrt(share * (1 - share) / MACHINES)


@pytest.mark.parametrize(
    "repeats, low, high",
    [(1, 0.93, 0.97), (2, 0.93, 0.99), (5, 0.93, 0.99)],
    ids=["known", "2 repeats", "5 repeats"],
)
def test_intervals_hold_the_truth_as_often_as_they_say(repeats, low, high):
    for name, share in zip(RESULTS, coverage(repeats)):
        assert low <= share <= high, (
            f"{name}: {100 * share:.1f} ± {100 * sampling_error(share):.1f} %"
        )


def test_the_check_can_fail():
    """Without the tilt, or with half the noise told, the intervals hold the truth too rarely."""
    rng, held = random.Random(2), 0
    for _ in range(300):
        (W, _, _), before, after, _, told = weigh_day(rng, 1)
        told["scales"].u_reading_kg /= 2
        held += holds(W, infer(before, after, **told).weight)
    assert held / 300 < 0.85


if __name__ == "__main__":
    for count in (1, 2, 3, 5):
        shares = zip(RESULTS, coverage(count))
        print(
            f"{count} reading{'s' * (count > 1)}:",
            ", ".join(f"{n} {100 * s:.1f} ± {100 * sampling_error(s):.1f} %" for n, s in shares),
        )
