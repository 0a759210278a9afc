"""Fixtures for tests in a real browser; where there is none, they are skipped and say why."""

import sys
from pathlib import Path

import pytest

from leverarm.panels.lesson_work import WORK_FILE

sys.path.insert(0, str(Path(__file__).parent))

from lab import QUIET, as_start_does, copy_of_workbook, find_browser, start_lab


@pytest.fixture(scope="session")
def browser():
    """A headless browser."""
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    program = find_browser()
    if program is None:
        pytest.skip("no Chromium or Chrome on this machine")
    with playwright.sync_playwright() as driver:
        running = driver.chromium.launch(executable_path=program, args=QUIET)
        yield running
        running.close()


@pytest.fixture(scope="session")
def lab(browser, tmp_path_factory):
    """JupyterLab as `start.py` opens it, on a copy of the workbook; one for all tests."""
    root = copy_of_workbook(tmp_path_factory.mktemp("workbook"))
    running = start_lab(browser, root, as_start_does(tmp_path_factory.mktemp("home")))
    yield running
    running.stop()


@pytest.fixture(autouse=True)
def nothing_kept(request):
    """What the test before predicted and wrote in a lesson is gone: each student comes new."""
    if "lab" in request.fixturenames:
        (request.getfixturevalue("lab").root / "notebooks" / WORK_FILE).unlink(missing_ok=True)
