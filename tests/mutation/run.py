"""Break the code on purpose, a few hundred times, and see whether the tests notice.

    python -m pip install -e "src[dev]"
    python tests/mutation/run.py                    # a sample; its part of result.md is written
    python tests/mutation/run.py --only ballast     # mutants of some rooms, printed
    python tests/mutation/run.py --again kept.jsonl # what survived in a file that --keep wrote

cosmic-ray makes the mutants: one change each, such as ``<`` for ``>``, ``+`` for ``-``, another
number, a condition turned round.  Drawn from all of them with a fixed seed, each is written into a
copy of the tree.  There the tests run that reach its line, the quickest first, until one fails;
for most mutants in a fork of one process that has everything imported (forks.py).
Where hardly any test reaches the line (it runs at import, or once and is kept), the other tests of
the room follow.  Mutants come in the order drawn, so that a run cut short is a sample too.
What compares with a copy of an earlier output (sentences written out, frozen problems) notices a
change without judging it, so it runs last and is counted apart: "noticed" says that only a copy
failed.  Nobody changes such a line unseen, but no test says which of the two is right.

Left out are mutants that any run of the program would notice: bit operations on numbers, ``is``
for ``<``, changes in annotations, and what does not compile.  A mutant that changes nothing that
can be observed stands in equivalent.toml with the reason; it is counted apart.
"""

import argparse
import ast
import hashlib
import json
import math
import os
import pickle
import random
import re
import resource
import shutil
import signal
import sys
import tempfile
import time
import tomllib
from collections import Counter
from dataclasses import dataclass
from functools import cache
from itertools import islice
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names
from forks import FEW, OUT_OF_TIME, SHORTEST, TIMES, WAITING, Clock, probe, quiet_pytest, serve

HERE = Path(__file__).parent
ROOT = HERE.parent.parent
PACKAGE = "src/leverarm"
SEED, COUNT = 20250514, 400
NO_TESTS = 5  # what pytest says where nothing was collected

# Each room: what is broken there, what is left alone, and the tests that must notice.
ROOMS = {
    "statics": (
        ["statics.py"],
        [],
        ["test_statics.py", "test_axles.py", "outside/test_levers.py", "test_derivation.py"],
    ),
    "ballast": (
        ["ballast.py"],
        [],
        [
            "test_ballast*.py",
            "test_limits.py",
            "test_directions*.py",
            "test_values.py",
            "test_small_print.py",
            "test_properties.py",
            "outside/test_ballast_formulas.py",
        ],
    ),
    "stability": (
        ["stability/*.py"],
        [],
        [
            "test_stability_*.py",
            "test_limits.py",
            "test_values.py",
            "test_small_print.py",
            "test_directions*.py",
            "test_properties.py",
            "outside/test_tipping.py",
            "outside/test_slopes.py",
        ],
    ),
    "weighing": (
        ["weighing/*.py"],
        [],
        [
            "test_weighing*.py",
            "test_limits.py",
            "test_record_case.py",
            "test_directions*.py",
            "test_values.py",
            "test_small_print.py",
            "test_customer_page.py",
            "outside/test_weighing_practice.py",
        ],
    ),
    "decision": (
        ["decision/*.py"],
        [],
        [
            "test_decision.py",
            "test_limits.py",
            "test_decision_claims.py",
            "test_decision_words.py",
            "test_record_case.py",
            "test_customer_reply.py",
            "test_directions*.py",
            "test_decision_panels.py",
            "test_values.py",
            "test_small_print.py",
        ],
    ),
    "exercises": (
        ["exercises/*.py", "exercises/*/*.py"],
        ["exercises/changes.py", "exercises/search.py", "exercises/listed_mistakes.py"],
        [
            "test_exercises.py",
            "test_exercises_[a-e]*.py",
            "test_exercises_fo*.py",
            "test_exercises_h*.py",
            "test_exercises_[m-z]*.py",
            "test_worked_example.py",
            "test_class_view.py",
            "test_directions.py",
            "test_values.py",
            "test_small_print.py",
        ],
    ),
    "customer page": (
        ["handouts/customer_page.py", "handouts/page_*.py"],
        ["handouts/page_picture.py"],
        ["test_customer_page*.py", "test_record_case.py", "test_values.py"],
    ),
}

# Copies of what was once read through.
COPIES = {room: ["tests/test_sentences.py"] for room in ROOMS}
COPIES["exercises"] = ["tests/test_exercises_frozen.py", *COPIES["exercises"]]
COPIES_LIMIT = 120.0  # seconds of the processor

