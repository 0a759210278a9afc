"""The command `site`: every refusal before anything is touched, and the parts a site is put together from."""

import importlib.util
import io
import json
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "src"))

from launch import places, site, siteparts  # noqa: E402
from launch.words import Refusal  # noqa: E402


def load(name):
    """A script of the site's settings as a module."""
    spec = importlib.util.spec_from_file_location(name, siteparts.SETTINGS / f"{name}.py")
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
    "no npm": (lambda tmp: site.fit_node(lambda name: "/n" if name == "node" else None, lambda _: 22), "npm"),
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

@pytest.fixture
def slow_steps(monkeypatch):
    """A build whose slow steps do nothing, and can fail at one of them."""
    def install(fail_at=None):
        def step(name, result=None):
            def act(*told):
                if name == fail_at:
                    raise KeyboardInterrupt
                return result
            monkeypatch.setattr(site, name, act)

        for name, result in {"tools": "py", "fetch_runtime": Path("x"), "fetch_wheels": None, "compile_all": [],
                             "lay_out": ("0.1-ab", []), "assemble": None}.items():
            step(name, result)
        if fail_at == "finish":
            step("finish")
        else:
            monkeypatch.setattr(site, "finish", lambda goal, *told: (goal / site.NOTE).write_text("{}"))
    return install


STEPS = ["tools", "fetch_runtime", "fetch_wheels", "compile_all", "lay_out", "assemble", "finish"]


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
    assert [path.name for path in tmp_path.iterdir()] == ["class"] and (old / site.NOTE).read_text() == "{}"


def test_where_the_new_one_cannot_take_its_place_the_old_one_stays(tmp_path):
    old = filled(tmp_path / "class", site.NOTE)
    with pytest.raises(OSError):
        site.into_place(tmp_path / "none", old)
    assert (old / site.NOTE).read_text() == "Dear"


# --- wheels for the browser ---

def wheel(path, **files):
    """A wheel with these files; __ stands for a slash."""
    with zipfile.ZipFile(path, "w") as out:
        for name, text in files.items():
            out.writestr(name.replace("__", "/") + ".py", text)
        out.writestr("tool-1.2.dist-info/METADATA", "Name: tool\nVersion: 1.2\n")
        out.writestr("tool-1.2.dist-info/RECORD", "stale")
    return path


def names(data):
    return zipfile.ZipFile(io.BytesIO(data)).namelist()


def test_a_wheel_is_compiled_without_its_tests_and_lists_what_it_holds(tmp_path):
    made = repack.repack(wheel(tmp_path / "t.whl", tool__core="x = 1", tool__tests__test_core="x = 2").read_bytes())
    assert names(made) == ["tool-1.2.dist-info/METADATA", "tool/core.pyc", "tool-1.2.dist-info/RECORD"]
    record = zipfile.ZipFile(io.BytesIO(made)).read("tool-1.2.dist-info/RECORD").decode()
    assert [line.split(",")[0] for line in record.splitlines()] == names(made)


def test_our_own_text_stays_beside_what_is_compiled_and_both_run(tmp_path, monkeypatch):
    kept = repack.repack(wheel(tmp_path / "t.whl", tool="def f():\n    return 1 / 0\n").read_bytes(), keep_text=True)
    assert any("__pycache__" in name for name in names(kept)) and "tool.py" in names(kept)
    bare = repack.repack((tmp_path / "t.whl").read_bytes())
    for at, data in enumerate((kept, bare)):
        zipfile.ZipFile(io.BytesIO(data)).extractall(tmp_path / str(at))
        monkeypatch.syspath_prepend(str(tmp_path / str(at)))
        sys.modules.pop("tool", None)
        with pytest.raises(ZeroDivisionError):
            importlib.import_module("tool").f()
        sys.modules.pop("tool", None)


def test_the_same_wheel_gives_the_same_bytes_and_a_template_stays_text(tmp_path):
    data = wheel(tmp_path / "t.whl", tool__template="{{ name }} = <%").read_bytes()
    assert repack.repack(data) == repack.repack(data) and "tool/template.py" in names(repack.repack(data))


