"""Draws per second of an uncertainty by Monte Carlo, against the same sum written by hand in numpy;
and what the law costs.

The expression by hand draws the same five errors (four readings, one wheelbase), puts
them into the same formula and takes mean, standard deviation and the two ends of the
95 % interval.  Ours must also keep every draw in order, to be looked at.
"""

import numpy as np
from common import many, ms, power, save, summary, table, times, verdict

from leverarm import statics, weighing
from leverarm.uncertainty import coverage_factor, draws, propagate, simulate

HUNG = weighing.infer((600, 800), (790, 720), 1.65, u_reading=2, u_wheelbase=0.003)
INPUTS = HUNG.front_change, HUNG.rear_change, HUNG.wheelbase
REPEATED = ([600, 602, 601], [800, 801, 799]), ([790, 791, 789], [720, 722, 721])
STATES = [
    ((), [600, 601], [800, 801]),
    (("frame",), [829, 830], [781, 780]),
    (("frame", "bucket"), [1019, 1018], [701, 702]),
    (("bucket",), [790, 791], [720, 719]),
]
SIZES = (1_000, 10_000, 100_000, 1_000_000)
LARGE = 100_000
BUDGET_S = 1.0


def by_hand(count):
    """What somebody who knows numpy types."""
    rng = np.random.default_rng(0)
    front_off, front_on = 600 + 2 * rng.standard_normal(count), 790 + 2 * rng.standard_normal(count)
    rear_off, rear_on = 800 + 2 * rng.standard_normal(count), 720 + 2 * rng.standard_normal(count)
    wheelbase = 1.65 + 0.003 * rng.standard_normal(count)
    front, rear = front_on - front_off, rear_on - rear_off
    overhang = -rear * wheelbase / (front + rear)
    return overhang.mean(), overhang.std(ddof=1), *np.quantile(overhang, (0.025, 0.975))


def ours(count):
    """The same by the package."""
    many_drawn = simulate(statics.overhang_of, *INPUTS, draws=count)
    return many_drawn.mean, many_drawn.u, *many_drawn.interval()


def without_numpy(count):
    """The same on the standard library, as inside a browser."""
    kept, draws._numpy = draws._numpy, lambda: None
    try:
        return ours(count)
    finally:
        draws._numpy = kept


LAW = {
    "infer, known uncertainty": lambda: weighing.infer(
        (600, 800), (790, 720), 1.65, u_reading=2, u_wheelbase=0.003
    ),
    "infer, three repeats, with its 95 % intervals": lambda: weighing.infer(
        *REPEATED, 1.65, u_wheelbase=0.003
    ).sentence(),
    "least squares of four states, two repeats": lambda: weighing.least_squares(
        STATES, 1.65, u_wheelbase=0.003
    ),
    "law by arithmetic": lambda: statics.overhang_of(*INPUTS).u,
    "law by compiled sympy sensitivities": lambda: propagate(statics.overhang_of, *INPUTS).u,
    "coverage factor, not yet cached": lambda: coverage_factor.__wrapped__(0.95, 16.7),
}


def compared(count, repeat):
    """Seconds of both ways, in turn."""
    taken = {"ours": [], "by hand": []}
    for _ in range(repeat):
        taken["ours"] += times(lambda: ours(count), 1)
        taken["by hand"] += times(lambda: by_hand(count), 1)
    return {name: summary(values) for name, values in taken.items()}


def main():
    for one, other in zip(ours(LARGE), by_hand(LARGE)):
        assert abs(one - other) < 0.02 * abs(other), "the two must answer the same question"
    sizes = many(SIZES, SIZES[:3])
    found = {count: compared(count, many(9, 2) if count <= LARGE else 3) for count in sizes}
    plain = summary(times(lambda: without_numpy(20_000), many(5, 1)))
    rows = [
        [
            f"{count:,}",
            ms(both["ours"]),
            ms(both["by hand"]),
            f"{count / both['ours']['median']:,.0f}",
            f"{both['ours']['median'] / both['by hand']['median']:.1f}",
        ]
        for count, both in found.items()
    ]
    rows.append(["20,000 without numpy", ms(plain), "-", f"{20_000 / plain['median']:,.0f}", "-"])
    table(
        "Drawing an overhang, ms: median (lowest to highest)",
        ["draws", "ours", "by hand", "ours, draws a second", "times by hand"],
        rows,
    )
    laws = {name: summary(times(call, many(15, 2), call)) for name, call in LAW.items()}
    table(
        "The law of propagation and what stands on it, ms",
        ["what", "ms"],
        [[name, ms(spread)] for name, spread in laws.items()],
    )
    verdict("100,000 draws, seconds", found[LARGE]["ours"]["median"], BUDGET_S)
    verdict(
        "100,000 draws against the expression by hand, ratio",
        found[LARGE]["ours"]["median"] / found[LARGE]["by hand"]["median"],
        20,
    )
    verdict(
        "power of growth with the draws",
        power(sizes[1:], [found[n]["ours"]["median"] for n in sizes[1:]]),
        1.15,
    )
    save("bench_montecarlo", {"draws": found, "without_numpy": plain, "law": laws})


if __name__ == "__main__":
    main()
