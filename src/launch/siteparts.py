"""The parts of the class site: the list of packages for the browser's Python, and the pages.

What is read here comes from the packages just fetched; nothing is run.
"""

import hashlib
import json
import re
import zipfile
from html import escape
from pathlib import Path

from .places import LAB_SETTINGS, ROOT, SRC
from .wheels import write_atomically

SETTINGS = SRC / "sitesettings"
RUNTIME_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")
STDLIB = "python_stdlib.zip"
OVERRIDES = LAB_SETTINGS / "labconfig" / "default_setting_overrides.json"
KERNEL = "@jupyterlite/pyodide-kernel-extension:kernel"
NOT_FOR_STUDENTS = ("instructor_desk", "trainer_session")


def plain(name):
    """A package's name in the one spelling that all agree on.

    >>> plain("ipython_pygments_lexers")
    'ipython-pygments-lexers'
    """
    return re.sub(r"[-_.]+", "-", name).lower()


def top_modules(names):
    """What can be imported from a wheel with these files.

    >>> top_modules(["six.pyc", "comm/__init__.pyc", "comm/base.pyc", "comm-0.2.dist-info/RECORD"])
    ['comm', 'six']
    """
    tops = {name.split("/")[0] for name in names if re.fullmatch(r"[^/]+\.pyc?|[^/]+/__init__\.pyc?", name)}
    return sorted(top.rsplit(".", 1)[0] if top.endswith((".py", ".pyc")) else top for top in tops)


def entry(wheel):
    """What the list of packages says about one wheel."""
    name, version = wheel.name.split("-")[:2]
    with zipfile.ZipFile(wheel) as inside:
        imports = top_modules(inside.namelist())
    return {
        "name": plain(name), "version": version, "file_name": wheel.name, "install_dir": "site",
        "sha256": hashlib.sha256(wheel.read_bytes()).hexdigest(), "package_type": "package",
        "imports": imports, "depends": [], "unvendored_tests": False,
    }


def write_lock(stock, folder):
    """The list of packages beside the runtime: ours in place of the stock one; returns their names.

    Every package on it is loaded at the start, so none needs to name what it depends on.
    """
    told = json.loads(Path(stock).read_text("utf-8"))
    packages = {each["name"]: each for each in map(entry, sorted(folder.glob("*.whl")))}
    write_atomically(folder / "pyodide-lock.json", {"info": told["info"], "packages": packages})
    return list(packages)


def empty_wheel(folder, name):
    """A wheel with nothing in it.

    The kernel asks for `jedi` (5 MB, for completing names) and does not start without a package
    of that name; IPython does without its modules.
    """
    path, label = folder / f"{name}-0-py3-none-any.whl", f"{name}-0.dist-info"
    with zipfile.ZipFile(path, "w") as out:
        out.writestr(zipfile.ZipInfo(f"{label}/METADATA"), f"Metadata-Version: 2.1\nName: {name}\nVersion: 0\n")
        out.writestr(zipfile.ZipInfo(f"{label}/WHEEL"), "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        out.writestr(zipfile.ZipInfo(f"{label}/RECORD"), f"{label}/METADATA,,\n{label}/WHEEL,,\n{label}/RECORD,,\n")
    return path


def plain_text_svg(text):
    """An SVG file in ASCII: the pages read a picture as single bytes.

    >>> plain_text_svg("<text>2 \u00b7 W</text>")
    b'<text>2 &#183; W</text>'
    """
    return text.encode("ascii", "xmlcharrefreplace")


def lite_settings(packages):
    """The settings of the page: which packages the browser's Python starts with."""
    told = json.loads((SETTINGS / "jupyter-lite.json").read_text("utf-8"))
    kernel = told["jupyter-config-data"]["litePluginSettings"][KERNEL]
    kernel["loadPyodideOptions"]["packages"] = packages
    return told


def student_notebooks(folder=ROOT / "notebooks"):
    """The notebooks that go along: lessons and homework, not the instructor's desk."""
    return [path for path in sorted(folder.glob("*.ipynb")) if path.stem not in NOT_FOR_STUDENTS]


def edition(notebooks, version):
    """The name of what is handed out: it changes with the notebooks, and with nothing else.

    A browser keeps a student's saved copy of a page and shows it in place of ours from then on.
    So a corrected page must have another address, or nobody would ever see the correction.
    """
    digest = hashlib.sha256()
    for path in notebooks:
        digest.update(path.name.encode() + b"\0" + path.read_bytes().replace(b"\r\n", b"\n"))
    return f"{version}-{digest.hexdigest()[:4]}"


def handed_out(text, name):
    """A notebook as it is handed out: with its edition, for the browser's Python."""
    book = json.loads(text)
    book["metadata"] |= {"leverarm_edition": name, "kernelspec": {
        "display_name": "Python", "language": "python", "name": "python"}}
    first = next((cell for cell in book["cells"] if cell["cell_type"] == "markdown"), None)
    if first:
        first["source"] = [*first["source"], f"\n\nEdition {name}."]
    return json.dumps(book, ensure_ascii=False, indent=1) + "\n"


def title(text):
    """The heading of a notebook."""
    for cell in json.loads(text)["cells"]:
        found = re.match(r"# (.+)", "".join(cell["source"])) if cell["cell_type"] == "markdown" else None
        if found:
            return found[1].strip()
    return ""


def front_page(folder, titles):
    """The page a student opens first: one link for each notebook."""
    line = '<li><a href="notebooks/index.html?path={path}">{title}</a></li>'
    links = "\n".join(line.format(path=escape(f"{folder}/{name}"), title=escape(text)) for name, text in titles)
    page = (SETTINGS / "front_page.html").read_text("utf-8")
    return page.replace("<!-- links -->", links).replace("<!-- edition -->", escape(folder.split("_", 1)[1])).replace(
        "<!-- files -->", f"lab/index.html?path={escape(folder)}/00_start_here.ipynb")
