"""How well mistakes are named, and what an attempt costs.

``python tests/bench/bench_exercises.py [result.json] [seeds] [--quick]``.  The sweep goes over
every kind.  Right answers must all be accepted.  Listed mistakes must be named among the suspects,
at the numbers that the package computes for them (the tests compute them apart).  Numbers out of
the blue (log-uniform from a tenth to ten times the right answer, one percent off it or more) must
seldom be given a cause.  Then what the tables of wrong turns cost, kind by kind, and how many
listed slips are named where they are worked with the numbers as a statement shows them.
"""

import gc
import math
import random
import statistics
import sys
import time
import tracemalloc
from collections import Counter
from dataclasses import asdict, dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import common
from bench_slips import typed_as

from leverarm import exercises
from leverarm.exercises.expressions.tree import compiled, value_at
from leverarm.exercises.number_reader import significant
from leverarm.exercises.suspects import listed_turns, search_for
from leverarm.quantities import KINDS, to_unit

NONSENSE_EACH = 10
ONE_OF_EACH = ("front_gain", "formula_front_gain", "which_pivot", "body_plank")
HOSTILE = (
    "(" * 10**6,
    "9**9**9",
    "__import__('os').remove('x')",
    "9" * 10**6,
    "a=" * 10**6,
    "1," * 60,
    "lambda: 0",
    "W^" * 100,
    "[" * 199,
    "sqrt" * 40,
    "-" * 199,
    "((((W+a)^6)^6)^6)^6",
    "(W+a+L)^6" * 20,
    "W/(a-a)",
    "((W+a+L)^6)^2",
    "1/" * 99 + "W",
    "1/" * 59 + "W",
    "\ud800",
    "\x00" * 100,
    "٣٫٥ kg",
    "W;" * 999,
    "body: " + "x" * 1900,
)
AS_TYPED = (
    "{plain} {unit}",
    "{grouped} {unit}",
    "{plain}",
    "{three} {unit}",
    "{exact}",
    "{comma} {unit}",
    "= {three}",
    "{other}",
)


def numeric():
    return [kind for kind in exercises.problems() if kind.style == "number"]


def typed_right(problem):
    """A right answer in the forms people type it."""
    kind = problem.source.method.rule.kind
    grouped, three = significant(problem.answer, 4), significant(problem.answer, 3)
    if problem.kind == "mean_reading":
        # Repeated readings tell a decimal more than the scale; three digits are no mean.
        grouped = three = significant(problem.answer, 5)
    plain = grouped.replace(",", "")
    others = {"weight": ("kg", "lb", "t"), "length": ("m", "in", "mm", "cm", "ft")}.get(
        kind, (problem.unit,)
    )
    base = problem.answer * KINDS[kind].units[problem.unit]
    unit = others[len(problem.statement) % len(others)]
    comma = plain.replace(".", ",") if len(plain.partition(".")[2]) != 3 else plain
    texts = {
        "plain": plain,
        "grouped": grouped,
        "three": three,
        "unit": problem.unit,
        "exact": repr(problem.answer),
        "comma": comma,
        "other": f"{to_unit(base, kind, unit):.7g} {unit}",
    }
    return [form.format(**texts) for form in AS_TYPED]


def in_answer_unit(problem, number):
    """A number as the working has it, in the unit asked."""
    rule = problem.source.method.rule
    return number if rule.raw else to_unit(number, rule.kind, problem.unit)


def sweep(kinds, seeds):
    """Counts over every kind and seed: rights, mistakes, nonsense, redraws."""
    found = Counter()
    rng = random.Random(7)
    for kind in kinds:
        for seed in seeds:
            problem = exercises.make(kind, seed)
            found["drawn"] += 1 + problem.redraws
            found["redrawn"] += problem.redraws
            rights(problem, found)
            mistakes(problem, found)
            nonsense(problem, found, rng)
    return found


def rights(problem, found):
    for typed in typed_right(problem):
        found["rights"] += 1
        if not exercises.check(problem, typed).right:
            found["rights refused"] += 1
            print("REFUSED", problem.kind, problem.seed, typed, problem.answer, problem.unit)


