"""Coverage of the 95 percent interval of every number on the page, over simulated weigh days."""

import random
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))
from yard_days import CASES, covered

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


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
