"""The command `site`: every refusal before anything is touched, and the parts a site is put
together from.
"""

import asyncio
import gzip
import importlib.util
import io
import json
import linecache
import marshal
import re
import sys
import tarfile
import traceback
import zipfile
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "src"))

from launch import browser_python, places, site, student_files
from launch.words import Refusal
from leverarm.panels.unit_choice import NAMES

ROOT = Path(__file__).parents[1]


def load(name):
    """A script of the site's settings as a module."""
    spec = importlib.util.spec_from_file_location(name, browser_python.SETTINGS / f"{name}.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


repack = load("repack")


def filled(folder, name="letter.txt"):
    """A folder with a file of somebody's."""
    folder.mkdir()
    (folder / name).write_text("Dear")
    return folder


def here(name):
    return f"/bin/{name}"


REFUSALS = {
    "no folder named": (lambda tmp: site.target([]), "site FOLDER"),
    "two folders named": (lambda tmp: site.target(["a", "b"]), "site FOLDER"),
    "an option in its place": (lambda tmp: site.target(["--x"]), "site FOLDER"),
    "inside the workbook": (lambda tmp: site.fit_folder(ROOT / "site"), "inside the workbook"),
    "the workbook itself": (lambda tmp: site.fit_folder(ROOT), "inside the workbook"),
    "a file": (lambda tmp: site.fit_folder(filled(tmp / "a") / "letter.txt"), "is a file"),
    "somebody's folder": (lambda tmp: site.fit_folder(filled(tmp / "a")), "holds other files"),
    "nowhere": (lambda tmp: site.fit_folder(tmp / "a" / "b"), "no folder .*a to build"),
    "no Node.js": (lambda tmp: site.fit_node(lambda name: None), "Node.js 20.*none here"),
    "no npm": (
        lambda tmp: site.fit_node(lambda name: "/n" if name == "node" else None, lambda _: 22),
        "npm",
    ),
    "an old Node.js": (lambda tmp: site.fit_node(here, lambda _: 12), "Node.js 20.*this one is 12"),
    "a Node.js that does not run": (lambda tmp: site.fit_node(here, lambda _: None), "none here"),
}


@pytest.mark.parametrize("case", REFUSALS)
def test_refusals_touch_nothing(case, tmp_path):
    act, told = REFUSALS[case]
    with pytest.raises(Refusal, match=told) as caught:
        act(tmp_path)
    assert "\n" not in str(caught.value) and str(caught.value).endswith(".")


def test_a_new_folder_an_empty_one_and_a_site_of_ours_are_fit(tmp_path):
    site.fit_folder(tmp_path / "new")
    site.fit_folder(tmp_path)
    site.fit_folder(filled(tmp_path / "ours", site.NOTE))
    assert site.fit_node(here, lambda _: 22) == ("/bin/node", "/bin/npm")
    assert site.node_version("/no/such/node") is None


# --- built beside, moved last ---

SLOW = {  # step -> (module, what it gives)
    "tools": (site, "py"),
    "packages": (browser_python, Path("kept")),
    "with_our_own": (browser_python, None),
    "in_parts": (browser_python, "open_python-0123456789.mjs"),
    "lay_out": (site, ("0.1-ab", [])),
    "assemble": (site, None),
}
STEPS = [*SLOW, "finish"]


@pytest.fixture
def slow_steps(monkeypatch):
    """A build whose slow steps do nothing, and can fail at one of them."""

    def install(fail_at=None):
        def step(name, result):
            def act(*told):
                if name == fail_at:
                    raise KeyboardInterrupt
                return result

            return act

        for name, (module, result) in SLOW.items():
            monkeypatch.setattr(module, name, step(name, result))
        last = (
            step("finish", None)
            if fail_at == "finish"
            else lambda goal, *told: (goal / site.NOTE).write_text("{}")
        )
        monkeypatch.setattr(site, "finish", last)

    return install


@pytest.mark.parametrize("step", STEPS)
def test_an_interrupted_build_leaves_no_half_site_and_keeps_the_old_one(tmp_path, slow_steps, step):
    old = filled(tmp_path / "class", site.NOTE)
    slow_steps(step)
    with pytest.raises(KeyboardInterrupt):
        site.build(None, old, "node", "npm")
    assert [path.name for path in tmp_path.iterdir()] == ["class"]
    assert (old / site.NOTE).read_text() == "Dear"


def test_a_build_takes_the_place_of_the_old_one(tmp_path, slow_steps):
    old = filled(tmp_path / "class", site.NOTE)
    slow_steps()
    assert site.build(None, old, "node", "npm") == "0.1-ab"
    assert [path.name for path in tmp_path.iterdir()] == ["class"] and (
        old / site.NOTE
    ).read_text() == "{}"


def test_where_the_new_one_cannot_take_its_place_the_old_one_stays(tmp_path):
    old = filled(tmp_path / "class", site.NOTE)
    with pytest.raises(OSError):
        site.into_place(tmp_path / "none", old)
    assert (old / site.NOTE).read_text() == "Dear"


def test_the_parts_of_the_edition_before_stay_and_older_ones_go(tmp_path):
    """A browser that kept the old settings for a day asks for the old parts."""
    folder = tmp_path / "class"
    for edition in ("a", "b", "c"):
        new = tmp_path / "new"
        (new / site.PARTS).mkdir(parents=True)
        for name in (f"only-{edition}", "shared"):
            (new / site.PARTS / name).write_text(edition)
        told = {"edition": edition, "parts": [f"only-{edition}", "shared"]}
        (new / site.NOTE).write_text(json.dumps(told))
        site.into_place(new, folder)
    found = {path.name: path.read_text() for path in (folder / site.PARTS).iterdir()}
    assert found == {"only-b": "b", "only-c": "c", "shared": "c"}


# --- the browser's Python ---


def archive(path, *members):
    """A compressed tar file: (name, kind, text or the goal of a link)."""
    with tarfile.open(path, "w:gz") as made:
        for name, kind, text in members:
            info = tarfile.TarInfo(name)
            info.type = kind
            if kind == tarfile.REGTYPE:
                info.size = len(text)
            else:
                info.linkname = text
            made.addfile(info, io.BytesIO(text.encode()))
    return tarfile.open(path)


def test_the_runtime_is_unpacked_on_any_python(tmp_path):
    with archive(
        tmp_path / "a.tgz",
        ("package", tarfile.DIRTYPE, ""),
        ("package/pyodide.mjs", tarfile.REGTYPE, "one"),
        ("package/deep/er.txt", tarfile.REGTYPE, "two"),
    ) as good:
        browser_python.unpack(good, tmp_path / "into")
    unpacked = {p.name: p.read_text() for p in (tmp_path / "into").rglob("*") if p.is_file()}
    assert unpacked == {"pyodide.mjs": "one", "er.txt": "two"}
    assert (tmp_path / "into/package/deep/er.txt").is_file()


@pytest.mark.parametrize(
    "name, kind, text",
    [
        ("../out.txt", tarfile.REGTYPE, "x"),
        ("package/../../out.txt", tarfile.REGTYPE, "x"),
        ("/out.txt", tarfile.REGTYPE, "x"),
        ("package/link", tarfile.SYMTYPE, "../../out.txt"),
        ("package/link", tarfile.LNKTYPE, "package/a"),
        ("package/pipe", tarfile.FIFOTYPE, ""),
        ("package/disk", tarfile.BLKTYPE, ""),
    ],
)
def test_an_archive_that_reaches_out_of_its_folder_is_refused(tmp_path, name, kind, text):
    into = tmp_path / "deep" / "into"
    with (
        archive(tmp_path / "a.tgz", (name, kind, text), ("late.txt", tarfile.REGTYPE, "x")) as bad,
        pytest.raises(Refusal, match="no plain file inside it"),
    ):
        browser_python.unpack(bad, into)
    assert [p.name for p in tmp_path.rglob("*") if p.name not in ("deep", "into")] == ["a.tgz"]


# --- wheels for the browser ---


def wheel(path, **files):
    """A wheel with these files; __ stands for a slash."""
    with zipfile.ZipFile(path, "w") as out:
        for name, text in files.items():
            out.writestr(name.replace("__", "/") + ".py", text)
        out.writestr("tool-1.2.dist-info/METADATA", "Name: tool\nVersion: 1.2\n")
        out.writestr("tool-1.2.dist-info/RECORD", "stale")
    return path


def packed(folder, parts=1, **options):
    """A folder's wheels, compiled in so many parts and put together: the zip."""
    for part in range(parts):
        repack.repack_part(folder, part, parts, **options)
    browser_python.join(sorted(folder.glob("part*")), folder / "all")
    return folder / "all"


def names(path):
    return zipfile.ZipFile(path).namelist()


def test_wheels_are_compiled_into_one_file_without_their_tests(tmp_path):
    wheel(tmp_path / "t.whl", tool__core="x = 1", tool__tests__test_core="x = 2")
    wheel(tmp_path / "std.zip", enum="y = 1")
    assert names(packed(tmp_path)) == ["enum.pyc", "tool-1.2.dist-info/METADATA", "tool/core.pyc"]


def test_many_parts_give_the_same_bytes_as_one(tmp_path):
    given = {f"tool__m{at}": f"x = {at}" for at in range(7)} | {"tool__template": "{{ name }} = <%"}
    made = []
    for parts in (1, 3):
        folder = tmp_path / str(parts)
        folder.mkdir()
        wheel(folder / "t.whl", **given)
        made.append(packed(folder, parts).read_bytes())
    assert made[0] == made[1] and "tool/template.py" in names(tmp_path / "3" / "all")


def test_our_own_text_stays_beside_what_is_compiled_and_both_run(tmp_path, monkeypatch):
    for keep in (True, False):
        folder = tmp_path / str(keep)
        folder.mkdir()
        wheel(folder / "t.whl", tool="def f():\n    return 1 / 0\n")
        made = packed(folder, keep_text=keep)
        assert "tool.pyc" in names(made) and ("tool.py" in names(made)) == keep
        monkeypatch.syspath_prepend(str(made))
        sys.modules.pop("tool", None)
        linecache.clearcache()
        with pytest.raises(ZeroDivisionError) as caught:
            importlib.import_module("tool").f()
        assert ("return 1 / 0" in "".join(traceback.format_exception(caught.value))) == keep
        sys.modules.pop("tool", None)


def test_a_stand_in_takes_the_place_of_a_wheels_file(tmp_path):
    wheel(tmp_path / "t.whl", tool__heavy="x = 1")
    (tmp_path / "inside" / "tool").mkdir(parents=True)
    (tmp_path / "inside" / "tool" / "heavy.py").write_text("x = 2")
    with zipfile.ZipFile(packed(tmp_path, keep_text=True)) as made:
        assert (
            made.read("tool/heavy.py") == b"x = 2" and made.namelist().count("tool/heavy.pyc") == 1
        )


def test_of_two_files_of_a_name_the_first_one_stays(tmp_path):
    for name, text in (("own", "new"), ("kept", "old")):
        with zipfile.ZipFile(tmp_path / name, "w") as out:
            out.writestr("a.py", text)
            out.writestr(f"{name}.py", text)
    browser_python.join([tmp_path / "own", tmp_path / "kept"], tmp_path / "all")
    with zipfile.ZipFile(tmp_path / "all") as made:
        assert made.read("a.py") == b"new" and made.namelist() == ["a.py", "kept.py", "own.py"]


def test_what_is_kept_is_made_anew_when_its_list_changes(tmp_path, monkeypatch):
    asked = []
    monkeypatch.setattr(browser_python, "KEPT", tmp_path / "kept")
    monkeypatch.setattr(browser_python, "fetch_wheels", lambda *told: None)
    monkeypatch.setattr(browser_python, "compile_all", lambda *told: asked.append(told))

    def fetch(npm, work):
        (work / "package").mkdir(exist_ok=True)
        for name in (*browser_python.RUNTIME_FILES, browser_python.STDLIB):
            (work / "package" / name).write_text("")
        return work / "package"

    monkeypatch.setattr(browser_python, "fetch_runtime", fetch)
    for at, tools in enumerate((["a==1"], ["a==1"], ["a==2"])):
        (tmp_path / str(at)).mkdir()
        browser_python.packages("py", "node", "npm", tmp_path / str(at), tools)
    assert len(asked) == 2


FILES = {
    "json/__init__.pyc": "needed at once",
    "json/tool.pyc": "not needed at once",
    "leverarm/units.pyc": "ours",
    "leverarm/data/a.toml": "our words",
    "sympy/core/add.pyc": "of sympy",
    "mpmath/libmp/a.pyc": "of sympy's arithmetic",
    "rich/METADATA": "a version",
}
WHERE = {
    browser_python.STDLIB: {"json/__init__.pyc", "leverarm/units.pyc", "leverarm/data/a.toml"}
    | {"rich/METADATA", "later_parts.json"},
    browser_python.SYMPY: {"sympy/core/add.pyc", "mpmath/libmp/a.pyc"},
    browser_python.REST: {"json/tool.pyc"},
}


def test_python_comes_in_parts_and_the_first_says_where_the_rest_lies(tmp_path):
    with zipfile.ZipFile(tmp_path / "whole", "w") as out:
        for name, text in FILES.items():
            out.writestr(name, text)
    browser_python.split(tmp_path / "whole", {"json"}, tmp_path)
    for part, names in WHERE.items():
        with zipfile.ZipFile(tmp_path / part) as made:
            assert set(made.namelist()) == names
            assert all(one.compress_type == zipfile.ZIP_STORED for one in made.infolist())
    with zipfile.ZipFile(tmp_path / browser_python.STDLIB) as made:
        assert json.loads(made.read("later_parts.json")) == {
            "json.tool": browser_python.REST,
            "sympy.core.add": browser_python.SYMPY,
            "mpmath.libmp.a": browser_python.SYMPY,
        }


def test_a_part_is_named_after_what_it_holds(tmp_path):
    names = []
    for text in ("one", "one", "two"):
        (tmp_path / "a.b.zip").write_text(text)
        names.append(browser_python.packed(tmp_path / "a.b.zip", tmp_path))
        assert gzip.decompress((tmp_path / names[-1]).read_bytes()).decode() == text
    assert names[0] == names[1] != names[2]
    assert all(re.fullmatch(r"a\.b-[0-9a-f]{10}\.zip\.packed", name) for name in names)
    assert all(site.KEPT_FOR_GOOD.search(name) for name in names)
    assert site.KEPT_FOR_GOOD.search(browser_python.named(tmp_path, "a.mjs", b"text"))
    for name in ("index.html", "jupyter-lite.json", "class_page.js", "lesson/02_the_tractor.html"):
        assert not site.KEPT_FOR_GOOD.search(name)


@pytest.fixture
def later_parts(monkeypatch, tmp_path):
    """What fetches a part, with one that holds `far` and more of the package `near`."""
    monkeypatch.syspath_prepend(str(browser_python.STAND_INS))
    module = importlib.import_module("later_parts")
    monkeypatch.setattr(module, "FOLDER", tmp_path / "parts")
    (tmp_path / "here" / "near").mkdir(parents=True)
    (tmp_path / "here" / "near" / "__init__.py").touch()
    monkeypatch.syspath_prepend(str(tmp_path / "here"))
    with zipfile.ZipFile(tmp_path / "rest", "w") as out:
        for name in ("far.py", "near/more.py"):
            out.writestr(name, "value = 1")
    meta, path = list(sys.meta_path), list(sys.path)
    yield module, gzip.compress((tmp_path / "rest").read_bytes())
    sys.meta_path[:], sys.path[:] = meta, path
    for name in ("later_parts", "far", "near", "near.more"):
        sys.modules.pop(name, None)


class Bytes:
    """Bytes as the browser hands them over."""

    def __init__(self, data):
        self.data = data

    def to_bytes(self):
        return self.data


@pytest.mark.parametrize("names", [("far", "near.more"), ("near.more", "far")])
def test_a_module_of_a_later_part_is_fetched_once_when_it_is_imported(later_parts, names):
    module, data = later_parts
    asked = []

    def read(part):
        asked.append(part)
        return Bytes(data)

    held = dict.fromkeys(("far", "near.more"), "rest.zip")
    sys.meta_path.append(module.LaterParts(read, held))
    for name in names:
        assert importlib.import_module(name).value == 1
    assert asked == ["rest.zip"]
    with pytest.raises(ModuleNotFoundError):
        importlib.import_module("nowhere")


def test_a_part_that_does_not_come_is_told_in_one_sentence(later_parts):
    module, _ = later_parts

    def read(part):
        raise OSError("the server said 404")

    sys.meta_path.append(module.LaterParts(read, {"far": "rest.zip"}))
    with pytest.raises(ImportError, match=r"rest.zip could not be fetched .*404.*reload the page"):
        importlib.import_module("far")


def test_a_lesson_s_page_holds_its_picture_and_leads_to_the_lesson():
    pictures = {"lb": {"markup": "<p>1 < 2</p>"}, "kg": {"markup": ""}}
    page = site.lesson_page("02 · What & why?", "notebooks/index.html?path=a/b.ipynb", pictures)
    assert "<title>02 · What &amp; why?</title>" in page
    assert "src = '../notebooks/index.html?path=a/b.ipynb'" in page
    assert "\\u003cp>1" in page and "<p>1 <" not in page, "no text of the data ends the script"
    assert not re.search(r"/\*(style|script|data|lesson)\*/", page)


@pytest.fixture
def piplite(monkeypatch):
    """The stand-in for the package that would install others."""
    monkeypatch.syspath_prepend(str(browser_python.STAND_INS))
    yield importlib.import_module("piplite")
    for name in [name for name in sys.modules if name.startswith("piplite")]:
        del sys.modules[name]


def test_nothing_is_installed_in_a_class_site_and_it_says_so(piplite):
    with pytest.raises(ValueError, match="class site holds all"):
        asyncio.run(piplite.install("numpy"))
    line = asyncio.run(
        importlib.import_module("piplite.cli").get_transformed_code(["install", "numpy"])
    )
    assert line.startswith("print(") and "Nothing can be installed" in line


# What the stand-ins take the place of, in the release they were tried on.  Build a site, run
# tests/browser/test_site.py on it and read DEVELOPERS.md before you change one of these.
TRIED = {"ipython": "9.12.0", "jupyterlite-pyodide-kernel": "0.8.6"}


def test_the_stand_ins_stay_with_the_releases_they_were_tried_on():
    lines = (browser_python.SETTINGS / "wheels.txt").read_text("utf-8").splitlines()
    pins = dict(line.split("==") for line in [*lines, *site.tools_wanted()] if "==" in line)
    assert {name: pins[name] for name in TRIED} == TRIED
    there = {
        path.relative_to(browser_python.STAND_INS).as_posix()
        for path in browser_python.STAND_INS.rglob("*.py")
    }
    piplite = {f"piplite/{name}.py" for name in ("__init__", "cli", "piplite")}
    assert there == {"later_parts.py", "IPython/terminal/embed.py", *piplite}


def test_a_module_is_compiled_as_python_keeps_it_and_never_compared_again():
    data = b"def f():\n    return __file__\n"
    made = repack.compiled("tool/one.py", data)
    assert made[:4] == importlib.util.MAGIC_NUMBER
    assert int.from_bytes(made[4:8], "little") == 1, "a hash, and no look at the text"
    code = marshal.loads(made[16:])
    assert code.co_filename == "tool/one.py" and made == repack.compiled("tool/one.py", data)


def test_wheels_are_pinned_and_agree_with_the_package():
    lines = (browser_python.SETTINGS / "wheels.txt").read_text("utf-8").splitlines()
    pins = dict(line.split("==") for line in lines if not line.startswith("#"))
    assert {"sympy", "mpmath", "ipywidgets", "ipython", "comm", "traitlets"} <= set(pins)
    assert not {"numpy", "matplotlib", "micropip"} & set(pins)
    assert pins["sympy"].split(".")[0] == "1" and pins["ipywidgets"].split(".")[0] == "8"


def test_the_tools_are_an_extra_and_no_requirement():
    wanted = site.tools_wanted()
    assert any(line.startswith("jupyterlite-core==") for line in wanted) and all(
        "==" in line for line in wanted
    )
    assert "jupyterlite" not in places.REQUIREMENTS.read_text("utf-8")


# --- what a student gets ---

LESSONS = {path.stem for path in (ROOT / "notebooks").glob("[0-9]*.ipynb")}
PRINTED = [
    "poll_cards",
    *(
        f"{name}_{system}"
        for system in ("kg", "lb")
        for name in (
            *("plank_lab", "weigh_day_sheet"),
            *(f"worksheets/worksheet_{name[:2]}" for name in LESSONS if name[:2] != "00"),
        )
    ),
]


def test_settings_keep_python_from_asking_elsewhere():
    told = site.lite_settings()["jupyter-config-data"]["litePluginSettings"][site.KERNEL]
    assert told["disablePyPIFallback"] is True and told["pyodideUrl"].startswith("./")
    assert told["loadPyodideOptions"] == {"packages": list(browser_python.ASKED_FOR)}


def test_the_sites_settings_add_to_those_of_the_workbook():
    told, book = site.overrides(), json.loads(site.OVERRIDES.read_text("utf-8"))
    assert told["@jupyterlab/docmanager-extension:plugin"]["autosaveInterval"] <= 10
    assert {name: told[name] for name in book} == book


def test_no_setting_names_another_host():
    for path in (
        path
        for path in browser_python.SETTINGS.rglob("*.*")
        if path.is_file() and path.suffix != ".pyc"
    ):
        assert "http" not in path.read_text("utf-8").replace("http-equiv", ""), path.name


def test_an_edition_changes_with_the_notebooks_alone(tmp_path):
    book = tmp_path / "a.ipynb"
    seen = []
    for text in (b"one\n", b"one\r\n", b"two\n"):
        book.write_bytes(text)
        seen.append(site.edition([book], "0.1.0", ""))
    assert seen[0] == seen[1] != seen[2] and seen[0].startswith("0.1.0-")


GIVEN_LESSONS = {
    *("cautions.md", "glossary.md", "sources.md", "weigh_day_record.md"),
    *(f"{name}{end}" for name in PRINTED for end in (".html", "_a4.pdf", "_letter.pdf")),
}


def test_a_student_is_given_the_student_s_files_and_nothing_else(tmp_path):
    """The files of the site, as laid out for its tools: no key, no plan, no poll question."""
    name, titles = site.lay_out(tmp_path, "")
    contents = tmp_path / "contents"
    laid = {p.relative_to(contents).as_posix() for p in contents.rglob("*") if p.is_file()}
    folders = {
        folder: {path.split("/", 1)[1] for path in laid if path.startswith(f"{folder}/")}
        for folder in ("lessons", "figures", f"notebooks_{name}")
    }
    assert sum(map(len, folders.values())) == len(laid)
    assert folders["lessons"] == GIVEN_LESSONS
    assert folders["figures"] == {path.name for path in (ROOT / "figures").glob("*.svg")}
    assert folders[f"notebooks_{name}"] == {book for book, _ in titles}
    stems = {Path(book).stem for book, _ in titles}
    assert stems == LESSONS | {"homework"}
    assert not [path for path in laid if re.search(r"key|question|plan_|desk|trainer|class_", path)]


def test_every_link_of_a_handed_out_notebook_leads_to_a_file_of_the_site(tmp_path):
    name, titles = site.lay_out(tmp_path, "")
    folder = tmp_path / "contents" / f"notebooks_{name}"
    links = [
        (book, link)
        for book, _ in titles
        for cell in json.loads((folder / book).read_text("utf-8"))["cells"]
        for link in re.findall(r"\]\(([^)#]+)\)", "".join(cell["source"]))
    ]
    assert len(links) > 30
    assert [(book, link) for book, link in links if not (folder / link).is_file()] == []


def without_links(book):
    """The text of every cell, each link and picture replaced by its words."""
    return [re.sub(r"\[([^]]+)\]\([^)]+\)", r"\1", "".join(c["source"])) for c in book["cells"]]


@pytest.mark.parametrize(
    "path", student_files.student_files("notebooks"), ids=lambda path: path.stem
)
def test_a_handed_out_notebook_says_its_edition_and_is_otherwise_the_same(path):
    text = path.read_text("utf-8")
    before, after = json.loads(text), json.loads(site.handed_out(text, "0.1.0-ab12"))
    assert "Edition 0.1.0-ab12." in "".join(after["cells"][0]["source"])
    assert after["metadata"]["leverarm_edition"] == "0.1.0-ab12" and site.title(text)
    assert without_links(after)[1:] == without_links(before)[1:]
    head = "".join(after["cells"][0]["source"])
    assert "The page starts by itself" in head
    assert not re.search("Press \\*\\*|not awake|menu now", head), "cells run by themselves there"
    asked = r"(?s)Press \*\*Start.*?Cells\.\)|\*\*Choose Run .*? read on\."
    parts = re.sub(asked, "\0", without_links(before)[0]).split("\0")
    assert len(parts) == 2 and all(part in without_links(after)[0] for part in parts)


def test_the_front_page_links_every_notebook_and_escapes_titles():
    page = site.front_page("notebooks_0.1.0-ab", [("a.ipynb", "1 < 2"), ("b.ipynb", "B")])
    assert (
        'notebooks/index.html?path=notebooks_0.1.0-ab/a.ipynb">1 &lt; 2<' in page
        and "b.ipynb" in page
    )
    assert "Edition 0.1.0-ab." in page and "<!-- links" not in page
    assert 'id="jupyter-config-data"' in page
    with_one = site.front_page("notebooks_0.1.0-ab", [("a.ipynb", "A")], {"a"})
    assert 'href="lesson/a.html">A<' in with_one


def test_figures_reach_the_browser_in_plain_letters():
    for path in (ROOT / "figures").glob("*.svg"):
        made = site.plain_text_svg(path.read_text("utf-8"))
        assert made.isascii()


def test_the_first_picture_names_its_units_as_the_lesson_does():
    """The choice is kept by these words, so the lesson finds what was chosen before it."""
    page = (places.SRC / "sitesettings" / "lesson_page.html").read_text("utf-8")
    told = re.findall(r'name="units" value="(\w+)"[^>]*> (.+?)</label>', page)
    assert [(words, system) for system, words in told] == NAMES
