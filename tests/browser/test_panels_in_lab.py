"""The lift panel and its neighbors in the real page: keys, names, sizes, words that stand
apart, a kernel that dies.
"""

import re

import pytest
from lab import CURRENT, as_start_does, start_lab, write_notebook
from looks import CONTRAST, CONTROLS, OVERFLOW, WORDS

CELLS = (
    "from leverarm import Tractor\n"
    "from leverarm.panels import begin, arms_up, exercise, worked_example, tally\n"
    "tractor = Tractor('round', '1.65 m', front=600, rear=800)\nbegin(system='kg')",
    "panel = arms_up(tractor)\npanel",
    "gated = arms_up(tractor, gated=True)\ngated",
    "exercise('front_gain', 7)",
    "worked_example('front_gain', 3)",
    "tally('Front change?', ('less', 'the same', 'more'), 'C')",
)
OPEN, GATED = ".lv-split >> nth=0", ".jp-Cell:has-text('gated = arms_up(') .lv-panel"


@pytest.fixture(scope="module")
def bench(browser, tmp_path_factory):
    """JupyterLab with a notebook of the panels alone."""
    folder = tmp_path_factory.mktemp("panels")
    (folder / "root").mkdir()
    write_notebook(folder / "root" / "panels.ipynb", *CELLS)
    running = start_lab(browser, folder / "root", as_start_does(folder / "home"))
    yield running
    running.stop()


def opened(bench, **how):
    return bench.open("panels.ipynb", **{"width": 1280, "height": 2600, **how})


def ready(sheet):
    """Run everything and wait for the last panel and the second look of the page script."""
    sheet.only_notebook()
    sheet.run_all()
    sheet.page.wait_for_selector(".lv-count input")
    sheet.page.wait_for_timeout(900)
    assert sheet.errors() == []
    return sheet.page


def shows(page, text):
    page.wait_for_function(
        "(text) => document.querySelector('.lv-split').innerText.replace(/\\s+/g, "
        "' ').includes(text)",
        arg=text,
    )


def test_slider_box_and_units_answer_to_keys_alone(bench):
    with opened(bench) as sheet:
        page = ready(sheet)
        slider = page.locator(".lv-number .noUi-handle").nth(1)
        assert slider.get_attribute("aria-label") == "Bucket pin height, slider"
        slider.focus()
        page.keyboard.press("End")
        for _ in range(9):
            page.keyboard.press("ArrowLeft")
        page.wait_for_timeout(500)
        high = slider.get_attribute("aria-valuetext")
        box = page.locator(OPEN).get_by_role("textbox", name="Bucket pin height")
        assert re.fullmatch(r"\d\.\d\d m", high) and box.input_value() == high
        shows(page, " m ahead of the front axle")
        before = page.locator(OPEN).inner_text()
        page.keyboard.press("Shift+Tab")
        page.keyboard.press("Control+a")
        page.keyboard.type("47 in")
        page.keyboard.press("Enter")
        page.wait_for_function(
            "(text) => document.querySelector('.lv-split').innerText !== text", arg=before
        )
        assert box.input_value() == "1.19 m"
        page.keyboard.press("Control+a")
        page.keyboard.type("5 kg")
        page.keyboard.press("Tab")
        shows(page, "Still used: 1.19 m")
        page.get_by_role("radio", name="pounds, inches, psi").first.focus()
        page.keyboard.press("Space")
        shows(page, " in ahead of the front axle")
        live = page.locator(".lv-panel:has(.lv-split) .lv-live").first
        page.wait_for_function(
            "(el) => el.textContent.includes(' in ahead of')", arg=live.element_handle()
        )
        assert live.get_attribute("role") == "status"
        assert sheet.errors() == []


def test_predict_lock_in_reveal_by_keys_alone(bench):
    with opened(bench) as sheet:
        page = ready(sheet)
        panel = page.locator(GATED)
        open_row = page.locator(OPEN).get_by_role("row", name=re.compile("Front scale"))
        reading = open_row.inner_text().split("\t")[-1].strip()
        assert reading.endswith(" kg") and reading not in panel.inner_text()
        for scale, way, amount in (("Front scale", "up", "110 kg"), ("Rear scale", "down", "80")):
            panel.get_by_role("radiogroup", name=scale).get_by_role("radio", name=way).focus()
            page.keyboard.press("Space")
            panel.get_by_role("textbox", name=f"{scale}, by how much?").focus()
            page.keyboard.type(amount)
            page.keyboard.press("Tab")
        panel.get_by_role("button", name="Lock in my prediction").focus()
        page.keyboard.press("Enter")
        panel.get_by_role("button", name="Show the readings").wait_for()
        assert reading not in panel.inner_text()
        assert panel.locator(".noUi-target[disabled]").count() >= 1
        panel.get_by_role("button", name="Show the readings").focus()
        page.keyboard.press("Space")
        panel.get_by_text("you said").wait_for()
        row = panel.get_by_role("row", name=re.compile("Front scale")).inner_text()
        assert reading in row and "+110.0 kg" in row
        assert sheet.errors() == []


