"""How long the uncertainty takes: run it, read the table.

    python tests/bench/bench_montecarlo.py
"""

import time

from leverarm import statics, weighing
from leverarm.uncertainty import coverage_factor, draws, propagate, simulate

HUNG = weighing.infer((600, 800), (790, 720), 1.65, u_reading=2, u_wheelbase=0.003)
INPUTS = HUNG.front_change, HUNG.rear_change, HUNG.wheelbase
REPEATED = ([600, 602, 601], [800, 801, 799]), ([790, 791, 789], [720, 722, 721])
STATES = [((), [600, 601], [800, 801]), (("frame",), [829, 830], [781, 780]),
          (("frame", "bucket"), [1019, 1018], [701, 702]), (("bucket",), [790, 791], [720, 719])]


def without_numpy():
    """20 000 draws on the standard library, as inside a browser."""
    kept, draws._numpy = draws._numpy, lambda: None
    try:
        simulate(statics.overhang_of, *INPUTS, draws=20_000)
    finally:
        draws._numpy = kept


CASES = {
    "100 000 draws of an overhang, numpy (budget 1 s)": lambda: simulate(statics.overhang_of, *INPUTS),
    "20 000 draws, standard library": without_numpy,
    "infer, known uncertainty": lambda: weighing.infer((600, 800), (790, 720), 1.65, u_reading=2, u_wheelbase=0.003),
    "infer, three repeats, with its 95 % intervals": lambda: weighing.infer(*REPEATED, 1.65, u_wheelbase=0.003).sentence(),
    "least squares of four states, two repeats": lambda: weighing.least_squares(STATES, 1.65, u_wheelbase=0.003),
    "law by arithmetic": lambda: statics.overhang_of(*INPUTS).u,
    "law by compiled sympy sensitivities": lambda: propagate(statics.overhang_of, *INPUTS).u,
    "coverage factor, not yet cached": lambda: coverage_factor.__wrapped__(0.95, 16.7),
}


def seconds(call, least=0.3):
    """Time of one call: the best of several runs, after one to warm up."""
    call()
    best, spent = float("inf"), 0.0
    while spent < least:
        start = time.perf_counter()
        call()
        took = time.perf_counter() - start
        best, spent = min(best, took), spent + took
    return best


if __name__ == "__main__":
    for name, call in CASES.items():
        print(f"{name:52s}{1000 * seconds(call):10.3f} ms")
