"""The settings keep every shortcut of the installed JupyterLab out of the controls."""

import json

import lab_shortcuts
import pytest
from lab_shortcuts import (
    PLUGIN,
    current,
    installed_schemas,
    moved,
    narrowed,
    overrides,
    reaching,
    shortcuts,
)

SCHEMAS = installed_schemas()
pytestmark = pytest.mark.skipif(
    not SCHEMAS.is_dir(), reason="JupyterLab is not in this environment"
)


def test_the_list_is_complete_for_the_installed_jupyterlab():
    ours = current()[PLUGIN]["shortcuts"]
    missing = [setting for setting in overrides(SCHEMAS) if setting not in ours]
    assert missing == [], "run: python tests/lab_shortcuts.py"


def test_keys_that_change_cells_are_among_them():
    commands = {each["command"] for each in reaching(shortcuts(SCHEMAS))}
    for name in (
        "insert-cell-below",
        "insert-cell-above",
        "delete-cell",
        "cut-cell",
        "paste-cell-below",
        "change-cell-to-markdown",
        "change-cell-to-code",
        "move-cursor-down",
        "merge-cells",
    ):
        assert f"notebook:{name}" in commands


def test_nothing_with_a_bare_focus_is_left_over():
    """Whatever is in force after the settings does not fire in an output area."""
    off = [each for each in current()[PLUGIN]["shortcuts"] if each.get("disabled")]
    keyed = [each for each in shortcuts(SCHEMAS) if any(each["keys"])]
    left = [each for each in keyed if each | {"disabled": True} not in off]
    assert [each for each in left if narrowed(each["selector"])] == []


def test_each_shortcut_taken_off_is_put_back_elsewhere():
    ours = current()[PLUGIN]["shortcuts"]
    off = [each for each in ours if each.get("disabled")]
    kept = [each for each in ours if not each.get("disabled")]
    assert len(off) == len(kept) >= 40
    for each in off:
        plain = {name: value for name, value in each.items() if name != "disabled"}
        assert moved(plain)[1] in kept


def test_shortcuts_already_bound_to_a_cell_are_let_be():
    assert narrowed(".jp-Notebook.jp-mod-commandMode .jp-MarkdownCell:focus") is None
    assert narrowed("body") is None


def test_rewriting_keeps_the_other_settings(tmp_path, monkeypatch):
    copy = tmp_path / "settings.json"
    copy.write_text(json.dumps({"other": {"kept": True}}))
    monkeypatch.setattr(lab_shortcuts, "SETTINGS", copy)
    lab_shortcuts.rewrite()
    told = json.loads(copy.read_text("utf-8"))
    assert told["other"] == {"kept": True} and told[PLUGIN]["shortcuts"] == overrides(SCHEMAS)
