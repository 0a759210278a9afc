"""The choice of units on the class site, where the browser keeps it: one page after the other."""

import pytest

from leverarm.panels.page import page_rules, style_and_script
from leverarm.panels.unit_choice import NAMES, NOT_KEPT

ADDRESS = "http://class.test/"
LABELS = [words for words, _ in NAMES]


def page_html():
    """The control as the widgets draw it; the first is checked, as on a fresh page."""
    radios = "".join(
        f'<label><input type="radio" {"checked" if at == 0 else ""}>{words}</label>'
        for at, words in enumerate(LABELS)
    )
    return f"""<!DOCTYPE html><title>units</title><style>{page_rules()}</style>
<div class="jupyter-widgets lv-panel lv-by-page">
<div class="jupyter-widgets widget-radio"><label class="widget-label">Units</label>
<div class="widget-radio-box">{radios}</div></div>
<div class="jupyter-widgets lv-not-kept">{NOT_KEPT}</div></div>{style_and_script()}"""


@pytest.fixture
def pages(browser):
    context = browser.new_context()
    context.route(
        ADDRESS + "**", lambda route: route.fulfill(body=page_html(), content_type="text/html")
    )
    yield context
    context.close()


def opened(context, name="one", before=""):
    page = context.new_page()
    if before:
        page.add_init_script(before)
    page.goto(ADDRESS + name)
    page.wait_for_function("document.querySelector('.widget-radio').leverarmUnits")
    return page


def checked(page):
    return [page.get_by_label(words).is_checked() for words in LABELS]


def test_the_next_page_shows_what_was_chosen_on_this_one(pages):
    first = opened(pages)
    assert checked(first) == [True, False] and not first.get_by_text(NOT_KEPT).is_visible()
    first.get_by_label(LABELS[1]).check()
    assert checked(opened(pages, "two")) == [False, True]
    first.get_by_label(LABELS[0]).check()
    assert checked(opened(pages, "three")) == [True, False]


@pytest.mark.parametrize("kept", ["", "stone", "<b>kilograms</b>", "kg" * 10_000])
def test_anything_else_that_is_kept_counts_as_no_choice(pages, kept):
    opened(pages).evaluate("kept => localStorage.setItem('leverarm-units', kept)", kept)
    assert checked(opened(pages, "two")) == [True, False]


def test_a_browser_that_keeps_nothing_says_so_and_the_choice_still_holds(pages):
    without = "Object.defineProperty(window, 'localStorage', {get() { throw new Error('no') }})"
    page = opened(pages, before=without)
    assert page.get_by_text(NOT_KEPT).is_visible()
    page.get_by_label(LABELS[1]).check()
    assert checked(page) == [False, True]
    assert checked(opened(pages, "two", without)) == [True, False]