def test_an_exercise_by_keys_alone_and_tab_order(bench):
    with opened(bench) as sheet:
        page = ready(sheet)
        box = page.get_by_role("textbox", name="Your answer (kg)")
        weight = re.search(
            r"of (\d+ kg) hangs", page.locator(".lv-panel", has=box).inner_text()
        ).group(1)
        box.focus()
        page.keyboard.type(weight)
        page.keyboard.press("Enter")
        page.get_by_text("the hung weight alone").first.wait_for()
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.textContent") == "Check"
        page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        page.get_by_text("Hint 1.").wait_for()
        assert page.evaluate("document.activeElement.textContent") == "Hint 2 of 4"
        assert len(sheet.cells()) == len(CELLS)


@pytest.mark.parametrize(
    "width, dark, large",
    [
        (1280, False, False),
        (1280, True, False),
        (640, False, False),
        (320, False, False),
        (320, True, False),
        (1280, False, True),
    ],
)
def test_names_sizes_room_and_contrast(bench, width, dark, large):
    with opened(bench, width=width, height=4200, dark=dark) as sheet:
        page = ready(sheet)
        if large:
            page.get_by_label("Large type (projector)").check()
            page.wait_for_timeout(1500)
        controls = page.evaluate(CONTROLS)
        assert len(controls) > 40
        assert [c["what"] for c in controls if not c["name"]] == []
        assert [c["what"] for c in controls if not c["keys"]] == []
        assert [
            (c["what"], c["width"], c["height"])
            for c in controls
            if c["width"] < 23.9 or c["height"] < 23.9
        ] == []
        assert page.evaluate(OVERFLOW) == []
        ratio, words = page.evaluate(CONTRAST)
        assert ratio >= 4.5, words
        assert page.evaluate(WORDS) == []
        sheet.picture(f"panels_{width}{'_dark' if dark else ''}{'_large' if large else ''}")


@pytest.mark.parametrize("width", [1280, 320])
def test_words_stand_apart_over_the_ends_of_every_slider(bench, width):
    """The boxes the browser itself draws, at both ends of each slider and pair of lengths."""
    with opened(bench, width=width) as sheet:
        page = ready(sheet)
        sliders = [page.locator(OPEN).locator(".noUi-handle").nth(i) for i in range(5)]
        for first in range(5):
            for key in ("Home", "End"):
                sliders[first].press(key)
                for second, other in ((1, "Home"), (1, "End"), (2, "Home"), (2, "End")):
                    if second != first:
                        sliders[second].press(other)
                    page.wait_for_timeout(150)
                    assert page.evaluate(WORDS) == [], (first, key, second, other)
        assert sheet.errors() == []


def test_it_is_said_when_python_does_not_answer_and_taken_back_when_it_does(bench):
    with opened(bench) as sheet:
        page = ready(sheet)
        page.evaluate(f"() => {CURRENT}.sessionContext.session.kernel.restart()")
        page.wait_for_timeout(4000)
        page.locator(".lv-number .noUi-handle").nth(1).press("ArrowRight")
        page.get_by_role("alert").filter(has_text="Python does not answer").wait_for()
        assert "no answer" in page.locator(".lv-alive").inner_text()
        sheet.picture("panels_no_answer")
        sheet.run_all()
        page.wait_for_function("() => !document.querySelector('.lv-banner')")
        page.wait_for_timeout(1500)
        page.locator(".lv-number .noUi-handle").nth(1).press("ArrowRight")
        page.wait_for_function(
            "() => /and .* up/.test(document.querySelector('.lv-split').innerText)"
        )
        page.wait_for_timeout(6000)
        assert (
            page.locator(".lv-banner").count() == 0
            and "Python is running." in page.locator(".lv-alive").inner_text()
        )


def test_a_panel_shown_no_more_is_not_drawn_and_comes_back_right(bench):
    with opened(bench) as sheet:
        page = ready(sheet)
        counts = f"""async () => {{
            const future = {CURRENT}.sessionContext.session.kernel.requestExecute(
            {{code: "print(panel.widget._view_count)", silent: false}});
            let text = '';
            future.onIOPub = (m) => {{ if (m.content.text) text += m.content.text; }};
            await future.done; return text.trim(); }}"""
        assert page.evaluate(counts) == "1"
        page.evaluate(f"""async () => {{ {CURRENT}.content.activeCellIndex = 1;
            await window.jupyterapp.commands.execute('notebook:clear-cell-output'); }}""")
        page.wait_for_timeout(500)
        assert page.evaluate(counts) == "0"
