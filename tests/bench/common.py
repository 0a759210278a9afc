"""What every benchmark needs: repeat, median and spread, one table, one JSON file.

A benchmark is a script: ``python tests/bench/bench_x.py [result.json]``.  It measures
and reports; it never fails because a machine was busy.  Without a path the JSON file
goes to the system's temporary folder.
"""

import json
import os
import platform
import statistics
import sys
import tempfile
import time
from pathlib import Path


def times(call, repeat=5, before=None):
    """Seconds that each of several calls took; ``before`` is called first each time and not counted."""
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
    return {"median": statistics.median(values), "low": min(values), "high": max(values), "n": len(values)}


def ms(spread):
    """A summary of seconds as text in milliseconds: median (lowest to highest)."""
    return f"{1e3 * spread['median']:.2f} ({1e3 * spread['low']:.2f} to {1e3 * spread['high']:.2f})"


def table(title, head, rows):
    """Print rows under a head, columns as wide as they need; the first column stands left."""
    cells = [[str(cell) for cell in row] for row in [head, *rows]]
    widths = [max(map(len, column)) for column in zip(*cells)]
    print(f"\n{title}")
    for row in cells:
        print("  " + "  ".join(cell.rjust(w) if i else cell.ljust(w) for i, (cell, w) in enumerate(zip(row, widths))))


def verdict(words, value, limit, *, at_most=True):
    """Print one line that holds a value against its budget; return it as a record."""
    met = value <= limit if at_most else value >= limit
    bound = "at most" if at_most else "at least"
    print(f"  {words}: {value:.3g} ({bound} {limit:g} wanted): {'met' if met else 'MISSED'}")
    return {"what": words, "value": value, "limit": limit, "bound": bound, "met": met}


def machine():
    """What the numbers were measured on, so that they can be read a year later."""
    load = os.getloadavg()[0] if hasattr(os, "getloadavg") else None
    return {"python": platform.python_version(), "system": platform.system(), "processors": os.cpu_count(),
            "load_average": load, "at": time.strftime("%Y-%m-%d %H:%M:%S")}


def save(name, record, argv=None):
    """Write a record as JSON to the path on the command line, or to the temporary folder; whole or not at all."""
    argv = sys.argv if argv is None else argv
    path = Path(argv[1]) if len(argv) > 1 else Path(tempfile.gettempdir()) / f"{name}.json"
    part = path.with_name(path.name + ".part")
    part.write_text(json.dumps({"bench": name, "machine": machine(), **record}, indent=2) + "\n", "utf-8")
    part.replace(path)
    print(f"\nwritten: {path}")
    return path