KILLED = ("killed", "timeout")
ARITHMETIC = {"Add", "Sub", "Mul", "Div", "FloorDiv", "Mod", "Pow"}
NOTICED_BY_ANY_RUN = {"Is", "IsNot", "Invert"}


@dataclass(frozen=True, order=True)
class Mutant:
    """One change: which file of which room, at which line, made by which operator."""

    room: str
    path: str
    line: int
    operator: str
    occurrence: int

    def source(self, whole):
        """The mutated source."""
        return mutate_code(whole, get_operator(self.operator)(), self.occurrence)


@cache
def unbroken(path):
    """The source of a file as it was when the run began: someone may be at work on the tree."""
    return (ROOT / path).read_text("utf-8")


def wanted(operator):
    """Whether an operator makes mutants that need a test to be noticed."""
    name, _, change = operator.partition("/")[2].partition("_")
    old, _, new = change.partition("_")
    if name == "ReplaceBinaryOperator":
        return {old, new} <= ARITHMETIC
    if name == "ReplaceComparisonOperator":
        return (old in NOTICED_BY_ANY_RUN) == (new in NOTICED_BY_ANY_RUN)
    return new not in NOTICED_BY_ANY_RUN and not get_operator(operator).arguments()


def annotations(tree):
    """(first, last) positions, line and column, of everything that is only an annotation."""
    notes = []
    for node in ast.walk(tree):
        notes += [getattr(node, name, None) for name in ("annotation", "returns")]
        if isinstance(node, ast.AnnAssign) and ast.unparse(node.annotation) == "TypeAlias":
            notes.append(node.value)
    return [
        ((one.lineno, one.col_offset), (one.end_lineno, one.end_col_offset))
        for one in notes
        if isinstance(one, ast.AST)
    ]


def mutants_of(room, path):
    """Every mutant of one file, in a fixed order; one in a few does not compile."""
    whole = unbroken(path)
    nodes, notes = list(ast_nodes(get_ast(whole))), annotations(ast.parse(whole))
    for operator in filter(wanted, operator_names()):
        made = get_operator(operator)()
        places = [at for node in nodes for at, _ in made.mutation_positions(node)]
        for occurrence, at in enumerate(places):
            mutant = Mutant(room, path, at[0], operator, occurrence)
            if not any(first <= at < last for first, last in notes):
                yield mutant


def compiles(mutant):
    """Whether it is a program at all, and another one than before."""
    whole = unbroken(mutant.path)
    try:
        source = mutant.source(whole)
        return source is not None and ast.dump(ast.parse(source)) != ast.dump(ast.parse(whole))
    except SyntaxError:
        return False


def draw(everything, count, seed):
    """So many mutants that compile, in an order drawn with a seed; 0 for all."""
    shuffled = random.Random(seed).sample(everything, len(everything))
    return list(islice(filter(compiles, shuffled), count or None))


def files(patterns):
    """Paths of the package that fit, from the root, in order."""
    found = {path for pattern in patterns for path in (ROOT / PACKAGE).glob(pattern)}
    return sorted(path.relative_to(ROOT).as_posix() for path in found)


def population(rooms):
    """Every mutant of these rooms."""
    return sorted(
        mutant
        for room in rooms
        for path in sorted(set(files(ROOMS[room][0])) - set(files(ROOMS[room][1])))
        for mutant in mutants_of(room, path)
    )


def tests_of(room):
    """Test files of a room, in the order given."""
    found = [sorted((ROOT / "tests").glob(pattern)) for pattern in ROOMS[room][2]]
    return [path.relative_to(ROOT).as_posix() for group in found for path in group]


def file_by_file(tests):
    """Tests in groups, one of each file, so that only what is needed is collected."""
    groups = {}
    for one in tests:
        groups.setdefault(one.partition("::")[0], []).append(one)
    return list(groups.values())


class Tree:
    """A copy of the tree, in which one file at a time is broken."""

    def __init__(self, folder):
        self.root, self.server = Path(folder).resolve(), None
        for part in ("src", "tests", "figures", "lessons", "notebooks"):
            skip = shutil.ignore_patterns("__pycache__", "*.egg-info", "node_modules")
            shutil.copytree(ROOT / part, self.root / part, ignore=skip)

    def start(self, path, source, tests, limit):
        """Run tests with this source in a process of its own: its number, and when it must end."""
        (self.root / path).write_text(source, "utf-8")
        child = os.fork()
        if not child:
            os.setsid()
            resource.setrlimit(resource.RLIMIT_CPU, (math.ceil(limit), math.ceil(limit) + 1))
            said = 0
            for together in file_by_file([path, *tests]):
                said = quiet_pytest(self.root, together, [Clock()])
                # A module without a doctest has nothing to say against it.
                said = 0 if said == NO_TESTS else said
                if said:
                    break
            os._exit(int(said))
        return child, time.monotonic() + WAITING * limit

    def ask(self, known):
        """The connection to the process that forks, started when first asked for."""
        if self.server is None:
            self.server = serve(self.root, PACKAGE, known.kept, known.collected)
            if self.server.recv()[0] != "ready":
                sys.exit("The tests could not be collected.")
        return self.server

    def repair(self, path):
        """Put the file back."""
        (self.root / path).write_text(unbroken(path), "utf-8")


