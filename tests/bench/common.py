"""What every benchmark needs: repeat, median and spread, one table, one JSON file.

A benchmark is a script: ``python tests/bench/bench_x.py [result.json] [--quick]``.  It measures
and reports; it never fails because a machine was busy.  Without a path the JSON file
goes to the system's temporary folder.  ``--quick`` tries it out with few repeats: its
numbers say nothing.  ``python tests/bench`` runs them all.
"""

import json
import math
import os
import platform
import statistics
import sys
import tempfile
import time
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

QUICK = "--quick" in sys.argv
PACKAGES = ("jupyterlab", "ipywidgets", "numpy", "matplotlib", "sympy")
_TABLES, _CHECKS = [], []


def words():
    """What was typed after the script's name, without options."""
    return [word for word in sys.argv[1:] if not word.startswith("--")]


def many(full, quick):
    """How often, or how much: in earnest, or only to try it out."""
    return quick if QUICK else full


def power(sizes, values):
    """The growth of values with sizes as a power: 1 is in proportion.

    From the first to the last point.
    """
    return math.log(values[-1] / values[0]) / math.log(sizes[-1] / sizes[0])


def times(call, repeat=5, before=None):
    """Seconds that each of several calls took; ``before`` is called first each time and not
    counted.
    """
    taken = []
    for _ in range(repeat):
        if before:
            before()
        start = time.perf_counter()
        call()
        taken.append(time.perf_counter() - start)
    return taken


def summary(values):
    """Median and spread (lowest, highest) of some values, with their number."""
    return {
        "median": statistics.median(values),
        "low": min(values),
        "high": max(values),
        "n": len(values),
    }


def ms(spread):
    """A summary of seconds as text in milliseconds: median (lowest to highest)."""
    return f"{1e3 * spread['median']:.2f} ({1e3 * spread['low']:.2f} to {1e3 * spread['high']:.2f})"


def table(title, head, rows):
    """Print rows under a head, columns as wide as they need; the first column stands left.

    ``save`` takes it along.
    """
    _TABLES.append(
        {
            "title": title,
            "head": [str(cell) for cell in head],
            "rows": [[str(cell) for cell in row] for row in rows],
        }
    )
    cells = [[str(cell) for cell in row] for row in [head, *rows]]
    widths = [max(map(len, column)) for column in zip(*cells)]
    print(f"\n{title}")
    for row in cells:
        print(
            "  "
            + "  ".join(
                cell.rjust(w) if i else cell.ljust(w)
                for i, (cell, w) in enumerate(zip(row, widths))
            )
        )


def verdict(words, value, limit, *, at_most=True):
    """Print one line that holds a value against its budget; return it as a record."""
    met = value <= limit if at_most else value >= limit
    bound = "at most" if at_most else "at least"
    print(f"  {words}: {value:.3g} ({bound} {limit:g} wanted): {'met' if met else 'MISSED'}")
    _CHECKS.append({"what": words, "value": value, "limit": limit, "bound": bound, "met": met})
    return _CHECKS[-1]


def machine():
    """What the numbers were measured on, so that they can be read a year later."""
    load = os.getloadavg()[0] if hasattr(os, "getloadavg") else None
    return {
        "python": platform.python_version(),
        "system": platform.system(),
        "processor": _processor(),
        "processors": os.cpu_count(),
        "load_average": load,
        "at": time.strftime("%Y-%m-%d %H:%M:%S"),
        "packages": {name: _version(name) for name in PACKAGES},
    }


def _processor():
    """The processor's own name for itself."""
    try:
        lines = Path("/proc/cpuinfo").read_text("utf-8").splitlines()
        return next(
            line.partition(":")[2].strip() for line in lines if line.startswith("model name")
        )
    except (OSError, StopIteration):
        return platform.processor() or platform.machine()


def _version(name):
    try:
        return version(name)
    except PackageNotFoundError:
        return None


def save(name, record):
    """Write a record, with every table and check so far, as JSON to the path told, or to the
    temporary folder; whole or not at all.
    """
    path = Path(words()[0]) if words() else Path(tempfile.gettempdir()) / f"{name}.json"
    part = path.with_name(path.name + ".part")
    whole = {
        "bench": name,
        "quick": QUICK,
        "machine": machine(),
        "tables": _TABLES,
        **record,
        "checks": _CHECKS,
    }
    part.write_text(json.dumps(whole, indent=1) + "\n", "utf-8")
    part.replace(path)
    print(f"\nwritten: {path}")
    return path
