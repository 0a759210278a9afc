"""How often a reply starts at the step where a chain of steps went wrong.

``python tests/bench/bench_departure.py [result.json] [seeds] [--quick]``.  Every numeric kind, both
unit systems: right up to a line of the worked way, a slip of arithmetic there, then right to the
end.  The reply must never point behind that line; "there" is how often it points at it.  A line's
slips: a digit wrong, two digits swapped, the sign, twice, half, ten times, two digits kept, and a
number out of the blue.  What a reply says of a step is worked out again.
"""

import random
import re
import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import common
from bench_slips import typed_as

from leverarm import exercises
from leverarm.exercises.expressions.tree import compiled, value_at

COMES_OUT = re.compile(r"is what comes out with (.+?) = (−?\d[\d,]*(?:\.\d+)?)")
DIGITS = (4, 3)


def digit(right, rng):
    text = typed_as(right, 4)
    at = rng.choice([place for place, char in enumerate(text) if char.isdigit()][1:])
    other = rng.choice([char for char in "0123456789" if char != text[at]])
    return float(text[:at] + other + text[at + 1 :])


def swap(right, rng):
    text = typed_as(right, 4)
    pairs = [at for at in range(len(text) - 1) if text[at : at + 2].isdigit()]
    at = rng.choice(pairs or [0])
    return float(text[:at] + text[at : at + 2][::-1] + text[at + 2 :]) if pairs else right


SLIPS = {
    "digit": digit,
    "swap": swap,
    "sign": lambda right, _: -right,
    "twice": lambda right, _: 2 * right,
    "half": lambda right, _: right / 2,
    "ten": lambda right, _: 10 * right,
    "two kept": lambda right, _: float(f"{right:.2g}"),
    "blue": lambda right, rng: float(f"{right * rng.uniform(0.3, 3):.4g}"),
}


def carried(lines, at, number):
    """The answer where one line came to another number and all later ones were worked right."""
    known = dict(lines[-1].at) | {lines[at].makes: number}
    for line in lines[at + 1 :]:
        if line.makes and line.at is lines[-1].at:
            number = known[line.makes] = value_at(compiled(line.tree), known)
    return number


def chains(problem, rng):
    """(kind of slip, line of it, what is typed, its digits) for each line of a problem."""
    lines = problem.solution
    for at, line in enumerate(lines):
        if not line.makes:
            continue
        for name, slip in SLIPS.items():
            number = carried(lines, at, slip(line.claim, rng))
            if number == number and abs(number) < 1e12:
                for digits in DIGITS:
                    yield name, at, typed_as(number, digits), digits


def told_wrong(problem, verdict, typed):
    """Whether a reply says of a step what is not so, worked out again."""
    found = COMES_OUT.search(verdict.finding)
    if not found:
        return False
    line = problem.solution[verdict.step]
    number = float(found[2].replace(",", "").replace("−", "-"))
    off = abs(abs(carried(problem.solution, verdict.step, number)) - abs(float(typed)))
    unit = 10.0 ** -len(typed.partition(".")[2]) if "." in typed else 1.0
    zeros = 10.0 ** (len(typed) - len(typed.rstrip("0"))) if "." not in typed else unit
    return found[1] != line.left or off > 0.51 * max(unit, zeros)


def count_kind(kind, system, seeds, count):
    for seed in seeds:
        problem = exercises.make(kind, seed, system)
        rng = random.Random(f"{kind.name} {system} {seed}")
        for name, at, typed, digits in chains(problem, rng):
            verdict = exercises.check(problem, typed)
            if verdict.right:
                continue
            step = verdict.step or 0
            for key in ((digits, "all"), (digits, name)):
                count[key, "all"] += 1
                count[key, "behind"] += step > at
                count[key, "there"] += step == at
                count[key, "first"] += at == 0
                count[key, "cause"] += bool(verdict.suspects)
            count["untrue"] += told_wrong(problem, verdict, typed)
            if step > at:
                count["where", kind.name, name, bool(verdict.suspects)] += 1


def main():
    seeds = int(common.words()[1]) if len(common.words()) > 1 else common.many(10, 1)
    count, began = Counter(), time.process_time()
    kinds = [kind for kind in exercises.problems() if kind.style == "number"]
    for kind in kinds[:: common.many(1, 20)]:
        for system in [kind.system] if kind.system else ["kg", "lb"]:
            count_kind(kind, system, range(seeds), count)
    rows = []
    for key in [(digits, name) for digits in DIGITS for name in ("all", *SLIPS)]:
        whole = count[key, "all"] or 1
        shares = (count[key, what] / whole for what in ("there", "behind", "first", "cause"))
        parts = [f"{100 * share:.1f}" for share in shares]
        rows.append([key[0], key[1], count[key, "all"], *parts])
    common.table(
        "a slip in one line, all others right, % of chains",
        ["digits", "slip", "chains", "there", "behind", "it is line one", "given a cause"],
        rows,
    )
    for digits in DIGITS:
        whole = count[(digits, "all"), "all"] or 1
        behind = 100 * count[(digits, "all"), "behind"] / whole
        common.verdict(f"replies that point behind the slip, {digits} digits, %", behind, 1)
    common.verdict("sentences about a step that are not so", count["untrue"], 0)
    behind = {key[1:]: n for key, n in count.items() if key[0] == "where"}
    print("behind, most often:", Counter(behind).most_common(12))
    print(f"{time.process_time() - began:.0f} s of processor time")
    common.save("bench_departure", {" ".join(map(str, key)): n for key, n in count.items()})


if __name__ == "__main__":
    main()
