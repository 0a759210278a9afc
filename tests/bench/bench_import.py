"""What an import costs on top of a bare interpreter, each in a fresh process; and how it grows,
part by part.

``import leverarm`` is held against ``import sympy`` alone, in the same run.  The parts
are added in the order of the staircase, each process importing one more than the last.
"""

import subprocess
import sys
from functools import partial

from common import many, ms, save, summary, table, times, verdict

BUDGET = 0.15
PARTS = (
    "statics",
    "machine",
    "axles",
    "uncertainty",
    "weighing",
    "decision",
    "exercises",
    "marking",
    "panels",
    "graphs",
)
CODES = {
    "bare interpreter": "pass",
    "import leverarm": "import leverarm",
    "import sympy": "import sympy",
}


def growing():
    """Words -> code that imports the first so many parts."""
    return {
        f"{count}, the last {PARTS[count - 1]}": "import "
        + ", ".join(f"leverarm.{name}" for name in PARTS[:count])
        for count in range(1, len(PARTS) + 1)
    }


def run(code):
    # -I keeps the user's own start-up files out of it.
    subprocess.run([sys.executable, "-I", "-c", code], check=True)


def measured(codes, repeat):
    """Seconds of each process, in turn, so that a busy moment hits all."""
    for code in codes.values():
        run(code)  # once for nothing: byte code and disk cache
    taken = {name: [] for name in codes}
    for _ in range(repeat):
        for name, code in codes.items():
            taken[name] += times(partial(run, code), 1)
    return taken


def added(taken, name):
    """What a process took beyond the bare one of the same turn."""
    return summary([all_in - bare for bare, all_in in zip(taken["bare interpreter"], taken[name])])


def main():
    taken = measured(CODES, many(21, 3))
    ours, sympy = (added(taken, name) for name in ("import leverarm", "import sympy"))
    found = {name: summary(values) for name, values in taken.items()}
    found |= {"added by leverarm": ours, "added by sympy": sympy}
    table(
        "Import time, ms: median (lowest to highest)",
        ["process", "ms"],
        [[name, ms(spread)] for name, spread in found.items()],
    )
    parts = measured({"bare interpreter": "pass", **growing()}, many(7, 1))
    steps = {name: added(parts, name) for name in growing()}
    table(
        "Added to a bare interpreter by more and more parts, ms",
        ["parts", "ms"],
        [[name, ms(spread)] for name, spread in steps.items()],
    )
    verdict("import leverarm, seconds added", ours["median"], BUDGET)
    verdict(
        "import leverarm against import sympy, ratio of what they add",
        ours["median"] / sympy["median"],
        0.5,
    )
    save("bench_import", {"times": found, "parts": steps})


if __name__ == "__main__":
    main()
