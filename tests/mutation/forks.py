"""A process that has everything imported and all tests collected, and forks for each mutant.

Most of a mutant's trial would be imports and collection.  Here the tests are collected once on the
unbroken tree.  For each mutant the process forks; the child puts the mutated code into the
functions that hold it and runs the test cases that reach its line.

That is the same trial as a fresh start only where nothing ran the changed lines before, so two
things are sent back ("fresh") to be run from a fresh start: a change outside functions (a table, a
default, a decorator), and a change in a function that import or collection calls.  Which lines
those are, and which cases reach a line, is told by probes: before each statement of a function one
is compiled in that notes it, at a fraction of the cost of tracing.  A case that fails is tried
again with all before it on unbroken code; where that fails too, the order was at fault: "fresh".
"""

import ast
import gc
import importlib.machinery
import inspect
import math
import mmap
import multiprocessing
import os
import pickle
import resource
import signal
import sys
import time
import types
from collections import Counter
from pathlib import Path

import pytest

PROBE = "__reached__"
LONGEST = 60  # seconds of the processor that a case may use, however long it takes unbroken
SHORTEST, TIMES = 60.0, 4.0  # a run may use this long, or so many times what it uses unbroken
WAITING = 10.0  # so many times that by the clock on the wall: for what hangs without working
OUT_OF_TIME = {signal.SIGPROF, signal.SIGXCPU, signal.SIGKILL}
FEW = 3  # test functions that reach a line: with fewer, the others of its room run too
BUCKETS = (0.02, 0.2, 2.0)  # seconds: what is quicker goes first, file by file
SURVIVED, KILLED, NOTICED, FRESH = 0, 1, 3, 4
SAID = {SURVIVED: "survived", KILLED: "killed", NOTICED: "noticed", FRESH: "fresh"}


def last_line(statement):
    """The last line that a probe before a statement speaks for: a block's head, else all of it."""
    body = getattr(statement, "body", None) or getattr(statement, "cases", None)
    if not isinstance(body, list):
        return statement.end_lineno
    first = body[0].pattern if isinstance(body[0], ast.match_case) else body[0]
    return max(statement.lineno, first.lineno - 1)


class Probes(ast.NodeTransformer):
    """Puts a probe before every statement of every function; a probe's number is its place."""

    def __init__(self, path, places):
        self.path, self.places, self.depth = path, places, 0

    def probe(self, statement):
        """The statement that notes that the next one is reached."""
        self.places.append((self.path, statement.lineno, last_line(statement)))
        call = ast.Call(ast.Name(PROBE, ast.Load()), [ast.Constant(len(self.places) - 1)], [])
        return ast.fix_missing_locations(ast.copy_location(ast.Expr(call), statement))

    def generic_visit(self, node):
        """Every list of statements within a function."""
        inside = isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))
        self.depth += inside
        super().generic_visit(node)
        if self.depth and not isinstance(node, ast.ClassDef):
            for name in ("body", "orelse", "finalbody"):
                statements = getattr(node, name, None)
                if isinstance(statements, list):
                    setattr(node, name, self.probed(statements, inside and name == "body"))
        self.depth -= inside
        return node

    def probed(self, statements, of_function):
        """The statements with their probes; a docstring stays first."""
        said = of_function and ast.get_docstring(ast.Module(statements, []), clean=False)
        made = list(statements[: 1 if said is not None and said is not False else 0])
        for one in statements[len(made) :]:
            made += [self.probe(one), one]
        return made


def probe_imports(package, places, note):
    """From now on, compile the modules of a package with probes."""
    import builtins

    setattr(builtins, PROBE, note)
    plain = importlib.machinery.SourceFileLoader.source_to_code

    def source_to_code(loader, data, path, *rest, **named):
        if not str(path).startswith(package):
            return plain(loader, data, path, *rest, **named)
        tree = Probes(str(path), places).visit(ast.parse(data))
        return compile(tree, path, "exec", dont_inherit=True)

    importlib.machinery.SourceFileLoader.source_to_code = source_to_code


class Prober:
    """A pytest plugin: which cases reach which probe, and the processor's seconds of each case."""

    def __init__(self, root, kept):
        self.root, self.kept = f"{root}/", kept
        self.places, self.now = [], set()
        self.cases, self.seconds, self.reached, self.began = [], [], [], 0.0
        self.at_import = set()

    def note(self, number):
        """Called by every probe."""
        self.now.add(number)

    def pytest_collection_finish(self):
        """What import and collection reached is known apart."""
        self.at_import = set(self.now)

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item):
        """Count one case."""
        self.now.clear()
        began = time.process_time()
        said = yield
        self.cases.append(item.nodeid)
        self.seconds.append(time.process_time() - began)
        self.reached.append(frozenset(self.now))
        return said

    def pytest_sessionfinish(self, exitstatus):
        """Keep it, if all passed."""
        if exitstatus:
            return
        by_place = [0] * len(self.places)
        for i, reached in enumerate(self.reached):
            for number in reached:
                by_place[number] |= 1 << i
        by_line = {}
        for number, (path, first, last) in enumerate(self.places):
            for line in range(first, last + 1):
                key = path.removeprefix(self.root), line
                cases, early = by_line.get(key, (0, False))
                by_line[key] = cases | by_place[number], early or number in self.at_import
        made = {"cases": self.cases, "seconds": self.seconds, "by_line": by_line}
        unfinished = f"{self.kept}.new"
        with open(unfinished, "wb") as file:
            pickle.dump(made, file)
        os.replace(unfinished, self.kept)


