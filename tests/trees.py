"""The syntax tree of every module, parsed once for all the tests that walk through it."""

import ast
from functools import cache


@cache
def tree(path):
    """The syntax tree of a file."""
    return ast.parse(path.read_text("utf-8"))


@cache
def nodes(path):
    """Every node of a file, in the order of ast.walk."""
    return tuple(ast.walk(tree(path)))
