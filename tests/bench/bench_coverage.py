"""Coverage of the 95 percent interval of every number on the page, over simulated weigh days."""

import random
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))
from yard_days import CASES, covered

from leverarm.driveline import RollOut

DAYS = 2000


def main(days=DAYS):
    """Print the table, a row a case: lowest and highest number, then each."""
    for case in CASES:
        held = covered(case, days, random.Random(case))
        low, high = min(held, key=held.get), max(held, key=held.get)
        print(
            f"{case}: {held[low]:.1f} ({low}) to {held[high]:.1f} ({high})  "
            + ", ".join(f"{name} {value:.1f}" for name, value in held.items()),
            flush=True,
        )
    for bars in (40, 20):
        print(f"roll-out to half a bar of {bars}: lead {rolled_out(days, bars):.1f}")


def rolled_out(days, bars, turns=10):
    """Share of roll-outs whose interval held the true lead, in percent: both wheels stop anywhere
    and are counted to half a bar.
    """
    rng, step, held = random.Random(bars), 0.5 / bars, 0
    for _ in range(days):
        ratio, lead = rng.uniform(1.2, 1.5), rng.uniform(-1, 6)
        counts = []
        for front in (ratio, ratio / (1 + lead / 100)):
            rear = turns + rng.uniform(-step, step) / 2
            counts.append(step * round(rear * front / step))
        low, high = RollOut(*counts, turns, step).lead.interval()
        held += low <= lead <= high
    return 100 * held / days


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
