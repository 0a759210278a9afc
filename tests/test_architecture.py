"""The house keeps its shape: a one-way staircase, heavy libraries only where allowed, short
modules.
"""

import ast
import re
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest
from trees import nodes

from leverarm import panels

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = ROOT / "src" / "leverarm"

# A module imports only from lower steps, never sideways or up.  Parts of one
# subpackage may import each other, without a circle.
STAIRCASE = [
    {"files", "numerals"},
    {"units"},
    {"quantities"},
    {"console", "data", "derivation", "tables"},
    {"statics"},
    {"machine"},
    {"axles"},
    {"uncertainty"},
    {"weighing", "stability", "ballast", "ground", "driveline"},
    {"decision", "outline"},
    {"exercises", "scene", "stage"},
    {"graphs", "problem_pictures"},
    {"marking"},
    {"concept_check"},
    {"panels", "handouts"},
    {"yard_page"},
    {"figures"},
]
STEP = {name: step for step, names in enumerate(STAIRCASE) for name in names}

HEAVY = {"sympy", "numpy", "matplotlib", "ipywidgets", "IPython", "playwright"}
# Where a heavy library may appear: at the top of a module, or only inside its functions.
AT_TOP = {"graphs": {"numpy", "matplotlib"}, "panels": {"ipywidgets", "IPython"}}
INSIDE = {
    "derivation": {"sympy"},
    "statics": {"sympy"},
    "uncertainty": {"sympy", "numpy"},
    "weighing": {"sympy", "numpy"},
    "exercises": {"sympy"},
    "panels": {"sympy"},
    "handouts": {"playwright"},  # printing, a development command
    "figures": {"matplotlib"},
}
NEVER = {
    "threading",
    "subprocess",
    "socket",
    "multiprocessing",
    "concurrent",
    "asyncio",
    "pickle",
    "shelve",
    "ctypes",
}
# Who may start processes: the one module that is loaded only where a large class is marked.
PROCESSES = {"leverarm.marking.processes": {"concurrent", "multiprocessing", "threading"}}
MOST_LINES, MOST_FUNCTION_LINES = 450, 45

# Public functions and classes that share a name across modules, and why they may.
HOMONYMS = {
    **dict.fromkeys(("main",), "every command line begins there"),
    **dict.fromkeys(
        ("figure", "histogram"), "the same graph where there is no matplotlib: one name, two ways"
    ),
    **dict.fromkeys(
        ("center_of_gravity", "derive"), "statics gives the formula, the other what works it out"
    ),
    **dict.fromkeys(
        ("claim_cards", "counterweight", "weigh_day"), "a panel is called by what it shows"
    ),
    **dict.fromkeys(("limits", "mean", "scatter"), "a rule is called by the method it works"),
}

MODULES = sorted(PACKAGE.rglob("*.py"))


def part(path):
    """The step of the staircase a file stands on: its module or its subpackage."""
    return path.relative_to(PACKAGE).with_suffix("").parts[0]


def dotted(path):
    names = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(names[:-1] if names[-1] == "__init__" else names)


OURS = {dotted(path) for path in MODULES}


@cache
def imports(path):
    """(module, inside a function) for every import of a file."""
    return tuple(_imports(path))