# ------------------------------------------------------------------------------------------------
# The mutated code, put where the unbroken code is


def own(code):
    """What a code object does by itself, without the code objects within it."""
    consts = [
        "code" if isinstance(one, types.CodeType) else (type(one).__name__, repr(one))
        for one in code.co_consts
    ]
    return code.co_code, code.co_names, consts, code.co_varnames, code.co_freevars, code.co_flags


def within(code):
    """The code objects among a code object's constants, in order."""
    return [one for one in code.co_consts if isinstance(one, types.CodeType)]


def is_function(code):
    """Whether a code object is a function's, not a class's or a module's."""
    return bool(code.co_flags & inspect.CO_NEWLOCALS)


def alike(old, new):
    """Whether two code objects do the same, with everything within them."""
    return own(old) == own(new) and all(map(alike, within(old), within(new)))


def changed_functions(old, new):
    """[(old, new)] of the outermost functions that differ; None where something else differs."""
    if own(old) != own(new):
        return None
    found = []
    for a, b in zip(within(old), within(new)):
        part = changed_functions(a, b) if not is_function(a) else [] if alike(a, b) else [(a, b)]
        if part is None:
            return None
        found += part
    return found


def pairs(old, new):
    """A function and all within it, old and new: what was made earlier holds the inner ones."""
    found = [(old, new)]
    for a, b in zip(within(old), within(new)):
        found += pairs(a, b)
    return found


def same_place(code):
    """What tells one code object from all others of its file."""
    return code.co_qualname, code.co_firstlineno, tuple(code.co_positions())


def functions_of(package):
    """{(file, place of the code): functions} of all that live."""
    gc.unfreeze()
    found = {}
    for one in gc.get_objects():
        if isinstance(one, types.FunctionType) and one.__code__.co_filename.startswith(package):
            key = one.__code__.co_filename, same_place(one.__code__)
            found.setdefault(key, []).append(one)
    gc.collect()
    gc.freeze()
    return found


def put(path, whole, source, functions):
    """Put a mutated source into the living functions of its file; whether that is all of it."""
    old, new = (compile(one, path, "exec", dont_inherit=True) for one in (whole, source))
    todo = []
    changed = changed_functions(old, new)
    for outer in changed or ():
        if (path, same_place(outer[0])) not in functions or len(within(outer[0])) != len(
            within(outer[1])
        ):
            return False
        for a, b in pairs(*outer):
            todo += [(one, b) for one in functions.get((path, same_place(a)), ())]
            if a.co_freevars != b.co_freevars:
                return False
    for function, code in todo:
        function.__code__ = code
    return bool(changed)


# ------------------------------------------------------------------------------------------------
# The process that forks


