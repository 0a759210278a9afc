"""Deriving the reactions, uncached, for more and more loads; and the same beam in SymPy's own beam
solver.

Wanted: time grows no worse than linearly with the loads, and ``derive`` is at least
five times faster than ``sympy.physics.continuum_mechanics.beam.Beam`` in the same run.
The beam is solved twice: with letters, as ``derive`` does, and with plain numbers,
which is easier for it.  SymPy's cache is emptied before every single measurement.
"""

import random
import signal
from functools import partial

from common import many, ms, power, save, summary, table, times, verdict
from sympy import Symbol, simplify, symbols
from sympy.core.cache import clear_cache
from sympy.physics.continuum_mechanics.beam import Beam

from leverarm.derivation import derive

LOADS = many((1, 4, 16, 64), (1, 4))
PATIENCE_S = many(15, 10)
F, R = symbols("F R")


def ours(loads):
    return derive.__wrapped__(loads)


def beam(weights, stations, wheelbase, end):
    """Reactions of a beam from the rear support at 0, the front one at the wheelbase, to its free
    end.
    """
    one = Beam(end, *symbols("E I"))
    one.apply_load(R, 0, -1)
    one.apply_load(F, wheelbase, -1)
    for weight, station in zip(weights, stations):
        one.apply_load(-weight, wheelbase + station, -1)
    one.solve_for_reaction_loads(F, R)
    return one.reaction_loads[F], one.reaction_loads[R]


def lettered(loads):
    """The beam in letters, every load ahead of the front support."""
    letters = [
        derive(loads).symbols[f"{letter}_{i}" if loads > 1 else letter]
        for letter in "Wa"
        for i in range(1, loads + 1)
    ]
    # The beam needs to know on which side of the supports a letter lies.
    positive = {letter: Symbol(letter.name, positive=True) for letter in letters}
    weights, stations = letters[:loads], [positive[a] for a in letters[loads:]]
    wheelbase = derive(loads).symbols["L"]
    front, _ = beam(weights, stations, wheelbase, wheelbase + sum(stations))
    return front.xreplace({positive[a]: a for a in letters[loads:]})


def numbered(loads, seed=7):
    """The beam in whole numbers, kg and mm, loads anywhere ahead of the rear support."""
    draw = random.Random(seed)
    weights = [draw.randint(10, 900) for _ in range(loads)]
    stations = [draw.randint(-1500, 2500) for _ in range(loads)]
    return beam(weights, stations, 1650, 5000)


def patient(call):
    """Seconds of one call from an empty cache, or None where it outlasts our patience."""

    def give_up(*_):
        raise TimeoutError

    if hasattr(signal, "SIGALRM"):
        signal.signal(signal.SIGALRM, give_up)
        signal.alarm(PATIENCE_S)
    try:
        return times(call, 1, clear_cache)[0]
    except TimeoutError:
        return None
    finally:
        if hasattr(signal, "SIGALRM"):
            signal.alarm(0)


def main():
    ours(2), numbered(2)  # imports out of the way
    assert simplify(lettered(4) - derive(4).front) == 0, "the two must solve the same problem"
    rows, record = [], {}
    for loads in LOADS:
        own = summary(times(partial(ours, loads), many(15 if loads < 64 else 7, 2), clear_cache))
        in_letters, in_numbers = (
            patient(partial(lettered, loads)),
            patient(partial(numbered, loads)),
        )
        ratio = {
            name: value and value / own["median"]
            for name, value in (("letters", in_letters), ("numbers", in_numbers))
        }
        record[loads] = {
            "derive": own,
            "per_load": own["median"] / loads,
            "beam_letters_s": in_letters,
            "beam_numbers_s": in_numbers,
            "ratio": ratio,
        }
        rows.append(
            [
                loads,
                ms(own),
                f"{1e3 * own['median'] / loads:.2f}",
                *(
                    f"over {1e3 * PATIENCE_S:.0f}" if value is None else f"{1e3 * value:.0f}"
                    for value in (in_letters, in_numbers)
                ),
                *("-" if value is None else f"{value:.0f}x" for value in ratio.values()),
            ]
        )
    table(
        "Deriving, ms: median (lowest to highest); beam solver, ms, one run each",
        [
            "loads",
            "derive",
            "per load",
            "beam, letters",
            "beam, numbers",
            "letters/derive",
            "numbers/derive",
        ],
        rows,
    )
    growth = power(LOADS, [record[loads]["derive"]["median"] for loads in LOADS])
    worst = min(r for n in LOADS for r in record[n]["ratio"].values() if r is not None)
    verdict("derive, power of growth with the loads", growth, 1.0)
    verdict("beam solver against derive, smallest ratio", worst, 5, at_most=False)
    save("bench_derive", {"loads": record})


if __name__ == "__main__":
    main()