def _imports(path):
    inner = {
        id(n)
        for f in nodes(path)
        if isinstance(f, (ast.FunctionDef, ast.Lambda))
        for n in ast.walk(f)
    }
    for node in nodes(path):
        if isinstance(node, ast.Import):
            yield from ((alias.name, id(node) in inner) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert not node.level, f"{path.name}: write imports in full"
            yield from ((name, id(node) in inner) for name in sorted(_named(node)))


def _named(node):
    """What a from-import asks for: a subpackage's parts by their own names, else the module."""
    parts = {f"{node.module}.{alias.name}" for alias in node.names}
    own = parts & OURS
    return own | ({node.module} if len(own) < len(parts) and node.module != "leverarm" else set())


@pytest.mark.parametrize("path", MODULES, ids=dotted)
def test_imports_go_down_the_staircase(path):
    here = part(path)
    if here == "__init__":
        return
    assert here in STEP, f"{here} has no step: give it one in STAIRCASE"
    for name, _ in imports(path):
        below = name.split(".")[1] if name.startswith("leverarm.") else None
        if below in STEP and below != here:
            assert STEP[below] < STEP[here], f"{dotted(path)} may not import {name}"


@pytest.mark.parametrize("path", MODULES, ids=dotted)
def test_heavy_libraries_stay_where_they_are_allowed(path):
    here = part(path)
    for name, inside in imports(path):
        root = name.split(".")[0]
        allowed = AT_TOP.get(here, set()) | (INSIDE.get(here, set()) if inside else set())
        assert root not in HEAVY or root in allowed, f"{dotted(path)} may not import {root} here"
        never = NEVER - PROCESSES.get(dotted(path), set())
        assert root not in never, f"{dotted(path)} may not import {root}"
        assert root in HEAVY | sys.stdlib_module_names | {"leverarm"}, (
            f"{dotted(path)} needs {root}"
        )


def too_long(path):
    """Whether a module, or a function in it, is longer than the rule allows."""
    text = path.read_text("utf-8")
    spans = [
        node.end_lineno - node.lineno + 1
        for node in nodes(path)
        if isinstance(node, ast.FunctionDef)
    ]
    return len(text.splitlines()) >= MOST_LINES or max(spans, default=0) >= MOST_FUNCTION_LINES


def test_modules_and_functions_are_short():
    assert [dotted(path) for path in MODULES if too_long(path)] == []


def without_types(path):
    """Public functions with a parameter or a result that has no annotation."""
    inside = {
        id(inner)
        for outer in nodes(path)
        if isinstance(outer, ast.FunctionDef)
        for inner in ast.walk(outer)
        if inner is not outer
    }
    for node in nodes(path):
        if not isinstance(node, ast.FunctionDef) or id(node) in inside:
            continue
        if node.name.startswith("_") and node.name != "__init__":
            continue
        parameters = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
        parameters += [arg for arg in (node.args.vararg, node.args.kwarg) if arg]
        if (
            any(not a.annotation and a.arg not in ("self", "cls") for a in parameters)
            or not node.returns
        ):
            yield node.name


BESIDE = sorted(
    path for name in ("launch", "classserver") for path in (ROOT / "src" / name).rglob("*.py")
)


@pytest.mark.parametrize("path", [*MODULES, *BESIDE], ids=dotted)
def test_everything_public_is_annotated(path):
    assert list(without_types(path)) == []


# What may silence a check: the name of the rule, then the reason, on the same line.
REASONED = re.compile(r"# (noqa: [A-Z]+\d+|type: ignore\[[a-z-]+\]) *(#|-) \w.{5,}")
OURS_IN_PYTHON = [
    path
    for folder in ("src", "tests", ".ci")
    for path in sorted((ROOT / folder).rglob("*.py"))
    if path != Path(__file__)
]


def test_a_silenced_check_names_its_rule_and_the_reason():
    silenced = [
        (path.name, line.strip())
        for path in OURS_IN_PYTHON
        for line in path.read_text("utf-8").splitlines()
        if re.search(r"# *(noqa|type: *ignore)", line)
    ]
    assert [one for one in silenced if not REASONED.search(one[1])] == []


@pytest.mark.parametrize(
    "line", ["x  # noqa", "x  # noqa: E402", "x  # type: ignore", "x  # type: ignore[misc]"]
)
def test_silence_without_a_reason_is_found(line):
    assert not REASONED.search(line)


def test_one_public_name_means_one_thing():
    homes = {}
    for path in MODULES:
        for node in ast.parse(path.read_text("utf-8")).body:
            if isinstance(node, (ast.FunctionDef, ast.ClassDef)) and node.name[0] != "_":
                homes.setdefault(node.name, set()).add(dotted(path))
    twice = {name: found for name, found in homes.items() if len(found) > 1}
    assert {name: found for name, found in twice.items() if name not in HOMONYMS} == {}
    assert set(HOMONYMS) <= set(twice), "take a name out of HOMONYMS once it means one thing"


@pytest.mark.parametrize("path", MODULES, ids=dotted)
def test_nothing_typed_is_ever_run(path):
    calls = {
        n.func.id for n in nodes(path) if isinstance(n, ast.Call) and isinstance(n.func, ast.Name)
    }
    assert not calls & {"eval", "exec", "input", "compile", "sympify", "parse_expr", "__import__"}


def test_no_circle_inside_a_subpackage():
    edges = {
        dotted(p): {n for n, inside in imports(p) if n.startswith("leverarm.")} for p in MODULES
    }
    edges.pop("leverarm")
    done, open_ = set(), []

    def walk(name):
        assert name not in open_, f"circle: {' -> '.join([*open_, name])}"
        if name in done:
            return
        open_.append(name)
        # A subpackage's __init__ collects its parts; what its parts take from it is a circle.
        for other in sorted(edges.get(name, ())):
            if other in edges and other != name:
                walk(other)
        open_.pop()
        done.add(name)

    for name in edges:
        walk(name)


def test_import_is_light():
    """A fresh interpreter imports the package without any heavy library."""
    code = (
        "import sys, leverarm; print(sorted({'sympy','numpy','matplotlib','ipywidgets'} & "
        "set(sys.modules)))"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"


def test_the_top_level_is_fixed():
    allowed = {
        "README.md",
        "DEVELOPERS.md",
        "requirements.txt",
        "notebooks",
        "lessons",
        "src",
        "tests",
        "figures",
    }
    seen = {p.name for p in ROOT.iterdir() if not p.name.startswith(".")}
    assert seen <= allowed, f"not on the list: {sorted(seen - allowed)}"


DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")


def rows_below(head):
    """The rows of the table of DEVELOPERS.md that begins with this head, as the names in them."""
    lines = DEVELOPERS.split(f"{head}\n", 1)[1].split("\n\n", 1)[0].splitlines()[1:]
    return [re.findall(r"`([^`]+)`", line) for line in lines]


def test_the_table_of_steps_is_the_staircase():
    told = DEVELOPERS.split("| step | module | duty |\n", 1)[1].split("\n\n", 1)[0]
    steps = [set(re.findall(r"`([^`]+)`", row.split("|")[2])) for row in told.splitlines()[1:]]
    assert steps == STAIRCASE
    picture = DEVELOPERS.split("```")[1]
    assert [name for name in STEP if not re.search(rf"\b{name}\b", picture)] == []


def test_the_table_of_modules_names_each_and_no_other():
    told = {
        names[0].rstrip("/"): names[1:]
        for names in rows_below("| inside | a newcomer looks here for |")
    }
    parts = {path.parent.name: path.parent for path in PACKAGE.glob("*/__init__.py")}
    assert set(told) == set(parts), "one row of DEVELOPERS.md for each subpackage"
    for part_name, folder in parts.items():
        there = {path.stem for path in folder.glob("*.py") if not path.stem.startswith("__")}
        there |= {f"{path.parent.name}/" for path in folder.glob("*/__init__.py")}
        files = {name for name in told[part_name] if "." in name}
        assert [name for name in files if not (folder / name).is_file()] == []
        named = set(told[part_name]) - files
        # A module stands for those that bear its name: `plank` for `plank_case`.
        stands = tuple(f"{name}_" for name in named)
        missing = {one for one in there - named if not one.startswith(stands)}
        assert not missing and named <= there, f"{part_name}/: add {missing}, drop {named - there}"


def test_every_file_that_a_recipe_names_is_there():
    """But for names with letters to fill in."""
    recipes = DEVELOPERS.split("## Before a change", 1)[1].split("## Set-up", 1)[0]
    named = set(re.findall(r"(?:[\w.]+/)*\w+\.(?:py|toml|md|txt|ipynb)\b", recipes))
    folders = [ROOT / name for name in ("src", "tests", "lessons", "notebooks")]
    there = [f"/{path.as_posix()}" for folder in folders for path in folder.rglob("*.*")]
    gone = [one for one in named if not any(path.endswith(f"/{one}") for path in there)]
    assert len(named) > 25 and [one for one in gone if "NN" not in one] == []


def test_notebooks_ask_only_for_panels_that_are_there():
    given = set(panels.__all__)
    asked = {
        (path.name, name)
        for path in (ROOT / "notebooks").glob("*.ipynb")
        for name in re.findall(r"\bpanels\.(\w+)", path.read_text("utf-8"))
    }
    assert len(asked) > 50 and [one for one in sorted(asked) if one[1] not in given] == []