class Server:
    """A pytest plugin that runs mutants in forks where pytest would run the tests once.

    ask     a connection: what `trial` takes comes in, (verdict, case) goes out
    known   what a Prober kept
    """

    def __init__(self, ask, root, package, known):
        self.ask, self.root, self.package, self.known = ask, root, package, known

    def pytest_runtestloop(self, session):
        """Answer until the other end is closed."""
        self.items = {item.nodeid: item for item in session.items}
        self.session = session
        self.functions = functions_of(self.package)
        self.ask.send(("ready", ""))
        while True:
            try:
                told = self.ask.recv()
            except EOFError:
                os._exit(0)
            self.ask.send(self.trial(*told))

    def order(self, reaching, files, copies):
        """(item, seconds) of the test functions with a case that reaches a line: what reaches it
        first, then the quick, file by file; copies of earlier output last.  The other cases of the
        function run too, as what it works out may be kept for them; and with few functions all.
        """
        cases, seconds = self.known["cases"], self.known["seconds"]
        judge = [i for i, name in enumerate(cases) if name.partition("::")[0] in files]
        near = {cases[i].partition("[")[0] for i in judge if reaching >> i & 1}
        few = len(near) < FEW
        found = [i for i in judge if few or cases[i].partition("[")[0] in near]
        found += [i for i, name in enumerate(cases) if name.partition("::")[0] in copies]
        most = Counter(cases[i].partition("::")[0] for i in found)

        def place(i):
            file = cases[i].partition("::")[0]
            slow = sum(seconds[i] > bound for bound in BUCKETS)
            return file in copies, not reaching >> i & 1, slow, -most[file], file, seconds[i]

        return [(self.items[cases[i]], seconds[i]) for i in sorted(found, key=place)]

    def trial(self, path, line, whole, source, files, copies):
        """(verdict, the case that failed) of one mutant; with "fresh" the case to try first.

        path, line     where it is
        whole, source  the file's text, unbroken and broken
        files, copies  the files of tests that judge it, and of those that compare with a copy
        """
        reaching, early = self.known["by_line"].get((path, line), (0, True))
        items = self.order(reaching, files, copies)
        if not reaching and early:
            return "fresh", ""
        said, last = self.fork(items, (str(self.root / path), whole, source), copies)
        failed = items[last][0].nodeid if said in ("killed", "timeout") else ""
        if early:  # what import made of the changed lines is not known: only where to look first
            return "fresh", failed
        if failed and self.fork(items[: last + 1], None, copies)[0] != "survived":
            return "fresh", failed
        return said, failed

    def fork(self, items, broken, copies):
        """(verdict, place of the last item run) of these items in a child."""
        place = mmap.mmap(-1, 8)
        limit = max(SHORTEST, TIMES * sum(took for _, took in items))
        child = os.fork()
        if not child:
            try:
                self.run(items, broken, copies, place, math.ceil(limit))
            finally:
                os._exit(FRESH)
        end, status = time.monotonic() + WAITING * limit, None
        while status is None:
            done, state = os.waitpid(child, os.WNOHANG)
            if done:
                status = state
            elif time.monotonic() > end:
                os.killpg(child, signal.SIGKILL)
                _, status = os.waitpid(child, 0)
            else:
                time.sleep(0.005)
        last = int.from_bytes(place[:], "little")
        if os.WIFSIGNALED(status):
            return "timeout" if os.WTERMSIG(status) in OUT_OF_TIME else "killed", last
        return SAID.get(os.WEXITSTATUS(status), "killed"), last

    def run(self, items, broken, copies, place, limit):
        """In the child: put the mutated code in, run the items until one fails, leave."""
        os.setsid()
        resource.setrlimit(resource.RLIMIT_CPU, (limit, limit + 1))
        if broken and not put(*broken, self.functions):
            os._exit(FRESH)
        following = [item for item, _ in items[1:]] + [None]
        for at, ((item, seconds), then) in enumerate(zip(items, following)):
            place[:] = at.to_bytes(8, "little")
            # What an earlier case left in a cache it has to work out again.
            signal.setitimer(signal.ITIMER_PROF, min(LONGEST, 20 + 20 * seconds))
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=then)
            if self.session.testsfailed:
                os._exit(NOTICED if item.nodeid.partition("::")[0] in copies else KILLED)
        os._exit(SURVIVED)


class Clock:
    """A pytest plugin for a fresh start: a case that never comes to an end ends the process."""

    def pytest_runtest_logstart(self):
        """End the process with SIGPROF where one case works for ever."""
        signal.setitimer(signal.ITIMER_PROF, LONGEST)


def quiet_pytest(root, arguments, plugins):
    """Run pytest in this process without a word, as the trial of a mutant needs it."""
    os.chdir(root)
    with open(os.devnull, "w") as nowhere:
        os.dup2(nowhere.fileno(), 1)
        os.dup2(nowhere.fileno(), 2)
    sys.path.insert(0, str(root / "src"))
    sys.dont_write_bytecode = True
    os.environ["PYTHONPATH"] = str(root / "src")
    os.environ["PYTHONDONTWRITEBYTECODE"] = "1"
    # No test here needs a plugin, and one of them takes seconds to load in every child.
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    # Plain asserts: pytest would else rewrite the modules that are named for their doctests.
    quiet = ["-q", "-x", "-p", "no:cacheprovider", "--assert=plain"]
    quiet += ["-o", "addopts=--doctest-modules"]
    return pytest.main([*quiet, f"--rootdir={root}", *arguments], plugins=plugins)


def probe(root, package, kept, tests):
    """In a process of its own: run tests on the unbroken tree and keep what reaches which line."""
    prober = Prober(root, kept)
    probe_imports(f"{root}/{package}", prober.places, prober.note)
    os._exit(int(quiet_pytest(root, tests, [prober])))


def serve(root, package, kept, tests):
    """Start the process that forks: the end of the connection to ask at."""
    mine, its = multiprocessing.Pipe()
    if not os.fork():
        mine.close()
        known = pickle.loads(Path(kept).read_bytes())
        server = Server(its, root, f"{root}/{package}", known)
        os._exit(int(quiet_pytest(root, tests, [server])))
    its.close()
    return mine