def result(child, end):
    """None while it runs; else "survived", "killed" or "timeout"."""
    done, status = os.waitpid(child, os.WNOHANG)
    if done:
        hangs = os.WIFSIGNALED(status) and os.WTERMSIG(status) in OUT_OF_TIME
        return "timeout" if hangs else "survived" if status == 0 else "killed"
    if time.monotonic() < end:
        return None
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return "timeout"


@dataclass(frozen=True)
class Reach:
    """What one unbroken run of a room's tests told: its time, and which tests reach which line."""

    seconds: float
    tests: dict  # {test function: seconds}, the quickest first
    known: dict  # as a Prober kept it
    kept: Path
    collected: list

    @property
    def limit(self):
        """Seconds allowed to a run."""
        return max(SHORTEST, TIMES * self.seconds)

    def near(self, mutant):
        """Tests that reach its line, the quickest first; first the file with most for its time."""
        mask, _ = self.known["by_line"].get((mutant.path, mutant.line), (0, True))
        cases = self.known["cases"]
        reaching = {cases[i].partition("[")[0] for i in range(len(cases)) if mask >> i & 1}
        groups = file_by_file(one for one in self.tests if one in reaching)

        def worth(group):
            return len(group) / (1 + sum(map(self.tests.get, group)))

        return [one for group in sorted(groups, key=worth, reverse=True) for one in group]


def stamp(tests):
    """What tells one state of the package and of its tests from all others."""
    told = hashlib.sha256(json.dumps(tests).encode())
    for path in sorted({*(ROOT / PACKAGE).rglob("*.py"), *(ROOT / "tests").rglob("*.py")}):
        told.update(path.relative_to(ROOT).as_posix().encode() + path.read_bytes())
    return told.hexdigest()[:16]


def collected(rooms):
    """All that is collected for some rooms: their modules for doctests, tests, copies."""
    whole = [[*files(ROOMS[room][0]), *tests_of(room), *COPIES[room]] for room in rooms]
    return sorted({one for group in whole for one in group})


def reach_of(rooms, tree, folder):
    """{room: its Reach}; the tests must pass on the unbroken tree.

    folder  what an earlier run of the very same tree found is in it, or will be
    """
    whole = collected(rooms)
    kept = folder / f"{stamp(whole)}.pickle"
    if not kept.is_file():
        began = time.monotonic()
        child = os.fork()
        if not child:
            probe(tree.root, PACKAGE, kept, whole)
        os.waitpid(child, 0)
        if not kept.is_file():
            sys.exit("The tests do not pass on the unbroken tree.")
        print(f"{time.monotonic() - began:.0f} s unbroken", flush=True)
    known = pickle.loads(kept.read_bytes())
    return {room: reach_in(room, known, kept, whole) for room in rooms}


def reach_in(room, known, kept, whole):
    """The Reach of one room, out of what a Prober kept."""
    took, tests = {}, set(tests_of(room))
    for case, seconds in zip(known["cases"], known["seconds"]):
        if case.partition("::")[0] in tests:
            name = case.partition("[")[0]
            took[name] = took.get(name, 0.0) + seconds
    quickest = {one: took[one] for one in sorted(took, key=took.get)}
    return Reach(sum(took.values()), quickest, known, kept, whole)


