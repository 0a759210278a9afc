"""A key pressed in a control never inserts, deletes or changes a cell.

JupyterLab's own single-key shortcuts would: the first test shows that they do without our settings,
so that the others can fail. The settings must help both ways in: through `start.py`, and through a
plain `jupyter lab` from the environment.
"""

from contextlib import contextmanager

import pytest
from lab import CURRENT, as_plain_jupyter, as_start_does, start_lab, write_notebook

CELLS = [
    "import ipywidgets as w; w.IntSlider(value=50)",
    "w.IntText(value=5)",
    "w.Dropdown(options=['one', 'two', 'three'])",
    "w.RadioButtons(options=['front', 'rear'])",
    "w.Button(description='Check')",
    "w.Checkbox(description='on a grade')",
]
CONTROLS = {
    "slider": ".noUi-handle",
    "number box": ".widget-text input[type=number]",
    "drop-down": ".widget-dropdown select",
    "radio button": ".widget-radio input >> nth=0",
    "button": "button.widget-button",
    "check box": ".widget-checkbox input",
}
KEYS = [
    "b",
    "a",
    "d",
    "d",
    "x",
    "v",
    "m",
    "y",
    "r",
    "c",
    "z",
    "Shift+Z",
    "1",
    "6",
    "Shift+M",
    "Shift+A",
    "Shift+B",
    "Shift+L",
    "j",
    "k",
    "ArrowDown",
    "ArrowUp",
    "ArrowLeft",
    "ArrowRight",
    "Shift+ArrowDown",
    "Control+Backspace",
    "Control+Shift+M",
    "Control+Shift+ArrowUp",
    "Control+Shift+ArrowDown",
    "Control+z",
    "Shift+Enter",
    "Alt+Enter",
    "Control+Enter",
    "0",
    "0",
    "i",
    "i",
]


WATCH_CELLS = f"""() => {{
  window.changes = [];
  const sheet = {CURRENT}.content;
  sheet.model.cells.changed.connect((_, change) => window.changes.push('cells: ' + change.type));
  sheet.activeCellChanged.connect((_, cell) => window.changes.push('another cell is chosen'));
  for (const cell of sheet.widgets) {{
    cell.model.sharedModel.changed.connect(() => window.changes.push('a cell was edited or run'));
  }}
}}"""


@contextmanager
def opened(browser, folder, env, *options):
    """A scratch notebook with a control of each kind, run and watched, in its own JupyterLab."""
    root = folder / "root"
    root.mkdir()
    write_notebook(root / "scratch.ipynb", *CELLS)
    running = start_lab(browser, root, env, *options)
    try:
        with running.open("scratch.ipynb") as sheet:
            sheet.run_all()
            sheet.page.evaluate(WATCH_CELLS)
            yield sheet
    finally:
        running.stop()


@pytest.fixture(scope="module")
def no_settings(tmp_path_factory):
    """An empty folder in place of the settings that the environment holds."""
    return f"--LabApp.app_settings_dir={tmp_path_factory.mktemp('none')}"


@pytest.fixture(scope="module")
def by_start(browser, tmp_path_factory, no_settings):
    """With the settings of `start.py` alone: those in the environment are taken away."""
    folder = tmp_path_factory.mktemp("start")
    with opened(browser, folder, as_start_does(folder / "home"), no_settings) as sheet:
        yield sheet


@pytest.fixture(scope="module")
def by_hand(browser, tmp_path_factory):
    """With the settings in the environment alone: plain `jupyter lab`."""
    folder = tmp_path_factory.mktemp("hand")
    with opened(browser, folder, as_plain_jupyter(folder / "home")) as sheet:
        yield sheet


@pytest.fixture(scope="module", params=["by_start", "by_hand"])
def sheet(request):
    """The scratch notebook, each way of opening it."""
    return request.getfixturevalue(request.param)


def changes(page):
    """Everything that happened to the notebook since it was watched."""
    page.wait_for_timeout(200)  # a cell that was run answers a moment later
    return page.evaluate("() => window.changes") + page.locator(".jp-Dialog").all_inner_texts()


def test_without_the_settings_a_key_in_a_control_inserts_a_cell(browser, tmp_path, no_settings):
    with opened(browser, tmp_path, as_plain_jupyter(tmp_path / "home"), no_settings) as sheet:
        sheet.page.locator(CONTROLS["slider"]).press("b")
        assert len(sheet.cells()) == len(CELLS) + 1
        assert "cells: add" in changes(sheet.page)


def test_no_prompt_about_news_or_updates_and_no_panel_of_extensions(sheet):
    assert sheet.page.locator(".Toastify__toast").count() == 0
    assert sheet.page.locator("[data-id='extensionmanager.main-view']").count() == 0
    assert sheet.errors() == []


def test_the_controls_themselves_answer_to_keys(sheet):
    page = sheet.page
    page.locator(CONTROLS["slider"]).press("ArrowRight")
    for name in ("drop-down", "radio button"):
        page.locator(CONTROLS[name]).press("ArrowDown")
    page.locator(CONTROLS["number box"]).press("ArrowUp")
    assert page.locator(".widget-readout").first.inner_text() == "51"
    assert page.locator(CONTROLS["drop-down"]).input_value() == "two"
    assert page.locator(".widget-radio input").nth(1).is_checked()
    assert page.locator(CONTROLS["number box"]).input_value() == "6"


@pytest.mark.parametrize("name", CONTROLS)
def test_no_key_in_a_control_changes_a_cell(sheet, name):
    control = sheet.page.locator(CONTROLS[name])
    control.focus()
    sheet.page.evaluate(WATCH_CELLS)
    for key in KEYS:
        sheet.page.keyboard.press(key)
    assert changes(sheet.page) == []
    assert control.evaluate(
        "node => node.closest('.jp-OutputArea').contains(document.activeElement)"
    )
    sheet.picture(f"keys_in_{name.replace(' ', '_')}")


def test_on_a_cell_the_shortcuts_work_as_ever(sheet):
    sheet.page.locator(".jp-InputPrompt").first.click()
    counts = []
    for key in ("b", "a", "Alt+Enter", "z", "Escape", "d", "d"):
        sheet.page.keyboard.press(key)
        sheet.page.wait_for_timeout(200)
        counts.append(len(sheet.cells()) - len(CELLS))
    assert counts[:3] == [1, 2, 3] and counts[-1] < counts[-2]