def mistakes(problem, found):
    for group in problem.source.listed_mistakes:
        there = value_at(group.compute, problem.drawn.values)
        if not math.isfinite(there) or problem.system not in group.systems:
            continue
        found["mistakes"] += 1
        verdict = exercises.check(problem, repr(in_answer_unit(problem, there)))
        named = group.mistakes[0].name in {suspect.name for suspect in verdict.suspects}
        found["mistakes named"] += named
        found["mistakes alone"] += named and len(verdict.suspects) == 1
        if not named:
            print(
                "NOT NAMED",
                problem.kind,
                problem.seed,
                group.mistakes[0].name,
                in_answer_unit(problem, there),
                problem.answer,
            )


def nonsense(problem, found, rng):
    for _ in range(NONSENSE_EACH):
        factor = 10 ** rng.uniform(-1, 1)
        if abs(factor - 1) < 0.01:
            continue
        found["nonsense"] += 1
        named = bool(exercises.check(problem, repr(problem.answer * factor)).suspects)
        found["nonsense named"] += named
        found["nonsense named", problem.kind] += named


def cost(kinds, seeds):
    """Milliseconds of processor time to make one problem and check one attempt, for each kind."""
    spent = {}
    for kind in kinds:
        exercises.make(kind, 0).source.check(exercises.make(kind, 0), "1")
        began = time.process_time()
        for seed in seeds:
            problem = exercises.make(kind, f"cost {seed}")
            attempt = (
                problem.answer
                if isinstance(problem.answer, str)
                else f"{problem.answer * 1.1:.4g} {problem.unit}"
            )
            exercises.check(problem, attempt, sympy=False)
        spent[kind.name] = 1000 * (time.process_time() - began) / len(seeds)
    return spent


def report(count):
    """The sweep over so many seeds, held against what is wanted."""
    found = sweep(numeric(), range(count))

    def share(part, whole):
        return 100 * found[part] / found[whole]

    print(
        f"{len(exercises.problems())} kinds, {len(numeric())} of them numeric, {count} seeds each"
    )
    common.verdict(
        "right answers accepted, %", 100 - share("rights refused", "rights"), 100, at_most=False
    )
    common.verdict(
        "listed mistakes named among the suspects, %",
        share("mistakes named", "mistakes"),
        98,
        at_most=False,
    )
    common.verdict("nonsense given a cause, %", share("nonsense named", "nonsense"), 10)
    print(
        f"  listed mistakes named as the only suspect: {share('mistakes alone', 'mistakes'):.1f} %"
    )
    print(f"  drawn sets put back: {share('redrawn', 'drawn'):.1f} %")
    worst = sorted(
        ((n, key[1]) for key, n in found.items() if isinstance(key, tuple)), reverse=True
    )[:8]
    common.table(
        "nonsense given a cause, the kinds with most",
        ["kind", "%"],
        [[name, f"{100 * n / (count * NONSENSE_EACH):.1f}"] for n, name in worst],
    )
    return {" ".join(key) if isinstance(key, tuple) else key: n for key, n in found.items()}


def timing():
    """What making one problem and checking one attempt costs."""
    spent = cost(exercises.problems(), range(common.many(200, 5)))
    styles = {kind.name: kind.style for kind in exercises.problems()}
    rows = []
    for style in dict.fromkeys(styles.values()):
        ms = [cost for name, cost in spent.items() if styles[name] == style]
        dearest = max((cost, name) for name, cost in spent.items() if styles[name] == style)
        rows.append([style, len(ms), f"{sum(ms) / len(ms):.3f}", f"{dearest[0]:.2f} {dearest[1]}"])
    common.table(
        "make one problem and check one attempt, ms of processor time",
        ["style", "kinds", "mean", "dearest"],
        rows,
    )
    common.verdict("mean over all kinds, ms", sum(spent.values()) / len(spent), 0.7)
    return spent


@dataclass(frozen=True)
class TableCost:
    """What the table of wrong turns of a kind costs in one unit system."""

    kind: str
    system: str
    built_s: float
    kept_mb: float
    check_ms: float
    slowest_ms: float


