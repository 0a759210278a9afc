"""Make wheels and the standard library ready for the browser: compiled, and without their tests.

    repack_part(folder, part, of)    every so-many-th file of a folder's wheels and zips, into
                                     `part0.zip` and so on

It is run inside the browser's own Python, so that the compiled files fit it (see `repack.mjs`).
A module is compiled beforehand because a browser would have to do it at every visit. Of our own
package the text stays beside it, so that a traceback shows the lines. What lies in a folder
`inside`
takes the place of a wheel's file of the same name.
"""

import py_compile
import tempfile
import zipfile
from pathlib import Path, PurePosixPath

NOT_TAKEN = {"tests", "test", "testing_data", "benchmarks"}
DATE = (1980, 1, 1, 0, 0, 0)


def taken(name):
    """Whether a file of a wheel goes along: tests, old compiled files and lists of files do not.

    >>> names = "sympy/core/tests/test_add.py", "sympy/core/add.py", "sympy-1.dist-info/RECORD"
    >>> tuple(taken(name) for name in names)
    (False, True, False)
    """
    parts = PurePosixPath(name).parts
    return not name.endswith(("/", ".pyc", ".pyi", ".dist-info/RECORD")) and not NOT_TAKEN & set(
        parts[:-1]
    )


def compiled(name, data):
    """A module as Python keeps it, never compared with its text again."""
    with tempfile.TemporaryDirectory() as folder:
        text = Path(folder, "text.py")
        text.write_bytes(data)
        never = py_compile.PycInvalidationMode.UNCHECKED_HASH
        made = py_compile.compile(str(text), f"{text}c", name, True, invalidation_mode=never)
        return Path(made).read_bytes()


def members(name, data, keep_text=False):
    """The files one file of a wheel becomes: (name, bytes) pairs."""
    if not name.endswith(".py"):
        return [(name, data)]
    try:
        code = str(PurePosixPath(name).with_suffix(".pyc")), compiled(name, data)
    except py_compile.PyCompileError:  # a template that only looks like a module
        return [(name, data)]
    return [(name, data), code] if keep_text else [code]


def found(folder):
    """All files that go along: (name, a call that reads it) pairs, one for each name, in order."""
    files = {}
    for path in sorted([*folder.glob("*.whl"), *folder.glob("*.zip")]):
        wheel = zipfile.ZipFile(path)
        files |= {
            name: (lambda wheel=wheel, name=name: wheel.read(name))
            for name in wheel.namelist()
            if taken(name)
        }
    inside = folder / "inside"
    files |= {path.relative_to(inside).as_posix(): path.read_bytes for path in inside.rglob("*.py")}
    return sorted(files.items())


def repack_part(folder, part, of, keep_text=False):
    """Compile one part of a folder's files; it is compressed later, where that is quicker."""
    with zipfile.ZipFile(Path(folder, f"part{part}"), "w") as target:
        for name, read in found(Path(folder))[part::of]:
            for made, text in members(name, read(), keep_text):
                target.writestr(zipfile.ZipInfo(made, DATE), text)
