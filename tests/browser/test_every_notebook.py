"""Every notebook in the real page: all cells run, every slider moved by keys moves words and
picture, a dead kernel is told.
"""

import os
import signal

import pytest
from hands import PANEL, open_all, press, rest
from lab import CURRENT, ROOT, write_notebook

NOTEBOOKS = sorted(path.stem for path in (ROOT / "notebooks").glob("*.ipynb"))
# What a panel says and what it draws.  A picture's title and description do not count: they are not
# seen.
LOOK = """(panel) => {
  const copies = (selector) => [...panel.querySelectorAll(selector)].map(el => el.cloneNode(true));
  const without = (el, selector) => { el.querySelectorAll(selector).forEach(part => part.remove());
      return el; };
  return {
    words: copies('.widget-html-content').map(el => without(el, 'style, .lv-pic')
        .textContent).join(' '),
    picture: copies('.lv-pic').map(el => without(el, 'title, desc').innerHTML).join(' '),
    boxes: [...panel.querySelectorAll('.lv-number input')].map(el => el.value).join(' '),
    trouble: [...panel.querySelectorAll('.lv-error')].map(el => el.textContent.trim()).join(' ')
        .trim(),
  };
}"""
CHANGED = f"([panel, part, before]) => ({LOOK})(panel)[part] !== before"
HEIGHT = f"""() => {{ const sheet = {CURRENT}.content, cells = sheet.widgets.map(cell =>
    cell.node.getBoundingClientRect());
  sheet.outerNode.scrollTop = 0; return Math.ceil(cells.at(-1).bottom - cells[0].top); }}"""
LONGEST_PAGE = 5500  # pixels of a lesson that was run and not touched

# Sliders that move the words and, rightly, not the picture.
ON_LEVEL = "the picture is of the machine standing level"
IN_MINUTES = "minutes and mowings are counted in words"
DECISION = {
    "Height of center of gravity": ON_LEVEL,
    "Mower, carried": "the picture is of the mower at work",
    "Slope of the job": ON_LEVEL,
    "Minutes, bucket": IN_MINUTES,
    "Minutes, loader": IN_MINUTES,
    "Minutes, ballast": IN_MINUTES,
    "Mowings in between": IN_MINUTES,
}
STILL = {
    "10_under_the_tire": {"Soil factor": "the chart is a band over every factor"},
    "11_front_drive_lead": {
        "Mowing width": "counts the turns of a hectare: rows of the table",
        "Wear exponent": "a row of the table",
    },
    "12_mow_or_unhook": DECISION,
    "trainer_session": DECISION,
}


def trouble(panel):
    """What a panel says is wrong."""
    return panel.evaluate(LOOK)["trouble"]


def move(panel, slider):
    """One press of an arrow key on a slider: box and words must follow; whether the picture did is
    returned.
    """
    page, seen, element = panel.page, panel.evaluate(LOOK), panel.element_handle()
    at_end = slider.get_attribute("aria-valuenow") == slider.get_attribute("aria-valuemax")
    slider.press("ArrowLeft" if at_end else "ArrowRight")
    page.wait_for_function(CHANGED, arg=[element, "words", seen["words"]])
    rest(page)
    after = panel.evaluate(LOOK)
    assert after["trouble"] == "" and after["boxes"] != seen["boxes"]
    return after["picture"] != seen["picture"]


def move_shown(panel):
    """Move the sliders of a panel that are shown and not moved yet; labels of those its picture did
    not follow.
    """
    fresh, still = panel.locator(".noUi-handle:visible:not([data-moved])"), []
    fresh.first.wait_for()
    while fresh.count():
        slider = fresh.first.element_handle()
        if not move(panel, slider) and panel.locator(".lv-pic").count():
            still.append(slider.get_attribute("aria-label").removesuffix(", slider"))
        slider.evaluate("el => el.dataset.moved = true")
    return still


