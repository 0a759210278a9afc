"""The reader of the data files: what it hands out, and what it refuses with file and key."""

import os
import subprocess
import sys
from pathlib import Path
from zipfile import ZipFile

import pytest

from leverarm import Refusal, data
from leverarm.data import parsed

WHOLE = (
    """
title = """
    + '"""'
    + """
  Two lines
  become one."""
    + '"""'
    + """
given = "W a L"
low = 3
raw = true
hints = ["one", "two"]
[sentences]
plank = "A plank."
[[number]]
name = "factor"
"""
)


def test_values_come_as_their_kind_says():
    entry = parsed(WHOLE, "own.toml")
    assert entry.text("title") == "Two lines become one."
    assert entry.words("given") == ("W", "a", "L")
    assert (entry.number("low"), entry.number("high", 9.0)) == (3, 9.0)
    assert (entry.flag("raw"), entry.flag("other")) == (True, False)
    assert entry.texts("hints") == ("one", "two")
    assert entry.part("sentences").text("plank") == "A plank."
    (row,) = entry.rows("number")
    assert row.where == "own.toml, number factor"
    assert entry.rows("concept") == () and "title" in entry and list(row) == ["name"]
    entry.done()


@pytest.mark.parametrize(
    "text, ask, says",
    [
        ("title = 3", lambda e: e.text("title"), "own.toml, title: 3 was given; a text in quotes"),
        ("", lambda e: e.text("title"), "own.toml, title: nothing was given; a text in quotes"),
        ("low = 'x'", lambda e: e.number("low"), "own.toml, low: x was given; a number without"),
        ("low = true", lambda e: e.number("low"), "own.toml, low: true was given; a number"),
        ("raw = 1", lambda e: e.flag("raw"), "own.toml, raw: 1 was given; true or false"),
        ("kind = 'wieght'", lambda e: e.one_of("kind", ["weight", "length"]),
         "own.toml, kind: wieght was given; weight or length is allowed"),
        ("hints = ['a', 2]", lambda e: e.texts("hints"), "own.toml, hints: 2 was given; a list"),
        ("number = 'x'", lambda e: e.rows("number"), "own.toml, number: x was given; a list of"),
        ("number = ['x']", lambda e: e.rows("number"), "own.toml, number: x was given; a list of"),
        ("[[number]]\nname = 'f'", lambda e: e.rows("number")[0].text("title"),
         "own.toml, number f, title: nothing was given"),
        ("[[number]]\na = 1", lambda e: e.rows("number")[0].text("title"),
         "own.toml, number 1, title: nothing was given"),
        ("titel = 'x'", lambda e: (e.text("title", ""), e.done()),
         "own.toml: the key titel was given; title is allowed; look for a misspelled key."),
        ("title = x", lambda e: e, "own.toml: Invalid value (at line 1, column 9) was given; TOML"),
    ],
)  # fmt: skip
def test_what_is_spoiled_is_refused_with_file_and_key(text, ask, says):
    with pytest.raises(Refusal) as refused:
        ask(parsed(text, "own.toml"))
    assert str(refused.value).startswith(says)
    assert str(refused.value).count(". ") == 0, "one sentence"


def test_a_package_in_a_zip_has_every_lesson(tmp_path):
    """As the class site has it, where a missing file is told otherwise than in a folder."""
    package = Path(data.__file__).parents[1]
    with ZipFile(tmp_path / "all.zip", "w") as whole:
        for path in package.rglob("*"):
            if path.suffix in (".py", ".toml", ".css", ".js"):
                whole.write(path, path.relative_to(package.parent))
    code = (
        "import leverarm.data as data, leverarm.exercises as e; "
        "print(data.__file__, e.make('front_gain', 1).title, sorted(data.lessons()))"
    )
    told = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        env=os.environ | {"PYTHONPATH": str(tmp_path / "all.zip")},
    )
    assert told.returncode == 0, told.stderr
    assert "all.zip" in told.stdout and told.stdout.strip().endswith(str(sorted(data.lessons())))
