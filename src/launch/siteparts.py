"""The parts of the class site: the list of packages for the browser's Python, and the pages.

What is read here comes from the packages just fetched; nothing is run.
"""

import hashlib
import json
import re
import zipfile
from html import escape

from .places import LAB_SETTINGS, ROOT
from .sitepython import SETTINGS
from .student_files import GIVEN, student_files
from .wheels import write_atomically

# The kernel does not start without packages of these names on its list. `jedi` (5 MB, for
# completing
# names) and `micropip` (for installing) are nowhere: IPython does without the one, a class without
# the other.
ASKED_FOR = ("micropip", "piplite", "ipykernel", "comm", "pyodide-kernel", "jedi", "ipython")
OVERRIDES = LAB_SETTINGS / "labconfig" / "default_setting_overrides.json"
KERNEL = "@jupyterlite/pyodide-kernel-extension:kernel"
LINK = re.compile(r"(?<!!)\[([^]]+)\]\(([^)\s]+)\)")  # in Markdown, and not a picture


def write_lock(folder):
    """The list of packages beside the runtime: nothing but the names the kernel asks for.

    The packages themselves lie in the zip of the standard library, where they are imported without
    being unpacked.
    """
    stock = json.loads((folder / "pyodide-lock.json").read_text("utf-8"))
    entries = {name: entry(name, empty_wheel(folder, name)) for name in ASKED_FOR}
    write_atomically(folder / "pyodide-lock.json", {"info": stock["info"], "packages": entries})


def entry(name, wheel):
    """What the list of packages says about one wheel."""
    return {
        "name": name,
        "version": "0",
        "file_name": wheel.name,
        "install_dir": "site",
        "sha256": hashlib.sha256(wheel.read_bytes()).hexdigest(),
        "package_type": "package",
        "imports": [],
        "depends": [],
        "unvendored_tests": False,
    }


def empty_wheel(folder, name):
    """A wheel with nothing in it."""
    path = folder / f"{name.replace('-', '_')}-0-py3-none-any.whl"
    label = f"{path.name.split('-')[0]}-0.dist-info"
    with zipfile.ZipFile(path, "w") as out:
        out.writestr(
            zipfile.ZipInfo(f"{label}/METADATA"),
            f"Metadata-Version: 2.1\nName: {name}\nVersion: 0\n",
        )
        out.writestr(
            zipfile.ZipInfo(f"{label}/WHEEL"),
            "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n",
        )
        out.writestr(
            zipfile.ZipInfo(f"{label}/RECORD"),
            f"{label}/METADATA,,\n{label}/WHEEL,,\n{label}/RECORD,,\n",
        )
    return path


def plain_text_svg(text):
    """An SVG file in ASCII: the pages read a picture as single bytes.

    >>> plain_text_svg("<text>2 \u00b7 W</text>")
    b'<text>2 &#183; W</text>'
    """
    return text.encode("ascii", "xmlcharrefreplace")


def lite_settings():
    """The settings of the page, with the names the kernel asks for."""
    told = json.loads((SETTINGS / "jupyter-lite.json").read_text("utf-8"))
    kernel = told["jupyter-config-data"]["litePluginSettings"][KERNEL]
    kernel["loadPyodideOptions"]["packages"] = list(ASKED_FOR)
    return told


def overrides():
    """JupyterLab's settings: those of the workbook, and those of the site.

    A page is saved every few seconds, so that what is typed into it is hardly ever unsaved: the
    question at
    closing a tab then means the answers.
    """
    return json.loads(OVERRIDES.read_text("utf-8")) | json.loads(
        (SETTINGS / "overrides.json").read_text("utf-8")
    )


def edition(notebooks, version):
    """The name of what is handed out: it changes with the notebooks, and with nothing else.

    A browser keeps a student's saved copy of a page and shows it in place of ours from then on.
    So a corrected page must have another address, or nobody would ever see the correction.
    """
    digest = hashlib.sha256()
    for path in notebooks:
        digest.update(path.name.encode() + b"\0" + path.read_bytes().replace(b"\r\n", b"\n"))
    return f"{version}-{digest.hexdigest()[:4]}"


def without_dead_links(text: str) -> str:
    """Markdown in which a link to a file that no student is given is left as its words.

    >>> without_dead_links(
    ...     "the [glossary](../lessons/glossary.md), the [plan](../lessons/02_plan.md)"
    ... )
    'the [glossary](../lessons/glossary.md), the plan'
    """
    given = {path for part in GIVEN for path in student_files(part)}

    def kept(link: re.Match) -> str:
        goal = link[2].split("#")[0]
        alive = not goal or ":" in goal or (ROOT / "notebooks" / goal).resolve() in given
        return link[0] if alive else link[1]

    return LINK.sub(kept, text)


def handed_out(text, name):
    """A notebook as it is handed out: with its edition, for the browser's Python."""
    book = json.loads(text)
    for cell in book["cells"]:
        if cell["cell_type"] == "markdown":
            cell["source"] = without_dead_links("".join(cell["source"])).splitlines(keepends=True)
    book["metadata"] |= {
        "leverarm_edition": name,
        "kernelspec": {"display_name": "Python", "language": "python", "name": "python"},
    }
    first = next((cell for cell in book["cells"] if cell["cell_type"] == "markdown"), None)
    if first:
        first["source"] = [*first["source"], f"\n\nEdition {name}."]
    return json.dumps(book, ensure_ascii=False, indent=1) + "\n"


def title(text):
    """The heading of a notebook."""
    for cell in json.loads(text)["cells"]:
        found = (
            re.match(r"# (.+)", "".join(cell["source"]))
            if cell["cell_type"] == "markdown"
            else None
        )
        if found:
            return found[1].strip()
    return ""


def front_page(folder, titles):
    """The page a student opens first: one link for each notebook."""
    line = '<li><a href="notebooks/index.html?path={path}">{title}</a></li>'
    links = "\n".join(
        line.format(path=escape(f"{folder}/{name}"), title=escape(text)) for name, text in titles
    )
    page = (SETTINGS / "front_page.html").read_text("utf-8")
    return (
        page.replace("<!-- links -->", links)
        .replace("<!-- edition -->", escape(folder.split("_", 1)[1]))
        .replace("<!-- files -->", f"lab/index.html?path={escape(folder)}/00_start_here.ipynb")
    )
