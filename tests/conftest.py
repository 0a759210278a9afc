"""Shared by all tests: what a control swallows must fail the test that caused it."""

import gc
import logging
import sys

import pytest

from leverarm.quantities import show_in, system_shown

FIRST = system_shown()
# The longest files begin: at the end one process would work and the other wait.
LONGEST = (
    "test_marking_processes",
    "test_sentences",
    "test_start_processes",
    "test_exercises",
    "test_marking",
    "test_faults",
)


def pytest_collection_modifyitems(items):
    """The longest first, the others as they were found."""
    items.sort(key=lambda item: item.path.stem not in LONGEST)


def pytest_collection_finish():
    """What was collected stays to the end: no search for garbage needs to look at it again."""
    gc.collect()
    gc.freeze()


class Raiser(logging.Handler):
    """Raises the exception a log record carries.

    ipywidgets catches whatever a callback raises (`Button.on_click`, `interact`, messages from the
    browser) and, with no notebook around it, logs a warning with the exception attached. Raising
    it from the log handler gives it back to the line that caused it.
    """

    def emit(self, record):
        if record.exc_info and record.exc_info[1] is not None:
            raise record.exc_info[1]


@pytest.fixture(autouse=True)
def callbacks_must_not_fail_silently():
    """An exception in a control's callback fails the test, at the line that caused it."""
    log, raiser = logging.getLogger("traitlets"), Raiser(level=logging.WARNING)
    before = log.level
    log.addHandler(raiser)
    log.setLevel(logging.WARNING)
    yield
    log.setLevel(before)
    log.removeHandler(raiser)


@pytest.fixture(autouse=True)
def panels_of_earlier_tests_are_gone():
    """A change of the units is told to the panels of this test alone, not to all made before it."""
    if "leverarm.panels.base" in sys.modules:
        sys.modules["leverarm.panels.base"].shared._followers.clear()


@pytest.fixture(autouse=True)
def units_nobody_chose():
    """Each test begins as a fresh workbook does: nobody has chosen units or large type."""
    yield
    show_in(FIRST)
    if "leverarm.panels.base" in sys.modules:
        sys.modules["leverarm.panels.base"].shared.large = False


@pytest.fixture
def metric(units_nobody_chose):
    """Everything in kilograms and meters, for a test whose expected words are in them."""
    show_in("kg")
