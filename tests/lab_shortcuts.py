"""Which of JupyterLab's keyboard shortcuts reach into a control, and the settings that stop them.

JupyterLab binds single keys (`b` inserts a cell, `d d` deletes one) to whatever has the focus in a
notebook in command mode: to a slider or a drop-down as well. The settings take each such shortcut
off and put it back with the same selector, kept out of output areas, where the controls are.

After a new JupyterLab:  python tests/lab_shortcuts.py  writes the list of the installed one anew.
"""

import json
import sys
from pathlib import Path

SETTINGS = Path(__file__).parents[1] / "src/labsettings/labconfig/default_setting_overrides.json"
PLUGIN = "@jupyterlab/shortcuts-extension:shortcuts"
KEPT_OUT = ":not(.jp-OutputArea *)"
WHOLE = (
    "[data-jp-code-runner]",
    "[data-jp-undoer]",
)  # a whole document, whatever has the focus in it


def installed_schemas(prefix=sys.prefix):
    """The folder with the settings schemas of the installed JupyterLab."""
    return Path(prefix, "share/jupyter/lab/schemas")


def shortcuts(folder):
    """Every shortcut any plugin declares."""
    schemas = [json.loads(path.read_text("utf-8")) for path in sorted(folder.rglob("*.json"))]
    tables = [schema for schema in schemas if isinstance(schema, dict)]
    return [shortcut for table in tables for shortcut in table.get("jupyter.lab.shortcuts", [])]


def narrowed(selector):
    """The same selector kept out of output areas; nothing if it needs no change.

    >>> narrowed(".jp-Notebook.jp-mod-commandMode :focus")
    '.jp-Notebook.jp-mod-commandMode :focus:not(.jp-OutputArea *)'
    >>> narrowed("[data-jp-code-runner]")
    '[data-jp-code-runner]:not(:has(.jp-OutputArea :focus))'
    >>> narrowed(".jp-Cell:focus")
    """
    if selector in WHOLE:
        return f"{selector}:not(:has(.jp-OutputArea :focus))"
    reaches_all = any(part.startswith(":focus") for part in selector.split())
    return selector + KEPT_OUT if reaches_all else None


def reaching(declared):
    """The shortcuts in force that fire while a control has the focus."""
    return [each for each in declared if any(each["keys"]) and narrowed(each["selector"])]


def moved(shortcut):
    """The two settings for one shortcut: the old place off, the new place on."""
    return [shortcut | {"disabled": True}, shortcut | {"selector": narrowed(shortcut["selector"])}]


def overrides(folder=None):
    """The list for the settings file."""
    found = reaching(shortcuts(folder or installed_schemas()))
    return [setting for shortcut in found for setting in moved(shortcut)]


def current():
    """The settings file as it is."""
    return json.loads(SETTINGS.read_text("utf-8"))


def rewrite():
    """Write the list of the installed JupyterLab into the settings file."""
    table = current() | {PLUGIN: {"shortcuts": overrides()}}
    SETTINGS.write_text(json.dumps(table, indent=2) + "\n", "utf-8")


if __name__ == "__main__":
    rewrite()
