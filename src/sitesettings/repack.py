"""Make wheels and the standard library ready for the browser: compiled, and without their tests.

    repack_all(source, target, ours)    every wheel and `python_stdlib.zip` of a folder, into another

It is run inside the browser's own Python, so that the compiled files fit it (see `repack.mjs`).
A module is compiled beforehand because a browser would have to do it at every visit. Of our own
package the text stays beside it, so that a traceback shows the lines.
"""

import importlib._bootstrap_external as loader
import importlib.util
import io
import zipfile
from pathlib import Path, PurePosixPath

NOT_TAKEN = {"tests", "test", "testing_data", "benchmarks"}
DATE = (1980, 1, 1, 0, 0, 0)  # the same bytes from every build


def taken(name):
    """Whether a file of a wheel goes along: tests and old compiled files do not.

    >>> taken("sympy/core/tests/test_add.py"), taken("sympy/core/add.py")
    (False, True)
    """
    parts = PurePosixPath(name).parts
    return not name.endswith(("/", ".pyc", ".pyi")) and not NOT_TAKEN & set(parts[:-1])


def compiled(name, data):
    """A module as Python keeps it, never compared with its text again."""
    code = compile(data, name, "exec", dont_inherit=True)
    return bytes(loader._code_to_hash_pyc(code, importlib.util.source_hash(data), False))


def members(name, data, keep_text):
    """The files one file of a wheel becomes: (name, bytes) pairs."""
    if not name.endswith(".py"):
        return [(name, data)]
    path = PurePosixPath(name)
    try:
        code = compiled(name, data)
    except SyntaxError:  # a template that only looks like a module
        return [(name, data)]
    if keep_text:
        return [(name, data), (importlib.util.cache_from_source(str(path)), code)]
    return [(str(path.with_suffix(".pyc")), code)]


def repack(data, keep_text=False):
    """A wheel or the zip of the standard library, compiled; its list of files is written anew."""
    inside, out = zipfile.ZipFile(io.BytesIO(data)), io.BytesIO()
    files = [(name, inside.read(name)) for name in sorted(inside.namelist()) if taken(name)]
    record = next((name for name, _ in files if name.endswith(".dist-info/RECORD")), None)
    made = [pair for name, text in files if name != record for pair in members(name, text, keep_text)]
    if record:
        lines = [f"{name},,\n" for name in (*(name for name, _ in made), record)]
        made.append((record, "".join(lines).encode()))
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as target:
        for name, text in made:
            target.writestr(zipfile.ZipInfo(name, DATE), text, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def repack_all(source, target, ours):
    """Repack a folder's wheels and standard library; the text of the package called `ours` stays."""
    for path in sorted([*Path(source).glob("*.whl"), *Path(source).glob("*.zip")]):
        print("Compiling", path.name, flush=True)
        Path(target, path.name).write_bytes(repack(path.read_bytes(), path.name.startswith(f"{ours}-")))
