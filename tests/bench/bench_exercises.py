"""How well slips are named, and what an attempt costs.  Run: python tests/bench/bench_exercises.py [seeds]

The sweep goes over every kind.  Right answers must all be accepted, listed slips named
among the suspects, and numbers out of the blue (log-uniform from a tenth to ten times the right
answer, one per cent off it or more) seldom be given a cause.
"""

import math
import random
import sys
import time
from collections import Counter
from statistics import median

from leverarm import exercises
from leverarm.exercises.answers import figured
from leverarm.exercises.evaluate import value
from leverarm.quantities import KINDS, to_unit

NONSENSE_EACH = 10
AS_TYPED = ("{plain} {unit}", "{plain}", "{three} {unit}", "{exact}", "{comma} {unit}", "= {three}", "{other}")


def numeric():
    return [kind for kind in exercises.problems() if kind.style == "number"]


def typed_right(problem):
    """A right answer in the forms people type it."""
    kind = problem.source.working.rule.kind
    plain, three = figured(problem.answer, 4), figured(problem.answer, 3)
    others = {"weight": ("kg", "lb", "t"), "length": ("m", "in", "mm", "cm", "ft")}.get(kind, (problem.unit,))
    base = problem.answer * KINDS[kind].units[problem.unit]
    unit = others[len(problem.statement) % len(others)]
    comma = plain.replace(".", ",") if len(plain.partition(".")[2]) != 3 else plain
    texts = {"plain": plain, "three": three, "unit": problem.unit, "exact": repr(problem.answer), "comma": comma,
             "other": f"{to_unit(base, kind, unit):.7g} {unit}"}
    return [form.format(**texts) for form in AS_TYPED]


def in_answer_unit(problem, number):
    """A number as the working has it, in the unit asked."""
    rule = problem.source.working.rule
    return number if rule.raw else to_unit(number, rule.kind, problem.unit)


def sweep(kinds, seeds):
    """Counts over every kind and seed: rights, slips, nonsense, redraws."""
    found = Counter()
    rng = random.Random(7)
    for kind in kinds:
        for seed in seeds:
            problem = exercises.make(kind, seed)
            found["drawn"] += 1 + problem.redraws
            found["redrawn"] += problem.redraws
            _rights(problem, found)
            _slips(problem, found)
            _nonsense(problem, found, rng)
    return found


def _rights(problem, found):
    for typed in typed_right(problem):
        found["rights"] += 1
        if not exercises.check(problem, typed).right:
            found["rights refused"] += 1
            print("REFUSED", problem.kind, problem.seed, typed, problem.answer, problem.unit)


def _slips(problem, found):
    for path in problem.source.working.listed:
        there = value(path.compute, problem.inner.values)
        if not math.isfinite(there):
            continue
        found["slips"] += 1
        verdict = exercises.check(problem, repr(in_answer_unit(problem, there)))
        named = path.turns[0].name in {suspect.name for suspect in verdict.suspects}
        found["slips named"] += named
        found["slips alone"] += named and len(verdict.suspects) == 1
        if not named:
            print("NOT NAMED", problem.kind, problem.seed, path.turns[0].name, in_answer_unit(problem, there), problem.answer)


def _nonsense(problem, found, rng):
    for _ in range(NONSENSE_EACH):
        factor = 10 ** rng.uniform(-1, 1)
        if abs(factor - 1) < 0.01:
            continue
        found["nonsense"] += 1
        named = bool(exercises.check(problem, repr(problem.answer * factor)).suspects)
        found["nonsense named"] += named
        found["nonsense named", problem.kind] += named


def cost(kinds, seeds):
    """Milliseconds to make one problem and check one attempt, for each kind."""
    spent = {}
    for kind in kinds:
        exercises.make(kind, 0).source.check(exercises.make(kind, 0), "1")
        began = time.perf_counter()
        for seed in seeds:
            problem = exercises.make(kind, f"cost {seed}")
            attempt = problem.answer if isinstance(problem.answer, str) else f"{problem.answer * 1.1:.4g} {problem.unit}"
            more = {"second_opinion": False} if kind.style == "symbol" else {}
            kind.check(problem, attempt, **more)
        spent[kind.name] = 1000 * (time.perf_counter() - began) / len(seeds)
    return spent


def main(count):
    seeds = range(count)
    began = time.perf_counter()
    found = sweep(numeric(), seeds)
    share = lambda part, whole: f"{100 * found[part] / found[whole]:.2f} %"
    print(f"{len(exercises.problems())} kinds, {len(numeric())} numeric, {count} seeds, {time.perf_counter() - began:.0f} s")
    print(f"right answers accepted   {found['rights'] - found['rights refused']} of {found['rights']}")
    print(f"listed slips named       {share('slips named', 'slips')} of {found['slips']}; as the only suspect {share('slips alone', 'slips')}")
    print(f"nonsense given a cause   {share('nonsense named', 'nonsense')} of {found['nonsense']}")
    worst = sorted(((n, key[1]) for key, n in found.items() if isinstance(key, tuple)), reverse=True)[:6]
    print("  most in                ", ", ".join(f"{name} {100 * n / (count * NONSENSE_EACH):.0f} %" for n, name in worst))
    print(f"draws put back           {share('redrawn', 'drawn')}")
    spent = cost(exercises.problems(), range(300))
    dear = sorted(spent.items(), key=lambda item: -item[1])[:5]
    print(f"make and check, ms       mean {sum(spent.values()) / len(spent):.3f}, median {median(spent.values()):.3f}, dearest "
          + ", ".join(f"{name} {ms:.2f}" for name, ms in dear))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 60)
