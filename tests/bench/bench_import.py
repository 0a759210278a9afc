"""What ``import leverarm`` costs on top of a bare interpreter, each in a fresh process."""

import subprocess
import sys

from common import ms, save, summary, table, times, verdict

BUDGET = 0.15
CODES = {"bare interpreter": "pass", "import leverarm": "import leverarm"}


def run(code):
    # -I keeps the user's own start-up files out of it.
    subprocess.run([sys.executable, "-I", "-c", code], check=True)


def main(repeat=15):
    for code in CODES.values():
        run(code)  # once for nothing: byte code and disk cache
    taken = {name: [] for name in CODES}
    for _ in range(repeat):  # in turn, so that a busy moment hits both
        for name, code in CODES.items():
            taken[name] += times(lambda: run(code), 1)
    added = summary([loaded - bare for bare, loaded in zip(*taken.values())])
    found = {name: summary(values) for name, values in taken.items()} | {"added by the package": added}
    table("Import time, ms: median (lowest to highest)", ["process", "ms"],
          [[name, ms(spread)] for name, spread in found.items()])
    checks = [verdict("import leverarm, seconds added", added["median"], BUDGET)]
    save("bench_import", {"times": found, "checks": checks})


if __name__ == "__main__":
    main()