class Trial:
    """One mutant in one tree: first in the process of its room, from a fresh start where needed."""

    def __init__(self, mutant, tree, known):
        self.mutant, self.tree, self.known = mutant, tree, known
        self.source, self.stage = mutant.source(unbroken(mutant.path)), "fork"
        judge = {*files(ROOMS[mutant.room][0]), *tests_of(mutant.room)}
        place = mutant.path, mutant.line, unbroken(mutant.path)
        tree.ask(known).send((*place, self.source, judge, set(COPIES[mutant.room])))

    def said(self):
        """The verdict, or None while it runs."""
        if self.stage == "fork":
            server = self.tree.ask(self.known)
            said, self.first = server.recv() if server.poll() else (None, "")
            return self.fresh("first" if self.first else "near") if said == "fresh" else said
        said = result(*self.child)
        if said is None:
            return None
        after = next_stage(self.stage, self.mutant, self.known)
        if said == "survived" and after:
            return self.fresh(after)
        self.tree.repair(self.mutant.path)
        return "noticed" if self.stage == "copies" and said != "survived" else said

    def fresh(self, stage):
        """Start a stage of the trial from a fresh start."""
        self.stage = stage
        tests, limit = tests_at(stage, self.mutant, self.known)
        tests = [self.first.partition("[")[0]] if stage == "first" else tests
        self.child = self.tree.start(self.mutant.path, self.source, tests, limit)


def judged(mutants, trees, reach):
    """(mutant, verdict) of each, as they come in; as many at once as there are trees."""
    waiting, free, running = list(mutants), list(trees), []
    while waiting or running:
        while waiting and free:
            mutant = waiting.pop(0)
            running.append(Trial(mutant, free.pop(), reach[mutant.room]))
        for trial in list(running):
            said = trial.said()
            if said:
                free.append(trial.tree)
                running.remove(trial)
                yield trial.mutant, said
        time.sleep(0.01)


def tests_at(stage, mutant, known):
    """The tests of one stage of a mutant's trial, and the processor's seconds they may use."""
    near = known.near(mutant)
    if stage == "near":
        return near, known.limit
    if stage == "others":
        return [one for one in known.tests if one not in near], known.limit
    return COPIES[mutant.room], COPIES_LIMIT


def next_stage(stage, mutant, known):
    """What follows for a mutant that survived: the room's other tests where few reach its line."""
    if stage == "first":
        return "near"
    if stage == "near" and len(known.near(mutant)) < FEW:
        return "others"
    return "" if stage == "copies" else "copies"


def lines(mutant):
    """(the lines as they were, as they became), without the room around them."""
    whole = unbroken(mutant.path)
    was, becomes = whole.splitlines(), mutant.source(whole).splitlines()
    changed = [i for i, (a, b) in enumerate(zip(was, becomes)) if a != b]
    pick = slice(changed[0], changed[-1] + 1) if changed else slice(mutant.line - 1, mutant.line)
    return tuple(" ".join(" ".join(text[pick]).split()) for text in (was, becomes))


def known_equivalent():
    """{(path, was, becomes): why} of the mutants that were looked into."""
    told = tomllib.loads((HERE / "equivalent.toml").read_text("utf-8"))
    return {(one["path"], one["was"], one["becomes"]): one["why"] for one in told.get("mutant", [])}


def report(verdicts, population_size, seed):
    """The table, and every survivor by name."""
    known = known_equivalent()
    why = {m: known.get((m.path, *lines(m))) for m, said in verdicts if said == "survived"}
    equal = {m for m, reason in why.items() if reason}
    rows, totals = [], [0, 0, 0, 0, 0]
    for room in ROOMS:
        own = [(m, said) for m, said in verdicts if m.room == room]
        row = [
            len(own),
            sum(said in KILLED for _, said in own),
            sum(said == "noticed" for _, said in own),
            sum(m in equal for m, _ in own),
            sum(said == "survived" and m not in equal for m, said in own),
        ]
        totals = [a + b for a, b in zip(totals, row)]
        rows.append(f"| {room} | " + " | ".join(map(str, row)) + " |")
    drawn, killed, noticed, same, alive = totals
    late = sum(said == "timeout" for _, said in verdicts)
    counted = drawn - min(same, int(0.03 * drawn))
    text = [
        f"## Seed {seed}",
        "",
        f"{drawn} of {population_size} mutants. "
        f"Killed by a test that judges: {killed}, {late} of them by the time limit. "
        f"Noticed by a copy alone: {noticed}. Looked into and equivalent: {same}. Alive: {alive}.",
        "",
        f"**{100 * (killed + noticed) / counted:.1f} percent failed the suite** of {counted} "
        "(equivalent ones left out up to 3 percent of those drawn; the rest count as alive); "
        f"{100 * killed / counted:.1f} percent by a test that judges.",
        "",
        "| room | drawn | killed | noticed by a copy | equivalent | alive |",
        "|---|---|---|---|---|---|",
        *rows,
        "",
    ]
    for title, chosen in (
        ("Alive", [m for m, reason in why.items() if not reason]),
        ("Noticed by a copy alone", [m for m, said in verdicts if said == "noticed"]),
        ("Equivalent", sorted(equal)),
    ):
        text += [f"### {title}", ""]
        for m in chosen:
            was, becomes = lines(m)
            text.append(f"- `{m.path.removeprefix(PACKAGE + '/')}:{m.line}` {m.operator[5:]}  ")
            text.append(f"  `{was}` became `{becomes}`" + (f": {why[m]}" if why.get(m) else ""))
        text += ["none" if not chosen else "", ""]
    return "\n".join(text).rstrip() + "\n"


