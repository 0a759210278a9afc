"""Mutants in forks: which changes can be put into living functions, and what a probe speaks for."""

import ast
import sys
from pathlib import Path

import pytest

sys.path.append(str(Path(__file__).parent / "mutation"))
from forks import Probes, changed_functions, functions_of, put

WHOLE = '''
LIMIT = 3

def outer(x, most=LIMIT):
    """Told."""
    def inner(y):
        return y + 1
    if x > most:
        return inner(x)
    return [a * 2 for a in (x,)]

class Thing:
    size = 4

    def grown(self):
        return self.size + 1

twice = lambda x: 2 * x
'''


def code(source):
    return compile(source, "whole.py", "exec", dont_inherit=True)


@pytest.mark.parametrize(
    "old, new, functions",
    [
        ("y + 1", "y - 1", ["outer"]),
        ("x > most", "x < most", ["outer"]),
        ("a * 2", "a * 3", ["outer"]),
        ("self.size + 1", "self.size + 2", ["Thing.grown"]),
        ("2 * x", "3 * x", ["<lambda>"]),
        ("LIMIT = 3", "LIMIT = 4", None),
        ("most=LIMIT", "most=4", None),
        ("size = 4", "size = 5", None),
        ("y + 1", "y + 1  # said", []),
    ],
)
def test_a_change_within_functions_is_told_from_one_that_import_runs(old, new, functions):
    found = changed_functions(code(WHOLE), code(WHOLE.replace(old, new, 1)))
    assert (found if found is None else [a.co_qualname for a, _ in found]) == functions


def test_living_functions_do_what_the_mutated_source_says(tmp_path):
    path, space = str(tmp_path / "whole.py"), {}
    exec(compile(WHOLE, path, "exec", dont_inherit=True), space)
    thing, living = space["Thing"](), functions_of(str(tmp_path))
    assert (thing.grown(), space["outer"](4), space["outer"](1), space["twice"](2)) == (
        5,
        5,
        [2],
        4,
    )
    assert put(path, WHOLE, WHOLE.replace("y + 1", "y - 1"), living)
    assert space["outer"](4) == 3
    living = functions_of(str(tmp_path))
    assert not put(path, WHOLE, WHOLE.replace("LIMIT = 3", "LIMIT = 9"), living)
    assert not put(path, WHOLE, WHOLE + "\n", living)


def test_every_line_of_a_function_has_a_probe_and_no_other():
    places = []
    tree = Probes("whole.py", places).visit(ast.parse(WHOLE))
    lines = {line for _, first, last in places for line in range(first, last + 1)}
    assert lines == {6, 7, 8, 9, 10, 16}
    space, reached = {}, []
    exec(compile(tree, "whole.py", "exec"), space | {"__reached__": reached.append}, space)
    assert space["outer"].__doc__ == "Told." and not reached