def test_the_list_of_packages_names_every_wheel_by_its_own_hash(tmp_path):
    stock = tmp_path / "stock.json"
    stock.write_text(json.dumps({"info": {"python": "3.14.2"}, "packages": {"other": {}}}))
    (tmp_path / "made").mkdir()
    wheel(tmp_path / "made" / "My_Tool-1.2-py3-none-any.whl", tool__core="", other="")
    siteparts.empty_wheel(tmp_path / "made", "jedi")
    assert siteparts.write_lock(stock, tmp_path / "made") == ["my-tool", "jedi"]
    told = json.loads((tmp_path / "made" / "pyodide-lock.json").read_text())
    assert told["info"] == {"python": "3.14.2"} and set(told["packages"]) == {"my-tool", "jedi"}
    one = told["packages"]["my-tool"]
    assert one["file_name"] == "My_Tool-1.2-py3-none-any.whl" and len(one["sha256"]) == 64 and one["version"] == "1.2"


def test_wheels_are_pinned_and_agree_with_the_package():
    lines = (siteparts.SETTINGS / "wheels.txt").read_text("utf-8").splitlines()
    pins = dict(line.split("==") for line in lines if not line.startswith("#"))
    assert {"sympy", "mpmath", "ipywidgets", "ipython", "comm", "traitlets"} <= set(pins)
    assert not {"numpy", "matplotlib"} & set(pins)
    assert pins["sympy"].split(".")[0] == "1" and pins["ipywidgets"].split(".")[0] == "8"


def test_the_tools_are_an_extra_and_no_requirement():
    wanted = site.tools_wanted()
    assert any(line.startswith("jupyterlite-core==") for line in wanted) and all("==" in line for line in wanted)
    assert "jupyterlite" not in places.REQUIREMENTS.read_text("utf-8")


# --- what a student gets ---

def test_settings_keep_python_from_asking_elsewhere():
    told = siteparts.lite_settings(["sympy"])["jupyter-config-data"]["litePluginSettings"][siteparts.KERNEL]
    assert told["disablePyPIFallback"] is True and told["pyodideUrl"].startswith("./")
    assert told["loadPyodideOptions"] == {"packages": ["sympy"]}


def test_no_setting_names_another_host():
    for path in filter(Path.is_file, siteparts.SETTINGS.iterdir()):
        assert "http" not in path.read_text("utf-8").replace("http-equiv", ""), path.name


def test_an_edition_changes_with_the_notebooks_alone(tmp_path):
    book = tmp_path / "a.ipynb"
    seen = []
    for text in (b"one\n", b"one\r\n", b"two\n"):
        book.write_bytes(text)
        seen.append(siteparts.edition([book], "0.1.0"))
    assert seen[0] == seen[1] != seen[2] and seen[0].startswith("0.1.0-")


def test_students_get_the_lessons_and_the_homework_and_not_the_desk():
    stems = [path.stem for path in siteparts.student_notebooks()]
    assert "homework" in stems and "02_more_than_its_weight" in stems and "instructor_desk" not in stems


@pytest.mark.parametrize("path", siteparts.student_notebooks(), ids=lambda path: path.stem)
def test_a_handed_out_notebook_says_its_edition_and_is_otherwise_the_same(path):
    text = path.read_text("utf-8")
    before, after = json.loads(text), json.loads(siteparts.handed_out(text, "0.1.0-ab12"))
    assert "Edition 0.1.0-ab12." in "".join(after["cells"][0]["source"])
    assert after["metadata"]["leverarm_edition"] == "0.1.0-ab12" and siteparts.title(text)
    assert [cell["source"] for cell in after["cells"][1:]] == [cell["source"] for cell in before["cells"][1:]]


def test_the_front_page_links_every_notebook_and_escapes_titles():
    page = siteparts.front_page("notebooks_0.1.0-ab", [("a.ipynb", "1 < 2"), ("b.ipynb", "B")])
    assert 'notebooks/index.html?path=notebooks_0.1.0-ab/a.ipynb">1 &lt; 2<' in page and "b.ipynb" in page
    assert "Edition 0.1.0-ab." in page and "<!-- links" not in page
    assert 'id="jupyter-config-data"' in page


def test_figures_reach_the_browser_in_plain_letters():
    for path in (ROOT / "figures").glob("*.svg"):
        made = siteparts.plain_text_svg(path.read_text("utf-8"))
        assert made.isascii()