def move_all(page):
    """Move every slider of the page, those on a panel's other leaves too; labels of those that left
    the picture as it was.
    """
    # A panel that waited for why stands inside another: the inner one is moved.
    still, panels = [], page.locator(f"{PANEL}:not(:has(.lv-panel))")
    for panel in (panels.nth(at) for at in range(panels.count())):
        assert trouble(panel) == ""
        # A panel inside another one has been moved with it.
        if not panel.locator(".noUi-handle:not([data-moved])").count():
            continue
        if panel.get_by_label("Show", exact=True).count():
            panel.get_by_label("Show", exact=True).select_option("everything")
        leaves = panel.get_by_role("radiogroup", name="Change", exact=True).get_by_role("radio")
        for at in range(leaves.count() or 1):
            if leaves.count():
                leaves.nth(at).press("Space")
            still += move_shown(panel)
    assert page.locator(".noUi-handle:not([data-moved])").count() == 0
    return still


def move_stages(page):
    """Press an arrow key on every slider of every stage: the picture and its words must follow."""
    sliders = page.locator(".st-here input[type=range]:visible")
    for at in range(sliders.count()):
        slider, stage = sliders.nth(at), page.locator(".st-here").first
        before = stage.locator("svg:visible").first.evaluate("el => el.outerHTML")
        at_start = slider.evaluate("el => el.value === el.min")
        slider.press("ArrowRight" if at_start else "ArrowLeft")
        after = stage.locator("svg:visible").first.evaluate("el => el.outerHTML")
        assert before != after, slider.get_attribute("data-moves")


def test_no_exception_is_left_over():
    assert set(STILL) <= set(NOTEBOOKS)


@pytest.mark.parametrize("name", NOTEBOOKS)
def test_it_runs_and_every_slider_answers(lab, name):
    with lab.open(f"notebooks/{name}.ipynb", height=2000) as sheet:
        page = sheet.page
        sheet.only_notebook()
        sheet.run_all()
        assert sheet.errors() == []
        assert not name[:2].isdigit() or page.evaluate(HEIGHT) <= LONGEST_PAGE
        open_all(page)
        move_stages(page)
        still = move_all(page)
        page.set_viewport_size({"width": 1280, "height": min(page.evaluate(HEIGHT) + 200, 16000)})
        rest(page)
        sheet.picture(name)
        assert sheet.errors() == []
        assert still == list(STILL.get(name, {}))


def told(page, words):
    """Wait until the line at the top says this."""
    page.wait_for_function(
        "(words) => document.querySelector('.lv-alive').textContent.includes(words)", arg=words
    )


def gone(page):
    """Wait until no banner says that Python is away."""
    page.wait_for_function("() => !document.querySelector('.lv-banner')")


def said_by_a_dead_kernel(sheet):
    """What the page itself complains of while there is nobody to send to."""
    return [error for error in sheet.errors() if "Cannot send" not in error]


def test_a_killed_python_is_told_and_run_all_brings_the_lesson_back(lab):
    write_notebook(
        lab.root / "notebooks" / "on_a_slope.ipynb",
        "from leverarm import panels\npanels.begin()",
        "panels.sideways(gated=True)",
        "panels.sideways()",
    )
    with lab.open("notebooks/on_a_slope.ipynb", height=2000) as sheet:
        page = sheet.page
        sheet.only_notebook()
        sheet.run_all()
        open_all(page)
        panel, cells = page.locator(PANEL).filter(has=page.locator(".lv-pic")).first, sheet.cells()
        told(page, "Python is running.")
        before = panel.evaluate(LOOK)
        os.kill(
            int(sheet.ask("import os; print(os.getpid())")),
            getattr(signal, "SIGKILL", signal.SIGTERM),
        )
        dialog = page.get_by_role("dialog").filter(has_text="appears to have died")
        press(dialog.get_by_role("button", name="Ok"))
        dialog.wait_for(state="detached")
        panel.locator(".noUi-handle").first.press("ArrowRight")
        page.get_by_role("alert").filter(has_text="Python does not answer").wait_for()
        told(page, "Python: no answer. Press the start button above")
        sheet.picture("python_was_killed")
        assert panel.evaluate(LOOK)["words"] == before["words"]  # what was seen stands there still
        sheet.run_all()
        gone(page)
        told(page, "Python is running.")
        assert sheet.cells() == cells
        panel.get_by_role("button", name="Lock in my prediction").wait_for()
        open_all(page)
        assert panel.evaluate(LOOK)["words"] == before["words"]
        move_all(page)
        gone(page)
        assert said_by_a_dead_kernel(sheet) == []
