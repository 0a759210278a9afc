"""Run every benchmark, one after another, each in a process of its own; write ``bench.json`` and a
table of it.

    .venv/bin/python tests/bench                      about ten minutes on a quiet machine; writes
    into figures/
    .venv/bin/python tests/bench --quick              tries it out: few repeats, numbers that say
    nothing, written elsewhere
    .venv/bin/python tests/bench marking slider       these alone, written elsewhere
    .venv/bin/python tests/bench --folder FOLDER      written there

Nothing is written into ``figures/`` unless every part was measured in earnest.
"""

import argparse
import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from common import machine
from report import PARTS, page

HERE = Path(__file__).parent
FIGURES = HERE.parents[1] / "figures"


def measured(name, scratch, quick):
    """The record of one part, or None where it failed; what it prints is seen as it comes."""
    print(f"\n=== {name}: {PARTS[name]}", flush=True)
    file, start = scratch / f"{name}.json", time.monotonic()
    command = [
        sys.executable,
        str(HERE / f"bench_{name}.py"),
        str(file),
        *(["--quick"] if quick else []),
    ]
    if subprocess.run(command).returncode or not file.is_file():
        return None
    return json.loads(file.read_text("utf-8")) | {"seconds": time.monotonic() - start}


def write(folder, record):
    """The record and its table, each whole or not at all."""
    from leverarm.files import write_whole

    folder.mkdir(parents=True, exist_ok=True)
    write_whole(folder / "bench.json", (json.dumps(record, indent=1) + "\n").encode())
    write_whole(folder / "bench.md", page(record).encode())
    print(f"\nwritten: {folder / 'bench.json'} and {folder / 'bench.md'}")


def main(argv=None):
    asked = argparse.ArgumentParser("python tests/bench", description="Run the benchmarks.")
    asked.add_argument(
        "parts",
        nargs="*",
        metavar="PART",
        help=f"any of {', '.join(PARTS)}; all where none is named",
    )
    asked.add_argument("--quick", action="store_true", help="few repeats, to try it out")
    asked.add_argument(
        "--folder",
        type=Path,
        help="where to write (default: figures, or a new folder for less than everything)",
    )
    told = asked.parse_args(argv)
    if unknown := set(told.parts) - set(PARTS):
        asked.error(f"no part is called {', '.join(sorted(unknown))}; there are {', '.join(PARTS)}")
    start, here = time.monotonic(), machine()
    with tempfile.TemporaryDirectory() as scratch:
        found = {name: measured(name, Path(scratch), told.quick) for name in told.parts or PARTS}
    failed = [name for name, one in found.items() if one is None]
    record = {
        "quick": told.quick,
        "machine": here,
        "seconds": time.monotonic() - start,
        "parts": {name: one for name, one in found.items() if one},
    }
    whole = not told.quick and not failed and set(found) == set(PARTS)
    write(told.folder or (FIGURES if whole else Path(tempfile.mkdtemp())), record)
    print(
        f"Failed: {', '.join(failed)}."
        if failed
        else f"{len(found)} parts in {record['seconds'] / 60:.1f} minutes."
    )
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