def put_into(old, section):
    """The whole result.md with a seed's section new, at its place or at the end."""
    begins = section.partition("\n")[0]
    parts = re.split(r"(?m)^(?=## )", old.rstrip() + "\n\n")
    made = [f"{section}\n" if one.startswith(f"{begins}\n") else one for one in parts]
    if made == parts:
        made.append(section)
    return "".join(made).rstrip() + "\n"


def keep(path, mutant, said):
    """Write a verdict down, with the very change it is about."""
    with path.open("a", encoding="utf-8") as file:
        file.write(json.dumps([mutant.path, *lines(mutant), mutant.operator, said]) + "\n")


def kept_verdicts(path, drawn):
    """(mutant, verdict) of what was killed before: tests are added, not taken away."""
    if path is None or not path.is_file():
        return []
    known = {
        tuple(one[:4]): one[4] for one in map(json.loads, path.read_text("utf-8").splitlines())
    }
    found = [(one, known.get((one.path, *lines(one), one.operator))) for one in drawn]
    return [(one, said) for one, said in found if said in KILLED]


def survivors(path, everything):
    """The mutants that survived by a file of verdicts, as far as their lines still stand."""
    last = {tuple(one[:4]): one[4] for one in map(json.loads, path.read_text("utf-8").splitlines())}
    alive = {key for key, said in last.items() if said == "survived"}
    places = {(path, operator) for path, _, _, operator in alive}
    near = [one for one in everything if (one.path, one.operator) in places and compiles(one)]
    found = [one for one in near if (one.path, *lines(one), one.operator) in alive]
    print(f"{len(alive)} survived there, {len(found)} can be made again")
    return found


def preload():
    """Load once what every run needs, so that a child starts at once; nothing of the package."""
    for name in ("pytest", "numpy", "sympy", "matplotlib.backends.backend_agg", "ipywidgets"):
        __import__(name)


def main():
    """Draw, run, write."""
    ask = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    ask.add_argument("--count", type=int, default=COUNT, help="mutants to draw; 0 for all")
    ask.add_argument("--seed", type=int, default=SEED)
    ask.add_argument("--jobs", type=int, default=1, help="runs at a time")
    ask.add_argument("--keep", type=Path, help="a file of verdicts: what was killed there stays so")
    ask.add_argument("--only", help="rooms, with commas; prints instead of writing the table")
    ask.add_argument("--reach", type=Path, help="a folder to keep which tests reach which line")
    ask.add_argument("--again", type=Path, help="a file of verdicts: only what survived there")
    told = ask.parse_args()
    rooms = told.only.split(",") if told.only else list(ROOMS)
    everything = population(rooms)
    drawn = (
        survivors(told.again, everything) if told.again else draw(everything, told.count, told.seed)
    )
    print(f"{len(drawn)} of {len(everything)} mutants in {', '.join(rooms)}", flush=True)
    preload()
    verdicts = kept_verdicts(told.keep, drawn)
    drawn = [one for one in drawn if one not in dict(verdicts)]
    with tempfile.TemporaryDirectory() as folder:
        trees = [Tree(Path(folder) / str(i)) for i in range(told.jobs)]
        rooms = sorted({mutant.room for mutant in drawn})
        reach = reach_of(rooms, trees[0], told.reach or Path(folder))
        for i, (mutant, said) in enumerate(judged(drawn, trees, reach), 1):
            verdicts.append((mutant, said))
            if told.keep:
                keep(told.keep, mutant, said)
            if i % 20 == 0:
                said_so = Counter(said for _, said in verdicts)
                print(f"{i} of {len(drawn)}: {dict(said_so)}")
            if said != "killed":
                print(f"{i} {said} {mutant.path}:{mutant.line} {mutant.operator} {lines(mutant)}")
            sys.stdout.flush()
    text = report(sorted(verdicts), len(everything), told.seed)
    if told.only or told.again:
        print(text)
    else:
        path = HERE / "result.md"
        path.write_text(put_into(path.read_text("utf-8"), text), "utf-8")


if __name__ == "__main__":
    main()