def table_cost(kind, system):
    """Build a table twice, for its time and for its size, then ask it at other numbers."""
    problem = exercises.make(kind, 1, system)
    exercises.check(problem, f"{problem.answer * 1.1:.4g}")  # what else a first check needs
    search_for.cache_clear()
    built, _ = taken(search_for, kind.method, system)
    search_for.cache_clear()
    gc.collect()
    tracemalloc.start()
    search_for(kind.method, system)
    gc.collect()
    kept = tracemalloc.get_traced_memory()[0] / 1e6
    tracemalloc.stop()
    spent = []
    for seed in range(2, 2 + common.many(10, 1)):
        problem = exercises.make(kind, seed, system)
        for factor in (0.31, 1.7, 6.3):
            text = f"{problem.answer * factor:.4g}"
            spent.append(1000 * taken(exercises.check, problem, text)[0])
    return TableCost(kind.name, system, built, kept, statistics.median(spent), max(spent))


def taken(call, *about):
    """Seconds of processor time that a call took, and what it gave."""
    began = time.process_time()
    found = call(*about)
    return time.process_time() - began, found


def systems_of(kind):
    return [kind.system] if kind.system else ["kg", "lb"]


def tables():
    """What the tables of all kinds cost, and which are dearest."""
    kinds = numeric()[:: common.many(1, 20)]
    costs = [table_cost(kind, system) for kind in kinds for system in systems_of(kind)]
    rows = []
    for what, name, limit in (
        ("building, s", "built_s", 0.5),
        ("kept, MB", "kept_mb", 1.0),
        ("a check after the first, median of a kind, ms", "check_ms", 5.0),
        ("a check after the first, slowest of a kind, ms", "slowest_ms", None),
    ):
        order = sorted(costs, key=lambda one: -getattr(one, name))
        middle = statistics.median(getattr(one, name) for one in costs)
        dearest = ", ".join(
            f"{one.kind} {one.system} {getattr(one, name):.2f}" for one in order[:3]
        )
        over = "-" if limit is None else sum(getattr(one, name) > limit for one in costs)
        rows.append([what, f"{middle:.3f}", over, dearest])
        if limit is not None:
            common.verdict(f"{what}, dearest of {len(costs)}", getattr(order[0], name), limit)
    head = ["tables of wrong turns", "median", "above what is wanted", "dearest"]
    common.table("one table for each kind and unit system", head, rows)
    return [asdict(one) for one in costs]


def as_shown(seeds, digits):
    """Share of listed slips named, worked with the numbers as shown and so typed, by system.

    One that comes to the same as another in the list is named where the other is.
    """
    found = Counter()
    for kind in numeric()[:: common.many(1, 20)]:
        for system in systems_of(kind):
            for seed in seeds:
                problem = exercises.make(kind, seed, system)
                turns = listed_turns(kind.method, system)
                numbers = [value_at(compiled(slip.tree), problem.drawn.shown) for slip in turns]
                for number in numbers:
                    if not math.isfinite(number):
                        continue
                    verdict = exercises.check(problem, typed_as(number, digits))
                    if not verdict.right:
                        same = {
                            other.name
                            for other, at in zip(turns, numbers)
                            if math.isclose(at, number, rel_tol=1e-9)
                        }
                        found[system] += 1
                        named = not same.isdisjoint(one.name for one in verdict.suspects)
                        found[system, "named"] += named
    for system in ("kg", "lb"):
        share = 100 * found[system, "named"] / (found[system] or 1)
        words = f"listed slips named as shown in {system}, {digits} digits, %"
        common.verdict(words, share, 98, at_most=False)
    return {" ".join(key) if isinstance(key, tuple) else key: n for key, n in found.items()}


def hostile():
    """The slowest reply to text that means to hurt, in ms of processor time."""
    slowest = 0.0
    for name in ONE_OF_EACH:
        problem = exercises.make(name, 1)
        exercises.check(problem, "W")
        for typed in HOSTILE:
            began = time.process_time()
            exercises.check(problem, typed)
            slowest = max(slowest, time.process_time() - began)
    common.verdict("slowest reply to hostile text, ms", 1000 * slowest, 50)


def main():
    count = int(common.words()[1]) if len(common.words()) > 1 else common.many(30, 1)
    counts, spent = report(count), timing()
    record = {"seeds": count, "counts": counts, "ms": spent, "tables": tables()}
    for digits in (4, 3):
        seeds = range(common.many(3, 1))
        record[f"listed as shown, {digits} digits"] = as_shown(seeds, digits)
    hostile()
    common.save("bench_exercises", record)


if __name__ == "__main__":
    main()
